//! Sheets of recipes built through handles are those of Rust.

use super::room::*;
use super::twin::*;
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::formulate::Equal;
use ferrogall::oxidation::{Closure, polymers};
use ferrogall::quantity::*;
use ferrogall::recipe::{BatchSheet, BottlePlan, SheetOptions, Storage};

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
