//! What air and water hold of oxygen.
//!
//! Saturation by the equation of Benson & Krause (1984), water vapour in the
//! form of Green & Carritt (1967) that goes with it, and what follows from
//! the two: the Henry constant and the oxygen in a headspace. Valid from 0 to
//! 40 °C and 0.5 to 1.1 atm; the ranges are those of the equations.

use super::OxidationError;
use super::constants as k;
use crate::quantity::{
    AmountOfSubstance, Length, MassFraction, MolarConcentration, OutOfRange, Pressure, Share,
    Temperature, Time, Volume, checked_volume, within,
};
use core::f64::consts::PI;
use uom::si::diffusion_coefficient::square_centimeter_per_second;
use uom::si::f64::DiffusionCoefficient;
use uom::si::molar_concentration::mole_per_cubic_meter;
use uom::si::pressure;

const ZERO_CELSIUS: f64 = 273.15;
/// Highest salinity of the equations, as a mass fraction (40 g/kg).
const MAX_SALINITY: f64 = 0.040;

/// Kelvin, when the temperature is one the oxygen equations cover.
pub(super) fn checked_temperature(what: &'static str, t: Temperature) -> Result<f64, OutOfRange> {
    within(what, t.value - ZERO_CELSIUS, 0.0, 40.0, "degC").map(|_| t.value)
}

/// Pascals, when the pressure is one the oxygen equations cover.
pub(super) fn checked_pressure(p: Pressure) -> Result<f64, OutOfRange> {
    // The last digit of 1.1 atm in pascals depends on how it was computed.
    let atm = p.value / k::ATM;
    let rounded = if (atm - 1.1).abs() < 1e-12 { 1.1 } else { atm };
    within("pressure", rounded, 0.5, 1.1, "atm").map(|_| p.value)
}

/// Water vapour pressure in atm over water with `s` g/kg of sea salt.
fn vapor_atm(kelvin: f64, s: f64) -> f64 {
    let r = k::VAPOR_BOILING.value / kelvin;
    let ln = k::VAPOR_A.value * (1.0 - r)
        + k::VAPOR_B.value * (1.0 - libm::exp(k::VAPOR_B_EXP.value * (1.0 - 1.0 / r)))
        + k::VAPOR_C.value * (1.0 - libm::exp(k::VAPOR_C_EXP.value * (1.0 - r)))
        + k::VAPOR_D.value * libm::log(r);
    (1.0 - k::VAPOR_SALINITY.value * s) * libm::exp(ln)
}

/// Water vapour pressure in Pa over pure water.
pub(super) fn vapor_pa(kelvin: f64) -> f64 {
    vapor_atm(kelvin, 0.0) * k::ATM
}

/// Oxygen in mol/m³ of water in equilibrium with wet air.
fn saturation(kelvin: f64, pascal: f64, s: f64) -> f64 {
    let x = 1.0 / kelvin;
    let [b0, b1, b2, b3, b4] = [
        k::SATURATION_0.value,
        k::SATURATION_1.value,
        k::SATURATION_2.value,
        k::SATURATION_3.value,
        k::SATURATION_4.value,
    ];
    let fresh = b0 + x * (b1 + x * (b2 + x * (b3 + x * b4)));
    let salt = k::SATURATION_SALINITY_0.value
        + x * (k::SATURATION_SALINITY_1.value + x * k::SATURATION_SALINITY_2.value);
    let at_one_atm = libm::exp(fresh + s * salt);

    let t = kelvin - ZERO_CELSIUS;
    let theta =
        k::NON_IDEALITY_0.value + t * (k::NON_IDEALITY_1.value + t * k::NON_IDEALITY_2.value);
    let p = pascal / k::ATM;
    let pw = vapor_atm(kelvin, s);
    let by_pressure = (p - pw) * (1.0 - theta * p) / ((1.0 - pw) * (1.0 - theta));
    // mg/L is g/m³.
    at_one_atm * by_pressure / k::OXYGEN_MOLAR_MASS_1984.value
}

/// Henry constant in mol/(m³ Pa), from saturation at one atmosphere.
fn henry(kelvin: f64) -> f64 {
    let oxygen = k::OXYGEN_IN_DRY_AIR.value * (k::ATM - vapor_pa(kelvin));
    saturation(kelvin, k::ATM, 0.0) / oxygen
}

