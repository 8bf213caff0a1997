//! Which bottles for a store of ink.

use super::estimate::Forecaster;
use super::ink::StoredInk;
use crate::oxidation::OxidationError;
use crate::oxidation::bottle::{Bottle, BottleBuilder};
use crate::quantity::{Share, Time, Volume, within};
use uom::si::time::second;
use uom::si::volume::cubic_meter;

/// Openings of a bottle that are looked at for the mean over its ink.
const MOST_LOOKS: f64 = 100.0;

/// A store of ink in bottles of one size, used one after the other.
///
/// ```
/// use ferrogall::oxidation::{BottleBuilder, StoredInk, rank_bottles};
/// use ferrogall::quantity::{days, milliliters, moles_per_liter, Share};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let weekly = |b: BottleBuilder| b.opened_every(days(7.0)).drawn_per_opening(milliliters(1.0));
/// let sizes = [30.0, 100.0, 250.0].map(milliliters);
/// let ranked = rank_bottles(&ink, milliliters(200.0), Share::percent(95.0)?, &sizes, weekly)?;
/// assert_eq!(ranked[0].bottles, 8); // of 30 mL: the small ones keep it best
/// assert!(ranked[2].lost_in_use > ranked[0].lost_in_use);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct BottleChoice {
    /// Brimful capacity of each.
    pub capacity: Volume,
    /// Ink in each at filling.
    pub fill: Volume,
    /// How many.
    pub bottles: u64,
    /// How long the last one waits unopened.
    pub waits: Time,
    /// Share of the iron(II) lost by the time it is written with, in the mean
    /// over the ink of the last bottle, every unknown at its typical value.
    pub lost_in_use: Share,
    /// Upper bound of the same.
    pub bound: Share,
}

/// The sizes in which a store keeps best, the best first: by what is lost of
/// the ink of the last bottle as it is used, then by the bound, then by fewer
/// bottles. The dregs of every bottle are bad; the mean is what is written with.
/// `used` says how a bottle is used; `filled_to` (0.1 to 1) how full it is.
///
/// # Errors
/// [`OxidationError::OutOfRange`] for a use that does not open the bottle, or
/// draws nothing; more than ten thousand bottles; and as
/// [`Forecaster::forecast`](crate::oxidation::Forecaster::forecast).
pub fn rank_bottles(
    ink: &StoredInk,
    store: Volume,
    filled_to: Share,
    capacities: &[Volume],
    used: impl Fn(BottleBuilder) -> BottleBuilder,
) -> Result<Vec<BottleChoice>, OxidationError> {
    let filled_to = within("share filled", filled_to.value(), 0.1, 1.0, "")?;
    let one = |&capacity: &Volume| {
        let most = Volume::new::<cubic_meter>(capacity.value * filled_to);
        let fill = if store < most { store } else { most };
        let bottle = used(ink.bottle(capacity, fill)).build()?;
        choice(ink, store, &bottle)
    };
    let mut choices: Vec<BottleChoice> = capacities.iter().map(one).collect::<Result<_, _>>()?;
    choices.sort_by(|a, b| {
        (a.lost_in_use.value().total_cmp(&b.lost_in_use.value()))
            .then(a.bound.value().total_cmp(&b.bound.value()))
            .then(a.bottles.cmp(&b.bottles))
    });
    Ok(choices)
}

fn choice(ink: &StoredInk, store: Volume, bottle: &Bottle) -> Result<BottleChoice, OxidationError> {
    let fill = bottle.fill().value;
    let bottles = within(
        "number of bottles",
        libm::ceil(store.value / fill * (1.0 - 1e-9)),
        1.0,
        1e4,
        "",
    )?;
    let every = bottle.interval.unwrap_or(0.0);
    within("time between openings", every, 60.0, 3.2e10, "s")?;
    within(
        "ink per opening",
        bottle.draw * 1e6,
        1e-9 * fill,
        fill * 1e6,
        "mL",
    )?;
    // The last opening takes what is left.
    let draws = bottle.last_opening() + 1.0;
    let emptied = draws * every;
    let whole = bottle.kept_until(Time::new::<second>(emptied));
    let waits = (bottles - 1.0) * emptied;
    let forecaster = Forecaster::waiting(ink, &whole, waits)?;

    let looks = draws.min(MOST_LOOKS);
    let drawn_at: Vec<f64> = (1..=looks as usize)
        .map(|look| libm::ceil(look as f64 * draws / looks * (1.0 - 1e-12)))
        .collect();
    let weight = |&draw: &f64| (fill - (draw - 1.0) * bottle.draw).clamp(0.0, bottle.draw);
    let all: f64 = drawn_at.iter().map(weight).sum();
    let mean = |shares: &mut dyn Iterator<Item = f64>| {
        let sum: f64 = shares
            .zip(drawn_at.iter().map(weight))
            .map(|(s, w)| s * w)
            .sum();
        Share::new((sum / all).clamp(0.0, 1.0)).unwrap_or(Share::ONE)
    };
    let used = drawn_at.iter().map(|draw| draw * every);
    let times: Vec<Time> = used
        .clone()
        .map(|t| Time::new::<second>(waits + t))
        .collect();
    let outcomes = forecaster.outcomes(&times)?;
    Ok(BottleChoice {
        capacity: bottle.capacity(),
        fill: bottle.fill(),
        bottles: bottles as u64,
        waits: Time::new::<second>(waits),
        lost_in_use: mean(&mut outcomes.iter().map(|o| o.lost.value())),
        bound: mean(&mut used.map(|t| forecaster.bound_at(t))),
    })
}
