//! Amounts of lots and the few steps that change chemistry.
//!
//! A [`Recipe`] is one or more [`Solution`]s made separately and poured
//! together, perhaps made up to a volume at the end. It is plain data:
//! nothing is checked until [`Recipe::evaluate`] works it out, and that is
//! the only place where it is checked.

mod amount;
mod bottles;
mod columns;
mod evaluate;
mod evaluation;
mod extract;
mod rounding;
mod sheet;
mod smallest;

pub use amount::{Amount, Ingredient, Portion, Recipe, Solution};
pub use bottles::{BottlePlan, Bottling, LimitedBatch};
pub use columns::{ColumnPlan, RowResult, RowStatus};
pub(crate) use evaluate::{must_go_in_whole, must_pour, resolve, top_up};
pub use evaluation::{Evaluation, Line, LineKind, RatioInterval, SolutionMade};
pub use extract::{DEFAULT_HOLD_UP, DEFAULT_YIELD, Extraction, ExtractionResult};
pub(crate) use extract::{default_yield, strained};
pub use rounding::{Kit, Measure, RoundedLine, Rounding};
pub use smallest::{SmallestBatch, StockAdvice, smallest_batch};

pub use sheet::{
    BatchSheet, Comparison, SheetAcidity, SheetAssurance, SheetChance, SheetComponent, SheetCost,
    SheetError, SheetInk, SheetKeeping, SheetLine, SheetLineRounding, SheetLot, SheetMeasure,
    SheetOptions, SheetOxygen, SheetPreservative, SheetRounding, SheetSource, SheetStep,
    SheetSureness, SheetVerdict, Storage,
};

use crate::bench::LotError;
use crate::quantity::OutOfRange;

/// Why a recipe cannot be worked out.
///
/// ```
/// use ferrogall::recipe::{Recipe, RecipeError};
/// assert_eq!(Recipe::new("nothing").evaluate().unwrap_err(), RecipeError::Empty);
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RecipeError {
    /// Nothing in it.
    #[error("the recipe holds nothing")]
    Empty,
    /// Parts are used, but nobody said what a part weighs.
    #[error("{lot:?} is given in parts, but the mass of one part is not known")]
    NoPartMass {
        /// The lot given in parts.
        lot: String,
    },
    /// Plant matter put straight into the ink.
    #[error("{lot:?} is plant matter: extract it and strain off the marc")]
    NeedsExtraction {
        /// The plant lot.
        lot: String,
    },
    /// A solid where something must be poured.
    #[error("{lot:?} is no liquid: it cannot be poured, soaked in or filled up with")]
    NotALiquid {
        /// The lot.
        lot: String,
    },
    /// More entries than a recipe may have.
    #[error("{count} pots and ingredients; a recipe has at most {max}")]
    TooManyIngredients {
        /// How many there are.
        count: usize,
        /// How many are allowed.
        max: usize,
    },
    /// Something that is not plant matter put to soak.
    #[error("{lot:?} is not plant matter and is not extracted")]
    NotAPlant {
        /// The lot.
        lot: String,
    },
    /// The ingredients already fill more than the volume to make up to.
    #[error(
        "the ingredients of {solution:?} fill {have_ml:.1} mL, more than the {want_ml:.1} mL to make up to"
    )]
    TooMuchForVolume {
        /// Name of the solution, or of the recipe.
        solution: String,
        /// What they fill, mL.
        have_ml: f64,
        /// What was asked for, mL.
        want_ml: f64,
    },
    /// More of a stock solution is used than was made.
    #[error("{solution:?} yields {have_ml:.1} mL, less than the {want_ml:.1} mL to be used")]
    NotEnoughStock {
        /// Name of the solution.
        solution: String,
        /// What was made, mL.
        have_ml: f64,
        /// What was asked for, mL.
        want_ml: f64,
    },
    /// No lot of this name is in the recipe.
    #[error("no lot called {name:?} is in the recipe")]
    NoSuchLot {
        /// The name asked for.
        name: String,
    },
    /// More ingredients than the column kernel holds.
    #[error("{count} ingredients; columns take at most {max}")]
    TooManyColumns {
        /// How many were given.
        count: usize,
        /// How many are allowed.
        max: usize,
    },
    /// A lot of a column plan has no column.
    #[error("{count} columns of masses for {needed} lots")]
    TooFewColumns {
        /// How many were given.
        count: usize,
        /// How many are needed.
        needed: usize,
    },
    /// An amount of a lot outside its range.
    #[error("{lot:?}: {error}")]
    Amount {
        /// The lot.
        lot: String,
        /// What is wrong with its amount.
        error: OutOfRange,
    },
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A lot that cannot do what is asked of it.
    #[error(transparent)]
    Lot(#[from] LotError),
}
