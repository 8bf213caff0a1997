//! Acid and iron of an ink, and what makers ask of them.

use super::bench::{FGALL_NAME_BYTES, FgallRange};
use super::equilibrium::{FgallSolver, existing};
use super::error::{Blame, FgallError, Outcome, mass};
use super::guard::{deliver_all, guard, handle, handle_mut, out_struct, versioned};
use super::lots::FgallShelf;
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::fixed;
use crate::equilibrium::{InkReport, IronShares, PhDose, PreservativeState, Solver, WaterEffect};
use crate::quantity::{
    ReadMass, ReadMassConcentration, ReadMolality, ReadMolarConcentration, ReadVolume,
};
use crate::recipe::Evaluation;
use core::ffi::c_char;
use core::mem::size_of;

/// Where the iron of one kind is: shares of it, which add up to 1, or are all 0
/// when there is none.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallIronShares {
    /// Bare ions in water.
    pub free_share: f64,
    /// Bound to hydroxide alone.
    pub hydroxide_share: f64,
    /// Bound to sulfate.
    pub sulfate_share: f64,
    /// Bound to chloride.
    pub chloride_share: f64,
    /// Bound to gallic acid.
    pub gallate_share: f64,
    /// Bound to galloyl units of tannin.
    pub tannin_share: f64,
    /// Bound to anything else: oxalate, citrate, tartrate, acetate, salicylate.
    pub other_share: f64,
}

impl From<IronShares> for FgallIronShares {
    fn from(shares: IronShares) -> FgallIronShares {
        FgallIronShares {
            free_share: shares.free,
            hydroxide_share: shares.hydroxide,
            sulfate_share: shares.sulfate,
            chloride_share: shares.chloride,
            gallate_share: shares.gallate,
            tannin_share: shares.tannin,
            other_share: shares.other,
        }
    }
}

/// Acid and iron of an ink at equilibrium, and what air will make of them.
/// Shares bound to gallic acid and tannin are good to one order of magnitude,
/// and no solubility of the pigment is known. Its species and solids:
/// fgall_recipe_totals, then fgall_solver_species and fgall_solver_solids.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallInkReport {
    /// sizeof(FgallInkReport), filled in by the caller.
    pub struct_size: usize,
    /// pH.
    pub ph: f64,
    /// Low end of what the uncertainty of the constants leaves open of the pH
    /// (95 %); that of the amounts comes on top.
    pub ph_low: f64,
    /// High end of it.
    pub ph_high: f64,
    /// Ionic strength.
    pub ionic_strength_mol_per_kg: f64,
    /// 1 if the ionic strength is one that activity coefficients are trusted to
    /// (0.5 mol/kg), 0 if beyond.
    pub within_validity: u32,
    /// Where the iron(II) is.
    pub iron_ii: FgallIronShares,
    /// Where the iron(III) is.
    pub iron_iii: FgallIronShares,
    /// Low end of the share of iron(III) bound to gallic acid and tannin (95 %).
    pub coloured_share_low: f64,
    /// High end of it.
    pub coloured_share_high: f64,
    /// pH once air has oxidised all iron(II), everything still dissolved.
    pub ph_oxidised: f64,
    /// pH once also all the iron that gallic acid and tannin can take has
    /// settled as the pigment: the most acid the ink can get.
    pub ph_settled: f64,
    /// Strong acid set free until then.
    pub acid_set_free_mol_per_l: f64,
    /// Strong acid that can then leave the writing as hydrogen chloride.
    pub volatile_acid_mol_per_l: f64,
    /// Strong acid that then stays in the paper, as sulfuric acid.
    pub fixed_acid_mol_per_l: f64,
    /// Strong base that brings a litre to pH 7, nothing settling on the way.
    pub titratable_acid_mol_per_l: f64,
    /// Strong base that raises the pH of a litre by one unit, as a slope.
    pub buffer_capacity_mol_per_l_per_ph: f64,
    /// Share of the iron(II) that air can oxidise before a solid of iron(III)
    /// begins to settle; NaN when all of it can be oxidised. The pigment is not
    /// counted.
    pub settles_at_share: f64,
    /// The solid that is first; empty when none is.
    pub settles_first: [c_char; FGALL_NAME_BYTES],
}
versioned!(FgallInkReport);

