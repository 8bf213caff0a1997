//! A maker's own observations, and what they say of the rate.

use super::draw::Draw;
use super::estimate::Forecaster;
use super::ink::StoredInk;
use super::run::{Outcome, steady_share};
use crate::oxidation::bottle::Bottle;
use crate::oxidation::{Assisted, OxidationError, Parameter, SecondOrder};
use crate::quantity::{Share, Time, within};
use crate::source::Range;
use uom::si::time::second;

/// Points at which the rate is tried, over this many standard deviations of
/// what was thought of it before.
const POINTS: usize = 61;
const REACH: f64 = 4.0;
/// Worlds that differ in everything but the rate, for each point.
const WORLDS: u32 = 63;
/// Step from one of those worlds to the next; it has no factor in common with
/// their number.
const STRIDE: usize = 25;
/// An observation far from what any world can do must not rule all of them out.
const WORST: f64 = 30.0;

/// Something seen of an ink in its bottle.
///
/// Titrate the iron(II) of the *salt* or of a stock solution; in the finished
/// ink tannin takes up permanganate and dichromate too.
///
/// ```
/// use ferrogall::oxidation::{Seen, Sighting};
/// use ferrogall::quantity::{days, Share};
/// let titrated = Sighting {
///     at: days(60.0),
///     seen: Seen::IronII { left: Share::percent(88.0)?, u: 0.03 },
/// };
/// assert_eq!(titrated.at, days(60.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sighting {
    /// When, since filling.
    pub at: Time,
    /// What.
    pub seen: Seen,
}

/// What was seen.
///
/// ```
/// use ferrogall::oxidation::Seen;
/// assert_eq!(Seen::HALF_STRENGTH, Seen::Strength { left: ferrogall::quantity::Share::new(0.5)?, u: 0.1 });
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Seen {
    /// Iron(II) as a share of that at filling.
    IronII {
        /// The share.
        left: Share,
        /// Its standard uncertainty, 0.001 to 0.5.
        u: f64,
    },
    /// Iron in solution, of both kinds, as a share of that at filling: colour
    /// of the filtered ink, or total iron.
    Strength {
        /// The share.
        left: Share,
        /// Its standard uncertainty, 0.001 to 0.5.
        u: f64,
    },
    /// Sediment was noticed for the first time.
    FirstSediment,
}

/// An uncertainty with that of the model added.
fn blurred(u: f64) -> f64 {
    let model = Parameter::MODEL_ERROR.range.typical;
    libm::sqrt(u * u + model * model)
}

impl Seen {
    /// The ink writes half as dark, to the eye.
    pub const HALF_STRENGTH: Seen = Seen::Strength {
        left: Share::HALF,
        u: 0.1,
    };

    /// How far an outcome is from it, in standard deviations.
    fn miss(&self, outcome: &Outcome) -> f64 {
        match self {
            Seen::IronII { left, u } => (1.0 - outcome.lost.value() - left.value()) / blurred(*u),
            Seen::Strength { left, u } => (outcome.iron_left.value() - left.value()) / blurred(*u),
            Seen::FirstSediment => {
                let settled = 1.0 - outcome.iron_left.value();
                let visible = Parameter::VISIBLE_SEDIMENT.range;
                libm::log(settled.max(1e-12) / visible.typical)
                    / libm::log(visible.max / visible.typical)
            }
        }
    }

    fn checked(&self) -> Result<(), OxidationError> {
        if let Seen::IronII { u, .. } | Seen::Strength { u, .. } = self {
            within("uncertainty of an observation", *u, 1e-3, 0.5, "")?;
        }
        Ok(())
    }
}

