//! What a maker waits for: a million inks of one recipe, a budget, advice.
//!
//! `cargo bench --features rayon --bench uncertainty`; quote ratios.

#![allow(clippy::unwrap_used, missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};
use ferrogall::bench::Lot;
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Kit, Portion, Recipe, Solution};
use ferrogall::uncertainty::{Distribution, Inputs, Measurand, MonteCarlo, Study};
use std::hint::black_box;

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

/// Seven lots, a soak, a stock of which a part is used, made up to a mark.
fn recipe() -> Recipe {
    let water = lot("hard_tap_water");
    Recipe::new("a litre of ledger ink")
        .with(
            Solution::new("liquor")
                .extract(Extraction::new(
                    &lot("aleppo_galls"),
                    grams(40.0),
                    &water,
                    milliliters(400.0),
                ))
                .add(&lot("gum_arabic"), grams(10.0))
                .add(&lot("phenol"), grams(1.0)),
        )
        .with(
            Solution::new("iron stock")
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(30.0))
                .add(&lot("hydrochloric_acid"), milliliters(6.0))
                .make_up(&water, milliliters(200.0))
                .use_only(Portion::Volume(milliliters(100.0))),
        )
        .with(Solution::new("colour").add(&lot("soluble_blue"), grams(2.0)))
        .make_up(&water, milliliters(1000.0))
}

fn million(c: &mut Criterion) {
    let recipe = recipe();
    let study = Study::of(&recipe).unwrap();
    let weighed = study
        .weighed_with(&Kit::new(grams(0.01), milliliters(1.0)))
        .unwrap();
    let plan = MonteCarlo::fixed(1, 1_000_000).unwrap();
    let figures = |ink: &ferrogall::composition::Composition| {
        [
            Measurand::IronPerGalloyl.of(ink),
            Measurand::StrongAcid.of(ink),
        ]
    };
    let mut group = c.benchmark_group("a million inks");
    group.sample_size(10);
    group.bench_function("lots and soak, one core", |b| {
        b.iter(|| study.inks(black_box(&plan), figures).unwrap());
    });
    group.bench_function("weighings too, one core", |b| {
        b.iter(|| weighed.inks(black_box(&plan), figures).unwrap());
    });
    #[cfg(feature = "rayon")]
    group.bench_function("lots and soak, all cores", |b| {
        b.iter(|| study.inks_parallel(black_box(&plan), figures).unwrap());
    });
    #[cfg(feature = "rayon")]
    group.bench_function("weighings too, all cores", |b| {
        b.iter(|| weighed.inks_parallel(black_box(&plan), figures).unwrap());
    });
    group.finish();
}

fn answers(c: &mut Criterion) {
    let recipe = recipe();
    let study = Study::of(&recipe).unwrap();
    let plan = MonteCarlo::fixed(1, 10_000).unwrap();
    c.bench_function("evaluate", |b| b.iter(|| recipe.evaluate().unwrap()));
    c.bench_function("budget of iron per galloyl", |b| {
        b.iter(|| study.budget(black_box(Measurand::IronPerGalloyl)).unwrap());
    });
    c.bench_function("advice, 10 000 draws", |b| {
        b.iter(|| study.advice(Measurand::IronPerGalloyl, &plan).unwrap());
    });
    let galls = lot("aleppo_galls");
    let criterion = &ferrogall::composition::criteria()[0];
    c.bench_function("galls for 95 %, 10 000 draws", |b| {
        b.iter(|| study.assured(&galls, criterion, 0.95, &plan).unwrap());
    });
    let mut inputs = Inputs::new();
    let x = inputs
        .add("x", Distribution::normal(1.0, 0.1).unwrap())
        .unwrap();
    let million = MonteCarlo::fixed(1, 1_000_000).unwrap();
    let mut group = c.benchmark_group("plain");
    group.sample_size(10);
    group.bench_function("a million normal draws, sorted", |b| {
        b.iter(|| inputs.monte_carlo(&million, |v| [v[x]]).unwrap());
    });
    group.finish();
}

criterion_group!(benches, million, answers);
criterion_main!(benches);
