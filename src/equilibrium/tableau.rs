//! The species that a solution can hold, laid out for the solver.
//!
//! Unknowns are numbered: the master species present (`0..n`, closed ones
//! first), protons (`n`), ionic strength (`n + 1`), activity of water
//! (`n + 2`).

use super::activity::{SALTING_OUT, WATER_ACTIVITY_SLOPE};
use super::constants::{ConstantSet, Species};
use super::master::{MASTERS, Master};
use super::{Davies, DebyeHuckel, EquilibriumError, Gamma};
use core::f64::consts::LN_10;

/// Places of the tables of species, of powers and of activity coefficients:
/// a byte reaches each of them.
pub(super) const PLACES: usize = 256;
/// Room for every unknown, a power of two.
pub(super) const UNKNOWNS: usize = 32;

/// What holds for every mixture of one set at one temperature.
#[derive(Debug, Clone, Copy)]
pub(super) struct Medium {
    pub law: DebyeHuckel,
    pub davies: Davies,
    /// Ionic strength from which the Davies equation is held.
    pub held_from: f64,
}

/// The rule of one activity coefficient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Rule {
    /// Ions, by the size of their charge.
    Ion(u8),
    Molecule,
    /// ln γ = −slope √I / (1 + reach √I) + linear I.
    Extended {
        slope: f64,
        reach: f64,
        linear: f64,
    },
}

impl Rule {
    fn of(species: &Species, law: DebyeHuckel) -> Rule {
        match species.gamma {
            Gamma::Davies if species.charge == 0 => Rule::Molecule,
            Gamma::Davies => Rule::Ion(species.charge.unsigned_abs().min(255) as u8),
            Gamma::Extended { radius_angstrom, b } => Rule::Extended {
                slope: LN_10 * law.a * f64::from(species.charge * species.charge),
                reach: law.b * radius_angstrom,
                linear: LN_10 * b,
            },
        }
    }
}

/// Activity coefficients at one ionic strength, rule by rule.
#[derive(Debug, Clone)]
pub(super) struct Coefficients {
    /// 1/γ.
    pub inverse: [f64; PLACES],
    /// d ln γ/dI beyond what ions of the same charge have by the Davies
    /// equation.
    pub own_slope: [f64; PLACES],
    /// d ln γ/dI of the Davies equation, per half square of the charge.
    pub ion_slope: f64,
}

/// One product of the table of powers: the place filled, and those it is the
/// product of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Product {
    pub to: u8,
    pub of: u8,
    pub by: u8,
}

/// What a species adds to the sums of one unknown, per molality: its count ν,
/// then ν times half the square of its charge, times its protons, times ν.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share {
    pub place: u8,
    pub lanes: [f64; 4],
}

/// What a species adds to one place of the Jacobian, per molality.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    pub place: u8,
    /// Row times [`UNKNOWNS`], plus column.
    pub cell: u16,
    pub factor: f64,
}

/// A solution of one pH in which no two masters meet.
#[derive(Debug, Clone, Copy)]
struct Level {
    /// Activity of the proton.
    h: f64,
    /// Protons of the species without any master.
    of_water: f64,
    /// Protons per mol of each master, and the same as a whole number.
    protons: [f64; MASTERS],
    held: [i32; MASTERS],
    /// Activity per mol of each master that holds these protons.
    free: [f64; MASTERS],
}

/// Where a solution is thought to lie before it is solved.
#[derive(Debug, Clone, Copy)]
pub(super) struct Guess {
    /// Activity of the proton.
    pub h: f64,
    /// Place of the nearest level.
    level: usize,
}

/// pH of the levels, and the ionic strength they are reckoned for.
const LEVELS: core::ops::Range<i32> = -1..15;
const LEVEL_STRENGTH: f64 = 0.1;

