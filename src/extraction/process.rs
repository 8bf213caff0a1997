//! What the maker does: a plant, how fine, which washes, and before and after.

use super::draws::{settings, typical};
use super::fermentation::Mould;
use super::liquors::{Liquors, Tally, World};
use super::model::{Plan, Setting, Step, pace, washes};
use super::wash::{Liquid, checked_ratio, checked_straining};
use super::{ExtractionError, Fermentation, Grain, Rain, Span, Straining, Wash};
use crate::bench::Lot;
use crate::composition::{Bulk, Composition};
use crate::oxidation::FirstOrder;
use crate::quantile::ends_of_95_percent;
use crate::quantity::{
    Estimate, Mass, Share, Temperature, Time, Volume, checked_volume, kilograms, within,
};

/// Most washes of one lot.
const MOST_WASHES: usize = 30;
/// The longest wait that is told, s: a thousand years.
const LONGEST_WAIT_S: f64 = 3.2e10;

/// How far the liquors are boiled down together.
///
/// ```
/// use ferrogall::extraction::BoilDown;
/// use ferrogall::quantity::{Share, milliliters};
/// let to_a_quarter = BoilDown::ToShare(Share::percent(25.0)?);
/// assert_ne!(to_a_quarter, BoilDown::ToVolume(milliliters(250.0)));
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum BoilDown {
    /// To this volume, at 20 °C.
    ToVolume(Volume),
    /// To this share of the volume.
    ToShare(Share),
}

/// Tannin out of a plant: rain, fermentation, washes and boiling down, in
/// that order; whatever is not said does not happen.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Straining, Wash};
/// use ferrogall::quantity::*;
///
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let day_in_the_cold = Wash::per_gram(8.0, celsius(18.0), days(1.0))?
///     .strained(Straining::Pressed)?;
/// let liquors = Process::new(&galls, grams(50.0), Grain::crushed())?
///     .wash(day_in_the_cold.clone())?
///     .wash(day_in_the_cold)?
///     .run()?;
/// let first = &liquors.washes[0].liquor;
/// let second = &liquors.washes[1].liquor;
/// assert!(second.share.typical < first.share.typical);
/// println!(
///     "{:.0} mL, {:.0} mmol galloyl ({:.0} to {:.0})",
///     liquors.all.volume.typical.in_milliliters(),
///     liquors.all.galloyl.typical.in_millimoles(),
///     liquors.all.galloyl.low.in_millimoles(),
///     liquors.all.galloyl.high.in_millimoles(),
/// );
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Process {
    plant: Lot,
    contents: Composition,
    /// kg
    dry: f64,
    grain: Grain,
    washes: Vec<Wash>,
    rain: Option<Rain>,
    fermentation: Option<Fermentation>,
    hydrolysis: FirstOrder,
    boil_down: Option<BoilDown>,
}

