//! A metric amount said in old units, and back.

use super::HistoryError;
use super::unit::{Quantity, Unit};
use crate::quantity::{MAX_MASS_KG, MAX_VOLUME_M3, within};

/// A metric amount in an old unit: exactly, to the nearest fraction, and how
/// far that is off.
///
/// ```
/// use ferrogall::history::{echo, unit};
/// use ferrogall::quantity::grams;
/// // "80 g is exactly 3 oz."
/// let said = echo(grams(80.0), unit("en_av_oz").unwrap(), 1)?;
/// assert!((said.units - 2.822).abs() < 0.001);
/// assert_eq!(said.nearest, 3.0);
/// assert!((said.back.in_metric() - 85.05).abs() < 0.01);
/// assert!((said.off - 0.063).abs() < 0.001); // 6 % more than 80 g
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Echo {
    /// The unit.
    pub unit: &'static Unit,
    /// How many of it.
    pub units: f64,
    /// The same to the nearest fraction; never less than one.
    pub nearest: f64,
    /// What that is in grams, millilitres or seconds.
    pub back: Quantity,
    /// How much more that is than the amount, as a share of it; negative when
    /// less.
    pub off: f64,
    /// How far the unit itself may be off, as a share of it.
    pub unit_u: f64,
}

/// A metric amount in an old unit, to the nearest `fraction` of it: 1 for whole
/// ones, 4 for quarters; up to 64.
///
/// # Errors
/// [`HistoryError::WrongKind`] for a mass in pints; [`HistoryError::OutOfRange`]
/// for an amount that is not above nothing, or a fraction outside 1 to 64.
pub fn echo(
    amount: impl Into<Quantity>,
    unit: &'static Unit,
    fraction: u32,
) -> Result<Echo, HistoryError> {
    let amount = amount.into();
    if amount.kind() != unit.kind {
        return Err(HistoryError::WrongKind { unit: unit.id });
    }
    within("fraction", fraction.into(), 1.0, 64.0, "")?;
    let most = 1e3 * MAX_MASS_KG.max(1e3 * MAX_VOLUME_M3);
    let metric = within("amount", amount.in_metric(), 1e-9, most, "")?;
    let units = metric / unit.metric_value;
    let parts = f64::from(fraction);
    let nearest = libm::round(units * parts).max(1.0) / parts;
    let back = nearest * unit.metric_value;
    Ok(Echo {
        unit,
        units,
        nearest,
        back: Quantity::of(unit.kind, back),
        off: back / metric - 1.0,
        unit_u: unit.relative_u,
    })
}

impl core::fmt::Display for Echo {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(
            f,
            "{:.3} of the {}; {} of it would be {:+.1} %",
            self.units,
            self.unit.name,
            self.nearest,
            100.0 * self.off
        )
    }
}
