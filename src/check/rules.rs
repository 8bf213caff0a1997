//! The rules, one function each.

use super::{Code, Finding, Severity};
use crate::bench::{
    Dye, IronSalt, Material, Preservative, TanninClass, TanninSource, Usability, solubility,
};
use crate::chem;
use crate::chem::constants::{GALLIC_ACID, GREEN_VITRIOL, IRON, IRON_II_CHLORIDE, IRON_II_SULFATE};
use crate::composition::{Bulk, Component, Verdict, criteria};
use crate::quantity::{ReadMass, ReadMassConcentration, ReadMolarConcentration, celsius};
use crate::recipe::{Evaluation, Kit, Line};
use crate::source::{Range, Source, Status};
use crate::standards::reference_inks;

/// Steps under which a weighing is too small: an error of 2.5 %.
const FEWEST_STEPS: f64 = 20.0;
const COMMON_PRACTICE: Source = Source::new("usage of the trade", Status::CommonPractice);

/// Everything worth saying about a recipe that was worked out.
///
/// Given the tools at hand, weighings too small for them are found too. The
/// findings come worst first, in a fixed order.
pub fn check(made: &Evaluation, kit: Option<&Kit>) -> Vec<Finding> {
    let mut found = Vec::new();
    no_ink(made, &mut found);
    proportion(made, &mut found);
    wrong_hydrate(made, &mut found);
    marc(made, &mut found);
    iron_iii(made, &mut found);
    for (material, line) in materials(made) {
        match material {
            Material::IronSalt(salt) => salt_not_fit(salt, line, &mut found),
            Material::TanninSource(source) => tannin_class(source, line, &mut found),
            Material::Dye(dye) => dye_clash(dye, made, &mut found),
            Material::Preservative(p) => preservative(p, made, line, &mut found),
            _ => {}
        }
    }
    solubilities(made, &mut found);
    acid(made, &mut found);
    if let Some(kit) = kit {
        small_weighings(made, kit, &mut found);
    }
    found.sort_by_key(|f| core::cmp::Reverse(f.severity));
    found
}

/// Each catalogue material of the recipe once, with its first line.
fn materials<'a>(made: &'a Evaluation<'a>) -> Vec<(Material, &'a Line<'a>)> {
    let mut seen: Vec<(Material, &Line)> = Vec::new();
    for line in &made.lines {
        match line.lot.material() {
            Some(m) if seen.iter().all(|(s, _)| s.id() != m.id()) => seen.push((m, line)),
            _ => {}
        }
    }
    seen
}

fn no_ink(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    for (what, amount) in [("iron", c.iron()), ("tannin", c.galloyl())] {
        if amount.value <= 0.0 {
            found.push(Finding {
                code: Code::NoInk,
                severity: Severity::Error,
                message: format!("there is no {what} in it: this makes no ink"),
                value: 0.0,
                limit: 0.0,
                unit: "mol",
                source: COMMON_PRACTICE,
            });
        }
    }
}

/// Galls to vitriol by mass in recipes of the 15th to 19th century: the
/// extremes of the 60 historic rows with both amounts.
const HISTORIC_GALLS_PER_VITRIOL: (Range, Source) = (
    Range::new(0.25, 2.0, 12.0),
    Source::new(
        "60 historic recipes, 15th to 19th century, median 2.0, extremes 0.25 and 12; a hand-picked sample",
        Status::Secondary,
    ),
);

fn proportion(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let verdicts: Vec<_> = criteria().iter().filter_map(|k| k.verdict(c)).collect();
    let Some(ratio) = c.ratios().iron_per_galloyl else {
        return;
    };
    let largest = criteria()[0].balanced.max;
    let all_iron = !verdicts.is_empty()
        && verdicts
            .iter()
            .all(|v| matches!(v, Verdict::IronInExcess { .. }));
    let all_tannin = !verdicts.is_empty()
        && verdicts.iter().all(|v| {
            // "No more than a third" has no lower end, so it cannot object.
            matches!(v, Verdict::TanninInExcess { .. } | Verdict::Balanced)
        })
        && verdicts
            .iter()
            .filter(|v| matches!(v, Verdict::TanninInExcess { .. }))
            .count()
            == criteria().iter().filter(|k| k.balanced.min > 0.0).count();
    if all_iron {
        found.push(Finding {
            code: Code::IronInExcess,
            severity: Severity::Warning,
            message: format!(
                "iron in excess by every published convention ({ratio:.2} iron per galloyl unit): the free iron eats paper"
            ),
            value: ratio,
            limit: largest,
            unit: "mol/mol",
            source: criteria()[0].source,
        });
    } else if all_tannin {
        found.push(Finding {
            code: Code::TanninInExcess,
            severity: Severity::Notice,
            message: format!(
                "tannin in excess by every published convention ({ratio:.2} iron per galloyl unit): paler, but easy on paper"
            ),
            value: ratio,
            limit: criteria()[2].balanced.min / 10.0,
            unit: "mol/mol",
            source: criteria()[2].source,
        });
    }
    let (history, source) = HISTORIC_GALLS_PER_VITRIOL;
    if let Some(galls) = c.ratios().galls_per_vitriol_by_mass
        && c.iron().value > 0.0
        && !history.contains(galls)
    {
        found.push(Finding {
                code: Code::RatioOutsideHistory,
                severity: Severity::Warning,
                message: format!(
                    "as galls to vitriol this is {galls:.2} : 1, outside everything found in old recipes ({} to {}): a slip of unit or decimal?",
                    history.min, history.max
                ),
                value: galls,
                limit: if galls < history.min { history.min } else { history.max },
                unit: "g/g",
                source,
            });
    }
}

