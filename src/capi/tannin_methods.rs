//! Tannin by other methods, and the tannin of a plant from its liquor.

use super::assay::{
    Answer, FGALL_FOUND_AT_LEAST, FGALL_FOUND_AT_MOST, FGALL_FOUND_ESTIMATE, FgallAssayed, read,
    reading,
};
use super::bench::{FGALL_NAME_BYTES, FgallRange};
use super::error::{Blame, FgallError, Outcome, no_such_index, unknown_name};
use super::guard::{foreign, guard, out, out_struct, read_struct, versioned};
use super::status::FgallStatus;
use super::strings::{deliver, fixed, text};
use crate::assay::{PlantTannin, TanninFactor, loewenthal};
use crate::quantity::{Mass, ReadMass, grams, milliliters, moles_per_liter};
use core::ffi::c_char;
use core::mem::size_of;

/// Grams and millilitres, at most.
const MOST: f64 = 1e6;

/// A factor between what a tannin method prints and gallotannin by weight. Data,
/// never truth: where two authors disagree both rows stand.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallTanninFactor {
    /// sizeof(FgallTanninFactor), filled in by the caller.
    pub struct_size: usize,
    /// Name under which it can be looked up.
    pub id: [c_char; FGALL_NAME_BYTES],
    /// What the method's figure is, with its unit.
    pub figure: [c_char; FGALL_NAME_BYTES],
    /// Unit of the factor.
    pub unit: [c_char; FGALL_NAME_BYTES],
    /// Tannin per figure, in that unit; about 95 % lie from min to max.
    pub factor: FgallRange,
}
versioned!(FgallTanninFactor);

fn factor_at(index: usize) -> Outcome<&'static TanninFactor> {
    let all = TanninFactor::ALL;
    all.get(index)
        .ok_or_else(|| no_such_index("index", index, all.len()))
}

/// # Safety
/// As for the whole room.
unsafe fn factor_called(id: *const c_char) -> Outcome<&'static TanninFactor> {
    // SAFETY: as promised by the caller.
    let id = unsafe { text(id, "factor") }?;
    let found = TanninFactor::ALL.iter().find(|f| f.id == id);
    found.ok_or_else(|| unknown_name("factor", id))
}

/// Number of factors in the catalogue.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_tannin_factor_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(TanninFactor::ALL.len());
            Ok(())
        })
    }
}

/// The factor at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_tannin_factor_at(
    index: usize,
    factor: *mut FgallTanninFactor,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(factor, "factor")?;
            let row = factor_at(index)?;
            slot.put(FgallTanninFactor {
                struct_size: size_of::<FgallTanninFactor>(),
                id: fixed(row.id),
                figure: fixed(row.figure),
                unit: fixed(row.unit),
                factor: row.range.into(),
            });
            Ok(())
        })
    }
}

/// Where it comes from, and what else acts on the method's figure.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_tannin_factor_source(
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let row = factor_at(index)?;
            let told = format!("{}\ndisturbed by: {}", row.source, row.interferences);
            deliver(&told, buffer, capacity, needed)
        })
    }
}

/// Tannin from the figure (0 to 1e6) of another method, by the identifier of its
/// factor: a share where the figure is a share, kg where it is a mass or
/// equivalents. Notes as in fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_tannin_by_factor(
    factor: *const c_char,
    figure: f64,
    figure_u: f64,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let factor = unsafe { factor_called(factor) }?;
        let figure = reading(|x| x, ("figure", figure), ("figure_u", figure_u), 1e6)?;
        Ok(factor.tannin(&figure)?)
    };
    // SAFETY: as above.
    unsafe { guard(error, || to.put(|x| x, assay)) }
}

/// Löwenthal's titration of a liquor with permanganate and indigo carmine.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallLoewenthal {
    /// sizeof(FgallLoewenthal), filled in by the caller.
    pub struct_size: usize,
    /// Identifier of Neubauer's or of Councler and Schroder's factor; they
    /// disagree by 18 %.
    pub factor: *const c_char,
    /// Permanganate, above 0 to 5 mol/L.
    pub molarity_mol_per_l: f64,
    /// Its standard uncertainty.
    pub molarity_u_mol_per_l: f64,
    /// Permanganate that the liquor took.
    pub volume_ml: f64,
    /// Its standard uncertainty.
    pub volume_u_ml: f64,
    /// What it took after hide powder or gelatin.
    pub after_hide_ml: f64,
    /// Its standard uncertainty.
    pub after_hide_u_ml: f64,
}
versioned!(FgallLoewenthal);

