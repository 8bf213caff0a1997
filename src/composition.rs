//! The conserved totals of an ink.
//!
//! A [`Composition`] says what is in a quantity of ink, solution or raw
//! material: mol of each dissolved component, kilograms of each material that
//! has no single formula, total mass, volume and dry residue. Scaling, mixing
//! and dilution are plain arithmetic on it, and every later room (equilibrium,
//! oxidation, paper, standards) reads it.

mod component;
mod ratio;

pub(crate) use component::preservative_kg_per_mol;
pub use component::{Bulk, Component};
pub use ratio::{Balance, Criterion, Ratios, Side, Verdict, criteria};
pub(crate) use ratio::{TANNIN_IN_TRADE_GALLS, quotient};

use crate::quantity::{
    AmountOfSubstance, Mass, MassConcentration, MassDensity, MolarConcentration, OutOfRange,
    Volume, kilograms, moles, within,
};
use component::{BULKS, COMPONENTS};

/// What is in a quantity of ink (or of any lot): the conserved totals.
///
/// Volumes are those at 20 °C. They are added up from apparent specific
/// volumes at ink dilution, which keeps them within 0.5 % for inks. In stock
/// solutions the sum is too small: by 1 % at 20 % of an iron salt or
/// hydrochloric acid, by 4 % at 40 % of an acid.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::composition::Component;
/// use ferrogall::quantity::{grams, ReadAmount};
///
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let bag = vitriol.composition(grams(278.006))?;
/// assert!((bag.amount(Component::IronII).in_moles() - 1.0).abs() < 1e-12);
/// assert_eq!(bag.scaled(2.0)?.iron_ii(), bag.iron_ii() * 2.0);
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Composition {
    /// mol, in the order of [`Component`].
    pub(crate) amounts: [f64; COMPONENTS],
    /// kg, in the order of [`Bulk`].
    pub(crate) masses: [f64; BULKS],
    /// kg.
    pub(crate) mass: f64,
    /// m³ at 20 °C.
    pub(crate) volume: f64,
    /// kg left when water and volatile matter have gone.
    pub(crate) dry_residue: f64,
}

impl Composition {
    /// Nothing at all.
    pub const EMPTY: Composition = Composition {
        amounts: [0.0; COMPONENTS],
        masses: [0.0; BULKS],
        mass: 0.0,
        volume: 0.0,
        dry_residue: 0.0,
    };

    /// Adds `factor` times another composition.
    pub(crate) fn add_scaled(&mut self, other: &Composition, factor: f64) {
        for (a, b) in self.amounts.iter_mut().zip(&other.amounts) {
            *a += factor * b;
        }
        for (a, b) in self.masses.iter_mut().zip(&other.masses) {
            *a += factor * b;
        }
        self.mass += factor * other.mass;
        self.volume += factor * other.volume;
        self.dry_residue += factor * other.dry_residue;
    }

    /// The same mixture, `factor` times as much.
    ///
    /// # Errors
    /// [`OutOfRange`] for a factor outside 0 to 1e12, or a mass beyond 1e18 kg.
    pub fn scaled(&self, factor: f64) -> Result<Composition, OutOfRange> {
        within("factor", factor, 0.0, 1e12, "")?;
        within("mass", factor * self.mass, 0.0, 1e18, "kg")?;
        Ok(self.times(factor))
    }

    /// The same mixture, `factor` times as much, the factor checked before.
    pub(crate) fn times(&self, factor: f64) -> Composition {
        let mut out = Composition::EMPTY;
        out.add_scaled(self, factor);
        out
    }

    /// Both poured together.
    #[must_use]
    pub fn mixed_with(&self, other: &Composition) -> Composition {
        let mut out = *self;
        out.add_scaled(other, 1.0);
        out
    }

    /// Amount of one component.
    pub fn amount(&self, component: Component) -> AmountOfSubstance {
        moles(self.amounts[component as usize])
    }

    /// Mass of one component, by [`Component::formula`].
    pub fn mass_of_component(&self, component: Component) -> Mass {
        let kg_per_mol = crate::chem::molar_mass(component.formula()).map_or(0.0, |m| m.value);
        kilograms(self.amounts[component as usize] * kg_per_mol)
    }

    /// Mass of one material that has no single formula.
    pub fn mass_of(&self, bulk: Bulk) -> Mass {
        kilograms(self.masses[bulk as usize])
    }

    /// Concentration of one component; 0 when there is no volume.
    pub fn molarity(&self, component: Component) -> MolarConcentration {
        self.per_volume(self.amounts[component as usize])
    }

