//! All that makers ask of the acid and the iron in one ink.

use super::constants::Species;
use super::{
    ConstantSet, EquilibriumError, Interval, Master, Saturation, Solver, Speciation, Totals,
};
use crate::composition::{Bulk, Composition};
use crate::quantity::{
    Molality, MolarConcentration, ReadMolality, Share, Temperature, moles_per_liter,
};

/// pH to which titratable acid is counted.
const NEUTRAL: f64 = 7.0;

/// Where the iron of one kind is: shares of it, which add up to 1.
///
/// ```
/// use ferrogall::equilibrium::IronShares;
/// let none = IronShares::default();
/// assert_eq!(none.free + none.gallate + none.tannin, 0.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct IronShares {
    /// Bare ions in water.
    pub free: f64,
    /// Bound to hydroxide alone.
    pub hydroxide: f64,
    /// Bound to sulfate.
    pub sulfate: f64,
    /// Bound to chloride.
    pub chloride: f64,
    /// Bound to gallic acid.
    pub gallate: f64,
    /// Bound to galloyl units of tannin.
    pub tannin: f64,
    /// Bound to anything else: oxalate, citrate, tartrate, acetate, salicylate …
    pub other: f64,
}

impl IronShares {
    /// All shares together: 1, or 0 where there is no such iron.
    pub fn sum(&self) -> f64 {
        let bound = self.hydroxide + self.sulfate + self.chloride + self.gallate;
        self.free + bound + self.tannin + self.other
    }

    fn of(solution: &Speciation, iron: Master) -> IronShares {
        let total = solution.total(iron).value;
        let mut shares = IronShares::default();
        if total <= 0.0 {
            return shares;
        }
        for (species, n) in solution.with_species() {
            let share = species.count(iron) * n / total;
            *shares.place(species) += share;
        }
        shares
    }

    fn place(&mut self, species: &Species) -> &mut f64 {
        let holds = |m: Master| species.count(m) > 0.0;
        let ions = Master::ALL.iter().filter(|m| holds(**m)).count();
        if holds(Master::Gallate) {
            &mut self.gallate
        } else if holds(Master::Galloyl) {
            &mut self.tannin
        } else if holds(Master::Sulfate) {
            &mut self.sulfate
        } else if holds(Master::Chloride) {
            &mut self.chloride
        } else if ions > 1 {
            &mut self.other
        } else if species.protons() < 0.0 {
            &mut self.hydroxide
        } else {
            &mut self.free
        }
    }
}

/// A complex of iron with gallic acid or tannin, and how much of each it holds.
///
/// ```
/// use ferrogall::equilibrium::ComplexShare;
/// let c = ComplexShare { species: "FeHGal".into(), of_iron: 0.02, of_ligand: 0.01 };
/// assert!(c.of_iron > c.of_ligand);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct ComplexShare {
    /// The complex.
    pub species: String,
    /// Share of the iron of its kind.
    pub of_iron: f64,
    /// Share of the gallic acid, or of the galloyl units.
    pub of_ligand: f64,
}

/// What holds of a solid.
///
/// ```
/// use ferrogall::equilibrium::SolidState;
/// assert_ne!(SolidState::Settles, SolidState::Metastable);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SolidState {
    /// It would dissolve.
    Dissolves,
    /// Too near its solubility to tell: within the uncertainty of the constant.
    Near,
    /// It will settle within days.
    Settles,
    /// The ink holds more than the solid would leave, but this solid takes
    /// months or years to form.
    Metastable,
}

/// A solid held against the ink.
///
/// ```
/// use ferrogall::equilibrium::{SolidState, SolidVerdict};
/// let v = SolidVerdict { solid: "goethite".into(), index: 5.4, u: 0.05, state: SolidState::Metastable };
/// assert!(v.index > 0.0);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct SolidVerdict {
    /// The solid.
    pub solid: String,
    /// Saturation index.
    pub index: f64,
    /// Standard uncertainty of its solubility product, log10.
    pub u: f64,
    /// What follows.
    pub state: SolidState,
}

