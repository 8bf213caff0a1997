//! The question as a programme: amounts, windows, stocks, packs.

use super::program::{Optimum, Program, ProgramError, Unknown};
use super::rows::{Column, Line, Rows};
use super::wanted::Per;
use super::{Goal, Wanted};
use crate::bench::Lot;
use crate::composition::Bulk;
use crate::uncertainty::normal_quantile;

/// A proportion counts a little less than an amount: where no tannin is to be
/// had, iron water is nearer to ink than water.
const PROPORTION: f64 = 1.01;

/// Kilograms of water in a cubic metre below which nothing is an ink.
const LEAST_WATER: f64 = 500.0;

/// Share of the usual galloyl below which there is none to stand in a
/// proportion.
const TRACE: f64 = 1e-4;

/// How the amounts may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Steps<'a> {
    /// Of any size.
    Any,
    /// Of any size, no further than so many kilograms from these.
    Within(&'a [f64], f64),
    /// Whole steps of the tools.
    Whole,
    /// Whole steps, few away from these amounts.
    WholeNear(&'a [f64]),
}

/// Steps away from the amounts that would do if the tools showed everything.
const NEAR: f64 = 3.0;

/// The hydrogen ions of the ink, linear near a point: a line that shall lie
/// between two values for each volume.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Acidity {
    pub line: Line,
    pub low: f64,
    pub high: f64,
}

/// How much is made, m³.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Batch {
    Exactly(f64),
    Within(f64, f64),
    /// As much as can be, of what is on hand.
    Most,
}

impl Batch {
    pub fn of(wanted: &Wanted) -> Batch {
        match wanted.volume {
            (low, high) if low == high => Batch::Exactly(low),
            (low, high) => Batch::Within(low, high),
        }
    }

    fn at_most(self) -> Option<f64> {
        match self {
            Batch::Exactly(volume) | Batch::Within(_, volume) => Some(volume),
            Batch::Most => None,
        }
    }

    /// The volume that misses are weighed for.
    pub fn usual(self) -> f64 {
        match self {
            Batch::Exactly(volume) => volume,
            Batch::Within(low, high) => 0.5 * (low + high),
            Batch::Most => 1.0,
        }
    }
}

/// What is asked, apart from what is to be best.
#[derive(Clone, Copy)]
pub(super) struct Question<'a> {
    pub rows: &'a Rows<'a>,
    pub wanted: &'a Wanted,
    pub batch: Batch,
    pub steps: Steps<'a>,
    /// Whether windows may be missed at a price.
    pub elastic: bool,
    pub acidity: Option<&'a Acidity>,
    /// Slopes of the uncertainty of the iron's margin at some points.
    pub slopes: &'a [Vec<f64>],
    /// Lots that may not be used.
    pub barred: &'a [usize],
}

/// The question as a programme that has nothing yet to make least.
pub(super) struct Posed {
    pub program: Program,
    masses: Vec<Measured>,
    volume: Result<Unknown, f64>,
    misses: Vec<Unknown>,
}

/// The mass of one lot: `step` kilograms times its unknown.
struct Measured {
    unknown: Unknown,
    step: f64,
    most: f64,
    /// Bought mass, and packs bought of this mass.
    bought: Option<(Unknown, Unknown, f64)>,
}

/// Amounts that answer the question.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Point {
    /// kg of each lot.
    pub kg: Vec<f64>,
    /// Steps of its tool each is.
    pub steps: Vec<f64>,
    pub packs: Vec<f64>,
    pub volume: f64,
}

impl Point {
    /// So large a share of the way to another; packs and steps are not told.
    pub fn towards(&self, other: &Point, share: f64) -> Point {
        let mix = |a: f64, b: f64| a + share * (b - a);
        let pairs = self.kg.iter().zip(&other.kg);
        Point {
            kg: pairs.map(|(a, b)| mix(*a, *b)).collect(),
            volume: mix(self.volume, other.volume),
            ..Point::default()
        }
    }
}

