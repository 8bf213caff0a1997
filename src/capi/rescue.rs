//! What brings a kept ink back, and its chemistry on the way.

use super::equilibrium::FgallSolver;
use super::error::{FgallError, Outcome};
use super::forecast::FgallOutcome;
use super::guard::{guard, handle, handle_mut, out_struct, read_struct, versioned};
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::stored_ink::FgallStoredInk;
use crate::equilibrium::Solver;
use crate::oxidation::{Advice, InkChemistry, Rescue, StoredInk};
use crate::quantity::{ReadMassConcentration, ReadMolality, ReadMolarConcentration};
use core::mem::size_of;

/// Advice: hardly any iron has settled, nothing to filter. What is oxidised is
/// still dissolved: the ink writes dark at once and darkens less.
pub const FGALL_ADVICE_KEEP: u32 = 1;
/// Advice: filter off the sediment and replace what went with it.
pub const FGALL_ADVICE_FILTER_AND_REFRESH: u32 = 2;
/// Advice: more than half of the iron has settled, make a new batch.
pub const FGALL_ADVICE_MAKE_NEW: u32 = 3;

/// What brings an ink back, for each volume of it, after filtering.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallRescue {
    /// sizeof(FgallRescue), filled in by the caller.
    pub struct_size: usize,
    /// Whether it is worth it: FGALL_ADVICE_…
    pub advice: u32,
    /// Iron that has settled: to be replaced as iron(II).
    pub iron_mol_per_l: f64,
    /// The same as green vitriol, FeSO4 · 7 H2O.
    pub green_vitriol_g_per_l: f64,
    /// Galloyl units that have settled with it, one to an iron, or were
    /// oxidised: to be replaced by tannin.
    pub galloyl_mol_per_l: f64,
    /// Strong acid, as H+, that brings the filtered ink back to its first pH;
    /// NaN when it is more acid than it was (as a rule), or was not asked.
    pub strong_acid_mol_per_l: f64,
}
versioned!(FgallRescue);

impl FgallRescue {
    fn of(rescue: &Rescue) -> FgallRescue {
        FgallRescue {
            struct_size: size_of::<FgallRescue>(),
            advice: match rescue.advice {
                Advice::Keep => FGALL_ADVICE_KEEP,
                Advice::FilterAndRefresh => FGALL_ADVICE_FILTER_AND_REFRESH,
                Advice::MakeNew => FGALL_ADVICE_MAKE_NEW,
            },
            iron_mol_per_l: rescue.iron.in_moles_per_liter(),
            green_vitriol_g_per_l: rescue.green_vitriol.in_grams_per_liter(),
            galloyl_mol_per_l: rescue.galloyl.in_moles_per_liter(),
            strong_acid_mol_per_l: rescue
                .strong_acid
                .map_or(f64::NAN, |acid| acid.in_moles_per_liter()),
        }
    }
}

/// What brings an ink back after an outcome of its keeping: one of fgall_forecast
/// or of a point of fgall_forecast_curve. The acid is not asked.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_rescue(
    ink: *const FgallStoredInk,
    outcome: *const FgallOutcome,
    rescue: *mut FgallRescue,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let ink = read_struct(ink, "ink")?.ink()?;
            let outcome = handle(outcome, "outcome")?.outcome()?;
            let slot = out_struct(rescue, "rescue")?;
            slot.put(FgallRescue::of(&ink.rescue(&outcome, None)?));
            Ok(())
        })
    }
}

/// The ink of a recipe, whose composition tells its acid.
///
/// # Safety
/// As for the whole room.
unsafe fn brewed<'a>(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
) -> Outcome<(&'a mut Solver, StoredInk)> {
    // SAFETY: as promised by the caller.
    let (solver, recipe) = unsafe { (handle_mut(solver, "solver")?, handle(recipe, "recipe")?) };
    let made = recipe.recipe.evaluate()?;
    let ink = StoredInk::of(&made.composition, &mut solver.solver)?;
    Ok((&mut solver.solver, ink))
}

/// As fgall_rescue, of the ink of a recipe, with the acid.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_rescue(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    outcome: *const FgallOutcome,
    rescue: *mut FgallRescue,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, ink) = brewed(solver, recipe)?;
            let outcome = handle(outcome, "outcome")?.outcome()?;
            let slot = out_struct(rescue, "rescue")?;
            slot.put(FgallRescue::of(&ink.rescue(&outcome, Some(solver))?));
            Ok(())
        })
    }
}

/// Acid and iron(II) of an ink at one moment of its keeping, sediment taken out.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallInkChemistry {
    /// sizeof(FgallInkChemistry), filled in by the caller.
    pub struct_size: usize,
    /// pH.
    pub ph: f64,
    /// Ionic strength.
    pub ionic_strength_mol_per_kg: f64,
    /// Share of the iron(II) that is bare; the four shares add up to 1.
    pub free_share: f64,
    /// Share of it that is FeOH+.
    pub hydroxo_share: f64,
    /// Share of it that is Fe(OH)2.
    pub dihydroxo_share: f64,
    /// Share of it that is bound to anything else: sulfate, chloride, gallate …
    pub complexed_share: f64,
}
versioned!(FgallInkChemistry);

impl FgallInkChemistry {
    fn of(chemistry: &InkChemistry) -> FgallInkChemistry {
        let shares = chemistry.milieu.shares();
        FgallInkChemistry {
            struct_size: size_of::<FgallInkChemistry>(),
            ph: chemistry.ph,
            ionic_strength_mol_per_kg: chemistry.ionic_strength.in_moles_per_kilogram(),
            free_share: shares.free,
            hydroxo_share: shares.hydroxo,
            dihydroxo_share: shares.dihydroxo,
            complexed_share: shares.complexed,
        }
    }
}

/// pH and iron(II) of the ink of a recipe after an outcome of its keeping. Each
/// iron that settles takes one galloyl unit along; tannin that has given its
/// electrons away binds no iron. Where no iron(II) is left, a trace of it stands in.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_chemistry(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    outcome: *const FgallOutcome,
    chemistry: *mut FgallInkChemistry,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, ink) = brewed(solver, recipe)?;
            let outcome = handle(outcome, "outcome")?.outcome()?;
            let slot = out_struct(chemistry, "chemistry")?;
            slot.put(FgallInkChemistry::of(&ink.chemistry(&outcome, solver)?));
            Ok(())
        })
    }
}
