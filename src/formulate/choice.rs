//! Chosen lots, and the amounts that follow from the targets.

use super::linear::System;
use super::pots::{self, Portioned, Pot};
use super::targets::Target;
use super::{FormulateError, Targets};
use crate::bench::Lot;
use crate::composition::Composition;
use crate::extraction::{ExtractionError, Process};
use crate::quantity::{Estimate, Mass, ReadVolume, grams, kilograms, within};
use crate::recipe::{Extraction, Recipe, must_go_in_whole, must_pour};

/// Grams of water per gram of plant in a customary soak; common practice, no
/// source.
pub(crate) const WATER_PER_PLANT: f64 = 10.0;

/// How plant matter is to be soaked.
///
/// ```
/// use ferrogall::formulate::Soak;
/// let pressed = Soak::default().water_per_plant(12.0)?.holding_back(1.2)?;
/// # let _ = pressed;
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Soak {
    water_per_plant: f64,
    yield_share: Option<Estimate>,
    hold_up: Option<Estimate>,
}

impl Default for Soak {
    /// Ten times its weight of water, default yield and hold-up.
    fn default() -> Self {
        Soak {
            water_per_plant: WATER_PER_PLANT,
            yield_share: None,
            hold_up: None,
        }
    }
}

impl Soak {
    /// The soak of a process with one wash: its water for the plant as it is,
    /// its yield and what its marc keeps. The plant itself may be another lot
    /// of the same kind.
    ///
    /// # Errors
    /// As [`Extraction::by`].
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::extraction::{Grain, Process, Wash};
    /// use ferrogall::formulate::Soak;
    /// use ferrogall::quantity::*;
    /// let galls = Lot::of("aleppo_galls")?.build()?;
    /// let wash = Wash::of(grams(120.0), celsius(60.0), hours(2.0))?;
    /// let soak = Soak::by(&Process::new(&galls, grams(10.0), Grain::powder())?.wash(wash)?)?;
    /// # let _ = soak;
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn by(process: &Process) -> Result<Soak, ExtractionError> {
        let (water, strained, _) = process.as_one_soak()?;
        let ratio = (water / process.mass()).value;
        Ok(Soak {
            water_per_plant: within("water per plant", ratio, 0.1, 1000.0, "g/g")?,
            yield_share: Some(strained.dissolved),
            hold_up: Some(strained.hold_up),
        })
    }

    /// Grams of liquid per gram of plant, 0.1 to 1000.
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn water_per_plant(mut self, ratio: f64) -> Result<Self, crate::quantity::OutOfRange> {
        self.water_per_plant = within("water per plant", ratio, 0.1, 1000.0, "g/g")?;
        Ok(self)
    }

    /// See [`Extraction::yielding`].
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn yielding(mut self, share: f64, u: f64) -> Result<Self, crate::quantity::OutOfRange> {
        within("yield", share, 0.0, 1.0, "")?;
        self.yield_share = Some(Estimate::new(share, u)?);
        Ok(self)
    }

    /// See [`Extraction::holding_back`].
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn holding_back(
        mut self,
        grams_per_gram: f64,
    ) -> Result<Self, crate::quantity::OutOfRange> {
        within("hold-up", grams_per_gram, 0.0, 20.0, "g/g")?;
        self.hold_up = Some(Estimate::exact(grams_per_gram)?);
        Ok(self)
    }

    pub(super) fn extraction(
        &self,
        plant: &Lot,
        mass: Mass,
        water: &Lot,
    ) -> Result<Extraction, FormulateError> {
        let mut soak = Extraction::new(plant, mass, water, mass * self.water_per_plant);
        if let Some(hold_up) = self.hold_up {
            soak = soak.holding_back_about(hold_up.value(), hold_up.u())?;
        }
        Ok(match self.yield_share {
            Some(e) => soak.yielding(e.value(), e.u())?,
            None => soak,
        })
    }
}

/// The lots chosen from the shelf, one for each target.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Choice, Targets};
/// use ferrogall::quantity::*;
///
/// let choice = Choice::new(
///     &Lot::of("iron_ii_chloride_tetrahydrate")?.build()?,
///     &Lot::of("tannic_acid")?.build()?,
///     &Lot::of("distilled_water")?.build()?,
/// );
/// let targets = Targets::new(milliliters(250.0), moles_per_liter(0.054), 0.6)?;
/// let formulated = choice.formulate(&targets)?;
/// let ink = formulated.recipe.evaluate()?.composition;
/// assert!((ink.concentration(ink.iron_ii()).in_moles_per_liter() - 0.054).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    iron: Lot,
    tannin: Lot,
    water: Lot,
    soak: Soak,
    gallic_acid: Option<Lot>,
    gum: Option<Lot>,
    acid: Option<Lot>,
    dye: Option<Lot>,
    preservative: Option<Lot>,
}

