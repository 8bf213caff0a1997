//! One lot in place of another.

use super::FormulateError;
use super::choice::WATER_PER_PLANT;
use crate::bench::Lot;
use crate::composition::{Bulk, Component, Composition};
use crate::quantity::{AmountOfSubstance, Estimate, Mass, checked_mass, kilograms};
use crate::recipe::{
    DEFAULT_HOLD_UP, Extraction, Ingredient, Recipe, RecipeError, Solution, default_yield,
    must_go_in_whole, resolve,
};

/// What a substitution keeps equal.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Equal, Swap};
/// use ferrogall::quantity::grams;
/// let (galls, water) = (Lot::of("aleppo_galls")?.build()?, Lot::of("distilled_water")?.build()?);
/// assert!(Swap::new(&galls, &water, Equal::Galloyl).of(grams(1.0)).is_err()); // no galloyl in water
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(rename_all = "snake_case")
)]
pub enum Equal {
    /// The iron(II).
    #[cfg_attr(feature = "serde", serde(rename = "iron_ii"))]
    IronII,
    /// The galloyl units, free gallic acid included.
    Galloyl,
}

impl Equal {
    fn held_by(self, c: &Composition) -> f64 {
        match self {
            Equal::IronII => c.iron_ii().value,
            Equal::Galloyl => c.galloyl().value,
        }
    }

    pub(crate) fn name(self) -> &'static str {
        match self {
            Equal::IronII => "iron(II)",
            Equal::Galloyl => "galloyl",
        }
    }
}

/// One lot for another at equal iron(II) or equal galloyl.
///
/// Plant matter counts with what an extraction gets out of it.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Equal, Swap};
/// use ferrogall::quantity::*;
///
/// // Dried salt for crystals: the weight falls by 39 %; weighed alike it
/// // would have brought 64 % too much iron.
/// let crystals = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let dried = Lot::of("iron_ii_sulfate_monohydrate")?.build()?;
/// let swap = Swap::new(&crystals, &dried, Equal::IronII).of(grams(15.0))?;
/// assert!((swap.mass.in_grams() - 9.168).abs() < 0.001);
/// assert!((1.0 / swap.factor - 1.636).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swap<'a> {
    from: &'a Lot,
    to: &'a Lot,
    equal: Equal,
    from_yield: Estimate,
    to_yield: Estimate,
}

/// The mass to take instead, and what else changes.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::formulate::{Equal, Swap};
/// # use ferrogall::quantity::*;
/// let sulfate = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let acetate = Lot::of("iron_ii_acetate_tetrahydrate")?.build()?;
/// let swap = Swap::new(&sulfate, &acetate, Equal::IronII).of(grams(15.0))?;
/// assert!(swap.effects.sulfate.value < 0.0); // less sulfate in the ink
/// assert!(swap.effects.strong_acid.value < 0.0); // acetate buffers acid away
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Substitution {
    /// Mass of the other lot.
    pub mass: Mass,
    /// Mass of the other lot per mass of the first.
    pub factor: f64,
    /// Relative standard uncertainty of the factor from both lots' strengths.
    pub factor_u: f64,
    /// What the ink gets more (or, negative, less) of.
    pub effects: SwapEffects,
    /// Change of cost, where both lots have a price.
    pub cost: Option<f64>,
}

/// What else a substitution changes in the ink: new less old.
///
/// ```
/// assert_eq!(ferrogall::formulate::SwapEffects::default().chloride.value, 0.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[non_exhaustive]
pub struct SwapEffects {
    /// Strong acid (negative: the new lot eats acid).
    pub strong_acid: AmountOfSubstance,
    /// Acid that evaporates.
    pub volatile_acid: AmountOfSubstance,
    /// Acid that stays in the paper.
    pub fixed_acid: AmountOfSubstance,
    /// Iron(III), which blackens the ink in the bottle.
    pub iron_iii: AmountOfSubstance,
    /// Iron(II).
    pub iron_ii: AmountOfSubstance,
    /// Free gallic acid.
    pub gallic_acid: AmountOfSubstance,
    /// Galloyl units, free gallic acid included.
    pub galloyl: AmountOfSubstance,
    /// Sulfate.
    pub sulfate: AmountOfSubstance,
    /// Chloride, which is hard on steel nibs.
    pub chloride: AmountOfSubstance,
    /// Acetate.
    pub acetate: AmountOfSubstance,
    /// Dry residue.
    pub dry_residue: Mass,
    components: [f64; Component::ALL.len()],
}

