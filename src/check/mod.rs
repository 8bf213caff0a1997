//! Findings about a recipe: warnings as data.
//!
//! [`check`] reads a recipe that has been worked out and says what a careful
//! colleague would: this dye will precipitate, the marc drinks the liquor,
//! there is 12 times the usual phenol in it. Each [`Finding`] names its figure,
//! the limit it was held against and where that limit comes from.
//!
//! [`check`] goes by the recipe worked out and gives findings alone; it is the
//! cheap one. [`read`] goes by the recipe itself, and adds to each finding the
//! [`Slip`]s that may lie behind it: "if you meant 1 g of phenol …", each with the
//! corrected recipe, worked out and checked in its turn. A corrected recipe needs
//! the recipe, which an [`Evaluation`](crate::recipe::Evaluation) does not hold.
//!
//! A recipe in old units goes through
//! [`OldRecipe::read`](crate::history::OldRecipe::read) first, which doubts its
//! words (pints, drachms, lost fractions); the recipe that comes out of it is
//! read here.

mod acid;
mod cautions;
mod dissolved;
mod doses;
mod history;
mod hydrates;
mod published;
mod rules;
mod slip;
mod slips;
mod weighings;

pub use cautions::cautions;
pub use rules::check;
pub use slip::{Slip, SlipChange, SlipKind};
pub(crate) use slips::look_for_slips;
use slips::words_of;
pub use slips::{likeness, read};
pub(crate) use weighings::FEWEST_STEPS;
pub use weighings::weighings;

use crate::source::Source;

/// How much a finding matters.
///
/// ```
/// use ferrogall::check::Severity;
/// assert!(Severity::Error > Severity::Notice);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Severity {
    /// Good to know.
    Notice,
    /// The ink will be worse than it could be.
    Warning,
    /// This will not make an ink, or the recipe is a slip.
    Error,
}

/// What a finding is about; stable across versions.
///
/// ```
/// use ferrogall::check::Code;
/// assert_eq!(Code::MarcDrinksLiquor.id(), "marc_drinks_liquor");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum Code {
    /// The iron fits a published ink if another hydrate was meant.
    WrongHydrate,
    /// Iron in excess by every published criterion.
    IronInExcess,
    /// Tannin in excess by every published criterion.
    TanninInExcess,
    /// The proportion lies outside everything found in old recipes.
    RatioOutsideHistory,
    /// Weaker or stronger in iron than any ink compared.
    StrengthOutsideHistory,
    /// A published ink but for one dose, for its volume, or for two amounts
    /// that stand for one another.
    NearlyPublished,
    /// No iron or no tannin at all.
    NoInk,
    /// Hardly any water in it.
    NoWater,
    /// The marc holds all or most of the liquor.
    MarcDrinksLiquor,
    /// A dye that tannin precipitates.
    DyePrecipitates,
    /// Iron(III) is the main iron, or much of it.
    #[cfg_attr(feature = "serde", serde(rename = "iron_iii"))]
    IronIII,
    /// A salt that is not fit, or only partly.
    SaltNotFit,
    /// A tannin that does not blacken with iron like gallotannin.
    TanninClass,
    /// An acid that holds iron back from the tannin.
    MasksIron,
    /// A dose far from the reference inks.
    DoseFarFromReference,
    /// More than dissolves.
    BeyondSolubility,
    /// Alkaline water eats the acid.
    WaterEatsAcid,
    /// No acid left over: iron will settle soon.
    NoAcid,
    /// An amount under so many steps of its tool.
    WeighingTooSmall,
    /// An amount under half a step: it is not weighed at all.
    RoundedToNothing,
}

impl Code {
    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        match self {
            Code::WrongHydrate => "wrong_hydrate",
            Code::IronInExcess => "iron_in_excess",
            Code::TanninInExcess => "tannin_in_excess",
            Code::RatioOutsideHistory => "ratio_outside_history",
            Code::StrengthOutsideHistory => "strength_outside_history",
            Code::NearlyPublished => "nearly_published",
            Code::NoInk => "no_ink",
            Code::NoWater => "no_water",
            Code::MarcDrinksLiquor => "marc_drinks_liquor",
            Code::DyePrecipitates => "dye_precipitates",
            Code::IronIII => "iron_iii",
            Code::SaltNotFit => "salt_not_fit",
            Code::TanninClass => "tannin_class",
            Code::MasksIron => "masks_iron",
            Code::DoseFarFromReference => "dose_far_from_reference",
            Code::BeyondSolubility => "beyond_solubility",
            Code::WaterEatsAcid => "water_eats_acid",
            Code::NoAcid => "no_acid",
            Code::WeighingTooSmall => "weighing_too_small",
            Code::RoundedToNothing => "rounded_to_nothing",
        }
    }
}

/// One finding.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::check::{check, Code, Severity};
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Recipe, Solution};
///
/// let recipe = Recipe::new("a bright idea").with(Solution::new("ink")
///     .add(&Lot::of("tannic_acid")?.build()?, grams(12.0))
///     .add(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?, grams(15.0))
///     .add(&Lot::of("methylene_blue")?.build()?, grams(1.0))
///     .make_up(&Lot::of("distilled_water")?.build()?, liters(1.0)));
/// let findings = check(&recipe.evaluate()?, None);
/// assert!(findings.iter().any(|f| f.code == Code::DyePrecipitates && f.severity == Severity::Error));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Finding {
    /// What it is about.
    pub code: Code,
    /// How much it matters.
    pub severity: Severity,
    /// In words, with the figures.
    pub message: String,
    /// The figure found.
    pub value: f64,
    /// The limit it was held against.
    pub limit: f64,
    /// Unit of both; empty for ratios.
    pub unit: &'static str,
    /// Where the limit comes from.
    pub source: Source,
    /// Likely slips behind it, best first, at most three; always empty from
    /// [`check`], which knows no recipe: ask [`read`].
    pub slips: Vec<Slip>,
    /// What it speaks of, to know it again in another recipe.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub(crate) about: Subject,
}

/// What a finding speaks of, beside its code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Subject {
    /// The ink as a whole.
    Ink,
    /// One of several figures of a rule.
    Figure(&'static str),
    /// What a pot holds of something: index of the solution, or their number
    /// for the ink.
    Pot(usize, &'static str),
    /// A line, by its place.
    Line(usize),
}

impl core::fmt::Display for Finding {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let mark = match self.severity {
            Severity::Error => "ERROR",
            Severity::Warning => "Warning",
            Severity::Notice => "Note",
        };
        write!(f, "{mark}: {} [{}]", self.message, self.source)
    }
}
