//! Sets of equilibrium constants.

use super::equation::{Equation, charge, unreadable};
use super::log_k::{GAS_CONSTANT_OF_CORE, LogK, T0};
use super::master::{MASTERS, Master};
use super::tables::{self, Onset, Row, SolidRow};
use super::{Davies, EquilibriumError, Gamma};
use crate::chem::constants::GAS_CONSTANT;
use crate::quantity::{Temperature, within};
use crate::source::Source;
use std::collections::HashMap;

/// Most species a set may hold.
pub(super) const MAX_SPECIES: usize = 1000;
/// Largest power of a component in a dissolved species.
pub(super) const MAX_POWER: i32 = 8;

/// What a species or a solid is made of, in master species, protons and water.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Makeup {
    pub masters: [f64; MASTERS],
    pub protons: f64,
    pub waters: f64,
    pub log_k: LogK,
}

impl Makeup {
    fn plus_times(&mut self, other: &Makeup, factor: f64) {
        for (a, b) in self.masters.iter_mut().zip(other.masters) {
            *a += factor * b;
        }
        self.protons += factor * other.protons;
        self.waters += factor * other.waters;
        self.log_k = self.log_k.plus_times(other.log_k, factor);
    }

    fn of_masters() -> Makeup {
        Makeup {
            masters: [0.0; MASTERS],
            protons: 0.0,
            waters: 0.0,
            log_k: LogK([0.0; 6]),
        }
    }

    fn charge(&self) -> f64 {
        let masters = self.masters.iter().zip(Master::ALL);
        self.protons + masters.map(|(n, m)| n * f64::from(m.charge())).sum::<f64>()
    }

    /// Whether it is more than a proton or a master species by itself.
    pub fn is_formed(&self) -> bool {
        let masters: f64 = self.masters.iter().sum();
        masters + self.protons.abs() + self.waters.abs() > 1.0
    }

    /// Bits of the master species in it.
    pub fn mask(&self) -> u32 {
        let with = self.masters.iter().enumerate().filter(|(_, n)| **n != 0.0);
        with.fold(0, |mask, (i, _)| mask | 1 << i)
    }
}

/// A dissolved species of a set.
///
/// ```
/// use ferrogall::equilibrium::ConstantSet;
/// let set = ConstantSet::reviewed();
/// let pair = set.species().find(|s| s.name() == "FeSO4+").unwrap();
/// assert_eq!((pair.charge(), pair.log_k_25()), (1, 4.25));
/// println!("{}", pair.source().unwrap());
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Species {
    pub(super) name: String,
    pub(super) charge: i32,
    pub(super) makeup: Makeup,
    pub(super) gamma: Gamma,
    pub(super) u: f64,
    pub(super) source: Option<Source>,
}

impl Species {
    /// Its name, the charge at the end.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its charge.
    pub fn charge(&self) -> i32 {
        self.charge
    }

    /// log K of its formation from master species, protons and water at 25 °C
    /// and zero ionic strength.
    pub fn log_k_25(&self) -> f64 {
        let log_k = self
            .makeup
            .log_k
            .at(Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(T0));
        // Coefficients of the enthalpy cancel to the last bits only.
        libm::round(log_k * 1e10) / 1e10
    }

    /// Standard uncertainty of log K (k = 1); 0 where none was given.
    pub fn u(&self) -> f64 {
        self.u
    }

    /// How its activity coefficient is reckoned.
    pub fn gamma(&self) -> Gamma {
        self.gamma
    }

    /// How many of a master species are in it.
    pub fn count(&self, master: Master) -> f64 {
        self.makeup.masters[master as usize]
    }

    /// Protons in it beyond those of its master species; negative: taken off.
    pub fn protons(&self) -> f64 {
        self.makeup.protons
    }

    /// Where the constant comes from; `None` for master species and a
    /// caller's own.
    pub fn source(&self) -> Option<Source> {
        self.source
    }
}

