//! A course under way: step by step, from event to event.

use super::contents::Contents;
use super::event::Bench;
use super::extrapolation::{Extrapolation, Scale, Step};
use super::keep::{Balance, first_length, mended, scale_of};
use super::run::{Moment, Summary};
use super::system::{F2, F3, Phase, R, State, System};
use crate::oxidation::OxidationError;
use crate::quantity::{Time, Volume};
use crate::root;
use uom::si::time::second;
use uom::si::volume::cubic_meter;

/// Part of a step at which a way is looked at that begins on a boundary.
const EARLIEST: f64 = 1e-9;
/// Steps between two events after which a course is given up.
const MOST_STEPS: u64 = 50_000;
/// Steps shorter than this are given up, s.
const LEAST_STEP: f64 = 1e-25;

impl Bench {
    pub(super) fn moment(&self, at: f64, state: Option<&State>) -> Moment {
        Moment {
            at: Time::new::<second>(at),
            contents: Contents::of(state.unwrap_or(&self.state)),
            liquid: Volume::new::<cubic_meter>(self.vessel.liquid),
            gas: Volume::new::<cubic_meter>(self.vessel.gas),
        }
    }
}

/// A course under way.
pub(super) struct Walk<'t, V> {
    pub(super) bench: Bench,
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

impl<'t, V: FnMut(usize, &Moment)> Walk<'t, V> {
    pub(super) fn new(
        bench: Bench,
        times: &'t [Time],
        watched: Option<f64>,
        tolerance: f64,
        visit: V,
    ) -> Self {
        Walk {
            bench,
            times,
            asked: 0,
            visit,
            now: 0.0,
            watched,
            stepper: Extrapolation::new(),
            tolerance,
            summary: Summary {
                steps: 0,
                evaluations: 0,
                iron_error: 0.0,
                electron_error: 0.0,
                clipped: 0.0,
                reached: None,
            },
        }
    }

    /// Hands out what is left, up to the last time that is asked for.
    pub(super) fn end(mut self, last: f64) -> Summary {
        self.hand_out(last);
        self.summary.evaluations = self.stepper.evaluations;
        self.summary.reached = self.summary.reached.filter(|t| t.value <= last);
        self.summary
    }

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
    pub(super) fn look(&mut self) {
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
    pub(super) fn until(&mut self, end: f64, last: f64) -> Result<(), OxidationError> {
        if end <= self.now {
            return Ok(());
        }
        let whole = self.bench.vessel.system(&self.bench.kinetics);
        let mut scale = scale_of(&self.bench, &whole, self.tolerance);
        let at_start = Balance::of(&whole, &self.bench.state);
        let mut phase = whole.phase(&self.bench.state);
        let mut length = first_length(&whole.in_phase(phase), &self.bench.state, &scale);
        let mut steps = 0;
        while self.now < end.min(last) {
            let system = whole.in_phase(phase);
            if whole.metal > 0.0 {
                scale = scale.or(&scale_of(&self.bench, &whole, self.tolerance));
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
