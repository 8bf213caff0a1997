//! A bottle of ink: what is known of it, checked.

use super::closure::breathing;
use super::constants::{NU_MAX, OXYGEN_IN_DRY_AIR, YEAR};
use super::oxygen::{Air, vapor_pa};
use super::stoichiometry::checked_nu;
use super::{Closure, OxidationError};
use crate::quantity::{
    Area, MolarConcentration, OutOfRange, Pressure, Share, Temperature, Time, Volume,
    checked_volume, within,
};
use core::f64::consts::FRAC_PI_4;
use uom::si::molar_concentration::mole_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;
use uom::si::volume::cubic_meter;

/// Millilitres in a cubic metre, for messages.
const ML: f64 = 1e6;
/// A thousandth of a millilitre.
const MIN_VOLUME_M3: f64 = 1e-9;
/// A draw is nothing, or at least this share of the fill: it bounds the
/// number of openings that must be walked through one by one.
const MIN_DRAW: f64 = 1e-5;
/// A bottle of ink and how it is used; built by [`Bottle::builder`].
///
/// ```
/// use ferrogall::oxidation::{Bottle, Closure};
/// use ferrogall::quantity::{days, milliliters, moles_per_liter, Share};
/// // 30 mL of an ink with 15 g/L of vitriol in a 40 mL bottle, opened weekly
/// let bottle = Bottle::builder(milliliters(40.0), milliliters(30.0), moles_per_liter(0.053955))
///     .closure(Closure::SEALED_GLASS)
///     .opened_every(days(7.0))
///     .air_exchanged(Share::percent(30.0)?)
///     .drawn_per_opening(milliliters(1.0))
///     .kept_for(days(56.0))
///     .build()?;
/// let bound = bottle.bound();
/// assert_eq!(bound.openings, 8);
/// assert!((bound.share_after_filling.as_percent() - 22.4).abs() < 0.1);
/// assert!(bound.share_after_duration > bound.share_after_filling);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bottle {
    pub(super) capacity: f64, // m³
    pub(super) fill: f64,     // m³
    pub(super) iron: f64,     // mol/m³
    pub(super) air: Air,
    pub(super) closure: Closure,
    pub(super) interval: Option<f64>, // s
    pub(super) exchanged: f64,
    pub(super) draw: f64,     // m³
    pub(super) duration: f64, // s
    pub(super) nu: f64,
    pub(super) stated: Share,
    pub(super) degassed: bool,
    /// Share of the headspace that inert gas replaces at every closing.
    pub(super) flushed: f64,
    /// Glass beads keep the headspace as it was at filling.
    pub(super) kept_full: bool,
    pub(super) shaken: bool,
    /// Share of the headspace a leaky cap exchanges, 1/s.
    pub(super) breathing: f64,
    /// Surface of the ink, m², and the share of it that no lid covers.
    pub(super) surface: f64,
    pub(super) uncovered: f64,
    /// Half the difference between the warmest and the coldest day, K.
    pub(super) season: f64,
    pub(super) coldest: Air,
}

/// Gathers what is known of a bottle; nothing is checked before
/// [`build`](BottleBuilder::build).
///
/// ```
/// use ferrogall::oxidation::Bottle;
/// use ferrogall::quantity::{milliliters, moles_per_liter};
/// let overfull = Bottle::builder(milliliters(30.0), milliliters(40.0), moles_per_liter(0.05));
/// let e = overfull.build().unwrap_err().to_string();
/// assert!(e.starts_with("fill volume = ") && e.ends_with(" mL"));
/// ```
#[derive(Debug, Clone, Copy)]
#[must_use]
pub struct BottleBuilder {
    capacity: Volume,
    fill: Volume,
    iron: MolarConcentration,
    air: Air,
    degassed: bool,
    closure: Closure,
    interval: Option<Time>,
    exchanged: Share,
    draw: Volume,
    duration: Time,
    nu: f64,
    stated: Share,
    flushed: Share,
    kept_full: bool,
    shaken: bool,
    swing: Option<(Temperature, Temperature, Time)>,
    surface: Option<Area>,
    uncovered: Share,
    season: f64,
}

impl BottleBuilder {
    /// Air around the bottle and in its headspace, and the temperature of
    /// all; default [`Air::standard`], wet air of 25 °C and one atmosphere.
    pub fn air(self, air: Air) -> Self {
        BottleBuilder { air, ..self }
    }

    /// How it is closed; default [`Closure::SEALED_GLASS`].
    pub fn closure(self, closure: Closure) -> Self {
        BottleBuilder { closure, ..self }
    }

    /// Time between two openings, the first one a whole interval after
    /// filling; a minute to a thousand years. Default: never opened.
    pub fn opened_every(self, interval: Time) -> Self {
        BottleBuilder {
            interval: Some(interval),
            ..self
        }
    }

    /// Share of the headspace air exchanged at each opening. Default 0.3, for
    /// a quick opening; 1 when it is left open for a moment. A convention:
    /// no published value was found.
    pub fn air_exchanged(self, share: Share) -> Self {
        BottleBuilder {
            exchanged: share,
            ..self
        }
    }

