//! Old units and old recipes through the C surface.

use super::forecasts::bits;
use super::hostile::{answers, broken, odd};
use super::room::{GALLS, Room, VITRIOL, WATER, init, listed, said, words};
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::history::{
    Book, Ending, Figure, Goods, OldAmount, OldLine, OldRecipe, Place, Role, Setting, Standing,
    Years, echo, historic, unit, units, word,
};
use ferrogall::quantity::*;
use std::ffi::{CStr, CString};

fn setting(place: &CStr, year: i32, book: u32) -> FgallSetting {
    FgallSetting {
        place: place.as_ptr(),
        from_year: year,
        to_year: year,
        book,
        ..init()
    }
}

#[test]
fn every_unit_is_that_of_rust() {
    let mut count = 0;
    // SAFETY: locals, here and below.
    unsafe { assert_eq!(fgall_unit_count(&mut count, null_mut()), FGALL_OK) };
    assert_eq!(count, units().count());
    for (index, unit) in units().enumerate() {
        let (mut at, mut found): (FgallUnit, FgallUnit) = (init(), init());
        let id = CString::new(unit.id).unwrap();
        unsafe {
            assert_eq!(fgall_unit_at(index, &mut at, null_mut()), FGALL_OK);
            assert_eq!(
                fgall_unit_find(id.as_ptr(), &mut found, null_mut()),
                FGALL_OK
            );
        }
        assert_eq!(
            (words(&at.id).as_str(), at.index, found.index),
            (unit.id, index, index)
        );
        bits(at.metric_value, unit.metric_value);
        bits(found.relative_u, unit.relative_u);
        assert!(words(&at.used).contains(unit.validity));
        let source = said(|b, c, n| unsafe { fgall_unit_source(id.as_ptr(), b, c, n, null_mut()) });
        assert!(source.contains(unit.source.citation));
    }
    let mut unit: FgallUnit = init();
    unsafe {
        assert_eq!(
            fgall_unit_at(count, &mut unit, null_mut()),
            FGALL_NO_SUCH_INDEX
        );
        assert_eq!(
            fgall_unit_find(c"furlong".as_ptr(), &mut unit, null_mut()),
            FGALL_UNKNOWN_NAME
        );
        unit.struct_size = 3;
        assert_eq!(fgall_unit_at(0, &mut unit, null_mut()), FGALL_STRUCT_SIZE);
    }
}

