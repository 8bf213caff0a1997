//! How sure is that? Inputs with their distributions, first-order budgets,
//! seeded draws, and which measurement would help most.
//!
//! The words are those of JCGM 100:2008 (the GUM) and JCGM 101:2008: a
//! standard uncertainty is k = 1, an interval says what it covers, and one
//! source, however often it enters, is one variable.

mod belief;
mod distribution;
mod special;
#[allow(dead_code)] // soon
pub(crate) mod stream;

#[allow(unused_imports)] // soon
pub(crate) use belief::NORMAL_95;
pub use belief::{Belief, Evidence};
pub use distribution::Distribution;
#[allow(unused_imports)] // soon
pub(crate) use special::{normal_below, normal_quantile, student_quantile};
