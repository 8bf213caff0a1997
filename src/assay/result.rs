//! What an assay found, with its budget.

use super::{AssayError, Figure, Method, MethodId, Reading};
use crate::quantity::{Estimate, within};
use crate::source::Constant;

/// How small a step the derivatives take, in standard uncertainties.
const STEP: f64 = 1e-3;

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
    /// Degrees of freedom, where it is a mean of repeats.
    pub dof: Option<f64>,
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
/// let (low, high) = iron.interval(2.0)?;
/// assert!(low < 0.1959 && high > 0.1986);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Assayed<Q> {
    value: Q,
    parts: Vec<Part>,
    bound: Bound,
    method: &'static Method,
    notes: Vec<Note>,
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

    /// `value − k·u` and `value + k·u`; 2 is usual and holds about 95 % where
    /// the parts are many. k from 0 to 10.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn interval(&self, k: f64) -> Result<(Q, Q), AssayError> {
        let k = within("coverage factor", k, 0.0, 10.0, "")?;
        let (v, u) = (self.value.si(), self.u_si());
        Ok((Q::from_si(v - k * u), Q::from_si(v + k * u)))
    }

    /// Degrees of freedom by Welch and Satterthwaite, downward to a whole
    /// number; `None` where no input was a mean of repeats.
    pub fn dof(&self) -> Option<f64> {
        let below: f64 = self
            .parts
            .iter()
            .filter_map(|p| Some(libm::pow(p.contribution, 4.0) / p.dof?))
            .sum();
        let all = libm::pow(self.u_si(), 4.0);
        (below > 0.0).then(|| libm::floor(all / below))
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
        Reading::standard(self.value, self.u())
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

/// One input of the arithmetic.
#[derive(Debug, Clone)]
pub(super) struct Input {
    name: &'static str,
    source: Option<String>,
    value: f64,
    u: f64,
    dof: Option<f64>,
}

impl Input {
    pub(super) fn reading<Q: Figure>(name: &'static str, r: &Reading<Q>) -> Input {
        Input {
            name,
            source: r.source_name().map(str::to_owned),
            value: r.value().si(),
            u: r.u().si(),
            dof: r.dof(),
        }
    }

    /// A constant of the crate: one variable wherever it is used. `scale`
    /// brings it to the unit of the arithmetic.
    pub(super) fn constant(c: &Constant, scale: f64) -> Input {
        Input {
            name: c.id,
            source: Some(c.id.to_owned()),
            value: scale * c.value,
            u: scale * c.u,
            dof: None,
        }
    }

    /// Independent of all others.
    pub(super) fn alone(name: &'static str, value: f64, u: f64) -> Input {
        Input {
            name,
            source: None,
            value,
            u,
            dof: None,
        }
    }
}

/// A function of inputs with its budget, by central differences: exact to
/// about eight digits for the smooth formulas of this room.
pub(super) fn propagate<Q: Figure>(
    method: MethodId,
    inputs: &[Input],
    f: impl Fn(&[f64]) -> Result<f64, AssayError>,
) -> Result<Assayed<Q>, AssayError> {
    let mut x: Vec<f64> = inputs.iter().map(|i| i.value).collect();
    let value = within("result", f(&x)?, -1e300, 1e300, "SI unit")?;
    let mut parts = Vec::with_capacity(inputs.len());
    for (at, input) in inputs.iter().enumerate() {
        if input.u <= 0.0 {
            continue;
        }
        let step = STEP * input.u;
        let mut shifted = |to: f64| {
            if let Some(place) = x.get_mut(at) {
                *place = to;
            }
            f(&x)
        };
        let (up, down) = (shifted(input.value + step)?, shifted(input.value - step)?);
        shifted(input.value)?;
        let contribution = within(
            "contribution to the uncertainty",
            (up - down) / (2.0 * STEP),
            -1e300,
            1e300,
            "SI unit",
        )?;
        parts.push(Part {
            input: input.name,
            source: input.source.clone(),
            contribution,
            dof: input.dof,
        });
    }
    Ok(Assayed {
        value: Q::from_si(value),
        parts,
        bound: Bound::Estimate,
        method: method.method(),
        notes: Vec::new(),
    })
}

/// A function of two results, which may rest on shared sources. `slopes` are
/// its derivatives by the first and the second.
pub(super) fn of_two<A: Figure, B: Figure, Q: Figure>(
    method: MethodId,
    (a, b): (&Assayed<A>, &Assayed<B>),
    value: f64,
    slopes: [f64; 2],
) -> Result<Assayed<Q>, AssayError> {
    let value = within("result", value, -1e300, 1e300, "SI unit")?;
    let scaled = |parts: &[Part], slope: f64| -> Vec<Part> {
        let scale = |p: &Part| Part {
            contribution: slope * p.contribution,
            ..p.clone()
        };
        parts.iter().map(scale).collect()
    };
    let mut parts = scaled(&a.parts, slopes[0]);
    parts.extend(scaled(&b.parts, slopes[1]));
    let result = Assayed {
        value: Q::from_si(value),
        parts,
        bound: Bound::Estimate,
        method: method.method(),
        notes: Vec::new(),
    };
    Ok(result.with_notes_of(a).with_notes_of(b))
}
