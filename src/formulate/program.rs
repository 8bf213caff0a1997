//! Linear programmes: the least of a sum under limits, some amounts whole.
//!
//! The search is left to the library `microlp`. What goes in is brought to a
//! common scale first, and what comes out is held against every limit again
//! before anybody sees it.

use crate::quantity::{OutOfRange, within};
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

/// Largest size of a coefficient, a limit or a cost.
const LARGEST: f64 = 1e15;
/// Largest whole number a variable may be.
const LARGEST_WHOLE: f64 = 2_147_483_647.0;
/// Branches looked at before a programme with whole numbers is given up.
const MOST_BRANCHES: u64 = 20_000;
/// How far a limit may be overstepped, relative to what is added up in it.
const SLACK: f64 = 1e-9;
/// How near a number is whole already.
const WHOLE: f64 = 1e-12;
/// How often a search is done again in the scale of its answer.
const RESCALINGS: usize = 2;
/// What the search itself is held to, where limits are near 1.
const SEARCHED_TO: f64 = 1e-10;

/// One unknown of a [`Program`].
///
/// ```
/// use ferrogall::formulate::Program;
/// let mut program = Program::new();
/// let x = program.real(1.0, 0.0, 5.0)?;
/// assert_eq!(program.minimise()?.value(x), 0.0);
/// # Ok::<(), ferrogall::formulate::ProgramError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unknown(pub(super) usize);

/// Why a programme has no optimum.
///
/// ```
/// use ferrogall::formulate::{Program, ProgramError};
/// let mut program = Program::new();
/// let x = program.real(1.0, 0.0, 5.0)?;
/// program.limit(&[(x, 1.0)], 6.0, f64::INFINITY)?;
/// assert_eq!(program.minimise().unwrap_err(), ProgramError::Infeasible);
/// # Ok::<(), ProgramError>(())
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ProgramError {
    /// Nothing keeps all the limits.
    #[error("no amounts keep all the limits")]
    Infeasible,
    /// The sum can be made as small as you like.
    #[error("nothing limits the sum that is to be made least")]
    Unbounded,
    /// No optimum that stands up to the check was found.
    #[error("no optimum was found: {reason}")]
    NotSolved {
        /// What stood in the way.
        reason: String,
    },
    /// A term names an unknown that is not of this programme, or names one twice.
    #[error("unknown number {index} is not of this programme, or stands twice in one sum")]
    Term {
        /// Its number.
        index: usize,
    },
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// The least of a sum of unknowns, each and some sums of them within limits.
///
/// Where several answers are equally good, the one that has least of the
/// unknowns that were named last is given: of two equal salts, the first.
///
/// ```
/// use ferrogall::formulate::Program;
/// // At least 2 g of two equal salts at one price.
/// let mut program = Program::new();
/// let first = program.real(1.0, 0.0, f64::INFINITY)?;
/// let second = program.real(1.0, 0.0, f64::INFINITY)?;
/// program.limit(&[(first, 1.0), (second, 1.0)], 2.0, f64::INFINITY)?;
/// let least = program.minimise()?;
/// assert_eq!((least.value(first), least.value(second)), (2.0, 0.0));
/// assert_eq!(least.objective, 2.0);
/// # Ok::<(), ferrogall::formulate::ProgramError>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Program {
    unknowns: Vec<Bounds>,
    rows: Vec<Row>,
    /// What is made least, and then, that kept, made least after it.
    sums: Vec<Vec<f64>>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Bounds {
    low: f64,
    high: f64,
    whole: bool,
}

#[derive(Debug, Clone, PartialEq)]
struct Row {
    terms: Vec<(usize, f64)>,
    low: f64,
    high: f64,
}

/// The best there is.
///
/// ```
/// use ferrogall::formulate::Program;
/// // Most of 3a + 2b in whole numbers with 2a + b <= 5.5 and b <= 2.
/// let mut program = Program::new();
/// let a = program.whole(-3.0, 0.0, f64::INFINITY)?;
/// let b = program.whole(-2.0, 0.0, 2.0)?;
/// program.limit(&[(a, 2.0), (b, 1.0)], 0.0, 5.5)?;
/// let most = program.minimise()?;
/// assert_eq!((most.value(a), most.value(b)), (2.0, 1.0));
/// assert_eq!(most.objective, -8.0);
/// # Ok::<(), ferrogall::formulate::ProgramError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Optimum {
    /// The sum that was to be least.
    pub objective: f64,
    /// The unknowns, in the order they were named.
    pub values: Vec<f64>,
}

