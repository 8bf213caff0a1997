//! Courses through the C surface: what Rust says.

use super::forecasts::{bits, same_moment};
use super::room::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use ferrogall::oxidation::*;
use ferrogall::quantity::*;
use uom::si::f64::VolumeRate;
use uom::si::volume_rate::liter_per_second;

pub fn vessel() -> FgallVessel {
    FgallVessel {
        liquid_ml: 30.0,
        gas_ml: 10.0,
        set: FGALL_VESSEL_AIR
            | FGALL_VESSEL_DISSOLVING
            | FGALL_VESSEL_TRANSFER
            | FGALL_VESSEL_CONDUCTANCE
            | FGALL_VESSEL_BREATHING
            | FGALL_VESSEL_SATURATED,
        temperature_c: 18.0,
        pressure_kpa: 99.0,
        dissolving_share: 0.93,
        transfer_l_per_s: 2e-6,
        conductance_mol_per_s_atm: 3e-12,
        breathing_per_s: 1e-8,
        ..init()
    }
}

pub fn kinetics() -> FgallKinetics {
    FgallKinetics {
        oxidation_l_per_mol_s: 0.05,
        oxidation_by_two_l2_per_mol2_s: 0.1,
        reduction_l_per_mol_s: 1e-7,
        settling_per_s: 1e-6,
        soluble_mol_per_l: 0.003,
        metal_per_s: 1e-9,
        scavenging_l_per_mol_s: 1.0,
        rest_from_phenol_share: 0.4,
        activation_kj_per_mol: 51.6,
        set: FGALL_KINETICS_OXYGEN_PER_SCAVENGER
            | FGALL_KINETICS_IRON_PER_OXYGEN
            | FGALL_KINETICS_VALID_AT,
        oxygen_per_scavenger: 0.75,
        iron_per_oxygen: 3.0,
        valid_at_c: 20.0,
        ..init()
    }
}

pub fn contents() -> FgallContents {
    FgallContents {
        iron_ii_mmol: 1.62,
        iron_iii_mmol: 0.05,
        sediment_mmol: 0.01,
        oxygen_dissolved_mmol: 0.0,
        oxygen_gas_mmol: 0.0,
        phenol_electrons_mmol: 3.0,
        scavenger_mmol: 0.02,
        other_electrons_mmol: 0.0,
        oxygen_in_mmol: 0.0,
        metal_iron_mmol: 0.0,
    }
}

pub fn event(at_days: f64, kind: u32) -> FgallEvent {
    FgallEvent {
        at_days,
        kind,
        volume_ml: f64::NAN,
        share: f64::NAN,
        contents: contents(),
        vessel: null(),
        kinetics: null(),
    }
}

fn of_volume(at_days: f64, kind: u32, volume_ml: f64) -> FgallEvent {
    FgallEvent {
        volume_ml,
        ..event(at_days, kind)
    }
}

fn of_share(at_days: f64, kind: u32, share: f64) -> FgallEvent {
    FgallEvent {
        share,
        ..event(at_days, kind)
    }
}

pub fn course(vessel: &FgallVessel, rates: &FgallKinetics, events: &[FgallEvent]) -> FgallCourse {
    FgallCourse {
        vessel,
        kinetics: rates,
        contents: contents(),
        events: events.as_ptr(),
        event_count: events.len(),
        ..init()
    }
}

pub fn walked(
    course: &FgallCourse,
    at_days: &[f64],
    error: *mut FgallError,
) -> (u32, Vec<FgallMoment>, FgallCourseSummary) {
    let column = FgallColumn {
        data: at_days.as_ptr(),
        stride_bytes: 8,
    };
    let mut rows: Vec<FgallMoment> = Vec::with_capacity(at_days.len());
    let mut summary = init();
    // SAFETY: locals; room for as many rows as times, all numbers.
    let status = unsafe {
        let (n, stride) = (at_days.len(), size_of::<FgallMoment>() as isize);
        rows.as_mut_ptr().write_bytes(0, n);
        rows.set_len(n);
        fgall_course(
            course,
            &column,
            n,
            rows.as_mut_ptr(),
            stride,
            &mut summary,
            error,
        )
    };
    (status, rows, summary)
}

