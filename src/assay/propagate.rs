//! From readings to a result with its budget.

use super::{AssayError, Assayed, Bound, Figure, MethodId, NoteKind, Part, Reading};
use crate::quantity::{OutOfRange, within};
use crate::source::Constant;
use crate::uncertainty::{BudgetLine, Distribution, Inputs, Misleading, Values};

/// One input of the arithmetic.
#[derive(Debug, Clone)]
pub(super) struct Input {
    name: &'static str,
    source: Option<String>,
    distribution: Result<Distribution, OutOfRange>,
    pool: Option<u64>,
}

impl Input {
    pub(super) fn reading<Q: Figure>(name: &'static str, r: &Reading<Q>) -> Input {
        Input {
            name,
            source: r.source_name().map(str::to_owned),
            distribution: Ok(r.distribution()),
            pool: None,
        }
    }

    /// A constant of the crate: one variable wherever it is used. `scale`
    /// brings it to the unit of the arithmetic.
    pub(super) fn constant(c: &Constant, scale: f64) -> Input {
        Input {
            name: c.id,
            source: Some(c.id.to_owned()),
            distribution: Distribution::normal(scale * c.value, scale * c.u),
            pool: None,
        }
    }

    /// Independent of all others.
    pub(super) fn alone(name: &'static str, value: f64, u: f64) -> Input {
        Input {
            name,
            source: None,
            distribution: Distribution::normal(value, u),
            pool: None,
        }
    }

    /// Independent of all others, its uncertainty from a scatter estimated with
    /// so many degrees of freedom; what shares the scatter has its `pool`.
    pub(super) fn scattered(name: &'static str, value: f64, u: f64, dof: f64, pool: u64) -> Input {
        let normal = Distribution::normal(value, u);
        Input {
            name,
            source: None,
            distribution: normal.and_then(|d| d.with_degrees_of_freedom(dof)),
            pool: Some(pool),
        }
    }

    /// Independent of all others, in a shape of its own.
    pub(super) fn shaped(
        name: &'static str,
        distribution: Result<Distribution, OutOfRange>,
    ) -> Input {
        Input {
            name,
            source: None,
            distribution,
            pool: None,
        }
    }
}

/// A function of inputs with its first-order budget.
pub(super) fn propagate<Q: Figure>(
    method: MethodId,
    inputs: &[Input],
    f: impl Fn(&[f64]) -> Result<f64, AssayError>,
) -> Result<Assayed<Q>, AssayError> {
    let mut known = Inputs::new();
    let mut keys = Vec::with_capacity(inputs.len());
    for input in inputs {
        keys.push(known.add(input.name, input.distribution?)?);
    }
    let at = |x: Values| -> Vec<f64> { keys.iter().map(|k| x[*k]).collect() };
    // The arithmetic's own reason, where it has no answer at all.
    f(&at(known.estimates().values()))?;
    let budget = known.first_order(|x| f(&at(x)).unwrap_or(f64::NAN))?;
    let part = |(input, line): (&Input, &BudgetLine)| Part {
        input: input.name,
        source: input.source.clone(),
        contribution: line.contribution,
        dof: line.distribution.degrees_of_freedom(),
        pool: input.pool,
    };
    let result = Assayed {
        value: Q::from_si(budget.value()),
        parts: inputs
            .iter()
            .zip(budget.lines())
            .filter(|(_, line)| line.contribution != 0.0)
            .map(part)
            .collect(),
        bound: Bound::Estimate,
        method: method.method(),
        notes: Vec::new(),
    };
    Ok(match budget.misleads() {
        Some(why @ Misleading::Curved) => result.note(
            NoteKind::Range,
            "curved",
            format!("The uncertainty is of first order, and {why}."),
        ),
        _ => result,
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