impl Question<'_> {
    pub fn pose(&self) -> Result<Posed, ProgramError> {
        let mut program = Program::new();
        let volume = match self.batch {
            Batch::Exactly(volume) => Err(volume),
            Batch::Within(low, high) => Ok(program.real(0.0, low, high)?),
            Batch::Most => Ok(program.real(0.0, 0.0, crate::quantity::MAX_VOLUME_M3)?),
        };
        let mut posed = Posed {
            program,
            masses: Vec::with_capacity(self.rows.columns.len()),
            volume,
            misses: Vec::new(),
        };
        let bounds = self.bounds();
        for (j, most) in bounds.iter().enumerate() {
            self.mass(&mut posed, j, *most)?;
        }
        self.fits(&mut posed)?;
        for goal in Goal::ALL {
            if let (Some((low, high)), false) = (self.wanted.in_si(goal), goal == Goal::Ph) {
                let (above, below) = self.rows.goal(goal);
                let unit = self.unit_of(goal, low, high);
                self.window(&mut posed, &above, &below, (low, high), unit)?;
            }
        }
        if self.may_lack_galloyl() {
            let galloyl = self.rows.line(|c| c.galloyl().value);
            let volume = Line::volume(galloyl.per_kg.len());
            let least = TRACE * self.usual_galloyl();
            let unit = least * self.batch.usual();
            self.window(&mut posed, &galloyl, &volume, (least, f64::INFINITY), unit)?;
        }
        if let Some(Acidity { line, low, high }) = self.acidity {
            let below = Line::volume(line.per_kg.len());
            let volume = self.batch.usual();
            let size = |x: f64| if x.is_finite() { x.abs() } else { 0.0 };
            let unit = size(*low).max(size(*high)) * volume;
            self.window(&mut posed, line, &below, (*low, *high), unit)?;
        }
        if let Some(cost) = self.wanted.cost {
            let mut terms = posed.cost(self.rows);
            if self.elastic {
                let miss = posed.miss()?;
                terms.push((miss, -cost.max(f64::MIN_POSITIVE)));
            }
            posed.program.limit(&terms, f64::NEG_INFINITY, cost)?;
        }
        self.assurance(&mut posed)?;
        Ok(posed)
    }

    /// The most of each lot that could be of use, kg.
    fn bounds(&self) -> Vec<f64> {
        let columns = self.rows.columns.iter();
        let mut most: Vec<f64> = columns
            .map(|c| match (c.stock.on_hand, c.stock.pack) {
                (Some(kg), None) => kg,
                _ => f64::INFINITY,
            })
            .collect();
        for &j in self.barred {
            if let Some(slot) = most.get_mut(j) {
                *slot = 0.0;
            }
        }
        let Some(volume) = self.batch.at_most() else {
            return most;
        };
        for (m, column) in most.iter_mut().zip(&self.rows.columns) {
            *m = m.min(volume / column.brings.volume().value);
        }
        if self.elastic {
            return most;
        }
        // No more than a window lets in, where nothing takes any out again.
        for goal in [
            Goal::IronII,
            Goal::Iron,
            Goal::Galloyl,
            Goal::GallicAcid,
            Goal::TannicAndGallic,
            Goal::Gum,
            Goal::Dye,
            Goal::Preservative,
        ] {
            let Some((_, high)) = self.wanted.in_si(goal) else {
                continue;
            };
            let (line, _) = self.rows.goal(goal);
            if line.per_kg.iter().all(|a| *a >= 0.0) {
                for (m, a) in most.iter_mut().zip(&line.per_kg) {
                    let room = (high - line.per_volume).max(0.0) * volume;
                    if *a > 0.0 {
                        *m = m.min(room / a);
                    }
                }
            }
        }
        most
    }

    fn mass(&self, posed: &mut Posed, j: usize, most: f64) -> Result<(), ProgramError> {
        let Some(column) = self.rows.columns.get(j) else {
            return Ok(());
        };
        let program = &mut posed.program;
        let any = matches!(self.steps, Steps::Any | Steps::Within(..));
        let step = match column.tool {
            Some((_, step)) if !any => step,
            _ => 1.0,
        };
        let in_steps = most / step;
        let unknown = match self.steps {
            Steps::Within(kg, far) => {
                let at = kg.get(j).copied().unwrap_or(0.0);
                let low = (at - far).clamp(0.0, in_steps);
                program.real(0.0, low, (at + far).clamp(low, in_steps))?
            }
            _ if column.tool.is_none() || any => program.real(0.0, 0.0, in_steps)?,
            Steps::WholeNear(kg) => {
                let at = kg.get(j).copied().unwrap_or(0.0) / step;
                let low = (libm::floor(at) - NEAR).max(0.0);
                let high = (libm::ceil(at) + NEAR).min(libm::floor(in_steps * (1.0 + 1e-12)));
                // What is not in it at all stays out.
                let high = if at > 1e-9 { high.max(low) } else { 0.0 };
                program.whole(0.0, if at > 1e-9 { low } else { 0.0 }, high)?
            }
            _ => program.whole(0.0, 0.0, libm::floor(in_steps * (1.0 + 1e-12)))?,
        };
        let mut bought = None;
        if let Some(pack) = column.stock.pack.filter(|_| self.batch != Batch::Most) {
            let on_hand = column.stock.on_hand.unwrap_or(0.0);
            let most_packs = libm::ceil((most - on_hand).max(0.0) / pack).min(1e6);
            let mass = program.real(0.0, 0.0, most_packs * pack)?;
            let packs = program.whole(0.0, 0.0, most_packs)?;
            program.limit(&[(unknown, step), (mass, -1.0)], f64::NEG_INFINITY, on_hand)?;
            program.limit(&[(mass, 1.0), (packs, -pack)], f64::NEG_INFINITY, 0.0)?;
            // Never bought what is there: what is on hand goes before a pack
            // is opened.
            let mut there = vec![(mass, 1.0), (unknown, -step)];
            if on_hand > 0.0 && most_packs > 1.0 {
                let opened = program.whole(0.0, 0.0, 1.0)?;
                let none = [(packs, 1.0), (opened, -most_packs)];
                program.limit(&none, f64::NEG_INFINITY, 0.0)?;
                there.push((opened, on_hand));
            } else if on_hand > 0.0 {
                there.push((packs, on_hand));
            }
            program.limit(&there, f64::NEG_INFINITY, 0.0)?;
            bought = Some((mass, packs, pack));
        } else if column.stock.pack.is_some() {
            let on_hand = column.stock.on_hand.unwrap_or(0.0);
            program.limit(&[(unknown, step)], f64::NEG_INFINITY, on_hand)?;
        }
        posed.masses.push(Measured {
            unknown,
            step,
            most,
            bought,
        });
        Ok(())
    }

    /// The lots together fill no more than the volume.
    fn fits(&self, posed: &mut Posed) -> Result<(), ProgramError> {
        let line = Line {
            per_kg: self
                .rows
                .columns
                .iter()
                .map(|c| c.brings.volume().value)
                .collect(),
            per_volume: -1.0,
        };
        let (terms, constant) = posed.terms(&line);
        posed.program.limit(&terms, f64::NEG_INFINITY, -constant)?;
        // And leave water to dissolve in.
        let water = self.rows.line(|c| c.mass_of(Bulk::Water).value);
        let least = water.less(LEAST_WATER, &Line::volume(water.per_kg.len()));
        let (terms, constant) = posed.terms(&least);
        posed.program.limit(&terms, -constant, f64::INFINITY)
    }

    /// Whether an ink without galloyl would keep a proportion to it, multiplied
    /// out, as nothing of nothing: it has none.
    fn may_lack_galloyl(&self) -> bool {
        let window = |goal: Goal| self.wanted.in_si(goal);
        let some = |goal: Goal| window(goal).is_some_and(|(low, _)| low > 0.0);
        let ratio = window(Goal::IronIIPerGalloyl);
        if ratio.is_none() && window(Goal::GallicShare).is_none() {
            return false;
        }
        let iron_ii = some(Goal::IronII) || {
            let iron_iii = |c: &Column| c.brings.iron().value > c.brings.iron_ii().value;
            some(Goal::Iron) && !self.rows.columns.iter().any(iron_iii)
        };
        let by_iron = iron_ii && ratio.is_some_and(|(_, high)| high.is_finite());
        let itself = [Goal::Galloyl, Goal::GallicAcid, Goal::TannicAndGallic];
        !by_iron && !itself.into_iter().any(some)
    }

    /// What counts as missing the whole of a window, as a total.
    fn unit_of(&self, goal: Goal, low: f64, high: f64) -> f64 {
        let size = |x: f64| if x.is_finite() { x.abs() } else { 0.0 };
        let end = size(low).max(size(high));
        let end = if end > 0.0 { end } else { goal.little() };
        let volume = self.batch.usual();
        match goal.per() {
            Per::Galloyl => end * self.usual_galloyl() * volume * PROPORTION,
            _ => end * volume,
        }
    }

    /// Galloyl per volume that the windows speak of, for the size of a miss.
    fn usual_galloyl(&self) -> f64 {
        let middle = |goal: Goal| {
            let (low, high) = self.wanted.in_si(goal)?;
            let middle = match (low.is_finite(), high.is_finite()) {
                (true, true) => 0.5 * (low + high),
                (true, false) => low,
                _ => high,
            };
            (middle > 0.0).then_some(middle)
        };
        let iron = || {
            let as_metal = || Some(middle(Goal::Iron)? / crate::chem::constants::IRON);
            middle(Goal::IronII).or_else(as_metal)
        };
        let by_iron = || Some(iron()? / middle(Goal::IronIIPerGalloyl)?);
        middle(Goal::Galloyl).or_else(by_iron).unwrap_or(50.0)
    }

    /// `low` times what is below the line to `high` times it.
    fn window(
        &self,
        posed: &mut Posed,
        above: &Line,
        below: &Line,
        (low, high): (f64, f64),
        unit: f64,
    ) -> Result<(), ProgramError> {
        let under = if self.elastic {
            Some(posed.miss()?)
        } else {
            None
        };
        let over = if self.elastic {
            Some(posed.miss()?)
        } else {
            None
        };
        if low == high {
            let (mut terms, constant) = posed.terms(&above.less(low, below));
            terms.extend(under.map(|u| (u, unit)));
            terms.extend(over.map(|o| (o, -unit)));
            return posed.program.limit(&terms, -constant, -constant);
        }
        if low > f64::NEG_INFINITY {
            let (mut terms, constant) = posed.terms(&above.less(low, below));
            terms.extend(under.map(|u| (u, unit)));
            posed.program.limit(&terms, -constant, f64::INFINITY)?;
        }
        if high < f64::INFINITY {
            let (mut terms, constant) = posed.terms(&above.less(high, below));
            terms.extend(over.map(|o| (o, -unit)));
            posed.program.limit(&terms, f64::NEG_INFINITY, -constant)?;
        }
        Ok(())
    }

    /// The iron's margin is so many of its standard uncertainties.
    fn assurance(&self, posed: &mut Posed) -> Result<(), ProgramError> {
        let Some((criterion, assurance)) = self.wanted.sure else {
            return Ok(());
        };
        let (margin, _) = self.rows.margin(&criterion);
        let times = normal_quantile(assurance);
        let doubt = posed.doubt(self.slopes)?;
        let (mut terms, constant) = posed.terms(&margin);
        terms.push((doubt, -times));
        if self.elastic {
            let unit = criterion.balanced.max * self.usual_galloyl() * self.batch.usual();
            terms.push((posed.miss()?, unit));
        }
        posed.program.limit(&terms, -constant, f64::INFINITY)
    }
}

