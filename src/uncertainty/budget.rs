//! The first-order budget: how much each input contributes.

use super::inputs::{Group, Inputs, Values};
use super::special::student_quantile;
use super::{Distribution, UncertaintyError};
use crate::quantity::{OutOfRange, within};

/// One line of a budget.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs};
/// let mut inputs = Inputs::new();
/// let x = inputs.add("x", Distribution::normal(3.0, 0.1)?)?;
/// let budget = inputs.first_order(|v| v[x] * v[x])?;
/// let line = &budget.lines()[0];
/// assert!((line.sensitivity - 6.0).abs() < 1e-9 && (line.contribution - 0.6).abs() < 1e-9);
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct BudgetLine {
    /// Name of the source.
    pub name: String,
    /// What it is known as.
    pub distribution: Distribution,
    /// How much the result changes per unit of it.
    pub sensitivity: f64,
    /// Sensitivity times standard uncertainty, with its sign.
    pub contribution: f64,
    /// Its share of the variance, 0 to 1.
    pub share: f64,
    /// Of readings taken together.
    group: Option<Group>,
}

/// A result with its first-order uncertainty (JCGM 100:2008, 5.1.2) and what
/// the second order would add.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs};
/// let mut inputs = Inputs::new();
/// let x = inputs.add("x", Distribution::normal(0.0, 1.0)?)?;
/// // Flat at the estimate: first order sees nothing, and says so.
/// let budget = inputs.first_order(|v| v[x] * v[x])?;
/// assert!(budget.standard_uncertainty() < 1e-12);
/// assert!((budget.second_order_uncertainty() - 2_f64.sqrt()).abs() < 1e-9);
/// assert!(budget.misleads().is_some());
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    value: f64,
    u: f64,
    second_order_u: f64,
    shift: f64,
    lines: Vec<BudgetLine>,
}

/// Why a first-order answer is not to be relied on.
///
/// ```
/// use ferrogall::uncertainty::Misleading;
/// assert!(Misleading::Curved.to_string().contains("second-order"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Misleading {
    /// Second-order terms exceed 10 % of the variance, or shift the mean by
    /// more than a tenth of the uncertainty.
    Curved,
    /// Inputs that are not normally distributed make up most of the variance,
    /// or their means lie off their estimates.
    NotNormal,
}

impl core::fmt::Display for Misleading {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Misleading::Curved => {
                "second-order terms count: the result bends over the width of its inputs"
            }
            Misleading::NotNormal => {
                "most of the variance comes from inputs that are not normally distributed"
            }
        })
    }
}

impl Inputs {
    /// The first-order budget of a model: sensitivities by differences of
    /// sixth order in steps of a fraction of each standard uncertainty.
    ///
    /// A model that has no value on one side of an estimate is followed on the
    /// other.
    ///
    /// # Errors
    /// [`UncertaintyError::NoValue`] where the model gives no finite number
    /// at the estimates or next to them.
    pub fn first_order(&self, model: impl Fn(Values) -> f64) -> Result<Budget, UncertaintyError> {
        let near = Nearby::new(self, model);
        let value = near.at(&[]);
        if !value.is_finite() {
            return Err(UncertaintyError::NoValue {
                input: String::from("the estimates"),
            });
        }
        let mut lines = Vec::with_capacity(self.sources.len());
        for (k, source) in self.sources.iter().enumerate() {
            let u = source.distribution.standard_uncertainty();
            let contribution = if u > 0.0 { near.slope(k, value) } else { 0.0 };
            if !contribution.is_finite() {
                return Err(UncertaintyError::NoValue {
                    input: source.name.clone(),
                });
            }
            lines.push(BudgetLine {
                name: source.name.clone(),
                distribution: source.distribution,
                sensitivity: if u > 0.0 { contribution / u } else { 0.0 },
                contribution,
                share: 0.0,
                group: source.group,
            });
        }
        let variance: f64 = lines.iter().map(|l| l.contribution * l.contribution).sum();
        if !variance.is_finite() {
            return Err(UncertaintyError::NoValue {
                input: String::from("the estimates, within the size a number can have"),
            });
        }
        for line in &mut lines {
            let share = line.contribution * line.contribution / variance;
            line.share = if share.is_finite() { share } else { 0.0 };
        }
        let slopes: Vec<f64> = lines.iter().map(|l| l.contribution).collect();
        let (beyond, shift) = near.second_order(value, &slopes);
        Ok(Budget {
            value,
            u: libm::sqrt(variance),
            // Terms with f′f‴ may be negative; no variance is.
            second_order_u: libm::sqrt((variance + beyond).max(0.0)),
            shift,
            lines,
        })
    }
}

