//! Old units, the words for them, and the historic set.

use super::bench::{FGALL_NAME_BYTES, FGALL_TEXT_BYTES, FgallRange};
use super::error::{Blame, Failure, FgallError, Outcome, no_such_index, unknown_name};
use super::guard::{deliver_all, foreign, guard, out, out_struct, read_struct, versioned};
use super::status::{
    FGALL_BAD_AMOUNT, FGALL_DOES_NOT_APPLY, FGALL_EMPTY, FGALL_TOO_MANY_INGREDIENTS,
    FGALL_UNKNOWN_NAME, FgallStatus,
};
use super::strings::{deliver, fixed, text};
use crate::history::{
    Book, Candidate, Candidates, Figure, Goods, HistoricSet, HistoryError, OldAmount, Place,
    Quantity, Setting, Span, Standing, Unit, UnitKind, Years, echo, historic, unit, units, word,
};
use core::ffi::c_char;
use core::mem::size_of;

/// A weight, in grams.
pub const FGALL_QUANTITY_MASS: u32 = 0;
/// A measure of capacity, in millilitres.
pub const FGALL_QUANTITY_VOLUME: u32 = 1;
/// A time, in seconds.
pub const FGALL_QUANTITY_TIME: u32 = 2;

/// Nothing is known of the book.
pub const FGALL_BOOK_UNKNOWN: u32 = 0;
/// An apothecary's book: twelve ounces to the pound.
pub const FGALL_BOOK_APOTHECARY: u32 = 1;
/// A merchant's or a household's book: trade weight.
pub const FGALL_BOOK_TRADE: u32 = 2;

/// Nothing is known of what is measured.
pub const FGALL_GOODS_UNKNOWN: u32 = 0;
/// Wine, spirit or vinegar: never ale measure.
pub const FGALL_GOODS_WINE: u32 = 1;
/// Beer or ale: ale measure first.
pub const FGALL_GOODS_BEER: u32 = 2;

/// In use there and then.
pub const FGALL_USE_FITS: u32 = 0;
/// Used in the place, but not in those years.
pub const FGALL_USE_OTHER_TIME: u32 = 1;
/// Used in those years, but not in the place.
pub const FGALL_USE_OTHER_PLACE: u32 = 2;
/// Neither of that place nor of those years.
pub const FGALL_USE_OTHER_PLACE_AND_TIME: u32 = 3;

/// Galls to vitriol by mass.
pub const FGALL_FIGURE_GALLS_PER_VITRIOL: u32 = 0;
/// Galls, g/L.
pub const FGALL_FIGURE_GALLS_G_PER_L: u32 = 1;
/// Vitriol, g/L.
pub const FGALL_FIGURE_VITRIOL_G_PER_L: u32 = 2;
/// Gum, g/L.
pub const FGALL_FIGURE_GUM_G_PER_L: u32 = 3;
/// Gum to galls by mass.
pub const FGALL_FIGURE_GUM_PER_GALLS: u32 = 4;
/// Iron, g/L.
pub const FGALL_FIGURE_IRON_G_PER_L: u32 = 5;

/// An old unit.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallUnit {
    /// sizeof(FgallUnit), filled in by the caller.
    pub struct_size: usize,
    /// Its place in the list; may change with the data version.
    pub index: usize,
    /// One of FGALL_QUANTITY_….
    pub kind: u32,
    /// One of it in grams, millilitres or seconds.
    pub metric_value: f64,
    /// How far one of it may be off, as a share of it: a half-width.
    pub relative_u: f64,
    /// Identifier.
    pub id: [c_char; FGALL_NAME_BYTES],
    /// Name.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// Where it was used and when, in words.
    pub used: [c_char; FGALL_TEXT_BYTES],
}
versioned!(FgallUnit);

