//! Oxygen in the bottle: the upper bound.

use super::error::{Blame, Failure, FgallError, Outcome, no_such_index, unknown_name};
use super::guard::{guard, known_bits, out, out_struct, read_struct, versioned};
use super::status::{FGALL_EITHER_OR, FgallStatus};
use super::strings::{deliver, text};
use crate::oxidation::{Air, Bottle, Closure, OxygenBound, closures, polymers};
use crate::quantity::{
    ReadAmount, ReadMassConcentration, ReadTime, Share, celsius, days, kilopascals, milliliters,
    millimeters, moles_per_liter, square_centimeters,
};
use core::ffi::c_char;
use core::mem::size_of;

/// Bit of FgallBottle.set: temperature_c and pressure_kpa are given.
pub const FGALL_BOTTLE_AIR: u32 = 1;
/// Bit of FgallBottle.set: opened_every_days is given.
pub const FGALL_BOTTLE_OPENED: u32 = 2;
/// Bit of FgallBottle.set: air_exchanged_share is given.
pub const FGALL_BOTTLE_AIR_EXCHANGED: u32 = 4;
/// Bit of FgallBottle.set: drawn_ml is given.
pub const FGALL_BOTTLE_DRAWN: u32 = 8;
/// Bit of FgallBottle.set: kept_days is given.
pub const FGALL_BOTTLE_KEPT: u32 = 16;
/// Bit of FgallBottle.set: iron_per_oxygen is given.
pub const FGALL_BOTTLE_IRON_PER_OXYGEN: u32 = 32;
/// Bit of FgallBottle.set: stated_share is given.
pub const FGALL_BOTTLE_STATED_SHARE: u32 = 64;
/// Bit of FgallBottle.set: the ink was freed of oxygen before filling (it has
/// no field).
pub const FGALL_BOTTLE_WITHOUT_DISSOLVED_OXYGEN: u32 = 128;
/// Bit of FgallBottle.set: wall_polymer, wall_area_cm2 and wall_thickness_mm
/// are given, and closure is NULL.
pub const FGALL_BOTTLE_WALL: u32 = 256;

/// A bottle of ink and how it is used.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallBottle {
    /// sizeof(FgallBottle), filled in by the caller.
    pub struct_size: usize,
    /// Brimful capacity.
    pub capacity_ml: f64,
    /// Ink at filling.
    pub fill_ml: f64,
    /// Iron(II) at filling, 1e-6 to 10 mol/L.
    pub iron_ii_mol_per_l: f64,
    /// Identifier of the closure (see fgall_closure_id) of a glass bottle;
    /// NULL: sealed glass, or the wall below.
    pub closure: *const c_char,
    /// Which of the rest is given: FGALL_BOTTLE_… bits.
    pub set: u32,
    /// Temperature, 0 to 40 °C; 25 if not given.
    pub temperature_c: f64,
    /// Pressure of the air, 50.7 to 111.4 kPa; 101.325 if not given.
    pub pressure_kpa: f64,
    /// Time between two openings; never opened if not given.
    pub opened_every_days: f64,
    /// Share of the headspace air exchanged at an opening; 0.3 if not given.
    pub air_exchanged_share: f64,
    /// Ink taken out at each opening; none if not given.
    pub drawn_ml: f64,
    /// How long the ink is kept; a year if not given.
    pub kept_days: f64,
    /// Iron(II) oxidised by one O2, 2 to 4; 4, the only bound, if not given.
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
}
versioned!(FgallBottle);

/// What keeps the air out: a closure by its identifier, or a wall.
pub(super) struct Barrier {
    pub(super) closure: *const c_char,
    pub(super) wall_given: bool,
    pub(super) wall_polymer: *const c_char,
    pub(super) wall_area_cm2: f64,
    pub(super) wall_thickness_mm: f64,
}

impl Barrier {
    /// Sealed glass when neither is given.
    ///
    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn closure(&self) -> Outcome<Closure> {
        match (self.closure.is_null(), self.wall_given) {
            (true, false) => Ok(Closure::SEALED_GLASS),
            (true, true) => {
                // SAFETY: as promised by the caller.
                let id = unsafe { text(self.wall_polymer, "wall_polymer") }?;
                self.wall_of(id)
            }
            (false, false) => {
                // SAFETY: as promised by the caller.
                let id = unsafe { text(self.closure, "closure") }?;
                let row = closures().iter().find(|row| row.id == id);
                row.map(Closure::of)
                    .ok_or_else(|| unknown_name("closure", id))
            }
            (false, true) => Err(Failure::new(
                FGALL_EITHER_OR,
                "closure",
                "is given, and a wall too",
            )),
        }
    }

