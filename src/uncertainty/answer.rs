//! One answer: first order where that is honest, draws where it is not, and
//! which measurement would help most.

use super::inputs::{Inputs, Values};
use super::{Budget, BudgetLine, Distribution, Misleading, MonteCarlo, Sample, UncertaintyError};

/// How an answer was come by.
///
/// ```
/// use ferrogall::uncertainty::{Method, Misleading};
/// assert_ne!(Method::FirstOrder, Method::MonteCarlo(Misleading::Curved));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Method {
    /// Law of propagation of uncertainty, first order.
    FirstOrder,
    /// Draws, because the first order misleads.
    MonteCarlo(Misleading),
}

/// A result with its interval.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs, Method, Misleading, MonteCarlo};
/// // Iron over galloyl, the galls known to 20 %.
/// let mut inputs = Inputs::new();
/// let iron = inputs.add("iron", Distribution::normal(1.0, 0.03)?)?;
/// let galls = inputs.add("galls", Distribution::normal(1.0, 0.2)?)?;
/// let ratio = inputs.answer(&MonteCarlo::fixed(1, 50_000)?, |x| x[iron] / x[galls])?;
/// assert_eq!(ratio.method, Method::MonteCarlo(Misleading::Curved));
/// assert!(ratio.high - ratio.value > 1.5 * (ratio.value - ratio.low));
/// assert_eq!(ratio.helps[0].name, "galls");
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Answer {
    /// How it was come by.
    pub method: Method,
    /// The model at the estimates.
    pub value: f64,
    /// Standard uncertainty (k = 1).
    pub u: f64,
    /// Lower end of the interval that covers 95 %.
    pub low: f64,
    /// Upper end of the interval that covers 95 %.
    pub high: f64,
    /// Draws for which the model had no value; they count for nothing else.
    pub failed: usize,
    /// The first-order budget, whatever the method.
    pub budget: Budget,
    /// The inputs by what knowing each would do, the most helpful first.
    pub helps: Vec<Help>,
}

/// What knowing one input exactly would do.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs, MonteCarlo};
/// let mut inputs = Inputs::new();
/// let a = inputs.add("a", Distribution::normal(1.0, 0.3)?)?;
/// let b = inputs.add("b", Distribution::normal(1.0, 0.4)?)?;
/// let sum = inputs.answer(&MonteCarlo::fixed(1, 1000)?, |x| x[a] + x[b])?;
/// assert_eq!(sum.helps[0].name, "b");
/// assert!((sum.helps[0].width_left - 0.6).abs() < 1e-9); // 0.5 falls to 0.3
/// assert!((sum.helps[0].share - 0.64).abs() < 1e-9);
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Help {
    /// Name of the source.
    pub name: String,
    /// Width of the interval that would be left, as a share of the present one.
    pub width_left: f64,
    /// Share of the variance that would go.
    pub share: f64,
}

impl Inputs {
    /// The result with its 95 % interval: by the first order, or by draws
    /// where that misleads, and then it says so.
    ///
    /// # Errors
    /// [`UncertaintyError::NoValue`], [`UncertaintyError::AllDrawsFailed`].
    pub fn answer(
        &self,
        plan: &MonteCarlo,
        model: impl Fn(Values) -> f64 + Sync,
    ) -> Result<Answer, UncertaintyError> {
        let (mut answer, drawn) = self.answered(plan, &model)?;
        if let Some(now) = drawn {
            answer.helps = self.helps_beside(&now, plan, &model)?;
        }
        Ok(answer)
    }

    /// The same, its inputs ranked by the first-order budget in any case.
    #[cfg(feature = "capi")]
    pub(super) fn quick_answer(
        &self,
        plan: &MonteCarlo,
        model: impl Fn(Values) -> f64 + Sync,
    ) -> Result<Answer, UncertaintyError> {
        self.answered(plan, &model).map(|(answer, _)| answer)
    }

    /// The answer and, where it took any, its draws.
    fn answered(
        &self,
        plan: &MonteCarlo,
        model: &(impl Fn(Values) -> f64 + Sync),
    ) -> Result<(Answer, Option<Sample>), UncertaintyError> {
        let budget = self.first_order(model)?;
        let (value, half) = (budget.value(), budget.expanded(0.95)?);
        let mut answer = Answer {
            method: Method::FirstOrder,
            value,
            u: budget.standard_uncertainty(),
            low: value - half,
            high: value + half,
            failed: 0,
            helps: budget.helps(),
            budget,
        };
        let Some(why) = answer.budget.misleads() else {
            return Ok((answer, None));
        };
        let [drawn] = self.monte_carlo(plan, |x| [model(x)])?;
        answer.method = Method::MonteCarlo(why);
        answer.u = drawn.standard_uncertainty();
        (answer.low, answer.high) = drawn.interval(0.95)?;
        answer.failed = drawn.failed();
        Ok((answer, Some(drawn)))
    }

    /// The inputs by what knowing each exactly would do to the interval of the
    /// result: the same draws with that input held at its estimate. The most
    /// helpful first; ties keep their order.
    ///
    /// # Errors
    /// [`UncertaintyError::AllDrawsFailed`].
    pub fn helps(
        &self,
        plan: &MonteCarlo,
        model: impl Fn(Values) -> f64 + Sync,
    ) -> Result<Vec<Help>, UncertaintyError> {
        let [now] = self.monte_carlo(plan, |x| [model(x)])?;
        self.helps_beside(&now, plan, &model)
    }

    /// The same, what is known now having been drawn before.
    fn helps_beside(
        &self,
        now: &Sample,
        plan: &MonteCarlo,
        model: &(impl Fn(Values) -> f64 + Sync),
    ) -> Result<Vec<Help>, UncertaintyError> {
        let width = |sample: &Sample| -> Result<f64, UncertaintyError> {
            let (low, high) = sample.interval(0.95)?;
            Ok(high - low)
        };
        let (wide, u) = (width(now)?, now.standard_uncertainty());
        let mut helps = Vec::with_capacity(self.sources.len());
        for (k, source) in self.sources.iter().enumerate() {
            let (width_left, share) = if source.distribution.is_exact() || wide == 0.0 {
                (1.0, 0.0)
            } else {
                let mut known = self.clone();
                let estimate = source.distribution.estimate();
                known.sources[k].distribution = Distribution::exact(estimate)?;
                let [rest] = known.monte_carlo(plan, |x| [model(x)])?;
                let part = rest.standard_uncertainty() / u;
                (width(&rest)? / wide, (1.0 - part * part).clamp(0.0, 1.0))
            };
            helps.push(Help {
                name: source.name.clone(),
                width_left,
                share,
            });
        }
        Ok(most_helpful_first(helps))
    }
}

impl Budget {
    /// What the first order says of the same question.
    pub(crate) fn helps(&self) -> Vec<Help> {
        let help = |line: &BudgetLine| Help {
            name: line.name.clone(),
            width_left: libm::sqrt((1.0 - line.share).max(0.0)),
            share: line.share,
        };
        most_helpful_first(self.lines().iter().map(help).collect())
    }
}

/// Ties keep their order.
fn most_helpful_first(mut helps: Vec<Help>) -> Vec<Help> {
    helps.sort_by(|a, b| a.width_left.total_cmp(&b.width_left));
    helps
}
