//! What comes of an extraction, and how long or how much water it takes.

use super::bench::FgallRange;
use super::error::{Blame, FgallError, Outcome};
use super::extraction::{FgallExtraction, process_of, straining_of};
use super::guard::{deliver_all, guard, handle, out, out_struct, read_struct, room_for, versioned};
use super::lots::FgallShelf;
use super::status::FgallStatus;
use super::strings::deliver;
use crate::extraction::{Liquors, Span, Strained};
use crate::quantity::{
    ReadAmount, ReadMass, ReadMolarConcentration, ReadVolume, Share, Time, celsius,
};
use core::ffi::c_char;
use core::mem::size_of;
use uom::si::time::hour;

pub(super) fn range<T>(span: Span<T>, figure: impl Fn(T) -> f64) -> FgallRange {
    FgallRange {
        min: figure(span.low),
        typical: figure(span.typical),
        max: figure(span.high),
    }
}

/// What comes of an extraction: everything at its typical value, min and max
/// holding 95 %. The first six say what is in the last liquor, boiled down
/// where that was asked for; the lot's strength is in their spans, but not in
/// those of shares.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallLiquor {
    /// sizeof(FgallLiquor), filled in by the caller.
    pub struct_size: usize,
    /// Volume at 20 °C.
    pub volume_ml: FgallRange,
    /// Share of the tannin and gallic acid that the plant held.
    pub share: FgallRange,
    /// Galloyl units, bound and as free gallic acid.
    pub galloyl_mmol: FgallRange,
    /// Free gallic acid.
    pub gallic_acid_g: FgallRange,
    /// Tannin.
    pub tannin_g: FgallRange,
    /// Galloyl units per volume; 0 where there is no liquor.
    pub galloyl_mol_per_l: FgallRange,
    /// Volume of all liquors together before boiling down.
    pub drained_ml: FgallRange,
    /// Share of what the plant held that is in all liquors.
    pub extracted_share: f64,
    /// Its standard uncertainty, of the process alone.
    pub extracted_u: f64,
    /// Share that rain took.
    pub lost_to_rain_share: FgallRange,
    /// Share that stays in the marc.
    pub marc_share: FgallRange,
    /// Water that stays in the marc.
    pub marc_water_g: FgallRange,
    /// Water that boiling down has to drive off; NaN where there is none.
    pub boiled_off_g: FgallRange,
}
versioned!(FgallLiquor);

impl FgallLiquor {
    fn of(all: &Liquors) -> FgallLiquor {
        let last = all.last();
        let share = |s: Share| s.value();
        let boiled = all.boiled.as_ref();
        FgallLiquor {
            struct_size: size_of::<FgallLiquor>(),
            volume_ml: range(last.volume, |v| v.in_milliliters()),
            share: range(last.share, share),
            galloyl_mmol: range(last.galloyl, |n| n.in_millimoles()),
            gallic_acid_g: range(last.gallic_acid, |m| m.in_grams()),
            tannin_g: range(last.tannin, |m| m.in_grams()),
            galloyl_mol_per_l: range(last.concentration, |c| c.in_moles_per_liter()),
            drained_ml: range(all.all.volume, |v| v.in_milliliters()),
            extracted_share: all.extracted.value(),
            extracted_u: all.extracted.u(),
            lost_to_rain_share: range(all.lost_to_rain, share),
            marc_share: range(all.marc.share, share),
            marc_water_g: range(all.marc.water, |m| m.in_grams()),
            boiled_off_g: boiled.map_or(FgallRange::NONE, |b| range(b.water_off, |m| m.in_grams())),
        }
    }
}

/// One wash, strained.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStrained {
    /// Liquor that was had, at 20 °C.
    pub volume_ml: FgallRange,
    /// Share of what the plant held that is in it.
    pub share: FgallRange,
    /// Galloyl units in it.
    pub galloyl_mmol: FgallRange,
    /// Free gallic acid in it.
    pub gallic_acid_g: FgallRange,
    /// Galloyl units per volume.
    pub galloyl_mol_per_l: FgallRange,
    /// Share that was dissolved before straining, what the marc keeps included.
    pub dissolved_share: f64,
    /// Its standard uncertainty.
    pub dissolved_u: f64,
    /// Liquor that the marc keeps per gram of dry plant.
    pub hold_up_g_per_g: f64,
    /// Its standard uncertainty.
    pub hold_up_u_g_per_g: f64,
    /// How far grains come to equilibrium in a wash of this length.
    pub reached_share: FgallRange,
}

