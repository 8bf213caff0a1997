//! The shelves that are timed: by themselves (`shelf`) and against SciPy
//! (`shelf_speed`).

use ferrogall::bench::Lot;
use ferrogall::formulate::{Shelf, Stock, Wanted};
use ferrogall::quantity::*;
use ferrogall::recipe::Kit;

fn lot(id: &str, name: &str, money: f64) -> Lot {
    let price = Price::per_kilogram(money).expect("a price");
    let lot = Lot::of(id).expect("a material").named(name).price(price);
    lot.build().expect("a lot")
}

/// Twelve lots, most of them with little left.
pub fn shelf() -> Shelf {
    let some = |id: &str, name: &str, money: f64, g: f64| {
        Stock::of(&lot(id, name, money))
            .on_hand(grams(g))
            .expect("a mass")
    };
    Shelf::new(&lot("distilled_water", "water", 0.0))
        .with(some(
            "iron_ii_sulfate_heptahydrate",
            "green vitriol",
            22.0,
            6.0,
        ))
        .with(some(
            "iron_ii_sulfate_monohydrate",
            "dried vitriol",
            12.0,
            4.0,
        ))
        .with(some(
            "iron_ii_chloride_tetrahydrate",
            "iron chloride",
            180.0,
            25.0,
        ))
        .with(some("tannic_acid", "tannic acid", 104.0, 30.0))
        .with(some("aleppo_galls", "galls", 56.0, 120.0))
        .with(some("gallic_acid_monohydrate", "gallic acid", 190.0, 6.0))
        .with(some("gum_arabic", "gum arabic", 48.0, 80.0))
        .with(some("hydrochloric_acid", "hydrochloric acid", 5.0, 400.0))
        .with(some("tartaric_acid", "tartaric acid", 32.0, 60.0))
        .with(some("soluble_blue", "soluble blue", 640.0, 9.0))
        .with(some("phenol", "phenol", 210.0, 20.0))
        .with(some("salicylic_acid", "salicylic acid", 90.0, 50.0))
}

pub fn wanted() -> Wanted {
    let wanted = Wanted::new(milliliters(500.0)).and_then(|w| {
        w.iron(grams_per_liter(3.0)..=grams_per_liter(4.0))?
            .iron_ii_per_galloyl(0.55..=0.62)?
            .gallic_share(0.15..=0.4)?
            .strong_acid(moles_per_liter(0.02)..=moles_per_liter(0.04))?
            .gum(grams_per_liter(8.0)..=grams_per_liter(12.0))?
            .dye(grams_per_liter(3.0)..)?
            .preservative(grams_per_liter(0.8)..=grams_per_liter(1.2))
    });
    wanted.expect("windows")
}

pub fn to_a_ph() -> Wanted {
    let open = moles_per_liter(-10.0);
    let without = wanted().strong_acid(open..).expect("a window");
    without.ph(2.1).expect("a pH")
}

/// Thirty millilitres of four lots to whole tenths of a gram.
pub fn small() -> (Shelf, Wanted) {
    let shelf = Shelf::new(&lot("distilled_water", "water", 0.0))
        .with(&lot("iron_ii_sulfate_heptahydrate", "vitriol", 22.0))
        .with(&lot("tannic_acid", "tannic acid", 104.0))
        .with(&lot("gallic_acid_monohydrate", "gallic acid", 190.0))
        .with(&lot("gum_arabic", "gum", 48.0))
        .measured_with(&Kit::new(grams(0.1), milliliters(0.1)));
    let wanted = Wanted::new(milliliters(30.0)).and_then(|w| {
        w.iron_ii(moles_per_liter(0.055))?
            .galloyl(moles_per_liter(0.062))?
            .gallic_acid(moles_per_liter(0.020))?
            .gum(grams_per_liter(10.0))
    });
    (shelf, wanted.expect("windows"))
}
