//! Quantities in the words of the trade.
//!
//! The types are `uom` quantities with SI inside, so a mass can never be
//! mistaken for a volume. This room adds short constructors ([`grams`],
//! [`milliliters`] …), readers ([`ReadMass`] and its sisters), the fractions and the price that
//! `uom` has no type for, and the one range error every room shares.

use uom::si;

pub use uom::si::f64::{
    AmountOfSubstance, Area, Energy, Length, Mass, MassConcentration, MassDensity, Molality,
    MolarConcentration, MolarEnergy, MolarMass, Power, Pressure,
    ThermodynamicTemperature as Temperature, Time, Volume,
};

/// A number outside the range in which a question has an answer.
///
/// NaN, infinities and wrongly signed amounts are all reported this way.
///
/// ```
/// use ferrogall::quantity::MassFraction;
/// let e = MassFraction::percent(140.0).unwrap_err();
/// assert_eq!(e.what, "mass fraction");
/// assert_eq!(e.to_string(), "mass fraction = 1.4 is outside 0 to 1");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error(
    "{what} = {}{space}{unit} is outside {} to {}{space}{unit}",
    Figure(*value), Figure(*min), Figure(*max),
    space = if unit.is_empty() { "" } else { " " }
)]
pub struct OutOfRange {
    /// The offending input.
    pub what: &'static str,
    /// The value that was given.
    pub value: f64,
    /// Smallest value allowed.
    pub min: f64,
    /// Largest value allowed.
    pub max: f64,
    /// Unit of `value`, `min` and `max`; empty for pure ratios.
    pub unit: &'static str,
}

/// A number for a message: six figures, an exponent where it is very large or small.
struct Figure(f64);

impl core::fmt::Display for Figure {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let x = self.0;
        if !x.is_finite() || x == 0.0 {
            return write!(f, "{x}");
        }
        let size = x.abs();
        if !(1e-4..1e7).contains(&size) {
            return write!(f, "{x:.3e}");
        }
        let before_point = libm::floor(libm::log10(size)) as i32 + 1;
        let decimals = usize::try_from(6 - before_point).unwrap_or(0);
        let text = format!("{x:.decimals$}");
        let text = if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.')
        } else {
            &text
        };
        f.write_str(text)
    }
}

/// Lets `value` through when it is a number in `min..=max`.
pub(crate) fn within(
    what: &'static str,
    value: f64,
    min: f64,
    max: f64,
    unit: &'static str,
) -> Result<f64, OutOfRange> {
    // NaN fails both comparisons.
    if value >= min && value <= max {
        Ok(value)
    } else {
        Err(OutOfRange {
            what,
            value,
            min,
            max,
            unit,
        })
    }
}

/// Largest mass a recipe may hold: a thousand tonnes.
pub(crate) const MAX_MASS_KG: f64 = 1e6;
/// Largest volume a recipe may hold: a thousand cubic metres.
pub(crate) const MAX_VOLUME_M3: f64 = 1e3;

/// A mass that is a number, not negative, and no more than a thousand tonnes.
pub(crate) fn checked_mass(what: &'static str, m: Mass) -> Result<f64, OutOfRange> {
    within(what, m.value, 0.0, MAX_MASS_KG, "kg")
}

/// A volume that is a number, not negative, and no more than a thousand m³.
pub(crate) fn checked_volume(what: &'static str, v: Volume) -> Result<f64, OutOfRange> {
    within(what, v.value, 0.0, MAX_VOLUME_M3, "m3")
}

