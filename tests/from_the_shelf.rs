//! What a shelf gives: published inks from pure and from mixed lots, the
//! laws every optimum keeps, and figures worked outside the project.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::bench::Lot;
use ferrogall::composition::{Criterion, criteria};
use ferrogall::equilibrium::{ConstantSet, Solver};
use ferrogall::formulate::{
    Blend, FormulateError, Goal, Objective, ProgramError, Shelf, Stock, Wanted,
};
use ferrogall::quantity::*;
use ferrogall::recipe::{Kit, Recipe, Solution};
use ferrogall::standards::{Quantity, reference_ink, reference_inks, standards};
use ferrogall::uncertainty::{MonteCarlo, Study};
use proptest::prelude::*;

fn water() -> Lot {
    Lot::of("distilled_water").unwrap().build().unwrap()
}

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

/// A pure lot at so much money a kilogram.
fn priced(id: &str, money: f64) -> Lot {
    let price = Price::per_kilogram(money).unwrap();
    lot(id).with_price(price).renamed(id)
}

fn criterion(id: &str) -> Criterion {
    *criteria().iter().find(|c| c.id == id).unwrap()
}

/// The lots that a published ink is made of, as its own recipe has them.
fn own_lots(recipe: &Recipe) -> Vec<(Lot, f64)> {
    let made = recipe.evaluate().unwrap();
    let lines = made.lines.iter().filter(|l| l.stated.is_some());
    lines.map(|l| (l.lot.clone(), l.mass.in_grams())).collect()
}

/// Published inks (sources beside them in the crate's table) from their own
/// pure materials: the shelf finds the published grams again.
#[test]
fn reference_inks_from_pure_lots() {
    for ink in reference_inks() {
        let recipe = ink.recipe(liters(1.0), 1.0).unwrap();
        let lots = own_lots(&recipe);
        let shelf = lots
            .iter()
            .fold(Shelf::new(&water()), |s, (lot, _)| s.with(lot));
        let mut wanted = Wanted::from(&ink.targets(liters(1.0), 1.0).unwrap());
        // Without strong acid among the targets nobody asks for the weak one.
        if ink.id == "us_gallic_powder_1935" {
            let solver = Solver::new(ConstantSet::reviewed(), celsius(20.0));
            let own = solver
                .unwrap()
                .ph_of(&recipe.evaluate().unwrap().composition);
            wanted = wanted.ph(own.unwrap()).unwrap();
        }
        let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
        assert!(made.meets_all(), "{}: {made}", ink.id);
        for (lot, g) in &lots {
            let taken = made.taken.iter().find(|t| t.lot == lot.name());
            let found = taken.map_or(0.0, |t| t.mass.in_grams());
            println!("{} {}: {found} g against {g} g", ink.id, lot.name());
            // 1e-9; the weak acid by way of a pH only to what the pH tells.
            let tolerance = if lot.name().contains("tartaric") {
                1e-5
            } else {
                1e-9
            };
            assert_relative_eq!(found, *g, max_relative = tolerance);
        }
    }
}

/// A shelf of what a maker has: every published ink with tannic acid can be
/// had from garden-shop vitriol, chloride, galls and the rest, and the recipe
/// has the totals of the published one. The gum of the catalogue is dry by
/// 88 %, the acid one of 10 %.
#[test]
fn reference_inks_from_a_mixed_shelf() {
    let garden = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .named("garden vitriol");
    let garden = garden
        .purity(0.96, 0.01)
        .unwrap()
        .oxidised(0.03, 0.01)
        .unwrap();
    let acid = Lot::of("hydrochloric_acid")
        .unwrap()
        .purity(0.10, 0.002)
        .unwrap();
    let shelf = Shelf::new(&lot("soft_tap_water"))
        .with(
            Stock::of(&garden.build().unwrap())
                .on_hand(grams(20.0))
                .unwrap(),
        )
        .with(&lot("iron_ii_sulfate_monohydrate"))
        .with(&lot("iron_ii_chloride_tetrahydrate"))
        .with(&lot("aleppo_galls"))
        .with(&lot("tannic_acid"))
        .with(&lot("gallic_acid_monohydrate"))
        .with(&lot("gum_arabic"))
        .with(&acid.build().unwrap())
        .with(&lot("sulfuric_acid"))
        .with(&lot("phenol"))
        .with(&lot("soluble_blue"));
    for ink in reference_inks() {
        let wanted = Wanted::from(&ink.targets(milliliters(500.0), 1.0).unwrap());
        let published = ink.recipe(milliliters(500.0), 1.0).unwrap();
        let published = published.evaluate().unwrap().composition;
        for objective in [
            Objective::LeastCost,
            Objective::FewestWeighings,
            Objective::LeastWaste,
            Objective::Closest,
            Objective::Surest(criterion("one_iron_per_galloyl")),
        ] {
            let made = shelf.make(&wanted, objective).unwrap();
            assert!(made.meets_all(), "{} {}: {made}", ink.id, objective.id());
            let ink = made.recipe.evaluate().unwrap().composition;
            for (mine, theirs) in [
                (ink.iron_ii(), published.iron_ii()),
                (ink.galloyl(), published.galloyl()),
                (ink.strong_acid(), published.strong_acid()),
            ] {
                if theirs.value > 0.0 {
                    assert_relative_eq!(mine.value, theirs.value, max_relative = 1e-8);
                }
            }
        }
    }
}

