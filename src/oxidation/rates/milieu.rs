//! The water in which iron(II) meets oxygen.

use super::coefficients as k;
use crate::equilibrium::{Master, Speciation};
use crate::oxidation::OxidationError;
use crate::oxidation::constants::GAS_CONSTANT;
use crate::oxidation::oxygen::{HenryConstant, checked_temperature, henry_constant};
use crate::quantity::{
    Molality, MolarEnergy, Temperature, kilojoules_per_mole, moles_per_kilogram, within,
};
use core::f64::consts::LN_10;

/// Where the tables of constants stand, K.
pub(super) const T0: f64 = 298.15;
/// Strongest salt solution a milieu may be, mol/kg.
pub(super) const MOST_SALT: f64 = 2.0;

/// How iron(II) gives protons away to water.
///
/// FeOH⁺ = β1 Fe²⁺/H⁺ and Fe(OH)₂ = β2 Fe²⁺/H⁺²; constants at ionic strength
/// 0 and 25 °C, carried to other temperatures by their enthalpies. The rate
/// constants of the species go with the hydrolysis they were derived with:
/// another set moves the rate near pH 7 by a fifth.
///
/// ```
/// use ferrogall::oxidation::{Hydrolysis, IronLaw, Milieu};
/// use ferrogall::quantity::celsius;
/// let usual = Milieu::new(celsius(25.0), 7.0)?;
/// let other = usual.hydrolysis(Hydrolysis::MINTEQ);
/// let law = IronLaw::ParallelPathways;
/// let ratio = law.constant(&other)?.in_l_per_mol_s() / law.constant(&usual)?.in_l_per_mol_s();
/// assert!(ratio > 1.1 && ratio < 1.3);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hydrolysis {
    log_beta: [f64; 2],
    enthalpy: [f64; 2], // kJ/mol
}

impl Hydrolysis {
    /// log β1 −9.5, log β2 −20.57 (phreeqc.dat): what [`Milieu::new`] takes.
    pub const PHREEQC: Hydrolysis = Hydrolysis {
        log_beta: [k::PHREEQC_BETA1.value, k::PHREEQC_BETA2.value],
        enthalpy: [k::PHREEQC_ENTHALPY1.value, k::PHREEQC_ENTHALPY2.value],
    };
    /// log β1 −9.397, log β2 −20.494 (minteq.v4.dat).
    pub const MINTEQ: Hydrolysis = Hydrolysis {
        log_beta: [k::MINTEQ_BETA1.value, k::MINTEQ_BETA2.value],
        enthalpy: [k::MINTEQ_ENTHALPY1.value, k::MINTEQ_ENTHALPY2.value],
    };

    /// The caller's own: log β1, log β2 at 25 °C and their enthalpies.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] unless −15 to −5, −30 to −15 and 0 to
    /// 300 kJ/mol.
    pub fn known(log_beta: [f64; 2], enthalpy: [MolarEnergy; 2]) -> Result<Self, OxidationError> {
        within("log beta1 of iron(II)", log_beta[0], -15.0, -5.0, "")?;
        within("log beta2 of iron(II)", log_beta[1], -30.0, -15.0, "")?;
        let kj = |h: MolarEnergy| {
            let kj = h.value / kilojoules_per_mole(1.0).value;
            within("enthalpy of hydrolysis", kj, 0.0, 300.0, "kJ/mol")
        };
        Ok(Hydrolysis {
            log_beta,
            enthalpy: [kj(enthalpy[0])?, kj(enthalpy[1])?],
        })
    }

    fn shares(&self, kelvin: f64, ph: f64) -> IronShares {
        let carry = (1.0 / T0 - 1.0 / kelvin) * 1000.0 / (GAS_CONSTANT * LN_10);
        let over_free = |step: usize| {
            let log_beta = self.log_beta[step] + self.enthalpy[step] * carry;
            libm::exp10(log_beta + (step + 1) as f64 * ph)
        };
        let (hydroxo, dihydroxo) = (over_free(0), over_free(1));
        let all = 1.0 + hydroxo + dihydroxo;
        IronShares {
            free: 1.0 / all,
            hydroxo: hydroxo / all,
            dihydroxo: dihydroxo / all,
            complexed: 0.0,
        }
    }
}

