//! From a recipe to the composition of the ink.

use super::evaluation::{Evaluation, Line, LineKind, SolutionMade};
use super::{Amount, Ingredient, Portion, Recipe, RecipeError, Solution};
use crate::bench::Lot;
use crate::composition::Composition;
use crate::quantity::{Mass, Share, Volume, checked_mass, checked_volume, kilograms, within};

impl Recipe {
    /// Works out what is in the ink.
    ///
    /// Given: the recipe. Returned: totals, the list of weighings, the
    /// solutions and soaks on the way, and first-order uncertainties. Volumes
    /// are those at 20 °C.
    ///
    /// # Errors
    /// Every [`RecipeError`] but `NoSuchLot` and `TooManyColumns`.
    pub fn evaluate(&self) -> Result<Evaluation<'_>, RecipeError> {
        // A pot counts too, so that empty ones are no way around.
        let count = self.solutions.iter().map(|s| 1 + s.ingredients.len()).sum();
        if count > MAX_INGREDIENTS {
            return Err(RecipeError::TooManyIngredients {
                count,
                max: MAX_INGREDIENTS,
            });
        }
        let mut pot = Pot::new();
        for (index, solution) in self.solutions.iter().enumerate() {
            pot.pour(index, solution, self.part)?;
        }
        if let Some((liquid, volume)) = &self.make_up {
            let line = fill_up(&mut pot.ink, &self.title, liquid, *volume)?;
            pot.lines.push(line.of_solution(self.solutions.len()));
        }
        if pot.lines.is_empty() {
            return Err(RecipeError::Empty);
        }
        // Twice the largest mass and volume a single entry may have.
        within("mass of the batch", pot.ink.mass, 0.0, 2e6, "kg")?;
        let [iron_u, galloyl_u, acid_u] = strength_u(&pot.lines);
        Ok(Evaluation {
            composition: pot.ink,
            lines: pot.lines,
            solutions: pot.solutions,
            left_behind: pot.left_behind,
            iron_u,
            galloyl_u,
            acid_u,
        })
    }
}

/// More than any ink has; keeps the pairwise comparison of lots short.
const MAX_INGREDIENTS: usize = 512;

/// What has been poured together so far.
struct Pot<'r> {
    ink: Composition,
    left_behind: Composition,
    lines: Vec<Line<'r>>,
    solutions: Vec<SolutionMade>,
}

impl<'r> Pot<'r> {
    fn new() -> Self {
        Pot {
            ink: Composition::EMPTY,
            left_behind: Composition::EMPTY,
            lines: Vec::new(),
            solutions: Vec::new(),
        }
    }

    fn pour(
        &mut self,
        index: usize,
        solution: &'r Solution,
        part: Option<Mass>,
    ) -> Result<(), RecipeError> {
        let first_line = self.lines.len();
        let mut made = Composition::EMPTY;
        let mut extractions = Vec::new();
        for ingredient in &solution.ingredients {
            match ingredient {
                Ingredient::Lot { lot, amount } => {
                    must_go_in_whole(lot)?;
                    let mass = kilograms(resolve(lot, *amount, part)?);
                    made.add_scaled(&lot.contents(mass), 1.0);
                    self.lines.push(Line::whole(
                        index,
                        lot,
                        LineKind::Ingredient,
                        Some(*amount),
                        mass,
                    ));
                }
                Ingredient::Extract(e) => {
                    let result = e.run(part)?;
                    made.add_scaled(&result.liquor, 1.0);
                    self.left_behind.add_scaled(&result.marc, 1.0);
                    let mut plant = Line::whole(
                        index,
                        &e.plant,
                        LineKind::Plant,
                        Some(e.amount),
                        result.plant,
                    );
                    let drained = 1.0 - result.held_back.value();
                    let liquids_own = e.liquid.contents(result.liquid).galloyl() * drained;
                    plant.galloyl = (result.liquor.galloyl() - liquids_own).value.max(0.0);
                    plant.cautions = &e.cautions;
                    plant.step_u = libm::hypot(result.yield_u, result.drained_u);
                    self.lines.push(plant);
                    let soak = Line::whole(
                        index,
                        &e.liquid,
                        LineKind::Soak,
                        Some(e.liquid_amount),
                        result.liquid,
                    );
                    self.lines.push(soak.reaching(drained));
                    extractions.push(result);
                }
            }
        }
        if let Some((liquid, volume)) = &solution.make_up {
            let line = fill_up(&mut made, &solution.name, liquid, *volume)?;
            self.lines.push(line.of_solution(index));
        }
        let used = portion(&solution.name, &made, solution.used)?;
        for line in &mut self.lines[first_line..] {
            *line = line.reaching(used.value());
        }
        self.ink.add_scaled(&made, used.value());
        self.left_behind.add_scaled(&made, 1.0 - used.value());
        self.solutions.push(SolutionMade {
            name: solution.name.clone(),
            made,
            used,
            extractions,
        });
        Ok(())
    }
}

