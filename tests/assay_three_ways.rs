//! "There is no way of measuring the iron in home-made iron water": three ways
//! of a kitchen, on one stock, agree within what they say of themselves.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::assay::*;
use ferrogall::bench::{IronInAcid, LimitingReagent, Lot};
use ferrogall::chem::SpecificGravity;
use ferrogall::quantity::*;

/// Steel wool in excess in muriatic acid. The stock is the crate's own sum of
/// the reaction; its density comes from apparent volumes, the assay's from the
/// published density tables.
#[test]
fn nail_hydrometer_and_drops() {
    let acid = Lot::of("hydrochloric_acid")
        .unwrap()
        .purity(0.10, 0.0)
        .unwrap()
        .build()
        .unwrap();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    let made = IronInAcid::new(grams(20.0), &acid, grams(100.0))
        .water(&water, grams(100.0))
        .react()
        .unwrap();
    assert_eq!(made.limiting, LimitingReagent::Acid);
    let truth = made.iron_ii_concentration.in_moles_per_liter();
    let volume = made.iron_ii.in_moles() / truth;

    // The wool, weighed before and after on a balance of 0.01 g. The crate
    // leaves iron and dross behind in proportion to nothing: what is lost is
    // iron alone.
    let lost = 20.0 - made.metal_left.in_grams();
    let pure = Estimate::new(1.0, 0.01).unwrap();
    let nail = iron_dissolved(
        &Reading::weighed(grams(20.0), grams(0.01)).unwrap(),
        &Reading::weighed(grams(20.0 - lost), grams(0.01)).unwrap(),
        Some(pure),
    )
    .unwrap();
    let by_nail = nail.value().in_moles() / volume;
    assert!((by_nail - truth).abs() < 2.0 * nail.u().in_moles() / volume);

    // A hydrometer of 0.001, at 20 °C against water of 15 °C.
    let density = made.lot.density().unwrap();
    let sg = SpecificGravity::from_density(density, celsius(20.0), celsius(15.0)).unwrap();
    let read = SpecificGravity::new(
        (sg.ratio() * 1e3).round() / 1e3,
        celsius(20.0),
        celsius(15.0),
    );
    let by_density = StockDensity::of(IronStock::Chloride, read.unwrap(), 0.0005, 1.0).unwrap();
    let by_density = by_density.clean().iron().unwrap();
    let off = (by_density.value().in_moles_per_liter() - truth).abs();
    assert!(off < 2.0 * by_density.u().in_moles_per_liter(), "{off}");

    // 1 mL in 50, 5 mL of it by drops of dichromate, 1/60 mol/L; the dropper
    // was weighed.
    let dropper = Dropper::weighed(
        100,
        &Reading::weighed(grams(4.31), grams(0.01)).unwrap(),
        grams_per_cubic_centimeter(0.998),
    )
    .unwrap();
    let titrant = moles_per_liter(1.0 / 60.0);
    let needed = RedoxTitration::expected(
        Titrant::Dichromate,
        titrant,
        moles(truth * 1e-3),
        Share::new(0.1).unwrap(),
    )
    .unwrap();
    let drops = (needed.value / dropper.drop().value().value).ceil() as u32;
    let tolerance = |v: f64, a: f64| Reading::triangular(milliliters(v), milliliters(a)).unwrap();
    let by_drops = RedoxTitration::new(
        Titrant::Dichromate,
        Sample::ChlorideStock,
        Reading::standard(titrant, titrant * 0.005).unwrap(),
        Delivered::drops(drops, &dropper).unwrap(),
    )
    .aliquot(Aliquot::new(tolerance(5.0, 0.02), tolerance(50.0, 0.1)))
    .concentration(&tolerance(1.0, 0.01))
    .unwrap();
    let off = (by_drops.value().in_moles_per_liter() - truth).abs();
    assert!(off < 2.0 * by_drops.u().in_moles_per_liter(), "{off}");
    assert!(by_drops.relative_u() < 0.1, "10 % is what makers ask for");
}
