//! A stock or a liquor by its density.

use super::assay::{Answer, FgallAssayed, read, warmth};
use super::error::{Blame, FgallError};
use super::guard::{foreign, guard, known_bits, read_struct, versioned};
use super::status::FgallStatus;
use crate::assay::{IronStock, LiquorDensity, StockDensity};
use crate::quantity::{
    MolarConcentration, ReadMolarConcentration, celsius, grams_per_cubic_centimeter, within,
};
use core::ffi::c_char;

/// Stock: iron(II) sulfate in water.
pub const FGALL_STOCK_SULFATE: u32 = 1;
/// Stock: iron(II) chloride in water.
pub const FGALL_STOCK_CHLORIDE: u32 = 2;

/// Bit of FgallStockDensity.set: nothing else is dissolved, and the answer an
/// estimate, not a bound; has no field.
pub const FGALL_CLEAN_STOCK: u32 = 1;

/// Density of an iron(II) stock; hydrometers are read with fgall_solution_….
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStockDensity {
    /// sizeof(FgallStockDensity), filled in by the caller.
    pub struct_size: usize,
    /// FGALL_STOCK_…
    pub stock: u32,
    /// FGALL_CLEAN_STOCK or 0.
    pub set: u32,
    /// Density.
    pub density_g_per_cm3: f64,
    /// Its standard uncertainty.
    pub density_u_g_per_cm3: f64,
    /// Temperature.
    pub temperature_c: f64,
    /// Its standard uncertainty, kelvin.
    pub temperature_u_k: f64,
}
versioned!(FgallStockDensity);

/// Iron(II), were all that is dissolved this salt, mol/L: at most so much unless it
/// is clean. Notes as in fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_stock_iron_mol_per_l(
    given: *const FgallStockDensity,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let given = unsafe { read_struct(given, "given") }?;
        known_bits(given.set, FGALL_CLEAN_STOCK, "set")?;
        let stock = match given.stock {
            FGALL_STOCK_SULFATE => IronStock::Sulfate,
            FGALL_STOCK_CHLORIDE => IronStock::Chloride,
            other => return Err(foreign(other, "stock")),
        };
        let density = read!(
            given,
            density_g_per_cm3,
            density_u_g_per_cm3,
            grams_per_cubic_centimeter,
            10.0
        )?;
        let temperature = warmth(given.temperature_c, given.temperature_u_k)?;
        let mut made = StockDensity::new(stock, density, temperature);
        if given.set & FGALL_CLEAN_STOCK != 0 {
            made = made.clean();
        }
        made.iron().arg_of(&[
            ("temperature", "temperature_c", given.temperature_c),
            ("density", "density_g_per_cm3", given.density_g_per_cm3),
        ])
    };
    // SAFETY: as above.
    unsafe {
        guard(error, || {
            to.put(|c: MolarConcentration| c.in_moles_per_liter(), assay)
        })
    }
}

/// Bit of FgallLiquorDensity.set: nothing but tannin is dissolved, and the answer
/// an estimate, not a bound; has no field.
pub const FGALL_TANNIN_ONLY: u32 = 1;

/// A hydrometer's reading in a tannin liquor without iron.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallLiquorDensity {
    /// sizeof(FgallLiquorDensity), filled in by the caller.
    pub struct_size: usize,
    /// FGALL_TANNIN_ONLY or 0.
    pub set: u32,
    /// Specific gravity, 0.99 to 1.12.
    pub specific_gravity: f64,
    /// Its standard uncertainty.
    pub specific_gravity_u: f64,
    /// Temperature of the liquor, 10 to 30 °C.
    pub temperature_c: f64,
    /// Its standard uncertainty, kelvin.
    pub temperature_u_k: f64,
    /// Temperature of the water that the scale refers to, 0 to 100 °C.
    pub reference_c: f64,
}
versioned!(FgallLiquorDensity);

/// Tannin as a share of the liquor's mass, were all that is dissolved tannin: at
/// most so much unless it is. Notes as in fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_liquor_tannin_share(
    given: *const FgallLiquorDensity,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let given = unsafe { read_struct(given, "given") }?;
        known_bits(given.set, FGALL_TANNIN_ONLY, "set")?;
        let ratio = read!(given, specific_gravity, specific_gravity_u, |x| x, 10.0)?;
        let temperature = warmth(given.temperature_c, given.temperature_u_k)?;
        let reference = within("reference_c", given.reference_c, 0.0, 100.0, "°C")?;
        let mut made = LiquorDensity::new(ratio, temperature, celsius(reference));
        if given.set & FGALL_TANNIN_ONLY != 0 {
            made = made.tannin_only();
        }
        let gravity = given.specific_gravity;
        made.tannin().arg_of(&[
            (
                "specific gravity of the liquor",
                "specific_gravity",
                gravity,
            ),
            ("tannin by density", "specific_gravity", gravity),
            (
                "temperature of the liquor",
                "temperature_c",
                given.temperature_c,
            ),
        ])
    };
    // SAFETY: as above.
    unsafe { guard(error, || to.put(|x| x, assay)) }
}
