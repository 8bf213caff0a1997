//! Old recipes read: the table of recipes in grams and millilitres, the slips
//! that its notes name, and the laws of a reading.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod old_ink;
mod table;

use ferrogall::bench::Lot;
use ferrogall::history::*;
use ferrogall::quantity::*;
use ferrogall::recipe::RecipeError;
use ferrogall::standards::reference_ink;
use old_ink::*;
use proptest::prelude::*;
use table::{Row, number, table};

/// Half a step in the last of so many significant digits.
fn half_digit(x: f64, digits: f64) -> f64 {
    0.5 * 10f64.powf(x.abs().log10().floor() + 1.0 - digits)
}

fn orig(row: &Row, column: &str) -> Option<OldAmount> {
    let text = row[column].replace("part(s)", "parts");
    (!text.is_empty()).then(|| amount(&text))
}

/// The amounts as printed in old units, through our own table: four printed
/// digits of grams and millilitres.
#[test]
fn old_units_give_the_printed_grams_and_millilitres() {
    let (mut checked, mut worst) = (0, (0.0_f64, String::new()));
    for row in table("historic_recipes.csv") {
        let p = pantry();
        for (role, lot, old, metric) in [
            (Role::Galls, &p.galls, "tannin_orig", "tannin_g"),
            (Role::IronSalt, &p.vitriol, "iron_orig", "iron_salt_g"),
            (Role::Gum, &p.gum, "gum_orig", "gum_g"),
            (Role::Liquid, &p.water, "liquid_orig", "liquid_mL"),
        ] {
            let (Some(text), Some(printed)) = (orig(&row, old), number(&row, metric)) else {
                continue;
            };
            let recipe =
                OldRecipe::new("line", Setting::default()).line(OldLine::new(role, lot, text));
            let line = &recipe.read().unwrap().lines[0];
            let got = match line.amount.typical {
                Quantity::Mass(m) => m.in_grams(),
                Quantity::Volume(v) => v.in_milliliters(),
                Quantity::Time(_) => panic!("{}", row["id"]),
            };
            let off = (got - printed).abs();
            // Printed to four digits, a few cut and not rounded.
            let allowed = 2.0 * half_digit(printed, 4.0);
            assert!(off <= allowed, "{} {metric}: {got} {printed}", row["id"]);
            let share = off / printed;
            if share > worst.0 {
                worst = (share, format!("{} {metric}", row["id"]));
            }
            checked += 1;
        }
    }
    println!("{checked} amounts, worst {:.2e} ({})", worst.0, worst.1);
    assert_eq!(checked, 196, "amounts with both in the table");
}

/// Volume, grams per litre, iron and the two proportions of every row that
/// gives them: three printed digits and what the rounding of their own inputs
/// leaves.
#[test]
fn figures_of_every_row() {
    let (mut checked, mut worst) = (0, (0.0_f64, String::new()));
    let mut iron = 0;
    for row in table("historic_recipes.csv") {
        let id = row["id"].as_str();
        let recipe = historic_recipe(id).unwrap();
        let figures = recipe.figures();
        for (column, got) in [
            ("tannin_g_per_L", figures.galls_g_per_l),
            ("iron_salt_g_per_L", figures.vitriol_g_per_l),
            ("gum_g_per_L", figures.gum_g_per_l),
            ("Fe_g_per_L", figures.iron_g_per_l),
            ("ratio_tannin_to_iron_salt", figures.galls_per_vitriol),
            ("ratio_gum_to_tannin", figures.gum_per_galls),
        ] {
            let Some(printed) = number(&row, column) else {
                assert_eq!(got, None, "{id} {column}");
                continue;
            };
            let got = got.unwrap_or_else(|| panic!("{id} {column}"));
            let off = (got - printed).abs();
            // Three digits; a rounded quotient of values rounded to four.
            let allowed = half_digit(printed, 3.0) + 2e-3 * printed;
            assert!(off <= allowed, "{id} {column}: {got} {printed}");
            if off / printed > worst.0 {
                worst = (off / printed, format!("{id} {column}"));
            }
            checked += 1;
            iron += usize::from(column == "Fe_g_per_L");
        }
    }
    println!(
        "{checked} figures, {iron} of iron, worst {:.2e} ({})",
        worst.0, worst.1
    );
    assert_eq!(iron, 48);
    assert!(checked > 250, "{checked}");
}

