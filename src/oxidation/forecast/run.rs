//! One world from the filling of a bottle to the end.

use super::draw::{Draw, Unknown};
use super::ink::StoredInk;
use crate::oxidation::bottle::Bottle;
use crate::oxidation::{
    Act, Air, Conductance, Contents, Course, Event, FirstOrder, InorganicRate, Kinetics, Moment,
    OxidationError, Parameter, SecondOrder, Vessel, reduction_for_steady_share, still_water_time,
};
use crate::quantity::{AmountOfSubstance, MolarConcentration, Share, Time, moles};
use crate::quantity::{celsius, millimeters};
use crate::source::Range;
use uom::si::f64::VolumeRate;
use uom::si::molar_concentration::mole_per_cubic_meter;
use uom::si::time::second;
use uom::si::volume_rate::cubic_meter_per_second;

/// Tolerated error of a step. The result is off by a millionth at most, what
/// is not known by a factor.
const TOLERANCE: f64 = 1e-4;
/// Nothing dissolves beyond this, mol/L.
const MOST_SOLUBLE: f64 = 5.0;
/// Electrons of the phenols of model wine, mol/m³: about 5 mmol/L of a catechol,
/// two from each (judgement).
const WINE_PHENOL: f64 = 10.0;
/// Electron balances need this much phenol to be driven by it, mol/m³.
const LEAST_PHENOL: f64 = 1e-6;

/// What becomes of the ink in one world.
///
/// ```
/// use ferrogall::oxidation::{Forecast, StoredInk};
/// use ferrogall::quantity::{milliliters, moles_per_liter};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let forecast = Forecast::of(&ink, &ink.bottle(milliliters(40.0), milliliters(30.0)).build()?)?;
/// assert!(forecast.estimate.typical.iron_left.value() > 0.5);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Outcome {
    /// Share of the iron(II) concentration at filling that is gone.
    pub lost: Share,
    /// When the stated share of the bottle was gone; `None`: not while the
    /// bottle is kept and holds ink.
    pub time_to_share: Option<Time>,
    /// Openings until then.
    pub openings_to_share: Option<u64>,
    /// Iron still in solution, as a share of that at filling: the strength left.
    pub iron_left: Share,
    /// Iron that settles in a volume of ink: with tannin, so no more of it than
    /// there are galloyl units.
    pub sediment: MolarConcentration,
    /// Iron(III) in solution: it makes the ink dark in the bottle.
    pub iron_iii: MolarConcentration,
    /// Share of the electrons left that tannin and gallic acid could give.
    pub tannin_left: Share,
}

/// A bottle of ink in one world, ready to be followed.
pub(super) struct World<'e> {
    vessel: Vessel,
    kinetics: Kinetics,
    contents: Contents,
    events: &'e [Event],
    watched: Share,
    interval: Option<f64>,
    /// Galloyl units, mol/m³: no more iron can settle with them.
    galloyl: f64,
}

impl<'e> World<'e> {
    pub(super) fn of(
        ink: &StoredInk,
        bottle: &Bottle,
        events: &'e [Event],
        draw: Draw,
    ) -> Result<Self, OxidationError> {
        let (ink, draw) = &ink.in_world(draw);
        let draw = *draw;
        let air = bottle.air().dissolving(ink.dissolving);
        let electrons = if ink.galloyl > LEAST_PHENOL {
            ink.galloyl * draw.parameter(Parameter::ELECTRONS_PER_GALLOYL, Unknown::Electrons)
        } else {
            0.0
        };
        let kinetics = kinetics(ink, air, electrons, draw)?;
        World::with(ink, bottle, events, draw, kinetics, electrons)
    }

    /// The slow inorganic reaction alone: nothing assists, nothing reduces.
    pub(super) fn inorganic(
        ink: &StoredInk,
        bottle: &Bottle,
        events: &'e [Event],
    ) -> Result<Self, OxidationError> {
        let air = bottle.air();
        let rate = InorganicRate::at(&ink.milieu(air.temperature())?)?;
        let energy = Parameter::PLATEAU_ACTIVATION.range.typical;
        let kinetics = Kinetics::builder()
            .oxidation(rate.typical)
            .activation_energy_kj_per_mol(energy, air.temperature())
            .build()?;
        World::with(ink, bottle, events, Draw::Typical, kinetics, 0.0)
    }