/// A solid, or a gas, that the solution is held against.
///
/// ```
/// use ferrogall::equilibrium::ConstantSet;
/// let set = ConstantSet::reviewed();
/// let goethite = set.solids().find(|s| s.name() == "goethite").unwrap();
/// assert!(!goethite.forms_promptly()); // the ink is metastable against it
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    pub(super) name: String,
    /// Of the dissolution, water on the side of the products positive.
    pub(super) makeup: Makeup,
    pub(super) u: f64,
    pub(super) prompt: bool,
    pub(super) source: Option<Source>,
}

impl Solid {
    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// log K of its dissolution at a temperature.
    pub fn log_k(&self, t: Temperature) -> f64 {
        self.makeup.log_k.at(t)
    }

    /// Standard uncertainty of log K (k = 1).
    pub fn u(&self) -> f64 {
        self.u
    }

    /// Whether it forms within days where the ink is beyond its solubility.
    /// Others may stay away for years: the ink is then metastable.
    pub fn forms_promptly(&self) -> bool {
        self.prompt
    }

    /// Where the constant comes from.
    pub fn source(&self) -> Option<Source> {
        self.source
    }
}

/// A set of equilibrium constants: species, solids, and the rule for activity
/// coefficients.
///
/// [`ConstantSet::reviewed`] is the one to use; [`ConstantSet::core`] the
/// smaller one that reference states are kept for. Change single constants
/// with [`with_log_k`](ConstantSet::with_log_k),
/// [`without`](ConstantSet::without) and
/// [`with_species`](ConstantSet::with_species), or make a set of your own with
/// [`builder`](ConstantSet::builder).
///
/// ```
/// use ferrogall::equilibrium::ConstantSet;
/// let cautious = ConstantSet::reviewed().with_log_k("Fe(OH)2+", -4.8)?;
/// assert_ne!(cautious, ConstantSet::reviewed());
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct ConstantSet {
    name: String,
    pub(super) species: Vec<Species>,
    pub(super) solids: Vec<Solid>,
    pub(super) davies: Davies,
}

impl ConstantSet {
    /// The reviewed set: what the crate uses by default.
    pub fn reviewed() -> ConstantSet {
        let davies = Davies::TRUNCATED;
        let gas_constant = GAS_CONSTANT.value;
        ConstantSet::of_tables(
            "reviewed",
            davies,
            gas_constant,
            tables::REVIEWED,
            tables::SOLIDS,
        )
    }

    /// The set `core`: 76 reactions, plain Davies equation; reference states
    /// solved by an independent code exist for it.
    pub fn core() -> ConstantSet {
        let davies = Davies::PLAIN;
        let gas_constant = GAS_CONSTANT_OF_CORE.value;
        ConstantSet::of_tables(
            "core",
            davies,
            gas_constant,
            tables::CORE,
            tables::CORE_SOLIDS,
        )
    }

    fn of_tables(
        name: &str,
        davies: Davies,
        gas_constant: f64,
        species: &[Row],
        solids: &[SolidRow],
    ) -> ConstantSet {
        let mut builder = ConstantSet::builder(name).davies(davies);
        // A test reads every row; none is lost here.
        for row in species {
            let log_k = LogK::of_row(row.log_k, row.delta_h, gas_constant);
            let _ = builder.add(row.equation, log_k, row.u, Some(row.source));
        }
        for row in solids {
            let log_k = LogK::of_row(row.log_k, row.delta_h, gas_constant);
            let prompt = row.onset == Onset::Prompt;
            let _ = builder.add_solid(
                row.name,
                row.equation,
                log_k,
                row.u,
                prompt,
                Some(row.source),
            );
        }
        builder.build()
    }

    /// A set of your own, which begins with the master species alone: not
    /// even the autoprotolysis of water is in it.
    pub fn builder(name: &str) -> ConstantSetBuilder {
        let free = |name: &str, charge: i32, makeup: Makeup| Species {
            name: name.into(),
            charge,
            makeup,
            gamma: Gamma::Davies,
            u: 0.0,
            source: None,
        };
        let mut species = Vec::with_capacity(160);
        species.push(free(
            "H+",
            1,
            Makeup {
                protons: 1.0,
                ..Makeup::of_masters()
            },
        ));
        for m in Master::ALL {
            let mut makeup = Makeup::of_masters();
            makeup.masters[*m as usize] = 1.0;
            species.push(free(m.formula(), m.charge(), makeup));
        }
        let set = ConstantSet {
            name: name.into(),
            species,
            solids: Vec::new(),
            davies: Davies::TRUNCATED,
        };
        set.into_builder()
    }