/// Problem IP9 of the compilation the check problems come from: 5.5 mmol of
/// galloyl wanted against 5.5 mmol of iron, galls of 1.7634548667 mmol/g
/// known to 20 % (normal). 3.12 g are enough at even odds, 1.49 times as much
/// at 95 %.
#[test]
fn galls_enough_with_an_assurance() {
    let galls = Lot::prepared(
        "liquor",
        &Recipe::new("liquor")
            .with(Solution::new("liquor").add(&lot("gallic_acid_monohydrate"), grams(33.18)))
            .make_up(&water(), milliliters(100.0))
            .evaluate()
            .unwrap()
            .composition,
    )
    .unwrap();
    let strength = galls.composition(grams(1.0)).unwrap().galloyl().value * 1e3;
    let known = ferrogall::bench::StrengthU {
        galloyl: 0.2,
        ..Default::default()
    };
    let galls = galls.with_strength_u(known).unwrap();
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(1.0, 0.0)
        .unwrap();
    let vitriol = vitriol.oxidised(0.0, 0.0).unwrap();
    let shelf = Shelf::new(&water())
        .with(&galls.with_price(Price::per_kilogram(1.0).unwrap()))
        .with(&vitriol.build().unwrap());
    let mut one_to_one = criterion("one_iron_per_galloyl");
    one_to_one.balanced = ferrogall::source::Range::exact(1.0);
    let grams_at = |assurance: f64| {
        let wanted = Wanted::new(milliliters(100.0))
            .unwrap()
            .iron_ii(moles_per_liter(0.055))
            .unwrap()
            .sure_of(&one_to_one, assurance)
            .unwrap();
        let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
        assert!(made.meets_all(), "{made}");
        let taken = made.taken.iter().find(|t| t.lot == "liquor").unwrap();
        taken.mass.in_grams() * strength / 1.763_454_866_724
    };
    // Printed: 3.12 g at even odds, and a factor of 1.49. The 4.66 g printed
    // beside it are not 1.49 times 3.12 (4.65); the factor is what is checked.
    assert_relative_eq!(grams_at(0.5), 3.12, max_relative = 2e-3);
    assert_relative_eq!(grams_at(0.95) / grams_at(0.5), 1.49, max_relative = 3e-3);
    // The closed form: 1/(1 - 1.6448536 u).
    let factor = 1.0 / (1.0 - 1.644_853_626_951_472_7 * 0.2);
    assert_relative_eq!(grams_at(0.95) / grams_at(0.5), factor, max_relative = 1e-7);
}

/// Assurance to first order against draws of the same recipe: two vitriols
/// whose purities are normal and independent, and a galloyl without doubt, so
/// that the iron is normal and the two must agree to the draws' own error.
#[test]
fn assurance_is_what_draws_find() {
    let vitriol = |id: &str, purity: f64, u: f64| {
        let lot = Lot::of(id).unwrap().purity(purity, u).unwrap();
        lot.oxidised(0.0, 0.0).unwrap().build().unwrap()
    };
    let gallic = lot("gallic_acid_monohydrate");
    let first = vitriol("iron_ii_sulfate_heptahydrate", 0.90, 0.03);
    let shelf = Shelf::new(&water())
        .with(Stock::of(&first).on_hand(grams(9.0)).unwrap())
        .with(
            &vitriol("iron_ii_sulfate_monohydrate", 0.85, 0.05)
                .with_price(Price::per_kilogram(1.0).unwrap()),
        )
        .with(&gallic.with_price(Price::per_kilogram(90.0).unwrap()));
    let criterion = criterion("one_iron_per_galloyl");
    let plan = MonteCarlo::fixed(7, 20_000).unwrap();
    for assurance in [0.5, 0.6, 0.8, 0.9, 0.95, 0.99] {
        let wanted = Wanted::new(liters(1.0))
            .unwrap()
            .iron(grams_per_liter(3.0))
            .unwrap()
            .sure_of(&criterion, assurance)
            .unwrap();
        let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
        let study = Study::of(&made.recipe).unwrap();
        let chance = study.excess_iron(&criterion, &plan).unwrap();
        let found = 1.0 - chance.probability;
        println!("{assurance}: {found}, {} weighings", made.weighings);
        assert_eq!(made.weighings, 3);
        assert!((found - assurance).abs() < 3.5 * chance.sampling_error);
    }
}