/// The reading of a row, its figures and the recipe that the crate works out:
/// all within the row's stated uncertainty of conversion.
#[test]
fn readings_agree_with_the_table() {
    let mut recipes = 0;
    for row in table("historic_recipes.csv") {
        let id = row["id"].as_str();
        let text = match historic_recipe(id).unwrap().old_recipe(&pantry()) {
            Ok(text) => text,
            Err(_) => continue, // ellagic acid and pure galloyl glucoses
        };
        let reading = text.read().unwrap_or_else(|e| panic!("{id}: {e}"));
        let Some(percent) = number(&row, "conv_uncertainty_pct_est") else {
            continue;
        };
        let close = |got: f64, printed: f64, what: &str| {
            let off = (got / printed - 1.0).abs();
            // Half a digit of three where the row claims 1 %.
            assert!(
                off <= percent / 100.0 + 5e-3,
                "{id} {what}: {got} {printed}"
            );
        };
        if let Some(ml) = number(&row, "final_volume_mL") {
            close(
                reading.final_volume.unwrap().typical.in_milliliters(),
                ml,
                "mL",
            );
        }
        if let (Some(fe), Some(recipe)) = (number(&row, "Fe_g_per_L"), &reading.recipe) {
            let made = recipe.evaluate().unwrap();
            let got = made
                .composition
                .iron_mass_concentration()
                .in_grams_per_liter();
            close(got, fe, "Fe");
            // The recipe and the reading are one thing.
            let figures = Figures::of(&made);
            assert!(
                (figures.iron_g_per_l.unwrap() / reading.figures.iron_g_per_l.unwrap() - 1.0).abs()
                    < 1e-9,
                "{id}"
            );
            if let Some(galls) = reading.figures.galls_g_per_l {
                assert!(
                    (figures.galls_g_per_l.unwrap() / galls - 1.0).abs() < 1e-9,
                    "{id}"
                );
            }
            let volume = made.composition.volume().in_milliliters();
            let read = reading.final_volume.unwrap().typical.in_milliliters();
            assert!((volume / read - 1.0).abs() < 1e-12, "{id}");
            recipes += 1;
        }
    }
    println!("{recipes} recipes worked out");
    assert!(recipes >= 43, "{recipes}");
}

