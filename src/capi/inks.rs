//! The published inks.

use super::error::{Blame, FgallError, Outcome, no_such_index, unknown_name, volume};
use super::formulate::{FgallChoice, choice_of};
use super::guard::{guard, handle, out, read_struct, read_struct_if_given};
use super::lots::FgallShelf;
use super::recipe::{FgallRecipe, FgallSoak};
use super::status::FgallStatus;
use super::strings::{deliver, text};
use crate::standards::{ReferenceInk, reference_ink, reference_inks};
use core::ffi::c_char;

/// Number of published inks.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_reference_ink_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(reference_inks().len());
            Ok(())
        })
    }
}

fn ink_at(index: usize) -> Outcome<&'static ReferenceInk> {
    let inks = reference_inks();
    inks.get(index)
        .ok_or_else(|| no_such_index("index", index, inks.len()))
}

fn ink_called(id: &str) -> Outcome<&'static ReferenceInk> {
    reference_ink(id).ok_or_else(|| unknown_name("ink", id))
}

/// Identifier of the published ink at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_reference_ink_id(
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            deliver(ink_at(index)?.id, buffer, capacity, needed)
        })
    }
}

/// Name of a published ink, where it was published, and how far that may be
/// trusted.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_reference_ink_source(
    ink: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let ink = ink_called(text(ink, "ink")?)?;
            let words = format!("{}: {}", ink.name, ink.source);
            deliver(&words, buffer, capacity, needed)
        })
    }
}

/// A published ink from pure materials, at a strength (1 as published).
/// fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_reference_new(
    ink: *const c_char,
    volume_ml: f64,
    strength: f64,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let ink = ink_called(text(ink, "ink")?)?;
            let slot = out(recipe, "recipe")?;
            let made = ink.recipe(volume("volume_ml", volume_ml)?, strength);
            slot.put(FgallRecipe::boxed(made.arg_of(&[(
                "volume",
                "volume_ml",
                volume_ml,
            )])?));
            Ok(())
        })
    }
}

/// A published ink made from chosen lots instead of pure materials: its iron and
/// proportion, and what a lot is chosen for of its gallic share, gum, acid, dye
/// and preservative. The rest is left out. `soak` may be NULL.
/// fgall_recipe_free() the recipe.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_formulate_like_new(
    shelf: *const FgallShelf,
    choice: *const FgallChoice,
    ink: *const c_char,
    volume_ml: f64,
    strength: f64,
    soak: *const FgallSoak,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle(shelf, "shelf")?;
            let choice = read_struct(choice, "choice")?;
            let ink = ink_called(text(ink, "ink")?)?;
            let soak = read_struct_if_given(soak, "soak")?;
            let slot = out(recipe, "recipe")?;
            let volume = volume("volume_ml", volume_ml)?;
            let like = ink.targets(volume, strength);
            let targets = like.arg_of(&[("volume", "volume_ml", volume_ml)])?;
            let choice = choice_of(shelf, &choice, soak)?;
            let formulated = choice.formulate(&choice.reachable(&targets))?;
            slot.put(FgallRecipe::boxed(formulated.recipe));
            Ok(())
        })
    }
}
