//! Tannin out of the plant: how much, how soon, in how much water.
//!
//! Galls, leaf or bark are crushed, soaked, strained, soaked again, and the
//! liquor is boiled down. This room says what is in each liquor, with an
//! interval.
//!
//! - [`Process`]: a plant lot, its [`Grain`], one [`Wash`] after the other,
//!   before them [`Rain`] and [`Fermentation`], after them [`BoilDown`];
//! - [`Liquors`]: what comes of it, what stays in the marc, the cautions;
//! - [`Process::time_to`], [`Process::paste_below`], [`Process::water_for`],
//!   [`Liquors::compared_with`], [`Liquors::at_strength`]: makers' questions;
//! - [`TeaBrew`]: tea by the bag, as measured in brews;
//! - [`Peleg`] and [`FirstOrderExtraction`]: for those who have measured;
//! - [`sphere`], [`slab`], [`sphere_in_bath`]: diffusion out of a grain.
//!
//! ```
//! use ferrogall::bench::Lot;
//! use ferrogall::extraction::{Grain, Process, Straining, Wash};
//! use ferrogall::quantity::*;
//! let galls = Lot::of("aleppo_galls")?.build()?;
//! let overnight = Wash::of(grams(500.0), celsius(18.0), hours(12.0))?
//!     .strained(Straining::Pressed)?;
//! let liquors = Process::new(&galls, grams(50.0), Grain::crushed())?
//!     .wash(overnight)?
//!     .run()?;
//! println!("{:.0} % of the tannin", liquors.extracted.value() * 100.0);
//! for caution in &liquors.cautions {
//!     println!("{caution} [{}]", caution.source());
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # The model
//!
//! Of the tannin a share e is accessible. In the end it is the same
//! concentration everywhere, e/(L + K) per gram of dry plant, with L grams of
//! liquid (the plant's own moisture included) and what the solid binds counted
//! as K grams more. How far that has come is f = w + (1 − w)·F(Fo): w is the
//! share of cells that are broken, F Crank's share for a sphere or a slab at
//! Fo = D·t/R², D following Arrhenius' law. The marc keeps h grams of liquor
//! per gram; so one wash gives e·f·(L − h)/(L + K), and the next one starts
//! with what is left. The liquid about a grain is taken to be at its final
//! strength from the start; really the end comes a little sooner, the less
//! water the sooner ([`sphere_in_bath`]).
//!
//! # How far to trust it
//!
//! Only tea is measured well. Of galls neither diffusivity nor partition is
//! published: [`Parameter`] holds what was carried over, with wide spans, and
//! every figure is an interval. For a maker the amount of water, what the
//! marc keeps and the number of washes decide; grain and time only decide
//! where lumps are coarse or the soak is short. Water is taken as water
//! (no alcohol, no acid), grains as of one size, the bath as stirred now and
//! then; hotter than 90 °C nothing is known, and a caution says so.

mod answers;
mod cautions;
mod diffusion;
mod draws;
mod fermentation;
mod film;
mod grain;
mod liquors;
mod model;
mod parameter;
mod peleg;
mod process;
mod tally;
mod tea;
mod wash;

pub use crate::span::Span;
pub use answers::WaterNeeded;
pub use cautions::Caution;
pub use diffusion::{Shape, bath_root, slab, sphere, sphere_in_bath};
pub use fermentation::Fermentation;
pub use film::FirstOrderExtraction;
pub use grain::{Grain, Rain, Soak, diffusivity};
pub use liquors::{AtStrength, Boiled, Comparison, Liquor, Liquors, Marc, Strained};
pub use parameter::Parameter;
pub use peleg::Peleg;
pub use process::{BoilDown, Process};
pub use tea::TeaBrew;
pub use uom::si::f64::DiffusionCoefficient;
pub use wash::{Straining, Wash};

pub(crate) use parameter::{CONSTANTS, GALLIC_ACID_CEILING, PARAMETER_CONSTANTS};

use crate::quantity::OutOfRange;

/// Why a question about extraction has no answer.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{ExtractionError, Grain, Process};
/// use ferrogall::quantity::grams;
/// let acid = Lot::of("tannic_acid")?.named("tannic acid").build()?;
/// let e = Process::new(&acid, grams(5.0), Grain::powder()).unwrap_err();
/// assert_eq!(e, ExtractionError::NotAPlant { lot: "tannic acid".into() });
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ExtractionError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Only plants are extracted.
    #[error("{lot:?} is no plant matter: it dissolves")]
    NotAPlant {
        /// Name of the lot.
        lot: String,
    },
    /// No water was poured on.
    #[error("no wash: say how much water, how warm and how long")]
    NoWash,
    /// More than are reckoned with.
    #[error("more than {most} {what}")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many there may be.
        most: usize,
    },
    /// No time and no amount of water is enough.
    #[error("a {what} of {asked:.3} is never reached, at most {most:.3}")]
    Never {
        /// What was asked for.
        what: &'static str,
        /// How much of it.
        asked: f64,
        /// How much there can be.
        most: f64,
    },
    /// Boiling down to more than there is.
    #[error("cannot boil {liquor_m3:.3e} m3 of liquor down to {asked_m3:.3e} m3")]
    NothingToBoil {
        /// Volume asked for, m³.
        asked_m3: f64,
        /// Volume of the liquors, m³.
        liquor_m3: f64,
    },
    /// No water is left at the volume asked for.
    #[error(
        "at {asked_m3:.3e} m3 no water is left: the dissolved matter has {dissolved_m3:.3e} m3"
    )]
    BoilsDry {
        /// Volume asked for, m³.
        asked_m3: f64,
        /// Volume of the dissolved matter, m³.
        dissolved_m3: f64,
    },
    /// More than a soak: it gives a liquor, which is a lot of its own.
    #[error("{what} makes it more than one soak: take its liquor as a lot")]
    MoreThanASoak {
        /// What does.
        what: &'static str,
    },
    /// There is no liquor to speak of.
    #[error("no liquor: nothing drains, or there is no tannin in it")]
    NoLiquor,
    /// Too few measurements, or such as no curve fits.
    #[error("cannot fit: {why}")]
    CannotFit {
        /// Why not.
        why: &'static str,
    },
}
