//! Tannin out of the plant, through the C surface: what Rust says, to the last
//! bit.

use super::forecasts::bits;
use super::room::*;
use core::ffi::CStr;
use core::ptr::null_mut;
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::extraction::*;
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Solution};
use uom::si::time::hour;

pub fn wash(liquid_g: f64, temperature_c: f64, hours: f64, straining: u32) -> FgallWash {
    FgallWash {
        liquid_g,
        temperature_c,
        hours,
        straining,
        hold_up_g_per_g: 1.1,
    }
}

/// Everything but boiling down to a share.
pub fn given(washes: &[FgallWash]) -> FgallExtraction {
    FgallExtraction {
        plant_g: 50.0,
        grain: FGALL_GRAIN_CRUSHED,
        set: 255 & !FGALL_EXTRACTION_BOIL_TO_SHARE & !FGALL_EXTRACTION_SLAB,
        size_mm: 2.5,
        broken_share: 0.3,
        rain_hours: 30.0,
        rain_temperature_c: 8.0,
        rained_gall_mm: 18.0,
        fermentation_days: 6.0,
        fermentation_temperature_c: 22.0,
        boil_down_ml: 150.0,
        boil_down_share: 0.25,
        washes: washes.as_ptr(),
        wash_count: washes.len(),
        ..init()
    }
}

/// Galls and grain, and nothing else.
pub fn plain(washes: &[FgallWash]) -> FgallExtraction {
    FgallExtraction {
        set: 0,
        ..given(washes)
    }
}

pub fn three() -> [FgallWash; 4] {
    [
        wash(300.0, 18.0, 20.0, FGALL_STRAINING_NOT_YET),
        wash(f64::NAN, 80.0, 1.5, FGALL_STRAINING_WEIGHED),
        wash(200.0, 20.0, 12.0, FGALL_STRAINING_DRAINED),
        wash(200.0, 95.0, 2.0, FGALL_STRAINING_PRESSED),
    ]
}

pub fn galls() -> Lot {
    let galls = Lot::of("aleppo_galls").unwrap().named("galls");
    galls.build().unwrap()
}

pub fn grain() -> Grain {
    let grain = Grain::crushed().measuring(millimeters(2.5)).unwrap();
    grain.washed(Share::new(0.3).unwrap())
}

fn here() -> Process {
    let rain = Rain::new(celsius(8.0), hours(30.0)).unwrap();
    let water = |g, c, h| Wash::of(grams(g), celsius(c), hours(h)).unwrap();
    Process::new(&galls(), grams(50.0), grain())
        .unwrap()
        .rained_on(rain.on_galls_of(millimeters(18.0)).unwrap())
        .fermented(Fermentation::new(celsius(22.0), days(6.0)).unwrap())
        .boiled_down(BoilDown::ToVolume(milliliters(150.0)))
        .unwrap()
        .wash(
            water(300.0, 18.0, 20.0)
                .then(celsius(80.0), hours(1.5))
                .unwrap()
                .strained(Straining::HoldUp(1.1))
                .unwrap(),
        )
        .unwrap()
        .wash(water(200.0, 20.0, 12.0))
        .unwrap()
        .wash(
            water(200.0, 95.0, 2.0)
                .strained(Straining::Pressed)
                .unwrap(),
        )
        .unwrap()
}

pub fn same<T>(c: FgallRange, rust: Span<T>, figure: impl Fn(T) -> f64) {
    bits(c.min, figure(rust.low));
    bits(c.typical, figure(rust.typical));
    bits(c.max, figure(rust.high));
}

fn run(room: &Room, given: &FgallExtraction) -> FgallLiquor {
    let mut liquor = init();
    // SAFETY: a live handle and locals.
    let done = unsafe { fgall_extraction_run(room.shelf, GALLS, given, &mut liquor, null_mut()) };
    assert_eq!(done, FGALL_OK);
    liquor
}

