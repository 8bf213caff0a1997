//! How sure is that? Inputs with their distributions, first-order budgets,
//! seeded draws, and which measurement would help most.
//!
//! The words are those of JCGM 100:2008 (the GUM) and JCGM 101:2008: a
//! standard uncertainty is k = 1, an interval says what it covers, and one
//! source, however often it enters, is one variable.

mod answer;
mod belief;
mod budget;
mod distribution;
mod inputs;
mod monte_carlo;
mod sample;
mod special;
pub(crate) mod stream;
mod study;

pub use answer::{Answer, Help, Method};
pub(crate) use belief::NORMAL_95;
pub use belief::{Belief, Evidence};
pub use budget::{Budget, BudgetLine, Misleading};
pub use distribution::Distribution;
pub use inputs::{Estimates, Input, Inputs, Values};
pub use monte_carlo::MonteCarlo;
pub use sample::Sample;
pub(crate) use special::{normal_below, normal_quantile};
pub use study::{Advice, Assurance, Chance, Measurand, Remedy, Study};

use crate::quantity::OutOfRange;

/// Why an uncertainty cannot be worked out.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs, UncertaintyError};
/// let mut inputs = Inputs::new();
/// inputs.add("balance", Distribution::exact(1.0)?)?;
/// let again = inputs.add("balance", Distribution::exact(1.0)?);
/// assert!(matches!(again, Err(UncertaintyError::NameTaken { .. })));
/// # Ok::<(), UncertaintyError>(())
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum UncertaintyError {
    /// Two inputs of one name would be one variable by accident.
    #[error("there is an input called {name:?} already: use it again, or call this one otherwise")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// The model gives no finite number.
    #[error("the model gives no number at or next to the estimate of {input}")]
    NoValue {
        /// The input that was moved, or the estimates as a whole.
        input: String,
    },
    /// No source of a study has this name.
    #[error("the recipe has nothing called {name:?}")]
    NoSuchSource {
        /// What was asked for.
        name: String,
    },
    /// More of a lot does not bring the assurance.
    #[error("no amount of {lot:?} makes it {:.1} % sure", 100.0 * assurance)]
    NotAssured {
        /// The lot.
        lot: String,
        /// The assurance wanted, 0.5 to 0.999.
        assurance: f64,
    },
    /// A recipe that cannot be worked out.
    #[error(transparent)]
    Recipe(#[from] crate::recipe::RecipeError),
    /// No draw gave a number.
    #[error("none of {draws} draws gave a number")]
    AllDrawsFailed {
        /// How many there were.
        draws: usize,
    },
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}
