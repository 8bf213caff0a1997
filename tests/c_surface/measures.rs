//! Measures, bottles and rate laws through the C surface: what Rust says.

use super::forecasts::{bits, bottle_here, ink, ink_here, keeping, same_outcome, used_here};
use super::room::*;
use core::ffi::{CStr, c_char};
use core::ptr::null_mut;
use ferrogall::capi::*;
use ferrogall::oxidation::*;
use ferrogall::quantity::*;

fn measure(kind: u32) -> FgallMeasure {
    FgallMeasure {
        kind,
        share: f64::NAN,
        every_days: f64::NAN,
        temperature_c: f64::NAN,
        ph: f64::NAN,
        dose_g_per_l: f64::NAN,
        rate_per_s: f64::NAN,
        id: [0; FGALL_NAME_BYTES],
    }
}

fn with_id(id: &CStr, measure: FgallMeasure) -> FgallMeasure {
    let mut letters = [0; FGALL_NAME_BYTES];
    for (to, from) in letters.iter_mut().zip(id.to_bytes()) {
        *to = *from as c_char;
    }
    FgallMeasure {
        id: letters,
        ..measure
    }
}

/// Every kind of measure, in C and in Rust; two of them equal.
fn measures() -> Vec<(FgallMeasure, Measure)> {
    let share = |x| Share::new(x).unwrap();
    let of = |kind, x| FgallMeasure {
        share: x,
        ..measure(kind)
    };
    let sulfite = scavengers().iter().find(|s| s.id == "sodium_sulfite");
    let cap = closures().iter().find(|c| c.id == "drink_bottle_cap");
    vec![
        (
            of(FGALL_MEASURE_SMALLER_BOTTLE, 0.9),
            Measure::SmallerBottle {
                filled_to: share(0.9),
            },
        ),
        (measure(FGALL_MEASURE_BEADS), Measure::Beads),
        (
            of(FGALL_MEASURE_INERT_GAS, 0.8),
            Measure::InertGas {
                replacing: share(0.8),
            },
        ),
        (
            of(FGALL_MEASURE_FLOATING_LID, 0.1),
            Measure::FloatingLid {
                leaving_free: share(0.1),
            },
        ),
        (
            measure(FGALL_MEASURE_CLOSURE),
            Measure::Closure(Closure::SEALED_GLASS),
        ),
        (
            with_id(c"drink_bottle_cap", measure(FGALL_MEASURE_CLOSURE)),
            Measure::Closure(Closure::of(cap.unwrap())),
        ),
        (
            FgallMeasure {
                every_days: 20.0,
                ..measure(FGALL_MEASURE_OPEN_EVERY)
            },
            Measure::OpenEvery(days(20.0)),
        ),
        (
            FgallMeasure {
                temperature_c: 8.0,
                ..measure(FGALL_MEASURE_KEEP_AT)
            },
            Measure::KeepAt(celsius(8.0)),
        ),
        (
            FgallMeasure {
                ph: 1.7,
                ..measure(FGALL_MEASURE_ACIDIFY)
            },
            Measure::Acidify { to_ph: 1.7 },
        ),
        (
            with_id(
                c"sodium_sulfite",
                FgallMeasure {
                    dose_g_per_l: 0.3,
                    ..measure(FGALL_MEASURE_SCAVENGE)
                },
            ),
            Measure::Scavenge {
                scavenger: *sulfite.unwrap(),
                dose: grams_per_liter(0.3),
            },
        ),
        (
            FgallMeasure {
                rate_per_s: 1e-6,
                ..measure(FGALL_MEASURE_NAIL)
            },
            Measure::Nail {
                rate: FirstOrder::per_second(1e-6).unwrap(),
            },
        ),
        (measure(FGALL_MEASURE_BEADS), Measure::Beads),
    ]
}

