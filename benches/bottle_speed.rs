#![allow(missing_docs, clippy::expect_used)]
//! Our half of `benches/bottle_speed.py`: solves and times the bottles of
//! `benches/bottle_cases.json` and writes amounts and times to a file; by
//! itself it has nothing to do.

mod bottle_cases;
#[path = "../tests/bottle_ode/mod.rs"]
mod bottle_ode;

use bottle_cases::{Case, all};
use bottle_ode::amounts;
use serde_json::{Map, Value, json};
use std::hint::black_box;
use std::time::Instant;

const REPEATS: usize = 7;
/// The default, and one at which it errs more as LSODA does at 1e-8.
const TOLERANCES: [f64; 2] = [1e-8, 1e-7];

fn main() {
    let arguments: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| !a.starts_with('-'))
        .collect();
    let [to, least] = arguments.as_slice() else {
        println!("bottle_speed: run benches/bottle_speed.py to compare with SciPy");
        return;
    };
    let least: f64 = least.parse().expect("seconds");
    let answers: Map<String, Value> = all()
        .iter()
        .map(|case| {
            let each = TOLERANCES.map(|tolerance| timed(case, tolerance, least));
            (case.name.clone(), Value::from(each.to_vec()))
        })
        .collect();
    std::fs::write(to, Value::from(answers).to_string()).expect("the file of answers");
}

/// Best time of several, s a bottle, each over at least so many seconds: on a
/// busy machine a shorter run would find a quiet moment that a longer cannot.
fn timed(case: &Case, tolerance: f64, least: f64) -> Value {
    let course = case.course().with_tolerance(tolerance);
    let course = course.expect("a tolerance");
    let mut rows = Vec::with_capacity(case.outputs.len());
    let mut summary = case.ours(&course, &mut rows);
    let mut best = f64::INFINITY;
    for _ in 0..REPEATS {
        let start = Instant::now();
        let mut solved = 0;
        while solved == 0 || start.elapsed().as_secs_f64() < least {
            summary = case.ours(black_box(&course), &mut rows);
            solved += 1;
        }
        best = best.min(start.elapsed().as_secs_f64() / f64::from(solved));
    }
    let rows: Vec<_> = rows.iter().map(amounts).collect();
    json!({
        "tolerance": tolerance,
        "seconds": best,
        "steps": summary.steps,
        "evaluations": summary.evaluations,
        "amounts": rows,
    })
}