/// What observations say of the rates in an ink.
///
/// ```
/// use ferrogall::oxidation::{fit, Forecast, Seen, Sighting, StoredInk};
/// use ferrogall::quantity::{days, milliliters, moles_per_liter, Share};
/// let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
/// let bottle = ink.bottle(milliliters(60.0), milliliters(30.0)).build()?;
/// let titrated = |day: f64, percent: f64| -> Result<Sighting, Box<dyn std::error::Error>> {
///     let left = Share::percent(percent)?;
///     Ok(Sighting { at: days(day), seen: Seen::IronII { left, u: 0.02 } })
/// };
/// let seen = [titrated(30.0, 70.0)?, titrated(60.0, 55.0)?];
/// let found = fit(&ink, &bottle, &seen)?;
/// assert!(found.assisted.factor_95() < ink.assisted().factor_95());
/// // The next forecast is the maker's own, and says more.
/// let own = Forecast::of(&ink.with_fit(&found), &bottle)?.estimate.time_to_share;
/// let any = Forecast::of(&ink, &bottle)?.estimate.time_to_share;
/// assert!(own.low > any.low);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Fit {
    /// The rate as it is known now: its median, and the factor that holds 95 %,
    /// at the pH of the ink and the temperature of the bottle.
    pub assisted: Assisted,
    /// How far tannin undoes the oxidation, as
    /// [`Parameter::STEADY_IRON_III_SHARE`]: 1 throughout when the observations
    /// are better accounted for without.
    pub steady_share: Range,
    /// How likely it is that tannin undoes some of it at all, 0 to 1: the rate
    /// above goes with the likelier of the two.
    pub undone: f64,
    /// How far the observations are from the closest world, as a root mean
    /// square in their standard deviations and that of the model: beyond about 2 they contradict the model,
    /// or each other.
    pub misfit: f64,
    /// By what the spread of log k has shrunk: 1 is not at all, near 0 a lot.
    pub shrunk_to: f64,
    pub(super) worlds: Believed,
}

/// Worlds that account for what was seen, as often as they deserve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Believed {
    best: Rated,
    drawn: [Rated; WORLDS as usize],
}

/// A rate, how far tannin undoes it, and the draw of everything else that goes
/// with the two.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rated {
    assisted: Assisted,
    steady: f64,
    world: u32,
}

/// A rate in L/(mol s), a steady share, and the number of a draw.
#[cfg(feature = "capi")]
pub(crate) type Plain = (f64, f64, u32);

#[cfg(feature = "capi")]
impl Fit {
    /// Its worlds as plain numbers, the best first; at pH and temperature of
    /// [`assisted`](Self::assisted).
    pub(crate) fn plain(&self) -> [Plain; WORLDS as usize + 1] {
        let plain = |r: &Rated| (r.assisted.median().in_l_per_mol_s(), r.steady, r.world);
        let mut pairs = [plain(&self.worlds.best); WORLDS as usize + 1];
        for (pair, rated) in pairs[1..].iter_mut().zip(&self.worlds.drawn) {
            *pair = plain(rated);
        }
        pairs
    }

    /// The same fit from plain numbers; the rest of it is not known any more.
    pub(crate) fn from_plain(
        assisted: Assisted,
        steady_share: Range,
        pairs: &[Plain; WORLDS as usize + 1],
    ) -> Result<Fit, OxidationError> {
        let at = (assisted.reference_ph(), assisted.reference_temperature());
        let rated = |&(k, steady, world): &Plain| -> Result<Rated, OxidationError> {
            let steady = within("steady share of iron(III)", steady, 0.01, 1.0, "")?;
            let known = Assisted::known(SecondOrder::l_per_mol_s(k)?, 1.0)?;
            Ok(Rated {
                assisted: known.found_at(at.0, at.1)?,
                steady,
                world,
            })
        };
        let best = rated(&pairs[0])?;
        let mut drawn = [best; WORLDS as usize];
        for (slot, pair) in drawn.iter_mut().zip(&pairs[1..]) {
            *slot = rated(pair)?;
        }
        Ok(Fit {
            assisted,
            steady_share,
            undone: f64::NAN,
            misfit: f64::NAN,
            shrunk_to: f64::NAN,
            worlds: Believed { best, drawn },
        })
    }
}

