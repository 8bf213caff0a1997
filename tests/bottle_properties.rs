//! Laws that hold for every bottle, whatever is in it and whatever happens to it.
//!
//! `PROPTEST_CASES=20000` asks for more of them.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use ferrogall::oxidation::{
    Act, Air, Change, Conductance, Contents, Course, Event, FirstOrder, Kinetics, Moment,
    OxidationError, Portion, SecondOrder, Summary, ThirdOrder, Vessel,
};
use ferrogall::quantity::{
    AmountOfSubstance, Share, Time, celsius, kilopascals, liters, moles, moles_per_liter,
};
use proptest::prelude::*;
use uom::si::f64::VolumeRate;
use uom::si::time::second;
use uom::si::volume_rate::liter_per_second;

const DAY: f64 = 86_400.0;
const YEAR: f64 = 365.0 * DAY;

/// A bottle in bare numbers: L, mol/L, s.
#[derive(Debug, Clone, Copy)]
struct Bottle {
    liquid: f64,
    gas: f64,
    open: bool,
    celsius: f64,
    atmospheres: f64,
    transfer: f64,
    g: f64,
    breathing: f64,
    k1: f64,
    k2: f64,
    nu: f64,
    k_red: f64,
    phi: f64,
    k_sed: f64,
    soluble: f64,
    k_metal: f64,
    k_scavenger: f64,
    oxygen_per_scavenger: f64,
    activation: f64,
    iron_ii: f64,
    iron_iii: f64,
    phenol: f64,
    scavenger: f64,
    /// Saturated at the beginning, or without oxygen.
    aired: bool,
}

impl Bottle {
    fn air(&self) -> Air {
        Air::at(
            celsius(self.celsius),
            kilopascals(101.325 * self.atmospheres),
        )
        .unwrap()
    }

    fn vessel(&self) -> Vessel {
        let vessel = Vessel::closed(liters(self.liquid), liters(self.gas), self.air())
            .unwrap()
            .transfer(VolumeRate::new::<liter_per_second>(self.transfer))
            .unwrap()
            .conductance(Conductance::mol_per_second_atm(self.g).unwrap())
            .breathing(FirstOrder::per_second(self.breathing).unwrap());
        if self.open {
            vessel.standing_open()
        } else {
            vessel
        }
    }

    fn kinetics(&self) -> Kinetics {
        let meeting = |k| SecondOrder::l_per_mol_s(k).unwrap();
        let first = |k| FirstOrder::per_second(k).unwrap();
        Kinetics::builder()
            .oxidation(meeting(self.k1))
            .oxidation_by_two(ThirdOrder::l2_per_mol2_s(self.k2).unwrap())
            .reduction(meeting(self.k_red))
            .settling(first(self.k_sed), moles_per_liter(self.soluble))
            .metal(first(self.k_metal))
            .scavenging(meeting(self.k_scavenger), self.oxygen_per_scavenger)
            .iron_per_oxygen(self.nu)
            .rest_from_phenol(Share::new(self.phi).unwrap())
            .activation_energy_kj_per_mol(self.activation, celsius(25.0))
            .build()
            .unwrap()
    }

    fn contents(&self) -> Contents {
        let amount = |c: f64| moles(c * self.liquid);
        let ink = Contents {
            iron_iii: amount(self.iron_iii),
            ..Contents::iron(amount(self.iron_ii))
        };
        let ink = ink
            .with_phenol(amount(self.phenol))
            .with_scavenger(amount(self.scavenger));
        if self.aired {
            ink.saturated(&self.vessel())
        } else {
            ink
        }
    }

    fn course(&self) -> Course<'static> {
        Course::new(self.vessel(), self.kinetics(), self.contents())
    }

    fn scaled(self, s: f64) -> Self {
        Bottle {
            liquid: s * self.liquid,
            gas: s * self.gas,
            transfer: s * self.transfer,
            g: s * self.g,
            ..self
        }
    }

    /// Iron(II) is only lost: nothing reduces iron(III).
    fn without_return(self) -> Self {
        Bottle {
            k_red: 0.0,
            k_metal: 0.0,
            ..self
        }
    }
}

