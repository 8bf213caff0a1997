//! What the keeping of an ink depends on.

use super::fit::Believed;
use crate::composition::{Component, Composition};
use crate::equilibrium::{Solver, Totals};
use crate::oxidation::bottle::{Bottle, BottleBuilder};
use crate::oxidation::{
    Assisted, FirstOrder, Ion, OxidationError, Parameter, SaltingSet, Scavenger, salting_out,
};
use crate::quantity::{
    MassConcentration, Molality, MolarConcentration, Share, Temperature, Volume,
    moles_per_kilogram, within,
};
use crate::source::Range;
use uom::si::molar_concentration::mole_per_cubic_meter;

/// Ions of an ink that salt oxygen out. Organic acids have no published
/// parameters.
const SALTING: [(Component, Ion); 9] = [
    (Component::IronII, Ion::IronII),
    (Component::IronIII, Ion::IronIII),
    (Component::Sulfate, Ion::Sulfate),
    (Component::Chloride, Ion::Chloride),
    (Component::Sodium, Ion::Sodium),
    (Component::Potassium, Ion::Potassium),
    (Component::Ammonium, Ion::Ammonium),
    (Component::Calcium, Ion::Calcium),
    (Component::Carbonate, Ion::Hydrogencarbonate),
];

/// An ink as the forecast sees it: iron, tannin, acid, and what is known of
/// its rates. Changing one of them is how measures are compared.
///
/// ```
/// use ferrogall::oxidation::StoredInk;
/// use ferrogall::quantity::{moles_per_liter, milliliters};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink.bottle(milliliters(40.0), milliliters(30.0)).build()?;
/// assert_eq!(bottle.iron_ii(), ink.iron_ii());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StoredInk {
    pub(super) iron_ii: f64,  // mol/m³
    pub(super) iron_iii: f64, // mol/m³
    pub(super) galloyl: f64,  // mol/m³
    pub(super) ph: f64,
    pub(super) salt: Molality,
    /// Oxygen it dissolves, as a share of that in water.
    pub(super) dissolving: Share,
    pub(super) assisted: Assisted,
    /// How far tannin undoes the oxidation.
    pub(super) steady: Range,
    /// What was seen of it, if anything.
    pub(super) believed: Option<Believed>,
    pub(super) scavenger: f64, // mol/m³
    pub(super) oxygen_per_scavenger: f64,
    pub(super) nail: FirstOrder,
    /// What it is made of, and kg of water in a m³ of it, if known.
    pub(super) totals: Option<(Totals, f64)>,
}

