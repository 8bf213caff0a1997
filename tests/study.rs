//! How sure is a recipe: laws that hold whatever the figures, and closed forms.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::bench::Lot;
use ferrogall::composition::{Criterion, criteria};
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Kit, Portion, Recipe, Solution};
use ferrogall::uncertainty::{
    Distribution, Measurand, Method, Misleading, MonteCarlo, Remedy, Study, UncertaintyError,
};
use proptest::prelude::*;

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

fn one_to_one() -> &'static Criterion {
    criteria()
        .iter()
        .find(|c| c.id == "one_iron_per_galloyl")
        .unwrap()
}

/// A recipe with every kind of step: galls soaked, a stock of which a part is
/// used, drops of acid, made up to a mark.
fn whole(galls_g: f64, salt_g: f64, acid_ml: f64, stock_ml: f64) -> Recipe {
    let water = lot("hard_tap_water");
    Recipe::new("all kinds of steps")
        .with(
            Solution::new("liquor")
                .extract(Extraction::new(
                    &lot("aleppo_galls"),
                    grams(galls_g),
                    &water,
                    milliliters(10.0 * galls_g),
                ))
                .add(&lot("gum_arabic"), grams(4.0)),
        )
        .with(
            Solution::new("iron stock")
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(salt_g))
                .add(&lot("hydrochloric_acid"), milliliters(acid_ml))
                .make_up(&water, milliliters(200.0))
                .use_only(Portion::Volume(milliliters(stock_ml))),
        )
        .make_up(&water, milliliters(1000.0))
}

fn draws(count: u32) -> MonteCarlo {
    MonteCarlo::fixed(5, count).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// At the estimates a study is the evaluation: the same steps in the same
    /// order, so the same figures but for the last bits.
    #[test]
    fn a_study_is_the_recipe(galls in 5.0..40.0, salt in 5.0..60.0, acid in 0.0..20.0, stock in 10.0..190.0) {
        let recipe = whole(galls, salt, acid, stock);
        let evaluation = recipe.evaluate().unwrap();
        let study = Study::of(&recipe).unwrap();
        for &m in Measurand::ALL {
            let found = m.of(&evaluation.composition);
            if found.is_finite() {
                prop_assert!((study.budget(m).unwrap().value() - found).abs() <= 1e-12 * found.abs(), "{m:?}");
            }
        }
    }

    /// Iron's first-order uncertainty is the one the evaluation gives from the
    /// salt alone, where no cut-off at 0 or 1 is near.
    #[test]
    fn iron_is_as_sure_as_its_salt(salt in 5.0..60.0, u in 0.001..0.025, oxidised in 0.05..0.2) {
        let vitriol = Lot::of("iron_ii_sulfate_heptahydrate").unwrap()
            .purity(0.9, u).unwrap().oxidised(oxidised, 0.01).unwrap().build().unwrap();
        let recipe = Recipe::new("iron").with(Solution::new("jug")
            .add(&vitriol, grams(salt)).make_up(&lot("distilled_water"), milliliters(500.0)));
        let made = recipe.evaluate().unwrap();
        let budget = Study::of(&recipe).unwrap().budget(Measurand::IronII).unwrap();
        let relative = budget.standard_uncertainty() / budget.value();
        prop_assert!((relative - made.iron_u).abs() < 1e-9 + 1e-3 * made.iron_u, "{relative} {}", made.iron_u);
    }

    /// Knowing a source better never widens what follows from it alone.
    #[test]
    fn knowing_more_narrows(u in 0.02..0.3, better in 0.0..1.0) {
        let recipe = Recipe::new("tin").with(Solution::new("jug")
            .add(&tin(), grams(5.0))
            .make_up(&lot("distilled_water"), milliliters(500.0)));
        let study = Study::of(&recipe).unwrap();
        let at = |u: f64| {
            let d = Distribution::normal(0.55, 0.55 * u).unwrap();
            let study = study.knowing("tin: tannin", d).unwrap();
            let [s] = study.monte_carlo(&draws(2000), [Measurand::Galloyl]).unwrap();
            let (low, high) = s.interval(0.95).unwrap();
            high - low
        };
        prop_assert!(at(better * u) <= at(u));
    }
}

