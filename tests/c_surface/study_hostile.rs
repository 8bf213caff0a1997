//! Studies and beliefs as no honest caller asks for them.

use super::hostile::{answers, broken, odd};
use super::kept_hostile::{blames, every_field};
use super::room::*;
use super::study::*;
use core::ffi::c_char;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;

const IRON: u32 = FGALL_MEASURAND_IRON_G_PER_L;
const ONE: *const c_char = c"one_iron_per_galloyl".as_ptr();

/// Room for many helps.
fn helps() -> Vec<[u64; size_of::<FgallHelp>() / 8]> {
    vec![[7; size_of::<FgallHelp>() / 8]; 64]
}

#[test]
fn pointers_and_sizes_are_answered() {
    let (c, e) = (Asked::new(null()), null_mut);
    let (s, recipe, shelf) = (c.study, c.room.recipe, c.room.shelf);
    let (mut out, mut x, mut n) = (null_mut(), 7.0, 0);
    let mut room = helps();
    let array: *mut FgallHelp = room.as_mut_ptr().cast();
    let sure = known(FGALL_SHAPE_EXACT, 0.5, 0.0);
    let source = c"galls: tannin".as_ptr();
    for (name, status) in answers! {
        fgall_study_new(odd(), null(), &mut out, e());
        fgall_study_new(recipe, odd(), &mut out, e());
        fgall_study_new(recipe, null(), odd(), e());
        fgall_study_new(recipe, null(), &mut out, odd());
        fgall_study_copy_new(odd(), &mut out, e());
        fgall_study_copy_new(s, odd(), e());
        fgall_study_source_count(odd(), &mut n, e());
        fgall_study_source_count(s, odd(), e());
        fgall_study_source(s, 0, odd(), e());
        fgall_study_source_name(s, 0, null_mut(), 0, odd(), e());
        fgall_study_know(odd(), source, &sure, e());
        fgall_study_know(s, source, odd(), e());
        fgall_remedy_text(1, null_mut(), 0, odd(), e());
        fgall_measurand_text(1, null_mut(), 0, odd(), e());
        fgall_study_answer(odd(), IRON, 1, 100, &mut init(), e());
        fgall_study_answer(s, IRON, 1, 100, odd(), e());
        fgall_study_helps(s, IRON, 1, 100, odd(), array, 64, &mut n, e());
        fgall_study_helps(s, IRON, 1, 100, null_mut(), odd(), 64, &mut n, e());
        fgall_study_helps(s, IRON, 1, 100, null_mut(), array, 64, odd(), e());
        fgall_study_advice_text(s, IRON, 1, 100, null_mut(), 0, odd(), e());
        fgall_study_excess_iron(s, ONE, 1, 100, odd(), null_mut(), e());
        fgall_study_excess_iron(s, ONE, 1, 100, &mut x, odd(), e());
        fgall_study_assured(s, odd(), GALLS, ONE, 0.9, 1, 100, &mut init(), e());
        fgall_study_assured(s, shelf, GALLS, ONE, 0.9, 1, 100, odd(), e());
        fgall_study_draws(s, odd(), 1, 1, 100, null(), e());
        fgall_study_draws(s, &IRON, 1, 1, 100, odd(), e());
        fgall_belief_update_value(1.0, 0.3, 1.0, 0.1, odd(), e());
        fgall_belief_update_between(1.0, 0.3, 1.0, 2.0, 0.1, odd(), e());
        fgall_belief_of_range(1.0, 2.0, 3.0, odd(), e());
    } {
        assert_eq!(status, FGALL_MISALIGNED, "{name}");
    }
    let nowhere = FgallOutColumn {
        data: null_mut(),
        stride_bytes: 8,
    };
    for (name, status) in answers! {
        fgall_study_new(recipe, null(), null_mut(), e());
        fgall_study_copy_new(s, null_mut(), e());
        fgall_study_source(s, 0, null_mut(), e());
        fgall_study_know(s, null(), &sure, e());
        fgall_study_know(s, source, null(), e());
        fgall_study_answer(s, IRON, 1, 100, null_mut(), e());
        fgall_study_helps(s, IRON, 1, 100, null_mut(), null_mut(), 64, &mut n, e());
        fgall_study_excess_iron(s, null(), 1, 100, &mut x, null_mut(), e());
        fgall_study_excess_iron(s, ONE, 1, 100, null_mut(), null_mut(), e());
        fgall_study_assured(s, null(), GALLS, ONE, 0.9, 1, 100, &mut init(), e());
        fgall_study_assured(s, shelf, GALLS, null(), 0.9, 1, 100, &mut init(), e());
        fgall_study_draws(s, null(), 1, 1, 100, &nowhere, e());
        fgall_study_draws(s, &IRON, 1, 1, 100, null(), e());
        fgall_study_draws(s, &IRON, 1, 1, 100, &nowhere, e());
    } {
        assert_eq!(status, FGALL_NULL_POINTER, "{name}");
    }
    for (name, status) in answers! {
        fgall_study_new(recipe, &broken(), &mut out, e());
        fgall_study_source(s, 0, &mut broken(), e());
        fgall_study_know(s, source, &broken(), e());
        fgall_study_answer(s, IRON, 1, 100, &mut broken(), e());
        fgall_study_helps(s, IRON, 1, 100, &mut broken(), array, 64, &mut n, e());
        fgall_study_assured(s, shelf, GALLS, ONE, 0.9, 1, 100, &mut broken(), e());
        fgall_belief_update_value(1.0, 0.3, 1.0, 0.1, &mut broken(), e());
        fgall_belief_update_between(1.0, 0.3, 1.0, 2.0, 0.1, &mut broken(), e());
        fgall_belief_of_range(1.0, 2.0, 3.0, &mut broken(), e());
    } {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{name}");
    }
    assert!(out.is_null() && x == 7.0);
    assert_eq!(room, helps(), "nothing is written where anything is wrong");
}

