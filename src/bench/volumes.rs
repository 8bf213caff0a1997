//! What dissolved matter adds to the volume of an ink.
//!
//! Apparent specific volumes at ink dilution and 20 °C, so that volumes add
//! up. Electrolytes come from the density tables of [`crate::chem`], taken at
//! 2 % by mass; the rest are the constants below.

use super::material::{Acid, IronSalt};
use crate::chem::{self, Solute};
use crate::composition::Component;
use crate::quantity::{MassFraction, celsius};
use crate::source::{Constant, Source, Status};

/// Density of water at 20 °C.
pub(super) const WATER_KG_PER_M3: Constant = Constant {
    id: "water_density_20c",
    value: 998.2063,
    u: 0.001,
    unit: "kg/m3",
    source: Source::new(
        "G.S. Kell 1975, J. Chem. Eng. Data 20, 97, air-free water at 1 atm",
        Status::Published,
    ),
};

pub(super) const TANNIN: Constant = Constant {
    id: "apparent_volume_tannin",
    value: 0.606e-3,
    u: 0.005e-3,
    unit: "m3/kg",
    source: Source::new(
        "computed from the specific gravities of 3 to 9 % gall tannin at 15 °C, Hammer 1861, Dingler's Polytechnisches Journal 159",
        Status::Published,
    ),
};

const GUM: Constant = Constant {
    id: "apparent_volume_gum",
    value: 0.61e-3,
    u: 0.02e-3,
    unit: "m3/kg",
    source: Source::new("partial specific volume of gum arabic", Status::FromMemory),
};

const ORGANIC: Constant = Constant {
    id: "apparent_volume_organic",
    value: 0.75e-3,
    u: 0.1e-3,
    unit: "m3/kg",
    source: Source::new(
        "round figure for dyes, phenols and other small organics in water",
        Status::ExpertGuess,
    ),
};

const OTHER_SALT: Constant = Constant {
    id: "apparent_volume_other_salt",
    value: 0.4e-3,
    u: 0.15e-3,
    unit: "m3/kg",
    source: Source::new(
        "round figure for salts without a density table",
        Status::ExpertGuess,
    ),
};

pub(super) const CONSTANTS: &[&Constant] =
    &[&WATER_KG_PER_M3, &TANNIN, &GUM, &ORGANIC, &OTHER_SALT];

/// Mass fractions at which the density tables are read: an ink's, or the
/// thinnest the handbook tabulates.
const INK_DILUTIONS: [f64; 2] = [0.02, 0.05];

/// What is dissolved, as far as its volume goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Dissolved {
    Tabulated(f64),
    Tannin,
    Gum,
    Organic,
    OtherSalt,
}

impl Dissolved {
    /// m³ per kg, without crystal water.
    pub(super) fn apparent_volume(self) -> f64 {
        match self {
            Dissolved::Tabulated(v) => v,
            Dissolved::Tannin => TANNIN.value,
            Dissolved::Gum => GUM.value,
            Dissolved::Organic => ORGANIC.value,
            Dissolved::OtherSalt => OTHER_SALT.value,
        }
    }
}

/// Apparent volume of a solute at ink dilution from its density table.
fn table(solute: Solute) -> Option<f64> {
    INK_DILUTIONS.iter().find_map(|&w| {
        let w = MassFraction::new(w).ok()?;
        let v = chem::apparent_specific_volume(solute, w, celsius(20.0)).ok()?;
        Some(v.value)
    })
}

/// By the ions of a salt, the density table that serves it.
pub(super) fn of_salt(row: &IronSalt) -> Dissolved {
    of_solute(match row.ions {
        [(Component::IronII, _), (Component::Sulfate, _)] => Some(Solute::IronIISulfate),
        [(Component::IronII, _), (Component::Chloride, _)] => Some(Solute::IronIIChloride),
        [(Component::IronIII, _), (Component::Sulfate, _)] => Some(Solute::IronIIISulfate),
        [(Component::IronIII, _), (Component::Chloride, _)] => Some(Solute::IronIIIChloride),
        _ => None,
    })
}

/// The density table that serves an acid.
pub(super) fn of_acid(row: &Acid) -> Dissolved {
    of_solute(row.density_solute.and_then(Solute::from_id))
}

/// The two solvents that have a table; other organics have none.
pub(super) fn of_organic(id: &str) -> Dissolved {
    let solute = match id {
        "ethanol" => Solute::Ethanol,
        "glycerol" => Solute::Glycerol,
        _ => return Dissolved::Organic,
    };
    table(solute).map_or(Dissolved::Organic, Dissolved::Tabulated)
}

/// A solute's density table; a round figure where there is none.
pub(super) fn of_solute(solute: Option<Solute>) -> Dissolved {
    solute
        .and_then(table)
        .map_or(Dissolved::OtherSalt, Dissolved::Tabulated)
}

/// Apparent volume (m³/kg, 20 °C) of a solute in a solution of this strength,
/// or of the strongest its table knows.
pub(super) fn at_strength(solute: Option<Solute>, strength: f64) -> f64 {
    let read = |solute: Solute| {
        let strongest = solute.valid().mass_fraction_max.value();
        let w = MassFraction::new(strength.min(strongest)).ok()?;
        let v = chem::apparent_specific_volume(solute, w, celsius(20.0)).ok()?;
        Some(v.value)
    };
    let dilute = || of_solute(solute).apparent_volume();
    solute.and_then(read).unwrap_or_else(dilute)
}

/// kg/m³ of a solution at 20 °C, where its table reaches: what is stronger
/// (a crystalline acid, say) is weighed.
pub(super) fn density_at_20(solute: &str, w: MassFraction) -> Option<f64> {
    let solute = Solute::from_id(solute)?;
    Some(chem::density(solute, w, celsius(20.0)).ok()?.value)
}
