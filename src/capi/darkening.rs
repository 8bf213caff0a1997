//! How fast a line of ink darkens on paper.

use super::bench::FgallRange;
use super::columns::{FgallColumn, Strided, input};
use super::error::{Blame, Failure, FgallError, Outcome, no_such_index, unknown_name};
use super::guard::{guard, handle, known_bits, out, out_struct, read_struct, versioned};
use super::recipe::FgallRecipe;
use super::status::{FGALL_EMPTY, FGALL_OUT_OF_ORDER, FgallStatus};
use super::stored_ink::assisted_of;
use super::strings::{deliver, text};
use crate::paper::{
    ArealMassDensity, Climate, Darkening, Paper, PaperError, Span, Writing, papers,
};
use crate::quantity::{
    Length, MassFraction, ReadTime, Share, Time, celsius, days, millimeters, within,
};
use core::ffi::c_char;
use core::mem::size_of;
use uom::si::areal_mass_density::gram_per_square_meter;
use uom::si::length::micrometer;

/// Bit of FgallWriting.set: temperature_c and humidity_share are given.
pub const FGALL_WRITING_AIR: u32 = 1;
/// Bit of FgallWriting.set: film_um is given.
pub const FGALL_WRITING_FILM: u32 = 2;
/// Bit of FgallWriting.set: width_mm is given.
pub const FGALL_WRITING_WIDTH: u32 = 4;
/// Bit of FgallWriting.set: reach_share is given.
pub const FGALL_WRITING_REACH: u32 = 8;
/// Bit of FgallWriting.set: grammage_g_per_m2 is given.
pub const FGALL_WRITING_GRAMMAGE: u32 = 16;
/// Bit of FgallWriting.set: reserve_percent is given.
pub const FGALL_WRITING_RESERVE: u32 = 32;
/// Bit of FgallWriting.set: paper_ph is given.
pub const FGALL_WRITING_PAPER_PH: u32 = 64;
/// Bit of FgallWriting.set: assisted_l_per_mol_s, assisted_factor_95,
/// assisted_ph and assisted_c are given.
pub const FGALL_WRITING_ASSISTED: u32 = 128;

/// Times in one call, at most.
const MOST_TIMES: f64 = 1e5;
/// A hundred years.
const MOST_DAYS: f64 = 36_525.0;

/// A line on a paper, in the air of a room.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallWriting {
    /// sizeof(FgallWriting), filled in by the caller.
    pub struct_size: usize,
    /// Identifier of the paper, see fgall_paper_id.
    pub paper: *const c_char,
    /// Which of the rest is given: FGALL_WRITING_… bits.
    pub set: u32,
    /// Temperature of the room, 0 to 40 °C; 20 if not given.
    pub temperature_c: f64,
    /// Relative humidity, 0 to 0.98; 0.5 if not given.
    pub humidity_share: f64,
    /// Film of wet ink, 0.1 to 1000 um; drawn from what pens leave if not given.
    pub film_um: f64,
    /// Width of the line, 0.05 to 10 mm; 0.5 if not given.
    pub width_mm: f64,
    /// Share of the sheet's alkaline reserve that the ink meets, 0 to 1; drawn if
    /// not given.
    pub reach_share: f64,
    /// Mass of the sheet by area, 5 to 1000 g/m2; that of the catalogue if not given.
    pub grammage_g_per_m2: f64,
    /// Its alkaline reserve as calcium carbonate, 0 to 50 %; that of the
    /// catalogue if not given.
    pub reserve_percent: f64,
    /// pH of a cold extract of it, 3 to 11; that of the catalogue if not given.
    pub paper_ph: f64,
    /// Rate of tannin-held iron(II) with oxygen, as in FgallStoredInk.
    pub assisted_l_per_mol_s: f64,
    /// The factor either way that holds 95 %.
    pub assisted_factor_95: f64,
    /// pH at which the median holds.
    pub assisted_ph: f64,
    /// Temperature at which the median holds.
    pub assisted_c: f64,
}
versioned!(FgallWriting);

impl FgallWriting {
    fn given(&self, bit: u32) -> bool {
        self.set & bit != 0
    }

