//! Check problems of inverse design, solved outside this project by SciPy
//! (HiGHS, its dual simplex and interior point codes, `nnls`, nested Brent)
//! and by exhaustive search, as each says under `method`.
//!
//! `tests/data/inverse_problems.json` says with each problem what goes in and
//! what comes out; other problems in the same layout may take its place
//! (`inverse_problems/layout.rs` says what is read). The objective is held to
//! 1e-9 and whole numbers exactly, as the issue that asked for them says.
//! Amounts are held to 1e-7 (the file prints seven to sixteen digits), unless
//! the file's own amounts are another optimum: then that is what is held.
//!
//! Each problem that is read has something compared, or the test fails; what
//! is compared and what is in no known layout is printed.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

#[path = "inverse_problems/layout.rs"]
mod layout;

use approx::relative_eq;
use ferrogall::equilibrium::{ConstantSet, DebyeHuckel, Gamma, LogK, Master, Solver, Totals};
use ferrogall::formulate::{Program, ProgramError, nonnegative_least_squares};
use ferrogall::quantity::{ReadMolality, celsius, moles_per_kilogram};
use layout::{Acid, Layout, Linear, Squares, numbers};
use serde_json::{Value, json};

const OBJECTIVE: f64 = 1e-9;
const AMOUNT: f64 = 1e-7;

/// What was compared, in words, or what differs.
type Compared = Result<Vec<String>, String>;

fn problems() -> Vec<Value> {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/data/inverse_problems.json"
    );
    let file: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    file["problems"].as_array().unwrap().clone()
}

#[test]
fn every_problem_that_is_read_is_kept() {
    let (mut read, mut unread) = (0, Vec::new());
    for problem in problems() {
        let name = problem["id"].as_str().unwrap_or("without a name");
        match compare(&problem) {
            None => unread.push(name.to_string()),
            Some(Ok(compared)) => {
                println!("{name}: {}", compared.join(", "));
                read += 1;
            }
            Some(Err(differs)) => panic!("{name}: {differs}"),
        }
    }
    println!("{read} problems compared; in no layout that is known: {unread:?}");
    assert!(read > 0);
}

/// One problem; nothing for a layout of its own.
fn compare(problem: &Value) -> Option<Compared> {
    let optimum = &problem["optimum"];
    let compared = match Layout::of(problem)? {
        Layout::Linear(linear) if layout::is_infeasible(optimum) => infeasible(&linear, optimum),
        Layout::Linear(linear) if layout::is_unbounded(optimum) => {
            match program(&linear).minimise() {
                Err(ProgramError::Unbounded) => Ok(vec!["unbounded".into()]),
                other => Err(format!("has no end, but came out as {other:?}")),
            }
        }
        Layout::Linear(linear) => feasible(&linear, optimum),
        Layout::Squares(squares) => least_squares(&squares, optimum),
        Layout::Acid(acid) => acid_for_a_ph(&acid, optimum),
    };
    Some(match compared {
        Ok(list) if list.is_empty() => Err("read, but there is nothing to compare it with".into()),
        other => other,
    })
}

fn near(what: &str, found: f64, expected: f64, to: f64) -> Result<(), String> {
    if relative_eq!(found, expected, max_relative = to, epsilon = 1e-12) {
        Ok(())
    } else {
        Err(format!("{what} {found:.16} against {expected:.16}"))
    }
}

fn program(linear: &Linear) -> Program {
    let mut program = Program::new();
    let costs = linear.costs.iter().zip(&linear.bounds).zip(&linear.whole);
    let unknowns: Vec<_> = costs
        .map(|((cost, (low, high)), whole)| {
            if *whole {
                program.whole(*cost, *low, *high).unwrap()
            } else {
                program.real(*cost, *low, *high).unwrap()
            }
        })
        .collect();
    for row in &linear.rows {
        let terms: Vec<_> = unknowns.iter().copied().zip(row.of.clone()).collect();
        program.limit(&terms, row.low, row.high).unwrap();
    }
    program
}

