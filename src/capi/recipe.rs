//! Recipes: solutions, what goes into them, and their sizes.

use super::error::{Blame, Failure, FgallError, Outcome, mass, volume};
use super::guard::{guard, handle, handle_mut, known_bits, out, read_struct_if_given, versioned};
use super::lots::FgallShelf;
use super::status::{FGALL_NO_SOLUTION, FgallStatus};
use super::strings::text;
use crate::bench::Lot;
use crate::quantity::{Share, within};
use crate::recipe::{Amount, Extraction, Portion, Recipe, Solution, must_go_in_whole, must_pour};
use core::ffi::c_char;

/// A recipe: solutions made separately, poured together, and made up to a
/// volume. It holds copies of the lots it uses. A call that fails leaves it as
/// it was.
pub struct FgallRecipe {
    pub(super) recipe: Recipe,
}

impl FgallRecipe {
    pub(super) fn boxed(recipe: Recipe) -> *mut FgallRecipe {
        Box::into_raw(Box::new(FgallRecipe { recipe }))
    }

    /// Changes the solution begun last.
    pub(super) fn change(&mut self, change: impl FnOnce(Solution) -> Solution) -> Outcome<()> {
        let last = self.recipe.solutions.pop().ok_or_else(|| {
            Failure::new(FGALL_NO_SOLUTION, "recipe", "has no solution begun yet")
        })?;
        self.recipe.solutions.push(change(last));
        Ok(())
    }
}

/// Changes the recipe with a lot of the shelf.
///
/// # Safety
/// As for the whole room.
unsafe fn with_lot(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    change: impl FnOnce(&mut FgallRecipe, &Lot) -> Outcome<()>,
) -> Outcome<()> {
    // SAFETY: as promised by the caller.
    let (recipe, shelf) = unsafe { (handle_mut(recipe, "recipe")?, handle(shelf, "shelf")?) };
    change(recipe, shelf.lot(lot, "lot")?)
}

/// # Safety
/// As for the whole room.
unsafe fn add_whole(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    amount: impl Into<Amount>,
) -> Outcome<()> {
    let change = |recipe: &mut FgallRecipe, lot: &Lot| {
        must_go_in_whole(lot)?;
        recipe.change(|s| s.add(lot, amount))
    };
    // SAFETY: as promised by the caller.
    unsafe { with_lot(recipe, shelf, lot, change) }
}

/// An empty recipe; fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_new(
    title: *const c_char,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let title = text(title, "title")?;
            out(recipe, "recipe")?.put(FgallRecipe::boxed(Recipe::new(title)));
            Ok(())
        })
    }
}

/// A copy of a recipe, with a life of its own; fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_copy_new(
    recipe: *const FgallRecipe,
    copy: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            out(copy, "copy")?.put(FgallRecipe::boxed(recipe.recipe.clone()));
            Ok(())
        })
    }
}

/// Frees a recipe; NULL does nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_free(recipe: *mut FgallRecipe) {
    if !recipe.is_null() {
        // SAFETY: from a _new function and not freed, by the caller's promise.
        drop(unsafe { Box::from_raw(recipe) });
    }
}

/// Begins a solution. What is added from here on goes into it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_begin_solution(
    recipe: *mut FgallRecipe,
    name: *const c_char,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let name = text(name, "name")?;
            recipe.recipe.solutions.push(Solution::new(name));
            Ok(())
        })
    }
}

/// Puts a weighed lot into the solution begun last.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_add_mass(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    mass_g: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let mass = mass("mass_g", mass_g)?;
            add_whole(recipe, shelf, lot, mass)
        })
    }
}

/// Puts a measured volume of a lot into the solution begun last.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_add_volume(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    volume_ml: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let volume = volume("volume_ml", volume_ml)?;
            add_whole(recipe, shelf, lot, volume)
        })
    }
}

/// Puts parts by weight of a lot into the solution begun last; see
/// fgall_recipe_set_part.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_add_parts(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    parts: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let parts = Amount::Parts(within("parts", parts, 0.0, 1e6, "")?);
            add_whole(recipe, shelf, lot, parts)
        })
    }
}

/// What one part weighs.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_set_part(
    recipe: *mut FgallRecipe,
    part_g: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            recipe.recipe.part = Some(mass("part_g", part_g)?);
            Ok(())
        })
    }
}

