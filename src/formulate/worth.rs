//! How good an answer is, beside another.

use super::make::Search;
use super::posed::{Batch, Point};
use super::{FormulateError, Objective, sure};

/// What counts as better, relative.
const BETTER: f64 = 1e-9;
/// What is not worth another round, relative: what a pH is kept to.
const LITTLE: f64 = 1e-6;
/// What one miss, or one pH, is worth in whole batches while a search is under
/// way; at its end misses come first.
const PRICE_OF_MISSES: f64 = 1.0;

/// What an answer misses, and what it is worth where that is the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Worth {
    /// Sum of relative misses, of pH in pH.
    missed: f64,
    /// What is to be least.
    best: f64,
    cost: f64,
    /// Later names count more.
    rank: f64,
}

impl Worth {
    pub fn meets_all(&self) -> bool {
        self.missed == 0.0
    }

    /// Whether its pH can be reckoned.
    pub fn is_known(&self) -> bool {
        self.missed.is_finite()
    }

    /// Whether it misses less, or else is better at what is asked for, then
    /// cheaper, then of earlier names.
    pub fn beats(&self, other: &Worth) -> bool {
        is_less(
            [self.missed, self.best, self.cost, self.rank],
            [other.missed, other.best, other.cost, other.rank],
        )
    }

    /// Whether hardly anything is to be gained by going there from another that
    /// has everything.
    pub fn gains_little_on(&self, other: &Worth) -> bool {
        let little = |here: f64, there: f64| there - here <= LITTLE * there.abs().max(here.abs());
        let best = little(self.best, other.best);
        // Nothing is to be least but misses: there are none.
        let nothing = self.best == 0.0 && other.best == 0.0;
        other.meets_all() && best && (nothing || little(self.cost, other.cost))
    }

    /// Whether a search that stands at another does well to go here: to miss
    /// less by half, or to be better for a little missed that may be made good
    /// again.
    pub fn leads_on_from(&self, other: &Worth) -> bool {
        let whole = self.best.abs().max(other.best.abs());
        let whole = whole.max(f64::MIN_POSITIVE);
        let price = |w: &Worth| w.best / whole + PRICE_OF_MISSES * w.missed;
        let better = is_less(
            [price(self), self.cost, self.rank],
            [price(other), other.cost, other.rank],
        );
        better || self.missed < 0.5 * other.missed
    }
}

/// Whether the first figure that differs is less.
fn is_less<const N: usize>(a: [f64; N], b: [f64; N]) -> bool {
    let mut pairs = a.iter().zip(&b);
    let differs = pairs.find(|(a, b)| (*a - *b).abs() > BETTER * a.abs().max(b.abs()));
    differs.is_some_and(|(a, b)| a < b)
}

impl Search<'_> {
    /// By the rows alone; the recipe says the same to rounding.
    pub fn worth(&mut self, point: &Point) -> Result<Worth, FormulateError> {
        let (mut cost, mut waste, mut rank, mut weighings) = (0.0, 0.0, 0.0, 0.0);
        for (j, column, kg) in self.rows.used(point) {
            let due = column.due(kg);
            cost += due.cost;
            waste += due.waste;
            rank += (j + 1) as f64 * kg;
            weighings += 1.0;
        }
        let ink = self.rows.ink(&point.kg, point.volume);
        let missed = match self.figures(&ink, point, cost) {
            Ok(figures) => figures.iter().map(|f| f.miss.abs()).sum(),
            // Too strong to have a pH that can be reckoned.
            Err(FormulateError::Equilibrium(_)) => f64::INFINITY,
            Err(other) => return Err(other),
        };
        let best = match (&self.batch, &self.objective) {
            (Batch::Most, _) => -point.volume,
            (_, Objective::Closest) => 0.0,
            (_, Objective::LeastCost) => cost,
            (_, Objective::FewestWeighings) => weighings,
            (_, Objective::LeastWaste) => waste,
            (_, Objective::Surest(criterion)) => -sure::index(&self.rows, criterion, point),
        };
        Ok(Worth {
            missed,
            best,
            cost,
            rank,
        })
    }

    /// The best of several points; of equals the first.
    pub fn best_of(
        &mut self,
        points: impl IntoIterator<Item = Point>,
    ) -> Result<Option<Point>, FormulateError> {
        let mut best: Option<(Worth, Point)> = None;
        for point in points {
            let worth = self.worth(&point)?;
            if best.as_ref().is_none_or(|(least, _)| worth.beats(least)) {
                best = Some((worth, point));
            }
        }
        Ok(best.map(|(_, point)| point))
    }
}
