//! Why an assay gave no answer.

use super::{MethodId, Sample};
use crate::bench::LotError;
use crate::chem::{ChemError, FormulaError};
use crate::equilibrium::EquilibriumError;
use crate::quantity::OutOfRange;
use crate::uncertainty::UncertaintyError;

/// Why an assay gave no answer.
///
/// ```
/// use ferrogall::assay::{AssayError, Reading, RedoxTitration, Sample, Titrant};
/// use ferrogall::quantity::*;
/// let titration = RedoxTitration::new(
///     Titrant::Permanganate,
///     Sample::FinishedInk,
///     Reading::standard(moles_per_liter(0.02), moles_per_liter(1e-5))?,
///     Reading::buret(milliliters(12.3), milliliters(0.05))?,
/// );
/// assert!(matches!(titration.iron().unwrap_err(), AssayError::Refused { .. }));
/// # Ok::<(), AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum AssayError {
    /// The method says nothing true about this kind of sample.
    #[error("{method} is refused for {sample}: {why}")]
    Refused {
        /// The method.
        method: MethodId,
        /// The kind of sample.
        sample: Sample,
        /// What goes wrong.
        why: &'static str,
    },
    /// Fewer figures than the arithmetic needs.
    #[error("{what}: {given} given, {needed} needed")]
    TooFew {
        /// What there are too few of.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// How many are needed.
        needed: usize,
    },
    /// Columns of unlike length.
    #[error("{what}: {left} against {right}")]
    Unequal {
        /// Which columns.
        what: &'static str,
        /// Length of the first.
        left: usize,
        /// Length of the second.
        right: usize,
    },
    /// The standards do not make a line that can be read backwards: all of one
    /// content, or no response.
    #[error("the standards make no line: {what} = {value}")]
    NoLine {
        /// What is amiss.
        what: &'static str,
        /// Its value.
        value: f64,
    },
    /// Two results that cannot both be true.
    #[error("{what}: {left} and {right} part by more than {times} times their uncertainty")]
    Contradiction {
        /// Which results.
        what: &'static str,
        /// The first, in SI units.
        left: f64,
        /// The second, in SI units.
        right: f64,
        /// How many standard uncertainties were allowed.
        times: f64,
    },
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A density, solution or temperature that the tables do not cover.
    #[error(transparent)]
    Chem(#[from] ChemError),
    /// A formula that cannot be read.
    #[error(transparent)]
    Formula(#[from] FormulaError),
    /// A lot that does not take the setting.
    #[error(transparent)]
    Lot(#[from] LotError),
    /// An uncertainty that cannot be worked out.
    #[error(transparent)]
    Uncertainty(#[from] UncertaintyError),
    /// An ink that cannot be solved.
    #[error(transparent)]
    Equilibrium(#[from] EquilibriumError),
}
