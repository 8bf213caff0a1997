//! Extractions as no honest caller asks for them.

use super::hostile::{answers, broken, odd};
use super::kept_hostile::{blames, every_field};
use super::plants::*;
use super::room::*;
use core::ffi::CStr;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;

fn told(call: impl Fn(*mut FgallError) -> u32) -> (u32, String) {
    let mut error: FgallError = init();
    let status = call(&mut error);
    assert_eq!(error.status, status);
    (status, words(&error.argument))
}

#[test]
fn pointers_sizes_and_constants_are_answered() {
    let (room, washes, e) = (Room::new(), three(), null_mut);
    let (s, g) = (room.shelf, given(&washes));
    let (mut n, mut x, mut lot) = (0, 7.0, 77);
    let mut range = FgallRange {
        min: 7.0,
        typical: 7.0,
        max: 7.0,
    };
    let mut liquor: FgallLiquor = init();
    let mut curve: FgallPeleg = init();
    let odd_washes = FgallExtraction { washes: odd(), ..g };
    let name = c"liquor".as_ptr();
    let column = FgallColumn {
        data: &x,
        stride_bytes: 0,
    };
    for (what, status) in answers! {
        fgall_extraction_run(odd(), GALLS, &g, &mut liquor, e());
        fgall_extraction_run(s, GALLS, odd(), &mut liquor, e());
        fgall_extraction_run(s, GALLS, &g, odd(), e());
        fgall_extraction_run(s, GALLS, &odd_washes, &mut liquor, e());
        fgall_extraction_washes(s, GALLS, &g, odd(), 9, &mut n, e());
        fgall_extraction_washes(s, GALLS, &g, null_mut(), 0, odd(), e());
        fgall_extraction_cautions(s, GALLS, &g, null_mut(), 0, odd(), e());
        fgall_extraction_assumed(s, GALLS, &g, null_mut(), 0, odd(), e());
        fgall_shelf_add_liquor(s, GALLS, &g, name, odd(), e());
        fgall_recipe_add_extraction_by(odd(), s, GALLS, WATER, &g, e());
        fgall_extraction_time_to(s, GALLS, &g, 0.9, 20.0, odd(), e());
        fgall_extraction_paste_below(s, GALLS, &g, 1, 0.0, odd(), e());
        fgall_extraction_water_for(s, GALLS, &g, 0.5, odd(), e());
        fgall_extraction_rows(
            s, GALLS, &g, odd(), &column, &column, 1, null_mut(), 0, null_mut(), 0, null_mut(), e(),
        );
        fgall_tea_brew(2.0, 3.0, odd(), null_mut(), e());
        fgall_tea_brew(2.0, 3.0, &mut range, odd(), e());
        fgall_diffused_from_sphere(0.1, odd(), e());
        fgall_diffused_from_slab(0.1, odd(), e());
        fgall_diffused_into_bath(0.1, 1.0, odd(), e());
        fgall_peleg_fit(odd(), &x, 3, &mut curve, e());
        fgall_peleg_fit(&x, &x, 1, odd(), e());
        fgall_peleg_after(odd(), 1.0, &mut x, null_mut(), e());
        fgall_peleg_after(&curve, 1.0, &mut x, odd(), e());
        fgall_peleg_time_to(&curve, 0.5, odd(), e());
    } {
        assert_eq!(status, FGALL_MISALIGNED, "{what}");
    }
    for (what, status) in answers! {
        fgall_extraction_run(s, GALLS, &broken(), &mut liquor, e());
        fgall_extraction_run(s, GALLS, &g, &mut broken(), e());
        fgall_shelf_add_liquor(s, GALLS, &broken(), name, &mut lot, e());
        fgall_peleg_fit(&x, &x, 1, &mut broken(), e());
        fgall_peleg_after(&broken(), 1.0, &mut x, null_mut(), e());
        fgall_peleg_time_to(&broken(), 0.5, &mut x, e());
    } {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{what}");
    }
    let stray = [wash(300.0, 18.0, 20.0, 9)];
    let open = [wash(300.0, 18.0, 20.0, FGALL_STRAINING_NOT_YET)];
    for (what, status) in answers! {
        fgall_extraction_run(s, GALLS, &FgallExtraction { grain: 0, ..g }, &mut liquor, e());
        fgall_extraction_run(s, GALLS, &FgallExtraction { set: 256, ..g }, &mut liquor, e());
        fgall_extraction_run(s, GALLS, &given(&stray), &mut liquor, e());
        fgall_extraction_run(s, GALLS, &given(&open), &mut liquor, e());
        fgall_extraction_paste_below(s, GALLS, &g, 5, 0.0, &mut range, e());
    } {
        assert_eq!(status, FGALL_FOREIGN_VALUE, "{what}");
    }
    let none = FgallExtraction {
        washes: null(),
        ..g
    };
    for (what, status) in answers! {
        fgall_extraction_run(s, GALLS, &none, &mut liquor, e());
        fgall_shelf_add_liquor(s, GALLS, &g, null(), &mut lot, e());
        fgall_peleg_fit(null(), &x, 3, &mut curve, e());
    } {
        assert_eq!(status, FGALL_NULL_POINTER, "{what}");
    }
    // Nothing was written, and nothing came on the shelf.
    assert_eq!(
        (x, range.max, lot, liquor.extracted_share),
        (7.0, 7.0, 77, 0.0)
    );
    let mut count = 0;
    // SAFETY: a live handle.
    unsafe { fgall_shelf_count(s, &mut count, e()) };
    assert_eq!(count, WATER + 1);
}

