//! Recipes in and sheets out as JSON.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]
#![cfg(feature = "serde")]

use ferrogall::bench::Lot;
use ferrogall::formulate::Choice;
use ferrogall::json::{BatchSpec, JsonError, batch_from_json, sheet_from_json};
use ferrogall::quantity::*;
use ferrogall::recipe::{BatchSheet, Extraction, Recipe, SheetOptions, Solution};
use ferrogall::standards::reference_ink;
use proptest::prelude::*;
use serde_json::Value;

const BINDERY: &str = include_str!("../examples/recipes/bindery.json");
const TEA: &str = include_str!("../examples/recipes/strong_tea.json");
const IRON: &str = include_str!("../examples/recipes/brick_cleaner_iron.json");

#[test]
fn the_examples_read_and_print() {
    for json in [BINDERY, TEA, IRON] {
        let sheet = sheet_from_json(json).unwrap();
        assert!(sheet.to_string().contains(&sheet.title));
        let out: Value = serde_json::from_str(&sheet.to_json().unwrap()).unwrap();
        assert_eq!(out["schema"], 1);
        assert_eq!(out["ink"]["iron_g_per_l"], sheet.ink.iron_g_per_l);
    }
}

/// What is written in JSON is what would be written in Rust, to the bit.
#[test]
fn json_and_rust_are_one() {
    let batch = batch_from_json(
        r#"{ "schema": 1, "title": "t", "part_g": 5,
          "lots": [ { "name": "galls", "material": "aleppo_galls", "tannin": { "value": 0.5, "u": 0.05 } },
                    { "name": "salt", "material": "iron_ii_sulfate_heptahydrate", "price_per_kg": 6 },
                    { "name": "water", "material": "hard_tap_water", "alkalinity_mg_per_l": 200 } ],
          "solutions": [ { "name": "ink", "ingredients": [
             { "extract": { "plant": "galls", "parts": 3, "liquid": "water", "liquid_ml": 180,
                            "yield_share": { "value": 0.8, "u": 0.1 }, "hold_up_g_per_g": 1.2 } },
             { "lot": "salt", "parts": 1 } ], "use_share": 0.5 } ],
          "make_up": { "lot": "water", "volume_ml": 100 } }"#,
    )
    .unwrap();
    let galls = Lot::of("aleppo_galls")
        .unwrap()
        .named("galls")
        .tannin(0.5, 0.05)
        .unwrap();
    let galls = galls.build().unwrap();
    let salt = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .named("salt");
    let salt = salt
        .price(Price::per_kilogram(6.0).unwrap())
        .build()
        .unwrap();
    let water = Lot::of("hard_tap_water").unwrap().named("water");
    let water = water
        .alkalinity(grams_per_liter(200.0 * 1e-3))
        .unwrap()
        .build()
        .unwrap();
    let soak = Extraction::new(
        &galls,
        ferrogall::recipe::Amount::Parts(3.0),
        &water,
        milliliters(180.0),
    );
    let soak = soak.yielding(0.8, 0.1).unwrap().holding_back(1.2).unwrap();
    let recipe = Recipe::new("t")
        .with_part(grams(5.0))
        .with(
            Solution::new("ink")
                .extract(soak)
                .add(&salt, ferrogall::recipe::Amount::Parts(1.0))
                .use_only(ferrogall::recipe::Portion::Share(Share::new(0.5).unwrap())),
        )
        .make_up(&water, milliliters(100.0));
    assert_eq!(batch.recipe, recipe);
    assert_eq!(batch.recipe.evaluate().unwrap(), recipe.evaluate().unwrap());
}

