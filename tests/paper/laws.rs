//! What every line obeys, and what is refused.

use crate::*;

#[test]
fn curves_never_fall_and_intervals_hold_the_typical_value() {
    for ink in [
        standard(1.0),
        standard(0.2),
        litre(&[
            part("iron_ii_sulfate_heptahydrate", 30.0),
            tannic_acid(10.0),
        ]),
    ] {
        for kind in papers() {
            let d = write(&ink, Paper::of(kind.id).unwrap())
                .darkening()
                .unwrap();
            for pair in d.curve.windows(2) {
                assert!(pair[0].time < pair[1].time);
                for end in [
                    |s: Span<Share>| s.low,
                    |s: Span<Share>| s.typical,
                    |s: Span<Share>| s.high,
                ] {
                    assert!(
                        end(pair[0].oxidised) <= end(pair[1].oxidised),
                        "{}",
                        kind.id
                    );
                    assert!(end(pair[0].developed) <= end(pair[1].developed));
                }
            }
            for p in d.curve {
                let s = p.oxidised;
                assert!(
                    s.low <= s.typical && s.typical <= s.high,
                    "{} {s:?}",
                    kind.id
                );
            }
            let or_never = |t: Option<Time>| t.map_or(f64::INFINITY, |t| t.value);
            for t in [d.to_tenth, d.to_half, d.to_nine_tenths] {
                assert!(or_never(t.low) <= or_never(t.typical));
                assert!(or_never(t.typical) <= or_never(t.high));
            }
            assert!(or_never(d.to_tenth.typical) <= or_never(d.to_half.typical));
            assert!(or_never(d.to_half.typical) <= or_never(d.to_nine_tenths.typical));
            assert!(d.ph_line.low <= d.ph_line.typical && d.ph_line.typical <= d.ph_line.high);
            assert!(d.ph_dark.typical <= d.ph_line.typical);
        }
    }
}

/// Longer or as long, but for the step of the integration (0.1 %).
fn no_faster(slow: &Writing, fast: &Writing) {
    let ratio = slow.times_slower_than(fast).unwrap().unwrap();
    assert!(ratio.low >= 0.999, "{ratio:?}");
}

#[test]
fn more_reserve_never_slows_and_more_acid_never_speeds() {
    let inks: Vec<_> = [0.0, 1.0, 3.0, 10.0]
        .map(|acid| {
            let vitriol = part("iron_ii_sulfate_heptahydrate", 15.0);
            litre(&[vitriol, tannic_acid(12.0), part("hydrochloric_acid", acid)])
        })
        .into();
    let reserves = [0.0, 0.01, 0.03, 0.1, 0.3, 1.0, 5.0];
    for ink in &inks {
        let lines = reserves.map(|r| write(ink, paper(r, 8.0)));
        for pair in lines.windows(2) {
            no_faster(&pair[0], &pair[1]);
        }
    }
    for reserve in reserves {
        let lines: Vec<_> = inks.iter().map(|i| write(i, paper(reserve, 8.0))).collect();
        for pair in lines.windows(2) {
            no_faster(&pair[1], &pair[0]);
        }
    }
    // and once it matters it shows
    let (bare, full) = (
        write(&inks[1], paper(0.0, 8.0)),
        write(&inks[1], paper(5.0, 8.0)),
    );
    assert!(bare.times_slower_than(&full).unwrap().unwrap().low > 2.0);
}

#[test]
fn two_papers_compare_far_better_than_either_is_known() {
    // What "relative factors, never a lifetime" is worth: the ratio's span is
    // narrower than the quotient of the two spans would be.
    let ink = standard(1.0);
    let (rag, copy) = (write(&ink, paper(0.0, 6.0)), write(&ink, paper(15.0, 8.0)));
    let ratio = rag.times_slower_than(&copy).unwrap().unwrap();
    let half = |w: &Writing| w.darkening().unwrap().to_half;
    let (r, c) = (half(&rag), half(&copy));
    let year = days(365.25);
    let long = |t: Option<Time>| t.unwrap_or(year).value;
    let loose = long(r.high) / long(c.low) / (long(r.low) / long(c.high));
    assert!(ratio.high / ratio.low < 0.1 * loose, "{ratio:?} {loose}");
    // a line is as fast as itself
    let same = rag.times_slower_than(&rag).unwrap().unwrap();
    assert_eq!((same.low, same.typical, same.high), (1.0, 1.0, 1.0));
}

#[test]
fn the_same_question_gives_the_same_bits() {
    let line = write(&standard(1.0), Paper::of("cotton_rag").unwrap());
    let (a, b) = (line.darkening().unwrap(), line.clone().darkening().unwrap());
    assert_eq!(a, b);
    // times asked for one by one, all together and in the curve
    let times: Vec<Time> = a.curve.iter().map(|p| p.time).collect();
    let mut all = vec![a.curve[0].oxidised; times.len()];
    line.oxidised_at(&times, &mut all).unwrap();
    for (p, s) in a.curve.iter().zip(&all) {
        assert_eq!(p.oxidised, *s);
        // each time cuts a step of its own
        let alone = oxidised(&line, p.time.value).typical;
        assert!((alone - s.typical.value()).abs() < 1e-3);
    }
}

