//! What is said of a recipe built through handles: the same as in Rust.

use super::room::*;
use core::ffi::c_char;
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::check::{Severity, check};
use ferrogall::composition::{Verdict, criteria};
use ferrogall::formulate::Equal;
use ferrogall::oxidation::{Bottle, Closure, polymers};
use ferrogall::quantity::*;
use ferrogall::recipe::{
    BatchSheet, BottlePlan, Kit, Measure, Recipe, SheetOptions, Solution, Storage, smallest_batch,
};
use std::collections::BTreeSet;
use std::ffi::CString;

/// The lots and the recipe of [`Room`], made in Rust.
fn twin() -> Recipe {
    twin_with(None)
}

/// The same with something more in it.
fn twin_with(more: Option<(&Lot, f64)>) -> Recipe {
    let lot = |id, name| Lot::of(id).unwrap().named(name);
    let vitriol = lot("iron_ii_sulfate_heptahydrate", "vitriol");
    let vitriol = vitriol.build().unwrap();
    let tannin = lot("tannic_acid", "tannic acid").tannin(0.88, 0.0);
    let tannin = tannin.unwrap().build().unwrap();
    let water = lot("distilled_water", "water").build().unwrap();
    let mut ink = Solution::new("ink")
        .add(&vitriol, grams(15.0))
        .add(&tannin, grams(12.0));
    if let Some((lot, g)) = more {
        ink = ink.add(lot, grams(g));
    }
    let recipe = Recipe::new("ink").with(ink);
    recipe.make_up(&water, milliliters(1000.0))
}

fn c_kit(tools: &[FgallTool]) -> FgallKit {
    FgallKit {
        balance_step_g: 2.0,
        cylinder_step_ml: 5.0,
        tools: tools.as_ptr(),
        tool_count: tools.len(),
        ..init()
    }
}

const SCOOP: FgallTool = FgallTool {
    lot_name: c"vitriol".as_ptr(),
    kind: FGALL_TOOL_BALANCE,
    step_g: 0.7,
    step_ml: f64::NAN,
};

fn kit() -> Kit {
    let finer = Measure::Balance { step: grams(0.7) };
    Kit::new(grams(2.0), milliliters(5.0)).with("vitriol", finer)
}

fn sheet_of(recipe: *const FgallRecipe, options: *const FgallSheetOptions) -> [String; 2] {
    // SAFETY: as `said` promises; a live handle.
    unsafe {
        [
            said(|b, c, n| fgall_recipe_sheet_text(recipe, options, b, c, n, null_mut())),
            said(|b, c, n| fgall_recipe_sheet_json(recipe, options, b, c, n, null_mut())),
        ]
    }
}

fn both(sheet: &BatchSheet) -> [String; 2] {
    [sheet.to_string(), sheet.to_json().unwrap()]
}