/// Objective by objective, none does better at what another is best at.
#[test]
fn each_objective_is_best_at_its_own() {
    let galls = Lot::of("aleppo_galls").unwrap().named("galls");
    let galls = galls.tannin(0.6, 0.1).unwrap();
    let shelf = Shelf::new(&water())
        .with(
            Stock::of(&priced("iron_ii_sulfate_heptahydrate", 9.0))
                .on_hand(grams(6.0))
                .unwrap(),
        )
        .with(&priced("iron_ii_sulfate_monohydrate", 30.0))
        .with(&priced("iron_ii_chloride_tetrahydrate", 90.0))
        .with(&priced("tannic_acid", 120.0))
        .with(&priced("gallic_acid_monohydrate", 150.0))
        .with(
            &galls
                .build()
                .unwrap()
                .with_price(Price::per_kilogram(20.0).unwrap()),
        );
    let criterion = criterion("conservation_3_67");
    let wanted = Wanted::new(liters(1.0))
        .unwrap()
        .iron(grams_per_liter(2.5)..=grams_per_liter(3.5))
        .unwrap()
        .iron_ii_per_galloyl(0.3..=0.5)
        .unwrap()
        .gallic_share(0.2..)
        .unwrap();
    let made = |objective| shelf.make(&wanted, objective).unwrap();
    let cheap = made(Objective::LeastCost);
    let few = made(Objective::FewestWeighings);
    let tidy = made(Objective::LeastWaste);
    let sure = made(Objective::Surest(criterion));
    let all = [&cheap, &few, &tidy, &sure];
    let assurance = |blend: &Blend| {
        let plan = MonteCarlo::fixed(3, 20_000).unwrap();
        let study = Study::of(&blend.recipe).unwrap();
        1.0 - study.excess_iron(&criterion, &plan).unwrap().probability
    };
    for other in all {
        assert!(other.meets_all());
        assert!(cheap.cost.unwrap() <= other.cost.unwrap() * (1.0 + 1e-9));
        assert!(few.weighings <= other.weighings);
        assert!(tidy.waste.value <= other.waste.value + 1e-12);
        assert!(assurance(&sure) >= assurance(other) - 0.005); // draws
    }
    // They differ, or the test would show nothing.
    assert!(few.weighings < cheap.weighings);
    assert!(cheap.waste > tidy.waste);
    assert!(assurance(&sure) > assurance(&cheap) + 0.2);
}

/// A pH from acids of three kinds, held against the room that reckons it.
#[test]
fn a_ph_is_hit_with_whatever_acid_there_is() {
    for acid in [
        "hydrochloric_acid",
        "sulfuric_acid",
        "tartaric_acid",
        "citric_acid",
        "white_vinegar",
    ] {
        if Lot::of(acid).is_err() {
            continue;
        }
        let shelf = Shelf::new(&lot("hard_tap_water"))
            .with(&lot("iron_ii_sulfate_heptahydrate"))
            .with(&lot("tannic_acid"))
            .with(&priced(acid, 5.0));
        for ph in [2.2, 2.5, 2.8] {
            let wanted = Wanted::new(liters(1.0))
                .unwrap()
                .iron(grams_per_liter(3.0))
                .unwrap()
                .iron_ii_per_galloyl(0.6)
                .unwrap()
                .ph(ph)
                .unwrap();
            let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
            let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0)).unwrap();
            let reached = solver
                .ph_of(&made.recipe.evaluate().unwrap().composition)
                .unwrap();
            println!("{acid} for pH {ph}: {reached}, {}", made.meets_all());
            if made.meets_all() {
                assert!((reached - ph).abs() < 1e-6);
            } else {
                // Vinegar is too weak and too much water for the lowest.
                assert!(acid.contains("vinegar"), "{acid} {ph}: {made}");
            }
        }
    }
}

/// A window of the pH costs no more acid than its near end.
#[test]
fn a_window_of_ph_is_used_to_its_cheap_end() {
    let shelf = Shelf::new(&water())
        .with(&lot("iron_ii_sulfate_heptahydrate"))
        .with(&lot("tannic_acid"))
        .with(&priced("hydrochloric_acid", 5.0));
    let wanted = |ph: (f64, f64)| {
        Wanted::new(liters(1.0))
            .unwrap()
            .iron(grams_per_liter(3.0))
            .unwrap()
            .iron_ii_per_galloyl(0.6)
            .unwrap()
            .ph(ph.0..=ph.1)
            .unwrap()
    };
    let wide = shelf
        .make(&wanted((1.5, 2.4)), Objective::LeastCost)
        .unwrap();
    let exact = shelf
        .make(&wanted((2.4, 2.4)), Objective::LeastCost)
        .unwrap();
    assert_relative_eq!(wide.cost.unwrap(), exact.cost.unwrap(), max_relative = 1e-6);
    // An ink that is in the window without acid gets none.
    let open = shelf
        .make(&wanted((2.0, 5.0)), Objective::LeastCost)
        .unwrap();
    assert_eq!(open.cost, None);
    assert!(open.meets_all());
}