#[test]
fn every_number_is_looked_at() {
    let (room, washes) = (Room::new(), three());
    let s = room.shelf;
    let mut liquor: FgallLiquor = init();
    let out = &raw mut liquor;
    // SAFETY: a live handle and locals, here and below.
    let run = |g: FgallExtraction, e| unsafe { fgall_extraction_run(s, GALLS, &g, out, e) };
    every_field!(given(&washes), run; plant_g, size_mm, broken_share, rain_hours,
        rain_temperature_c, rained_gall_mm, fermentation_days, fermentation_temperature_c,
        boil_down_ml);
    let share = || FgallExtraction {
        set: FGALL_EXTRACTION_BOIL_TO_SHARE,
        ..given(&washes)
    };
    every_field!(share(), run; boil_down_share);
    let weighed = wash(300.0, 18.0, 20.0, FGALL_STRAINING_WEIGHED);
    let one = |w: FgallWash, e| run(plain(&[w]), e);
    every_field!(weighed, one; liquid_g, temperature_c, hours, hold_up_g_per_g);
    let (g, mut x) = (given(&washes), 0.0);
    let mut range = FgallRange {
        min: 0.0,
        typical: 0.0,
        max: 0.0,
    };
    let r = &raw mut range;
    // SAFETY: as above.
    unsafe {
        blames(
            &|bad, e| fgall_extraction_time_to(s, GALLS, &g, bad, 20.0, r, e),
            "share",
        );
        blames(
            &|bad, e| fgall_extraction_time_to(s, GALLS, &g, 0.5, bad, r, e),
            "temperature_c",
        );
        blames(
            &|bad, e| fgall_extraction_paste_below(s, GALLS, &g, 3, bad, r, e),
            "hold_up_g_per_g",
        );
        blames(
            &|bad, e| fgall_extraction_water_for(s, GALLS, &g, bad, r, e),
            "share",
        );
        blames(&|bad, e| fgall_tea_brew(bad, 3.0, r, r, e), "leaf_g");
        blames(&|bad, e| fgall_tea_brew(2.0, bad, r, r, e), "minutes");
        let p = &raw mut x;
        blames(
            &|bad, e| fgall_diffused_from_sphere(bad, p, e),
            "fourier_number",
        );
        blames(
            &|bad, e| fgall_diffused_from_slab(bad, p, e),
            "fourier_number",
        );
        blames(
            &|bad, e| fgall_diffused_into_bath(bad, 1.0, p, e),
            "fourier_number",
        );
        blames(&|bad, e| fgall_diffused_into_bath(0.1, bad, p, e), "alpha");
        let curve = FgallPeleg {
            k1_s: 6000.0,
            k1_u_s: 60.0,
            k2: 2.3,
            k2_u: 0.1,
            covariance_s: -3.0,
            ..init()
        };
        let after = |c: FgallPeleg, e| fgall_peleg_after(&c, 3.0, p, null_mut(), e);
        every_field!(curve, after; k1_s, k1_u_s, k2, k2_u, covariance_s);
        blames(
            &|bad, e| fgall_peleg_after(&curve, bad, p, null_mut(), e),
            "at_hours",
        );
        blames(&|bad, e| fgall_peleg_time_to(&curve, bad, p, e), "share");
        let fit = |t: f64, q: f64, e| {
            let (t, q) = ([1.0, t, 9.0], [0.2, q, 0.4]);
            fgall_peleg_fit(t.as_ptr(), q.as_ptr(), 3, &mut init(), e)
        };
        blames(&|bad, e| fit(bad, 0.3, e), "at_hours");
        blames(&|bad, e| fit(4.0, bad, e), "yields");
    }
    assert_eq!((liquor.extracted_share, range.max, x), (0.0, 0.0, 0.0));
}

