//! What would make the ink keep longer, and by how much.

use super::estimate::{Forecaster, Spread, spread};
use super::ink::StoredInk;
use super::run::Outcome;
use crate::oxidation::bottle::{Bottle, checked_draw, coldest};
use crate::oxidation::{Closure, FirstOrder, OxidationError, Scavenger, scavengers};
use crate::quantity::{
    MassConcentration, Share, Temperature, Time, celsius, grams_per_liter, within,
};
use uom::si::time::second;

/// Something a maker can do about oxygen.
///
/// ```
/// use ferrogall::oxidation::Measure;
/// use ferrogall::quantity::Share;
/// let full = Measure::SmallerBottle { filled_to: Share::percent(95.0)? };
/// assert_eq!(full.id(), "smaller_bottle");
/// assert!(Measure::Acidify { to_ph: 1.8 }.caution().is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Measure {
    /// The same ink in a bottle that it fills to this share.
    SmallerBottle {
        /// Share of the capacity, above 0.
        filled_to: Share,
    },
    /// Glass beads take the place of what is drawn.
    Beads,
    /// Inert gas in the headspace at filling and at every closing.
    InertGas {
        /// Share of the air it replaces.
        replacing: Share,
    },
    /// A lid floats on the ink.
    FloatingLid {
        /// Share of the surface that stays free.
        leaving_free: Share,
    },
    /// Another closure, gas-tight if the closure is, and one that does not breathe.
    Closure(Closure),
    /// Opened at longer intervals, drawing as much more each time.
    OpenEvery(Time),
    /// Kept at another temperature.
    KeepAt(Temperature),
    /// Strong acid to this pH.
    Acidify {
        /// The pH.
        to_ph: f64,
    },
    /// A scavenger dissolved in the ink.
    Scavenge {
        /// Which.
        scavenger: Scavenger,
        /// How much.
        dose: MassConcentration,
    },
    /// A clean nail in the bottle.
    Nail {
        /// Rate at which it reduces iron(III); depends on its surface.
        rate: FirstOrder,
    },
}

impl Measure {
    /// The measures that could help this bottle: whatever it does not have yet.
    pub fn usual(ink: &StoredInk, bottle: &Bottle) -> Vec<Measure> {
        let share = |percent: f64| Share::percent(percent).unwrap_or(Share::ONE);
        let mut list = Vec::new();
        if bottle.fill < 0.94 * bottle.capacity {
            list.push(Measure::SmallerBottle {
                filled_to: share(95.0),
            });
        }
        if bottle.draw > 0.0 && !bottle.kept_full {
            list.push(Measure::Beads);
        }
        if bottle.flushed == 0.0 {
            list.push(Measure::InertGas {
                replacing: share(90.0),
            });
        }
        if bottle.uncovered > 0.05 {
            list.push(Measure::FloatingLid {
                leaving_free: share(5.0),
            });
        }
        if bottle.breathing > 0.0 || bottle.closure.high > Closure::SEALED_GLASS.high {
            list.push(Measure::Closure(Closure::SEALED_GLASS));
        }
        if let Some(interval) = bottle.interval {
            list.push(Measure::OpenEvery(Time::new::<second>(2.0 * interval)));
        }
        let cool = celsius(10.0);
        if bottle.air.temperature() > cool {
            list.push(Measure::KeepAt(cool));
        }
        if ink.ph > 1.5 {
            list.push(Measure::Acidify {
                to_ph: ink.ph - 0.5,
            });
        }
        if ink.scavenger == 0.0 {
            list.extend(
                scavengers()
                    .iter()
                    .find(|s| s.id == "ascorbic_acid")
                    .map(|s| Measure::Scavenge {
                        scavenger: *s,
                        dose: grams_per_liter(1.0),
                    }),
            );
        }
        list
    }

