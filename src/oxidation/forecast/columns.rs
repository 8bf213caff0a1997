//! Many bottles at once.

use super::draw::Draw;
use super::estimate::{Forecaster, spread_of};
use super::ink::StoredInk;
use crate::oxidation::OxidationError;
use crate::oxidation::bottle::BottleBuilder;
use crate::quantity::{celsius, days, milliliters, moles_per_liter, within};
use crate::recipe::RowStatus;

/// What differs from row to row; all else is as in the plan.
///
/// ```
/// use ferrogall::oxidation::Varied;
/// assert_eq!(Varied::ALL.len(), 10);
/// assert_eq!(Varied::Ph as u32, 3);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u32)]
#[non_exhaustive]
pub enum Varied {
    /// Iron(II) at filling, mol/L.
    IronII = 0,
    /// Iron(III) at filling, mol/L.
    IronIII = 1,
    /// Galloyl units, mol/L.
    Galloyl = 2,
    /// pH.
    Ph = 3,
    /// Brimful capacity, mL.
    Capacity = 4,
    /// Ink at filling, mL.
    Fill = 5,
    /// Temperature of ink and air, °C.
    Temperature = 6,
    /// Time between openings, days.
    OpenedEvery = 7,
    /// Ink drawn at each opening, mL.
    Drawn = 8,
    /// How long it is kept, days.
    Kept = 9,
}

impl Varied {
    /// All of them, in order.
    pub const ALL: [Varied; 10] = [
        Varied::IronII,
        Varied::IronIII,
        Varied::Galloyl,
        Varied::Ph,
        Varied::Capacity,
        Varied::Fill,
        Varied::Temperature,
        Varied::OpenedEvery,
        Varied::Drawn,
        Varied::Kept,
    ];
}

/// The figures of one bottle, units in the names. Shares are those of iron(II)
/// at filling.
///
/// ```
/// assert!(ferrogall::oxidation::ForecastRow::NAN.bound_share.is_nan());
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[repr(C)]
pub struct ForecastRow {
    /// Upper bound of the share lost.
    pub bound_share: f64,
    /// Share lost, every unknown at its typical value.
    pub lost_share: f64,
    /// Low end of 95 % of the draws; NaN without draws.
    pub lost_low_share: f64,
    /// High end of 95 % of the draws; NaN without draws.
    pub lost_high_share: f64,
    /// Share lost to the inorganic reaction alone.
    pub floor_share: f64,
    /// When the stated share is lost, typically; NaN: not while it is kept and
    /// there is ink.
    pub days_to_share: f64,
    /// Iron still in solution, typically, as a share of that at filling.
    pub iron_left_share: f64,
    /// Iron settled, typically.
    pub sediment_mol_per_l: f64,
    /// Share of the electrons left that tannin could give, typically.
    pub tannin_left_share: f64,
}

impl ForecastRow {
    /// What a row that cannot be worked out holds.
    pub const NAN: ForecastRow = ForecastRow {
        bound_share: f64::NAN,
        lost_share: f64::NAN,
        lost_low_share: f64::NAN,
        lost_high_share: f64::NAN,
        floor_share: f64::NAN,
        days_to_share: f64::NAN,
        iron_left_share: f64::NAN,
        sediment_mol_per_l: f64::NAN,
        tannin_left_share: f64::NAN,
    };
}

/// An ink and a bottle from which rows differ in a few figures.
///
/// ```
/// use ferrogall::oxidation::{ForecastColumns, ForecastRow, StoredInk, Varied};
/// use ferrogall::quantity::{milliliters, moles_per_liter};
/// use ferrogall::recipe::RowStatus;
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let plan = ForecastColumns::new(&ink, ink.bottle(milliliters(40.0), milliliters(30.0)), 0)?;
/// let fill_ml = [20.0, 30.0, 39.0, 50.0];
/// let mut rows = [ForecastRow::NAN; 4];
/// let mut status = [RowStatus::Ok; 4];
/// plan.rows(&[Varied::Fill], &[&fill_ml], &mut rows, &mut status);
/// assert!(rows[0].lost_share > rows[1].lost_share && rows[1].lost_share > rows[2].lost_share);
/// assert_eq!(status[3], RowStatus::OutOfRange); // more than the bottle holds
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone)]
pub struct ForecastColumns {
    ink: StoredInk,
    bottle: BottleBuilder,
    draws: u32,
    /// The plan itself.
    forecaster: Forecaster,
}

/// What one row after the other is worked out in.
#[derive(Debug, Clone)]
pub(crate) struct Scratch {
    forecaster: Forecaster,
    losses: Vec<f64>,
}

impl ForecastColumns {
    /// A plan with so many draws (0 to a million) for the interval of each row.
    ///
    /// # Errors
    /// As [`BottleBuilder::build`] and [`Forecaster::new`]: the plan itself
    /// must be a bottle; another number of draws.
    pub fn new(ink: &StoredInk, bottle: BottleBuilder, draws: u32) -> Result<Self, OxidationError> {
        within("number of draws", f64::from(draws), 0.0, 1e6, "")?;
        Ok(ForecastColumns {
            ink: *ink,
            bottle,
            draws,
            forecaster: Forecaster::new(ink, &bottle.build()?)?,
        })
    }

