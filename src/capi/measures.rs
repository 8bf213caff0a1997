//! What would make an ink keep longer, and in which bottles it keeps best.

use super::bench::FGALL_NAME_BYTES;
use super::error::{Blame, Failure, FgallError, Outcome, unknown_name};
use super::forecast::{FgallOutcome, drawn};
use super::guard::{deliver_all, foreign, guard, handle, out, read_array, read_struct};
use super::keeping::{FgallKeeping, kept};
use super::status::{FGALL_NOT_UTF8, FgallStatus};
use super::stored_ink::{FgallStoredInk, scavenger_named};
use super::strings::{deliver, fixed};
use crate::oxidation::{
    BottleChoice, Bought, Closure, FirstOrder, Measure, closures, rank_bottles, rank_measures,
};
use crate::quantity::{
    ReadMassConcentration, ReadTemperature, ReadTime, ReadVolume, Share, celsius, days,
    grams_per_liter, milliliters, within,
};
use core::ffi::c_char;

/// Measure: a smaller bottle that the ink fills to `share` (0.01 to 1).
pub const FGALL_MEASURE_SMALLER_BOTTLE: u32 = 1;
/// Measure: glass beads take the place of what is drawn.
pub const FGALL_MEASURE_BEADS: u32 = 2;
/// Measure: inert gas for `share` of the air, at filling and at every closing.
pub const FGALL_MEASURE_INERT_GAS: u32 = 3;
/// Measure: a floating lid that leaves `share` of the surface free.
pub const FGALL_MEASURE_FLOATING_LID: u32 = 4;
/// Measure: the closure `id` on glass, which does not breathe; sealed glass if
/// `id` is empty.
pub const FGALL_MEASURE_CLOSURE: u32 = 5;
/// Measure: opened every `every_days` only, drawing as much more each time.
pub const FGALL_MEASURE_OPEN_EVERY: u32 = 6;
/// Measure: kept at `temperature_c`.
pub const FGALL_MEASURE_KEEP_AT: u32 = 7;
/// Measure: strong acid to `ph`.
pub const FGALL_MEASURE_ACIDIFY: u32 = 8;
/// Measure: `dose_g_per_l` of the scavenger `id`.
pub const FGALL_MEASURE_SCAVENGE: u32 = 9;
/// Measure: a clean nail that reduces iron(III) at `rate_per_s`.
pub const FGALL_MEASURE_NAIL: u32 = 10;

/// Measures, and sizes of bottles, in one call, at most.
const MOST: usize = 1000;

/// Something a maker can do about oxygen. What its kind does not name is not
/// read. Read its caution: fgall_measure_caution.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallMeasure {
    /// FGALL_MEASURE_…
    pub kind: u32,
    /// A share, 0 to 1.
    pub share: f64,
    /// Time between two openings, a minute to a thousand years.
    pub every_days: f64,
    /// Temperature, 0 to 40 °C.
    pub temperature_c: f64,
    /// pH, 0 to 7.
    pub ph: f64,
    /// Dose, up to 1 mol/L.
    pub dose_g_per_l: f64,
    /// Rate, 0 to 1e12 1/s.
    pub rate_per_s: f64,
    /// Identifier of a closure or a scavenger (see fgall_closure_id and
    /// fgall_scavenger_id); NUL at the end.
    pub id: [c_char; FGALL_NAME_BYTES],
}

fn kind_of(measure: &Measure) -> u32 {
    match measure {
        Measure::SmallerBottle { .. } => FGALL_MEASURE_SMALLER_BOTTLE,
        Measure::Beads => FGALL_MEASURE_BEADS,
        Measure::InertGas { .. } => FGALL_MEASURE_INERT_GAS,
        Measure::FloatingLid { .. } => FGALL_MEASURE_FLOATING_LID,
        Measure::Closure(_) => FGALL_MEASURE_CLOSURE,
        Measure::OpenEvery(_) => FGALL_MEASURE_OPEN_EVERY,
        Measure::KeepAt(_) => FGALL_MEASURE_KEEP_AT,
        Measure::Acidify { .. } => FGALL_MEASURE_ACIDIFY,
        Measure::Scavenge { .. } => FGALL_MEASURE_SCAVENGE,
        Measure::Nail { .. } => FGALL_MEASURE_NAIL,
    }
}

/// A text in an array of the caller's, up to its NUL.
fn words(array: &[c_char], name: &str) -> Outcome<String> {
    let bytes = array.iter().map(|&c| c as u8).take_while(|&b| b != 0);
    String::from_utf8(bytes.collect())
        .map_err(|_| Failure::new(FGALL_NOT_UTF8, name, "is not UTF-8"))
}

impl FgallMeasure {
    /// A measure of which nothing but its kind is told.
    fn bare(kind: u32) -> FgallMeasure {
        FgallMeasure {
            kind,
            share: 0.0,
            every_days: 0.0,
            temperature_c: 0.0,
            ph: 0.0,
            dose_g_per_l: 0.0,
            rate_per_s: 0.0,
            id: [0; FGALL_NAME_BYTES],
        }
    }

