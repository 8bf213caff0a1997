//! The smallest batch that can honestly be weighed, and stock solutions below it.

use super::{Kit, Line, LineKind, Measure, Recipe, RecipeError};
use crate::bench::{Lot, Material, TanninClass};
use crate::quantity::{Mass, Volume, milliliters, within};

/// The smallest batch that can honestly be weighed.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{smallest_batch, Kit, Recipe, Solution};
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("iron water")
///     .with(Solution::new("iron").add(&vitriol, grams(0.45)))
///     .make_up(&water, milliliters(30.0));
/// let kit = Kit::new(grams(0.1), milliliters(0.2));
/// let smallest = smallest_batch(&recipe, &kit, 20.0)?;
/// assert!((smallest.volume.in_milliliters() - 133.3).abs() < 0.1); // 2 g at least
/// assert_eq!(smallest.stocks.len(), 1); // or a stock solution
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SmallestBatch {
    /// Its volume.
    pub volume: Volume,
    /// Times the recipe as given.
    pub factor: f64,
    /// The lot whose weighing sets it.
    pub limited_by: String,
    /// For the recipe as given: a stock solution for each weighing that is too
    /// small, where one dissolves and fits.
    pub stocks: Vec<StockAdvice>,
}

/// Weigh more, dissolve, and measure a part of it.
///
/// ```
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::StockAdvice;
/// let advice = StockAdvice {
///     lot: "phenol".into(),
///     weigh: grams(2.0),
///     dissolve_to: milliliters(100.0),
///     take: milliliters(5.0),
///     into_water: false,
/// };
/// assert_eq!(
///     advice.to_string(),
///     "dissolve 2.00 g of phenol, make up to 100 mL, take 5.0 mL of it and that much less water"
/// );
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct StockAdvice {
    /// Name of the lot.
    pub lot: String,
    /// Mass to weigh.
    pub weigh: Mass,
    /// Volume to make the stock up to.
    pub dissolve_to: Volume,
    /// Volume of stock to take for this batch.
    pub take: Volume,
    /// Whether it is an acid or a base, which goes into most of the water, slowly.
    pub into_water: bool,
}

impl core::fmt::Display for StockAdvice {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let (grams, ml) = (self.weigh.value * 1e3, self.dissolve_to.value * 1e6);
        if self.into_water {
            write!(
                f,
                "goggles on, pour {grams:.2} g of {} slowly into about {:.0} mL of water, make up to {ml:.0} mL",
                self.lot,
                0.75 * ml
            )?;
        } else {
            write!(
                f,
                "dissolve {grams:.2} g of {}, make up to {ml:.0} mL",
                self.lot
            )?;
        }
        let take = self.take.value * 1e6;
        write!(f, ", take {take:.1} mL of it and that much less water")
    }
}

/// kg/m³ of a lot that a stock solution may hold: what the catalogue knows, or
/// 200 g/L, which salts, gums and acids bear.
fn stock_limit(lot: &Lot) -> f64 {
    match lot.material() {
        Some(Material::Preservative(p)) => p.solubility_g_per_l.unwrap_or(1.0),
        // 12.6 g/L of the hydrate at 25.6 °C (J. Chem. Eng. Data 2010, 55, 3101).
        Some(Material::TanninSource(t)) if t.class == TanninClass::Pure => 12.0,
        _ => 200.0,
    }
}

impl StockAdvice {
    /// A stock that holds `multiple` batches' worth of a line and dissolves,
    /// if it does not fill more than a third of the ink.
    fn of(line: &Line, multiple: f64, least: Volume, ink: Volume) -> Option<StockAdvice> {
        let needed = 1.1 * line.mass.value / stock_limit(line.lot);
        let take = Volume::new::<uom::si::volume::cubic_meter>(needed.max(least.value));
        if take * 3.0 > ink {
            return None;
        }
        Some(StockAdvice {
            lot: line.lot.name().to_string(),
            weigh: line.mass * multiple,
            dissolve_to: take * multiple,
            take,
            into_water: matches!(line.lot.material(), Some(Material::Acid(_))),
        })
    }
}

/// The smallest batch of a recipe in which every amount is at least `steps`
/// steps of its tool (twenty is customary: an error of 2.5 % at most).
///
/// Water does not count, a few millilitres more or less of it only dilute;
/// nor do spoons and drops, whose error lies elsewhere.
///
/// # Errors
/// As [`Recipe::rounded`]; [`RecipeError::OutOfRange`] unless `steps` is from 1 to 1e6.
pub fn smallest_batch(
    recipe: &Recipe,
    kit: &Kit,
    steps: f64,
) -> Result<SmallestBatch, RecipeError> {
    let steps = within("steps", steps, 1.0, 1e6, "")?;
    let evaluation = recipe.evaluate()?;
    let take_step = match kit.liquids {
        Measure::Cylinder { step } => {
            within("step of volume", step.value, 1e-12, 1.0, "m3")?;
            step
        }
        _ => milliliters(1.0),
    };
    let mut out = SmallestBatch {
        volume: evaluation.composition.volume(),
        factor: 0.0,
        limited_by: String::new(),
        stocks: Vec::new(),
    };
    let weighed = |l: &&Line| l.counts_for_smallness() && !kit.tool(l.lot).is_rough();
    for line in evaluation.lines.iter().filter(weighed) {
        let has = kit.steps(line.lot, line.mass)?;
        if has <= 0.0 {
            continue;
        }
        let factor = within("scale of the smallest batch", steps / has, 0.0, 1e9, "")?;
        if factor > out.factor {
            out.factor = factor;
            out.limited_by = line.lot.name().to_string();
        }
        let powder_or_acid = line.kind == LineKind::Ingredient
            && (!line.lot.is_liquid() || matches!(line.lot.material(), Some(Material::Acid(_))));
        if factor > 1.0 && powder_or_acid {
            let ink = evaluation.composition.volume();
            let stock = StockAdvice::of(line, factor.ceil(), take_step * steps, ink);
            // All stocks together must leave room for the rest of the ink.
            let taken: f64 = out.stocks.iter().map(|s| s.take.value).sum();
            out.stocks
                .extend(stock.filter(|s| 2.0 * (taken + s.take.value) <= ink.value));
        }
    }
    out.volume *= out.factor;
    Ok(out)
}