/// The species of one mixture at one temperature.
#[derive(Debug, Clone)]
pub(super) struct Tableau {
    /// Bits of the master species present; `u32::MAX`: nothing laid out yet.
    pub mask: u32,
    /// ln of the activity of dissolved carbon dioxide's source (constant times
    /// pressure) where carbonate is in equilibrium with a gas.
    pub ln_gas: Option<f64>,
    pub masters: Vec<Master>,
    /// Protons counted with each master: those of its commonest form, so that
    /// the balance of protons is one of small numbers. A master's activity
    /// stands for its own times that of so many protons.
    pub held: [i32; MASTERS],
    /// Charges with these protons.
    pub charges: [f64; MASTERS],
    /// How many of `masters` stand alone: one at most in a species, and never
    /// two of them together. Their activities follow from the others.
    pub closed: usize,
    /// Places in the set; the species of the first closed master come first,
    /// and so on.
    pub species: Vec<u16>,
    /// Ends of the stretches of species of the closed masters.
    pub closed_ends: Vec<usize>,
    pub k: Vec<f64>,
    pub rule: Vec<u8>,
    pub half_z2: Vec<f64>,
    /// Places of the powers that make up a species, closed masters left out.
    pub factors: Vec<[u8; 3]>,
    /// Species with more than three factors, and the place of each further one.
    pub more_factors: Vec<(u8, u8)>,
    pub products: Vec<Product>,
    pub rules: Vec<Rule>,
    /// What each unknown is shared out to, unknown by unknown.
    pub shares: Vec<Share>,
    pub share_ends: Vec<u16>,
    /// Where two masters of one species cross.
    pub crossings: Vec<Entry>,
    /// How species that hold water depend on its activity.
    pub watery: Vec<Entry>,
    /// How species whose activity coefficient is not that of an ion by the
    /// Davies equation depend on ionic strength.
    pub odd: Vec<Entry>,
    levels: Vec<Level>,
}

/// Counts of the unknowns in the species of a set, a gas standing in for
/// carbonate where there is one.
#[derive(Clone, Copy)]
struct Counts<'a> {
    set: &'a ConstantSet,
    gas: bool,
}

impl Counts<'_> {
    fn species(&self, place: u16) -> &Species {
        &self.set.species[usize::from(place)]
    }

    fn gas(&self, place: u16) -> f64 {
        if self.gas {
            self.species(place).makeup.masters[Master::Carbonate as usize]
        } else {
            0.0
        }
    }

    fn master(&self, place: u16, master: Master) -> f64 {
        self.species(place).makeup.masters[master as usize]
    }

    fn protons(&self, place: u16) -> f64 {
        self.species(place).makeup.protons - 2.0 * self.gas(place)
    }

    fn waters(&self, place: u16) -> f64 {
        self.species(place).makeup.waters + self.gas(place)
    }
}

impl Tableau {
    pub(super) fn empty() -> Tableau {
        Tableau {
            mask: u32::MAX,
            ln_gas: None,
            masters: Vec::with_capacity(MASTERS),
            held: [0; MASTERS],
            charges: [0.0; MASTERS],
            closed: 0,
            species: Vec::with_capacity(PLACES),
            closed_ends: Vec::with_capacity(MASTERS),
            k: Vec::with_capacity(PLACES),
            rule: Vec::with_capacity(PLACES),
            half_z2: Vec::with_capacity(PLACES),
            factors: Vec::with_capacity(PLACES),
            more_factors: Vec::with_capacity(PLACES),
            products: Vec::with_capacity(PLACES),
            rules: Vec::with_capacity(PLACES),
            shares: Vec::with_capacity(4 * PLACES),
            share_ends: Vec::with_capacity(UNKNOWNS),
            crossings: Vec::with_capacity(4 * PLACES),
            watery: Vec::with_capacity(4 * PLACES),
            odd: Vec::with_capacity(4 * PLACES),
            levels: Vec::with_capacity(LEVELS.len()),
        }
    }

    /// Lays out the species that can form from the masters of `mask`.
    pub(super) fn lay_out(
        &mut self,
        set: &ConstantSet,
        ln_k: &[f64],
        medium: &Medium,
        mask: u32,
        ln_gas: Option<f64>,
    ) -> Result<(), EquilibriumError> {
        let carbonate = 1 << Master::Carbonate as usize;
        let counts = Counts {
            set,
            gas: ln_gas.is_some(),
        };
        self.mask = mask;
        self.ln_gas = ln_gas;
        let (reachable, solved) = match ln_gas {
            Some(_) => (mask | carbonate, mask & !carbonate),
            None => (mask, mask),
        };
        self.species.clear();
        let forms = |s: &Species| s.makeup.mask() & !reachable == 0;
        let chosen = set.species.iter().enumerate().filter(|(_, s)| forms(s));
        self.species.extend(chosen.map(|(i, _)| i as u16));
        let count = self.species.len();
        if count > PLACES {
            self.mask = u32::MAX;
            return Err(EquilibriumError::TooManySpecies { count });
        }
        self.order_masters(counts, solved);
        self.order_species(counts);
        self.fill_species(counts, ln_k, medium.law);
        self.held = [0; MASTERS];
        self.fill_levels(counts, medium);
        self.lay_out_protons(counts)
    }

