//! What a kilogram of a lot holds, as a function of what is not known of it.
//!
//! The lot itself is this function at the estimates; draws are the same
//! function at other values.

use super::StrengthU;
use super::hydrates::HydrateMix;
use super::volumes::{self, Dissolved};
use crate::chem::constants::WATER;
use crate::composition::{Bulk, Component, Composition};
use crate::quantity::{Estimate, OutOfRange};
use crate::source::Range;
use crate::uncertainty::Distribution;

/// Something about a lot that is known with an uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Unknown {
    /// What it is, in a word or two: "tannin", "purity".
    pub(crate) what: &'static str,
    pub(crate) estimate: Estimate,
    nature: Nature,
}

/// How an unknown can be off.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Nature {
    /// A share of the whole, by assay: normal, and between 0 and 1.
    Share,
    /// A purity by assay: normal. A salt that has lost some of its water
    /// assays above 1.
    Purity,
    /// A strength of something grown: off by a factor, and no share above 1.
    Content,
    /// Off by a factor.
    Factor,
    /// Somewhere in a catalogue's span.
    Span(Range),
}

impl Unknown {
    pub(super) const fn share(what: &'static str, estimate: Estimate) -> Unknown {
        Unknown {
            what,
            estimate,
            nature: Nature::Share,
        }
    }

    pub(super) const fn purity(estimate: Estimate) -> Unknown {
        Unknown {
            what: "purity",
            estimate,
            nature: Nature::Purity,
        }
    }

    pub(super) const fn content(what: &'static str, estimate: Estimate) -> Unknown {
        Unknown {
            what,
            estimate,
            nature: Nature::Content,
        }
    }

    pub(super) const fn factor(what: &'static str, estimate: Estimate) -> Unknown {
        Unknown {
            what,
            estimate,
            nature: Nature::Factor,
        }
    }

    /// A catalogue's span, or what was told instead.
    pub(super) fn span(
        what: &'static str,
        range: Range,
        told: Option<f64>,
    ) -> Result<Unknown, OutOfRange> {
        let estimate = match told {
            Some(value) => Estimate::exact(value)?,
            None => Estimate::new(range.typical, range.u())?,
        };
        Ok(Unknown {
            what,
            estimate,
            nature: Nature::Span(range),
        })
    }

    /// What is known of it.
    pub(crate) fn distribution(&self) -> Result<Distribution, OutOfRange> {
        let (value, u) = (self.estimate.value(), self.estimate.u());
        if u == 0.0 {
            return Distribution::exact(value);
        }
        let by_factor = || Distribution::log_normal(value, self.estimate.relative_u().min(20.0));
        match self.nature {
            Nature::Span(range) => Distribution::span(range),
            Nature::Share => Distribution::normal(value, u)?.between(0.0, 1.0),
            Nature::Purity => Distribution::normal(value, u)?.between(0.0, 2.0),
            // A content of nothing, give or take something.
            _ if value == 0.0 => Distribution::normal(value, u)?.between(0.0, 1.0),
            Nature::Content => by_factor()?.between(0.0, 1.0),
            Nature::Factor => by_factor(),
        }
    }
}

/// What is in a lot, by kind.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Makeup {
    /// Unknowns: purity, moisture, oxidised share.
    Salt {
        ions: &'static [(Component, f64)],
        kg_per_mol: f64,
        crystal_water: f64,
        dissolved: Dissolved,
    },
    /// Unknowns: purity, moisture, oxidised share, iron by the eye.
    Weathered {
        mix: HydrateMix,
        anhydrous: f64,
        basic: f64,
        dissolved: Dissolved,
    },
    /// Unknowns: tannin, free gallic acid, moisture, galloyl per tannin.
    Tannin {
        of_dry_matter: bool,
        soluble: bool,
        gallic_kg_per_mol: f64,
    },
    /// Unknown: strength.
    Acid {
        ions: &'static [(Component, f64)],
        kg_per_mol: f64,
        crystal_water: f64,
        volatile: bool,
        dissolved: Dissolved,
    },
    /// Unknown: moisture.
    Gum,
    /// Unknown: purity.
    Dye,
    /// Unknown: purity.
    Organic {
        ions: &'static [(Component, f64)],
        kg_per_mol: f64,
        volatile: bool,
        dissolved: Dissolved,
    },
    /// Unknowns: alkalinity and hardness, kg/m³ as CaCO3.
    Water { mol_of_charge_per_kg: f64 },
    /// Unknowns: iron, galloyl and acid, each as a factor of what is stated.
    Prepared,
}

