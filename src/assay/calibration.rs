//! A straight line through standards, read forwards and backwards.

use super::propagate::{Input, propagate};
use super::{AssayError, Assayed, MethodId, NoteKind, Reading};
use crate::quantity::within;

/// Largest number in a column.
const LARGEST: f64 = 1e9;

/// A line fitted to standards by ordinary least squares: all the scatter is
/// in the response.
///
/// ```
/// use ferrogall::assay::{CalibrationLine, Reading};
/// // mg/L of iron, absorbance.
/// let line = CalibrationLine::fit(&[0.0, 1.0, 2.0, 3.0, 4.0], &[0.002, 0.198, 0.396, 0.590, 0.789])?;
/// let sample = line.read(0.301, 1)?;
/// assert!((sample.value() - 1.52).abs() < 0.01);
/// assert!(sample.u() < 0.02);
/// let back = line.predict(sample.value())?;
/// assert!((back.value() - 0.301).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct CalibrationLine {
    n: f64,
    mean_x: f64,
    mean_y: f64,
    sxx: f64,
    slope: f64,
    s: f64,
    low: f64,
    high: f64,
}

impl CalibrationLine {
    /// From contents and responses of three standards at least.
    ///
    /// # Errors
    /// [`AssayError::TooFew`], [`AssayError::Unequal`]; [`AssayError::NoLine`]
    /// when all contents are the same; [`AssayError::OutOfRange`].
    pub fn fit(contents: &[f64], responses: &[f64]) -> Result<CalibrationLine, AssayError> {
        if contents.len() != responses.len() {
            return Err(AssayError::Unequal {
                what: "contents and responses of the standards",
                left: contents.len(),
                right: responses.len(),
            });
        }
        if contents.len() < 3 {
            return Err(AssayError::TooFew {
                what: "standards",
                given: contents.len(),
                needed: 3,
            });
        }
        for x in contents {
            within("content of a standard", *x, -LARGEST, LARGEST, "")?;
        }
        for y in responses {
            within("response of a standard", *y, -LARGEST, LARGEST, "")?;
        }
        let n = contents.len() as f64;
        let mean_x = contents.iter().sum::<f64>() / n;
        let mean_y = responses.iter().sum::<f64>() / n;
        let pairs = || contents.iter().zip(responses);
        let sxx: f64 = contents.iter().map(|x| (x - mean_x) * (x - mean_x)).sum();
        let spread = contents.iter().fold(0.0, |m: f64, x| m.max(x.abs()));
        if sxx <= 1e-20 * spread * spread * n {
            return Err(AssayError::NoLine {
                what: "spread of the contents",
                value: sxx,
            });
        }
        let sxy: f64 = pairs().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
        let slope = sxy / sxx;
        let off = |(x, y): (&f64, &f64)| {
            let d = y - mean_y - slope * (x - mean_x);
            d * d
        };
        let s = libm::sqrt(pairs().map(off).sum::<f64>() / (n - 2.0));
        let least = |a: f64, x: &f64| a.min(*x);
        let most = |a: f64, x: &f64| a.max(*x);
        Ok(CalibrationLine {
            n,
            mean_x,
            mean_y,
            sxx,
            slope,
            s,
            low: contents.iter().fold(f64::INFINITY, least),
            high: contents.iter().fold(f64::NEG_INFINITY, most),
        })
    }

    /// Response at content 0.
    pub fn intercept(&self) -> f64 {
        self.mean_y - self.slope * self.mean_x
    }

    /// Response per content.
    pub fn slope(&self) -> f64 {
        self.slope
    }

    /// Residual standard deviation, s, of the responses.
    pub fn residual(&self) -> f64 {
        self.s
    }

    /// Degrees of freedom, n − 2.
    pub fn dof(&self) -> f64 {
        self.n - 2.0
    }

    /// Standard uncertainty of the intercept.
    pub fn intercept_u(&self) -> f64 {
        self.s * libm::sqrt(1.0 / self.n + self.mean_x * self.mean_x / self.sxx)
    }

