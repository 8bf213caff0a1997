//! The inputs of a calculation, each with its name.

use super::{Distribution, UncertaintyError, stream};
use crate::quantity::within;

/// One input of an [`Inputs`]: the key to its value in a model.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs};
/// let mut inputs = Inputs::new();
/// let mass = inputs.add("mass", Distribution::weighed(1.53, 0.01)?)?;
/// assert_eq!(inputs.estimates()[mass], 1.53);
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Input(usize);

/// One value for every input: what a model is given.
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs, Values};
/// let mut inputs = Inputs::new();
/// let mass = inputs.add("mass", Distribution::exact(2.0)?)?;
/// let volume = inputs.add("volume", Distribution::exact(4.0)?)?;
/// let density = |x: Values| x[mass] / x[volume];
/// assert_eq!(density(inputs.estimates().values()), 0.5);
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Values<'a>(pub(super) &'a [f64]);

/// The estimates of all inputs.
///
/// ```
/// assert_eq!(ferrogall::uncertainty::Inputs::new().estimates().len(), 0);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Estimates(Vec<f64>);

static FOREIGN: f64 = f64::NAN;

impl core::ops::Index<Input> for Values<'_> {
    type Output = f64;

    /// NaN for an input of another [`Inputs`] that this one has not.
    fn index(&self, input: Input) -> &f64 {
        self.0.get(input.0).unwrap_or(&FOREIGN)
    }
}

impl core::ops::Index<Input> for Estimates {
    type Output = f64;

    /// NaN for an input of another [`Inputs`] that this one has not.
    fn index(&self, input: Input) -> &f64 {
        self.0.get(input.0).unwrap_or(&FOREIGN)
    }
}

impl Estimates {
    /// As a model takes them.
    pub fn values(&self) -> Values<'_> {
        Values(&self.0)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// Something that varies by itself, under its name.
#[derive(Debug, Clone)]
pub(super) struct Source {
    pub(super) name: String,
    pub(super) stream: u64,
    pub(super) distribution: Distribution,
    /// Of readings taken together: the group, and its degrees of freedom.
    pub(super) group: Option<Group>,
}

/// Readings taken together share one estimate of their scatter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Group {
    pub(super) number: usize,
    pub(super) dof: f64,
}

/// How an input follows from the sources.
#[derive(Debug, Clone)]
enum Made {
    Of(usize),
    Mixed {
        centre: f64,
        parts: Vec<(usize, f64)>,
    },
}

/// The inputs of a calculation, each known by its name.
///
/// What two figures share (one balance, one bag of galls) is one input that
/// the model uses twice; that is how correlation enters. Only readings that
/// were taken together bring a covariance of their own
/// ([`read_together`](Self::read_together)).
///
/// ```
/// use ferrogall::uncertainty::{Distribution, Inputs};
/// // Iron in 1.53 g of green vitriol of 98 % purity, weighed to 0.01 g.
/// let mut inputs = Inputs::new();
/// let mass = inputs.add("weighing", Distribution::weighed(1.53, 0.01)?)?;
/// let purity = inputs.add("purity", Distribution::normal(0.98, 0.012)?)?;
/// let budget = inputs.first_order(|x| x[mass] * x[purity] / 278.006 * 1000.0)?;
/// assert!((budget.value() - 5.393).abs() < 0.001); // mmol
/// assert!(budget.lines()[1].share > 0.9); // a finer balance buys nothing
/// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
/// ```
#[derive(Debug, Clone, Default)]
pub struct Inputs {
    pub(super) sources: Vec<Source>,
    made: Vec<Made>,
    groups: usize,
}

/// Most inputs of one calculation.
const MOST: usize = 4096;
/// Most quantities read together.
const MOST_TOGETHER: usize = 32;

impl Inputs {
    /// None yet.
    pub fn new() -> Inputs {
        Inputs::default()
    }

    /// Adds an input. Its draws depend on its name alone, not on the order or
    /// on what else there is.
    ///
    /// # Errors
    /// [`UncertaintyError::NameTaken`]; [`UncertaintyError::OutOfRange`]
    /// beyond 4096 inputs.
    pub fn add(
        &mut self,
        name: impl Into<String>,
        distribution: Distribution,
    ) -> Result<Input, UncertaintyError> {
        let source = self.source(name.into(), distribution, None)?;
        self.input(Made::Of(source))
    }

