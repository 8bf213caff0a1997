//! Many recipes of the same lots at once.

use super::error::{Failure, FgallError, Outcome};
use super::guard::{guard, handle, out, out_if_wanted, read_array};
use super::lots::FgallShelf;
use super::status::*;
use crate::quantity::within;
use crate::recipe::{ColumnPlan, RowResult, RowStatus};
use core::mem::size_of;

/// A set of lots boiled down for rows of masses.
pub struct FgallColumns {
    plan: ColumnPlan,
}

/// A column of numbers: the first, and the way from one to the next in bytes
/// (8 for a plain array of double, 0 for one number in every row, negative to
/// walk backwards). The numbers need not be aligned.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallColumn {
    /// The first number.
    pub data: *const f64,
    /// Bytes from one number to the next.
    pub stride_bytes: isize,
}

/// The figures of one row. All are NaN when the row's status is not FGALL_OK,
/// and iron_per_galloyl is when there is no tannin.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallRow {
    /// Volume at 20 °C.
    pub volume_ml: f64,
    /// Mass.
    pub mass_g: f64,
    /// Water added to make up to volume.
    pub make_up_g: f64,
    /// Iron(II).
    pub iron_ii_mol_per_l: f64,
    /// Iron(III).
    pub iron_iii_mol_per_l: f64,
    /// Metallic iron.
    pub iron_g_per_l: f64,
    /// Galloyl units, free gallic acid included.
    pub galloyl_mol_per_l: f64,
    /// Free gallic acid.
    pub gallic_acid_mol_per_l: f64,
    /// mol of iron per mol of galloyl units.
    pub iron_per_galloyl: f64,
    /// Strong acid; negative: excess of base.
    pub strong_acid_mol_per_l: f64,
    /// Dry gum.
    pub gum_g_per_l: f64,
    /// Dye.
    pub dye_g_per_l: f64,
    /// Preservative, as the acid or phenol that acts.
    pub preservative_g_per_l: f64,
    /// Dry residue.
    pub dry_residue_g_per_l: f64,
    /// Cost of the priced lots.
    pub cost: f64,
}

impl From<RowResult> for FgallRow {
    fn from(r: RowResult) -> FgallRow {
        FgallRow {
            volume_ml: r.volume_ml,
            mass_g: r.mass_g,
            make_up_g: r.make_up_g,
            iron_ii_mol_per_l: r.iron_ii_mol_per_l,
            iron_iii_mol_per_l: r.iron_iii_mol_per_l,
            iron_g_per_l: r.iron_g_per_l,
            galloyl_mol_per_l: r.galloyl_mol_per_l,
            gallic_acid_mol_per_l: r.gallic_acid_mol_per_l,
            iron_per_galloyl: r.iron_per_galloyl,
            strong_acid_mol_per_l: r.strong_acid_mol_per_l,
            gum_g_per_l: r.gum_g_per_l,
            dye_g_per_l: r.dye_g_per_l,
            preservative_g_per_l: r.preservative_g_per_l,
            dry_residue_g_per_l: r.dry_residue_g_per_l,
            cost: r.cost,
        }
    }
}

fn status_of(row: RowStatus) -> FgallStatus {
    match row {
        RowStatus::Ok => FGALL_OK,
        RowStatus::InputNan => FGALL_INPUT_NAN,
        RowStatus::OutOfRange => FGALL_OUT_OF_RANGE,
        RowStatus::TooMuchForVolume => FGALL_TOO_MUCH_FOR_VOLUME,
        RowStatus::Empty => FGALL_EMPTY,
        RowStatus::NotSolved => FGALL_NOT_SOLVED,
    }
}

/// Places at equal distances in the caller's memory.
#[derive(Clone, Copy)]
struct Strided {
    first: *mut u8,
    stride: isize,
}

// SAFETY: only an address and a distance. What is there is used by `read` and
// `write`, whose callers promise that it is there, that no two rows of results
// overlap, and that nobody writes to a column meanwhile: each row is worked out
// by one thread alone.
unsafe impl Send for Strided {}
// SAFETY: as above.
unsafe impl Sync for Strided {}

impl Strided {
    /// Checks that `rows` places of `size` bytes can exist.
    fn new(first: *mut u8, stride: isize, rows: usize, name: &str) -> Outcome<Strided> {
        if first.is_null() {
            return Err(Failure::new(FGALL_NULL_POINTER, name, "is NULL"));
        }
        let span = (rows as u128).saturating_mul(stride.unsigned_abs() as u128);
        if span > isize::MAX as u128 {
            let text = format!("with stride {stride} cannot have {rows} rows");
            return Err(Failure::new(FGALL_OUT_OF_RANGE, name, &text).with_value(rows as f64));
        }
        Ok(Strided { first, stride })
    }

    /// The same for results, which must not lie on top of each other.
    fn for_results<T>(first: *mut T, stride: isize, rows: usize, name: &str) -> Outcome<Strided> {
        if rows > 1 && stride.unsigned_abs() < size_of::<T>() {
            let text = format!(
                "has a stride of {stride} bytes, less than {}",
                size_of::<T>()
            );
            return Err(Failure::new(FGALL_OUT_OF_RANGE, name, &text).with_value(stride as f64));
        }
        Strided::new(first.cast(), stride, rows, name)
    }

