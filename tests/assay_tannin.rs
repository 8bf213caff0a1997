//! Tannin: factors of methods, spot tests, liquors, and what the catalogue
//! believes afterwards.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::assay::*;
use ferrogall::bench::{Lot, tannin_sources};
use ferrogall::equilibrium::InkReport;
use ferrogall::quantity::*;
use ferrogall::source::Range;
use ferrogall::uncertainty::Belief;

/// Figures printed beside each factor, one source each.
#[test]
fn factors_of_the_tannin_methods() {
    let tannin = |factor: TanninFactor, figure: f64| {
        let found = factor.tannin(&Reading::exact(figure).unwrap()).unwrap();
        // The factor is uncertain however well the figure is known.
        assert!(found.u() > 0.0, "{}", factor.id);
        let back = factor.expected(found.value()).unwrap();
        assert_relative_eq!(back, figure, max_relative = 1e-12);
        found.value()
    };
    // Löwenthal, mg for a millilitre of 0.1 N: 4.157 by Neubauer, 3.42 by
    // Councler & Schroder 1882 (Dingler 246); they disagree by 18 %.
    let equivalents = 1e-4;
    let a = 1e6 * tannin(TanninFactor::LOEWENTHAL_NEUBAUER, equivalents);
    let b = 1e6 * tannin(TanninFactor::LOEWENTHAL_COUNCLER, equivalents);
    assert!((a - 4.157).abs() < 0.0005 && (b - 3.42).abs() < 0.005);
    assert!((1.0 - b / a - 0.18).abs() < 0.005);
    // The same by the titration itself: a millilitre of 0.02 mol/L is 0.1 N.
    let titrated = |factor: &TanninFactor| {
        let c = Reading::exact(moles_per_liter(0.02)).unwrap();
        let v = |x: f64| Reading::exact(milliliters(x)).unwrap();
        let found = loewenthal(factor, &c, &v(1.0), &v(0.0)).unwrap();
        1e6 * found.value().in_kilograms()
    };
    assert_relative_eq!(
        titrated(&TanninFactor::LOEWENTHAL_NEUBAUER),
        a,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        titrated(&TanninFactor::LOEWENTHAL_COUNCLER),
        b,
        max_relative = 1e-12
    );
    let c = Reading::exact(moles_per_liter(0.02)).unwrap();
    let v = Reading::exact(milliliters(1.0)).unwrap();
    assert!(loewenthal(&TanninFactor::GELATIN, &c, &v, &v).is_err());
    // Each holds the other within its span.
    assert!(TanninFactor::LOEWENTHAL_NEUBAUER.range.contains(0.0342));
    assert!(TanninFactor::LOEWENTHAL_COUNCLER.range.contains(0.04157));
    // Fehling 1853 (Dingler 130): 32.5 to 33 mL of 10 g/L glue for 0.2 g of
    // tannin, about 1.63 g of glue a gram; good to about 1.5 %.
    assert!((tannin(TanninFactor::GELATIN, 0.3275e-3) - 0.2e-3).abs() < 1e-9);
    let glue_per_tannin = 1.0 / TanninFactor::GELATIN.range.typical;
    assert!((glue_per_tannin - 1.63).abs() < 0.01);
    // Copper acetate (Eder 1878, Dingler 229): 1.306 g a gram of CuO; Wolff 1.304.
    assert!((tannin(TanninFactor::COPPER_EDER, 1.0) - 1.306).abs() < 1e-12);
    assert!((tannin(TanninFactor::COPPER_WOLFF, 1.0) - 1.304).abs() < 1e-12);
    // Khatib et al. 2023: Folin over HPLC, 3.25.
    assert_relative_eq!(
        tannin(TanninFactor::FOLIN_ELLAGITANNIN, 0.65),
        0.2,
        max_relative = 1e-9
    );
    for factor in TanninFactor::ALL {
        assert!(factor.range.contains(factor.range.typical), "{}", factor.id);
        let listed = ferrogall::source::constants().any(|c| c.id == factor.id);
        assert!(listed, "{}", factor.id);
    }
}

