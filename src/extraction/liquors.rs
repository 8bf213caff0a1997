//! What drains off, what stays in the marc, what boiling down makes of it.

use super::tally::of_draws;
use super::{Caution, ExtractionError, Parameter, Span, cautions};
use crate::bench::{Lot, StrengthU, WATER_DENSITY_KG_PER_M3 as WATER_DENSITY};
use crate::composition::{Bulk, Composition};
use crate::quantile::mean_and_deviation;
use crate::quantity::{
    AmountOfSubstance, Estimate, Mass, MassConcentration, MolarConcentration, Share, Volume, within,
};
use crate::uncertainty::Belief;

/// A liquor: what is in it with everything at its typical value, and the
/// intervals of 95 %, the lot's strength included.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::composition::Component;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let liquor = Process::new(&galls, grams(10.0), Grain::powder())?
///     .wash(Wash::of(grams(100.0), celsius(20.0), days(1.0))?)?
///     .run()?
///     .all;
/// let galloyl = liquor.composition.galloyl();
/// assert!((galloyl - liquor.galloyl.typical).in_moles().abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Liquor {
    /// What is in it, typically. Sugars of the plant are not known and not counted.
    pub composition: Composition,
    /// Volume at 20 °C.
    pub volume: Span<Volume>,
    /// Share of the tannin and gallic acid that the plant held: the lot's
    /// strength is not in its interval.
    pub share: Span<Share>,
    /// Galloyl units, bound and as free gallic acid.
    pub galloyl: Span<AmountOfSubstance>,
    /// Free gallic acid.
    pub gallic_acid: Span<Mass>,
    /// Tannin.
    pub tannin: Span<Mass>,
    /// Galloyl units per volume; 0 where there is no liquor.
    pub concentration: Span<MolarConcentration>,
}

/// One wash, strained.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let soak = Process::new(&galls, grams(10.0), Grain::powder())?
///     .wash(Wash::of(grams(100.0), celsius(20.0), days(1.0))?)?
///     .run()?;
/// let first = &soak.washes[0];
/// // What is dissolved is more than what drains.
/// assert!(first.dissolved.value() > first.liquor.share.typical.value());
/// assert!(first.reached.typical.value() > 0.99);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Strained {
    /// What was had.
    pub liquor: Liquor,
    /// Share of what the plant held that was dissolved before straining, what
    /// the marc keeps of it included, and its standard uncertainty: the yield
    /// of a [`recipe::Extraction`](crate::recipe::Extraction) where it is the only wash.
    pub dissolved: Estimate,
    /// Water that the marc keeps, grams per gram of dry plant; no more than
    /// there is.
    pub hold_up: Estimate,
    /// How far grains come to equilibrium in a wash of this length.
    pub reached: Span<Share>,
}

/// What stays behind.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let marc = Process::new(&galls, grams(10.0), Grain::powder())?
///     .wash(Wash::of(grams(20.0), celsius(20.0), days(1.0))?)?
///     .run()?
///     .marc;
/// assert!((marc.share.typical.value() - 1.0).abs() < 1e-12); // a paste: nothing drained
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Marc {
    /// Plant matter with the liquor it holds, typically.
    pub composition: Composition,
    /// Share of what the plant held that is still there.
    pub share: Span<Share>,
    /// Galloyl units still there, bound and free, extractable or not.
    pub galloyl: Span<AmountOfSubstance>,
    /// Water it holds.
    pub water: Span<Mass>,
}

/// The liquors after boiling down.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{BoilDown, Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let cups = Lot::of("acorn_cups")?.build()?;
/// let liquors = Process::new(&cups, grams(100.0), Grain::crushed())?
///     .wash(Wash::of(grams(1000.0), celsius(80.0), hours(4.0))?)?
///     .boiled_down(BoilDown::ToShare(Share::percent(25.0)?))?
///     .run()?;
/// let boiled = liquors.boiled.ok_or("was boiled")?;
/// let times = boiled.liquor.concentration.typical / liquors.all.concentration.typical;
/// assert!((times.value - 4.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Boiled {
    /// What is left.
    pub liquor: Liquor,
    /// Water that has to go.
    pub water_off: Span<Mass>,
}

/// All that comes of a [`Process`](super::Process).
///
/// Masses balance: plant and water are liquors, marc and what the rain took.
/// Intervals are 1000 draws, the same ones in every run.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let liquors = Process::new(&galls, grams(30.0), Grain::powder())?
///     .wash(Wash::of(grams(25.0), celsius(20.0), days(1.0))?)?
///     .run()?;
/// assert!(liquors.cautions[0].to_string().contains("paste"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Liquors {
    /// Wash by wash.
    pub washes: Vec<Strained>,
    /// All liquors together, before boiling down.
    pub all: Liquor,
    /// What stays behind.
    pub marc: Marc,
    /// After boiling down, where that was asked for.
    pub boiled: Option<Boiled>,
    /// Share of what the plant held that is in all liquors, and the standard
    /// uncertainty that comes of the process alone.
    pub extracted: Estimate,
    /// Share of what the plant held that rain took.
    pub lost_to_rain: Span<Share>,
    /// What a careful colleague would say.
    pub cautions: Vec<Caution>,
    /// The spans that were drawn from, beside the grain and the lot's strength.
    pub assumed: Vec<Parameter>,
    pub(super) plant: Lot,
    pub(super) galloyl_draws: Vec<f64>,
    pub(super) concentration_draws: Vec<f64>,
}

