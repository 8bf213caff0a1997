//! Everything that page and figure tell, reckoned once.

use crate::bindery;
use ferrogall::bench::Lot;
use ferrogall::equilibrium::{ConstantSet, Solver};
use ferrogall::oxidation::{
    Air, Bottle, BottleBuilder, BottleChoice, Bought, Closure, CurvePoint, FirstOrder, Fit,
    Forecast, Forecaster, InkChemistry, Measure, Moment, Outcome, Rescue, Seen, Sighting,
    StoredInk, closures, fit, rank_bottles, rank_measures,
};
use ferrogall::quantity::{
    Mass, OutOfRange, ReadTime, Share, Time, Volume, celsius, days, grams, milliliters,
};
use std::error::Error;

/// The bottle.
pub const CAPACITY_ML: f64 = 40.0;
pub const FILL_ML: f64 = 30.0;
pub const DRAWN_ML: f64 = 0.5;
pub const OPENED_EVERY_DAYS: f64 = 7.0;
pub const CELSIUS: f64 = 20.0;
pub const YEAR_DAYS: u32 = 365;
/// Days at which the page looks into the bottle.
const LOOKS: [f64; 6] = [0.0, 30.0, 61.0, 91.0, 182.0, 365.0];
/// The store that is to be filled into bottles, and of which sizes.
pub const STORE_ML: f64 = 250.0;
const SIZES_ML: [f64; 7] = [10.0, 20.0, 30.0, 50.0, 100.0, 150.0, 265.0];
pub const FILLED_TO_PERCENT: f64 = 95.0;
/// The demo's own guess: a nail that reduces iron(III) by half in a week.
const NAIL_HALF_LIFE_DAYS: f64 = 7.0;

/// What the bottle holds at one time.
pub struct Look {
    pub at: Time,
    pub liquid: Volume,
    pub outcome: Outcome,
    pub chemistry: InkChemistry,
}

/// The typical course with a measure, on the days of the trial.
pub struct WithMeasure {
    pub measure: Measure,
    pub lost: Vec<f64>,
}

pub struct Story {
    pub ink: StoredInk,
    pub cap: Closure,
    pub forecast: Forecast,
    /// A point a day.
    pub year: Vec<CurvePoint>,
    pub looks: Vec<Look>,
    /// Until half of the iron(II) is gone, typically: measures are compared
    /// here, for later nothing is left to be saved.
    pub trial: Time,
    pub at_trial: CurvePoint,
    pub trial_days: Vec<f64>,
    pub without: Vec<f64>,
    /// The best first.
    pub bought: Vec<Bought>,
    pub with: Vec<WithMeasure>,
    pub rescue: Rescue,
    /// Ink left then, and tannic acid that holds a mole of galloyl units.
    pub rescued: Volume,
    pub tannic_acid_per_mole: Mass,
    /// Under the cap, and tightly closed.
    pub sizes: [Vec<BottleChoice>; 2],
    pub seen: [Sighting; 2],
    pub fit: Fit,
    pub own: Forecast,
    /// What the model then says of the days of the observations.
    pub own_then: Vec<CurvePoint>,
}

