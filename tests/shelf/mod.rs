//! Random lots for the property tests.
// Each test file uses its own part of this.
#![allow(dead_code)]

use ferrogall::bench::{HydrateMix, IronInAcid, Lot, Usability, iron_salts};
use ferrogall::quantity::*;
use proptest::prelude::*;

pub fn config() -> ProptestConfig {
    ProptestConfig {
        cases: 256,
        max_global_rejects: 20_000,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

pub fn close(got: f64, expected: f64) -> bool {
    (got - expected).abs() <= 1e-12 * got.abs().max(expected.abs())
}

pub fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

pub fn hard_water() -> impl Strategy<Value = Lot> {
    (0.0..400.0_f64, 0.0..400.0_f64).prop_map(|(alkalinity, hardness)| {
        let lot = Lot::of("hard_tap_water").unwrap();
        let lot = lot.alkalinity(grams_per_liter(alkalinity / 1e3)).unwrap();
        let lot = lot.hardness(grams_per_liter(hardness / 1e3)).unwrap();
        lot.build().unwrap()
    })
}

/// Any usable iron(II) salt, of some purity and partly oxidised.
pub fn salt() -> impl Strategy<Value = Lot> {
    let usable: Vec<&str> = iron_salts()
        .iter()
        .filter(|s| s.usability == Usability::Yes)
        .map(|s| s.id)
        .collect();
    assert!(usable.len() >= 8);
    (
        prop::sample::select(usable),
        0.8..1.0_f64,
        0.0..0.2_f64,
        0.0..1.0_f64,
    )
        .prop_map(|(id, purity, oxidised, wet)| {
            let lot = Lot::of(id).unwrap().named("iron");
            let lot = lot.purity(purity, 0.01).unwrap();
            let lot = lot.moisture(wet * (1.0 - purity), 0.0).unwrap();
            lot.oxidised(oxidised, 0.01).unwrap().build().unwrap()
        })
}

pub fn weathered() -> impl Strategy<Value = Lot> {
    (0.1..1.0_f64, 0.0..1.0_f64, 0.0..1.0_f64, 0.0..0.2_f64).prop_map(|(h, t, m, b)| {
        let sum = h + t + m + b;
        let mix = HydrateMix::new(h / sum, t / sum, m / sum, b / sum).unwrap();
        let lot = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
        lot.named("iron").hydrates(mix).unwrap().build().unwrap()
    })
}

/// Wool in acid; some acid is left over, or some metal.
pub fn home_made() -> impl Strategy<Value = Lot> {
    (2.0..20.0_f64, 0.0..1.0_f64).prop_map(|(iron, done)| {
        let acid = lot("hydrochloric_acid");
        let wool = IronInAcid::new(grams(iron), &acid, grams(50.0));
        let wool = wool.dissolved(Share::new(0.3 + 0.7 * done).unwrap());
        wool.react().unwrap().lot
    })
}

pub fn iron() -> impl Strategy<Value = Lot> {
    prop_oneof![4 => salt(), 2 => weathered(), 1 => home_made()]
}

pub fn tannic_acid() -> impl Strategy<Value = Lot> {
    (
        0.6..0.88_f64,
        0.0..0.04_f64,
        0.08..0.08001_f64,
        4.0..5.9_f64,
    )
        .prop_map(|(tannin, gallic, moisture, galloyl)| {
            let lot = Lot::of("tannic_acid").unwrap().named("tannin");
            let lot = lot.tannin(tannin, 0.02).unwrap();
            let lot = lot.gallic_acid(gallic, 0.0).unwrap();
            let lot = lot.moisture(moisture, 0.0).unwrap();
            let none = moles_per_kilogram(0.0);
            let lot = lot.galloyl(moles_per_kilogram(galloyl), none).unwrap();
            lot.build().unwrap()
        })
}

pub fn plant() -> impl Strategy<Value = Lot> {
    let plants = vec!["aleppo_galls", "chinese_galls", "sumac_leaf", "tara_pods"];
    (prop::sample::select(plants), 0.15..0.75_f64, 0.0..0.05_f64).prop_map(
        |(id, tannin, gallic)| {
            let lot = Lot::of(id).unwrap().named("tannin");
            let lot = lot.tannin(tannin, 0.05).unwrap();
            lot.gallic_acid(gallic, 0.01).unwrap().build().unwrap()
        },
    )
}