/// Tannin of which nothing but the content is in doubt.
fn tin() -> Lot {
    Lot::of("tannic_acid")
        .unwrap()
        .named("tin")
        .tannin(0.5, 0.0)
        .unwrap()
        .gallic_acid(0.0, 0.0)
        .unwrap()
        .moisture(0.0, 0.0)
        .unwrap()
        .galloyl(moles_per_kilogram(5.8), moles_per_kilogram(0.0))
        .unwrap()
        .build()
        .unwrap()
}

/// Draw `i` depends on seed, name and `i`: more draws are more of the same, and
/// another ingredient changes no other source's draws.
#[test]
fn draws_stay_what_they_are() {
    let recipe = whole(20.0, 30.0, 5.0, 100.0);
    let study = Study::of(&recipe).unwrap();
    let [short] = study
        .monte_carlo(&draws(1000), [Measurand::IronPerGalloyl])
        .unwrap();
    let [long] = study
        .monte_carlo(&draws(5000), [Measurand::IronPerGalloyl])
        .unwrap();
    assert_eq!(short.drawn(), &long.drawn()[..1000]);
    let clove = Lot::of("phenol").unwrap().build().unwrap();
    let more = recipe.with(Solution::new("last").add(&clove, grams(0.001)));
    let study = Study::of(&more).unwrap();
    let [with] = study
        .monte_carlo(&draws(1000), [Measurand::IronPerGalloyl])
        .unwrap();
    for (a, b) in short.drawn().iter().zip(with.drawn()) {
        assert_relative_eq!(a, b, max_relative = 1e-12);
    }
    let other = MonteCarlo::fixed(6, 1000).unwrap();
    let [with] = study
        .monte_carlo(&other, [Measurand::IronPerGalloyl])
        .unwrap();
    assert_ne!(short.drawn(), with.drawn());
}

#[cfg(feature = "rayon")]
#[test]
fn one_thread_or_many_the_same_bits() {
    let study = Study::of(&whole(20.0, 30.0, 5.0, 100.0))
        .unwrap()
        .weighed_with(&Kit::new(grams(0.1), milliliters(5.0)))
        .unwrap();
    let figures = |ink: &ferrogall::composition::Composition| {
        [
            Measurand::IronPerGalloyl.of(ink),
            Measurand::StrongAcid.of(ink),
        ]
    };
    let one = study.inks(&draws(20_000), figures).unwrap();
    for threads in [1, 2, 3] {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        let many = pool
            .install(|| study.inks_parallel(&draws(20_000), figures))
            .unwrap();
        assert_eq!(one, many, "{threads}");
    }
}

/// One bag used twice is one source: iron over iron from one bag is sure.
#[test]
fn one_bag_is_one_source() {
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(0.8, 0.04)
        .unwrap()
        .build()
        .unwrap();
    let twice = Recipe::new("twice").with(
        Solution::new("jug")
            .add(&vitriol, grams(5.0))
            .add(&vitriol, grams(5.0))
            .make_up(&lot("distilled_water"), milliliters(500.0)),
    );
    let study = Study::of(&twice).unwrap();
    let u = study.budget(Measurand::IronII).unwrap();
    assert_relative_eq!(
        u.standard_uncertainty() / u.value(),
        0.04 / 0.8,
        max_relative = 1e-4 // cut off at 1, five deviations away
    );
    // Two bags that only share a name are two.
    let other = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(0.8, 0.04001)
        .unwrap()
        .build()
        .unwrap();
    let two = Recipe::new("two").with(
        Solution::new("jug")
            .add(&vitriol, grams(5.0))
            .add(&other, grams(5.0))
            .make_up(&lot("distilled_water"), milliliters(500.0)),
    );
    let u = Study::of(&two).unwrap().budget(Measurand::IronII).unwrap();
    assert_relative_eq!(
        u.standard_uncertainty() / u.value(),
        0.04 / 0.8 / 2_f64.sqrt(),
        max_relative = 1e-3
    );
}

