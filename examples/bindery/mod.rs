//! The bindery of our own invention: a bookbinder's workshop that makes its
//! ledger ink from sumac leaf, half-weathered green vitriol and hard tap water.

use ferrogall::bench::{HydrateMix, Lot};
use ferrogall::formulate::{Choice, Soak, Targets};
use ferrogall::quantity::{Price, grams_per_liter, milliliters, moles_per_liter};
use ferrogall::recipe::Recipe;
use std::error::Error;

/// Half a litre of ledger ink from what is on the workshop's shelf.
pub fn ledger_ink() -> Result<Recipe, Box<dyn Error>> {
    // Half the crystals have a white bloom, a few are brown.
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?
        .named("half-weathered vitriol")
        .hydrates(HydrateMix::new(0.50, 0.35, 0.10, 0.05)?)?
        .price(Price::per_kilogram(6.0)?)
        .build()?;
    let leaf = Lot::of("sumac_leaf")?
        .named("sumac leaf")
        .price(Price::per_kilogram(14.0)?)
        .build()?;
    // From the yearly report of the water works.
    let tap = Lot::of("hard_tap_water")?
        .named("tap water")
        .alkalinity(grams_per_liter(0.250))?
        .hardness(grams_per_liter(0.310))?
        .build()?;
    let gum = Lot::of("gum_arabic")?
        .named("gum arabic")
        .price(Price::per_kilogram(38.0)?)
        .build()?;
    let acid = Lot::of("hydrochloric_acid")?
        .named("muriatic acid 20 °Bé")
        .price(Price::per_kilogram(5.0)?)
        .build()?;
    let salicylic = Lot::of("salicylic_acid")?
        .named("salicylic acid")
        .price(Price::per_kilogram(30.0)?)
        .build()?;

    // Ledgers are read in a hundred years: the iron of the federal writing
    // ink, and a little more tannin than it needs.
    let targets = Targets::new(milliliters(500.0), moles_per_liter(0.054), 0.55)?
        .gum(grams_per_liter(12.0))?
        .strong_acid(moles_per_liter(0.030))?
        .preservative(grams_per_liter(1.2))?;
    let formulated = Choice::new(&vitriol, &leaf, &tap)
        .soaked(
            Soak::default()
                .water_per_plant(9.0)?
                .holding_back(1.5)? // wrung out in a cloth
                .yielding(0.80, 0.08)?,
        )
        .gum(&gum)
        .acid(&acid)
        .preservative(&salicylic)
        .formulate(&targets)?;
    Ok(formulated.recipe)
}
