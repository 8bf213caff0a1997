//! Iron(II) by redox titration, with a burette or by drops.

use super::assay::{Answer, FgallAssayed, read, reading, sample_of, sourced};
use super::error::{Blame, Failure, FgallError, Outcome};
use super::guard::{foreign, guard, known_bits, read_array, read_struct, versioned};
use super::status::{FGALL_EITHER_OR, FgallStatus};
use super::strings::text;
use crate::assay::{
    Aliquot, AssayError, Assayed, Delivered, Dropper, Reading, RedoxTitration, Titrant,
};
use crate::quantity::{
    Mass, MolarConcentration, ReadAmount, ReadMolarConcentration, Volume, grams,
    grams_per_cubic_centimeter, milliliters, moles_per_liter, within,
};
use core::ffi::c_char;

/// Titrant: potassium permanganate, 5 iron(II).
pub const FGALL_TITRANT_PERMANGANATE: u32 = 1;
/// Titrant: potassium dichromate, 6 iron(II). TOXIC: chromium(VI).
pub const FGALL_TITRANT_DICHROMATE: u32 = 2;
/// Titrant: cerium(IV), 1 iron(II).
pub const FGALL_TITRANT_CERIUM_IV: u32 = 3;

/// Bit of FgallTitration.set: titres_ml and titre_count are given in place of
/// volume_ml.
pub const FGALL_TITRATION_TITRES: u32 = 1;
/// Bit of FgallTitration.set: drops are given in place of volume_ml.
pub const FGALL_TITRATION_DROPS: u32 = 2;
/// Bit of FgallTitration.set: dropper_drops, dropper_g, dropper_u_g and
/// dropper_g_per_cm3 are given.
pub const FGALL_TITRATION_DROPPER: u32 = 4;
/// Bit of FgallTitration.set: blank_ml and blank_u_ml are given.
pub const FGALL_TITRATION_BLANK: u32 = 8;
/// Bit of FgallTitration.set: aliquot_ml, aliquot_u_ml, flask_ml and flask_u_ml
/// are given.
pub const FGALL_TITRATION_ALIQUOT: u32 = 16;

/// Titres of one sample, at most.
const MOST_TITRES: usize = 1000;
/// Millilitres and grams, at most.
const MOST: f64 = 1e6;

/// A redox titration of iron(II). Permanganate, dichromate and cerium(IV) oxidise
/// tannin too: a finished ink and a liquor are refused (FGALL_NOT_FOR_SAMPLE), ash
/// the ink first. Uncertainties are standard ones (k = 1), see fgall_reading_u.
/// Figures of one name err together; a name may be NULL.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallTitration {
    /// sizeof(FgallTitration), filled in by the caller.
    pub struct_size: usize,
    /// FGALL_TITRANT_…
    pub titrant: u32,
    /// FGALL_SAMPLE_…
    pub sample: u32,
    /// Titrant, above 0 to 5 mol/L.
    pub molarity_mol_per_l: f64,
    /// Its uncertainty.
    pub molarity_u_mol_per_l: f64,
    /// Name of the bottle of titrant.
    pub titrant_name: *const c_char,
    /// Which of the optional fields are given: FGALL_TITRATION_… bits.
    pub set: u32,
    /// The last of the drops; the end point lies between the one before and this.
    pub drops: u32,
    /// Titrant used.
    pub volume_ml: f64,
    /// Its uncertainty.
    pub volume_u_ml: f64,
    /// Titrant used by each of two or more equal samples; their scatter alone is
    /// the uncertainty.
    pub titres_ml: *const f64,
    /// How many there are.
    pub titre_count: usize,
    /// The dropper: so many drops weigh dropper_g. 20 drops to a millilitre, good
    /// to a fifth, if not given.
    pub dropper_drops: u32,
    /// Mass of those drops.
    pub dropper_g: f64,
    /// Its uncertainty.
    pub dropper_u_g: f64,
    /// Density of what was dropped, 0.5 to 3 g/cm3.
    pub dropper_g_per_cm3: f64,
    /// Name of the dropper.
    pub dropper_name: *const c_char,
    /// Titrant used by a blank without iron.
    pub blank_ml: f64,
    /// Its uncertainty.
    pub blank_u_ml: f64,
    /// Part of the sample that was titrated.
    pub aliquot_ml: f64,
    /// Its uncertainty.
    pub aliquot_u_ml: f64,
    /// Name of the pipette.
    pub pipette_name: *const c_char,
    /// Volume the sample was made up to.
    pub flask_ml: f64,
    /// Its uncertainty.
    pub flask_u_ml: f64,
    /// Name of the flask.
    pub flask_name: *const c_char,
}
versioned!(FgallTitration);

