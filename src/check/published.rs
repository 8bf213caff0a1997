//! How an ink compares with the published ones, dose by dose.

use super::rules::is_dry;
use super::{Code, Finding, Severity, Subject};
use crate::bench::gums;
use crate::chem::constants::{
    GALLIC_ACID, GREEN_VITRIOL, HYDROGEN_CHLORIDE, PHENOL, SULFURIC_ACID, TANNIC_ACID,
    TARTARIC_ACID, WATER,
};
use crate::composition::{Bulk, Component, Composition};
use crate::quantity::ReadMassConcentration;
use crate::recipe::Evaluation;
use crate::standards::{ReferenceInk, reference_inks};

/// What published lists name, with the unit it is compared in.
pub(super) const KINDS: [(&str, &str); 8] = [
    ("tannic acid", "g/L"),
    ("gallic acid crystals", "g/L"),
    ("green vitriol", "g/L"),
    ("gum", "g/L"),
    ("strong acid", "mmol/L"),
    ("phenol", "g/L"),
    ("dye", "g/L"),
    ("tartaric acid", "g/L"),
];
const ACID: usize = 4;
/// Gum, phenol and dye are also a matter of taste; see [`PLAIN`].
const OF_TASTE: [usize; 3] = [3, 5, 6];

/// Doses agree within this (of a logarithm).
const SAME: f64 = 0.15;
/// Tannic and gallic acid do within this: tannic acid as sold is 80 to 95 % of what
/// lists reckon with, the rest water and a little gallic acid, and makers weigh it
/// as the list says.
pub(super) const AS_SOLD: f64 = 0.2;
/// Doses that tannic acid brings.
pub(super) const OF_TANNIN: [usize; 2] = [0, 1];
/// From this factor on a dose is another one; below it copies differ (dye 2.2
/// to 3.5 g/L, all of them published).
const FAR: f64 = 2.5;
/// Of what is a matter of taste, from this factor on.
const PLAIN: f64 = 6.0;
/// A published ink so many times too strong or weak is told; half and double
/// strength are usual choices.
const STRONG: f64 = 3.0;

/// The doses of an ink, in the units of [`KINDS`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Doses(pub(super) [f64; KINDS.len()]);

impl Doses {
    pub(super) fn of(c: &Composition) -> Doses {
        // mol/m³ times kg/mol is g/L; mol/m³ is mmol/L.
        let g = |component, kg_per_mol: f64| c.molarity(component).value * kg_per_mol;
        let bulk = |b| c.mass_concentration(b).in_grams_per_liter();
        let iron = c.concentration(c.iron()).value;
        Doses([
            g(Component::Galloyl, TANNIC_ACID / 10.0),
            g(Component::GallicAcid, GALLIC_ACID + WATER),
            iron * GREEN_VITRIOL,
            bulk(Bulk::Gum) / dry_gum(),
            c.concentration(c.strong_acid()).value,
            g(Component::Phenol, PHENOL),
            bulk(Bulk::Dye),
            g(Component::Tartrate, TARTARIC_ACID),
        ])
    }

    pub(super) fn published(ink: &ReferenceInk) -> Doses {
        let mut out = [0.0; KINDS.len()];
        for dose in ink.doses {
            let (place, figure) = match dose.material {
                "tannic_acid" => (0, dose.g_per_l),
                "gallic_acid_monohydrate" => (1, dose.g_per_l),
                "iron_ii_sulfate_heptahydrate" => (2, dose.g_per_l),
                "gum_arabic" => (3, dose.g_per_l),
                "hydrochloric_acid" => (ACID, dose.g_per_l / HYDROGEN_CHLORIDE),
                "sulfuric_acid" => (ACID, 2.0 * dose.g_per_l / SULFURIC_ACID),
                "phenol" => (5, dose.g_per_l),
                "soluble_blue" => (6, dose.g_per_l),
                "tartaric_acid" => (7, dose.g_per_l),
                _ => continue,
            };
            if let Some(slot) = out.get_mut(place) {
                *slot += figure;
            }
        }
        Doses(out)
    }

