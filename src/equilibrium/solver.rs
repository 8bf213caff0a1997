//! The way in: totals to species.

use super::constants::{ConstantSet, Species};
use super::master::{MASTERS, Master};
use super::newton::{Problem, Work};
use super::tableau::{Medium, Tableau};
use super::{Davies, DebyeHuckel, EquilibriumError};
use crate::quantity::{Molality, Pressure, ReadPressure, Temperature, moles_per_kilogram, within};
use crate::root;
use core::f64::consts::LN_10;
use std::sync::Arc;

/// Largest total of one component, mol per kg of water.
pub(super) const MOST: f64 = 20.0;
/// Smaller totals count as none.
const LEAST: f64 = 1e-18;

/// How much of each component is dissolved, per kilogram of water.
///
/// Protons are not told: there are as many as electroneutrality asks for.
/// Hydrochloric acid is chloride, acetic acid is acetate, sodium acetate is
/// acetate and sodium.
///
/// ```
/// use ferrogall::equilibrium::{Master, Totals};
/// use ferrogall::quantity::moles_per_kilogram;
/// let vinegar = Totals::new().with(Master::Acetate, moles_per_kilogram(0.83))?;
/// assert_eq!(vinegar.of(Master::Acetate), moles_per_kilogram(0.83));
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Totals(pub(super) [f64; MASTERS]);

impl Default for Totals {
    fn default() -> Self {
        Totals::new()
    }
}

impl Totals {
    /// Pure water.
    pub const fn new() -> Totals {
        Totals([0.0; MASTERS])
    }

    /// The same with another total of one component.
    ///
    /// # Errors
    /// Outside 0 to 20 mol/kg.
    pub fn with(mut self, master: Master, total: Molality) -> Result<Totals, EquilibriumError> {
        self.0[master as usize] = within(master.formula(), total.value, 0.0, MOST, "mol/kg")?;
        Ok(self)
    }

    /// The total of one component.
    pub fn of(&self, master: Master) -> Molality {
        moles_per_kilogram(self.0[master as usize])
    }

    /// Bits of the components present.
    fn mask(&self) -> u32 {
        let present = self.0.iter().enumerate().filter(|(_, t)| **t >= LEAST);
        present.fold(0, |mask, (i, _)| mask | 1 << i)
    }
}

/// Works out what is dissolved in a solution, one solution after the other.
///
/// Holds a set of constants at one temperature, and room for the work: a
/// solution is solved without allocation, and the layout of the last mixture
/// is kept for the next that holds the same components. Clone it to solve on
/// several threads; the bits are the same whatever was solved before.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
/// use ferrogall::quantity::{celsius, moles_per_kilogram};
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
/// let acid_vitriol = Totals::new()
///     .with(Master::IronII, moles_per_kilogram(0.054))?
///     .with(Master::Sulfate, moles_per_kilogram(0.054))?
///     .with(Master::Chloride, moles_per_kilogram(0.036))?;
/// let solution = solver.solve(&acid_vitriol)?;
/// assert!((solution.ph() - 1.78).abs() < 0.01);
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone)]
pub struct Solver {
    set: Arc<ConstantSet>,
    temperature: Temperature,
    carbon_dioxide: Option<Pressure>,
    pub(super) medium: Medium,
    pub(super) ln_k: Vec<f64>,
    ln_gas: Option<f64>,
    pub(super) tableau: Tableau,
    pub(super) work: Box<Work>,
    totals: [f64; MASTERS],
    solved: bool,
}

impl Solver {
    /// A set of constants at a temperature from 0 to 60 °C.
    ///
    /// # Errors
    /// Outside that range.
    pub fn new(set: ConstantSet, temperature: Temperature) -> Result<Solver, EquilibriumError> {
        let law = DebyeHuckel::of_water(temperature)?;
        let of = |s: &Species| LN_10 * s.makeup.log_k.at(temperature);
        let medium = Medium {
            law,
            davies: set.davies,
            held_from: set.davies.held_from(),
        };
        Ok(Solver {
            ln_k: set.species.iter().map(of).collect(),
            set: Arc::new(set),
            temperature,
            carbon_dioxide: None,
            medium,
            ln_gas: None,
            tableau: Tableau::empty(),
            work: Box::new(Work::new()),
            totals: [0.0; MASTERS],
            solved: false,
        })
    }