    /// Ink taken out at each opening: nothing (the default), or at least a
    /// hundred-thousandth of the fill. Air takes its place.
    pub fn drawn_per_opening(self, volume: Volume) -> Self {
        BottleBuilder {
            draw: volume,
            ..self
        }
    }

    /// How long the ink is kept, up to a thousand years; default one year.
    pub fn kept_for(self, duration: Time) -> Self {
        BottleBuilder { duration, ..self }
    }

    /// Iron(II) per O₂, 2 to 4; default 4, the only value that gives a bound.
    pub fn nu(self, nu: f64) -> Self {
        BottleBuilder { nu, ..self }
    }

    /// The share of iron(II) of which [`OxygenBound`](super::OxygenBound) says when it is gone;
    /// default 10 %.
    pub fn stated_share(self, share: Share) -> Self {
        BottleBuilder {
            stated: share,
            ..self
        }
    }

    /// The ink was freed of oxygen before filling. Otherwise it counts as
    /// saturated with air, as if its salts took no room: more than it holds.
    pub fn without_dissolved_oxygen(self) -> Self {
        BottleBuilder {
            degassed: true,
            ..self
        }
    }

    /// Inert gas replaces this share of the headspace at filling and after
    /// each opening. Default: none. Nitrogen and argon suffocate in closed
    /// rooms: ventilate, and follow local rules for gas cylinders.
    pub fn flushed_with_inert_gas(self, share: Share) -> Self {
        BottleBuilder {
            flushed: share,
            ..self
        }
    }

    /// Glass beads take the place of the ink that is drawn, so that the
    /// headspace stays as it was at filling. Default: no.
    pub fn kept_full_with_beads(self) -> Self {
        BottleBuilder {
            kept_full: true,
            ..self
        }
    }

    /// The bottle is shaken at each opening. Default: no.
    pub fn shaken(self) -> Self {
        BottleBuilder {
            shaken: true,
            ..self
        }
    }

    /// The cap is not gas-tight: the headspace breathes once in every `period`
    /// (an hour to ten years) while its temperature swings between two values
    /// of 0 to 40 °C. Default: it does not breathe.
    pub fn breathing(self, low: Temperature, high: Temperature, period: Time) -> Self {
        BottleBuilder {
            swing: Some((low, high, period)),
            ..self
        }
    }

    /// Surface of the ink, 1e-9 to 1000 m². Default: that of a round bottle
    /// half as high again as wide.
    pub fn surface(self, area: Area) -> Self {
        BottleBuilder {
            surface: Some(area),
            ..self
        }
    }

    /// A lid floats on the ink and leaves this share of the surface free.
    /// Default: all of it.
    pub fn floating_lid(self, free: Share) -> Self {
        BottleBuilder {
            uncovered: free,
            ..self
        }
    }

    /// Temperature swings over the year around that of the air, by so many
    /// kelvin up in summer and down in winter (0 to 20). The ink is filled in
    /// spring. Default: it does not.
    pub fn season_of_kelvin(self, amplitude: f64) -> Self {
        BottleBuilder {
            season: amplitude,
            ..self
        }
    }

    /// Another brimful capacity.
    pub fn of_capacity(self, capacity: Volume) -> Self {
        BottleBuilder { capacity, ..self }
    }

    /// Another fill.
    pub fn filled_with(self, fill: Volume) -> Self {
        BottleBuilder { fill, ..self }
    }

    /// The same air at another temperature.
    ///
    /// # Errors
    /// As [`Air::at_temperature`].
    pub fn at_temperature(self, temperature: Temperature) -> Result<Self, OxidationError> {
        Ok(BottleBuilder {
            air: self.air.at_temperature(temperature)?,
            ..self
        })
    }

    /// The bottle, when all of it makes sense.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for a capacity above 1000 m³, a fill
    /// below 0.001 mL or above the capacity, iron(II) outside 1e-6 to
    /// 10 mol/L, and the ranges named at each setting.
    pub fn build(self) -> Result<Bottle, OxidationError> {
        let capacity = checked_volume("capacity", self.capacity)?;
        let fill = self.fill.value;
        within(
            "fill volume",
            fill * ML,
            MIN_VOLUME_M3 * ML,
            capacity * ML,
            "mL",
        )?;
        let mol_per_l = within("iron(II)", self.iron.value / 1000.0, 1e-6, 10.0, "mol/L")?;
        let draw = self.draw.value;
        if draw != 0.0 {
            checked_draw(draw, fill)?;
        }
        let interval = match self.interval {
            None => None,
            Some(t) => Some(within(
                "time between openings",
                t.value,
                60.0,
                1000.0 * YEAR,
                "s",
            )?),
        };
        Ok(Bottle {
            capacity,
            fill,
            iron: mol_per_l * 1000.0,
            air: self.air,
            closure: self.closure,
            interval,
            exchanged: self.exchanged.value(),
            draw,
            duration: within("duration", self.duration.value, 0.0, 1000.0 * YEAR, "s")?,
            nu: checked_nu(self.nu)?,
            stated: self.stated,
            degassed: self.degassed,
            flushed: self.flushed.value(),
            kept_full: self.kept_full,
            shaken: self.shaken,
            breathing: self.breath_per_second()?,
            surface: {
                let m2 = self.surface.map_or(round_surface(capacity), |a| a.value);
                within("surface of the ink", m2, 1e-9, 1e3, "m2")?
            },
            uncovered: self.uncovered.value(),
            season: self.season,
            coldest: self.coldest_air()?,
        })
    }

