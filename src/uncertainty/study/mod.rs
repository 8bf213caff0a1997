//! How sure is a recipe? Every bag, soak and weighing as a named source.

mod advice;
mod chance;
mod measurand;
mod plan;
mod sources;

pub use advice::{Advice, Remedy};
pub use chance::{Assurance, Chance};
pub use measurand::Measurand;

use super::{Answer, Budget, Distribution, MonteCarlo, Sample, UncertaintyError};
use crate::composition::Composition;
use crate::recipe::{Kit, Recipe};
use plan::Plan;
use sources::Sources;

/// A recipe with all that is not known of it.
///
/// The sources are what the lots say of themselves ([`strength_u`] and its
/// parts: purity, tannin, moisture …), the yield of every soak and the liquid
/// its marc keeps, and, with a [`Kit`], every weighing and filling up and what
/// they share ([`Kit::true_to`]). One bag is one source, however often it is
/// used; a stock that was made a lot of its own is a bag by itself. Strengths of natural things are
/// off by a factor (log-normal); assays are normal, those of shares cut off at
/// 0 and 1. (A salt that has lost water has a purity above 1.)
///
/// [`strength_u`]: crate::bench::Lot::strength_u
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Extraction, Recipe, Solution};
/// use ferrogall::uncertainty::{Measurand, MonteCarlo, Study};
///
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("small batch").with(Solution::new("ink")
///     .extract(Extraction::new(&galls, grams(10.0), &water, milliliters(170.0)))
///     .add(&vitriol, grams(4.0)));
///
/// let study = Study::of(&recipe)?;
/// let ratio = study.answer(Measurand::IronPerGalloyl, &MonteCarlo::fixed(1, 10_000)?)?;
/// assert!(ratio.low < ratio.value && ratio.value < ratio.high);
/// // The galls are the weak point, not the salt.
/// assert!(ratio.helps[0].name.contains("galls"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Study {
    recipe: Recipe,
    kit: Option<Kit>,
    sources: Sources,
    plan: Plan,
    known: Vec<(String, Distribution)>,
}

impl Study {
    /// The study of a recipe whose weighings are exact.
    ///
    /// # Errors
    /// [`UncertaintyError::Recipe`] where the recipe cannot be evaluated.
    pub fn of(recipe: &Recipe) -> Result<Study, UncertaintyError> {
        Study::new(recipe, None, Vec::new())
    }

    /// The same recipe weighed and measured with these tools: each weighing
    /// and each filling up is a source of its own.
    ///
    /// # Errors
    /// [`UncertaintyError::Recipe`] for a tool that cannot measure its lot.
    pub fn weighed_with(&self, kit: &Kit) -> Result<Study, UncertaintyError> {
        Study::new(&self.recipe, Some(kit.clone()), self.known.clone())
    }

    /// The same with one source known otherwise: after a measurement, or as
    /// you judge it. What cannot be (a share below 0 or above 1) is cut off.
    /// The study keeps its other sources, and their draws.
    ///
    /// # Errors
    /// [`UncertaintyError::NoSuchSource`]; [`UncertaintyError::OutOfRange`]
    /// where nothing possible is left.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::{Recipe, Solution};
    /// use ferrogall::uncertainty::{Distribution, Study};
    /// let tannin = Lot::of("tannic_acid")?.named("old tin").build()?;
    /// let recipe = Recipe::new("tannin water").with(Solution::new("jug").add(&tannin, grams(5.0)));
    /// let study = Study::of(&recipe)?;
    /// let titrated = study.knowing("old tin: tannin", Distribution::normal(0.88, 0.01)?)?;
    /// assert!(study.knowing("my tin: tannin", Distribution::exact(0.9)?).is_err());
    /// # let _ = titrated;
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn knowing(
        &self,
        source: &str,
        distribution: Distribution,
    ) -> Result<Study, UncertaintyError> {
        let mut known = self.known.clone();
        known.retain(|(name, _)| name != source);
        known.push((source.to_string(), distribution));
        Study::new(&self.recipe, self.kit.clone(), known)
    }

