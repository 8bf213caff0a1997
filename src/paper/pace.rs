//! How fast iron(II) turns over in the line, at every pH of its titration.

use super::assumption::{Input, Pick};
use super::titration::{NODES, Titration};
use crate::composition::Composition;
use crate::oxidation::{Assisted, InorganicRate, Milieu, OxidationError};
use crate::quantity::Temperature;
use crate::source::Range;

/// pH to which the assisted law is told; it stands still beyond.
const ASSISTED: (f64, f64) = (0.0, 7.0);
/// pH to which the laws without a ligand hold.
const INORGANIC: (f64, f64) = (-1.0, 9.0);

/// Rate constants of both ways, at every point of a titration.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pace {
    temperature: Temperature,
    ph: [f64; NODES],
    inorganic: [Range; NODES],
    assisted: Assisted,
    /// Share of the iron(II) that has a galloyl unit to help it.
    helped: f64,
}

impl Pace {
    pub fn of(
        ink: &Composition,
        curve: &Titration,
        temperature: Temperature,
        assisted: Assisted,
    ) -> Result<Pace, OxidationError> {
        let mut inorganic = [Range::exact(0.0); NODES];
        let mut below = Range::exact(0.0);
        for (slot, ph) in inorganic.iter_mut().zip(curve.ph) {
            *slot = inorganic_at(temperature, ph, below)?;
            below = *slot;
        }
        let iron = ink.iron_ii().value;
        Ok(Pace {
            temperature,
            ph: curve.ph,
            inorganic,
            assisted,
            helped: if iron > 0.0 {
                (ink.galloyl().value / iron).min(1.0)
            } else {
                0.0
            },
        })
    }

    /// Logarithm of the turn-over (1/s) at every point with so much oxygen
    /// (mol/m³).
    pub fn ln_rates(&self, pick: Pick, oxygen: f64) -> Result<[f64; NODES], OxidationError> {
        let mut rates = [0.0; NODES];
        for ((slot, ph), inorganic) in rates.iter_mut().zip(self.ph).zip(self.inorganic) {
            *slot = libm::log(self.rate(pick, ph, inorganic)? * oxygen / 1000.0);
        }
        Ok(rates)
    }

    /// Turn-over (1/s) at a pH between the points.
    pub fn rate_at(&self, pick: Pick, ph: f64, oxygen: f64) -> Result<f64, OxidationError> {
        let below = self.ph.partition_point(|p| *p < ph).saturating_sub(1);
        let inorganic = inorganic_at(self.temperature, ph, self.inorganic[below])?;
        Ok(self.rate(pick, ph, inorganic)? * oxygen / 1000.0)
    }

    /// L/(mol s)
    fn rate(&self, pick: Pick, ph: f64, inorganic: Range) -> Result<f64, OxidationError> {
        let assisted = self.assisted.constant_at(
            ph.clamp(ASSISTED.0, ASSISTED.1),
            self.temperature,
            pick.z(Input::Assisted),
            pick.z(Input::AcidOrder),
            pick.z(Input::Activation),
        )?;
        let alone = pick.by_factors(Input::Inorganic, inorganic);
        Ok(alone + self.helped * assisted.in_l_per_mol_s())
    }
}

/// The span without a ligand. Where a law comes to its end the span may step
/// back; the rate of iron(II) does not fall as the pH rises from where it was.
fn inorganic_at(temperature: Temperature, ph: f64, below: Range) -> Result<Range, OxidationError> {
    let milieu = Milieu::new(temperature, ph.clamp(INORGANIC.0, INORGANIC.1))?;
    let rate = InorganicRate::at(&milieu)?;
    Ok(Range::new(
        rate.low.in_l_per_mol_s().max(below.min),
        rate.typical.in_l_per_mol_s().max(below.typical),
        rate.high.in_l_per_mol_s().max(below.max),
    ))
}
