//! Each finding on the recipe it was made for. The slips are those that
//! circulate in print or that makers report; figures beside each.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::bench::{HydrateMix, IronInAcid, Lot};
use ferrogall::check::{Code, Finding, Severity, cautions, check};
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Kit, Measure, Recipe, Solution};
use ferrogall::standards::{reference_ink, reference_inks};

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

/// A litre of the US federal writing ink with one thing changed.
fn litre(change: impl Fn(Solution) -> Solution, vitriol: &str, grams_of_it: f64) -> Vec<Finding> {
    let ink = Solution::new("ink")
        .add(&lot("tannic_acid"), grams(13.0))
        .add(&lot("gallic_acid_monohydrate"), grams(3.8))
        .add(&lot(vitriol), grams(grams_of_it))
        .add(&lot("hydrochloric_acid"), grams(4.0));
    let recipe = Recipe::new("litre")
        .with(change(ink))
        .make_up(&lot("distilled_water"), liters(1.0));
    check(&recipe.evaluate().unwrap(), None)
}

fn only(findings: &[Finding], code: Code) -> Finding {
    let found: Vec<_> = findings.iter().filter(|f| f.code == code).collect();
    assert_eq!(found.len(), 1, "{code:?} in {findings:#?}");
    found[0].clone()
}

#[test]
fn a_sound_ink_draws_no_warning() {
    let found = litre(|ink| ink, "iron_ii_sulfate_heptahydrate", 15.0);
    assert!(
        found.iter().all(|f| f.severity < Severity::Warning),
        "{found:#?}"
    );
}

/// No published reference ink is an error by our own rules.
#[test]
fn reference_inks_draw_no_error() {
    for ink in reference_inks() {
        let recipe = ink.recipe(liters(1.0), 1.0).unwrap();
        let found = check(&recipe.evaluate().unwrap(), None);
        assert!(
            found.iter().all(|f| f.severity < Severity::Error),
            "{}: {found:#?}",
            ink.id
        );
    }
}

/// 15 g of the dried salt where 15 g of crystals were meant: 64 % too much
/// iron (monohydrate), 83 % (anhydrous). Ratio of molar masses.
#[test]
fn dried_salt_weighed_as_crystals() {
    for (salt, factor) in [
        ("iron_ii_sulfate_monohydrate", 1.636),
        ("iron_ii_sulfate_anhydrous", 1.830),
    ] {
        let f = only(&litre(|ink| ink, salt, 15.0), Code::WrongHydrate);
        assert!((f.value / f.limit - factor).abs() < 0.02 * factor, "{f}");
        assert!(
            f.message.contains(&format!("{:.2} g", 15.0 / factor)),
            "{f}"
        );
    }
    // The right weight of the dried salt is not suspected.
    let right = litre(|ink| ink, "iron_ii_sulfate_monohydrate", 9.17);
    assert!(right.iter().all(|f| f.code != Code::WrongHydrate));
}

/// A web copy of the US formula has phenol 12.5 g and dye 1.0 g: the lines
/// slid by one. NBS RP807 gives phenol 1 g.
#[test]
fn twelve_and_a_half_times_the_phenol() {
    let found = litre(
        |ink| ink.add(&lot("phenol"), grams(12.5)),
        "iron_ii_sulfate_heptahydrate",
        15.0,
    );
    let f = only(&found, Code::DoseFarFromReference);
    assert_eq!(f.severity, Severity::Error);
    assert!((f.value / f.limit - 12.5).abs() < 1e-9, "{f}");
    let published = reference_ink("us_federal_writing_1935").unwrap();
    assert!(
        published
            .doses
            .iter()
            .any(|d| d.material == "phenol" && d.g_per_l == f.limit)
    );
}

/// "30 g of powder in 25 mL": a question from makers; 2.5 g of water per gram
/// of marc leave nothing.
#[test]
fn the_marc_drinks_the_liquor() {
    let soak = |water_ml| {
        let recipe = Recipe::new("soak").with(
            Solution::new("liquor")
                .extract(Extraction::new(
                    &lot("aleppo_galls"),
                    grams(30.0),
                    &lot("distilled_water"),
                    milliliters(water_ml),
                ))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(5.0)),
        );
        check(&recipe.evaluate().unwrap(), None)
    };
    assert_eq!(
        only(&soak(25.0), Code::MarcDrinksLiquor).severity,
        Severity::Error
    );
    assert_eq!(
        only(&soak(110.0), Code::MarcDrinksLiquor).severity,
        Severity::Warning
    );
    assert!(soak(300.0).iter().all(|f| f.code != Code::MarcDrinksLiquor));
}

