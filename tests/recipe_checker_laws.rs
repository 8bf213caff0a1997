//! Laws of the recipe checker, over random recipes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::bench::Lot;
use ferrogall::check::{self, Code, Finding, Severity, SlipKind, check};
use ferrogall::quantity::*;
use ferrogall::recipe::{Amount, Extraction, Ingredient, Kit, Recipe, Solution};
use ferrogall::standards::reference_inks;
use proptest::prelude::*;
use std::sync::LazyLock;

/// One gum and one dye only: with two of a kind the first is judged for both.
const POWDERS: &[&str] = &[
    "tannic_acid",
    "gallic_acid_monohydrate",
    "gallic_acid",
    "iron_ii_sulfate_heptahydrate",
    "iron_ii_sulfate_monohydrate",
    "iron_ii_sulfate_anhydrous",
    "iron_ii_lactate_trihydrate",
    "iron_iii_chloride_hexahydrate",
    "gum_arabic",
    "hydrochloric_acid",
    "sulfuric_acid",
    "tartaric_acid",
    "oxalic_acid_dihydrate",
    "phenol",
    "salicylic_acid",
    "soluble_blue",
];

static LOTS: LazyLock<Vec<Lot>> = LazyLock::new(|| POWDERS.iter().map(|id| lot(id)).collect());
static GALLS: LazyLock<Lot> = LazyLock::new(|| lot("aleppo_galls"));
static WATER: LazyLock<Lot> = LazyLock::new(|| lot("distilled_water"));

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

/// Amounts over many powers of ten; now and then nothing.
fn amount() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => (-2.0..3.0f64).prop_map(|x| 10f64.powf(x)),
        1 => Just(0.0),
        1 => (1..40u32).prop_map(f64::from),
    ]
}

#[derive(Debug, Clone)]
struct Given {
    powders: Vec<(usize, f64, bool)>,
    soak: Option<(f64, f64)>,
    water_ml: f64,
    full_ml: Option<f64>,
}

fn given() -> impl Strategy<Value = Given> {
    (
        proptest::collection::vec((0..POWDERS.len(), amount(), any::<bool>()), 1..9),
        proptest::option::of((amount(), (10.0..3000.0f64))),
        0.0..1500.0f64,
        proptest::option::of(prop_oneof![Just(1000.0), 100.0..5000.0f64]),
    )
        .prop_map(|(powders, soak, water_ml, full_ml)| Given {
            powders,
            soak,
            water_ml,
            full_ml,
        })
}

impl Given {
    fn recipe(&self) -> Recipe {
        let mut pot = Solution::new("pot");
        if let Some((galls, ml)) = self.soak {
            pot = pot.extract(Extraction::new(
                &GALLS,
                grams(galls),
                &WATER,
                milliliters(ml),
            ));
        }
        for &(i, x, by_volume) in &self.powders {
            // The acids are liquids: by volume too.
            let amount = if by_volume && LOTS[i].density().is_some() {
                Amount::Volume(milliliters(x))
            } else {
                Amount::Mass(grams(x))
            };
            pot = pot.add(&LOTS[i], amount);
        }
        pot = pot.add(&WATER, milliliters(self.water_ml));
        let recipe = Recipe::new("random").with(pot);
        match self.full_ml {
            Some(ml) => recipe.make_up(&WATER, milliliters(ml)),
            None => recipe,
        }
    }
}

fn count(found: &[Finding], code: Code, at_least: Severity) -> usize {
    let these = found.iter().filter(|f| f.code == code);
    these.filter(|f| f.severity >= at_least).count()
}