    /// Counts protons with the masters as is best near a guess; the same guess
    /// leads to the same layout whatever was laid out before.
    pub(super) fn hold_protons(
        &mut self,
        set: &ConstantSet,
        guess: Guess,
    ) -> Result<(), EquilibriumError> {
        let held = &self.levels[guess.level].held;
        if *held == self.held {
            return Ok(());
        }
        self.held = *held;
        let gas = self.ln_gas.is_some();
        self.lay_out_protons(Counts { set, gas })
    }

    fn lay_out_protons(&mut self, counts: Counts) -> Result<(), EquilibriumError> {
        for (j, m) in self.masters.iter().enumerate() {
            self.charges[j] = f64::from(m.charge() + self.held[j]);
        }
        self.fill_sums(counts);
        if self.place_powers(counts) {
            Ok(())
        } else {
            self.mask = u32::MAX;
            Err(EquilibriumError::TooManySpecies {
                count: self.species.len(),
            })
        }
    }

    /// Protons beyond those held by the masters, by electroneutrality.
    pub(super) fn protons(&self, totals: &[f64]) -> f64 {
        let charges = self.charges.iter().zip(totals);
        -charges.map(|(charge, total)| charge * total).sum::<f64>()
    }

    /// The pH at which protons would balance if no two masters met.
    pub(super) fn guess(&self, totals: &[f64]) -> Guess {
        let wanted = self.masters.iter().zip(totals);
        let wanted = -wanted
            .map(|(m, total)| f64::from(m.charge()) * total)
            .sum::<f64>();
        let excess = |level: &Level| {
            let held = level.protons.iter().zip(totals);
            level.of_water + held.map(|(protons, total)| protons * total).sum::<f64>() - wanted
        };
        // Levels go from acid to alkaline, and the excess falls along them.
        let alkaline = self.levels.partition_point(|l| excess(l) > 0.0);
        let alkaline = alkaline.clamp(1, self.levels.len() - 1);
        let (low, high) = (&self.levels[alkaline - 1], &self.levels[alkaline]);
        let (more, less) = (excess(low), excess(high));
        let part = (-less / (more - less)).clamp(0.0, 1.0);
        let h = high.h + (low.h - high.h) * part;
        let level = if h * h > low.h * high.h {
            alkaline - 1
        } else {
            alkaline
        };
        Guess { h, level }
    }

    /// Activities per mol of each master if no two met.
    pub(super) fn free(&self, guess: Guess) -> &[f64; MASTERS] {
        &self.levels[guess.level].free
    }

    /// Puts the masters in order, as many closed ones first as a greedy choice
    /// finds: those that meet the fewest others.
    fn order_masters(&mut self, counts: Counts, solved: u32) {
        let mut met = [0_u32; MASTERS];
        let mut single = [true; MASTERS];
        for &i in &self.species {
            let makeup = &counts.species(i).makeup;
            let mask = makeup.mask();
            for (j, count) in makeup
                .masters
                .iter()
                .enumerate()
                .filter(|(_, n)| **n != 0.0)
            {
                met[j] |= mask & !(1 << j);
                single[j] &= *count == 1.0;
            }
        }
        let place = |m: &Master| *m as usize;
        self.masters.clear();
        let present = Master::ALL.iter().filter(|m| solved & (1 << place(m)) != 0);
        self.masters.extend(present);
        self.masters
            .sort_unstable_by_key(|m| (met[place(m)].count_ones(), place(m)));
        let mut taken = 0_u32;
        for m in &self.masters {
            if single[place(m)] && met[place(m)] & taken == 0 {
                taken |= 1 << place(m);
            }
        }
        self.masters
            .sort_unstable_by_key(|m| (taken & (1 << place(m)) == 0, place(m)));
        self.closed = taken.count_ones() as usize;
    }

    fn order_species(&mut self, counts: Counts) {
        let closed = &self.masters[..self.closed];
        let of = |i: u16| closed.iter().position(|&m| counts.master(i, m) != 0.0);
        self.species
            .sort_unstable_by_key(|&i| (of(i).unwrap_or(closed.len()), i));
        self.closed_ends.clear();
        for j in 0..closed.len() {
            let end = self
                .species
                .partition_point(|&i| of(i).unwrap_or(closed.len()) <= j);
            self.closed_ends.push(end);
        }
    }