#[test]
fn sheets_of_handles_are_those_of_rust() {
    let room = Room::new();
    let recipe = twin();
    let plain = BatchSheet::new(&recipe, &SheetOptions::default()).unwrap();
    assert_eq!(sheet_of(room.recipe, null()), both(&plain));
    assert_eq!(sheet_of(room.recipe, &init()), both(&plain));

    let gallic = Lot::of("gallic_acid_monohydrate").unwrap();
    let gallic = gallic.named("gallic acid").build().unwrap();
    let c_gallic = spec(c"gallic_acid_monohydrate", c"gallic acid");
    let mut lot = 0;
    // SAFETY: a live handle and locals.
    let added = unsafe { fgall_shelf_add_lot(room.shelf, &c_gallic, &mut lot, null_mut()) };
    assert_eq!(added, FGALL_OK);

    let tools = [SCOOP];
    let c_kit = c_kit(&tools);
    let mut storage = FgallStorage {
        set: FGALL_BOTTLE_AIR
            | FGALL_BOTTLE_OPENED
            | FGALL_BOTTLE_AIR_EXCHANGED
            | FGALL_BOTTLE_DRAWN
            | FGALL_BOTTLE_KEPT
            | FGALL_BOTTLE_STATED_SHARE
            | FGALL_BOTTLE_WALL,
        temperature_c: 15.0,
        pressure_kpa: 95.0,
        opened_every_days: 3.5,
        air_exchanged_share: 0.5,
        drawn_ml: 0.4,
        kept_days: 200.0,
        stated_share: 0.15,
        wall_polymer: c"hdpe".as_ptr(),
        wall_area_cm2: 70.0,
        wall_thickness_mm: 1.5,
        ..init()
    };
    let mut options = FgallSheetOptions {
        kit: &c_kit,
        storage: &storage,
        currency: c"crowns".as_ptr(),
        set: FGALL_SHEET_BOTTLES | FGALL_SHEET_SUBSTITUTE,
        bottles: 30,
        capacity_ml: 30.0,
        fill_share: 0.9,
        loss_share: 0.1,
        lot_name: c"tannic acid".as_ptr(),
        shelf: room.shelf,
        to_lot: lot,
        equal: FGALL_EQUAL_GALLOYL,
        ..init()
    };
    let hdpe = polymers().iter().find(|p| p.id == "hdpe").unwrap();
    let share = |x| Share::new(x).unwrap();
    let plan = BottlePlan::new(30, milliliters(30.0)).unwrap();
    let plan = plan.filled(share(0.9)).unwrap();
    let mut expected = SheetOptions {
        kit: Some(kit()),
        bottles: Some(plan.losing(share(0.1)).unwrap()),
        storage: Some(Storage {
            opened_every: Some(days(3.5)),
            air_exchanged: share(0.5),
            drawn_per_opening: milliliters(0.4),
            kept_for: days(200.0),
            temperature: celsius(15.0),
            pressure: kilopascals(95.0),
            closure: Closure::wall(hdpe, square_centimeters(70.0), millimeters(1.5)).unwrap(),
            stated_share: share(0.15),
        }),
        substitute: Some(("tannic acid".into(), gallic, Equal::Galloyl)),
        currency: "crowns".into(),
    };
    let full = BatchSheet::new(&recipe, &expected).unwrap();
    assert!(full.oxygen.is_some() && full.rounding.is_some() && full.comparison.is_some());
    assert_eq!(sheet_of(room.recipe, &options), both(&full));

    // A field that no bit names is not read.
    storage.set = 0;
    storage.closure = c"wine_closure".as_ptr();
    storage.temperature_c = f64::NAN;
    options.storage = &storage;
    options.set = FGALL_SHEET_BOTTLES;
    options.lot_name = null();
    let closures = ferrogall::oxidation::closures();
    let wine = closures.iter().find(|c| c.id == "wine_closure").unwrap();
    expected.storage = Some(Storage {
        closure: Closure::of(wine),
        ..Storage::default()
    });
    expected.substitute = None;
    let fewer = BatchSheet::new(&recipe, &expected).unwrap();
    assert_eq!(sheet_of(room.recipe, &options), both(&fewer));
}

