//! Works out a recipe and fills in the sheet.

use super::shapes::{
    BatchSheet, Comparison, SheetComponent, SheetCost, SheetInk, SheetLine, SheetLineRounding,
    SheetLot, SheetOxygen, SheetRounding, SheetStep, SheetVerdict,
};
use super::{SheetError, SheetOptions, acidity, keeping, sureness, text};
use crate::bench::{Lot, Material, TanninClass};
use crate::check::{Finding, cautions, check, look_for_slips, weighings};
use crate::composition::{Bulk, Component, Composition, criteria};
use crate::equilibrium::Solver;
use crate::formulate::Equal;
use crate::oxidation::{Air, Bottle};
use crate::quantity::{
    AmountOfSubstance, ReadAmount, ReadMass, ReadMassConcentration, ReadMassDensity,
    ReadMolarConcentration, ReadPressure, ReadTemperature, ReadTime, ReadVolume, kilograms,
};
use crate::recipe::rounding::{Measure, RoundedLine, Rounding};
use crate::recipe::{Amount, Evaluation, Kit, Line, Recipe, RecipeError, smallest_batch};

impl BatchSheet {
    /// Works out a recipe and everything the options ask for.
    ///
    /// With a kit, the sheet is of the rounded recipe: what is printed is
    /// what is weighed.
    ///
    /// # Errors
    /// [`SheetError`].
    pub fn new(recipe: &Recipe, options: &SheetOptions) -> Result<BatchSheet, SheetError> {
        let kit = options.kit.as_ref();
        let exact = recipe.evaluate()?;
        let rounding = kit.map(|k| recipe.rounded(k)).transpose()?;
        let weighed = rounding.as_ref().map_or(recipe, |r| &r.recipe);
        let made = weighed.evaluate()?;
        let mut findings = check(&made, None);
        look_for_slips(weighed, &made, &mut findings);
        if let Some(kit) = kit {
            // A line rounded to nothing is gone from `made`: look at the exact one.
            findings.extend(weighings(&exact, kit));
            findings.sort_by_key(|f| core::cmp::Reverse(f.severity));
        }
        let ink = ink(&made);
        let mut solver = acidity::solver();
        Ok(BatchSheet {
            schema: 1,
            ferrogall: env!("CARGO_PKG_VERSION"),
            data: crate::source::DATA_VERSION,
            title: recipe.title().to_string(),
            steps: steps(&exact, &made, rounding.as_ref(), kit),
            acidity: solver.as_mut().and_then(|s| acidity::acidity(s, &made)),
            iron_per_galloyl: made.iron_per_galloyl(),
            plant_per_iron_salt: made.plant_per_iron_salt(),
            ratios: made.composition.ratios(),
            verdicts: verdicts(&made),
            sureness: sureness::sureness(weighed, &made, kit),
            rounding: match (kit, &rounding) {
                (Some(kit), Some(r)) => Some(rounding_summary(recipe, kit, r)?),
                _ => None,
            },
            oxygen: oxygen(solver.as_mut(), &made.composition, options)?,
            cost: cost(&made, options),
            comparison: match &options.substitute {
                Some((name, lot, equal)) => Some(comparison(
                    weighed,
                    &made,
                    name,
                    lot,
                    *equal,
                    solver.as_mut(),
                )?),
                None => None,
            },
            findings,
            cautions: cautions(&made),
            lots: lots(&made),
            assumed: soaks(&made),
            ink,
        })
    }
}

