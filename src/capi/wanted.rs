//! What an ink shall be, in windows.

use super::error::{Blame, Failure, Outcome};
use super::guard::{foreign, known_bits, versioned};
use super::status::{FGALL_INPUT_NAN, FGALL_OUT_OF_RANGE};
use super::study_answers::criterion_called;
use crate::composition::Criterion;
use crate::formulate::{Goal, Wanted, Window};
use crate::quantity::{OutOfRange, grams_per_liter, milliliters, moles_per_liter};
use core::ffi::c_char;

/// Bit of FgallWanted.set: iron_ii_mol_per_l is given.
pub const FGALL_WANTED_IRON_II: u32 = 1;
/// Bit of FgallWanted.set: iron_g_per_l is given.
pub const FGALL_WANTED_IRON: u32 = 2;
/// Bit of FgallWanted.set: galloyl_mol_per_l is given.
pub const FGALL_WANTED_GALLOYL: u32 = 4;
/// Bit of FgallWanted.set: gallic_acid_mol_per_l is given.
pub const FGALL_WANTED_GALLIC_ACID: u32 = 8;
/// Bit of FgallWanted.set: tannic_and_gallic_g_per_l is given.
pub const FGALL_WANTED_TANNIC_AND_GALLIC: u32 = 16;
/// Bit of FgallWanted.set: iron_ii_per_galloyl is given.
pub const FGALL_WANTED_IRON_II_PER_GALLOYL: u32 = 32;
/// Bit of FgallWanted.set: gallic_share is given.
pub const FGALL_WANTED_GALLIC_SHARE: u32 = 64;
/// Bit of FgallWanted.set: strong_acid_mol_per_l is given.
pub const FGALL_WANTED_STRONG_ACID: u32 = 128;
/// Bit of FgallWanted.set: ph is given.
pub const FGALL_WANTED_PH: u32 = 256;
/// Bit of FgallWanted.set: gum_g_per_l is given.
pub const FGALL_WANTED_GUM: u32 = 512;
/// Bit of FgallWanted.set: dye_g_per_l is given.
pub const FGALL_WANTED_DYE: u32 = 1024;
/// Bit of FgallWanted.set: preservative_g_per_l is given.
pub const FGALL_WANTED_PRESERVATIVE: u32 = 2048;
/// Bit of FgallWanted.set: most_cost is given.
pub const FGALL_WANTED_COST: u32 = 4096;
/// Bit of FgallWanted.set: criterion and assurance are given.
pub const FGALL_WANTED_ASSURANCE: u32 = 8192;
/// Names volume_ml among what fgall_shelf_make_rows varies; no bit of
/// FgallWanted, whose volume is always read.
pub const FGALL_WANTED_VOLUME: u32 = 16384;
/// Bit of FgallWanted.set: most_volume_ml is given.
pub const FGALL_WANTED_MOST_VOLUME: u32 = 32768;
/// Added to one of the windows above in fgall_shelf_make_rows: its low end only.
pub const FGALL_WANTED_LOW: u32 = 1_048_576;
/// Added to one of the windows above in fgall_shelf_make_rows: its high end only.
pub const FGALL_WANTED_HIGH: u32 = 2_097_152;

const WANTED_BITS: u32 = 16383 | FGALL_WANTED_MOST_VOLUME;
const WINDOWS: usize = Goal::ALL.len();

/// The windows in the order of their bits, with the names of their fields.
const FIELDS: [(Goal, u32, &str); WINDOWS] = [
    (Goal::IronII, FGALL_WANTED_IRON_II, "iron_ii_mol_per_l"),
    (Goal::Iron, FGALL_WANTED_IRON, "iron_g_per_l"),
    (Goal::Galloyl, FGALL_WANTED_GALLOYL, "galloyl_mol_per_l"),
    (
        Goal::GallicAcid,
        FGALL_WANTED_GALLIC_ACID,
        "gallic_acid_mol_per_l",
    ),
    (
        Goal::TannicAndGallic,
        FGALL_WANTED_TANNIC_AND_GALLIC,
        "tannic_and_gallic_g_per_l",
    ),
    (
        Goal::IronIIPerGalloyl,
        FGALL_WANTED_IRON_II_PER_GALLOYL,
        "iron_ii_per_galloyl",
    ),
    (Goal::GallicShare, FGALL_WANTED_GALLIC_SHARE, "gallic_share"),
    (
        Goal::StrongAcid,
        FGALL_WANTED_STRONG_ACID,
        "strong_acid_mol_per_l",
    ),
    (Goal::Ph, FGALL_WANTED_PH, "ph"),
    (Goal::Gum, FGALL_WANTED_GUM, "gum_g_per_l"),
    (Goal::Dye, FGALL_WANTED_DYE, "dye_g_per_l"),
    (
        Goal::Preservative,
        FGALL_WANTED_PRESERVATIVE,
        "preservative_g_per_l",
    ),
];

