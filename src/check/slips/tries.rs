//! Every usual way to have miswritten a recipe, undone.

use super::edit::{Edit, lines, times};
use crate::bench::{Lot, Material};
use crate::check::SlipKind;
use crate::check::published::Doses;
use crate::check::words_of;
use crate::chem::constants::{GALLIC_ACID, GREEN_VITRIOL, WATER};
use crate::chem::molar_mass;
use crate::quantity::{ReadMass, ReadVolume, Volume, grams, kilograms, liters, milliliters};
use crate::recipe::{Amount, Evaluation, Recipe, resolve};
use crate::standards::reference_inks;

/// Weights that are written for one another, by their quotient.
const UNITS: [(f64, &str); 5] = [
    (16.0, "ounces and pounds confused"),
    (12.0, "ounces and pounds of twelve ounces confused"),
    (8.0, "drachms and ounces confused"),
    (3.0, "teaspoons and tablespoons confused"),
    (1000.0, "milligrams and grams confused"),
];
/// Of them, those that run through a whole recipe.
const OLD_UNITS: usize = 3;

/// Measures that are written for one another.
const MEASURES: [(f64, &str); 3] = [
    (8.0, "fluid drachms and fluid ounces confused"),
    (3.0, "teaspoons and tablespoons confused"),
    (1000.0, LITRES),
];
const LITRES: &str = "millilitres and litres confused";

/// Litres that amounts are often given for: a litre, the gallons of the United
/// States and of Britain.
const VOLUMES_L: [f64; 3] = [1.0, 3.785_412, 4.546_09];

/// Up to so many lines any two may have been exchanged or any run shifted;
/// beyond, neighbours only.
const FEW: usize = 12;

/// Share of acid in the dilute acids of the formulas, and of what is dilute enough.
const DILUTE: f64 = 0.10;
const DILUTE_ENOUGH: f64 = 0.20;

/// What a line is in a soak, or else.
#[derive(Clone, Copy, PartialEq)]
enum Role {
    Plant,
    Salt,
    Other,
    Liquid,
}

struct Line<'r> {
    place: usize,
    lot: &'r Lot,
    amount: Amount,
    role: Role,
}

/// All corrections, in a fixed order.
pub(super) fn all(recipe: &Recipe, made: &Evaluation) -> Vec<Edit> {
    let all: Vec<Line> = lines(recipe)
        .into_iter()
        .enumerate()
        .map(|(place, (lot, amount))| Line {
            place,
            lot,
            amount,
            role: role(lot),
        })
        .collect();
    let solids: Vec<&Line> = all.iter().filter(|l| l.role != Role::Liquid).collect();
    let mut out = Vec::new();
    for line in &solids {
        factors(line, &mut out);
        hydrates(line, &mut out);
        acids(line, recipe, &mut out);
        dyes(line, &mut out);
    }
    together(&solids, &mut out);
    exchanged(&solids, &mut out);
    shifted(&solids, recipe, made, &mut out);
    liquids(&all, recipe, &mut out);
    volumes(recipe, &all, &mut out);
    out
}

fn role(lot: &Lot) -> Role {
    match lot.material() {
        _ if lot.is_plant() => Role::Plant,
        Some(Material::IronSalt(_)) => Role::Salt,
        Some(Material::Water(_)) => Role::Liquid,
        _ => Role::Other,
    }
}

fn one(kind: SlipKind, line: &Line, factor: f64) -> Edit {
    Edit::of(kind, vec![(line.place, times(line.amount, factor))])
}

fn factors(line: &Line, out: &mut Vec<Edit>) {
    for factor in [0.1, 10.0] {
        out.push(one(SlipKind::Decimal, line, factor));
    }
    let units: &[(f64, &str)] = match line.amount {
        Amount::Volume(_) => &MEASURES,
        _ => &UNITS,
    };
    for &(factor, words) in units {
        for factor in [1.0 / factor, factor] {
            out.push(one(SlipKind::Unit, line, factor).because(words));
        }
    }
}