impl SwapEffects {
    /// New less old.
    pub fn between(old: &Composition, new: &Composition) -> SwapEffects {
        let change = |c: Component| new.amount(c) - old.amount(c);
        SwapEffects {
            strong_acid: new.strong_acid() - old.strong_acid(),
            volatile_acid: new.volatile_acid() - old.volatile_acid(),
            fixed_acid: new.fixed_acid() - old.fixed_acid(),
            iron_iii: change(Component::IronIII),
            iron_ii: change(Component::IronII),
            gallic_acid: change(Component::GallicAcid),
            galloyl: new.galloyl() - old.galloyl(),
            sulfate: change(Component::Sulfate),
            chloride: change(Component::Chloride),
            acetate: change(Component::Acetate),
            dry_residue: new.dry_residue() - old.dry_residue(),
            components: core::array::from_fn(|i| new.amounts[i] - old.amounts[i]),
        }
    }

    /// Any component, by name.
    pub fn component(&self, component: Component) -> AmountOfSubstance {
        crate::quantity::moles(self.components[component as usize])
    }
}

impl<'a> Swap<'a> {
    /// One lot for another. Of a plant counts what a soak in ten times its
    /// weight gives, drained by gravity, at the default yield.
    pub fn new(from: &'a Lot, to: &'a Lot, equal: Equal) -> Swap<'a> {
        Swap {
            from,
            to,
            equal,
            from_yield: usual_share(from),
            to_yield: usual_share(to),
        }
    }

    /// Shares of the lots' tannin that reach the ink, yield times what drains,
    /// with their standard uncertainties.
    #[must_use]
    pub fn yielding(mut self, from: Estimate, to: Estimate) -> Self {
        self.from_yield = from;
        self.to_yield = to;
        self
    }

    /// What to take instead of this mass.
    ///
    /// # Errors
    /// [`FormulateError::NothingToMatch`] when either lot holds none of what
    /// is to be equal; [`FormulateError::OutOfRange`].
    pub fn of(&self, mass: Mass) -> Result<Substitution, FormulateError> {
        let kg = checked_mass("mass", mass)?;
        let old = in_ink(self.from, self.from_yield.value());
        let new = in_ink(self.to, self.to_yield.value());
        let per_kg = |lot: &Lot, c: &Composition| {
            let held = self.equal.held_by(c);
            if held > 1e-12 {
                Ok(held)
            } else {
                Err(FormulateError::NothingToMatch {
                    lot: lot.name().to_string(),
                    what: self.equal.name(),
                })
            }
        };
        let factor = per_kg(self.from, &old)? / per_kg(self.to, &new)?;
        let other = kilograms(checked_mass(
            "mass of the substitute",
            kilograms(kg * factor),
        )?);
        let u = |lot: &Lot, share: Estimate| match self.equal {
            Equal::IronII => lot.strength_u().iron,
            Equal::Galloyl => {
                let (lot, share) = (lot.strength_u().galloyl, share.relative_u());
                libm::sqrt(lot * lot + share * share)
            }
        };
        let u_from = u(self.from, self.from_yield);
        let u_to = u(self.to, self.to_yield);
        let cost = match (self.from.price(), self.to.price()) {
            (Some(a), Some(b)) => Some(b.of_checked(other) - a.of_checked(mass)),
            _ => None,
        };
        Ok(Substitution {
            mass: other,
            factor,
            factor_u: libm::sqrt(u_from * u_from + u_to * u_to),
            effects: SwapEffects::between(&old.times(kg), &new.times(other.value)),
            cost,
        })
    }
}

/// Share of a lot's tannin that reaches the ink when nothing is said.
fn usual_share(lot: &Lot) -> Estimate {
    if !lot.is_plant() {
        return Estimate::ONE;
    }
    let whole = lot.contents(kilograms(1.0));
    let moisture = whole.mass_of(Bulk::Water).value;
    let held = DEFAULT_HOLD_UP.0.typical * (1.0 - moisture) / (WATER_PER_PLANT + moisture);
    let drained = 1.0 - held.clamp(0.0, 1.0);
    let y = default_yield(lot);
    Estimate::new(y.value() * drained, y.u() * drained).unwrap_or(Estimate::ZERO)
}

