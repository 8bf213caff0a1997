//! How an ink keeps: bound, estimate with its interval, and floor.

use super::columns::{FgallColumn, Strided, input};
use super::course::FgallMoment;
use super::error::{Failure, FgallError, Outcome};
use super::guard::{guard, out_struct, versioned};
use super::keeping::{FgallKeeping, kept};
use super::status::FgallStatus;
use super::stored_ink::FgallStoredInk;
use crate::oxidation::{CurvePoint, Forecast, Forecaster, OxidationError};
use crate::quantity::{
    ReadMolarConcentration, ReadTime, Share, Time, days, moles_per_liter, within,
};
use core::mem::size_of;

/// Times that are asked for in one call, at most.
const MOST_TIMES: f64 = 1e5;
/// Times and draws together: what is kept of each until the end.
const MOST_POINTS: f64 = 1e6;
/// A thousand years.
const MOST_DAYS: f64 = 365_250.0;

/// What has become of an ink. Shares are of what there was at filling.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallOutcome {
    /// Share of the iron(II) concentration that is gone.
    pub lost_share: f64,
    /// Days until the stated share was gone; NaN: not while the bottle is kept
    /// and holds ink, or not asked.
    pub days_to_share: f64,
    /// Openings until then, a whole number; NaN as above.
    pub openings_to_share: f64,
    /// Iron still in solution: the strength that is left.
    pub iron_left_share: f64,
    /// Iron that has settled, in a volume of ink.
    pub sediment_mol_per_l: f64,
    /// Iron(III) in solution: it makes the ink dark in the bottle.
    pub iron_iii_mol_per_l: f64,
    /// Share of the electrons left that tannin and gallic acid could give.
    pub tannin_left_share: f64,
}

impl FgallOutcome {
    pub(super) fn of(o: &crate::oxidation::Outcome) -> FgallOutcome {
        FgallOutcome {
            lost_share: o.lost.value(),
            days_to_share: o.time_to_share.map_or(f64::NAN, |t| t.in_days()),
            openings_to_share: o.openings_to_share.map_or(f64::NAN, |n| n as f64),
            iron_left_share: o.iron_left.value(),
            sediment_mol_per_l: o.sediment.in_moles_per_liter(),
            iron_iii_mol_per_l: o.iron_iii.in_moles_per_liter(),
            tannin_left_share: o.tannin_left.value(),
        }
    }

    /// An outcome the caller hands back; when its share was reached is not read.
    pub(super) fn outcome(&self) -> Outcome<crate::oxidation::Outcome> {
        let share = |name: &'static str, x: f64| within(name, x, 0.0, 1.0, "").and_then(Share::new);
        let molar =
            |name: &'static str, x: f64| within(name, x, 0.0, 100.0, "mol/L").map(moles_per_liter);
        Ok(crate::oxidation::Outcome {
            lost: share("lost_share", self.lost_share)?,
            time_to_share: None,
            openings_to_share: None,
            iron_left: share("iron_left_share", self.iron_left_share)?,
            sediment: molar("sediment_mol_per_l", self.sediment_mol_per_l)?,
            iron_iii: molar("iron_iii_mol_per_l", self.iron_iii_mol_per_l)?,
            tannin_left: share("tannin_left_share", self.tannin_left_share)?,
        })
    }
}

