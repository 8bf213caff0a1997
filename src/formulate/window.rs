//! What a figure may be: exactly so much, or from so much to so much.

use core::ops::{RangeFrom, RangeInclusive, RangeToInclusive};

/// What a figure may be: one value, or anything between two ends.
///
/// ```
/// use ferrogall::formulate::Window;
/// use ferrogall::quantity::grams_per_liter;
/// let (low, high) = (grams_per_liter(4.0), grams_per_liter(6.0));
/// assert_eq!(Window::from(low..=high).high(), Some(high));
/// assert_eq!(Window::from(low..).high(), None);
/// assert_eq!(Window::from(low).high(), Some(low)); // exactly so much
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window<Q> {
    low: Option<Q>,
    high: Option<Q>,
}

impl<Q: Copy> Window<Q> {
    /// Between two ends; an end that is not there leaves it open.
    pub fn between(low: Option<Q>, high: Option<Q>) -> Window<Q> {
        Window { low, high }
    }

    /// Low end, if it has one.
    pub fn low(&self) -> Option<Q> {
        self.low
    }

    /// High end, if it has one.
    pub fn high(&self) -> Option<Q> {
        self.high
    }

    /// The ends as numbers, open ones infinite.
    pub(super) fn ends(&self, number: impl Fn(Q) -> f64) -> (f64, f64) {
        (
            self.low.map_or(f64::NEG_INFINITY, &number),
            self.high.map_or(f64::INFINITY, &number),
        )
    }
}

impl<Q: Copy> From<Q> for Window<Q> {
    fn from(exactly: Q) -> Self {
        Window::between(Some(exactly), Some(exactly))
    }
}

impl<Q: Copy> From<RangeInclusive<Q>> for Window<Q> {
    fn from(range: RangeInclusive<Q>) -> Self {
        Window::between(Some(*range.start()), Some(*range.end()))
    }
}

impl<Q: Copy> From<RangeFrom<Q>> for Window<Q> {
    fn from(range: RangeFrom<Q>) -> Self {
        Window::between(Some(range.start), None)
    }
}

impl<Q: Copy> From<RangeToInclusive<Q>> for Window<Q> {
    fn from(range: RangeToInclusive<Q>) -> Self {
        Window::between(None, Some(range.end))
    }
}