    /// How many of them there are.
    pub(super) fn named(&self) -> usize {
        self.0.iter().filter(|&&x| x > 0.0).count()
    }

    fn at(&self, place: usize) -> f64 {
        self.0.get(place).copied().unwrap_or(0.0)
    }
}

/// Dry share of gum as sold.
fn dry_gum() -> f64 {
    gums()
        .first()
        .map_or(1.0, |g| 1.0 - g.moisture_percent.typical / 100.0)
}

/// Logarithms of an ink's doses over those of a published one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Against {
    /// `None` where either has none of it.
    pub(super) x: [Option<f64>; KINDS.len()],
    /// How many doses the published ink names.
    pub(super) named: usize,
    /// How many of them the ink has.
    pub(super) shared: usize,
}

impl Against {
    pub(super) fn new(have: &Doses, published: &Doses) -> Against {
        let mut x = [None; KINDS.len()];
        for ((slot, &a), &b) in x.iter_mut().zip(&have.0).zip(&published.0) {
            *slot = (a > 0.0 && b > 0.0).then(|| libm::log(a / b));
        }
        Against {
            x,
            named: published.named(),
            shared: x.iter().flatten().count(),
        }
    }

    /// How many doses agree at a strength (its logarithm).
    fn agreeing(&self, strength: f64) -> usize {
        let near = |x: &&f64| (*x - strength).abs() <= SAME;
        self.x.iter().flatten().filter(near).count()
    }

    /// The strength at which most doses agree; as published, if no other has more.
    fn strength(&self) -> f64 {
        let mut best = (self.agreeing(0.0), 0.0);
        for &x in self.x.iter().flatten() {
            let count = self.agreeing(x);
            if count > best.0 {
                best = (count, x);
            }
        }
        best.1
    }
}

/// What keeps an ink from being a published one.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Off {
    /// One dose, and the logarithm of the strength at which all others agree.
    Dose(usize, f64),
    /// All of them, by one factor.
    Volume(f64),
    /// Two doses that would agree if exchanged.
    Exchanged(usize, usize),
}

/// All doses that a published ink names but one agree with it, or all agree
/// when two are exchanged, or all are off by one factor.
pub(super) fn nearly_published(made: &Evaluation, found: &mut Vec<Finding>) {
    if is_dry(made) {
        return;
    }
    let have = Doses::of(&made.composition);
    let mut is_published = false;
    let mut nearest: Option<(usize, &ReferenceInk, Doses, Off)> = None;
    for ink in reference_inks() {
        let published = Doses::published(ink);
        let against = Against::new(&have, &published);
        // Leaving one thing out is a choice; beyond that it is another ink.
        if against.shared < 3 || against.shared + 1 < against.named {
            continue;
        }
        if against.agreeing(0.0) == against.shared {
            // What it holds beside is judged against the others.
            is_published |= have.named() == against.shared;
            continue;
        }
        let better = nearest.is_none_or(|(shared, ..)| against.shared > shared);
        if let Some(off) = off(&against, &have, &published).filter(|_| better) {
            nearest = Some((against.shared, ink, published, off));
        }
    }
    let Some((_, ink, published, off)) = nearest else {
        return;
    };
    if let Some(finding) = told(ink, &have, &published, off, is_published, made) {
        // What a rule of its own has said needs no second word.
        let said = |f: &Finding| {
            f.code == Code::DoseFarFromReference
                && f.severity >= finding.severity
                && match (f.about, finding.about) {
                    (Subject::Figure(a), Subject::Figure(b)) => a == b,
                    _ => false,
                }
        };
        if !found.iter().any(said) {
            found.push(finding);
        }
    }
}

