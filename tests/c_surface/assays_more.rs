//! Weighings, densities, tannin and spot tests, through the C surface: what Rust
//! says, to the last bit.

use super::assays::*;
use super::forecasts::bits;
use super::room::*;
use core::ffi::CStr;
use core::ptr::null_mut;
use ferrogall::assay::*;
use ferrogall::capi::*;
use ferrogall::quantity::*;
use ferrogall::source::Range;
use ferrogall::uncertainty::Belief;

pub fn drying() -> FgallDrying {
    FgallDrying {
        pan_g: 30.0,
        pan_u_g: 0.003,
        with_sample_g: 35.0,
        with_sample_u_g: 0.003,
        with_dried_g: 33.4,
        with_dried_u_g: 0.003,
        ..init()
    }
}

pub fn nail() -> FgallNail {
    FgallNail {
        before_g: 12.4,
        before_u_g: 0.004,
        after_g: 9.61,
        after_u_g: 0.004,
        set: FGALL_NAIL_IRON,
        iron_share: 0.95,
        iron_share_u: 0.02,
        ..init()
    }
}

#[test]
fn weighings_are_those_of_rust() {
    let (given, e) = (drying(), null_mut());
    let [pan, full, dried] = [30.0, 35.0, 33.4].map(|x| g(x, 0.003));
    // SAFETY: locals; texts as `said` promises. Here and below.
    let residue = asked(|a, b, c, n| unsafe { fgall_dry_residue_share(&given, a, b, c, n, e) });
    same(residue, &dry_residue(&pan, &full, &dried).unwrap(), |x| x);
    // SAFETY: as above.
    let damp = asked(|a, b, c, n| unsafe { fgall_moisture_share(&given, a, b, c, n, e) });
    same(damp, &loss_on_drying(&pan, &full, &dried).unwrap(), |x| x);
    for (to, rust) in [
        (FGALL_DRIED_TO_TETRAHYDRATE, DriedTo::Tetrahydrate),
        (FGALL_DRIED_TO_MONOHYDRATE, DriedTo::Monohydrate),
        (FGALL_DRIED_TO_ANHYDROUS, DriedTo::Anhydrous),
    ] {
        let salt = VitriolDrying::new(pan.clone(), full.clone(), dried.clone(), rust);
        // SAFETY: as above.
        let waters = asked(|a, b, c, n| unsafe { fgall_vitriol_waters(&given, to, a, b, c, n, e) });
        same(waters, &salt.waters().unwrap(), |x| x);
        // SAFETY: as above.
        let iron =
            asked(|a, b, c, n| unsafe { fgall_vitriol_iron_share(&given, to, a, b, c, n, e) });
        same(iron, &salt.iron_content().unwrap(), |x| x);
        let mut c: FgallWeathered = init();
        // SAFETY: as above.
        let status = unsafe { fgall_vitriol_weathered(&given, to, &mut c, e) };
        let Ok(was) = salt.weathered() else {
            assert_eq!(status, FGALL_OUT_OF_RANGE);
            continue;
        };
        assert_eq!(status, FGALL_OK);
        let mix = was.mix;
        let shares = [mix.heptahydrate(), mix.tetrahydrate(), mix.monohydrate()];
        for (c, rust) in c.hydrate_shares.iter().zip(shares) {
            bits(*c, rust);
        }
        bits(c.moisture, was.moisture);
        bits(c.moisture_u, was.moisture_u);
    }
    let mut to = 0;
    for (oven_c, expected) in [(60.0, 1), (105.0, 2)] {
        // SAFETY: as above.
        assert_eq!(
            unsafe { fgall_vitriol_dried_to(oven_c, &mut to, e) },
            FGALL_OK
        );
        assert_eq!(to, expected);
    }
    for set in [0, FGALL_NAIL_IRON] {
        let given = FgallNail { set, ..nail() };
        // SAFETY: as above.
        let iron = asked(|a, b, c, n| unsafe { fgall_nail_iron_mmol(&given, a, b, c, n, e) });
        let metal = (set != 0).then(|| Estimate::new(0.95, 0.02).unwrap());
        let rust = iron_dissolved(&g(12.4, 0.004), &g(9.61, 0.004), metal).unwrap();
        same(iron, &rust, |n| n.in_millimoles());
    }
}

