//! What an assay found, with its budget.

use super::{AssayError, Figure, Method, Reading};
use crate::quantity::{Estimate, within};
use crate::uncertainty::{Distribution, Evidence};

/// How far beyond a bound evidence still reaches, as a factor.
pub(super) const FAR: f64 = 1e12;

/// Which way a result leans.
///
/// ```
/// use ferrogall::assay::{dry_residue, Bound, Reading};
/// use ferrogall::quantity::*;
/// let at = |g: f64| Reading::balance(grams(g), grams(0.01));
/// let residue = dry_residue(&at(80.0)?, &at(130.0)?, &at(82.5)?)?;
/// assert_eq!(residue.bound(), Bound::AtMost); // gum and sugar count as tannin
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Bound {
    /// As likely too high as too low.
    Estimate,
    /// What else is in the sample counts too: the truth is this or less.
    AtMost,
    /// Something escapes the method: the truth is this or more.
    AtLeast,
}

/// What a note is about.
///
/// ```
/// use ferrogall::assay::NoteKind;
/// assert_ne!(NoteKind::Assumed, NoteKind::Interference);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum NoteKind {
    /// Taken for granted.
    Assumed,
    /// Something in this sample may have falsified the reading.
    Interference,
    /// The reading is outside the range where the method is good.
    Range,
    /// Danger to the maker, or to the result.
    Caution,
}

/// Something to know about one result.
///
/// ```
/// use ferrogall::assay::{NoteKind, Reading, RedoxTitration, Sample, Titrant};
/// use ferrogall::quantity::*;
/// let stock = RedoxTitration::new(
///     Titrant::Permanganate,
///     Sample::ChlorideStock,
///     Reading::standard(moles_per_liter(0.02), moles_per_liter(1e-5))?,
///     Reading::buret(milliliters(12.3), milliliters(0.05))?,
/// );
/// let iron = stock.iron()?;
/// assert!(iron.notes().iter().any(|n| n.kind == NoteKind::Interference && n.code == "chloride"));
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// What it is about.
    pub kind: NoteKind,
    /// A short name to test for.
    pub code: &'static str,
    /// The same in a sentence.
    pub message: String,
}

/// One input's part in the uncertainty of a result.
///
/// ```
/// # use ferrogall::assay::{dry_residue, Reading};
/// # use ferrogall::quantity::*;
/// # let at = |g: f64| Reading::balance(grams(g), grams(0.01));
/// let residue = dry_residue(&at(80.0)?, &at(130.0)?, &at(82.5)?)?;
/// let sum: f64 = residue.budget().iter().map(|p| p.contribution * p.contribution).sum();
/// assert!((sum.sqrt() / residue.u() - 1.0).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// What was read.
    pub input: &'static str,
    /// The source it shares with others, if it was named.
    pub source: Option<String>,
    /// Sensitivity times standard uncertainty, with its sign, in the SI unit
    /// of the result.
    pub contribution: f64,
    /// Degrees of freedom; infinite unless it is a mean of repeats.
    pub dof: f64,
    /// Parts that rest on one estimate of scatter (a calibration line's) and
    /// share its degrees of freedom.
    pub(super) pool: Option<u64>,
}

/// What an assay found: a value, its standard uncertainty (k = 1, first order)
/// and everything that goes with it.
///
/// ```
/// use ferrogall::assay::{Aliquot, MethodId, Reading, RedoxTitration, Sample, Titrant};
/// use ferrogall::quantity::*;
/// // 1.53 g of green vitriol in 250 mL, 25 mL of it titrated.
/// let titration = RedoxTitration::new(
///     Titrant::Permanganate,
///     Sample::Salt,
///     Reading::standard(moles_per_liter(0.00500), moles_per_liter(0.00001))?,
///     Reading::buret(milliliters(21.6), milliliters(0.05))?,
/// )
/// .aliquot(Aliquot::new(
///     Reading::triangular(milliliters(25.0), milliliters(0.03))?,
///     Reading::triangular(milliliters(250.0), milliliters(0.15))?,
/// ));
/// let iron = titration.mass_fraction(&Reading::weighed(grams(1.53), grams(0.01))?)?;
/// assert!((iron.value() - 0.197).abs() < 0.001);
/// assert!((iron.relative_u() - 0.004).abs() < 0.001);
/// assert_eq!(iron.method().id, MethodId::PermanganateTitration);
/// let (low, high) = iron.interval(0.95)?;
/// assert!(low > 0.195 && low < 0.196 && high > 0.198 && high < 0.199);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Assayed<Q> {
    pub(super) value: Q,
    pub(super) parts: Vec<Part>,
    pub(super) bound: Bound,
    pub(super) method: &'static Method,
    pub(super) notes: Vec<Note>,
}

impl<Q: Figure> Assayed<Q> {
    /// The value.
    pub fn value(&self) -> Q {
        self.value
    }

    /// Its standard uncertainty (k = 1).
    pub fn u(&self) -> Q {
        Q::from_si(self.u_si())
    }

    /// The uncertainty as a share of the value's size; 0 when that is 0.
    pub fn relative_u(&self) -> f64 {
        let size = self.value.si().abs();
        if size > 0.0 {
            (self.u_si() / size).min(1e9)
        } else {
            0.0
        }
    }

