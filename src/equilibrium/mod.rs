//! pH and species.
#![allow(missing_docs)]

mod activity;
mod constants;
mod equation;
mod ink;
mod interval;
mod master;
mod newton;
mod report;
mod root;
mod sensitivity;
mod solver;
mod tableau;
mod tables;

pub use activity::{Davies, DebyeHuckel, Gamma};
pub use constants::{ConstantSet, ConstantSetBuilder, LogK, Solid, Species};
pub use interval::{Doubt, Interval};
pub use master::Master;
pub use report::{
    AfterOxidation, ComplexShare, InkReport, IronShares, Settling, SolidState, SolidVerdict,
};
pub use solver::{Dissolved, Saturation, Solver, Speciation, Totals};

use crate::quantity::OutOfRange;

#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EquilibriumError {
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    #[error("the equation \"{equation}\" {why}")]
    Equation { equation: String, why: String },
    #[error("hardly any water in it to dissolve anything")]
    NoWater,
    #[error("no species {name} in the set of constants")]
    UnknownSpecies { name: String },
    #[error(
        "pH {ph} is out of reach: {with_none:.2} with none of it, {with_most:.2} with the most"
    )]
    Unreachable {
        ph: f64,
        with_none: f64,
        with_most: f64,
    },
    #[error("{count} species can form from these components; at most 256 are solved for")]
    TooManySpecies { count: usize },
    #[error("not solved: relative residual {residual:e}")]
    NotSolved { residual: f64 },
}
