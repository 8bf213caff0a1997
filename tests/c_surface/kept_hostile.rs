//! What forecasts and courses answer to callers that are not honest.

use super::courses::{contents, course, event, kinetics, vessel, walked};
use super::forecasts::{ink, keeping};
use super::hostile::{answers, broken, odd};
use super::room::*;
use core::ffi::c_char;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;

const NUMBERS: [f64; 5] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e300];

#[test]
fn misaligned_pointers_are_answered() {
    let (room, still) = (Room::new(), Still::new());
    let (s, r, e) = (still.0, room.recipe, null_mut);
    let (i, k) = (ink(), keeping());
    let day = 3.0;
    let column = FgallColumn {
        data: &day,
        stride_bytes: 0,
    };
    let (mut forecast, mut x): (FgallForecast, f64) = (init(), 0.0);
    let (bottle, rates) = (vessel(), kinetics());
    let given = course(&bottle, &rates, &[]);
    let no_vessel = FgallCourse {
        vessel: odd(),
        ..given
    };
    let no_rates = FgallCourse {
        kinetics: odd(),
        ..given
    };
    let no_events = FgallCourse {
        events: odd(),
        event_count: 1,
        ..given
    };
    let (mut needed, mut moment, mut point) = (0, [0.0; 15], [0.0; 12]);
    let (moment, point) = (moment.as_mut_ptr().cast(), point.as_mut_ptr().cast());
    for (name, status) in answers! {
        fgall_solver_stored_ink(s, r, odd(), e());
        fgall_solver_stored_ink(odd(), r, null_mut(), e());
        fgall_scavenger_count(odd(), e());
        fgall_keeping_bound(&i, &k, odd(), e());
        fgall_forecast(odd(), &k, 3, &mut forecast, e());
        fgall_forecast(&i, odd(), 3, &mut forecast, e());
        fgall_forecast(&i, &k, 3, odd(), e());
        fgall_forecast(&i, &k, 3, &mut forecast, odd());
        fgall_forecast_curve(&i, &k, 3, odd(), 1, point, 96, e());
        fgall_forecast_moments(&i, &k, odd(), 1, moment, 120, e());
        fgall_forecast_rows(
            &i, &k, 3, odd(), &column, 1, 1, null_mut(), 0, null_mut(), 0, null_mut(), e(),
        );
        fgall_measures_usual(&i, &k, odd(), 99, &mut needed, e());
        fgall_measures_usual(&i, &k, null_mut(), 0, odd(), e());
        fgall_measure_text(odd(), null_mut(), 0, &mut needed, e());
        fgall_measures_rank(&i, &k, odd(), 1, 3, null_mut::<FgallBought>().wrapping_add(1), e());
        fgall_measures_rank(&i, &k, null(), 1, 3, odd(), e());
        fgall_bottles_rank(&i, &k, 1.0, 0.9, odd(), 1, odd(), e());
        fgall_rescue(&i, odd(), null_mut(), e());
        fgall_solver_rescue(s, odd(), null(), null_mut(), e());
        fgall_solver_chemistry(s, r, odd(), null_mut(), e());
        fgall_fit(&i, &k, odd(), 1, &mut init(), e());
        fgall_fit(&i, &k, null(), 1, odd(), e());
        fgall_course(odd(), &column, 1, moment, 120, null_mut(), e());
        fgall_course(&no_vessel, &column, 1, moment, 120, null_mut(), e());
        fgall_course(&no_rates, &column, 1, moment, 120, null_mut(), e());
        fgall_course(&no_events, &column, 1, moment, 120, null_mut(), e());
        fgall_course(&given, &column, 1, moment, 120, odd(), e());
        fgall_iron_law_constant(1, 20.0, 2.0, 0.0, odd(), null_mut(), e());
        fgall_iron_law_constant(1, 20.0, 2.0, 0.0, &mut x, odd(), e());
        fgall_inorganic_rate(20.0, 2.0, 0.0, odd(), e());
    } {
        assert_eq!(status, FGALL_MISALIGNED, "{name}");
    }
    assert_eq!(x, 0.0);
}

