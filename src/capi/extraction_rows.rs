//! One plant extracted in many ways.

use super::columns::{FgallColumn, Results, Strided, input};
use super::error::{FgallError, Outcome};
use super::extraction::{FgallExtraction, FgallWash, Poured, washed};
use super::guard::{guard, handle, read_struct};
use super::lots::FgallShelf;
use super::status::{FGALL_OK, FgallStatus};
use crate::extraction::{ExtractionError, Process};
use crate::quantity::{ReadAmount, ReadMolarConcentration, ReadVolume};

/// Rows that are worth a thread, where a row is a thousand draws.
const ROWS_OF_A_THREAD: usize = 4;

/// The figures of one row. All are NaN when the row's status is not FGALL_OK.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallExtractionRow {
    /// Share of what the plant held that is in the last liquor, typically.
    pub share: f64,
    /// Low end of it (95 %).
    pub share_low: f64,
    /// High end of it.
    pub share_high: f64,
    /// Volume of the last liquor, typically.
    pub volume_ml: f64,
    /// Galloyl units in it, typically.
    pub galloyl_mmol: f64,
    /// Galloyl units per volume, typically.
    pub galloyl_mol_per_l: f64,
    /// Low end of it.
    pub galloyl_low_mol_per_l: f64,
    /// High end of it.
    pub galloyl_high_mol_per_l: f64,
}

const NONE: FgallExtractionRow = FgallExtractionRow {
    share: f64::NAN,
    share_low: f64::NAN,
    share_high: f64::NAN,
    volume_ml: f64::NAN,
    galloyl_mmol: f64::NAN,
    galloyl_mol_per_l: f64::NAN,
    galloyl_low_mol_per_l: f64::NAN,
    galloyl_high_mol_per_l: f64::NAN,
};

fn row(
    process: &Process,
    washes: &[FgallWash],
    [liquid_g_per_g, temperature_c, hours]: [f64; 3],
) -> Outcome<FgallExtractionRow> {
    let mut washes = washes.to_vec();
    for wash in &mut washes {
        wash.temperature_c = temperature_c;
        wash.hours = hours;
    }
    let poured = |_: &FgallWash| Poured::PerDry(liquid_g_per_g);
    let liquors = washed(process.clone(), &washes, poured)?.run()?;
    let last = liquors.last();
    Ok(FgallExtractionRow {
        share: last.share.typical.value(),
        share_low: last.share.low.value(),
        share_high: last.share.high.value(),
        volume_ml: last.volume.typical.in_milliliters(),
        galloyl_mmol: last.galloyl.typical.in_millimoles(),
        galloyl_mol_per_l: last.concentration.typical.in_moles_per_liter(),
        galloyl_low_mol_per_l: last.concentration.low.in_moles_per_liter(),
        galloyl_high_mol_per_l: last.concentration.high.in_moles_per_liter(),
    })
}

/// # Safety
/// As for the whole room; the column has `rows` numbers.
unsafe fn column(given: *const FgallColumn, rows: usize, name: &str) -> Outcome<Strided> {
    // SAFETY: as promised by the caller.
    input(unsafe { *handle(given, name)? }, rows, name)
}

/// Extracts a plant lot in many ways. Each row is what `given` says, but every
/// wash of it has the liquid (per gram of dry plant, 1e-6 to 1e6 g/g), the
/// temperature (0 to 100 °C) and the hours of the row; their straining stays.
/// Rows, statuses and bad_rows are as in fgall_columns_evaluate (FGALL_INPUT_NAN,
/// FGALL_OUT_OF_RANGE; FGALL_NO_WATER where boiling down goes too far).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_rows(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    liquid_g_per_g: *const FgallColumn,
    temperature_c: *const FgallColumn,
    hours: *const FgallColumn,
    row_count: usize,
    rows: *mut FgallExtractionRow,
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
            let shelf = handle(shelf, "shelf")?;
            let given = read_struct(given, "given")?;
            let (process, mut washes) = (given.dry(shelf, plant_lot)?, given.washes()?);
            // What is wrong with them in every row is no fault of a row.
            if given.wash_count == 0 {
                return Err(ExtractionError::NoWash.into());
            }
            for wash in &mut washes {
                (wash.temperature_c, wash.hours) = (20.0, 1.0);
            }
            washed(process.clone(), &washes, |_| Poured::PerDry(1.0))?;
            let liquid = column(liquid_g_per_g, row_count, "liquid_g_per_g")?;
            let warmth = column(temperature_c, row_count, "temperature_c")?;
            let times = column(hours, row_count, "hours")?;
            let (rows, status) = ((rows, row_stride_bytes), (status, status_stride_bytes));
            let results = Results::new(row_count, rows, status, bad_rows)?;
            results.fill(
                ROWS_OF_A_THREAD,
                || (),
                |(), i| {
                    let figures = [liquid.read(i), warmth.read(i), times.read(i)];
                    match row(&process, &washes, figures) {
                        Ok(row) => (row, FGALL_OK),
                        Err(failure) => (NONE, failure.status),
                    }
                },
            );
            Ok(())
        })
    }
}
