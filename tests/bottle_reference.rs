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

const TIMES: [&str; 4] = ["t", "t_s", "time", "time_s"];
const KINDS: [&str; 6] = ["kind", "type", "event", "what", "action", "op"];
const ACTS: [&str; 4] = ["pour", "exchange", "shake", "set"];

/// The acts of one event. An event is an object with a time and either a kind
/// (`pour`, `exchange`, `shake`, `set`) with its figure, or the kinds as keys, or
/// a list of acts; or it is a list that begins with the time.
fn acts(event: &Value, params: &mut Object, x_o2: f64) -> Vec<Act> {
    let event = match event {
        Value::Array(list) => return vec![listed(&list[1..], params, x_o2)],
        Value::Object(event) => event,
        other => panic!("no event: {other}"),
    };
    let kind = KINDS.iter().find_map(|k| event.get(*k)?.as_str());
    let figures: Vec<(&String, &Value)> = event
        .iter()
        .filter(|(k, _)| !TIMES.contains(&k.as_str()) && !KINDS.contains(&k.as_str()))
        .collect();
    if let Some(kind) = kind.filter(|k| ACTS.contains(k)) {
        return vec![act(kind, &figure(kind, &figures), params, x_o2)];
    }
    if let [(_, Value::Array(several))] = figures.as_slice() {
        let each = several.iter().map(|a| match a {
            Value::Array(list) => listed(list, params, x_o2),
            one => acts(one, params, x_o2).remove(0),
        });
        return each.collect();
    }
    // One key for each act; one opening is poured, exchanged, shaken.
    let name = |k: &str| k.split('_').next().unwrap().to_owned();
    let mut figures = figures;
    figures.sort_by_key(|(k, _)| ACTS.iter().position(|a| *a == name(k)));
    figures
        .into_iter()
        .filter(|(_, v)| **v != Value::Bool(false) && !v.is_null())
        .map(|(k, v)| act(&name(k), v, params, x_o2))
        .collect()
}

/// `["pour", 0.001]`
fn listed(list: &[Value], params: &mut Object, x_o2: f64) -> Act {
    let kind = list[0].as_str().expect("an act has a name");
    act(kind, list.get(1).unwrap_or(&Value::Null), params, x_o2)
}

/// What goes with a kind: a number, or the parameters to set.
fn figure(kind: &str, figures: &[(&String, &Value)]) -> Value {
    let named = |n: &str| figures.iter().find(|(k, _)| *k == n).map(|(_, v)| *v);
    match figures {
        [] => Value::Null,
        [(_, v)] if kind != "set" || v.is_object() => (*v).clone(),
        several if kind == "set" => {
            let name = ["name", "param", "parameter", "key"]
                .iter()
                .find_map(|k| named(k));
            match (name.and_then(Value::as_str), named("value")) {
                (Some(name), Some(value)) => {
                    Value::Object(Map::from_iter([(name.to_owned(), value.clone())]))
                }
                _ => Value::Object(
                    several
                        .iter()
                        .map(|(k, v)| ((*k).clone(), (*v).clone()))
                        .collect(),
                ),
            }
        }
        several => panic!("which figure of {kind}: {several:?}"),
    }
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

fn time_of(event: &Value) -> f64 {
    match event {
        Value::Array(list) => list[0].as_f64(),
        event => TIMES.iter().find_map(|k| event.get(*k)?.as_f64()),
    }
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

/// The file's present cases have no events; this is how those would be read.
#[test]
fn events_are_read_however_they_are_written() {
    let text = include_str!("data/oxidation_reference.json");
    let file: Value = serde_json::from_str(text).unwrap();
    let params = file["cases"][0]["params"].as_object().unwrap();
    let read = |event: &str| {
        let event: Value = serde_json::from_str(event).unwrap();
        let mut params = params.clone();
        (time_of(&event), acts(&event, &mut params, 0.20946), params)
    };
    let opening = vec![
        Act::Pour(liters(0.001)),
        Act::Exchange(Share::new(0.3).unwrap()),
        Act::Shake,
    ];
    for event in [
        r#"{ "t": 60.0, "pour": 0.001, "exchange": 0.3, "shake": true }"#,
        r#"{ "t_s": 60.0, "type": "open", "shake": true, "exchange_phi": 0.3, "pour_L": 0.001 }"#,
        r#"{ "t": 60.0, "acts": [["pour", 0.001], ["exchange", 0.3], ["shake"]] }"#,
        r#"{ "t": 60.0, "do": [{ "kind": "pour", "v": 0.001 }, { "kind": "exchange", "phi": 0.3 },
             { "kind": "shake" }] }"#,
    ] {
        let (at, acts, _) = read(event);
        assert_eq!((at, acts), (60.0, opening.clone()), "{event}");
    }
    for (event, one) in [
        (r#"{ "t": 5, "kind": "pour", "v": 0.001 }"#, 0),
        (r#"[5, "pour", 0.001]"#, 0),
        (r#"{ "time": 5, "event": "exchange", "phi": 0.3 }"#, 1),
        (r#"{ "t": 5, "type": "shake" }"#, 2),
    ] {
        assert_eq!(read(event).1, [opening[one]], "{event}");
    }
    for event in [
        r#"{ "t": 5, "kind": "set", "params": { "k1": 0.25 } }"#,
        r#"{ "t": 5, "kind": "set", "k1": 0.25 }"#,
        r#"{ "t": 5, "kind": "set", "param": "k1", "value": 0.25 }"#,
        r#"{ "t": 5, "set": { "k1": 0.25 } }"#,
    ] {
        let (_, acts, params) = read(event);
        assert!(matches!(acts[..], [Act::Change(_)]), "{event}");
        assert_eq!(params["k1"], 0.25, "{event}");
    }
}