impl Story {
    /// With so many draws for every interval.
    pub fn of(draws: u32) -> Result<Story, Box<dyn Error>> {
        let composition = bindery::ledger_ink()?.evaluate()?.composition;
        let mut solver = Solver::new(ConstantSet::reviewed(), celsius(CELSIUS))?;
        let ink = StoredInk::of(&composition, &mut solver)?;
        let row = closures().iter().find(|c| c.id == "drink_bottle_cap");
        let cap = Closure::of(row.ok_or("no such cap")?);
        let air = Air::standard().at_temperature(celsius(CELSIUS))?;
        let filled = ink.bottle(milliliters(CAPACITY_ML), milliliters(FILL_ML));
        let filled = used(filled, air, cap);
        let bottle = filled.kept_for(days(f64::from(YEAR_DAYS))).build()?;
        let forecaster = Forecaster::new(&ink, &bottle)?;
        let daily: Vec<Time> = (0..=YEAR_DAYS).map(|d| days(f64::from(d))).collect();

        let times = LOOKS.map(days);
        let outcomes = forecaster.outcomes(&times)?;
        let moments = forecaster.moments(&times)?;
        let look = |(moment, outcome): (&Moment, &Outcome)| {
            Ok::<Look, Box<dyn Error>>(Look {
                at: moment.at,
                liquid: moment.liquid,
                outcome: *outcome,
                chemistry: ink.chemistry(outcome, &mut solver)?,
            })
        };
        let looks = moments.iter().zip(&outcomes).map(look);
        let looks = looks.collect::<Result<_, _>>()?;

        let half = filled.stated_share(Share::HALF).build()?;
        let half = Forecaster::new(&ink, &half)?.typical()?.time_to_share;
        let trial = days(half.map_or(f64::from(YEAR_DAYS), |t| t.in_days().ceil()));
        let short = filled.kept_for(trial).build()?;
        let mut measures = Measure::usual(&ink, &bottle);
        measures.push(Measure::Nail {
            rate: FirstOrder::of_loss(Share::HALF, days(NAIL_HALF_LIFE_DAYS))?,
        });
        let bought = rank_measures(&ink, &short, &measures, draws)?;
        let trial_days: Vec<f64> = (0..=200)
            .map(|i| trial.in_days() * f64::from(i) / 200.0)
            .collect();
        let on_trial: Vec<Time> = trial_days.iter().map(|d| days(*d)).collect();
        let course = |ink: &StoredInk, bottle: &Bottle| {
            let outcomes = Forecaster::new(ink, bottle)?.outcomes(&on_trial)?;
            let lost = outcomes.iter().map(|o| o.lost.value());
            Ok::<Vec<f64>, Box<dyn Error>>(lost.collect())
        };
        let with = bought.iter().map(|b| {
            let (ink, bottle) = b.measure.taken(&ink, &short)?;
            Ok::<WithMeasure, Box<dyn Error>>(WithMeasure {
                measure: b.measure,
                lost: course(&ink, &bottle)?,
            })
        });
        let with = with.collect::<Result<_, _>>()?;
        let at_trial = forecaster.curve(&[trial], draws)?[0];
        let tannic_acid = Lot::of("tannic_acid")?.build()?;
        let per_gram = tannic_acid.composition(grams(1.0))?.galloyl().value;

        let sizes = |closure| {
            let full = Share::percent(FILLED_TO_PERCENT)?;
            let each = SIZES_ML.map(milliliters);
            let store = milliliters(STORE_ML);
            let ranked = rank_bottles(&ink, store, full, &each, |b| used(b, air, closure))?;
            Ok::<Vec<BottleChoice>, Box<dyn Error>>(ranked)
        };
        let seen = [(28.0, 93.0), (84.0, 80.0)].map(|(day, percent)| {
            let left = Share::percent(percent)?;
            Ok::<Sighting, OutOfRange>(Sighting {
                at: days(day),
                seen: Seen::IronII { left, u: 0.03 },
            })
        });
        let [first, second] = seen;
        let seen = [first?, second?];
        let fit = fit(&ink, &bottle, &seen)?;
        let own = Forecaster::new(&ink.with_fit(&fit), &bottle)?;
        Ok(Story {
            forecast: forecaster.forecast(draws)?,
            year: forecaster.curve(&daily, draws)?,
            looks,
            trial,
            without: course(&ink, &short)?,
            trial_days,
            bought,
            with,
            rescue: ink.rescue(&at_trial.typical, Some(&mut solver))?,
            rescued: forecaster.moments(&[trial])?[0].liquid,
            at_trial,
            tannic_acid_per_mole: grams(1.0 / per_gram),
            sizes: [sizes(cap)?, sizes(Closure::SEALED_GLASS)?],
            seen,
            fit,
            own_then: own.curve(&seen.map(|s| s.at), draws)?,
            own: own.forecast(draws)?,
            cap,
            ink,
        })
    }
}

/// How the bindery uses a bottle.
fn used(bottle: BottleBuilder, air: Air, closure: Closure) -> BottleBuilder {
    bottle
        .air(air)
        .closure(closure)
        .opened_every(days(OPENED_EVERY_DAYS))
        .drawn_per_opening(milliliters(DRAWN_ML))
}
