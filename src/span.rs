//! A figure with its interval.

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
    pub(crate) fn map<U>(self, f: impl Fn(T) -> U) -> Span<U> {
        Span {
            low: f(self.low),
            typical: f(self.typical),
            high: f(self.high),
        }
    }
}
