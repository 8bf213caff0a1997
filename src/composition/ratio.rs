//! Iron against tannin, in the ways people state it, and what the literature
//! calls balanced.
//!
//! "Balanced" has several published meanings that lie a factor of about five
//! apart. No verdict is given without the name of its convention.

use super::{Bulk, Component, Composition};
use crate::chem::constants::{GALLIC_ACID, GREEN_VITRIOL};
use crate::quantity::{AmountOfSubstance, moles};
use crate::source::{Range, Source, Status};

/// Tannin in the ink galls of trade: Manufacturer and Builder 5 (1873), at second hand.
pub(crate) const TANNIN_IN_TRADE_GALLS: f64 = 0.46;

/// Iron against tannin in every usual way of saying it.
///
/// A ratio with nothing below the line is `None`.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::reference_ink;
///
/// // The three standard inks with tannic acid share one ratio: 1.65 galloyl per iron.
/// let recipe = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
/// let ink = recipe.evaluate()?.composition;
/// assert!((ink.ratios().galloyl_per_iron.unwrap() - 1.65).abs() < 0.005);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Ratios {
    /// mol of iron (both states) per mol of galloyl units (bound and free).
    pub iron_per_galloyl: Option<f64>,
    /// mol of iron(II) alone per mol of galloyl units: what a formulation aims at.
    pub iron_ii_per_galloyl: Option<f64>,
    /// mol of galloyl units per mol of iron.
    pub galloyl_per_iron: Option<f64>,
    /// mol of iron per mol of tannic acid, all galloyl units counted as
    /// C76H52O46 with ten of them.
    pub iron_per_tannic_acid: Option<f64>,
    /// g of green vitriol (FeSO4·7H2O with this iron) per g of tannin and
    /// gallic acid.
    pub vitriol_per_tannin_by_mass: Option<f64>,
    /// g of trade galls (46 % tannin, all of it extracted) per g of green vitriol.
    pub galls_per_vitriol_by_mass: Option<f64>,
}

impl Ratios {
    pub(super) fn of(c: &Composition) -> Ratios {
        let iron = c.iron().value;
        let galloyl = c.galloyl().value;
        let tannin = c.masses[Bulk::Tannin as usize]
            + c.amounts[Component::GallicAcid as usize] * GALLIC_ACID;
        let vitriol = iron * GREEN_VITRIOL;
        Ratios {
            iron_per_galloyl: quotient(iron, galloyl),
            iron_ii_per_galloyl: quotient(c.iron_ii().value, galloyl),
            galloyl_per_iron: quotient(galloyl, iron),
            iron_per_tannic_acid: quotient(10.0 * iron, galloyl),
            vitriol_per_tannin_by_mass: quotient(vitriol, tannin),
            galls_per_vitriol_by_mass: quotient(tannin / TANNIN_IN_TRADE_GALLS, vitriol),
        }
    }
}

/// A quotient of two amounts that are not negative, where there is one; beyond
/// 1e12 there is nothing below the line but a trace.
pub(crate) fn quotient(a: f64, b: f64) -> Option<f64> {
    let q = a / b;
    (b > 0.0 && q <= 1e12).then_some(q)
}

/// How a criterion measures the proportion.
///
/// ```
/// use ferrogall::composition::{criteria, Balance};
/// assert!(criteria().iter().any(|c| c.measure == Balance::VitriolPerGalls));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Balance {
    /// mol of iron per mol of galloyl units.
    IronPerGalloyl,
    /// mol of iron per mol of tannic acid (ten galloyl units).
    IronPerTannicAcid,
    /// Mass of green vitriol per mass of tannin.
    VitriolPerTannin,
    /// Mass of green vitriol per mass of trade galls.
    VitriolPerGalls,
}

/// A published opinion on the proportion of iron to tannin.
///
/// ```
/// use ferrogall::composition::criteria;
/// assert!(criteria().len() > 3);
/// assert!(criteria().iter().all(|c| !c.source.citation.is_empty()));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Criterion {
    /// Identifier.
    pub id: &'static str,
    /// What it says, in a few words.
    pub name: &'static str,
    /// What the figures measure.
    pub measure: Balance,
    /// Iron side of the proportion: below `min` tannin is in excess, above
    /// `max` iron is.
    pub balanced: Range,
    /// Where it comes from.
    pub source: Source,
}

