//! The best ink a cupboard can give, the most it can give, and stocks poured
//! together.

use super::bench::FGALL_NAME_BYTES;
use super::cupboard::{FgallCupboard, Laid};
use super::error::{FgallError, Outcome};
use super::guard::{deliver_all, foreign, guard, handle, out, out_struct, read_struct, versioned};
use super::lots::FgallShelf;
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::{deliver, fixed};
use super::study_answers::{criterion_called, finite};
use super::wanted::{Asked, FgallWanted, bit_of};
use crate::formulate::{Blend, Figure, Mixed, More, Most, Objective, Taken, Wanted};
use crate::quantity::{ReadMass, ReadVolume};
use core::ffi::c_char;
use core::mem::size_of;

/// An ink that can be made from a cupboard: the best, or where not everything
/// that is wanted can be had, the nearest. It holds copies of its lots and
/// outlives their shelf, and never changes.
pub struct FgallBlend {
    blend: Blend,
    laid: Laid,
    more: Vec<More>,
    residual: f64,
    page: String,
}

/// What is to be best: the least money; lots without a price count as free.
pub const FGALL_OBJECTIVE_LEAST_COST: u32 = 1;
/// What is to be best: nearest to what is wanted, by the sum of the relative
/// misses. With tools this is the best rounding.
pub const FGALL_OBJECTIVE_CLOSEST: u32 = 2;
/// What is to be best: the fewest lots to weigh, then the least money.
pub const FGALL_OBJECTIVE_FEWEST_WEIGHINGS: u32 = 3;
/// What is to be best: the least thrown away (marc with what it holds, and what
/// is left in packs that were bought), then the least money.
pub const FGALL_OBJECTIVE_LEAST_WASTE: u32 = 4;
/// What is to be best: the most assurance that iron stays within a criterion.
pub const FGALL_OBJECTIVE_SUREST: u32 = 5;

/// # Safety
/// As for the whole room.
pub(super) unsafe fn objective_of(code: u32, criterion: *const c_char) -> Outcome<Objective> {
    Ok(match code {
        FGALL_OBJECTIVE_LEAST_COST => Objective::LeastCost,
        FGALL_OBJECTIVE_CLOSEST => Objective::Closest,
        FGALL_OBJECTIVE_FEWEST_WEIGHINGS => Objective::FewestWeighings,
        FGALL_OBJECTIVE_LEAST_WASTE => Objective::LeastWaste,
        FGALL_OBJECTIVE_SUREST => {
            // SAFETY: as promised by the caller.
            Objective::Surest(*unsafe { criterion_called(criterion) }?)
        }
        other => return Err(foreign(other, "objective")),
    })
}

/// # Safety
/// As for the whole room.
unsafe fn question(
    shelf: *const FgallShelf,
    cupboard: *const FgallCupboard,
    wanted: *const FgallWanted,
) -> Outcome<(Laid, Wanted)> {
    // SAFETY: as promised by the caller.
    unsafe {
        let shelf = handle(shelf, "shelf")?;
        let cupboard = read_struct(cupboard, "cupboard")?;
        let wanted = Asked::of(&read_struct(wanted, "wanted")?, &[])?;
        Ok((Laid::out(&cupboard, shelf)?, wanted.wanted()?))
    }
}

impl FgallBlend {
    fn boxed(laid: Laid, blend: Blend, more: Vec<More>, residual: f64) -> *mut FgallBlend {
        let page = blend.to_string();
        Box::into_raw(Box::new(FgallBlend {
            blend,
            laid,
            more,
            residual,
            page,
        }))
    }
}

/// The best ink of this kind that the cupboard can give; where not everything
/// that is wanted can be had, the nearest (meets_all tells which). `objective` is
/// FGALL_OBJECTIVE_…; `criterion`, as in FgallVerdict, is read for
/// FGALL_OBJECTIVE_SUREST alone. With tools, what is wanted exactly is hardly
/// ever met to the last digit; the figures say by how much they miss.
/// FGALL_NAME_TAKEN for two lots of one name, FGALL_NO_OPTIMUM where the search
/// comes to nothing. fgall_blend_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_make_new(
    shelf: *const FgallShelf,
    cupboard: *const FgallCupboard,
    wanted: *const FgallWanted,
    objective: u32,
    criterion: *const c_char,
    blend: *mut *mut FgallBlend,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (laid, wanted) = question(shelf, cupboard, wanted)?;
            let objective = objective_of(objective, criterion)?;
            let slot = out(blend, "blend")?;
            let made = laid.shelf.make(&wanted, objective)?;
            slot.put(FgallBlend::boxed(laid, made, Vec::new(), f64::NAN));
            Ok(())
        })
    }
}