    fn with(
        ink: &StoredInk,
        bottle: &Bottle,
        events: &'e [Event],
        draw: Draw,
        kinetics: Kinetics,
        electrons: f64,
    ) -> Result<Self, OxidationError> {
        let first = bottle.air_in_month(0.0).dissolving(ink.dissolving);
        let vessel = vessel(bottle, first, draw)?;
        let fill = bottle.fill().value;
        let amount = |concentration: f64| moles(concentration * fill);
        let saturated = Contents::default().saturated(&vessel);
        let contents = Contents {
            iron_ii: amount(ink.iron_ii),
            iron_iii: amount(ink.iron_iii),
            phenol_electrons: amount(electrons),
            scavenger: amount(ink.scavenger),
            oxygen_dissolved: if bottle.degassed {
                AmountOfSubstance::default()
            } else {
                saturated.oxygen_dissolved
            },
            oxygen_gas: saturated.oxygen_gas * (1.0 - bottle.flushed),
            ..Contents::default()
        };
        Ok(World {
            vessel,
            kinetics,
            contents,
            events,
            watched: Share::new(1.0 - bottle.stated.value())?,
            interval: bottle.interval,
            galloyl: ink.galloyl,
        })
    }

    /// The bottle at each of these times and what has become of the ink by the
    /// last of them.
    pub(super) fn follow(
        &self,
        times: &[Time],
        mut visit: impl FnMut(usize, &Moment),
    ) -> Result<Outcome, OxidationError> {
        let mut last = None;
        let summary = Course::new(self.vessel, self.kinetics, self.contents)
            .with_events(self.events)?
            .with_tolerance(TOLERANCE)?
            .watch(times, Some(self.watched), |i, moment| {
                last = Some(*moment);
                visit(i, moment);
            })?;
        let end = last.unwrap_or(Moment {
            at: Time::new::<second>(0.0),
            contents: self.contents,
            liquid: self.vessel.liquid(),
            gas: self.vessel.gas(),
        });
        let reached = summary.reached;
        Ok(Outcome {
            time_to_share: reached,
            openings_to_share: reached.map(|t| {
                self.interval.map_or(0, |every| {
                    libm::floor(t.value / every * (1.0 + 1e-12)) as u64
                })
            }),
            ..self.outcome(&end)
        })
    }

    /// What has become of the ink at each of these times.
    pub(super) fn outcomes(&self, times: &[Time]) -> Result<Vec<Outcome>, OxidationError> {
        let mut outcomes = Vec::with_capacity(times.len());
        self.follow(times, |_, moment| outcomes.push(self.outcome(moment)))?;
        Ok(outcomes)
    }

    /// What has become of the ink at one moment.
    pub(super) fn outcome(&self, moment: &Moment) -> Outcome {
        let concentration = |amount: AmountOfSubstance| amount.value / moment.liquid.value;
        let first = |amount: AmountOfSubstance| amount.value / self.vessel.liquid().value;
        let now = &moment.contents;
        let share = |part: f64, whole: f64| {
            let share = if whole > 0.0 { part / whole } else { 1.0 };
            Share::new(share.clamp(0.0, 1.0)).unwrap_or(Share::ONE)
        };
        let iron_ii = first(self.contents.iron_ii);
        let iron = iron_ii + first(self.contents.iron_iii);
        let settled = concentration(now.sediment).min(self.galloyl);
        let iron_iii = concentration(now.iron_iii) + concentration(now.sediment) - settled;
        let dissolved = concentration(now.iron_ii) + iron_iii;
        let molar = |value: f64| MolarConcentration::new::<mole_per_cubic_meter>(value);
        Outcome {
            lost: share(iron_ii - concentration(now.iron_ii), iron_ii),
            time_to_share: None,
            openings_to_share: None,
            iron_left: share(dissolved, iron),
            sediment: molar(settled),
            iron_iii: molar(iron_iii),
            tannin_left: share(
                concentration(now.phenol_electrons),
                first(self.contents.phenol_electrons),
            ),
        }
    }
}

/// What happens to the bottle, with the air that this ink meets.
pub(super) fn events_into(
    events: &mut Vec<Event>,
    ink: &StoredInk,
    bottle: &Bottle,
    waits: f64,
) -> Result<(), OxidationError> {
    bottle.events_into(events, waits)?;
    for event in events {
        if let Act::Change(change) = &mut event.act {
            change.air = change.air.map(|air| air.dissolving(ink.dissolving));
        }
    }
    Ok(())
}

/// Share of iron(III) that tannin leaves in wine, in one world.
pub(super) fn steady_share(ink: &StoredInk, draw: Draw) -> f64 {
    draw.within(ink.steady, Unknown::SteadyShare)
}

