//! Check problems of inverse design, solved outside this project by SciPy
//! (HiGHS, its dual simplex and interior point codes, `nnls`, nested Brent)
//! and by exhaustive search, as each says under `method`.
//!
//! `tests/data/inverse_problems.json` says with each problem what goes in and
//! what comes out; other problems in the same layout may take its place. The
//! objective is held to 1e-9 and whole numbers exactly, as the issue that
//! asked for them says. Amounts are held to 1e-7 where the file says that the
//! optimum has one answer only (it prints seven to sixteen digits).
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::equilibrium::{ConstantSet, DebyeHuckel, Gamma, LogK, Master, Solver, Totals};
use ferrogall::formulate::{Program, ProgramError, Unknown, nonnegative_least_squares};
use ferrogall::quantity::{ReadMolality, celsius, moles_per_kilogram};
use serde_json::Value;

const OBJECTIVE: f64 = 1e-9;
const AMOUNT: f64 = 1e-7;

fn problems() -> Vec<Value> {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/data/inverse_problems.json"
    );
    let file: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    file["problems"].as_array().unwrap().clone()
}

fn name(problem: &Value) -> &str {
    problem["id"].as_str().unwrap()
}

fn numbers(v: &Value) -> Vec<f64> {
    let all = v.as_array().map(|a| a.iter().map(|x| x.as_f64().unwrap()));
    all.map(Iterator::collect).unwrap_or_default()
}

fn matrix(v: &Value) -> Vec<Vec<f64>> {
    let rows = v.as_array().map(|rows| rows.iter().map(numbers).collect());
    rows.unwrap_or_default()
}

/// A programme as the file lays it out, and its unknowns.
fn program(problem: &Value) -> (Program, Vec<Unknown>) {
    let (upper, equal) = (matrix(&problem["A_ub"]), matrix(&problem["A_eq"]));
    let costs = numbers(&problem["c"]);
    let columns = upper.iter().chain(&equal).map(Vec::len).max().unwrap();
    let mut program = Program::new();
    let unknowns: Vec<Unknown> = (0..columns)
        .map(|j| {
            let cost = costs.get(j).copied().unwrap_or(0.0);
            // Without bounds, as SciPy has it: from 0 upward.
            let low = problem["bounds"][j][0].as_f64().unwrap_or(0.0);
            let high = problem["bounds"][j][1].as_f64().unwrap_or(f64::INFINITY);
            if problem["integrality"][j].as_i64() == Some(1) {
                program.whole(cost, low, high).unwrap()
            } else {
                program.real(cost, low, high).unwrap()
            }
        })
        .collect();
    let mut rows = |rows: &[Vec<f64>], ends: &[f64], equation: bool| {
        for (row, &end) in rows.iter().zip(ends) {
            let terms: Vec<_> = unknowns.iter().copied().zip(row.iter().copied()).collect();
            let low = if equation { end } else { f64::NEG_INFINITY };
            program.limit(&terms, low, end).unwrap();
        }
    };
    rows(&upper, &numbers(&problem["b_ub"]), false);
    rows(&equal, &numbers(&problem["b_eq"]), true);
    (program, unknowns)
}

fn is_program(problem: &Value) -> bool {
    !problem["A_eq"].is_null() || !problem["A_ub"].is_null()
}

fn is_least_squares(problem: &Value) -> bool {
    !problem["A"].is_null() && !problem["row_scale"].is_null()
}

fn is_infeasible(problem: &Value) -> bool {
    problem["optimum"]["status_strict"].as_i64() == Some(2)
}

fn is_acidity(problem: &Value) -> bool {
    !problem["optimum"]["mL_HCl_for_pH"].is_null()
}

/// The objective where the file states it, under any of its names.
fn objective(problem: &Value) -> Option<f64> {
    let optimum = &problem["optimum"];
    let most = optimum["mL_ink"].as_f64().map(|v| -v);
    optimum["objective"].as_f64().or(most)
}

#[test]
fn every_layout_is_read() {
    let problems = problems();
    let unread: Vec<&str> = problems
        .iter()
        .filter(|p| !is_program(p) && !is_least_squares(p) && !is_acidity(p))
        .map(name)
        .collect();
    println!(
        "of {} problems, in a layout of their own: {unread:?}",
        problems.len()
    );
    assert!(unread.len() < problems.len());
}

