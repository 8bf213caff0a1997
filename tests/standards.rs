//! The published specifications against the notes they were drawn from, and
//! inks against the specifications.
//!
//! `tests/data/ink_standards.csv` keeps each clause as it was read: limits,
//! conditions, how it was seen.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use std::collections::HashSet;

use ferrogall::bench::Lot;
use ferrogall::composition::Composition;
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Recipe, Solution};
use ferrogall::source::Status;
use ferrogall::standards::{
    Bound, ClauseVerdict, CompositionVerdict, Family, InkDraws, Kind, Limit, Overview, OwnInk,
    Quantity, Requirement, Role, Standard, StandardError, Standing, Test, consistency,
    reference_ink, standard, standards,
};
use ferrogall::uncertainty::{Distribution, MonteCarlo, Study};
use proptest::prelude::*;
use table::{Row, number, table};

// --- every row of the notes ------------------------------------------------

fn id_of(name: &str) -> &'static str {
    let names = [
        ("IS 38:1952", "is_38_1952"),
        ("TT-I-563", "us_tt_i_563"),
        ("NBS C413", "nbs_c413"),
        ("NBS RP779", "nbs_rp779"),
        ("US pre-1936", "us_official_with_gum"),
        ("Germany 1888/1912", "de_document_class_i"),
        ("Germany 1912 class II", "de_writing_class_ii"),
        ("Schluttig", "schluttig_neumann_1890"),
        ("SFS 1964:504", "se_sfs_1964_504"),
        ("BS 3484:1962", "bs_3484_1962"),
        ("BS 3484-1:1991", "bs_3484_1_1991"),
        ("BS 3484-2:1994", "bs_3484_2_1994"),
        ("IS 220", "is_220_1988"),
        ("IS 221", "is_221"),
        ("ISO 11798", "iso_11798"),
        ("ISO 12757-2", "iso_other_pens"),
    ];
    let found = names.iter().find(|(start, _)| name.starts_with(start));
    found.unwrap_or_else(|| panic!("{name}")).1
}

fn status_of(row: &Row) -> Status {
    match row["status"].as_str() {
        s if s.contains("memory") => Status::FromMemory,
        s if s.contains("official text") || s.contains("partly seen") => Status::Published,
        _ => Status::Secondary,
    }
}

/// Which figure of ours a row with numbers is about.
enum About {
    Limit(Quantity),
    Figure(Role),
}

fn about(row: &Row) -> About {
    let what = row["quantity"].as_str();
    let starts = |words: &[&str]| words.iter().any(|w| what.starts_with(w));
    if starts(&["metallic iron", "iron"]) {
        About::Limit(Quantity::Iron)
    } else if starts(&["tannic + gallic acid"]) {
        About::Limit(Quantity::TannicAndGallicAcid)
    } else if starts(&["gum acacia"]) {
        About::Limit(Quantity::GumArabic)
    } else if starts(&["age of reference ink", "age of comparison ink"]) {
        About::Figure(Role::AgeOfReference)
    } else if starts(&["visible sediment"]) {
        About::Figure(Role::Visible)
    } else if starts(&["mould", "mass loss", "comparison", "resistance"]) {
        About::Figure(Role::TimesReference)
    } else if starts(&["undisturbed settling", "duration", "storage in glass"]) {
        About::Figure(Role::Duration)
    } else if starts(&["sample volume"]) {
        About::Figure(Role::Sample)
    } else if starts(&["volume per dish", "volume in the 14-day"]) {
        About::Figure(Role::PerDish)
    } else if starts(&["temperature", "made up to volume"]) {
        About::Figure(Role::Temperature)
    } else if starts(&["age of writing"]) {
        About::Figure(Role::AgeOfWriting)
    } else {
        panic!("{row:?}")
    }
}

/// What is printed is what we hold; what is not printed in this row may stand
/// in another (least and most of the German iron have a row each).
fn same(printed: Option<f64>, ours: Option<f64>) -> bool {
    printed.is_none() || printed == ours
}

fn figures_of(s: &'static Standard) -> Vec<&'static ferrogall::standards::TestFigure> {
    let of_clause = |c: &'static ferrogall::standards::Clause| match &c.requirement {
        Requirement::Test(test) => test.figures.iter().collect(),
        _ => Vec::new(),
    };
    let tests = s.clauses.iter().flat_map(of_clause);
    tests.chain(s.own_ink_rules.iter()).collect()
}

