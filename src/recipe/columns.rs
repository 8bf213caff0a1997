//! Many recipes of the same lots at once.
//!
//! A studio program that draws a slider, or a study of a hundred thousand
//! variations, always weighs the same lots. Every figure it wants is linear
//! in the masses, so the lots are boiled down once to a small matrix, and a
//! row costs a dozen short sums and no allocation.

use super::{RecipeError, must_go_in_whole, must_pour};
use crate::bench::Lot;
use crate::composition::{Bulk, Component, Composition, quotient};
use crate::quantity::{MAX_MASS_KG, MAX_VOLUME_M3, kilograms};

/// Most lots in one plan.
const MAX_LOTS: usize = 32;
/// Figures that are sums over the lots.
const FIGURES: usize = 13;

/// How a row went.
///
/// ```
/// assert_eq!(ferrogall::recipe::RowStatus::Ok as u32, 0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u32)]
#[non_exhaustive]
pub enum RowStatus {
    /// Worked out.
    Ok = 0,
    /// An input is NaN; every figure is NaN.
    InputNan = 1,
    /// An input is negative, infinite or too large; every figure is NaN.
    OutOfRange = 2,
    /// The ingredients exceed the volume to make up to; every figure is NaN.
    TooMuchForVolume = 3,
    /// Nothing in the row, or hardly any water to dissolve it; every figure is
    /// NaN.
    Empty = 4,
    /// No equilibrium was found; every figure is NaN.
    NotSolved = 5,
}

/// The figures of one row, units in the names.
///
/// A ratio that does not exist (no tannin) is NaN.
///
/// ```
/// let row = ferrogall::recipe::RowResult::NAN;
/// assert!(row.iron_ii_mol_per_l.is_nan());
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[repr(C)]
pub struct RowResult {
    /// Volume of the ink at 20 °C.
    pub volume_ml: f64,
    /// Mass of the ink.
    pub mass_g: f64,
    /// Water added to make up to volume.
    pub make_up_g: f64,
    /// Iron(II).
    pub iron_ii_mol_per_l: f64,
    /// Iron(III).
    pub iron_iii_mol_per_l: f64,
    /// Metallic iron.
    pub iron_g_per_l: f64,
    /// Galloyl units, free gallic acid included.
    pub galloyl_mol_per_l: f64,
    /// Free gallic acid.
    pub gallic_acid_mol_per_l: f64,
    /// Iron per galloyl unit.
    pub iron_per_galloyl: f64,
    /// Strong acid; negative: excess of base.
    pub strong_acid_mol_per_l: f64,
    /// Dry gum.
    pub gum_g_per_l: f64,
    /// Dye.
    pub dye_g_per_l: f64,
    /// Preservative, as the acid or phenol that acts.
    pub preservative_g_per_l: f64,
    /// Dry residue.
    pub dry_residue_g_per_l: f64,
    /// Cost of the priced lots; NaN when none has a price.
    pub cost: f64,
}

impl RowResult {
    /// What a row that cannot be worked out holds.
    pub const NAN: RowResult = RowResult {
        volume_ml: f64::NAN,
        mass_g: f64::NAN,
        make_up_g: f64::NAN,
        iron_ii_mol_per_l: f64::NAN,
        iron_iii_mol_per_l: f64::NAN,
        iron_g_per_l: f64::NAN,
        galloyl_mol_per_l: f64::NAN,
        gallic_acid_mol_per_l: f64::NAN,
        iron_per_galloyl: f64::NAN,
        strong_acid_mol_per_l: f64::NAN,
        gum_g_per_l: f64::NAN,
        dye_g_per_l: f64::NAN,
        preservative_g_per_l: f64::NAN,
        dry_residue_g_per_l: f64::NAN,
        cost: f64::NAN,
    };
}

/// Figures of a kilogram of one lot, in SI.
#[derive(Clone, Copy)]
struct PerKg([f64; FIGURES]);

impl PerKg {
    fn of(lot: &Lot) -> PerKg {
        let c: Composition = lot.contents(kilograms(1.0));
        PerKg([
            c.volume().value,
            c.iron_ii().value,
            c.iron_iii().value,
            c.iron_mass_concentration().value * c.volume().value,
            c.galloyl().value,
            c.amount(Component::GallicAcid).value,
            c.strong_acid().value,
            c.mass_of(Bulk::Gum).value,
            c.mass_of(Bulk::Dye).value,
            c.preservative().value,
            c.dry_residue().value,
            lot.price().map_or(0.0, |p| p.in_money_per_kilogram()),
            1.0,
        ])
    }
}

