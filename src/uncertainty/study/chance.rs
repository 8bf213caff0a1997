//! Chances: how likely a batch has too much iron, and what makes it unlikely.

use super::Study;
use crate::bench::Lot;
use crate::composition::{Balance, Criterion};
use crate::quantity::{Mass, kilograms, within};
use crate::root;
use crate::uncertainty::{MonteCarlo, Sample, UncertaintyError};

/// How likely something is.
///
/// ```
/// use ferrogall::uncertainty::Chance;
/// let chance = Chance::of(30, 10_000);
/// assert_eq!(chance.probability, 0.003);
/// assert!(chance.sampling_error < 0.001);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Chance {
    /// Share of the draws in which it is so.
    pub probability: f64,
    /// Standard error of that share from the number of draws alone.
    pub sampling_error: f64,
}

impl Chance {
    /// So many draws out of so many.
    pub fn of(draws: usize, all: usize) -> Chance {
        let all = (all as f64).max(1.0);
        let probability = (draws as f64 / all).min(1.0);
        // By Laplace's rule, so that "never in a thousand" is not "never".
        let guarded = (draws as f64 + 1.0) / (all + 2.0);
        Chance {
            probability,
            sampling_error: libm::sqrt(guarded * (1.0 - guarded).max(0.0) / all),
        }
    }

    /// Of more iron than a criterion calls balanced, its proportion drawn.
    pub(crate) fn of_excess(proportion: &Sample, criterion: &Criterion) -> Chance {
        let all = proportion.drawn().len() - proportion.failed();
        let above = proportion.share_above(criterion.balanced.max) * all as f64;
        Chance::of(libm::round(above) as usize, all)
    }
}

/// How much of a lot makes sure that no iron is left over.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::composition::criteria;
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Recipe, Solution};
/// use ferrogall::uncertainty::{MonteCarlo, Study};
///
/// let tannin = Lot::of("tannic_acid")?.named("tin").tannin(0.85, 0.17)?.build()?;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let recipe = Recipe::new("dry mix").with(Solution::new("mix")
///     .add(&tannin, grams(11.0)).add(&vitriol, grams(15.0)));
/// let study = Study::of(&recipe)?;
/// let plan = MonteCarlo::fixed(1, 5_000)?;
/// let one_to_one = &criteria()[0];
/// assert!(study.excess_iron(one_to_one, &plan)?.probability > 0.3);
/// let sure = study.assured(&tannin, one_to_one, 0.95, &plan)?;
/// assert!(sure.factor > 1.2 && sure.mass > grams(13.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Assurance {
    /// How many times as much of the lot as the recipe has.
    pub factor: f64,
    /// That much of the lot.
    pub mass: Mass,
    /// The assurance there is without it.
    pub now: f64,
}

/// Furthest that amounts are changed.
const FURTHEST: f64 = 1000.0;

impl Study {
    /// How likely the ink has more iron than a criterion calls balanced.
    ///
    /// A criterion that speaks of galls goes by the galls weighed, where all
    /// tannin comes from them.
    ///
    /// # Errors
    /// [`UncertaintyError::AllDrawsFailed`] without tannin or iron.
    pub fn excess_iron(
        &self,
        criterion: &Criterion,
        plan: &MonteCarlo,
    ) -> Result<Chance, UncertaintyError> {
        let [sample] = self.proportions([criterion], plan)?;
        Ok(Chance::of_excess(&sample, criterion))
    }

    /// How much of one lot (with its soak water, if it is soaked) it takes
    /// that the iron stays within a criterion with this assurance (0.5 to
    /// 0.999).
    ///
    /// # Errors
    /// [`UncertaintyError::NoSuchSource`] where the recipe does not have the
    /// lot; [`UncertaintyError::NotAssured`] where a thousand times as much
    /// would not do, or what would do no longer fits the volumes of the recipe;
    /// [`UncertaintyError::OutOfRange`].
    pub fn assured(
        &self,
        lot: &Lot,
        criterion: &Criterion,
        assurance: f64,
        plan: &MonteCarlo,
    ) -> Result<Assurance, UncertaintyError> {
        within("assurance", assurance, 0.5, 0.999, "")?;
        let evaluation = self.recipe.evaluate()?;
        let has: f64 = evaluation
            .lines
            .iter()
            .filter(|l| l.lot.is_same_bag(lot) && l.stated.is_some())
            .map(|l| l.mass.value)
            .sum();
        if has <= 0.0 {
            return Err(UncertaintyError::NoSuchSource {
                name: lot.name().to_string(),
            });
        }
        let [now] = self.proportions([criterion], plan)?;
        let limit = criterion.balanced.max;
        // In logarithms: how far the wanted quantile is above the limit.
        let above = |sample: &Sample| libm::log(sample.quantile(assurance) / limit);
        // No number where there is no such recipe: a jug overflows.
        let mut too_much = |log_factor: f64| -> f64 {
            let recipe = self.recipe.with_lot_scaled(lot, libm::exp(log_factor));
            let study = Study::new(&recipe, self.kit.clone(), self.known.clone());
            let run = study.and_then(|study| study.proportions([criterion], plan));
            run.map_or(f64::NAN, |[sample]| above(&sample))
        };
        let not_assured = || UncertaintyError::NotAssured {
            lot: lot.name().to_string(),
            assurance,
        };
        let mut low = (0.0, above(&now));
        // Outward from the recipe, the way on which the sign turns (more of a
        // tannin, less of an iron salt); a little less of anything still fits.
        let falling = too_much(-0.1) > low.1;
        let direction = if falling == (low.1 > 0.0) { 1.0 } else { -1.0 };
        let mut step = 0.2;
        let high = loop {
            let next = low.0 + direction * step;
            let value = too_much(next);
            if value.is_nan() {
                // Too far: half the way, down to a thousandth.
                step *= 0.5;
                if step < 1e-3 {
                    return Err(not_assured());
                }
                continue;
            }
            if (value > 0.0) != (low.1 > 0.0) {
                break (next, value);
            }
            low = (next, value);
            if next.abs() > libm::log(FURTHEST) {
                return Err(not_assured());
            }
            step *= 2.0;
        };
        let log_factor = root::between(&mut too_much, low, high);
        let factor = libm::exp(log_factor);
        Ok(Assurance {
            factor,
            mass: kilograms(has * factor),
            now: 1.0 - now.share_above(limit),
        })
    }

    /// The proportions that criteria speak of, all of the same inks.
    pub(crate) fn proportions<const N: usize>(
        &self,
        criteria: [&Criterion; N],
        plan: &MonteCarlo,
    ) -> Result<[Sample; N], UncertaintyError> {
        let evaluation = self.recipe.evaluate()?;
        let by_weight = evaluation.vitriol_per_galls();
        let inputs = &self.sources.inputs;
        let iron = evaluation.composition.iron().value;
        let galls = self.plan.plants(inputs.estimates().values());
        inputs.monte_carlo(plan, |x| {
            let ink = self.plan.ink(x);
            criteria.map(|criterion| match (criterion.measure, by_weight) {
                (Balance::VitriolPerGalls, Some(ratio)) => {
                    ratio * (ink.iron().value / iron) * (galls / self.plan.plants(x))
                }
                _ => criterion.proportion(&ink).unwrap_or(f64::NAN),
            })
        })
    }
}
