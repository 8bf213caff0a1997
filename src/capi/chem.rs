//! Molar masses, densities and hydrometers.

use super::error::{Blame, FgallError, Outcome, unknown_name};
use super::guard::{foreign, guard, out, out_if_wanted, out_struct, versioned};
use super::status::FgallStatus;
use super::strings::text;
use crate::chem::{BaumeScale, Formula, Solute, Solution, SpecificGravity, water_density};
use crate::quantity::{
    ReadMassConcentration, ReadMassDensity, ReadMolarConcentration, ReadMolarMass, Temperature,
    celsius, grams_per_cubic_centimeter, moles_per_liter,
};
use core::ffi::c_char;
use core::mem::size_of;

/// Baumé scale: United States, heavier than water; modulus 145, 60/60 °F.
pub const FGALL_BAUME_AMERICAN: u32 = 1;
/// Baumé scale: old Dutch; modulus 144.
pub const FGALL_BAUME_DUTCH: u32 = 2;
/// Baumé scale: Gerlach; modulus 146.78.
pub const FGALL_BAUME_GERLACH: u32 = 3;
/// Baumé scale: "rational", Germany; modulus 144.3.
pub const FGALL_BAUME_RATIONAL: u32 = 4;
/// Baumé scale: United States, lighter than water.
pub const FGALL_BAUME_AMERICAN_LIGHT: u32 = 5;

fn scale_of(scale: u32) -> Outcome<BaumeScale> {
    Ok(match scale {
        FGALL_BAUME_AMERICAN => BaumeScale::American,
        FGALL_BAUME_DUTCH => BaumeScale::Dutch,
        FGALL_BAUME_GERLACH => BaumeScale::Gerlach,
        FGALL_BAUME_RATIONAL => BaumeScale::Rational,
        FGALL_BAUME_AMERICAN_LIGHT => BaumeScale::AmericanLight,
        other => return Err(foreign(other, "scale")),
    })
}

/// A solution of one solute in water, in every way of saying its strength.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSolution {
    /// sizeof(FgallSolution), filled in by the caller.
    pub struct_size: usize,
    /// Grams of solute in 100 g, counted without crystal water.
    pub mass_percent: f64,
    /// Solute per volume at the temperature.
    pub mol_per_l: f64,
    /// Solute per volume at the temperature.
    pub g_per_l: f64,
    /// Density at the temperature.
    pub density_g_per_cm3: f64,
    /// Temperature at which all this holds.
    pub temperature_c: f64,
    /// 1 if the temperature lies a little beyond the measured data.
    pub is_extrapolated: u32,
}
versioned!(FgallSolution);

/// Finds the solute, makes the solution, writes it down.
///
/// # Safety
/// As for the whole room.
unsafe fn solution(
    solute: *const c_char,
    temperature_c: f64,
    slot: *mut FgallSolution,
    make: impl FnOnce(Solute, Temperature) -> Outcome<Solution>,
) -> Outcome<()> {
    // SAFETY: as promised by the caller.
    let (id, slot) = unsafe { (text(solute, "solute")?, out_struct(slot, "solution")?) };
    let solute = Solute::from_id(id).ok_or_else(|| unknown_name("solute", id))?;
    let made = make(solute, celsius(temperature_c))?;
    slot.put(FgallSolution {
        struct_size: size_of::<FgallSolution>(),
        mass_percent: made.mass_fraction().as_percent(),
        mol_per_l: made.molarity().in_moles_per_liter(),
        g_per_l: made.mass_concentration().in_grams_per_liter(),
        density_g_per_cm3: made.density().in_grams_per_cubic_centimeter(),
        temperature_c,
        is_extrapolated: made.is_extrapolated().into(),
    });
    Ok(())
}

/// Molar mass of a formula such as "FeSO4.7H2O", and its standard uncertainty
/// (k = 1; may be NULL).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_molar_mass(
    formula: *const c_char,
    molar_mass_g_per_mol: *mut f64,
    u_g_per_mol: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let formula = text(formula, "formula")?;
            let mass = out(molar_mass_g_per_mol, "molar_mass_g_per_mol")?;
            let u = out_if_wanted(u_g_per_mol, "u_g_per_mol")?;
            let formula = Formula::parse(formula)?;
            mass.put(formula.molar_mass().in_grams_per_mole());
            if let Some(u) = u {
                u.put(formula.molar_mass_u().in_grams_per_mole());
            }
            Ok(())
        })
    }
}

/// Density of water, 0 to 100 °C.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_water_density(
    temperature_c: f64,
    density_g_per_cm3: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(density_g_per_cm3, "density_g_per_cm3")?;
            let density = water_density(celsius(temperature_c));
            let density = density.arg("temperature_c", temperature_c)?;
            slot.put(density.in_grams_per_cubic_centimeter());
            Ok(())
        })
    }
}

/// A solution of so many grams of solute in 100 g. Solutes: "hydrochloric_acid",
/// "sulfuric_acid", "acetic_acid", "phosphoric_acid", "oxalic_acid",
/// "citric_acid", "iron_ii_sulfate", "iron_ii_chloride", "iron_iii_sulfate",
/// "iron_iii_chloride", "ethanol", "glycerol". Acid goes into water, never
/// water into acid; local rules come first.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solution_from_mass_percent(
    solute: *const c_char,
    mass_percent: f64,
    temperature_c: f64,
    solution: *mut FgallSolution,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            self::solution(solute, temperature_c, solution, |s, t| {
                Solution::from_mass_percent(s, mass_percent, t).arg("mass_percent", mass_percent)
            })
        })
    }
}

