//! The upper bound: all oxygen that can have come in, times four.

use super::bottle::Bottle;
use super::constants::{ATM, YEAR};
use crate::chem::constants::IRON;
use crate::quantity::{AmountOfSubstance, MassConcentration, Share, Time, Volume};
use uom::si::amount_of_substance::mole;
use uom::si::mass_concentration::kilogram_per_cubic_meter;
use uom::si::time::second;
use uom::si::volume::cubic_meter;

/// Answers beyond a million years are "never".
const HORIZON_S: f64 = 1e6 * YEAR;
/// Rounding allowed when whole intervals are counted; always to the side of
/// one opening more, the safe side of a bound.
const COUNT_SLACK: f64 = 1e-12;

/// The most iron(II) that oxygen can have taken from a bottle of ink.
///
/// Everything here is an **upper bound**: all oxygen that can have come in is
/// taken to have reacted, four iron(II) to each O₂, with the closure at the
/// high end of its span and no oxygen ever left inside to hold more back. Ink
/// usually keeps better. It is not a shelf life. Not in the bound: a bottle
/// left standing open (count it as openings of their own). With seasons, air
/// counts as on the coldest day, when a volume of it holds the most oxygen.
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
#[non_exhaustive]
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
    /// Oxygen that a leaky cap breathes in within the duration, or until the
    /// bottle is empty.
    pub oxygen_breathing: AmountOfSubstance,
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

/// The part of the duration during which there is ink in the bottle.
struct Stay {
    openings: f64,
    seconds: f64,
    emptied: bool,
}

fn moles(value: f64) -> AmountOfSubstance {
    AmountOfSubstance::new::<mole>(value)
}

fn share(value: f64) -> Share {
    Share::new(value.clamp(0.0, 1.0)).unwrap_or(Share::ONE)
}

