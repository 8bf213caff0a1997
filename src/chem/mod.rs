//! Chemistry that knows nothing of ink.

use crate::source::Constant;

pub(crate) const CONSTANTS: &[&Constant] = &[];
