//! What happens to a bottle at a moment.

use super::kinetics::Kinetics;
use super::system::{A, F2, F3, IN, OG, OL, R, S, State};
use super::vessel::Vessel;
use crate::oxidation::{Air, Conductance, FirstOrder, OxidationError};
use crate::quantity::{Share, Time, Volume, within};

/// Something done to the bottle.
///
/// One opening is [`Pour`](Act::Pour), then [`Exchange`](Act::Exchange), then
/// [`Shake`](Act::Shake), in this order.
///
/// ```
/// use ferrogall::oxidation::{Act, Event};
/// use ferrogall::quantity::{days, milliliters};
/// let refill = Event { at: days(30.0), act: Act::Pour(milliliters(1.5)) };
/// assert_eq!(refill.at, days(30.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Act {
    /// Ink is taken out and air takes its place; sediment goes with it, as
    /// from a bottle that was stirred.
    Pour(Volume),
    /// A share of the headspace is exchanged for outside air.
    Exchange(Share),
    /// Gas and liquid come to equilibrium.
    Shake,
    /// Ink is added; gas is pushed out by it.
    TopUp(Portion),
    /// Conditions become others: season, cap, open or closed.
    Change(Change),
    /// Sediment is filtered off.
    Filter,
    /// Inert gas replaces a share of the headspace.
    Flush(Share),
    /// Glass beads are put in and push gas out.
    Displace(Volume),
}

/// Ink poured into a bottle: volume and what it holds.
///
/// ```
/// use ferrogall::oxidation::{Contents, Portion};
/// use ferrogall::quantity::{milliliters, millimoles};
/// let fresh = Portion { volume: milliliters(5.0), contents: Contents::iron(millimoles(0.27)) };
/// assert_eq!(fresh.volume, milliliters(5.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portion {
    /// Volume; nothing for a pinch of something dry.
    pub volume: Volume,
    /// What it holds. Oxygen in gas, oxygen come in and iron from metal are
    /// not read.
    pub contents: super::Contents,
}

/// New conditions; what is `None` stays as it was.
///
/// ```
/// use ferrogall::oxidation::{Air, Change};
/// use ferrogall::quantity::{celsius, kilopascals};
/// let winter = Change { air: Some(Air::at(celsius(12.0), kilopascals(101.325))?), ..Change::default() };
/// assert!(winter.open.is_none());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Change {
    /// Air and temperature.
    pub air: Option<Air>,
    /// Rate constants.
    pub kinetics: Option<Kinetics>,
    /// Gas transfer.
    pub transfer: Option<uom::si::f64::VolumeRate>,
    /// Closure.
    pub conductance: Option<Conductance>,
    /// Leaky cap.
    pub breathing: Option<FirstOrder>,
    /// Whether it stands open. A bottle that is closed has fresh air in it.
    pub open: Option<bool>,
}

/// An [`Act`] and its time.
///
/// ```
/// use ferrogall::oxidation::{Act, Event};
/// use ferrogall::quantity::days;
/// assert_eq!(Event { at: days(1.0), act: Act::Shake }.act, Act::Shake);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    /// Time since the beginning.
    pub at: Time,
    /// What is done.
    pub act: Act,
}

/// The bottle as it goes through events: what can change.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bench {
    pub(super) vessel: Vessel,
    pub(super) kinetics: Kinetics,
    pub(super) state: State,
}

/// As much as a vessel may hold.
const MOST_M3: f64 = 1e3;
/// Amounts that go with the liquid. What organics and metal have given is a
/// running total and stays.
const LIQUID: [usize; 6] = [F2, F3, S, OL, R, A];

