//! Tests that no composition can stand for.

use super::clause::{LARGEST, Text};
use super::{Cited, StandardError};
use crate::quantity::within;
use std::borrow::Cow;

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

#[cfg(test)]
mod tests {
    use super::*;

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