impl SolidVerdict {
    fn of(s: Saturation) -> SolidVerdict {
        let state = if s.index < -2.0 * s.u {
            SolidState::Dissolves
        } else if s.index < 2.0 * s.u {
            SolidState::Near
        } else if s.forms_promptly {
            SolidState::Settles
        } else {
            SolidState::Metastable
        };
        SolidVerdict {
            solid: s.name.into(),
            index: s.index,
            u: s.u,
            state,
        }
    }
}

/// What air will make of the acid, once all iron(II) is oxidised.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::equilibrium::InkReport;
/// # use ferrogall::quantity::*;
/// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?.composition(grams(15.0))?;
/// # let tannin = Lot::of("tannic_acid")?.build()?.composition(grams(12.0))?;
/// # let ink = vitriol.mixed_with(&tannin)
/// #     .mixed_with(&Lot::of("distilled_water")?.build()?.composition(grams(980.0))?);
/// let report = InkReport::of(&ink, celsius(20.0))?;
/// assert!(report.oxidation.ph_settled < report.ph); // the ink turns more acid
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AfterOxidation {
    /// pH with all iron as iron(III) and still dissolved.
    pub ph_dissolved: f64,
    /// pH with all the iron that gallic acid and tannin can take settled as
    /// the pigment: the most acid the ink can get.
    pub ph_settled: f64,
    /// Strong acid set free until then, mol per litre of the ink: two for each
    /// iron(II), three for each iron(III) that settles.
    pub acid_set_free: MolarConcentration,
    /// Strong acid that can then leave the writing as hydrogen chloride.
    pub volatile_acid: MolarConcentration,
    /// Strong acid that then stays in the paper, as sulfuric acid.
    pub fixed_acid: MolarConcentration,
}

/// Acid and iron of an ink at equilibrium, iron(II) and iron(III) apart.
///
/// Fractions bound to gallic acid and tannin are good to one order of
/// magnitude: the constants behind them are (their sources say so), and the
/// pigment itself has no known solubility.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::equilibrium::InkReport;
/// use ferrogall::quantity::*;
/// let part = |id: &str, g: f64| -> Result<_, Box<dyn std::error::Error>> {
///     Ok(Lot::of(id)?.build()?.composition(grams(g))?)
/// };
/// let ink = part("iron_ii_sulfate_heptahydrate", 15.0)?
///     .mixed_with(&part("tannic_acid", 12.0)?)
///     .mixed_with(&part("hydrochloric_acid", 4.0)?)
///     .mixed_with(&part("distilled_water", 970.0)?);
/// let report = InkReport::of(&ink, celsius(20.0))?;
/// assert!(report.ph > 1.5 && report.ph < 1.8);
/// assert!(report.ph_interval.low < report.ph && report.ph < report.ph_interval.high);
/// assert!(report.iron_ii.free > 0.5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct InkReport {
    /// Name of the set of constants.
    pub constants: String,
    /// Temperature it holds for.
    pub temperature: Temperature,
    /// pH.
    pub ph: f64,
    /// What the uncertainty of the constants leaves open of it (95 %); that of
    /// the amounts comes on top.
    pub ph_interval: Interval,
    /// Ionic strength.
    pub ionic_strength: Molality,
    /// Whether that lies where activity coefficients are trusted (0.5 mol/kg).
    pub within_validity: bool,
    /// Where the iron(II) is.
    pub iron_ii: IronShares,
    /// Where the iron(III) is.
    pub iron_iii: IronShares,
    /// 95 % span of the share of iron(III) bound to gallic acid and tannin.
    pub coloured_share: Interval,
    /// Complexes of iron with gallic acid and tannin, the largest first.
    pub complexes: Vec<ComplexShare>,
    /// Solids, the most oversaturated first.
    pub solids: Vec<SolidVerdict>,
    /// What air will make of it.
    pub oxidation: AfterOxidation,
    /// Strong base that brings a litre to pH 7, nothing settling on the way.
    pub titratable_acid: MolarConcentration,
    /// Strong base that raises the pH of a litre by one unit, as a slope.
    pub buffer_capacity: MolarConcentration,
    /// Share of iron(II) that air can oxidise before a solid of iron(III)
    /// begins to settle; `None` when it can all be oxidised. The pigment is
    /// not counted.
    pub settling: Option<Settling>,
}

