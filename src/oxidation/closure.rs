//! How oxygen gets past a cap or through a wall.

use super::OxidationError;
use super::closure_data::{CLOSURES, POLYMERS};
use super::constants::{
    ATM, DAY, GAS_CONSTANT, OXYGEN_IN_DRY_AIR, OXYGEN_MOLAR_MASS, STP_MOLAR_VOLUME,
};
use super::oxygen::{checked_pressure, checked_temperature, vapor_pa};
use crate::quantity::{
    AmountOfSubstance, Area, Length, Pressure, Temperature, Time, Volume, checked_volume, within,
};
use crate::source::{Range, Source, Status};
use uom::si::amount_of_substance::mole;
use uom::si::volume::cubic_meter;

/// Ten thousand years; longer spans are refused.
const MAX_TIME_S: f64 = 3.2e11;
/// Largest conductance, mol/(s atm): that of a hole, not of a closure.
const MAX_CONDUCTANCE: f64 = 1.0;

/// Oxygen let through by a polymer: amount per time, thickness, area and
/// pressure difference.
///
/// ```
/// use ferrogall::oxidation::Permeability;
/// let p = Permeability::cm3_mil_per_100in2_day_atm(175.0)?;
/// assert!((p.in_cm3_mm_per_m2_day_atm() - 68.8976).abs() < 1e-4);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Permeability(f64); // cm³(0 °C, 1 atm) mm / (m² day atm)

impl Permeability {
    /// From cm³ (0 °C, 1 atm) of gas × mm of wall per m², day and atm; 0 to 1e6.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn cm3_mm_per_m2_day_atm(value: f64) -> Result<Self, OxidationError> {
        let v = within("permeability", value, 0.0, 1e6, "cm3 mm/(m2 day atm)")?;
        Ok(Permeability(v))
    }

    /// From cm³ of gas × thousandths of an inch per 100 square inches, day
    /// and atm, the unit of older packaging tables.
    ///
    /// # Errors
    /// As [`Permeability::cm3_mm_per_m2_day_atm`].
    pub fn cm3_mil_per_100in2_day_atm(value: f64) -> Result<Self, OxidationError> {
        Self::cm3_mm_per_m2_day_atm(value * MM_M2_PER_MIL_100IN2)
    }

    /// In cm³ mm/(m² day atm).
    pub const fn in_cm3_mm_per_m2_day_atm(self) -> f64 {
        self.0
    }
}

/// A thousandth of an inch in mm, over 100 square inches in m².
const MM_M2_PER_MIL_100IN2: f64 = 0.0254 / 0.064516;

/// Oxygen let through by a whole closure or wall: amount per time and
/// pressure difference.
///
/// ```
/// use ferrogall::oxidation::{Conductance, Permeability};
/// use ferrogall::quantity::{millimeters, square_centimeters};
/// let hdpe = Permeability::cm3_mil_per_100in2_day_atm(175.0)?;
/// let g = Conductance::of_wall(hdpe, square_centimeters(60.0), millimeters(1.0))?;
/// assert!((g.in_mol_per_second_atm() / 2.1346e-10 - 1.0).abs() < 1e-4);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Conductance(f64); // mol/(s atm)

impl Conductance {
    /// A gas-tight closure.
    pub const ZERO: Conductance = Conductance(0.0);

