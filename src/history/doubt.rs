//! What may be a slip in an old recipe, and what it would be without.

use super::figures::Figures;
use crate::quantity::Volume;
use crate::recipe::Recipe;

/// What a doubt is about; stable across versions.
///
/// ```
/// use ferrogall::history::DoubtKind;
/// assert_eq!(DoubtKind::LostFraction.id(), "lost_fraction");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum DoubtKind {
    /// Drachms for ounces, ounces for pounds, or the other way.
    UnitSlip,
    /// A nought too many or too few: 3 or 30.
    DigitSlip,
    /// "1/4" that became "14" in the copy.
    LostFraction,
    /// More vitriol than galls.
    VitriolExceedsGalls,
    /// Boiled down to, or by.
    UnclearBoilDown,
    /// The liquids do not come to what the text says.
    PartsDoNotSum,
    /// A later edition gives another amount.
    RenderingDiffers,
    /// A later edition took the unit of another land.
    RenderingUnit,
    /// No liquid is given.
    MissingLiquid,
    /// A word that may mean several units, more than 5 % apart.
    AmbiguousUnit,
    /// A unit that was not in use there and then.
    OutOfUse,
    /// A figure far outside the historic set that no slip here explains.
    OutsideHistory,
}

impl DoubtKind {
    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        match self {
            DoubtKind::UnitSlip => "unit_slip",
            DoubtKind::DigitSlip => "digit_slip",
            DoubtKind::LostFraction => "lost_fraction",
            DoubtKind::VitriolExceedsGalls => "vitriol_exceeds_galls",
            DoubtKind::UnclearBoilDown => "unclear_boil_down",
            DoubtKind::PartsDoNotSum => "parts_do_not_sum",
            DoubtKind::RenderingDiffers => "rendering_differs",
            DoubtKind::RenderingUnit => "rendering_unit",
            DoubtKind::MissingLiquid => "missing_liquid",
            DoubtKind::AmbiguousUnit => "ambiguous_unit",
            DoubtKind::OutOfUse => "out_of_use",
            DoubtKind::OutsideHistory => "outside_history",
        }
    }
}

/// The reading as if something else were meant.
///
/// ```
/// use ferrogall::history::{DoubtKind, Pantry, historic_recipe};
/// let text = historic_recipe("EN07").unwrap(); // one and a half drachms to a pint
/// let reading = text.old_recipe(&Pantry::usual()?)?.read()?;
/// let slip = reading.doubts.iter().find(|d| d.kind == DoubtKind::UnitSlip).unwrap();
/// let meant = slip.meant.as_ref().unwrap();
/// let times = meant.figures.galls_g_per_l.unwrap() / reading.figures.galls_g_per_l.unwrap();
/// assert!((times - 8.0).abs() < 1e-9); // ounces
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Meant {
    /// What would be meant.
    pub words: String,
    /// The figures then.
    pub figures: Figures,
    /// The final volume then.
    pub final_volume: Option<Volume>,
    /// The recipe then, where there is liquid.
    pub recipe: Option<Recipe>,
}

/// A doubt about an old recipe.
///
/// ```
/// use ferrogall::history::{DoubtKind, Pantry, historic_recipe};
/// let biasca = historic_recipe("IT03").unwrap().old_recipe(&Pantry::usual()?)?.read()?;
/// let doubt = &biasca.doubts[0];
/// assert_eq!(doubt.kind, DoubtKind::VitriolExceedsGalls);
/// assert!((doubt.value - 2.0 / 3.0).abs() < 1e-9 && doubt.limit == 1.0);
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Doubt {
    /// What it is about.
    pub kind: DoubtKind,
    /// Indices of the lines it is about; none for the recipe as a whole.
    pub lines: Vec<usize>,
    /// In words, with the figures.
    pub message: String,
    /// The figure found.
    pub value: f64,
    /// What it was held against.
    pub limit: f64,
    /// Unit of both; empty for ratios.
    pub unit: &'static str,
    /// The reading as if something else were meant.
    pub meant: Option<Meant>,
}

impl core::fmt::Display for Doubt {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)?;
        match &self.meant {
            Some(meant) => write!(f, "; perhaps meant: {}", meant.words),
            None => Ok(()),
        }
    }
}