/// A soak described by grain, warmth and time is the process of the room
/// `extraction`, in a recipe and in a formulation.
#[test]
fn a_soak_in_words_is_a_process() {
    use ferrogall::extraction::{Grain, Process, Straining, Wash};
    use ferrogall::formulate::{Soak, Targets};
    let text = r#"{
        "schema": 1, "title": "t",
        "lots": [ { "material": "aleppo_galls", "name": "galls" }, { "material": "distilled_water", "name": "water" },
                  { "material": "iron_ii_sulfate_heptahydrate", "name": "salt" } ],
        "solutions": [ { "name": "ink", "ingredients": [ { "extract": {
            "plant": "galls", "mass_g": 20, "liquid": "water", "liquid_g": 240,
            "soaked": { "grain": "crushed", "size_mm": 3, "temperature_c": 15, "hours": 6, "strained": "pressed" } } } ] } ]
    }"#;
    let batch = ferrogall::json::batch_from_json(text).unwrap();
    let galls = Lot::of("aleppo_galls")
        .unwrap()
        .named("galls")
        .build()
        .unwrap();
    let water = Lot::of("distilled_water")
        .unwrap()
        .named("water")
        .build()
        .unwrap();
    let wash = Wash::of(grams(240.0), celsius(15.0), hours(6.0))
        .unwrap()
        .strained(Straining::Pressed)
        .unwrap();
    let grain = Grain::crushed().measuring(millimeters(3.0)).unwrap();
    let process = Process::new(&galls, grams(20.0), grain)
        .unwrap()
        .wash(wash)
        .unwrap();
    let by = Extraction::by(&process, &water).unwrap();
    let made = batch.recipe.evaluate().unwrap();
    let found = made.solutions[0].extractions[0];
    let expected = by.run(None).unwrap();
    approx::assert_relative_eq!(
        found.liquor.galloyl().value,
        expected.liquor.galloyl().value,
        max_relative = 1e-12
    );
    approx::assert_relative_eq!(found.yield_u, expected.yield_u, max_relative = 1e-9);
    approx::assert_relative_eq!(found.drained_u, expected.drained_u, max_relative = 1e-9);
    // Hot, it scalds, and the sheet says so.
    let said = |text: &str| {
        let hot = ferrogall::json::batch_from_json(text).unwrap();
        let sheet = ferrogall::recipe::BatchSheet::new(&hot.recipe, &hot.options).unwrap();
        sheet.cautions.iter().any(|c| c.contains("scald"))
    };
    assert!(!said(text));
    assert!(said(
        &text.replace("\"temperature_c\": 15", "\"temperature_c\": 85")
    ));

    let text = r#"{
        "schema": 1, "title": "t",
        "lots": [ { "material": "aleppo_galls", "name": "galls" }, { "material": "distilled_water", "name": "water" },
                  { "material": "iron_ii_sulfate_heptahydrate", "name": "salt" } ],
        "formulate": { "volume_ml": 250, "iron_mmol_per_l": 50, "iron_ii_per_galloyl": 0.6,
            "iron": "salt", "tannin": "galls", "water": "water", "soak": { "water_per_plant": 12,
            "soaked": { "grain": "crushed", "size_mm": 3, "temperature_c": 15, "hours": 6, "strained": "pressed" } } }
    }"#;
    let batch = ferrogall::json::batch_from_json(text).unwrap();
    let salt = Lot::of("iron_ii_sulfate_heptahydrate")
        .unwrap()
        .named("salt")
        .build()
        .unwrap();
    let targets = Targets::new(milliliters(250.0), moles_per_liter(0.05), 0.6).unwrap();
    let choice = Choice::new(&salt, &galls, &water).soaked(Soak::by(&process).unwrap());
    let expected = choice.formulate(&targets).unwrap().recipe;
    let composition = |recipe: &Recipe| recipe.evaluate().unwrap().composition;
    approx::assert_relative_eq!(
        composition(&batch.recipe).galloyl().value,
        composition(&expected).galloyl().value,
        max_relative = 1e-12
    );

    let wrong = text.replace("\"crushed\"", "\"dust\"");
    assert!(ferrogall::json::batch_from_json(&wrong).is_err());
}