/// The bit of a figure by its identifier.
pub(super) fn bit_of(id: &str) -> u32 {
    let window = FIELDS.iter().find(|(goal, ..)| goal.id() == id);
    match (window, id) {
        (Some((_, bit, _)), _) => *bit,
        (None, "cost") => FGALL_WANTED_COST,
        (None, _) => FGALL_WANTED_ASSURANCE,
    }
}

/// Anything between two ends; an end that is NaN is open, two ends that are the
/// same mean exactly so much.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallWindow {
    /// Low end.
    pub low: f64,
    /// High end, not below the low one.
    pub high: f64,
}

/// What an ink shall be. A figure that `set` does not name may be anything: an
/// ink as cheap as can be has no gum when nobody asks for gum.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallWanted {
    /// sizeof(FgallWanted), filled in by the caller.
    pub struct_size: usize,
    /// Volume to make, 0.001 mL to 1e9 mL; with most_volume_ml the least of it.
    pub volume_ml: f64,
    /// Which fields below are given: FGALL_WANTED_… bits.
    pub set: u32,
    /// Iron(II), up to 10 mol/L.
    pub iron_ii_mol_per_l: FgallWindow,
    /// All iron, as metal, up to 1000 g/L: the figure standards speak of.
    pub iron_g_per_l: FgallWindow,
    /// Galloyl units, free gallic acid included, up to 10 mol/L.
    pub galloyl_mol_per_l: FgallWindow,
    /// Free gallic acid, up to 10 mol/L.
    pub gallic_acid_mol_per_l: FgallWindow,
    /// Tannin and free gallic acid (anhydrous) together, up to 1000 g/L.
    pub tannic_and_gallic_g_per_l: FgallWindow,
    /// mol of iron(II) per mol of galloyl units, up to 1000.
    pub iron_ii_per_galloyl: FgallWindow,
    /// Share of the galloyl units that is free gallic acid, 0 to 1.
    pub gallic_share: FgallWindow,
    /// Strong acid, -10 to 10 mol/L; negative: base left over.
    pub strong_acid_mol_per_l: FgallWindow,
    /// pH of the fresh ink by the reviewed constants at 20 °C, -1 to 15.
    pub ph: FgallWindow,
    /// Dry gum, up to 1000 g/L.
    pub gum_g_per_l: FgallWindow,
    /// Dye, up to 1000 g/L.
    pub dye_g_per_l: FgallWindow,
    /// Preservative, as the acid or phenol that acts, up to 1000 g/L.
    pub preservative_g_per_l: FgallWindow,
    /// What the batch may cost at most, 0 to 1e12.
    pub most_cost: f64,
    /// Identifier of a criterion, as in FgallVerdict, that the iron shall stay
    /// within.
    pub criterion: *const c_char,
    /// How sure that shall be, 0.5 to 0.999, the strengths of the lots being as
    /// unsure as they are. It is reckoned to first order; fgall_study_excess_iron
    /// draws the recipe that comes out of it.
    pub assurance: f64,
    /// Volume to make at most, volume_ml to 1e9 mL: the ink may then be anything
    /// between, which gives whole steps of a balance room. What is missed is
    /// weighed as for the middle.
    pub most_volume_ml: f64,
}
versioned!(FgallWanted);

/// The same without pointers: what the rows of columns are made from.
#[derive(Clone, Copy)]
pub(super) struct Asked {
    volume_ml: f64,
    most_volume_ml: Option<f64>,
    windows: [FgallWindow; WINDOWS],
    most_cost: Option<f64>,
    criterion: Option<&'static Criterion>,
    assurance: Option<f64>,
}

/// What of it a column varies.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Place {
    Volume,
    MostVolume,
    /// Its low end, its high end, or both.
    Window {
        at: usize,
        low: bool,
        high: bool,
    },
    Cost,
    Assurance,
}

pub(super) fn place_of(code: u32) -> Outcome<Place> {
    let (figure, end) = (code & 0xf_ffff, code & !0xf_ffff);
    let window = FIELDS.iter().position(|(_, bit, _)| *bit == figure);
    let low = end != FGALL_WANTED_HIGH;
    let high = end != FGALL_WANTED_LOW;
    match (window, figure, end) {
        (Some(at), _, 0 | FGALL_WANTED_LOW | FGALL_WANTED_HIGH) => {
            Ok(Place::Window { at, low, high })
        }
        (None, FGALL_WANTED_VOLUME, 0) => Ok(Place::Volume),
        (None, FGALL_WANTED_MOST_VOLUME, 0) => Ok(Place::MostVolume),
        (None, FGALL_WANTED_COST, 0) => Ok(Place::Cost),
        (None, FGALL_WANTED_ASSURANCE, 0) => Ok(Place::Assurance),
        _ => Err(foreign(code, "varied")),
    }
}

