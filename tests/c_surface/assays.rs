//! What was measured, through the C surface: what Rust says, to the last bit.

use super::assays_more::*;
use super::forecasts::bits;
use super::room::*;
use core::ffi::c_char;
use core::ptr::{null, null_mut};
use ferrogall::assay::*;
use ferrogall::capi::*;
use ferrogall::quantity::*;

/// Fills a struct of readings.
pub fn titration() -> FgallTitration {
    FgallTitration {
        titrant: FGALL_TITRANT_PERMANGANATE,
        sample: FGALL_SAMPLE_SALT,
        molarity_mol_per_l: 0.005,
        molarity_u_mol_per_l: 0.00002,
        titrant_name: c"permanganate".as_ptr(),
        set: FGALL_TITRATION_BLANK | FGALL_TITRATION_ALIQUOT,
        drops: 18,
        volume_ml: 21.65,
        volume_u_ml: 0.04,
        titres_ml: null(),
        titre_count: 0,
        dropper_drops: 100,
        dropper_g: 4.31,
        dropper_u_g: 0.01,
        dropper_g_per_cm3: 0.998,
        dropper_name: c"dropper".as_ptr(),
        blank_ml: 0.05,
        blank_u_ml: 0.02,
        aliquot_ml: 25.0,
        aliquot_u_ml: 0.02,
        pipette_name: c"pipette".as_ptr(),
        flask_ml: 250.0,
        flask_u_ml: 0.1,
        flask_name: c"flask".as_ptr(),
        ..init()
    }
}

pub fn ml(value: f64, u: f64) -> Reading<Volume> {
    Reading::standard(milliliters(value), milliliters(u)).unwrap()
}

pub fn g(value: f64, u: f64) -> Reading<Mass> {
    Reading::standard(grams(value), grams(u)).unwrap()
}

pub fn mol(value: f64, u: f64) -> Reading<MolarConcentration> {
    Reading::standard(moles_per_liter(value), moles_per_liter(u)).unwrap()
}

pub fn one(value: f64, u: f64) -> Reading<f64> {
    Reading::standard(value, u).unwrap()
}

pub fn warm(c: f64, u: f64) -> Reading<Temperature> {
    let u = Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(u);
    Reading::standard(celsius(c), u).unwrap()
}

fn aliquot() -> Aliquot {
    let (taken, of) = (ml(25.0, 0.02), ml(250.0, 0.1));
    Aliquot::new(taken.source("pipette"), of.source("flask"))
}

fn here(delivered: impl Into<Delivered>) -> RedoxTitration {
    let titrant = mol(0.005, 0.00002).source("permanganate");
    RedoxTitration::new(Titrant::Permanganate, Sample::Salt, titrant, delivered)
        .blank(ml(0.05, 0.02))
        .aliquot(aliquot())
}

/// Calls an assay with and without its notes.
pub fn asked(
    call: impl Fn(*mut FgallAssayed, *mut c_char, usize, *mut usize) -> u32,
) -> (FgallAssayed, String) {
    let mut alone: FgallAssayed = init();
    assert_eq!(call(&mut alone, null_mut(), 0, null_mut()), FGALL_OK);
    let told = said(|buffer, capacity, needed| {
        let mut again: FgallAssayed = init();
        let status = call(&mut again, buffer, capacity, needed);
        let written = if status == FGALL_OK { alone.value } else { 0.0 };
        bits(again.value, written);
        status
    });
    (alone, told)
}

pub fn same<Q: Figure>(
    (c, told): (FgallAssayed, String),
    rust: &Assayed<Q>,
    unit: impl Fn(Q) -> f64,
) {
    bits(c.value, unit(rust.value()));
    bits(c.u, unit(rust.u()));
    let (low, high) = rust.interval(0.95).unwrap();
    bits(c.low, unit(low));
    bits(c.high, unit(high));
    let dof = Some(rust.dof()).filter(|dof| dof.is_finite());
    bits(c.dof, dof.unwrap_or(f64::NAN));
    let bound = match rust.bound() {
        Bound::Estimate => FGALL_FOUND_ESTIMATE,
        Bound::AtMost => FGALL_FOUND_AT_MOST,
        _ => FGALL_FOUND_AT_LEAST,
    };
    assert_eq!(c.bound, bound);
    for note in rust.notes() {
        assert!(told.contains(&note.message), "{told}");
    }
    let method = rust.method();
    for part in [method.name, method.interferences] {
        assert!(told.contains(part), "{told}");
    }
    for caution in method.cautions {
        assert!(told.contains(&format!("caution: {caution}")), "{told}");
    }
    assert!(told.contains("of the variance: "), "{told}");
}

