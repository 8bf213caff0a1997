//! Substitution and formulation.

use super::error::{Blame, FgallError, Outcome, mass, unknown_name, volume};
use super::guard::{
    foreign, guard, handle, handle_mut, known_bits, out, out_struct, read_struct,
    read_struct_if_given, versioned,
};
use super::lots::FgallShelf;
use super::recipe::{
    FGALL_SOAK_HOLD_UP, FGALL_SOAK_WATER, FGALL_SOAK_YIELD, FgallRecipe, FgallSoak, SOAK_BITS,
};
use super::status::{FGALL_UNKNOWN_NAME, FgallStatus};
use super::strings::text;
use crate::formulate::{Choice, Equal, Soak, Substitution, Swap, Targets};
use crate::quantity::{ReadMass, Share, grams_per_liter, moles_per_liter};
use core::ffi::c_char;
use core::mem::size_of;

/// What a substitution keeps equal: the iron(II).
pub const FGALL_EQUAL_IRON_II: u32 = 1;
/// What a substitution keeps equal: the galloyl units, free gallic acid included.
pub const FGALL_EQUAL_GALLOYL: u32 = 2;

pub(super) fn equal_of(equal: u32) -> Outcome<Equal> {
    match equal {
        FGALL_EQUAL_IRON_II => Ok(Equal::IronII),
        FGALL_EQUAL_GALLOYL => Ok(Equal::Galloyl),
        other => Err(foreign(other, "equal")),
    }
}

/// The mass to take instead, and what the ink gets more (or, negative, less)
/// of.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSubstitution {
    /// sizeof(FgallSubstitution), filled in by the caller.
    pub struct_size: usize,
    /// Mass of the other lot.
    pub mass_g: f64,
    /// Mass of the other lot per mass of the first.
    pub factor: f64,
    /// Relative standard uncertainty (k = 1) of the factor.
    pub factor_u: f64,
    /// Strong acid; negative: the new lot eats acid.
    pub strong_acid_mol: f64,
    /// Acid that evaporates.
    pub volatile_acid_mol: f64,
    /// Acid that stays in the paper.
    pub fixed_acid_mol: f64,
    /// Iron(II).
    pub iron_ii_mol: f64,
    /// Iron(III), which blackens the ink in the bottle.
    pub iron_iii_mol: f64,
    /// Free gallic acid.
    pub gallic_acid_mol: f64,
    /// Galloyl units, free gallic acid included.
    pub galloyl_mol: f64,
    /// Sulfate.
    pub sulfate_mol: f64,
    /// Chloride.
    pub chloride_mol: f64,
    /// Acetate.
    pub acetate_mol: f64,
    /// Dry residue.
    pub dry_residue_g: f64,
    /// Cost; NaN unless both lots have a price.
    pub cost: f64,
}
versioned!(FgallSubstitution);

impl FgallSubstitution {
    fn of(s: &Substitution) -> FgallSubstitution {
        FgallSubstitution {
            struct_size: size_of::<FgallSubstitution>(),
            mass_g: s.mass.in_grams(),
            factor: s.factor,
            factor_u: s.factor_u,
            strong_acid_mol: s.effects.strong_acid.value,
            volatile_acid_mol: s.effects.volatile_acid.value,
            fixed_acid_mol: s.effects.fixed_acid.value,
            iron_ii_mol: s.effects.iron_ii.value,
            iron_iii_mol: s.effects.iron_iii.value,
            gallic_acid_mol: s.effects.gallic_acid.value,
            galloyl_mol: s.effects.galloyl.value,
            sulfate_mol: s.effects.sulfate.value,
            chloride_mol: s.effects.chloride.value,
            acetate_mol: s.effects.acetate.value,
            dry_residue_g: s.effects.dry_residue.in_grams(),
            cost: s.cost.unwrap_or(f64::NAN),
        }
    }
}

/// What to take of one lot in place of a mass of another, at equal iron(II) or
/// galloyl (FGALL_EQUAL_…). Plant matter counts with the default yield.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_substitute(
    shelf: *const FgallShelf,
    from_lot: usize,
    to_lot: usize,
    equal: u32,
    mass_g: f64,
    substitution: *mut FgallSubstitution,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle(shelf, "shelf")?;
            let slot = out_struct(substitution, "substitution")?;
            let from = shelf.lot(from_lot, "from_lot")?;
            let to = shelf.lot(to_lot, "to_lot")?;
            let swap = Swap::new(from, to, equal_of(equal)?);
            slot.put(FgallSubstitution::of(&swap.of(mass("mass_g", mass_g)?)?));
            Ok(())
        })
    }
}

