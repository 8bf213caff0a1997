//! Laws of the bench arithmetic, on random lots: scaling and order do not
//! matter, a swap undone is no swap, rounding stays within half a step, columns
//! are recipes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod shelf;

use ferrogall::bench::Lot;
use ferrogall::composition::{Bulk, Component, Composition};
use ferrogall::formulate::{Equal, Swap};
use ferrogall::quantity::*;
use ferrogall::recipe::{
    Amount, ColumnPlan, Evaluation, Extraction, Kit, Measure, Portion, Recipe, RowResult,
    RowStatus, Solution, smallest_batch,
};
use proptest::prelude::*;
use shelf::*;

/// A whole recipe of random amounts: soak, powders, a part-used stock.
#[derive(Debug, Clone)]
struct Batch {
    iron: Lot,
    plant: Lot,
    powder: Lot,
    water: Lot,
    g: [f64; 6],
    used: f64,
}

fn batch() -> impl Strategy<Value = Batch> {
    let g = prop::array::uniform6(0.1..60.0_f64);
    (
        iron(),
        plant(),
        tannic_acid(),
        hard_water(),
        g,
        0.05..1.0_f64,
    )
        .prop_map(|(iron, plant, powder, water, g, used)| Batch {
            iron,
            plant,
            powder,
            water,
            g,
            used,
        })
}

impl Batch {
    fn recipe(&self) -> Recipe {
        self.ordered(false)
    }

    /// The same recipe, or the same with everything in another order.
    fn ordered(&self, backwards: bool) -> Recipe {
        let [a, b, c, d, e, f] = self.g;
        let soak = Extraction::new(&self.plant, grams(a), &self.water, grams(12.0 * a));
        let soak = soak.yielding(0.8, 0.1).unwrap();
        let (gum, acid) = (lot("gum_arabic"), lot("hydrochloric_acid"));
        let share = Portion::Share(Share::new(self.used).unwrap());
        let stock = |s: Solution| s.make_up(&self.water, milliliters(400.0)).use_only(share);
        let parts = Recipe::new("batch").with_part(grams(e));
        let two = Amount::Parts(0.5);
        let recipe = if backwards {
            let iron = Solution::new("iron")
                .add(&acid, milliliters(f))
                .add(&self.iron, grams(c));
            let pot = Solution::new("pot")
                .add(&gum, two)
                .add(&self.powder, grams(b));
            let pot = pot.add(&self.iron, grams(d)).extract(soak);
            parts.with(stock(iron)).with(pot)
        } else {
            let pot = Solution::new("pot").extract(soak).add(&self.iron, grams(d));
            let pot = pot.add(&self.powder, grams(b)).add(&gum, two);
            let iron = Solution::new("iron")
                .add(&self.iron, grams(c))
                .add(&acid, milliliters(f));
            parts.with(pot).with(stock(iron))
        };
        recipe.make_up(&self.water, liters(2.0))
    }
}