/// Tannin of what was titrated, g; a note says what the other factor makes of it.
/// Notes as in fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_loewenthal_tannin_g(
    given: *const FgallLoewenthal,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let (given, factor) = unsafe {
            let given = read_struct(given, "given")?;
            (given, factor_called(given.factor)?)
        };
        let molarity = read!(
            given,
            molarity_mol_per_l,
            molarity_u_mol_per_l,
            moles_per_liter,
            5.0
        )?;
        let volume = read!(given, volume_ml, volume_u_ml, milliliters, MOST)?;
        let after = read!(given, after_hide_ml, after_hide_u_ml, milliliters, MOST)?;
        let strength = given.molarity_mol_per_l;
        loewenthal(factor, &molarity, &volume, &after).arg_of(&[
            ("Löwenthal factor", "factor", factor.range.typical),
            (
                "molarity of the permanganate",
                "molarity_mol_per_l",
                strength,
            ),
            (
                "volume less that after hide",
                "after_hide_ml",
                given.after_hide_ml,
            ),
        ])
    };
    // SAFETY: as above.
    unsafe { guard(error, || to.put(|m: Mass| m.in_grams(), assay)) }
}

/// A plant and the liquor drawn from it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallPlantTannin {
    /// sizeof(FgallPlantTannin), filled in by the caller.
    pub struct_size: usize,
    /// Tannin in the liquor, as a share of its mass.
    pub liquor_tannin_share: f64,
    /// Its standard uncertainty.
    pub liquor_tannin_u: f64,
    /// Which way that leans: FGALL_FOUND_…
    pub liquor_bound: u32,
    /// Mass of the liquor.
    pub liquor_g: f64,
    /// Its standard uncertainty.
    pub liquor_u_g: f64,
    /// Mass of the plant as it was weighed.
    pub plant_g: f64,
    /// Its standard uncertainty.
    pub plant_u_g: f64,
    /// Moisture of the plant, 0 to 0.99; 0 for a content of the plant as it is.
    pub moisture_share: f64,
    /// Its standard uncertainty.
    pub moisture_u: f64,
    /// Share of the plant's tannin that is in this liquor, see FgallLiquor.share.
    pub yield_share: f64,
    /// Its standard uncertainty.
    pub yield_u: f64,
}
versioned!(FgallPlantTannin);

/// Tannin of the plant, as a share of its dry mass: a median, u the median times
/// the uncertainty of the logarithm, and the interval that of a log-normal. A
/// bound stays a bound. Notes, about the logarithm, as in
/// fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_plant_tannin_share(
    given: *const FgallPlantTannin,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(assayed, "assayed")?;
            let given = read_struct(given, "given")?;
            let bound = match given.liquor_bound {
                kept @ (FGALL_FOUND_ESTIMATE | FGALL_FOUND_AT_MOST | FGALL_FOUND_AT_LEAST) => kept,
                other => return Err(foreign(other, "liquor_bound")),
            };
            let found = PlantTannin::new(
                &read!(given, liquor_tannin_share, liquor_tannin_u, |x| x, 1.0)?,
                &read!(given, liquor_g, liquor_u_g, grams, MOST)?,
                &read!(given, plant_g, plant_u_g, grams, MOST)?,
                &read!(given, moisture_share, moisture_u, |x| x, 1.0)?,
                &read!(given, yield_share, yield_u, |x| x, 1.0)?,
            );
            let share = given.liquor_tannin_share;
            let found = found.arg_of(&[
                ("tannin in the liquor", "liquor_tannin_share", share),
                ("mass of the liquor", "liquor_g", given.liquor_g),
                ("mass of the plant", "plant_g", given.plant_g),
                ("moisture", "moisture_share", given.moisture_share),
                ("yield", "yield_share", given.yield_share),
                (
                    "relative uncertainty of the yield",
                    "yield_u",
                    given.yield_u,
                ),
                (
                    "relative uncertainty of the liquor",
                    "liquor_tannin_u",
                    given.liquor_tannin_u,
                ),
            ])?;
            let mut result = FgallAssayed::of(found.ln(), |ln| ln)?;
            result.value = found.median();
            result.u = found.median() * found.u_ln();
            (result.low, result.high) = (libm::exp(result.low), libm::exp(result.high));
            result.bound = bound;
            to.tell(found.ln())?;
            slot.put(result);
            Ok(())
        })
    }
}