impl StoredInk {
    /// Ink and draw of one world: where something was seen, one of those that
    /// account for it.
    pub(super) fn in_world(&self, draw: Draw) -> (StoredInk, Draw) {
        let Some(worlds) = &self.believed else {
            return (*self, draw);
        };
        let rated = match draw {
            Draw::Typical => &worlds.best,
            // Worlds stand in order; a few of them must come from everywhere.
            Draw::Nth(n) => {
                &worlds.drawn[(n as usize % worlds.drawn.len()) * STRIDE % worlds.drawn.len()]
            }
        };
        let ink = StoredInk {
            steady: Range::exact(rated.steady),
            ..self.with_assisted(rated.assisted)
        };
        (ink, Draw::Nth(rated.world))
    }

    /// With what one's own observations say of it. Its worlds are from now on
    /// those 63 that account for them best, and its typical world the best of
    /// these, until something else is [said](StoredInk::with_assisted) of its
    /// rate.
    #[must_use]
    pub fn with_fit(self, found: &Fit) -> Self {
        StoredInk {
            assisted: found.assisted,
            steady: found.steady_share,
            believed: Some(found.worlds),
            ..self
        }
    }
}

/// The rates of an ink from what was seen of it in a bottle.
///
/// Bayes on a grid: what was known before (the ink's own [`Assisted`]) times
/// how well a rate accounts for the observations, the other unknowns drawn in
/// 63 worlds each. Deterministic.
///
/// Little loss of iron(II) can come of a slow reaction, or of a fast one that
/// tannin undoes at its own cost. The two are weighed against each other, and
/// the likelier one is given; [`Fit::undone`] says how sure that is. A look at
/// the strength of the filtered ink tells them apart.
///
/// # Errors
/// [`OxidationError::OutOfRange`] for no observation or more than a thousand,
/// for a time after the bottle is empty or no longer kept, for an uncertainty
/// out of its range, and for an ink without tannin; times must not fall.
pub fn fit(ink: &StoredInk, bottle: &Bottle, seen: &[Sighting]) -> Result<Fit, OxidationError> {
    within("observations", seen.len() as f64, 1.0, 1000.0, "")?;
    let galloyl = ink.galloyl / 1000.0;
    within("galloyl units", galloyl, 1e-6, 10.0, "mol/L")?;
    let last = bottle.in_use().1;
    for sighting in seen {
        within("time of an observation", sighting.at.value, 0.0, last, "s")?;
        sighting.seen.checked()?;
    }
    let times: Vec<Time> = seen.iter().map(|s| s.at).collect();
    // Nothing after the last observation matters.
    let until = times.last().copied().unwrap_or(Time::new::<second>(0.0));
    let bottle = bottle.kept_until(until);

    let temperature = bottle.air().temperature();
    let prior = ink.assisted();
    let middle = prior.constant_at(ink.ph, temperature, 0.0, 0.0, 0.0)?;
    let spread = prior.log10_u().max(1e-6);
    let grid = Grid::new(libm::log10(middle.in_l_per_mol_s()), spread);
    let known = |i: usize| Assisted::known(grid.rate(i)?, 1.0)?.found_at(ink.ph, temperature);
    let mut squares = Vec::with_capacity(POINTS);
    for i in 0..POINTS {
        let trial = Forecaster::new(&ink.with_assisted(known(i)?), &bottle)?;
        squares.push(trial.each(WORLDS, |world| {
            let mut sum = 0.0;
            world.follow(&times, |n, moment| {
                let miss = seen[n].seen.miss(&world.outcome(moment));
                sum += miss.clamp(-WORST, WORST) * miss.clamp(-WORST, WORST);
            })?;
            Ok(sum)
        })?);
    }
    let best = squares
        .iter()
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    // Belief in a rate and a world together.
    let belief = |i: usize, n: usize| grid.before[i] * libm::exp(-0.5 * (squares[i][n] - best));
    let shares: Vec<f64> = (0..WORLDS)
        .map(|n| steady_share(ink, Draw::Nth(n)))
        .collect();
    let rated = |i: usize, n: usize| -> Result<Rated, OxidationError> {
        Ok(Rated {
            assisted: known(i)?,
            steady: shares[n],
            world: n as u32,
        })
    };
    let worlds = believed(belief, rated)?;
    let in_worlds = |i: usize, undone: bool| -> f64 {
        let of_kind = |&n: &usize| (shares[n] < 1.0) == undone;
        (0..shares.len())
            .filter(of_kind)
            .map(|n| belief(i, n))
            .sum()
    };
    let rates = [false, true]
        .map(|undone| core::array::from_fn::<f64, POINTS, _>(|i| in_worlds(i, undone)));
    let [plain, undoing] = [0, 1].map(|kind: usize| rates[kind].iter().sum::<f64>());
    let undone = undoing / (plain + undoing);

    let likelier = usize::from(undone > 0.5);
    let [low, median, high] = [0.025, 0.5, 0.975].map(|part| grid.quantile(&rates[likelier], part));
    let factor = libm::exp10(0.5 * (high - low)).clamp(1.0, 1e6);
    let median = SecondOrder::l_per_mol_s(libm::exp10(median).clamp(1e-12, 1e9))?;
    let assisted = Assisted::known(median, factor)?.found_at(ink.ph, temperature)?;
    let mut by_share: Vec<(f64, f64)> = (0..shares.len())
        .filter(|&n| shares[n] < 1.0)
        .map(|n| (shares[n], (0..POINTS).map(|i| belief(i, n)).sum()))
        .collect();
    Ok(Fit {
        assisted,
        steady_share: if undone > 0.5 {
            let [min, typical, max] = weighted_quantiles(&mut by_share, [0.025, 0.5, 0.975]);
            Range::new(min, typical, max)
        } else {
            Range::exact(1.0)
        },
        undone,
        misfit: libm::sqrt(best / seen.len() as f64),
        shrunk_to: assisted.log10_u() / spread,
        worlds,
    })
}

