//! Scaling: by a factor, to a volume, for bottles, to what is there.

use super::error::{Blame, FgallError, Outcome, mass, unknown_name, volume};
use super::guard::{guard, handle_mut, out_if_wanted, out_struct_if_wanted, versioned};
use super::recipe::FgallRecipe;
use super::status::{FGALL_UNKNOWN_NAME, FgallStatus};
use super::strings::text;
use crate::quantity::{ReadVolume, Share, milliliters, within};
use crate::recipe::{BottlePlan, Bottling};
use core::ffi::c_char;
use core::mem::size_of;

/// What a batch for so many bottles comes to. Money is NaN when nothing has a
/// price.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallBottling {
    /// sizeof(FgallBottling), filled in by the caller.
    pub struct_size: usize,
    /// What must be made, losses included.
    pub batch_ml: f64,
    /// Ink in a bottle.
    pub fill_ml: f64,
    /// Materials of the batch.
    pub cost_per_batch: f64,
    /// Per litre made.
    pub cost_per_l: f64,
    /// Per bottle filled.
    pub cost_per_bottle: f64,
    /// Lines without a price, not counted.
    pub unpriced_lines: usize,
}
versioned!(FgallBottling);

impl FgallBottling {
    fn of(plan: &BottlePlan, bottling: &Bottling) -> FgallBottling {
        FgallBottling {
            struct_size: size_of::<FgallBottling>(),
            batch_ml: plan.batch_volume().in_milliliters(),
            fill_ml: plan.fill_volume().in_milliliters(),
            cost_per_batch: bottling.per_batch.unwrap_or(f64::NAN),
            cost_per_l: bottling.per_liter.unwrap_or(f64::NAN),
            cost_per_bottle: bottling.per_bottle.unwrap_or(f64::NAN),
            unpriced_lines: bottling.unpriced,
        }
    }
}

pub(super) fn plan(
    bottles: u32,
    capacity_ml: f64,
    fill_share: f64,
    loss_share: f64,
) -> Outcome<BottlePlan> {
    let full = BottlePlan::new(bottles, milliliters(capacity_ml)).arg_of(&[
        ("number of bottles", "bottles", f64::from(bottles)),
        ("bottle volume", "capacity_ml", capacity_ml),
    ])?;
    let fill = Share::new(fill_share).arg("fill_share", fill_share)?;
    let filled = full.filled(fill).arg("fill_share", fill_share)?;
    let loss = Share::new(loss_share).arg("loss_share", loss_share)?;
    filled.losing(loss).arg("loss_share", loss_share)
}

/// Multiplies every amount, final volumes and stock portions included;
/// 1e-9 to 1e9.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_scale(
    recipe: *mut FgallRecipe,
    factor: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let factor = within("factor", factor, 1e-9, 1e9, "")?;
            recipe.recipe = recipe.recipe.scaled(factor);
            Ok(())
        })
    }
}

/// The same ink at another volume.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_to_volume(
    recipe: *mut FgallRecipe,
    volume_ml: f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let want = volume("volume_ml", volume_ml)?;
            let scaled = recipe.recipe.to_volume(want);
            recipe.recipe = scaled.arg_of(&[
                ("volume", "volume_ml", volume_ml),
                ("scale", "volume_ml", volume_ml),
            ])?;
            Ok(())
        })
    }
}

/// The same ink for so many bottles of this brimful capacity, each filled to a
/// share (0.01 to 1), while a share of the batch (0 to 0.9) stays in pots and
/// funnels. `bottling` may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_for_bottles(
    recipe: *mut FgallRecipe,
    bottles: u32,
    capacity_ml: f64,
    fill_share: f64,
    loss_share: f64,
    bottling: *mut FgallBottling,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let slot = out_struct_if_wanted(bottling, "bottling")?;
            let plan = plan(bottles, capacity_ml, fill_share, loss_share)?;
            let scaled = recipe.recipe.for_bottles(&plan)?;
            if let Some(slot) = slot {
                slot.put(FgallBottling::of(&plan, &scaled.bottling(&plan)?));
            }
            recipe.recipe = scaled;
            Ok(())
        })
    }
}

/// As much of this ink as so much of one lot allows ("I have 8 g of galls").
/// The volume it makes and the factor may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_limited_by(
    recipe: *mut FgallRecipe,
    lot_name: *const c_char,
    available_g: f64,
    volume_ml: *mut f64,
    factor: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let name = text(lot_name, "lot_name")?;
            let volume = out_if_wanted(volume_ml, "volume_ml")?;
            let times = out_if_wanted(factor, "factor")?;
            let available = mass("available_g", available_g)?;
            let batch = recipe.recipe.limited_by(name, available);
            let batch =
                batch
                    .arg("available_g", available_g)
                    .map_err(|failure| match failure.status {
                        FGALL_UNKNOWN_NAME => unknown_name("lot_name", name),
                        _ => failure,
                    })?;
            if let Some(slot) = volume {
                slot.put(batch.volume.in_milliliters());
            }
            if let Some(slot) = times {
                slot.put(batch.factor);
            }
            recipe.recipe = batch.recipe;
            Ok(())
        })
    }
}