fn steps(
    exact: &Evaluation,
    made: &Evaluation,
    rounding: Option<&Rounding>,
    kit: Option<&Kit>,
) -> Vec<SheetStep> {
    let mut out = Vec::new();
    // Rounded lines come in the order of the lines that have an amount, and
    // the exact lines are the same lines.
    let mut rounded = rounding.into_iter().flat_map(|r| &r.lines);
    let last = made.solutions.len();
    for index in 0..=last {
        let mut lines = Vec::new();
        let here = made.lines.iter().zip(&exact.lines);
        for (line, asked) in here.filter(|(l, _)| l.solution == index) {
            let tool = line.stated.and_then(|_| rounded.next());
            lines.push(SheetLine {
                lot: line.lot.name().to_string(),
                kind: line.kind,
                take: take(line, tool, kit),
                stated: stated(asked.stated),
                mass_g: line.mass.in_grams(),
                volume_ml: line.volume.map(|v| v.in_milliliters()),
                cost: line.lot.price().map(|p| p.of_checked(line.mass)),
                rounding: tool.map(|t| SheetLineRounding {
                    exact_g: t.exact.in_grams(),
                    steps: t.steps,
                    iron_error_percent: t.iron_error * 100.0,
                    ratio_error_percent: t.ratio_error * 100.0,
                    acid_error_mmol_per_l: t.acid_error.in_millimoles_per_liter(),
                }),
            });
        }
        let solution = made.solutions.get(index);
        let volume = solution.map_or(made.composition.volume(), |s| s.made.volume());
        let instruction = match solution {
            Some(s) => {
                let here = || made.lines.iter().filter(|l| l.solution == index);
                let pot = text::Pot {
                    tea: here().any(is_tea),
                    wet: here().any(|l| l.lot.is_liquid()),
                    acid: here().any(|l| matches!(l.lot.material(), Some(Material::Acid(_)))),
                };
                text::instruction(s, &lines, &pot)
            }
            None => text::final_instruction(&made.composition, last, !lines.is_empty()),
        };
        out.push(SheetStep {
            name: solution.map_or_else(|| "finish".to_string(), |s| s.name.clone()),
            lines,
            instruction,
            volume_ml: volume.in_milliliters(),
        });
    }
    out
}

fn tannin_class(lot: &Lot) -> Option<TanninClass> {
    match lot.material() {
        Some(Material::TanninSource(t)) => Some(t.class),
        _ => None,
    }
}

fn is_tea(line: &Line) -> bool {
    tannin_class(line.lot) == Some(TanninClass::TeaPolyphenols)
}

/// What to think of tannins of different kinds at equal galloyl.
fn across_classes(old: &Evaluation, name: &str, lot: &Lot) -> String {
    let replaced = old.lines.iter().find(|l| l.lot.name() == name);
    let classes = (
        replaced.and_then(|l| tannin_class(l.lot)),
        tannin_class(lot),
    );
    match classes {
        (Some(a), Some(b)) if a != b && b != TanninClass::Pure && a != TanninClass::Pure => {
            let g = old.composition.mass_of(Bulk::Tannin).in_grams();
            format!(
                "Across kinds of tannin equal galloyl is a guess: other phenols bind iron too. By mass the ink holds {g:.1} g of tannin."
            )
        }
        _ => String::new(),
    }
}

/// The amount in the words of the tool it is taken with.
fn take(line: &Line, tool: Option<&RoundedLine>, kit: Option<&Kit>) -> String {
    let grams = line.mass.in_grams();
    let ml = line.volume.map_or(0.0, |v| v.in_milliliters());
    // A make-up is not rounded, but it is poured with the same cylinder.
    let measure = match tool {
        Some(t) => Some(t.measure),
        None => kit.map(|k| k.tool(line.lot)),
    };
    match (measure, tool.map_or(0.0, |t| t.steps)) {
        (Some(Measure::Balance { step }), _) => text::mass(grams, text::decimals(step.in_grams())),
        (Some(Measure::Spoon { volume }), n) => format!(
            "{} of {} mL ({})",
            text::counted(n, "level spoon"),
            text::trimmed(volume.in_milliliters()),
            text::mass(grams, 1)
        ),
        (Some(Measure::Dropper { volume }), n) => format!(
            "{} of {} mL ({})",
            text::counted(n, "drop"),
            text::trimmed(volume.in_milliliters()),
            text::mass(grams, 2)
        ),
        (Some(Measure::Cylinder { step }), _) => {
            text::volume(ml, text::decimals(step.in_milliliters()))
        }
        (None, _) if line.lot.is_liquid() && line.volume.is_some() => {
            text::volume(ml, text::three_figures(ml))
        }
        (None, _) => text::mass(grams, text::three_figures(grams)),
    }
}

