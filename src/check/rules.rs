//! The rules, one function each.

use super::published::figures;
use super::weighings::weighings;
use super::{
    Code, Finding, Severity, Subject, acid, dissolved, doses, history, hydrates, published,
};
use crate::bench::{Dye, IronSalt, Lot, Material, TanninClass, TanninSource, Usability};
use crate::composition::{Bulk, Component, Side, criteria};
use crate::quantity::{ReadMass, ReadMassConcentration, kilograms};
use crate::recipe::{Evaluation, Kit, Line};
use crate::source::{Source, Status};

pub(super) const COMMON_PRACTICE: Source =
    Source::new("usage of the trade", Status::CommonPractice);

/// Everything worth saying about a recipe that was worked out.
///
/// Given the tools at hand, weighings too small for them are found too. The
/// findings come worst first, in a fixed order.
pub fn check(made: &Evaluation, kit: Option<&Kit>) -> Vec<Finding> {
    let mut found = Vec::new();
    marc(made, &mut found);
    no_ink(made, &mut found);
    no_water(made, &mut found);
    proportion(made, &mut found);
    history::outside(made, &mut found);
    hydrates::wrong_hydrate(made, &mut found);
    hydrates::gallic_hydrate(made, &mut found);
    iron_iii(made, &mut found);
    for (material, line) in materials(made) {
        match material {
            Material::IronSalt(salt) => salt_not_fit(salt, line, made, &mut found),
            Material::TanninSource(source) => tannin_class(source, line, &mut found),
            Material::Dye(dye) => dye_clash(dye, made, &mut found),
            _ => {}
        }
    }
    masks_iron(made, &mut found);
    doses::far_from_reference(made, &mut found);
    published::nearly_published(made, &mut found);
    dissolved::solubilities(made, &mut found);
    acid::water_eats_acid(made, &mut found);
    acid::no_acid(made, &mut found);
    if let Some(kit) = kit {
        found.extend(weighings(made, kit));
    }
    found.sort_by_key(|f| core::cmp::Reverse(f.severity));
    found
}

/// Each catalogue material of the recipe once, with the line that has most of it.
pub(super) fn materials<'a>(made: &'a Evaluation<'a>) -> Vec<(Material, &'a Line<'a>)> {
    let mut seen: Vec<(Material, &Line)> = Vec::new();
    let has = |line: &Line| line.mass.value * line.reach;
    for line in &made.lines {
        for m in line.lot.materials() {
            match seen.iter_mut().find(|(s, _)| s.id() == m.id()) {
                Some((_, most)) if has(line) > has(most) => *most = line,
                Some(_) => {}
                None => seen.push((m, line)),
            }
        }
    }
    seen
}

