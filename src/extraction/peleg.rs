//! Peleg's curve, for those who have measured.

use super::ExtractionError;
use super::grain::LONGEST_S;
use crate::quantity::{Estimate, Share, Time, within};
use uom::si::f64::Frequency;

/// Smallest and largest yield taken.
const LEAST: f64 = 1e-12;
const MOST: f64 = 1e12;

/// Peleg's curve of a yield against time: q(t) = t/(K₁ + K₂ t).
///
/// The yield is a pure ratio (gram per gram of dry plant, or a share); 1/K₁ is
/// its rate at the start, 1/K₂ what it tends to. It fits the extraction of
/// grape seed with r above 0.994 (Bučić-Kojić et al. 2007). It is a curve, no
/// mechanism: it cannot be carried over to another grain or temperature.
///
/// ```
/// use ferrogall::extraction::Peleg;
/// use ferrogall::quantity::*;
/// // Yields of one soak, g per g of galls, after 1, 4 and 24 hours.
/// let fit = Peleg::fit(&[(hours(1.0), 0.21), (hours(4.0), 0.34), (hours(24.0), 0.41)])?;
/// assert!((fit.limit().value() - 0.43).abs() < 0.01);
/// let nine_tenths = fit.time_to(Share::percent(90.0)?)?;
/// assert!(nine_tenths > hours(6.0) && nine_tenths < hours(12.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peleg {
    /// s
    k1: f64,
    k2: f64,
    u1: f64,
    u2: f64,
    covariance: f64,
}

impl Peleg {
    /// From published constants: K₁ (1e-9 s to ten years per unit of yield) and
    /// K₂ (1e-12 to 1e12 per unit of yield).
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn new(k1: Time, k2: f64) -> Result<Peleg, ExtractionError> {
        Ok(Peleg {
            k1: within("K1", k1.value, 1e-9, LONGEST_S, "s")?,
            k2: within("K2", k2, LEAST, MOST, "")?,
            u1: 0.0,
            u2: 0.0,
            covariance: 0.0,
        })
    }

    /// The same with what a fit says of its uncertainty: standard uncertainties of
    /// K₁ (up to ten years) and K₂ (up to 1e12), and their covariance, at most the
    /// product of the two.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    ///
    /// ```
    /// use ferrogall::extraction::Peleg;
    /// use ferrogall::quantity::*;
    /// let fit = Peleg::fit(&[(hours(1.0), 0.21), (hours(4.0), 0.34), (hours(24.0), 0.41)])?;
    /// let ((k1, u1), (k2, u2)) = (fit.k1(), fit.k2());
    /// assert_eq!(Peleg::new(k1, k2)?.known_to(u1, u2, fit.covariance())?, fit);
    /// # Ok::<(), ferrogall::extraction::ExtractionError>(())
    /// ```
    pub fn known_to(
        mut self,
        k1_u: Time,
        k2_u: f64,
        covariance: Time,
    ) -> Result<Peleg, ExtractionError> {
        self.u1 = within("uncertainty of K1", k1_u.value, 0.0, LONGEST_S, "s")?;
        self.u2 = within("uncertainty of K2", k2_u, 0.0, MOST, "")?;
        // A fit may be off by rounding where both are one.
        let most = self.u1 * self.u2 * (1.0 + 1e-9);
        self.covariance = within(
            "covariance of K1 and K2",
            covariance.value,
            -most,
            most,
            "s",
        )?;
        Ok(self)
    }

