//! What disputed constants leave open.

use super::EquilibriumError;
use super::constants::Species;
use super::solver::{Solver, Speciation, Totals};
use super::tables::{DISPUTED, Dispute, Opinion};
use crate::quantile::ends_of_95_percent;
use core::f64::consts::LN_10;

/// Draws of an interval: a prime, so that every constant's draws are evenly
/// spread whatever its stride.
const DRAWS: usize = 127;

/// A span in which 95 % of the draws lie.
///
/// ```
/// use ferrogall::equilibrium::Interval;
/// let ph = Interval { low: 3.05, high: 3.40 };
/// assert!(ph.width() > 0.3);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

impl Interval {
    /// From end to end.
    pub fn width(&self) -> f64 {
        self.high - self.low
    }

    fn of(values: &mut [f64]) -> Interval {
        let (low, high) = ends_of_95_percent(values);
        Interval { low, high }
    }
}

/// A constant whose published values leave a result open.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
/// use ferrogall::quantity::{celsius, moles_per_kilogram};
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
/// let half_oxidised = Totals::new()
///     .with(Master::IronIII, moles_per_kilogram(0.02))?
///     .with(Master::Sulfate, moles_per_kilogram(0.03))?;
/// let doubts = solver.doubts(&half_oxidised)?;
/// assert!(doubts.iter().any(|d| d.species == "Fe(OH)2+"));
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The species.
    pub species: &'static str,
    /// pH with the value of the set that is lowest in its effect, and highest.
    pub ph: Interval,
    /// Who holds which value, as a text.
    pub opinions: String,
}

impl Solver {
    /// The span of a figure of a solution over what is known of the constants:
    /// those that compilations dispute are drawn from the published values,
    /// each held equally likely, the others from even spans of their standard
    /// uncertainty. 127 draws, always the same ones.
    ///
    /// ```
    /// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
    /// use ferrogall::quantity::{celsius, moles_per_kilogram};
    /// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
    /// let oxidised = Totals::new()
    ///     .with(Master::IronII, moles_per_kilogram(0.054))?
    ///     .with(Master::IronIII, moles_per_kilogram(0.006))?
    ///     .with(Master::Sulfate, moles_per_kilogram(0.063))?;
    /// let ph = solver.interval(&oxidised, |solution| solution.ph())?;
    /// assert!(ph.low < 3.2 && ph.high > 3.3); // the compilations' own spread
    /// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
    /// ```
    ///
    /// # Errors
    /// As [`Solver::solve`].
    pub fn interval(
        &mut self,
        totals: &Totals,
        figure: impl Fn(&Speciation) -> f64,
    ) -> Result<Interval, EquilibriumError> {
        let [interval] = self.intervals(totals, |s| [figure(s)])?;
        Ok(interval)
    }

    /// The spans of several figures over the same draws.
    pub(super) fn intervals<const N: usize>(
        &mut self,
        totals: &Totals,
        figures: impl Fn(&Speciation) -> [f64; N],
    ) -> Result<[Interval; N], EquilibriumError> {
        self.solve(totals)?;
        let k = self.tableau.k.clone();
        let spreads = self.spreads();
        let mut trial = self.clone();
        let mut factors = vec![1.0; k.len()];
        let mut drawn: [Vec<f64>; N] = core::array::from_fn(|_| Vec::with_capacity(DRAWS));
        for draw in 0..DRAWS {
            for (factor, spread) in factors.iter_mut().zip(&spreads) {
                *factor = spread.factor(draw);
            }
            if !trial.again_with(&k, &factors) {
                continue;
            }
            let values = figures(&Speciation { solver: &trial });
            for (column, value) in drawn.iter_mut().zip(values) {
                column.push(value);
            }
        }
        Ok(drawn.map(|mut column| Interval::of(&mut column)))
    }

