//! What left the burette or the dropper, and what part of the sample met it.

use super::constants::DROP;
use super::propagate::Input;
use super::{AssayError, Figure, Reading};
use crate::quantity::{Mass, MassDensity, Volume, within};
use crate::uncertainty::Distribution;

/// Largest volume of a flask or a burette, m³.
pub(super) const MOST_VOLUME: f64 = 1.0;
/// Largest mass of a sample, kg.
pub(super) const MOST_MASS: f64 = 1e3;
/// Smallest volume and mass that is a sample, SI units.
pub(super) const LEAST: f64 = 1e-12;

/// A part of the sample: so much taken of so much.
///
/// ```
/// use ferrogall::assay::{Aliquot, Reading};
/// use ferrogall::quantity::milliliters;
/// let part = Aliquot::new(
///     Reading::triangular(milliliters(25.0), milliliters(0.03))?.source("pipette"),
///     Reading::triangular(milliliters(250.0), milliliters(0.15))?.source("flask"),
/// );
/// assert!((part.share()? - 0.1).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Aliquot {
    taken: Reading<Volume>,
    of: Reading<Volume>,
}

impl Aliquot {
    /// So much taken of the volume that the sample was made up to.
    pub fn new(taken: Reading<Volume>, of: Reading<Volume>) -> Aliquot {
        Aliquot { taken, of }
    }

    /// The part taken, above 0 to 1.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn share(&self) -> Result<f64, AssayError> {
        self.taken.within("aliquot", LEAST, MOST_VOLUME, "m3")?;
        self.of
            .within("volume of the flask", LEAST, MOST_VOLUME, "m3")?;
        let share = self.taken.value() / self.of.value();
        Ok(within(
            "share of the aliquot",
            share.value,
            0.0,
            1.0 + 1e-9,
            "",
        )?)
    }

    pub(super) fn inputs(&self) -> [Input; 2] {
        [
            Input::reading("aliquot", &self.taken),
            Input::reading("volume of the flask", &self.of),
        ]
    }
}

/// Titrant delivered: read on a burette, or counted in drops.
///
/// ```
/// use ferrogall::assay::{Delivered, Dropper};
/// use ferrogall::quantity::ReadVolume;
/// // The colour stayed at the 18th drop: the end lies between 17 and 18.
/// let delivered = Delivered::drops(18, &Dropper::usual()?)?;
/// assert!((delivered.volume()?.in_milliliters() - 0.875).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Delivered {
    inner: Inner,
}

#[derive(Debug, Clone, PartialEq)]
enum Inner {
    Buret(Reading<Volume>),
    Drops(u32, Reading<Volume>),
}

impl From<Reading<Volume>> for Delivered {
    fn from(volume: Reading<Volume>) -> Delivered {
        Delivered {
            inner: Inner::Buret(volume),
        }
    }
}

impl Delivered {
    /// The end point came with this drop: it lies anywhere between the drop
    /// before and this one. 1 to 100 000 drops.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn drops(last: u32, dropper: &Dropper) -> Result<Delivered, AssayError> {
        within("drops", f64::from(last), 1.0, 1e5, "")?;
        Ok(Delivered {
            inner: Inner::Drops(last, dropper.drop.clone()),
        })
    }

    /// The middle of what was delivered.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] for a volume outside 0 to 1 m³.
    pub fn volume(&self) -> Result<Volume, AssayError> {
        let v = match &self.inner {
            Inner::Buret(r) => r.value().value,
            Inner::Drops(n, drop) => (f64::from(*n) - 0.5) * drop.value().value,
        };
        Ok(Volume::from_si(within(
            "volume of titrant",
            v,
            0.0,
            MOST_VOLUME,
            "m3",
        )?))
    }

    /// Two inputs whose product is the volume.
    pub(super) fn inputs(&self) -> [Input; 2] {
        match &self.inner {
            Inner::Buret(r) => [
                Input::alone("one burette", 1.0, 0.0),
                Input::reading("volume of titrant", r),
            ],
            Inner::Drops(n, drop) => [
                Input::shaped(
                    "end point between drops",
                    Distribution::rectangular(f64::from(*n) - 1.0, f64::from(*n)),
                ),
                Input::reading("volume of a drop", drop),
            ],
        }
    }
}

/// A dropper and the size of its drops.
///
/// ```
/// use ferrogall::assay::{Dropper, Reading};
/// use ferrogall::quantity::*;
/// // A hundred drops of water weigh 4.31 g.
/// let mine = Dropper::weighed(
///     100,
///     &Reading::weighed(grams(4.31), grams(0.01))?,
///     grams_per_cubic_centimeter(0.998),
/// )?;
/// assert!((mine.drop().value().in_milliliters() - 0.0432).abs() < 0.0001);
/// // Drops of one dropper err together.
/// assert_eq!(mine.named("glass pipette").drop().source_name(), Some("glass pipette"));
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Dropper {
    drop: Reading<Volume>,
}

impl Dropper {
    /// 20 drops a millilitre, good to a fifth: common practice, no source.
    ///
    /// # Errors
    /// Never in fact.
    pub fn usual() -> Result<Dropper, AssayError> {
        let ml = |x: f64| Volume::from_si(1e-6 * x);
        Ok(Dropper {
            drop: Reading::standard(ml(DROP.value), ml(DROP.u))?.source(DROP.id),
        })
    }

    /// From the mass of a number of drops (1 to 100 000) of a liquid of this
    /// density (0.5 to 3 g/cm³).
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn weighed(
        drops: u32,
        mass: &Reading<Mass>,
        density: MassDensity,
    ) -> Result<Dropper, AssayError> {
        let n = within("drops", f64::from(drops), 1.0, 1e5, "")?;
        mass.within("mass of the drops", LEAST, MOST_MASS, "kg")?;
        let rho = within("density", density.value, 500.0, 3000.0, "kg/m3")?;
        let v = |m: Mass| Volume::from_si(m.value / rho / n);
        Ok(Dropper {
            drop: Reading::standard(v(mass.value()), v(mass.u()))?,
        })
    }

    /// Names it: what is dropped from it errs together.
    #[must_use]
    pub fn named(mut self, name: impl Into<String>) -> Dropper {
        self.drop = self.drop.source(name);
        self
    }

    /// Volume of a drop.
    pub fn drop(&self) -> &Reading<Volume> {
        &self.drop
    }
}
