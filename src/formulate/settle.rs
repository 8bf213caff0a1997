//! A programme asked again with what its answer taught, until it comes to rest:
//! the pH and the assurance are not linear in the amounts.

use super::make::Search;
use super::posed::{Acidity, Batch, Point, Question, Steps};
use super::program::ProgramError;
use super::worth::Worth;
use super::{FormulateError, Objective, sure};

/// Less than any ink, m³.
const LEAST_VOLUME: f64 = 1e-12;
/// Rounds at most.
const ROUNDS: usize = 60;
/// Steps so small, as a share of all that is in it, that it stands still.
const STILL: f64 = 1e-6;
/// Halvings of a point too strong to have a pH.
const HALVINGS: usize = 40;

/// How a search goes about it.
#[derive(Clone, Copy)]
pub(super) struct Way<'p> {
    pub steps: Steps<'p>,
    /// Whether windows may be missed at a price.
    pub elastic: bool,
    /// Hydrogen ions as one line for good, where amounts are whole steps.
    line: Option<&'p Acidity>,
    /// Where hydrogen ions are made linear first.
    start: Option<&'p Point>,
}

impl<'p> Way<'p> {
    pub fn new(steps: Steps<'p>, elastic: bool) -> Way<'p> {
        Way {
            steps,
            elastic,
            line: None,
            start: None,
        }
    }

    pub fn along<'q>(self, line: &'q Acidity) -> Way<'q>
    where
        'p: 'q,
    {
        Way {
            line: Some(line),
            ..self
        }
    }

    pub fn from(self, start: &'p Point) -> Way<'p> {
        Way {
            start: Some(start),
            ..self
        }
    }
}

/// What the answers so far have taught.
#[derive(Default)]
struct Taught {
    acidity: Option<Acidity>,
    /// Where that was made linear, and what an ink there is worth.
    about: Option<(Point, Worth)>,
    /// How far from there the next may go, kg.
    reach: Option<f64>,
    /// The best so far.
    kept: Option<(Point, Worth)>,
    /// Slopes of the uncertainty of the iron's margin.
    slopes: Vec<Vec<f64>>,
    /// The same for the criterion of the surest ink.
    tangents: Vec<Vec<f64>>,
}

impl Search<'_> {
    /// Solves until nothing changes.
    pub fn settle(&mut self, way: Way) -> Result<Point, FormulateError> {
        let mut taught = self.before(way)?;
        // Ties and later wishes matter only once the assurance is kept.
        let mut rough = self.wanted.sure.is_some();
        for _ in 0..ROUNDS {
            let mut answer = self.ask(way, &mut taught, rough);
            if answer.is_err() && taught.reach.is_some() && !way.elastic {
                // Not to be had so near to the last: at least towards it.
                let elastic = true;
                answer = self.ask(Way { elastic, ..way }, &mut taught, rough);
            }
            let point = match answer {
                Ok(point) => point,
                // So near that rounding is in the way.
                Err(FormulateError::Program(_)) if taught.reach.is_some() => break,
                Err(e) => return Err(e),
            };
            // Nothing at all keeps every proportion, and has no pH.
            if point.volume < LEAST_VOLUME {
                return Err(ProgramError::Infeasible.into());
            }
            if !self.is_sure(&point, &mut taught) {
                continue;
            }
            if rough {
                rough = false;
                continue;
            }
            match way.line {
                None if self.meter.is_some() => match self.go_on(&point, &mut taught)? {
                    Next::Rest => return Ok(point),
                    Next::Stuck => break,
                    Next::Again => {}
                },
                _ => return Ok(point),
            }
        }
        match taught.kept {
            Some((point, worth)) if way.elastic || worth.meets_all() => Ok(point),
            _ => Err(ProgramError::NotSolved {
                reason: "corrections did not come to rest".into(),
            }
            .into()),
        }
    }

    fn before(&mut self, way: Way) -> Result<Taught, FormulateError> {
        let mut taught = Taught {
            acidity: way.line.cloned(),
            ..Taught::default()
        };
        if let (Some(start), None) = (way.start, way.line) {
            let worth = self.worth(start)?;
            self.stand_at(start.clone(), worth, &mut taught)?;
        }
        Ok(taught)
    }

