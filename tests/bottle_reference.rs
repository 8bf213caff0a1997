//! The course of a bottle against an independent solution of the same
//! equations: SciPy 1.17.1, Radau at rtol 3e-13, itself checked there against
//! LSODA and DOP853. The file `tests/data/oxidation_reference.json` says what
//! each case is; this test reads its layout, so that cases can be added.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::oxidation::{
    Act, Air, Change, Conductance, Contents, Course, Event, FirstOrder, HenryConstant, Kinetics,
    Moment, SecondOrder, ThirdOrder, Vessel,
};
use ferrogall::quantity::{Share, Time, celsius, liters, moles, moles_per_liter};
use serde_json::{Map, Value};
use uom::si::f64::VolumeRate;
use uom::si::pressure::atmosphere;
use uom::si::time::second;
use uom::si::volume_rate::liter_per_second;

type Object = Map<String, Value>;

fn seconds(value: f64) -> Time {
    Time::new::<second>(value)
}

fn number(o: &Object, name: &str) -> f64 {
    o[name]
        .as_f64()
        .unwrap_or_else(|| panic!("{name} is no number"))
}

/// The air of a case: partial pressure and Henry constant as listed.
fn air(p: &Object, x_o2: f64) -> Air {
    let oxygen = x_o2 * (number(p, "P") - number(p, "p_w"));
    let henry = HenryConstant::moles_per_liter_atm(number(p, "H")).unwrap();
    Air::of(
        celsius(number(p, "T") - 273.15),
        uom::si::f64::Pressure::new::<atmosphere>(oxygen),
        henry,
    )
    .unwrap()
}

fn kinetics(p: &Object) -> Kinetics {
    Kinetics::builder()
        .oxidation(SecondOrder::l_per_mol_s(number(p, "k1")).unwrap())
        .oxidation_by_two(ThirdOrder::l2_per_mol2_s(number(p, "k2")).unwrap())
        .reduction(SecondOrder::l_per_mol_s(number(p, "k_red")).unwrap())
        .settling(
            FirstOrder::per_second(number(p, "k_sed")).unwrap(),
            moles_per_liter(number(p, "c_sol")),
        )
        .scavenging(
            SecondOrder::l_per_mol_s(number(p, "k_A")).unwrap(),
            number(p, "s_A"),
        )
        .iron_per_oxygen(number(p, "nu"))
        .rest_from_phenol(Share::new(number(p, "phi")).unwrap())
        .build()
        .unwrap()
}

fn transfer(p: &Object) -> VolumeRate {
    VolumeRate::new::<liter_per_second>(number(p, "kLA"))
}

fn conductance(p: &Object) -> Conductance {
    Conductance::mol_per_second_atm(number(p, "G")).unwrap()
}

fn vessel(p: &Object, x_o2: f64) -> Vessel {
    let closed = Vessel::closed(
        liters(number(p, "V_L")),
        liters(number(p, "V_G")),
        air(p, x_o2),
    )
    .unwrap()
    .transfer(transfer(p))
    .unwrap()
    .conductance(conductance(p));
    if p["clamp"].as_bool().unwrap() {
        closed.standing_open()
    } else {
        closed
    }
}

fn contents(o: &Object) -> Contents {
    let amount = |name| moles(number(o, name));
    Contents {
        iron_ii: amount("F2"),
        iron_iii: amount("F3"),
        sediment: amount("S"),
        oxygen_dissolved: amount("OL"),
        oxygen_gas: amount("OG"),
        phenol_electrons: amount("R"),
        scavenger: amount("A"),
        other_electrons: amount("X"),
        oxygen_in: amount("IN"),
        ..Contents::default()
    }
}

fn amount(m: &Moment, name: &str) -> f64 {
    let c = &m.contents;
    match name {
        "F2" => c.iron_ii.value,
        "F3" => c.iron_iii.value,
        "S" => c.sediment.value,
        "OL" => c.oxygen_dissolved.value,
        "OG" => c.oxygen_gas.value,
        "R" => c.phenol_electrons.value,
        "A" => c.scavenger.value,
        "X" => c.other_electrons.value,
        "IN" => c.oxygen_in.value,
        _ => panic!("no amount is called {name}"),
    }
}

/// The acts of one event. An event is an object with a time and either a kind
/// (`pour`, `exchange`, `shake`, `set`) with its figure, or the kinds as keys.
fn acts(event: &Object, params: &mut Object, x_o2: f64) -> Vec<Act> {
    const TIMES: [&str; 4] = ["t", "t_s", "time", "time_s"];
    const KINDS: [&str; 5] = ["kind", "type", "event", "what", "action"];
    let kind = KINDS.iter().find_map(|k| event.get(*k)?.as_str());
    let figures: Vec<(&String, &Value)> = event
        .iter()
        .filter(|(k, _)| !TIMES.contains(&k.as_str()) && !KINDS.contains(&k.as_str()))
        .collect();
    let Some(kind) = kind else {
        // One key for each act; one opening is poured, exchanged, shaken.
        let order = |name: &str| match name.split('_').next() {
            Some("pour") => 0,
            Some("exchange") => 1,
            Some("shake") => 2,
            _ => 3,
        };
        let mut figures = figures;
        figures.sort_by_key(|(k, _)| order(k));
        return figures
            .into_iter()
            .filter(|(_, v)| **v != Value::Bool(false) && !v.is_null())
            .map(|(k, v)| act(k.split('_').next().unwrap(), v, params, x_o2))
            .collect();
    };
    let figure = match figures.as_slice() {
        [] => Value::Null,
        [(k, v)] if v.is_number() && kind == "set" => {
            Value::Object(Map::from_iter([((*k).clone(), (*v).clone())]))
        }
        [(_, v)] => (*v).clone(),
        several => Value::Object(
            several
                .iter()
                .map(|(k, v)| ((*k).clone(), (*v).clone()))
                .collect(),
        ),
    };
    vec![act(kind, &figure, params, x_o2)]
}