/// The three figures of a bottle, always together. The bound is the reliable
/// one: all oxygen that can have come in, four iron to each. The estimate is an
/// order of magnitude: `typical` has every unknown at its typical value, low
/// and high hold 95 % of what is thought possible, and are wide until you fit
/// your own rate (fgall_fit). The floor is the inorganic reaction alone. None of
/// them promises that an ink keeps.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallForecast {
    /// sizeof(FgallForecast), filled in by the caller.
    pub struct_size: usize,
    /// Upper bound of the share lost. All of it: fgall_keeping_bound.
    pub bound_share: f64,
    /// Upper bound of the share lost to the air of the filling alone.
    pub bound_after_filling_share: f64,
    /// Days before which the stated share cannot be gone; NaN: not before the
    /// bottle is empty, or not within a million years.
    pub bound_days_to_share: f64,
    /// The estimate, every unknown at its typical value.
    pub typical: FgallOutcome,
    /// Low end of the share lost.
    pub lost_low_share: f64,
    /// High end of the share lost.
    pub lost_high_share: f64,
    /// Low end of the time until the stated share is lost; NaN: later than the
    /// ink is kept.
    pub days_to_share_low: f64,
    /// High end of it; NaN: later than the ink is kept.
    pub days_to_share_high: f64,
    /// Low end of the iron still in solution.
    pub iron_left_low_share: f64,
    /// High end of the iron still in solution.
    pub iron_left_high_share: f64,
    /// Low end of the iron that has settled.
    pub sediment_low_mol_per_l: f64,
    /// High end of the iron that has settled.
    pub sediment_high_mol_per_l: f64,
    /// The inorganic reaction alone.
    pub floor: FgallOutcome,
    /// Draws behind the ends.
    pub draws: u32,
}
versioned!(FgallForecast);

impl FgallForecast {
    fn of(forecast: &Forecast) -> FgallForecast {
        let (bound, estimate) = (&forecast.bound, &forecast.estimate);
        let time = |t: Option<Time>| t.map_or(f64::NAN, |t| t.in_days());
        FgallForecast {
            struct_size: size_of::<FgallForecast>(),
            bound_share: bound.share_after_duration.value(),
            bound_after_filling_share: bound.share_after_filling.value(),
            bound_days_to_share: time(bound.time_to_share),
            typical: FgallOutcome::of(&estimate.typical),
            lost_low_share: estimate.lost.low.value(),
            lost_high_share: estimate.lost.high.value(),
            days_to_share_low: time(estimate.time_to_share.low),
            days_to_share_high: time(estimate.time_to_share.high),
            iron_left_low_share: estimate.iron_left.low.value(),
            iron_left_high_share: estimate.iron_left.high.value(),
            sediment_low_mol_per_l: estimate.sediment.low.in_moles_per_liter(),
            sediment_high_mol_per_l: estimate.sediment.high.in_moles_per_liter(),
            floor: FgallOutcome::of(&forecast.floor),
            draws: estimate.draws,
        }
    }
}

/// How an ink keeps in a bottle, with so many draws for the ends of the
/// intervals: 1 to a million, 199 are enough. FGALL_NOT_FOLLOWED when the
/// equations of the bottle could not be followed. A library built with the
/// feature "rayon" shares the draws out among threads; the bits are the same.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_forecast(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    draws: u32,
    forecast: *mut FgallForecast,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let kept = kept(ink, keeping)?;
            let slot = out_struct(forecast, "forecast")?;
            let draws = drawn(draws, 1)?;
            let found = Forecaster::new(&kept.ink, &kept.bottle)?.forecast(draws)?;
            slot.put(FgallForecast::of(&found));
            Ok(())
        })
    }
}

/// A number of draws, and of times for each.
pub(super) fn drawn(draws: u32, times: usize) -> Outcome<u32> {
    within("draws", f64::from(draws), 1.0, MOST_POINTS, "")?;
    let points = f64::from(draws) * times as f64;
    within("row_count times draws", points, 0.0, MOST_POINTS, "")?;
    Ok(draws)
}

/// Times over the border, in days since filling.
pub(super) struct Times {
    days: Vec<f64>,
    pub(super) times: Vec<Time>,
}

impl Times {
    /// # Safety
    /// As for the whole room; the column has `count` numbers.
    pub(super) unsafe fn read(at_days: *const FgallColumn, count: usize) -> Outcome<Times> {
        within("row_count", count as f64, 0.0, MOST_TIMES, "")?;
        // SAFETY: as promised by the caller.
        let column =
            unsafe { input(*super::guard::handle(at_days, "at_days")?, count, "at_days") }?;
        let days_of = |row| {
            // SAFETY: as promised by the caller.
            let day: f64 = unsafe { column.read(row) };
            within("at_days", day, 0.0, MOST_DAYS, "d")
        };
        let given: Result<Vec<f64>, _> = (0..count).map(days_of).collect();
        let given = given?;
        Ok(Times {
            times: given.iter().map(|&day| days(day)).collect(),
            days: given,
        })
    }