/// How the iron(II) is divided; the four shares add up to 1.
///
/// ```
/// use ferrogall::oxidation::Milieu;
/// use ferrogall::quantity::celsius;
/// let s = Milieu::new(celsius(25.0), 7.0)?.shares();
/// assert!((s.hydroxo - 0.00315).abs() < 0.00001);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct IronShares {
    /// Fe²⁺.
    pub free: f64,
    /// FeOH⁺.
    pub hydroxo: f64,
    /// Fe(OH)₂, and what little Fe(OH)₃⁻ there is.
    pub dihydroxo: f64,
    /// Bound to sulfate, chloride, gallate, citrate …
    pub complexed: f64,
}

/// The water in which iron(II) meets oxygen: its temperature, pH, salt, and
/// in which shape it holds the iron.
///
/// **Which ion product of water goes with which constant.** Laws in [OH⁻]²
/// were published with an ion product of their own. Stumm and Lee's 8.0e13
/// gives a half-life of 4.1 min at pH 7 with 1.0e-14 (25 °C) and of 8.9 min
/// with 6.8e-15 (20 °C). A milieu takes OH⁻ from its pH and the ion product
/// at its own temperature; [`Milieu::ion_product`] takes another.
///
/// OH⁻ is meant as an activity, K_w over that of H⁺, in every law. Millero's
/// carries its salt in its own terms; correcting OH⁻ for salt as well would
/// count it twice (in sea water at pH 8 the law so used gives the loss that
/// was measured).
///
/// ```
/// use ferrogall::oxidation::Milieu;
/// use ferrogall::quantity::{celsius, moles_per_kilogram};
/// let ink = Milieu::new(celsius(20.0), 2.5)?.ionic_strength(moles_per_kilogram(0.2))?;
/// assert!((ink.ion_product_exponent() - 14.165).abs() < 0.001);
/// assert!(ink.shares().free > 0.999);
/// assert!(Milieu::new(celsius(20.0), f64::NAN).is_err());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Milieu {
    pub(super) kelvin: f64,
    pub(super) ph: f64,
    pub(super) ionic_strength: f64,
    pub(super) pkw: f64,
    pub(super) henry: HenryConstant,
    pub(super) shares: IronShares,
}

