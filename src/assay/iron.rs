//! Iron of a home-made stock: by what the nail lost, by density.

use super::delivered::MOST_MASS;
use super::propagate::{Input, propagate};
use super::titration::iron_mass;
use super::{AssayError, Assayed, Bound, Figure, MethodId, NoteKind, Reading};
use crate::bench::IRON_IN_STEEL;
use crate::chem::constants::IRON;
use crate::chem::{ChemError, Solute, Solution, SpecificGravity};
use crate::quantity::{
    AmountOfSubstance, Estimate, Mass, MassDensity, MolarConcentration, OutOfRange,
    ReadTemperature, Temperature, celsius, within,
};

/// Iron that went into solution from a nail, wool or plate weighed before and
/// after, rinsed and dried. `None` takes steel, 98 ± 1 % iron.
///
/// ```
/// use ferrogall::assay::{iron_dissolved, Reading};
/// use ferrogall::quantity::*;
/// let weighed = |g: f64| Reading::weighed(grams(g), grams(0.01));
/// let iron = iron_dissolved(&weighed(12.40)?, &weighed(9.61)?, None)?;
/// assert!((iron.value().in_millimoles() - 48.96).abs() < 0.01);
/// assert!(iron.relative_u() < 0.011);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
///
/// # Errors
/// [`AssayError::OutOfRange`], also when the metal gained mass.
pub fn iron_dissolved(
    before: &Reading<Mass>,
    after: &Reading<Mass>,
    iron_in_metal: Option<Estimate>,
) -> Result<Assayed<AmountOfSubstance>, AssayError> {
    after.within("mass of the metal after", 0.0, MOST_MASS, "kg")?;
    let lost = before.value().value - after.value().value;
    within("mass lost", lost, 0.0, MOST_MASS, "kg")?;
    let share = match iron_in_metal {
        Some(e) => {
            within("iron in the metal", e.value(), 0.0, 1.0, "")?;
            Input::alone("iron in the metal", e.value(), e.u())
        }
        None => Input::constant(IRON_IN_STEEL, 1.0),
    };
    let inputs = [
        Input::reading("mass before", before),
        Input::reading("mass after", after),
        share,
        iron_mass(),
    ];
    let mut result: Assayed<AmountOfSubstance> = propagate(MethodId::MetalLoss, &inputs, |x| {
        let &[before, after, share, per_mole] = x else {
            return Ok(f64::NAN);
        };
        Ok((before - after) * share / per_mole)
    })?;
    if iron_in_metal.is_none() {
        result = result.note(
            NoteKind::Assumed,
            "steel",
            "The metal is taken as degreased low-carbon steel, 98 ± 1 % iron (k = 1).",
        );
    }
    let result = result.note(
        NoteKind::Interference,
        "all_dissolved",
            "All that was lost is taken to be in solution: rust on the metal before, or flakes and black carbon at the bottom after, make this too high.",
    );
    let u = libm::hypot(before.u().value, after.u().value);
    if lost < 2.0 * u {
        Ok(result.note(
            NoteKind::Range,
            "within_balance",
            "The loss is not twice what the balance leaves open: dissolve more, or weigh finer.",
        ))
    } else {
        Ok(result)
    }
}

/// Mass that a piece of steel loses when so much iron dissolves (0 to 1e4 mol).
///
/// ```
/// use ferrogall::assay::expected_metal_loss;
/// use ferrogall::quantity::*;
/// assert!((expected_metal_loss(moles(0.1))?.in_grams() - 5.698).abs() < 0.001);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
///
/// # Errors
/// [`OutOfRange`].
pub fn expected_metal_loss(iron: AmountOfSubstance) -> Result<Mass, OutOfRange> {
    let n = within("iron", iron.value, 0.0, 1e4, "mol")?;
    Ok(Mass::from_si(n * IRON / IRON_IN_STEEL.value))
}

