//! The recipe checker against the slips that circulate: each trap with its
//! source, sweeps of slips made on purpose, and what it must leave alone.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use ferrogall::bench::Lot;
use ferrogall::check::{self, Code, Finding, Severity, Slip, SlipKind};
use ferrogall::quantity::*;
use ferrogall::recipe::{Amount, Extraction, Ingredient, Recipe, Solution};
use ferrogall::standards::{reference_ink, reference_inks};
use table::{Row, number, table};

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

fn read(recipe: &Recipe) -> Vec<Finding> {
    check::read(recipe, None).unwrap()
}

/// The first slip of the worst finding that has one.
fn first(found: &[Finding]) -> Option<(&Finding, &Slip)> {
    found.iter().find_map(|f| Some((f, f.slips.first()?)))
}

/// A published ink with one amount changed.
fn changed(recipe: &Recipe, place: usize, factor: f64) -> Recipe {
    let pot = &recipe.solutions()[0];
    let mut ink = Solution::new(pot.name());
    for (i, ingredient) in pot.ingredients().iter().enumerate() {
        let Ingredient::Lot { lot, amount } = ingredient else {
            panic!()
        };
        let Amount::Mass(m) = *amount else { panic!() };
        ink = ink.add(lot, if i == place { m * factor } else { m });
    }
    let (water, volume) = recipe.filled_up().unwrap();
    Recipe::new(recipe.title()).with(ink).make_up(water, volume)
}

#[test]
fn decimal_slips_in_published_inks() {
    let (mut slips, mut found, mut right) = (0, 0, 0);
    for ink in reference_inks() {
        let recipe = ink.recipe(liters(1.0), 1.0).unwrap();
        for (place, dose) in ink.doses.iter().enumerate() {
            for factor in [10.0, 0.1] {
                slips += 1;
                let all = read(&changed(&recipe, place, factor));
                let told = all.iter().any(|f| f.severity >= Severity::Warning);
                found += usize::from(told);
                let back = first(&all).is_some_and(|(_, s)| s.recipe == recipe);
                let close = first(&all).map(|(f, s)| format!("{}: {}", f.code.id(), s.message));
                let kind = first(&all).map(|(_, s)| s.kind);
                let ok =
                    kind == Some(SlipKind::Decimal) && first(&all).unwrap().1.published.is_some();
                right += usize::from(ok);
                if !ok {
                    println!(
                        "{} {} x{factor}: told {told} back {back} {close:?}",
                        ink.id, dose.material
                    );
                    for f in &all {
                        println!("     {f}");
                    }
                }
            }
        }
    }
    println!("{slips} slips, {found} found, {right} rightly corrected first");
}

/// Whole galls in their liquid, gum and vitriol, as the table converts them.
fn old(row: &Row, galls_x: f64, salt_x: f64, gum_x: f64, water_x: f64) -> Option<Recipe> {
    if row["tannin_source"] != "oak galls" {
        return None;
    }
    let parts = number(row, "tannin_g").is_none();
    let (galls, salt) = if parts {
        let r = number(row, "ratio_tannin_to_iron_salt").unwrap();
        (100.0, 100.0 / r)
    } else {
        (number(row, "tannin_g")?, number(row, "iron_salt_g")?)
    };
    let gum = number(row, "ratio_gum_to_tannin").map_or(0.0, |r| r * galls);
    let water = number(row, "liquid_mL").unwrap_or((6.0 * galls).max(salt / 0.042));
    let salt_id = if row["iron_salt"].starts_with("calcined") {
        "iron_ii_sulfate_monohydrate"
    } else {
        "iron_ii_sulfate_heptahydrate"
    };
    let mut ink = Solution::new("ink")
        .extract(
            Extraction::new(
                &lot("aleppo_galls"),
                grams(galls * galls_x),
                &lot("distilled_water"),
                milliliters(water * water_x),
            )
            .holding_back(if water_x < 1.0 { 2.25 } else { 0.0 })
            .unwrap(),
        )
        .add(&lot(salt_id), grams(salt * salt_x));
    if gum > 0.0 {
        ink = ink.add(&lot("gum_arabic"), grams(gum * gum_x));
    }
    Some(Recipe::new(&row["id"]).with(ink))
}

#[test]
fn old_rows() {
    for row in table("checker_recipes.csv") {
        let Some(r) = old(&row, 1., 1., 1., 1.) else {
            println!("{} skipped", row["id"]);
            continue;
        };
        let all = read(&r);
        println!("{} {}", row["id"], row["confidence"]);
        for f in all.iter().filter(|f| f.severity >= Severity::Warning) {
            println!("     {f}");
            for s in &f.slips {
                println!("         {:.2} {s}", s.plausibility);
            }
        }
    }
}

#[test]
fn old_sweep() {
    for (name, x) in [
        ("galls", [1., 0., 0., 0.]),
        ("salt", [0., 1., 0., 0.]),
        ("gum", [0., 0., 1., 0.]),
        ("water", [0., 0., 0., 1.]),
    ] {
        for factor in [10.0f64, 0.1] {
            let (mut n, mut told, mut right, mut any) = (0, 0, 0, 0);
            for row in table("checker_recipes.csv") {
                let Some(good) = old(&row, 1., 1., 1., 1.) else {
                    continue;
                };
                if read(&good).iter().any(|f| f.severity >= Severity::Warning) {
                    continue;
                }
                if number(&row, "ratio_gum_to_tannin").is_none() && name == "gum" {
                    continue;
                }
                let p = |i: usize| factor.powf(x[i]);
                let bad = old(&row, p(0), p(1), p(2), p(3)).unwrap();
                let all = read(&bad);
                n += 1;
                told += usize::from(all.iter().any(|f| f.severity >= Severity::Warning));
                let is = |s: &Slip| {
                    matches!(s.kind, SlipKind::Decimal | SlipKind::LiquidMisprint)
                        && s.changes.len() == 1
                        && s.changes[0].lot.contains(match name {
                            "galls" => "galls",
                            "salt" => "sulfate",
                            "gum" => "gum",
                            _ => "water",
                        })
                };
                right += usize::from(first(&all).is_some_and(|(_, s)| is(s)));
                any += usize::from(all.iter().any(|f| f.slips.iter().any(is)));
                if let Some((f, s)) = first(&all)
                    && n <= 2
                {
                    println!(
                        "   {} {name} {factor}: {} -> {}",
                        row["id"],
                        f.code.id(),
                        s.message
                    );
                }
            }
            println!("{name} x{factor}: {n} told {told} right first {right} among {any}");
        }
    }
}