/// The best pair of a rate and a world, and as many pairs as there are worlds,
/// spread evenly over all belief.
fn believed(
    belief: impl Fn(usize, usize) -> f64,
    rated: impl Fn(usize, usize) -> Result<Rated, OxidationError>,
) -> Result<Believed, OxidationError> {
    let pairs = || (0..WORLDS as usize).flat_map(|n| (0..POINTS).map(move |i| (i, n)));
    let all: f64 = pairs().map(|(i, n)| belief(i, n)).sum();
    let mut best = (0.0, (POINTS / 2, 0));
    let mut drawn = [rated(POINTS / 2, 0)?; WORLDS as usize];
    let (mut below, mut filled) = (0.0, 0);
    for (i, n) in pairs() {
        let weight = belief(i, n);
        if weight > best.0 {
            best = (weight, (i, n));
        }
        below += weight;
        while filled < drawn.len() && below > (filled as f64 + 0.5) / drawn.len() as f64 * all {
            drawn[filled] = rated(i, n)?;
            filled += 1;
        }
    }
    let (i, n) = best.1;
    Ok(Believed {
        best: rated(i, n)?,
        drawn,
    })
}

/// Values of log10 k, evenly spaced.
struct Grid {
    first: f64,
    step: f64,
    /// Belief in each before anything is seen: a normal distribution.
    before: [f64; POINTS],
}

impl Grid {
    fn new(middle: f64, spread: f64) -> Grid {
        let step = 2.0 * REACH / (POINTS - 1) as f64;
        let z = |i: usize| -REACH + step * i as f64;
        Grid {
            first: middle - REACH * spread,
            step: step * spread,
            before: core::array::from_fn(|i| libm::exp(-0.5 * z(i) * z(i))),
        }
    }

