//! Sheets of recipes, and recipes given as JSON.

use super::bottles::plan;
use super::error::{Blame, FgallError, Outcome, unknown_name};
use super::formulate::equal_of;
use super::guard::{guard, handle, known_bits, out, read_struct_if_given, versioned};
use super::lots::FgallShelf;
use super::oxidation::{
    Barrier, FGALL_BOTTLE_AIR, FGALL_BOTTLE_AIR_EXCHANGED, FGALL_BOTTLE_DRAWN, FGALL_BOTTLE_KEPT,
    FGALL_BOTTLE_OPENED, FGALL_BOTTLE_STATED_SHARE, FGALL_BOTTLE_WALL,
};
use super::recipe::FgallRecipe;
use super::rounding::{FgallKit, kit_if_given};
use super::status::{FGALL_UNKNOWN_NAME, FgallStatus};
use super::strings::{deliver, text};
use crate::json::{batch_from_json, sheet_from_json};
use crate::quantity::{Share, celsius, days, kilopascals, milliliters};
use crate::recipe::{BatchSheet, Recipe, SheetOptions, Storage};
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

/// Bit of FgallSheetOptions.set: bottles, capacity_ml, fill_share and
/// loss_share are given.
pub const FGALL_SHEET_BOTTLES: u32 = 1;
/// Bit of FgallSheetOptions.set: lot_name, shelf, to_lot and equal are given.
pub const FGALL_SHEET_SUBSTITUTE: u32 = 2;

/// How the bottles of a sheet are kept and used. `set` takes the bits of
/// FgallBottle; two of those, FGALL_BOTTLE_IRON_PER_OXYGEN and
/// FGALL_BOTTLE_WITHOUT_DISSOLVED_OXYGEN, have no place here.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStorage {
    /// sizeof(FgallStorage), filled in by the caller.
    pub struct_size: usize,
    /// Identifier of the closure (see fgall_closure_id) of glass bottles;
    /// NULL: sealed glass, or the wall below.
    pub closure: *const c_char,
    /// Which of the rest is given: FGALL_BOTTLE_… bits.
    pub set: u32,
    /// Temperature of the shelf, 0 to 40 °C; 20 if not given.
    pub temperature_c: f64,
    /// Pressure of the air, 50.7 to 111.4 kPa; 101.325 if not given.
    pub pressure_kpa: f64,
    /// Time between two openings; never opened if not given.
    pub opened_every_days: f64,
    /// Share of the headspace air exchanged at an opening; 0.3 if not given.
    pub air_exchanged_share: f64,
    /// Ink taken out at each opening; none if not given.
    pub drawn_ml: f64,
    /// How long to look ahead; a year if not given.
    pub kept_days: f64,
    /// The lost share of iron(II) that is too much; 0.2 if not given.
    pub stated_share: f64,
    /// Identifier of the polymer of bottles under a tight cap (see
    /// fgall_polymer_id).
    pub wall_polymer: *const c_char,
    /// Area of a wall, 0 to 1e7 cm2.
    pub wall_area_cm2: f64,
    /// Thickness of a wall, 0.001 to 1000 mm.
    pub wall_thickness_mm: f64,
}
versioned!(FgallStorage);

const STORAGE_BITS: u32 = FGALL_BOTTLE_AIR
    | FGALL_BOTTLE_OPENED
    | FGALL_BOTTLE_AIR_EXCHANGED
    | FGALL_BOTTLE_DRAWN
    | FGALL_BOTTLE_KEPT
    | FGALL_BOTTLE_STATED_SHARE
    | FGALL_BOTTLE_WALL;

/// # Safety
/// As for the whole room.
unsafe fn storage_of(s: &FgallStorage) -> Outcome<Storage> {
    known_bits(s.set, STORAGE_BITS, "set")?;
    let given = |bit| s.set & bit != 0;
    let barrier = Barrier {
        closure: s.closure,
        wall_given: given(FGALL_BOTTLE_WALL),
        wall_polymer: s.wall_polymer,
        wall_area_cm2: s.wall_area_cm2,
        wall_thickness_mm: s.wall_thickness_mm,
    };
    let mut out = Storage {
        // SAFETY: as promised by the caller.
        closure: unsafe { barrier.closure() }?,
        ..Storage::default()
    };
    if given(FGALL_BOTTLE_AIR) {
        out.temperature = celsius(s.temperature_c);
        out.pressure = kilopascals(s.pressure_kpa);
    }
    if given(FGALL_BOTTLE_OPENED) {
        out.opened_every = Some(days(s.opened_every_days));
    }
    if given(FGALL_BOTTLE_AIR_EXCHANGED) {
        let share = Share::new(s.air_exchanged_share);
        out.air_exchanged = share.arg("air_exchanged_share", s.air_exchanged_share)?;
    }
    if given(FGALL_BOTTLE_DRAWN) {
        out.drawn_per_opening = milliliters(s.drawn_ml);
    }
    if given(FGALL_BOTTLE_KEPT) {
        out.kept_for = days(s.kept_days);
    }
    if given(FGALL_BOTTLE_STATED_SHARE) {
        let share = Share::new(s.stated_share);
        out.stated_share = share.arg("stated_share", s.stated_share)?;
    }
    Ok(out)
}

