//! Solves the mass-action and mass-balance equations of one tableau.
//!
//! Unknowns are the logarithms of the activities of the masters and of the
//! proton, the ionic strength, and the activity of water, all in one Newton
//! iteration, so that it converges quadratically. Closed masters follow from
//! the others at every evaluation. Should this fail, [`Work::surely`] cannot:
//! at fixed activity coefficients the equations are those of the minimum of a
//! convex function, which a damped step approaches from anywhere, and the
//! ionic strength is bisected around it.

use super::activity::WATER_ACTIVITY_SLOPE;
use super::tableau::{
    Coefficients, Entry, Guess, Medium, PLACES, Tableau, UNKNOWNS, inverse_of, of_unknown,
};

/// Relative residual that is asked for.
const TOLERANCE: f64 = 1e-13;
/// Relative residual that is accepted where rounding forbids more.
const ACCEPTED: f64 = 1e-12;
/// Steps of the quick way; it takes four to eight.
const QUICK_STEPS: u32 = 40;
/// Steps of the slow way: of the ionic strength, and at each.
const BISECTIONS: u32 = 60;
const DAMPED_STEPS: u32 = 2000;
/// Product of two residuals in a row below which the slopes of the first serve
/// the second.
const NEAR: f64 = 1e-14;
/// Longest step, in the logarithm of an activity.
const LONGEST: f64 = 2.0;
/// Complexes may hold so many times too much at the start.
const TOO_MUCH: f64 = 3.0;
/// Part of an ion of two or more charges that is thought to be in no pair or
/// complex at the start.
const UNPAIRED: f64 = 0.6;
/// Activity of water in the strongest solution; the straight line of the
/// model would go below.
const DRIEST: f64 = 0.3;

/// Sums over the species for one unknown with counts ν: of ν, of ν z²/2, of
/// ν × protons, of ν².
type Lanes = [f64; 4];

/// The Jacobian, row by row; once factorised, multipliers below the diagonal,
/// inverse pivots on it.
type Matrix = [f64; UNKNOWNS * UNKNOWNS];

/// What is solved for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Problem<'a> {
    pub tableau: &'a Tableau,
    pub medium: &'a Medium,
    /// Molality of each master, in the order of the tableau; all above 0.
    pub totals: &'a [f64],
    /// Protons beyond those of the masters, by electroneutrality.
    pub protons: f64,
}

/// The state of a solution while it is solved, and after.
#[derive(Debug, Clone)]
pub(super) struct Work {
    /// Activities of the masters present, then of the proton.
    pub activity: [f64; UNKNOWNS],
    pub ionic_strength: f64,
    pub water: f64,
    /// Molality of each species of the tableau.
    pub n: [f64; PLACES],
    pub coefficients: Coefficients,
    /// Largest relative residual.
    pub residual: f64,
    /// Evaluations of all species.
    pub evaluations: u32,
    powers: [f64; PLACES],
    sums: [Lanes; UNKNOWNS],
    /// Σ n, Σ n z²/2, Σ n (z²/2)².
    solutes: f64,
    strength: f64,
    squared_strength: f64,
    matrix: Matrix,
    /// What is amiss in each equation, then the step that mends it.
    right: [f64; UNKNOWNS],
}

impl Work {
    pub(super) fn new() -> Work {
        Work {
            activity: [0.0; UNKNOWNS],
            ionic_strength: 0.0,
            water: 1.0,
            n: [0.0; PLACES],
            coefficients: Coefficients::new(),
            residual: f64::INFINITY,
            evaluations: 0,
            powers: [1.0; PLACES],
            sums: [[0.0; 4]; UNKNOWNS],
            solutes: 0.0,
            strength: 0.0,
            squared_strength: 0.0,
            matrix: [0.0; UNKNOWNS * UNKNOWNS],
            right: [0.0; UNKNOWNS],
        }
    }

    /// Every species from the activities, and the sums over them.
    #[inline]
    fn evaluate(&mut self, problem: &Problem) {
        let t = problem.tableau;
        self.evaluations += 1;
        t.coefficients(problem.medium, self.ionic_strength, &mut self.coefficients);
        self.fill_powers(t);
        let p = &self.powers;
        let inverse = &self.coefficients.inverse;
        let rows = t.k.iter().zip(&t.rule).zip(&t.factors);
        for (n, ((k, &rule), factors)) in self.n.iter_mut().zip(rows) {
            let [a, b, c] = factors.map(|place| p[usize::from(place)]);
            *n = (k * inverse[usize::from(rule)]) * ((a * b) * c);
        }
        for &(at, place) in &t.more_factors {
            self.n[usize::from(at)] *= p[usize::from(place)];
        }
        // What is closed has its whole total to share out.
        let mut start = 0;
        for (j, (&end, total)) in t.closed_ends.iter().zip(problem.totals).enumerate() {
            let shares = &mut self.n[start..end];
            let activity = total / shares.iter().sum::<f64>();
            shares.iter_mut().for_each(|n| *n *= activity);
            self.activity[j] = activity;
            start = end;
        }
        self.sum(t);
    }

