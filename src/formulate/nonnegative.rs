//! Least squares with no amount below zero.
//!
//! The active set method of Lawson and Hanson, Solving Least Squares Problems
//! (1974), chapter 23: amounts are freed one by one where that brings the sum
//! nearer, and held at zero again where they would fall below it.

use crate::quantity::{OutOfRange, within};

/// Largest size of an entry.
const LARGEST: f64 = 1e100;
/// A column this much of whose direction is left is another direction.
const INDEPENDENT: f64 = 1e-10;

/// What comes nearest.
///
/// ```
/// use ferrogall::formulate::nonnegative_least_squares;
/// // 2 of the first column hit the first row; the second would be negative.
/// let best = nonnegative_least_squares(&[&[1.0, 0.0], &[0.0, -1.0]], &[2.0, 1.0])?;
/// assert_eq!(best.amounts, [2.0, 0.0]);
/// assert_eq!(best.residual, 1.0);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct NearestMix {
    /// How much of each column, none below zero.
    pub amounts: Vec<f64>,
    /// Euclidean distance that is left.
    pub residual: f64,
}

/// The amounts of some columns, none below zero, whose sum comes nearest to a
/// target in the sense of least squares. Rows count by their size: scale them
/// beforehand. Columns shorter than the target count as filled up with zeros,
/// longer ones as cut off.
///
/// Where columns depend on each other the amounts are not the only ones; the
/// residual is the least there is.
///
/// # Errors
/// [`OutOfRange`] for an entry that is no number or beyond 1e100.
pub fn nonnegative_least_squares(
    columns: &[&[f64]],
    target: &[f64],
) -> Result<NearestMix, OutOfRange> {
    for &entry in columns.iter().copied().flatten().chain(target) {
        within("entry", entry, -LARGEST, LARGEST, "")?;
    }
    let rows = target.len();
    // Unit columns: which one helps most must not hang on its unit.
    let units: Vec<(Vec<f64>, f64)> = columns
        .iter()
        .map(|column| {
            let mut column: Vec<f64> = column.iter().copied().take(rows).collect();
            column.resize(rows, 0.0);
            let length = norm(&column);
            if length > 0.0 {
                column.iter_mut().for_each(|c| *c /= length);
            }
            (column, length)
        })
        .collect();
    let mut x = vec![0.0; units.len()];
    let mut free: Vec<usize> = Vec::new();
    let enough = 1e-14 * norm(target);
    // Each column is freed a few times at most; the bound is for safety.
    for _ in 0..(3 * units.len() + 10) {
        let left = residual(&units, &x, target);
        let mut candidates: Vec<(usize, f64)> = (0..units.len())
            .filter(|j| !free.contains(j))
            .filter_map(|j| Some((j, dot(&units.get(j)?.0, &left))))
            .filter(|(_, pull)| *pull > enough)
            .collect();
        candidates.sort_by(|a, b| b.1.total_cmp(&a.1));
        let next = candidates.iter().find_map(|&(j, _)| {
            let mut trial = free.clone();
            trial.push(j);
            let solved = solve(&units, &trial, target)?;
            // Rounding can free a column in the wrong direction.
            (solved.last().is_some_and(|v| *v > 0.0)).then_some((trial, solved))
        });
        let Some((trial, mut solved)) = next else {
            break;
        };
        free = trial;
        // Step back to the first that would fall below zero, and hold it there.
        while solved.iter().any(|v| *v <= 0.0) {
            let mut step = 1.0_f64;
            for (&j, &to) in free.iter().zip(&solved) {
                let from = x.get(j).copied().unwrap_or(0.0);
                if to <= 0.0 {
                    step = step.min(from / (from - to));
                }
            }
            for (&j, &to) in free.iter().zip(&solved) {
                if let Some(slot) = x.get_mut(j) {
                    *slot += step * (to - *slot);
                    let spent = to <= 0.0 && *slot <= 1e-15 * (1.0 + slot.abs());
                    if spent || *slot < 0.0 {
                        *slot = 0.0;
                    }
                }
            }
            let before = free.len();
            free.retain(|&j| x.get(j).is_some_and(|v| *v > 0.0));
            if free.len() == before {
                break;
            }
            solved = solve(&units, &free, target).unwrap_or_default();
        }
        for (&j, &to) in free.iter().zip(&solved) {
            if let Some(slot) = x.get_mut(j) {
                *slot = to.max(0.0);
            }
        }
    }
    let left = norm(&residual(&units, &x, target));
    let amounts = x.iter().zip(&units);
    Ok(NearestMix {
        amounts: amounts
            .map(|(x, (_, length))| if *length > 0.0 { x / length } else { 0.0 })
            .collect(),
        residual: left,
    })
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn norm(a: &[f64]) -> f64 {
    let largest = a.iter().fold(0.0, |m: f64, v| m.max(v.abs()));
    if largest > 0.0 {
        let square = |v: &f64| (v / largest) * (v / largest);
        largest * libm::sqrt(a.iter().map(square).sum())
    } else {
        0.0
    }
}

fn residual(units: &[(Vec<f64>, f64)], x: &[f64], target: &[f64]) -> Vec<f64> {
    let mut left = target.to_vec();
    for ((column, _), x) in units.iter().zip(x) {
        for (l, c) in left.iter_mut().zip(column) {
            *l -= c * x;
        }
    }
    left
}

/// Least squares over some columns by orthogonalising them, twice for
/// accuracy; nothing where they depend on each other.
fn solve(units: &[(Vec<f64>, f64)], free: &[usize], target: &[f64]) -> Option<Vec<f64>> {
    let mut basis: Vec<Vec<f64>> = Vec::with_capacity(free.len());
    let mut upper: Vec<Vec<f64>> = Vec::with_capacity(free.len());
    for &j in free {
        let mut v = units.get(j)?.0.clone();
        let mut shares = vec![0.0; basis.len()];
        for _ in 0..2 {
            for (q, share) in basis.iter().zip(&mut shares) {
                let along = dot(q, &v);
                *share += along;
                for (v, q) in v.iter_mut().zip(q) {
                    *v -= along * q;
                }
            }
        }
        let left = norm(&v);
        if left < INDEPENDENT {
            return None;
        }
        v.iter_mut().for_each(|v| *v /= left);
        shares.push(left);
        basis.push(v);
        upper.push(shares);
    }
    let mut rest = target.to_vec();
    let mut along: Vec<f64> = Vec::with_capacity(basis.len());
    for q in &basis {
        let share = dot(q, &rest);
        for (r, q) in rest.iter_mut().zip(q) {
            *r -= share * q;
        }
        along.push(share);
    }
    let mut x = vec![0.0; free.len()];
    for k in (0..free.len()).rev() {
        let known: f64 = (k + 1..free.len()).map(|m| upper[m][k] * x[m]).sum();
        x[k] = (along[k] - known) / upper[k][k];
    }
    x.iter().all(|v| v.is_finite()).then_some(x)
}
