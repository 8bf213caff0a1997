//! An ink as a forecast of its keeping sees it.

use super::equilibrium::FgallSolver;
use super::error::{Blame, Failure, FgallError, Outcome, no_such_index, unknown_name};
use super::fit::FgallFit;
use super::guard::{
    guard, handle, handle_mut, known_bits, out, out_struct, read_struct_if_given, versioned,
};
use super::recipe::FgallRecipe;
use super::status::{FGALL_EITHER_OR, FgallStatus};
use super::strings::{deliver, text};
use crate::oxidation::{Assisted, FirstOrder, Scavenger, SecondOrder, StoredInk, scavengers};
use crate::quantity::{
    ReadMolality, ReadMolarConcentration, Share, celsius, grams_per_liter, moles_per_kilogram,
    moles_per_liter,
};
use core::ffi::c_char;
use core::mem::size_of;
use core::ptr::null;

/// Bit of FgallStoredInk.set: iron_iii_mol_per_l is given.
pub const FGALL_INK_IRON_III: u32 = 1;
/// Bit of FgallStoredInk.set: ionic_strength_mol_per_kg and dissolving_share are given.
pub const FGALL_INK_SALT: u32 = 2;
/// Bit of FgallStoredInk.set: assisted_l_per_mol_s, assisted_factor_95,
/// assisted_ph and assisted_c are given.
pub const FGALL_INK_ASSISTED: u32 = 4;
/// Bit of FgallStoredInk.set: nail_per_s is given.
pub const FGALL_INK_NAIL: u32 = 8;

/// An ink as a forecast of its keeping sees it: iron, tannin, acid, and what is
/// known of its rates. Fill it in, or have it filled in for a recipe by
/// fgall_solver_stored_ink and change what is to be compared.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStoredInk {
    /// sizeof(FgallStoredInk), filled in by the caller.
    pub struct_size: usize,
    /// Iron(II) at filling, 1e-6 to 10 mol/L.
    pub iron_ii_mol_per_l: f64,
    /// Galloyl units of tannin and free gallic acid together, 0 to 10 mol/L.
    pub galloyl_mol_per_l: f64,
    /// pH at filling, 0 to 7.
    pub ph: f64,
    /// Which of the rest is given: FGALL_INK_… bits.
    pub set: u32,
    /// Iron(III) at filling, 0 to 10 mol/L; none if not given.
    pub iron_iii_mol_per_l: f64,
    /// Ionic strength, 0 to 100 mol/kg; 0 if not given. The rate laws know no
    /// more than 2.
    pub ionic_strength_mol_per_kg: f64,
    /// Oxygen it dissolves as a share of what water does, 0 to 1; 1 if not given.
    pub dissolving_share: f64,
    /// Median of the rate constant of iron(II) that tannin holds, one to a galloyl unit, with oxygen, 1e-12
    /// to 1e12 L/(mol s). If not given, 0.02 at pH 2.5 and 25 °C: a guess from
    /// the use of oxygen in wine and by polyphenols at pH 6. No constant was
    /// found that was measured at the pH of ink; fgall_fit gives your own.
    pub assisted_l_per_mol_s: f64,
    /// The factor either way that holds 95 %, 1 to 1e6; 50 if not given.
    pub assisted_factor_95: f64,
    /// pH at which the median holds, 0 to 7; 2.5 for the guess. It is not filled
    /// in for you: 0 is a pH too.
    pub assisted_ph: f64,
    /// Temperature at which the median holds, 0 to 40 °C; 25 for the guess. It is
    /// not filled in for you either.
    pub assisted_c: f64,
    /// Identifier of a scavenger of oxygen in it (see fgall_scavenger_id, and
    /// fgall_scavenger_note for what it does besides); NULL: none.
    pub scavenger: *const c_char,
    /// How much of the scavenger, up to 1 mol/L of it; read with a scavenger only.
    pub scavenger_g_per_l: f64,
    /// Rate at which a clean nail in the bottle reduces iron(III), 0 to 1e12
    /// 1/s; no nail if not given. Iron in acid gives off hydrogen, which burns
    /// and bursts closed bottles: such a bottle must vent, away from flames.
    pub nail_per_s: f64,
    /// What observations said of it, from fgall_fit; NULL: nothing. It stands in
    /// for FGALL_INK_ASSISTED, and must stay where it is as long as the ink is
    /// used.
    pub fit: *const FgallFit,
}
versioned!(FgallStoredInk);

impl FgallStoredInk {
    fn of(ink: &StoredInk) -> FgallStoredInk {
        FgallStoredInk {
            struct_size: size_of::<FgallStoredInk>(),
            iron_ii_mol_per_l: ink.iron_ii().in_moles_per_liter(),
            galloyl_mol_per_l: ink.galloyl().in_moles_per_liter(),
            ph: ink.ph(),
            set: FGALL_INK_IRON_III | FGALL_INK_SALT,
            iron_iii_mol_per_l: ink.iron_iii().in_moles_per_liter(),
            ionic_strength_mol_per_kg: ink.ionic_strength().in_moles_per_kilogram(),
            dissolving_share: ink.dissolving().value(),
            assisted_l_per_mol_s: 0.0,
            assisted_factor_95: 0.0,
            assisted_ph: 0.0,
            assisted_c: 0.0,
            scavenger: null(),
            scavenger_g_per_l: 0.0,
            nail_per_s: 0.0,
            fit: null(),
        }
    }

