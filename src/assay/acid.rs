//! A pH strip against the reckoned pH.

use super::constants::STRIP;
use super::{AssayError, Figure, Method, MethodId, Reading};
use crate::composition::{Bulk, Composition};
use crate::equilibrium::{ConstantSet, InkReport, Interval, Solver, Totals};
use crate::quantity::{MolarConcentration, Temperature};

/// A pH read on a strip (or with an electrode).
///
/// ```
/// use ferrogall::assay::PhReading;
/// use ferrogall::bench::Lot;
/// use ferrogall::equilibrium::InkReport;
/// use ferrogall::quantity::*;
/// let part = |id: &str, g: f64| -> Result<_, Box<dyn std::error::Error>> {
///     Ok(Lot::of(id)?.build()?.composition(grams(g))?)
/// };
/// let ink = part("iron_ii_sulfate_heptahydrate", 15.0)?
///     .mixed_with(&part("tannic_acid", 12.0)?)
///     .mixed_with(&part("distilled_water", 970.0)?);
/// let report = InkReport::of(&ink, celsius(20.0))?;
/// let strip = PhReading::strip(1.5)?;
/// let verdict = strip.against(&report);
/// assert!(!verdict.agrees); // somebody put acid in
/// let acid = strip.unexplained_acid(&ink, celsius(20.0))?;
/// assert!(acid.middle.in_moles_per_liter() > 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct PhReading {
    ph: Reading<f64>,
}

/// Whether a reading and the model can both be right.
///
/// ```
/// use ferrogall::assay::PhVerdict;
/// use ferrogall::equilibrium::Interval;
/// let close = PhVerdict {
///     read: 2.5, read_u: 0.3, model: 2.9, model_interval: Interval { low: 2.8, high: 3.0 },
///     difference: -0.4, u: 0.304, agrees: true,
/// };
/// assert!(close.difference.abs() < 2.0 * close.u);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhVerdict {
    /// The pH read.
    pub read: f64,
    /// Its standard uncertainty.
    pub read_u: f64,
    /// The pH reckoned.
    pub model: f64,
    /// What the constants leave open of it (95 %).
    pub model_interval: Interval,
    /// Read less reckoned.
    pub difference: f64,
    /// Standard uncertainty of the difference; that of the amounts in the ink
    /// is not in it.
    pub u: f64,
    /// Whether the difference is within twice that.
    pub agrees: bool,
}

/// Strong acid beyond the recipe that would explain a reading; negative where
/// acid is missing, or something ate it.
///
/// ```
/// use ferrogall::assay::UnexplainedAcid;
/// use ferrogall::quantity::moles_per_liter;
/// let none = moles_per_liter(0.0);
/// let nothing = UnexplainedAcid { least: none, middle: none, most: none };
/// assert_eq!(nothing.least, nothing.most);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnexplainedAcid {
    /// At the reading plus its standard uncertainty.
    pub least: MolarConcentration,
    /// At the reading.
    pub middle: MolarConcentration,
    /// At the reading less its standard uncertainty.
    pub most: MolarConcentration,
}

impl PhReading {
    /// A reading with its uncertainty; pH −1 to 15.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn new(ph: Reading<f64>) -> Result<PhReading, AssayError> {
        ph.within("pH", -1.0, 15.0, "")?;
        Ok(PhReading { ph })
    }

    /// A paper strip, read to ±0.5 (rectangular; from memory). Dark ink hides
    /// the colour: read the back, or a blot.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn strip(ph: f64) -> Result<PhReading, AssayError> {
        PhReading::new(Reading::rectangular(ph, STRIP.value)?)
    }

    /// What disturbs it.
    pub fn method(&self) -> &'static Method {
        MethodId::PhStrip.method()
    }

    /// Against the report on the ink as its recipe says.
    pub fn against(&self, report: &InkReport) -> PhVerdict {
        // 95 % reach about two standard uncertainties to either side.
        let model_u = report.ph_interval.width() / 4.0;
        let difference = self.ph.value() - report.ph;
        let u = libm::hypot(self.ph.u(), model_u);
        PhVerdict {
            read: self.ph.value(),
            read_u: self.ph.u(),
            model: report.ph,
            model_interval: report.ph_interval,
            difference,
            u,
            agrees: difference.abs() <= 2.0 * u,
        }
    }

    /// Strong acid, per litre of the ink, beyond what its recipe holds, that
    /// would bring it to the reading at this temperature (0 to 60 °C).
    ///
    /// # Errors
    /// [`AssayError::Equilibrium`].
    pub fn unexplained_acid(
        &self,
        ink: &Composition,
        temperature: Temperature,
    ) -> Result<UnexplainedAcid, AssayError> {
        let mut solver = Solver::new(ConstantSet::reviewed(), temperature)?;
        let totals = Totals::of_composition(ink)?;
        let water = ink.mass_concentration(Bulk::Water).value;
        let mut acid = |ph: f64| -> Result<MolarConcentration, AssayError> {
            let base = solver.base_to(&totals, ph)?;
            Ok(MolarConcentration::from_si(-base * water))
        };
        let (ph, u) = (self.ph.value(), self.ph.u());
        Ok(UnexplainedAcid {
            least: acid(ph + u)?,
            middle: acid(ph)?,
            most: acid(ph - u)?,
        })
    }
}
