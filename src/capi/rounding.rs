//! Rounding to the tools at hand, and the smallest honest batch.

use super::bench::FGALL_NAME_BYTES;
use super::error::{Blame, FgallError, Outcome};
use super::guard::{
    deliver_all, foreign, guard, handle, handle_mut, out_struct, out_struct_if_wanted, read_array,
    read_struct, read_struct_if_given, versioned,
};
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::{fixed, text};
use crate::quantity::{ReadMass, ReadMolarConcentration, ReadVolume, grams, milliliters, within};
use crate::recipe::{Kit, Measure, Recipe, RoundedLine, StockAdvice, smallest_batch};
use core::ffi::c_char;
use core::mem::size_of;

/// A tool: a balance; its step is step_g.
pub const FGALL_TOOL_BALANCE: u32 = 1;
/// A tool: a cylinder, jug or syringe; its step is step_ml.
pub const FGALL_TOOL_CYLINDER: u32 = 2;
/// A tool: a level spoon of step_ml; the lot needs a bulk density.
pub const FGALL_TOOL_SPOON: u32 = 3;
/// A tool: a dropper; a drop is step_ml, about 0.05.
pub const FGALL_TOOL_DROPPER: u32 = 4;

/// The tool for one lot, where the balance and the cylinder of the kit are not
/// used for it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallTool {
    /// Name of the lot.
    pub lot_name: *const c_char,
    /// FGALL_TOOL_….
    pub kind: u32,
    /// Step of a balance; not read for the others.
    pub step_g: f64,
    /// Step of a cylinder, spoon or dropper; not read for a balance.
    pub step_ml: f64,
}

/// The tools at hand.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallKit {
    /// sizeof(FgallKit), filled in by the caller.
    pub struct_size: usize,
    /// Last digit of the balance, for solids.
    pub balance_step_g: f64,
    /// Volume between two marks of the cylinder, for liquids.
    pub cylinder_step_ml: f64,
    /// Other tools for some lots; NULL if there are none.
    pub tools: *const FgallTool,
    /// How many; a thousand at most.
    pub tool_count: usize,
}
versioned!(FgallKit);

/// # Safety
/// As for the whole room.
unsafe fn kit_of(kit: &FgallKit) -> Outcome<Kit> {
    let balance = within("balance_step_g", kit.balance_step_g, 1e-9, 1e6, "g")?;
    let cylinder = within("cylinder_step_ml", kit.cylinder_step_ml, 1e-6, 1e6, "mL")?;
    let mut out = Kit::new(grams(balance), milliliters(cylinder));
    // SAFETY: as promised by the caller; a tool is numbers and a pointer.
    let tools = unsafe { read_array(kit.tools, kit.tool_count, 1000, "tools") };
    for tool in tools.arg("tool_count", kit.tool_count as f64)? {
        // SAFETY: as promised by the caller.
        let name = unsafe { text(tool.lot_name, "lot_name") }?;
        out = out.with(name, measure(&tool)?);
    }
    Ok(out)
}

/// The tools, where the caller named any.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn kit_if_given(kit: *const FgallKit) -> Outcome<Option<Kit>> {
    // SAFETY: as promised by the caller.
    unsafe {
        let kit = read_struct_if_given(kit, "kit")?;
        kit.map(|kit| kit_of(&kit)).transpose()
    }
}

fn measure(tool: &FgallTool) -> Outcome<Measure> {
    let volume = || within("step_ml", tool.step_ml, 1e-6, 1e6, "mL").map(milliliters);
    Ok(match tool.kind {
        FGALL_TOOL_BALANCE => Measure::Balance {
            step: grams(within("step_g", tool.step_g, 1e-9, 1e6, "g")?),
        },
        FGALL_TOOL_CYLINDER => Measure::Cylinder { step: volume()? },
        FGALL_TOOL_SPOON => Measure::Spoon { volume: volume()? },
        FGALL_TOOL_DROPPER => Measure::Dropper { volume: volume()? },
        other => return Err(foreign(other, "kind")),
    })
}

/// What rounding does to the ink.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallRounding {
    /// sizeof(FgallRounding), filled in by the caller.
    pub struct_size: usize,
    /// Relative change of the iron(II) concentration.
    pub iron_error: f64,
    /// Relative change of iron per galloyl.
    pub ratio_error: f64,
    /// Change of the strong acid concentration.
    pub acid_error_mol_per_l: f64,
    /// The lot whose rounding alone changes the iron(II) most; empty when none
    /// does.
    pub worst_lot: [c_char; FGALL_NAME_BYTES],
    /// What it alone does to the iron(II) concentration, relative.
    pub worst_iron_error: f64,
}
versioned!(FgallRounding);

fn rounded(recipe: &Recipe, kit: &Kit) -> Outcome<(Recipe, FgallRounding)> {
    let rounding = recipe.rounded(kit)?;
    let mut worst = ("", 0.0);
    for line in &rounding.lines {
        if line.iron_error.abs() > f64::abs(worst.1) {
            worst = (&line.lot, line.iron_error);
        }
    }
    let out = FgallRounding {
        struct_size: size_of::<FgallRounding>(),
        iron_error: rounding.iron_error,
        ratio_error: rounding.ratio_error,
        acid_error_mol_per_l: rounding.acid_error.in_moles_per_liter(),
        worst_lot: fixed(worst.0),
        worst_iron_error: worst.1,
    };
    Ok((rounding.recipe, out))
}