fn iron(c: f64) -> Reading<MolarConcentration> {
    Reading::standard(moles_per_liter(c), moles_per_liter(0.01 * c)).unwrap()
}

fn ml(v: f64) -> Reading<Volume> {
    Reading::standard(milliliters(v), milliliters(0.02 * v)).unwrap()
}

/// Viedt 1875: 17.8 g of iron in the pigment with 100 g of tannin is 5.42 to a
/// tannic acid of 1701 g/mol with ten galloyl.
#[test]
fn a_spot_test_with_the_pigment_of_viedt() {
    let per_galloyl: f64 = 17.8 / 55.845 / (100.0 / 1701.206) / 10.0;
    assert!((per_galloyl - 0.542).abs() < 0.0005);
    // A solution of 10 g/L of that tannin, 1 mL; iron 0.1 mol/L. It is used up
    // by 1.78 g Fe per litre: 0.319 mL.
    let galloyl = moles_per_liter(10.0 / 1701.206 * 10.0);
    let just = SpotTest::expected(galloyl, milliliters(1.0), moles_per_liter(0.1)).unwrap();
    assert!((just.in_milliliters() - 0.319).abs() < 0.002);
    let test =
        SpotTest::iron_into_extract(ml(1.0), iron(0.1), milliliters(0.30), milliliters(0.35));
    let span = test.unwrap().galloyl().unwrap();
    assert!(span.low < galloyl && galloyl < span.high);
    // Ends in closed form with the typical 0.54.
    assert_relative_eq!(
        span.low.in_moles_per_liter(),
        0.1 * 0.30 / 0.54,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        span.high.in_moles_per_liter(),
        0.1 * 0.35 / 0.54,
        max_relative = 1e-12
    );
    let scale = ((1.0_f64 / 0.2).ln() / 4.0).powi(2) + 0.01_f64.powi(2) + 0.02_f64.powi(2);
    assert_relative_eq!(span.scale_u_ln, scale.sqrt(), max_relative = 1e-9);
}

/// The other way round: extract into iron. The same truth from both sides.
#[test]
fn both_directions_of_a_spot_test_agree() {
    let one = Range::exact(1.0);
    // 0.06 mol/L galloyl. 1 mL takes 0.6 mL of 0.1 mol/L iron, 1:1; 0.3 mL of
    // the iron take 0.5 mL of it.
    let there =
        SpotTest::iron_into_extract(ml(1.0), iron(0.1), milliliters(0.55), milliliters(0.65))
            .unwrap();
    let back =
        SpotTest::extract_into_iron(ml(0.3), iron(0.1), milliliters(0.45), milliliters(0.55))
            .unwrap();
    let truth = moles_per_liter(0.06);
    for test in [there, back] {
        let span = test.iron_per_galloyl(one).unwrap().galloyl().unwrap();
        assert!(span.low < truth && truth < span.high);
        assert!(span.u_ln() < 0.2, "{}", span.u_ln());
    }
    // Where nothing darkened there is only an upper limit.
    let pale = SpotTest::iron_into_extract(ml(1.0), iron(0.1), milliliters(0.0), milliliters(0.05));
    let span = pale.unwrap().galloyl().unwrap();
    assert!(span.median().is_none() && span.u_ln().is_infinite());
    assert!(span.evidence().is_ok());
    // Wrong order, nothing added.
    for (last, first) in [(0.4, 0.3), (-0.1, 0.3), (0.1, f64::NAN)] {
        let wrong =
            SpotTest::iron_into_extract(ml(1.0), iron(0.1), milliliters(last), milliliters(first));
        assert!(wrong.is_err());
    }
    assert!(
        SpotTest::extract_into_iron(ml(1.0), iron(0.1), milliliters(0.0), milliliters(0.1))
            .is_err()
    );
}

