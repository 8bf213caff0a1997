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

    /// So many times the number.
    ///
    /// # Errors
    /// [`OutOfRange`] when it leaves the range of a count.
    pub fn times(self, factor: f64) -> Result<Count, OutOfRange> {
        Count::between(self.low * factor, self.high * factor)
    }

    /// Reads digits, decimals, fractions ("1/2", "2 1/4", "2½"), Roman
    /// numerals ("iij"), "a", "half", and spans with "or", "to" or a dash.
    ///
    /// # Errors
    /// [`HistoryError::NotANumber`], [`HistoryError::OutOfRange`].
    pub fn parse(text: &str) -> Result<Count, HistoryError> {
        let not = || HistoryError::NotANumber {
            text: text.to_string(),
        };
        let spaced = text.replace(['–', '-'], " to ");
        let mut sides: Vec<Option<f64>> = vec![None];
        let mut article = false;
        for token in spaced.split_whitespace() {
            let token = token.to_lowercase();
            if token == "or" || token == "to" {
                sides.push(None);
                continue;
            }
            let value = number(&token).ok_or_else(not)?;
            let side = sides.last_mut().ok_or_else(not)?;
            *side = Some(match *side {
                None => value,
                // "a half pint" is half a pint, not one and a half.
                Some(_) if article && token == "half" => value,
                // "2 1/4": a whole number and a fraction.
                Some(whole) if value < 1.0 && whole >= 1.0 => whole + value,
                Some(_) => return Err(not()),
            });
            article = matches!(token.as_str(), "a" | "an" | "one");
        }
        match sides.as_slice() {
            [Some(one)] => Ok(Count::of(*one)?),
            [Some(low), Some(high)] => Ok(Count::between(*low, *high)?),
            _ => Err(not()),
        }
    }
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
        "half" => return Some(0.5),
        "two" => return Some(2.0),
        "three" => return Some(3.0),
        "four" => return Some(4.0),
        "five" => return Some(5.0),
        "six" => return Some(6.0),
        "seven" => return Some(7.0),
        "eight" => return Some(8.0),
        "nine" => return Some(9.0),
        "ten" => return Some(10.0),
        "twelve" => return Some(12.0),
        _ => {}
    }
    if let Some((sign, part)) = SIGNS.iter().find(|(s, _)| token.ends_with(*s)) {
        let whole = token.trim_end_matches(*sign);
        return if whole.is_empty() {
            Some(*part)
        } else {
            digits(whole).map(|w| w + part)
        };
    }
    if let Some((over, under)) = token.split_once('/') {
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
    if !token.contains(['i', 'j', 'v', 'x']) {
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
        ] {
            assert_eq!(Count::parse(text)?, Count::between(low, high)?, "{text}");
        }
        for text in [
            "", "or", "3 or", "1/0", "1 2", "-3", "nan", "inf", "1e3", "0", "4 or 3", ".",
        ] {
            assert!(Count::parse(text).is_err(), "{text}");
        }
        Ok(())
    }
}