/// Basic dyes are thrown down by tannin, the classic test for them; acid dyes
/// are not.
#[test]
fn basic_dyes_precipitate() {
    for (dye, clash) in [
        ("methylene_blue", true),
        ("crystal_violet", true),
        ("methyl_violet", true),
        ("soluble_blue", false),
        ("indigo_carmine", false),
        ("nigrosine", false),
    ] {
        let found = litre(
            |ink| ink.add(&lot(dye), grams(2.0)),
            "iron_ii_sulfate_heptahydrate",
            15.0,
        );
        assert_eq!(
            found.iter().any(|f| f.code == Code::DyePrecipitates),
            clash,
            "{dye}"
        );
    }
}

#[test]
fn iron_iii_as_main_iron() {
    let found = litre(|ink| ink, "iron_iii_chloride_hexahydrate", 14.0);
    assert_eq!(only(&found, Code::IronIII).severity, Severity::Error);
    // A trace of it is said, but is no error.
    let trace = litre(
        |ink| ink.add(&lot("iron_iii_sulfate_nonahydrate"), grams(0.3)),
        "iron_ii_sulfate_heptahydrate",
        15.0,
    );
    assert!(trace.iter().all(|f| f.code != Code::IronIII));
    assert_eq!(only(&trace, Code::SaltNotFit).severity, Severity::Notice);
}

#[test]
fn salts_that_are_not_fit() {
    let nitrate = litre(|ink| ink, "iron_ii_nitrate_hexahydrate", 15.5);
    assert_eq!(only(&nitrate, Code::SaltNotFit).severity, Severity::Error);
    let acetate = litre(|ink| ink, "iron_ii_acetate_tetrahydrate", 13.0);
    assert_eq!(only(&acetate, Code::SaltNotFit).severity, Severity::Notice);
}

/// 250 mg/L of alkalinity as CaCO3 is 5.0 mmol/L of acid, 15 % of the 34.3
/// mmol/L in the US federal ink.
#[test]
fn hard_water_eats_the_acid() {
    let water = Lot::of("hard_tap_water")
        .unwrap()
        .alkalinity(grams_per_liter(0.250))
        .unwrap()
        .build()
        .unwrap();
    let recipe = Recipe::new("ink")
        .with(
            Solution::new("ink")
                .add(&lot("tannic_acid"), grams(13.0))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(15.0))
                // 12.5 g of 10 % acid is 1.25 g of hydrogen chloride.
                .add(&lot("hydrochloric_acid"), grams(1.25 / 0.3145)),
        )
        .make_up(&water, liters(1.0));
    let f = only(
        &check(&recipe.evaluate().unwrap(), None),
        Code::WaterEatsAcid,
    );
    assert!((f.value - 0.143).abs() < 0.005, "{f}");
    assert!(f.message.contains("of the 34.3 mmol/L"), "{f}");
}

#[test]
fn tannin_and_iron_in_excess() {
    let much_iron = litre(|ink| ink, "iron_ii_sulfate_heptahydrate", 60.0);
    assert_eq!(
        only(&much_iron, Code::IronInExcess).severity,
        Severity::Warning
    );
    let little = litre(|ink| ink, "iron_ii_sulfate_heptahydrate", 2.0);
    assert_eq!(
        only(&little, Code::TanninInExcess).severity,
        Severity::Notice
    );
    // 0.5 g in a litre: as galls to vitriol beyond the 12 : 1 of the oddest old recipe.
    let slip = litre(|ink| ink, "iron_ii_sulfate_heptahydrate", 0.5);
    assert_eq!(
        only(&slip, Code::RatioOutsideHistory).severity,
        Severity::Warning
    );
    let none = litre(|ink| ink, "iron_ii_sulfate_heptahydrate", 0.0);
    assert_eq!(only(&none, Code::NoInk).severity, Severity::Error);
}

