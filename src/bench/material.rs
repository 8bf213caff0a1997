//! What a catalogue row says about a material.
//!
//! One struct per kind of material. The rows themselves are plain `const`
//! tables, one file per kind.

use crate::composition::Component;
use crate::source::{Range, Source};

/// Oxidation state of the iron in a salt.
///
/// ```
/// use ferrogall::bench::{iron_salts, IronState};
/// let ferric = iron_salts().iter().filter(|s| s.state == IronState::Three);
/// assert!(ferric.count() > 3);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum IronState {
    /// Iron(II), ferrous: what an ink is made with.
    Two,
    /// Iron(III), ferric: blackens at once and settles.
    Three,
}

/// Whether a salt will make ink.
///
/// ```
/// use ferrogall::bench::{iron_salts, Usability};
/// let oxalate = iron_salts().iter().find(|s| s.id == "iron_ii_oxalate_dihydrate").unwrap();
/// assert_eq!(oxalate.usability, Usability::No);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Usability {
    /// Fit as the main iron of an ink.
    Yes,
    /// It works with a drawback that the row names.
    Limited,
    /// Only as a deliberate trace beside an iron(II) salt.
    TraceOnly,
    /// Not fit.
    No,
}

/// An iron salt of known formula.
///
/// ```
/// use ferrogall::bench::{iron_salts, Usability};
/// let vitriol = iron_salts().iter().find(|s| s.mineral == "melanterite").unwrap();
/// assert_eq!(vitriol.id, "iron_ii_sulfate_heptahydrate");
/// assert_eq!(vitriol.usability, Usability::Yes);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct IronSalt {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Systematic name.
    pub name: &'static str,
    /// Formula with its crystal water.
    pub formula: &'static str,
    /// CAS registry number; empty when none was found in a cited text.
    pub cas: &'static str,
    /// Mineral name; empty when there is none.
    pub mineral: &'static str,
    /// Names met with in shops and old books.
    pub trade_names: &'static str,
    /// Oxidation state of the iron.
    pub state: IronState,
    /// Ions in one formula unit.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub ions: &'static [(Component, f64)],
    /// Crystal water in one formula unit.
    pub crystal_water: f64,
    /// Molar mass printed by a handbook or supplier, g/mol, where one was seen.
    pub handbook_molar_mass_g_per_mol: Option<f64>,
    /// Density of the solid, g/cm³, where known.
    pub density_g_per_cm3: Option<f64>,
    /// Whether it will make ink.
    pub usability: Usability,
    /// Why, in one line; empty when there is nothing to say.
    pub reason: &'static str,
    /// How it keeps.
    pub stability: &'static str,
    /// How much dissolves, in words with figures.
    pub solubility: &'static str,
    /// Where the row comes from.
    pub source: Source,
}

/// Chemical class of a plant's tannin.
///
/// ```
/// use ferrogall::bench::{tannin_sources, TanninClass};
/// let bark = tannin_sources().iter().find(|t| t.id == "oak_bark").unwrap();
/// assert_eq!(bark.class, TanninClass::Condensed);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum TanninClass {
    /// Galloyl esters of glucose or quinic acid: blue-black, the ink tannin.
    Gallotannin,
    /// Hexahydroxydiphenoyl esters: greyer and browner with iron.
    Ellagitannin,
    /// Gallotannin and ellagitannin together.
    MixedHydrolysable,
    /// Catechol tannins: greenish with iron.
    Condensed,
    /// Tea catechins and theaflavins.
    TeaPolyphenols,
    /// Naphthoquinones: hardly a tannin at all.
    Naphthoquinone,
    /// Gallic acid itself.
    Pure,
}

/// What a percentage of tannin refers to.
///
/// ```
/// use ferrogall::bench::{tannin_sources, Basis};
/// let galls = tannin_sources().iter().find(|t| t.id == "aleppo_galls").unwrap();
/// assert_eq!(galls.basis, Basis::DryMatter);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Basis {
    /// Per dry matter.
    DryMatter,
    /// Per mass as it comes out of the bag.
    AsIs,
}

/// How a tannin source goes into an ink.
///
/// ```
/// use ferrogall::bench::{tannin_sources, TanninForm};
/// let powder = tannin_sources().iter().find(|t| t.id == "tannic_acid").unwrap();
/// assert_eq!(powder.form, TanninForm::Soluble);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum TanninForm {
    /// Plant matter: must be extracted, and the marc strained off.
    Plant,
    /// A powder that dissolves.
    Soluble,
}

