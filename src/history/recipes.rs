//! A recipe of the historic set as data.

use super::amount::{OldAmount, Term};
use super::count::Count;
use super::figures::{Figures, Totals};
use super::old_recipe::{Ending, OldLine, OldRecipe, Role};
use super::place::{Place, Years};
use super::unit::Quantity;
use super::word::{Candidate, Setting};
use super::{HistoryError, tables, unit};
use crate::bench::{Lot, LotError};
use crate::chem::constants::{GREEN_VITRIOL, IRON};
use crate::quantity::{Share, grams, milliliters};
use crate::source::Source;

/// How clear the text of a recipe is.
///
/// ```
/// use ferrogall::history::{Confidence, historic_recipe};
/// assert_eq!(historic_recipe("EN16").unwrap().confidence, Confidence::C);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Confidence {
    /// A clear text.
    A,
    /// Unit or liquid is guessed.
    B,
    /// Damaged or suspicious.
    C,
    /// From memory.
    D,
}

/// What gives the tannin.
///
/// ```
/// use ferrogall::history::{TanninOf, historic_recipe};
/// assert_eq!(historic_recipe("FR02").unwrap().tannin_of, TanninOf::Galls);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum TanninOf {
    /// Oak galls.
    Galls,
    /// Tannic acid.
    TannicAcid,
    /// Gallic acid, taken as its monohydrate.
    GallicAcid,
    /// A pure substance that the catalogue does not hold.
    Other,
}

/// What gives the iron.
///
/// ```
/// use ferrogall::history::{IronSource, historic_recipe};
/// assert_eq!(historic_recipe("EN18").unwrap().iron_of, IronSource::CalcinedVitriol);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum IronSource {
    /// Green vitriol, taken as fresh FeSO4·7H2O.
    Vitriol,
    /// Vitriol calcined to whiteness, taken as FeSO4·H2O.
    CalcinedVitriol,
    /// Iron(II) lactate, taken as its trihydrate.
    Lactate,
}

/// What volume the recipe ends with.
///
/// ```
/// use ferrogall::history::{Ends, historic_recipe};
/// assert_eq!(historic_recipe("FR05").unwrap().ends, Ends::To(0.5));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ends {
    /// Nothing said: the liquid that goes in.
    Charge,
    /// Boiled down to this share.
    To(f64),
    /// Boiled down by or to this share; "to" is taken.
    Unclear(f64),
    /// It yields so much.
    At(Written),
}

/// Amounts as they are written: so many of a unit; "g", "mL" and "part" too.
pub type Written = &'static [(f64, &'static str)];

/// A recipe of the set.
///
/// ```
/// use ferrogall::history::historic_recipe;
/// let lemery = historic_recipe("FR02").unwrap();
/// assert_eq!(lemery.tannin, &[(16.0, "fr_once")]);
/// assert_eq!(lemery.left_out, "");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct HistoricRecipe {
    /// Identifier.
    pub id: &'static str,
    /// Title.
    pub title: &'static str,
    /// Where.
    pub place: Place,
    /// When, as years.
    pub years: Years,
    /// When, in the words of the table.
    pub date: &'static str,
    /// What gives the tannin.
    pub tannin_of: TanninOf,
    /// How much of it.
    pub tannin: Written,
    /// What gives the iron.
    pub iron_of: IronSource,
    /// How much of it.
    pub iron: Written,
    /// How much gum; empty where none is stated.
    pub gum: Written,
    /// The liquid in words.
    pub liquid_of: &'static str,
    /// How much of it; empty where none is stated.
    pub liquid: Written,
    /// What volume it ends with.
    pub ends: Ends,
    /// What else goes in, in words.
    pub others: &'static str,
    /// How far the conversion of its measures may be off, as a share: a
    /// judgement.
    pub conversion_u: Option<f64>,
    /// How clear the text is.
    pub confidence: Confidence,
    /// Why it is no part of the historic set; empty when it is.
    pub left_out: &'static str,
    /// What to know.
    pub note: &'static str,
    /// Where it was read.
    pub source: Source,
}

/// Grams of FeSO4·H2O per mole, and of iron lactate trihydrate.
fn iron_share(of: IronSource) -> f64 {
    let per_mol = |formula: &str| crate::chem::molar_mass(formula).map_or(f64::NAN, |m| m.value);
    match of {
        IronSource::Vitriol => IRON / GREEN_VITRIOL,
        IronSource::CalcinedVitriol => IRON / per_mol("FeSO4·H2O"),
        IronSource::Lactate => IRON / per_mol("Fe(C3H5O3)2·3H2O"),
    }
}

/// Grams or millilitres of what is written; parts count as 1 each. The unit
/// of a row that is not in the tables would be NaN (a test holds that none is).
pub(crate) fn metric(written: Written) -> f64 {
    let one = |name: &str| match name {
        "g" | "mL" | "part" => 1.0,
        id => unit(id).map_or(f64::NAN, |u| u.metric_value),
    };
    written.iter().map(|(n, name)| n * one(name)).sum()
}

impl HistoricRecipe {
    /// Its figures, straight from the amounts as written.
    pub fn figures(&self) -> Figures {
        let in_parts = self.tannin.iter().any(|(_, u)| *u == "part");
        let vitriol_g = metric(self.iron);
        Totals {
            galls_g: metric(self.tannin),
            vitriol_g,
            gum_g: metric(self.gum),
            iron_g: vitriol_g * iron_share(self.iron_of),
            volume_l: if in_parts {
                0.0
            } else {
                1e-3 * self.final_ml().unwrap_or(0.0)
            },
        }
        .figures()
    }