/// One liquor over another, draw by draw.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let brew = |id: &str| -> Result<_, Box<dyn std::error::Error>> {
///     let plant = Lot::of(id)?.build()?;
///     let wash = Wash::of(grams(500.0), celsius(80.0), hours(6.0))?;
///     Ok(Process::new(&plant, grams(50.0), Grain::crushed())?.wash(wash)?.run()?)
/// };
/// let cups_over_galls = brew("acorn_cups")?.compared_with(&brew("aleppo_galls")?)?;
/// // Boiled to a tenth, acorn cups are as strong as galls; of ink there is a tenth, too.
/// assert!(cups_over_galls.concentration.typical < 0.2);
/// assert!(cups_over_galls.galloyl.typical < 0.2);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Comparison {
    /// Galloyl units over those of the other: boiling down does not change it.
    /// At most 1e12.
    pub galloyl: Span<f64>,
    /// Galloyl per volume over that of the other. Below 1, it is the share of
    /// the volume at which boiling down makes them equal. At most 1e12.
    pub concentration: Span<f64>,
}

/// A liquor brought to a wanted strength.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::extraction::{Grain, Process, Wash};
/// use ferrogall::quantity::*;
/// let cups = Lot::of("acorn_cups")?.build()?;
/// let liquors = Process::new(&cups, grams(100.0), Grain::crushed())?
///     .wash(Wash::of(grams(1000.0), celsius(80.0), hours(4.0))?)?
///     .run()?;
/// let strong = liquors.at_strength(moles_per_liter(0.1))?;
/// assert!(strong.volume.typical < liquors.all.volume.typical);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct AtStrength {
    /// Volume at which the galloyl units are at the wanted strength.
    pub volume: Span<Volume>,
    /// That over the present volume, typically: below 1 boil down, above 1 dilute.
    pub over_present: f64,
    /// Free gallic acid there, typically.
    pub gallic_acid: MassConcentration,
    /// What a careful colleague would say.
    pub cautions: Vec<Caution>,
}

impl Liquors {
    /// The liquor that is used: boiled down where it was, else all together.
    pub fn last(&self) -> &Liquor {
        self.boiled.as_ref().map_or(&self.all, |b| &b.liquor)
    }