#[test]
fn wrong_sizes_are_answered() {
    let (room, still) = (Room::new(), Still::new());
    let (s, r, e) = (still.0, room.recipe, null_mut);
    let (i, k) = (ink(), keeping());
    let outcome = FgallOutcome {
        lost_share: 0.1,
        days_to_share: f64::NAN,
        openings_to_share: f64::NAN,
        iron_left_share: 0.9,
        sediment_mol_per_l: 0.005,
        iron_iii_mol_per_l: 0.0,
        tannin_left_share: 1.0,
    };
    let (bottle, rates) = (vessel(), kinetics());
    let given = course(&bottle, &rates, &[]);
    let (bad_vessel, bad_rates) = (broken(), broken());
    let changes = [
        FgallEvent {
            vessel: &bad_vessel,
            ..event(1.0, FGALL_ACT_CHANGE)
        },
        FgallEvent {
            kinetics: &bad_rates,
            ..event(1.0, FGALL_ACT_CHANGE)
        },
    ];
    let broken_change = |n: usize| course(&bottle, &rates, &changes[n..=n]);
    let day = 1.0;
    let column = FgallColumn {
        data: &day,
        stride_bytes: 0,
    };
    for (name, status) in answers! {
        fgall_solver_stored_ink(s, r, &mut broken(), e());
        fgall_keeping_bound(&broken(), &k, &mut init(), e());
        fgall_keeping_bound(&i, &broken(), &mut init(), e());
        fgall_keeping_bound(&i, &k, &mut broken(), e());
        fgall_forecast(&i, &k, 3, &mut broken(), e());
        fgall_forecast_curve(&broken(), &k, 3, null(), 0, null_mut(), 0, e());
        fgall_forecast_moments(&i, &broken(), null(), 0, null_mut(), 0, e());
        fgall_measures_usual(&i, &broken(), null_mut(), 0, &mut 0, e());
        fgall_measures_rank(&broken(), &k, null(), 0, 3, null_mut(), e());
        fgall_bottles_rank(&i, &broken(), 1.0, 0.9, null(), 0, null_mut(), e());
        fgall_rescue(&broken(), &outcome, &mut init(), e());
        fgall_rescue(&i, &outcome, &mut broken(), e());
        fgall_solver_rescue(s, r, &outcome, &mut broken(), e());
        fgall_solver_chemistry(s, r, &outcome, &mut broken(), e());
        fgall_fit(&i, &k, null(), 1, &mut broken(), e());
        fgall_course(&broken(), &column, 0, null_mut(), 0, null_mut(), e());
        fgall_course(&given, &column, 0, null_mut(), 0, &mut broken(), e());
        fgall_course(&broken_change(0), &column, 0, null_mut(), 0, null_mut(), e());
        fgall_course(&broken_change(1), &column, 0, null_mut(), 0, null_mut(), e());
        fgall_inorganic_rate(20.0, 2.0, 0.0, &mut broken(), e());
    } {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{name}");
    }
}

fn measure(kind: u32) -> FgallMeasure {
    FgallMeasure {
        kind,
        share: 0.5,
        every_days: 9.0,
        temperature_c: 9.0,
        ph: 2.0,
        dose_g_per_l: 0.5,
        rate_per_s: 1e-6,
        id: [0; FGALL_NAME_BYTES],
    }
}