    fn into_builder(self) -> ConstantSetBuilder {
        let species = self.species.iter().enumerate();
        ConstantSetBuilder {
            places: species.map(|(i, s)| (s.name.clone(), i)).collect(),
            set: self,
        }
    }

    /// Its name, which every result carries.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Every dissolved species, protons and master species first.
    pub fn species(&self) -> impl ExactSizeIterator<Item = &Species> {
        self.species.iter()
    }

    /// Every solid and gas.
    pub fn solids(&self) -> impl ExactSizeIterator<Item = &Solid> {
        self.solids.iter()
    }

    fn place(&self, name: &str) -> Result<usize, EquilibriumError> {
        let place = self.species.iter().position(|s| s.name == name);
        place.ok_or_else(|| EquilibriumError::UnknownSpecies { name: name.into() })
    }

    /// The same set with another log K (at 25 °C) of one species, held to be
    /// exact; its temperature dependence stays.
    ///
    /// # Errors
    /// [`EquilibriumError::UnknownSpecies`]; beyond ±200.
    pub fn with_log_k(
        mut self,
        species: &str,
        log_k: f64,
    ) -> Result<ConstantSet, EquilibriumError> {
        let log_k = within("log K", log_k, -200.0, 200.0, "")?;
        let place = self.derived(species)?;
        let changed = &mut self.species[place];
        let shift = log_k - changed.log_k_25();
        changed.makeup.log_k.0[0] += shift;
        changed.source = None;
        changed.u = 0.0;
        self.renamed();
        Ok(self)
    }

    /// The same set without one species.
    ///
    /// # Errors
    /// [`EquilibriumError::UnknownSpecies`].
    pub fn without(mut self, species: &str) -> Result<ConstantSet, EquilibriumError> {
        let place = self.derived(species)?;
        self.species.remove(place);
        self.renamed();
        Ok(self)
    }

    /// The same set with one species more, by the reaction that forms it from
    /// species of the set, as [`ConstantSetBuilder::species`] takes it.
    ///
    /// ```
    /// use ferrogall::equilibrium::{ConstantSet, LogK};
    /// let set = ConstantSet::core().with_species("Zn+2 + Gluconate- = ZnGluconate+", LogK::at_25(1.7)?)?;
    /// assert_eq!(set.species().last().map(|s| s.name()), Some("ZnGluconate+"));
    /// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
    /// ```
    ///
    /// # Errors
    /// As [`ConstantSetBuilder::species`].
    pub fn with_species(
        self,
        equation: &str,
        log_k: LogK,
    ) -> Result<ConstantSet, EquilibriumError> {
        let mut builder = self.into_builder();
        builder.species(equation, log_k)?;
        let mut set = builder.build();
        set.renamed();
        Ok(set)
    }

    /// Place of a species that is formed from others.
    fn derived(&self, name: &str) -> Result<usize, EquilibriumError> {
        match self.place(name)? {
            place if place > MASTERS => Ok(place),
            _ => Err(EquilibriumError::UnknownSpecies { name: name.into() }),
        }
    }

    fn renamed(&mut self) {
        if !self.name.ends_with(", changed") {
            self.name.push_str(", changed");
        }
    }
}

