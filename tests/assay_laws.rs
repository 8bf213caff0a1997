//! What holds of every assay.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::assay::*;
use ferrogall::bench::HydrateMix;
use ferrogall::quantity::*;
use ferrogall::uncertainty::Belief;
use proptest::prelude::*;

const TITRANTS: [Titrant; 3] = [
    Titrant::Permanganate,
    Titrant::Dichromate,
    Titrant::CeriumIV,
];

fn titration(titrant: Titrant, sample: Sample, c: f64, v: f64, u: f64) -> RedoxTitration {
    RedoxTitration::new(
        titrant,
        sample,
        Reading::standard(moles_per_liter(c), moles_per_liter(u * c))
            .unwrap()
            .source("titrant"),
        Reading::standard(milliliters(v), milliliters(u * v)).unwrap(),
    )
}

/// Permanganate, dichromate and cerium say nothing of a sample with tannin;
/// of every other they answer. Chloride is flagged with permanganate alone.
#[test]
fn samples_with_tannin_are_refused_and_no_others() {
    for titrant in TITRANTS {
        for sample in Sample::ALL {
            let made = titration(titrant, sample, 0.02, 20.0, 0.001).iron();
            match made {
                Err(AssayError::Refused {
                    sample: of, why, ..
                }) => {
                    assert_eq!(of, sample);
                    assert!(sample.holds_tannin() && why.contains("tannin"));
                }
                Ok(iron) => {
                    assert!(!sample.holds_tannin());
                    let chloride = iron.notes().iter().any(|n| n.code == "chloride");
                    let expected = titrant == Titrant::Permanganate && sample.holds_chloride();
                    assert_eq!(chloride, expected);
                    assert_eq!(
                        iron.bound() == Bound::AtMost,
                        expected || sample.holds_organics()
                    );
                }
                Err(other) => panic!("{other}"),
            }
        }
    }
    // The message names method, sample and reason.
    let e = titration(Titrant::Dichromate, Sample::FinishedInk, 0.02, 20.0, 0.0)
        .iron()
        .unwrap_err();
    let text = e.to_string();
    assert!(text.contains("dichromate") && text.contains("finished ink") && text.contains("ash"));
    // Chromium(VI) and acid come with their cautions.
    let method = MethodId::DichromateTitration.method();
    assert!(method.cautions.iter().any(|c| c.contains("toxic")));
    assert!(
        METHODS
            .iter()
            .all(|m| !m.source.citation.is_empty() && !m.finds.is_empty())
    );
}

#[test]
fn numbers_that_are_none_are_refused() {
    for bad in [f64::NAN, f64::INFINITY, -1.0] {
        assert!(titration_of(0.02, bad).is_err(), "{bad}");
        assert!(titration_of(bad, 20.0).is_err(), "{bad}");
        assert!(
            RedoxTitration::expected(
                Titrant::Permanganate,
                moles_per_liter(bad),
                moles(0.001),
                Share::ONE
            )
            .is_err()
        );
        assert!(Phenanthroline::expected(moles_per_liter(bad), millimeters(10.0)).is_err());
        assert!(expected_metal_loss(moles(bad)).is_err());
        assert!(TanninFactor::GELATIN.expected(bad).is_err());
        assert!(
            StockDensity::expected(IronStock::Sulfate, moles_per_liter(bad), celsius(20.0))
                .is_err()
        );
    }
    assert!(CalibrationLine::fit(&[1.0, 2.0], &[1.0, 2.0]).is_err());
    assert!(CalibrationLine::fit(&[1.0, 2.0, 3.0], &[1.0, 2.0]).is_err());
    assert!(CalibrationLine::fit(&[2.0, 2.0, 2.0], &[1.0, 2.0, 3.0]).is_err());
    assert!(CalibrationLine::fit(&[1.0, 2.0, f64::NAN], &[1.0, 2.0, 3.0]).is_err());
    assert!(Delivered::drops(0, &Dropper::usual().unwrap()).is_err());
    // The blank took more than the sample.
    let blank = Reading::exact(milliliters(21.0)).unwrap();
    assert!(
        titration(Titrant::CeriumIV, Sample::Salt, 0.1, 20.0, 0.0)
            .blank(blank)
            .iron()
            .is_err()
    );
}