    /// The interval that covers `p` (0.5 to 0.9999), by Student's factor for
    /// the degrees of freedom.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn interval(&self, p: f64) -> Result<(Q, Q), AssayError> {
        let p = within("coverage probability", p, 0.5, 0.9999, "")?;
        let d = self.distribution()?;
        let end = |part: f64| Q::from_si(d.quantile(part));
        Ok((end(0.5 - 0.5 * p), end(0.5 + 0.5 * p)))
    }

    /// Degrees of freedom by Welch and Satterthwaite, cut down to a whole
    /// number (JCGM 100:2008, G.4); infinite where no input was a mean of
    /// repeats.
    pub fn dof(&self) -> f64 {
        let u = self.u_si();
        let mut sum = 0.0;
        // What one source does to several parts is one contribution, and may
        // cancel; what rests on one scatter has its degrees of freedom once.
        for (i, part) in self.parts.iter().enumerate() {
            let same = |p: &&Part| match (&part.source, part.pool) {
                (Some(source), _) => p.source.as_ref() == Some(source),
                (None, Some(pool)) => p.source.is_none() && p.pool == Some(pool),
                (None, None) => core::ptr::eq(*p, part),
            };
            if self.parts.iter().take(i).any(|p| same(&p)) || part.dof.is_infinite() {
                continue;
            }
            let together = self.parts.iter().filter(same);
            let square = match part.source {
                Some(_) => {
                    let c: f64 = together.map(|p| p.contribution).sum();
                    c * c
                }
                None => together.map(|p| p.contribution * p.contribution).sum(),
            };
            let share = square / (u * u);
            sum += share * share / part.dof;
        }
        if u > 0.0 && sum > 0.0 {
            libm::floor((1.0 + 1e-9) / sum).max(1.0)
        } else {
            f64::INFINITY
        }
    }

    /// Value and uncertainty as an input of a budget or of draws, in the SI
    /// unit: normal, or Student's where the degrees of freedom are few.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn distribution(&self) -> Result<Distribution, AssayError> {
        let (value, u, dof) = (self.value.si(), self.u_si(), self.dof());
        Ok(if dof < 1e6 {
            Distribution::student(value, u, dof)?
        } else {
            Distribution::normal(value, u)?
        })
    }

    /// What it says of the property, for
    /// [`Belief::updated`](crate::uncertainty::Belief::updated), in the SI unit.
    /// A bound speaks against one side only.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] for a value that is not above 0.
    pub fn evidence(&self) -> Result<Evidence, AssayError> {
        let (value, u) = (self.value.si(), self.u_si());
        Ok(match self.bound {
            Bound::Estimate => Evidence::value(value, u)?,
            Bound::AtMost => Evidence::between(value / FAR, value, self.relative_u())?,
            Bound::AtLeast => Evidence::between(value, value * FAR, self.relative_u())?,
        })
    }

    /// Each input's part.
    pub fn budget(&self) -> &[Part] {
        &self.parts
    }

    /// Which way it leans.
    pub fn bound(&self) -> Bound {
        self.bound
    }

    /// The method, with its interferences, cautions and source.
    pub fn method(&self) -> &'static Method {
        self.method
    }

    /// What was assumed and what may have gone wrong with this sample.
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    fn u_si(&self) -> f64 {
        combined(&self.parts)
    }

    pub(super) fn note(
        mut self,
        kind: NoteKind,
        code: &'static str,
        text: impl Into<String>,
    ) -> Self {
        self.notes.push(Note {
            kind,
            code,
            message: text.into(),
        });
        self
    }

    pub(super) fn bounded(mut self, bound: Bound) -> Self {
        self.bound = bound;
        self
    }

    pub(super) fn with_notes_of<R>(mut self, other: &Assayed<R>) -> Self {
        for note in &other.notes {
            if !self.notes.contains(note) {
                self.notes.push(note.clone());
            }
        }
        self
    }

    pub(super) fn set_value(mut self, si: f64) -> Self {
        self.value = Q::from_si(si);
        self
    }

    /// The result as a reading for a further step. What it rests on is then no
    /// longer told apart: give later readings no source they would share.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] for a value beyond 1e12 SI units.
    pub fn reading(&self) -> Result<Reading<Q>, AssayError> {
        Reading::of(self.distribution()?)
    }
}

impl Assayed<f64> {
    /// Value and uncertainty as the crate's estimate of a pure number.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] below 0.
    pub fn estimate(&self) -> Result<Estimate, AssayError> {
        Ok(Estimate::new(self.value, self.u())?)
    }
}

/// Square root of the sum of squares; parts of one source are summed first.
fn combined(parts: &[Part]) -> f64 {
    let mut squares = 0.0;
    for (i, part) in parts.iter().enumerate() {
        let Some(source) = &part.source else {
            squares += part.contribution * part.contribution;
            continue;
        };
        let same = |p: &&Part| p.source.as_ref() == Some(source);
        if parts.iter().take(i).any(|p| same(&p)) {
            continue;
        }
        let sum: f64 = parts.iter().filter(same).map(|p| p.contribution).sum();
        squares += sum * sum;
    }
    libm::sqrt(squares)
}
