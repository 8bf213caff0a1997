//! Rules about what dissolves, and how much is usual.

use super::rules::{is_dry, is_watery};
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
    for (place, line) in made.lines.iter().enumerate() {
        saturated_lot(place, line.lot, found);
    }
    // A dry mix dissolves when the whole is filled up: no pot of its own.
    let wet = |index: usize| {
        let mut here = made.lines.iter().filter(|l| l.solution == index);
        here.any(|l| is_watery(l.lot) && !matches!(l.lot.material(), Some(Material::Acid(_))))
    };
    if is_dry(made) {
        return;
    }
    let pots = made.solutions.iter().enumerate();
    let pots = pots.filter(|(index, s)| wet(*index) && s.made != made.composition);
    let ink = Pot {
        place: made.solutions.len(),
        name: "the ink",
        holds: &made.composition,
    };
    let pots = pots.map(|(place, s)| Pot {
        place,
        name: &s.name,
        holds: &s.made,
    });
    for pot in pots.chain([ink]) {
        for (p, component) in present(made) {
            preservative_in(&pot, p, component, found);
        }
        gallic_acid_in(&pot, found);
        dyes_in(&pot, made, found);
        gum_in(&pot, found);
        iron_in(&pot, found);
    }
}

/// A solution on the way to the ink, or the ink.
struct Pot<'a> {
    place: usize,
    name: &'a str,
    holds: &'a Composition,
}

/// How much of something a pot holds, in the unit of its finding; see
/// [`Subject::Pot`].
pub(super) fn figure(made: &Evaluation, place: usize, what: &str) -> Option<f64> {
    let c = made
        .solutions
        .get(place)
        .map_or(&made.composition, |s| &s.made);
    let preservative = |(p, component): (&Preservative, Component)| {
        (p.id == what).then(|| preservative_held(c, component))
    };
    match what {
        "gallic_acid" => Some(gallic_held(c)),
        "gum" => alcohol_held(c),
        "dye" => Some(c.mass_concentration(Bulk::Dye).in_grams_per_liter()),
        "FeSO4" | "FeCl2" => iron_held(c).into_iter().find(|h| h.0 == what).map(|h| h.1),
        "mohrs_salt" => mohrs_held(c),
        _ => present(made).find_map(preservative),
    }
}

fn preservative_held(c: &Composition, component: Component) -> f64 {
    c.molarity(component).value * preservative_kg_per_mol(component)
}

fn gallic_held(c: &Composition) -> f64 {
    c.molarity(Component::GallicAcid).value * GALLIC_ACID
}

/// From this share of saturation on, free acid may bring crystals (a maker's
/// report: 90 % with twice the acid needed, and half of it crystallised).
const NEAR_SATURATION: f64 = 0.7;

