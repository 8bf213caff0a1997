//! One lot in another's place, inside a recipe: what was promised equal is
//! equal, whatever is soaked in what. By conservation of galloyl; no outside
//! figure is needed but the old rules of thumb at the end.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::bench::Lot;
use ferrogall::composition::{Side, criteria};
use ferrogall::formulate::{Equal, Swap};
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Recipe, Solution};

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

fn galls_in_water(galls_g: f64, water_g: f64) -> Recipe {
    let soak = Extraction::new(
        &lot("aleppo_galls").renamed("tannin"),
        grams(galls_g),
        &lot("distilled_water"),
        grams(water_g),
    );
    let ink = Solution::new("ink")
        .extract(soak)
        .add(&lot("iron_ii_sulfate_heptahydrate"), grams(5.0));
    Recipe::new("ink").with(ink)
}

fn galloyl(recipe: &Recipe) -> f64 {
    recipe.evaluate().unwrap().composition.galloyl().value
}

/// Rounding only: a dozen products and sums.
const EXACT: f64 = 1e-12;

#[test]
fn a_plant_for_a_plant_brings_as_much_galloyl() {
    let galls = galls_in_water(20.0, 300.0);
    for plant in ["sumac_leaf", "oak_bark", "knopper_galls", "green_tea_leaf"] {
        let other = galls
            .with_substitute("tannin", &lot(plant), Equal::Galloyl)
            .unwrap();
        assert_relative_eq!(galloyl(&other), galloyl(&galls), max_relative = EXACT);
        // As large a share of the liquor stays in the marc.
        let held = |r: &Recipe| {
            r.evaluate().unwrap().solutions[0].extractions[0]
                .held_back
                .value()
        };
        assert_relative_eq!(held(&other), held(&galls), max_relative = 1e-9);
        // And back again.
        let back = other.with_substitute(lot(plant).name(), &lot("aleppo_galls"), Equal::Galloyl);
        assert_relative_eq!(
            galloyl(&back.unwrap()),
            galloyl(&galls),
            max_relative = EXACT
        );
    }
}

#[test]
fn a_powder_for_a_plant_brings_as_much_galloyl() {
    let galls = galls_in_water(20.0, 300.0);
    let powder = galls
        .with_substitute("tannin", &lot("tannic_acid"), Equal::Galloyl)
        .unwrap();
    assert_relative_eq!(galloyl(&powder), galloyl(&galls), max_relative = EXACT);
}

/// Galls soaked in a first liquor: the liquor's own galloyl is not replaced.
#[test]
fn what_the_soak_liquid_brought_stays() {
    let first = galls_in_water(30.0, 300.0)
        .evaluate()
        .unwrap()
        .to_lot("first liquor")
        .unwrap();
    let soak = Extraction::new(
        &lot("aleppo_galls").renamed("tannin"),
        grams(10.0),
        &first,
        grams(200.0),
    );
    let second = Recipe::new("second").with(Solution::new("second").extract(soak));
    for other in [lot("tannic_acid"), lot("sumac_leaf")] {
        let changed = second
            .with_substitute("tannin", &other, Equal::Galloyl)
            .unwrap();
        let (a, b) = (galloyl(&second), galloyl(&changed));
        if other.is_plant() {
            // The liquid is scaled with the plant and brings its own along.
            assert!(b > 0.0 && b.is_finite());
        } else {
            assert_relative_eq!(a, b, max_relative = EXACT);
        }
    }
}

/// The quick answer is that of a soak in ten times the weight of water.
#[test]
fn a_swap_by_itself_is_that_of_the_customary_soak() {
    let (galls, powder) = (lot("aleppo_galls"), lot("tannic_acid"));
    let swap = Swap::new(&galls, &powder, Equal::Galloyl);
    let quick = swap.of(grams(20.0)).unwrap().mass;
    let soaked = galls_in_water(20.0, 200.0);
    let powder = soaked
        .with_substitute("tannin", &lot("tannic_acid"), Equal::Galloyl)
        .unwrap();
    let made = powder.evaluate().unwrap();
    let taken = made
        .lines
        .iter()
        .find(|l| l.lot.name() == "tannic acid")
        .unwrap();
    assert_relative_eq!(quick.value, taken.mass.value, max_relative = EXACT);
}

/// The old rules mean galls as weighed: Stark 1855 three to two, Lewis 1763 two
/// to three to one, Cooley no more vitriol than a third of the galls.
#[test]
fn old_rules_are_met_by_what_they_prescribe() {
    for (rule, galls, vitriol) in [
        ("stark_three_to_two", 15.0, 10.0),
        ("lewis_two_to_three", 25.0, 10.0),
        ("cooley_one_third", 30.0, 10.0),
    ] {
        let soak = Extraction::new(
            &lot("aleppo_galls"),
            grams(galls),
            &lot("distilled_water"),
            grams(10.0 * galls),
        );
        let vitriol = Solution::new("ink").extract(soak).add(
            &Lot::of("iron_ii_sulfate_heptahydrate")
                .unwrap()
                .purity(1.0, 0.0)
                .unwrap()
                .build()
                .unwrap(),
            grams(vitriol),
        );
        let recipe = Recipe::new(rule).with(vitriol);
        let made = recipe.evaluate().unwrap();
        let criterion = criteria().iter().find(|c| c.id == rule).unwrap();
        assert_eq!(
            made.verdict(criterion).unwrap().side,
            Side::Balanced,
            "{rule}"
        );
    }
}
