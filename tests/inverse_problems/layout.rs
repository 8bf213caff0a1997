//! How the check problems are laid out.
//!
//! A programme has `A_ub` with `b_ub`, `A_eq` with `b_eq`, or both; `c`,
//! `bounds` and `integrality` as SciPy has them (without bounds from 0 upward,
//! a pair for all or one for each, null for no end). `sense` may be "max".
//! Least squares have `A`, `b` and perhaps `row_scale`. A problem of acid has
//! `constants` and doses for a pH; its amounts stand in `story`.

use serde_json::Value;

pub enum Layout {
    Linear(Linear),
    Squares(Squares),
    Acid(Acid),
}

#[derive(Clone)]
pub struct Row {
    pub of: Vec<f64>,
    pub low: f64,
    pub high: f64,
    pub equation: bool,
}

#[derive(Clone)]
pub struct Linear {
    /// To be made least; of a problem that wants the most, turned.
    pub costs: Vec<f64>,
    pub bounds: Vec<(f64, f64)>,
    pub whole: Vec<bool>,
    pub rows: Vec<Row>,
    most: bool,
}

pub struct Squares {
    pub columns: Vec<Vec<f64>>,
    pub target: Vec<f64>,
}

pub struct Acid {
    pub pka_hso4: f64,
    pub pka_gallic: f64,
    pub log_kw: f64,
    pub iron: f64,
    pub galloyl: f64,
    pub strength: f64,
    pub batch_ml: f64,
}

impl Layout {
    pub fn of(problem: &Value) -> Option<Layout> {
        if !problem["A_eq"].is_null() || !problem["A_ub"].is_null() {
            Linear::of(problem).map(Layout::Linear)
        } else if !problem["A"].is_null() && problem["c"].is_null() {
            Squares::of(problem).map(Layout::Squares)
        } else if !problem["optimum"]["mL_HCl_for_pH"].is_null() {
            Acid::of(problem).map(Layout::Acid)
        } else {
            None
        }
    }
}

/// A list of numbers; empty for anything else.
pub fn numbers(v: &Value) -> Vec<f64> {
    let all = v.as_array().map(|a| a.iter().map(Value::as_f64).collect());
    all.flatten().unwrap_or_default()
}

fn matrix(v: &Value) -> Option<Vec<Vec<f64>>> {
    let Some(rows) = v.as_array() else {
        return Some(Vec::new());
    };
    let rows: Vec<Vec<f64>> = rows.iter().map(numbers).collect();
    let even = rows
        .iter()
        .all(|r| !r.is_empty() && r.len() == rows[0].len());
    even.then_some(rows)
}

impl Linear {
    fn of(problem: &Value) -> Option<Linear> {
        let mut rows = Vec::new();
        for (key, ends, equation) in [("A_ub", "b_ub", false), ("A_eq", "b_eq", true)] {
            let (left, ends) = (matrix(&problem[key])?, numbers(&problem[ends]));
            if left.len() != ends.len() {
                return None;
            }
            rows.extend(left.into_iter().zip(ends).map(|(of, end)| Row {
                of,
                low: if equation { end } else { f64::NEG_INFINITY },
                high: end,
                equation,
            }));
        }
        let n = rows.first()?.of.len();
        let mut costs = numbers(&problem["c"]);
        if costs.is_empty() && problem["c"].is_null() {
            costs = vec![0.0; n];
        }
        if costs.len() != n || rows.iter().any(|row| row.of.len() != n) {
            return None;
        }
        let said = |key: &str| problem[key].as_str().unwrap_or("").to_lowercase();
        let most = said("sense").starts_with("max")
            || said("direction").starts_with("max")
            || problem["maximise"] == true
            || problem["maximize"] == true;
        if most {
            costs.iter_mut().for_each(|c| *c = -*c);
        }
        let one = |j: usize| bounds(&problem["bounds"], j);
        let whole = |j: usize| whole(&problem["integrality"], j);
        Some(Linear {
            costs,
            bounds: (0..n).map(one).collect::<Option<_>>()?,
            whole: (0..n).map(whole).collect::<Option<_>>()?,
            rows,
            most,
        })
    }

    /// The objective the file states, as a least sum.
    pub fn objective_of(&self, optimum: &Value) -> Option<f64> {
        let under = |key: &&str| optimum[*key].as_f64();
        if let Some(value) = ["objective", "fun", "objective_value", "cost", "value"]
            .iter()
            .find_map(under)
        {
            return Some(if self.most { -value } else { value });
        }
        // The most of something, by its own name.
        ["mL_ink", "volume_mL", "max", "most"]
            .iter()
            .find_map(under)
            .map(|v| -v)
    }

    pub fn cost(&self, x: &[f64]) -> f64 {
        self.costs.iter().zip(x).map(|(c, x)| c * x).sum()
    }

    /// Whether amounts keep rows and bounds, to a share of what is added up.
    pub fn keeps(&self, x: &[f64], to: f64) -> Result<(), String> {
        for (j, (x, (low, high))) in x.iter().zip(&self.bounds).enumerate() {
            let slack = to * (1.0 + x.abs());
            if *x < low - slack || *x > high + slack {
                return Err(format!("x{j} = {x} is out of its bounds"));
            }
        }
        for (i, row) in self.rows.iter().enumerate() {
            let terms = || row.of.iter().zip(x).map(|(a, x)| a * x);
            let (sum, size): (f64, f64) = (terms().sum(), terms().map(f64::abs).sum());
            if sum < row.low - to * size - 1e-12 || sum > row.high + to * size + 1e-12 {
                return Err(format!("row {i} comes to {sum}"));
            }
        }
        Ok(())
    }