/// Rounds every weighed or measured amount to a whole number of steps of its
/// tool. Volumes to make up to stay. `rounding` may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_round(
    recipe: *mut FgallRecipe,
    kit: *const FgallKit,
    rounding: *mut FgallRounding,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let kit = kit_of(&read_struct(kit, "kit")?)?;
            let slot = out_struct_if_wanted(rounding, "rounding")?;
            let (new, totals) = rounded(&recipe.recipe, &kit)?;
            recipe.recipe = new;
            if let Some(slot) = slot {
                slot.put(totals);
            }
            Ok(())
        })
    }
}

/// One amount and what rounding it alone does to the ink, all else left exact.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallRoundedLine {
    /// Name of the lot.
    pub lot: [c_char; FGALL_NAME_BYTES],
    /// Its tool: FGALL_TOOL_….
    pub tool: u32,
    /// The mass asked for.
    pub exact_g: f64,
    /// The mass that is taken.
    pub rounded_g: f64,
    /// Steps of the tool that is: a whole number.
    pub steps: f64,
    /// Relative change of the iron(II) concentration.
    pub iron_error: f64,
    /// Relative change of iron per galloyl; 0 without tannin.
    pub ratio_error: f64,
    /// Change of the strong acid concentration.
    pub acid_error_mol_per_l: f64,
}

impl FgallRoundedLine {
    fn of(line: &RoundedLine) -> FgallRoundedLine {
        FgallRoundedLine {
            lot: fixed(&line.lot),
            tool: match line.measure {
                Measure::Balance { .. } => FGALL_TOOL_BALANCE,
                Measure::Cylinder { .. } => FGALL_TOOL_CYLINDER,
                Measure::Spoon { .. } => FGALL_TOOL_SPOON,
                Measure::Dropper { .. } => FGALL_TOOL_DROPPER,
            },
            exact_g: line.exact.in_grams(),
            rounded_g: line.rounded.in_grams(),
            steps: line.steps,
            iron_error: line.iron_error,
            ratio_error: line.ratio_error,
            acid_error_mol_per_l: line.acid_error.in_moles_per_liter(),
        }
    }
}

/// What fgall_recipe_round would do to each amount, in working order; make-ups
/// are not among them, and the recipe is left as it is. Written to `lines` if
/// there is room for all (capacity is a number of lines), and in any case
/// *needed says how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_rounding_lines(
    recipe: *const FgallRecipe,
    kit: *const FgallKit,
    lines: *mut FgallRoundedLine,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let kit = kit_of(&read_struct(kit, "kit")?)?;
            let rounding = recipe.recipe.rounded(&kit)?;
            let all = rounding.lines.iter().map(FgallRoundedLine::of);
            deliver_all(all, lines, capacity, needed, "lines")
        })
    }
}

/// The smallest batch that can honestly be weighed.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSmallestBatch {
    /// sizeof(FgallSmallestBatch), filled in by the caller.
    pub struct_size: usize,
    /// Its volume.
    pub volume_ml: f64,
    /// Times the recipe as it is.
    pub factor: f64,
    /// The lot whose weighing sets it.
    pub limited_by: [c_char; FGALL_NAME_BYTES],
    /// Stock solutions for the recipe as it is; see fgall_recipe_stocks.
    pub stocks_wanted: usize,
}
versioned!(FgallSmallestBatch);

/// The smallest batch in which every amount is at least so many steps of its
/// tool (1 to 1e6; twenty is customary: an error of 2.5 % at most).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_smallest_batch(
    recipe: *const FgallRecipe,
    kit: *const FgallKit,
    steps: f64,
    smallest: *mut FgallSmallestBatch,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let kit = kit_of(&read_struct(kit, "kit")?)?;
            let slot = out_struct(smallest, "smallest")?;
            let batch = smallest_batch(&recipe.recipe, &kit, steps)?;
            slot.put(FgallSmallestBatch {
                struct_size: size_of::<FgallSmallestBatch>(),
                volume_ml: batch.volume.in_milliliters(),
                factor: batch.factor,
                limited_by: fixed(&batch.limited_by),
                stocks_wanted: batch.stocks.len(),
            });
            Ok(())
        })
    }
}

/// A stock solution in place of a weighing that is too small: weigh more,
/// dissolve it, make up, and take a part of it and that much less water. Local
/// rules on acids and phenols come first.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStock {
    /// Name of the lot.
    pub lot: [c_char; FGALL_NAME_BYTES],
    /// Mass to weigh.
    pub weigh_g: f64,
    /// Volume to make the stock up to.
    pub dissolve_to_ml: f64,
    /// Volume of stock to take for this batch.
    pub take_ml: f64,
    /// 1 if it is an acid or a base, which goes slowly into most of the water,
    /// goggles on; 0 if not.
    pub into_water: u32,
}

impl FgallStock {
    fn of(advice: &StockAdvice) -> FgallStock {
        FgallStock {
            lot: fixed(&advice.lot),
            weigh_g: advice.weigh.in_grams(),
            dissolve_to_ml: advice.dissolve_to.in_milliliters(),
            take_ml: advice.take.in_milliliters(),
            into_water: advice.into_water.into(),
        }
    }
}

/// A stock solution for every weighing of the recipe as it is that is under so
/// many steps of its tool (1 to 1e6; twenty is customary), where one dissolves
/// and fits. Written to `stocks` if there is room for all (capacity is a number
/// of stocks), and in any case *needed says how many there are, often none.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_stocks(
    recipe: *const FgallRecipe,
    kit: *const FgallKit,
    steps: f64,
    stocks: *mut FgallStock,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let kit = kit_of(&read_struct(kit, "kit")?)?;
            let batch = smallest_batch(&recipe.recipe, &kit, steps)?;
            let all = batch.stocks.iter().map(FgallStock::of);
            deliver_all(all, stocks, capacity, needed, "stocks")
        })
    }
}