impl Posed {
    /// A line as terms of the unknowns, and what is constant in it.
    pub fn terms(&self, line: &Line) -> (Vec<(Unknown, f64)>, f64) {
        let masses = self.masses.iter().zip(&line.per_kg);
        let mut terms: Vec<_> = masses.map(|(m, a)| (m.unknown, a * m.step)).collect();
        match self.volume {
            Ok(unknown) => {
                terms.push((unknown, line.per_volume));
                (terms, 0.0)
            }
            Err(volume) => (terms, line.per_volume * volume),
        }
    }

    fn miss(&mut self) -> Result<Unknown, ProgramError> {
        let miss = self.program.real(0.0, 0.0, f64::INFINITY)?;
        self.misses.push(miss);
        Ok(miss)
    }

    /// An unknown that is no less than each slope times the amounts.
    pub fn doubt(&mut self, slopes: &[Vec<f64>]) -> Result<Unknown, ProgramError> {
        let doubt = self.program.real(0.0, 0.0, f64::INFINITY)?;
        for slope in slopes {
            let masses = self.masses.iter().zip(slope);
            let mut terms: Vec<_> = masses.map(|(m, a)| (m.unknown, a * m.step)).collect();
            terms.push((doubt, -1.0));
            self.program.limit(&terms, f64::NEG_INFINITY, 0.0)?;
        }
        Ok(doubt)
    }