/// A balance of step d, read twice: u = d/√6 (uncertainty note A2: 0.1 g is
/// 0.041 g).
#[test]
fn weighings_are_sources() {
    let pure = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(1.0, 0.0)
        .unwrap()
        .build()
        .unwrap();
    let recipe = Recipe::new("iron").with(
        Solution::new("jug")
            .add(&pure, grams(1.5))
            .make_up(&lot("distilled_water"), milliliters(100.0)),
    );
    let exact = Study::of(&recipe).unwrap();
    assert_eq!(
        exact
            .budget(Measurand::Iron)
            .unwrap()
            .standard_uncertainty(),
        0.0
    );
    let kit = Kit::new(grams(0.1), milliliters(1.0));
    let weighed = exact.weighed_with(&kit).unwrap();
    let budget = weighed.budget(Measurand::Iron).unwrap();
    let relative = |name: &str| {
        let line = budget
            .lines()
            .iter()
            .find(|l| l.name.starts_with(name))
            .unwrap();
        line.contribution.abs() / budget.value()
    };
    assert_relative_eq!(
        relative("weighing"),
        0.1 / 6_f64.sqrt() / 1.5,
        max_relative = 1e-3
    );
    // Filled to the nearest millilitre of 100: half a mark, rectangular.
    assert_relative_eq!(
        relative("filling up"),
        0.5 / 3_f64.sqrt() / 100.0,
        max_relative = 1e-3
    );
    let advice = weighed.advice(Measurand::Iron, &draws(2000)).unwrap();
    assert_eq!(advice.remedy, Some(Remedy::FinerBalance));
    assert!(advice.tools > 0.999);
}

/// A balance that weighs wrong weighs everything wrong: it changes the strength,
/// not the proportion; marks that are wrong change what is filled up to them.
#[test]
fn one_balance_is_one_source() {
    let salt = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(1.0, 0.0)
        .unwrap()
        .build()
        .unwrap();
    let clean = Lot::of("distilled_water")
        .unwrap()
        .alkalinity(grams_per_liter(0.0))
        .unwrap()
        .hardness(grams_per_liter(0.0))
        .unwrap()
        .build()
        .unwrap();
    let recipe = Recipe::new("mix").with(
        Solution::new("jug")
            .add(&salt, grams(10.0))
            .add(&tin(), grams(10.0))
            .make_up(&clean, milliliters(1000.0)),
    );
    // Steps too fine to count.
    let kit = Kit::new(milligrams(0.001), milliliters(0.001))
        .true_to(0.02, 0.01)
        .unwrap();
    let study = Study::of(&recipe).unwrap().weighed_with(&kit).unwrap();
    let relative = |m| {
        let budget = study.budget(m).unwrap();
        budget.standard_uncertainty() / budget.value()
    };
    assert!(relative(Measurand::IronPerGalloyl) < 1e-6);
    assert_relative_eq!(
        relative(Measurand::Iron),
        0.02_f64.hypot(0.01),
        max_relative = 1e-6
    );
}

/// Uncertainty note A3 and B1: a strength known to 20 %, normal, wants
/// 1/(1 − 1.645 × 0.20) = 1.49 times as much for 95 %; log-normal it wants
/// exp(1.645 × 0.20) = 1.39 times as much.
#[test]
fn assurance_against_excess_iron() {
    let tannin = tin();
    let salt = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(1.0, 0.0)
        .unwrap()
        .build()
        .unwrap();
    // As much iron as the limit of the criterion allows: even odds.
    let limit = one_to_one().balanced.max;
    let galloyl_mol = limit * 10.0 * 0.5 * 5.8e-3;
    let recipe = Recipe::new("even odds").with(
        Solution::new("mix")
            .add(&tannin, grams(10.0))
            .add(&salt, grams(galloyl_mol * 278.006)),
    );
    let study = Study::of(&recipe).unwrap();
    let plan = draws(100_000);
    for (strength, factor) in [
        (
            Distribution::normal(0.5, 0.1).unwrap(),
            1.0 / (1.0 - 1.644_854 * 0.2),
        ),
        (
            Distribution::log_normal(0.5, 0.2).unwrap(),
            libm::exp(1.644_854 * 0.2),
        ),
    ] {
        let study = study.knowing("tin: tannin", strength).unwrap();
        // 100 000 draws: 0.5 sure to 0.0016, the 5 % quantile to 0.4 % of u.
        let even = study.excess_iron(one_to_one(), &plan).unwrap();
        assert!(
            (even.probability - 0.5).abs() < 4.0 * even.sampling_error,
            "{even:?}"
        );
        let sure = study.assured(&tannin, one_to_one(), 0.95, &plan).unwrap();
        assert_relative_eq!(sure.factor, factor, max_relative = 0.01);
        assert_relative_eq!(
            sure.mass.in_grams(),
            10.0 * sure.factor,
            max_relative = 1e-9
        );
        // And with that much, it is.
        let recipe = Recipe::new("sure").with(
            Solution::new("mix")
                .add(&tannin, sure.mass)
                .add(&salt, grams(galloyl_mol * 278.006)),
        );
        let after = Study::of(&recipe)
            .unwrap()
            .knowing("tin: tannin", strength)
            .unwrap()
            .excess_iron(one_to_one(), &plan)
            .unwrap();
        assert!((after.probability - 0.05).abs() < 0.001, "{after:?}");
    }
    // Less of the salt does it too.
    let study = study
        .knowing("tin: tannin", Distribution::log_normal(0.5, 0.2).unwrap())
        .unwrap();
    let sure = study.assured(&salt, one_to_one(), 0.95, &plan).unwrap();
    assert_relative_eq!(
        sure.factor,
        libm::exp(-1.644_854 * 0.2),
        max_relative = 0.01
    );
    let none = study.assured(&lot("gum_arabic"), one_to_one(), 0.95, &plan);
    assert!(matches!(none, Err(UncertaintyError::NoSuchSource { .. })));
}