pub fn stock() -> FgallStockDensity {
    FgallStockDensity {
        stock: FGALL_STOCK_SULFATE,
        set: 0,
        density_g_per_cm3: 1.08,
        density_u_g_per_cm3: 0.0005,
        temperature_c: 21.0,
        temperature_u_k: 0.5,
        ..init()
    }
}

pub fn liquor() -> FgallLiquorDensity {
    FgallLiquorDensity {
        set: 0,
        specific_gravity: 1.0201,
        specific_gravity_u: 0.0003,
        temperature_c: 18.0,
        temperature_u_k: 0.3,
        reference_c: 15.0,
        ..init()
    }
}

#[test]
fn densities_are_those_of_rust() {
    let e = null_mut();
    for (number, salt) in [
        (FGALL_STOCK_SULFATE, IronStock::Sulfate),
        (FGALL_STOCK_CHLORIDE, IronStock::Chloride),
    ] {
        for set in [0, FGALL_CLEAN_STOCK] {
            let given = FgallStockDensity {
                stock: number,
                set,
                ..stock()
            };
            // SAFETY: locals; texts as `said` promises.
            let iron =
                asked(|a, b, c, n| unsafe { fgall_stock_iron_mol_per_l(&given, a, b, c, n, e) });
            let per = grams_per_cubic_centimeter;
            let density = Reading::standard(per(1.08), per(0.0005)).unwrap();
            let rust = StockDensity::new(salt, density, warm(21.0, 0.5));
            let rust = if set == 0 { rust } else { rust.clean() };
            same(iron, &rust.iron().unwrap(), |c| c.in_moles_per_liter());
        }
    }
    for set in [0, FGALL_TANNIN_ONLY] {
        let given = FgallLiquorDensity { set, ..liquor() };
        // SAFETY: as above.
        let tannin =
            asked(|a, b, c, n| unsafe { fgall_liquor_tannin_share(&given, a, b, c, n, e) });
        let rust = LiquorDensity::new(one(1.0201, 0.0003), warm(18.0, 0.3), celsius(15.0));
        let rust = if set == 0 { rust } else { rust.tannin_only() };
        same(tannin, &rust.tannin().unwrap(), |x| x);
    }
}

pub fn loewenthal_given(factor: &CStr) -> FgallLoewenthal {
    FgallLoewenthal {
        factor: factor.as_ptr(),
        molarity_mol_per_l: 0.02,
        molarity_u_mol_per_l: 0.0001,
        volume_ml: 12.4,
        volume_u_ml: 0.04,
        after_hide_ml: 2.4,
        after_hide_u_ml: 0.04,
        ..init()
    }
}

pub fn plant() -> FgallPlantTannin {
    FgallPlantTannin {
        liquor_tannin_share: 0.048,
        liquor_tannin_u: 0.002,
        liquor_bound: FGALL_FOUND_AT_MOST,
        liquor_g: 180.0,
        liquor_u_g: 0.1,
        plant_g: 20.0,
        plant_u_g: 0.04,
        moisture_share: 0.12,
        moisture_u: 0.01,
        yield_share: 0.8,
        yield_u: 0.08,
        ..init()
    }
}

