//! How an ink keeps, through the C surface: what Rust says.

use super::room::*;
use super::twin::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use ferrogall::equilibrium::{ConstantSet, Solver};
use ferrogall::oxidation::*;
use ferrogall::quantity::*;
use ferrogall::recipe::RowStatus;

/// An ink with everything set, and a bottle with most of what can be.
pub fn ink() -> FgallStoredInk {
    FgallStoredInk {
        iron_ii_mol_per_l: 0.054,
        galloyl_mol_per_l: 0.05,
        ph: 2.2,
        set: FGALL_INK_IRON_III | FGALL_INK_SALT | FGALL_INK_ASSISTED | FGALL_INK_NAIL,
        iron_iii_mol_per_l: 0.002,
        ionic_strength_mol_per_kg: 0.19,
        dissolving_share: 0.94,
        assisted_l_per_mol_s: 0.01,
        assisted_factor_95: 8.0,
        assisted_ph: 2.4,
        assisted_c: 20.0,
        scavenger: c"ascorbic_acid".as_ptr(),
        scavenger_g_per_l: 0.5,
        nail_per_s: 1e-9,
        ..init()
    }
}

pub fn ink_here() -> StoredInk {
    let ascorbic = scavengers().iter().find(|s| s.id == "ascorbic_acid");
    let own = Assisted::known(SecondOrder::l_per_mol_s(0.01).unwrap(), 8.0).unwrap();
    StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)
        .unwrap()
        .with_iron_iii(moles_per_liter(0.002))
        .unwrap()
        .with_salt(moles_per_kilogram(0.19), Share::new(0.94).unwrap())
        .unwrap()
        .with_assisted(own.found_at(2.4, celsius(20.0)).unwrap())
        .with_scavenger(ascorbic.unwrap(), grams_per_liter(0.5))
        .unwrap()
        .with_nail(FirstOrder::per_second(1e-9).unwrap())
}

pub fn keeping() -> FgallKeeping {
    FgallKeeping {
        capacity_ml: 60.0,
        fill_ml: 57.0,
        closure: c"wine_closure".as_ptr(),
        set: FGALL_BOTTLE_AIR
            | FGALL_BOTTLE_OPENED
            | FGALL_BOTTLE_AIR_EXCHANGED
            | FGALL_BOTTLE_DRAWN
            | FGALL_BOTTLE_KEPT
            | FGALL_BOTTLE_IRON_PER_OXYGEN
            | FGALL_BOTTLE_STATED_SHARE
            | FGALL_KEEPING_FLUSHED
            | FGALL_KEEPING_BEADS
            | FGALL_KEEPING_SHAKEN
            | FGALL_KEEPING_BREATHING
            | FGALL_KEEPING_SURFACE
            | FGALL_KEEPING_LID
            | FGALL_KEEPING_SEASON,
        temperature_c: 18.0,
        pressure_kpa: 98.0,
        opened_every_days: 20.0,
        air_exchanged_share: 0.4,
        drawn_ml: 1.5,
        kept_days: 120.0,
        iron_per_oxygen: 3.5,
        stated_share: 0.05,
        flushed_share: 0.25,
        swing_low_c: 19.0,
        swing_high_c: 21.0,
        swing_days: 7.0,
        surface_cm2: 9.0,
        lid_leaves_share: 0.5,
        season_k: 4.0,
        ..init()
    }
}

pub fn used_here(bottle: BottleBuilder) -> BottleBuilder {
    let share = |x| Share::new(x).unwrap();
    let wine = closures().iter().find(|c| c.id == "wine_closure").unwrap();
    bottle
        .closure(Closure::of(wine))
        .air(Air::at(celsius(18.0), kilopascals(98.0)).unwrap())
        .opened_every(days(20.0))
        .air_exchanged(share(0.4))
        .drawn_per_opening(milliliters(1.5))
        .kept_for(days(120.0))
        .nu(3.5)
        .stated_share(share(0.05))
        .flushed_with_inert_gas(share(0.25))
        .kept_full_with_beads()
        .shaken()
        .breathing(celsius(19.0), celsius(21.0), days(7.0))
        .surface(square_centimeters(9.0))
        .floating_lid(share(0.5))
        .season_of_kelvin(4.0)
}

