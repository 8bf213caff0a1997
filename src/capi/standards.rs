//! Published specifications, and a recipe held against them.

use super::bench::{FGALL_NAME_BYTES, FGALL_TEXT_BYTES};
use super::error::{FgallError, Outcome, no_such_index, unknown_name};
use super::guard::{
    deliver_all, guard, handle, out, out_struct, out_struct_if_wanted, room_for, versioned,
};
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::{deliver, fixed, text};
use super::study::FgallStudy;
use super::study_answers::finite;
use crate::standards::{
    Clause, ClauseChance, ClauseComparison, ClauseVerdict, CompositionVerdict, InkDraws, Kind,
    Overview, OwnInk, Quantity, Requirement, Standard, StandardComparison, Standing, standard,
    standards,
};
use crate::uncertainty::MonteCarlo;
use core::ffi::c_char;
use core::mem::size_of;

/// A document: a specification of inks.
pub const FGALL_DOCUMENT_SPECIFICATION: u32 = 1;
/// A document: a published ink that others refer to.
pub const FGALL_DOCUMENT_TYPE_INK: u32 = 2;
/// A document: ways to test, without limits on the composition.
pub const FGALL_DOCUMENT_TEST_METHODS: u32 = 3;
/// A document: a standard for other inks or pens.
pub const FGALL_DOCUMENT_ELSEWHERE_ONLY: u32 = 4;

/// A standard: in force when it was looked at.
pub const FGALL_STANDING_IN_FORCE: u32 = 1;
/// A standard: withdrawn by its publisher.
pub const FGALL_STANDING_WITHDRAWN: u32 = 2;
/// A standard: cancelled by law.
pub const FGALL_STANDING_CANCELLED: u32 = 3;
/// A standard: not known whether it is in force.
pub const FGALL_STANDING_UNKNOWN: u32 = 4;

/// A clause: a limit that the composition answers.
pub const FGALL_CLAUSE_LIMIT: u32 = 1;
/// A clause: a test to carry out.
pub const FGALL_CLAUSE_TEST: u32 = 2;
/// A clause: it exists, its number has not been seen.
pub const FGALL_CLAUSE_NOT_SEEN: u32 = 3;

/// What a clause says of an ink: inside the limit to the letter.
pub const FGALL_HELD_MEETS: u32 = 1;
/// What a clause says of an ink: outside to the letter, inside once rounded to
/// the digits the limit is stated to.
pub const FGALL_HELD_MEETS_AS_ROUNDED: u32 = 2;
/// What a clause says of an ink: outside on either reading.
pub const FGALL_HELD_DOES_NOT_MEET: u32 = 3;
/// What a clause says of an ink: nothing, it is a test to carry out.
pub const FGALL_HELD_CANNOT_BE_COMPUTED: u32 = 4;
/// What a clause says of an ink: nothing, its number has not been seen.
pub const FGALL_HELD_NUMBER_NOT_SEEN: u32 = 5;
/// What a clause says of an ink: the ink has no such figure.
pub const FGALL_HELD_NO_FIGURE: u32 = 6;

/// All clauses on the composition of known number: met to the letter.
pub const FGALL_TOGETHER_MET: u32 = 1;
/// All clauses on the composition of known number: met, some only as rounded.
pub const FGALL_TOGETHER_MET_AS_ROUNDED: u32 = 2;
/// All clauses on the composition: at least one is not met.
pub const FGALL_TOGETHER_NOT_MET: u32 = 3;
/// All clauses on the composition: there is none with a known number.
pub const FGALL_TOGETHER_NOTHING_TO_COMPUTE: u32 = 4;

fn document(kind: Kind) -> u32 {
    match kind {
        Kind::Specification | Kind::Own => FGALL_DOCUMENT_SPECIFICATION,
        Kind::TypeInk => FGALL_DOCUMENT_TYPE_INK,
        Kind::TestMethods => FGALL_DOCUMENT_TEST_METHODS,
        Kind::ElsewhereOnly => FGALL_DOCUMENT_ELSEWHERE_ONLY,
    }
}

fn standing(standing: Standing) -> u32 {
    match standing {
        Standing::InForce => FGALL_STANDING_IN_FORCE,
        Standing::Withdrawn => FGALL_STANDING_WITHDRAWN,
        Standing::Cancelled => FGALL_STANDING_CANCELLED,
        Standing::Unknown => FGALL_STANDING_UNKNOWN,
    }
}