    /// Identifier.
    pub const fn id(&self) -> &'static str {
        match self {
            Measure::SmallerBottle { .. } => "smaller_bottle",
            Measure::Beads => "beads",
            Measure::InertGas { .. } => "inert_gas",
            Measure::FloatingLid { .. } => "floating_lid",
            Measure::Closure(_) => "closure",
            Measure::OpenEvery(_) => "open_less_often",
            Measure::KeepAt(_) => "keep_cool",
            Measure::Acidify { .. } => "acid",
            Measure::Scavenge { .. } => "scavenger",
            Measure::Nail { .. } => "nail",
        }
    }

    /// In words.
    pub fn in_words(&self) -> String {
        let percent = |s: &Share| libm::round(s.as_percent());
        match self {
            Measure::SmallerBottle { filled_to } => {
                format!("a smaller bottle, filled to {} %", percent(filled_to))
            }
            Measure::Beads => "glass beads for the ink that is drawn".to_owned(),
            Measure::InertGas { replacing } => {
                format!(
                    "inert gas for {} % of the air, at each closing",
                    percent(replacing)
                )
            }
            Measure::FloatingLid { leaving_free } => format!(
                "a floating lid that leaves {} % of the surface free",
                percent(leaving_free)
            ),
            Measure::Closure(closure) => format!("a tight closure: {}", closure.name),
            Measure::OpenEvery(time) => format!(
                "opened every {} days only, for as much ink",
                libm::round(time.value / 8640.0) / 10.0
            ),
            Measure::KeepAt(temperature) => {
                format!("kept at {} °C", libm::round(temperature.value - 273.15))
            }
            Measure::Acidify { to_ph } => {
                format!("strong acid to pH {}", libm::round(to_ph * 10.0) / 10.0)
            }
            Measure::Scavenge { scavenger, dose } => {
                format!(
                    "{} g/L of {}",
                    libm::round(dose.value * 10.0) / 10.0,
                    scavenger.name
                )
            }
            Measure::Nail { .. } => "a clean iron nail in the bottle".to_owned(),
        }
    }

    /// What to mind, beside what [`Scavenger`] rows say.
    pub const fn caution(&self) -> Option<&'static str> {
        match self {
            Measure::InertGas { .. } => Some(
                "nitrogen and argon suffocate: ventilate, and follow local rules for gas cylinders",
            ),
            Measure::Acidify { .. } => Some(
                "acid burns: goggles and gloves, acid into water; more acid in the ink is more acid in pen and paper",
            ),
            Measure::Scavenge { scavenger, .. } => Some(scavenger.note),
            Measure::Nail { .. } => Some(
                "iron in acid gives off hydrogen, which burns and bursts closed bottles: leave it vented, away from flames",
            ),
            _ => None,
        }
    }

    /// Ink and bottle with the measure taken.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for what cannot be: a bottle too small,
    /// a temperature or pH out of range.
    pub fn taken(
        &self,
        ink: &StoredInk,
        bottle: &Bottle,
    ) -> Result<(StoredInk, Bottle), OxidationError> {
        let (mut ink, mut bottle) = (*ink, *bottle);
        match self {
            Measure::SmallerBottle { filled_to } => {
                let share = within("share filled", filled_to.value(), 0.01, 1.0, "")?;
                let capacity = bottle.fill / share;
                // A round bottle of the same shape: area goes as volume to 2/3.
                let narrower = libm::cbrt(capacity / bottle.capacity);
                bottle.surface *= narrower * narrower;
                bottle.capacity = capacity;
            }
            Measure::Beads => bottle.kept_full = true,
            Measure::InertGas { replacing } => bottle.flushed = replacing.value(),
            Measure::FloatingLid { leaving_free } => bottle.uncovered = leaving_free.value(),
            Measure::Closure(closure) => {
                bottle.closure = *closure;
                bottle.breathing = 0.0;
            }
            Measure::OpenEvery(time) => {
                let every = within("time between openings", time.value, 60.0, 3.2e10, "s")?;
                if let Some(before) = bottle.interval {
                    let draw = (bottle.draw * every / before).min(bottle.fill);
                    if draw > 0.0 {
                        bottle.draw = checked_draw(draw, bottle.fill)?;
                    }
                    bottle.interval = Some(every);
                }
            }
            Measure::KeepAt(temperature) => {
                bottle.air = bottle.air.at_temperature(*temperature)?;
                bottle.coldest = coldest(bottle.air, bottle.season)?;
            }
            Measure::Acidify { to_ph } => ink = ink.at_ph(*to_ph)?,
            Measure::Scavenge { scavenger, dose } => ink = ink.with_scavenger(scavenger, *dose)?,
            Measure::Nail { rate } => ink = ink.with_nail(*rate),
        }
        Ok((ink, bottle))
    }
}

