//! Laws of budgets, draws and beliefs that hold whatever the figures.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::source::Range;
use ferrogall::uncertainty::{Belief, Distribution, Evidence, Inputs, MonteCarlo};
use proptest::prelude::*;

fn normal(mean: f64, u: f64) -> Distribution {
    Distribution::normal(mean, u).unwrap()
}

fn fixed(draws: u32) -> MonteCarlo {
    MonteCarlo::fixed(42, draws).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    /// A linear model has its closed form: u² = Σ (c u)², nothing of second
    /// order, and the shares add up to 1.
    #[test]
    fn linear_models(terms in proptest::collection::vec((-5.0..5.0, 0.001..2.0, -10.0..10.0), 1..8)) {
        let mut inputs = Inputs::new();
        let keys: Vec<_> = terms.iter().enumerate()
            .map(|(i, &(_, u, x))| inputs.add(format!("x{i}"), normal(x, u)).unwrap())
            .collect();
        let budget = inputs.first_order(|v| {
            keys.iter().zip(&terms).map(|(&k, t)| t.0 * v[k]).sum()
        }).unwrap();
        let u: f64 = terms.iter().map(|t| (t.0 * t.1) * (t.0 * t.1)).sum::<f64>().sqrt();
        prop_assert!((budget.standard_uncertainty() - u).abs() < 1e-9 * u + 1e-12);
        prop_assert!((budget.second_order_uncertainty() - u).abs() < 1e-5 * u + 1e-9);
        if u > 1e-6 {
            let shares: f64 = budget.lines().iter().map(|l| l.share).sum();
            prop_assert!((shares - 1.0).abs() < 1e-9);
            prop_assert!(budget.misleads().is_none());
        }
    }

    /// A product of powers has its closed form too: (u/y)² = Σ (p u/x)².
    #[test]
    fn products_of_powers(terms in proptest::collection::vec((-3.0..3.0, 0.001..0.02, 0.1..10.0), 1..6)) {
        let mut inputs = Inputs::new();
        let keys: Vec<_> = terms.iter().enumerate()
            .map(|(i, &(_, u, x))| inputs.add(format!("x{i}"), normal(x, u * x)).unwrap())
            .collect();
        let budget = inputs.first_order(|v| {
            keys.iter().zip(&terms).map(|(&k, t)| v[k].powf(t.0)).product()
        }).unwrap();
        let relative: f64 = terms.iter().map(|t| (t.0 * t.1) * (t.0 * t.1)).sum::<f64>().sqrt();
        let found = budget.standard_uncertainty() / budget.value();
        prop_assert!((found - relative).abs() < 1e-9 + 1e-8 * relative);
    }

    /// No evidence widens a belief, and nothing becomes a number that is none,
    /// however far the evidence contradicts.
    #[test]
    fn no_evidence_widens(
        median in 1e-6..1e6, u in 0.0..3.0, value in 1e-9..1e9, error in 0.0..3.0, wide in 1.0..100.0,
    ) {
        let belief = Belief::log_normal(median, u).unwrap();
        for evidence in [
            Evidence::value(value, error * value).unwrap(),
            Evidence::between(value, value * wide, error).unwrap(),
            Evidence::between(value, value * wide, 0.0).unwrap(),
        ] {
            let after = belief.updated(&evidence);
            prop_assert!(after.u_ln() <= belief.u_ln());
            let (low, high) = after.interval();
            prop_assert!(low > 0.0 && low <= after.median() && after.median() <= high && high.is_finite());
            prop_assert!(belief.surprise(&evidence) >= 0.0);
            let part = Belief::log_normal(0.5, 0.7 * u).unwrap().after_product(&belief, &after);
            prop_assert!(part.u_ln() <= 0.7 * u + 1e-12);
        }
    }

    /// Two tests of one thing say the same in either order.
    #[test]
    fn order_of_tests_does_not_matter(u in 0.05..1.0, a in 0.3..3.0, b in 0.3..3.0, ua in 0.02..0.5, ub in 0.02..0.5) {
        let belief = Belief::log_normal(1.0, u).unwrap();
        let (a, b) = (Evidence::value(a, a * ua).unwrap(), Evidence::value(b, b * ub).unwrap());
        let (ab, ba) = (belief.updated(&a).updated(&b), belief.updated(&b).updated(&a));
        prop_assert!((ab.median() / ba.median() - 1.0).abs() < 1e-9);
        prop_assert!((ab.u_ln() - ba.u_ln()).abs() < 1e-9);
    }
}

