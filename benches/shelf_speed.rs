#![allow(missing_docs, clippy::expect_used)]
//! Our half of `benches/shelf_speed.py`: solves and times the programmes of
//! `tests/data/inverse_problems.json` that have a cost, and writes objectives
//! and times to a file; by itself it has nothing to do.

use ferrogall::formulate::{Program, Unknown};
use serde_json::{Map, Value, json};
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
    let answers: Map<String, Value> = problems
        .iter()
        .filter(|p| !p["c"].is_null())
        .map(|p| {
            (
                p["id"].as_str().expect("an id").to_string(),
                timed(&program(p)),
            )
        })
        .collect();
    std::fs::write(to, Value::from(answers).to_string()).expect("the file of answers");
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
    let mut best = f64::INFINITY;
    let objective = program.minimise().expect("an optimum").objective;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        for _ in 0..REPEATS {
            black_box(black_box(program).minimise().expect("an optimum"));
        }
        best = best.min(start.elapsed().as_secs_f64() / f64::from(REPEATS));
    }
    json!({ "objective": objective, "seconds": best })
}