/// The aliquot of a struct with the fields of one.
macro_rules! aliquot {
    ($from:expr) => {{
        let taken = read!($from, aliquot_ml, aliquot_u_ml, milliliters, MOST)?;
        let of = read!($from, flask_ml, flask_u_ml, milliliters, MOST)?;
        Aliquot::new(
            sourced(taken, $from.pipette_name, "pipette_name")?,
            sourced(of, $from.flask_name, "flask_name")?,
        )
    }};
}
pub(super) use aliquot;

impl FgallTitration {
    fn given(&self, bit: u32) -> bool {
        self.set & bit != 0
    }

    /// # Safety
    /// As for the whole room.
    unsafe fn dropper(&self) -> Outcome<Dropper> {
        let dropper = if self.given(FGALL_TITRATION_DROPPER) {
            let mass = read!(self, dropper_g, dropper_u_g, grams, MOST)?;
            let density = within("dropper_g_per_cm3", self.dropper_g_per_cm3, 0.5, 3.0, "")?;
            let drops = self.dropper_drops;
            let weighed = Dropper::weighed(drops, &mass, grams_per_cubic_centimeter(density));
            weighed.arg_of(&[
                ("drops", "dropper_drops", f64::from(drops)),
                ("mass of the drops", "dropper_g", self.dropper_g),
            ])?
        } else {
            Dropper::usual()?
        };
        if self.dropper_name.is_null() {
            return Ok(dropper);
        }
        // SAFETY: as promised by the caller.
        Ok(dropper.named(unsafe { text(self.dropper_name, "dropper_name") }?))
    }

    /// # Safety
    /// As for the whole room.
    unsafe fn delivered(&self) -> Outcome<Delivered> {
        let titres = self.given(FGALL_TITRATION_TITRES);
        if self.given(FGALL_TITRATION_DROPS) {
            if titres {
                let failure = "and titres_ml exclude each other";
                return Err(Failure::new(FGALL_EITHER_OR, "drops", failure));
            }
            // SAFETY: as promised by the caller.
            let dropper = unsafe { self.dropper() }?;
            return Ok(Delivered::drops(self.drops, &dropper)?);
        }
        if !titres {
            let volume = read!(self, volume_ml, volume_u_ml, milliliters, MOST)?;
            return Ok(Delivered::from(volume));
        }
        let count = self.titre_count;
        within(
            "titre_count",
            count as f64,
            2.0,
            MOST_TITRES as f64,
            "titres",
        )?;
        // SAFETY: as promised by the caller.
        let titres = unsafe { read_array(self.titres_ml, count, MOST_TITRES, "titres_ml") }?;
        let volumes: Outcome<Vec<Volume>> = titres
            .into_iter()
            .map(|ml| Ok(milliliters(within("titres_ml", ml, 0.0, MOST, "")?)))
            .collect();
        Ok(Delivered::from(Reading::repeats(&volumes?)?))
    }

    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn titration(&self) -> Outcome<RedoxTitration> {
        known_bits(self.set, 31, "set")?;
        let titrant = match self.titrant {
            FGALL_TITRANT_PERMANGANATE => Titrant::Permanganate,
            FGALL_TITRANT_DICHROMATE => Titrant::Dichromate,
            FGALL_TITRANT_CERIUM_IV => Titrant::CeriumIV,
            other => return Err(foreign(other, "titrant")),
        };
        let sample = sample_of(self.sample)?;
        let molarity: Reading<MolarConcentration> = read!(
            self,
            molarity_mol_per_l,
            molarity_u_mol_per_l,
            moles_per_liter,
            5.0
        )?;
        // SAFETY: as promised by the caller.
        unsafe {
            let molarity = sourced(molarity, self.titrant_name, "titrant_name")?;
            let mut made = RedoxTitration::new(titrant, sample, molarity, self.delivered()?);
            if self.given(FGALL_TITRATION_BLANK) {
                made = made.blank(read!(self, blank_ml, blank_u_ml, milliliters, MOST)?);
            }
            if self.given(FGALL_TITRATION_ALIQUOT) {
                made = made.aliquot(aliquot!(self));
            }
            Ok(made)
        }
    }

