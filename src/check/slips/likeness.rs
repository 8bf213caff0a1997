//! How much an ink is like those that were written with.

use crate::check::history::{self, GALLS_PER_VITRIOL, GUM_PER_GALLS, IRON};
use crate::check::published::{AS_SOLD, Against, Doses, OF_TANNIN};
use crate::recipe::Evaluation;
use crate::standards::{ReferenceInk, reference_inks};

/// An old ink in the middle of history is as likely as this beside a published
/// one to the letter: the middle is broad.
const OLD: f64 = 0.8;
/// Mean distance, of a logarithm, at which a likeness to a published ink has
/// fallen to a half.
const HALF: f64 = 0.15;
/// What lies further off than ten times is as far as what is missing.
const FARTHEST: f64 = core::f64::consts::LN_10;
/// A strength of its own costs so much of its logarithm.
const OWN_STRENGTH: f64 = 0.2;
/// Every dose within this of the published one: it is that ink.
const IS: f64 = 0.05;

/// How much an ink is like a published or an old one, 0 to 1: the greater of
/// two figures.
///
/// * *Published*: with d the mean over the doses either ink names of
///   |ln(dose / published dose)|, each at most ln 10 (so a missing dose counts),
///   taken at the strength that suits best and 0.2·|ln strength| added,
///   the likeness is 1 / (1 + d / 0.15), of the nearest reference ink.
/// * *Old*: with z the mean distance of galls to vitriol, gum to galls and iron
///   per litre (those it has) from the medians of old recipes, in half-widths
///   of their middle half on a logarithmic scale, it is 0.8 / (1 + z² / 4); for
///   inks of galls only.
///
/// The scales are judgement; they only order corrections by plausibility.
///
/// ```
/// use ferrogall::check::likeness;
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::reference_ink;
/// let recipe = reference_ink("swedish_archival_1964").unwrap().recipe(liters(1.0), 1.0)?;
/// assert!(likeness(&recipe.evaluate()?) > 0.99);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn likeness(made: &Evaluation) -> f64 {
    let have = Doses::of(&made.composition);
    let nearest = reference_inks()
        .iter()
        .map(|ink| distance(&have, &Doses::published(ink)))
        .fold(f64::INFINITY, f64::min);
    let published = 1.0 / (1.0 + nearest / HALF);
    match old(made) {
        Some(z) => published.max(OLD / (1.0 + z * z / 4.0)),
        None => published,
    }
}

/// Mean distance of an ink from a published one.
fn distance(have: &Doses, published: &Doses) -> f64 {
    let against = Against::new(have, published);
    let either = have.0.iter().zip(&published.0);
    let either = either.filter(|(a, b)| **a > 0.0 || **b > 0.0).count();
    if either == 0 {
        return f64::INFINITY;
    }
    let missing = either - against.shared;
    let at = |strength: f64| {
        let doses = against.x.iter().flatten();
        let sum: f64 = doses.map(|x| (x - strength).abs().min(FARTHEST)).sum();
        (sum + missing as f64 * FARTHEST) / either as f64 + OWN_STRENGTH * strength.abs()
    };
    let strengths = against.x.iter().flatten().copied();
    strengths.map(at).fold(at(0.0), f64::min)
}

/// Mean distance from the middle of history; of inks of galls.
fn old(made: &Evaluation) -> Option<f64> {
    made.vitriol_per_galls()?;
    let mut sum = 0.0;
    let mut count = 0.0;
    for table in [&GALLS_PER_VITRIOL, &GUM_PER_GALLS, &IRON] {
        if let Some(x) = history::figure(made, table.what) {
            sum += table.distance(x);
            count += 1.0;
        }
    }
    (count > 0.0).then(|| sum / count)
}

/// The published ink that this is: every dose within 5 %, of tannic and gallic acid
/// as far as tannic acid as sold may be off.
pub(super) fn published(made: &Evaluation) -> Option<&'static ReferenceInk> {
    let have = Doses::of(&made.composition);
    reference_inks().iter().find(|ink| {
        let against = Against::new(&have, &Doses::published(ink));
        let same = have.named() == against.shared;
        let near = |(place, x): (usize, &Option<f64>)| {
            let within = if OF_TANNIN.contains(&place) {
                AS_SOLD
            } else {
                IS
            };
            x.is_none_or(|x| x.abs() <= within)
        };
        same && against.shared == against.named && against.x.iter().enumerate().all(near)
    })
}
