//! What the air in the bottle does to the ink, and how long it keeps.
//!
//! Iron(II) is what makes an ink write pale and darken on paper; iron(III) is
//! what settles in the bottle. Oxygen turns one into the other, four iron at
//! most for each O₂. Three figures go together, and [`Forecast`] gives all of
//! them:
//!
//! | figure | what it says | where |
//! |---|---|---|
//! | **bound** | all oxygen that can have come in, times four | [`Bottle::bound`] |
//! | **estimate** | the bottle model, with a wide interval | [`Estimate`] |
//! | **floor** | the slow inorganic reaction alone | [`InorganicRate`] |
//!
//! Only the bound needs no rate constant, and it is the one to trust. It is an
//! **upper bound on the loss of iron(II), not a promise of shelf life**: an
//! ink may keep far better (tannin reduces iron(III) back, the acid slows the
//! reaction), and it may spoil for reasons that have nothing to do with oxygen
//! (mould, lost acid, a precipitate of another kind). Nor does it say that an
//! ink is safe for a pen or for paper.
//!
//! ```
//! use ferrogall::oxidation::{Forecast, Measure, StoredInk, rank_measures};
//! use ferrogall::quantity::*;
//! // 0.054 mol/L of iron(II), 0.05 of galloyl units, pH 2.2
//! let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
//! let bottle = ink
//!     .bottle(milliliters(40.0), milliliters(30.0))
//!     .opened_every(days(7.0))
//!     .drawn_per_opening(milliliters(0.5))
//!     .kept_for(days(90.0))
//!     .build()?;
//! let f = Forecast::of(&ink, &bottle)?;
//! println!("at most {:.0} %", f.bound.share_after_duration.as_percent());
//! println!("about {:.0} %", f.estimate.typical.lost.as_percent());
//! for bought in rank_measures(&ink, &bottle, &Measure::usual(&ink, &bottle), 51)? {
//!     println!("{:+.0} % by {}", -100.0 * bought.saved, bought.measure.in_words());
//! }
//! # Ok::<(), ferrogall::oxidation::OxidationError>(())
//! ```
//!
//! # What is here
//!
//! - supply: [`Air`], [`dissolved_oxygen`], [`salting_out`], [`Closure`],
//!   [`breathing`], [`oxygen_diffusion`], [`scavengers`];
//! - the bottle and its use: [`Bottle`], from filling over openings to seasons;
//! - rates: [`IronLaw`] and [`Milieu`] for iron(II) and oxygen by themselves,
//!   each published law and how far they disagree ([`InorganicRate`]);
//!   [`Assisted`], [`Parameter`], [`observations`]: what is known, and how
//!   badly, of the reactions that tannin brings;
//! - the model: [`Course`] follows the amounts of a [`Vessel`] through
//!   [`Event`]s with the constants of [`Kinetics`], one world at a time;
//! - the answers: [`Forecast`], [`rank_measures`], [`rank_bottles`],
//!   [`StoredInk::rescue`], [`ForecastColumns`] for many bottles;
//! - [`fit`]: your own observations, and a forecast that is yours.
//!
//! # The model
//!
//! Well-mixed ink, well-mixed headspace, and between them a film that passes
//! oxygen. In the ink, with c in mol/L:
//!
//! ```text
//! oxidation   (k1 + k2 c(FeII)) c(FeII) c(O2)    takes 1/nu O2 for each iron
//! reduction   k_red c(FeIII) c(phenol electrons)
//! settling    k_sed (c(FeIII) - soluble)
//! scavenging  k_A c(A) c(O2)
//! metal       k_metal c(FeIII)                   brings half an iron more
//! transfer    kL·surface (H p(O2) - c(O2))       from gas to ink
//! closure     G (p(outside) - p(O2))             and breath of a leaky cap
//! ```
//!
//! What it leaves out: sunlight, mould, hydrolysis of tannin, oxygen dissolved
//! in cork, the change of pH within a run (rates are those of the first pH;
//! [`StoredInk::chemistry`] tells how the pH goes).

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
    pressure_at_altitude, still_water_time, water_vapor_pressure, wet_air_oxygen,
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