/// A published ink from any set of chosen lots: what has a lot is as
/// published, what has none is absent, and JSON says the same to the last bit.
#[test]
fn a_published_ink_takes_what_it_has_lots_for() {
    use ferrogall::composition::{Bulk, Component};
    let published = reference_ink("us_federal_writing_1935").unwrap();
    let full = published.recipe(liters(1.0), 1.0).unwrap();
    let full = full.evaluate().unwrap().composition;
    let lot = |id: &str| Lot::of(id).unwrap().build().unwrap();
    let optional = [
        ("gallic_acid", "gallic_acid_monohydrate"),
        ("acid", "hydrochloric_acid"),
        ("dye", "soluble_blue"),
        ("preservative", "phenol"),
    ];
    for chosen in 0..1 << optional.len() {
        let has = |i: usize| chosen & (1 << i) != 0;
        let mut choice = Choice::new(
            &lot("iron_ii_sulfate_heptahydrate"),
            &lot("tannic_acid"),
            &lot("distilled_water"),
        );
        let mut formulate = serde_json::json!({
            "volume_ml": 250, "reference_ink": published.id,
            "iron": "iron_ii_sulfate_heptahydrate", "tannin": "tannic_acid",
            "water": "distilled_water",
        });
        for (i, (field, id)) in optional.iter().enumerate().filter(|(i, _)| has(*i)) {
            formulate[field] = (*id).into();
            let lot = lot(id);
            choice = match i {
                0 => choice.gallic_acid(&lot),
                1 => choice.acid(&lot),
                2 => choice.dye(&lot),
                _ => choice.preservative(&lot),
            };
        }
        let targets = published.targets(milliliters(250.0), 1.0).unwrap();
        let made = choice.formulate(&choice.reachable(&targets)).unwrap();
        let ink = made.recipe.evaluate().unwrap().composition;

        let close = |got: f64, want: f64| (got - want).abs() <= 1e-9 * want.abs().max(1e-9);
        let gallic = |c: &ferrogall::composition::Composition| {
            c.amount(Component::GallicAcid).value / c.galloyl().value
        };
        assert!(close(
            ink.concentration(ink.iron_ii()).value,
            full.concentration(full.iron_ii()).value
        ));
        assert_eq!(close(gallic(&ink), gallic(&full)), has(0), "{chosen}");
        let expected = |i: usize, x: f64| if has(i) { x } else { 0.0 };
        let acid = full.concentration(full.strong_acid()).value;
        assert!(close(
            ink.concentration(ink.strong_acid()).value,
            expected(1, acid)
        ));
        let dye = full.mass_concentration(Bulk::Dye).value;
        assert!(close(
            ink.mass_concentration(Bulk::Dye).value,
            expected(2, dye)
        ));
        let phenol = full.preservative().value / full.volume().value;
        assert!(close(
            ink.preservative().value / ink.volume().value,
            expected(3, phenol)
        ));

        let mut lots = vec![];
        for id in [
            "iron_ii_sulfate_heptahydrate",
            "tannic_acid",
            "distilled_water",
        ]
        .into_iter()
        .chain(optional.map(|(_, id)| id))
        {
            lots.push(serde_json::json!({ "name": id, "material": id }));
        }
        let text = serde_json::json!({
            "schema": 1, "title": "like", "lots": lots, "formulate": formulate
        });
        let batch = batch_from_json(&text.to_string()).unwrap();
        let from_json = batch.recipe.evaluate().unwrap().composition;
        assert_eq!(from_json, ink, "{chosen}");
    }
}

#[test]
fn shapes_survive_a_round_trip() {
    for json in [BINDERY, TEA, IRON] {
        let spec: BatchSpec = serde_json::from_str(json).unwrap();
        let again = serde_json::from_str(&serde_json::to_string(&spec).unwrap()).unwrap();
        assert_eq!(spec, again);
    }
}