/// What a sheet shall speak of beside the ink itself.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSheetOptions {
    /// sizeof(FgallSheetOptions), filled in by the caller.
    pub struct_size: usize,
    /// Tools at hand, to which the amounts are rounded; may be NULL.
    pub kit: *const FgallKit,
    /// How the bottles are kept and used; may be NULL, and says nothing
    /// without bottles.
    pub storage: *const FgallStorage,
    /// Name of the currency of the prices; may be NULL.
    pub currency: *const c_char,
    /// Which of the rest is given: FGALL_SHEET_… bits.
    pub set: u32,
    /// Bottles to fill, 1 to 1000000. The recipe is taken as it is; see
    /// fgall_recipe_for_bottles.
    pub bottles: u32,
    /// Brimful capacity of a bottle, 0.1 to 1e6 mL.
    pub capacity_ml: f64,
    /// Share of a bottle that is filled, 0.01 to 1.
    pub fill_share: f64,
    /// Share of the batch that stays in pots and funnels, 0 to 0.9.
    pub loss_share: f64,
    /// "What if": the lot to replace, by its name.
    pub lot_name: *const c_char,
    /// The shelf of the lot to take instead.
    pub shelf: *const FgallShelf,
    /// Its index there.
    pub to_lot: usize,
    /// What is kept equal: FGALL_EQUAL_….
    pub equal: u32,
}
versioned!(FgallSheetOptions);

/// The sheet of a recipe; the options may be NULL.
///
/// # Safety
/// As for the whole room.
unsafe fn sheet_of(recipe: &Recipe, options: *const FgallSheetOptions) -> Outcome<BatchSheet> {
    let mut wanted = SheetOptions::default();
    let (mut storage, mut replaced) = (None, "");
    // SAFETY: as promised by the caller, here and for what the options name.
    unsafe {
        if let Some(o) = read_struct_if_given(options, "options")? {
            known_bits(o.set, FGALL_SHEET_BOTTLES | FGALL_SHEET_SUBSTITUTE, "set")?;
            wanted.kit = kit_if_given(o.kit)?;
            storage = read_struct_if_given(o.storage, "storage")?;
            wanted.storage = storage.as_ref().map(|s| storage_of(s)).transpose()?;
            if !o.currency.is_null() {
                wanted.currency = text(o.currency, "currency")?.to_string();
            }
            if o.set & FGALL_SHEET_BOTTLES != 0 {
                let plan = plan(o.bottles, o.capacity_ml, o.fill_share, o.loss_share);
                wanted.bottles = Some(plan?);
            }
            if o.set & FGALL_SHEET_SUBSTITUTE != 0 {
                replaced = text(o.lot_name, "lot_name")?;
                let to = handle(o.shelf, "shelf")?.lot(o.to_lot, "to_lot")?;
                wanted.substitute = Some((replaced.to_string(), to.clone(), equal_of(o.equal)?));
            }
        }
    }
    let sheet = BatchSheet::new(recipe, &wanted);
    let sheet = match storage {
        Some(s) => sheet.arg_of(&[
            ("temperature", "temperature_c", s.temperature_c),
            ("pressure", "pressure_kpa", s.pressure_kpa),
            ("ink per opening", "drawn_ml", s.drawn_ml),
            (
                "time between openings",
                "opened_every_days",
                s.opened_every_days,
            ),
            ("duration", "kept_days", s.kept_days),
        ]),
        None => sheet.arg_of(&[]),
    };
    sheet.map_err(|failure| match failure.status {
        FGALL_UNKNOWN_NAME => unknown_name("lot_name", replaced),
        _ => failure,
    })
}

/// The batch sheet of a recipe, as a page to print; `options` may be NULL. With
/// a kit it is the sheet of the rounded recipe; the recipe itself is left as it
/// is. It is worked out in every call: give a buffer of 16 KiB at once to save
/// the second one.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_sheet_text(
    recipe: *const FgallRecipe,
    options: *const FgallSheetOptions,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let sheet = sheet_of(&handle(recipe, "recipe")?.recipe, options)?;
            deliver(&sheet.to_string(), buffer, capacity, needed)
        })
    }
}

/// The same sheet as JSON for a program to read, in the shape of
/// fgall_sheet_json.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_sheet_json(
    recipe: *const FgallRecipe,
    options: *const FgallSheetOptions,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let sheet = sheet_of(&handle(recipe, "recipe")?.recipe, options)?;
            deliver(&sheet.to_json()?, buffer, capacity, needed)
        })
    }
}
