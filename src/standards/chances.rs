//! How likely an ink meets a clause: from the doubt about its lots.

use super::clause::Window;
use super::compare::{ClauseComparison, StandardComparison};
use super::quantity::QUANTITIES;
use super::standard::Standard;
use super::{Limit, Quantity, Requirement};
use crate::composition::Composition;
use crate::quantity::within;
use crate::recipe::{Evaluation, Line, RatioInterval};
use crate::uncertainty::{
    Chance, MonteCarlo, NORMAL_95, Sample, Study, UncertaintyError, normal_below,
};

/// Most draws of all figures: about the memory of 2e7 draws of one.
const MOST_DRAWS: f64 = 1.6e6;

/// How a chance was worked out.
///
/// ```
/// use ferrogall::standards::ChanceMethod;
/// assert_ne!(ChanceMethod::FirstOrder, ChanceMethod::Draws);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum ChanceMethod {
    /// From the relative standard uncertainties of an evaluation, the figure
    /// log-normal (of strong acid: normal).
    FirstOrder,
    /// From draws of a study.
    Draws,
}

/// How likely an ink meets a limit, or all limits of a standard.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Recipe, Solution};
/// use ferrogall::standards::standard;
/// // Iron at the limit of 1.5 g/L, known to 1 %: even odds.
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.purity(0.99, 0.0099)?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("iron water")
///     .with(Solution::new("jug").add(&vitriol, grams(1.5 / 0.2008758 / 0.99)))
///     .make_up(&water, liters(1.0));
/// let page = standard("is_38_1952").unwrap().compare_made(&recipe.evaluate()?);
/// let iron = page.clauses.iter().find_map(|c| c.chance).unwrap();
/// assert!((iron.as_stated - 0.5).abs() < 0.01 && iron.as_rounded > 0.99);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct ClauseChance {
    /// Probability of meeting it to the letter.
    pub as_stated: f64,
    /// Probability of meeting it as rounded to the stated digits.
    pub as_rounded: f64,
    /// Standard error of the first from the number of draws alone; 0 by first order.
    pub as_stated_sampling_error: f64,
    /// Standard error of the second from the number of draws alone.
    pub as_rounded_sampling_error: f64,
    /// Low end of the 95 % interval of the figure, in its unit; `None` for
    /// several clauses together.
    pub low: Option<f64>,
    /// High end of the 95 % interval of the figure.
    pub high: Option<f64>,
    /// How it was worked out.
    pub method: ChanceMethod,
    /// Number of draws; 0 by first order.
    pub draws: usize,
}

impl ClauseChance {
    /// A figure with a relative standard uncertainty, log-normal.
    fn log_normal(limit: &Limit, figure: f64, u_ln: f64) -> ClauseChance {
        let below = |bound: f64| match bound > 0.0 {
            true => normal_below(libm::log(bound / figure) / u_ln),
            false => 0.0,
        };
        let span = RatioInterval::new(figure, u_ln);
        ClauseChance::first_order(limit, figure, u_ln, below, (span.low, span.high))
    }

    /// A figure with a standard uncertainty in its unit, normal.
    fn normal(limit: &Limit, figure: f64, u: f64) -> ClauseChance {
        let below = |bound: f64| normal_below((bound - figure) / u);
        let half = NORMAL_95 * u;
        ClauseChance::first_order(limit, figure, u, below, (figure - half, figure + half))
    }

    fn first_order(
        limit: &Limit,
        figure: f64,
        u: f64,
        below: impl Fn(f64) -> f64,
        (low, high): (f64, f64),
    ) -> ClauseChance {
        let inside = |window: Window| {
            if u <= 0.0 {
                return f64::from(u8::from(window.contains(figure)));
            }
            let beneath = window.max.map_or(1.0, &below);
            let short = window.min.map_or(0.0, &below);
            (beneath - short).clamp(0.0, 1.0)
        };
        ClauseChance {
            as_stated: inside(limit.window()),
            as_rounded: inside(limit.rounded_window()),
            as_stated_sampling_error: 0.0,
            as_rounded_sampling_error: 0.0,
            low: Some(low),
            high: Some(high),
            method: ChanceMethod::FirstOrder,
            draws: 0,
        }
    }

    fn counted(stated: usize, rounded: usize, all: usize, span: Option<(f64, f64)>) -> Self {
        let (stated, rounded) = (Chance::of(stated, all), Chance::of(rounded, all));
        ClauseChance {
            as_stated: stated.probability,
            as_rounded: rounded.probability,
            as_stated_sampling_error: stated.sampling_error,
            as_rounded_sampling_error: rounded.sampling_error,
            low: span.map(|s| s.0),
            high: span.map(|s| s.1),
            method: ChanceMethod::Draws,
            draws: all,
        }
    }
}