    /// `None` for a closure that is not in the catalogue.
    fn of(measure: &Measure) -> Option<FgallMeasure> {
        let mut told = FgallMeasure::bare(kind_of(measure));
        match measure {
            Measure::SmallerBottle { filled_to: share }
            | Measure::InertGas { replacing: share }
            | Measure::FloatingLid {
                leaving_free: share,
            } => told.share = share.value(),
            Measure::Closure(closure) if *closure == Closure::SEALED_GLASS => {}
            Measure::Closure(closure) => {
                let row = closures().iter().find(|row| Closure::of(row) == *closure)?;
                told.id = fixed(row.id);
            }
            Measure::OpenEvery(time) => told.every_days = time.in_days(),
            Measure::KeepAt(temperature) => told.temperature_c = temperature.in_celsius(),
            Measure::Acidify { to_ph } => told.ph = *to_ph,
            Measure::Scavenge { scavenger, dose } => {
                told.id = fixed(scavenger.id);
                told.dose_g_per_l = dose.in_grams_per_liter();
            }
            Measure::Nail { rate } => told.rate_per_s = rate.in_per_second(),
            Measure::Beads => {}
        }
        Some(told)
    }

    fn measure(&self) -> Outcome<Measure> {
        let share = || Share::new(self.share).arg("share", self.share);
        Ok(match self.kind {
            FGALL_MEASURE_SMALLER_BOTTLE => {
                within("share", self.share, 0.01, 1.0, "")?;
                Measure::SmallerBottle {
                    filled_to: share()?,
                }
            }
            FGALL_MEASURE_BEADS => Measure::Beads,
            FGALL_MEASURE_INERT_GAS => Measure::InertGas {
                replacing: share()?,
            },
            FGALL_MEASURE_FLOATING_LID => Measure::FloatingLid {
                leaving_free: share()?,
            },
            FGALL_MEASURE_CLOSURE => Measure::Closure(self.closure()?),
            FGALL_MEASURE_OPEN_EVERY => {
                within("every_days", self.every_days, 1.0 / 1440.0, 365_250.0, "d")?;
                Measure::OpenEvery(days(self.every_days))
            }
            FGALL_MEASURE_KEEP_AT => {
                within("temperature_c", self.temperature_c, 0.0, 40.0, "degC")?;
                Measure::KeepAt(celsius(self.temperature_c))
            }
            FGALL_MEASURE_ACIDIFY => Measure::Acidify {
                to_ph: within("ph", self.ph, 0.0, 7.0, "")?,
            },
            FGALL_MEASURE_SCAVENGE => {
                within("dose_g_per_l", self.dose_g_per_l, 0.0, 1e6, "g/L")?;
                Measure::Scavenge {
                    scavenger: *scavenger_named(&words(&self.id, "id")?, "id")?,
                    dose: grams_per_liter(self.dose_g_per_l),
                }
            }
            FGALL_MEASURE_NAIL => Measure::Nail {
                rate: FirstOrder::per_second(self.rate_per_s).arg("rate_per_s", self.rate_per_s)?,
            },
            other => return Err(foreign(other, "kind")),
        })
    }

    fn closure(&self) -> Outcome<Closure> {
        let id = words(&self.id, "id")?;
        if id.is_empty() {
            return Ok(Closure::SEALED_GLASS);
        }
        let row = closures().iter().find(|row| row.id == id);
        row.map(Closure::of).ok_or_else(|| unknown_name("id", &id))
    }
}

/// The measures that could help this bottle: whatever it does not have yet.
/// Written to `measures` if there is room for all of them (capacity is a number
/// of measures), and in any case *needed says how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_measures_usual(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    measures: *mut FgallMeasure,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let kept = kept(ink, keeping)?;
            let usual = Measure::usual(&kept.ink, &kept.bottle);
            let all: Vec<_> = usual.iter().filter_map(FgallMeasure::of).collect();
            deliver_all(all.into_iter(), measures, capacity, needed, "measures")
        })
    }
}

/// A measure in words, such as "glass beads for the ink that is drawn".
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_measure_text(
    measure: *const FgallMeasure,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let measure = handle(measure, "measure")?.measure()?;
            deliver(&measure.in_words(), buffer, capacity, needed)
        })
    }
}

/// What to mind with a measure; empty when there is nothing. No safety advice:
/// local rules and licensed practice come first.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_measure_caution(
    measure: *const FgallMeasure,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let measure = handle(measure, "measure")?.measure()?;
            deliver(measure.caution().unwrap_or(""), buffer, capacity, needed)
        })
    }
}

