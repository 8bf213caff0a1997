//! The oxidation budget of a bottle of ink: bound, estimate and floor, what
//! would make it keep longer, and what one's own observations say.

mod draw;
mod estimate;
mod ink;
mod run;
mod usage;

pub use estimate::{CurvePoint, Estimate, Forecast, Forecaster, Spread};
pub use ink::StoredInk;
pub use run::Outcome;