/// By first order, where an evaluation knows how sure a figure is.
fn by_first_order(limit: &Limit, made: &Evaluation) -> Option<ClauseChance> {
    let figure = limit.quantity().of(&made.composition)?;
    let u = match limit.quantity() {
        Quantity::Iron | Quantity::GreenVitriol => iron_u(made),
        // The galloyl units are a little less sure than the mass of what holds them.
        Quantity::TannicAndGallicAcid | Quantity::TannicAcidAndGallicCrystals => galloyl_u(made),
        Quantity::GalloylPerIron => {
            let (iron, galloyl) = (iron_u(made), galloyl_u(made));
            libm::sqrt(iron * iron + galloyl * galloyl)
        }
        Quantity::StrongAcid => {
            let u = (figure * made.acid_u).abs();
            return u
                .is_finite()
                .then(|| ClauseChance::normal(limit, figure, u));
        }
        _ => return None,
    };
    // Nothing, give or take something, has no logarithm; nothing for sure has
    // its answer.
    let known = figure > 0.0 || u == 0.0;
    (known && u >= 0.0 && u.is_finite()).then(|| ClauseChance::log_normal(limit, figure, u))
}

/// Relative standard uncertainty of the galloyl units; infinite where there
/// are none and a lot may still bring some.
fn galloyl_u(made: &Evaluation) -> f64 {
    let mut lots = made.lines.iter().map(|line| line.lot.strength_u().galloyl);
    match made.composition.galloyl().value > 0.0 || lots.all(|u| u == 0.0) {
        true => made.galloyl_u,
        false => f64::INFINITY,
    }
}

/// Relative standard uncertainty of the iron of both states. (An evaluation
/// tells that of the iron(II): a doubtful oxidised share moves iron from one
/// state to the other and takes none away, and ferric salts have none of it.)
fn iron_u(made: &Evaluation) -> f64 {
    let mut variance = 0.0;
    for (i, line) in made.lines.iter().enumerate() {
        let same = |other: &&Line| other.lot.is_same_bag(line.lot);
        if made.lines[..i].iter().any(|earlier| same(&earlier)) {
            continue;
        }
        let lines = made.lines[i..].iter().filter(same);
        let kg: f64 = lines.map(|l| l.mass.value * l.reach).sum();
        let unknowns = line.lot.unknowns();
        let known: Vec<f64> = unknowns.iter().map(|x| x.estimate.value()).collect();
        for (k, unknown) in unknowns.iter().enumerate() {
            let u = unknown.estimate.u();
            let iron_at = |off: f64| {
                let mut values = known.clone();
                values[k] += off;
                line.lot.per_kg_with(&values).iron().value
            };
            let half = 0.5 * kg * (iron_at(u) - iron_at(-u));
            variance += half * half;
        }
    }
    match variance > 0.0 {
        true => libm::sqrt(variance) / made.composition.iron().value,
        false => 0.0,
    }
}

/// Draws of every figure that standards speak of, of one ink. Draw `i` of two
/// inks with the same seed has the same luck with the lots they share.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Extraction, Recipe, Solution};
/// use ferrogall::standards::{InkDraws, standard};
/// use ferrogall::uncertainty::{MonteCarlo, Study};
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("gall ink").with(Solution::new("ink")
///     .extract(Extraction::new(&galls, grams(90.0), &water, milliliters(1200.0)))
///     .add(&vitriol, grams(29.0)))
///     .make_up(&water, liters(1.2));
/// let draws = InkDraws::of(&Study::of(&recipe)?, &MonteCarlo::fixed(1, 2_000)?)?;
/// let page = standard("de_document_class_i").unwrap().compare_drawn(&draws);
/// let both = page.chance.unwrap(); // both clauses at once
/// assert!(both.as_stated > 0.05 && both.as_stated < 0.95);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct InkDraws {
    estimate: Composition,
    samples: Vec<Sample>,
}

impl InkDraws {
    /// Draws them, at most 1.6 million times (there are a dozen figures).
    ///
    /// # Errors
    /// [`UncertaintyError::OutOfRange`] for more;
    /// [`UncertaintyError::AllDrawsFailed`] where no draw makes an ink.
    pub fn of(study: &Study, plan: &MonteCarlo) -> Result<InkDraws, UncertaintyError> {
        within("draws", f64::from(plan.draws()), 0.0, MOST_DRAWS, "")?;
        let estimate = study.estimate();
        // A figure that the estimate does not have is not drawn.
        let has = Quantity::ALL.map(|q| q.of(&estimate).is_some());
        let samples = study.inks(plan, |ink| {
            let mut row = [0.0; QUANTITIES];
            for ((slot, q), has) in row.iter_mut().zip(Quantity::ALL).zip(has) {
                if has {
                    *slot = q.of(ink).unwrap_or(f64::NAN);
                }
            }
            row
        })?;
        Ok(InkDraws {
            estimate,
            samples: samples.into(),
        })
    }

    /// The ink at the estimates of its sources.
    pub const fn estimate(&self) -> &Composition {
        &self.estimate
    }

    /// The draws of one figure; `None` where the ink has none.
    pub fn sample(&self, quantity: Quantity) -> Option<&Sample> {
        quantity.of(&self.estimate)?;
        self.samples.get(quantity as usize)
    }

