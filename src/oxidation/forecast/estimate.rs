//! Bound, estimate with its interval, and floor.

use super::draw::Draw;
use super::ink::StoredInk;
use super::run::{Outcome, World, events_into};
use crate::oxidation::bottle::Bottle;
use crate::oxidation::bound::OxygenBound;
use crate::oxidation::{Event, OxidationError};
use crate::quantile::ends_of_95_percent;
use crate::quantity::{MolarConcentration, Share, Time, within};
use uom::si::molar_concentration::mole_per_cubic_meter;
use uom::si::time::second;

/// Draws of an interval unless said otherwise.
const DRAWS: u32 = 199;
/// More draws say nothing more.
const MOST_DRAWS: u32 = 1_000_000;

/// Where 95 % of the draws lie.
///
/// ```
/// use ferrogall::oxidation::Spread;
/// let months = Spread { low: 3.0, high: 30.0 };
/// assert!(months.low < months.high);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread<T> {
    /// Low end.
    pub low: T,
    /// High end.
    pub high: T,
}

/// What the kinetic model of the bottle says: an order of magnitude.
///
/// `typical` is the world in which every unknown has its typical value; the
/// spreads hold 95 % of the worlds that what is known allows. No rate of
/// iron(II) with tannin and oxygen was ever published at the pH of ink, so
/// they are wide until you fit your own ([`fit`](crate::oxidation::fit)).
///
/// ```
/// use ferrogall::oxidation::{Forecast, StoredInk};
/// use ferrogall::quantity::{milliliters, moles_per_liter};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink.bottle(milliliters(40.0), milliliters(30.0)).build()?;
/// let estimate = Forecast::of(&ink, &bottle)?.estimate;
/// assert!(estimate.lost.low <= estimate.lost.high);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Estimate {
    /// Every unknown at its typical value.
    pub typical: Outcome,
    /// Share of the iron(II) lost.
    pub lost: Spread<Share>,
    /// Time until the stated share is lost; `None` is later than all times.
    pub time_to_share: Spread<Option<Time>>,
    /// Iron still in solution as a share of that at filling.
    pub iron_left: Spread<Share>,
    /// Iron that settles.
    pub sediment: Spread<MolarConcentration>,
    /// Worlds drawn.
    pub draws: u32,
}

/// The three figures of a bottle, always together.
///
/// | figure | says |
/// |---|---|
/// | `bound` | all oxygen that can have come in, four iron to each: the reliable one |
/// | `estimate` | the bottle model with what is known of its rates, and an interval |
/// | `floor` | the inorganic reaction alone, as if tannin did nothing |
///
/// The floor is no lower limit: tannin may reduce more iron(III) back than the
/// inorganic reaction makes. In the typical world it reduces none, and the
/// three stand in order.
///
/// ```
/// use ferrogall::oxidation::{Forecast, StoredInk};
/// use ferrogall::quantity::{days, milliliters, moles_per_liter};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink
///     .bottle(milliliters(40.0), milliliters(30.0))
///     .opened_every(days(7.0))
///     .drawn_per_opening(milliliters(0.3))
///     .build()?;
/// let forecast = Forecast::of(&ink, &bottle)?;
/// let (bound, floor) = (forecast.bound.share_after_duration, forecast.floor.lost);
/// assert!(floor < forecast.estimate.typical.lost && forecast.estimate.lost.high <= bound);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Forecast {
    /// No kinetics: see [`OxygenBound`].
    pub bound: OxygenBound,
    /// The bottle model.
    pub estimate: Estimate,
    /// The slow inorganic reaction alone.
    pub floor: Outcome,
    /// What this was reckoned for.
    pub assumed: (StoredInk, Bottle),
}

impl Forecast {
    /// With 199 draws for the interval.
    ///
    /// # Errors
    /// As [`Forecaster::forecast`].
    pub fn of(ink: &StoredInk, bottle: &Bottle) -> Result<Forecast, OxidationError> {
        Forecaster::new(ink, bottle)?.forecast(DRAWS)
    }
}

/// The loss of iron(II) at one time.
///
/// ```
/// use ferrogall::oxidation::{Forecaster, StoredInk};
/// use ferrogall::quantity::{days, milliliters, moles_per_liter};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink.bottle(milliliters(40.0), milliliters(30.0)).build()?;
/// let curve = Forecaster::new(&ink, &bottle)?.curve(&[days(7.0), days(30.0)], 51)?;
/// assert!(curve[1].typical.lost >= curve[0].typical.lost);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurvePoint {
    /// Time since filling.
    pub at: Time,
    /// Upper bound of the share lost.
    pub bound: Share,
    /// Every unknown at its typical value.
    pub typical: Outcome,
    /// Share lost, by 95 % of the draws.
    pub lost: Spread<Share>,
    /// Share lost to the inorganic reaction alone.
    pub floor: Share,
}