impl FgallInkReport {
    fn of(report: &InkReport) -> FgallInkReport {
        let settling = report.settling.as_ref();
        let then = &report.oxidation;
        FgallInkReport {
            struct_size: size_of::<FgallInkReport>(),
            ph: existing(report.ph),
            ph_low: existing(report.ph_interval.low),
            ph_high: existing(report.ph_interval.high),
            ionic_strength_mol_per_kg: report.ionic_strength.in_moles_per_kilogram(),
            within_validity: report.within_validity.into(),
            iron_ii: report.iron_ii.into(),
            iron_iii: report.iron_iii.into(),
            coloured_share_low: existing(report.coloured_share.low),
            coloured_share_high: existing(report.coloured_share.high),
            ph_oxidised: existing(then.ph_dissolved),
            ph_settled: existing(then.ph_settled),
            acid_set_free_mol_per_l: then.acid_set_free.in_moles_per_liter(),
            volatile_acid_mol_per_l: then.volatile_acid.in_moles_per_liter(),
            fixed_acid_mol_per_l: then.fixed_acid.in_moles_per_liter(),
            titratable_acid_mol_per_l: existing(report.titratable_acid.in_moles_per_liter()),
            buffer_capacity_mol_per_l_per_ph: existing(report.buffer_capacity.in_moles_per_liter()),
            settles_at_share: settling.map_or(f64::NAN, |s| s.oxidised.value()),
            settles_first: fixed(settling.map_or("", |s| &s.solid)),
        }
    }
}

/// # Safety
/// As for the whole room.
unsafe fn given<'a>(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
) -> Outcome<(&'a mut Solver, Evaluation<'a>)> {
    // SAFETY: as promised by the caller.
    let (solver, recipe) = unsafe { (handle_mut(solver, "solver")?, handle(recipe, "recipe")?) };
    Ok((&mut solver.solver, recipe.recipe.evaluate()?))
}

/// All that makers ask of the acid and the iron in one ink. Some 200 times the
/// work of fgall_solver_solve.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_recipe_report(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    report: *mut FgallInkReport,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, made) = given(solver, recipe)?;
            let slot = out_struct(report, "report")?;
            slot.put(FgallInkReport::of(&solver.report(&made.composition)?));
            Ok(())
        })
    }
}

/// How much of a lot goes in, and the pH it leads to.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallPhDose {
    /// sizeof(FgallPhDose), filled in by the caller.
    pub struct_size: usize,
    /// What to weigh.
    pub mass_g: f64,
    /// What that fills; NaN where the lot's density is not known.
    pub volume_ml: f64,
    /// The pH of the ink with it.
    pub ph: f64,
}
versioned!(FgallPhDose);

impl FgallPhDose {
    fn of(dose: &PhDose) -> FgallPhDose {
        FgallPhDose {
            struct_size: size_of::<FgallPhDose>(),
            mass_g: dose.mass.in_grams(),
            volume_ml: dose.volume.map_or(f64::NAN, |v| v.in_milliliters()),
            ph: existing(dose.ph),
        }
    }
}

/// pH of the ink of a recipe with so much of a lot put into it. The recipe is
/// left as it is. FGALL_NEEDS_EXTRACTION for plant matter.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_dose(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    mass_g: f64,
    dose: *mut FgallPhDose,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, made) = given(solver, recipe)?;
            let lot = handle(shelf, "shelf")?.lot(lot, "lot")?;
            let slot = out_struct(dose, "dose")?;
            let found = solver.dose(&made.composition, lot, mass("mass_g", mass_g)?)?;
            slot.put(FgallPhDose::of(&found));
            Ok(())
        })
    }
}