pub fn bottle_here() -> BottleBuilder {
    used_here(ink_here().bottle(milliliters(60.0), milliliters(57.0)))
}

pub fn bits(x: f64, y: f64) {
    assert!(
        x.to_bits() == y.to_bits() || (x.is_nan() && y.is_nan()),
        "{x} {y}"
    );
}

pub fn same_outcome(c: &FgallOutcome, rust: &Outcome) {
    bits(c.lost_share, rust.lost.value());
    let days = rust.time_to_share.map_or(f64::NAN, |t| t.in_days());
    bits(c.days_to_share, days);
    let openings = rust.openings_to_share.map_or(f64::NAN, |n| n as f64);
    bits(c.openings_to_share, openings);
    bits(c.iron_left_share, rust.iron_left.value());
    bits(c.sediment_mol_per_l, rust.sediment.in_moles_per_liter());
    bits(c.iron_iii_mol_per_l, rust.iron_iii.in_moles_per_liter());
    bits(c.tannin_left_share, rust.tannin_left.value());
}

pub fn forecast(ink: &FgallStoredInk, keeping: &FgallKeeping, draws: u32) -> FgallForecast {
    let mut c: FgallForecast = init();
    // SAFETY: locals.
    let done = unsafe { fgall_forecast(ink, keeping, draws, &mut c, null_mut()) };
    assert_eq!(done, FGALL_OK);
    c
}

#[test]
fn a_forecast_is_that_of_rust() {
    let (c, here) = (forecast(&ink(), &keeping(), 41), bottle_here());
    let forecaster = Forecaster::new(&ink_here(), &here.build().unwrap()).unwrap();
    let rust = forecaster.forecast(41).unwrap();
    bits(c.bound_share, rust.bound.share_after_duration.value());
    let filling = rust.bound.share_after_filling.value();
    bits(c.bound_after_filling_share, filling);
    let time = |t: Option<Time>| t.map_or(f64::NAN, |t| t.in_days());
    bits(c.bound_days_to_share, time(rust.bound.time_to_share));
    let e = &rust.estimate;
    same_outcome(&c.typical, &e.typical);
    same_outcome(&c.floor, &rust.floor);
    bits(c.lost_low_share, e.lost.low.value());
    bits(c.lost_high_share, e.lost.high.value());
    bits(c.days_to_share_low, time(e.time_to_share.low));
    bits(c.days_to_share_high, time(e.time_to_share.high));
    bits(c.iron_left_low_share, e.iron_left.low.value());
    bits(c.iron_left_high_share, e.iron_left.high.value());
    let sediment = (e.sediment.low, e.sediment.high);
    bits(c.sediment_low_mol_per_l, sediment.0.in_moles_per_liter());
    bits(c.sediment_high_mol_per_l, sediment.1.in_moles_per_liter());
    assert_eq!(c.draws, 41);
    // A scenario in which every figure says something.
    assert!(c.lost_low_share < c.lost_high_share && c.lost_high_share < c.bound_share);
    assert!(c.floor.lost_share < c.typical.lost_share && c.bound_share < 1.0);
}