/// Replaces a lot of the recipe, found by its name, by a lot of the shelf at
/// equal iron(II) or galloyl (FGALL_EQUAL_…). A plant replaced by a powder
/// leaves its soak water in the pot, less what the marc would have kept.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_substitute(
    recipe: *mut FgallRecipe,
    lot_name: *const c_char,
    shelf: *const FgallShelf,
    to_lot: usize,
    equal: u32,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let name = text(lot_name, "lot_name")?;
            let to = handle(shelf, "shelf")?.lot(to_lot, "to_lot")?;
            let equal = equal_of(equal)?;
            let other = recipe.recipe.with_substitute(name, to, equal);
            recipe.recipe = other.arg_of(&[]).map_err(|failure| match failure.status {
                FGALL_UNKNOWN_NAME => unknown_name("lot_name", name),
                _ => failure,
            })?;
            Ok(())
        })
    }
}

/// Bit of FgallTargets.set: gallic_share is given.
pub const FGALL_TARGET_GALLIC_SHARE: u32 = 1;
/// Bit of FgallTargets.set: gum_g_per_l is given.
pub const FGALL_TARGET_GUM: u32 = 2;
/// Bit of FgallTargets.set: strong_acid_mol_per_l is given.
pub const FGALL_TARGET_STRONG_ACID: u32 = 4;
/// Bit of FgallTargets.set: dye_g_per_l is given.
pub const FGALL_TARGET_DYE: u32 = 8;
/// Bit of FgallTargets.set: preservative_g_per_l is given.
pub const FGALL_TARGET_PRESERVATIVE: u32 = 16;

/// What the ink shall be. Each target that `set` names wants a lot in the
/// FgallChoice, and the other way round.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallTargets {
    /// sizeof(FgallTargets), filled in by the caller.
    pub struct_size: usize,
    /// Volume to make.
    pub volume_ml: f64,
    /// Iron(II), 1e-6 to 10 mol/L.
    pub iron_ii_mol_per_l: f64,
    /// mol of iron(II) per mol of galloyl units, 0.001 to 1000.
    pub iron_per_galloyl: f64,
    /// Which fields below are given: FGALL_TARGET_… bits.
    pub set: u32,
    /// Share of the galloyl units that is free gallic acid.
    pub gallic_share: f64,
    /// Dry gum.
    pub gum_g_per_l: f64,
    /// Strong acid.
    pub strong_acid_mol_per_l: f64,
    /// Dye.
    pub dye_g_per_l: f64,
    /// Preservative, as the acid or phenol that acts.
    pub preservative_g_per_l: f64,
}
versioned!(FgallTargets);

fn targets_of(t: &FgallTargets) -> Outcome<Targets> {
    known_bits(t.set, 31, "set")?;
    let given = |bit| t.set & bit != 0;
    let iron = moles_per_liter(t.iron_ii_mol_per_l);
    let base = Targets::new(volume("volume_ml", t.volume_ml)?, iron, t.iron_per_galloyl);
    let mut out = base.arg_of(&[
        ("volume", "volume_ml", t.volume_ml),
        ("iron(II)", "iron_ii_mol_per_l", t.iron_ii_mol_per_l),
        (
            "iron(II) per galloyl",
            "iron_per_galloyl",
            t.iron_per_galloyl,
        ),
    ])?;
    if given(FGALL_TARGET_GALLIC_SHARE) {
        out = out.gallic_share(Share::new(t.gallic_share).arg("gallic_share", t.gallic_share)?);
    }
    if given(FGALL_TARGET_GUM) {
        out = out
            .gum(grams_per_liter(t.gum_g_per_l))
            .arg("gum_g_per_l", t.gum_g_per_l)?;
    }
    if given(FGALL_TARGET_STRONG_ACID) {
        let mol_per_l = t.strong_acid_mol_per_l;
        let acid = out.strong_acid(moles_per_liter(mol_per_l));
        out = acid.arg("strong_acid_mol_per_l", mol_per_l)?;
    }
    if given(FGALL_TARGET_DYE) {
        out = out
            .dye(grams_per_liter(t.dye_g_per_l))
            .arg("dye_g_per_l", t.dye_g_per_l)?;
    }
    if given(FGALL_TARGET_PRESERVATIVE) {
        let g_per_l = t.preservative_g_per_l;
        let preservative = out.preservative(grams_per_liter(g_per_l));
        out = preservative.arg("preservative_g_per_l", g_per_l)?;
    }
    Ok(out)
}

