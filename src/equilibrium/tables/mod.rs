//! Constants as data: one file a set, each row with its source.

mod core;
mod disputed;
mod reviewed;
mod solids;

pub(crate) use core::{CORE, CORE_SOLIDS};
pub(crate) use disputed::DISPUTED;
pub(crate) use reviewed::REVIEWED;
pub(crate) use solids::SOLIDS;

use crate::source::Source;

/// A formation reaction of one dissolved species, at 25 °C and zero ionic
/// strength.
pub(crate) struct Row {
    /// As `Fe+2 + SO4-2 = FeSO4`; the species formed is on the right, with
    /// the protons or water that come off beside it.
    pub equation: &'static str,
    /// log10 of the constant.
    pub log_k: f64,
    /// Its standard uncertainty (k = 1).
    pub u: f64,
    /// Enthalpy of the reaction, kJ/mol; `None`: not known, taken as 0.
    pub delta_h: Option<f64>,
    pub source: Source,
}

/// How readily a solid forms from an ink that is beyond its solubility.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Onset {
    /// Hours to days at room temperature.
    Prompt,
    /// Months to years, heat, or seeds.
    Slow,
}

/// The dissolution of a solid (or a gas), at 25 °C.
pub(crate) struct SolidRow {
    pub name: &'static str,
    /// As `CaSO4:2H2O = Ca+2 + SO4-2 + 2 H2O`: the solid comes first.
    pub equation: &'static str,
    pub log_k: f64,
    pub u: f64,
    pub delta_h: Option<f64>,
    pub onset: Onset,
    pub source: Source,
}

/// One published value of a disputed constant: any log K from `low` to `high`
/// is held equally likely.
pub(crate) struct Opinion {
    pub low: f64,
    pub high: f64,
    pub citation: &'static str,
}

/// A constant that compilations dispute: each opinion is held equally likely.
pub(crate) struct Dispute {
    /// The species as the reviewed set names it.
    pub species: &'static str,
    pub opinions: &'static [Opinion],
}