impl StoredInk {
    /// From its iron(II), its galloyl units (those of tannin and free gallic
    /// acid together) and its pH: 1e-6 to 10 mol/L, 0 to 10 mol/L, 0 to 7.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn new(
        iron_ii: MolarConcentration,
        galloyl: MolarConcentration,
        ph: f64,
    ) -> Result<Self, OxidationError> {
        StoredInk {
            iron_ii: 0.0,
            iron_iii: 0.0,
            galloyl: 0.0,
            ph: 7.0,
            salt: Molality::default(),
            dissolving: Share::ONE,
            assisted: Assisted::published(),
            steady: Parameter::STEADY_IRON_III_SHARE.range,
            believed: None,
            scavenger: 0.0,
            oxygen_per_scavenger: 0.5,
            nail: FirstOrder::ZERO,
            totals: None,
        }
        .with_iron_ii(iron_ii)?
        .with_galloyl(galloyl)?
        .at_ph(ph)
    }

    /// From a composition, with the pH and the salt its equilibrium has.
    ///
    /// ```
    /// use ferrogall::equilibrium::{ConstantSet, Solver};
    /// use ferrogall::oxidation::StoredInk;
    /// use ferrogall::quantity::{celsius, liters};
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
    /// assert!(ink.ph() > 2.0 && ink.ph() < 5.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`OxidationError::Equilibrium`] when the equilibrium of the ink cannot
    /// be found; an ink without iron(II), or of a pH outside 0 to 7.
    pub fn of(ink: &Composition, solver: &mut Solver) -> Result<Self, OxidationError> {
        let totals = Totals::of_composition(ink)?;
        let solution = solver.solve(&totals)?;
        let (ph, salt) = (solution.ph(), solution.ionic_strength());
        let temperature = solver.temperature();
        let ions = SALTING.map(|(component, ion)| (ion, ink.molarity(component)));
        let water = ink.mass_of(crate::composition::Bulk::Water).value / ink.volume().value;
        Ok(StoredInk {
            iron_iii: ink.concentration(ink.iron_iii()).value,
            salt,
            dissolving: salting_out(SaltingSet::default(), temperature, &ions)?,
            totals: Some((totals, water)),
            ..StoredInk::new(
                ink.concentration(ink.iron_ii()),
                ink.concentration(ink.galloyl()),
                ph,
            )?
        })
    }

    /// With iron(III) beside it, 0 to 10 mol/L; its composition is known no more.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn with_iron_iii(self, iron_iii: MolarConcentration) -> Result<Self, OxidationError> {
        within("iron(III)", iron_iii.value / 1000.0, 0.0, 10.0, "mol/L")?;
        Ok(StoredInk {
            iron_iii: iron_iii.value,
            totals: None,
            ..self
        })
    }

    /// With other iron(II), 1e-6 to 10 mol/L; its composition is known no more.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn with_iron_ii(self, iron_ii: MolarConcentration) -> Result<Self, OxidationError> {
        within("iron(II)", iron_ii.value / 1000.0, 1e-6, 10.0, "mol/L")?;
        Ok(StoredInk {
            iron_ii: iron_ii.value,
            totals: None,
            ..self
        })
    }

    /// With other tannin, 0 to 10 mol/L of galloyl units; its composition is
    /// known no more.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn with_galloyl(self, galloyl: MolarConcentration) -> Result<Self, OxidationError> {
        within("galloyl units", galloyl.value / 1000.0, 0.0, 10.0, "mol/L")?;
        Ok(StoredInk {
            galloyl: galloyl.value,
            totals: None,
            ..self
        })
    }

    /// With what is known of its own rate: a guess of one's own, or that of a
    /// like ink.
    #[must_use]
    pub fn with_assisted(self, assisted: Assisted) -> Self {
        StoredInk {
            assisted,
            believed: None,
            ..self
        }
    }

    /// As a salt solution: of this ionic strength (0 to 100 mol/kg), dissolving
    /// this share of the oxygen that water does; its composition is known no
    /// more. [`StoredInk::of`] knows both.
    ///
    /// ```
    /// use ferrogall::oxidation::StoredInk;
    /// use ferrogall::quantity::{moles_per_kilogram, moles_per_liter, Share};
    /// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
    /// let salted = ink.with_salt(moles_per_kilogram(0.2), Share::percent(94.0)?)?;
    /// assert_eq!(salted.ionic_strength(), moles_per_kilogram(0.2));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn with_salt(
        self,
        ionic_strength: Molality,
        dissolving: Share,
    ) -> Result<Self, OxidationError> {
        within("ionic strength", ionic_strength.value, 0.0, 100.0, "mol/kg")?;
        Ok(StoredInk {
            salt: ionic_strength,
            dissolving,
            totals: None,
            ..self
        })
    }

    /// With what is known of how far tannin undoes the oxidation, as a share of
    /// iron(III) from 0.01 to 1 ([`Parameter::STEADY_IRON_III_SHARE`]).
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for an end outside that range, or ends
    /// that do not enclose the typical value.
    pub fn with_steady_share(self, steady: Range) -> Result<Self, OxidationError> {
        let what = "steady share of iron(III)";
        within(what, steady.min, 0.01, 1.0, "")?;
        within(what, steady.max, steady.min, 1.0, "")?;
        within(what, steady.typical, steady.min, steady.max, "")?;
        Ok(StoredInk {
            steady,
            believed: None,
            ..self
        })
    }

    /// At another pH, 0 to 7, by a strong acid or base. What it takes is told
    /// by [`Solver::dose_for_ph`].
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn at_ph(self, ph: f64) -> Result<Self, OxidationError> {
        Ok(StoredInk {
            ph: within("pH", ph, 0.0, 7.0, "")?,
            totals: None,
            ..self
        })
    }

    /// With a scavenger dissolved in it, up to 1 mol/L. See what each
    /// [`Scavenger`] does besides.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn with_scavenger(
        self,
        scavenger: &Scavenger,
        dose: MassConcentration,
    ) -> Result<Self, OxidationError> {
        // g/L over g/mol
        let mol_per_l = dose.value / scavenger.molar_mass_g_per_mol;
        within("scavenger", mol_per_l, 0.0, 1.0, "mol/L")?;
        within(
            "oxygen per scavenger",
            scavenger.oxygen_per_mole,
            0.1,
            4.0,
            "mol/mol",
        )?;
        Ok(StoredInk {
            scavenger: mol_per_l * 1000.0,
            oxygen_per_scavenger: scavenger.oxygen_per_mole,
            ..self
        })
    }

    /// With a clean nail in the bottle that reduces iron(III) at this rate.
    /// Iron in acid gives off hydrogen, which burns and bursts closed bottles:
    /// such a bottle must vent.
    #[must_use]
    pub fn with_nail(self, rate: FirstOrder) -> Self {
        StoredInk { nail: rate, ..self }
    }

    /// A bottle of this ink.
    pub fn bottle(&self, capacity: Volume, fill: Volume) -> BottleBuilder {
        Bottle::builder(capacity, fill, self.iron_ii())
    }

    /// Iron(II).
    pub fn iron_ii(&self) -> MolarConcentration {
        MolarConcentration::new::<mole_per_cubic_meter>(self.iron_ii)
    }

    /// Iron(III).
    pub fn iron_iii(&self) -> MolarConcentration {
        MolarConcentration::new::<mole_per_cubic_meter>(self.iron_iii)
    }

    /// Galloyl units.
    pub fn galloyl(&self) -> MolarConcentration {
        MolarConcentration::new::<mole_per_cubic_meter>(self.galloyl)
    }

    /// pH.
    pub fn ph(&self) -> f64 {
        self.ph
    }

    /// What is known of the rate at which its tannin and oxygen take iron(II).
    pub fn assisted(&self) -> Assisted {
        self.assisted
    }

    /// Ionic strength.
    pub fn ionic_strength(&self) -> Molality {
        self.salt
    }

    /// What is known of how far its tannin undoes the oxidation.
    pub fn steady_share(&self) -> Range {
        self.steady
    }

    /// Oxygen it dissolves, as a share of what water does.
    pub fn dissolving(&self) -> Share {
        self.dissolving
    }

    /// The milieu of its iron at a temperature.
    pub(super) fn milieu(
        &self,
        temperature: Temperature,
    ) -> Result<crate::oxidation::Milieu, OxidationError> {
        let strongest = self.salt.value.min(2.0);
        crate::oxidation::Milieu::new(temperature, self.ph)?
            .ionic_strength(moles_per_kilogram(strongest))
    }
}
