//! Chemistry and arithmetic of iron–tannin writing ink.

pub mod bench;
pub mod check;
pub mod chem;
pub mod composition;
pub mod formulate;
pub mod oxidation;
pub mod quantity;
pub mod recipe;
pub mod source;
pub mod standards;