/// What is known of a text.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSetting {
    /// sizeof(FgallSetting), filled in by the caller.
    pub struct_size: usize,
    /// Identifier of a place, NULL for none known: anywhere, england,
    /// united_states, france, paris, languedoc, aix, arles, avignon, montpellier,
    /// italy, florence, rome, venice, milan, ticino, turin, bologna, genoa, naples,
    /// palermo, germany, bavaria, nuremberg, prussia, saxony, hanover, rhineland,
    /// hesse, baden, wuerttemberg, austria, switzerland, spain, castile, galicia,
    /// portugal, netherlands, amsterdam, maastricht, sweden, denmark, russia,
    /// roman_world, islamic_world, egypt, syria, iraq, maghrib. A town that is not
    /// among them goes by its country.
    pub place: *const c_char,
    /// First year, before our era negative; 0 with to_year 0 when none is known.
    pub from_year: i32,
    /// Last year.
    pub to_year: i32,
    /// One of FGALL_BOOK_….
    pub book: u32,
}
versioned!(FgallSetting);

/// A unit that a word may mean.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallCandidate {
    /// Identifier of the unit.
    pub unit: [c_char; FGALL_NAME_BYTES],
    /// One of FGALL_QUANTITY_….
    pub kind: u32,
    /// How the unit stands to what is known: one of FGALL_USE_….
    pub standing: u32,
    /// How many of the unit the word means, mostly 1.
    pub times: f64,
    /// What the word means then, in grams, millilitres or seconds.
    pub metric_value: f64,
    /// How far the unit may be off, as a share of it: a half-width.
    pub relative_u: f64,
}

/// A metric amount said in an old unit.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallEcho {
    /// sizeof(FgallEcho), filled in by the caller.
    pub struct_size: usize,
    /// How many of the unit.
    pub units: f64,
    /// The same to the nearest fraction.
    pub nearest: f64,
    /// What that is, in grams, millilitres or seconds.
    pub back_metric: f64,
    /// How much more that is than the amount, as a share of it.
    pub off: f64,
}
versioned!(FgallEcho);

/// Where a figure of old recipes lies, by nearest rank; NaN where none tells it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallQuantiles {
    /// sizeof(FgallQuantiles), filled in by the caller.
    pub struct_size: usize,
    /// How many recipes tell it.
    pub count: usize,
    /// The least.
    pub min: f64,
    /// 5 % lie at or below.
    pub p05: f64,
    /// A quarter lies at or below.
    pub p25: f64,
    /// The middle.
    pub median: f64,
    /// Three quarters lie at or below.
    pub p75: f64,
    /// 95 % lie at or below.
    pub p95: f64,
    /// The most.
    pub max: f64,
}
versioned!(FgallQuantiles);

impl From<HistoryError> for Failure {
    fn from(e: HistoryError) -> Failure {
        let (status, argument) = match &e {
            HistoryError::UnknownUnit { text } => (FGALL_UNKNOWN_NAME, text.as_str()),
            HistoryError::NotANumber { text } => (FGALL_BAD_AMOUNT, text.as_str()),
            HistoryError::MixedKinds { line } => (FGALL_BAD_AMOUNT, line.as_str()),
            HistoryError::Empty => (FGALL_EMPTY, ""),
            HistoryError::TooManyLines { count, .. } => {
                let count = *count as f64;
                return Failure::of(FGALL_TOO_MANY_INGREDIENTS, "line_count", count, &e);
            }
            HistoryError::NoSuchPart { name } => (FGALL_UNKNOWN_NAME, name.as_str()),
            HistoryError::WrongKind { unit } => (FGALL_DOES_NOT_APPLY, *unit),
            HistoryError::OutOfRange(range) => return (*range).into(),
            HistoryError::Lot(lot) => return lot.clone().into(),
            HistoryError::Recipe(recipe) => return recipe.clone().into(),
        };
        Failure::of(status, argument, f64::NAN, &e)
    }
}

pub(super) const fn kind_of(kind: UnitKind) -> u32 {
    match kind {
        UnitKind::Mass => FGALL_QUANTITY_MASS,
        UnitKind::Volume => FGALL_QUANTITY_VOLUME,
        UnitKind::Time => FGALL_QUANTITY_TIME,
    }
}

pub(super) fn range_of(span: Span<Quantity>) -> FgallRange {
    FgallRange {
        min: span.low.in_metric(),
        typical: span.typical.in_metric(),
        max: span.high.in_metric(),
    }
}

fn unit_called(id: &str) -> Outcome<(usize, &'static Unit)> {
    let found = units().enumerate().find(|(_, u)| u.id == id);
    found.ok_or_else(|| unknown_name("unit", id))
}

