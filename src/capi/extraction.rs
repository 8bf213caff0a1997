//! Tannin out of the plant: what the maker does with it.

use super::error::{Blame, Failure, FgallError, Outcome, mass, volume};
use super::guard::{foreign, guard, handle, handle_mut, known_bits, read_array, read_struct};
use super::guard::{out, versioned};
use super::lots::FgallShelf;
use super::recipe::FgallRecipe;
use super::status::*;
use super::strings::text;
use crate::extraction::{
    BoilDown, ExtractionError, Fermentation, Grain, Process, Rain, Shape, Straining, Wash,
};
use crate::quantity::{Share, celsius, days, hours, millimeters, within};
use core::ffi::c_char;

/// Grain: ground to powder, about 0.4 mm.
pub const FGALL_GRAIN_POWDER: u32 = 1;
/// Grain: crushed in a mortar or with a hammer, crumbs of about 3 mm.
pub const FGALL_GRAIN_CRUSHED: u32 = 2;
/// Grain: whole galls, about 15 mm.
pub const FGALL_GRAIN_WHOLE: u32 = 3;

/// Straining: through a sieve or filter, by gravity.
pub const FGALL_STRAINING_DRAINED: u32 = 1;
/// Straining: through a cloth that is wrung.
pub const FGALL_STRAINING_PRESSED: u32 = 2;
/// Straining: the marc was weighed; hold_up_g_per_g is what it keeps.
pub const FGALL_STRAINING_WEIGHED: u32 = 3;
/// Straining: nothing is kept back.
pub const FGALL_STRAINING_NOTHING: u32 = 4;
/// Straining: not yet. The next wash of the array goes on in the same liquid with
/// its own temperature and time; its liquid_g is not read.
pub const FGALL_STRAINING_NOT_YET: u32 = 5;

/// Washes and soaks in one call, at most: more than the room takes.
const MOST_WASHES: usize = 3000;

/// One wash of the plant with fresh water.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallWash {
    /// Liquid poured on; a thin liquid counts by its mass.
    pub liquid_g: f64,
    /// Temperature, 0 to 100 °C.
    pub temperature_c: f64,
    /// How long, up to ten years.
    pub hours: f64,
    /// How it is strained: FGALL_STRAINING_…
    pub straining: u32,
    /// Liquor that the marc keeps per gram of dry plant, 0 to 20 g/g; read only
    /// with FGALL_STRAINING_WEIGHED.
    pub hold_up_g_per_g: f64,
}

/// How much liquid a wash has.
#[derive(Clone, Copy)]
pub(super) enum Poured {
    Grams(f64),
    PerDry(f64),
}

pub(super) fn straining_of(straining: u32, hold_up: f64) -> Outcome<Straining> {
    Ok(match straining {
        FGALL_STRAINING_DRAINED => Straining::Drained,
        FGALL_STRAINING_PRESSED => Straining::Pressed,
        FGALL_STRAINING_WEIGHED => {
            Straining::HoldUp(within("hold_up_g_per_g", hold_up, 0.0, 20.0, "g/g")?)
        }
        FGALL_STRAINING_NOTHING => Straining::Nothing,
        other => return Err(foreign(other, "straining")),
    })
}

/// Bit of FgallExtraction.set: size_mm is given.
pub const FGALL_EXTRACTION_SIZE: u32 = 1;
/// Bit of FgallExtraction.set: the grains are slabs (leaf, bark, chips), not
/// spheres; has no field.
pub const FGALL_EXTRACTION_SLAB: u32 = 2;
/// Bit of FgallExtraction.set: broken_share is given.
pub const FGALL_EXTRACTION_BROKEN: u32 = 4;
/// Bit of FgallExtraction.set: rain_hours and rain_temperature_c are given.
pub const FGALL_EXTRACTION_RAIN: u32 = 8;
/// Bit of FgallExtraction.set: rained_gall_mm is given.
pub const FGALL_EXTRACTION_RAINED_GALL: u32 = 16;
/// Bit of FgallExtraction.set: fermentation_days and fermentation_temperature_c
/// are given.
pub const FGALL_EXTRACTION_FERMENTED: u32 = 32;
/// Bit of FgallExtraction.set: boil_down_ml is given.
pub const FGALL_EXTRACTION_BOIL_TO_VOLUME: u32 = 64;
/// Bit of FgallExtraction.set: boil_down_share is given.
pub const FGALL_EXTRACTION_BOIL_TO_SHARE: u32 = 128;