/// The unknowns of a prepared lot.
pub(super) fn of_prepared(u: StrengthU) -> [Unknown; 3] {
    let factor = |what, u: f64| {
        let estimate = Estimate::new(1.0, u).unwrap_or(Estimate::ONE);
        Unknown::factor(what, estimate)
    };
    [
        factor("iron", u.iron),
        factor("galloyl", u.galloyl),
        factor("acid", u.acid),
    ]
}

impl Makeup {
    /// What a kilogram holds when its unknowns have these values; what is
    /// wanting counts as nothing. `stated` is what a prepared lot holds.
    pub(super) fn per_kg(&self, stated: &Composition, unknowns: &[f64]) -> Composition {
        let x = |i: usize| unknowns.get(i).copied().unwrap_or(0.0);
        let mut kg = Kilogram::empty();
        match *self {
            Makeup::Salt {
                ions,
                kg_per_mol,
                crystal_water,
                dissolved,
            } => {
                let (purity, oxidised) = (x(0), x(2));
                let moisture = beside(purity, x(1));
                let n = purity / kg_per_mol;
                kg.ions(ions, n);
                kg.oxidise(oxidised);
                let crystal_water = crystal_water * n * WATER;
                kg.water(crystal_water + moisture);
                kg.dissolved(dissolved, (purity - crystal_water).max(0.0));
                kg.other_solubles(1.0 - purity - moisture);
            }
            Makeup::Weathered {
                mix,
                anhydrous,
                basic,
                dissolved,
            } => {
                let (purity, oxidised, by_eye) = (x(0), x(2), x(3));
                let moisture = beside(purity, x(1));
                let mut solids = 0.0;
                for (share, waters, ferric) in mix.solids() {
                    let mass = share * purity;
                    let (iron, formula_mass) = if ferric {
                        (Component::IronIII, basic)
                    } else {
                        (Component::IronII, anhydrous + waters * WATER)
                    };
                    let n = mass / formula_mass;
                    kg.ions(&[(iron, 1.0), (Component::Sulfate, 1.0)], n * by_eye);
                    let crystal_water = waters * n * WATER;
                    kg.water(crystal_water);
                    solids += mass - crystal_water;
                }
                kg.oxidise(oxidised);
                kg.water(moisture);
                kg.dissolved(dissolved, solids);
                kg.other_solubles(1.0 - purity - moisture);
            }
            Makeup::Tannin {
                of_dry_matter,
                soluble,
                gallic_kg_per_mol,
            } => {
                let (tannin, per_tannin) = (x(0), x(3));
                let gallic = beside(tannin, x(1));
                let (dry, moisture) = if of_dry_matter {
                    (1.0 - x(2), x(2))
                } else {
                    (1.0, beside(tannin + gallic, x(2)))
                };
                let (t, g) = (tannin * dry, gallic * dry);
                kg.0.amounts[Component::Galloyl as usize] = t * per_tannin;
                kg.0.amounts[Component::GallicAcid as usize] = g * (1.0 / gallic_kg_per_mol);
                kg.0.masses[Bulk::Tannin as usize] = t;
                kg.water(moisture);
                kg.dissolved(Dissolved::Tannin, t + g);
                if soluble {
                    kg.other_solubles(1.0 - t - g - moisture);
                }
            }
            Makeup::Acid {
                ions,
                kg_per_mol,
                crystal_water,
                volatile,
                dissolved,
            } => {
                let strength = x(0);
                let n = strength / kg_per_mol;
                kg.ions(ions, n);
                let crystal_water = crystal_water * n * WATER;
                kg.water(crystal_water + 1.0 - strength);
                let solid = (strength - crystal_water).max(0.0);
                kg.dissolved(dissolved, solid);
                if volatile {
                    kg.0.dry_residue -= solid;
                }
            }
            Makeup::Gum => {
                let dry = 1.0 - x(0);
                kg.0.masses[Bulk::Gum as usize] = dry;
                kg.water(x(0));
                kg.dissolved(Dissolved::Gum, dry);
            }
            Makeup::Dye => {
                kg.0.masses[Bulk::Dye as usize] = x(0);
                kg.dissolved(Dissolved::Organic, x(0));
                kg.other_solubles(1.0 - x(0));
            }
            Makeup::Organic {
                ions,
                kg_per_mol,
                volatile,
                dissolved,
            } => {
                let purity = x(0);
                if ions.is_empty() {
                    kg.other_solubles(purity);
                } else {
                    kg.ions(ions, purity / kg_per_mol);
                    kg.dissolved(dissolved, purity);
                }
                if volatile {
                    kg.0.dry_residue = 0.0;
                }
                kg.other_solubles(1.0 - purity);
            }
            Makeup::Water {
                mol_of_charge_per_kg,
            } => {
                let alkaline = x(0) * mol_of_charge_per_kg;
                let hard = x(1) * mol_of_charge_per_kg;
                let amounts = &mut kg.0.amounts;
                amounts[Component::Carbonate as usize] = alkaline;
                amounts[Component::Calcium as usize] = hard / 2.0;
                amounts[Component::Sodium as usize] = (alkaline - hard).max(0.0);
                amounts[Component::Sulfate as usize] = (hard - alkaline).max(0.0) / 2.0;
                // Traces of salt: within the rounding of any volume here.
                kg.water(1.0);
            }
            Makeup::Prepared => return scaled(stated, [x(0), x(1), x(2)]),
        }
        kg.0
    }
}

