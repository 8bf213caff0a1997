//! The bottles of `bottle_cases.json`, for our solver and for that of another crate.
#![allow(clippy::expect_used, dead_code)] // each of those who share it uses a part

use super::bottle_ode::{self, Amounts, Plain};
use differential_equations::prelude::{IVP, ImplicitRungeKutta};
use ferrogall::oxidation::{Act, Contents, Course, Event, Summary};
use ferrogall::quantity::{Share, Time, days, liters};
use serde_json::Value;

const DAY: f64 = 86_400.0;

/// What is done at each opening.
#[derive(Debug, Clone, Copy)]
pub struct Opening {
    pub pour: f64,
    pub exchange: f64,
}

pub struct Case {
    pub name: String,
    pub bottle: Plain,
    pub start: Amounts,
    pub opening: Opening,
    /// Seconds.
    pub openings: Vec<f64>,
    pub outputs: Vec<f64>,
    events: Vec<Event>,
    times: Vec<Time>,
}

pub fn all() -> Vec<Case> {
    let file: Value = serde_json::from_str(include_str!("../bottle_cases.json")).expect("JSON");
    let cases = file["cases"].as_array().expect("cases");
    cases.iter().map(Case::read).collect()
}

fn number(v: &Value) -> f64 {
    v.as_f64().expect("a number")
}

impl Case {
    fn read(case: &Value) -> Case {
        let of = |name: &str| number(&case["bottle"][name]);
        let bottle = Plain {
            liquid: of("liquid"),
            gas: of("gas"),
            open: case["bottle"]["open"] == true,
            transfer: of("transfer"),
            g: of("g"),
            p_amb: of("p_amb"),
            henry: of("henry"),
            k1: of("k1"),
            k2: of("k2"),
            nu: of("nu"),
            k_red: of("k_red"),
            phi: of("phi"),
            k_sed: of("k_sed"),
            soluble: of("soluble"),
            k_a: of("k_a"),
            s_a: of("s_a"),
        };
        let openings = &case["openings"];
        let share = |name: &str| openings[name].as_f64().unwrap_or(0.0);
        let opening = Opening {
            pour: share("pour"),
            exchange: share("exchange"),
        };
        let count = openings["count"].as_u64().unwrap_or(0);
        let at: Vec<f64> = (1..=count)
            .map(|i| i as f64 * share("every_days") * DAY)
            .collect();
        let asked = case["outputs"].as_u64().expect("a number of outputs");
        let outputs: Vec<f64> = (1..=asked)
            .map(|i| number(&case["days"]) * DAY * i as f64 / asked as f64)
            .collect();
        let seconds = |t: &f64| days(1.0) * (t / DAY);
        let acts = [
            Act::Pour(liters(opening.pour)),
            Act::Exchange(Share::new(opening.exchange).expect("a share")),
            Act::Shake,
        ];
        Case {
            name: case["name"].as_str().expect("a name").to_owned(),
            bottle,
            start: std::array::from_fn(|i| number(&case["start"][i])),
            opening,
            events: at
                .iter()
                .flat_map(|t| {
                    acts.map(|act| Event {
                        at: seconds(t),
                        act,
                    })
                })
                .collect(),
            times: outputs.iter().map(seconds).collect(),
            openings: at,
            outputs,
        }
    }

    pub fn course(&self) -> Course<'_> {
        bottle_ode::course(&self.bottle, &self.start)
            .with_events(&self.events)
            .expect("events in order")
    }

    /// Amounts at the outputs; nothing is allocated when there is room for them.
    pub fn ours(&self, course: &Course, rows: &mut Vec<Contents>) -> Summary {
        rows.clear();
        let walked = course.walk(&self.times, |_, m| rows.push(m.contents));
        walked.expect("a course")
    }

    /// The same by Radau5 of another crate, started anew at each opening; with
    /// the number of its evaluations.
    pub fn theirs(&self, rtol: f64) -> (Vec<Amounts>, usize) {
        // Errors count relative to a ten-thousandth of the most, as with ours.
        let atol = bottle_ode::sizes(&self.bottle, &self.start).map(|m| 1e-4 * rtol * m);
        let (mut bottle, mut y, mut now) = (self.bottle, self.start, 0.0);
        let last = self.outputs.last().copied().expect("an output");
        let (mut rows, mut evaluations) = (Vec::with_capacity(self.outputs.len()), 0);
        for end in self.openings.iter().copied().chain([last]) {
            let inside = self.outputs.iter().filter(|&&t| t > now && t < end);
            let points: Vec<f64> = inside.copied().chain([end]).collect();
            let problem = IVP::ode(&bottle, now, end, y).t_eval(&points);
            let radau5 = ImplicitRungeKutta::radau5().rtol([rtol; 9]).atol(atol);
            let solved = problem.method(radau5).solve();
            let solution = solved.expect("solved");
            evaluations += solution.evals.function;
            assert_eq!(solution.y.len(), points.len());
            rows.extend_from_slice(&solution.y[..points.len() - 1]);
            y = solution.y[points.len() - 1];
            now = end;
            if now < last {
                opened(&mut bottle, &mut y, self.opening);
            }
        }
        rows.push(y);
        (rows, evaluations)
    }
}

/// Poured, exchanged, shaken.
fn opened(b: &mut Plain, y: &mut Amounts, opening: Opening) {
    let left = (b.liquid - opening.pour) / b.liquid;
    for i in [0, 1, 2, 3, 5, 6] {
        y[i] *= left;
    }
    b.liquid -= opening.pour;
    b.gas += opening.pour;
    let drawn = b.of_air(opening.pour);
    let gain = opening.exchange * (b.of_air(b.gas) - y[4] - drawn) + drawn;
    y[4] += gain;
    y[8] += gain;
    let all = y[3] + y[4];
    let per_gas = b.henry * b.p_amb * b.liquid / b.of_air(b.gas);
    y[4] = all / (1.0 + per_gas);
    y[3] = all - y[4];
}

/// Largest difference of two sets of rows, of the most of each amount.
pub fn difference(a: &[Amounts], b: &[Amounts]) -> f64 {
    let mut worst = 0.0_f64;
    for i in 0..9 {
        let most = b.iter().map(|y| y[i].abs()).fold(1e-8, f64::max);
        let off = a.iter().zip(b).map(|(a, b)| (a[i] - b[i]).abs());
        worst = off.fold(worst, |w, x| w.max(x / most));
    }
    worst
}
