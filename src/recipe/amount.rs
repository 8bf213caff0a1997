//! The recipe as data.

use super::Extraction;
use crate::bench::Lot;
use crate::quantity::{Mass, Share, Volume};

/// How much of a lot.
///
/// ```
/// use ferrogall::quantity::{grams, milliliters};
/// use ferrogall::recipe::Amount;
/// assert_eq!(Amount::from(grams(3.0)), Amount::Mass(grams(3.0)));
/// assert_eq!(Amount::from(milliliters(3.0)), Amount::Volume(milliliters(3.0)));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// Weighed.
    Mass(Mass),
    /// Measured.
    Volume(Volume),
    /// Parts by weight; see [`Recipe::with_part`].
    Parts(f64),
}

impl From<Mass> for Amount {
    fn from(m: Mass) -> Self {
        Amount::Mass(m)
    }
}

impl From<Volume> for Amount {
    fn from(v: Volume) -> Self {
        Amount::Volume(v)
    }
}

impl Amount {
    pub(crate) fn scaled(self, factor: f64) -> Amount {
        match self {
            Amount::Mass(m) => Amount::Mass(m * factor),
            Amount::Volume(v) => Amount::Volume(v * factor),
            Amount::Parts(p) => Amount::Parts(p),
        }
    }
}

/// One entry of a solution.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::grams;
/// use ferrogall::recipe::{Ingredient, Solution};
/// let gum = Lot::of("gum_arabic")?.build()?;
/// let solution = Solution::new("gum").add(&gum, grams(10.0));
/// assert!(matches!(&solution.ingredients()[0], Ingredient::Lot { lot, .. } if *lot == gum));
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Ingredient {
    /// A lot that goes in whole.
    Lot {
        /// The bag or bottle.
        lot: Lot,
        /// How much of it.
        amount: Amount,
    },
    /// A liquor drawn from plant matter.
    Extract(Extraction),
}

/// How much of a solution goes into the ink.
///
/// ```
/// use ferrogall::quantity::milliliters;
/// use ferrogall::recipe::{Portion, Solution};
/// let stock = Solution::new("stock").use_only(Portion::Volume(milliliters(20.0)));
/// assert_eq!(stock.portion(), Portion::Volume(milliliters(20.0)));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Portion {
    /// All of it.
    All,
    /// A share of it.
    Share(Share),
    /// A measured volume of it.
    Volume(Volume),
    /// A weighed mass of it.
    Mass(Mass),
}

/// A solution made separately.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::{grams, milliliters};
/// use ferrogall::recipe::{Portion, Recipe, Solution};
///
/// let acid = Lot::of("hydrochloric_acid")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// // A stock of dilute acid, of which 12.5 mL go into the ink.
/// let stock = Solution::new("dilute acid")
///     .add(&acid, grams(31.8))
///     .make_up(&water, milliliters(100.0))
///     .use_only(Portion::Volume(milliliters(12.5)));
/// let ink = Recipe::new("acid water").with(stock).make_up(&water, milliliters(1000.0));
/// assert!(ink.evaluate().is_ok());
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Solution {
    pub(crate) name: String,
    pub(crate) ingredients: Vec<Ingredient>,
    pub(crate) make_up: Option<(Lot, Volume)>,
    pub(crate) used: Portion,
}

impl Solution {
    /// An empty solution.
    pub fn new(name: impl Into<String>) -> Solution {
        Solution {
            name: name.into(),
            ingredients: Vec::new(),
            make_up: None,
            used: Portion::All,
        }
    }

    /// Puts in a mass, a volume or parts of a lot.
    #[must_use]
    pub fn add(mut self, lot: &Lot, amount: impl Into<Amount>) -> Self {
        self.ingredients.push(Ingredient::Lot {
            lot: lot.clone(),
            amount: amount.into(),
        });
        self
    }

    /// Puts in a liquor drawn from plant matter.
    #[must_use]
    pub fn extract(mut self, extraction: Extraction) -> Self {
        self.ingredients.push(Ingredient::Extract(extraction));
        self
    }

    /// Fills up with a liquid lot to a final volume.
    #[must_use]
    pub fn make_up(mut self, liquid: &Lot, volume: Volume) -> Self {
        self.make_up = Some((liquid.clone(), volume));
        self
    }

