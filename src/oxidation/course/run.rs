//! Through the events from the beginning to the end.

use super::contents::Contents;
use super::event::{Bench, Event};
use super::kinetics::Kinetics;
use super::system::{F2, OG};
use super::vessel::Vessel;
use super::walk::Walk;
use crate::oxidation::OxidationError;
use crate::oxidation::constants::YEAR;
use crate::quantity::{MolarConcentration, Share, Time, Volume, within};
use uom::si::molar_concentration::mole_per_cubic_meter;

/// Tolerated relative error of a step, unless said otherwise.
const TOLERANCE: f64 = 1e-8;
/// After all times that can be asked for, s.
const FOREVER: f64 = 2000.0 * YEAR;

/// A bottle, its ink, and what happens to it.
///
/// ```
/// use ferrogall::oxidation::{Act, Air, Contents, Course, Event, Kinetics, SecondOrder, Vessel};
/// use ferrogall::quantity::{days, milliliters, millimoles, ReadAmount, Share};
/// let bottle = Vessel::closed(milliliters(30.0), milliliters(10.0), Air::standard())?;
/// let fast = Kinetics::builder().oxidation(SecondOrder::l_per_mol_s(0.05)?).build()?;
/// let ink = Contents::iron(millimoles(1.6186)).saturated(&bottle);
/// let weekly = [Event { at: days(7.0), act: Act::Exchange(Share::percent(30.0)?) }];
///
/// let course = Course::new(bottle, fast, ink).with_events(&weekly)?;
/// let [week, month] = course.at([days(7.0), days(30.0)])?;
/// assert!(month.contents.iron_ii < week.contents.iron_ii);
/// // Less than four iron to each oxygen of the filling and of the opening.
/// let most = 4.0 * (0.0907 + 0.0249);
/// let lost = month.contents.iron_iii.in_millimoles();
/// assert!(lost > 0.9 * most && lost < most);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Course<'a> {
    vessel: Vessel,
    kinetics: Kinetics,
    contents: Contents,
    events: &'a [Event],
    tolerance: f64,
}

/// The bottle at one time; at the time of an event, after it.
///
/// ```
/// use ferrogall::oxidation::{Air, Contents, Course, Kinetics, Vessel};
/// use ferrogall::quantity::{days, milliliters, millimoles};
/// let bottle = Vessel::closed(milliliters(30.0), milliliters(10.0), Air::standard())?;
/// let inert = Kinetics::builder().build()?;
/// let [later] = Course::new(bottle, inert, Contents::iron(millimoles(1.6))).at([days(365.0)])?;
/// assert_eq!(later.contents.iron_ii, millimoles(1.6));
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Time since the beginning.
    pub at: Time,
    /// Amounts.
    pub contents: Contents,
    /// Liquid in the bottle.
    pub liquid: Volume,
    /// Gas in the bottle.
    pub gas: Volume,
}

impl Moment {
    /// Concentration of iron(II).
    pub fn iron_ii(&self) -> MolarConcentration {
        MolarConcentration::new::<mole_per_cubic_meter>(
            self.contents.iron_ii.value / self.liquid.value,
        )
    }

    /// Share of the iron, sediment included, that is oxidised; nothing when
    /// there is none.
    pub fn oxidised(&self) -> Share {
        let c = &self.contents;
        let ferric = c.iron_iii.value + c.sediment.value;
        let all = c.iron_ii.value + ferric;
        let share = if all > 0.0 { ferric / all } else { 0.0 };
        Share::new(share.clamp(0.0, 1.0)).unwrap_or(Share::ZERO)
    }
}

/// How a course was computed, and how well its balances hold.
///
/// ```
/// use ferrogall::oxidation::{Air, Contents, Course, Kinetics, SecondOrder, Vessel};
/// use ferrogall::quantity::{days, milliliters, millimoles};
/// let bottle = Vessel::closed(milliliters(30.0), milliliters(10.0), Air::standard())?;
/// let k = Kinetics::builder().oxidation(SecondOrder::l_per_mol_s(5.0)?).build()?;
/// let ink = Contents::iron(millimoles(1.6)).saturated(&bottle);
/// let summary = Course::new(bottle, k, ink).walk(&[days(365.0)], |_, _| ())?;
/// assert!(summary.iron_error < 1e-12 && summary.electron_error < 1e-12);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// Steps taken.
    pub steps: u64,
    /// Evaluations of the rates.
    pub evaluations: u64,
    /// Largest error of the iron balance, relative to the iron.
    pub iron_error: f64,
    /// Largest error of the electron balance, relative to the electrons in it.
    pub electron_error: f64,
    /// Largest amount taken for nothing because it came out below nothing,
    /// relative to what its kind comes to.
    pub clipped: f64,
    /// When the concentration of iron(II) first fell to the watched share.
    pub reached: Option<Time>,
}

