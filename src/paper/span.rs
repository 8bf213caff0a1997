//! A figure with its interval.

use super::assumption::DRAWS;
use crate::quantile::ends_of_95_percent;

/// A figure at the typical values of everything, and the interval in which
/// 95 % of the draws lie.
///
/// ```
/// use ferrogall::paper::Span;
/// let ph = Span { low: 2.1, typical: 2.4, high: 6.9 };
/// assert!(ph.low <= ph.typical && ph.typical <= ph.high);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span<T> {
    /// Low end.
    pub low: T,
    /// Everything at its typical value.
    pub typical: T,
    /// High end.
    pub high: T,
}

impl<T> Span<T> {
    pub(super) fn map<U>(self, f: impl Fn(T) -> U) -> Span<U> {
        Span {
            low: f(self.low),
            typical: f(self.typical),
            high: f(self.high),
        }
    }
}

/// Every draw of one figure.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sample(pub [f64; DRAWS]);

impl Sample {
    pub const EMPTY: Sample = Sample([0.0; DRAWS]);

    /// An equal number of draws left out at both ends so that 95 % stay.
    pub fn span(mut self, typical: f64) -> Span<f64> {
        let (low, high) = ends_of_95_percent(&mut self.0);
        Span { low, typical, high }
    }
}