macro_rules! constructors {
    ($($(#[$doc:meta])* $name:ident($quantity:ident, $unit:path);)*) => {
        $($(#[$doc])* pub fn $name(value: f64) -> $quantity { $quantity::new::<$unit>(value) })*
    };
}

constructors! {
    /// Grams.
    grams(Mass, si::mass::gram);
    /// Milligrams.
    milligrams(Mass, si::mass::milligram);
    /// Kilograms.
    kilograms(Mass, si::mass::kilogram);
    /// Millilitres.
    milliliters(Volume, si::volume::milliliter);
    /// Litres.
    liters(Volume, si::volume::liter);
    /// Moles.
    moles(AmountOfSubstance, si::amount_of_substance::mole);
    /// Millimoles.
    millimoles(AmountOfSubstance, si::amount_of_substance::millimole);
    /// Moles per litre.
    moles_per_liter(MolarConcentration, si::molar_concentration::mole_per_liter);
    /// Moles per kilogram.
    moles_per_kilogram(Molality, si::molality::mole_per_kilogram);
    /// Grams per litre of ink.
    grams_per_liter(MassConcentration, si::mass_concentration::gram_per_liter);
    /// Grams per cubic centimetre, the density of a liquid or a powder.
    grams_per_cubic_centimeter(MassDensity, si::mass_density::gram_per_cubic_centimeter);
    /// Grams per mole.
    grams_per_mole(MolarMass, si::molar_mass::gram_per_mole);
    /// Degrees Celsius.
    celsius(Temperature, si::thermodynamic_temperature::degree_celsius);
    /// Kilopascals.
    kilopascals(Pressure, si::pressure::kilopascal);
    /// Days.
    days(Time, si::time::day);
    /// Hours.
    hours(Time, si::time::hour);
    /// Kilojoules.
    kilojoules(Energy, si::energy::kilojoule);
    /// Kilojoules per mole.
    kilojoules_per_mole(MolarEnergy, si::molar_energy::kilojoule_per_mole);
    /// Millimetres.
    millimeters(Length, si::length::millimeter);
    /// Square centimetres.
    square_centimeters(Area, si::area::square_centimeter);
}

macro_rules! readers {
    ($($trait_name:ident for $quantity:ident { $($(#[$doc:meta])* $name:ident($unit:path);)* })*) => {
        $(
            #[doc = concat!("Readers of [`", stringify!($quantity), "`].")]
            pub trait $trait_name { $($(#[$doc])* fn $name(&self) -> f64;)* }
            impl $trait_name for $quantity { $(fn $name(&self) -> f64 { self.get::<$unit>() })* }
        )*
    };
}
readers! {
    ReadMass for Mass {
        /// In grams.
        in_grams(si::mass::gram);
        /// In kilograms.
        in_kilograms(si::mass::kilogram);
    }
    ReadVolume for Volume {
        /// In millilitres.
        in_milliliters(si::volume::milliliter);
        /// In litres.
        in_liters(si::volume::liter);
    }
    ReadAmount for AmountOfSubstance {
        /// In moles.
        in_moles(si::amount_of_substance::mole);
        /// In millimoles.
        in_millimoles(si::amount_of_substance::millimole);
    }
    ReadMolarConcentration for MolarConcentration {
        /// In moles per litre.
        in_moles_per_liter(si::molar_concentration::mole_per_liter);
        /// In millimoles per litre.
        in_millimoles_per_liter(si::molar_concentration::millimole_per_liter);
    }
    ReadMolality for Molality {
        /// In moles per kilogram.
        in_moles_per_kilogram(si::molality::mole_per_kilogram);
    }
    ReadMassConcentration for MassConcentration {
        /// In grams per litre.
        in_grams_per_liter(si::mass_concentration::gram_per_liter);
    }
    ReadMassDensity for MassDensity {
        /// In grams per cubic centimetre.
        in_grams_per_cubic_centimeter(si::mass_density::gram_per_cubic_centimeter);
    }
    ReadMolarMass for MolarMass {
        /// In grams per mole.
        in_grams_per_mole(si::molar_mass::gram_per_mole);
    }
    ReadTemperature for Temperature {
        /// In degrees Celsius.
        in_celsius(si::thermodynamic_temperature::degree_celsius);
    }
    ReadPressure for Pressure {
        /// In kilopascals.
        in_kilopascals(si::pressure::kilopascal);
    }
    ReadEnergy for Energy {
        /// In kilojoules.
        in_kilojoules(si::energy::kilojoule);
    }
    ReadTime for Time {
        /// In days.
        in_days(si::time::day);
    }
}

macro_rules! unit_interval {
    ($(#[$doc:meta])* $name:ident, $what:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing.
            pub const ZERO: $name = $name(0.0);
            /// Half of it.
            pub const HALF: $name = $name(0.5);
            /// All of it.
            pub const ONE: $name = $name(1.0);

            /// A number from 0 to 1.
            ///
            /// # Errors
            /// [`OutOfRange`] for anything else, NaN included.
            pub fn new(value: f64) -> Result<Self, OutOfRange> {
                within($what, value, 0.0, 1.0, "").map($name)
            }

            /// A number from 0 to 100.
            ///
            /// # Errors
            /// [`OutOfRange`] for anything else, NaN included.
            pub fn percent(value: f64) -> Result<Self, OutOfRange> {
                Self::new(value / 100.0)
            }

            /// The number from 0 to 1.
            pub const fn value(self) -> f64 {
                self.0
            }

            /// The number from 0 to 100.
            pub fn as_percent(self) -> f64 {
                self.0 * 100.0
            }
        }
    };
}

unit_interval! {
    /// Mass of a part per mass of the whole (% w/w).
    ///
    /// `uom` knows only one kind of ratio; this type keeps a mass fraction from
    /// being taken for a mole fraction.
    ///
    /// ```
    /// use ferrogall::quantity::MassFraction;
    /// assert_eq!(MassFraction::percent(31.45)?.value(), 0.3145);
    /// # Ok::<(), ferrogall::quantity::OutOfRange>(())
    /// ```
    MassFraction, "mass fraction"
}
unit_interval! {
    /// Amount of a part per amount of the whole (mol/mol).
    ///
    /// ```
    /// use ferrogall::quantity::MoleFraction;
    /// assert!(MoleFraction::new(f64::NAN).is_err());
    /// ```
    MoleFraction, "mole fraction"
}
unit_interval! {
    /// Any other share of a whole: a yield, a fill, air exchanged.
    ///
    /// ```
    /// use ferrogall::quantity::Share;
    /// assert_eq!(Share::percent(80.0)?.value(), 0.8);
    /// # Ok::<(), ferrogall::quantity::OutOfRange>(())
    /// ```
    Share, "share"
}

/// A pure number with its standard uncertainty (k = 1).
///
/// ```
/// use ferrogall::quantity::Estimate;
/// let purity = Estimate::new(0.98, 0.01)?;
/// assert_eq!(purity.relative_u(), 0.01 / 0.98);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    value: f64,
    u: f64,
}

impl Estimate {
    /// Nothing, exactly.
    pub const ZERO: Estimate = Estimate { value: 0.0, u: 0.0 };
    /// One, exactly.
    pub const ONE: Estimate = Estimate { value: 1.0, u: 0.0 };

    /// A value and its standard uncertainty; both finite, neither negative.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise. 1e9 is the largest value taken.
    pub fn new(value: f64, u: f64) -> Result<Self, OutOfRange> {
        Ok(Estimate {
            value: within("estimate", value, 0.0, 1e9, "")?,
            u: within("standard uncertainty", u, 0.0, 1e9, "")?,
        })
    }

    /// A value taken as exact.
    ///
    /// # Errors
    /// As [`Estimate::new`].
    pub fn exact(value: f64) -> Result<Self, OutOfRange> {
        Self::new(value, 0.0)
    }

    /// The value.
    pub const fn value(self) -> f64 {
        self.value
    }

    /// The standard uncertainty, in the unit of the value.
    pub const fn u(self) -> f64 {
        self.u
    }

    /// `u / value`; 0 when the value is 0.
    pub fn relative_u(self) -> f64 {
        if self.value > 0.0 {
            (self.u / self.value).min(1e9)
        } else {
            0.0
        }
    }
}

/// Money per mass, in whatever currency the caller counts in.
///
/// The crate never converts currencies: all prices of one recipe must be in
/// the same one.
///
/// ```
/// use ferrogall::quantity::{grams, Price};
/// let gum = Price::per_kilogram(40.0)?;
/// assert_eq!(gum.of(grams(250.0))?, 10.0);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Price(f64);

impl Price {
    /// So much for a kilogram; from 0 to 1e9.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn per_kilogram(value: f64) -> Result<Self, OutOfRange> {
        within("price per kilogram", value, 0.0, 1e9, "").map(Price)
    }

    /// So much for a pack of this mass.
    ///
    /// # Errors
    /// [`OutOfRange`] for a price below 0 or a mass of 0.
    pub fn of_pack(value: f64, mass: Mass) -> Result<Self, OutOfRange> {
        let kg = within("pack mass", mass.value, 1e-9, MAX_MASS_KG, "kg")?;
        Self::per_kilogram(value / kg)
    }

    /// The price of a kilogram.
    pub const fn in_money_per_kilogram(self) -> f64 {
        self.0
    }

    /// What this mass costs.
    ///
    /// # Errors
    /// [`OutOfRange`] for a mass outside 0 to a thousand tonnes.
    pub fn of(self, mass: Mass) -> Result<f64, OutOfRange> {
        Ok(self.0 * checked_mass("mass", mass)?)
    }

    /// What this mass costs, where it is known to be one.
    pub(crate) fn of_checked(self, mass: Mass) -> f64 {
        self.0 * mass.value
    }
}