/// A solution of this molarity at the temperature.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solution_from_molarity(
    solute: *const c_char,
    mol_per_l: f64,
    temperature_c: f64,
    solution: *mut FgallSolution,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            self::solution(solute, temperature_c, solution, |s, t| {
                Solution::from_molarity(s, moles_per_liter(mol_per_l), t)
                    .arg("mol_per_l", mol_per_l)
            })
        })
    }
}

/// A solution of this density at the temperature.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solution_from_density(
    solute: *const c_char,
    density_g_per_cm3: f64,
    temperature_c: f64,
    solution: *mut FgallSolution,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            self::solution(solute, temperature_c, solution, |s, t| {
                let density = grams_per_cubic_centimeter(density_g_per_cm3);
                Solution::from_density(s, density, t).arg("density_g_per_cm3", density_g_per_cm3)
            })
        })
    }
}

/// A solution of these degrees Baumé (scale: FGALL_BAUME_…), read at the
/// temperature.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solution_from_baume(
    solute: *const c_char,
    scale: u32,
    degrees_baume: f64,
    temperature_c: f64,
    solution: *mut FgallSolution,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let scale = scale_of(scale)?;
            self::solution(solute, temperature_c, solution, |s, t| {
                Solution::from_baume(s, scale, degrees_baume, t).arg_of(&reading(
                    "degrees Baumé",
                    "degrees_baume",
                    degrees_baume,
                    temperature_c,
                ))
            })
        })
    }
}

/// A solution of these degrees Twaddell, read at the temperature.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solution_from_twaddell(
    solute: *const c_char,
    degrees_twaddell: f64,
    temperature_c: f64,
    solution: *mut FgallSolution,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            self::solution(solute, temperature_c, solution, |s, t| {
                Solution::from_twaddell(s, degrees_twaddell, t).arg_of(&reading(
                    "degrees Twaddell",
                    "degrees_twaddell",
                    degrees_twaddell,
                    temperature_c,
                ))
            })
        })
    }
}

/// Degrees Baumé (scale: FGALL_BAUME_…) and Twaddell that a sample of this
/// density shows; either result may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_hydrometer_from_density(
    scale: u32,
    density_g_per_cm3: f64,
    temperature_c: f64,
    degrees_baume: *mut f64,
    degrees_twaddell: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let scale = scale_of(scale)?;
            let baume = out_if_wanted(degrees_baume, "degrees_baume")?;
            let twaddell = out_if_wanted(degrees_twaddell, "degrees_twaddell")?;
            let sample = celsius(temperature_c);
            let density = grams_per_cubic_centimeter(density_g_per_cm3);
            let gravity = SpecificGravity::from_density(density, sample, scale.reference())
                .arg_of(&reading(
                    "specific gravity",
                    "density_g_per_cm3",
                    density_g_per_cm3,
                    temperature_c,
                ))?;
            let shown =
                |degrees: Result<f64, _>| degrees.arg("density_g_per_cm3", density_g_per_cm3);
            let b = baume.map(|slot| shown(gravity.baume(scale)).map(|b| (slot, b)));
            let t = twaddell.map(|slot| shown(gravity.twaddell()).map(|t| (slot, t)));
            for (slot, degrees) in [b.transpose()?, t.transpose()?].into_iter().flatten() {
                slot.put(degrees);
            }
            Ok(())
        })
    }
}

/// Density that a Baumé hydrometer (scale: FGALL_BAUME_…) means, read in a
/// sample of this temperature.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_density_from_baume(
    scale: u32,
    degrees_baume: f64,
    temperature_c: f64,
    density_g_per_cm3: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let scale = scale_of(scale)?;
            let slot = out(density_g_per_cm3, "density_g_per_cm3")?;
            let read = SpecificGravity::from_baume(scale, degrees_baume, celsius(temperature_c));
            let blame = reading(
                "degrees Baumé",
                "degrees_baume",
                degrees_baume,
                temperature_c,
            );
            slot.put(
                read.arg_of(&blame)?
                    .density()
                    .in_grams_per_cubic_centimeter(),
            );
            Ok(())
        })
    }
}

/// Density that a Twaddell hydrometer means, read in a sample of this
/// temperature.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_density_from_twaddell(
    degrees_twaddell: f64,
    temperature_c: f64,
    density_g_per_cm3: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(density_g_per_cm3, "density_g_per_cm3")?;
            let read = SpecificGravity::from_twaddell(degrees_twaddell, celsius(temperature_c));
            let blame = reading(
                "degrees Twaddell",
                "degrees_twaddell",
                degrees_twaddell,
                temperature_c,
            );
            slot.put(
                read.arg_of(&blame)?
                    .density()
                    .in_grams_per_cubic_centimeter(),
            );
            Ok(())
        })
    }
}

/// The two arguments of a reading, under the names the rooms know them by.
fn reading<'a>(
    what: &'a str,
    argument: &'a str,
    value: f64,
    temperature_c: f64,
) -> [(&'a str, &'a str, f64); 2] {
    [
        (what, argument, value),
        ("sample temperature", "temperature_c", temperature_c),
    ]
}
