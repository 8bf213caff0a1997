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

criterion_group!(benches, bottles);
criterion_main!(benches);