    #[inline]
    fn fill_powers(&mut self, t: &Tableau) {
        let n = t.masters.len();
        let p = &mut self.powers;
        let place = usize::from;
        for u in t.closed..=n {
            p[place(of_unknown(u))] = self.activity[u & (UNKNOWNS - 1)];
        }
        p[place(of_unknown(n + 1))] = self.water;
        p[place(inverse_of(n, n))] = 1.0 / self.activity[n];
        p[place(inverse_of(n, n + 1))] = 1.0 / self.water;
        for product in &t.products {
            p[place(product.to)] = p[place(product.of)] * p[place(product.by)];
        }
    }

    #[inline]
    fn sum(&mut self, t: &Tableau) {
        let mut start = 0;
        for (sums, &end) in self.sums.iter_mut().zip(&t.share_ends) {
            let end = usize::from(end);
            let mut lanes = [0.0; 4];
            for share in &t.shares[start..end] {
                let n = self.n[usize::from(share.place)];
                for (sum, lane) in lanes.iter_mut().zip(&share.lanes) {
                    *sum += n * lane;
                }
            }
            *sums = lanes;
            start = end;
        }
        let (mut solutes, mut strength, mut squared) = (0.0, 0.0, 0.0);
        for (n, half_z2) in self.n.iter().zip(&t.half_z2) {
            solutes += n;
            strength += n * half_z2;
            squared += n * half_z2 * half_z2;
        }
        (self.solutes, self.strength, self.squared_strength) = (solutes, strength, squared);
    }

    /// Largest relative residual of all equations; infinite when any is not a
    /// number.
    #[inline]
    fn measure(&self, p: &Problem) -> f64 {
        let n = p.totals.len();
        let mut worst = (self.strength - self.ionic_strength).abs() / self.strength;
        let mut all = worst;
        for (sum, total) in self.sums[..n].iter().zip(p.totals).skip(p.tableau.closed) {
            let r = (sum[0] - total).abs() / total;
            worst = worst.max(r);
            all += r;
        }
        let [balance, _, gross, _] = self.sums[n];
        let r = (balance - p.protons).abs() / (gross + p.protons.abs());
        let drift = (water_activity(self.solutes) - self.water).abs();
        // max() would let NaN pass; the sum does not.
        all += r + drift;
        if all.is_finite() {
            worst.max(r).max(drift)
        } else {
            f64::INFINITY
        }
    }

    /// A start without a guess of the caller's: at the pH at which protons
    /// would balance if no two masters met, activities are brought down where
    /// complexes would then hold more than there is.
    pub(super) fn start(&mut self, p: &Problem, guess: Guess) {
        let t = p.tableau;
        let n = p.totals.len();
        let free = t.free(guess);
        let mut charged = guess.h;
        for (j, (total, free)) in p.totals.iter().zip(free).enumerate() {
            let z2 = t.charges[j] * t.charges[j];
            let unpaired = if z2 > 1.0 { UNPAIRED } else { 1.0 };
            self.activity[j] = unpaired * total * free;
            charged += z2 * total;
        }
        self.activity[n] = guess.h;
        // Ion pairs take about a third.
        self.ionic_strength = (0.33 * charged).max(1e-7);
        self.water = 1.0;
        self.evaluations = 0;
        self.evaluate(p);
        for _ in 0..2 * n {
            let ratios = self.sums[..n]
                .iter()
                .zip(p.totals)
                .map(|(sum, total)| sum[0] / total);
            let worst = ratios.enumerate().fold((n, TOO_MUCH), |worst, (j, ratio)| {
                if ratio > worst.1 { (j, ratio) } else { worst }
            });
            if worst.0 == n {
                break;
            }
            self.activity[worst.0] /= worst.1;
            self.evaluate(p);
        }
    }

    /// Starts from where the work stands.
    pub(super) fn resume(&mut self, p: &Problem) {
        self.evaluations = 0;
        self.evaluate(p);
    }

