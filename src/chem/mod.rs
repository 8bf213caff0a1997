//! Chemistry that knows nothing of ink: atomic weights, formulas and molar
//! masses, the densities of water and of solutions, hydrometer scales.
//!
//! ```
//! use ferrogall::chem::{Formula, Solute, Solution};
//! use ferrogall::quantity::{ReadMassDensity, ReadMolarMass, celsius};
//! let vitriol: Formula = "FeSO4·7H2O".parse()?;
//! let share = molar_mass_share(&vitriol);
//! assert!((share - 0.5464).abs() < 1e-4);
//! // 10 g of green vitriol in 100 g of solution.
//! let solution = Solution::from_mass_percent(Solute::IronIISulfate, 10.0 * share, celsius(20.0))?;
//! assert!((solution.density().in_grams_per_cubic_centimeter() - 1.053).abs() < 0.001);
//!
//! fn molar_mass_share(hydrate: &Formula) -> f64 {
//!     let dry = Solute::IronIISulfate.molar_mass().in_grams_per_mole();
//!     dry / hydrate.molar_mass().in_grams_per_mole()
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod charge;
pub(crate) mod constants;
mod crc_tables;
mod density;
mod elements;
mod error;
mod formula;
mod hydrometer;
mod interpolate;
mod laliberte;
mod parse;
mod permittivity;
mod solute;
mod solution;
mod water;

pub use density::{
    apparent_specific_volume, density, formula_density, handbook_density,
    mass_fraction_from_density, readable_up_to,
};
pub use elements::{ATOMIC_WEIGHTS_SOURCE, Element};
pub use error::ChemError;
pub use formula::{Formula, FormulaError, FormulaErrorKind, molar_mass};
pub use hydrometer::{BaumeScale, SpecificGravity};
pub use permittivity::water_permittivity;
pub use solute::{Solute, Validity};
pub use solution::Solution;
pub use uom::si::f64::SpecificVolume;
pub use water::water_density;

pub(crate) use constants::MOLAR_MASSES;
pub(crate) use permittivity::CONSTANTS as PERMITTIVITY_CONSTANTS;

use crate::source::Constant;

pub(crate) const CONSTANTS: &[&Constant] = &[
    &constants::GAS_CONSTANT,
    &water::A0,
    &water::A1,
    &water::A2,
    &water::A3,
    &water::A4,
    &water::A5,
    &water::B,
    &hydrometer::MODULUS_AMERICAN,
    &hydrometer::MODULUS_DUTCH,
    &hydrometer::MODULUS_GERLACH,
    &hydrometer::MODULUS_RATIONAL,
    &hydrometer::MODULUS_LIGHT,
    &hydrometer::TWADDELL_STEP,
];