#[test]
fn foreign_numbers_and_bits_are_answered() {
    let (i, k, e) = (ink(), keeping(), null_mut);
    const BIT: u32 = 1 << 31;
    let bad_ink = FgallStoredInk { set: BIT, ..i };
    let bad_keeping = FgallKeeping { set: BIT, ..k };
    let (bottle, rates) = (vessel(), kinetics());
    let given = course(&bottle, &rates, &[]);
    let bad_course = FgallCourse { set: BIT, ..given };
    let bad_rates = FgallKinetics { set: BIT, ..rates };
    // Closing is for a change, saturating for the beginning.
    let closing = FgallVessel {
        set: FGALL_VESSEL_CLOSED,
        ..bottle
    };
    let saturating = FgallVessel {
        set: FGALL_VESSEL_SATURATED,
        ..bottle
    };
    let only_dissolving = FgallVessel {
        set: FGALL_VESSEL_DISSOLVING,
        ..bottle
    };
    let both = FgallVessel {
        set: FGALL_VESSEL_OPEN | FGALL_VESSEL_CLOSED,
        ..bottle
    };
    let change = |vessel: &FgallVessel| FgallEvent {
        vessel,
        ..event(1.0, FGALL_ACT_CHANGE)
    };
    let changes = [change(&saturating), change(&only_dissolving), change(&both)];
    let with = |vessel, kinetics, events: &[FgallEvent]| {
        walked(&course(vessel, kinetics, events), &[3.0], null_mut()).0
    };
    let day = 1.0;
    let column = FgallColumn {
        data: &day,
        stride_bytes: 0,
    };
    for status in [
        with(&closing, &rates, &[]),
        with(&bottle, &bad_rates, &[]),
        with(&bottle, &rates, &changes[..1]),
        with(&bottle, &rates, &changes[1..2]),
        with(&bottle, &rates, &[event(1.0, 0)]),
        with(&bottle, &rates, &[event(1.0, 9)]),
        walked(&bad_course, &[3.0], null_mut()).0,
    ] {
        assert_eq!(status, FGALL_FOREIGN_VALUE);
    }
    assert_eq!(with(&bottle, &rates, &changes[2..]), FGALL_EITHER_OR);
    for foreign in [11, 99, u32::MAX] {
        let sighting = FgallSighting {
            at_days: 1.0,
            kind: foreign,
            left_share: 0.9,
            u_share: 0.1,
        };
        let asked = measure(foreign);
        let mut bought = core::mem::MaybeUninit::<FgallBought>::uninit();
        for (name, status) in answers! {
            fgall_keeping_bound(&bad_ink, &k, &mut init(), e());
            fgall_keeping_bound(&i, &bad_keeping, &mut init(), e());
            fgall_measure_text(&asked, null_mut(), 0, &mut 0, e());
            fgall_measure_caution(&asked, null_mut(), 0, &mut 0, e());
            fgall_measures_rank(&i, &k, &asked, 1, 3, bought.as_mut_ptr(), e());
            fgall_fit(&i, &k, &sighting, 1, &mut init(), e());
            fgall_iron_law_source(foreign, null_mut(), 0, &mut 0, e());
            fgall_iron_law_constant(foreign, 20.0, 2.0, 0.0, &mut 0.0, null_mut(), e());
            fgall_forecast_rows(
                &i, &k, 3, &foreign, &column, 1, 0, null_mut(), 0, null_mut(), 0, null_mut(), e(),
            );
        } {
            assert_eq!(status, FGALL_FOREIGN_VALUE, "{name}");
        }
    }
    for kind in [0, 11] {
        let asked = measure(kind);
        // SAFETY: locals.
        let status = unsafe { fgall_measure_text(&asked, null_mut(), 0, &mut 0, e()) };
        assert_eq!(status, FGALL_FOREIGN_VALUE);
    }
}