/// Bit of FgallChoice.set: gallic_acid_lot is given.
pub const FGALL_CHOICE_GALLIC_ACID: u32 = 1;
/// Bit of FgallChoice.set: gum_lot is given.
pub const FGALL_CHOICE_GUM: u32 = 2;
/// Bit of FgallChoice.set: acid_lot is given.
pub const FGALL_CHOICE_ACID: u32 = 4;
/// Bit of FgallChoice.set: dye_lot is given.
pub const FGALL_CHOICE_DYE: u32 = 8;
/// Bit of FgallChoice.set: preservative_lot is given.
pub const FGALL_CHOICE_PRESERVATIVE: u32 = 16;

/// The lots chosen from the shelf, by index: one for each target.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallChoice {
    /// sizeof(FgallChoice), filled in by the caller.
    pub struct_size: usize,
    /// For the iron(II).
    pub iron_lot: usize,
    /// For the galloyl units.
    pub tannin_lot: usize,
    /// To make up with, and for plant matter to soak in.
    pub water_lot: usize,
    /// Which fields below are given: FGALL_CHOICE_… bits.
    pub set: u32,
    /// For the gallic share.
    pub gallic_acid_lot: usize,
    /// For the gum.
    pub gum_lot: usize,
    /// For the strong acid; an acid or a base.
    pub acid_lot: usize,
    /// For the dye.
    pub dye_lot: usize,
    /// For the preservative.
    pub preservative_lot: usize,
}
versioned!(FgallChoice);

pub(super) fn choice_of(
    shelf: &FgallShelf,
    c: &FgallChoice,
    soak: Option<FgallSoak>,
) -> Outcome<Choice> {
    known_bits(c.set, 31, "set")?;
    let given = |bit| c.set & bit != 0;
    let mut out = Choice::new(
        shelf.lot(c.iron_lot, "iron_lot")?,
        shelf.lot(c.tannin_lot, "tannin_lot")?,
        shelf.lot(c.water_lot, "water_lot")?,
    );
    if let Some(soak) = soak {
        out = out.soaked(soak_of(&soak)?);
    }
    if given(FGALL_CHOICE_GALLIC_ACID) {
        out = out.gallic_acid(shelf.lot(c.gallic_acid_lot, "gallic_acid_lot")?);
    }
    if given(FGALL_CHOICE_GUM) {
        out = out.gum(shelf.lot(c.gum_lot, "gum_lot")?);
    }
    if given(FGALL_CHOICE_ACID) {
        out = out.acid(shelf.lot(c.acid_lot, "acid_lot")?);
    }
    if given(FGALL_CHOICE_DYE) {
        out = out.dye(shelf.lot(c.dye_lot, "dye_lot")?);
    }
    if given(FGALL_CHOICE_PRESERVATIVE) {
        out = out.preservative(shelf.lot(c.preservative_lot, "preservative_lot")?);
    }
    Ok(out)
}

pub(super) fn soak_of(soak: &FgallSoak) -> Outcome<Soak> {
    known_bits(soak.set, SOAK_BITS, "set")?;
    let given = |bit| soak.set & bit != 0;
    let mut out = Soak::default();
    if given(FGALL_SOAK_YIELD) {
        let yielding = out.yielding(soak.yield_share, soak.yield_u);
        out = yielding.arg_with_u(("yield_share", soak.yield_share), ("yield_u", soak.yield_u))?;
    }
    if given(FGALL_SOAK_HOLD_UP) {
        let holding = out.holding_back(soak.hold_up_g_per_g);
        out = holding.arg("hold_up_g_per_g", soak.hold_up_g_per_g)?;
    }
    if given(FGALL_SOAK_WATER) {
        let water = out.water_per_plant(soak.water_g_per_g);
        out = water.arg("water_g_per_g", soak.water_g_per_g)?;
    }
    Ok(out)
}

/// The recipe that meets the targets with the chosen lots; `soak` says how a
/// plant is soaked and may be NULL. fgall_recipe_free() the recipe.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_formulate_new(
    shelf: *const FgallShelf,
    choice: *const FgallChoice,
    targets: *const FgallTargets,
    soak: *const FgallSoak,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle(shelf, "shelf")?;
            let choice = read_struct(choice, "choice")?;
            let targets = read_struct(targets, "targets")?;
            let soak = read_struct_if_given(soak, "soak")?;
            let slot = out(recipe, "recipe")?;
            let choice = choice_of(shelf, &choice, soak)?;
            let formulated = choice.formulate(&targets_of(&targets)?)?;
            slot.put(FgallRecipe::boxed(formulated.recipe));
            Ok(())
        })
    }
}
