//! Published inks, as data.
//!
//! Nothing here is read as law: each ink shows its source and how far that
//! may be trusted. The clauses of the standards are another, later table.

mod reference_inks;

pub use reference_inks::{Dose, ReferenceInk, reference_ink, reference_inks};