    /// Adds several inputs that were read together, row by row (2 to 1e6 rows,
    /// as many readings in each as there are names, up to 32): their means,
    /// with the covariance of the means (JCGM 100:2008, 5.2.3). Draws are
    /// normal: with few rows they are narrower than they ought to be, while
    /// [`Budget::expanded`](super::Budget::expanded) takes Student's factor.
    ///
    /// # Errors
    /// [`UncertaintyError::NameTaken`]; [`UncertaintyError::OutOfRange`] for
    /// too few rows or a row of another length.
    ///
    /// ```
    /// use ferrogall::uncertainty::Inputs;
    /// let mut inputs = Inputs::new();
    /// let rows: [&[f64]; 3] = [&[1.0, 2.0], &[1.1, 2.2], &[0.9, 1.8]];
    /// let [a, b] = inputs.read_together(["a", "b"], &rows)?;
    /// // They rise and fall together: the quotient is sure.
    /// assert!(inputs.first_order(|x| x[b] / x[a])?.standard_uncertainty() < 1e-9);
    /// # Ok::<(), ferrogall::uncertainty::UncertaintyError>(())
    /// ```
    pub fn read_together<const N: usize>(
        &mut self,
        names: [&str; N],
        rows: &[&[f64]],
    ) -> Result<[Input; N], UncertaintyError> {
        within("quantities", N as f64, 1.0, MOST_TOGETHER as f64, "")?;
        let n = within("number of rows", rows.len() as f64, 2.0, 1e6, "")?;
        for row in rows {
            within(
                "readings in a row",
                row.len() as f64,
                N as f64,
                N as f64,
                "",
            )?;
            for &reading in row.iter() {
                within("reading", reading, -1e30, 1e30, "")?;
            }
        }
        let mut means = vec![0.0; N];
        for row in rows {
            for (mean, reading) in means.iter_mut().zip(row.iter()) {
                *mean += reading / n;
            }
        }
        let mut covariance = vec![vec![0.0; N]; N];
        for row in rows {
            for (i, line) in covariance.iter_mut().enumerate() {
                for (j, c) in line.iter_mut().enumerate() {
                    *c += (row[i] - means[i]) * (row[j] - means[j]) / (n * (n - 1.0));
                }
            }
        }
        let root = lower_root(&covariance);
        self.groups += 1;
        let group = Group {
            number: self.groups,
            dof: n - 1.0,
        };
        let mut sources = Vec::with_capacity(N);
        for name in names {
            let standard = Distribution::normal(0.0, 1.0)?;
            sources.push(self.source(name.to_string(), standard, Some(group))?);
        }
        let mut out = [Input(0); N];
        for (i, slot) in out.iter_mut().enumerate() {
            let parts = (0..=i).map(|k| (sources[k], root[i][k])).collect();
            *slot = self.input(Made::Mixed {
                centre: means[i],
                parts,
            })?;
        }
        Ok(out)
    }

    /// The estimate of every input.
    pub fn estimates(&self) -> Estimates {
        let sources: Vec<f64> = self.centres();
        let mut values = vec![0.0; self.made.len()];
        self.make(|k| sources[k], &mut values);
        Estimates(values)
    }

    /// Every source with what is known of it.
    pub fn known(&self) -> impl Iterator<Item = (&str, Distribution)> {
        let sources = self.sources.iter();
        sources.map(|s| (s.name.as_str(), s.distribution))
    }

    /// What is known of a source from now on.
    ///
    /// # Errors
    /// [`UncertaintyError::NoSuchSource`].
    pub fn replace(
        &mut self,
        name: &str,
        distribution: Distribution,
    ) -> Result<(), UncertaintyError> {
        let source = self.sources.iter_mut().find(|s| s.name == name);
        let source = source.ok_or_else(|| UncertaintyError::NoSuchSource {
            name: name.to_string(),
        })?;
        source.distribution = distribution;
        Ok(())
    }

    /// The names, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.sources.iter().map(|s| s.name.as_str())
    }

    /// Whether an input has nothing to draw.
    pub(super) fn is_exact(&self, input: Input) -> bool {
        let exact = |k: usize| self.sources[k].distribution.is_exact();
        match self.made.get(input.0) {
            Some(Made::Of(k)) => exact(*k),
            Some(Made::Mixed { parts, .. }) => parts.iter().all(|p| exact(p.0)),
            None => false,
        }
    }

    /// The estimate of every source.
    pub(super) fn centres(&self) -> Vec<f64> {
        let own = self.sources.iter().map(|s| s.distribution.estimate());
        own.collect()
    }

    /// How many inputs there are.
    pub(super) fn len(&self) -> usize {
        self.made.len()
    }

    /// The inputs that follow from one value of every source.
    pub(super) fn make(&self, source: impl Fn(usize) -> f64, values: &mut [f64]) {
        for (value, made) in values.iter_mut().zip(&self.made) {
            *value = match made {
                Made::Of(k) => source(*k),
                Made::Mixed { centre, parts } => {
                    centre + parts.iter().map(|&(k, w)| w * source(k)).sum::<f64>()
                }
            };
        }
    }

    fn source(
        &mut self,
        name: String,
        distribution: Distribution,
        group: Option<Group>,
    ) -> Result<usize, UncertaintyError> {
        if self.sources.iter().any(|s| s.name == name) {
            return Err(UncertaintyError::NameTaken { name });
        }
        let count = self.sources.len() + 1;
        within("number of inputs", count as f64, 1.0, MOST as f64, "")?;
        self.sources.push(Source {
            stream: stream::stream_of(&name),
            name,
            distribution,
            group,
        });
        Ok(count - 1)
    }

    fn input(&mut self, made: Made) -> Result<Input, UncertaintyError> {
        self.made.push(made);
        Ok(Input(self.made.len() - 1))
    }
}

/// The lower triangle whose product with its transpose is the covariance;
/// what is left of rounding counts as nothing.
fn lower_root(covariance: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = covariance.len();
    let mut root = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let known: f64 = (0..j).map(|k| root[i][k] * root[j][k]).sum();
            let rest = covariance[i][j] - known;
            root[i][j] = if i == j {
                let scale = covariance[i][i];
                if rest > 1e-14 * scale {
                    libm::sqrt(rest)
                } else {
                    0.0
                }
            } else if root[j][j] > 0.0 {
                rest / root[j][j]
            } else {
                0.0
            };
        }
    }
    root
}