#[test]
fn what_cannot_be_is_said_with_a_status_of_its_own() {
    let (room, washes) = (Room::new(), three());
    let (s, g) = (room.shelf, given(&washes));
    let one = [wash(300.0, 18.0, 20.0, FGALL_STRAINING_PRESSED)];
    let mut range = FgallRange {
        min: 0.0,
        typical: 0.0,
        max: 0.0,
    };
    let r = &raw mut range;
    // SAFETY: live handles and locals, here and below.
    let run = |lot: usize, g: &FgallExtraction| {
        told(|e| unsafe { fgall_extraction_run(s, lot, g, &mut init(), e) })
    };
    let said = |status, argument: &str| (status, argument.to_string());
    assert_eq!(run(TANNIN, &g), said(FGALL_NOT_A_PLANT, "tannic acid"));
    assert_eq!(run(9, &g), said(FGALL_NO_SUCH_INDEX, "plant_lot"));
    assert_eq!(run(GALLS, &plain(&[])), said(FGALL_EMPTY, "washes"));
    let both = FgallExtraction { set: 192, ..g };
    assert_eq!(run(GALLS, &both), said(FGALL_EITHER_OR, "boil_down_ml"));
    for (ml, status) in [(1.0, FGALL_NO_WATER), (1e5, FGALL_OUT_OF_RANGE)] {
        let boiled = FgallExtraction {
            boil_down_ml: ml,
            ..g
        };
        assert_eq!(run(GALLS, &boiled), said(status, "boil_down_ml"));
    }
    let dry = FgallExtraction {
        set: FGALL_EXTRACTION_BOIL_TO_SHARE,
        boil_down_share: 1e-4,
        ..g
    };
    assert_eq!(run(GALLS, &dry), said(FGALL_NO_WATER, "boil_down_share"));
    let many = vec![one[0]; 31];
    assert_eq!(run(GALLS, &plain(&many)).0, FGALL_OUT_OF_RANGE);
    let endless = FgallExtraction {
        wash_count: usize::MAX,
        ..g
    };
    assert_eq!(run(GALLS, &endless), said(FGALL_OUT_OF_RANGE, "wash_count"));
    // SAFETY: as above.
    unsafe {
        let never =
            |share| told(|e| fgall_extraction_water_for(s, GALLS, &plain(&one), share, r, e));
        assert_eq!(never(0.999), said(FGALL_NEVER_REACHED, "share"));
        let all = told(|e| fgall_extraction_time_to(s, GALLS, &g, 1.0, 20.0, r, e));
        assert_eq!(all, said(FGALL_NEVER_REACHED, "share"));
        let recipe = room.recipe;
        let soaked = |g: &FgallExtraction, water| {
            told(|e| fgall_recipe_add_extraction_by(recipe, s, GALLS, water, g, e)).0
        };
        assert_eq!(soaked(&g, WATER), FGALL_MORE_THAN_A_SOAK);
        assert_eq!(soaked(&plain(&one), 99), FGALL_NO_SUCH_INDEX);
        let paste = [wash(10.0, 18.0, 20.0, FGALL_STRAINING_DRAINED)];
        let nothing = told(|e| {
            let (g, name) = (plain(&paste), c"none".as_ptr());
            fgall_shelf_add_liquor(s, GALLS, &g, name, &mut 0, e)
        });
        assert_eq!(nothing.0, FGALL_EMPTY);
        // A yield that speeds up.
        let (t, q) = ([1.0, 2.0, 3.0], [0.1, 0.3, 0.9]);
        let fit = |n| told(|e| fgall_peleg_fit(t.as_ptr(), q.as_ptr(), n, &mut init(), e)).0;
        assert_eq!((fit(3), fit(2)), (FGALL_CANNOT_FIT, FGALL_CANNOT_FIT));
        assert_eq!(fit(usize::MAX), FGALL_OUT_OF_RANGE);
    }
}

/// What the room of extraction refuses in JSON has the status it has elsewhere.
#[test]
fn json_that_soaks_no_plant_is_told_so() {
    let soak = |plant: &str, hours: f64| {
        let text = format!(
            r#"{{ "schema": 1, "title": "t",
            "lots": [ {{ "material": "aleppo_galls", "name": "galls" }},
                      {{ "material": "distilled_water", "name": "water" }} ],
            "solutions": [ {{ "name": "ink", "ingredients": [ {{ "extract": {{
                "plant": "{plant}", "mass_g": 20, "liquid": "water", "liquid_g": 240,
                "soaked": {{ "grain": "crushed", "temperature_c": 15, "hours": {hours} }} }} }} ] }} ] }}"#
        );
        let text = std::ffi::CString::new(text).unwrap();
        let text: &CStr = &text;
        // SAFETY: locals.
        told(|e| unsafe {
            let mut recipe = null_mut();
            let status = fgall_recipe_json_new(text.as_ptr(), &raw mut recipe, e);
            fgall_recipe_free(recipe);
            status
        })
    };
    assert_eq!(soak("galls", 24.0).0, FGALL_OK);
    assert_eq!(soak("water", 24.0), (FGALL_NOT_A_PLANT, "water".into()));
    assert_eq!(soak("galls", -1.0).0, FGALL_OUT_OF_RANGE);
}
