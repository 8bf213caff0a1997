//! What is believed of one property, and what a measurement makes of it.

use super::Distribution;
use super::special::{normal_below, normal_quantile};
use crate::quantity::{Estimate, OutOfRange, within};
use crate::source::Range;

/// Places at which a bracketing is weighed, and how far out.
const PLACES: i32 = 400;
const FAR_OUT: f64 = 9.0;
/// Deviations of its own beyond which a limit's chance is no number any more,
/// less those nine.
const FURTHEST_OUT: f64 = 25.0;

/// What is believed of a positive property (a strength, a content, a share):
/// a median, and how far off it may be as a factor.
///
/// The logarithm is taken as normal. A measured value with a normal error of
/// its logarithm then leaves a normal logarithm again, with the weights of the
/// inverse variances (the conjugate case); a bracketing leaves one that is
/// nearly normal, and its mean and variance are kept. Either way no evidence
/// ever widens the belief.
///
/// ```
/// use ferrogall::source::Range;
/// use ferrogall::uncertainty::{Belief, Evidence};
///
/// // Aleppo galls of the catalogue: 35 to 70 % tannin.
/// let prior = Belief::of_range(Range::new(0.35, 0.55, 0.70))?;
/// // A hydrometer says 0.48, give or take 12 %.
/// let after = prior.updated(&Evidence::value(0.48, 0.12 * 0.48)?);
/// assert!(after.median() < prior.median());
/// let (low, high) = after.interval();
/// let (was_low, was_high) = prior.interval();
/// assert!(high / low < was_high / was_low);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    /// Natural logarithm of the median.
    log_median: f64,
    u_ln: f64,
}

impl Belief {
    /// A median (1e-30 to 1e30) and the standard uncertainty of its logarithm
    /// (0 to 20).
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn log_normal(median: f64, u_ln: f64) -> Result<Belief, OutOfRange> {
        let median = within("median", median, 1e-30, 1e30, "")?;
        let u_ln = within("uncertainty of the logarithm", u_ln, 0.0, 20.0, "")?;
        Ok(Belief {
            log_median: libm::log(median),
            u_ln,
        })
    }

    /// The belief that a catalogue's span stands for: its typical value, and
    /// min to max as the width of 95 %, in logarithms.
    ///
    /// # Errors
    /// [`OutOfRange`] for a span that is not positive and in order.
    pub fn of_range(range: Range) -> Result<Belief, OutOfRange> {
        within("typical", range.typical, 1e-30, 1e30, "")?;
        within("min", range.min, 1e-30, range.typical, "")?;
        within("max", range.max, range.typical, 1e30, "")?;
        Belief::log_normal(range.typical, range.u_ln())
    }

    /// The belief that an estimate stands for: its value as the median, its
    /// relative uncertainty as that of the logarithm.
    ///
    /// # Errors
    /// [`OutOfRange`] for a value of 0.
    pub fn of(estimate: Estimate) -> Result<Belief, OutOfRange> {
        Belief::log_normal(estimate.value(), estimate.relative_u())
    }

    /// What is believed after the evidence.
    ///
    /// Evidence that contradicts the belief narrows it all the same: look at
    /// [`surprise`](Self::surprise) first.
    #[must_use]
    pub fn updated(&self, evidence: &Evidence) -> Belief {
        let after = match evidence.0 {
            Kind::Value { log_value, u_ln } => self.weighed(log_value, u_ln),
            Kind::Between(bracket) => self.bracketed(&bracket),
        };
        // Rounding must not widen either.
        Belief {
            u_ln: after.u_ln.min(self.u_ln),
            ..after
        }
    }

