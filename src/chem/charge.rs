//! The charge at the end of a formula; the rules are told at
//! [`super::Formula::parse`].

use super::elements::Element;
use super::formula::{FormulaError, FormulaErrorKind as Kind};
use super::parse::error;

const MAX_CHARGE: usize = 99;

/// Cuts the charge off the end of `body`, a prefix of `text`.
pub(super) fn take_charge<'a>(text: &str, body: &'a str) -> Result<(&'a str, i32), FormulaError> {
    // Where `body` is cut, when what follows is nothing but a charge.
    let cut = |before: &'a str, charge: &str| match explicit_charge(charge) {
        Some(charge) => Ok((before, charge)),
        None => Err(error(text, before.len(), Kind::BadCharge)),
    };
    let is_sign = |c: char| sign(c).is_some();
    let is_superscript = |c: char| superscript_digit(c).is_some() || matches!(c, '⁺' | '⁻');
    let after = |before: &str| body.strip_prefix(before).unwrap_or_default();

    // `SO4^2-`, `SO4^{2-}`
    if let Some((before, charge)) = body.split_once('^') {
        return cut(before, charge.trim_start_matches('{').trim_end_matches('}'));
    }
    // `SO₄²⁻`, also with a plain sign behind the superscript figure
    let before = body.trim_end_matches(|c| is_superscript(c) || is_sign(c));
    if after(before).contains(is_superscript) {
        return cut(before, after(before));
    }
    // `SO4 2-`, but not `FeSO4 . 7 H2O`
    if let Some((before, charge)) = body.rsplit_once(char::is_whitespace)
        && let Some(charge) = explicit_charge(charge)
    {
        return Ok((before.trim_end(), charge));
    }
    // `Fe+3`
    let signed = body.trim_end_matches(|c: char| c.is_ascii_digit());
    if signed.len() < body.len() && signed.ends_with(is_sign) {
        let before = signed.trim_end_matches(is_sign);
        return cut(before, after(before));
    }
    // `Fe2+`, `NO3-`, `Fe+++`, or no charge at all
    let unsigned = body.trim_end_matches(is_sign);
    if unsigned.len() == body.len() {
        return Ok((body, 0));
    }
    let (_, charge) = cut(unsigned, after(unsigned))?;
    let before = unsigned.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = unsigned.strip_prefix(before).unwrap_or_default();
    let of_charge = charge_digits(before, digits);
    if charge.abs() > 1 || of_charge.is_empty() {
        return Ok((unsigned, charge));
    }
    let kept = unsigned.strip_suffix(of_charge).unwrap_or(unsigned);
    cut(kept, after(kept))
}

/// +1, -1 for a sign of charge in plain or superscript writing.
fn sign(c: char) -> Option<i32> {
    match c {
        '+' | '⁺' => Some(1),
        '-' | '−' | '–' | '⁻' => Some(-1),
        _ => None,
    }
}

fn superscript_digit(c: char) -> Option<u32> {
    Some(match c {
        '⁰' => 0,
        '¹' => 1,
        '²' => 2,
        '³' => 3,
        '⁴'..='⁹' => u32::from(c) - u32::from('⁴') + 4,
        _ => return None,
    })
}

/// Which of the digits between an atom or group and one sign are the charge.
fn charge_digits<'a>(before: &str, digits: &'a str) -> &'a str {
    let whole_in_brackets =
        before.starts_with('[') && before.ends_with(']') && before.matches(']').count() == 1;
    let lone_element = Element::from_symbol(before.trim_start());
    match lone_element {
        _ if whole_in_brackets => digits,
        Some(e) if matches!(e.symbol(), "H" | "F" | "Cl" | "Br" | "I") => "",
        // The digits are ASCII: the last one is the last byte.
        _ if digits.len() > 1 && !digits.ends_with('0') => {
            digits.get(digits.len() - 1..).unwrap_or_default()
        }
        _ if digits.len() > 1 => "",
        Some(_) => digits,
        None => "",
    }
}

/// `2+`, `+2`, `++`, `+` in any mixture of plain and superscript writing.
fn explicit_charge(s: &str) -> Option<i32> {
    let mut signs = s.chars().filter_map(sign);
    let direction = signs.next()?;
    let size = match s.trim_matches(|c| sign(c).is_some()) {
        "" => s.chars().count(),
        digits if signs.next().is_none() => digits.chars().try_fold(0usize, |n, c| {
            let digit = superscript_digit(c).or(c.to_digit(10))?;
            Some(n.saturating_mul(10).saturating_add(digit as usize))
        })?,
        _ => return None,
    };
    let alike = signs.all(|s| s == direction);
    // In range, so that the cast keeps the number.
    (alike && (1..=MAX_CHARGE).contains(&size)).then_some(direction * size as i32)
}