    fn new(
        recipe: &Recipe,
        kit: Option<Kit>,
        known: Vec<(String, Distribution)>,
    ) -> Result<Study, UncertaintyError> {
        // What evaluates once evaluates near by.
        recipe.evaluate()?;
        let mut sources = Sources::default();
        let mut plan = Plan::of(recipe, kit.as_ref(), &mut sources)?;
        for (name, distribution) in &known {
            let (least, most) = sources.possible(name);
            sources
                .inputs
                .replace(name, distribution.between(least, most)?)?;
        }
        plan.settle(&sources.inputs);
        Ok(Study {
            recipe: recipe.clone(),
            kit,
            sources,
            plan,
            known,
        })
    }

    /// The recipe.
    pub fn recipe(&self) -> &Recipe {
        &self.recipe
    }

    /// Every source with what is known of it, exact ones included.
    pub fn sources(&self) -> impl Iterator<Item = (&str, Distribution)> {
        self.sources.inputs.known()
    }

    /// Unit of the values of the source of this name, "1" for a ratio; `None`
    /// where there is none of it.
    pub fn source_unit(&self, source: &str) -> Option<&'static str> {
        self.sources.kind(source).map(|kind| kind.unit())
    }

    /// One figure with its 95 % interval: by first order where that is honest,
    /// by draws where it is not.
    ///
    /// # Errors
    /// [`UncertaintyError::NoValue`] for a figure the ink does not have.
    pub fn answer(
        &self,
        measurand: Measurand,
        plan: &MonteCarlo,
    ) -> Result<Answer, UncertaintyError> {
        self.sources
            .inputs
            .answer(plan, |x| self.figure(measurand, x))
    }

    /// The first-order budget of one figure.
    ///
    /// # Errors
    /// [`UncertaintyError::NoValue`] for a figure the ink does not have.
    pub fn budget(&self, measurand: Measurand) -> Result<Budget, UncertaintyError> {
        self.sources
            .inputs
            .first_order(|x| self.figure(measurand, x))
    }

    /// Draws of several figures of the same inks.
    ///
    /// # Errors
    /// [`UncertaintyError::AllDrawsFailed`].
    pub fn monte_carlo<const N: usize>(
        &self,
        plan: &MonteCarlo,
        measurands: [Measurand; N],
    ) -> Result<[Sample; N], UncertaintyError> {
        self.inks(plan, |ink| measurands.map(|m| m.of(ink)))
    }

    /// Draws of whole inks, and whatever you work out of each (a pH, a share
    /// oxidised after a year, a cost).
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::{Recipe, Solution};
    /// use ferrogall::uncertainty::{MonteCarlo, Study};
    /// let acid = Lot::of("hydrochloric_acid")?.purity(0.10, 0.02)?.build()?;
    /// let water = Lot::of("distilled_water")?.build()?;
    /// let recipe = Recipe::new("acid water")
    ///     .with(Solution::new("jug").add(&acid, grams(3.0)))
    ///     .make_up(&water, milliliters(500.0));
    /// let study = Study::of(&recipe)?;
    /// let [acid] = study.inks(&MonteCarlo::fixed(1, 200)?, |ink| [ink.strong_acid().value])?;
    /// assert!((acid.standard_uncertainty() / acid.mean() - 0.2).abs() < 0.05);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`UncertaintyError::AllDrawsFailed`].
    pub fn inks<const N: usize>(
        &self,
        plan: &MonteCarlo,
        figures: impl Fn(&Composition) -> [f64; N] + Sync,
    ) -> Result<[Sample; N], UncertaintyError> {
        let inputs = &self.sources.inputs;
        inputs.monte_carlo(plan, |x| figures(&self.plan.ink(x)))
    }

    /// [`inks`](Self::inks) on all cores; the same bits.
    ///
    /// # Errors
    /// As there.
    #[cfg(feature = "rayon")]
    pub fn inks_parallel<const N: usize>(
        &self,
        plan: &MonteCarlo,
        figures: impl Fn(&Composition) -> [f64; N] + Sync,
    ) -> Result<[Sample; N], UncertaintyError> {
        let inputs = &self.sources.inputs;
        inputs.monte_carlo_parallel(plan, |x| figures(&self.plan.ink(x)))
    }

    /// The ink where every source has its estimate.
    pub(crate) fn estimate(&self) -> Composition {
        self.plan.ink(self.sources.inputs.estimates().values())
    }

    fn figure(&self, measurand: Measurand, x: super::Values) -> f64 {
        measurand.of(&self.plan.ink(x))
    }
}