fn no_ink(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    for (what, amount) in [("iron", c.iron()), ("tannin", c.galloyl())] {
        if amount.value <= 0.0 {
            found.push(Finding {
                about: Subject::Figure(what),
                slips: Vec::new(),
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

/// A liquid that is mostly water; oils and alcohol dissolve no salt.
pub(super) fn is_watery(lot: &Lot) -> bool {
    let holds = lot.contents(kilograms(1.0));
    lot.is_liquid() && holds.mass_of(Bulk::Water).value > 0.5 * holds.mass().value
}

/// Powders only: an ink to be made with water later has no litre yet.
pub(super) fn is_dry(made: &Evaluation) -> bool {
    !made.lines.iter().any(|l| is_watery(l.lot))
}

/// An ink is mostly water; what is not was not filled up.
fn no_water(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let share = c.mass_of(Bulk::Water).value / c.mass().value;
    if share < 0.5 {
        found.push(Finding {
            about: Subject::Ink,
            slips: Vec::new(),
            code: Code::NoWater,
            severity: Severity::Warning,
            message: if is_dry(made) {
                "there is no liquid in it: an ink powder, or was the filling up forgotten?".into()
            } else {
                format!(
                    "only {:.0} % of it is water: was the filling up forgotten?",
                    100.0 * share
                )
            },
            value: share,
            limit: 0.5,
            unit: "kg/kg",
            source: COMMON_PRACTICE,
        });
    }
}

fn proportion(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let verdicts: Vec<_> = criteria().iter().filter_map(|k| made.verdict(k)).collect();
    let Some(ratio) = c.ratios().iron_per_galloyl else {
        return;
    };
    let called = |id: &str| criteria().iter().find(|k| k.id == id);
    let (Some(most), Some(least)) = (called("one_iron_per_galloyl"), called("conservation_3_67"))
    else {
        return;
    };
    let count = |side: Side| verdicts.iter().filter(|v| v.side == side).count();
    let all_iron = !verdicts.is_empty() && count(Side::IronInExcess) == verdicts.len();
    // "No more than a third" has no lower end, so it cannot object to tannin.
    let can_object = criteria().iter().filter(|k| k.balanced.min > 0.0).count();
    let all_tannin = count(Side::TanninInExcess) == can_object;
    if all_iron {
        found.push(Finding {
            about: Subject::Ink,
            slips: Vec::new(),
            code: Code::IronInExcess,
            severity: Severity::Warning,
            message: format!(
                "iron in excess by all {} conventions compared ({ratio:.2} iron per galloyl unit): the free iron eats paper",
                criteria().len()
            ),
            value: ratio,
            limit: most.balanced.max,
            unit: "mol/mol",
            source: most.source,
        });
    } else if all_tannin {
        found.push(Finding {
            about: Subject::Ink,
            slips: Vec::new(),
            code: Code::TanninInExcess,
            severity: Severity::Notice,
            message: format!(
                "tannin in excess by every convention compared ({ratio:.2} iron per galloyl unit): paler, but easy on paper"
            ),
            value: ratio,
            // Per tannic acid of ten galloyl units.
            limit: least.balanced.min / 10.0,
            unit: "mol/mol",
            source: least.source,
        });
    }
}

fn marc(made: &Evaluation, found: &mut Vec<Finding>) {
    let soaks = made.solutions.iter().flat_map(|s| &s.extractions);
    for (place, e) in soaks.enumerate() {
        let held = e.held_back.value();
        if held < 0.5 {
            continue;
        }
        let (severity, message) = if held >= 1.0 {
            (
                Severity::Error,
                format!(
                    "{} g of plant matter drinks all of its {} g of liquid: nothing drains. A misprint?",
                    figures(e.plant.in_grams()),
                    figures(e.liquid.in_grams())
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
            about: Subject::Line(place),
            slips: Vec::new(),
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
        about: Subject::Ink,
        slips: Vec::new(),
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

fn salt_not_fit(salt: &IronSalt, line: &Line, made: &Evaluation, found: &mut Vec<Finding>) {
    let dissolved_by_acid =
        salt.id == "iron_ii_carbonate" && made.composition.strong_acid().value > 0.0;
    let severity = match salt.usability {
        Usability::Yes => return,
        // A deliberate trace is told from a main salt by `iron_iii`.
        Usability::Limited | Usability::TraceOnly => Severity::Notice,
        Usability::No if dissolved_by_acid => Severity::Notice,
        Usability::No => Severity::Error,
    };
    let is_it = |m: Material| m.id() == salt.id;
    let all = made.lines.iter().filter(|l| l.lot.materials().any(is_it));
    let because = if salt.reason.is_empty() {
        salt.stability
    } else {
        salt.reason
    };
    found.push(Finding {
        about: Subject::Figure(salt.id),
        slips: Vec::new(),
        code: Code::SaltNotFit,
        severity,
        message: format!("{}: {because}", line.lot.name()),
        value: all.map(|l| l.mass.in_grams()).sum(),
        limit: 0.0,
        unit: "g",
        source: COMMON_PRACTICE,
    });
}

/// Acids that hold iron back from the tannin, with the share of the iron from
/// which on it shows.
const MASKING: &[(Component, f64, Severity, &str)] = &[
    (
        Component::Oxalate,
        0.1,
        Severity::Error,
        "oxalate throws down yellow iron(II) oxalate and bleaches the line",
    ),
    (
        Component::Citrate,
        0.3,
        Severity::Warning,
        "citrate holds the iron(III) back: a paler line",
    ),
    (
        Component::Phosphate,
        0.3,
        Severity::Warning,
        "phosphate holds the iron(III) back: a paler line",
    ),
];

fn masks_iron(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    let iron = c.iron().value;
    for &(component, limit, severity, words) in MASKING {
        let share = c.amount(component).value / iron;
        if share.is_finite() && share > limit {
            found.push(Finding {
                about: Subject::Figure(component.id()),
                slips: Vec::new(),
                code: Code::MasksIron,
                severity,
                message: format!("{words} ({share:.2} mol per mol of iron)"),
                value: share,
                limit,
                unit: "mol/mol",
                source: Source::new(
                    "strong complexes and a sparingly soluble oxalate; the limits are ours",
                    Status::ExpertGuess,
                ),
            });
        }
    }
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
        about: Subject::Figure(source.id),
        slips: Vec::new(),
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
    if !dye.precipitates_with_tannin || c.galloyl().value <= 0.0 {
        return;
    }
    // Gallic acid alone is no tannin, and no source says what it does.
    let (severity, message) = if c.amount(Component::Galloyl).value > 0.0 {
        (
            Severity::Error,
            format!(
                "{} is a basic dye: tannin throws it down as a sludge",
                dye.name
            ),
        )
    } else {
        (
            Severity::Warning,
            format!(
                "{} is a basic dye, which tannin throws down; beside gallic acid alone try a drop first",
                dye.name
            ),
        )
    };
    found.push(Finding {
        about: Subject::Figure(dye.id),
        slips: Vec::new(),
        code: Code::DyePrecipitates,
        severity,
        message,
        value: c.mass_concentration(Bulk::Dye).in_grams_per_liter(),
        limit: 0.0,
        unit: "g/L",
        source: dye.source,
    });
}
