//! The upper bound: all oxygen that can have come in, times four.

use super::constants::{ATM, IRON_MOLAR_MASS, NU_MAX, YEAR};
use super::oxygen::Air;
use super::stoichiometry::checked_nu;
use super::{Closure, OxidationError};
use crate::quantity::{
    AmountOfSubstance, MassConcentration, MolarConcentration, Share, Time, Volume, checked_volume,
    within,
};
use uom::si::amount_of_substance::mole;
use uom::si::mass_concentration::gram_per_cubic_meter;
use uom::si::molar_concentration::mole_per_cubic_meter;
use uom::si::time::second;
use uom::si::volume::cubic_meter;

/// A thousandth of a millilitre.
const MIN_VOLUME_M3: f64 = 1e-9;
/// A draw is nothing, or at least this share of the fill: it bounds the
/// number of openings that must be walked through one by one.
const MIN_DRAW: f64 = 1e-5;
/// Answers beyond a million years are "never".
const HORIZON_S: f64 = 1e6 * YEAR;
/// Rounding allowed when whole intervals are counted; always to the side of
/// one opening more, the safe side of a bound.
const COUNT_SLACK: f64 = 1e-12;

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
    capacity: f64, // m³
    fill: f64,     // m³
    iron: f64,     // mol/m³
    air: Air,
    closure: Closure,
    interval: Option<f64>, // s
    exchanged: f64,
    draw: f64,     // m³
    duration: f64, // s
    nu: f64,
    stated: Share,
}

/// Gathers what is known of a bottle; nothing is checked before
/// [`build`](BottleBuilder::build).
///
/// ```
/// use ferrogall::oxidation::Bottle;
/// use ferrogall::quantity::{milliliters, moles_per_liter};
/// let overfull = Bottle::builder(milliliters(30.0), milliliters(40.0), moles_per_liter(0.05));
/// assert_eq!(
///     overfull.build().unwrap_err().to_string(),
///     "fill volume = 0.00004 m3 is outside 0.000000001 to 0.00003 m3",
/// );
/// ```
#[derive(Debug, Clone, Copy)]
#[must_use]
pub struct BottleBuilder {
    capacity: Volume,
    fill: Volume,
    iron: MolarConcentration,
    air: Air,
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

    /// The share of iron(II) of which [`OxygenBound`] says when it is gone;
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
            air: self.air.dissolving(Share::ZERO),
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
        let fill = within(
            "fill volume",
            self.fill.value,
            MIN_VOLUME_M3,
            capacity,
            "m3",
        )?;
        let mol_per_l = within("iron(II)", self.iron.value / 1000.0, 1e-6, 10.0, "mol/L")?;
        let draw = self.draw.value;
        if draw != 0.0 {
            within("ink per opening", draw, MIN_DRAW * fill, fill, "m3")?;
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
        })
    }
}

