//! How many inks keep in many bottles.

use super::columns::{FgallColumn, Results, inputs, status_of};
use super::error::{FgallError, Outcome};
use super::guard::{foreign, guard, read_array, read_struct};
use super::keeping::FgallKeeping;
use super::status::{FGALL_NOT_FOLLOWED, FgallStatus};
use super::stored_ink::FgallStoredInk;
use crate::oxidation::{ForecastColumns, ForecastRow, Varied};
use crate::recipe::RowStatus;

/// Varied: iron(II) at filling, mol/L.
pub const FGALL_VARIED_IRON_II: u32 = 0;
/// Varied: iron(III) at filling, mol/L.
pub const FGALL_VARIED_IRON_III: u32 = 1;
/// Varied: galloyl units, mol/L.
pub const FGALL_VARIED_GALLOYL: u32 = 2;
/// Varied: pH.
pub const FGALL_VARIED_PH: u32 = 3;
/// Varied: brimful capacity, mL.
pub const FGALL_VARIED_CAPACITY: u32 = 4;
/// Varied: ink at filling, mL.
pub const FGALL_VARIED_FILL: u32 = 5;
/// Varied: temperature of ink and air, °C.
pub const FGALL_VARIED_TEMPERATURE: u32 = 6;
/// Varied: time between openings, days.
pub const FGALL_VARIED_OPENED_EVERY: u32 = 7;
/// Varied: ink drawn at each opening, mL.
pub const FGALL_VARIED_DRAWN: u32 = 8;
/// Varied: how long it is kept, days.
pub const FGALL_VARIED_KEPT: u32 = 9;

/// Rows that are worth a thread, where a row is a bottle followed to its end.
const ROWS_OF_A_THREAD: usize = 4;

/// The figures of one bottle; shares are of what there was at filling. All are
/// NaN when the row's status is not FGALL_OK.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallForecastRow {
    /// Upper bound of the share lost.
    pub bound_share: f64,
    /// Share lost, every unknown at its typical value.
    pub lost_share: f64,
    /// Low end of it (95 % of the draws); NaN without draws.
    pub lost_low_share: f64,
    /// High end of it; NaN without draws.
    pub lost_high_share: f64,
    /// Share lost to the inorganic reaction alone.
    pub floor_share: f64,
    /// Days until the stated share is lost, typically; NaN: not while it is kept
    /// and there is ink.
    pub days_to_share: f64,
    /// Iron still in solution, typically.
    pub iron_left_share: f64,
    /// Iron settled, typically.
    pub sediment_mol_per_l: f64,
    /// Share of the electrons left that tannin could give, typically.
    pub tannin_left_share: f64,
}

impl From<ForecastRow> for FgallForecastRow {
    fn from(r: ForecastRow) -> FgallForecastRow {
        FgallForecastRow {
            bound_share: r.bound_share,
            lost_share: r.lost_share,
            lost_low_share: r.lost_low_share,
            lost_high_share: r.lost_high_share,
            floor_share: r.floor_share,
            days_to_share: r.days_to_share,
            iron_left_share: r.iron_left_share,
            sediment_mol_per_l: r.sediment_mol_per_l,
            tannin_left_share: r.tannin_left_share,
        }
    }
}

fn varied_of(number: u32) -> Outcome<Varied> {
    let found = Varied::ALL.into_iter().find(|&v| v as u32 == number);
    found.ok_or_else(|| foreign(number, "varied"))
}

/// Works out many bottles. Each is the ink and the bottle given, which must make
/// sense by themselves, but for the figures that `varied` names (FGALL_VARIED_…):
/// those come from column_count columns in `values`, at most ten. draws: 0 (no
/// ends) to a million for each row. Rows, statuses and bad_rows are as in
/// fgall_columns_evaluate (FGALL_INPUT_NAN, FGALL_OUT_OF_RANGE, FGALL_NOT_FOLLOWED
/// in the status of a bad row). Nothing is allocated for a row but room for the
/// openings of the one that has the most.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_forecast_rows(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    draws: u32,
    varied: *const u32,
    values: *const FgallColumn,
    column_count: usize,
    row_count: usize,
    rows: *mut FgallForecastRow,
    row_stride_bytes: isize,
    status: *mut u32,
    status_stride_bytes: isize,
    bad_rows: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; every column
    // has row_count numbers, rows and status have room for as many.
    unsafe {
        guard(error, || {
            let ink = read_struct(ink, "ink")?.ink()?;
            let keeping = read_struct(keeping, "keeping")?;
            let most = Varied::ALL.len();
            let numbers = read_array(varied, column_count, most, "varied")?;
            let varied: Outcome<Vec<_>> = numbers.into_iter().map(varied_of).collect();
            let varied = varied?;
            let values = inputs(values, column_count, most, row_count, "values")?;
            let (rows, status) = ((rows, row_stride_bytes), (status, status_stride_bytes));
            let results = Results::new(row_count, rows, status, bad_rows)?;
            let plan = ForecastColumns::new(&ink, keeping.builder(&ink)?, draws);
            let plan = keeping.blamed(plan)?;
            results.fill(
                ROWS_OF_A_THREAD,
                || plan.scratch(),
                |scratch, i| {
                    let (row, went) = plan.row(scratch, &varied, |column| values[column].read(i));
                    (row.into(), followed(went))
                },
            );
            Ok(())
        })
    }
}

fn followed(went: RowStatus) -> FgallStatus {
    match went {
        RowStatus::NotSolved => FGALL_NOT_FOLLOWED,
        other => status_of(other),
    }
}