/// From `low` to `high`, decade by decade.
fn decades(low: f64, high: f64) -> impl Strategy<Value = f64> + Clone {
    (low.log10()..=high.log10()).prop_map(|x: f64| 10_f64.powf(x))
}

/// The same, or none at all.
fn none_or(low: f64, high: f64) -> impl Strategy<Value = f64> + Clone {
    prop_oneof![1 => Just(0.0), 2 => decades(low, high)]
}

prop_compose! {
    /// Bottles that stand on shelves.
    fn bottle()(
        (liquid, gas, open, celsius, atmospheres) in (
            decades(0.003, 3.0), none_or(1e-4, 1.0), prop::bool::weighted(0.1),
            0.0..40.0, 0.7..1.1,
        ),
        (transfer, g, breathing) in (
            decades(1e-8, 1e-2), none_or(1e-13, 1e-8), none_or(1e-9, 1e-6),
        ),
        (k1, k2, nu, k_red, phi) in (
            none_or(1e-6, 10.0), prop_oneof![3 => Just(0.0), 1 => decades(1e-3, 10.0)],
            2.0..=4.0, none_or(1e-7, 1e-1), 0.0..=1.0,
        ),
        (k_sed, soluble, k_metal) in (
            none_or(1e-9, 1e-3), none_or(1e-5, 1e-1),
            prop_oneof![3 => Just(0.0), 1 => decades(1e-9, 1e-3)],
        ),
        (k_scavenger, oxygen_per_scavenger, activation) in (
            none_or(1e-3, 10.0), 0.1..=4.0, prop_oneof![Just(0.0), 20.0..100.0],
        ),
        (iron_ii, iron_iii, phenol, scavenger, aired) in (
            decades(1e-3, 0.5), none_or(1e-5, 0.05), none_or(1e-3, 1.0), none_or(1e-5, 0.05),
            any::<bool>(),
        ),
    ) -> Bottle {
        Bottle {
            liquid, gas, open, celsius, atmospheres, transfer, g, breathing, k1, k2, nu, k_red,
            phi, k_sed, soluble, k_metal, k_scavenger, oxygen_per_scavenger, activation,
            iron_ii, iron_iii, phenol, scavenger, aired,
        }
    }
}

prop_compose! {
    /// Bottles up to the limits of what a course takes.
    fn extreme()(
        b in bottle(),
        (liquid, gas) in (decades(1e-6, 1e6), none_or(1e-9, 1e6)),
        (transfer, g, breathing) in (
            none_or(1e-12, 1e3), none_or(1e-15, 1e-3), none_or(1e-12, 1e3),
        ),
        (k1, k2, k_red) in (none_or(1e-9, 1e6), none_or(1e-9, 1e6), none_or(1e-9, 1e3)),
        (k_sed, soluble, k_metal, k_scavenger) in (
            none_or(1e-12, 10.0), none_or(1e-9, 10.0), none_or(1e-12, 10.0),
            none_or(1e-9, 1e6),
        ),
        (iron_ii, iron_iii, phenol, scavenger) in (
            none_or(1e-15, 10.0), none_or(1e-15, 10.0), none_or(1e-15, 10.0),
            none_or(1e-15, 10.0),
        ),
        activation in prop_oneof![Just(0.0), 0.0..=200.0],
    ) -> Bottle {
        Bottle {
            liquid, gas, transfer, g, breathing, k1, k2, k_red, k_sed, soluble, k_metal,
            k_scavenger, iron_ii, iron_iii, phenol, scavenger, activation, ..b
        }
    }
}

