//! What one clause asks for.

use super::to_carry_out::Test;
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
    #[cfg_attr(feature = "serde", serde(flatten, serialize_with = "with_unit"))]
    quantity: Quantity,
    min: Option<f64>,
    max: Option<f64>,
    decimals: u8,
    printed: Text,
    other_basis: Option<Quantity>,
}

/// In JSON the unit of the limits stands beside the quantity.
#[cfg(feature = "serde")]
fn with_unit<S: serde::Serializer>(quantity: &Quantity, out: S) -> Result<S::Ok, S::Error> {
    use serde::ser::SerializeMap;
    let mut map = out.serialize_map(Some(2))?;
    map.serialize_entry("quantity", quantity)?;
    map.serialize_entry("unit", quantity.unit())?;
    map.end()
}

/// Largest limit taken, in any unit.
pub(super) const LARGEST: f64 = 1e6;
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
    #[cfg_attr(feature = "serde", serde(flatten, serialize_with = "with_unit"))]
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
}
