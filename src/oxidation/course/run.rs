//! Through the events from the beginning to the end.

use super::contents::Contents;
use super::event::{Bench, Event};
use super::extrapolation::{Extrapolation, Scale, Step};
use super::kinetics::Kinetics;
use super::system::{A, F2, F3, IN, M, OG, OL, Phase, R, S, State, System, X};
use super::vessel::Vessel;
use crate::oxidation::OxidationError;
use crate::oxidation::constants::YEAR;
use crate::quantity::{MolarConcentration, Share, Time, Volume, within};
use crate::root;
use uom::si::molar_concentration::mole_per_cubic_meter;
use uom::si::time::second;
use uom::si::volume::cubic_meter;

/// Tolerated relative error of a step, unless said otherwise.
const TOLERANCE: f64 = 1e-8;
/// Errors of an amount count relative to it, down to this share of what its
/// kind comes to in the bottle.
const FLOOR: f64 = 1e-4;
/// Rounding of an extrapolated step, relative to what reacts in it.
const ROUNDING: f64 = 1e-13;
/// Part of a step at which a way is looked at that begins on a boundary.
const EARLIEST: f64 = 1e-9;
/// Steps between two events after which a course is given up.
const MOST_STEPS: u64 = 50_000;
/// Steps shorter than this are given up, s.
const LEAST_STEP: f64 = 1e-25;
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
        let mut walk = Walk {
            bench,
            times,
            asked: 0,
            visit,
            now: 0.0,
            watched,
            stepper: Extrapolation::new(),
            tolerance: self.tolerance,
            summary: Summary {
                steps: 0,
                evaluations: 0,
                iron_error: 0.0,
                electron_error: 0.0,
                clipped: 0.0,
                reached: None,
            },
        };
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
        walk.hand_out(last);
        walk.summary.evaluations = walk.stepper.evaluations;
        walk.summary.reached = walk.summary.reached.filter(|t| t.value <= last);
        Ok(walk.summary)
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

impl Bench {
    fn moment(&self, at: f64, state: Option<&State>) -> Moment {
        Moment {
            at: Time::new::<second>(at),
            contents: Contents::of(state.unwrap_or(&self.state)),
            liquid: Volume::new::<cubic_meter>(self.vessel.liquid),
            gas: Volume::new::<cubic_meter>(self.vessel.gas),
        }
    }
}

/// A course under way.
struct Walk<'t, V> {
    bench: Bench,
    times: &'t [Time],
    /// How many times have been handed out.
    asked: usize,
    visit: V,
    now: f64,
    /// Concentration of iron(II) that is waited for, mol/m³.
    watched: Option<f64>,
    stepper: Extrapolation,
    tolerance: f64,
    summary: Summary,
}

