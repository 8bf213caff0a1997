//! What was measured of iron, oxygen and phenols together.

use super::constant::{FirstOrder, SecondOrder};
use crate::oxidation::OxidationError;
use crate::quantity::{Share, moles_per_liter};
use crate::source::{Source, Status};
use uom::si::f64::Time;
use uom::si::time::minute;

/// How fast something went.
///
/// ```
/// use ferrogall::oxidation::Pace;
/// let k = Pace::Lost { share: 0.5, minutes: 10.0 }.first_order()?;
/// assert!((k.in_per_second() * 600.0 - 2f64.ln()).abs() < 1e-12);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Pace {
    /// First-order constant, 1/min.
    PerMinute(f64),
    /// First-order constant, 1/s.
    PerSecond(f64),
    /// This share was gone after so long.
    Lost {
        /// Share gone, 0 to 1.
        share: f64,
        /// Minutes.
        minutes: f64,
    },
}

impl Pace {
    /// As a first-order constant.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for a rate outside 0 to 1e12 /s, a share
    /// outside 0 to 1, a time that is not positive.
    pub fn first_order(self) -> Result<FirstOrder, OxidationError> {
        match self {
            Pace::PerMinute(k) => FirstOrder::per_second(k / 60.0),
            Pace::PerSecond(k) => FirstOrder::per_second(k),
            Pace::Lost { share, minutes } => {
                FirstOrder::of_loss(Share::new(share)?, Time::new::<minute>(minutes))
            }
        }
    }
}

/// A published measurement near the chemistry of ink.
///
/// None was made in ink, or at its pH.
///
/// ```
/// use ferrogall::oxidation::observations;
/// let slow = observations().iter().find(|o| o.id == "polyphenols_ph6_slowest").unwrap();
/// let k = slow.second_order()?.unwrap();
/// assert!((k.in_l_per_mol_s() - 9.0).abs() < 0.1);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Observation {
    /// Identifier.
    pub id: &'static str,
    /// What reacted.
    pub what: &'static str,
    /// Under which conditions.
    pub conditions: &'static str,
    /// pH.
    pub ph: f64,
    /// How fast.
    pub pace: Pace,
    /// The other substance, mol/L; in air, the oxygen of water at 25 °C. `None`
    /// where more than one mattered.
    pub other_mol_per_l: Option<f64>,
    /// Where it was read.
    pub source: Source,
}

impl Observation {
    /// The constant with the other substance, if first order in it.
    ///
    /// # Errors
    /// None for the rows of [`observations`].
    pub fn second_order(&self) -> Result<Option<SecondOrder>, OxidationError> {
        let Some(c) = self.other_mol_per_l else {
            return Ok(None);
        };
        let k = self.pace.first_order()?;
        k.with(moles_per_liter(c)).map(Some)
    }
}

const PERRON: Source = Source::new(
    "Perron et al. 2010, Dalton Trans. 39:9982, abstract",
    Status::Published,
);
const PEREZ: Source = Source::new(
    "Perez-Almeida et al. 2022, Front. Mar. Sci. 837363, abstract",
    Status::Published,
);
/// Oxygen in air-saturated water at 25 °C, mol/L.
const AIR_SATURATED: Option<f64> = Some(2.582e-4);

const OBSERVATIONS: &[Observation] = &[
    Observation {
        id: "polyphenols_ph6_slowest",
        what: "iron(II) bound to polyphenol, with oxygen",
        conditions: "slowest of five polyphenols, air, initial rate",
        ph: 6.0,
        pace: Pace::PerMinute(0.14),
        other_mol_per_l: AIR_SATURATED,
        source: PERRON,
    },
    Observation {
        id: "polyphenols_ph6_fastest",
        what: "iron(II) bound to polyphenol, with oxygen",
        conditions: "fastest of five polyphenols (gallols before catechols), air, initial rate",
        ph: 6.0,
        pace: Pace::PerMinute(6.7),
        other_mol_per_l: AIR_SATURATED,
        source: PERRON,
    },
    Observation {
        id: "seawater_ph8_alone",
        what: "iron(II) lost to oxygen",
        conditions: "sea water, nmol/L of iron, no gallic acid",
        ph: 8.0,
        pace: Pace::Lost {
            share: 0.693,
            minutes: 10.0,
        },
        other_mol_per_l: None,
        source: PEREZ,
    },
    Observation {
        id: "seawater_ph8_gallic_acid",
        what: "iron(II) lost to oxygen, net of what gallic acid reduces back",
        conditions: "sea water, nmol/L of iron, 100 nmol/L gallic acid",
        ph: 8.0,
        pace: Pace::Lost {
            share: 0.375,
            minutes: 30.0,
        },
        other_mol_per_l: None,
        source: PEREZ,
    },
    Observation {
        id: "gallic_acid_reduces_ph7",
        what: "iron(III) reduced by gallic acid",
        conditions: "sea water, 250 nmol/L gallic acid; faster at lower pH, not to be carried to pH 2",
        ph: 7.0,
        pace: Pace::PerSecond(1.078e-4),
        other_mol_per_l: Some(2.5e-7),
        source: PEREZ,
    },
    Observation {
        id: "gallic_acid_reduces_ph8",
        what: "iron(III) reduced by gallic acid",
        conditions: "sea water, 250 nmol/L gallic acid",
        ph: 8.0,
        pace: Pace::PerSecond(3.407e-5),
        other_mol_per_l: Some(2.5e-7),
        source: PEREZ,
    },
];

/// The measurements.
pub const fn observations() -> &'static [Observation] {
    OBSERVATIONS
}
