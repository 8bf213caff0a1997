//! The chemistry of an ink on its way, and how to save it.

use super::ink::StoredInk;
use super::run::Outcome;
use crate::chem::constants::GREEN_VITRIOL;
use crate::equilibrium::{EquilibriumError, Master, Solver, Totals};
use crate::oxidation::{Milieu, OxidationError, Parameter};
use crate::quantity::{MassConcentration, Molality, MolarConcentration, moles_per_kilogram};
use uom::si::mass_concentration::kilogram_per_cubic_meter;
use uom::si::molar_concentration::mole_per_cubic_meter;

/// What is left of iron(II) when all of it is gone, mol/m³: enough to ask in
/// which shape it would be.
const TRACE: f64 = 1e-9;

/// Acid and iron of an ink at one moment of its keeping.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, Solver};
/// use ferrogall::oxidation::{Forecaster, StoredInk};
/// use ferrogall::quantity::{celsius, days, liters, milliliters};
/// # use ferrogall::{bench::Lot, formulate::Choice, standards::reference_ink};
/// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// # let tannic_acid = Lot::of("tannic_acid")?.build()?;
/// # let water = Lot::of("distilled_water")?.build()?;
/// # let choice = Choice::new(&vitriol, &tannic_acid, &water);
/// # let published = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
/// # let targets = choice.reachable(&published.targets(liters(1.0), 1.0)?);
/// # let composition = choice.formulate(&targets)?.recipe.evaluate()?.composition;
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
/// let ink = StoredInk::of(&composition, &mut solver)?;
/// let bottle = ink.bottle(milliliters(60.0), milliliters(30.0)).build()?;
/// let half_a_year = Forecaster::new(&ink, &bottle)?.outcomes(&[days(180.0)])?[0];
/// // Iron that binds tannin sets acid free.
/// let later = ink.chemistry(&half_a_year, &mut solver)?;
/// assert!(later.ph < ink.ph());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct InkChemistry {
    /// pH.
    pub ph: f64,
    /// Ionic strength.
    pub ionic_strength: Molality,
    /// The water its iron(II) is in: in which shape the iron is, and from
    /// that what every rate law makes of it.
    pub milieu: Milieu,
}

/// What to do with an ink that has stood.
///
/// ```
/// use ferrogall::oxidation::Advice;
/// assert!(Advice::Keep.in_words().starts_with("nothing to filter"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Advice {
    /// Hardly any iron has settled. What is oxidised is still dissolved: the ink
    /// writes dark at once and darkens less.
    Keep,
    /// Filter off the sediment and replace what went with it.
    FilterAndRefresh,
    /// More than half of the iron has settled: a new batch is less work.
    MakeNew,
}

impl Advice {
    /// In words.
    pub const fn in_words(self) -> &'static str {
        match self {
            Advice::Keep => "nothing to filter: hardly any iron has settled",
            Advice::FilterAndRefresh => "filter off the sediment and replace what went with it",
            Advice::MakeNew => "more than half of the iron has settled: make a new batch",
        }
    }
}

/// What brings an ink back, for each volume of it, after filtering.
///
/// ```
/// use ferrogall::oxidation::{Advice, Forecaster, StoredInk};
/// use ferrogall::quantity::{days, milliliters, moles_per_liter, ReadMassConcentration};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink.bottle(milliliters(40.0), milliliters(30.0)).build()?;
/// let year = Forecaster::new(&ink, &bottle)?.typical()?;
/// let rescue = ink.rescue(&year, None)?;
/// assert_eq!(rescue.advice, Advice::FilterAndRefresh);
/// assert!(rescue.green_vitriol.in_grams_per_liter() > 1.0);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Rescue {
    /// Whether it is worth it.
    pub advice: Advice,
    /// Iron that has settled: to be replaced as iron(II).
    pub iron: MolarConcentration,
    /// The same as FeSO₄·7H₂O.
    pub green_vitriol: MassConcentration,
    /// Galloyl units that have settled with it, one to an iron, or were
    /// oxidised: to be replaced by tannin.
    pub galloyl: MolarConcentration,
    /// Strong acid, as H⁺, that brings the filtered ink back to its first pH;
    /// `None` when it is more acid than it was (as a rule: iron that binds
    /// tannin sets acid free), or its composition is not known.
    pub strong_acid: Option<MolarConcentration>,
}