/// All totals of `a` are `factor` times those of `b`, to 1e-12 of `scale`'s
/// same total (what cancels is not counted).
fn same(a: &Composition, b: &Composition, factor: f64, whole: &Composition) -> Result<(), String> {
    let check = |what: String, x: f64, y: f64, of: f64| {
        let within = (x - factor * y).abs() <= 1e-12 * factor * of.abs().max(y.abs());
        within
            .then_some(())
            .ok_or(format!("{what}: {x} against {factor} * {y}"))
    };
    for c in Component::ALL {
        let of = whole.amount(*c).value;
        check(format!("{c:?}"), a.amount(*c).value, b.amount(*c).value, of)?;
    }
    for k in Bulk::ALL {
        let of = whole.mass_of(*k).value;
        check(
            format!("{k:?}"),
            a.mass_of(*k).value,
            b.mass_of(*k).value,
            of,
        )?;
    }
    check(
        "mass".into(),
        a.mass().value,
        b.mass().value,
        whole.mass().value,
    )?;
    check(
        "volume".into(),
        a.volume().value,
        b.volume().value,
        whole.volume().value,
    )?;
    let of = whole.mass().value;
    check(
        "residue".into(),
        a.dry_residue().value,
        b.dry_residue().value,
        of,
    )
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn scaling_commutes_with_evaluation(batch in batch(), factor in 1e-3..1e3_f64) {
        let recipe = batch.recipe();
        let one = recipe.evaluate().unwrap();
        let scaled = recipe.scaled(factor);
        let many = scaled.evaluate().unwrap();
        let all = one.composition.mixed_with(&one.left_behind);
        same(&many.composition, &one.composition, factor, &all).map_err(TestCaseError::fail)?;
        same(&many.left_behind, &one.left_behind, factor, &all).map_err(TestCaseError::fail)?;
        for (a, b) in many.lines.iter().zip(&one.lines) {
            prop_assert!(close(a.mass.value, factor * b.mass.value));
        }
        prop_assert!(close(many.iron_u, one.iron_u) && close(many.galloyl_u, one.galloyl_u));
        // And back.
        let back = scaled.to_volume(one.composition.volume()).unwrap();
        let back = back.evaluate().unwrap();
        same(&back.composition, &one.composition, 1.0, &all).map_err(TestCaseError::fail)?;
    }

    #[test]
    fn order_does_not_matter(batch in batch()) {
        let (forth, back) = (batch.ordered(false), batch.ordered(true));
        let (a, b) = (forth.evaluate().unwrap(), back.evaluate().unwrap());
        let all = a.composition.mixed_with(&a.left_behind);
        same(&a.composition, &b.composition, 1.0, &all).map_err(TestCaseError::fail)?;
        same(&a.left_behind, &b.left_behind, 1.0, &all).map_err(TestCaseError::fail)?;
        prop_assert!(close(a.iron_u, b.iron_u), "{} {}", a.iron_u, b.iron_u);
        prop_assert!(close(a.galloyl_u, b.galloyl_u), "{} {}", a.galloyl_u, b.galloyl_u);
    }

    /// One lot for another and back again, iron and galloyl, by mass and in a
    /// recipe.
    #[test]
    fn a_swap_undone_is_no_swap(
        (a, b) in (iron(), iron()),
        (x, y) in (plant(), plant()),
        powder in tannic_acid(),
        g in 0.01..1000.0_f64,
    ) {
        for (from, to, equal) in [
            (&a, &b, Equal::IronII),
            (&x, &y, Equal::Galloyl),
            (&x, &powder, Equal::Galloyl),
            (&powder, &y, Equal::Galloyl),
        ] {
            let there = Swap::new(from, to, equal).of(grams(g)).unwrap();
            let back = Swap::new(to, from, equal).of(there.mass).unwrap();
            prop_assert!(close(back.mass.in_grams(), g));
            prop_assert!(close(there.factor * back.factor, 1.0));
            prop_assert_eq!(there.factor_u, back.factor_u);
            let kept = match equal {
                Equal::IronII => (there.effects.iron_ii.value, from.composition(grams(g)).unwrap().iron_ii()),
                Equal::Galloyl => (there.effects.galloyl.value, from.composition(grams(g)).unwrap().galloyl()),
            };
            prop_assert!(kept.0.abs() <= 1e-12 * kept.1.value);
        }
    }

    #[test]
    fn a_lot_replaced_and_put_back(batch in batch(), other in salt(), powder in tannic_acid()) {
        let rename = |l: &Lot, name: &str| Lot::prepared(name, &l.composition(kilograms(1.0)).unwrap()).unwrap();
        let (other, powder) = (rename(&other, "other iron"), rename(&powder, "other tannin"));
        let recipe = batch.recipe();
        let before = recipe.evaluate().unwrap();
        let iron_name = batch.iron.name().to_string();
        let swapped = recipe.with_substitute(&iron_name, &other, Equal::IronII).unwrap();
        let after = swapped.evaluate().unwrap();
        prop_assert!(close(after.composition.iron_ii().value, before.composition.iron_ii().value));
        let back = swapped.with_substitute("other iron", &batch.iron, Equal::IronII).unwrap();
        let back = back.evaluate().unwrap();
        let all = before.composition.mixed_with(&before.left_behind);
        same(&back.composition, &before.composition, 1.0, &all).map_err(TestCaseError::fail)?;

        // The soaked plant and the powder go by one name here: both are replaced.
        let swapped = recipe.with_substitute("tannin", &powder, Equal::Galloyl).unwrap();
        let after = swapped.evaluate().unwrap();
        prop_assert!(close(after.composition.galloyl().value, before.composition.galloyl().value));
    }

    /// A rounded amount is off by half a step at most (water by one, downwards).
    #[test]
    fn rounding_stays_within_half_a_step(batch in batch(), step in 0.001..5.0_f64, mark in 0.01..5.0_f64) {
        let recipe = batch.recipe();
        let kit = Kit::new(grams(step), milliliters(mark));
        let kit = kit.with("gum arabic", Measure::Balance { step: grams(3.0 * step) });
        let Ok(rounded) = recipe.rounded(&kit) else {
            // Half a step too much of everything may not fit the mark any more.
            return Err(TestCaseError::reject("does not fit"));
        };
        let lots: Vec<_> = recipe.evaluate().unwrap().lines.into_iter().filter(|l| l.stated.is_some()).collect();
        prop_assert_eq!(rounded.lines.len(), lots.len());
        for (line, exact) in rounded.lines.iter().zip(&lots) {
            let one = match kit.tool(exact.lot) {
                Measure::Balance { step } => step.value,
                Measure::Cylinder { step } => exact.lot.mass_of(step).unwrap().value,
                other => panic!("{other:?}"),
            };
            prop_assert!(close(line.exact.value, exact.mass.value));
            let off = line.rounded.value - line.exact.value;
            let slack = 1e-9 * one + 1e-12 * line.exact.value;
            let water = matches!(exact.lot.material(), Some(ferrogall::bench::Material::Water(_)));
            if water {
                // Water rounds down, so that what is filled up still fits.
                prop_assert!(off <= slack && off >= -one - slack, "{off} {one}");
            } else {
                prop_assert!(off.abs() <= 0.5 * one + slack, "{off} {one}");
            }
            prop_assert_eq!(line.steps, line.steps.trunc());
            prop_assert!(close(line.steps * one, line.rounded.value));
        }
        // Rounded once, it stays.
        let again = rounded.recipe.rounded(&kit).unwrap();
        for (a, b) in again.lines.iter().zip(&rounded.lines) {
            prop_assert_eq!(a.steps, b.steps);
        }
    }

    /// The smallest honest batch: every amount has its steps, and one has no more.
    #[test]
    fn smallest_batch_can_be_weighed(batch in batch(), steps in 1.0..100.0_f64, step in 0.001..5.0_f64) {
        let recipe = batch.recipe();
        let kit = Kit::new(grams(step), milliliters(step));
        let smallest = smallest_batch(&recipe, &kit, steps).unwrap();
        let scaled = recipe.scaled(smallest.factor);
        let made = scaled.evaluate().unwrap();
        prop_assert!(close(made.composition.volume().value, smallest.volume.value));
        let mut least = f64::INFINITY;
        for line in made.lines.iter().filter(|l| l.stated.is_some()) {
            let one = match kit.tool(line.lot) {
                Measure::Balance { step } => step.value,
                Measure::Cylinder { step } => line.lot.mass_of(step).unwrap().value,
                other => panic!("{other:?}"),
            };
            let has = line.mass.value / one;
            prop_assert!(has >= steps * (1.0 - 1e-12), "{} {has}", line.lot.name());
            least = least.min(has);
        }
        prop_assert!(close(least, steps));
    }

    /// A row of columns is a recipe; a column is its rows, bit for bit.
    #[test]
    fn columns_are_recipes(
        iron in iron(),
        tannin in tannic_acid(),
        water in hard_water(),
        rows in prop::collection::vec((prop::array::uniform6(0.0..80.0_f64), 0.0..3000.0_f64, any::<bool>()), 1..8),
    ) {
        let price = |p: f64| Price::per_kilogram(p).unwrap();
        let lots = [
            iron.with_price(price(5.0)),
            tannin.with_price(price(60.0)),
            lot("hydrochloric_acid"),
            lot("gum_arabic").with_price(price(30.0)),
            lot("soluble_blue"),
            lot("sodium_benzoate"),
        ];
        let plan = ColumnPlan::new(&lots.each_ref(), &water).unwrap();
        let masses: Vec<Vec<f64>> = (0..6).map(|k| rows.iter().map(|r| r.0[k]).collect()).collect();
        let columns: Vec<&[f64]> = masses.iter().map(Vec::as_slice).collect();
        let make_up: Vec<f64> = rows.iter().map(|r| if r.2 { r.1 } else { 0.0 }).collect();
        let mut out = vec![RowResult::NAN; rows.len()];
        let mut status = vec![RowStatus::Empty; rows.len()];
        let done = plan.evaluate(&columns, &make_up, &mut out, &mut status);
        prop_assert_eq!(done.unwrap(), out.len());
        for (i, row) in rows.iter().enumerate() {
            let (alone, s) = plan.row(|k| row.0[k], make_up[i]);
            prop_assert_eq!(s, status[i]);
            prop_assert_eq!(bits(&alone), bits(&out[i]));

            let mut solution = Solution::new("s");
            for (l, g) in lots.iter().zip(row.0) {
                solution = solution.add(l, grams(g));
            }
            let mut recipe = Recipe::new("row").with(solution);
            if make_up[i] > 0.0 {
                recipe = recipe.make_up(&water, milliliters(make_up[i]));
            }
            match recipe.evaluate() {
                Ok(e) => {
                    prop_assert_eq!(s, RowStatus::Ok);
                    agrees(&alone, &e)?;
                }
                Err(_) => prop_assert!(s == RowStatus::TooMuchForVolume, "{s:?}"),
            }
        }
    }
}