fn vessel_here(c: &FgallVessel) -> Vessel {
    let air = Air::at(celsius(c.temperature_c), kilopascals(c.pressure_kpa)).unwrap();
    let air = air.dissolving(Share::new(c.dissolving_share).unwrap());
    Vessel::closed(milliliters(c.liquid_ml), milliliters(c.gas_ml), air)
        .unwrap()
        .transfer(VolumeRate::new::<liter_per_second>(c.transfer_l_per_s))
        .unwrap()
        .conductance(Conductance::mol_per_second_atm(c.conductance_mol_per_s_atm).unwrap())
        .breathing(FirstOrder::per_second(c.breathing_per_s).unwrap())
}

fn kinetics_here(c: &FgallKinetics) -> Kinetics {
    let second = |k| SecondOrder::l_per_mol_s(k).unwrap();
    let first = |k| FirstOrder::per_second(k).unwrap();
    Kinetics::builder()
        .oxidation(second(c.oxidation_l_per_mol_s))
        .oxidation_by_two(ThirdOrder::l2_per_mol2_s(c.oxidation_by_two_l2_per_mol2_s).unwrap())
        .reduction(second(c.reduction_l_per_mol_s))
        .settling(
            first(c.settling_per_s),
            moles_per_liter(c.soluble_mol_per_l),
        )
        .metal(first(c.metal_per_s))
        .scavenging(second(c.scavenging_l_per_mol_s), c.oxygen_per_scavenger)
        .rest_from_phenol(Share::new(c.rest_from_phenol_share).unwrap())
        .activation_energy_kj_per_mol(c.activation_kj_per_mol, celsius(c.valid_at_c))
        .iron_per_oxygen(c.iron_per_oxygen)
        .build()
        .unwrap()
}

fn contents_here(c: &FgallContents) -> Contents {
    Contents {
        iron_ii: millimoles(c.iron_ii_mmol),
        iron_iii: millimoles(c.iron_iii_mmol),
        sediment: millimoles(c.sediment_mmol),
        phenol_electrons: millimoles(c.phenol_electrons_mmol),
        scavenger: millimoles(c.scavenger_mmol),
        ..Contents::default()
    }
}

/// Every kind of event, in C and in Rust.
#[test]
fn a_course_through_every_event_is_that_of_rust() {
    let (bottle, rates) = (vessel(), kinetics());
    let (winter, opened) = (
        FgallVessel {
            set: FGALL_VESSEL_AIR,
            temperature_c: 8.0,
            ..vessel()
        },
        FgallVessel {
            set: FGALL_VESSEL_OPEN,
            ..init()
        },
    );
    let closed = FgallVessel {
        set: FGALL_VESSEL_CLOSED | FGALL_VESSEL_TRANSFER | FGALL_VESSEL_CONDUCTANCE,
        transfer_l_per_s: 1e-5,
        conductance_mol_per_s_atm: 0.0,
        ..init()
    };
    let slower = FgallKinetics {
        oxidation_l_per_mol_s: 0.001,
        ..kinetics()
    };
    let change = |at, vessel: *const _, kinetics: *const _| FgallEvent {
        vessel,
        kinetics,
        ..event(at, FGALL_ACT_CHANGE)
    };
    let events = [
        of_volume(7.0, FGALL_ACT_POUR, 3.0),
        of_share(7.0, FGALL_ACT_EXCHANGE, 0.3),
        event(7.0, FGALL_ACT_SHAKE),
        of_volume(14.0, FGALL_ACT_TOP_UP, 2.0),
        of_share(20.0, FGALL_ACT_FLUSH, 0.8),
        of_volume(21.0, FGALL_ACT_DISPLACE, 4.0),
        change(30.0, &winter, null()),
        change(40.0, &opened, null()),
        change(41.0, &closed, &slower),
        event(50.0, FGALL_ACT_FILTER),
    ];
    let given = FgallCourse {
        set: FGALL_COURSE_TOLERANCE | FGALL_COURSE_WATCHED,
        tolerance: 1e-7,
        watched_share: 0.9,
        ..course(&bottle, &rates, &events)
    };
    let at_days = [0.0, 7.0, 13.5, 22.0, 35.0, 40.5, 60.0];
    let (status, rows, summary) = walked(&given, &at_days, null_mut());
    assert_eq!(status, FGALL_OK);

    let air = Air::at(celsius(8.0), kilopascals(99.0)).unwrap();
    let share = |x| Share::new(x).unwrap();
    let change = Change::default();
    let acts = [
        (7.0, Act::Pour(milliliters(3.0))),
        (7.0, Act::Exchange(share(0.3))),
        (7.0, Act::Shake),
        (
            14.0,
            Act::TopUp(Portion {
                volume: milliliters(2.0),
                contents: contents_here(&contents()),
            }),
        ),
        (20.0, Act::Flush(share(0.8))),
        (21.0, Act::Displace(milliliters(4.0))),
        (
            30.0,
            Act::Change(Change {
                air: Some(air),
                ..change
            }),
        ),
        (
            40.0,
            Act::Change(Change {
                open: Some(true),
                ..change
            }),
        ),
        (
            41.0,
            Act::Change(Change {
                open: Some(false),
                transfer: Some(VolumeRate::new::<liter_per_second>(1e-5)),
                conductance: Some(Conductance::ZERO),
                kinetics: Some(kinetics_here(&slower)),
                ..change
            }),
        ),
        (50.0, Act::Filter),
    ];
    let events = acts.map(|(at, act)| Event { at: days(at), act });
    let vessel = vessel_here(&bottle);
    let contents = contents_here(&contents()).saturated(&vessel);
    let mut moments = Vec::new();
    let rust = Course::new(vessel, kinetics_here(&rates), contents)
        .with_events(&events)
        .unwrap()
        .with_tolerance(1e-7)
        .unwrap()
        .watch(&at_days.map(days), Some(share(0.9)), |_, m| {
            moments.push(*m)
        })
        .unwrap();
    for ((c, rust), at) in rows.iter().zip(&moments).zip(at_days) {
        bits(c.at_days, at);
        same_moment(c, rust);
    }
    assert_eq!(
        (summary.steps, summary.evaluations),
        (rust.steps, rust.evaluations)
    );
    bits(summary.iron_error, rust.iron_error);
    bits(summary.electron_error, rust.electron_error);
    bits(summary.clipped, rust.clipped);
    bits(summary.reached_days, rust.reached.unwrap().in_days());
    assert!(summary.iron_error < 1e-12); // as the balance is written: rounding alone
}

