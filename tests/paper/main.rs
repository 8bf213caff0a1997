//! Ink on paper against hand-worked figures, closed forms, published figures
//! and the laws it has to obey.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod amounts;
mod darkening;
mod findings;
mod laws;
mod oxygen;
#[path = "../shelf/mod.rs"]
mod shelf;
#[path = "../table/mod.rs"]
mod table;

use ferrogall::bench::Lot;
use ferrogall::composition::Composition;
use ferrogall::oxidation::{Assisted, SecondOrder};
use ferrogall::paper::*;
use ferrogall::quantity::*;
use ferrogall::standards::reference_ink;

const MINUTE: f64 = 60.0;
const DAY: f64 = 86_400.0;

fn part(id: &str, g: f64) -> Composition {
    let lot = Lot::of(id).unwrap().purity(1.0, 0.0).unwrap();
    lot.build().unwrap().composition(grams(g)).unwrap()
}

fn tannic_acid(g: f64) -> Composition {
    let lot = Lot::of("tannic_acid").unwrap().build().unwrap();
    lot.composition(grams(g)).unwrap()
}

/// Poured together and made up with water to a litre.
fn litre(parts: &[Composition]) -> Composition {
    let dry = parts
        .iter()
        .fold(Composition::EMPTY, |sum, p| sum.mixed_with(p));
    let left = 1000.0 - dry.volume().in_milliliters();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    let ml = water.mass_of(milliliters(left)).unwrap();
    dry.mixed_with(&water.composition(ml).unwrap())
}

fn standard(strength: f64) -> Composition {
    let ink = reference_ink("us_federal_writing_1935").unwrap();
    let recipe = ink.recipe(liters(1.0), strength).unwrap();
    recipe.evaluate().unwrap().composition
}

fn micrometers(um: f64) -> Length {
    millimeters(um / 1000.0)
}

fn room() -> Climate {
    Climate::indoors().unwrap()
}

fn at(t: f64, humidity: f64) -> Climate {
    Climate::new(celsius(t), Share::percent(humidity).unwrap()).unwrap()
}

/// Copy paper of a known reserve and pH, so that these are not drawn.
fn paper(reserve_percent: f64, ph: f64) -> Paper {
    let reserve = MassFraction::percent(reserve_percent).unwrap();
    let paper = Paper::of("copy_paper").unwrap();
    paper.with_reserve(reserve).unwrap().with_ph(ph).unwrap()
}

fn write(ink: &Composition, paper: Paper) -> Writing {
    Writing::new(ink, paper, room()).unwrap()
}

fn seconds(s: f64) -> Time {
    days(s / DAY)
}

fn oxidised(w: &Writing, s: f64) -> Span<f64> {
    let none = Span {
        low: Share::ZERO,
        typical: Share::ZERO,
        high: Share::ZERO,
    };
    let mut out = [none];
    w.oxidised_at(&[seconds(s)], &mut out).unwrap();
    Span {
        low: out[0].low.value(),
        typical: out[0].typical.value(),
        high: out[0].high.value(),
    }
}

fn typical_of(id: &str) -> f64 {
    assumptions().find(|a| a.id == id).unwrap().range.typical
}

/// What no tannin helps: the inorganic rate alone is left.
fn unassisted(w: Writing) -> Writing {
    let least = SecondOrder::l_per_mol_s(1e-12).unwrap();
    w.with_assisted(Assisted::known(least, 1.0).unwrap())
        .unwrap()
}

fn causes(line: &Writing) -> Vec<Cause> {
    line.diagnoses().unwrap().iter().map(|d| d.cause).collect()
}