/// What cannot be had is said, with by how much, and the nearest is given:
/// problem IP10 of the check problems, 5.5 mmol of iron from 1.0 g of green
/// vitriol. By the crate's own weights 34.6 % are wanting.
#[test]
fn what_cannot_be_had_is_said() {
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(1.0, 0.0)
        .unwrap();
    let shelf = Shelf::new(&water())
        .with(
            Stock::of(&vitriol.build().unwrap())
                .on_hand(grams(1.0))
                .unwrap(),
        )
        .with(&lot("tannic_acid"));
    let wanted = Wanted::new(milliliters(100.0))
        .unwrap()
        .iron_ii(moles_per_liter(0.055))
        .unwrap()
        .galloyl(moles_per_liter(0.062))
        .unwrap();
    let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
    assert!(!made.meets_all());
    assert_relative_eq!(made.figure("iron_ii").unwrap().miss, -0.346, epsilon = 5e-4);
    assert!(made.figure("galloyl").unwrap().is_met());
    assert_eq!(made.used_up, ["iron(II) sulfate heptahydrate"]);
    assert_eq!(made.missed().count(), 1);
}

/// 30 mL on a 0.1 g balance: problem IP4a, whose optimum is 0.5, 0.3, 0.1 and
/// 0.3 g. Lots of the file's strengths, so that the counts are the file's.
#[test]
fn thirty_millilitres_on_a_tenth_of_a_gram() {
    // mmol/g of the file: vitriol 3.597, tannic acid 5.290 (no free gallic
    // acid), gallic acid 5.315.
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .purity(1.0, 0.0)
        .unwrap();
    let tannic = Lot::of("tannic_acid")
        .unwrap()
        .tannin(1.0, 0.0)
        .unwrap()
        .moisture(0.0, 0.0)
        .unwrap()
        .galloyl(moles_per_kilogram(5.290_364_6), moles_per_kilogram(0.0))
        .unwrap()
        .gallic_acid(0.0, 0.0)
        .unwrap();
    let gallic = Lot::of("gallic_acid_monohydrate").unwrap();
    let gum = Lot::of("gum_arabic").unwrap().moisture(0.0, 0.0).unwrap();
    let kit = Kit::new(grams(0.1), milliliters(0.1));
    let shelf = [
        vitriol.named("a vitriol"),
        tannic.named("b tannic"),
        gallic.named("c gallic"),
        gum.named("d gum"),
    ]
    .into_iter()
    .fold(Shelf::new(&water()), |shelf, lot| {
        shelf.with(&lot.build().unwrap())
    })
    .measured_with(&kit);
    let wanted = Wanted::new(milliliters(30.0))
        .unwrap()
        .iron_ii(moles_per_liter(0.055))
        .unwrap()
        .galloyl(moles_per_liter(0.062))
        .unwrap()
        .gallic_acid(moles_per_liter(0.020))
        .unwrap()
        .gum(grams_per_liter(10.0))
        .unwrap();
    let made = shelf.make(&wanted, Objective::Closest).unwrap();
    let steps: Vec<f64> = made.taken.iter().map(|t| t.steps.unwrap()).collect();
    println!("{made}");
    assert_eq!(steps, [5.0, 3.0, 1.0, 3.0]);
    let misses: f64 = made.figures.iter().map(|f| f.miss.abs()).sum();
    // 0.34318 in the file; the weights differ in the fifth digit.
    assert_relative_eq!(misses, 0.34318, max_relative = 2e-4);
}

/// Packs: ten grams are wanted, five hundred are sold.
#[test]
fn packs_are_bought_whole() {
    let vitriol = priced("iron_ii_sulfate_heptahydrate", 10.0);
    let chloride = priced("iron_ii_chloride_tetrahydrate", 100.0);
    let wanted = Wanted::new(liters(1.0))
        .unwrap()
        .iron(grams_per_liter(2.0))
        .unwrap();
    let shelf = Shelf::new(&water())
        .with(Stock::of(&vitriol).sold_by(grams(500.0)).unwrap())
        .with(Stock::of(&chloride).sold_by(grams(25.0)).unwrap());
    // 5.00 for half a kilogram of vitriol, 2.50 for the small tin of chloride.
    let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
    assert_eq!(made.taken[0].lot, "iron_ii_chloride_tetrahydrate");
    assert_eq!((made.taken[0].packs, made.cost), (1.0, Some(2.5)));
    assert_relative_eq!(
        (made.taken[0].left.unwrap() + made.taken[0].mass).in_grams(),
        25.0,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        made.waste.in_grams(),
        made.taken[0].left.unwrap().in_grams(),
        max_relative = 1e-9
    );
    // With the vitriol on hand nothing is bought.
    let stocked = Shelf::new(&water())
        .with(
            Stock::of(&vitriol)
                .on_hand(grams(12.0))
                .unwrap()
                .sold_by(grams(500.0))
                .unwrap(),
        )
        .with(Stock::of(&chloride).sold_by(grams(25.0)).unwrap());
    let made = stocked.make(&wanted, Objective::LeastCost).unwrap();
    assert_eq!(made.taken.len(), 1);
    assert_eq!(made.taken[0].packs, 0.0);
    assert!(made.cost.unwrap() < 0.11);
}