impl Optimum {
    /// One unknown; NaN for one of another programme.
    pub fn value(&self, unknown: Unknown) -> f64 {
        self.values.get(unknown.0).copied().unwrap_or(f64::NAN)
    }
}

impl Program {
    /// Without unknowns or limits.
    pub fn new() -> Program {
        Program::default()
    }

    /// An unknown of any size from `low` to `high` (either may be infinite),
    /// that adds `cost` for each unit to what is made least.
    ///
    /// # Errors
    /// [`ProgramError::OutOfRange`] for no number, a cost or a finite end beyond 1e15, `low`
    /// above `high`.
    pub fn real(&mut self, cost: f64, low: f64, high: f64) -> Result<Unknown, ProgramError> {
        self.unknown(cost, low, high, false)
    }

    /// An unknown that is a whole number. Beyond two thousand million there
    /// are none.
    ///
    /// # Errors
    /// As [`Program::real`].
    pub fn whole(&mut self, cost: f64, low: f64, high: f64) -> Result<Unknown, ProgramError> {
        self.unknown(cost, low, high, true)
    }

    fn unknown(
        &mut self,
        cost: f64,
        low: f64,
        high: f64,
        whole: bool,
    ) -> Result<Unknown, ProgramError> {
        let cost = within("cost", cost, -LARGEST, LARGEST, "")?;
        let (mut low, mut high) = ends(low, high)?;
        if whole {
            low = libm::ceil(low).clamp(-LARGEST_WHOLE, LARGEST_WHOLE);
            high = libm::floor(high).clamp(-LARGEST_WHOLE, LARGEST_WHOLE);
        }
        self.unknowns.push(Bounds { low, high, whole });
        if self.sums.is_empty() {
            self.sums.push(Vec::new());
        }
        if let Some(first) = self.sums.first_mut() {
            first.push(cost);
        }
        Ok(Unknown(self.unknowns.len() - 1))
    }

    /// A sum of unknowns, each times a coefficient, from `low` to `high`
    /// (either may be infinite; equal ends are an equation).
    ///
    /// # Errors
    /// [`ProgramError::Term`]; [`ProgramError::OutOfRange`] for a coefficient
    /// or a finite end beyond 1e15, or `low` above `high`.
    pub fn limit(
        &mut self,
        terms: &[(Unknown, f64)],
        low: f64,
        high: f64,
    ) -> Result<(), ProgramError> {
        let terms = self.checked(terms)?;
        let (low, high) = ends(low, high)?;
        self.rows.push(Row { terms, low, high });
        Ok(())
    }

    /// Another sum to be made least among all that are equally good so far.
    ///
    /// # Errors
    /// As [`Program::limit`].
    pub fn then_minimise(&mut self, terms: &[(Unknown, f64)]) -> Result<(), ProgramError> {
        let mut sum = vec![0.0; self.unknowns.len()];
        for (index, coefficient) in self.checked(terms)? {
            if let Some(slot) = sum.get_mut(index) {
                *slot = coefficient;
            }
        }
        if self.sums.is_empty() {
            self.sums.push(Vec::new());
        }
        self.sums.push(sum);
        Ok(())
    }

    fn checked(&self, terms: &[(Unknown, f64)]) -> Result<Vec<(usize, f64)>, ProgramError> {
        let mut out: Vec<(usize, f64)> = Vec::with_capacity(terms.len());
        for &(Unknown(index), coefficient) in terms {
            if index >= self.unknowns.len() || out.iter().any(|(i, _)| *i == index) {
                return Err(ProgramError::Term { index });
            }
            let coefficient = within("coefficient", coefficient, -LARGEST, LARGEST, "")?;
            out.push((index, coefficient));
        }
        out.retain(|(_, coefficient)| *coefficient != 0.0);
        Ok(out)
    }