/// A pot with little room gives the same answer as a roomy one, where the answer
/// fits; and says so where it does not.
#[test]
fn assurance_in_a_full_pot() {
    let galls = lot("aleppo_galls");
    let salt = lot("iron_ii_sulfate_heptahydrate");
    let water = lot("distilled_water");
    let pot = |ml: f64| {
        Recipe::new("pot").with(
            Solution::new("pot")
                .extract(Extraction::new(&galls, grams(30.0), &water, grams(300.0)))
                .add(&salt, grams(33.0))
                .make_up(&water, milliliters(ml)),
        )
    };
    let plan = draws(4000);
    let sure = |ml: f64, of: &Lot| {
        let study = Study::of(&pot(ml)).unwrap();
        study.assured(of, one_to_one(), 0.95, &plan)
    };
    // 33 g are too much: some 24 g would do, in any pot.
    let roomy = sure(2000.0, &salt).unwrap();
    assert!(roomy.factor < 0.9 && roomy.now < 0.95);
    let tight = sure(262.0, &salt).unwrap();
    assert_relative_eq!(tight.factor, roomy.factor, max_relative = 1e-6);
    // More galls bring more liquor: there is room for it, or there is not.
    let galls_roomy = sure(2000.0, &galls).unwrap();
    assert!(galls_roomy.factor > 1.1);
    let needed_ml = 270.0 * galls_roomy.factor;
    let galls_fits = sure(needed_ml, &galls).unwrap();
    assert_relative_eq!(galls_fits.factor, galls_roomy.factor, max_relative = 1e-6);
    assert!(matches!(
        sure(262.0, &galls),
        Err(UncertaintyError::NotAssured { .. })
    ));
}

/// Rules of thumb speak of weighed galls: a coarse balance for them counts.
#[test]
fn galls_are_weighed_too() {
    let galls = lot("aleppo_galls");
    let recipe = Recipe::new("pinch").with(
        Solution::new("ink")
            .extract(Extraction::new(
                &galls,
                grams(3.0),
                &lot("distilled_water"),
                grams(40.0),
            ))
            .add(&lot("iron_ii_sulfate_heptahydrate"), grams(1.45)),
    );
    let rule = criteria()
        .iter()
        .find(|c| c.id == "lewis_two_to_three")
        .unwrap();
    let chance = |balance: f64| {
        let kit = Kit::new(grams(0.001), milliliters(1.0)).with(
            galls.name(),
            ferrogall::recipe::Measure::Balance {
                step: grams(balance),
            },
        );
        let study = Study::of(&recipe).unwrap().weighed_with(&kit).unwrap();
        study.excess_iron(rule, &draws(4000)).unwrap().probability
    };
    assert!(chance(0.001) < 0.01, "{}", chance(0.001));
    assert!(chance(1.0) > 0.2, "{}", chance(1.0));
}