/// 61.5 g of green vitriol dissolve in 100 g of added water at 20 °C.
#[test]
fn more_vitriol_than_dissolves() {
    let jug = |vitriol_g| {
        let recipe = Recipe::new("jug").with(
            Solution::new("jug")
                .add(&lot("tannic_acid"), grams(1.0))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(vitriol_g))
                .add(&lot("distilled_water"), grams(100.0)),
        );
        check(&recipe.evaluate().unwrap(), None)
    };
    assert!(jug(60.5).iter().all(|f| f.code != Code::BeyondSolubility));
    assert_eq!(
        only(&jug(63.0), Code::BeyondSolubility).severity,
        Severity::Error
    );
}

/// A single pot is judged before it is filled up: 80 g in 50 mL never dissolve.
#[test]
fn a_pot_that_cannot_dissolve_is_told_though_the_ink_could() {
    let pot = Solution::new("pot")
        .add(&lot("distilled_water"), milliliters(50.0))
        .add(&lot("iron_ii_sulfate_heptahydrate"), grams(80.0));
    let recipe = Recipe::new("strong pot")
        .with(pot)
        .make_up(&lot("distilled_water"), liters(1.0));
    let f = only(
        &check(&recipe.evaluate().unwrap(), None),
        Code::BeyondSolubility,
    );
    assert!(f.message.starts_with("pot:"), "{f}");
}

/// Oxalate and citrate hold iron back from the tannin.
#[test]
fn acids_that_mask_iron() {
    for (acid, g, severity) in [
        ("oxalic_acid_dihydrate", 6.0, Severity::Error),
        ("citric_acid", 10.0, Severity::Warning),
    ] {
        let found = litre(
            |ink| ink.add(&lot(acid), grams(g)),
            "iron_ii_sulfate_heptahydrate",
            15.0,
        );
        assert_eq!(only(&found, Code::MasksIron).severity, severity, "{acid}");
    }
    // The tartaric acid of the US gallic powder ink is no reproach.
    let powder = reference_ink("us_gallic_powder_1935")
        .unwrap()
        .recipe(liters(1.0), 1.0)
        .unwrap();
    let found = check(&powder.evaluate().unwrap(), None);
    assert!(found.iter().all(|f| f.code != Code::MasksIron));
}

/// Half the phenol in each of two pots is still all of it; a stock counts too.
#[test]
fn a_dose_in_two_pots_is_one_dose() {
    let phenol = lot("phenol");
    let pots = Recipe::new("two pots")
        .with(
            Solution::new("a")
                .add(&phenol, grams(3.5))
                .add(&lot("tannic_acid"), grams(13.0)),
        )
        .with(
            Solution::new("b")
                .add(&phenol, grams(3.5))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(15.0)),
        )
        .make_up(&lot("distilled_water"), liters(1.0));
    let f = only(
        &check(&pots.evaluate().unwrap(), None),
        Code::DoseFarFromReference,
    );
    assert!((f.value - 7.0).abs() < 1e-9, "{f}");

    let stock = Recipe::new("stock")
        .with(Solution::new("stock").add(&phenol, grams(70.0)))
        .make_up(&lot("distilled_water"), liters(1.0));
    let stock = stock.evaluate().unwrap().to_lot("phenol water").unwrap();
    let found = litre(
        |ink| ink.add(&stock, milliliters(100.0)),
        "iron_ii_sulfate_heptahydrate",
        15.0,
    );
    let f = only(&found, Code::DoseFarFromReference);
    assert!((f.value - 7.0).abs() < 1e-9, "{f}");
}

/// Salts of weak acids: what has to stay dissolved is the free acid. Salicylic
/// acid dissolves to about 2.2 g/L (from memory); 4.5 g of the salt are 3.9 g of it.
#[test]
fn preservative_salts_are_judged_as_the_acid_they_set_free() {
    let found = litre(
        |ink| ink.add(&lot("sodium_salicylate"), grams(4.5)),
        "iron_ii_sulfate_heptahydrate",
        15.0,
    );
    let f = only(&found, Code::BeyondSolubility);
    assert!((f.value - 4.5 * 138.122 / 160.104).abs() < 1e-3, "{f}");
}

