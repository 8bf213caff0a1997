//! A recipe worked out.

use super::bench::FGALL_NAME_BYTES;
use super::error::FgallError;
use super::guard::{deliver_all, guard, handle, out_struct, versioned};
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::fixed;
use crate::composition::{Bulk, Component};
use crate::quantity::{
    ReadMass, ReadMassConcentration, ReadMassDensity, ReadMolarConcentration, ReadVolume,
};
use crate::recipe::{Evaluation, Line, LineKind};
use core::ffi::c_char;
use core::mem::size_of;

/// The finished ink. Volumes are those at 20 °C; ratios that do not exist
/// (no tannin) are NaN, and so is the cost when nothing has a price.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallComposition {
    /// sizeof(FgallComposition), filled in by the caller.
    pub struct_size: usize,
    /// Volume.
    pub volume_ml: f64,
    /// Mass.
    pub mass_g: f64,
    /// Density.
    pub density_g_per_cm3: f64,
    /// What stays when water and volatile matter have gone; a lower bound for
    /// plant liquors.
    pub dry_residue_g_per_l: f64,
    /// Metallic iron of both states, the figure ink standards speak of.
    pub iron_g_per_l: f64,
    /// Galloyl units, bound in tannin and as free gallic acid together.
    pub galloyl_mol_per_l: f64,
    /// Strong acid: charge of the strong anions less that of the cations;
    /// negative: an excess of base.
    pub strong_acid_mol_per_l: f64,
    /// Acid that leaves the paper as the writing dries.
    pub volatile_acid_mol_per_l: f64,
    /// Strong acid that stays in the paper.
    pub fixed_acid_mol_per_l: f64,
    /// All preservatives, as the acids or phenols that act.
    pub preservative_g_per_l: f64,
    /// mol of iron per mol of galloyl units.
    pub iron_per_galloyl: f64,
    /// Low end of its 95 % interval, from what is uncertain in the lots.
    pub iron_per_galloyl_low: f64,
    /// High end of its 95 % interval.
    pub iron_per_galloyl_high: f64,
    /// g of green vitriol with this iron per g of tannin and gallic acid.
    pub vitriol_per_tannin_by_mass: f64,
    /// Relative standard uncertainty (k = 1) of the iron(II).
    pub iron_u: f64,
    /// Relative standard uncertainty (k = 1) of the galloyl units.
    pub galloyl_u: f64,
    /// Cost of everything weighed, unused stock included.
    pub cost: f64,
    /// Lines without a price, not in the cost.
    pub unpriced_lines: usize,
    /// Number of lines to weigh and measure; see fgall_recipe_lines.
    pub line_count: usize,
    /// Iron(II).
    pub iron_ii_mol_per_l: f64,
    /// Iron(III).
    pub iron_iii_mol_per_l: f64,
    /// Galloyl units bound in tannin.
    pub tannin_galloyl_mol_per_l: f64,
    /// Free gallic acid.
    pub gallic_acid_mol_per_l: f64,
    /// Sulfate.
    pub sulfate_mol_per_l: f64,
    /// Chloride.
    pub chloride_mol_per_l: f64,
    /// Nitrate.
    pub nitrate_mol_per_l: f64,
    /// Acetate and acetic acid.
    pub acetate_mol_per_l: f64,
    /// Oxalate and oxalic acid.
    pub oxalate_mol_per_l: f64,
    /// Citrate and citric acid.
    pub citrate_mol_per_l: f64,
    /// Tartrate and tartaric acid.
    pub tartrate_mol_per_l: f64,
    /// Phosphate and phosphoric acid.
    pub phosphate_mol_per_l: f64,
    /// Gluconate.
    pub gluconate_mol_per_l: f64,
    /// Lactate.
    pub lactate_mol_per_l: f64,
    /// Carbonate and hydrogencarbonate.
    pub carbonate_mol_per_l: f64,
    /// Sodium.
    pub sodium_mol_per_l: f64,
    /// Potassium.
    pub potassium_mol_per_l: f64,
    /// Ammonium and ammonia.
    pub ammonium_mol_per_l: f64,
    /// Calcium.
    pub calcium_mol_per_l: f64,
    /// Magnesium.
    pub magnesium_mol_per_l: f64,
    /// Salicylate and salicylic acid.
    pub salicylate_mol_per_l: f64,
    /// Benzoate and benzoic acid.
    pub benzoate_mol_per_l: f64,
    /// Sorbate and sorbic acid.
    pub sorbate_mol_per_l: f64,
    /// Phenol.
    pub phenol_mol_per_l: f64,
    /// Thymol.
    pub thymol_mol_per_l: f64,
    /// Eugenol.
    pub eugenol_mol_per_l: f64,
    /// 2-Phenoxyethanol.
    pub phenoxyethanol_mol_per_l: f64,
    /// Ethanol.
    pub ethanol_mol_per_l: f64,
    /// Glycerol.
    pub glycerol_mol_per_l: f64,
    /// Dry tannin of every class.
    pub tannin_g_per_l: f64,
    /// Dry gum.
    pub gum_g_per_l: f64,
    /// Dye as sold.
    pub dye_g_per_l: f64,
    /// Everything else that dissolves.
    pub other_solubles_g_per_l: f64,
    /// Water, crystal water included.
    pub water_g_per_l: f64,
}
versioned!(FgallComposition);

