//! Recipes in old units, read.
//!
//! A pound is 373 g in an apothecary's book and 454 g in a grocer's; a pint
//! grew by a fifth on 1 January 1826. What a [`Word`] may mean depends on
//! place, year and book ([`Setting`]): it gives [`Candidates`], the likeliest
//! first, with the interval that the doubt leaves. An [`OldRecipe`] is read as
//! a whole: a [`Reading`] holds every line in grams or millilitres, a recipe
//! that the crate can work out, the other readings, and [`Doubt`]s about slips.
//! The [`HistoricSet`] tells how usual a strength or a proportion is.
//!
//! ```
//! use ferrogall::bench::Lot;
//! use ferrogall::history::*;
//! use ferrogall::quantity::*;
//!
//! let galls = Lot::of("aleppo_galls")?.build()?;
//! let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
//! let water = Lot::of("rain_water")?.build()?;
//! let receipt = OldRecipe::new("a parish receipt", Setting::new(Place::England, Years::of(1740)?))
//!     .line(OldLine::new(Role::Galls, &galls, OldAmount::parse("3 ounces")?))
//!     .line(OldLine::new(Role::IronSalt, &vitriol, OldAmount::parse("1 or 1 1/2 ounces")?))
//!     .line(OldLine::new(Role::Liquid, &water, OldAmount::parse("1 quart")?));
//! let reading = receipt.read()?;
//! let quart = reading.final_volume.ok_or("no liquid")?;
//! assert!((quart.typical.in_milliliters() - 946.4).abs() < 0.1); // wine measure
//! assert!(quart.high.in_milliliters() > 1155.0); // or ale measure
//! let recipe = reading.recipe.ok_or("no recipe")?; // an ordinary one
//! let small = recipe.scaled(100.0 / 946.353);
//! assert!((small.evaluate()?.composition.volume().in_milliliters() - 100.0).abs() < 0.01);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod amount;
mod compare;
mod count;
mod doubt;
mod echo;
mod figures;
mod old_recipe;
mod parts;
pub(crate) mod place;
mod reading;
pub(crate) mod recipes;
mod set;
#[cfg(feature = "serde")]
mod shape;
mod slips;
mod tables;
pub(crate) mod unit;
pub(crate) mod word;

pub use amount::OldAmount;
pub use compare::Normalised;
pub use count::Count;
pub use doubt::{Doubt, DoubtKind, Meant};
pub use echo::{Echo, echo};
pub use figures::{Figure, Figures};
pub use old_recipe::{Ending, OldLine, OldRecipe, Role};
pub use parts::Proportions;
pub use place::{Place, Years};
pub use reading::{Alternative, FinalBasis, ReadLine, Reading};
pub use recipes::{Confidence, Ends, HistoricRecipe, IronSource, Pantry, TanninOf};
pub use set::{
    HistoricSet, PublishedQuartiles, Quantiles, historic, historic_recipe, historic_recipes,
    published_quartiles,
};
pub use unit::{Quantity, System, Unit, UnitKind, Used};
pub use word::{Book, Candidate, Candidates, Goods, Setting, Standing, Word};

pub use crate::span::Span;

use crate::bench::LotError;
use crate::quantity::OutOfRange;
use crate::recipe::RecipeError;

/// Why an old recipe cannot be read.
///
/// ```
/// use ferrogall::history::{HistoryError, OldAmount};
/// let e = OldAmount::parse("3 furlongs").unwrap_err();
/// assert!(matches!(e, HistoryError::UnknownUnit { .. }));
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum HistoryError {
    /// No unit has this identifier, and no word is spelled like it.
    #[error(
        "{text:?} is no unit that the tables know; an amount ends with its unit, as in \"4 oz\""
    )]
    UnknownUnit {
        /// What was given.
        text: String,
    },
    /// A text that is no number.
    #[error("{text:?} is no number, fraction or span of numbers")]
    NotANumber {
        /// What was given.
        text: String,
    },
    /// A line that mixes weight and measure, or is a time.
    #[error("{line:?}: its amount is neither one weight nor one measure of capacity")]
    MixedKinds {
        /// The line.
        line: String,
    },
    /// No line at all.
    #[error("the recipe has no lines")]
    Empty,
    /// More lines than a recipe may have.
    #[error("{count} lines; an old recipe has at most {max}")]
    TooManyLines {
        /// How many there are.
        count: usize,
        /// How many are allowed.
        max: usize,
    },
    /// Nothing of this name among the parts.
    #[error("no part is called {name:?}")]
    NoSuchPart {
        /// The name asked for.
        name: String,
    },
    /// A quantity of another kind than the unit.
    #[error("{unit:?} does not measure this kind of quantity")]
    WrongKind {
        /// Identifier of the unit.
        unit: &'static str,
    },
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A lot that cannot do what is asked of it.
    #[error(transparent)]
    Lot(#[from] LotError),
    /// The recipe that follows cannot be worked out.
    #[error(transparent)]
    Recipe(#[from] RecipeError),
}

/// Every unit, region by region, in a fixed order.
///
/// ```
/// assert!(ferrogall::history::units().count() >= 159);
/// ```
pub fn units() -> impl Iterator<Item = &'static Unit> {
    use tables::*;
    [
        english::ROWS,
        french::ROWS,
        italian::ROWS,
        german::ROWS,
        iberian::ROWS,
        dutch::ROWS,
        northern::ROWS,
        ancient::ROWS,
        vague::ROWS,
        more::ROWS,
    ]
    .into_iter()
    .flatten()
}

/// The unit of this identifier.
///
/// ```
/// assert_eq!(ferrogall::history::unit("uk_pt").unwrap().name, "imperial pint (20 fl oz)");
/// ```
pub fn unit(id: &str) -> Option<&'static Unit> {
    units().find(|u| u.id == id)
}

/// The English grain: the first unit of the tables.
const GRAIN: &Unit = &tables::english::GRAIN;

/// Every word, in a fixed order.
///
/// ```
/// assert!(ferrogall::history::words().iter().any(|w| w.id == "schoppen"));
/// ```
pub const fn words() -> &'static [Word] {
    tables::words::ROWS
}

/// The word of this spelling; capitals and a full stop behind an abbreviation
/// do not matter.
///
/// ```
/// use ferrogall::history::word;
/// assert_eq!(word("Loth").unwrap().id, "lot");
/// ```
pub fn word(spelling: &str) -> Option<&'static Word> {
    let small = spelling.trim().to_lowercase();
    let spelled = |small: &str| words().iter().find(|w| w.spellings.contains(&small));
    spelled(&small).or_else(|| spelled(small.strip_suffix('.')?))
}
