//! The course of a bottle against the same equations, written anew in
//! `bottle_ode` and solved by the crate `differential-equations` (Radau5, an
//! implicit Runge-Kutta method of order five).
//!
//! 300 random bottles a run; `FERROGALL_BOTTLES=10000` asks for more.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bottle_ode;

use bottle_ode::{Amounts, Plain, amounts, course, radau5, sizes};
use ferrogall::oxidation::Moment;
use ferrogall::quantity::Time;
use uom::si::time::second;

const DAY: f64 = 86_400.0;
/// What Radau5 is asked for, relative, and of the most of an amount that there
/// can be; it makes 0.1 · tolerance^(2/3) of it.
const RTOL: f64 = 1e-12;
const ATOL: f64 = 1e-17;
/// Of the most that an amount comes to.
const AGREE: f64 = 1e-6;

/// A stream of numbers from 0 to 1 that depends on its seed alone
/// (Steele, Lea & Flood 2014, splitmix64).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    /// Decade by decade.
    fn decades(&mut self, low: f64, high: f64) -> f64 {
        10_f64.powf(self.between(low.log10(), high.log10()))
    }

    /// The same, or nothing.
    fn or_none(&mut self, low: f64, high: f64) -> f64 {
        if self.next() < 0.4 {
            0.0
        } else {
            self.decades(low, high)
        }
    }
}

/// From slow ones to moderately stiff ones.
fn any_bottle(n: &mut Numbers) -> (Plain, Amounts) {
    let liquid = n.decades(0.005, 1.0);
    let bottle = Plain {
        liquid,
        gas: n.or_none(0.001, 0.5),
        open: n.next() < 0.2,
        transfer: n.decades(1e-7, 1e-2),
        g: n.or_none(1e-12, 1e-8),
        p_amb: n.between(0.1, 0.22),
        henry: n.between(1e-3, 2e-3),
        k1: n.decades(1e-5, 1e3),
        k2: n.or_none(1e-3, 10.0),
        nu: n.between(2.0, 4.0),
        k_red: n.or_none(1e-6, 1e-1),
        phi: n.next(),
        k_sed: n.or_none(1e-8, 1e-4),
        soluble: n.or_none(1e-4, 1e-2),
        k_a: n.or_none(1e-3, 1e2),
        s_a: n.between(0.5, 2.0),
    };
    // A brimful bottle that leaks is fed through its wall, which these
    // equations do not say.
    let g = if bottle.gas > 0.0 { bottle.g } else { 0.0 };
    let bottle = Plain { g, ..bottle };
    let gas = if bottle.open {
        0.0
    } else {
        bottle.of_air(bottle.gas)
    };
    let start = [
        liquid * n.decades(1e-3, 0.3),
        liquid * n.or_none(1e-5, 1e-2),
        0.0,
        liquid * bottle.henry * bottle.p_amb,
        gas,
        liquid * n.or_none(1e-3, 0.3),
        liquid * n.or_none(1e-5, 1e-2),
        0.0,
        0.0,
    ];
    (bottle, start)
}

fn ours(b: &Plain, start: &Amounts, times: &[f64]) -> Vec<Amounts> {
    let times: Vec<Time> = times.iter().map(|&t| Time::new::<second>(t)).collect();
    let mut rows = Vec::new();
    let visit = |_, m: &Moment| rows.push(amounts(&m.contents));
    course(b, start).walk(&times, visit).unwrap();
    rows
}

fn theirs(b: &Plain, start: &Amounts, times: &[f64]) -> Option<Vec<Amounts>> {
    let atol = sizes(b, start).map(|m| ATOL * m);
    let (mut now, mut y) = (0.0, *start);
    let mut rows = Vec::new();
    for &time in times {
        (y, _) = radau5(b, now, time, &y, RTOL, &atol)?;
        now = time;
        rows.push(y);
    }
    Some(rows)
}

fn bottles() -> u64 {
    let asked = std::env::var("FERROGALL_BOTTLES");
    asked.map_or(300, |n| n.parse().expect("a number of bottles"))
}

#[test]
fn another_method_agrees_to_a_millionth() {
    let times = [0.01, 1.0, 10.0, 60.0, 365.0, 1000.0].map(|d| d * DAY);
    let mut numbers = Numbers(1);
    let (mut worst, mut gave_up) = (0.0_f64, 0);
    for number in 0..bottles() {
        let (bottle, start) = any_bottle(&mut numbers);
        let Some(theirs) = theirs(&bottle, &start, &times) else {
            gave_up += 1;
            continue;
        };
        let ours = ours(&bottle, &start, &times);
        for i in 0..start.len() {
            let most = theirs.iter().map(|y| y[i].abs()).fold(start[i], f64::max);
            // A step errs by up to 1e-12 of the iron and the phenol that turn
            // over, whatever there is of an amount; in ten steps that is a
            // millionth of this.
            let most = most.max(1e-5 * (start[0] + start[1] + start[5]));
            for (t, (a, b)) in times.iter().zip(ours.iter().zip(&theirs)) {
                let off = (a[i] - b[i]).abs();
                assert!(
                    off <= AGREE * most,
                    "bottle {number}, amount {i} after {} days: {} and {}, most {most}\n{bottle:?}\n{start:?}",
                    t / DAY,
                    a[i],
                    b[i]
                );
                worst = worst.max(off / most);
            }
        }
    }
    println!("worst {worst:.1e} of the most of an amount; {gave_up} given up by the other");
    assert!(gave_up * 100 <= bottles());
}
