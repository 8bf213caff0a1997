//! Nothing appears and nothing is lost: elements, mass, galloyl, charge.
//!
//! The referee is a formula and a balance sheet: what was weighed, times what
//! the formula says, against what the crate finds in the ink and beside it.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::bench::{Lot, Material, acids, humectants, iron_salts, preservatives};
use ferrogall::chem::Formula;
use ferrogall::composition::{Bulk, Component, Composition};
use ferrogall::quantity::*;
use ferrogall::recipe::{Evaluation, Extraction, Portion, Recipe, Solution};
use proptest::prelude::*;

/// Substances with a formula: id and formula.
fn substances() -> Vec<(&'static str, &'static str)> {
    let salts = iron_salts().iter().map(|r| (r.id, r.formula));
    let acids = acids().iter().map(|r| (r.id, r.formula));
    let preservatives = preservatives().iter().map(|r| (r.id, r.formula));
    let humectants = humectants().iter().map(|r| (r.id, r.formula));
    salts
        .chain(acids)
        .chain(preservatives)
        .chain(humectants)
        .collect()
}

/// Components that hold each element, with atoms of it in one.
const ELEMENTS: &[(&str, &[(Component, f64)])] = &[
    ("Fe", &[(Component::IronII, 1.0), (Component::IronIII, 1.0)]),
    ("S", &[(Component::Sulfate, 1.0)]),
    ("Cl", &[(Component::Chloride, 1.0)]),
    (
        "N",
        &[(Component::Nitrate, 1.0), (Component::Ammonium, 1.0)],
    ),
    ("Na", &[(Component::Sodium, 1.0)]),
    ("K", &[(Component::Potassium, 1.0)]),
    ("Ca", &[(Component::Calcium, 1.0)]),
    ("P", &[(Component::Phosphate, 1.0)]),
];

/// mol of an element in a composition.
fn held(c: &Composition, element: &str) -> f64 {
    let (_, holders) = ELEMENTS.iter().find(|(e, _)| *e == element).unwrap();
    let of = |(component, n): &(Component, f64)| n * c.amount(*component).in_moles();
    holders.iter().map(of).sum()
}

/// Net strong acid per mole, by hand: charges of the ions of strong acids and
/// bases, weak anions standing for the cation they bring along.
const STRONG_ACID: &[(&str, f64)] = &[
    ("iron_ii_sulfate_heptahydrate", 0.0),
    ("iron_ii_sulfate_anhydrous", 0.0),
    ("ammonium_iron_ii_sulfate_hexahydrate", 0.0),
    ("iron_ii_chloride_tetrahydrate", 0.0),
    ("iron_ii_nitrate_hexahydrate", 0.0),
    ("iron_iii_sulfate_nonahydrate", 0.0),
    ("iron_iii_chloride_hexahydrate", 0.0),
    ("ammonium_iron_iii_sulfate_dodecahydrate", 0.0),
    ("iron_ii_acetate_tetrahydrate", -2.0),
    ("iron_ii_lactate_trihydrate", -2.0),
    ("iron_ii_gluconate_dihydrate", -2.0),
    ("iron_ii_oxalate_dihydrate", -2.0),
    ("iron_ii_carbonate", -2.0),
    ("iron_iii_citrate", -3.0),
    ("hydrochloric_acid", 1.0),
    ("sulfuric_acid", 2.0),
    ("acetic_acid", 0.0),
    ("citric_acid_monohydrate", 0.0),
    ("tartaric_acid", 0.0),
    ("oxalic_acid_dihydrate", 0.0),
    ("phosphoric_acid", 0.0),
    ("sodium_hydroxide", -1.0),
    ("sodium_bicarbonate", -1.0),
    ("sodium_benzoate", -1.0),
    ("potassium_sorbate", -1.0),
    ("sodium_salicylate", -1.0),
    ("salicylic_acid", 0.0),
    ("phenol", 0.0),
];

fn pure(id: &str) -> Lot {
    let lot = Lot::of(id).unwrap();
    lot.purity(1.0, 0.0).unwrap().build().unwrap()
}

fn water_of(mg_per_l: f64) -> Lot {
    let hardness = grams_per_liter(mg_per_l / 1e3);
    let lot = Lot::of("hard_tap_water").unwrap();
    let lot = lot.alkalinity(hardness).unwrap().hardness(hardness);
    lot.unwrap().named("water").build().unwrap()
}

fn distilled() -> Lot {
    let lot = Lot::of("distilled_water").unwrap();
    let nothing = grams_per_liter(0.0);
    let lot = lot.alkalinity(nothing).unwrap().hardness(nothing);
    lot.unwrap().build().unwrap()
}

fn close(got: f64, expected: f64, of: f64) -> bool {
    (got - expected).abs() <= 1e-12 * of.abs().max(expected.abs())
}

