//! Rules about how much is usual.

use super::dissolved::present;
use super::published::figures;
use super::rules::is_dry;
use super::{Code, Finding, Severity, Subject};
use crate::bench::{Material, Preservative, find};
use crate::chem;
use crate::composition::{Bulk, Component};
use crate::quantity::{ReadMassConcentration, ReadMolarConcentration};
use crate::recipe::Evaluation;
use crate::source::{Source, Status};

/// Doses far from those of the reference inks and of the trade.
pub(super) fn far_from_reference(made: &Evaluation, found: &mut Vec<Finding>) {
    if is_dry(made) {
        return;
    }
    preservatives(made, found);
    gum_and_dye(made, found);
    strong_acid(made, found);
}

/// Under this share of the least dose that is used, a preservative is as good as
/// left out: judgement.
const HARDLY_ANY: f64 = 0.25;

fn preservatives(made: &Evaluation, found: &mut Vec<Finding>) {
    let all: Vec<(&Preservative, f64)> = present(made)
        .filter_map(|(p, component)| Some((p, dose_of(made, p, component)?)))
        .collect();
    // One that does its work makes up for another.
    let kept = all.iter().any(|(p, dose)| *dose >= HARDLY_ANY * least(p));
    for (p, dose) in all {
        let usual = p.reference_dose_g_per_l;
        let words = figures(dose);
        let (limit, message) = match usual {
            Some(reference) if dose > 4.0 * reference => (
                reference,
                format!(
                    "{words} g/L of {} is {} times the dose of the reference inks ({reference} g/L); copies of a formula with 12.5 times are in circulation",
                    p.name,
                    figures(dose / reference)
                ),
            ),
            None if p.dose_g_per_l.max > 0.0 && dose > 2.0 * p.dose_g_per_l.max => (
                p.dose_g_per_l.max,
                format!(
                    "{words} g/L of {} is well above the doses met with (up to {} g/L)",
                    p.name, p.dose_g_per_l.max
                ),
            ),
            _ if !kept => (
                least(p),
                format!(
                    "{words} g/L of {} hardly keeps mould away; {} g/L is the least dose used",
                    p.name,
                    least(p)
                ),
            ),
            _ => continue,
        };
        found.push(Finding {
            about: Subject::Figure(p.id),
            slips: Vec::new(),
            code: Code::DoseFarFromReference,
            // Phenol poisons through the skin: a slip is no matter of taste.
            severity: if p.id == "phenol" && dose > limit {
                Severity::Error
            } else {
                Severity::Warning
            },
            message,
            value: dose,
            limit,
            unit: "g/L",
            source: p.source,
        });
    }
}

/// The least dose that is used, g/L.
fn least(p: &Preservative) -> f64 {
    p.reference_dose_g_per_l.unwrap_or(p.dose_g_per_l.min)
}

/// g/L, counted as the substance that is weighed.
fn dose_of(made: &Evaluation, p: &Preservative, component: Component) -> Option<f64> {
    let formula = chem::molar_mass(p.formula).ok()?;
    // mol/m³ times kg/mol.
    Some(made.composition.molarity(component).value * formula.value)
}

/// The dose that a finding of this room speaks of, here or in another recipe;
/// nothing when there is none of it any more.
pub(super) fn figure(made: &Evaluation, what: &str) -> Option<f64> {
    let c = &made.composition;
    if what == "strong acid" {
        return Some(c.concentration(c.strong_acid()).in_millimoles_per_liter());
    }
    if let Some((p, component)) = present(made).find(|(p, _)| p.id == what) {
        return dose_of(made, p, component);
    }
    match find(what)? {
        Material::Gum(_) => Some(c.mass_concentration(Bulk::Gum).in_grams_per_liter()),
        Material::Dye(_) => Some(c.mass_concentration(Bulk::Dye).in_grams_per_liter()),
        Material::Preservative(_) => Some(0.0),
        _ => None,
    }
}

/// Gum and dye against twice the highest dose the catalogue knows.
fn gum_and_dye(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    for m in made.lines.iter().flat_map(|l| l.lot.materials()) {
        let (name, bulk, most, source) = match m {
            Material::Gum(g) => (g.name, Bulk::Gum, g.dose_g_per_l.max, g.source),
            Material::Dye(d) => (d.name, Bulk::Dye, d.dose_g_per_l.max, d.source),
            _ => continue,
        };
        let dose = c.mass_concentration(bulk).in_grams_per_liter();
        let told = found
            .iter()
            .any(|f| f.code == Code::DoseFarFromReference && f.value == dose);
        if most > 0.0 && dose > 2.0 * most && !told {
            found.push(Finding {
                about: Subject::Figure(m.id()),
                slips: Vec::new(),
                code: Code::DoseFarFromReference,
                severity: Severity::Warning,
                message: format!(
                    "{} g/L of {name} is well above the doses met with (up to {most} g/L)",
                    figures(dose)
                ),
                value: dose,
                limit: most,
                unit: "g/L",
                source,
            });
        }
    }
}

/// The strongest published ink holds 2.5 g/L of hydrogen chloride.
const MOST_ACID_MMOL_PER_L: (f64, Source) = (
    68.6,
    Source::new(
        "SFS 1964:504: 2.5 g/L of hydrogen chloride, computed",
        Status::Secondary,
    ),
);

fn strong_acid(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let acid = c.concentration(c.strong_acid()).in_millimoles_per_liter();
    let (most, source) = MOST_ACID_MMOL_PER_L;
    if acid > 3.0 * most {
        found.push(Finding {
            about: Subject::Figure("strong acid"),
            slips: Vec::new(),
            code: Code::DoseFarFromReference,
            severity: Severity::Warning,
            message: format!(
                "{} mmol/L of strong acid is {} times that of the strongest published ink: it eats pens and paper",
                figures(acid),
                figures(acid / most)
            ),
            value: acid,
            limit: most,
            unit: "mmol/L",
            source,
        });
    }
}