    /// Holds the solution in equilibrium with carbon dioxide of this pressure,
    /// from 1e-10 to 10 atm: carbonate of the totals is then left aside.
    /// Outdoor air has about 43 Pa (425 ppm).
    ///
    /// # Errors
    /// Outside that range; when the set has no gas `CO2(g)`.
    pub fn open_to(mut self, carbon_dioxide: Pressure) -> Result<Solver, EquilibriumError> {
        let atm = carbon_dioxide.in_kilopascals() / 101.325;
        let atm = within("pressure of carbon dioxide", atm, 1e-10, 10.0, "atm")?;
        let missing = || EquilibriumError::UnknownSpecies {
            name: "CO2(g)".into(),
        };
        let gas = self
            .set
            .solids
            .iter()
            .find(|s| s.name == "CO2(g)")
            .ok_or_else(missing)?;
        self.ln_gas = Some(LN_10 * gas.makeup.log_k.at(self.temperature) + libm::log(atm));
        self.carbon_dioxide = Some(carbon_dioxide);
        self.tableau = Tableau::empty();
        self.solved = false;
        Ok(self)
    }

    /// Takes other parameters of the Debye–Hückel law than those of water: to
    /// compare with codes that reckon them otherwise.
    #[must_use]
    pub fn with_debye_huckel(mut self, law: DebyeHuckel) -> Solver {
        self.medium.law = law;
        self.tableau = Tableau::empty();
        self.solved = false;
        self
    }

    /// The constants.
    pub fn set(&self) -> &ConstantSet {
        &self.set
    }

    /// The temperature.
    pub fn temperature(&self) -> Temperature {
        self.temperature
    }

    /// The pressure of carbon dioxide the solution is open to, if any.
    pub fn carbon_dioxide(&self) -> Option<Pressure> {
        self.carbon_dioxide
    }

    /// What is dissolved. Needs no guess.
    ///
    /// # Errors
    /// [`EquilibriumError::NotSolved`] if the balances cannot be met to 1e-12,
    /// which no admissible totals are known to cause.
    pub fn solve(&mut self, totals: &Totals) -> Result<Speciation<'_>, EquilibriumError> {
        self.take(totals)?;
        self.solve_cold()?;
        Ok(Speciation { solver: self })
    }

    /// As [`solve`](Solver::solve), starting from the last answer where that
    /// held the same components: for titrations and other sequences of small
    /// steps. The last bits of the answer may depend on where it started.
    ///
    /// # Errors
    /// As [`solve`](Solver::solve).
    pub fn follow(&mut self, totals: &Totals) -> Result<Speciation<'_>, EquilibriumError> {
        let near = self.solved && totals.mask() == self.tableau.mask;
        self.take(totals)?;
        if !(near && self.solve_on()) {
            self.solve_cold()?;
        }
        Ok(Speciation { solver: self })
    }

    /// The total of one component at which the solution has this pH, all
    /// others as given: the acid or base that is asked for. What has a
    /// negative charge (chloride, citrate …) comes as its acid, what has a
    /// positive one as its hydroxide.
    ///
    /// # Errors
    /// [`EquilibriumError::Unreachable`] when none of it or as much as 20
    /// mol/kg does not get there; a pH outside −1 to 15.
    pub fn solve_for(
        &mut self,
        unknown: Master,
        ph: f64,
        totals: &Totals,
    ) -> Result<(Molality, Speciation<'_>), EquilibriumError> {
        let ph = within("pH", ph, -1.0, 15.0, "")?;
        let mut failed = None;
        let mut ph_with = |total: f64| {
            let mut trial = *totals;
            trial.0[unknown as usize] = total;
            match self.follow(&trial) {
                Ok(solution) => solution.ph() - ph,
                Err(e) => {
                    failed.get_or_insert(e);
                    f64::NAN
                }
            }
        };
        let found = root::first_crossing(&mut ph_with, 0.0, MOST);
        if let Some(e) = failed {
            return Err(e);
        }
        let total = found.map_err(|(none, most)| EquilibriumError::Unreachable {
            ph,
            with_none: none + ph,
            with_most: most + ph,
        })?;
        let mut reached = *totals;
        reached.0[unknown as usize] = total;
        Ok((moles_per_kilogram(total), self.solve(&reached)?))
    }

    fn take(&mut self, totals: &Totals) -> Result<(), EquilibriumError> {
        self.solved = false;
        let mask = totals.mask();
        if mask != self.tableau.mask {
            let Solver {
                tableau,
                set,
                ln_k,
                medium,
                ..
            } = self;
            tableau.lay_out(set, ln_k, medium, mask, self.ln_gas)?;
        }
        for (slot, m) in self.totals.iter_mut().zip(&self.tableau.masters) {
            *slot = totals.0[*m as usize];
        }
        Ok(())
    }

    fn parts(&mut self) -> (Problem<'_>, &mut Work) {
        let totals = &self.totals[..self.tableau.masters.len()];
        let problem = Problem {
            tableau: &self.tableau,
            medium: &self.medium,
            totals,
            protons: self.tableau.protons(totals),
        };
        (problem, &mut self.work)
    }

    fn solve_cold(&mut self) -> Result<(), EquilibriumError> {
        let guess = self
            .tableau
            .guess(&self.totals[..self.tableau.masters.len()]);
        self.tableau.hold_protons(guess)?;
        let (problem, work) = self.parts();
        work.start(&problem, guess);
        let solved = work.quickly(&problem) || work.surely(&problem, guess);
        self.solved = solved;
        let residual = self.work.residual;
        if solved {
            Ok(())
        } else {
            Err(EquilibriumError::NotSolved { residual })
        }
    }

    fn solve_on(&mut self) -> bool {
        let (problem, work) = self.parts();
        work.resume(&problem);
        let solved = work.quickly(&problem);
        self.solved = solved;
        solved
    }

    /// Solves the last solution again with some constants multiplied, one
    /// factor a species of the tableau, starting from where it stands.
    pub(super) fn again_with(&mut self, k: &[f64], factors: &[f64]) -> bool {
        let products = k.iter().zip(factors).map(|(k, factor)| k * factor);
        self.tableau.k.clear();
        self.tableau.k.extend(products);
        self.solve_on() || self.solve_cold().is_ok()
    }

    /// Solves the last solution again with this much strong base more (acid
    /// where negative), in mol/kg, that brings no ions of its own.
    pub(super) fn again_with_base(&mut self, base: f64) -> bool {
        let guess = self
            .tableau
            .guess(&self.totals[..self.tableau.masters.len()]);
        let (problem, work) = self.parts();
        let problem = Problem {
            protons: problem.protons - base,
            ..problem
        };
        work.resume(&problem);
        work.quickly(&problem) || work.surely(&problem, guess)
    }
}