/// The subset and its quartiles, computed here a second time from the printed
/// figures; beside them what the reference notes print for the fuller file.
#[test]
fn quartiles_of_the_historic_set() {
    let set = historic();
    assert_eq!(historic_recipes().count(), 55);
    assert_eq!(set.len(), 39);
    let rows = table("historic_recipes.csv");
    for (figure, column) in [
        (Figure::GallsPerVitriol, "ratio_tannin_to_iron_salt"),
        (Figure::GallsPerLiter, "tannin_g_per_L"),
        (Figure::VitriolPerLiter, "iron_salt_g_per_L"),
        (Figure::GumPerLiter, "gum_g_per_L"),
        (Figure::GumPerGalls, "ratio_gum_to_tannin"),
        (Figure::IronPerLiter, "Fe_g_per_L"),
    ] {
        let mut printed: Vec<f64> = rows
            .iter()
            .filter(|r| set.recipes().iter().any(|h| h.id == r["id"]))
            .filter_map(|r| number(r, column))
            .collect();
        printed.sort_by(f64::total_cmp);
        let q = set.quantiles(figure).unwrap();
        assert_eq!(q.n, printed.len());
        for (share, got) in [
            (0.05, q.p05),
            (0.25, q.p25),
            (0.5, q.median),
            (0.75, q.p75),
            (0.95, q.p95),
        ] {
            // The definition: the least value with at least this share at or below.
            let want = printed
                .iter()
                .find(|v| {
                    let upto = printed.iter().filter(|w| w <= v).count();
                    upto as f64 >= share * printed.len() as f64 - 1e-9
                })
                .unwrap();
            assert!(
                (got - want).abs() <= half_digit(*want, 3.0) + 2e-3 * want,
                "{figure:?} {share}"
            );
        }
        let published = published_quartiles()
            .iter()
            .find(|p| p.figure == figure)
            .unwrap();
        println!(
            "{figure:?}: here n {} {:.3} {:.3} {:.3} ({:.3} to {:.3}); of 80 n {} {} {} {} ({} to {})",
            q.n,
            q.p25,
            q.median,
            q.p75,
            q.min,
            q.max,
            published.n,
            published.p25,
            published.median,
            published.p75,
            published.min,
            published.max
        );
        // A part of the same collection: fewer rows, none beyond its extremes
        // (printed to two digits), medians within a quarter.
        assert!(q.n < published.n);
        assert!(
            q.min >= published.min * 0.93 && q.max <= published.max * 1.05,
            "{figure:?}"
        );
        assert!(
            (q.median / published.median - 1.0).abs() < 0.25,
            "{figure:?}"
        );
    }
}

/// Percentiles: the middle is 50, the ends are 0 and 100, and it never falls.
#[test]
fn percentiles() {
    let set = historic();
    for figure in Figure::ALL {
        let values = set.values(figure);
        let p = |x: f64| set.percentile(figure, x).unwrap();
        assert_eq!((p(0.0), p(1e6)), (0.0, 100.0));
        let steps: Vec<f64> = (0..300).map(|i| p(0.05 * 1.05f64.powi(i))).collect();
        assert!(steps.windows(2).all(|w| w[0] <= w[1]));
        let median = set.quantile(figure, 0.5).unwrap().unwrap();
        // Within the ties of one value.
        let ties = values
            .iter()
            .filter(|v| (*v / median - 1.0).abs() < 1e-9)
            .count();
        let slack = 50.0 * (ties as f64 + 1.0) / values.len() as f64;
        assert!(
            (p(median) - 50.0).abs() <= slack,
            "{figure:?} {}",
            p(median)
        );
    }
    assert_eq!(set.percentile(Figure::IronPerLiter, f64::NAN), None);
    assert!(set.quantile(Figure::IronPerLiter, 1.5).is_err());
    let nowhere = set.in_place(Place::Russia);
    assert!(nowhere.is_empty() && nowhere.quantiles(Figure::IronPerLiter).is_none());
    // By century, as the notes count: a span counts where it begins.
    let centuries: Vec<usize> = (15..=20).map(|c| set.of_century(c).len()).collect();
    assert_eq!(centuries.iter().sum::<usize>(), set.len());
    // The 1935 federal ink is among the weak in iron.
    let us = reference_ink("us_federal_writing_1935").unwrap();
    let us = us.recipe(liters(1.0), 1.0).unwrap();
    let us = Figures::of(&us.evaluate().unwrap()).iron_g_per_l.unwrap();
    assert!(set.percentile(Figure::IronPerLiter, us).unwrap() < 10.0);
}

