//! Seeded draws of a whole calculation (JCGM 101:2008).

use super::inputs::{Inputs, Values};
use super::{Sample, UncertaintyError, stream};
use crate::quantity::{OutOfRange, within};

/// Draws worked on at a time.
const BLOCK: usize = 1024;
/// Draws in a block of the adaptive procedure (JCGM 101:2008, 7.9.4), enough
/// for the ends of 95 and of 99 %.
const ADAPTIVE_BLOCK: u32 = 10_000;
/// Most draws kept: each takes 24 bytes a result while it is worked on.
const MOST_DRAWS: f64 = 2e7;

/// How often to draw, and from which seed.
///
/// Draw `i` of an input depends on the seed, the name of the input and `i`,
/// and on nothing else: not on threads, on the order of the inputs or on how
/// many draws are asked for.
///
/// ```
/// use ferrogall::uncertainty::MonteCarlo;
/// let quick = MonteCarlo::fixed(7, 10_000)?;
/// // As many as it takes for two sure digits of u, at most a million.
/// let careful = MonteCarlo::adaptive(7, 2, 1_000_000)?;
/// # let _ = (quick, careful);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonteCarlo {
    seed: u64,
    draws: u32,
    /// Significant digits of the uncertainty to settle, if it is adaptive.
    digits: Option<i32>,
}

impl MonteCarlo {
    /// A fixed number of draws, 100 to 2e7.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn fixed(seed: u64, draws: u32) -> Result<MonteCarlo, OutOfRange> {
        within("draws", f64::from(draws), 100.0, MOST_DRAWS, "")?;
        Ok(MonteCarlo {
            seed,
            draws,
            digits: None,
        })
    }

    /// Blocks of ten thousand until mean, uncertainty and both ends of the
    /// 95 % interval are sure to so many significant digits of the uncertainty
    /// (1 or 2), at most `draws` (20 000 to 2e7) in all.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn adaptive(seed: u64, digits: u8, draws: u32) -> Result<MonteCarlo, OutOfRange> {
        within("digits", f64::from(digits), 1.0, 2.0, "")?;
        within("most draws", f64::from(draws), 20_000.0, MOST_DRAWS, "")?;
        Ok(MonteCarlo {
            seed,
            draws,
            digits: Some(i32::from(digits)),
        })
    }

    /// The seed.
    pub const fn seed(&self) -> u64 {
        self.seed
    }

    /// Draws, or the most of them.
    pub const fn draws(&self) -> u32 {
        self.draws
    }
}

impl Inputs {
    /// Draws every input and follows the model: a sample for each of its
    /// results. A result that is no number fails in that draw.
    ///
    /// # Errors
    /// [`UncertaintyError::AllDrawsFailed`] when a result never is a number.
    pub fn monte_carlo<const N: usize>(
        &self,
        plan: &MonteCarlo,
        model: impl Fn(Values) -> [f64; N] + Sync,
    ) -> Result<[Sample; N], UncertaintyError> {
        self.follow(plan, |from, to| self.in_turn(plan.seed, from, to, &model))
    }

    /// [`monte_carlo`](Self::monte_carlo) on all cores; the same bits.
    ///
    /// # Errors
    /// As there.
    #[cfg(feature = "rayon")]
    pub fn monte_carlo_parallel<const N: usize>(
        &self,
        plan: &MonteCarlo,
        model: impl Fn(Values) -> [f64; N] + Sync,
    ) -> Result<[Sample; N], UncertaintyError> {
        self.follow(plan, |from, to| self.at_once(plan.seed, from, to, &model))
    }

    fn follow<const N: usize>(
        &self,
        plan: &MonteCarlo,
        rows: impl Fn(u32, u32) -> Vec<[f64; N]>,
    ) -> Result<[Sample; N], UncertaintyError> {
        let (rows, settled) = match plan.digits {
            None => (rows(0, plan.draws), true),
            Some(digits) => adaptive(plan, digits, rows),
        };
        for column in 0..N {
            if rows.iter().all(|row| !row[column].is_finite()) {
                return Err(UncertaintyError::AllDrawsFailed { draws: rows.len() });
            }
        }
        Ok(core::array::from_fn(|column| {
            Sample::new(rows.iter().map(|row| row[column]).collect(), settled)
        }))
    }

    fn in_turn<const N: usize>(
        &self,
        seed: u64,
        from: u32,
        to: u32,
        model: &impl Fn(Values) -> [f64; N],
    ) -> Vec<[f64; N]> {
        let mut out = vec![[f64::NAN; N]; (to - from) as usize];
        let mut room = Room::of(self);
        for (i, rows) in out.chunks_mut(BLOCK).enumerate() {
            room.follow(self, seed, first_of(from, i), model, rows);
        }
        out
    }

