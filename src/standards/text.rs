//! Comparisons as a page.

use super::all::{NEARLY, Overview};
use super::chances::{ChanceMethod, ClauseChance};
use super::clause::{Bound, Limit};
use super::compare::{ClauseComparison, ClauseVerdict, StandardComparison};
use super::to_carry_out::{Role, Test, TestFigure};
use crate::source::Status;
use core::fmt::{Display, Formatter, Result};

impl Display for TestFigure {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let numbers = match (self.min, self.max) {
            (Some(a), Some(b)) if a == b => format!("{a}"),
            (Some(a), Some(b)) => format!("{a} to {b}"),
            (Some(a), None) => format!("at least {a}"),
            (None, Some(b)) => format!("at most {b}"),
            (None, None) => "not named".to_string(),
        };
        match self.role {
            Role::TimesReference => write!(f, "{numbers} times what the reference ink gives")?,
            Role::Visible if self.max == Some(0.0) => f.write_str("nothing to be seen")?,
            role => write!(f, "{} {numbers}", role.words())?,
        }
        f.write_str(&unit_in_words(self))?;
        if self.disputed {
            f.write_str(", disputed")?;
        }
        if self.cited.status == Status::FromMemory {
            write!(f, ", {}", self.cited.status.label())?;
        }
        Ok(())
    }
}

/// With its blank, and in the plural where there are several of it.
pub(super) fn unit_in_words(figure: &TestFigure) -> String {
    let one = figure.max.or(figure.min) == Some(1.0);
    match figure.unit.as_ref() {
        "" | "x reference" => String::new(),
        "degC" => " °C".to_string(),
        unit @ ("day" | "month" | "US pint") if !one => format!(" {unit}s"),
        unit => format!(" {unit}"),
    }
}

impl Display for Test {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        f.write_str(&self.method)?;
        let mut before = " (";
        for figure in self.figures.iter() {
            write!(f, "{before}{figure}")?;
            before = "; ";
        }
        if !self.figures.is_empty() {
            f.write_str(")")?;
        }
        if self.beside_reference {
            f.write_str("; the reference ink beside it")?;
        }
        write!(f, "; passes: {}", self.passes)
    }
}

impl Display for Limit {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let words = limits_in_words(
            self.min(),
            self.max(),
            self.decimals(),
            self.quantity().unit(),
        );
        write!(f, "{} {words}", self.quantity().name())
    }
}

/// "4 to 6 g/L", "at least 27 g/L".
fn limits_in_words(min: Option<f64>, max: Option<f64>, decimals: u8, unit: &str) -> String {
    let d = usize::from(decimals);
    let unit = if unit == "1" { "" } else { unit };
    let words = match (min, max) {
        (Some(a), Some(b)) if a == b => format!("{a:.d$} {unit}"),
        (Some(a), Some(b)) => format!("{a:.d$} to {b:.d$} {unit}"),
        (Some(a), None) => format!("at least {a:.d$} {unit}"),
        (None, Some(b)) => format!("at most {b:.d$} {unit}"),
        (None, None) => String::new(),
    };
    words.trim_end().to_string()
}

impl Display for ClauseChance {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let percent = |p: f64| format!("{:.1} %", 100.0 * p);
        write!(
            f,
            "chance {} as stated, {} as rounded",
            percent(self.as_stated),
            percent(self.as_rounded)
        )?;
        match self.method {
            ChanceMethod::FirstOrder => f.write_str(" (first order)"),
            ChanceMethod::Draws => write!(f, " ({} draws)", self.draws),
        }
    }
}

/// A figure with two decimals more than the limit, so that the reader sees on
/// which side it lies.
fn figure(x: f64, decimals: u8) -> String {
    let d = usize::from(decimals).saturating_add(2);
    format!("{x:.d$}")
}

