//! The oxidation budget of a bottle of ink: bound, estimate and floor, what
//! would make it keep longer, and what one's own observations say.

mod choice;
mod columns;
mod draw;
mod estimate;
mod fit;
mod ink;
mod measures;
mod rescue;
mod run;
mod usage;

pub use choice::{BottleChoice, rank_bottles};
pub use columns::{ForecastColumns, ForecastRow, Varied};
pub use estimate::{CurvePoint, Estimate, Forecast, Forecaster, Spread};
pub use fit::{Fit, Seen, Sighting, fit};
pub use ink::StoredInk;
pub use measures::{Bought, Measure, rank_measures};
pub use rescue::{Advice, InkChemistry, Rescue};
pub use run::Outcome;
