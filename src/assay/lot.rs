//! From an assay to the lot it was of.

use super::delivered::MOST_MASS;
use super::propagate::{Input, propagate};
use super::result::FAR;
use super::{AssayError, Assayed, Bound, MethodId, NoteKind, Reading};
use crate::bench::LotBuilder;
use crate::quantity::{Estimate, Mass, within};
use crate::uncertainty::{Belief, Evidence};

/// Which property of a lot an assay has measured.
///
/// ```
/// use ferrogall::assay::{loss_on_drying, LotSetting, Reading};
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::*;
/// let at = |g: f64| Reading::balance(grams(g), grams(0.01));
/// let moisture = loss_on_drying(&at(20.00)?, &at(25.00)?, &at(24.42)?)?;
/// let galls = moisture.set(Lot::of("aleppo_galls")?, LotSetting::Moisture)?.build()?;
/// assert!(galls.given().iter().any(|text| text.contains("moisture")));
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum LotSetting {
    /// [`LotBuilder::purity`].
    Purity,
    /// [`LotBuilder::iron_content`].
    IronContent,
    /// [`LotBuilder::oxidised`].
    Oxidised,
    /// [`LotBuilder::tannin`].
    Tannin,
    /// [`LotBuilder::gallic_acid`].
    GallicAcid,
    /// [`LotBuilder::moisture`].
    Moisture,
}

impl Assayed<f64> {
    /// Writes value and standard uncertainty into a lot.
    ///
    /// # Errors
    /// [`AssayError::Lot`] where the setting does not apply or the value is out
    /// of its range.
    pub fn set(&self, lot: LotBuilder, setting: LotSetting) -> Result<LotBuilder, AssayError> {
        put(lot, setting, self.estimate()?)
    }
}

/// Writes a belief, the catalogue's after its evidence for instance, into a lot.
///
/// ```
/// use ferrogall::assay::{set_belief, LotSetting};
/// use ferrogall::bench::Lot;
/// use ferrogall::source::Range;
/// use ferrogall::uncertainty::{Belief, Evidence};
/// let catalogue = Belief::of_range(Range::new(0.35, 0.55, 0.70))?;
/// let mine = catalogue.updated(&Evidence::value(0.45, 0.05)?);
/// let galls = set_belief(Lot::of("aleppo_galls")?, LotSetting::Tannin, &mine)?.build()?;
/// let plain = Lot::of("aleppo_galls")?.build()?;
/// assert!(galls.strength_u().galloyl < plain.strength_u().galloyl);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
///
/// # Errors
/// [`AssayError::Lot`] where the setting does not apply or the median is out of
/// its range.
pub fn set_belief(
    lot: LotBuilder,
    setting: LotSetting,
    belief: &Belief,
) -> Result<LotBuilder, AssayError> {
    put(lot, setting, belief.estimate()?)
}

fn put(lot: LotBuilder, setting: LotSetting, e: Estimate) -> Result<LotBuilder, AssayError> {
    let (value, u) = (e.value(), e.u());
    Ok(match setting {
        LotSetting::Purity => lot.purity(value, u),
        LotSetting::IronContent => lot.iron_content(value, u),
        LotSetting::Oxidised => lot.oxidised(value, u),
        LotSetting::Tannin => lot.tannin(value, u),
        LotSetting::GallicAcid => lot.gallic_acid(value, u),
        LotSetting::Moisture => lot.moisture(value, u),
    }?)
}

/// Tannin of a plant, found through its liquor: log-normal, because the yield
/// stands below the line and is known to a tenth or a fifth only.
///
/// ```
/// use ferrogall::assay::{PlantTannin, Reading};
/// use ferrogall::quantity::*;
/// // 180 g of liquor with 4.8 % from 20 g of galls of 12 % moisture.
/// let galls = PlantTannin::new(
///     &Reading::standard(0.048, 0.002)?,
///     &Reading::weighed(grams(180.0), grams(0.1))?,
///     &Reading::weighed(grams(20.0), grams(0.1))?,
///     &Reading::standard(0.12, 0.01)?,
///     &Reading::standard(0.80, 0.08)?,
/// )?;
/// assert!((galls.median() - 0.614).abs() < 0.001);
/// assert!((galls.u_ln() - 0.109).abs() < 0.001);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct PlantTannin {
    ln: Assayed<f64>,
}