fn unit_struct(index: usize, unit: &Unit) -> FgallUnit {
    let places: Vec<&str> = unit.used.iter().map(|u| u.place.name()).collect();
    FgallUnit {
        struct_size: size_of::<FgallUnit>(),
        index,
        kind: kind_of(unit.kind),
        metric_value: unit.metric_value,
        relative_u: unit.relative_u,
        id: fixed(unit.id),
        name: fixed(unit.name),
        used: fixed(&format!("{}: {}", places.join(", "), unit.validity)),
    }
}

/// # Safety
/// As for the whole room.
pub(super) unsafe fn setting_of(pointer: *const FgallSetting) -> Outcome<Setting> {
    // SAFETY: as promised by the caller.
    let given = unsafe { read_struct(pointer, "setting") }?;
    let place = if given.place.is_null() {
        Place::Anywhere
    } else {
        // SAFETY: as promised by the caller.
        let id = unsafe { text(given.place, "place") }?;
        Place::of(id).ok_or_else(|| unknown_name("place", id))?
    };
    let years = match (given.from_year, given.to_year) {
        (0, 0) => Years::ANY,
        (from, to) => Years::between(from, to).arg_of(&[
            ("year", "from_year", from.into()),
            ("last year", "to_year", to.into()),
        ])?,
    };
    let book = match given.book {
        FGALL_BOOK_UNKNOWN => Book::Unknown,
        FGALL_BOOK_APOTHECARY => Book::Apothecary,
        FGALL_BOOK_TRADE => Book::Trade,
        other => return Err(foreign(other, "book")),
    };
    Ok(Setting::new(place, years).in_book(book))
}

pub(super) fn goods_of(goods: u32) -> Outcome<Goods> {
    Ok(match goods {
        FGALL_GOODS_UNKNOWN => Goods::Unknown,
        FGALL_GOODS_WINE => Goods::Wine,
        FGALL_GOODS_BEER => Goods::Beer,
        other => return Err(foreign(other, "goods")),
    })
}

fn figure_of(figure: u32) -> Outcome<Figure> {
    let found = Figure::ALL.get(figure as usize).copied();
    found.ok_or_else(|| foreign(figure, "figure"))
}

fn candidate(c: &Candidate, of: &Candidates) -> FgallCandidate {
    FgallCandidate {
        unit: fixed(c.unit.id),
        kind: kind_of(c.unit.kind),
        standing: match of.standing() {
            Standing::Fits => FGALL_USE_FITS,
            Standing::OtherTime => FGALL_USE_OTHER_TIME,
            Standing::OtherPlace => FGALL_USE_OTHER_PLACE,
            Standing::OtherPlaceAndTime => FGALL_USE_OTHER_PLACE_AND_TIME,
        },
        times: c.times,
        metric_value: c.size().in_metric(),
        relative_u: c.unit.relative_u,
    }
}

/// Number of old units.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_unit_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(units().count());
            Ok(())
        })
    }
}

/// The old unit at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_unit_at(
    index: usize,
    unit: *mut FgallUnit,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(unit, "unit")?;
            let found = units().nth(index);
            let found = found.ok_or_else(|| no_such_index("index", index, units().count()))?;
            slot.put(unit_struct(index, found));
            Ok(())
        })
    }
}

/// The old unit of this identifier.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_unit_find(
    id: *const c_char,
    unit: *mut FgallUnit,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(unit, "unit")?;
            let (index, found) = unit_called(text(id, "id")?)?;
            slot.put(unit_struct(index, found));
            Ok(())
        })
    }
}

/// Where the value of an old unit comes from, how far that may be trusted, and
/// what to know of it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_unit_source(
    id: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (_, unit) = unit_called(text(id, "id")?)?;
            let note = if unit.note.is_empty() { "" } else { "; " };
            let words = format!("{}{note}{}", unit.source, unit.note);
            deliver(&words, buffer, capacity, needed)
        })
    }
}

