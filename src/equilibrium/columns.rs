//! Many solutions at once.

use super::{EquilibriumError, Master, Solver, Totals};
use crate::composition::Composition;
use crate::quantity::moles_per_kilogram;
use crate::recipe::{ColumnPlan, RecipeError, RowStatus};

/// The figures of one solution, units in the names.
///
/// ```
/// assert!(ferrogall::equilibrium::EquilibriumRow::NAN.ph.is_nan());
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[repr(C)]
pub struct EquilibriumRow {
    /// pH.
    pub ph: f64,
    /// Ionic strength.
    pub ionic_strength_mol_per_kg: f64,
    /// Activity of water.
    pub water_activity: f64,
    /// Bare iron(II).
    pub free_iron_ii_mol_per_kg: f64,
    /// Bare iron(III).
    pub free_iron_iii_mol_per_kg: f64,
    /// Iron(III) bound to gallic acid and to galloyl units of tannin.
    pub coloured_iron_mol_per_kg: f64,
}

impl EquilibriumRow {
    /// What a row that cannot be worked out holds.
    pub const NAN: EquilibriumRow = EquilibriumRow {
        ph: f64::NAN,
        ionic_strength_mol_per_kg: f64::NAN,
        water_activity: f64::NAN,
        free_iron_ii_mol_per_kg: f64::NAN,
        free_iron_iii_mol_per_kg: f64::NAN,
        coloured_iron_mol_per_kg: f64::NAN,
    };
}

impl Solver {
    /// One solution, given by the totals (mol/kg) of some components.
    pub fn row(
        &mut self,
        components: &[Master],
        mol_per_kg: impl Fn(usize) -> f64,
    ) -> (EquilibriumRow, RowStatus) {
        let mut totals = Totals::new();
        let mut status = RowStatus::Ok;
        for (i, &m) in components.iter().enumerate() {
            let total = mol_per_kg(i);
            match totals.with(m, moles_per_kilogram(total)) {
                Ok(more) => totals = more,
                Err(_) if total.is_nan() => status = RowStatus::InputNan,
                Err(_) if status == RowStatus::Ok => status = RowStatus::OutOfRange,
                Err(_) => {}
            }
        }
        match status {
            RowStatus::Ok => self.row_of(Ok(totals)),
            bad => (EquilibriumRow::NAN, bad),
        }
    }

    /// One ink.
    pub fn row_of_ink(&mut self, ink: &Composition) -> (EquilibriumRow, RowStatus) {
        self.row_of(Totals::of_composition(ink))
    }

    fn row_of(&mut self, totals: Result<Totals, EquilibriumError>) -> (EquilibriumRow, RowStatus) {
        match totals.and_then(|t| self.figures(&t)) {
            Ok(row) => (row, RowStatus::Ok),
            Err(EquilibriumError::OutOfRange(_)) => (EquilibriumRow::NAN, RowStatus::OutOfRange),
            Err(EquilibriumError::NoWater) => (EquilibriumRow::NAN, RowStatus::Empty),
            Err(_) => (EquilibriumRow::NAN, RowStatus::NotSolved),
        }
    }

    fn figures(&mut self, totals: &Totals) -> Result<EquilibriumRow, EquilibriumError> {
        let solution = self.solve(totals)?;
        let mut row = EquilibriumRow {
            ph: solution.ph(),
            ionic_strength_mol_per_kg: solution.ionic_strength().value,
            water_activity: solution.water_activity(),
            free_iron_ii_mol_per_kg: 0.0,
            free_iron_iii_mol_per_kg: 0.0,
            coloured_iron_mol_per_kg: 0.0,
        };
        for (species, n) in solution.with_species() {
            let (two, three) = (
                species.count(Master::IronII),
                species.count(Master::IronIII),
            );
            let tannin = species.count(Master::Gallate) + species.count(Master::Galloyl);
            if three > 0.0 && tannin > 0.0 {
                row.coloured_iron_mol_per_kg += three * n;
            } else if species.makeup.is_formed() {
                continue;
            } else if two > 0.0 {
                row.free_iron_ii_mol_per_kg = n;
            } else if three > 0.0 {
                row.free_iron_iii_mol_per_kg = n;
            }
        }
        Ok(row)
    }

    /// Many solutions, one column of totals (mol/kg) per component. Works on
    /// as many rows as the shortest column has, and returns how many that was;
    /// a bad row does not stop the others. Every row is solved without a guess,
    /// so that rows do not depend on each other; nothing is allocated while
    /// the components that are present stay the same.
    ///
    /// ```
    /// use ferrogall::equilibrium::{ConstantSet, EquilibriumRow, Master, Solver};
    /// use ferrogall::quantity::celsius;
    /// use ferrogall::recipe::RowStatus;
    /// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
    /// let acid = [0.001, 0.01, f64::NAN];
    /// let mut rows = [EquilibriumRow::NAN; 3];
    /// let mut status = [RowStatus::Ok; 3];
    /// solver.rows(&[Master::Chloride], &[&acid], &mut rows, &mut status);
    /// assert!((rows[1].ph - 2.04).abs() < 0.01);
    /// assert_eq!(status[2], RowStatus::InputNan);
    /// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
    /// ```
    pub fn rows(
        &mut self,
        components: &[Master],
        mol_per_kg: &[&[f64]],
        rows: &mut [EquilibriumRow],
        status: &mut [RowStatus],
    ) -> usize {
        let n = shortest(components, mol_per_kg)
            .min(rows.len())
            .min(status.len());
        for (i, (row, status)) in rows.iter_mut().zip(status).enumerate().take(n) {
            (*row, *status) = self.row(components, |column| mol_per_kg[column][i]);
        }
        n
    }