const CRITERIA: &[Criterion] = &[
    Criterion {
        id: "one_iron_per_galloyl",
        name: "one iron per gallic unit, as in iron(III) gallate",
        measure: Balance::IronPerGalloyl,
        balanced: Range::new(0.90, 1.0, 1.05),
        source: Source::new(
            "1:1 gallate: reference ink of Diaz Hidalgo et al. 2018, Herit Sci 6:63, Table 2, and the US gallic powder ink (0.99 by computation)",
            Status::Published,
        ),
    },
    Criterion {
        id: "standard_inks",
        name: "the proportion shared by the official tannic inks (1.65 galloyl per iron)",
        measure: Balance::IronPerGalloyl,
        balanced: Range::new(0.575, 0.606, 0.636),
        source: Source::new(
            "computed from TT-I-563 (NBS RP807 and C413), SFS 1964:504 and BS 3484:1962; width 5 % is ours",
            Status::Computed,
        ),
    },
    Criterion {
        id: "conservation_3_67",
        name: "3.67 iron per tannic acid, above which conservators speak of excess iron",
        measure: Balance::IronPerTannicAcid,
        balanced: Range::new(3.3, 3.67, 4.0),
        source: Source::new("J.G. Neevel 1995, Restaurator 16", Status::FromMemory),
    },
    Criterion {
        id: "equal_masses",
        name: "as much tannin as green vitriol by weight",
        measure: Balance::VitriolPerTannin,
        balanced: Range::new(0.9, 1.0, 1.1),
        source: Source::new(
            "Manufacturer and Builder 1873, quoted at second hand; width 10 % is ours",
            Status::Secondary,
        ),
    },
    Criterion {
        id: "lewis_two_to_three",
        name: "two to three parts of galls to one of vitriol",
        measure: Balance::VitriolPerGalls,
        balanced: Range::new(1.0 / 3.0, 0.4, 0.5),
        source: Source::new(
            "W. Lewis, Commercium Philosophico-Technicum 1763, via British Encyclopedia",
            Status::Secondary,
        ),
    },
    Criterion {
        id: "cooley_one_third",
        name: "vitriol no more than a third of the galls",
        measure: Balance::VitriolPerGalls,
        balanced: Range::new(0.0, 1.0 / 3.0, 1.0 / 3.0),
        source: Source::new("Cooley's Cyclopaedia 6th ed. p. 1431", Status::Published),
    },
    Criterion {
        id: "stark_three_to_two",
        name: "three parts of galls to two of vitriol",
        measure: Balance::VitriolPerGalls,
        balanced: Range::new(0.60, 2.0 / 3.0, 0.74),
        source: Source::new(
            "J. Stark 1855, at second hand; width 10 % is ours",
            Status::Secondary,
        ),
    },
];

/// The published criteria, in a fixed order.
pub const fn criteria() -> &'static [Criterion] {
    CRITERIA
}

/// What one criterion says of one ink.
///
/// ```
/// use ferrogall::composition::{criteria, Side};
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::grams;
/// let iron = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?.composition(grams(15.0))?;
/// assert!(criteria()[0].verdict(&iron).is_none()); // no tannin, no proportion
///
/// let with_tannin = iron.mixed_with(&Lot::of("tannic_acid")?.build()?.composition(grams(30.0))?);
/// let verdict = criteria()[0].verdict(&with_tannin).unwrap();
/// assert_eq!(verdict.side, Side::TanninInExcess);
/// assert!(verdict.factor < 1.0);
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Verdict {
    /// Which side is in excess, if any.
    pub side: Side,
    /// Iron present per balanced amount of it.
    pub factor: f64,
    /// Iron beyond the balanced amount or, with tannin in excess, wanting;
    /// nothing when balanced.
    pub iron: AmountOfSubstance,
}

/// Which side a verdict finds too much of.
///
/// ```
/// assert_eq!(ferrogall::composition::Side::Balanced.to_string(), "balanced");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
pub enum Side {
    /// More iron than the criterion wants.
    IronInExcess,
    /// Neither.
    Balanced,
    /// More tannin than the criterion wants.
    TanninInExcess,
}

impl core::fmt::Display for Side {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Side::IronInExcess => "iron in excess",
            Side::Balanced => "balanced",
            Side::TanninInExcess => "tannin in excess",
        })
    }
}

impl Criterion {
    /// The proportion of an ink in this criterion's own measure.
    pub fn proportion(&self, c: &Composition) -> Option<f64> {
        let r = c.ratios();
        match self.measure {
            Balance::IronPerGalloyl => r.iron_per_galloyl,
            Balance::IronPerTannicAcid => r.iron_per_tannic_acid,
            Balance::VitriolPerTannin => r.vitriol_per_tannin_by_mass,
            Balance::VitriolPerGalls => r.galls_per_vitriol_by_mass.and_then(|g| quotient(1.0, g)),
        }
    }

    /// What the criterion says of a composition; `None` when it has no tannin
    /// or no iron. A criterion that speaks of galls reckons them back from the
    /// tannin, all of it extracted; a recipe with real galls is better asked
    /// through [`Evaluation::verdict`](crate::recipe::Evaluation::verdict).
    pub fn verdict(&self, c: &Composition) -> Option<Verdict> {
        self.verdict_at(self.proportion(c)?, c)
    }

    /// What the criterion says of a proportion in its own measure.
    pub(crate) fn verdict_at(&self, found: f64, c: &Composition) -> Option<Verdict> {
        if found <= 1e-12 {
            return None;
        }
        let factor = found / self.balanced.typical;
        if !(factor.is_finite() && factor > 0.0) {
            return None; // a criterion without a balanced point
        }
        let iron = c.iron().value;
        // What is weighed exactly at an end is inside, whatever the last bit says.
        let slack = 1e-9;
        let (side, off) = if found > self.balanced.max * (1.0 + slack) {
            (Side::IronInExcess, iron * (1.0 - 1.0 / factor))
        } else if found < self.balanced.min * (1.0 - slack) {
            (Side::TanninInExcess, iron * (1.0 / factor - 1.0))
        } else {
            (Side::Balanced, 0.0)
        };
        Some(Verdict {
            side,
            factor,
            iron: moles(off),
        })
    }
}