impl PlantTannin {
    /// From tannin in the liquor (kg/kg), the masses of liquor and of plant as
    /// it was weighed, the plant's moisture (kg/kg; 0 for a content as it is)
    /// and the yield: the share of the plant's tannin that is in this liquor.
    /// What the marc held back lowers the yield.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] when one is not above 0, the moisture 0 to
    /// 0.99 and the yield up to 1 excepted.
    pub fn new(
        liquor_tannin: &Reading<f64>,
        liquor: &Reading<Mass>,
        plant: &Reading<Mass>,
        moisture: &Reading<f64>,
        extracted: &Reading<f64>,
    ) -> Result<PlantTannin, AssayError> {
        liquor_tannin.within("tannin in the liquor", 1e-9, 1.0, "kg/kg")?;
        liquor.within("mass of the liquor", 1e-9, MOST_MASS, "kg")?;
        plant.within("mass of the plant", 1e-9, MOST_MASS, "kg")?;
        moisture.within("moisture", 0.0, 0.99, "kg/kg")?;
        extracted.within("yield", 1e-6, 1.0, "")?;
        // Beyond that first order means nothing, in logarithms either.
        within(
            "relative uncertainty of the yield",
            relative_u(extracted),
            0.0,
            2.0,
            "",
        )?;
        within(
            "relative uncertainty of the liquor",
            relative_u(liquor_tannin),
            0.0,
            2.0,
            "",
        )?;
        let inputs = [
            Input::reading("tannin in the liquor", liquor_tannin),
            Input::reading("mass of the liquor", liquor),
            Input::reading("mass of the plant", plant),
            Input::reading("moisture of the plant", moisture),
            Input::reading("yield", extracted),
        ];
        let ln: Assayed<f64> = propagate(MethodId::PlantFromLiquor, &inputs, |x| {
            let &[w, liquor, plant, moisture, extracted] = x else {
                return Ok(f64::NAN);
            };
            Ok(libm::log(w * liquor / plant / (1.0 - moisture) / extracted))
        })?;
        let mut ln = ln;
        if ln.value() > 0.0 {
            ln = ln.note(
                NoteKind::Range,
                "above_whole",
                "More tannin than plant: the liquor's figure is too high (other solutes count in a density or a residue) or the yield too low.",
            );
        }
        Ok(PlantTannin { ln })
    }

    /// The same from an assay of the liquor; a bound stays a bound.
    ///
    /// # Errors
    /// As [`PlantTannin::new`].
    pub fn of(
        liquor_tannin: &Assayed<f64>,
        liquor: &Reading<Mass>,
        plant: &Reading<Mass>,
        moisture: &Reading<f64>,
        extracted: &Reading<f64>,
    ) -> Result<PlantTannin, AssayError> {
        let reading = liquor_tannin.reading()?;
        let made = PlantTannin::new(&reading, liquor, plant, moisture, extracted)?;
        let ln = made.ln.bounded(liquor_tannin.bound());
        Ok(PlantTannin {
            ln: ln.with_notes_of(liquor_tannin),
        })
    }

    /// What it says of the plant's tannin, for
    /// [`Belief::updated`](crate::uncertainty::Belief::updated).
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn evidence(&self) -> Result<Evidence, AssayError> {
        let (median, u_ln) = (self.median(), self.u_ln());
        Ok(match self.ln.bound() {
            Bound::Estimate => Evidence::value(median, median * u_ln)?,
            Bound::AtMost => Evidence::between(median / FAR, median, u_ln)?,
            Bound::AtLeast => Evidence::between(median, median * FAR, u_ln)?,
        })
    }

    /// Median, kg/kg of dry plant (of plant as it is where moisture was 0).
    pub fn median(&self) -> f64 {
        libm::exp(self.ln.value())
    }

    /// Standard uncertainty in logarithms (k = 1).
    pub fn u_ln(&self) -> f64 {
        self.ln.u()
    }

    /// The logarithm with its budget and notes.
    pub fn ln(&self) -> &Assayed<f64> {
        &self.ln
    }

    /// Median, with u = median × u in logarithms.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn estimate(&self) -> Result<Estimate, AssayError> {
        Ok(Estimate::new(self.median(), self.median() * self.u_ln())?)
    }

    /// Writes it into a lot as its tannin.
    ///
    /// # Errors
    /// [`AssayError::Lot`] for what is no tannin source, or a content above 1.
    pub fn set(&self, lot: LotBuilder) -> Result<LotBuilder, AssayError> {
        put(lot, LotSetting::Tannin, self.estimate()?)
    }

    /// Tannin (kg/kg) to expect in so much liquor from so much plant of this
    /// content, by the median.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn expected_in_liquor(
        content: f64,
        liquor: Mass,
        plant: Mass,
        moisture: f64,
        extracted: f64,
    ) -> Result<f64, AssayError> {
        let w = within("tannin of the plant", content, 0.0, 1.0, "kg/kg")?;
        let l = within("mass of the liquor", liquor.value, 1e-9, MOST_MASS, "kg")?;
        let p = within("mass of the plant", plant.value, 0.0, MOST_MASS, "kg")?;
        let m = within("moisture", moisture, 0.0, 0.99, "kg/kg")?;
        let y = within("yield", extracted, 0.0, 1.0, "")?;
        Ok(w * p * (1.0 - m) * y / l)
    }
}

fn relative_u(r: &Reading<f64>) -> f64 {
    r.u() / r.value()
}