/// Gum, dye and acid far beyond any published ink.
#[test]
fn doses_beyond_every_ink() {
    let found = litre(
        |ink| {
            ink.add(&lot("gum_arabic"), grams(300.0))
                .add(&lot("soluble_blue"), grams(40.0))
                .add(&lot("sulfuric_acid"), grams(60.0))
        },
        "iron_ii_sulfate_heptahydrate",
        15.0,
    );
    let doses = found
        .iter()
        .filter(|f| f.code == Code::DoseFarFromReference);
    assert_eq!(doses.count(), 3, "{found:#?}");
}

/// Baking soda in distilled water is no fault of the water; without any acid
/// there is none to eat.
#[test]
fn only_water_is_blamed_for_its_alkalinity() {
    let soda = litre(
        |ink| ink.add(&lot("sodium_bicarbonate"), grams(1.0)),
        "iron_ii_sulfate_heptahydrate",
        15.0,
    );
    assert!(soda.iter().all(|f| f.code != Code::WaterEatsAcid));
    let recipe = Recipe::new("no acid")
        .with(
            Solution::new("ink")
                .add(&lot("tannic_acid"), grams(13.0))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(15.0)),
        )
        .make_up(&lot("hard_tap_water"), liters(1.0));
    let found = check(&recipe.evaluate().unwrap(), None);
    assert!(found.iter().all(|f| f.code != Code::WaterEatsAcid));
    assert_eq!(only(&found, Code::NoAcid).severity, Severity::Warning);
}

/// 0.04 g on a balance of 0.1 g is nothing at all.
#[test]
fn what_is_rounded_away_is_an_error() {
    let recipe = Recipe::new("30 mL")
        .with(
            Solution::new("ink")
                .add(&lot("tannic_acid"), grams(2.4))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(2.4))
                .add(&lot("salicylic_acid"), grams(0.04)),
        )
        .make_up(&lot("distilled_water"), milliliters(160.0));
    let options = ferrogall::recipe::SheetOptions {
        kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
        ..Default::default()
    };
    let sheet = ferrogall::recipe::BatchSheet::new(&recipe, &options).unwrap();
    assert_eq!(
        only(&sheet.findings, Code::RoundedToNothing).severity,
        Severity::Error
    );
}

/// Gallic acid: about 12 g/L of the hydrate at room temperature.
#[test]
fn more_gallic_acid_than_dissolves() {
    let found = litre(
        |ink| ink.add(&lot("gallic_acid_monohydrate"), grams(12.0)),
        "iron_ii_sulfate_heptahydrate",
        15.0,
    );
    assert!(
        found
            .iter()
            .any(|f| f.code == Code::BeyondSolubility && f.value > f.limit)
    );
}

/// 0.45 g on a balance of 0.1 g is 4.5 steps.
#[test]
fn a_weighing_of_few_steps() {
    let recipe = Recipe::new("30 mL")
        .with(
            Solution::new("ink")
                .add(&lot("tannic_acid"), grams(2.4))
                .add(&lot("iron_ii_sulfate_heptahydrate"), grams(0.45))
                .add(&lot("eugenol"), grams(0.01)),
        )
        .make_up(&lot("distilled_water"), milliliters(30.0));
    let kit = Kit::new(grams(0.1), milliliters(1.0)).with(
        "eugenol (clove oil)",
        Measure::Dropper {
            volume: milliliters(0.05),
        },
    );
    let made = recipe.evaluate().unwrap();
    let found = check(&made, Some(&kit));
    let few: Vec<_> = found
        .iter()
        .filter(|f| f.code == Code::WeighingTooSmall)
        .collect();
    assert!(few.iter().any(|f| (f.value - 4.5).abs() < 1e-9), "{few:#?}");
    assert!(
        check(&made, None)
            .iter()
            .all(|f| f.code != Code::WeighingTooSmall)
    );
}

/// Worst first, and the same every time.
#[test]
fn findings_come_worst_first() {
    let found = litre(
        |ink| {
            ink.add(&lot("methylene_blue"), grams(1.0))
                .add(&lot("phenol"), grams(12.5))
        },
        "iron_ii_acetate_tetrahydrate",
        13.0,
    );
    assert!(found.windows(2).all(|w| w[0].severity >= w[1].severity));
    assert!(
        found
            .iter()
            .all(|f| f.value.is_finite() && f.limit.is_finite())
    );
}