/// Tannin out of a plant: rain, fermentation, washes and boiling down, in that
/// order. What `set` does not name does not happen, or is as usual.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallExtraction {
    /// sizeof(FgallExtraction), filled in by the caller.
    pub struct_size: usize,
    /// Plant as it comes out of the bag.
    pub plant_g: f64,
    /// How fine it is: FGALL_GRAIN_…
    pub grain: u32,
    /// Which of the optional fields are given: FGALL_EXTRACTION_… bits.
    pub set: u32,
    /// Measured diameter of the grain, or thickness of the slab, 0.001 to 100 mm.
    pub size_mm: f64,
    /// Measured share of the cells that are broken, 0 to 1.
    pub broken_share: f64,
    /// Rain on the whole galls before they were gathered: hours they were wet.
    pub rain_hours: f64,
    /// Its temperature, 0 to 100 °C.
    pub rain_temperature_c: f64,
    /// Measured diameter of those galls, 0.001 to 100 mm.
    pub rained_gall_mm: f64,
    /// How long the wet plant moulds before the first wash.
    pub fermentation_days: f64,
    /// Its temperature, 20 to 25 °C: for others no rate is known.
    pub fermentation_temperature_c: f64,
    /// Volume at 20 °C to which all liquors together are boiled down.
    pub boil_down_ml: f64,
    /// Share of the volume to which they are boiled down, 1e-6 to 1.
    pub boil_down_share: f64,
    /// The washes, in their order.
    pub washes: *const FgallWash,
    /// How many there are, up to 30.
    pub wash_count: usize,
}
versioned!(FgallExtraction);

impl FgallExtraction {
    fn given(&self, bit: u32) -> bool {
        self.set & bit != 0
    }

    fn grain(&self) -> Outcome<Grain> {
        let mut grain = match self.grain {
            FGALL_GRAIN_POWDER => Grain::powder(),
            FGALL_GRAIN_CRUSHED => Grain::crushed(),
            FGALL_GRAIN_WHOLE => Grain::whole(),
            other => return Err(foreign(other, "grain")),
        };
        if self.given(FGALL_EXTRACTION_SLAB) {
            grain = grain.shaped(Shape::Slab);
        }
        if self.given(FGALL_EXTRACTION_SIZE) {
            let measured = grain.measuring(millimeters(self.size_mm));
            grain = measured.arg("size_mm", self.size_mm)?;
        }
        if self.given(FGALL_EXTRACTION_BROKEN) {
            let broken = Share::new(self.broken_share);
            grain = grain.washed(broken.arg("broken_share", self.broken_share)?);
        }
        Ok(grain)
    }

    fn rain(&self) -> Outcome<Option<Rain>> {
        if !self.given(FGALL_EXTRACTION_RAIN) {
            return Ok(None);
        }
        let (wet, temperature) = (self.rain_hours, self.rain_temperature_c);
        let mut rain = Rain::new(celsius(temperature), hours(wet)).arg_of(&[
            ("temperature", "rain_temperature_c", temperature),
            ("duration", "rain_hours", wet),
        ])?;
        if self.given(FGALL_EXTRACTION_RAINED_GALL) {
            let size = self.rained_gall_mm;
            let measured = rain.on_galls_of(millimeters(size));
            rain = measured.arg("rained_gall_mm", size)?;
        }
        Ok(Some(rain))
    }