#[test]
fn what_is_not_set_is_not_read() {
    // Absurd figures whose bits are not set, against none at all.
    let mut ink = FgallStoredInk {
        set: 0,
        scavenger: null(),
        scavenger_g_per_l: f64::NAN,
        iron_iii_mol_per_l: -1.0,
        assisted_ph: f64::NAN,
        nail_per_s: f64::INFINITY,
        ..ink()
    };
    ink.dissolving_share = -3.0;
    let keeping = FgallKeeping {
        set: 0,
        closure: null(),
        temperature_c: f64::NAN,
        drawn_ml: -1.0,
        season_k: f64::INFINITY,
        swing_low_c: 99.0,
        swing_high_c: -99.0,
        ..keeping()
    };
    let c = forecast(&ink, &keeping, 5);
    let plain = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2).unwrap();
    let bottle = plain.bottle(milliliters(60.0), milliliters(57.0)).build();
    let rust = Forecaster::new(&plain, &bottle.unwrap()).unwrap();
    let rust = rust.forecast(5).unwrap();
    same_outcome(&c.typical, &rust.estimate.typical);
    bits(c.lost_low_share, rust.estimate.lost.low.value());
}

#[test]
fn every_setting_changes_the_bound_or_the_estimate() {
    let whole = (ink(), keeping());
    let before = forecast(&whole.0, &whole.1, 1);
    let figures = |f: &FgallForecast| {
        [f.bound_share, f.typical.lost_share, f.typical.days_to_share].map(f64::to_bits)
    };
    // A forecast counts four iron to an O2 in its bound, whatever the bottle says.
    let read = whole.1.set & !FGALL_BOTTLE_IRON_PER_OXYGEN;
    for bit in (0..16).map(|n| 1 << n).filter(|bit| read & bit != 0) {
        let mut keeping = whole.1;
        keeping.set &= !bit;
        let without = forecast(&whole.0, &keeping, 1);
        assert_ne!(figures(&before), figures(&without), "keeping without {bit}");
    }
    let degassed = FgallKeeping {
        set: whole.1.set | FGALL_BOTTLE_WITHOUT_DISSOLVED_OXYGEN,
        ..whole.1
    };
    assert_ne!(figures(&before), figures(&forecast(&whole.0, &degassed, 1)));
    for bit in [1, 2, 4, 8] {
        let mut ink = whole.0;
        ink.set &= !bit;
        let without = forecast(&ink, &whole.1, 1);
        assert_ne!(figures(&before), figures(&without), "ink without {bit}");
    }
}

#[test]
fn the_bound_of_a_bottle_is_that_of_rust() {
    let mut c: FgallOxygenBound = init();
    // SAFETY: locals.
    let done = unsafe { fgall_keeping_bound(&ink(), &keeping(), &mut c, null_mut()) };
    assert_eq!(done, FGALL_OK);
    let rust = bottle_here().build().unwrap().bound();
    bits(c.share_after_duration, rust.share_after_duration.value());
    bits(c.iron_ii_mmol, rust.iron_ii.in_millimoles());
    let closure = rust.oxygen_closure.in_millimoles();
    bits(c.oxygen_closure_mmol, closure);
    assert_eq!(c.openings, rust.openings);
}

/// Times in a column of an odd stride, results in rows of an odd stride.
fn at<T>(days: &[f64], ask: impl Fn(&FgallColumn, usize, *mut T, isize) -> u32) -> (u32, Vec<T>) {
    let mut packed = vec![0u8; 1 + 13 * days.len()];
    for (i, day) in days.iter().enumerate() {
        packed[1 + 13 * i..][..8].copy_from_slice(&day.to_ne_bytes());
    }
    let column = FgallColumn {
        data: packed[1..].as_ptr().cast(),
        stride_bytes: 13,
    };
    let stride = size_of::<T>() + 3;
    let mut rows = vec![0u8; stride * days.len() + 1];
    let done = ask(
        &column,
        days.len(),
        rows[1..].as_mut_ptr().cast(),
        stride as isize,
    );
    let row = |i: usize| rows[1 + stride * i..].as_ptr().cast::<T>();
    // SAFETY: plain numbers, all of them there.
    let read = |i| unsafe { row(i).read_unaligned() };
    (done, (0..days.len()).map(read).collect())
}

