//! A solution of one solute in water.

use super::density::{accepted_celsius, density, mass_fraction_from_density};
use super::error::ChemError;
use super::hydrometer::{BaumeScale, SpecificGravity};
use super::interpolate::find;
use super::solute::Solute;
use crate::quantity::{
    Mass, MassConcentration, MassDensity, MassFraction, MolarConcentration, OutOfRange,
    ReadMassDensity, ReadMolarConcentration, ReadTemperature, Temperature, Volume, checked_mass,
    checked_volume, grams_per_liter, kilograms, liters, moles_per_liter, within,
};

/// So much of a solute in water at one temperature.
///
/// However it was made, by percentage, molarity, density or a hydrometer, it
/// answers in all of them. Acids: gloves, goggles, moving air; pour acid into
/// water; local rules come first.
///
/// ```
/// use ferrogall::chem::{BaumeScale, Solute, Solution};
/// use ferrogall::quantity::{ReadMolarConcentration, celsius};
/// // Muriatic acid of 20 °Bé, read at 60 °F.
/// let sixty_f = celsius(28.0 / 1.8);
/// let acid = Solution::from_baume(Solute::HydrochloricAcid, BaumeScale::American, 20.0, sixty_f)?;
/// assert!((acid.mass_fraction().as_percent() - 31.45).abs() < 0.02);
/// assert!((acid.molarity().in_moles_per_liter() - 10.0).abs() < 0.01);
/// # Ok::<(), ferrogall::chem::ChemError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solution {
    solute: Solute,
    mass_fraction: MassFraction,
    temperature: Temperature,
    density: MassDensity,
}

impl Solution {
    /// Of this mass fraction.
    ///
    /// # Errors
    /// As [`density`]: outside [`Solute::valid`].
    pub fn new(solute: Solute, w: MassFraction, t: Temperature) -> Result<Self, ChemError> {
        Ok(Solution {
            solute,
            mass_fraction: w,
            temperature: t,
            density: density(solute, w, t)?,
        })
    }

    /// Of so many grams in 100 g.
    ///
    /// # Errors
    /// As [`Solution::new`]; also for anything but 0 to 100.
    pub fn from_mass_percent(
        solute: Solute,
        percent: f64,
        t: Temperature,
    ) -> Result<Self, ChemError> {
        Solution::new(solute, MassFraction::percent(percent)?, t)
    }

    /// Of this molarity at `t`.
    ///
    /// # Errors
    /// [`ChemError::OutOfRange`] when the molarity is negative or above that of
    /// the strongest solution covered; otherwise as [`Solution::new`].
    pub fn from_molarity(
        solute: Solute,
        molarity: MolarConcentration,
        t: Temperature,
    ) -> Result<Self, ChemError> {
        let celsius = accepted_celsius(solute, t)?;
        let m = solute.model();
        // The mass of solute in a litre rises with strength even where the
        // density falls.
        let mol_per_l = |w: f64| 1000.0 * w * m.density(w, celsius) / m.molar_mass;
        let target = within(
            "molarity",
            molarity.in_moles_per_liter(),
            0.0,
            mol_per_l(m.w_max),
            "mol/L",
        )?;
        let w = MassFraction::new(find(mol_per_l, target, 0.0, m.w_max))?;
        Solution::new(solute, w, t)
    }

    /// Of this density at `t`.
    ///
    /// # Errors
    /// As [`mass_fraction_from_density`].
    pub fn from_density(
        solute: Solute,
        density: MassDensity,
        t: Temperature,
    ) -> Result<Self, ChemError> {
        let w = mass_fraction_from_density(solute, density, t)?;
        Solution::new(solute, w, t)
    }

    /// Of this specific gravity, the sample at `sample` against water at
    /// `reference`.
    ///
    /// # Errors
    /// As [`SpecificGravity::new`] and [`mass_fraction_from_density`].
    pub fn from_specific_gravity(
        solute: Solute,
        sg: f64,
        sample: Temperature,
        reference: Temperature,
    ) -> Result<Self, ChemError> {
        Self::from_reading(solute, SpecificGravity::new(sg, sample, reference)?)
    }

