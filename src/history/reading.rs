//! An old recipe, read.

use super::amount::Term;
use super::doubt::Doubt;
use super::figures::{Figure, Figures, Totals};
use super::old_recipe::{Ending, OldRecipe, Role};
use super::unit::{Quantity, UnitKind};
use super::word::{Candidate, Candidates, Goods, Setting, Word};
use super::{HistoryError, slips};
use crate::bench::Lot;
use crate::quantity::{Estimate, Volume, checked_mass, grams, milliliters};
use crate::recipe::{DEFAULT_HOLD_UP, Extraction, Recipe, RecipeError, Solution};
use crate::span::Span;

/// A line in grams or millilitres.
///
/// ```
/// use ferrogall::history::{Pantry, historic_recipe};
/// let reading = historic_recipe("EN17").unwrap().old_recipe(&Pantry::usual()?)?.read()?;
/// let galls = &reading.lines[0];
/// assert!((galls.amount.typical.in_metric() - 85.05).abs() < 0.01);
/// assert!(galls.amount.low.in_metric() <= galls.amount.typical.in_metric());
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ReadLine {
    /// What it is.
    pub name: String,
    /// Its part in the ink.
    pub role: Role,
    /// How much: by the likeliest units and the middle of a span, and from
    /// the least to the most that may be meant.
    pub amount: Span<Quantity>,
    /// The units each piece of the amount may mean; empty for grams and parts.
    pub candidates: Vec<Candidates>,
    /// Why it is so wide, and what to beware of.
    pub reasons: Vec<String>,
    /// The lot that stands for it in the recipe.
    pub lot: Option<Lot>,
}

/// Where the final volume comes from.
///
/// ```
/// use ferrogall::history::{FinalBasis, Pantry, historic_recipe};
/// let read = |id: &str| historic_recipe(id).unwrap().old_recipe(&Pantry::usual()?)?.read();
/// assert_eq!(read("FR05")?.final_basis, FinalBasis::BoiledDown);
/// assert_eq!(read("EN22")?.final_basis, FinalBasis::Stated);
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum FinalBasis {
    /// The text says what it yields.
    Stated,
    /// It follows from the boiling down.
    BoiledDown,
    /// The liquid that goes in; the true volume is a little more for what
    /// dissolves, and less for the marc.
    Charge,
    /// No liquid is given.
    Missing,
}

/// Another reading of the same text.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::history::*;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let text = OldRecipe::new("galls", Setting::new(Place::England, Years::of(1700)?))
///     .line(OldLine::new(Role::Galls, &galls, OldAmount::parse("1 pound")?));
/// let reading = text.read()?;
/// assert_eq!(reading.alternatives.len(), 1); // of 12 ounces
/// # Ok::<(), HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Alternative {
    /// What is taken otherwise.
    pub taking: String,
    /// Its figures.
    pub figures: Figures,
    /// Its final volume.
    pub final_volume: Option<Volume>,
    /// The recipe that follows, where there is liquid.
    pub recipe: Option<Recipe>,
}

/// An old recipe, read.
///
/// ```
/// use ferrogall::history::{DoubtKind, Pantry, historic_recipe};
/// let lemery = historic_recipe("FR02").unwrap().old_recipe(&Pantry::usual()?)?.read()?;
/// // "Reduced two thirds": to 1.96 litres, or by, to 0.98.
/// let v = lemery.final_volume.unwrap();
/// assert!((v.typical.value * 1e6 - 1958.0).abs() < 5.0 && v.low.value * 1e6 < 985.0);
/// assert!(lemery.doubts.iter().any(|d| d.kind == DoubtKind::UnclearBoilDown));
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Reading {
    /// Title.
    pub title: String,
    /// What was known of the text.
    pub setting: Setting,
    /// Every line, in the order of the text.
    pub lines: Vec<ReadLine>,
    /// The liquid that goes in; `None` when none is given.
    pub liquid: Option<Span<Volume>>,
    /// The volume it ends with; `None` when no liquid is given.
    pub final_volume: Option<Span<Volume>>,
    /// Where that comes from.
    pub final_basis: FinalBasis,
    /// Its figures, everything at its likeliest.
    pub figures: Figures,
    /// The recipe for the likeliest reading, made up to the final volume with
    /// its own liquid; `None` when no liquid is given. Without a soak of its
    /// own description the galls yield what a day's soak does.
    pub recipe: Option<Recipe>,
    /// Why there is no recipe, where more goes in than the final volume holds.
    pub no_recipe: Option<RecipeError>,
    /// The other readings, one doubt at a time: a word (of a line, or of the
    /// volume it yields), the ends of "3 or 4", a boiling down.
    pub alternatives: Vec<Alternative>,
    /// What may be a slip.
    pub doubts: Vec<Doubt>,
    /// Notes of the recipe.
    pub notes: Vec<String>,
}