    /// From mol/(s atm); 0 to 1.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn mol_per_second_atm(value: f64) -> Result<Self, OxidationError> {
        let v = within("conductance", value, 0.0, MAX_CONDUCTANCE, "mol/(s atm)")?;
        Ok(Conductance(v))
    }

    /// Of a wall of this area and thickness. Thickness 1 µm to 1 m, area up
    /// to 1000 m².
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn of_wall(
        permeability: Permeability,
        area: Area,
        thickness: Length,
    ) -> Result<Self, OxidationError> {
        let m2 = within("wall area", area.value, 0.0, 1e3, "m2")?;
        let mm = within("wall thickness", thickness.value, 1e-6, 1.0, "m")? * 1000.0;
        let cm3_per_day_atm = permeability.0 * m2 / mm;
        Self::mol_per_second_atm(cm3_per_day_atm / STP_MOLAR_VOLUME.value / DAY)
    }

    /// From the oxygen that came through in a time, measured with dry air of
    /// one atmosphere outside and no oxygen inside. Time up to ten thousand
    /// years and no less than a second.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn measured(oxygen: AmountOfSubstance, within_time: Time) -> Result<Self, OxidationError> {
        let mol = within("oxygen", oxygen.value, 0.0, 1e9, "mol")?;
        let seconds = within("time", within_time.value, 1.0, MAX_TIME_S, "s")?;
        Self::mol_per_second_atm(mol / seconds / OXYGEN_IN_DRY_AIR.value)
    }

    /// In mol/(s atm).
    pub const fn in_mol_per_second_atm(self) -> f64 {
        self.0
    }

    /// Oxygen that comes through in a time when there is this oxygen pressure
    /// outside and none inside: the most that can. Pressure up to 1.1 atm,
    /// time up to ten thousand years.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn oxygen_in(
        self,
        oxygen_pressure: Pressure,
        time: Time,
    ) -> Result<AmountOfSubstance, OxidationError> {
        let atm = within(
            "oxygen pressure",
            oxygen_pressure.value / ATM,
            0.0,
            1.1,
            "atm",
        )?;
        let seconds = within("time", time.value, 0.0, MAX_TIME_S, "s")?;
        Ok(AmountOfSubstance::new::<mole>(self.0 * atm * seconds))
    }
}

/// A closure as tested: oxygen per day from dry air into an oxygen-free bottle.
///
/// ```
/// use ferrogall::oxidation::closures;
/// let wine = closures().iter().find(|c| c.id == "wine_closure").unwrap();
/// assert_eq!((wine.oxygen_ug_per_day.min, wine.oxygen_ug_per_day.max), (5.0, 67.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Ingress {
    /// Identifier.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Oxygen let in, µg a day.
    pub oxygen_ug_per_day: Range,
    /// What to know before using it.
    pub note: &'static str,
    /// Where the figure comes from.
    pub source: Source,
}

/// A polymer a bottle is made of.
///
/// ```
/// use ferrogall::oxidation::polymers;
/// let pet = polymers().iter().find(|p| p.id == "pet").unwrap();
/// assert_eq!(pet.cm3_mil_per_100in2_day_atm.typical, 4.5);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Polymer {
    /// Identifier.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Oxygen permeability at 25 °C as printed, cm³ mil/(100 in² day atm);
    /// the typical value is the middle of the range.
    pub cm3_mil_per_100in2_day_atm: Range,
    /// Where the figure comes from.
    pub source: Source,
}

/// Closures of which figures were published.
pub const fn closures() -> &'static [Ingress] {
    CLOSURES
}

/// Bottle polymers with their oxygen permeability.
pub const fn polymers() -> &'static [Polymer] {
    POLYMERS
}

/// What keeps the air out of a bottle: a span of conductance, and its source.
///
/// The bound of a [`Bottle`](super::Bottle) is reckoned with `high`.
///
/// ```
/// use ferrogall::oxidation::{Closure, polymers};
/// use ferrogall::quantity::{millimeters, square_centimeters};
/// let pet = polymers().iter().find(|p| p.id == "pet").unwrap();
/// let bottle = Closure::wall(pet, square_centimeters(60.0), millimeters(0.5))?;
/// assert!(bottle.low < bottle.high && bottle.high.in_mol_per_second_atm() < 1e-10);
/// assert_eq!(Closure::SEALED_GLASS.high.in_mol_per_second_atm(), 0.0);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Closure {
    /// Name of the closure or the wall material.
    pub name: &'static str,
    /// Low end.
    pub low: Conductance,
    /// The value when nothing better is known.
    pub typical: Conductance,
    /// High end: the one the bound uses.
    pub high: Conductance,
    /// Where the figure comes from.
    pub source: Source,
}

impl Closure {
    /// A sealed glass bottle: nothing comes in.
    pub const SEALED_GLASS: Closure = Closure {
        name: "sealed glass",
        low: Conductance::ZERO,
        typical: Conductance::ZERO,
        high: Conductance::ZERO,
        source: Source::new("glass lets no oxygen through", Status::CommonPractice),
    };