impl Budget {
    /// The model at the estimates.
    pub const fn value(&self) -> f64 {
        self.value
    }

    /// Combined standard uncertainty (k = 1), first order.
    pub const fn standard_uncertainty(&self) -> f64 {
        self.u
    }

    /// The same with the terms of second order (JCGM 100:2008, note to
    /// 5.1.2), which hold for normal inputs; infinite where the model has no
    /// value close by that could tell. Beyond 64 sources that vary, terms of
    /// two sources are left out.
    pub const fn second_order_uncertainty(&self) -> f64 {
        self.second_order_u
    }

    /// How far the mean lies from the value, by the second order.
    pub const fn shift_of_the_mean(&self) -> f64 {
        self.shift
    }

    /// A line for each source, in the order they were added.
    pub fn lines(&self) -> &[BudgetLine] {
        &self.lines
    }

    /// Effective degrees of freedom by Welch and Satterthwaite; infinite when
    /// no input comes from few readings, `None` where readings taken together
    /// contribute.
    pub fn degrees_of_freedom(&self) -> Option<f64> {
        let mut sum = 0.0;
        for line in self.lines.iter().filter(|l| l.contribution != 0.0) {
            let c = line.contribution / self.u;
            if line.group.is_some() {
                return None;
            }
            sum += c * c * c * c / line.distribution.degrees_of_freedom();
        }
        Some(1.0 / sum)
    }

    /// Welch and Satterthwaite, each group of readings taken together as one.
    fn effective_dof(&self) -> f64 {
        let mut sum = 0.0;
        for (i, line) in self.lines.iter().enumerate() {
            let (squares, dof) = match line.group {
                None => {
                    let dof = line.distribution.degrees_of_freedom();
                    (line.contribution * line.contribution, dof)
                }
                Some(group) => {
                    let same = |l: &&BudgetLine| l.group == Some(group);
                    if self.lines.iter().take(i).any(|l| same(&l)) {
                        continue;
                    }
                    let squares = |l: &BudgetLine| l.contribution * l.contribution;
                    (self.lines.iter().filter(same).map(squares).sum(), group.dof)
                }
            };
            let share = squares / (self.u * self.u);
            if share > 0.0 {
                sum += share * share / dof;
            }
        }
        1.0 / sum
    }

    /// Half-width of the interval that covers `p` (0.5 to 0.9999): Student's
    /// factor for the effective degrees of freedom, cut down to a whole number
    /// (JCGM 100:2008, G.4.2), times the standard uncertainty. Readings taken
    /// together count as one estimate with as many degrees of freedom as rows,
    /// less one.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn expanded(&self, p: f64) -> Result<f64, OutOfRange> {
        let p = within("coverage probability", p, 0.5, 0.9999, "")?;
        // What rounding takes from a whole number is no degree of freedom.
        let dof = libm::floor(self.effective_dof() * (1.0 + 1e-9)).max(1.0);
        Ok(student_quantile(0.5 + 0.5 * p, dof) * self.u)
    }

    /// Whether the first-order interval is not to be relied on, and why.
    pub fn misleads(&self) -> Option<Misleading> {
        let (first, second) = (self.u * self.u, self.second_order_u * self.second_order_u);
        let rounding = 1e-9 * self.value.abs();
        if !second.is_finite()
            || (second - first).abs() > 0.1 * first + rounding * rounding
            || self.shift.abs() > 0.1 * self.u + rounding
        {
            return Some(Misleading::Curved);
        }
        let skewed = self.lines.iter().filter(|l| !l.distribution.is_normal());
        let (mut share, mut off) = (0.0, 0.0);
        for line in skewed {
            share += line.share;
            off += line.sensitivity * (line.distribution.mean() - line.distribution.estimate());
        }
        let not_normal = share > 0.5 || off.abs() > 0.1 * self.u + rounding;
        not_normal.then_some(Misleading::NotNormal)
    }

    /// Correlation with another result of the same inputs, −1 to 1; `None`
    /// where either has no uncertainty or the inputs differ.
    pub fn correlation_with(&self, other: &Budget) -> Option<f64> {
        if self.lines.len() != other.lines.len() || self.u == 0.0 || other.u == 0.0 {
            return None;
        }
        let both = self.lines.iter().zip(&other.lines);
        let mut covariance = 0.0;
        for (a, b) in both {
            if a.name != b.name {
                return None;
            }
            covariance += a.contribution * b.contribution;
        }
        Some(covariance / (self.u * other.u))
    }
}