#[test]
fn a_curve_is_that_of_rust() {
    let asked = [0.0, 3.5, 30.0, 30.0, 200.0];
    // SAFETY: locals, and room for as many rows as are asked for.
    let (done, points) = at::<FgallCurvePoint>(&asked, |column, n, rows, stride| unsafe {
        fgall_forecast_curve(&ink(), &keeping(), 7, column, n, rows, stride, null_mut())
    });
    assert_eq!(done, FGALL_OK);
    let bottle = bottle_here().build().unwrap();
    let forecaster = Forecaster::new(&ink_here(), &bottle).unwrap();
    let times = asked.map(days);
    let rust = forecaster.curve(&times, 7).unwrap();
    for ((c, rust), at_days) in points.iter().zip(&rust).zip(asked) {
        bits(c.at_days, at_days);
        bits(c.bound_share, rust.bound.value());
        bits(c.lost_low_share, rust.lost.low.value());
        bits(c.lost_high_share, rust.lost.high.value());
        bits(c.floor_share, rust.floor.value());
        same_outcome(&c.typical, &rust.typical);
    }
    // SAFETY: as above.
    let (done, moments) = at::<FgallMoment>(&asked, |column, n, rows, stride| unsafe {
        fgall_forecast_moments(&ink(), &keeping(), column, n, rows, stride, null_mut())
    });
    assert_eq!(done, FGALL_OK);
    let rust = forecaster.moments(&times).unwrap();
    for ((c, rust), at_days) in moments.iter().zip(&rust).zip(asked) {
        bits(c.at_days, at_days);
        same_moment(c, rust);
    }
}

pub fn same_moment(c: &FgallMoment, rust: &Moment) {
    bits(c.liquid_ml, rust.liquid.in_milliliters());
    bits(c.gas_ml, rust.gas.in_milliliters());
    bits(c.iron_ii_mol_per_l, rust.iron_ii().in_moles_per_liter());
    bits(c.oxidised_share, rust.oxidised().value());
    let (c, rust) = (&c.contents, &rust.contents);
    bits(c.iron_ii_mmol, rust.iron_ii.in_millimoles());
    bits(c.iron_iii_mmol, rust.iron_iii.in_millimoles());
    bits(c.sediment_mmol, rust.sediment.in_millimoles());
    bits(
        c.oxygen_dissolved_mmol,
        rust.oxygen_dissolved.in_millimoles(),
    );
    bits(c.oxygen_gas_mmol, rust.oxygen_gas.in_millimoles());
    bits(
        c.phenol_electrons_mmol,
        rust.phenol_electrons.in_millimoles(),
    );
    bits(c.scavenger_mmol, rust.scavenger.in_millimoles());
    bits(c.other_electrons_mmol, rust.other_electrons.in_millimoles());
    bits(c.oxygen_in_mmol, rust.oxygen_in.in_millimoles());
    bits(c.metal_iron_mmol, rust.metal_iron.in_millimoles());
}