/// Water that a wanted share needs, in each wash.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let needed = Process::new(&galls, grams(100.0), Grain::powder())?
///     .wash(Wash::per_gram(8.0, celsius(18.0), days(1.0))?)?
///     .water_for(Share::percent(70.0)?)?;
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
    /// A plant lot, its mass out of the bag (1 µg to a thousand tonnes), and how fine it is.
    ///
    /// # Errors
    /// [`ExtractionError::NotAPlant`], [`ExtractionError::OutOfRange`].
    pub fn new(plant: &Lot, mass: Mass, grain: Grain) -> Result<Process, ExtractionError> {
        if !plant.is_plant() {
            return Err(ExtractionError::NotAPlant {
                lot: plant.name().to_string(),
            });
        }
        let kg = within(
            "plant mass",
            mass.value,
            1e-9,
            crate::quantity::MAX_MASS_KG,
            "kg",
        )?;
        let contents = plant.contents(kilograms(kg));
        let dry = contents.mass - contents.masses[Bulk::Water as usize];
        within("dry share of the plant", dry / kg, 1e-3, 1.0, "")?;
        Ok(Process {
            plant: plant.clone(),
            contents,
            dry,
            grain,
            washes: Vec::new(),
            rain: None,
            fermentation: None,
            hydrolysis: FirstOrder::ZERO,
            boil_down: None,
        })
    }

    /// One more wash, up to 30.
    ///
    /// # Errors
    /// [`ExtractionError::TooMany`]; [`ExtractionError::OutOfRange`] for water
    /// outside 1e-6 to 1e6 g per gram of dry plant.
    pub fn wash(mut self, wash: Wash) -> Result<Process, ExtractionError> {
        if self.washes.len() >= MOST_WASHES {
            return Err(ExtractionError::TooMany {
                what: "washes",
                most: MOST_WASHES,
            });
        }
        checked_ratio(self.per_dry(&wash))?;
        self.washes.push(wash);
        Ok(self)
    }

    /// It rained on the galls before they were gathered. The catalogue's
    /// strength is then that of galls before the rain.
    #[must_use]
    pub fn rained_on(mut self, rain: Rain) -> Process {
        self.rain = Some(rain);
        self
    }

    /// The wet plant moulds before the first wash.
    #[must_use]
    pub fn fermented(mut self, fermentation: Fermentation) -> Process {
        self.fermentation = Some(fermentation);
        self
    }

    /// Galloyl units also come off without mould, at this rate, while they
    /// soak. No usable rate at room temperature is published; 0 when nothing
    /// is said.
    #[must_use]
    pub fn hydrolysing(mut self, rate: FirstOrder) -> Process {
        self.hydrolysis = rate;
        self
    }

    /// All liquors are put together and boiled down. Volatile matter and what
    /// cakes on the pot are not reckoned.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn boiled_down(mut self, how: BoilDown) -> Result<Process, ExtractionError> {
        match how {
            BoilDown::ToVolume(v) => {
                let m3 = checked_volume("volume after boiling", v)?;
                within("volume after boiling", m3, 1e-12, 1e3, "m3")?;
            }
            BoilDown::ToShare(s) => {
                within("share after boiling", s.value(), 1e-6, 1.0, "")?;
            }
        }
        self.boil_down = Some(how);
        Ok(self)
    }

    /// The plant lot.
    pub fn plant(&self) -> &Lot {
        &self.plant
    }

    /// Its dry mass.
    pub fn dry_mass(&self) -> Mass {
        kilograms(self.dry)
    }

    /// How fine it is.
    pub fn grain(&self) -> Grain {
        self.grain
    }

    /// The washes so far.
    pub fn washes(&self) -> &[Wash] {
        &self.washes
    }

    /// Does all of it.
    ///
    /// # Errors
    /// [`ExtractionError::NoWash`]; [`ExtractionError::BoilsDry`] where the
    /// volume asked for is below that of the dissolved matter,
    /// [`ExtractionError::NothingToBoil`] where it is above that of the liquors.
    pub fn run(&self) -> Result<Liquors, ExtractionError> {
        let plan = self.plan()?;
        let mut tally = Tally::new(self, plan.steps.len());
        let strengths = super::draws::strengths(&self.plant)?;
        let course = |x: &Setting| washes(&plan, x, &pace(&plan, x), None);
        let typical_course = course(&self.typical());
        tally.typical(&typical_course, self.converted(&Mould::TYPICAL))?;
        for ((x, mould), strength) in self.settings().iter().zip(Mould::draws()).zip(strengths) {
            tally.draw(&World {
                course: &course(x),
                converted: self.converted(&mould),
                strength,
            });
        }
        tally.finish(&typical_course)
    }

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
            let d = super::parameter::arrhenius(x.diffusivity, x.activation, kelvin);
            let fo = self.grain.shape().inverse(rest.min(1.0));
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
        let own = self.contents.masses[Bulk::Water as usize];
        let kg = |x: &Setting| (x.hold_up(straining) * self.dry - own).max(0.0);
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
            Ok(self.dry * libm::exp(high))
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

    /// What a strainer keeps, grams per gram of dry plant, with its standard
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
        let of = |p: super::Parameter| {
            let u = p.distribution().map_or(0.0, |d| d.standard_uncertainty());
            Estimate::new(p.range.typical, u)
        };
        Ok(match checked_straining(straining)? {
            Straining::Drained => of(super::Parameter::HOLD_UP_DRAINED)?,
            Straining::Pressed => of(super::Parameter::HOLD_UP_PRESSED)?,
            Straining::HoldUp(h) => Estimate::exact(h)?,
            Straining::Nothing => Estimate::ZERO,
        })
    }

    fn plan(&self) -> Result<Plan, ExtractionError> {
        if self.washes.is_empty() {
            return Err(ExtractionError::NoWash);
        }
        let steps = self.washes.iter().map(|wash| Step {
            liquid: self.per_dry(wash),
            soaks: wash.soaks.clone(),
            straining: wash.straining,
        });
        Ok(Plan {
            shape: self.grain.shape(),
            moisture: self.contents.masses[Bulk::Water as usize] / self.dry,
            rain: self.rain.map(|r| r.wet()),
            steps: steps.collect(),
        })
    }

    fn per_dry(&self, wash: &Wash) -> f64 {
        match wash.liquid {
            Liquid::Mass(kg) => kg / self.dry,
            Liquid::PerDry(ratio) => ratio,
        }
    }

    fn rained(&self) -> Grain {
        self.rain.map_or_else(Grain::whole, |r| r.galls())
    }

    fn typical(&self) -> Setting {
        typical(&self.plant, &self.grain, &self.rained())
    }

    fn settings(&self) -> Vec<Setting> {
        settings(&self.plant, &self.grain, &self.rained())
    }

    /// Share of the galloyl units set free by the end of each wash.
    fn converted(&self, mould: &Mould) -> Vec<f64> {
        let by_mould = self.fermentation.map_or(0.0, |f| f.at(mould));
        let rate = self.hydrolysis.in_per_second();
        let mut seconds = 0.0;
        let kept = |wash: &Wash| {
            seconds += wash.seconds();
            (1.0 - by_mould) * libm::exp(-rate * seconds)
        };
        self.washes
            .iter()
            .map(kept)
            .map(|kept| 1.0 - kept)
            .collect()
    }

    pub(super) fn contents(&self) -> &Composition {
        &self.contents
    }

    pub(super) fn dry(&self) -> f64 {
        self.dry
    }

    pub(super) fn boil_down(&self) -> Option<BoilDown> {
        self.boil_down
    }

    pub(super) fn fermentation(&self) -> Option<Fermentation> {
        self.fermentation
    }

    /// Fresh water of all washes, kg.
    pub(super) fn water(&self) -> f64 {
        let per_dry: f64 = self.washes.iter().map(|w| self.per_dry(w)).sum();
        per_dry * self.dry
    }
}
