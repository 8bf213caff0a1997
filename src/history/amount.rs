//! An amount as a recipe gives it.

use super::count::{Count, is_number};
use super::unit::{Quantity, Unit, UnitKind};
use super::word::{Candidate, Candidates, Goods, Setting, Standing, Word};
use super::{HistoryError, unit, word};
use crate::quantity::{MAX_MASS_KG, MAX_VOLUME_M3, Mass, grams, milliliters, within};
use crate::span::Span;

/// One piece of an amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Term {
    /// So many of a unit that is known.
    Unit(Count, Candidate),
    /// So many of what a word means.
    Word(Count, &'static Word),
    /// A metric amount.
    Metric(Count, Quantity),
    /// Parts by weight.
    Parts(Count),
}

impl Term {
    /// How many of it.
    fn count(&mut self) -> &mut Count {
        let (Term::Unit(count, _)
        | Term::Word(count, _)
        | Term::Metric(count, _)
        | Term::Parts(count)) = self;
        count
    }
}

/// An amount in old units, by word or by unit, in grams, or in parts; a sum of
/// several ("1 pound 4 ounces").
///
/// ```
/// use ferrogall::history::OldAmount;
/// let by_word = OldAmount::parse("1 pound 4 ounces")?; // which pound? place and year tell
/// let by_unit = OldAmount::parse("6 en_av_oz")?;       // this unit and no other
/// let parts = OldAmount::parse("3 parts")?;
/// let metric = OldAmount::parse("800 mL")?;
/// assert!(OldAmount::parse("a handful").is_err());
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct OldAmount {
    pub(crate) terms: Vec<Term>,
}

/// An amount read: its span in grams or millilitres, and what it could be.
pub(crate) struct AmountRead {
    pub(crate) kind: UnitKind,
    pub(crate) metric: Span<f64>,
    pub(crate) candidates: Vec<Candidates>,
    pub(crate) reasons: Vec<String>,
}

impl OldAmount {
    /// So many of a unit.
    pub fn of(count: Count, unit: &'static Unit) -> OldAmount {
        OldAmount::one(Term::Unit(count, Candidate::just(unit)))
    }

    /// So many of what a word means.
    pub fn in_words(count: Count, word: &'static Word) -> OldAmount {
        OldAmount::one(Term::Word(count, word))
    }

    /// A metric amount.
    pub fn metric(quantity: impl Into<Quantity>) -> OldAmount {
        OldAmount::one(Term::Metric(Count::ONE, quantity.into()))
    }

    /// Parts by weight.
    pub fn parts(count: Count) -> OldAmount {
        OldAmount::one(Term::Parts(count))
    }

    fn one(term: Term) -> OldAmount {
        OldAmount { terms: vec![term] }
    }

    /// Both together: a pound and four ounces.
    #[must_use]
    pub fn and(mut self, more: OldAmount) -> OldAmount {
        self.terms.extend(more.terms);
        self
    }

    /// Reads numbers each followed by a word, a unit's identifier, "g", "kg",
    /// "mL", "L" or "parts": "3 or 4 ounces", "1 lb, 4 oz", "half a pint", "two
    /// ounces and a half", "℥iij".
    ///
    /// # Errors
    /// [`HistoryError::NotANumber`], [`HistoryError::UnknownUnit`],
    /// [`HistoryError::OutOfRange`].
    pub fn parse(text: &str) -> Result<OldAmount, HistoryError> {
        let text = text.trim();
        let spaced = spaced(text);
        let tokens = in_order(spaced.split_whitespace().collect());
        let mut terms: Vec<Term> = Vec::new();
        let mut rest = tokens.as_slice();
        while !rest.is_empty() {
            // "one and a half", but "a pound and a half".
            let of_number = |i: &usize| {
                let is = |i: usize| rest.get(i).is_some_and(|t| is_number(t));
                is(*i) || (*i > 0 && rest.get(*i) == Some(&"and") && is(*i - 1) && is(*i + 1))
            };
            let (count, after) = rest.split_at((0..rest.len()).take_while(of_number).count());
            if count.is_empty() {
                return Err(HistoryError::NotANumber { text: text.into() });
            }
            let count = Count::parse(&count.join(" "))?;
            let of_unit = after.iter().take_while(|t| !is_number(t)).count();
            let (name, after) = after.split_at(of_unit);
            let name: Vec<&str> = name
                .iter()
                .copied()
                .filter(|t| *t != "and" && *t != "+")
                .collect();
            match terms.last_mut() {
                Some(last) if name.is_empty() && count.high() < 1.0 => {
                    let before = last.count();
                    *before = before.plus(count)?;
                }
                _ if name.is_empty() => {
                    return Err(HistoryError::UnknownUnit { text: text.into() });
                }
                _ => terms.push(term(count, &name.join(" "))?),
            }
            rest = after;
        }
        if terms.is_empty() {
            return Err(HistoryError::NotANumber { text: text.into() });
        }
        Ok(OldAmount { terms })
    }