/// Where an ink begins to settle as air oxidises it.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
/// use ferrogall::quantity::{celsius, moles_per_kilogram};
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
/// let vitriol = Totals::new()
///     .with(Master::IronII, moles_per_kilogram(0.06))?
///     .with(Master::Sulfate, moles_per_kilogram(0.06))?;
/// let settling = solver.settling(&vitriol)?.unwrap();
/// assert!(settling.oxidised.as_percent() < 5.0); // without acid almost at once
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Settling {
    /// The solid that is first.
    pub solid: String,
    /// Share of the iron(II) oxidised then.
    pub oxidised: Share,
}

impl InkReport {
    /// Of an ink at a temperature from 0 to 60 °C, with the reviewed constants.
    ///
    /// # Errors
    /// [`EquilibriumError::NoWater`]; a temperature or an amount out of range.
    pub fn of(ink: &Composition, temperature: Temperature) -> Result<InkReport, EquilibriumError> {
        Solver::new(ConstantSet::reviewed(), temperature)?.report(ink)
    }
}

impl Solver {
    /// All that makers ask of the acid and the iron in one ink.
    ///
    /// # Errors
    /// As [`InkReport::of`].
    pub fn report(&mut self, ink: &Composition) -> Result<InkReport, EquilibriumError> {
        let totals = Totals::of_composition(ink)?;
        let water_per_liter = ink.mass_concentration(Bulk::Water).value;
        let per_liter = |molality: f64| moles_per_liter(molality * water_per_liter / 1000.0);
        let coloured = |s: &Speciation| {
            let shares = IronShares::of(s, Master::IronIII);
            shares.gallate + shares.tannin
        };
        let [ph_interval, coloured_share] = self.intervals(&totals, |s| [s.ph(), coloured(s)])?;
        let oxidation = self.after_oxidation(&totals, &per_liter)?;
        let settling = self.settling(&totals)?;
        let titratable_acid = per_liter(self.base_to(&totals, NEUTRAL)?);
        let solution = self.solve(&totals)?;
        let mut solids: Vec<_> = solution
            .solids()
            .filter(|s| s.name != "CO2(g)")
            .map(SolidVerdict::of)
            .collect();
        solids.sort_by(|a, b| b.index.total_cmp(&a.index));
        Ok(InkReport {
            constants: solution.set_name().into(),
            temperature: solution.temperature(),
            ph: solution.ph(),
            ph_interval,
            ionic_strength: solution.ionic_strength(),
            within_validity: solution.is_within_validity(),
            iron_ii: IronShares::of(&solution, Master::IronII),
            iron_iii: IronShares::of(&solution, Master::IronIII),
            coloured_share,
            complexes: complexes(&solution),
            solids,
            oxidation,
            titratable_acid,
            buffer_capacity: per_liter(solution.buffer_capacity().in_moles_per_kilogram()),
            settling,
        })
    }

    fn after_oxidation(
        &mut self,
        totals: &Totals,
        per_liter: &impl Fn(f64) -> MolarConcentration,
    ) -> Result<AfterOxidation, EquilibriumError> {
        let oxidised = totals.oxidised(1.0)?;
        let settled = oxidised.pigment_settled();
        // Each settled iron leaves as many charges to protons as it had, less
        // the one it takes up where it is oxidised.
        let free = settled.strong_acid();
        let volatile = free.max(0.0).min(settled.of(Master::Chloride).value);
        Ok(AfterOxidation {
            ph_dissolved: self.solve(&oxidised)?.ph(),
            ph_settled: self.solve(&settled)?.ph(),
            acid_set_free: per_liter(free - totals.strong_acid()),
            volatile_acid: per_liter(volatile),
            fixed_acid: per_liter(free.max(0.0) - volatile),
        })
    }

