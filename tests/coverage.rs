//! Do the intervals hold what they promise? Worlds are drawn, measured with
//! their errors, and the share of intervals that hold the truth is counted.
//!
//! 40 000 worlds tell 95 % to 0.1 % (one standard error); the promise tested is
//! 95 % ± 1 %.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::assay::{Reading, RedoxTitration, Sample, Titrant};
use ferrogall::bench::Lot;
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Recipe, Solution};
use ferrogall::uncertainty::{
    Belief, Distribution, Evidence, Inputs, Measurand, MonteCarlo, Study,
};

const WORLDS: u32 = 40_000;

/// Columns of draws of these distributions, one for each.
fn drawn<const N: usize>(distributions: [Distribution; N]) -> [Vec<f64>; N] {
    let mut inputs = Inputs::new();
    let keys = distributions.map(|d| {
        let name = format!("world {}", inputs.names().count());
        inputs.add(name, d).unwrap()
    });
    let plan = MonteCarlo::fixed(2026, WORLDS).unwrap();
    let samples = inputs.monte_carlo(&plan, |x| keys.map(|k| x[k])).unwrap();
    samples.map(|s| s.drawn().to_vec())
}

fn standard() -> Distribution {
    Distribution::normal(0.0, 1.0).unwrap()
}

#[track_caller]
fn covers(held: usize, worlds: usize) {
    let share = held as f64 / worlds as f64;
    println!(
        "{:.2} % of {worlds} intervals hold the truth",
        100.0 * share
    );
    assert!((share - 0.95).abs() <= 0.01, "{share}");
}

/// A strength from the catalogue, then a titration, then a spot test: after
/// each the interval holds the truth in 95 % of the worlds, and is narrower.
#[test]
fn beliefs_after_one_test_and_two() {
    let prior = Belief::log_normal(0.55, 0.18).unwrap();
    let [strength, titration, low_eye, high_eye] =
        drawn([standard(), standard(), standard(), standard()]);
    let (u_titration, u_eye) = (0.08, 0.12);
    // Additions of a tenth more each, wherever the series happens to begin.
    let step = 1.1_f64.ln();
    let [offset] = drawn([Distribution::rectangular(0.0, 1.0).unwrap()]);
    let mut held = [0; 3];
    for i in 0..WORLDS as usize {
        let truth = 0.55 * (0.18 * strength[i]).exp();
        let holds = |belief: &Belief| {
            let (low, high) = belief.interval();
            usize::from(low <= truth && truth <= high)
        };
        held[0] += holds(&prior);
        let measured = truth * (u_titration * titration[i]).exp();
        let first = prior.updated(&Evidence::value(measured, u_titration * measured).unwrap());
        held[1] += holds(&first);
        // The eye sets both ends off together by its error, half of it each.
        let eye = 0.5_f64.sqrt() * (low_eye[i] + high_eye[i]);
        let seen = truth.ln() + u_eye * eye;
        let below = ((seen / step - offset[i]).floor() + offset[i]) * step;
        let spot = Evidence::between(below.exp(), (below + step).exp(), u_eye).unwrap();
        let second = first.updated(&spot);
        held[2] += holds(&second);
        assert!(first.u_ln() < prior.u_ln() && second.u_ln() < first.u_ln());
    }
    for held in held {
        covers(held, WORLDS as usize);
    }
}

/// A spot test whose scale is in doubt (how much iron a galloyl takes) for wide
/// and narrow beliefs: the error that both limits share is no judging.
#[test]
fn brackets_with_an_error_in_common() {
    let [strength, scale, eye] = drawn([standard(), standard(), standard()]);
    let [offset] = drawn([Distribution::rectangular(0.0, 1.0).unwrap()]);
    let (u_scale, u_eye, step) = (0.43, 0.05, 1.15_f64.ln());
    for u_prior in [2.0, 0.6, 0.3] {
        let prior = Belief::log_normal(1.0, u_prior).unwrap();
        let worlds = 4000;
        let mut held = 0;
        for i in 0..worlds {
            let truth = u_prior * strength[i];
            let seen = truth + u_scale * scale[i] + u_eye * eye[i];
            let below = ((seen / step - offset[i]).floor() + offset[i]) * step;
            let bracket = Evidence::between(below.exp(), (below + step).exp(), u_eye)
                .and_then(|e| e.times(1.0, u_scale))
                .unwrap();
            let (low, high) = prior.updated(&bracket).interval();
            held += usize::from(low.ln() <= truth && truth <= high.ln());
        }
        covers(held, worlds);
    }
}

