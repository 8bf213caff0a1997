//! Old recipes, read.

use super::bench::FgallRange;
use super::error::{Blame, FgallError, Outcome, no_such_index};
use super::guard::{
    foreign, guard, handle, out, out_struct_if_wanted, read_array, read_struct, versioned,
};
use super::history::{FgallSetting, goods_of, setting_of};
use super::lots::FgallShelf;
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::{deliver, text};
use crate::history::{Ending, Figures, OldAmount, OldLine, OldRecipe, Reading, Role, Span};
use crate::quantity::{ReadVolume, Share, Volume};
use core::ffi::c_char;
use core::mem::size_of;

/// Galls, or other plant matter that is soaked.
pub const FGALL_ROLE_GALLS: u32 = 0;
/// Vitriol, or another iron salt.
pub const FGALL_ROLE_IRON_SALT: u32 = 1;
/// Gum.
pub const FGALL_ROLE_GUM: u32 = 2;
/// A liquid that goes in.
pub const FGALL_ROLE_LIQUID: u32 = 3;
/// Anything else.
pub const FGALL_ROLE_OTHER: u32 = 4;

/// Nothing said of the volume: the liquid that goes in.
pub const FGALL_ENDING_CHARGE: u32 = 0;
/// Boiled down to ending_share.
pub const FGALL_ENDING_BOILED_TO: u32 = 1;
/// Boiled down by ending_share.
pub const FGALL_ENDING_BOILED_BY: u32 = 2;
/// Boiled down to or by ending_share; read as to.
pub const FGALL_ENDING_BOILED_UNCLEAR: u32 = 3;
/// It yields what `yields` says.
pub const FGALL_ENDING_YIELDS: u32 = 4;

/// A line of an old recipe.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallOldLine {
    /// Index of the lot that stands for it.
    pub lot: usize,
    /// One of FGALL_ROLE_….
    pub role: u32,
    /// One of FGALL_GOODS_….
    pub goods: u32,
    /// The amount as written, without what it is of: "1 pound 4 ounces",
    /// "3 or 4 en_av_oz", "2 parts".
    pub amount: *const c_char,
}

/// An old recipe.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallOldRecipe {
    /// sizeof(FgallOldRecipe), filled in by the caller.
    pub struct_size: usize,
    /// Title.
    pub title: *const c_char,
    /// What is known of the text; not NULL, made with FGALL_INIT where nothing is.
    pub setting: *const FgallSetting,
    /// Its lines, at most 64.
    pub lines: *const FgallOldLine,
    /// How many.
    pub line_count: usize,
    /// One of FGALL_ENDING_….
    pub ending: u32,
    /// 1 if the galls are strained off before the salts go in, else 0.
    pub strained_first: u32,
    /// Share of the liquid that the boiling leaves or takes, 0 to 1; read with
    /// FGALL_ENDING_BOILED_… only.
    pub ending_share: f64,
    /// The volume it yields, as written; read with FGALL_ENDING_YIELDS only.
    pub yields: *const c_char,
    /// What the text says its liquids come to; NULL where it does not.
    pub liquids_said: *const c_char,
    /// Grams of one part; read with amounts in parts only. NaN when not known:
    /// one part is taken as 1 g then, and only proportions count. 0 is refused.
    pub part_g: f64,
}
versioned!(FgallOldRecipe);

/// An old recipe, read: figures of its likeliest reading, NaN where it does not
/// tell them. Those of the other readings, and the doubts in words, are in
/// fgall_old_recipe_json().
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallReading {
    /// sizeof(FgallReading), filled in by the caller.
    pub struct_size: usize,
    /// The liquid that goes in.
    pub liquid_ml: FgallRange,
    /// The volume it ends with.
    pub final_volume_ml: FgallRange,
    /// Galls to vitriol by mass.
    pub galls_per_vitriol: f64,
    /// Galls.
    pub galls_g_per_l: f64,
    /// Vitriol.
    pub vitriol_g_per_l: f64,
    /// Gum.
    pub gum_g_per_l: f64,
    /// Gum to galls by mass.
    pub gum_per_galls: f64,
    /// Iron.
    pub iron_g_per_l: f64,
    /// How many other readings there are, one doubt at a time.
    pub alternative_count: usize,
    /// How many doubts.
    pub doubt_count: usize,
}
versioned!(FgallReading);

