//! How fast: rate constants and the laws that give them.

mod constant;

pub use constant::{FirstOrder, SecondOrder, ThirdOrder};