/// Whether the standard holds a row's figures, in its unit, with its status.
/// `used` collects the limits that rows account for.
fn holds(s: &'static Standard, row: &Row, used: &mut HashSet<(String, Quantity, bool)>) -> bool {
    let (min, max) = (number(row, "min"), number(row, "max"));
    let status = status_of(row);
    match about(row) {
        About::Limit(quantity) => s.clauses.iter().any(|c| {
            let Requirement::Limit(limit) = &c.requirement else {
                return false;
            };
            // A percentage by volume is ten grams in the litre.
            let factor = match row["unit"].as_str() {
                unit if unit.starts_with('%') => 10.0,
                unit => {
                    assert_eq!(unit, quantity.unit());
                    1.0
                }
            };
            if factor == 10.0 {
                assert_eq!(limit.printed(), format!("{} %", row["min"]));
            }
            let found = limit.quantity() == quantity
                && same(min.map(|x| factor * x), limit.min())
                && same(max.map(|x| factor * x), limit.max())
                && c.cited.status == status;
            for (bound, is_max) in [(min, false), (max, true)] {
                if found && bound.is_some() {
                    used.insert((s.id.to_string(), quantity, is_max));
                }
            }
            found
        }),
        About::Figure(role) => figures_of(s).iter().any(|f| {
            f.role == role
                && f.unit == row["unit"]
                && same(min, f.min)
                && same(max, f.max)
                && f.cited.status == status
        }),
    }
}

/// Rows without a number to compare, each with what is to be found instead.
fn holds_in_words(s: &'static Standard, row: &Row) -> bool {
    let test_of = |number: &str| {
        let clause = s.clauses.iter().find(|c| c.number == number)?;
        match &clause.requirement {
            Requirement::Test(test) => Some((test, clause.cited.status)),
            _ => None,
        }
    };
    let status = status_of(row);
    match (row["clause"].as_str(), row["quantity"].as_str()) {
        ("1 Scope", "ink class") => s.scope == row["test_conditions"],
        ("6 Writing properties", _) => test_of("6").is_some_and(|(t, found)| {
            t.passes.contains("no smudge, stickiness or penetration") && found == status
        }),
        ("7 Iron content", "metallic iron, upper limit") => {
            assert!(s.windows().all(|w| w.max.is_none()), "it has no number");
            s.clauses.iter().any(|c| match &c.requirement {
                Requirement::NotSeen { quantity, reads } => {
                    *quantity == Some(Quantity::Iron)
                        && reads.contains("3.0 and 3.9")
                        && c.cited.status == status
                }
                _ => false,
            })
        }
        ("title", what) if what.contains("TT-I-563F") => {
            s.edition.contains("TT-I-563F") && what.ends_with(s.scope.as_ref())
        }
        ("sediment", _) => test_of("sediment").is_some_and(|(t, _)| t.passes.contains("trace")),
        ("action on pens", _) => has(s, Role::Duration, 48.0, "h", status),
        ("permanence", "ageing of streaks before exposure") => {
            has(s, Role::AgeOfWriting, 7.0, "day", status)
        }
        ("writing", _) => {
            test_of("writing").is_some_and(|(t, _)| t.passes.contains("flows easily"))
        }
        ("validity", _) => s.standing == Standing::Cancelled && s.ended == row["max"],
        ("status", "published") => s.published == row["min"],
        ("status", "withdrawn") => s.standing == Standing::Withdrawn && s.ended == row["min"],
        ("status", "part exists, withdrawn") => s.standing == Standing::Withdrawn,
        ("App. A-E", _) => {
            assert_eq!(s.own_ink, OwnInk::NumbersNotSeen);
            ["App. B", "App. C", "App. D", "App. E"].iter().all(|n| {
                let mut clauses = s.clauses.iter().filter(|c| c.number == *n);
                clauses.all(|c| matches!(c.requirement, Requirement::NotSeen { .. }))
                    && s.clauses.iter().any(|c| c.number == *n)
            })
        }
        ("scope", what) => {
            let (_, says) = what.split_once("; ").unwrap();
            s.scope.ends_with(says) && s.clauses.is_empty() && s.kind == Kind::ElsewhereOnly
        }
        _ => false,
    }
}

fn has(s: &'static Standard, role: Role, figure: f64, unit: &str, status: Status) -> bool {
    figures_of(s).iter().any(|f| {
        (f.role, f.max, f.unit.as_ref(), f.cited.status) == (role, Some(figure), unit, status)
    })
}

#[test]
fn every_row_of_the_notes_is_in_the_data() {
    let rows = table("ink_standards.csv");
    assert_eq!(rows.len(), 45);
    let mut used = HashSet::new();
    let mut seen = HashSet::new();
    for row in &rows {
        let s = standard(id_of(&row["standard"])).unwrap();
        seen.insert(s.id.to_string());
        let plain = |column: &str| row[column].is_empty() || row[column].parse::<f64>().is_ok();
        let printed = !row["min"].is_empty() || !row["max"].is_empty();
        let in_figures = printed && plain("min") && plain("max") && row["unit"] != "year";
        let found = match in_figures {
            true => holds(s, row, &mut used),
            false => holds_in_words(s, row),
        };
        assert!(found, "{}: {row:?}", s.id);
    }
    // And nothing else is limited: every limit has its row.
    assert_eq!(seen.len(), standards().len());
    for s in standards() {
        for w in s.windows() {
            for (bound, is_max) in [(w.min, false), (w.max, true)] {
                let key = (s.id.to_string(), w.quantity, is_max);
                assert_eq!(bound.is_some(), used.contains(&key), "{key:?}");
            }
        }
    }
}