fn feasible(linear: &Linear, optimum: &Value) -> Compared {
    let program = program(linear);
    let found = program.minimise().map_err(|e| e.to_string())?;
    let mut compared = Vec::new();
    // Held against the file's own rows, not only by the crate itself.
    linear.keeps(&found.values, OBJECTIVE)?;
    if let Some(expected) = linear.objective_of(optimum) {
        near("objective", found.objective, expected, OBJECTIVE)?;
        compared.push(format!("objective {:.12}", found.objective));
    }
    for key in ["x", "example_x", "counts"] {
        let amounts = numbers(&optimum[key]);
        if !amounts.is_empty() {
            same_or_as_good(linear, &found.values, key, &amounts)?;
            compared.push(key.into());
        }
    }
    compared.extend(duals(linear, optimum)?);
    compared.extend(limits_by_themselves(linear, optimum)?);
    first_of_equals(linear, &found.values)?;
    Ok(compared)
}

/// The amounts of the file, or others that are as good: then the file's must
/// be an optimum too. Whole numbers are the same to the digit.
fn same_or_as_good(
    linear: &Linear,
    found: &[f64],
    key: &str,
    expected: &[f64],
) -> Result<(), String> {
    // Counts may be those of the whole numbers only.
    let whole = (0..found.len()).filter(|j| linear.whole[*j]);
    let places: Vec<usize> = match key {
        "counts" if whole.clone().count() == expected.len() => whole.collect(),
        _ => (0..found.len().min(expected.len())).collect(),
    };
    let same = |(j, x): (&usize, &f64)| match linear.whole[*j] {
        true => found[*j] == *x,
        false => relative_eq!(found[*j], *x, max_relative = AMOUNT, epsilon = 1e-9),
    };
    if places.len() == expected.len() && places.iter().zip(expected).all(same) {
        return Ok(());
    }
    let differs = format!("{key} {found:?} against {expected:?}");
    if places.len() != found.len() {
        // The rest of the file's amounts, for the whole numbers it gives.
        let mut fixed = linear.clone();
        for (j, x) in places.iter().zip(expected) {
            fixed.bounds[*j] = (*x, *x);
        }
        let there = program(&fixed).minimise();
        let there = there.map_err(|e| format!("{differs}: there {e}"))?;
        near(&differs, there.objective, linear.cost(found), OBJECTIVE)
    } else {
        linear.keeps(expected, AMOUNT)?;
        near(&differs, linear.cost(expected), linear.cost(found), AMOUNT)
    }
}

/// What a limit is worth: the change of the optimum with its end. Where the
/// slope changes just there, any slope between is a dual value.
fn duals(linear: &Linear, optimum: &Value) -> Compared {
    let mut compared = Vec::new();
    for (equation, key) in [(true, "duals_eq"), (false, "duals_ub")] {
        let rows = (0..linear.rows.len()).filter(|i| linear.rows[*i].equation == equation);
        for (i, dual) in rows.zip(numbers(&optimum[key])) {
            let step = 1e-4 * linear.rows[i].high.abs().max(1.0);
            let at = |step: f64| {
                let mut moved = linear.clone();
                moved.rows[i].high += step;
                if equation {
                    moved.rows[i].low += step;
                }
                program(&moved).minimise().map(|o| o.objective)
            };
            let here = at(0.0).map_err(|e| e.to_string())?;
            let slopes = [
                at(-step).map_or(f64::NEG_INFINITY, |o| (here - o) / step),
                at(step).map_or(f64::INFINITY, |o| (o - here) / step),
            ];
            let (low, high) = (slopes[0].min(slopes[1]), slopes[0].max(slopes[1]));
            near(key, dual.clamp(low, high), dual, 1e-8)?;
            compared.push(format!("{key}[{i}]"));
        }
    }
    Ok(compared)
}