    #[cfg(feature = "rayon")]
    fn at_once<const N: usize>(
        &self,
        seed: u64,
        from: u32,
        to: u32,
        model: &(impl Fn(Values) -> [f64; N] + Sync),
    ) -> Vec<[f64; N]> {
        use rayon::prelude::*;
        let mut out = vec![[f64::NAN; N]; (to - from) as usize];
        out.par_chunks_mut(BLOCK).enumerate().for_each_init(
            || Room::of(self),
            |room, (i, rows)| room.follow(self, seed, first_of(from, i), model, rows),
        );
        out
    }
}

fn first_of(from: u32, block: usize) -> u64 {
    u64::from(from) + (block * BLOCK) as u64
}

/// Where a block of draws is made: a column for each source that varies.
struct Room {
    /// Column of each source; none for what is exact.
    column: Vec<Option<usize>>,
    drawn: Vec<f64>,
    centres: Vec<f64>,
    values: Vec<f64>,
}

impl Room {
    fn of(inputs: &Inputs) -> Room {
        let mut columns = 0;
        let column = inputs.sources.iter().map(|source| {
            (!source.distribution.is_exact()).then(|| {
                columns += 1;
                columns - 1
            })
        });
        let column: Vec<_> = column.collect();
        Room {
            column,
            drawn: vec![0.0; columns * BLOCK],
            centres: inputs.centres(),
            values: vec![0.0; inputs.len()],
        }
    }

    fn follow<const N: usize>(
        &mut self,
        inputs: &Inputs,
        seed: u64,
        first: u64,
        model: &impl Fn(Values) -> [f64; N],
        rows: &mut [[f64; N]],
    ) {
        for (source, column) in inputs.sources.iter().zip(&self.column) {
            let Some(column) = column else { continue };
            let slots = &mut self.drawn[column * BLOCK..][..rows.len()];
            stream::uniforms(seed, source.stream, first, slots);
            for slot in slots {
                *slot = source.distribution.quantile(*slot);
            }
        }
        for (i, row) in rows.iter_mut().enumerate() {
            let source = |k: usize| match self.column[k] {
                Some(column) => self.drawn[column * BLOCK + i],
                None => self.centres[k],
            };
            inputs.make(source, &mut self.values);
            *row = model(Values(&self.values));
        }
    }
}

/// JCGM 101:2008, 7.9: blocks until the averages over blocks are sure.
fn adaptive<const N: usize>(
    plan: &MonteCarlo,
    digits: i32,
    rows: impl Fn(u32, u32) -> Vec<[f64; N]>,
) -> (Vec<[f64; N]>, bool) {
    let mut all: Vec<[f64; N]> = Vec::new();
    let mut blocks: Vec<[[f64; 4]; N]> = Vec::new();
    let mut drawn = 0;
    while drawn + ADAPTIVE_BLOCK <= plan.draws {
        let block = rows(drawn, drawn + ADAPTIVE_BLOCK);
        drawn += ADAPTIVE_BLOCK;
        blocks.push(core::array::from_fn(|column| {
            let sample = Sample::new(block.iter().map(|row| row[column]).collect(), true);
            let (low, high) = sample.interval(0.95).unwrap_or((f64::NAN, f64::NAN));
            [sample.mean(), sample.standard_uncertainty(), low, high]
        }));
        all.extend(block);
        if blocks.len() >= 2 && (0..N).all(|column| is_sure(&blocks, column, digits)) {
            return (all, true);
        }
    }
    (all, false)
}

/// Whether twice the standard deviation of each average is below half a unit
/// of the last wanted digit of the uncertainty.
fn is_sure<const N: usize>(blocks: &[[[f64; 4]; N]], column: usize, digits: i32) -> bool {
    let h = blocks.len() as f64;
    let mean = |what: usize| blocks.iter().map(|b| b[column][what]).sum::<f64>() / h;
    let u = mean(1);
    if u == 0.0 {
        return true;
    }
    let last_digit = libm::floor(libm::log10(u)) as i32 - (digits - 1);
    let tolerance = 0.5 * libm::exp10(f64::from(last_digit));
    (0..4).all(|what| {
        let centre = mean(what);
        let squares: f64 = blocks
            .iter()
            .map(|b| (b[column][what] - centre) * (b[column][what] - centre))
            .sum();
        2.0 * libm::sqrt(squares / (h * (h - 1.0))) < tolerance
    })
}