    fn sheet(&self, id: &str) -> Outcome<Paper> {
        let mut paper = Paper::of(id)?;
        if self.given(FGALL_WRITING_GRAMMAGE) {
            let grammage = ArealMassDensity::new::<gram_per_square_meter>(self.grammage_g_per_m2);
            let heavier = paper.with_grammage(grammage);
            paper = heavier.arg("grammage_g_per_m2", self.grammage_g_per_m2)?;
        }
        if self.given(FGALL_WRITING_RESERVE) {
            let reserve = MassFraction::percent(self.reserve_percent);
            let reserve = reserve.arg("reserve_percent", self.reserve_percent)?;
            let buffered = paper.with_reserve(reserve);
            paper = buffered.arg("reserve_percent", self.reserve_percent)?;
        }
        if self.given(FGALL_WRITING_PAPER_PH) {
            let sour = paper.with_ph(self.paper_ph);
            paper = sour.arg("paper_ph", self.paper_ph)?;
        }
        Ok(paper)
    }

    fn climate(&self) -> Outcome<Climate> {
        if !self.given(FGALL_WRITING_AIR) {
            return Ok(Climate::indoors()?);
        }
        let humidity = Share::new(self.humidity_share);
        let humidity = humidity.arg("humidity_share", self.humidity_share)?;
        Climate::new(celsius(self.temperature_c), humidity).arg_of(&[
            ("relative humidity", "humidity_share", self.humidity_share),
            ("temperature", "temperature_c", self.temperature_c),
        ])
    }
}

/// # Safety
/// As for the whole room.
unsafe fn written(recipe: *const FgallRecipe, writing: *const FgallWriting) -> Outcome<Writing> {
    // SAFETY: as promised by the caller.
    let (recipe, w, id) = unsafe {
        let recipe = handle(recipe, "recipe")?;
        let w = read_struct(writing, "writing")?;
        known_bits(w.set, 255, "set")?;
        (recipe, w, text(w.paper, "paper")?)
    };
    let ink = recipe.recipe.evaluate()?.composition;
    let mut line = Writing::new(&ink, w.sheet(id)?, w.climate()?)?;
    if w.given(FGALL_WRITING_FILM) {
        let film = line.with_film(Length::new::<micrometer>(w.film_um));
        line = film.arg("film_um", w.film_um)?;
    }
    if w.given(FGALL_WRITING_WIDTH) {
        line = line
            .with_width(millimeters(w.width_mm))
            .arg("width_mm", w.width_mm)?;
    }
    if w.given(FGALL_WRITING_REACH) {
        let reach = Share::new(w.reach_share).arg("reach_share", w.reach_share)?;
        line = line.with_reach(reach);
    }
    if w.given(FGALL_WRITING_ASSISTED) {
        let own = assisted_of(
            w.assisted_l_per_mol_s,
            w.assisted_factor_95,
            w.assisted_ph,
            w.assisted_c,
        )?;
        line = line.with_assisted(own)?;
    }
    Ok(line)
}

fn range<T>(span: Span<T>, figure: impl Fn(T) -> f64) -> FgallRange {
    FgallRange {
        min: figure(span.low),
        typical: figure(span.typical),
        max: figure(span.high),
    }
}

/// How fast a line darkens: min and max hold 95 % of what is thought possible,
/// and span powers of ten, for no rate is published for tannin ink or for a dry
/// line. No lifetime of a paper follows from it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallDarkening {
    /// sizeof(FgallDarkening), filled in by the caller.
    pub struct_size: usize,
    /// pH of the ink.
    pub ph_ink: f64,
    /// pH of the line when the paper has given what it can, before anything is
    /// oxidised.
    pub ph_line: FgallRange,
    /// pH of the line when all iron(II) is oxidised and bound: the most acid it
    /// can get.
    pub ph_dark: FgallRange,
    /// Days until a tenth of the iron(II) is oxidised; NaN: not within a year.
    pub to_tenth_days: FgallRange,
    /// Days until half of it is.
    pub to_half_days: FgallRange,
    /// Days until nine tenths of it are: as good as black.
    pub to_nine_tenths_days: FgallRange,
    /// Share of the reserve that the line meets which its acid uses up, all
    /// iron(II) oxidised.
    pub reserve_used_share: FgallRange,
    /// Days until the line is dry.
    pub drying_days: FgallRange,
    /// Share of the iron(II) oxidised by then.
    pub oxidised_when_dry_share: FgallRange,
    /// Days in which the oxygen for all iron(II) can cross the wet film.
    pub oxygen_supply_days: f64,
}
versioned!(FgallDarkening);

