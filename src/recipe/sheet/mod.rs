//! The batch sheet as a value, and as a page to print.

mod acidity;
mod fill;
mod keeping;
mod shapes;
mod sureness;
mod text;

pub use keeping::{SheetKeeping, SheetMeasure};
pub use shapes::{
    BatchSheet, Comparison, SheetAcidity, SheetComponent, SheetCost, SheetInk, SheetLine,
    SheetLineRounding, SheetLot, SheetOxygen, SheetPreservative, SheetRounding, SheetStep,
    SheetVerdict,
};

pub use sureness::{SheetAssurance, SheetChance, SheetSource, SheetSureness};

use super::{BottlePlan, Kit, RecipeError};
use crate::bench::Lot;
use crate::formulate::{Equal, FormulateError};
use crate::oxidation::{Closure, OxidationError};
use crate::quantity::{
    Pressure, Share, Temperature, Time, Volume, celsius, kilopascals, milliliters,
};

/// Why a sheet cannot be made.
///
/// ```
/// use ferrogall::recipe::{BatchSheet, Recipe, RecipeError, SheetError, SheetOptions};
/// let e = BatchSheet::new(&Recipe::new("nothing"), &SheetOptions::default()).unwrap_err();
/// assert_eq!(e, SheetError::Recipe(RecipeError::Empty));
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SheetError {
    /// The recipe cannot be worked out.
    #[error(transparent)]
    Recipe(#[from] RecipeError),
    /// The substitute cannot take the lot's place.
    #[error(transparent)]
    Formulate(#[from] FormulateError),
    /// The bottle makes no sense.
    #[error(transparent)]
    Oxidation(#[from] OxidationError),
}

/// How the bottles are kept and used.
///
/// ```
/// use ferrogall::quantity::days;
/// use ferrogall::recipe::Storage;
/// let storage = Storage { opened_every: Some(days(3.5)), ..Storage::default() };
/// assert_eq!(storage.air_exchanged.value(), 0.3);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Storage {
    /// Time between two openings; `None`: never opened.
    pub opened_every: Option<Time>,
    /// Share of the headspace that fresh air replaces at an opening: 0.3 for
    /// a quick one, 1 when the bottle is left open (a convention, no
    /// published value).
    pub air_exchanged: Share,
    /// Ink taken out at each opening.
    pub drawn_per_opening: Volume,
    /// How long to look ahead.
    pub kept_for: Time,
    /// Temperature of the shelf, 0 to 40 °C.
    pub temperature: Temperature,
    /// Air pressure, 0.5 to 1.1 atm (50.7 to 111.4 kPa).
    pub pressure: Pressure,
    /// What closes the bottle.
    pub closure: Closure,
    /// The loss of iron(II) that is too much.
    pub stated_share: Share,
}

impl Default for Storage {
    /// A year on a shelf at 25 °C and sea level, sealed glass, never opened;
    /// a tenth of the iron(II) lost is too much: as [`Bottle::builder`](crate::oxidation::Bottle::builder).
    fn default() -> Self {
        Storage {
            opened_every: None,
            air_exchanged: Share::new(0.3).unwrap_or(Share::ONE),
            drawn_per_opening: milliliters(0.0),
            kept_for: crate::quantity::days(365.25),
            temperature: celsius(25.0),
            pressure: kilopascals(101.325),
            closure: Closure::SEALED_GLASS,
            stated_share: Share::new(0.1).unwrap_or(Share::ONE),
        }
    }
}

/// What the sheet shall speak of beside the ink itself.
///
/// ```
/// use ferrogall::recipe::SheetOptions;
/// assert!(SheetOptions::default().kit.is_none());
/// ```
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SheetOptions {
    /// Tools at hand: amounts are rounded to them.
    pub kit: Option<Kit>,
    /// Bottles to fill. The recipe is taken as it is; see
    /// [`Recipe::for_bottles`](super::Recipe::for_bottles).
    pub bottles: Option<BottlePlan>,
    /// How they are kept and used; needs `bottles`.
    pub storage: Option<Storage>,
    /// "What if": the name of a lot, another lot, and what to keep equal.
    pub substitute: Option<(String, Lot, Equal)>,
    /// Name of the currency of the prices; may be empty.
    pub currency: String,
}
