//! Scaling to a volume, to bottles, and to what is there.

use super::{Recipe, RecipeError};
use crate::quantity::{Mass, OutOfRange, Share, Volume, within};

/// So many bottles, filled so far, with so much lost on the way.
///
/// ```
/// use ferrogall::quantity::{milliliters, ReadVolume, Share};
/// use ferrogall::recipe::BottlePlan;
/// let plan = BottlePlan::new(10, milliliters(50.0))?
///     .filled(Share::percent(96.0)?)?
///     .losing(Share::percent(4.0)?)?;
/// assert!((plan.batch_volume().in_milliliters() - 500.0).abs() < 1e-9);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BottlePlan {
    count: u32,
    capacity: f64,
    fill: f64,
    loss: f64,
}

impl BottlePlan {
    /// So many bottles of this brimful volume (0.1 mL to 1 m³), full, without losses.
    ///
    /// # Errors
    /// [`OutOfRange`], also for no bottle at all.
    pub fn new(count: u32, capacity: Volume) -> Result<BottlePlan, OutOfRange> {
        within("number of bottles", f64::from(count), 1.0, 1e6, "")?;
        Ok(BottlePlan {
            count,
            capacity: within("bottle volume", capacity.value, 1e-7, 1.0, "m3")?,
            fill: 1.0,
            loss: 0.0,
        })
    }

    /// How full each is; 1 % at least.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn filled(mut self, fill: Share) -> Result<Self, OutOfRange> {
        self.fill = within("fill", fill.value(), 0.01, 1.0, "")?;
        Ok(self)
    }

    /// Share of the batch that stays in pots, filters and funnels; 90 % at most.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn losing(mut self, loss: Share) -> Result<Self, OutOfRange> {
        self.loss = within("loss", loss.value(), 0.0, 0.9, "")?;
        Ok(self)
    }

    /// Number of bottles.
    pub fn count(&self) -> u32 {
        self.count
    }

    /// Brimful volume of a bottle.
    pub fn capacity(&self) -> Volume {
        cubic_meters(self.capacity)
    }

    /// Ink in a bottle.
    pub fn fill_volume(&self) -> Volume {
        cubic_meters(self.capacity * self.fill)
    }

    /// What must be made.
    pub fn batch_volume(&self) -> Volume {
        cubic_meters(self.capacity * self.fill * f64::from(self.count) / (1.0 - self.loss))
    }
}

fn cubic_meters(v: f64) -> Volume {
    Volume::new::<uom::si::volume::cubic_meter>(v)
}

/// What a batch costs.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{BottlePlan, Recipe, Solution};
/// let water = Lot::of("distilled_water")?.price(Price::per_kilogram(1.0)?).build()?;
/// let recipe = Recipe::new("water").make_up(&water, liters(1.0));
/// let cost = recipe.bottling(&BottlePlan::new(10, milliliters(100.0))?)?;
/// assert!((cost.per_bottle.unwrap() - 0.0998).abs() < 1e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Bottling {
    /// Materials of the batch; `None` when nothing has a price.
    pub per_batch: Option<f64>,
    /// Per litre of ink made.
    pub per_liter: Option<f64>,
    /// Per bottle filled.
    pub per_bottle: Option<f64>,
    /// Lines without a price, not counted.
    pub unpriced: usize,
}

/// The batch that a limited material allows.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{Recipe, Solution};
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.named("vitriol").build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("iron water")
///     .with(Solution::new("iron").add(&vitriol, grams(15.0)))
///     .make_up(&water, liters(1.0));
/// let batch = recipe.limited_by("vitriol", grams(8.0))?;
/// assert!((batch.volume.in_milliliters() - 533.3).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LimitedBatch {
    /// The recipe at that size.
    pub recipe: Recipe,
    /// Its volume.
    pub volume: Volume,
    /// Times the recipe as given.
    pub factor: f64,
}

impl Recipe {
    /// The same ink at another volume.
    ///
    /// # Errors
    /// What [`Recipe::evaluate`] says; [`RecipeError::OutOfRange`] for a
    /// volume of nothing or a scale beyond 1e-9 to 1e9.
    pub fn to_volume(&self, volume: Volume) -> Result<Recipe, RecipeError> {
        let want = within("volume", volume.value, 1e-9, 1e3, "m3")?;
        let have = self.evaluate()?.composition.volume().value;
        Ok(self.scaled(within("scale", want / have, 1e-9, 1e9, "")?))
    }

    /// The same ink for a number of bottles.
    ///
    /// # Errors
    /// As [`Recipe::to_volume`].
    pub fn for_bottles(&self, plan: &BottlePlan) -> Result<Recipe, RecipeError> {
        self.to_volume(plan.batch_volume())
    }

    /// As much of this ink as so much of one lot allows ("I have 8 g of galls").
    ///
    /// # Errors
    /// [`RecipeError::NoSuchLot`]; as [`Recipe::to_volume`].
    pub fn limited_by(&self, lot: &str, available: Mass) -> Result<LimitedBatch, RecipeError> {
        let have = crate::quantity::checked_mass("mass available", available)?;
        let evaluation = self.evaluate()?;
        let needed: f64 = evaluation
            .lines
            .iter()
            .filter(|l| l.lot.name() == lot)
            .map(|l| l.mass.value)
            .sum();
        if needed <= 0.0 {
            return Err(RecipeError::NoSuchLot {
                name: lot.chars().take(64).collect(),
            });
        }
        let factor = within("scale", have / needed, 1e-9, 1e9, "")?;
        Ok(LimitedBatch {
            volume: evaluation.composition.volume() * factor,
            recipe: self.scaled(factor),
            factor,
        })
    }

    /// What a batch for these bottles costs, this recipe taken as that batch.
    ///
    /// # Errors
    /// What [`Recipe::evaluate`] says.
    pub fn bottling(&self, plan: &BottlePlan) -> Result<Bottling, RecipeError> {
        let evaluation = self.evaluate()?;
        let liters = evaluation.composition.volume().value * 1e3;
        let cost = evaluation.cost();
        let per = |n: f64| cost.map(|(sum, _)| sum / n).filter(|c| c.is_finite());
        Ok(Bottling {
            per_batch: per(1.0),
            per_liter: per(liters),
            per_bottle: per(f64::from(plan.count)),
            unpriced: evaluation.unpriced(),
        })
    }
}