    /// A closure of the catalogue, on glass.
    pub fn of(row: &Ingress) -> Self {
        let per_day = |micrograms: f64| {
            let mol = micrograms * 1e-6 / OXYGEN_MOLAR_MASS.value;
            // A caller may have made the row up.
            Conductance::mol_per_second_atm(mol / DAY / OXYGEN_IN_DRY_AIR.value)
                .unwrap_or(Conductance(MAX_CONDUCTANCE))
        };
        Closure {
            name: row.name,
            low: per_day(row.oxygen_ug_per_day.min),
            typical: per_day(row.oxygen_ug_per_day.typical),
            high: per_day(row.oxygen_ug_per_day.max),
            source: row.source,
        }
    }

    /// A polymer bottle with this wall area and thickness under a tight cap.
    /// The permeability is that at 25 °C; it falls in the cold.
    ///
    /// # Errors
    /// As [`Conductance::of_wall`].
    pub fn wall(polymer: &Polymer, area: Area, thickness: Length) -> Result<Self, OxidationError> {
        let through = |printed: f64| {
            let p = Permeability::cm3_mil_per_100in2_day_atm(printed)?;
            Conductance::of_wall(p, area, thickness)
        };
        let span = polymer.cm3_mil_per_100in2_day_atm;
        Ok(Closure {
            name: polymer.name,
            low: through(span.min)?,
            typical: through(span.typical)?,
            high: through(span.max)?,
            source: polymer.source,
        })
    }

    /// A closure whose conductance the maker has measured.
    pub const fn known(name: &'static str, conductance: Conductance, source: Source) -> Self {
        Closure {
            name,
            low: conductance,
            typical: conductance,
            high: conductance,
            source,
        }
    }
}

/// What a leaky cap breathes in, once, from warm to cold.
///
/// ```
/// use ferrogall::oxidation::breathing;
/// use ferrogall::quantity::{celsius, kilopascals, milliliters, ReadAmount};
/// let b = breathing(milliliters(10.0), celsius(20.0), celsius(30.0), kilopascals(101.325))?;
/// assert!((b.oxygen.in_millimoles() - 4.4e-3).abs() < 0.1e-3);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Breath {
    /// Outside air drawn in, measured as wet air at the low temperature.
    pub air: Volume,
    /// Oxygen in it.
    pub oxygen: AmountOfSubstance,
}

/// Air drawn in by the headspace of a bottle that is not gas-tight while it
/// cools from `high` to `low`: the gas shrinks as the absolute temperature,
/// and its water vapour condenses.
///
/// One such breath a day can outweigh everything that comes through a good
/// closure. Pressure is the same inside and outside, and the headspace stays
/// saturated with vapour. The oxygen of the breath is counted whole, so four
/// times it bounds the iron(II) lost per swing.
///
/// # Errors
/// [`OxidationError`] for temperatures outside 0 to 40 °C or in the wrong
/// order, pressure outside 0.5 to 1.1 atm, headspace above 1000 m³.
pub fn breathing(
    headspace: Volume,
    low: Temperature,
    high: Temperature,
    pressure: Pressure,
) -> Result<Breath, OxidationError> {
    let volume = checked_volume("headspace", headspace)?;
    let cold = checked_temperature("low temperature", low)?;
    let warm = checked_temperature("high temperature", high)?;
    let pascal = checked_pressure(pressure)?;
    if cold > warm {
        return Err(OxidationError::TemperaturesSwapped {
            low_c: cold - 273.15,
            high_c: warm - 273.15,
        });
    }
    // mol/m³ of dry air under water vapour
    let dry = |kelvin: f64| (pascal - vapor_pa(kelvin)) / (GAS_CONSTANT * kelvin);
    let share = (1.0 - dry(warm) / dry(cold)).max(0.0);
    let air = share * volume;
    Ok(Breath {
        air: Volume::new::<cubic_meter>(air),
        oxygen: AmountOfSubstance::new::<mole>(OXYGEN_IN_DRY_AIR.value * dry(cold) * air),
    })
}
