//! How many: a number, a fraction, a span.

use super::HistoryError;
use crate::quantity::{OutOfRange, within};

/// A number as old recipes give it: "2", "1/2", "3 or 4".
///
/// ```
/// use ferrogall::history::Count;
/// assert_eq!(Count::parse("2 1/4")?, Count::of(2.25)?);
/// assert_eq!(Count::parse("3 or 4")?, Count::between(3.0, 4.0)?);
/// assert_eq!(Count::parse("iij")?, Count::of(3.0)?);
/// assert_eq!(Count::parse("½")?.typical(), 0.5);
/// assert!(Count::of(-1.0).is_err());
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Count {
    low: f64,
    high: f64,
}

/// The least and the largest number taken.
const LEAST: f64 = 1e-6;
const MOST: f64 = 1e6;

impl Count {
    pub(crate) const ONE: Count = Count {
        low: 1.0,
        high: 1.0,
    };

    /// A number, from a millionth to a million.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn of(number: f64) -> Result<Count, OutOfRange> {
        Count::between(number, number)
    }

    /// A span: "3 or 4". Each end from a millionth to a million, the first
    /// not above the second.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn between(low: f64, high: f64) -> Result<Count, OutOfRange> {
        within("number", low, LEAST, MOST, "")?;
        within("second number", high, low, MOST, "")?;
        Ok(Count { low, high })
    }

    /// The low end.
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The middle.
    pub fn typical(self) -> f64 {
        if self.low == self.high {
            self.low
        } else {
            0.5 * (self.low + self.high)
        }
    }

    /// The high end.
    pub const fn high(self) -> f64 {
        self.high
    }

    pub(crate) const fn least(self) -> Count {
        Count {
            low: self.low,
            high: self.low,
        }
    }

    pub(crate) const fn most(self) -> Count {
        Count {
            low: self.high,
            high: self.high,
        }
    }

    /// So many times the number.
    ///
    /// # Errors
    /// [`OutOfRange`] when it leaves the range of a count.
    pub fn times(self, factor: f64) -> Result<Count, OutOfRange> {
        Count::between(self.low * factor, self.high * factor)
    }

    /// This and so many more: "2 ounces and a half".
    pub(crate) fn plus(self, more: Count) -> Result<Count, OutOfRange> {
        Count::between(self.low + more.low, self.high + more.high)
    }

    /// Reads digits, decimals, fractions ("1/2", "2 1/4", "2½", "1-1/2"), Roman
    /// numerals ("iij"), words ("a", "half a", "three quarters", "one and a
    /// half"), and spans with "or", "to" or a dash.
    ///
    /// # Errors
    /// [`HistoryError::NotANumber`], [`HistoryError::OutOfRange`].
    pub fn parse(text: &str) -> Result<Count, HistoryError> {
        let not = || HistoryError::NotANumber {
            text: text.to_string(),
        };
        let small = text.to_lowercase();
        let tokens: Vec<&str> = small.split_whitespace().flat_map(split_at_dash).collect();
        let mut sides: Vec<Option<f64>> = vec![None];
        let mut and = false;
        for (i, token) in tokens.iter().enumerate() {
            if matches!(*token, "or" | "to" | "-") && !and {
                sides.push(None);
                continue;
            }
            let side = sides.last_mut().ok_or_else(not)?;
            if *token == "and" && side.is_some() && !and {
                and = true;
                continue;
            }
            // The article of "a half" and of "half a" is no number.
            let before = i.checked_sub(1).and_then(|i| tokens.get(i));
            let fraction = |t: Option<&&str>| t.is_some_and(|t| number(t).is_some_and(|x| x < 1.0));
            if is_article(token) && (fraction(tokens.get(i + 1)) || fraction(before)) {
                continue;
            }
            let value = number(token).ok_or_else(not)?;
            *side = Some(match *side {
                None => value,
                // "one and a half", "2 1/4": a whole number and a fraction.
                Some(whole) if value < 1.0 && whole >= 1.0 && (and || !is_named(token)) => {
                    whole + value
                }
                // "three quarters", "one half".
                Some(whole) if value < 1.0 && whole >= 1.0 => whole * value,
                Some(_) => return Err(not()),
            });
            and = false;
        }
        match sides.as_slice() {
            _ if and => Err(not()),
            [Some(one)] => Ok(Count::of(*one)?),
            [Some(low), Some(high)] => Ok(Count::between(*low, *high)?),
            _ => Err(not()),
        }
    }
}

/// "3-4" in its three pieces; "1-1/2", which is no span, in two.
fn split_at_dash(token: &str) -> Vec<&str> {
    let Some((low, high)) = token.split_once(['–', '-']) else {
        return vec![token];
    };
    let whole = number(low).is_some_and(|x| x >= 1.0 && x % 1.0 == 0.0);
    let pieces = if whole && number(high).is_some_and(|x| x < 1.0) {
        [low, "", high]
    } else {
        [low, "-", high]
    };
    pieces.into_iter().filter(|p| !p.is_empty()).collect()
}

fn is_article(token: &str) -> bool {
    matches!(token, "a" | "an")
}

/// A fraction that is said, not written: it counts so many of itself.
fn is_named(token: &str) -> bool {
    matches!(
        token,
        "half" | "halves" | "quarter" | "quarters" | "third" | "thirds"
    )
}