/// A bottle of an ink, and what happens to it, ready to be asked.
///
/// ```
/// use ferrogall::oxidation::{Forecaster, StoredInk};
/// use ferrogall::quantity::{milliliters, moles_per_liter};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink.bottle(milliliters(40.0), milliliters(30.0)).build()?;
/// let forecaster = Forecaster::new(&ink, &bottle)?;
/// assert!(forecaster.floor()?.lost < forecaster.typical()?.lost);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone)]
pub struct Forecaster {
    ink: StoredInk,
    bottle: Bottle,
    events: Vec<Event>,
    /// Seconds for which it stands unopened first.
    waits: f64,
}

impl Forecaster {
    /// This ink in this bottle; the bottle's iron(II) is that of the ink, and
    /// its bound counts four iron to an O₂ whatever the bottle says.
    ///
    /// # Errors
    /// As [`Bottle::events`].
    pub fn new(ink: &StoredInk, bottle: &Bottle) -> Result<Self, OxidationError> {
        Forecaster::waiting(ink, bottle, 0.0)
    }

    /// A bottle that stands unopened for some seconds before it is used.
    pub(super) fn waiting(
        ink: &StoredInk,
        bottle: &Bottle,
        waits: f64,
    ) -> Result<Self, OxidationError> {
        let mut forecaster = Forecaster {
            ink: *ink,
            bottle: *bottle,
            events: Vec::new(),
            waits,
        };
        forecaster.refill(ink, bottle)?;
        Ok(forecaster)
    }

    /// Another ink in another bottle, in the same memory.
    pub(super) fn refill(
        &mut self,
        ink: &StoredInk,
        bottle: &Bottle,
    ) -> Result<(), OxidationError> {
        self.ink = *ink;
        self.bottle = bottle.holding(ink.iron_ii());
        events_into(&mut self.events, ink, &self.bottle, self.waits)
    }

    /// What has become of the ink in the end in one world.
    pub(super) fn end_of(&self, draw: Draw) -> Result<Outcome, OxidationError> {
        self.world(draw)?.follow(&[self.end()], |_, _| ())
    }

    /// The bottle, with the iron(II) of the ink.
    pub(super) fn bottle(&self) -> &Bottle {
        &self.bottle
    }

    /// Upper bound of the share lost so many seconds after it was first used.
    pub(super) fn bound_at(&self, used: f64) -> f64 {
        let until = self.bottle.kept_until(Time::new::<second>(used));
        let while_used = until.bound().share_after_duration.value();
        (while_used + self.bottle.lost_unopened(self.waits)).min(1.0)
    }

    /// What has become of the ink at some times, every unknown at its typical
    /// value; after the bottle is empty, of its last ink.
    ///
    /// # Errors
    /// As [`Forecaster::forecast`], and times that fall.
    pub fn outcomes(&self, times: &[Time]) -> Result<Vec<Outcome>, OxidationError> {
        self.world(Draw::Typical)?
            .outcomes(&self.while_in_use(times))
    }

    /// Share of the iron(II) lost in the end in each draw.
    pub(super) fn losses(&self, draws: u32) -> Result<Vec<f64>, OxidationError> {
        let end = [self.end()];
        self.each(checked_draws(draws)?, |world| {
            Ok(world.follow(&end, |_, _| ())?.lost.value())
        })
    }

    /// The three figures, with so many draws (1 to a million) for the interval.
    /// On all cores with the feature `rayon`; the same bits as on one.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for another number of draws, or rates
    /// beyond their range; [`OxidationError::Unsolved`].
    pub fn forecast(&self, draws: u32) -> Result<Forecast, OxidationError> {
        let draws = checked_draws(draws)?;
        let end = [self.end()];
        let worlds = self.each(draws, |world| world.follow(&end, |_, _| ()))?;
        let column = |of: &dyn Fn(&Outcome) -> f64| spread(worlds.iter().map(of).collect());
        let shares = |s: Spread<f64>| -> Result<Spread<Share>, OxidationError> {
            Ok(Spread {
                low: Share::new(s.low)?,
                high: Share::new(s.high)?,
            })
        };
        let time = |seconds: f64| seconds.is_finite().then(|| Time::new::<second>(seconds));
        let reached = column(&|o| o.time_to_share.map_or(f64::INFINITY, |t| t.value));
        let sediment = column(&|o| o.sediment.value);
        let molar = MolarConcentration::new::<mole_per_cubic_meter>;
        Ok(Forecast {
            bound: self.bottle.bound(),
            estimate: Estimate {
                typical: self.typical()?,
                lost: shares(column(&|o| o.lost.value()))?,
                time_to_share: Spread {
                    low: time(reached.low),
                    high: time(reached.high),
                },
                iron_left: shares(column(&|o| o.iron_left.value()))?,
                sediment: Spread {
                    low: molar(sediment.low),
                    high: molar(sediment.high),
                },
                draws,
            },
            floor: self.floor()?,
            assumed: (self.ink, self.bottle),
        })
    }

