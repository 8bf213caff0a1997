//! Iron by colour, and how much of it has rusted.

use super::assay::{Answer, FgallAssayed, read, sample_of, sourced};
use super::error::{Blame, FgallError, Outcome};
use super::guard::{guard, known_bits, read_array, read_struct, versioned};
use super::status::FgallStatus;
use super::titration::{FgallTitration, aliquot};
use crate::assay::{Aliquot, AssayError, Assayed, CalibrationLine, Phenanthroline, oxidised_share};
use crate::quantity::{MolarConcentration, ReadMolarConcentration, milliliters, millimeters};
use core::ffi::c_char;

/// Bit of FgallPhenanthroline.set: blank_absorbance and blank_absorbance_u are
/// given.
pub const FGALL_PHENANTHROLINE_BLANK: u32 = 1;
/// Bit of FgallPhenanthroline.set: aliquot_ml, aliquot_u_ml, flask_ml and
/// flask_u_ml are given.
pub const FGALL_PHENANTHROLINE_ALIQUOT: u32 = 2;
/// Bit of FgallPhenanthroline.set: standards_mg_per_l, standards_absorbance and
/// standard_count are given.
pub const FGALL_PHENANTHROLINE_STANDARDS: u32 = 4;

/// Millilitres, at most.
const MOST: f64 = 1e6;
/// Standards of one line, at most.
const MOST_STANDARDS: usize = 10_000;

/// An absorbance with 1,10-phenanthroline at 510 nm. Without a reducing agent it
/// counts iron(II), after hydroxylamine all iron. A finished ink wants a blank of
/// its own, FGALL_NOT_FOR_SAMPLE without. Uncertainties and names are as in
/// FgallTitration.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallPhenanthroline {
    /// sizeof(FgallPhenanthroline), filled in by the caller.
    pub struct_size: usize,
    /// FGALL_SAMPLE_…
    pub sample: u32,
    /// Which of the optional fields are given: FGALL_PHENANTHROLINE_… bits.
    pub set: u32,
    /// Absorbance, 0 to 3.
    pub absorbance: f64,
    /// Its uncertainty.
    pub absorbance_u: f64,
    /// Path of the cell, 0.1 to 1000 mm.
    pub path_mm: f64,
    /// Its uncertainty.
    pub path_u_mm: f64,
    /// Name of the cell.
    pub cell_name: *const c_char,
    /// Absorbance of the blank.
    pub blank_absorbance: f64,
    /// Its uncertainty.
    pub blank_absorbance_u: f64,
    /// So much of the sample was diluted.
    pub aliquot_ml: f64,
    /// Its uncertainty.
    pub aliquot_u_ml: f64,
    /// Name of the pipette.
    pub pipette_name: *const c_char,
    /// To so much.
    pub flask_ml: f64,
    /// Its uncertainty.
    pub flask_u_ml: f64,
    /// Name of the flask.
    pub flask_name: *const c_char,
    /// Iron in standards read in the same cell, which then counts instead of the
    /// published molar absorption.
    pub standards_mg_per_l: *const f64,
    /// Their absorbances.
    pub standards_absorbance: *const f64,
    /// How many there are, three or more.
    pub standard_count: usize,
}
versioned!(FgallPhenanthroline);

impl FgallPhenanthroline {
    /// # Safety
    /// As for the whole room.
    unsafe fn iron(&self) -> Outcome<Assayed<MolarConcentration>> {
        known_bits(self.set, 7, "set")?;
        let given = |bit| self.set & bit != 0;
        let absorbance = read!(self, absorbance, absorbance_u, |x| x, 3.0)?;
        let path = read!(self, path_mm, path_u_mm, millimeters, 1000.0)?;
        // SAFETY: as promised by the caller.
        unsafe {
            let path = sourced(path, self.cell_name, "cell_name")?;
            let mut made = Phenanthroline::new(sample_of(self.sample)?, absorbance, path);
            if given(FGALL_PHENANTHROLINE_BLANK) {
                let blank = read!(self, blank_absorbance, blank_absorbance_u, |x| x, 3.0)?;
                made = made.blank(blank);
            }
            if given(FGALL_PHENANTHROLINE_ALIQUOT) {
                made = made.dilution(aliquot!(self));
            }
            if !given(FGALL_PHENANTHROLINE_STANDARDS) {
                return self.about(made.iron());
            }
            let line = self.line()?;
            self.about(made.iron_by(&line))
        }
    }

