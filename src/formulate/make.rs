//! The best ink a shelf can give.

use super::blend::Blend;
use super::posed::{Batch, Point, Steps};
use super::program::ProgramError;
use super::rows::Rows;
use super::settle::Way;
use super::{FormulateError, Goal, Objective, Shelf, Wanted, acidity};

/// How often amounts in whole steps are sought again for the sake of the pH.
const ROUNDINGS: usize = 4;

/// One question put to one shelf.
pub(super) struct Search<'a> {
    pub rows: Rows<'a>,
    pub wanted: &'a Wanted,
    pub objective: Objective,
    pub batch: Batch,
    pub meter: Option<acidity::Meter>,
    /// Lots that may not be used for now.
    pub barred: Vec<usize>,
}

impl Shelf {
    /// The best ink of this kind the shelf can give; where not everything that
    /// is wanted can be had, the nearest: the one with the least sum of
    /// relative misses. [`Blend::meets_all`] tells which it is.
    ///
    /// With tools ([`Shelf::measured_with`]) amounts are whole steps. A figure
    /// that is wanted exactly is then hardly ever met to the last digit; the
    /// nearest is given, and says by how much it misses. A volume that may vary
    /// ([`Wanted::new`]) makes room for it: misses are weighed as for the middle
    /// of its window.
    ///
    /// An ink is at least half water here, 500 g/L.
    ///
    /// The amounts are those of a linear programme; a pH makes it a sequence
    /// of them, each with the hydrogen ions linear about the last. Where several
    /// acids can bring it, each by itself is a start of its own, and the best of
    /// what they lead to is given. The recipe is worked out again at the end and
    /// every figure read from it.
    ///
    /// # Errors
    /// [`FormulateError::NameTaken`] for two lots of one name,
    /// [`FormulateError::Program`] where the search comes to nothing, and what
    /// a lot or the recipe refuses.
    pub fn make(&self, wanted: &Wanted, objective: Objective) -> Result<Blend, FormulateError> {
        let mut search = Search::of(self, wanted, objective, Batch::of(wanted))?;
        let point = search.best()?;
        search.blend(&point)
    }
}