impl FgallComposition {
    fn of(made: &Evaluation) -> FgallComposition {
        let ink = &made.composition;
        let ratio = made.iron_per_galloyl();
        let per_galloyl =
            |end: fn(crate::recipe::RatioInterval) -> f64| ratio.map_or(f64::NAN, end);
        let molar = |c: Component| ink.molarity(c).in_moles_per_liter();
        let bulk = |b: Bulk| ink.mass_concentration(b).in_grams_per_liter();
        let per_l = |n| ink.concentration(n).in_moles_per_liter();
        let liters = ink.volume().in_liters();
        let g_per_l = |m: crate::quantity::Mass| {
            let c = m.in_grams() / liters;
            if c.is_finite() { c } else { 0.0 }
        };
        let cost = made.cost();
        FgallComposition {
            struct_size: size_of::<FgallComposition>(),
            volume_ml: ink.volume().in_milliliters(),
            mass_g: ink.mass().in_grams(),
            density_g_per_cm3: ink.density().in_grams_per_cubic_centimeter(),
            dry_residue_g_per_l: g_per_l(ink.dry_residue()),
            iron_g_per_l: ink.iron_mass_concentration().in_grams_per_liter(),
            galloyl_mol_per_l: per_l(ink.galloyl()),
            strong_acid_mol_per_l: per_l(ink.strong_acid()),
            volatile_acid_mol_per_l: per_l(ink.volatile_acid()),
            fixed_acid_mol_per_l: per_l(ink.fixed_acid()),
            preservative_g_per_l: g_per_l(ink.preservative()),
            iron_per_galloyl: per_galloyl(|r| r.value),
            iron_per_galloyl_low: per_galloyl(|r| r.low),
            iron_per_galloyl_high: per_galloyl(|r| r.high),
            vitriol_per_tannin_by_mass: ink.ratios().vitriol_per_tannin_by_mass.unwrap_or(f64::NAN),
            iron_u: made.iron_u,
            galloyl_u: made.galloyl_u,
            cost: cost.map_or(f64::NAN, |(sum, _)| sum),
            unpriced_lines: made.unpriced(),
            line_count: made.lines.len(),
            iron_ii_mol_per_l: molar(Component::IronII),
            iron_iii_mol_per_l: molar(Component::IronIII),
            tannin_galloyl_mol_per_l: molar(Component::Galloyl),
            gallic_acid_mol_per_l: molar(Component::GallicAcid),
            sulfate_mol_per_l: molar(Component::Sulfate),
            chloride_mol_per_l: molar(Component::Chloride),
            nitrate_mol_per_l: molar(Component::Nitrate),
            acetate_mol_per_l: molar(Component::Acetate),
            oxalate_mol_per_l: molar(Component::Oxalate),
            citrate_mol_per_l: molar(Component::Citrate),
            tartrate_mol_per_l: molar(Component::Tartrate),
            phosphate_mol_per_l: molar(Component::Phosphate),
            gluconate_mol_per_l: molar(Component::Gluconate),
            lactate_mol_per_l: molar(Component::Lactate),
            carbonate_mol_per_l: molar(Component::Carbonate),
            sodium_mol_per_l: molar(Component::Sodium),
            potassium_mol_per_l: molar(Component::Potassium),
            ammonium_mol_per_l: molar(Component::Ammonium),
            calcium_mol_per_l: molar(Component::Calcium),
            magnesium_mol_per_l: molar(Component::Magnesium),
            salicylate_mol_per_l: molar(Component::Salicylate),
            benzoate_mol_per_l: molar(Component::Benzoate),
            sorbate_mol_per_l: molar(Component::Sorbate),
            phenol_mol_per_l: molar(Component::Phenol),
            thymol_mol_per_l: molar(Component::Thymol),
            eugenol_mol_per_l: molar(Component::Eugenol),
            phenoxyethanol_mol_per_l: molar(Component::Phenoxyethanol),
            ethanol_mol_per_l: molar(Component::Ethanol),
            glycerol_mol_per_l: molar(Component::Glycerol),
            tannin_g_per_l: bulk(Bulk::Tannin),
            gum_g_per_l: bulk(Bulk::Gum),
            dye_g_per_l: bulk(Bulk::Dye),
            other_solubles_g_per_l: bulk(Bulk::OtherSolubles),
            water_g_per_l: bulk(Bulk::Water),
        }
    }
}