#[test]
fn a_slip_in_the_options_is_answered_with_its_field() {
    let room = Room::new();
    let storage = |change: &dyn Fn(&mut FgallStorage)| {
        let mut storage: FgallStorage = init();
        change(&mut storage);
        storage
    };
    let slips: &[(&str, u32, FgallStorage)] = &[
        (
            "temperature_c",
            FGALL_OUT_OF_RANGE,
            storage(&|s| {
                (s.set, s.temperature_c, s.pressure_kpa) = (FGALL_BOTTLE_AIR, 60.0, 101.0)
            }),
        ),
        (
            "pressure_kpa",
            FGALL_INPUT_NAN,
            storage(&|s| {
                (s.set, s.temperature_c, s.pressure_kpa) = (FGALL_BOTTLE_AIR, 20.0, f64::NAN)
            }),
        ),
        (
            "drawn_ml",
            FGALL_OUT_OF_RANGE,
            storage(&|s| (s.set, s.drawn_ml) = (FGALL_BOTTLE_DRAWN, 28.0)),
        ),
        (
            "opened_every_days",
            FGALL_OUT_OF_RANGE,
            storage(&|s| s.set = FGALL_BOTTLE_OPENED),
        ),
        (
            "kept_days",
            FGALL_OUT_OF_RANGE,
            storage(&|s| (s.set, s.kept_days) = (FGALL_BOTTLE_KEPT, -1.0)),
        ),
        (
            "stated_share",
            FGALL_OUT_OF_RANGE,
            storage(&|s| (s.set, s.stated_share) = (FGALL_BOTTLE_STATED_SHARE, 1.5)),
        ),
        (
            "air_exchanged_share",
            FGALL_INPUT_NAN,
            storage(&|s| {
                (s.set, s.air_exchanged_share) = (FGALL_BOTTLE_AIR_EXCHANGED, f64::NAN);
            }),
        ),
        (
            "wall_polymer",
            FGALL_NULL_POINTER,
            storage(&|s| s.set = FGALL_BOTTLE_WALL),
        ),
        (
            "wall_polymer",
            FGALL_UNKNOWN_NAME,
            storage(&|s| (s.set, s.wall_polymer) = (FGALL_BOTTLE_WALL, c"oak".as_ptr())),
        ),
        (
            "wall_thickness_mm",
            FGALL_OUT_OF_RANGE,
            storage(&|s| {
                (s.set, s.wall_polymer) = (FGALL_BOTTLE_WALL, c"pet".as_ptr());
                s.wall_area_cm2 = 60.0;
            }),
        ),
        (
            "wall_area_cm2",
            FGALL_INPUT_NAN,
            storage(&|s| {
                (s.set, s.wall_polymer) = (FGALL_BOTTLE_WALL, c"pet".as_ptr());
                (s.wall_area_cm2, s.wall_thickness_mm) = (f64::NAN, 1.0);
            }),
        ),
        (
            "closure",
            FGALL_EITHER_OR,
            storage(&|s| (s.set, s.closure) = (FGALL_BOTTLE_WALL, c"sealed_glass".as_ptr())),
        ),
        (
            "closure",
            FGALL_UNKNOWN_NAME,
            storage(&|s| s.closure = c"wax".as_ptr()),
        ),
        (
            "set",
            FGALL_FOREIGN_VALUE,
            storage(&|s| s.set = FGALL_BOTTLE_IRON_PER_OXYGEN),
        ),
    ];
    let bottles = FgallSheetOptions {
        set: FGALL_SHEET_BOTTLES,
        bottles: 20,
        capacity_ml: 30.0,
        fill_share: 0.9,
        ..init()
    };
    let swap = FgallSheetOptions {
        set: FGALL_SHEET_SUBSTITUTE,
        lot_name: c"tannic acid".as_ptr(),
        shelf: room.shelf,
        to_lot: GALLS,
        equal: FGALL_EQUAL_GALLOYL,
        ..init()
    };
    let mut cases: Vec<(&str, u32, FgallSheetOptions)> = slips
        .iter()
        .map(|(field, status, storage)| (*field, *status, FgallSheetOptions { storage, ..bottles }))
        .collect();
    #[rustfmt::skip]
    cases.extend([
        ("bottles", FGALL_OUT_OF_RANGE, FgallSheetOptions { bottles: 0, ..bottles }),
        ("capacity_ml", FGALL_INPUT_NAN, FgallSheetOptions { capacity_ml: f64::NAN, ..bottles }),
        ("fill_share", FGALL_OUT_OF_RANGE, FgallSheetOptions { fill_share: 0.0, ..bottles }),
        ("loss_share", FGALL_OUT_OF_RANGE, FgallSheetOptions { loss_share: 0.95, ..bottles }),
        ("lot_name", FGALL_NULL_POINTER, FgallSheetOptions { lot_name: null(), ..swap }),
        ("lot_name", FGALL_UNKNOWN_NAME, FgallSheetOptions { lot_name: c"oak".as_ptr(), ..swap }),
        ("shelf", FGALL_NULL_POINTER, FgallSheetOptions { shelf: null(), ..swap }),
        ("to_lot", FGALL_NO_SUCH_INDEX, FgallSheetOptions { to_lot: 4, ..swap }),
        ("equal", FGALL_FOREIGN_VALUE, FgallSheetOptions { equal: 0, ..swap }),
        ("currency", FGALL_NOT_UTF8, FgallSheetOptions { currency: c"\xff".as_ptr(), ..init() }),
        ("set", FGALL_FOREIGN_VALUE, FgallSheetOptions { set: 4, ..init() }),
    ]);
    for (field, expected, options) in &cases {
        let (mut error, mut needed): (FgallError, _) = (init(), 77);
        let (none, n) = (null_mut(), &mut needed);
        // SAFETY: a live handle and locals.
        let status =
            unsafe { fgall_recipe_sheet_text(room.recipe, options, none, 0, n, &mut error) };
        assert_eq!(
            (status, words(&error.argument).as_str()),
            (*expected, *field)
        );
        assert_eq!(needed, 77, "{field}");
    }
}