/// The crystals that recipes mean, and the dried salts sold beside them.
const CRYSTALS: &str = "iron_ii_sulfate_heptahydrate";
const DRIED: [(&str, &str); 2] = [
    (
        "iron_ii_sulfate_monohydrate",
        "the dried salt (monohydrate)",
    ),
    (
        "iron_ii_sulfate_anhydrous",
        "the salt without crystal water",
    ),
];

fn hydrates(line: &Line, out: &mut Vec<Edit>) {
    let mut meant = |what: &str, factor: f64| {
        let words = format!("{} of {what}", words_of(line.amount));
        out.push(one(SlipKind::OtherHydrate, line, factor).meaning(words));
    };
    match line.lot.material() {
        Some(Material::IronSalt(salt)) if salt.id == CRYSTALS => {
            for dried in crate::bench::iron_salts() {
                let named = DRIED.iter().find(|(id, _)| *id == dried.id);
                if let (Some((_, what)), Ok(m)) = (named, molar_mass(dried.formula)) {
                    meant(what, GREEN_VITRIOL / m.value);
                }
            }
        }
        Some(Material::IronSalt(salt)) if salt.formula.starts_with("FeSO4") => {
            if let Ok(m) = molar_mass(salt.formula) {
                meant("green vitriol (crystals)", m.value / GREEN_VITRIOL);
            }
        }
        Some(m) if m.id() == "gallic_acid" => {
            meant("gallic acid crystals", GALLIC_ACID / (GALLIC_ACID + WATER));
        }
        Some(m) if m.id() == "gallic_acid_monohydrate" => {
            let factor = (GALLIC_ACID + WATER) / GALLIC_ACID;
            meant("gallic acid without crystal water", factor);
        }
        _ => {}
    }
}

fn acids(line: &Line, recipe: &Recipe, out: &mut Vec<Edit>) {
    let Some(Material::Acid(row)) = line.lot.material() else {
        return;
    };
    if row.strong_protons <= 0.0 {
        return;
    }
    // Grams for millilitres, and the other way round.
    let other = match line.amount {
        Amount::Mass(m) => Some(Amount::Volume(milliliters(m.in_grams()))),
        Amount::Volume(v) => Some(Amount::Mass(grams(v.in_milliliters()))),
        Amount::Parts(_) => None,
    };
    if let Some(other) = other {
        out.push(
            Edit::of(SlipKind::Unit, vec![(line.place, other)])
                .because("grams and millilitres confused"),
        );
    }
    let (factor, what) = match row.id {
        "sulfuric_acid" => (0.5, "one proton of it counted, of two"),
        _ => (2.0, "the sulfuric acid of another list"),
    };
    out.push(one(SlipKind::OtherAcid, line, factor).because(what));
    let concentrated = line.lot.contents(kilograms(1.0)).strong_acid().value;
    let dilute = Lot::of(row.id).and_then(|l| l.purity(DILUTE, 0.0)?.build());
    let Ok(dilute) = dilute else {
        return;
    };
    let one_kg = dilute.contents(kilograms(1.0)).strong_acid().value;
    if concentrated < one_kg * DILUTE_ENOUGH / DILUTE {
        return;
    }
    let part = recipe.part();
    let kg = |lot| resolve(lot, line.amount, part).ok().filter(|kg| *kg > 0.0);
    if let (Some(of_dilute), Some(given)) = (kg(&dilute), kg(line.lot)) {
        let factor = of_dilute * one_kg / (given * concentrated);
        let words = format!("{} of dilute acid (10 %)", words_of(line.amount));
        out.push(one(SlipKind::AcidStrength, line, factor).meaning(words));
    }
}

/// The acid dye that a basic one is taken for: water blue is called methyl blue
/// too, a letter or two from methylene blue.
const ACID_DYE: &str = "soluble_blue";

fn dyes(line: &Line, out: &mut Vec<Edit>) {
    let Some(Material::Dye(dye)) = line.lot.material() else {
        return;
    };
    if !dye.precipitates_with_tannin {
        return;
    }
    if let Ok(lot) = Lot::of(ACID_DYE).and_then(|l| l.build()) {
        let edit = Edit::to_lot(SlipKind::OtherDye, line.place, line.amount, lot);
        out.push(match dye.id {
            "methylene_blue" => edit.because("methylene blue for methyl blue, an acid dye"),
            _ => edit,
        });
    }
}