/// # Safety
/// As for the whole room.
unsafe fn reading_of(shelf: *const FgallShelf, old: *const FgallOldRecipe) -> Outcome<Reading> {
    // SAFETY: as promised by the caller.
    let (shelf, old) = unsafe { (handle(shelf, "shelf")?, read_struct(old, "old")?) };
    // SAFETY: as promised by the caller.
    let (title, setting) = unsafe { (text(old.title, "title")?, setting_of(old.setting)?) };
    // SAFETY: as promised by the caller.
    let amount = |pointer, name: &str| Ok(OldAmount::parse(unsafe { text(pointer, name) }?)?);
    let mut recipe = OldRecipe::new(title, setting);
    // SAFETY: as promised by the caller.
    for line in unsafe { read_array(old.lines, old.line_count, 64, "lines") }? {
        let role = match line.role {
            FGALL_ROLE_GALLS => Role::Galls,
            FGALL_ROLE_IRON_SALT => Role::IronSalt,
            FGALL_ROLE_GUM => Role::Gum,
            FGALL_ROLE_LIQUID => Role::Liquid,
            FGALL_ROLE_OTHER => Role::Other,
            other => return Err(foreign(other, "role")),
        };
        let written: Outcome<OldAmount> = amount(line.amount, "amount");
        let lot = shelf.lot(line.lot, "lot")?;
        recipe = recipe.line(OldLine::new(role, lot, written?).of(goods_of(line.goods)?));
    }
    let share = || Share::new(old.ending_share).arg("ending_share", old.ending_share);
    recipe = recipe.ending(match old.ending {
        FGALL_ENDING_CHARGE => Ending::Charge,
        FGALL_ENDING_BOILED_TO => Ending::BoiledTo(share()?),
        FGALL_ENDING_BOILED_BY => Ending::BoiledBy(share()?),
        FGALL_ENDING_BOILED_UNCLEAR => Ending::BoiledUnclear(share()?),
        FGALL_ENDING_YIELDS => Ending::Yields(amount(old.yields, "yields")?),
        other => return Err(foreign(other, "ending")),
    });
    match old.strained_first {
        0 => {}
        1 => recipe = recipe.strained_first(),
        other => return Err(foreign(other, "strained_first")),
    }
    if !old.liquids_said.is_null() {
        recipe = recipe.saying_liquids_are(amount(old.liquids_said, "liquids_said")?);
    }
    if !old.part_g.is_nan() {
        recipe = recipe.with_part(super::error::mass("part_g", old.part_g)?);
    }
    Ok(recipe.read()?)
}

fn ml(span: Option<Span<Volume>>) -> FgallRange {
    span.map_or(FgallRange::NONE, |s| FgallRange {
        min: s.low.in_milliliters(),
        typical: s.typical.in_milliliters(),
        max: s.high.in_milliliters(),
    })
}

fn reading_struct(reading: &Reading) -> FgallReading {
    let Figures {
        galls_per_vitriol,
        galls_g_per_l,
        vitriol_g_per_l,
        gum_g_per_l,
        gum_per_galls,
        iron_g_per_l,
        ..
    } = reading.figures;
    let known = |x: Option<f64>| x.unwrap_or(f64::NAN);
    FgallReading {
        struct_size: size_of::<FgallReading>(),
        liquid_ml: ml(reading.liquid),
        final_volume_ml: ml(reading.final_volume),
        galls_per_vitriol: known(galls_per_vitriol),
        galls_g_per_l: known(galls_g_per_l),
        vitriol_g_per_l: known(vitriol_g_per_l),
        gum_g_per_l: known(gum_g_per_l),
        gum_per_galls: known(gum_per_galls),
        iron_g_per_l: known(iron_g_per_l),
        alternative_count: reading.alternatives.len(),
        doubt_count: reading.doubts.len(),
    }
}

/// Reads an old recipe: its figures into `reading`, which may be NULL, and the
/// recipe for its likeliest reading; *recipe becomes NULL where no liquid is given
/// or more goes in than the volume holds. fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_read_new(
    shelf: *const FgallShelf,
    old: *const FgallOldRecipe,
    reading: *mut FgallReading,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct_if_wanted(reading, "reading")?;
            let recipe = out(recipe, "recipe")?;
            let read = reading_of(shelf, old)?;
            if let Some(slot) = slot {
                slot.put(reading_struct(&read));
            }
            let made = read.recipe.map(FgallRecipe::boxed);
            recipe.put(made.unwrap_or(core::ptr::null_mut()));
            Ok(())
        })
    }
}

/// The recipe as if what the doubt at an index below the count says were meant;
/// *recipe becomes NULL where a doubt says nothing of the kind.
/// fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_read_meant_new(
    shelf: *const FgallShelf,
    old: *const FgallOldRecipe,
    doubt: usize,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = out(recipe, "recipe")?;
            let mut read = reading_of(shelf, old)?;
            let count = read.doubts.len();
            if doubt >= count {
                return Err(no_such_index("doubt", doubt, count));
            }
            let meant = read.doubts.swap_remove(doubt).meant;
            let made = meant.and_then(|m| m.recipe).map(FgallRecipe::boxed);
            recipe.put(made.unwrap_or(core::ptr::null_mut()));
            Ok(())
        })
    }
}

/// The whole reading as JSON: every line with what its units may mean, the other
/// readings, the doubts.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_old_recipe_json(
    shelf: *const FgallShelf,
    old: *const FgallOldRecipe,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let read = reading_of(shelf, old)?;
            deliver(&read.to_json(), buffer, capacity, needed)
        })
    }
}
