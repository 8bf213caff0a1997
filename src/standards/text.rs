//! Comparisons as a page.

use super::Cited;
use super::all::{NEARLY, Overview};
use super::chances::{ChanceMethod, ClauseChance};
use super::clause::{Bound, Limit};
use super::clause::{Clause, Requirement, Rival};
use super::compare::{ClauseComparison, ClauseVerdict, StandardComparison};
use super::standard::Standard;
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
            Role::TimesReference if self.min.is_none() && self.max == Some(1.0) => {
                f.write_str("no more than the reference ink")?
            }
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
    let unit = if unit == "1" { "" } else { unit };
    let number = |x: f64| stated(x, decimals);
    let words = match (min, max) {
        (Some(a), Some(b)) if a == b => format!("{} {unit}", number(a)),
        (Some(a), Some(b)) => format!("{} to {} {unit}", number(a), number(b)),
        (Some(a), None) => format!("at least {} {unit}", number(a)),
        (None, Some(b)) => format!("at most {} {unit}", number(b)),
        (None, None) => String::new(),
    };
    words.trim_end().to_string()
}

/// A limit with the decimals it is stated to, and all of its own where it has
/// more: it is never printed as another number.
fn stated(x: f64, decimals: u8) -> String {
    let d = usize::from(decimals);
    let short = format!("{x:.d$}");
    match short.parse() == Ok(x) {
        true => short,
        false => format!("{x}"),
    }
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

/// The same of how far off it is; so little that it would print as nothing
/// says so.
fn distance(x: f64, decimals: u8) -> String {
    let words = figure(x, decimals);
    match x > 0.0 && words.parse() == Ok(0.0) {
        true => format!("{x:.0e}"),
        false => words,
    }
}

/// Number and title of a clause.
pub(super) fn heading(number: &str, title: &str) -> String {
    match number.is_empty() {
        true => title.to_string(),
        false => format!("{number}, {title}"),
    }
}

/// A limit by another source, with the source.
impl Display for Rival {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        write!(f, "{} [{}]", self.limit, self.cited)
    }
}

impl Clause {
    /// Where it comes from, and how far that may be trusted; also of those
    /// figures of its test that have a source of their own.
    pub fn sources(&self) -> String {
        match &self.requirement {
            Requirement::Test(test) => sources(&self.cited, Some(test)),
            _ => sources(&self.cited, None),
        }
    }
}

/// What it asks for, and where that comes from.
impl Display for Clause {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let heading = heading(&self.number, &self.title);
        match &self.requirement {
            Requirement::Limit(limit) => {
                write!(f, "{heading}: {limit}")?;
                if !limit.printed().is_empty() {
                    write!(f, " (printed {})", limit.printed())?;
                }
            }
            Requirement::Test(test) => write!(f, "{heading}: {test}")?,
            Requirement::NotSeen { reads, .. } => write!(f, "{heading}: {reads}")?,
        }
        for rival in self.rivals.iter() {
            write!(f, "; another figure, {rival}")?;
        }
        if !self.note.is_empty() {
            write!(f, "; note: {}", self.note)?;
        }
        write!(f, " [{}]", self.sources())
    }
}

/// Edition, standing, scope and source, then every clause with its own source.
impl Display for Standard {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        writeln!(f, "{}", self.title())?;
        writeln!(f, "  {}: {}", self.kind.words(), self.scope)?;
        for clause in self.clauses.iter() {
            writeln!(f, "  {clause}")?;
        }
        if !self.note.is_empty() {
            writeln!(f, "  Note: {}", self.note)?;
        }
        writeln!(f, "  [{}]", self.cited)
    }
}

/// The source of a clause, and of each figure of its test that has another.
pub(super) fn sources(clause: &Cited, test: Option<&Test>) -> String {
    let mut out = clause.to_string();
    for figure in test.into_iter().flat_map(|t| t.figures.iter()) {
        if figure.cited != *clause {
            out.push_str(&format!("; {figure}: {}", figure.cited));
        }
    }
    out
}

impl Display for ClauseComparison {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let heading = heading(&self.number, &self.title);
        writeln!(f, "  {heading}: {}", self.verdict.words())?;
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
                write!(f, "; {} {unit} {way}", distance(margin.abs(), decimals))?;
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
        writeln!(f, "      [{}]", sources(&self.cited, self.test.as_ref()))
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
            write!(f, "  {} [{}]: {}", page.title, page.cited, page.summary())?;
            // What has not been seen may be what an ink "met" fails.
            for clause in page.clauses.iter().filter(|c| !c.reads.is_empty()) {
                if let (Some(x), Some(quantity)) = (clause.figure, clause.quantity) {
                    let (title, reads, name) = (&clause.title, &clause.reads, quantity.name());
                    let x = figure(x, clause.decimals.unwrap_or(0));
                    write!(f, "; {title}: {reads}, {name} here {x} {}", clause.unit)?;
                }
            }
            match page.hint() {
                Some(hint) => writeln!(f, "; to the letter: {hint}"),
                None => writeln!(f),
            }
        };
        let mut group = |title: &str, pages: Vec<&StandardComparison>| {
            writeln!(f, "{title}:{}", if pages.is_empty() { " none" } else { "" })?;
            pages.into_iter().try_for_each(|page| line(f, page))
        };
        group(
            "Composition clauses of known number met",
            self.met().collect(),
        )?;
        let nearly = format!("Nearly (missed by at most {:.0} %)", 100.0 * NEARLY);
        group(&nearly, self.nearly(NEARLY).collect())?;
        let not_met = self.not_met().filter(|p| !p.nearly(NEARLY));
        group("Not met", not_met.collect())?;
        group("Nothing to compute", self.nothing_to_compute().collect())
    }
}