#[test]
fn optima_of_programmes() {
    let mut compared = 0;
    for problem in problems()
        .iter()
        .filter(|p| is_program(p) && !is_infeasible(p))
    {
        let (program, _) = program(problem);
        let optimum = program
            .minimise()
            .unwrap_or_else(|e| panic!("{}: {e}", name(problem)));
        let expected = &problem["optimum"];
        if let Some(value) = objective(problem) {
            println!(
                "{}: {:.16} against {value:.16}",
                name(problem),
                optimum.objective
            );
            assert_relative_eq!(optimum.objective, value, max_relative = OBJECTIVE);
            compared += 1;
        }
        for (j, count) in numbers(&expected["counts"]).iter().enumerate() {
            assert_eq!(optimum.values[j], *count, "{} x{j}", name(problem));
            compared += 1;
        }
        // An example of a tie is held too: the first of two equals is taken.
        for x in [&expected["x"], &expected["example_x"]] {
            for (j, amount) in numbers(x).iter().enumerate() {
                let found = optimum.values[j];
                assert_relative_eq!(found, *amount, max_relative = AMOUNT, epsilon = 1e-12);
                compared += 1;
            }
        }
    }
    assert!(compared > 0);
}

/// What a limit is worth: the change of the optimum with its end, against the
/// dual values of the file. The optimum is piecewise linear in the end, so a
/// small step shows the slope to rounding.
#[test]
fn what_limits_are_worth() {
    for problem in problems()
        .iter()
        .filter(|p| !p["optimum"]["duals_eq"].is_null())
    {
        for (key, duals) in [("b_eq", "duals_eq"), ("b_ub", "duals_ub")] {
            for (i, dual) in numbers(&problem["optimum"][duals]).iter().enumerate() {
                let at = |step: f64| {
                    let mut moved = problem.clone();
                    let end = moved[key][i].as_f64().unwrap();
                    moved[key][i] = Value::from(end + step);
                    program(&moved).0.minimise().unwrap().objective
                };
                let slope = (at(0.01) - at(-0.01)) / 0.02;
                println!("{} {duals}[{i}]: {slope} against {dual}", name(problem));
                assert_relative_eq!(slope, *dual, max_relative = 1e-8);
            }
        }
    }
}

/// What cannot be had is known, and the nearest: each equation with two
/// relative slacks, their sum made least.
#[test]
fn infeasible_programmes_and_their_repair() {
    for problem in problems()
        .iter()
        .filter(|p| is_program(p) && is_infeasible(p))
    {
        let (strict, _) = program(problem);
        assert_eq!(strict.minimise().unwrap_err(), ProgramError::Infeasible);

        let mut elastic = Program::new();
        let rows = matrix(&problem["A_eq"]);
        let ends = numbers(&problem["b_eq"]);
        let amounts: Vec<Unknown> = (0..rows[0].len())
            .map(|j| {
                let high = problem["bounds"][j][1].as_f64().unwrap_or(f64::INFINITY);
                elastic.real(0.0, 0.0, high).unwrap()
            })
            .collect();
        let mut short = Vec::new();
        for (row, &end) in rows.iter().zip(&ends) {
            let below = elastic.real(1.0, 0.0, f64::INFINITY).unwrap();
            let above = elastic.real(1.0, 0.0, f64::INFINITY).unwrap();
            let mut terms: Vec<_> = amounts.iter().copied().zip(row.iter().copied()).collect();
            terms.extend([(below, end), (above, -end)]);
            elastic.limit(&terms, end, end).unwrap();
            short.push(below);
        }
        let nearest = elastic.minimise().unwrap();
        for (unknown, x) in amounts.iter().zip(numbers(&problem["optimum"]["x"])) {
            assert_relative_eq!(nearest.value(*unknown), x, max_relative = OBJECTIVE);
        }
        let shortfall = problem["optimum"]["relative_shortfall"]
            .as_object()
            .unwrap();
        // The file names the rows; the order of an object of JSON means
        // nothing, so both sides are sorted.
        let mut expected: Vec<f64> = shortfall.values().map(|v| v.as_f64().unwrap()).collect();
        let mut found: Vec<f64> = short.iter().map(|u| nearest.value(*u)).collect();
        expected.sort_by(f64::total_cmp);
        found.sort_by(f64::total_cmp);
        assert_eq!(expected.len(), found.len());
        for (found, expected) in found.iter().zip(expected) {
            assert_relative_eq!(*found, expected, max_relative = OBJECTIVE, epsilon = 1e-12);
        }
    }
}

