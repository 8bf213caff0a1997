//! Iron(II) held by gallate or tannin, and oxygen.

use super::constant::SecondOrder;
use super::milieu::{T0, per_kj};
use super::parameter::Parameter;
use crate::oxidation::OxidationError;
use crate::oxidation::oxygen::checked_temperature;
use crate::quantity::{Temperature, within};
use crate::source::Range;

/// Standard normal quantile of 97.5 %.
const Z_95: f64 = 1.959_963_984_540_054;

/// What is known of the rate at which iron(II) in tannin ink takes oxygen:
/// −d\[Fe(II)\]/dt = k \[Fe(II)\]\[O₂\], with the iron(II) that tannin holds, one
/// to a galloyl unit. (Some polyphenols speed up far more iron than they could
/// hold: Chvátalová et al. 2008, abstract. Then k is of the whole.)
///
/// The constant is log-normal at a reference pH and temperature (2.5 and
/// 25 °C), falls with acid as \[H⁺\]^−n, and rises with temperature by an
/// activation energy. **No constant was published for the pH and strength of
/// ink.** [`Assisted::published`] is a guess a factor of fifty wide either
/// way, from the neighbours; what a maker observes on the own ink is worth
/// more and comes in by [`Assisted::known`].
///
/// Each uncertain parameter is asked for by a position z in its span, in
/// standard deviations: 0 is the typical value, ±1.96 the ends of 95 %.
/// Spans of the acid order and the activation energy may be lopsided; they
/// are straight on either side of the typical value and end at ±1.96.
///
/// ```
/// use ferrogall::oxidation::{Assisted, SecondOrder};
/// use ferrogall::quantity::celsius;
/// let guess = Assisted::published();
/// let k = |z| guess.constant_at(2.5, celsius(25.0), z, 0.0, 0.0);
/// assert!((k(0.0)?.in_l_per_mol_s() - 0.02).abs() < 1e-12);
/// assert!((k(1.959964)?.in_l_per_mol_s() - 1.0).abs() < 1e-5);
/// // an own observation, within a factor of two
/// let own = Assisted::known(SecondOrder::l_per_mol_s(0.004)?, 2.0)?;
/// assert!(own.log10_u() < guess.log10_u());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assisted {
    median: SecondOrder,
    factor_95: f64,
    reference_ph: f64,
    reference_kelvin: f64,
    acid_order: Range,
    activation: Range,
}

impl Assisted {
    /// Median 0.02 L/(mol s), 95 % within a factor of 50 either way
    /// ([`Parameter::ASSISTED_CONSTANT`]).
    pub fn published() -> Self {
        let constant = Parameter::ASSISTED_CONSTANT.range;
        Assisted {
            median: SecondOrder::from_table(constant.typical),
            factor_95: constant.max / constant.typical,
            reference_ph: 2.5,
            reference_kelvin: T0,
            acid_order: Parameter::ASSISTED_ACID_ORDER.range,
            activation: Parameter::ASSISTED_ACTIVATION.range,
        }
    }

    /// Another median at pH 2.5 and 25 °C, with 95 % within this factor of it
    /// either way (1 to 1e6).
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for a median below 1e-12 L/(mol s) or
    /// another factor.
    pub fn known(median: SecondOrder, factor_95: f64) -> Result<Self, OxidationError> {
        let k = median.in_l_per_mol_s();
        within("median rate constant", k, 1e-12, 1e12, "L/(mol s)")?;
        let factor_95 = within("factor of 95 %", factor_95, 1.0, 1e6, "")?;
        Ok(Assisted {
            median,
            factor_95,
            ..Assisted::published()
        })
    }

    /// The same knowledge, as of another pH (0 to 7) and temperature (0 to
    /// 40 °C): those at which the median was found.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn found_at(self, ph: f64, temperature: Temperature) -> Result<Self, OxidationError> {
        Ok(Assisted {
            reference_ph: checked_ph(ph)?,
            reference_kelvin: checked_temperature("temperature", temperature)?,
            ..self
        })
    }

    /// Median at the reference pH and temperature.
    pub const fn median(&self) -> SecondOrder {
        self.median
    }

    /// The factor either way that holds 95 %.
    pub const fn factor_95(&self) -> f64 {
        self.factor_95
    }

    /// Standard uncertainty of log10 of the constant.
    pub fn log10_u(&self) -> f64 {
        libm::log10(self.factor_95) / Z_95
    }

    /// pH at which the median holds.
    pub const fn reference_ph(&self) -> f64 {
        self.reference_ph
    }

    /// Temperature at which the median holds.
    pub fn reference_temperature(&self) -> Temperature {
        Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(self.reference_kelvin)
    }

    /// Power n of the rate in 1/\[H⁺\] ([`Parameter::ASSISTED_ACID_ORDER`]).
    pub const fn acid_order(&self) -> Range {
        self.acid_order
    }

    /// Activation energy, kJ/mol ([`Parameter::ASSISTED_ACTIVATION`]).
    pub const fn activation_kj_per_mol(&self) -> Range {
        self.activation
    }

    /// The constant at a pH of 0 to 7 and 0 to 40 °C, each uncertain parameter
    /// at its position: `z_k` of the median, `z_n` of the acid order, `z_ea`
    /// of the activation energy, each −10 to 10.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise, and for a constant above
    /// 1e12 L/(mol s).
    pub fn constant_at(
        &self,
        ph: f64,
        temperature: Temperature,
        z_k: f64,
        z_n: f64,
        z_ea: f64,
    ) -> Result<SecondOrder, OxidationError> {
        let ph = checked_ph(ph)?;
        let kelvin = checked_temperature("temperature", temperature)?;
        for z in [z_k, z_n, z_ea] {
            within("position in a span", z, -10.0, 10.0, "standard deviations")?;
        }
        let order = position(self.acid_order, z_n);
        let energy = position(self.activation, z_ea);
        let log10 = z_k * self.log10_u() + order * (ph - self.reference_ph);
        let warmed = libm::exp(energy * (per_kj(kelvin) - per_kj(self.reference_kelvin)));
        SecondOrder::l_per_mol_s(self.median.in_l_per_mol_s() * libm::exp10(log10) * warmed)
    }
}

fn checked_ph(ph: f64) -> Result<f64, OxidationError> {
    Ok(within("pH", ph, 0.0, 7.0, "")?)
}

/// The value `z` standard deviations from the typical one.
fn position(span: Range, z: f64) -> f64 {
    let side = if z < 0.0 {
        span.typical - span.min
    } else {
        span.max - span.typical
    };
    (span.typical + z / Z_95 * side).clamp(span.min, span.max)
}