    /// One programme, its sums in turn.
    fn ask(&self, way: Way, taught: &mut Taught, rough: bool) -> Result<Point, FormulateError> {
        let question = Question {
            rows: &self.rows,
            wanted: self.wanted,
            batch: self.batch,
            steps: match (&taught.about, taught.reach, way.steps) {
                (Some((about, _)), Some(far), Steps::Any) => Steps::Within(&about.kg, far),
                _ => way.steps,
            },
            elastic: way.elastic,
            acidity: taught.acidity.as_ref(),
            slopes: &taught.slopes,
            barred: &self.barred,
        };
        if let (Objective::Surest(criterion), false) = (self.objective, way.elastic) {
            return Ok(sure::surest(&question, &criterion, &mut taught.tangents)?);
        }
        let mut posed = question.pose()?;
        let rows = &self.rows;
        if way.elastic {
            let missed = posed.missed();
            posed.program.then_minimise(&missed)?;
        }
        if self.batch == Batch::Most {
            let most = posed.volume_term();
            posed.program.then_minimise(&most)?;
        }
        match self.objective {
            Objective::FewestWeighings => {
                let count = posed.count()?;
                posed.program.then_minimise(&count)?;
            }
            Objective::LeastWaste => {
                let waste = posed.waste(rows);
                posed.program.then_minimise(&waste)?;
            }
            Objective::Surest(criterion) => {
                if let Steps::WholeNear(kg) = way.steps {
                    let sure = sure::towards(rows, &criterion, kg, self.batch.usual());
                    let (terms, _) = posed.terms(&sure);
                    posed.program.then_minimise(&terms)?;
                }
            }
            Objective::LeastCost | Objective::Closest => {}
        }
        if self.objective != Objective::Closest {
            let cost = posed.cost(rows);
            posed.program.then_minimise(&cost)?;
        }
        let optimum = if rough {
            posed.program.minimise_first()?
        } else {
            posed.program.minimise()?
        };
        Ok(posed.read(&optimum))
    }

    /// Whether a point has the assurance that is wanted; a slope more is known
    /// where it has not.
    fn is_sure(&self, point: &Point, taught: &mut Taught) -> bool {
        let Some((criterion, assurance)) = self.wanted.sure else {
            return true;
        };
        let known = &taught.slopes;
        let slope = sure::slope_if_short(&self.rows, &criterion, assurance, known, point);
        let sure = slope.is_none();
        taught.slopes.extend(slope);
        sure
    }

    /// What to do after an answer: hydrogen ions are made linear about it where
    /// it leads on; where it does not, the next stays nearer by.
    fn go_on(&mut self, point: &Point, taught: &mut Taught) -> Result<Next, FormulateError> {
        let crossing = match &taught.about {
            Some((about, _)) => self.crossing(about, point)?,
            None => None,
        };
        let point = crossing.as_ref().unwrap_or(point);
        let worth = self.worth(point)?;
        if taught
            .kept
            .as_ref()
            .is_none_or(|(_, best)| worth.beats(best))
        {
            taught.kept = Some((point.clone(), worth));
        }
        let Some((about, there)) = &taught.about else {
            if worth.meets_all() {
                return Ok(Next::Rest);
            }
            let (start, worth) = self.with_a_ph(point, worth)?;
            self.stand_at(start, worth, taught)?;
            return Ok(Next::Again);
        };
        if same(about, point) {
            return Ok(Next::Rest);
        }
        let far = apart(about, point);
        if worth.leads_on_from(there) {
            taught.reach = taught.reach.map(|reach| 2.0 * reach);
            self.stand_at(point.clone(), worth, taught)?;
            return Ok(Next::Again);
        }
        if worth.gains_little_on(there) {
            return Ok(Next::Stuck);
        }
        taught.reach = Some(0.5 * far);
        let still = 0.5 * far < STILL * point.kg.iter().sum::<f64>();
        Ok(if still { Next::Stuck } else { Next::Again })
    }

    /// Where on the way from one point to another the pH is in its window,
    /// if they lie on different sides of it. (In a buffer hardly any acid is
    /// felt, and the next answer goes much too far.)
    fn crossing(&mut self, from: &Point, to: &Point) -> Result<Option<Point>, FormulateError> {
        let Some(meter) = &mut self.meter else {
            return Ok(None);
        };
        let near = meter.missed(&self.rows.ink(&from.kg, from.volume))?;
        let far = meter.missed(&self.rows.ink(&to.kg, to.volume))?;
        if near == 0.0 || far == 0.0 || near * far > 0.0 && far.is_finite() {
            return Ok(None);
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let share = 0.5 * (low + high);
            let between = from.towards(to, share);
            let missed = meter.missed(&self.rows.ink(&between.kg, between.volume))?;
            if missed == 0.0 {
                return Ok(Some(between));
            }
            if missed.is_finite() && missed * near > 0.0 {
                low = share;
            } else {
                high = share;
            }
        }
        Ok(None)
    }

    fn stand_at(
        &mut self,
        point: Point,
        worth: Worth,
        taught: &mut Taught,
    ) -> Result<(), FormulateError> {
        if let Some(meter) = &mut self.meter {
            taught.acidity = Some(meter.about(&self.rows, &point)?);
        }
        taught.about = Some((point, worth));
        Ok(())
    }

    /// A point nearer to water, where one is too strong for a pH to be reckoned.
    fn with_a_ph(
        &mut self,
        point: &Point,
        mut worth: Worth,
    ) -> Result<(Point, Worth), FormulateError> {
        let mut point = point.clone();
        for _ in 0..HALVINGS {
            if worth.is_known() {
                break;
            }
            point.kg.iter_mut().for_each(|kg| *kg *= 0.5);
            worth = self.worth(&point)?;
        }
        Ok((point, worth))
    }
}

/// What to do after an answer.
enum Next {
    Rest,
    Stuck,
    Again,
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