/// The most iron(II) that oxygen can have taken from a bottle of ink.
///
/// Everything here is an **upper bound**: all oxygen that can have come in is
/// taken to have reacted, four iron(II) to each O₂, with the closure at the
/// high end of its span and no oxygen ever left inside to hold more back. Ink
/// usually keeps better. It is not a shelf life. Not in the bound: a bottle
/// left standing open (count it as openings of their own) and the breathing
/// of a leaky cap ([`breathing`](super::breathing)).
///
/// ```
/// use ferrogall::oxidation::Bottle;
/// use ferrogall::quantity::{milliliters, moles_per_liter, ReadAmount};
/// let full = Bottle::builder(milliliters(30.0), milliliters(30.0), moles_per_liter(0.05));
/// let bound = full.without_dissolved_oxygen().build()?.bound();
/// assert_eq!(bound.share_after_duration.value(), 0.0);
/// assert_eq!(bound.time_to_share, None);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OxygenBound {
    /// Oxygen in the headspace when the bottle is closed.
    pub oxygen_headspace: AmountOfSubstance,
    /// Oxygen dissolved in the ink when the bottle is closed.
    pub oxygen_dissolved: AmountOfSubstance,
    /// Oxygen the first opening can let in; later ones let in more as the
    /// headspace grows.
    pub oxygen_first_opening: AmountOfSubstance,
    /// Oxygen all openings within the duration can let in.
    pub oxygen_openings: AmountOfSubstance,
    /// Oxygen through the closure in a year of 365.25 days.
    pub oxygen_closure_per_year: AmountOfSubstance,
    /// Oxygen through the closure within the duration, or until the bottle is empty.
    pub oxygen_closure: AmountOfSubstance,
    /// Iron(II) in the bottle at filling.
    pub iron_ii: AmountOfSubstance,
    /// Iron(II) the headspace can oxidise (this and the next three may exceed
    /// what there is).
    pub iron_headspace: AmountOfSubstance,
    /// Iron(II) the dissolved oxygen can oxidise.
    pub iron_dissolved: AmountOfSubstance,
    /// Iron(II) the first opening can oxidise.
    pub iron_first_opening: AmountOfSubstance,
    /// Iron(II) the closure can oxidise in a year.
    pub iron_closure_per_year: AmountOfSubstance,
    /// Iron a volume of headspace can oxidise (g/L is mg/mL).
    pub iron_per_headspace: MassConcentration,
    /// Share of the iron(II) lost to the air of the filling.
    pub share_after_filling: Share,
    /// Share lost after the duration, of the ink still in the bottle (or of
    /// the last ink there was in it).
    pub share_after_duration: Share,
    /// Openings within the duration that leave ink in the bottle.
    pub openings: u64,
    /// Whether the ink is used up within the duration.
    pub emptied: bool,
    /// Openings until the stated share is gone, by filling and openings alone;
    /// `None`: not before the bottle is empty, or never.
    pub openings_to_share: Option<u64>,
    /// Time until the stated share is gone, closure included; `None`: not
    /// before the bottle is empty, or not within a million years.
    pub time_to_share: Option<Time>,
    /// The bottle all this was reckoned for.
    pub assumed: Bottle,
}

/// Time and number of openings at which a share is gone.
struct Gone {
    seconds: f64,
    openings: f64,
}

fn moles(value: f64) -> AmountOfSubstance {
    AmountOfSubstance::new::<mole>(value)
}