#[test]
fn tannin_methods_are_those_of_rust() {
    let (mut count, e) = (0, null_mut());
    // SAFETY: locals; texts as `said` promises. Here and below.
    assert_eq!(
        unsafe { fgall_tannin_factor_count(&mut count, e) },
        FGALL_OK
    );
    assert_eq!(count, TanninFactor::ALL.len());
    for (i, row) in TanninFactor::ALL.iter().enumerate() {
        let mut c: FgallTanninFactor = init();
        // SAFETY: as above.
        assert_eq!(unsafe { fgall_tannin_factor_at(i, &mut c, e) }, FGALL_OK);
        assert_eq!(words(&c.id), row.id);
        assert_eq!(words(&c.figure), row.figure);
        assert_eq!(words(&c.unit), row.unit);
        bits(c.factor.min, row.range.min);
        bits(c.factor.typical, row.range.typical);
        bits(c.factor.max, row.range.max);
        // SAFETY: as above.
        let source = said(|b, k, n| unsafe { fgall_tannin_factor_source(i, b, k, n, e) });
        assert!(source.starts_with(&row.source.to_string()));
        assert!(source.ends_with(row.interferences));
        // SAFETY: as above.
        let tannin = asked(|a, b, k, n| unsafe {
            fgall_tannin_by_factor(c.id.as_ptr(), 0.36, 0.01, a, b, k, n, e)
        });
        same(tannin, &row.tannin(&one(0.36, 0.01)).unwrap(), |x| x);
    }
    for (id, factor) in [
        (
            c"tannin_factor_loewenthal_neubauer",
            TanninFactor::LOEWENTHAL_NEUBAUER,
        ),
        (
            c"tannin_factor_loewenthal_councler",
            TanninFactor::LOEWENTHAL_COUNCLER,
        ),
    ] {
        let given = loewenthal_given(id);
        // SAFETY: as above.
        let tannin =
            asked(|a, b, c, n| unsafe { fgall_loewenthal_tannin_g(&given, a, b, c, n, e) });
        let (volume, hide) = (ml(12.4, 0.04), ml(2.4, 0.04));
        let rust = loewenthal(&factor, &mol(0.02, 0.0001), &volume, &hide).unwrap();
        same(tannin, &rust, |m| m.in_grams());
    }
    let given = plant();
    // SAFETY: as above.
    let (c, told) = asked(|a, b, c, n| unsafe { fgall_plant_tannin_share(&given, a, b, c, n, e) });
    let rust = PlantTannin::new(
        &one(0.048, 0.002),
        &g(180.0, 0.1),
        &g(20.0, 0.04),
        &one(0.12, 0.01),
        &one(0.8, 0.08),
    )
    .unwrap();
    bits(c.value, rust.median());
    bits(c.u, rust.median() * rust.u_ln());
    let (low, high) = rust.ln().interval(0.95).unwrap();
    bits(c.low, libm::exp(low));
    bits(c.high, libm::exp(high));
    assert_eq!(c.bound, FGALL_FOUND_AT_MOST);
    assert!(told.contains("of the variance: yield 8"), "{told}");
}

pub fn spot() -> FgallSpotTest {
    FgallSpotTest {
        kind: FGALL_ADDING_IRON,
        set: FGALL_SPOT_JUDGING | FGALL_SPOT_RATIO,
        given_ml: 1.0,
        given_u_ml: 0.05,
        iron_mol_per_l: 0.1,
        iron_u_mol_per_l: 0.002,
        last_darkened_ml: 0.35,
        first_not_ml: 0.4,
        judging_u_ln: 0.2,
        iron_per_galloyl_min: 0.3,
        iron_per_galloyl_typical: 0.5,
        iron_per_galloyl_max: 0.8,
        ..init()
    }
}

pub fn spotted_plant() -> FgallSpotPlant {
    FgallSpotPlant {
        liquor_ml: 180.0,
        liquor_u_ml: 2.0,
        plant_g: 20.0,
        plant_u_g: 0.04,
        moisture_share: 0.12,
        moisture_u: 0.01,
        yield_share: 0.8,
        yield_u: 0.08,
        galloyl_mol_per_kg: 5.9,
        galloyl_u_mol_per_kg: 0.4,
        ..init()
    }
}

fn bracketed<Q: Figure>(c: &FgallBracket, rust: &Bracket<Q>, unit: impl Fn(Q) -> f64) {
    bits(c.low, unit(rust.low));
    bits(c.high, unit(rust.high));
    bits(c.median, rust.median().map_or(f64::NAN, unit));
    let u_ln = Some(rust.u_ln()).filter(|u| u.is_finite());
    bits(c.u_ln, u_ln.unwrap_or(f64::NAN));
    bits(c.scale_u_ln, rust.scale_u_ln);
    bits(c.judging_u_ln, rust.judging_u_ln);
    bits(c.both_u_ln, rust.both_u_ln());
}

