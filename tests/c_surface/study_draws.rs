//! Draws in columns, draws that fail, and beliefs, through the C surface.

use super::forecasts::bits;
use super::room::*;
use super::study::*;
use super::twin::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use ferrogall::source::Range;
use ferrogall::uncertainty::*;
use std::ffi::CString;

#[test]
fn draws_are_those_of_rust_wherever_they_go() {
    let (c, rust) = (Asked::new(null()), here(None));
    let rows = DRAWS as usize;
    let chosen = [
        FGALL_MEASURAND_VOLUME_ML,
        FGALL_MEASURAND_IRON_PER_GALLOYL,
        FGALL_MEASURAND_VOLUME_ML,
    ];
    // One by itself, one backwards, one into rows of 11 bytes.
    let (mut plain, mut back) = (vec![0.0; rows], vec![0.0; rows]);
    let mut packed = vec![0u8; 11 * rows + 1];
    let columns = [
        (plain.as_mut_ptr(), 8),
        (back[rows - 1..].as_mut_ptr(), -8),
        (packed[1..].as_mut_ptr().cast(), 11),
    ];
    let columns = columns.map(|(data, stride_bytes)| FgallOutColumn { data, stride_bytes });
    // SAFETY: a live handle; room for the draws in every column.
    let done = unsafe {
        let (which, to) = (chosen.as_ptr(), columns.as_ptr());
        fgall_study_draws(c.study, which, 3, SEED, DRAWS, to, null_mut())
    };
    assert_eq!(done, FGALL_OK);
    let [volume, ratio] = rust
        .monte_carlo(&plan(), [Measurand::Volume, Measurand::IronPerGalloyl])
        .unwrap();
    for i in 0..rows {
        bits(plain[i], volume.drawn()[i]);
        bits(back[rows - 1 - i], ratio.drawn()[i]);
        let packed: [u8; 8] = packed[1 + 11 * i..][..8].try_into().unwrap();
        bits(f64::from_ne_bytes(packed), volume.drawn()[i]);
    }
    // All of them at once, and none.
    let mut all = vec![[0.0; 11]; rows];
    let columns: [FgallOutColumn; 11] = core::array::from_fn(|k| FgallOutColumn {
        data: &raw mut all[0][k],
        stride_bytes: 88,
    });
    // SAFETY: as above.
    let done = unsafe {
        let none = fgall_study_draws(c.study, null(), 0, SEED, DRAWS, null(), null_mut());
        let (which, to) = (MEASURANDS.as_ptr(), columns.as_ptr());
        [
            none,
            fgall_study_draws(c.study, which, 11, SEED, DRAWS, to, null_mut()),
        ]
    };
    assert_eq!(done, [FGALL_OK; 2]);
    for (k, &measurand) in Measurand::ALL.iter().enumerate() {
        let [sample] = rust.monte_carlo(&plan(), [measurand]).unwrap();
        for (row, x) in all.iter().zip(sample.drawn()) {
            bits(row[k], *x);
        }
    }
}

