#![allow(missing_docs, clippy::expect_used)]
//! Our half of `benches/shelf_speed.py`: solves and times the programmes of
//! `tests/data/inverse_problems.json` that have a cost, and the shelves of
//! `benches/shelf_cases`; writes objectives and times to a file, and of the
//! shelves what each lot brings. By itself it has nothing to do.

mod shelf_cases;

use ferrogall::composition::{Bulk, Component, Composition};
use ferrogall::equilibrium::{Master, Totals};
use ferrogall::formulate::{Blend, Goal, Objective, Program, Shelf, Unknown, Wanted};
use ferrogall::quantity::*;
use ferrogall::recipe::Extraction;
use serde_json::{Map, Value, json};
use shelf_cases::{shelf, small, to_a_ph, wanted};
use std::hint::black_box;
use std::time::Instant;

const ROUNDS: usize = 5;
const REPEATS: u32 = 200;

fn main() {
    let to = std::env::args().skip(1).find(|a| !a.starts_with('-'));
    let Some(to) = to else {
        println!("shelf_speed: run benches/shelf_speed.py to compare with SciPy");
        return;
    };
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/data/inverse_problems.json"
    );
    let file = std::fs::read_to_string(file).expect("the problems");
    let file: Value = serde_json::from_str(&file).expect("JSON");
    let problems = file["problems"].as_array().expect("a list");
    let programmes: Map<String, Value> = problems
        .iter()
        .filter(|p| !p["c"].is_null())
        .map(|p| {
            (
                p["id"].as_str().expect("an id").to_string(),
                timed(&program(p)),
            )
        })
        .collect();
    let answers = json!({ "programmes": programmes, "shelves": shelves() });
    std::fs::write(to, answers.to_string()).expect("the file of answers");
}

fn numbers(v: &Value) -> Vec<f64> {
    let all = v
        .as_array()
        .map(|a| a.iter().filter_map(Value::as_f64).collect());
    all.unwrap_or_default()
}

fn program(problem: &Value) -> Program {
    let mut program = Program::new();
    let costs = numbers(&problem["c"]);
    let unknowns: Vec<Unknown> = costs
        .iter()
        .enumerate()
        .map(|(j, &cost)| {
            let low = problem["bounds"][j][0].as_f64().unwrap_or(0.0);
            let high = problem["bounds"][j][1].as_f64().unwrap_or(f64::INFINITY);
            let made = match problem["integrality"][j].as_i64() {
                Some(1) => program.whole(cost, low, high),
                _ => program.real(cost, low, high),
            };
            made.expect("an unknown")
        })
        .collect();
    for (rows, ends, equal) in [("A_ub", "b_ub", false), ("A_eq", "b_eq", true)] {
        let ends = numbers(&problem[ends]);
        let rows = problem[rows].as_array().into_iter().flatten();
        for (row, end) in rows.zip(ends) {
            let terms: Vec<_> = unknowns.iter().copied().zip(numbers(row)).collect();
            let low = if equal { end } else { f64::NEG_INFINITY };
            program.limit(&terms, low, end).expect("a limit");
        }
    }
    program
}

fn timed(program: &Program) -> Value {
    let objective = program.minimise().expect("an optimum").objective;
    let seconds = seconds(|| program.minimise().expect("an optimum"));
    json!({ "objective": objective, "seconds": seconds })
}

/// The best of some rounds.
fn seconds<T>(ask: impl Fn() -> T) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        for _ in 0..REPEATS {
            black_box(ask());
        }
        best = best.min(start.elapsed().as_secs_f64() / f64::from(REPEATS));
    }
    best
}

fn shelves() -> Value {
    let twelve = shelf();
    let (four, bottle) = small();
    let cost = |made: &Blend| made.cost.expect("a price");
    let misses = |made: &Blend| made.figures.iter().map(|f| f.miss.abs()).sum::<f64>();
    let one = |shelf: &Shelf, wanted: &Wanted, objective, figure: &dyn Fn(&Blend) -> f64| {
        let ask = || black_box(shelf).make(black_box(wanted), objective);
        let made = ask().expect("an ink");
        json!({
            "objective": figure(&made),
            "seconds": seconds(ask),
            "volume_l": wanted.volume().in_liters(),
            "windows": windows(wanted),
            "lots": shelf.stocks().iter().map(|s| {
                let mut lot = brought(shelf, s.lot());
                lot["price_per_g"] = json!(s.lot().price().map_or(0.0, |p| p.in_money_per_kilogram() / 1e3));
                lot["on_hand_g"] = json!(s.limit().map(|m| m.in_grams()));
                lot
            }).collect::<Vec<_>>(),
            "water": per_gram(&shelf.water().composition(grams(1.0)).expect("water")),
        })
    };
    json!({
        "least cost": one(&twelve, &wanted(), Objective::LeastCost, &cost),
        "rounding": one(&four, &bottle, Objective::Closest, &misses),
        "to a pH": one(&twelve, &to_a_ph(), Objective::LeastCost, &cost),
    })
}

/// Ends of each window; open ones as null.
fn windows(wanted: &Wanted) -> Value {
    let windows = Goal::ALL.iter().filter_map(|goal| {
        let (low, high) = wanted.window(*goal)?;
        Some((goal.id().to_string(), json!([low, high])))
    });
    Value::from(windows.collect::<Map<_, _>>())
}

/// What a gram of a lot brings into the ink; of galls, its liquor.
fn brought(shelf: &Shelf, lot: &ferrogall::bench::Lot) -> Value {
    if !lot.is_plant() {
        return per_gram(&lot.composition(grams(1.0)).expect("a lot"));
    }
    let soak = Extraction::new(lot, grams(1.0), shelf.water(), grams(10.0));
    per_gram(&soak.run(None).expect("a liquor").liquor)
}

fn per_gram(brings: &Composition) -> Value {
    let water = brings.mass_of(Bulk::Water);
    let mut out = json!({
        "volume": brings.volume().in_liters(),
        "water": water.in_grams(),
        "iron_ii": brings.iron_ii().in_moles(),
        "iron": brings.iron().in_moles() * 55.845,
        "galloyl": brings.galloyl().in_moles(),
        "gallic_acid": brings.amount(Component::GallicAcid).in_moles(),
        "strong_acid": brings.strong_acid().in_moles(),
        "gum": brings.mass_of(Bulk::Gum).in_grams(),
        "dye": brings.mass_of(Bulk::Dye).in_grams(),
        "preservative": brings.preservative().in_grams(),
    });
    // Totals are told for a kilogram of water: enough of it that they are small.
    let plenty = ferrogall::bench::Lot::of("distilled_water").and_then(|w| w.build());
    let plenty = plenty.and_then(|w| Ok(w.composition(kilograms(1.0))?));
    let plenty = plenty.expect("water");
    let diluted = brings.mixed_with(&plenty);
    let kg = diluted.mass_of(Bulk::Water).value;
    let totals = Totals::of_composition(&diluted).expect("totals");
    let masters = Master::ALL.iter().map(|m| {
        let mol = totals.of(*m).in_moles_per_kilogram() * kg;
        (m.formula().to_string(), json!(mol))
    });
    out["masters"] = Value::from(masters.collect::<Map<_, _>>());
    out
}
