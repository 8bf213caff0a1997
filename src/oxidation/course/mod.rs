//! The course of oxidation in a bottle: what is in it, how fast it reacts,
//! what happens to it, and how it goes on.

mod contents;
mod event;
mod extrapolation;
mod keep;
mod kinetics;
mod run;
mod system;
mod vessel;
mod walk;

pub use contents::Contents;
pub use event::{Act, Change, Event, Portion};
pub use kinetics::{Kinetics, KineticsBuilder};
pub use run::{Course, Moment, Summary};
pub use vessel::Vessel;
