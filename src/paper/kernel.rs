//! One line, one draw of everything: iron(II) against time.
//!
//! d F/dt = −k(pH) c(O₂) w F, with the pH that base and acid give at the
//! time, w = 1 in the wet line and small in the dry one, and no faster than
//! oxygen crosses the wet film. Each step is the implicit midpoint rule on
//! the logarithm of F: exact where the rate stands still, and stable where
//! the line sits at the foot of its titration curve, so that the rate is let
//! out drop by drop as chalk dissolves. Nothing is allocated.

use super::titration::{NODES, Titration};

/// Longest time that is followed, s: beyond all reason, so that the slowest
/// lines can still be compared. Nothing so long is told to anybody.
const HORIZON: f64 = 1e16;
/// Longest and shortest step in parts of the time gone by.
const LONGEST: f64 = 0.05;
const SHORTEST: f64 = 0.001;
/// Before this (s) steps no longer shrink.
const BEGINNING: f64 = 1.0;
/// Turn-over within a step, where the step need not be shorter still.
const TURNOVER: f64 = 0.1;
/// How near the middle of a step is found.
const NEAR: f64 = 1e-5;
/// Iron(II) left over that counts as none.
const NOTHING: f64 = 1e-9;

/// Shares of iron(II) oxidised whose times are told.
pub(super) const LEVELS: [f64; 3] = [0.1, 0.5, 0.9];

/// What came of one line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    /// Times at which [`LEVELS`] are reached; infinite when they are not.
    pub reached: [f64; LEVELS.len()],
    /// Share oxidised when the line is dry.
    pub when_dry: f64,
}

/// Everything that sets the pace in one line, in SI units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line<'a> {
    pub titration: &'a Titration,
    /// Logarithm of the rate in air at each point of the titration, 1/s.
    pub ln_rate: [f64; NODES],
    /// Rate in air at the highest pH that chalk and paper give.
    pub most: f64,
    /// Base that the line meets, mol per m³ of ink.
    pub base: f64,
    /// Time in which it is taken up.
    pub neutralising: f64,
    /// Acid that leaves with the water, mol per m³ of ink.
    pub leaving: f64,
    /// Time until it is dry.
    pub drying: f64,
    /// Rate in the dry line over that in the wet one.
    pub dampness: f64,
    /// Share of the iron(II) whose oxygen crosses the wet film in a second.
    pub supply: f64,
    /// Acid set free when all iron(II) is oxidised, mol per m³ of ink: two for
    /// each, bound to tannin or, where that is short, hydrolysed.
    pub set_free: f64,
}