/// From a spot test to galls of the catalogue and into a lot: the belief
/// narrows toward what was found; a good deal more where the maker knows from
/// an extract of known content how much iron a galloyl takes.
#[test]
fn a_spot_test_narrows_the_galls_of_the_catalogue() {
    let row = tannin_sources()
        .iter()
        .find(|r| r.id == "aleppo_galls")
        .unwrap();
    let percent = row.tannin_percent;
    let prior = Belief::of_range(percent).unwrap().times(0.01).unwrap();
    // 200 mL of liquor from 20 g of galls, 12 % moisture, yield 0.8; truth
    // 40 % tannin of 5.5 mol/kg galloyl: 0.1549 mol/L.
    let galloyl = moles_per_liter(0.40 * 5.5 * 0.020 * 0.88 * 0.8 / 0.2);
    let just = SpotTest::expected(galloyl, milliliters(0.5), moles_per_liter(0.1));
    let just = just.unwrap().in_milliliters();
    let (last, first) = (milliliters(just - 0.025), milliliters(just + 0.025));
    let test = SpotTest::iron_into_extract(ml(0.5), iron(0.1), last, first).unwrap();
    let after = |test: &SpotTest| {
        let plant = test.galloyl().unwrap().plant(
            &ml(200.0),
            &Reading::weighed(grams(20.0), grams(0.1)).unwrap(),
            &Reading::standard(0.12, 0.01).unwrap(),
            &Reading::standard(0.8, 0.08).unwrap(),
        );
        let per = Reading::standard(moles_per_kilogram(5.5), moles_per_kilogram(0.3)).unwrap();
        let tannin = plant.unwrap().tannin(&per).unwrap();
        assert_relative_eq!(tannin.median().unwrap(), 0.40, max_relative = 0.01);
        prior.updated(&tannin.evidence().unwrap())
    };
    let published = after(&test);
    let own = test.iron_per_galloyl(Range::new(0.49, 0.54, 0.59)).unwrap();
    let own = after(&own);
    assert!(published.u_ln() < prior.u_ln());
    assert!(
        own.u_ln() < 0.85 * prior.u_ln(),
        "{} {}",
        own.u_ln(),
        prior.u_ln()
    );
    assert!(own.median() < published.median() && published.median() < prior.median());
    assert!(own.median() > 0.40);
    let galloyl_u = |belief: &Belief| {
        let lot = Lot::of("aleppo_galls").unwrap();
        let lot = set_belief(lot, LotSetting::Tannin, belief).unwrap();
        lot.build().unwrap().strength_u().galloyl
    };
    assert!(galloyl_u(&own) < galloyl_u(&published));
    assert!(galloyl_u(&published) < galloyl_u(&prior));
}

/// A density is a bound: high it says nothing new, low it pulls down.
#[test]
fn a_bound_speaks_against_one_side() {
    let prior = Belief::log_normal(0.05, 0.3).unwrap();
    let at = |sg: f64| {
        let t = Reading::exact(celsius(15.0)).unwrap();
        let sg = Reading::standard(sg, 0.0003).unwrap();
        LiquorDensity::new(sg, t, celsius(15.0))
            .tannin()
            .unwrap()
            .evidence()
            .unwrap()
    };
    // 1.10 is some 22 % of solids, far above the belief.
    let high = prior.updated(&at(1.10));
    assert_relative_eq!(high.median(), 0.05, max_relative = 1e-4);
    // 1.0080 is 2 %: there cannot be five.
    let low = prior.updated(&at(1.0080));
    assert!(low.median() < 0.025);
    // As an estimate the same reading pins it from both sides.
    let t = Reading::exact(celsius(15.0)).unwrap();
    let sg = Reading::standard(1.0201, 0.0003).unwrap();
    let pure = LiquorDensity::new(sg, t, celsius(15.0))
        .tannin_only()
        .tannin()
        .unwrap();
    let pinned = prior.updated(&pure.evidence().unwrap());
    assert_relative_eq!(pinned.median(), 0.05, max_relative = 0.02);
    assert!(pinned.u_ln() < 0.02);
}