#[test]
fn spot_tests_are_those_of_rust_and_feed_beliefs() {
    let e = null_mut();
    let found = |given: &FgallSpotTest| {
        let mut c: FgallBracket = init();
        // SAFETY: locals.
        let status = unsafe { fgall_spot_galloyl_mol_per_l(given, &mut c, e) };
        assert_eq!(status, FGALL_OK);
        c
    };
    let drop = || (ml(1.0, 0.05), mol(0.1, 0.002));
    let ends = (milliliters(0.35), milliliters(0.4));
    let judged = |test: SpotTest| {
        let test = test.judging(0.2).unwrap();
        test.iron_per_galloyl(Range::new(0.3, 0.5, 0.8)).unwrap()
    };
    let (extract, iron) = drop();
    let rust = SpotTest::iron_into_extract(extract, iron, ends.0, ends.1).unwrap();
    let plain = FgallSpotTest { set: 0, ..spot() };
    bracketed(&found(&plain), &rust.galloyl().unwrap(), |c| {
        c.in_moles_per_liter()
    });
    let galloyl = judged(rust).galloyl().unwrap();
    let c = found(&spot());
    bracketed(&c, &galloyl, |c| c.in_moles_per_liter());
    // 0.035 and 0.040 mmol of iron in a millilitre, half an iron to a galloyl.
    assert!((c.low - 0.07).abs() < 1e-15 && (c.high - 0.08).abs() < 1e-15);
    let other = FgallSpotTest {
        kind: FGALL_ADDING_EXTRACT,
        ..spot()
    };
    let (extract, iron) = drop();
    let rust = SpotTest::extract_into_iron(extract, iron, ends.0, ends.1).unwrap();
    bracketed(&found(&other), &judged(rust).galloyl().unwrap(), |c| {
        c.in_moles_per_liter()
    });
    let none = FgallSpotTest {
        last_darkened_ml: 0.0,
        ..spot()
    };
    let c0 = found(&none);
    assert!(c0.low == 0.0 && c0.median.is_nan() && c0.u_ln.is_nan());
    // The plant it came from.
    let (mut held, mut tannin): (FgallBracket, FgallBracket) = (init(), init());
    // SAFETY: locals.
    let done = unsafe { fgall_spot_plant(&spot(), &spotted_plant(), &mut held, &mut tannin, e) };
    assert_eq!(done, FGALL_OK);
    let (moist, had) = (one(0.12, 0.01), one(0.8, 0.08));
    let rust = galloyl.plant(&ml(180.0, 2.0), &g(20.0, 0.04), &moist, &had);
    let rust = rust.unwrap();
    bracketed(&held, &rust, |m| m.in_moles_per_kilogram());
    let per = Reading::standard(moles_per_kilogram(5.9), moles_per_kilogram(0.4)).unwrap();
    let share = rust.tannin(&per).unwrap();
    bracketed(&tannin, &share, |x| x);
    // And what is then believed of it: of a ratio, to the last bit.
    let mut belief: FgallBelief = init();
    // SAFETY: locals.
    let updated = unsafe { fgall_belief_update_bracket(0.14, 0.5, &tannin, &mut belief, e) };
    assert_eq!(updated, FGALL_OK);
    let after = Belief::log_normal(0.14, 0.5).unwrap();
    let evidence = share.evidence().unwrap();
    bits(belief.surprise, after.surprise(&evidence));
    let after = after.updated(&evidence);
    bits(belief.median, after.median());
    bits(belief.u_ln, after.u_ln());
    let (low, high) = after.interval();
    bits(belief.low, low);
    bits(belief.high, high);
}

#[test]
fn uncertainties_of_readings_have_the_divisors_of_the_guide() {
    // JCGM 100:2008, 4.3.7 to 4.3.9 and F.2.3.3; the difference of two readings of
    // a burette and of a balance has the root of two.
    for (kind, divisor) in [
        (FGALL_READ_RECTANGULAR, 3f64.sqrt()),
        (FGALL_READ_TRIANGULAR, 6f64.sqrt()),
        (FGALL_READ_ARCSINE, 2f64.sqrt()),
        (FGALL_READ_WEIGHED, 6f64.sqrt()),
        (FGALL_READ_BALANCE, 12f64.sqrt()),
        (FGALL_READ_BURETTE, 1.5f64.sqrt()),
    ] {
        let mut u = 0.0;
        // SAFETY: a local.
        assert_eq!(
            unsafe { fgall_reading_u(kind, 0.05, &mut u, null_mut()) },
            FGALL_OK
        );
        assert!((u * divisor / 0.05 - 1.0).abs() < 1e-14, "{kind}");
    }
}