/// A titration with an uncertain titrant, a buret and a balance.
#[test]
fn titrations() {
    let weighed = Distribution::weighed(0.0, 0.01).unwrap();
    // The difference of two readings, each within 0.05 mL.
    let buret = Distribution::triangular(-0.1, 0.1).unwrap();
    let [titrant, off_g, off_ml, purity] = drawn([
        Distribution::normal(0.02, 0.0001).unwrap(),
        weighed,
        buret,
        Distribution::rectangular(0.6, 1.0).unwrap(),
    ]);
    let mut held = 0;
    let worlds = 20_000;
    for i in 0..worlds {
        let truth = purity[i];
        let shown_g = 0.70;
        let iron_mol = (shown_g + off_g[i]) * truth / 278.006;
        let true_ml = iron_mol / 5.0 / titrant[i] * 1e3;
        let found = RedoxTitration::new(
            Titrant::Permanganate,
            Sample::Salt,
            Reading::standard(moles_per_liter(0.02), moles_per_liter(0.0001)).unwrap(),
            Reading::buret(milliliters(true_ml + off_ml[i]), milliliters(0.05)).unwrap(),
        )
        .purity(
            &Reading::weighed(grams(shown_g), grams(0.01)).unwrap(),
            "FeSO4·7H2O",
        )
        .unwrap();
        let (low, high) = found.interval(0.95).unwrap();
        held += usize::from(low <= truth && truth <= high);
    }
    covers(held, worlds);
}

/// Means of few readings: Student's factor makes up for them.
#[test]
fn few_readings() {
    let [a, b, c, d] = drawn([standard(), standard(), standard(), standard()]);
    let mut held = 0;
    let worlds = 10_000;
    for i in 0..worlds {
        let mut inputs = Inputs::new();
        let readings = Distribution::repeated(&[a[i], b[i], c[i], d[i]]).unwrap();
        let x = inputs.add("readings", readings).unwrap();
        let budget = inputs.first_order(|v| v[x]).unwrap();
        held += usize::from(budget.value().abs() <= budget.expanded(0.95).unwrap());
    }
    covers(held, worlds);
}

/// Inks that were made (other draws of the same recipe) lie in the interval of
/// the study, by first order and by draws.
#[test]
fn inks_that_were_made() {
    let galls = Lot::of("aleppo_galls").unwrap().build().unwrap();
    let salt = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .build()
        .unwrap();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    let recipe = Recipe::new("ledger ink").with(
        Solution::new("ink")
            .extract(Extraction::new(
                &galls,
                grams(30.0),
                &water,
                milliliters(300.0),
            ))
            .add(&salt, grams(15.0)),
    );
    let study = Study::of(&recipe).unwrap();
    let made = MonteCarlo::fixed(77, WORLDS).unwrap();
    let asked = MonteCarlo::fixed(1, WORLDS).unwrap();
    for m in [
        Measurand::IronPerGalloyl,
        Measurand::IronII,
        Measurand::Galloyl,
    ] {
        let answer = study.answer(m, &asked).unwrap();
        let [truth] = study.monte_carlo(&made, [m]).unwrap();
        let held = truth
            .drawn()
            .iter()
            .filter(|x| (answer.low..=answer.high).contains(*x))
            .count();
        println!("{}: {:?}", m.name(), answer.method);
        covers(held, WORLDS as usize);
    }
}
