//! A published specification, or one of the caller's own.

use super::clause::{Clause, Requirement, Text, Window};
use super::tables::STANDARDS;
use super::{ReferenceInk, reference_ink};
use crate::source::{Source, Status};
use std::borrow::Cow;

/// Where a clause comes from and how far that may be trusted: a
/// [`Source`](crate::source::Source) that may be the caller's own words.
///
/// ```
/// use ferrogall::source::Status;
/// use ferrogall::standards::Cited;
/// let rule = Cited::new("studio rule of 2026", Status::CommonPractice);
/// assert_eq!(rule.to_string(), "studio rule of 2026 (common practice, no source)");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Cited {
    /// Author, year, title: enough to find it again.
    pub citation: Text,
    /// How it came to be known.
    pub status: Status,
}

impl Cited {
    /// A citation with its status.
    pub fn new(citation: impl Into<Text>, status: Status) -> Cited {
        Cited {
            citation: citation.into(),
            status,
        }
    }

    pub(super) const fn row(citation: &'static str, status: Status) -> Cited {
        Cited {
            citation: Cow::Borrowed(citation),
            status,
        }
    }

    /// As the caller entered it.
    pub(super) const fn own() -> Cited {
        Cited::row("as entered, no source named", Status::CommonPractice)
    }
}

impl From<Source> for Cited {
    fn from(source: Source) -> Cited {
        Cited::row(source.citation, source.status)
    }
}

impl core::fmt::Display for Cited {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        // Whoever has no source says so already.
        write!(f, "{} ({})", self.citation, self.status.label())
    }
}

/// What kind of document it is.
///
/// ```
/// use ferrogall::standards::{Kind, standard};
/// assert_eq!(standard("nbs_c413").unwrap().kind, Kind::TestMethods);
/// assert_eq!(Kind::TestMethods.words(), "test methods");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Kind {
    /// A specification of inks.
    Specification,
    /// A published ink that others refer to.
    TypeInk,
    /// Ways to test, without limits on the composition.
    TestMethods,
    /// A standard for other inks or pens, listed so that nobody looks again.
    ElsewhereOnly,
    /// A rule of the caller's own.
    Own,
}

impl Kind {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Kind::Specification => "specification",
            Kind::TypeInk => "published type ink",
            Kind::TestMethods => "test methods",
            Kind::ElsewhereOnly => "not for this kind of ink",
            Kind::Own => "rule of one's own",
        }
    }
}

/// Whether it is still in force, as far as is known.
///
/// ```
/// use ferrogall::standards::{Standing, standard};
/// let record = standard("bs_3484_1_1991").unwrap();
/// assert_eq!(record.standing, Standing::Withdrawn);
/// assert_eq!(record.ended, "2019-01-18");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Standing {
    /// In force when it was looked at.
    InForce,
    /// Withdrawn by its publisher.
    Withdrawn,
    /// Cancelled by law.
    Cancelled,
    /// Not known.
    Unknown,
}

impl Standing {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Standing::InForce => "in force",
            Standing::Withdrawn => "withdrawn",
            Standing::Cancelled => "cancelled",
            Standing::Unknown => "standing not known",
        }
    }
}

/// The ink a standard tests others against.
///
/// ```
/// use ferrogall::standards::{OwnInk, standard};
/// assert_eq!(standard("is_38_1952").unwrap().own_ink, OwnInk::NumbersNotSeen);
/// let swedish = standard("se_sfs_1964_504").unwrap().own_ink.reference_ink().unwrap();
/// assert_eq!(swedish.id, "swedish_archival_1964");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum OwnInk {
    /// The [`ReferenceInk`] of this identifier.
    Published(&'static str),
    /// There is one; its numbers have not been seen.
    NumbersNotSeen,
    /// None is known of.
    NoneKnown,
}

impl OwnInk {
    /// The ink, where its numbers are known.
    pub fn reference_ink(self) -> Option<&'static ReferenceInk> {
        match self {
            OwnInk::Published(id) => reference_ink(id),
            _ => None,
        }
    }
}

/// A published specification of iron-tannin ink, or one of the caller's own
/// ([`Standard::own`]).
///
/// Nothing in it is law: source, edition, standing and status are shown with
/// every figure, and what has not been read is said not to have been.
///
/// ```
/// use ferrogall::standards::{standard, standards};
/// let irish = standard("is_38_1952").unwrap();
/// assert_eq!(irish.place, "Ireland");
/// assert!(standards().iter().all(|s| !s.cited.citation.is_empty()));
/// assert!(irish.to_string().contains("metallic iron at least 1.5 g/L"));
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Standard {
    /// Identifier for JSON, C and Python.
    pub id: Text,
    /// Name.
    pub name: Text,
    /// Country or publisher.
    pub place: Text,
    /// Edition or year.
    pub edition: Text,
    /// What kind of document it is.
    pub kind: Kind,
    /// Whether it is still in force.
    pub standing: Standing,
    /// When it was published, year or date; empty when not known.
    pub published: Text,
    /// When it ended; empty when it did not, or it is not known.
    pub ended: Text,
    /// What it covers.
    pub scope: Text,
    /// The ink it tests others against.
    pub own_ink: OwnInk,
    /// How old that ink may be, and other rules for it.
    pub own_ink_rules: Cow<'static, [super::TestFigure]>,
    /// Its clauses.
    pub clauses: Cow<'static, [Clause]>,
    /// What to know; empty when nothing.
    pub note: Text,
    /// Where it comes from.
    pub cited: Cited,
}

impl Standard {
    /// The limits that a composition answers, to the letter.
    pub fn windows(&self) -> impl Iterator<Item = Window> + '_ {
        self.limits().map(|(_, limit)| limit.window())
    }

    /// The same for figures rounded to the stated digits.
    pub fn rounded_windows(&self) -> impl Iterator<Item = Window> + '_ {
        self.limits().map(|(_, limit)| limit.rounded_window())
    }

    pub(super) fn limits(&self) -> impl Iterator<Item = (&Clause, &super::Limit)> + '_ {
        self.clauses.iter().filter_map(|c| match &c.requirement {
            Requirement::Limit(limit) => Some((c, limit)),
            _ => None,
        })
    }

    /// Name, edition and standing in one line.
    pub fn title(&self) -> String {
        let dates = match (self.published.is_empty(), self.ended.is_empty()) {
            (true, true) => String::new(),
            (false, true) => format!(", published {}", self.published),
            (true, false) => format!(", ended {}", self.ended),
            (false, false) => format!(", {} to {}", self.published, self.ended),
        };
        format!(
            "{} ({}; edition {}; {}{dates})",
            self.name,
            self.place,
            self.edition,
            self.standing.words()
        )
    }
}

/// Every published specification, in a fixed order.
pub fn standards() -> &'static [Standard] {
    STANDARDS
}

/// The published specification with this identifier.
pub fn standard(id: &str) -> Option<&'static Standard> {
    STANDARDS.iter().find(|s| s.id == id)
}
