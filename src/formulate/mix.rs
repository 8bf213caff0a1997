//! Stock solutions poured together to a composition.

use super::nonnegative::nonnegative_least_squares;
use super::pots::{self, Portioned, Pot};
use super::wanted::Per;
use super::{FormulateError, Goal, Soak, Wanted};
use crate::bench::Lot;
use crate::composition::Composition;
use crate::quantity::{Mass, ReadVolume, Volume, kilograms};
use crate::recipe::{Amount, Recipe, RecipeError, must_go_in_whole, must_pour};

/// Stocks poured together.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{mix, Wanted};
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Recipe, Solution};
///
/// let water = Lot::of("distilled_water")?.build()?;
/// let stock = |id: &str, g: f64| -> Result<Lot, Box<dyn std::error::Error>> {
///     let lot = Lot::of(id)?.build()?;
///     let made = Recipe::new(id)
///         .with(Solution::new(id).add(&lot, grams(g)))
///         .make_up(&water, milliliters(100.0));
///     Ok(made.evaluate()?.to_lot(format!("{id} stock"))?)
/// };
/// let (iron, tannin) = (stock("iron_ii_sulfate_heptahydrate", 6.0)?, stock("tannic_acid", 5.0)?);
/// let wanted = Wanted::new(milliliters(30.0))?
///     .iron_ii(moles_per_liter(0.054))?
///     .galloyl(moles_per_liter(0.089))?;
/// let mixed = mix(&[&iron, &tannin], &water, &wanted)?;
/// assert!(mixed.residual < 1e-12);
/// assert!((mixed.pours[0].1.in_milliliters() - 7.5).abs() < 0.1); // no tenths of a gram
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Mixed {
    /// The recipe, made up with water.
    pub recipe: Recipe,
    /// Name and volume of each stock, in the order given.
    pub pours: Vec<(String, Volume)>,
    /// Mass of each stock.
    pub masses: Vec<Mass>,
    /// What is left: the root of the sum of squares of the relative misses.
    pub residual: f64,
}

/// Volumes of stock solutions that come nearest to what is wanted, in the
/// sense of least squares of the relative misses; none is below nothing. A
/// window counts by its middle, an open one by its end.
///
/// Stock solutions are the cure for a balance that is too rough for a small
/// bottle: tenths of a gram become millilitres. Water makes up the rest.
///
/// # Errors
/// [`FormulateError::NoLotFor`] for a pH, which is not linear in the amounts
/// (dose the acid with [`Solver::dose_for_ph`](crate::equilibrium::Solver::dose_for_ph));
/// [`RecipeError::TooMuchForVolume`] when the stocks are too weak to fit the
/// volume; [`RecipeError::NotALiquid`] for a solid.
pub fn mix(stocks: &[&Lot], water: &Lot, wanted: &Wanted) -> Result<Mixed, FormulateError> {
    must_pour(water)?;
    for stock in stocks {
        must_go_in_whole(stock)?;
        if !stock.is_liquid() {
            return Err(RecipeError::NotALiquid {
                lot: stock.name().to_string(),
            }
            .into());
        }
    }
    let volume = wanted.volume();
    let per_kg = water.contents(kilograms(1.0));
    let displaced = per_kg.times(1.0 / per_kg.volume().value);
    let mut rows: Vec<(Vec<f64>, f64)> = Vec::new();
    for goal in Goal::ALL {
        let Some((low, high)) = wanted.in_si(goal) else {
            continue;
        };
        let middle = match (low.is_finite(), high.is_finite()) {
            (true, true) => 0.5 * (low + high),
            (true, false) => low,
            _ => high,
        };
        // What the water would bring stands against what the stock does.
        let net = |sum: &dyn Fn(&Composition) -> f64, lot: &Lot| {
            let held = lot.contents(kilograms(1.0));
            sum(&held) - held.volume().value * sum(&displaced)
        };
        let (sum, still, whole): (Box<dyn Fn(&Composition) -> f64>, f64, f64) = match goal.per() {
            Per::Nothing => {
                return Err(FormulateError::NoLotFor {
                    target: goal.name(),
                });
            }
            Per::Volume => {
                let still = goal.above_line(&displaced) * volume.value;
                let whole = (middle * volume.value).abs();
                let whole = if whole > 0.0 {
                    whole
                } else {
                    goal.little() * volume.value
                };
                let sum = move |c: &Composition| goal.above_line(c);
                (Box::new(sum), middle * volume.value - still, whole)
            }
            Per::Galloyl => {
                let sum = move |c: &Composition| goal.above_line(c) - middle * goal.below_line(c);
                // As large as 50 mmol/L of galloyl makes it.
                let whole = if middle > 0.0 { middle } else { 1.0 } * 50.0 * volume.value;
                let still = sum(&displaced) * volume.value;
                (Box::new(sum), -still, whole)
            }
        };
        let row = stocks.iter().map(|lot| net(&sum, lot) / whole).collect();
        rows.push((row, still / whole));
    }
    let columns: Vec<Vec<f64>> = (0..stocks.len())
        .map(|j| {
            rows.iter()
                .filter_map(|(row, _)| row.get(j).copied())
                .collect()
        })
        .collect();
    let columns: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
    let target: Vec<f64> = rows.iter().map(|(_, t)| *t).collect();
    let best = nonnegative_least_squares(&columns, &target)?;

    let masses: Vec<Mass> = best.amounts.iter().map(|kg| kilograms(*kg)).collect();
    let filled: f64 = stocks
        .iter()
        .zip(&masses)
        .map(|(lot, m)| lot.contents(*m).volume().value)
        .sum();
    if filled > volume.value * (1.0 + 1e-9) {
        return Err(RecipeError::TooMuchForVolume {
            solution: "the stocks".into(),
            have_ml: filled * 1e6,
            want_ml: volume.in_milliliters(),
        }
        .into());
    }
    let rest = kilograms((volume.value - filled).max(0.0) / per_kg.volume().value);
    let lots = stocks.iter().zip(&masses).filter(|(_, m)| m.value > 0.0);
    let lots = lots.map(|(lot, mass)| Portioned {
        lot,
        amount: lot
            .density()
            .map_or(Amount::Mass(*mass), |d| Amount::Volume(*mass / d)),
        mass: *mass,
        pot: Pot::of(lot),
    });
    let title = format!("{} mL of ink", super::blend::short(volume.in_milliliters()));
    let recipe = pots::recipe(title, lots, &Soak::default(), water, rest, volume)?;
    let pours = stocks.iter().zip(&masses).map(|(lot, mass)| {
        let poured = lot
            .density()
            .map_or_else(|| lot.contents(*mass).volume(), |density| *mass / density);
        (lot.name().to_string(), poured)
    });
    Ok(Mixed {
        recipe,
        pours: pours.collect(),
        masses,
        residual: best.residual,
    })
}