/// Where sources disagree both figures are kept and marked: washing after 8
/// days (German principles) or 7 (Spanish account); 27 g/L or, from memory, 30.
#[test]
fn disagreeing_sources_are_both_there() {
    let class_i = standard("de_document_class_i").unwrap();
    let ages: Vec<f64> = figures_of(class_i)
        .iter()
        .filter(|f| f.role == Role::AgeOfWriting && f.disputed)
        .map(|f| f.max.unwrap())
        .collect();
    assert_eq!(ages, [8.0, 7.0]);
    let acids = &class_i.clauses[0];
    assert_eq!(acids.rivals[0].limit.min(), Some(30.0));
    assert_eq!(acids.rivals[0].cited.status, Status::FromMemory);
    assert_eq!(acids.cited.status, Status::Secondary);
}

#[test]
fn identifiers_are_unlike_and_every_reference_ink_exists() {
    let ids: HashSet<&str> = standards().iter().map(|s| s.id.as_ref()).collect();
    assert_eq!(ids.len(), 16);
    for s in standards() {
        if let OwnInk::Published(id) = s.own_ink {
            assert!(reference_ink(id).is_some(), "{id}");
        }
        assert_eq!(standard(&s.id).unwrap(), s);
    }
    assert!(standard("no such").is_none());
}

// --- each standard's own ink -----------------------------------------------

fn ink(id: &str, strength: f64) -> Composition {
    let recipe = reference_ink(id).unwrap().recipe(liters(1.0), strength);
    recipe.unwrap().evaluate().unwrap().composition
}

/// Standard, its limit, what its own ink holds (two decimals, from the prints
/// by 55.845/278.006), and what that comes to.
#[test]
fn each_standard_passes_its_own_ink() {
    for (id, quantity, holds, verdict) in [
        (
            "de_document_class_i",
            Quantity::TannicAndGallicAcid,
            30.36,
            ClauseVerdict::Meets,
        ),
        (
            "de_document_class_i",
            Quantity::Iron,
            6.03,
            ClauseVerdict::MeetsAsRounded,
        ),
        (
            "schluttig_neumann_1890",
            Quantity::Iron,
            6.03,
            ClauseVerdict::MeetsAsRounded,
        ),
        (
            "us_tt_i_563",
            Quantity::Iron,
            3.01,
            ClauseVerdict::MeetsAsRounded,
        ),
        (
            "us_official_with_gum",
            Quantity::GumArabic,
            10.0,
            ClauseVerdict::Meets,
        ),
        ("bs_3484_1962", Quantity::Iron, 5.02, ClauseVerdict::Meets),
    ] {
        let s = standard(id).unwrap();
        let own = s.own_ink.reference_ink().unwrap();
        let page = s.compare(&ink(own.id, 1.0));
        let clause = page
            .clauses
            .iter()
            .find(|c| c.quantity == Some(quantity))
            .unwrap();
        assert!(
            (clause.figure.unwrap() - holds).abs() < 0.005,
            "{id}: {:?}",
            clause.figure
        );
        assert_eq!(clause.verdict, verdict, "{id}");
        assert_ne!(page.composition, CompositionVerdict::NotMet, "{id}");
    }
    // No other standard with a known ink has a limit.
    let with_both = standards()
        .iter()
        .filter(|s| s.own_ink.reference_ink().is_some() && s.windows().count() > 0);
    assert_eq!(with_both.count(), 5);
}

/// The rounding trap: the type ink of 1888 computes to 6.03 g/L against "at
/// most 6". To the letter it fails by 0.026 g/L; a figure rounded to grams, as
/// the limit is stated, passes up to 6.5.
#[test]
fn the_type_ink_fails_a_strict_reading_of_its_own_rule() {
    let page = standard("de_document_class_i")
        .unwrap()
        .compare(&ink("german_document_1888", 1.0));
    let iron = page
        .clauses
        .iter()
        .find(|c| c.quantity == Some(Quantity::Iron))
        .unwrap();
    assert!(!iron.window().unwrap().contains(iron.figure.unwrap()));
    assert_eq!(iron.verdict, ClauseVerdict::MeetsAsRounded);
    assert_eq!((iron.nearest, iron.decimals), (Some(Bound::Max), Some(0)));
    // 30 g of green vitriol: 30 × 55.845 / 278.006 = 6.0263 g.
    assert!((iron.margin.unwrap() + 0.0263).abs() < 5e-5);
    assert_eq!(page.composition, CompositionVerdict::MetAsRounded);
    assert_eq!(
        page.summary(),
        "composition clauses met, 1 of 2 only as rounded; 3 tests remain to be carried out"
    );
    let stronger = standard("de_document_class_i")
        .unwrap()
        .compare(&ink("german_document_1888", 1.08));
    assert_eq!(stronger.composition, CompositionVerdict::NotMet); // 6.508 g/L
}