    /// What is believed of one factor after the product it goes into became
    /// better known: the galls' tannin after a test of their liquor, which is
    /// tannin times yield. `before` and `after` are beliefs in the product;
    /// the factor takes its share of the shift, by its share of the variance.
    ///
    /// ```
    /// use ferrogall::uncertainty::{Belief, Evidence};
    /// let tannin = Belief::log_normal(0.15, 0.20)?;
    /// let yield_share = Belief::log_normal(0.8, 0.10)?;
    /// let liquor = Belief::log_normal(0.15 * 0.8, 0.05_f64.sqrt())?;
    /// let tested = liquor.updated(&Evidence::value(0.15, 0.0015)?);
    /// let galls = tannin.after_product(&liquor, &tested);
    /// // Four fifths of a shift of 25 %, and the yield's doubt is left.
    /// assert!((galls.median() - 0.15 * 1.25_f64.powf(0.8)).abs() < 1e-3);
    /// assert!(galls.u_ln() < 0.1);
    /// # Ok::<(), ferrogall::quantity::OutOfRange>(())
    /// ```
    #[must_use]
    pub fn after_product(&self, before: &Belief, after: &Belief) -> Belief {
        let (own, whole) = (self.u_ln * self.u_ln, before.u_ln * before.u_ln);
        if whole == 0.0 {
            return *self;
        }
        let share = (own / whole).min(1.0);
        let known = (whole - after.u_ln * after.u_ln).max(0.0);
        Belief {
            log_median: self.log_median + share * (after.log_median - before.log_median),
            u_ln: libm::sqrt((own - share * share * known).max(0.0)),
        }
    }

    /// How many standard deviations lie between the belief and the evidence:
    /// beyond 3, the lot is not what it is taken for, or the test went wrong.
    pub fn surprise(&self, evidence: &Evidence) -> f64 {
        let (off, u_ln) = match evidence.0 {
            Kind::Value { log_value, u_ln } => ((log_value - self.log_median).abs(), u_ln),
            Kind::Between(b) => {
                let off = (b.low - self.log_median).max(self.log_median - b.high);
                (off.max(0.0), libm::hypot(b.judging, b.scale))
            }
        };
        let apart = off / libm::hypot(self.u_ln, u_ln);
        if off == 0.0 { 0.0 } else { apart }
    }

    /// The median.
    pub fn median(&self) -> f64 {
        libm::exp(self.log_median)
    }

    /// Standard uncertainty of the logarithm; about the relative uncertainty.
    pub const fn u_ln(&self) -> f64 {
        self.u_ln
    }

    /// The interval that holds 95 %.
    pub fn interval(&self) -> (f64, f64) {
        let far = NORMAL_95 * self.u_ln;
        (
            libm::exp(self.log_median - far),
            libm::exp(self.log_median + far),
        )
    }

    /// Median and standard uncertainty as the lot builders take them.
    ///
    /// # Errors
    /// [`OutOfRange`] where either exceeds 1e9.
    pub fn estimate(&self) -> Result<Estimate, OutOfRange> {
        Estimate::new(self.median(), self.median() * self.u_ln)
    }

    /// The belief as an input of a budget or of draws.
    ///
    /// # Errors
    /// None for a belief whose median is between 1e-30 and 1e30.
    pub fn distribution(&self) -> Result<Distribution, OutOfRange> {
        Distribution::log_normal(self.median(), self.u_ln)
    }

    /// The belief in `factor` times as much (1e-30 to 1e30).
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn times(&self, factor: f64) -> Result<Belief, OutOfRange> {
        let factor = within("factor", factor, 1e-30, 1e30, "")?;
        Ok(Belief {
            log_median: self.log_median + libm::log(factor),
            ..*self
        })
    }

    fn weighed(&self, log_value: f64, u_ln: f64) -> Belief {
        let (prior, error) = (self.u_ln * self.u_ln, u_ln * u_ln);
        if prior + error == 0.0 {
            return *self;
        }
        let gain = prior / (prior + error);
        Belief {
            log_median: self.log_median + gain * (log_value - self.log_median),
            u_ln: libm::sqrt(prior * error / (prior + error)),
        }
    }