/// What a kilogram of a lot puts into the ink.
fn in_ink(lot: &Lot, share: f64) -> Composition {
    let whole = lot.contents(kilograms(1.0));
    if !lot.is_plant() {
        return whole;
    }
    let mut out = Composition::EMPTY;
    out.amounts[Component::Galloyl as usize] = whole.amounts[Component::Galloyl as usize] * share;
    out.amounts[Component::GallicAcid as usize] =
        whole.amounts[Component::GallicAcid as usize] * share;
    out.dry_residue = whole.dry_residue * share;
    out
}

impl Recipe {
    /// The same recipe with one lot replaced by another at equal iron(II) or
    /// galloyl.
    ///
    /// A plant replaced by a powder leaves its soak water in the pot, less
    /// what the marc would have drunk; a plant replaced by a plant soaks in
    /// as much more or less; a powder replaced by a plant is not
    /// done here, because somebody has to say how it is soaked.
    ///
    /// # Errors
    /// [`RecipeError::NoSuchLot`], [`RecipeError::NeedsExtraction`],
    /// [`FormulateError::NothingToMatch`], and what [`Swap::of`] says.
    pub fn with_substitute(
        &self,
        name: &str,
        to: &Lot,
        equal: Equal,
    ) -> Result<Recipe, FormulateError> {
        let mut found = false;
        let mut out = Recipe::new(self.title());
        out.part = self.part;
        out.make_up = self.make_up.clone();
        for solution in self.solutions() {
            let mut other = Solution::new(solution.name());
            other.make_up = solution.make_up.clone();
            other.used = solution.used;
            for ingredient in solution.ingredients() {
                other = match ingredient {
                    Ingredient::Lot { lot, amount } if lot.name() == name => {
                        found = true;
                        must_go_in_whole(to)?;
                        let mass = kilograms(resolve(lot, *amount, self.part)?);
                        other.add(to, Swap::new(lot, to, equal).of(mass)?.mass)
                    }
                    Ingredient::Extract(e) if e.plant().name() == name => {
                        found = true;
                        self.in_place_of_soak(other, e, to, equal)?
                    }
                    kept => {
                        other.ingredients.push(kept.clone());
                        other
                    }
                };
            }
            out = out.with(other);
        }
        if found {
            Ok(out)
        } else {
            Err(RecipeError::NoSuchLot {
                name: name.chars().take(64).collect(),
            }
            .into())
        }
    }

    /// What the soak put into the ink, less what its liquid held already,
    /// from another lot. Another plant soaks in the same proportion of marc to
    /// liquid, so that as large a share of its liquor drains.
    fn in_place_of_soak(
        &self,
        solution: Solution,
        soak: &Extraction,
        to: &Lot,
        equal: Equal,
    ) -> Result<Solution, FormulateError> {
        let result = soak.run(self.part)?;
        let drained = 1.0 - result.held_back.value();
        let own = soak.liquid().contents(result.liquid);
        let wanted = equal.held_by(&result.liquor) - equal.held_by(&own) * drained;
        let whole = to.contents(kilograms(1.0));
        let per_kg = if to.is_plant() {
            equal.held_by(&whole) * soak.yield_share.value() * drained
        } else {
            equal.held_by(&whole)
        };
        if per_kg <= 1e-12 || wanted <= 0.0 {
            return Err(FormulateError::NothingToMatch {
                lot: to.name().to_string(),
                what: equal.name(),
            });
        }
        let mass = kilograms(checked_mass(
            "mass of the substitute",
            kilograms(wanted / per_kg),
        )?);
        if !to.is_plant() {
            return Ok(solution
                .add(to, mass)
                .add(soak.liquid(), result.liquid * drained));
        }
        let mut other = soak.clone();
        // As much that is wet per dry marc as before, its own moisture included.
        let dry_and_moist = |lot: &Lot, m: Mass| {
            let c = lot.contents(m);
            let moist = c.mass_of(Bulk::Water).value;
            (c.mass().value - moist, moist)
        };
        let wet_share = {
            let c = soak.liquid().contents(kilograms(1.0));
            (c.mass() - c.dry_residue()).value
        };
        let (old_dry, old_moist) = dry_and_moist(soak.plant(), result.plant);
        let (new_dry, new_moist) = dry_and_moist(to, mass);
        let wet = (result.liquid.value * wet_share + old_moist) * new_dry / old_dry;
        let liquid = checked_mass("soak liquid", kilograms((wet - new_moist) / wet_share))?;
        other.replace_plant(to, mass, kilograms(liquid));
        Ok(solution.extract(other))
    }
}