/// On crystals the German sum is 31.1 g (23.4 + 7.7), without their water
/// 30.36 (23.4 + 6.96).
#[test]
fn both_bases_of_tannic_and_gallic_acid_are_told() {
    let page = standard("de_document_class_i")
        .unwrap()
        .compare(&ink("german_document_1888", 1.0));
    let acids = &page.clauses[0];
    assert!((acids.figure.unwrap() - 30.36).abs() < 0.005);
    let other = acids.other_basis.as_ref().unwrap();
    assert!((other.figure.unwrap() - 31.1).abs() < 1e-9);
    // The gap can matter: 26.5 anhydrous is 27.1 on crystals. "27" by rounding only.
    let weaker = standard("de_document_class_i")
        .unwrap()
        .compare(&ink("german_document_1888", 26.3 / 30.36));
    let acids = &weaker.clauses[0];
    assert_eq!(acids.verdict, ClauseVerdict::DoesNotMeet);
    assert_eq!(
        acids.other_basis.as_ref().unwrap().verdict,
        ClauseVerdict::MeetsAsRounded
    );
}

#[test]
fn no_outcome_says_that_a_standard_is_met() {
    for s in standards() {
        for id in ["us_federal_writing_1935", "german_document_1888"] {
            let page = s.compare(&ink(id, 1.0));
            let text = page.to_string();
            assert!(!text.contains("meets the standard"), "{text}");
            assert_eq!(page.summary().contains("remain"), page.tests > 0);
            assert_eq!(page.clauses.len(), s.clauses.len());
            assert!(text.contains(s.cited.status.label()) && text.contains(s.standing.words()));
            for c in &page.clauses {
                assert!(text.contains(&c.cited.to_string()));
            }
        }
    }
    // What is from memory says so on its page.
    let class_ii = standard("de_writing_class_ii")
        .unwrap()
        .compare(&ink("us_federal_writing_1935", 1.0));
    assert!(class_ii.to_string().contains("from memory, unconfirmed"));
    // The Irish upper limit is reported, not computed.
    let irish = standard("is_38_1952")
        .unwrap()
        .compare(&ink("german_document_1888", 1.0));
    let upper = irish
        .clauses
        .iter()
        .find(|c| c.verdict == ClauseVerdict::NumberNotSeen)
        .unwrap();
    assert_eq!((upper.min, upper.max, upper.margin), (None, None, None));
    assert!(
        irish
            .to_string()
            .contains("between 3.0 and 3.9 g/L, not seen")
    );
}

// --- the invariant -----------------------------------------------------------

/// One ink at three strengths, computed from the prints, two decimals: tannic to
/// gallic acid 3.04, 3.08, 3.05; both to vitriol 1.04, 1.03, 1.04; 1.65 galloyl
/// units an iron. The gallic powder 0.99.
#[test]
fn the_official_inks_are_one_ink() {
    for (id, tannic, vitriol, galloyl) in [
        ("se_sfs_1964_504", 3.04, 1.04, 1.65),
        ("us_tt_i_563", 3.08, 1.03, 1.65),
        ("bs_3484_1962", 3.05, 1.04, 1.65),
    ] {
        let c = standard(id).unwrap().consistency().unwrap();
        assert!(
            (c.tannic_per_gallic.unwrap() - tannic).abs() < 0.005,
            "{id}"
        );
        assert!(
            (c.acids_per_vitriol.unwrap() - vitriol).abs() < 0.005,
            "{id}"
        );
        assert!(
            (c.galloyl_per_iron.unwrap() - galloyl).abs() < 0.005,
            "{id}"
        );
        assert_eq!((c.family, c.off.len()), (Family::TannicInk, 0), "{id}");
    }
    let powder = consistency(&ink("us_gallic_powder_1935", 1.0));
    assert!((powder.galloyl_per_iron.unwrap() - 0.99).abs() < 0.005);
    assert_eq!(powder.family, Family::GallicPowder);
    assert!(standard("is_38_1952").unwrap().consistency().is_none());
}