/// Bit of FgallSoak.set: yield_share and yield_u are given.
pub const FGALL_SOAK_YIELD: u32 = 1;
/// Bit of FgallSoak.set: hold_up_g_per_g is given.
pub const FGALL_SOAK_HOLD_UP: u32 = 2;
/// Bit of FgallSoak.set: water_g_per_g is given.
pub const FGALL_SOAK_WATER: u32 = 4;

/// How plant matter is soaked and strained. What `set` does not name is the
/// library's default, an expert guess for crushed galls soaked for a day.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSoak {
    /// sizeof(FgallSoak), filled in by the caller.
    pub struct_size: usize,
    /// Which fields below are given: FGALL_SOAK_… bits.
    pub set: u32,
    /// Share of the tannin that passes into the liquid, what the marc keeps
    /// included, 0 to 1.
    pub yield_share: f64,
    /// Its standard uncertainty (k = 1).
    pub yield_u: f64,
    /// Water that a gram of dry marc keeps, 0 to 20 g/g.
    pub hold_up_g_per_g: f64,
    /// Water per gram of plant, 0.1 to 1000 g/g; for formulations only.
    pub water_g_per_g: f64,
}
versioned!(FgallSoak);

pub(super) const SOAK_BITS: u32 = FGALL_SOAK_YIELD | FGALL_SOAK_HOLD_UP | FGALL_SOAK_WATER;

/// Puts the liquor drawn from a plant lot into the solution begun last: so much
/// plant soaked in so much of a liquid lot, and strained. `soak` may be NULL;
/// FGALL_SOAK_WATER has no place in it, the liquid is given here.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_add_extraction(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    plant_lot: usize,
    plant_g: f64,
    liquid_lot: usize,
    liquid_ml: f64,
    soak: *const FgallSoak,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let shelf = handle(shelf, "shelf")?;
            let soak = read_struct_if_given(soak, "soak")?;
            let plant = shelf.lot(plant_lot, "plant_lot")?;
            let liquid = shelf.lot(liquid_lot, "liquid_lot")?;
            let plant_mass = mass("plant_g", plant_g)?;
            let liquid_volume = volume("liquid_ml", liquid_ml)?;
            let mut extraction = Extraction::new(plant, plant_mass, liquid, liquid_volume);
            if let Some(soak) = soak {
                known_bits(soak.set, FGALL_SOAK_YIELD | FGALL_SOAK_HOLD_UP, "set")?;
                if soak.set & FGALL_SOAK_YIELD != 0 {
                    let yielding = extraction.yielding(soak.yield_share, soak.yield_u);
                    extraction = yielding
                        .arg_with_u(("yield_share", soak.yield_share), ("yield_u", soak.yield_u))?;
                }
                if soak.set & FGALL_SOAK_HOLD_UP != 0 {
                    let holding = extraction.holding_back(soak.hold_up_g_per_g);
                    extraction = holding.arg("hold_up_g_per_g", soak.hold_up_g_per_g)?;
                }
            }
            recipe.change(|s| s.extract(extraction))
        })
    }
}

/// Fills the solution begun last up to a volume with a liquid lot.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_make_up_solution(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    volume_ml: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let volume = volume("volume_ml", volume_ml)?;
            with_lot(recipe, shelf, lot, |r, lot| {
                must_pour(lot)?;
                r.change(|s| s.make_up(lot, volume))
            })
        })
    }
}

/// Uses only a share (0 to 1) of the solution begun last; the rest is stock.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_use_share(
    recipe: *mut FgallRecipe,
    share: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let share = Portion::Share(Share::new(share).arg("share", share)?);
            handle_mut(recipe, "recipe")?.change(|s| s.use_only(share))
        })
    }
}

/// Uses only a volume of the solution begun last; the rest is stock.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_use_volume(
    recipe: *mut FgallRecipe,
    volume_ml: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let portion = Portion::Volume(volume("volume_ml", volume_ml)?);
            handle_mut(recipe, "recipe")?.change(|s| s.use_only(portion))
        })
    }
}

/// Uses only a mass of the solution begun last; the rest is stock.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_use_mass(
    recipe: *mut FgallRecipe,
    mass_g: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let portion = Portion::Mass(mass("mass_g", mass_g)?);
            handle_mut(recipe, "recipe")?.change(|s| s.use_only(portion))
        })
    }
}

/// Fills the whole ink up to its final volume with a liquid lot.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_make_up(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    lot: usize,
    volume_ml: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let volume = volume("volume_ml", volume_ml)?;
            with_lot(recipe, shelf, lot, |r, lot| {
                must_pour(lot)?;
                r.recipe.make_up = Some((lot.clone(), volume));
                Ok(())
            })
        })
    }
}
