//! The workshop of [`Room`](super::room::Room), made in Rust.

use super::room::init;
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::quantity::*;
use ferrogall::recipe::{Kit, Measure, Recipe, Solution};

/// The lots and the recipe of [`Room`], made in Rust.
pub fn twin() -> Recipe {
    twin_with(None)
}

/// The same with something more in it.
pub fn twin_with(more: Option<(&Lot, f64)>) -> Recipe {
    let lot = |id, name| Lot::of(id).unwrap().named(name);
    let vitriol = lot("iron_ii_sulfate_heptahydrate", "vitriol");
    let vitriol = vitriol.build().unwrap();
    let tannin = lot("tannic_acid", "tannic acid").tannin(0.88, 0.0);
    let tannin = tannin.unwrap().build().unwrap();
    let water = lot("distilled_water", "water").build().unwrap();
    let mut ink = Solution::new("ink")
        .add(&vitriol, grams(15.0))
        .add(&tannin, grams(12.0));
    if let Some((lot, g)) = more {
        ink = ink.add(lot, grams(g));
    }
    let recipe = Recipe::new("ink").with(ink);
    recipe.make_up(&water, milliliters(1000.0))
}

pub fn c_kit(tools: &[FgallTool]) -> FgallKit {
    FgallKit {
        balance_step_g: 2.0,
        cylinder_step_ml: 5.0,
        tools: tools.as_ptr(),
        tool_count: tools.len(),
        ..init()
    }
}

pub const SCOOP: FgallTool = FgallTool {
    lot_name: c"vitriol".as_ptr(),
    kind: FGALL_TOOL_BALANCE,
    step_g: 0.7,
    step_ml: f64::NAN,
};

pub fn kit() -> Kit {
    let finer = Measure::Balance { step: grams(0.7) };
    Kit::new(grams(2.0), milliliters(5.0)).with("vitriol", finer)
}
