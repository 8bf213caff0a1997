//! Tea, curves, and one plant extracted in many ways, through the C surface.

use super::forecasts::bits;
use super::plants::*;
use super::room::*;
use core::ptr::null_mut;
use ferrogall::capi::*;
use ferrogall::extraction::*;
use ferrogall::quantity::*;
use uom::si::time::{hour, minute, second};

#[test]
fn tea_diffusion_and_curves_are_those_of_rust() {
    let (mut x, mut u) = (0.0, 0.0);
    let empty = FgallRange {
        min: 0.0,
        typical: 0.0,
        max: 0.0,
    };
    let (mut all, mut gallic) = (empty, empty);
    let e = null_mut;
    // SAFETY: locals, here and below.
    unsafe {
        assert_eq!(
            fgall_tea_brew(2.0, 2.7, &mut all, &mut gallic, e()),
            FGALL_OK
        );
        let cup = TeaBrew::of(grams(2.0), Time::new::<minute>(2.7)).unwrap();
        same(all, cup.polyphenols, |m| m.in_grams());
        same(gallic, cup.gallic_acid, |m| m.in_grams());
        for fo in [0.0, 0.03, 0.4, 7.0] {
            assert_eq!(fgall_diffused_from_sphere(fo, &mut x, e()), FGALL_OK);
            bits(x, sphere(fo).unwrap());
            assert_eq!(fgall_diffused_from_slab(fo, &mut x, e()), FGALL_OK);
            bits(x, slab(fo).unwrap());
            assert_eq!(fgall_diffused_into_bath(fo, 1.7, &mut x, e()), FGALL_OK);
            bits(x, sphere_in_bath(fo, 1.7).unwrap());
        }
    }
    let (times, yields) = ([1.0, 4.0, 9.0, 24.0], [0.21, 0.34, 0.39, 0.41]);
    let mut curve: FgallPeleg = init();
    // SAFETY: locals, four of each.
    unsafe {
        let fitted = fgall_peleg_fit(times.as_ptr(), yields.as_ptr(), 4, &mut curve, e());
        assert_eq!(fitted, FGALL_OK);
    }
    let measured: Vec<_> = times.iter().map(|&t| hours(t)).zip(yields).collect();
    let rust = Peleg::fit(&measured).unwrap();
    bits(curve.k1_s, rust.k1().0.get::<second>());
    bits(curve.k1_u_s, rust.k1().1.get::<second>());
    bits(curve.k2, rust.k2().0);
    bits(curve.k2_u, rust.k2().1);
    bits(curve.covariance_s, rust.covariance().get::<second>());
    // SAFETY: locals.
    unsafe {
        assert_eq!(
            fgall_peleg_after(&curve, 13.0, &mut x, &mut u, e()),
            FGALL_OK
        );
        let after = rust.after(hours(13.0)).unwrap();
        bits(x, after.value());
        bits(u, after.u());
        assert!(u > 0.0);
        assert_eq!(fgall_peleg_time_to(&curve, 0.5, &mut x, e()), FGALL_OK);
    }
    bits(x, rust.time_to(Share::HALF).unwrap().get::<hour>());
}

#[test]
fn rows_have_the_bits_of_one_extraction_alone() {
    const ROWS: usize = 24;
    let (room, e) = (Room::new(), null_mut);
    let washes = [
        wash(f64::NAN, f64::NAN, f64::NAN, FGALL_STRAINING_PRESSED),
        wash(f64::NAN, f64::NAN, f64::NAN, FGALL_STRAINING_DRAINED),
    ];
    let given = FgallExtraction {
        set: FGALL_EXTRACTION_SIZE | FGALL_EXTRACTION_BROKEN,
        ..given(&washes)
    };
    let liquid: Vec<f64> = (0..ROWS)
        .map(|i| match i {
            5 => f64::NAN,
            7 => -1.0,
            _ => 3.0 + i as f64,
        })
        .collect();
    let warm: Vec<f64> = (0..ROWS).map(|i| 4.0 * i as f64).collect();
    let long = 12.5;
    let of = |data: &[f64]| FgallColumn {
        data: data.as_ptr(),
        stride_bytes: 8,
    };
    let always = FgallColumn {
        data: &long,
        stride_bytes: 0,
    };
    let stride = size_of::<FgallExtractionRow>() + 4;
    let mut rows = vec![0u8; stride * ROWS];
    let (mut status, mut bad) = ([99u32; ROWS], 0);
    // SAFETY: a live handle; columns and results of ROWS.
    let done = unsafe {
        fgall_extraction_rows(
            room.shelf,
            GALLS,
            &given,
            &of(&liquid),
            &of(&warm),
            &always,
            ROWS,
            rows.as_mut_ptr().cast(),
            stride as isize,
            status.as_mut_ptr(),
            4,
            &mut bad,
            e(),
        )
    };
    assert_eq!((done, bad), (FGALL_OK, 2));
    for i in 0..ROWS {
        // SAFETY: numbers only, all of them there.
        let c = unsafe {
            let first = rows[i * stride..].as_ptr().cast::<FgallExtractionRow>();
            first.read_unaligned()
        };
        let expected = match i {
            5 => FGALL_INPUT_NAN,
            7 => FGALL_OUT_OF_RANGE,
            _ => FGALL_OK,
        };
        assert_eq!(status[i], expected, "row {i}");
        if expected != FGALL_OK {
            assert!(c.share.is_nan() && c.galloyl_high_mol_per_l.is_nan());
            continue;
        }
        let wash = Wash::per_gram(liquid[i], celsius(warm[i]), hours(long)).unwrap();
        let pressed = wash.clone().strained(Straining::Pressed).unwrap();
        let process = Process::new(&galls(), grams(50.0), grain()).unwrap();
        let process = process.wash(pressed).unwrap().wash(wash).unwrap();
        let rust = process.run().unwrap().all;
        bits(c.share, rust.share.typical.value());
        bits(c.share_low, rust.share.low.value());
        bits(c.share_high, rust.share.high.value());
        bits(c.volume_ml, rust.volume.typical.in_milliliters());
        bits(c.galloyl_mmol, rust.galloyl.typical.in_millimoles());
        let strength = rust.concentration;
        bits(c.galloyl_mol_per_l, strength.typical.in_moles_per_liter());
        bits(c.galloyl_low_mol_per_l, strength.low.in_moles_per_liter());
        bits(c.galloyl_high_mol_per_l, strength.high.in_moles_per_liter());
    }
}
