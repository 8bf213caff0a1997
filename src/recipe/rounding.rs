//! Rounding to what the maker can weigh and measure.

use super::{Amount, Evaluation, Recipe, RecipeError};
use crate::bench::{Lot, Material};
use crate::quantity::{Mass, MolarConcentration, Volume, kilograms, within};

/// A tool that measures in steps.
///
/// ```
/// use ferrogall::quantity::{grams, milliliters};
/// use ferrogall::recipe::Measure;
/// let kitchen = Measure::Balance { step: grams(1.0) };
/// let quarter_teaspoon = Measure::Spoon { volume: milliliters(1.25) };
/// assert_ne!(kitchen, quarter_teaspoon);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Measure {
    /// A balance that shows steps of this mass.
    Balance {
        /// Last digit of the display.
        step: Mass,
    },
    /// A cylinder, jug or syringe with marks this far apart.
    Cylinder {
        /// Volume between two marks.
        step: Volume,
    },
    /// A level spoon; the lot needs a bulk density.
    Spoon {
        /// What it holds.
        volume: Volume,
    },
    /// A dropper; about 0.05 mL a drop (common practice, no source).
    Dropper {
        /// Volume of one drop.
        volume: Volume,
    },
}

impl Measure {
    /// Whether it is too rough for its steps to tell anything: a level spoon
    /// or a drop is good to some 15 % (expert guess), however many they are.
    pub(crate) fn is_rough(self) -> bool {
        matches!(self, Measure::Spoon { .. } | Measure::Dropper { .. })
    }

    /// Kilograms of a lot in one step.
    pub(crate) fn step_kg(self, lot: &Lot) -> Result<f64, RecipeError> {
        let by_volume = |v: Volume| -> Result<f64, RecipeError> {
            within("step of volume", v.value, 1e-12, 1.0, "m3")?;
            Ok(lot.mass_of(v)?.value)
        };
        match self {
            Measure::Balance { step } => {
                Ok(within("step of the balance", step.value, 1e-12, 1e3, "kg")?)
            }
            Measure::Cylinder { step: v }
            | Measure::Spoon { volume: v }
            | Measure::Dropper { volume: v } => by_volume(v),
        }
    }

    /// So many steps, as an amount.
    pub(crate) fn amount(self, steps: f64) -> Amount {
        match self {
            Measure::Balance { step } => Amount::Mass(step * steps),
            Measure::Cylinder { step: v }
            | Measure::Spoon { volume: v }
            | Measure::Dropper { volume: v } => Amount::Volume(v * steps),
        }
    }
}

/// The tools at hand: one for solids, one for liquids, and exceptions by the
/// name of the lot.
///
/// ```
/// use ferrogall::quantity::{grams, milliliters};
/// use ferrogall::recipe::{Kit, Measure};
/// let kit = Kit::new(grams(0.1), milliliters(1.0))
///     .with("clove oil", Measure::Dropper { volume: milliliters(0.05) });
/// # let _ = kit;
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Kit {
    solids: Measure,
    pub(super) liquids: Measure,
    exceptions: Vec<(String, Measure)>,
    balance_u: f64,
    volume_u: f64,
}

impl Kit {
    /// A balance and a cylinder.
    pub fn new(balance_step: Mass, cylinder_step: Volume) -> Kit {
        Kit {
            solids: Measure::Balance { step: balance_step },
            liquids: Measure::Cylinder {
                step: cylinder_step,
            },
            exceptions: Vec::new(),
            balance_u: 0.0,
            volume_u: 0.0,
        }
    }

    /// How true the tools are, beside what their steps allow: relative
    /// standard uncertainties (0 to 0.5) of the balance's weight and of the
    /// marks, each shared by everything that is weighed or measured. Exact
    /// when nothing is said; rounding does not look at it.
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    ///
    /// ```
    /// use ferrogall::quantity::{grams, milliliters};
    /// use ferrogall::recipe::Kit;
    /// // A kitchen balance that may be off by 1 %, a jug by 3 %.
    /// let kit = Kit::new(grams(1.0), milliliters(10.0)).true_to(0.01, 0.03)?;
    /// # let _ = kit;
    /// # Ok::<(), ferrogall::quantity::OutOfRange>(())
    /// ```
    pub fn true_to(
        mut self,
        balance_u: f64,
        volume_u: f64,
    ) -> Result<Kit, crate::quantity::OutOfRange> {
        self.balance_u = within("uncertainty of the balance", balance_u, 0.0, 0.5, "")?;
        self.volume_u = within("uncertainty of the marks", volume_u, 0.0, 0.5, "")?;
        Ok(self)
    }

    /// Relative standard uncertainty shared by all that is weighed.
    pub const fn balance_u(&self) -> f64 {
        self.balance_u
    }

    /// Relative standard uncertainty shared by all that is measured by volume.
    pub const fn volume_u(&self) -> f64 {
        self.volume_u
    }

    /// Another tool for the lot of this name.
    #[must_use]
    pub fn with(mut self, lot: impl Into<String>, measure: Measure) -> Kit {
        self.exceptions.push((lot.into(), measure));
        self
    }

    /// The tool for a lot.
    pub fn tool(&self, lot: &Lot) -> Measure {
        let exception = self.exceptions.iter().find(|(name, _)| name == lot.name());
        match exception {
            Some((_, measure)) => *measure,
            None if lot.is_liquid() => self.liquids,
            None => self.solids,
        }
    }

    /// Step of the tool for solids, if it is a balance.
    pub(crate) fn balance_step(&self) -> Option<Mass> {
        match self.solids {
            Measure::Balance { step } => Some(step),
            _ => None,
        }
    }

