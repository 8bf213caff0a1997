//! A tannin liquor by its density or by what it leaves behind.

use super::constants::HAMMER;
use super::delivered::MOST_MASS;
use super::propagate::{Input, propagate};
use super::{AssayError, Assayed, Bound, MethodId, NoteKind, Reading};
use crate::bench::APPARENT_VOLUME_TANNIN;
use crate::chem::{SpecificGravity, water_density};
use crate::quantity::{
    Mass, MassFraction, OutOfRange, ReadTemperature, Temperature, celsius, within,
};

/// Most tannin, kg/kg, the apparent volume is trusted for.
const MOST_TANNIN: f64 = 0.25;
/// Hammer's rows at hand.
const HAMMER_FROM: f64 = 0.03;
const HAMMER_TO: f64 = 0.09;

/// A hydrometer's reading in a tannin liquor without iron.
///
/// Tannin takes up 0.606 mL a gram (Hammer 1861, 15 °C). Every other solute
/// counts as tannin, so for a real liquor the answer is a bound.
///
/// ```
/// use ferrogall::assay::{Bound, LiquorDensity, Reading};
/// use ferrogall::quantity::*;
/// // A stem of 0.001 divisions, read to half of one, at 15/15 °C.
/// let reading = Reading::rectangular(1.0201, 0.0005)?;
/// let liquor = LiquorDensity::new(reading, Reading::rectangular(celsius(15.0), kelvins(0.5))?, celsius(15.0));
/// let tannin = liquor.tannin()?;
/// assert!((tannin.value() - 0.050).abs() < 0.001);
/// assert_eq!(tannin.bound(), Bound::AtMost);
/// # fn kelvins(x: f64) -> Temperature { uom::si::f64::ThermodynamicTemperature::new::<uom::si::thermodynamic_temperature::kelvin>(x) }
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct LiquorDensity {
    ratio: Reading<f64>,
    sample: Reading<Temperature>,
    reference: Temperature,
    tannin_only: bool,
}

impl LiquorDensity {
    /// A specific gravity (1 to 1.12) read in the liquor at its temperature
    /// (10 to 30 °C), against water at the temperature of the scale.
    pub fn new(
        ratio: Reading<f64>,
        sample: Reading<Temperature>,
        reference: Temperature,
    ) -> LiquorDensity {
        LiquorDensity {
            ratio,
            sample,
            reference,
            tannin_only: false,
        }
    }

    /// Nothing but tannin is dissolved (bought tannic acid in water): the
    /// answer is then an estimate, not a bound.
    #[must_use]
    pub fn tannin_only(mut self) -> LiquorDensity {
        self.tannin_only = true;
        self
    }

    /// From a reading turned into a specific gravity, with the standard
    /// uncertainty of the ratio and of the liquor's temperature in kelvin.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn of(reading: SpecificGravity, u: f64, temperature_u: f64) -> Result<Self, AssayError> {
        let kelvin = Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(temperature_u);
        Ok(LiquorDensity::new(
            Reading::standard(reading.ratio(), u)?,
            Reading::standard(reading.sample(), kelvin)?,
            reading.reference(),
        ))
    }

    /// Tannin by mass, were all that is dissolved tannin.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`], also beyond 25 % of tannin.
    pub fn tannin(&self) -> Result<Assayed<f64>, AssayError> {
        self.ratio
            .within("specific gravity of the liquor", 0.99, 1.12, "")?;
        self.sample
            .within("temperature of the liquor", 283.15, 303.15, "K")?;
        let against = within(
            "reference temperature",
            self.reference.in_celsius(),
            0.0,
            100.0,
            "°C",
        )?;
        let reference = water_density(celsius(against))?.value;
        let inputs = [
            Input::reading("specific gravity", &self.ratio),
            Input::reading("temperature of the liquor", &self.sample),
            Input::constant(APPARENT_VOLUME_TANNIN, 1.0),
        ];
        let result: Assayed<f64> = propagate(MethodId::TanninDensity, &inputs, |x| {
            let &[ratio, kelvin, volume] = x else {
                return Ok(f64::NAN);
            };
            let water = water_density(celsius(kelvin - 273.15))?.value;
            Ok((1.0 / (ratio * reference) - 1.0 / water) / (volume - 1.0 / water))
        })?;
        let w = result.value();
        within("tannin by density", w, -0.01, MOST_TANNIN, "kg/kg")?;
        let mut result = result;
        if !self.tannin_only {
            result = result.bounded(Bound::AtMost).note(
                NoteKind::Assumed,
                "all_tannin",
                "All that is dissolved is taken as tannin: sugar, gum and other solutes count too.",
            );
        }
        if !(HAMMER_FROM..=HAMMER_TO).contains(&w) {
            result = result.note(
                NoteKind::Range,
                "beyond_table",
                format!(
                    "{:.2} % lies outside the part of Hammer's table the volume was taken from, {:.0} to {:.0} %.",
                    100.0 * w,
                    100.0 * HAMMER_FROM,
                    100.0 * HAMMER_TO
                ),
            );
        }
        Ok(result)
    }

    /// What a hydrometer shows in a solution of so much pure tannin (0 to
    /// 25 %) at this temperature against water of that. Hammer's own table is
    /// met within 0.0003.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn expected(
        tannin: MassFraction,
        sample: Temperature,
        reference: Temperature,
    ) -> Result<SpecificGravity, OutOfRange> {
        let w = within("tannin", tannin.value(), 0.0, MOST_TANNIN, "kg/kg")?;
        let t = within(
            "temperature of the liquor",
            sample.in_celsius(),
            10.0,
            30.0,
            "°C",
        )?;
        let water = water_density(celsius(t))?.value;
        let volume = (1.0 - w) / water + w * APPARENT_VOLUME_TANNIN.value;
        let density = crate::quantity::MassDensity::new::<
            uom::si::mass_density::kilogram_per_cubic_meter,
        >(1.0 / volume);
        SpecificGravity::from_density(density, celsius(t), reference)
    }

    /// Standard uncertainty of the table behind it, as a specific gravity.
    pub fn table_u() -> f64 {
        HAMMER.value
    }
}