/// Question 31: 30:3:2:1, and a kilogram of one part.
#[test]
fn parts_need_no_unit() {
    let ravenna = [
        ("water", 30.0),
        ("galls", 3.0),
        ("vitriol", 2.0),
        ("gum", 1.0),
    ];
    let ravenna = Proportions::new(ravenna).unwrap();
    for (name, own) in ravenna.parts().to_vec() {
        let masses = ravenna.solve(&name, kilograms(1.0)).unwrap();
        let sum: f64 = masses.iter().map(|m| m.1.in_kilograms()).sum();
        assert!((sum - 36.0 / own).abs() < 1e-12 * sum);
    }
    assert!(matches!(
        ravenna.solve("wine", kilograms(1.0)),
        Err(HistoryError::NoSuchPart { .. })
    ));
    assert!(ravenna.solve("gum", kilograms(f64::NAN)).is_err());
    assert!(Proportions::new([("x", -1.0)]).is_err());
    // The same as an old recipe: figures do not depend on what a part weighs.
    let text = ink(
        Setting::default(),
        ["3 parts", "2 parts", "1 part", "30 parts"],
    );
    let one = text.read().unwrap();
    let kilo = text.with_part(kilograms(1.0)).read().unwrap();
    let (a, b) = (
        one.figures.iron_g_per_l.unwrap(),
        kilo.figures.iron_g_per_l.unwrap(),
    );
    assert!((a / b - 1.0).abs() < 1e-12);
    // 2 parts of vitriol in 30 of water at 0.998 g/mL: 66.5 g/L, 13.4 g/L iron.
    assert!((a - 2.0 / 30.0 * 998.2 * 0.20087).abs() < 0.01, "{a}");
}

/// Questions 26: side by side in moles per litre.
#[test]
fn side_by_side() {
    let made = |id: &str| {
        let recipe = read_row(id).recipe.unwrap();
        let made = recipe.evaluate().unwrap();
        Normalised::of(id, &made)
    };
    // EN17: 30 g/L vitriol at 278.006 g/mol; galls 89.9 g/L.
    let lewis = made("EN17");
    assert!((lewis.iron.in_moles_per_liter() - 29.957 / 278.006).abs() < 1e-5);
    // 55 % tannin of dry galls (10 % moisture), 5.6 mmol/g, 3 % gallic acid,
    // 85 % out: by hand 0.85 × 89.87 × 0.9 × (0.55 × 5.6 + 0.03/170.12 × 1e3) mmol/L.
    let by_hand = 0.85 * 89.87 * 0.9 * (0.55 * 5.6 + 30.0 / 170.12) / 1e3;
    let g = lewis.galloyl;
    assert!((g.typical.in_moles_per_liter() / by_hand - 1.0).abs() < 2e-3);
    assert!(g.low < g.typical && g.typical < g.high);
    assert!((lewis.gum.in_grams_per_liter() - 29.957).abs() < 0.01);
    let us = reference_ink("us_federal_writing_1935").unwrap();
    let us = us.recipe(liters(1.0), 1.0).unwrap();
    let us = Normalised::of("US", &us.evaluate().unwrap());
    assert!((us.iron.in_moles_per_liter() - 15.0 / 278.006).abs() < 1e-5);
    // 34.3 mmol/L of strong acid, by the reference notes.
    assert!((us.strong_acid.in_moles_per_liter() - 0.0343).abs() < 1e-4);
}

/// The galls strained off first lose tannin to the marc, the iron stays.
#[test]
fn straining_first() {
    let text = ink(england(1740), ["3 oz", "1 oz", "1 oz", "1 quart"]);
    let at_end = text.clone().read().unwrap().recipe.unwrap();
    let first = text.strained_first().read().unwrap().recipe.unwrap();
    let at_end = at_end.evaluate().unwrap().composition;
    let first = first.evaluate().unwrap().composition;
    assert!((first.iron() / at_end.iron()).value > 0.999_999);
    let kept = (first.galloyl() / at_end.galloyl()).value;
    // 85 g of galls hold back some 190 mL of 940.
    assert!((0.75..0.85).contains(&kept), "{kept}");
}

