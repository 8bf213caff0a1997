//! From what is wanted to amounts to weigh.
//!
//! - A [`Choice`] of one lot for each target: the amounts follow from a small
//!   linear system. Cross-contributions (acid that comes with home-made iron,
//!   alkalinity that comes with the water, gallic acid that comes with the
//!   galls) are all in it.
//! - A [`Shelf`] of many lots, with what there is of them: the best ink within
//!   windows ([`Wanted`]) by an [`Objective`], the nearest where there is none
//!   ([`Shelf::make`], [`Shelf::make_each`]), and the most that can be made
//!   ([`Shelf::most`]).
//! - Stock solutions poured together to a composition: [`Shelf::mix`].
//! - One lot for another: [`Swap`].

mod acidity;
mod blend;
mod choice;
mod linear;
mod make;
mod mix;
mod most;
mod nonnegative;
mod objective;
mod posed;
mod pots;
mod program;
mod read;
mod rows;
mod rows_of_wanted;
mod settle;
mod shelf;
mod substitute;
mod sure;
mod targets;
mod wanted;
mod window;
mod worth;

pub use blend::{Blend, Figure, Taken};
#[cfg(feature = "serde")]
pub(crate) use choice::WATER_PER_PLANT;
pub use choice::{Choice, Formulated, Soak};
pub use mix::Mixed;
pub use most::{More, Most};
pub use nonnegative::{NearestMix, nonnegative_least_squares};
pub use objective::Objective;
pub use program::{Optimum, Program, ProgramError, Unknown};
pub use shelf::{Shelf, Stock};
pub use substitute::{Equal, Substitution, Swap, SwapEffects};
pub use targets::Targets;
pub use wanted::{Goal, Wanted};
pub use window::Window;

use crate::bench::LotError;
use crate::equilibrium::EquilibriumError;
use crate::quantity::OutOfRange;
use crate::recipe::RecipeError;

/// Why no amounts can be given.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Choice, FormulateError, Targets};
/// use ferrogall::quantity::*;
/// let lot = |id: &str| Lot::of(id).and_then(|l| l.build());
/// let choice = Choice::new(
///     &lot("iron_ii_sulfate_heptahydrate")?,
///     &lot("tannic_acid")?,
///     &lot("distilled_water")?,
/// );
/// let targets = Targets::new(liters(1.0), moles_per_liter(0.05), 0.6)?.gum(grams_per_liter(10.0))?;
/// assert_eq!(
///     choice.formulate(&targets).unwrap_err(),
///     FormulateError::NoLotFor { target: "gum" }
/// );
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FormulateError {
    /// A target is set, but no lot was chosen that could meet it.
    #[error("no lot was chosen for the target {target}")]
    NoLotFor {
        /// The target.
        target: &'static str,
    },
    /// A lot was chosen, but no target says how much of it is wanted.
    #[error("{lot:?} was chosen, but no target {target} is set")]
    NoTargetFor {
        /// Name of the lot.
        lot: String,
        /// The target it would serve.
        target: &'static str,
    },
    /// The chosen lots do not determine the amounts (for example an iron lot
    /// without iron).
    #[error("the chosen lots cannot meet the target {target}")]
    Undetermined {
        /// The target.
        target: &'static str,
    },
    /// Meeting every target would need less than nothing of a lot.
    #[error("{target} cannot be met: it would take {mass_g:.3} g of {lot:?}")]
    LessThanNothing {
        /// The target the lot answers for.
        target: &'static str,
        /// The lot.
        lot: String,
        /// The (negative) mass that the arithmetic asks for.
        mass_g: f64,
    },
    /// Meeting every target would need more than a thousand tonnes of a lot.
    #[error("{target} cannot be met: it would take {mass_g:.3e} g of {lot:?}")]
    TooMuch {
        /// The target the lot answers for.
        target: &'static str,
        /// The lot.
        lot: String,
        /// The mass that the arithmetic asks for.
        mass_g: f64,
    },
    /// The lots share nothing of what is to be kept equal.
    #[error("{lot:?} holds no {what}")]
    NothingToMatch {
        /// The lot without it.
        lot: String,
        /// Iron(II) or galloyl.
        what: &'static str,
    },
    /// Two lots on a shelf have one name.
    #[error("two lots on the shelf are called {lot:?}")]
    NameTaken {
        /// The name.
        lot: String,
    },
    /// A figure that least squares cannot aim at.
    #[error("{goal} is not linear in the amounts")]
    NotLinear {
        /// The figure.
        goal: &'static str,
    },
    /// Nothing on the shelf limits how much can be made.
    #[error("nothing on the shelf limits how much of this ink can be made")]
    NothingLimits,
    /// The search for the best amounts came to nothing.
    #[error(transparent)]
    Program(#[from] ProgramError),
    /// The pH of an ink cannot be worked out.
    #[error(transparent)]
    Equilibrium(#[from] EquilibriumError),
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A lot that cannot do what is asked of it.
    #[error(transparent)]
    Lot(#[from] LotError),
    /// A recipe that cannot be worked out.
    #[error(transparent)]
    Recipe(#[from] RecipeError),
}