/// More than any recipe has.
const MOST_LINES: usize = 64;

impl OldRecipe {
    /// Reads it: lines, volume, recipe, alternatives, doubts.
    ///
    /// # Errors
    /// Every [`HistoryError`] but `NoSuchPart`: a line that mixes weight and
    /// measure, a volume of a powder of unknown bulk density. A recipe that
    /// holds more than its volume is read all the same; see
    /// [`no_recipe`](Reading::no_recipe).
    pub fn read(&self) -> Result<Reading, HistoryError> {
        let mut reading = self.read_bare()?;
        reading.alternatives = self.alternatives(&reading);
        reading.doubts = slips::doubts(self, &reading)?;
        Ok(reading)
    }

    /// Reads it without looking for anything else it may mean.
    pub(crate) fn read_bare(&self) -> Result<Reading, HistoryError> {
        if self.lines.is_empty() {
            return Err(HistoryError::Empty);
        }
        if self.lines.len() > MOST_LINES {
            return Err(HistoryError::TooManyLines {
                count: self.lines.len(),
                max: MOST_LINES,
            });
        }
        if let Some(part) = self.part {
            checked_mass("mass of one part", part)?;
        }
        let mut lines = Vec::new();
        for line in &self.lines {
            let read = line
                .amount
                .read(&line.name, &self.setting, line.goods, self.part)?;
            lines.push(ReadLine {
                name: line.name.clone(),
                role: line.role,
                amount: read.metric.map(|x| Quantity::of(read.kind, x)),
                candidates: read.candidates,
                reasons: read.reasons,
                lot: line.lot.clone(),
            });
        }
        let liquid = liquid_ml(&lines)?;
        let (final_ml, final_basis) = self.final_ml(liquid)?;
        let figures = totals(&lines, final_ml)?.figures();
        let (recipe, no_recipe) = match (liquid, final_ml) {
            (Some(_), Some(v)) => match build(self, &lines, v.typical) {
                Ok(recipe) => (recipe, None),
                // A slip, most likely: its doubts are worth more than an error.
                Err(HistoryError::Recipe(e @ RecipeError::TooMuchForVolume { .. })) => {
                    (None, Some(e))
                }
                Err(e) => return Err(e),
            },
            _ => (None, None),
        };
        Ok(Reading {
            title: self.title.clone(),
            setting: self.setting,
            lines,
            liquid: liquid.map(|s| s.map(milliliters)),
            final_volume: final_ml.map(|s| s.map(milliliters)),
            final_basis,
            figures,
            recipe,
            no_recipe,
            alternatives: Vec::new(),
            doubts: Vec::new(),
            notes: self.notes.clone(),
        })
    }

    /// The volume it ends with, mL.
    fn final_ml(
        &self,
        liquid: Option<Span<f64>>,
    ) -> Result<(Option<Span<f64>>, FinalBasis), HistoryError> {
        if let Some(amount) = self.ending.yields() {
            let read = amount.read("final volume", &self.setting, Default::default(), None)?;
            if read.kind != UnitKind::Volume {
                return Err(HistoryError::MixedKinds {
                    line: "final volume".into(),
                });
            }
            return Ok((Some(read.metric), FinalBasis::Stated));
        }
        let Some(liquid) = liquid else {
            return Ok((None, FinalBasis::Missing));
        };
        let boiled = |low: f64, typical: f64, high: f64| {
            // Boiled away altogether is no ink; a thousandth is left.
            let share = |x: f64| x.clamp(1e-3, 1.0);
            let span = Span {
                low: liquid.low * share(low),
                typical: liquid.typical * share(typical),
                high: liquid.high * share(high),
            };
            (Some(span), FinalBasis::BoiledDown)
        };
        Ok(match self.ending {
            Ending::BoiledTo(share) => boiled(share.value(), share.value(), share.value()),
            Ending::BoiledBy(share) => {
                let left = 1.0 - share.value();
                boiled(left, left, left)
            }
            Ending::BoiledUnclear(share) => {
                let (to, by) = (share.value(), 1.0 - share.value());
                boiled(to.min(by), to, to.max(by))
            }
            _ => (Some(liquid), FinalBasis::Charge),
        })
    }

