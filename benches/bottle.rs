#![allow(missing_docs, clippy::expect_used)]
//! A bottle over a year, by our solver and by the crate `differential-equations`.
//! Quote ratios within one run; machines are noisy. `bottle_speed.py` compares
//! with SciPy.

mod bottle_cases;
#[path = "../tests/bottle_ode/mod.rs"]
mod bottle_ode;

use bottle_cases::{Case, all, difference};
use bottle_ode::{Amounts, amounts};
use criterion::{Criterion, criterion_group, criterion_main};
use ferrogall::oxidation::{Forecaster, Measure, Seen, Sighting, StoredInk, fit, rank_measures};
use ferrogall::quantity::{Share, days, milliliters, moles_per_liter};
use std::hint::black_box;

/// Tolerance of Radau5, with which it errs by about 1e-7. That crate's BDF
/// gives up the stiff bottle and is off by 3e-3 over the openings.
const THEIRS: f64 = 1e-8;

fn ours(case: &Case, tolerance: f64) -> (Vec<Amounts>, u64, u64) {
    let course = case
        .course()
        .with_tolerance(tolerance)
        .expect("a tolerance");
    let mut rows = Vec::new();
    let summary = case.ours(&course, &mut rows);
    let rows = rows.iter().map(amounts).collect();
    (rows, summary.steps, summary.evaluations)
}

/// What each takes, and how far each is from a narrower solution of the other.
fn accuracy(case: &Case) {
    let (exact, _) = case.theirs(1e-13);
    let (rows, steps, evaluations) = ours(case, 1e-8);
    let off = difference(&rows, &exact);
    println!(
        "{}: ours off by {off:.0e}, {steps} steps, {evaluations} evaluations",
        case.name
    );
    let (narrow, ..) = ours(case, 1e-11);
    let (rows, evaluations) = case.theirs(THEIRS);
    let off = difference(&rows, &narrow);
    println!(
        "{}: theirs off by {off:.0e}, {evaluations} evaluations",
        case.name
    );
}

fn bottles(c: &mut Criterion) {
    for case in all() {
        accuracy(&case);
        let mut group = c.benchmark_group(&case.name);
        let course = case.course();
        let mut rows = Vec::with_capacity(case.outputs.len());
        group.bench_function("ours", |x| {
            x.iter(|| case.ours(black_box(&course), &mut rows).steps)
        });
        group.bench_function("theirs", |x| x.iter(|| black_box(&case).theirs(THEIRS)));
        group.finish();
    }
}

/// A year of 52 openings in ten thousand worlds, and what a maker waits for.
fn forecasts(c: &mut Criterion) {
    let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2).expect("an ink");
    let bottle = ink
        .bottle(milliliters(40.0), milliliters(30.0))
        .opened_every(days(7.0))
        .drawn_per_opening(milliliters(0.3))
        .build()
        .expect("a bottle");
    let forecaster = Forecaster::new(&ink, &bottle).expect("openings");
    let mut group = c.benchmark_group("forecast, 52 openings");
    group.bench_function("one world", |x| x.iter(|| black_box(&forecaster).typical()));
    group.sample_size(10);
    let year = || black_box(&forecaster).forecast(10_000).expect("a forecast");
    #[cfg(feature = "rayon")]
    for (name, threads) in [("10000 draws, one core", 1), ("10000 draws, all cores", 0)] {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        let pool = pool.expect("threads");
        group.bench_function(name, |x| x.iter(|| pool.install(year)));
    }
    #[cfg(not(feature = "rayon"))]
    group.bench_function("10000 draws, one core", |x| x.iter(year));
    let measures = Measure::usual(&ink, &bottle);
    group.bench_function("measures ranked, 51 draws", |x| {
        x.iter(|| rank_measures(&ink, &bottle, &measures, 51))
    });
    let seen = [(20.0, 0.9), (60.0, 0.7)].map(|(day, left)| Sighting {
        at: days(day),
        seen: Seen::IronII {
            left: Share::new(left).expect("a share"),
            u: 0.03,
        },
    });
    group.bench_function("fit of two observations", |x| {
        x.iter(|| fit(&ink, &bottle, &seen))
    });
    group.finish();
}

criterion_group!(benches, bottles, forecasts);
criterion_main!(benches);