impl FgallStrained {
    fn of(wash: &Strained) -> FgallStrained {
        let liquor = &wash.liquor;
        let share = |s: Share| s.value();
        FgallStrained {
            volume_ml: range(liquor.volume, |v| v.in_milliliters()),
            share: range(liquor.share, share),
            galloyl_mmol: range(liquor.galloyl, |n| n.in_millimoles()),
            gallic_acid_g: range(liquor.gallic_acid, |m| m.in_grams()),
            galloyl_mol_per_l: range(liquor.concentration, |c| c.in_moles_per_liter()),
            dissolved_share: wash.dissolved.value(),
            dissolved_u: wash.dissolved.u(),
            hold_up_g_per_g: wash.hold_up.value(),
            hold_up_u_g_per_g: wash.hold_up.u(),
            reached_share: range(wash.reached, share),
        }
    }
}

/// # Safety
/// As for the whole room.
unsafe fn run(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
) -> Outcome<Liquors> {
    // SAFETY: as promised by the caller.
    let (given, process) = unsafe { process_of(shelf, plant_lot, given) }?;
    given.about(process.run())
}

/// Extracts a plant lot: the liquor that is used, and where the rest went. Of
/// galls neither diffusivity nor partition is published; spans are wide.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_run(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    liquor: *mut FgallLiquor,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(liquor, "liquor")?;
            slot.put(FgallLiquor::of(&run(shelf, plant_lot, given)?));
            Ok(())
        })
    }
}

/// The same wash by wash, written to `washes`, which has room for `capacity` of
/// them. There are as many as washes that were strained; if that is too many,
/// *needed says so and nothing is reckoned.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_washes(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    washes: *mut FgallStrained,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (given, process) = process_of(shelf, plant_lot, given)?;
            room_for(process.washes().len(), capacity, needed, "washes")?;
            let liquors = given.about(process.run())?;
            let strained = liquors.washes.iter().map(FgallStrained::of);
            deliver_all(strained, washes, capacity, needed, "washes")
        })
    }
}

/// What a careful colleague would say of it, a line for each caution, with its
/// source; empty when there is none.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_cautions(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let liquors = run(shelf, plant_lot, given)?;
            let cautions = liquors.cautions.iter();
            let lines: Vec<String> = cautions.map(|c| format!("{c} [{}]", c.source())).collect();
            deliver(&lines.join("\n"), buffer, capacity, needed)
        })
    }
}

/// The spans that were drawn from, beside the grain and the lot's strength: a
/// line for each, with its unit and source.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_assumed(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let liquors = run(shelf, plant_lot, given)?;
            let lines: Vec<String> = liquors
                .assumed
                .iter()
                .map(|p| {
                    let unit = if p.unit == "1" { "" } else { p.unit };
                    let r = p.range;
                    let (min, typical, max) = (r.min, r.typical, r.max);
                    format!("{}: {typical} ({min} to {max}) {unit} [{}]", p.id, p.source)
                })
                .collect();
            deliver(&lines.join("\n"), buffer, capacity, needed)
        })
    }
}

/// Hours in which a grain gives this share (below 1) of what it will give in
/// much water at this temperature; 0.9 is as good as done. The washes are not
/// looked at but must make sense.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_time_to(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    share: f64,
    temperature_c: f64,
    hours: *mut FgallRange,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(hours, "hours")?;
            let (_, process) = process_of(shelf, plant_lot, given)?;
            let wanted = Share::new(share).arg("share", share)?;
            let time = process.time_to(wanted, celsius(temperature_c));
            let time = time.arg_of(&[("temperature", "temperature_c", temperature_c)])?;
            slot.put(range(time, |t: Time| t.get::<hour>()));
            Ok(())
        })
    }
}

/// Least liquid in the first wash before anything drains; below it the wet plant
/// is a paste. `straining` is FGALL_STRAINING_…, hold_up_g_per_g goes with
/// FGALL_STRAINING_WEIGHED. Of `given` plant and grain count; washes need none.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_paste_below(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    straining: u32,
    hold_up_g_per_g: f64,
    liquid_g: *mut FgallRange,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(liquid_g, "liquid_g")?;
            let shelf = handle(shelf, "shelf")?;
            let process = read_struct(given, "given")?.dry(shelf, plant_lot)?;
            let straining = straining_of(straining, hold_up_g_per_g)?;
            slot.put(range(process.paste_below(straining)?, |m| m.in_grams()));
            Ok(())
        })
    }
}

/// Liquid for each of the washes, all alike, so that this share of what the
/// plant holds is in the liquors together; their times, temperatures and
/// straining stay. The high end is NaN where no amount is enough,
/// FGALL_NEVER_REACHED when typically none is.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_extraction_water_for(
    shelf: *const FgallShelf,
    plant_lot: usize,
    given: *const FgallExtraction,
    share: f64,
    liquid_g: *mut FgallRange,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(liquid_g, "liquid_g")?;
            let (_, process) = process_of(shelf, plant_lot, given)?;
            let wanted = Share::new(share).arg("share", share)?;
            let needed = process.water_for(wanted)?;
            slot.put(FgallRange {
                min: needed.low.in_grams(),
                typical: needed.typical.in_grams(),
                max: needed.high.map_or(f64::NAN, |m| m.in_grams()),
            });
            Ok(())
        })
    }
}