    /// Finds the optimum.
    ///
    /// # Errors
    /// [`ProgramError::Infeasible`], [`ProgramError::Unbounded`], and
    /// [`ProgramError::NotSolved`] where an answer did not keep its limits to
    /// 1e-9 of what they add up, or too many branches were looked at.
    pub fn minimise(&self) -> Result<Optimum, ProgramError> {
        self.in_turn(self.turns())
    }

    /// An optimum of the first sum that is one, ties as they come: for a
    /// search that corrects itself and asks again.
    pub(super) fn minimise_first(&self) -> Result<Optimum, ProgramError> {
        self.in_turn(self.turns().take(1))
    }

    /// What is made least in turn, empty sums left out; at last the ranks of
    /// the unknowns, so that of equal answers the one with least of what was
    /// named last is found.
    fn turns(&self) -> impl Iterator<Item = (Vec<f64>, bool)> {
        let rank = |(i, u): (usize, &Bounds)| {
            if u.low.is_finite() {
                (i + 1) as f64
            } else {
                0.0
            }
        };
        let ranks = self.unknowns.iter().enumerate().map(rank).collect();
        let sums = self.sums.iter().filter(|s| s.iter().any(|c| *c != 0.0));
        sums.map(|s| (s.clone(), false)).chain([(ranks, true)])
    }

    fn in_turn(
        &self,
        turns: impl Iterator<Item = (Vec<f64>, bool)>,
    ) -> Result<Optimum, ProgramError> {
        let mut found: Option<Vec<f64>> = None;
        let mut kept = self.clone();
        for (mut sum, by_rank) in turns {
            sum.resize(self.unknowns.len(), 0.0);
            match kept.one_turn(&sum, by_rank, found.as_deref()) {
                Ok(values) => {
                    let least = total(&sum, &values);
                    let terms = sum.iter().copied().enumerate();
                    kept.rows.push(Row {
                        terms: terms.filter(|(_, c)| *c != 0.0).collect(),
                        low: f64::NEG_INFINITY,
                        high: least,
                    });
                    found = Some(values);
                }
                // A later sum is a wish; the first must be had.
                Err(e) if found.is_none() => return Err(e),
                Err(_) => {}
            }
        }
        let values = found.unwrap_or_default();
        let objective = self.sums.first().map_or(0.0, |c| total(c, &values));
        Ok(Optimum { objective, values })
    }

    /// The least of one sum, whole numbers made whole and all limits checked.
    /// Values that keep the limits, where some are known, shorten the search.
    fn one_turn(
        &self,
        sum: &[f64],
        by_rank: bool,
        known: Option<&[f64]>,
    ) -> Result<Vec<f64>, ProgramError> {
        let mut scaled = Scaled::of(self);
        let mut tries = RESCALINGS;
        loop {
            let values = self.attempt(&scaled, sum, by_rank, known)?;
            let Some(reason) = self.overstepped(&values) else {
                return Ok(values);
            };
            if tries == 0 {
                return Err(ProgramError::NotSolved { reason });
            }
            // The search is as true as its scale: take that of the answer.
            scaled = scaled.at(self, &values);
            tries -= 1;
        }
    }

    fn attempt(
        &self,
        scaled: &Scaled,
        sum: &[f64],
        by_rank: bool,
        known: Option<&[f64]>,
    ) -> Result<Vec<f64>, ProgramError> {
        let mut values = scaled.search(self, sum, by_rank, Whole::Sought(known))?;
        let mut moved = false;
        for (value, unknown) in values.iter_mut().zip(&self.unknowns) {
            if unknown.whole {
                let whole = libm::round(*value);
                moved |= (*value - whole).abs() > WHOLE;
                *value = whole;
            }
        }
        // The rest moves with what was not quite whole.
        if moved && self.unknowns.iter().any(|u| !u.whole) {
            values = scaled.search(self, sum, by_rank, Whole::Known(&values))?;
        }
        for (value, unknown) in values.iter_mut().zip(&self.unknowns) {
            // Off a bound by rounding only; the check below sees the rest.
            let near = SLACK * (1.0 + unknown.low.abs().min(unknown.high.abs()));
            if (*value - unknown.low).abs() < near * 1e-3 {
                *value = unknown.low;
            } else if (*value - unknown.high).abs() < near * 1e-3 {
                *value = unknown.high;
            }
        }
        Ok(values)
    }

