//! A bottle followed through what happens to it, by rates of the caller's.

use super::columns::{FgallColumn, Strided};
use super::course_events::{FgallContents, FgallEvent};
use super::course_given::{FgallKinetics, FgallVessel};
use super::error::{Blame, FgallError, Outcome};
use super::forecast::Times;
use super::guard::{guard, known_bits, out_struct_if_wanted, read_array, read_struct, versioned};
use super::status::FgallStatus;
use crate::oxidation::{Course, Event, Moment, Summary};
use crate::quantity::{ReadMolarConcentration, ReadTime, ReadVolume, Share, within};
use core::mem::size_of;

/// Bit of FgallCourse.set: tolerance is given.
pub const FGALL_COURSE_TOLERANCE: u32 = 1;
/// Bit of FgallCourse.set: watched_share is given.
pub const FGALL_COURSE_WATCHED: u32 = 2;

/// Events of a course, at most.
const MOST_EVENTS: usize = 1_000_000;

/// A bottle, its ink, its rates, and what happens to it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallCourse {
    /// sizeof(FgallCourse), filled in by the caller.
    pub struct_size: usize,
    /// The bottle.
    pub vessel: *const FgallVessel,
    /// The rates.
    pub kinetics: *const FgallKinetics,
    /// What is in the bottle at the beginning.
    pub contents: FgallContents,
    /// What happens, in the order of the times; those of one time happen in the
    /// order given.
    pub events: *const FgallEvent,
    /// How many events, at most a million.
    pub event_count: usize,
    /// Which of the rest is given: FGALL_COURSE_… bits.
    pub set: u32,
    /// Tolerated relative error of a step, 1e-12 to 1e-3; 1e-8 if not given.
    pub tolerance: f64,
    /// The share of the first iron(II) concentration that is waited for; none if
    /// not given.
    pub watched_share: f64,
}
versioned!(FgallCourse);

/// The bottle at one time; at the time of an event, after it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallMoment {
    /// Time since the beginning, as it was asked for.
    pub at_days: f64,
    /// Liquid in the bottle.
    pub liquid_ml: f64,
    /// Gas in the bottle.
    pub gas_ml: f64,
    /// Concentration of iron(II).
    pub iron_ii_mol_per_l: f64,
    /// Share of the iron, sediment included, that is oxidised; 0 without iron.
    pub oxidised_share: f64,
    /// Amounts.
    pub contents: FgallContents,
}

impl FgallMoment {
    pub(super) fn of(moment: &Moment, at_days: f64) -> FgallMoment {
        FgallMoment {
            at_days,
            liquid_ml: moment.liquid.in_milliliters(),
            gas_ml: moment.gas.in_milliliters(),
            iron_ii_mol_per_l: moment.iron_ii().in_moles_per_liter(),
            oxidised_share: moment.oxidised().value(),
            contents: FgallContents::of(&moment.contents),
        }
    }
}

/// How a course was computed, and how well its balances hold.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallCourseSummary {
    /// sizeof(FgallCourseSummary), filled in by the caller.
    pub struct_size: usize,
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
    /// When the concentration of iron(II) first fell to the watched share; NaN:
    /// not by the last time asked for, or nothing was watched.
    pub reached_days: f64,
}
versioned!(FgallCourseSummary);

impl FgallCourseSummary {
    fn of(summary: &Summary) -> FgallCourseSummary {
        FgallCourseSummary {
            struct_size: size_of::<FgallCourseSummary>(),
            steps: summary.steps,
            evaluations: summary.evaluations,
            iron_error: summary.iron_error,
            electron_error: summary.electron_error,
            clipped: summary.clipped,
            reached_days: summary.reached.map_or(f64::NAN, |t| t.in_days()),
        }
    }
}

/// # Safety
/// As for the whole room.
unsafe fn events_of(given: &[FgallEvent]) -> Outcome<Vec<Event>> {
    // SAFETY: as promised by the caller.
    given.iter().map(|event| unsafe { event.event() }).collect()
}

/// # Safety
/// As for the whole room.
unsafe fn course_of<'e>(given: &FgallCourse, events: &'e [Event]) -> Outcome<Course<'e>> {
    // SAFETY: as promised by the caller.
    let (vessel, kinetics) = unsafe {
        (
            read_struct(given.vessel, "vessel")?,
            read_struct(given.kinetics, "kinetics")?,
        )
    };
    let mut contents = given.contents.contents()?;
    let bottle = vessel.vessel()?;
    if vessel.is_saturated() {
        contents = contents.saturated(&bottle);
    }
    let course = Course::new(bottle, kinetics.kinetics()?, contents).with_events(events)?;
    if given.set & FGALL_COURSE_TOLERANCE == 0 {
        return Ok(course);
    }
    let tolerant = course.with_tolerance(given.tolerance);
    tolerant.arg("tolerance", given.tolerance)
}

/// Follows a bottle: row i goes to `rows`, i times the stride further on, which
/// need not be aligned. `at_days` is a column of row_count times since the
/// beginning (0 to a thousand years, at most 1e5 of them), which must not fall;
/// what a row holds does not depend on the other times. `summary` may be NULL.
/// FGALL_OUT_OF_ORDER for an event or a time before the one before it (the value
/// of the error is the time, of an event in seconds),
/// FGALL_OUT_OF_RANGE for an event that cannot be (more poured than there is),
/// FGALL_NOT_FOLLOWED when the equations could not be followed; rows may have
/// been written by then.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_course(
    course: *const FgallCourse,
    at_days: *const FgallColumn,
    row_count: usize,
    rows: *mut FgallMoment,
    row_stride_bytes: isize,
    summary: *mut FgallCourseSummary,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; the column has
    // row_count numbers, rows has room for as many.
    unsafe {
        guard(error, || {
            let given = read_struct(course, "course")?;
            known_bits(
                given.set,
                FGALL_COURSE_TOLERANCE | FGALL_COURSE_WATCHED,
                "set",
            )?;
            let happens = read_array(given.events, given.event_count, MOST_EVENTS, "events")?;
            let events = events_of(&happens)?;
            let course = course_of(&given, &events)?;
            let slot = out_struct_if_wanted(summary, "summary")?;
            let times = Times::read(at_days, row_count)?;
            let rows = Strided::for_results(rows, row_stride_bytes, row_count, "rows")?;
            let watched = if given.set & FGALL_COURSE_WATCHED != 0 {
                within("watched_share", given.watched_share, 0.0, 1.0, "")?;
                Some(Share::new(given.watched_share)?)
            } else {
                None
            };
            let walked = course.watch(&times.times, watched, |i, moment| {
                rows.write(i, FgallMoment::of(moment, times.at_days(i)));
            });
            let walked = times.blamed(walked)?;
            if let Some(slot) = slot {
                slot.put(FgallCourseSummary::of(&walked));
            }
            Ok(())
        })
    }
}