    /// Mean and variance of the belief times the chance of the judgement.
    fn bracketed(&self, bracket: &Bracketing) -> Belief {
        if self.u_ln == 0.0 {
            return *self;
        }
        let blur = libm::hypot(bracket.judging, bracket.scale);
        if bracket.low == bracket.high {
            return self.weighed(bracket.low, blur);
        }
        // How far the nearer limit lies off, and how many of its own deviations
        // the product will lie beyond it.
        let off = (bracket.low - self.log_median).max(self.log_median - bracket.high);
        let off = off.max(0.0);
        let beyond = off * blur / (self.u_ln * self.u_ln + blur * blur);
        if beyond > FURTHEST_OUT || (blur == 0.0 && off > FAR_OUT * self.u_ln) {
            return self.contradicted(bracket, blur);
        }
        let own = FAR_OUT * self.u_ln + off;
        let its = (FAR_OUT + beyond) * blur;
        let from = (self.log_median - own).max(bracket.low - its);
        let to = (self.log_median + own).min(bracket.high + its);
        let step = (to - from) / f64::from(PLACES);
        let shared = Bracketing::shared();
        let log_weight = |x: f64| -> f64 {
            let z = (x - self.log_median) / self.u_ln;
            -0.5 * z * z + libm::log(bracket.chance(x, &shared).max(1e-300))
        };
        let places: Vec<(f64, f64)> = (0..PLACES)
            .map(|i| from + (f64::from(i) + 0.5) * step)
            .map(|x| (x, log_weight(x)))
            .collect();
        let most = places.iter().map(|p| p.1).fold(f64::MIN, f64::max);
        let (mut sum, mut first, mut second) = (0.0, 0.0, 0.0);
        for (x, log_weight) in places {
            let w = libm::exp(log_weight - most);
            let d = x - self.log_median;
            sum += w;
            first += w * d;
            second += w * d * d;
        }
        let mean = first / sum;
        let variance = (second / sum - mean * mean).max(0.0);
        Belief {
            log_median: self.log_median + mean,
            u_ln: libm::sqrt(variance),
        }
    }

    /// Too far off to be weighed place by place: the edge acts as a value
    /// blurred like it, and a sharp edge holds what is pressed against it, in
    /// an exponential tail.
    fn contradicted(&self, bracket: &Bracketing, blur: f64) -> Belief {
        let edge = if bracket.low > self.log_median {
            bracket.low
        } else {
            bracket.high
        };
        let tail = self.u_ln * self.u_ln / (edge - self.log_median).abs();
        let after = self.weighed(edge, blur);
        Belief {
            u_ln: after.u_ln.max(tail.min(self.u_ln)),
            ..after
        }
    }
}

/// Deviation that leaves a fortieth outside on either side.
pub(crate) const NORMAL_95: f64 = 1.959_963_984_540_054;

/// What a test says of a positive property.
///
/// ```
/// use ferrogall::uncertainty::{Belief, Evidence};
/// let prior = Belief::log_normal(1.0, 0.5)?;
/// // The ninth drop still darkened, the twelfth did not; judged to 10 %.
/// let spot = Evidence::between(0.9, 1.2, 0.1)?;
/// assert!(prior.updated(&spot).u_ln() < 0.2);
/// assert!(Evidence::value(-1.0, 0.1).is_err());
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evidence(Kind);

#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    Value { log_value: f64, u_ln: f64 },
    Between(Bracketing),
}

/// Logarithms of the limits, and what blurs them.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Bracketing {
    low: f64,
    high: f64,
    /// Of judging either limit, each by itself.
    judging: f64,
    /// Of what moves both alike.
    scale: f64,
}

/// Places over which the common error is averaged.
const SCALES: i32 = 48;

impl Bracketing {
    /// How likely the limits were found where they were, the truth being `x`.
    fn chance(&self, x: f64, shared: &[f64]) -> f64 {
        if self.scale == 0.0 {
            return self.judged(x);
        }
        if self.judging == 0.0 {
            // Differences in the near tail keep their digits.
            let (a, b) = ((self.low - x) / self.scale, (self.high - x) / self.scale);
            return if a > 0.0 {
                normal_below(-a) - normal_below(-b)
            } else {
                normal_below(b) - normal_below(a)
            };
        }
        let each = shared.iter().map(|z| self.judged(x + self.scale * z));
        each.sum::<f64>() / shared.len() as f64
    }