/// A source of tannin.
///
/// ```
/// use ferrogall::bench::tannin_sources;
/// let sumac = tannin_sources().iter().find(|s| s.id == "sumac_leaf").unwrap();
/// assert!(sumac.tannin_percent.contains(25.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct TanninSource {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Common name.
    pub name: &'static str,
    /// Botanical origin.
    pub botanical: &'static str,
    /// Class of tannin.
    pub class: TanninClass,
    /// How it goes into an ink.
    pub form: TanninForm,
    /// Tannin, % w/w on `basis`. For gallic acid: zero, see `gallic_acid_percent`.
    pub tannin_percent: Range,
    /// What `tannin_percent` and `gallic_acid_percent` refer to.
    pub basis: Basis,
    /// Moisture, % w/w as is. For a crystal hydrate: its crystal water.
    pub moisture_percent: Range,
    /// Free gallic acid (counted anhydrous), % w/w on `basis`, beside the tannin.
    pub gallic_acid_percent: Range,
    /// Galloyl (vicinal trihydroxyphenyl) units per gram of tannin, mmol/g.
    pub galloyl_mmol_per_g: Range,
    /// How the tannin figure was measured or merged.
    pub method: &'static str,
    /// What to know before using it; empty when nothing.
    pub note: &'static str,
    /// Where the tannin figure comes from.
    pub source: Source,
    /// Where the galloyl figure comes from.
    pub galloyl_source: Source,
}

/// Whether an acid leaves the paper with time.
///
/// ```
/// use ferrogall::bench::{acids, Volatility};
/// let sulfuric = acids().iter().find(|a| a.id == "sulfuric_acid").unwrap();
/// assert_eq!(sulfuric.volatility, Volatility::Fixed);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Volatility {
    /// Evaporates as the writing dries (hydrochloric, acetic).
    Volatile,
    /// Stays in the paper (sulfuric, oxalic, citric …).
    Fixed,
}

/// A strength under which an acid is sold.
///
/// ```
/// use ferrogall::bench::acids;
/// let muriatic = acids()[0].grades[0];
/// assert_eq!(muriatic.mass_percent, 31.45);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Grade {
    /// Name in the shop.
    pub name: &'static str,
    /// Mass of acid per mass of product, %.
    pub mass_percent: f64,
    /// Where the figure comes from.
    pub source: Source,
}

/// An acid (or base) for the ink.
///
/// ```
/// use ferrogall::bench::acids;
/// assert!(acids().iter().any(|a| a.id == "hydrochloric_acid" && a.strong_protons == 1.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Acid {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Formula of the substance that is weighed, with its crystal water.
    pub formula: &'static str,
    /// CAS registry number.
    pub cas: &'static str,
    /// Ions in one formula unit.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub ions: &'static [(Component, f64)],
    /// Crystal water in one formula unit.
    pub crystal_water: f64,
    /// Protons per formula unit counted as strong acid (a base: negative).
    ///
    /// A bookkeeping figure, no pH: both protons of sulfuric acid count, and
    /// the first of oxalic and phosphoric acid do not, though ink sets part of
    /// it free too.
    pub strong_protons: f64,
    /// Protons per formula unit that an alkali titrates in all.
    pub titratable_protons: f64,
    /// Whether it leaves the paper.
    pub volatility: Volatility,
    /// Id of the [`crate::chem`] solute whose density table serves its solutions.
    pub density_solute: Option<&'static str>,
    /// Strengths sold; the first is the default of a lot.
    pub grades: &'static [Grade],
    /// The usual caution.
    pub caution: &'static str,
    /// Where the row comes from.
    pub source: Source,
}

/// A gum or other binder.
///
/// ```
/// use ferrogall::bench::gums;
/// assert_eq!(gums()[0].id, "gum_arabic");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Gum {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Moisture as sold, % w/w.
    pub moisture_percent: Range,
    /// Use levels met with, grams as sold per litre of ink.
    pub dose_g_per_l: Range,
    /// The usual caution.
    pub caution: &'static str,
    /// What to know before using it.
    pub note: &'static str,
    /// Where the row comes from.
    pub source: Source,
}