/// Vapour pressure of pure water, 0 to 40 °C (Green & Carritt 1967).
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside 0 to 40 °C.
///
/// ```
/// use ferrogall::oxidation::water_vapor_pressure;
/// use ferrogall::quantity::{celsius, ReadPressure};
/// // CRC Handbook: 3.169 kPa
/// assert!((water_vapor_pressure(celsius(25.0))?.in_kilopascals() - 3.169).abs() < 0.005);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn water_vapor_pressure(temperature: Temperature) -> Result<Pressure, OxidationError> {
    let kelvin = checked_temperature("temperature", temperature)?;
    Ok(Pressure::new::<pressure::pascal>(vapor_pa(kelvin)))
}

/// Oxygen dissolved in water that stands under water-saturated air.
///
/// 0 to 40 °C, 0.5 to 1.1 atm, up to 40 g of sea salt per kg
/// (Benson & Krause 1984). For the salts of an ink use [`salting_out`]
/// on the fresh-water figure instead of a salinity.
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside these ranges.
///
/// ```
/// use ferrogall::oxidation::dissolved_oxygen;
/// use ferrogall::quantity::{celsius, kilopascals, MassFraction, ReadMolarConcentration};
/// let c = dissolved_oxygen(celsius(25.0), kilopascals(101.325), MassFraction::ZERO)?;
/// assert!((c.in_millimoles_per_liter() - 0.2582).abs() < 1e-4);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
///
/// [`salting_out`]: super::salting_out
pub fn dissolved_oxygen(
    temperature: Temperature,
    pressure: Pressure,
    salinity: MassFraction,
) -> Result<MolarConcentration, OxidationError> {
    let kelvin = checked_temperature("temperature", temperature)?;
    let pascal = checked_pressure(pressure)?;
    let s = within("salinity", salinity.value(), 0.0, MAX_SALINITY, "kg/kg")?;
    Ok(MolarConcentration::new::<mole_per_cubic_meter>(saturation(
        kelvin,
        pascal,
        s * 1000.0,
    )))
}

/// Oxygen in air that is saturated with water vapour, as in a headspace.
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside 0 to 40 °C and 0.5 to 1.1 atm.
///
/// ```
/// use ferrogall::oxidation::wet_air_oxygen;
/// use ferrogall::quantity::{celsius, kilopascals, ReadMolarConcentration};
/// let c = wet_air_oxygen(celsius(25.0), kilopascals(101.325))?;
/// assert!((c.in_millimoles_per_liter() - 8.294).abs() < 0.001); // µmol per mL
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn wet_air_oxygen(
    temperature: Temperature,
    pressure: Pressure,
) -> Result<MolarConcentration, OxidationError> {
    Ok(Air::at(temperature, pressure)?.oxygen())
}

/// How much oxygen water dissolves for each pascal of it in the air.
///
/// ```
/// use ferrogall::oxidation::{henry_constant, HenryConstant};
/// use ferrogall::quantity::celsius;
/// let h = henry_constant(celsius(25.0))?;
/// assert!((h.in_moles_per_liter_atm() - 1.2726e-3).abs() < 1e-7);
/// assert!(HenryConstant::moles_per_liter_atm(f64::NAN).is_err());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct HenryConstant(f64);

impl HenryConstant {
    /// From mol/(L atm); 1e-6 to 1.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn moles_per_liter_atm(value: f64) -> Result<Self, OxidationError> {
        let v = within("Henry constant", value, 1e-6, 1.0, "mol/(L atm)")?;
        Ok(HenryConstant(v * 1000.0 / k::ATM))
    }

    /// In mol/(L atm).
    pub fn in_moles_per_liter_atm(self) -> f64 {
        self.0 * k::ATM / 1000.0
    }

    /// Oxygen in a volume of gas per oxygen in the same volume of water at
    /// equilibrium: about 32 at 25 °C.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] outside 0 to 40 °C.
    pub fn gas_to_liquid_ratio(self, temperature: Temperature) -> Result<f64, OxidationError> {
        let kelvin = checked_temperature("temperature", temperature)?;
        Ok(1.0 / (self.0 * k::GAS_CONSTANT * kelvin))
    }
}

/// Henry constant of oxygen in pure water, 0 to 40 °C, from the saturation
/// equation and the oxygen in wet air at one atmosphere.
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside 0 to 40 °C.
pub fn henry_constant(temperature: Temperature) -> Result<HenryConstant, OxidationError> {
    checked_temperature("temperature", temperature)
        .map(|kelvin| HenryConstant(henry(kelvin)))
        .map_err(Into::into)
}

