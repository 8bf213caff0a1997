//! Iron(II) by redox titration, with a burette or by drops.

use super::constants::{CERIUM, DICHROMATE, PERMANGANATE};
use super::delivered::{LEAST, MOST_MASS, MOST_VOLUME};
use super::method::refuse;
use super::propagate::{Input, propagate};
use super::{
    Aliquot, AssayError, Assayed, Bound, Delivered, Figure, MethodId, NoteKind, Reading, Sample,
};
use crate::chem::constants::{IRON, MOLAR_MASSES};
use crate::quantity::{
    AmountOfSubstance, Mass, MolarConcentration, OutOfRange, Share, Volume, within,
};
use crate::source::Constant;

/// Strongest titrant taken, mol/m³.
const MOST_MOLAR: f64 = 5e3;

/// What oxidises the iron(II).
///
/// ```
/// use ferrogall::assay::Titrant;
/// assert_eq!(Titrant::Dichromate.iron_per_titrant().value, 6.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Titrant {
    /// Potassium permanganate: 5 iron(II). Shows its own end point.
    Permanganate,
    /// Potassium dichromate: 6 iron(II). Needs an indicator; toxic.
    Dichromate,
    /// Cerium(IV): 1 iron(II). Ferroin shows the end point.
    CeriumIV,
}

impl Titrant {
    /// Iron(II) oxidised by a mole of it.
    pub fn iron_per_titrant(self) -> &'static Constant {
        match self {
            Titrant::Permanganate => &PERMANGANATE,
            Titrant::Dichromate => &DICHROMATE,
            Titrant::CeriumIV => &CERIUM,
        }
    }

    fn method(self) -> MethodId {
        match self {
            Titrant::Permanganate => MethodId::PermanganateTitration,
            Titrant::Dichromate => MethodId::DichromateTitration,
            Titrant::CeriumIV => MethodId::CeriumTitration,
        }
    }
}

/// A redox titration of iron(II).
///
/// Permanganate, dichromate and cerium(IV) oxidise tannin as well, so a
/// finished ink and a liquor are refused: ash the ink first. Chloride uses up
/// permanganate.
///
/// ```
/// use ferrogall::assay::{Reading, RedoxTitration, Sample, Titrant};
/// use ferrogall::quantity::*;
/// let titration = RedoxTitration::new(
///     Titrant::Dichromate,
///     Sample::ChlorideStock,
///     Reading::standard(moles_per_liter(1.0 / 60.0), moles_per_liter(2e-5))?,
///     Reading::buret(milliliters(18.30), milliliters(0.03))?,
/// )
/// .blank(Reading::buret(milliliters(0.05), milliliters(0.03))?);
/// let pipetted = Reading::triangular(milliliters(10.0), milliliters(0.02))?;
/// let c = titration.concentration(&pipetted)?;
/// assert!((c.value().in_moles_per_liter() - 0.1825).abs() < 1e-6);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct RedoxTitration {
    titrant: Titrant,
    sample: Sample,
    molarity: Reading<MolarConcentration>,
    delivered: Delivered,
    blank: Option<Reading<Volume>>,
    aliquot: Option<Aliquot>,
}

impl RedoxTitration {
    /// So much titrant (a burette reading, or drops) of this molarity (above 0
    /// to 5 mol/L) brought the sample to its end point.
    pub fn new(
        titrant: Titrant,
        sample: Sample,
        molarity: Reading<MolarConcentration>,
        delivered: impl Into<Delivered>,
    ) -> RedoxTitration {
        RedoxTitration {
            titrant,
            sample,
            molarity,
            delivered: delivered.into(),
            blank: None,
            aliquot: None,
        }
    }

    /// The same with another volume: the next sample of a row.
    #[cfg(feature = "capi")]
    pub(crate) fn with_delivered(mut self, delivered: impl Into<Delivered>) -> Self {
        self.delivered = delivered.into();
        self
    }

    /// What a blank without iron took.
    #[must_use]
    pub fn blank(mut self, volume: Reading<Volume>) -> Self {
        self.blank = Some(volume);
        self
    }

    /// Only a part of the sample was titrated.
    #[must_use]
    pub fn aliquot(mut self, aliquot: Aliquot) -> Self {
        self.aliquot = Some(aliquot);
        self
    }

    /// Iron(II) in the whole sample.
    ///
    /// # Errors
    /// [`AssayError::Refused`] for a sample with tannin;
    /// [`AssayError::OutOfRange`], also when the blank took more than the
    /// sample.
    pub fn iron(&self) -> Result<Assayed<AmountOfSubstance>, AssayError> {
        self.per(
            Input::alone("one sample", 1.0, 0.0),
            Input::alone("by amount", 1.0, 0.0),
        )
    }

    /// Iron(II) per volume of a sample of so much.
    ///
    /// # Errors
    /// As [`RedoxTitration::iron`].
    pub fn concentration(
        &self,
        sample: &Reading<Volume>,
    ) -> Result<Assayed<MolarConcentration>, AssayError> {
        sample.within("volume of the sample", LEAST, MOST_VOLUME, "m3")?;
        self.per(
            Input::reading("volume of the sample", sample),
            Input::alone("by amount", 1.0, 0.0),
        )
    }

