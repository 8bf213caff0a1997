//! How pH answers to base and to every constant.

use super::solver::Speciation;
use core::f64::consts::LN_10;

/// Change of log10 K over which a slope is taken.
const STEP: f64 = 1e-3;

impl<'a> Speciation<'a> {
    /// Buffer capacity: mol of strong base, per kilogram of water, that raise
    /// the pH by one unit (as a derivative, at this ionic strength).
    ///
    /// ```
    /// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
    /// use ferrogall::quantity::{ReadMolality, celsius, moles_per_kilogram};
    /// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
    /// let acid = Totals::new().with(Master::Chloride, moles_per_kilogram(0.01))?;
    /// let capacity = solver.solve(&acid)?.buffer_capacity().in_moles_per_kilogram();
    /// assert!((capacity - 2.303 * 0.01).abs() < 1e-3); // ln 10 times the protons
    /// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
    /// ```
    pub fn buffer_capacity(&self) -> crate::quantity::Molality {
        // A small part of the protons and hydroxide there are, both ways.
        let gross = self.sum(|s| s.makeup.protons.abs()).value;
        let base = 1e-4 * gross.max(1e-9);
        let mut trial = self.solver.clone();
        let mut ph_with = |base: f64| {
            if trial.again_with_base(base) {
                Speciation { solver: &trial }.ph()
            } else {
                f64::NAN
            }
        };
        let rise = ph_with(base) - ph_with(-base);
        crate::quantity::moles_per_kilogram(2.0 * base / rise)
    }

    /// Change of pH when log10 K of a species' formation rises by 1, species
    /// by species (as a derivative).
    ///
    /// ```
    /// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
    /// use ferrogall::quantity::{celsius, moles_per_kilogram};
    /// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
    /// let vinegar = Totals::new().with(Master::Acetate, moles_per_kilogram(0.1))?;
    /// let slopes = solver.solve(&vinegar)?.ph_sensitivities();
    /// let (_, slope) = slopes.iter().find(|(name, _)| *name == "HAcetate").unwrap();
    /// assert!((slope - 0.5).abs() < 0.02); // pH = (pKa - log c) / 2
    /// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
    /// ```
    pub fn ph_sensitivities(&self) -> Vec<(&'a str, f64)> {
        let k = self.solver.tableau.k.clone();
        let mut factors = vec![1.0; k.len()];
        let mut trial = self.solver.clone();
        let (up, down) = (libm::exp(LN_10 * STEP), libm::exp(-LN_10 * STEP));
        let mut slopes = Vec::with_capacity(k.len());
        for (at, &place) in self.solver.tableau.species.iter().enumerate() {
            let mut ph_with = |factor: f64| {
                factors[at] = factor;
                let solved = trial.again_with(&k, &factors);
                let ph = Speciation { solver: &trial }.ph();
                if solved { ph } else { f64::NAN }
            };
            let slope = (ph_with(up) - ph_with(down)) / (2.0 * STEP);
            factors[at] = 1.0;
            let species = &self.solver.set().species[usize::from(place)];
            if species.makeup.is_formed() {
                slopes.push((species.name.as_str(), slope));
            }
        }
        slopes
    }
}