#[test]
fn measures_say_what_rust_says() {
    for (c, rust) in measures() {
        // SAFETY: as `said` promises.
        let (text, caution) = unsafe {
            (
                said(|b, n, k| fgall_measure_text(&c, b, n, k, null_mut())),
                said(|b, n, k| fgall_measure_caution(&c, b, n, k, null_mut())),
            )
        };
        assert_eq!(text, rust.in_words());
        assert_eq!(caution, rust.caution().unwrap_or(""));
    }
    for row in scavengers() {
        let id = std::ffi::CString::new(row.id).unwrap();
        // SAFETY: as `said` promises.
        let note =
            said(|b, n, k| unsafe { fgall_scavenger_note(id.as_ptr(), b, n, k, null_mut()) });
        assert_eq!(note, row.note);
    }
    let (mut count, mut ids) = (0, Vec::new());
    // SAFETY: locals.
    unsafe {
        assert_eq!(fgall_scavenger_count(&mut count, null_mut()), FGALL_OK);
        for i in 0..count {
            ids.push(said(|b, n, k| fgall_scavenger_id(i, b, n, k, null_mut())));
        }
    }
    assert_eq!(ids, scavengers().iter().map(|s| s.id).collect::<Vec<_>>());
}

#[test]
fn what_measures_buy_is_that_of_rust() {
    let (given, here): (Vec<_>, Vec<_>) = measures().into_iter().unzip();
    let mut bought = vec![core::mem::MaybeUninit::<FgallBought>::uninit(); given.len()];
    // SAFETY: locals, room for all.
    let bought = unsafe {
        let (first, out) = (given.as_ptr(), bought.as_mut_ptr().cast());
        let (n, e) = (given.len(), null_mut());
        let done = fgall_measures_rank(&ink(), &keeping(), first, n, 9, out, e);
        assert_eq!(done, FGALL_OK);
        bought.iter().map(|b| b.assume_init()).collect::<Vec<_>>()
    };
    let bottle = bottle_here().build().unwrap();
    let rust = rank_measures(&ink_here(), &bottle, &here, 9).unwrap();
    assert_eq!(bought.len(), rust.len());
    for (c, rust) in bought.iter().zip(&rust) {
        let place = here.iter().position(|m| *m == rust.measure).unwrap();
        assert_eq!(c.measure.kind, given[place].kind);
        bits(c.measure.share, given[place].share);
        assert_eq!(c.measure.id, given[place].id);
        same_outcome(&c.typical, &rust.typical);
        bits(c.bound_share, rust.bound.value());
        bits(c.saved_share, rust.saved);
        bits(c.saved_low_share, rust.saved_spread.low);
        bits(c.saved_high_share, rust.saved_spread.high);
    }
}

#[test]
fn usual_measures_are_those_of_rust() {
    let mut plain = keeping();
    plain.set &= !(FGALL_KEEPING_BEADS | FGALL_KEEPING_FLUSHED);
    let usual: Vec<FgallMeasure> = listed(|a, n, k| {
        // SAFETY: as `listed` promises.
        unsafe { fgall_measures_usual(&ink(), &plain, a, n, k, null_mut()) }
    });
    let here = bottle_here().flushed_with_inert_gas(Share::ZERO);
    let here = Measure::usual(&ink_here(), &here.build().unwrap());
    // Rust's bottle still has its beads.
    let rust: Vec<String> = here.iter().map(Measure::in_words).collect();
    let c: Vec<String> = usual
        .iter()
        // SAFETY: as `said` promises.
        .map(|m| said(|b, n, k| unsafe { fgall_measure_text(m, b, n, k, null_mut()) }))
        .filter(|text| *text != Measure::Beads.in_words())
        .collect();
    assert_eq!(c, rust);
    assert_eq!(usual.len(), rust.len() + 1);
    // What is suggested can be asked about.
    let mut bought = vec![core::mem::MaybeUninit::<FgallBought>::uninit(); usual.len()];
    // SAFETY: locals, room for all.
    let done = unsafe {
        let (first, n) = (usual.as_ptr(), usual.len());
        let out = bought.as_mut_ptr().cast();
        fgall_measures_rank(&ink(), &plain, first, n, 3, out, null_mut())
    };
    assert_eq!(done, FGALL_OK);
}