/// What is done with a bottle, in shares of it.
#[derive(Debug, Clone, Copy)]
enum Deed {
    Pour(f64),
    Exchange(f64),
    Shake,
    /// The share of its gas that fresh ink of the same kind takes.
    TopUp(f64),
    Season(f64),
    Open(bool),
    Filter,
    Flush(f64),
    /// The share of its gas that beads take.
    Displace(f64),
}

fn deed() -> impl Strategy<Value = Deed> {
    prop_oneof![
        (0.0..0.2).prop_map(Deed::Pour),
        (0.0..=1.0).prop_map(Deed::Exchange),
        Just(Deed::Shake),
        (0.0..=1.0).prop_map(Deed::TopUp),
        (0.0..40.0).prop_map(Deed::Season),
        any::<bool>().prop_map(Deed::Open),
        Just(Deed::Filter),
        (0.0..=1.0).prop_map(Deed::Flush),
        (0.0..=1.0).prop_map(Deed::Displace),
    ]
}

/// Deeds at their times. The volumes that poured and filled bottles have are
/// kept count of, so that every deed can be done.
fn events_of(b: &Bottle, deeds: &[(f64, Deed)]) -> Vec<Event> {
    let (mut liquid, mut gas) = (b.liquid, b.gas);
    let mut deeds = deeds.to_vec();
    deeds.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut act = |deed: Deed| match deed {
        Deed::Pour(share) => {
            let volume = share * liquid;
            (liquid, gas) = (liquid - volume, gas + volume);
            Act::Pour(liters(volume))
        }
        Deed::Exchange(share) => Act::Exchange(Share::new(share).unwrap()),
        Deed::Shake => Act::Shake,
        Deed::TopUp(share) => {
            // Not to the brim: what then is left is the rounding of the volumes.
            let volume = 0.999 * share * gas;
            (liquid, gas) = (liquid + volume, gas - volume);
            let contents = Contents::iron(moles(b.iron_ii * volume));
            Act::TopUp(Portion {
                volume: liters(volume),
                contents,
            })
        }
        Deed::Season(t) => Act::Change(Change {
            air: Some(Air::at(celsius(t), kilopascals(101.325)).unwrap()),
            ..Change::default()
        }),
        Deed::Open(open) => Act::Change(Change {
            open: Some(open),
            ..Change::default()
        }),
        Deed::Filter => Act::Filter,
        Deed::Flush(share) => Act::Flush(Share::new(share).unwrap()),
        Deed::Displace(share) => {
            let volume = 0.999 * share * gas;
            gas -= volume;
            Act::Displace(liters(volume))
        }
    };
    deeds
        .iter()
        .map(|&(at, deed)| Event {
            at: seconds(at),
            act: act(deed),
        })
        .collect()
}

fn deeds() -> impl Strategy<Value = Vec<(f64, Deed)>> {
    prop::collection::vec((0.0..YEAR, deed()), 0..8)
}

fn seconds(t: f64) -> Time {
    Time::new::<second>(t)
}

fn walked(course: &Course, times: &[f64]) -> Result<(Vec<Moment>, Summary), OxidationError> {
    let times: Vec<Time> = times.iter().map(|&t| seconds(t)).collect();
    let mut moments = Vec::new();
    let summary = course.walk(&times, |_, m| moments.push(*m))?;
    Ok((moments, summary))
}

fn run(course: &Course, times: &[f64]) -> (Vec<Moment>, Summary) {
    walked(course, times).unwrap()
}

fn amounts(c: &Contents) -> [f64; 10] {
    [
        c.iron_ii,
        c.iron_iii,
        c.sediment,
        c.oxygen_dissolved,
        c.oxygen_gas,
        c.phenol_electrons,
        c.scavenger,
        c.other_electrons,
        c.metal_iron,
        c.oxygen_in,
    ]
    .map(|n: AmountOfSubstance| n.value)
}

/// All but oxygen come in, which air driven out can make negative.
const NEVER_NEGATIVE: usize = 9;

