//! Published specifications through the C surface: what Rust says, to the last
//! bit.

use super::room::*;
use super::study::{Asked, here};
use super::twin::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use ferrogall::standards::*;
use ferrogall::uncertainty::MonteCarlo;
use std::ffi::CString;

fn catalogue() -> Vec<FgallStandard> {
    let mut count = 0;
    // SAFETY: locals.
    unsafe {
        assert_eq!(fgall_standard_count(&mut count, null_mut()), FGALL_OK);
        (0..count)
            .map(|index| {
                let mut out: FgallStandard = init();
                assert_eq!(fgall_standard_at(index, &mut out, null_mut()), FGALL_OK);
                out
            })
            .collect()
    }
}

fn clauses_of(id: &str) -> Vec<FgallClause> {
    let id = CString::new(id).unwrap();
    // SAFETY: locals and the array of `listed`.
    listed(|array, capacity, needed| unsafe {
        fgall_standard_clauses(id.as_ptr(), array, capacity, needed, null_mut())
    })
}

#[test]
fn the_catalogue_is_that_of_rust() {
    let there = catalogue();
    assert_eq!(there.len(), standards().len());
    for (c, s) in there.iter().zip(standards()) {
        assert_eq!(words(&c.id), s.id);
        assert_eq!(words(&c.title), s.title());
        assert_eq!(words(&c.source), s.cited.to_string());
        assert_eq!(c.clause_count, s.clauses.len());
        let own = s.own_ink.reference_ink().map_or("", |ink| ink.id);
        assert_eq!(words(&c.own_ink), own);
        assert_eq!(c.has_own_ink == 1, s.own_ink != OwnInk::NoneKnown);
        assert_eq!(
            c.standing == FGALL_STANDING_WITHDRAWN,
            s.standing == Standing::Withdrawn
        );
        let clauses = clauses_of(&s.id);
        assert_eq!(clauses.len(), s.clauses.len());
        for (a, b) in clauses.iter().zip(s.clauses.iter()) {
            assert_eq!(
                (words(&a.number), words(&a.title)),
                (b.number.to_string(), b.title.to_string())
            );
            // Whole: a source that is cut off is none.
            assert_eq!(words(&a.source), b.sources());
            assert_eq!(words(&a.note), b.note.to_string());
            let rivals: Vec<String> = b.rivals.iter().map(|r| r.to_string()).collect();
            assert_eq!(words(&a.other_figures), rivals.join("; "));
            match &b.requirement {
                Requirement::Limit(limit) => {
                    assert_eq!(a.requires, FGALL_CLAUSE_LIMIT);
                    assert_eq!(words(&a.quantity), limit.quantity().id());
                    assert_eq!(a.min.to_bits(), limit.min().unwrap_or(f64::NAN).to_bits());
                    assert_eq!(a.max.to_bits(), limit.max().unwrap_or(f64::NAN).to_bits());
                    assert_eq!(a.decimals, u32::from(limit.decimals()));
                    assert_eq!(words(&a.printed), limit.printed());
                }
                Requirement::Test(test) => {
                    assert_eq!(a.requires, FGALL_CLAUSE_TEST);
                    assert_eq!(words(&a.words), test.to_string());
                }
                _ => {
                    assert_eq!(a.requires, FGALL_CLAUSE_NOT_SEEN);
                    assert!(a.min.is_nan() && a.max.is_nan());
                }
            }
        }
    }
}

fn same(c: f64, rust: Option<f64>) {
    assert_eq!(c.to_bits(), rust.unwrap_or(f64::NAN).to_bits());
}

fn verdict_of(code: u32) -> ClauseVerdict {
    [
        ClauseVerdict::Meets,
        ClauseVerdict::MeetsAsRounded,
        ClauseVerdict::DoesNotMeet,
        ClauseVerdict::CannotBeComputed,
        ClauseVerdict::NumberNotSeen,
        ClauseVerdict::NoFigure,
    ][code as usize - 1]
}

fn same_page(rows: &[FgallClauseHeld], sum: &FgallStandardHeld, page: &StandardComparison) {
    assert_eq!(rows.len(), page.clauses.len());
    for (c, rust) in rows.iter().zip(&page.clauses) {
        assert_eq!(verdict_of(c.verdict), rust.verdict);
        same(c.figure, rust.figure);
        same(c.margin, rust.margin);
        same(c.relative_margin, rust.relative_margin);
        same(c.factor, rust.factor);
        same(
            c.other_figure,
            rust.other_basis.as_ref().and_then(|o| o.figure),
        );
        same(c.chance_as_stated, rust.chance.map(|x| x.as_stated));
        same(c.chance_as_rounded, rust.chance.map(|x| x.as_rounded));
        same(c.low, rust.chance.and_then(|x| x.low));
        same(c.high, rust.chance.and_then(|x| x.high));
    }
    assert_eq!(words(&sum.summary), page.summary());
    let counts = (
        sum.met,
        sum.met_as_rounded,
        sum.not_met,
        sum.tests,
        sum.not_seen,
    );
    assert_eq!(
        counts,
        (
            page.met,
            page.met_as_rounded,
            page.not_met,
            page.tests,
            page.not_seen
        )
    );
    same(sum.strength_factor, page.strength.map(|s| s.factor));
    same(
        sum.water_percent,
        page.strength.and_then(|s| s.water_percent),
    );
    same(sum.chance_as_stated, page.chance.map(|x| x.as_stated));
    same(sum.chance_as_rounded, page.chance.map(|x| x.as_rounded));
}