    /// Newton's rule from the species last evaluated. True when solved.
    #[inline]
    pub(super) fn quickly(&mut self, p: &Problem) -> bool {
        let mut before = f64::INFINITY;
        for _ in 0..QUICK_STEPS {
            self.residual = self.measure(p);
            let stalled = self.residual >= 0.5 * before;
            if self.residual <= TOLERANCE || (self.residual <= ACCEPTED && stalled) {
                return true;
            }
            // So near, the slopes of the step before will do.
            if self.residual * before > NEAR {
                self.set_up(p);
                if !factorise(&mut self.matrix, p.totals.len() + 3) {
                    return false;
                }
            }
            before = self.residual;
            if !self.residual.is_finite() || !self.step(p) {
                return false;
            }
            self.evaluate(p);
        }
        false
    }

    /// One step with the matrix as it is factorised; false when it leads
    /// nowhere.
    #[inline]
    fn step(&mut self, p: &Problem) -> bool {
        let n = p.totals.len();
        self.fill_right(p);
        substitute(&self.matrix, &mut self.right, n + 3);
        let logarithms = &mut self.right[p.tableau.closed..=n];
        let longest = logarithms.iter().fold(0.0_f64, |most, x| most.max(x.abs()));
        let part = if longest > LONGEST {
            LONGEST / longest
        } else {
            1.0
        };
        for (activity, step) in self.activity[p.tableau.closed..].iter_mut().zip(logarithms) {
            *activity *= growth(part * *step);
        }
        let (i, water) = (self.ionic_strength, self.water);
        self.ionic_strength = (i + part * self.right[n + 1]).clamp(0.5 * i, 2.0 * i + 1e-8);
        self.water = (water + part * self.right[n + 2]).clamp(DRIEST, 1.0);
        self.ionic_strength.is_finite()
    }

    #[inline]
    fn fill_right(&mut self, p: &Problem) {
        let n = p.totals.len();
        let wanted = p.totals.iter().chain([&p.protons]);
        let amiss = self
            .sums
            .iter()
            .zip(wanted)
            .map(|(sums, wanted)| wanted - sums[0]);
        for (slot, amiss) in self.right.iter_mut().zip(amiss) {
            *slot = amiss;
        }
        self.right[n + 1] = self.ionic_strength - self.strength;
        self.right[n + 2] = water_activity(self.solutes) - self.water;
    }

    /// The Jacobian.
    #[inline]
    fn set_up(&mut self, p: &Problem) {
        let t = p.tableau;
        let n = p.totals.len();
        let (h, strength, water, size) = (n, n + 1, n + 2, n + 3);
        let ion_slope = self.coefficients.ion_slope;
        let a = &mut self.matrix;
        let at = |row: usize, column: usize| (row * UNKNOWNS + column) & (UNKNOWNS * UNKNOWNS - 1);
        for row in a.chunks_exact_mut(UNKNOWNS).take(size) {
            if size <= 8 {
                row[..8].fill(0.0);
            } else {
                row.fill(0.0);
            }
        }
        for e in &t.crossings {
            a[cell(e)] += e.factor * self.n[usize::from(e.place)];
        }
        for j in 0..n {
            for k in j + 1..n {
                a[at(k, j)] = a[at(j, k)];
            }
        }
        for (j, &[sum, charged, protons, squared]) in self.sums[..=h].iter().enumerate() {
            a[at(j, h)] = protons;
            a[at(h, j)] = protons;
            a[at(j, j)] = squared;
            a[at(strength, j)] = charged;
            a[at(j, strength)] = -ion_slope * charged;
            a[at(water, j)] = WATER_ACTIVITY_SLOPE.value * sum;
        }
        a[at(strength, strength)] = -1.0 - ion_slope * self.squared_strength;
        a[at(water, water)] = 1.0;
        a[at(water, strength)] = -WATER_ACTIVITY_SLOPE.value * ion_slope * self.strength;
        for e in &t.odd {
            let place = usize::from(e.place);
            let slope = self.coefficients.own_slope[usize::from(t.rule[place])];
            a[cell(e)] += e.factor * self.n[place] * slope;
        }
        let of_water = 1.0 / self.water;
        for e in &t.watery {
            a[cell(e)] += e.factor * self.n[usize::from(e.place)] * of_water;
        }
    }
}

/// The slow way.
impl Work {
    /// Solves, or finds that rounding forbids it. Bisects the ionic strength
    /// that the balanced solution answers with, and tries the quick way from
    /// ever nearer.
    #[cold]
    pub(super) fn surely(&mut self, p: &Problem, guess: Guess) -> bool {
        self.start(p, guess);
        let (mut low, mut high) = (1e-9, 1e4);
        for _ in 0..BISECTIONS {
            self.ionic_strength = libm::sqrt(low * high);
            // Water hardly answers to its own activity: twice is plenty here.
            let mut balanced = true;
            for _ in 0..2 {
                balanced = balanced && self.balance(p);
                self.water = water_activity(self.solutes);
            }
            if !balanced {
                // So far beyond any solution that activity coefficients are
                // no numbers any more.
                high = self.ionic_strength;
                self.start(p, guess);
                continue;
            }
            if self.strength > self.ionic_strength {
                low = self.ionic_strength;
            } else {
                high = self.ionic_strength;
            }
            let mut attempt = self.clone();
            if attempt.quickly(p) {
                *self = attempt;
                return true;
            }
        }
        self.residual = self.measure(p);
        self.residual <= ACCEPTED
    }