impl<'a> Course<'a> {
    /// A bottle to which nothing happens.
    pub fn new(vessel: Vessel, kinetics: Kinetics, contents: Contents) -> Self {
        Course {
            vessel,
            kinetics,
            contents,
            events: &[],
            tolerance: TOLERANCE,
        }
    }

    /// With these events, in the order of their times; those of one time
    /// happen in the order given.
    ///
    /// # Errors
    /// [`OxidationError::EventsOutOfOrder`] when one is before its
    /// predecessor; a time below 0 or above a thousand years.
    pub fn with_events(self, events: &'a [Event]) -> Result<Self, OxidationError> {
        let mut before = 0.0;
        for (index, event) in events.iter().enumerate() {
            let at = checked_time("time of an event", event.at)?;
            if at < before {
                return Err(OxidationError::EventsOutOfOrder { index, at_s: at });
            }
            before = at;
        }
        Ok(Course { events, ..self })
    }

    /// Tolerated relative error of a step, 1e-12 to 1e-3; default 1e-8.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn with_tolerance(self, tolerance: f64) -> Result<Self, OxidationError> {
        let tolerance = within("tolerance", tolerance, 1e-12, 1e-3, "")?;
        Ok(Course { tolerance, ..self })
    }

    /// The bottle at some times, which must not fall.
    ///
    /// # Errors
    /// As [`Course::walk`].
    pub fn at<const N: usize>(&self, times: [Time; N]) -> Result<[Moment; N], OxidationError> {
        let mut moments = [self.moment()?; N];
        self.walk(&times, |i, moment| moments[i] = *moment)?;
        Ok(moments)
    }

    /// Hands the bottle at each of these times, which must not fall, to
    /// `visit`, with the index of the time. What it hands out does not depend
    /// on which other times are asked for. Nothing is allocated.
    ///
    /// # Errors
    /// [`OxidationError::TimesOutOfOrder`]; an amount, a volume or an event
    /// out of its range; [`OxidationError::Unsolved`] when the equations
    /// cannot be followed within fifty thousand steps.
    pub fn walk(
        &self,
        times: &[Time],
        visit: impl FnMut(usize, &Moment),
    ) -> Result<Summary, OxidationError> {
        self.watch(times, None, visit)
    }

    /// As [`walk`](Self::walk), and tells when the concentration of iron(II)
    /// first falls to a share of what it was, up to the last of the times.
    ///
    /// # Errors
    /// As [`Course::walk`].
    pub fn watch(
        &self,
        times: &[Time],
        iron_ii_left: Option<Share>,
        visit: impl FnMut(usize, &Moment),
    ) -> Result<Summary, OxidationError> {
        let mut before = 0.0;
        for (index, &time) in times.iter().enumerate() {
            let at = checked_time("time asked for", time)?;
            if at < before {
                return Err(OxidationError::TimesOutOfOrder { index, at_s: at });
            }
            before = at;
        }
        let bench = self.bench()?;
        let watched = iron_ii_left.map(|s| s.value() * bench.state[F2] / bench.vessel.liquid);
        let mut walk = Walk::new(bench, times, watched, self.tolerance, visit);
        let last = before;
        let mut next = FOREVER;
        for event in self.events {
            if event.at.value > last {
                next = event.at.value;
                break;
            }
            walk.until(event.at.value, last)?;
            walk.bench.act(&event.act)?;
            walk.look();
        }
        walk.until(next, last)?;
        Ok(walk.end(last))
    }

    fn bench(&self) -> Result<Bench, OxidationError> {
        let mut state = self.contents.state()?;
        if !self.vessel.has_headspace() {
            state[OG] = 0.0;
        }
        Ok(Bench {
            vessel: self.vessel,
            kinetics: self.kinetics,
            state,
        })
    }

    fn moment(&self) -> Result<Moment, OxidationError> {
        Ok(self.bench()?.moment(0.0, None))
    }
}

fn checked_time(what: &'static str, time: Time) -> Result<f64, OxidationError> {
    Ok(within(what, time.value, 0.0, 1000.0 * YEAR, "s")?)
}
