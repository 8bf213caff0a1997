//! The best ink a shelf can give.

use super::blend::{Blend, Figure, Taken};
use super::posed::{Acidity, Point, Question, Steps, used_up};
use super::pots::{self, Portioned, Pot};
use super::program::ProgramError;
use super::rows::Rows;
use super::{FormulateError, Goal, Shelf, Wanted, acidity, sure};
use crate::composition::{Composition, Criterion};
use crate::quantity::{ReadVolume, Volume, kilograms};
use crate::recipe::Amount;
use crate::uncertainty::normal_below;

/// What is to be best.
///
/// ```
/// use ferrogall::composition::criteria;
/// use ferrogall::formulate::Objective;
/// assert_eq!(Objective::LeastCost.id(), "least_cost");
/// assert_eq!(Objective::Surest(criteria()[0]).id(), "surest");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Objective {
    /// Least money; lots without a price count as free.
    LeastCost,
    /// Nearest to what is wanted: the least sum of relative misses. With
    /// tools this is the best rounding.
    Closest,
    /// Fewest lots to weigh, then least money.
    FewestWeighings,
    /// Least thrown away: marc with what it holds, and what is left in packs
    /// that were bought; then least money.
    LeastWaste,
    /// Most assurance that iron stays within a criterion.
    Surest(Criterion),
}

impl Objective {
    /// Identifier for JSON and C.
    pub const fn id(&self) -> &'static str {
        match self {
            Objective::LeastCost => "least_cost",
            Objective::Closest => "closest",
            Objective::FewestWeighings => "fewest_weighings",
            Objective::LeastWaste => "least_waste",
            Objective::Surest(_) => "surest",
        }
    }
}

/// How near to an end of a window counts as in it, relative.
const NEAR: f64 = 1e-9;
/// The same for pH.
pub(super) const NEAR_PH: f64 = 1e-6;
/// Less than any ink, m³.
const LEAST_VOLUME: f64 = 1e-12;
/// Rounds of a search that corrects itself (acidity, assurance).
const ROUNDS: usize = 60;
/// Rounds after which one that goes to and fro takes ever smaller steps.
const FREE: usize = 8;
/// Steps so small, as a share of all that is in it, that it stands still.
const STILL: f64 = 1e-6;
/// How often amounts in whole steps are sought again for the sake of the pH.
const ROUNDINGS: usize = 4;

/// One question put to one shelf.
pub(super) struct Search<'a> {
    pub rows: Rows<'a>,
    pub wanted: &'a Wanted,
    pub objective: Objective,
    pub volume: Option<f64>,
    ph: Option<acidity::Meter>,
}

impl Shelf {
    /// The best ink of this kind the shelf can give; where not everything that
    /// is wanted can be had, the nearest: the one with the least sum of
    /// relative misses. [`Blend::meets_all`] tells which it is.
    ///
    /// With tools ([`Shelf::measured_with`]) amounts are whole steps. A figure
    /// that is wanted exactly is then hardly ever met to the last digit; the
    /// nearest is given, and says by how much it misses.
    ///
    /// An ink is at least half water here, 500 g/L.
    ///
    /// The amounts are those of a linear programme; a pH makes it a sequence
    /// of them, each with the hydrogen ions linear about the last. Where several
    /// acids can bring it, that is the best of all near by, not surely of all
    /// there are. The recipe is worked out again at the end and every figure
    /// read from it.
    ///
    /// # Errors
    /// [`FormulateError::NameTaken`] for two lots of one name,
    /// [`FormulateError::Program`] where the search comes to nothing, and what
    /// a lot or the recipe refuses.
    pub fn make(&self, wanted: &Wanted, objective: Objective) -> Result<Blend, FormulateError> {
        let volume = Some(wanted.volume().value);
        let mut search = Search::of(self, wanted, objective, volume)?;
        let point = search.best()?;
        search.blend(&point)
    }
}

