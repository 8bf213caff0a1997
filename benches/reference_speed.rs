#![allow(missing_docs, clippy::expect_used)]
//! Our half of `benches/reference_speed.py`, which writes what to solve and
//! reads the answers and times; by itself it has nothing to do.

use ferrogall::equilibrium::{ConstantSet, DebyeHuckel, Master, Solver, Speciation, Totals};
use ferrogall::quantity::{ReadMolality, celsius, moles_per_kilogram};
use serde_json::{Map, Value, json};
use std::hint::black_box;
use std::time::Instant;

const REPEATS: usize = 7;

fn main() {
    let paths: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| !a.starts_with('-'))
        .collect();
    let [from, to] = paths.as_slice() else {
        println!("reference_speed: run benches/reference_speed.py to compare with another code");
        return;
    };
    let text = std::fs::read_to_string(from).expect("the file of solutions");
    let given: Value = serde_json::from_str(&text).expect("JSON");
    let law = DebyeHuckel {
        a: number(&given["debye_huckel"][0]),
        b: number(&given["debye_huckel"][1]),
    };
    let mut solver = Solver::new(ConstantSet::core(), celsius(25.0))
        .expect("a solver")
        .with_debye_huckel(law);
    let masters: Vec<Master> = list(&given["masters"])
        .iter()
        .map(|m| m.as_str().and_then(Master::from_formula))
        .collect::<Option<_>>()
        .expect("master species");
    let sequences = given["sequences"].as_object().expect("sequences");
    let answers: Map<String, Value> = sequences
        .iter()
        .map(|(name, sequence)| {
            let rows = totals(&masters, &sequence["totals"]);
            let warm = sequence["warm"] == true;
            let least = number(&sequence["seconds"]);
            (name.clone(), timed(&mut solver, &rows, warm, least))
        })
        .collect();
    std::fs::write(to, Value::from(answers).to_string()).expect("the file of answers");
}

fn list(v: &Value) -> &[Value] {
    v.as_array().map_or(&[], |a| a)
}

fn number(v: &Value) -> f64 {
    v.as_f64().expect("a number")
}

fn totals(masters: &[Master], rows: &Value) -> Vec<Totals> {
    let row = |row: &Value| {
        let pairs = masters.iter().zip(list(row));
        pairs.fold(Totals::new(), |totals, (master, value)| {
            let value = moles_per_kilogram(number(value));
            totals.with(*master, value).expect("a total in range")
        })
    };
    list(rows).iter().map(row).collect()
}

/// Best time of several, ns a solution, and the answers of the last. Each of
/// them goes over the rows for at least so many seconds: on a busy machine a
/// shorter run would find a quiet moment that a longer one cannot.
fn timed(solver: &mut Solver, rows: &[Totals], warm: bool, least: f64) -> Value {
    let figures = |s: Speciation| (s.ph(), s.ionic_strength().in_moles_per_kilogram());
    let mut answers = vec![(f64::NAN, f64::NAN); rows.len()];
    let mut best = f64::INFINITY;
    for _ in 0..REPEATS {
        let start = Instant::now();
        let mut solved = 0;
        while solved == 0 || start.elapsed().as_secs_f64() < least {
            for (answer, row) in answers.iter_mut().zip(rows) {
                let row = black_box(row);
                let speciation = if warm {
                    solver.follow(row)
                } else {
                    solver.solve(row)
                };
                *answer = figures(speciation.expect("solved"));
            }
            solved += rows.len();
        }
        best = best.min(1e9 * start.elapsed().as_secs_f64() / solved as f64);
    }
    let (ph, ionic_strength): (Vec<f64>, Vec<f64>) = answers.into_iter().unzip();
    json!({ "ns": best, "ph": ph, "ionic_strength": ionic_strength })
}
