//! C programs against the static and the shared library.

use super::header::committed;
use crate::common::{has, libraries, root, scratch, succeeded};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Mutex, PoisonError};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Linked {
    Static,
    Shared,
}

/// The program, compiled once: a test may not replace what another one runs.
fn compiled(program: &'static str, linked: Linked) -> PathBuf {
    static MADE: Mutex<BTreeMap<(&str, Linked), PathBuf>> = Mutex::new(BTreeMap::new());
    let mut made = MADE.lock().unwrap_or_else(PoisonError::into_inner);
    let compile = || compile(program, linked);
    made.entry((program, linked))
        .or_insert_with(compile)
        .clone()
}

fn compile(program: &str, linked: Linked) -> PathBuf {
    let out = scratch().join(format!("{program}_{linked:?}"));
    let library = libraries().join(match linked {
        Linked::Static => "libferrogall.a",
        Linked::Shared => "libferrogall.so",
    });
    let output = Command::new("cc")
        .args(["-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-g"])
        .arg("-I")
        .arg(root().join("include"))
        .arg(root().join("examples/c").join(program).with_extension("c"))
        .arg(library)
        .args(["-lm", "-lpthread", "-ldl", "-o"])
        .arg(&out)
        .output()
        .unwrap();
    succeeded(&format!("compiling {program}.c"), &output);
    out
}

fn ran(program: &Path) -> String {
    succeeded("the program", &Command::new(program).output().unwrap())
}