#[test]
fn an_open_dish_and_what_is_left_out() {
    let dish = FgallVessel {
        liquid_ml: 25.0,
        set: FGALL_VESSEL_OPEN,
        temperature_c: f64::NAN,
        transfer_l_per_s: -1.0,
        ..init()
    };
    let rates = FgallKinetics {
        oxidation_l_per_mol_s: 0.02,
        oxygen_per_scavenger: f64::NAN,
        valid_at_c: f64::NAN,
        ..init()
    };
    let given = FgallCourse {
        tolerance: f64::NAN,
        watched_share: f64::NAN,
        ..course(&dish, &rates, &[])
    };
    let (status, rows, summary) = walked(&given, &[14.0], null_mut());
    assert_eq!(status, FGALL_OK);
    assert!(summary.reached_days.is_nan());
    let vessel = Vessel::open(milliliters(25.0), Air::standard()).unwrap();
    let k = SecondOrder::l_per_mol_s(0.02).unwrap();
    let kinetics = Kinetics::builder().oxidation(k).build().unwrap();
    let rust = Course::new(vessel, kinetics, contents_here(&contents()));
    let [rust] = rust.at([days(14.0)]).unwrap();
    same_moment(&rows[0], &rust);
    bits(rows[0].gas_ml, 0.0);
}

#[test]
fn times_and_events_that_go_back_are_told() {
    let (bottle, rates) = (vessel(), kinetics());
    let mut error: FgallError = init();
    let given = course(&bottle, &rates, &[]);
    let (status, ..) = walked(&given, &[1.0, 5.25, 5.0], &mut error);
    let argument = words(&error.argument);
    assert_eq!(
        (status, argument.as_str(), error.value),
        (FGALL_OUT_OF_ORDER, "at_days", 5.0)
    );
    let events = [event(2.0, FGALL_ACT_SHAKE), event(1.0, FGALL_ACT_SHAKE)];
    let given = course(&bottle, &rates, &events);
    let (status, ..) = walked(&given, &[1.0], &mut error);
    let argument = words(&error.argument);
    assert_eq!((status, argument.as_str()), (FGALL_OUT_OF_ORDER, "events"));
    // More poured than there is.
    let events = [of_volume(2.0, FGALL_ACT_POUR, 31.0)];
    let given = course(&bottle, &rates, &events);
    let (status, ..) = walked(&given, &[3.0], &mut error);
    assert_eq!(status, FGALL_OUT_OF_RANGE);
}