    fn fermentation(&self) -> Outcome<Option<Fermentation>> {
        if !self.given(FGALL_EXTRACTION_FERMENTED) {
            return Ok(None);
        }
        let (time, temperature) = (self.fermentation_days, self.fermentation_temperature_c);
        let crock = Fermentation::new(celsius(temperature), days(time)).arg_of(&[
            (
                "temperature of fermentation",
                "fermentation_temperature_c",
                temperature,
            ),
            ("duration", "fermentation_days", time),
        ])?;
        Ok(Some(crock))
    }

    fn boil_down(&self) -> Outcome<Option<BoilDown>> {
        let (to_volume, to_share) = (
            self.given(FGALL_EXTRACTION_BOIL_TO_VOLUME),
            self.given(FGALL_EXTRACTION_BOIL_TO_SHARE),
        );
        if to_volume && to_share {
            let text = "and boil_down_share exclude each other";
            return Err(Failure::new(FGALL_EITHER_OR, "boil_down_ml", text));
        }
        if to_volume {
            let left = volume("boil_down_ml", self.boil_down_ml)?;
            return Ok(Some(BoilDown::ToVolume(left)));
        }
        if to_share {
            let share = Share::new(self.boil_down_share);
            let share = share.arg("boil_down_share", self.boil_down_share)?;
            return Ok(Some(BoilDown::ToShare(share)));
        }
        Ok(None)
    }

    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn washes(&self) -> Outcome<Vec<FgallWash>> {
        // SAFETY: as promised by the caller.
        let washes = unsafe { read_array(self.washes, self.wash_count, MOST_WASHES, "washes") };
        washes.arg("wash_count", self.wash_count as f64)
    }

    /// The process without its washes.
    pub(super) fn dry(&self, shelf: &FgallShelf, plant_lot: usize) -> Outcome<Process> {
        known_bits(self.set, 255, "set")?;
        let plant = shelf.lot(plant_lot, "plant_lot")?;
        let process = Process::new(plant, mass("plant_g", self.plant_g)?, self.grain()?);
        let mut process = process.arg_of(&[("plant mass", "plant_g", self.plant_g)])?;
        if let Some(rain) = self.rain()? {
            process = process.rained_on(rain);
        }
        if let Some(crock) = self.fermentation()? {
            process = process.fermented(crock);
        }
        if let Some(how) = self.boil_down()? {
            let boiled = process.boiled_down(how);
            process = boiled.arg_of(&[
                ("volume after boiling", "boil_down_ml", self.boil_down_ml),
                (
                    "share after boiling",
                    "boil_down_share",
                    self.boil_down_share,
                ),
            ])?;
        }
        Ok(process)
    }

    /// An error of the room, about the field that asked for it.
    pub(super) fn about<T>(&self, result: Result<T, ExtractionError>) -> Outcome<T> {
        result.map_err(|e| {
            let boiling = matches!(
                e,
                ExtractionError::BoilsDry { .. } | ExtractionError::NothingToBoil { .. }
            );
            let mut failure = Failure::from(e);
            if boiling && self.given(FGALL_EXTRACTION_BOIL_TO_SHARE) {
                failure.argument = "boil_down_share".to_string();
                failure.value = self.boil_down_share;
            }
            failure
        })
    }
}

/// Pours the washes on, each with the liquid that `liquid` says.
pub(super) fn washed(
    mut process: Process,
    given: &[FgallWash],
    liquid: impl Fn(&FgallWash) -> Poured,
) -> Outcome<Process> {
    let mut open: Option<Wash> = None;
    for (i, wash) in given.iter().enumerate() {
        let poured = liquid(wash);
        let (temperature, time) = (celsius(wash.temperature_c), hours(wash.hours));
        let soaking = match (open.take(), poured) {
            (Some(wash), _) => wash.then(temperature, time),
            (None, Poured::Grams(g)) => Wash::of(mass("liquid_g", g)?, temperature, time),
            (None, Poured::PerDry(ratio)) => Wash::per_gram(ratio, temperature, time),
        };
        let ratio = match poured {
            Poured::Grams(g) => ("liquid_g", g),
            Poured::PerDry(ratio) => ("liquid_g_per_g", ratio),
        };
        let blame = [
            ("temperature", "temperature_c", wash.temperature_c),
            ("duration", "hours", wash.hours),
            ("water per dry plant", ratio.0, ratio.1),
        ];
        let soaking = soaking.arg_of(&blame)?;
        if wash.straining == FGALL_STRAINING_NOT_YET && i + 1 < given.len() {
            open = Some(soaking);
            continue;
        }
        let straining = straining_of(wash.straining, wash.hold_up_g_per_g)?;
        let strained = soaking.strained(straining)?;
        process = process.wash(strained).arg_of(&blame)?;
    }
    Ok(process)
}