impl StoredInk {
    /// pH and iron of the ink after an outcome of its keeping, sediment taken out.
    /// Each iron that settles takes one galloyl unit along, gallic acid first;
    /// tannin that has given its electrons away binds no iron.
    ///
    /// # Errors
    /// [`OxidationError::NoComposition`] unless the ink is
    /// [`of`](StoredInk::of) a composition; equilibrium not found.
    pub fn chemistry(
        &self,
        outcome: &Outcome,
        solver: &mut Solver,
    ) -> Result<InkChemistry, OxidationError> {
        let (totals, _) = self.totals_after(outcome)?;
        let solution = solver.follow(&totals)?;
        Ok(InkChemistry {
            ph: solution.ph(),
            ionic_strength: solution.ionic_strength(),
            milieu: Milieu::of(&solution)?,
        })
    }

    /// What brings the ink back; with a solver, also the acid.
    ///
    /// # Errors
    /// [`OxidationError::NoComposition`] with a solver, unless the ink is
    /// [`of`](StoredInk::of) a composition; equilibrium not found.
    pub fn rescue(
        &self,
        outcome: &Outcome,
        solver: Option<&mut Solver>,
    ) -> Result<Rescue, OxidationError> {
        let left = Left::of(self, outcome);
        let strong_acid = match solver {
            Some(solver) => self.acid_to_first_ph(outcome, solver)?,
            None => None,
        };
        let settled = outcome.sediment.value;
        let lost = settled / (self.iron_ii + self.iron_iii);
        Ok(Rescue {
            advice: match lost {
                share if share < Parameter::WORTH_FILTERING.range.typical => Advice::Keep,
                share if share <= Parameter::PAST_SAVING.range.typical => Advice::FilterAndRefresh,
                _ => Advice::MakeNew,
            },
            iron: molar(settled),
            green_vitriol: MassConcentration::new::<kilogram_per_cubic_meter>(
                settled * GREEN_VITRIOL,
            ),
            galloyl: molar(self.galloyl - left.galloyl),
            strong_acid,
        })
    }

    fn acid_to_first_ph(
        &self,
        outcome: &Outcome,
        solver: &mut Solver,
    ) -> Result<Option<MolarConcentration>, OxidationError> {
        let (totals, water) = self.totals_after(outcome)?;
        if solver.solve(&totals)?.ph() <= self.ph {
            return Ok(None);
        }
        let before = totals.of(Master::Chloride).value;
        match solver.solve_for(Master::Chloride, self.ph, &totals) {
            Ok((after, _)) => Ok(Some(molar((after.value - before).max(0.0) * water))),
            Err(EquilibriumError::Unreachable { .. }) => Ok(None),
            Err(e) => Err(e.into()),
        }
    }

    /// Totals of the ink at a moment, and kg of water in a m³ of it.
    fn totals_after(&self, outcome: &Outcome) -> Result<(Totals, f64), OxidationError> {
        let (totals, water) = self.totals.ok_or(OxidationError::NoComposition)?;
        let left = Left::of(self, outcome);
        let molal = |per_volume: f64| moles_per_kilogram((per_volume / water).max(0.0));
        // Gallic acid goes first.
        let gone = self.galloyl - left.galloyl;
        let gallic = totals.of(Master::Gallate).value * water;
        let bound = totals.of(Master::Galloyl).value * water;
        let after = totals
            .with(Master::IronII, molal(left.iron_ii.max(TRACE)))?
            .with(Master::IronIII, molal(left.iron_iii))?
            .with(Master::Gallate, molal(gallic - gone))?
            .with(Master::Galloyl, molal(bound - (gone - gallic).max(0.0)))?;
        Ok((after, water))
    }
}

/// What is left of iron and tannin, mol/m³.
struct Left {
    iron_ii: f64,
    iron_iii: f64,
    galloyl: f64,
}

impl Left {
    fn of(ink: &StoredInk, now: &Outcome) -> Left {
        let dissolved = now.iron_left.value() * (ink.iron_ii + ink.iron_iii);
        let iron_iii = now.iron_iii.value;
        let unspent = ink.galloyl * now.tannin_left.value();
        Left {
            iron_ii: (dissolved - iron_iii).max(0.0),
            iron_iii,
            galloyl: (unspent - now.sediment.value).max(0.0),
        }
    }
}

fn molar(value: f64) -> MolarConcentration {
    MolarConcentration::new::<mole_per_cubic_meter>(value)
}