#[test]
fn findings_are_those_of_rust_and_come_uncut() {
    let room = Room::new();
    let mut lot = 0;
    let name = CString::new("ü".repeat(400)).unwrap();
    // SAFETY: live handles and locals.
    unsafe {
        let mut blue = spec(c"methylene_blue", c"blue");
        blue.name = name.as_ptr();
        let e = null_mut;
        assert_eq!(
            fgall_shelf_add_lot(room.shelf, &blue, &mut lot, e()),
            FGALL_OK
        );
        let added = fgall_recipe_add_mass(room.recipe, room.shelf, lot, 3.0, e());
        assert_eq!(added, FGALL_OK);
    }
    let blue = Lot::of("methylene_blue").unwrap();
    let blue = blue.named(name.to_str().unwrap()).build().unwrap();
    let recipe = twin_with(Some((&blue, 3.0)));
    let made = recipe.evaluate().unwrap();

    let tools = [SCOOP];
    let c_kit = c_kit(&tools);
    for (c_kit, kit) in [(null(), None), (&raw const c_kit, Some(kit()))] {
        let expected = check(&made, kit.as_ref());
        assert!(expected.iter().any(|f| f.code.id() == "dye_precipitates"));
        // SAFETY: as `listed` promises; a live handle.
        let found = listed(|f, c, n| unsafe {
            fgall_recipe_findings(room.recipe, c_kit, f, c, n, null_mut())
        });
        assert_eq!(found.len(), expected.len());
        let mut cut = 0;
        for (c, rust) in found.iter().zip(&expected) {
            let severity = match rust.severity {
                Severity::Notice => FGALL_SEVERITY_NOTICE,
                Severity::Warning => FGALL_SEVERITY_WARNING,
                Severity::Error => FGALL_SEVERITY_ERROR,
            };
            assert_eq!(c.severity, severity);
            assert_eq!(words(&c.code), rust.code.id());
            assert_eq!(c.value.to_bits(), rust.value.to_bits());
            assert_eq!(c.limit.to_bits(), rust.limit.to_bits());
            assert_eq!(words(&c.unit), rust.unit);
            assert_eq!(words(&c.source), rust.source.to_string());
            // Only a lot of an absurd name makes a message that is cut.
            let message = words(&c.message);
            assert!(rust.message.starts_with(&message));
            assert!(message == rust.message || message.len() >= FGALL_TEXT_BYTES - 2);
            cut += usize::from(message != rust.message);
        }
        assert_eq!(cut > 0, kit.is_some());
    }
}

