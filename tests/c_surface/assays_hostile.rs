//! Assays as no honest caller asks for them.

use super::assays::*;
use super::assays_more::*;
use super::hostile::{answers, broken, odd};
use super::kept_hostile::{blames, every_field};
use super::room::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;

const NEUBAUER: &core::ffi::CStr = c"tannin_factor_loewenthal_neubauer";

#[test]
fn pointers_and_sizes_are_answered() {
    let (mut found, e): (FgallAssayed, _) = (init(), null_mut);
    let (a, z, n) = (&raw mut found, null_mut(), null_mut());
    let (t, p, d) = (titration(), colour(), drying());
    let (l, s) = (loewenthal_given(NEUBAUER), spot());
    let mut bracket: FgallBracket = init();
    let text = NEUBAUER.as_ptr();
    for (name, status) in answers! {
        fgall_reading_u(1, 1.0, odd(), e());
        fgall_titration_iron_mmol(odd(), a, z, 0, n, e());
        fgall_titration_iron_mmol(&t, odd(), z, 0, n, e());
        fgall_titration_iron_mmol(&t, a, z, 0, odd(), e());
        fgall_titration_iron_mol_per_l(&t, 1.0, 0.0, odd(), z, 0, n, e());
        fgall_titration_iron_share(&t, 1.0, 0.0, odd(), z, 0, n, e());
        fgall_titration_purity(&t, 1.0, 0.0, c"Fe".as_ptr(), odd(), z, 0, n, e());
        fgall_titration_rows(&t, odd(), null(), 0.0, 1, z.cast(), 0, null_mut(), 0, n, e());
        fgall_titration_oxidised_share(&t, odd(), a, z, 0, n, e());
        fgall_phenanthroline_iron_mol_per_l(odd(), a, z, 0, n, e());
        fgall_phenanthroline_oxidised_share(&p, odd(), a, z, 0, n, e());
        fgall_nail_iron_mmol(odd(), a, z, 0, n, e());
        fgall_dry_residue_share(&d, odd(), z, 0, n, e());
        fgall_moisture_share(odd(), a, z, 0, n, e());
        fgall_vitriol_waters(odd(), 1, a, z, 0, n, e());
        fgall_vitriol_iron_share(&d, 1, odd(), z, 0, n, e());
        fgall_vitriol_weathered(&d, 1, odd(), e());
        fgall_vitriol_dried_to(60.0, odd(), e());
        fgall_stock_iron_mol_per_l(odd(), a, z, 0, n, e());
        fgall_liquor_tannin_share(odd(), a, z, 0, n, e());
        fgall_tannin_factor_count(odd(), e());
        fgall_tannin_factor_at(0, odd(), e());
        fgall_tannin_factor_source(0, z, 0, odd(), e());
        fgall_tannin_by_factor(text, 1.0, 0.0, odd(), z, 0, n, e());
        fgall_loewenthal_tannin_g(odd(), a, z, 0, n, e());
        fgall_plant_tannin_share(odd(), a, z, 0, n, e());
        fgall_spot_galloyl_mol_per_l(odd(), &mut bracket, e());
        fgall_spot_plant(&s, odd(), &mut bracket, null_mut(), e());
        fgall_spot_plant(&s, &spotted_plant(), null_mut(), odd(), e());
        fgall_belief_update_bracket(1.0, 0.3, odd(), &mut init(), e());
        fgall_belief_update_bracket(1.0, 0.3, &bracket, odd(), e());
    } {
        assert_eq!(status, FGALL_MISALIGNED, "{name}");
    }
    for (name, status) in answers! {
        fgall_titration_iron_mmol(&broken(), a, z, 0, n, e());
        fgall_titration_iron_mmol(&t, &mut broken(), z, 0, n, e());
        fgall_phenanthroline_iron_mol_per_l(&broken(), a, z, 0, n, e());
        fgall_nail_iron_mmol(&broken(), a, z, 0, n, e());
        fgall_dry_residue_share(&broken(), a, z, 0, n, e());
        fgall_vitriol_weathered(&d, 1, &mut broken(), e());
        fgall_stock_iron_mol_per_l(&broken(), a, z, 0, n, e());
        fgall_liquor_tannin_share(&broken(), a, z, 0, n, e());
        fgall_tannin_factor_at(0, &mut broken(), e());
        fgall_loewenthal_tannin_g(&broken(), a, z, 0, n, e());
        fgall_plant_tannin_share(&broken(), a, z, 0, n, e());
        fgall_spot_galloyl_mol_per_l(&s, &mut broken(), e());
        fgall_spot_plant(&s, &broken(), &mut bracket, null_mut(), e());
        fgall_belief_update_bracket(1.0, 0.3, &broken(), &mut init(), e());
    } {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{name}");
    }
    // Room for notes without a place for their length, and nothing to titrate.
    let titres = FgallTitration {
        set: FGALL_TITRATION_TITRES,
        titre_count: 2,
        ..t
    };
    let standards = FgallPhenanthroline {
        set: FGALL_PHENANTHROLINE_STANDARDS,
        standard_count: 5,
        ..p
    };
    let mut room = [0; 4000];
    for (name, status) in answers! {
        fgall_titration_iron_mmol(&t, a, room.as_mut_ptr(), 4000, null_mut(), e());
        fgall_titration_iron_mmol(&t, a, null_mut(), 4000, &mut 0, e());
        fgall_titration_iron_mmol(&titres, a, z, 0, n, e());
        fgall_phenanthroline_iron_mol_per_l(&standards, a, z, 0, n, e());
        fgall_titration_purity(&t, 1.0, 0.0, null(), a, z, 0, n, e());
        fgall_loewenthal_tannin_g(&FgallLoewenthal { factor: null(), ..l }, a, z, 0, n, e());
    } {
        assert_eq!(status, FGALL_NULL_POINTER, "{name}");
    }
    let stray = c"\xff".as_ptr();
    let named = FgallTitration {
        flask_name: stray,
        ..t
    };
    for (name, status) in answers! {
        fgall_titration_iron_mmol(&named, a, z, 0, n, e());
        fgall_tannin_by_factor(stray, 1.0, 0.0, a, z, 0, n, e());
    } {
        assert_eq!(status, FGALL_NOT_UTF8, "{name}");
    }
    assert_eq!(
        (found.value, bracket.high),
        (0.0, 0.0),
        "nothing is written"
    );
}