    /// Volume between two marks of the tool for liquids, if it has marks.
    pub(crate) fn liquid_step(&self) -> Option<Volume> {
        match self.liquids {
            Measure::Cylinder { step } => Some(step),
            _ => None,
        }
    }

    /// Steps of its tool in a mass of a lot.
    pub(crate) fn steps(&self, lot: &Lot, mass: Mass) -> Result<f64, RecipeError> {
        Ok(mass.value / self.tool(lot).step_kg(lot)?)
    }
}

/// What rounding one line does to the ink, all else left exact.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{Kit, Recipe, Solution};
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("iron water")
///     .with(Solution::new("iron").add(&vitriol, grams(0.449)))
///     .make_up(&water, milliliters(30.0));
/// let rounding = recipe.rounded(&Kit::new(grams(0.1), milliliters(1.0)))?;
/// assert_eq!(rounding.lines[0].steps, 4.0);
/// assert!((rounding.lines[0].iron_error + 0.109).abs() < 0.001); // 11 % too little
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct RoundedLine {
    /// Name of the lot.
    pub lot: String,
    /// The mass asked for.
    pub exact: Mass,
    /// The mass that is taken.
    pub rounded: Mass,
    /// Steps of the tool that is.
    pub steps: f64,
    /// The tool.
    pub measure: Measure,
    /// Relative change of the ink's iron(II) concentration.
    pub iron_error: f64,
    /// Relative change of iron per galloyl; 0 without tannin.
    pub ratio_error: f64,
    /// Change of the strong acid concentration.
    pub acid_error: MolarConcentration,
}

/// A recipe rounded to the tools at hand.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{Kit, Recipe, Solution};
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("iron water")
///     .with(Solution::new("iron").add(&vitriol, grams(15.0)))
///     .make_up(&water, liters(1.0));
/// let rounding = recipe.rounded(&Kit::new(grams(0.1), milliliters(1.0)))?;
/// assert!(rounding.iron_error.abs() < 1e-12); // 15.0 g is on the scale
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Rounding {
    /// The recipe with rounded amounts.
    pub recipe: Recipe,
    /// What each rounding does by itself.
    pub lines: Vec<RoundedLine>,
    /// What all of them do together to the iron(II) concentration, relative.
    pub iron_error: f64,
    /// To iron per galloyl, relative.
    pub ratio_error: f64,
    /// To the strong acid concentration.
    pub acid_error: MolarConcentration,
}

/// The figures that rounding may spoil.
#[derive(Clone, Copy)]
struct Figures {
    iron: f64,
    ratio: Option<f64>,
    acid: MolarConcentration,
}

impl Figures {
    fn of(e: &Evaluation) -> Figures {
        let c = &e.composition;
        Figures {
            iron: c.concentration(c.iron_ii()).value,
            ratio: c.ratios().iron_per_galloyl,
            acid: c.concentration(c.strong_acid()),
        }
    }

    fn iron_error(&self, exact: &Figures) -> f64 {
        relative_change(self.iron, exact.iron)
    }

    fn ratio_error(&self, exact: &Figures) -> f64 {
        match (self.ratio, exact.ratio) {
            (Some(a), Some(b)) => relative_change(a, b),
            // Rounding away all the tannin leaves nothing of the ratio.
            (None, Some(_)) => -1.0,
            _ => 0.0,
        }
    }
}

fn relative_change(new: f64, old: f64) -> f64 {
    let change = (new - old) / old;
    if change.is_finite() { change } else { 0.0 }
}

impl Recipe {
    /// Every weighed or measured amount rounded to a whole number of steps of
    /// its tool, halves up; water rounds down. Make-ups are left as they are: a bottle has a mark.
    ///
    /// # Errors
    /// What [`Recipe::evaluate`] says; [`RecipeError::Lot`] for a spoonful of
    /// a lot without bulk density; [`RecipeError::OutOfRange`] for a step of zero.
    pub fn rounded(&self, kit: &Kit) -> Result<Rounding, RecipeError> {
        let exact = Figures::of(&self.evaluate()?);
        let mut all = self.clone();
        let mut lines = Vec::new();
        let count = all.amounts_mut().count();
        for index in 0..count {
            let mut one = self.clone();
            let part = self.part;
            let Some((lot, amount)) = one.amounts_mut().nth(index) else {
                continue;
            };
            let measure = kit.tool(lot);
            let kg = super::resolve(lot, *amount, part)?;
            let step = measure.step_kg(lot)?;
            // Water rounds down: what is wanting comes with the filling up, and
            // a full jug cannot be filled further.
            let steps = match lot.material() {
                Some(Material::Water(_)) => (kg / step + 1e-9).floor(),
                _ => (kg / step).round(),
            };
            let rounded = measure.amount(steps);
            let name = lot.name().to_string();
            let taken = kilograms(super::resolve(lot, rounded, part)?);
            *amount = rounded;
            if let Some((_, amount)) = all.amounts_mut().nth(index) {
                *amount = rounded;
            }
            let alone = Figures::of(&one.evaluate()?);
            lines.push(RoundedLine {
                lot: name,
                exact: kilograms(kg),
                rounded: taken,
                steps,
                measure,
                iron_error: alone.iron_error(&exact),
                ratio_error: alone.ratio_error(&exact),
                acid_error: alone.acid - exact.acid,
            });
        }
        let together = Figures::of(&all.evaluate()?);
        Ok(Rounding {
            iron_error: together.iron_error(&exact),
            ratio_error: together.ratio_error(&exact),
            acid_error: together.acid - exact.acid,
            recipe: all,
            lines,
        })
    }
}