/// Whether a piece of a text belongs to a number.
pub(super) fn is_number(token: &str) -> bool {
    let token = token.to_lowercase();
    if token == "or" || token == "to" {
        return true;
    }
    token.split(['–', '-']).all(|t| number(t).is_some())
}

fn number(token: &str) -> Option<f64> {
    const SIGNS: &[(char, f64)] = &[
        ('½', 0.5),
        ('¼', 0.25),
        ('¾', 0.75),
        ('⅓', 1.0 / 3.0),
        ('⅔', 2.0 / 3.0),
        ('⅛', 0.125),
        ('⅜', 0.375),
        ('⅝', 0.625),
        ('⅞', 0.875),
    ];
    match token {
        "a" | "an" | "one" => return Some(1.0),
        "half" | "halves" => return Some(0.5),
        "quarter" | "quarters" => return Some(0.25),
        "third" | "thirds" => return Some(1.0 / 3.0),
        "two" => return Some(2.0),
        "three" => return Some(3.0),
        "four" => return Some(4.0),
        "five" => return Some(5.0),
        "six" => return Some(6.0),
        "seven" => return Some(7.0),
        "eight" => return Some(8.0),
        "nine" => return Some(9.0),
        "ten" => return Some(10.0),
        "eleven" => return Some(11.0),
        "twelve" => return Some(12.0),
        "fourteen" => return Some(14.0),
        "fifteen" => return Some(15.0),
        "sixteen" => return Some(16.0),
        "eighteen" => return Some(18.0),
        "twenty" => return Some(20.0),
        _ => {}
    }
    let sign = |(sign, part): &(char, f64)| Some((token.strip_suffix(*sign)?, *part));
    if let Some((whole, part)) = SIGNS.iter().find_map(sign) {
        return if whole.is_empty() {
            Some(part)
        } else {
            digits(whole).map(|w| w + part)
        };
    }
    if let Some((over, under)) = token.split_once(['/', '⁄']) {
        let (over, under) = (digits(over)?, digits(under)?);
        return (under > 0.0).then(|| over / under);
    }
    digits(token).or_else(|| roman(token))
}

/// Decimal digits with at most one point; no sign, no exponent, no "inf".
fn digits(token: &str) -> Option<f64> {
    let plain = token.chars().all(|c| c.is_ascii_digit() || c == '.');
    (plain && token.starts_with(|c: char| c.is_ascii_digit()))
        .then(|| token.parse().ok())
        .flatten()
}

/// Small Roman numerals with a long last i ("viij"); a half at the end is "ss".
fn roman(token: &str) -> Option<f64> {
    let (token, half) = match token.strip_suffix("ss") {
        Some(rest) => (rest, 0.5),
        None => (token, 0.0),
    };
    let worth = |c: char| match c {
        'i' | 'j' => Some(1.0),
        'v' => Some(5.0),
        'x' => Some(10.0),
        'l' => Some(50.0),
        'c' => Some(100.0),
        _ => None,
    };
    // "l", "c" and "cc" are measures.
    if !(half > 0.0 && token.is_empty() || token.contains(['i', 'j', 'v', 'x'])) {
        return None;
    }
    let values: Vec<f64> = token.chars().map(worth).collect::<Option<_>>()?;
    let mut sum = half;
    for (i, value) in values.iter().enumerate() {
        let before_larger = values.get(i + 1).is_some_and(|next| next > value);
        sum += if before_larger { -value } else { *value };
    }
    (sum > 0.0).then_some(sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_as_they_are_written() -> Result<(), HistoryError> {
        for (text, low, high) in [
            ("3", 3.0, 3.0),
            ("0.75", 0.75, 0.75),
            ("1/2", 0.5, 0.5),
            ("10 1/2", 10.5, 10.5),
            ("1½", 1.5, 1.5),
            ("3-4", 3.0, 4.0),
            ("two or three", 2.0, 3.0),
            ("1/2 to 1", 0.5, 1.0),
            ("xxx", 30.0, 30.0),
            ("iv", 4.0, 4.0),
            ("iijss", 3.5, 3.5),
            ("ss", 0.5, 0.5),
            ("j ss", 1.5, 1.5),
            ("half a", 0.5, 0.5),
            ("a half", 0.5, 0.5),
            ("one half", 0.5, 0.5),
            ("three quarters", 0.75, 0.75),
            ("a quarter", 0.25, 0.25),
            ("two half", 1.0, 1.0),
            ("one and a half", 1.5, 1.5),
            ("2 and 1/2", 2.5, 2.5),
            ("1-1/2", 1.5, 1.5),
            ("1 – 2", 1.0, 2.0),
            ("2-2 1/2", 2.0, 2.5),
            ("1⁄2", 0.5, 0.5),
            ("half to three quarters", 0.5, 0.75),
        ] {
            assert_eq!(Count::parse(text)?, Count::between(low, high)?, "{text}");
        }
        for text in [
            "",
            "or",
            "3 or",
            "1/0",
            "1 2",
            "-3",
            "nan",
            "inf",
            "1e3",
            "0",
            "4 or 3",
            ".",
            "½½",
            "and",
            "2 and",
            "and 2",
            "2 and 3",
            "a a",
            "half half",
            "-",
            "3-",
            "-3-4",
            "1-2-3",
        ] {
            assert!(Count::parse(text).is_err(), "{text}");
        }
        Ok(())
    }
}
