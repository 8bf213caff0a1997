//! The catalogues of materials, and the lots a maker has of them.

mod catalogue;
mod material;
mod tables;

pub use catalogue::*;
pub use material::*;

use crate::source::Constant;

pub(crate) const CONSTANTS: &[&Constant] = &[];
