//! Published specifications of iron-tannin ink as data, and an ink held
//! against them.
//!
//! Nothing here is read as law: every clause shows its source and how far
//! that may be trusted, and no comparison says more than that the clauses on
//! the composition are met and so many tests remain. What has not been read
//! has no number.
//!
//! ```
//! use ferrogall::quantity::liters;
//! use ferrogall::standards::{ClauseVerdict, Quantity, reference_ink, standard};
//!
//! // The type ink of 1888 against its own rule: iron 6.03 g/L, at most 6.
//! let type_ink = reference_ink("german_document_1888").unwrap().recipe(liters(1.0), 1.0)?;
//! let rule = standard("de_document_class_i").unwrap();
//! let page = rule.compare(&type_ink.evaluate()?.composition);
//! let iron = page.clauses.iter().find(|c| c.quantity == Some(Quantity::Iron)).unwrap();
//! assert_eq!(iron.verdict, ClauseVerdict::MeetsAsRounded);
//! assert!(page.summary().contains("tests remain to be carried out"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod all;
mod chances;
mod clause;
mod compare;
mod consistency;
mod own;
mod programme;
mod quantity;
mod reference_inks;
mod standard;
mod strength;
mod tables;
mod text;
mod to_carry_out;

pub use all::Overview;
pub use chances::{ChanceMethod, ClauseChance, InkDraws};
pub use clause::{Bound, Clause, Limit, Requirement, Rival, Text, Window};
pub use compare::{
    ClauseComparison, ClauseVerdict, CompositionVerdict, OtherBasis, RivalComparison,
    StandardComparison,
};
pub use consistency::{Consistency, Family, consistency};
pub use own::{StandardBuilder, StandardError};
pub use programme::{Preparation, Programme, ProgrammeStep};
pub use quantity::Quantity;
pub use reference_inks::{Dose, ReferenceInk, reference_ink, reference_inks};
pub use standard::{Cited, Kind, OwnInk, Standard, Standing, standard, standards};
pub use strength::StrengthHint;
pub use to_carry_out::{Role, Test, TestFigure};