    fn wall_of(&self, id: &str) -> Outcome<Closure> {
        let row = polymers().iter().find(|row| row.id == id);
        let row = row.ok_or_else(|| unknown_name("wall_polymer", id))?;
        let (area_cm2, thickness_mm) = (self.wall_area_cm2, self.wall_thickness_mm);
        let wall = Closure::wall(row, square_centimeters(area_cm2), millimeters(thickness_mm));
        wall.arg_of(&[
            ("wall area", "wall_area_cm2", area_cm2),
            ("wall thickness", "wall_thickness_mm", thickness_mm),
        ])
    }
}

/// # Safety
/// As for the whole room.
unsafe fn bottle_of(b: &FgallBottle) -> Outcome<Bottle> {
    known_bits(b.set, 511, "set")?;
    let given = |bit| b.set & bit != 0;
    let iron = moles_per_liter(b.iron_ii_mol_per_l);
    let mut out = Bottle::builder(milliliters(b.capacity_ml), milliliters(b.fill_ml), iron);
    let barrier = Barrier {
        closure: b.closure,
        wall_given: given(FGALL_BOTTLE_WALL),
        wall_polymer: b.wall_polymer,
        wall_area_cm2: b.wall_area_cm2,
        wall_thickness_mm: b.wall_thickness_mm,
    };
    // SAFETY: as promised by the caller.
    out = out.closure(unsafe { barrier.closure() }?);
    if given(FGALL_BOTTLE_AIR) {
        let air = Air::at(celsius(b.temperature_c), kilopascals(b.pressure_kpa));
        out = out.air(air.arg_of(&[
            ("temperature", "temperature_c", b.temperature_c),
            ("pressure", "pressure_kpa", b.pressure_kpa),
        ])?);
    }
    if given(FGALL_BOTTLE_OPENED) {
        out = out.opened_every(days(b.opened_every_days));
    }
    if given(FGALL_BOTTLE_AIR_EXCHANGED) {
        let share = Share::new(b.air_exchanged_share);
        out = out.air_exchanged(share.arg("air_exchanged_share", b.air_exchanged_share)?);
    }
    if given(FGALL_BOTTLE_DRAWN) {
        out = out.drawn_per_opening(milliliters(b.drawn_ml));
    }
    if given(FGALL_BOTTLE_KEPT) {
        out = out.kept_for(days(b.kept_days));
    }
    if given(FGALL_BOTTLE_IRON_PER_OXYGEN) {
        out = out.nu(b.iron_per_oxygen);
    }
    if given(FGALL_BOTTLE_STATED_SHARE) {
        let share = Share::new(b.stated_share);
        out = out.stated_share(share.arg("stated_share", b.stated_share)?);
    }
    if given(FGALL_BOTTLE_WITHOUT_DISSOLVED_OXYGEN) {
        out = out.without_dissolved_oxygen();
    }
    out.build().arg_of(&[
        ("capacity", "capacity_ml", b.capacity_ml),
        ("fill volume", "fill_ml", b.fill_ml),
        ("iron(II)", "iron_ii_mol_per_l", b.iron_ii_mol_per_l),
        ("ink per opening", "drawn_ml", b.drawn_ml),
        (
            "time between openings",
            "opened_every_days",
            b.opened_every_days,
        ),
        ("duration", "kept_days", b.kept_days),
        (
            "iron(II) per oxygen (nu)",
            "iron_per_oxygen",
            b.iron_per_oxygen,
        ),
    ])
}

/// Bit of FgallOxygenBound.known: openings_to_share exists.
pub const FGALL_BOUND_OPENINGS_TO_SHARE: u32 = 1;
/// Bit of FgallOxygenBound.known: days_to_share exists.
pub const FGALL_BOUND_DAYS_TO_SHARE: u32 = 2;