#[test]
fn titrations_are_those_of_rust() {
    let (given, rust, e) = (titration(), here(ml(21.65, 0.04)), null_mut());
    // SAFETY: locals; texts as `said` promises. Here and below.
    let iron = asked(|a, b, c, n| unsafe { fgall_titration_iron_mmol(&given, a, b, c, n, e) });
    // 21.6 mL of 5 mmol/L, five iron each, and ten times the aliquot.
    assert!((iron.0.value - 5.4).abs() < 1e-12);
    same(iron, &rust.iron().unwrap(), |n| n.in_millimoles());
    // SAFETY: as above.
    let strength = asked(|a, b, c, n| unsafe {
        fgall_titration_iron_mol_per_l(&given, 100.0, 0.05, a, b, c, n, e)
    });
    let expected = rust.concentration(&ml(100.0, 0.05)).unwrap();
    same(strength, &expected, |c| c.in_moles_per_liter());
    // SAFETY: as above.
    let share = asked(|a, b, c, n| unsafe {
        fgall_titration_iron_share(&given, 1.53, 0.004, a, b, c, n, e)
    });
    let expected = rust.mass_fraction(&g(1.53, 0.004)).unwrap();
    same(share, &expected, |x| x);
    // SAFETY: as above.
    let purity = asked(|a, b, c, n| unsafe {
        let formula = c"FeSO4.7H2O".as_ptr();
        fgall_titration_purity(&given, 1.53, 0.004, formula, a, b, c, n, e)
    });
    let expected = rust.purity(&g(1.53, 0.004), "FeSO4.7H2O").unwrap();
    same(purity, &expected, |x| x);
}

#[test]
fn drops_titres_and_samples_are_those_of_rust() {
    let e = null_mut();
    let ask = |given: FgallTitration| {
        // SAFETY: locals; texts as `said` promises.
        asked(|a, b, c, n| unsafe { fgall_titration_iron_mmol(&given, a, b, c, n, e) })
    };
    let set = titration().set;
    let usual = FgallTitration {
        set: set | FGALL_TITRATION_DROPS,
        dropper_name: null(),
        ..titration()
    };
    let drops = Delivered::drops(18, &Dropper::usual().unwrap()).unwrap();
    same(ask(usual), &here(drops).iron().unwrap(), |n| {
        n.in_millimoles()
    });
    let own = FgallTitration {
        set: set | FGALL_TITRATION_DROPS | FGALL_TITRATION_DROPPER,
        ..titration()
    };
    let water = grams_per_cubic_centimeter(0.998);
    let dropper = Dropper::weighed(100, &g(4.31, 0.01), water).unwrap();
    let drops = Delivered::drops(18, &dropper.named("dropper")).unwrap();
    same(ask(own), &here(drops).iron().unwrap(), |n| {
        n.in_millimoles()
    });
    let titres = [21.6, 21.75, 21.55];
    let repeated = FgallTitration {
        set: set | FGALL_TITRATION_TITRES,
        titres_ml: titres.as_ptr(),
        titre_count: 3,
        ..titration()
    };
    let repeats = Reading::repeats(&titres.map(milliliters)).unwrap();
    let found = ask(repeated);
    assert!(found.0.dof >= 2.0);
    same(found, &here(repeats).iron().unwrap(), |n| n.in_millimoles());
    // Each titrant in each sample, refused or noted as in Rust.
    for (titrant, rust) in [
        (FGALL_TITRANT_PERMANGANATE, Titrant::Permanganate),
        (FGALL_TITRANT_DICHROMATE, Titrant::Dichromate),
        (FGALL_TITRANT_CERIUM_IV, Titrant::CeriumIV),
    ] {
        for (sample, kind) in (1u32..).zip(Sample::ALL) {
            let given = FgallTitration {
                titrant,
                sample,
                set: 0,
                titrant_name: null(),
                ..titration()
            };
            let made = RedoxTitration::new(rust, kind, mol(0.005, 0.00002), ml(21.65, 0.04));
            let Ok(expected) = made.iron() else {
                let mut error: FgallError = init();
                let mut none: FgallAssayed = init();
                // SAFETY: locals.
                let refused = unsafe {
                    let (b, n) = (null_mut(), null_mut());
                    fgall_titration_iron_mmol(&given, &mut none, b, 0, n, &mut error)
                };
                assert_eq!(refused, FGALL_NOT_FOR_SAMPLE);
                assert_eq!(words(&error.argument), "sample");
                assert!(words(&error.message).contains("ash"));
                assert!(kind.holds_tannin() && none.value == 0.0);
                continue;
            };
            same(ask(given), &expected, |n| n.in_millimoles());
        }
    }
}