/// A jug that is full already in some draws, and a figure that no draw has.
#[test]
fn draws_that_fail_are_told() {
    let tools = [SCOOP];
    let c = Asked::new(&c_kit(&tools));
    let rust = here(Some(&kit()));
    // The soak water may be off by a litre: the jug of a litre holds it or not.
    let source = "weighing 4: water";
    let off = Distribution::rectangular(-0.1, 1.5).unwrap();
    let rust = rust.knowing(source, off).unwrap();
    let name = CString::new(source).unwrap();
    assert_eq!(
        c.know(&name, known(FGALL_SHAPE_RECTANGULAR, -0.1, 1.5)),
        FGALL_OK
    );
    let mut iron_g_per_l = vec![0.0; DRAWS as usize];
    let column = FgallOutColumn {
        data: iron_g_per_l.as_mut_ptr(),
        stride_bytes: 8,
    };
    let iron = FGALL_MEASURAND_IRON_G_PER_L;
    // SAFETY: a live handle; room for the draws.
    let done = unsafe { fgall_study_draws(c.study, &iron, 1, SEED, DRAWS, &column, null_mut()) };
    assert_eq!(done, FGALL_OK);
    let [sample] = rust.monte_carlo(&plan(), [Measurand::Iron]).unwrap();
    assert_eq!(sample.failed(), 0);
    for (c, rust) in iron_g_per_l.iter().zip(sample.drawn()) {
        bits(*c, *rust);
    }
    same_answer(c.study, &rust, iron, Measurand::Iron);
    assert_eq!(asked(c.study, iron).0.failed_draws, 0);

    // Without tannin there is no iron per galloyl.
    let dry = c"galls: tannin";
    for source in [dry, c"galls: free gallic acid", c"tannic acid: tannin"] {
        assert_eq!(c.know(source, known(FGALL_SHAPE_EXACT, 0.0, 0.0)), FGALL_OK);
    }
    let (ratio, mut x) = (FGALL_MEASURAND_IRON_PER_GALLOYL, 7.0);
    let gallic = c"tannic acid: free gallic acid";
    assert_eq!(c.know(gallic, known(FGALL_SHAPE_EXACT, 0.0, 0.0)), FGALL_OK);
    let (mut answer, column) = (
        init(),
        FgallOutColumn {
            data: &mut x,
            ..column
        },
    );
    // SAFETY: a live handle and locals; nothing is written.
    let answers = unsafe {
        let (s, e) = (c.study, null_mut);
        [
            fgall_study_answer(s, ratio, SEED, DRAWS, &mut answer, e()),
            fgall_study_draws(s, &ratio, 1, SEED, DRAWS, &column, e()),
            fgall_study_excess_iron(
                s,
                c"standard_inks".as_ptr(),
                SEED,
                DRAWS,
                &mut x,
                null_mut(),
                e(),
            ),
        ]
    };
    let expected = [
        FGALL_NO_VALUE,
        FGALL_ALL_DRAWS_FAILED,
        FGALL_ALL_DRAWS_FAILED,
    ];
    assert_eq!((answers, x), (expected, 7.0));
}

#[test]
fn beliefs_are_those_of_rust() {
    let same = |c: FgallBelief, rust: Belief, surprise: f64| {
        let (low, high) = rust.interval();
        bits(c.median, rust.median());
        bits(c.u_ln, rust.u_ln());
        bits(c.low, low);
        bits(c.high, high);
        bits(c.surprise, surprise);
    };
    for (median, u_ln) in [(0.55, 0.15), (3.0e7, 1.1), (1.0, 0.0)] {
        let prior = Belief::log_normal(median, u_ln).unwrap();
        for x in [0.4, 0.9, 20.0] {
            let mut c: FgallBelief = init();
            let value = Evidence::value(x, 0.1 * x).unwrap();
            // SAFETY: locals.
            let done =
                unsafe { fgall_belief_update_value(median, u_ln, x, 0.1 * x, &mut c, null_mut()) };
            assert_eq!(done, FGALL_OK);
            same(c, prior.updated(&value), prior.surprise(&value));
            assert!(c.surprise.is_finite());
            let between = Evidence::between(x, 1.5 * x, 0.05).unwrap();
            // SAFETY: locals.
            let done = unsafe {
                fgall_belief_update_between(median, u_ln, x, 1.5 * x, 0.05, &mut c, null_mut())
            };
            assert_eq!(done, FGALL_OK);
            same(c, prior.updated(&between), prior.surprise(&between));
        }
    }
    let mut c: FgallBelief = init();
    // SAFETY: locals.
    let done = unsafe { fgall_belief_of_range(0.35, 0.55, 0.7, &mut c, null_mut()) };
    assert_eq!(done, FGALL_OK);
    same(
        c,
        Belief::of_range(Range::new(0.35, 0.55, 0.7)).unwrap(),
        f64::NAN,
    );
    // Two normal logarithms of 0.3 and 0.4 leave one of 0.24: 0.3 · 0.4 / 0.5.
    // SAFETY: locals.
    let done = unsafe { fgall_belief_update_value(1.0, 0.3, 1.0, 0.4, &mut c, null_mut()) };
    assert_eq!((done, c.median), (FGALL_OK, 1.0));
    assert!((c.u_ln - 0.24).abs() < 1e-15, "rounding only");
}
