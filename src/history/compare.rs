//! Several recipes side by side, in moles per litre.

use crate::bench::Material;
use crate::quantity::{MassConcentration, MolarConcentration};
use crate::recipe::{Evaluation, RatioInterval};
use crate::span::Span;

/// A recipe normalised to a litre of ink.
///
/// ```
/// use ferrogall::history::{Normalised, Pantry, historic_recipe};
/// use ferrogall::quantity::*;
/// use ferrogall::standards::reference_ink;
/// let official = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
/// let official = Normalised::of("US 1935", &official.evaluate()?);
/// let lewis = historic_recipe("EN17").unwrap().old_recipe(&Pantry::usual()?)?.read()?;
/// let lewis = Normalised::of("Lewis 1763", &lewis.recipe.unwrap().evaluate()?);
/// assert!(lewis.iron.in_moles_per_liter() > 1.9 * official.iron.in_moles_per_liter());
/// // The strength of the galls is not known, so neither is the proportion.
/// let r = lewis.iron_per_galloyl.unwrap();
/// assert!(r.high / r.low > 1.5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Normalised {
    /// What it is.
    pub title: String,
    /// All iron.
    pub iron: MolarConcentration,
    /// Galloyl units, bound and free, with the 95 % interval that the strength
    /// of the galls and their soak leave.
    pub galloyl: Span<MolarConcentration>,
    /// Iron per galloyl unit; `None` without tannin.
    pub iron_per_galloyl: Option<RatioInterval>,
    /// Gum as weighed.
    pub gum: MassConcentration,
    /// Strong acid that the recipe puts in; not the acid that iron sets free.
    /// Negative where a base outweighs it, were it only that of hard water.
    pub strong_acid: MolarConcentration,
}

impl Normalised {
    /// Of any recipe worked out.
    pub fn of(title: impl Into<String>, made: &Evaluation<'_>) -> Normalised {
        let c = &made.composition;
        let galloyl = c.concentration(c.galloyl());
        let around = RatioInterval::new(1.0, made.galloyl_u);
        let gum = made
            .lines
            .iter()
            .filter(|l| matches!(l.lot.material(), Some(Material::Gum(_))))
            .fold(0.0, |kg, l| kg + l.mass.value * l.reach);
        let gum = if c.volume > 0.0 { gum / c.volume } else { 0.0 };
        Normalised {
            title: title.into(),
            iron: c.concentration(c.iron()),
            galloyl: Span {
                low: galloyl * around.low,
                typical: galloyl,
                high: galloyl * around.high,
            },
            iron_per_galloyl: made.iron_per_galloyl(),
            gum: MassConcentration::new::<uom::si::mass_concentration::kilogram_per_cubic_meter>(
                gum,
            ),
            strong_acid: c.concentration(c.strong_acid()) + MolarConcentration::default(),
        }
    }
}
