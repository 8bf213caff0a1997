//! Ink on paper through the C surface: what Rust says, and what hostile callers
//! are told.

use super::forecasts::bits;
use super::hostile::{answers, broken, odd};
use super::kept_hostile::every_field;
use super::room::*;
use super::twin::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use ferrogall::oxidation::{Assisted, SecondOrder};
use ferrogall::paper::*;
use ferrogall::quantity::*;
use uom::si::areal_mass_density::gram_per_square_meter;
use uom::si::length::micrometer;

fn writing() -> FgallWriting {
    FgallWriting {
        paper: c"cotton_rag".as_ptr(),
        set: 255,
        temperature_c: 18.0,
        humidity_share: 0.6,
        film_um: 9.0,
        width_mm: 0.4,
        reach_share: 0.7,
        grammage_g_per_m2: 110.0,
        reserve_percent: 0.5,
        paper_ph: 6.8,
        assisted_l_per_mol_s: 0.01,
        assisted_factor_95: 8.0,
        assisted_ph: 2.4,
        assisted_c: 20.0,
        ..init()
    }
}

fn here() -> Writing {
    let paper = Paper::of("cotton_rag")
        .unwrap()
        .with_grammage(ArealMassDensity::new::<gram_per_square_meter>(110.0))
        .unwrap()
        .with_reserve(MassFraction::percent(0.5).unwrap())
        .unwrap()
        .with_ph(6.8)
        .unwrap();
    let climate = Climate::new(celsius(18.0), Share::new(0.6).unwrap()).unwrap();
    let own = Assisted::known(SecondOrder::l_per_mol_s(0.01).unwrap(), 8.0).unwrap();
    let ink = twin().evaluate().unwrap().composition;
    Writing::new(&ink, paper, climate)
        .unwrap()
        .with_film(Length::new::<micrometer>(9.0))
        .unwrap()
        .with_width(millimeters(0.4))
        .unwrap()
        .with_reach(Share::new(0.7).unwrap())
        .with_assisted(own.found_at(2.4, celsius(20.0)).unwrap())
        .unwrap()
}

fn same<T>(c: FgallRange, rust: Span<T>, figure: impl Fn(T) -> f64) {
    bits(c.min, figure(rust.low));
    bits(c.typical, figure(rust.typical));
    bits(c.max, figure(rust.high));
}

fn told(room: &Room, writing: &FgallWriting) -> FgallDarkening {
    let mut c: FgallDarkening = init();
    // SAFETY: a live handle and locals.
    let done = unsafe { fgall_darkening(room.recipe, writing, &mut c, null_mut()) };
    assert_eq!(done, FGALL_OK);
    c
}

#[test]
fn a_line_darkens_as_in_rust() {
    let (room, rust) = (Room::new(), here().darkening().unwrap());
    let c = told(&room, &writing());
    let time = |t: Option<Time>| t.map_or(f64::NAN, |t| t.in_days());
    bits(c.ph_ink, rust.ph_ink);
    same(c.ph_line, rust.ph_line, |ph| ph);
    same(c.ph_dark, rust.ph_dark, |ph| ph);
    same(c.to_tenth_days, rust.to_tenth, time);
    same(c.to_half_days, rust.to_half, time);
    same(c.to_nine_tenths_days, rust.to_nine_tenths, time);
    same(c.reserve_used_share, rust.reserve_used, Share::value);
    same(c.drying_days, rust.drying, |t| t.in_days());
    same(
        c.oxidised_when_dry_share,
        rust.oxidised_when_dry,
        Share::value,
    );
    bits(c.oxygen_supply_days, rust.oxygen_supply.in_days());
    // As usual where nothing is said, and something else where it is.
    let whole = |d: &FgallDarkening| {
        [
            d.ph_line.typical,
            d.to_half_days.typical,
            d.to_half_days.max,
            d.drying_days.max,
        ]
        .map(f64::to_bits)
    };
    for bit in (0..8).map(|n| 1 << n) {
        let without = FgallWriting {
            set: 255 & !bit,
            ..writing()
        };
        assert_ne!(whole(&told(&room, &without)), whole(&c), "without {bit}");
    }
}