    /// Uses only a part of it; the rest is kept as stock.
    #[must_use]
    pub fn use_only(mut self, portion: Portion) -> Self {
        self.used = portion;
        self
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What goes into it.
    pub fn ingredients(&self) -> &[Ingredient] {
        &self.ingredients
    }

    /// The liquid it is filled up with, and to what volume.
    pub fn filled_up(&self) -> Option<(&Lot, Volume)> {
        self.make_up.as_ref().map(|(lot, v)| (lot, *v))
    }

    /// How much of it goes into the ink.
    pub fn portion(&self) -> Portion {
        self.used
    }
}

/// A whole recipe: solutions poured together and made up to volume.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Recipe, Solution};
///
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.purity(1.0, 0.0)?.build()?;
/// let tannin = Lot::of("tannic_acid")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("plain ink")
///     .with(Solution::new("iron").add(&vitriol, grams(15.0)).add(&water, milliliters(300.0)))
///     .with(Solution::new("tannin").add(&tannin, grams(15.0)).add(&water, milliliters(400.0)))
///     .make_up(&water, milliliters(1000.0));
/// let ink = recipe.evaluate()?;
/// assert!((ink.composition.iron_mass_concentration().in_grams_per_liter() - 3.013).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    pub(crate) title: String,
    pub(crate) solutions: Vec<Solution>,
    pub(crate) part: Option<Mass>,
    pub(crate) make_up: Option<(Lot, Volume)>,
}

impl Recipe {
    /// An empty recipe.
    pub fn new(title: impl Into<String>) -> Recipe {
        Recipe {
            title: title.into(),
            solutions: Vec::new(),
            part: None,
            make_up: None,
        }
    }

    /// Pours in a solution.
    #[must_use]
    pub fn with(mut self, solution: Solution) -> Self {
        self.solutions.push(solution);
        self
    }

    /// What one part weighs, for amounts in parts.
    #[must_use]
    pub fn with_part(mut self, part: Mass) -> Self {
        self.part = Some(part);
        self
    }

    /// Fills up with a liquid lot to the final volume.
    #[must_use]
    pub fn make_up(mut self, liquid: &Lot, volume: Volume) -> Self {
        self.make_up = Some((liquid.clone(), volume));
        self
    }

    /// The same recipe under another title.
    #[must_use]
    pub fn titled(mut self, title: impl Into<String>) -> Self {
        self.title = title.into();
        self
    }

    /// Its title.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What one part weighs, if anything is in parts.
    pub fn part(&self) -> Option<Mass> {
        self.part
    }

    /// The liquid the whole is filled up with, and to what volume.
    pub fn filled_up(&self) -> Option<(&Lot, Volume)> {
        self.make_up.as_ref().map(|(lot, v)| (lot, *v))
    }

    /// Its solutions, in the order they are poured.
    pub fn solutions(&self) -> &[Solution] {
        &self.solutions
    }

    /// Every amount, final volumes and stock portions included, times `factor`.
    ///
    /// The factor is checked when the result is evaluated.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Recipe {
        let scale_up = |make_up: &Option<(Lot, Volume)>| {
            make_up.as_ref().map(|(lot, v)| (lot.clone(), *v * factor))
        };
        let mut out = self.clone();
        out.part = self.part.map(|p| p * factor);
        out.make_up = scale_up(&self.make_up);
        for solution in &mut out.solutions {
            solution.make_up = scale_up(&solution.make_up);
            solution.used = match solution.used {
                Portion::Volume(v) => Portion::Volume(v * factor),
                Portion::Mass(m) => Portion::Mass(m * factor),
                share => share,
            };
            for ingredient in &mut solution.ingredients {
                match ingredient {
                    Ingredient::Lot { amount, .. } => *amount = amount.scaled(factor),
                    Ingredient::Extract(e) => e.scale(factor),
                }
            }
        }
        out
    }

    /// The same recipe with `factor` times as much of one lot, and of the
    /// liquid it soaks in; final volumes stay.
    pub(crate) fn with_lot_scaled(&self, lot: &Lot, factor: f64) -> Recipe {
        let mut out = self.clone();
        let part = self.part;
        let times = |amount: Amount| match (amount, part) {
            (Amount::Parts(p), Some(part)) => Amount::Mass(part * p * factor),
            (amount, _) => amount.scaled(factor),
        };
        for ingredient in out.solutions.iter_mut().flat_map(|s| &mut s.ingredients) {
            match ingredient {
                Ingredient::Lot { lot: own, amount } if own.is_same_bag(lot) => {
                    *amount = times(*amount);
                }
                Ingredient::Extract(soak) if soak.plant.is_same_bag(lot) => {
                    soak.amount = times(soak.amount);
                    soak.liquid_amount = times(soak.liquid_amount);
                }
                _ => {}
            }
        }
        out
    }

    /// Every lot of the recipe with its amount where it has one of its own,
    /// in the order of the steps, to be changed in place.
    pub(crate) fn amounts_mut(&mut self) -> impl Iterator<Item = (&Lot, &mut Amount)> {
        self.solutions
            .iter_mut()
            .flat_map(|s| s.ingredients.iter_mut())
            .flat_map(|i| match i {
                Ingredient::Lot { lot, amount } => vec![(&*lot, amount)],
                Ingredient::Extract(e) => e.amounts_mut(),
            })
    }
}