#[test]
fn constants_names_and_indices_are_answered() {
    let (c, e) = (Asked::new(null()), null_mut);
    let (s, shelf) = (c.study, c.room.shelf);
    let (mut x, mut n) = (0.0, 0);
    let mut room = helps();
    let array: *mut FgallHelp = room.as_mut_ptr().cast();
    let column = FgallOutColumn {
        data: &mut x,
        stride_bytes: 8,
    };
    for code in [0, 12, u32::MAX] {
        for (name, status) in answers! {
            fgall_measurand_text(code, null_mut(), 0, &mut n, e());
            fgall_remedy_text(code, null_mut(), 0, &mut n, e());
            fgall_study_answer(s, code, 1, 100, &mut init(), e());
            fgall_study_helps(s, code, 1, 100, null_mut(), array, 64, &mut n, e());
            fgall_study_advice_text(s, code, 1, 100, null_mut(), 0, &mut n, e());
            fgall_study_draws(s, &code, 1, 1, 100, &column, e());
        } {
            assert_eq!(status, FGALL_FOREIGN_VALUE, "{name} {code}");
        }
        let told = c.know(c"galls: tannin", known(code, 0.5, 0.1));
        assert_eq!(told, FGALL_FOREIGN_VALUE);
    }
    let foreign = FgallKnown {
        set: 2,
        ..known(FGALL_SHAPE_EXACT, 0.5, 0.0)
    };
    assert_eq!(c.know(c"galls: tannin", foreign), FGALL_FOREIGN_VALUE);
    // SAFETY: as `answers!` has it.
    let nine = unsafe { fgall_remedy_text(9, null_mut(), 0, &mut n, e()) };
    assert_eq!(nine, FGALL_FOREIGN_VALUE);
    for (name, status) in answers! {
        fgall_study_source(s, usize::MAX, &mut init(), e());
        fgall_study_source_name(s, 1 << 20, null_mut(), 0, &mut n, e());
        fgall_study_assured(s, shelf, usize::MAX, ONE, 0.9, 1, 100, &mut init(), e());
    } {
        assert_eq!(status, FGALL_NO_SUCH_INDEX, "{name}");
    }
    let sure = known(FGALL_SHAPE_EXACT, 0.5, 0.0);
    for (text, expected) in [
        (c"", FGALL_UNKNOWN_NAME),
        (c"galls", FGALL_UNKNOWN_NAME),
        (c"\xff", FGALL_NOT_UTF8),
    ] {
        let mut error: FgallError = init();
        for (name, status) in answers! {
            fgall_study_excess_iron(s, text.as_ptr(), 1, 100, &mut x, null_mut(), e());
            fgall_study_assured(s, shelf, GALLS, text.as_ptr(), 0.9, 1, 100, &mut init(), e());
            fgall_study_know(s, text.as_ptr(), &sure, &mut error);
        } {
            assert_eq!(status, expected, "{name}");
        }
        assert_eq!(words(&error.argument), "source");
    }
    // A recipe that cannot be worked out is told as elsewhere.
    let (mut empty, mut study) = (null_mut(), null_mut());
    // SAFETY: locals.
    unsafe {
        assert_eq!(fgall_recipe_new(c"".as_ptr(), &mut empty, e()), FGALL_OK);
        assert_eq!(fgall_study_new(empty, null(), &mut study, e()), FGALL_EMPTY);
        fgall_recipe_free(empty);
    }
    assert!(study.is_null());
}