#[test]
fn the_ink_of_a_recipe_keeps_as_in_rust() {
    let (room, still) = (Room::new(), Still::new());
    let mut c: FgallStoredInk = init();
    let outcome = {
        // SAFETY: live handles and locals.
        unsafe {
            let told = fgall_solver_stored_ink(still.0, room.recipe, &mut c, null_mut());
            assert_eq!(told, FGALL_OK);
        }
        forecast(&c, &keeping(), 1).typical
    };
    let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0)).unwrap();
    let recipe = twin();
    let made = recipe.evaluate().unwrap();
    let brewed = StoredInk::of(&made.composition, &mut solver).unwrap();
    bits(c.iron_ii_mol_per_l, brewed.iron_ii().in_moles_per_liter());
    bits(c.galloyl_mol_per_l, brewed.galloyl().in_moles_per_liter());
    bits(c.ph, brewed.ph());
    let salt = brewed.ionic_strength().in_moles_per_kilogram();
    bits(c.ionic_strength_mol_per_kg, salt);
    bits(c.dissolving_share, brewed.dissolving().value());
    assert!(c.dissolving_share < 1.0 && c.scavenger.is_null());

    let used = used_here(brewed.bottle(milliliters(60.0), milliliters(57.0)));
    let then = Forecaster::new(&brewed, &used.build().unwrap()).unwrap();
    let then = then.typical().unwrap();
    // mol/L and back may cost the last bit of a concentration.
    assert!((outcome.lost_share / then.lost.value() - 1.0).abs() < 1e-6);

    let (mut acid, mut plain): (FgallRescue, FgallRescue) = (init(), init());
    let mut chemistry: FgallInkChemistry = init();
    let (s, r, e) = (still.0, room.recipe, null_mut);
    // SAFETY: live handles and locals.
    unsafe {
        assert_eq!(fgall_rescue(&c, &outcome, &mut plain, e()), FGALL_OK);
        assert_eq!(
            fgall_solver_rescue(s, r, &outcome, &mut acid, e()),
            FGALL_OK
        );
        let told = fgall_solver_chemistry(s, r, &outcome, &mut chemistry, e());
        assert_eq!(told, FGALL_OK);
    }
    let rust = brewed.rescue(&then, Some(&mut solver)).unwrap();
    let near = |x: f64, y: f64| assert!((x - y).abs() <= 1e-6 * y.abs(), "{x} {y}");
    near(acid.iron_mol_per_l, rust.iron.in_moles_per_liter());
    near(
        acid.green_vitriol_g_per_l,
        rust.green_vitriol.in_grams_per_liter(),
    );
    near(acid.galloyl_mol_per_l, rust.galloyl.in_moles_per_liter());
    assert_eq!(
        acid.strong_acid_mol_per_l.is_nan(),
        rust.strong_acid.is_none()
    );
    assert!(plain.strong_acid_mol_per_l.is_nan());
    assert_eq!(
        (plain.advice, acid.advice),
        (acid.advice, advice(rust.advice))
    );
    near(plain.iron_mol_per_l, acid.iron_mol_per_l);
    let rust = brewed.chemistry(&then, &mut solver).unwrap();
    near(chemistry.ph, rust.ph);
    let shares = rust.milieu.shares();
    near(chemistry.free_share, shares.free);
    near(chemistry.complexed_share, shares.complexed);
    let all = chemistry.free_share
        + chemistry.hydroxo_share
        + chemistry.dihydroxo_share
        + chemistry.complexed_share;
    assert!((all - 1.0).abs() < 1e-12); // rounding
}

fn advice(advice: Advice) -> u32 {
    match advice {
        Advice::Keep => FGALL_ADVICE_KEEP,
        Advice::FilterAndRefresh => FGALL_ADVICE_FILTER_AND_REFRESH,
        Advice::MakeNew => FGALL_ADVICE_MAKE_NEW,
        _ => unreachable!(),
    }
}

/// Sediment of every advice; each figure is that of Rust.
#[test]
fn a_rescue_is_that_of_rust() {
    let bottle = bottle_here().build().unwrap();
    let start = Forecaster::new(&ink_here(), &bottle).unwrap();
    let start = start.outcomes(&[days(0.0)]).unwrap()[0];
    let fresh = forecast(&ink(), &keeping(), 1).floor;
    for (sediment, expected) in [
        (0.0, FGALL_ADVICE_KEEP),
        (0.01, FGALL_ADVICE_FILTER_AND_REFRESH),
        (0.04, FGALL_ADVICE_MAKE_NEW),
    ] {
        let outcome = FgallOutcome {
            iron_left_share: 1.0 - sediment / 0.056,
            sediment_mol_per_l: sediment,
            iron_iii_mol_per_l: 0.001,
            tannin_left_share: 0.75,
            ..fresh
        };
        let mut here = start;
        here.iron_left = Share::new(outcome.iron_left_share).unwrap();
        here.sediment = moles_per_liter(sediment);
        here.iron_iii = moles_per_liter(0.001);
        here.tannin_left = Share::new(0.75).unwrap();
        let mut c: FgallRescue = init();
        // SAFETY: locals.
        let done = unsafe { fgall_rescue(&ink(), &outcome, &mut c, null_mut()) };
        assert_eq!(done, FGALL_OK);
        let rust = ink_here().rescue(&here, None).unwrap();
        assert_eq!((c.advice, advice(rust.advice)), (expected, expected));
        bits(c.iron_mol_per_l, rust.iron.in_moles_per_liter());
        let vitriol = rust.green_vitriol.in_grams_per_liter();
        bits(c.green_vitriol_g_per_l, vitriol);
        bits(c.galloyl_mol_per_l, rust.galloyl.in_moles_per_liter());
    }
}