/// What is dissolved in a solution at equilibrium.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
/// use ferrogall::quantity::{ReadMolality, celsius, moles_per_kilogram};
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
/// let vinegar = Totals::new().with(Master::Acetate, moles_per_kilogram(0.1))?;
/// let solution = solver.solve(&vinegar)?;
/// assert!((solution.ph() - 2.88).abs() < 0.01);
/// let split = solution.molality("Acetate-").in_moles_per_kilogram();
/// assert!((split - 0.00135).abs() < 0.00005);
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Speciation<'a> {
    pub(super) solver: &'a Solver,
}

/// One dissolved species of a solution.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, Solver, Totals};
/// use ferrogall::quantity::celsius;
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
/// let water = solver.solve(&Totals::new())?;
/// let proton = water.species().find(|s| s.name == "H+").unwrap();
/// assert!((proton.log10_activity + 7.0).abs() < 0.01);
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dissolved<'a> {
    /// Name, with the charge at the end.
    pub name: &'a str,
    /// Charge.
    pub charge: i32,
    /// Amount per kilogram of water.
    pub molality: Molality,
    /// log10 of the activity coefficient.
    pub log10_gamma: f64,
    /// log10 of the activity.
    pub log10_activity: f64,
}

/// How far a solution is from dissolving or forming a solid.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
/// use ferrogall::quantity::{celsius, moles_per_kilogram};
/// let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
/// let hard = Totals::new()
///     .with(Master::Calcium, moles_per_kilogram(0.1))?
///     .with(Master::Sulfate, moles_per_kilogram(0.1))?;
/// let solution = solver.solve(&hard)?;
/// let gypsum = solution.solids().find(|s| s.name == "gypsum").unwrap();
/// assert!(gypsum.index > 0.0 && gypsum.forms_promptly);
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Saturation<'a> {
    /// Name of the solid or gas.
    pub name: &'a str,
    /// Saturation index: log10 of the ion activity product over the solubility
    /// product. Above 0 the solution holds more than the solid would leave;
    /// for a gas it is log10 of its pressure in atm.
    pub index: f64,
    /// Standard uncertainty of the solubility product, log10.
    pub u: f64,
    /// Whether the solid forms within days; a solution above the saturation
    /// of others is metastable, perhaps for years.
    pub forms_promptly: bool,
}

impl<'a> Speciation<'a> {
    /// −log10 of the activity of the proton.
    pub fn ph(&self) -> f64 {
        -libm::log10(self.solver.work.activity[self.solver.tableau.masters.len()])
    }

    /// Half the sum of molality times squared charge.
    pub fn ionic_strength(&self) -> Molality {
        moles_per_kilogram(self.solver.work.ionic_strength)
    }

    /// Activity of water.
    pub fn water_activity(&self) -> f64 {
        self.solver.work.water
    }