/// What a liquor or an extract leaves when dried to constant mass, kg/kg: the
/// pan empty, with liquor, with residue, each as the balance showed it.
///
/// Gum, sugar and salts count: never more than a bound on tannin.
///
/// ```
/// use ferrogall::assay::{dry_residue, Reading};
/// use ferrogall::quantity::*;
/// let at = |g: f64| Reading::balance(grams(g), grams(0.01));
/// let residue = dry_residue(&at(80.00)?, &at(130.00)?, &at(82.50)?)?;
/// assert!((residue.value() - 0.05).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
///
/// # Errors
/// [`AssayError::OutOfRange`] when the residue weighs less than nothing or
/// more than the liquor.
pub fn dry_residue(
    pan: &Reading<Mass>,
    with_liquor: &Reading<Mass>,
    with_residue: &Reading<Mass>,
) -> Result<Assayed<f64>, AssayError> {
    let result = dried_share(MethodId::DryResidue, pan, with_liquor, with_residue, |w| w)?;
    Ok(result.bounded(Bound::AtMost).note(
        NoteKind::Assumed,
        "constant_mass",
        "The pan is taken to have been dried until its mass no longer changed.",
    ))
}

/// Mass lost on drying, kg per kg of the sample as it was: the moisture of
/// galls, gum or bought tannic acid.
///
/// ```
/// use ferrogall::assay::{loss_on_drying, Reading};
/// use ferrogall::quantity::*;
/// let at = |g: f64| Reading::balance(grams(g), grams(0.01));
/// let moisture = loss_on_drying(&at(20.00)?, &at(25.00)?, &at(24.42)?)?;
/// assert!((moisture.value() - 0.116).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
///
/// # Errors
/// As [`dry_residue`].
pub fn loss_on_drying(
    pan: &Reading<Mass>,
    with_sample: &Reading<Mass>,
    with_dried: &Reading<Mass>,
) -> Result<Assayed<f64>, AssayError> {
    let result = dried_share(MethodId::LossOnDrying, pan, with_sample, with_dried, |w| {
        1.0 - w
    })?;
    Ok(result.note(
        NoteKind::Assumed,
        "only_water",
        "Only water is taken to have left.",
    ))
}

fn dried_share(
    method: MethodId,
    pan: &Reading<Mass>,
    with_sample: &Reading<Mass>,
    with_dried: &Reading<Mass>,
    of: impl Fn(f64) -> f64,
) -> Result<Assayed<f64>, AssayError> {
    pan.within("mass of the pan", 0.0, MOST_MASS, "kg")?;
    let (empty, full, dried) = (
        pan.value().value,
        with_sample.value().value,
        with_dried.value().value,
    );
    within("mass of the sample", full - empty, 1e-9, MOST_MASS, "kg")?;
    within(
        "mass of what is left",
        dried - empty,
        0.0,
        full - empty,
        "kg",
    )?;
    let inputs = [
        Input::reading("pan", pan),
        Input::reading("pan with sample", with_sample),
        Input::reading("pan with what is left", with_dried),
    ];
    propagate(method, &inputs, |x| {
        let &[empty, full, dried] = x else {
            return Ok(f64::NAN);
        };
        Ok(of((dried - empty) / (full - empty)))
    })
}
