//! Inks against published specifications and against rules of one's own:
//! chances beside closed forms, hints that are followed, laws.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::bench::Lot;
use ferrogall::composition::Composition;
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Recipe, Solution};
use ferrogall::source::Status;
use ferrogall::standards::{
    Bound, ClauseVerdict, CompositionVerdict, Family, InkDraws, Limit, Overview, Quantity,
    Standard, StandardError, Test, consistency, reference_ink, standard, standards,
};
use ferrogall::uncertainty::{Distribution, MonteCarlo, Study};
use proptest::prelude::*;

fn ink(id: &str, strength: f64) -> Composition {
    let recipe = reference_ink(id).unwrap().recipe(liters(1.0), strength);
    recipe.unwrap().evaluate().unwrap().composition
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

/// Iron counts in both states. A ferric salt known to 2 %: one deviation below
/// the estimate, 0.841345 (Abramowitz & Stegun, table 26.1). A doubtful oxidised
/// share takes no iron away: the chance is that of the purity alone, here too.
/// Within what log-normal and normal differ at 2 % (third moment, 0.5 %).
#[test]
fn chances_of_iron_in_both_states() {
    let lot = |id: &str| Lot::of(id).unwrap().purity(0.9, 0.018).unwrap();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    for salt in [
        lot("iron_iii_chloride_hexahydrate"),
        lot("iron_ii_sulfate_heptahydrate")
            .oxidised(0.3, 0.2)
            .unwrap(),
    ] {
        let recipe = Recipe::new("iron water")
            .with(Solution::new("jug").add(&salt.build().unwrap(), grams(15.0)))
            .make_up(&water, liters(1.0));
        let made = recipe.evaluate().unwrap();
        let v = Quantity::Iron.of(&made.composition).unwrap();
        let s = rule(Quantity::Iron, Some(v * 0.98), None);
        let first = s.compare_made(&made).clauses[0].chance.unwrap();
        assert!((first.as_stated - 0.841_345).abs() < 0.005, "{first:?}");
        let plan = MonteCarlo::fixed(8, 20_000).unwrap();
        let draws = InkDraws::of(&Study::of(&recipe).unwrap(), &plan).unwrap();
        let drawn = s.compare_drawn(&draws).clauses[0].chance.unwrap();
        assert!((drawn.as_stated - 0.841_345).abs() < 4.0 * drawn.as_stated_sampling_error);
    }
}

/// No tannin in any lot is none for sure, by either way of working it out.
#[test]
fn nothing_of_it_is_a_certainty() {
    let recipe = iron_water(0.95, 0.01, 25.0);
    let s = standard("de_document_class_i").unwrap();
    let first = s.compare_made(&recipe.evaluate().unwrap());
    let plan = MonteCarlo::fixed(4, 500).unwrap();
    let draws = InkDraws::of(&Study::of(&recipe).unwrap(), &plan).unwrap();
    for page in [&first, &s.compare_drawn(&draws)] {
        let acids = page.clauses[0].chance.unwrap();
        assert_eq!((acids.as_stated, acids.as_rounded), (0.0, 0.0));
        assert_eq!(page.clauses[0].verdict, ClauseVerdict::DoesNotMeet);
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

/// A limit is never printed as another number, and a clause without a number
/// begins with its title.
#[test]
fn limits_are_printed_as_they_are() {
    let limit = Limit::new(Quantity::Iron, Some(2.55), Some(3.0), 1).unwrap();
    assert_eq!(limit.to_string(), "metallic iron 2.55 to 3.0 g/L");
    let s = Standard::own("rule", "a rule")
        .limit("", "iron", limit)
        .build()
        .unwrap();
    let page = s.compare(&ink("us_federal_writing_1935", 1.0)).to_string();
    assert!(page.contains("\n  iron: meets only as rounded"), "{page}");
    // 3.01313 g/L against 3.013: so little that three digits would hide it.
    let near = Limit::new(Quantity::Iron, None, Some(3.0131), 0).unwrap();
    let s = Standard::own("rule", "a rule").limit("1", "iron", near);
    let page = s
        .build()
        .unwrap()
        .compare(&ink("us_federal_writing_1935", 1.0));
    let off = page.clauses[0].margin.unwrap().abs();
    let page = page.to_string();
    assert!(
        page.contains(&format!("; {off:.0e} g/L above the most")),
        "{page}"
    );
}

/// No ink has no figures: nothing is met, and the outcome says why.
#[test]
fn an_ink_of_no_volume() {
    let page = standard("de_document_class_i")
        .unwrap()
        .compare(&Composition::EMPTY);
    assert_eq!(page.clauses[0].verdict, ClauseVerdict::NoFigure);
    assert_eq!(page.composition, CompositionVerdict::NotMet);
    assert!(page.summary().contains("2 of them for want of a figure"));
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
    let all = serde_json::to_value(standards()).unwrap();
    let iron = &all[0]["clauses"][1]["requirement"]["limit"];
    assert_eq!(
        (&iron["quantity"], &iron["unit"]),
        (&"iron".into(), &"g/L".into())
    );
    let window = standards()[0].windows().nth(1);
    assert_eq!(serde_json::to_value(window).unwrap()["unit"], "g/L");
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
