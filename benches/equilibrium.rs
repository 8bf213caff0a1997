#![allow(missing_docs, clippy::expect_used)]
//! pH and species. Quote ratios within one run; machines are noisy.
//! `reference_speed.py` compares with another code.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use ferrogall::bench::Lot;
use ferrogall::composition::Composition;
use ferrogall::equilibrium::{ConstantSet, EquilibriumRow, Master, Solver, Totals};
use ferrogall::quantity::*;
use ferrogall::recipe::RowStatus;
use std::hint::black_box;

/// Three cases of `tests/data/equilibrium_reference.json`, mol per kg of water.
const CASES: [(&str, &[(Master, f64)]); 3] = [
    (
        "I02, iron(II) sulfate in hydrochloric acid",
        &[
            (Master::IronII, 0.054),
            (Master::Sulfate, 0.054),
            (Master::Chloride, 0.036),
        ],
    ),
    (
        "I05, a tenth of the iron oxidised, no acid",
        &[
            (Master::IronII, 0.054),
            (Master::IronIII, 0.006),
            (Master::Sulfate, 0.063),
        ],
    ),
    (
        "G06, with gallic and hydrochloric acid",
        &[
            (Master::IronII, 0.0513),
            (Master::IronIII, 0.0027),
            (Master::Sulfate, 0.05535),
            (Master::Chloride, 0.036),
            (Master::Gallate, 0.020),
        ],
    ),
];

fn totals(of: &[(Master, f64)]) -> Totals {
    of.iter().fold(Totals::new(), |totals, (master, m)| {
        let m = moles_per_kilogram(*m);
        totals.with(*master, m).expect("a total in range")
    })
}

fn solver(set: ConstantSet) -> Solver {
    Solver::new(set, celsius(25.0)).expect("a solver")
}

fn part(id: &str, g: f64) -> Composition {
    let lot = Lot::of(id).and_then(|l| l.build()).expect("catalogue lot");
    lot.composition(grams(g)).expect("composition")
}

/// An ink with all that a workshop puts into one, about a litre.
fn ink() -> Composition {
    [
        ("iron_ii_sulfate_heptahydrate", 15.0),
        ("tannic_acid", 12.0),
        ("gallic_acid_monohydrate", 3.0),
        ("gum_arabic", 10.0),
        ("hydrochloric_acid", 4.0),
        ("phenol", 1.0),
    ]
    .iter()
    .fold(part("hard_tap_water", 970.0), |ink, (id, g)| {
        ink.mixed_with(&part(id, *g))
    })
}

/// Without a guess; the layout of the mixture is kept, or laid out anew when
/// two mixtures take turns.
fn cold(c: &mut Criterion) {
    let mut group = c.benchmark_group("solve, layout kept");
    for (name, case) in CASES {
        let (case, mut solver) = (totals(case), solver(ConstantSet::core()));
        group.bench_function(name, |x| {
            x.iter(|| solver.solve(black_box(&case)).map(|s| s.ph()))
        });
    }
    group.finish();

    let mut group = c.benchmark_group("solve, fresh layout");
    for (name, case) in CASES {
        // The same with a trace of potassium is another mixture.
        let first = totals(case);
        let trace = moles_per_kilogram(1e-6);
        let second = first.with(Master::Potassium, trace).expect("a trace");
        let mut solver = solver(ConstantSet::core());
        let mut turn = 0_usize;
        group.bench_function(name, |x| {
            x.iter(|| {
                turn ^= 1;
                let case = [&first, &second][turn];
                solver.solve(black_box(case)).map(|s| s.ph())
            })
        });
    }
    group.finish();
}

/// From the last answer, totals up and down by 2 to 3.5 % from one to the next.
fn warm(c: &mut Criterion) {
    let mut group = c.benchmark_group("follow, steps of a few per cent");
    for (name, case) in CASES {
        let sequence: Vec<Totals> = (0..64)
            .map(|i| {
                let factor = 1.0 + 0.005 * f64::from(i * 7 % 11);
                let scaled = case.iter().map(|(master, m)| (*master, m * factor));
                totals(&scaled.collect::<Vec<_>>())
            })
            .collect();
        let mut solver = solver(ConstantSet::core());
        let mut next = 0_usize;
        group.bench_function(name, |x| {
            x.iter(|| {
                next = (next + 1) % sequence.len();
                solver.follow(black_box(&sequence[next])).map(|s| s.ph())
            })
        });
    }
    group.finish();
}

/// What one ink costs, with the reviewed constants.
fn one_ink(c: &mut Criterion) {
    c.bench_function("a solver with the reviewed constants", |x| {
        x.iter(|| Solver::new(ConstantSet::reviewed(), black_box(celsius(25.0))))
    });
    let ink = ink();
    let totals = Totals::of_composition(&ink).expect("totals");
    let mut solver = solver(ConstantSet::reviewed());
    c.bench_function("solve the ink", |x| {
        x.iter(|| solver.solve(black_box(&totals)).map(|s| s.ph()))
    });
    c.bench_function("interval of its pH", |x| {
        x.iter(|| solver.interval(black_box(&totals), |s| s.ph()))
    });
    c.bench_function("from its composition to the full report", |x| {
        x.iter(|| solver.report(black_box(&ink)))
    });
}

/// Rows of totals, each solved without a guess.
fn columns(c: &mut Criterion) {
    const ROWS: usize = 10_000;
    let components = [
        Master::IronII,
        Master::IronIII,
        Master::Sulfate,
        Master::Chloride,
        Master::Gallate,
    ];
    let column = |k: usize| -> Vec<f64> {
        let vary = |i: usize| 0.02 * (1.0 + 0.001 * ((i * (k + 7)) % 97) as f64);
        (0..ROWS).map(vary).collect()
    };
    let columns: Vec<Vec<f64>> = (0..components.len()).map(column).collect();
    let columns: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
    let mut solver = solver(ConstantSet::core());
    let mut rows = vec![EquilibriumRow::NAN; ROWS];
    let mut status = vec![RowStatus::Ok; ROWS];

    let mut group = c.benchmark_group("columns, 10,000 solutions of 5 components");
    group.throughput(Throughput::Elements(ROWS as u64));
    group.bench_function("one core", |x| {
        x.iter(|| solver.rows(&components, &columns, &mut rows, &mut status))
    });
    #[cfg(feature = "rayon")]
    group.bench_function("all cores", |x| {
        x.iter(|| solver.rows_parallel(&components, &columns, &mut rows, &mut status))
    });
    group.finish();
}

criterion_group!(benches, cold, warm, one_ink, columns);
criterion_main!(benches);