impl<'a> Search<'a> {
    pub fn of(
        shelf: &'a Shelf,
        wanted: &'a Wanted,
        objective: Objective,
        volume: Option<f64>,
    ) -> Result<Search<'a>, FormulateError> {
        let ph = match wanted.in_si(Goal::Ph) {
            Some(window) => Some(acidity::Meter::new(window)?),
            None => None,
        };
        Ok(Search {
            rows: Rows::of(shelf)?,
            wanted,
            objective,
            volume,
            ph,
        })
    }

    /// The best point, or the nearest where nothing keeps every window.
    fn best(&mut self) -> Result<Point, FormulateError> {
        let whole = self.rows.shelf.kit.is_some();
        let strict = self.objective != Objective::Closest && !(whole && self.wants_exactly());
        let find = if whole {
            Self::whole
        } else {
            Self::of_any_size
        };
        match find(self, strict) {
            Err(FormulateError::Program(
                ProgramError::Infeasible | ProgramError::NotSolved { .. },
            )) if strict => find(self, false),
            other => other,
        }
    }

    /// Whether a figure is wanted exactly, which whole steps hardly ever hit.
    fn wants_exactly(&self) -> bool {
        let windows = Goal::ALL.iter().filter_map(|g| self.wanted.in_si(*g));
        windows
            .into_iter()
            .any(|(low, high)| low == high && low != 0.0)
    }

    fn of_any_size(&mut self, strict: bool) -> Result<Point, FormulateError> {
        self.settle(Steps::Any, !strict, None)
    }

    /// Whole steps. The pH is made linear where amounts of any size would
    /// bring it, and the surest ink is sought near them first.
    fn whole(&mut self, strict: bool) -> Result<Point, FormulateError> {
        let surest = matches!(self.objective, Objective::Surest(_));
        let too_many = |e: &FormulateError| {
            matches!(e, FormulateError::Program(ProgramError::NotSolved { .. }))
        };
        if self.ph.is_none() && !surest {
            match self.settle(Steps::Whole, !strict, None) {
                // Too many ways to round: look near the amounts of any size.
                Err(e) if too_many(&e) => {}
                other => return other,
            }
        }
        let near = self.of_any_size(strict)?;
        let acidity = match &mut self.ph {
            Some(meter) => Some(meter.about(&self.rows, &near)?),
            None => None,
        };
        if surest && strict {
            let all = [Steps::WholeNear(&near.kg), Steps::Whole];
            for steps in all {
                if let Ok(point) = self.settle(steps, false, acidity.as_ref()) {
                    return self.rounded_again(point, steps, false);
                }
            }
        }
        if acidity.is_some() && !surest {
            match self.settle(Steps::Whole, !strict, acidity.as_ref()) {
                Err(e) if too_many(&e) => {}
                other => return self.rounded_again(other?, Steps::Whole, !strict),
            }
        }
        let steps = Steps::WholeNear(&near.kg);
        let point = self.settle(steps, true, acidity.as_ref())?;
        self.rounded_again(point, steps, true)
    }

    /// Where the pH of whole steps is not what the line about other amounts
    /// said, the line about them may do better.
    fn rounded_again(
        &mut self,
        first: Point,
        steps: Steps,
        elastic: bool,
    ) -> Result<Point, FormulateError> {
        let mut point = first.clone();
        for round in 0..=ROUNDINGS {
            let Some(meter) = &mut self.ph else { break };
            let missed = meter.missed(&self.rows.ink(&point.kg, point.volume))?;
            if missed == 0.0 {
                return Ok(point);
            }
            if missed.is_infinite() || round == ROUNDINGS {
                break;
            }
            let line = meter.about(&self.rows, &point)?;
            match self.settle(steps, elastic, Some(&line)) {
                Ok(next) if next != point => point = next,
                _ => break,
            }
        }
        Ok(first)
    }

    /// Solves, and solves again with what the answer shows to be out of
    /// straight, until nothing changes.
    pub fn settle(
        &mut self,
        steps: Steps,
        elastic: bool,
        fixed: Option<&Acidity>,
    ) -> Result<Point, FormulateError> {
        let mut acidity: Option<Acidity> = fixed.cloned();
        let mut slopes: Vec<Vec<f64>> = Vec::new();
        // Where the hydrogen ions were last made linear.
        let mut about: Option<Point> = None;
        // Ties and later wishes matter only once it has come to rest.
        let corrected = fixed.is_none() && self.ph.is_some() || self.wanted.sure.is_some();
        let mut rough = corrected;
        // The nearest to the pH so far, where windows may be missed.
        let mut nearest: Option<(f64, Point)> = None;
        // The last that had everything, and how far the next may go.
        let mut kept: Option<Point> = None;
        let mut reach: Option<f64> = None;
        for round in 0..ROUNDS {
            rough = rough && round < FREE;
            let steps = match (&about, reach, steps) {
                (Some(about), Some(far), Steps::Any) => Steps::Within(&about.kg, far),
                _ => steps,
            };
            let question = Question {
                rows: &self.rows,
                wanted: self.wanted,
                volume: self.volume,
                steps,
                elastic,
                acidity: acidity.as_ref(),
                slopes: &slopes,
            };
            let point = match self.objective {
                Objective::Surest(criterion) if !elastic => {
                    sure::surest(&question, &criterion).map_err(FormulateError::from)
                }
                _ => self.once(&question, rough),
            };
            let point = match point {
                Ok(point) => point,
                // So near to the last that rounding is in the way.
                Err(FormulateError::Program(_)) if reach.is_some() => break,
                Err(e) => return Err(e),
            };
            // Nothing at all keeps every proportion, and has no pH.
            if point.volume < LEAST_VOLUME {
                return Err(ProgramError::Infeasible.into());
            }
            let mut settled = true;
            if let Some((criterion, assurance)) = self.wanted.sure {
                let slope =
                    sure::slope_if_short(&self.rows, &criterion, assurance, &slopes, &point);
                settled &= slope.is_none();
                slopes.extend(slope);
            }
            if let (None, Some(meter)) = (fixed, &mut self.ph) {
                let missed = meter.missed(&self.rows.ink(&point.kg, point.volume))?.abs();
                let met = missed == 0.0;
                if nearest.as_ref().is_none_or(|(least, _)| missed <= *least) {
                    nearest = Some((missed, point.clone()));
                }
                if met && settled && !rough {
                    kept = Some(point.clone());
                }
                let stays = about.as_ref().is_some_and(|a| same(a, &point));
                let never_out = met && about.is_none();
                if !(stays || never_out) {
                    settled = false;
                    let next = meter.nearer(&self.rows, about.as_ref(), &point)?;
                    if let (Some(last), true) = (&about, round >= FREE && self.volume.is_some()) {
                        let far = 0.5 * reach.unwrap_or_else(|| 2.0 * apart(last, &point));
                        if far < STILL * point.kg.iter().sum::<f64>() {
                            break;
                        }
                        reach = Some(far);
                    }
                    acidity = Some(meter.about(&self.rows, &next)?);
                    about = Some(next);
                }
            }
            if settled && !rough {
                return Ok(point);
            }
            rough = rough && !settled;
        }
        match (kept, nearest) {
            (Some(point), _) => Ok(point),
            (None, Some((_, point))) if elastic => Ok(point),
            _ => Err(ProgramError::NotSolved {
                reason: "corrections did not come to rest".into(),
            }
            .into()),
        }
    }

    /// One programme, its sums in turn.
    fn once(&self, question: &Question, rough: bool) -> Result<Point, FormulateError> {
        let mut posed = question.pose()?;
        if question.elastic {
            let missed = posed.missed();
            posed.program.then_minimise(&missed)?;
        }
        if question.volume.is_none() {
            let most = posed.volume_term();
            posed.program.then_minimise(&most)?;
        }
        match self.objective {
            Objective::FewestWeighings => {
                let count = posed.count()?;
                posed.program.then_minimise(&count)?;
            }
            Objective::LeastWaste => {
                let waste = posed.waste(&self.rows);
                posed.program.then_minimise(&waste)?;
            }
            Objective::Surest(criterion) => {
                if let (Steps::WholeNear(kg), Some(volume)) = (question.steps, question.volume) {
                    let sure = sure::towards(&self.rows, &criterion, kg, volume);
                    let (terms, _) = posed.terms(&sure);
                    posed.program.then_minimise(&terms)?;
                }
            }
            Objective::LeastCost | Objective::Closest => {}
        }
        if self.objective != Objective::Closest {
            let cost = posed.cost(&self.rows);
            posed.program.then_minimise(&cost)?;
        }
        let optimum = if rough {
            posed.program.minimise_first()?
        } else {
            posed.program.minimise()?
        };
        Ok(posed.read(&optimum))
    }

    /// The recipe of a point, worked out, and its figures.
    pub fn blend(&mut self, point: &Point) -> Result<Blend, FormulateError> {
        let shelf = self.rows.shelf;
        let volume = Volume::new::<uom::si::volume::cubic_meter>(point.volume);
        let whole = self.rows.shelf.kit.is_some();
        // A trace of rounding is no ingredient.
        let trace = 1e-12 * point.kg.iter().sum::<f64>();
        let kept = self
            .rows
            .columns
            .iter()
            .enumerate()
            .filter_map(|(j, column)| {
                let kg = *point.kg.get(j)?;
                (kg > trace).then_some((j, column, kg))
            });
        let mut taken = Vec::new();
        let mut lots = Vec::new();
        let mut waste = 0.0;
        let (mut cost, mut priced) = (0.0, false);
        let mut filled = 0.0;
        for (j, column, kg) in kept {
            let lot = column.lot();
            let steps = point.steps.get(j).copied().unwrap_or(0.0);
            let mass = kilograms(kg);
            let volume = lot.density().filter(|_| lot.is_liquid()).map(|d| mass / d);
            let (amount, steps) = match column.tool {
                Some((tool, _)) if whole => (tool.amount(steps), Some(steps)),
                _ => (volume.map_or(Amount::Mass(mass), Amount::Volume), None),
            };
            let pack = column.stock.pack.unwrap_or(0.0);
            let on_hand = column.stock.limit().map(|m| m.value);
            // What is on hand goes first; packs are what the rest takes.
            let bought = match pack > 0.0 {
                true => (kg - on_hand.unwrap_or(0.0)).max(0.0),
                false => 0.0,
            };
            let packs = match pack > 0.0 {
                true => libm::ceil(bought / pack - 1e-9).max(0.0),
                false => 0.0,
            };
            let own_cost = lot.price().map(|_| {
                let price = column.price_per_kg();
                price * (kg - bought) + price * pack * packs
            });
            priced |= own_cost.is_some();
            cost += own_cost.unwrap_or(0.0);
            waste += column.waste * kg + pack * packs - bought;
            filled += kg * column.brings.volume().value;
            taken.push(Taken {
                lot: lot.name().to_string(),
                mass: kilograms(kg),
                volume: lot
                    .density()
                    .filter(|_| lot.is_liquid())
                    .map(|d| kilograms(kg) / d),
                steps,
                left: on_hand.map(|m| kilograms((m + pack * packs - kg).max(0.0))),
                packs,
                cost: own_cost,
            });
            lots.push(Portioned {
                lot,
                amount,
                mass,
                pot: Pot::of(lot),
            });
        }
        let per_kg = shelf.water.contents(kilograms(1.0)).volume().value;
        let rest = kilograms((point.volume - filled).max(0.0) / per_kg);
        let title = format!("{} mL of ink", super::blend::short(volume.in_milliliters()));
        let recipe = pots::recipe(title, lots, &shelf.soak, &shelf.water, rest, volume)?;
        let ink = recipe.evaluate()?.composition;
        let figures = self.figures(&ink, point, cost)?;
        Ok(Blend {
            recipe,
            volume,
            weighings: taken.len(),
            taken,
            cost: priced.then_some(cost),
            waste: kilograms(waste.max(0.0)),
            figures,
            used_up: used_up(&self.rows, point)
                .iter()
                .map(|lot| lot.name().to_string())
                .collect(),
        })
    }

    /// What was wanted against what the recipe holds.
    fn figures(
        &mut self,
        ink: &Composition,
        point: &Point,
        cost: f64,
    ) -> Result<Vec<Figure>, FormulateError> {
        let mut figures = Vec::new();
        for goal in Goal::ALL {
            let Some((low, high)) = self.wanted.in_si(goal) else {
                continue;
            };
            let si = goal.per_si();
            let (reached, miss) = if goal == Goal::Ph {
                let Some(meter) = &mut self.ph else { continue };
                (Some(meter.ph(ink)?), meter.missed(ink)?)
            } else {
                let reached = goal.above_line(ink) / goal.below_line(ink);
                let reached = Some(reached).filter(|r| r.is_finite());
                let miss = reached.map_or(1.0, |r| miss_of(r, low, high, goal.little()));
                (reached, miss)
            };
            figures.push(Figure {
                id: goal.id(),
                name: goal.name(),
                low: low * si,
                high: high * si,
                reached: reached.map(|r| r * si),
                unit: goal.unit(),
                miss,
            });
        }
        if let Some(most) = self.wanted.cost {
            figures.push(Figure {
                id: "cost",
                name: "cost",
                low: f64::NEG_INFINITY,
                high: most,
                reached: Some(cost),
                unit: "",
                miss: miss_of(cost, f64::NEG_INFINITY, most, 1.0),
            });
        }
        if let Some((criterion, assurance)) = self.wanted.sure {
            let reached = normal_below(sure::index(&self.rows, &criterion, point));
            let low = assurance;
            figures.push(Figure {
                id: "assurance",
                name: "assurance against excess iron",
                low,
                high: f64::INFINITY,
                reached: Some(reached),
                unit: "",
                miss: miss_of(reached, low * (1.0 - 1e-6), f64::INFINITY, 1.0),
            });
        }
        Ok(figures)
    }
}

/// How far a figure lies outside its window, as a share of the end; `little`
/// stands in for an end that is nothing.
fn miss_of(reached: f64, low: f64, high: f64, little: f64) -> f64 {
    let whole = |end: f64| if end == 0.0 { little } else { end.abs() };
    let under = (reached - low) / whole(low);
    let over = (reached - high) / whole(high);
    if low.is_finite() && under < -NEAR {
        under
    } else if high.is_finite() && over > NEAR {
        over
    } else {
        0.0
    }
}

fn same(a: &Point, b: &Point) -> bool {
    let size: f64 = a.kg.iter().sum();
    apart(a, b) <= 1e-10 * size && (a.volume - b.volume).abs() <= 1e-10 * a.volume
}

/// What two points differ by in the lot they differ most in, kg.
fn apart(a: &Point, b: &Point) -> f64 {
    let pairs = a.kg.iter().zip(&b.kg);
    pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}