#[test]
fn bottles_for_a_store_are_those_of_rust() {
    let sizes = [30.0, 250.0, 100.0];
    let used = FgallKeeping {
        capacity_ml: f64::NAN,
        fill_ml: f64::NAN,
        ..keeping()
    };
    let mut choices = [core::mem::MaybeUninit::<FgallBottleChoice>::uninit(); 3];
    // SAFETY: locals, room for all.
    let choices = unsafe {
        let out = choices.as_mut_ptr().cast();
        let (first, e) = (sizes.as_ptr(), null_mut());
        let done = fgall_bottles_rank(&ink(), &used, 500.0, 0.9, first, 3, out, e);
        assert_eq!(done, FGALL_OK);
        choices.map(|c| c.assume_init())
    };
    let store = milliliters(500.0);
    let filled = Share::new(0.9).unwrap();
    let rust = rank_bottles(
        &ink_here(),
        store,
        filled,
        &sizes.map(milliliters),
        used_here,
    );
    for (c, rust) in choices.iter().zip(&rust.unwrap()) {
        assert!(sizes.contains(&c.capacity_ml));
        assert_eq!(milliliters(c.capacity_ml), rust.capacity);
        bits(c.fill_ml, rust.fill.in_milliliters());
        assert_eq!(c.bottles, rust.bottles);
        bits(c.waits_days, rust.waits.in_days());
        bits(c.lost_in_use_share, rust.lost_in_use.value());
        bits(c.bound_share, rust.bound.value());
    }
}

const LAWS: [u32; 6] = [
    FGALL_LAW_PARALLEL_PATHWAYS,
    FGALL_LAW_STUMM_LEE,
    FGALL_LAW_ACID_PLATEAU,
    FGALL_LAW_PLATEAU_AND_HYDROXIDE,
    FGALL_LAW_MILLERO,
    FGALL_LAW_MORGAN_LAHAV,
];

#[test]
fn rate_laws_are_those_of_rust() {
    let mut held = 0;
    for ph in [2.2, 6.5, 8.5] {
        let milieu = Milieu::new(celsius(22.0), ph).unwrap();
        let milieu = milieu.ionic_strength(moles_per_kilogram(0.1)).unwrap();
        for (number, law) in LAWS.into_iter().zip(IronLaw::ALL) {
            let (mut k, mut factor) = (-7.0, -7.0);
            // SAFETY: locals.
            let done = unsafe {
                let (k, factor) = (&raw mut k, &raw mut factor);
                fgall_iron_law_constant(number, 22.0, ph, 0.1, k, factor, null_mut())
            };
            // SAFETY: as `said` promises.
            let source =
                said(|b, n, s| unsafe { fgall_iron_law_source(number, b, n, s, null_mut()) });
            assert_eq!(source, law.source().to_string());
            if let Ok(constant) = law.constant(&milieu) {
                assert_eq!(done, FGALL_OK);
                bits(k, constant.in_l_per_mol_s());
                bits(factor, law.uncertainty_factor(&milieu).unwrap());
                held += 1;
            } else {
                assert_eq!((done, k, factor), (FGALL_OUT_OF_RANGE, -7.0, -7.0));
            }
        }
        let mut c: FgallInorganicRate = init();
        // SAFETY: a local.
        let done = unsafe { fgall_inorganic_rate(22.0, ph, 0.1, &mut c, null_mut()) };
        assert_eq!(done, FGALL_OK);
        let rust = InorganicRate::at(&milieu).unwrap();
        bits(c.low_l_per_mol_s, rust.low.in_l_per_mol_s());
        bits(c.typical_l_per_mol_s, rust.typical.in_l_per_mol_s());
        bits(c.high_l_per_mol_s, rust.high.in_l_per_mol_s());
        let number = |law| IronLaw::ALL.iter().position(|l| *l == law).map(|i| LAWS[i]);
        assert_eq!(Some(c.low_law), number(rust.low_law));
        assert_eq!(Some(c.high_law), number(rust.high_law));
    }
    assert!(held >= 6);
}