fn bits(m: &Moment) -> [u64; 10] {
    amounts(&m.contents).map(f64::to_bits)
}

fn iron_ii(course: &Course, t: f64) -> f64 {
    run(course, &[t]).0[0].contents.iron_ii.value
}

/// Balances hold but for the rounding of some thousand steps.
const BALANCED: f64 = 1e-12;
/// What steps of a relative error of 1e-8 add up to in a course, of all iron.
const FOLLOWED: f64 = 1e-6;
/// More steps between two events than any bottle from a shelf has needed.
const STEPS: u64 = 500;

fn times() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(
        prop_oneof![decades(1.0, 10.0 * YEAR), 0.0..2.0 * YEAR],
        1..12,
    )
    .prop_map(|mut t| {
        t.sort_by(f64::total_cmp);
        t
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn amounts_are_never_negative_and_balances_hold(b in bottle(), d in deeds(), t in times()) {
        let events = events_of(&b, &d);
        let course = b.course().with_events(&events).unwrap();
        let (moments, summary) = run(&course, &t);
        for m in &moments {
            for (i, n) in amounts(&m.contents).into_iter().enumerate() {
                prop_assert!(n.is_finite() && (n >= 0.0 || i >= NEVER_NEGATIVE), "{} {:?}", i, m);
            }
            prop_assert!((0.0..=1.0).contains(&m.oxidised().value()));
        }
        prop_assert!(summary.iron_error <= BALANCED, "{:?}", summary);
        prop_assert!(summary.electron_error <= BALANCED, "{:?}", summary);
        prop_assert!(summary.clipped <= 1e-7, "{:?}", summary);
        prop_assert!(summary.steps <= STEPS * (1 + events.len() as u64), "{:?}", summary);
    }

    /// The sums by hand, over a course without events.
    #[test]
    fn iron_and_electrons_are_kept(b in bottle(), t in times()) {
        let before = b.contents();
        let iron = |c: &Contents| {
            (c.iron_ii + c.iron_iii + c.sediment - c.metal_iron).value
        };
        let electrons = |c: &Contents| {
            let oxygen = c.oxygen_dissolved.value + c.oxygen_gas.value - c.oxygen_in.value;
            c.iron_ii.value + c.phenol_electrons.value - c.other_electrons.value
                + 4.0 * b.oxygen_per_scavenger * c.scavenger.value
                - 4.0 * oxygen - 3.0 * c.metal_iron.value
        };
        for m in run(&b.course(), &t).0 {
            let c = &m.contents;
            // An open vessel has no gas of its own.
            let before = if b.open {
                Contents { oxygen_gas: moles(0.0), ..before }
            } else {
                before
            };
            let all: f64 = amounts(c).iter().map(|n| n.abs()).sum();
            prop_assert!((iron(c) - iron(&before)).abs() <= BALANCED * all);
            prop_assert!((electrons(c) - electrons(&before)).abs() <= 16.0 * BALANCED * all);
        }
    }

    /// Of ink that nothing reduces: more oxygen stands by at any time.
    #[test]
    fn more_headspace_never_lengthens_life(
        b in bottle(), more in decades(1e-4, 1.0), t in 0.0..3.0 * YEAR,
    ) {
        let b = Bottle { open: false, aired: true, ..b.without_return() };
        let roomier = Bottle { gas: b.gas + more, ..b };
        let (before, after) = (iron_ii(&b.course(), t), iron_ii(&roomier.course(), t));
        prop_assert!(after <= before + FOLLOWED * b.iron_ii * b.liquid, "{before} {after}");
    }

    #[test]
    fn more_air_never_lengthens_life(
        b in bottle(), mut at in prop::collection::vec(0.0..YEAR, 1..10), share in 0.0..=1.0,
        part in 0.0..=1.0, shaken in any::<bool>(),
    ) {
        let b = Bottle { open: false, aired: true, ..b.without_return() };
        at.sort_by(f64::total_cmp);
        let openings = |share: f64, shaken: bool| -> Vec<Event> {
            let exchange = Act::Exchange(Share::new(share).unwrap());
            let acts = if shaken { vec![exchange, Act::Shake] } else { vec![exchange] };
            let act = |t: &f64| acts.iter().map(|&act| Event { at: seconds(*t), act }).collect::<Vec<_>>();
            at.iter().flat_map(act).collect()
        };
        let after = |events: &[Event]| iron_ii(&b.course().with_events(events).unwrap(), YEAR);
        let slack = FOLLOWED * b.iron_ii * b.liquid;
        let (never, some, full) = (
            after(&[]), after(&openings(part * share, false)), after(&openings(share, shaken)),
        );
        prop_assert!(some <= never + slack && full <= some + slack, "{never} {some} {full}");
        // One opening less.
        let fewer = after(&openings(share, shaken)[1 + usize::from(shaken)..]);
        prop_assert!(full <= fewer + slack, "{fewer} {full}");
    }

    #[test]
    fn events_out_of_order_are_refused(b in bottle(), at in prop::collection::vec(0.0..YEAR, 2..6)) {
        let event = |&t: &f64| Event { at: seconds(t), act: Act::Shake };
        let events: Vec<Event> = at.iter().map(event).collect();
        let first_wrong = at.windows(2).position(|w| w[1] < w[0]).map(|i| i + 1);
        match (b.course().with_events(&events), first_wrong) {
            (Ok(_), None) => {}
            (Err(OxidationError::EventsOutOfOrder { index, at_s }), Some(wrong)) => {
                prop_assert_eq!((index, at_s), (wrong, at[wrong]));
            }
            (other, wrong) => prop_assert!(false, "{other:?} {wrong:?}"),
        }
        let times: Vec<Time> = at.iter().map(|&t| seconds(t)).collect();
        match (b.course().walk(&times, |_, _| ()), first_wrong) {
            (Ok(_), None) => {}
            (Err(OxidationError::TimesOutOfOrder { index, at_s }), Some(wrong)) => {
                prop_assert_eq!((index, at_s), (wrong, at[wrong]));
            }
            (other, wrong) => prop_assert!(false, "{other:?} {wrong:?}"),
        }
    }

    /// Pouring lets air in, of which an exchange before it takes no account.
    #[test]
    fn acts_of_one_time_happen_as_given(b in bottle(), part in 0.01..0.9, share in 0.01..=1.0) {
        let b = Bottle { open: false, aired: false, g: 0.0, breathing: 0.0, ..b };
        let poured = part * b.liquid;
        let exchange = Act::Exchange(Share::new(share).unwrap());
        let at = seconds(0.0);
        let gas_after = |acts: [Act; 2]| {
            let events = acts.map(|act| Event { at, act });
            let course = b.course().with_events(&events).unwrap();
            run(&course, &[0.0]).0[0].contents.oxygen_gas.value
        };
        let air = |volume: f64| b.air().oxygen().value * volume / 1000.0;
        let pour = Act::Pour(liters(poured));
        let near = |got: f64, wanted: f64| (got / wanted - 1.0).abs() < 1e-12;
        let (first, last) = (gas_after([pour, exchange]), gas_after([exchange, pour]));
        prop_assert!(near(first, air(poured) + share * air(b.gas)), "{first}");
        prop_assert!(near(last, share * air(b.gas) + air(poured)), "{last}");
    }

    #[test]
    fn a_larger_bottle_of_the_same_shape_fares_alike(b in bottle(), t in times(), s in decades(0.01, 100.0)) {
        let (one, _) = run(&b.course(), &t);
        let (other, _) = run(&b.scaled(s).course(), &t);
        for (one, other) in one.iter().zip(&other) {
            let sizes = sizes(&b, one);
            let pairs = amounts(&one.contents).into_iter().zip(amounts(&other.contents));
            for ((a, b), size) in pairs.zip(sizes) {
                prop_assert!((s * a - b).abs() <= FOLLOWED * s * size, "{} {}", s * a, b);
            }
        }
    }

    #[test]
    fn a_brimful_bottle_has_no_gas_to_exchange(b in bottle(), t in times()) {
        let b = Bottle { open: false, gas: 0.0, g: 0.0, breathing: 0.0, ..b };
        let events = [Act::Exchange(Share::ONE), Act::Shake].map(|act| Event { at: seconds(DAY), act });
        let (still, _) = run(&b.course(), &t);
        let (opened, _) = run(&b.course().with_events(&events).unwrap(), &t);
        for (still, opened) in still.iter().zip(&opened) {
            for m in [still, opened] {
                prop_assert_eq!(m.contents.oxygen_gas.value, 0.0);
                prop_assert_eq!(m.contents.oxygen_in.value, 0.0);
            }
            let off = (still.contents.iron_ii.value - opened.contents.iron_ii.value).abs();
            prop_assert!(off <= FOLLOWED * b.iron_ii * b.liquid);
        }
        let dissolved = b.contents().oxygen_dissolved.value;
        let lost = still.iter().map(|m| b.iron_ii * b.liquid - m.contents.iron_ii.value);
        for lost in lost {
            prop_assert!(lost <= b.nu * dissolved + 1e-12 * b.iron_ii * b.liquid);
        }
    }

    #[test]
    fn what_does_not_react_keeps_its_bits(b in bottle(), d in deeds(), t in times()) {
        let b = Bottle { k1: 0.0, k2: 0.0, k_scavenger: 0.0, iron_iii: 0.0, ..b };
        let kept = |(_, d): &(f64, Deed)| !matches!(d, Deed::Pour(_) | Deed::TopUp(_));
        let d: Vec<_> = d.into_iter().filter(kept).collect();
        let events = events_of(&b, &d);
        let ink = b.contents();
        for m in run(&b.course().with_events(&events).unwrap(), &t).0 {
            let c = &m.contents;
            prop_assert_eq!(c.iron_ii.value.to_bits(), ink.iron_ii.value.to_bits());
            prop_assert_eq!(c.phenol_electrons.value.to_bits(), ink.phenol_electrons.value.to_bits());
            prop_assert_eq!(c.scavenger.value.to_bits(), ink.scavenger.value.to_bits());
            prop_assert_eq!((c.iron_iii.value, c.sediment.value), (0.0, 0.0));
        }
    }

    #[test]
    fn an_answer_does_not_depend_on_what_else_is_asked(
        b in bottle(), d in deeds(), t in times(), which in any::<prop::sample::Index>(),
    ) {
        let events = events_of(&b, &d);
        let course = b.course().with_events(&events).unwrap();
        let (all, _) = run(&course, &t);
        let i = which.index(t.len());
        let (alone, _) = run(&course, &t[i..=i]);
        prop_assert_eq!(bits(&all[i]), bits(&alone[0]));
        let (first, _) = run(&course, &t[..=i]);
        prop_assert_eq!(bits(&all[i]), bits(&first[i]));
    }

    #[test]
    fn a_narrower_tolerance_changes_little(b in bottle(), d in deeds(), t in times()) {
        let events = events_of(&b, &d);
        let course = b.course().with_events(&events).unwrap();
        let (plain, _) = run(&course, &t);
        let (narrow, _) = run(&course.with_tolerance(1e-10).unwrap(), &t);
        for (plain, narrow) in plain.iter().zip(&narrow) {
            let sizes = sizes(&b, narrow);
            let pairs = amounts(&plain.contents).into_iter().zip(amounts(&narrow.contents));
            for ((a, b), size) in pairs.zip(sizes) {
                prop_assert!((a - b).abs() <= FOLLOWED * size, "{a} {b} {size}");
            }
        }
    }

    #[test]
    fn iron_ii_does_not_come_back_by_itself(b in bottle(), d in deeds(), t in times()) {
        let b = b.without_return();
        let kept = |(_, d): &(f64, Deed)| !matches!(d, Deed::TopUp(_));
        let d: Vec<_> = d.into_iter().filter(kept).collect();
        let events = events_of(&b, &d);
        let mut before = b.contents().iron_ii.value;
        // Oxygen near its end is known to 1e-11 of what can react with it.
        let slack = 1e-11 * (b.iron_ii + b.iron_iii + b.phenol) * b.liquid;
        for m in run(&b.course().with_events(&events).unwrap(), &t).0 {
            let now = m.contents.iron_ii.value;
            prop_assert!(now <= before + slack, "{} {}", before, now);
            before = now;
        }
    }

    #[test]
    fn no_more_oxygen_than_came_in(b in bottle(), d in deeds(), t in times()) {
        let events = events_of(&b, &d);
        let ink = b.contents();
        let gas = if b.open { 0.0 } else { ink.oxygen_gas.value };
        let start = ink.oxygen_dissolved.value + gas;
        let mut last = 0.0_f64;
        let sealed = d.is_empty() && !b.open && b.g == 0.0 && b.breathing == 0.0;
        for m in run(&b.course().with_events(&events).unwrap(), &t).0 {
            let c = &m.contents;
            let there = c.oxygen_dissolved.value + c.oxygen_gas.value;
            let came = start + c.oxygen_in.value;
            last = last.max(came.abs());
            prop_assert!(there <= came + 1e-12 * last.max(start), "{} {}", there, came);
            prop_assert!(!sealed || c.oxygen_in.value == 0.0);
        }
    }

    /// An answer or an error; never a hang, never a number that is none.
    #[test]
    fn survives_any_bottle(b in extreme(), d in deeds(), t in times()) {
        let events = events_of(&b, &d);
        let course = b.course().with_events(&events).unwrap();
        match walked(&course, &t) {
            Ok((moments, summary)) => {
                for m in &moments {
                    for (i, n) in amounts(&m.contents).into_iter().enumerate() {
                        prop_assert!(n.is_finite() && (n >= 0.0 || i >= NEVER_NEGATIVE), "{} {:?}", i, m);
                    }
                }
                prop_assert!(summary.iron_error <= BALANCED, "{:?}", summary);
                // Not so the electrons, of which there may be none beside the
                // iron(III) whose rounding they share.
                prop_assert!(summary.steps <= 50_000 * (1 + events.len() as u64));
            }
            Err(OxidationError::Unsolved { at_s, steps }) => {
                prop_assert!(at_s.is_finite() && steps <= 50_001);
            }
            Err(OxidationError::OutOfRange(_)) => {}
            Err(other) => prop_assert!(false, "{other:?}"),
        }
    }
}

/// What each amount is large against.
fn sizes(b: &Bottle, now: &Moment) -> [f64; 10] {
    let ink = b.contents();
    let iron = (ink.iron_ii + ink.iron_iii + now.contents.metal_iron).value
        + b.iron_ii * (now.liquid.value * 1000.0 - b.liquid).max(0.0);
    let phenol = ink.phenol_electrons.value.max(iron);
    // Oxygen near its end is known to 1e-11 of what can react with it.
    let known = 1e-11 / FOLLOWED * (iron + phenol);
    let dissolved = (b.air().dissolved().value * now.liquid.value).max(known);
    let gas = (b.air().oxygen().value * (now.gas + now.liquid).value).max(known);
    let scavenger = ink.scavenger.value.max(dissolved);
    [
        iron,
        iron,
        iron,
        dissolved,
        gas,
        phenol,
        scavenger,
        iron,
        iron,
        gas + iron,
    ]
}