/// Amounts that meet the targets.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::formulate::{Choice, Targets};
/// # use ferrogall::quantity::*;
/// # let choice = Choice::new(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?,
/// #     &Lot::of("tannic_acid")?.build()?, &Lot::of("distilled_water")?.build()?);
/// let made = choice.formulate(&Targets::new(liters(1.0), moles_per_liter(0.05395), 0.606)?)?;
/// assert_eq!(made.amounts.len(), 3); // iron, tannin, water
/// assert!((made.amounts[0].1.in_grams() - 15.0).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Formulated {
    /// A recipe ready to evaluate, scale and print.
    pub recipe: Recipe,
    /// Name and mass of each chosen lot, water last; the water a plant soaks
    /// in is not in the last figure but in the recipe.
    pub amounts: Vec<(String, Mass)>,
}

impl Choice {
    /// The three lots no ink goes without.
    pub fn new(iron: &Lot, tannin: &Lot, water: &Lot) -> Choice {
        Choice {
            iron: iron.clone(),
            tannin: tannin.clone(),
            water: water.clone(),
            soak: Soak::default(),
            gallic_acid: None,
            gum: None,
            acid: None,
            dye: None,
            preservative: None,
        }
    }

    /// How to soak the tannin lot if it is plant matter.
    #[must_use]
    pub fn soaked(mut self, soak: Soak) -> Self {
        self.soak = soak;
        self
    }

    /// A gallic acid lot beside the tannin, for a target gallic share.
    #[must_use]
    pub fn gallic_acid(mut self, lot: &Lot) -> Self {
        self.gallic_acid = Some(lot.clone());
        self
    }

    /// A gum lot.
    #[must_use]
    pub fn gum(mut self, lot: &Lot) -> Self {
        self.gum = Some(lot.clone());
        self
    }

    /// An acid (or base) lot.
    #[must_use]
    pub fn acid(mut self, lot: &Lot) -> Self {
        self.acid = Some(lot.clone());
        self
    }

    /// A dye lot.
    #[must_use]
    pub fn dye(mut self, lot: &Lot) -> Self {
        self.dye = Some(lot.clone());
        self
    }

    /// A preservative lot.
    #[must_use]
    pub fn preservative(mut self, lot: &Lot) -> Self {
        self.preservative = Some(lot.clone());
        self
    }