fn held(verdict: ClauseVerdict) -> u32 {
    match verdict {
        ClauseVerdict::Meets => FGALL_HELD_MEETS,
        ClauseVerdict::MeetsAsRounded => FGALL_HELD_MEETS_AS_ROUNDED,
        ClauseVerdict::DoesNotMeet => FGALL_HELD_DOES_NOT_MEET,
        ClauseVerdict::CannotBeComputed => FGALL_HELD_CANNOT_BE_COMPUTED,
        ClauseVerdict::NumberNotSeen => FGALL_HELD_NUMBER_NOT_SEEN,
        ClauseVerdict::NoFigure => FGALL_HELD_NO_FIGURE,
    }
}

fn together(verdict: CompositionVerdict) -> u32 {
    match verdict {
        CompositionVerdict::Met => FGALL_TOGETHER_MET,
        CompositionVerdict::MetAsRounded => FGALL_TOGETHER_MET_AS_ROUNDED,
        CompositionVerdict::NotMet => FGALL_TOGETHER_NOT_MET,
        CompositionVerdict::NothingToCompute => FGALL_TOGETHER_NOTHING_TO_COMPUTE,
    }
}

fn or_nan(x: Option<f64>) -> f64 {
    x.map_or(f64::NAN, finite)
}

fn unit_of(unit: &str) -> &str {
    if unit == "1" { "" } else { unit }
}

/// A published specification. Nothing in it is law: `source` says where it was
/// read and how far that may be trusted.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStandard {
    /// sizeof(FgallStandard), filled in by the caller.
    pub struct_size: usize,
    /// Identifier; keeps its meaning.
    pub id: [c_char; FGALL_NAME_BYTES],
    /// Name, edition, standing and dates in one line.
    pub title: [c_char; FGALL_TEXT_BYTES],
    /// What it covers.
    pub scope: [c_char; FGALL_TEXT_BYTES],
    /// FGALL_DOCUMENT_…
    pub document: u32,
    /// FGALL_STANDING_…
    pub standing: u32,
    /// Number of its clauses.
    pub clause_count: usize,
    /// Whether it tests samples beside an ink of its own: 1, else 0.
    pub has_own_ink: u32,
    /// The published ink that is; empty where there is none, or its numbers
    /// have not been seen.
    pub own_ink: [c_char; FGALL_NAME_BYTES],
    /// What to know; empty when nothing.
    pub note: [c_char; FGALL_TEXT_BYTES],
    /// Where it comes from, and how far that may be trusted.
    pub source: [c_char; FGALL_TEXT_BYTES],
}
versioned!(FgallStandard);

/// One clause of a specification.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallClause {
    /// Its number, where known.
    pub number: [c_char; FGALL_NAME_BYTES],
    /// Its title.
    pub title: [c_char; FGALL_NAME_BYTES],
    /// FGALL_CLAUSE_…
    pub requires: u32,
    /// What it limits, such as "iron"; keeps its meaning. Empty for tests.
    pub quantity: [c_char; FGALL_NAME_BYTES],
    /// Unit of the limits, such as "g/L"; empty for ratios.
    pub unit: [c_char; FGALL_NAME_BYTES],
    /// The least allowed; NaN where there is none.
    pub min: f64,
    /// The most allowed; NaN where there is none.
    pub max: f64,
    /// Decimals the limits are stated to.
    pub decimals: u32,
    /// The test to carry out, or what is known of a number not seen.
    pub words: [c_char; FGALL_TEXT_BYTES],
    /// Where the clause comes from, and how far that may be trusted; also of
    /// those figures of its test that have a source of their own.
    pub source: [c_char; FGALL_TEXT_BYTES],
    /// The limits as printed, where that is in another unit or form ("0.1 %");
    /// else empty.
    pub printed: [c_char; FGALL_NAME_BYTES],
    /// Limits by other sources, each with its source; empty where none is known.
    pub other_figures: [c_char; FGALL_TEXT_BYTES],
    /// What to know, such as how a figure is read; empty when nothing.
    pub note: [c_char; FGALL_TEXT_BYTES],
}

impl FgallClause {
    fn of(clause: &Clause) -> FgallClause {
        let (requires, quantity, words) = match &clause.requirement {
            Requirement::Limit(limit) => {
                (FGALL_CLAUSE_LIMIT, Some(limit.quantity()), String::new())
            }
            Requirement::Test(test) => (FGALL_CLAUSE_TEST, None, test.to_string()),
            Requirement::NotSeen { quantity, reads } => {
                (FGALL_CLAUSE_NOT_SEEN, *quantity, reads.to_string())
            }
        };
        let limit = match &clause.requirement {
            Requirement::Limit(limit) => Some(limit),
            _ => None,
        };
        let rivals: Vec<String> = clause.rivals.iter().map(|r| r.to_string()).collect();
        FgallClause {
            number: fixed(&clause.number),
            title: fixed(&clause.title),
            requires,
            quantity: fixed(quantity.map_or("", Quantity::id)),
            unit: fixed(unit_of(quantity.map_or("", Quantity::unit))),
            min: or_nan(limit.and_then(|l| l.min())),
            max: or_nan(limit.and_then(|l| l.max())),
            decimals: limit.map_or(0, |l| u32::from(l.decimals())),
            words: fixed(&words),
            source: fixed(&clause.sources()),
            printed: fixed(limit.map_or("", |l| l.printed())),
            other_figures: fixed(&rivals.join("; ")),
            note: fixed(&clause.note),
        }
    }
}