/// The most of an ink that can be made from what is on hand: nothing is bought,
/// amounts are of any size, and neither volume_ml nor the tools count.
/// fgall_blend_more says what one more purchase would give.
/// FGALL_NOTHING_LIMITS where there is no end to it, FGALL_INFEASIBLE where not a
/// drop of it can be made: fgall_shelf_make_new then tells what is missing.
/// fgall_blend_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_most_new(
    shelf: *const FgallShelf,
    cupboard: *const FgallCupboard,
    wanted: *const FgallWanted,
    blend: *mut *mut FgallBlend,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (laid, wanted) = question(shelf, cupboard, wanted)?;
            let slot = out(blend, "blend")?;
            let most = laid.shelf.most(&wanted)?;
            let page = most.to_string();
            let Most { blend, more } = most;
            slot.put(Box::into_raw(Box::new(FgallBlend {
                blend,
                laid,
                more,
                residual: f64::NAN,
                page,
            })));
            Ok(())
        })
    }
}

/// Volumes of stock solutions, each a liquid lot, that come nearest to what is
/// wanted by least squares of the relative misses; water makes up the rest. A
/// window counts by its middle, an open one by its end; what is on hand, prices,
/// assurance and tools do not count. FGALL_NOT_LINEAR for a pH,
/// FGALL_TOO_MUCH_FOR_VOLUME when the stocks are too weak, FGALL_NOT_A_LIQUID
/// for a solid. fgall_blend_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_mix_new(
    shelf: *const FgallShelf,
    cupboard: *const FgallCupboard,
    wanted: *const FgallWanted,
    blend: *mut *mut FgallBlend,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (laid, wanted) = question(shelf, cupboard, wanted)?;
            let slot = out(blend, "blend")?;
            let Mixed { blend, residual } = laid.shelf.mix(&wanted)?;
            slot.put(FgallBlend::boxed(laid, blend, Vec::new(), residual));
            Ok(())
        })
    }
}

/// Frees a blend; NULL does nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_free(blend: *mut FgallBlend) {
    if !blend.is_null() {
        // SAFETY: from a _new function and not freed, by the caller's promise.
        drop(unsafe { Box::from_raw(blend) });
    }
}

/// What comes out as a whole.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallBlendSummary {
    /// sizeof(FgallBlendSummary), filled in by the caller.
    pub struct_size: usize,
    /// Volume of the ink.
    pub volume_ml: f64,
    /// Lots to weigh or measure, the water that fills up not counted.
    pub weighings: usize,
    /// 1 if everything that was wanted is had.
    pub meets_all: u32,
    /// What it costs; NaN when nothing in it has a price.
    pub cost: f64,
    /// Marc with what it holds, and what is left in packs that were bought.
    pub waste_g: f64,
    /// Of stocks poured together: the root of the sum of squares of the relative
    /// misses; NaN otherwise.
    pub residual: f64,
}
versioned!(FgallBlendSummary);

/// What comes out as a whole.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_summary(
    blend: *const FgallBlend,
    summary: *mut FgallBlendSummary,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let FgallBlend {
                blend, residual, ..
            } = handle(blend, "blend")?;
            out_struct(summary, "summary")?.put(FgallBlendSummary {
                struct_size: size_of::<FgallBlendSummary>(),
                volume_ml: blend.volume.in_milliliters(),
                weighings: blend.weighings,
                meets_all: blend.meets_all().into(),
                cost: or_nan(blend.cost),
                waste_g: finite(blend.waste.in_grams()),
                residual: finite(*residual),
            });
            Ok(())
        })
    }
}

/// What does not exist, and what is not finite, is NaN over the border.
pub(super) fn or_nan(x: Option<f64>) -> f64 {
    x.map_or(f64::NAN, finite)
}

/// So much of one lot.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallTaken {
    /// Index of the lot on the shelf.
    pub lot: usize,
    /// Its name; all of it through fgall_shelf_lot_name.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// How much of it.
    pub mass_g: f64,
    /// The same by volume; NaN for a solid.
    pub volume_ml: f64,
    /// How many steps of its tool that is; NaN without tools.
    pub steps: f64,
    /// What is left of it, packs that were bought included; NaN where there is no
    /// end to it.
    pub left_g: f64,
    /// Whole packs of it to buy.
    pub packs: f64,
    /// What it costs, packs as packs and the rest by mass; NaN without a price.
    pub cost: f64,
}

impl FgallTaken {
    fn of(taken: &Taken, laid: &Laid) -> FgallTaken {
        FgallTaken {
            lot: laid.index(&taken.lot),
            name: fixed(&taken.lot),
            mass_g: taken.mass.in_grams(),
            volume_ml: taken.volume.map_or(f64::NAN, |v| v.in_milliliters()),
            steps: taken.steps.unwrap_or(f64::NAN),
            left_g: taken.left.map_or(f64::NAN, |m| m.in_grams()),
            packs: taken.packs,
            cost: or_nan(taken.cost),
        }
    }
}

