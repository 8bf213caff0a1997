//! One solution at equilibrium.

use super::bench::FGALL_NAME_BYTES;
use super::equilibrium::{FgallSolver, existing};
use super::equilibrium_totals::{FgallTotals, master_of};
use super::error::{Blame, FgallError, Outcome};
use super::guard::{
    deliver_all, guard, handle_mut, out, out_struct, out_struct_if_wanted, read_struct, versioned,
};
use super::status::FgallStatus;
use super::strings::fixed;
use crate::equilibrium::{Dissolved, Saturation, Solver, Speciation, Totals};
use crate::quantity::ReadMolality;
use core::ffi::c_char;
use core::mem::size_of;

/// A solution at equilibrium, iron(II) and iron(III) apart: redox is never taken
/// to be at equilibrium.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallEquilibrium {
    /// sizeof(FgallEquilibrium), filled in by the caller.
    pub struct_size: usize,
    /// pH: -log10 of the activity of the proton.
    pub ph: f64,
    /// Ionic strength.
    pub ionic_strength_mol_per_kg: f64,
    /// Activity of water.
    pub water_activity: f64,
    /// 1 if the ionic strength is one that activity coefficients are trusted to
    /// (0.5 mol/kg), 0 if beyond.
    pub within_validity: u32,
    /// Largest relative error of the balances of mass and protons.
    pub residual: f64,
    /// Sum of charges over the sum of their sizes: 0 but for rounding.
    pub charge_error: f64,
    /// Strong base that raises the pH by one unit, as a slope.
    pub buffer_capacity_mol_per_kg_per_ph: f64,
}
versioned!(FgallEquilibrium);

impl FgallEquilibrium {
    fn of(solution: &Speciation) -> FgallEquilibrium {
        let buffer_capacity = solution.buffer_capacity();
        FgallEquilibrium {
            struct_size: size_of::<FgallEquilibrium>(),
            ph: existing(solution.ph()),
            ionic_strength_mol_per_kg: solution.ionic_strength().in_moles_per_kilogram(),
            water_activity: solution.water_activity(),
            within_validity: solution.is_within_validity().into(),
            residual: solution.residual(),
            charge_error: existing(solution.charge_error()),
            buffer_capacity_mol_per_kg_per_ph: existing(buffer_capacity.in_moles_per_kilogram()),
        }
    }
}

/// # Safety
/// As for the whole room.
unsafe fn given<'a>(
    solver: *mut FgallSolver,
    totals: *const FgallTotals,
) -> Outcome<(&'a mut Solver, Totals)> {
    // SAFETY: as promised by the caller.
    let (solver, totals) = unsafe {
        let solver = handle_mut(solver, "solver")?;
        (solver, read_struct(totals, "totals")?)
    };
    Ok((&mut solver.solver, totals.totals()?))
}

/// What is dissolved. FGALL_NOT_SOLVED if the balances cannot be met to 1e-12,
/// which no totals are known to cause with the constants as they come.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_solve(
    solver: *mut FgallSolver,
    totals: *const FgallTotals,
    equilibrium: *mut FgallEquilibrium,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, totals) = given(solver, totals)?;
            let slot = out_struct(equilibrium, "equilibrium")?;
            slot.put(FgallEquilibrium::of(&solver.solve(&totals)?));
            Ok(())
        })
    }
}

/// The total of one component (FGALL_MASTER_…) at which the solution has this
/// pH, all others as given; what `totals` says of that one is not used.
/// What has a negative charge (chloride, citrate) comes as its acid, what has a
/// positive one (sodium) as its hydroxide. FGALL_UNREACHABLE when neither
/// nothing nor 20 mol/kg nor anything between leads there. `equilibrium`, of the
/// solution reached, may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_total_for_ph(
    solver: *mut FgallSolver,
    totals: *const FgallTotals,
    master: u32,
    ph: f64,
    total_mol_per_kg: *mut f64,
    equilibrium: *mut FgallEquilibrium,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, totals) = given(solver, totals)?;
            let master = master_of(master, "master")?;
            let slot = out(total_mol_per_kg, "total_mol_per_kg")?;
            let more = out_struct_if_wanted(equilibrium, "equilibrium")?;
            let (total, solution) = solver.solve_for(master, ph, &totals).arg("ph", ph)?;
            if let Some(more) = more {
                more.put(FgallEquilibrium::of(&solution));
            }
            slot.put(total.in_moles_per_kilogram());
            Ok(())
        })
    }
}

