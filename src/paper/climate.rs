//! The air a line dries in.

use super::PaperError;
use super::assumption::{AIR_LAYER, VAPOR_DIFFUSION, VAPOR_DIFFUSION_POWER};
use crate::chem::constants::{GAS_CONSTANT, WATER};
use crate::oxidation::{Air, water_vapor_pressure};
use crate::quantity::{
    Length, Pressure, ReadTemperature, Share, Temperature, Time, kilopascals, within,
};
use core::f64::consts::PI;
use uom::si::time::second;

const ZERO_CELSIUS: f64 = 273.15;
const ATM: f64 = 101_325.0;
/// kg/m³ of the water that has to go; ink has a little less in it.
const WATER_DENSITY: f64 = 1000.0;
/// In damper air a line hardly dries at all.
const DAMPEST: f64 = 0.98;

/// The air of the room: temperature and humidity, at about one atmosphere.
///
/// ```
/// use ferrogall::paper::Climate;
/// use ferrogall::quantity::*;
/// let room = Climate::new(celsius(20.0), Share::percent(50.0)?)?;
/// let damp = Climate::new(celsius(20.0), Share::percent(90.0)?)?;
/// let (film, line) = (millimeters(0.010), millimeters(0.5));
/// assert!(damp.drying_time(film, line)? > room.drying_time(film, line)?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Climate {
    pub(super) air: Air,
    temperature: Temperature,
    pub(super) humidity: f64,
    vapor_pressure: Pressure,
}

impl Climate {
    /// 0 to 40 °C and a relative humidity of 0 to 98 %.
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`], [`PaperError::Oxidation`] otherwise.
    pub fn new(temperature: Temperature, humidity: Share) -> Result<Climate, PaperError> {
        let relative = within("relative humidity", humidity.value(), 0.0, DAMPEST, "")?;
        Ok(Climate {
            air: Air::at(temperature, kilopascals(ATM / 1000.0))?,
            temperature,
            humidity: relative,
            vapor_pressure: water_vapor_pressure(temperature)?,
        })
    }

    /// 20 °C and 50 % relative humidity.
    ///
    /// # Errors
    /// None in practice: 20 °C and 50 % lie in the range.
    pub fn indoors() -> Result<Climate, PaperError> {
        Climate::new(crate::quantity::celsius(20.0), Share::new(0.5)?)
    }

    /// Temperature.
    pub fn temperature(&self) -> Temperature {
        self.temperature
    }

    /// Relative humidity.
    pub fn humidity(&self) -> Share {
        Share::new(self.humidity).unwrap_or(Share::ZERO)
    }

    /// Film that a strip of this width (m) loses to still air, m/s. Vapour
    /// spreads from a narrow strip into the round, so a pen's line dries some
    /// twenty times faster than open water.
    pub(super) fn drying_speed(&self, width: f64) -> f64 {
        let kelvin = self.temperature.in_celsius() + ZERO_CELSIUS;
        let warmth = libm::pow(kelvin / ZERO_CELSIUS, VAPOR_DIFFUSION_POWER.value);
        let diffusion = VAPOR_DIFFUSION.value * warmth;
        // Half a cylinder of still air around a strip; for a wide one this
        // becomes a plain layer of about the same thickness.
        let round = libm::log1p(4.0 * AIR_LAYER.value / width);
        let transfer = PI * diffusion / (width * round);
        let missing = self.vapor_pressure.value * (1.0 - self.humidity);
        let vapor = missing * WATER / (GAS_CONSTANT.value * kelvin);
        transfer * vapor / WATER_DENSITY
    }

    /// Time in which a wet film of 0.1 µm to 1 mm on a strip of 0.05 mm to
    /// 1 m dries in still air. Good to a factor of three: see `drying` among
    /// the [`assumptions`](super::assumptions).
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] for another film or width.
    pub fn drying_time(&self, film: Length, width: Length) -> Result<Time, PaperError> {
        let film = within("film", film.value * 1e6, 0.1, 1000.0, "um")? * 1e-6;
        let width = checked_width(width, 1000.0)?;
        Ok(Time::new::<second>(film / self.drying_speed(width)))
    }
}

/// Metres, when a strip is no narrower than a hairline.
pub(super) fn checked_width(width: Length, most_mm: f64) -> Result<f64, PaperError> {
    let millimeters = within("line width", width.value * 1e3, 0.05, most_mm, "mm")?;
    Ok(millimeters * 1e-3)
}