    /// The first limit that values do not keep, in words.
    fn overstepped(&self, values: &[f64]) -> Option<String> {
        for (index, (value, unknown)) in values.iter().zip(&self.unknowns).enumerate() {
            let slack = SLACK * value.abs();
            if !value.is_finite() || *value < unknown.low - slack || *value > unknown.high + slack {
                return Some(format!("unknown {index} came out as {value:e}"));
            }
        }
        for (index, row) in self.rows.iter().enumerate() {
            let term = |(i, c): &(usize, f64)| c * values.get(*i).copied().unwrap_or(f64::NAN);
            let sum: f64 = row.terms.iter().map(term).sum();
            let size: f64 = row.terms.iter().map(|t| term(t).abs()).sum();
            let slack = SLACK * size + f64::MIN_POSITIVE;
            if sum.is_nan() || sum < row.low - slack || sum > row.high + slack {
                return Some(format!("limit {index} came out as {sum:e}"));
            }
        }
        None
    }
}

fn total(sum: &[f64], values: &[f64]) -> f64 {
    sum.iter().zip(values).map(|(c, x)| c * x).sum()
}

/// Two ends, each finite and of reasonable size or open.
fn ends(low: f64, high: f64) -> Result<(f64, f64), OutOfRange> {
    if low.is_finite() {
        within("lower limit", low, -LARGEST, LARGEST, "")?;
    } else if low != f64::NEG_INFINITY {
        return Err(not_an_end("lower limit", low));
    }
    if high.is_finite() {
        within("upper limit", high, -LARGEST, LARGEST, "")?;
    } else if high != f64::INFINITY {
        return Err(not_an_end("upper limit", high));
    }
    if low > high {
        within("lower limit", low, -LARGEST, high, "")?;
    }
    Ok((low, high))
}

fn not_an_end(what: &'static str, value: f64) -> OutOfRange {
    OutOfRange {
        what,
        value,
        min: -LARGEST,
        max: LARGEST,
        unit: "",
    }
}

