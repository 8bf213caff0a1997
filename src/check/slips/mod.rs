//! The search for slips: every way a recipe may have been miswritten is tried,
//! worked out and checked; what puts the finding right is kept.

mod edit;
mod figure;
mod likeness;
mod tries;
mod words;

pub use likeness::likeness;
pub(in crate::check) use words::words_of;

use super::history::{self, GALLS_PER_VITRIOL};
use super::hydrates::has_dried_salt;
use super::{Code, Finding, Severity, Slip, SlipKind, check};
use crate::recipe::{Evaluation, Kit, Recipe, RecipeError};
use edit::Edit;

/// Slips offered for one finding at most.
const MOST: usize = 3;
/// Longer recipes are not searched: their tries grow with the square of the lines.
const LONGEST: usize = 40;
/// Under this a correction is no better than a guess.
const PLAUSIBLE: f64 = 0.05;
/// Likenesses within this share of one another tell no ink from another: what
/// changes is a spoonful of volume, or nothing that they speak of.
const ALIKE: f64 = 0.01;
/// What is only unusual is taken for a slip when the corrected ink is so many
/// times as likely: one old recipe in ten is unusual and means what it says.
const FAR_LIKELIER: f64 = 2.0;

/// Works out a recipe and says everything worth saying about it, with the
/// slips that may lie behind it.
///
/// The findings are those of [`check`] on the recipe as it stands. Where one of
/// them smells of a slip (a dose, a proportion, a solubility, a dye, the liquor
/// of a soak), every usual slip is undone in turn: a decimal point, a unit,
/// another hydrate or dye, lines shifted or exchanged, the liquid, the strength
/// of the acid, the volume. Each corrected recipe is worked out and checked; it
/// is offered if it does away with the finding or makes it less severe, raises
/// no other as bad, and makes an ink that is no less likely ([`likeness`], to a
/// hundredth); a proportion that is only unusual takes one that is twice as
/// likely. The three most plausible are kept, best first.
///
/// A recipe in order costs no more than [`Recipe::evaluate`] and [`check`]; a
/// search costs a few hundred of them. Recipes of more than 40 lines are not
/// searched. A line shift goes by the order of the lines; nothing else does.
///
/// # Errors
/// What [`Recipe::evaluate`] says.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::check::{self, Code, SlipKind};
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Recipe, Solution};
///
/// let of = |id| Lot::of(id).and_then(|l| l.build());
/// let recipe = Recipe::new("ten times the phenol").with(Solution::new("ink")
///     .add(&of("tannic_acid")?, grams(11.7))
///     .add(&of("gallic_acid_monohydrate")?, grams(3.8))
///     .add(&of("iron_ii_sulfate_heptahydrate")?, grams(15.0))
///     .add(&of("hydrochloric_acid")?, grams(4.0))
///     .add(&of("phenol")?, grams(10.0))
///     .add(&of("soluble_blue")?, grams(3.5))
///     .make_up(&of("distilled_water")?, liters(1.0)));
/// let found = check::read(&recipe, None)?;
/// assert_eq!(found[0].code, Code::DoseFarFromReference);
/// assert_eq!(found[0].slips[0].kind, SlipKind::Decimal);
/// assert!(found[0].slips[0].message.starts_with("if you meant 1 g of phenol"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read(recipe: &Recipe, kit: Option<&Kit>) -> Result<Vec<Finding>, RecipeError> {
    let made = recipe.evaluate()?;
    let mut found = check(&made, kit);
    look_for_slips(recipe, &made, &mut found);
    Ok(found)
}

/// Which slips can lie behind a finding; `None` when it smells of none.
fn suspected(f: &Finding, made: &Evaluation) -> Option<fn(SlipKind) -> bool> {
    let any: fn(SlipKind) -> bool = |_| true;
    let hydrate: fn(SlipKind) -> bool = |k| k == SlipKind::OtherHydrate;
    match f.code {
        Code::WrongHydrate => Some(hydrate),
        Code::DyePrecipitates => Some(|k| k == SlipKind::OtherDye),
        // Many a true old ink has its iron in excess; few have so much of it.
        Code::IronInExcess => {
            let galls = history::figure(made, GALLS_PER_VITRIOL.what);
            if galls.is_some_and(|x| GALLS_PER_VITRIOL.is_unusually_little(x)) {
                Some(any)
            } else {
                has_dried_salt(made).then_some(hydrate)
            }
        }
        Code::RatioOutsideHistory => Some(any),
        Code::StrengthOutsideHistory
        | Code::NearlyPublished
        | Code::NoInk
        | Code::NoWater
        | Code::MarcDrinksLiquor
        | Code::DoseFarFromReference
        | Code::BeyondSolubility
        | Code::MasksIron
        | Code::NoAcid => (f.severity >= Severity::Warning).then_some(any),
        _ => None,
    }
}

