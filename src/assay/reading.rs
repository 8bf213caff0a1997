//! A figure read off, with the one statement of how sure it is.

use super::AssayError;
use crate::quantity::{Mass, Volume, within};
use crate::uncertainty::Distribution;
use core::marker::PhantomData;
use uom::si::{Dimension, Quantity, Units};

/// Largest number a reading may hold, in SI units.
const LARGEST: f64 = 1e12;

/// What a reading can be of: any quantity of the crate, or a pure number.
///
/// ```
/// use ferrogall::assay::Figure;
/// use ferrogall::quantity::{grams, Mass};
/// assert_eq!(Figure::si(grams(2.0)), 0.002);
/// assert_eq!(Mass::from_si(0.002), grams(2.0));
/// ```
pub trait Figure: Copy + sealed::Sealed {
    /// The number in the SI unit.
    fn si(self) -> f64;
    /// From the number in the SI unit.
    fn from_si(value: f64) -> Self;
}

mod sealed {
    use super::{Dimension, Quantity, Units};
    pub trait Sealed {}
    impl Sealed for f64 {}
    impl<D: Dimension + ?Sized, U: Units<f64> + ?Sized> Sealed for Quantity<D, U, f64> {}
}

impl Figure for f64 {
    fn si(self) -> f64 {
        self
    }
    fn from_si(value: f64) -> f64 {
        value
    }
}

impl<D, U> Figure for Quantity<D, U, f64>
where
    D: Dimension + ?Sized,
    U: Units<f64> + ?Sized,
    Self: Copy,
{
    fn si(self) -> f64 {
        self.value
    }
    fn from_si(value: f64) -> Self {
        Quantity {
            dimension: PhantomData,
            units: PhantomData,
            value,
        }
    }
}

/// A figure read off, and how sure it is.
///
/// A [`Distribution`] with a unit. There is no bare "±": each way of making a
/// reading says what its second number means.
///
/// Two readings that share a [`Reading::source`] (one bottle of titrant, one
/// pipette) are one variable: they err together, and their errors cancel where
/// they should. Readings without a source are independent.
///
/// ```
/// use ferrogall::assay::Reading;
/// use ferrogall::quantity::*;
/// // A balance that shows 0.1 g, tared: each weighing is two readings.
/// let galls = Reading::weighed(grams(50.0), grams(0.1))?;
/// assert!((galls.u().in_grams() - 0.041).abs() < 0.0005);
/// // "25.00 ± 0.03 mL" on a pipette: a tolerance, taken as triangular.
/// let pipette = Reading::triangular(milliliters(25.0), milliliters(0.03))?.source("pipette A");
/// assert!((pipette.u().in_milliliters() - 0.03 / 6f64.sqrt()).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Reading<Q> {
    distribution: Distribution,
    source: Option<String>,
    of: PhantomData<Q>,
}

impl<Q: Figure> Reading<Q> {
    /// What a distribution in the SI unit says. Numbers up to 1e12.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`]; so with all the others.
    pub fn of(distribution: Distribution) -> Result<Self, AssayError> {
        let value = distribution.estimate();
        within("reading", value, -LARGEST, LARGEST, "SI unit")?;
        Ok(Reading {
            distribution,
            source: None,
            of: PhantomData,
        })
    }

    /// A value taken as exact.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] for anything but a number.
    pub fn exact(value: Q) -> Result<Self, AssayError> {
        Self::of(Distribution::exact(value.si())?)
    }

    /// With a standard uncertainty (k = 1).
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`], also for an uncertainty below 0.
    pub fn standard(value: Q, u: Q) -> Result<Self, AssayError> {
        Self::of(Distribution::normal(value.si(), u.si())?)
    }

    /// With an expanded uncertainty and its coverage factor k, as certificates
    /// state it. k from 1 to 10.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn expanded(value: Q, expanded: Q, k: f64) -> Result<Self, AssayError> {
        let k = within("coverage factor", k, 1.0, 10.0, "")?;
        Self::of(Distribution::normal(value.si(), expanded.si() / k)?)
    }

    /// Anywhere within this half-width, all alike: a/√3. A tolerance of which
    /// no more is known; the last digit of a figure.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn rectangular(value: Q, half_width: Q) -> Result<Self, AssayError> {
        let (x, a) = (value.si(), half_width.si());
        Self::of(Distribution::rectangular(x - a, x + a)?)
    }

    /// Within this half-width, the middle likeliest: a/√6. Volumetric glass of
    /// a known class.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn triangular(value: Q, half_width: Q) -> Result<Self, AssayError> {
        let (x, a) = (value.si(), half_width.si());
        Self::of(Distribution::triangular(x - a, x + a)?)
    }

    /// Swinging within this half-width, the ends likeliest: a/√2. A room with
    /// a thermostat.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn arcsine(value: Q, half_width: Q) -> Result<Self, AssayError> {
        let (x, a) = (value.si(), half_width.si());
        Self::of(Distribution::arcsine(x - a, x + a)?)
    }

    /// Somewhere between two values: rectangular about their middle.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`], also when `low` is above `high`.
    pub fn between(low: Q, high: Q) -> Result<Self, AssayError> {
        Self::of(Distribution::rectangular(low.si(), high.si())?)
    }

    /// The mean of repeats, two at least: s/√n with n − 1 degrees of freedom.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`], also for fewer than two.
    pub fn repeats(values: &[Q]) -> Result<Self, AssayError> {
        let si: Vec<f64> = values.iter().map(|v| v.si()).collect();
        Self::of(Distribution::repeated(&si)?)
    }

    /// Names where the figure comes from. Readings of one source err together.
    #[must_use]
    pub fn source(mut self, name: impl Into<String>) -> Self {
        self.source = Some(name.into());
        self
    }

    /// The value.
    pub fn value(&self) -> Q {
        Q::from_si(self.distribution.estimate())
    }

    /// Its standard uncertainty (k = 1).
    pub fn u(&self) -> Q {
        Q::from_si(self.distribution.standard_uncertainty())
    }

    /// The distribution, in the SI unit.
    pub fn distribution(&self) -> Distribution {
        self.distribution
    }

    /// The name of its source, if it has one.
    pub fn source_name(&self) -> Option<&str> {
        self.source.as_deref()
    }

    /// Whether the value lies in a range of its SI unit.
    pub(super) fn within(
        &self,
        what: &'static str,
        min: f64,
        max: f64,
        unit: &'static str,
    ) -> Result<(), AssayError> {
        within(what, self.distribution.estimate(), min, max, unit)?;
        Ok(())
    }
}

