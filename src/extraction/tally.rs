//! Gathers draws into the figures of liquors and marc.

use super::liquors::{Boiled, Liquor, Liquors, Marc, Strained, boils_dry, cubic_meters};
use super::model::Course;
use super::process::{BoilDown, Process};
use super::{ExtractionError, Span, cautions};
use crate::bench::WATER_DENSITY_KG_PER_M3 as WATER_DENSITY;
use crate::chem::constants::{GALLIC_ACID, WATER};
use crate::composition::{Bulk, Component, Composition};
use crate::quantile::{ends_of_95_percent, mean_and_deviation};
use crate::quantity::{Estimate, MolarConcentration, Share, kilograms, moles};

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
        let (_, deviation) = mean_and_deviation(&self.draws);
        Ok(Estimate::new(self.typical.max(0.0), deviation)?)
    }
}

/// The ends lie on either side of the typical value, even where it is an end itself.
pub(super) fn of_draws(draws: &mut [f64], typical: f64) -> Span<f64> {
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
            plant: self.process.plant().clone(),
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

fn per(x: f64, volume: f64) -> f64 {
    if volume > 0.0 { x / volume } else { 0.0 }
}