/// A slip in a formula shows: gallic acid taken anhydrous, vitriol for tannin.
#[test]
fn a_slip_in_a_formula_is_found() {
    let made = |tannic: f64, gallic: f64, vitriol: f64| {
        let lot = |id: &str| Lot::of(id).unwrap().build().unwrap();
        let tannin = Lot::of("tannic_acid").unwrap().tannin(1.0, 0.0).unwrap();
        let tannin = tannin
            .moisture(0.0, 0.0)
            .unwrap()
            .gallic_acid(0.0, 0.0)
            .unwrap();
        let jug = Solution::new("jug")
            .add(&tannin.build().unwrap(), grams(tannic))
            .add(&lot("gallic_acid_monohydrate"), grams(gallic))
            .add(&lot("iron_ii_sulfate_heptahydrate"), grams(vitriol));
        let recipe = Recipe::new("formula")
            .with(jug)
            .make_up(&lot("distilled_water"), liters(1.0));
        consistency(&recipe.evaluate().unwrap().composition)
    };
    let swapped = made(30.0, 7.7, 23.4);
    assert_eq!(swapped.family, Family::Neither);
    assert_eq!(swapped.off.len(), 3, "{:?}", swapped.off);
    let twice_gallic = made(23.4, 15.4, 30.0);
    assert_eq!(twice_gallic.family, Family::Neither);
    assert!(
        twice_gallic.off[0].contains("1.52 against 3.05"),
        "{:?}",
        twice_gallic.off
    );
    assert_eq!(consistency(&Composition::EMPTY).family, Family::Neither);
}

// --- chances against closed forms --------------------------------------------

fn iron_water(purity: f64, u: f64, g: f64) -> Recipe {
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .named("vitriol");
    let vitriol = vitriol.purity(purity, u).unwrap().build().unwrap();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    Recipe::new("iron water")
        .with(Solution::new("jug").add(&vitriol, grams(g)))
        .make_up(&water, liters(1.0))
}

fn rule(quantity: Quantity, min: Option<f64>, max: Option<f64>) -> Standard {
    let limit = Limit::new(quantity, min, max, 3).unwrap();
    Standard::own("rule", "a rule")
        .limit("1", "one limit", limit)
        .build()
        .unwrap()
}

/// Iron in proportion to one normal purity: the chance of more than one
/// deviation below the mean is 0.841345, of between one below and two above
/// 0.818595 (Abramowitz & Stegun, table 26.1). Draws to four of their own
/// standard errors; first order takes iron as log-normal and must be within
/// what that differs at 1 % (the densities' third moment, 0.25 %).
#[test]
fn chances_of_one_normal_unknown() {
    let recipe = iron_water(0.95, 0.0095, 15.0);
    let made = recipe.evaluate().unwrap();
    let v = Quantity::Iron.of(&made.composition).unwrap();
    let u = 0.01 * v;
    let plan = MonteCarlo::fixed(5, 40_000).unwrap();
    let draws = InkDraws::of(&Study::of(&recipe).unwrap(), &plan).unwrap();
    for (min, max, expected) in [
        (Some(v - u), None, 0.841_345),
        (None, Some(v - u), 0.158_655),
        (Some(v - u), Some(v + 2.0 * u), 0.818_595),
    ] {
        let s = rule(Quantity::Iron, min, max);
        let drawn = s.compare_drawn(&draws);
        let chance = drawn.clauses[0].chance.unwrap();
        assert!((chance.as_stated - expected).abs() < 4.0 * chance.as_stated_sampling_error);
        // One clause: all clauses at once are that one.
        assert_eq!(drawn.chance.unwrap().as_stated, chance.as_stated);
        let first = s.compare_made(&made).clauses[0].chance.unwrap();
        assert!((first.as_stated - expected).abs() < 0.002_5, "{first:?}");
        assert!(first.as_rounded >= first.as_stated);
    }
}

/// Tannin off by a log-normal factor: one deviation of the logarithm below
/// the estimate, 0.841345 again, and exactly so for draws of a log-normal.
#[test]
fn chances_of_one_log_normal_unknown() {
    let tin = Lot::of("tannic_acid").unwrap().named("tin");
    let tin = tin.tannin(0.5, 0.0).unwrap().moisture(0.0, 0.0).unwrap();
    let tin = tin.gallic_acid(0.0, 0.0).unwrap().build().unwrap();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    let recipe = Recipe::new("tannin water")
        .with(Solution::new("jug").add(&tin, grams(40.0)))
        .make_up(&water, liters(1.0));
    let sigma = 0.1_f64;
    let known = Distribution::log_normal(0.5, sigma).unwrap();
    let study = Study::of(&recipe)
        .unwrap()
        .knowing("tin: tannin", known)
        .unwrap();
    let draws = InkDraws::of(&study, &MonteCarlo::fixed(6, 40_000).unwrap()).unwrap();
    let s = rule(Quantity::TannicAcid, Some(20.0 * (-sigma).exp()), None);
    let chance = s.compare_drawn(&draws).clauses[0].chance.unwrap();
    assert!(
        (chance.as_stated - 0.841_345).abs() < 4.0 * chance.as_stated_sampling_error,
        "{chance:?}"
    );
    let (low, high) = (chance.low.unwrap(), chance.high.unwrap());
    // 95 %: 1.96 deviations; ends of 40 000 draws to 1 %.
    assert!((low / (20.0 * (-1.96 * sigma).exp()) - 1.0).abs() < 0.01);
    assert!((high / (20.0 * (1.96 * sigma).exp()) - 1.0).abs() < 0.01);
}