impl<'a> Search<'a> {
    pub fn of(
        shelf: &'a Shelf,
        wanted: &'a Wanted,
        objective: Objective,
        batch: Batch,
    ) -> Result<Search<'a>, FormulateError> {
        let meter = match wanted.in_si(Goal::Ph) {
            Some(window) => Some(acidity::Meter::new(window)?),
            None => None,
        };
        Ok(Search {
            rows: Rows::of(shelf)?,
            wanted,
            objective,
            batch,
            meter,
            barred: Vec::new(),
        })
    }

    /// The best point, or the nearest where nothing keeps every window.
    fn best(&mut self) -> Result<Point, FormulateError> {
        let whole = self.rows.shelf.kit.is_some();
        let strict = self.objective != Objective::Closest && !(whole && self.wants_exactly());
        let find = if whole {
            Self::whole
        } else {
            Self::of_any_size
        };
        if !strict {
            return find(self, true);
        }
        let kept = match find(self, false) {
            Ok(point) if self.worth(&point)?.meets_all() => return Ok(point),
            Ok(point) => Some(point),
            Err(FormulateError::Program(
                ProgramError::Infeasible | ProgramError::NotSolved { .. },
            )) => None,
            Err(e) => return Err(e),
        };
        let nearest = find(self, true)?;
        Ok(self
            .best_of(kept.into_iter().chain([nearest]))?
            .unwrap_or_default())
    }

    /// Whether a figure is wanted exactly, which whole steps hardly ever hit.
    fn wants_exactly(&self) -> bool {
        let windows = Goal::ALL.iter().filter_map(|g| self.wanted.in_si(*g));
        windows
            .into_iter()
            .any(|(low, high)| low == high && low != 0.0)
    }

    /// Amounts of any size.
    fn of_any_size(&mut self, elastic: bool) -> Result<Point, FormulateError> {
        let way = Way::new(Steps::Any, elastic);
        if self.meter.is_none() {
            return self.settle(way);
        }
        // What is best near by may not be the best: hydrogen ions of one acid
        // are worth less beside those of another. The best of several starts is
        // followed to its end.
        let starts = self.starts(way);
        let start = self.best_of(starts)?;
        let end = match &start {
            Some(start) => self.settle(way.from(start)),
            None => self.settle(way),
        };
        let end = match end {
            Err(e) if start.is_none() => return Err(e),
            other => other,
        };
        // A sequence that goes to and fro may lose what it started from.
        let best = self.best_of(end.into_iter().chain(start))?;
        let best = best.unwrap_or_default();
        if !elastic && !self.worth(&best)?.meets_all() {
            return Err(ProgramError::Infeasible.into());
        }
        match self.objective {
            Objective::FewestWeighings => self.with_fewer(best, way),
            _ => Ok(best),
        }
    }

    /// Inks of the pH that is wanted, to start from: the best near by, the best
    /// with one acid, the nearest; of what takes longer to find, the cheapest.
    fn starts(&mut self, way: Way) -> Vec<Point> {
        let own = self.objective;
        let mut starts = Vec::new();
        if matches!(own, Objective::Surest(_) | Objective::FewestWeighings) {
            self.objective = Objective::LeastCost;
            starts.extend(self.of_any_size(way.elastic));
        } else {
            starts.extend(self.settle(way));
            let acids = self.acids();
            let each = acids.iter().filter(|_| acids.len() > 1);
            for acid in each {
                self.barred = acids.iter().copied().filter(|j| j != acid).collect();
                starts.extend(self.settle(way));
            }
            self.barred.clear();
        }
        if own != Objective::Closest {
            self.objective = Objective::Closest;
            starts.extend(self.settle(Way::new(Steps::Any, true)));
        }
        self.objective = own;
        starts
    }

    /// The same with fewer lots, as far as each can be left out, and the
    /// cheapest of those that stay.
    fn with_fewer(&mut self, mut point: Point, way: Way) -> Result<Point, FormulateError> {
        let lots = self.rows.columns.len();
        loop {
            let used: Vec<usize> = self.rows.used(&point).map(|(j, ..)| j).collect();
            let unused = (0..lots).filter(|j| !used.contains(j));
            let unused: Vec<usize> = unused.collect();
            let leave_out = used.iter().rev().map(|j| Some(*j)).chain([None]);
            let mut tried = vec![point.clone()];
            self.objective = Objective::LeastCost;
            for one in leave_out {
                self.barred = unused.iter().copied().chain(one).collect();
                tried.extend(self.settle(way));
            }
            self.barred.clear();
            self.objective = Objective::FewestWeighings;
            let best = self.best_of(tried)?.unwrap_or_default();
            let fewer = self.rows.used(&best).count() < used.len();
            if !fewer {
                return Ok(best);
            }
            point = best;
        }
    }

    /// Lots that serve the acid and nothing else that is asked for.
    fn acids(&self) -> Vec<usize> {
        let serves = |j: usize| {
            let others = Goal::ALL.into_iter().filter(|goal| {
                let asked = self.wanted.in_si(*goal).is_some();
                asked && !matches!(goal, Goal::Ph | Goal::StrongAcid)
            });
            let brings = self.rows.columns.get(j).map(|c| &c.brings);
            others
                .into_iter()
                .any(|goal| brings.is_some_and(|c| goal.above_line(c) != 0.0))
        };
        let columns = self.rows.columns.iter().enumerate();
        let sour = columns.filter(|(j, c)| c.is_acid() && !serves(*j));
        sour.map(|(j, _)| j).collect()
    }

    /// Whole steps. The pH is made linear where amounts of any size would
    /// bring it, and the surest ink is sought near them first.
    fn whole(&mut self, elastic: bool) -> Result<Point, FormulateError> {
        let surest = matches!(self.objective, Objective::Surest(_));
        if self.meter.is_none() && !surest {
            match self.settle(Way::new(Steps::Whole, elastic)) {
                Err(e) if is_too_many(&e) => {}
                other => return other,
            }
        }
        let near = self.of_any_size(elastic)?;
        let line = match &mut self.meter {
            Some(meter) => Some(meter.about(&self.rows, &near)?),
            None => None,
        };
        let near_by = Steps::WholeNear(&near.kg);
        let (strict_near, near_by) = ((near_by, elastic), (near_by, true));
        let everywhere = (Steps::Whole, elastic);
        let ways = match (surest, &line) {
            (true, _) => [strict_near, everywhere, near_by],
            (false, Some(_)) => [everywhere, strict_near, near_by],
            // There were too many ways to round.
            (false, None) => [near_by; 3],
        };
        let mut tried = Vec::new();
        let mut last = ProgramError::Infeasible.into();
        for (steps, elastic) in ways {
            let way = Way::new(steps, elastic);
            let way = line.as_ref().map_or(way, |line| way.along(line));
            match self.settle(way) {
                Ok(point) => {
                    let point = self.rounded_again(point, way)?;
                    let done = self.worth(&point)?.meets_all();
                    tried.push(point);
                    if done || line.is_none() {
                        break;
                    }
                }
                Err(e @ FormulateError::Program(_)) => last = e,
                Err(e) => return Err(e),
            }
        }
        self.best_of(tried)?.ok_or(last)
    }

    /// Where the pH of whole steps is not what the line about other amounts
    /// said, the line about them may do better.
    fn rounded_again(&mut self, first: Point, way: Way) -> Result<Point, FormulateError> {
        let mut tried = vec![first];
        for _ in 0..ROUNDINGS {
            let (Some(meter), Some(point)) = (&mut self.meter, tried.last()) else {
                break;
            };
            let missed = meter.missed(&self.rows.ink(&point.kg, point.volume))?;
            if missed == 0.0 || missed.is_infinite() {
                break;
            }
            let line = meter.about(&self.rows, point)?;
            match self.settle(way.along(&line)) {
                Ok(next) if !tried.contains(&next) => tried.push(next),
                _ => break,
            }
        }
        Ok(self.best_of(tried)?.unwrap_or_default())
    }
}

fn is_too_many(e: &FormulateError) -> bool {
    matches!(e, FormulateError::Program(ProgramError::NotSolved { .. }))
}