    /// Share of the headspace exchanged by a leaky cap, 1/s.
    fn breath_per_second(&self) -> Result<f64, OxidationError> {
        let Some((low, high, period)) = self.swing else {
            return Ok(0.0);
        };
        let hour = 3600.0;
        let seconds = within(
            "time between two breaths",
            period.value,
            hour,
            10.0 * YEAR,
            "s",
        )?;
        let air = self.air.oxygen_pressure().value / OXYGEN_IN_DRY_AIR.value
            + vapor_pa(self.air.temperature().value);
        let whole = Volume::new::<cubic_meter>(1.0);
        let breath = breathing(whole, low, high, Pressure::new::<pascal>(air))?;
        Ok(breath.air.value / seconds)
    }

    fn coldest_air(&self) -> Result<Air, OxidationError> {
        coldest(
            self.air,
            within("seasonal swing", self.season, 0.0, 20.0, "K")?,
        )
    }
}

/// The air at the cold end of a swing, when the warm end is one that air can be at, too.
pub(super) fn coldest(air: Air, swing: f64) -> Result<Air, OxidationError> {
    if swing == 0.0 {
        return Ok(air);
    }
    let middle = air.temperature().value;
    air.at_temperature(Temperature::new::<kelvin>(middle + swing))?;
    air.at_temperature(Temperature::new::<kelvin>(middle - swing))
}

/// A draw from a fill, both m³.
pub(super) fn checked_draw(draw: f64, fill: f64) -> Result<f64, OutOfRange> {
    let (least, most) = (MIN_DRAW * fill * ML, fill * ML);
    within("ink per opening", draw * ML, least, most, "mL")?;
    Ok(draw)
}

/// Surface in a round bottle half as high again as wide, m².
fn round_surface(capacity: f64) -> f64 {
    let width = libm::cbrt(capacity / (1.5 * FRAC_PI_4));
    FRAC_PI_4 * width * width
}

impl Bottle {
    /// A bottle of this brimful capacity, filled with this much ink of this
    /// iron(II) concentration.
    pub fn builder(capacity: Volume, fill: Volume, iron_ii: MolarConcentration) -> BottleBuilder {
        BottleBuilder {
            capacity,
            fill,
            iron: iron_ii,
            air: Air::standard(),
            degassed: false,
            closure: Closure::SEALED_GLASS,
            interval: None,
            exchanged: Share::new(0.3).unwrap_or(Share::ONE),
            draw: Volume::new::<cubic_meter>(0.0),
            duration: Time::new::<second>(YEAR),
            nu: NU_MAX.value,
            stated: Share::new(0.1).unwrap_or(Share::ONE),
            flushed: Share::ZERO,
            kept_full: false,
            shaken: false,
            swing: None,
            surface: None,
            uncovered: Share::ONE,
            season: 0.0,
        }
    }

    /// The same bottle with other iron(II), four of it to an O₂.
    pub(super) fn holding(self, iron_ii: MolarConcentration) -> Self {
        Bottle {
            iron: iron_ii.value,
            nu: NU_MAX.value,
            ..self
        }
    }

    /// The same bottle, kept for another time.
    pub(super) fn kept_until(self, end: Time) -> Self {
        Bottle {
            duration: end.value,
            ..self
        }
    }

    /// The air where the season is at this part of its swing, -1 to 1.
    pub(super) fn air_at_season(&self, part: f64) -> Air {
        if self.season == 0.0 {
            return self.air;
        }
        let middle = self.air.temperature().value;
        let then = Temperature::new::<kelvin>(middle + part * self.season);
        // Both ends were tried when the bottle was built.
        self.air.at_temperature(then).unwrap_or(self.air)
    }

    /// Brimful capacity.
    pub fn capacity(&self) -> Volume {
        Volume::new::<cubic_meter>(self.capacity)
    }

    /// Ink at filling.
    pub fn fill(&self) -> Volume {
        Volume::new::<cubic_meter>(self.fill)
    }

    /// Iron(II) at filling.
    pub fn iron_ii(&self) -> MolarConcentration {
        MolarConcentration::new::<mole_per_cubic_meter>(self.iron)
    }

    /// Air in and around the bottle.
    pub fn air(&self) -> Air {
        self.air
    }

    /// How it is closed.
    pub fn closure(&self) -> Closure {
        self.closure
    }

    /// Iron(II) per O₂.
    pub fn nu(&self) -> f64 {
        self.nu
    }
}