/// How far each upper limit alone would let it go, as a set: the file names
/// the rows, and the order of an object of JSON means nothing.
fn limits_by_themselves(linear: &Linear, optimum: &Value) -> Compared {
    let named = optimum.as_object().into_iter().flatten();
    let mut named = named.filter(|(key, _)| key.starts_with("per_material_limit"));
    let Some(each) = named.next().and_then(|(_, v)| v.as_object()) else {
        return Ok(Vec::new());
    };
    let mut expected: Vec<f64> = each.values().filter_map(Value::as_f64).collect();
    let mut found = Vec::new();
    for i in (0..linear.rows.len()).filter(|i| !linear.rows[*i].equation) {
        let mut alone = linear.clone();
        let mut at = 0..;
        alone
            .rows
            .retain(|row| at.next() == Some(i) || row.equation);
        let most = program(&alone).minimise().map_err(|e| e.to_string())?;
        found.push(most.objective.abs());
    }
    expected.sort_by(f64::total_cmp);
    found.sort_by(f64::total_cmp);
    if expected.len() != found.len() {
        return Err(format!("limits {found:?} against {expected:?}"));
    }
    for (found, expected) in found.iter().zip(&expected) {
        near("limit", *found, *expected, OBJECTIVE)?;
    }
    Ok(vec!["each limit alone".into()])
}

/// The crate's rule for ties: of two unknowns that are alike in everything,
/// the later one is used only when the first is at its end.
fn first_of_equals(linear: &Linear, found: &[f64]) -> Result<(), String> {
    let alike = |a: usize, b: usize| {
        linear.costs[a] == linear.costs[b]
            && linear.whole[a] == linear.whole[b]
            && linear.rows.iter().all(|row| row.of[a] == row.of[b])
    };
    for b in 0..found.len() {
        for a in (0..b).filter(|a| alike(*a, b)) {
            let full = found[a] >= linear.bounds[a].1 * (1.0 - OBJECTIVE);
            if !full && found[b] > linear.bounds[b].0 + 1e-9 {
                return Err(format!("of x{a} and x{b}, which are alike: {found:?}"));
            }
        }
    }
    Ok(())
}

/// What cannot be had is known, and the nearest: each limit with relative
/// slacks, their sum made least.
fn infeasible(linear: &Linear, optimum: &Value) -> Compared {
    match program(linear).minimise() {
        Err(ProgramError::Infeasible) => {}
        other => return Err(format!("cannot be had, but came out as {other:?}")),
    }
    let mut compared = vec!["infeasible".to_string()];
    let (elastic, slacks) = linear.elastic();
    let shortfall = optimum["relative_shortfall"].as_object();
    let amounts = numbers(&optimum["x"]);
    if shortfall.is_none() && amounts.is_empty() {
        return Ok(compared);
    }
    let nearest = program(&elastic).minimise().map_err(|e| e.to_string())?;
    if let Some(shortfall) = shortfall {
        let mut expected: Vec<f64> = shortfall.values().filter_map(Value::as_f64).collect();
        let total = expected.iter().map(|x| x.abs()).sum();
        near("all shortfalls", nearest.objective, total, OBJECTIVE)?;
        let mut found: Vec<f64> = slacks.iter().map(|s| nearest.values[*s]).collect();
        // As a set, as above; rows that are kept may not be named.
        found.retain(|s| *s > 1e-12);
        expected.retain(|s| s.abs() > 1e-12);
        found.sort_by(f64::total_cmp);
        expected.sort_by(f64::total_cmp);
        if found.len() != expected.len() {
            return Err(format!("shortfalls {found:?} against {expected:?}"));
        }
        for (found, expected) in found.iter().zip(&expected) {
            near("shortfall", *found, *expected, OBJECTIVE)?;
        }
        compared.push("shortfalls".into());
    }
    if !amounts.is_empty() {
        same_or_as_good(&elastic, &nearest.values, "x", &amounts)?;
        compared.push("x of the nearest".into());
    }
    Ok(compared)
}