#[test]
fn constants_and_names_are_answered() {
    let (mut found, e): (FgallAssayed, _) = (init(), null_mut);
    let (a, z, n) = (&raw mut found, null_mut(), null_mut());
    let (t, p, d, s) = (titration(), colour(), drying(), spot());
    for (name, status) in answers! {
        fgall_reading_u(0, 1.0, &mut 0.0, e());
        fgall_reading_u(7, 1.0, &mut 0.0, e());
        fgall_titration_iron_mmol(&FgallTitration { titrant: 4, ..t }, a, z, 0, n, e());
        fgall_titration_iron_mmol(&FgallTitration { sample: 10, ..t }, a, z, 0, n, e());
        fgall_titration_iron_mmol(&FgallTitration { sample: 0, ..t }, a, z, 0, n, e());
        fgall_titration_iron_mmol(&FgallTitration { set: 32, ..t }, a, z, 0, n, e());
        fgall_phenanthroline_iron_mol_per_l(
            &FgallPhenanthroline { set: 8, ..p }, a, z, 0, n, e(),
        );
        fgall_nail_iron_mmol(&FgallNail { set: 2, ..nail() }, a, z, 0, n, e());
        fgall_vitriol_waters(&d, 0, a, z, 0, n, e());
        fgall_vitriol_weathered(&d, 4, &mut init(), e());
        fgall_stock_iron_mol_per_l(&FgallStockDensity { stock: 3, ..stock() }, a, z, 0, n, e());
        fgall_stock_iron_mol_per_l(&FgallStockDensity { set: 2, ..stock() }, a, z, 0, n, e());
        fgall_liquor_tannin_share(&FgallLiquorDensity { set: 2, ..liquor() }, a, z, 0, n, e());
        fgall_plant_tannin_share(
            &FgallPlantTannin { liquor_bound: 0, ..plant() }, a, z, 0, n, e(),
        );
        fgall_spot_galloyl_mol_per_l(&FgallSpotTest { kind: 3, ..s }, &mut init(), e());
        fgall_spot_galloyl_mol_per_l(&FgallSpotTest { set: 4, ..s }, &mut init(), e());
    } {
        assert_eq!(status, FGALL_FOREIGN_VALUE, "{name}");
    }
    let moon = c"the moon".as_ptr();
    let both = FgallTitration {
        set: FGALL_TITRATION_TITRES | FGALL_TITRATION_DROPS,
        ..t
    };
    let drops = FgallTitration {
        set: FGALL_TITRATION_DROPS,
        ..t
    };
    let ink = FgallTitration {
        sample: FGALL_SAMPLE_FINISHED_INK,
        ..t
    };
    let column = FgallColumn {
        data: &1.0,
        stride_bytes: 0,
    };
    let bare = FgallPhenanthroline {
        sample: FGALL_SAMPLE_FINISHED_INK,
        set: 0,
        ..p
    };
    let more = FgallPhenanthroline {
        absorbance: 0.9,
        ..p
    };
    let few = [1.0, 2.0];
    let line = FgallPhenanthroline {
        set: FGALL_PHENANTHROLINE_STANDARDS,
        standards_mg_per_l: few.as_ptr(),
        standards_absorbance: few.as_ptr(),
        standard_count: 2,
        ..p
    };
    let alike = [1.0; 3];
    let level = FgallPhenanthroline {
        standards_mg_per_l: alike.as_ptr(),
        standards_absorbance: alike.as_ptr(),
        standard_count: 3,
        ..line
    };
    let (mut row, mut status) = ([7.0; 4], 0);
    let (rows, went) = (row.as_mut_ptr().cast(), &raw mut status);
    let expected = [
        FGALL_UNKNOWN_NAME,
        FGALL_UNKNOWN_NAME,
        FGALL_NO_SUCH_INDEX,
        FGALL_NO_SUCH_INDEX,
        FGALL_BAD_FORMULA,
        FGALL_OUT_OF_RANGE,
        FGALL_EITHER_OR,
        FGALL_EITHER_OR,
        FGALL_NOT_FOR_SAMPLE,
        FGALL_NOT_FOR_SAMPLE,
        FGALL_CONTRADICTION,
        FGALL_CANNOT_FIT,
        FGALL_CANNOT_FIT,
        FGALL_OUT_OF_RANGE,
        FGALL_NOT_COVERED,
    ];
    let answers = answers! {
        fgall_tannin_by_factor(moon, 1.0, 0.0, a, z, 0, n, e());
        fgall_loewenthal_tannin_g(&loewenthal_given(c"the moon"), a, z, 0, n, e());
        fgall_tannin_factor_at(usize::MAX, &mut init(), e());
        fgall_tannin_factor_source(99, z, 0, &mut 0, e());
        fgall_titration_purity(&t, 1.0, 0.0, c"Fe(".as_ptr(), a, z, 0, n, e());
        fgall_titration_purity(&t, 1.0, 0.0, c"NaCl".as_ptr(), a, z, 0, n, e());
        fgall_titration_iron_mmol(&both, a, z, 0, n, e());
        fgall_titration_rows(&drops, &column, null(), 0.0, 1, rows, 0, went, 0, n, e());
        fgall_titration_rows(&ink, &column, null(), 0.0, 1, rows, 0, went, 0, n, e());
        fgall_phenanthroline_iron_mol_per_l(&bare, a, z, 0, n, e());
        fgall_phenanthroline_oxidised_share(&more, &p, a, z, 0, n, e());
        fgall_phenanthroline_iron_mol_per_l(&line, a, z, 0, n, e());
        fgall_phenanthroline_iron_mol_per_l(&level, a, z, 0, n, e());
        fgall_loewenthal_tannin_g(&loewenthal_given(c"tannin_factor_gelatin"), a, z, 0, n, e());
        fgall_stock_iron_mol_per_l(
            &FgallStockDensity { density_g_per_cm3: 1.9, ..stock() }, a, z, 0, n, e(),
        );
    };
    for ((name, status), expected) in answers.into_iter().zip(expected) {
        assert_eq!(status, expected, "{name}");
    }
    assert_eq!((found.value, row), (0.0, [7.0; 4]), "nothing is written");
}