/// A random recipe: two solutions, the first a part-used stock, a soak in the
/// second, each made up, all of it made up at the end.
#[derive(Debug, Clone)]
struct Plan {
    first: Vec<(usize, f64)>,
    second: Vec<(usize, f64)>,
    plant: (&'static str, f64, f64, f64, f64),
    hardness: f64,
    used: f64,
    by: u8,
}

fn plan() -> impl Strategy<Value = Plan> {
    let n = substances().len();
    let some = || prop::collection::vec((0..n, 0.01..40.0_f64), 1..5);
    let plants = prop::sample::select(vec![
        "aleppo_galls",
        "chinese_galls",
        "sumac_leaf",
        "tara_pods",
    ]);
    let soak = (
        plants,
        0.1..50.0_f64,
        0.5..20.0_f64,
        0.0..1.0_f64,
        0.0..5.0_f64,
    );
    (some(), some(), soak, 0.0..400.0_f64, 0.0..1.0_f64, 0..4_u8).prop_map(
        |(first, second, plant, hardness, used, by)| Plan {
            first,
            second,
            plant,
            hardness,
            used,
            by,
        },
    )
}

impl Plan {
    fn recipe(&self) -> Recipe {
        let all = substances();
        let water = water_of(self.hardness);
        let (plant, galls_g, times, share, hold) = self.plant;
        let galls = Lot::of(plant).unwrap().build().unwrap();
        let soak = Extraction::new(&galls, grams(galls_g), &water, grams(galls_g * times));
        let soak = soak.yielding(share, 0.0).unwrap();
        let soak = soak.holding_back(hold).unwrap();
        let fill = |mut s: Solution, list: &[(usize, f64)]| {
            for (i, g) in list {
                s = s.add(&pure(all[*i].0), grams(*g));
            }
            s
        };
        let portion = match self.by {
            0 => Portion::All,
            1 => Portion::Share(Share::new(self.used).unwrap()),
            2 => Portion::Volume(milliliters(500.0 * self.used)),
            // 200 g of water and more are in it.
            _ => Portion::Mass(grams(200.0 * self.used)),
        };
        let first = fill(Solution::new("stock"), &self.first)
            .make_up(&water, milliliters(500.0))
            .use_only(portion);
        let second = fill(Solution::new("pot").extract(soak), &self.second);
        Recipe::new("random")
            .with(first)
            .with(second)
            .make_up(&water, liters(2.5))
    }
}

fn everything(e: &Evaluation) -> Composition {
    e.composition.mixed_with(&e.left_behind)
}

fn config() -> ProptestConfig {
    ProptestConfig {
        cases: 256,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Every substance of the catalogue by itself, one gram of it: the elements of
/// its formula are the elements of its components.
#[test]
fn every_formula_is_in_its_components() {
    for (id, formula) in substances() {
        let c = pure(id).composition(grams(1.0)).unwrap();
        let f = Formula::parse(formula).unwrap();
        let n = 1.0 / f.molar_mass().in_grams_per_mole();
        for (element, _) in ELEMENTS {
            let expected = n * f.count(element);
            let got = held(&c, element);
            assert!(close(got, expected, n), "{id} {element}: {got} {expected}");
        }
    }
}

#[test]
fn strong_acid_of_every_row_by_hand() {
    for (id, per_mole) in STRONG_ACID {
        let (_, formula) = *substances().iter().find(|(i, _)| i == id).unwrap();
        let m = ferrogall::chem::molar_mass(formula).unwrap();
        let c = pure(id).composition(grams(m.in_grams_per_mole())).unwrap();
        let got = c.strong_acid().in_moles();
        assert!((got - per_mole).abs() < 1e-12, "{id}: {got}");
        if let Some(Material::Acid(row)) = pure(id).material() {
            assert_eq!(row.strong_protons, *per_mole, "{id}");
        }
    }
}

proptest! {
    #![proptest_config(config())]

    /// Elements, mass and galloyl: in = in the ink + left behind.
    #[test]
    fn what_goes_in_is_there_or_left_behind(plan in plan()) {
        let recipe = plan.recipe();
        let made = recipe.evaluate().unwrap();
        let all = everything(&made);
        let mass: f64 = made.lines.iter().map(|l| l.mass.in_grams()).sum();
        prop_assert!(close(all.mass().in_grams(), mass, mass), "{} g of {mass} g", all.mass().in_grams());

        let table = substances();
        for (element, _) in ELEMENTS {
            let mut expected = 0.0;
            for line in &made.lines {
                let id = line.lot.material().unwrap().id();
                let g = line.mass.in_grams();
                if let Some((_, formula)) = table.iter().find(|(i, _)| *i == id) {
                    let f = Formula::parse(formula).unwrap();
                    expected += g / f.molar_mass().in_grams_per_mole() * f.count(element);
                } else if id == "hard_tap_water" && *element == "Ca" {
                    // Hardness is mg/L as CaCO3, all of it calcium here.
                    let caco3 = Formula::parse("CaCO3").unwrap().molar_mass().in_grams_per_mole();
                    expected += g / 998.2063 * plan.hardness / 1e3 / caco3;
                }
            }
            let got = held(&all, element);
            prop_assert!(close(got, expected, mass / 1e3), "{element}: {got} mol of {expected}");
        }

        let galloyl: f64 = made.lines.iter()
            .map(|l| l.lot.composition(l.mass).unwrap().galloyl().in_moles()).sum();
        prop_assert!(close(all.galloyl().in_moles(), galloyl, galloyl));
        // Neither the ink nor the rest owes anything.
        for part in [&made.composition, &made.left_behind] {
            for c in Component::ALL {
                prop_assert!(part.amount(*c).in_moles() >= -1e-12 * mass, "{c:?} {}", part.amount(*c).in_moles());
            }
            for b in Bulk::ALL {
                prop_assert!(part.mass_of(*b).in_grams() >= -1e-12 * mass, "{b:?}");
            }
        }
    }

    /// Two pots poured together hold what both held.
    #[test]
    fn mixing_adds_everything(a in plan(), b in plan()) {
        let (ra, rb) = (a.recipe(), b.recipe());
        let a = ra.evaluate().unwrap().composition;
        let b = rb.evaluate().unwrap().composition;
        let ab = a.mixed_with(&b);
        let sum = |x: f64, y: f64, z: f64| close(z, x + y, x.abs() + y.abs());
        for c in Component::ALL {
            prop_assert!(sum(a.amount(*c).value, b.amount(*c).value, ab.amount(*c).value));
        }
        for k in Bulk::ALL {
            prop_assert!(sum(a.mass_of(*k).value, b.mass_of(*k).value, ab.mass_of(*k).value));
        }
        prop_assert!(sum(a.mass().value, b.mass().value, ab.mass().value));
        prop_assert!(sum(a.volume().value, b.volume().value, ab.volume().value));
        prop_assert!(sum(a.dry_residue().value, b.dry_residue().value, ab.dry_residue().value));
        prop_assert!(sum(a.preservative().value, b.preservative().value, ab.preservative().value));
        let charge = 10.0 * (a.mass().value + b.mass().value);
        prop_assert!((a.strong_acid() + b.strong_acid() - ab.strong_acid()).value.abs() < 1e-12 * charge);
    }

    /// Pure water, added to `k` times the volume: every concentration falls to
    /// 1/k, every ratio stays.
    #[test]
    fn dilution_lowers_concentrations_in_proportion(plan in plan(), k in 1.0..50.0_f64) {
        let recipe = plan.recipe();
        let ink = recipe.evaluate().unwrap().composition;
        let water = distilled();
        let kg = ink.volume().value * (k - 1.0) / water.composition(kilograms(1.0)).unwrap().volume().value;
        let thin = ink.mixed_with(&water.composition(kilograms(kg)).unwrap());
        prop_assert!(close(thin.volume().value, k * ink.volume().value, 0.0));
        for c in Component::ALL {
            prop_assert!(close(thin.molarity(*c).value * k, ink.molarity(*c).value, 0.0), "{c:?}");
        }
        for b in Bulk::ALL.iter().filter(|b| **b != Bulk::Water) {
            prop_assert!(close(thin.mass_concentration(*b).value * k, ink.mass_concentration(*b).value, 0.0));
        }
        prop_assert_eq!(thin.ratios(), ink.ratios());
    }

    /// Salts, acids and bases at random: the strong acid is the hand balance.
    #[test]
    fn strong_acid_is_the_charge_balance(
        mix in prop::collection::vec((0..STRONG_ACID.len(), 0.0..0.5_f64), 1..10),
        alkalinity in 0.0..500.0_f64,
    ) {
        let table = substances();
        let water = water_of(alkalinity);
        let mut c = water.composition(grams(998.2063)).unwrap();
        // mg/L as CaCO3: two charges in 100.086 g.
        let mut expected = -alkalinity / 1e3 * 2.0 / 100.086;
        let mut charges = -expected;
        for (i, n) in mix {
            let (id, per_mole) = STRONG_ACID[i];
            let (_, formula) = *table.iter().find(|(t, _)| *t == id).unwrap();
            let m = ferrogall::chem::molar_mass(formula).unwrap();
            c = c.mixed_with(&pure(id).composition(moles(n) * m).unwrap());
            expected += per_mole * n;
            charges += 12.0 * n;
        }
        prop_assert!((c.strong_acid().in_moles() - expected).abs() <= 1e-12 * charges,
            "{} against {expected}", c.strong_acid().in_moles());
        // What evaporates and what stays make up the strong acid and the acetic.
        let acetate = c.amount(Component::Acetate).in_moles();
        let both = c.volatile_acid().in_moles() + c.fixed_acid().in_moles();
        // A base left over holds acetic acid back.
        let acetic = (acetate + expected.min(0.0)).max(0.0);
        prop_assert!((both - expected.max(0.0) - acetic).abs() <= 1e-12 * charges);
    }
}
