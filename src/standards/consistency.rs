//! One ink at three strengths: do a formula's own figures fit together?

use super::clause::Requirement;
use super::standard::Standard;
use super::{Quantity, ReferenceInk};
use crate::composition::{Bulk, Component, Composition, quotient};
use crate::quantity::liters;

/// What a formula's proportions are those of.
///
/// ```
/// use ferrogall::standards::Family;
/// assert_eq!(Family::TannicInk.words(), "the official tannic inks");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Family {
    /// The official tannic inks: one ink at three strengths.
    TannicInk,
    /// The official powder with gallic acid only.
    GallicPowder,
    /// Neither.
    Neither,
}

impl Family {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Family::TannicInk => "the official tannic inks",
            Family::GallicPowder => "the official gallic powder",
            Family::Neither => "neither official family",
        }
    }
}

/// The proportions that official inks share, in one formula.
///
/// Tannic to gallic acid (crystals) is 3.04 to 3.08 by mass, both to green
/// vitriol 1.03 to 1.04, galloyl units to iron 1.65 mol/mol in the type ink of
/// 1890, TT-I-563 and BS 3484:1962 alike; the gallic powder has 0.99. A
/// formula that is off in one of them has another recipe, or a slip in it.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::{Family, consistency, reference_ink};
/// let ink = reference_ink("british_record_1962").unwrap().recipe(liters(1.0), 1.0)?;
/// let found = consistency(&ink.evaluate()?.composition);
/// assert_eq!(found.family, Family::TannicInk);
/// assert!((found.tannic_per_gallic.unwrap() - 3.05).abs() < 0.005);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Consistency {
    /// g of tannic acid per g of gallic acid crystals.
    pub tannic_per_gallic: Option<f64>,
    /// g of tannic acid and gallic acid crystals per g of green vitriol.
    pub acids_per_vitriol: Option<f64>,
    /// mol of galloyl units per mol of iron.
    pub galloyl_per_iron: Option<f64>,
    /// Whose proportions these are, to within 5 %.
    pub family: Family,
    /// What is off, against the nearer family; empty where nothing is.
    pub off: Vec<String>,
}

/// The proportions of a family: the middle of the official inks.
struct Proportions {
    family: Family,
    /// `None`: no tannic acid in it.
    tannic_per_gallic: Option<f64>,
    acids_per_vitriol: f64,
    galloyl_per_iron: f64,
}

/// Computed from the prints: TT-I-563 (NBS RP807 and C413), SFS 1964:504 and
/// BS 3484:1962; the powder from RP807 and C413.
const FAMILIES: [Proportions; 2] = [
    Proportions {
        family: Family::TannicInk,
        tannic_per_gallic: Some(3.05),
        acids_per_vitriol: 1.04,
        galloyl_per_iron: 1.65,
    },
    Proportions {
        family: Family::GallicPowder,
        tannic_per_gallic: None,
        acids_per_vitriol: 10.0 / 15.0,
        galloyl_per_iron: 0.99,
    },
];

/// Width within which a proportion is the same; ours, as in the criterion
/// `standard_inks`.
const SAME: f64 = 0.05;
/// Less tannic acid per gallic acid than this is a trace.
const TRACE: f64 = 0.01;

/// How a formula, made, stands to the official proportions.
pub fn consistency(ink: &Composition) -> Consistency {
    let tannic = ink.masses[Bulk::Tannin as usize];
    let gallic = ink.amounts[Component::GallicAcid as usize] * super::quantity::GALLIC_CRYSTALS;
    let vitriol = ink.iron().value * crate::chem::constants::GREEN_VITRIOL;
    let mut out = Consistency {
        tannic_per_gallic: quotient(tannic, gallic),
        acids_per_vitriol: quotient(tannic + gallic, vitriol),
        galloyl_per_iron: ink.ratios().galloyl_per_iron,
        family: Family::Neither,
        off: Vec::new(),
    };
    let against = FAMILIES.map(|wanted| (wanted.family, out.off_from(&wanted)));
    let best = against.into_iter().min_by_key(|(_, off)| off.len());
    if let Some((family, off)) = best {
        if off.is_empty() {
            out.family = family;
        }
        out.off = off;
    }
    out
}

