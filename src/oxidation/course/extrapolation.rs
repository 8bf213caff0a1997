//! Extrapolated linearly implicit Euler steps with control of order and length.
//!
//! The Jacobian is that of the start of the step. What is extrapolated are the
//! extents of the reactions: a state is the start plus whole reactions, so that
//! rounding cannot upset the balances.

use super::system::{AMOUNTS, Extents, REACTIONS, Slopes, State, System};

/// Columns of the table at most; the steps of a column are its number plus one.
pub(super) const COLUMNS: usize = 9;
/// Part of the tolerated error that the next step is planned for.
const SAFETY: f64 = 0.9;
const AIM: f64 = 0.6;
/// A step grows or shrinks by no more than this.
const GROWTH: f64 = 40.0;
const SHRINK: f64 = 0.02;

/// What the difference of two neighbours is multiplied by: 1/(n/m - 1) for
/// rows of n and m steps.
const WEIGHTS: [[f64; COLUMNS]; COLUMNS] = {
    let mut weights = [[0.0; COLUMNS]; COLUMNS];
    let mut row = 1;
    while row < COLUMNS {
        let mut k = 0;
        while k < row {
            weights[row][k] = (row - k) as f64 / (k + 1) as f64;
            k += 1;
        }
        row += 1;
    }
    weights
};

/// Lower orders are not worth the bookkeeping.
const LEAST_ORDER: usize = 2;

/// Errors are measured against `tolerance · (|amount| + floor)`.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    pub(super) tolerance: f64,
    pub(super) floor: State,
}

impl Scale {
    /// The larger floor of each amount.
    pub(super) fn or(&self, other: &Scale) -> Scale {
        let mut larger = *self;
        for (floor, other) in larger.floor.iter_mut().zip(other.floor) {
            *floor = floor.max(other);
        }
        larger
    }

    /// Size of a difference of states, 1 being tolerable.
    fn error(&self, y: &State, after: &State, system: &System, miss: &Extents) -> f64 {
        let zero = [0.0; AMOUNTS];
        let miss = system.after(&zero, miss);
        let mut worst = 0.0_f64;
        for i in 0..AMOUNTS {
            let size = y[i].abs().max(after[i].abs()) + self.floor[i];
            let e = miss[i].abs() / (self.tolerance * size);
            // A NaN must not pass for a small error.
            worst = if e > worst || e.is_nan() { e } else { worst };
        }
        worst
    }
}

/// Where a step starts, and what all its rows share.
struct Start<'a> {
    system: &'a System,
    y: &'a State,
    first: Extents,
    slopes: Slopes,
}

impl<'a> Start<'a> {
    fn at(system: &'a System, y: &'a State) -> Self {
        Start {
            system,
            y,
            first: system.rates(y),
            slopes: system.slopes(y),
        }
    }
}

/// An accepted step.
pub(super) struct Step {
    pub(super) after: State,
    pub(super) taken: f64,
    /// Proposal for the next one.
    pub(super) next: f64,
}

/// The table, and the order that was best last time.
#[derive(Clone, Copy)]
pub(super) struct Extrapolation {
    table: [Extents; COLUMNS],
    order: usize,
    /// Order of the last accepted step.
    used: usize,
    pub(super) evaluations: u64,
}

impl Extrapolation {
    pub(super) fn new() -> Self {
        Extrapolation {
            table: [[0.0; REACTIONS]; COLUMNS],
            order: 3,
            used: 3,
            evaluations: 0,
        }
    }

