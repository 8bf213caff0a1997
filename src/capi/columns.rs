//! Many recipes of the same lots at once.

use super::error::{Failure, FgallError, Outcome};
use super::guard::{Slot, guard, handle, out, out_if_wanted, read_array};
use super::lots::FgallShelf;
use super::status::*;
use crate::quantity::within;
use crate::recipe::{ColumnPlan, RowResult, RowStatus};
use core::marker::PhantomData;
use core::mem::size_of;

/// Rows that are worth a thread, where a row is a dozen sums.
const ROWS_OF_A_THREAD: usize = 4096;
/// Columns of masses, at most.
const MOST_LOTS: usize = 32;

/// A set of lots boiled down for rows of masses.
pub struct FgallColumns {
    pub(super) plan: ColumnPlan,
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

pub(super) fn status_of(row: RowStatus) -> FgallStatus {
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
pub(super) struct Strided {
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
    pub(super) fn for_results<T>(
        first: *mut T,
        stride: isize,
        rows: usize,
        name: &str,
    ) -> Outcome<Strided> {
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
    pub(super) unsafe fn read<T: Copy>(self, row: usize) -> T {
        // SAFETY: as above; no alignment is asked for.
        unsafe { self.at::<T>(row).read_unaligned() }
    }

    /// # Safety
    /// There is room for a `T` at this row, by the caller's promise.
    pub(super) unsafe fn write<T>(self, row: usize, value: T) {
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
            if lot_count > MOST_LOTS {
                let text = format!("= {lot_count}; at most 32");
                let failure = Failure::new(FGALL_TOO_MANY_COLUMNS, "lot_count", &text);
                return Err(failure.with_value(lot_count as f64));
            }
            let indices = read_array(lots, lot_count, MOST_LOTS, "lots")?;
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
            let masses = Masses::read(plan, mass_g, column_count, make_up_ml, row_count)?;
            let results = Results::new(
                row_count,
                (rows, row_stride_bytes),
                (status, status_stride_bytes),
                bad_rows,
            )?;
            results.fill(
                ROWS_OF_A_THREAD,
                || (),
                |(), i| {
                    let (row, went) = plan.row(|lot| masses.mass_g(lot, i), masses.make_up_ml(i));
                    (FgallRow::from(row), status_of(went))
                },
            );
            Ok(())
        })
    }
}

/// What the rows of a column plan are made of.
pub(super) struct Masses {
    mass_g: Vec<Strided>,
    make_up_ml: Option<Strided>,
}

impl Masses {
    /// # Safety
    /// As for the whole room; every column has `rows` numbers.
    pub(super) unsafe fn read(
        plan: &ColumnPlan,
        mass_g: *const FgallColumn,
        column_count: usize,
        make_up_ml: *const FgallColumn,
        rows: usize,
    ) -> Outcome<Masses> {
        let lots = plan.lots() as f64;
        within("column_count", column_count as f64, lots, lots, "")?;
        // SAFETY: as promised by the caller.
        unsafe {
            let mass_g = inputs(mass_g, column_count, MOST_LOTS, rows, "mass_g")?;
            let make_up_ml = if make_up_ml.is_null() {
                None
            } else {
                Some(input(
                    *handle(make_up_ml, "make_up_ml")?,
                    rows,
                    "make_up_ml",
                )?)
            };
            Ok(Masses { mass_g, make_up_ml })
        }
    }

    /// # Safety
    /// The columns are still there, and `row` is below their number of rows.
    pub(super) unsafe fn mass_g(&self, lot: usize, row: usize) -> f64 {
        // SAFETY: as promised by the caller.
        unsafe { self.mass_g[lot].read(row) }
    }