fn saturated_lot(place: usize, lot: &Lot, found: &mut Vec<Finding>) {
    let acid = lot
        .contents(crate::quantity::kilograms(1.0))
        .strong_acid()
        .value;
    let Some(share) = lot.saturation() else {
        return;
    };
    // Several lines may take from one bottle.
    let own = format!("{}: ", lot.name());
    let told = found
        .iter()
        .any(|f| f.code == Code::BeyondSolubility && f.message.starts_with(&own));
    let source = Source::new(
        "solubility in pure water, CRC; effect of free acid from a maker's report",
        Status::Secondary,
    );
    let percent = 100.0 * share;
    if share > 1.0 && !told {
        found.push(beyond(
            Subject::Line(place),
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
            Subject::Line(place),
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
    about: Subject,
    severity: Severity,
    message: String,
    figures: (f64, f64),
    unit: &'static str,
    source: Source,
) -> Finding {
    Finding {
        about,
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

fn preservative_in(pot: &Pot, p: &Preservative, component: Component, found: &mut Vec<Finding>) {
    // The free acid or phenol is what has to stay dissolved.
    let held = preservative_held(pot.holds, component);
    if let Some(limit) = p.solubility_g_per_l.filter(|limit| held > *limit) {
        found.push(beyond(
            Subject::Pot(pot.place, p.id),
            Severity::Warning,
            format!(
                "{}: {held:.1} g/L of {} as its free form, acid water dissolves about {limit} g/L: crystals or an oil film",
                pot.name, p.name
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

fn gallic_acid_in(pot: &Pot, found: &mut Vec<Finding>) {
    let gallic = gallic_held(pot.holds);
    let (limit, source) = GALLIC_ACID_G_PER_L;
    if gallic > limit {
        found.push(beyond(
            Subject::Pot(pot.place, "gallic_acid"),
            Severity::Warning,
            format!(
                "{}: {gallic:.1} g/L of gallic acid, cold water dissolves {limit} g/L; sulfate salts out more",
                pot.name
            ),
            (gallic, limit),
            "g/L",
            source,
        ));
    }
}

fn dyes_in(pot: &Pot, made: &Evaluation, found: &mut Vec<Finding>) {
    let held = pot.holds.mass_concentration(Bulk::Dye).in_grams_per_liter();
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
            Subject::Pot(pot.place, "dye"),
            Severity::Warning,
            format!(
                "{}: {held:.1} g/L of {}, about {limit} g/L dissolve",
                pot.name, row.name
            ),
            (held, limit),
            "g/L",
            row.source,
        ));
    }
}

/// Alcohol throws gum down from about 30 % by volume on (789 g/L when pure).
const ALCOHOL_FOR_GUM: (f64, Source) = (
    237.0,
    Source::new(
        "gum insoluble in ethanol: JECFA gum arabic specification; the limit of about 30 % v/v from memory",
        Status::FromMemory,
    ),
);

/// g/L of alcohol over gum; nothing where there is no gum.
fn alcohol_held(c: &Composition) -> Option<f64> {
    let formula = chem::molar_mass("C2H6O").ok()?;
    let gum = c.mass_of(Bulk::Gum).value > 0.0;
    // mol/m³ times kg/mol.
    gum.then(|| c.molarity(Component::Ethanol).value * formula.value)
}

fn gum_in(pot: &Pot, found: &mut Vec<Finding>) {
    let (limit, source) = ALCOHOL_FOR_GUM;
    if let Some(alcohol) = alcohol_held(pot.holds).filter(|held| *held > limit) {
        found.push(beyond(
            Subject::Pot(pot.place, "gum"),
            Severity::Warning,
            format!(
                "{}: {alcohol:.0} g/L of alcohol; gum may fall out from about {limit:.0} g/L (30 % by volume)",
                pot.name
            ),
            (alcohol, limit),
            "g/L",
            source,
        ));
    }
}

/// Percent of each iron(II) salt in its own water.
fn iron_held(c: &Composition) -> [(&'static str, f64); 2] {
    let water = c.mass_of(Bulk::Water).in_grams();
    let iron = c.iron_ii().value;
    let with_sulfate = iron.min(c.amount(Component::Sulfate).value);
    let with_chloride = iron.min(c.amount(Component::Chloride).value / 2.0);
    let percent = |mol: f64, kg_per_mol: f64| {
        let salt = mol * kg_per_mol * 1e3;
        if water > 0.0 {
            100.0 * salt / (salt + water)
        } else {
            0.0
        }
    };
    [
        ("FeSO4", percent(with_sulfate, IRON_II_SULFATE)),
        ("FeCl2", percent(with_chloride, IRON_II_CHLORIDE)),
    ]
}

fn iron_in(pot: &Pot, found: &mut Vec<Finding>) {
    for (formula, percent) in iron_held(pot.holds) {
        // A hundredth of a per cent is under every curve.
        let Some(curve) = solubility(formula).filter(|_| percent > 0.01) else {
            continue;
        };
        let Ok(held) = curve.saturated(celsius(20.0)) else {
            continue;
        };
        if percent > held.as_percent() {
            found.push(beyond(
                Subject::Pot(pot.place, formula),
                Severity::Error,
                format!(
                    "{}: {percent:.1} % {formula} in its water, no more than {:.1} % dissolves at 20 °C",
                    pot.name,
                    held.as_percent()
                ),
                (percent, held.as_percent()),
                "%",
                curve.source,
            ));
        }
    }
    mohrs_salt_in(pot, found);
}

/// Mohr's salt: 26.9 g of the hexahydrate in 100 mL at 20 °C.
const MOHRS_SALT: (f64, Source) = (
    26.9,
    Source::new(
        "269 g/L, form not stated, in a chemical dictionary; 26.9 g/100 mL of the hexahydrate",
        Status::FromMemory,
    ),
);

/// Grams of Mohr's salt to 100 g of water.
fn mohrs_held(c: &Composition) -> Option<f64> {
    let water = c.mass_of(Bulk::Water).in_grams();
    let ammonium = c.amount(Component::Ammonium).value / 2.0;
    let mol = c.iron_ii().value.min(ammonium);
    if water <= 0.0 || mol <= 0.0 {
        return None;
    }
    let formula = chem::molar_mass("(NH4)2Fe(SO4)2·6H2O").ok()?;
    Some(100.0 * mol * formula.value * 1e3 / water)
}

fn mohrs_salt_in(pot: &Pot, found: &mut Vec<Finding>) {
    let (limit, source) = MOHRS_SALT;
    if let Some(per_100) = mohrs_held(pot.holds).filter(|held| *held > limit) {
        found.push(beyond(
            Subject::Pot(pot.place, "mohrs_salt"),
            Severity::Warning,
            format!(
                "{}: {per_100:.0} g of Mohr's salt to 100 g of water, about {limit} g dissolve",
                pot.name
            ),
            (per_100, limit),
            "g/100 g",
            source,
        ));
    }
}
