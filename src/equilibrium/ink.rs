//! From the composition of an ink to what the solver wants, and its fate in air.

use super::EquilibriumError;
use super::master::Master;
use super::solver::{MOST, Totals};
use crate::composition::{Bulk, Component, Composition};
use crate::quantity::within;

impl Totals {
    /// The totals of an ink, per kilogram of the water in it. Gum, dye,
    /// alcohol, glycerol and the weak phenols thymol and eugenol take no part;
    /// they are left out, and so is what they do to the solvent.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::equilibrium::{Master, Totals};
    /// use ferrogall::quantity::{ReadMolality, grams};
    /// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.purity(1.0, 0.0)?.build()?;
    /// let water = Lot::of("distilled_water")?.build()?;
    /// let solution = vitriol.composition(grams(15.0))?.mixed_with(&water.composition(grams(993.2))?);
    /// let iron = Totals::of_composition(&solution)?.of(Master::IronII);
    /// assert!((iron.in_moles_per_kilogram() - 0.0540).abs() < 1e-4);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`EquilibriumError::NoWater`] when less than a tenth of the mass is
    /// water; a component beyond 20 mol/kg.
    pub fn of_composition(ink: &Composition) -> Result<Totals, EquilibriumError> {
        let water = ink.mass_of(Bulk::Water).value;
        let share = water / ink.mass().value;
        if share.is_nan() || share < 0.1 {
            return Err(EquilibriumError::NoWater);
        }
        let mut totals = Totals::new();
        for &component in Component::ALL {
            if let Some(master) = Master::of(component) {
                totals.0[master as usize] += ink.amount(component).value / water;
            }
        }
        for m in Master::ALL {
            within(m.formula(), totals.0[*m as usize], 0.0, MOST, "mol/kg")?;
        }
        Ok(totals)
    }

    /// The same solution when air has oxidised this share (0 to 1) of its
    /// iron(II), all of it still dissolved. Each iron takes up a proton:
    /// Fe²⁺ + ¼ O₂ + H⁺ → Fe³⁺ + ½ H₂O.
    ///
    /// # Errors
    /// A share outside 0 to 1.
    pub fn oxidised(mut self, share: f64) -> Result<Totals, EquilibriumError> {
        let share = within("oxidised share", share, 0.0, 1.0, "")?;
        let iron = self.0[Master::IronII as usize];
        self.0[Master::IronII as usize] = iron - share * iron;
        self.0[Master::IronIII as usize] += share * iron;
        Ok(self)
    }

    /// The same solution when its iron(III) has settled with gallic acid and
    /// galloyl units of tannin, one to one, as far as they go:
    /// Fe³⁺ + H₄Gal → FeHGal + 3 H⁺. Gallic acid goes first. The pigment has
    /// no known solubility; that all of it settles is the limit.
    #[must_use]
    pub fn pigment_settled(mut self) -> Totals {
        for tannin in [Master::Gallate, Master::Galloyl] {
            let settled = self.0[Master::IronIII as usize].min(self.0[tannin as usize]);
            self.0[Master::IronIII as usize] -= settled;
            self.0[tannin as usize] -= settled;
        }
        self
    }
}