/// One factor for galls and vitriol, or for everything weighed.
fn together(solids: &[&Line], out: &mut Vec<Edit>) {
    for everything in [false, true] {
        let main = |l: &Line| everything || matches!(l.role, Role::Plant | Role::Salt);
        let some: Vec<&&Line> = solids.iter().filter(|l| main(l)).collect();
        if some.len() < 2 {
            continue;
        }
        for (factor, words) in UNITS.into_iter().take(OLD_UNITS) {
            for factor in [1.0 / factor, factor] {
                let amounts = some.iter().map(|l| (l.place, times(l.amount, factor)));
                out.push(Edit::of(SlipKind::Unit, amounts.collect()).because(words));
            }
        }
    }
}

/// The printed figure of an amount, and the same line with another figure.
fn printed(amount: Amount) -> (f64, bool) {
    match amount {
        Amount::Mass(m) => (m.in_grams(), false),
        Amount::Volume(v) => (v.in_milliliters(), false),
        Amount::Parts(p) => (p, true),
    }
}

fn with_figure(amount: Amount, figure: f64) -> Amount {
    match amount {
        Amount::Mass(_) => Amount::Mass(grams(figure)),
        Amount::Volume(_) => Amount::Volume(milliliters(figure)),
        Amount::Parts(_) => Amount::Parts(figure),
    }
}

fn exchanged(solids: &[&Line], out: &mut Vec<Edit>) {
    let reach = if solids.len() <= FEW { FEW } else { 1 };
    for (i, a) in solids.iter().enumerate() {
        for b in solids.iter().skip(i + 1).take(reach) {
            let ((x, x_parts), (y, y_parts)) = (printed(a.amount), printed(b.amount));
            if x == y || x_parts != y_parts || a.lot.is_same_bag(b.lot) {
                continue;
            }
            let amounts = vec![
                (a.place, with_figure(a.amount, y)),
                (b.place, with_figure(b.amount, x)),
            ];
            out.push(Edit::of(SlipKind::Exchanged, amounts));
        }
    }
}

/// Runs of lines whose figures belong one line up, or one down. The figure that
/// fell off the end stands at the other end, or is that of a published ink.
fn shifted(solids: &[&Line], recipe: &Recipe, made: &Evaluation, out: &mut Vec<Edit>) {
    let longest = if solids.len() <= FEW { FEW } else { 3 };
    for length in 2..=longest {
        for run in solids.windows(length) {
            let figures: Vec<(f64, bool)> = run.iter().map(|l| printed(l.amount)).collect();
            if figures.iter().any(|f| f.1) {
                continue;
            }
            let figures: Vec<f64> = figures.into_iter().map(|f| f.0).collect();
            for up in [true, false] {
                let mut meant = figures.clone();
                if up {
                    meant.rotate_left(1);
                } else {
                    meant.rotate_right(1);
                }
                let edit = |meant: &[f64]| {
                    let lines = run.iter().zip(meant);
                    let amounts = lines.map(|(l, x)| (l.place, with_figure(l.amount, *x)));
                    Edit::of(SlipKind::ShiftedLine, amounts.collect())
                };
                // Two lines that change places are exchanged.
                if length > 2 {
                    out.push(edit(&meant));
                }
                let end = if up { length - 1 } else { 0 };
                let Some(line) = run.get(end) else {
                    continue;
                };
                for figure in published_figures(line, recipe, made) {
                    let mut meant = meant.clone();
                    if let Some(slot) = meant.get_mut(end) {
                        *slot = figure;
                    }
                    out.push(Edit {
                        must_be_published: true,
                        ..edit(&meant)
                    });
                }
            }
        }
    }
}