#[test]
fn batch_runs_with_either_library_and_says_the_same() {
    if !has("cc") {
        return;
    }
    let text = ran(&compiled("batch", Linked::Static));
    assert_eq!(text, ran(&compiled("batch", Linked::Shared)));
    for part in [
        "With sumac:",
        "hedge sumac",
        "tannic acid",
        "fill_ml = 45: fill volume = ",
        "recipe: recipe is NULL",
        // Findings, rounding and stocks, and the sheet of a handle.
        "! no_acid: ",
        "of the iron wanted by: ",
        "gum arabic, tears or granules: 6.82 g, taken as 7.00 g",
        "or: dissolve 13.6 g of gum arabic",
        "EUR",
        "terephthalate, 25 °C",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    // What the sumac brought, the tannic acid brings: the ratio stays, but for
    // the rounding to half a gram.
    let ratios: Vec<f64> = text
        .lines()
        .filter_map(|line| line.trim().strip_prefix("iron per galloyl  "))
        .map(|rest| rest.split_whitespace().next().unwrap().parse().unwrap())
        .collect();
    assert_eq!(ratios.len(), 2);
    assert!(
        (ratios[0] - ratios[1]).abs() < 0.05 * ratios[0],
        "{ratios:?}"
    );
}

#[test]
fn acid_runs_and_its_figures_hang_together() {
    if !has("cc") {
        return;
    }
    let text = ran(&compiled("acid", Linked::Static));
    for part in [
        "pH ",
        "iron(II): ",
        "for pH 1.60",
        "out of reach",
        "A number is NaN.",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
}

#[test]
fn keeping_runs_and_its_figures_hang_together() {
    if !has("cc") {
        return;
    }
    let text = ran(&compiled("keeping", Linked::Static));
    assert_eq!(text, ran(&compiled("keeping", Linked::Shared)));
    for part in [
        "a quarter on the bench: iron(II) lost ",
        "points: a smaller bottle, filled to 95 %",
        "(acid burns: ",
        "a litre keeps best in ",
        "observed: ",
        "filled to 60 mL: A number is outside its range.",
        "A number is NaN.",
        "day 14: ",
        "fill_ml = 55: fill volume = ",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    // Three figures, in this order: nothing takes more than the bound.
    let figures = |title: &str| -> Vec<f64> {
        let line = text.lines().find(|line| line.starts_with(title)).unwrap();
        let words = line.split(|c: char| !c.is_ascii_digit() && c != '.');
        words.filter_map(|word| word.parse().ok()).collect()
    };
    let quarter = figures("a quarter on the bench");
    let [typical, low, high, bound, floor] = quarter[quarter.len() - 5..] else {
        panic!("{quarter:?}");
    };
    assert!(low <= typical && typical <= high && high <= bound && floor <= typical);
    // Measures come best first.
    let saved: Vec<f64> = text
        .lines()
        .filter_map(|line| line.split_once(" points: "))
        .map(|(number, _)| number.trim().parse().unwrap())
        .collect();
    assert!(
        saved.len() > 5 && saved.is_sorted_by(|a, b| a >= b),
        "{saved:?}"
    );
}

#[test]
fn how_sure_runs_and_its_figures_hang_together() {
    if !has("cc") {
        return;
    }
    let text = ran(&compiled("how_sure", Linked::Static));
    assert_eq!(text, ran(&compiled("how_sure", Linked::Shared)));
    for part in [
        "iron per galloyl unit: ",
        "Most comes from \"hedge galls: tannin\"",
        "A number is outside its range.",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    let figures = |title: &str| -> Vec<f64> {
        let line = text.lines().find(|line| line.starts_with(title)).unwrap();
        let words = line[title.len()..].split(|c: char| !c.is_ascii_digit() && c != '.');
        words.filter_map(|word| word.parse().ok()).collect()
    };
    // The chance is the share of the draws above the criterion, 1.05.
    let [chance, sampling, share] = figures("excess iron:")[..] else {
        panic!("{text}");
    };
    assert_eq!(chance, share);
    assert!(
        0.0 < sampling && sampling < chance && chance < 100.0,
        "{text}"
    );
    // The spot test narrows the belief, and that the interval of the ink.
    let [before_low, before_high] = figures("tannin of the galls before:")[..] else {
        panic!("{text}");
    };
    let [after_low, after_high] = figures("tannin of the galls after:")[..2] else {
        panic!("{text}");
    };
    assert!(after_high - after_low < before_high - before_low, "{text}");
    let width = |title| match figures(title)[..] {
        [value, low, high] if low < value && value < high => high - low,
        _ => panic!("{text}"),
    };
    assert!(width("iron per galloyl after:") < width("iron per galloyl before:"));
    let [now, grams, factor] = figures("sure at 95 %:")[..] else {
        panic!("{text}");
    };
    assert!(now < 95.0 && factor > 1.0 && grams > 60.0, "{text}");
}

#[test]
fn assay_runs_and_its_figures_hang_together() {
    if !has("cc") {
        return;
    }
    let text = ran(&compiled("assay", Linked::Static));
    assert_eq!(text, ran(&compiled("assay", Linked::Shared)));
    for part in [
        "assumed (no_blank): ",
        "caution: Permanganate stains",
        "sample 2: nan % iron(II); A number is outside its range.",
        "The method says nothing true about this kind of sample.",
        "ash or wet-digest the ink",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    let figures = |title: &str| -> Vec<f64> {
        let line = text.lines().find(|line| line.starts_with(title)).unwrap();
        let words = line[title.len()..].split(|c: char| !c.is_ascii_digit() && c != '.');
        words.filter_map(|word| word.parse().ok()).collect()
    };
    // 5.00 g that leave 3.40 g of FeSO4.H2O (169.92 g/mol): (169.92 * 5/3.4 - 151.90)
    // / 18.015 waters.
    let [waters, low, high] = figures("waters to an iron:")[..] else {
        panic!("{text}");
    };
    assert!(low < waters && waters < high && (waters - 5.44).abs() < 0.006);
    // 26.50 mL of 0.02 mol/L, five iron each, of 55.845 g/mol, in 0.70 g.
    let iron = figures("iron(II):")[0];
    assert!((iron - 100.0 * 0.0265 * 0.02 * 5.0 * 55.845 / 0.70).abs() < 0.006);
    let rusted = figures("rusted:")[0];
    assert!((rusted - 100.0 * 1.4 / 27.9).abs() < 0.06, "{text}");
    // The test narrows the belief, and the second wash has less than the first.
    let (before, after) = (figures("tannin before:"), figures("tannin after:"));
    assert!(after[1] - after[0] < before[1] - before[0], "{text}");
    let liquor = figures("liquor:");
    assert!(liquor[0] == 400.0 && liquor[2] < liquor[1] && liquor[1] < liquor[3]);
    let (first, second) = (figures("wash 1:")[1], figures("wash 2:")[1]);
    // Each rounded to a percent.
    assert!(
        second < first && (first + second - liquor[4]).abs() <= 1.5,
        "{text}"
    );
}

#[test]
fn shelf_runs_and_its_figures_hang_together() {
    if !has("cc") {
        return;
    }
    let text = ran(&compiled("shelf", Linked::Static));
    assert_eq!(text, ran(&compiled("shelf", Linked::Shared)));
    for part in [
        "ok: gum 10 g/L, wanted 10\n",
        "wanted at least 3\n",
        "it ends with: ",
        "500 g of green vitriol: ",
        "not had: gum",
        "row 4: A number is NaN.",
        "green vitriol: two lots on the shelf",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    let section = |title: &str| -> &str {
        let rest = text.split_once(&format!("{title}\n")).unwrap().1;
        let end = rest.find("\n  weighs ").unwrap();
        let end = end + rest[end..].find("thrown away").unwrap_or(0);
        &rest[..end]
    };
    // Weighings, cost and waste.
    let summary = |title: &str| -> [f64; 3] {
        let line = section(title).lines().last().unwrap();
        let words = line.split(|c: char| !c.is_ascii_digit() && c != '.');
        let figures: Vec<f64> = words.filter_map(|word| word.parse().ok()).collect();
        figures.try_into().unwrap()
    };
    let (cheap, few) = (summary("CHEAPEST"), summary("LEAST WEIGHING"));
    assert!(cheap[1] <= few[1] && few[0] <= cheap[0], "{text}");
    assert!(summary("SUREST")[1] > 0.0, "{text}");
    for title in ["CHEAPEST", "LEAST WEIGHING", "SUREST"] {
        assert!(!section(title).contains("not had"), "{text}");
    }
    // Stronger inks of the same kind cost more, until iron or tannin is used up.
    let costs: Vec<f64> = text
        .lines()
        .filter_map(|line| line.split_once(" g/L: cost "))
        .map(|(_, rest)| rest.split(',').next().unwrap().parse().unwrap())
        .collect();
    assert!(costs.len() == 5 && costs.is_sorted(), "{costs:?}");
}

#[test]
fn judge_runs_and_its_figures_hang_together() {
    if !has("cc") {
        return;
    }
    let text = ran(&compiled("judge", Linked::Static));
    assert_eq!(text, ran(&compiled("judge", Linked::Shared)));
    for part in [
        "4 oz: 113 (113 to 125) g\n",
        // A wine pint or an ale pint.
        "ends with 473 mL (473 to 578)",
        "578 mL with ",
        "dose_far_from_reference: 12.5 g/L of phenol",
        "  if you meant 1 g of phenol",
        "is_38_1952: composition clauses of known number met; 4 tests remain",
        "iron content, at least: met by +1.51 g/L, chance 100 %",
        "number not seen: iron content, at most",
        "metallic iron: not met by -0.99 g/L, chance 0 %",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
}

#[test]
fn a_thousand_recipes_have_the_same_bits_in_c_and_in_rust() {
    if !has("cc") {
        return;
    }
    let expected = super::bits::lines();
    for linked in [Linked::Static, Linked::Shared] {
        let text = ran(&compiled("bits", linked));
        assert_eq!(text.lines().count(), 1000);
        for (c, rust) in text.lines().zip(&expected) {
            assert_eq!(c, rust);
        }
    }
}

#[test]
fn valgrind_finds_neither_errors_nor_leaks() {
    if !has("cc") || !has("valgrind") {
        return;
    }
    for program in [
        "batch", "bits", "acid", "keeping", "how_sure", "assay", "shelf", "judge",
    ] {
        let output = Command::new("valgrind")
            .args(["--error-exitcode=9", "--leak-check=full"])
            .arg("--errors-for-leak-kinds=definite,indirect,possible")
            .arg(compiled(program, Linked::Static))
            .arg("brief") // what takes seconds takes minutes here
            .output()
            .unwrap();
        succeeded(&format!("valgrind on {program}"), &output);
    }
}

#[test]
fn header_stands_alone_in_c99_and_in_cpp() {
    let header = root().join("include/ferrogall.h");
    for (compiler, language, standard) in [("cc", "c", "-std=c99"), ("c++", "c++", "-std=c++11")] {
        if !has(compiler) {
            continue;
        }
        let output = Command::new(compiler)
            .args([standard, "-Wall", "-Wextra", "-Werror", "-pedantic"])
            .args(["-fsyntax-only", "-x", language])
            .arg(&header)
            .output()
            .unwrap();
        succeeded(&format!("{compiler} on the header"), &output);
    }
}

/// The functions that the header declares.
pub fn declared() -> BTreeSet<String> {
    let code: String = committed()
        .lines()
        .filter(|line| !line.trim_start().starts_with(['/', '*', '#']))
        .collect::<Vec<_>>()
        .join("\n");
    code.match_indices("fgall_")
        .filter_map(|(at, _)| code[at..].split_once('('))
        .map(|(name, _)| name)
        .filter(|name| name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_'))
        .map(str::to_string)
        .collect()
}

#[test]
fn shared_library_exports_the_functions_of_the_header_and_nothing_else() {
    if !has("nm") {
        return;
    }
    let output = Command::new("nm")
        .args(["-D", "--defined-only"])
        .arg(libraries().join("libferrogall.so"))
        .output()
        .unwrap();
    let exported: BTreeSet<String> = succeeded("nm", &output)
        .lines()
        .filter_map(|line| line.split_whitespace().nth(2))
        .map(str::to_string)
        .collect();
    assert!(exported.iter().all(|name| name.starts_with("fgall_")));
    assert_eq!(exported, declared());
}
