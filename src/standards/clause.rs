//! What one clause asks for.

use super::{Cited, Quantity, StandardError};
use crate::quantity::within;
use std::borrow::Cow;

/// A text that is either in the tables or the caller's own.
pub type Text = Cow<'static, str>;

/// A limit on a figure that the composition tells, as it is printed.
///
/// The digits it is printed to are part of it. "At most 6 g/L" can be read to
/// the letter, or as a figure rounded to whole grams, below 6.5: the type ink
/// of that very rule has 6.03 g/L. A comparison says which reading it took.
///
/// ```
/// use ferrogall::standards::{Limit, Quantity};
/// let limit = Limit::new(Quantity::Iron, Some(4.0), Some(6.0), 0)?;
/// assert!(limit.window().contains(4.0) && !limit.window().contains(6.03));
/// assert!(limit.rounded_window().contains(6.03) && !limit.rounded_window().contains(6.5));
/// assert!(Limit::new(Quantity::Iron, Some(6.0), Some(4.0), 0).is_err());
/// # Ok::<(), ferrogall::standards::StandardError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Limit {
    quantity: Quantity,
    min: Option<f64>,
    max: Option<f64>,
    decimals: u8,
    printed: Text,
    other_basis: Option<Quantity>,
}

/// Largest limit taken, in any unit.
const LARGEST: f64 = 1e6;
/// Most decimals a limit is stated to.
const MOST_DECIMALS: u8 = 9;

impl Limit {
    /// At least `min`, at most `max`, in the unit of the quantity, stated to
    /// so many decimals (0 to 9).
    ///
    /// # Errors
    /// [`StandardError::OutOfRange`] for limits outside 0 to 1e6 (strong acid
    /// -1e6 to 1e6) or more decimals; [`StandardError::NoLimit`] without
    /// either; [`StandardError::MinAboveMax`].
    pub fn new(
        quantity: Quantity,
        min: Option<f64>,
        max: Option<f64>,
        decimals: u8,
    ) -> Result<Limit, StandardError> {
        within(
            "decimals",
            f64::from(decimals),
            0.0,
            f64::from(MOST_DECIMALS),
            "",
        )?;
        let least = match quantity {
            Quantity::StrongAcid => -LARGEST,
            _ => 0.0,
        };
        for bound in [min, max].into_iter().flatten() {
            within("limit", bound, least, LARGEST, quantity.unit())?;
        }
        match (min, max) {
            (None, None) => return Err(StandardError::NoLimit { quantity }),
            (Some(min), Some(max)) if min > max => {
                return Err(StandardError::MinAboveMax { quantity, min, max });
            }
            _ => {}
        }
        Ok(Limit {
            quantity,
            min,
            max,
            decimals,
            printed: Cow::Borrowed(""),
            other_basis: None,
        })
    }

    pub(super) const fn row(
        quantity: Quantity,
        min: Option<f64>,
        max: Option<f64>,
        decimals: u8,
        printed: &'static str,
        other_basis: Option<Quantity>,
    ) -> Limit {
        Limit {
            quantity,
            min,
            max,
            decimals,
            printed: Cow::Borrowed(printed),
            other_basis,
        }
    }

    /// What it limits.
    pub const fn quantity(&self) -> Quantity {
        self.quantity
    }

    /// The least allowed, in the unit of the quantity.
    pub const fn min(&self) -> Option<f64> {
        self.min
    }

    /// The most allowed, in the unit of the quantity.
    pub const fn max(&self) -> Option<f64> {
        self.max
    }

    /// Decimals it is stated to, in the unit of the quantity.
    pub const fn decimals(&self) -> u8 {
        self.decimals
    }

    /// The figure as printed, where that is in another unit or form; else empty.
    pub fn printed(&self) -> &str {
        &self.printed
    }

    /// The same figure on the other basis it may mean.
    pub const fn other_basis(&self) -> Option<Quantity> {
        self.other_basis
    }

    /// Half of the last digit it is stated to.
    pub fn half_digit(&self) -> f64 {
        0.5 * libm::pow(10.0, -f64::from(self.decimals))
    }

    /// The limits to the letter.
    pub const fn window(&self) -> Window {
        Window {
            quantity: self.quantity,
            min: self.min,
            max: self.max,
            open_above: false,
        }
    }