/// A window in the unit of its field.
fn narrowed(
    wanted: Wanted,
    goal: Goal,
    low: Option<f64>,
    high: Option<f64>,
) -> Result<Wanted, OutOfRange> {
    let plain = Window::between(low, high);
    let molar = Window::between(low.map(moles_per_liter), high.map(moles_per_liter));
    let mass = Window::between(low.map(grams_per_liter), high.map(grams_per_liter));
    match goal {
        Goal::IronII => wanted.iron_ii(molar),
        Goal::Iron => wanted.iron(mass),
        Goal::Galloyl => wanted.galloyl(molar),
        Goal::GallicAcid => wanted.gallic_acid(molar),
        Goal::TannicAndGallic => wanted.tannic_and_gallic(mass),
        Goal::IronIIPerGalloyl => wanted.iron_ii_per_galloyl(plain),
        Goal::GallicShare => wanted.gallic_share(plain),
        Goal::StrongAcid => wanted.strong_acid(molar),
        Goal::Ph => wanted.ph(plain),
        Goal::Gum => wanted.gum(mass),
        Goal::Dye => wanted.dye(mass),
        Goal::Preservative => wanted.preservative(mass),
    }
}

/// An end of a window; nothing where it is open.
fn end(x: f64, name: &str) -> Outcome<Option<f64>> {
    if x.is_infinite() {
        let failure = Failure::new(FGALL_OUT_OF_RANGE, name, &format!("= {x} is no number"));
        return Err(failure.with_value(x));
    }
    Ok((!x.is_nan()).then_some(x))
}

impl Asked {
    /// Of a figure in `varied` nothing need be given but what it hangs on.
    ///
    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn of(w: &FgallWanted, varied: &[Place]) -> Outcome<Asked> {
        known_bits(w.set, WANTED_BITS, "set")?;
        let given = |bit| w.set & bit != 0;
        let all = [
            w.iron_ii_mol_per_l,
            w.iron_g_per_l,
            w.galloyl_mol_per_l,
            w.gallic_acid_mol_per_l,
            w.tannic_and_gallic_g_per_l,
            w.iron_ii_per_galloyl,
            w.gallic_share,
            w.strong_acid_mol_per_l,
            w.ph,
            w.gum_g_per_l,
            w.dye_g_per_l,
            w.preservative_g_per_l,
        ];
        let open = FgallWindow {
            low: f64::NAN,
            high: f64::NAN,
        };
        let mut windows = [open; WINDOWS];
        for ((slot, window), (_, bit, name)) in windows.iter_mut().zip(all).zip(FIELDS) {
            if !given(bit) {
                continue;
            }
            if window.low.is_nan() && window.high.is_nan() {
                return Err(Failure::new(FGALL_INPUT_NAN, name, "has no end at all"));
            }
            *slot = window;
        }
        let unsure = given(FGALL_WANTED_ASSURANCE);
        let criterion = if unsure || varied.contains(&Place::Assurance) {
            // SAFETY: as promised by the caller.
            Some(unsafe { criterion_called(w.criterion) }?)
        } else {
            None
        };
        Ok(Asked {
            volume_ml: w.volume_ml,
            most_volume_ml: given(FGALL_WANTED_MOST_VOLUME).then_some(w.most_volume_ml),
            windows,
            most_cost: given(FGALL_WANTED_COST).then_some(w.most_cost),
            criterion,
            assurance: unsure.then_some(w.assurance),
        })
    }

    /// Puts a number of a column into its place.
    pub(super) fn put(&mut self, place: Place, x: f64) {
        match place {
            Place::Volume => self.volume_ml = x,
            Place::MostVolume => self.most_volume_ml = Some(x),
            Place::Cost => self.most_cost = Some(x),
            Place::Assurance => self.assurance = Some(x),
            Place::Window { at, low, high } => {
                if let Some(window) = self.windows.get_mut(at) {
                    window.low = if low { x } else { window.low };
                    window.high = if high { x } else { window.high };
                }
            }
        }
    }

    fn volume(&self) -> Outcome<Wanted> {
        let least = milliliters(self.volume_ml);
        let wanted = match self.most_volume_ml {
            None => Wanted::new(least),
            Some(most) => {
                let most_only = Wanted::new(milliliters(most));
                most_only.arg("most_volume_ml", most)?;
                Wanted::new(least..=milliliters(most))
            }
        };
        wanted.arg("volume_ml", self.volume_ml)
    }

    pub(super) fn wanted(&self) -> Outcome<Wanted> {
        let mut wanted = self.volume()?;
        for (FgallWindow { low, high }, (goal, _, field)) in self.windows.into_iter().zip(FIELDS) {
            let names = (format!("{field}.low"), format!("{field}.high"));
            let ends = (end(low, &names.0)?, end(high, &names.1)?);
            // The high end by itself, so that each is blamed for its own.
            narrowed(wanted, goal, None, ends.1).arg(&names.1, high)?;
            wanted = narrowed(wanted, goal, ends.0, ends.1).arg(&names.0, low)?;
        }
        if let Some(money) = self.most_cost {
            wanted = wanted.costing_at_most(money).arg("most_cost", money)?;
        }
        if let (Some(criterion), Some(assurance)) = (self.criterion, self.assurance) {
            let sure = wanted.sure_of(criterion, assurance);
            wanted = sure.arg("assurance", assurance)?;
        }
        Ok(wanted)
    }
}