fn least_squares(squares: &Squares, optimum: &Value) -> Compared {
    let columns: Vec<&[f64]> = squares.columns.iter().map(Vec::as_slice).collect();
    let best = nonnegative_least_squares(&columns, &squares.target).map_err(|e| e.to_string())?;
    let mut compared = Vec::new();
    if best.amounts.iter().any(|x| *x < 0.0) {
        return Err(format!("below nothing: {:?}", best.amounts));
    }
    let own = squares.residual(&best.amounts);
    near("residual", best.residual, own, OBJECTIVE)?;
    if let Some(expected) = layout::residual_of(optimum) {
        near("residual", best.residual, expected, OBJECTIVE)?;
        compared.push(format!("residual {:.12}", best.residual));
    }
    let amounts = numbers(&optimum["x"]);
    if amounts.len() == best.amounts.len() {
        let pairs = || best.amounts.iter().zip(&amounts);
        let to = |(a, b): (&f64, &f64)| relative_eq!(a, b, max_relative = AMOUNT, epsilon = 1e-9);
        // With fewer rows than columns the amounts are not the only ones.
        if !pairs().all(to) {
            let there = squares.residual(&amounts);
            near("residual of the file's x", there, own, AMOUNT)?;
        }
        compared.push("x".into());
    }
    let free = numbers(&optimum["unconstrained"]);
    if free.len() == columns.len() {
        // Below nothing is the same as above nothing of the opposite.
        let opposite = squares.columns.iter();
        let opposite = opposite.map(|c| c.iter().map(|x| -x).collect());
        let both: Vec<Vec<f64>> = squares.columns.iter().cloned().chain(opposite).collect();
        let both: Vec<&[f64]> = both.iter().map(Vec::as_slice).collect();
        let best = nonnegative_least_squares(&both, &squares.target).map_err(|e| e.to_string())?;
        let (above, below) = best.amounts.split_at(free.len());
        for ((above, below), x) in above.iter().zip(below).zip(&free) {
            near("unconstrained", above - below, *x, AMOUNT)?;
        }
        compared.push("unconstrained".into());
    }
    Ok(compared)
}

/// The crude model of the file, an ideal solution with two acids, built from
/// its constants; the amounts stand in its text.
fn acid_for_a_ph(acid: &Acid, optimum: &Value) -> Compared {
    let mut set = ConstantSet::builder("ideal, two acids");
    let mut add = |equation: &str, log_k: f64| {
        set.species(equation, LogK::at_25(log_k).unwrap()).unwrap();
    };
    add("SO4-2 + H+ = HSO4-", acid.pka_hso4);
    add("H3Gal- + H+ = H4Gal", acid.pka_gallic);
    add("H2O = OH- + H+", acid.log_kw);
    // Ideal: molecules are not salted out either.
    let ideal = Gamma::Extended {
        radius_angstrom: 0.0,
        b: 0.0,
    };
    set.gamma("H4Gal", ideal).unwrap();
    let solver = Solver::new(set.build(), celsius(25.0)).unwrap();
    let mut solver = solver.with_debye_huckel(DebyeHuckel { a: 0.0, b: 0.0 });
    let totals = [
        (Master::IronII, acid.iron),
        (Master::Sulfate, acid.iron),
        (Master::Gallate, acid.galloyl),
    ];
    let totals = totals.iter().fold(Totals::new(), |t, (master, c)| {
        t.with(*master, moles_per_kilogram(*c)).unwrap()
    });
    let mut compared = Vec::new();
    if let Some(expected) = optimum["pH_without_acid"].as_f64() {
        near(
            "pH",
            solver.solve(&totals).unwrap().ph(),
            expected,
            OBJECTIVE,
        )?;
        compared.push("pH without acid".into());
    }
    for (ph, ml) in optimum["mL_HCl_for_pH"].as_object().into_iter().flatten() {
        let wanted: f64 = ph.parse().map_err(|_| format!("pH {ph}"))?;
        let (dose, _) = solver.solve_for(Master::Chloride, wanted, &totals).unwrap();
        let found = dose.in_moles_per_kilogram() * acid.batch_ml / acid.strength;
        near("mL", found, ml.as_f64().unwrap(), OBJECTIVE)?;
        compared.push(format!("mL for pH {ph}"));
    }
    Ok(compared)
}

fn read(problem: Value) -> Compared {
    compare(&problem).expect("a layout that is known")
}