    /// All misses together.
    pub fn missed(&self) -> Vec<(Unknown, f64)> {
        self.misses.iter().map(|m| (*m, 1.0)).collect()
    }

    /// What is used up and bought, in money.
    pub fn cost(&self, rows: &Rows) -> Vec<(Unknown, f64)> {
        let mut terms = Vec::new();
        for (m, column) in self.masses.iter().zip(&rows.columns) {
            let price = column.price_per_kg();
            terms.push((m.unknown, price * m.step));
            if let Some((mass, packs, pack)) = m.bought {
                terms.push((mass, -price));
                terms.push((packs, price * pack));
            }
        }
        terms
    }

    /// What is thrown away or left over in packs bought, in kilograms.
    pub fn waste(&self, rows: &Rows) -> Vec<(Unknown, f64)> {
        let mut terms = Vec::new();
        for (m, column) in self.masses.iter().zip(&rows.columns) {
            terms.push((m.unknown, column.waste * m.step));
            if let Some((mass, packs, pack)) = m.bought {
                terms.push((mass, -1.0));
                terms.push((packs, pack));
            }
        }
        terms
    }

    /// How many lots are used: a switch for each that must be on for it.
    pub fn count(&mut self) -> Result<Vec<(Unknown, f64)>, ProgramError> {
        let mut terms = Vec::new();
        for m in &self.masses {
            let used = self.program.whole(0.0, 0.0, 1.0)?;
            let most = m.most / m.step;
            if most.is_finite() {
                let switch = [(m.unknown, 1.0), (used, -most)];
                self.program.limit(&switch, f64::NEG_INFINITY, 0.0)?;
            }
            terms.push((used, 1.0));
        }
        Ok(terms)
    }

