//! Density of a solution from its strength, and the way back.

use super::error::ChemError;
use super::interpolate::{find, monotone_cubic, summit};
use super::solute::{Model, Shape, Solute, TABLE_T};
use super::water::water;
use crate::quantity::{
    MassDensity, MassFraction, ReadMassDensity, ReadTemperature, Temperature,
    grams_per_cubic_centimeter, within,
};
use uom::si::f64::SpecificVolume;
use uom::si::specific_volume::cubic_centimeter_per_gram;

/// Over this stretch of mass fraction the step from formula to table is spread.
const JOIN: f64 = 0.02;
/// A density short of the lightest or heaviest solution by no more than this
/// (g/cm³) is rounding, and read as that solution.
const ROUNDING: f64 = 1e-6;

impl Model {
    /// g/cm³ at 20 °C.
    fn at_20(&self, w: f64) -> f64 {
        let table = monotone_cubic(self.table, 100.0 * w);
        match self.fit {
            Some(f) if self.formula_up_to >= 0.0 => {
                let edge = self.formula_up_to;
                let step = f.density(edge, TABLE_T) - monotone_cubic(self.table, 100.0 * edge);
                table + step * (1.0 - (w - edge) / JOIN).max(0.0)
            }
            _ => table,
        }
    }

    /// g/cm³ at mass fraction `w` and `t` °C, both within the data.
    pub(super) fn density(&self, w: f64, t: f64) -> f64 {
        match self.fit {
            Some(f) if w <= self.formula_up_to => f.density(w, t),
            Some(f) => {
                let known = w.min(f.w_max);
                self.at_20(w) + (f.density(known, t) - f.density(known, TABLE_T))
            }
            None => self.at_20(w),
        }
    }
}

/// °C, when densities of this solute are known there.
pub(super) fn accepted_celsius(solute: Solute, t: Temperature) -> Result<f64, ChemError> {
    let celsius = t.in_celsius();
    let (min_celsius, max_celsius) = solute.model().accepted_range();
    // Kelvin and back may cost a last bit.
    if celsius >= min_celsius - 1e-9 && celsius <= max_celsius + 1e-9 {
        Ok(celsius.clamp(min_celsius, max_celsius))
    } else {
        Err(ChemError::TemperatureNotCovered {
            solute,
            celsius,
            min_celsius,
            max_celsius,
        })
    }
}

fn accepted_fraction(solute: Solute, w: MassFraction) -> Result<f64, ChemError> {
    let max = solute.model().w_max;
    if w.value() <= max {
        Ok(w.value())
    } else {
        Err(ChemError::TooConcentrated {
            solute,
            percent: w.as_percent(),
            max_percent: 100.0 * max,
        })
    }
}

/// Density of a solution of this strength at this temperature.
///
/// At 20 °C it is interpolated from the handbook's rows where the handbook has
/// the solute, but for hydrochloric acid up to 36 %, whose formula lies within
/// 0.0015 g/cm³ of them; iron(II) salts and iron(III) sulfate are by the formula
/// alone. See [`Solute::density_u`].
/// Sulfuric acid above 78 % takes its thermal change from the 78 % acid: some
/// 0.0015 g/cm³ off ten degrees away from 20 °C.
///
/// ```
/// use ferrogall::chem::{Solute, density};
/// use ferrogall::quantity::{MassFraction, ReadMassDensity, celsius};
/// let rho = density(Solute::HydrochloricAcid, MassFraction::percent(32.0)?, celsius(20.0))?;
/// assert!((rho.in_grams_per_cubic_centimeter() - 1.159).abs() < 0.001);
/// # Ok::<(), ferrogall::chem::ChemError>(())
/// ```
///
/// # Errors
/// [`ChemError::TooConcentrated`] and [`ChemError::TemperatureNotCovered`]
/// outside [`Solute::valid`].
pub fn density(solute: Solute, w: MassFraction, t: Temperature) -> Result<MassDensity, ChemError> {
    let t = accepted_celsius(solute, t)?;
    let w = accepted_fraction(solute, w)?;
    Ok(grams_per_cubic_centimeter(solute.model().density(w, t)))
}