#[test]
fn words_and_amounts_are_those_of_rust() {
    let place = Setting::new(Place::England, Years::of(1740).unwrap());
    for (book, code) in [
        (Book::Unknown, FGALL_BOOK_UNKNOWN),
        (Book::Apothecary, FGALL_BOOK_APOTHECARY),
        (Book::Trade, FGALL_BOOK_TRADE),
    ] {
        for (goods, goods_code) in [
            (Goods::Unknown, FGALL_GOODS_UNKNOWN),
            (Goods::Wine, FGALL_GOODS_WINE),
            (Goods::Beer, FGALL_GOODS_BEER),
        ] {
            let known = setting(c"england", 1740, code);
            for spelling in ["pound", "pint", "livre"] {
                let text = CString::new(spelling).unwrap();
                let found = listed(|array, capacity, needed| unsafe {
                    fgall_word_candidates(
                        &known,
                        text.as_ptr(),
                        goods_code,
                        array,
                        capacity,
                        needed,
                        null_mut(),
                    )
                });
                let rust = word(spelling)
                    .unwrap()
                    .candidates_for(&place.in_book(book), goods);
                assert_eq!(found.len(), rust.all().len());
                for (c, r) in found.iter().zip(rust.all()) {
                    assert_eq!(words(&c.unit), r.unit.id);
                    bits(c.metric_value, r.size().in_metric());
                    let fits = rust.standing() == Standing::Fits;
                    assert_eq!(c.standing == FGALL_USE_FITS, fits);
                }
            }
            let (mut kind, mut metric) = (
                9,
                FgallRange {
                    min: 0.0,
                    typical: 0.0,
                    max: 0.0,
                },
            );
            let status = unsafe {
                fgall_old_amount(
                    &known,
                    c"2 or 3 pints".as_ptr(),
                    goods_code,
                    &mut kind,
                    &mut metric,
                    null_mut(),
                )
            };
            assert_eq!((status, kind), (FGALL_OK, FGALL_QUANTITY_VOLUME));
            let rust = OldAmount::parse("2 or 3 pints").unwrap();
            let rust = rust.in_metric(&place.in_book(book), goods).unwrap();
            bits(metric.min, rust.low.in_metric());
            bits(metric.typical, rust.typical.in_metric());
            bits(metric.max, rust.high.in_metric());
        }
    }
    let any: FgallSetting = init(); // no place, no year
    let (mut kind, mut metric) = (
        9,
        FgallRange {
            min: 0.0,
            typical: 0.0,
            max: 0.0,
        },
    );
    for (text, status) in [
        (c"", FGALL_BAD_AMOUNT),
        (c"pounds", FGALL_BAD_AMOUNT),
        (c"3 furlongs", FGALL_UNKNOWN_NAME),
        (c"1 pound 1 pint", FGALL_BAD_AMOUNT),
        (c"0 pounds", FGALL_OUT_OF_RANGE),
    ] {
        let got =
            unsafe { fgall_old_amount(&any, text.as_ptr(), 0, &mut kind, &mut metric, null_mut()) };
        assert_eq!(got, status, "{text:?}");
    }
    let mut needed = 0;
    let pound = c"pound".as_ptr();
    unsafe {
        for (bad, status) in [
            (setting(c"atlantis", 1740, 0), FGALL_UNKNOWN_NAME),
            (setting(c"england", 9999, 0), FGALL_OUT_OF_RANGE),
            (setting(c"england", 1740, 7), FGALL_FOREIGN_VALUE),
        ] {
            let got = fgall_word_candidates(&bad, pound, 0, null_mut(), 0, &mut needed, null_mut());
            assert_eq!(got, status);
        }
        let got = fgall_word_candidates(&any, pound, 7, null_mut(), 0, &mut needed, null_mut());
        assert_eq!(got, FGALL_FOREIGN_VALUE);
        let got = fgall_word_candidates(null(), pound, 0, null_mut(), 0, &mut needed, null_mut());
        assert_eq!(got, FGALL_NULL_POINTER);
    }
}

#[test]
fn echo_and_historic_set() {
    let mut said: FgallEcho = init();
    // SAFETY: locals, here and below.
    unsafe {
        let once = c"en_av_oz".as_ptr();
        assert_eq!(
            fgall_unit_echo(once, 80.0, 1, &mut said, null_mut()),
            FGALL_OK
        );
        let rust = echo(grams(80.0), unit("en_av_oz").unwrap(), 1).unwrap();
        bits(said.units, rust.units);
        bits(said.off, rust.off);
        assert_eq!(said.nearest, 3.0);
        assert_eq!(
            fgall_unit_echo(once, f64::NAN, 1, &mut said, null_mut()),
            FGALL_INPUT_NAN
        );
        assert_eq!(
            fgall_unit_echo(once, -1.0, 1, &mut said, null_mut()),
            FGALL_OUT_OF_RANGE
        );
        assert_eq!(
            fgall_unit_echo(once, 80.0, 0, &mut said, null_mut()),
            FGALL_OUT_OF_RANGE
        );
    }
    for (code, figure) in (0_u32..).zip(Figure::ALL) {
        let mut q: FgallQuantiles = init();
        let mut p = 0.0;
        unsafe {
            assert_eq!(
                fgall_historic_quantiles(code, null(), 0, &mut q, null_mut()),
                FGALL_OK
            );
            let rust = historic().quantiles(figure).unwrap();
            assert_eq!(q.count, rust.n);
            for (c, r) in [
                (q.min, rust.min),
                (q.p05, rust.p05),
                (q.median, rust.median),
                (q.p95, rust.p95),
                (q.max, rust.max),
            ] {
                bits(c, r);
            }
            let place = c"france".as_ptr();
            let status = fgall_historic_percentile(code, q.median, place, 18, &mut p, null_mut());
            assert_eq!(status, FGALL_OK);
            let set = historic().in_place(Place::France).of_century(18);
            bits(p, set.percentile(figure, rust.median).unwrap());
            // Nobody there: no figure, and no error.
            let russia = c"russia".as_ptr();
            assert_eq!(
                fgall_historic_percentile(code, 1.0, russia, 0, &mut p, null_mut()),
                FGALL_OK
            );
            assert!(p.is_nan());
            assert_eq!(
                fgall_historic_percentile(code, f64::NAN, null(), 0, &mut p, null_mut()),
                FGALL_INPUT_NAN
            );
            assert_eq!(
                fgall_historic_percentile(code, 1.0, null(), 99, &mut p, null_mut()),
                FGALL_OUT_OF_RANGE
            );
            assert_eq!(
                fgall_historic_percentile(6, 1.0, null(), 0, &mut p, null_mut()),
                FGALL_FOREIGN_VALUE
            );
        }
    }
}