#[test]
fn a_curve_is_that_of_rust() {
    let room = Room::new();
    let at_days = [0.0, 0.01, 1.0, 1.0, 40.0];
    let column = FgallColumn {
        data: at_days.as_ptr(),
        stride_bytes: 8,
    };
    let stride = size_of::<FgallRange>() + 3;
    let mut rows = vec![0u8; 5 * stride];
    let ask = |column: &FgallColumn, count, rows: &mut [u8], e| {
        // SAFETY: a live handle; room for as many rows as times.
        unsafe {
            let (first, stride) = (rows.as_mut_ptr().cast(), stride as isize);
            fgall_darkening_curve(room.recipe, &writing(), column, count, first, stride, e)
        }
    };
    assert_eq!(ask(&column, 5, &mut rows, null_mut()), FGALL_OK);
    let nothing = Span {
        low: Share::ZERO,
        typical: Share::ZERO,
        high: Share::ZERO,
    };
    let mut rust = [nothing; 5];
    here().oxidised_at(&at_days.map(days), &mut rust).unwrap();
    for (i, rust) in rust.into_iter().enumerate() {
        // SAFETY: three numbers, all of them there.
        let c = unsafe {
            rows[i * stride..]
                .as_ptr()
                .cast::<FgallRange>()
                .read_unaligned()
        };
        same(c, rust, Share::value);
    }
    let back = [2.0, 1.0];
    let column = FgallColumn {
        data: back.as_ptr(),
        stride_bytes: 8,
    };
    let mut error: FgallError = init();
    assert_eq!(ask(&column, 2, &mut rows, &mut error), FGALL_OUT_OF_ORDER);
    assert_eq!(words(&error.argument), "at_days");
    assert_eq!(
        ask(&column, usize::MAX, &mut rows, &mut error),
        FGALL_OUT_OF_RANGE
    );
}

#[test]
fn papers_are_those_of_rust() {
    let mut count = 0;
    // SAFETY: a local.
    assert_eq!(
        unsafe { fgall_paper_count(&mut count, null_mut()) },
        FGALL_OK
    );
    assert_eq!(count, papers().len());
    for (i, row) in papers().iter().enumerate() {
        // SAFETY: as `said` promises.
        let id = said(|b, n, k| unsafe { fgall_paper_id(i, b, n, k, null_mut()) });
        assert_eq!(id, row.id);
    }
}

#[test]
fn hostile_callers_are_answered() {
    let room = Room::new();
    let (r, w, e) = (room.recipe, writing(), null_mut);
    let foreign = FgallWriting { set: 256, ..w };
    let papyrus = FgallWriting {
        paper: c"papyrus".as_ptr(),
        ..w
    };
    let none = FgallWriting { paper: null(), ..w };
    let bad = FgallWriting {
        paper: c"\xff".as_ptr(),
        ..w
    };
    let mut d: FgallDarkening = init();
    let expected = [
        FGALL_MISALIGNED,
        FGALL_MISALIGNED,
        FGALL_MISALIGNED,
        FGALL_STRUCT_SIZE,
        FGALL_STRUCT_SIZE,
        FGALL_FOREIGN_VALUE,
        FGALL_UNKNOWN_NAME,
        FGALL_NULL_POINTER,
        FGALL_NOT_UTF8,
        FGALL_NO_SUCH_INDEX,
        FGALL_MISALIGNED,
    ];
    let answers = answers! {
        fgall_darkening(odd(), &w, &mut d, e());
        fgall_darkening(r, odd(), &mut d, e());
        fgall_darkening(r, &w, odd(), e());
        fgall_darkening(r, &broken(), &mut d, e());
        fgall_darkening(r, &w, &mut broken(), e());
        fgall_darkening(r, &foreign, &mut d, e());
        fgall_darkening(r, &papyrus, &mut d, e());
        fgall_darkening(r, &none, &mut d, e());
        fgall_darkening(r, &bad, &mut d, e());
        fgall_paper_id(usize::MAX, null_mut(), 0, &mut 0, e());
        fgall_darkening_curve(r, &w, odd(), 0, null_mut(), 0, e());
    };
    for (i, ((name, status), expected)) in answers.into_iter().zip(expected).enumerate() {
        assert_eq!(status, expected, "{name}, {i}");
    }
    // SAFETY: a live handle and locals.
    let of = |w: FgallWriting, e| unsafe { fgall_darkening(r, &w, &mut init(), e) };
    every_field!(writing(), of; temperature_c, humidity_share, film_um, width_mm, reach_share,
        grammage_g_per_m2, reserve_percent, paper_ph, assisted_l_per_mol_s, assisted_factor_95,
        assisted_ph, assisted_c);
    let day = FgallColumn {
        data: &f64::NAN,
        stride_bytes: 0,
    };
    let mut row = [0.0; 3];
    let first = row.as_mut_ptr().cast();
    // SAFETY: a live handle, room for one row.
    let nan = unsafe { fgall_darkening_curve(r, &w, &day, 1, first, 0, e()) };
    assert_eq!((nan, row), (FGALL_INPUT_NAN, [0.0; 3]));
}