impl Display for ClauseComparison {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        writeln!(
            f,
            "  {}, {}: {}",
            self.number,
            self.title,
            self.verdict.words()
        )?;
        let decimals = self.decimals.unwrap_or(2);
        let unit = if self.unit == "1" { "" } else { self.unit };
        if let (Some(x), Some(quantity)) = (self.figure, self.quantity) {
            write!(
                f,
                "      {} {} {unit}",
                quantity.name(),
                figure(x, decimals)
            )?;
            let limits = limits_in_words(self.min, self.max, decimals, self.unit);
            if !limits.is_empty() {
                write!(f, "; wanted {limits}")?;
            }
            if !self.printed.is_empty() {
                write!(f, " (printed {})", self.printed)?;
            }
            if let (Some(margin), Some(side)) = (self.margin, self.nearest) {
                let way = match (side, margin < 0.0) {
                    (Bound::Min, false) => "above the least",
                    (Bound::Min, true) => "below the least",
                    (Bound::Max, false) => "below the most",
                    (Bound::Max, true) => "above the most",
                };
                write!(f, "; {} {unit} {way}", figure(margin.abs(), decimals))?;
                if let Some(relative) = self.relative_margin {
                    write!(f, " ({:.1} %)", 100.0 * relative.abs())?;
                }
            }
            writeln!(f)?;
        }
        if self.verdict == ClauseVerdict::MeetsAsRounded {
            writeln!(
                f,
                "      the limit is stated to {decimals} decimals; to the letter the ink is outside"
            )?;
        }
        if let (Some(factor), Some(quantity)) = (self.factor, self.quantity) {
            writeln!(
                f,
                "      to the letter: {factor:.3} times the {}",
                quantity.name()
            )?;
        }
        if let Some(other) = &self.other_basis {
            let x = other
                .figure
                .map_or_else(|| "none".to_string(), |x| figure(x, decimals));
            writeln!(
                f,
                "      as {}: {x} {}: {}",
                other.quantity.name(),
                other.unit,
                other.verdict.words()
            )?;
        }
        for rival in &self.rivals {
            let verdict = rival.verdict.words();
            writeln!(
                f,
                "      another figure, {}: {verdict} [{}]",
                rival.limit, rival.cited
            )?;
        }
        if let Some(chance) = &self.chance {
            writeln!(f, "      {chance}")?;
        }
        if let Some(test) = &self.test {
            writeln!(f, "      to carry out: {test}")?;
        }
        if !self.reads.is_empty() {
            writeln!(f, "      {}", self.reads)?;
        }
        if !self.note.is_empty() {
            writeln!(f, "      note: {}", self.note)?;
        }
        writeln!(f, "      [{}]", self.cited)
    }
}

impl Display for StandardComparison {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        writeln!(f, "{}", self.title)?;
        writeln!(f, "  {}: {}", self.kind.words(), self.scope)?;
        for clause in &self.clauses {
            write!(f, "{clause}")?;
        }
        writeln!(f, "  Outcome: {}.", self.summary())?;
        if let Some(chance) = &self.chance {
            writeln!(f, "  All composition clauses at once: {chance}")?;
        }
        if let Some(hint) = self.hint() {
            writeln!(f, "  To meet every limit to the letter: {hint}.")?;
        }
        if !self.note.is_empty() {
            writeln!(f, "  Note: {}", self.note)?;
        }
        writeln!(f, "  [{}]", self.cited)
    }
}

impl Display for Overview {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let line = |f: &mut Formatter<'_>, page: &StandardComparison| {
            let status = page.cited.status.label();
            write!(f, "  {} [{status}]: {}", page.title, page.summary())?;
            match page.hint() {
                Some(hint) => writeln!(f, "; to the letter: {hint}"),
                None => writeln!(f),
            }
        };
        writeln!(f, "Composition clauses of known number met:")?;
        for page in self.met() {
            line(f, page)?;
        }
        writeln!(f, "Nearly (missed by at most {:.0} %):", 100.0 * NEARLY)?;
        for page in self.nearly(NEARLY) {
            line(f, page)?;
        }
        writeln!(f, "Not met:")?;
        for page in self.not_met().filter(|p| !p.nearly(NEARLY)) {
            line(f, page)?;
        }
        writeln!(f, "Nothing to compute:")?;
        for page in self.nothing_to_compute() {
            line(f, page)?;
        }
        Ok(())
    }
}
