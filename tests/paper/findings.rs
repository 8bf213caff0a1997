//! Why a line is pale, slow or grey.

use crate::*;
use approx::assert_relative_eq;

#[test]
fn diagnoses_say_what_is_amiss() {
    let copy = || paper(15.0, 8.0);
    let vitriol = |g| part("iron_ii_sulfate_heptahydrate", g);
    let cases = [
        (standard(0.2), Cause::TooDilute),
        (
            litre(&[vitriol(2.0), tannic_acid(12.0)]),
            Cause::TooLittleIron,
        ),
        (litre(&[vitriol(15.0), tannic_acid(1.0)]), Cause::WeakTannin),
        (
            litre(&[vitriol(30.0), tannic_acid(8.0)]),
            Cause::TanninShort,
        ),
    ];
    for (ink, cause) in cases {
        let found = causes(&write(&ink, copy()));
        assert!(found.contains(&cause), "{cause:?} is not among {found:?}");
    }
    let good = causes(&write(&standard(1.0), copy()));
    for cause in [
        Cause::TooDilute,
        Cause::TooLittleIron,
        Cause::WeakTannin,
        Cause::TanninShort,
        Cause::StaysAcid,
    ] {
        assert!(!good.contains(&cause));
    }
    // "grey on copy paper": fast, but neutral
    assert!(good.contains(&Cause::AlkalinePaper));
    // slow on paper without reserve
    let slow = causes(&write(
        &standard(1.0),
        Paper::of("aged_acid_paper").unwrap(),
    ));
    assert!(slow.contains(&Cause::StaysAcid) && slow.contains(&Cause::NeedsTime));
    assert!(!slow.contains(&Cause::AlkalinePaper));
    // "black in the bottle but pale on paper"
    let old = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
    let old = old.oxidised(0.4, 0.01).unwrap().build().unwrap();
    let ink = litre(&[old.composition(grams(15.0)).unwrap(), tannic_acid(12.0)]);
    let ferric = write(&ink, copy()).diagnoses().unwrap();
    let found = ferric
        .iter()
        .find(|d| d.cause == Cause::IronAlreadyFerric)
        .unwrap();
    assert_relative_eq!(found.value, 0.4, max_relative = 1e-3);
    assert!(
        ferric
            .iter()
            .all(|d| d.value.is_finite() && d.limit.is_finite())
    );
}
