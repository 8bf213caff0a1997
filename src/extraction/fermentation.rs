//! Mould sets gallic acid free.

use super::draws::drawn;
use super::grain::{LONGEST_S, mould_weather};
use super::{Parameter, Span};
use crate::quantile::ends_of_95_percent;
use crate::quantity::{OutOfRange, Share, Temperature, Time, within};

const DAY: f64 = 86_400.0;

/// Wet plant matter left to mould before it is washed, at 20 to 25 °C.
///
/// Share of the galloyl units set free: most × (1 − exp(−(t − lag)/τ)) after
/// the lag. It is an expert guess that agrees with "10 days" and "several
/// weeks"; no course was ever published for a maker's crock. Boiling ends it.
/// Moulds eat gallic acid too (an Aspergillus culture peaked on day 3 and fell
/// after): what they eat is not taken off here.
///
/// ```
/// use ferrogall::extraction::Fermentation;
/// use ferrogall::quantity::{celsius, days};
/// let crock = Fermentation::new(celsius(22.0), days(10.0))?;
/// let free = crock.share();
/// assert!((free.typical.value() - 0.302).abs() < 0.001); // 0.6 (1 − exp(−7/10))
/// assert!(free.low.value() < 0.1 && free.high.value() > 0.5);
/// assert!(Fermentation::new(celsius(8.0), days(10.0)).is_err()); // nobody knows
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fermentation {
    days: f64,
    temperature: Temperature,
}

/// What decides how far it goes, at one draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Mould {
    pub most: f64,
    pub lag_days: f64,
    pub time_days: f64,
}

impl Mould {
    pub const TYPICAL: Mould = Mould {
        most: Parameter::FERMENTED_AT_MOST.range.typical,
        lag_days: Parameter::FERMENTATION_LAG.range.typical,
        time_days: Parameter::FERMENTATION_TIME.range.typical,
    };

    pub fn draws() -> impl Iterator<Item = Mould> {
        let most = drawn(&Parameter::FERMENTED_AT_MOST);
        let lag = drawn(&Parameter::FERMENTATION_LAG);
        let time = drawn(&Parameter::FERMENTATION_TIME);
        most.into_iter()
            .zip(lag.into_iter().zip(time))
            .map(|(most, (lag_days, time_days))| Mould {
                most,
                lag_days,
                time_days,
            })
    }
}

impl Fermentation {
    /// So long at 20 to 25 °C, up to ten years. Other temperatures are
    /// refused: no rate is known for them.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn new(temperature: Temperature, time: Time) -> Result<Fermentation, OutOfRange> {
        mould_weather(temperature)?;
        let seconds = within("duration", time.value, 0.0, LONGEST_S, "s")?;
        Ok(Fermentation {
            days: seconds / DAY,
            temperature,
        })
    }

    /// Its temperature.
    pub fn temperature(&self) -> Temperature {
        self.temperature
    }

    /// How long it takes.
    pub fn duration(&self) -> Time {
        crate::quantity::days(self.days)
    }

    /// Share of the galloyl units that is free gallic acid afterwards, before
    /// moulds eat of it.
    pub fn share(&self) -> Span<Share> {
        let mut draws: Vec<f64> = Mould::draws().map(|m| self.at(&m)).collect();
        let (low, high) = ends_of_95_percent(&mut draws);
        Span {
            low,
            typical: self.at(&Mould::TYPICAL),
            high,
        }
        .map(|x| Share::new(x).unwrap_or(Share::ZERO))
    }

    pub(super) fn at(&self, mould: &Mould) -> f64 {
        let past = (self.days - mould.lag_days).max(0.0);
        -mould.most * libm::expm1(-past / mould.time_days)
    }
}
