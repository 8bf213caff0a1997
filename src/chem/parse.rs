//! The grammar of [`super::Formula::parse`].
//!
//! State and charge are taken off the end first, then the body is read from the
//! left. Text is only ever cut where `char_indices` or `strip_*` say it may be.

use super::charge::take_charge;
use super::elements::Element;
use super::formula::{Atoms, FormulaError, FormulaErrorKind as Kind};

const MAX_BYTES: usize = 1024;
const MAX_DEPTH: usize = 32;
const MAX_COUNT: f64 = 1e6;
/// Keeps the product of 32 nested counts far from underflow.
const MIN_COUNT: f64 = 1e-6;

const STATES: [&str; 5] = ["(aq)", "(cr)", "(s)", "(l)", "(g)"];

pub(super) fn formula(text: &str) -> Result<(Atoms, i32), FormulaError> {
    if text.len() > MAX_BYTES {
        return Err(FormulaError {
            kind: Kind::TooLong,
            position: 0,
            found: text.chars().next(),
        });
    }
    let (body, charge) = take_charge(text, without_state(text.trim_end()))?;
    let mut p = Parser {
        text,
        end: body.len(),
        pos: 0,
    };
    let atoms = p.parts()?;
    Ok((atoms, charge))
}

fn without_state(text: &str) -> &str {
    let cut = STATES.iter().find_map(|s| text.strip_suffix(s));
    cut.map_or(text, str::trim_end)
}

pub(super) fn error(text: &str, position: usize, kind: Kind) -> FormulaError {
    let found = text.get(position..).and_then(|rest| rest.chars().next());
    FormulaError {
        kind,
        position,
        found,
    }
}

fn digit(c: char) -> Option<u32> {
    match c {
        '₀'..='₉' => Some(u32::from(c) - u32::from('₀')),
        _ => c.to_digit(10),
    }
}

fn is_dot(c: char) -> bool {
    matches!(
        c,
        '·' | '\u{387}' | '‧' | '●' | '･' | '•' | '⋅' | '∙' | '・' | '.' | '*' | '×' | 'x'
    )
}

struct Parser<'a> {
    text: &'a str,
    /// Where the charge or the end begins.
    end: usize,
    pos: usize,
}

