//! How fine the plant is, and what rain did to it before.

use super::parameter::arrhenius;
use super::{ExtractionError, Parameter, Shape};
use crate::quantity::{Length, OutOfRange, Share, Temperature, Time, celsius, within};
use crate::source::Range;
use uom::si::f64::DiffusionCoefficient;

const ZERO_CELSIUS: f64 = 273.15;
const MM: f64 = 1e-3;
/// Longest soak: ten years.
pub(super) const LONGEST_S: f64 = 10.0 * 365.25 * 86_400.0;

/// The grain of the plant matter: shape, size, and the share of its cells
/// that is broken and dissolves at once.
///
/// A bag of grains is taken as all of one size; where it is mixed, the coarse
/// half rules the time.
///
/// ```
/// use ferrogall::extraction::{Grain, Shape};
/// use ferrogall::quantity::{Share, millimeters};
/// let crumbs = Grain::crushed().measuring(millimeters(2.0))?;
/// assert_eq!(crumbs.shape(), Shape::Sphere);
/// let bark = Grain::new(Shape::Slab, millimeters(4.0), Share::percent(10.0)?)?;
/// assert!(bark.size() > crumbs.size());
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grain {
    shape: Shape,
    /// m
    size: Range,
    washed: Range,
}

impl Grain {
    /// A grain that was measured: diameter of a sphere or thickness of a slab
    /// (1 µm to 100 mm), and the share of broken cells.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn new(shape: Shape, size: Length, washed: Share) -> Result<Grain, OutOfRange> {
        Ok(Grain {
            shape,
            size: Range::exact(checked(size)?),
            washed: Range::exact(washed.value()),
        })
    }

    /// Ground to powder: about 0.4 mm.
    pub fn powder() -> Grain {
        Grain::typical(Parameter::POWDER_SIZE, Parameter::WASHED_POWDER)
    }

    /// Crushed in a mortar or with a hammer: crumbs of about 3 mm.
    pub fn crushed() -> Grain {
        Grain::typical(Parameter::CRUSHED_SIZE, Parameter::WASHED_CRUSHED)
    }

    /// Whole galls: about 15 mm. Their hole and dense rind are not reckoned with.
    pub fn whole() -> Grain {
        Grain::typical(Parameter::WHOLE_SIZE, Parameter::WASHED_WHOLE)
    }

    fn typical(size: Parameter, washed: Parameter) -> Grain {
        let Range { min, typical, max } = size.range;
        Grain {
            shape: Shape::Sphere,
            size: Range::new(min * MM, typical * MM, max * MM),
            washed: washed.range,
        }
    }

    /// The same with a measured size, 1 µm to 100 mm.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn measuring(mut self, size: Length) -> Result<Grain, OutOfRange> {
        self.size = Range::exact(checked(size)?);
        Ok(self)
    }

    /// The same in another shape.
    #[must_use]
    pub fn shaped(mut self, shape: Shape) -> Grain {
        self.shape = shape;
        self
    }

    /// The same with a known share of broken cells.
    #[must_use]
    pub fn washed(mut self, share: Share) -> Grain {
        self.washed = Range::exact(share.value());
        self
    }

    /// Its shape.
    pub fn shape(&self) -> Shape {
        self.shape
    }

    /// Its typical size: diameter or thickness.
    pub fn size(&self) -> Length {
        Length::new::<uom::si::length::meter>(self.size.typical)
    }

    /// The typical share of broken cells.
    pub fn washed_share(&self) -> Share {
        Share::new(self.washed.typical).unwrap_or(Share::ZERO)
    }

    pub(super) fn size_range(&self) -> Range {
        self.size
    }

    pub(super) fn washed_range(&self) -> Range {
        self.washed
    }
}

fn checked(size: Length) -> Result<f64, OutOfRange> {
    within("grain size", size.value, 1e-6, 0.1, "m")
}

/// So long at one temperature: 0 to 100 °C, up to ten years.
///
/// ```
/// use ferrogall::extraction::Soak;
/// use ferrogall::quantity::{celsius, hours};
/// let night = Soak::new(celsius(18.0), hours(10.0))?;
/// assert_eq!(night.duration(), hours(10.0));
/// assert!(Soak::new(celsius(121.0), hours(0.5)).is_err()); // a pressure cooker
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Soak {
    pub(super) kelvin: f64,
    pub(super) seconds: f64,
}

