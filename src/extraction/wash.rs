//! One wash: so much water, so warm, so long, and how it is strained.

use super::{ExtractionError, Soak};
use crate::quantity::{Mass, OutOfRange, Temperature, Time, checked_mass, within};

/// Most soaks of one wash.
const MOST_SOAKS: usize = 100;

/// How the liquor is parted from the marc.
///
/// ```
/// use ferrogall::extraction::{Straining, Wash};
/// use ferrogall::quantity::{celsius, hours};
/// let wash = Wash::per_gram(10.0, celsius(20.0), hours(24.0))?;
/// assert_eq!(wash.straining(), Straining::Drained);
/// assert!(wash.strained(Straining::HoldUp(25.0)).is_err());
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Straining {
    /// Through a sieve or filter, by gravity.
    Drained,
    /// Through a cloth that is wrung.
    Pressed,
    /// Grams of water (whatever is wet of the liquor) that the marc keeps per
    /// gram of dry plant put in, 0 to 20.
    HoldUp(f64),
    /// Nothing is kept back: the last drop is had.
    Nothing,
}

/// How much liquid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Liquid {
    /// kg
    Mass(f64),
    /// g per g of dry plant.
    PerDry(f64),
}

/// One wash of the plant with fresh water.
///
/// Thin liquids count by their mass; what alcohol or vinegar change is not
/// reckoned.
///
/// ```
/// use ferrogall::extraction::{Straining, Wash};
/// use ferrogall::quantity::{celsius, days, grams, hours};
/// // Three days in the cold, then brought to the simmer for two hours.
/// let decoction = Wash::of(grams(500.0), celsius(18.0), days(3.0))?
///     .then(celsius(85.0), hours(2.0))?
///     .strained(Straining::Pressed)?;
/// assert_eq!(decoction.soaks().len(), 2);
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Wash {
    pub(super) liquid: Liquid,
    pub(super) soaks: Vec<Soak>,
    pub(super) straining: Straining,
}

impl Wash {
    /// A mass of water (up to a thousand tonnes) at one temperature.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn of(water: Mass, temperature: Temperature, time: Time) -> Result<Wash, ExtractionError> {
        let kg = checked_mass("water", water)?;
        Wash::with(Liquid::Mass(kg), temperature, time)
    }

    /// Grams of water per gram of dry plant, 1e-6 to 1e6.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn per_gram(
        water: f64,
        temperature: Temperature,
        time: Time,
    ) -> Result<Wash, ExtractionError> {
        Wash::with(Liquid::PerDry(checked_ratio(water)?), temperature, time)
    }

    fn with(liquid: Liquid, temperature: Temperature, time: Time) -> Result<Wash, ExtractionError> {
        Ok(Wash {
            liquid,
            soaks: vec![Soak::new(temperature, time)?],
            straining: Straining::Drained,
        })
    }

    /// In the same water, then so long at another temperature.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`]; [`ExtractionError::TooMany`] beyond 100 soaks.
    pub fn then(mut self, temperature: Temperature, time: Time) -> Result<Wash, ExtractionError> {
        if self.soaks.len() >= MOST_SOAKS {
            return Err(ExtractionError::TooMany {
                what: "soaks",
                most: MOST_SOAKS,
            });
        }
        self.soaks.push(Soak::new(temperature, time)?);
        Ok(self)
    }

    /// How it is strained; drained by gravity when nothing is said.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`] for a hold-up outside 0 to 20 g/g.
    pub fn strained(mut self, straining: Straining) -> Result<Wash, ExtractionError> {
        self.straining = checked_straining(straining)?;
        Ok(self)
    }

    /// Its soaks, one after the other.
    pub fn soaks(&self) -> &[Soak] {
        &self.soaks
    }

    /// How it is strained.
    pub fn straining(&self) -> Straining {
        self.straining
    }

    pub(super) fn seconds(&self) -> f64 {
        self.soaks.iter().map(|s| s.seconds).sum()
    }
}

pub(super) fn checked_straining(straining: Straining) -> Result<Straining, OutOfRange> {
    if let Straining::HoldUp(h) = straining {
        within("hold-up", h, 0.0, 20.0, "g/g")?;
    }
    Ok(straining)
}

/// Water per dry plant in which the model has an answer.
pub(super) fn checked_ratio(per_dry: f64) -> Result<f64, OutOfRange> {
    within("water per dry plant", per_dry, 1e-6, 1e6, "g/g")
}