/// "3 or 4 ounces" is a doubt like that of a word: its ends are readings.
#[test]
fn three_or_four_ounces_in_the_figures() {
    let text = ink(england(1850), ["9 en_av_oz", "3 or 4 en_av_oz", "", "1 L"]);
    let reading = text.read().unwrap();
    assert_eq!(reading.alternatives.len(), 2);
    let ounce = 28.349_523_125;
    let span = reading.figure(Figure::VitriolPerLiter).unwrap();
    for (got, ounces) in [(span.low, 3.0), (span.typical, 3.5), (span.high, 4.0)] {
        assert!((got / (ounces * ounce) - 1.0).abs() < 1e-9, "{got}");
    }
    let ratio = reading.figure(Figure::GallsPerVitriol).unwrap();
    assert!((ratio.low - 9.0 / 4.0).abs() < 1e-9 && (ratio.high - 3.0).abs() < 1e-9);
}

/// "4 oz of galls in a quart, boiled to a pint", England 1740: the pint may be
/// wine measure (28.875 cubic inches, 473.2 mL) or ale measure (35.25, 577.6 mL),
/// and so may the strength that goes with it.
#[test]
fn a_pint_that_is_left_is_as_doubtful_as_one_that_goes_in() {
    let p = pantry();
    let text = OldRecipe::new("a pint", england(1740))
        .line(OldLine::new(Role::Galls, &p.galls, amount("4 oz")))
        .line(OldLine::new(Role::Liquid, &p.water, amount("a quart")))
        .ending(Ending::Yields(amount("a pint")));
    let reading = text.read().unwrap();
    let (ounces, inch) = (4.0 * 28.349523125, 0.016387064);
    let galls = reading.figure(Figure::GallsPerLiter).unwrap();
    assert!((galls.typical - ounces / (28.875 * inch)).abs() < 1e-6);
    assert!(
        (galls.low - ounces / (35.25 * inch)).abs() < 1e-6,
        "{galls:?}"
    );
    let ale = reading
        .alternatives
        .iter()
        .find(|a| a.taking.starts_with("pint as"));
    let ale = ale.unwrap().final_volume.unwrap().in_milliliters();
    assert!((ale - 35.25 * inch * 1e3).abs() < 1e-6);
    let doubt = |d: &&Doubt| d.kind == DoubtKind::AmbiguousUnit && d.message.starts_with("pint");
    let doubt = reading.doubts.iter().find(doubt).unwrap();
    let meant = doubt.meant.as_ref().unwrap().figures.galls_g_per_l.unwrap();
    assert!((meant - galls.low).abs() < 1e-9);

    let two_or_three = text.ending(Ending::Yields(amount("2 or 3 pints")));
    let reading = two_or_three.read().unwrap();
    for (end, pints) in [("least", 2.0), ("most", 3.0)] {
        let at = |a: &&Alternative| a.taking.contains("yields") && a.taking.contains(end);
        let figures = reading.alternatives.iter().find(at).unwrap().figures;
        let galls = figures.galls_g_per_l.unwrap();
        assert!((galls - ounces / (pints * 28.875 * inch)).abs() < 1e-6);
    }
}

/// A spoonful of a powder is a weight once its bulk density is known.
#[test]
fn a_spoonful_with_a_bulk_density() {
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
    let vitriol = vitriol.density(grams_per_cubic_centimeter(1.1)).unwrap();
    let vitriol = vitriol.build().unwrap();
    let text = OldRecipe::new("spoon", england(1800))
        .line(OldLine::new(Role::IronSalt, &vitriol, amount("1 spoonful")))
        .line(OldLine::new(Role::Liquid, &pantry().water, amount("1 L")));
    let reading = text.read().unwrap();
    // 15 mL of 1.1 g/mL in a litre.
    assert!((reading.figures.vitriol_g_per_l.unwrap() - 16.5).abs() < 1e-9);
}

