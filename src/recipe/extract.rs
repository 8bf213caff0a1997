//! Tannin out of the plant in a recipe: the bookkeeping of the liquor.
//!
//! The yield is given, or follows from the room [`extraction`](crate::extraction).

use super::{Amount, RecipeError};
use crate::bench::{Lot, Material, TanninClass};
use crate::composition::{Bulk, Component, Composition};
use crate::extraction::{ExtractionError, Parameter, Process};
use crate::quantity::{Estimate, Mass, OutOfRange, kilograms, within};
use crate::source::{Range, Source, Status};

/// Share of the tannin that passes into the liquid on a day's soak of crushed
/// galls in about ten times their weight of water.
pub const DEFAULT_YIELD: (Range, Source) = (
    Range::new(0.65, 0.85, 1.0),
    Source::new(
        "0.92 accessible (tea efficiencies) times L/(L+K) with L = 10, K = 0.5 g/g gives 0.88; rounded down for coarse grain",
        Status::ExpertGuess,
    ),
);

/// Grams of liquid held back per gram of dry plant matter put in, drained by
/// gravity; about 1.2 when pressed in a cloth.
pub const DEFAULT_HOLD_UP: (Range, Source) = (
    Parameter::HOLD_UP_DRAINED.range,
    Source::new(
        "drained ground coffee keeps 2.0–2.5 g/g; no figure for galls was found",
        Status::ExpertGuess,
    ),
);

/// What a cloth holds back when nothing is said.
fn default_hold_up() -> Estimate {
    let range = DEFAULT_HOLD_UP.0;
    Estimate::new(range.typical, range.u()).unwrap_or(Estimate::ZERO)
}

/// Tea figures say what boiling water delivers, so all of it is in the cup.
const TEA_YIELD: Range = Range::new(0.8, 1.0, 1.2);

/// The yield of a plant about which nothing is said.
pub(crate) fn default_yield(plant: &Lot) -> Estimate {
    let range = match plant.material() {
        Some(Material::TanninSource(t)) if t.class == TanninClass::TeaPolyphenols => TEA_YIELD,
        _ => DEFAULT_YIELD.0,
    };
    Estimate::new(range.typical, range.u()).unwrap_or(Estimate::ZERO)
}

/// Plant matter soaked or boiled in a liquid and strained.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::{grams, milliliters};
/// use ferrogall::recipe::Extraction;
///
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let soak = Extraction::new(&galls, grams(30.0), &water, milliliters(25.0));
/// let drained = soak.run(None)?;
/// assert!(drained.held_back.value() == 1.0); // the marc drinks it all
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Extraction {
    pub(super) plant: Lot,
    pub(super) amount: Amount,
    pub(super) liquid: Lot,
    pub(super) liquid_amount: Amount,
    pub(crate) yield_share: Estimate,
    pub(super) hold_up: Estimate,
    pub(super) cautions: Vec<String>,
}

/// What drains off, and what stays in the cloth.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::grams;
/// use ferrogall::recipe::Extraction;
/// let galls = Lot::of("aleppo_galls")?.moisture(0.0, 0.0)?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let drained = Extraction::new(&galls, grams(10.0), &water, grams(100.0)).run(None)?;
/// assert_eq!(drained.held_back.value(), 0.25); // 2.5 g of water per gram of galls
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct ExtractionResult {
    /// Plant matter taken.
    pub plant: Mass,
    /// Liquid taken.
    pub liquid: Mass,
    /// Share of the liquor that the marc keeps; 1 when nothing drains.
    pub held_back: crate::quantity::Share,
    /// The liquor that drains.
    pub liquor: Composition,
    /// What stays behind: plant matter with the liquor it holds.
    pub marc: Composition,
    /// Relative standard uncertainty of the yield.
    pub yield_u: f64,
    /// Relative standard uncertainty of what drains, as far as it comes from
    /// the liquid held back.
    pub drained_u: f64,
}