const VARIED: [u32; 10] = [
    FGALL_VARIED_IRON_II,
    FGALL_VARIED_IRON_III,
    FGALL_VARIED_GALLOYL,
    FGALL_VARIED_PH,
    FGALL_VARIED_CAPACITY,
    FGALL_VARIED_FILL,
    FGALL_VARIED_TEMPERATURE,
    FGALL_VARIED_OPENED_EVERY,
    FGALL_VARIED_DRAWN,
    FGALL_VARIED_KEPT,
];

/// Every column at once, on as many cores as there are; bad rows among them.
#[test]
fn many_bottles_have_the_bits_of_one_alone() {
    const ROWS: usize = 40;
    let value = |column: usize, i: usize| match (column, i) {
        (3, 7) => f64::NAN,
        (5, 11) => 9e9,
        (0, 13) => -1.0,
        (9, 17) => f64::INFINITY,
        _ => {
            let usual = [0.05, 0.001, 0.04, 2.0, 60.0, 40.0, 20.0, 10.0, 1.0, 60.0];
            usual[column] * (1.0 + 0.01 * i as f64)
        }
    };
    let columns: Vec<Vec<f64>> = (0..10)
        .map(|k| (0..ROWS).map(|i| value(k, i)).collect())
        .collect();
    let mut keeping = keeping();
    keeping.set &= !FGALL_KEEPING_SEASON;
    let given: Vec<FgallColumn> = columns
        .iter()
        .map(|column| FgallColumn {
            data: column.as_ptr(),
            stride_bytes: 8,
        })
        .collect();
    let stride = size_of::<FgallForecastRow>() + 3;
    let mut packed = vec![0u8; stride * ROWS];
    let (mut status, mut bad) = (vec![99; ROWS], 0);
    // SAFETY: locals; columns and results have as many rows.
    let done = unsafe {
        fgall_forecast_rows(
            &ink(),
            &keeping,
            5,
            VARIED.as_ptr(),
            given.as_ptr(),
            10,
            ROWS,
            packed.as_mut_ptr().cast(),
            stride as isize,
            status.as_mut_ptr(),
            4,
            &mut bad,
            null_mut(),
        )
    };
    assert_eq!((done, bad), (FGALL_OK, 4));
    let bottle = bottle_here().season_of_kelvin(0.0);
    let plan = ForecastColumns::new(&ink_here(), bottle, 5).unwrap();
    let (mut rows, mut went) = ([ForecastRow::NAN; ROWS], [RowStatus::Ok; ROWS]);
    let slices: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
    plan.rows(&Varied::ALL, &slices, &mut rows, &mut went);
    for (i, row) in rows.iter().enumerate() {
        let expected = match i {
            7 => FGALL_INPUT_NAN,
            11 | 13 | 17 => FGALL_OUT_OF_RANGE,
            _ => FGALL_OK,
        };
        assert_eq!(status[i], expected, "row {i}");
        assert_eq!(went[i] == RowStatus::Ok, expected == FGALL_OK);
        let figure = |k: usize| {
            let bytes = packed[stride * i + 8 * k..][..8].try_into().unwrap();
            f64::from_ne_bytes(bytes)
        };
        let expected = [
            row.bound_share,
            row.lost_share,
            row.lost_low_share,
            row.lost_high_share,
            row.floor_share,
            row.days_to_share,
            row.iron_left_share,
            row.sediment_mol_per_l,
            row.tannin_left_share,
        ];
        for (k, x) in expected.into_iter().enumerate() {
            bits(figure(k), x);
        }
        assert_eq!(figure(1).is_nan(), status[i] != FGALL_OK);
    }
    for (number, varied) in VARIED.into_iter().zip(Varied::ALL) {
        assert_eq!(number, varied as u32);
    }
}