#[test]
fn rows_have_the_bits_of_one_titration_alone() {
    const ROWS: usize = 600;
    let given = FgallTitration {
        volume_ml: f64::NAN,
        ..titration()
    };
    let volumes: Vec<f64> = (0..ROWS)
        .map(|i| match i {
            3 => f64::NAN,
            4 => -0.1,
            5 => 0.01, // less than the blank
            _ => 5.0 + 0.03 * i as f64,
        })
        .collect();
    let mut packed = vec![0u8; 9 * ROWS];
    for (i, volume) in volumes.iter().enumerate() {
        packed[9 * i + 1..][..8].copy_from_slice(&volume.to_ne_bytes());
    }
    let volume = FgallColumn {
        data: packed[1..].as_ptr().cast(),
        stride_bytes: 9,
    };
    let masses: Vec<f64> = (0..ROWS)
        .map(|i| if i == 6 { 0.0 } else { 1.0 + 0.001 * i as f64 })
        .collect();
    let sample = FgallColumn {
        data: masses.as_ptr(),
        stride_bytes: 8,
    };
    let stride = size_of::<FgallTitrationRow>() + 3;
    for weighed in [true, false] {
        let mut rows = vec![0u8; stride * ROWS];
        let (mut status, mut bad) = (vec![99u32; ROWS], 0);
        // SAFETY: columns and results of ROWS.
        let done = unsafe {
            fgall_titration_rows(
                &given,
                &volume,
                if weighed { &sample } else { null() },
                0.004,
                ROWS,
                rows.as_mut_ptr().cast(),
                stride as isize,
                status.as_mut_ptr(),
                4,
                &mut bad,
                null_mut(),
            )
        };
        assert_eq!((done, bad), (FGALL_OK, 3 + usize::from(weighed)));
        for i in 0..ROWS {
            // SAFETY: numbers only, all of them there.
            let c = unsafe {
                let first = rows[i * stride..].as_ptr().cast::<FgallTitrationRow>();
                first.read_unaligned()
            };
            let expected = match i {
                3 => FGALL_INPUT_NAN,
                4 | 5 => FGALL_OUT_OF_RANGE,
                6 if weighed => FGALL_OUT_OF_RANGE,
                _ => FGALL_OK,
            };
            assert_eq!(status[i], expected, "row {i}");
            if expected != FGALL_OK {
                assert!(c.iron_mmol.is_nan() && c.iron_share_u.is_nan());
                continue;
            }
            let rust = here(ml(volumes[i], 0.04));
            let iron = rust.iron().unwrap();
            bits(c.iron_mmol, iron.value().in_millimoles());
            bits(c.iron_u_mmol, iron.u().in_millimoles());
            if !weighed {
                assert!(c.iron_share.is_nan());
                continue;
            }
            let share = rust.mass_fraction(&g(masses[i], 0.004)).unwrap();
            bits(c.iron_share, share.value());
            bits(c.iron_share_u, share.u());
        }
    }
}

pub fn colour() -> FgallPhenanthroline {
    FgallPhenanthroline {
        sample: FGALL_SAMPLE_STOCK,
        set: FGALL_PHENANTHROLINE_BLANK | FGALL_PHENANTHROLINE_ALIQUOT,
        absorbance: 0.552,
        absorbance_u: 0.003,
        path_mm: 10.0,
        path_u_mm: 0.03,
        cell_name: c"cell".as_ptr(),
        blank_absorbance: 0.004,
        blank_absorbance_u: 0.001,
        aliquot_ml: 25.0,
        aliquot_u_ml: 0.02,
        pipette_name: c"pipette".as_ptr(),
        flask_ml: 250.0,
        flask_u_ml: 0.1,
        flask_name: c"flask".as_ptr(),
        standards_mg_per_l: null(),
        standards_absorbance: null(),
        standard_count: 0,
        ..init()
    }
}

fn seen(absorbance: f64) -> Phenanthroline {
    let cell = Reading::standard(millimeters(10.0), millimeters(0.03)).unwrap();
    Phenanthroline::new(Sample::Stock, one(absorbance, 0.003), cell.source("cell"))
        .blank(one(0.004, 0.001))
        .dilution(aliquot())
}