    /// The error both limits have in common, in standard deviations: the
    /// middles of even parts, stretched to a deviation of 1.
    fn shared() -> Vec<f64> {
        let parts = (0..SCALES).map(|i| (f64::from(i) + 0.5) / f64::from(SCALES));
        let middles: Vec<f64> = parts.map(normal_quantile).collect();
        let square = middles.iter().map(|z| z * z).sum::<f64>() / f64::from(SCALES);
        middles.iter().map(|z| z / libm::sqrt(square)).collect()
    }

    fn judged(&self, x: f64) -> f64 {
        if self.judging == 0.0 {
            return f64::from(u8::from(self.low <= x && x <= self.high));
        }
        let (a, b) = (
            (x - self.low) / self.judging,
            (self.high - x) / self.judging,
        );
        normal_below(a) * normal_below(b)
    }
}

impl Evidence {
    /// A measured value (1e-30 to 1e30) with its standard uncertainty; the
    /// relative one is taken as that of the logarithm.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn value(value: f64, u: f64) -> Result<Evidence, OutOfRange> {
        let value = within("measured value", value, 1e-30, 1e30, "")?;
        let u_ln = within("relative uncertainty", u / value, 0.0, 20.0, "")?;
        Ok(Evidence(Kind::Value {
            log_value: libm::log(value),
            u_ln,
        }))
    }

    /// A measured estimate; its value must be above 0.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn of(estimate: Estimate) -> Result<Evidence, OutOfRange> {
        Evidence::value(estimate.value(), estimate.u())
    }

    /// The same test as evidence of a property that is `factor` times as much
    /// (1e-30 to 1e30), the factor itself known to `u_ln` (0 to 20): tannin of
    /// a gall from that of its liquor, galloyl from tannin.
    ///
    /// # Errors
    /// [`OutOfRange`].
    ///
    /// ```
    /// use ferrogall::uncertainty::{Belief, Evidence};
    /// let liquor = Evidence::value(0.03, 0.002)?;
    /// let galls = liquor.times(1.0 / 0.08, 0.1)?; // 8 % of the galls' mass share, give or take a tenth
    /// assert!((Belief::log_normal(1.0, 20.0)?.updated(&galls).median() - 0.375).abs() < 0.001);
    /// # Ok::<(), ferrogall::quantity::OutOfRange>(())
    /// ```
    pub fn times(&self, factor: f64, u_ln: f64) -> Result<Evidence, OutOfRange> {
        let shift = libm::log(within("factor", factor, 1e-30, 1e30, "")?);
        let more = within("uncertainty of the factor", u_ln, 0.0, 20.0, "")?;
        Ok(Evidence(match self.0 {
            Kind::Value { log_value, u_ln } => Kind::Value {
                log_value: log_value + shift,
                u_ln: libm::hypot(u_ln, more),
            },
            Kind::Between(b) => Kind::Between(Bracketing {
                low: b.low + shift,
                high: b.high + shift,
                scale: libm::hypot(b.scale, more),
                ..b
            }),
        }))
    }

    /// Somewhere between two limits, each judged with a standard uncertainty
    /// of its logarithm (0 to 20): "it still darkened here, no more there". An
    /// error that both limits share comes on top by [`times`](Self::times)
    /// with a factor of 1.
    ///
    /// # Errors
    /// [`OutOfRange`] for limits that are not positive and in order.
    pub fn between(low: f64, high: f64, judging_u_ln: f64) -> Result<Evidence, OutOfRange> {
        let low = within("lower limit", low, 1e-30, 1e30, "")?;
        let high = within("upper limit", high, low, 1e30, "")?;
        Ok(Evidence(Kind::Between(Bracketing {
            low: libm::log(low),
            high: libm::log(high),
            judging: within("uncertainty of judging", judging_u_ln, 0.0, 20.0, "")?,
            scale: 0.0,
        })))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Two normal figures of one thing combine with the weights of their
    /// inverse variances.
    #[test]
    fn a_value_is_weighed_against_the_belief() -> Result<(), OutOfRange> {
        let prior = Belief::log_normal(1.0, 0.3)?;
        let after = prior.updated(&Evidence::value(libm::exp(0.5), 0.4 * libm::exp(0.5))?);
        assert_relative_eq!(after.u_ln(), 0.24, max_relative = 1e-12);
        assert_relative_eq!(after.median(), libm::exp(0.5 * 0.36), max_relative = 1e-12);
        Ok(())
    }

    /// A belief far wider than a sharp bracket is left with a rectangle:
    /// width over √12, in logarithms.
    #[test]
    fn a_sharp_bracket_leaves_a_rectangle() -> Result<(), OutOfRange> {
        let prior = Belief::log_normal(1.0, 20.0)?;
        let after = prior.updated(&Evidence::between(2.0, 3.0, 0.0)?);
        // The belief still leans by its variance times its slope, 3e-5.
        assert_relative_eq!(after.median(), libm::sqrt(6.0), max_relative = 1e-4);
        assert_relative_eq!(
            after.u_ln(),
            libm::log(1.5) / libm::sqrt(12.0),
            max_relative = 1e-4
        );
        // One limit far away: the half of a normal distribution.
        let half = Belief::log_normal(1.0, 0.3)?.updated(&Evidence::between(1.0, 1e6, 0.0)?);
        let spread = 0.3 * libm::sqrt(1.0 - 2.0 / core::f64::consts::PI);
        assert_relative_eq!(half.u_ln(), spread, max_relative = 1e-3);
        Ok(())
    }

    #[test]
    fn contradictions_are_noticed() -> Result<(), OutOfRange> {
        let galls = Belief::log_normal(0.55, 0.15)?;
        assert!(galls.surprise(&Evidence::value(0.15, 0.015)?) > 5.0);
        assert!(galls.surprise(&Evidence::between(0.4, 0.7, 0.1)?) == 0.0);
        let far = galls.updated(&Evidence::between(1e-20, 1e-19, 0.0)?);
        assert!(far.u_ln() <= galls.u_ln());
        assert_relative_eq!(far.median(), 1e-19, max_relative = 1e-9);
        // The further a blurred bound contradicts, the further the belief
        // follows, without a jump.
        let prior = Belief::log_normal(0.5, 0.2)?;
        let mut last = prior;
        for bound in [0.3, 0.2, 0.1, 0.08, 0.06, 0.05, 0.02, 0.001] {
            let after = prior.updated(&Evidence::between(1e-12, bound, 0.05)?);
            assert!(after.median() < last.median(), "{bound}");
            assert!(
                after.u_ln() <= last.u_ln() * 1.01 && after.median() < 1.5 * bound,
                "{bound}"
            );
            last = after;
        }
        // A point is a value.
        let point = prior.updated(&Evidence::between(1.2, 1.2, 0.0)?);
        assert_eq!((point.median(), point.u_ln()), (1.2, 0.0));
        Ok(())
    }

    /// An error that both limits share is that of the middle: a flat belief is
    /// left with it and the rectangle between the limits.
    #[test]
    fn a_shared_error_is_no_judging() -> Result<(), OutOfRange> {
        let flat = Belief::log_normal(1.0, 20.0)?;
        let rectangle = libm::log(1.5) / libm::sqrt(12.0);
        for judging in [0.0, 0.02] {
            let bracket = Evidence::between(1.0, 1.5, judging)?.times(1.0, 0.4)?;
            let expected = libm::hypot(rectangle, 0.4);
            assert_relative_eq!(flat.updated(&bracket).u_ln(), expected, max_relative = 3e-3);
        }
        Ok(())
    }
}