/// A stock keeps what was in doubt of its acid; doubt of its iron is none of
/// its acid.
#[test]
fn stocks_keep_their_doubts() {
    let acid = Lot::of("hydrochloric_acid")
        .unwrap()
        .purity(0.10, 0.02)
        .unwrap()
        .build()
        .unwrap();
    let salt = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(0.90, 0.09)
        .unwrap()
        .build()
        .unwrap();
    let clean = Lot::of("distilled_water").unwrap();
    let clean = clean.alkalinity(grams_per_liter(0.0)).unwrap();
    let clean = clean
        .hardness(grams_per_liter(0.0))
        .unwrap()
        .build()
        .unwrap();
    let of = |with: Solution| {
        let stock = Recipe::new("stock").with(with.make_up(&clean, milliliters(500.0)));
        let stock = stock.evaluate().unwrap().to_lot("stock").unwrap();
        let ink = Recipe::new("ink").with(
            Solution::new("ink")
                .add(&stock, milliliters(50.0))
                .make_up(&clean, milliliters(100.0)),
        );
        Study::of(&ink).unwrap()
    };
    let relative = |study: &Study, m| {
        let budget = study.budget(m).unwrap();
        budget.standard_uncertainty() / budget.value()
    };
    let sour = of(Solution::new("jug").add(&acid, grams(30.0)));
    assert_relative_eq!(
        relative(&sour, Measurand::StrongAcid),
        0.2,
        max_relative = 0.03
    );
    let both = of(Solution::new("jug")
        .add(&acid, grams(30.0))
        .add(&salt, grams(60.0)));
    let [iron, strong] = both
        .monte_carlo(&draws(2000), [Measurand::IronII, Measurand::StrongAcid])
        .unwrap();
    assert!(iron.standard_uncertainty() / iron.mean() > 0.09);
    assert!(iron.correlation_with(&strong).unwrap().abs() < 0.1);
    assert_relative_eq!(
        strong.standard_uncertainty() / strong.mean(),
        0.2,
        max_relative = 0.1
    );
}

/// Nothing can be known of a source that cannot be.
#[test]
fn the_impossible_is_cut_off() {
    let study = Study::of(&whole(20.0, 30.0, 5.0, 100.0)).unwrap();
    for (source, distribution) in [
        ("Aleppo galls: tannin", Distribution::exact(-0.5).unwrap()),
        ("Aleppo galls: moisture", Distribution::exact(4.0).unwrap()),
        (
            "Aleppo galls: yield of the soak",
            Distribution::rectangular(3.0, 4.0).unwrap(),
        ),
    ] {
        assert!(study.knowing(source, distribution).is_err(), "{source}");
    }
    let wide = Distribution::normal(0.1, 0.3).unwrap();
    let study = study.knowing("Aleppo galls: tannin", wide).unwrap();
    let [galloyl] = study
        .monte_carlo(&draws(2000), [Measurand::Galloyl])
        .unwrap();
    assert!(galloyl.quantile(0.0) >= 0.0);
}

/// A quotient with galls below the line goes to draws and says why; the
/// interval is that of the logarithms, not the symmetric one.
#[test]
fn galls_below_the_line() {
    let study = Study::of(&whole(20.0, 60.0, 5.0, 150.0)).unwrap();
    let answer = study
        .answer(Measurand::IronPerGalloyl, &draws(50_000))
        .unwrap();
    assert!(matches!(answer.method, Method::MonteCarlo(_)));
    assert!(answer.high - answer.value > 1.2 * (answer.value - answer.low));
    let gum = study.answer(Measurand::Gum, &draws(1000)).unwrap();
    assert_eq!(gum.method, Method::FirstOrder);
    let iron = study.answer(Measurand::IronII, &draws(1000)).unwrap();
    assert_eq!(iron.method, Method::FirstOrder);
    assert!(iron.low < iron.value && iron.value < iron.high);
    // Nothing oxidised, give or take: half a normal distribution.
    let fresh = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(0.97, 0.0)
        .unwrap()
        .oxidised(0.0, 0.02)
        .unwrap()
        .build()
        .unwrap();
    let jug = Solution::new("jug").add(&fresh, grams(5.0));
    let recipe =
        Recipe::new("iron water").with(jug.make_up(&lot("distilled_water"), milliliters(100.0)));
    let iron = Study::of(&recipe)
        .unwrap()
        .answer(Measurand::IronII, &draws(1000))
        .unwrap();
    assert_eq!(iron.method, Method::MonteCarlo(Misleading::NotNormal));
    assert!(iron.low < iron.value && iron.value < iron.high);
    let advice = study
        .advice(Measurand::IronPerGalloyl, &draws(10_000))
        .unwrap();
    assert_eq!(advice.remedy, Some(Remedy::TestExtract));
    println!("{advice}");
    // The first-order interval of the evaluation, in logarithms, is near.
    let recipe = whole(20.0, 60.0, 5.0, 150.0);
    let evaluation = recipe.evaluate().unwrap();
    let logarithmic = evaluation.iron_per_galloyl().unwrap();
    assert_relative_eq!(answer.low, logarithmic.low, max_relative = 0.06);
    assert_relative_eq!(answer.high, logarithmic.high, max_relative = 0.12);
}

