#![allow(missing_docs, clippy::expect_used)]
//! What users wait for. Quote ratios within one run; machines are noisy.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use ferrogall::bench::Lot;
use ferrogall::formulate::{Choice, Soak, Targets};
use ferrogall::quantity::*;
use ferrogall::recipe::{
    BatchSheet, BottlePlan, ColumnPlan, Kit, Recipe, RowResult, RowStatus, SheetOptions, Storage,
    smallest_batch,
};
use std::hint::black_box;

struct Bench {
    choice: Choice,
    targets: Targets,
    recipe: Recipe,
    kit: Kit,
}

fn lot(id: &str) -> Lot {
    Lot::of(id).and_then(|l| l.build()).expect("catalogue lot")
}

fn setup() -> Bench {
    let choice = Choice::new(
        &lot("iron_ii_sulfate_heptahydrate"),
        &lot("aleppo_galls"),
        &lot("hard_tap_water"),
    )
    .soaked(Soak::default())
    .gum(&lot("gum_arabic"))
    .acid(&lot("hydrochloric_acid"))
    .preservative(&lot("phenol"));
    let targets = Targets::new(liters(1.0), moles_per_liter(0.054), 0.6)
        .and_then(|t| t.gum(grams_per_liter(10.0)))
        .and_then(|t| t.strong_acid(moles_per_liter(0.034)))
        .and_then(|t| t.preservative(grams_per_liter(1.0)))
        .expect("targets");
    let recipe = choice.formulate(&targets).expect("recipe").recipe;
    Bench {
        choice,
        targets,
        recipe,
        kit: Kit::new(grams(0.1), milliliters(1.0)),
    }
}

fn single(c: &mut Criterion) {
    let b = setup();
    c.bench_function("evaluate one recipe", |x| {
        x.iter(|| black_box(&b.recipe).evaluate().map(|e| e.composition))
    });
    c.bench_function("formulate", |x| {
        x.iter(|| black_box(&b.choice).formulate(black_box(&b.targets)))
    });
    c.bench_function("scale and round", |x| {
        x.iter(|| {
            black_box(&b.recipe)
                .to_volume(milliliters(330.0))
                .and_then(|r| r.rounded(&b.kit))
        })
    });
    c.bench_function("smallest batch", |x| {
        x.iter(|| smallest_batch(black_box(&b.recipe), &b.kit, 20.0))
    });
    let options = SheetOptions {
        kit: Some(b.kit.clone()),
        ..SheetOptions::default()
    };
    c.bench_function("sheet with rounding, as text", |x| {
        x.iter(|| BatchSheet::new(black_box(&b.recipe), &options).map(|s| s.to_string()))
    });
    let kept = SheetOptions {
        bottles: BottlePlan::new(10, milliliters(50.0)).ok(),
        storage: Some(Storage {
            opened_every: Some(days(7.0)),
            drawn_per_opening: milliliters(0.5),
            ..Storage::default()
        }),
        ..options
    };
    c.bench_function("the same with a bottle's year of 52 openings", |x| {
        x.iter(|| BatchSheet::new(black_box(&b.recipe), &kept).map(|s| s.to_string()))
    });
    c.bench_function("one lot from the catalogue", |x| {
        x.iter(|| lot(black_box("iron_ii_sulfate_heptahydrate")))
    });
}

fn columns(c: &mut Criterion) {
    const ROWS: usize = 100_000;
    let ids = [
        "iron_ii_sulfate_heptahydrate",
        "tannic_acid",
        "gallic_acid_monohydrate",
        "gum_arabic",
        "hydrochloric_acid",
        "phenol",
    ];
    let lots: Vec<Lot> = ids.iter().map(|id| lot(id)).collect();
    let refs: Vec<&Lot> = lots.iter().collect();
    let plan = ColumnPlan::new(&refs, &lot("distilled_water")).expect("plan");
    let masses: Vec<Vec<f64>> = (0..ids.len())
        .map(|j| {
            (0..ROWS)
                .map(|i| 1.0 + (i % 97) as f64 * 0.01 * (j + 1) as f64)
                .collect()
        })
        .collect();
    let masses: Vec<&[f64]> = masses.iter().map(|c| c.as_slice()).collect();
    let volume = vec![1000.0; ROWS];
    let mut rows = vec![RowResult::NAN; ROWS];
    let mut status = vec![RowStatus::Ok; ROWS];

    let mut group = c.benchmark_group("columns, 100,000 recipes of 6 lots");
    group.throughput(Throughput::Elements(ROWS as u64));
    group.bench_function("one core", |x| {
        x.iter(|| plan.evaluate(&masses, &volume, &mut rows, &mut status))
    });
    #[cfg(feature = "rayon")]
    group.bench_function("all cores", |x| {
        x.iter(|| plan.evaluate_parallel(&masses, &volume, &mut rows, &mut status))
    });
    group.finish();
}

criterion_group!(benches, single, columns);
criterion_main!(benches);