    /// What it comes to in such a text: the likeliest, and from the least to
    /// the most that may be meant. One part is a gram.
    ///
    /// # Errors
    /// [`HistoryError::MixedKinds`], [`HistoryError::OutOfRange`] beyond a
    /// thousand tonnes or cubic metres.
    pub fn in_metric(
        &self,
        setting: &Setting,
        goods: Goods,
    ) -> Result<Span<Quantity>, HistoryError> {
        let read = self.read("amount", setting, goods, None)?;
        Ok(read.metric.map(|x| Quantity::of(read.kind, x)))
    }

    /// The same with the ends of its numbers for their middle: "3" and "4" of
    /// "3 or 4"; nothing where each is one number.
    pub(crate) fn ends(&self) -> Option<[OldAmount; 2]> {
        let at = |end: fn(Count) -> Count| {
            let mut out = self.clone();
            for term in &mut out.terms {
                let count = term.count();
                *count = end(*count);
            }
            out
        };
        let ends = [at(Count::least), at(Count::most)];
        (ends[0] != ends[1]).then_some(ends)
    }

    /// The only unit or word in it, for slips of it.
    pub(crate) fn single(&self) -> Option<&Term> {
        match self.terms.as_slice() {
            [one] => Some(one),
            _ => None,
        }
    }

    /// What it comes to.
    pub(crate) fn read(
        &self,
        line: &str,
        setting: &Setting,
        goods: Goods,
        part: Option<Mass>,
    ) -> Result<AmountRead, HistoryError> {
        let mut kind = None;
        let mut metric = Span {
            low: 0.0,
            typical: 0.0,
            high: 0.0,
        };
        let mut candidates = Vec::new();
        let mut reasons = Vec::new();
        for term in &self.terms {
            let (of_kind, span) = match *term {
                Term::Unit(count, c) => {
                    let only = Candidates::only(c.unit, standing(c.unit, setting)).taking(c);
                    note_standing(&only, None, setting, &mut reasons);
                    let read = (c.unit.kind, times(count, c.metric_span()));
                    candidates.push(only);
                    read
                }
                Term::Word(count, word) => {
                    let found = word.candidates_for(setting, goods);
                    note_standing(&found, Some(word), setting, &mut reasons);
                    let read = (found.kind(), times(count, found.metric_span()));
                    candidates.push(found);
                    read
                }
                Term::Metric(count, q) => (q.kind(), times(count, exactly(q.in_metric()))),
                Term::Parts(count) => {
                    let one = part.unwrap_or_else(|| grams(1.0));
                    within("mass of one part", 1e3 * one.value, 1e-9, 1e9, "g")?;
                    if part.is_none() {
                        reasons.push("one part is taken as 1 g: only the proportions count".into());
                    }
                    let one = Quantity::Mass(one).in_metric();
                    (UnitKind::Mass, times(count, exactly(one)))
                }
            };
            if of_kind == UnitKind::Time || kind.is_some_and(|k| k != of_kind) {
                return Err(HistoryError::MixedKinds {
                    line: line.to_string(),
                });
            }
            kind = Some(of_kind);
            metric.low += span.low;
            metric.typical += span.typical;
            metric.high += span.high;
        }
        let kind = kind.ok_or(HistoryError::Empty)?;
        match kind {
            UnitKind::Volume => within("volume", metric.high, 1e-9, MAX_VOLUME_M3 * 1e6, "mL")?,
            _ => within("mass", metric.high, 1e-9, MAX_MASS_KG * 1e3, "g")?,
        };
        Ok(AmountRead {
            kind,
            metric,
            candidates,
            reasons,
        })
    }
}

const fn exactly(x: f64) -> Span<f64> {
    Span {
        low: x,
        typical: x,
        high: x,
    }
}

fn times(count: Count, one: Span<f64>) -> Span<f64> {
    Span {
        low: count.low() * one.low,
        typical: count.typical() * one.typical,
        high: count.high() * one.high,
    }
}

/// How a unit that was named stands to the text.
pub(crate) fn standing(unit: &Unit, setting: &Setting) -> Standing {
    if unit.fits(setting.place, setting.years) {
        Standing::Fits
    } else if unit.fits_place(setting.place) {
        Standing::OtherTime
    } else if unit.fits_years(setting.years) {
        Standing::OtherPlace
    } else {
        Standing::OtherPlaceAndTime
    }
}