impl Reading<Mass> {
    /// Weighed on a tared balance of this step: two readings, each within half
    /// a step, u = step/√6. Linearity and drift are extra.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn weighed(value: Mass, step: Mass) -> Result<Self, AssayError> {
        Self::of(Distribution::weighed(value.value, step.value)?)
    }

    /// One reading of a balance, not tared (a pan and what is in it): within
    /// half a step, u = step/√12.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn balance(value: Mass, step: Mass) -> Result<Self, AssayError> {
        Self::rectangular(value, 0.5 * step)
    }
}

impl Reading<Volume> {
    /// The difference of two burette readings, each within this half-width:
    /// triangular over twice as much, u = a·√(2/3).
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn buret(value: Volume, half_width: Volume) -> Result<Self, AssayError> {
        Self::triangular(value, 2.0 * half_width)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{ReadMass, grams, milliliters};

    #[test]
    fn each_shape_has_its_divisor() -> Result<(), AssayError> {
        // JCGM 100:2008, 4.3.7 to 4.3.9 and F.2.3.3 for the arcsine.
        let u = |r: Result<Reading<f64>, AssayError>| r.map(|r| r.u());
        approx::assert_relative_eq!(u(Reading::rectangular(1.0, 3.0))?, 3.0 / 3f64.sqrt());
        approx::assert_relative_eq!(u(Reading::triangular(1.0, 3.0))?, 3.0 / 6f64.sqrt());
        approx::assert_relative_eq!(u(Reading::arcsine(1.0, 3.0))?, 3.0 / 2f64.sqrt());
        approx::assert_relative_eq!(u(Reading::between(1.0, 7.0))?, 3.0 / 3f64.sqrt());
        approx::assert_relative_eq!(u(Reading::expanded(1.0, 3.0, 2.0))?, 1.5);
        assert_eq!(u(Reading::exact(-4.0))?, 0.0);
        let three = Reading::repeats(&[1.0, 2.0, 3.0])?;
        assert_eq!(three.distribution().degrees_of_freedom(), 2.0);
        assert_eq!(three.value(), 2.0);
        approx::assert_relative_eq!(three.u(), 1.0 / 3f64.sqrt());
        Ok(())
    }

    #[test]
    fn a_balance_of_a_tenth_of_a_gram() -> Result<(), AssayError> {
        // EURACHEM habit: d/sqrt(6); 0.1 g gives 0.041 g, 0.01 g gives 0.0041 g.
        let coarse = Reading::weighed(grams(5.0), grams(0.1))?;
        assert!((coarse.u().in_grams() - 0.041).abs() < 0.0005);
        let twice = Reading::balance(grams(5.0), grams(0.1))?.u().in_grams();
        approx::assert_relative_eq!(twice * 2f64.sqrt(), coarse.u().in_grams(), epsilon = 1e-15);
        let buret = Reading::buret(milliliters(9.0), milliliters(0.03))?;
        approx::assert_relative_eq!(
            buret.u().value,
            0.03e-6 * (2f64 / 3.0).sqrt(),
            max_relative = 1e-12
        );
        Ok(())
    }

    #[test]
    fn what_is_no_number_is_refused() {
        assert!(Reading::standard(f64::NAN, 0.1).is_err());
        assert!(Reading::standard(1.0, -0.1).is_err());
        assert!(Reading::standard(1.0, f64::INFINITY).is_err());
        assert!(Reading::expanded(1.0, 0.1, 0.0).is_err());
        assert!(Reading::between(2.0, 1.0).is_err());
        assert!(Reading::repeats(&[1.0]).is_err());
        assert!(Reading::repeats(&[1.0, f64::NAN]).is_err());
    }
}