    /// Concentration of one material that has no single formula.
    pub fn mass_concentration(&self, bulk: Bulk) -> MassConcentration {
        MassConcentration::new::<uom::si::mass_concentration::kilogram_per_cubic_meter>(
            self.over_volume(self.masses[bulk as usize]),
        )
    }

    /// Total mass.
    pub fn mass(&self) -> Mass {
        kilograms(self.mass)
    }

    /// Volume at 20 °C.
    pub fn volume(&self) -> Volume {
        Volume::new::<uom::si::volume::cubic_meter>(self.volume)
    }

    /// Mass per volume at 20 °C; 0 when there is no volume.
    pub fn density(&self) -> MassDensity {
        MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>(
            self.over_volume(self.mass),
        )
    }

    /// What stays when water and volatile matter (hydrochloric and acetic
    /// acid, phenol, ethanol …) have gone, counted as anhydrous salts.
    ///
    /// Sugars and other extractives of plants are not known and not counted:
    /// for a gall liquor this is a lower bound.
    pub fn dry_residue(&self) -> Mass {
        kilograms(self.dry_residue)
    }

    /// Iron(II).
    pub fn iron_ii(&self) -> AmountOfSubstance {
        self.amount(Component::IronII)
    }

    /// Iron(III).
    pub fn iron_iii(&self) -> AmountOfSubstance {
        self.amount(Component::IronIII)
    }

    /// All iron.
    pub fn iron(&self) -> AmountOfSubstance {
        self.iron_ii() + self.iron_iii()
    }

    /// Metallic iron per volume, the figure ink standards speak of.
    pub fn iron_mass_concentration(&self) -> MassConcentration {
        MassConcentration::new::<uom::si::mass_concentration::kilogram_per_cubic_meter>(
            self.over_volume(self.iron().value * crate::chem::constants::IRON),
        )
    }

    /// Galloyl units, bound in tannin and as free gallic acid together.
    pub fn galloyl(&self) -> AmountOfSubstance {
        self.amount(Component::Galloyl) + self.amount(Component::GallicAcid)
    }

    /// Strong acid: the charge of the strong anions (sulfate, chloride,
    /// nitrate) less that of the cations.
    ///
    /// Alkaline water, benzoates, sorbates, acetates and basic iron salts
    /// enter by their cations, so what they eat is already taken off. A
    /// negative value is an excess of base.
    ///
    /// This is bookkeeping, no pH: equal figures for hydrochloric and sulfuric
    /// acid are not equal pH, and oxalic and phosphoric acid, counted as weak,
    /// give part of their first proton at ink pH. Nor does it hold the acid
    /// that is set free later, when iron binds tannin.
    pub fn strong_acid(&self) -> AmountOfSubstance {
        let charge = |c: Component| self.amounts[c as usize] * c.strong_charge();
        moles(-Component::ALL.iter().map(|&c| charge(c)).sum::<f64>())
    }

    /// Acid that can leave the paper as the writing dries: the hydrogen
    /// chloride that strong acid and chloride can form together, and the
    /// acetic acid that no base holds back.
    pub fn volatile_acid(&self) -> AmountOfSubstance {
        let base = self.strong_acid().value.min(0.0);
        let acetic = (self.amounts[Component::Acetate as usize] + base).max(0.0);
        moles(self.volatile_strong_acid() + acetic)
    }

    /// Strong acid that stays in the paper (as sulfuric acid).
    pub fn fixed_acid(&self) -> AmountOfSubstance {
        moles(self.strong_acid().value.max(0.0) - self.volatile_strong_acid())
    }

    fn volatile_strong_acid(&self) -> f64 {
        let chloride = self.amounts[Component::Chloride as usize];
        self.strong_acid().value.max(0.0).min(chloride)
    }

    /// Total mass of preservatives, as the acids or phenols they act as.
    pub fn preservative(&self) -> Mass {
        kilograms(
            component::PRESERVATIVES
                .iter()
                .map(|&(c, kg_per_mol)| self.amounts[c as usize] * kg_per_mol)
                .sum(),
        )
    }

    /// Any amount per this volume; 0 when there is no volume.
    pub fn concentration(&self, amount: AmountOfSubstance) -> MolarConcentration {
        self.per_volume(amount.value)
    }

    /// The ratios of iron to tannin in the ways people state them.
    pub fn ratios(&self) -> Ratios {
        Ratios::of(self)
    }

    fn per_volume(&self, mol: f64) -> MolarConcentration {
        MolarConcentration::new::<uom::si::molar_concentration::mole_per_cubic_meter>(
            self.over_volume(mol),
        )
    }

    fn over_volume(&self, x: f64) -> f64 {
        let q = x / self.volume;
        if q.is_finite() { q } else { 0.0 }
    }
}