fn bits(r: &RowResult) -> Vec<u64> {
    figures(r).map(f64::to_bits).to_vec()
}

fn figures(r: &RowResult) -> [f64; 15] {
    [
        r.volume_ml,
        r.mass_g,
        r.make_up_g,
        r.iron_ii_mol_per_l,
        r.iron_iii_mol_per_l,
        r.iron_g_per_l,
        r.galloyl_mol_per_l,
        r.gallic_acid_mol_per_l,
        r.iron_per_galloyl,
        r.strong_acid_mol_per_l,
        r.gum_g_per_l,
        r.dye_g_per_l,
        r.preservative_g_per_l,
        r.dry_residue_g_per_l,
        r.cost,
    ]
}

fn agrees(r: &RowResult, e: &Evaluation) -> Result<(), TestCaseError> {
    let c = &e.composition;
    let litre = |m: Mass| m.in_grams() / c.volume().in_liters();
    let make_up = e.lines.iter().find(|l| l.stated.is_none());
    let expected = [
        c.volume().in_milliliters(),
        c.mass().in_grams(),
        make_up.map_or(0.0, |l| l.mass.in_grams()),
        c.molarity(Component::IronII).in_moles_per_liter(),
        c.molarity(Component::IronIII).in_moles_per_liter(),
        c.iron_mass_concentration().in_grams_per_liter(),
        c.concentration(c.galloyl()).in_moles_per_liter(),
        c.molarity(Component::GallicAcid).in_moles_per_liter(),
        c.ratios().iron_per_galloyl.unwrap_or(f64::NAN),
        c.concentration(c.strong_acid()).in_moles_per_liter(),
        c.mass_concentration(Bulk::Gum).in_grams_per_liter(),
        c.mass_concentration(Bulk::Dye).in_grams_per_liter(),
        litre(c.preservative()),
        litre(c.dry_residue()),
        e.cost().map_or(0.0, |(sum, _)| sum),
    ];
    // Sums that may cancel are measured against what cancels in them.
    let charges = 2.0 * c.molarity(Component::Sulfate).in_moles_per_liter()
        + c.molarity(Component::Chloride).in_moles_per_liter()
        + c.molarity(Component::Sodium).in_moles_per_liter();
    let whole = c.volume().value * 998.2e3;
    for (k, (got, want)) in figures(r).into_iter().zip(expected).enumerate() {
        let scale = match k {
            2 => whole,
            9 => charges.max(want.abs()),
            _ => want.abs(),
        };
        let both_none = got.is_nan() && want.is_nan();
        prop_assert!(
            both_none || (got - want).abs() <= 1e-12 * scale,
            "figure {k}: {got} against {want}"
        );
    }
    Ok(())
}
