//! What draws say of a result.

use crate::quantity::{OutOfRange, within};

/// The draws of one result, in their order, and what they say.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs, MonteCarlo};
/// let mut inputs = Inputs::new();
/// let x = inputs.add("x", Distribution::rectangular(0.0, 1.0)?)?;
/// let [y] = inputs.monte_carlo(&MonteCarlo::fixed(1, 20_000)?, |v| [v[x]])?;
/// let (low, high) = y.interval(0.95)?;
/// assert!((low - 0.025).abs() < 0.005 && (high - 0.975).abs() < 0.005);
/// assert!((y.share_above(0.9) - 0.1).abs() < 0.01);
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    drawn: Vec<f64>,
    sorted: Vec<f64>,
    mean: f64,
    u: f64,
    settled: bool,
}

impl Sample {
    /// Draws that are no numbers count as failed.
    pub(crate) fn new(mut drawn: Vec<f64>, settled: bool) -> Sample {
        for x in drawn.iter_mut().filter(|x| !x.is_finite()) {
            *x = f64::NAN;
        }
        let mut sorted: Vec<f64> = drawn.iter().copied().filter(|x| x.is_finite()).collect();
        let n = sorted.len() as f64;
        // In the order of the draws: the same sum on any number of threads.
        let mean = sorted.iter().sum::<f64>() / n;
        let squares: f64 = sorted.iter().map(|x| (x - mean) * (x - mean)).sum();
        sorted.sort_unstable_by(f64::total_cmp);
        Sample {
            drawn,
            sorted,
            mean,
            u: libm::sqrt(squares / (n - 1.0).max(1.0)),
            settled,
        }
    }

    /// Mean of the draws.
    pub const fn mean(&self) -> f64 {
        self.mean
    }

    /// Standard deviation of the draws: the standard uncertainty.
    pub const fn standard_uncertainty(&self) -> f64 {
        self.u
    }

    /// Median of the draws.
    pub fn median(&self) -> f64 {
        self.quantile(0.5)
    }

    /// The draw below which a part (0 to 1) of them lies; NaN for a part that
    /// is none.
    pub fn quantile(&self, part: f64) -> f64 {
        let n = self.sorted.len();
        if n == 0 || part.is_nan() || !(0.0..=1.0).contains(&part) {
            return f64::NAN;
        }
        // Between the two draws next to it.
        let place = part * (n - 1) as f64;
        let below = libm::floor(place);
        let at = |i: usize| self.sorted.get(i).copied().unwrap_or(f64::NAN);
        let (a, b) = (at(below as usize), at((below as usize + 1).min(n - 1)));
        a + (place - below) * (b - a)
    }

    /// The interval that covers `p` (0.5 to 0.9999) of the draws and leaves as
    /// many on either side (JCGM 101:2008, 7.7).
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn interval(&self, p: f64) -> Result<(f64, f64), OutOfRange> {
        let p = coverage(p)?;
        Ok((self.quantile(0.5 - 0.5 * p), self.quantile(0.5 + 0.5 * p)))
    }

    /// The shortest interval that covers `p` (0.5 to 0.9999) of the draws.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn shortest_interval(&self, p: f64) -> Result<(f64, f64), OutOfRange> {
        let p = coverage(p)?;
        let n = self.sorted.len();
        let span = libm::round(p * n as f64) as usize;
        let ends = self.sorted.iter().zip(self.sorted.iter().skip(span));
        let shortest = ends.min_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
        Ok(match shortest {
            Some((&low, &high)) => (low, high),
            None => (self.quantile(0.0), self.quantile(1.0)),
        })
    }

    /// Share of the draws above a limit; NaN for a limit that is none.
    pub fn share_above(&self, limit: f64) -> f64 {
        if limit.is_nan() {
            return f64::NAN;
        }
        let n = self.sorted.len();
        let up_to = self.sorted.partition_point(|&x| x <= limit);
        (n - up_to) as f64 / (n as f64).max(1.0)
    }

    /// The draws in their order; NaN where the model had no value.
    pub fn drawn(&self) -> &[f64] {
        &self.drawn
    }

    /// Draws for which the model had no value; they count for nothing else.
    pub fn failed(&self) -> usize {
        self.drawn.len() - self.sorted.len()
    }

    /// Whether an adaptive run settled before its most draws; a fixed run is
    /// what was asked for.
    pub const fn settled(&self) -> bool {
        self.settled
    }

    /// Correlation with another result of the same draws; `None` where either
    /// does not vary.
    pub fn correlation_with(&self, other: &Sample) -> Option<f64> {
        if self.drawn.len() != other.drawn.len() {
            return None;
        }
        let mut sums = [0.0; 3];
        for (a, b) in self.drawn.iter().zip(&other.drawn) {
            let (a, b) = (a - self.mean, b - other.mean);
            if (a * b).is_finite() {
                sums[0] += a * a;
                sums[1] += b * b;
                sums[2] += a * b;
            }
        }
        let r = sums[2] / libm::sqrt(sums[0] * sums[1]);
        r.is_finite().then(|| r.clamp(-1.0, 1.0))
    }
}

fn coverage(p: f64) -> Result<f64, OutOfRange> {
    within("coverage probability", p, 0.5, 0.9999, "")
}
