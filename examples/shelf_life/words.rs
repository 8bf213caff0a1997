//! Figures and sentences as one says them.

use ferrogall::oxidation::Spread;
use ferrogall::quantity::{ReadTime, Share, Time};
use std::fmt::Write as _;

const WIDTH: usize = 80;
const MONTH_DAYS: f64 = 365.25 / 12.0;

/// The three figures, one below the other, each with its sentence.
pub fn three<'a>(figures: impl IntoIterator<Item = (&'a str, String, &'a str)>) -> String {
    let mut text = String::new();
    for (name, figure, words) in figures {
        let _ = writeln!(text, "  {name:<10}{figure}");
        text += &wrapped(words, "            ");
    }
    text
}

pub fn wrapped(words: &str, indent: &str) -> String {
    let mut text = String::new();
    let mut line = indent.to_owned();
    for word in words.split_whitespace() {
        let long = line.chars().count() + 1 + word.chars().count() > WIDTH;
        if long && line.len() > indent.len() {
            text += &line;
            text.push('\n');
            line = indent.to_owned();
        }
        if line.len() > indent.len() {
            line.push(' ');
        }
        line += word;
    }
    text + &line + "\n"
}

pub fn capital(words: &str) -> String {
    let mut chars = words.chars();
    let first = chars.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + chars.as_str()
}

/// A share between nothing and all of it.
pub fn percent(share: f64) -> String {
    match 100.0 * share {
        p if p <= 0.0 => "0 %".to_owned(),
        p if p < 1.0 => "<1 %".to_owned(),
        p if p > 99.0 && share < 1.0 - 1e-6 => ">99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// A share that may be more than all of it.
pub fn percent_freely(share: f64) -> String {
    match 100.0 * share {
        p if p < 100.0 => percent(share),
        p => format!("{} %", two_figures(p)),
    }
}

pub fn hundredths(share: f64) -> String {
    let rounded = (100.0 * share).round();
    // No minus before nothing.
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

pub fn span(spread: &Spread<Share>) -> String {
    let [low, high] = [spread.low, spread.high].map(|s| percent(s.value()));
    if low == high {
        low
    } else {
        format!("{} to {high}", low.trim_end_matches(" %"))
    }
}

pub fn with_spread(typical: &Share, spread: &Spread<Share>) -> String {
    format!("{} ({})", percent(typical.value()), span(spread))
}

/// Two figures that mean something.
pub fn two_figures(value: f64) -> String {
    if value <= 0.0 {
        return "0".to_owned();
    }
    let digits = 1 - value.log10().floor() as i32;
    let step = 10f64.powi(digits);
    let rounded = (value * step).round() / step;
    format!("{rounded:.*}", digits.max(0) as usize)
}

/// A time in the unit in which one would say it.
pub fn spoken(time: Time) -> String {
    let plural = |n: f64, unit: &str| {
        let n = n.round();
        format!("{n} {unit}{}", if n == 1.0 { "" } else { "s" })
    };
    match time.in_days() {
        d if d < 0.5 / 24.0 => "at once".to_owned(),
        d if d < 1.0 => plural(24.0 * d, "hour"),
        d if d < 61.0 => plural(d, "day"),
        d if d < 700.0 => format!("{:.1} months", d / MONTH_DAYS),
        _ => years(time),
    }
}

pub fn years(time: Time) -> String {
    format!("{:.1} years", time.in_days() / 365.25)
}