/// What one measure buys.
///
/// ```
/// use ferrogall::oxidation::{StoredInk, rank_measures, Measure};
/// use ferrogall::quantity::{days, milliliters, moles_per_liter};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink.bottle(milliliters(40.0), milliliters(30.0)).kept_for(days(90.0)).build()?;
/// let bought = rank_measures(&ink, &bottle, &Measure::usual(&ink, &bottle), 21)?;
/// assert!(bought.windows(2).all(|w| w[0].saved >= w[1].saved));
/// assert!(bought[0].saved > 0.05);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Bought {
    /// The measure.
    pub measure: Measure,
    /// When bottles are compared.
    pub compared_at: Time,
    /// What has become of the ink by then with it, every unknown at its typical
    /// value.
    pub typical: Outcome,
    /// Upper bound of the share lost with it.
    pub bound: Share,
    /// Share of the iron(II) that it saves, typically; below 0 it does harm.
    pub saved: f64,
    /// The same by 95 % of the draws, each world with and without it.
    pub saved_spread: Spread<f64>,
}

/// What each measure buys by itself, the best first; `draws` (1 to a million)
/// for the interval. Where nearly all would be lost in the end, with and
/// without, the end says nothing: bottles are compared when the one without any
/// measure has typically lost half, or in the end if that comes first.
///
/// # Errors
/// As [`Forecaster::forecast`](crate::oxidation::Forecaster::forecast) and [`Measure::taken`].
pub fn rank_measures(
    ink: &StoredInk,
    bottle: &Bottle,
    measures: &[Measure],
    draws: u32,
) -> Result<Vec<Bought>, OxidationError> {
    let bottle = &until_half_is_lost(ink, bottle)?;
    let without = Forecaster::new(ink, bottle)?;
    let (typical, drawn) = (without.typical()?, without.losses(draws)?);
    let one = |measure: &Measure| -> Result<Bought, OxidationError> {
        let (ink, changed) = measure.taken(ink, bottle)?;
        let with = Forecaster::new(&ink, &changed)?;
        let outcome = with.typical()?;
        let losses = with.losses(draws)?;
        let saved = drawn.iter().zip(&losses).map(|(a, b)| a - b).collect();
        Ok(Bought {
            measure: *measure,
            typical: outcome,
            compared_at: Time::new::<second>(bottle.in_use().1),
            bound: with.bottle().bound().share_after_duration,
            saved: typical.lost.value() - outcome.lost.value(),
            saved_spread: spread(saved),
        })
    };
    let mut bought: Vec<Bought> = measures.iter().map(one).collect::<Result<_, _>>()?;
    bought.sort_by(|a, b| b.saved.total_cmp(&a.saved));
    Ok(bought)
}

/// The bottle, kept no longer than it takes to lose half of the iron(II).
fn until_half_is_lost(ink: &StoredInk, bottle: &Bottle) -> Result<Bottle, OxidationError> {
    let watched = Bottle {
        stated: Share::HALF,
        ..*bottle
    };
    let typical = Forecaster::new(ink, &watched)?.typical()?;
    Ok(typical
        .time_to_share
        .map_or(*bottle, |half| bottle.kept_until(half)))
}