#[test]
fn colours_and_rust_are_those_of_rust() {
    let (given, e) = (colour(), null_mut());
    // SAFETY: locals; texts as `said` promises. Here and below.
    let ask = |given: &FgallPhenanthroline| {
        asked(|a, b, c, n| unsafe { fgall_phenanthroline_iron_mol_per_l(given, a, b, c, n, e) })
    };
    same(ask(&given), &seen(0.552).iron().unwrap(), |c| {
        c.in_moles_per_liter()
    });
    let (mg_per_l, read) = (
        [0.0, 1.0, 2.0, 3.0, 4.0],
        [0.002, 0.198, 0.396, 0.59, 0.789],
    );
    let by_standards = FgallPhenanthroline {
        set: 7,
        standards_mg_per_l: mg_per_l.as_ptr(),
        standards_absorbance: read.as_ptr(),
        standard_count: 5,
        ..given
    };
    let line = CalibrationLine::fit(&mg_per_l, &read).unwrap();
    let expected = seen(0.552).iron_by(&line).unwrap();
    same(ask(&by_standards), &expected, |c| c.in_moles_per_liter());
    let total = FgallPhenanthroline {
        absorbance: 0.6,
        ..given
    };
    // SAFETY: as above.
    let share = asked(|a, b, c, n| unsafe {
        fgall_phenanthroline_oxidised_share(&given, &total, a, b, c, n, e)
    });
    let (two, all) = (seen(0.552).iron().unwrap(), seen(0.6).iron().unwrap());
    let expected = oxidised_share(&two, &all).unwrap();
    // 548 of 596 are left; the cell, glass and absorption cancel.
    assert!((share.0.value - 48.0 / 596.0).abs() < 1e-12);
    assert!(share.0.u < 0.01);
    same(share, &expected, |x| x);
    let (ii, all) = (
        titration(),
        FgallTitration {
            volume_ml: 23.0,
            ..titration()
        },
    );
    // SAFETY: as above.
    let share =
        asked(|a, b, c, n| unsafe { fgall_titration_oxidised_share(&ii, &all, a, b, c, n, e) });
    let iron = |v| here(ml(v, 0.04)).iron().unwrap();
    same(
        share,
        &oxidised_share(&iron(21.65), &iron(23.0)).unwrap(),
        |x| x,
    );
}

/// What only the room itself finds wrong is told in the caller's fields and units.
#[test]
fn readings_that_contradict_each_other_name_the_field() {
    let told = |call: &dyn Fn(*mut FgallAssayed, *mut FgallError) -> u32| {
        let (mut found, mut error): (FgallAssayed, FgallError) = (init(), init());
        assert_eq!(call(&mut found, &mut error), FGALL_OUT_OF_RANGE);
        (words(&error.argument), error.value)
    };
    let (z, n) = (null_mut(), null_mut());
    let blank = FgallTitration {
        blank_ml: 30.0,
        ..titration()
    };
    let aliquot = FgallTitration {
        aliquot_ml: 300.0,
        ..titration()
    };
    let water = FgallTitration {
        molarity_mol_per_l: 0.0,
        ..titration()
    };
    let gained = FgallNail {
        after_g: 13.0,
        ..nail()
    };
    let swollen = FgallDrying {
        with_dried_g: 36.0,
        ..drying()
    };
    let bare = FgallPlantTannin {
        plant_g: 0.0,
        ..plant()
    };
    // SAFETY: locals.
    unsafe {
        let by = |t: &FgallTitration| told(&|a, e| fgall_titration_iron_mmol(t, a, z, 0, n, e));
        assert_eq!(by(&blank), ("blank_ml".into(), 30.0));
        assert_eq!(by(&aliquot), ("aliquot_ml".into(), 300.0));
        assert_eq!(by(&water), ("molarity_mol_per_l".into(), 0.0));
        let nail = told(&|a, e| fgall_nail_iron_mmol(&gained, a, z, 0, n, e));
        assert_eq!(nail, ("after_g".into(), 13.0));
        let dried = told(&|a, e| fgall_moisture_share(&swollen, a, z, 0, n, e));
        assert_eq!(dried, ("with_dried_g".into(), 36.0));
        let plant = told(&|a, e| fgall_plant_tannin_share(&bare, a, z, 0, n, e));
        assert_eq!(plant, ("plant_g".into(), 0.0));
    }
}
