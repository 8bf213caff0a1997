//! Equilibrium constants over temperature.

use super::EquilibriumError;
use crate::chem::constants::GAS_CONSTANT;
use crate::quantity::{MolarEnergy, Temperature, within};
use crate::source::{Constant, Source, Status};
use core::f64::consts::LN_10;

/// The temperature of the tables, K.
pub(super) const T0: f64 = 298.15;
/// The gas constant with which the reference states of the set `core` were
/// computed; its temperature dependence is told in their terms.
pub(super) const GAS_CONSTANT_OF_CORE: Constant = Constant {
    id: "gas_constant_of_core_set",
    value: 8.314_70,
    u: 0.0,
    unit: "J/(mol K)",
    source: Source::new(
        "as used by the public geochemical code that solved the reference states",
        Status::Handbook,
    ),
};

/// log10 of an equilibrium constant as a function of temperature:
/// A1 + A2 T + A3/T + A4 log10 T + A5/T² + A6 T², T in K.
///
/// ```
/// use ferrogall::equilibrium::LogK;
/// use ferrogall::quantity::{celsius, kilojoules_per_mole};
/// let bisulfate = LogK::at_25(1.98)?.with_enthalpy(kilojoules_per_mole(22.44))?;
/// assert!((bisulfate.at(celsius(25.0)) - 1.98).abs() < 1e-12);
/// assert!(bisulfate.at(celsius(40.0)) > 2.1); // heat drives protons back
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogK(pub(super) [f64; 6]);

impl LogK {
    /// A constant known at 25 °C only: taken as such at every temperature.
    ///
    /// # Errors
    /// Unless it lies within ±200.
    pub fn at_25(log_k: f64) -> Result<LogK, EquilibriumError> {
        let a1 = within("log K", log_k, -200.0, 200.0, "")?;
        Ok(LogK([a1, 0.0, 0.0, 0.0, 0.0, 0.0]))
    }

    /// The coefficients A1 to A6.
    ///
    /// # Errors
    /// Unless each is a number within ±1e12.
    pub fn analytic(coefficients: [f64; 6]) -> Result<LogK, EquilibriumError> {
        for c in coefficients {
            within("coefficient of log K", c, -1e12, 1e12, "")?;
        }
        Ok(LogK(coefficients))
    }

    /// Adds the temperature dependence of a constant reaction enthalpy (van 't
    /// Hoff); the value at 25 °C stays.
    ///
    /// # Errors
    /// Beyond ±1000 kJ/mol.
    pub fn with_enthalpy(self, enthalpy: MolarEnergy) -> Result<LogK, EquilibriumError> {
        let joules = within("reaction enthalpy", enthalpy.value, -1e6, 1e6, "J/mol")?;
        Ok(self.plus(LogK::van_t_hoff(joules, GAS_CONSTANT.value)))
    }

    pub(super) fn van_t_hoff(joules_per_mol: f64, gas_constant: f64) -> LogK {
        let slope = joules_per_mol / (gas_constant * LN_10);
        LogK([slope / T0, 0.0, -slope, 0.0, 0.0, 0.0])
    }

    pub(super) fn of_row(log_k: f64, enthalpy_kj_per_mol: Option<f64>, gas_constant: f64) -> LogK {
        let joules = 1000.0 * enthalpy_kj_per_mol.unwrap_or(0.0);
        LogK([log_k, 0.0, 0.0, 0.0, 0.0, 0.0]).plus(LogK::van_t_hoff(joules, gas_constant))
    }

    /// The value at a temperature.
    pub fn at(&self, t: Temperature) -> f64 {
        let [a1, a2, a3, a4, a5, a6] = self.0;
        let t = t.value;
        a1 + a2 * t + a3 / t + a4 * libm::log10(t) + a5 / (t * t) + a6 * t * t
    }

    pub(super) fn plus(self, other: LogK) -> LogK {
        self.plus_times(other, 1.0)
    }

    pub(super) fn plus_times(mut self, other: LogK, factor: f64) -> LogK {
        for (a, b) in self.0.iter_mut().zip(other.0) {
            *a += factor * b;
        }
        self
    }
}