/// Kilograms of a lot that an amount means.
pub(crate) fn resolve(lot: &Lot, amount: Amount, part: Option<Mass>) -> Result<f64, RecipeError> {
    let of_lot = |error| RecipeError::Amount {
        lot: lot.name().to_string(),
        error,
    };
    let mass = match amount {
        Amount::Mass(m) => m,
        Amount::Volume(v) => {
            checked_volume("volume", v).map_err(of_lot)?;
            lot.mass_of(v)?
        }
        Amount::Parts(parts) => {
            let parts = within("parts", parts, 0.0, 1e6, "").map_err(of_lot)?;
            let part = part.ok_or_else(|| RecipeError::NoPartMass {
                lot: lot.name().to_string(),
            })?;
            part * parts
        }
    };
    checked_mass("mass", mass).map_err(of_lot)
}

/// Lets everything through but plant matter.
pub(crate) fn must_go_in_whole(lot: &Lot) -> Result<(), RecipeError> {
    if lot.is_plant() {
        return Err(RecipeError::NeedsExtraction {
            lot: lot.name().to_string(),
        });
    }
    Ok(())
}

/// Lets a liquid through.
pub(crate) fn must_pour(lot: &Lot) -> Result<(), RecipeError> {
    if lot.is_liquid() {
        Ok(())
    } else {
        Err(RecipeError::NotALiquid {
            lot: lot.name().to_string(),
        })
    }
}

/// Adds a liquid until the volume is reached exactly.
fn fill_up<'r>(
    pot: &mut Composition,
    name: &str,
    liquid: &'r Lot,
    volume: Volume,
) -> Result<Line<'r>, RecipeError> {
    must_pour(liquid)?;
    let want = checked_volume("volume to make up to", volume)?;
    let per_kg = liquid.contents(kilograms(1.0));
    let have_ml = pot.volume * 1e6;
    let kg = top_up(pot, &per_kg, want).ok_or_else(|| RecipeError::TooMuchForVolume {
        solution: name.to_string(),
        have_ml,
        want_ml: want * 1e6,
    })?;
    let mass = kilograms(checked_mass("mass to make up with", kilograms(kg))?);
    Ok(Line::whole(0, liquid, LineKind::MakeUp, None, mass))
}

/// Adds a liquid to a volume: how much of it, or nothing where the pot holds
/// more already.
pub(crate) fn top_up(pot: &mut Composition, per_kg: &Composition, want: f64) -> Option<f64> {
    let missing = want - pot.volume;
    // A rounding error below one part in 10^12 is no shortage.
    if missing < -1e-12 * want || per_kg.volume <= 0.0 {
        return None;
    }
    let kg = (missing / per_kg.volume).max(0.0);
    pot.add_scaled(per_kg, kg);
    pot.volume = want;
    Some(kg)
}

/// The share of a solution that a portion means.
fn portion(name: &str, made: &Composition, portion: Portion) -> Result<Share, RecipeError> {
    let (part, whole) = match portion {
        Portion::All => return Ok(Share::ONE),
        Portion::Share(s) => return Ok(s),
        Portion::Volume(v) => (checked_volume("volume used", v)?, made.volume),
        Portion::Mass(m) => (checked_mass("mass used", m)?, made.mass),
    };
    if part == 0.0 {
        return Ok(Share::ZERO);
    }
    // Rounding may ask for a few ulp more than there is.
    let share = part / whole;
    let share = if share <= 1.0 + 1e-12 {
        share.min(1.0)
    } else {
        share
    };
    Share::new(share).map_err(|_| RecipeError::NotEnoughStock {
        solution: name.to_string(),
        have_ml: made.volume * 1e6,
        want_ml: match portion {
            Portion::Volume(v) => v.value * 1e6,
            _ if made.mass > 0.0 => part / made.mass * made.volume * 1e6,
            _ => 0.0,
        },
    })
}

/// First-order relative uncertainties of iron(II), galloyl and strong acid.
///
/// Different lots are independent; what comes out of one lot, in however many
/// lines, is one variable.
fn strength_u(lines: &[Line]) -> [f64; 3] {
    let mut iron = Sum::default();
    let mut galloyl = Sum::default();
    let mut acid = Sum::default();
    for (i, line) in lines.iter().enumerate() {
        iron.total += line.iron_ii;
        galloyl.total += line.galloyl;
        acid.total += line.acid;
        galloyl.add(line.galloyl * line.step_u);
        if lines[..i]
            .iter()
            .any(|earlier| earlier.lot.is_same_bag(line.lot))
        {
            continue;
        }
        let same = || lines[i..].iter().filter(|l| l.lot.is_same_bag(line.lot));
        let u = line.lot.strength_u();
        iron.add(same().map(|l| l.iron_ii).sum::<f64>() * u.iron);
        galloyl.add(same().map(|l| l.galloyl).sum::<f64>() * u.galloyl);
        acid.add(same().map(|l| l.acid).sum::<f64>() * u.acid);
    }
    [iron.relative(), galloyl.relative(), acid.relative()]
}

#[derive(Default)]
struct Sum {
    total: f64,
    variance: f64,
}

impl Sum {
    fn add(&mut self, u: f64) {
        self.variance += u * u;
    }

    fn relative(&self) -> f64 {
        let u = libm::sqrt(self.variance) / self.total.abs();
        if u.is_finite() { u.min(1e9) } else { 0.0 }
    }
}