    /// Name of the set of constants.
    pub fn set_name(&self) -> &'a str {
        self.solver.set.name()
    }

    /// The temperature.
    pub fn temperature(&self) -> Temperature {
        self.solver.temperature
    }

    /// Whether the ionic strength lies in the range to which the rule of
    /// activity coefficients is commonly trusted (0.5 mol/kg).
    pub fn is_within_validity(&self) -> bool {
        self.solver.work.ionic_strength <= Davies::VALID_TO
    }

    /// Largest relative error of the balances of mass and protons.
    pub fn residual(&self) -> f64 {
        self.solver.work.residual
    }

    /// How often all species were worked out to get here.
    pub fn evaluations(&self) -> u32 {
        self.solver.work.evaluations
    }

    /// Every dissolved species that the components can form.
    pub fn species(&self) -> impl Iterator<Item = Dissolved<'a>> + use<'a> {
        let solver = self.solver;
        (0..solver.tableau.species.len()).map(move |at| solver.dissolved(at))
    }

    /// Molality of one species; none of it when the components cannot form
    /// it.
    pub fn molality(&self, name: &str) -> Molality {
        let found = self.species().find(|s| s.name == name);
        found.map_or(moles_per_kilogram(0.0), |s| s.molality)
    }

    /// How much of a component there is, summed over its species.
    pub fn total(&self, master: Master) -> Molality {
        self.sum(|s| s.makeup.masters[master as usize])
    }

    /// Sum over the species of molality times a weight of the species.
    pub(super) fn sum(&self, weight: impl Fn(&Species) -> f64) -> Molality {
        moles_per_kilogram(self.with_species().map(|(s, n)| n * weight(s)).sum())
    }

    /// The species as the set has them, with their molalities.
    pub(super) fn with_species(&self) -> impl Iterator<Item = (&'a Species, f64)> + use<'a> {
        let solver = self.solver;
        let t = &solver.tableau;
        let species = t.species.iter().zip(&solver.work.n);
        species.map(|(&i, &n)| (&solver.set.species[usize::from(i)], n))
    }

    /// Whether a solid holds a component.
    pub(super) fn is_of(&self, solid: &str, master: Master) -> bool {
        let mut solids = self.solver.set.solids.iter();
        solids.any(|s| s.name == solid && s.makeup.masters[master as usize] > 0.0)
    }

    /// Sum of charges over the sum of their sizes: 0 but for rounding.
    pub fn charge_error(&self) -> f64 {
        let net = self.sum(|s| f64::from(s.charge)).value;
        let gross = self.sum(|s| f64::from(s.charge.abs())).value;
        net / gross
    }

    /// log10 of the activity of a component's own ion or molecule; `None`
    /// where it is absent.
    pub fn log10_activity(&self, master: Master) -> Option<f64> {
        let t = &self.solver.tableau;
        let place = t.masters.iter().position(|m| *m == master);
        match (place, self.solver.ln_gas) {
            (Some(j), _) => {
                let held = f64::from(t.held[j]);
                Some(libm::log10(self.solver.work.activity[j]) + held * self.ph())
            }
            (None, Some(gas)) if master == Master::Carbonate => {
                let water = libm::log10(self.solver.work.water);
                Some(gas / LN_10 + water + 2.0 * self.ph())
            }
            _ => None,
        }
    }

    /// Solids and gases that the components can form, with their saturation.
    pub fn solids(&self) -> impl Iterator<Item = Saturation<'a>> + use<'a> {
        let this = *self;
        let water = libm::log10(self.solver.work.water);
        let ph = self.ph();
        let mut activity = [0.0; MASTERS];
        let mut present = 0_u32;
        for m in Master::ALL {
            if let Some(log) = this.log10_activity(*m) {
                activity[*m as usize] = log;
                present |= 1 << *m as usize;
            }
        }
        let temperature = self.solver.temperature;
        let solids = self.solver.set.solids.iter();
        let possible = solids.filter(move |s| s.makeup.mask() & !present == 0);
        possible.map(move |s| {
            let ions = s.makeup.masters.iter().zip(activity);
            let product = ions.fold(0.0, |sum, (n, log)| sum + n * log);
            let product = product - s.makeup.protons * ph + s.makeup.waters * water;
            Saturation {
                name: &s.name,
                index: product - s.makeup.log_k.at(temperature),
                u: s.u,
                forms_promptly: s.prompt,
            }
        })
    }
}

impl Solver {
    fn dissolved(&self, at: usize) -> Dissolved<'_> {
        let t = &self.tableau;
        let species = &self.set.species[usize::from(t.species[at])];
        let n = self.work.n[at];
        let inverse = self.work.coefficients.inverse[usize::from(t.rule[at])];
        Dissolved {
            name: &species.name,
            charge: species.charge,
            molality: moles_per_kilogram(n),
            log10_gamma: -libm::log10(inverse),
            log10_activity: libm::log10(n / inverse),
        }
    }
}