/// Charge class of a dye, which decides whether it lives with tannin.
///
/// ```
/// use ferrogall::bench::{dyes, DyeCharge};
/// let basic = dyes().iter().filter(|d| d.charge == DyeCharge::Cationic);
/// assert!(basic.clone().count() > 0 && basic.clone().all(|d| d.precipitates_with_tannin));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum DyeCharge {
    /// Cationic (basic): tannin precipitates it.
    Cationic,
    /// Anionic (acid): stays dissolved.
    Anionic,
    /// Neutral mordant dye.
    Neutral,
}

/// A dye that makes the fresh line visible.
///
/// ```
/// use ferrogall::bench::dyes;
/// assert!(dyes().iter().any(|d| d.precipitates_with_tannin));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Dye {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Common name.
    pub name: &'static str,
    /// Colour Index generic name.
    pub colour_index_name: &'static str,
    /// Colour Index number(s).
    pub colour_index_number: &'static str,
    /// CAS registry number(s).
    pub cas: &'static str,
    /// Formula where the dye has one; empty for mixtures.
    pub formula: &'static str,
    /// Charge class.
    pub charge: DyeCharge,
    /// Whether tannin throws it down.
    pub precipitates_with_tannin: bool,
    /// Dose met with in inks, g/L; zero where it should not be used.
    pub dose_g_per_l: Range,
    /// Solubility in water, g/L, where a figure was found.
    pub solubility_g_per_l: Option<f64>,
    /// The usual caution; empty when none was found.
    pub caution: &'static str,
    /// Behaviour with iron, acid and light.
    pub note: &'static str,
    /// Where the row comes from.
    pub source: Source,
}

/// Something against mould.
///
/// ```
/// use ferrogall::bench::preservatives;
/// let phenol = preservatives().iter().find(|p| p.id == "phenol").unwrap();
/// assert_eq!(phenol.reference_dose_g_per_l, Some(1.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Preservative {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Formula of the substance that is weighed.
    pub formula: &'static str,
    /// CAS registry number.
    pub cas: &'static str,
    /// Components in one formula unit.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub ions: &'static [(Component, f64)],
    /// pKa of the undissociated, effective form at 25 °C, where it has one.
    pub pka: Option<f64>,
    /// Dose met with, g/L of the substance weighed.
    pub dose_g_per_l: Range,
    /// Dose of a published reference ink, g/L, where one uses it.
    pub reference_dose_g_per_l: Option<f64>,
    /// Solubility of the effective form in water near 20–25 °C, g/L.
    pub solubility_g_per_l: Option<f64>,
    /// Density, g/cm³ (the liquid, or the solid).
    pub density_g_per_cm3: Option<f64>,
    /// Whether it is a liquid at room temperature, so that it may be measured by volume.
    pub liquid: bool,
    /// Whether it evaporates when a drop is dried.
    pub volatile: bool,
    /// The usual caution.
    pub caution: &'static str,
    /// What to know before using it.
    pub note: &'static str,
    /// Where the row comes from.
    pub source: Source,
}

/// Something that keeps the ink from drying in the pen, or carries an oil.
///
/// ```
/// use ferrogall::bench::humectants;
/// assert!(humectants().iter().any(|h| h.id == "glycerol"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Humectant {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Formula; empty for mixtures such as sugar syrups.
    pub formula: &'static str,
    /// CAS registry number.
    pub cas: &'static str,
    /// Components in one formula unit; empty: counted as other solubles.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub ions: &'static [(Component, f64)],
    /// Density, g/cm³.
    pub density_g_per_cm3: f64,
    /// Dose met with, g/L.
    pub dose_g_per_l: Range,
    /// Whether it evaporates when a drop is dried.
    pub volatile: bool,
    /// What to know before using it.
    pub note: &'static str,
    /// Where the row comes from.
    pub source: Source,
}

/// A water to make ink with.
///
/// ```
/// use ferrogall::bench::waters;
/// assert_eq!(waters()[0].id, "distilled_water");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Water {
    /// Identifier for lots, JSON and C.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Alkalinity, mg/L as CaCO₃: what eats acid.
    pub alkalinity_mg_per_l: Range,
    /// Hardness (calcium and magnesium), mg/L as CaCO₃.
    pub hardness_mg_per_l: Range,
    /// What to know before using it.
    pub note: &'static str,
    /// Where the row comes from.
    pub source: Source,
}