/// From a liquor to its plant and back, and with logarithms: content = w l /
/// (p (1 − m) y), parts joined as relative ones.
#[test]
fn plant_from_liquor_in_closed_form() {
    let made = PlantTannin::new(
        &Reading::standard(0.048, 0.002).unwrap(),
        &Reading::standard(grams(180.0), grams(0.5)).unwrap(),
        &Reading::standard(grams(20.0), grams(0.1)).unwrap(),
        &Reading::standard(0.12, 0.01).unwrap(),
        &Reading::standard(0.80, 0.08).unwrap(),
    )
    .unwrap();
    let closed = 0.048 * 180.0 / 20.0 / 0.88 / 0.80;
    assert_relative_eq!(made.median(), closed, max_relative = 1e-12);
    let parts: [f64; 5] = [0.002 / 0.048, 0.5 / 180.0, 0.1 / 20.0, 0.01 / 0.88, 0.1];
    let u = parts.iter().map(|p| p * p).sum::<f64>().sqrt();
    // ln is bent a little: differences of sixth order leave 1e-6.
    assert_relative_eq!(made.u_ln(), u, max_relative = 1e-5);
    let back =
        PlantTannin::expected_in_liquor(made.median(), grams(180.0), grams(20.0), 0.12, 0.80);
    assert_relative_eq!(back.unwrap(), 0.048, max_relative = 1e-12);
    // More tannin than plant: said, not hidden.
    let absurd = PlantTannin::new(
        &Reading::exact(0.2).unwrap(),
        &Reading::exact(grams(180.0)).unwrap(),
        &Reading::exact(grams(20.0)).unwrap(),
        &Reading::exact(0.1).unwrap(),
        &Reading::exact(0.5).unwrap(),
    )
    .unwrap();
    assert!(absurd.ln().notes().iter().any(|n| n.code == "above_whole"));
    assert!(absurd.set(Lot::of("aleppo_galls").unwrap()).is_err());
    // A residue stays a bound on the way to the plant.
    let at = |m: f64| Reading::balance(grams(m), grams(0.01)).unwrap();
    let residue = dry_residue(&at(80.0), &at(130.0), &at(82.5)).unwrap();
    let most = PlantTannin::of(
        &residue,
        &Reading::exact(grams(180.0)).unwrap(),
        &Reading::exact(grams(20.0)).unwrap(),
        &Reading::exact(0.1).unwrap(),
        &Reading::exact(0.8).unwrap(),
    )
    .unwrap();
    assert_eq!(most.ln().bound(), Bound::AtMost);
}

fn acid_free_ink() -> ferrogall::composition::Composition {
    let part = |id: &str, m: f64| {
        Lot::of(id)
            .unwrap()
            .build()
            .unwrap()
            .composition(grams(m))
            .unwrap()
    };
    part("iron_ii_sulfate_heptahydrate", 15.0)
        .mixed_with(&part("tannic_acid", 12.0))
        .mixed_with(&part("distilled_water", 970.0))
}

/// Acid that was put in and kept quiet is found again by the strip.
#[test]
fn a_strip_finds_hidden_acid() {
    let acid = Lot::of("hydrochloric_acid").unwrap().build().unwrap();
    let ink = acid_free_ink();
    let dosed = ink.mixed_with(&acid.composition(grams(4.0)).unwrap());
    let truth = dosed.strong_acid().value / dosed.volume().value;
    let had = ink.strong_acid().value / ink.volume().value;
    let report = InkReport::of(&dosed, celsius(20.0)).unwrap();
    let strip = PhReading::strip(report.ph).unwrap();
    assert!(strip.against(&report).agrees);
    let bare = InkReport::of(&ink, celsius(20.0)).unwrap();
    assert!(!strip.against(&bare).agrees, "{} {}", report.ph, bare.ph);
    let found = strip.unexplained_acid(&ink, celsius(20.0)).unwrap();
    assert!(found.least < found.middle && found.middle < found.most);
    // The acid brings 0.4 % of water and volume of its own.
    assert_relative_eq!(found.middle.value, truth - had, max_relative = 0.01);
    // Nothing hidden, nothing found; and less than nothing where acid is missing.
    let none = PhReading::new(Reading::exact(bare.ph).unwrap()).unwrap();
    let none = none.unexplained_acid(&ink, celsius(20.0)).unwrap();
    assert!(none.middle.value.abs() < 1e-6);
    let missing = PhReading::strip(bare.ph + 0.8).unwrap();
    let missing = missing.unexplained_acid(&ink, celsius(20.0)).unwrap();
    assert!(missing.middle.value < 0.0);
    assert!(PhReading::strip(16.0).is_err());
}