#[test]
fn a_liquor_is_that_of_rust() {
    let (room, washes) = (Room::new(), three());
    let (c, rust) = (run(&room, &given(&washes)), here().run().unwrap());
    let last = rust.last();
    same(c.volume_ml, last.volume, |v| v.in_milliliters());
    same(c.share, last.share, |s| s.value());
    same(c.galloyl_mmol, last.galloyl, |n| n.in_millimoles());
    same(c.gallic_acid_g, last.gallic_acid, |m| m.in_grams());
    same(c.tannin_g, last.tannin, |m| m.in_grams());
    same(c.galloyl_mol_per_l, last.concentration, |x| {
        x.in_moles_per_liter()
    });
    same(c.drained_ml, rust.all.volume, |v| v.in_milliliters());
    bits(c.extracted_share, rust.extracted.value());
    bits(c.extracted_u, rust.extracted.u());
    same(c.lost_to_rain_share, rust.lost_to_rain, |s| s.value());
    same(c.marc_share, rust.marc.share, |s| s.value());
    same(c.marc_water_g, rust.marc.water, |m| m.in_grams());
    same(c.boiled_off_g, rust.boiled.unwrap().water_off, |m| {
        m.in_grams()
    });
    // Boiled to 150 mL, within rounding.
    assert!((c.volume_ml.typical - 150.0).abs() < 1e-9);
    // What is not asked for does not happen, and everything asked for matters.
    let bare = run(&room, &plain(&washes));
    assert_eq!(bare.lost_to_rain_share.typical, 0.0);
    assert!(bare.boiled_off_g.typical.is_nan());
    bits(bare.volume_ml.typical, bare.drained_ml.typical);
    for bit in (0..8).map(|n| 1 << n) {
        let other = given(&washes).set ^ bit;
        let drop_volume = bit == FGALL_EXTRACTION_BOIL_TO_SHARE;
        let set = other & !(u32::from(drop_volume) * FGALL_EXTRACTION_BOIL_TO_VOLUME);
        let changed = FgallExtraction {
            set,
            ..given(&washes)
        };
        let told = run(&room, &changed);
        let whole = |l: &FgallLiquor| {
            [l.share.typical, l.volume_ml.typical, l.gallic_acid_g.max].map(f64::to_bits)
        };
        assert_ne!(whole(&told), whole(&c), "bit {bit}");
    }
}

#[test]
fn washes_and_cautions_are_those_of_rust() {
    let (room, washes) = (Room::new(), three());
    let (given, rust) = (given(&washes), here().run().unwrap());
    // SAFETY: as `listed` and `said` promise; a live handle.
    let strained: Vec<FgallStrained> = listed(|a, c, n| unsafe {
        fgall_extraction_washes(room.shelf, GALLS, &given, a, c, n, null_mut())
    });
    assert_eq!(strained.len(), 3);
    for (c, rust) in strained.iter().zip(&rust.washes) {
        same(c.volume_ml, rust.liquor.volume, |v| v.in_milliliters());
        same(c.share, rust.liquor.share, |s| s.value());
        same(c.galloyl_mmol, rust.liquor.galloyl, |n| n.in_millimoles());
        same(c.gallic_acid_g, rust.liquor.gallic_acid, |m| m.in_grams());
        same(c.galloyl_mol_per_l, rust.liquor.concentration, |x| {
            x.in_moles_per_liter()
        });
        bits(c.dissolved_share, rust.dissolved.value());
        bits(c.dissolved_u, rust.dissolved.u());
        bits(c.hold_up_g_per_g, rust.hold_up.value());
        bits(c.hold_up_u_g_per_g, rust.hold_up.u());
        same(c.reached_share, rust.reached, |s| s.value());
    }
    bits(strained[0].hold_up_g_per_g, 1.1);
    // SAFETY: as above.
    let cautions = said(|b, c, n| unsafe {
        fgall_extraction_cautions(room.shelf, GALLS, &given, b, c, n, null_mut())
    });
    assert_eq!(cautions.lines().count(), rust.cautions.len());
    for (line, caution) in cautions.lines().zip(&rust.cautions) {
        assert!(line.starts_with(&caution.to_string()), "{line}");
    }
    assert!(cautions.contains("95 °C") && cautions.contains("moulds eat"));
    // SAFETY: as above.
    let assumed = said(|b, c, n| unsafe {
        fgall_extraction_assumed(room.shelf, GALLS, &given, b, c, n, null_mut())
    });
    assert_eq!(assumed.lines().count(), rust.assumed.len());
    for (line, parameter) in assumed.lines().zip(&rust.assumed) {
        assert!(line.starts_with(&format!("{}: ", parameter.id)), "{line}");
    }
}

fn lots_of(name: &CStr, room: &Room, given: &FgallExtraction) -> usize {
    let mut lot = 0;
    // SAFETY: live handles and locals.
    let added = unsafe {
        fgall_shelf_add_liquor(
            room.shelf,
            GALLS,
            given,
            name.as_ptr(),
            &mut lot,
            null_mut(),
        )
    };
    assert_eq!(added, FGALL_OK);
    lot
}