/// Two unrelated limits at once: the product; the same seed draws the same.
#[test]
fn all_clauses_at_once_by_draws() {
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .named("vitriol");
    let vitriol = vitriol.purity(0.95, 0.0095).unwrap().build().unwrap();
    let tin = Lot::of("tannic_acid")
        .unwrap()
        .named("tin")
        .tannin(0.8, 0.04)
        .unwrap();
    let tin = tin
        .moisture(0.0, 0.0)
        .unwrap()
        .gallic_acid(0.0, 0.0)
        .unwrap();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    let recipe = Recipe::new("ink")
        .with(
            Solution::new("jug")
                .add(&vitriol, grams(25.0))
                .add(&tin.build().unwrap(), grams(40.0)),
        )
        .make_up(&water, liters(1.0));
    let study = Study::of(&recipe).unwrap();
    let plan = MonteCarlo::fixed(9, 40_000).unwrap();
    let draws = InkDraws::of(&study, &plan).unwrap();
    let iron = Quantity::Iron.of(draws.estimate()).unwrap();
    let acids = Quantity::TannicAndGallicAcid.of(draws.estimate()).unwrap();
    let s = Standard::own("two", "two limits")
        .limit(
            "1",
            "iron",
            Limit::new(Quantity::Iron, None, Some(iron), 3).unwrap(),
        )
        .limit(
            "2",
            "acids",
            Limit::new(Quantity::TannicAndGallicAcid, Some(acids), None, 3).unwrap(),
        )
        .build()
        .unwrap();
    let page = s.compare_drawn(&draws);
    let both = page.chance.unwrap();
    assert!(
        (both.as_stated - 0.25).abs() < 4.0 * both.as_stated_sampling_error,
        "{both:?}"
    );
    let again = InkDraws::of(&study, &plan).unwrap();
    assert_eq!(s.compare_drawn(&again), page);
}

/// Draw by draw: with one water more in it no draw has more iron.
#[test]
fn draws_of_two_inks_can_be_compared() {
    let plan = MonteCarlo::fixed(3, 1_000).unwrap();
    let draws =
        |g: f64| InkDraws::of(&Study::of(&iron_water(0.95, 0.02, g)).unwrap(), &plan).unwrap();
    let (more, less) = (draws(15.0), draws(14.9));
    let pairs = more.sample(Quantity::Iron).unwrap().drawn().iter();
    let pairs = pairs.zip(less.sample(Quantity::Iron).unwrap().drawn());
    assert!(pairs.clone().count() == 1_000 && pairs.into_iter().all(|(a, b)| a > b));
    // No iron to refer to in plain water: no such figure, no chance, no fault.
    assert!(more.sample(Quantity::GalloylPerIron).is_some());
}

#[test]
fn galls_leave_doubt_about_both_german_limits() {
    let lot = |id: &str| Lot::of(id).unwrap().build().unwrap();
    let recipe = Recipe::new("gall ink")
        .with(
            Solution::new("ink")
                .extract(Extraction::new(
                    &lot("aleppo_galls"),
                    grams(90.0),
                    &lot("distilled_water"),
                    milliliters(1300.0),
                ))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(29.0)),
        )
        .make_up(&lot("distilled_water"), liters(1.2));
    let s = standard("de_document_class_i").unwrap();
    let made = recipe.evaluate().unwrap();
    let first = s.compare_made(&made);
    let draws = InkDraws::of(
        &Study::of(&recipe).unwrap(),
        &MonteCarlo::fixed(2, 20_000).unwrap(),
    )
    .unwrap();
    let drawn = s.compare_drawn(&draws);
    let of =
        |page: &ferrogall::standards::StandardComparison| page.clauses[0].chance.unwrap().as_stated;
    // The galloyl units stand for the mass by first order: a rough agreement.
    assert!(
        (of(&first) - of(&drawn)).abs() < 0.1,
        "{} {}",
        of(&first),
        of(&drawn)
    );
    assert!(of(&drawn) > 0.02 && of(&drawn) < 0.98);
    let overview = Overview::of_drawn(&draws);
    assert_eq!(overview.pages.len(), standards().len());
}

// --- hints, overviews, rules of one's own ------------------------------------