/// A line of a recipe: goes in whole.
pub const FGALL_LINE_INGREDIENT: u32 = 1;
/// A line of a recipe: plant matter that is soaked and strained off.
pub const FGALL_LINE_PLANT: u32 = 2;
/// A line of a recipe: the liquid it soaks in.
pub const FGALL_LINE_SOAK: u32 = 3;
/// A line of a recipe: fills up to a volume.
pub const FGALL_LINE_MAKE_UP: u32 = 4;

/// One thing to weigh or measure.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallLine {
    /// Name of the lot.
    pub lot: [c_char; FGALL_NAME_BYTES],
    /// Index of the solution; the number of solutions for the final make-up.
    pub solution: usize,
    /// What it is for: FGALL_LINE_….
    pub kind: u32,
    /// What it weighs.
    pub mass_g: f64,
    /// What it fills; NaN where its density is not known.
    pub volume_ml: f64,
}

impl FgallLine {
    fn of(line: &Line) -> FgallLine {
        FgallLine {
            lot: fixed(line.lot.name()),
            solution: line.solution,
            kind: match line.kind {
                LineKind::Ingredient => FGALL_LINE_INGREDIENT,
                LineKind::Plant => FGALL_LINE_PLANT,
                LineKind::Soak => FGALL_LINE_SOAK,
                LineKind::MakeUp => FGALL_LINE_MAKE_UP,
            },
            mass_g: line.mass.in_grams(),
            volume_ml: line.volume.map_or(f64::NAN, |v| v.in_milliliters()),
        }
    }
}

/// Works out what is in the ink.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_evaluate(
    recipe: *const FgallRecipe,
    composition: *mut FgallComposition,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let slot = out_struct(composition, "composition")?;
            slot.put(FgallComposition::of(&recipe.recipe.evaluate()?));
            Ok(())
        })
    }
}

/// Everything to weigh and measure, in working order: written to `lines` if
/// there is room for all of them (capacity is a number of lines), and in any
/// case *needed says how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_lines(
    recipe: *const FgallRecipe,
    lines: *mut FgallLine,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let made = recipe.recipe.evaluate()?;
            let all = made.lines.iter().map(FgallLine::of);
            deliver_all(all, lines, capacity, needed, "lines")
        })
    }
}