    fn at<T>(self, row: usize) -> *mut T {
        // The span was checked, so the product is exact for every row asked for.
        let offset = (row as isize).wrapping_mul(self.stride);
        self.first.wrapping_offset(offset).cast()
    }

    /// # Safety
    /// There is a `T` at this row, by the caller's promise.
    unsafe fn read<T: Copy>(self, row: usize) -> T {
        // SAFETY: as above; no alignment is asked for.
        unsafe { self.at::<T>(row).read_unaligned() }
    }

    /// # Safety
    /// There is room for a `T` at this row, by the caller's promise.
    unsafe fn write<T>(self, row: usize, value: T) {
        // SAFETY: as above; no alignment is asked for.
        unsafe { self.at::<T>(row).write_unaligned(value) }
    }
}

/// Boils lots of the shelf down for rows of masses: 32 lots at most, none of
/// them plant matter, and the water to make up with. It lives on when the
/// shelf is freed; fgall_columns_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_columns_new(
    shelf: *const FgallShelf,
    lots: *const usize,
    lot_count: usize,
    water_lot: usize,
    columns: *mut *mut FgallColumns,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle(shelf, "shelf")?;
            let slot = out(columns, "columns")?;
            if lot_count > 32 {
                let text = format!("= {lot_count}; at most 32");
                let failure = Failure::new(FGALL_TOO_MANY_COLUMNS, "lot_count", &text);
                return Err(failure.with_value(lot_count as f64));
            }
            let indices = read_array(lots, lot_count, 32, "lots")?;
            let chosen: Result<Vec<_>, _> = indices.iter().map(|&i| shelf.lot(i, "lots")).collect();
            let plan = ColumnPlan::new(&chosen?, shelf.lot(water_lot, "water_lot")?)?;
            slot.put(Box::into_raw(Box::new(FgallColumns { plan })));
            Ok(())
        })
    }
}

/// Frees a column plan; NULL does nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_columns_free(columns: *mut FgallColumns) {
    if !columns.is_null() {
        // SAFETY: from fgall_columns_new and not freed, by the caller's promise.
        drop(unsafe { Box::from_raw(columns) });
    }
}

/// Works out many rows. `mass_g` is an array of column_count columns of grams,
/// one for each lot of the plan, in its order. `make_up_ml` is a column of the
/// volumes to make up to, 0 for none; NULL: none in any row. Row i goes to
/// `rows` and its status to `status`, i times their strides further on, which
/// need not be aligned but must overlap neither each other nor the columns. A bad row does not stop the others
/// (FGALL_INPUT_NAN, FGALL_OUT_OF_RANGE, FGALL_TOO_MUCH_FOR_VOLUME,
/// FGALL_EMPTY in its status) nor make the call fail; `bad_rows` counts them
/// and may be NULL. Nothing is allocated for a row. A library built with the
/// feature "rayon" shares many rows out among threads of its own, which it keeps;
/// the bits are the same.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_columns_evaluate(
    columns: *const FgallColumns,
    mass_g: *const FgallColumn,
    column_count: usize,
    make_up_ml: *const FgallColumn,
    row_count: usize,
    rows: *mut FgallRow,
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
            let plan = &handle(columns, "columns")?.plan;
            let lots = plan.lots() as f64;
            within("column_count", column_count as f64, lots, lots, "")?;
            let bad = out_if_wanted(bad_rows, "bad_rows")?;
            let mut masses = Vec::with_capacity(column_count);
            for column in read_array(mass_g, column_count, 32, "mass_g")? {
                masses.push(input(column, row_count, "mass_g")?);
            }
            let make_up = if make_up_ml.is_null() {
                None
            } else {
                let column = handle(make_up_ml, "make_up_ml")?;
                Some(input(*column, row_count, "make_up_ml")?)
            };
            let rows = Strided::for_results(rows, row_stride_bytes, row_count, "rows")?;
            let status = Strided::for_results(status, status_stride_bytes, row_count, "status")?;
            let count = count_rows(row_count, |i| {
                let to = make_up.map_or(0.0, |column| column.read::<f64>(i));
                let (row, went) = plan.row(|lot| masses[lot].read::<f64>(i), to);
                rows.write(i, FgallRow::from(row));
                status.write(i, status_of(went));
                went != RowStatus::Ok
            });
            if let Some(slot) = bad {
                slot.put(count);
            }
            Ok(())
        })
    }
}

/// Visits every row once and counts those that are bad.
fn count_one_by_one(rows: usize, is_bad: impl Fn(usize) -> bool) -> usize {
    (0..rows).filter(|&i| is_bad(i)).count()
}

#[cfg(not(feature = "rayon"))]
use count_one_by_one as count_rows;

/// The same, in any order; few rows are not worth a thread.
#[cfg(feature = "rayon")]
fn count_rows(rows: usize, is_bad: impl Fn(usize) -> bool + Sync + Send) -> usize {
    use rayon::prelude::*;
    const ROWS_OF_A_THREAD: usize = 4096;
    if rows <= ROWS_OF_A_THREAD {
        return count_one_by_one(rows, is_bad);
    }
    let rows = (0..rows).into_par_iter().with_min_len(ROWS_OF_A_THREAD);
    rows.filter(|&i| is_bad(i)).count()
}

fn input(column: FgallColumn, rows: usize, name: &str) -> Outcome<Strided> {
    Strided::new(
        column.data.cast_mut().cast(),
        column.stride_bytes,
        rows,
        name,
    )
}