/// Draws belong to the name of an input, not to its place.
#[test]
fn order_of_inputs_does_not_matter() {
    let drawn = |names: [&str; 3]| -> Vec<Vec<f64>> {
        let mut inputs = Inputs::new();
        let keys = names.map(|n| inputs.add(n, normal(0.0, 1.0)).unwrap());
        let samples = inputs
            .monte_carlo(&fixed(3000), |v| keys.map(|k| v[k]))
            .unwrap();
        samples.iter().map(|s| s.drawn().to_vec()).collect()
    };
    let [a, b] = [drawn(["x", "y", "z"]), drawn(["z", "x", "y"])];
    assert_eq!((&a[0], &a[1], &a[2]), (&b[1], &b[2], &b[0]));
}

/// Streams are even and strangers to each other: Kolmogorov's distance of
/// 100 000 draws below the 1 % point 1.63/√n, correlations below four standard
/// errors (the seed is fixed, so this is no gamble).
#[test]
fn streams_are_even_and_independent() {
    let n = 100_000;
    let mut inputs = Inputs::new();
    let even = Distribution::rectangular(0.0, 1.0).unwrap();
    let keys = ["a", "b", "galls: tannin", "galls: moisture"].map(|n| inputs.add(n, even).unwrap());
    let samples = inputs
        .monte_carlo(&fixed(n), |v| keys.map(|k| v[k]))
        .unwrap();
    let root = f64::from(n).sqrt();
    for (i, s) in samples.iter().enumerate() {
        let mut sorted = s.drawn().to_vec();
        sorted.sort_by(f64::total_cmp);
        let distance = sorted
            .iter()
            .enumerate()
            .map(|(k, x)| (x - (k as f64 + 0.5) / f64::from(n)).abs())
            .fold(0.0, f64::max);
        assert!(distance < 1.63 / root, "{distance}");
        for other in &samples[i + 1..] {
            assert!(s.correlation_with(other).unwrap().abs() < 4.0 / root);
        }
        // Each draw against the one before it.
        let lagged: f64 = s
            .drawn()
            .windows(2)
            .map(|w| (w[0] - 0.5) * (w[1] - 0.5))
            .sum();
        assert!((12.0 * lagged / f64::from(n)).abs() < 4.0 / root);
    }
}

/// JCGM 101:2008, 7.9: an adaptive run of a normal sum settles, and mean,
/// uncertainty and ends are within the tolerance of their exact values
/// (u = 2.0 to two digits: 0.05).
#[test]
fn adaptive_runs_settle_where_they_should() {
    let mut inputs = Inputs::new();
    let keys = ["a", "b", "c", "d"].map(|n| inputs.add(n, normal(0.0, 1.0)).unwrap());
    let sum = |v: ferrogall::uncertainty::Values| [keys.iter().map(|&k| v[k]).sum::<f64>()];
    let plan = MonteCarlo::adaptive(3, 2, 2_000_000).unwrap();
    let [y] = inputs.monte_carlo(&plan, sum).unwrap();
    assert!(y.settled());
    let (low, high) = y.interval(0.95).unwrap();
    for (found, exact) in [
        (y.mean(), 0.0),
        (y.standard_uncertainty(), 2.0),
        (low, -3.919_93),
        (high, 3.919_93),
    ] {
        assert!((found - exact).abs() < 0.05, "{found} {exact}");
    }
    // The same draws as a fixed run of that length, and no more than needed.
    let count = u32::try_from(y.drawn().len()).unwrap();
    assert!((20_000..2_000_000).contains(&count), "{count}");
    let [same] = inputs
        .monte_carlo(&MonteCarlo::fixed(3, count).unwrap(), sum)
        .unwrap();
    assert_eq!(same.drawn(), y.drawn());
    // Too few draws for two digits: it says so.
    let plan = MonteCarlo::adaptive(3, 2, 20_000).unwrap();
    let [short] = inputs.monte_carlo(&plan, |v| [1e3 + sum(v)[0]]).unwrap();
    assert_eq!(short.drawn().len(), 20_000);
    assert!(!short.settled());
}