#[test]
fn roundings_and_stocks_are_those_of_rust() {
    let room = Room::new();
    let recipe = twin();
    let (kit, tools) = (kit(), [SCOOP]);
    let c_kit = c_kit(&tools);
    let expected = recipe.rounded(&kit).unwrap().lines;
    // SAFETY: as `listed` promises; a live handle.
    let lines = listed(|l, c, n| unsafe {
        fgall_recipe_rounding_lines(room.recipe, &c_kit, l, c, n, null_mut())
    });
    assert_eq!((lines.len(), expected.len()), (2, 2));
    for (c, rust) in lines.iter().zip(&expected) {
        assert_eq!(words(&c.lot), rust.lot);
        assert_eq!(c.tool, FGALL_TOOL_BALANCE);
        assert_eq!(c.exact_g, rust.exact.in_grams());
        assert_eq!(c.rounded_g, rust.rounded.in_grams());
        assert_eq!(c.steps, rust.steps);
        assert_eq!(c.iron_error, rust.iron_error);
        assert_eq!(c.ratio_error, rust.ratio_error);
        assert_eq!(c.acid_error_mol_per_l, rust.acid_error.in_moles_per_liter());
    }
    // 15 g in steps of 0.7 g: 21 of them, 14.7 g, two percent short.
    assert_eq!(lines[0].steps, 21.0);
    assert!((lines[0].iron_error + 0.02).abs() < 1e-9);
    // The recipe was only asked.
    assert!((room.evaluate().iron_per_galloyl - recipe_ratio(&recipe)).abs() < 1e-15);

    for steps in [20.0, 25.0, 500.0] {
        let expected = smallest_batch(&recipe, &kit, steps).unwrap().stocks;
        // SAFETY: as `listed` promises; a live handle.
        let stocks = listed(|s, c, n| unsafe {
            fgall_recipe_stocks(room.recipe, &c_kit, steps, s, c, n, null_mut())
        });
        assert_eq!(stocks.len(), expected.len());
        assert!(!stocks.is_empty(), "12 g are but six steps of 2 g");
        for (c, rust) in stocks.iter().zip(&expected) {
            assert_eq!(words(&c.lot), rust.lot);
            assert_eq!(c.weigh_g, rust.weigh.in_grams());
            assert_eq!(c.dissolve_to_ml, rust.dissolve_to.in_milliliters());
            assert_eq!(c.take_ml, rust.take.in_milliliters());
        }
        let mut smallest: FgallSmallestBatch = init();
        // SAFETY: a live handle and locals.
        let status = unsafe {
            fgall_recipe_smallest_batch(room.recipe, &c_kit, steps, &mut smallest, null_mut())
        };
        assert_eq!((status, smallest.stocks_wanted), (FGALL_OK, stocks.len()));
    }
}

fn recipe_ratio(recipe: &Recipe) -> f64 {
    let made = recipe.evaluate().unwrap();
    made.iron_per_galloyl().unwrap().value
}

#[test]
fn verdicts_are_those_of_rust_and_there_are_none_without_tannin() {
    let room = Room::new();
    let recipe = twin();
    let ink = recipe.evaluate().unwrap().composition;
    let of = |recipe: *const FgallRecipe| {
        // SAFETY: as `listed` promises; a live handle.
        listed(|v, c, n| unsafe { fgall_recipe_verdicts(recipe, v, c, n, null_mut()) })
    };
    let verdicts: Vec<FgallVerdict> = of(room.recipe);
    assert_eq!(verdicts.len(), criteria().len());
    let mut kinds = BTreeSet::new();
    for (c, rust) in verdicts.iter().zip(criteria()) {
        assert_eq!(words(&c.criterion), rust.id);
        assert_eq!(words(&c.name), rust.name);
        assert_eq!(words(&c.source), rust.source.to_string());
        let per_l = |n| ink.concentration(n).in_moles_per_liter();
        kinds.insert(c.verdict);
        match rust.verdict(&ink).unwrap() {
            Verdict::IronInExcess { iron, factor } => {
                assert_eq!(c.verdict, FGALL_IRON_IN_EXCESS);
                assert_eq!((c.factor, c.excess_mol_per_l), (factor, per_l(iron)));
                assert!(factor > 1.0);
            }
            Verdict::TanninInExcess { iron, factor } => {
                assert_eq!(c.verdict, FGALL_TANNIN_IN_EXCESS);
                assert_eq!((c.factor, c.excess_mol_per_l), (factor, per_l(iron)));
                assert!(factor < 1.0);
            }
            _ => {
                assert_eq!((c.verdict, c.excess_mol_per_l), (FGALL_BALANCED, 0.0));
                let balanced = rust.balanced;
                let found = c.factor * balanced.typical;
                assert!((balanced.min..=balanced.max).contains(&found), "{found}");
            }
        }
    }
    assert!(kinds.len() > 1, "the criteria do not agree on this ink");

    let mut iron_water = null_mut();
    // SAFETY: live handles and locals.
    unsafe {
        let e = null_mut;
        let new = fgall_recipe_new(c"iron".as_ptr(), &mut iron_water, e());
        assert_eq!(new, FGALL_OK);
        fgall_recipe_begin_solution(iron_water, c"iron".as_ptr(), e());
        fgall_recipe_add_mass(iron_water, room.shelf, VITRIOL, 1.0, e());
        fgall_recipe_make_up(iron_water, room.shelf, WATER, 100.0, e());
        let mut needed = 9;
        let none = fgall_recipe_verdicts(iron_water, null_mut(), 0, &mut needed, e());
        assert_eq!((none, needed), (FGALL_OK, 0));
        fgall_recipe_free(iron_water);
    }
}

