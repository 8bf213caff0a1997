//! The catalogue of materials.

use super::error::{FgallError, Outcome, no_such_index, unknown_name};
use super::guard::{guard, out, out_struct, versioned};
use super::status::FgallStatus;
use super::strings::{deliver, fixed, text};
use crate::bench::{Material, find, materials};
use crate::chem::Formula;
use crate::quantity::ReadMolarMass;
use crate::source::Range;
use core::ffi::c_char;
use core::mem::size_of;

/// Bytes of a name inside a struct, NUL included. Longer names are cut at a
/// character.
pub const FGALL_NAME_BYTES: usize = 96;

/// Bytes of a sentence inside a struct, NUL included. Longer ones are cut at a
/// character.
pub const FGALL_TEXT_BYTES: usize = 512;

/// A kind of material: an iron salt.
pub const FGALL_KIND_IRON_SALT: u32 = 1;
/// A kind of material: a source of tannin, or gallic acid.
pub const FGALL_KIND_TANNIN_SOURCE: u32 = 2;
/// A kind of material: an acid or a base.
pub const FGALL_KIND_ACID: u32 = 3;
/// A kind of material: a gum.
pub const FGALL_KIND_GUM: u32 = 4;
/// A kind of material: a dye.
pub const FGALL_KIND_DYE: u32 = 5;
/// A kind of material: a preservative.
pub const FGALL_KIND_PRESERVATIVE: u32 = 6;
/// A kind of material: a humectant.
pub const FGALL_KIND_HUMECTANT: u32 = 7;
/// A kind of material: a water.
pub const FGALL_KIND_WATER: u32 = 8;

/// A span of values met with in trade: about 95 % lie from min to max. All
/// three are NaN where the figure does not apply to the material.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallRange {
    /// Low end.
    pub min: f64,
    /// Used when nothing better is known.
    pub typical: f64,
    /// High end.
    pub max: f64,
}

impl FgallRange {
    pub(super) const NONE: FgallRange = FgallRange {
        min: f64::NAN,
        typical: f64::NAN,
        max: f64::NAN,
    };
}

impl From<Range> for FgallRange {
    fn from(r: Range) -> FgallRange {
        FgallRange {
            min: r.min,
            typical: r.typical,
            max: r.max,
        }
    }
}

/// A row of the catalogue. Figures that do not apply, or are not known, are NaN.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallMaterial {
    /// sizeof(FgallMaterial), filled in by the caller.
    pub struct_size: usize,
    /// Its place in the catalogue; may change with the data version.
    pub index: usize,
    /// One of FGALL_KIND_….
    pub kind: u32,
    /// Identifier for lots; keeps its meaning.
    pub id: [c_char; FGALL_NAME_BYTES],
    /// Name in English.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// Formula with its crystal water; empty where there is none.
    pub formula: [c_char; FGALL_NAME_BYTES],
    /// Molar mass of the formula.
    pub molar_mass_g_per_mol: f64,
    /// Iron in the pure substance, percent by mass.
    pub iron_mass_percent: f64,
    /// Density of the solid or the pure liquid.
    pub density_g_per_cm3: f64,
    /// Tannin, percent by mass; of dry matter where tannin_of_dry_matter is 1.
    pub tannin_percent: FgallRange,
    /// 1 if tannin and gallic acid are percent of dry matter, 0 if of the lot
    /// as it is.
    pub tannin_of_dry_matter: u32,
    /// 1 if it is plant matter, which must be extracted.
    pub is_plant: u32,
    /// Free gallic acid, percent by mass on the same basis.
    pub gallic_acid_percent: FgallRange,
    /// Galloyl units per gram of tannin.
    pub galloyl_mmol_per_g: FgallRange,
    /// Moisture, percent by mass.
    pub moisture_percent: FgallRange,
    /// Alkalinity of a water, as CaCO3.
    pub alkalinity_mg_per_l: FgallRange,
    /// Hardness of a water, as CaCO3.
    pub hardness_mg_per_l: FgallRange,
}
versioned!(FgallMaterial);