/// What is on hand goes before a pack is opened, in the search as in the bill:
/// 4 g of the vitriol and some chloride come to less than the 4 g and a pack of
/// it. What is said to be cheap enough is.
#[test]
fn what_is_on_hand_is_paid_for_beside_a_pack() {
    let vitriol = Stock::of(&priced("iron_ii_sulfate_heptahydrate", 10.0));
    let vitriol = vitriol.on_hand(grams(4.0)).unwrap();
    let shelf = Shelf::new(&water())
        .with(vitriol.sold_by(grams(10.0)).unwrap())
        .with(&priced("iron_ii_chloride_tetrahydrate", 17.5));
    let wanted = Wanted::new(liters(1.0))
        .unwrap()
        .iron(grams_per_liter(2.0))
        .unwrap();
    let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
    assert!(made.taken.iter().all(|t| t.packs == 0.0), "{made}");
    assert!(made.cost.unwrap() < 0.12, "{made}");
    let within = wanted.costing_at_most(0.12).unwrap();
    for objective in [Objective::Closest, Objective::FewestWeighings] {
        let made = shelf.make(&within, objective).unwrap();
        assert!(made.meets_all() && made.cost.unwrap() <= 0.12, "{made}");
    }
}

/// Iron(III) alone has no iron(II) and no galloyl: a proportion of nothing to
/// nothing is none, however cheap.
#[test]
fn a_proportion_wants_something_below_its_line() {
    let shelf = Shelf::new(&water())
        .with(&priced("iron_iii_chloride_hexahydrate", 1.0))
        .with(&priced("iron_ii_sulfate_heptahydrate", 30.0))
        .with(&priced("tannic_acid", 100.0));
    let wanted = Wanted::new(liters(1.0))
        .unwrap()
        .iron(grams_per_liter(3.0)..=grams_per_liter(3.5))
        .unwrap()
        .iron_ii_per_galloyl(0.5..=0.6)
        .unwrap();
    for objective in [
        Objective::LeastCost,
        Objective::Closest,
        Objective::FewestWeighings,
        Objective::LeastWaste,
    ] {
        let made = shelf.make(&wanted, objective).unwrap();
        assert!(made.meets_all(), "{made}");
    }
}

/// A share that is exactly the only tannin's own is kept by any amount of it.
#[test]
fn the_tannins_own_share_can_be_asked_for() {
    let shelf = Shelf::new(&water())
        .with(&priced("iron_ii_sulfate_heptahydrate", 9.0))
        .with(&priced("tannic_acid", 100.0));
    let plain = Wanted::new(liters(1.0))
        .unwrap()
        .iron_ii(moles_per_liter(0.05))
        .unwrap()
        .iron_ii_per_galloyl(0.6)
        .unwrap();
    let made = shelf.make(&plain, Objective::LeastCost).unwrap();
    let ink = made.recipe.evaluate().unwrap().composition;
    let free = ink.amount(ferrogall::composition::Component::GallicAcid);
    let own = (free / ink.galloyl()).value;
    let wanted = plain.gallic_share(own).unwrap();
    for objective in [Objective::LeastCost, Objective::Closest] {
        let made = shelf.make(&wanted, objective).unwrap();
        assert!(made.meets_all(), "{made}");
    }
}

/// A line through the pH of plain ink may ask for more acid than any ink
/// holds; the search comes back from there.
#[test]
fn a_search_that_goes_too_far_comes_back() {
    for acid in ["oxalic_acid_dihydrate", "sulfuric_acid", "citric_acid"] {
        for water in ["distilled_water", "very_hard_tap_water"] {
            let shelf = Shelf::new(&lot(water))
                .with(&priced("iron_ii_sulfate_heptahydrate", 9.0))
                .with(&priced("tannic_acid", 100.0))
                .with(&lot(acid));
            let wanted = Wanted::new(liters(1.0))
                .unwrap()
                .iron(grams_per_liter(2.0)..=grams_per_liter(3.0))
                .unwrap()
                .iron_ii_per_galloyl(0.5..=0.6)
                .unwrap();
            for ph in [1.5, 2.0, 2.5] {
                let wanted = wanted.ph(ph - 0.02..=ph).unwrap();
                for objective in [Objective::LeastCost, Objective::Closest] {
                    let made = shelf.make(&wanted, objective).unwrap();
                    assert!(made.meets_all(), "{acid} in {water}: {made}");
                }
            }
        }
    }
}