    /// The ink that was filled in.
    ///
    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn ink(&self) -> Outcome<StoredInk> {
        let known = FGALL_INK_IRON_III | FGALL_INK_SALT | FGALL_INK_ASSISTED | FGALL_INK_NAIL;
        known_bits(self.set, known, "set")?;
        let given = |bit| self.set & bit != 0;
        let mut ink = StoredInk::new(
            moles_per_liter(self.iron_ii_mol_per_l),
            moles_per_liter(self.galloyl_mol_per_l),
            self.ph,
        )
        .arg_of(&[
            ("iron(II)", "iron_ii_mol_per_l", self.iron_ii_mol_per_l),
            ("galloyl units", "galloyl_mol_per_l", self.galloyl_mol_per_l),
            ("pH", "ph", self.ph),
        ])?;
        if given(FGALL_INK_IRON_III) {
            let iron_iii = ink.with_iron_iii(moles_per_liter(self.iron_iii_mol_per_l));
            ink = iron_iii.arg("iron_iii_mol_per_l", self.iron_iii_mol_per_l)?;
        }
        if given(FGALL_INK_SALT) {
            let dissolving = Share::new(self.dissolving_share);
            let dissolving = dissolving.arg("dissolving_share", self.dissolving_share)?;
            let salt = moles_per_kilogram(self.ionic_strength_mol_per_kg);
            let salted = ink.with_salt(salt, dissolving);
            ink = salted.arg("ionic_strength_mol_per_kg", self.ionic_strength_mol_per_kg)?;
        }
        if given(FGALL_INK_ASSISTED) {
            let own = assisted_of(
                self.assisted_l_per_mol_s,
                self.assisted_factor_95,
                self.assisted_ph,
                self.assisted_c,
            )?;
            ink = ink.with_assisted(own);
        }
        if !self.scavenger.is_null() {
            // SAFETY: as promised by the caller.
            let scavenger = unsafe { scavenger_of(self.scavenger, "scavenger") }?;
            let dosed = ink.with_scavenger(scavenger, grams_per_liter(self.scavenger_g_per_l));
            ink = dosed.arg("scavenger_g_per_l", self.scavenger_g_per_l)?;
        }
        if given(FGALL_INK_NAIL) {
            let nail = FirstOrder::per_second(self.nail_per_s);
            ink = ink.with_nail(nail.arg("nail_per_s", self.nail_per_s)?);
        }
        // SAFETY: as promised by the caller.
        if let Some(found) = unsafe { read_struct_if_given(self.fit, "fit") }? {
            if given(FGALL_INK_ASSISTED) {
                let both = "is given, and FGALL_INK_ASSISTED too";
                return Err(Failure::new(FGALL_EITHER_OR, "fit", both));
            }
            ink = ink.with_fit(&found.fit()?);
        }
        Ok(ink)
    }
}

/// The rate in the four fields that go by the name of assisted.
pub(super) fn assisted_of(k: f64, factor: f64, ph: f64, c: f64) -> Outcome<Assisted> {
    let median = SecondOrder::l_per_mol_s(k).arg("assisted_l_per_mol_s", k)?;
    let known = Assisted::known(median, factor).arg_of(&[
        ("median rate constant", "assisted_l_per_mol_s", k),
        ("factor of 95 %", "assisted_factor_95", factor),
    ])?;
    let found = known.found_at(ph, celsius(c));
    found.arg_of(&[("pH", "assisted_ph", ph), ("temperature", "assisted_c", c)])
}

/// # Safety
/// As for the whole room.
unsafe fn scavenger_of(id: *const c_char, name: &str) -> Outcome<&'static Scavenger> {
    // SAFETY: as promised by the caller.
    let id = unsafe { text(id, name) }?;
    scavenger_named(id, name)
}

pub(super) fn scavenger_named(id: &str, name: &str) -> Outcome<&'static Scavenger> {
    let row = scavengers().iter().find(|row| row.id == id);
    row.ok_or_else(|| unknown_name(name, id))
}

/// The ink of a recipe as a forecast sees it, with the pH and the salt of its
/// equilibrium; everything in *ink is written. FGALL_OUT_OF_RANGE for an ink
/// without iron(II) or of a pH above 7.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_solver_stored_ink(
    solver: *mut FgallSolver,
    recipe: *const FgallRecipe,
    ink: *mut FgallStoredInk,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let solver = &mut handle_mut(solver, "solver")?.solver;
            let recipe = handle(recipe, "recipe")?;
            let slot = out_struct(ink, "ink")?;
            let made = recipe.recipe.evaluate()?;
            let ink = StoredInk::of(&made.composition, solver)?;
            slot.put(FgallStoredInk::of(&ink));
            Ok(())
        })
    }
}

/// Number of scavengers of oxygen in the catalogue.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_scavenger_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(scavengers().len());
            Ok(())
        })
    }
}

/// Identifier of the scavenger at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_scavenger_id(
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let row = scavengers().get(index);
            let row = row.ok_or_else(|| no_such_index("index", index, scavengers().len()))?;
            deliver(row.id, buffer, capacity, needed)
        })
    }
}

/// What a scavenger does besides, and the usual caution.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_scavenger_note(
    scavenger: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let row = scavenger_of(scavenger, "scavenger")?;
            deliver(row.note, buffer, capacity, needed)
        })
    }
}