#[test]
fn names_that_do_not_exist_are_answered() {
    let (i, k, e) = (ink(), keeping(), null_mut);
    // Not UTF-8, and without a NUL up to the end of the array.
    let mut letters = measure(FGALL_MEASURE_SCAVENGE);
    letters.id = [-1 as _; FGALL_NAME_BYTES];
    let mut endless = measure(FGALL_MEASURE_CLOSURE);
    endless.id = [b'x' as c_char; FGALL_NAME_BYTES];
    // SAFETY: locals.
    unsafe {
        let said = fgall_measure_text(&letters, null_mut(), 0, &mut 0, e());
        assert_eq!(said, FGALL_NOT_UTF8);
        let said = fgall_measure_text(&endless, null_mut(), 0, &mut 0, e());
        assert_eq!(said, FGALL_UNKNOWN_NAME);
        let said = fgall_scavenger_note(c"\xff".as_ptr(), null_mut(), 0, &mut 0, e());
        assert_eq!(said, FGALL_NOT_UTF8);
        let said = fgall_scavenger_id(usize::MAX, null_mut(), 0, &mut 0, e());
        assert_eq!(said, FGALL_NO_SUCH_INDEX);
    }
    let no_ink = FgallStoredInk {
        scavenger: c"brandy".as_ptr(),
        ..i
    };
    let no_cap = FgallKeeping {
        closure: c"chewing gum".as_ptr(),
        ..k
    };
    let cap_and_wall = FgallKeeping {
        set: FGALL_BOTTLE_WALL,
        ..k
    };
    let empty = measure(FGALL_MEASURE_SCAVENGE);
    for (name, status) in answers! {
        fgall_keeping_bound(&no_ink, &k, &mut init(), e());
        fgall_keeping_bound(&i, &no_cap, &mut init(), e());
        fgall_scavenger_note(c"".as_ptr(), null_mut(), 0, &mut 0, e());
        fgall_measure_text(&empty, null_mut(), 0, &mut 0, e());
    } {
        assert_eq!(status, FGALL_UNKNOWN_NAME, "{name}");
    }
    // SAFETY: locals.
    let both = unsafe { fgall_keeping_bound(&i, &cap_and_wall, &mut init(), e()) };
    assert_eq!(both, FGALL_EITHER_OR);
}

/// Calls with a bad number, and the argument that is to blame.
pub fn blames(call: &dyn Fn(f64, *mut FgallError) -> u32, argument: &str) {
    for bad in NUMBERS {
        let mut error: FgallError = init();
        let status = call(bad, &mut error);
        let expected = if bad.is_nan() {
            FGALL_INPUT_NAN
        } else {
            FGALL_OUT_OF_RANGE
        };
        let told = words(&error.argument);
        assert_eq!((status, told.as_str()), (expected, argument), "{bad}");
        assert_eq!(error.value.to_bits(), bad.to_bits(), "{argument}");
        assert!(!words(&error.message).is_empty());
    }
}

/// Each field of a struct by its name, as a bad number.
macro_rules! every_field {
    ($make:expr, $call:expr; $($field:ident),*) => {
        $($crate::c_surface::kept_hostile::blames(
            &|bad, e| {
                let mut given = $make;
                given.$field = bad;
                $call(given, e)
            },
            stringify!($field),
        );)*
    };
}

pub(super) use every_field;