/// A hydrate weighed as another hits a published iron figure by exactly the
/// factor between the two.
fn wrong_hydrate(made: &Evaluation, found: &mut Vec<Finding>) {
    let iron = made
        .composition
        .iron_mass_concentration()
        .in_grams_per_liter();
    let published = reference_inks().iter().flat_map(|ink| {
        let vitriol = ink.doses.iter().find(|d| d.material == HEPTAHYDRATE);
        vitriol.map(|d| (ink, d.g_per_l * IRON / GREEN_VITRIOL))
    });
    let hydrate = materials(made).into_iter().find_map(|(m, line)| match m {
        Material::IronSalt(s) if OTHER_HYDRATES.contains(&s.id) => Some((s, line)),
        _ => None,
    });
    let Some((salt, line)) = hydrate else { return };
    let factor = chem::molar_mass(HEPTAHYDRATE_FORMULA)
        .and_then(|hepta| Ok(hepta.value / chem::molar_mass(salt.formula)?.value));
    let Ok(factor) = factor else { return };
    for (ink, reference) in published {
        // Two per cent: the digits to which old formulas are rounded.
        let meant = (iron / factor - reference).abs() < 0.02 * reference;
        if meant && (iron - reference).abs() > 0.05 * reference {
            found.push(Finding {
                code: Code::WrongHydrate,
                severity: Severity::Warning,
                message: format!(
                    "{:.2} g of {} carries {factor:.2} times the iron of as much green vitriol, and the batch would match {} with crystals: if the recipe meant crystals, take {:.2} g",
                    line.mass.in_grams(),
                    line.lot.name(),
                    ink.name,
                    line.mass.in_grams() / factor
                ),
                value: iron,
                limit: reference,
                unit: "g/L",
                source: ink.source,
            });
            return;
        }
    }
}

const HEPTAHYDRATE: &str = "iron_ii_sulfate_heptahydrate";
const HEPTAHYDRATE_FORMULA: &str = "FeSO4·7H2O";
const OTHER_HYDRATES: &[&str] = &[
    "iron_ii_sulfate_anhydrous",
    "iron_ii_sulfate_monohydrate",
    "iron_ii_sulfate_tetrahydrate",
];

fn marc(made: &Evaluation, found: &mut Vec<Finding>) {
    for e in made.solutions.iter().flat_map(|s| &s.extractions) {
        let held = e.held_back.value();
        if held < 0.5 {
            continue;
        }
        let (severity, message) = if held >= 1.0 {
            (
                Severity::Error,
                format!(
                    "{:.1} g of plant matter drinks all of its {:.0} g of liquid: nothing drains. A misprint?",
                    e.plant.in_grams(),
                    e.liquid.in_grams()
                ),
            )
        } else {
            (
                Severity::Warning,
                format!(
                    "the marc keeps {:.0} % of the liquor: take more water, press it, or wash it a second time",
                    held * 100.0
                ),
            )
        };
        found.push(Finding {
            code: Code::MarcDrinksLiquor,
            severity,
            message,
            value: held,
            limit: 0.5,
            unit: "",
            source: crate::recipe::DEFAULT_HOLD_UP.1,
        });
    }
}