    /// The limits for a figure that is rounded to the stated digits first
    /// (halves upward): half a digit more on both sides, the upper end itself
    /// left out.
    pub fn rounded_window(&self) -> Window {
        let half = self.half_digit();
        Window {
            quantity: self.quantity,
            min: self.min.map(|min| min - half),
            max: self.max.map(|max| max + half),
            open_above: true,
        }
    }

    /// The same limit on another quantity.
    pub(super) fn on(&self, quantity: Quantity) -> Limit {
        Limit {
            quantity,
            other_basis: None,
            ..self.clone()
        }
    }
}

/// Least and most of a quantity: what a formulation has to keep to.
///
/// ```
/// use ferrogall::standards::{Quantity, standard};
/// let windows: Vec<_> = standard("de_document_class_i").unwrap().windows().collect();
/// let iron = windows.iter().find(|w| w.quantity == Quantity::Iron).unwrap();
/// assert_eq!((iron.min, iron.max), (Some(4.0), Some(6.0)));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Window {
    /// What is limited; its unit is that of the limits.
    pub quantity: Quantity,
    /// The least, where there is a least.
    pub min: Option<f64>,
    /// The most, where there is a most.
    pub max: Option<f64>,
    /// Whether the most itself is outside already.
    pub open_above: bool,
}

/// What is weighed exactly at a limit keeps it, whatever the last bit says.
pub(super) const SLACK: f64 = 1e-9;

impl Window {
    /// Whether a figure lies inside; at an end to within a part in 1e9. No
    /// number lies inside nothing.
    pub fn contains(&self, figure: f64) -> bool {
        let above = self.min.is_none_or(|m| figure >= m - SLACK * m.abs());
        let below = self.max.is_none_or(|m| match self.open_above {
            true => figure < m - SLACK * m.abs(),
            false => figure <= m + SLACK * m.abs(),
        });
        above && below && !figure.is_nan()
    }

    /// The nearer limit and how far inside it a figure lies, in the unit of
    /// the quantity; negative: outside.
    pub fn margin(&self, figure: f64) -> Option<(Bound, f64)> {
        let above_min = self.min.map(|m| (Bound::Min, figure - m));
        let below_max = self.max.map(|m| (Bound::Max, m - figure));
        [above_min, below_max]
            .into_iter()
            .flatten()
            .filter(|(_, margin)| margin.is_finite())
            .min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// The limit on one side.
    pub const fn bound(&self, side: Bound) -> Option<f64> {
        match side {
            Bound::Min => self.min,
            Bound::Max => self.max,
        }
    }
}

/// One side of a limit.
///
/// ```
/// use ferrogall::standards::{Bound, Limit, Quantity};
/// let window = Limit::new(Quantity::Iron, Some(4.0), Some(6.0), 0)?.window();
/// assert_eq!(window.margin(5.5), Some((Bound::Max, 0.5)));
/// # Ok::<(), ferrogall::standards::StandardError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
pub enum Bound {
    /// The least allowed.
    Min,
    /// The most allowed.
    Max,
}

/// What a figure of a test is.
///
/// ```
/// use ferrogall::standards::Role;
/// assert_eq!(Role::AgeOfWriting.words(), "age of the writing");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Role {
    /// Ink to be sent or set aside.
    Sample,
    /// Ink in each dish or glass.
    PerDish,
    /// How long it takes.
    Duration,
    /// At which temperature.
    Temperature,
    /// How old the writing is when it is tested.
    AgeOfWriting,
    /// How old the reference ink may be.
    AgeOfReference,
    /// The result as a multiple of what the reference ink gives.
    TimesReference,
    /// What may be seen, as a number (0: none).
    Visible,
}

impl Role {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Role::Sample => "sample",
            Role::PerDish => "in each dish",
            Role::Duration => "duration",
            Role::Temperature => "temperature",
            Role::AgeOfWriting => "age of the writing",
            Role::AgeOfReference => "age of the reference ink",
            Role::TimesReference => "times what the reference ink gives",
            Role::Visible => "to be seen",
        }
    }
}