impl Bench {
    pub(super) fn act(&mut self, act: &Act) -> Result<(), OxidationError> {
        match act {
            Act::Pour(volume) => self.pour(volume.value),
            Act::Exchange(share) => {
                self.exchange(share.value());
                Ok(())
            }
            Act::Shake => {
                self.shake();
                Ok(())
            }
            Act::TopUp(portion) => self.top_up(portion),
            Act::Change(change) => self.change(change),
            Act::Flush(share) => {
                let gone = share.value() * self.state[OG];
                self.state[OG] -= gone;
                self.state[IN] -= gone;
                Ok(())
            }
            Act::Displace(volume) => {
                let room = self.vessel.gas;
                within("volume of beads", volume.value * 1e6, 0.0, room * 1e6, "mL")?;
                self.push_out(volume.value);
                Ok(())
            }
            Act::Filter => {
                self.state[S] = 0.0;
                Ok(())
            }
        }
    }

    fn pour(&mut self, volume: f64) -> Result<(), OxidationError> {
        let most = self.vessel.liquid - self.vessel.least_liquid();
        within("ink poured", volume * 1e6, 0.0, most * 1e6, "mL")?;
        let left = self.vessel.liquid - volume;
        for i in LIQUID {
            self.state[i] *= left / self.vessel.liquid;
        }
        self.vessel.liquid = left;
        self.vessel.gas += volume;
        if !self.vessel.open {
            let air = self.vessel.oxygen_of_air(volume);
            self.state[OG] += air;
            self.state[IN] += air;
        }
        Ok(())
    }

    fn exchange(&mut self, share: f64) {
        if self.vessel.has_headspace() {
            let air = self.vessel.oxygen_of_air(self.vessel.gas);
            let gain = share * (air - self.state[OG]);
            self.state[OG] += gain;
            self.state[IN] += gain;
        }
    }

    fn shake(&mut self) {
        let y = &mut self.state;
        if self.vessel.has_headspace() {
            let all = y[OL] + y[OG];
            let per_gas = self.vessel.dissolved_per_gas() * self.vessel.liquid / self.vessel.gas;
            y[OG] = all / (1.0 + per_gas);
            y[OL] = all - y[OG];
        } else if self.vessel.open {
            let full = self.vessel.air.dissolved().value * self.vessel.liquid;
            y[IN] += full - y[OL];
            y[OL] = full;
        }
    }

    fn top_up(&mut self, portion: &Portion) -> Result<(), OxidationError> {
        let room = if self.vessel.open {
            MOST_M3
        } else {
            self.vessel.gas
        };
        let volume = within(
            "ink added",
            portion.volume.value * 1e6,
            0.0,
            room * 1e6,
            "mL",
        )? / 1e6;
        let added = portion.contents.state()?;
        for i in LIQUID {
            self.state[i] += added[i];
        }
        self.state[IN] += added[OL];
        self.vessel.liquid += volume;
        self.push_out(volume);
        Ok(())
    }

    /// Something takes the place of this volume of gas.
    fn push_out(&mut self, volume: f64) {
        if self.vessel.has_headspace() {
            let pushed = self.state[OG] * (volume / self.vessel.gas);
            self.state[OG] -= pushed;
            self.state[IN] -= pushed;
        }
        self.vessel.gas = (self.vessel.gas - volume).max(0.0);
    }

    fn change(&mut self, change: &Change) -> Result<(), OxidationError> {
        if let Some(air) = change.air {
            self.vessel = self.vessel.in_air(air);
        }
        if let Some(kinetics) = change.kinetics {
            self.kinetics = kinetics;
        }
        if let Some(transfer) = change.transfer {
            self.vessel = self.vessel.transfer(transfer)?;
        }
        if let Some(conductance) = change.conductance {
            self.vessel = self.vessel.conductance(conductance);
        }
        if let Some(breathing) = change.breathing {
            self.vessel = self.vessel.breathing(breathing);
        }
        match change.open {
            Some(true) if !self.vessel.open => {
                self.state[IN] -= self.state[OG];
                self.state[OG] = 0.0;
                self.vessel.open = true;
            }
            Some(false) if self.vessel.open => {
                self.vessel.open = false;
                let air = self.vessel.oxygen_of_air(self.vessel.gas);
                self.state[IN] += air - self.state[OG];
                self.state[OG] = air;
            }
            _ => {}
        }
        Ok(())
    }
}
