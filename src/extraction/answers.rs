//! Makers' questions about a way of working: how long, how much water.

use super::model::{Setting, pace, washes};
use super::parameter::arrhenius;
use super::wash::checked_straining;
use super::{ExtractionError, Parameter, Process, Span, Straining};
use crate::composition::Bulk;
use crate::quantile::ends_of_95_percent;
use crate::quantity::{Estimate, Mass, Share, Temperature, Time, kilograms};

/// The longest wait that is told, s: a thousand years.
const LONGEST_WAIT_S: f64 = 3.2e10;

/// Water that a wanted share needs, in each wash.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let needed = Process::new(&galls, grams(100.0), Grain::powder())?
///     .wash(Wash::per_gram(8.0, celsius(18.0), days(1.0))?)?
///     .water_for(Share::percent(85.0)?)?;
/// assert!(needed.low < needed.typical);
/// assert!(needed.high.is_none()); // some galls never give so much in one wash
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct WaterNeeded {
    /// In the most favourable case of 95 %.
    pub low: Mass,
    /// With everything at its typical value.
    pub typical: Mass,
    /// In the least favourable; none where no amount of water is enough.
    pub high: Option<Mass>,
}

impl Process {
    /// Time in which a grain gives this share (below 1) of what it will give
    /// in much water at one temperature: 0.9 for "as good as done". At most a
    /// thousand years.
    ///
    /// # Errors
    /// [`ExtractionError::Never`] for all of it, [`ExtractionError::OutOfRange`].
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::extraction::{Grain, Process};
    /// use ferrogall::quantity::*;
    /// let galls = Lot::of("aleppo_galls")?.build()?;
    /// let lumps = Grain::crushed().measuring(millimeters(5.0))?;
    /// let done = Process::new(&galls, grams(10.0), lumps)?
    ///     .time_to(Share::percent(90.0)?, celsius(20.0))?;
    /// // Half a day typically; from hours to days.
    /// assert!(done.typical.in_days() > 0.2 && done.typical.in_days() < 1.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn time_to(
        &self,
        share: Share,
        temperature: Temperature,
    ) -> Result<Span<Time>, ExtractionError> {
        let kelvin = super::grain::checked_temperature(temperature)?;
        let wanted = share.value();
        if wanted >= 1.0 {
            return Err(ExtractionError::Never {
                what: "share of equilibrium",
                asked: wanted,
                most: 1.0,
            });
        }
        let seconds = |x: &Setting| {
            let rest = (wanted - x.washed) / (1.0 - x.washed);
            if rest.is_nan() || rest <= 0.0 {
                return 0.0;
            }
            let d = arrhenius(x.diffusivity, x.activation, kelvin);
            let fo = self.grain().shape().inverse(rest.min(1.0));
            (fo * x.half_size * x.half_size / d).min(LONGEST_WAIT_S)
        };
        let mut draws: Vec<f64> = self.settings().iter().map(seconds).collect();
        let (low, high) = ends_of_95_percent(&mut draws);
        Ok(Span {
            low,
            typical: seconds(&self.typical()),
            high,
        }
        .map(Time::new::<uom::si::time::second>))
    }

    /// Least water in the first wash before anything can be had: below it
    /// the wet plant is a paste.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`] for a hold-up outside 0 to 20 g/g.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::extraction::{Grain, Process, Straining};
    /// use ferrogall::quantity::*;
    /// let galls = Lot::of("aleppo_galls")?.moisture(0.10, 0.0)?.build()?;
    /// let paste = Process::new(&galls, grams(100.0), Grain::powder())?
    ///     .paste_below(Straining::Drained)?;
    /// // 2.5 g/g of 90 g, less the 10 g that the galls bring.
    /// assert!((paste.typical.in_grams() - 215.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn paste_below(&self, straining: Straining) -> Result<Span<Mass>, ExtractionError> {
        let straining = checked_straining(straining)?;
        let own = self.contents().masses[Bulk::Water as usize];
        let kg = |x: &Setting| (x.hold_up(straining) * self.dry() - own).max(0.0);
        let mut draws: Vec<f64> = self.settings().iter().map(kg).collect();
        let (low, high) = ends_of_95_percent(&mut draws);
        Ok(Span {
            low,
            typical: kg(&self.typical()),
            high,
        }
        .map(kilograms))
    }

    /// Water for each of the washes, all alike, so that this share of what
    /// the plant holds is in the liquors together. Their times,
    /// temperatures and straining stay; what water they had does not count.
    ///
    /// # Errors
    /// [`ExtractionError::NoWash`]; [`ExtractionError::Never`] where no amount
    /// of water is enough with everything at its typical value.
    pub fn water_for(&self, share: Share) -> Result<WaterNeeded, ExtractionError> {
        let plan = self.plan()?;
        let wanted = share.value();
        let needed = |x: &Setting| {
            let pace = pace(&plan, x);
            let short = |per_dry: f64| washes(&plan, x, &pace, Some(per_dry)).had() - wanted;
            // Halving of the logarithm: what is had rises with water.
            let (mut low, mut high) = (libm::log(1e-6), libm::log(1e6));
            let most = short(1e6);
            if most < 0.0 {
                return Err(most + wanted);
            }
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                if short(libm::exp(middle)) < 0.0 {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            Ok(self.dry() * libm::exp(high))
        };
        let typical = needed(&self.typical()).map_err(|most| ExtractionError::Never {
            what: "share of the tannin",
            asked: wanted,
            most,
        })?;
        let mut draws: Vec<f64> = self
            .settings()
            .iter()
            .map(|x| needed(x).unwrap_or(f64::INFINITY))
            .collect();
        let (low, high) = ends_of_95_percent(&mut draws);
        Ok(WaterNeeded {
            low: kilograms(low.min(typical)),
            typical: kilograms(typical),
            high: Some(high).filter(|h| h.is_finite()).map(kilograms),
        })
    }

    /// Water that a strainer keeps, grams per gram of dry plant, with its standard
    /// uncertainty.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`] for a hold-up outside 0 to 20 g/g.
    ///
    /// ```
    /// use ferrogall::extraction::{Process, Straining};
    /// let pressed = Process::hold_up(Straining::Pressed)?;
    /// assert!((pressed.value() - 1.2).abs() < 1e-12 && pressed.u() > 0.2);
    /// # Ok::<(), ferrogall::extraction::ExtractionError>(())
    /// ```
    pub fn hold_up(straining: Straining) -> Result<Estimate, ExtractionError> {
        let of = |p: Parameter| {
            let u = p.distribution().map_or(0.0, |d| d.standard_uncertainty());
            Estimate::new(p.range.typical, u)
        };
        Ok(match checked_straining(straining)? {
            Straining::Drained => of(Parameter::HOLD_UP_DRAINED)?,
            Straining::Pressed => of(Parameter::HOLD_UP_PRESSED)?,
            Straining::HoldUp(h) => Estimate::exact(h)?,
            Straining::Nothing => Estimate::ZERO,
        })
    }
}
