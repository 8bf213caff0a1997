//! What each lot on the shelf brings, as linear sums of the amounts.

use super::posed::Point;
use super::wanted::Per;
use super::{FormulateError, Goal, Shelf, Stock};
use crate::bench::{Lot, Material};
use crate::chem::constants::{GALLIC_ACID, GREEN_VITRIOL};
use crate::composition::{Balance, Component, Composition, Criterion};
use crate::composition::{Bulk, TANNIN_IN_TRADE_GALLS};
use crate::quantity::kilograms;
use crate::recipe::{Measure, must_go_in_whole, must_pour};

/// One lot as the search sees it; amounts are kilograms of the lot as it is
/// weighed.
pub(super) struct Column<'a> {
    pub stock: &'a Stock,
    /// What a kilogram brings into the ink: of a plant, its liquor.
    pub brings: Composition,
    /// Kilograms a kilogram leaves behind: the marc and what it holds.
    pub waste: f64,
    /// Relative standard uncertainties of what it brings.
    pub iron_u: f64,
    pub galloyl_u: f64,
    pub tool: Option<(Measure, f64)>,
}

/// What an amount of a lot costs and leaves over.
pub(super) struct Due {
    pub packs: f64,
    /// Kilograms in packs that are bought.
    pub opened: f64,
    pub cost: f64,
    /// Kilograms.
    pub waste: f64,
}

impl Column<'_> {
    pub fn lot(&self) -> &Lot {
        &self.stock.lot
    }

    /// Acid, or base, that brings neither iron nor tannin.
    pub fn is_acid(&self) -> bool {
        let known = matches!(self.lot().material(), Some(Material::Acid(_)));
        let mixed = self.brings.strong_acid().value > 0.0
            && self.brings.iron().value == 0.0
            && self.brings.galloyl().value == 0.0;
        known || mixed
    }

    /// What so many kilograms of it cost and leave over. What is on hand goes
    /// first; packs are what the rest takes.
    pub fn due(&self, kg: f64) -> Due {
        let pack = self.stock.pack.unwrap_or(f64::INFINITY);
        let on_hand = self.stock.limit().map_or(0.0, |m| m.value);
        let (bought, packs) = if pack.is_finite() {
            let bought = (kg - on_hand).max(0.0);
            (bought, libm::ceil(bought / pack - 1e-9).max(0.0))
        } else {
            (0.0, 0.0)
        };
        let opened = if packs > 0.0 { pack * packs } else { 0.0 };
        let price = self.price_per_kg();
        Due {
            packs,
            opened,
            cost: price * (kg - bought) + price * opened,
            waste: self.waste * kg + opened - bought,
        }
    }

    pub fn price_per_kg(&self) -> f64 {
        self.lot()
            .price()
            .map_or(0.0, |p| p.in_money_per_kilogram())
    }
}

/// The shelf as the search sees it, in the order of the lots' names.
pub(super) struct Rows<'a> {
    pub shelf: &'a Shelf,
    pub columns: Vec<Column<'a>>,
    /// What a cubic metre of the water holds.
    water: Composition,
}

/// A sum that is linear in the amounts and in the volume of the ink.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// For each kilogram of a lot, the water it displaces taken off.
    pub per_kg: Vec<f64>,
    /// For each cubic metre of ink.
    pub per_volume: f64,
}

impl Line {
    /// This less `factor` times another; of equals nothing is left, not what
    /// rounding leaves.
    pub fn less(&self, factor: f64, other: &Line) -> Line {
        let less = |a: f64, b: f64| {
            let (b, rounding) = (factor * b, 4.0 * f64::EPSILON);
            let left = a - b;
            if left.abs() <= rounding * a.abs().max(b.abs()) {
                0.0
            } else {
                left
            }
        };
        let both = self.per_kg.iter().zip(&other.per_kg);
        Line {
            per_kg: both.map(|(a, b)| less(*a, *b)).collect(),
            per_volume: less(self.per_volume, other.per_volume),
        }
    }

    /// The volume itself.
    pub fn volume(columns: usize) -> Line {
        Line {
            per_kg: vec![0.0; columns],
            per_volume: 1.0,
        }
    }

    pub fn at(&self, kg: &[f64], volume: f64) -> f64 {
        let sum: f64 = self.per_kg.iter().zip(kg).map(|(a, x)| a * x).sum();
        sum + self.per_volume * volume
    }
}

