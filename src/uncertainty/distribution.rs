//! What is known of one input.

use super::special::{normal_quantile, student_quantile};
use crate::quantity::{OutOfRange, within};
use crate::source::Range;
use core::f64::consts::PI;

/// Largest size of a value or a width.
const LARGEST: f64 = 1e30;
/// Most degrees of freedom told apart from infinitely many.
const MOST_FREEDOM: f64 = 1e9;
/// Parts by which the mean and spread of a truncated distribution are summed.
const PARTS: u32 = 4096;

/// What is known of one input, as a probability distribution.
///
/// A bare "±" says too little, so every constructor names what the figure
/// beside the value means (JCGM 100:2008, 4.3; JCGM 101:2008, table 1).
///
/// ```
/// use ferrogall::uncertainty::Distribution;
/// // A balance that shows 0.1 g, read twice because of the tare.
/// let weighed = Distribution::weighed(12.3, 0.1)?;
/// assert!((weighed.standard_uncertainty() - 0.0408).abs() < 1e-4);
/// // "between 9 and 11" and nothing else.
/// let between = Distribution::rectangular(9.0, 11.0)?;
/// assert!((between.standard_uncertainty() - 1.0 / 3_f64.sqrt()).abs() < 1e-15);
/// assert_eq!(between.quantile(0.025), 9.05);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distribution {
    shape: Shape,
    /// Parts of the shape that are left when its ends are cut off.
    from: f64,
    to: f64,
    estimate: f64,
    mean: f64,
    u: f64,
    dof: f64,
}

/// A log-normal is as good as normal up to this uncertainty of the logarithm.
const HARDLY_SKEWED: f64 = 0.05;

#[derive(Debug, Clone, Copy, PartialEq)]
enum Shape {
    Exact(f64),
    Normal {
        mean: f64,
        u: f64,
    },
    LogNormal {
        median: f64,
        u_ln: f64,
    },
    Rectangular {
        low: f64,
        high: f64,
    },
    Triangular {
        low: f64,
        high: f64,
    },
    Arcsine {
        low: f64,
        high: f64,
    },
    Student {
        location: f64,
        scale: f64,
        dof: f64,
    },
    CurvilinearTrapezoid {
        centre: f64,
        half: f64,
        inexact: f64,
    },
    Span(Range),
    SpanOfLogarithm(Range),
}

