//! A recipe boiled down to what a draw needs: masses, and where each unknown
//! enters.

use super::sources::Sources;
use crate::bench::Lot;
use crate::composition::Composition;
use crate::quantity::{Volume, kilograms};
use crate::recipe::{Extraction, Ingredient, Kit, Portion, Recipe, resolve, strained, top_up};
use crate::uncertainty::{Input, Inputs, UncertaintyError, Values};

/// The recipe as a function of its inputs.
#[derive(Debug, Clone)]
pub(super) struct Plan {
    lots: Vec<Contents>,
    pots: Vec<Pot>,
    make_up: Option<FillUp>,
}

/// What a kilogram of a lot holds.
#[derive(Debug, Clone)]
struct Contents {
    lot: Lot,
    /// Where nothing is unknown.
    fixed: Option<Composition>,
    unknowns: Vec<Input>,
}

/// How a tool was off: by an amount each time it was read (kg or m³), and by a
/// factor that all its readings share.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Off {
    pub(super) reading: Option<Input>,
    pub(super) scale: Option<Input>,
}

impl Off {
    fn applied_to(self, amount: f64, x: Values) -> f64 {
        let reading = self.reading.map_or(0.0, |input| x[input]);
        let scale = self.scale.map_or(1.0, |input| x[input]);
        ((amount + reading) * scale).max(0.0)
    }
}

#[derive(Debug, Clone, Copy)]
struct Weighed {
    lot: usize,
    kg: f64,
    off: Off,
}

#[derive(Debug, Clone, Copy)]
enum Step {
    Add(Weighed),
    Extract {
        plant: Weighed,
        liquid: Weighed,
        yield_share: Input,
        hold_up: Input,
    },
}

#[derive(Debug, Clone, Copy)]
struct FillUp {
    lot: usize,
    m3: f64,
    off: Off,
}

#[derive(Debug, Clone)]
struct Pot {
    steps: Vec<Step>,
    make_up: Option<FillUp>,
    used: Portion,
    used_off: Off,
}

impl Plan {
    /// The plan, its unknowns entered among the sources.
    pub(super) fn of(
        recipe: &Recipe,
        kit: Option<&Kit>,
        sources: &mut Sources,
    ) -> Result<Plan, UncertaintyError> {
        let mut making = Making {
            recipe,
            kit,
            sources,
            lots: Vec::new(),
        };
        let mut pots = Vec::with_capacity(recipe.solutions().len());
        for solution in recipe.solutions() {
            let mut steps = Vec::with_capacity(solution.ingredients().len());
            for ingredient in solution.ingredients() {
                steps.push(making.step(ingredient)?);
            }
            pots.push(Pot {
                steps,
                make_up: making.fill_up(solution.filled_up())?,
                used: solution.portion(),
                used_off: making.portion(solution.name(), solution.portion())?,
            });
        }
        let make_up = making.fill_up(recipe.filled_up())?;
        Ok(Plan {
            lots: making.lots,
            pots,
            make_up,
        })
    }

    /// Works out once what every draw would find the same.
    pub(super) fn settle(&mut self, inputs: &Inputs) {
        let estimates = inputs.estimates();
        for contents in &mut self.lots {
            let exact = contents.unknowns.iter().all(|&u| inputs.is_exact(u));
            contents.fixed = exact.then(|| contents.drawn(estimates.values()));
        }
    }

    /// The plant matter weighed, kg.
    pub(super) fn plants(&self, x: Values) -> f64 {
        let steps = self.pots.iter().flat_map(|pot| &pot.steps);
        let masses = steps.map(|step| match step {
            Step::Extract { plant, .. } => plant.off.applied_to(plant.kg, x),
            Step::Add(_) => 0.0,
        });
        masses.sum()
    }

    /// The ink that these values make. Where a jug turns out full already, its
    /// maker adds nothing.
    pub(super) fn ink(&self, x: Values) -> Composition {
        let mut ink = Composition::EMPTY;
        let soaked = |weighed: Weighed| {
            let mut out = Composition::EMPTY;
            self.put(&mut out, weighed, x);
            out
        };
        for pot in &self.pots {
            let mut made = Composition::EMPTY;
            for step in &pot.steps {
                match step {
                    Step::Add(weighed) => self.put(&mut made, *weighed, x),
                    Step::Extract {
                        plant,
                        liquid,
                        yield_share,
                        hold_up,
                    } => {
                        let (liquor, _) = strained(
                            &soaked(*plant),
                            &soaked(*liquid),
                            x[*yield_share],
                            x[*hold_up],
                        );
                        made.add_scaled(&liquor, 1.0);
                    }
                }
            }
            self.fill(&mut made, pot.make_up, x);
            let part = match pot.used {
                Portion::All => 1.0,
                Portion::Share(share) => share.value(),
                // A stock that came out short gives what it has.
                Portion::Volume(v) => (pot.used_off.applied_to(v.value, x) / made.volume).min(1.0),
                Portion::Mass(m) => (pot.used_off.applied_to(m.value, x) / made.mass).min(1.0),
            };
            if part > 0.0 {
                ink.add_scaled(&made, part);
            }
        }
        self.fill(&mut ink, self.make_up, x);
        ink
    }