    fn chance(&self, limit: &Limit) -> Option<ClauseChance> {
        let sample = self.sample(limit.quantity())?;
        let drawn = || sample.drawn().iter().filter(|x| x.is_finite());
        let inside = |window: Window| drawn().filter(|x| window.contains(**x)).count();
        Some(ClauseChance::counted(
            inside(limit.window()),
            inside(limit.rounded_window()),
            drawn().count(),
            sample.interval(0.95).ok(),
        ))
    }

    /// All limits at once, draw by draw.
    fn chance_of_all(&self, limits: &[&Limit]) -> Option<ClauseChance> {
        let columns: Option<Vec<&[f64]>> = limits
            .iter()
            .map(|limit| Some(self.sample(limit.quantity())?.drawn()))
            .collect();
        let columns = columns.filter(|c| !c.is_empty())?;
        let draws = columns.iter().map(|c| c.len()).min()?;
        let (mut all, mut stated, mut rounded) = (0, 0, 0);
        for i in 0..draws {
            let at = |c: &&[f64]| c.get(i).copied().unwrap_or(f64::NAN);
            if columns.iter().any(|c| !at(c).is_finite()) {
                continue;
            }
            let keeps = |window: fn(&Limit) -> Window| {
                let mut pairs = limits.iter().zip(&columns);
                pairs.all(|(limit, c)| window(limit).contains(at(c)))
            };
            all += 1;
            stated += usize::from(keeps(Limit::window));
            rounded += usize::from(keeps(Limit::rounded_window));
        }
        (all > 0).then(|| ClauseChance::counted(stated, rounded, all, None))
    }
}

impl Standard {
    /// The ink of a recipe held against every clause, with the probability of
    /// meeting each limit by first order: of iron, of tannic and gallic acid
    /// together (taken from the galloyl units, which are a little less sure),
    /// of strong acid and of the proportion. Other figures have none, and
    /// neither has the whole: for that, draw.
    pub fn compare_made(&self, made: &Evaluation) -> StandardComparison {
        self.with_chances(self.compare(&made.composition), |limit| {
            by_first_order(limit, made)
        })
    }

    /// The ink held against every clause, with the probability of meeting
    /// each limit, and all of them at once, by draws.
    pub fn compare_drawn(&self, draws: &InkDraws) -> StandardComparison {
        let page = self.compare(&draws.estimate);
        let mut page = self.with_chances(page, |limit| draws.chance(limit));
        let limits: Vec<&Limit> = self.limits().map(|(_, limit)| limit).collect();
        page.chance = draws.chance_of_all(&limits);
        page
    }

    fn with_chances(
        &self,
        mut page: StandardComparison,
        chance: impl Fn(&Limit) -> Option<ClauseChance>,
    ) -> StandardComparison {
        let rows = page.clauses.iter_mut().zip(self.clauses.iter());
        for (row, clause) in rows {
            let row: &mut ClauseComparison = row;
            if let Requirement::Limit(limit) = &clause.requirement {
                row.chance = chance(limit);
            }
        }
        page
    }
}

#[cfg(test)]
mod tests {
    use super::super::clause::SLACK;
    use super::*;

    fn limit(min: Option<f64>, max: Option<f64>) -> Result<Limit, super::super::StandardError> {
        Limit::new(Quantity::Iron, min, max, 0)
    }

    /// Abramowitz & Stegun, table 26.1: 0.841345, 0.682689 and 0.977250.
    #[test]
    fn log_normal_and_normal_by_the_handbook() -> Result<(), super::super::StandardError> {
        let u = 0.1;
        let up = libm::exp(u);
        let one_sided = ClauseChance::log_normal(&limit(None, Some(6.0 * up))?, 6.0, u);
        approx::assert_abs_diff_eq!(one_sided.as_stated, 0.841_345, epsilon = 5e-7);
        let both = ClauseChance::log_normal(&limit(Some(6.0 / up), Some(6.0 * up))?, 6.0, u);
        approx::assert_abs_diff_eq!(both.as_stated, 0.682_689, epsilon = 1e-6);
        let normal = ClauseChance::normal(&limit(Some(4.0), None)?, 6.0, 1.0);
        approx::assert_abs_diff_eq!(normal.as_stated, 0.977_250, epsilon = 5e-7);
        // Rounded to grams, from 3.5: 2.5 deviations.
        approx::assert_abs_diff_eq!(normal.as_rounded, 0.993_790, epsilon = 5e-7);
        Ok(())
    }

    #[test]
    fn without_doubt_a_chance_is_none_or_certainty() -> Result<(), super::super::StandardError> {
        let sure = ClauseChance::log_normal(&limit(Some(4.0), Some(6.0))?, 6.03, 0.0);
        assert_eq!((sure.as_stated, sure.as_rounded), (0.0, 1.0));
        let exact =
            ClauseChance::log_normal(&limit(None, Some(6.0))?, 6.0 * (1.0 + 0.5 * SLACK), 0.0);
        assert_eq!(exact.as_stated, 1.0);
        Ok(())
    }
}
