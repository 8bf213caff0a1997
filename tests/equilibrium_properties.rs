//! Laws that hold for every solution, whatever is in it.
//!
//! 100,000 random solutions a run; `FERROGALL_SOLUTIONS=10000000` asks for
//! more. A solution holds a random choice of the components, each from 1e-15
//! mol/kg to near saturation, at a random temperature and with either set of
//! constants, and is solved without a guess.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
use ferrogall::quantity::{ReadMolality, celsius, moles_per_kilogram};

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
}

/// Few components or many, traces or much.
fn any_totals(numbers: &mut Numbers) -> Totals {
    let share = numbers.next();
    let mut totals = Totals::new();
    for &m in Master::ALL {
        if numbers.next() < share {
            let most = match m {
                Master::IronII | Master::IronIII | Master::Sulfate | Master::Chloride => 3.0,
                _ => 1.0,
            };
            // A third are traces, the rest spread over three decades.
            let decades = if numbers.next() < 0.33 { 15.0 } else { 3.0 };
            let total = most * 10_f64.powf(-decades * numbers.next());
            totals = totals.with(m, moles_per_kilogram(total)).unwrap();
        }
    }
    totals
}

fn solutions() -> u64 {
    let asked = std::env::var("FERROGALL_SOLUTIONS");
    asked.map_or(100_000, |n| n.parse().expect("a number of solutions"))
}

#[test]
fn every_solution_is_solved_and_balanced() {
    let mut numbers = Numbers(1);
    let mut most = 0;
    let mut sum = 0_u64;
    let per_solver = 500;
    for block in 0..solutions().div_ceil(per_solver) {
        let set = if block % 2 == 0 {
            ConstantSet::reviewed()
        } else {
            ConstantSet::core()
        };
        let t = celsius(60.0 * numbers.next());
        let mut solver = Solver::new(set, t).unwrap();
        for _ in 0..per_solver {
            let totals = any_totals(&mut numbers);
            let solution = match solver.solve(&totals) {
                Ok(s) => s,
                Err(e) => panic!("{e}: {totals:?} at {t:?}"),
            };
            assert!(solution.residual() <= 1e-12);
            assert!(solution.ph().is_finite());
            assert!(solution.charge_error().abs() <= 1e-12, "{totals:?}");
            for &m in Master::ALL {
                let (found, given) = (solution.total(m), totals.of(m));
                let (found, given) = (found.in_moles_per_kilogram(), given.in_moles_per_kilogram());
                assert!(
                    (found - given).abs() <= 1e-12 * given,
                    "{m:?}: {found} for {given}"
                );
            }
            most = most.max(solution.evaluations());
            sum += u64::from(solution.evaluations());
        }
    }
    println!(
        "evaluations: mean {:.2}, most {most}",
        sum as f64 / solutions() as f64
    );
}