impl Parser<'_> {
    fn peek(&self) -> Option<char> {
        self.text
            .get(self.pos..self.end)
            .and_then(|s| s.chars().next())
    }

    fn advance(&mut self, c: char) {
        self.pos += c.len_utf8();
    }

    fn fail<T>(&self, at: usize, kind: Kind) -> Result<T, FormulaError> {
        Err(error(self.text, at, kind))
    }

    fn skip_spaces(&mut self) {
        while let Some(c) = self.peek().filter(|c| c.is_whitespace()) {
            self.advance(c);
        }
    }

    /// `part (dot part)*` to the end.
    fn parts(&mut self) -> Result<Atoms, FormulaError> {
        let mut total = Atoms::NONE;
        loop {
            self.skip_spaces();
            let start = self.pos;
            let times = self.multiplier()?;
            self.skip_spaces();
            let part = self.sequence(0)?;
            self.add(&mut total, &part, times, start)?;
            self.skip_spaces();
            match self.peek() {
                None => return Ok(total),
                Some(c) if is_dot(c) => self.advance(c),
                Some(')' | ']' | '}') => return self.fail(self.pos, Kind::UnbalancedBracket),
                Some(_) => return self.fail(self.pos, Kind::Unexpected),
            }
        }
    }

    /// Elements and groups, as far as they go.
    fn sequence(&mut self, depth: usize) -> Result<Atoms, FormulaError> {
        let mut atoms = Atoms::NONE;
        let first = self.pos;
        while let Some(c) = self.peek() {
            let start = self.pos;
            let unit = match c {
                '(' | '[' | '{' => self.group(c, depth)?,
                'A'..='Z' => {
                    let mut one = Atoms::NONE;
                    one.add(self.element()?, 1.0);
                    one
                }
                'x' => break,
                c if c.is_alphabetic() => return self.fail(start, Kind::UnknownElement),
                _ => break,
            };
            let times = self.count()?;
            self.add(&mut atoms, &unit, times, start)?;
        }
        if self.pos > first {
            Ok(atoms)
        } else {
            self.fail(self.pos, Kind::Empty)
        }
    }

    fn group(&mut self, open: char, depth: usize) -> Result<Atoms, FormulaError> {
        let start = self.pos;
        if depth >= MAX_DEPTH {
            return self.fail(start, Kind::TooDeep);
        }
        self.advance(open);
        let inside = self.sequence(depth + 1)?;
        let close = match open {
            '(' => ')',
            '[' => ']',
            _ => '}',
        };
        match self.peek() {
            Some(c) if c == close => self.advance(c),
            None => return self.fail(start, Kind::UnbalancedBracket),
            Some(')' | ']' | '}') => return self.fail(self.pos, Kind::UnbalancedBracket),
            Some(_) => return self.fail(self.pos, Kind::Unexpected),
        }
        Ok(inside)
    }

    fn element(&mut self) -> Result<Element, FormulaError> {
        let start = self.pos;
        let rest = self.text.get(start..self.end).unwrap_or_default();
        // `x` after one capital would be a second letter; no symbol has it but
        // xenon's first, so a dot written `x` wants a digit, bracket or space
        // before it.
        let two = rest
            .char_indices()
            .nth(1)
            .filter(|(_, c)| c.is_ascii_lowercase());
        let length = two.map_or(1, |_| 2);
        match rest.get(..length).and_then(Element::from_symbol) {
            Some(e) => {
                self.pos += length;
                Ok(e)
            }
            None => self.fail(start, Kind::UnknownElement),
        }
    }

    /// Digits as a number; `None` when there are none.
    fn digits(&mut self) -> Result<Option<f64>, FormulaError> {
        let start = self.pos;
        let mut value = None;
        while let Some((c, d)) = self.peek().and_then(|c| digit(c).map(|d| (c, d))) {
            if value == Some(0.0) {
                // A second digit after a leading zero: a letter O mistyped.
                return self.fail(start, Kind::BadCount);
            }
            let n = value.unwrap_or(0.0) * 10.0 + f64::from(d);
            if n > MAX_COUNT {
                return self.fail(start, Kind::CountTooLarge);
            }
            value = Some(n);
            self.advance(c);
        }
        Ok(value)
    }

    /// `.95` after the point.
    fn decimals(&mut self) -> f64 {
        let (mut value, mut place) = (0.0, 1.0);
        while let Some((c, d)) = self.peek().and_then(|c| digit(c).map(|d| (c, d))) {
            place *= 10.0;
            // Past 17 digits a place adds nothing an f64 can hold.
            if place <= 1e17 {
                value = value * 10.0 + f64::from(d);
            } else {
                place = 1e17;
            }
            self.advance(c);
        }
        value / place
    }

    fn point_before_digit(&self) -> bool {
        let mut ahead = self
            .text
            .get(self.pos..self.end)
            .unwrap_or_default()
            .chars();
        ahead.next() == Some('.') && ahead.next().is_some_and(|c| digit(c).is_some())
    }

    /// The count after an atom or group; 1 when there is none.
    fn count(&mut self) -> Result<f64, FormulaError> {
        let start = self.pos;
        match self.digits()? {
            None => Ok(1.0),
            Some(n) => {
                let fraction = if n == 0.0 && self.point_before_digit() {
                    self.advance('.');
                    self.decimals()
                } else {
                    0.0
                };
                self.at_least_minimum(n + fraction, start)
            }
        }
    }

    /// The number before a part: `7`, `1.5`, `1/2`; 1 when there is none.
    fn multiplier(&mut self) -> Result<f64, FormulaError> {
        let start = self.pos;
        let half = self.peek().filter(|c| matches!(c, '½' | '¼' | '¾'));
        if let Some(c) = half {
            self.advance(c);
            return Ok(match c {
                '½' => 0.5,
                '¼' => 0.25,
                _ => 0.75,
            });
        }
        let Some(mut n) = self.digits()? else {
            return Ok(1.0);
        };
        if self.point_before_digit() {
            self.advance('.');
            n += self.decimals();
        } else if self.peek() == Some('/') {
            self.advance('/');
            let below = self.digits()?.filter(|d| *d > 0.0);
            match below {
                Some(d) => n /= d,
                None => return self.fail(start, Kind::BadCount),
            }
        }
        self.at_least_minimum(n, start)
    }

    fn at_least_minimum(&self, n: f64, start: usize) -> Result<f64, FormulaError> {
        if n >= MIN_COUNT {
            Ok(n)
        } else {
            self.fail(start, Kind::BadCount)
        }
    }

    fn add(
        &self,
        to: &mut Atoms,
        what: &Atoms,
        times: f64,
        start: usize,
    ) -> Result<(), FormulaError> {
        to.add_all(what, times);
        if to.most() > MAX_COUNT {
            self.fail(start, Kind::CountTooLarge)
        } else {
            Ok(())
        }
    }
}