    /// The disputed constants that matter for the pH of a solution, the one
    /// that leaves most open first; those of less than 0.005 are left out.
    ///
    /// # Errors
    /// As [`Solver::solve`].
    pub fn doubts(&mut self, totals: &Totals) -> Result<Vec<Doubt>, EquilibriumError> {
        let ph = self.solve(totals)?.ph();
        let k = self.tableau.k.clone();
        let mut factors = vec![1.0; k.len()];
        let mut trial = self.clone();
        let mut doubts = Vec::new();
        for at in 0..k.len() {
            let species = self.species_at(at);
            let Some(dispute) = dispute(species) else {
                continue;
            };
            let log_k = species.log_k_25();
            let mut span = Interval { low: ph, high: ph };
            for end in dispute.opinions.iter().flat_map(|o| [o.low, o.high]) {
                factors[at] = libm::exp(LN_10 * (end - log_k));
                if trial.again_with(&k, &factors) {
                    let ph = Speciation { solver: &trial }.ph();
                    span = Interval {
                        low: span.low.min(ph),
                        high: span.high.max(ph),
                    };
                }
            }
            factors[at] = 1.0;
            if span.width() >= 0.005 {
                let opinions = dispute.opinions.iter().map(Opinion::in_words);
                doubts.push(Doubt {
                    species: dispute.species,
                    ph: span,
                    opinions: opinions.collect::<Vec<_>>().join("; "),
                });
            }
        }
        doubts.sort_by(|a, b| b.ph.width().total_cmp(&a.ph.width()));
        Ok(doubts)
    }

    fn species_at(&self, at: usize) -> &Species {
        &self.set().species[usize::from(self.tableau.species[at])]
    }

    fn spreads(&self) -> Vec<Spread> {
        let all = (0..self.tableau.species.len()).map(|at| self.species_at(at));
        all.map(|species| Spread {
            log_k: species.log_k_25(),
            u: species.u,
            dispute: dispute(species),
            stride: stride(&species.name),
        })
        .collect()
    }
}

/// The dispute over a constant of ours; one that a caller has set stands.
fn dispute(species: &Species) -> Option<&'static Dispute> {
    species.source?;
    DISPUTED.iter().find(|d| d.species == species.name)
}

/// What is known of one constant.
struct Spread {
    log_k: f64,
    u: f64,
    dispute: Option<&'static Dispute>,
    /// Step from one draw to the next, in parts of all draws.
    stride: usize,
}

impl Spread {
    /// What the constant is multiplied by in one draw.
    fn factor(&self, draw: usize) -> f64 {
        // Every draw has a part of its own of the distribution.
        let part = ((draw * self.stride) % DRAWS) as f64;
        let part = (part + 0.5) / DRAWS as f64;
        let shift = match self.dispute {
            Some(dispute) => {
                let place = part * dispute.opinions.len() as f64;
                let which = (place as usize).min(dispute.opinions.len() - 1);
                let opinion = &dispute.opinions[which];
                let within = place - which as f64;
                // Not there is not there: minus infinity has no middle.
                let log_k = if opinion.low == opinion.high {
                    opinion.low
                } else {
                    opinion.low + within * (opinion.high - opinion.low)
                };
                log_k - self.log_k
            }
            // An even span of standard deviation u.
            None => self.u * 3.0_f64.sqrt() * (2.0 * part - 1.0),
        };
        libm::exp(LN_10 * shift)
    }
}

/// A stride that depends on the name alone (FNV-1a), so that a constant's
/// draws are the same whatever else is dissolved.
fn stride(name: &str) -> usize {
    let hash = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| {
        (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    1 + (hash % (DRAWS as u64 - 1)) as usize
}

impl Opinion {
    fn in_words(&self) -> String {
        if self.low == self.high {
            return format!("none: {}", self.citation);
        }
        let middle = 0.5 * (self.low + self.high);
        format!("{middle:.2} ± {:.2}: {}", self.high - middle, self.citation)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::equilibrium::ConstantSet;

    #[test]
    fn every_disputed_species_is_in_the_set_and_its_value_among_the_opinions() {
        let set = ConstantSet::reviewed();
        for d in DISPUTED {
            let log_k = set
                .species()
                .find(|s| s.name() == d.species)
                .map(|s| s.log_k_25());
            let near = |o: &Opinion| log_k.is_some_and(|k| k >= o.low - 0.02 && k <= o.high + 0.02);
            assert!(d.opinions.iter().any(near), "{}: {log_k:?}", d.species);
        }
    }
}