/// The most that can be made is what the limiting lot gives; twice of it gives
/// twice until the next one limits.
#[test]
fn the_most_that_can_be_made() {
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .named("vitriol")
        .purity(1.0, 0.0)
        .unwrap();
    let tannic = lot("tannic_acid").renamed("tannic");
    let galloyl = tannic.composition(grams(1.0)).unwrap().galloyl().value;
    let shelf = |vitriol_g: f64, tannic_g: f64| {
        Shelf::new(&water())
            .with(
                Stock::of(&vitriol.clone().build().unwrap())
                    .on_hand(grams(vitriol_g))
                    .unwrap(),
            )
            .with(Stock::of(&tannic).on_hand(grams(tannic_g)).unwrap())
    };
    let wanted = Wanted::new(liters(1.0))
        .unwrap()
        .iron_ii(moles_per_liter(0.05))
        .unwrap()
        .iron_ii_per_galloyl(0.5)
        .unwrap();
    // 278.006 g/mol by the check problems; the crate's weights give 278.01.
    let by_iron = |g: f64| g / 278.01 / 0.05 * 1000.0;
    let by_tannin = |g: f64| g * galloyl / 0.1 * 1000.0;
    for (iron_g, tannin_g) in [(7.4, 60.0), (40.0, 6.0), (10.0, 10.0)] {
        let most = shelf(iron_g, tannin_g).most(&wanted).unwrap();
        let expected = by_iron(iron_g).min(by_tannin(tannin_g));
        assert_relative_eq!(
            most.blend.volume.in_milliliters(),
            expected,
            max_relative = 1e-4
        );
        let more = &most.more[0];
        let then = if by_iron(iron_g) < by_tannin(tannin_g) {
            assert_eq!(more.lot, "vitriol");
            by_iron(2.0 * iron_g).min(by_tannin(tannin_g))
        } else {
            assert_eq!(more.lot, "tannic");
            by_tannin(2.0 * tannin_g).min(by_iron(iron_g))
        };
        assert_relative_eq!(
            more.volume.in_milliliters(),
            then - expected,
            max_relative = 1e-3
        );
    }
    let endless = Shelf::new(&water())
        .with(&lot("tannic_acid"))
        .with(&lot("iron_ii_sulfate_heptahydrate"));
    assert_eq!(
        endless.most(&wanted).unwrap_err(),
        FormulateError::NothingLimits
    );
    let none = Shelf::new(&water()).with(&lot("tannic_acid"));
    assert_eq!(
        none.most(&wanted).unwrap_err(),
        FormulateError::Program(ProgramError::Infeasible)
    );
}

#[test]
fn names_are_told_apart() {
    let shelf = Shelf::new(&water())
        .with(&lot("tannic_acid"))
        .with(&lot("tannic_acid"));
    let wanted = Wanted::new(liters(1.0)).unwrap();
    let error = shelf.make(&wanted, Objective::LeastCost).unwrap_err();
    assert_eq!(
        error,
        FormulateError::NameTaken {
            lot: "tannic acid".into()
        }
    );
    assert!(wanted.iron(grams_per_liter(f64::NAN)).is_err());
    assert!(wanted.ph(3.0..=2.0).is_err());
    assert!(wanted.gum(grams_per_liter(-1.0)..).is_err());
    assert!(wanted.sure_of(&criteria()[0], 0.3).is_err());
}

/// A shelf in random stocks and prices, and a request it may or may not meet.
#[derive(Debug, Clone)]
struct Request {
    stocks: Vec<(usize, f64, f64)>,
    iron: (f64, f64),
    ratio: (f64, f64),
    gallic: f64,
}

const LOTS: [&str; 7] = [
    "iron_ii_sulfate_heptahydrate",
    "iron_ii_sulfate_monohydrate",
    "iron_ii_chloride_tetrahydrate",
    "tannic_acid",
    "gallic_acid_monohydrate",
    "aleppo_galls",
    "gum_arabic",
];

fn request() -> impl Strategy<Value = Request> {
    (
        prop::sample::subsequence((0..LOTS.len()).collect::<Vec<_>>(), 2..=LOTS.len()),
        prop::collection::vec((1.0..200.0_f64, 0.5..60.0_f64), LOTS.len()),
        (1.0..5.0_f64, 0.0..2.0_f64),
        (0.2..1.0_f64, 0.0..0.3_f64),
        0.0..0.4_f64,
    )
        .prop_map(|(lots, of_each, iron, ratio, gallic)| Request {
            stocks: lots
                .into_iter()
                .map(|i| (i, of_each[i].0, of_each[i].1))
                .collect(),
            iron: (iron.0, iron.0 + iron.1),
            ratio: (ratio.0, ratio.0 + ratio.1),
            gallic,
        })
}

impl Request {
    fn shelf(&self, keep: impl Fn(usize) -> bool) -> Shelf {
        let kept = self.stocks.iter().enumerate().filter(|(i, _)| keep(*i));
        kept.fold(Shelf::new(&water()), |shelf, (_, &(i, money, g))| {
            shelf.with(
                Stock::of(&priced(LOTS[i], money))
                    .on_hand(grams(g))
                    .unwrap(),
            )
        })
    }