/// Diffusion coefficient of oxygen in water, 0 to 40 °C (Han & Bartels 1996).
///
/// Gum slows it, by less than its viscosity would suggest.
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside 0 to 40 °C; the formula itself
/// reaches from -0.5 to 95 °C.
///
/// ```
/// use ferrogall::oxidation::oxygen_diffusion;
/// use ferrogall::quantity::celsius;
/// let d = oxygen_diffusion(celsius(25.0))?;
/// assert!((d.value * 1e9 - 1.998).abs() < 0.001); // 1e-9 m²/s
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn oxygen_diffusion(temperature: Temperature) -> Result<DiffusionCoefficient, OxidationError> {
    let kelvin = checked_temperature("temperature", temperature)?;
    let square = k::DIFFUSION_2.value / kelvin;
    let log10 = k::DIFFUSION_0.value + k::DIFFUSION_1.value / kelvin - square * square;
    Ok(DiffusionCoefficient::new::<square_centimeter_per_second>(
        libm::exp10(log10),
    ))
}

/// The slowest time in which oxygen finds its way by diffusion alone into
/// water that stands still under air, 4 L²/(π² D) for a depth L (Crank, plane
/// sheet, first term). Convection makes a bottle faster.
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside 0 to 40 °C and 1 µm to 10 m.
///
/// ```
/// use ferrogall::oxidation::still_water_time;
/// use ferrogall::quantity::{celsius, millimeters, ReadTime};
/// let t = still_water_time(millimeters(30.0), celsius(25.0))?;
/// assert!((t.in_days() - 2.113).abs() < 0.001);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn still_water_time(depth: Length, temperature: Temperature) -> Result<Time, OxidationError> {
    let m = within("depth", depth.value, 1e-6, 10.0, "m")?;
    let d = oxygen_diffusion(temperature)?.value;
    let seconds = 4.0 * m * m / (PI * PI * d);
    Ok(Time::new::<uom::si::time::second>(seconds))
}

/// Mean air pressure at an altitude of -500 to 5400 m in the standard
/// atmosphere; the weather moves it by a few per cent.
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside that range.
///
/// ```
/// use ferrogall::oxidation::pressure_at_altitude;
/// use ferrogall::quantity::{millimeters, ReadPressure};
/// let p = pressure_at_altitude(millimeters(1.0e6))?; // 1000 m
/// assert!((p.in_kilopascals() - 89.87).abs() < 0.01);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn pressure_at_altitude(altitude: Length) -> Result<Pressure, OxidationError> {
    let h = within("altitude", altitude.value, -500.0, 5400.0, "m")?;
    let ratio = libm::pow(1.0 - k::ALTITUDE_LAPSE.value * h, k::ALTITUDE_POWER.value);
    Ok(Pressure::new::<pressure::atmosphere>(ratio))
}

/// Amount in a volume of gas, by the ideal gas law (good to 0.1 % for air).
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside 0 to 40 °C, 0.5 to 1.1 atm and
/// 0 to 1000 m³.
///
/// ```
/// use ferrogall::oxidation::gas_amount;
/// use ferrogall::quantity::{celsius, kilopascals, liters, ReadAmount};
/// let n = gas_amount(liters(22.414), celsius(0.0), kilopascals(101.325))?;
/// assert!((n.in_moles() - 1.0).abs() < 1e-4);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn gas_amount(
    volume: Volume,
    temperature: Temperature,
    pressure: Pressure,
) -> Result<AmountOfSubstance, OxidationError> {
    let v = checked_volume("gas volume", volume)?;
    let kelvin = checked_temperature("temperature", temperature)?;
    let pascal = checked_pressure(pressure)?;
    Ok(
        AmountOfSubstance::new::<uom::si::amount_of_substance::mole>(
            pascal * v / (k::GAS_CONSTANT * kelvin),
        ),
    )
}

/// The air around and inside a bottle, and what it gives to ink.
///
/// ```
/// use ferrogall::oxidation::Air;
/// use ferrogall::quantity::{celsius, kilopascals};
/// let mild = Air::at(celsius(20.0), kilopascals(101.325))?;
/// let cold = Air::at(celsius(5.0), kilopascals(101.325))?;
/// assert!(cold.dissolved() > mild.dissolved());
/// // Bone-dry air holds a little more: the safest bound uses it.
/// assert!(Air::dry(celsius(20.0), kilopascals(101.325))?.oxygen() > mild.oxygen());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    kelvin: f64,
    oxygen_pa: f64,
    dissolved: f64,
}