    /// One row of the table: `row + 1` steps of equal length over `h`,
    /// extrapolated with the rows before. Gives the difference of the last two
    /// columns.
    #[inline]
    fn row(&mut self, from: &Start<'_>, h: f64, row: usize) -> Extents {
        let Start {
            system,
            y,
            first,
            slopes,
        } = from;
        let n = row + 1;
        let substep = h / n as f64;
        let at = system.factored(slopes, substep);
        let mut sum = system.implicit(&at, first);
        let mut rates;
        for _ in 1..n {
            let state = system.after(y, &sum.map(|e| e * substep));
            rates = system.implicit(&at, &system.rates(&state));
            for (s, r) in sum.iter_mut().zip(rates) {
                *s += r;
            }
        }
        self.evaluations += n as u64;
        let mut value = sum.map(|e| e * substep);
        let mut miss = [0.0; REACTIONS];
        // table[k] holds the previous row's column k on entry, this row's after.
        for (column, weight) in self.table[..row].iter_mut().zip(WEIGHTS[row]) {
            let before = core::mem::replace(column, value);
            for i in 0..REACTIONS {
                miss[i] = (value[i] - before[i]) * weight;
                value[i] += miss[i];
            }
        }
        self.table[row] = value;
        miss
    }

    /// The state `h` after `y`, of the order used last; for looking between steps.
    pub(super) fn glance(&mut self, system: &System, y: &State, h: f64) -> State {
        let from = Start::at(system, y);
        let order = self.used;
        for row in 0..=order {
            self.row(&from, h, row);
        }
        system.after(y, &self.table[order])
    }

    /// A step of length `h` at most; shorter when the error asks for it.
    /// `None` when it would have to be shorter than `least`.
    pub(super) fn step(
        &mut self,
        system: &System,
        y: &State,
        scale: &Scale,
        mut h: f64,
        least: f64,
    ) -> Option<Step> {
        let from = Start::at(system, y);
        let mut longest = f64::INFINITY;
        loop {
            let target = self.order;
            let mut best = Plan::NONE;
            let mut before = f64::INFINITY;
            for row in 0..=(target + 1).min(COLUMNS - 1) {
                let miss = self.row(&from, h, row);
                // Orders far below the one that was best say nothing new.
                if row + 1 < target || row < LEAST_ORDER {
                    continue;
                }
                let after = system.after(y, &self.table[row]);
                let error = scale.error(y, &after, system, &miss);
                let plan = Plan::of(row, error, h);
                let worse = before;
                if plan.cost < best.cost {
                    best = plan;
                }
                if error <= 1.0 {
                    self.used = row;
                    let plan = best.or_one_more(row);
                    self.order = plan.order;
                    return Some(Step {
                        after,
                        taken: h,
                        next: plan.length.min(longest),
                    });
                }
                if !error.is_finite() || error > worse {
                    break;
                }
                before = error;
            }
            self.order = best.order;
            h = best.length.min(0.5 * h);
            longest = h;
            if !h.is_finite() || h < least {
                return None;
            }
        }
    }
}

/// An order, the length of step it would allow, and its work for each second.
#[derive(Clone, Copy)]
struct Plan {
    order: usize,
    length: f64,
    cost: f64,
}

impl Plan {
    const NONE: Plan = Plan {
        order: LEAST_ORDER,
        length: f64::INFINITY,
        cost: f64::INFINITY,
    };

    fn of(row: usize, error: f64, h: f64) -> Plan {
        let order = (row + 1) as f64;
        let shrink = libm::exp(-libm::log(error.max(1e-30) / AIM) / order);
        let length = h * (SAFETY * shrink).clamp(SHRINK, GROWTH);
        Plan {
            order: row.clamp(LEAST_ORDER, COLUMNS - 2),
            length,
            cost: work(row) / length,
        }
    }

    /// One order more when the last row was still the best.
    fn or_one_more(self, row: usize) -> Plan {
        if self.order == row && row + 2 < COLUMNS {
            Plan {
                order: row + 1,
                length: self.length * work(row + 1) / work(row),
                ..self
            }
        } else {
            self
        }
    }
}

/// Evaluations of all rows up to this one.
fn work(row: usize) -> f64 {
    ((row + 1) * (row + 2)) as f64 / 2.0 + 1.0
}