    fn wanted(&self) -> Wanted {
        Wanted::new(liters(1.0))
            .unwrap()
            .iron(grams_per_liter(self.iron.0)..=grams_per_liter(self.iron.1))
            .unwrap()
            .iron_ii_per_galloyl(self.ratio.0..=self.ratio.1)
            .unwrap()
            .gallic_share(self.gallic..)
            .unwrap()
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    /// No ink that can be poured together by chance from the same stocks, and
    /// keeps the windows, is cheaper.
    #[test]
    fn no_feasible_ink_is_cheaper(
        request in request(),
        shares in prop::collection::vec(prop::collection::vec(0.0..1.0_f64, LOTS.len()), 60),
    ) {
        let shelf = request.shelf(|_| true);
        let best = shelf.make(&request.wanted(), Objective::LeastCost).unwrap();
        for share in &shares {
            let mut pot = Solution::new("by chance");
            let mut cost = 0.0;
            for (&(i, money, g), share) in request.stocks.iter().zip(share) {
                // Plants need a soak of their own; powders do for this.
                if LOTS[i] == "aleppo_galls" { continue; }
                let mass = g.min(30.0) * share;
                cost += money * mass * 1e-3;
                pot = pot.add(&priced(LOTS[i], money), grams(mass));
            }
            let recipe = Recipe::new("by chance").with(pot).make_up(&water(), liters(1.0));
            let Ok(made) = recipe.evaluate() else { continue };
            let c = &made.composition;
            let iron = c.iron_mass_concentration().in_grams_per_liter();
            let Some(ratio) = c.ratios().iron_ii_per_galloyl else { continue };
            let gallic = c.amount(ferrogall::composition::Component::GallicAcid).value / c.galloyl().value;
            let keeps = (request.iron.0..=request.iron.1).contains(&iron)
                && (request.ratio.0..=request.ratio.1).contains(&ratio)
                && gallic >= request.gallic;
            if keeps {
                prop_assert!(best.meets_all());
                prop_assert!(best.cost.unwrap() <= cost * (1.0 + 1e-9));
            }
        }
    }

    /// One lot more never raises the cost, and what could be had still can.
    #[test]
    fn another_lot_never_raises_the_cost(request in request()) {
        let without = request.shelf(|i| i > 0).make(&request.wanted(), Objective::LeastCost).unwrap();
        let with = request.shelf(|_| true).make(&request.wanted(), Objective::LeastCost).unwrap();
        if without.meets_all() {
            prop_assert!(with.meets_all());
            prop_assert!(with.cost.unwrap() <= without.cost.unwrap() * (1.0 + 1e-9));
        }
    }

    /// Tighter windows never lower it.
    #[test]
    fn tighter_windows_never_lower_the_cost(request in request(), by in 0.0..0.5_f64) {
        let tighter = |(low, high): (f64, f64)| (low + by * (high - low), high - 0.5 * by * (high - low));
        let narrow = Request { iron: tighter(request.iron), ratio: tighter(request.ratio), ..request.clone() };
        let shelf = request.shelf(|_| true);
        let wide = shelf.make(&request.wanted(), Objective::LeastCost).unwrap();
        let tight = shelf.make(&narrow.wanted(), Objective::LeastCost).unwrap();
        if tight.meets_all() {
            prop_assert!(wide.meets_all());
            prop_assert!(wide.cost.unwrap() <= tight.cost.unwrap() * (1.0 + 1e-9));
        }
    }

    /// In what order the lots stand changes nothing, to the bit.
    #[test]
    fn the_order_on_the_shelf_changes_nothing(request in request(), turn in 0usize..7) {
        let mut turned = request.clone();
        let n = turned.stocks.len();
        turned.stocks.rotate_left(turn % n);
        for objective in [Objective::LeastCost, Objective::FewestWeighings, Objective::Closest] {
            let a = request.shelf(|_| true).make(&request.wanted(), objective).unwrap();
            let b = turned.shelf(|_| true).make(&request.wanted(), objective).unwrap();
            prop_assert_eq!(a, b);
        }
    }

    /// Whatever pH is asked for and whatever is to be best, there is an answer,
    /// and one that is called met is.
    #[test]
    fn every_search_for_a_ph_comes_to_rest(
        request in request(),
        ph in 0.5..6.0_f64,
        width in prop_oneof![Just(0.0), 0.0..2.0_f64],
        which in 0usize..5,
        hard in any::<bool>(),
    ) {
        let mut shelf = Shelf::new(&lot(if hard { "hard_tap_water" } else { "distilled_water" }));
        for stock in request.shelf(|_| true).stocks() {
            shelf = shelf.with(stock.clone());
        }
        let shelf = shelf
            .with(Stock::of(&priced("hydrochloric_acid", 7.0)).on_hand(grams(40.0)).unwrap())
            .with(&priced("tartaric_acid", 30.0))
            .with(&priced("sodium_bicarbonate", 4.0));
        let wanted = request.wanted().ph(ph..=ph + width).unwrap();
        let objective = [
            Objective::LeastCost,
            Objective::Closest,
            Objective::FewestWeighings,
            Objective::LeastWaste,
            Objective::Surest(criterion("one_iron_per_galloyl")),
        ][which];
        let made = shelf.make(&wanted, objective);
        prop_assert!(made.is_ok(), "{made:?}");
        if made.as_ref().is_ok_and(Blend::meets_all) {
            let ink = made.unwrap().recipe.evaluate().unwrap().composition;
            let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0)).unwrap();
            let reached = solver.ph_of(&ink).unwrap();
            prop_assert!(reached > ph - 2e-6 && reached < ph + width + 2e-6);
        }
        let most = shelf.most(&wanted);
        prop_assert!(matches!(most, Ok(_)
            | Err(FormulateError::NothingLimits)
            | Err(FormulateError::Program(ProgramError::Infeasible))), "{most:?}");
    }

    /// Twice the ink takes twice of everything.
    #[test]
    fn twice_the_ink_takes_twice_of_everything(request in request()) {
        let endless = request.stocks.iter().fold(Shelf::new(&water()), |shelf, &(i, money, _)| {
            shelf.with(&priced(LOTS[i], money))
        });
        let one = endless.make(&request.wanted(), Objective::LeastCost).unwrap();
        let wanted = request.wanted().in_volume(liters(2.0)).unwrap();
        let two = endless.make(&wanted, Objective::LeastCost).unwrap();
        prop_assert_eq!(one.meets_all(), two.meets_all());
        if let (Some(one), Some(two)) = (one.cost, two.cost) {
            prop_assert!((two - 2.0 * one).abs() <= 1e-8 * two);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(12) })]

    /// By the balance, the surest ink keeps what the cheapest one keeps.
    #[test]
    fn the_surest_by_the_balance_keeps_its_windows(request in request()) {
        let kit = Kit::new(grams(0.1), milliliters(0.5));
        let shelf = request.shelf(|_| true).measured_with(&kit);
        let cheapest = shelf.make(&request.wanted(), Objective::LeastCost).unwrap();
        let surest = Objective::Surest(criterion("one_iron_per_galloyl"));
        let surest = shelf.make(&request.wanted(), surest).unwrap();
        prop_assert!(!cheapest.meets_all() || surest.meets_all(), "{surest}");
    }
}