/// What is left of a part beside one that is better known.
fn beside(better_known: f64, part: f64) -> f64 {
    part.min((1.0 - better_known).max(0.0))
}

/// A solution whose iron, galloyl and strong acid are these factors of what is
/// stated; anions move with them.
fn scaled(stated: &Composition, [iron, galloyl, acid]: [f64; 3]) -> Composition {
    let mut out = *stated;
    for c in [Component::IronII, Component::IronIII] {
        out.amounts[c as usize] *= iron;
    }
    for c in [Component::Galloyl, Component::GallicAcid] {
        out.amounts[c as usize] *= galloyl;
    }
    out.masses[Bulk::Tannin as usize] *= galloyl;
    let cations = |c: &Composition| {
        2.0 * c.amounts[Component::IronII as usize] + 3.0 * c.amounts[Component::IronIII as usize]
    };
    // Iron comes with its anion; only the acid's own strength moves the acid.
    let with_iron = cations(&out) - cations(stated);
    let with_acid = (acid - 1.0) * stated.strong_acid().value.max(0.0);
    let charge = |c: Component, each: f64| (c, each, each * stated.amounts[c as usize]);
    let anions = [
        charge(Component::Sulfate, 2.0),
        charge(Component::Chloride, 1.0),
        charge(Component::Acetate, 1.0),
    ];
    let most = anions.iter().max_by(|a, b| a.2.total_cmp(&b.2));
    if let Some(&(anion, each, _)) = most {
        out.amounts[anion as usize] += with_iron / each;
    }
    let strong = if anions[1].2 > anions[0].2 { 1 } else { 0 };
    out.amounts[anions[strong].0 as usize] += with_acid / anions[strong].1;
    out
}

/// A kilogram in the making, added up part by part.
struct Kilogram(Composition);

impl Kilogram {
    fn empty() -> Kilogram {
        Kilogram(Composition {
            mass: 1.0,
            ..Composition::EMPTY
        })
    }

    fn ions(&mut self, ions: &[(Component, f64)], n: f64) {
        for &(component, count) in ions {
            self.0.amounts[component as usize] += count * n;
        }
    }

    fn oxidise(&mut self, share: f64) {
        let iron = self.0.amounts[Component::IronII as usize];
        self.0.amounts[Component::IronII as usize] = iron * (1.0 - share);
        self.0.amounts[Component::IronIII as usize] += iron * share;
    }

    fn water(&mut self, kg: f64) {
        self.0.masses[Bulk::Water as usize] += kg;
        self.0.volume += kg / volumes::WATER_KG_PER_M3.value;
    }

    fn dissolved(&mut self, what: Dissolved, kg: f64) {
        self.0.volume += kg * what.apparent_volume();
        self.0.dry_residue += kg;
    }

    fn other_solubles(&mut self, kg: f64) {
        let kg = kg.max(0.0);
        self.0.masses[Bulk::OtherSolubles as usize] += kg;
        self.dissolved(Dissolved::Organic, kg);
    }
}