fn titration_of(c: f64, v: f64) -> Result<Assayed<AmountOfSubstance>, AssayError> {
    let c = Reading::standard(moles_per_liter(c), moles_per_liter(0.0))?;
    let v = Reading::standard(milliliters(v), milliliters(0.0))?;
    RedoxTitration::new(Titrant::Permanganate, Sample::Salt, c, v).iron()
}

/// Iron(II) above the total: within scatter it is none oxidised, beyond it the
/// assays contradict each other.
#[test]
fn iron_two_above_the_total() {
    let at = |v: f64| {
        titration(Titrant::CeriumIV, Sample::Stock, 0.1, v, 0.002)
            .iron()
            .unwrap()
    };
    let share = oxidised_share(&at(20.02), &at(20.0)).unwrap();
    assert_eq!(share.value(), 0.0);
    assert!(share.u() > 0.0 && share.notes().iter().any(|n| n.code == "below_zero"));
    let torn = oxidised_share(&at(21.0), &at(20.0)).unwrap_err();
    assert!(matches!(torn, AssayError::Contradiction { .. }));
}

fn config() -> ProptestConfig {
    ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::with_cases(96)
    }
}

proptest! {
    #![proptest_config(config())]

    /// More titrant is more iron; twice the titrant twice the iron; u is never
    /// negative and grows with that of an input.
    #[test]
    fn titrant_and_iron_go_together(c in 0.001..1.0_f64, v in 0.1..60.0_f64, more in 1.001..3.0_f64,
                                    u in 0.0..0.05_f64, k in 0..3_usize) {
        let iron = |v: f64, u: f64| titration(TITRANTS[k], Sample::Stock, c, v, u).iron().unwrap();
        let (a, b) = (iron(v, u), iron(v * more, u));
        prop_assert!(b.value() > a.value());
        assert_relative_eq!(b.value().value, more * a.value().value, max_relative = 1e-12);
        prop_assert!(a.u().value >= 0.0);
        prop_assert!(iron(v, u + 0.01).u() > a.u());
        let per = TITRANTS[k].iron_per_titrant().value;
        assert_relative_eq!(a.value().in_moles(), per * c * v * 1e-3, max_relative = 1e-12);
    }

    /// What two assays share cancels: the same titrant leaves the volumes only.
    #[test]
    fn a_shared_titrant_cancels_in_the_share(v in 5.0..20.0_f64, total in 20.5..40.0_f64, u in 0.0005..0.02_f64) {
        let at = |v: f64| titration(Titrant::Permanganate, Sample::Stock, 0.02, v, u).iron().unwrap();
        let share = oxidised_share(&at(v), &at(total)).unwrap();
        let closed = v / total * (2.0 * u * u).sqrt();
        assert_relative_eq!(share.u(), closed, max_relative = 1e-5);
        // Two bottles of titrant: it does not cancel.
        let other = RedoxTitration::new(
            Titrant::Permanganate, Sample::Stock,
            Reading::standard(moles_per_liter(0.02), moles_per_liter(0.02 * u)).unwrap().source("another"),
            Reading::standard(milliliters(total), milliliters(u * total)).unwrap(),
        ).iron().unwrap();
        let apart = oxidised_share(&at(v), &other).unwrap();
        assert_relative_eq!(apart.u(), v / total * 2.0 * u, max_relative = 1e-5);
    }

    /// A line does not care for the order of its standards, and what it reads
    /// predicts the reading.
    #[test]
    fn a_line_and_its_order(a in -1.0..1.0_f64, b in 0.2..5.0_f64,
                            e in proptest::array::uniform6(-0.01..0.01_f64), y in 0.0..2.0_f64) {
        let x = [0.0, 0.7, 1.1, 2.0, 3.3, 4.0];
        let ys: Vec<f64> = x.iter().zip(e).map(|(x, e)| a + b * x + e).collect();
        let line = CalibrationLine::fit(&x, &ys).unwrap();
        let turned: Vec<f64> = x.iter().rev().copied().collect();
        let ys_turned: Vec<f64> = ys.iter().rev().copied().collect();
        let again = CalibrationLine::fit(&turned, &ys_turned).unwrap();
        // Sums in another order.
        assert_relative_eq!(line.slope(), again.slope(), max_relative = 1e-12);
        let read = line.read(a + b * y, 2).unwrap();
        prop_assert!(read.u() > 0.0);
        let back = line.predict(read.value()).unwrap().value();
        prop_assert!((back - (a + b * y)).abs() < 1e-10);
        prop_assert!(line.read(a + b * y, 20).unwrap().u() <= read.u());
    }

    /// A mix of two neighbouring hydrates weighs what its drying gives back.
    #[test]
    fn hydrates_round_trip(share in 0.0..1.0_f64, upper in proptest::bool::ANY) {
        let mix = if upper { HydrateMix::new(share, 1.0 - share, 0.0, 0.0) }
                  else { HydrateMix::new(0.0, share, 1.0 - share, 0.0) }.unwrap();
        let kept = VitriolDrying::expected(&mix, DriedTo::Monohydrate);
        let at = |m: f64| Reading::exact(grams(m)).unwrap();
        let dried = VitriolDrying::new(at(10.0), at(15.0), at(10.0 + 5.0 * kept), DriedTo::Monohydrate);
        let found = dried.weathered().unwrap().mix;
        prop_assert!((found.heptahydrate() - mix.heptahydrate()).abs() < 1e-9);
        prop_assert!((found.monohydrate() - mix.monohydrate()).abs() < 1e-9);
    }

    /// Density there and back, for liquors and stocks.
    #[test]
    fn densities_round_trip(w in 0.001..0.2_f64, t in 12.0..28.0_f64, c in 0.05..1.2_f64, salt in 0..2_usize) {
        let (at, reference) = (celsius(t), celsius(15.0));
        let sg = LiquorDensity::expected(MassFraction::new(w).unwrap(), at, reference).unwrap();
        let found = LiquorDensity::of(sg, 0.0003, 0.2).unwrap().tannin().unwrap();
        prop_assert!((found.value() - w).abs() < 1e-9);
        prop_assert!(found.u() > 0.0);
        let (stock, t) = if salt == 0 { (IronStock::Sulfate, 20.0) } else { (IronStock::Chloride, 20.0) };
        let density = StockDensity::expected(stock, moles_per_liter(c), celsius(t)).unwrap();
        let read = StockDensity::new(stock, Reading::exact(density).unwrap(), Reading::exact(celsius(t)).unwrap());
        assert_relative_eq!(read.iron().unwrap().value().in_moles_per_liter(), c, max_relative = 1e-8);
    }

    /// No evidence of an assay widens a belief.
    #[test]
    fn evidence_never_widens(prior in 0.02..0.8_f64, u_ln in 0.01..1.0_f64, found in 0.02..0.8_f64, u in 0.001..0.3_f64) {
        let prior = Belief::log_normal(prior, u_ln).unwrap();
        let factor = TanninFactor::HIDE_POWDER.tannin(&Reading::standard(found, u * found).unwrap()).unwrap();
        prop_assert!(prior.updated(&factor.evidence().unwrap()).u_ln() <= prior.u_ln());
    }

    /// The spot test's ends keep their order and follow the iron.
    #[test]
    fn spot_tests_scale(last in 0.01..1.0_f64, step in 0.01..0.5_f64, c in 0.01..1.0_f64) {
        let at = |c: f64| SpotTest::iron_into_extract(
            Reading::exact(milliliters(1.0)).unwrap(),
            Reading::exact(moles_per_liter(c)).unwrap(),
            milliliters(last), milliliters(last + step),
        ).unwrap().galloyl().unwrap();
        let (one, two) = (at(c), at(2.0 * c));
        prop_assert!(one.low < one.high);
        assert_relative_eq!(two.low.value, 2.0 * one.low.value, max_relative = 1e-12);
        let middle = one.median().unwrap();
        prop_assert!(one.low < middle && middle < one.high);
    }

    /// Any numbers at all: an answer that is a number, or an error.
    #[test]
    fn any_numbers_at_all(a in wild(), b in wild(), c in wild(), d in wild(), k in 0..9_usize) {
        let volume = |x: f64| Volume::from_si(x);
        let mass = |x: f64| Mass::from_si(x);
        let finite = |x: f64, u: f64| prop_assert_finite(x, u);
        let titration = || -> Result<Assayed<f64>, AssayError> {
            let molarity = Reading::standard(MolarConcentration::from_si(a), MolarConcentration::from_si(b))?;
            RedoxTitration::new(TITRANTS[k % 3], Sample::ALL[k], molarity, Reading::rectangular(volume(c), volume(d))?)
                .aliquot(Aliquot::new(Reading::exact(volume(d))?, Reading::exact(volume(b))?))
                .mass_fraction(&Reading::weighed(mass(d), mass(b))?)
        };
        if let Ok(found) = titration() { finite(found.value(), found.u()); }
        let pan = || -> Result<Assayed<f64>, AssayError> {
            dry_residue(&Reading::exact(mass(a))?, &Reading::balance(mass(b), mass(d))?, &Reading::exact(mass(c))?)
        };
        if let Ok(found) = pan() { finite(found.value(), found.u()); }
        let line = CalibrationLine::fit(&[a, b, c, d], &[d, c, a, b]);
        if let Ok(found) = line.and_then(|line| line.read(a, 1)) { finite(found.value(), found.u()); }
        let liquor = || -> Result<Assayed<f64>, AssayError> {
            let t = Reading::standard(Temperature::from_si(b), Temperature::from_si(c))?;
            LiquorDensity::new(Reading::standard(a, d)?, t, celsius(15.0)).tannin()
        };
        if let Ok(found) = liquor() { finite(found.value(), found.u()); let _ = found.evidence(); }
        let vitriol = || -> Result<Weathered, AssayError> {
            VitriolDrying::new(Reading::exact(mass(a))?, Reading::exact(mass(b))?, Reading::standard(mass(c), mass(d))?, DriedTo::Monohydrate).weathered()
        };
        if let Ok(found) = vitriol() { finite(found.moisture, found.moisture_u); }
        let spot = || -> Result<Bracket<MolarConcentration>, AssayError> {
            SpotTest::iron_into_extract(Reading::exact(volume(a))?, Reading::exact(MolarConcentration::from_si(b))?, volume(c), volume(d))?.galloyl()
        };
        if let Ok(found) = spot() { finite(found.low.value, found.high.value); }
        let plant = PlantTannin::new(
            &Reading::rectangular(a, d).unwrap_or(Reading::exact(0.05).unwrap()),
            &Reading::exact(grams(100.0)).unwrap(), &Reading::exact(grams(10.0)).unwrap(),
            &Reading::exact(0.1).unwrap(), &Reading::rectangular(b, c).unwrap_or(Reading::exact(0.5).unwrap()));
        if let Ok(found) = plant { finite(found.median(), found.u_ln()); }
    }
}

/// Numbers of the bench's own size, and such as no bench has seen.
fn wild() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => any::<f64>(),
        4 => 0.0..1e-3_f64,
        4 => 0.0..2.0_f64,
        2 => 270.0..310.0_f64,
        1 => -1.0..0.0_f64,
        1 => Just(0.0),
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
    ]
}

fn prop_assert_finite(x: f64, u: f64) {
    assert!(x.is_finite() && u.is_finite() && u >= 0.0, "{x} {u}");
}
