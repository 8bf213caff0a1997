//! What is in the bottle at one time.

use super::system::{self as at, AMOUNTS, State};
use super::vessel::Vessel;
use crate::oxidation::OxidationError;
use crate::quantity::{AmountOfSubstance, within};
use uom::si::amount_of_substance::mole;

/// Amounts above this are refused, mol.
const MOST: f64 = 1e9;

/// Amounts in a bottle of ink. Build one from [`Contents::iron`], adding what
/// else there is.
///
/// ```
/// use ferrogall::oxidation::{Air, Contents, Vessel};
/// use ferrogall::quantity::{milliliters, millimoles, ReadAmount};
/// let bottle = Vessel::closed(milliliters(30.0), milliliters(10.0), Air::standard())?;
/// let ink = Contents::iron(millimoles(1.62)).with_phenol(millimoles(4.0)).saturated(&bottle);
/// assert!((ink.oxygen_gas.in_millimoles() - 0.0829).abs() < 1e-4);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Contents {
    /// Iron(II) in solution.
    pub iron_ii: AmountOfSubstance,
    /// Iron(III) in solution.
    pub iron_iii: AmountOfSubstance,
    /// Iron(III) settled.
    pub sediment: AmountOfSubstance,
    /// Oxygen in the liquid.
    pub oxygen_dissolved: AmountOfSubstance,
    /// Oxygen in the headspace; nothing when there is none, or it stands open.
    pub oxygen_gas: AmountOfSubstance,
    /// Electrons that gallic acid and galloyl units can still give: two to
    /// four for each.
    pub phenol_electrons: AmountOfSubstance,
    /// Scavenger.
    pub scavenger: AmountOfSubstance,
    /// Electrons that oxygen has taken from other organics.
    pub other_electrons: AmountOfSubstance,
    /// Oxygen that has come in since the beginning, less what was displaced.
    pub oxygen_in: AmountOfSubstance,
    /// Iron that a piece of metal has brought.
    pub metal_iron: AmountOfSubstance,
}

impl Contents {
    /// Ink with this much iron(II), free of oxygen.
    pub fn iron(iron_ii: AmountOfSubstance) -> Self {
        Contents {
            iron_ii,
            ..Contents::default()
        }
    }

    /// With electrons that phenols can give.
    #[must_use]
    pub fn with_phenol(self, phenol_electrons: AmountOfSubstance) -> Self {
        Contents {
            phenol_electrons,
            ..self
        }
    }

    /// With a scavenger.
    #[must_use]
    pub fn with_scavenger(self, scavenger: AmountOfSubstance) -> Self {
        Contents { scavenger, ..self }
    }

    /// With the oxygen that liquid and gas of this vessel hold in equilibrium
    /// with its air.
    #[must_use]
    pub fn saturated(self, vessel: &Vessel) -> Self {
        Contents {
            oxygen_dissolved: moles(vessel.air.dissolved().value * vessel.liquid),
            oxygen_gas: moles(vessel.oxygen_of_air(vessel.gas)),
            ..self
        }
    }

    pub(super) fn state(&self) -> Result<State, OxidationError> {
        let named = [
            ("iron(II)", self.iron_ii),
            ("iron(III)", self.iron_iii),
            ("sediment", self.sediment),
            ("dissolved oxygen", self.oxygen_dissolved),
            ("oxygen in the gas", self.oxygen_gas),
            ("phenol electrons", self.phenol_electrons),
            ("scavenger", self.scavenger),
            ("electrons of other organics", self.other_electrons),
            ("oxygen come in", self.oxygen_in),
            ("iron from metal", self.metal_iron),
        ];
        let mut state = [0.0; AMOUNTS];
        for (slot, (what, amount)) in state.iter_mut().zip(named) {
            *slot = within(what, amount.value, 0.0, MOST, "mol")?;
        }
        Ok(state)
    }

    pub(super) fn of(y: &State) -> Self {
        Contents {
            iron_ii: moles(y[at::F2]),
            iron_iii: moles(y[at::F3]),
            sediment: moles(y[at::S]),
            oxygen_dissolved: moles(y[at::OL]),
            oxygen_gas: moles(y[at::OG]),
            phenol_electrons: moles(y[at::R]),
            scavenger: moles(y[at::A]),
            other_electrons: moles(y[at::X]),
            oxygen_in: moles(y[at::IN]),
            metal_iron: moles(y[at::M]),
        }
    }
}

fn moles(value: f64) -> AmountOfSubstance {
    AmountOfSubstance::new::<mole>(value)
}
