//! What a hydrometer says, and the density it means.
//!
//! A reading is a ratio: the sample at its temperature against water at the
//! temperature of the scale. Turned into a density it holds at the temperature
//! of the sample. The stem's own expansion (a reading 10 K off the calibration
//! is wrong by some 0.0003) and the buoyancy of air are left out.

use super::water::water;
use crate::quantity::{
    MassDensity, OutOfRange, ReadMassDensity, ReadTemperature, Temperature, celsius,
    grams_per_cubic_centimeter, within,
};
use crate::source::{Constant, Source, Status};

/// 60 °F, °C.
const FAHRENHEIT_60: f64 = 28.0 / 1.8;
/// Specific gravities and densities (g/cm³) outside are no liquid of the bench.
const SG_MIN: f64 = 0.5;
const SG_MAX: f64 = 2.5;

/// Which Baumé scale the stem carries.
///
/// For liquids heavier than water `SG = m / (m − °Bé)`; only the modulus `m` and
/// the temperature of the water differ. The light scale runs the other way.
///
/// ```
/// use ferrogall::chem::BaumeScale;
/// assert_eq!(BaumeScale::default(), BaumeScale::American);
/// assert_eq!(BaumeScale::American.modulus().value, 145.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum BaumeScale {
    /// United States, heavier than water: 145, 60/60 °F.
    #[default]
    American,
    /// Old Dutch: 144, water at 12.5 °C.
    Dutch,
    /// Gerlach: 146.78, water at 17.5 °C.
    Gerlach,
    /// "Rational", Germany: 144.3, water at 15 °C.
    Rational,
    /// United States, lighter than water: `SG = 140 / (130 + °Bé)`, 60/60 °F.
    AmericanLight,
}

const SCALES: Source = Source::new(
    "Modulus as quoted from the CRC Handbook, 51st ed., and older assay textbooks; water \
     temperature of the 144, 144.3 and 146.78 scales from memory, unconfirmed",
    Status::Secondary,
);
const AMERICAN: Source = Source::new(
    "CAMEO Materials Database and Roberts & Etherington, Bookbinding dictionary (dt0255), heavy \
     Baumé at 60/60 °F",
    Status::Secondary,
);
const LIGHT: Source = Source::new(
    "US Baumé scale for liquids lighter than water, 140/(130 + °Bé)",
    Status::FromMemory,
);
const TWADDELL: Source = Source::new(
    "Twaddell scale, 200 (SG − 1) at 60 °F, as quoted from the CRC Handbook, 51st ed.",
    Status::Secondary,
);

const fn scale_constant(id: &'static str, value: f64, source: Source) -> Constant {
    Constant {
        id,
        value,
        u: 0.0,
        unit: "°",
        source,
    }
}

pub(super) static MODULUS_AMERICAN: Constant =
    scale_constant("baume_modulus_american", 145.0, AMERICAN);
pub(super) static MODULUS_DUTCH: Constant = scale_constant("baume_modulus_dutch", 144.0, SCALES);
pub(super) static MODULUS_GERLACH: Constant =
    scale_constant("baume_modulus_gerlach", 146.78, SCALES);
pub(super) static MODULUS_RATIONAL: Constant =
    scale_constant("baume_modulus_rational", 144.3, SCALES);
pub(super) static MODULUS_LIGHT: Constant =
    scale_constant("baume_modulus_american_light", 140.0, LIGHT);
pub(super) static TWADDELL_STEP: Constant =
    scale_constant("twaddell_degrees_per_unit_sg", 200.0, TWADDELL);

/// Degree of the light scale in pure water.
const LIGHT_WATER: f64 = 10.0;

impl BaumeScale {
    /// All scales.
    pub const ALL: [BaumeScale; 5] = [
        BaumeScale::American,
        BaumeScale::Dutch,
        BaumeScale::Gerlach,
        BaumeScale::Rational,
        BaumeScale::AmericanLight,
    ];

    /// The modulus and where it comes from.
    pub fn modulus(self) -> &'static Constant {
        match self {
            BaumeScale::American => &MODULUS_AMERICAN,
            BaumeScale::Dutch => &MODULUS_DUTCH,
            BaumeScale::Gerlach => &MODULUS_GERLACH,
            BaumeScale::Rational => &MODULUS_RATIONAL,
            BaumeScale::AmericanLight => &MODULUS_LIGHT,
        }
    }

    /// Temperature of the water the scale compares with, and at which it is
    /// meant to be read.
    pub fn reference(self) -> Temperature {
        celsius(self.reference_celsius())
    }

    fn reference_celsius(self) -> f64 {
        match self {
            BaumeScale::American | BaumeScale::AmericanLight => FAHRENHEIT_60,
            BaumeScale::Dutch => 12.5,
            BaumeScale::Gerlach => 17.5,
            BaumeScale::Rational => 15.0,
        }
    }

    fn to_ratio(self, degrees: f64) -> Result<f64, OutOfRange> {
        let m = self.modulus().value;
        if self == BaumeScale::AmericanLight {
            let d = within("degrees Baumé", degrees, LIGHT_WATER, 100.0, "°Bé")?;
            Ok(m / (m - LIGHT_WATER + d))
        } else {
            let d = within("degrees Baumé", degrees, 0.0, 75.0, "°Bé")?;
            Ok(m / (m - d))
        }
    }

    fn of_ratio(self, ratio: f64) -> Result<f64, OutOfRange> {
        let m = self.modulus().value;
        if self == BaumeScale::AmericanLight {
            let r = within("specific gravity, light scale", ratio, SG_MIN, 1.0, "")?;
            Ok(m / r - (m - LIGHT_WATER))
        } else {
            let r = within("specific gravity, heavy scale", ratio, 1.0, SG_MAX, "")?;
            Ok(m - m / r)
        }
    }
}