/// What is promised of slips, checked from outside.
fn honest(recipe: &Recipe, found: &[Finding]) -> Result<usize, TestCaseError> {
    let mut slips = 0;
    prop_assert!(found.windows(2).all(|w| w[0].severity >= w[1].severity));
    for f in found {
        prop_assert!(f.slips.len() <= 3);
        prop_assert!(
            f.slips
                .windows(2)
                .all(|w| w[0].plausibility >= w[1].plausibility)
        );
        for s in &f.slips {
            slips += 1;
            prop_assert!((0.0..=1.0).contains(&s.plausibility));
            prop_assert!(s.value.is_finite() && !s.changes.is_empty());
            prop_assert!(s.recipe != *recipe);
            let made = s.recipe.evaluate().unwrap();
            let after = check(&made, None);
            // The finding is gone, or less severe ...
            prop_assert!(count(&after, f.code, f.severity) < count(found, f.code, f.severity));
            prop_assert!(s.left < Some(f.severity));
            // ... and nothing as bad has come instead.
            for g in after.iter().filter(|g| g.severity >= f.severity) {
                prop_assert!(count(&after, g.code, g.severity) <= count(found, g.code, g.severity));
            }
            // Less likely by no more than a hundredth; twice as likely where the
            // proportion is only unusual.
            let before = check::likeness(&recipe.evaluate().unwrap());
            let unusual = f.code == Code::RatioOutsideHistory && f.severity == Severity::Notice;
            let least = if unusual { 2.0 } else { 0.99 };
            prop_assert!(check::likeness(&made) >= least * before);
        }
    }
    Ok(slips)
}

/// What is said, without the words.
fn said(found: &[Finding]) -> Vec<(Code, Severity, f64, f64)> {
    let mut all: Vec<_> = found
        .iter()
        .map(|f| (f.code, f.severity, f.value, f.limit))
        .collect();
    all.sort_by(|a, b| {
        (a.0.id(), a.1)
            .cmp(&(b.0.id(), b.1))
            .then(a.2.total_cmp(&b.2))
    });
    all
}

fn close(a: f64, b: f64) -> bool {
    // Sums in another order.
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-9)
}

