//! Activity coefficients of ions and molecules.

use super::EquilibriumError;
use crate::chem::{water_density, water_permittivity};
use crate::quantity::{OutOfRange, ReadMassDensity, ReadTemperature, Temperature, within};
use crate::source::{Constant, Source, Status};

const SI_2019: Source = Source::new("exact in the SI of 2019", Status::Computed);

pub(crate) static ELEMENTARY_CHARGE: Constant = Constant {
    id: "elementary_charge",
    value: 1.602_176_634e-19,
    u: 0.0,
    unit: "C",
    source: SI_2019,
};
pub(crate) static BOLTZMANN: Constant = Constant {
    id: "boltzmann_constant",
    value: 1.380_649e-23,
    u: 0.0,
    unit: "J/K",
    source: SI_2019,
};
pub(crate) static AVOGADRO: Constant = Constant {
    id: "avogadro_constant",
    value: 6.022_140_76e23,
    u: 0.0,
    unit: "1/mol",
    source: SI_2019,
};
pub(crate) static VACUUM_PERMITTIVITY: Constant = Constant {
    id: "vacuum_permittivity",
    value: 8.854_187_812_8e-12,
    u: 1.3e-21,
    unit: "F/m",
    source: Source::new("CODATA 2018", Status::Published),
};
pub(crate) static SALTING_OUT: Constant = Constant {
    id: "activity_salting_out",
    value: 0.1,
    u: 0.05,
    unit: "kg/mol",
    source: Source::new(
        "log10 of the activity coefficient of a molecule per unit of ionic strength, the \
         custom of public geochemical codes",
        Status::CommonPractice,
    ),
};
/// kg/mol.
const DAVIES_B_VALUE: f64 = 0.3;

pub(crate) static DAVIES_B: Constant = Constant {
    id: "davies_b",
    value: DAVIES_B_VALUE,
    u: 0.05,
    unit: "kg/mol",
    source: Source::new(
        "Davies 1962, Ion Association, p. 41 (0.2 in Davies 1938), as quoted in the help of a \
         public speciation program",
        Status::Secondary,
    ),
};
pub(crate) static WATER_ACTIVITY_SLOPE: Constant = Constant {
    id: "water_activity_slope",
    value: 0.017,
    u: 0.001,
    unit: "kg/mol",
    source: Source::new(
        "activity of water less 1 per molality of all solutes, the custom of public \
         geochemical codes (0.018 is the ideal solution's)",
        Status::CommonPractice,
    ),
};

/// Slope and radius parameters of the Debye–Hückel law in water.
///
/// ```
/// use ferrogall::equilibrium::DebyeHuckel;
/// use ferrogall::quantity::celsius;
/// let law = DebyeHuckel::of_water(celsius(25.0))?;
/// assert!((law.a - 0.5098).abs() < 1e-4 && (law.b - 0.3284).abs() < 1e-4);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DebyeHuckel {
    /// Slope A, (kg/mol)^½, for log10.
    pub a: f64,
    /// B, (kg/mol)^½ per ångström.
    pub b: f64,
}

impl DebyeHuckel {
    /// Of water under one atmosphere, 0 to 60 °C: from its permittivity (IAPWS
    /// R8-97) and density (Kell 1975).
    ///
    /// # Errors
    /// [`OutOfRange`] outside 0 to 60 °C.
    pub fn of_water(t: Temperature) -> Result<DebyeHuckel, OutOfRange> {
        use core::f64::consts::{LN_10, PI};
        within("temperature", t.in_celsius(), 0.0, 60.0, "°C")?;
        let density = 1000.0 * water_density(t)?.in_grams_per_cubic_centimeter();
        let permittivity = water_permittivity(t)? * VACUUM_PERMITTIVITY.value;
        let thermal = BOLTZMANN.value * t.value;
        let charge = ELEMENTARY_CHARGE.value;
        let bjerrum = charge * charge / (4.0 * PI * permittivity * thermal);
        // 1/m per (mol/kg)^½ of ionic strength.
        let kappa = libm::sqrt(8.0 * PI * bjerrum * AVOGADRO.value * density);
        Ok(DebyeHuckel {
            a: bjerrum * kappa / (2.0 * LN_10),
            b: kappa * 1e-10,
        })
    }
}