impl<V: FnMut(usize, &Moment)> Walk<'_, V> {
    /// Times up to now, in the state of now.
    fn hand_out(&mut self, until: f64) {
        while let Some(time) = self.times.get(self.asked) {
            if time.value > until {
                return;
            }
            let moment = self.bench.moment(time.value, None);
            (self.visit)(self.asked, &moment);
            self.asked += 1;
        }
    }

    /// Whether the watched concentration is reached by now.
    fn look(&mut self) {
        if self.summary.reached.is_none()
            && self
                .watched
                .is_some_and(|c| self.bench.state[F2] <= c * self.bench.vessel.liquid)
        {
            self.summary.reached = Some(Time::new::<second>(self.now));
        }
    }

    /// On to a time at which something happens, or till the last that is asked
    /// for is behind; what is asked for at the very end is handed out later,
    /// after what happens. The steps are those of the way to `end` in any case:
    /// what is asked for must not change them.
    fn until(&mut self, end: f64, last: f64) -> Result<(), OxidationError> {
        if end <= self.now {
            return Ok(());
        }
        let whole = self.bench.vessel.system(&self.bench.kinetics);
        let mut scale = self.scale(&whole);
        let at_start = Balance::of(&whole, &self.bench.state);
        let mut phase = whole.phase(&self.bench.state);
        let mut length = first_length(&whole.in_phase(phase), &self.bench.state, &scale);
        let mut steps = 0;
        while self.now < end.min(last) {
            let system = whole.in_phase(phase);
            if whole.metal > 0.0 {
                scale = scale.or(&self.scale(&whole));
            }
            let left = end - self.now;
            // Two equal steps rather than a long one and a sliver.
            let h = match length {
                l if l >= left => left,
                l if l > 0.5 * left => 0.5 * left,
                l => l,
            };
            // Implicit steps longer than that make nonsense of what grows.
            let h = h.min(0.5 / system.growth(&self.bench.state));
            let y = self.bench.state;
            let least = LEAST_STEP.max(1e-15 * self.now);
            let step = self.stepper.step(&system, &y, &scale, h, least);
            steps += 1;
            let Some(step) = step.filter(|_| steps <= MOST_STEPS) else {
                return Err(OxidationError::Unsolved {
                    at_s: self.now,
                    steps,
                });
            };
            let (step, next_phase) = self.cut_at_boundary(&whole, phase, &y, &scale, step)?;
            self.between(&system, &y, &step, &scale)?;
            if next_phase == phase {
                length = step.next;
            } else {
                phase = next_phase;
                length = first_length(&whole.in_phase(phase), &step.after, &scale);
            }
            self.now = if step.taken >= left {
                end
            } else {
                self.now + step.taken
            };
            let (mended, clipped) = mended(&system, &step.after, &scale);
            self.bench.state = mended;
            self.note_balance(&whole, &at_start, clipped);
        }
        self.summary.steps += steps;
        Ok(())
    }

    /// Cuts a step short where a phase ends.
    fn cut_at_boundary(
        &mut self,
        whole: &System,
        phase: Phase,
        y: &State,
        scale: &Scale,
        step: Step,
    ) -> Result<(Step, Phase), OxidationError> {
        let system = whole.in_phase(phase);
        let mut first = (step.taken, phase);
        // Where nothing is soluble, iron(III) below that is rounding.
        if whole.settle > 0.0 && whole.soluble > 0.0 {
            let sign = if phase.settling { 1.0 } else { -1.0 };
            let margin = |state: &State| sign * (state[F3] - whole.soluble);
            let slack = 1e-13 * (y[F2] + y[F3]);
            if let Some(at) = self.crossing(&system, y, &step, slack, margin) {
                let settling = !phase.settling;
                first = (at, Phase { settling, ..phase });
            }
        }
        // Phenol ends at a time of its own only when oxygen burns it.
        if phase.phenol && whole.burnt_phenol > 0.0 {
            let slack = 1e-13 * y[R];
            if let Some(at) = self.crossing(&system, y, &step, slack, |state| state[R])
                && at < first.0
            {
                let phenol = false;
                first = (at, Phase { phenol, ..phase });
            }
        }
        let (taken, next) = first;
        if next == phase {
            return Ok((step, phase));
        }
        let after = self.inside(&system, y, scale, taken)?;
        Ok((
            Step {
                after,
                taken,
                ..step
            },
            next,
        ))
    }

    /// Time into a step at which a margin is used up, when it is by its end.
    fn crossing(
        &mut self,
        system: &System,
        y: &State,
        step: &Step,
        slack: f64,
        margin: impl Fn(&State) -> f64,
    ) -> Option<f64> {
        let (at_start, at_end) = (margin(y), margin(&step.after));
        if at_end >= -slack {
            return None;
        }
        let mut left = |into: f64| margin(&self.stepper.glance(system, y, into));
        let mut start = (0.0, at_start);
        // On the boundary itself it depends on where the way goes first.
        let mut part = 0.5;
        while start.1 <= 0.0 && part > EARLIEST {
            start = (part * step.taken, left(part * step.taken));
            part *= 0.25;
        }
        if start.1 <= 0.0 || start.1.is_nan() {
            return Some(0.0);
        }
        let at = root::between(&mut left, start, (step.taken, at_end));
        // A NaN is no time either.
        Some(at.max(0.0).min(step.taken))
    }

    /// What is asked for, and what is watched, inside a step.
    fn between(
        &mut self,
        system: &System,
        y: &State,
        step: &Step,
        scale: &Scale,
    ) -> Result<(), OxidationError> {
        while let Some(time) = self.times.get(self.asked) {
            let into = time.value - self.now;
            if into >= step.taken {
                break;
            }
            let state = self.inside(system, y, scale, into)?;
            let moment = self.bench.moment(time.value, Some(&state));
            (self.visit)(self.asked, &moment);
            self.asked += 1;
        }
        let Some(watched) = self.watched.filter(|_| self.summary.reached.is_none()) else {
            return Ok(());
        };
        let watched = watched * self.bench.vessel.liquid;
        let margin = |state: &State| state[F2] - watched;
        if let Some(into) = self.crossing(system, y, step, 0.0, margin) {
            self.summary.reached = Some(Time::new::<second>(self.now + into));
        }
        Ok(())
    }

    /// The state inside a step, by steps of its own: what a long step steps
    /// over it need not have followed. They leave no trace in the course.
    fn inside(
        &mut self,
        system: &System,
        y: &State,
        scale: &Scale,
        into: f64,
    ) -> Result<State, OxidationError> {
        let mut aside = self.stepper;
        let (mut y, mut gone, mut steps) = (mended(system, y, scale).0, 0.0, 0);
        while gone < into {
            let left = into - gone;
            let least = LEAST_STEP.max(1e-15 * into);
            steps += 1;
            let step = aside.step(system, &y, scale, left, least);
            let Some(step) = step.filter(|_| steps <= MOST_STEPS) else {
                let at_s = self.now + gone;
                return Err(OxidationError::Unsolved { at_s, steps });
            };
            gone = if step.taken >= left {
                into
            } else {
                gone + step.taken
            };
            y = mended(system, &step.after, scale).0;
        }
        self.stepper.evaluations = aside.evaluations;
        Ok(y)
    }

    /// What errors of each amount are measured by, beside the amount itself.
    fn scale(&self, whole: &System) -> Scale {
        let y = &self.bench.state;
        let vessel = &self.bench.vessel;
        let iron = y[F2] + y[F3] + y[S];
        let dissolved = vessel.air.dissolved().value * vessel.liquid;
        let gas = vessel.oxygen_of_air(vessel.gas);
        let mut floor = [0.0; super::system::AMOUNTS];
        floor[F2] = FLOOR * iron;
        floor[F3] = FLOOR * iron;
        floor[S] = FLOOR * iron;
        floor[M] = FLOOR * iron;
        // What the iron and the gas turn over is known to its last digits only.
        let rounding = ROUNDING * (iron + y[R] + y[OG].max(gas)) / self.tolerance;
        floor[OL] = (FLOOR * dissolved.max(y[OL])).max(rounding);
        floor[OG] = (FLOOR * gas.max(y[OG]).max(dissolved)).max(rounding);
        floor[IN] = floor[OL].max(FLOOR * iron * whole.oxygen_per_iron);
        floor[R] = FLOOR * y[R].max(iron);
        floor[A] = FLOOR * y[A].max(dissolved);
        floor[X] = FLOOR * iron;
        // An empty bottle has no scale; anything will do.
        Scale {
            tolerance: self.tolerance,
            floor: floor.map(|f| f.max(1e-30)),
        }
    }

    fn note_balance(&mut self, whole: &System, at_start: &Balance, clipped: f64) {
        let now = Balance::of(whole, &self.bench.state);
        let iron = (now.iron - at_start.iron).abs() / now.iron_size.max(f64::MIN_POSITIVE);
        let electrons =
            (now.electrons - at_start.electrons).abs() / now.electron_size.max(f64::MIN_POSITIVE);
        let s = &mut self.summary;
        s.iron_error = s.iron_error.max(iron);
        s.electron_error = s.electron_error.max(electrons);
        s.clipped = s.clipped.max(clipped);
    }
}

