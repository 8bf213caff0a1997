//! How fast: rate constants and the laws that give them.
//!
//! | question | answer |
//! |---|---|
//! | iron(II) and oxygen alone | [`IronLaw`], and their disagreement, [`InorganicRate`] |
//! | iron(II) held by tannin | [`Assisted`]: a guess a factor of fifty wide |
//! | iron(III) back again | [`reduction_for_steady_share`] |
//! | what else is only a span | [`Parameter`] |
//! | what was measured near by | [`observations`] |

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
pub use reduction::{ascorbic_acid_rate, reduction_for_steady_share, steady_iron_iii_share};

pub(crate) use coefficients::CONSTANTS;
pub(crate) use parameter::PARAMETER_CONSTANTS;
