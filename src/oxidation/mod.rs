//! How much iron(II) the air in the bottle can oxidise.

use crate::source::Constant;

pub(crate) const CONSTANTS: &[&Constant] = &[];
