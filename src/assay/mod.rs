//! What was measured → what is in the bottle.
//!
//! Kitchen and laboratory methods, each with the reading's uncertainty in and
//! the content's out: redox titration of iron(II) (by burette or by drops),
//! phenanthroline, a calibration line, density of liquors and stocks, dry
//! residue, drying of green vitriol, a nail weighed twice, spot tests, the pH
//! strip, and the factors between tannin methods.
//!
//! A [`Reading`] says what its "±" means. What comes out is an [`Assayed`]:
//! value, standard uncertainty (k = 1, first order), budget, assumptions,
//! interferences and cautions. Methods that cannot be right for a sample are
//! refused: permanganate in a finished ink titrates the tannin. What one
//! source of error moves in two results (a titrant, a pipette, a molar
//! absorption) is named and moves them together.
//!
//! | asked | ask |
//! |---|---|
//! | iron(II) of a salt or stock | [`RedoxTitration`], [`Phenanthroline`], [`StockDensity`], [`iron_dissolved`] |
//! | how much of it has rusted | [`oxidised_share`] of two of them |
//! | how far green vitriol has weathered | [`VitriolDrying`] |
//! | tannin in a liquor | [`SpotTest`], [`LiquorDensity`], [`dry_residue`], [`TanninFactor`] |
//! | tannin of the plant | [`PlantTannin`] |
//! | moisture | [`loss_on_drying`] |
//! | is the ink as acid as reckoned | [`PhReading`] |
//!
//! ```
//! use ferrogall::assay::*;
//! use ferrogall::bench::Lot;
//! use ferrogall::quantity::*;
//! // Garden vitriol: 0.70 g took 23.9 mL of 0.0200 mol/L permanganate.
//! let salt = Reading::weighed(grams(0.70), grams(0.01))?;
//! let purity = RedoxTitration::new(
//!     Titrant::Permanganate,
//!     Sample::Salt,
//!     Reading::standard(moles_per_liter(0.0200), moles_per_liter(0.0001))?,
//!     Reading::buret(milliliters(23.9), milliliters(0.05))?,
//! )
//! .purity(&salt, "FeSO4·7H2O")?;
//! assert!((purity.value() - 0.949).abs() < 0.001);
//! let lot = purity.set(Lot::of("iron_ii_sulfate_heptahydrate")?, LotSetting::Purity)?.build()?;
//! assert!((lot.strength_u().iron - purity.relative_u()).abs() < 1e-9);
//! # Ok::<(), AssayError>(())
//! ```

mod absorbance;
mod acid;
mod calibration;
mod constants;
mod delivered;
mod error;
mod factor;
mod iron;
mod liquor;
mod lot;
mod method;
mod propagate;
mod reading;
mod result;
mod sample;
mod spot;
mod titration;
mod vitriol;

pub use absorbance::{Phenanthroline, oxidised_share};
pub use acid::{PhReading, PhVerdict, UnexplainedAcid};
pub use calibration::CalibrationLine;
pub use delivered::{Aliquot, Delivered, Dropper};
pub use error::AssayError;
pub use factor::{TanninFactor, loewenthal};
pub use iron::{IronStock, StockDensity, expected_metal_loss, iron_dissolved};
pub use liquor::{LiquorDensity, dry_residue, loss_on_drying};
pub use lot::{LotSetting, PlantTannin, set_belief};
pub use method::{METHODS, Method, MethodId};
pub use reading::{Figure, Reading};
pub use result::{Assayed, Bound, Note, NoteKind, Part};
pub use sample::Sample;
pub use spot::{Bracket, SpotTest};
pub use titration::{RedoxTitration, Titrant};
pub use vitriol::{DriedTo, VitriolDrying, Weathered, mean_waters};

pub(crate) use constants::CONSTANTS;
pub(crate) use factor::FACTOR_CONSTANTS;