    /// One doubt after the other read otherwise: a word, the numbers of a line
    /// or of what it yields, the boiling down.
    fn alternatives(&self, reading: &Reading) -> Vec<Alternative> {
        let mut others: Vec<(String, OldRecipe)> = Vec::new();
        for (word, candidate) in self.other_meanings() {
            let (name, size) = (candidate.name(), candidate.in_words());
            let taking = format!("{} as {name} ({size})", word.id);
            others.push((taking, self.taking(word, candidate)));
        }
        for (i, line) in self.lines.iter().enumerate() {
            for (which, amount) in ["least", "most"]
                .iter()
                .zip(line.amount.ends().into_iter().flatten())
            {
                let mut other = self.clone();
                if let Some(line) = other.lines.get_mut(i) {
                    line.amount = amount;
                }
                others.push((
                    format!("{} at the {which} of its numbers", line.name),
                    other,
                ));
            }
        }
        if let Some(amount) = self.ending.yields() {
            for (which, amount) in ["least", "most"]
                .iter()
                .zip(amount.ends().into_iter().flatten())
            {
                let other = self.clone().ending(Ending::Yields(amount));
                others.push((
                    format!("what it yields at the {which} of its numbers"),
                    other,
                ));
            }
        }
        if let (Ending::BoiledUnclear(share), Some(_)) = (&self.ending, reading.final_volume) {
            let taking = format!("boiled down by {:.3}, not to it", share.value());
            others.push((taking, self.clone().ending(Ending::BoiledBy(*share))));
        }
        let read = |(taking, other): (String, OldRecipe)| {
            let read = other.read_bare().ok()?; // beyond what a recipe may hold
            Some(Alternative {
                taking,
                figures: read.figures,
                final_volume: read.final_volume.map(|v| v.typical),
                recipe: read.recipe,
            })
        };
        others.into_iter().filter_map(read).collect()
    }