#[test]
fn a_federal_ink_against_all() {
    let overview = Overview::of(&ink("us_federal_writing_1935", 1.0));
    let ids = |pages: Vec<&ferrogall::standards::StandardComparison>| -> Vec<String> {
        pages.iter().map(|p| p.standard.clone()).collect()
    };
    // 3.01 g/L of iron, 15.14 g/L of tannic and gallic acid.
    assert_eq!(
        ids(overview.met().collect()),
        ["us_tt_i_563", "is_38_1952", "is_220_1988", "is_221"]
    );
    assert_eq!(
        ids(overview.not_met().collect()),
        [
            "de_document_class_i",
            "de_writing_class_ii",
            "schluttig_neumann_1890",
            "us_official_with_gum",
            "bs_3484_1962"
        ]
    );
    // Class II wants 18 g/L: missed by 16 %, iron inside.
    assert_eq!(ids(overview.nearly(0.2).collect()), ["de_writing_class_ii"]);
    let page = overview
        .pages
        .iter()
        .find(|p| p.standard == "de_writing_class_ii")
        .unwrap();
    let hint = page.strength.unwrap();
    assert!((hint.factor - 18.0 / 15.136).abs() < 1e-3 && hint.water_percent.is_none());
    // BS 3484: 5 g/L wants 1.66 times everything.
    let british = overview
        .pages
        .iter()
        .find(|p| p.standard == "bs_3484_1962")
        .unwrap();
    assert!((british.clauses[0].factor.unwrap() - 5.0 / 3.013).abs() < 1e-3);
    assert!(
        overview.to_string().contains("1.189 times as much"),
        "{overview}"
    );
}

#[test]
fn a_studio_rule() {
    let ours = Standard::own("studio", "our dip pen ink")
        .edition("2026")
        .cited("bench book", Status::CommonPractice)
        .limit(
            "1",
            "iron",
            Limit::new(Quantity::Iron, Some(2.5), Some(3.5), 1).unwrap(),
        )
        .limit(
            "2",
            "acid",
            Limit::new(Quantity::StrongAcid, Some(30.0), Some(40.0), 0).unwrap(),
        )
        .test(
            "3",
            "keeping",
            Test::new("a month on the shelf", "no sediment").beside_reference(),
        )
        .own_ink("us_federal_writing_1935")
        .own_ink_at_most_days(90.0)
        .unwrap()
        .build()
        .unwrap();
    let page = ours.compare(&ink("us_federal_writing_1935", 1.0));
    assert_eq!(
        page.summary(),
        "composition clauses met; 1 test remains to be carried out"
    );
    assert_eq!(ours.consistency().unwrap().family, Family::TannicInk);
    let type_ink = reference_ink("swedish_archival_1964").unwrap();
    let (least, greatest) = ours.strengths_of(type_ink, false).unwrap();
    // Acid 30 to 40 of 68.6 mmol/L, iron 2.5 to 3.5 of 6.03 g/L.
    assert!((least - 30.0 / 68.57).abs() < 1e-3 && (greatest - 3.5 / 6.026).abs() < 1e-3);
    let programme = ours.programme();
    assert_eq!(programme.prepare[1].note, "at most 90 days old");
    let both = Overview::against(
        standards().iter().chain([&ours]),
        &ink("us_federal_writing_1935", 1.0),
    );
    assert_eq!(both.pages.len(), standards().len() + 1);
    let taken = Standard::own("is_221", "x").build();
    assert!(matches!(taken, Err(StandardError::IdTaken { .. })));
    let twisted = Limit::new(Quantity::Iron, Some(3.0), Some(2.0), 0);
    assert!(matches!(twisted, Err(StandardError::MinAboveMax { .. })));
}

/// NBS C413: a pint to settle for 24 hours, 25 mL of each ink for 14 days.
#[test]
fn the_programme_of_the_circular() {
    let programme = standard("nbs_c413").unwrap().programme();
    assert_eq!(programme.steps.len(), 5);
    assert_eq!(programme.longest_days, Some(14.0));
    // US pint 473.176 mL, exact by definition.
    assert!((programme.prepare[0].volume_ml.unwrap() - (473.176_473 + 25.0)).abs() < 1e-9);
    assert_eq!(programme.prepare[1].volume_ml, Some(25.0));
    assert!(
        programme.prepare[1]
            .what
            .contains("us_federal_writing_1935")
    );
    let irish = standard("is_38_1952").unwrap().programme();
    assert!(irish.prepare[1].what.contains("not been seen"));
    assert_eq!(irish.prepare[1].note, "at most 3 months old");
    assert_eq!((irish.steps.len(), irish.not_seen.len()), (4, 1));
    let german = standard("de_document_class_i").unwrap().programme();
    assert!(german.to_string().contains("14 days"));
}

#[cfg(feature = "serde")]
#[test]
fn a_page_is_json() {
    let page = standard("de_document_class_i")
        .unwrap()
        .compare(&ink("german_document_1888", 1.0));
    let json = serde_json::to_value(&page).unwrap();
    assert_eq!(json["schema"], 1);
    assert_eq!(json["clauses"][1]["verdict"], "meets_as_rounded");
    assert_eq!(json["clauses"][1]["unit"], "g/L");
    assert_eq!(json["clauses"][1]["max"], 6.0);
    assert!(json["strength"]["water_percent"].as_f64().unwrap() > 0.4);
    serde_json::to_value(standards()).unwrap();
    serde_json::to_value(standard("nbs_c413").unwrap().programme()).unwrap();
}