#[test]
fn the_us_federal_writing_ink_is_balanced_as_standard_inks_are() {
    // Federal Specification TT-I-563 (NBS Research Paper 807): 11.7 g of tannic
    // acid, 3.8 g of gallic acid and 15.0 g of green vitriol in a litre, 1.65
    // galloyl per iron.
    let mut recipe = null_mut();
    let id = c"us_federal_writing_1935".as_ptr();
    // SAFETY: live handles and locals.
    unsafe {
        let new = fgall_recipe_reference_new(id, 1000.0, 1.0, &mut recipe, null_mut());
        assert_eq!(new, FGALL_OK);
        let verdicts: Vec<FgallVerdict> =
            listed(|v, c, n| fgall_recipe_verdicts(recipe, v, c, n, null_mut()));
        let verdict = |id| verdicts.iter().find(|v| words(&v.criterion) == id).unwrap();
        assert_eq!(verdict("standard_inks").verdict, FGALL_BALANCED);
        let one_to_one = verdict("one_iron_per_galloyl");
        assert_eq!(one_to_one.verdict, FGALL_TANNIN_IN_EXCESS);
        assert!((one_to_one.factor - 1.0 / 1.65).abs() < 0.005);
        fgall_recipe_free(recipe);
    }
}

#[test]
fn plastic_bottles_are_those_of_rust_and_every_polymer_is_listed() {
    let mut count = 0;
    // SAFETY: locals.
    assert_eq!(
        unsafe { fgall_polymer_count(&mut count, null_mut()) },
        FGALL_OK
    );
    assert_eq!(count, polymers().len());
    for (index, row) in polymers().iter().enumerate() {
        // SAFETY: as `said` promises.
        let id = said(|b, c, n| unsafe { fgall_polymer_id(index, b, c, n, null_mut()) });
        assert_eq!(id, row.id);
        let id = CString::new(id).unwrap();
        let mut bottle = FgallBottle {
            capacity_ml: 40.0,
            fill_ml: 30.0,
            iron_ii_mol_per_l: 0.054,
            set: FGALL_BOTTLE_WALL,
            wall_polymer: id.as_ptr(),
            wall_area_cm2: 60.0,
            wall_thickness_mm: 0.5,
            ..init()
        };
        let mut bound: FgallOxygenBound = init();
        let mut error: FgallError = init();
        // SAFETY: locals.
        let status = unsafe { fgall_oxygen_bound(&bottle, &mut bound, null_mut()) };
        assert_eq!(status, FGALL_OK);
        let wall = Closure::wall(row, square_centimeters(60.0), millimeters(0.5)).unwrap();
        let rust = Bottle::builder(milliliters(40.0), milliliters(30.0), moles_per_liter(0.054));
        let rust = rust.closure(wall).build().unwrap().bound();
        assert_eq!(
            bound.oxygen_closure_mmol_per_year,
            rust.oxygen_closure_per_year.in_millimoles()
        );
        assert!(bound.oxygen_closure_mmol_per_year > 0.0);

        bottle.closure = c"sealed_glass".as_ptr();
        // SAFETY: locals.
        let status = unsafe { fgall_oxygen_bound(&bottle, &mut bound, &mut error) };
        assert_eq!(status, FGALL_EITHER_OR);
        assert_eq!(words(&error.argument), "closure");
    }
}