    /// # Safety
    /// As for the masses.
    pub(super) unsafe fn make_up_ml(&self, row: usize) -> f64 {
        // SAFETY: as promised by the caller.
        self.make_up_ml
            .map_or(0.0, |column| unsafe { column.read(row) })
    }
}

/// Room for the figures `R` and the status of every row, and for the number of
/// the bad ones.
pub(super) struct Results<R> {
    count: usize,
    rows: Strided,
    status: Strided,
    bad: Option<Slot<usize>>,
    figures: PhantomData<R>,
}

impl<R> Results<R> {
    /// The pointers come with their strides.
    ///
    /// # Safety
    /// As for the whole room; there is room for `count` rows and statuses, and
    /// they overlap neither each other nor any column, as long as this is used.
    pub(super) unsafe fn new(
        count: usize,
        (rows, row_stride): (*mut R, isize),
        (status, status_stride): (*mut u32, isize),
        bad_rows: *mut usize,
    ) -> Outcome<Results<R>> {
        Ok(Results {
            count,
            rows: Strided::for_results(rows, row_stride, count, "rows")?,
            status: Strided::for_results(status, status_stride, count, "status")?,
            // SAFETY: as promised by the caller.
            bad: unsafe { out_if_wanted(bad_rows, "bad_rows") }?,
            figures: PhantomData,
        })
    }

    /// Works out every row, and counts the bad ones; `tools` makes what a
    /// thread needs for that. So many rows are worth a thread.
    pub(super) fn fill<T>(
        self,
        worth_a_thread: usize,
        tools: impl Fn() -> T + Sync + Send,
        row: impl Fn(&mut T, usize) -> (R, FgallStatus) + Sync + Send,
    ) {
        let (rows, status) = (self.rows, self.status);
        let bad = count_rows(self.count, worth_a_thread, tools, |tools, i| {
            let (figures, went) = row(tools, i);
            // SAFETY: i is below the count there is room for, by the promise
            // to `new`; each row is written by one thread alone.
            unsafe {
                rows.write(i, figures);
                status.write(i, went);
            }
            went != FGALL_OK
        });
        if let Some(slot) = self.bad {
            slot.put(bad);
        }
    }
}

/// Visits every row once and counts those that are bad.
fn count_one_by_one<T>(
    rows: usize,
    tools: impl Fn() -> T,
    is_bad: impl Fn(&mut T, usize) -> bool,
) -> usize {
    let mut tools = tools();
    (0..rows).filter(|&i| is_bad(&mut tools, i)).count()
}

#[cfg(not(feature = "rayon"))]
fn count_rows<T>(
    rows: usize,
    _: usize,
    tools: impl Fn() -> T,
    is_bad: impl Fn(&mut T, usize) -> bool,
) -> usize {
    count_one_by_one(rows, tools, is_bad)
}

/// The same, in any order; few rows are not worth a thread.
#[cfg(feature = "rayon")]
fn count_rows<T>(
    rows: usize,
    worth_a_thread: usize,
    tools: impl Fn() -> T + Sync + Send,
    is_bad: impl Fn(&mut T, usize) -> bool + Sync + Send,
) -> usize {
    use rayon::prelude::*;
    if rows <= worth_a_thread {
        return count_one_by_one(rows, tools, is_bad);
    }
    let rows = (0..rows).into_par_iter().with_min_len(worth_a_thread);
    let bad = rows.map_init(tools, |tools, i| usize::from(is_bad(tools, i)));
    bad.sum()
}

pub(super) fn input(column: FgallColumn, rows: usize, name: &str) -> Outcome<Strided> {
    Strided::new(
        column.data.cast_mut().cast(),
        column.stride_bytes,
        rows,
        name,
    )
}

/// An array of at most so many columns, of so many rows each.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn inputs(
    columns: *const FgallColumn,
    count: usize,
    most: usize,
    rows: usize,
    name: &str,
) -> Outcome<Vec<Strided>> {
    // SAFETY: as promised by the caller.
    let columns = unsafe { read_array(columns, count, most, name) }?;
    columns
        .into_iter()
        .map(|column| input(column, rows, name))
        .collect()
}