#[test]
fn numbers_that_are_none_are_answered_with_the_argument() {
    let mut forecast: FgallForecast = init();
    let out = &raw mut forecast;
    // SAFETY: locals.
    let of_ink = |i: FgallStoredInk, e| unsafe { fgall_forecast(&i, &keeping(), 3, out, e) };
    every_field!(ink(), of_ink; iron_ii_mol_per_l, galloyl_mol_per_l, ph, iron_iii_mol_per_l,
        ionic_strength_mol_per_kg, dissolving_share, assisted_l_per_mol_s, assisted_factor_95,
        assisted_ph, assisted_c, scavenger_g_per_l, nail_per_s);
    // SAFETY: locals.
    let of_keeping = |k: FgallKeeping, e| unsafe { fgall_forecast(&ink(), &k, 3, out, e) };
    every_field!(keeping(), of_keeping; capacity_ml, fill_ml, temperature_c, pressure_kpa,
        opened_every_days, air_exchanged_share, drawn_ml, kept_days, iron_per_oxygen,
        stated_share, flushed_share, swing_low_c, swing_high_c, swing_days, surface_cm2,
        lid_leaves_share, season_k);
    let swapped = FgallKeeping {
        swing_low_c: 30.0,
        ..keeping()
    };
    let mut error: FgallError = init();
    assert_eq!(of_keeping(swapped, &mut error), FGALL_OUT_OF_RANGE);
    assert_eq!(
        (words(&error.argument).as_str(), error.value),
        ("swing_low_c", 30.0)
    );
    assert_eq!(forecast.draws, 0, "no result is written when there is none");

    let at = |day: f64, kind: u32| {
        let column = FgallColumn {
            data: &day,
            stride_bytes: 0,
        };
        let mut row = [0.0; 15];
        let row = row.as_mut_ptr();
        move |e: *mut FgallError| {
            let column = FgallColumn {
                data: &day,
                ..column
            };
            // SAFETY: locals, room for one row.
            unsafe {
                match kind {
                    0 => fgall_forecast_curve(&ink(), &keeping(), 3, &column, 1, row.cast(), 0, e),
                    _ => fgall_forecast_moments(&ink(), &keeping(), &column, 1, row.cast(), 0, e),
                }
            }
        }
    };
    blames(&|bad, e| at(bad, 0)(e), "at_days");
    blames(&|bad, e| at(bad, 1)(e), "at_days");

    let sighting = || FgallSighting {
        at_days: 1.0,
        kind: FGALL_SEEN_IRON_II,
        left_share: 0.9,
        u_share: 0.1,
    };
    // SAFETY: locals.
    let of_sighting =
        |s: FgallSighting, e| unsafe { fgall_fit(&ink(), &keeping(), &s, 1, &mut init(), e) };
    every_field!(sighting(), of_sighting; at_days, left_share, u_share);

    let text = |m: FgallMeasure, e| {
        let mut needed = 0;
        // SAFETY: locals.
        unsafe { fgall_measure_text(&m, null_mut(), 0, &mut needed, e) }
    };
    every_field!(measure(FGALL_MEASURE_INERT_GAS), text; share);
    every_field!(measure(FGALL_MEASURE_SMALLER_BOTTLE), text; share);
    every_field!(measure(FGALL_MEASURE_OPEN_EVERY), text; every_days);
    every_field!(measure(FGALL_MEASURE_KEEP_AT), text; temperature_c);
    every_field!(measure(FGALL_MEASURE_ACIDIFY), text; ph);
    every_field!(measure(FGALL_MEASURE_SCAVENGE), text; dose_g_per_l);
    every_field!(measure(FGALL_MEASURE_NAIL), text; rate_per_s);

    let outcome = || FgallOutcome {
        lost_share: 0.1,
        days_to_share: f64::NAN,
        openings_to_share: f64::NAN,
        iron_left_share: 0.9,
        sediment_mol_per_l: 0.005,
        iron_iii_mol_per_l: 0.0,
        tannin_left_share: 1.0,
    };
    // SAFETY: locals.
    let of_outcome = |o: FgallOutcome, e| unsafe { fgall_rescue(&ink(), &o, &mut init(), e) };
    every_field!(outcome(), of_outcome; lost_share, iron_left_share, sediment_mol_per_l,
        iron_iii_mol_per_l, tannin_left_share);

    let (size, mut choice) = (30.0, core::mem::MaybeUninit::<FgallBottleChoice>::uninit());
    let choices = choice.as_mut_ptr();
    let rank = |store, filled, size: f64, e| {
        // SAFETY: locals, room for one.
        unsafe { fgall_bottles_rank(&ink(), &keeping(), store, filled, &size, 1, choices, e) }
    };
    blames(&|bad, e| rank(bad, 0.9, size, e), "store_ml");
    blames(&|bad, e| rank(500.0, bad, size, e), "filled_to_share");
    blames(&|bad, e| rank(500.0, 0.9, bad, e), "capacities_ml");

    // SAFETY: locals.
    let law = |t, ph, salt, e| unsafe {
        fgall_iron_law_constant(1, t, ph, salt, &mut 0.0, null_mut(), e)
    };
    // SAFETY: locals.
    let span = |t, ph, salt, e| unsafe { fgall_inorganic_rate(t, ph, salt, &mut init(), e) };
    blames(&|bad, e| law(bad, 2.0, 0.1, e), "temperature_c");
    blames(&|bad, e| law(20.0, bad, 0.1, e), "ph");
    blames(
        &|bad, e| law(20.0, 2.0, bad, e),
        "ionic_strength_mol_per_kg",
    );
    blames(&|bad, e| span(bad, 2.0, 0.1, e), "temperature_c");
    blames(&|bad, e| span(20.0, bad, 0.1, e), "ph");
    blames(
        &|bad, e| span(20.0, 2.0, bad, e),
        "ionic_strength_mol_per_kg",
    );
}

