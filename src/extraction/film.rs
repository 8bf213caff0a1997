//! Extraction as a first-order course, wetting and film included.

use super::ExtractionError;
use super::grain::LONGEST_S;
use super::parameter::{FILM_FACTOR, FILM_TIME};
use crate::oxidation::FirstOrder;
use crate::quantity::{Length, Share, Time, within};
use uom::si::f64::DiffusionCoefficient;

/// First-order extraction of spheres: 1/k = R²/(a·D) + τ.
///
/// a = 29.6 and τ = 1.39 min come from the two rates of one tea at 60 °C
/// (Farakte et al. 2016). Two points give no error bar; a is three times the
/// long-time π² because wet tea swells. τ at other temperatures is not known.
/// Fine grains are held up by wetting, not by diffusion.
///
/// ```
/// use ferrogall::extraction::{DiffusionCoefficient, FirstOrderExtraction};
/// use ferrogall::quantity::{Share, millimeters};
/// use uom::si::diffusion_coefficient::square_meter_per_second;
/// let d = DiffusionCoefficient::new::<square_meter_per_second>(2.23e-10);
/// let coarse = FirstOrderExtraction::of_grain(millimeters(1.99), d)?;
/// assert!((coarse.rate()?.in_per_second() * 60.0 - 0.257).abs() < 0.0005);
/// let minutes = coarse.time_to(Share::percent(90.0)?)?.value / 60.0;
/// assert!((minutes - 8.96).abs() < 0.02);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FirstOrderExtraction {
    /// s
    diffusion: f64,
    /// s
    film: f64,
}

impl FirstOrderExtraction {
    /// A grain by its diameter (1 µm to 100 mm) and the diffusivity in it
    /// (1e-15 to 1e-6 m²/s), with τ of tea at 60 °C.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn of_grain(
        diameter: Length,
        diffusivity: DiffusionCoefficient,
    ) -> Result<FirstOrderExtraction, ExtractionError> {
        let radius = 0.5 * within("grain size", diameter.value, 1e-6, 0.1, "m")?;
        let d = within("diffusivity", diffusivity.value, 1e-15, 1e-6, "m2/s")?;
        Ok(FirstOrderExtraction {
            diffusion: radius * radius / (FILM_FACTOR.value * d),
            film: FILM_TIME.value * 60.0,
        })
    }

    /// With another τ, up to ten years; 0 where the grain was wet before.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn wetting(mut self, time: Time) -> Result<FirstOrderExtraction, ExtractionError> {
        self.film = within("wetting time", time.value, 0.0, LONGEST_S, "s")?;
        Ok(self)
    }

    /// Its rate constant k.
    ///
    /// # Errors
    /// None for a grain that was accepted.
    pub fn rate(&self) -> Result<FirstOrder, ExtractionError> {
        let k = within(
            "rate constant",
            1.0 / self.time_constant(),
            0.0,
            1e12,
            "1/s",
        )?;
        FirstOrder::per_second(k).map_err(|_| ExtractionError::CannotFit {
            why: "the rate is no number",
        })
    }

    /// Share of the delay that is diffusion's, not the film's.
    pub fn diffusion_share(&self) -> Share {
        Share::new(self.diffusion / self.time_constant()).unwrap_or(Share::ZERO)
    }

    /// Share of equilibrium after a time, up to ten years.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn share(&self, after: Time) -> Result<Share, ExtractionError> {
        let t = within("time", after.value, 0.0, LONGEST_S, "s")?;
        Ok(Share::new(-libm::expm1(-t / self.time_constant()))?)
    }

    /// Time at which a share of equilibrium (below 1) is reached.
    ///
    /// # Errors
    /// [`ExtractionError::Never`] for all of it.
    pub fn time_to(&self, share: Share) -> Result<Time, ExtractionError> {
        if share.value() >= 1.0 {
            return Err(ExtractionError::Never {
                what: "share of equilibrium",
                asked: share.value(),
                most: 1.0,
            });
        }
        let t = -libm::log1p(-share.value()) * self.time_constant();
        Ok(Time::new::<uom::si::time::second>(t))
    }

    fn time_constant(&self) -> f64 {
        self.diffusion + self.film
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::millimeters;
    use uom::si::diffusion_coefficient::square_meter_per_second;

    /// Farakte et al. 2016 at 60 °C, the printed digits: 0.257 /min at
    /// 1.99 mm, 0.685 /min at 0.33 mm.
    #[test]
    fn the_two_rates_of_tea() -> Result<(), ExtractionError> {
        let d = DiffusionCoefficient::new::<square_meter_per_second>(2.23e-10);
        for (mm, per_minute) in [(1.99, 0.257), (0.33, 0.685)] {
            let grain = FirstOrderExtraction::of_grain(millimeters(mm), d)?;
            let k = grain.rate()?.in_per_second() * 60.0;
            assert!((k - per_minute).abs() <= 0.5001e-3, "{mm}: {k}");
        }
        Ok(())
    }

    /// 1/e is left after one time constant.
    #[test]
    fn share_and_time_undo_each_other() -> Result<(), ExtractionError> {
        let d = DiffusionCoefficient::new::<square_meter_per_second>(1e-10);
        let grain = FirstOrderExtraction::of_grain(millimeters(1.0), d)?;
        let share = Share::new(1.0 - libm::exp(-1.0))?;
        let t = grain.time_to(share)?;
        approx::assert_relative_eq!(
            t.value * grain.rate()?.in_per_second(),
            1.0,
            max_relative = 1e-14
        );
        approx::assert_relative_eq!(grain.share(t)?.value(), share.value(), max_relative = 1e-14);
        let wet = grain.wetting(Time::default())?;
        assert_eq!(wet.diffusion_share(), Share::ONE);
        assert!(grain.time_to(Share::ONE).is_err());
        Ok(())
    }
}
