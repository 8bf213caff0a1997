//! An ink and the base that paper gives it.

use super::PaperError;
use crate::composition::{Bulk, Composition};
use crate::equilibrium::{ConstantSet, EquilibriumError, Master, Solver, Totals};
use crate::quantity::{Molality, Temperature, moles_per_kilogram};

/// Points of the curve: steps of about 0.13 pH.
pub(super) const NODES: usize = 57;
/// Highest pH of the curve; chalk does not reach it.
const TOP: f64 = 9.0;
/// Most acid or base that is tried, mol/kg.
const MOST: f64 = 18.0;

/// pH of an ink against the base it has been given.
///
/// Base comes as chalk does once its carbon dioxide has gone: calcium, two
/// charges each. Acid that iron sets free as it binds tannin comes as base
/// less than none. Nothing settles on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Titration {
    /// mol of base per m³ of ink, rising.
    pub base: [f64; NODES],
    pub ph: [f64; NODES],
    /// pH of the ink as it is.
    pub ink: f64,
}

impl Titration {
    /// From the pH with all iron(II) oxidised and bound, upward.
    pub fn of(ink: &Composition, temperature: Temperature) -> Result<Titration, PaperError> {
        let totals = Totals::of_composition(ink)?;
        let mut solver = Solver::new(ConstantSet::reviewed(), temperature)?;
        let own = solver.solve(&totals)?.ph();
        let set_free = 2.0 * totals.of(Master::IronII).value;
        let acid = with_more(&totals, Master::Chloride, set_free)?;
        let bottom = solver.solve(&acid)?.ph().min(own);
        let top = TOP.max(own + 0.5);
        // kg of water per m³ of ink
        let water = ink.mass_concentration(Bulk::Water).value;
        let mut curve = Titration {
            base: [0.0; NODES],
            ph: [own; NODES],
            ink: own,
        };
        for i in 0..NODES {
            let ph = bottom + (top - bottom) * i as f64 / (NODES - 1) as f64;
            curve.ph[i] = ph;
            curve.base[i] = water * base_to(&mut solver, &totals, own, ph)?;
        }
        // Roots are found to rounding: neighbours must not swap.
        for i in 1..NODES {
            curve.base[i] = curve.base[i].max(curve.base[i - 1]);
        }
        Ok(curve)
    }

    /// Where an amount of base lies between the points: the one below, and
    /// how far on to the next.
    pub fn place(&self, base: f64) -> (usize, f64) {
        let above = self.base.partition_point(|b| *b <= base);
        match above {
            0 => (0, 0.0),
            NODES => (NODES - 2, 1.0),
            _ => {
                let (low, high) = (self.base[above - 1], self.base[above]);
                (above - 1, (base - low) / (high - low))
            }
        }
    }

    /// Base that leads to a pH, mol/m³.
    pub fn base_for(&self, ph: f64) -> f64 {
        let above = self.ph.partition_point(|p| *p < ph).clamp(1, NODES - 1);
        let (low, high) = (self.ph[above - 1], self.ph[above]);
        let on = ((ph - low) / (high - low)).clamp(0.0, 1.0);
        self.base[above - 1] + on * (self.base[above] - self.base[above - 1])
    }

    /// pH with so much base in it, mol/m³.
    pub fn ph_with(&self, base: f64) -> f64 {
        let (i, on) = self.place(base);
        self.ph[i] + on * (self.ph[i + 1] - self.ph[i])
    }
}

/// mol of base (acid where negative) per kg of water that leads to a pH.
fn base_to(
    solver: &mut Solver,
    totals: &Totals,
    own: f64,
    ph: f64,
) -> Result<f64, EquilibriumError> {
    if ph == own {
        return Ok(0.0);
    }
    let (ion, charge) = if ph > own {
        (Master::Calcium, 2.0)
    } else {
        (Master::Chloride, -1.0)
    };
    let (needed, _) = solver.solve_for(ion, ph, totals)?;
    Ok(charge * (needed - totals.of(ion)).value)
}

fn with_more(totals: &Totals, ion: Master, more: f64) -> Result<Totals, EquilibriumError> {
    let total: Molality = totals.of(ion) + moles_per_kilogram(more.min(MOST));
    totals.with(ion, total)
}
