//! Specifications of the caller's own.

use super::clause::{Clause, Limit, Requirement, Text};
use super::standard::{Cited, Kind, OwnInk, Standard, Standing};
use super::to_carry_out::{Role, Test, TestFigure};
use super::{Quantity, reference_ink, standard};
use crate::quantity::OutOfRange;
use std::borrow::Cow;

/// Why a specification cannot be taken.
///
/// ```
/// use ferrogall::standards::{Standard, StandardError};
/// let taken = Standard::own("is_38_1952", "our rule").build();
/// assert!(matches!(taken, Err(StandardError::IdTaken { .. })));
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum StandardError {
    /// A limit without a least and without a most.
    #[error("a limit of {} needs a least or a most", quantity.name())]
    NoLimit {
        /// What was to be limited.
        quantity: Quantity,
    },
    /// The least is above the most.
    #[error("{}: at least {min} {unit} is above at most {max} {unit}", quantity.name(), unit = quantity.unit())]
    MinAboveMax {
        /// What was to be limited.
        quantity: Quantity,
        /// The least.
        min: f64,
        /// The most.
        max: f64,
    },
    /// An identifier, a name or a title is empty.
    #[error("the {what} is empty")]
    NoText {
        /// Which.
        what: &'static str,
    },
    /// A published standard has this identifier.
    #[error("{id:?} is the identifier of a published standard")]
    IdTaken {
        /// The identifier.
        id: String,
    },
    /// No published ink has this identifier.
    #[error("there is no published ink {id:?}")]
    NoSuchInk {
        /// The identifier.
        id: String,
    },
    /// It has no clause.
    #[error("{id:?} has no clause")]
    NoClause {
        /// The identifier.
        id: String,
    },
    /// More clauses than a standard may have.
    #[error("{count} clauses; at most {max} are taken")]
    TooManyClauses {
        /// How many there were.
        count: usize,
        /// How many are allowed.
        max: usize,
    },
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// Most clauses taken.
const MOST_CLAUSES: usize = 1000;

/// Makes a specification of the caller's own.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::source::Status;
/// use ferrogall::standards::{
///     ClauseVerdict, Limit, Quantity, Standard, Test, reference_ink,
/// };
/// let ours = Standard::own("studio", "studio ink for dip pens")
///     .edition("2026")
///     .cited("our bench book", Status::CommonPractice)
///     .limit("1", "iron", Limit::new(Quantity::Iron, Some(2.5), Some(3.5), 1)?)
///     .test("2", "keeping", Test::new("a month in a closed bottle", "no sediment"))
///     .own_ink("us_federal_writing_1935")
///     .build()?;
/// let ink = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
/// let page = ours.compare(&ink.evaluate()?.composition);
/// assert_eq!(page.clauses[0].verdict, ClauseVerdict::Meets);
/// assert_eq!(page.summary(), "composition clauses met; 1 test remains to be carried out");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct StandardBuilder {
    made: Standard,
    clauses: Vec<Clause>,
    rules: Vec<TestFigure>,
    own_ink: Option<String>,
    cited: Cited,
}

impl Standard {
    /// Begins a specification of the caller's own.
    pub fn own(id: impl Into<Text>, name: impl Into<Text>) -> StandardBuilder {
        let nothing = || Cow::Borrowed("");
        StandardBuilder {
            made: Standard {
                id: id.into(),
                name: name.into(),
                place: Cow::Borrowed("own"),
                edition: Cow::Borrowed("not named"),
                kind: Kind::Own,
                standing: Standing::InForce,
                published: nothing(),
                ended: nothing(),
                scope: nothing(),
                own_ink: OwnInk::NoneKnown,
                own_ink_rules: Cow::Borrowed(&[]),
                clauses: Cow::Borrowed(&[]),
                note: nothing(),
                cited: Cited::own(),
            },
            clauses: Vec::new(),
            rules: Vec::new(),
            own_ink: None,
            cited: Cited::own(),
        }
    }
}

impl StandardBuilder {
    /// Its edition.
    #[must_use]
    pub fn edition(mut self, edition: impl Into<Text>) -> Self {
        self.made.edition = edition.into();
        self
    }

    /// Who set it, or where it holds.
    #[must_use]
    pub fn place(mut self, place: impl Into<Text>) -> Self {
        self.made.place = place.into();
        self
    }

    /// What it covers.
    #[must_use]
    pub fn scope(mut self, scope: impl Into<Text>) -> Self {
        self.made.scope = scope.into();
        self
    }

    /// What to know of it.
    #[must_use]
    pub fn note(mut self, note: impl Into<Text>) -> Self {
        self.made.note = note.into();
        self
    }

