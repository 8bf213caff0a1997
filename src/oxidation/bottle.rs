//! A bottle of ink: what is known of it, checked.

use super::constants::{NU_MAX, YEAR};
use super::oxygen::Air;
use super::stoichiometry::checked_nu;
use super::{Closure, OxidationError};
use crate::quantity::{MolarConcentration, Share, Time, Volume, checked_volume, within};
use uom::si::molar_concentration::mole_per_cubic_meter;
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
            let least = MIN_DRAW * fill;
            within("ink per opening", draw * ML, least * ML, fill * ML, "mL")?;
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
            air: if self.degassed {
                self.air.dissolving(Share::ZERO)
            } else {
                self.air
            },
            closure: self.closure,
            interval,
            exchanged: self.exchanged.value(),
            draw,
            duration: within("duration", self.duration.value, 0.0, 1000.0 * YEAR, "s")?,
            nu: checked_nu(self.nu)?,
            stated: self.stated,
        })
    }
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
        }
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
