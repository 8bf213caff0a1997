//! Recipes in, sheets out, as JSON (feature `serde`).
//!
//! The shapes are public interface: units stand in the field names, unknown
//! fields are refused, and a `schema` number is inside. [`BatchSpec`] is the
//! way in, [`BatchSheet`] the way out.
//!
//! ```
//! let json = r#"{
//!   "schema": 1, "title": "a cup of ink",
//!   "lots": [
//!     { "name": "crystals", "material": "iron_ii_sulfate_heptahydrate" },
//!     { "name": "tannic acid", "material": "tannic_acid" },
//!     { "name": "water", "material": "distilled_water" }
//!   ],
//!   "solutions": [ { "name": "ink", "ingredients": [
//!     { "lot": "crystals", "mass_g": 3.0 }, { "lot": "tannic acid", "mass_g": 2.8 }
//!   ] } ],
//!   "make_up": { "lot": "water", "volume_ml": 200 }
//! }"#;
//! let sheet = ferrogall::json::sheet_from_json(json)?;
//! assert!((sheet.ink.iron_g_per_l - 3.01).abs() < 0.01);
//! # Ok::<(), ferrogall::json::JsonError>(())
//! ```

mod build;
mod spec;

pub use spec::{
    BatchSpec, BottlesSpec, EstimateSpec, ExtractSpec, FormulateSpec, HydratesSpec, IngredientSpec,
    IronInAcidSpec, KitSpec, LotSpec, MakeUpSpec, SoakSpec, SoakedSpec, SolutionSpec, StorageSpec,
    SubstituteSpec, ToolSpec,
};

use crate::bench::LotError;
use crate::formulate::FormulateError;
use crate::oxidation::OxidationError;
use crate::quantity::OutOfRange;
use crate::recipe::{BatchSheet, Recipe, RecipeError, SheetError, SheetOptions};

/// The only schema there is.
pub const SCHEMA: u32 = 1;

/// Why a JSON recipe cannot be read or worked out.
///
/// ```
/// use ferrogall::json::{batch_from_json, JsonError};
/// let e = batch_from_json("{ \"schema\": 1 }").unwrap_err();
/// assert!(matches!(e, JsonError::Syntax { line: 1, .. }));
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum JsonError {
    /// Not JSON, or not of this shape.
    #[error("line {line}, column {column}: {message}")]
    Syntax {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What is wrong.
        message: String,
    },
    /// A schema this version does not know.
    #[error("schema {schema} is not known, only {SCHEMA}")]
    Schema {
        /// The number given.
        schema: u32,
    },
    /// A lot is named that is not in `lots`.
    #[error("no lot is called {name:?} in \"lots\"")]
    NoSuchLot {
        /// The name.
        name: String,
    },
    /// Two lots have one name.
    #[error("two lots are called {name:?}")]
    TwoLots {
        /// The name.
        name: String,
    },
    /// Exactly one of several fields must be given.
    #[error("{place}: give exactly one of {fields}")]
    ExactlyOne {
        /// Where.
        place: String,
        /// The fields.
        fields: &'static str,
    },
    /// A word that is not in its list.
    #[error("{field} = {value:?} is not one of {allowed}")]
    UnknownWord {
        /// The field.
        field: &'static str,
        /// What was given.
        value: String,
        /// What is allowed.
        allowed: String,
    },
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A lot of this name that cannot be described.
    #[error("lot {lot:?}: {error}")]
    InLot {
        /// The lot.
        lot: String,
        /// What is wrong with it.
        error: Box<JsonError>,
    },
    /// A lot that cannot be described.
    #[error(transparent)]
    Lot(#[from] LotError),
    /// Targets that cannot be met.
    #[error(transparent)]
    Formulate(#[from] FormulateError),
    /// A recipe that cannot be worked out.
    #[error(transparent)]
    Recipe(#[from] RecipeError),
    /// A soak that makes no sense.
    #[error(transparent)]
    Extraction(#[from] crate::extraction::ExtractionError),
    /// A bottle that makes no sense.
    #[error(transparent)]
    Oxidation(#[from] OxidationError),
    /// A sheet that cannot be made.
    #[error(transparent)]
    Sheet(#[from] SheetError),
}

impl From<serde_json::Error> for JsonError {
    fn from(e: serde_json::Error) -> Self {
        let (line, column) = (e.line(), e.column());
        let text = e.to_string();
        // The place is told in its own fields.
        let message = match text.rfind(" at line ") {
            Some(cut) => text[..cut].to_string(),
            None => text,
        };
        JsonError::Syntax {
            line,
            column,
            message,
        }
    }
}

/// A recipe with everything the sheet shall speak of.
///
/// ```
/// # use ferrogall::json::{batch_from_json, JsonError};
/// let e = batch_from_json("{ \"schema\": 2, \"title\": \"\", \"lots\": [] }").unwrap_err();
/// assert_eq!(e, JsonError::Schema { schema: 2 });
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    /// The recipe, scaled to its bottles where there are any.
    pub recipe: Recipe,
    /// What the sheet shall speak of.
    pub options: SheetOptions,
}

impl Batch {
    /// Works it out.
    ///
    /// # Errors
    /// [`SheetError`].
    pub fn sheet(&self) -> Result<BatchSheet, SheetError> {
        BatchSheet::new(&self.recipe, &self.options)
    }
}

/// Reads a recipe.
///
/// # Errors
/// [`JsonError`].
pub fn batch_from_json(json: &str) -> Result<Batch, JsonError> {
    // A later schema may hold fields this one does not know: say that first.
    #[derive(serde::Deserialize)]
    struct Only {
        schema: u32,
    }
    if let Ok(Only { schema }) = serde_json::from_str::<Only>(json)
        && schema != SCHEMA
    {
        return Err(JsonError::Schema { schema });
    }
    serde_json::from_str::<BatchSpec>(json)?.build()
}

/// Reads a recipe and works out its sheet.
///
/// # Errors
/// [`JsonError`].
pub fn sheet_from_json(json: &str) -> Result<BatchSheet, JsonError> {
    Ok(batch_from_json(json)?.sheet()?)
}

impl BatchSheet {
    /// The sheet as JSON, for a program to read.
    ///
    /// # Errors
    /// [`JsonError::Syntax`]; a sheet that was worked out always serialises.
    pub fn to_json(&self) -> Result<String, JsonError> {
        Ok(serde_json::to_string_pretty(self)?)
    }
}
