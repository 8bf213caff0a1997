//! A bottle of ink with all that a maker does about oxygen.

use super::error::{Blame, Failure, FgallError, Outcome};
use super::guard::{guard, known_bits, out_struct, read_struct, versioned};
use super::oxidation::{
    Barrier, FGALL_BOTTLE_AIR, FGALL_BOTTLE_AIR_EXCHANGED, FGALL_BOTTLE_DRAWN,
    FGALL_BOTTLE_IRON_PER_OXYGEN, FGALL_BOTTLE_KEPT, FGALL_BOTTLE_OPENED,
    FGALL_BOTTLE_STATED_SHARE, FGALL_BOTTLE_WALL, FGALL_BOTTLE_WITHOUT_DISSOLVED_OXYGEN,
    FgallOxygenBound,
};
use super::status::FgallStatus;
use super::stored_ink::FgallStoredInk;
use crate::oxidation::{Air, Bottle, BottleBuilder, OxidationError, StoredInk};
use crate::quantity::{Share, celsius, days, kilopascals, milliliters, square_centimeters};
use core::ffi::c_char;

/// Bit of FgallKeeping.set: flushed_share is given.
pub const FGALL_KEEPING_FLUSHED: u32 = 512;
/// Bit of FgallKeeping.set: glass beads take the place of the ink that is drawn
/// (it has no field).
pub const FGALL_KEEPING_BEADS: u32 = 1024;
/// Bit of FgallKeeping.set: the bottle is shaken at each opening (it has no field).
pub const FGALL_KEEPING_SHAKEN: u32 = 2048;
/// Bit of FgallKeeping.set: swing_low_c, swing_high_c and swing_days are given.
pub const FGALL_KEEPING_BREATHING: u32 = 4096;
/// Bit of FgallKeeping.set: surface_cm2 is given.
pub const FGALL_KEEPING_SURFACE: u32 = 8192;
/// Bit of FgallKeeping.set: lid_leaves_share is given.
pub const FGALL_KEEPING_LID: u32 = 16384;
/// Bit of FgallKeeping.set: season_k is given.
pub const FGALL_KEEPING_SEASON: u32 = 32768;

/// A bottle of a stored ink, how it is used, and what is done about oxygen. The
/// iron is that of the ink. `set` takes the bits of FgallBottle too.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallKeeping {
    /// sizeof(FgallKeeping), filled in by the caller.
    pub struct_size: usize,
    /// Brimful capacity, up to 1e9 mL.
    pub capacity_ml: f64,
    /// Ink at filling, 0.001 mL to the capacity.
    pub fill_ml: f64,
    /// Identifier of the closure (see fgall_closure_id) of a glass bottle;
    /// NULL: sealed glass, or the wall below.
    pub closure: *const c_char,
    /// Which of the rest is given: FGALL_BOTTLE_… and FGALL_KEEPING_… bits.
    pub set: u32,
    /// Temperature of ink and air, 0 to 40 °C; 25 if not given.
    pub temperature_c: f64,
    /// Pressure of the air, 50.7 to 111.4 kPa; 101.325 if not given.
    pub pressure_kpa: f64,
    /// Time between two openings, a minute to a thousand years; never opened if
    /// not given.
    pub opened_every_days: f64,
    /// Share of the headspace air exchanged at an opening; 0.3 if not given: a
    /// convention, no published value was found.
    pub air_exchanged_share: f64,
    /// Ink taken out at each opening, a hundred-thousandth of the fill to all
    /// of it; none if not given.
    pub drawn_ml: f64,
    /// How long the ink is kept, 0 to a thousand years; a year if not given.
    pub kept_days: f64,
    /// For the bound: iron(II) oxidised by one O2, 2 to 4; 4, the only bound, if
    /// not given.
    /// For fgall_keeping_bound; the bound of a forecast counts 4 in any case.
    pub iron_per_oxygen: f64,
    /// The lost share of iron(II) that is asked after; 0.1 if not given.
    pub stated_share: f64,
    /// Identifier of the polymer of a bottle under a tight cap (see
    /// fgall_polymer_id).
    pub wall_polymer: *const c_char,
    /// Area of its wall, 0 to 1e7 cm2.
    pub wall_area_cm2: f64,
    /// Thickness of its wall, 0.001 to 1000 mm.
    pub wall_thickness_mm: f64,
    /// Share of the headspace that inert gas replaces at filling and after each
    /// opening; none if not given. Nitrogen and argon suffocate: ventilate, and
    /// follow local rules for gas cylinders.
    pub flushed_share: f64,
    /// A cap that is not gas-tight breathes: the colder of the two temperatures
    /// between which the headspace swings, 0 to 40 °C. A tight cap if not given.
    pub swing_low_c: f64,
    /// The warmer of the two, 0 to 40 °C.
    pub swing_high_c: f64,
    /// Time from one swing to the next, an hour to ten years.
    pub swing_days: f64,
    /// Surface of the ink, 1e-5 to 1e7 cm2; that of a round bottle half as high
    /// again as wide if not given.
    pub surface_cm2: f64,
    /// Share of the surface that a floating lid leaves free; no lid if not given.
    pub lid_leaves_share: f64,
    /// By how much temperature rises in summer and falls in winter around that
    /// of the air, 0 to 20 K; the same all year if not given. The ink is filled
    /// in spring.
    pub season_k: f64,
}
versioned!(FgallKeeping);

