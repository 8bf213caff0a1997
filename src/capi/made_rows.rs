//! Many inks from one cupboard at once.

use super::blend::{objective_of, or_nan};
use super::columns::{FgallColumn, Results, Strided, inputs};
use super::cupboard::{FgallCupboard, Laid};
use super::error::{Failure, FgallError, Outcome};
use super::guard::{guard, handle, read_array, read_struct};
use super::lots::FgallShelf;
use super::status::{FGALL_INPUT_NAN, FGALL_OK, FgallStatus};
use super::study_answers::finite;
use super::study_draws::FgallOutColumn;
use super::wanted::{Asked, FgallWanted, Place, place_of};
use crate::formulate::{Blend, Objective};
use crate::quantity::{ReadMass, ReadVolume};
use core::ffi::c_char;

/// Rows that are worth a thread, where a row is a linear programme or several.
const ROWS_OF_A_THREAD: usize = 4;
/// Columns of what is varied, at most: every end, both volumes, cost, assurance.
const MOST_VARIED: usize = 28;

/// The figures of one ink, all of them NaN when the row's status is not FGALL_OK.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallMadeRow {
    /// What it costs; NaN when nothing in it has a price.
    pub cost: f64,
    /// Marc with what it holds, and what is left in packs that were bought.
    pub waste_g: f64,
    /// Lots to weigh or measure.
    pub weighings: f64,
    /// How many of the figures that were wanted are not met; 0: all are.
    pub missed: f64,
    /// Size of the farthest miss of a figure, as in FgallFigure.
    pub worst_miss: f64,
    /// Its volume.
    pub volume_ml: f64,
}

impl FgallMadeRow {
    const NONE: FgallMadeRow = FgallMadeRow {
        cost: f64::NAN,
        waste_g: f64::NAN,
        weighings: f64::NAN,
        missed: f64::NAN,
        worst_miss: f64::NAN,
        volume_ml: f64::NAN,
    };

    fn of(blend: &Blend) -> FgallMadeRow {
        let misses = blend.missed().map(|figure| figure.miss.abs());
        FgallMadeRow {
            cost: or_nan(blend.cost),
            waste_g: finite(blend.waste.in_grams()),
            weighings: blend.weighings as f64,
            missed: blend.missed().count() as f64,
            worst_miss: finite(misses.fold(0.0, f64::max)),
            volume_ml: finite(blend.volume.in_milliliters()),
        }
    }
}

/// What every row is made from.
struct Plan {
    laid: Laid,
    asked: Asked,
    varied: Vec<Place>,
    values: Vec<Strided>,
    objective: Objective,
}

impl Plan {
    /// # Safety
    /// The columns are still there, and `row` is below their number of rows.
    unsafe fn row(&self, row: usize) -> Outcome<Blend> {
        let mut asked = self.asked;
        for (place, column) in self.varied.iter().zip(&self.values) {
            // SAFETY: as promised by the caller.
            let x = unsafe { column.read::<f64>(row) };
            if x.is_nan() {
                return Err(Failure::new(FGALL_INPUT_NAN, "values", "is NaN"));
            }
            asked.put(*place, x);
        }
        Ok(self.laid.shelf.make(&asked.wanted()?, self.objective)?)
    }
}

/// Makes many inks, as fgall_shelf_make_new makes one, each from the whole
/// cupboard: what one row takes is there for the next. Each is what `wanted` says,
/// which must make sense by itself, but for what `varied` names: that comes from
/// column_count columns in `values`, at most 28. A window's FGALL_WANTED_… is
/// exactly so much; with FGALL_WANTED_LOW or FGALL_WANTED_HIGH added it is that
/// end, the other one being that of `wanted`. FGALL_WANTED_VOLUME,
/// FGALL_WANTED_MOST_VOLUME, FGALL_WANTED_COST and FGALL_WANTED_ASSURANCE stand by
/// themselves.
///
/// `mass_g` is NULL, or a column for each lot of the cupboard, in its order, for
/// what is taken of it: 0 for one that is not, NaN in a bad row. Rows, statuses
/// and bad_rows are as in fgall_columns_evaluate (FGALL_INPUT_NAN,
/// FGALL_OUT_OF_RANGE, FGALL_NO_OPTIMUM and what else fgall_shelf_make_new
/// answers in the status of a bad row). A library built with the feature "rayon"
/// shares the rows out among threads; the bits are the same.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_make_rows(
    shelf: *const FgallShelf,
    cupboard: *const FgallCupboard,
    wanted: *const FgallWanted,
    objective: u32,
    criterion: *const c_char,
    varied: *const u32,
    values: *const FgallColumn,
    column_count: usize,
    mass_g: *const FgallOutColumn,
    row_count: usize,
    rows: *mut FgallMadeRow,
    row_stride_bytes: isize,
    status: *mut u32,
    status_stride_bytes: isize,
    bad_rows: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; every column
    // has row_count numbers, rows, statuses and masses have room for as many.
    unsafe {
        guard(error, || {
            let shelf = handle(shelf, "shelf")?;
            let cupboard = read_struct(cupboard, "cupboard")?;
            let wanted = read_struct(wanted, "wanted")?;
            let objective = objective_of(objective, criterion)?;
            let codes = read_array(varied, column_count, MOST_VARIED, "varied")?;
            let varied: Outcome<Vec<_>> = codes.into_iter().map(place_of).collect();
            let varied = varied?;
            let values = inputs(values, column_count, MOST_VARIED, row_count, "values")?;
            let laid = Laid::out(&cupboard, shelf)?;
            let masses = masses_of(mass_g, laid.lots.len(), row_count)?;
            let (rows, status) = ((rows, row_stride_bytes), (status, status_stride_bytes));
            let results = Results::new(row_count, rows, status, bad_rows)?;
            let asked = Asked::of(&wanted, &varied)?;
            asked.wanted()?;
            let plan = Plan {
                laid,
                asked,
                varied,
                values,
                objective,
            };
            results.fill(
                ROWS_OF_A_THREAD,
                || (),
                |(), i| {
                    let made = plan.row(i);
                    let taken = made.as_ref().ok().map(|m| plan.laid.shelf.masses_in(m));
                    for (lot, column) in masses.iter().enumerate() {
                        let mass = taken.as_ref().and_then(|all| all.get(lot));
                        column.write(i, mass.map_or(f64::NAN, |m| m.in_grams()));
                    }
                    match made {
                        Ok(blend) => (FgallMadeRow::of(&blend), FGALL_OK),
                        Err(failure) => (FgallMadeRow::NONE, failure.status),
                    }
                },
            );
            Ok(())
        })
    }
}

/// Columns to write masses to, if any are wanted.
///
/// # Safety
/// As for the whole room.
unsafe fn masses_of(
    columns: *const FgallOutColumn,
    lots: usize,
    rows: usize,
) -> Outcome<Vec<Strided>> {
    if columns.is_null() {
        return Ok(Vec::new());
    }
    // SAFETY: as promised by the caller.
    let columns = unsafe { read_array(columns, lots, lots, "mass_g") }?;
    let places = columns.iter();
    let places = places.map(|c| Strided::for_results(c.data, c.stride_bytes, rows, "mass_g"));
    places.collect()
}