impl FgallMaterial {
    fn of(index: usize, material: Material) -> FgallMaterial {
        let mut row = FgallMaterial {
            struct_size: size_of::<FgallMaterial>(),
            index,
            kind: kind(material),
            id: fixed(material.id()),
            name: fixed(material.name()),
            formula: fixed(formula(material)),
            molar_mass_g_per_mol: f64::NAN,
            iron_mass_percent: f64::NAN,
            density_g_per_cm3: f64::NAN,
            tannin_percent: FgallRange::NONE,
            tannin_of_dry_matter: 0,
            is_plant: 0,
            gallic_acid_percent: FgallRange::NONE,
            galloyl_mmol_per_g: FgallRange::NONE,
            moisture_percent: FgallRange::NONE,
            alkalinity_mg_per_l: FgallRange::NONE,
            hardness_mg_per_l: FgallRange::NONE,
        };
        if let Ok(formula) = Formula::parse(formula(material)) {
            row.molar_mass_g_per_mol = formula.molar_mass().in_grams_per_mole();
            if formula.count("Fe") > 0.0 {
                row.iron_mass_percent = formula.mass_share("Fe") * 100.0;
            }
        }
        match material {
            Material::IronSalt(m) => {
                row.density_g_per_cm3 = m.density_g_per_cm3.unwrap_or(f64::NAN);
            }
            Material::TanninSource(m) => {
                row.tannin_percent = m.tannin_percent.into();
                row.gallic_acid_percent = m.gallic_acid_percent.into();
                row.galloyl_mmol_per_g = m.galloyl_mmol_per_g.into();
                row.moisture_percent = m.moisture_percent.into();
                row.tannin_of_dry_matter = (m.basis == crate::bench::Basis::DryMatter).into();
                row.is_plant = (m.form == crate::bench::TanninForm::Plant).into();
            }
            Material::Gum(m) => row.moisture_percent = m.moisture_percent.into(),
            Material::Preservative(m) => {
                row.density_g_per_cm3 = m.density_g_per_cm3.unwrap_or(f64::NAN);
            }
            Material::Humectant(m) => row.density_g_per_cm3 = m.density_g_per_cm3,
            Material::Water(m) => {
                row.alkalinity_mg_per_l = m.alkalinity_mg_per_l.into();
                row.hardness_mg_per_l = m.hardness_mg_per_l.into();
            }
            Material::Acid(_) | Material::Dye(_) => {}
        }
        row
    }
}

fn kind(material: Material) -> u32 {
    match material {
        Material::IronSalt(_) => FGALL_KIND_IRON_SALT,
        Material::TanninSource(_) => FGALL_KIND_TANNIN_SOURCE,
        Material::Acid(_) => FGALL_KIND_ACID,
        Material::Gum(_) => FGALL_KIND_GUM,
        Material::Dye(_) => FGALL_KIND_DYE,
        Material::Preservative(_) => FGALL_KIND_PRESERVATIVE,
        Material::Humectant(_) => FGALL_KIND_HUMECTANT,
        Material::Water(_) => FGALL_KIND_WATER,
    }
}

fn formula(material: Material) -> &'static str {
    match material {
        Material::IronSalt(m) => m.formula,
        Material::Acid(m) => m.formula,
        Material::Dye(m) => m.formula,
        Material::Preservative(m) => m.formula,
        Material::Humectant(m) => m.formula,
        Material::TanninSource(_) | Material::Gum(_) | Material::Water(_) => "",
    }
}

fn material_at(index: usize) -> Outcome<Material> {
    materials()
        .nth(index)
        .ok_or_else(|| no_such_index("index", index, materials().count()))
}

/// Number of materials in the catalogue.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_material_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(materials().count());
            Ok(())
        })
    }
}

/// The material at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_material_at(
    index: usize,
    material: *mut FgallMaterial,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(material, "material")?;
            slot.put(FgallMaterial::of(index, material_at(index)?));
            Ok(())
        })
    }
}

/// The material with exactly this identifier, such as
/// "iron_ii_sulfate_heptahydrate".
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_material_find(
    id: *const c_char,
    material: *mut FgallMaterial,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let id = text(id, "id")?;
            let slot = out_struct(material, "material")?;
            let found = find(id).ok_or_else(|| unknown_name("id", id))?;
            let index = materials().position(|m| m == found).unwrap_or(0);
            slot.put(FgallMaterial::of(index, found));
            Ok(())
        })
    }
}

/// Where the material's row comes from, and how far that may be trusted.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_material_source(
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let source = material_at(index)?.source().to_string();
            deliver(&source, buffer, capacity, needed)
        })
    }
}
