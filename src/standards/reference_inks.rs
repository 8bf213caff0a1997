//! Reference inks of published standards and circulars.

use crate::bench::{Lot, LotError};
use crate::chem::constants::TANNIC_ACID;
use crate::formulate::{FormulateError, Targets};
use crate::quantity::{Volume, grams_per_liter, liters, moles_per_kilogram, within};
use crate::recipe::{Recipe, Solution};
use crate::source::{Source, Status};

/// So much of a pure catalogue material in a litre.
///
/// ```
/// use ferrogall::standards::reference_ink;
/// let ink = reference_ink("us_federal_writing_1935").unwrap();
/// assert!(ink.doses.iter().any(|d| d.material == "phenol" && d.g_per_l == 1.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Dose {
    /// Identifier in the catalogues of [`crate::bench`].
    pub material: &'static str,
    /// Grams per litre: of the pure substance (acids: without their water),
    /// of gum and dye as sold.
    pub g_per_l: f64,
}

/// A published ink.
///
/// ```
/// use ferrogall::quantity::*;
/// use ferrogall::standards::reference_ink;
///
/// let recipe = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
/// let ink = recipe.evaluate()?.composition;
/// assert!((ink.iron_mass_concentration().in_grams_per_liter() - 3.013).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct ReferenceInk {
    /// Identifier for JSON and C.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// What a litre holds.
    pub doses: &'static [Dose],
    /// What to know; empty when nothing.
    pub note: &'static str,
    /// Where it comes from.
    pub source: Source,
}

const fn dose(material: &'static str, g_per_l: f64) -> Dose {
    Dose { material, g_per_l }
}

const VITRIOL: &str = "iron_ii_sulfate_heptahydrate";
const GALLIC: &str = "gallic_acid_monohydrate";

const ROWS: &[ReferenceInk] = &[
    ReferenceInk {
        id: "swedish_archival_1964",
        name: "Swedish archival ink, SFS 1964:504 (the Schluttig and Neumann type ink of 1890)",
        doses: &[
            dose("tannic_acid", 23.4),
            dose(GALLIC, 7.7),
            dose(VITRIOL, 30.0),
            dose("gum_arabic", 10.0),
            dose("hydrochloric_acid", 2.5),
            dose("phenol", 1.0),
        ],
        note: "computes to 6.03 g/L iron: a strict limit of 6 g/L would reject the type ink itself",
        source: Source::new(
            "Sweden, proclamation SFS 1964:504 sec. 10 (cancelled 1991), in translation; first three figures also in NBS RP807",
            Status::Secondary,
        ),
    },
    ReferenceInk {
        id: "german_document_1888",
        name: "German document ink, decree of 1 August 1888",
        doses: &[
            dose("tannic_acid", 23.4),
            dose(GALLIC, 7.7),
            dose(VITRIOL, 30.0),
            dose("gum_arabic", 30.0),
            dose("hydrochloric_acid", 2.5),
            dose("phenol", 1.0),
        ],
        note: "30 g of gum disagrees with the 10 g of the Swedish text: likely a slip",
        source: Source::new(
            "decree of 1 August 1888, in a Spanish account",
            Status::Secondary,
        ),
    },
    ReferenceInk {
        id: "us_federal_writing_1935",
        name: "US federal writing ink, TT-I-563",
        doses: &[
            dose("tannic_acid", 11.7),
            dose(GALLIC, 3.8),
            dose(VITRIOL, 15.0),
            dose("hydrochloric_acid", 1.25),
            dose("phenol", 1.0),
            dose("soluble_blue", 3.5),
        ],
        note: "12.5 g of dilute acid, taken as 10 % w/w (from memory); one print gives 3.0 g of dye; a copy that gives 12.5 g phenol has its lines shifted",
        source: Source::new(
            "Zimmerman 1935, J. Res. NBS 15, RP807; NBS Circular C413 (1936)",
            Status::Secondary,
        ),
    },
    ReferenceInk {
        id: "us_copying_record_1936",
        name: "US copying and record ink, NBS Circular C413",
        doses: &[
            dose("tannic_acid", 23.4),
            dose(GALLIC, 7.7),
            dose(VITRIOL, 30.0),
            dose("hydrochloric_acid", 2.5),
            dose("phenol", 1.0),
            dose("soluble_blue", 2.2),
        ],
        note: "25 g of dilute acid, taken as 10 % w/w; a letter to a book arts list (1999) gives the circular's federal ink TT-I-521 with these figures, but 3.5 g of dye: the 2.2 g are from memory",
        source: Source::new(
            "NBS Circular C413 (1936); all but the dye also as TT-I-521 in a letter to a book arts list, 1999",
            Status::FromMemory,
        ),
    },
    ReferenceInk {
        id: "massachusetts_record_1900",
        name: "Massachusetts record ink, about 1900",
        doses: &[
            dose("tannic_acid", 23.4),
            dose(GALLIC, 7.7),
            dose(VITRIOL, 30.0),
            dose("gum_arabic", 10.0),
            dose("hydrochloric_acid", 2.5),
            dose("phenol", 1.0),
        ],
        note: "per 1000 parts at 60 °F",
        source: Source::new(
            "Massachusetts about 1900, US Treasury about 1901",
            Status::FromMemory,
        ),
    },
    ReferenceInk {
        id: "us_gallic_powder_1935",
        name: "US government ink powder, gallic acid only",
        doses: &[
            dose(GALLIC, 10.0),
            dose(VITRIOL, 15.0),
            dose("tartaric_acid", 1.0),
            dose("soluble_blue", 3.5),
        ],
        note: "no mineral acid; keeps clear longer than the tannic ink by its authors' account",
        source: Source::new(
            "NBS RP807 (1935) and Circular C413 (1936)",
            Status::Secondary,
        ),
    },
    ReferenceInk {
        id: "british_record_1962",
        name: "British record ink, BS 3484:1962 as circulated",
        doses: &[
            dose("tannic_acid", 19.5),
            dose(GALLIC, 6.4),
            dose(VITRIOL, 25.0),
            dose("sulfuric_acid", 2.88),
            dose("phenol", 1.0),
            dose("soluble_blue", 3.0),
        ],
        note: "at third hand; 3.0 g of sulfuric acid of specific gravity 1.84, taken as 96 %",
        source: Source::new(
            "BS 3484:1962 recipe as circulated, not read in the standard itself",
            Status::Secondary,
        ),
    },
    ReferenceInk {
        id: "popular_science_1935_hydrochloric",
        name: "US writing ink as in Popular Science, January 1935, with hydrochloric acid",
        doses: &[
            dose("tannic_acid", 11.7),
            dose(GALLIC, 3.8),
            dose(VITRIOL, 15.0),
            dose("hydrochloric_acid", 1.31),
            dose("phenol", 1.0),
            dose("soluble_blue", 3.5),
        ],
        note: "3 mL of concentrated acid, taken as 37 % and 1.18 g/mL (1.10 g if it was 31.5 %); 36 mmol/L of strong acid: half of what the print calls its equal with sulfuric acid",
        source: POPULAR_SCIENCE,
    },
    ReferenceInk {
        id: "popular_science_1935_sulfuric",
        name: "US writing ink as in Popular Science, January 1935, with sulfuric acid",
        doses: &[
            dose("tannic_acid", 11.7),
            dose(GALLIC, 3.8),
            dose(VITRIOL, 15.0),
            dose("sulfuric_acid", 3.53),
            dose("phenol", 1.0),
            dose("soluble_blue", 3.5),
        ],
        note: "2 mL of concentrated acid, taken as 96 % and 1.84 g/mL; 72 mmol/L of strong acid: twice that of the option with hydrochloric acid, and no equal of it",
        source: POPULAR_SCIENCE,
    },
];