/// Every number of the sheet has its unit in its name, or is a pure ratio,
/// a count or money.
#[test]
fn field_names_carry_units() {
    let bare = [
        "schema",
        "count",
        "openings",
        "openings_to_share",
        "unpriced_lines",
        "cost",
        "per_batch",
        "per_liter",
        "per_bottle",
        "factor",
        "value",
        "limit",
        "low",
        "high",
        "mol",
        "iron_per_galloyl",
        "iron_ii_per_galloyl",
        "steps",
        "iron_ii_per_galloyl",
        "galloyl_per_iron",
        "iron_per_tannic_acid",
        "vitriol_per_tannin_by_mass",
        "galls_per_vitriol_by_mass",
        "plant_per_iron_salt",
        "ph",
        "ph_low",
        "ph_high",
        "ph_with_pure_water",
        "ph_oxidised",
        "ph_settled",
        "ph_before",
        "ph_after",
        "draws",
    ];
    let units = [
        "_g", "_ml", "_per_l", "_percent", "_mmol", "_days", "_c", "_kpa", "_per_cm3", "_per_kg",
    ];
    fn walk(name: &str, v: &Value, check: &dyn Fn(&str)) {
        match v {
            Value::Object(fields) => fields.iter().for_each(|(k, v)| walk(k, v, check)),
            Value::Array(items) => items.iter().for_each(|v| walk(name, v, check)),
            Value::Number(_) => check(name),
            _ => {}
        }
    }
    for json in [BINDERY, TEA, IRON] {
        let out: Value =
            serde_json::from_str(&sheet_from_json(json).unwrap().to_json().unwrap()).unwrap();
        walk("", &out, &|name| {
            let ok = bare.contains(&name) || units.iter().any(|u| name.ends_with(u));
            assert!(ok, "{name} has no unit");
        });
    }
}