    /// Balances masses and protons at the activity coefficients as they stand: damped
    /// steps down a convex function whose third derivative is bounded by its
    /// second, so that a step shortened to ln(1 + r)/r, r being its largest
    /// change of the logarithm of a species, always leads down.
    fn balance(&mut self, p: &Problem) -> bool {
        let n = p.totals.len();
        let strength = self.ionic_strength;
        for _ in 0..DAMPED_STEPS {
            self.evaluate(p);
            self.set_up(p);
            if !factorise(&mut self.matrix, n + 1) {
                return false;
            }
            self.fill_right(p);
            substitute(&self.matrix, &mut self.right, n + 1);
            let mut change = [0.0; PLACES];
            let mut start = 0;
            let ends = p.tableau.share_ends.iter().map(|&end| usize::from(end));
            for (u, end) in ends.enumerate() {
                for share in &p.tableau.shares[start..end] {
                    change[usize::from(share.place)] += share.lanes[0] * self.right[u];
                }
                start = end;
            }
            let largest = change.iter().fold(0.0_f64, |r, c| r.max(c.abs()));
            if !largest.is_finite() {
                return false;
            }
            if largest < 1e-9 {
                return true;
            }
            let part = libm::log1p(largest) / largest;
            for u in p.tableau.closed..=n {
                self.activity[u] *= libm::exp(part * self.right[u]);
            }
            self.ionic_strength = strength;
        }
        false
    }
}

#[inline]
fn cell(e: &Entry) -> usize {
    usize::from(e.cell) & (UNKNOWNS * UNKNOWNS - 1)
}

/// What a step in the logarithm does to an activity: e to that power, as
/// nearly as a step needs it.
#[inline]
fn growth(x: f64) -> f64 {
    let (even, odd) = (1.0 + x * x / 12.0, 0.5 * x);
    (even + odd) / (even - odd)
}

/// Activity of water above a sum of solutes (mol/kg).
#[inline]
fn water_activity(solutes: f64) -> f64 {
    (1.0 - WATER_ACTIVITY_SLOPE.value * solutes).max(DRIEST)
}

/// Gauss elimination of `size` equations without exchange of rows: the matrix
/// is close to a symmetric positive one with a small border. False when a
/// pivot is none.
#[inline]
fn factorise(a: &mut Matrix, size: usize) -> bool {
    // Loops of known length are several times as fast.
    match size {
        4 => factorise_sized::<4>(a),
        5 => factorise_sized::<5>(a),
        6 => factorise_sized::<6>(a),
        7 => factorise_sized::<7>(a),
        8 => factorise_sized::<8>(a),
        9 => factorise_sized::<9>(a),
        10 => factorise_sized::<10>(a),
        _ => factorise_any(a, size),
    }
}

fn factorise_sized<const SIZE: usize>(a: &mut Matrix) -> bool {
    factorise_any(a, SIZE)
}

#[inline(always)]
fn factorise_any(a: &mut Matrix, size: usize) -> bool {
    if size > UNKNOWNS {
        return false;
    }
    let at = |row: usize, column: usize| row * UNKNOWNS + column;
    let mut sound = true;
    for k in 0..size {
        let inverse = 1.0 / a[at(k, k)];
        sound &= inverse.is_finite();
        a[at(k, k)] = inverse;
        for i in k + 1..size {
            let f = a[at(i, k)] * inverse;
            if f != 0.0 {
                a[at(i, k)] = f;
                for j in k + 1..size {
                    a[at(i, j)] -= f * a[at(k, j)];
                }
            }
        }
    }
    sound
}

/// Replaces the right side of factorised equations by their solution.
#[inline]
fn substitute(a: &Matrix, right: &mut [f64; UNKNOWNS], size: usize) {
    if size > UNKNOWNS {
        return;
    }
    let at = |row: usize, column: usize| row * UNKNOWNS + column;
    for i in 1..size {
        let mut x = right[i];
        for k in 0..i {
            x -= a[at(i, k)] * right[k];
        }
        right[i] = x;
    }
    for k in (0..size).rev() {
        let mut x = right[k];
        for j in k + 1..size {
            x -= a[at(k, j)] * right[j];
        }
        right[k] = x * a[at(k, k)];
    }
}