#[test]
fn numbers_of_a_course_are_answered_with_the_argument() {
    let (bottle, rates) = (vessel(), kinetics());
    let of_vessel = |v: FgallVessel, e| walked(&course(&v, &rates, &[]), &[3.0], e).0;
    every_field!(vessel(), of_vessel; liquid_ml, gas_ml, temperature_c, pressure_kpa,
        dissolving_share, transfer_l_per_s, conductance_mol_per_s_atm, breathing_per_s);
    let of_rates = |k: FgallKinetics, e| walked(&course(&bottle, &k, &[]), &[3.0], e).0;
    every_field!(kinetics(), of_rates; oxidation_l_per_mol_s, oxidation_by_two_l2_per_mol2_s,
        reduction_l_per_mol_s, settling_per_s, soluble_mol_per_l, metal_per_s,
        scavenging_l_per_mol_s, rest_from_phenol_share, activation_kj_per_mol,
        oxygen_per_scavenger, iron_per_oxygen, valid_at_c);
    let of_contents = |contents: FgallContents, e| {
        let given = FgallCourse {
            contents,
            ..course(&bottle, &rates, &[])
        };
        walked(&given, &[3.0], e).0
    };
    every_field!(contents(), of_contents; iron_ii_mmol, iron_iii_mmol, sediment_mmol,
        oxygen_dissolved_mmol, oxygen_gas_mmol, phenol_electrons_mmol, scavenger_mmol,
        other_electrons_mmol, oxygen_in_mmol, metal_iron_mmol);
    let of_event = |event: FgallEvent, e| walked(&course(&bottle, &rates, &[event]), &[3.0], e).0;
    every_field!(event(1.0, FGALL_ACT_SHAKE), of_event; at_days);
    every_field!(event(1.0, FGALL_ACT_POUR), of_event; volume_ml);
    every_field!(event(1.0, FGALL_ACT_DISPLACE), of_event; volume_ml);
    every_field!(event(1.0, FGALL_ACT_TOP_UP), of_event; volume_ml);
    every_field!(event(1.0, FGALL_ACT_EXCHANGE), of_event; share);
    every_field!(event(1.0, FGALL_ACT_FLUSH), of_event; share);
    let whole = FgallCourse {
        set: FGALL_COURSE_TOLERANCE | FGALL_COURSE_WATCHED,
        tolerance: 1e-6,
        watched_share: 0.5,
        ..course(&bottle, &rates, &[])
    };
    let of_course = |given: FgallCourse, e| walked(&given, &[3.0], e).0;
    every_field!(whole, of_course; tolerance, watched_share);
    blames(&|bad, e| walked(&whole, &[bad], e).0, "at_days");
}