#[test]
fn errors_say_where_and_what() {
    let batch = |lots: &str, rest: &str| {
        batch_from_json(&format!(
            r#"{{ "schema": 1, "title": "t", "lots": [{lots}] {rest} }}"#
        ))
        .unwrap_err()
    };
    assert!(matches!(
        batch_from_json("{\n  \"schema\": 1,\n  \"salt\": 3 }").unwrap_err(),
        JsonError::Syntax { line: 3, message, .. } if message.contains("salt")
    ));
    assert!(matches!(
        batch(r#"{ "name": "x", "material": "unobtainium" }"#, ""),
        JsonError::InLot { lot, error } if lot == "x" && matches!(&*error,
            JsonError::Lot(ferrogall::bench::LotError::UnknownMaterial { id, .. }) if id == "unobtainium")
    ));
    let water = r#"{ "name": "water", "material": "distilled_water" }"#;
    assert!(matches!(
        batch(&format!("{water},{water}"), ""),
        JsonError::TwoLots { name } if name == "water"
    ));
    assert!(matches!(
        batch(water, r#", "make_up": { "lot": "wine", "volume_ml": 5 }"#),
        JsonError::NoSuchLot { name } if name == "wine"
    ));
    assert!(matches!(
        batch(water, r#", "solutions": [ { "name": "s", "ingredients": [ { "lot": "water", "mass_g": 1, "parts": 2 } ] } ]"#),
        JsonError::ExactlyOne { place, .. } if place == "solution \"s\", ingredient 1"
    ));
    assert!(matches!(
        batch(r#"{ "name": "x", "material": "tannic_acid", "tannin": { "value": 1.2 } }"#, ""),
        JsonError::InLot { error, .. } if matches!(&*error,
            JsonError::Lot(ferrogall::bench::LotError::OutOfRange(e)) if e.value == 1.2)
    ));
}

/// What the documents promise a word to be is the word.
#[test]
fn words_are_those_of_the_documents() {
    use ferrogall::check::Code;
    for code in [
        Code::IronIII,
        Code::WrongHydrate,
        Code::MasksIron,
        Code::NoWater,
    ] {
        assert_eq!(serde_json::to_value(code).unwrap(), code.id());
    }
    for (equal, from, to) in [("iron_ii", "a", "b"), ("galloyl", "t", "g")] {
        let json = format!(
            r#"{{ "schema": 1, "title": "t", "lots": [
              {{ "name": "a", "material": "iron_ii_sulfate_heptahydrate" }},
              {{ "name": "b", "material": "iron_ii_chloride_tetrahydrate" }},
              {{ "name": "t", "material": "tannic_acid" }},
              {{ "name": "g", "material": "gallic_acid_monohydrate" }},
              {{ "name": "w", "material": "distilled_water" }} ],
              "solutions": [ {{ "name": "s", "ingredients": [
                {{ "lot": "a", "mass_g": 3 }}, {{ "lot": "t", "mass_g": 3 }} ] }} ],
              "make_up": {{ "lot": "w", "volume_ml": 200 }},
              "substitute": {{ "lot": "{from}", "with": "{to}", "equal": "{equal}" }} }}"#
        );
        let sheet: Value =
            serde_json::from_str(&sheet_from_json(&json).unwrap().to_json().unwrap()).unwrap();
        assert_eq!(sheet["comparison"]["equal"], equal);
    }
}

/// A slip in an identifier is answered with the nearest one.
#[test]
fn near_identifiers_are_offered() {
    for (asked, nearest) in [
        (
            "iron ii sulphate heptahydrate",
            vec!["iron_ii_sulfate_heptahydrate"],
        ),
        ("Aleppo galls, crushed", vec!["aleppo_galls"]),
        ("xyzzy", vec![]),
    ] {
        let e = Lot::of(asked).unwrap_err();
        let ferrogall::bench::LotError::UnknownMaterial { nearest: found, .. } = e else {
            panic!("{e}")
        };
        assert_eq!(found, nearest, "{asked}");
    }
    // "Iron sulphate" is no identity: every hydrate is offered.
    let e = Lot::of("iron sulphate").unwrap_err().to_string();
    for hydrate in ["anhydrous", "monohydrate", "heptahydrate"] {
        assert!(e.contains(&format!("iron_ii_sulfate_{hydrate}")), "{e}");
    }
}

/// A moss killer that declares 12 % iron: 0.12 / 0.3287 of it is monohydrate.
#[test]
fn declared_iron_sets_the_purity() {
    let killer = Lot::of("iron_ii_sulfate_monohydrate").unwrap();
    let killer = killer.iron_content(0.12, 0.005).unwrap().build().unwrap();
    let iron = killer.composition(grams(100.0)).unwrap().iron_ii();
    assert!((iron.value - 12.0 / 55.845).abs() < 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn any_text_gets_an_answer(text in ".{0,200}") {
        let _ = sheet_from_json(&text);
    }

    /// One character of a good recipe changed: an answer, never a panic.
    #[test]
    fn a_slip_of_the_pen_gets_an_answer(at in 0usize..2000, with in "[0-9a-z{}\\[\\],:\".\\-]") {
        for json in [BINDERY, TEA, IRON] {
            let mut chars: Vec<char> = json.chars().collect();
            let n = chars.len();
            chars[at % n] = with.chars().next().unwrap();
            let _ = sheet_from_json(&chars.into_iter().collect::<String>());
        }
    }
}

/// A finding's slips are in the JSON, amounts under names with their unit, and
/// the best is printed beneath the finding. NBS RP807 has 1 g of phenol.
#[test]
fn slips_are_written_and_printed() {
    let published = reference_ink("us_federal_writing_1935").unwrap();
    let published = published.recipe(liters(1.0), 1.0).unwrap();
    let phenol = Lot::of("phenol").unwrap().purity(1.0, 0.0).unwrap();
    let pot = published.solutions()[0].clone();
    let pot = pot.add(&phenol.named("more phenol").build().unwrap(), grams(9.0));
    let (water, volume) = published.filled_up().unwrap();
    let recipe = Recipe::new("copy").with(pot).make_up(water, volume);
    let sheet = BatchSheet::new(&recipe, &SheetOptions::default()).unwrap();
    let slip = &sheet.findings[0].slips[0];
    let page: Vec<String> = sheet
        .to_string()
        .split_whitespace()
        .map(String::from)
        .collect();
    assert!(page.join(" ").contains(&format!("] {}", slip.message)));

    let out: Value = serde_json::from_str(&sheet.to_json().unwrap()).unwrap();
    let written = &out["findings"][0]["slips"][0];
    assert_eq!(written["kind"], slip.kind.id());
    assert_eq!(written["message"], slip.message.as_str());
    assert_eq!(written["value"], slip.value);
    assert_eq!(written["plausibility_percent"], 100.0 * slip.plausibility);
    assert!(written["left"].is_null() && written.get("recipe").is_none());
    let change = &written["changes"][0];
    assert_eq!(change["lot"], slip.changes[0].lot.as_str());
    assert!(change["given_g"].is_number() && change["meant_g"].is_number());
}
