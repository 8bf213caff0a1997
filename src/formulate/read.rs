//! From amounts back to a recipe, and what became of what was wanted.

use super::blend::{Blend, Figure, Taken};
use super::make::Search;
use super::posed::{Point, used_up};
use super::pots::{self, Portioned, Pot};
use super::{FormulateError, Goal, sure};
use crate::composition::Composition;
use crate::quantity::{ReadVolume, Volume, kilograms};
use crate::recipe::Amount;
use crate::uncertainty::normal_below;

/// How near to an end of a window counts as in it, relative.
const NEAR: f64 = 1e-9;

impl Search<'_> {
    /// The recipe of a point, worked out, and its figures.
    pub fn blend(&mut self, point: &Point) -> Result<Blend, FormulateError> {
        let shelf = self.rows.shelf;
        let volume = Volume::new::<uom::si::volume::cubic_meter>(point.volume);
        let whole = self.rows.shelf.kit.is_some();
        let mut taken = Vec::new();
        let mut lots = Vec::new();
        let mut waste = 0.0;
        let (mut cost, mut priced) = (0.0, false);
        let mut filled = 0.0;
        for (j, column, kg) in self.rows.used(point) {
            let lot = column.lot();
            let steps = point.steps.get(j).copied().unwrap_or(0.0);
            let mass = kilograms(kg);
            let volume = lot.density().filter(|_| lot.is_liquid()).map(|d| mass / d);
            let (amount, steps) = match column.tool {
                Some((tool, _)) if whole => (tool.amount(steps), Some(steps)),
                _ => (volume.map_or(Amount::Mass(mass), Amount::Volume), None),
            };
            let on_hand = column.stock.limit().map(|m| m.value);
            let due = column.due(kg);
            let own_cost = lot.price().map(|_| due.cost);
            priced |= own_cost.is_some();
            cost += due.cost;
            waste += due.waste;
            filled += kg * column.brings.volume().value;
            taken.push(Taken {
                lot: lot.name().to_string(),
                mass: kilograms(kg),
                volume: lot
                    .density()
                    .filter(|_| lot.is_liquid())
                    .map(|d| kilograms(kg) / d),
                steps,
                left: on_hand.map(|m| kilograms((m + due.opened - kg).max(0.0))),
                packs: due.packs,
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
            used_up: used_up(&self.rows, point, self.batch)
                .iter()
                .map(|lot| lot.name().to_string())
                .collect(),
        })
    }

    /// What was wanted against what the recipe holds.
    pub fn figures(
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
                let Some(meter) = &mut self.meter else {
                    continue;
                };
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