#[test]
fn huge_counts_are_answered() {
    let (i, k, e) = (ink(), keeping(), null_mut);
    let day = 1.0;
    let column = FgallColumn {
        data: &day,
        stride_bytes: 0,
    };
    let many = usize::MAX;
    let (bottle, rates) = (vessel(), kinetics());
    let given = course(&bottle, &rates, &[]);
    let endless = FgallCourse {
        events: odd::<FgallEvent>().wrapping_byte_add(7),
        event_count: many,
        ..given
    };
    let mut row = [0.0; 15];
    let row: *mut f64 = row.as_mut_ptr();
    let some = odd::<FgallMeasure>().wrapping_byte_add(7);
    let sights = odd::<FgallSighting>().wrapping_byte_add(7);
    let numbers = odd::<u32>().wrapping_byte_add(7);
    for (name, status) in answers! {
        fgall_forecast(&i, &k, 0, &mut init(), e());
        fgall_forecast(&i, &k, 1_000_001, &mut init(), e());
        fgall_forecast_curve(&i, &k, 3, &column, many, row.cast(), 96, e());
        fgall_forecast_curve(&i, &k, 1_000_000, &column, 2, row.cast(), 96, e());
        fgall_forecast_curve(&i, &k, 3, &column, 2, row.cast(), 8, e());
        fgall_forecast_moments(&i, &k, &column, 1 << 40, row.cast(), 120, e());
        fgall_measures_rank(&i, &k, some, many, 3, row.cast(), e());
        fgall_bottles_rank(&i, &k, 1.0, 0.9, &day, many, row.cast(), e());
        fgall_fit(&i, &k, sights, many, &mut init(), e());
        fgall_fit(&i, &k, null(), 0, &mut init(), e());
        fgall_course(&endless, &column, 1, row.cast(), 120, null_mut(), e());
        fgall_course(&given, &column, many, row.cast(), 120, null_mut(), e());
        fgall_forecast_rows(
            &i, &k, 3, numbers, null(), many, 1, row.cast(), 0, row.cast(), 0, null_mut(), e(),
        );
        fgall_forecast_rows(
            &i, &k, 1_000_001, null(), null(), 0, 0, row.cast(), 0, row.cast(), 0, null_mut(), e(),
        );
    } {
        assert_eq!(status, FGALL_OUT_OF_RANGE, "{name}");
    }
}

/// Extremes that are allowed: an answer or a refusal, nothing infinite.
#[test]
fn extremes_are_survived() {
    let mut statuses = std::collections::BTreeSet::new();
    for dissolving_share in [0.0, 1e-300, 1.0] {
        for (galloyl, assisted) in [(0.0, 1e-12), (1e-9, 1e12), (10.0, 1e12), (10.0, 1e-12)] {
            let ink = FgallStoredInk {
                iron_ii_mol_per_l: 10.0,
                galloyl_mol_per_l: galloyl,
                dissolving_share,
                assisted_l_per_mol_s: assisted,
                assisted_factor_95: 1e6,
                nail_per_s: 1e12,
                ..ink()
            };
            for fill_ml in [1e-3, 60.0] {
                let keeping = FgallKeeping {
                    fill_ml,
                    drawn_ml: fill_ml,
                    flushed_share: 1.0,
                    lid_leaves_share: 0.0,
                    surface_cm2: 1e-5,
                    kept_days: 10.0,
                    opened_every_days: 4.0,
                    ..keeping()
                };
                let mut f: FgallForecast = init();
                // SAFETY: locals.
                let status = unsafe { fgall_forecast(&ink, &keeping, 2, &mut f, null_mut()) };
                statuses.insert(status);
                let figures = [
                    f.bound_share,
                    f.typical.lost_share,
                    f.lost_low_share,
                    f.lost_high_share,
                    f.days_to_share_low,
                    f.days_to_share_high,
                    f.typical.sediment_mol_per_l,
                    f.floor.lost_share,
                ];
                assert!(figures.iter().all(|x| !x.is_infinite()), "{figures:?}");
                if status == FGALL_OK {
                    assert!((0.0..=1.0).contains(&f.typical.lost_share));
                }
            }
        }
    }
    let allowed = [FGALL_OK, FGALL_OUT_OF_RANGE, FGALL_NOT_FOLLOWED];
    assert!(statuses.iter().all(|s| allowed.contains(s)), "{statuses:?}");
}
