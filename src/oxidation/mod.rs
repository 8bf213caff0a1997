//! How much iron(II) the air in the bottle can oxidise.
//!
//! Iron(II) is what makes an ink write pale and darken on paper; iron(III) is
//! what settles in the bottle. Oxygen turns one into the other, four iron at
//! most for each O₂. Three figures can be given for a bottle:
//!
//! | figure | what it says | where |
//! |---|---|---|
//! | **bound** | all oxygen that can have come in, times four | [`Bottle::bound`] |
//! | **estimate** | a kinetic model of the bottle | not here yet |
//! | **floor** | the slow inorganic reaction alone | its rate: [`InorganicRate`] |
//!
//! Only the bound needs no rate constant, and it is the one to trust. It is an
//! **upper bound on the loss of iron(II), not a promise of shelf life**: an
//! ink may keep far better (tannin reduces iron(III) back, the acid slows the
//! reaction), and it may spoil for reasons that have nothing to do with oxygen
//! (mould, lost acid, a precipitate of another kind). Nor does it say that an
//! ink is safe for a pen or for paper.
//!
//! - [`oxygen`](Air): what air and water hold, by temperature and pressure;
//! - [`salting_out`]: how much less a salt solution dissolves;
//! - [`Closure`], [`breathing`]: how oxygen gets past the cap or the wall;
//! - [`Bottle`]: the bound;
//! - [`scavengers`]: what takes oxygen away, and how much of it;
//! - [`IronLaw`], [`Milieu`], [`InorganicRate`]: how fast iron(II) takes oxygen
//!   by itself, by each published law, and how far they disagree;
//! - [`Assisted`], [`Parameter`], [`observations`]: what is known, and how
//!   badly, of the reactions that tannin brings.

mod bottle;
mod bound;
mod closure;
mod closure_data;
mod constants;
mod course;
mod forecast;
mod oxygen;
mod rates;
mod salting;
mod stoichiometry;

pub use bottle::{Bottle, BottleBuilder};
pub use bound::OxygenBound;
pub use closure::{
    Breath, Closure, Conductance, Ingress, Permeability, Polymer, breathing, closures, polymers,
};
pub use course::{
    Act, Change, Contents, Course, Event, Kinetics, KineticsBuilder, Moment, Portion, Summary,
    Vessel,
};
pub use forecast::{
    Advice, BottleChoice, Bought, CurvePoint, Estimate, Fit, Forecast, ForecastColumns,
    ForecastRow, Forecaster, InkChemistry, Measure, Outcome, Rescue, Seen, Sighting, Spread,
    StoredInk, Varied, fit, rank_bottles, rank_measures,
};
pub use oxygen::{
    Air, HenryConstant, dissolved_oxygen, gas_amount, henry_constant, oxygen_diffusion,
    pressure_at_altitude, water_vapor_pressure, wet_air_oxygen,
};
pub use rates::{
    Assisted, FirstOrder, Hydrolysis, InorganicRate, IronLaw, IronShares, Milieu, Observation,
    Pace, Parameter, SecondOrder, ThirdOrder, Validity, ascorbic_acid_rate, laws_at, observations,
    reduction_for_steady_share, steady_iron_iii_share,
};
pub use salting::{Ion, IonRow, SaltingSet, ion_rows, salting_out};
pub use stoichiometry::{
    Scavenger, iron_mass, iron_oxidised_by, oxygen_for_iron, oxygen_mass, scavengers,
};
pub use uom::si::f64::DiffusionCoefficient;

pub(crate) use constants::CONSTANTS;
pub(crate) use rates::{CONSTANTS as RATE_CONSTANTS, PARAMETER_CONSTANTS};

use crate::quantity::OutOfRange;

/// Why a question about oxygen has no answer.
///
/// ```
/// use ferrogall::oxidation::{OxidationError, water_vapor_pressure};
/// use ferrogall::quantity::celsius;
/// let OxidationError::OutOfRange(e) = water_vapor_pressure(celsius(60.0)).unwrap_err() else {
///     unreachable!()
/// };
/// assert_eq!((e.what, e.max), ("temperature", 40.0));
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OxidationError {
    /// An input outside the range in which the data hold.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The lower of two temperatures is not the lower.
    #[error("low temperature = {low_c} °C is above the high temperature, {high_c} °C")]
    TemperaturesSwapped {
        /// What was given as the low temperature, °C.
        low_c: f64,
        /// What was given as the high temperature, °C.
        high_c: f64,
    },
    /// An event is earlier than the one before it.
    #[error("event {index}, at {at_s} s, is earlier than the one before it")]
    EventsOutOfOrder {
        /// Which, from 0.
        index: usize,
        /// Its time, s.
        at_s: f64,
    },
    /// A time asked for is earlier than the one before it.
    #[error("time {index} asked for, {at_s} s, is earlier than the one before it")]
    TimesOutOfOrder {
        /// Which, from 0.
        index: usize,
        /// The time, s.
        at_s: f64,
    },
    /// pH and acid are asked of an ink whose composition is not known.
    #[error("the composition of the ink is not known, only its iron, tannin and pH")]
    NoComposition,
    /// The equilibrium of the ink cannot be found.
    #[error(transparent)]
    Equilibrium(#[from] crate::equilibrium::EquilibriumError),
    /// The equations could not be followed.
    #[error("the bottle could not be followed beyond {at_s} s, after {steps} steps")]
    Unsolved {
        /// How far it went, s.
        at_s: f64,
        /// Steps since the last event.
        steps: u64,
    },
}