fn act(kind: &str, figure: &Value, params: &mut Object, x_o2: f64) -> Act {
    match kind {
        "pour" => Act::Pour(liters(figure.as_f64().expect("volume poured"))),
        "exchange" => Act::Exchange(Share::new(figure.as_f64().expect("share")).unwrap()),
        "shake" => Act::Shake,
        "set" => {
            for (name, value) in figure.as_object().expect("parameters to set") {
                assert!(params.contains_key(name), "unknown parameter {name}");
                params.insert(name.clone(), value.clone());
            }
            Act::Change(Change {
                air: Some(air(params, x_o2)),
                kinetics: Some(kinetics(params)),
                transfer: Some(transfer(params)),
                conductance: Some(conductance(params)),
                breathing: None,
                open: params["clamp"].as_bool(),
            })
        }
        other => panic!("unknown kind of event: {other}"),
    }
}

fn time_of(event: &Object) -> f64 {
    ["t", "t_s", "time", "time_s"]
        .iter()
        .find_map(|k| event.get(*k)?.as_f64())
        .expect("an event has a time")
}

struct Case {
    id: String,
    vessel: Vessel,
    kinetics: Kinetics,
    contents: Contents,
    events: Vec<Event>,
    times: Vec<f64>,
    names: Vec<String>,
    wanted: Vec<Vec<f64>>,
}

fn cases() -> (Vec<Case>, f64) {
    let text = include_str!("data/oxidation_reference.json");
    let file: Value = serde_json::from_str(text).unwrap();
    let x_o2 = file["constants"]["x_O2"].as_f64().unwrap();
    let list = |v: &Value| -> Vec<f64> {
        let all = v.as_array().unwrap();
        all.iter().map(|x| x.as_f64().unwrap()).collect()
    };
    let read = |case: &Value| {
        let mut params = case["params"].as_object().unwrap().clone();
        let start = (vessel(&params, x_o2), kinetics(&params));
        let mut events = Vec::new();
        for event in case["events"].as_array().unwrap() {
            let event = event.as_object().expect("an event is an object");
            for act in acts(event, &mut params, x_o2) {
                let at = seconds(time_of(event));
                events.push(Event { at, act });
            }
        }
        let names = case["names"].as_array().unwrap();
        Case {
            id: case["id"].as_str().unwrap().to_owned(),
            vessel: start.0,
            kinetics: start.1,
            contents: contents(case["initial"].as_object().unwrap()),
            events,
            times: list(&case["t_s"]),
            names: names
                .iter()
                .map(|n| n.as_str().unwrap().to_owned())
                .collect(),
            wanted: case["y_mol"].as_array().unwrap().iter().map(list).collect(),
        }
    };
    let all = file["cases"].as_array().unwrap().iter().map(read).collect();
    let tolerance = file["suggested_tolerance_rel_of_max"].as_f64().unwrap();
    (all, tolerance)
}

#[test]
fn every_case_within_a_millionth_of_each_amount() {
    let (cases, tolerance) = cases();
    assert!(tolerance <= 1e-6 && cases.len() >= 12);
    for case in &cases {
        let times: Vec<_> = case.times.iter().map(|&t| seconds(t)).collect();
        let mut got: Vec<Moment> = Vec::new();
        let summary = Course::new(case.vessel, case.kinetics, case.contents)
            .with_events(&case.events)
            .unwrap()
            .walk(&times, |_, m| got.push(*m))
            .unwrap_or_else(|e| panic!("{}: {e}", case.id));
        assert_eq!(got.len(), case.wanted.len());
        assert!(
            summary.iron_error < 1e-12 && summary.electron_error < 1e-12,
            "{}: {summary:?}",
            case.id
        );
        let mut worst: f64 = 0.0;
        for (column, name) in case.names.iter().enumerate() {
            let most = case
                .wanted
                .iter()
                .map(|row| row[column].abs())
                .fold(0.0, f64::max);
            for (row, moment) in case.wanted.iter().zip(&got) {
                let miss = (amount(moment, name) - row[column]).abs();
                // An amount that stays 0 must be 0.
                worst = worst.max(if most > 0.0 { miss / most } else { miss });
                assert!(
                    miss <= tolerance * most,
                    "{} {name} at {:?}: {} instead of {}",
                    case.id,
                    moment.at,
                    amount(moment, name),
                    row[column]
                );
            }
        }
        println!(
            "{:35} {worst:.1e}, {} steps, {} evaluations, balances {:.0e} {:.0e}, clipped {:.0e}",
            case.id,
            summary.steps,
            summary.evaluations,
            summary.iron_error,
            summary.electron_error,
            summary.clipped,
        );
    }
}