/// One figure of a test, with its own source: sources may disagree.
///
/// ```
/// use ferrogall::standards::{Role, TestFigure};
/// let week = TestFigure::new(Role::AgeOfWriting, Some(7.0), Some(7.0), "day")?;
/// assert_eq!(week.in_days(), Some(7.0));
/// assert!(TestFigure::new(Role::Duration, Some(f64::NAN), None, "day").is_err());
/// # Ok::<(), ferrogall::standards::StandardError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct TestFigure {
    /// What it is.
    pub role: Role,
    /// At least.
    pub min: Option<f64>,
    /// At most.
    pub max: Option<f64>,
    /// Unit of both, as printed ("day", "mL", "US pint" …).
    pub unit: Text,
    /// Whether another source says otherwise.
    pub disputed: bool,
    /// Where it comes from.
    pub cited: Cited,
}

/// mL of a liquid pint of the United States: 231/8 cubic inches, exact.
const US_PINT_ML: f64 = 473.176_473;
/// Days of a mean month.
const MONTH_DAYS: f64 = 365.25 / 12.0;

impl TestFigure {
    /// A figure of the caller's own, in a unit that
    /// [`in_days`](Self::in_days) and [`in_milliliters`](Self::in_milliliters)
    /// know, or any other.
    ///
    /// # Errors
    /// [`StandardError::OutOfRange`] for numbers outside -1e6 to 1e6.
    pub fn new(
        role: Role,
        min: Option<f64>,
        max: Option<f64>,
        unit: impl Into<Text>,
    ) -> Result<TestFigure, StandardError> {
        for bound in [min, max].into_iter().flatten() {
            within("figure of a test", bound, -LARGEST, LARGEST, "")?;
        }
        Ok(TestFigure {
            role,
            min,
            max,
            unit: unit.into(),
            disputed: false,
            cited: Cited::own(),
        })
    }

    /// The larger figure in days, for days, hours and months.
    pub fn in_days(&self) -> Option<f64> {
        let factor = match self.unit.as_ref() {
            "day" => 1.0,
            "h" => 1.0 / 24.0,
            "month" => MONTH_DAYS,
            _ => return None,
        };
        self.number().map(|x| factor * x)
    }

    /// The larger figure in millilitres, for millilitres and US pints.
    pub fn in_milliliters(&self) -> Option<f64> {
        let factor = match self.unit.as_ref() {
            "mL" => 1.0,
            "US pint" => US_PINT_ML,
            _ => return None,
        };
        self.number().map(|x| factor * x)
    }

    fn number(&self) -> Option<f64> {
        self.max.or(self.min).filter(|x| x.is_finite())
    }
}

/// A test that no composition can stand for: to be carried out.
///
/// ```
/// use ferrogall::standards::{Role, Test, TestFigure};
/// let test = Test::new("stand in an open dish", "no mould, no film")
///     .with(TestFigure::new(Role::Duration, Some(14.0), Some(14.0), "day")?)
///     .beside_reference();
/// assert!(test.beside_reference && test.figures.len() == 1);
/// # Ok::<(), ferrogall::standards::StandardError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Test {
    /// What to do.
    pub method: Text,
    /// What the ink must show.
    pub passes: Text,
    /// Volumes, times, temperatures.
    pub figures: Cow<'static, [TestFigure]>,
    /// Whether the reference ink goes through it side by side.
    pub beside_reference: bool,
}

impl Test {
    /// A test of the caller's own.
    pub fn new(method: impl Into<Text>, passes: impl Into<Text>) -> Test {
        Test {
            method: method.into(),
            passes: passes.into(),
            figures: Cow::Borrowed(&[]),
            beside_reference: false,
        }
    }

    /// With this figure too.
    #[must_use]
    pub fn with(mut self, figure: TestFigure) -> Test {
        self.figures.to_mut().push(figure);
        self
    }

    /// With the reference ink beside it.
    #[must_use]
    pub fn beside_reference(mut self) -> Test {
        self.beside_reference = true;
        self
    }
}

