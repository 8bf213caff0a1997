//! Hydrates of iron(II) sulfate: iron content, swaps, solubility.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::bench::{HydrateMix, Lot, solubility};
use ferrogall::chem::molar_mass;
use ferrogall::composition::Composition;
use ferrogall::formulate::{Equal, Swap};
use ferrogall::quantity::*;

fn pure(id: &str) -> Lot {
    let lot = Lot::of(id).unwrap();
    lot.purity(1.0, 0.0).unwrap().build().unwrap()
}

fn weathered(parts: [f64; 4]) -> Lot {
    let [h, t, m, b] = parts;
    let lot = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
    let lot = lot.hydrates(HydrateMix::new(h, t, m, b).unwrap()).unwrap();
    lot.purity(1.0, 0.0).unwrap().build().unwrap()
}

fn iron_percent(lot: &Lot) -> f64 {
    let c: Composition = lot.composition(grams(100.0)).unwrap();
    c.iron().in_moles() * molar_mass("Fe").unwrap().in_grams_per_mole()
}

fn near(what: &str, got: f64, expected: f64, half_digit: f64) {
    assert!(
        (got - expected).abs() <= half_digit,
        "{what}: {got} against {expected} ± {half_digit}"
    );
}

const CRYSTALS: &str = "iron_ii_sulfate_heptahydrate";
const DRIED: &str = "iron_ii_sulfate_monohydrate";
const ANHYDROUS: &str = "iron_ii_sulfate_anhydrous";

/// Iron by mass, computed from the IUPAC 2021 weights, printed to 0.01 %.
#[test]
fn iron_content() {
    for (id, expected) in [
        (CRYSTALS, 20.09),
        ("iron_ii_sulfate_tetrahydrate", 24.94),
        (DRIED, 32.87),
        (ANHYDROUS, 36.76),
        ("ammonium_iron_ii_sulfate_hexahydrate", 14.24),
        ("iron_ii_chloride_tetrahydrate", 28.09),
    ] {
        near(id, iron_percent(&pure(id)), expected, 0.005);
    }
    // Fe(OH)SO4, the brown crust.
    let crust = weathered([0.0, 0.0, 0.0, 1.0]);
    near("basic sulfate", iron_percent(&crust), 33.06, 0.005);
    assert_eq!(crust.composition(grams(1.0)).unwrap().iron_ii().value, 0.0);
}

/// A weathered bag: Fe % = Σ w_i Fe_i with 20.09, 24.94, 32.87 and 33.06 %;
/// the four figures are rounded to 0.005.
#[test]
fn weathered_vitriol_is_the_sum_of_its_solids() {
    for parts in [
        [1.0, 0.0, 0.0, 0.0],
        [0.0, 1.0, 0.0, 0.0],
        [0.0, 0.0, 1.0, 0.0],
        [0.5, 0.3, 0.15, 0.05],
        [0.7, 0.2, 0.1, 0.0],
        [0.1, 0.4, 0.3, 0.2],
    ] {
        let [h, t, m, b] = parts;
        let expected = 20.09 * h + 24.94 * t + 32.87 * m + 33.06 * b;
        let lot = weathered(parts);
        near("weathered", iron_percent(&lot), expected, 0.005);
        let c = lot.composition(grams(100.0)).unwrap();
        let ferric = c.iron_iii().in_moles() * 55.845;
        near("iron(III)", ferric, 33.06 * b, 0.005);
    }
    // By weight, wholly dried crystals overdose the iron by up to 1.64.
    let factor = iron_percent(&weathered([0.0, 0.0, 1.0, 0.0])) / iron_percent(&pure(CRYSTALS));
    near("overdose", factor, 1.64, 0.005);
}

/// The commonest costly error: dried or anhydrous salt weighed as crystals is
/// 63.6 % or 83.0 % too much iron; the right masses are 0.611 and 0.546 times.
/// (A published "about 35 % too much" mistakes the saving of mass for it.)
#[test]
fn swaps_between_hydrates() {
    for (id, overdose, mass) in [(DRIED, 1.636, 0.611), (ANHYDROUS, 1.830, 0.546)] {
        let (crystals, other) = (pure(CRYSTALS), pure(id));
        let there = Swap::new(&crystals, &other, Equal::IronII);
        near(id, there.of(grams(1.0)).unwrap().factor, mass, 5e-4);
        let back = Swap::new(&other, &crystals, Equal::IronII);
        near(id, back.of(grams(1.0)).unwrap().factor, overdose, 5e-4);
        near(
            id,
            1.0 - mass,
            if id == DRIED { 0.389 } else { 0.454 },
            5e-4,
        );
    }
}

/// Green vitriol that dissolves in 100 g of added water: 61.5 g at 20 °C and
/// 71.6 g at 25 °C, from the CRC solubility (20.8 and 22.8 % FeSO4). The crate
/// mixes them and finds the solution just saturated.
#[test]
fn green_vitriol_in_a_hundred_grams_of_water() {
    let curve = solubility("FeSO4").unwrap();
    let share = molar_mass("FeSO4").unwrap() / molar_mass("FeSO4·7H2O").unwrap();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    for (t, expected) in [(20.0, 61.5), (25.0, 71.6)] {
        let w = curve.saturated(celsius(t)).unwrap().value();
        let x = 100.0 * w / (share.value - w);
        near("vitriol", x, expected, 0.05);
        let mix = pure(CRYSTALS)
            .composition(grams(x))
            .unwrap()
            .mixed_with(&water.composition(grams(100.0)).unwrap());
        let salt = mix.iron_ii().in_moles() * molar_mass("FeSO4").unwrap().in_grams_per_mole();
        near("saturated", salt / mix.mass().in_grams(), w, 1e-12);
    }
}

/// The same handbook's other table, mol FeSO4 per kg of water. The mass %
/// table prints 0.1 %, which is 0.25 to 0.35 % of the molality; 15 and 35 °C lie
/// between its points.
#[test]
fn molalities_of_the_handbook() {
    let curve = solubility("FeSO4").unwrap();
    let m = molar_mass("FeSO4").unwrap().in_grams_per_mole() / 1e3;
    for (t, expected) in [
        (10.0, 1.352),
        (15.0, 1.533),
        (20.0, 1.729),
        (25.0, 1.940),
        (30.0, 2.165),
        (35.0, 2.405),
    ] {
        let w = curve.saturated(celsius(t)).unwrap().value();
        let got = w / (1.0 - w) / m;
        let from_rounding = 0.0005 / (w * (1.0 - w)) * got + 0.0005;
        near(&format!("{t} °C"), got, expected, from_rounding);
    }
    // 22.8 % is 1.944 mol/kg.
    let w = curve.saturated(celsius(25.0)).unwrap().value();
    near("25 °C", w / (1.0 - w) / m, 1.944, 0.0005);
}
