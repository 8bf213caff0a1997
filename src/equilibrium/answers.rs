//! What makers ask: how much of my acid, which of two, what my water does,
//! whether the preservative works.

use super::{EquilibriumError, Master, Solver, Totals};
use crate::bench::{Lot, Material, Preservative, preservatives};
use crate::composition::{Component, Composition, preservative_kg_per_mol};
use crate::quantity::{
    Mass, MassConcentration, MolarConcentration, Share, Volume, checked_mass, grams_per_liter,
    kilograms, moles, within,
};
use crate::recipe::Evaluation;
use crate::root;
use crate::source::Range;

/// A dose may be so many times the mass of the ink at most.
const MOST_TIMES: f64 = 5.0;

/// How much of a lot goes in, and the pH it leads to.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::equilibrium::{ConstantSet, Solver};
/// use ferrogall::quantity::*;
/// let ink = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?.composition(grams(15.0))?
///     .mixed_with(&Lot::of("distilled_water")?.build()?.composition(grams(990.0))?);
/// let muriatic = Lot::of("hydrochloric_acid")?.purity(0.25, 0.01)?.build()?;
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
/// let dose = solver.dose_for_ph(&ink, &muriatic, 1.8)?;
/// assert!((dose.volume.unwrap().in_milliliters() - 4.3).abs() < 0.5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhDose {
    /// What to weigh.
    pub mass: Mass,
    /// What that fills, where the lot's density is known.
    pub volume: Option<Volume>,
    /// The pH reached.
    pub ph: f64,
}

/// What the minerals of the water do to an ink.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::equilibrium::{ConstantSet, Solver};
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Recipe, Solution};
/// let recipe = Recipe::new("ink").with(Solution::new("ink")
///     .add(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?, grams(15.0))
///     .add(&Lot::of("tannic_acid")?.build()?, grams(12.0))
///     .make_up(&Lot::of("hard_tap_water")?.build()?, liters(1.0)));
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
/// let effect = solver.water_effect(&recipe.evaluate()?)?;
/// assert!(effect.ph > effect.ph_with_pure_water);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterEffect {
    /// pH of the ink as it is.
    pub ph: f64,
    /// pH with pure water in its place.
    pub ph_with_pure_water: f64,
    /// Alkalinity that the waters bring: so much acid is eaten.
    pub alkalinity: MolarConcentration,
}

/// A preservative in an ink of this pH.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::equilibrium::{ConstantSet, Solver};
/// use ferrogall::quantity::*;
/// let ink = Lot::of("sodium_benzoate")?.build()?.composition(grams(1.0))?
///     .mixed_with(&Lot::of("distilled_water")?.build()?.composition(grams(999.0))?);
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
/// let state = solver.preservatives(&ink)?[0];
/// assert!(state.undissociated.as_percent() < 1.0); // near pH 7 it does nothing
/// assert!(!state.is_enough());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PreservativeState {
    /// The preservative.
    pub component: Component,
    /// All of it, as the acid or phenol that acts.
    pub total: MassConcentration,
    /// Share in the form that acts.
    pub undissociated: Share,
    /// What acts.
    pub effective: MassConcentration,
    /// Dose met with, of the acid or phenol itself in an ink that keeps it
    /// undissociated, g/L.
    pub usual_dose_g_per_l: Range,
}

impl PreservativeState {
    /// Whether what acts comes up to half the smallest dose met with: doses
    /// against mould are known no better than that.
    pub fn is_enough(&self) -> bool {
        self.effective.value >= 0.5 * self.usual_dose_g_per_l.min
    }
}

impl Solver {
    /// pH of an ink.
    ///
    /// # Errors
    /// [`EquilibriumError::NoWater`]; an amount out of range.
    pub fn ph_of(&mut self, ink: &Composition) -> Result<f64, EquilibriumError> {
        Ok(self.solve(&Totals::of_composition(ink)?)?.ph())
    }

    /// How much of a lot (an acid, a base, an acid salt) brings an ink to a
    /// pH; what it brings beside its acid, water included, is counted.
    ///
    /// # Errors
    /// [`EquilibriumError::Unreachable`] when not even five times the ink's
    /// mass of it gets there; [`EquilibriumError::Plant`] for plant matter.
    pub fn dose_for_ph(
        &mut self,
        ink: &Composition,
        lot: &Lot,
        ph: f64,
    ) -> Result<PhDose, EquilibriumError> {
        let ph = within("pH", ph, -1.0, 15.0, "")?;
        must_be_dosed(lot)?;
        let most = (MOST_TIMES * ink.mass().value).min(crate::quantity::MAX_MASS_KG);
        let mut failed = None;
        let mut off = |kg: f64| {
            let mixed = ink.mixed_with(&lot.contents(kilograms(kg)));
            let solved = Totals::of_composition(&mixed).and_then(|t| Ok(self.follow(&t)?.ph()));
            solved.map_or_else(
                |e| {
                    failed.get_or_insert(e);
                    f64::NAN
                },
                |reached| reached - ph,
            )
        };
        let found = root::first_crossing(&mut off, 0.0, most);
        if let Some(e) = failed {
            return Err(e);
        }
        let kg = found.map_err(|(none, most)| EquilibriumError::Unreachable {
            ph,
            with_none: none + ph,
            with_most: most + ph,
        })?;
        self.dose(ink, lot, kilograms(kg))
    }