    /// Standard uncertainty of the slope.
    pub fn slope_u(&self) -> f64 {
        self.s / libm::sqrt(self.sxx)
    }

    /// Covariance of intercept and slope.
    pub fn covariance(&self) -> f64 {
        -self.s * self.s * self.mean_x / self.sxx
    }

    /// Their correlation, −1 to 1; 0 for a line without scatter.
    pub fn correlation(&self) -> f64 {
        let both = self.intercept_u() * self.slope_u();
        if both > 0.0 {
            self.covariance() / both
        } else {
            0.0
        }
    }

    /// Response that the line gives at a content, with the uncertainty of the
    /// line itself (that of one more reading comes on top).
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] for anything but a number.
    pub fn predict(&self, content: f64) -> Result<Assayed<f64>, AssayError> {
        let x = within("content", content, -LARGEST, LARGEST, "")?;
        let result = propagate(MethodId::CalibrationLine, &self.inputs(), |p| {
            let &[middle, slope] = p else {
                return Ok(f64::NAN);
            };
            Ok(middle + slope * (x - self.mean_x))
        })?;
        Ok(self.ranged(result, x))
    }

    /// Content of a sample whose response is the mean of so many readings
    /// (1 to 1000), each scattering as the standards do:
    /// u = (s/b)·√(1/p + 1/n + (y − ȳ)²/(b²·Sxx)).
    ///
    /// # Errors
    /// [`AssayError::NoLine`] when the slope is less than twice its
    /// uncertainty; [`AssayError::OutOfRange`].
    pub fn read(&self, response: f64, readings: u32) -> Result<Assayed<f64>, AssayError> {
        let p = within("readings", f64::from(readings), 1.0, 1000.0, "")?;
        self.backwards(&self.scattered("response", response, self.s / libm::sqrt(p)))
    }

    /// The same for a response that brings an uncertainty of its own.
    ///
    /// # Errors
    /// As [`CalibrationLine::read`].
    pub fn read_reading(&self, response: &Reading<f64>) -> Result<Assayed<f64>, AssayError> {
        let input = Input::reading("response", response);
        self.backwards(&input)
    }

    fn backwards(&self, response: &Input) -> Result<Assayed<f64>, AssayError> {
        if self.slope.abs() <= 2.0 * self.slope_u() || self.slope == 0.0 {
            return Err(AssayError::NoLine {
                what: "slope, against its own uncertainty",
                value: self.slope,
            });
        }
        let [middle, slope] = self.inputs();
        let inputs = [response.clone(), middle, slope];
        let result: Assayed<f64> = propagate(MethodId::CalibrationLine, &inputs, |p| {
            let &[y, middle, slope] = p else {
                return Ok(f64::NAN);
            };
            within("response", y, -LARGEST, LARGEST, "")?;
            Ok(self.mean_x + (y - middle) / slope)
        })?;
        let x = result.value();
        Ok(self.ranged(result, x))
    }

    /// The middle of the line and its slope do not covary.
    fn inputs(&self) -> [Input; 2] {
        [
            self.scattered(
                "middle of the line",
                self.mean_y,
                self.s / libm::sqrt(self.n),
            ),
            self.scattered("slope of the line", self.slope, self.slope_u()),
        ]
    }

    /// What scatters as the standards do about this line.
    fn scattered(&self, name: &'static str, value: f64, u: f64) -> Input {
        Input::scattered(name, value, u, self.dof(), self.s.to_bits())
    }

    fn ranged(&self, result: Assayed<f64>, x: f64) -> Assayed<f64> {
        if x < self.low || x > self.high {
            result.note(
                NoteKind::Range,
                "beyond_standards",
                format!(
                    "{x:.4} lies outside the standards, {:.4} to {:.4}: the line is stretched.",
                    self.low, self.high
                ),
            )
        } else {
            result
        }
    }
}
