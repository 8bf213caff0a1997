//! The catalogues of materials, and the lots a maker has of them.

mod material;

pub use material::*;

use crate::source::Constant;

pub(crate) const CONSTANTS: &[&Constant] = &[];