fn stated(amount: Option<Amount>) -> String {
    match amount {
        Some(Amount::Parts(p)) => match p {
            1.0 => "1 part".to_string(),
            p => format!("{} parts", text::trimmed(p)),
        },
        _ => String::new(),
    }
}

fn ink(made: &Evaluation) -> SheetInk {
    let c = &made.composition;
    let mmol = |n| c.concentration(n).in_millimoles_per_liter();
    let g = |b| c.mass_concentration(b).in_grams_per_liter();
    let per_liter = |grams: f64| per_liter(grams, c);
    SheetInk {
        volume_ml: c.volume().in_milliliters(),
        mass_g: c.mass().in_grams(),
        density_g_per_cm3: c.density().in_grams_per_cubic_centimeter(),
        iron_g_per_l: c.iron_mass_concentration().in_grams_per_liter(),
        iron_u_percent: made.iron_u * 100.0,
        iron_ii_mmol_per_l: mmol(c.iron_ii()),
        iron_iii_mmol_per_l: mmol(c.iron_iii()),
        galloyl_mmol_per_l: mmol(c.galloyl()),
        galloyl_u_percent: made.galloyl_u * 100.0,
        gallic_acid_mmol_per_l: mmol(c.amount(Component::GallicAcid)),
        tannin_g_per_l: g(Bulk::Tannin),
        strong_acid_mmol_per_l: mmol(c.strong_acid()),
        volatile_acid_mmol_per_l: mmol(c.volatile_acid()),
        fixed_acid_mmol_per_l: mmol(c.fixed_acid()),
        gum_g_per_l: g(Bulk::Gum),
        dye_g_per_l: g(Bulk::Dye),
        preservative_g_per_l: per_liter(c.preservative().in_grams()),
        dry_residue_g_per_l: per_liter(c.dry_residue().in_grams()),
        components: Component::ALL
            .iter()
            .filter(|&&component| c.amount(component).value > 0.0)
            .map(|&component| SheetComponent {
                id: component.id(),
                mol: c.amount(component).in_moles(),
                mass_g: c.mass_of_component(component).in_grams(),
                mmol_per_l: mmol(c.amount(component)),
                g_per_l: per_liter(c.mass_of_component(component).in_grams()),
            })
            .collect(),
    }
}

fn verdicts(made: &Evaluation) -> Vec<SheetVerdict> {
    let c = &made.composition;
    criteria()
        .iter()
        .filter_map(|k| {
            let verdict = made.verdict(k)?;
            Some(SheetVerdict {
                criterion: k.id,
                name: k.name,
                verdict: verdict.side,
                factor: verdict.factor,
                excess_mmol_per_l: c.concentration(verdict.iron).in_millimoles_per_liter(),
                source: k.source,
            })
        })
        .collect()
}

fn rounding_summary(
    recipe: &Recipe,
    kit: &Kit,
    r: &Rounding,
) -> Result<SheetRounding, RecipeError> {
    let smallest = smallest_batch(recipe, kit, 20.0)?;
    // What a rounding error of the arithmetic does is no harm.
    let mut worst = (1e-9, "");
    for line in &r.lines {
        let harm = line.ratio_error.abs().max(line.iron_error.abs());
        if harm > worst.0 {
            worst = (harm, &line.lot);
        }
    }
    Ok(SheetRounding {
        iron_error_percent: r.iron_error * 100.0,
        ratio_error_percent: r.ratio_error * 100.0,
        acid_error_mmol_per_l: r.acid_error.in_millimoles_per_liter(),
        worst: worst.1.to_string(),
        smallest_batch_ml: smallest.volume.in_milliliters(),
        stocks: smallest.stocks.iter().map(|s| s.to_string()).collect(),
    })
}