const KEEPING_BITS: u32 = 65535;

impl FgallKeeping {
    fn given(&self, bit: u32) -> bool {
        self.set & bit != 0
    }

    fn share(&self, bit: u32, name: &str, value: f64) -> Outcome<Option<Share>> {
        if !self.given(bit) {
            return Ok(None);
        }
        Share::new(value).arg(name, value).map(Some)
    }

    fn air(&self) -> Outcome<Option<Air>> {
        if !self.given(FGALL_BOTTLE_AIR) {
            return Ok(None);
        }
        let air = Air::at(celsius(self.temperature_c), kilopascals(self.pressure_kpa));
        let air = air.arg_of(&[
            ("temperature", "temperature_c", self.temperature_c),
            ("pressure", "pressure_kpa", self.pressure_kpa),
        ]);
        air.map(Some)
    }

    /// How a bottle is used, whatever its size: to be put on a builder.
    ///
    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn used(&self) -> Outcome<impl Fn(BottleBuilder) -> BottleBuilder + use<'_>> {
        known_bits(self.set, KEEPING_BITS, "set")?;
        let barrier = Barrier {
            closure: self.closure,
            wall_given: self.given(FGALL_BOTTLE_WALL),
            wall_polymer: self.wall_polymer,
            wall_area_cm2: self.wall_area_cm2,
            wall_thickness_mm: self.wall_thickness_mm,
        };
        // SAFETY: as promised by the caller.
        let closure = unsafe { barrier.closure() }?;
        let air = self.air()?;
        let share = |bit, name, value| self.share(bit, name, value);
        let exchanged = share(
            FGALL_BOTTLE_AIR_EXCHANGED,
            "air_exchanged_share",
            self.air_exchanged_share,
        )?;
        let stated = share(FGALL_BOTTLE_STATED_SHARE, "stated_share", self.stated_share)?;
        let flushed = share(FGALL_KEEPING_FLUSHED, "flushed_share", self.flushed_share)?;
        let free = share(FGALL_KEEPING_LID, "lid_leaves_share", self.lid_leaves_share)?;
        Ok(move |bottle: BottleBuilder| {
            let bottle = bottle.closure(closure);
            let bottle = with(bottle, air, BottleBuilder::air);
            let bottle = with(bottle, exchanged, BottleBuilder::air_exchanged);
            let bottle = with(bottle, stated, BottleBuilder::stated_share);
            let bottle = with(bottle, flushed, BottleBuilder::flushed_with_inert_gas);
            self.figures_on(with(bottle, free, BottleBuilder::floating_lid))
        })
    }

    /// What `build` looks at.
    fn figures_on(&self, mut bottle: BottleBuilder) -> BottleBuilder {
        if self.given(FGALL_BOTTLE_OPENED) {
            bottle = bottle.opened_every(days(self.opened_every_days));
        }
        if self.given(FGALL_BOTTLE_DRAWN) {
            bottle = bottle.drawn_per_opening(milliliters(self.drawn_ml));
        }
        if self.given(FGALL_BOTTLE_KEPT) {
            bottle = bottle.kept_for(days(self.kept_days));
        }
        if self.given(FGALL_BOTTLE_IRON_PER_OXYGEN) {
            bottle = bottle.nu(self.iron_per_oxygen);
        }
        if self.given(FGALL_BOTTLE_WITHOUT_DISSOLVED_OXYGEN) {
            bottle = bottle.without_dissolved_oxygen();
        }
        if self.given(FGALL_KEEPING_BEADS) {
            bottle = bottle.kept_full_with_beads();
        }
        if self.given(FGALL_KEEPING_SHAKEN) {
            bottle = bottle.shaken();
        }
        if self.given(FGALL_KEEPING_BREATHING) {
            let (low, high) = (celsius(self.swing_low_c), celsius(self.swing_high_c));
            bottle = bottle.breathing(low, high, days(self.swing_days));
        }
        if self.given(FGALL_KEEPING_SURFACE) {
            bottle = bottle.surface(square_centimeters(self.surface_cm2));
        }
        if self.given(FGALL_KEEPING_SEASON) {
            bottle = bottle.season_of_kelvin(self.season_k);
        }
        bottle
    }

    /// The bottle, not looked at yet.
    ///
    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn builder(&self, ink: &StoredInk) -> Outcome<BottleBuilder> {
        // SAFETY: as promised by the caller.
        let used = unsafe { self.used() }?;
        Ok(used(ink.bottle(
            milliliters(self.capacity_ml),
            milliliters(self.fill_ml),
        )))
    }

    /// Says which field a refused bottle is about.
    pub(super) fn blamed<T>(&self, result: Result<T, OxidationError>) -> Outcome<T> {
        let result = result.map_err(|e| match e {
            OxidationError::TemperaturesSwapped { .. } => {
                let mut failure = Failure::from(e);
                failure.argument = "swing_low_c".to_string();
                failure.value = self.swing_low_c;
                failure
            }
            e => e.into(),
        });
        result.arg_of(&[
            ("capacity", "capacity_ml", self.capacity_ml),
            ("fill volume", "fill_ml", self.fill_ml),
            ("ink per opening", "drawn_ml", self.drawn_ml),
            (
                "time between openings",
                "opened_every_days",
                self.opened_every_days,
            ),
            ("duration", "kept_days", self.kept_days),
            (
                "iron(II) per oxygen (nu)",
                "iron_per_oxygen",
                self.iron_per_oxygen,
            ),
            ("low temperature", "swing_low_c", self.swing_low_c),
            ("high temperature", "swing_high_c", self.swing_high_c),
            ("time between two breaths", "swing_days", self.swing_days),
            ("surface of the ink", "surface_cm2", self.surface_cm2),
            ("seasonal swing", "season_k", self.season_k),
        ])
    }
}

fn with<T>(
    bottle: BottleBuilder,
    setting: Option<T>,
    put: impl Fn(BottleBuilder, T) -> BottleBuilder,
) -> BottleBuilder {
    match setting {
        Some(value) => put(bottle, value),
        None => bottle,
    }
}

/// An ink and the bottle it is in, as they come in over the border.
pub(super) struct Kept {
    pub(super) ink: StoredInk,
    pub(super) bottle: Bottle,
}

/// # Safety
/// As for the whole room.
pub(super) unsafe fn kept(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
) -> Outcome<Kept> {
    // SAFETY: as promised by the caller.
    unsafe {
        let ink = read_struct(ink, "ink")?.ink()?;
        let keeping = read_struct(keeping, "keeping")?;
        let bottle = keeping.blamed(keeping.builder(&ink)?.build())?;
        Ok(Kept { ink, bottle })
    }
}

/// The most iron(II) that oxygen can have taken from a bottle that is kept so.
/// No rate goes into it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_keeping_bound(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    bound: *mut FgallOxygenBound,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let kept = kept(ink, keeping)?;
            let slot = out_struct(bound, "bound")?;
            slot.put(FgallOxygenBound::of(&kept.bottle.bound()));
            Ok(())
        })
    }
}
