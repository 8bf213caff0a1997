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

/// Few components, none of them beyond the reach of the activity model.
fn dilute_totals(numbers: &mut Numbers) -> Totals {
    let mut totals = Totals::new();
    for &m in Master::ALL {
        if numbers.next() < 0.3 {
            let total = 0.02 * 10_f64.powf(-4.0 * numbers.next());
            totals = totals.with(m, moles_per_kilogram(total)).unwrap();
        }
    }
    totals
}

fn bits(solution: &ferrogall::equilibrium::Speciation) -> Vec<u64> {
    let species = solution.species().map(|s| s.molality.value.to_bits());
    [solution.ph().to_bits()]
        .into_iter()
        .chain(species)
        .collect()
}

#[test]
fn acid_lowers_ph_and_base_raises_it() {
    let mut numbers = Numbers(2);
    let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0)).unwrap();
    for _ in 0..2_000 {
        let totals = dilute_totals(&mut numbers);
        let more = |m: Master, factor: f64| {
            let more = totals.of(m).value + 0.02 * factor;
            totals.with(m, moles_per_kilogram(more)).unwrap()
        };
        let step = 10_f64.powf(-3.0 * numbers.next());
        let as_it_is = solver.solve(&totals).unwrap().ph();
        let with_acid = solver.solve(&more(Master::Chloride, step)).unwrap().ph();
        let with_base = solver.solve(&more(Master::Sodium, step)).unwrap().ph();
        assert!(
            with_acid < as_it_is,
            "{with_acid} from {as_it_is}: {totals:?}"
        );
        assert!(
            with_base > as_it_is,
            "{with_base} from {as_it_is}: {totals:?}"
        );
    }
}

/// What was solved before leaves no trace in the bits.
#[test]
fn the_past_of_a_solver_does_not_show() {
    let mut numbers = Numbers(3);
    let mut used = Solver::new(ConstantSet::core(), celsius(15.0)).unwrap();
    for _ in 0..300 {
        let (other, totals) = (any_totals(&mut numbers), dilute_totals(&mut numbers));
        used.solve(&other).unwrap();
        let after = bits(&used.solve(&totals).unwrap());
        let mut fresh = Solver::new(ConstantSet::core(), celsius(15.0)).unwrap();
        assert_eq!(after, bits(&fresh.solve(&totals).unwrap()));
    }
}

/// A warm start ends where a cold one does: both are good to 1e-12 of the
/// balances, which leaves pH good to 1e-9 in the worst buffered water.
#[test]
fn warm_and_cold_starts_agree() {
    let mut numbers = Numbers(4);
    let mut warm = Solver::new(ConstantSet::reviewed(), celsius(25.0)).unwrap();
    let mut cold = warm.clone();
    for _ in 0..200 {
        let mut totals = dilute_totals(&mut numbers);
        warm.solve(&totals).unwrap();
        for _ in 0..5 {
            for &m in Master::ALL {
                let next = totals.of(m) * (0.9 + 0.2 * numbers.next());
                totals = totals.with(m, next).unwrap();
            }
            let followed = warm.follow(&totals).unwrap().ph();
            let solved = cold.solve(&totals).unwrap().ph();
            assert!(
                (followed - solved).abs() < 1e-9,
                "{followed} {solved}: {totals:?}"
            );
        }
    }
}

/// Ten times as much ink is the same ink: only rounding of the amounts shows.
#[test]
fn more_of_an_ink_has_the_same_ph() {
    use ferrogall::bench::Lot;
    let part = |id: &str, g: f64| {
        let lot = Lot::of(id).unwrap().build().unwrap();
        lot.composition(ferrogall::quantity::grams(g)).unwrap()
    };
    let ink = part("iron_ii_sulfate_heptahydrate", 15.0)
        .mixed_with(&part("tannic_acid", 12.0))
        .mixed_with(&part("hydrochloric_acid", 3.0))
        .mixed_with(&part("hard_tap_water", 970.0));
    let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0)).unwrap();
    let ph = solver.ph_of(&ink).unwrap();
    for factor in [1e-6, 0.3, 7.0, 1e4] {
        let other = solver.ph_of(&ink.scaled(factor).unwrap()).unwrap();
        assert!((other - ph).abs() < 1e-12, "{factor}: {other} for {ph}");
    }
}

#[cfg(feature = "rayon")]
#[test]
fn rows_on_all_cores_have_the_same_bits() {
    use ferrogall::equilibrium::EquilibriumRow;
    use ferrogall::recipe::RowStatus;
    const ROWS: usize = 5_000;
    let mut numbers = Numbers(5);
    let components = [
        Master::IronII,
        Master::IronIII,
        Master::Sulfate,
        Master::Gallate,
    ];
    let columns: Vec<Vec<f64>> = components
        .iter()
        .map(|_| (0..ROWS).map(|_| 0.1 * numbers.next()).collect())
        .collect();
    let columns: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
    let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0)).unwrap();
    let mut one = vec![EquilibriumRow::NAN; ROWS];
    let mut all = one.clone();
    let mut status = vec![RowStatus::Ok; ROWS];
    solver.rows(&components, &columns, &mut one, &mut status);
    solver.rows_parallel(&components, &columns, &mut all, &mut status);
    assert!(status.iter().all(|s| *s == RowStatus::Ok));
    for (a, b) in one.iter().zip(&all) {
        assert_eq!(a.ph.to_bits(), b.ph.to_bits());
        assert_eq!(
            a.coloured_iron_mol_per_kg.to_bits(),
            b.coloured_iron_mol_per_kg.to_bits()
        );
    }
}