#[test]
fn nonsense_is_refused_and_never_answered() {
    let ink = standard(1.0);
    let sheet = Paper::of("copy_paper").unwrap();
    let line = write(&ink, sheet);
    let wild = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        -1.0,
        0.0,
        1e-300,
        1e300,
        0.01,
        1.0,
        30.0,
    ];
    for x in wild {
        let _ = ArealAmount::moles_per_square_meter(x);
        let _ = sheet.with_ph(x);
        let _ = sheet.with_grammage(ArealMassDensity::new::<
            uom::si::areal_mass_density::kilogram_per_square_meter,
        >(x));
        let _ = line.clone().with_width(millimeters(x));
        let _ = room().drying_time(millimeters(x), millimeters(0.5));
        let _ = room().drying_time(millimeters(0.01), millimeters(x));
        if let Ok(load) = Load::of(&ink, millimeters(x)) {
            assert!(load.iron.in_moles_per_square_meter().is_finite());
        }
        for share in [0.0, 0.5, 0.98, 1.0] {
            let Ok(climate) = Climate::new(celsius(x), Share::new(share).unwrap()) else {
                continue;
            };
            if let Ok(line) = Writing::new(&ink, sheet, climate) {
                let d = line.darkening().unwrap();
                assert!(d.ph_line.low.is_finite() && d.drying.high.value.is_finite());
            }
        }
        if let Ok(line) = line.clone().with_film(millimeters(x)) {
            let d = line.darkening().unwrap();
            assert!(d.oxygen_supply.value.is_finite());
        }
        let none = Span {
            low: Share::ZERO,
            typical: Share::ZERO,
            high: Share::ZERO,
        };
        let _ = line.oxidised_at(&[days(x)], &mut [none]);
    }
    let none = Span {
        low: Share::ZERO,
        typical: Share::ZERO,
        high: Share::ZERO,
    };
    assert_eq!(
        line.oxidised_at(&[days(1.0)], &mut []),
        Err(PaperError::Lengths {
            times: 1,
            places: 0
        })
    );
    assert!(matches!(
        line.oxidised_at(&[days(2.0), days(1.0)], &mut [none; 2]),
        Err(PaperError::TimesDoNotRise { .. })
    ));
    assert!(matches!(
        line.oxidised_at(&[days(f64::NAN)], &mut [none]),
        Err(PaperError::OutOfRange(_))
    ));
    assert!(Writing::new(&Composition::EMPTY, sheet, room()).is_err());
    // water alone is a poor ink, but no error
    assert!(write(&litre(&[]), sheet).darkening().is_ok());
    // stocks far beyond any ink
    let stock = litre(&[
        part("iron_ii_chloride_tetrahydrate", 400.0),
        part("hydrochloric_acid", 300.0),
    ]);
    match Writing::new(&stock, sheet, room()) {
        Ok(line) => assert!(line.darkening().unwrap().ph_ink.is_finite()),
        Err(e) => assert!(matches!(e, PaperError::Equilibrium(_)), "{e}"),
    }
}

mod of_any_ink {
    use super::*;
    use crate::shelf;
    use proptest::prelude::*;

    proptest! {
        // Each case is 128 lines.
        #![proptest_config(ProptestConfig { cases: 48, ..shelf::config() })]

        #[test]
        fn amounts_add_up_and_shares_are_shares(
            iron in shelf::iron(),
            tannin in shelf::tannic_acid(),
            water in shelf::hard_water(),
            (salt, tannic, volume) in (0.1..60.0_f64, 0.0..60.0_f64, 300.0..1200.0_f64),
            (um, reserve, ph) in (0.5..200.0_f64, 0.0..20.0_f64, 4.0..10.0_f64),
            (warmth, humidity, reach) in (0.0..40.0_f64, 0.0..98.0_f64, 0.0..1.0_f64),
        ) {
            let ink = iron.composition(grams(salt)).unwrap()
                .mixed_with(&tannin.composition(grams(tannic)).unwrap())
                .mixed_with(&water.composition(grams(volume)).unwrap());
            let line = Writing::new(&ink, paper(reserve, ph), at(warmth, humidity)).unwrap();
            let line = line.with_film(micrometers(um)).unwrap();
            let line = line.with_reach(Share::new(reach).unwrap());

            let load = line.load().unwrap();
            let per_area = |mol: AmountOfSubstance| {
                ink.concentration(mol).in_moles_per_liter() * um * 1e-3
            };
            let same = |got: ArealAmount, mol| {
                shelf::close(got.in_moles_per_square_meter(), per_area(mol))
            };
            prop_assert!(same(load.iron, ink.iron()) && same(load.iron_ii, ink.iron_ii()));
            prop_assert!(same(load.galloyl, ink.galloyl()));
            prop_assert!(load.pigment <= load.iron && load.pigment <= load.galloyl);

            let d = line.darkening().unwrap();
            for p in d.curve {
                let s = p.oxidised;
                prop_assert!(s.low <= s.typical && s.typical <= s.high, "{s:?}");
            }
            for ph in [d.ph_line, d.ph_dark] {
                prop_assert!(ph.low <= ph.typical && ph.typical <= ph.high, "{ph:?}");
            }
            prop_assert!(d.ph_line.low >= d.ph_ink - 1e-9);
            let by_hand = |d: &Diagnosis| d.value.is_finite() && !d.message.contains("NaN");
            prop_assert!(line.diagnoses().unwrap().iter().all(by_hand));
        }
    }
}