fn config() -> ProptestConfig {
    ProptestConfig {
        failure_persistence: None,
        cases: 400,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn any_recipe_is_read(given in given(), step in 0.001..10.0f64) {
        let recipe = given.recipe();
        let kit = Kit::new(grams(step), milliliters(10.0 * step));
        let alone = check::read(&recipe, None);
        let with_kit = check::read(&recipe, Some(&kit));
        prop_assert_eq!(alone.is_ok(), recipe.evaluate().is_ok());
        let (Ok(alone), Ok(with_kit)) = (alone, with_kit) else { return Ok(()) };
        honest(&recipe, &alone)?;
        // Tools bring findings of weighings, and change no other.
        let made = recipe.evaluate().unwrap();
        let plain = check(&made, None);
        prop_assert_eq!(alone.len(), plain.len());
        for (a, b) in alone.iter().zip(&plain) {
            prop_assert_eq!((a.code, a.severity, a.value, &a.message), (b.code, b.severity, b.value, &b.message));
        }
        let weighed = [Code::WeighingTooSmall, Code::RoundedToNothing];
        let kept: Vec<_> = with_kit.iter().filter(|f| !weighed.contains(&f.code)).collect();
        prop_assert_eq!(kept, alone.iter().collect::<Vec<_>>());
        prop_assert!(with_kit.iter().all(|f| f.slips.is_empty() || !weighed.contains(&f.code)));
    }

    /// Copies of published inks with one to three amounts miswritten: here the
    /// search finds much, and all of it must be honest.
    #[test]
    fn miswritten_copies_are_read(
        ink in 0..7usize,
        wrong in proptest::collection::vec((0..6usize, prop::sample::select(vec![0.1, 10.0, 16.0, 12.5, 1.636, 3.0, 0.0625])), 1..4),
    ) {
        let published = reference_inks()[ink].recipe(liters(1.0), 1.0).unwrap();
        let mut pot = Solution::new("copy");
        for (i, ingredient) in published.solutions()[0].ingredients().iter().enumerate() {
            let Ingredient::Lot { lot, amount: Amount::Mass(m) } = ingredient else { panic!() };
            let factor: f64 = wrong.iter().filter(|(place, _)| *place == i).map(|(_, f)| f).product();
            pot = pot.add(lot, *m * factor);
        }
        let recipe = Recipe::new("copy").with(pot).make_up(&WATER, liters(1.0));
        if let Ok(found) = check::read(&recipe, None) {
            honest(&recipe, &found)?;
        }
    }

    /// The order of the ingredients changes no finding. (A shift of lines goes
    /// by the order, so slips may.)
    #[test]
    fn order_changes_nothing(given in given(), turn in 0..8usize, back in any::<bool>()) {
        let recipe = given.recipe();
        let mut other = given.clone();
        let n = other.powders.len();
        other.powders.rotate_left(turn % n);
        if back { other.powders.reverse(); }
        let (Ok(a), Ok(b)) = (check::read(&recipe, None), check::read(&other.recipe(), None)) else { return Ok(()) };
        let (a, b) = (said(&a), said(&b));
        prop_assert_eq!(a.len(), b.len());
        for (x, y) in a.iter().zip(&b) {
            prop_assert_eq!((x.0, x.1), (y.0, y.1));
            prop_assert!(close(x.2, y.2) && close(x.3, y.3), "{:?} {:?}", x, y);
        }
    }

    /// Nor does the size of the batch, but for how much there is of a salt.
    #[test]
    fn size_changes_nothing(given in given(), factor in 0.01..100.0f64) {
        let recipe = given.recipe();
        let (Ok(a), Ok(b)) = (check::read(&recipe, None), check::read(&recipe.scaled(factor), None)) else { return Ok(()) };
        let (a, b) = (said(&a), said(&b));
        prop_assert_eq!(a.len(), b.len());
        for (x, y) in a.iter().zip(&b) {
            prop_assert_eq!((x.0, x.1), (y.0, y.1));
            let amount = matches!(x.0, Code::SaltNotFit | Code::NoInk);
            prop_assert!(amount || (close(x.2, y.2) && close(x.3, y.3)), "{:?} {:?}", x, y);
        }
    }
}

/// The law above says nothing if no slip is ever offered.
#[test]
fn the_laws_see_slips_of_many_kinds() {
    let mut seen = std::collections::BTreeMap::new();
    for ink in reference_inks() {
        let published = ink.recipe(liters(1.0), 1.0).unwrap();
        for place in 0..ink.doses.len() {
            for factor in [0.1, 10.0, 16.0, 1.636, 3.0] {
                let mut pot = Solution::new("copy");
                for (i, x) in published.solutions()[0].ingredients().iter().enumerate() {
                    let Ingredient::Lot {
                        lot,
                        amount: Amount::Mass(m),
                    } = x
                    else {
                        panic!()
                    };
                    pot = pot.add(lot, *m * if i == place { factor } else { 1.0 });
                }
                let recipe = Recipe::new("copy").with(pot).make_up(&WATER, liters(1.0));
                for f in check::read(&recipe, None).unwrap() {
                    for s in &f.slips {
                        *seen.entry(s.kind.id()).or_insert(0) += 1;
                    }
                }
            }
        }
    }
    println!("{seen:?}");
    assert!(
        seen.len() >= 4 && seen[SlipKind::Decimal.id()] > 70,
        "{seen:?}"
    );
}

/// Long lists are read, and not searched.
#[test]
fn long_recipes_are_not_searched() {
    let mut pot = Solution::new("long");
    for i in 0..60 {
        pot = pot.add(&LOTS[i % LOTS.len()], grams(10.0));
    }
    let recipe = Recipe::new("long").with(pot).make_up(&WATER, liters(5.0));
    let found = check::read(&recipe, None).unwrap();
    assert!(found.iter().any(|f| f.severity >= Severity::Warning));
    assert!(found.iter().all(|f| f.slips.is_empty()));
}

/// A line of nothing hides no other of the same bag: dried salt that would match
/// a published ink as crystals, once behind such a line and once before it.
#[test]
fn a_line_of_nothing_hides_no_other() {
    let given = Given {
        powders: vec![
            (4, 14.0, false),
            (8, 1.0, false),
            (5, 0.0, false),
            (5, 0.0417, false),
        ],
        soak: None,
        water_ml: 907.0,
        full_ml: None,
    };
    let mut turned = given.clone();
    turned.powders.reverse();
    for given in [given, turned] {
        let found = check::read(&given.recipe(), None).unwrap();
        assert!(found.iter().any(|f| f.code == Code::WrongHydrate));
    }
}