    /// How many of an unknown are in a species: of a master, of protons, of
    /// water.
    fn count(&self, counts: Counts, i: u16, unknown: usize) -> f64 {
        match self.masters.get(unknown) {
            Some(&m) => counts.master(i, m),
            None if unknown == self.masters.len() => self.protons_of(counts, i),
            None => counts.waters(i),
        }
    }

    /// Protons of a species beyond those held by its masters.
    fn protons_of(&self, counts: Counts, i: u16) -> f64 {
        let held = self.masters.iter().zip(self.held);
        held.fold(counts.protons(i), |protons, (&m, held)| {
            protons - f64::from(held) * counts.master(i, m)
        })
    }

    /// Lays out the table of powers. Place 0 stays 1; then come the unknowns
    /// that are not closed, the inverses of the last two, and the products.
    /// False when they are too many.
    fn place_powers(&mut self, counts: Counts) -> bool {
        let n = self.masters.len();
        self.products.clear();
        self.factors.clear();
        self.factors.resize(self.species.len(), [0; 3]);
        self.more_factors.clear();
        let mut next = first_product(n);
        let mut used = [0_u8; PLACES];
        for unknown in self.closed..n + 2 {
            for sign in [1, -1] {
                let base = if sign > 0 {
                    of_unknown(unknown)
                } else {
                    inverse_of(n, unknown)
                };
                let powers = self
                    .species
                    .iter()
                    .map(|&i| sign * self.count(counts, i, unknown) as i32);
                let highest = powers.fold(0, i32::max);
                let first = next;
                for power in 2..=highest {
                    let of = if power == 2 { base } else { next - 1 };
                    self.products.push(Product {
                        to: next,
                        of,
                        by: base,
                    });
                    if next == u8::MAX {
                        return false;
                    }
                    next += 1;
                }
                for at in 0..self.species.len() {
                    let power = sign * self.count(counts, self.species[at], unknown) as i32;
                    let place = match power {
                        ..=0 => continue,
                        1 => base,
                        p => first + p as u8 - 2,
                    };
                    match self.factors[at].get_mut(usize::from(used[at])) {
                        Some(slot) => *slot = place,
                        None => self.more_factors.push((at as u8, place)),
                    }
                    used[at] += 1;
                }
            }
        }
        true
    }

    fn fill_species(&mut self, counts: Counts, ln_k: &[f64], law: DebyeHuckel) {
        self.k.clear();
        self.rule.clear();
        self.rules.clear();
        self.half_z2.clear();
        for &i in &self.species {
            let species = counts.species(i);
            let ln_gas = counts.gas(i) * self.ln_gas.unwrap_or(0.0);
            self.k.push(libm::exp(ln_k[usize::from(i)] + ln_gas));
            let z = f64::from(species.charge);
            self.half_z2.push(0.5 * z * z);
            let rule = Rule::of(species, law);
            let known = self.rules.iter().position(|r| *r == rule);
            self.rule.push(known.unwrap_or(self.rules.len()) as u8);
            if known.is_none() {
                self.rules.push(rule);
            }
        }
    }

    fn fill_sums(&mut self, counts: Counts) {
        let n = self.masters.len();
        let (strength, water) = (n + 1, n + 2);
        self.shares.clear();
        self.share_ends.clear();
        self.crossings.clear();
        self.watery.clear();
        self.odd.clear();
        let entry = |at: usize, row: usize, column: usize, factor: f64| Entry {
            place: at as u8,
            cell: (row * UNKNOWNS + column) as u16,
            factor,
        };
        let at_all = || self.species.iter().copied().enumerate();
        for u in 0..=n {
            for (at, i) in at_all() {
                let count = self.count(counts, i, u);
                if count == 0.0 {
                    continue;
                }
                let lanes =
                    [1.0, self.half_z2[at], self.protons_of(counts, i), count].map(|x| count * x);
                self.shares.push(Share {
                    place: at as u8,
                    lanes,
                });
                for other in (u + 1..n).filter(|_| u < n) {
                    let product = count * self.count(counts, i, other);
                    if product != 0.0 {
                        self.crossings.push(entry(at, u, other, product));
                    }
                }
            }
            self.share_ends.push(self.shares.len() as u16);
        }
        let solutes = WATER_ACTIVITY_SLOPE.value;
        for (at, i) in at_all() {
            let waters = counts.waters(i);
            let odd = !matches!(self.rules[usize::from(self.rule[at])], Rule::Ion(_));
            for row in 0..n + 3 {
                let weight = match row {
                    _ if row == strength => self.half_z2[at],
                    _ if row == water => solutes,
                    _ => self.count(counts, i, row),
                };
                if waters != 0.0 && weight != 0.0 {
                    self.watery.push(entry(at, row, water, weight * waters));
                }
                if odd && weight != 0.0 {
                    self.odd.push(entry(at, row, strength, -weight));
                }
            }
        }
    }