    /// Time of a row, as it was given.
    pub(super) fn at_days(&self, row: usize) -> f64 {
        self.days.get(row).copied().unwrap_or(f64::NAN)
    }

    /// Says which time came too late.
    pub(super) fn blamed<T>(&self, result: Result<T, OxidationError>) -> Outcome<T> {
        result.map_err(|e| {
            let index = match e {
                OxidationError::TimesOutOfOrder { index, .. } => Some(index),
                _ => None,
            };
            let mut failure = Failure::from(e);
            if let Some(index) = index {
                failure.argument = "at_days".to_string();
                failure.value = self.at_days(index);
            }
            failure
        })
    }
}

/// The loss of iron(II) at one time.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallCurvePoint {
    /// Time since filling, as it was asked for.
    pub at_days: f64,
    /// Upper bound of the share lost.
    pub bound_share: f64,
    /// Low end of the share lost (95 %).
    pub lost_low_share: f64,
    /// High end of it.
    pub lost_high_share: f64,
    /// Share lost to the inorganic reaction alone.
    pub floor_share: f64,
    /// The estimate, every unknown at its typical value; when the stated share
    /// was reached is not asked here.
    pub typical: FgallOutcome,
}

impl FgallCurvePoint {
    fn of(point: &CurvePoint, at_days: f64) -> FgallCurvePoint {
        FgallCurvePoint {
            at_days,
            bound_share: point.bound.value(),
            lost_low_share: point.lost.low.value(),
            lost_high_share: point.lost.high.value(),
            floor_share: point.floor.value(),
            typical: FgallOutcome::of(&point.typical),
        }
    }
}

/// Loss against time: row i goes to `rows`, i times the stride further on, which
/// need not be aligned. `at_days` is a column of row_count times since filling
/// (0 to a thousand years, at most 1e5 of them), which must not fall; after the
/// bottle is empty or no longer kept, they are those of its last ink. draws: 1 to
/// a million, row_count times draws at most a million.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_forecast_curve(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    draws: u32,
    at_days: *const FgallColumn,
    row_count: usize,
    rows: *mut FgallCurvePoint,
    row_stride_bytes: isize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; the column has
    // row_count numbers, rows has room for as many.
    unsafe {
        guard(error, || {
            let kept = kept(ink, keeping)?;
            let times = Times::read(at_days, row_count)?;
            let rows = Strided::for_results(rows, row_stride_bytes, row_count, "rows")?;
            let draws = drawn(draws, row_count)?;
            let forecaster = Forecaster::new(&kept.ink, &kept.bottle)?;
            let points = times.blamed(forecaster.curve(&times.times, draws))?;
            for (i, point) in points.iter().enumerate().take(row_count) {
                rows.write(i, FgallCurvePoint::of(point, times.at_days(i)));
            }
            Ok(())
        })
    }
}

/// The bottle itself at some times, every unknown at its typical value: rows and
/// times as in fgall_forecast_curve.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_forecast_moments(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    at_days: *const FgallColumn,
    row_count: usize,
    rows: *mut FgallMoment,
    row_stride_bytes: isize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; the column has
    // row_count numbers, rows has room for as many.
    unsafe {
        guard(error, || {
            let kept = kept(ink, keeping)?;
            let times = Times::read(at_days, row_count)?;
            let rows = Strided::for_results(rows, row_stride_bytes, row_count, "rows")?;
            let forecaster = Forecaster::new(&kept.ink, &kept.bottle)?;
            let moments = times.blamed(forecaster.moments(&times.times))?;
            for (i, moment) in moments.iter().enumerate().take(row_count) {
                rows.write(i, FgallMoment::of(moment, times.at_days(i)));
            }
            Ok(())
        })
    }
}