/// What a word of an old recipe may mean, the likeliest first: "pound", "Loth",
/// "pinte". Writes them into `candidates` if there is room for all, and in any
/// case how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_word_candidates(
    setting: *const FgallSetting,
    word: *const c_char,
    goods: u32,
    candidates: *mut FgallCandidate,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let setting = setting_of(setting)?;
            let spelling = text(word, "word")?;
            let found = self::word(spelling).ok_or_else(|| unknown_name("word", spelling))?;
            let found = found.candidates_for(&setting, goods_of(goods)?);
            let all = found.all().iter().map(|c| candidate(c, &found));
            deliver_all(all, candidates, capacity, needed, "candidates")
        })
    }
}

/// An amount such as "1 pound 4 ounces" or "3 or 4 en_av_oz" in grams or
/// millilitres: the likeliest, and from the least to the most it may mean.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_old_amount(
    setting: *const FgallSetting,
    amount: *const c_char,
    goods: u32,
    kind: *mut u32,
    metric: *mut FgallRange,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let setting = setting_of(setting)?;
            let amount = OldAmount::parse(text(amount, "amount")?)?;
            let (kind, metric) = (out(kind, "kind")?, out(metric, "metric")?);
            let span = amount.in_metric(&setting, goods_of(goods)?)?;
            kind.put(kind_of(span.typical.kind()));
            metric.put(range_of(span));
            Ok(())
        })
    }
}

/// Grams, millilitres or seconds in an old unit, to the nearest fraction of it
/// (1 for whole ones, 4 for quarters, up to 64) and back.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_unit_echo(
    id: *const c_char,
    metric: f64,
    fraction: u32,
    echoed: *mut FgallEcho,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(echoed, "echoed")?;
            let id = text(id, "id")?;
            let unit = unit(id).ok_or_else(|| unknown_name("id", id))?;
            let said = echo(unit.of_metric(metric), unit, fraction);
            let said = said.arg_of(&[("amount", "metric", metric)])?;
            slot.put(FgallEcho {
                struct_size: size_of::<FgallEcho>(),
                units: said.units,
                nearest: said.nearest,
                back_metric: said.back.in_metric(),
                off: said.off,
            });
            Ok(())
        })
    }
}

/// # Safety
/// As for the whole room.
unsafe fn set_of(place: *const c_char, century: i32) -> Outcome<HistoricSet> {
    let mut set = historic();
    if !place.is_null() {
        // SAFETY: as promised by the caller.
        let id = unsafe { text(place, "place") }?;
        set = set.in_place(Place::of(id).ok_or_else(|| unknown_name("place", id))?);
    }
    if century != 0 {
        Years::century(century).arg("century", century.into())?;
        set = set.of_century(century);
    }
    Ok(set)
}

/// Where a figure (FGALL_FIGURE_…) of the historic recipes lies: of a place, NULL
/// for all, and of a century such as 18, 0 for all. A small sample picked by hand.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_historic_quantiles(
    figure: u32,
    place: *const c_char,
    century: i32,
    quantiles: *mut FgallQuantiles,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(quantiles, "quantiles")?;
            let found = set_of(place, century)?.quantiles(figure_of(figure)?);
            let at =
                |pick: fn(&crate::history::Quantiles) -> f64| found.as_ref().map_or(f64::NAN, pick);
            slot.put(FgallQuantiles {
                struct_size: size_of::<FgallQuantiles>(),
                count: found.as_ref().map_or(0, |q| q.n),
                min: at(|q| q.min),
                p05: at(|q| q.p05),
                p25: at(|q| q.p25),
                median: at(|q| q.median),
                p75: at(|q| q.p75),
                p95: at(|q| q.p95),
                max: at(|q| q.max),
            });
            Ok(())
        })
    }
}

/// The share of the historic recipes below a value, of 100, those equal to it
/// counting half; NaN where none tells the figure. `place` and `century` as for
/// fgall_historic_quantiles().
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_historic_percentile(
    figure: u32,
    value: f64,
    place: *const c_char,
    century: i32,
    percentile: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(percentile, "percentile")?;
            let figure = figure_of(figure)?;
            let value = crate::quantity::within("value", value, 0.0, 1e12, "")?;
            let found = set_of(place, century)?.percentile(figure, value);
            slot.put(found.unwrap_or(f64::NAN));
            Ok(())
        })
    }
}