    pub fn volume_term(&self) -> Vec<(Unknown, f64)> {
        self.volume.iter().map(|v| (*v, -1.0)).collect()
    }

    pub fn read(&self, optimum: &Optimum) -> Point {
        let value = |u: Unknown| optimum.value(u);
        let masses = self.masses.iter();
        Point {
            kg: masses.clone().map(|m| value(m.unknown) * m.step).collect(),
            steps: masses.clone().map(|m| value(m.unknown)).collect(),
            packs: masses
                .map(|m| m.bought.map_or(0.0, |(_, packs, _)| value(packs)))
                .collect(),
            volume: self.volume.map_or_else(|v| v, value),
        }
    }
}

/// The lots that are used up, of those that can be: what is sold is, where
/// nothing is bought.
pub(super) fn used_up<'a>(rows: &'a Rows, point: &Point, batch: Batch) -> Vec<&'a Lot> {
    let columns = rows.columns.iter().zip(&point.kg);
    columns
        .filter(|(c, kg)| {
            let sold = c.stock.pack.is_some() && batch != Batch::Most;
            let limit = c.stock.limit().filter(|_| !sold);
            limit.is_some_and(|limit| **kg >= limit.value * (1.0 - 1e-9))
        })
        .map(|(c, _)| c.lot())
        .collect()
}
