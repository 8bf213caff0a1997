//! What the maker does: a plant, how fine, which washes, and before and after.

use super::draws::{settings, typical};
use super::fermentation::Mould;
use super::liquors::{Liquors, Strained};
use super::model::{Plan, Setting, Step, pace, washes};
use super::tally::{Tally, World};
use super::wash::{Liquid, checked_ratio};
use super::{ExtractionError, Fermentation, Grain, Rain, Wash};
use crate::bench::Lot;
use crate::composition::{Bulk, Composition};
use crate::oxidation::FirstOrder;
use crate::quantity::{Mass, Share, Volume, checked_volume, kilograms, within};

/// Most washes of one lot.
const MOST_WASHES: usize = 30;

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

    /// Water, outcome and cautions of a process that is a single soak.
    pub(crate) fn as_one_soak(&self) -> Result<(Mass, Strained, Vec<String>), ExtractionError> {
        let more = |what| ExtractionError::MoreThanASoak { what };
        if self.washes.len() > 1 {
            return Err(more("a second wash"));
        }
        if self.fermentation.is_some() || self.hydrolysis != FirstOrder::ZERO {
            return Err(more("gallic acid set free"));
        }
        if self.boil_down.is_some() {
            return Err(more("boiling down"));
        }
        let liquors = self.run()?;
        let strained = liquors.washes.first().ok_or(ExtractionError::NoWash)?;
        // What the marc would keep of any water, not of this one.
        let wash = self.washes.first().ok_or(ExtractionError::NoWash)?;
        let strained = Strained {
            hold_up: Process::hold_up(wash.straining)?,
            ..*strained
        };
        let cautions = liquors.cautions.iter().map(|c| c.to_string());
        Ok((kilograms(self.water()), strained, cautions.collect()))
    }

    /// Mass of the plant out of the bag.
    pub fn mass(&self) -> Mass {
        self.contents.mass()
    }

    pub(super) fn plan(&self) -> Result<Plan, ExtractionError> {
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

    pub(super) fn typical(&self) -> Setting {
        typical(&self.plant, &self.grain, &self.rained())
    }

    pub(super) fn settings(&self) -> Vec<Setting> {
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