/// Makes a [`ConstantSet`] row by row.
///
/// ```
/// use ferrogall::equilibrium::{ConstantSet, LogK};
/// let mut own = ConstantSet::builder("my own");
/// own.species("H2O = OH- + H+", LogK::at_25(-14.0)?)?;
/// own.species("H+ + Acetate- = HAcetate", LogK::at_25(4.757)?)?;
/// own.species("Na+ + HAcetate = NaAcetate + H+", LogK::at_25(-4.9)?)?;
/// let set = own.build();
/// let pair = set.species().last().unwrap();
/// assert!((pair.log_k_25() + 0.143).abs() < 1e-9); // told in master species
/// # Ok::<(), ferrogall::equilibrium::EquilibriumError>(())
/// ```
#[derive(Debug, Clone)]
pub struct ConstantSetBuilder {
    set: ConstantSet,
    /// Places of the species by name.
    places: HashMap<String, usize>,
}

impl ConstantSetBuilder {
    /// The rule for activity coefficients; [`Davies::TRUNCATED`] without it.
    #[must_use]
    pub fn davies(mut self, davies: Davies) -> Self {
        self.set.davies = davies;
        self
    }

    /// Adds a species by the reaction that forms it from master species and
    /// species added before. It is the only one of the products that is not
    /// known yet.
    ///
    /// # Errors
    /// [`EquilibriumError::Equation`] when the text cannot be read, names
    /// something unknown, does not balance in charge, or leaves no or two new
    /// species.
    pub fn species(&mut self, equation: &str, log_k: LogK) -> Result<(), EquilibriumError> {
        self.add(equation, log_k, 0.0, None)
    }

    /// Sets how the activity coefficient of one species is reckoned.
    ///
    /// # Errors
    /// [`EquilibriumError::UnknownSpecies`]; parameters outside their range.
    pub fn gamma(&mut self, species: &str, gamma: Gamma) -> Result<(), EquilibriumError> {
        let place = self.set.place(species)?;
        self.set.species[place].gamma = gamma.checked()?;
        Ok(())
    }

    /// Adds a solid or gas by the reaction that dissolves it; it comes first.
    ///
    /// # Errors
    /// As [`ConstantSetBuilder::species`].
    pub fn solid(
        &mut self,
        name: &str,
        equation: &str,
        log_k: LogK,
    ) -> Result<(), EquilibriumError> {
        self.add_solid(name, equation, log_k, 0.0, true, None)
    }

    /// The set.
    pub fn build(self) -> ConstantSet {
        self.set
    }

    fn known(&self, name: &str) -> Option<Makeup> {
        if name == "H2O" {
            return Some(Makeup {
                waters: 1.0,
                ..Makeup::of_masters()
            });
        }
        let place = *self.places.get(name)?;
        Some(self.set.species[place].makeup.clone())
    }

    fn add(
        &mut self,
        equation: &str,
        log_k: LogK,
        u: f64,
        source: Option<Source>,
    ) -> Result<(), EquilibriumError> {
        let sides = Equation::parse(equation)?;
        let mut makeup = Makeup {
            log_k,
            ..Makeup::of_masters()
        };
        for (n, name) in &sides.left {
            let part = self.known(name).ok_or_else(|| {
                unreadable(equation, &format!("begins with {name}, which is not known"))
            })?;
            makeup.plus_times(&part, *n);
        }
        let mut formed = None;
        for (n, name) in &sides.right {
            match self.known(name) {
                Some(part) => makeup.plus_times(&part, -n),
                None if formed.is_none() && *n == 1.0 => formed = Some(*name),
                None => return Err(unreadable(equation, "forms more than one new species")),
            }
        }
        let name = formed.ok_or_else(|| unreadable(equation, "forms nothing new"))?;
        let charge = charge(name);
        if (makeup.charge() - f64::from(charge)).abs() > 1e-9 {
            return Err(unreadable(equation, "does not balance in charge"));
        }
        let small = |n: &f64| n.fract() == 0.0 && n.abs() <= f64::from(MAX_POWER);
        let others = [makeup.protons, makeup.waters];
        if !makeup.masters.iter().chain(&others).all(small) {
            return Err(unreadable(
                equation,
                "forms a species with no small whole number of each part",
            ));
        }
        if makeup.masters.iter().any(|n| *n < 0.0) {
            return Err(unreadable(
                equation,
                "forms a species with less than nothing of a part",
            ));
        }
        within(
            "number of species",
            self.set.species.len() as f64 + 1.0,
            1.0,
            MAX_SPECIES as f64,
            "",
        )?;
        self.places.insert(name.into(), self.set.species.len());
        self.set.species.push(Species {
            name: name.into(),
            charge,
            makeup,
            gamma: Gamma::Davies,
            u,
            source,
        });
        Ok(())
    }