/// What one clause says of an ink. Figures that there are none of are NaN.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallClauseHeld {
    /// FGALL_HELD_…
    pub verdict: u32,
    /// The figure of the ink, in the unit of the clause.
    pub figure: f64,
    /// How far inside the nearer limit it lies; negative: outside.
    pub margin: f64,
    /// The same as a share of that limit.
    pub relative_margin: f64,
    /// How many times the quantity would meet the limit to the letter.
    pub factor: f64,
    /// The figure on the other basis that the clause may mean (gallic acid in
    /// crystals).
    pub other_figure: f64,
    /// FGALL_HELD_… of that figure; 0: there is none.
    pub other_verdict: u32,
    /// Probability of meeting it to the letter.
    pub chance_as_stated: f64,
    /// Probability of meeting it once rounded to the digits it is stated to.
    pub chance_as_rounded: f64,
    /// Low end of the 95 % interval of the figure.
    pub low: f64,
    /// High end of it.
    pub high: f64,
}

impl FgallClauseHeld {
    fn of(clause: &ClauseComparison) -> FgallClauseHeld {
        let chance =
            |of: fn(&ClauseChance) -> Option<f64>| or_nan(clause.chance.as_ref().and_then(of));
        let other = clause.other_basis.as_ref();
        FgallClauseHeld {
            verdict: held(clause.verdict),
            figure: or_nan(clause.figure),
            margin: or_nan(clause.margin),
            relative_margin: or_nan(clause.relative_margin),
            factor: or_nan(clause.factor),
            other_figure: or_nan(other.and_then(|o| o.figure)),
            other_verdict: other.map_or(0, |o| held(o.verdict)),
            chance_as_stated: chance(|c| Some(c.as_stated)),
            chance_as_rounded: chance(|c| Some(c.as_rounded)),
            low: chance(|c| c.low),
            high: chance(|c| c.high),
        }
    }
}

/// What all clauses of a standard say of an ink together. It never says that
/// the standard is met: tests remain.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStandardHeld {
    /// sizeof(FgallStandardHeld), filled in by the caller.
    pub struct_size: usize,
    /// FGALL_TOGETHER_…
    pub composition: u32,
    /// Clauses on the composition met to the letter.
    pub met: usize,
    /// Met only as rounded.
    pub met_as_rounded: usize,
    /// Not met.
    pub not_met: usize,
    /// Tests to carry out.
    pub tests: usize,
    /// Clauses whose number has not been seen.
    pub not_seen: usize,
    /// The strength, as a multiple of the present one, at which all limits are
    /// met to the letter; NaN where they are, or none does.
    pub strength_factor: f64,
    /// Water to add for it, % of the volume; NaN where it is too weak.
    pub water_percent: f64,
    /// Probability of meeting all limits to the letter; NaN unless by draws.
    pub chance_as_stated: f64,
    /// Probability of meeting all limits as rounded; NaN unless by draws.
    pub chance_as_rounded: f64,
    /// The outcome in a sentence, in English.
    pub summary: [c_char; FGALL_TEXT_BYTES],
}
versioned!(FgallStandardHeld);

impl FgallStandardHeld {
    fn of(page: &StandardComparison) -> FgallStandardHeld {
        let chance = |of: fn(&ClauseChance) -> f64| or_nan(page.chance.as_ref().map(of));
        FgallStandardHeld {
            struct_size: size_of::<FgallStandardHeld>(),
            composition: together(page.composition),
            met: page.met,
            met_as_rounded: page.met_as_rounded,
            not_met: page.not_met,
            tests: page.tests,
            not_seen: page.not_seen,
            strength_factor: or_nan(page.strength.map(|s| s.factor)),
            water_percent: or_nan(page.strength.and_then(|s| s.water_percent)),
            chance_as_stated: chance(|c| c.as_stated),
            chance_as_rounded: chance(|c| c.as_rounded),
            summary: fixed(&page.summary()),
        }
    }
}

fn standard_called(id: &str) -> Outcome<&'static Standard> {
    standard(id).ok_or_else(|| unknown_name("standard", id))
}

