//! Rules about crystal water.

use super::published::figures;
use super::rules::materials;
use super::{Code, Finding, Severity, Subject};
use crate::bench::Material;
use crate::chem::constants::{GALLIC_ACID, GREEN_VITRIOL, IRON, WATER};
use crate::quantity::{ReadMass, ReadMassConcentration};
use crate::recipe::Evaluation;
use crate::standards::reference_inks;

/// Salts of the same metal and acid with less water than the crystals.
const DRIED: &[&str] = &[
    "iron_ii_sulfate_anhydrous",
    "iron_ii_sulfate_monohydrate",
    "iron_ii_sulfate_tetrahydrate",
];

/// A dried salt weighed as if it were crystals: with crystals the batch would be
/// a published ink, as it is it matches none. (The other way round there is no
/// telling: every published formula means crystals.)
pub(super) fn wrong_hydrate(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let published = || {
        reference_inks().iter().filter_map(|ink| {
            let vitriol = ink.doses.iter().find(|d| d.material == HEPTAHYDRATE)?;
            Some((ink, vitriol.g_per_l * IRON / GREEN_VITRIOL))
        })
    };
    // One per cent: a published weight, taken to the letter.
    let is_one = |iron: f64, reference: f64| (iron - reference).abs() < 0.01 * reference;
    let iron = c.iron_mass_concentration().in_grams_per_liter();
    if published().any(|(_, reference)| is_one(iron, reference)) {
        return;
    }
    for (material, line) in materials(made) {
        let liters = c.volume().value * 1e3;
        let grams = line.mass.in_grams() * line.reach;
        let Material::IronSalt(salt) = material else {
            continue;
        };
        if !DRIED.contains(&salt.id) || liters <= 0.0 || grams <= 0.0 {
            continue;
        }
        let brings = line.lot.contents(line.mass * line.reach).iron().value;
        let crystals = grams * 1e-3 / GREEN_VITRIOL;
        let meant = iron + (crystals - brings) * IRON * 1e3 / liters;
        let Some((ink, reference)) = published().find(|(_, r)| is_one(meant, *r)) else {
            continue;
        };
        let factor = brings / crystals;
        found.push(Finding {
            about: Subject::Ink,
            slips: Vec::new(),
            code: Code::WrongHydrate,
            severity: Severity::Warning,
            message: format!(
                "{} g of {} carries {factor:.2} times the iron of as much green vitriol, and the batch would match {} with crystals: if the recipe meant crystals, take {:.2} g",
                figures(grams),
                line.lot.name(),
                ink.name,
                grams / factor
            ),
            value: iron,
            limit: reference,
            unit: "g/L",
            source: ink.source,
        });
    }
}

/// Whether a dried salt is in it, which may stand for crystals.
pub(super) fn has_dried_salt(made: &Evaluation) -> bool {
    let is = |m: Material| DRIED.contains(&m.id());
    made.lines.iter().any(|l| l.lot.materials().any(is))
}

/// Gallic acid without crystal water, weighed as the crystals of a published
/// list: 10 % more of it.
pub(super) fn gallic_hydrate(made: &Evaluation, found: &mut Vec<Finding>) {
    let liters = made.composition.volume().value * 1e3;
    let iron = made.composition.iron_mass_concentration();
    for (material, line) in materials(made) {
        if material.id() != "gallic_acid" || line.mass.value <= 0.0 {
            continue;
        }
        let dose = line.mass.in_grams() * line.reach / liters;
        // One per cent: a published weight, taken to the letter.
        let published = reference_inks().iter().find_map(|ink| {
            let of = |id| ink.doses.iter().find(|d| d.material == id);
            let crystals = of("gallic_acid_monohydrate")?.g_per_l;
            let vitriol = of(HEPTAHYDRATE)?.g_per_l * IRON / GREEN_VITRIOL;
            let same = (dose - crystals).abs() < 0.01 * crystals
                && (iron.in_grams_per_liter() - vitriol).abs() < 0.15 * vitriol;
            same.then_some(ink)
        });
        let Some(ink) = published else {
            continue;
        };
        let as_crystals = dose * (GALLIC_ACID + WATER) / GALLIC_ACID;
        found.push(Finding {
            about: Subject::Figure("gallic acid crystals"),
            slips: Vec::new(),
            code: Code::WrongHydrate,
            severity: Severity::Notice,
            message: format!(
                "{dose:.2} g/L of gallic acid without crystal water is as much as {as_crystals:.2} g/L of the crystals that {} means: 10 % more than published",
                ink.name
            ),
            value: as_crystals,
            limit: dose,
            unit: "g/L",
            source: ink.source,
        });
    }
}

const HEPTAHYDRATE: &str = "iron_ii_sulfate_heptahydrate";
