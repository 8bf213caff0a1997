//! A pH among the windows.

use super::FormulateError;
use super::posed::{Acidity, Point};
use super::rows::{Line, Rows};
use crate::composition::Composition;
use crate::equilibrium::{ConstantSet, Solver};
use crate::quantity::celsius;

/// A lot is added in this share of the ink's mass to see what it does.
const TOUCH: f64 = 1e-6;

/// How near to an end of the window counts as in it.
const NEAR_PH: f64 = 1e-6;

/// The pH that is wanted, and the means to reckon it: the reviewed constants
/// at 20 °C.
pub(super) struct Meter {
    solver: Solver,
    low: f64,
    high: f64,
}

impl Meter {
    pub fn new((low, high): (f64, f64)) -> Result<Meter, FormulateError> {
        Ok(Meter {
            solver: Solver::new(ConstantSet::reviewed(), celsius(20.0))?,
            low,
            high,
        })
    }

    pub fn ph(&mut self, ink: &Composition) -> Result<f64, FormulateError> {
        Ok(self.solver.ph_of(ink)?)
    }

    /// How far the pH of an ink lies outside, in pH; 0 when it is in, infinite
    /// for what is too strong to have one that can be reckoned.
    pub fn missed(&mut self, ink: &Composition) -> Result<f64, FormulateError> {
        let ph = match self.ph(ink) {
            Ok(ph) => ph,
            Err(FormulateError::Equilibrium(_)) => return Ok(f64::INFINITY),
            Err(other) => return Err(other),
        };
        Ok(if ph < self.low - NEAR_PH {
            ph - self.low
        } else if ph > self.high + NEAR_PH {
            ph - self.high
        } else {
            0.0
        })
    }

    /// Hydrogen ions as a line through a point: they are nearly linear in the
    /// acid where pH is not, so that a few rounds settle it.
    pub fn about(&mut self, rows: &Rows, point: &Point) -> Result<Acidity, FormulateError> {
        // For a cubic metre, so that the line holds for any volume.
        let share = 1.0 / point.volume;
        let kg: Vec<f64> = point.kg.iter().map(|x| x * share).collect();
        let here = hydrogen(self.ph(&rows.ink(&kg, 1.0))?);
        let touch = TOUCH * rows.ink(&kg, 1.0).mass().value;
        let mut line = Line {
            per_kg: Vec::with_capacity(kg.len()),
            per_volume: here,
        };
        for (j, x) in kg.iter().enumerate() {
            let mut more = kg.clone();
            if let Some(slot) = more.get_mut(j) {
                *slot += touch;
            }
            let slope = (hydrogen(self.ph(&rows.ink(&more, 1.0))?) - here) / touch;
            line.per_kg.push(slope);
            line.per_volume -= slope * x;
        }
        Ok(Acidity {
            line,
            low: hydrogen(self.high),
            high: hydrogen(self.low),
        })
    }
}

/// Hydrogen ions less hydroxide ions: nearly linear in acid and base alike.
fn hydrogen(ph: f64) -> f64 {
    libm::exp10(-ph) - libm::exp10(ph - 14.0)
}