impl Soak {
    /// A soak.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn new(temperature: Temperature, duration: Time) -> Result<Soak, OutOfRange> {
        Ok(Soak {
            kelvin: checked_temperature(temperature)?,
            seconds: within("duration", duration.value, 0.0, LONGEST_S, "s")?,
        })
    }

    /// Its temperature.
    pub fn temperature(&self) -> Temperature {
        Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(self.kelvin)
    }

    /// How long it takes.
    pub fn duration(&self) -> Time {
        Time::new::<uom::si::time::second>(self.seconds)
    }
}

/// A temperature of liquid water, K.
pub(super) fn checked_temperature(t: Temperature) -> Result<f64, OutOfRange> {
    let kelvin = t.value;
    // Half a microkelvin for the way from °C and back.
    let c = within(
        "temperature",
        kelvin - ZERO_CELSIUS,
        -5e-7,
        100.000_000_5,
        "degC",
    )?;
    Ok(c + ZERO_CELSIUS)
}

/// Rain on whole galls before they were gathered: so many wet hours.
///
/// Rain is taken as water without end: what has diffused out of the whole
/// gall is lost. Galls that float in a puddle or keep their waxy skin lose less.
///
/// ```
/// use ferrogall::extraction::Rain;
/// use ferrogall::quantity::{celsius, hours, millimeters};
/// let autumn = Rain::new(celsius(10.0), hours(72.0))?.on_galls_of(millimeters(20.0))?;
/// assert_eq!(autumn.wet().duration(), hours(72.0));
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rain {
    wet: Soak,
    galls: Grain,
}

impl Rain {
    /// Wet for so long, at 0 to 100 °C and up to ten years.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn new(temperature: Temperature, wet: Time) -> Result<Rain, OutOfRange> {
        Ok(Rain {
            wet: Soak::new(temperature, wet)?,
            galls: Grain::whole(),
        })
    }

    /// The galls were of this diameter.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 1 µm to 100 mm.
    pub fn on_galls_of(mut self, diameter: Length) -> Result<Rain, OutOfRange> {
        self.galls = self.galls.measuring(diameter)?;
        Ok(self)
    }

    /// How long they were wet, and how warm.
    pub fn wet(&self) -> Soak {
        self.wet
    }

    /// The galls, as grains.
    pub fn galls(&self) -> Grain {
        self.galls
    }
}

/// Diffusivity in the grain at 0 to 100 °C, from that at 25 °C and the
/// activation energy (0 to 200 kJ/mol), by Arrhenius' law.
///
/// # Errors
/// [`ExtractionError::OutOfRange`].
///
/// ```
/// use ferrogall::extraction::{DiffusionCoefficient, diffusivity};
/// use ferrogall::quantity::{celsius, kilojoules_per_mole};
/// use uom::si::diffusion_coefficient::square_meter_per_second as m2_s;
/// // Tea: 5.6e-11 m²/s at 25 °C, 2.2e-10 at 60 °C.
/// let tea = DiffusionCoefficient::new::<m2_s>(5.6e-11);
/// let hot = diffusivity(tea, kilojoules_per_mole(32.6), celsius(60.0))?;
/// assert!((hot.get::<m2_s>() - 2.23e-10).abs() < 0.02e-10);
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
pub fn diffusivity(
    at_25c: DiffusionCoefficient,
    activation: crate::quantity::MolarEnergy,
    temperature: Temperature,
) -> Result<DiffusionCoefficient, ExtractionError> {
    let d25 = within("diffusivity", at_25c.value, 0.0, 1e-3, "m2/s")?;
    let joules = within("activation energy", activation.value, 0.0, 200e3, "J/mol")?;
    let kelvin = checked_temperature(temperature)?;
    Ok(DiffusionCoefficient::new::<
        uom::si::diffusion_coefficient::square_meter_per_second,
    >(arrhenius(d25, joules / 1000.0, kelvin)))
}

/// 20 to 25 °C, at which mould's pace is guessed.
pub(super) fn mould_weather(t: Temperature) -> Result<(), OutOfRange> {
    let c = t.value - celsius(0.0).value;
    within(
        "temperature of fermentation",
        c,
        20.0 - 1e-6,
        25.0 + 1e-6,
        "degC",
    )
    .map(|_| ())
}