#[test]
fn a_liquor_is_a_lot_and_a_soak_goes_into_a_recipe() {
    let (room, washes) = (Room::new(), three());
    let lot = lots_of(c"liquor", &room, &given(&washes));
    assert_eq!(lot, WATER + 1);
    let one = [wash(300.0, 18.0, 20.0, FGALL_STRAINING_PRESSED)];
    let soak = plain(&one);
    // SAFETY: live handles and locals.
    unsafe {
        let (recipe, shelf, e) = (room.recipe, room.shelf, null_mut);
        let begun = fgall_recipe_begin_solution(recipe, c"more".as_ptr(), e());
        assert_eq!(begun, FGALL_OK);
        let added = fgall_recipe_add_mass(recipe, shelf, lot, 120.0, e());
        assert_eq!(added, FGALL_OK);
        let soaked = fgall_recipe_add_extraction_by(recipe, shelf, GALLS, WATER, &soak, e());
        assert_eq!(soaked, FGALL_OK);
    }
    let water = Lot::of("distilled_water").unwrap().named("water");
    let water = water.build().unwrap();
    let liquor = here().run().unwrap().to_lot("liquor").unwrap();
    let pressed = Wash::of(grams(300.0), celsius(18.0), hours(20.0)).unwrap();
    let process = Process::new(&galls(), grams(50.0), Grain::crushed()).unwrap();
    let pressed = pressed.strained(Straining::Pressed).unwrap();
    let process = process.wash(pressed).unwrap();
    let more = Solution::new("more")
        .add(&liquor, grams(120.0))
        .extract(Extraction::by(&process, &water).unwrap());
    let recipe = super::twin::twin().with(more);
    let made = recipe.evaluate().unwrap();
    let c = room.evaluate();
    let galloyl = made.composition.concentration(made.composition.galloyl());
    bits(c.galloyl_mol_per_l, galloyl.in_moles_per_liter());
    let ratio = made.iron_per_galloyl().unwrap();
    bits(c.iron_per_galloyl_low, ratio.low);
    bits(c.iron_per_galloyl_high, ratio.high);
}

#[test]
fn questions_are_answered_as_in_rust() {
    let (room, washes) = (Room::new(), three());
    let (given, e) = (given(&washes), null_mut);
    let ask = |call: &dyn Fn(*mut FgallRange) -> u32| {
        let mut range = FgallRange {
            min: 0.0,
            typical: 0.0,
            max: 0.0,
        };
        assert_eq!(call(&mut range), FGALL_OK);
        range
    };
    let (s, half) = (room.shelf, Share::HALF);
    // SAFETY: live handles and locals, here and below.
    let time = ask(&|r| unsafe { fgall_extraction_time_to(s, GALLS, &given, 0.9, 30.0, r, e()) });
    let rust = here().time_to(Share::new(0.9).unwrap(), celsius(30.0));
    same(time, rust.unwrap(), |t| t.get::<hour>());
    for (number, straining) in [
        (FGALL_STRAINING_DRAINED, Straining::Drained),
        (FGALL_STRAINING_PRESSED, Straining::Pressed),
        (FGALL_STRAINING_WEIGHED, Straining::HoldUp(3.3)),
        (FGALL_STRAINING_NOTHING, Straining::Nothing),
    ] {
        // SAFETY: as above.
        let paste = ask(&|r| unsafe {
            fgall_extraction_paste_below(s, GALLS, &plain(&[]), number, 3.3, r, e())
        });
        let process = Process::new(&galls(), grams(50.0), Grain::crushed()).unwrap();
        let rust = process.paste_below(straining).unwrap();
        same(paste, rust, |m| m.in_grams());
    }
    // SAFETY: as above.
    let water = ask(&|r| unsafe { fgall_extraction_water_for(s, GALLS, &given, 0.5, r, e()) });
    let rust = here().water_for(half).unwrap();
    bits(water.min, rust.low.in_grams());
    bits(water.typical, rust.typical.in_grams());
    bits(water.max, rust.high.map_or(f64::NAN, |m| m.in_grams()));
    // One wash never gets nine tenths out of every gall.
    let one = [wash(300.0, 18.0, 20.0, FGALL_STRAINING_PRESSED)];
    // SAFETY: as above.
    let most =
        ask(&|r| unsafe { fgall_extraction_water_for(s, GALLS, &plain(&one), 0.85, r, e()) });
    assert!(most.max.is_nan() && most.min < most.typical);
}
