//! The C surface: the functions of `include/ferrogall.h`.
//!
//! Thin on purpose: pointers and units are turned into the crate's own values,
//! the room concerned does the work, and the answer is turned back. One file
//! for each room exposed; the guard, the errors and the strings are shared.
//!
//! # Safety
//! Every function here asks the same of its caller, as the header says: a
//! pointer is NULL, or points to memory of its type that is the caller's to
//! read (and, where it is not `const`, to write) for as long as the call
//! lasts; a text ends in NUL; a handle came from the function of the same name
//! in `_new` and was not freed. NULL, misaligned pointers, wrong sizes, foreign
//! constants and texts that are not UTF-8 are answered with a status.
#![allow(unsafe_code)]
#![allow(clippy::missing_safety_doc)]
#![warn(clippy::undocumented_unsafe_blocks)]

mod assay;
mod belief;
mod bench;
mod blend;
mod bottles;
mod check;
mod chem;
mod columns;
mod composition;
mod course;
mod course_events;
mod course_given;
mod cupboard;
mod darkening;
mod densities;
mod diffusion;
mod drying;
mod equilibrium;
mod equilibrium_columns;
mod equilibrium_ink;
mod equilibrium_solve;
mod equilibrium_totals;
mod error;
mod extraction;
mod extraction_answers;
mod extraction_rows;
mod fit;
mod forecast;
mod forecast_columns;
mod formulate;
mod guard;
mod history;
mod homemade;
mod inks;
mod keeping;
mod lots;
mod made_rows;
mod measures;
mod old_recipe;
mod oxidation;
mod phenanthroline;
mod rates;
mod recipe;
mod rescue;
mod rounding;
mod sheet;
mod spot;
mod standards;
mod status;
mod stored_ink;
mod strings;
mod study;
mod study_answers;
mod study_draws;
mod tannin_methods;
mod titration;
mod titration_rows;
mod verdicts;
mod version;
mod wanted;

pub use assay::*;
pub use belief::*;
pub use bench::*;
pub use blend::*;
pub use bottles::*;
pub use check::*;
pub use chem::*;
pub use columns::*;
pub use composition::*;
pub use course::*;
pub use course_events::*;
pub use course_given::*;
pub use cupboard::*;
pub use darkening::*;
pub use densities::*;
pub use diffusion::*;
pub use drying::*;
pub use equilibrium::*;
pub use equilibrium_columns::*;
pub use equilibrium_ink::*;
pub use equilibrium_solve::*;
pub use equilibrium_totals::*;
pub use error::FgallError;
pub use extraction::*;
pub use extraction_answers::*;
pub use extraction_rows::*;
pub use fit::*;
pub use forecast::*;
pub use forecast_columns::*;
pub use formulate::*;
pub use history::*;
pub use homemade::*;
pub use inks::*;
pub use keeping::*;
pub use lots::*;
pub use made_rows::*;
pub use measures::*;
pub use old_recipe::*;
pub use oxidation::*;
pub use phenanthroline::*;
pub use rates::*;
pub use recipe::*;
pub use rescue::*;
pub use rounding::*;
pub use sheet::*;
pub use spot::*;
pub use standards::*;
pub use status::*;
pub use stored_ink::*;
pub use study::*;
pub use study_answers::*;
pub use study_draws::*;
pub use tannin_methods::*;
pub use titration::*;
pub use titration_rows::*;
pub use verdicts::*;
pub use version::*;
pub use wanted::*;