impl Extraction {
    /// A soak with the default yield and hold-up.
    pub fn new(
        plant: &Lot,
        amount: impl Into<Amount>,
        liquid: &Lot,
        liquid_amount: impl Into<Amount>,
    ) -> Extraction {
        Extraction {
            plant: plant.clone(),
            amount: amount.into(),
            liquid: liquid.clone(),
            liquid_amount: liquid_amount.into(),
            yield_share: default_yield(plant),
            hold_up: default_hold_up(),
            cautions: Vec::new(),
        }
    }

    /// The soak of a process with one wash, in this liquid: its yield and what
    /// the marc keeps follow from grain, water, warmth and time, with their
    /// uncertainties; its cautions come along. What is more than a soak (several washes, mould, boiling
    /// down) gives a lot: [`Liquors::to_lot`](crate::extraction::Liquors::to_lot).
    ///
    /// # Errors
    /// [`ExtractionError::MoreThanASoak`], and what the process itself refuses.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::extraction::{Grain, Process, Straining, Wash};
    /// use ferrogall::quantity::*;
    /// use ferrogall::recipe::Extraction;
    /// let galls = Lot::of("aleppo_galls")?.build()?;
    /// let water = Lot::of("distilled_water")?.build()?;
    /// let hour = Wash::of(grams(300.0), celsius(15.0), hours(1.0))?.strained(Straining::Pressed)?;
    /// let day = Wash::of(grams(300.0), celsius(15.0), days(1.0))?.strained(Straining::Pressed)?;
    /// let soak = |wash| -> Result<Extraction, Box<dyn std::error::Error>> {
    ///     let process = Process::new(&galls, grams(30.0), Grain::crushed())?.wash(wash)?;
    ///     Ok(Extraction::by(&process, &water)?)
    /// };
    /// assert!(soak(hour)?.yield_share().value() < soak(day)?.yield_share().value());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn by(process: &Process, liquid: &Lot) -> Result<Extraction, ExtractionError> {
        let (water, strained, cautions) = process.as_one_soak()?;
        Ok(Extraction {
            plant: process.plant().clone(),
            amount: Amount::Mass(process.mass()),
            liquid: liquid.clone(),
            liquid_amount: Amount::Mass(water),
            yield_share: strained.dissolved,
            hold_up: strained.hold_up,
            cautions,
        })
    }

    /// Share of the tannin (and of the free gallic acid) that passes into the
    /// liquid, what the marc holds back included; 0 to 1.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn yielding(mut self, share: f64, u: f64) -> Result<Self, OutOfRange> {
        within("yield", share, 0.0, 1.0, "")?;
        self.yield_share = Estimate::new(share, u)?;
        Ok(self)
    }

    /// Grams of water kept per gram of dry plant matter put in; 0 to 20. Zero when
    /// nothing is strained off. Taken as measured; see
    /// [`holding_back_about`](Self::holding_back_about).
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn holding_back(self, grams_per_gram: f64) -> Result<Self, OutOfRange> {
        self.holding_back_about(grams_per_gram, 0.0)
    }

    /// As [`holding_back`](Self::holding_back), with its standard uncertainty.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn holding_back_about(mut self, grams_per_gram: f64, u: f64) -> Result<Self, OutOfRange> {
        within("hold-up", grams_per_gram, 0.0, 20.0, "g/g")?;
        within("uncertainty of the hold-up", u, 0.0, 20.0, "g/g")?;
        self.hold_up = Estimate::new(grams_per_gram, u)?;
        Ok(self)
    }

    /// Soaked as another one is: its yield, what its marc keeps, its cautions.
    #[cfg(feature = "serde")]
    pub(crate) fn soaked_like(mut self, other: &Extraction) -> Self {
        self.yield_share = other.yield_share;
        self.hold_up = other.hold_up;
        self.cautions.clone_from(&other.cautions);
        self
    }

    /// The plant lot.
    pub fn plant(&self) -> &Lot {
        &self.plant
    }

    /// The liquid lot.
    pub fn liquid(&self) -> &Lot {
        &self.liquid
    }

    /// How much of the plant.
    pub fn amount(&self) -> Amount {
        self.amount
    }

    /// How much of the liquid.
    pub fn liquid_amount(&self) -> Amount {
        self.liquid_amount
    }

    /// Share of the tannin that passes into the liquid.
    pub fn yield_share(&self) -> Estimate {
        self.yield_share
    }

    /// Grams of liquid kept per gram of dry plant matter.
    pub fn hold_up(&self) -> Estimate {
        self.hold_up
    }

    /// Soaks and strains. `part` is the mass of one part, for amounts in parts.
    ///
    /// # Errors
    /// [`RecipeError::NotAPlant`], [`RecipeError::NoPartMass`],
    /// [`RecipeError::OutOfRange`], [`RecipeError::Lot`] for a volume without density.
    pub fn run(&self, part: Option<Mass>) -> Result<ExtractionResult, RecipeError> {
        if !self.plant.is_plant() {
            return Err(RecipeError::NotAPlant {
                lot: self.plant.name().to_string(),
            });
        }
        super::evaluate::must_pour(&self.liquid)?;
        let plant_kg = super::evaluate::resolve(&self.plant, self.amount, part)?;
        let liquid_kg = super::evaluate::resolve(&self.liquid, self.liquid_amount, part)?;
        let plant = self.plant.contents(kilograms(plant_kg));
        let liquid = self.liquid.contents(kilograms(liquid_kg));
        let share = self.yield_share.value();
        let (liquor, held) = strained(&plant, &liquid, share, self.hold_up.value());
        let drained = 1.0 - held;
        let drained_u = if drained > 0.0 && self.hold_up.value() > 0.0 {
            held * self.hold_up.relative_u() / drained
        } else {
            0.0
        };
        let mut marc = plant;
        marc.add_scaled(&liquid, 1.0);
        marc.add_scaled(&liquor, -1.0);
        Ok(ExtractionResult {
            plant: kilograms(plant_kg),
            liquid: kilograms(liquid_kg),
            held_back: crate::quantity::Share::new(held)?,
            liquor,
            marc,
            yield_u: self.yield_share.relative_u(),
            drained_u,
        })
    }

    pub(crate) fn replace_plant(&mut self, plant: &Lot, mass: Mass, liquid: Mass) {
        self.plant = plant.clone();
        self.amount = Amount::Mass(mass);
        self.liquid_amount = Amount::Mass(liquid);
    }

    pub(super) fn scale(&mut self, factor: f64) {
        self.amount = self.amount.scaled(factor);
        self.liquid_amount = self.liquid_amount.scaled(factor);
    }

    pub(super) fn amounts_mut(&mut self) -> Vec<(&Lot, &mut Amount)> {
        vec![
            (&self.plant, &mut self.amount),
            (&self.liquid, &mut self.liquid_amount),
        ]
    }
}

