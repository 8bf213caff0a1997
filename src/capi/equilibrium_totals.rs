//! How much of each component is dissolved.

use super::error::{Blame, FgallError, Outcome};
use super::guard::{foreign, guard, handle, out_struct, versioned};
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::deliver;
use crate::equilibrium::{Master, Totals};
use crate::quantity::{ReadMolality, moles_per_kilogram};
use core::ffi::c_char;
use core::mem::size_of;

/// Component: iron(II).
pub const FGALL_MASTER_IRON_II: u32 = 1;
/// Component: iron(III).
pub const FGALL_MASTER_IRON_III: u32 = 2;
/// Component: sulfate and hydrogensulfate.
pub const FGALL_MASTER_SULFATE: u32 = 3;
/// Component: chloride.
pub const FGALL_MASTER_CHLORIDE: u32 = 4;
/// Component: nitrate.
pub const FGALL_MASTER_NITRATE: u32 = 5;
/// Component: acetate and acetic acid.
pub const FGALL_MASTER_ACETATE: u32 = 6;
/// Component: oxalate and oxalic acid.
pub const FGALL_MASTER_OXALATE: u32 = 7;
/// Component: citrate and citric acid, its hydroxyl proton on.
pub const FGALL_MASTER_CITRATE: u32 = 8;
/// Component: tartrate and tartaric acid.
pub const FGALL_MASTER_TARTRATE: u32 = 9;
/// Component: phosphate and phosphoric acid.
pub const FGALL_MASTER_PHOSPHATE: u32 = 10;
/// Component: carbonate, hydrogencarbonate and dissolved carbon dioxide.
pub const FGALL_MASTER_CARBONATE: u32 = 11;
/// Component: gallic acid and gallate.
pub const FGALL_MASTER_GALLATE: u32 = 12;
/// Component: galloyl units bound in tannin; each counts by itself.
pub const FGALL_MASTER_GALLOYL: u32 = 13;
/// Component: salicylate and salicylic acid.
pub const FGALL_MASTER_SALICYLATE: u32 = 14;
/// Component: benzoate and benzoic acid.
pub const FGALL_MASTER_BENZOATE: u32 = 15;
/// Component: sorbate and sorbic acid.
pub const FGALL_MASTER_SORBATE: u32 = 16;
/// Component: phenol and phenolate.
pub const FGALL_MASTER_PHENOLATE: u32 = 17;
/// Component: gluconate and gluconic acid.
pub const FGALL_MASTER_GLUCONATE: u32 = 18;
/// Component: lactate and lactic acid.
pub const FGALL_MASTER_LACTATE: u32 = 19;
/// Component: sodium.
pub const FGALL_MASTER_SODIUM: u32 = 20;
/// Component: potassium.
pub const FGALL_MASTER_POTASSIUM: u32 = 21;
/// Component: ammonium and ammonia.
pub const FGALL_MASTER_AMMONIUM: u32 = 22;
/// Component: calcium.
pub const FGALL_MASTER_CALCIUM: u32 = 23;
/// Component: magnesium.
pub const FGALL_MASTER_MAGNESIUM: u32 = 24;
/// Component: copper(II).
pub const FGALL_MASTER_COPPER: u32 = 25;
/// Component: zinc.
pub const FGALL_MASTER_ZINC: u32 = 26;
/// Component: manganese(II).
pub const FGALL_MASTER_MANGANESE: u32 = 27;
/// Component: aluminium.
pub const FGALL_MASTER_ALUMINIUM: u32 = 28;

/// How much of each component is dissolved, mol per kilogram of water, 0 to 20:
/// in all its forms together. Protons are not told, there are as many as
/// electroneutrality asks for: hydrochloric acid is chloride, acetic acid is
/// acetate, sodium acetate is acetate and sodium. What FGALL_INIT leaves at 0
/// is absent.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallTotals {
    /// sizeof(FgallTotals), filled in by the caller.
    pub struct_size: usize,
    /// Iron(II).
    pub iron_ii_mol_per_kg: f64,
    /// Iron(III).
    pub iron_iii_mol_per_kg: f64,
    /// Sulfate and hydrogensulfate.
    pub sulfate_mol_per_kg: f64,
    /// Chloride.
    pub chloride_mol_per_kg: f64,
    /// Nitrate.
    pub nitrate_mol_per_kg: f64,
    /// Acetate and acetic acid.
    pub acetate_mol_per_kg: f64,
    /// Oxalate and oxalic acid.
    pub oxalate_mol_per_kg: f64,
    /// Citrate and citric acid, its hydroxyl proton on.
    pub citrate_mol_per_kg: f64,
    /// Tartrate and tartaric acid.
    pub tartrate_mol_per_kg: f64,
    /// Phosphate and phosphoric acid.
    pub phosphate_mol_per_kg: f64,
    /// Carbonate, hydrogencarbonate and dissolved carbon dioxide.
    pub carbonate_mol_per_kg: f64,
    /// Gallic acid and gallate.
    pub gallate_mol_per_kg: f64,
    /// Galloyl units bound in tannin; each counts by itself.
    pub galloyl_mol_per_kg: f64,
    /// Salicylate and salicylic acid.
    pub salicylate_mol_per_kg: f64,
    /// Benzoate and benzoic acid.
    pub benzoate_mol_per_kg: f64,
    /// Sorbate and sorbic acid.
    pub sorbate_mol_per_kg: f64,
    /// Phenol and phenolate.
    pub phenolate_mol_per_kg: f64,
    /// Gluconate and gluconic acid.
    pub gluconate_mol_per_kg: f64,
    /// Lactate and lactic acid.
    pub lactate_mol_per_kg: f64,
    /// Sodium.
    pub sodium_mol_per_kg: f64,
    /// Potassium.
    pub potassium_mol_per_kg: f64,
    /// Ammonium and ammonia.
    pub ammonium_mol_per_kg: f64,
    /// Calcium.
    pub calcium_mol_per_kg: f64,
    /// Magnesium.
    pub magnesium_mol_per_kg: f64,
    /// Copper(II).
    pub copper_mol_per_kg: f64,
    /// Zinc.
    pub zinc_mol_per_kg: f64,
    /// Manganese(II).
    pub manganese_mol_per_kg: f64,
    /// Aluminium.
    pub aluminium_mol_per_kg: f64,
}
versioned!(FgallTotals);

