//! Rules about what dissolves, and how much is usual.

use super::{Code, Finding, Severity, Subject};
use crate::bench::{Lot, Material, Preservative, preservatives as catalogue, solubility};
use crate::chem;
use crate::chem::constants::{GALLIC_ACID, IRON_II_CHLORIDE, IRON_II_SULFATE};
use crate::composition::{Bulk, Component, Composition, preservative_kg_per_mol};
use crate::quantity::{ReadMass, ReadMassConcentration, celsius};
use crate::recipe::Evaluation;
use crate::source::{Source, Status};

/// The preservatives in the ink, each with its acting component and the
/// catalogue row the recipe uses (or the first that fits, for a stock).
pub(super) fn present(
    made: &Evaluation,
) -> impl Iterator<Item = (&'static Preservative, Component)> {
    let used = |component: Component| {
        let used = made.lines.iter().flat_map(|l| l.lot.materials());
        let named = used.into_iter().find_map(|m| match m {
            Material::Preservative(p) if acting(p) == Some(component) => Some(p),
            _ => None,
        });
        named.or_else(|| catalogue().iter().find(|p| acting(p) == Some(component)))
    };
    Component::ALL.iter().filter_map(move |&c| {
        let there = made.composition.amount(c).value > 0.0 && preservative_kg_per_mol(c) > 0.0;
        there.then(|| used(c)).flatten().map(|p| (p, c))
    })
}

/// The component of a row that acts against mould.
fn acting(p: &Preservative) -> Option<Component> {
    p.ions
        .iter()
        .map(|&(c, _)| c)
        .find(|&c| preservative_kg_per_mol(c) > 0.0)
}

/// Lots, the ink, and every solution on the way to it.
pub(super) fn solubilities(made: &Evaluation, found: &mut Vec<Finding>) {
    for line in &made.lines {
        saturated_lot(line.lot, found);
    }
    // A dry mix dissolves when the whole is filled up: no pot of its own.
    let wet = |index: usize| {
        let mut here = made.lines.iter().filter(|l| l.solution == index);
        here.any(|l| l.lot.is_liquid() && !matches!(l.lot.material(), Some(Material::Acid(_))))
    };
    let pots = made.solutions.iter().enumerate();
    let pots = pots.filter(|(index, s)| wet(*index) && s.made != made.composition);
    let ink = ("the ink", &made.composition);
    for (name, c) in pots.map(|(_, s)| (s.name.as_str(), &s.made)).chain([ink]) {
        for (p, component) in present(made) {
            preservative_in(name, c, p, component, found);
        }
        gallic_acid_in(name, c, found);
        dyes_in(name, c, made, found);
        iron_in(name, c, found);
    }
}

/// From this share of saturation on, free acid may bring crystals (a maker's
/// report: 90 % with twice the acid needed, and half of it crystallised).
const NEAR_SATURATION: f64 = 0.7;

fn saturated_lot(lot: &Lot, found: &mut Vec<Finding>) {
    let acid = lot
        .contents(crate::quantity::kilograms(1.0))
        .strong_acid()
        .value;
    let Some(share) = lot.saturation() else {
        return;
    };
    let told = found.iter().any(|f| f.message.starts_with(lot.name()));
    let source = Source::new(
        "solubility in pure water, CRC; effect of free acid from a maker's report",
        Status::Secondary,
    );
    let percent = 100.0 * share;
    if share > 1.0 && !told {
        found.push(beyond(
            Severity::Error,
            format!(
                "{}: holds {percent:.0} % of what its water can, the rest crystallises",
                lot.name()
            ),
            (share, 1.0),
            "",
            source,
        ));
    } else if share > NEAR_SATURATION && acid > 0.1 && !told {
        found.push(beyond(
            Severity::Warning,
            format!(
                "{}: at {percent:.0} % of saturation with free acid in it; the acid holds salt back and crystals may come",
                lot.name()
            ),
            (share, NEAR_SATURATION),
            "",
            source,
        ));
    }
}

fn beyond(
    severity: Severity,
    message: String,
    figures: (f64, f64),
    unit: &'static str,
    source: Source,
) -> Finding {
    Finding {
        about: Subject::Ink,
        slips: Vec::new(),
        code: Code::BeyondSolubility,
        severity,
        message,
        value: figures.0,
        limit: figures.1,
        unit,
        source,
    }
}