/// Number of published specifications.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_standard_count(
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            out(count, "count")?.put(standards().len());
            Ok(())
        })
    }
}

/// The specification at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_standard_at(
    index: usize,
    standard: *mut FgallStandard,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(standard, "standard")?;
            let all = standards();
            let found = all
                .get(index)
                .ok_or_else(|| no_such_index("index", index, all.len()))?;
            slot.put(FgallStandard {
                struct_size: size_of::<FgallStandard>(),
                id: fixed(&found.id),
                title: fixed(&found.title()),
                scope: fixed(&found.scope),
                document: document(found.kind),
                standing: self::standing(found.standing),
                clause_count: found.clauses.len(),
                has_own_ink: u32::from(found.own_ink != OwnInk::NoneKnown),
                own_ink: fixed(found.own_ink.reference_ink().map_or("", |ink| ink.id)),
                note: fixed(&found.note),
                source: fixed(&found.cited.to_string()),
            });
            Ok(())
        })
    }
}

/// The clauses of a specification, found by its identifier, in order: written
/// to `clauses` if there is room for all (capacity is a number of clauses), and
/// in any case *needed says how many there are, perhaps none.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_standard_clauses(
    standard: *const c_char,
    clauses: *mut FgallClause,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let found = standard_called(text(standard, "standard")?)?;
            let all = found.clauses.iter().map(FgallClause::of);
            deliver_all(all, clauses, capacity, needed, "clauses")
        })
    }
}

/// The tests of a specification as a checklist: what to prepare, volumes, days.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_standard_programme_text(
    standard: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let found = standard_called(text(standard, "standard")?)?;
            deliver(&found.programme().to_string(), buffer, capacity, needed)
        })
    }
}

/// Writes a page: the sum where it is wanted, then the clauses.
///
/// # Safety
/// As for the whole room.
unsafe fn give(
    page: &StandardComparison,
    together: *mut FgallStandardHeld,
    clauses: *mut FgallClauseHeld,
    capacity: usize,
    needed: *mut usize,
) -> Outcome<()> {
    // SAFETY: as promised by the caller.
    unsafe {
        let slot = out_struct_if_wanted(together, "together")?;
        room_for(page.clauses.len(), capacity, needed, "clauses")?;
        let rows = page.clauses.iter().map(FgallClauseHeld::of);
        deliver_all(rows, clauses, capacity, needed, "clauses")?;
        if let Some(slot) = slot {
            slot.put(FgallStandardHeld::of(page));
        }
    }
    Ok(())
}

/// A recipe held against a specification, one row for each of
/// fgall_standard_clauses(), in their order: written to `clauses` if there is
/// room for all (capacity is a number of rows), and in any case *needed says
/// how many there are. `together`, which may be NULL, takes the sum of them;
/// neither is written when there is no room. Chances are first order, of iron,
/// tannic and gallic acid together, strong acid and the proportion.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_standard(
    recipe: *const FgallRecipe,
    standard: *const c_char,
    together: *mut FgallStandardHeld,
    clauses: *mut FgallClauseHeld,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let standard = standard_called(text(standard, "standard")?)?;
            let page = standard.compare_made(&recipe.recipe.evaluate()?);
            give(&page, together, clauses, capacity, needed)
        })
    }
}

/// The same with chances by draws of a study, of every limit and of all at
/// once. draws: 100 to 1.6e6. Draw i depends on the
/// seed, the names of the sources and i alone.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_standard(
    study: *const FgallStudy,
    standard: *const c_char,
    seed: u64,
    draws: u32,
    together: *mut FgallStandardHeld,
    clauses: *mut FgallClauseHeld,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let standard = standard_called(text(standard, "standard")?)?;
            let plan = MonteCarlo::fixed(seed, draws)?;
            // Asking how many there are draws nothing.
            room_for(standard.clauses.len(), capacity, needed, "clauses")?;
            let page = standard.compare_drawn(&InkDraws::of(&study.study, &plan)?);
            give(&page, together, clauses, capacity, needed)
        })
    }
}

/// A recipe held against a specification, as a page to read.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_standard_text(
    recipe: *const FgallRecipe,
    standard: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let standard = standard_called(text(standard, "standard")?)?;
            let page = standard.compare_made(&recipe.recipe.evaluate()?);
            deliver(&page.to_string(), buffer, capacity, needed)
        })
    }
}

/// A recipe held against every specification: which it meets in its
/// composition, which nearly, and what strength would.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_standards_text(
    recipe: *const FgallRecipe,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let overview = Overview::of_made(&recipe.recipe.evaluate()?);
            deliver(&overview.to_string(), buffer, capacity, needed)
        })
    }
}
