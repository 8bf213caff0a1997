//! Papers and parchment: their alkaline reserve and their pH.

use super::PaperError;
use crate::chem::constants::CALCIUM_CARBONATE;
use crate::quantity::{MassFraction, within};
use crate::source::{Range, Source, Status};
use uom::si::areal_mass_density::kilogram_per_square_meter;
pub use uom::si::f64::ArealMassDensity;

/// A kind of paper as it is met with.
///
/// ```
/// use ferrogall::paper::papers;
/// let permanent = papers().iter().find(|p| p.id == "permanent_paper").unwrap();
/// assert_eq!(permanent.reserve_percent.min, 2.0); // the standard's least
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct PaperKind {
    /// Identifier.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Mass per area, g/m².
    pub grammage_g_per_m2: Range,
    /// Alkaline reserve as calcium carbonate, % of the mass.
    pub reserve_percent: Range,
    /// pH of a cold extract.
    pub ph: Range,
    /// What to know.
    pub note: &'static str,
    /// Where it comes from.
    pub source: Source,
}

/// The kinds of paper in the catalogue.
pub fn papers() -> &'static [PaperKind] {
    KINDS
}

const KINDS: &[PaperKind] = &[
    PaperKind {
        id: "copy_paper",
        name: "wood-free copy paper filled with chalk",
        grammage_g_per_m2: Range::new(75.0, 80.0, 90.0),
        reserve_percent: Range::new(5.0, 15.0, 25.0),
        ph: Range::new(7.5, 8.5, 9.5),
        note: "far more reserve than any ink has acid",
        source: Source::new(
            "80 g/m2 is the usual office sheet (a paper merchant's guide); filler and pH of alkaline-sized paper",
            Status::CommonPractice,
        ),
    },
    PaperKind {
        id: "permanent_paper",
        name: "permanent paper by ISO 9706",
        grammage_g_per_m2: Range::new(70.0, 90.0, 120.0),
        reserve_percent: Range::new(2.0, 4.0, 15.0),
        ph: Range::new(7.5, 8.5, 10.0),
        note: "the standard asks for at least 20 g/kg as calcium carbonate and pH 7.5 to 10; more is usual",
        source: Source::new(
            "ISO 9706, figures in appendix 3 of the US report to Congress on permanent papers; the upper end of the reserve by judgement",
            Status::Secondary,
        ),
    },
    PaperKind {
        id: "cotton_rag",
        name: "cotton rag without reserve, gelatine-sized",
        grammage_g_per_m2: Range::new(80.0, 120.0, 300.0),
        reserve_percent: Range::new(0.0, 0.05, 0.3),
        ph: Range::new(5.0, 6.2, 7.2),
        note: "what little base there is sits on the acid groups of the fibre and in the size; rag sold as buffered belongs to permanent paper",
        source: Source::new(
            "by judgement: a few tens of mmol of acid groups per kg of fibre, partly as salts",
            Status::ExpertGuess,
        ),
    },
    PaperKind {
        id: "aged_acid_paper",
        name: "aged paper sized with alum and rosin",
        grammage_g_per_m2: Range::new(60.0, 80.0, 120.0),
        reserve_percent: Range::new(0.0, 0.0, 0.0),
        ph: Range::new(4.0, 4.8, 5.8),
        note: "none of the ink's acid is neutralised",
        source: Source::new("pH of old machine-made book paper", Status::FromMemory),
    },
    PaperKind {
        id: "parchment_with_chalk",
        name: "parchment or vellum, limed and pounced with chalk",
        grammage_g_per_m2: Range::new(120.0, 200.0, 350.0),
        reserve_percent: Range::new(0.5, 2.0, 8.0),
        ph: Range::new(7.0, 7.8, 9.0),
        note: "lime and chalk vary from skin to skin and side to side; the ink reaches only the surface",
        source: Source::new("by judgement, no measured skins", Status::ExpertGuess),
    },
];

/// A sheet to write on.
///
/// ```
/// use ferrogall::paper::Paper;
/// use ferrogall::quantity::MassFraction;
/// let rag = Paper::of("cotton_rag")?;
/// let buffered = rag.with_reserve(MassFraction::percent(2.5)?)?;
/// assert!(buffered.reserve().in_millimoles_per_square_meter() > rag.reserve().in_millimoles_per_square_meter());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Paper {
    /// g/m²
    grammage: f64,
    /// % of the mass
    pub(super) reserve_percent: Range,
    pub(super) ph: Range,
}

impl Paper {
    /// A paper of the catalogue.
    ///
    /// # Errors
    /// [`PaperError::UnknownPaper`] for an identifier that is not in it.
    pub fn of(id: &str) -> Result<Paper, PaperError> {
        let kind = KINDS.iter().find(|k| k.id == id);
        let kind = kind.ok_or_else(|| PaperError::UnknownPaper { id: id.into() })?;
        Ok(Paper {
            grammage: kind.grammage_g_per_m2.typical,
            reserve_percent: kind.reserve_percent,
            ph: kind.ph,
        })
    }

    /// The same of another mass per area, 5 to 1000 g/m².
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] otherwise.
    pub fn with_grammage(self, grammage: ArealMassDensity) -> Result<Paper, PaperError> {
        let grams = grammage.get::<kilogram_per_square_meter>() * 1000.0;
        let grammage = within("grammage", grams, 5.0, 1000.0, "g/m2")?;
        Ok(Paper { grammage, ..self })
    }

    /// The same with a measured alkaline reserve, as calcium carbonate; at
    /// most half of the mass.
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] otherwise.
    pub fn with_reserve(self, reserve: MassFraction) -> Result<Paper, PaperError> {
        let percent = within("alkaline reserve", reserve.as_percent(), 0.0, 50.0, "%")?;
        Ok(Paper {
            reserve_percent: Range::exact(percent),
            ..self
        })
    }

    /// The same with a measured pH (cold extract or surface), 3 to 11.
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] otherwise.
    pub fn with_ph(self, ph: f64) -> Result<Paper, PaperError> {
        let ph = Range::exact(within("pH of the paper", ph, 3.0, 11.0, "")?);
        Ok(Paper { ph, ..self })
    }

    /// Mass per area.
    pub fn grammage(&self) -> ArealMassDensity {
        ArealMassDensity::new::<kilogram_per_square_meter>(self.grammage / 1000.0)
    }

    /// Typical alkaline reserve of an area of the sheet, as the acid it can
    /// take up: two for each calcium carbonate.
    pub fn reserve(&self) -> super::ArealAmount {
        super::ArealAmount(self.base(self.reserve_percent.typical))
    }

    /// mol of acid that a reserve in per cent takes up, per m².
    pub(super) fn base(&self, percent: f64) -> f64 {
        2.0 * percent / 100.0 * self.grammage / 1000.0 / CALCIUM_CARBONATE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_of_the_catalogue_are_in_order() {
        for k in KINDS {
            for r in [k.grammage_g_per_m2, k.reserve_percent, k.ph] {
                assert!(r.min <= r.typical && r.typical <= r.max, "{}", k.id);
            }
            assert!(k.reserve_percent.max <= 50.0 && k.ph.min >= 3.0 && k.ph.max <= 11.0);
        }
    }
}