/// Density by the formula of Laliberté and Cooper alone, without the handbook
/// table; `None` for solutes that have no coefficients or outside the fit.
///
/// For comparing models; [`density`] is the one to use.
///
/// ```
/// use ferrogall::chem::{Solute, formula_density};
/// use ferrogall::quantity::{MassFraction, ReadMassDensity, celsius};
/// let half = MassFraction::percent(50.0)?;
/// let rho = formula_density(Solute::SulfuricAcid, half, celsius(20.0)).unwrap();
/// assert!((rho.in_grams_per_cubic_centimeter() - 1.3967).abs() < 5e-5);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
pub fn formula_density(solute: Solute, w: MassFraction, t: Temperature) -> Option<MassDensity> {
    let t = accepted_celsius(solute, t).ok()?;
    let fit = solute.model().fit.filter(|f| w.value() <= f.w_max)?;
    Some(grams_per_cubic_centimeter(fit.density(w.value(), t)))
}

/// Density at 20 °C by the handbook table alone, without the formula; `None`
/// for solutes without a table or above its end. The last point of acetic acid,
/// 100 %, is the formula's: the handbook stops at 98 %.
///
/// ```
/// use ferrogall::chem::{Solute, handbook_density};
/// use ferrogall::quantity::{MassFraction, ReadMassDensity};
/// let rho = handbook_density(Solute::HydrochloricAcid, MassFraction::percent(36.0)?).unwrap();
/// assert!((rho.in_grams_per_cubic_centimeter() - 1.1791).abs() < 1e-12);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
pub fn handbook_density(solute: Solute, w: MassFraction) -> Option<MassDensity> {
    let table = solute.model().table;
    let (end, _) = table.last()?;
    let percent = w.as_percent();
    (percent <= *end).then(|| grams_per_cubic_centimeter(monotone_cubic(table, percent)))
}

/// Volume a gram of solute takes up in the solution, the water being counted
/// with the volume it has alone.
///
/// ```
/// use ferrogall::chem::{Solute, apparent_specific_volume};
/// use ferrogall::quantity::{MassFraction, celsius};
/// let v = apparent_specific_volume(Solute::Glycerol, MassFraction::percent(20.0)?, celsius(20.0))?;
/// assert!(v.value > 0.7e-3 && v.value < 0.8e-3); // m³/kg; pure glycerol has 0.793e-3
/// # Ok::<(), ferrogall::chem::ChemError>(())
/// ```
///
/// # Errors
/// As [`density`]; also [`ChemError::OutOfRange`] below 0.01 % w/w, where the
/// figure drowns in the rounding of the density.
pub fn apparent_specific_volume(
    solute: Solute,
    w: MassFraction,
    t: Temperature,
) -> Result<SpecificVolume, ChemError> {
    let t = accepted_celsius(solute, t)?;
    let w = within(
        "mass fraction",
        accepted_fraction(solute, w)?,
        1e-4,
        1.0,
        "",
    )?;
    let volume = 1.0 / solute.model().density(w, t) - (1.0 - w) / water(t);
    Ok(SpecificVolume::new::<cubic_centimeter_per_gram>(volume / w))
}

