//! The oxidation budget of a bottle of ink: bound, estimate and floor, what
//! would make it keep longer, and what one's own observations say.

mod choice;
mod draw;
mod estimate;
mod ink;
mod measures;
mod run;
mod usage;

pub use choice::{BottleChoice, rank_bottles};
pub use estimate::{CurvePoint, Estimate, Forecast, Forecaster, Spread};
pub use ink::StoredInk;
pub use measures::{Bought, Measure, rank_measures};
pub use run::Outcome;