/// What one measure buys by itself.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallBought {
    /// The measure, as it was given.
    pub measure: FgallMeasure,
    /// When bottles are compared: once the one without any measure has typically
    /// lost half of its iron(II), or in the end if that comes first.
    pub compared_at_days: f64,
    /// What has become of the ink by then with it, every unknown at its typical
    /// value.
    pub typical: FgallOutcome,
    /// Upper bound of the share lost with it.
    pub bound_share: f64,
    /// Share of the iron(II) that it saves, typically; below 0 it does harm.
    pub saved_share: f64,
    /// Low end of the same (95 %), each draw with and without it.
    pub saved_low_share: f64,
    /// High end of it.
    pub saved_high_share: f64,
}

impl FgallBought {
    fn of(bought: &Bought, measure: FgallMeasure) -> FgallBought {
        FgallBought {
            measure,
            compared_at_days: bought.compared_at.in_days(),
            typical: FgallOutcome::of(&bought.typical),
            bound_share: bought.bound.value(),
            saved_share: bought.saved,
            saved_low_share: bought.saved_spread.low,
            saved_high_share: bought.saved_spread.high,
        }
    }
}

/// What each of count measures (at most 1000) buys by itself, the best first:
/// `bought` has room for count of them. draws (1 to a million) for the ends.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_measures_rank(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    measures: *const FgallMeasure,
    count: usize,
    draws: u32,
    bought: *mut FgallBought,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; there are count
    // measures, and bought has room for as many.
    unsafe {
        guard(error, || {
            let kept = kept(ink, keeping)?;
            out(bought, "bought")?;
            let mut given = read_array(measures, count, MOST, "measures")?;
            let asked: Outcome<Vec<Measure>> = given.iter().map(FgallMeasure::measure).collect();
            let mut asked = asked?;
            let ranked = rank_measures(&kept.ink, &kept.bottle, &asked, drawn(draws, 1)?)?;
            for (place, one) in ranked.iter().enumerate() {
                // Equal measures buy the same, so that the first of them will do.
                let Some(i) = asked.iter().position(|m| *m == one.measure) else {
                    continue;
                };
                asked.remove(i);
                let row = FgallBought::of(one, given.remove(i));
                out(bought.wrapping_add(place), "bought")?.put(row);
            }
            Ok(())
        })
    }
}

/// A store of ink in bottles of one size, used one after the other.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallBottleChoice {
    /// Brimful capacity of each, as it was given.
    pub capacity_ml: f64,
    /// Ink in each at filling.
    pub fill_ml: f64,
    /// How many.
    pub bottles: u64,
    /// How long the last one waits unopened.
    pub waits_days: f64,
    /// Share of the iron(II) lost by the time it is written with, in the mean
    /// over the ink of the last bottle, every unknown at its typical value.
    pub lost_in_use_share: f64,
    /// Upper bound of the same.
    pub bound_share: f64,
}

impl FgallBottleChoice {
    fn of(choice: &BottleChoice, given_ml: &[f64]) -> FgallBottleChoice {
        let asked = given_ml
            .iter()
            .find(|&&ml| milliliters(ml) == choice.capacity);
        FgallBottleChoice {
            capacity_ml: asked
                .copied()
                .unwrap_or_else(|| choice.capacity.in_milliliters()),
            fill_ml: choice.fill.in_milliliters(),
            bottles: choice.bottles,
            waits_days: choice.waits.in_days(),
            lost_in_use_share: choice.lost_in_use.value(),
            bound_share: choice.bound.value(),
        }
    }
}

/// In which of count sizes of bottle (at most 1000) store_ml of an ink keeps
/// best, the best first: `choices` has room for count of them. `keeping` says how
/// a bottle is used, which must open it and draw from it; its capacity_ml and
/// fill_ml are not read, each bottle is filled to filled_to_share (0.1 to 1).
/// At most ten thousand bottles.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_bottles_rank(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    store_ml: f64,
    filled_to_share: f64,
    capacities_ml: *const f64,
    count: usize,
    choices: *mut FgallBottleChoice,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; there are count
    // capacities, and choices has room for as many.
    unsafe {
        guard(error, || {
            let ink = read_struct(ink, "ink")?.ink()?;
            let keeping = read_struct(keeping, "keeping")?;
            out(choices, "choices")?;
            within("store_ml", store_ml, 1e-3, 1e9, "mL")?;
            let filled_to = Share::new(filled_to_share).arg("filled_to_share", filled_to_share)?;
            within("filled_to_share", filled_to_share, 0.1, 1.0, "")?;
            let capacities = read_array(capacities_ml, count, MOST, "capacities_ml")?;
            for &capacity in &capacities {
                within("capacities_ml", capacity, 1e-3, 1e9, "mL")?;
            }
            let volumes: Vec<_> = capacities.iter().copied().map(milliliters).collect();
            let store = milliliters(store_ml);
            let used = keeping.used()?;
            let ranked = rank_bottles(&ink, store, filled_to, &volumes, used);
            for (place, choice) in keeping.blamed(ranked)?.iter().enumerate() {
                let row = FgallBottleChoice::of(choice, &capacities);
                out(choices.wrapping_add(place), "choices")?.put(row);
            }
            Ok(())
        })
    }
}