    /// The same with every row missed at a price: its slacks, relative to its
    /// end, together least. Gives where they stand among the unknowns.
    pub fn elastic(&self) -> (Linear, Vec<usize>) {
        let mut out = self.clone();
        out.costs.iter_mut().for_each(|c| *c = 0.0);
        out.most = false;
        let mut slacks = Vec::new();
        for i in 0..out.rows.len() {
            let end = out.rows[i].high;
            let unit = if end == 0.0 { 1.0 } else { end.abs() };
            let both: &[f64] = if out.rows[i].equation {
                &[-unit, unit]
            } else {
                &[-unit]
            };
            for side in both {
                slacks.push(out.costs.len());
                out.costs.push(1.0);
                out.bounds.push((0.0, f64::INFINITY));
                out.whole.push(false);
                for (k, row) in out.rows.iter_mut().enumerate() {
                    row.of.push(if k == i { *side } else { 0.0 });
                }
            }
        }
        (out, slacks)
    }
}

/// Bounds of unknown `j`: a pair for all or a list of pairs; null for no end.
fn bounds(v: &Value, j: usize) -> Option<(f64, f64)> {
    let all = match v {
        Value::Null => return Some((0.0, f64::INFINITY)),
        Value::Array(all) => all,
        _ => return None,
    };
    let single = all.len() == 2 && !all.iter().any(|x| x.is_array());
    let pair = if single { v } else { all.get(j)? };
    if pair.is_null() {
        return Some((0.0, f64::INFINITY));
    }
    let [low, high] = pair.as_array()?.as_slice() else {
        return None;
    };
    let end = |v: &Value, open: f64| match v {
        Value::Null => Some(open),
        other => other.as_f64(),
    };
    Some((end(low, f64::NEG_INFINITY)?, end(high, f64::INFINITY)?))
}

/// Whether unknown `j` is whole: 0 or 1, for all or for each.
fn whole(v: &Value, j: usize) -> Option<bool> {
    let one = match v {
        Value::Null => return Some(false),
        Value::Array(all) => all.get(j)?,
        other => other,
    };
    match (one.as_bool(), one.as_f64()) {
        (Some(b), _) => Some(b),
        (_, Some(0.0)) => Some(false),
        (_, Some(1.0)) => Some(true),
        // Half-continuous ones and the like.
        _ => None,
    }
}

fn status(optimum: &Value) -> (Option<i64>, String) {
    let keys = ["status_strict", "status"];
    let number = keys.iter().find_map(|k| optimum[*k].as_i64());
    let words = ["status_strict", "status", "status_text"].iter();
    let words = words.filter_map(|k| optimum[*k].as_str());
    (number, words.collect::<Vec<_>>().join(" ").to_lowercase())
}

/// SciPy's status 2, in figures or words.
pub fn is_infeasible(optimum: &Value) -> bool {
    let (number, words) = status(optimum);
    number == Some(2)
        || words.contains("infeasible")
        || optimum["infeasible"] == true
        || optimum["feasible"] == false
}

/// SciPy's status 3.
pub fn is_unbounded(optimum: &Value) -> bool {
    let (number, words) = status(optimum);
    number == Some(3) || words.contains("unbounded")
}

impl Squares {
    fn of(problem: &Value) -> Option<Squares> {
        let rows = matrix(&problem["A"])?;
        let target = numbers(&problem["b"]);
        let scale = match &problem["row_scale"] {
            Value::Null => vec![1.0; rows.len()],
            given => numbers(given),
        };
        // Amounts from 0 upward only.
        let open = (0..rows.first()?.len())
            .all(|j| bounds(&problem["bounds"], j) == Some((0.0, f64::INFINITY)));
        if target.len() != rows.len() || scale.len() != rows.len() || !open {
            return None;
        }
        let column = |j: usize| rows.iter().zip(&scale).map(|(row, s)| row[j] * s).collect();
        Some(Squares {
            columns: (0..rows[0].len()).map(column).collect(),
            target: target.iter().zip(&scale).map(|(b, s)| b * s).collect(),
        })
    }

    pub fn residual(&self, x: &[f64]) -> f64 {
        let left = self.target.iter().enumerate().map(|(i, b)| {
            let sum: f64 = self.columns.iter().zip(x).map(|(c, x)| c[i] * x).sum();
            (sum - b).powi(2)
        });
        left.sum::<f64>().sqrt()
    }
}

/// The residual the file states.
pub fn residual_of(optimum: &Value) -> Option<f64> {
    let keys = ["residual_norm_scaled", "residual_norm", "residual", "rnorm"];
    keys.iter().find_map(|k| optimum[*k].as_f64())
}

impl Acid {
    fn of(problem: &Value) -> Option<Acid> {
        let constant = |key: &str| problem["constants"][key].as_f64();
        let story = problem["story"].as_str()?;
        Some(Acid {
            pka_hso4: constant("pKa2_HSO4")?,
            pka_gallic: constant("pKa_gallic")?,
            log_kw: constant("Kw")?.log10(),
            iron: number_after(story, "FeSO4")?,
            galloyl: number_before(story, "mol/L galloyl")?,
            strength: number_before(story, "mol/L HCl")?,
            batch_ml: number_before(story, "mL")?,
        })
    }
}

fn number_before(text: &str, mark: &str) -> Option<f64> {
    let before = text.split(mark).next().filter(|b| b.len() < text.len())?;
    before.split_whitespace().last()?.parse().ok()
}

fn number_after(text: &str, mark: &str) -> Option<f64> {
    let after = text.split_once(mark)?.1;
    after.split_whitespace().next()?.parse().ok()
}