    /// Every word of it, the volume it yields included, with every meaning but the likeliest, once each; those
    /// within a thousandth of one before are the same.
    pub(crate) fn other_meanings(&self) -> Vec<(&'static Word, Candidate)> {
        let mut out: Vec<(&'static Word, Candidate)> = Vec::new();
        let lines = self.lines.iter().map(|line| (&line.amount, line.goods));
        let yields = self
            .ending
            .yields()
            .map(|amount| (amount, Goods::default()));
        for (amount, goods) in lines.chain(yields) {
            for term in &amount.terms {
                let Term::Word(_, word) = *term else {
                    continue;
                };
                let found = word.candidates_for(&self.setting, goods);
                let mut seen = vec![found.likeliest().size().in_metric()];
                for c in found.all() {
                    let size = c.size().in_metric();
                    let same = seen.iter().any(|s| (size / s - 1.0).abs() < 1e-3);
                    seen.push(size);
                    let known = out.iter().any(|(w, k)| *w == word && k == c);
                    if !same && !known {
                        out.push((word, *c));
                    }
                }
            }
        }
        out
    }

    /// The same text with one word taken for a unit wherever it stands.
    pub(crate) fn taking(&self, word: &'static Word, candidate: Candidate) -> OldRecipe {
        let mut out = self.clone();
        let lines = out.lines.iter_mut().map(|line| &mut line.amount);
        let yields = match &mut out.ending {
            Ending::Yields(amount) => Some(amount),
            _ => None,
        };
        for amount in lines.chain(yields) {
            for term in &mut amount.terms {
                if let Term::Word(count, w) = *term
                    && w == word
                {
                    *term = Term::Unit(count, candidate);
                }
            }
        }
        out
    }
}

impl Reading {
    /// A figure over all readings: the likeliest, the least, the most. One doubt
    /// at a time is read otherwise; two that add up go beyond.
    pub fn figure(&self, figure: Figure) -> Option<Span<f64>> {
        let typical = self.figures.get(figure)?;
        let mut span = Span {
            low: typical,
            typical,
            high: typical,
        };
        for x in self
            .alternatives
            .iter()
            .filter_map(|a| a.figures.get(figure))
        {
            span.low = span.low.min(x);
            span.high = span.high.max(x);
        }
        Some(span)
    }
}

/// The liquids of the recipe, mL; weighed ones by their density.
fn liquid_ml(lines: &[ReadLine]) -> Result<Option<Span<f64>>, HistoryError> {
    let mut sum: Option<Span<f64>> = None;
    for line in lines.iter().filter(|l| l.role == Role::Liquid) {
        let per_ml = match (line.amount.typical.kind(), &line.lot) {
            (UnitKind::Volume, _) | (_, None) => 1.0,
            (_, Some(lot)) => 1e3 * lot.mass_of(milliliters(1.0))?.value,
        };
        let ml = line.amount.map(|q| q.in_metric() / per_ml);
        let s = sum.get_or_insert(Span {
            low: 0.0,
            typical: 0.0,
            high: 0.0,
        });
        s.low += ml.low;
        s.typical += ml.typical;
        s.high += ml.high;
    }
    Ok(sum)
}

/// Grams of a line's likeliest amount.
fn grams_of(line: &ReadLine) -> Result<f64, HistoryError> {
    match (line.amount.typical, &line.lot) {
        (Quantity::Mass(m), _) => Ok(1e3 * m.value),
        (Quantity::Volume(v), Some(lot)) => Ok(1e3 * lot.mass_of(v)?.value),
        _ => Ok(0.0),
    }
}

fn totals(lines: &[ReadLine], final_ml: Option<Span<f64>>) -> Result<Totals, HistoryError> {
    let mut totals = Totals {
        volume_l: final_ml.map_or(0.0, |v| 1e-3 * v.typical),
        ..Totals::default()
    };
    for line in lines {
        let g = match line.role {
            Role::Galls | Role::IronSalt | Role::Gum => grams_of(line)?,
            Role::Liquid | Role::Other => continue,
        };
        match line.role {
            Role::Galls => totals.galls_g += g,
            Role::Gum => totals.gum_g += g,
            _ => {
                totals.vitriol_g += g;
                if let Some(lot) = &line.lot {
                    let iron = lot.composition(grams(g))?.iron();
                    totals.iron_g += 1e3 * iron.value * crate::chem::constants::IRON;
                }
            }
        }
    }
    Ok(totals)
}

/// The recipe for the likeliest amounts, made up to the final volume. Nothing
/// where no liquid has a lot to fill up with.
fn build(
    old: &OldRecipe,
    lines: &[ReadLine],
    final_ml: f64,
) -> Result<Option<Recipe>, HistoryError> {
    let mut liquids: Vec<(&Lot, f64)> = Vec::new();
    for line in lines.iter().filter(|l| l.role == Role::Liquid) {
        if let Some(lot) = &line.lot {
            let g = grams_of(line)?;
            liquids.push((lot, g));
        }
    }
    // The one there is most of; of equals the one that comes first by name, so
    // that the order of the lines does not matter.
    let main = liquids
        .iter()
        .enumerate()
        .max_by(|(_, a), (_, b)| a.1.total_cmp(&b.1).then_with(|| b.0.name().cmp(a.0.name())));
    let Some((main_at, &(main, _))) = main else {
        return Ok(None);
    };
    let plants: Vec<(&Lot, f64)> = pairs(lines, Role::Galls)?;
    let mut whole: Vec<(&Lot, f64)> = Vec::new();
    for role in [Role::IronSalt, Role::Gum, Role::Other] {
        whole.extend(pairs(lines, role)?);
    }
    for (at, (lot, g)) in liquids.iter().enumerate() {
        if at != main_at {
            whole.push((lot, *g));
        }
    }
    let plants_g: f64 = plants.iter().map(|p| p.1).sum();
    let hold_up = if old.strained_first {
        Estimate::new(DEFAULT_HOLD_UP.0.typical, DEFAULT_HOLD_UP.0.u())?
    } else {
        Estimate::ZERO
    };
    let pot = |soak_ml: f64| -> Result<Solution, HistoryError> {
        let mut pot = Solution::new("ink");
        for (lot, g) in &plants {
            let share = g / plants_g;
            let soak = Extraction::new(lot, grams(*g), main, milliliters(share * soak_ml))
                .holding_back_about(hold_up.value(), hold_up.u())?;
            pot = pot.extract(soak);
        }
        for (lot, g) in &whole {
            pot = pot.add(lot, grams(*g));
        }
        Ok(pot)
    };
    let recipe = |pot: Solution| Recipe::new(&old.title).with(pot);
    if plants.is_empty() {
        let recipe = recipe(pot(0.0)?).make_up(main, milliliters(final_ml));
        recipe.evaluate()?;
        return Ok(Some(recipe));
    }
    // Soaked in all of it where that leaves room for what dissolves, else in
    // what the mark leaves, less one part in a hundred to fill up with.
    let full = recipe(pot(final_ml)?);
    let over = 1e6 * full.evaluate()?.composition.volume().value - final_ml;
    let soak_ml = (final_ml - over.max(0.0) - 0.01 * final_ml).max(0.02 * final_ml);
    let recipe = recipe(pot(soak_ml)?).make_up(main, milliliters(final_ml));
    recipe.evaluate()?;
    Ok(Some(recipe))
}

/// Lots of one role with their grams, in an order that does not depend on that
/// of the lines.
fn pairs(lines: &[ReadLine], role: Role) -> Result<Vec<(&Lot, f64)>, HistoryError> {
    let mut out = Vec::new();
    for line in lines.iter().filter(|l| l.role == role) {
        if let Some(lot) = &line.lot {
            out.push((lot, grams_of(line)?));
        }
    }
    out.sort_by(|a, b| a.0.name().cmp(b.0.name()).then(a.1.total_cmp(&b.1)));
    Ok(out)
}