/// What is taken of each lot, in the order of their names, without the water that
/// fills up. Written to `taken` if there is room for all (capacity is a number of
/// lots), and in any case *needed says how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_taken(
    blend: *const FgallBlend,
    taken: *mut FgallTaken,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let FgallBlend { blend, laid, .. } = handle(blend, "blend")?;
            let all = blend.taken.iter().map(|t| FgallTaken::of(t, laid));
            deliver_all(all, taken, capacity, needed, "taken")
        })
    }
}

/// One thing that was wanted, and what became of it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallFigure {
    /// Which: the FGALL_WANTED_… bit of its window, FGALL_WANTED_COST or
    /// FGALL_WANTED_ASSURANCE.
    pub wanted: u32,
    /// 1 if what was wanted is had.
    pub is_met: u32,
    /// In words.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// Unit of the three figures below; empty for ratios, pH and money.
    pub unit: [c_char; FGALL_NAME_BYTES],
    /// Low end of what was wanted; NaN where it is open.
    pub low: f64,
    /// High end; NaN where it is open.
    pub high: f64,
    /// What the ink has; NaN for a proportion with nothing below the line.
    pub reached: f64,
    /// How far it lies outside, as a share of the end it misses (of pH: in pH):
    /// negative below, positive above, 0 when it is met, 1 for a proportion that
    /// does not exist.
    pub miss: f64,
}

impl FgallFigure {
    fn of(figure: &Figure) -> FgallFigure {
        FgallFigure {
            wanted: bit_of(figure.id),
            is_met: figure.is_met().into(),
            name: fixed(figure.name),
            unit: fixed(figure.unit),
            low: finite(figure.low),
            high: finite(figure.high),
            reached: or_nan(figure.reached),
            miss: finite(figure.miss),
        }
    }
}

/// What was wanted and what became of it. Written to `figures` if there is room
/// for all (capacity is a number of figures), and in any case *needed says how
/// many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_figures(
    blend: *const FgallBlend,
    figures: *mut FgallFigure,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let blend = &handle(blend, "blend")?.blend;
            let all = blend.figures.iter().map(FgallFigure::of);
            deliver_all(all, figures, capacity, needed, "figures")
        })
    }
}

/// Lots that are used up, by their indices on the shelf: they may be why more
/// cannot be had. Written to `lots` if there is room for all, and in any case
/// *needed says how many there are, often none.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_used_up(
    blend: *const FgallBlend,
    lots: *mut usize,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let FgallBlend { blend, laid, .. } = handle(blend, "blend")?;
            let all = blend.used_up.iter().map(|name| laid.index(name));
            deliver_all(all, lots, capacity, needed, "lots")
        })
    }
}

/// What more of one lot would give by itself.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallMore {
    /// Index of the lot on the shelf.
    pub lot: usize,
    /// Its name; all of it through fgall_shelf_lot_name.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// So much more of it: a pack where it is sold in packs, else as much again
    /// as there is.
    pub mass_g: f64,
    /// What that costs; NaN without a price.
    pub cost: f64,
    /// Ink beyond what can be made now; NaN: there would be no end to it.
    pub volume_ml: f64,
}

impl FgallMore {
    fn of(more: &More, laid: &Laid) -> FgallMore {
        FgallMore {
            lot: laid.index(&more.lot),
            name: fixed(&more.lot),
            mass_g: more.mass.in_grams(),
            cost: or_nan(more.cost),
            volume_ml: finite(more.volume.in_milliliters()),
        }
    }
}

/// Of the most that can be made: what more of each lot that limits it, or that is
/// sold but not on hand, would give, the most first. Written to `more` if there is
/// room for all, and in any case *needed says how many there are; none for blends
/// from other functions.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_more(
    blend: *const FgallBlend,
    more: *mut FgallMore,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let blend = handle(blend, "blend")?;
            let all = blend.more.iter().map(|m| FgallMore::of(m, &blend.laid));
            deliver_all(all, more, capacity, needed, "more")
        })
    }
}

/// All of it as a short page: amounts, figures, and what ran out.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_text(
    blend: *const FgallBlend,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let blend = handle(blend, "blend")?;
            deliver(&blend.page, buffer, capacity, needed)
        })
    }
}

/// The recipe of a blend, ready to evaluate, scale and print, with a life of its
/// own; fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_blend_recipe_new(
    blend: *const FgallBlend,
    recipe: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let blend = &handle(blend, "blend")?.blend;
            out(recipe, "recipe")?.put(FgallRecipe::boxed(blend.recipe.clone()));
            Ok(())
        })
    }
}