/// Which salt a stock is of.
///
/// ```
/// use ferrogall::assay::IronStock;
/// use ferrogall::chem::Solute;
/// assert_eq!(IronStock::Chloride.solute(), Solute::IronIIChloride);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum IronStock {
    /// Iron(II) sulfate in water.
    Sulfate,
    /// Iron(II) chloride in water.
    Chloride,
}

impl IronStock {
    /// Its row in the density tables.
    pub const fn solute(self) -> Solute {
        match self {
            IronStock::Sulfate => Solute::IronIISulfate,
            IronStock::Chloride => Solute::IronIIChloride,
        }
    }
}

/// Density of an iron(II) stock, clean and without free acid.
///
/// ```
/// use ferrogall::assay::{IronStock, Reading, StockDensity};
/// use ferrogall::chem::SpecificGravity;
/// use ferrogall::quantity::*;
/// let sg = SpecificGravity::new(1.0803, celsius(20.0), celsius(4.0))?;
/// let stock = StockDensity::of(IronStock::Sulfate, sg, 0.0005, 0.5)?;
/// let iron = stock.iron()?;
/// assert!((iron.value().in_moles_per_liter() - 0.569).abs() < 0.001); // 8 % FeSO4
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct StockDensity {
    stock: IronStock,
    density: Reading<MassDensity>,
    temperature: Reading<Temperature>,
    clean: bool,
}

impl StockDensity {
    /// A density at a temperature.
    pub fn new(
        stock: IronStock,
        density: Reading<MassDensity>,
        temperature: Reading<Temperature>,
    ) -> StockDensity {
        StockDensity {
            stock,
            density,
            temperature,
            clean: false,
        }
    }

    /// Nothing else is dissolved: salt weighed into water, or acid that was
    /// used up by metal in excess. The answer is then an estimate, not a bound.
    #[must_use]
    pub fn clean(mut self) -> StockDensity {
        self.clean = true;
        self
    }

    /// From a hydrometer's specific gravity, with the standard uncertainty of
    /// the ratio and of the stock's temperature in kelvin.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn of(
        stock: IronStock,
        reading: SpecificGravity,
        u: f64,
        temperature_u: f64,
    ) -> Result<StockDensity, AssayError> {
        let density = reading.density();
        let per_ratio = density.value / reading.ratio();
        Ok(StockDensity::new(
            stock,
            Reading::standard(density, MassDensity::from_si(u * per_ratio))?,
            Reading::standard(reading.sample(), Temperature::from_si(temperature_u))?,
        ))
    }

    /// Iron(II) per volume, were all that is dissolved this salt.
    ///
    /// # Errors
    /// [`AssayError::Chem`] outside the density table of the salt.
    pub fn iron(&self) -> Result<Assayed<MolarConcentration>, AssayError> {
        let solute = self.stock.solute();
        let inputs = [
            Input::reading("density", &self.density),
            Input::reading("temperature", &self.temperature),
            Input::alone("density table", 0.0, solute.density_u().value),
        ];
        let result = propagate::<MolarConcentration>(MethodId::IronDensity, &inputs, |x| {
            let &[density, kelvin, off] = x else {
                return Ok(f64::NAN);
            };
            let density = MassDensity::from_si(density + off);
            let made = Solution::from_density(solute, density, celsius(kelvin - 273.15))?;
            Ok(made.molarity().value)
        })?;
        if self.clean {
            return Ok(result);
        }
        Ok(result.bounded(Bound::AtMost).note(
            NoteKind::Assumed,
            "no_acid",
            "Free acid, iron(III) and other salts count as iron(II): what is left of the acid makes this too high.",
        ))
    }

    /// Density of a stock of so much iron(II).
    ///
    /// # Errors
    /// [`ChemError`] outside the density table.
    pub fn expected(
        stock: IronStock,
        iron: MolarConcentration,
        temperature: Temperature,
    ) -> Result<MassDensity, ChemError> {
        within("temperature", temperature.in_celsius(), 0.0, 100.0, "°C")?;
        Ok(Solution::from_molarity(stock.solute(), iron, temperature)?.density())
    }
}
