//! What can go wrong in this room, formulas apart.

use super::solute::Solute;
use crate::quantity::{MassFraction, OutOfRange};

/// Why a question about a solution or a hydrometer has no answer.
///
/// ```
/// use ferrogall::chem::{ChemError, Solute, density};
/// use ferrogall::quantity::{MassFraction, celsius};
/// let strong = MassFraction::percent(60.0)?;
/// let e = density(Solute::HydrochloricAcid, strong, celsius(20.0)).unwrap_err();
/// assert!(matches!(e, ChemError::TooConcentrated { max_percent: 40.0, .. }));
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ChemError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// More solute than the density data reach.
    #[error(
        "{} at {percent} % w/w: density known up to {max_percent} % only",
        solute.name()
    )]
    TooConcentrated {
        /// The solute.
        solute: Solute,
        /// Mass fraction asked for, %.
        percent: f64,
        /// Largest mass fraction covered, %.
        max_percent: f64,
    },
    /// A temperature the density data do not reach.
    #[error(
        "{} at {celsius} °C: density known from {min_celsius} to {max_celsius} °C only",
        solute.name()
    )]
    TemperatureNotCovered {
        /// The solute.
        solute: Solute,
        /// Temperature asked for, °C.
        celsius: f64,
        /// Lowest temperature accepted, °C.
        min_celsius: f64,
        /// Highest temperature accepted, °C.
        max_celsius: f64,
    },
    /// No strength of this solute has such a density.
    #[error(
        "density {g_per_cm3} g/cm3 belongs to no solution of {}: {min_g_per_cm3} to {max_g_per_cm3}",
        solute.name()
    )]
    NoSuchDensity {
        /// The solute.
        solute: Solute,
        /// Density asked for, g/cm³.
        g_per_cm3: f64,
        /// Lowest density in the range covered, g/cm³.
        min_g_per_cm3: f64,
        /// Highest density in the range covered, g/cm³.
        max_g_per_cm3: f64,
    },
    /// Density does not tell the strength here: it passes through a maximum, so
    /// a weaker and a stronger solution weigh the same. Titrate instead.
    #[error(
        "density {g_per_cm3} g/cm3 does not tell the strength of {}: {} % or {}; titrate",
        solute.name(),
        lower.as_percent(),
        UpperReading(*upper)
    )]
    NotInvertible {
        /// The solute.
        solute: Solute,
        /// Density asked for, g/cm³.
        g_per_cm3: f64,
        /// The reading on the weak side of the maximum.
        lower: MassFraction,
        /// The reading on the strong side; none where the data end before it.
        upper: Option<MassFraction>,
    },
}

struct UpperReading(Option<MassFraction>);

impl core::fmt::Display for UpperReading {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self.0 {
            Some(w) => write!(f, "{} %", w.as_percent()),
            None => f.write_str("a stronger one beyond the data"),
        }
    }
}