/// The fields of a reading's JSON, with units in their names.
#[cfg(feature = "serde")]
#[test]
fn a_reading_as_json() {
    let json: serde_json::Value = serde_json::from_str(&read_row("FR02").to_json()).unwrap();
    assert_eq!(json["schema"], 1);
    assert_eq!(
        (&json["place"], &json["from_year"]),
        (&"paris".into(), &1755.into())
    );
    let galls = json["lines"][0]["mass_g"]["typical"].as_f64().unwrap();
    assert!((galls - 489.5058).abs() < 1e-9); // 16 onces are a livre
    assert_eq!(
        json["lines"][0]["candidates"][0]["units"][0]["unit"],
        "fr_once"
    );
    assert_eq!(json["final_basis"], "boiled_down");
    assert_eq!(json["figures"]["galls_per_vitriol"], 2.0);
    assert!(
        json["recipe"]
            .as_array()
            .unwrap()
            .iter()
            .any(|l| l["kind"] == "plant")
    );
    let doubt = &json["doubts"][0];
    assert_eq!(doubt["kind"], "unclear_boil_down");
    assert!(doubt["meant"]["final_volume_ml"].as_f64().unwrap() < 1000.0);
    let any = OldRecipe::new("any", Setting::default())
        .line(OldLine::without_lot("galls", amount("1 pound")));
    let json: serde_json::Value = serde_json::from_str(&any.read().unwrap().to_json()).unwrap();
    assert!(json["from_year"].is_null() && json["final_volume_ml"].is_null());
}

/// Amounts as people and printers write them.
#[test]
fn amounts_in_every_hand() {
    let ounce = 28.349_523_125;
    let pint = 473.176_473;
    let pound = 16.0 * ounce;
    let sign = 31.103_476_8;
    for (text, metric) in [
        ("half a pint", 0.5 * pint),
        ("a half pint", 0.5 * pint),
        ("one half pint", 0.5 * pint),
        ("½pt.", 0.5 * pint),
        ("1⁄2 pint", 0.5 * pint),
        ("three quarters of a pint", 0.75 * pint),
        ("a quarter of a pound", 0.25 * pound),
        ("one and a half pints", 1.5 * pint),
        ("a pint and a half", 1.5 * pint),
        ("1-1/2 pints", 1.5 * pint),
        ("two half pints", pint),
        ("two ounces and a half", 2.5 * ounce),
        ("1 lb 2 oz and a half", pound + 2.5 * ounce),
        ("1 pound and 4 ounces", 1.25 * pound),
        ("1lb, 4oz.", 1.25 * pound),
        ("3 ozs", 3.0 * ounce),
        ("fifteen ounces", 15.0 * ounce),
        ("3–4oz", 3.5 * ounce),
        ("℥iij", 3.0 * sign),
        ("℥ss", 0.5 * sign),
        ("℥j ʒij ℈ss", sign * (1.25 + 0.5 / 24.0)),
        ("3 grammes", 3.0),
        ("25 CL", 250.0),
    ] {
        let read = amount(text).in_metric(&england(1740), Goods::Unknown);
        let got = read.unwrap().typical.in_metric();
        assert!((got / metric - 1.0).abs() < 1e-9, "{text}: {got} {metric}");
    }
    // The number of one unit stays one number, which slips are looked for in.
    assert_eq!(amount("two ounces and a half"), amount("2 1/2 ounces"));
    for text in [
        "pint",
        "and a half",
        "3",
        "3 oz 4",
        "½½ oz",
        "1,5 oz",
        "1 oz of",
        "2 and 3 oz",
        "oz 3",
    ] {
        let shown = OldAmount::parse(text).unwrap_err().to_string();
        assert!(!shown.contains("\"\""), "{text}: {shown}");
    }
}