    fn fill_levels(&mut self, counts: Counts, medium: &Medium) {
        let mut coefficients = Coefficients::new();
        self.coefficients(medium, LEVEL_STRENGTH, &mut coefficients);
        self.levels.clear();
        for ph in LEVELS {
            let h = libm::exp(-LN_10 * f64::from(ph));
            let mut level = Level {
                h,
                of_water: 0.0,
                protons: [0.0; MASTERS],
                held: [0; MASTERS],
                free: [0.0; MASTERS],
            };
            for (at, &i) in self.species.iter().enumerate() {
                let protons = counts.protons(i);
                let gamma = coefficients.inverse[usize::from(self.rule[at])];
                let amount = self.k[at] * gamma * libm::exp(-LN_10 * f64::from(ph) * protons);
                let count = |j: usize| self.count(counts, i, j);
                let mut with = (0..self.masters.len()).filter(|&j| count(j) != 0.0);
                match (with.next(), with.next()) {
                    (None, _) => level.of_water += protons * amount,
                    (Some(only), None) if count(only) == 1.0 => {
                        level.protons[only] += protons * amount;
                        level.free[only] += amount;
                    }
                    _ => {}
                }
            }
            for j in 0..self.masters.len() {
                level.protons[j] /= level.free[j];
                let held = libm::round(level.protons[j]);
                level.held[j] = held as i32;
                level.free[j] = libm::exp(-LN_10 * f64::from(ph) * held) / level.free[j];
            }
            self.levels.push(level);
        }
    }

    /// Works out every activity coefficient at ionic strength `i`.
    #[inline]
    pub(super) fn coefficients(&self, medium: &Medium, i: f64, out: &mut Coefficients) {
        let (shape, slope) = medium.davies.shape(i.min(medium.held_from));
        let of_one = LN_10 * medium.law.a;
        let one = libm::exp(of_one * shape);
        let four = (one * one) * (one * one);
        let nine = four * four * one;
        let sixteen = (four * four) * (four * four);
        let by_charge = [
            1.0,
            one,
            four,
            nine,
            sixteen,
            sixteen * nine,
            nine * nine * nine * nine,
        ];
        let salting = LN_10 * SALTING_OUT.value;
        out.ion_slope = if i > medium.held_from {
            0.0
        } else {
            -2.0 * of_one * slope
        };
        for (place, rule) in self.rules.iter().enumerate() {
            let place = place & (PLACES - 1);
            (out.inverse[place], out.own_slope[place]) = match *rule {
                Rule::Ion(z) => match by_charge.get(usize::from(z)) {
                    Some(&inverse) => (inverse, 0.0),
                    None => (libm::exp(of_one * shape * f64::from(z) * f64::from(z)), 0.0),
                },
                Rule::Molecule => (libm::exp(-salting * i), salting),
                Rule::Extended {
                    slope,
                    reach,
                    linear,
                } => {
                    let root = i.sqrt();
                    let part = 1.0 / (1.0 + reach * root);
                    let z2 = slope / of_one;
                    (
                        libm::exp(slope * root * part - linear * i),
                        linear - 0.5 * slope * part * part / root - 0.5 * z2 * out.ion_slope,
                    )
                }
            };
        }
    }
}

impl Coefficients {
    pub(super) fn new() -> Coefficients {
        Coefficients {
            inverse: [1.0; PLACES],
            own_slope: [0.0; PLACES],
            ion_slope: 0.0,
        }
    }
}

/// Place of an unknown in the table of powers.
pub(super) fn of_unknown(unknown: usize) -> u8 {
    unknown as u8 + 1
}

/// Place of the inverse of an unknown; only protons (`n`) and water (`n + 1`)
/// have one.
pub(super) fn inverse_of(n: usize, unknown: usize) -> u8 {
    (unknown + 3).max(n + 3) as u8
}

fn first_product(n: usize) -> u8 {
    n as u8 + 5
}
