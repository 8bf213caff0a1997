//! Programmes against a second way that cannot miss: every corner of the real
//! unknowns for every choice of the whole ones.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::formulate::{Program, ProgramError, Unknown, nonnegative_least_squares};
use proptest::prelude::*;

/// A small programme: costs, upper ends and whether whole, rows with a window.
#[derive(Debug, Clone)]
struct Small {
    unknowns: Vec<(f64, f64, bool)>,
    rows: Vec<(Vec<f64>, f64, f64)>,
}

impl Small {
    fn program(&self) -> Program {
        let mut program = Program::new();
        let unknowns: Vec<Unknown> = self
            .unknowns
            .iter()
            .map(|&(cost, high, whole)| {
                if whole {
                    program.whole(cost, 0.0, high).unwrap()
                } else {
                    program.real(cost, 0.0, high).unwrap()
                }
            })
            .collect();
        for (row, low, high) in &self.rows {
            let terms: Vec<_> = unknowns.iter().copied().zip(row.iter().copied()).collect();
            program.limit(&terms, *low, *high).unwrap();
        }
        program
    }

    fn keeps(&self, x: &[f64]) -> bool {
        let inside = x.iter().zip(&self.unknowns);
        let inside = inside
            .into_iter()
            .all(|(x, u)| *x >= -1e-9 && *x <= u.1 + 1e-9);
        inside
            && self.rows.iter().all(|(row, low, high)| {
                let sum: f64 = row.iter().zip(x).map(|(a, x)| a * x).sum();
                sum >= low - 1e-9 && sum <= high + 1e-9
            })
    }

    fn cost(&self, x: &[f64]) -> f64 {
        x.iter().zip(&self.unknowns).map(|(x, u)| x * u.0).sum()
    }

    /// The least cost of all, by trying everything.
    fn by_trying(&self) -> Option<f64> {
        let whole: Vec<usize> = (0..self.unknowns.len())
            .filter(|i| self.unknowns[*i].2)
            .collect();
        let mut least: Option<f64> = None;
        let mut x = vec![0.0; self.unknowns.len()];
        self.every_whole(&whole, &mut x, &mut least);
        least
    }

    fn every_whole(&self, whole: &[usize], x: &mut Vec<f64>, least: &mut Option<f64>) {
        let Some((&first, rest)) = whole.split_first() else {
            return self.every_corner(x, least);
        };
        for count in 0..=self.unknowns[first].1 as u32 {
            x[first] = f64::from(count);
            self.every_whole(rest, x, least);
        }
    }

    /// Corners of what is left when the whole unknowns stand.
    fn every_corner(&self, x: &[f64], least: &mut Option<f64>) {
        let free: Vec<usize> = (0..x.len()).filter(|i| !self.unknowns[*i].2).collect();
        // Every plane that can be active: row = end, unknown = 0 or its end.
        let mut planes: Vec<(Vec<f64>, f64)> = Vec::new();
        for (row, low, high) in &self.rows {
            let known: f64 = (0..x.len())
                .filter(|i| !free.contains(i))
                .map(|i| row[i] * x[i])
                .sum();
            let reduced: Vec<f64> = free.iter().map(|i| row[*i]).collect();
            for end in [low, high].into_iter().filter(|e| e.is_finite()) {
                planes.push((reduced.clone(), end - known));
            }
        }
        for (k, i) in free.iter().enumerate() {
            let mut row = vec![0.0; free.len()];
            row[k] = 1.0;
            planes.push((row.clone(), 0.0));
            planes.push((row, self.unknowns[*i].1));
        }
        let mut chosen = Vec::new();
        self.choose(&planes, 0, &mut chosen, &free, x, least);
    }

    fn choose(
        &self,
        planes: &[(Vec<f64>, f64)],
        from: usize,
        chosen: &mut Vec<usize>,
        free: &[usize],
        x: &[f64],
        least: &mut Option<f64>,
    ) {
        if chosen.len() == free.len() {
            let system: Vec<_> = chosen.iter().map(|c| planes[*c].clone()).collect();
            let Some(corner) = solve(system) else { return };
            let mut x = x.to_vec();
            for (i, value) in free.iter().zip(corner) {
                x[*i] = value;
            }
            if self.keeps(&x) {
                let cost = self.cost(&x);
                *least = Some(least.map_or(cost, |l: f64| l.min(cost)));
            }
            return;
        }
        for next in from..planes.len() {
            chosen.push(next);
            self.choose(planes, next + 1, chosen, free, x, least);
            chosen.pop();
        }
    }
}

/// Gauss with pivoting; nothing for planes that do not meet in a point.
fn solve(mut rows: Vec<(Vec<f64>, f64)>) -> Option<Vec<f64>> {
    let n = rows.len();
    for c in 0..n {
        let best = (c..n).max_by(|a, b| rows[*a].0[c].abs().total_cmp(&rows[*b].0[c].abs()))?;
        if rows[best].0[c].abs() < 1e-9 {
            return None;
        }
        rows.swap(c, best);
        for r in 0..n {
            if r != c {
                let f = rows[r].0[c] / rows[c].0[c];
                let (pivot, b) = rows[c].clone();
                for (v, p) in rows[r].0.iter_mut().zip(&pivot) {
                    *v -= f * p;
                }
                rows[r].1 -= f * b;
            }
        }
    }
    Some((0..n).map(|c| rows[c].1 / rows[c].0[c]).collect())
}