impl Milieu {
    /// Water without salt, 0 to 40 °C and pH −1 to 14: hydrolysis
    /// [`Hydrolysis::PHREEQC`], ion product of water by the expression of the
    /// same table, oxygen as soluble as in fresh water.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn new(temperature: Temperature, ph: f64) -> Result<Self, OxidationError> {
        let kelvin = checked_temperature("temperature", temperature)?;
        let ph = within("pH", ph, -1.0, 14.0, "")?;
        Ok(Milieu {
            kelvin,
            ph,
            ionic_strength: 0.0,
            pkw: -log_ion_product(kelvin),
            henry: henry_constant(temperature)?,
            shares: Hydrolysis::PHREEQC.shares(kelvin, ph),
        })
    }

    /// The milieu of a solution at equilibrium: pH, ionic strength, activity
    /// of OH⁻ and the shares of iron(II) as they were solved. What iron(II)
    /// is bound to, other than OH⁻, is the share `complexed`.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] outside 0 to 40 °C, pH −1 to 14, or
    /// above 2 mol/kg of ionic strength; without iron(II) (1e-15 to 20 mol/kg).
    ///
    /// ```
    /// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
    /// use ferrogall::oxidation::{IronLaw, Milieu};
    /// use ferrogall::quantity::{celsius, moles_per_kilogram};
    /// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
    /// let acid_vitriol = Totals::new()
    ///     .with(Master::IronII, moles_per_kilogram(0.054))?
    ///     .with(Master::Sulfate, moles_per_kilogram(0.054))?
    ///     .with(Master::Chloride, moles_per_kilogram(0.036))?;
    /// let milieu = Milieu::of(&solver.solve(&acid_vitriol)?)?;
    /// assert!(milieu.shares().complexed > 0.2); // FeSO4
    /// // which the law takes for Fe2+
    /// let k = IronLaw::ParallelPathways.constant(&milieu)?;
    /// assert!((k.in_l_per_mol_s() / 1.07e-5 - 1.0).abs() < 0.1);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(solution: &Speciation<'_>) -> Result<Self, OxidationError> {
        let water = Milieu::new(solution.temperature(), solution.ph())?
            .ionic_strength(solution.ionic_strength())?;
        let iron = solution.total(Master::IronII).value;
        within("iron(II)", iron, 1e-15, 20.0, "mol/kg")?;
        let share = |name| solution.molality(name).value / iron;
        let (free, hydroxo) = (share("Fe+2"), share("FeOH+"));
        let dihydroxo = share("Fe(OH)2") + share("Fe(OH)3-");
        let hydroxide = solution.species().find(|s| s.name == "OH-");
        Ok(Milieu {
            pkw: hydroxide.map_or(water.pkw, |s| water.ph - s.log10_activity),
            shares: IronShares {
                free,
                hydroxo,
                dihydroxo,
                complexed: (1.0 - free - hydroxo - dihydroxo).max(0.0),
            },
            ..water
        })
    }

    /// The same water with salt in it, 0 to 2 mol/kg. Only a law that has a
    /// term for it looks at the value; hydrolysis stays as it was (in salt
    /// water, let the equilibrium tell it: [`Milieu::of`]).
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn ionic_strength(self, molality: Molality) -> Result<Self, OxidationError> {
        let ionic_strength = within("ionic strength", molality.value, 0.0, MOST_SALT, "mol/kg")?;
        Ok(Milieu {
            ionic_strength,
            ..self
        })
    }

    /// The same water with this −log10 of its ion product, 11 to 16.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn ion_product(self, pkw: f64) -> Result<Self, OxidationError> {
        let pkw = within("pKw", pkw, 11.0, 16.0, "")?;
        Ok(Milieu { pkw, ..self })
    }

    /// The same water with iron(II) hydrolysed by other constants, nothing
    /// else bound to it.
    #[must_use]
    pub fn hydrolysis(self, constants: Hydrolysis) -> Self {
        Milieu {
            shares: constants.shares(self.kelvin, self.ph),
            ..self
        }
    }

    /// The same water dissolving oxygen otherwise: for laws that were written
    /// with the pressure of oxygen.
    #[must_use]
    pub fn henry(self, constant: HenryConstant) -> Self {
        Milieu {
            henry: constant,
            ..self
        }
    }

    /// Temperature.
    pub fn temperature(&self) -> Temperature {
        Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(self.kelvin)
    }

    /// −log10 of the activity of H⁺.
    pub const fn ph(&self) -> f64 {
        self.ph
    }

    /// Ionic strength.
    pub fn salt(&self) -> Molality {
        moles_per_kilogram(self.ionic_strength)
    }

    /// −log10 of the ion product of water that gives OH⁻.
    pub const fn ion_product_exponent(&self) -> f64 {
        self.pkw
    }

    /// How the iron(II) is divided.
    pub const fn shares(&self) -> IronShares {
        self.shares
    }

    /// Henry constant of oxygen.
    pub const fn oxygen_solubility(&self) -> HenryConstant {
        self.henry
    }

    /// Activity of OH⁻.
    pub(super) fn hydroxide(&self) -> f64 {
        libm::exp10(self.ph - self.pkw)
    }

    /// What 1/K is less than at 25 °C, over the gas constant: times kJ/mol,
    /// the logarithm of how much faster.
    pub(super) fn per_kj(&self) -> f64 {
        per_kj(self.kelvin)
    }
}

/// (1/T0 − 1/T)/R in mol/kJ.
pub(super) fn per_kj(kelvin: f64) -> f64 {
    (1.0 / T0 - 1.0 / kelvin) * 1000.0 / GAS_CONSTANT
}

fn log_ion_product(kelvin: f64) -> f64 {
    k::WATER_0.value
        + k::WATER_1.value * kelvin
        + k::WATER_2.value / kelvin
        + k::WATER_3.value * libm::log10(kelvin)
        + k::WATER_4.value * kelvin * kelvin
}