#[test]
fn every_number_is_looked_at() {
    let mut found: FgallAssayed = init();
    let mut bracket: FgallBracket = init();
    let (a, b, z, n) = (&raw mut found, &raw mut bracket, null_mut(), null_mut());
    // SAFETY: locals, here and below.
    let by = |t: FgallTitration, e| unsafe { fgall_titration_iron_mmol(&t, a, z, 0, n, e) };
    every_field!(titration(), by; molarity_mol_per_l, molarity_u_mol_per_l, volume_ml,
        volume_u_ml, blank_ml, blank_u_ml, aliquot_ml, aliquot_u_ml, flask_ml, flask_u_ml);
    let drops = FgallTitration {
        set: FGALL_TITRATION_DROPS | FGALL_TITRATION_DROPPER,
        ..titration()
    };
    every_field!(drops, by; dropper_g, dropper_u_g, dropper_g_per_cm3);
    let titre = |bad: f64, e| {
        let titres = [21.6, bad];
        let given = FgallTitration {
            set: FGALL_TITRATION_TITRES,
            titres_ml: titres.as_ptr(),
            titre_count: 2,
            ..titration()
        };
        by(given, e)
    };
    blames(&titre, "titres_ml");
    let t = titration();
    // SAFETY: as above.
    unsafe {
        let formula = c"FeSO4".as_ptr();
        let (of_ml, of_g) = (fgall_titration_iron_mol_per_l, fgall_titration_iron_share);
        blames(&|x, e| of_ml(&t, x, 0.1, a, z, 0, n, e), "sample_ml");
        blames(&|x, e| of_ml(&t, 9.0, x, a, z, 0, n, e), "sample_u_ml");
        blames(&|x, e| of_g(&t, x, 0.1, a, z, 0, n, e), "sample_g");
        blames(&|x, e| of_g(&t, 9.0, x, a, z, 0, n, e), "sample_u_g");
        let purity = |g, u, e| fgall_titration_purity(&t, g, u, formula, a, z, 0, n, e);
        blames(&|x, e| purity(x, 0.1, e), "sample_g");
        blames(&|x, e| purity(9.0, x, e), "sample_u_g");
        let factor = NEUBAUER.as_ptr();
        let by_factor = |x, u, e| fgall_tannin_by_factor(factor, x, u, a, z, 0, n, e);
        blames(&|x, e| by_factor(x, 0.1, e), "figure");
        blames(&|x, e| by_factor(0.3, x, e), "figure_u");
        let mut u = 0.0;
        let p = &raw mut u;
        blames(&|x, e| fgall_reading_u(1, x, p, e), "within_unit");
        blames(
            &|x, e| fgall_vitriol_dried_to(x, &raw mut *core::ptr::from_mut(&mut 0), e),
            "oven_c",
        );
        let (one, half) = (1.0, f64::NAN);
        let column = FgallColumn {
            data: &one,
            stride_bytes: 0,
        };
        let none = FgallColumn {
            data: &half,
            stride_bytes: 0,
        };
        let (mut row, mut status) = ([7.0; 4], 0);
        let (rows, went) = (row.as_mut_ptr().cast(), &raw mut status);
        blames(
            &|x, e| fgall_titration_rows(&t, &none, &column, x, 0, rows, 0, went, 0, n, e),
            "sample_u_g",
        );
        assert_eq!((row, status), ([7.0; 4], 0));
    }
    // SAFETY: as above.
    let seen = |p: FgallPhenanthroline, e| unsafe {
        fgall_phenanthroline_iron_mol_per_l(&p, a, z, 0, n, e)
    };
    every_field!(colour(), seen; absorbance, absorbance_u, path_mm, path_u_mm,
        blank_absorbance, blank_absorbance_u, aliquot_ml, aliquot_u_ml, flask_ml, flask_u_ml);
    let standard = |mg: f64, read: f64, e| {
        let (mg, read) = ([0.0, 1.0, 2.0, mg], [0.0, 0.2, 0.4, read]);
        let given = FgallPhenanthroline {
            set: FGALL_PHENANTHROLINE_STANDARDS,
            standards_mg_per_l: mg.as_ptr(),
            standards_absorbance: read.as_ptr(),
            standard_count: 4,
            ..colour()
        };
        seen(given, e)
    };
    let wild = |of: &dyn Fn(f64, *mut FgallError) -> u32, argument: &str| {
        for bad in [f64::NAN, f64::INFINITY, -1e10, 1e300] {
            let mut error: FgallError = init();
            assert_ne!(of(bad, &mut error), FGALL_OK);
            assert_eq!(words(&error.argument), argument, "{bad}");
        }
    };
    wild(&|x, e| standard(x, 0.6, e), "standards_mg_per_l");
    wild(&|x, e| standard(3.0, x, e), "standards_absorbance");
    // SAFETY: as above.
    unsafe {
        let dried = |d: FgallDrying, e| fgall_dry_residue_share(&d, a, z, 0, n, e);
        every_field!(drying(), dried; pan_g, pan_u_g, with_sample_g, with_sample_u_g,
            with_dried_g, with_dried_u_g);
        let salt = |d: FgallDrying, e| fgall_vitriol_waters(&d, 2, a, z, 0, n, e);
        every_field!(drying(), salt; pan_g, pan_u_g, with_sample_g, with_sample_u_g,
            with_dried_g, with_dried_u_g);
        let lost = |w: FgallNail, e| fgall_nail_iron_mmol(&w, a, z, 0, n, e);
        every_field!(nail(), lost; before_g, before_u_g, after_g, after_u_g, iron_share,
            iron_share_u);
        let heavy = |s: FgallStockDensity, e| fgall_stock_iron_mol_per_l(&s, a, z, 0, n, e);
        every_field!(stock(), heavy; density_g_per_cm3, density_u_g_per_cm3, temperature_c,
            temperature_u_k);
        let floats = |l: FgallLiquorDensity, e| fgall_liquor_tannin_share(&l, a, z, 0, n, e);
        every_field!(liquor(), floats; specific_gravity, specific_gravity_u, temperature_c,
            temperature_u_k, reference_c);
        let old = |l: FgallLoewenthal, e| fgall_loewenthal_tannin_g(&l, a, z, 0, n, e);
        every_field!(loewenthal_given(NEUBAUER), old; molarity_mol_per_l, molarity_u_mol_per_l,
            volume_ml, volume_u_ml, after_hide_ml, after_hide_u_ml);
        let grown = |p: FgallPlantTannin, e| fgall_plant_tannin_share(&p, a, z, 0, n, e);
        every_field!(plant(), grown; liquor_tannin_share, liquor_tannin_u, liquor_g, liquor_u_g,
            plant_g, plant_u_g, moisture_share, moisture_u, yield_share, yield_u);
        let spotted = |s: FgallSpotTest, e| fgall_spot_galloyl_mol_per_l(&s, b, e);
        every_field!(spot(), spotted; given_ml, given_u_ml, iron_mol_per_l, iron_u_mol_per_l,
            last_darkened_ml, first_not_ml, judging_u_ln, iron_per_galloyl_min,
            iron_per_galloyl_typical, iron_per_galloyl_max);
        let believed = |median, u_ln, k: FgallBracket, e| {
            fgall_belief_update_bracket(median, u_ln, &k, &mut init(), e)
        };
        let between = || FgallBracket {
            low: 0.1,
            high: 0.2,
            judging_u_ln: 0.15,
            scale_u_ln: 0.2,
            ..init()
        };
        let by = |k: FgallBracket, e| believed(0.1, 0.3, k, e);
        every_field!(between(), by; low, high, judging_u_ln, scale_u_ln);
        blames(&|x, e| believed(x, 0.3, between(), e), "median");
        blames(&|x, e| believed(0.1, x, between(), e), "u_ln");
        let of = |p: FgallSpotPlant, e| fgall_spot_plant(&spot(), &p, null_mut(), b, e);
        every_field!(spotted_plant(), of; liquor_ml, liquor_u_ml, plant_g, plant_u_g,
            moisture_share, moisture_u, yield_share, yield_u, galloyl_mol_per_kg,
            galloyl_u_mol_per_kg);
    }
    assert_eq!(
        (found.value, bracket.high),
        (0.0, 0.0),
        "nothing is written"
    );
}
