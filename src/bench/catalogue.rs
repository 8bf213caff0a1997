//! The way into the tables: by kind, all together, or by id.

use super::material::{Acid, Dye, Gum, Humectant, IronSalt, Preservative, TanninSource, Water};
use super::tables;
use crate::source::Source;

/// All iron salts, iron(II) before iron(III).
///
/// ```
/// assert_eq!(ferrogall::bench::iron_salts().len(), 26);
/// ```
pub fn iron_salts() -> &'static [IronSalt] {
    tables::iron_salts::ROWS
}

/// All sources of tannin, gallic acid included.
///
/// ```
/// use ferrogall::bench::{TanninForm, tannin_sources};
/// assert!(tannin_sources().iter().any(|t| t.form == TanninForm::Soluble));
/// ```
pub fn tannin_sources() -> &'static [TanninSource] {
    tables::tannin_sources::ROWS
}

/// All acids and bases.
///
/// ```
/// use ferrogall::bench::acids;
/// let lye = acids().iter().find(|a| a.id == "sodium_hydroxide").unwrap();
/// assert_eq!(lye.strong_protons, -1.0);
/// ```
pub fn acids() -> &'static [Acid] {
    tables::acids::ROWS
}

/// All gums.
///
/// ```
/// assert!(ferrogall::bench::gums().iter().all(|g| g.moisture_percent.max <= 15.0));
/// ```
pub fn gums() -> &'static [Gum] {
    tables::gums::ROWS
}

/// All dyes.
///
/// ```
/// use ferrogall::bench::{DyeCharge, dyes};
/// for dye in dyes().iter().filter(|d| d.charge == DyeCharge::Cationic) {
///     assert!(dye.precipitates_with_tannin);
/// }
/// ```
pub fn dyes() -> &'static [Dye] {
    tables::dyes::ROWS
}

/// All preservatives.
///
/// ```
/// let pka = |id| ferrogall::bench::preservatives().iter().find(|p| p.id == id).unwrap().pka;
/// assert_eq!(pka("sodium_benzoate"), pka("benzoic_acid"));
/// ```
pub fn preservatives() -> &'static [Preservative] {
    tables::preservatives::ROWS
}

/// All humectants.
///
/// ```
/// assert!(ferrogall::bench::humectants().iter().any(|h| h.id == "sucrose"));
/// ```
pub fn humectants() -> &'static [Humectant] {
    tables::humectants::ROWS
}

/// All waters, from the purest to the hardest.
///
/// ```
/// assert!(ferrogall::bench::waters().iter().any(|w| w.id == "hard_tap_water"));
/// ```
pub fn waters() -> &'static [Water] {
    tables::waters::ROWS
}

/// A catalogue row of any kind.
///
/// ```
/// use ferrogall::bench::{Material, find};
/// match find("phenol") {
///     Some(Material::Preservative(p)) => assert_eq!(p.cas, "108-95-2"),
///     other => panic!("{other:?}"),
/// }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Material {
    /// An iron salt.
    IronSalt(&'static IronSalt),
    /// A source of tannin, or gallic acid.
    TanninSource(&'static TanninSource),
    /// An acid or a base.
    Acid(&'static Acid),
    /// A gum.
    Gum(&'static Gum),
    /// A dye.
    Dye(&'static Dye),
    /// A preservative.
    Preservative(&'static Preservative),
    /// A humectant.
    Humectant(&'static Humectant),
    /// A water.
    Water(&'static Water),
}

/// The same field of whichever row it is.
macro_rules! field {
    ($material:expr, $field:ident) => {
        match $material {
            Material::IronSalt(row) => row.$field,
            Material::TanninSource(row) => row.$field,
            Material::Acid(row) => row.$field,
            Material::Gum(row) => row.$field,
            Material::Dye(row) => row.$field,
            Material::Preservative(row) => row.$field,
            Material::Humectant(row) => row.$field,
            Material::Water(row) => row.$field,
        }
    };
}

impl Material {
    /// Identifier for lots, JSON and C; unique among all materials.
    pub fn id(&self) -> &'static str {
        field!(self, id)
    }

    /// Name in words.
    pub fn name(&self) -> &'static str {
        field!(self, name)
    }

    /// Kind in words for JSON and C: `iron_salt`, `tannin_source`, `acid`,
    /// `gum`, `dye`, `preservative`, `humectant` or `water`.
    pub fn kind(&self) -> &'static str {
        match self {
            Material::IronSalt(_) => "iron_salt",
            Material::TanninSource(_) => "tannin_source",
            Material::Acid(_) => "acid",
            Material::Gum(_) => "gum",
            Material::Dye(_) => "dye",
            Material::Preservative(_) => "preservative",
            Material::Humectant(_) => "humectant",
            Material::Water(_) => "water",
        }
    }

    /// Where the row comes from.
    pub fn source(&self) -> Source {
        field!(self, source)
    }

    /// CAS registry number(s); empty when none is known, and for tannin
    /// sources, gums and waters, whose rows carry it in the note if at all.
    pub fn cas(&self) -> &'static str {
        match self {
            Material::IronSalt(row) => row.cas,
            Material::Acid(row) => row.cas,
            Material::Dye(row) => row.cas,
            Material::Preservative(row) => row.cas,
            Material::Humectant(row) => row.cas,
            Material::TanninSource(_) | Material::Gum(_) | Material::Water(_) => "",
        }
    }
}

/// Every row of every table, in the order of the kinds in [`Material`].
///
/// ```
/// use ferrogall::bench::materials;
/// assert!(materials().all(|m| !m.source().citation.is_empty()));
/// ```
pub fn materials() -> impl Iterator<Item = Material> {
    let salts = iron_salts().iter().map(Material::IronSalt);
    let tannins = tannin_sources().iter().map(Material::TanninSource);
    let acids = acids().iter().map(Material::Acid);
    let gums = gums().iter().map(Material::Gum);
    let dyes = dyes().iter().map(Material::Dye);
    let preservatives = preservatives().iter().map(Material::Preservative);
    let humectants = humectants().iter().map(Material::Humectant);
    let waters = waters().iter().map(Material::Water);
    salts
        .chain(tannins)
        .chain(acids)
        .chain(gums)
        .chain(dyes)
        .chain(preservatives)
        .chain(humectants)
        .chain(waters)
}

/// The row with exactly this id, whatever its kind.
///
/// ```
/// use ferrogall::bench::find;
/// assert_eq!(find("iron_ii_sulfate_heptahydrate").map(|m| m.kind()), Some("iron_salt"));
/// assert_eq!(find("Iron_II_sulfate_heptahydrate"), None);
/// ```
pub fn find(id: &str) -> Option<Material> {
    materials().find(|material| material.id() == id)
}

/// The materials whose identifiers share most words with what was asked for
/// ("sulphate" is read as "sulfate"), eight at most. Which of the hydrates is
/// meant is for the maker to say.
pub(super) fn nearest(asked: &str) -> Vec<&'static str> {
    let asked = asked.chars().take(64).collect::<String>().to_lowercase();
    let asked = asked.replace("sulph", "sulf");
    let words: Vec<&str> = asked
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| w.len() > 1)
        .collect();
    let shared = |id: &str| id.split('_').filter(|w| words.contains(w)).count();
    let most = materials().map(|m| shared(m.id())).max().unwrap_or(0);
    let near = materials().map(|m| m.id()).filter(|id| shared(id) == most);
    near.take(if most > 0 { 8 } else { 0 }).collect()
}