impl<'a> Rows<'a> {
    pub fn of(shelf: &'a Shelf) -> Result<Rows<'a>, FormulateError> {
        must_pour(&shelf.water)?;
        let mut columns: Vec<Column<'a>> = Vec::with_capacity(shelf.stocks.len());
        for stock in &shelf.stocks {
            columns.push(column(shelf, stock)?);
        }
        columns.sort_by(|a, b| a.lot().name().cmp(b.lot().name()));
        for pair in columns.windows(2) {
            if let [a, b] = pair
                && a.lot().name() == b.lot().name()
            {
                return Err(FormulateError::NameTaken {
                    lot: a.lot().name().to_string(),
                });
            }
        }
        let per_kg = shelf.water.contents(kilograms(1.0));
        Ok(Rows {
            shelf,
            columns,
            water: per_kg.times(1.0 / per_kg.volume().value),
        })
    }

    /// A sum over the composition of the ink, in lots and volume.
    pub fn line(&self, sum: impl Fn(&Composition) -> f64) -> Line {
        let water = sum(&self.water);
        let columns = self.columns.iter();
        Line {
            per_kg: columns
                .map(|c| sum(&c.brings) - c.brings.volume().value * water)
                .collect(),
            per_volume: water,
        }
    }

    /// Above and below the line of a goal.
    pub fn goal(&self, goal: Goal) -> (Line, Line) {
        let below = match goal.per() {
            Per::Volume | Per::Nothing => Line::volume(self.columns.len()),
            Per::Galloyl => self.line(|c| goal.below_line(c)),
        };
        (self.line(|c| goal.above_line(c)), below)
    }

    /// The ink of these amounts, filled up to a volume.
    pub fn ink(&self, kg: &[f64], volume: f64) -> Composition {
        let mut ink = Composition::EMPTY;
        let mut room = volume;
        for (column, x) in self.columns.iter().zip(kg) {
            ink.add_scaled(&column.brings, *x);
            room -= x * column.brings.volume().value;
        }
        ink.add_scaled(&self.water, room.max(0.0));
        ink
    }

    /// The lots that a point takes, with their places and kilograms; a trace of
    /// rounding is no ingredient.
    pub fn used(&self, point: &Point) -> impl Iterator<Item = (usize, &Column<'a>, f64)> {
        let trace = 1e-12 * point.kg.iter().sum::<f64>();
        let columns = self.columns.iter().zip(&point.kg).enumerate();
        let all = columns.map(|(j, (column, kg))| (j, column, *kg));
        all.filter(move |(_, _, kg)| *kg > trace)
    }

    /// Room left for iron, a column each: what a criterion's most iron is more
    /// than the iron, and the standard uncertainty of that.
    pub fn margin(&self, criterion: &Criterion) -> (Line, Vec<f64>) {
        let factor = criterion.balanced.max;
        let (iron_factor, tannin) = sides(criterion.measure);
        let iron = self.line(|c| iron_factor * c.iron().value);
        let margin = self.line(|c| factor * tannin(c)).less(1.0, &iron);
        let spread = self.columns.iter().map(|c| {
            let iron = iron_factor * c.brings.iron().value * c.iron_u;
            let tannin = factor * tannin(&c.brings) * c.galloyl_u;
            libm::hypot(iron, tannin)
        });
        (margin, spread.collect())
    }
}

/// How a measure weighs a mole of iron, and the tannin it holds it against.
fn sides(measure: Balance) -> (f64, fn(&Composition) -> f64) {
    fn galloyl(c: &Composition) -> f64 {
        c.galloyl().value
    }
    fn mass(c: &Composition) -> f64 {
        c.mass_of(Bulk::Tannin).value + c.amount(Component::GallicAcid).value * GALLIC_ACID
    }
    fn galls(c: &Composition) -> f64 {
        mass(c) / TANNIN_IN_TRADE_GALLS
    }
    match measure {
        Balance::IronPerGalloyl => (1.0, galloyl),
        Balance::IronPerTannicAcid => (10.0, galloyl),
        Balance::VitriolPerTannin => (GREEN_VITRIOL, mass),
        Balance::VitriolPerGalls => (GREEN_VITRIOL, galls),
    }
}

fn column<'a>(shelf: &'a Shelf, stock: &'a Stock) -> Result<Column<'a>, FormulateError> {
    let lot = &stock.lot;
    let known = lot.strength_u();
    let one = kilograms(1.0);
    let (brings, waste, galloyl_u) = if lot.is_plant() {
        let soaked = shelf.soak.extraction(lot, one, &shelf.water)?.run(None)?;
        let soak_u = libm::hypot(soaked.yield_u, soaked.drained_u);
        let u = libm::hypot(known.galloyl, soak_u);
        (soaked.liquor, soaked.marc.mass().value, u)
    } else {
        must_go_in_whole(lot)?;
        (lot.contents(one), 0.0, known.galloyl)
    };
    let tool = match &shelf.kit {
        Some(kit) => Some((kit.tool(lot), kit.tool(lot).step_kg(lot)?)),
        None => None,
    };
    Ok(Column {
        stock,
        brings,
        waste,
        iron_u: known.iron,
        galloyl_u,
        tool,
    })
}