/// More rows than one core is given at a time, in columns of odd strides.
#[test]
fn many_rows_have_the_bits_of_one_row_alone() {
    const ROWS: usize = 20_000;
    let room = Room::new();
    let (lots, mut columns) = ([VITRIOL, TANNIN], null_mut());
    let plan = {
        let recipe = twin();
        let lines = &recipe.evaluate().unwrap().lines;
        let of = |name| lines.iter().find(|l| l.lot.name() == name).unwrap().lot;
        let chosen = [of("vitriol"), of("tannic acid")];
        ferrogall::recipe::ColumnPlan::new(&chosen, of("water")).unwrap()
    };
    let vitriol = |i: usize| match i % 101 {
        7 => f64::NAN,
        11 => -1.0,
        _ => 5.0 + (i % 977) as f64 * 0.037,
    };
    let tannin: Vec<f64> = (0..ROWS).map(|i| 3.0 + (i % 613) as f64 * 0.011).collect();
    let mut packed = vec![0u8; 1 + 11 * ROWS];
    for i in 0..ROWS {
        packed[1 + 11 * i..][..8].copy_from_slice(&vitriol(i).to_ne_bytes());
    }
    let masses = [
        FgallColumn {
            data: packed[1..].as_ptr().cast(),
            stride_bytes: 11,
        },
        FgallColumn {
            data: tannin.as_ptr(),
            stride_bytes: 8,
        },
    ];
    let volume = 1000.0;
    let make_up = FgallColumn {
        data: &volume,
        stride_bytes: 0,
    };
    let stride = size_of::<FgallRow>();
    let mut rows = vec![0u8; stride * ROWS];
    let (mut status, mut bad) = (vec![99u32; ROWS], 0);
    // Written from the last row to the first.
    let last = rows.as_mut_ptr().wrapping_add(stride * (ROWS - 1));
    // SAFETY: live handles; every column has ROWS numbers, the results have
    // room for as many.
    let done = unsafe {
        let (shelf, e) = (room.shelf, null_mut);
        let new = fgall_columns_new(shelf, lots.as_ptr(), 2, WATER, &mut columns, e());
        assert_eq!(new, FGALL_OK);
        let done = fgall_columns_evaluate(
            columns,
            masses.as_ptr(),
            2,
            &make_up,
            ROWS,
            last.cast(),
            -(stride as isize),
            status.as_mut_ptr(),
            4,
            &mut bad,
            e(),
        );
        fgall_columns_free(columns);
        done
    };
    assert_eq!(done, FGALL_OK);
    assert_eq!(bad, status.iter().filter(|s| **s != FGALL_OK).count());
    assert_eq!(
        bad,
        (0..ROWS).filter(|i| [7, 11].contains(&(i % 101))).count()
    );
    for i in 0..ROWS {
        let (one, _) = plan.row(|lot| [vitriol(i), tannin[i]][lot], volume);
        let at = stride * (ROWS - 1 - i);
        let figure = |k: usize| {
            let bytes = rows[at + 8 * k..][..8].try_into().unwrap();
            u64::from_ne_bytes(bytes)
        };
        let expected = [
            one.volume_ml,
            one.mass_g,
            one.make_up_g,
            one.iron_ii_mol_per_l,
        ];
        for (k, x) in expected.iter().enumerate() {
            assert_eq!(figure(k), x.to_bits(), "row {i}, figure {k}");
        }
        assert_eq!(figure(14), one.cost.to_bits(), "row {i}");
    }
}

/// What a function with an array, capacity and needed lists.
fn listed<T>(call: impl Fn(*mut T, usize, *mut usize) -> u32) -> Vec<T> {
    let mut needed = usize::MAX;
    let short = call(null_mut(), 0, &mut needed);
    let expected = if needed == 0 {
        FGALL_OK
    } else {
        FGALL_BUFFER_TOO_SMALL
    };
    assert_eq!(short, expected);
    let mut bytes = vec![0x55 as c_char; (needed + 1) * size_of::<T>() + align_of::<T>()];
    let start = bytes.as_ptr().align_offset(align_of::<T>());
    let array: *mut T = bytes[start..].as_mut_ptr().cast();
    if needed > 0 {
        let short = call(array, needed - 1, &mut needed);
        assert_eq!(short, FGALL_BUFFER_TOO_SMALL);
        assert!(bytes.iter().all(|&b| b == 0x55), "written though too small");
        assert_eq!(call(null_mut(), needed, &mut needed), FGALL_NULL_POINTER);
    }
    let array: *mut T = bytes[start..].as_mut_ptr().cast();
    assert_eq!(call(array, needed, &mut needed), FGALL_OK);
    let beyond = start + needed * size_of::<T>();
    assert!(bytes[beyond..].iter().all(|&b| b == 0x55), "written beyond");
    let array: *const T = bytes[start..].as_ptr().cast();
    // SAFETY: aligned, and `needed` of them were just written.
    (0..needed)
        .map(|i| unsafe { array.add(i).read() })
        .collect()
}