fn off(against: &Against, have: &Doses, published: &Doses) -> Option<Off> {
    let strength = against.strength();
    let agreeing = against.agreeing(strength);
    if agreeing == against.shared {
        let whole = against.shared == against.named;
        return (whole && strength.abs() >= libm::log(STRONG)).then_some(Off::Volume(strength));
    }
    let far = libm::log(FAR);
    if agreeing + 1 == against.shared && agreeing >= 3 {
        let mut doses = against.x.iter().enumerate();
        return doses.find_map(|(place, x)| {
            let x = (*x)?;
            let twice = place == ACID && (x - strength) > libm::log(1.8);
            // A dose as published is none, whatever the strength of the rest.
            let off = (x - strength).abs() > SAME && x.abs() > SAME;
            let enough = (x - strength).abs() >= far && x.abs() >= far;
            (off && (enough || twice)).then_some(Off::Dose(place, strength))
        });
    }
    if against.agreeing(0.0) + 2 != against.shared || against.shared < 4 {
        return None;
    }
    let mut pair = (0..KINDS.len()).filter(|&i| {
        let x = against.x.get(i).copied().flatten();
        i != ACID && x.is_some_and(|x| x.abs() > SAME)
    });
    let (i, j) = (pair.next()?, pair.next()?);
    let near = |a: f64, b: f64| (a - b).abs() <= SAME * b;
    let exchanged = near(have.at(i), published.at(j)) && near(have.at(j), published.at(i));
    exchanged.then_some(Off::Exchanged(i, j))
}

fn told(
    ink: &ReferenceInk,
    have: &Doses,
    published: &Doses,
    off: Off,
    is_published: bool,
    made: &Evaluation,
) -> Option<Finding> {
    let name = |place: usize| KINDS.get(place).copied();
    let mut severity = Severity::Warning;
    let (about, message, value, limit, unit) = match off {
        Off::Dose(place, strength) => {
            let (what, unit) = name(place)?;
            let usual = published.at(place) * libm::exp(strength);
            let (dose, factor) = (have.at(place), have.at(place) / usual);
            let of_taste = OF_TASTE.contains(&place) && factor < PLAIN && factor > 1.0 / PLAIN;
            if of_taste || is_published {
                severity = Severity::Notice;
            }
            let sulfate = place == ACID && sulfuric(made);
            let hint = if sulfate && (1.7..2.3).contains(&factor) {
                "; sulfuric acid gives two protons: two parts of it are not three of hydrochloric"
            } else {
                ""
            };
            let words = format!(
                "all else agrees with {}, which has {} {unit} of {what}: here is {} times as much{hint}",
                ink.name,
                figures(usual),
                figures(factor)
            );
            (subject(place), words, dose, usual, unit)
        }
        Off::Volume(strength) => {
            let (have, usual) = (have.at(2), published.at(2));
            let words = format!(
                "this is {} at {} times its strength in every dose: made up to another volume?",
                ink.name,
                figures(libm::exp(strength))
            );
            (Subject::Figure("volume"), words, have, usual, "g/L")
        }
        Off::Exchanged(i, j) => {
            let ((a, unit), (b, _)) = (name(i)?, name(j)?);
            let words = format!(
                "all agrees with {}, but {a} and {b} stand for one another",
                ink.name
            );
            (subject(i), words, have.at(i), published.at(i), unit)
        }
    };
    Some(Finding {
        about,
        slips: Vec::new(),
        code: Code::NearlyPublished,
        severity,
        message,
        value,
        limit,
        unit,
        source: ink.source,
    })
}

/// The name of a dose as other rules call it.
fn subject(place: usize) -> Subject {
    Subject::Figure(KINDS.get(place).map_or("", |k| k.0))
}

/// The dose that a subject speaks of.
pub(super) fn figure(made: &Evaluation, what: &str) -> Option<f64> {
    let what = if what == "volume" {
        "green vitriol"
    } else {
        what
    };
    let place = KINDS.iter().position(|(name, _)| *name == what)?;
    Some(Doses::of(&made.composition).at(place))
}

fn sulfuric(made: &Evaluation) -> bool {
    let mut materials = made.lines.iter().flat_map(|l| l.lot.materials());
    materials.any(|m| m.id() == "sulfuric_acid")
}

/// A number to three figures, without zeros at its end.
pub(super) fn figures(x: f64) -> String {
    let decimals = match x.abs() {
        x if x >= 100.0 => 0,
        x if x >= 10.0 => 1,
        x if x >= 1.0 => 2,
        x if x >= 0.1 => 3,
        _ => 4,
    };
    let text = format!("{x:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    }
}