#[test]
fn counts_are_answered_before_anything_is_drawn() {
    let (c, e) = (Asked::new(null()), null_mut);
    let (s, shelf) = (c.study, c.room.shelf);
    let (mut x, mut n) = (7.0, 0);
    let mut room = helps();
    let array: *mut FgallHelp = room.as_mut_ptr().cast();
    let column = FgallOutColumn {
        data: &mut x,
        stride_bytes: 8,
    };
    for draws in [0, 99, 20_000_001, 1_000_000_000, u32::MAX] {
        let mut error: FgallError = init();
        for (name, status) in answers! {
            fgall_study_answer(s, IRON, 1, draws, &mut init(), e());
            fgall_study_helps(s, IRON, 1, draws, null_mut(), array, 64, &mut n, e());
            fgall_study_advice_text(s, IRON, 1, draws, null_mut(), 0, &mut n, e());
            fgall_study_excess_iron(s, ONE, 1, draws, &mut x, null_mut(), e());
            fgall_study_assured(s, shelf, GALLS, ONE, 0.9, 1, draws, &mut init(), e());
            fgall_study_draws(s, &IRON, 1, 1, draws, &column, &mut error);
        } {
            assert_eq!(status, FGALL_OUT_OF_RANGE, "{name} {draws}");
        }
        let told = (words(&error.argument), error.value);
        assert_eq!(told, ("draws".to_string(), f64::from(draws)));
    }
    // Many draws of many figures; more figures than there are.
    let which = [IRON; 11];
    let columns = [column; 11];
    let ask = |count, draws, columns: *const FgallOutColumn| {
        let mut error: FgallError = init();
        // SAFETY: a live handle; refused before a column is written to.
        let status =
            unsafe { fgall_study_draws(s, which.as_ptr(), count, 1, draws, columns, &mut error) };
        (status, words(&error.argument))
    };
    let refused = |name: &str| (FGALL_OUT_OF_RANGE, name.to_string());
    let all = columns.as_ptr();
    assert_eq!(
        ask(11, 2_000_000, all),
        refused("measurand_count times draws")
    );
    assert_eq!(ask(12, 100, all), refused("measurand_count"));
    assert_eq!(ask(usize::MAX, 100, all), refused("measurand_count"));
    for stride_bytes in [0, 7, -7, isize::MAX, isize::MIN] {
        let tight = FgallOutColumn {
            stride_bytes,
            ..column
        };
        assert_eq!(ask(1, 100, &tight), refused("columns"), "{stride_bytes}");
    }
    // Too little room for the helps: how much is wanted, whatever the draws.
    // SAFETY: a live handle and locals.
    let short = unsafe {
        let none = null_mut();
        fgall_study_helps(s, IRON, 1, u32::MAX, none, array, 3, &mut n, e())
    };
    assert_eq!((short, n > 3), (FGALL_BUFFER_TOO_SMALL, true));
    assert_eq!((x, room), (7.0, helps()));
}

