//! What drains off, what stays in the marc, what boiling down makes of it.

use super::model::Course;
use super::process::{BoilDown, Process};
use super::{Caution, ExtractionError, Parameter, Span, cautions};
use crate::bench::WATER_DENSITY_KG_PER_M3 as WATER_DENSITY;
use crate::chem::constants::{GALLIC_ACID, WATER};
use crate::composition::{Bulk, Component, Composition};
use crate::quantile::ends_of_95_percent;
use crate::quantity::{
    AmountOfSubstance, Estimate, Mass, MassConcentration, MolarConcentration, Share, Volume,
    kilograms, moles, within,
};

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
    /// Liquor that the marc keeps, grams per gram of dry plant.
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

/// All that comes of a [`Process`].
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
    galloyl_draws: Vec<f64>,
    concentration_draws: Vec<f64>,
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

/// One draw of everything.
pub(super) struct World<'a> {
    pub course: &'a Course,
    pub converted: Vec<f64>,
    pub strength: f64,
}

/// Gathers the draws into intervals.
pub(super) struct Tally<'a> {
    process: &'a Process,
    washes: Vec<Figures>,
    all: Figures,
    marc: Figures,
    boiled: Figures,
    water_off: Draws,
    water_in_marc: Draws,
    rain: Draws,
    dissolved: Vec<Draws>,
    hold_up: Vec<Draws>,
    reached: Vec<Draws>,
    compositions: Vec<Composition>,
    marc_composition: Composition,
}

/// One figure: the typical value and every draw.
#[derive(Debug, Clone, Default)]
struct Draws {
    typical: f64,
    draws: Vec<f64>,
}

impl Draws {
    fn put(&mut self, x: f64, typical: bool) {
        if typical {
            self.typical = x;
        } else {
            self.draws.push(x);
        }
    }

    fn span(&self) -> Span<f64> {
        of_draws(&mut self.draws.clone(), self.typical)
    }

    fn share(&self) -> Span<Share> {
        // Rounding may leave the last bit outside.
        self.span()
            .map(|x| Share::new(x.clamp(0.0, 1.0)).unwrap_or(Share::ZERO))
    }

    /// The typical value with the spread of the draws about it.
    fn estimate(&self) -> Result<Estimate, ExtractionError> {
        let n = self.draws.len().max(1) as f64;
        let mean = self.draws.iter().sum::<f64>() / n;
        let square: f64 = self.draws.iter().map(|x| (x - mean) * (x - mean)).sum();
        Ok(Estimate::new(
            self.typical.max(0.0),
            libm::sqrt(square / n),
        )?)
    }
}

/// The ends lie on either side of the typical value, even where it is an end itself.
fn of_draws(draws: &mut [f64], typical: f64) -> Span<f64> {
    let (low, high) = ends_of_95_percent(draws);
    Span {
        low: low.min(typical),
        typical,
        high: high.max(typical),
    }
}

/// The figures of a liquor.
#[derive(Debug, Clone, Default)]
struct Figures {
    share: Draws,
    galloyl: Draws,
    gallic: Draws,
    tannin: Draws,
    volume: Draws,
    concentration: Draws,
}

/// One liquor in one draw.
#[derive(Debug, Clone, Copy, Default)]
struct Content {
    share: f64,
    galloyl: f64,
    gallic: f64,
    tannin: f64,
    volume: f64,
}

impl Content {
    fn add(&mut self, other: &Content) {
        self.share += other.share;
        self.galloyl += other.galloyl;
        self.gallic += other.gallic;
        self.tannin += other.tannin;
        self.volume += other.volume;
    }
}

impl Figures {
    fn put(&mut self, x: &Content, typical: bool) {
        self.share.put(x.share, typical);
        self.galloyl.put(x.galloyl, typical);
        self.gallic.put(x.gallic, typical);
        self.tannin.put(x.tannin, typical);
        self.volume.put(x.volume, typical);
        self.concentration.put(per(x.galloyl, x.volume), typical);
    }

    fn liquor(&self, composition: Composition) -> Liquor {
        Liquor {
            composition,
            volume: self.volume.span().map(cubic_meters),
            share: self.share.share(),
            galloyl: self.galloyl.span().map(moles),
            gallic_acid: self.gallic.span().map(kilograms),
            tannin: self.tannin.span().map(kilograms),
            concentration: self
                .concentration
                .span()
                .map(MolarConcentration::new::<uom::si::molar_concentration::mole_per_cubic_meter>),
        }
    }
}