#[cfg(feature = "rayon")]
#[test]
fn one_thread_or_many_the_same_bits() {
    let mut inputs = Inputs::new();
    let x = inputs
        .add("x", Distribution::student(0.0, 1.0, 5.0).unwrap())
        .unwrap();
    let y = inputs
        .add(
            "y",
            Distribution::span_log(Range::new(0.1, 1.0, 4.0)).unwrap(),
        )
        .unwrap();
    let model = |v: ferrogall::uncertainty::Values| [v[x] / v[y], v[x] + v[y]];
    for plan in [fixed(12_345), MonteCarlo::adaptive(1, 1, 200_000).unwrap()] {
        let one = inputs.monte_carlo(&plan, model).unwrap();
        for threads in [1, 2, 5] {
            let pool = rayon::ThreadPoolBuilder::new()
                .num_threads(threads)
                .build()
                .unwrap();
            let many = pool.install(|| inputs.monte_carlo_parallel(&plan, model).unwrap());
            assert_eq!(one, many);
        }
    }
}

/// What knowing an input would do agrees with the budget where the model is
/// linear and normal.
#[test]
fn helps_agree_with_the_budget() {
    let mut inputs = Inputs::new();
    let a = inputs.add("a", normal(1.0, 0.3)).unwrap();
    let b = inputs.add("b", normal(2.0, 0.4)).unwrap();
    let helps = inputs.helps(&fixed(100_000), |v| v[a] + v[b]).unwrap();
    assert_eq!(helps[0].name, "b");
    assert_relative_eq!(helps[0].share, 0.64, max_relative = 0.01);
    assert_relative_eq!(helps[0].width_left, 0.6, max_relative = 0.01);
    assert_relative_eq!(helps[1].width_left, 0.8, max_relative = 0.01);
}

/// Several skewed inputs, none of them most of it: the first order would put
/// the interval where nothing is.
#[test]
fn skewed_inputs_go_to_draws() {
    let log_normal = |u| Distribution::log_normal(1.0, u).unwrap();
    let one_sided = Distribution::span(Range::new(1.0, 1.0, 2.0)).unwrap();
    for (d, product) in [
        (log_normal(0.2), true),
        (log_normal(0.6), false),
        (one_sided, false),
    ] {
        let mut inputs = Inputs::new();
        let [a, b] = ["a", "b"].map(|n| inputs.add(n, d).unwrap());
        let model = |v: ferrogall::uncertainty::Values| {
            if product { v[a] * v[b] } else { v[a] + v[b] }
        };
        let answer = inputs.answer(&fixed(20_000), model).unwrap();
        assert_ne!(answer.method, ferrogall::uncertainty::Method::FirstOrder);
        assert!(answer.low > 0.0 && answer.low <= answer.value && answer.value <= answer.high);
    }
    // Where the model ends close by, nobody can tell, and draws decide.
    let mut inputs = Inputs::new();
    let x = inputs.add("x", normal(0.0, 1.0)).unwrap();
    let ends = |v: ferrogall::uncertainty::Values| {
        if v[x] > 0.2 { f64::NAN } else { v[x].exp() }
    };
    let answer = inputs.answer(&fixed(20_000), ends).unwrap();
    assert_ne!(answer.method, ferrogall::uncertainty::Method::FirstOrder);
    assert!(answer.high < 1.3 && answer.failed > 0);
    // No number has room for it.
    assert!(inputs.first_order(|v| v[x] * 1e200 * 1e200).is_err());
}

/// Readings taken together: Student's factor for as many rows, less one.
#[test]
fn few_rows_widen_the_interval() {
    let rows: [&[f64]; 3] = [&[1.0, 5.0], &[1.2, 5.1], &[0.9, 5.3]];
    let mut inputs = Inputs::new();
    let [a, b] = inputs.read_together(["a", "b"], &rows).unwrap();
    let budget = inputs.first_order(|v| v[a] + v[b]).unwrap();
    let factor = budget.expanded(0.95).unwrap() / budget.standard_uncertainty();
    assert!((factor - 4.303).abs() < 5e-4); // Abramowitz & Stegun 26.10, 2 degrees of freedom
}