const POPULAR_SCIENCE: Source = Source::new(
    "Popular Science, January 1935, p. 54, as copied in a forum",
    Status::Secondary,
);

/// Every published ink, in a fixed order.
pub const fn reference_inks() -> &'static [ReferenceInk] {
    ROWS
}

/// The published ink with this identifier.
pub fn reference_ink(id: &str) -> Option<&'static ReferenceInk> {
    ROWS.iter().find(|ink| ink.id == id)
}

/// A lot of the substance itself: no moisture, no impurity, no doubt.
fn pure(id: &str) -> Result<Lot, LotError> {
    let lot = Lot::of(id)?;
    match id {
        "tannic_acid" => lot
            .tannin(1.0, 0.0)?
            .moisture(0.0, 0.0)?
            .gallic_acid(0.0, 0.0)?
            // The standards' tannic acid is reckoned as C76H52O46: ten units.
            .galloyl(
                moles_per_kilogram(10.0 / TANNIC_ACID),
                moles_per_kilogram(0.0),
            )?
            .build(),
        "gum_arabic" => lot.build(),
        // The published lists weigh dilute acid; nobody weighs the gas.
        "hydrochloric_acid" => lot
            .named("hydrochloric acid, reckoned as pure HCl")
            .purity(1.0, 0.0)?
            .build(),
        GALLIC => lot.build(),
        _ => lot.purity(1.0, 0.0)?.build(),
    }
}

impl ReferenceInk {
    /// The ink from pure materials, at a strength (0.001 to 1000; 1 as published).
    ///
    /// # Errors
    /// [`FormulateError::OutOfRange`] for the strength or the volume.
    pub fn recipe(&self, volume: Volume, strength: f64) -> Result<Recipe, FormulateError> {
        let strength = within("strength", strength, 1e-3, 1e3, "")?;
        within("volume", volume.value, 1e-9, 1e3, "m3")?;
        let water = Lot::of("distilled_water")?.build()?;
        let mut ink = Solution::new(self.name);
        for dose in self.doses {
            let mass = grams_per_liter(dose.g_per_l * strength).value * volume.value;
            ink = ink.add(&pure(dose.material)?, crate::quantity::kilograms(mass));
        }
        Ok(Recipe::new(self.name).with(ink).make_up(&water, volume))
    }

    /// The ink as targets to be met from other lots.
    ///
    /// # Errors
    /// As [`ReferenceInk::recipe`].
    pub fn targets(&self, volume: Volume, strength: f64) -> Result<Targets, FormulateError> {
        let published = self.recipe(liters(1.0), 1.0)?;
        let ink = published.evaluate()?.composition;
        Ok(Targets::like(&ink, volume, strength)?)
    }
}