    /// pH of an ink with so much of a lot in it.
    ///
    /// # Errors
    /// As [`Solver::dose_for_ph`], and for a mass out of range.
    pub fn dose(
        &mut self,
        ink: &Composition,
        lot: &Lot,
        mass: Mass,
    ) -> Result<PhDose, EquilibriumError> {
        checked_mass("mass", mass)?;
        must_be_dosed(lot)?;
        Ok(PhDose {
            mass,
            volume: lot.density().map(|density| mass / density),
            ph: self.ph_of(&ink.mixed_with(&lot.contents(mass)))?,
        })
    }

    /// How much of one lot does to the pH of an ink what a mass of another
    /// does: "3 mL of hydrochloric or 2 mL of sulfuric acid" put to the test.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::equilibrium::{ConstantSet, Solver};
    /// use ferrogall::quantity::*;
    /// let ink = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?.composition(grams(15.0))?
    ///     .mixed_with(&Lot::of("distilled_water")?.build()?.composition(grams(990.0))?);
    /// let hydrochloric = Lot::of("hydrochloric_acid")?.purity(0.37, 0.005)?.build()?;
    /// let sulfuric = Lot::of("sulfuric_acid")?.purity(0.96, 0.01)?.build()?;
    /// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
    /// let three_ml = hydrochloric.mass_of(milliliters(3.0))?;
    /// let equal = solver.equal_dose(&ink, &hydrochloric, three_ml, &sulfuric)?;
    /// let ml = equal.volume.unwrap().in_milliliters();
    /// assert!(ml > 1.0 && ml < 2.0); // two are more than a fair swap
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// As [`Solver::dose_for_ph`].
    pub fn equal_dose(
        &mut self,
        ink: &Composition,
        given: &Lot,
        mass: Mass,
        instead: &Lot,
    ) -> Result<PhDose, EquilibriumError> {
        let ph = self.dose(ink, given, mass)?.ph;
        self.dose_for_ph(ink, instead, ph)
    }

    /// What the minerals of the water do to the pH of an ink: as it is, and
    /// with pure water in place of every water lot.
    ///
    /// # Errors
    /// As [`Solver::ph_of`].
    pub fn water_effect(&mut self, made: &Evaluation) -> Result<WaterEffect, EquilibriumError> {
        let ink = &made.composition;
        let mut pure = *ink;
        let mut alkalinity = 0.0;
        for line in &made.lines {
            if matches!(line.lot.material(), Some(Material::Water(_))) {
                let brought = line.lot.contents(line.mass);
                alkalinity += line.reach * brought.amount(Component::Carbonate).value;
                for (left, minerals) in pure.amounts.iter_mut().zip(brought.amounts) {
                    *left = (*left - line.reach * minerals).max(0.0);
                }
            }
        }
        Ok(WaterEffect {
            ph: self.ph_of(ink)?,
            ph_with_pure_water: self.ph_of(&pure)?,
            alkalinity: ink.concentration(moles(alkalinity)),
        })
    }

    /// Every preservative of an ink, and how much of it acts at the ink's pH.
    ///
    /// # Errors
    /// As [`Solver::ph_of`].
    pub fn preservatives(
        &mut self,
        ink: &Composition,
    ) -> Result<Vec<PreservativeState>, EquilibriumError> {
        let solution = self.solve(&Totals::of_composition(ink)?)?;
        let ph = solution.ph();
        let mut found = Vec::new();
        for row in preservatives() {
            let &[(component, 1.0)] = row.ions else {
                continue;
            };
            let molar = ink.molarity(component).value;
            if molar <= 0.0 {
                continue;
            }
            let share = match acting_species(component) {
                Some((species, master)) => {
                    solution.molality(species).value / solution.total(master).value
                }
                None => undissociated(row, ph),
            };
            let total = molar * preservative_kg_per_mol(component);
            let share = Share::new(share.clamp(0.0, 1.0))?;
            found.push(PreservativeState {
                component,
                total: grams_per_liter(total),
                undissociated: share,
                effective: grams_per_liter(total * share.value()),
                usual_dose_g_per_l: row.dose_g_per_l,
            });
        }
        Ok(found)
    }
}

/// A plant is soaked, not dosed.
fn must_be_dosed(lot: &Lot) -> Result<(), EquilibriumError> {
    if lot.is_plant() {
        return Err(EquilibriumError::Plant {
            lot: lot.name().into(),
        });
    }
    Ok(())
}

/// The form that acts, where the solver knows it.
fn acting_species(component: Component) -> Option<(&'static str, Master)> {
    Some(match component {
        Component::Salicylate => ("H2Salicylate", Master::Salicylate),
        Component::Benzoate => ("HBenzoate", Master::Benzoate),
        Component::Sorbate => ("HSorbate", Master::Sorbate),
        Component::Phenol => ("Phenol", Master::Phenolate),
        _ => return None,
    })
}

/// By the catalogue's pKa alone; what has none does not dissociate.
fn undissociated(row: &Preservative, ph: f64) -> f64 {
    row.pka
        .map_or(1.0, |pka| 1.0 / (1.0 + libm::exp10(ph - pka)))
}