/// Bags whose names look like the study's own are told apart all the same.
#[test]
fn names_never_clash() {
    let bag = |name: &str, purity: f64| {
        Lot::of("iron_ii_sulfate_heptahydrate")
            .unwrap()
            .named(name)
            .purity(purity, 0.01)
            .unwrap()
            .build()
            .unwrap()
    };
    let jug = Solution::new("jug")
        .add(&bag("bag", 0.90), grams(1.0))
        .add(&bag("bag (2)", 0.91), grams(1.0))
        .add(&bag("bag", 0.92), grams(1.0))
        .add(&bag("weighing 1", 0.93), grams(1.0))
        .add(&bag("weighing 1: bag", 0.94), grams(1.0))
        .make_up(&lot("distilled_water"), milliliters(100.0));
    let recipe = Recipe::new("bags").with(jug);
    let study = Study::of(&recipe)
        .unwrap()
        .weighed_with(&Kit::new(grams(0.1), milliliters(1.0)))
        .unwrap();
    let mut names: Vec<&str> = study.sources().map(|s| s.0).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), study.sources().count());
}

/// Whatever is asked of a study that has no answer is an error or a share of
/// failed draws.
#[test]
fn what_has_no_answer() {
    let water = Recipe::new("water")
        .with(Solution::new("jug").make_up(&lot("distilled_water"), milliliters(50.0)));
    let study = Study::of(&water).unwrap();
    assert!(matches!(
        study.answer(Measurand::IronPerGalloyl, &draws(100)),
        Err(UncertaintyError::NoValue { .. })
    ));
    assert!(matches!(
        study.excess_iron(one_to_one(), &draws(100)),
        Err(UncertaintyError::AllDrawsFailed { .. })
    ));
    assert!(Study::of(&Recipe::new("nothing")).is_err());
    // A jug that turns out full already: its maker adds nothing.
    let full = Recipe::new("full to the brim").with(
        Solution::new("jug")
            .add(&lot("distilled_water"), milliliters(99.9))
            .make_up(&lot("distilled_water"), milliliters(100.0)),
    );
    let study = Study::of(&full)
        .unwrap()
        .weighed_with(&Kit::new(grams(0.1), milliliters(5.0)))
        .unwrap();
    let [volume] = study
        .monte_carlo(&draws(2000), [Measurand::Volume])
        .unwrap();
    assert_eq!(volume.failed(), 0);
    assert!(volume.share_above(102.4) > 0.0 && volume.quantile(0.0) > 97.4);
}

/// Draws without a figure are told, and every source has its unit and its
/// remedy.
#[test]
fn what_failed_is_told_and_sources_have_units() {
    let recipe = whole(20.0, 30.0, 5.0, 100.0);
    let kit = Kit::new(grams(0.1), milliliters(5.0));
    let study = Study::of(&recipe).unwrap().weighed_with(&kit).unwrap();
    let sure = study
        .answer(Measurand::IronPerGalloyl, &draws(1000))
        .unwrap();
    assert_eq!(sure.failed, 0);
    let ratio = Measurand::IronPerGalloyl;
    let [some] = study
        .inks(&draws(1000), |ink| {
            [Some(ratio.of(ink))
                .filter(|r| *r < sure.value)
                .unwrap_or(f64::NAN)]
        })
        .unwrap();
    assert!(some.failed() > 300 && some.failed() < 700);
    for (name, _) in study.sources() {
        let unit = study.source_unit(name).unwrap();
        let expected = match name {
            _ if name.starts_with("weighing ") => "kg",
            _ if name.starts_with("filling up ") => "m3",
            _ if name.starts_with("measuring ") => "m3",
            _ if name.ends_with("galloyl per tannin") => "mol/kg",
            _ if name.ends_with(": alkalinity") || name.ends_with(": hardness") => "kg/m3",
            _ => "1",
        };
        assert_eq!(unit, expected, "{name}");
        let tool = study.remedy(name) == Some(Remedy::FinerBalance);
        assert_eq!(tool, ["kg", "m3"].contains(&unit), "{name}");
    }
    assert_eq!(
        (study.source_unit("none"), study.remedy("none")),
        (None, None)
    );
}