/// The amounts of a lot that published inks would have in this recipe.
fn published_figures(line: &Line, recipe: &Recipe, made: &Evaluation) -> Vec<f64> {
    let mut out: Vec<f64> = Vec::new();
    if line.lot.is_plant() {
        return out;
    }
    // By kilogram of the lot, in grams (mmol) of what published lists name.
    let kg = line.lot.contents(kilograms(1.0));
    let liters = kg.volume().in_liters();
    let holds = Doses::of(&kg);
    // What marks a lot: a dye is a dye though it brings some acid.
    let marks = [5, 6, 3, 7, 2, 0, 1, 4];
    let held = |k: usize| holds.0.get(k).copied().filter(|x| *x > 0.0);
    let Some((kind, per_liter)) = marks.iter().find_map(|&k| Some((k, held(k)?))) else {
        return out;
    };
    let batch = made.composition.volume().in_liters();
    for ink in reference_inks() {
        let Some(dose) = Doses::published(ink).0.get(kind).copied() else {
            continue;
        };
        let mass = kilograms(dose * batch / (per_liter * liters));
        let figure = match line.amount {
            Amount::Mass(_) => Some(mass.in_grams()),
            Amount::Volume(_) => line.lot.density().map(|d| (mass / d).in_milliliters()),
            Amount::Parts(_) => recipe.part().map(|p| mass.value / p.value),
        };
        if let Some(figure) = figure.filter(|x| *x > 0.0 && x.is_finite())
            && !out.iter().any(|x| (x - figure).abs() < 1e-9 * figure)
        {
            out.push(figure);
        }
    }
    out
}

/// More liquid on the plant matter.
fn liquids(all: &[Line], recipe: &Recipe, out: &mut Vec<Edit>) {
    // In a soak the liquid follows its plant.
    for (plant, liquid) in all.iter().zip(all.iter().skip(1)) {
        if plant.role != Role::Plant {
            continue;
        }
        let more = |amount| Edit::of(SlipKind::LiquidMisprint, vec![(liquid.place, amount)]);
        let kg = |amount| resolve(liquid.lot, amount, recipe.part());
        let Ok(now) = kg(liquid.amount) else {
            continue;
        };
        let pots = recipe.solutions().iter().filter_map(|s| s.filled_up());
        for (_, volume) in recipe.filled_up().into_iter().chain(pots) {
            let amount = Amount::Volume(volume);
            if kg(amount).is_ok_and(|kg| kg > now) {
                out.push(more(amount));
            }
        }
        out.push(more(times(liquid.amount, 10.0)));
        out.push(more(times(liquid.amount, 1000.0)).because(LITRES));
    }
}

/// Another volume, or ten times as much or as little water.
fn volumes(recipe: &Recipe, all: &[Line], out: &mut Vec<Edit>) {
    let of_pots = recipe.solutions().iter().enumerate();
    let of_pots = of_pots.filter_map(|(i, s)| Some((Some(i), s.filled_up()?.1)));
    let whole = recipe.filled_up().map(|(_, v)| (None, v));
    let mut filled: Vec<(Option<usize>, Volume)> = whole.into_iter().collect();
    if filled.is_empty() {
        filled = of_pots.take(1).collect();
    }
    for (solution, now) in filled {
        for factor in [0.1, 10.0] {
            out.push(Edit::to_volume(SlipKind::Decimal, solution, now * factor));
        }
        for factor in [0.001, 1000.0] {
            out.push(Edit::to_volume(SlipKind::Unit, solution, now * factor).because(LITRES));
        }
        for volume in VOLUMES_L.map(liters) {
            if (volume.value / now.value - 1.0).abs() > 0.01 {
                out.push(Edit::to_volume(SlipKind::OtherVolume, solution, volume));
            }
        }
    }
    let waters: Vec<&Line> = all.iter().filter(|l| l.role == Role::Liquid).collect();
    if recipe.filled_up().is_none() && !waters.is_empty() {
        for (factor, kind) in [
            (0.1, SlipKind::Decimal),
            (10.0, SlipKind::Decimal),
            (0.001, SlipKind::Unit),
        ] {
            let amounts = waters.iter().map(|l| (l.place, times(l.amount, factor)));
            let edit = Edit::of(kind, amounts.collect());
            out.push(match kind {
                SlipKind::Unit => edit.because(LITRES),
                _ => edit,
            });
        }
    }
}