/// What the uncertainty of the constants leaves open of the pH (95 %); that of
/// the amounts comes on top. Some 130 times the work of fgall_solver_solve.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_ph_interval(
    solver: *mut FgallSolver,
    totals: *const FgallTotals,
    ph_low: *mut f64,
    ph_high: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, totals) = given(solver, totals)?;
            let (low, high) = (out(ph_low, "ph_low")?, out(ph_high, "ph_high")?);
            let interval = solver.interval(&totals, |solution| solution.ph())?;
            low.put(existing(interval.low));
            high.put(existing(interval.high));
            Ok(())
        })
    }
}

/// A dissolved species. Where there is so little of it that no number is left,
/// its molality is 0 and its log10_activity NaN.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSpecies {
    /// Its name, the charge at the end: "Fe(OH)2+" has one.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// Its charge.
    pub charge: i32,
    /// Amount per kilogram of water.
    pub molality_mol_per_kg: f64,
    /// log10 of its activity coefficient.
    pub log10_gamma: f64,
    /// log10 of its activity.
    pub log10_activity: f64,
}

impl FgallSpecies {
    fn of(species: Dissolved) -> FgallSpecies {
        FgallSpecies {
            name: fixed(species.name),
            charge: species.charge,
            molality_mol_per_kg: species.molality.in_moles_per_kilogram(),
            log10_gamma: existing(species.log10_gamma),
            log10_activity: existing(species.log10_activity),
        }
    }
}

/// Every dissolved species that the components can form: written to `species` if
/// there is room for all of them, and in any case *needed says how many there
/// are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_species(
    solver: *mut FgallSolver,
    totals: *const FgallTotals,
    species: *mut FgallSpecies,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, totals) = given(solver, totals)?;
            let solution = solver.solve(&totals)?;
            let all: Vec<_> = solution.species().map(FgallSpecies::of).collect();
            deliver_all(all.into_iter(), species, capacity, needed, "species")
        })
    }
}

/// A solid, or a gas, that the solution is held against.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSolid {
    /// Its name.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// log10 of the ion activity product over the solubility product: above 0
    /// the solution holds more than the solid would leave. For a gas, "CO2(g)",
    /// log10 of its pressure in atm. NaN where a part of it is too little for a
    /// number.
    pub saturation_index: f64,
    /// Standard uncertainty (k = 1) of log10 of the solubility product: within
    /// twice that of 0 the index tells nothing.
    pub log_k_u: f64,
    /// 1 if the solid forms within days, 0 if the solution may stay beyond its
    /// solubility for months or years.
    pub forms_promptly: u32,
}

impl FgallSolid {
    fn of(solid: Saturation) -> FgallSolid {
        FgallSolid {
            name: fixed(solid.name),
            saturation_index: existing(solid.index),
            log_k_u: solid.u,
            forms_promptly: solid.forms_promptly.into(),
        }
    }
}

/// Every solid and gas that the components can form: written to `solids` if
/// there is room for all of them, and in any case *needed says how many there
/// are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_solids(
    solver: *mut FgallSolver,
    totals: *const FgallTotals,
    solids: *mut FgallSolid,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, totals) = given(solver, totals)?;
            let solution = solver.solve(&totals)?;
            let all: Vec<_> = solution.solids().map(FgallSolid::of).collect();
            deliver_all(all.into_iter(), solids, capacity, needed, "solids")
        })
    }
}