    /// Of these degrees Baumé, read in the sample at `t`.
    ///
    /// # Errors
    /// As [`SpecificGravity::from_baume`] and [`mass_fraction_from_density`].
    pub fn from_baume(
        solute: Solute,
        scale: BaumeScale,
        degrees: f64,
        t: Temperature,
    ) -> Result<Self, ChemError> {
        Self::from_reading(solute, SpecificGravity::from_baume(scale, degrees, t)?)
    }

    /// Of these degrees Twaddell, read in the sample at `t`.
    ///
    /// # Errors
    /// As [`SpecificGravity::from_twaddell`] and [`mass_fraction_from_density`].
    pub fn from_twaddell(solute: Solute, degrees: f64, t: Temperature) -> Result<Self, ChemError> {
        Self::from_reading(solute, SpecificGravity::from_twaddell(degrees, t)?)
    }

    fn from_reading(solute: Solute, reading: SpecificGravity) -> Result<Self, ChemError> {
        Self::from_density(solute, reading.density(), reading.sample())
    }

    /// What is dissolved.
    pub const fn solute(&self) -> Solute {
        self.solute
    }

    /// Mass of solute per mass of solution.
    pub const fn mass_fraction(&self) -> MassFraction {
        self.mass_fraction
    }

    /// Temperature at which density and molarity hold.
    pub const fn temperature(&self) -> Temperature {
        self.temperature
    }

    /// Density.
    pub const fn density(&self) -> MassDensity {
        self.density
    }

    /// Mass of solute per volume of solution.
    pub fn mass_concentration(&self) -> MassConcentration {
        grams_per_liter(
            1000.0 * self.mass_fraction.value() * self.density.in_grams_per_cubic_centimeter(),
        )
    }

    /// Amount of solute per volume of solution.
    pub fn molarity(&self) -> MolarConcentration {
        let grams =
            1000.0 * self.mass_fraction.value() * self.density.in_grams_per_cubic_centimeter();
        moles_per_liter(grams / self.solute.model().molar_mass)
    }

    /// The sample against water at `reference`.
    ///
    /// # Errors
    /// [`OutOfRange`] for a reference outside 0 to 100 °C.
    pub fn specific_gravity(&self, reference: Temperature) -> Result<SpecificGravity, OutOfRange> {
        SpecificGravity::from_density(self.density, self.temperature, reference)
    }

    /// Whether the temperature lies beyond the data, within the tolerance of
    /// [`Solute::valid`].
    pub fn is_extrapolated(&self) -> bool {
        let (low, high) = self.solute.model().data_range();
        let t = self.temperature.in_celsius();
        // Kelvin and back may cost a last bit.
        t < low - 1e-9 || t > high + 1e-9
    }

    /// Mass of this volume of the solution.
    ///
    /// # Errors
    /// [`OutOfRange`] for a volume below 0 or above 1000 m³.
    pub fn mass_of(&self, volume: Volume) -> Result<Mass, OutOfRange> {
        let m3 = checked_volume("volume of solution", volume)?;
        Ok(kilograms(m3 * self.kilograms_per_cubic_meter()))
    }

    /// Volume of this mass of the solution.
    ///
    /// # Errors
    /// [`OutOfRange`] for a mass below 0 or above a thousand tonnes.
    pub fn volume_of(&self, mass: Mass) -> Result<Volume, OutOfRange> {
        let kg = checked_mass("mass of solution", mass)?;
        Ok(liters(1000.0 * kg / self.kilograms_per_cubic_meter()))
    }

    fn kilograms_per_cubic_meter(&self) -> f64 {
        1000.0 * self.density.in_grams_per_cubic_centimeter()
    }
}