/// The liquor that drains from plant matter in a liquid, and the share of it
/// that the marc keeps.
pub(crate) fn strained(
    plant: &Composition,
    liquid: &Composition,
    yield_share: f64,
    hold_up: f64,
) -> (Composition, f64) {
    let mut mixed = *liquid;
    mixed.add_scaled(&leached(plant, yield_share), 1.0);
    let dry = plant.mass - plant.masses[Bulk::Water as usize];
    // Water, alcohol, vinegar: whatever is wet.
    let wet = mixed.mass - mixed.dry_residue;
    let held = if wet > 0.0 {
        (hold_up * dry / wet).min(1.0)
    } else {
        1.0
    };
    (mixed.times(1.0 - held), held)
}

/// What passes from the plant into the liquid: its own moisture, and a share
/// of its tannin and gallic acid.
fn leached(plant: &Composition, share: f64) -> Composition {
    let tannin = plant.masses[Bulk::Tannin as usize];
    let water = plant.masses[Bulk::Water as usize];
    let gallic = plant.dry_residue - tannin;
    let water_volume = water / crate::bench::WATER_DENSITY_KG_PER_M3;
    let mut out = Composition::EMPTY;
    for c in [Component::Galloyl, Component::GallicAcid] {
        out.amounts[c as usize] = plant.amounts[c as usize] * share;
    }
    out.masses[Bulk::Tannin as usize] = tannin * share;
    out.masses[Bulk::Water as usize] = water;
    out.mass = (tannin + gallic) * share + water;
    out.volume = (plant.volume - water_volume) * share + water_volume;
    out.dry_residue = (tannin + gallic) * share;
    out
}