/// Strength of the solution that has this density at this temperature.
///
/// The density must be of the sample at `t`. Acetic acid passes through a
/// maximum near 78 %: from about 47 % up a weaker and a stronger acid share
/// their density. Sulfuric acid hardly changes above 97 % and lightens again
/// beyond 98 %. Both are refused with the candidate readings.
///
/// Inhibited, dyed or dirty acid has another density than clean acid of the
/// same strength: for such, titrate.
///
/// ```
/// use ferrogall::chem::{ChemError, Solute, mass_fraction_from_density};
/// use ferrogall::quantity::{celsius, grams_per_cubic_centimeter};
/// let rho = grams_per_cubic_centimeter(1.0189);
/// let w = mass_fraction_from_density(Solute::CitricAcid, rho, celsius(20.0))?;
/// assert!((w.as_percent() - 5.0).abs() < 1e-6);
/// let heavy = grams_per_cubic_centimeter(1.0644);
/// let e = mass_fraction_from_density(Solute::AceticAcid, heavy, celsius(20.0)).unwrap_err();
/// assert!(matches!(e, ChemError::NotInvertible { upper: Some(w), .. } if w.as_percent().round() == 90.0));
/// # Ok::<(), ChemError>(())
/// ```
///
/// # Errors
/// [`ChemError::NotInvertible`] as told above, [`ChemError::NoSuchDensity`] when
/// no strength has this density, [`ChemError::TemperatureNotCovered`] outside
/// [`Solute::valid`].
pub fn mass_fraction_from_density(
    solute: Solute,
    density: MassDensity,
    t: Temperature,
) -> Result<MassFraction, ChemError> {
    let t = accepted_celsius(solute, t)?;
    let m = solute.model();
    let target = density.in_grams_per_cubic_centimeter();
    let rho = |w: f64| m.density(w, t);
    let top = top_of(m, t);
    let (low, high) = (rho(0.0).min(rho(top)), rho(0.0).max(rho(top)));
    if !(target >= low - ROUNDING && target <= high + ROUNDING) {
        return Err(ChemError::NoSuchDensity {
            solute,
            g_per_cm3: target,
            min_g_per_cm3: low,
            max_g_per_cm3: high,
        });
    }
    let lower = MassFraction::new(find(rho, target, 0.0, top))?;
    let upper = match m.shape {
        Shape::Monotone => return Ok(lower),
        Shape::FlatAbove(limit) if target <= rho(limit) => return Ok(lower),
        Shape::FlatAbove(_) => None,
        Shape::Peaked if target < rho(m.w_max) => return Ok(lower),
        Shape::Peaked => Some(MassFraction::new(find(rho, target, top, m.w_max))?),
    };
    Err(ChemError::NotInvertible {
        solute,
        g_per_cm3: target,
        lower,
        upper,
    })
}

/// Largest strength that [`mass_fraction_from_density`] can tell from a density
/// at this temperature.
///
/// ```
/// use ferrogall::chem::{Solute, readable_up_to};
/// use ferrogall::quantity::celsius;
/// let acetic = readable_up_to(Solute::AceticAcid, celsius(20.0))?;
/// assert!(acetic.as_percent() > 40.0 && acetic.as_percent() < 50.0);
/// assert_eq!(readable_up_to(Solute::SulfuricAcid, celsius(20.0))?.as_percent(), 97.0);
/// # Ok::<(), ferrogall::chem::ChemError>(())
/// ```
///
/// # Errors
/// [`ChemError::TemperatureNotCovered`] outside [`Solute::valid`].
pub fn readable_up_to(solute: Solute, t: Temperature) -> Result<MassFraction, ChemError> {
    let t = accepted_celsius(solute, t)?;
    let m = solute.model();
    let rho = |w: f64| m.density(w, t);
    let w = match m.shape {
        Shape::Monotone => m.w_max,
        Shape::FlatAbove(limit) => limit,
        Shape::Peaked => find(rho, rho(m.w_max), 0.0, top_of(m, t)),
    };
    Ok(MassFraction::new(w)?)
}

/// Where density ends its first run up or down.
fn top_of(m: &Model, t: f64) -> f64 {
    match m.shape {
        Shape::Peaked => summit(|w| m.density(w, t), 0.0, m.w_max),
        Shape::Monotone | Shape::FlatAbove(_) => m.w_max,
    }
}
