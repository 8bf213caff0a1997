//! The tests of a standard as a checklist.

use super::clause::Requirement;
use super::standard::{Cited, OwnInk, Standard};
use super::text::{heading, sources, unit_in_words};
use super::to_carry_out::{Role, Test, TestFigure};
use crate::source::Status;

/// Something to have ready.
///
/// ```
/// use ferrogall::standards::standard;
/// let programme = standard("nbs_c413").unwrap().programme();
/// let sample = &programme.prepare[0];
/// assert!((sample.volume_ml.unwrap() - 498.2).abs() < 0.05); // a pint and a dish
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Preparation {
    /// What.
    pub what: String,
    /// Volume that the tests name, in all; `None`: none of them names one.
    pub volume_ml: Option<f64>,
    /// What to know; empty when nothing.
    pub note: String,
    /// Where the formula of the reference ink comes from; `None` for the
    /// sample, and where its numbers have not been seen.
    pub cited: Option<Cited>,
}

/// One test of the checklist.
///
/// ```
/// use ferrogall::standards::standard;
/// let programme = standard("de_document_class_i").unwrap().programme();
/// // 8 days by one source, 7 by another: both are there, the longer is planned.
/// let washing = programme.steps.iter().find(|s| s.clause == "permanence").unwrap();
/// assert_eq!(washing.days, Some(8.0));
/// assert!(washing.disputed);
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct ProgrammeStep {
    /// Number or name of the clause.
    pub clause: String,
    /// Its title.
    pub title: String,
    /// The test.
    pub test: Test,
    /// Days it takes, ageing of the writing included; `None`: none named.
    /// Where sources disagree, the longest.
    pub days: Option<f64>,
    /// Ink of the sample in it, mL; of the reference ink as much, where that
    /// goes beside it.
    pub volume_ml: Option<f64>,
    /// Whether sources disagree on a figure of it.
    pub disputed: bool,
    /// Where the clause comes from; figures of the test may have a source of
    /// their own.
    pub cited: Cited,
}

/// What remains to be done for a standard: what to prepare, and every test.
///
/// ```
/// use ferrogall::standards::standard;
/// let programme = standard("nbs_c413").unwrap().programme();
/// assert_eq!(programme.steps.len(), 5);
/// assert_eq!(programme.longest_days, Some(14.0));
/// assert!(programme.to_string().contains("Waters 1936")); // whose excerpts they are
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Programme {
    /// Identifier of the standard.
    pub standard: String,
    /// Its name, edition and standing.
    pub title: String,
    /// What to have ready: the sample, the reference ink.
    pub prepare: Vec<Preparation>,
    /// The tests, in order.
    pub steps: Vec<ProgrammeStep>,
    /// Clauses that are tests or limits, but have not been seen.
    pub not_seen: Vec<String>,
    /// Days of the longest test, where times are named; the tests can run at
    /// once.
    pub longest_days: Option<f64>,
    /// Where the standard comes from.
    pub cited: Cited,
}

impl Standard {
    /// Its tests as a checklist.
    pub fn programme(&self) -> Programme {
        let mut steps = Vec::new();
        let mut not_seen = Vec::new();
        for clause in self.clauses.iter() {
            match &clause.requirement {
                Requirement::Test(test) => steps.push(ProgrammeStep {
                    clause: clause.number.to_string(),
                    title: clause.title.to_string(),
                    days: days_of(test),
                    volume_ml: volume_of(test),
                    disputed: test.figures.iter().any(|f| f.disputed),
                    cited: clause.cited.clone(),
                    test: test.clone(),
                }),
                Requirement::NotSeen { reads, .. } => {
                    let heading = heading(&clause.number, &clause.title);
                    not_seen.push(format!("{heading}: {reads}"));
                }
                Requirement::Limit(_) => {}
            }
        }
        let volume = |beside: bool| {
            let of_step =
                |s: &ProgrammeStep| s.volume_ml.filter(|_| !beside || s.test.beside_reference);
            let volumes = steps.iter().filter_map(of_step);
            volumes.reduce(|a, b| a + b)
        };
        let mut prepare = Vec::new();
        if !steps.is_empty() {
            prepare.push(Preparation {
                what: "the ink to be tested".to_string(),
                volume_ml: volume(false),
                note: String::new(),
                cited: None,
            });
        }
        if self.own_ink != OwnInk::NoneKnown {
            prepare.push(self.reference_to_prepare(volume(true)));
        }
        Programme {
            standard: self.id.to_string(),
            title: self.title(),
            prepare,
            longest_days: longest(steps.iter().map(|s| s.days)),
            steps,
            not_seen,
            cited: self.cited.clone(),
        }
    }