#[test]
fn an_old_recipe_becomes_an_ordinary_one() {
    let room = Room::new();
    let known = setting(c"england", 1740, FGALL_BOOK_UNKNOWN);
    let line = |lot, role, amount: &'static CStr| FgallOldLine {
        lot,
        role,
        goods: FGALL_GOODS_UNKNOWN,
        amount: amount.as_ptr(),
    };
    let lines = [
        line(GALLS, FGALL_ROLE_GALLS, c"1/2 pound"),
        line(VITRIOL, FGALL_ROLE_IRON_SALT, c"3 or 4 ounces"),
        line(WATER, FGALL_ROLE_LIQUID, c"6 pints"),
    ];
    let mut old = FgallOldRecipe {
        title: c"receipt".as_ptr(),
        setting: &known,
        lines: lines.as_ptr(),
        line_count: lines.len(),
        ending: FGALL_ENDING_BOILED_TO,
        ending_share: 0.5,
        part_g: f64::NAN,
        ..init()
    };
    let lot = |id: &str, name: &str| Lot::of(id).unwrap().named(name).build().unwrap();
    let amount = |text: &str| OldAmount::parse(text).unwrap();
    let rust = OldRecipe::new(
        "receipt",
        Setting::new(Place::England, Years::of(1740).unwrap()),
    )
    .line(OldLine::new(
        Role::Galls,
        &lot("aleppo_galls", "galls"),
        amount("1/2 pound"),
    ))
    .line(OldLine::new(
        Role::IronSalt,
        &lot("iron_ii_sulfate_heptahydrate", "vitriol"),
        amount("3 or 4 ounces"),
    ))
    .line(OldLine::new(
        Role::Liquid,
        &lot("distilled_water", "water"),
        amount("6 pints"),
    ))
    .ending(Ending::BoiledTo(Share::HALF))
    .read()
    .unwrap();

    let (mut reading, mut recipe): (FgallReading, _) = (init(), null_mut());
    let mut ink: FgallComposition = init();
    // SAFETY: live handles and locals, here and below.
    unsafe {
        let status = fgall_recipe_read_new(room.shelf, &old, &mut reading, &mut recipe, null_mut());
        assert_eq!(status, FGALL_OK);
        assert_eq!(
            fgall_recipe_evaluate(recipe, &mut ink, null_mut()),
            FGALL_OK
        );
        fgall_recipe_free(recipe);
    }
    let made = rust
        .recipe
        .as_ref()
        .unwrap()
        .evaluate()
        .unwrap()
        .composition;
    bits(ink.volume_ml, made.volume().in_milliliters());
    bits(
        ink.iron_g_per_l,
        made.iron_mass_concentration().in_grams_per_liter(),
    );
    bits(
        reading.galls_per_vitriol,
        rust.figures.galls_per_vitriol.unwrap(),
    );
    bits(
        reading.final_volume_ml.max,
        rust.final_volume.unwrap().high.in_milliliters(),
    );
    assert!(reading.gum_g_per_l.is_nan());
    assert_eq!(reading.alternative_count, rust.alternatives.len());
    assert_eq!(reading.doubt_count, rust.doubts.len());
    let json =
        said(|b, c, n| unsafe { fgall_old_recipe_json(room.shelf, &old, b, c, n, null_mut()) });
    assert_eq!(json, rust.to_json());

    unsafe {
        let mut read = |old: &FgallOldRecipe| {
            fgall_recipe_read_new(room.shelf, old, null_mut(), &mut recipe, null_mut())
        };
        old.ending = FGALL_ENDING_BOILED_UNCLEAR;
        old.ending_share = 0.75;
        assert_eq!(read(&old), FGALL_OK);
        fgall_recipe_free(recipe);
        let mut read = |old: &FgallOldRecipe| {
            fgall_recipe_read_new(room.shelf, old, null_mut(), &mut recipe, null_mut())
        };
        for share in [f64::NAN, 1.5, -0.1] {
            old.ending_share = share;
            assert_ne!(read(&old), FGALL_OK);
        }
        old.ending = 9;
        assert_eq!(read(&old), FGALL_FOREIGN_VALUE);
        old.ending = FGALL_ENDING_YIELDS; // and no text
        assert_eq!(read(&old), FGALL_NULL_POINTER);
        old.ending = FGALL_ENDING_CHARGE;
        old.strained_first = 2;
        assert_eq!(read(&old), FGALL_FOREIGN_VALUE);
        old.strained_first = 0;
        old.part_g = -1.0;
        assert_eq!(read(&old), FGALL_OUT_OF_RANGE);
        old.part_g = f64::NAN;
        old.line_count = 65;
        assert_eq!(read(&old), FGALL_OUT_OF_RANGE);
        old.line_count = 0;
        assert_eq!(read(&old), FGALL_EMPTY);
        // No liquid: figures, but no recipe.
        old.line_count = 2;
        assert_eq!(read(&old), FGALL_OK);
        assert!(recipe.is_null());
        let status = fgall_recipe_read_new(room.shelf, &old, &mut reading, &mut recipe, null_mut());
        assert_eq!(status, FGALL_OK);
        assert!(reading.final_volume_ml.typical.is_nan());
        // What would be meant: the recipe of every doubt that has one.
        old.line_count = 3;
        let status = fgall_recipe_read_new(room.shelf, &old, &mut reading, &mut recipe, null_mut());
        assert_eq!(status, FGALL_OK);
        fgall_recipe_free(recipe);
        for doubt in 0..reading.doubt_count {
            let status =
                fgall_recipe_read_meant_new(room.shelf, &old, doubt, &mut recipe, null_mut());
            assert_eq!(status, FGALL_OK);
            assert!(!recipe.is_null());
            assert_eq!(
                fgall_recipe_evaluate(recipe, &mut ink, null_mut()),
                FGALL_OK
            );
            fgall_recipe_free(recipe);
        }
        let beyond = reading.doubt_count;
        let status = fgall_recipe_read_meant_new(room.shelf, &old, beyond, &mut recipe, null_mut());
        assert_eq!(status, FGALL_NO_SUCH_INDEX);
        let bad = [line(99, FGALL_ROLE_GALLS, c"1 oz")];
        old.lines = bad.as_ptr();
        old.line_count = 1;
        assert_eq!(
            fgall_recipe_read_new(room.shelf, &old, null_mut(), &mut recipe, null_mut()),
            FGALL_NO_SUCH_INDEX
        );
    }
}