// --- laws ----------------------------------------------------------------------

/// Any pot: reference inks at any strength, odd lots, nothing at all.
fn pot() -> impl Strategy<Value = Composition> {
    let lots = vec![
        "tannic_acid",
        "gallic_acid_monohydrate",
        "iron_ii_sulfate_heptahydrate",
        "iron_iii_chloride_hexahydrate",
        "gum_arabic",
        "soluble_blue",
        "hydrochloric_acid",
        "distilled_water",
        "sodium_benzoate",
        "sodium_bicarbonate",
        "no such lot",
    ];
    let part = (prop::sample::select(lots), 1e-9..1e3_f64);
    prop::collection::vec(part, 0..6).prop_map(|parts| {
        let mut out = Composition::EMPTY;
        for (id, g) in parts {
            if let Ok(lot) = Lot::of(id).and_then(|b| b.build())
                && let Ok(c) = lot.composition(grams(g))
            {
                out = out.mixed_with(&c);
            }
        }
        out
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// No composition makes a comparison panic, and verdict and margin agree.
    #[test]
    fn verdicts_agree_with_margins(c in pot()) {
        for s in standards() {
            let page = s.compare(&c);
            for clause in &page.clauses {
                if let (Some(margin), Some(side)) = (clause.margin, clause.nearest) {
                    let window = clause.window().unwrap();
                    let slack = 1e-9 * window.bound(side).unwrap();
                    let half = 0.5 * 10f64.powi(-i32::from(clause.decimals.unwrap()));
                    match clause.verdict {
                        ClauseVerdict::Meets => prop_assert!(margin >= -slack),
                        ClauseVerdict::MeetsAsRounded => prop_assert!(margin < 0.0 && margin >= -half - 2.0 * slack),
                        ClauseVerdict::DoesNotMeet => prop_assert!(margin <= -half + 2.0 * slack),
                        other => prop_assert!(false, "{:?} with a margin", other),
                    }
                }
            }
            let sums = page.met + page.met_as_rounded + page.not_met + page.tests + page.not_seen;
            prop_assert_eq!(sums, page.clauses.len());
            let _ = page.to_string();
        }
        let _ = (Overview::of(&c).to_string(), consistency(&c));
    }

    /// Water takes iron off both limits in the right direction, and a hint
    /// that is followed leads to where it says.
    #[test]
    fn dilution_moves_iron_the_right_way(strength in 0.2..3.0_f64, water in 0.01..2.0_f64) {
        let strong = ink("german_document_1888", strength);
        let lot = Lot::of("distilled_water").unwrap().build().unwrap();
        let mass = lot.mass_of(liters(water)).unwrap();
        let weak = strong.mixed_with(&lot.composition(mass).unwrap());
        let s = standard("de_document_class_i").unwrap();
        let margin = |c: &Composition, side: Bound| {
            let w = s.windows().find(|w| w.quantity == Quantity::Iron).unwrap();
            let x = Quantity::Iron.of(c).unwrap();
            match side {
                Bound::Min => x - w.bound(Bound::Min).unwrap(),
                Bound::Max => w.bound(Bound::Max).unwrap() - x,
            }
        };
        prop_assert!(margin(&weak, Bound::Max) > margin(&strong, Bound::Max));
        prop_assert!(margin(&weak, Bound::Min) < margin(&strong, Bound::Min));
        let page = s.compare(&strong);
        prop_assert_eq!(page.strength.is_none(), page.composition == CompositionVerdict::Met);
        if let Some(hint) = page.strength {
            let followed = match hint.water_percent {
                Some(percent) => {
                    let add = strong.volume() * (percent / 100.0);
                    let mass = lot.mass_of(add).unwrap();
                    strong.mixed_with(&lot.composition(mass).unwrap())
                }
                None => ink("german_document_1888", strength * hint.factor),
            };
            prop_assert_eq!(s.compare(&followed).composition, CompositionVerdict::Met, "{:?}", hint);
        }
    }

    /// Less doubt, less chance where it is missed: a chance is a probability
    /// and rounding never lowers it.
    #[test]
    fn chances_are_probabilities(g in 1.0..60.0_f64, u in 0.0..0.2_f64) {
        let recipe = iron_water(0.9, 0.9 * u, g);
        let made = recipe.evaluate().unwrap();
        for s in standards() {
            for c in s.compare_made(&made).clauses {
                let Some(chance) = c.chance else { continue };
                prop_assert!((0.0..=1.0).contains(&chance.as_stated));
                prop_assert!(chance.as_rounded + 1e-12 >= chance.as_stated && chance.as_rounded <= 1.0);
                if c.verdict == ClauseVerdict::Meets && c.min.is_none() != c.max.is_none() {
                    prop_assert!(chance.as_stated >= 0.5 - 1e-9);
                }
            }
        }
    }
}