fn oxygen(
    solver: Option<&mut Solver>,
    c: &Composition,
    options: &SheetOptions,
) -> Result<Option<SheetOxygen>, SheetError> {
    let (Some(plan), Some(storage)) = (options.bottles, options.storage) else {
        return Ok(None);
    };
    let iron = c.concentration(c.iron_ii());
    if iron.in_moles_per_liter() < 1e-6 {
        return Ok(None); // nothing to oxidise; the findings say so
    }
    let mut bottle = Bottle::builder(plan.capacity(), plan.fill_volume(), iron)
        .air(Air::at(storage.temperature, storage.pressure)?)
        .closure(storage.closure)
        .air_exchanged(storage.air_exchanged)
        .drawn_per_opening(storage.drawn_per_opening)
        .kept_for(storage.kept_for)
        .stated_share(storage.stated_share);
    if let Some(interval) = storage.opened_every {
        bottle = bottle.opened_every(interval);
    }
    let bottle = bottle.build()?;
    let b = bottle.bound();
    Ok(Some(SheetOxygen {
        bottle_ml: plan.capacity().in_milliliters(),
        fill_ml: plan.fill_volume().in_milliliters(),
        temperature_c: storage.temperature.in_celsius(),
        pressure_kpa: storage.pressure.in_kilopascals(),
        closure: storage.closure.name.to_string(),
        opened_every_days: storage.opened_every.map(|t| t.in_days()),
        air_exchanged_percent: storage.air_exchanged.as_percent(),
        drawn_ml: storage.drawn_per_opening.in_milliliters(),
        iron_ii_mmol: b.iron_ii.in_millimoles(),
        oxygen_at_filling_mmol: (b.oxygen_headspace + b.oxygen_dissolved).in_millimoles(),
        share_after_filling_percent: b.share_after_filling.as_percent(),
        iron_per_opening_mmol: b.iron_first_opening.in_millimoles(),
        kept_for_days: storage.kept_for.in_days(),
        openings: b.openings,
        share_after_duration_percent: b.share_after_duration.as_percent(),
        stated_share_percent: storage.stated_share.as_percent(),
        openings_to_share: b.openings_to_share,
        time_to_share_days: b.time_to_share.map(|t| t.in_days()),
        fill_for_share_ml: bottle
            .fill_for_share(storage.stated_share)
            .map(|v| v.in_milliliters()),
        keeping: keeping::keeping(solver, c, &bottle),
    }))
}

fn cost(made: &Evaluation, options: &SheetOptions) -> Option<SheetCost> {
    let (sum, unpriced) = made.cost()?;
    Some(SheetCost {
        currency: options.currency.clone(),
        per_batch: sum,
        per_liter: per_liter(sum, &made.composition),
        per_bottle: options.bottles.map(|p| sum / f64::from(p.count())),
        unpriced_lines: unpriced,
    })
}

/// So much per litre of an ink; 0 when there is none.
fn per_liter(x: f64, c: &Composition) -> f64 {
    let q = x / c.volume().in_liters();
    if q.is_finite() { q } else { 0.0 }
}