#[test]
fn header_names_every_place() {
    let header = super::header::committed();
    let comment = header.split_once("Identifier of a place").unwrap().1;
    let comment = comment.split_once("const char *place").unwrap().0;
    let words = |c: char| !c.is_ascii_lowercase() && c != '_';
    let named: Vec<&str> = comment.split(words).collect();
    for place in Place::all() {
        assert!(named.contains(&place.id()), "{} is missing", place.id());
    }
}

#[test]
fn misaligned_and_missized_are_answered() {
    let room = Room::new();
    let known: FgallSetting = init();
    let lines = [FgallOldLine {
        lot: GALLS,
        role: FGALL_ROLE_GALLS,
        goods: FGALL_GOODS_UNKNOWN,
        amount: c"1 oz".as_ptr(),
    }];
    let old = FgallOldRecipe {
        title: c"one".as_ptr(),
        setting: &known,
        lines: lines.as_ptr(),
        line_count: 1,
        part_g: f64::NAN,
        ..init()
    };
    let (mut recipe, mut unit, mut x): (_, FgallUnit, _) = (null_mut(), init(), 0.0);
    let odd_lines = FgallOldRecipe {
        lines: odd(),
        ..old
    };
    let odd_setting = FgallOldRecipe {
        setting: odd(),
        ..old
    };
    let (pound, e) = (c"pound".as_ptr(), null_mut);
    for (name, status) in answers! {
        fgall_unit_count(odd(), e());
        fgall_unit_at(0, odd(), e());
        fgall_word_candidates(odd(), pound, 0, null_mut(), 0, &mut 0, e());
        fgall_word_candidates(&known, pound, 0, odd(), 99, &mut 0, e());
        fgall_word_candidates(&known, pound, 0, null_mut(), 0, odd(), e());
        fgall_unit_echo(pound, 1.0, 1, odd(), e());
        fgall_historic_quantiles(0, null(), 0, odd(), e());
        fgall_historic_percentile(0, 1.0, null(), 0, odd(), e());
        fgall_recipe_read_new(odd(), &old, null_mut(), &mut recipe, e());
        fgall_recipe_read_new(room.shelf, odd(), null_mut(), &mut recipe, e());
        fgall_recipe_read_new(room.shelf, &odd_lines, null_mut(), &mut recipe, e());
        fgall_recipe_read_new(room.shelf, &odd_setting, null_mut(), &mut recipe, e());
        fgall_recipe_read_new(room.shelf, &old, odd(), &mut recipe, e());
        fgall_recipe_read_new(room.shelf, &old, null_mut(), odd(), e());
        fgall_old_recipe_json(room.shelf, &old, null_mut(), 0, odd(), e());
    } {
        assert_eq!(status, FGALL_MISALIGNED, "{name}");
    }
    let (setting, wrong) = (broken::<FgallSetting>(), broken::<FgallOldRecipe>());
    for (name, status) in answers! {
        fgall_word_candidates(&setting, pound, 0, null_mut(), 0, &mut 0, e());
        fgall_unit_at(0, &mut broken(), e());
        fgall_unit_echo(pound, 1.0, 1, &mut broken(), e());
        fgall_historic_quantiles(0, null(), 0, &mut broken(), e());
        fgall_recipe_read_new(room.shelf, &wrong, null_mut(), &mut recipe, e());
        fgall_recipe_read_new(room.shelf, &old, &mut broken(), &mut recipe, e());
    } {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{name}");
    }
    let bytes = c"\xff".as_ptr();
    for (name, status) in answers! {
        fgall_unit_find(bytes, &mut unit, e());
        fgall_word_candidates(&known, bytes, 0, null_mut(), 0, &mut 0, e());
        fgall_historic_percentile(0, 1.0, bytes, 0, &mut x, e());
    } {
        assert_eq!(status, FGALL_NOT_UTF8, "{name}");
    }
    assert!(recipe.is_null());
}
