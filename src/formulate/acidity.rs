//! A pH among the windows.

use super::FormulateError;
use super::make::NEAR_PH;
use super::posed::{Acidity, Point};
use super::rows::{Line, Rows};
use crate::composition::Composition;
use crate::equilibrium::{ConstantSet, Solver};
use crate::quantity::celsius;

/// A lot is added in this share of the ink's mass to see what it does.
const TOUCH: f64 = 1e-6;

/// Halvings of a step that leads away.
const HALVINGS: usize = 40;

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

    /// Where to make it linear next: the new point, or somewhere on the way
    /// to it that is nearer to the window than the last one. Without that a
    /// buffer would send the search to and fro.
    pub fn nearer(
        &mut self,
        rows: &Rows,
        last: Option<&Point>,
        new: &Point,
    ) -> Result<Point, FormulateError> {
        let new_far = self.missed(&rows.ink(&new.kg, new.volume))?.abs();
        let water = Point {
            kg: vec![0.0; new.kg.len()],
            ..new.clone()
        };
        let last = match last {
            Some(last) => last,
            // What has no pH comes nearer to water until it has one.
            None if new_far == f64::INFINITY => &water,
            None => return Ok(new.clone()),
        };
        let far = match last == &water {
            true => f64::INFINITY,
            false => self.missed(&rows.ink(&last.kg, last.volume))?.abs(),
        };
        let mut next = new.clone();
        // From a point that is in, another one is as good a start.
        let halvings = match far == 0.0 && new_far.is_finite() {
            true => 0,
            false => HALVINGS,
        };
        for _ in 0..halvings {
            let near = self.missed(&rows.ink(&next.kg, next.volume))?.abs();
            if near < far || near == 0.0 || (far == 0.0 && near.is_finite()) {
                break;
            }
            for (x, from) in next.kg.iter_mut().zip(&last.kg) {
                *x = 0.5 * (*x + from);
            }
            next.volume = 0.5 * (next.volume + last.volume);
        }
        Ok(next)
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