#[test]
fn a_fit_is_that_of_rust_and_becomes_the_ink() {
    let sighting = |at_days, kind, left_share| FgallSighting {
        at_days,
        kind,
        left_share,
        u_share: 0.02,
    };
    let seen = [
        sighting(7.0, FGALL_SEEN_IRON_II, 0.97),
        sighting(30.0, FGALL_SEEN_STRENGTH, 0.99),
        sighting(90.0, FGALL_SEEN_FIRST_SEDIMENT, f64::NAN),
    ];
    let mut c: FgallFit = init();
    // SAFETY: locals.
    let done = unsafe { fgall_fit(&ink(), &keeping(), seen.as_ptr(), 3, &mut c, null_mut()) };
    assert_eq!(done, FGALL_OK);
    let share = |x| Share::new(x).unwrap();
    let here = [
        (
            7.0,
            Seen::IronII {
                left: share(0.97),
                u: 0.02,
            },
        ),
        (
            30.0,
            Seen::Strength {
                left: share(0.99),
                u: 0.02,
            },
        ),
        (90.0, Seen::FirstSediment),
    ];
    let here = here.map(|(at, seen)| Sighting { at: days(at), seen });
    let rust = fit(&ink_here(), &bottle_here().build().unwrap(), &here).unwrap();
    bits(
        c.assisted_l_per_mol_s,
        rust.assisted.median().in_l_per_mol_s(),
    );
    bits(c.assisted_factor_95, rust.assisted.factor_95());
    bits(c.assisted_ph, rust.assisted.reference_ph());
    assert!((c.assisted_c - 18.0).abs() < 1e-12);
    bits(c.misfit, rust.misfit);
    bits(c.shrunk_to, rust.shrunk_to);
    bits(c.undone, rust.undone);
    bits(c.steady_typical_share, rust.steady_share.typical);
    let own = FgallStoredInk {
        set: ink().set & !FGALL_INK_ASSISTED,
        fit: &c,
        ..ink()
    };
    let own = forecast(&own, &keeping(), 20);
    let here = ink_here().with_fit(&rust);
    let here = Forecaster::new(&here, &bottle_here().build().unwrap()).unwrap();
    let here = here.forecast(20).unwrap();
    // °C and back may cost the last bit of the temperature.
    let typical = own.typical.lost_share - here.estimate.typical.lost.value();
    assert!(typical.abs() < 1e-9, "{typical}");
    let high = own.lost_high_share - here.estimate.lost.high.value();
    assert!(high.abs() < 1e-9 && own.lost_high_share > 1e-3, "{high}");
    // Either a rate or a fit.
    let both = FgallStoredInk {
        set: ink().set | FGALL_INK_ASSISTED,
        assisted_l_per_mol_s: 0.02,
        assisted_factor_95: 2.0,
        assisted_ph: 2.5,
        assisted_c: 20.0,
        fit: &c,
        ..ink()
    };
    let mut out: FgallForecast = init();
    // SAFETY: locals.
    let done = unsafe { fgall_forecast(&both, &keeping(), 1, &mut out, null_mut()) };
    assert_eq!(done, FGALL_EITHER_OR);
}