impl Distribution {
    /// A value taken as known; from −1e30 to 1e30.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn exact(value: f64) -> Result<Distribution, OutOfRange> {
        let value = finite("value", value)?;
        Ok(Distribution::new(Shape::Exact(value), value, 0.0))
    }

    /// A value with its standard uncertainty (k = 1), normally distributed.
    /// An expanded uncertainty U with its k is `normal(x, U / k)`.
    ///
    /// # Errors
    /// [`OutOfRange`] for a negative or infinite uncertainty.
    pub fn normal(mean: f64, u: f64) -> Result<Distribution, OutOfRange> {
        let mean = finite("mean", mean)?;
        let u = width("standard uncertainty", u)?;
        Ok(Distribution::new(Shape::Normal { mean, u }, mean, u))
    }

    /// A positive value known to a factor: its logarithm is normal with
    /// standard uncertainty `u_ln` (0 to 20; 0.2 is about 20 %). Its estimate
    /// is the median, which is what "the best figure" of a natural strength
    /// means throughout the crate.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn log_normal(median: f64, u_ln: f64) -> Result<Distribution, OutOfRange> {
        let median = within("median", median, 1e-30, LARGEST, "")?;
        let u_ln = within("uncertainty of the logarithm", u_ln, 0.0, 20.0, "")?;
        let square = u_ln * u_ln;
        let mut out = Distribution::new(Shape::LogNormal { median, u_ln }, median, 0.0);
        out.mean = median * libm::exp(0.5 * square);
        out.u = out.mean * libm::sqrt(libm::expm1(square));
        Ok(out)
    }

    /// Anywhere between two limits, each place as likely as the next.
    ///
    /// # Errors
    /// [`OutOfRange`] where `high` is below `low`.
    pub fn rectangular(low: f64, high: f64) -> Result<Distribution, OutOfRange> {
        let (centre, half) = limits(low, high)?;
        let u = half / libm::sqrt(3.0);
        Ok(Distribution::new(
            Shape::Rectangular { low, high },
            centre,
            u,
        ))
    }

    /// Between two limits, the middle likelier than the ends: a flask or a
    /// pipette within its tolerance.
    ///
    /// # Errors
    /// [`OutOfRange`] where `high` is below `low`.
    pub fn triangular(low: f64, high: f64) -> Result<Distribution, OutOfRange> {
        let (centre, half) = limits(low, high)?;
        let u = half / libm::sqrt(6.0);
        Ok(Distribution::new(
            Shape::Triangular { low, high },
            centre,
            u,
        ))
    }

    /// Between two limits, the ends likelier than the middle: what swings to
    /// and fro, such as a room's temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] where `high` is below `low`.
    pub fn arcsine(low: f64, high: f64) -> Result<Distribution, OutOfRange> {
        let (centre, half) = limits(low, high)?;
        let u = half / libm::sqrt(2.0);
        Ok(Distribution::new(Shape::Arcsine { low, high }, centre, u))
    }

    /// Student's distribution about `location`, stretched by `scale`, with
    /// `dof` degrees of freedom (1 to 1e9). The standard uncertainty of a
    /// first-order budget is `scale`, as in JCGM 100. A draw costs some
    /// microseconds, a hundred times a normal one.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn student(location: f64, scale: f64, dof: f64) -> Result<Distribution, OutOfRange> {
        let location = finite("location", location)?;
        let scale = width("scale", scale)?;
        let dof = within("degrees of freedom", dof, 1.0, MOST_FREEDOM, "")?;
        let shape = Shape::Student {
            location,
            scale,
            dof,
        };
        let mut out = Distribution::new(shape, location, scale);
        out.dof = dof;
        Ok(out)
    }

    /// The mean of repeated readings (2 to 1e6 of them): Student's
    /// distribution with `n − 1` degrees of freedom, scaled by s/√n.
    ///
    /// # Errors
    /// [`OutOfRange`] for fewer than two readings or one that is no number.
    pub fn repeated(readings: &[f64]) -> Result<Distribution, OutOfRange> {
        let n = within("number of readings", readings.len() as f64, 2.0, 1e6, "")?;
        for &reading in readings {
            finite("reading", reading)?;
        }
        let mean = readings.iter().sum::<f64>() / n;
        let squares: f64 = readings.iter().map(|r| (r - mean) * (r - mean)).sum();
        let s = libm::sqrt(squares / (n - 1.0));
        Distribution::student(mean, s / libm::sqrt(n), n - 1.0)
    }

    /// A rectangular distribution whose limits are themselves known to
    /// ±`inexact` only (JCGM 101:2008, 6.4.3).
    ///
    /// # Errors
    /// [`OutOfRange`] where `inexact` is negative or exceeds half the width.
    pub fn curvilinear_trapezoid(
        low: f64,
        high: f64,
        inexact: f64,
    ) -> Result<Distribution, OutOfRange> {
        let (centre, half) = limits(low, high)?;
        let inexact = within("inexactness of the limits", inexact, 0.0, half, "")?;
        if inexact == 0.0 {
            return Distribution::rectangular(low, high);
        }
        let shape = Shape::CurvilinearTrapezoid {
            centre,
            half,
            inexact,
        };
        let u = libm::sqrt(half * half / 3.0 + inexact * inexact / 9.0);
        Ok(Distribution::new(shape, centre, u))
    }

    /// A span of the literature: half of the draws on either side of the
    /// typical value, evenly spread; the estimate is the typical value.
    ///
    /// # Errors
    /// [`OutOfRange`] where min, typical, max are not in order.
    pub fn span(range: Range) -> Result<Distribution, OutOfRange> {
        ordered(range, -LARGEST)?;
        let (below, above) = (range.typical - range.min, range.max - range.typical);
        let mean_square = (below * below + above * above) / 6.0;
        let shift = (above - below) / 4.0;
        let u = libm::sqrt(mean_square - shift * shift);
        let mut out = Distribution::new(Shape::Span(range), range.typical, u);
        out.mean += shift;
        Ok(out)
    }

    /// As [`span`](Self::span), evenly spread in the logarithm; for what is
    /// known to an order of magnitude. All three figures above 0.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn span_log(range: Range) -> Result<Distribution, OutOfRange> {
        ordered(range, 1e-30)?;
        let mut out = Distribution::new(Shape::SpanOfLogarithm(range), range.typical, 0.0);
        out.mean = out.summed_mean();
        out.u = out.summed_u(out.mean);
        Ok(out)
    }

    /// A weighing: the balance shows steps of `step` and is read twice, for
    /// the vessel and with the load. Each reading is off by up to half a step,
    /// so the difference is triangular, and u is step/√6.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn weighed(value: f64, step: f64) -> Result<Distribution, OutOfRange> {
        let step = width("step", step)?;
        Distribution::triangular(value - step, value + step)
    }

    /// The same between `low` and `high` only: what lies outside cannot be,
    /// and what is left keeps its proportions.
    ///
    /// # Errors
    /// [`OutOfRange`] where less than a millionth of it would be left.
    pub fn between(self, low: f64, high: f64) -> Result<Distribution, OutOfRange> {
        if let Shape::Exact(x) = self.shape {
            within("exact value", x, low, high, "")?;
            return Ok(self);
        }
        limits(low, high)?;
        let (from, to) = (self.part_below(low), self.part_below(high));
        let left = (to - from) * (self.to - self.from);
        within("share inside the limits", left, 1e-6, 1.0, "")?;
        let inside = Distribution {
            from: self.from + from * (self.to - self.from),
            to: self.from + to * (self.to - self.from),
            ..self
        };
        // Too little is cut off to show in the spread.
        if 1.0 - left < 1e-5 {
            return Ok(inside);
        }
        let mean = inside.summed_mean();
        let middle = inside.quantile(0.5);
        let usual = inside.quantile(0.025)..=inside.quantile(0.975);
        let keeps = usual.contains(&self.estimate);
        Ok(Distribution {
            estimate: if keeps { self.estimate } else { middle },
            mean,
            u: inside.summed_u(mean),
            ..inside
        })
    }

    /// What stands for the input in a first-order budget: the mean, of a
    /// log-normal the median, of a span its typical value. Where a cut leaves
    /// that outside the middle 95 %, the median of what is left.
    pub const fn estimate(&self) -> f64 {
        self.estimate
    }

    /// The mean.
    pub const fn mean(&self) -> f64 {
        self.mean
    }

    /// Standard uncertainty (k = 1): the standard deviation (of Student's
    /// distribution the scale).
    pub const fn standard_uncertainty(&self) -> f64 {
        self.u
    }

    /// Degrees of freedom behind the uncertainty; infinite unless it comes
    /// from few readings.
    pub const fn degrees_of_freedom(&self) -> f64 {
        self.dof
    }

    /// The same, its uncertainty counted as known with so many degrees of
    /// freedom (1 to 1e9) in a budget. Draws do not change.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn with_degrees_of_freedom(mut self, dof: f64) -> Result<Distribution, OutOfRange> {
        self.dof = within("degrees of freedom", dof, 1.0, MOST_FREEDOM, "")?;
        Ok(self)
    }

    /// Whether there is nothing to draw.
    pub fn is_exact(&self) -> bool {
        self.u == 0.0
    }

    /// Whether a normal interval (k = 1.96 for 95 %) fits its shape: what is
    /// normal, or log-normal within 5 %, and not cut by more than a thousandth.
    pub fn is_normal(&self) -> bool {
        let whole = self.from < 1e-3 && self.to > 1.0 - 1e-3;
        let normal = match self.shape {
            Shape::Exact(_) | Shape::Normal { .. } | Shape::Student { .. } => true,
            Shape::LogNormal { u_ln, .. } => u_ln <= HARDLY_SKEWED,
            _ => false,
        };
        whole && normal
    }

    /// The value below which this part (0 to 1) of the distribution lies. NaN
    /// for a part that is none.
    pub fn quantile(&self, part: f64) -> f64 {
        if part.is_nan() || !(0.0..=1.0).contains(&part) {
            return f64::NAN;
        }
        let part = self.from + part * (self.to - self.from);
        match self.shape {
            Shape::Exact(x) => x,
            Shape::Normal { mean, u } => scaled(mean, u, normal_quantile(part)),
            Shape::LogNormal { median, u_ln } => {
                median * libm::exp(scaled(0.0, u_ln, normal_quantile(part)))
            }
            Shape::Rectangular { low, high } => low + part * (high - low),
            Shape::Triangular { low, high } => triangular(low, high, part),
            Shape::Arcsine { low, high } => {
                0.5 * (low + high) - 0.5 * (high - low) * libm::cos(PI * part)
            }
            Shape::Student {
                location,
                scale,
                dof,
            } => scaled(location, scale, student_quantile(part, dof)),
            Shape::CurvilinearTrapezoid {
                centre,
                half,
                inexact,
            } => centre + trapezoid(half, inexact, part),
            Shape::Span(range) => range.at(part),
            Shape::SpanOfLogarithm(range) => {
                let logarithm = Range::new(
                    libm::log(range.min),
                    libm::log(range.typical),
                    libm::log(range.max),
                );
                libm::exp(logarithm.at(part))
            }
        }
    }

    const fn new(shape: Shape, estimate: f64, u: f64) -> Distribution {
        Distribution {
            shape,
            from: 0.0,
            to: 1.0,
            estimate,
            mean: estimate,
            u,
            dof: f64::INFINITY,
        }
    }

    /// Part below a value: the quantile rises, so halving finds it.
    fn part_below(&self, value: f64) -> f64 {
        if self.quantile(0.0) >= value {
            return 0.0;
        }
        if self.quantile(1.0) <= value {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..64 {
            let middle = 0.5 * (low + high);
            if self.quantile(middle) < value {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }

    fn summed(&self, f: impl Fn(f64) -> f64) -> f64 {
        let parts = (0..PARTS).map(|i| (f64::from(i) + 0.5) / f64::from(PARTS));
        parts.map(|p| f(self.quantile(p))).sum::<f64>() / f64::from(PARTS)
    }

    fn summed_mean(&self) -> f64 {
        self.summed(|x| x)
    }

    fn summed_u(&self, mean: f64) -> f64 {
        libm::sqrt(self.summed(|x| (x - mean) * (x - mean)))
    }
}

/// Nothing times an infinite deviation is nothing.
fn scaled(centre: f64, u: f64, deviation: f64) -> f64 {
    if u == 0.0 {
        centre
    } else {
        centre + u * deviation
    }
}

fn triangular(low: f64, high: f64, part: f64) -> f64 {
    let half = 0.5 * (high - low);
    if part < 0.5 {
        low + half * libm::sqrt(2.0 * part)
    } else {
        high - half * libm::sqrt(2.0 * (1.0 - part))
    }
}

/// Deviation from the centre of a rectangle of half-width `half ± inexact`.
fn trapezoid(half: f64, inexact: f64, part: f64) -> f64 {
    let (inner, outer) = (half - inexact, half + inexact);
    let beyond = (part - 0.5).abs();
    // Part between the centre and x, from the density ln(outer/x)/(4 inexact).
    let flat = libm::log(outer / inner) / (4.0 * inexact);
    if beyond <= flat * inner {
        return (beyond / flat).copysign(part - 0.5);
    }
    let within = |x: f64| (x - inner + x * libm::log(outer / x)) / (4.0 * inexact);
    let (mut low, mut high) = (inner, outer);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if within(middle) < beyond {
            low = middle;
        } else {
            high = middle;
        }
    }
    (0.5 * (low + high)).copysign(part - 0.5)
}

fn finite(what: &'static str, value: f64) -> Result<f64, OutOfRange> {
    within(what, value, -LARGEST, LARGEST, "")
}

fn width(what: &'static str, value: f64) -> Result<f64, OutOfRange> {
    within(what, value, 0.0, LARGEST, "")
}

/// Centre and half-width.
fn limits(low: f64, high: f64) -> Result<(f64, f64), OutOfRange> {
    finite("lower limit", low)?;
    within("upper limit", high, low, LARGEST, "")?;
    Ok((0.5 * (low + high), 0.5 * (high - low)))
}

fn ordered(range: Range, least: f64) -> Result<(), OutOfRange> {
    within("min", range.min, least, LARGEST, "")?;
    within("typical", range.typical, range.min, LARGEST, "")?;
    within("max", range.max, range.typical, LARGEST, "")?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use core::f64::consts::FRAC_PI_2;

    fn every_shape() -> Result<Vec<Distribution>, OutOfRange> {
        Ok(vec![
            Distribution::normal(3.0, 0.2)?,
            Distribution::rectangular(1.0, 4.0)?,
            Distribution::triangular(-1.0, 1.0)?,
            Distribution::arcsine(0.0, 2.0)?,
            Distribution::student(1.0, 0.5, 40.0)?,
            Distribution::curvilinear_trapezoid(-1.0, 1.0, 0.5)?,
            Distribution::span(Range::new(1.0, 2.0, 6.0))?,
            Distribution::span_log(Range::new(0.01, 1.0, 5.0))?,
        ])
    }

    /// The standard uncertainties of JCGM 101, table 1, against the integral
    /// over each shape's own quantiles.
    #[test]
    fn closed_forms_of_the_spread_are_those_of_the_quantiles() -> Result<(), OutOfRange> {
        for d in every_shape()? {
            let mean = d.summed_mean();
            let own = match d.shape {
                // A budget takes the scale; the spread is wider.
                Shape::Student { dof, .. } => d.u * libm::sqrt(dof / (dof - 2.0)),
                _ => d.u,
            };
            // 4096 parts leave out the far tails.
            assert_relative_eq!(d.summed_u(mean), own, max_relative = 2e-3);
        }
        Ok(())
    }

    #[test]
    fn quantiles_rise_and_meet_their_limits() -> Result<(), OutOfRange> {
        for d in every_shape()? {
            let values: Vec<f64> = (1..1000)
                .map(|i| d.quantile(f64::from(i) / 1000.0))
                .collect();
            assert!(values.windows(2).all(|w| w[0] < w[1]), "{d:?}");
            assert!(d.quantile(f64::NAN).is_nan() && d.quantile(1.5).is_nan());
        }
        let trapezoid = Distribution::curvilinear_trapezoid(-1.0, 1.0, 0.5)?;
        // Its density ends in nothing, so the last bit of the part is 1e-8 here.
        assert_relative_eq!(trapezoid.quantile(1.0), 1.5, max_relative = 1e-7);
        assert_relative_eq!(trapezoid.quantile(0.0), -1.5, max_relative = 1e-7);
        Ok(())
    }

    /// A half-normal distribution has mean √(2/π) and variance 1 − 2/π.
    #[test]
    fn a_normal_cut_in_half() -> Result<(), OutOfRange> {
        let half = Distribution::normal(0.0, 1.0)?.between(0.0, 100.0)?;
        let mean = libm::sqrt(1.0 / FRAC_PI_2);
        assert_relative_eq!(half.summed_mean(), mean, max_relative = 1e-3);
        assert_relative_eq!(half.u, libm::sqrt(1.0 - 2.0 / PI), max_relative = 3e-3);
        assert_relative_eq!(half.quantile(0.95), 1.959_963_985, max_relative = 1e-9);
        assert!(Distribution::normal(0.0, 1.0)?.between(6.0, 7.0).is_err());
        Ok(())
    }

    #[test]
    fn what_makes_no_sense_is_refused() {
        assert!(Distribution::normal(f64::NAN, 1.0).is_err());
        assert!(Distribution::normal(0.0, -1.0).is_err());
        assert!(Distribution::rectangular(2.0, 1.0).is_err());
        assert!(Distribution::log_normal(0.0, 0.1).is_err());
        assert!(Distribution::student(0.0, 1.0, 0.5).is_err());
        assert!(Distribution::repeated(&[1.0]).is_err());
        assert!(Distribution::curvilinear_trapezoid(0.0, 1.0, 0.6).is_err());
        assert!(Distribution::span(Range::new(1.0, 0.5, 2.0)).is_err());
    }
}
