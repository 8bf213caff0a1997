//! A bottle in use as a course of events.

use crate::oxidation::bottle::Bottle;
use crate::oxidation::constants::YEAR;
use crate::oxidation::{Act, Change, Event, OxidationError};
use crate::quantity::{Share, Time, Volume, within};
use core::f64::consts::PI;
use uom::si::time::second;
use uom::si::volume::cubic_meter;

/// More openings are not followed one by one.
const MOST_OPENINGS: f64 = 100_000.0;
/// Steps in which the temperature follows the season, a year.
const MONTHS: f64 = 12.0;

impl Bottle {
    /// What happens to it while there is ink in it and it is kept: openings
    /// (ink out, air in, gas or beads, a shake) and, with a season, a new
    /// temperature every month. What stands last in [`Bottle::bound`] as
    /// [`openings`](crate::oxidation::OxygenBound::openings) is the number of openings.
    ///
    /// ```
    /// use ferrogall::oxidation::{Act, Bottle};
    /// use ferrogall::quantity::{days, milliliters, moles_per_liter};
    /// let bottle = Bottle::builder(milliliters(40.0), milliliters(30.0), moles_per_liter(0.054))
    ///     .opened_every(days(7.0))
    ///     .drawn_per_opening(milliliters(0.3))
    ///     .build()?;
    /// let events = bottle.events()?;
    /// assert_eq!(events[0].act, Act::Pour(milliliters(0.3)));
    /// assert_eq!(events.len(), 2 * 52); // poured and exchanged, each week
    /// # Ok::<(), ferrogall::oxidation::OxidationError>(())
    /// ```
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for more than a hundred thousand
    /// openings, or a season of more than a hundred years.
    pub fn events(&self) -> Result<Vec<Event>, OxidationError> {
        let mut events = Vec::new();
        self.events_into(&mut events, 0.0)?;
        Ok(events)
    }

    /// The same for a bottle that waits unopened for some seconds first, in
    /// the place of the events that are there.
    pub(super) fn events_into(
        &self,
        events: &mut Vec<Event>,
        waits: f64,
    ) -> Result<(), OxidationError> {
        events.clear();
        let (openings, in_use) = self.in_use();
        let seconds = waits + in_use;
        within("openings to follow", openings, 0.0, MOST_OPENINGS, "")?;
        if self.season > 0.0 {
            within("years of seasons", seconds / YEAR, 0.0, 100.0, "a")?;
        }
        let interval = self.interval.unwrap_or(f64::INFINITY);
        let (mut opening, mut month) = (1.0, 1.0);
        loop {
            let at_opening = if opening <= openings {
                // A last one that rounding puts past the end is at the end.
                (waits + opening * interval).min(seconds)
            } else {
                f64::INFINITY
            };
            let at_month = if self.season > 0.0 {
                month * YEAR / MONTHS
            } else {
                f64::INFINITY
            };
            if at_opening.min(at_month) > seconds {
                return Ok(());
            }
            if at_month <= at_opening {
                let air = self.air_in_month(month);
                let change = Change {
                    air: Some(air),
                    ..Change::default()
                };
                events.push(event(at_month, Act::Change(change)));
                month += 1.0;
            } else {
                self.opening_acts(|act| events.push(event(at_opening, act)));
                opening += 1.0;
            }
        }
    }

    fn opening_acts(&self, mut then: impl FnMut(Act)) {
        let draw = Volume::new::<cubic_meter>(self.draw);
        let share = |value| Share::new(value).unwrap_or(Share::ONE);
        if self.draw > 0.0 {
            then(Act::Pour(draw));
            if self.kept_full {
                then(Act::Displace(draw));
            }
        }
        if self.exchanged > 0.0 {
            then(Act::Exchange(share(self.exchanged)));
        }
        if self.flushed > 0.0 {
            then(Act::Flush(share(self.flushed)));
        }
        if self.shaken {
            then(Act::Shake);
        }
    }

    /// Mean air of a month after filling in spring, counted from 0.
    pub(super) fn air_in_month(&self, month: f64) -> crate::oxidation::Air {
        self.air_at_season(libm::sin(2.0 * PI * (month + 0.5) / MONTHS))
    }
}

fn event(at: f64, act: Act) -> Event {
    Event {
        at: Time::new::<second>(at),
        act,
    }
}