/// What a clause asks for.
///
/// ```
/// use ferrogall::standards::{Requirement, standard};
/// // Clause 7 of IS 38 has an upper limit that nobody here has read.
/// let clauses = &standard("is_38_1952").unwrap().clauses;
/// assert!(clauses.iter().any(|c| matches!(&c.requirement, Requirement::NotSeen { reads, .. }
///     if reads == "between 3.0 and 3.9 g/L, not seen")));
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Requirement {
    /// A limit that the composition answers.
    Limit(Limit),
    /// A test to carry out.
    Test(Test),
    /// It exists, its number has not been seen. There is no number here on
    /// purpose.
    NotSeen {
        /// What it limits, where that much is known.
        quantity: Option<Quantity>,
        /// What is known of it, in words.
        reads: Text,
    },
}

/// A figure that another source gives for the same clause.
///
/// ```
/// use ferrogall::source::Status;
/// use ferrogall::standards::standard;
/// let class_i = standard("de_document_class_i").unwrap();
/// let rival = class_i.clauses.iter().find_map(|c| c.rivals.first()).unwrap();
/// assert_eq!(rival.limit.min(), Some(30.0));
/// assert_eq!(rival.cited.status, Status::FromMemory);
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Rival {
    /// The limit by this source.
    pub limit: Limit,
    /// The source.
    pub cited: Cited,
}

/// One clause.
///
/// ```
/// use ferrogall::standards::{Requirement, standard};
/// let clause = &standard("bs_3484_1962").unwrap().clauses[0];
/// let Requirement::Limit(limit) = &clause.requirement else { panic!() };
/// assert_eq!((limit.min(), limit.max()), (Some(5.0), Some(6.0)));
/// println!("{} ({})", clause.title, clause.cited);
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Clause {
    /// Its number, where the standard's own is known; else empty.
    pub number: Text,
    /// Its title.
    pub title: Text,
    /// What it asks for.
    pub requirement: Requirement,
    /// Other figures for the same limit.
    pub rivals: Cow<'static, [Rival]>,
    /// What to know; empty when nothing.
    pub note: Text,
    /// Where it comes from.
    pub cited: Cited,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_to_the_letter_and_as_rounded() -> Result<(), StandardError> {
        let limit = Limit::new(Quantity::Iron, Some(4.0), Some(6.0), 0)?;
        let (strict, rounded) = (limit.window(), limit.rounded_window());
        // Halves go upward: 3.5 becomes 4, 6.5 becomes 7.
        for (figure, letter, round) in [
            (3.49, false, false),
            (3.5, false, true),
            (4.0, true, true),
            (6.0, true, true),
            (6.03, false, true),
            (6.499, false, true),
            (6.5, false, false),
            (f64::NAN, false, false),
        ] {
            assert_eq!(strict.contains(figure), letter, "{figure}");
            assert_eq!(rounded.contains(figure), round, "{figure}");
        }
        let tenth = Limit::new(Quantity::Iron, Some(1.5), None, 1)?.rounded_window();
        assert!(tenth.contains(1.45) && !tenth.contains(1.44) && tenth.contains(1e5));
        Ok(())
    }

    #[test]
    fn margins_are_to_the_nearer_limit() -> Result<(), StandardError> {
        let window = Limit::new(Quantity::Iron, Some(4.0), Some(6.0), 0)?.window();
        assert_eq!(window.margin(4.5), Some((Bound::Min, 0.5)));
        assert_eq!(window.margin(7.0), Some((Bound::Max, -1.0)));
        assert_eq!(window.margin(3.0), Some((Bound::Min, -1.0)));
        assert_eq!(window.margin(f64::NAN), None);
        Ok(())
    }

    #[test]
    fn units_of_test_figures() -> Result<(), StandardError> {
        let figure = |x, unit: &'static str| TestFigure::new(Role::Duration, Some(x), None, unit);
        assert_eq!(figure(72.0, "h")?.in_days(), Some(3.0));
        assert_eq!(figure(12.0, "month")?.in_days(), Some(365.25));
        assert_eq!(figure(2.0, "mL")?.in_days(), None);
        // 28.875 cubic inches of 16.387064 mL, both exact.
        let pint = figure(1.0, "US pint")?.in_milliliters().unwrap_or(f64::NAN);
        approx::assert_relative_eq!(pint, 28.875 * 16.387_064, max_relative = 1e-14);
        Ok(())
    }
}
