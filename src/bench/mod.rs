//! The catalogues of materials, and the lots a maker has of them.
//!
//! A catalogue row says what a material is; a [`Lot`] says what is in the bag
//! at hand. Rows are plain tables with a source each; [`find`] looks one up by
//! its identifier and [`Lot::of`] starts a lot of it.

mod builder;
mod catalogue;
mod contents;
mod homemade;
mod hydrates;
mod lot;
mod makeup;
mod material;
mod solubility;
mod tables;
mod volumes;

pub use builder::LotBuilder;
pub use catalogue::*;
pub use homemade::{HomemadeIron, IronInAcid, LimitingReagent};
pub use hydrates::HydrateMix;
pub use lot::{Lot, LotError, Origin, StrengthU};
pub use material::*;
pub use solubility::{Solubility, solubilities, solubility};

use crate::source::Constant;

pub(crate) const CONSTANTS: &[&Constant] = volumes::CONSTANTS;
pub(crate) const HOMEMADE_CONSTANTS: &[&Constant] = homemade::CONSTANTS;
pub(crate) const WATER_DENSITY_KG_PER_M3: f64 = volumes::WATER_KG_PER_M3.value;
pub(crate) const APPARENT_VOLUME_TANNIN: &Constant = &volumes::TANNIN;
pub(crate) const IRON_IN_STEEL: &Constant = &homemade::STEEL;
