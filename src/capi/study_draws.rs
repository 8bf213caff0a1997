//! The draws themselves, into columns of the caller's.

use super::columns::Strided;
use super::error::{Blame, FgallError, Outcome};
use super::guard::{guard, handle, read_array};
use super::status::FgallStatus;
use super::study::FgallStudy;
use super::study_answers::{finite, measurand_of};
use crate::quantity::within;
use crate::uncertainty::{Measurand, MonteCarlo, Sample, Study, UncertaintyError};

/// Figures of one call, at most: as many as there are.
const MOST_MEASURANDS: usize = 11;
const _: () = assert!(Measurand::ALL.len() == MOST_MEASURANDS, "see `drawn`");
/// Measurands and draws together: 160 MB of numbers, kept three times.
const MOST_NUMBERS: f64 = 2e7;

/// A column of numbers to be written: the first, and the way from one to the
/// next in bytes (8 for a plain array of double, more to write into rows,
/// negative to walk backwards). The numbers need not be aligned.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallOutColumn {
    /// The first number.
    pub data: *mut f64,
    /// Bytes from one number to the next, 8 or more either way.
    pub stride_bytes: isize,
}

/// Draws of several figures of the same inks, on as many cores as there are.
fn together<const N: usize>(
    study: &Study,
    plan: &MonteCarlo,
    measurands: &[Measurand],
) -> Result<Vec<Sample>, UncertaintyError> {
    let chosen: [Measurand; N] =
        core::array::from_fn(|i| measurands.get(i).copied().unwrap_or(Measurand::Volume));
    #[cfg(feature = "rayon")]
    let drawn = study.inks_parallel(plan, |ink| chosen.map(|m| m.of(ink)))?;
    #[cfg(not(feature = "rayon"))]
    let drawn = study.monte_carlo(plan, chosen)?;
    Ok(drawn.into())
}

fn drawn(
    study: &Study,
    plan: &MonteCarlo,
    measurands: &[Measurand],
) -> Result<Vec<Sample>, UncertaintyError> {
    match measurands.len() {
        0 => Ok(Vec::new()),
        1 => together::<1>(study, plan, measurands),
        2 => together::<2>(study, plan, measurands),
        3 => together::<3>(study, plan, measurands),
        4 => together::<4>(study, plan, measurands),
        5 => together::<5>(study, plan, measurands),
        6 => together::<6>(study, plan, measurands),
        7 => together::<7>(study, plan, measurands),
        8 => together::<8>(study, plan, measurands),
        9 => together::<9>(study, plan, measurands),
        10 => together::<10>(study, plan, measurands),
        _ => together::<MOST_MEASURANDS>(study, plan, measurands),
    }
}

/// Draws of several figures of the same inks, in the order of the draws: the
/// column at the place of each measurand (FGALL_MEASURAND_…, in the unit it
/// names) takes its draws, and must not overlap another. NaN where an ink has no such figure;
/// FGALL_ALL_DRAWS_FAILED, and nothing is written, where none has. draws: 100 to
/// 2e7, measurand_count (at most 11) times draws at most 2e7. Draw i depends on
/// the seed, the names of the sources and i alone. A library built with the
/// feature "rayon" shares the draws out among threads; the bits are the same.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_draws(
    study: *const FgallStudy,
    measurands: *const u32,
    measurand_count: usize,
    seed: u64,
    draws: u32,
    columns: *const FgallOutColumn,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; there are
    // measurand_count measurands and columns, with room for the draws in each.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let count = measurand_count;
            let codes = read_array(measurands, count, MOST_MEASURANDS, "measurands");
            let columns_given = read_array(columns, count, MOST_MEASURANDS, "columns");
            let codes = codes.arg("measurand_count", count as f64)?;
            let columns_given = columns_given.arg("measurand_count", count as f64)?;
            let plan = MonteCarlo::fixed(seed, draws)?;
            let numbers = f64::from(draws) * count as f64;
            within(
                "measurand_count times draws",
                numbers,
                0.0,
                MOST_NUMBERS,
                "",
            )?;
            let chosen: Outcome<Vec<_>> = codes.into_iter().map(measurand_of).collect();
            let rows = draws as usize;
            let columns: Outcome<Vec<_>> = columns_given
                .iter()
                .map(|c| Strided::for_results(c.data, c.stride_bytes, rows, "columns"))
                .collect();
            let columns = columns?;
            let samples = drawn(&study.study, &plan, &chosen?)?;
            for (column, sample) in columns.into_iter().zip(&samples) {
                for (row, &figure) in sample.drawn().iter().enumerate().take(rows) {
                    column.write(row, finite(figure));
                }
            }
            Ok(())
        })
    }
}