/// Density of a sample over that of water, with both temperatures.
///
/// ```
/// use ferrogall::chem::{BaumeScale, SpecificGravity};
/// use ferrogall::quantity::{ReadMassDensity, celsius};
/// let acid = SpecificGravity::from_baume(BaumeScale::American, 20.0, celsius(28.0 / 1.8))?;
/// assert!((acid.ratio() - 1.160).abs() < 1e-12);
/// assert!((acid.density().in_grams_per_cubic_centimeter() - 1.15886).abs() < 1e-5);
/// assert!((acid.twaddell()? - 32.0).abs() < 1e-9);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpecificGravity {
    ratio: f64,
    sample: f64,
    reference: f64,
}

impl SpecificGravity {
    /// A ratio from 0.5 to 2.5 with the temperatures of sample and reference
    /// water, 0 to 100 °C: "1.160 at 60/60 °F", "1.055 at 20/4 °C".
    ///
    /// # Errors
    /// [`OutOfRange`] for anything else.
    pub fn new(
        ratio: f64,
        sample: Temperature,
        reference: Temperature,
    ) -> Result<Self, OutOfRange> {
        Ok(SpecificGravity {
            ratio: within("specific gravity", ratio, SG_MIN, SG_MAX, "")?,
            sample: within("sample temperature", sample.in_celsius(), 0.0, 100.0, "°C")?,
            reference: within(
                "reference water temperature",
                reference.in_celsius(),
                0.0,
                100.0,
                "°C",
            )?,
        })
    }

    /// From a density that holds at the sample's temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] for a temperature outside 0 to 100 °C or a ratio outside
    /// 0.5 to 2.5.
    pub fn from_density(
        density: MassDensity,
        sample: Temperature,
        reference: Temperature,
    ) -> Result<Self, OutOfRange> {
        let one = SpecificGravity::new(1.0, sample, reference)?;
        let ratio = density.in_grams_per_cubic_centimeter() / water(one.reference);
        SpecificGravity::new(ratio, sample, reference)
    }

    /// From degrees Baumé read in a sample of this temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] for degrees outside 0 to 75 (light scale: 10 to 100) or a
    /// temperature outside 0 to 100 °C.
    pub fn from_baume(
        scale: BaumeScale,
        degrees: f64,
        sample: Temperature,
    ) -> Result<Self, OutOfRange> {
        SpecificGravity::new(scale.to_ratio(degrees)?, sample, scale.reference())
    }

    /// From degrees Twaddell (water at 60 °F) read in a sample of this
    /// temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] for degrees outside 0 to 200 or a temperature outside 0 to
    /// 100 °C.
    pub fn from_twaddell(degrees: f64, sample: Temperature) -> Result<Self, OutOfRange> {
        let d = within("degrees Twaddell", degrees, 0.0, 200.0, "°Tw")?;
        SpecificGravity::new(
            1.0 + d / TWADDELL_STEP.value,
            sample,
            celsius(FAHRENHEIT_60),
        )
    }

    /// The ratio itself.
    pub const fn ratio(&self) -> f64 {
        self.ratio
    }

    /// Temperature of the sample.
    pub fn sample(&self) -> Temperature {
        celsius(self.sample)
    }

    /// Temperature of the water compared with.
    pub fn reference(&self) -> Temperature {
        celsius(self.reference)
    }

    /// Density of the sample at its temperature.
    pub fn density(&self) -> MassDensity {
        grams_per_cubic_centimeter(self.ratio * water(self.reference))
    }

    /// The same sample against water of another temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] when that temperature or the new ratio is.
    pub fn against(&self, reference: Temperature) -> Result<Self, OutOfRange> {
        SpecificGravity::from_density(self.density(), self.sample(), reference)
    }

    /// Degrees that this scale shows in the sample.
    ///
    /// # Errors
    /// [`OutOfRange`] when the sample is too light for a heavy scale or too
    /// heavy for the light one.
    pub fn baume(&self, scale: BaumeScale) -> Result<f64, OutOfRange> {
        scale.of_ratio(self.ratio_against(scale.reference_celsius()))
    }

    /// Degrees Twaddell shown in the sample.
    ///
    /// # Errors
    /// [`OutOfRange`] when the sample is lighter than water.
    pub fn twaddell(&self) -> Result<f64, OutOfRange> {
        let ratio = self.ratio_against(FAHRENHEIT_60);
        let r = within("specific gravity, Twaddell", ratio, 1.0, 2.6, "")?;
        Ok(TWADDELL_STEP.value * (r - 1.0))
    }

    fn ratio_against(&self, reference: f64) -> f64 {
        // Equal up to the way through kelvin: no rounding then.
        if (self.reference - reference).abs() < 1e-9 {
            self.ratio
        } else {
            self.ratio * water(self.reference) / water(reference)
        }
    }
}