    /// The targets there are lots for: iron, proportion and volume, and of the
    /// gallic share, gum, acid, dye and preservative those with a chosen lot.
    /// The way to follow a published ink with what is on the bench; what is
    /// left out is the caller's choice, and nothing replaces it.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::formulate::Choice;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::standards::reference_ink;
    /// # let choice = Choice::new(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?,
    /// #     &Lot::of("tannic_acid")?.build()?, &Lot::of("distilled_water")?.build()?);
    /// let ink = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
    /// let all = ink.targets(milliliters(250.0), 1.0)?;
    /// assert!(choice.formulate(&all).is_err()); // no acid, no dye, no phenol
    /// assert!(choice.formulate(&choice.reachable(&all)).is_ok());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn reachable(&self, targets: &Targets) -> Targets {
        let supplied = self.optional();
        targets.only(|target| {
            supplied
                .iter()
                .any(|(t, lot)| *t == target && lot.is_some())
        })
    }

    /// Solves for the amounts.
    ///
    /// # Errors
    /// [`FormulateError`]: a target without a lot or the other way round, lots
    /// that cannot meet a target, or a target that would need less than
    /// nothing of a lot.
    pub fn formulate(&self, targets: &Targets) -> Result<Formulated, FormulateError> {
        let unknowns = self.unknowns(targets)?;
        let mut system = System::new(unknowns.len());
        for (row, unknown) in unknowns.iter().enumerate() {
            system.want(row, targets.wanted(unknown.target).unwrap_or(0.0));
            for (column, other) in unknowns.iter().enumerate() {
                system.set(row, column, unknown.target.held_by(&other.per_kg));
            }
        }
        let x = system.solve().map_err(|row| FormulateError::Undetermined {
            target: unknowns.get(row).map_or("volume", |u| u.target.name()),
        })?;
        let whole: f64 = x[..unknowns.len()].iter().map(|m| m.abs()).sum();
        let mut masses = Vec::with_capacity(unknowns.len());
        for (unknown, &kg) in unknowns.iter().zip(&x) {
            let target = unknown.target.name();
            if !kg.is_finite() {
                return Err(FormulateError::Undetermined { target });
            }
            if kg > crate::quantity::MAX_MASS_KG {
                return Err(FormulateError::TooMuch {
                    target,
                    lot: unknown.lot.name().to_string(),
                    mass_g: kg * 1e3,
                });
            }
            // Rounding error of a lot that is not needed is not a shortage.
            if kg < -1e-12 * whole {
                return Err(FormulateError::LessThanNothing {
                    target,
                    lot: unknown.lot.name().to_string(),
                    mass_g: kg * 1e3,
                });
            }
            masses.push((unknown.target, unknown.lot, kilograms(kg.max(0.0))));
        }
        Ok(Formulated {
            recipe: self.recipe(targets, &masses)?,
            amounts: masses
                .iter()
                .map(|(_, lot, m)| (lot.name().to_string(), *m))
                .collect(),
        })
    }

    /// The lots an ink may do without, with what each is for.
    fn optional(&self) -> [(Target, &Option<Lot>); 5] {
        [
            (Target::GallicAcid, &self.gallic_acid),
            (Target::Gum, &self.gum),
            (Target::Acid, &self.acid),
            (Target::Dye, &self.dye),
            (Target::Preservative, &self.preservative),
        ]
    }

    /// Only the tannin may be plant matter, and water must pour.
    fn refuse_misplaced_lots(&self) -> Result<(), FormulateError> {
        let optional = self
            .optional()
            .into_iter()
            .filter_map(|(_, lot)| lot.as_ref());
        for lot in optional.chain([&self.iron]) {
            must_go_in_whole(lot)?;
        }
        Ok(must_pour(&self.water)?)
    }

    /// One unknown mass for each target, water last.
    fn unknowns(&self, targets: &Targets) -> Result<Vec<Unknown<'_>>, FormulateError> {
        self.refuse_misplaced_lots()?;
        let one = kilograms(1.0);
        let tannin = if self.tannin.is_plant() {
            self.soak
                .extraction(&self.tannin, one, &self.water)?
                .run(None)?
                .liquor
        } else {
            self.tannin.contents(one)
        };
        let mut out = vec![
            Unknown::whole(Target::Iron, &self.iron),
            Unknown {
                target: Target::Galloyl,
                lot: &self.tannin,
                per_kg: tannin,
            },
        ];
        for (target, lot) in self.optional() {
            match (lot, targets.wanted(target)) {
                (Some(lot), Some(_)) => out.push(Unknown::whole(target, lot)),
                (None, None) => {}
                (None, Some(_)) => {
                    return Err(FormulateError::NoLotFor {
                        target: target.name(),
                    });
                }
                (Some(lot), None) => {
                    return Err(FormulateError::NoTargetFor {
                        lot: lot.name().to_string(),
                        target: target.name(),
                    });
                }
            }
        }
        out.push(Unknown::whole(Target::Volume, &self.water));
        Ok(out)
    }

    fn recipe(
        &self,
        targets: &Targets,
        masses: &[(Target, &Lot, Mass)],
    ) -> Result<Recipe, FormulateError> {
        let rest = masses.last().map_or(grams(0.0), |(_, _, m)| *m);
        let lots = masses
            .iter()
            .filter(|(target, ..)| *target != Target::Volume);
        let lots = lots.map(|&(target, lot, mass)| Portioned {
            lot,
            amount: mass.into(),
            mass,
            pot: match target {
                Target::Iron | Target::Acid => Pot::Iron,
                _ => Pot::Tannin,
            },
        });
        let title = format!("{:.0} mL of ink", targets.volume().in_milliliters());
        pots::recipe(title, lots, &self.soak, &self.water, rest, targets.volume())
    }
}

struct Unknown<'a> {
    target: Target,
    lot: &'a Lot,
    per_kg: Composition,
}

impl<'a> Unknown<'a> {
    fn whole(target: Target, lot: &'a Lot) -> Unknown<'a> {
        Unknown {
            target,
            lot,
            per_kg: lot.contents(grams(1000.0)),
        }
    }
}