/// What no reaction changes, and how much there is of it.
struct Balance {
    iron: f64,
    iron_size: f64,
    electrons: f64,
    electron_size: f64,
}

impl Balance {
    fn of(system: &System, y: &State) -> Balance {
        let iron = y[F2] + y[F3] + y[S];
        Balance {
            iron: System::iron(y),
            iron_size: iron + y[M],
            electrons: system.electrons(y),
            electron_size: y[F2]
                + y[R]
                + y[X]
                + 3.0 * y[M]
                + 4.0 * (system.oxygen_per_scavenger * y[A] + y[OL] + y[OG] + y[IN].abs()),
        }
    }
}

/// A step in which nothing changes by more than a few per cent.
fn first_length(system: &System, y: &State, scale: &Scale) -> f64 {
    let zero = [0.0; super::system::AMOUNTS];
    let change = system.after(&zero, &system.rates(y));
    let mut fastest = 0.0_f64;
    for i in 0..zero.len() {
        fastest = fastest.max(change[i].abs() / (y[i].abs() + scale.floor[i]));
    }
    0.05 / fastest
}

/// The state with what fell below nothing by rounding or tolerated error given
/// back by the reaction that took it, and the largest such amount in floors.
fn mended(system: &System, y: &State, scale: &Scale) -> (State, f64) {
    if y.iter().all(|&amount| amount >= 0.0) {
        return (*y, 0.0);
    }
    let mut clipped = 0.0_f64;
    for i in [F2, F3, S, OL, OG, R, A, X, M] {
        clipped = clipped.max(-y[i] * FLOOR / scale.floor[i]);
    }
    let mut y = *y;
    let give_back = |y: &mut State, reaction: usize, extent: f64| {
        let mut extents = [0.0; super::system::REACTIONS];
        extents[reaction] = -extent;
        *y = system.after(y, &extents);
    };
    use super::system::{DISSOLVE, OX, RED, SCAV, SED};
    if y[A] < 0.0 {
        let missing = y[A];
        give_back(&mut y, SCAV, -missing);
    }
    if y[S] < 0.0 {
        let missing = y[S];
        give_back(&mut y, SED, missing);
    }
    if y[R] < 0.0 && y[F2] > -y[R] {
        let missing = y[R];
        give_back(&mut y, RED, -missing);
    }
    if y[F2] < 0.0 {
        let missing = y[F2];
        give_back(&mut y, OX, -missing);
    }
    if y[OG] < 0.0 {
        let missing = y[OG];
        give_back(&mut y, DISSOLVE, -missing);
    }
    if y[OL] < 0.0 {
        let missing = y[OL];
        let by_iron = -missing / system.oxygen_per_iron;
        if system.headspace && y[OG] > -missing {
            give_back(&mut y, DISSOLVE, missing);
        } else if y[A] > 0.0 && y[F3] < by_iron {
            give_back(&mut y, SCAV, -missing / system.oxygen_per_scavenger);
        } else {
            give_back(&mut y, OX, by_iron);
        }
    }
    if y[F3] < 0.0 {
        let missing = y[F3];
        let from = if y[S] > -missing { SED } else { RED };
        give_back(&mut y, from, -missing);
    }
    for i in [F2, F3, S, OL, OG, R, A, X, M] {
        y[i] = y[i].max(0.0);
    }
    (y, clipped)
}