fn preservative_in(
    pot: &str,
    c: &Composition,
    p: &Preservative,
    component: Component,
    found: &mut Vec<Finding>,
) {
    // The free acid or phenol is what has to stay dissolved.
    let held = c.molarity(component).value * preservative_kg_per_mol(component);
    if let Some(limit) = p.solubility_g_per_l.filter(|limit| held > *limit) {
        found.push(beyond(
            Severity::Warning,
            format!(
                "{pot}: {held:.1} g/L of {} as its free form, acid water dissolves about {limit} g/L: crystals or an oil film",
                p.name
            ),
            (held, limit),
            "g/L",
            p.source,
        ));
    }
}

/// Cold water dissolves about this much gallic acid.
const GALLIC_ACID_G_PER_L: (f64, Source) = (
    crate::extraction::GALLIC_ACID_CEILING.value,
    Source::new(
        "12.6 g/L of the monohydrate at 25.6 °C, J. Chem. Eng. Data 2010, 55, 3101; counted anhydrous",
        Status::Published,
    ),
);

fn gallic_acid_in(pot: &str, c: &Composition, found: &mut Vec<Finding>) {
    let gallic = c.molarity(Component::GallicAcid).value * GALLIC_ACID;
    let (limit, source) = GALLIC_ACID_G_PER_L;
    if gallic > limit {
        found.push(beyond(
            Severity::Warning,
            format!(
                "{pot}: {gallic:.1} g/L of gallic acid, cold water dissolves {limit} g/L; sulfate salts out more"
            ),
            (gallic, limit),
            "g/L",
            source,
        ));
    }
}

fn dyes_in(pot: &str, c: &Composition, made: &Evaluation, found: &mut Vec<Finding>) {
    let held = c.mass_concentration(Bulk::Dye).in_grams_per_liter();
    let mut dyes = made.lines.iter().flat_map(|l| l.lot.materials());
    let row = dyes.find_map(|m| match m {
        Material::Dye(d) => Some(d),
        _ => None,
    });
    let Some((row, limit)) = row.and_then(|d| Some((d, d.solubility_g_per_l?))) else {
        return;
    };
    if held > limit {
        found.push(beyond(
            Severity::Warning,
            format!(
                "{pot}: {held:.1} g/L of {}, about {limit} g/L dissolve",
                row.name
            ),
            (held, limit),
            "g/L",
            row.source,
        ));
    }
}

fn iron_in(pot: &str, c: &Composition, found: &mut Vec<Finding>) {
    let water = c.mass_of(Bulk::Water).in_grams();
    let iron = c.iron_ii().value;
    let with_sulfate = iron.min(c.amount(Component::Sulfate).value);
    let with_chloride = iron.min(c.amount(Component::Chloride).value / 2.0);
    for (formula, mol, kg_per_mol) in [
        ("FeSO4", with_sulfate, IRON_II_SULFATE),
        ("FeCl2", with_chloride, IRON_II_CHLORIDE),
    ] {
        let Some(curve) = solubility(formula).filter(|_| water > 0.0) else {
            continue;
        };
        let Ok(held) = curve.saturated(celsius(20.0)) else {
            continue;
        };
        let salt = mol * kg_per_mol * 1e3;
        let percent = 100.0 * salt / (salt + water);
        if percent > held.as_percent() {
            found.push(beyond(
                Severity::Error,
                format!(
                    "{pot}: {percent:.1} % {formula} in its water, no more than {:.1} % dissolves at 20 °C",
                    held.as_percent()
                ),
                (percent, held.as_percent()),
                "%",
                curve.source,
            ));
        }
    }
    mohrs_salt_in(pot, c, water, found);
}

/// Mohr's salt: 26.9 g of the hexahydrate in 100 mL at 20 °C.
const MOHRS_SALT: (f64, Source) = (
    26.9,
    Source::new(
        "269 g/L, form not stated, in a chemical dictionary; 26.9 g/100 mL of the hexahydrate",
        Status::FromMemory,
    ),
);

fn mohrs_salt_in(pot: &str, c: &Composition, water: f64, found: &mut Vec<Finding>) {
    let ammonium = c.amount(Component::Ammonium).value / 2.0;
    let mol = c.iron_ii().value.min(ammonium);
    let Ok(formula) = chem::molar_mass("(NH4)2Fe(SO4)2·6H2O") else {
        return;
    };
    let per_100 = 100.0 * mol * formula.value * 1e3 / water;
    let (limit, source) = MOHRS_SALT;
    if water > 0.0 && per_100 > limit {
        found.push(beyond(
            Severity::Warning,
            format!(
                "{pot}: {per_100:.0} g of Mohr's salt to 100 g of water, about {limit} g dissolve"
            ),
            (per_100, limit),
            "g/100 g",
            source,
        ));
    }
}
