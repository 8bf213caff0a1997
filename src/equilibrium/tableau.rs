//! The species that a solution can hold, laid out for the solver.
//!
//! Unknowns are numbered: the master species present (`0..n`, closed ones
//! first), protons (`n`), ionic strength (`n + 1`), activity of water
//! (`n + 2`).

use super::activity::{SALTING_OUT, WATER_ACTIVITY_SLOPE};
use super::constants::{ConstantSet, Species};
use super::master::{MASTERS, Master};
use super::roll::{Level, Roll};
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
    pub(super) fn of(species: &Species, law: DebyeHuckel) -> Rule {
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

/// Where a solution is thought to lie before it is solved.
#[derive(Debug, Clone, Copy)]
pub(super) struct Guess {
    /// Activity of the proton.
    pub h: f64,
    /// Place of the nearest level.
    level: usize,
}

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
    /// Level whose protons these are; none before the first solution.
    level: Option<usize>,
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
    /// How many of which masters are in each species: unknown and count.
    parts: Vec<(u8, f64)>,
    part_ends: Vec<u16>,
    /// Protons beyond those of the masters, and water, in each species.
    protons: Vec<f64>,
    waters: Vec<f64>,
    roll: Roll,
}

impl Tableau {
    pub(super) fn empty() -> Tableau {
        Tableau {
            mask: u32::MAX,
            ln_gas: None,
            masters: Vec::with_capacity(MASTERS),
            held: [0; MASTERS],
            level: None,
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
            parts: Vec::with_capacity(4 * PLACES),
            part_ends: Vec::with_capacity(PLACES),
            protons: Vec::with_capacity(PLACES),
            waters: Vec::with_capacity(PLACES),
            roll: Roll::empty(),
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
        if self.roll.lines.is_empty() {
            self.roll.read(set, ln_k, medium, ln_gas);
        }
        self.mask = mask;
        self.ln_gas = ln_gas;
        self.level = None;
        let solved = match ln_gas {
            Some(_) => mask & !(1 << Master::Carbonate as usize),
            None => mask,
        };
        self.species.clear();
        let lines = self.roll.lines.iter().zip(0..);
        let chosen = lines.filter(|(line, _)| line.mask & !solved == 0);
        self.species.extend(chosen.map(|(_, place)| place));
        if self.species.len() > PLACES {
            return Err(self.too_many());
        }
        self.order_masters(solved);
        self.order_species();
        self.fill_species();
        Ok(())
    }

    fn too_many(&mut self) -> EquilibriumError {
        self.mask = u32::MAX;
        EquilibriumError::TooManySpecies {
            count: self.species.len(),
        }
    }

    /// Counts protons with the masters as is best near a guess; the same guess
    /// leads to the same layout whatever was laid out before.
    pub(super) fn hold_protons(&mut self, guess: Guess) -> Result<(), EquilibriumError> {
        if self.level == Some(guess.level) {
            return Ok(());
        }
        let mut held = [0; MASTERS];
        for (held, m) in held.iter_mut().zip(&self.masters) {
            *held = i32::from(self.roll.levels[guess.level].held[*m as usize]);
        }
        let same = self.level.is_some() && held == self.held;
        self.level = Some(guess.level);
        if same {
            return Ok(());
        }
        self.held = held;
        for (j, m) in self.masters.iter().enumerate() {
            self.charges[j] = f64::from(m.charge() + held[j]);
        }
        self.fill_sums();
        if self.place_powers() {
            Ok(())
        } else {
            Err(self.too_many())
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
            let held = self.masters.iter().zip(totals);
            let held = held.map(|(m, total)| level.protons[*m as usize] * total);
            level.of_water + held.sum::<f64>() - wanted
        };
        let levels = &self.roll.levels;
        // Levels go from acid to alkaline, and the excess falls along them.
        let alkaline = levels.partition_point(|l| excess(l) > 0.0);
        let alkaline = alkaline.clamp(1, levels.len() - 1);
        let (low, high) = (&levels[alkaline - 1], &levels[alkaline]);
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

    /// Activities per mol of each master present if no two met.
    pub(super) fn free(&self, guess: Guess) -> impl Iterator<Item = f64> {
        let free = &self.roll.levels[guess.level].free;
        self.masters.iter().map(|m| free[*m as usize])
    }

    /// Puts the masters in order, as many closed ones first as a greedy choice
    /// finds: those that meet the fewest others.
    fn order_masters(&mut self, solved: u32) {
        let mut met = [0_u32; MASTERS];
        let mut single = [true; MASTERS];
        for &i in &self.species {
            let line = self.roll.line(i);
            for &(m, count) in self.roll.parts(line) {
                met[usize::from(m)] |= line.mask & !(1 << m);
                single[usize::from(m)] &= count == 1.0;
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

    /// Puts the species in the order of their closed masters, those without
    /// one last.
    fn order_species(&mut self) {
        let bits = self.masters[..self.closed].iter().map(|m| 1 << *m as u32);
        let closed = bits.fold(0_u32, |mask, bit| mask | bit);
        // Closed masters are in the order of their bits, and never two meet.
        let roll = &self.roll;
        let stretch = |i: u16| (roll.line(i).mask & closed).trailing_zeros() as usize;
        let mut next = [0_usize; u32::BITS as usize + 1];
        for &i in &self.species {
            next[stretch(i)] += 1;
        }
        self.closed_ends.clear();
        let mut end = 0;
        for (bit, next) in next.iter_mut().enumerate() {
            let start = end;
            end += *next;
            *next = start;
            if closed.checked_shr(bit as u32).unwrap_or(0) & 1 != 0 {
                self.closed_ends.push(end);
            }
        }
        let mut ordered = [0; PLACES];
        for &i in &self.species {
            let place = &mut next[stretch(i)];
            ordered[*place] = i;
            *place += 1;
        }
        self.species.copy_from_slice(&ordered[..end]);
    }

    fn fill_species(&mut self) {
        let mut unknown = [0; MASTERS];
        for (m, j) in self.masters.iter().zip(0..) {
            unknown[*m as usize] = j;
        }
        self.k.clear();
        self.rule.clear();
        self.rules.clear();
        self.half_z2.clear();
        self.waters.clear();
        self.parts.clear();
        self.part_ends.clear();
        self.roll.rule_places.fill(None);
        for &i in &self.species {
            let line = self.roll.lines[usize::from(i)];
            let rules = &mut self.rules;
            let rule = usize::from(line.rule);
            let place = *self.roll.rule_places[rule].get_or_insert_with(|| {
                rules.push(self.roll.rules[rule]);
                (rules.len() - 1) as u8
            });
            self.k.push(line.k);
            self.rule.push(place);
            self.half_z2.push(line.half_z2);
            self.waters.push(line.waters);
            let parts = self.roll.parts(&line).iter();
            self.parts
                .extend(parts.map(|&(m, count)| (unknown[usize::from(m)], count)));
            self.part_ends.push(self.parts.len() as u16);
        }
    }

    /// Counts protons beyond those held by the masters, and all that depends
    /// on them.
    fn fill_sums(&mut self) {
        let n = self.masters.len();
        let Tableau {
            parts,
            part_ends,
            held,
            protons,
            shares,
            share_ends,
            crossings,
            half_z2,
            ..
        } = self;
        protons.clear();
        crossings.clear();
        let mut next = [0_u16; UNKNOWNS];
        for ((parts, &i), at) in stretches(parts, part_ends).zip(&self.species).zip(0..) {
            let mut beyond = self.roll.line(i).protons;
            for (p, &(u, count)) in parts.iter().enumerate() {
                let u = usize::from(u);
                next[u] += 1;
                beyond -= f64::from(held[u]) * count;
                for &(v, other) in &parts[p + 1..] {
                    let v = usize::from(v);
                    crossings.push(entry(at, u.min(v), u.max(v), count * other));
                }
            }
            next[n] += u16::from(beyond != 0.0);
            protons.push(beyond);
        }
        let mut end = 0;
        share_ends.clear();
        for next in &mut next[..=n] {
            let start = end;
            end += *next;
            *next = start;
            share_ends.push(end);
        }
        shares.clear();
        let nothing = Share {
            place: 0,
            lanes: [0.0; 4],
        };
        shares.resize(usize::from(end), nothing);
        for (at, parts) in stretches(parts, part_ends).enumerate() {
            let (half_z2, protons) = (half_z2[at], protons[at]);
            let of_protons = (protons != 0.0).then_some((n as u8, protons));
            for (u, count) in parts.iter().copied().chain(of_protons) {
                let next = &mut next[usize::from(u)];
                shares[usize::from(*next)] = Share {
                    place: at as u8,
                    lanes: [1.0, half_z2, protons, count].map(|x| count * x),
                };
                *next += 1;
            }
        }
        self.fill_odd();
    }

    /// What depends on water, and on ionic strength otherwise than most ions.
    fn fill_odd(&mut self) {
        let n = self.masters.len();
        let (strength, water) = (n + 1, n + 2);
        self.watery.clear();
        self.odd.clear();
        for (parts, at) in stretches(&self.parts, &self.part_ends).zip(0..) {
            let place = usize::from(at);
            let waters = self.waters[place];
            let odd = !matches!(self.rules[usize::from(self.rule[place])], Rule::Ion(_));
            if waters == 0.0 && !odd {
                continue;
            }
            let masters = parts.iter().map(|&(u, count)| (usize::from(u), count));
            let others = [
                (n, self.protons[place]),
                (strength, self.half_z2[place]),
                (water, WATER_ACTIVITY_SLOPE.value),
            ];
            for (row, weight) in masters.chain(others).filter(|(_, weight)| *weight != 0.0) {
                if waters != 0.0 {
                    self.watery.push(entry(at, row, water, weight * waters));
                }
                if odd {
                    self.odd.push(entry(at, row, strength, -weight));
                }
            }
        }
    }

    /// Lays out the table of powers. Place 0 stays 1; then come the unknowns
    /// that are not closed, the inverses of the last two, and the products.
    /// False when they are too many.
    fn place_powers(&mut self) -> bool {
        let n = self.masters.len();
        let mut highest = [[0; 2]; UNKNOWNS];
        self.each_factor(|_, unknown, power| {
            let highest = &mut highest[unknown][usize::from(power < 0)];
            *highest = power.abs().max(*highest);
        });
        self.products.clear();
        let mut next = usize::from(first_product(n));
        let mut first = [[0; 2]; UNKNOWNS];
        for unknown in self.closed..n + 2 {
            for sign in 0..2 {
                first[unknown][sign] = next;
                let base = base(n, unknown, sign);
                for power in 2..=highest[unknown][sign] {
                    let of = if power == 2 { base } else { next as u8 - 1 };
                    self.products.push(Product {
                        to: next as u8,
                        of,
                        by: base,
                    });
                    next += 1;
                    if next >= PLACES {
                        return false;
                    }
                }
            }
        }
        let mut factors = core::mem::take(&mut self.factors);
        let mut more_factors = core::mem::take(&mut self.more_factors);
        factors.clear();
        factors.resize(self.species.len(), [0; 3]);
        more_factors.clear();
        let mut used = [0_usize; PLACES];
        self.each_factor(|at, unknown, power| {
            let sign = usize::from(power < 0);
            let place = match power.abs() {
                1 => base(n, unknown, sign),
                p => (first[unknown][sign] + p as usize - 2) as u8,
            };
            match factors[at].get_mut(used[at]) {
                Some(slot) => *slot = place,
                None => more_factors.push((at as u8, place)),
            }
            used[at] += 1;
        });
        (self.factors, self.more_factors) = (factors, more_factors);
        true
    }

    /// Every species' powers of unknowns that are not closed: place, unknown,
    /// power.
    fn each_factor(&self, mut each: impl FnMut(usize, usize, i32)) {
        let n = self.masters.len();
        for (at, parts) in stretches(&self.parts, &self.part_ends).enumerate() {
            let masters = parts.iter().map(|&(u, count)| (usize::from(u), count));
            let others = [(n, self.protons[at]), (n + 1, self.waters[at])];
            for (unknown, count) in masters.chain(others) {
                if unknown >= self.closed && count != 0.0 {
                    each(at, unknown, count as i32);
                }
            }
        }
    }

    /// Works out every activity coefficient at ionic strength `i`.
    #[inline]
    pub(super) fn coefficients(&self, medium: &Medium, i: f64, out: &mut Coefficients) {
        let ions = Ions::at(medium, i);
        out.ion_slope = ions.slope;
        for (place, rule) in self.rules.iter().enumerate() {
            let place = place & (PLACES - 1);
            (out.inverse[place], out.own_slope[place]) = ions.rule(rule);
        }
    }
}

/// What the activity coefficients at one ionic strength have in common.
pub(super) struct Ions {
    i: f64,
    of_one: f64,
    shape: f64,
    by_charge: [f64; 7],
    slope: f64,
}

impl Ions {
    #[inline]
    pub(super) fn at(medium: &Medium, i: f64) -> Ions {
        let (shape, slope) = medium.davies.shape(i.min(medium.held_from));
        let of_one = LN_10 * medium.law.a;
        let one = libm::exp(of_one * shape);
        let four = (one * one) * (one * one);
        let nine = four * four * one;
        let sixteen = (four * four) * (four * four);
        Ions {
            i,
            of_one,
            shape,
            by_charge: [
                1.0,
                one,
                four,
                nine,
                sixteen,
                sixteen * nine,
                nine * nine * nine * nine,
            ],
            slope: if i > medium.held_from {
                0.0
            } else {
                -2.0 * of_one * slope
            },
        }
    }

    /// 1/γ by a rule, and its own slope.
    #[inline]
    pub(super) fn rule(&self, rule: &Rule) -> (f64, f64) {
        let salting = LN_10 * SALTING_OUT.value;
        match *rule {
            Rule::Ion(z) => match self.by_charge.get(usize::from(z)) {
                Some(&inverse) => (inverse, 0.0),
                None => {
                    let z = f64::from(z);
                    (libm::exp(self.of_one * self.shape * z * z), 0.0)
                }
            },
            Rule::Molecule => (libm::exp(-salting * self.i), salting),
            Rule::Extended {
                slope,
                reach,
                linear,
            } => {
                let root = self.i.sqrt();
                let part = 1.0 / (1.0 + reach * root);
                // In an ideal solution there is nothing to take off again.
                let z2 = if self.of_one == 0.0 {
                    0.0
                } else {
                    slope / self.of_one
                };
                (
                    libm::exp(slope * root * part - linear * self.i),
                    linear - 0.5 * slope * part * part / root - 0.5 * z2 * self.slope,
                )
            }
        }
    }
}

/// The stretches of a list that end at these places.
fn stretches<'a, T>(list: &'a [T], ends: &'a [u16]) -> impl Iterator<Item = &'a [T]> {
    let mut start = 0;
    ends.iter().map(move |&end| {
        let stretch = &list[start..usize::from(end)];
        start = usize::from(end);
        stretch
    })
}

fn entry(place: u8, row: usize, column: usize, factor: f64) -> Entry {
    Entry {
        place,
        cell: (row * UNKNOWNS + column) as u16,
        factor,
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

/// Place of an unknown, or for sign 1 of its inverse.
fn base(n: usize, unknown: usize, sign: usize) -> u8 {
    if sign == 0 {
        of_unknown(unknown)
    } else {
        inverse_of(n, unknown)
    }
}

fn first_product(n: usize) -> u8 {
    n as u8 + 5
}