/// A correction that can be worked out.
struct Tried {
    edit: Edit,
    recipe: Recipe,
    found: Vec<Finding>,
    likeness: f64,
    /// Findings of a warning or worse that it leaves.
    left: usize,
}

/// Looks for the slips behind findings about a recipe as it stands; the
/// findings of weighings are left as they are.
pub(crate) fn look_for_slips(recipe: &Recipe, made: &Evaluation, found: &mut [Finding]) {
    if made.lines.len() > LONGEST || found.iter().all(|f| suspected(f, made).is_none()) {
        return;
    }
    let as_it_is = likeness(made);
    let tried: Vec<Tried> = tries::all(recipe, made)
        .into_iter()
        .filter_map(|edit| {
            let corrected = edit.applied(recipe)?;
            let made = corrected.evaluate().ok()?;
            if edit.must_be_published && likeness::published(&made).is_none() {
                return None;
            }
            let likeness = likeness(&made);
            if likeness < as_it_is * (1.0 - ALIKE) || likeness * edit.kind.weight() < PLAUSIBLE {
                return None;
            }
            let found = check(&made, None);
            let left = found.iter().filter(|f| f.severity >= Severity::Warning);
            Some(Tried {
                left: left.count(),
                found,
                likeness,
                edit,
                recipe: corrected,
            })
        })
        .collect();
    let before: Vec<(Severity, Key)> = found.iter().map(|f| (f.severity, key(f))).collect();
    for finding in found.iter_mut() {
        if let Some(may_be) = suspected(finding, made) {
            let least = match (finding.code, finding.severity) {
                (Code::RatioOutsideHistory, Severity::Notice) => FAR_LIKELIER * as_it_is,
                _ => 0.0,
            };
            let fit = tried
                .iter()
                .filter(|t| t.likeness >= least && may_be(t.edit.kind))
                .filter(|t| puts_right(finding, &before, t));
            finding.slips = best(finding, fit, recipe);
        }
    }
}

type Key = (Code, super::Subject);

fn key(f: &Finding) -> Key {
    (f.code, f.about)
}

/// The worst that is left of a finding in a corrected recipe.
fn left(finding: &Finding, corrected: &Tried) -> Option<Severity> {
    let same = corrected.found.iter().filter(|f| key(f) == key(finding));
    same.map(|f| f.severity).max()
}

fn puts_right(finding: &Finding, before: &[(Severity, Key)], tried: &Tried) -> bool {
    let worse_than_before = |f: &&Finding| {
        let was = before.iter().filter(|(_, k)| *k == key(f));
        was.map(|(s, _)| *s).max() < Some(f.severity)
    };
    let as_bad = |f: &&Finding| f.severity >= finding.severity;
    left(finding, tried) < Some(finding.severity)
        && !tried
            .found
            .iter()
            .filter(as_bad)
            .any(|f| worse_than_before(&f))
}

/// Each line more that somebody must have got wrong.
const ONE_MORE: f64 = 0.9;

/// What is left standing after a correction speaks against it, and so does
/// every line more that it changes.
fn plausibility(tried: &Tried) -> f64 {
    let more = tried.edit.amounts.len().saturating_sub(1).min(LONGEST);
    let lines = (0..more).fold(1.0, |p, _| p * ONE_MORE);
    tried.edit.kind.weight() * tried.likeness * lines / (1.0 + 0.5 * tried.left as f64)
}

fn best<'t>(finding: &Finding, fit: impl Iterator<Item = &'t Tried>, recipe: &Recipe) -> Vec<Slip> {
    let mut fit: Vec<(f64, &Tried)> = fit
        .map(|t| (plausibility(t), t))
        .filter(|(p, _)| *p >= PLAUSIBLE)
        .collect();
    // Stable: what is equally plausible stays in the order of the tries.
    fit.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut out: Vec<Slip> = Vec::new();
    for (plausibility, t) in fit {
        if out.len() == MOST {
            break;
        }
        if out.iter().any(|s| s.recipe == t.recipe) {
            continue;
        }
        let Ok(made) = t.recipe.evaluate() else {
            continue;
        };
        let Some(value) = figure::of(finding, &made) else {
            continue;
        };
        let published = likeness::published(&made);
        let changes = t.edit.changes(recipe);
        out.push(Slip {
            kind: t.edit.kind,
            message: words::of(finding, &t.edit, &changes, value, published),
            changes,
            value,
            left: left(finding, t),
            plausibility,
            published: published.map(|ink| ink.id),
            recipe: t.recipe.clone(),
        });
    }
    out
}
