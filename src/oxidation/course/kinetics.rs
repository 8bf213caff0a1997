//! How fast the reactions in the bottle go.

use crate::oxidation::constants::{GAS_CONSTANT, NU_MAX};
use crate::oxidation::stoichiometry::checked_nu;
use crate::oxidation::{FirstOrder, OxidationError, SecondOrder, ThirdOrder};
use crate::quantity::{MolarConcentration, Share, Temperature, within};

const STANDARD_KELVIN: f64 = 298.15;

/// Rate constants and stoichiometry of the reactions in a bottle of ink, all
/// zero until set; checked once, by [`build`](KineticsBuilder::build).
///
/// ```text
/// iron(II) + O₂/nu   → iron(III)     (k1 + k2 [Fe II]) [Fe II] [O₂]
/// iron(III) + phenol → iron(II)      k_red [Fe III] [phenol electrons]
/// iron(III)          → sediment      k_sed ([Fe III] - solubility)
/// iron(III) + ½ Fe   → 1½ iron(II)   k_metal [Fe III]
/// scavenger + s O₂   → gone          k_A [scavenger] [O₂]
/// ```
///
/// Where iron takes fewer than four electrons of an O₂, phenols and other
/// organics give the rest.
///
/// ```
/// use ferrogall::oxidation::{Kinetics, SecondOrder};
/// let tannin_ink = Kinetics::builder()
///     .oxidation(SecondOrder::l_per_mol_s(0.02)?)
///     .iron_per_oxygen(3.0)
///     .build()?;
/// assert_eq!(tannin_ink.iron_per_oxygen(), 3.0);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kinetics {
    pub(super) given: KineticsBuilder,
}

/// Gathers rate constants; nothing is checked before [`build`](KineticsBuilder::build).
///
/// ```
/// use ferrogall::oxidation::Kinetics;
/// assert!(Kinetics::builder().iron_per_oxygen(5.0).build().is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[must_use]
pub struct KineticsBuilder {
    pub(super) oxidation: SecondOrder,
    pub(super) oxidation_by_two: ThirdOrder,
    pub(super) reduction: SecondOrder,
    pub(super) settling: FirstOrder,
    pub(super) soluble: MolarConcentration,
    pub(super) metal: FirstOrder,
    pub(super) scavenging: SecondOrder,
    pub(super) oxygen_per_scavenger: f64,
    pub(super) nu: f64,
    pub(super) from_phenol: Share,
    pub(super) activation: f64,
    pub(super) valid_at: f64,
}

impl KineticsBuilder {
    /// k1: iron(II) and oxygen, first order in each.
    pub fn oxidation(self, k1: SecondOrder) -> Self {
        KineticsBuilder {
            oxidation: k1,
            ..self
        }
    }

    /// k2: second order in iron(II), as in concentrated acid solutions. No
    /// constant for 25 °C is published; zero unless you have measured one.
    pub fn oxidation_by_two(self, k2: ThirdOrder) -> Self {
        KineticsBuilder {
            oxidation_by_two: k2,
            ..self
        }
    }

    /// k_red: iron(III) and the electrons of phenol (2 to 4 for each galloyl unit).
    pub fn reduction(self, k_red: SecondOrder) -> Self {
        KineticsBuilder {
            reduction: k_red,
            ..self
        }
    }

    /// k_sed: settling of the iron(III) that is beyond `soluble`. Neither has
    /// a published value for ink.
    pub fn settling(self, k_sed: FirstOrder, soluble: MolarConcentration) -> Self {
        KineticsBuilder {
            settling: k_sed,
            soluble,
            ..self
        }
    }

    /// Reduction of iron(III) by metallic iron in the bottle; it brings half
    /// an iron more for each iron(III). The hydrogen that iron metal gives off
    /// in acid ink is not in the model: leave such a bottle open to vent, away
    /// from flames.
    pub fn metal(self, k_metal: FirstOrder) -> Self {
        KineticsBuilder {
            metal: k_metal,
            ..self
        }
    }

    /// k_A: a scavenger that takes up `oxygen_per_mole` O₂ (0.1 to 4).
    pub fn scavenging(self, k_a: SecondOrder, oxygen_per_mole: f64) -> Self {
        KineticsBuilder {
            scavenging: k_a,
            oxygen_per_scavenger: oxygen_per_mole,
            ..self
        }
    }

    /// nu: iron(II) oxidised by one O₂, 2 to 4; default 4.
    pub fn iron_per_oxygen(self, nu: f64) -> Self {
        KineticsBuilder { nu, ..self }
    }

    /// phi: share of the electrons which iron does not give that phenols give
    /// while there are any; the rest comes from other organics. Default 0.
    pub fn rest_from_phenol(self, phi: Share) -> Self {
        KineticsBuilder {
            from_phenol: phi,
            ..self
        }
    }

    /// The constants hold at this temperature (default 25 °C) and change with
    /// this activation energy, in kJ/mol (0 to 200, default 0).
    pub fn activation_energy_kj_per_mol(self, energy: f64, valid_at: Temperature) -> Self {
        KineticsBuilder {
            activation: energy * 1000.0,
            valid_at: valid_at.value,
            ..self
        }
    }

    /// The constants, when all of them make sense.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for what is outside the range named at
    /// its setting, or a solubility outside 0 to 10 mol/L.
    pub fn build(self) -> Result<Kinetics, OxidationError> {
        checked_nu(self.nu)?;
        within(
            "oxygen per scavenger",
            self.oxygen_per_scavenger,
            0.1,
            4.0,
            "mol/mol",
        )?;
        let mol_per_l = self.soluble.value / 1000.0;
        within("soluble iron(III)", mol_per_l, 0.0, 10.0, "mol/L")?;
        let kj = self.activation / 1000.0;
        within("activation energy", kj, 0.0, 200.0, "kJ/mol")?;
        let celsius = self.valid_at - 273.15;
        within("temperature of the constants", celsius, 0.0, 100.0, "degC")?;
        Ok(Kinetics { given: self })
    }
}

impl Kinetics {
    /// Nothing reacts, until it is said.
    pub fn builder() -> KineticsBuilder {
        KineticsBuilder {
            oxidation: SecondOrder::ZERO,
            oxidation_by_two: ThirdOrder::ZERO,
            reduction: SecondOrder::ZERO,
            settling: FirstOrder::ZERO,
            soluble: MolarConcentration::default(),
            metal: FirstOrder::ZERO,
            scavenging: SecondOrder::ZERO,
            oxygen_per_scavenger: 0.5,
            nu: NU_MAX.value,
            from_phenol: Share::ZERO,
            activation: 0.0,
            valid_at: STANDARD_KELVIN,
        }
    }

    /// The settings again, to change some of them.
    pub fn to_builder(&self) -> KineticsBuilder {
        self.given
    }

    /// k1 at the temperature for which it was given.
    pub fn oxidation(&self) -> SecondOrder {
        self.given.oxidation
    }

    /// Iron(II) oxidised by one O₂.
    pub fn iron_per_oxygen(&self) -> f64 {
        self.given.nu
    }

    /// By how much all constants change at a temperature.
    pub(super) fn factor_at(&self, kelvin: f64) -> f64 {
        if self.given.activation == 0.0 {
            return 1.0;
        }
        let inverse = 1.0 / self.given.valid_at - 1.0 / kelvin;
        libm::exp(self.given.activation / GAS_CONSTANT * inverse)
    }
}
