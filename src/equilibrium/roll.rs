//! Every species of a set, in the terms of a layout, and where a solution of
//! them is thought to lie.

use super::DebyeHuckel;
use super::constants::{ConstantSet, Species};
use super::master::{MASTERS, Master};
use super::tableau::{Ions, Medium, Rule};
use core::f64::consts::LN_10;

/// pH of the levels, and the ionic strength they are reckoned for.
pub(super) const LEVELS: core::ops::Range<i32> = -1..15;
const LEVEL_STRENGTH: f64 = 0.1;

/// A solution of one pH in which no two masters meet; arrays by master.
#[derive(Debug, Clone, Copy)]
pub(super) struct Level {
    /// Activity of the proton.
    pub h: f64,
    /// Protons of the species without any master.
    pub of_water: f64,
    /// Protons per mol of each master, and the same as a whole number.
    pub protons: [f64; MASTERS],
    pub held: [i8; MASTERS],
    /// Activity per mol of each master that holds these protons.
    pub free: [f64; MASTERS],
}

/// Every species of the set, in the terms of a layout: what does not depend on
/// the mixture is worked out once.
#[derive(Debug, Clone)]
pub(super) struct Roll {
    pub lines: Vec<Line>,
    /// Masters and how many of each, species by species.
    pub parts: Vec<(u8, f64)>,
    pub rules: Vec<Rule>,
    /// Place of each rule in the layout, while it is filled.
    pub rule_places: Vec<Option<u8>>,
    pub levels: Vec<Level>,
}

/// A species of the set; a gas stands in for carbonate where there is one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line {
    /// Bits of the masters solved for.
    pub mask: u32,
    /// Its stretch of the parts of all.
    pub start: u16,
    pub end: u16,
    pub rule: u16,
    pub protons: f64,
    pub waters: f64,
    pub half_z2: f64,
    pub k: f64,
}

impl Roll {
    pub(super) fn empty() -> Roll {
        Roll {
            lines: Vec::new(),
            parts: Vec::new(),
            rules: Vec::new(),
            rule_places: Vec::new(),
            levels: Vec::new(),
        }
    }

    pub(super) fn read(
        &mut self,
        set: &ConstantSet,
        ln_k: &[f64],
        medium: &Medium,
        ln_gas: Option<f64>,
    ) {
        for (species, ln_k) in set.species.iter().zip(ln_k) {
            self.add(species, *ln_k, medium.law, ln_gas);
        }
        self.rule_places.resize(self.rules.len(), None);
        self.fill_levels(medium);
    }

    pub(super) fn add(
        &mut self,
        species: &Species,
        ln_k: f64,
        law: DebyeHuckel,
        ln_gas: Option<f64>,
    ) {
        let makeup = &species.makeup;
        let carbonate = Master::Carbonate as usize;
        let gas = ln_gas.map_or(0.0, |_| makeup.masters[carbonate]);
        let start = self.parts.len() as u16;
        let mut mask = makeup.mask();
        if ln_gas.is_some() {
            mask &= !(1 << carbonate);
        }
        let counts = makeup.masters.iter().enumerate();
        let solved = counts.filter(|(m, _)| mask & (1 << m) != 0);
        self.parts.extend(solved.map(|(m, n)| (m as u8, *n)));
        let rule = Rule::of(species, law);
        let known = self.rules.iter().position(|r| *r == rule);
        if known.is_none() {
            self.rules.push(rule);
        }
        let z = f64::from(species.charge);
        self.lines.push(Line {
            mask,
            start,
            end: self.parts.len() as u16,
            rule: known.unwrap_or(self.rules.len() - 1) as u16,
            protons: makeup.protons - 2.0 * gas,
            waters: makeup.waters + gas,
            half_z2: 0.5 * z * z,
            k: libm::exp(ln_k + gas * ln_gas.unwrap_or(0.0)),
        });
    }

    pub(super) fn line(&self, place: u16) -> &Line {
        &self.lines[usize::from(place)]
    }

    pub(super) fn parts(&self, line: &Line) -> &[(u8, f64)] {
        &self.parts[usize::from(line.start)..usize::from(line.end)]
    }

    pub(super) fn fill_levels(&mut self, medium: &Medium) {
        let ions = Ions::at(medium, LEVEL_STRENGTH);
        for ph in LEVELS {
            let level = self.level(&ions, libm::exp(-LN_10 * f64::from(ph)));
            self.levels.push(level);
        }
    }

    pub(super) fn level(&self, ions: &Ions, h: f64) -> Level {
        let mut level = Level {
            h,
            of_water: 0.0,
            protons: [0.0; MASTERS],
            held: [0; MASTERS],
            free: [0.0; MASTERS],
        };
        for line in &self.lines {
            let inverse = ions.rule(&self.rules[usize::from(line.rule)]).0;
            let amount = line.k * inverse * whole_power(h, line.protons as i32);
            match *self.parts(line) {
                [] => level.of_water += line.protons * amount,
                [(only, 1.0)] => {
                    level.protons[usize::from(only)] += line.protons * amount;
                    level.free[usize::from(only)] += amount;
                }
                _ => {}
            }
        }
        for (m, free) in level.free.iter_mut().enumerate() {
            if *free > 0.0 {
                level.protons[m] /= *free;
                level.held[m] = libm::round(level.protons[m]) as i8;
                *free = whole_power(h, i32::from(level.held[m])) / *free;
            }
        }
        level
    }
}

/// `x` to the power `n`, by squares.
fn whole_power(x: f64, n: i32) -> f64 {
    let mut square = if n < 0 { 1.0 / x } else { x };
    let mut left = n.unsigned_abs();
    let mut power = 1.0;
    while left != 0 {
        if left & 1 != 0 {
            power *= square;
        }
        square *= square;
        left >>= 1;
    }
    power
}