#[test]
fn numbers_that_are_none_are_answered_with_the_argument() {
    let c = Asked::new(null());
    let (s, source) = (c.study, c"galls: tannin".as_ptr());
    // SAFETY: a live handle and locals.
    let know = |k: FgallKnown, e| unsafe { fgall_study_know(s, source, &k, e) };
    for shape in [FGALL_SHAPE_LOG_NORMAL, FGALL_SHAPE_RECTANGULAR] {
        every_field!(known(shape, 0.5, 0.6), know; b);
    }
    every_field!(known(FGALL_SHAPE_LOG_NORMAL, 0.5, 0.6), know; a, b);
    every_field!(known(FGALL_SHAPE_NORMAL, 0.5, 0.6), know; b);
    every_field!(known(FGALL_SHAPE_TRIANGULAR, 0.5, 0.6), know; b);
    let cut = || FgallKnown {
        set: FGALL_KNOWN_LIMITS,
        at_least: 0.0,
        at_most: 1.0,
        ..known(FGALL_SHAPE_NORMAL, 0.5, 0.1)
    };
    every_field!(cut(), know; at_most);
    // Below nought is no mistake here.
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
        for (shape, a) in [
            (FGALL_SHAPE_EXACT, true),
            (FGALL_SHAPE_NORMAL, true),
            (0, false),
        ] {
            let mut error: FgallError = init();
            let mut k = if a { known(shape, bad, 0.1) } else { cut() };
            if !a {
                k.at_least = bad;
            }
            let status = know(k, &mut error);
            let expected = if bad.is_nan() {
                FGALL_INPUT_NAN
            } else {
                FGALL_OUT_OF_RANGE
            };
            let name = if a { "a" } else { "at_least" };
            assert_eq!(
                (status, words(&error.argument).as_str()),
                (expected, name),
                "{bad}"
            );
            assert_eq!(error.value.to_bits(), bad.to_bits());
        }
    }
    // An exact value outside the limits, and limits that leave nothing.
    for (shape, a, argument) in [
        (FGALL_SHAPE_EXACT, 1.5, "a"),
        (FGALL_SHAPE_NORMAL, 40.0, "share inside the limits"),
    ] {
        let mut error: FgallError = init();
        let off = FgallKnown { shape, a, ..cut() };
        assert_eq!(know(off, &mut error), FGALL_OUT_OF_RANGE);
        assert_eq!(words(&error.argument), argument);
    }
    let shelf = c.room.shelf;
    let assured = |bad, e| {
        let mut out: FgallAssurance = init();
        // SAFETY: live handles and locals.
        unsafe { fgall_study_assured(s, shelf, GALLS, ONE, bad, 1, 100, &mut out, e) }
    };
    blames(&assured, "assurance");

    let mut out: FgallBelief = init();
    let b = &raw mut out;
    let value = |[m, u_ln, x, u]: [f64; 4], e| {
        // SAFETY: locals.
        unsafe { fgall_belief_update_value(m, u_ln, x, u, b, e) }
    };
    let between = |[m, u_ln, low, high, judging]: [f64; 5], e| {
        // SAFETY: locals.
        unsafe { fgall_belief_update_between(m, u_ln, low, high, judging, b, e) }
    };
    let range = |[min, typical, max]: [f64; 3], e| {
        // SAFETY: locals.
        unsafe { fgall_belief_of_range(min, typical, max, b, e) }
    };
    for (i, name) in ["median", "u_ln", "measured", "u"].into_iter().enumerate() {
        let bad_at = |bad, e| {
            let mut given = [1.0, 0.3, 1.1, 0.1];
            given[i] = bad;
            value(given, e)
        };
        blames(&bad_at, name);
    }
    let names = ["median", "u_ln", "low", "high", "judging_u_ln"];
    for (i, name) in names.into_iter().enumerate() {
        let bad_at = |bad, e| {
            let mut given = [1.0, 0.3, 1.1, 1.2, 0.1];
            given[i] = bad;
            between(given, e)
        };
        blames(&bad_at, name);
    }
    for (i, name) in ["min", "typical", "max"].into_iter().enumerate() {
        let bad_at = |bad, e| {
            let mut given = [1.0, 2.0, 3.0];
            given[i] = bad;
            range(given, e)
        };
        blames(&bad_at, name);
    }
    assert_eq!(out.median, 0.0, "no result is written when there is none");
}
