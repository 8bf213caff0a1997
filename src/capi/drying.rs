//! What is weighed before and after: a nail, vitriol, a liquor, damp galls.

use super::assay::{Answer, FgallAssayed, read};
use super::error::{Blame, FgallError, Outcome};
use super::guard::{foreign, guard, known_bits, out, out_struct, read_struct, versioned};
use super::status::FgallStatus;
use crate::assay::{
    AssayError, Assayed, DriedTo, Reading, VitriolDrying, dry_residue, iron_dissolved,
    loss_on_drying,
};
use crate::quantity::{AmountOfSubstance, Estimate, Mass, ReadAmount, celsius, grams, within};
use core::ffi::c_char;
use core::mem::size_of;

/// Grams, at most.
const MOST: f64 = 1e6;

/// Bit of FgallNail.set: iron_share and iron_share_u are given.
pub const FGALL_NAIL_IRON: u32 = 1;

/// A nail, wool or plate weighed before and after, rinsed and dried.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallNail {
    /// sizeof(FgallNail), filled in by the caller.
    pub struct_size: usize,
    /// Mass before.
    pub before_g: f64,
    /// Its standard uncertainty.
    pub before_u_g: f64,
    /// Mass after.
    pub after_g: f64,
    /// Its standard uncertainty.
    pub after_u_g: f64,
    /// Which of the rest is given: FGALL_NAIL_… bits.
    pub set: u32,
    /// Share of the metal that is iron; steel, 0.98 ± 0.01, if not given.
    pub iron_share: f64,
    /// Its standard uncertainty.
    pub iron_share_u: f64,
}
versioned!(FgallNail);

/// Iron that went into solution, mmol; notes as in fgall_titration_iron_mmol. IRON
/// IN ACID GIVES OFF HYDROGEN: an open vessel, no flame, never a closed jar.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_nail_iron_mmol(
    nail: *const FgallNail,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let nail = unsafe { read_struct(nail, "nail") }?;
        known_bits(nail.set, FGALL_NAIL_IRON, "set")?;
        let before = read!(nail, before_g, before_u_g, grams, MOST)?;
        let after = read!(nail, after_g, after_u_g, grams, MOST)?;
        let iron = if nail.set & FGALL_NAIL_IRON == 0 {
            None
        } else {
            let share = within("iron_share", nail.iron_share, 0.0, 1.0, "")?;
            let u = within("iron_share_u", nail.iron_share_u, 0.0, 1.0, "")?;
            Some(Estimate::new(share, u)?)
        };
        let found = iron_dissolved(&before, &after, iron);
        found.arg_of(&[
            ("mass lost", "after_g", nail.after_g),
            ("mass of the metal after", "after_g", nail.after_g),
        ])
    };
    // SAFETY: as above.
    unsafe {
        guard(error, || {
            to.put(|n: AmountOfSubstance| n.in_millimoles(), assay)
        })
    }
}

/// A pan empty, with the sample, and with what is left at constant mass, each as
/// the balance showed it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallDrying {
    /// sizeof(FgallDrying), filled in by the caller.
    pub struct_size: usize,
    /// The pan.
    pub pan_g: f64,
    /// Its standard uncertainty.
    pub pan_u_g: f64,
    /// The pan with the sample.
    pub with_sample_g: f64,
    /// Its standard uncertainty.
    pub with_sample_u_g: f64,
    /// The pan with what is left.
    pub with_dried_g: f64,
    /// Its standard uncertainty.
    pub with_dried_u_g: f64,
}
versioned!(FgallDrying);

impl FgallDrying {
    fn pans(&self) -> Outcome<[Reading<Mass>; 3]> {
        Ok([
            read!(self, pan_g, pan_u_g, grams, MOST)?,
            read!(self, with_sample_g, with_sample_u_g, grams, MOST)?,
            read!(self, with_dried_g, with_dried_u_g, grams, MOST)?,
        ])
    }

    fn about<T>(&self, result: Result<T, AssayError>) -> Outcome<T> {
        result.arg_of(&[
            ("mass of the pan", "pan_g", self.pan_g),
            ("mass of the sample", "with_sample_g", self.with_sample_g),
            ("mass of the salt", "with_sample_g", self.with_sample_g),
            ("mass of what is left", "with_dried_g", self.with_dried_g),
        ])
    }

    fn vitriol(&self, to: u32) -> Outcome<VitriolDrying> {
        let to = match to {
            FGALL_DRIED_TO_TETRAHYDRATE => DriedTo::Tetrahydrate,
            FGALL_DRIED_TO_MONOHYDRATE => DriedTo::Monohydrate,
            FGALL_DRIED_TO_ANHYDROUS => DriedTo::Anhydrous,
            other => return Err(foreign(other, "dried_to")),
        };
        let [pan, full, dried] = self.pans()?;
        Ok(VitriolDrying::new(pan, full, dried, to))
    }
}