/// The most iron(II) that oxygen can have taken from a bottle: all oxygen that
/// can have come in is taken to have reacted. An upper bound, not a shelf
/// life; ink usually keeps better.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallOxygenBound {
    /// sizeof(FgallOxygenBound), filled in by the caller.
    pub struct_size: usize,
    /// Oxygen in the headspace when the bottle is closed.
    pub oxygen_headspace_mmol: f64,
    /// Oxygen dissolved in the ink when the bottle is closed.
    pub oxygen_dissolved_mmol: f64,
    /// Oxygen the first opening can let in.
    pub oxygen_first_opening_mmol: f64,
    /// Oxygen all openings within the duration can let in.
    pub oxygen_openings_mmol: f64,
    /// Oxygen through the closure within the duration.
    pub oxygen_closure_mmol: f64,
    /// Oxygen through the closure in a year.
    pub oxygen_closure_mmol_per_year: f64,
    /// Iron(II) in the bottle at filling.
    pub iron_ii_mmol: f64,
    /// Iron(II) the headspace can oxidise; may exceed what there is.
    pub iron_headspace_mmol: f64,
    /// Iron(II) the dissolved oxygen can oxidise.
    pub iron_dissolved_mmol: f64,
    /// Iron a volume of headspace can oxidise.
    pub iron_per_headspace_g_per_l: f64,
    /// Share of the iron(II) lost to the air of the filling, 0 to 1.
    pub share_after_filling: f64,
    /// Share lost after the duration, of the ink still in the bottle.
    pub share_after_duration: f64,
    /// Openings within the duration that leave ink in the bottle.
    pub openings: u64,
    /// 1 if the ink is used up within the duration.
    pub emptied: u32,
    /// Which of the next two exist: FGALL_BOUND_… bits.
    pub known: u32,
    /// Openings until the stated share can be gone; 0 where it is not known
    /// (not before the bottle is empty, or never).
    pub openings_to_share: u64,
    /// Days until the stated share can be gone; NaN where it is not known (not
    /// before the bottle is empty, or not within a million years).
    pub days_to_share: f64,
}
versioned!(FgallOxygenBound);

impl FgallOxygenBound {
    pub(super) fn of(b: &OxygenBound) -> FgallOxygenBound {
        let bit = |exists: bool, bit: u32| if exists { bit } else { 0 };
        FgallOxygenBound {
            struct_size: size_of::<FgallOxygenBound>(),
            oxygen_headspace_mmol: b.oxygen_headspace.in_millimoles(),
            oxygen_dissolved_mmol: b.oxygen_dissolved.in_millimoles(),
            oxygen_first_opening_mmol: b.oxygen_first_opening.in_millimoles(),
            oxygen_openings_mmol: b.oxygen_openings.in_millimoles(),
            oxygen_closure_mmol: b.oxygen_closure.in_millimoles(),
            oxygen_closure_mmol_per_year: b.oxygen_closure_per_year.in_millimoles(),
            iron_ii_mmol: b.iron_ii.in_millimoles(),
            iron_headspace_mmol: b.iron_headspace.in_millimoles(),
            iron_dissolved_mmol: b.iron_dissolved.in_millimoles(),
            iron_per_headspace_g_per_l: b.iron_per_headspace.in_grams_per_liter(),
            share_after_filling: b.share_after_filling.value(),
            share_after_duration: b.share_after_duration.value(),
            openings: b.openings,
            emptied: b.emptied.into(),
            known: bit(b.openings_to_share.is_some(), FGALL_BOUND_OPENINGS_TO_SHARE)
                | bit(b.time_to_share.is_some(), FGALL_BOUND_DAYS_TO_SHARE),
            openings_to_share: b.openings_to_share.unwrap_or(0),
            days_to_share: b.time_to_share.map_or(f64::NAN, |t| t.in_days()),
        }
    }
}

/// The most iron(II) that oxygen can have taken from a bottle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_oxygen_bound(
    bottle: *const FgallBottle,
    bound: *mut FgallOxygenBound,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let bottle = read_struct(bottle, "bottle")?;
            let slot = out_struct(bound, "bound")?;
            slot.put(FgallOxygenBound::of(&bottle_of(&bottle)?.bound()));
            Ok(())
        })
    }
}

/// Number of closures in the catalogue.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_closure_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(closures().len());
            Ok(())
        })
    }
}

/// Identifier of the closure at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_closure_id(
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let row = closures().get(index);
            let row = row.ok_or_else(|| no_such_index("index", index, closures().len()))?;
            deliver(row.id, buffer, capacity, needed)
        })
    }
}

/// Number of polymers in the catalogue.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_polymer_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(polymers().len());
            Ok(())
        })
    }
}

/// Identifier of the polymer at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_polymer_id(
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let row = polymers().get(index);
            let row = row.ok_or_else(|| no_such_index("index", index, polymers().len()))?;
            deliver(row.id, buffer, capacity, needed)
        })
    }
}
