//! The shelf: lots by index.

use super::bench::FGALL_NAME_BYTES;
use super::error::{Blame, FgallError, Outcome, no_such_index, volume};
use super::guard::{
    guard, handle, handle_mut, known_bits, out, out_struct, read_struct, versioned,
};
use super::status::FgallStatus;
use super::strings::{deliver, fixed, text};
use crate::bench::{HydrateMix, Lot};
use crate::composition::Component;
use crate::quantity::{
    Price, ReadMass, ReadMassDensity, grams_per_cubic_centimeter, grams_per_liter, kilograms,
    moles_per_kilogram,
};
use core::ffi::c_char;
use core::mem::size_of;

/// Lots, counted from 0. Recipes copy the lots they use: the shelf may be
/// freed before them.
pub struct FgallShelf {
    lots: Vec<Lot>,
}

impl FgallShelf {
    pub(super) fn lot(&self, index: usize, name: &str) -> Outcome<&Lot> {
        self.lots
            .get(index)
            .ok_or_else(|| no_such_index(name, index, self.lots.len()))
    }

    /// Puts a lot on the shelf and says at which index.
    pub(super) fn put(&mut self, lot: Lot) -> usize {
        self.lots.push(lot);
        self.lots.len() - 1
    }
}

/// Bit of FgallLotSpec.set: purity and purity_u are given.
pub const FGALL_LOT_PURITY: u32 = 1;
/// Bit of FgallLotSpec.set: tannin and tannin_u are given.
pub const FGALL_LOT_TANNIN: u32 = 2;
/// Bit of FgallLotSpec.set: gallic_acid and gallic_acid_u are given.
pub const FGALL_LOT_GALLIC_ACID: u32 = 4;
/// Bit of FgallLotSpec.set: galloyl_mol_per_kg and galloyl_u_mol_per_kg are given.
pub const FGALL_LOT_GALLOYL: u32 = 8;
/// Bit of FgallLotSpec.set: moisture and moisture_u are given.
pub const FGALL_LOT_MOISTURE: u32 = 16;
/// Bit of FgallLotSpec.set: oxidised and oxidised_u are given.
pub const FGALL_LOT_OXIDISED: u32 = 32;
/// Bit of FgallLotSpec.set: hydrate_shares are given.
pub const FGALL_LOT_HYDRATES: u32 = 64;
/// Bit of FgallLotSpec.set: alkalinity_mg_per_l is given.
pub const FGALL_LOT_ALKALINITY: u32 = 128;
/// Bit of FgallLotSpec.set: hardness_mg_per_l is given.
pub const FGALL_LOT_HARDNESS: u32 = 256;
/// Bit of FgallLotSpec.set: density_g_per_cm3 is given.
pub const FGALL_LOT_DENSITY: u32 = 512;
/// Bit of FgallLotSpec.set: price_per_kg is given.
pub const FGALL_LOT_PRICE: u32 = 1024;

/// A real bag or bottle. What `set` does not name is the catalogue's typical
/// value, and its field is not read. Uncertainties are standard ones (k = 1).
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallLotSpec {
    /// sizeof(FgallLotSpec), filled in by the caller.
    pub struct_size: usize,
    /// Identifier of the material.
    pub material: *const c_char,
    /// What the maker calls it; NULL for the catalogue's name.
    pub name: *const c_char,
    /// Which fields below are given: FGALL_LOT_… bits.
    pub set: u32,
    /// Mass fraction, 0 to 1, that is the named substance; an acid's strength.
    pub purity: f64,
    /// Its uncertainty.
    pub purity_u: f64,
    /// Tannin, mass fraction on the basis of the catalogue row.
    pub tannin: f64,
    /// Its uncertainty.
    pub tannin_u: f64,
    /// Free gallic acid, mass fraction on the same basis.
    pub gallic_acid: f64,
    /// Its uncertainty.
    pub gallic_acid_u: f64,
    /// Galloyl units per mass of tannin, 0 to 20 mol/kg.
    pub galloyl_mol_per_kg: f64,
    /// Its uncertainty.
    pub galloyl_u_mol_per_kg: f64,
    /// Moisture, mass fraction of the lot as it is.
    pub moisture: f64,
    /// Its uncertainty.
    pub moisture_u: f64,
    /// Share of the iron that is already iron(III), mol/mol.
    pub oxidised: f64,
    /// Its uncertainty.
    pub oxidised_u: f64,
    /// Weathered green vitriol: mass fractions of the 7-, 4- and 1-hydrate and
    /// of the basic sulfate Fe(OH)SO4; they add up to 1.
    pub hydrate_shares: [f64; 4],
    /// Alkalinity of a water, as CaCO3.
    pub alkalinity_mg_per_l: f64,
    /// Hardness of a water, as CaCO3.
    pub hardness_mg_per_l: f64,
    /// Density of the liquid, or bulk density of the powder in a spoon.
    pub density_g_per_cm3: f64,
    /// Price, in whatever currency all prices are in.
    pub price_per_kg: f64,
}
versioned!(FgallLotSpec);

