//! pH and iron of many solutions at once.

use super::columns::{FgallColumn, FgallColumns, Masses, Results, inputs, status_of};
use super::equilibrium::FgallSolver;
use super::equilibrium_totals::master_of;
use super::error::{FgallError, Outcome};
use super::guard::{guard, handle, read_array};
use super::status::FgallStatus;
use crate::equilibrium::{EquilibriumRow, Master};

/// Rows that are worth a thread and a solver of its own.
const ROWS_OF_A_THREAD: usize = 512;

/// pH and iron of one row. All are NaN when the row's status is not FGALL_OK.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallEquilibriumRow {
    /// pH.
    pub ph: f64,
    /// Ionic strength.
    pub ionic_strength_mol_per_kg: f64,
    /// Activity of water.
    pub water_activity: f64,
    /// Bare iron(II).
    pub free_iron_ii_mol_per_kg: f64,
    /// Bare iron(III).
    pub free_iron_iii_mol_per_kg: f64,
    /// Iron(III) bound to gallic acid and to galloyl units of tannin.
    pub coloured_iron_mol_per_kg: f64,
}

impl From<EquilibriumRow> for FgallEquilibriumRow {
    fn from(r: EquilibriumRow) -> FgallEquilibriumRow {
        FgallEquilibriumRow {
            ph: r.ph,
            ionic_strength_mol_per_kg: r.ionic_strength_mol_per_kg,
            water_activity: r.water_activity,
            free_iron_ii_mol_per_kg: r.free_iron_ii_mol_per_kg,
            free_iron_iii_mol_per_kg: r.free_iron_iii_mol_per_kg,
            coloured_iron_mol_per_kg: r.coloured_iron_mol_per_kg,
        }
    }
}

/// Works out many solutions. `masters` names the components (FGALL_MASTER_…) of
/// column_count columns in `mol_per_kg`, the totals per kilogram of water; the
/// others are absent, and of a component named twice the last column holds.
/// Rows, statuses and bad_rows are as in fgall_columns_evaluate (a row that
/// cannot be solved has the status FGALL_NOT_SOLVED). The solver is only read,
/// each row has the bits of fgall_solver_solve.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_rows(
    solver: *const FgallSolver,
    masters: *const u32,
    mol_per_kg: *const FgallColumn,
    column_count: usize,
    row_count: usize,
    rows: *mut FgallEquilibriumRow,
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
            let solver = &handle(solver, "solver")?.solver;
            let most = Master::ALL.len();
            let numbers = read_array(masters, column_count, most, "masters")?;
            let masters: Outcome<Vec<_>> =
                numbers.iter().map(|&n| master_of(n, "masters")).collect();
            let masters = masters?;
            let totals = inputs(mol_per_kg, column_count, most, row_count, "mol_per_kg")?;
            let (rows, status) = ((rows, row_stride_bytes), (status, status_stride_bytes));
            let results = Results::new(row_count, rows, status, bad_rows)?;
            let own = || solver.clone();
            results.fill(ROWS_OF_A_THREAD, own, |solver, i| {
                let (row, went) = solver.row(&masters, |column| totals[column].read(i));
                (row.into(), status_of(went))
            });
            Ok(())
        })
    }
}

/// pH and iron of many recipes of the same lots. The columns, rows, statuses and
/// bad_rows are as in fgall_columns_evaluate (a row that is hardly water has the
/// status FGALL_EMPTY, one that cannot be solved FGALL_NOT_SOLVED). Column plan
/// and solver are only read.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_columns_equilibrium(
    columns: *const FgallColumns,
    solver: *const FgallSolver,
    mass_g: *const FgallColumn,
    column_count: usize,
    make_up_ml: *const FgallColumn,
    row_count: usize,
    rows: *mut FgallEquilibriumRow,
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
            let solver = &handle(solver, "solver")?.solver;
            let masses = Masses::read(plan, mass_g, column_count, make_up_ml, row_count)?;
            let (rows, status) = ((rows, row_stride_bytes), (status, status_stride_bytes));
            let results = Results::new(row_count, rows, status, bad_rows)?;
            let own = || solver.clone();
            results.fill(ROWS_OF_A_THREAD, own, |solver, i| {
                let mass_g = |lot| masses.mass_g(lot, i);
                let (row, went) = plan.equilibrium_row(solver, mass_g, masses.make_up_ml(i));
                (row.into(), status_of(went))
            });
            Ok(())
        })
    }
}