/// Round figures make ties and corners where many limits meet; others do not.
fn coefficient() -> impl Strategy<Value = f64> {
    prop_oneof![
        (-4i32..=4).prop_map(f64::from),
        (-16i32..=16).prop_map(|k| f64::from(k) * 0.25),
        -3.0..3.0_f64,
        Just(0.0),
    ]
}

fn small() -> impl Strategy<Value = Small> {
    let unknown = (coefficient(), 0u32..=4, any::<bool>());
    let row = (
        prop::collection::vec(coefficient(), 4),
        coefficient(),
        0.0..3.0_f64,
        0u8..4,
    );
    (
        prop::collection::vec(unknown, 1..=4),
        prop::collection::vec(row, 0..=3),
    )
        .prop_map(|(unknowns, rows)| {
            let n = unknowns.len();
            Small {
                unknowns: unknowns
                    .into_iter()
                    .map(|(c, h, w)| (c, f64::from(h), w))
                    .collect(),
                rows: rows
                    .into_iter()
                    .map(|(mut row, low, width, kind)| {
                        row.truncate(n);
                        match kind {
                            0 => (row, low, low + width),
                            1 => (row, f64::NEG_INFINITY, low),
                            2 => (row, low, f64::INFINITY),
                            _ => (row, low, low),
                        }
                    })
                    .collect(),
            }
        })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(600) })]

    /// The optimum is that of trying everything, to 1e-9; what has none by
    /// trying is called infeasible. Programmes that are feasible by less than
    /// the 1e-9 both sides grant are no test of either.
    #[test]
    fn as_good_as_trying_everything(small in small()) {
        match (small.program().minimise(), small.by_trying()) {
            (Ok(found), Some(least)) => {
                prop_assert!((found.objective - least).abs() <= 1e-8 * (1.0 + least.abs()),
                    "{} against {least}", found.objective);
                prop_assert!(small.keeps(&found.values));
                for (x, u) in found.values.iter().zip(&small.unknowns) {
                    prop_assert!(!u.2 || x.fract() == 0.0);
                }
            }
            (Err(ProgramError::Infeasible), None) => {}
            (found, least) => prop_assert!(false, "{found:?} against {least:?}"),
        }
    }

    #[test]
    fn the_same_twice(small in small()) {
        let program = small.program();
        prop_assert_eq!(program.minimise(), program.minimise());
    }

    /// No mixture with the same signs comes nearer than the least squares.
    #[test]
    fn no_mixture_is_nearer(
        columns in prop::collection::vec(prop::collection::vec(coefficient(), 4), 1..6),
        target in prop::collection::vec(-3.0..3.0_f64, 4),
        tried in prop::collection::vec(prop::collection::vec(0.0..2.0_f64, 6), 40),
    ) {
        let columns: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
        let best = nonnegative_least_squares(&columns, &target).unwrap();
        let distance = |x: &[f64]| {
            (0..4).map(|r| {
                let sum: f64 = columns.iter().zip(x).map(|(c, x)| c[r] * x).sum();
                (sum - target[r]).powi(2)
            }).sum::<f64>().sqrt()
        };
        prop_assert!(best.amounts.iter().all(|x| *x >= 0.0));
        prop_assert!((distance(&best.amounts) - best.residual).abs() < 1e-9);
        for x in &tried {
            prop_assert!(best.residual <= distance(x) + 1e-9);
        }
        // The conditions of an optimum (Lawson and Hanson 1974, 23.4): what is
        // left pulls no column in, and none that is in up or down.
        let left: Vec<f64> = (0..4).map(|r| {
            let sum: f64 = columns.iter().zip(&best.amounts).map(|(c, x)| c[r] * x).sum();
            target[r] - sum
        }).collect();
        for (column, x) in columns.iter().zip(&best.amounts) {
            let pull: f64 = column.iter().zip(&left).map(|(c, l)| c * l).sum();
            prop_assert!(pull <= 1e-7, "{pull}");
            prop_assert!(*x == 0.0 || pull >= -1e-7, "{pull}");
        }
    }
}

#[test]
fn what_is_no_programme_is_refused() {
    let mut program = Program::new();
    assert!(program.real(f64::NAN, 0.0, 1.0).is_err());
    assert!(program.real(0.0, 2.0, 1.0).is_err());
    assert!(program.real(0.0, f64::INFINITY, f64::INFINITY).is_err());
    assert!(program.whole(0.0, f64::NAN, 1.0).is_err());
    let x = program.real(-1.0, 0.0, f64::INFINITY).unwrap();
    assert!(program.limit(&[(x, f64::INFINITY)], 0.0, 1.0).is_err());
    assert!(program.limit(&[(x, 1.0), (x, 1.0)], 0.0, 1.0).is_err());
    assert_eq!(program.minimise(), Err(ProgramError::Unbounded));
    // No whole number lies between a third and two thirds.
    let mut none = Program::new();
    none.whole(1.0, 1.0 / 3.0, 2.0 / 3.0).unwrap();
    assert_eq!(none.minimise(), Err(ProgramError::Infeasible));
    assert_eq!(Program::new().minimise().unwrap().objective, 0.0);
}