const LOT_BITS: u32 = 2047;

/// # Safety
/// As for the whole room.
unsafe fn lot_of(spec: &FgallLotSpec) -> Outcome<Lot> {
    known_bits(spec.set, LOT_BITS, "set")?;
    let given = |bit| spec.set & bit != 0;
    // SAFETY: as promised by the caller.
    let mut lot = Lot::of(unsafe { text(spec.material, "material") }?)?;
    if !spec.name.is_null() {
        // SAFETY: as promised by the caller.
        lot = lot.named(unsafe { text(spec.name, "name") }?);
    }
    if given(FGALL_LOT_PURITY) {
        lot = lot
            .purity(spec.purity, spec.purity_u)
            .arg_with_u(("purity", spec.purity), ("purity_u", spec.purity_u))?;
    }
    if given(FGALL_LOT_TANNIN) {
        lot = lot
            .tannin(spec.tannin, spec.tannin_u)
            .arg_with_u(("tannin", spec.tannin), ("tannin_u", spec.tannin_u))?;
    }
    if given(FGALL_LOT_GALLIC_ACID) {
        let gallic_acid = lot.gallic_acid(spec.gallic_acid, spec.gallic_acid_u);
        lot = gallic_acid.arg_with_u(
            ("gallic_acid", spec.gallic_acid),
            ("gallic_acid_u", spec.gallic_acid_u),
        )?;
    }
    if given(FGALL_LOT_GALLOYL) {
        let value = spec.galloyl_mol_per_kg;
        let u = spec.galloyl_u_mol_per_kg;
        let galloyl = lot.galloyl(moles_per_kilogram(value), moles_per_kilogram(u));
        lot = galloyl.arg_with_u(("galloyl_mol_per_kg", value), ("galloyl_u_mol_per_kg", u))?;
    }
    if given(FGALL_LOT_MOISTURE) {
        let moisture = lot.moisture(spec.moisture, spec.moisture_u);
        lot = moisture.arg_with_u(("moisture", spec.moisture), ("moisture_u", spec.moisture_u))?;
    }
    if given(FGALL_LOT_OXIDISED) {
        let oxidised = lot.oxidised(spec.oxidised, spec.oxidised_u);
        lot = oxidised.arg_with_u(("oxidised", spec.oxidised), ("oxidised_u", spec.oxidised_u))?;
    }
    if given(FGALL_LOT_HYDRATES) {
        let [hepta, tetra, mono, basic] = spec.hydrate_shares;
        let mix = HydrateMix::new(hepta, tetra, mono, basic);
        let shares = [
            ("share of heptahydrate", "hydrate_shares", hepta),
            ("share of tetrahydrate", "hydrate_shares", tetra),
            ("share of monohydrate", "hydrate_shares", mono),
            ("share of basic sulfate", "hydrate_shares", basic),
            (
                "sum of the hydrate shares",
                "hydrate_shares",
                hepta + tetra + mono + basic,
            ),
        ];
        lot = lot.hydrates(mix.arg_of(&shares)?)?;
    }
    if given(FGALL_LOT_ALKALINITY) {
        let mg_per_l = spec.alkalinity_mg_per_l;
        let alkalinity = lot.alkalinity(grams_per_liter(mg_per_l / 1e3));
        lot = alkalinity.arg("alkalinity_mg_per_l", mg_per_l)?;
    }
    if given(FGALL_LOT_HARDNESS) {
        let mg_per_l = spec.hardness_mg_per_l;
        let hardness = lot.hardness(grams_per_liter(mg_per_l / 1e3));
        lot = hardness.arg("hardness_mg_per_l", mg_per_l)?;
    }
    if given(FGALL_LOT_DENSITY) {
        let density = lot.density(grams_per_cubic_centimeter(spec.density_g_per_cm3));
        lot = density.arg("density_g_per_cm3", spec.density_g_per_cm3)?;
    }
    if given(FGALL_LOT_PRICE) {
        let price = Price::per_kilogram(spec.price_per_kg);
        lot = lot.price(price.arg("price_per_kg", spec.price_per_kg)?);
    }
    Ok(lot.build()?)
}