#[test]
fn mixtures_by_least_squares() {
    for problem in problems().iter().filter(|p| is_least_squares(p)) {
        let scale = numbers(&problem["row_scale"]);
        let rows = matrix(&problem["A"]);
        let target: Vec<f64> = numbers(&problem["b"])
            .iter()
            .zip(&scale)
            .map(|(b, s)| b * s)
            .collect();
        let columns: Vec<Vec<f64>> = (0..rows[0].len())
            .map(|j| rows.iter().zip(&scale).map(|(row, s)| row[j] * s).collect())
            .collect();
        let columns: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
        let best = nonnegative_least_squares(&columns, &target).unwrap();
        let expected = problem["optimum"]["residual_norm_scaled"].as_f64().unwrap();
        println!("{}: {} against {expected}", name(problem), best.residual);
        assert_relative_eq!(
            best.residual,
            expected,
            max_relative = OBJECTIVE,
            epsilon = 1e-12
        );
        assert!(best.amounts.iter().all(|x| *x >= 0.0));
        // With fewer rows than columns the amounts are not the only ones.
        if rows.len() >= columns.len() {
            for (found, x) in best.amounts.iter().zip(numbers(&problem["optimum"]["x"])) {
                assert_relative_eq!(*found, x, max_relative = OBJECTIVE, epsilon = 1e-12);
            }
        }
    }
}

/// The crude model of the file, an ideal solution with two acids, built from
/// its constants: iron sulfate 0.055 and galloyl 0.062 mol/L, made with
/// hydrochloric acid of 12 mol/L. Both the problem's text and its `constants`
/// are needed; the amounts stand in the text only.
#[test]
fn acid_for_a_ph() {
    for problem in problems().iter().filter(|p| is_acidity(p)) {
        let constant = |key: &str| problem["constants"][key].as_f64().unwrap();
        let mut set = ConstantSet::builder("ideal, two acids");
        let mut add = |equation: &str, log_k: f64| {
            set.species(equation, LogK::at_25(log_k).unwrap()).unwrap();
        };
        add("SO4-2 + H+ = HSO4-", constant("pKa2_HSO4"));
        add("H3Gal- + H+ = H4Gal", constant("pKa_gallic"));
        add("H2O = OH- + H+", libm::log10(constant("Kw")));
        // Ideal: molecules are not salted out either.
        let ideal = Gamma::Extended {
            radius_angstrom: 0.0,
            b: 0.0,
        };
        set.gamma("H4Gal", ideal).unwrap();
        let solver = Solver::new(set.build(), celsius(25.0)).unwrap();
        let mut solver = solver.with_debye_huckel(DebyeHuckel { a: 0.0, b: 0.0 });
        let totals = [
            (Master::IronII, 0.055),
            (Master::Sulfate, 0.055),
            (Master::Gallate, 0.062),
        ]
        .iter()
        .fold(Totals::new(), |t, (master, c)| {
            t.with(*master, moles_per_kilogram(*c)).unwrap()
        });
        let expected = problem["optimum"]["pH_without_acid"].as_f64().unwrap();
        let ph = solver.solve(&totals).unwrap().ph();
        println!("{}: pH {ph} against {expected}", name(problem));
        assert_relative_eq!(ph, expected, max_relative = OBJECTIVE);
        let doses = problem["optimum"]["mL_HCl_for_pH"].as_object().unwrap();
        for (ph, ml) in doses {
            let wanted: f64 = ph.parse().unwrap();
            let (acid, _) = solver.solve_for(Master::Chloride, wanted, &totals).unwrap();
            let found = acid.in_moles_per_kilogram() * 100.0 / 12.0;
            println!("{}: {found} mL for pH {ph}", name(problem));
            assert_relative_eq!(found, ml.as_f64().unwrap(), max_relative = OBJECTIVE);
        }
    }
}