    fn reference_to_prepare(&self, volume_ml: Option<f64>) -> Preparation {
        let what = match self.own_ink.reference_ink() {
            Some(ink) => format!("reference ink: {} ({})", ink.name, ink.id),
            None => "reference ink: it exists, its numbers have not been seen".to_string(),
        };
        let rule = |f: &TestFigure| {
            let figure = f.max.or(f.min).unwrap_or(f64::NAN);
            let unit = unit_in_words(f);
            let words = match f.role {
                Role::AgeOfReference => format!("at most {figure}{unit} old"),
                Role::Temperature => format!("made up to volume at {figure}{unit}"),
                role => format!("{}: {figure}{unit}", role.words()),
            };
            match f.cited.status {
                Status::FromMemory => format!("{words}, {}", f.cited.status.label()),
                _ => words,
            }
        };
        let rules: Vec<String> = self.own_ink_rules.iter().map(rule).collect();
        Preparation {
            what,
            volume_ml,
            note: rules.join("; "),
            cited: self.own_ink.reference_ink().map(|ink| ink.source.into()),
        }
    }
}

/// The longest wait: for the writing to age, then for the test.
fn days_of(test: &Test) -> Option<f64> {
    let of = |role: Role| {
        let those = test.figures.iter().filter(|f| f.role == role);
        longest(those.map(TestFigure::in_days))
    };
    match (of(Role::AgeOfWriting), of(Role::Duration)) {
        (Some(a), Some(b)) => Some(a + b),
        (a, b) => a.or(b),
    }
}

fn volume_of(test: &Test) -> Option<f64> {
    let of = |role: Role| {
        let those = test.figures.iter().filter(move |f| f.role == role);
        longest(those.map(TestFigure::in_milliliters))
    };
    match (of(Role::Sample), of(Role::PerDish)) {
        (Some(a), Some(b)) => Some(a + b),
        (a, b) => a.or(b),
    }
}

fn longest(values: impl Iterator<Item = Option<f64>>) -> Option<f64> {
    values.flatten().filter(|x| x.is_finite()).reduce(f64::max)
}

impl core::fmt::Display for Programme {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        writeln!(f, "Tests of {}", self.title)?;
        writeln!(f, "  [{}]", self.cited)?;
        for p in &self.prepare {
            write!(f, "  prepare  {}", p.what)?;
            if let Some(ml) = p.volume_ml {
                write!(f, ", {ml:.0} mL")?;
            }
            if !p.note.is_empty() {
                write!(f, " ({})", p.note)?;
            }
            if let Some(cited) = &p.cited {
                write!(f, " [{cited}]")?;
            }
            writeln!(f)?;
        }
        for s in &self.steps {
            writeln!(f, "  [ ] {}: {}", heading(&s.clause, &s.title), s.test)?;
            writeln!(f, "      [{}]", sources(&s.cited, Some(&s.test)))?;
        }
        for line in &self.not_seen {
            writeln!(f, "  not seen  {line}")?;
        }
        if self.steps.is_empty() && self.not_seen.is_empty() {
            writeln!(f, "  no test is known")?;
        }
        if let Some(days) = self.longest_days {
            writeln!(f, "  the longest takes {days:.0} days")?;
        }
        Ok(())
    }
}
