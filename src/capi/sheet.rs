//! Recipes in and sheets out, as JSON.

use super::error::FgallError;
use super::guard::{guard, out};
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::{deliver, text};
use crate::json::{batch_from_json, sheet_from_json};
use core::ffi::c_char;

/// The batch sheet of a recipe given as JSON, as a page to print. It is worked
/// out in every call: give a buffer of 16 KiB at once to save the second one.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_sheet_text(
    json: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let sheet = sheet_from_json(text(json, "json")?)?;
            deliver(&sheet.to_string(), buffer, capacity, needed)
        })
    }
}

/// The batch sheet of a recipe given as JSON, as JSON for a program to read:
/// composition, weighings, findings, cautions and the oxygen bound.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_sheet_json(
    json: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let sheet = sheet_from_json(text(json, "json")?)?;
            deliver(&sheet.to_json()?, buffer, capacity, needed)
        })
    }
}

/// The recipe given as JSON, scaled to its bottles where there are any;
/// fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_json_new(
    json: *const c_char,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let json = text(json, "json")?;
            let slot = out(recipe, "recipe")?;
            slot.put(FgallRecipe::boxed(batch_from_json(json)?.recipe));
            Ok(())
        })
    }
}