#[test]
fn a_recipe_against_every_standard_is_that_of_rust() {
    let room = Room::new();
    let made = twin();
    let made = made.evaluate().unwrap();
    for s in standards() {
        let id = CString::new(s.id.as_ref()).unwrap();
        let mut sum: FgallStandardHeld = init();
        // SAFETY: a live handle, locals and the array of `listed`.
        let rows = listed(|array, capacity, needed| unsafe {
            let (recipe, e) = (room.recipe, null_mut());
            fgall_recipe_standard(recipe, id.as_ptr(), null_mut(), array, capacity, needed, e)
        });
        let (mut array, mut needed) = (rows.clone(), 0);
        // SAFETY: a live handle and locals with room for all.
        let held = unsafe {
            let (to, n) = (array.as_mut_ptr(), array.len());
            fgall_recipe_standard(
                room.recipe,
                id.as_ptr(),
                &mut sum,
                to,
                n,
                &mut needed,
                null_mut(),
            )
        };
        assert_eq!((held, needed), (FGALL_OK, rows.len()), "{}", s.id);
        let page = s.compare_made(&made);
        same_page(&rows, &sum, &page);
        let text = said(|buffer, capacity, needed| {
            // SAFETY: a live handle and the buffer of `said`.
            unsafe {
                let (recipe, e) = (room.recipe, null_mut());
                fgall_recipe_standard_text(recipe, id.as_ptr(), buffer, capacity, needed, e)
            }
        });
        assert_eq!(text, page.to_string());
        let tests = said(|buffer, capacity, needed| {
            // SAFETY: the buffer of `said`.
            unsafe {
                fgall_standard_programme_text(id.as_ptr(), buffer, capacity, needed, null_mut())
            }
        });
        assert_eq!(tests, s.programme().to_string());
    }
    let all = said(|buffer, capacity, needed| {
        // SAFETY: a live handle and the buffer of `said`.
        unsafe { fgall_recipe_standards_text(room.recipe, buffer, capacity, needed, null_mut()) }
    });
    assert_eq!(all, Overview::of_made(&made).to_string());
}

#[test]
fn chances_by_draws_are_those_of_rust() {
    let asked = Asked::new(null());
    let plan = MonteCarlo::fixed(7, 400).unwrap();
    let draws = InkDraws::of(&here(None), &plan).unwrap();
    let s = standard("de_document_class_i").unwrap();
    let id = c"de_document_class_i".as_ptr();
    let mut sum: FgallStandardHeld = init();
    let (to, e) = (&raw mut sum, null_mut());
    // SAFETY: a live handle, locals and the array of `listed`.
    let rows = listed(|array, capacity, needed| unsafe {
        fgall_study_standard(asked.study, id, 7, 400, to, array, capacity, needed, e)
    });
    same_page(&rows, &sum, &s.compare_drawn(&draws));
    let mut needed = 0;
    // SAFETY: a live handle and locals.
    let few =
        unsafe { fgall_study_standard(asked.study, id, 7, 4, to, null_mut(), 0, &mut needed, e) };
    assert_eq!(few, FGALL_OUT_OF_RANGE);
}

#[test]
fn hostile_calls_are_answered() {
    let room = Room::new();
    let mut error: FgallError = init();
    let mut needed = 0;
    let mut out: FgallStandard = init();
    let mut sum: FgallStandardHeld = init();
    let none = c"no such standard".as_ptr();
    let irish = c"is_38_1952".as_ptr();
    // SAFETY: NULL, live handles and locals; what is wrong is answered before use.
    unsafe {
        let e = &raw mut error;
        assert_eq!(fgall_standard_count(null_mut(), e), FGALL_NULL_POINTER);
        assert_eq!(fgall_standard_at(10_000, &mut out, e), FGALL_NO_SUCH_INDEX);
        assert_eq!(fgall_standard_at(0, null_mut(), e), FGALL_NULL_POINTER);
        out.struct_size = 1;
        assert_eq!(fgall_standard_at(0, &mut out, e), FGALL_STRUCT_SIZE);
        let said = fgall_standard_clauses(none, null_mut(), 0, &mut needed, e);
        assert_eq!(
            (said, words(&error.argument).as_str()),
            (FGALL_UNKNOWN_NAME, "standard")
        );
        let said = fgall_standard_clauses(null(), null_mut(), 0, &mut needed, e);
        assert_eq!(said, FGALL_NULL_POINTER);
        let said = fgall_standard_clauses(irish, null_mut(), 0, null_mut(), e);
        assert_eq!(said, FGALL_NULL_POINTER);
        let said = fgall_recipe_standard(null(), irish, null_mut(), null_mut(), 0, &mut needed, e);
        assert_eq!(said, FGALL_NULL_POINTER);
        sum.struct_size = 3;
        let said =
            fgall_recipe_standard(room.recipe, irish, &mut sum, null_mut(), 0, &mut needed, e);
        assert_eq!(said, FGALL_STRUCT_SIZE);
        let said =
            fgall_recipe_standard(room.recipe, none, null_mut(), null_mut(), 0, &mut needed, e);
        assert_eq!(said, FGALL_UNKNOWN_NAME);
        let said = fgall_study_standard(
            null(),
            irish,
            1,
            100,
            null_mut(),
            null_mut(),
            0,
            &mut needed,
            e,
        );
        assert_eq!(said, FGALL_NULL_POINTER);
        let said = fgall_standard_programme_text(none, null_mut(), 0, &mut needed, e);
        assert_eq!(said, FGALL_UNKNOWN_NAME);
        let said = fgall_recipe_standard_text(null(), irish, null_mut(), 0, &mut needed, e);
        assert_eq!(said, FGALL_NULL_POINTER);
        let said = fgall_recipe_standards_text(null(), null_mut(), 0, &mut needed, e);
        assert_eq!(said, FGALL_NULL_POINTER);
    }
}
