//! pH and species: what is dissolved in an ink, and how sure that is.
//!
//! A [`Solver`] holds a [`ConstantSet`] at one temperature. It takes
//! [`Totals`] (how much of each component, from a
//! [`Composition`](crate::composition::Composition) or by hand) and gives a
//! [`Speciation`]: pH, ionic strength, every species, every solid. Iron(II)
//! and iron(III) are separate components, redox is never at equilibrium.
//!
//! [`InkReport`] is what a maker wants to know of one ink;
//! [`Solver::dose_for_ph`], [`Solver::equal_dose`], [`Solver::water_effect`],
//! [`Solver::preservatives`] and [`Solver::settling`] answer single questions.
//!
//! ```
//! use ferrogall::bench::Lot;
//! use ferrogall::equilibrium::InkReport;
//! use ferrogall::quantity::*;
//! use ferrogall::recipe::{Recipe, Solution};
//!
//! let recipe = Recipe::new("writing ink").with(Solution::new("ink")
//!     .add(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?, grams(15.0))
//!     .add(&Lot::of("tannic_acid")?.build()?, grams(12.0))
//!     .add(&Lot::of("hydrochloric_acid")?.build()?, grams(4.0))
//!     .make_up(&Lot::of("distilled_water")?.build()?, liters(1.0)));
//! let report = InkReport::of(&recipe.evaluate()?.composition, celsius(20.0))?;
//! println!("pH {:.2} ({:.2} to {:.2})", report.ph, report.ph_interval.low, report.ph_interval.high);
//! println!("as air has its way: down to {:.2}", report.oxidation.ph_settled);
//! # assert!((report.ph - 1.6).abs() < 0.2);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # How far to trust it
//!
//! The pH of an acid ink rests on strong acid and the well-known constant of
//! hydrogen sulfate: 0.05 is a fair guess. Without mineral acid, and with much
//! iron(III), compilations dispute the constants that matter, and
//! [`Solver::interval`] tells what that leaves open. Activity coefficients
//! follow the Davies equation, trusted to an ionic strength of 0.5 mol/kg;
//! stock solutions lie beyond. Fractions of iron bound to gallic acid and
//! tannin are good to one order of magnitude, and no solubility of the pigment
//! is known. A published "final pH" is of an ink that air has oxidised in
//! part: hold it against [`AfterOxidation`] too.

mod activity;
mod answers;
mod columns;
mod constants;
mod equation;
mod ink;
mod interval;
mod log_k;
mod master;
mod newton;
mod report;
mod roll;

mod sensitivity;
mod solver;
mod tableau;
mod tables;

pub use activity::{Davies, DebyeHuckel, Gamma};
pub use answers::{PhDose, PreservativeState, WaterEffect};
pub use columns::EquilibriumRow;
pub use constants::{ConstantSet, ConstantSetBuilder, Solid, Species};
pub use interval::{Doubt, Interval};
pub use log_k::LogK;
pub use master::Master;
pub use report::{
    AfterOxidation, ComplexShare, InkReport, IronShares, Settling, SolidState, SolidVerdict,
};
pub use solver::{Dissolved, Saturation, Solver, Speciation, Totals};

use crate::quantity::OutOfRange;
use crate::source::Constant;

pub(crate) const CONSTANTS: &[&Constant] = &[
    &activity::ELEMENTARY_CHARGE,
    &activity::BOLTZMANN,
    &activity::AVOGADRO,
    &activity::VACUUM_PERMITTIVITY,
    &activity::SALTING_OUT,
    &activity::DAVIES_B,
    &activity::WATER_ACTIVITY_SLOPE,
    &log_k::GAS_CONSTANT_OF_CORE,
];

/// Why there is no equilibrium to tell of.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, EquilibriumError};
/// let e = ConstantSet::reviewed().with_log_k("FeX", 3.0).unwrap_err();
/// assert_eq!(e, EquilibriumError::UnknownSpecies { name: "FeX".into() });
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EquilibriumError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A reaction that cannot be taken into a set.
    #[error("the equation \"{equation}\" {why}")]
    Equation {
        /// The text.
        equation: String,
        /// What is wrong with it.
        why: String,
    },
    /// A name that is no species (or gas) of the set.
    #[error("no species {name} in the set of constants")]
    UnknownSpecies {
        /// The name.
        name: String,
    },
    /// Hardly any water.
    #[error("hardly any water in it to dissolve anything")]
    NoWater,
    /// Plant matter where a liquid or a salt is dosed.
    #[error("{lot} is plant matter: it is soaked, and its liquor can be dosed")]
    Plant {
        /// Name of the lot.
        lot: String,
    },
    /// No amount leads to this pH.
    #[error(
        "pH {ph} is out of reach: {with_none:.2} with none of it, {with_most:.2} with the most"
    )]
    Unreachable {
        /// The pH asked for.
        ph: f64,
        /// The pH with none.
        with_none: f64,
        /// The pH with the most that is tried.
        with_most: f64,
    },
    /// More species, or more different powers in them, than a mixture may have.
    #[error("{count} species can form from these components, too many to solve for at once")]
    TooManySpecies {
        /// How many can form.
        count: usize,
    },
    /// The balances cannot be met to 1e-12.
    #[error("not solved: the balances are met to {residual:e} only")]
    NotSolved {
        /// The largest relative residual.
        residual: f64,
    },
}