/// Layouts the file might have as well, with answers anyone can see.
#[test]
fn variants_of_the_layout_are_read() {
    // Most of x + y below x + 2y = 4, x at most 3: 3 and a half.
    let most = |optimum: Value| {
        json!({"sense": "max", "c": [1, 1], "A_ub": [[1, 2]], "b_ub": [4],
            "bounds": [[null, 3], [0, null]], "optimum": optimum})
    };
    assert!(read(most(json!({"fun": 3.5, "x": [3, 0.5]}))).is_ok());
    assert!(read(most(json!({"objective": 3.5}))).is_ok());
    assert!(read(most(json!({"objective": 3.4999}))).is_err());
    assert!(read(most(json!({"fun": 3.5, "x": [2, 1]}))).is_err());
    assert!(read(most(json!({"method": "by hand"}))).is_err());
    // The same as a least sum, its figure with either sign.
    let turned = |optimum: Value| {
        json!({"c": [-1, -1], "A_ub": [[1, 2]], "b_ub": [4],
            "bounds": [[0, 3], null], "optimum": optimum})
    };
    assert!(read(turned(json!({"objective": -3.5}))).is_ok());
    assert!(read(turned(json!({"mL_ink": 3.5}))).is_ok());
    assert!(read(turned(json!({"mL_ink": 3.0}))).is_err());
    // Whole numbers said in several ways; one pair of bounds for all.
    for integrality in [json!([1, 1]), json!(1), json!([true, true])] {
        let whole = |objective: f64| {
            json!({"c": [1, 1.5], "A_ub": [[-1, -1]], "b_ub": [-2.5], "bounds": [0, 2],
                "integrality": integrality, "optimum": {"objective": objective, "counts": [2, 1]}})
        };
        assert!(read(whole(3.5)).is_ok());
        assert!(read(whole(2.75)).is_err());
    }
    // Without bounds; a low end that is not nothing; no low end at all.
    let least = |bounds: Value, x: f64| {
        json!({"c": [1], "A_ub": [[-1]], "b_ub": [5], "bounds": bounds,
            "optimum": {"objective": x, "x": [x]}})
    };
    assert!(read(least(Value::Null, 0.0)).is_ok());
    assert!(read(least(json!([[2, null]]), 2.0)).is_ok());
    assert!(read(least(json!([[null, null]]), -5.0)).is_ok());
    // A tie: another split is as good, a dearer one is not.
    let tie = |x: Value| json!({"c": [1, 1], "A_eq": [[1, 1]], "b_eq": [2], "optimum": {"x": x}});
    assert!(read(tie(json!([0.5, 1.5]))).is_ok());
    assert!(read(tie(json!([0.5, 2.0]))).is_err());
}

#[test]
fn what_cannot_be_had_and_least_squares_are_read_in_variants() {
    // An inequality that cannot be kept: 3 wanted at least, 2 there.
    let short = |optimum: Value| {
        json!({"A_ub": [[-1]], "b_ub": [-3], "bounds": [[0, 2]],
            "optimum": optimum})
    };
    assert!(read(short(json!({"status": 2}))).is_ok());
    let third = json!({"status": "infeasible", "x": [2], "relative_shortfall": {"a": 1.0 / 3.0}});
    assert!(read(short(third)).is_ok());
    let half = json!({"feasible": false, "relative_shortfall": {"a": 0.5}});
    assert!(read(short(half)).is_err());
    let fits = json!({"A_ub": [[-1]], "b_ub": [-1], "optimum": {"status": 2}});
    assert!(read(fits).is_err());
    let endless = json!({"c": [-1], "A_ub": [[-1]], "b_ub": [0], "optimum": {"status": 3}});
    assert!(read(endless).is_ok());
    // Least squares without a scale: x = 1.5 is nearest to 1 and 2.
    let middle = |residual: f64| {
        json!({"A": [[1], [1]], "b": [1, 2],
            "optimum": {"residual_norm": residual, "x": [1.5], "unconstrained": [1.5]}})
    };
    assert!(read(middle(f64::sqrt(0.5))).is_ok());
    assert!(read(middle(0.7)).is_err());
    // What is in none of the layouts is said to be so.
    assert!(compare(&json!({"id": "other", "optimum": {"g": 3.12}})).is_none());
    let semicontinuous = json!({"c": [1], "A_ub": [[-1]], "b_ub": [-1], "integrality": [2]});
    assert!(compare(&semicontinuous).is_none());
}