fn note_standing(
    found: &Candidates,
    word: Option<&'static Word>,
    setting: &Setting,
    reasons: &mut Vec<String>,
) {
    let first = found.likeliest();
    if let Some(word) = word {
        let sizes: Vec<String> = found
            .all()
            .iter()
            .map(|c| format!("{} ({})", c.name(), c.in_words()))
            .collect();
        reasons.push(format!("{}: {}", word.id, sizes.join(", or ")));
        if found.all().len() > 1 && !word.trap.is_empty() {
            reasons.push(word.trap.to_string());
        }
    }
    if found.standing() != Standing::Fits {
        reasons.push(format!(
            "{} is {} ({}, {}; known of it: {})",
            first.unit.name,
            found.standing().label(),
            setting.place,
            setting.years,
            first.unit.validity
        ));
    }
}

impl Candidate {
    /// Its name, with how many of it are meant.
    pub(crate) fn name(&self) -> String {
        let t = self.times;
        if t == 1.0 {
            self.unit.name.to_string()
        } else if t > 1.0 {
            format!("{t} times the {}", self.unit.name)
        } else {
            format!("1/{:.0} of the {}", 1.0 / t, self.unit.name)
        }
    }

    /// One of it in words.
    pub(crate) fn in_words(&self) -> String {
        let x = self.unit.metric_value * self.times;
        match self.unit.kind {
            UnitKind::Mass if x < 0.1 => format!("{:.1} mg", 1e3 * x),
            UnitKind::Mass if x < 100.0 => format!("{x:.2} g"),
            UnitKind::Mass => format!("{x:.1} g"),
            UnitKind::Volume if x < 1.0 => format!("{x:.3} mL"),
            UnitKind::Volume => format!("{x:.1} mL"),
            UnitKind::Time => format!("{x:.0} s"),
        }
    }
}

/// Whether it is a sign of the apothecaries.
fn is_sign(c: char) -> bool {
    matches!(c, '℥' | 'ʒ' | '℈' | '℔')
}

/// The text without its commas, with a space round each sign and behind the
/// number of "3oz"; "of a" is no more than "a".
fn spaced(text: &str) -> String {
    let mut apart = String::new();
    for c in text.chars() {
        let space = if is_sign(c) { " " } else { "" };
        apart.extend([space, c.encode_utf8(&mut [0; 4]), space]);
    }
    let mut out = String::new();
    for token in apart.split_whitespace() {
        let token = token.trim_end_matches([',', ';']);
        let glued = token.starts_with(char::is_numeric);
        let at = token.find(char::is_alphabetic).filter(|_| glued);
        let (number, name) = token.split_at(at.unwrap_or(0));
        out.extend([number, " ", name, " "]);
    }
    out.replace(" of  an ", " an ").replace(" of  a ", " a ")
}

/// Apothecaries put the sign first: each goes behind its own numbers.
fn in_order(tokens: Vec<&str>) -> Vec<&str> {
    let sign = |token: &&str| token.chars().all(is_sign);
    if !tokens.first().is_some_and(sign) {
        return tokens;
    }
    let groups = tokens.chunk_by(|_, next| !sign(next));
    let turned = groups.flat_map(|group| {
        let (sign, numbers) = group.split_at(1);
        numbers.iter().chain(sign).copied()
    });
    turned.collect()
}

fn term(count: Count, name: &str) -> Result<Term, HistoryError> {
    let one = match name.to_lowercase().as_str() {
        "g" | "gram" | "grams" | "gramme" | "grammes" => Some(Quantity::Mass(grams(1.0))),
        "kg" | "kilogram" | "kilograms" => Some(Quantity::Mass(grams(1000.0))),
        "mg" => Some(Quantity::Mass(grams(0.001))),
        "ml" | "cc" => Some(Quantity::Volume(milliliters(1.0))),
        "cl" => Some(Quantity::Volume(milliliters(10.0))),
        "dl" => Some(Quantity::Volume(milliliters(100.0))),
        "l" | "litre" | "litres" | "liter" | "liters" => {
            Some(Quantity::Volume(milliliters(1000.0)))
        }
        "part" | "parts" => return Ok(Term::Parts(count)),
        _ => None,
    };
    if let Some(one) = one {
        return Ok(Term::Metric(count, one));
    }
    if let Some(unit) = unit(name) {
        return Ok(Term::Unit(count, Candidate::just(unit)));
    }
    let word = word(name).ok_or_else(|| HistoryError::UnknownUnit {
        text: name.to_string(),
    })?;
    Ok(Term::Word(count, word))
}