/// Which share of the pans.
type Dried = fn(&Reading<Mass>, &Reading<Mass>, &Reading<Mass>) -> Result<Assayed<f64>, AssayError>;

/// # Safety
/// As for the whole room.
unsafe fn dried(drying: *const FgallDrying, to: Answer, of: Dried) -> Outcome<()> {
    let assay = || {
        // SAFETY: as promised by the caller.
        let drying = unsafe { read_struct(drying, "drying") }?;
        let [pan, full, dried] = drying.pans()?;
        drying.about(of(&pan, &full, &dried))
    };
    // SAFETY: as promised by the caller.
    unsafe { to.put(|x| x, assay) }
}

/// What a liquor or an extract leaves when dried, as a share of its mass: at most
/// so much tannin. Notes as in fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_dry_residue_share(
    drying: *const FgallDrying,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe { guard(error, || dried(drying, to, dry_residue)) }
}

/// What galls, gum or tannic acid lose on drying, as a share of their mass as
/// they were: a moisture for FgallLotSpec. Notes as in fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_moisture_share(
    drying: *const FgallDrying,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe { guard(error, || dried(drying, to, loss_on_drying)) }
}

/// Dried to: FeSO4·4H2O.
pub const FGALL_DRIED_TO_TETRAHYDRATE: u32 = 1;
/// Dried to: FeSO4·H2O.
pub const FGALL_DRIED_TO_MONOHYDRATE: u32 = 2;
/// Dried to: FeSO4; strong heat, which can also decompose it.
pub const FGALL_DRIED_TO_ANHYDROUS: u32 = 3;

/// What constant mass in an oven of this temperature leaves of green vitriol: an
/// FGALL_DRIED_TO_…; FGALL_OUT_OF_RANGE where it is none in particular, or where
/// the salt may decompose.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_vitriol_dried_to(
    oven_c: f64,
    dried_to: *mut u32,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(dried_to, "dried_to")?;
            slot.put(match DriedTo::at(celsius(oven_c)).arg("oven_c", oven_c)? {
                DriedTo::Tetrahydrate => FGALL_DRIED_TO_TETRAHYDRATE,
                DriedTo::Monohydrate => FGALL_DRIED_TO_MONOHYDRATE,
                DriedTo::Anhydrous => FGALL_DRIED_TO_ANHYDROUS,
            });
            Ok(())
        })
    }
}

/// # Safety
/// As for the whole room.
unsafe fn vitriol(
    drying: *const FgallDrying,
    dried_to: u32,
    to: Answer,
    of: fn(&VitriolDrying) -> Result<Assayed<f64>, AssayError>,
) -> Outcome<()> {
    let assay = || {
        // SAFETY: as promised by the caller.
        let drying = unsafe { read_struct(drying, "drying") }?;
        drying.about(of(&drying.vitriol(dried_to)?))
    };
    // SAFETY: as promised by the caller.
    unsafe { to.put(|x| x, assay) }
}

/// Mean number of crystal waters for each iron of green vitriol dried to a known
/// hydrate (FGALL_DRIED_TO_…); above 7 the crystals were damp. Notes as in
/// fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_vitriol_waters(
    drying: *const FgallDrying,
    dried_to: u32,
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
            vitriol(drying, dried_to, to, VitriolDrying::waters)
        })
    }
}

/// Its iron as a share of its mass as it is, were it clean iron(II) sulfate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_vitriol_iron_share(
    drying: *const FgallDrying,
    dried_to: u32,
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
            vitriol(drying, dried_to, to, VitriolDrying::iron_content)
        })
    }
}

/// What green vitriol must have been, for FgallLotSpec.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallWeathered {
    /// sizeof(FgallWeathered), filled in by the caller.
    pub struct_size: usize,
    /// Mass fractions of the 7-, 4- and 1-hydrate and of the basic sulfate: the
    /// two on either side of the mean. Another mix would weigh the same.
    pub hydrate_shares: [f64; 4],
    /// Water beyond the 7-hydrate, as a share of the salt as it is.
    pub moisture: f64,
    /// Its standard uncertainty; 0 where there is none.
    pub moisture_u: f64,
}
versioned!(FgallWeathered);

/// The hydrates that come to the same mean number of waters, and the damp beyond
/// them; FGALL_OUT_OF_RANGE where the mean is too low for weathered vitriol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_vitriol_weathered(
    drying: *const FgallDrying,
    dried_to: u32,
    weathered: *mut FgallWeathered,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(weathered, "weathered")?;
            let drying = read_struct(drying, "drying")?;
            let was = drying.about(drying.vitriol(dried_to)?.weathered())?;
            let mix = was.mix;
            slot.put(FgallWeathered {
                struct_size: size_of::<FgallWeathered>(),
                hydrate_shares: [
                    mix.heptahydrate(),
                    mix.tetrahydrate(),
                    mix.monohydrate(),
                    mix.basic_sulfate(),
                ],
                moisture: was.moisture,
                moisture_u: was.moisture_u,
            });
            Ok(())
        })
    }
}