fn iron_iii(made: &Evaluation, found: &mut Vec<Finding>) {
    let iron = made.composition.iron().value;
    let share = made.composition.iron_iii().value / iron;
    if iron <= 0.0 || share < 0.1 {
        return;
    }
    let severity = if share > 0.5 {
        Severity::Error
    } else {
        Severity::Warning
    };
    found.push(Finding {
        code: Code::IronIII,
        severity,
        message: format!(
            "{:.0} % of the iron is already iron(III): it blackens in the pot, settles, and does not bind to the paper",
            share * 100.0
        ),
        value: share,
        limit: 0.1,
        unit: "mol/mol",
        source: COMMON_PRACTICE,
    });
}

fn salt_not_fit(salt: &IronSalt, line: &Line, found: &mut Vec<Finding>) {
    let severity = match salt.usability {
        Usability::Yes => return,
        Usability::Limited => Severity::Notice,
        // A deliberate trace is told from a main salt by `iron_iii`.
        Usability::TraceOnly => Severity::Notice,
        Usability::No => Severity::Error,
    };
    let because = if salt.reason.is_empty() {
        salt.stability
    } else {
        salt.reason
    };
    found.push(Finding {
        code: Code::SaltNotFit,
        severity,
        message: format!("{}: {because}", line.lot.name()),
        value: line.mass.in_grams(),
        limit: 0.0,
        unit: "g",
        source: salt.source,
    });
}

fn tannin_class(source: &TanninSource, line: &Line, found: &mut Vec<Finding>) {
    let words = match source.class {
        TanninClass::Gallotannin | TanninClass::MixedHydrolysable | TanninClass::Pure => return,
        TanninClass::Ellagitannin => "ellagitannin: greyer and browner than galls",
        TanninClass::Condensed => "catechol tannin: greenish, and the galloyl figure is a guess",
        TanninClass::TeaPolyphenols => {
            "tea polyphenols: greyish, and the galloyl figure is a guess"
        }
        TanninClass::Naphthoquinone => "hardly a tannin: colours brown by itself",
    };
    found.push(Finding {
        code: Code::TanninClass,
        severity: Severity::Notice,
        message: format!("{} is {words}", line.lot.name()),
        value: source.galloyl_mmol_per_g.typical,
        limit: 5.3,
        unit: "mmol/g",
        source: source.galloyl_source,
    });
}

fn dye_clash(dye: &Dye, made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    if dye.precipitates_with_tannin && c.galloyl().value > 0.0 {
        found.push(Finding {
            code: Code::DyePrecipitates,
            severity: Severity::Error,
            message: format!(
                "{} is a basic dye: tannin throws it down as a sludge",
                dye.name
            ),
            value: c.mass_concentration(Bulk::Dye).in_grams_per_liter(),
            limit: 0.0,
            unit: "g/L",
            source: dye.source,
        });
    }
}

fn preservative(p: &Preservative, made: &Evaluation, line: &Line, found: &mut Vec<Finding>) {
    let liters = made.composition.volume().value * 1e3;
    if liters <= 0.0 {
        return;
    }
    let share = made
        .solutions
        .get(line.solution)
        .map_or(1.0, |s| s.used.value());
    let dose = line.mass.in_grams() * share / liters;
    if let Some(reference) = p.reference_dose_g_per_l {
        let times = dose / reference;
        if times > 4.0 {
            found.push(Finding {
                code: Code::DoseFarFromReference,
                severity: Severity::Warning,
                message: format!(
                    "{dose:.2} g/L of {} is {times:.1} times the dose of the reference inks ({reference} g/L): a printed slip of 12.5 times is in circulation",
                    p.name
                ),
                value: dose,
                limit: reference,
                unit: "g/L",
                source: p.source,
            });
        }
    } else if dose > 2.0 * p.dose_g_per_l.max && p.dose_g_per_l.max > 0.0 {
        found.push(Finding {
            code: Code::DoseFarFromReference,
            severity: Severity::Warning,
            message: format!(
                "{dose:.2} g/L of {} is well above the doses met with (up to {} g/L)",
                p.name, p.dose_g_per_l.max
            ),
            value: dose,
            limit: p.dose_g_per_l.max,
            unit: "g/L",
            source: p.source,
        });
    }
    // The free acid or phenol is what has to stay dissolved.
    let held = p
        .ions
        .first()
        .map_or(0.0, |&(c, _)| preservative_g_per_l(made, c));
    if let Some(limit) = p.solubility_g_per_l.filter(|limit| held > *limit) {
        found.push(Finding {
            code: Code::BeyondSolubility,
            severity: Severity::Warning,
            message: format!(
                "{held:.1} g/L of {} is more than acid water dissolves (about {limit} g/L): crystals or an oil film",
                p.name
            ),
            value: held,
            limit,
            unit: "g/L",
            source: p.source,
        });
    }
}

