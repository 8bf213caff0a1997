#![allow(missing_docs, clippy::expect_used)]
//! What a maker waits for when asking the shelf.

mod shelf_cases;

use criterion::{Criterion, criterion_group, criterion_main};
use ferrogall::composition::criteria;
use ferrogall::formulate::{Objective, Shelf, Wanted};
use ferrogall::quantity::*;
use ferrogall::recipe::Kit;
use shelf_cases::{shelf, small, to_a_ph, wanted};
use std::hint::black_box;

fn ask(c: &mut Criterion) {
    let (shelf, wanted) = (shelf(), wanted());
    let ph = to_a_ph();
    let kit = Kit::new(grams(0.1), milliliters(0.5));
    let rounded = shelf.clone().measured_with(&kit);
    let mut on = |name: &str, shelf: &Shelf, wanted: &Wanted, objective: Objective| {
        c.bench_function(name, |b| {
            b.iter(|| black_box(shelf).make(black_box(wanted), objective));
        });
    };
    on(
        "twelve lots, least cost",
        &shelf,
        &wanted,
        Objective::LeastCost,
    );
    on(
        "twelve lots, fewest weighings",
        &shelf,
        &wanted,
        Objective::FewestWeighings,
    );
    on(
        "twelve lots, least waste",
        &shelf,
        &wanted,
        Objective::LeastWaste,
    );
    let surest = Objective::Surest(criteria()[0]);
    on("twelve lots, surest", &shelf, &wanted, surest);
    on(
        "twelve lots to a pH, least cost",
        &shelf,
        &ph,
        Objective::LeastCost,
    );
    on(
        "twelve lots, whole tenths of a gram",
        &rounded,
        &wanted,
        Objective::LeastCost,
    );
    let (four, small) = small();
    on(
        "four lots, 30 mL, closest in whole tenths",
        &four,
        &small,
        Objective::Closest,
    );
    c.bench_function("the most from twelve lots, and what limits it", |b| {
        b.iter(|| black_box(&shelf).most(black_box(&wanted)));
    });
}

criterion_group!(benches, ask);
criterion_main!(benches);
