//! A set of equilibrium constants at a temperature, and what may be changed in it.

use super::error::{Blame, FgallError, Outcome};
use super::guard::{foreign, guard, handle, handle_mut, out};
use super::status::FgallStatus;
use super::strings::text;
use crate::equilibrium::{ConstantSet, EquilibriumError, LogK, Solver};
use crate::quantity::{celsius, kilojoules_per_mole, kilopascals};
use core::ffi::c_char;

/// Constants: the reviewed set, the one to use.
pub const FGALL_CONSTANTS_REVIEWED: u32 = 1;
/// Constants: the smaller set that reference states of an independent code
/// exist for.
pub const FGALL_CONSTANTS_CORE: u32 = 2;

/// Standard atmosphere.
const KPA_PER_ATM: f64 = 101.325;

/// Works out what is dissolved in a solution, one solution after the other: a
/// set of equilibrium constants at a temperature, and room for the work.
/// Solving changes it: one thread at a time per solver, and a copy for each
/// thread (fgall_solver_copy_new). The answers are the same bits whatever was
/// solved before. A call that fails leaves the constants as they were.
pub struct FgallSolver {
    pub(super) solver: Solver,
}

impl FgallSolver {
    fn boxed(solver: Solver) -> *mut FgallSolver {
        Box::into_raw(Box::new(FgallSolver { solver }))
    }

    /// Takes another set, all else as it was.
    fn change(
        &mut self,
        change: impl FnOnce(ConstantSet) -> Result<ConstantSet, EquilibriumError>,
    ) -> Outcome<()> {
        let set = change(self.solver.set().clone())?;
        let mut changed = Solver::new(set, self.solver.temperature())?;
        if let Some(pressure) = self.solver.carbon_dioxide() {
            changed = changed.open_to(pressure)?;
        }
        self.solver = changed;
        Ok(())
    }
}

/// Nothing infinite goes over the border: the logarithm of nothing is NaN.
pub(super) fn existing(x: f64) -> f64 {
    if x.is_finite() { x } else { f64::NAN }
}

/// Solves with a set of constants (FGALL_CONSTANTS_…) at a temperature from 0 to
/// 60 °C. carbon_dioxide_atm is NaN for a solution that keeps its carbonate; a
/// pressure, 1e-10 to 10 atm, holds it in equilibrium with that much carbon
/// dioxide (outdoor air: about 4.25e-4), and carbonate of its own is then left
/// aside. fgall_solver_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_new(
    constants: u32,
    temperature_c: f64,
    carbon_dioxide_atm: f64,
    solver: *mut *mut FgallSolver,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(solver, "solver")?;
            let set = match constants {
                FGALL_CONSTANTS_REVIEWED => ConstantSet::reviewed(),
                FGALL_CONSTANTS_CORE => ConstantSet::core(),
                _ => return Err(foreign(constants, "constants")),
            };
            let new = Solver::new(set, celsius(temperature_c));
            let mut new = new.arg("temperature_c", temperature_c)?;
            if !carbon_dioxide_atm.is_nan() {
                let open = new.open_to(kilopascals(carbon_dioxide_atm * KPA_PER_ATM));
                new = open.arg("carbon_dioxide_atm", carbon_dioxide_atm)?;
            }
            slot.put(FgallSolver::boxed(new));
            Ok(())
        })
    }
}

/// A copy of a solver, for another thread or other constants;
/// fgall_solver_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_copy_new(
    solver: *const FgallSolver,
    copy: *mut *mut FgallSolver,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let solver = handle(solver, "solver")?;
            out(copy, "copy")?.put(FgallSolver::boxed(solver.solver.clone()));
            Ok(())
        })
    }
}

/// Frees a solver; NULL does nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_free(solver: *mut FgallSolver) {
    if !solver.is_null() {
        // SAFETY: from fgall_solver_new or fgall_solver_copy_new and not freed,
        // by the caller's promise.
        drop(unsafe { Box::from_raw(solver) });
    }
}

/// Gives one species, such as "FeSO4+", another log10 of its formation constant
/// at 25 °C and ionic strength 0, within ±200; from then on it is held to be
/// exact. Its dependence on temperature stays.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_set_log_k(
    solver: *mut FgallSolver,
    species: *const c_char,
    log_k25: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let solver = handle_mut(solver, "solver")?;
            let species = text(species, "species")?;
            let changed = solver.change(|set| set.with_log_k(species, log_k25));
            changed.arg("log_k25", log_k25)
        })
    }
}

/// Leaves one species out.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_remove_species(
    solver: *mut FgallSolver,
    species: *const c_char,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let solver = handle_mut(solver, "solver")?;
            let species = text(species, "species")?;
            solver.change(|set| set.without(species))
        })
    }
}

/// Adds a species by the reaction that forms it from components (see
/// fgall_master_formula), H+, H2O and species of the set: "Fe+3 + SO4-2 =
/// FeSO4+". It is the one product that is new, its charge at the end of its
/// name. log10 of the constant of that reaction is at 25 °C and ionic strength
/// 0, within ±200; its enthalpy, within ±1000 kJ/mol, gives the dependence on
/// temperature (NaN: not known, the constant is then the same at every
/// temperature). FGALL_BAD_EQUATION when the text cannot be taken.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_add_species(
    solver: *mut FgallSolver,
    equation: *const c_char,
    log_k25: f64,
    enthalpy_kj_per_mol: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let solver = handle_mut(solver, "solver")?;
            let equation = text(equation, "equation")?;
            let mut log_k = LogK::at_25(log_k25).arg("log_k25", log_k25)?;
            if !enthalpy_kj_per_mol.is_nan() {
                let with = log_k.with_enthalpy(kilojoules_per_mole(enthalpy_kj_per_mol));
                log_k = with.arg("enthalpy_kj_per_mol", enthalpy_kj_per_mol)?;
            }
            solver.change(|set| set.with_species(equation, log_k))
        })
    }
}