/// What is known of the whole numbers before a search.
#[derive(Clone, Copy)]
enum Whole<'a> {
    /// Nothing but perhaps values that keep the limits.
    Sought(Option<&'a [f64]>),
    /// What they are.
    Known(&'a [f64]),
}

/// Powers of two that bring limits, coefficients and unknowns near 1.
struct Scaled {
    rows: Vec<f64>,
    unknowns: Vec<f64>,
    /// Rows that only say how unknowns stand to each other.
    free: Vec<bool>,
}

/// The power of two nearest 1/x in the logarithm; 1 for what has none.
fn inverse_scale(x: f64) -> f64 {
    if x > 0.0 && x.is_finite() {
        libm::ldexp(1.0, -libm::ilogb(x))
    } else {
        1.0
    }
}

impl Scaled {
    fn of(program: &Program) -> Scaled {
        let largest_end = |row: &Row| {
            let ends = [row.low, row.high].into_iter().filter(|e| e.is_finite());
            ends.fold(0.0, |most: f64, e| most.max(e.abs()))
        };
        let mut scaled = Scaled {
            rows: program
                .rows
                .iter()
                .map(|r| inverse_scale(largest_end(r)))
                .collect(),
            unknowns: vec![1.0; program.unknowns.len()],
            free: program.rows.iter().map(|r| largest_end(r) == 0.0).collect(),
        };
        for _ in 0..3 {
            let mut largest = vec![0.0_f64; program.unknowns.len()];
            for (row, scale) in program.rows.iter().zip(&scaled.rows) {
                for &(i, c) in &row.terms {
                    if let Some(slot) = largest.get_mut(i) {
                        *slot = slot.max((c * scale).abs());
                    }
                }
            }
            for ((slot, unknown), largest) in scaled
                .unknowns
                .iter_mut()
                .zip(&program.unknowns)
                .zip(largest)
            {
                // A step of a whole number is 1 whatever it is worth.
                if !unknown.whole {
                    *slot = inverse_scale(largest);
                }
            }
            scaled.follow(program);
        }
        scaled
    }

    /// In the scale of an answer.
    fn at(mut self, program: &Program, values: &[f64]) -> Scaled {
        let each = self.unknowns.iter_mut().zip(&program.unknowns).zip(values);
        for ((slot, unknown), value) in each {
            if !unknown.whole && *value != 0.0 {
                *slot = 1.0 / inverse_scale(value.abs());
            }
        }
        self.follow(program);
        self
    }

    /// Rows without an end of their own take the scale of their terms.
    fn follow(&mut self, program: &Program) {
        for ((row, scale), free) in program.rows.iter().zip(&mut self.rows).zip(&self.free) {
            if *free {
                let unknowns = &self.unknowns;
                let size = |(i, c): &(usize, f64)| (c * unknowns.get(*i).unwrap_or(&1.0)).abs();
                *scale = inverse_scale(row.terms.iter().map(size).fold(0.0, f64::max));
            }
        }
    }

    /// Asks the library; whole numbers stand where they are if given.
    fn search(
        &self,
        program: &Program,
        sum: &[f64],
        by_rank: bool,
        whole: Whole,
    ) -> Result<Vec<f64>, ProgramError> {
        let costs = || {
            let scales = self.unknowns.iter();
            let unit = move |s: &f64| if by_rank { 1.0 } else { *s };
            sum.iter().zip(scales).map(move |(c, s)| c * unit(s))
        };
        let cost_scale = inverse_scale(costs().fold(0.0, |m: f64, c| m.max(c.abs())));
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let mut unknowns: Vec<Variable> = Vec::with_capacity(program.unknowns.len());
        for (i, (u, cost)) in program.unknowns.iter().zip(costs()).enumerate() {
            let cost = cost * cost_scale;
            let known = match whole {
                Whole::Known(values) => values.get(i),
                Whole::Sought(_) => None,
            };
            unknowns.push(match (u.whole, known) {
                (true, Some(&value)) => problem.add_var(cost, (value, value)),
                (true, None) => problem.add_integer_var(cost, (u.low as i32, u.high as i32)),
                _ => {
                    let scale = self.unknowns.get(i).copied().unwrap_or(1.0);
                    problem.add_var(cost, (u.low / scale, u.high / scale))
                }
            });
        }
        for (row, scale) in program.rows.iter().zip(&self.rows) {
            let terms: Vec<(Variable, f64)> = row
                .terms
                .iter()
                .filter_map(|&(i, c)| Some((*unknowns.get(i)?, c * scale * self.unknowns.get(i)?)))
                .collect();
            let (low, high) = (row.low * scale, row.high * scale);
            if low == high {
                problem.add_constraint(terms, ComparisonOp::Eq, low);
                continue;
            }
            if low > f64::NEG_INFINITY {
                problem.add_constraint(terms.clone(), ComparisonOp::Ge, low);
            }
            if high < f64::INFINITY {
                problem.add_constraint(terms, ComparisonOp::Le, high);
            }
        }
        let mut options = SolveOptions::default();
        options.node_limit = Some(MOST_BRANCHES);
        if let Whole::Sought(Some(values)) = whole {
            let scaled = values.iter().zip(&self.unknowns).map(|(x, s)| x / s);
            options.warm_start = Some(unknowns.iter().copied().zip(scaled).collect());
        }
        options.tolerances.feasibility = SEARCHED_TO;
        let not_solved = |reason: String| ProgramError::NotSolved { reason };
        let outcome = problem.solve_with(options).map_err(|e| match e {
            microlp::Error::Infeasible => ProgramError::Infeasible,
            microlp::Error::Unbounded => ProgramError::Unbounded,
            other => not_solved(other.to_string()),
        })?;
        let Ok(solution) = outcome.into_solution() else {
            return Err(not_solved("too many branches".into()));
        };
        if solution.status() != microlp::SolutionStatus::Optimal {
            return Err(not_solved("too many branches".into()));
        }
        let value = |(v, s): (&Variable, &f64)| solution.var_value(*v) * s;
        Ok(unknowns.iter().zip(&self.unknowns).map(value).collect())
    }
}