/// A set of lots boiled down for rows of masses.
///
/// Plant matter has no place here: put in its liquor as a prepared lot.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::recipe::{ColumnPlan, RowResult, RowStatus};
///
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.purity(1.0, 0.0)?.build()?;
/// let tannin = Lot::of("tannic_acid")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let plan = ColumnPlan::new(&[&vitriol, &tannin], &water)?;
///
/// let vitriol_g = [15.0, 30.0];
/// let tannin_g = [11.7, f64::NAN];
/// let mut rows = [RowResult::NAN; 2];
/// let mut status = [RowStatus::Ok; 2];
/// plan.evaluate(&[&vitriol_g, &tannin_g], &[1000.0, 1000.0], &mut rows, &mut status)?;
/// assert!((rows[0].iron_g_per_l - 3.013).abs() < 0.001);
/// assert_eq!(status[1], RowStatus::InputNan);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone)]
pub struct ColumnPlan {
    lots: [PerKg; MAX_LOTS],
    count: usize,
    water: PerKg,
    /// All of each lot, then of the water, per kg.
    contents: Vec<Composition>,
    /// Whether any lot has a price: without one a cost would be no figure.
    priced: bool,
}

impl ColumnPlan {
    /// A plan for these lots, made up with this water.
    ///
    /// # Errors
    /// [`RecipeError::TooManyColumns`] beyond 32 lots;
    /// [`RecipeError::NeedsExtraction`] for plant matter.
    pub fn new(lots: &[&Lot], water: &Lot) -> Result<ColumnPlan, RecipeError> {
        if lots.len() > MAX_LOTS {
            return Err(RecipeError::TooManyColumns {
                count: lots.len(),
                max: MAX_LOTS,
            });
        }
        for lot in lots.iter().chain([&water]) {
            must_go_in_whole(lot)?;
        }
        must_pour(water)?;
        let mut per_kg = [PerKg([0.0; FIGURES]); MAX_LOTS];
        for (slot, lot) in per_kg.iter_mut().zip(lots) {
            *slot = PerKg::of(lot);
        }
        Ok(ColumnPlan {
            lots: per_kg,
            count: lots.len(),
            water: PerKg::of(water),
            contents: lots
                .iter()
                .chain([&water])
                .map(|lot| lot.contents(kilograms(1.0)))
                .collect(),
            priced: lots.iter().chain([&water]).any(|l| l.price().is_some()),
        })
    }

    /// Number of lots a row has masses for.
    pub fn lots(&self) -> usize {
        self.count
    }

    /// One row: the mass of each lot in grams, given by its index, and the
    /// volume to make up to in millilitres (0: no making up).
    pub fn row(&self, mass_g: impl Fn(usize) -> f64, make_up_to_ml: f64) -> (RowResult, RowStatus) {
        let mut sum = [0.0; FIGURES];
        let mut nan = make_up_to_ml.is_nan();
        let mut ok = (0.0..=MAX_VOLUME_M3 * 1e6).contains(&make_up_to_ml);
        for (i, lot) in self.lots[..self.count].iter().enumerate() {
            let g = mass_g(i);
            nan |= g.is_nan();
            ok &= (0.0..=MAX_MASS_KG * 1e3).contains(&g);
            add(&mut sum, &lot.0, g * 1e-3);
        }
        if nan {
            return (RowResult::NAN, RowStatus::InputNan);
        }
        if !ok {
            return (RowResult::NAN, RowStatus::OutOfRange);
        }
        let mut make_up = 0.0;
        if make_up_to_ml > 0.0 {
            let want = make_up_to_ml * 1e-6;
            make_up = (want - sum[0]) / self.water.0[0];
            if make_up.is_nan() || make_up < -1e-12 * want {
                return (RowResult::NAN, RowStatus::TooMuchForVolume);
            }
            make_up = make_up.max(0.0);
            if make_up > MAX_MASS_KG {
                return (RowResult::NAN, RowStatus::OutOfRange);
            }
            add(&mut sum, &self.water.0, make_up);
            sum[0] = want;
        }
        if sum[0].is_nan() || sum[0] <= 0.0 {
            return (RowResult::NAN, RowStatus::Empty);
        }
        let mut row = figures(&sum, make_up);
        if !self.priced {
            row.cost = f64::NAN;
        }
        (row, RowStatus::Ok)
    }