/// Number, component and field: the one list that the rest is made from.
macro_rules! masters {
    ($($number:ident, $master:ident, $field:ident;)*) => {
        impl FgallTotals {
            pub(super) fn of(totals: &Totals) -> FgallTotals {
                FgallTotals {
                    struct_size: size_of::<FgallTotals>(),
                    $($field: totals.of(Master::$master).in_moles_per_kilogram(),)*
                }
            }

            pub(super) fn totals(&self) -> Outcome<Totals> {
                let mut totals = Totals::new();
                $(
                    let total = moles_per_kilogram(self.$field);
                    let more = totals.with(Master::$master, total);
                    totals = more.arg(stringify!($field), self.$field)?;
                )*
                Ok(totals)
            }
        }

        /// The component with this number.
        pub(super) fn master_of(number: u32, name: &str) -> Outcome<Master> {
            match number {
                $($number => Ok(Master::$master),)*
                _ => Err(foreign(number, name)),
            }
        }
    };
}

masters! {
    FGALL_MASTER_IRON_II, IronII, iron_ii_mol_per_kg;
    FGALL_MASTER_IRON_III, IronIII, iron_iii_mol_per_kg;
    FGALL_MASTER_SULFATE, Sulfate, sulfate_mol_per_kg;
    FGALL_MASTER_CHLORIDE, Chloride, chloride_mol_per_kg;
    FGALL_MASTER_NITRATE, Nitrate, nitrate_mol_per_kg;
    FGALL_MASTER_ACETATE, Acetate, acetate_mol_per_kg;
    FGALL_MASTER_OXALATE, Oxalate, oxalate_mol_per_kg;
    FGALL_MASTER_CITRATE, Citrate, citrate_mol_per_kg;
    FGALL_MASTER_TARTRATE, Tartrate, tartrate_mol_per_kg;
    FGALL_MASTER_PHOSPHATE, Phosphate, phosphate_mol_per_kg;
    FGALL_MASTER_CARBONATE, Carbonate, carbonate_mol_per_kg;
    FGALL_MASTER_GALLATE, Gallate, gallate_mol_per_kg;
    FGALL_MASTER_GALLOYL, Galloyl, galloyl_mol_per_kg;
    FGALL_MASTER_SALICYLATE, Salicylate, salicylate_mol_per_kg;
    FGALL_MASTER_BENZOATE, Benzoate, benzoate_mol_per_kg;
    FGALL_MASTER_SORBATE, Sorbate, sorbate_mol_per_kg;
    FGALL_MASTER_PHENOLATE, Phenolate, phenolate_mol_per_kg;
    FGALL_MASTER_GLUCONATE, Gluconate, gluconate_mol_per_kg;
    FGALL_MASTER_LACTATE, Lactate, lactate_mol_per_kg;
    FGALL_MASTER_SODIUM, Sodium, sodium_mol_per_kg;
    FGALL_MASTER_POTASSIUM, Potassium, potassium_mol_per_kg;
    FGALL_MASTER_AMMONIUM, Ammonium, ammonium_mol_per_kg;
    FGALL_MASTER_CALCIUM, Calcium, calcium_mol_per_kg;
    FGALL_MASTER_MAGNESIUM, Magnesium, magnesium_mol_per_kg;
    FGALL_MASTER_COPPER, Copper, copper_mol_per_kg;
    FGALL_MASTER_ZINC, Zinc, zinc_mol_per_kg;
    FGALL_MASTER_MANGANESE, Manganese, manganese_mol_per_kg;
    FGALL_MASTER_ALUMINIUM, Aluminium, aluminium_mol_per_kg;
}

/// How the equations of species write a component (FGALL_MASTER_…), such as
/// "Fe+3": see fgall_solver_add_species.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_master_formula(
    master: u32,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let master = master_of(master, "master")?;
            deliver(master.formula(), buffer, capacity, needed)
        })
    }
}

/// What of an ink is dissolved, per kilogram of its water. Gum, dye, alcohol,
/// glycerol, thymol and eugenol take no part and are left out. FGALL_NO_WATER
/// when less than a tenth of it is water.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_totals(
    recipe: *const FgallRecipe,
    totals: *mut FgallTotals,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let slot = out_struct(totals, "totals")?;
            let ink = recipe.recipe.evaluate()?.composition;
            slot.put(FgallTotals::of(&Totals::of_composition(&ink)?));
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_component_has_its_number_and_its_field() {
        assert!(master_of(0, "").is_err());
        for (number, &master) in (1..).zip(Master::ALL) {
            assert_eq!(master_of(number, "").ok(), Some(master));
            let amount = moles_per_kilogram(0.125 * f64::from(number));
            let totals = Totals::new().with(master, amount);
            let back = totals.as_ref().ok().map(FgallTotals::of);
            assert_eq!(back.and_then(|t| t.totals().ok()), totals.ok());
        }
    }
}
