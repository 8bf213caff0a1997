//! Ink on paper: how much of it, how acid, how dark and how fast.
//!
//! A pen lays a film of ink on paper. It dries within minutes; chalk in the
//! paper takes up acid; oxygen turns iron(II) into iron(III), which binds
//! tannin and is black. How fast hangs on the pH of the line above all, and
//! on the moisture that is left when it is dry.
//!
//! - [`Load`]: iron, tannin and acid per area, volatile and fixed acid apart;
//! - [`Paper`]: alkaline reserve and pH of a sheet, [`papers`] the catalogue;
//! - [`Climate`]: the air that dries the line;
//! - [`Writing`]: all of them together: [`Writing::darkening`] the curve
//!   against time, [`Writing::times_slower_than`] two papers or two inks side
//!   by side, [`Writing::diagnoses`] why it is pale, slow or grey.
//!
//! ```
//! use ferrogall::paper::{Climate, Paper, Writing};
//! use ferrogall::quantity::*;
//! use ferrogall::standards::reference_ink;
//! let standard = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
//! let ink = standard.recipe(liters(1.0), 1.0)?.evaluate()?.composition;
//! let on_rag = Writing::new(&ink, Paper::of("cotton_rag")?, Climate::indoors()?)?;
//! println!("pH {:.1} in the line", on_rag.darkening()?.ph_line.typical);
//! for why in on_rag.diagnoses()? {
//!     println!("{why}");
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # How far to trust it
//!
//! No darkening time on paper is published with numbers, no rate for tannin
//! ink, none for a dry line. The times span several powers of ten and say so;
//! which of two papers or two inks is the slower is known better than either
//! time, by how much it is not. At pH 6 the guessed rate is 20 to 3000 times
//! below the one that was measured there with other polyphenols
//! ([`observations`](crate::oxidation::observations)): alkaline paper may be faster.
//! Iron(II) is taken as one lot, all at the same pH; filler is taken to
//! dissolve evenly, as fast in the dry line as in the wet one; nothing settles
//! in the line. Amounts per area are as good
//! as the film is known.
//!
//! What acid and iron do to paper or vellum over the years is not reckoned
//! here: no lifetime, no verdict. Conservators decide on treatment.

mod assumption;
mod climate;
mod darkening;
mod diagnosis;
mod kernel;
mod load;
mod pace;
mod sheet;
mod span;
mod titration;
mod writing;

pub use assumption::{Assumption, assumptions};
pub use climate::Climate;
pub use darkening::{CURVE_POINTS, CurvePoint, Darkening};
pub use diagnosis::{Cause, Diagnosis};
pub use load::{ArealAmount, Load, Short};
pub use sheet::{ArealMassDensity, Paper, PaperKind, papers};
pub use span::Span;
pub use writing::Writing;

pub(crate) use assumption::CONSTANTS;

use crate::equilibrium::EquilibriumError;
use crate::oxidation::OxidationError;
use crate::quantity::OutOfRange;

/// Why a question about ink on paper has no answer.
///
/// ```
/// use ferrogall::paper::{Paper, PaperError};
/// let e = Paper::of("papyrus").unwrap_err();
/// assert_eq!(e, PaperError::UnknownPaper { id: "papyrus".into() });
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PaperError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// No such paper in the catalogue.
    #[error("no paper \"{id}\" in the catalogue")]
    UnknownPaper {
        /// What was asked for.
        id: String,
    },
    /// A composition without volume.
    #[error("no ink to write with: it has no volume")]
    NoInk,
    /// A time before the one in front of it.
    #[error("times must rise: {later_s} s comes after {earlier_s} s")]
    TimesDoNotRise {
        /// The time in front, s.
        earlier_s: f64,
        /// The time that is too early, s.
        later_s: f64,
    },
    /// Not one place for each time.
    #[error("{times} times and {places} places for the answers")]
    Lengths {
        /// How many times.
        times: usize,
        /// How many places.
        places: usize,
    },
    /// The pH of the ink cannot be worked out.
    #[error(transparent)]
    Equilibrium(#[from] EquilibriumError),
    /// The rate laws or the air do not reach so far.
    #[error(transparent)]
    Oxidation(#[from] OxidationError),
}