/// Sources up to which terms of two of them are worked out.
const MOST_PAIRED: usize = 64;

/// A model near the estimates of its sources, in standard uncertainties.
struct Nearby<'a, F> {
    inputs: &'a Inputs,
    centres: Vec<f64>,
    model: F,
}

impl<'a, F: Fn(Values) -> f64> Nearby<'a, F> {
    fn new(inputs: &'a Inputs, model: F) -> Self {
        Nearby {
            inputs,
            centres: inputs.centres(),
            model,
        }
    }

    /// The model with some sources off by so many standard uncertainties.
    fn at(&self, off: &[(usize, f64)]) -> f64 {
        let mut values = vec![0.0; self.inputs.len()];
        let source = |k: usize| {
            let u = self.inputs.sources[k].distribution.standard_uncertainty();
            let steps = off.iter().filter(|o| o.0 == k).map(|o| o.1).sum::<f64>();
            self.centres[k] + steps * u
        };
        self.inputs.make(source, &mut values);
        (self.model)(Values(&values))
    }

    /// Derivative by one source, Romberg's scheme over three steps.
    fn slope(&self, k: usize, value: f64) -> f64 {
        let central = |h: f64| (self.at(&[(k, h)]) - self.at(&[(k, -h)])) / (2.0 * h);
        let (a, b, c) = (central(0.125), central(0.0625), central(0.031_25));
        let (d, e) = (b + (b - a) / 3.0, c + (c - b) / 3.0);
        let slope = e + (e - d) / 15.0;
        if slope.is_finite() {
            return slope;
        }
        // One side only, second order.
        let side = |h: f64| {
            (4.0 * self.at(&[(k, h)]) - 3.0 * value - self.at(&[(k, 2.0 * h)])) / (2.0 * h)
        };
        let above = side(0.031_25);
        if above.is_finite() {
            above
        } else {
            side(-0.031_25)
        }
    }

    /// What the second order adds to the variance and to the mean:
    /// Σ (½ f″ₖₗ² + f′ₖ f‴ₖₗₗ) and ½ Σ f″ₖₖ. Nothing where the model has no
    /// values to tell it.
    fn second_order(&self, value: f64, slopes: &[f64]) -> (f64, f64) {
        let sources: Vec<usize> = (0..slopes.len())
            .filter(|&k| !self.inputs.sources[k].distribution.is_exact())
            .collect();
        let by_step = |h: f64| -> (f64, f64) {
            let mut variance = 0.0;
            let mut shift = 0.0;
            for (i, &k) in sources.iter().enumerate() {
                let [up, down] = [self.at(&[(k, h)]), self.at(&[(k, -h)])];
                let [far_up, far_down] = [self.at(&[(k, 2.0 * h)]), self.at(&[(k, -2.0 * h)])];
                let bend = (up - 2.0 * value + down) / (h * h);
                let third = (far_up - 2.0 * up + 2.0 * down - far_down) / (2.0 * h * h * h);
                variance += 0.5 * bend * bend + slopes[k] * third;
                shift += 0.5 * bend;
                let pairs = if sources.len() <= MOST_PAIRED {
                    i + 1
                } else {
                    sources.len()
                };
                for &l in &sources[pairs..] {
                    let at = |a: f64, b: f64| self.at(&[(k, a), (l, b)]);
                    let [pp, pm, mp, mm] = [at(h, h), at(h, -h), at(-h, h), at(-h, -h)];
                    let [l_up, l_down] = [self.at(&[(l, h)]), self.at(&[(l, -h)])];
                    let mixed = (pp - pm - mp + mm) / (4.0 * h * h);
                    // f‴ₖₗₗ and f‴ₗₖₖ, each the difference of two bends.
                    let kll = (pp + pm - mp - mm - 2.0 * (up - down)) / (2.0 * h * h * h);
                    let lkk = (pp + mp - pm - mm - 2.0 * (l_up - l_down)) / (2.0 * h * h * h);
                    variance += mixed * mixed + slopes[k] * kll + slopes[l] * lkk;
                }
            }
            (variance, shift)
        };
        let (wide, narrow) = (by_step(0.25), by_step(0.125));
        let limit = |wide: f64, narrow: f64| {
            let limit = narrow + (narrow - wide) / 3.0;
            // No value close by: nobody can tell.
            if limit.is_finite() {
                limit
            } else {
                f64::INFINITY
            }
        };
        (limit(wide.0, narrow.0), limit(wide.1, narrow.1))
    }
}
