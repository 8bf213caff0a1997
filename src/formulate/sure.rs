//! Assurance against excess iron, to first order.
//!
//! The iron's margin m is what a criterion's most iron is more than the iron;
//! its standard uncertainty s follows from independent strengths of the lots.
//! m/s deviations of a normal distribution are the assurance. s is the length
//! of a vector that is linear in the amounts, so it is nowhere below its
//! tangents: a programme with enough tangents has it to any accuracy.

use super::posed::{Point, Question};
use super::program::ProgramError;
use super::rows::{Line, Rows};
use crate::composition::Criterion;
use crate::uncertainty::normal_quantile;

/// Tangents tried at most.
const ROUNDS: usize = 200;
/// When two of them are the same.
const SAME: f64 = 1e-9;

/// Standard uncertainty of the margin, and its slope at a point.
fn spread(each: &[f64], kg: &[f64]) -> (f64, Vec<f64>) {
    let parts: Vec<f64> = each.iter().zip(kg).map(|(s, x)| s * x).collect();
    let length = libm::sqrt(parts.iter().map(|p| p * p).sum());
    let slope = each.iter().zip(&parts);
    let slope = slope.map(|(s, p)| if length > 0.0 { s * p / length } else { 0.0 });
    (length, slope.collect())
}

/// Deviations that the margin is from nothing; infinite for strengths without
/// doubt.
pub(super) fn index(rows: &Rows, criterion: &Criterion, point: &Point) -> f64 {
    let (margin, each) = rows.margin(criterion);
    let m = margin.at(&point.kg, point.volume);
    let (s, _) = spread(&each, &point.kg);
    if s > 0.0 {
        m / s
    } else if m >= 0.0 {
        f64::INFINITY
    } else {
        f64::NEG_INFINITY
    }
}

/// The tangent at a point that has less assurance than is wanted.
pub(super) fn slope_if_short(
    rows: &Rows,
    criterion: &Criterion,
    assurance: f64,
    slopes: &[Vec<f64>],
    point: &Point,
) -> Option<Vec<f64>> {
    let (margin, each) = rows.margin(criterion);
    let m = margin.at(&point.kg, point.volume);
    let (s, slope) = spread(&each, &point.kg);
    // A tangent that is held already tells nothing new: it cannot be had.
    let along = |t: &Vec<f64>| t.iter().zip(&point.kg).map(|(a, x)| a * x).sum::<f64>();
    let known = slopes.iter().map(along).fold(0.0, f64::max);
    let short = m < normal_quantile(assurance) * s * (1.0 - SAME);
    (short && s > known * (1.0 + SAME)).then_some(slope)
}

/// What is to be least near a point, so that the assurance there falls least:
/// the uncertainty at its price in margin, less the margin.
pub(super) fn towards(rows: &Rows, criterion: &Criterion, kg: &[f64], volume: f64) -> Line {
    let (margin, each) = rows.margin(criterion);
    let (s, slope) = spread(&each, kg);
    let price = if s > 0.0 {
        (margin.at(kg, volume) / s).max(0.0)
    } else {
        0.0
    };
    let doubt = Line {
        per_kg: slope.iter().map(|a| price * a).collect(),
        per_volume: 0.0,
    };
    doubt.less(1.0, &margin)
}

/// The point with the most assurance: the largest m/s, found as the price of s
/// in m at which nothing is to be gained any more (Dinkelbach 1967). Tangents of s
/// that were found on the way are left for the next time.
pub(super) fn surest(
    question: &Question,
    criterion: &Criterion,
    tangents: &mut Vec<Vec<f64>>,
) -> Result<Point, ProgramError> {
    let (margin, each) = question.rows.margin(criterion);
    let mut best: Option<Point> = None;
    let mut price: f64 = 0.0;
    for _ in 0..ROUNDS {
        let mut posed = question.pose()?;
        let (mut terms, _) = posed.terms(&margin);
        terms.iter_mut().for_each(|(_, a)| *a = -*a);
        let doubt = posed.doubt(tangents)?;
        terms.push((doubt, price));
        posed.program.then_minimise(&terms)?;
        let optimum = posed.program.minimise_first()?;
        let point = posed.read(&optimum);
        let m = margin.at(&point.kg, point.volume);
        let (s, slope) = spread(&each, &point.kg);
        // By tangents s looks no larger than it is, and the gain no smaller.
        let gain = m - price * optimum.value(doubt);
        let index = m / s;
        if best.is_none() || index > price {
            best = Some(point);
        }
        // Too much iron at best, or no doubt at all: nothing to weigh up.
        if m <= 0.0 || s <= 0.0 || (price > 0.0 && gain <= SAME * m) {
            break;
        }
        price = price.max(index);
        tangents.push(slope);
    }
    best.ok_or(ProgramError::Infeasible)
}