impl Bottle {
    /// The upper bound; see [`OxygenBound`] for what it says and what not.
    pub fn bound(&self) -> OxygenBound {
        let headspace = self.filled_gas() * (self.capacity - self.fill);
        let dissolved = self.dissolved() * self.fill;
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
            oxygen_breathing: moles(self.oxygen_of_breathing(openings, seconds)),
            iron_ii: moles(self.iron * self.fill),
            iron_headspace: moles(self.nu * headspace),
            iron_dissolved: moles(self.nu * dissolved),
            iron_first_opening: moles(self.nu * first),
            iron_closure_per_year: moles(self.nu * leak * YEAR),
            iron_per_headspace: MassConcentration::new::<kilogram_per_cubic_meter>(
                self.nu * self.gas() * IRON,
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
        let gone = self.gone(lost.value(), false, Some(1.0))?;
        (gone.openings < 1e15).then_some(gone.openings as u64)
    }

    /// Time until this share of the iron(II) can be gone, by filling, openings
    /// and closure together. `None`: not before the bottle is empty, or not
    /// within a million years.
    pub fn time_to_share(&self, lost: Share) -> Option<Time> {
        let gone = self.gone(lost.value(), true, self.interval)?;
        (gone.seconds <= HORIZON_S).then(|| Time::new::<second>(gone.seconds))
    }

    /// Least fill at which headspace and dissolved oxygen of this bottle can
    /// oxidise no more than this share. `None` when the dissolved oxygen
    /// alone can oxidise more.
    pub fn fill_for_share(&self, lost: Share) -> Option<Volume> {
        let spare = self.spare(lost)?;
        // nu (gas (V - x) + dissolved x) = lost iron x
        let gas = self.filled_gas();
        if gas == 0.0 {
            return Some(Volume::default()); // there is no oxygen in the headspace
        }
        Some(Volume::new::<cubic_meter>(
            self.capacity * (gas / (gas + spare)),
        ))
    }

    /// Capacity of the largest bottle in which headspace and dissolved oxygen
    /// over this fill can oxidise no more than this share. `None` when the
    /// dissolved oxygen alone can oxidise more, or no headspace is too large
    /// because there is no oxygen in it.
    pub fn capacity_for_share(&self, lost: Share) -> Option<Volume> {
        let spare = self.spare(lost)?;
        if self.filled_gas() == 0.0 {
            return None;
        }
        Some(Volume::new::<cubic_meter>(
            self.fill * (1.0 + spare / self.filled_gas()),
        ))
    }

    /// Oxygen that may still come to a volume of ink, beside what it has
    /// dissolved, before more than this share is lost: mol/m³.
    fn spare(&self, lost: Share) -> Option<f64> {
        let spare = lost.value() * self.iron / self.nu - self.dissolved();
        (spare >= 0.0).then_some(spare)
    }

    /// Oxygen in a volume of air let in, mol/m³.
    fn gas(&self) -> f64 {
        self.coldest.gas()
    }

    /// Oxygen in a volume of the headspace after filling, mol/m³.
    fn filled_gas(&self) -> f64 {
        self.gas() * (1.0 - self.flushed)
    }

    /// Oxygen in a volume of ink at filling, mol/m³.
    fn dissolved(&self) -> f64 {
        if self.degassed {
            0.0
        } else {
            self.coldest.dissolved().value
        }
    }

    /// Oxygen through the closure, mol/s, with none inside.
    fn leak(&self) -> f64 {
        let outside = self.coldest.oxygen_pressure().value / ATM;
        self.closure.high.in_mol_per_second_atm() * outside
    }

    /// Headspace after some openings, m³.
    fn headspace(&self, openings: f64) -> f64 {
        if self.kept_full {
            self.capacity - self.fill
        } else {
            self.capacity - self.ink(openings)
        }
    }

    /// Oxygen through closure and leaky cap after some openings, mol/s.
    fn seep(&self, openings: f64) -> f64 {
        self.leak() + self.breathing * self.gas() * self.headspace(openings)
    }

    /// Oxygen that a leaky cap lets in over some openings and seconds, mol.
    fn oxygen_of_breathing(&self, openings: f64, seconds: f64) -> f64 {
        if self.breathing == 0.0 {
            return 0.0;
        }
        // The sum of the headspaces of whole intervals, then the rest.
        let interval = self.interval.unwrap_or(0.0);
        let grown = if self.kept_full { 0.0 } else { self.draw };
        let first = self.headspace(0.0);
        let whole = openings * first + grown * (openings * (openings - 1.0) / 2.0);
        let rest = (seconds - openings * interval).max(0.0);
        let volumes = whole * interval + (first + openings * grown) * rest;
        self.breathing * self.gas() * volumes
    }

    /// Ink left after some openings, m³.
    fn ink(&self, openings: f64) -> f64 {
        self.fill - openings * self.draw
    }

    /// Oxygen let in by the opening that follows `before` others, mol: air in
    /// place of the ink drawn, and an exchanged share of the headspace that
    /// was there.
    fn opening(&self, before: f64) -> f64 {
        let let_in = self.draw + self.exchanged * self.headspace(before);
        self.gas() * (1.0 - self.flushed) * let_in
    }

    /// Sum of [`opening`](Self::opening) over the first `n`.
    fn oxygen_of_openings(&self, n: f64) -> f64 {
        let drawn = if self.kept_full { 0.0 } else { self.draw };
        let grown = drawn * (n * (n - 1.0) / 2.0);
        let headspaces = n * (self.capacity - self.fill) + grown;
        self.gas() * (1.0 - self.flushed) * (n * self.draw + self.exchanged * headspaces)
    }

    /// Share of the iron(II) lost to the air of the filling; may exceed 1.
    fn at_filling(&self) -> f64 {
        let gas = self.filled_gas() * (self.capacity - self.fill) / self.fill;
        self.nu * (gas + self.dissolved()) / self.iron
    }

    /// Share lost by a mole of oxygen after some openings.
    fn per_mole(&self, openings: f64) -> f64 {
        self.nu / (self.iron * self.ink(openings))
    }

    /// Number of openings that leave ink in the bottle.
    pub(super) fn last_opening(&self) -> f64 {
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

    /// Share lost to what seeps in while it stands unopened.
    pub(super) fn lost_unopened(&self, seconds: f64) -> f64 {
        self.per_mole(0.0) * self.seep(0.0) * seconds
    }

    /// Openings, and seconds, during which there is ink in it.
    pub(super) fn in_use(&self) -> (f64, f64) {
        let stay = self.stay();
        (stay.openings, stay.seconds)
    }

    /// Share lost after some openings and seconds; may exceed 1.
    ///
    /// A draw takes oxidised and unoxidised iron alike, so it leaves the share
    /// as it is; what comes in afterwards meets less iron.
    fn lost(&self, openings: f64, seconds: f64) -> f64 {
        if self.draw == 0.0 {
            let oxygen = self.oxygen_of_openings(openings) + self.seep(0.0) * seconds;
            return self.at_filling() + self.per_mole(0.0) * oxygen;
        }
        let interval = self.interval.unwrap_or(0.0);
        let mut lost = self.at_filling();
        let mut k = 0.0;
        while k < openings {
            lost += self.per_mole(k) * self.seep(k) * interval;
            lost += self.per_mole(k + 1.0) * self.opening(k);
            k += 1.0;
        }
        lost + self.per_mole(k) * self.seep(k) * (seconds - k * interval).max(0.0)
    }

    /// When `target` is lost, with openings an interval apart, and with or
    /// without what seeps in between them.
    fn gone(&self, target: f64, seeps: bool, interval: Option<f64>) -> Option<Gone> {
        let missing = target - self.at_filling();
        if missing <= 0.0 {
            return Some(Gone {
                seconds: 0.0,
                openings: 0.0,
            });
        }
        match interval {
            None => {
                let rate = self.seep_share(0.0, seeps);
                (rate > 0.0).then(|| Gone {
                    seconds: missing / rate,
                    openings: 0.0,
                })
            }
            Some(t) if self.draw == 0.0 => self.gone_undrawn(missing, seeps, t),
            Some(t) => self.gone_drawn(missing, seeps, t),
        }
    }

    /// Share lost per second to what seeps in after some openings.
    fn seep_share(&self, openings: f64, seeps: bool) -> f64 {
        if seeps {
            self.per_mole(openings) * self.seep(openings)
        } else {
            0.0
        }
    }

    /// [`gone`](Self::gone) when no ink is drawn: every interval is alike.
    fn gone_undrawn(&self, missing: f64, seeps: bool, interval: f64) -> Option<Gone> {
        let seep = self.seep_share(0.0, seeps);
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
    /// there are no more than 1 / `MIN_DRAW`.
    fn gone_drawn(&self, mut missing: f64, seeps: bool, interval: f64) -> Option<Gone> {
        let last = self.last_opening();
        let mut k = 0.0;
        loop {
            let seep = self.seep_share(k, seeps);
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
