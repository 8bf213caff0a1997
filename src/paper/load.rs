//! What a line of ink brings to an area of paper.

use super::PaperError;
use crate::chem::constants::IRON;
use crate::composition::{Component, Composition};
use crate::quantity::{Length, within};
use uom::si::areal_mass_density::kilogram_per_square_meter;
use uom::si::f64::ArealMassDensity;

/// Amount of substance per area of writing.
///
/// ```
/// use ferrogall::paper::ArealAmount;
/// let iron = ArealAmount::moles_per_square_meter(5.4e-4)?;
/// assert_eq!(iron.in_millimoles_per_square_meter(), 0.54);
/// assert!(ArealAmount::moles_per_square_meter(f64::NAN).is_err());
/// # Ok::<(), ferrogall::paper::PaperError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct ArealAmount(pub(super) f64);

impl ArealAmount {
    /// From mol/m²; −1000 to 1000 (what is less than nothing is an excess of
    /// the other side, as base is of acid).
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] otherwise.
    pub fn moles_per_square_meter(value: f64) -> Result<Self, PaperError> {
        let value = within("amount per area", value, -1e3, 1e3, "mol/m2")?;
        Ok(ArealAmount(value))
    }

    /// In mol/m².
    pub const fn in_moles_per_square_meter(self) -> f64 {
        self.0
    }

    /// In mmol/m².
    pub fn in_millimoles_per_square_meter(self) -> f64 {
        self.0 * 1000.0
    }
}

/// What is short for the pigment, which binds one iron to one galloyl unit.
///
/// ```
/// use ferrogall::paper::Short;
/// assert_ne!(Short::Iron, Short::Tannin);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Short {
    /// Iron: galloyl units are left over.
    Iron,
    /// Galloyl units of tannin and gallic acid: iron is left over.
    Tannin,
}

/// Iron, tannin and acid per area of a line.
///
/// The acid figures tell amounts, not harm: what a vellum or a paper bears is
/// for those who keep it, and no verdict is given here.
///
/// ```
/// use ferrogall::paper::Load;
/// use ferrogall::quantity::*;
/// use ferrogall::standards::reference_ink;
/// let standard = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
/// let ink = standard.recipe(liters(1.0), 1.0)?.evaluate()?.composition;
/// let load = Load::of(&ink, millimeters(0.010))?; // a film of 10 µm
/// assert!((load.iron.in_millimoles_per_square_meter() - 0.5395).abs() < 0.001);
/// // All acid of this ink is hydrochloric, and darkening sets sulfuric acid free.
/// assert!(load.fixed_acid.in_moles_per_square_meter() < 1e-6);
/// assert!(load.fixed_acid_dark.in_millimoles_per_square_meter() > 1.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Load {
    /// Thickness of the wet film.
    pub film: Length,
    /// All iron.
    pub iron: ArealAmount,
    /// Iron(II), which is still to darken.
    pub iron_ii: ArealAmount,
    /// Galloyl units, of tannin and of gallic acid.
    pub galloyl: ArealAmount,
    /// The most pigment there can be: the lesser of iron and galloyl units.
    pub pigment: ArealAmount,
    /// Which is the lesser.
    pub short: Short,
    /// Iron as metal.
    pub iron_mass: ArealMassDensity,
    /// Dry matter.
    pub dry_residue: ArealMassDensity,
    /// Strong acid of the fresh line; an excess of base where negative.
    pub strong_acid: ArealAmount,
    /// Acid of the fresh line that can leave it: hydrogen chloride and acetic acid.
    pub volatile_acid: ArealAmount,
    /// Acid of the fresh line that stays, as sulfuric acid.
    pub fixed_acid: ArealAmount,
    /// Acid that can leave once the line has darkened.
    pub volatile_acid_dark: ArealAmount,
    /// Acid that stays once the line has darkened: two more for each iron(II)
    /// that has become pigment, one less for each left over as iron(III).
    pub fixed_acid_dark: ArealAmount,
}

impl Load {
    /// Of an ink laid down as a wet film of 0.1 µm to 1 mm.
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] for another film; [`PaperError::NoInk`]
    /// where there is no volume of ink.
    pub fn of(ink: &Composition, film: Length) -> Result<Load, PaperError> {
        let micrometers = film.value * 1e6;
        let height = within("film", micrometers, 0.1, 1000.0, "um")? * 1e-6;
        let volume = ink.volume().value;
        if volume.is_nan() || volume <= 0.0 {
            return Err(PaperError::NoInk);
        }
        let area = volume / height;
        let per_area = |mol: f64| ArealAmount(mol / area);
        let density = |kg: f64| ArealMassDensity::new::<kilogram_per_square_meter>(kg / area);
        let (iron, galloyl) = (ink.iron().value, ink.galloyl().value);
        let dark = Acid::of(ink, set_free(ink));
        Ok(Load {
            film,
            iron: per_area(iron),
            iron_ii: per_area(ink.iron_ii().value),
            galloyl: per_area(galloyl),
            pigment: per_area(iron.min(galloyl)),
            short: if iron <= galloyl {
                Short::Iron
            } else {
                Short::Tannin
            },
            iron_mass: density(iron * IRON),
            dry_residue: density(ink.dry_residue().value),
            strong_acid: per_area(ink.strong_acid().value),
            volatile_acid: per_area(ink.volatile_acid().value),
            fixed_acid: per_area(ink.fixed_acid().value),
            volatile_acid_dark: per_area(dark.volatile),
            fixed_acid_dark: per_area(dark.fixed),
        })
    }
}

/// Strong acid that is set free until all iron is oxidised and all the iron
/// that galloyl units can take is pigment, mol.
fn set_free(ink: &Composition) -> f64 {
    let pigment = ink.iron().value.min(ink.galloyl().value);
    // Fe2+ + 1/4 O2 + H+ = Fe3+ + 1/2 H2O, then Fe3+ + H4Gal = FeHGal + 3 H+.
    // The charge of dissolved iron(III) is counted in the ink's strong acid.
    3.0 * pigment - ink.iron_ii().value
}

struct Acid {
    volatile: f64,
    fixed: f64,
}

impl Acid {
    /// By the rule of [`Composition::volatile_acid`], with more acid set free.
    fn of(ink: &Composition, set_free: f64) -> Acid {
        let strong = ink.strong_acid().value + set_free;
        let chloride = ink.amount(Component::Chloride).value;
        let acetate = ink.amount(Component::Acetate).value;
        let hydrochloric = strong.max(0.0).min(chloride);
        let acetic = (acetate + strong.min(0.0)).max(0.0);
        Acid {
            volatile: hydrochloric + acetic,
            fixed: strong.max(0.0) - hydrochloric,
        }
    }
}

/// Strong acid that can leave with the water as hydrogen chloride, mol.
pub(super) fn hydrogen_chloride(ink: &Composition) -> f64 {
    ink.strong_acid().value.max(0.0) - ink.fixed_acid().value
}