fn comparison(
    recipe: &Recipe,
    old: &Evaluation,
    name: &str,
    lot: &Lot,
    equal: Equal,
    mut solver: Option<&mut Solver>,
) -> Result<Comparison, SheetError> {
    let other = recipe.with_substitute(name, lot, equal)?;
    let new = other.evaluate()?;
    // Of concentrations, since the volumes need not be the same.
    let (a, b) = (&old.composition, &new.composition);
    let change = |amount: fn(&Composition) -> AmountOfSubstance| {
        let of = |c: &Composition| c.concentration(amount(c)).in_millimoles_per_liter();
        of(b) - of(a)
    };
    let grams_of_it = |made: &Evaluation| -> f64 {
        let lines = made.lines.iter().filter(|l| l.lot.is_same_bag(lot));
        lines.map(|l| l.mass.in_grams()).sum()
    };
    let (before, after) = (check(old, None), check(&new, None));
    let has = |list: &[Finding], code| list.iter().any(|f| f.code == code);
    let mut settled = Vec::new();
    for f in &before {
        if !has(&after, f.code) && !settled.contains(&f.code) {
            settled.push(f.code);
        }
    }
    let priced = |made: &Evaluation| made.cost().filter(|(_, unpriced)| *unpriced == 0);
    let mut ph = |c: &Composition| solver.as_mut().and_then(|s| acidity::ph(s, c));
    let residue = |c: &Composition| per_liter(c.dry_residue().in_grams(), c);
    Ok(Comparison {
        instead_of: name.to_string(),
        take: lot.name().to_string(),
        mass_g: grams_of_it(&new) - grams_of_it(old),
        equal,
        note: across_classes(old, name, lot),
        volume_before_ml: a.volume().in_milliliters(),
        volume_after_ml: b.volume().in_milliliters(),
        iron_before_g_per_l: a.iron_mass_concentration().in_grams_per_liter(),
        iron_after_g_per_l: b.iron_mass_concentration().in_grams_per_liter(),
        ph_before: ph(a),
        ph_after: ph(b),
        strong_acid_mmol_per_l: change(Composition::strong_acid),
        volatile_acid_mmol_per_l: change(Composition::volatile_acid),
        fixed_acid_mmol_per_l: change(Composition::fixed_acid),
        iron_iii_mmol_per_l: change(Composition::iron_iii),
        gallic_acid_mmol_per_l: change(|c| c.amount(Component::GallicAcid)),
        sulfate_mmol_per_l: change(|c| c.amount(Component::Sulfate)),
        chloride_mmol_per_l: change(|c| c.amount(Component::Chloride)),
        acetate_mmol_per_l: change(|c| c.amount(Component::Acetate)),
        dry_residue_g_per_l: residue(b) - residue(a),
        cost: match (priced(old), priced(&new)) {
            (Some((a, _)), Some((b, _))) => Some(b - a),
            _ => None,
        },
        ratio_before: old.iron_per_galloyl(),
        ratio_after: new.iron_per_galloyl(),
        new_findings: after
            .into_iter()
            .filter(|f| !has(&before, f.code))
            .collect(),
        settled,
    })
}

fn lots(made: &Evaluation) -> Vec<SheetLot> {
    let mut seen: Vec<&Lot> = Vec::new();
    for line in &made.lines {
        if !seen.iter().any(|lot| lot.is_same_bag(line.lot)) {
            seen.push(line.lot);
        }
    }
    seen.into_iter().map(lot_as_understood).collect()
}

fn lot_as_understood(lot: &Lot) -> SheetLot {
    let kg = lot.contents(kilograms(1.0));
    let material = lot.material();
    SheetLot {
        name: lot.name().to_string(),
        material: material.map_or("", |m| m.id()).to_string(),
        material_name: material.map_or("", |m| m.name()).to_string(),
        given: lot.given().to_vec(),
        assumed: lot.assumed().to_vec(),
        iron_ii_mol_per_kg: kg.iron_ii().in_moles(),
        iron_iii_mol_per_kg: kg.iron_iii().in_moles(),
        galloyl_mol_per_kg: kg.galloyl().in_moles(),
        strong_acid_mol_per_kg: kg.strong_acid().in_moles(),
        density_g_per_cm3: lot.density().map(|d| d.in_grams_per_cubic_centimeter()),
        price_per_kg: lot.price().map(|p| p.in_money_per_kilogram()),
        source: material.map_or(String::new(), |m| m.source().to_string()),
    }
}

/// Soaks as they were understood.
fn soaks(made: &Evaluation) -> Vec<String> {
    let soaks = made.solutions.iter().flat_map(|s| &s.extractions);
    soaks
        .map(|e| {
            format!(
                "of {:.1} g of plant matter in {:.0} g of liquid the marc keeps {:.0} % of the liquor; yield uncertain by {:.0} % (k = 1)",
                e.plant.in_grams(),
                e.liquid.in_grams(),
                e.held_back.as_percent(),
                e.yield_u * 100.0
            )
        })
        .collect()
}