    /// All that is in one row, or why it cannot be worked out.
    pub(crate) fn composition(
        &self,
        mass_g: impl Fn(usize) -> f64,
        make_up_to_ml: f64,
    ) -> Result<Composition, RowStatus> {
        let (row, status) = self.row(&mass_g, make_up_to_ml);
        if status != RowStatus::Ok {
            return Err(status);
        }
        let mut sum = Composition::EMPTY;
        for (i, lot) in self.contents.iter().enumerate() {
            let g = if i < self.count {
                mass_g(i)
            } else {
                row.make_up_g
            };
            sum.add_scaled(lot, g * 1e-3);
        }
        Ok(sum)
    }

    /// Many rows: one column of grams per lot, one of millilitres to make up
    /// to (0: no making up). Works on as many rows as the shortest of the
    /// columns has, and returns how many that was; a bad row does not stop the
    /// others. Nothing is allocated.
    ///
    /// # Errors
    /// [`RecipeError::TooFewColumns`] when a lot has no column.
    pub fn evaluate(
        &self,
        mass_g: &[&[f64]],
        make_up_to_ml: &[f64],
        rows: &mut [RowResult],
        status: &mut [RowStatus],
    ) -> Result<usize, RecipeError> {
        let n = self.rows_in(mass_g, make_up_to_ml)?;
        let n = n.min(rows.len()).min(status.len());
        let out = rows.iter_mut().zip(status.iter_mut());
        for (i, (row, status)) in out.enumerate().take(n) {
            (*row, *status) = self.row(|lot| mass_g[lot][i], make_up_to_ml[i]);
        }
        Ok(n)
    }

    /// [`ColumnPlan::evaluate`] on all cores; the same bits.
    ///
    /// # Errors
    /// As [`ColumnPlan::evaluate`].
    #[cfg(feature = "rayon")]
    pub fn evaluate_parallel(
        &self,
        mass_g: &[&[f64]],
        make_up_to_ml: &[f64],
        rows: &mut [RowResult],
        status: &mut [RowStatus],
    ) -> Result<usize, RecipeError> {
        use rayon::prelude::*;
        let n = self.rows_in(mass_g, make_up_to_ml)?;
        let n = n.min(rows.len()).min(status.len());
        rows.par_iter_mut()
            .zip(status.par_iter_mut())
            .enumerate()
            .take(n)
            .with_min_len(4096)
            .for_each(|(i, (row, status))| {
                (*row, *status) = self.row(|lot| mass_g[lot][i], make_up_to_ml[i]);
            });
        Ok(n)
    }

    pub(crate) fn rows_in(
        &self,
        mass_g: &[&[f64]],
        make_up_to_ml: &[f64],
    ) -> Result<usize, RecipeError> {
        let columns = mass_g.get(..self.count).ok_or(RecipeError::TooFewColumns {
            count: mass_g.len(),
            needed: self.count,
        })?;
        let shortest = columns.iter().map(|c| c.len()).min();
        Ok(shortest.unwrap_or(usize::MAX).min(make_up_to_ml.len()))
    }
}

impl core::fmt::Debug for ColumnPlan {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "ColumnPlan {{ lots: {} }}", self.count)
    }
}

fn add(sum: &mut [f64; FIGURES], per_kg: &[f64; FIGURES], kg: f64) {
    for (s, p) in sum.iter_mut().zip(per_kg) {
        *s += kg * p;
    }
}

fn figures(sum: &[f64; FIGURES], make_up_kg: f64) -> RowResult {
    let [
        volume,
        iron_ii,
        iron_iii,
        iron,
        galloyl,
        gallic,
        acid,
        gum,
        dye,
        preservative,
        residue,
        cost,
        mass,
    ] = *sum;
    // mol/m³ and kg/m³ to mol/L and g/L
    let mol_per_l = |n: f64| n / volume * 1e-3;
    let g_per_l = |m: f64| m / volume;
    RowResult {
        volume_ml: volume * 1e6,
        mass_g: mass * 1e3,
        make_up_g: make_up_kg * 1e3,
        iron_ii_mol_per_l: mol_per_l(iron_ii),
        iron_iii_mol_per_l: mol_per_l(iron_iii),
        iron_g_per_l: g_per_l(iron),
        galloyl_mol_per_l: mol_per_l(galloyl),
        gallic_acid_mol_per_l: mol_per_l(gallic),
        iron_per_galloyl: quotient(iron_ii + iron_iii, galloyl).unwrap_or(f64::NAN),
        strong_acid_mol_per_l: mol_per_l(acid),
        gum_g_per_l: g_per_l(gum),
        dye_g_per_l: g_per_l(dye),
        preservative_g_per_l: g_per_l(preservative),
        dry_residue_g_per_l: g_per_l(residue),
        cost,
    }
}