/// What a lot holds. Density and price are NaN when they are not known.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallLot {
    /// sizeof(FgallLot), filled in by the caller.
    pub struct_size: usize,
    /// Its name; all of it through fgall_shelf_lot_name.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// Iron(II).
    pub iron_ii_mol_per_kg: f64,
    /// Iron(III).
    pub iron_iii_mol_per_kg: f64,
    /// Galloyl units, free gallic acid included.
    pub galloyl_mol_per_kg: f64,
    /// Free gallic acid.
    pub gallic_acid_mol_per_kg: f64,
    /// Strong acid; negative: it eats acid.
    pub strong_acid_mol_per_kg: f64,
    /// Relative standard uncertainty of the iron(II) content.
    pub iron_u: f64,
    /// Relative standard uncertainty of the galloyl content.
    pub galloyl_u: f64,
    /// Density of the liquid, or bulk density of the powder.
    pub density_g_per_cm3: f64,
    /// Price.
    pub price_per_kg: f64,
    /// 1 if it is plant matter, which must be extracted.
    pub is_plant: u32,
    /// 1 if it is a liquid.
    pub is_liquid: u32,
}
versioned!(FgallLot);

impl FgallLot {
    fn of(lot: &Lot) -> FgallLot {
        let kg = lot.contents(kilograms(1.0));
        FgallLot {
            struct_size: size_of::<FgallLot>(),
            name: fixed(lot.name()),
            iron_ii_mol_per_kg: kg.iron_ii().value,
            iron_iii_mol_per_kg: kg.iron_iii().value,
            galloyl_mol_per_kg: kg.galloyl().value,
            gallic_acid_mol_per_kg: kg.amount(Component::GallicAcid).value,
            strong_acid_mol_per_kg: kg.strong_acid().value,
            iron_u: lot.strength_u().iron,
            galloyl_u: lot.strength_u().galloyl,
            density_g_per_cm3: lot
                .density()
                .map_or(f64::NAN, |d| d.in_grams_per_cubic_centimeter()),
            price_per_kg: lot.price().map_or(f64::NAN, |p| p.in_money_per_kilogram()),
            is_plant: lot.is_plant().into(),
            is_liquid: lot.is_liquid().into(),
        }
    }
}

/// An empty shelf; fgall_shelf_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_new(
    shelf: *mut *mut FgallShelf,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(shelf, "shelf")?;
            slot.put(Box::into_raw(Box::new(FgallShelf { lots: Vec::new() })));
            Ok(())
        })
    }
}

/// Frees a shelf; NULL does nothing. Recipes and column plans made from its
/// lots live on.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_free(shelf: *mut FgallShelf) {
    if !shelf.is_null() {
        // SAFETY: from fgall_shelf_new and not freed, by the caller's promise.
        drop(unsafe { Box::from_raw(shelf) });
    }
}

/// Puts a lot on the shelf and says at which index.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_add_lot(
    shelf: *mut FgallShelf,
    spec: *const FgallLotSpec,
    lot: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle_mut(shelf, "shelf")?;
            let spec = read_struct(spec, "spec")?;
            let index = out(lot, "lot")?;
            index.put(shelf.put(lot_of(&spec)?));
            Ok(())
        })
    }
}

/// Number of lots on the shelf.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_count(
    shelf: *const FgallShelf,
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle(shelf, "shelf")?;
            out(count, "count")?.put(shelf.lots.len());
            Ok(())
        })
    }
}

/// What a lot holds.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_lot(
    shelf: *const FgallShelf,
    lot: usize,
    contents: *mut FgallLot,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let shelf = handle(shelf, "shelf")?;
            let slot = out_struct(contents, "contents")?;
            slot.put(FgallLot::of(shelf.lot(lot, "lot")?));
            Ok(())
        })
    }
}

/// The name of a lot.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_lot_name(
    shelf: *const FgallShelf,
    lot: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let lot = handle(shelf, "shelf")?.lot(lot, "lot")?;
            deliver(lot.name(), buffer, capacity, needed)
        })
    }
}

/// What was taken from the catalogue because nothing else was said, one line
/// for each; empty when nothing was.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_lot_assumed(
    shelf: *const FgallShelf,
    lot: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let lot = handle(shelf, "shelf")?.lot(lot, "lot")?;
            deliver(&lot.assumed().join("\n"), buffer, capacity, needed)
        })
    }
}

/// Mass of a measured volume of a lot whose density is known.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_mass_of_volume(
    shelf: *const FgallShelf,
    lot: usize,
    volume_ml: f64,
    mass_g: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let lot = handle(shelf, "shelf")?.lot(lot, "lot")?;
            let slot = out(mass_g, "mass_g")?;
            slot.put(lot.mass_of(volume("volume_ml", volume_ml)?)?.in_grams());
            Ok(())
        })
    }
}
