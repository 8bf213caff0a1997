//! Titrations of many samples at once.

use super::assay::reading;
use super::columns::{FgallColumn, Results, input};
use super::error::{Failure, FgallError, Outcome};
use super::guard::{guard, handle, read_struct};
use super::status::{FGALL_EITHER_OR, FGALL_OK, FgallStatus};
use super::titration::{FGALL_TITRATION_DROPS, FGALL_TITRATION_TITRES, FgallTitration, weighed};
use crate::assay::RedoxTitration;
use crate::quantity::{ReadAmount, milliliters};

/// Rows that are worth a thread, where a row is a budget.
const ROWS_OF_A_THREAD: usize = 256;

/// The figures of one sample. All are NaN when the row's status is not FGALL_OK,
/// the shares also where no masses are given.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallTitrationRow {
    /// Iron(II) in the whole sample.
    pub iron_mmol: f64,
    /// Its standard uncertainty.
    pub iron_u_mmol: f64,
    /// Iron(II) as a share of the sample's mass.
    pub iron_share: f64,
    /// Its standard uncertainty.
    pub iron_share_u: f64,
}

const NONE: FgallTitrationRow = FgallTitrationRow {
    iron_mmol: f64::NAN,
    iron_u_mmol: f64::NAN,
    iron_share: f64::NAN,
    iron_share_u: f64::NAN,
};

fn row(
    made: &RedoxTitration,
    volume: (f64, f64),
    sample: Option<(f64, f64)>,
) -> Outcome<FgallTitrationRow> {
    let (volume, u) = (("volume_ml", volume.0), ("volume_u_ml", volume.1));
    let made = made
        .clone()
        .with_delivered(reading(milliliters, volume, u, 1e6)?);
    let iron = made.iron()?;
    let mut row = FgallTitrationRow {
        iron_mmol: iron.value().in_millimoles(),
        iron_u_mmol: iron.u().in_millimoles(),
        ..NONE
    };
    if let Some((g, u_g)) = sample {
        let share = made.mass_fraction(&weighed(g, u_g)?)?;
        (row.iron_share, row.iron_share_u) = (share.value(), share.u());
    }
    Ok(row)
}

/// Works out titrations of many samples with one titrant. Each is what `titration`
/// says, without titres and drops, but its volume_ml comes from the column
/// `volume_ml` and its mass from the column `sample_g`, which may be NULL; the
/// uncertainties volume_u_ml of `titration` and sample_u_g are those of every row.
/// Rows, statuses and bad_rows are as in fgall_columns_evaluate (FGALL_INPUT_NAN,
/// FGALL_OUT_OF_RANGE); a kind of sample that is refused is so for all of them.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_titration_rows(
    titration: *const FgallTitration,
    volume_ml: *const FgallColumn,
    sample_g: *const FgallColumn,
    sample_u_g: f64,
    row_count: usize,
    rows: *mut FgallTitrationRow,
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
            let mut given = read_struct(titration, "titration")?;
            if given.set & (FGALL_TITRATION_TITRES | FGALL_TITRATION_DROPS) != 0 {
                let text = "excludes titres and drops";
                return Err(Failure::new(FGALL_EITHER_OR, "volume_ml", text));
            }
            // A volume that no blank exceeds: what is wrong beside it is no fault
            // of a row.
            given.volume_ml = 1e6;
            let made = given.titration()?;
            given.about(made.iron())?;
            let volume = input(*handle(volume_ml, "volume_ml")?, row_count, "volume_ml")?;
            let sample = if sample_g.is_null() {
                None
            } else {
                weighed(1.0, sample_u_g)?;
                Some(input(
                    *handle(sample_g, "sample_g")?,
                    row_count,
                    "sample_g",
                )?)
            };
            let (rows, status) = ((rows, row_stride_bytes), (status, status_stride_bytes));
            let results = Results::new(row_count, rows, status, bad_rows)?;
            let u_ml = given.volume_u_ml;
            results.fill(
                ROWS_OF_A_THREAD,
                || (),
                |(), i| {
                    let sample = sample.map(|column| (column.read(i), sample_u_g));
                    match row(&made, (volume.read(i), u_ml), sample) {
                        Ok(row) => (row, FGALL_OK),
                        Err(failure) => (NONE, failure.status),
                    }
                },
            );
            Ok(())
        })
    }
}
