//! How fast: rate constants and the laws that give them.

mod assisted;
mod coefficients;
mod constant;
mod inorganic;
mod law;
mod milieu;
mod observed;
mod parameter;
mod reduction;

pub use assisted::Assisted;
pub use constant::{FirstOrder, SecondOrder, ThirdOrder};
pub use inorganic::{InorganicRate, laws_at};
pub use law::{IronLaw, Validity};
pub use milieu::{Hydrolysis, IronShares, Milieu};
pub use observed::{Observation, Pace, observations};
pub use parameter::Parameter;
pub use reduction::{reduction_for_steady_share, steady_iron_iii_share};

pub(crate) use coefficients::CONSTANTS;
pub(crate) use parameter::PARAMETER_CONSTANTS;