impl FgallDarkening {
    fn of(d: &Darkening) -> FgallDarkening {
        let time = |t: Option<Time>| t.map_or(f64::NAN, |t| t.in_days());
        let share = |s: Share| s.value();
        FgallDarkening {
            struct_size: size_of::<FgallDarkening>(),
            ph_ink: d.ph_ink,
            ph_line: range(d.ph_line, |ph| ph),
            ph_dark: range(d.ph_dark, |ph| ph),
            to_tenth_days: range(d.to_tenth, time),
            to_half_days: range(d.to_half, time),
            to_nine_tenths_days: range(d.to_nine_tenths, time),
            reserve_used_share: range(d.reserve_used, share),
            drying_days: range(d.drying, |t| t.in_days()),
            oxidised_when_dry_share: range(d.oxidised_when_dry, share),
            oxygen_supply_days: d.oxygen_supply.in_days(),
        }
    }
}

/// How fast a line of the ink of a recipe darkens on a paper.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_darkening(
    recipe: *const FgallRecipe,
    writing: *const FgallWriting,
    darkening: *mut FgallDarkening,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let line = written(recipe, writing)?;
            let slot = out_struct(darkening, "darkening")?;
            slot.put(FgallDarkening::of(&line.darkening()?));
            Ok(())
        })
    }
}

/// Share of the iron(II) of a line that is oxidised, against time: row i goes to
/// `oxidised`, i times the stride further on, which need not be aligned.
/// `at_days` is a column of row_count times since it was written (0 to a hundred
/// years, at most 1e5 of them), which must not fall.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_darkening_curve(
    recipe: *const FgallRecipe,
    writing: *const FgallWriting,
    at_days: *const FgallColumn,
    row_count: usize,
    oxidised: *mut FgallRange,
    row_stride_bytes: isize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; the column has
    // row_count numbers, oxidised has room for as many.
    unsafe {
        guard(error, || {
            let line = written(recipe, writing)?;
            within("row_count", row_count as f64, 0.0, MOST_TIMES, "")?;
            let column = input(*handle(at_days, "at_days")?, row_count, "at_days")?;
            let rows = Strided::for_results(oxidised, row_stride_bytes, row_count, "oxidised")?;
            let mut times = Vec::with_capacity(row_count);
            for row in 0..row_count {
                times.push(days(within(
                    "at_days",
                    column.read(row),
                    0.0,
                    MOST_DAYS,
                    "d",
                )?));
            }
            let nothing = Span {
                low: Share::ZERO,
                typical: Share::ZERO,
                high: Share::ZERO,
            };
            let mut shares = vec![nothing; row_count];
            line.oxidised_at(&times, &mut shares)?;
            for (row, span) in shares.into_iter().enumerate() {
                rows.write(row, range(span, Share::value));
            }
            Ok(())
        })
    }
}

/// Number of papers in the catalogue.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_paper_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(papers().len());
            Ok(())
        })
    }
}

/// Identifier of the paper at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_paper_id(
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let row = papers().get(index);
            let row = row.ok_or_else(|| no_such_index("index", index, papers().len()))?;
            deliver(row.id, buffer, capacity, needed)
        })
    }
}

impl From<PaperError> for Failure {
    fn from(e: PaperError) -> Failure {
        let message = e.to_string();
        match e {
            PaperError::OutOfRange(range) => range.into(),
            PaperError::UnknownPaper { id } => unknown_name("paper", &id),
            PaperError::NoInk => Failure::new(FGALL_EMPTY, "", &message),
            PaperError::TimesDoNotRise { later_s, .. } => {
                let failure = Failure::new(FGALL_OUT_OF_ORDER, "at_days", &message);
                failure.with_value(days_of(later_s))
            }
            // There is a place for each.
            PaperError::Lengths { .. } => Failure::new(FGALL_EMPTY, "", &message),
            PaperError::Equilibrium(equilibrium) => equilibrium.into(),
            PaperError::Oxidation(oxidation) => oxidation.into(),
        }
    }
}

fn days_of(seconds: f64) -> f64 {
    Time::new::<uom::si::time::second>(seconds).in_days()
}