    /// [`Solver::rows`] on all cores; the same bits.
    #[cfg(feature = "rayon")]
    pub fn rows_parallel(
        &self,
        components: &[Master],
        mol_per_kg: &[&[f64]],
        rows: &mut [EquilibriumRow],
        status: &mut [RowStatus],
    ) -> usize {
        use rayon::prelude::*;
        let n = shortest(components, mol_per_kg)
            .min(rows.len())
            .min(status.len());
        rows[..n]
            .par_iter_mut()
            .zip(status[..n].par_iter_mut())
            .enumerate()
            .with_min_len(ROWS_OF_A_THREAD)
            .for_each_init(
                || self.clone(),
                |solver, (i, (row, status))| {
                    (*row, *status) = solver.row(components, |column| mol_per_kg[column][i]);
                },
            );
        n
    }
}

/// Fewer rows are not worth a thread's own solver.
#[cfg(feature = "rayon")]
const ROWS_OF_A_THREAD: usize = 512;

fn shortest(components: &[Master], columns: &[&[f64]]) -> usize {
    if columns.len() < components.len() {
        return 0;
    }
    let lengths = columns[..components.len()].iter().map(|c| c.len());
    lengths.min().unwrap_or(usize::MAX)
}

impl ColumnPlan {
    /// pH and iron of many recipes: one column of grams per lot, one of
    /// millilitres to make up to, as [`ColumnPlan::evaluate`].
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::equilibrium::{ConstantSet, EquilibriumRow, Solver};
    /// use ferrogall::quantity::celsius;
    /// use ferrogall::recipe::{ColumnPlan, RowStatus};
    /// let lot = |id: &str| Lot::of(id).and_then(|l| l.build());
    /// let (vitriol, acid) = (lot("iron_ii_sulfate_heptahydrate")?, lot("hydrochloric_acid")?);
    /// let plan = ColumnPlan::new(&[&vitriol, &acid], &lot("distilled_water")?)?;
    /// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
    /// let mut rows = [EquilibriumRow::NAN; 2];
    /// let mut status = [RowStatus::Ok; 2];
    /// plan.equilibrium(&mut solver, &[&[15.0; 2], &[2.0, 4.0]], &[1000.0; 2], &mut rows, &mut status)?;
    /// assert!(rows[1].ph < rows[0].ph);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`RecipeError::TooFewColumns`] when a lot has no column.
    pub fn equilibrium(
        &self,
        solver: &mut Solver,
        mass_g: &[&[f64]],
        make_up_to_ml: &[f64],
        rows: &mut [EquilibriumRow],
        status: &mut [RowStatus],
    ) -> Result<usize, RecipeError> {
        let n = self.rows_in(mass_g, make_up_to_ml)?;
        let n = n.min(rows.len()).min(status.len());
        for (i, (row, status)) in rows.iter_mut().zip(status).enumerate().take(n) {
            (*row, *status) = self.equilibrium_row(solver, |lot| mass_g[lot][i], make_up_to_ml[i]);
        }
        Ok(n)
    }

    /// [`ColumnPlan::equilibrium`] on all cores; the same bits.
    ///
    /// # Errors
    /// As [`ColumnPlan::equilibrium`].
    #[cfg(feature = "rayon")]
    pub fn equilibrium_parallel(
        &self,
        solver: &Solver,
        mass_g: &[&[f64]],
        make_up_to_ml: &[f64],
        rows: &mut [EquilibriumRow],
        status: &mut [RowStatus],
    ) -> Result<usize, RecipeError> {
        use rayon::prelude::*;
        let n = self.rows_in(mass_g, make_up_to_ml)?;
        let n = n.min(rows.len()).min(status.len());
        rows[..n]
            .par_iter_mut()
            .zip(status[..n].par_iter_mut())
            .enumerate()
            .with_min_len(ROWS_OF_A_THREAD)
            .for_each_init(
                || solver.clone(),
                |solver, (i, (row, status))| {
                    (*row, *status) =
                        self.equilibrium_row(solver, |lot| mass_g[lot][i], make_up_to_ml[i]);
                },
            );
        Ok(n)
    }

    /// pH and iron of one recipe, as [`ColumnPlan::row`].
    pub fn equilibrium_row(
        &self,
        solver: &mut Solver,
        mass_g: impl Fn(usize) -> f64,
        make_up_to_ml: f64,
    ) -> (EquilibriumRow, RowStatus) {
        match self.composition(mass_g, make_up_to_ml) {
            Ok(ink) => solver.row_of_ink(&ink),
            Err(status) => (EquilibriumRow::NAN, status),
        }
    }
}
