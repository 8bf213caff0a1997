//! Stock solutions poured together to a composition.

use super::make::Search;
use super::nonnegative::nonnegative_least_squares;
use super::posed::{Batch, Point};
use super::rows::Line;
use super::{Blend, FormulateError, Goal, Objective, Shelf, Wanted};
use crate::quantity::ReadVolume;
use crate::recipe::RecipeError;

/// Stocks poured together.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Shelf, Wanted};
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
/// let shelf = Shelf::new(&water)
///     .with(&stock("iron_ii_sulfate_heptahydrate", 6.0)?)
///     .with(&stock("tannic_acid", 5.0)?);
/// let wanted = Wanted::new(milliliters(30.0))?
///     .iron_ii(moles_per_liter(0.054))?
///     .galloyl(moles_per_liter(0.089))?;
/// let mixed = shelf.mix(&wanted)?;
/// assert!(mixed.residual < 1e-12);
/// let iron = &mixed.blend.taken[0];
/// assert!((iron.volume.unwrap().in_milliliters() - 7.5).abs() < 0.1); // no tenths of a gram
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Mixed {
    /// The ink.
    pub blend: Blend,
    /// What is left: the root of the sum of squares of the relative misses.
    pub residual: f64,
}

/// Galloyl (mol/m³) at which a proportion's miss counts as a concentration's.
const USUAL_GALLOYL: f64 = 50.0;

impl Shelf {
    /// Volumes of the stock solutions on a shelf that come nearest to what is
    /// wanted, in the sense of least squares of the relative misses; none is
    /// below nothing. A window counts by its middle, an open one by its end;
    /// what is on hand, prices, assurance and tools do not count.
    ///
    /// Stock solutions are the cure for a balance that is too rough for a
    /// small bottle: tenths of a gram become millilitres. Water makes up the
    /// rest.
    ///
    /// # Errors
    /// [`FormulateError::NotLinear`] for a pH (dose the acid with
    /// [`Solver::dose_for_ph`](crate::equilibrium::Solver::dose_for_ph));
    /// [`RecipeError::TooMuchForVolume`] when the stocks are too weak to fit
    /// the volume; [`RecipeError::NotALiquid`] for a solid.
    pub fn mix(&self, wanted: &Wanted) -> Result<Mixed, FormulateError> {
        if let Some(solid) = self.stocks.iter().find(|s| !s.lot.is_liquid()) {
            return Err(RecipeError::NotALiquid {
                lot: solid.lot.name().to_string(),
            }
            .into());
        }
        let by_volume = Shelf {
            kit: None,
            ..self.clone()
        };
        let volume = wanted.volume().value;
        let batch = Batch::Exactly(volume);
        let mut search = Search::of(&by_volume, wanted, Objective::Closest, batch)?;
        let rows = &search.rows;
        // Each row: the sum of the stocks that should come to a target.
        let mut sums: Vec<(Line, f64)> = Vec::new();
        for goal in Goal::ALL {
            let Some((low, high)) = wanted.in_si(goal) else {
                continue;
            };
            if goal == Goal::Ph {
                return Err(FormulateError::NotLinear { goal: goal.name() });
            }
            let middle = match (low.is_finite(), high.is_finite()) {
                (true, true) => 0.5 * (low + high),
                (true, false) => low,
                _ => high,
            };
            let (above, below) = rows.goal(goal);
            let whole = if middle == 0.0 {
                goal.little()
            } else {
                middle.abs()
            };
            let usual = match goal.unit() {
                "mol/mol" | "" => USUAL_GALLOYL,
                _ => 1.0,
            };
            sums.push((above.less(middle, &below), whole * usual * volume));
        }
        let columns: Vec<Vec<f64>> = (0..rows.columns.len())
            .map(|j| {
                let entries = sums.iter();
                let entries = entries.map(|(line, whole)| Some(line.per_kg.get(j)? / whole));
                entries.flatten().collect()
            })
            .collect();
        let columns: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
        let target: Vec<f64> = sums
            .iter()
            .map(|(line, whole)| -line.per_volume * volume / whole)
            .collect();
        let best = nonnegative_least_squares(&columns, &target)?;

        let each = rows.columns.iter().zip(&best.amounts);
        let filled: f64 = each.map(|(c, kg)| kg * c.brings.volume().value).sum();
        if filled > volume * (1.0 + 1e-9) {
            return Err(RecipeError::TooMuchForVolume {
                solution: "the stocks".into(),
                have_ml: filled * 1e6,
                want_ml: wanted.volume().in_milliliters(),
            }
            .into());
        }
        let none = vec![0.0; best.amounts.len()];
        let point = Point {
            kg: best.amounts,
            steps: none.clone(),
            packs: none,
            volume,
        };
        Ok(Mixed {
            blend: search.blend(&point)?,
            residual: best.residual,
        })
    }
}