impl Line<'_> {
    /// Base in the line at a time, with a share of the iron(II) left.
    pub fn base_at(&self, t: f64, left: f64) -> f64 {
        let taken = -libm::expm1(-t / self.neutralising);
        let gone = -libm::expm1(-t / self.drying);
        self.base * taken + self.leaving * gone - self.set_free * (1.0 - left)
    }

    /// Turn-over of iron(II) where oxygen is at hand, 1/s.
    fn rate(&self, t: f64, left: f64, wet: bool) -> f64 {
        let (i, on) = self.titration.place(self.base_at(t, left));
        let ln = self.ln_rate[i] + on * (self.ln_rate[i + 1] - self.ln_rate[i]);
        let in_air = libm::exp(ln).min(self.most);
        if wet { in_air } else { in_air * self.dampness }
    }

    /// The turn-over at which a step uses up the oxygen that crosses the film.
    fn supply_rate(&self, step: f64, left: f64, wet: bool) -> f64 {
        let share = self.supply * step / left;
        if wet && share < 1.0 {
            -libm::log1p(-share) / step
        } else {
            f64::INFINITY
        }
    }

    /// Fills in the share oxidised at each time (s, rising).
    pub fn run(&self, times: &[f64], shares: &mut [f64]) -> Run {
        let mut reached = [f64::INFINITY; LEVELS.len()];
        let mut when_dry = None;
        let (mut t, mut left) = (0.0, 1.0_f64);
        // Times at the very start need no step.
        let mut told = times.partition_point(|at| *at <= 0.0);
        shares[..told].fill(0.0);
        while told < times.len() || (left > 1.0 - LEVELS[2] && t < HORIZON) {
            if left < NOTHING {
                left = 0.0;
                shares[told..].fill(1.0);
                break;
            }
            let wet = t < self.drying;
            let mut end = t + self.step(t, left, wet);
            if let Some(next) = times.get(told) {
                end = end.min(*next);
            }
            if wet {
                end = end.min(self.drying);
            }
            let rate = self.midpoint(t, end - t, left, wet);
            let after = left * libm::exp(-rate * (end - t));
            for (time, level) in reached.iter_mut().zip(LEVELS) {
                if time.is_infinite() && after <= 1.0 - level {
                    *time = (t + libm::log(left / (1.0 - level)) / rate).min(end);
                }
            }
            (t, left) = (end, after);
            if wet && t >= self.drying {
                when_dry = Some(1.0 - left);
            }
            while times.get(told).is_some_and(|at| *at <= t) {
                shares[told] = if left < NOTHING { 1.0 } else { 1.0 - left };
                told += 1;
            }
        }
        Run {
            reached,
            when_dry: when_dry.unwrap_or(1.0 - left),
        }
    }

    fn step(&self, t: f64, left: f64, wet: bool) -> f64 {
        let gone = t + BEGINNING;
        let by_rate = TURNOVER / self.rate(t, left, wet);
        by_rate.clamp(SHORTEST * gone, LONGEST * gone)
    }

    /// The rate in the middle of a step, where both time and iron stand half-way.
    fn midpoint(&self, t: f64, step: f64, left: f64, wet: bool) -> f64 {
        let half = 0.5 * step;
        let most = self.supply_rate(step, left, wet);
        let middle = |guess: f64| {
            let rate = self.rate(t + half, guess, wet).min(most);
            (rate, left * libm::exp(-rate * half))
        };
        // More iron left is a faster rate: the answer lies between a guess
        // and what follows from it, and mostly next to the first.
        let (mut low, mut high) = (middle(left).1, left);
        let (mut rate, follows) = middle(low);
        high = high.min(follows);
        for _ in 0..60 {
            if high - low <= NEAR * left {
                break;
            }
            let guess = 0.5 * (low + high);
            let (found, follows) = middle(guess);
            rate = found;
            if follows < guess {
                high = guess;
                low = low.max(follows);
            } else {
                low = guess;
                high = high.min(follows);
            }
        }
        rate
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An acid of which two hundred parts are neutralised across a steep foot.
    fn steep() -> Titration {
        let on = |i: usize| 2.0 * i as f64 / (NODES - 1) as f64 - 1.0;
        Titration {
            base: core::array::from_fn(|i| 100.0 * libm::atanh(0.999 * on(i)) / libm::atanh(0.999)),
            ph: core::array::from_fn(|i| 4.5 + 3.5 * on(i)),
            ink: 1.0,
        }
    }

    fn line(titration: &Titration, base: f64, supply: f64) -> Line<'_> {
        Line {
            titration,
            ln_rate: titration.ph.map(|ph| 2.5 * (ph - 4.5) - 7.0),
            most: 1.0,
            base,
            neutralising: 60.0,
            leaving: 10.0,
            drying: 300.0,
            dampness: 0.1,
            supply,
            set_free: 108.0,
        }
    }

    /// The same equation in a million small steps forward, oxygen's share of
    /// each step told apart.
    fn by_small_steps(line: &Line<'_>, times: &[f64]) -> Vec<f64> {
        let dt = 2e-3;
        let (mut n, mut left) = (0_u32, 1.0_f64);
        let mut shares = Vec::new();
        for at in times {
            while f64::from(n) * dt < *at {
                let t = f64::from(n) * dt;
                let wet = t < line.drying;
                let mut loss = line.rate(t, left, wet) * left;
                if wet {
                    loss = loss.min(line.supply);
                }
                left = (left - loss * dt).max(0.0);
                n += 1;
            }
            shares.push(1.0 - left);
        }
        shares
    }

    #[test]
    fn small_steps_forward_find_the_same() {
        let titration = steep();
        let times = [10.0, 60.0, 200.0, 300.0, 1000.0, 2000.0];
        // from a line that stays acid to one where chalk is to spare
        for (base, supply) in [
            (-40.0, 1e3),
            (20.0, 1e3),
            (60.0, 1e3),
            (60.0, 0.004),
            (160.0, 1e3),
        ] {
            let line = line(&titration, base, supply);
            let mut shares = [0.0; 6];
            line.run(&times, &mut shares);
            for (got, expected) in shares.iter().zip(by_small_steps(&line, &times)) {
                // steps of 5 % of the time gone by, of second order
                assert!(
                    (got - expected).abs() < 3e-4,
                    "{base} {supply}: {got} {expected}"
                );
            }
        }
    }
}