    /// What becomes of the ink when every unknown has its typical value.
    ///
    /// # Errors
    /// As [`Forecaster::forecast`].
    pub fn typical(&self) -> Result<Outcome, OxidationError> {
        self.end_of(Draw::Typical)
    }

    /// What the inorganic reaction alone makes of it.
    ///
    /// # Errors
    /// As [`Forecaster::forecast`].
    pub fn floor(&self) -> Result<Outcome, OxidationError> {
        World::inorganic(&self.ink, &self.bottle, &self.events)?.follow(&[self.end()], |_, _| ())
    }

    /// The bottle itself at some times, every unknown at its typical value.
    ///
    /// # Errors
    /// As [`Forecaster::forecast`], and times that fall.
    pub fn moments(&self, times: &[Time]) -> Result<Vec<crate::oxidation::Moment>, OxidationError> {
        let times = self.while_in_use(times);
        let mut moments = Vec::with_capacity(times.len());
        self.world(Draw::Typical)?
            .follow(&times, |_, moment| moments.push(*moment))?;
        Ok(moments)
    }

    /// Loss against time, with the interval of so many draws. Times after the
    /// bottle is empty are those of its last ink.
    ///
    /// # Errors
    /// As [`Forecaster::forecast`], and times that fall.
    pub fn curve(&self, times: &[Time], draws: u32) -> Result<Vec<CurvePoint>, OxidationError> {
        let draws = checked_draws(draws)?;
        let used = self.while_in_use(times);
        let typical = self.world(Draw::Typical)?.outcomes(&used)?;
        let inorganic = World::inorganic(&self.ink, &self.bottle, &self.events)?;
        let floor = inorganic.outcomes(&used)?;
        let drawn = self.each(draws, |world| world.outcomes(&used))?;
        let points = times.iter().enumerate().map(|(i, &at)| {
            let spread = spread(drawn.iter().map(|o| o[i].lost.value()).collect());
            Ok(CurvePoint {
                at,
                bound: self.bottle.kept_until(used[i]).bound().share_after_duration,
                typical: typical[i],
                lost: Spread {
                    low: Share::new(spread.low)?,
                    high: Share::new(spread.high)?,
                },
                floor: floor[i].lost,
            })
        });
        points.collect()
    }

    /// When the bottle is no longer kept, or empty.
    fn end(&self) -> Time {
        Time::new::<second>(self.waits + self.bottle.in_use().1)
    }

    fn while_in_use(&self, times: &[Time]) -> Vec<Time> {
        let end = self.end();
        let cut = |&t: &Time| if t > end { end } else { t };
        times.iter().map(cut).collect()
    }

    pub(super) fn world(&self, draw: Draw) -> Result<World<'_>, OxidationError> {
        World::of(&self.ink, &self.bottle, &self.events, draw)
    }

    /// Something of every draw, in their order.
    pub(super) fn each<T: Send>(
        &self,
        draws: u32,
        ask: impl Fn(World<'_>) -> Result<T, OxidationError> + Sync,
    ) -> Result<Vec<T>, OxidationError> {
        let one = |n| ask(self.world(Draw::Nth(n))?);
        #[cfg(feature = "rayon")]
        {
            use rayon::prelude::*;
            (0..draws).into_par_iter().map(one).collect()
        }
        #[cfg(not(feature = "rayon"))]
        (0..draws).map(one).collect()
    }
}

fn checked_draws(draws: u32) -> Result<u32, OxidationError> {
    let most = f64::from(MOST_DRAWS);
    within("number of draws", f64::from(draws), 1.0, most, "")?;
    Ok(draws)
}

/// Where 95 % of the values lie.
pub(super) fn spread(mut values: Vec<f64>) -> Spread<f64> {
    spread_of(&mut values)
}

/// The same of values that are sorted in place; NaN when there are none.
pub(super) fn spread_of(values: &mut [f64]) -> Spread<f64> {
    let (low, high) = ends_of_95_percent(values);
    Spread { low, high }
}