    fn put(&self, pot: &mut Composition, weighed: Weighed, x: Values) {
        let kg = weighed.off.applied_to(weighed.kg, x);
        let lot = &self.lots[weighed.lot];
        match &lot.fixed {
            Some(per_kg) => pot.add_scaled(per_kg, kg),
            None => pot.add_scaled(&lot.drawn(x), kg),
        }
    }

    fn fill(&self, pot: &mut Composition, make_up: Option<FillUp>, x: Values) {
        let Some(FillUp { lot, m3, off }) = make_up else {
            return;
        };
        let want = off.applied_to(m3, x);
        let lot = &self.lots[lot];
        match &lot.fixed {
            Some(per_kg) => top_up(pot, per_kg, want),
            None => top_up(pot, &lot.drawn(x), want),
        };
    }
}

impl Contents {
    fn drawn(&self, x: Values) -> Composition {
        let mut values = [0.0; MOST_UNKNOWNS];
        for (value, input) in values.iter_mut().zip(&self.unknowns) {
            *value = x[*input];
        }
        self.lot.per_kg_with(&values)
    }
}

/// Unknowns of one lot.
const MOST_UNKNOWNS: usize = 4;

struct Making<'a> {
    recipe: &'a Recipe,
    kit: Option<&'a Kit>,
    sources: &'a mut Sources,
    lots: Vec<Contents>,
}

impl Making<'_> {
    fn step(&mut self, ingredient: &Ingredient) -> Result<Step, UncertaintyError> {
        Ok(match ingredient {
            Ingredient::Lot { lot, amount } => {
                let kg = resolve(lot, *amount, self.recipe.part())?;
                Step::Add(self.weighed(lot, kg)?)
            }
            Ingredient::Extract(soak) => self.extraction(soak)?,
        })
    }

    fn extraction(&mut self, soak: &Extraction) -> Result<Step, UncertaintyError> {
        let part = self.recipe.part();
        let (plant, liquid) = (soak.plant(), soak.liquid());
        let plant_kg = resolve(plant, soak.amount(), part)?;
        let liquid_kg = resolve(liquid, soak.liquid_amount(), part)?;
        let plant_weighed = self.weighed(plant, plant_kg)?;
        Ok(Step::Extract {
            plant: plant_weighed,
            liquid: self.weighed(liquid, liquid_kg)?,
            yield_share: self.sources.yield_of(plant, soak.yield_share())?,
            hold_up: self.sources.hold_up_of(plant, soak.hold_up())?,
        })
    }

    fn weighed(&mut self, lot: &Lot, kg: f64) -> Result<Weighed, UncertaintyError> {
        let off = match self.kit {
            Some(kit) if kg > 0.0 => {
                let step = kg / kit.steps(lot, kilograms(kg))?;
                self.sources.weighing(lot, kit, step, kg)?
            }
            _ => Off::default(),
        };
        Ok(Weighed {
            lot: self.lot(lot)?,
            kg,
            off,
        })
    }

    fn portion(&mut self, name: &str, portion: Portion) -> Result<Off, UncertaintyError> {
        match (self.kit, portion) {
            (Some(kit), Portion::Volume(_)) => self.sources.poured(name, kit),
            (Some(kit), Portion::Mass(_)) => self.sources.portioned(name, kit),
            _ => Ok(Off::default()),
        }
    }

    fn fill_up(
        &mut self,
        make_up: Option<(&Lot, Volume)>,
    ) -> Result<Option<FillUp>, UncertaintyError> {
        let Some((lot, volume)) = make_up else {
            return Ok(None);
        };
        let off = match self.kit {
            Some(kit) => self.sources.mark(lot, kit)?,
            None => Off::default(),
        };
        Ok(Some(FillUp {
            lot: self.lot(lot)?,
            m3: volume.value,
            off,
        }))
    }

    /// The place of a bag; the same bag has one, however often it is used.
    fn lot(&mut self, lot: &Lot) -> Result<usize, UncertaintyError> {
        if let Some(place) = self.lots.iter().position(|c| c.lot.is_same_bag(lot)) {
            return Ok(place);
        }
        let unknowns = self.sources.unknowns_of(lot)?;
        self.lots.push(Contents {
            lot: lot.clone(),
            fixed: None,
            unknowns,
        });
        Ok(self.lots.len() - 1)
    }
}