#[test]
fn errors_are_values() {
    for text in [
        "",
        "3",
        "ounces",
        "3 furlongs",
        "-1 oz",
        "nan oz",
        "0 oz",
        "1/0 oz",
        "3 oz 4",
    ] {
        assert!(OldAmount::parse(text).is_err(), "{text:?}");
    }
    let p = pantry();
    // Parts of nothing.
    let parts = ink(england(1740), ["2 parts", "1 part", "", "1 pint"]);
    let nothing = parts.with_part(grams(0.0)).read().unwrap_err().to_string();
    assert!(nothing.starts_with("mass of one part"), "{nothing}");
    // A weight and a measure in one line; a time.
    for text in ["1 pound 1 pint", "3 days"] {
        let recipe = ink(england(1740), [text, "", "", ""]);
        assert!(
            matches!(recipe.read(), Err(HistoryError::MixedKinds { .. })),
            "{text}"
        );
    }
    // A spoonful of a powder whose bulk density nobody gave.
    let spoon = OldRecipe::new("spoon", england(1800))
        .line(OldLine::new(
            Role::IronSalt,
            &p.vitriol,
            amount("1 spoonful"),
        ))
        .line(OldLine::new(Role::Liquid, &p.water, amount("1 pint")));
    assert!(matches!(spoon.read(), Err(HistoryError::Lot(_))));
    // More in it than it can hold.
    let full = ink(england(1740), ["3 lb", "1 1/2 lb", "", "1 pint"])
        .read()
        .unwrap();
    assert!(full.recipe.is_none());
    assert!(matches!(
        full.no_recipe,
        Some(RecipeError::TooMuchForVolume { .. })
    ));
    assert!(!doubts(&full, DoubtKind::UnitSlip).is_empty()); // ounces
    let many = (0..65).fold(OldRecipe::new("many", england(1740)), |r, _| {
        r.line(OldLine::new(Role::Gum, &p.gum, amount("1 oz")))
    });
    assert!(matches!(
        many.read(),
        Err(HistoryError::TooManyLines { .. })
    ));
    let part = ink(england(1740), ["1 part", "", "", ""]).with_part(grams(f64::NAN));
    assert!(matches!(part.read(), Err(HistoryError::OutOfRange(_))));
    assert!(Count::between(4.0, 3.0).is_err() && Count::of(f64::INFINITY).is_err());
    assert!(Years::between(1800, 1700).is_err() && Years::century(0).is_err());
}