    /// An error of the room, about the field it comes from.
    pub(super) fn about<T>(&self, result: Result<T, AssayError>) -> Outcome<T> {
        result.arg_of(&[
            (
                "molarity of the titrant",
                "molarity_mol_per_l",
                self.molarity_mol_per_l,
            ),
            ("volume of titrant less blank", "blank_ml", self.blank_ml),
            ("aliquot", "aliquot_ml", self.aliquot_ml),
            ("volume of the flask", "flask_ml", self.flask_ml),
            ("share of the aliquot", "aliquot_ml", self.aliquot_ml),
        ])
    }

    pub(super) fn mass_fraction(
        &self,
        titration: &RedoxTitration,
        sample: &Reading<Mass>,
        sample_g: f64,
    ) -> Outcome<Assayed<f64>> {
        let found = titration.mass_fraction(sample);
        self.about(found)
            .arg_of(&[("mass of the sample", "sample_g", sample_g)])
    }
}

pub(super) fn weighed(sample_g: f64, sample_u_g: f64) -> Outcome<Reading<Mass>> {
    let u = ("sample_u_g", sample_u_g);
    reading(grams, ("sample_g", sample_g), u, MOST)
}

/// Iron(II) in the whole sample, mmol. `notes` are everything to know about the
/// result, a line for each: what was assumed, what may have gone wrong, what
/// makes the uncertainty, the method and its dangers. They may be left out: NULL,
/// 0, NULL. Where they do not fit, nothing is written but *needed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_titration_iron_mmol(
    titration: *const FgallTitration,
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
                |n| ReadAmount::in_millimoles(&n),
                || {
                    let given = read_struct(titration, "titration")?;
                    given.about(given.titration()?.iron())
                },
            )
        })
    }
}

/// Iron(II) of a liquid sample of this volume, mol/L; notes as in
/// fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_titration_iron_mol_per_l(
    titration: *const FgallTitration,
    sample_ml: f64,
    sample_u_ml: f64,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let (given, made) = unsafe {
            let given = read_struct(titration, "titration")?;
            (given, given.titration()?)
        };
        let u = ("sample_u_ml", sample_u_ml);
        let sample = reading(milliliters, ("sample_ml", sample_ml), u, MOST)?;
        let found = given.about(made.concentration(&sample));
        found.arg_of(&[("volume of the sample", "sample_ml", sample_ml)])
    };
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            to.put(|c: MolarConcentration| c.in_moles_per_liter(), assay)
        })
    }
}

/// Iron(II) of a weighed sample, as a share of its mass; notes as in
/// fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_titration_iron_share(
    titration: *const FgallTitration,
    sample_g: f64,
    sample_u_g: f64,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let (given, made) = unsafe {
            let given = read_struct(titration, "titration")?;
            (given, given.titration()?)
        };
        given.mass_fraction(&made, &weighed(sample_g, sample_u_g)?, sample_g)
    };
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe { guard(error, || to.put(|x| x, assay)) }
}

/// Share of a weighed sample that is the salt of this formula, its iron(II) being
/// that of the titration: a purity for FgallLotSpec. Notes as in
/// fgall_titration_iron_mmol.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_titration_purity(
    titration: *const FgallTitration,
    sample_g: f64,
    sample_u_g: f64,
    formula: *const c_char,
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    let to = Answer::to(assayed, notes, capacity, needed);
    let assay = || {
        // SAFETY: the caller keeps the pointer rules of this room.
        let (given, made, formula) = unsafe {
            let given = read_struct(titration, "titration")?;
            (given, given.titration()?, text(formula, "formula")?)
        };
        let found = made.purity(&weighed(sample_g, sample_u_g)?, formula);
        let blame = [
            ("mass of the sample", "sample_g", sample_g),
            ("iron in the formula", "formula", f64::NAN),
        ];
        given.about(found).arg_of(&blame)
    };
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe { guard(error, || to.put(|x| x, assay)) }
}
