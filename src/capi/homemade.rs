//! Home-made lots: iron dissolved in acid, stock solutions.

use super::error::{Blame, FgallError, Outcome, mass};
use super::guard::{
    guard, handle, handle_mut, known_bits, out, out_struct_if_wanted, read_struct, versioned,
};
use super::lots::FgallShelf;
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::text;
use crate::bench::{IronInAcid, LimitingReagent};
use crate::quantity::{
    Estimate, ReadEnergy, ReadMass, ReadMolarConcentration, ReadVolume, Share, celsius, kilopascals,
};
use core::ffi::c_char;
use core::mem::size_of;

/// Bit of FgallIronInAcid.set: water_lot and water_g are given.
pub const FGALL_IRON_WATER: u32 = 1;
/// Bit of FgallIronInAcid.set: iron_share and iron_share_u are given.
pub const FGALL_IRON_SHARE: u32 = 2;
/// Bit of FgallIronInAcid.set: dissolved_share is given.
pub const FGALL_IRON_DISSOLVED: u32 = 4;
/// Bit of FgallIronInAcid.set: temperature_c and pressure_kpa are given.
pub const FGALL_IRON_ROOM: u32 = 8;

/// Iron (steel wool, nails, filings) put into an acid of the shelf:
/// Fe + 2 H+ -> Fe2+ + H2. HYDROGEN BURNS AND EXPLODES: an open vessel,
/// outdoors or under a hood, away from flames, goggles on, the jar never
/// closed. Local rules and licensed practice come first.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallIronInAcid {
    /// sizeof(FgallIronInAcid), filled in by the caller.
    pub struct_size: usize,
    /// Metal taken.
    pub iron_g: f64,
    /// Hydrochloric, sulfuric or acetic acid.
    pub acid_lot: usize,
    /// How much of it.
    pub acid_g: f64,
    /// Which fields below are given: FGALL_IRON_… bits.
    pub set: u32,
    /// Water put in with the acid; none if not given.
    pub water_lot: usize,
    /// How much of it.
    pub water_g: f64,
    /// Iron in the metal, mass fraction; steel, 0.98, if not given.
    pub iron_share: f64,
    /// Its standard uncertainty (k = 1); 0.01 if not given.
    pub iron_share_u: f64,
    /// How far the reaction has gone, of what could dissolve; 1 if not given.
    pub dissolved_share: f64,
    /// Temperature of the room, 0 to 100 °C; 20 if not given.
    pub temperature_c: f64,
    /// Pressure of the air, 50 to 120 kPa; 101.325 if not given.
    pub pressure_kpa: f64,
}
versioned!(FgallIronInAcid);

/// What forms when iron dissolves, and what comes off.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallIronMade {
    /// sizeof(FgallIronMade), filled in by the caller.
    pub struct_size: usize,
    /// 1 if the acid runs out before the iron, which keeps iron(III) at nil.
    pub acid_runs_out: u32,
    /// Iron(II) in solution.
    pub iron_ii_mol: f64,
    /// Iron(II) per volume.
    pub iron_ii_mol_per_l: f64,
    /// Acid not used up, all titratable protons.
    pub free_acid_mol: f64,
    /// Metal and its impurities left over.
    pub metal_left_g: f64,
    /// Hydrogen given off.
    pub hydrogen_mol: f64,
    /// Its volume at the temperature and pressure of the room.
    pub hydrogen_l: f64,
    /// Air it must mix into to stay at 1 % by volume, a quarter of the lower
    /// explosive limit.
    pub fresh_air_l: f64,
    /// Heat given off, low end.
    pub heat_low_kj: f64,
    /// Heat given off, high end.
    pub heat_high_kj: f64,
    /// Dissolved salt as a share of what the water holds; above 1 it
    /// crystallises. NaN where no solubility is known.
    pub saturation: f64,
}
versioned!(FgallIronMade);

const IRON_BITS: u32 = 15;

fn iron_in_acid(shelf: &FgallShelf, input: &FgallIronInAcid) -> Outcome<IronInAcid> {
    known_bits(input.set, IRON_BITS, "set")?;
    let given = |bit| input.set & bit != 0;
    let acid = shelf.lot(input.acid_lot, "acid_lot")?;
    let iron = mass("iron_g", input.iron_g)?;
    let mut reaction = IronInAcid::new(iron, acid, mass("acid_g", input.acid_g)?);
    if given(FGALL_IRON_WATER) {
        let water = shelf.lot(input.water_lot, "water_lot")?;
        reaction = reaction.water(water, mass("water_g", input.water_g)?);
    }
    if given(FGALL_IRON_SHARE) {
        let share = Estimate::new(input.iron_share, input.iron_share_u);
        reaction = reaction.iron_share(share.arg_with_u(
            ("iron_share", input.iron_share),
            ("iron_share_u", input.iron_share_u),
        )?);
    }
    if given(FGALL_IRON_DISSOLVED) {
        let share = Share::new(input.dissolved_share);
        reaction = reaction.dissolved(share.arg("dissolved_share", input.dissolved_share)?);
    }
    if given(FGALL_IRON_ROOM) {
        reaction = reaction.at(
            celsius(input.temperature_c),
            kilopascals(input.pressure_kpa),
        );
    }
    Ok(reaction)
}

/// Dissolves iron in an acid of the shelf, puts the solution on the shelf as a
/// new lot, and says at which index. `made` may be NULL. Read the caution at
/// FgallIronInAcid.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_add_iron_in_acid(
    shelf: *mut FgallShelf,
    input: *const FgallIronInAcid,
    made: *mut FgallIronMade,
    lot: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle_mut(shelf, "shelf")?;
            let input = read_struct(input, "input")?;
            let made = out_struct_if_wanted(made, "made")?;
            let index = out(lot, "lot")?;
            let result = iron_in_acid(shelf, &input)?.react().arg_of(&[
                ("iron in the metal", "iron_share", input.iron_share),
                ("temperature", "temperature_c", input.temperature_c),
                ("pressure", "pressure_kpa", input.pressure_kpa),
            ])?;
            if let Some(slot) = made {
                slot.put(FgallIronMade {
                    struct_size: size_of::<FgallIronMade>(),
                    acid_runs_out: (result.limiting == LimitingReagent::Acid).into(),
                    iron_ii_mol: result.iron_ii.value,
                    iron_ii_mol_per_l: result.iron_ii_concentration.in_moles_per_liter(),
                    free_acid_mol: result.free_acid.value,
                    metal_left_g: result.metal_left.in_grams(),
                    hydrogen_mol: result.hydrogen.value,
                    hydrogen_l: result.hydrogen_volume.in_liters(),
                    fresh_air_l: result.fresh_air.in_liters(),
                    heat_low_kj: result.heat.0.in_kilojoules(),
                    heat_high_kj: result.heat.1.in_kilojoules(),
                    saturation: result.saturation.unwrap_or(f64::NAN),
                });
            }
            index.put(shelf.put(result.lot));
            Ok(())
        })
    }
}

/// Makes a recipe and puts what comes of it on the shelf as a lot of its own, for
/// other recipes: a stock solution. It costs what went into it, where all of that
/// has a price; from here on its strengths are as unsure as the recipe's.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_add_recipe(
    shelf: *mut FgallShelf,
    recipe: *const FgallRecipe,
    name: *const c_char,
    lot: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle_mut(shelf, "shelf")?;
            let recipe = &handle(recipe, "recipe")?.recipe;
            let name = text(name, "name")?;
            let index = out(lot, "lot")?;
            index.put(shelf.put(recipe.evaluate()?.to_lot(name)?));
            Ok(())
        })
    }
}
