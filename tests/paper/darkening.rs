//! Darkening against closed forms and published rates.

use crate::*;
use approx::assert_relative_eq;
use ferrogall::oxidation::{Air, InorganicRate, Milieu};

#[test]
fn at_a_steady_ph_the_dry_line_follows_first_order() {
    // Reserve without end holds the line at the paper's pH. Then ln of what
    // is left falls by k c(O2) × dampness, k from the rate laws themselves.
    for ph in [5.0, 6.0, 6.5, 7.0] {
        let line = write(&standard(1.0), paper(25.0, ph)).with_reach(Share::ONE);
        let milieu = Milieu::new(celsius(20.0), ph).unwrap();
        let alone = InorganicRate::at(&milieu).unwrap().typical;
        let helped = Assisted::published()
            .constant_at(ph, celsius(20.0), 0.0, 0.0, 0.0)
            .unwrap();
        let air = Air::at(celsius(20.0), kilopascals(101.325)).unwrap();
        let k = alone.in_l_per_mol_s() + helped.in_l_per_mol_s();
        let oxygen = air.dissolved().in_moles_per_liter();
        let expected = k * oxygen * typical_of("dampness");
        // long after drying and neutralising
        let (from, to) = (40.0 * MINUTE, 40.0 * MINUTE + 1.0 / expected);
        let left = |s| (1.0 - oxidised(&line, s).typical).ln();
        // The rate between the points of the titration is straight in its
        // logarithm: 0.13 pH apart, that is good to 0.5 %.
        assert_relative_eq!(
            (left(from) - left(to)) / (to - from),
            expected,
            max_relative = 5e-3
        );
    }
}

#[test]
fn the_curve_of_first_order_is_met_at_every_time() {
    // As above; the whole curve is 1 − e^(−t/τ) of one τ once it is dry.
    let line = write(&standard(1.0), paper(25.0, 6.0)).with_reach(Share::ONE);
    let start = 40.0 * MINUTE;
    let left = |s: f64| 1.0 - oxidised(&line, s).typical;
    let tau = -(2.0 * DAY) / (left(start + 2.0 * DAY) / left(start)).ln();
    for days in [0.1, 0.5, 1.0, 3.0, 5.0] {
        let expected = left(start) * (-days * DAY / tau).exp();
        // the midpoint rule is exact for it but for the last of the neutralising
        assert_relative_eq!(left(start + days * DAY), expected, max_relative = 1e-6);
    }
}

#[test]
fn ph_is_the_lever_published_rates_make_it() {
    // By the species law the half-life in air-saturated water at 25 °C is
    // 2612 d at pH 2, 1.03 d at pH 6 and 19.7 min at pH 7 (Wehrli, King; worked
    // out in the notes to the rate laws): 2536 and 191 000 times.
    let ink = litre(&[
        part("iron_ii_sulfate_heptahydrate", 15.0),
        part("sulfuric_acid", 1.0),
    ]);
    let on = |sheet| {
        let line = Writing::new(&ink, sheet, at(25.0, 50.0)).unwrap();
        unassisted(line.with_reach(Share::ONE))
    };
    let acid = on(paper(0.0, 5.0));
    assert!((acid.darkening().unwrap().ph_line.typical - 2.0).abs() < 0.3);
    for (ph, expected) in [(6.0, 2612.0 / 1.03), (7.0, 2612.0 * 1440.0 / 19.7)] {
        let ratio = acid
            .times_slower_than(&on(paper(25.0, ph)))
            .unwrap()
            .unwrap();
        // The acid line is not at pH 2 all the time (8 %), and at pH 7 the
        // first half minute passes wet.
        assert_relative_eq!(ratio.typical, expected, max_relative = 0.12);
    }
}

#[test]
fn iron_without_tannin_does_not_count_as_pigment() {
    // half as many galloyl units as iron: all the pigment is there when half
    // of the iron is oxidised
    let iron = part("iron_ii_sulfate_heptahydrate", 15.0);
    let plenty = litre(&[iron, tannic_acid(20.0)]);
    let scale = plenty.galloyl().in_moles() / (0.5 * plenty.iron().in_moles());
    let ink = litre(&[iron, tannic_acid(20.0 / scale)]);
    let line = write(&ink, paper(15.0, 8.0));
    assert_eq!(line.load().unwrap().short, Short::Tannin);
    for point in line.darkening().unwrap().curve {
        let expected = (2.0 * point.oxidised.typical.value()).min(1.0);
        assert_relative_eq!(
            point.developed.typical.value(),
            expected,
            max_relative = 1e-6
        );
    }
    assert!(causes(&line).contains(&Cause::TanninShort));
}

#[test]
fn damp_air_is_needed() {
    // Rouchon et al. 2011 (abstract): iron(II) on paper is oxidised where
    // oxygen and moisture are both present. Bone-dry air stops a dry line.
    let (ink, sheet) = (standard(1.0), paper(15.0, 8.0));
    let on = |humidity| Writing::new(&ink, sheet, at(20.0, humidity)).unwrap();
    let bone_dry = on(0.0);
    let d = bone_dry.darkening().unwrap();
    assert_eq!(d.to_nine_tenths.typical, None);
    let last = d.curve[CURVE_POINTS - 1].oxidised.typical;
    assert_eq!(last, d.oxidised_when_dry.typical);
    assert_eq!(bone_dry.times_slower_than(&on(50.0)).unwrap(), None);
    let mut before = f64::INFINITY;
    for humidity in [20.0, 40.0, 60.0, 80.0, 95.0] {
        let half = on(humidity).darkening().unwrap().to_half.typical.unwrap();
        assert!(half.value < before, "{humidity} %");
        before = half.value;
    }
}

#[test]
fn an_ink_without_iron_ii_darkens_never() {
    let ink = litre(&[tannic_acid(10.0)]);
    let line = write(&ink, paper(15.0, 8.0));
    let d = line.darkening().unwrap();
    assert_eq!(d.to_tenth.low, None);
    assert!(d.curve.iter().all(|p| p.oxidised.high == Share::ZERO));
    assert_eq!(causes(&line), [Cause::NoPigment]);
}