    /// Many bottles: `columns[i]` holds the values of `varied[i]`. Works on as
    /// many rows as the shortest column has, and returns how many that was; a
    /// bad row does not stop the others. Nothing is allocated but room for the
    /// openings of the row that has the most.
    pub fn rows(
        &self,
        varied: &[Varied],
        columns: &[&[f64]],
        rows: &mut [ForecastRow],
        status: &mut [RowStatus],
    ) -> usize {
        let n = shortest(varied, columns).min(rows.len()).min(status.len());
        let mut scratch = self.scratch();
        for (i, (row, status)) in rows.iter_mut().zip(status).enumerate().take(n) {
            (*row, *status) = self.row(&mut scratch, varied, |column| columns[column][i]);
        }
        n
    }

    /// [`ForecastColumns::rows`] on all cores; the same bits.
    #[cfg(feature = "rayon")]
    pub fn rows_parallel(
        &self,
        varied: &[Varied],
        columns: &[&[f64]],
        rows: &mut [ForecastRow],
        status: &mut [RowStatus],
    ) -> usize {
        use rayon::prelude::*;
        let n = shortest(varied, columns).min(rows.len()).min(status.len());
        rows[..n]
            .par_iter_mut()
            .zip(status[..n].par_iter_mut())
            .enumerate()
            .for_each_init(
                || self.scratch(),
                |scratch, (i, (row, status))| {
                    (*row, *status) = self.row(scratch, varied, |column| columns[column][i]);
                },
            );
        n
    }

    pub(crate) fn scratch(&self) -> Scratch {
        Scratch {
            forecaster: self.forecaster.clone(),
            losses: Vec::with_capacity(self.draws as usize),
        }
    }

    /// One bottle.
    pub(crate) fn row(
        &self,
        scratch: &mut Scratch,
        varied: &[Varied],
        value: impl Fn(usize) -> f64,
    ) -> (ForecastRow, RowStatus) {
        if (0..varied.len()).any(|i| value(i).is_nan()) {
            return (ForecastRow::NAN, RowStatus::InputNan);
        }
        match self.figures(scratch, varied, value) {
            Ok(row) => (row, RowStatus::Ok),
            Err(OxidationError::Unsolved { .. }) => (ForecastRow::NAN, RowStatus::NotSolved),
            Err(_) => (ForecastRow::NAN, RowStatus::OutOfRange),
        }
    }

    fn figures(
        &self,
        scratch: &mut Scratch,
        varied: &[Varied],
        value: impl Fn(usize) -> f64,
    ) -> Result<ForecastRow, OxidationError> {
        let (mut ink, mut bottle) = (self.ink, self.bottle);
        for (i, what) in varied.iter().enumerate() {
            let x = value(i);
            match what {
                Varied::IronII => ink = ink.with_iron_ii(moles_per_liter(x))?,
                Varied::IronIII => ink = ink.with_iron_iii(moles_per_liter(x))?,
                Varied::Galloyl => ink = ink.with_galloyl(moles_per_liter(x))?,
                Varied::Ph => ink = ink.at_ph(x)?,
                Varied::Capacity => bottle = bottle.of_capacity(milliliters(x)),
                Varied::Fill => bottle = bottle.filled_with(milliliters(x)),
                Varied::Temperature => bottle = bottle.at_temperature(celsius(x))?,
                Varied::OpenedEvery => bottle = bottle.opened_every(days(x)),
                Varied::Drawn => bottle = bottle.drawn_per_opening(milliliters(x)),
                Varied::Kept => bottle = bottle.kept_for(days(x)),
            }
        }
        let Scratch { forecaster, losses } = scratch;
        forecaster.refill(&ink, &bottle.build()?)?;
        let typical = forecaster.typical()?;
        losses.clear();
        for n in 0..self.draws {
            losses.push(forecaster.end_of(Draw::Nth(n))?.lost.value());
        }
        let lost = spread_of(losses);
        Ok(ForecastRow {
            bound_share: forecaster.bottle().bound().share_after_duration.value(),
            lost_share: typical.lost.value(),
            lost_low_share: lost.low,
            lost_high_share: lost.high,
            floor_share: forecaster.floor()?.lost.value(),
            days_to_share: typical
                .time_to_share
                .map_or(f64::NAN, |t| t.value / 86_400.0),
            iron_left_share: typical.iron_left.value(),
            sediment_mol_per_l: typical.sediment.value / 1000.0,
            tannin_left_share: typical.tannin_left.value(),
        })
    }
}

fn shortest(varied: &[Varied], columns: &[&[f64]]) -> usize {
    if columns.len() < varied.len() {
        return 0;
    }
    let lengths = columns[..varied.len()].iter().map(|c| c.len());
    lengths.min().unwrap_or(usize::MAX)
}