    /// The last liquor as a lot for a recipe: with the uncertainty of its
    /// galloyl units, what it is made of and its cautions.
    ///
    /// # Errors
    /// [`ExtractionError::NoLiquor`] where nothing drains.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::extraction::{BoilDown, Grain, Process, Wash};
    /// use ferrogall::quantity::*;
    /// use ferrogall::recipe::{Recipe, Solution};
    /// let cups = Lot::of("acorn_cups")?.build()?;
    /// let wash = Wash::of(grams(1000.0), celsius(80.0), hours(4.0))?;
    /// let liquor = Process::new(&cups, grams(150.0), Grain::crushed())?
    ///     .wash(wash.clone())?
    ///     .wash(wash)?
    ///     .boiled_down(BoilDown::ToShare(Share::percent(20.0)?))?
    ///     .run()?
    ///     .to_lot("acorn liquor, twice drawn, boiled down")?;
    /// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
    /// let ink = Recipe::new("acorn ink").with(Solution::new("ink")
    ///     .add(&liquor, milliliters(100.0))
    ///     .add(&vitriol, grams(1.0)));
    /// assert!(ink.evaluate()?.iron_per_galloyl().is_some());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn to_lot(&self, name: impl Into<String>) -> Result<Lot, ExtractionError> {
        let last = self.last();
        let u_ln = u_ln_of(&self.galloyl_draws).ok_or(ExtractionError::NoLiquor)?;
        let lot = Lot::prepared(name, &last.composition).map_err(|_| ExtractionError::NoLiquor)?;
        let mut lot = lot
            .with_strength_u(StrengthU {
                galloyl: u_ln,
                ..StrengthU::default()
            })?
            .made_of(self.plant.material());
        for caution in &self.cautions {
            lot = lot.with_caution(caution.to_string());
        }
        Ok(lot)
    }

    /// The last liquor before anything is measured in it: galloyl units in
    /// mol/m³, for [`Belief::updated`].
    ///
    /// # Errors
    /// [`ExtractionError::NoLiquor`] where nothing drains.
    pub fn strength(&self) -> Result<Belief, ExtractionError> {
        let u_ln = u_ln_of(&self.concentration_draws).ok_or(ExtractionError::NoLiquor)?;
        let typical = self.last().concentration.typical.value;
        Belief::log_normal(typical, u_ln).map_err(|_| ExtractionError::NoLiquor)
    }

    /// As [`to_lot`](Self::to_lot), its galloyl units (mol/m³) known as they
    /// are after tests of the liquor itself.
    ///
    /// # Errors
    /// As [`to_lot`](Self::to_lot); [`ExtractionError::OutOfRange`] for a
    /// belief more than a thousand times off the reckoned strength.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::extraction::{Grain, Process, Wash};
    /// use ferrogall::quantity::*;
    /// use ferrogall::uncertainty::Evidence;
    /// let galls = Lot::of("marble_galls")?.build()?;
    /// let liquors = Process::new(&galls, grams(60.0), Grain::crushed())?
    ///     .wash(Wash::of(grams(600.0), celsius(18.0), days(2.0))?)?
    ///     .run()?;
    /// let before = liquors.strength()?;
    /// let after = before.updated(&Evidence::value(70.0, 7.0)?);
    /// let tested = liquors.to_lot_of_strength("hedge liquor, tested", &after)?;
    /// let untested = liquors.to_lot("hedge liquor")?;
    /// assert!(tested.strength_u().galloyl < 0.5 * untested.strength_u().galloyl);
    /// let liter = tested.composition(tested.mass_of(liters(1.0))?)?;
    /// assert!((liter.galloyl().in_millimoles() - after.median()).abs() < 1e-6);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn to_lot_of_strength(
        &self,
        name: impl Into<String>,
        galloyl: &Belief,
    ) -> Result<Lot, ExtractionError> {
        let reckoned = self.last().concentration.typical.value;
        let factor = galloyl.median() / reckoned;
        within("measured over reckoned strength", factor, 1e-3, 1e3, "")?;
        Ok(self.to_lot(name)?.with_galloyl(factor, galloyl.u_ln())?)
    }

    /// The last liquor over that of another process. Both have the same draws
    /// of what is not known of extraction; lots of the same name are one lot.
    ///
    /// # Errors
    /// [`ExtractionError::NoLiquor`] where the other gave nothing.
    pub fn compared_with(&self, other: &Liquors) -> Result<Comparison, ExtractionError> {
        let (mine, its) = (self.last(), other.last());
        let ratio = |a: f64, b: f64| if b > 0.0 { (a / b).min(1e12) } else { 1e12 };
        let its_galloyl = its.galloyl.typical.value;
        if its_galloyl.is_nan() || its_galloyl <= 0.0 {
            return Err(ExtractionError::NoLiquor);
        }
        let span = |a: &[f64], b: &[f64], typical| {
            let mut draws: Vec<f64> = a.iter().zip(b).map(|(&a, &b)| ratio(a, b)).collect();
            of_draws(&mut draws, typical)
        };
        Ok(Comparison {
            galloyl: span(
                &self.galloyl_draws,
                &other.galloyl_draws,
                ratio(mine.galloyl.typical.value, its_galloyl),
            ),
            concentration: span(
                &self.concentration_draws,
                &other.concentration_draws,
                ratio(
                    mine.concentration.typical.value,
                    its.concentration.typical.value,
                ),
            ),
        })
    }

    /// The volume at which the last liquor has this strength of galloyl units,
    /// 1 µmol/L to 10 mol/L.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`], [`ExtractionError::NoLiquor`],
    /// [`ExtractionError::BoilsDry`] where the dissolved matter alone has more volume.
    pub fn at_strength(&self, wanted: MolarConcentration) -> Result<AtStrength, ExtractionError> {
        let per_m3 = within("galloyl concentration", wanted.value, 1e-3, 1e4, "mol/m3")?;
        let last = self.last();
        let present = last.volume.typical.value;
        let volume = last.galloyl.map(|n| cubic_meters(n.value / per_m3));
        if last.galloyl.typical.value.is_nan() || last.galloyl.typical.value <= 0.0 {
            return Err(ExtractionError::NoLiquor);
        }
        let left = volume.typical.value;
        let dissolved = present - last.composition.masses[Bulk::Water as usize] / WATER_DENSITY;
        if left < dissolved {
            return Err(boils_dry(left, dissolved));
        }
        let gallic = last.gallic_acid.typical.value / left;
        let mut found = Vec::new();
        cautions::gallic_acid(gallic, &mut found);
        Ok(AtStrength {
            volume,
            over_present: left / present,
            gallic_acid: concentration(gallic),
            cautions: found,
        })
    }
}

/// Uncertainty of the logarithm that goes with the mean and spread of draws
/// some of which may be nothing.
fn u_ln_of(draws: &[f64]) -> Option<f64> {
    let (mean, deviation) = mean_and_deviation(draws);
    let relative = deviation / mean;
    let u_ln = libm::sqrt(libm::log1p(relative * relative));
    u_ln.is_finite().then_some(u_ln)
}

pub(super) fn boils_dry(asked_m3: f64, dissolved_m3: f64) -> ExtractionError {
    ExtractionError::BoilsDry {
        asked_m3,
        dissolved_m3,
    }
}

pub(super) fn cubic_meters(m3: f64) -> Volume {
    Volume::new::<uom::si::volume::cubic_meter>(m3)
}

fn concentration(kg_per_m3: f64) -> MassConcentration {
    MassConcentration::new::<uom::si::mass_concentration::kilogram_per_cubic_meter>(kg_per_m3)
}