    /// How much of the iron(II) air can oxidise before a solid of iron(III)
    /// that forms promptly begins to settle; `None` when none does. Iron
    /// gallate, the pigment, is not counted: no solubility of it is known.
    ///
    /// # Errors
    /// As [`Solver::solve`].
    pub fn settling(&mut self, totals: &Totals) -> Result<Option<Settling>, EquilibriumError> {
        if totals.of(Master::IronII).value + totals.of(Master::IronIII).value <= 0.0 {
            return Ok(None);
        }
        let mut failed = None;
        let mut highest = |share: f64| {
            let oxidised = totals.oxidised(share);
            match oxidised.and_then(|t| Ok(first_to_settle(&self.follow(&t)?).1)) {
                Ok(index) => index,
                Err(e) => {
                    failed.get_or_insert(e);
                    f64::NAN
                }
            }
        };
        let begun = highest(0.0) > 0.0;
        let share = if begun {
            Some(0.0)
        } else {
            crate::root::first_crossing(&mut highest, 0.0, 1.0).ok()
        };
        if let Some(e) = failed {
            return Err(e);
        }
        let Some(share) = share else { return Ok(None) };
        let at_once = totals.oxidised(share)?;
        let (solid, _) = first_to_settle(&self.solve(&at_once)?);
        Ok(Some(Settling {
            solid,
            oxidised: Share::new(share)?,
        }))
    }

    /// Strong base (acid where negative) that brings a solution to a pH, mol
    /// per kilogram of water, as sodium hydroxide or hydrochloric acid.
    pub(crate) fn base_to(&mut self, totals: &Totals, ph: f64) -> Result<f64, EquilibriumError> {
        let (ion, sign) = if self.solve(totals)?.ph() < ph {
            (Master::Sodium, 1.0)
        } else {
            (Master::Chloride, -1.0)
        };
        let (needed, _) = self.solve_for(ion, ph, totals)?;
        Ok(sign * (needed - totals.of(ion)).value)
    }
}

impl Totals {
    /// Charge of the strong anions less that of the strong cations, as
    /// [`Composition::strong_acid`] counts it.
    fn strong_acid(&self) -> f64 {
        const STRONG: [Master; 14] = [
            Master::IronII,
            Master::IronIII,
            Master::Sulfate,
            Master::Chloride,
            Master::Nitrate,
            Master::Sodium,
            Master::Potassium,
            Master::Ammonium,
            Master::Calcium,
            Master::Magnesium,
            Master::Copper,
            Master::Zinc,
            Master::Manganese,
            Master::Aluminium,
        ];
        let charge = |m: &Master| f64::from(m.charge()) * self.of(*m).value;
        -STRONG.iter().map(charge).sum::<f64>()
    }
}

/// The prompt solid of iron(III) with the highest saturation index.
fn first_to_settle(solution: &Speciation) -> (String, f64) {
    let solids = solution.solids().filter(|s| s.forms_promptly);
    let of_iron = solids.filter(|s| solution.is_of(s.name, Master::IronIII));
    let highest = of_iron.max_by(|a, b| a.index.total_cmp(&b.index));
    highest.map_or((String::new(), f64::NEG_INFINITY), |s| {
        (s.name.into(), s.index)
    })
}

fn complexes(solution: &Speciation) -> Vec<ComplexShare> {
    let mut found = Vec::new();
    for (species, n) in solution.with_species() {
        for iron in [Master::IronII, Master::IronIII] {
            for ligand in [Master::Gallate, Master::Galloyl] {
                if species.count(iron) > 0.0 && species.count(ligand) > 0.0 {
                    found.push(ComplexShare {
                        species: species.name().into(),
                        of_iron: species.count(iron) * n / solution.total(iron).value,
                        of_ligand: species.count(ligand) * n / solution.total(ligand).value,
                    });
                }
            }
        }
    }
    found.sort_by(|a, b| b.of_iron.total_cmp(&a.of_iron));
    found
}