    /// The century in which it falls: that of its earliest year.
    pub const fn century(&self) -> i32 {
        (self.years.from() - 1).div_euclid(100) + 1
    }

    /// The volume it ends with, mL.
    pub(crate) fn final_ml(&self) -> Option<f64> {
        let charge = metric(self.liquid);
        let ml = match self.ends {
            Ends::Charge => charge,
            Ends::To(share) | Ends::Unclear(share) => share * charge,
            Ends::At(amount) => metric(amount),
        };
        (ml > 0.0).then_some(ml)
    }

    /// The recipe to be read, with lots of today.
    ///
    /// # Errors
    /// [`HistoryError::UnknownUnit`] for the laboratory inks of substances
    /// that the catalogue does not hold.
    pub fn old_recipe(&self, pantry: &Pantry) -> Result<OldRecipe, HistoryError> {
        let (tannin_role, tannin) = match self.tannin_of {
            TanninOf::Galls => (Role::Galls, &pantry.galls),
            TanninOf::TannicAcid => (Role::Other, &pantry.tannic_acid),
            TanninOf::GallicAcid => (Role::Other, &pantry.gallic_acid),
            TanninOf::Other => {
                return Err(HistoryError::UnknownUnit {
                    text: self.title.to_string(),
                });
            }
        };
        let iron = match self.iron_of {
            IronSource::Vitriol => &pantry.vitriol,
            IronSource::CalcinedVitriol => &pantry.calcined_vitriol,
            IronSource::Lactate => &pantry.lactate,
        };
        let mut recipe = OldRecipe::new(self.title, Setting::new(self.place, self.years));
        for (role, lot, written) in [
            (tannin_role, tannin, self.tannin),
            (Role::IronSalt, iron, self.iron),
            (Role::Gum, &pantry.gum, self.gum),
            (Role::Liquid, &pantry.water, self.liquid),
        ] {
            if !written.is_empty() {
                recipe = recipe.line(OldLine::new(role, lot, amount(written)?));
            }
        }
        Ok(match self.ends {
            Ends::Charge => recipe,
            Ends::To(share) => recipe.ending(Ending::BoiledTo(Share::new(share)?)),
            Ends::Unclear(share) => recipe.ending(Ending::BoiledUnclear(Share::new(share)?)),
            Ends::At(written) => recipe.ending(Ending::Yields(amount(written)?)),
        })
    }
}

fn amount(written: Written) -> Result<OldAmount, HistoryError> {
    let mut terms = Vec::new();
    for (number, name) in written {
        let count = Count::of(*number)?;
        terms.push(match *name {
            "g" => Term::Metric(count, Quantity::Mass(grams(1.0))),
            "mL" => Term::Metric(count, Quantity::Volume(milliliters(1.0))),
            "part" => Term::Parts(count),
            id => {
                let unit = unit(id).ok_or_else(|| HistoryError::UnknownUnit {
                    text: id.to_string(),
                })?;
                Term::Unit(count, Candidate::just(unit))
            }
        });
    }
    Ok(OldAmount { terms })
}

/// Lots of today to read old recipes with.
///
/// ```
/// use ferrogall::history::{Pantry, historic_recipe};
/// let reading = historic_recipe("EN17").unwrap().old_recipe(&Pantry::usual()?)?.read()?;
/// assert!(reading.recipe.unwrap().evaluate().is_ok());
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Pantry {
    /// Galls.
    pub galls: Lot,
    /// Green vitriol.
    pub vitriol: Lot,
    /// Calcined vitriol.
    pub calcined_vitriol: Lot,
    /// Iron(II) lactate.
    pub lactate: Lot,
    /// Gum arabic.
    pub gum: Lot,
    /// Tannic acid.
    pub tannic_acid: Lot,
    /// Gallic acid crystals.
    pub gallic_acid: Lot,
    /// Water, which stands for wine, beer and vinegar too.
    pub water: Lot,
}

impl Pantry {
    /// Aleppo galls as the catalogue has them, pure salts, gum, distilled water.
    ///
    /// # Errors
    /// None in fact: the catalogue holds them all.
    pub fn usual() -> Result<Pantry, LotError> {
        let pure = |id: &str| Lot::of(id)?.purity(1.0, 0.0)?.build();
        Ok(Pantry {
            galls: Lot::of("aleppo_galls")?.named("galls").build()?,
            vitriol: pure("iron_ii_sulfate_heptahydrate")?.renamed("vitriol"),
            calcined_vitriol: pure("iron_ii_sulfate_monohydrate")?.renamed("calcined vitriol"),
            lactate: pure("iron_ii_lactate_trihydrate")?.renamed("iron lactate"),
            gum: Lot::of("gum_arabic")?.named("gum").build()?,
            tannic_acid: Lot::of("tannic_acid")?.build()?,
            gallic_acid: Lot::of("gallic_acid_monohydrate")?.build()?,
            water: Lot::of("distilled_water")?.named("water").build()?,
        })
    }
}

pub(crate) fn rows() -> impl Iterator<Item = &'static HistoricRecipe> {
    [
        tables::recipes_continent::ROWS,
        tables::recipes_english::ROWS,
        tables::recipes_today::ROWS,
    ]
    .into_iter()
    .flatten()
}