impl Air {
    /// Air saturated with water vapour, and fresh water in equilibrium with it.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] outside 0 to 40 °C and 0.5 to 1.1 atm.
    pub fn at(temperature: Temperature, pressure: Pressure) -> Result<Self, OxidationError> {
        let kelvin = checked_temperature("temperature", temperature)?;
        let pascal = checked_pressure(pressure)?;
        Ok(Air::wet(kelvin, pascal))
    }

    fn wet(kelvin: f64, pascal: f64) -> Self {
        Air {
            kelvin,
            oxygen_pa: k::OXYGEN_IN_DRY_AIR.value * (pascal - vapor_pa(kelvin)),
            dissolved: saturation(kelvin, pascal, 0.0),
        }
    }

    /// 25 °C and one atmosphere, the conditions of most published figures.
    pub fn standard() -> Self {
        Air::wet(ZERO_CELSIUS + 25.0, k::ATM)
    }

    /// Air without any water vapour: the most oxygen a headspace can be
    /// given, 3 % more than wet air at 25 °C. The dissolved oxygen is raised
    /// in the same proportion.
    ///
    /// # Errors
    /// As [`Air::at`].
    pub fn dry(temperature: Temperature, pressure: Pressure) -> Result<Self, OxidationError> {
        let wet = Air::at(temperature, pressure)?;
        let oxygen_pa = k::OXYGEN_IN_DRY_AIR.value * pressure.value;
        Ok(Air {
            oxygen_pa,
            dissolved: wet.dissolved * (oxygen_pa / wet.oxygen_pa),
            ..wet
        })
    }

    /// A gas of which the oxygen pressure is known, over a liquid of known Henry constant.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] outside 0 to 40 °C and 1e-6 to 1.1 atm
    /// of oxygen.
    pub fn of(
        temperature: Temperature,
        oxygen_pressure: Pressure,
        henry: HenryConstant,
    ) -> Result<Self, OxidationError> {
        let oxygen_pa = oxygen_pressure.value;
        within("oxygen pressure", oxygen_pa / k::ATM, 1e-6, 1.1, "atm")?;
        Ok(Air {
            kelvin: checked_temperature("temperature", temperature)?,
            oxygen_pa,
            dissolved: henry.0 * oxygen_pa,
        })
    }

    /// The same air over a liquid that dissolves only this share of what
    /// fresh water does (see [`salting_out`](super::salting_out)); zero for
    /// ink that was freed of oxygen before filling.
    #[must_use]
    pub fn dissolving(self, share: Share) -> Self {
        Air {
            dissolved: self.dissolved * share.value(),
            ..self
        }
    }

    /// The same room at another temperature: the pressure of the air stays,
    /// vapour saturates it before and after, and the liquid is the same one.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] outside 0 to 40 °C, or where the
    /// pressure this air must have is outside 0.5 to 1.1 atm.
    pub fn at_temperature(self, temperature: Temperature) -> Result<Self, OxidationError> {
        let pascal = self.oxygen_pa / k::OXYGEN_IN_DRY_AIR.value + vapor_pa(self.kelvin);
        let dissolving = self.dissolved / Air::wet(self.kelvin, pascal).dissolved;
        let air = Air::at(temperature, Pressure::new::<pressure::pascal>(pascal))?;
        Ok(Air {
            dissolved: air.dissolved * dissolving,
            ..air
        })
    }

    /// Temperature of air and ink.
    pub fn temperature(&self) -> Temperature {
        Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(self.kelvin)
    }

    /// Partial pressure of oxygen.
    pub fn oxygen_pressure(&self) -> Pressure {
        Pressure::new::<pressure::pascal>(self.oxygen_pa)
    }

    /// Oxygen in a volume of this air.
    pub fn oxygen(&self) -> MolarConcentration {
        MolarConcentration::new::<mole_per_cubic_meter>(self.gas())
    }

    /// Oxygen in a volume of ink in equilibrium with this air.
    pub fn dissolved(&self) -> MolarConcentration {
        MolarConcentration::new::<mole_per_cubic_meter>(self.dissolved)
    }

    /// Oxygen in mol/m³ of gas.
    pub(super) fn gas(&self) -> f64 {
        self.oxygen_pa / (k::GAS_CONSTANT * self.kelvin)
    }
}
