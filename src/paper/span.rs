//! A figure with its interval.

use super::assumption::DRAWS;
use crate::quantile::ends_of_95_percent;

pub use crate::span::Span;

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