/// An ink to the composition clauses of each specification that has them,
/// from pure lots: held against it afterwards, no clause fails.
#[test]
fn inks_to_a_specification() {
    let shelf = [
        "iron_ii_sulfate_heptahydrate",
        "tannic_acid",
        "gallic_acid_monohydrate",
        "gum_arabic",
        "hydrochloric_acid",
        "soluble_blue",
        "phenol",
    ]
    .iter()
    .fold(Shelf::new(&water()), |shelf, id| shelf.with(&lot(id)));
    let mut kept = 0;
    for standard in standards() {
        let wanted = Wanted::new(liters(1.0))
            .unwrap()
            .iron_ii_per_galloyl(0.6)
            .unwrap();
        let wanted = wanted.gallic_share(0.3).unwrap().keeping(standard).unwrap();
        if wanted.window(Goal::Iron).is_none() {
            continue;
        }
        let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
        assert!(made.meets_all(), "{}: {made}", standard.id);
        let ink = made.recipe.evaluate().unwrap().composition;
        for window in standard.windows() {
            if matches!(
                window.quantity,
                Quantity::Iron | Quantity::TannicAndGallicAcid
            ) {
                let figure = window.quantity.of(&ink).unwrap();
                assert!(
                    window.contains(figure),
                    "{}: {figure} in {window:?}",
                    standard.id
                );
                kept += 1;
            }
        }
    }
    assert!(kept > 5, "{kept}");
}

/// Every goal by itself: a shelf that can give it does, and says so.
#[test]
fn every_goal_can_be_asked_for() {
    let shelf = [
        "iron_ii_sulfate_heptahydrate",
        "tannic_acid",
        "gallic_acid_monohydrate",
        "gum_arabic",
        "hydrochloric_acid",
        "soluble_blue",
        "phenol",
    ]
    .iter()
    .fold(Shelf::new(&water()), |shelf, id| shelf.with(&lot(id)));
    let new = || Wanted::new(liters(1.0)).unwrap();
    let (mol, mass) = (moles_per_liter(0.03), grams_per_liter(3.0));
    let iron = || new().iron(mass).unwrap();
    for (goal, wanted) in [
        (Goal::IronII, new().iron_ii(mol).unwrap()),
        (Goal::Iron, new().iron(mass).unwrap()),
        (Goal::Galloyl, new().galloyl(mol).unwrap()),
        (Goal::GallicAcid, new().gallic_acid(mol).unwrap()),
        (
            Goal::TannicAndGallic,
            new().tannic_and_gallic(mass).unwrap(),
        ),
        (
            Goal::IronIIPerGalloyl,
            iron().iron_ii_per_galloyl(0.6).unwrap(),
        ),
        (
            Goal::GallicShare,
            new().galloyl(mol).unwrap().gallic_share(0.3).unwrap(),
        ),
        (Goal::StrongAcid, new().strong_acid(mol).unwrap()),
        (Goal::Ph, iron().ph(2.0).unwrap()),
        (Goal::Gum, new().gum(mass).unwrap()),
        (Goal::Dye, new().dye(mass).unwrap()),
        (Goal::Preservative, new().preservative(mass).unwrap()),
    ] {
        let made = shelf.make(&wanted, Objective::LeastCost).unwrap();
        assert!(made.meets_all(), "{made}");
        let figure = made.figure(goal.id()).unwrap();
        assert!((figure.reached.unwrap() - figure.low).abs() <= 1e-6 * figure.low.abs());
        assert_eq!(Goal::from_id(figure.id), Some(goal));
    }
    assert!(reference_ink("us_federal_writing_1935").is_some());
}