impl<'a> Tally<'a> {
    pub fn new(process: &'a Process, washes: usize) -> Tally<'a> {
        Tally {
            process,
            washes: vec![Figures::default(); washes],
            all: Figures::default(),
            marc: Figures::default(),
            boiled: Figures::default(),
            water_off: Draws::default(),
            water_in_marc: Draws::default(),
            rain: Draws::default(),
            dissolved: vec![Draws::default(); washes],
            hold_up: vec![Draws::default(); washes],
            reached: vec![Draws::default(); washes],
            compositions: Vec::with_capacity(washes),
            marc_composition: Composition::EMPTY,
        }
    }

    pub fn draw(&mut self, world: &World) {
        self.put(world, false);
    }

    pub fn typical(&mut self, course: &Course, converted: Vec<f64>) -> Result<(), ExtractionError> {
        let plant = self.process.contents();
        let dry = self.process.dry();
        let mut marc = *plant;
        marc.add_scaled(&solute(plant), -course.lost_to_rain);
        marc.add_scaled(&of_water(self.process.water()), 1.0);
        for (stage, &free) in course.stages.iter().zip(&converted) {
            let mut liquor = solute(plant).times(stage.had);
            liquor.add_scaled(&of_water(stage.liquid * dry), 1.0);
            marc.add_scaled(&liquor, -1.0);
            self.compositions.push(hydrolysed(&liquor, free));
        }
        self.marc_composition = hydrolysed(&marc, converted.last().copied().unwrap_or(0.0));
        self.put(
            &World {
                course,
                converted,
                strength: 1.0,
            },
            true,
        );
        Ok(())
    }

    fn put(&mut self, world: &World, typical: bool) {
        let plant = self.process.contents();
        let dry = self.process.dry();
        let solute = solute(plant);
        let content = |share: f64, free: f64, water: f64| {
            let of = share * world.strength;
            let bound = solute.amounts[Component::Galloyl as usize];
            let gallic = solute.amounts[Component::GallicAcid as usize];
            Content {
                share,
                galloyl: of * (bound + gallic),
                gallic: of * (gallic + free * bound) * GALLIC_ACID,
                tannin: of * solute.masses[Bulk::Tannin as usize] * (1.0 - free),
                volume: of * solute.volume + water / WATER_DENSITY,
            }
        };
        let course = world.course;
        let mut all = Content::default();
        for (i, (stage, &free)) in course.stages.iter().zip(&world.converted).enumerate() {
            let one = content(stage.had, free, stage.liquid * dry);
            all.add(&one);
            if let Some(figures) = self.washes.get_mut(i) {
                figures.put(&one, typical);
            }
            for (column, x) in [
                (&mut self.dissolved, stage.dissolved),
                (&mut self.hold_up, stage.held),
                (&mut self.reached, stage.reached),
            ] {
                if let Some(draws) = column.get_mut(i) {
                    draws.put(x, typical);
                }
            }
        }
        self.all.put(&all, typical);
        self.rain.put(course.lost_to_rain, typical);
        let held = course.stages.last().map_or(0.0, |s| s.held) * dry;
        let free = world.converted.last().copied().unwrap_or(0.0);
        let left = (1.0 - course.lost_to_rain - course.had()).max(0.0);
        self.marc.put(&content(left, free, held), typical);
        self.water_in_marc.put(held, typical);
        if let Some(how) = self.process.boil_down() {
            let volume = match how {
                BoilDown::ToVolume(v) => v.value.min(all.volume),
                BoilDown::ToShare(s) => s.value() * all.volume,
            };
            self.water_off
                .put((all.volume - volume) * WATER_DENSITY, typical);
            self.boiled.put(&Content { volume, ..all }, typical);
        }
    }

    pub fn finish(self, typical: &Course) -> Result<Liquors, ExtractionError> {
        let mut together = Composition::EMPTY;
        for liquor in &self.compositions {
            together.add_scaled(liquor, 1.0);
        }
        let all = self.all.liquor(together);
        let boiled = match self.process.boil_down() {
            Some(how) => Some(self.boil(how, &together)?),
            None => None,
        };
        let mut washes = Vec::with_capacity(self.washes.len());
        let columns = self.dissolved.iter().zip(&self.hold_up).zip(&self.reached);
        for ((figures, composition), ((dissolved, hold_up), reached)) in
            self.washes.iter().zip(&self.compositions).zip(columns)
        {
            washes.push(Strained {
                liquor: figures.liquor(*composition),
                dissolved: dissolved.estimate()?,
                hold_up: hold_up.estimate()?,
                reached: reached.share(),
            });
        }
        let last = boiled.as_ref().map_or(&all, |b: &Boiled| &b.liquor);
        let cautions = cautions::of(self.process, typical, &washes, last);
        let used = if boiled.is_some() {
            self.boiled
        } else {
            self.all.clone()
        };
        Ok(Liquors {
            washes,
            all,
            marc: Marc {
                composition: self.marc_composition,
                share: self.marc.share.share(),
                galloyl: self.marc.galloyl.span().map(moles),
                water: self.water_in_marc.span().map(kilograms),
            },
            boiled,
            extracted: self.all.share.estimate()?,
            lost_to_rain: self.rain.share(),
            cautions,
            assumed: cautions::assumed(self.process),
            galloyl_draws: used.galloyl.draws,
            concentration_draws: used.concentration.draws,
        })
    }

    fn boil(&self, how: BoilDown, together: &Composition) -> Result<Boiled, ExtractionError> {
        if let BoilDown::ToVolume(v) = how
            && v.value > together.volume
        {
            return Err(ExtractionError::NothingToBoil {
                asked_m3: v.value,
                liquor_m3: together.volume,
            });
        }
        let water = together.masses[Bulk::Water as usize];
        let off = self.water_off.typical;
        if off > water {
            let dissolved = together.volume - water / WATER_DENSITY;
            return Err(boils_dry(self.boiled.volume.typical, dissolved));
        }
        let mut left = *together;
        left.add_scaled(&of_water(off), -1.0);
        Ok(Boiled {
            liquor: self.boiled.liquor(left),
            water_off: self.water_off.span().map(kilograms),
        })
    }
}

/// All that can dissolve in the plant: its tannin and gallic acid.
fn solute(plant: &Composition) -> Composition {
    let mut out = Composition::EMPTY;
    for c in [Component::Galloyl, Component::GallicAcid] {
        out.amounts[c as usize] = plant.amounts[c as usize];
    }
    let tannin = plant.masses[Bulk::Tannin as usize];
    out.masses[Bulk::Tannin as usize] = tannin;
    let mass = tannin + plant.amounts[Component::GallicAcid as usize] * GALLIC_ACID;
    out.mass = mass;
    out.dry_residue = mass;
    out.volume = plant.volume - plant.masses[Bulk::Water as usize] / WATER_DENSITY;
    out
}

fn of_water(kg: f64) -> Composition {
    let mut out = Composition::EMPTY;
    out.masses[Bulk::Water as usize] = kg;
    out.mass = kg;
    out.volume = kg / WATER_DENSITY;
    out
}

/// The same with a share of its bound galloyl units set free. Each takes up
/// one water; what is left of the tannin, the sugar, counts with other
/// solubles. Volume is taken as unchanged.
fn hydrolysed(c: &Composition, share: f64) -> Composition {
    let mut out = *c;
    let free = c.amounts[Component::Galloyl as usize] * share;
    let tannin = c.masses[Bulk::Tannin as usize] * share;
    let water = (free * WATER).min(c.masses[Bulk::Water as usize]);
    out.amounts[Component::Galloyl as usize] -= free;
    out.amounts[Component::GallicAcid as usize] += free;
    out.masses[Bulk::Tannin as usize] -= tannin;
    out.masses[Bulk::Water as usize] -= water;
    out.masses[Bulk::OtherSolubles as usize] += (tannin + water - free * GALLIC_ACID).max(0.0);
    out.dry_residue += water;
    out
}

fn boils_dry(asked_m3: f64, dissolved_m3: f64) -> ExtractionError {
    ExtractionError::BoilsDry {
        asked_m3,
        dissolved_m3,
    }
}

fn per(x: f64, volume: f64) -> f64 {
    if volume > 0.0 { x / volume } else { 0.0 }
}

fn cubic_meters(m3: f64) -> Volume {
    Volume::new::<uom::si::volume::cubic_meter>(m3)
}

fn concentration(kg_per_m3: f64) -> MassConcentration {
    MassConcentration::new::<uom::si::mass_concentration::kilogram_per_cubic_meter>(kg_per_m3)
}