    /// # Safety
    /// As for the whole room.
    unsafe fn line(&self) -> Outcome<CalibrationLine> {
        let column = |pointer, name| {
            // SAFETY: as promised by the caller.
            let read = unsafe { read_array(pointer, self.standard_count, MOST_STANDARDS, name) };
            read.arg_of(&[("count", "standard_count", self.standard_count as f64)])
        };
        let contents = column(self.standards_mg_per_l, "standards_mg_per_l")?;
        let responses = column(self.standards_absorbance, "standards_absorbance")?;
        CalibrationLine::fit(&contents, &responses).map_err(|e| {
            let of_content =
                matches!(&e, AssayError::OutOfRange(r) if r.what.starts_with("content"));
            let mut failure = super::error::Failure::from(e);
            match failure.argument.as_str() {
                "standards" => failure.argument = "standard_count".to_string(),
                "spread of the contents" => failure.argument = "standards_mg_per_l".to_string(),
                _ if of_content => failure.argument = "standards_mg_per_l".to_string(),
                _ => failure.argument = "standards_absorbance".to_string(),
            }
            failure
        })
    }

    fn about<T>(&self, result: Result<T, AssayError>) -> Outcome<T> {
        result.arg_of(&[
            ("path of the cell", "path_mm", self.path_mm),
            (
                "absorbance less blank",
                "blank_absorbance",
                self.blank_absorbance,
            ),
            ("aliquot", "aliquot_ml", self.aliquot_ml),
            ("volume of the flask", "flask_ml", self.flask_ml),
            ("share of the aliquot", "aliquot_ml", self.aliquot_ml),
            ("iron in the cell", "absorbance", self.absorbance),
        ])
    }
}

/// Iron of the sample before it was diluted, mol/L; notes as in
/// fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_phenanthroline_iron_mol_per_l(
    given: *const FgallPhenanthroline,
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
            to.put(
                |c: MolarConcentration| c.in_moles_per_liter(),
                || read_struct(given, "given")?.iron(),
            )
        })
    }
}

/// Share of the iron that is iron(III), from two absorbances: that of the
/// iron(II), and that of all iron after hydroxylamine. What both rest on (the
/// molar absorption, figures of one name) cancels. FGALL_CONTRADICTION where
/// iron(II) exceeds the total by more than their scatter. Notes as in
/// fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_phenanthroline_oxidised_share(
    iron_ii: *const FgallPhenanthroline,
    total: *const FgallPhenanthroline,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    // SAFETY: the caller keeps the pointer rules of this room.
    let assay = || unsafe {
        let two = read_struct(iron_ii, "iron_ii")?.iron()?;
        let all = read_struct(total, "total")?.iron()?;
        Ok(oxidised_share(&two, &all)?)
    };
    // SAFETY: as above.
    unsafe { guard(error, || to.put(|x| x, assay)) }
}

/// The same from two titrations of equal samples, as they are and after all iron
/// was brought to iron(II).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_titration_oxidised_share(
    iron_ii: *const FgallTitration,
    total: *const FgallTitration,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    // SAFETY: the caller keeps the pointer rules of this room.
    let assay = || unsafe {
        let (two, all) = (
            read_struct(iron_ii, "iron_ii")?,
            read_struct(total, "total")?,
        );
        let two = two.about(two.titration()?.iron())?;
        let all = all.about(all.titration()?.iron())?;
        Ok(oxidised_share(&two, &all)?)
    };
    // SAFETY: as above.
    unsafe { guard(error, || to.put(|x| x, assay)) }
}
