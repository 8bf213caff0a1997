//! The figure of a finding in another recipe.

use crate::check::{Code, Finding, Subject, dissolved, doses, history, published};
use crate::composition::Bulk;
use crate::composition::Component;
use crate::quantity::{ReadMassConcentration, ReadMolarConcentration};
use crate::recipe::Evaluation;

/// What the finding's figure is in this recipe, whether it is a finding there or not.
pub(super) fn of(finding: &Finding, made: &Evaluation) -> Option<f64> {
    let c = &made.composition;
    let found = match (finding.code, finding.about) {
        (Code::WrongHydrate, Subject::Ink) => {
            Some(c.iron_mass_concentration().in_grams_per_liter())
        }
        (Code::WrongHydrate | Code::NearlyPublished, Subject::Figure(what)) => {
            published::figure(made, what)
        }
        (Code::IronInExcess, _) => c.ratios().iron_per_galloyl,
        (Code::RatioOutsideHistory | Code::StrengthOutsideHistory, Subject::Figure(what)) => {
            history::figure(made, what)
        }
        (Code::NoInk, Subject::Figure("iron")) => Some(c.iron().value),
        (Code::NoInk, _) => Some(c.galloyl().value),
        (Code::NoWater, _) => Some(c.mass_of(Bulk::Water).value / c.mass().value),
        (Code::MarcDrinksLiquor, Subject::Line(place)) => {
            let mut soaks = made.solutions.iter().flat_map(|s| &s.extractions);
            soaks.nth(place).map(|e| e.held_back.value())
        }
        (Code::DyePrecipitates, Subject::Figure(id)) => {
            let mut all = made.lines.iter().flat_map(|l| l.lot.materials());
            let dye = c.mass_concentration(Bulk::Dye).in_grams_per_liter();
            Some(if all.any(|m| m.id() == id) { dye } else { 0.0 })
        }
        (Code::DoseFarFromReference, Subject::Figure(what)) => doses::figure(made, what),
        (Code::BeyondSolubility, Subject::Pot(place, what)) => dissolved::figure(made, place, what),
        (Code::MasksIron, Subject::Figure(id)) => {
            let held = c.amount(Component::from_id(id)?).value;
            Some(held / c.iron().value)
        }
        (Code::NoAcid, _) => Some(c.concentration(c.strong_acid()).in_millimoles_per_liter()),
        _ => None,
    };
    found.filter(|x| x.is_finite())
}