/// The usual cautions for acid, phenol, galls dust and iron.
#[test]
fn cautions_for_what_is_there() {
    let weathered = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .hydrates(HydrateMix::new(0.5, 0.5, 0.0, 0.0).unwrap())
        .unwrap()
        .build()
        .unwrap();
    let recipe = Recipe::new("ink").with(
        Solution::new("ink")
            .extract(Extraction::new(
                &lot("aleppo_galls"),
                grams(30.0),
                &lot("distilled_water"),
                milliliters(300.0),
            ))
            .add(&weathered, grams(5.0))
            .add(&lot("sulfuric_acid"), grams(1.0))
            .add(&lot("phenol"), grams(0.3)),
    );
    let said = cautions(&recipe.evaluate().unwrap()).join("\n");
    for word in [
        "children",
        "Dust of galls",
        "acid into water",
        "skin",
        "Local rules",
    ] {
        assert!(said.contains(word), "{word:?} is missing in {said}");
    }
}

/// Gum is insoluble in alcohol (JECFA); above about 30 % by volume it may fall
/// out (from memory). Brandy by the spoon does nothing.
#[test]
fn alcohol_throws_gum_down() {
    let with = |gum_g: f64, alcohol_ml: f64| {
        litre(
            |ink| {
                ink.add(&lot("gum_arabic"), grams(gum_g))
                    .add(&lot("ethanol"), milliliters(alcohol_ml))
            },
            "iron_ii_sulfate_heptahydrate",
            15.0,
        )
    };
    let f = only(&with(20.0, 350.0), Code::BeyondSolubility);
    assert!(f.message.contains("gum") && f.value > 250.0, "{f}");
    for found in [with(0.0, 350.0), with(20.0, 250.0)] {
        assert!(found.iter().all(|f| f.code != Code::BeyondSolubility));
    }
}

/// A bottle called "iron" beside other findings that begin with that word: past
/// saturation it is told all the same. 2.24 mol of iron in 6.7 mol of acid (125 g of
/// steel wool in 640 mL of 33 % acid) crystallised by half.
#[test]
fn a_bottle_is_told_whatever_it_is_called() {
    let acid = Lot::of("hydrochloric_acid").unwrap();
    let acid = acid.purity(0.33, 0.0).unwrap().build().unwrap();
    let mass = acid.mass_of(milliliters(640.0)).unwrap();
    let wool = IronInAcid::new(grams(125.0), &acid, mass).react().unwrap();
    for name in ["iron water", "iron"] {
        let iron = wool.lot.clone().renamed(name);
        let recipe = Recipe::new("wool").with(
            Solution::new("ink")
                .add(&iron, milliliters(30.0))
                .add(&lot("tannic_acid"), grams(5.0))
                .add(&lot("distilled_water"), milliliters(600.0)),
        );
        let found = check(&recipe.evaluate().unwrap(), None);
        assert!(found.iter().any(|f| f.code == Code::IronInExcess));
        let f = only(&found, Code::BeyondSolubility);
        assert!(f.message.starts_with(&format!("{name}: at 90 %")), "{f}");
    }
}

/// Powders with a little clove oil or spirit, filled up with water: the oil dissolves
/// no vitriol, and the water comes later.
#[test]
fn a_drop_of_oil_makes_no_pot() {
    for (liquid, ml) in [("eugenol", 0.3), ("ethanol", 20.0), ("phenoxyethanol", 5.0)] {
        let found = litre(
            |ink| ink.add(&lot(liquid), milliliters(ml)),
            "iron_ii_sulfate_heptahydrate",
            15.0,
        );
        assert!(
            found.iter().all(|f| f.severity < Severity::Warning),
            "{liquid}: {found:#?}"
        );
    }
    // Vinegar is water enough.
    let vinegar = Lot::of("acetic_acid").unwrap();
    let vinegar = vinegar.purity(0.05, 0.0).unwrap().build().unwrap();
    let recipe = Recipe::new("galls in vinegar").with(
        Solution::new("ink")
            .extract(Extraction::new(
                &lot("aleppo_galls"),
                grams(60.0),
                &vinegar,
                milliliters(600.0),
            ))
            .add(&lot("phenol"), grams(30.0))
            .add(&lot("iron_ii_sulfate_heptahydrate"), grams(30.0)),
    );
    let found = check(&recipe.evaluate().unwrap(), None);
    assert_eq!(
        only(&found, Code::DoseFarFromReference).severity,
        Severity::Error
    );
}