    /// Where it, and each clause added from here on, comes from.
    #[must_use]
    pub fn cited(mut self, citation: impl Into<Text>, status: crate::source::Status) -> Self {
        self.cited = Cited::new(citation, status);
        self.made.cited = self.cited.clone();
        self
    }

    /// A clause that the composition answers.
    #[must_use]
    pub fn limit(self, number: impl Into<Text>, title: impl Into<Text>, limit: Limit) -> Self {
        self.clause(number.into(), title.into(), Requirement::Limit(limit))
    }

    /// A test to carry out.
    #[must_use]
    pub fn test(self, number: impl Into<Text>, title: impl Into<Text>, test: Test) -> Self {
        self.clause(number.into(), title.into(), Requirement::Test(test))
    }

    /// A clause that exists and whose number is not at hand, in words.
    #[must_use]
    pub fn not_seen(
        self,
        number: impl Into<Text>,
        title: impl Into<Text>,
        quantity: Option<Quantity>,
        reads: impl Into<Text>,
    ) -> Self {
        let reads = reads.into();
        let requirement = Requirement::NotSeen { quantity, reads };
        self.clause(number.into(), title.into(), requirement)
    }

    /// The published ink that samples are tested against.
    #[must_use]
    pub fn own_ink(mut self, id: impl Into<String>) -> Self {
        self.own_ink = Some(id.into());
        self
    }

    /// How old that ink may be, days.
    ///
    /// # Errors
    /// [`StandardError::OutOfRange`] as [`TestFigure::new`].
    pub fn own_ink_at_most_days(mut self, days: f64) -> Result<Self, StandardError> {
        let mut age = TestFigure::new(Role::AgeOfReference, None, Some(days), "day")?;
        age.cited = self.cited.clone();
        self.rules.push(age);
        Ok(self)
    }

    fn clause(mut self, number: Text, title: Text, requirement: Requirement) -> Self {
        self.clauses.push(Clause {
            number,
            title,
            requirement,
            rivals: Cow::Borrowed(&[]),
            note: Cow::Borrowed(""),
            cited: self.cited.clone(),
        });
        self
    }

    /// The specification.
    ///
    /// # Errors
    /// [`StandardError::NoText`] for an empty identifier, name or title,
    /// [`StandardError::IdTaken`] for that of a published standard,
    /// [`StandardError::NoSuchInk`], [`StandardError::NoClause`] without
    /// clauses, [`StandardError::TooManyClauses`] with more than 1000.
    pub fn build(self) -> Result<Standard, StandardError> {
        let mut made = self.made;
        let id = made.id.to_string();
        let titles = self.clauses.iter().map(|c| ("title of a clause", &c.title));
        let texts = [("identifier", &made.id), ("name", &made.name)];
        for (what, text) in texts.into_iter().chain(titles) {
            if text.trim().is_empty() {
                return Err(StandardError::NoText { what });
            }
        }
        if standard(&id).is_some() {
            return Err(StandardError::IdTaken { id });
        }
        if let Some(ink) = self.own_ink {
            let Some(found) = reference_ink(&ink) else {
                return Err(StandardError::NoSuchInk { id: ink });
            };
            made.own_ink = OwnInk::Published(found.id);
        }
        match self.clauses.len() {
            0 => return Err(StandardError::NoClause { id }),
            count if count > MOST_CLAUSES => {
                return Err(StandardError::TooManyClauses {
                    count,
                    max: MOST_CLAUSES,
                });
            }
            _ => {}
        }
        made.clauses = Cow::Owned(self.clauses);
        made.own_ink_rules = Cow::Owned(self.rules);
        Ok(made)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_is_refused() -> Result<(), StandardError> {
        let iron = |min, max| Limit::new(Quantity::Iron, min, max, 1);
        assert!(matches!(
            iron(None, None),
            Err(StandardError::NoLimit { .. })
        ));
        for bad in [f64::NAN, f64::INFINITY, -0.1, 1e7] {
            assert!(matches!(
                iron(Some(bad), None),
                Err(StandardError::OutOfRange(_))
            ));
        }
        assert!(Limit::new(Quantity::StrongAcid, Some(-5.0), None, 0).is_ok());
        assert!(Limit::new(Quantity::Iron, Some(1.0), None, 10).is_err());
        assert!(Standard::own("a", "b").build().is_err());
        let one = |id: &'static str| {
            Ok::<_, StandardError>(Standard::own(id, "b").limit(
                "1",
                "iron",
                iron(Some(1.0), None)?,
            ))
        };
        assert!(matches!(
            one(" ")?.build(),
            Err(StandardError::NoText { .. })
        ));
        assert!(matches!(
            one("a")?.own_ink("no such").build(),
            Err(StandardError::NoSuchInk { .. })
        ));
        assert!(one("a")?.build().is_ok());
        Ok(())
    }
}