/// The process a caller describes.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn process_of(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
) -> Outcome<(FgallExtraction, Process)> {
    // SAFETY: as promised by the caller.
    unsafe {
        let shelf = handle(shelf, "shelf")?;
        let given = read_struct(given, "given")?;
        let process = given.dry(shelf, plant_lot)?;
        let process = washed(process, &given.washes()?, |w| Poured::Grams(w.liquid_g))?;
        Ok((given, process))
    }
}

/// Extracts a plant lot and puts the liquor (boiled down where that was asked
/// for) on the shelf as a lot of this name, with what is not known of its galloyl
/// units and its cautions. *lot is its index.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_shelf_add_liquor(
    shelf: *mut FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    name: *const c_char,
    lot: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(lot, "lot")?;
            let (given, process) = process_of(shelf, plant_lot, given)?;
            let name = text(name, "name")?;
            let liquor = given.about(process.run().and_then(|l| l.to_lot(name)))?;
            slot.put(handle_mut(shelf, "shelf")?.put(liquor));
            Ok(())
        })
    }
}

/// Puts the liquor of one soak of a plant lot into the solution begun last, as
/// fgall_recipe_add_extraction does: yield and what the marc keeps follow from
/// grain, water, warmth and time, and their uncertainties go with them.
/// FGALL_MORE_THAN_A_SOAK for a second wash, mould and boiling down: take
/// fgall_shelf_add_liquor.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_add_extraction_by(
    recipe: *mut FgallRecipe,
    shelf: *const FgallShelf,
    plant_lot: usize,
    liquid_lot: usize,
    given: *const FgallExtraction,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle_mut(recipe, "recipe")?;
            let (given, process) = process_of(shelf, plant_lot, given)?;
            let liquid = handle(shelf, "shelf")?.lot(liquid_lot, "liquid_lot")?;
            let soak = given.about(crate::recipe::Extraction::by(&process, liquid))?;
            recipe.change(|s| s.extract(soak))
        })
    }
}

impl From<ExtractionError> for Failure {
    fn from(e: ExtractionError) -> Failure {
        let (status, argument, value) = match &e {
            ExtractionError::OutOfRange(range) => return (*range).into(),
            ExtractionError::NotAPlant { lot } => (FGALL_NOT_A_PLANT, lot.as_str(), f64::NAN),
            ExtractionError::NoWash => (FGALL_EMPTY, "washes", f64::NAN),
            ExtractionError::TooMany { what, .. } => (FGALL_OUT_OF_RANGE, *what, f64::NAN),
            ExtractionError::Never { asked, .. } => (FGALL_NEVER_REACHED, "share", *asked),
            ExtractionError::NothingToBoil { asked_m3, .. } => {
                (FGALL_OUT_OF_RANGE, "boil_down_ml", asked_m3 * 1e6)
            }
            ExtractionError::BoilsDry { asked_m3, .. } => {
                (FGALL_NO_WATER, "boil_down_ml", asked_m3 * 1e6)
            }
            ExtractionError::MoreThanASoak { what } => (FGALL_MORE_THAN_A_SOAK, *what, f64::NAN),
            ExtractionError::NoLiquor => (FGALL_EMPTY, "", f64::NAN),
            ExtractionError::CannotFit { .. } => (FGALL_CANNOT_FIT, "", f64::NAN),
        };
        Failure::of(status, argument, value, &e)
    }
}