    fn add_solid(
        &mut self,
        name: &str,
        equation: &str,
        log_k: LogK,
        u: f64,
        prompt: bool,
        source: Option<Source>,
    ) -> Result<(), EquilibriumError> {
        let sides = Equation::parse(equation)?;
        let mut makeup = Makeup {
            log_k,
            ..Makeup::of_masters()
        };
        let (_, reactants) = sides
            .left
            .split_first()
            .filter(|((n, _), _)| *n == 1.0)
            .ok_or_else(|| unreadable(equation, "does not begin with one of the solid"))?;
        let terms = reactants.iter().map(|(n, name)| (-n, name));
        for (n, name) in terms.chain(sides.right.iter().map(|(n, name)| (*n, name))) {
            let part = self.known(name).ok_or_else(|| {
                unreadable(equation, &format!("holds {name}, which is not known"))
            })?;
            // The makeup counts what the products are made of; log K of a
            // dissolved species leads from its parts to it.
            let dissolved = part.log_k;
            makeup.plus_times(&part, n);
            makeup.log_k = makeup.log_k.plus_times(dissolved, -2.0 * n);
        }
        if makeup.charge().abs() > 1e-9 {
            return Err(unreadable(equation, "does not balance in charge"));
        }
        within(
            "number of solids",
            self.set.solids.len() as f64 + 1.0,
            1.0,
            256.0,
            "",
        )?;
        self.set.solids.push(Solid {
            name: name.into(),
            makeup,
            u,
            prompt,
            source,
        });
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_row_of_the_tables_is_lost() {
        let (reviewed, core) = (ConstantSet::reviewed(), ConstantSet::core());
        assert_eq!(reviewed.species.len(), 1 + MASTERS + tables::REVIEWED.len());
        assert_eq!(reviewed.solids.len(), tables::SOLIDS.len());
        assert_eq!(core.species.len(), 1 + MASTERS + tables::CORE.len());
        assert_eq!(core.solids.len(), tables::CORE_SOLIDS.len());
    }

    #[test]
    fn a_set_can_be_changed_and_says_so() -> Result<(), EquilibriumError> {
        let set = ConstantSet::core();
        let changed = set.clone().with_log_k("FeSO4", 2.3)?.without("FeCl+")?;
        assert_eq!(changed.name(), "core, changed");
        assert_eq!(changed.species.len(), set.species.len() - 1);
        let place = changed.place("FeSO4")?;
        approx::assert_abs_diff_eq!(changed.species[place].log_k_25(), 2.3, epsilon = 1e-10);
        for name in ["Fe+2", "H+", "FeX"] {
            assert!(set.clone().without(name).is_err(), "{name}");
        }
        Ok(())
    }

    #[test]
    fn reactions_that_make_no_sense_are_refused() -> Result<(), EquilibriumError> {
        for bad in [
            "Fe+2 + SO4-2 = FeSO4+",                           // charge
            "Fe+2 + Unobtainium-2 = FeUn",                     // unknown
            "Fe+2 + SO4-2 = Fe+2 + SO4-2",                     // nothing new
            "Fe+2 + SO4-2 = FeS + O4",                         // two new
            "1.5 Na+ + 1.5 Cl- = NaCl",                        // no whole number
            "Fe+2 = Fe + SO4-2 + 2 Na+ + H+ + H+ + Cl- + Cl-", // less than nothing
            "9 Na+ + 9 Cl- = NaCl9",                           // too many
        ] {
            let mut own = ConstantSet::builder("bad");
            assert!(own.species(bad, LogK::at_25(1.0)?).is_err(), "{bad}");
        }
        assert!(LogK::at_25(f64::NAN).is_err());
        Ok(())
    }
}