/// How the activity coefficient of a species is reckoned.
///
/// ```
/// use ferrogall::equilibrium::Gamma;
/// let calcium = Gamma::Extended { radius_angstrom: 5.0, b: 0.165 };
/// assert_ne!(calcium, Gamma::Davies);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Gamma {
    /// By the rule of the set: Davies for ions, salting out for molecules.
    Davies,
    /// Extended Debye–Hückel law with a linear term:
    /// log10 γ = −A z² √I / (1 + B å √I) + b I.
    Extended {
        /// å, ångström; 0 to 20.
        radius_angstrom: f64,
        /// b, kg/mol; −2 to 2.
        b: f64,
    },
}

impl Gamma {
    pub(super) fn checked(self) -> Result<Gamma, EquilibriumError> {
        if let Gamma::Extended { radius_angstrom, b } = self {
            within("ion size", radius_angstrom, 0.0, 20.0, "Å")?;
            within(
                "linear term of the activity coefficient",
                b,
                -2.0,
                2.0,
                "kg/mol",
            )?;
        }
        Ok(self)
    }
}

/// The Davies equation: log10 γ = −A z² (√I / (1 + √I) − b I), and
/// log10 γ = 0.1 I for molecules.
///
/// ```
/// use ferrogall::equilibrium::{Davies, DebyeHuckel};
/// use ferrogall::quantity::celsius;
/// let water = DebyeHuckel::of_water(celsius(25.0))?;
/// let ion = Davies::TRUNCATED.log10_gamma(water, 2, 0.1);
/// assert!((ion + 0.428).abs() < 0.001);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Davies {
    /// The linear coefficient b, kg/mol.
    pub b: f64,
    /// Hold the coefficient of ions beyond its minimum (I = 0.39 mol/kg with
    /// b = 0.3), where the plain equation turns up again without reason.
    pub truncated: bool,
}

impl Davies {
    /// b = 0.3, held beyond the minimum: the default.
    pub const TRUNCATED: Davies = Davies {
        b: DAVIES_B_VALUE,
        truncated: true,
    };
    /// b = 0.3 throughout, as most codes have it.
    pub const PLAIN: Davies = Davies {
        b: DAVIES_B_VALUE,
        truncated: false,
    };

    /// Ionic strength (mol/kg) to which the equation is commonly trusted.
    pub const VALID_TO: f64 = 0.5;

    /// log10 γ at ionic strength `i` (mol/kg, not negative).
    pub fn log10_gamma(&self, law: DebyeHuckel, charge: i32, i: f64) -> f64 {
        if charge == 0 {
            return SALTING_OUT.value * i;
        }
        let z = f64::from(charge);
        -law.a * z * z * self.shape(i.min(self.held_from())).0
    }

    /// √I / (1 + √I) − b I and its derivative.
    pub(super) fn shape(&self, i: f64) -> (f64, f64) {
        let root = i.sqrt();
        let part = 1.0 / (1.0 + root);
        let slope = 0.5 * part * part / root - self.b;
        (root * part - self.b * i, slope)
    }

    /// Ionic strength beyond which the shape is held: where
    /// 2 b √I (1 + √I)² = 1, or nowhere.
    pub(super) fn held_from(&self) -> f64 {
        if !self.truncated || self.b <= 0.0 {
            return f64::INFINITY;
        }
        // A rising convex function: Newton's rule from above comes down on
        // the root, which lies below 1/(2b).
        let mut root = 0.5 / self.b;
        for _ in 0..60 {
            let f = 2.0 * self.b * root * (1.0 + root) * (1.0 + root) - 1.0;
            root -= f / (2.0 * self.b * (1.0 + root) * (1.0 + 3.0 * root));
        }
        root * root
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::celsius;

    #[test]
    fn the_truncated_equation_never_turns_up() -> Result<(), OutOfRange> {
        let water = DebyeHuckel::of_water(celsius(25.0))?;
        let mut last = 0.0;
        for k in 0..4000 {
            let now = Davies::TRUNCATED.log10_gamma(water, 1, f64::from(k) * 1e-3);
            assert!(now <= last && last - now < 0.02, "at {k} mmol/kg");
            last = now;
        }
        // Own arithmetic of the reference notes: the minimum lies at 0.395.
        approx::assert_abs_diff_eq!(Davies::TRUNCATED.held_from(), 0.395, epsilon = 5e-4);
        let b_of_1938 = Davies {
            b: 0.2,
            truncated: true,
        };
        approx::assert_abs_diff_eq!(b_of_1938.held_from(), 0.62, epsilon = 5e-3);
        Ok(())
    }
}