fn kinetics(
    ink: &StoredInk,
    air: Air,
    electrons: f64,
    draw: Draw,
) -> Result<Kinetics, OxidationError> {
    let temperature = air.temperature();
    let inorganic = InorganicRate::at(&ink.milieu(temperature)?)?;
    let span = Range::new(
        inorganic.low.in_l_per_mol_s(),
        inorganic.typical.in_l_per_mol_s(),
        inorganic.high.in_l_per_mol_s(),
    );
    let mut k1 = draw.within_log(span, Unknown::Inorganic);
    let assisted = &ink.assisted;
    let tannin = ink.galloyl > LEAST_PHENOL;
    if tannin {
        let z = |unknown| draw.deviations(unknown).clamp(-10.0, 10.0);
        let constant = assisted.constant_at(
            ink.ph,
            temperature,
            z(Unknown::Assisted),
            z(Unknown::AcidOrder),
            z(Unknown::Activation),
        )?;
        // Iron that no tannin holds goes at the inorganic pace.
        let held = (ink.galloyl / ink.iron_ii).min(1.0);
        k1 += held * constant.in_l_per_mol_s();
    }
    let oxidation = SecondOrder::l_per_mol_s(k1)?;
    let activation = draw.within(assisted.activation_kj_per_mol(), Unknown::Activation);
    let mut kinetics = Kinetics::builder()
        .oxidation(oxidation)
        .metal(ink.nail)
        .scavenging(
            SecondOrder::l_per_mol_s(
                draw.parameter_log(Parameter::SCAVENGER_CONSTANT, Unknown::Scavenging),
            )?,
            ink.oxygen_per_scavenger,
        )
        .activation_energy_kj_per_mol(activation, temperature);
    if tannin {
        // How fast phenol reduces does not hang on how fast oxygen oxidises:
        // the rate is that of the wine in which the share was found.
        let share = steady_share(ink, draw);
        let wine = SecondOrder::l_per_mol_s(Parameter::WINE_OXIDATION.range.typical)?;
        // Where there is less than in wine, there is less to meet.
        let phenol = MolarConcentration::new::<mole_per_cubic_meter>(electrons.max(WINE_PHENOL));
        let settling = draw.parameter_log(Parameter::SETTLING_CONSTANT, Unknown::Settling);
        let at_ph_2 = draw.parameter_log(Parameter::SOLUBLE_IRON_III, Unknown::Soluble);
        let order = draw.parameter(Parameter::SETTLING_ACID_ORDER, Unknown::SettlingOrder);
        let soluble = (at_ph_2 * libm::exp10(order * (2.0 - ink.ph))).min(MOST_SOLUBLE);
        let rest = draw.parameter(Parameter::REST_FROM_PHENOL, Unknown::RestFromPhenol);
        kinetics = kinetics
            .reduction(reduction_for_steady_share(
                wine,
                air.dissolved(),
                phenol,
                Share::new(share)?,
            )?)
            .settling(
                FirstOrder::per_second(settling)?,
                MolarConcentration::new::<mole_per_cubic_meter>(soluble * 1000.0),
            )
            .iron_per_oxygen(draw.parameter(Parameter::IRON_PER_OXYGEN, Unknown::IronPerOxygen))
            .rest_from_phenol(Share::new(rest)?);
    }
    kinetics.build()
}

fn vessel(bottle: &Bottle, first: Air, draw: Draw) -> Result<Vessel, OxidationError> {
    let gas = bottle.capacity() - bottle.fill();
    // Transfer coefficients stand at 20 °C; the vessel warms them.
    let at_20 = first.at_temperature(celsius(20.0)).unwrap_or(first);
    let closure = bottle.closure();
    let span = Range::new(
        closure.low.in_mol_per_second_atm(),
        closure.typical.in_mol_per_second_atm(),
        closure.high.in_mol_per_second_atm(),
    );
    let conductance = draw
        .within_log(span, Unknown::Closure)
        .min(closure.high.in_mol_per_second_atm());
    // Never slower than by diffusion alone, where nothing moves.
    let depth = (bottle.fill().value / bottle.surface).clamp(1e-6, 10.0);
    let still =
        depth / still_water_time(millimeters(depth * 1e3), bottle.air().temperature())?.value;
    let stirred = draw.parameter_log(Parameter::TRANSFER_COEFFICIENT, Unknown::Transfer);
    let transfer = stirred.max(still) * bottle.surface * bottle.uncovered;
    Ok(Vessel::closed(bottle.fill(), gas, at_20)?
        .transfer(VolumeRate::new::<cubic_meter_per_second>(transfer))?
        .conductance(Conductance::mol_per_second_atm(conductance)?)
        .breathing(FirstOrder::per_second(bottle.breathing)?)
        .in_air(first))
}