/// Liquids measured in every way, galls strained or not: never a panic.
fn old_inks() -> impl Strategy<Value = OldRecipe> {
    let count = || (0.25..12.0_f64, 1.0..1.6_f64);
    let solid = || {
        prop::sample::select(vec![
            "ounce", "pound", "℥", "drachm", "Lot", "livre", "oncia", "ons",
        ])
    };
    let wet = || {
        prop::sample::select(vec![
            "pint", "quart", "gallon", "pinte", "Mass", "boccale", "kan",
        ])
    };
    let lines = (
        (count(), solid()),
        (count(), solid()),
        (count(), solid()),
        (count(), wet()),
    );
    let setting = (
        prop::sample::select(Place::all().collect::<Vec<_>>()),
        1400..1900_i32,
        0..150_i32,
    );
    (lines, setting, 0..4_u8, 0.2..0.9_f64, any::<bool>()).prop_map(
        |((g, v, a, w), (place, year, span), end, share, first)| {
            let years = Years::between(year, year + span).unwrap();
            let p = pantry();
            let line = |role, lot: &Lot, ((n, wide), name): ((f64, f64), &str)| {
                let count = Count::between(n, n * wide).unwrap();
                OldLine::new(role, lot, OldAmount::in_words(count, word(name).unwrap()))
            };
            let share = Share::new(share).unwrap();
            let text = OldRecipe::new("any", Setting::new(place, years))
                .line(line(Role::Galls, &p.galls, g))
                .line(line(Role::IronSalt, &p.vitriol, v))
                .line(line(Role::Gum, &p.gum, a))
                .line(line(Role::Liquid, &p.water, w))
                .ending(match end {
                    0 => Ending::BoiledTo(share),
                    1 => Ending::BoiledBy(share),
                    2 => Ending::BoiledUnclear(share),
                    _ => Ending::Charge,
                });
            if first { text.strained_first() } else { text }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 96, ..ProptestConfig::default() })]

    /// An interval holds its typical value; the recipe has the typical volume.
    #[test]
    fn intervals_contain_the_typical(text in old_inks()) {
        let Ok(reading) = text.read() else { return Ok(()) };
        for line in &reading.lines {
            let a = line.amount;
            prop_assert!(a.low.in_metric() <= a.typical.in_metric());
            prop_assert!(a.typical.in_metric() <= a.high.in_metric());
        }
        let v = reading.final_volume.unwrap();
        prop_assert!(v.low <= v.typical && v.typical <= v.high);
        for figure in Figure::ALL {
            let f = reading.figure(figure).unwrap();
            prop_assert!(f.low <= f.typical && f.typical <= f.high);
        }
        let Some(recipe) = reading.recipe else {
            prop_assert!(reading.no_recipe.is_some());
            return Ok(());
        };
        let made = recipe.evaluate().unwrap().composition.volume();
        prop_assert!(((made / v.typical).value - 1.0).abs() < 1e-9);
        for other in reading.alternatives.iter().filter_map(|a| a.recipe.as_ref()) {
            prop_assert!(other.evaluate().is_ok());
        }
    }

    /// So many times everything is the same ink.
    #[test]
    fn scaling_changes_no_figure(text in old_inks(), factor in 0.1..10.0_f64) {
        let Ok(reading) = text.read() else { return Ok(()) };
        let Some(made) = reading.recipe else { return Ok(()) };
        let scaled = Figures::of(&made.scaled(factor).evaluate().unwrap());
        let made = Figures::of(&made.evaluate().unwrap());
        for figure in Figure::ALL {
            let (a, b) = (made.get(figure).unwrap(), scaled.get(figure).unwrap());
            prop_assert!((a / b - 1.0).abs() < 1e-9, "{figure:?}");
            // And they are those of the reading. Aleppo galls are weighed as such.
            let r = reading.figures.get(figure).unwrap();
            prop_assert!((a / r - 1.0).abs() < 1e-9, "{figure:?} {a} {r}");
        }
    }

    /// The order of the lines changes nothing.
    #[test]
    fn order_does_not_matter(text in old_inks(), seed in any::<u64>()) {
        let Ok(reading) = text.read() else { return Ok(()) };
        let mut lines = text.lines().to_vec();
        let at = (seed % 4) as usize;
        lines.rotate_left(at);
        if seed & 8 == 0 { lines.swap(0, 1); }
        let mut other = OldRecipe::new("any", text.setting()).ending(text.ends().clone());
        if text.is_strained_first() { other = other.strained_first(); }
        for line in lines { other = other.line(line); }
        let other = other.read().unwrap();
        prop_assert_eq!(reading.figures.iron_g_per_l, other.figures.iron_g_per_l);
        prop_assert_eq!(reading.figures.galls_per_vitriol, other.figures.galls_per_vitriol);
        for line in &reading.lines {
            let same = other.lines.iter().find(|l| l.role == line.role).unwrap();
            prop_assert_eq!(line, same);
        }
        let kinds = |r: &Reading| -> Vec<DoubtKind> {
            let mut kinds: Vec<DoubtKind> = r.doubts.iter().map(|d| d.kind).collect();
            kinds.sort();
            kinds
        };
        prop_assert_eq!(kinds(&reading), kinds(&other));
    }

    /// A year and a smaller place never widen a line that fits.
    #[test]
    fn knowing_more_never_widens_a_line(text in old_inks()) {
        let Ok(known) = text.read() else { return Ok(()) };
        let wide = text.clone().set_in(Setting::default());
        let Ok(wide) = wide.read() else { return Ok(()) };
        for (a, b) in known.lines.iter().zip(&wide.lines) {
            if a.candidates.iter().all(|c| c.standing() == Standing::Fits) {
                prop_assert!(b.amount.low.in_metric() <= a.amount.low.in_metric());
                prop_assert!(b.amount.high.in_metric() >= a.amount.high.in_metric());
            }
        }
    }
}