    fn at(&self, i: usize) -> f64 {
        self.first + self.step * i as f64
    }

    /// The rate at a point, as far as a rate can be known.
    fn rate(&self, i: usize) -> Result<SecondOrder, OxidationError> {
        SecondOrder::l_per_mol_s(libm::exp10(self.at(i)).clamp(1e-12, 1e9))
    }

    /// Where this part of the belief lies below, straight between the points.
    fn quantile(&self, belief: &[f64; POINTS], part: f64) -> f64 {
        let slice = |w: &[f64]| 0.5 * (w[0] + w[1]);
        let wanted = part * belief.windows(2).map(slice).sum::<f64>();
        let mut below = 0.0;
        for (i, slice) in belief.windows(2).map(slice).enumerate() {
            if below + slice >= wanted {
                let within = if slice > 0.0 {
                    (wanted - below) / slice
                } else {
                    0.5
                };
                return self.at(i) + within * self.step;
            }
            below += slice;
        }
        self.at(POINTS - 1)
    }
}

/// Values below which these parts of all weight lie; the values get sorted.
fn weighted_quantiles<const N: usize>(pairs: &mut [(f64, f64)], parts: [f64; N]) -> [f64; N] {
    pairs.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let all: f64 = pairs.iter().map(|p| p.1).sum();
    parts.map(|part| {
        let mut below = 0.0;
        let reaches = pairs.iter().find(|(_, weight)| {
            below += weight;
            below >= part * all
        });
        reaches.or(pairs.last()).map_or(1.0, |p| p.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::oxidation::forecast::draw::Unknown;
    use crate::quantity::{days, milliliters, moles_per_liter};
    use crate::uncertainty::normal_quantile;

    /// Worlds that the fit does not know, observed with an error of 2 %: the
    /// rate behind them lies in the interval about as often as it says. (A hundred
    /// such worlds, tried once: 94. A coverage of 95 % gives less than 17 of 20
    /// once in sixty times.)
    #[test]
    fn the_interval_holds_the_rate_behind_the_observations() -> Result<(), OxidationError> {
        let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2)?;
        let bottle = ink.bottle(milliliters(60.0), milliliters(30.0)).build()?;
        let made = Forecaster::new(&ink, &bottle)?;
        let times = [3.0, 10.0, 30.0, 60.0].map(days);
        let mut golden = 0.123_f64;
        let mut noise = || {
            golden = (golden + 0.754_877_666_246_693).fract();
            0.02 * normal_quantile(golden)
        };
        let mut held = 0;
        for unseen in 5000..5020 {
            let draw = Draw::Nth(unseen);
            let world = made.world(draw)?;
            let mut seen = Vec::new();
            let mut look = |i: usize, left: f64| {
                let left = Share::new((left + noise()).clamp(0.0, 1.0)).unwrap_or(Share::ONE);
                let seen_then = Seen::IronII { left, u: 0.02 };
                seen.push(Sighting {
                    at: times[i],
                    seen: seen_then,
                });
            };
            world.follow(&times, |i, m| look(i, 1.0 - world.outcome(m).lost.value()))?;
            let z = |unknown| draw.deviations(unknown);
            let (rate, order) = (z(Unknown::Assisted), z(Unknown::AcidOrder));
            let temperature = bottle.air().temperature();
            let truth = ink
                .assisted()
                .constant_at(2.2, temperature, rate, order, 0.0);
            let found = fit(&ink, &bottle, &seen)?.assisted;
            let off = found.median().in_l_per_mol_s() / truth?.in_l_per_mol_s();
            if off.ln().abs() <= found.factor_95().ln() {
                held += 1;
            }
        }
        assert!(held >= 17, "{held} of 20");
        Ok(())
    }
}
