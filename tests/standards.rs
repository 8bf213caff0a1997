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
use ferrogall::recipe::{Recipe, Solution};
use ferrogall::source::Status;
use ferrogall::standards::{
    Bound, ClauseVerdict, CompositionVerdict, Family, Kind, Overview, OwnInk, Quantity,
    Requirement, Role, Standard, Standing, consistency, reference_ink, standard, standards,
};
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
    // And beside the ink's own figure where all standards are listed.
    let all = Overview::of(&ink("german_document_1888", 1.0)).to_string();
    assert!(
        all.contains("between 3.0 and 3.9 g/L, not seen, metallic iron here 6.03 g/L"),
        "{all}"
    );
    // So the outcome speaks of known numbers only.
    assert!(
        irish
            .summary()
            .starts_with("composition clauses of known number met")
    );
    // Figures of tests that are from memory say so in the checklist too.
    let tests = standard("nbs_c413").unwrap().programme().to_string();
    assert!(
        tests.contains("duration 48 h, from memory, unconfirmed"),
        "{tests}"
    );
}

/// Source and edition stand in everything that is printed: of the standard, of
/// every clause, and of every figure of a test that has a source of its own.
#[test]
fn every_text_shows_source_and_edition() {
    let federal = ink("us_federal_writing_1935", 1.0);
    let overview = Overview::of(&federal).to_string();
    for s in standards() {
        let texts = [
            s.to_string(),
            s.compare(&federal).to_string(),
            s.programme().to_string(),
        ];
        for text in &texts {
            for must in [s.cited.to_string(), format!("edition {}", s.edition)] {
                assert!(text.contains(&must), "{must}: {text}");
            }
            for figure in figures_of(s) {
                let from_rules = s.own_ink_rules.contains(figure);
                let must = figure.cited.to_string();
                assert!(from_rules || text.contains(&must), "{must}: {text}");
            }
        }
        for c in s.clauses.iter() {
            let must = c.cited.to_string();
            assert!(texts[0].contains(&must) && texts[1].contains(&must));
        }
        let line = overview
            .lines()
            .find(|l| l.contains(s.name.as_ref()))
            .unwrap();
        assert!(line.contains(&s.cited.to_string()) && line.contains(s.edition.as_ref()));
    }
    let german = standard("de_document_class_i").unwrap().programme();
    let (text, spanish) = (
        german.to_string(),
        "Spanish account of 2008 (at second hand)",
    );
    assert!(text.contains(&format!(
        "in each dish 25 mL: German decree of 1 August 1888, in a {spanish}"
    )));
    // The formula of the reference ink has a source of its own; a rule for it
    // that is from memory says so.
    assert!(text.contains(&german.prepare[1].cited.as_ref().unwrap().to_string()));
    let indian = standard("is_220_1988").unwrap().programme();
    assert_eq!(
        indian.prepare[0].note,
        "at most 1 month old, from memory, unconfirmed"
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