    /// Iron(II), kg of iron per kg of a sample of this mass.
    ///
    /// # Errors
    /// As [`RedoxTitration::iron`].
    pub fn mass_fraction(&self, sample: &Reading<Mass>) -> Result<Assayed<f64>, AssayError> {
        sample.within("mass of the sample", LEAST, MOST_MASS, "kg")?;
        self.per(Input::reading("mass of the sample", sample), iron_mass())
    }

    /// What the salt of this formula is of the sample, kg/kg, its iron(II)
    /// being that of the titration: a purity.
    ///
    /// # Errors
    /// As [`RedoxTitration::iron`]; a formula without iron, or none.
    pub fn purity(
        &self,
        sample: &Reading<Mass>,
        formula: &str,
    ) -> Result<Assayed<f64>, AssayError> {
        let parsed = crate::chem::Formula::parse(formula)?;
        let irons = within("iron in the formula", parsed.count("Fe"), 0.5, 100.0, "")?;
        sample.within("mass of the sample", LEAST, MOST_MASS, "kg")?;
        let salt = Input::alone(
            "molar mass of the salt",
            parsed.molar_mass().value / irons,
            parsed.molar_mass_u().value / irons,
        );
        self.per(Input::reading("mass of the sample", sample), salt)
    }

    /// Volume that a titration of so much iron(II) takes.
    ///
    /// # Errors
    /// [`OutOfRange`] for a molarity not above 0, iron below 0, or a share of 0.
    pub fn expected(
        titrant: Titrant,
        molarity: MolarConcentration,
        iron: AmountOfSubstance,
        titrated: Share,
    ) -> Result<Volume, OutOfRange> {
        let c = within(
            "molarity of the titrant",
            molarity.value,
            LEAST,
            MOST_MOLAR,
            "mol/m3",
        )?;
        let n = within("iron(II)", iron.value, 0.0, 1e6, "mol")?;
        let share = titrated.value();
        Ok(Volume::from_si(
            n * share / (c * titrant.iron_per_titrant().value),
        ))
    }

    /// n(iron) × factor / divisor.
    fn per<Q: Figure>(&self, divisor: Input, factor: Input) -> Result<Assayed<Q>, AssayError> {
        let method = self.titrant.method();
        if self.sample.holds_tannin() {
            return refuse(
                method,
                self.sample,
                "tannin and gallic acid use up the titrant as iron(II) does; ash or wet-digest the ink and bring its iron back to iron(II) first",
            );
        }
        self.molarity
            .within("molarity of the titrant", LEAST, MOST_MOLAR, "mol/m3")?;
        let volume = self.delivered.volume()?;
        let blank = match &self.blank {
            Some(b) => b.clone(),
            None => Reading::exact(Volume::from_si(0.0))?,
        };
        blank.within("blank", 0.0, MOST_VOLUME, "m3")?;
        within(
            "volume of titrant less blank",
            (volume - blank.value()).value,
            0.0,
            MOST_VOLUME,
            "m3",
        )?;
        let aliquot = match &self.aliquot {
            Some(a) => {
                a.share()?;
                a.inputs()
            }
            None => [
                Input::alone("all titrated", 1.0, 0.0),
                Input::alone("all of it", 1.0, 0.0),
            ],
        };
        let ratio = self.titrant.iron_per_titrant().value;
        let [count, each] = self.delivered.inputs();
        let [taken, of] = aliquot;
        let inputs = [
            Input::reading("molarity of the titrant", &self.molarity),
            count,
            each,
            Input::reading("blank", &blank),
            taken,
            of,
            divisor,
            factor,
        ];
        let result = propagate(method, &inputs, |x| {
            let &[c, n, v, v0, part, whole, per, m] = x else {
                return Ok(f64::NAN);
            };
            Ok(ratio * c * (n * v - v0) * whole / part / per * m)
        })?;
        Ok(self.noted(result))
    }

    fn noted<Q: Figure>(&self, mut result: Assayed<Q>) -> Assayed<Q> {
        if self.blank.is_none() {
            result = result.note(
                NoteKind::Assumed,
                "no_blank",
                "No blank was titrated: it is taken as nothing.",
            );
        }
        if self.titrant == Titrant::Permanganate && self.sample.holds_chloride() {
            result = result
                .note(
                    NoteKind::Interference,
                    "chloride",
                    "Permanganate oxidises chloride as well, iron(II) helping it: use dichromate, or the manganese sulfate and phosphoric acid reagent in the cold. Without it this is too high.",
                )
                .bounded(Bound::AtMost);
        }
        if self.sample.holds_organics() {
            result = result
                .note(
                    NoteKind::Interference,
                    "organics",
                    "Sugars and organic acids take some of the titrant: work cold and fast; this may be too high.",
                )
                .bounded(Bound::AtMost);
        }
        if self.sample == Sample::AshedInk {
            result = result.note(
                NoteKind::Assumed,
                "reduced",
                "All iron is taken to have come through the ashing and back to iron(II): this is the total iron of the ink, not its iron(II).",
            );
        }
        result
    }
}

/// The molar mass of iron as an input.
pub(super) fn iron_mass() -> Input {
    MOLAR_MASSES
        .iter()
        .find(|c| c.id == "molar_mass_iron")
        .map_or_else(
            || Input::alone("molar mass of iron", IRON, 0.0),
            |c| Input::constant(c, 1.0),
        )
}