    /// Least squares of t/q = K₁ + K₂ t through three or more measurements
    /// (up to 10 000). Each is weighted by q⁴/t², which makes the squares those
    /// of errors of q that are all of one size; without weights the late, flat
    /// part would rule. The scatter about the line gives the uncertainties.
    ///
    /// # Errors
    /// [`ExtractionError::CannotFit`] for fewer than three, all at one time, or
    /// a scatter that leaves K₁ or K₂ negative; [`ExtractionError::OutOfRange`]
    /// for times outside 1 ms to ten years, yields outside 1e-12 to 1e12.
    pub fn fit(measured: &[(Time, f64)]) -> Result<Peleg, ExtractionError> {
        let cannot = |why| Err(ExtractionError::CannotFit { why });
        if measured.len() < 3 {
            return cannot("three measurements are the least");
        }
        within(
            "number of measurements",
            measured.len() as f64,
            3.0,
            1e4,
            "",
        )?;
        let (mut longest, mut highest) = (0.0_f64, 0.0_f64);
        for &(t, q) in measured {
            longest = longest.max(within("time", t.value, 1e-3, LONGEST_S, "s")?);
            highest = highest.max(within("yield", q, LEAST, MOST, "")?);
        }
        // In units of the largest, so that nothing overflows.
        let points = || {
            measured
                .iter()
                .map(|&(t, q)| (t.value / longest, q / highest))
        };
        let weight = |t: f64, q: f64| (q * q / t) * (q * q / t);
        let (mut sw, mut swx, mut swy) = (0.0, 0.0, 0.0);
        for (t, q) in points() {
            let w = weight(t, q);
            sw += w;
            swx += w * t;
            swy += w * t / q;
        }
        let (mean_x, mean_y) = (swx / sw, swy / sw);
        let (mut sxx, mut sxy) = (0.0, 0.0);
        for (t, q) in points() {
            let w = weight(t, q);
            sxx += w * (t - mean_x) * (t - mean_x);
            sxy += w * (t - mean_x) * (t / q - mean_y);
        }
        if sxx.is_nan() || sxx <= 1e-20 * sw * mean_x * mean_x {
            return cannot("the measurements that count are all at one time");
        }
        let k2 = sxy / sxx;
        let k1 = mean_y - k2 * mean_x;
        let positive = k1 > 0.0 && k2 > 0.0;
        if !positive {
            return cannot("the yields do not rise and level off");
        }
        let squares: f64 = points()
            .map(|(t, q)| {
                let off = t / q - k1 - k2 * t;
                weight(t, q) * off * off
            })
            .sum();
        let s2 = squares / (measured.len() as f64 - 2.0);
        let (scale1, scale2) = (longest / highest, 1.0 / highest);
        Ok(Peleg {
            k1: k1 * scale1,
            k2: k2 * scale2,
            u1: libm::sqrt(s2 * (1.0 / sw + mean_x * mean_x / sxx)) * scale1,
            u2: libm::sqrt(s2 / sxx) * scale2,
            covariance: -s2 * mean_x / sxx * scale1 * scale2,
        })
    }

    /// K₁, time per unit of yield, and its standard uncertainty.
    pub fn k1(&self) -> (Time, Time) {
        (seconds(self.k1), seconds(self.u1))
    }

    /// K₂ per unit of yield, and its standard uncertainty.
    pub fn k2(&self) -> (f64, f64) {
        (self.k2, self.u2)
    }

    /// Covariance of K₁ and K₂.
    pub fn covariance(&self) -> Time {
        seconds(self.covariance)
    }

    /// Yield after a time, up to ten years, and its standard uncertainty from
    /// the fit.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn after(&self, time: Time) -> Result<Estimate, ExtractionError> {
        let t = within("time", time.value, 0.0, LONGEST_S, "s")?;
        let below = self.k1 + self.k2 * t;
        let q = t / below;
        // dq/dK1 = −q/below, dq/dK2 = −q t/below.
        let variance = self.u1 * self.u1 + t * t * self.u2 * self.u2 + 2.0 * t * self.covariance;
        let u = q / below * libm::sqrt(variance.max(0.0));
        Ok(Estimate::new(q.min(1e9), u.min(1e9))?)
    }

    /// Yield per time at the start, 1/K₁.
    pub fn initial_rate(&self) -> Frequency {
        Frequency::new::<uom::si::frequency::hertz>(1.0 / self.k1)
    }

    /// What the yield tends to, 1/K₂, and its standard uncertainty; at most 1e9.
    pub fn limit(&self) -> Estimate {
        let limit = 1.0 / self.k2;
        Estimate::new(limit.min(1e9), (self.u2 * limit * limit).min(1e9)).unwrap_or(Estimate::ZERO)
    }

    /// Time at which this share (below 1) of the limit is reached.
    ///
    /// # Errors
    /// [`ExtractionError::Never`] for all of it.
    pub fn time_to(&self, share: Share) -> Result<Time, ExtractionError> {
        let s = share.value();
        if s >= 1.0 {
            return Err(ExtractionError::Never {
                what: "share of the limit",
                asked: s,
                most: 1.0,
            });
        }
        Ok(seconds(s / (1.0 - s) * (self.k1 / self.k2)))
    }
}