/// Grams per litre of the acting form of a preservative component.
fn preservative_g_per_l(made: &Evaluation, component: Component) -> f64 {
    let kg_per_mol = crate::composition::preservative_kg_per_mol(component);
    made.composition.molarity(component).value * kg_per_mol
}

/// Cold water dissolves about this much gallic acid.
const GALLIC_ACID_G_PER_L: (f64, Source) = (
    11.4,
    Source::new(
        "12.6 g/L of the monohydrate at 25.6 °C, J. Chem. Eng. Data 2010, 55, 3101; counted anhydrous",
        Status::Published,
    ),
);

fn solubilities(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let gallic = c.molarity(Component::GallicAcid).value * GALLIC_ACID;
    let (limit, source) = GALLIC_ACID_G_PER_L;
    if gallic > limit {
        found.push(Finding {
            code: Code::BeyondSolubility,
            severity: Severity::Warning,
            message: format!(
                "{gallic:.1} g/L of gallic acid is more than cold water dissolves ({limit} g/L); sulfate salts out more"
            ),
            value: gallic,
            limit,
            unit: "g/L",
            source,
        });
    }
    let water = c.mass_of(Bulk::Water).in_grams();
    for (formula, counter_ion, kg_per_mol) in [
        ("FeSO4", Component::Sulfate, IRON_II_SULFATE),
        ("FeCl2", Component::Chloride, IRON_II_CHLORIDE),
    ] {
        let enough = c.amount(counter_ion).value >= 0.9 * c.iron_ii().value;
        let Some(curve) = solubility(formula).filter(|_| enough && water > 0.0) else {
            continue;
        };
        let Ok(held) = curve.saturated(celsius(20.0)) else {
            continue;
        };
        let salt = c.iron_ii().value * kg_per_mol * 1e3;
        let percent = 100.0 * salt / (salt + water);
        if percent > held.as_percent() {
            found.push(Finding {
                code: Code::BeyondSolubility,
                severity: Severity::Error,
                message: format!(
                    "{percent:.1} % {formula} in its water: no more than {:.1} % dissolves at 20 °C",
                    held.as_percent()
                ),
                value: percent,
                limit: held.as_percent(),
                unit: "%",
                source: curve.source,
            });
            break;
        }
    }
}

fn acid(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let acid = c.concentration(c.strong_acid()).in_millimoles_per_liter();
    let eaten = c.molarity(Component::Carbonate).in_millimoles_per_liter();
    let source = Source::new(
        "alkalinity as CaCO3 over 50.04 g per mol of charge, computed",
        Status::Computed,
    );
    let given = acid + eaten;
    if eaten > 0.0 && given > 0.0 && eaten / given >= 0.1 {
        found.push(Finding {
            code: Code::WaterEatsAcid,
            severity: if eaten / given > 0.5 {
                Severity::Warning
            } else {
                Severity::Notice
            },
            message: format!(
                "the water's alkalinity eats {eaten:.1} of the {given:.1} mmol/L of acid ({:.0} %): more acid, or distilled water",
                100.0 * eaten / given
            ),
            value: eaten / given,
            limit: 0.1,
            unit: "mol/mol",
            source,
        });
    }
    if acid < 0.0 && c.iron().value > 0.0 {
        found.push(Finding {
            code: Code::NoAcid,
            severity: Severity::Warning,
            message: format!(
                "no mineral acid is left ({acid:.1} mmol/L): iron will oxidise and settle soon"
            ),
            value: acid,
            limit: 0.0,
            unit: "mmol/L",
            source: COMMON_PRACTICE,
        });
    }
}

fn small_weighings(made: &Evaluation, kit: &Kit, found: &mut Vec<Finding>) {
    for line in &made.lines {
        if !line.counts_for_smallness() || line.mass.value <= 0.0 {
            continue;
        }
        let Ok(steps) = kit.steps(line.lot, line.mass) else {
            continue;
        };
        if steps < FEWEST_STEPS {
            found.push(Finding {
                code: Code::WeighingTooSmall,
                severity: Severity::Warning,
                message: format!(
                    "{:.2} g of {} is only {steps:.1} steps of its tool, an error of up to {:.0} %: make more, or measure a stock solution",
                    line.mass.in_grams(),
                    line.lot.name(),
                    (50.0 / steps).min(100.0)
                ),
                value: steps,
                limit: FEWEST_STEPS,
                unit: "steps",
                source: COMMON_PRACTICE,
            });
        }
    }
}