/// How much of a lot (an acid, a base, an acid salt) brings the ink of a recipe
/// to a pH; what it brings beside its acid, water included, is counted. The
/// recipe is left as it is. FGALL_UNREACHABLE when not even five times the mass
/// of the ink gets there.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_dose_for_ph(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    ph: f64,
    dose: *mut FgallPhDose,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, made) = given(solver, recipe)?;
            let lot = handle(shelf, "shelf")?.lot(lot, "lot")?;
            let slot = out_struct(dose, "dose")?;
            let found = solver.dose_for_ph(&made.composition, lot, ph);
            slot.put(FgallPhDose::of(&found.arg_of(&[("pH", "ph", ph)])?));
            Ok(())
        })
    }
}

/// How much of the lot `instead` does to the pH of the ink of a recipe what
/// mass_g of the lot `given_lot` does: two acids of which either may go in. The
/// recipe, which holds neither, is left as it is.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_equal_dose(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    shelf: *const FgallShelf,
    given_lot: usize,
    mass_g: f64,
    instead_lot: usize,
    dose: *mut FgallPhDose,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, made) = given(solver, recipe)?;
            let shelf = handle(shelf, "shelf")?;
            let given_lot = shelf.lot(given_lot, "given_lot")?;
            let instead = shelf.lot(instead_lot, "instead_lot")?;
            let slot = out_struct(dose, "dose")?;
            let mass = mass("mass_g", mass_g)?;
            let found = solver.equal_dose(&made.composition, given_lot, mass, instead)?;
            slot.put(FgallPhDose::of(&found));
            Ok(())
        })
    }
}

/// What the minerals of the water do to an ink.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallWaterEffect {
    /// sizeof(FgallWaterEffect), filled in by the caller.
    pub struct_size: usize,
    /// pH of the ink as it is.
    pub ph: f64,
    /// pH with pure water in place of every water lot.
    pub ph_with_pure_water: f64,
    /// Alkalinity that the waters bring: so much acid is eaten.
    pub alkalinity_mol_per_l: f64,
}
versioned!(FgallWaterEffect);

impl FgallWaterEffect {
    fn of(effect: &WaterEffect) -> FgallWaterEffect {
        FgallWaterEffect {
            struct_size: size_of::<FgallWaterEffect>(),
            ph: existing(effect.ph),
            ph_with_pure_water: existing(effect.ph_with_pure_water),
            alkalinity_mol_per_l: effect.alkalinity.in_moles_per_liter(),
        }
    }
}

/// What the minerals of the water do to the pH of the ink of a recipe.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_water_effect(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    effect: *mut FgallWaterEffect,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, made) = given(solver, recipe)?;
            let slot = out_struct(effect, "effect")?;
            slot.put(FgallWaterEffect::of(&solver.water_effect(&made)?));
            Ok(())
        })
    }
}

/// A preservative in an ink, at the pH of that ink.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallPreservative {
    /// Identifier of what preserves, such as "benzoate".
    pub component: [c_char; FGALL_NAME_BYTES],
    /// All of it, as the acid or phenol that acts.
    pub total_g_per_l: f64,
    /// Share in the form that acts.
    pub undissociated_share: f64,
    /// What acts.
    pub effective_g_per_l: f64,
    /// Dose met with, of the acid or phenol itself.
    pub usual_dose_g_per_l: FgallRange,
    /// 1 if what acts comes up to the smallest dose met with.
    pub is_enough: u32,
}

impl FgallPreservative {
    fn of(state: &PreservativeState) -> FgallPreservative {
        FgallPreservative {
            component: fixed(state.component.id()),
            total_g_per_l: state.total.in_grams_per_liter(),
            undissociated_share: state.undissociated.value(),
            effective_g_per_l: state.effective.in_grams_per_liter(),
            usual_dose_g_per_l: state.usual_dose_g_per_l.into(),
            is_enough: state.is_enough().into(),
        }
    }
}

/// Every preservative in the ink of a recipe, and how much of it acts: written
/// to `preservatives` if there is room for all of them, and in any case *needed
/// says how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_preservatives(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    preservatives: *mut FgallPreservative,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (solver, made) = given(solver, recipe)?;
            let found = solver.preservatives(&made.composition)?;
            let all = found.iter().map(FgallPreservative::of);
            deliver_all(all, preservatives, capacity, needed, "preservatives")
        })
    }
}