fn share(value: f64) -> Share {
    Share::new(value.clamp(0.0, 1.0)).unwrap_or(Share::ONE)
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
            closure: Closure::SEALED_GLASS,
            interval: None,
            exchanged: share(0.3),
            draw: Volume::new::<cubic_meter>(0.0),
            duration: Time::new::<second>(YEAR),
            nu: NU_MAX.value,
            stated: share(0.1),
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

    /// The upper bound; see [`OxygenBound`] for what it says and what not.
    pub fn bound(&self) -> OxygenBound {
        let headspace = self.air.gas() * (self.capacity - self.fill);
        let dissolved = self.air.dissolved().value * self.fill;
        let first = self.opening(0.0);
        let leak = self.leak();
        let stay = self.stay();
        let (openings, seconds) = (stay.openings, stay.seconds);
        OxygenBound {
            oxygen_headspace: moles(headspace),
            oxygen_dissolved: moles(dissolved),
            oxygen_first_opening: moles(first),
            oxygen_openings: moles(self.oxygen_of_openings(openings)),
            oxygen_closure_per_year: moles(leak * YEAR),
            oxygen_closure: moles(leak * seconds),
            iron_ii: moles(self.iron * self.fill),
            iron_headspace: moles(self.nu * headspace),
            iron_dissolved: moles(self.nu * dissolved),
            iron_first_opening: moles(self.nu * first),
            iron_closure_per_year: moles(self.nu * leak * YEAR),
            iron_per_headspace: MassConcentration::new::<gram_per_cubic_meter>(
                self.nu * self.air.gas() * IRON_MOLAR_MASS.value,
            ),
            share_after_filling: share(self.at_filling()),
            share_after_duration: share(self.lost(openings, seconds)),
            openings: openings as u64,
            emptied: stay.emptied,
            openings_to_share: self.openings_to_share(self.stated),
            time_to_share: self.time_to_share(self.stated),
            assumed: *self,
        }
    }

    /// Openings until this share of the iron(II) can be gone, by the air of
    /// the filling and of the openings alone. `None`: not before the bottle
    /// is empty, or never.
    pub fn openings_to_share(&self, lost: Share) -> Option<u64> {
        let gone = self.gone(lost.value(), 0.0, Some(1.0))?;
        (gone.openings < 1e15).then_some(gone.openings as u64)
    }

    /// Time until this share of the iron(II) can be gone, by filling, openings
    /// and closure together. `None`: not before the bottle is empty, or not
    /// within a million years.
    pub fn time_to_share(&self, lost: Share) -> Option<Time> {
        let gone = self.gone(lost.value(), self.leak(), self.interval)?;
        (gone.seconds <= HORIZON_S).then(|| Time::new::<second>(gone.seconds))
    }

    /// Least fill at which headspace and dissolved oxygen of this bottle can
    /// oxidise no more than this share. `None` when the dissolved oxygen
    /// alone can oxidise more.
    pub fn fill_for_share(&self, lost: Share) -> Option<Volume> {
        let spare = self.spare(lost)?;
        // nu (gas (V - x) + dissolved x) = lost iron x
        let gas = self.air.gas();
        Some(Volume::new::<cubic_meter>(
            self.capacity * (gas / (gas + spare)),
        ))
    }

    /// Capacity of the largest bottle in which headspace and dissolved oxygen
    /// over this fill can oxidise no more than this share. `None` when the
    /// dissolved oxygen alone can oxidise more.
    pub fn capacity_for_share(&self, lost: Share) -> Option<Volume> {
        let spare = self.spare(lost)?;
        Some(Volume::new::<cubic_meter>(
            self.fill * (1.0 + spare / self.air.gas()),
        ))
    }

    /// Oxygen that may still come to a volume of ink, beside what it has
    /// dissolved, before more than this share is lost: mol/m³.
    fn spare(&self, lost: Share) -> Option<f64> {
        let spare = lost.value() * self.iron / self.nu - self.air.dissolved().value;
        (spare >= 0.0).then_some(spare)
    }

    /// Oxygen through the closure, mol/s, with none inside.
    fn leak(&self) -> f64 {
        self.closure.high.in_mol_per_second_atm() * (self.air.oxygen_pressure().value / ATM)
    }

    /// Ink left after some openings, m³.
    fn ink(&self, openings: f64) -> f64 {
        self.fill - openings * self.draw
    }

    /// Oxygen let in by the opening that follows `before` others, mol: air in
    /// place of the ink drawn, and an exchanged share of the headspace that
    /// was there.
    fn opening(&self, before: f64) -> f64 {
        let headspace = self.capacity - self.ink(before);
        self.air.gas() * (self.draw + self.exchanged * headspace)
    }

    /// Sum of [`opening`](Self::opening) over the first `n`.
    fn oxygen_of_openings(&self, n: f64) -> f64 {
        let grown = self.draw * (n * (n - 1.0) / 2.0);
        let headspaces = n * (self.capacity - self.fill) + grown;
        self.air.gas() * (n * self.draw + self.exchanged * headspaces)
    }

    /// Share of the iron(II) lost to the air of the filling; may exceed 1.
    fn at_filling(&self) -> f64 {
        let gas = self.air.gas() * (self.capacity - self.fill) / self.fill;
        self.nu * (gas + self.air.dissolved().value) / self.iron
    }

    /// Share lost by a mole of oxygen after some openings.
    fn per_mole(&self, openings: f64) -> f64 {
        self.nu / (self.iron * self.ink(openings))
    }

    /// Number of openings that leave ink in the bottle.
    fn last_opening(&self) -> f64 {
        if self.draw > 0.0 {
            // The residue of a division is not ink.
            (libm::ceil(self.fill / self.draw * (1.0 - 1e-9)) - 1.0).max(0.0)
        } else {
            f64::MAX
        }
    }

    /// Openings and seconds of the duration during which there is ink.
    fn stay(&self) -> Stay {
        let made = match self.interval {
            None => 0.0,
            Some(t) => libm::floor(self.duration / t * (1.0 + COUNT_SLACK)),
        };
        let last = self.last_opening();
        let emptied = made > last;
        Stay {
            openings: if emptied { last } else { made },
            seconds: match self.interval {
                Some(t) if emptied => self.duration.min((last + 1.0) * t),
                _ => self.duration,
            },
            emptied,
        }
    }

    /// Share lost after some openings and seconds; may exceed 1.
    ///
    /// A draw takes oxidised and unoxidised iron alike, so it leaves the share
    /// as it is; what comes in afterwards meets less iron.
    fn lost(&self, openings: f64, seconds: f64) -> f64 {
        let leak = self.leak();
        if self.draw == 0.0 {
            let oxygen = self.oxygen_of_openings(openings) + leak * seconds;
            return self.at_filling() + self.per_mole(0.0) * oxygen;
        }
        let interval = self.interval.unwrap_or(0.0);
        let mut lost = self.at_filling();
        let mut k = 0.0;
        while k < openings {
            lost += self.per_mole(k) * leak * interval;
            lost += self.per_mole(k + 1.0) * self.opening(k);
            k += 1.0;
        }
        lost + self.per_mole(k) * leak * (seconds - k * interval).max(0.0)
    }

    /// When `target` is lost, for a leak in mol/s and openings an interval apart.
    fn gone(&self, target: f64, leak: f64, interval: Option<f64>) -> Option<Gone> {
        let missing = target - self.at_filling();
        if missing <= 0.0 {
            return Some(Gone {
                seconds: 0.0,
                openings: 0.0,
            });
        }
        match interval {
            None => {
                let rate = self.per_mole(0.0) * leak;
                (rate > 0.0).then(|| Gone {
                    seconds: missing / rate,
                    openings: 0.0,
                })
            }
            Some(t) if self.draw == 0.0 => self.gone_undrawn(missing, leak, t),
            Some(t) => self.gone_drawn(missing, leak, t),
        }
    }

    /// [`gone`](Self::gone) when no ink is drawn: every interval is alike.
    fn gone_undrawn(&self, missing: f64, leak: f64, interval: f64) -> Option<Gone> {
        let seep = self.per_mole(0.0) * leak;
        let each = seep * interval + self.per_mole(0.0) * self.opening(0.0);
        if each <= 0.0 {
            return None;
        }
        let whole = libm::floor(missing / each * (1.0 + COUNT_SLACK));
        let rest = missing - whole * each;
        let (seconds, openings) = if rest <= COUNT_SLACK * missing {
            (whole * interval, whole)
        } else if seep * interval >= rest {
            (whole * interval + rest / seep, whole)
        } else {
            ((whole + 1.0) * interval, whole + 1.0)
        };
        Some(Gone { seconds, openings })
    }

    /// [`gone`](Self::gone) when ink is drawn: interval by interval, of which
    /// there are no more than 1 / [`MIN_DRAW`].
    fn gone_drawn(&self, mut missing: f64, leak: f64, interval: f64) -> Option<Gone> {
        let last = self.last_opening();
        let mut k = 0.0;
        loop {
            let seep = self.per_mole(k) * leak;
            if seep > 0.0 && seep * interval >= missing {
                return Some(Gone {
                    seconds: k * interval + missing / seep,
                    openings: k,
                });
            }
            if k >= last {
                return None;
            }
            missing -= seep * interval + self.per_mole(k + 1.0) * self.opening(k);
            k += 1.0;
            if missing <= 0.0 {
                return Some(Gone {
                    seconds: k * interval,
                    openings: k,
                });
            }
        }
    }
}

/// The part of the duration during which there is ink in the bottle.
struct Stay {
    openings: f64,
    seconds: f64,
    emptied: bool,
}
