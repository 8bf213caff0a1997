//! Where a number comes from.
//!
//! Every constant of the crate carries a [`Source`]: a citation and a
//! [`Status`] that says how far it may be trusted. Ask any catalogue row for
//! its `source`, or walk [`constants`] for the physical ones.

/// Version of the tables and constants: year and month of the last change.
pub const DATA_VERSION: &str = "2026-11";

/// How a number came to be known, from the firmest to the weakest.
///
/// ```
/// use ferrogall::source::Status;
/// assert!(Status::Published < Status::FromMemory);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Status {
    /// An exact definition, or arithmetic on other sourced numbers.
    Computed,
    /// Read in a standard, a paper or its tables.
    Published,
    /// Read in a handbook or a data compilation.
    Handbook,
    /// Read at second hand: quoted by somebody who had the source.
    Secondary,
    /// A fact of the trade with no source to name.
    CommonPractice,
    /// A considered guess; its interval is wide on purpose.
    ExpertGuess,
    /// From memory, not confirmed.
    FromMemory,
}

impl Status {
    /// The words used on a batch sheet.
    ///
    /// ```
    /// use ferrogall::source::Status;
    /// assert_eq!(Status::CommonPractice.label(), "common practice, no source");
    /// ```
    pub const fn label(self) -> &'static str {
        match self {
            Status::Computed => "computed",
            Status::Published => "published",
            Status::Handbook => "handbook",
            Status::Secondary => "at second hand",
            Status::CommonPractice => "common practice, no source",
            Status::ExpertGuess => "expert guess",
            Status::FromMemory => "from memory, unconfirmed",
        }
    }
}

/// A citation and how far it may be trusted.
///
/// ```
/// use ferrogall::source::{Source, Status};
/// let s = Source::new("IUPAC 2021 abridged standard atomic weights", Status::Published);
/// assert_eq!(s.to_string(), "IUPAC 2021 abridged standard atomic weights (published)");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Source {
    /// Author, year, title or table: enough to find it again.
    pub citation: &'static str,
    /// How the number came to be known.
    pub status: Status,
}

impl Source {
    /// A citation with its status.
    pub const fn new(citation: &'static str, status: Status) -> Self {
        Source { citation, status }
    }
}

impl core::fmt::Display for Source {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{} ({})", self.citation, self.status.label())
    }
}

/// A physical constant or coefficient with its standard uncertainty.
///
/// ```
/// let r = ferrogall::source::constants().find(|c| c.id == "gas_constant").unwrap();
/// assert_eq!(r.unit, "J/(mol K)");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Constant {
    /// Name under which it can be looked up.
    pub id: &'static str,
    /// The value in `unit`.
    pub value: f64,
    /// Standard uncertainty (k = 1) in `unit`; 0 for exact definitions.
    pub u: f64,
    /// Unit of `value` and `u`.
    pub unit: &'static str,
    /// Where it comes from.
    pub source: Source,
}

impl Constant {
    /// The typical value of a span, with a quarter of its width as uncertainty.
    pub(crate) const fn of_span(
        id: &'static str,
        range: Range,
        unit: &'static str,
        source: Source,
    ) -> Constant {
        Constant {
            id,
            value: range.typical,
            u: range.u(),
            unit,
            source,
        }
    }
}

/// A span of values found for a natural product.
///
/// `min` and `max` enclose about 95 % of what is met with, so the standard
/// uncertainty is taken as a quarter of the width.
///
/// ```
/// use ferrogall::source::Range;
/// let tannin_percent = Range::new(35.0, 55.0, 70.0);
/// assert_eq!(tannin_percent.u(), 8.75);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Range {
    /// Low end.
    pub min: f64,
    /// The value used when nothing better is known.
    pub typical: f64,
    /// High end.
    pub max: f64,
}

impl Range {
    /// A span; `min <= typical <= max`.
    pub const fn new(min: f64, typical: f64, max: f64) -> Self {
        Range { min, typical, max }
    }

    /// A value known exactly.
    pub const fn exact(value: f64) -> Self {
        Range::new(value, value, value)
    }

    /// Standard uncertainty: a quarter of the width.
    pub const fn u(&self) -> f64 {
        (self.max - self.min) / 4.0
    }

    /// The value at a part (0 to 1) of the span: half of the parts on either
    /// side of the typical value, evenly spread. Where that is an end, half of
    /// the parts have it.
    pub(crate) fn at(&self, part: f64) -> f64 {
        if part < 0.5 {
            self.min + 2.0 * part * (self.typical - self.min)
        } else {
            self.typical + (2.0 * part - 1.0) * (self.max - self.typical)
        }
    }

    /// Standard uncertainty of the logarithm, for what is off by a factor: the
    /// width in logarithms over twice 1.96. The plain relative uncertainty
    /// where `min` is 0; nothing for a span of nothing.
    ///
    /// ```
    /// use ferrogall::source::Range;
    /// let factor_of_four = Range::new(0.5, 1.0, 2.0);
    /// assert!((factor_of_four.u_ln() - 4_f64.ln() / 3.92).abs() < 1e-4);
    /// ```
    pub fn u_ln(&self) -> f64 {
        let relative = if self.min > 0.0 {
            libm::log(self.max / self.min) / (2.0 * crate::uncertainty::NORMAL_95)
        } else {
            self.u() / self.typical
        };
        if relative.is_finite() { relative } else { 0.0 }
    }

    /// Whether `x` lies inside, ends included.
    pub fn contains(&self, x: f64) -> bool {
        x >= self.min && x <= self.max
    }
}

/// All physical constants of the crate, room by room.
///
/// Catalogue rows (salts, galls, acids …) and atomic weights carry their own
/// sources and are reached through [`crate::bench`] and [`crate::chem`].
pub fn constants() -> impl Iterator<Item = &'static Constant> {
    crate::chem::CONSTANTS
        .iter()
        .copied()
        .chain(crate::chem::MOLAR_MASSES.iter().copied())
        .chain(crate::bench::CONSTANTS.iter().copied())
        .chain(crate::bench::HOMEMADE_CONSTANTS.iter().copied())
        .chain(crate::chem::PERMITTIVITY_CONSTANTS.iter())
        .chain(crate::equilibrium::CONSTANTS.iter().copied())
        .chain(crate::oxidation::CONSTANTS.iter().copied())
        .chain(crate::oxidation::RATE_CONSTANTS.iter().copied())
        .chain(crate::oxidation::PARAMETER_CONSTANTS.iter())
        .chain(crate::extraction::CONSTANTS.iter().copied())
        .chain(crate::extraction::PARAMETER_CONSTANTS.iter())
        .chain(crate::paper::CONSTANTS.iter().copied())
        .chain(crate::assay::CONSTANTS.iter().copied())
        .chain(crate::assay::FACTOR_CONSTANTS.iter())
}