fn seconds(s: f64) -> Time {
    Time::new::<uom::si::time::second>(s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::hours;
    use approx::assert_relative_eq;

    /// The curve itself: half of the limit at K1/K2, slope 1/K1.
    #[test]
    fn the_curve() -> Result<(), ExtractionError> {
        let curve = Peleg::new(seconds(600.0), 2.0)?;
        assert_eq!(curve.limit().value(), 0.5);
        assert_eq!(curve.time_to(Share::HALF)?, seconds(300.0));
        assert_relative_eq!(
            curve.after(seconds(300.0))?.value(),
            0.25,
            max_relative = 1e-15
        );
        assert_relative_eq!(
            curve.initial_rate().value,
            1.0 / 600.0,
            max_relative = 1e-15
        );
        assert!(curve.time_to(Share::ONE).is_err());
        Ok(())
    }

    #[test]
    fn points_on_a_curve_give_it_back() -> Result<(), ExtractionError> {
        let curve = Peleg::new(hours(3.0), 2.2)?;
        let mut points = Vec::new();
        for h in [0.5, 1.0, 2.0, 8.0, 30.0] {
            points.push((hours(h), curve.after(hours(h))?.value()));
        }
        let fit = Peleg::fit(&points)?;
        assert_relative_eq!(fit.k1, curve.k1, max_relative = 1e-12);
        assert_relative_eq!(fit.k2, curve.k2, max_relative = 1e-12);
        // Nothing but rounding scatters.
        assert!(fit.u1 < 1e-12 * fit.k1 && fit.u2 < 1e-12 * fit.k2);
        Ok(())
    }

    /// The weighted normal equations of these points (invented), solved outside
    /// the crate in exact fractions.
    #[test]
    fn least_squares_by_exact_fractions() -> Result<(), ExtractionError> {
        let points = [
            (10.0, 0.12),
            (20.0, 0.19),
            (40.0, 0.25),
            (80.0, 0.33),
            (160.0, 0.36),
        ]
        .map(|(t, q)| (seconds(t), q));
        let fit = Peleg::fit(&points)?;
        assert_relative_eq!(fit.k1, 59.374_070_280_089_18, max_relative = 1e-12);
        assert_relative_eq!(fit.k2, 2.373_556_091_334_15, max_relative = 1e-12);
        assert_relative_eq!(fit.u1, 3.697_837_387_476_27, max_relative = 1e-11);
        assert_relative_eq!(fit.u2, 0.064_237_612_211_789_7, max_relative = 1e-11);
        assert_relative_eq!(fit.covariance, -0.175_286_008_438_620, max_relative = 1e-11);
        let at_60 = fit.after(seconds(60.0))?;
        assert_relative_eq!(at_60.value(), 0.297_342_596_054_004, max_relative = 1e-12);
        assert_relative_eq!(at_60.u(), 0.004_034_113_473_854_70, max_relative = 1e-10);
        Ok(())
    }

    #[test]
    fn what_cannot_be_fitted_is_refused() {
        let at = |h: f64, q: f64| (hours(h), q);
        assert!(Peleg::fit(&[at(1.0, 0.2), at(2.0, 0.3)]).is_err());
        assert!(Peleg::fit(&[at(1.0, 0.2), at(1.0, 0.3), at(1.0, 0.25)]).is_err());
        // A yield that speeds up.
        assert!(Peleg::fit(&[at(1.0, 0.1), at(2.0, 0.3), at(3.0, 0.9)]).is_err());
        assert!(Peleg::fit(&[at(0.0, 0.1), at(2.0, 0.3), at(3.0, 0.9)]).is_err());
        assert!(Peleg::fit(&[at(1.0, f64::NAN), at(2.0, 0.3), at(3.0, 0.9)]).is_err());
        assert!(Peleg::new(hours(1.0), f64::INFINITY).is_err());
    }
}
