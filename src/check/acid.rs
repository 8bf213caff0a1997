//! Rules about the acid.

use super::rules::COMMON_PRACTICE;
use super::{Code, Finding, Severity, Subject};
use crate::bench::Material;
use crate::composition::Component;
use crate::quantity::{ReadMolarConcentration, moles};
use crate::recipe::Evaluation;
use crate::source::{Source, Status};

/// Below this (mmol/L) acid and base are rounding, not chemistry.
const NOTHING: f64 = 0.05;

/// Alkalinity that the waters bring into the ink, mol of charge.
fn alkalinity(made: &Evaluation) -> f64 {
    made.lines
        .iter()
        .filter(|l| matches!(l.lot.material(), Some(Material::Water(_))))
        .map(|l| {
            let whole = l.lot.contents(l.mass).amount(Component::Carbonate);
            whole.value * l.reach
        })
        .sum()
}

pub(super) fn water_eats_acid(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let mmol = |mol: f64| c.concentration(moles(mol)).in_millimoles_per_liter();
    let eaten = mmol(alkalinity(made));
    let given = mmol(c.strong_acid().value) + eaten;
    if eaten < NOTHING || given < NOTHING || eaten / given < 0.1 {
        return;
    }
    found.push(Finding {
        about: Subject::Ink,
        slips: Vec::new(),
        code: Code::WaterEatsAcid,
        severity: if eaten / given > 0.5 {
            Severity::Warning
        } else {
            Severity::Notice
        },
        message: format!(
            "the water's alkalinity eats {eaten:.1} of the {given:.1} mmol/L of strong acid ({:.0} %): more acid, or distilled water",
            (100.0 * eaten / given).min(999.0)
        ),
        value: eaten / given,
        limit: 0.1,
        unit: "mol/mol",
        source: Source::new(
            "alkalinity as CaCO3 over 50.04 g per mol of charge, computed",
            Status::Computed,
        ),
    });
}

/// Weak acids with the protons that a base left over can take from them.
const WEAK: &[(Component, f64)] = &[
    (Component::Acetate, 1.0),
    (Component::Tartrate, 2.0),
    (Component::Citrate, 3.0),
    (Component::Oxalate, 2.0),
    (Component::Phosphate, 2.0),
];

pub(super) fn no_acid(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let acid = c.concentration(c.strong_acid()).in_millimoles_per_liter();
    if acid > NOTHING || c.iron().value <= 0.0 {
        return;
    }
    if acid > -NOTHING {
        found.push(Finding {
            about: Subject::Ink,
            slips: Vec::new(),
            code: Code::NoAcid,
            severity: Severity::Notice,
            message: "no strong acid is added; published inks hold 34 to 69 mmol/L, which keeps the iron dissolved".into(),
            value: 0.0,
            limit: 34.3,
            unit: "mmol/L",
            source: Source::new(
                "TT-I-563 and SFS 1964:504, computed from their hydrochloric acid",
                Status::Secondary,
            ),
        });
        return;
    }
    let weak: f64 = WEAK
        .iter()
        .map(|&(w, protons)| protons * c.molarity(w).in_millimoles_per_liter())
        .sum();
    let enough = weak > -acid;
    found.push(Finding {
        about: Subject::Ink,
        slips: Vec::new(),
        code: Code::NoAcid,
        severity: if enough {
            Severity::Notice
        } else {
            Severity::Warning
        },
        message: if enough {
            format!(
                "no strong acid, and {:.1} mmol/L of base taken up by weak acid: the ink darkens and settles sooner than with mineral acid",
                -acid
            )
        } else {
            let water = c.concentration(moles(alkalinity(made))).in_millimoles_per_liter();
            let whose = if water > -0.5 * acid {
                " from the water's alkalinity"
            } else {
                ""
            };
            format!(
                "no acid is left, but {:.1} mmol/L of base{whose}: iron will oxidise and settle soon",
                -acid
            )
        },
        value: acid,
        limit: 0.0,
        unit: "mmol/L",
        source: COMMON_PRACTICE,
    });
}