impl Consistency {
    fn off_from(&self, wanted: &Proportions) -> Vec<String> {
        let mut off = Vec::new();
        let mut held = |what: &str, found: Option<f64>, wanted: f64| match found {
            Some(found) if (found / wanted - 1.0).abs() <= SAME => {}
            Some(found) => off.push(format!("{what} is {found:.2} against {wanted:.2}")),
            None => off.push(format!("{what} cannot be told, against {wanted:.2}")),
        };
        let tannic = "tannic acid to gallic acid crystals by mass";
        match wanted.tannic_per_gallic {
            Some(ratio) => held(tannic, self.tannic_per_gallic, ratio),
            None if self.tannic_per_gallic.is_some_and(|t| t <= TRACE) => {}
            None => off.push("tannic acid, where the powder has none".to_string()),
        }
        let mut held = |what: &str, found: Option<f64>, wanted: f64| match found {
            Some(found) if (found / wanted - 1.0).abs() <= SAME => {}
            Some(found) => off.push(format!("{what} is {found:.2} against {wanted:.2}")),
            None => off.push(format!("{what} cannot be told, against {wanted:.2}")),
        };
        held(
            "both to green vitriol by mass",
            self.acids_per_vitriol,
            wanted.acids_per_vitriol,
        );
        held(
            "galloyl units to iron by mol",
            self.galloyl_per_iron,
            wanted.galloyl_per_iron,
        );
        off
    }
}

impl Standard {
    /// The proportions of its own reference ink; `None` where its numbers are
    /// not known.
    pub fn consistency(&self) -> Option<Consistency> {
        let ink = self.own_ink.reference_ink()?;
        let made = ink.recipe(liters(1.0), 1.0).ok()?;
        Some(consistency(&made.evaluate().ok()?.composition))
    }

    /// Least and greatest strength (1 as published) at which a published ink
    /// meets every clause on the composition, to the letter or as rounded;
    /// `None` where there is none, or nothing is limited. Limits that no
    /// strength of the official ink meets do not fit it, or each other.
    ///
    /// ```
    /// use ferrogall::standards::{reference_ink, standard};
    /// let class_i = standard("de_document_class_i").unwrap();
    /// let ink = reference_ink("swedish_archival_1964").unwrap();
    /// let (least, greatest) = class_i.strengths_of(ink, false).unwrap();
    /// assert!((least - 27.0 / 30.36).abs() < 1e-3);
    /// assert!((greatest - 6.0 / 6.026).abs() < 1e-3); // under its own strength
    /// assert!(class_i.strengths_of(ink, true).unwrap().1 > 1.0);
    /// ```
    pub fn strengths_of(&self, ink: &ReferenceInk, as_rounded: bool) -> Option<(f64, f64)> {
        let recipe = ink.recipe(liters(1.0), 1.0).ok()?;
        let made = recipe.evaluate().ok()?.composition;
        let (mut least, mut greatest) = (0.0_f64, f64::INFINITY);
        let mut limited = false;
        for clause in self.clauses.iter() {
            let Requirement::Limit(limit) = &clause.requirement else {
                continue;
            };
            let window = match as_rounded {
                true => limit.rounded_window(),
                false => limit.window(),
            };
            limited = true;
            let figure = limit.quantity().of(&made)?;
            if limit.quantity() == Quantity::GalloylPerIron || figure <= 0.0 {
                if !window.contains(figure) {
                    return None;
                }
                continue;
            }
            least = least.max(window.min.map_or(0.0, |m| m / figure));
            greatest = greatest.min(window.max.map_or(f64::INFINITY, |m| m / figure));
        }
        (limited && least <= greatest && greatest > 0.0).then_some((least, greatest))
    }
}
