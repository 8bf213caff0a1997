//! What honest callers rely on: texts, errors, columns, threads, sheets.

use super::room::*;
use crate::common::root;
use core::ffi::CStr;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use std::collections::BTreeSet;
use std::ffi::CString;

fn status_text(status: u32) -> &'static str {
    // SAFETY: static texts.
    unsafe { CStr::from_ptr(fgall_status_text(status)) }
        .to_str()
        .unwrap()
}

#[test]
fn every_status_has_a_text_of_its_own() {
    let known: Vec<&str> = (0..200)
        .map(status_text)
        .filter(|text| *text != "no such status")
        .collect();
    assert_eq!(known.len(), 56);
    assert_eq!(known.iter().collect::<BTreeSet<_>>().len(), known.len());
    assert_eq!(status_text(FGALL_OK), "Done.");
    assert_eq!(status_text(u32::MAX), "no such status");
}

#[test]
fn versions_are_those_of_the_crate() {
    // SAFETY: static texts.
    unsafe {
        let version = CStr::from_ptr(fgall_version()).to_str().unwrap();
        let data = CStr::from_ptr(fgall_data_version()).to_str().unwrap();
        assert_eq!(version, env!("CARGO_PKG_VERSION"));
        assert_eq!(data, ferrogall::source::DATA_VERSION);
    }
    assert_eq!(fgall_abi_version(), FGALL_ABI_VERSION);
}

#[test]
fn the_whole_catalogue_comes_over_uncut() {
    let mut count = 0;
    // SAFETY: locals.
    assert_eq!(
        unsafe { fgall_material_count(&mut count, null_mut()) },
        FGALL_OK
    );
    let rows: Vec<_> = ferrogall::bench::materials().collect();
    assert_eq!(count, rows.len());
    for (index, row) in rows.iter().enumerate() {
        let mut at: FgallMaterial = init();
        let mut found: FgallMaterial = init();
        let id = CString::new(row.id()).unwrap();
        // SAFETY: locals.
        unsafe {
            assert_eq!(fgall_material_at(index, &mut at, null_mut()), FGALL_OK);
            assert_eq!(
                fgall_material_find(id.as_ptr(), &mut found, null_mut()),
                FGALL_OK
            );
        }
        assert_eq!((at.index, found.index), (index, index));
        assert_eq!(words(&at.id), row.id());
        assert_eq!(words(&at.name), row.name());
        // SAFETY: as `said` promises.
        let source = said(|b, c, n| unsafe { fgall_material_source(index, b, c, n, null_mut()) });
        assert_eq!(source, row.source().to_string());
    }
}

#[test]
fn an_error_says_what_and_success_clears_it() {
    let room = Room::new();
    let mut error: FgallError = init();
    let name = CString::new("ß".repeat(200)).unwrap();
    // SAFETY: live handles and locals.
    unsafe {
        let status = fgall_material_find(name.as_ptr(), &mut init(), &mut error);
        assert_eq!(
            (status, error.status),
            (FGALL_UNKNOWN_NAME, FGALL_UNKNOWN_NAME)
        );
        let message = words(&error.message);
        // Cut at a character, not in the middle of one.
        assert!(message.ends_with('ß') && message.len() >= 254, "{message}");
        assert!(error.value.is_nan());
        assert_eq!(fgall_recipe_scale(room.recipe, 2.0, &mut error), FGALL_OK);
    }
    assert_eq!(error.status, FGALL_OK);
    assert_eq!(
        (words(&error.argument), words(&error.message)),
        Default::default()
    );
}

#[test]
fn a_recipe_outlives_its_shelf() {
    let mut room = Room::new();
    let before = room.evaluate();
    // SAFETY: freed once; the room frees a NULL later.
    unsafe { fgall_shelf_free(room.shelf) };
    room.shelf = null_mut();
    assert_eq!(room.evaluate().mass_g.to_bits(), before.mass_g.to_bits());
}

#[test]
fn names_and_lines_come_through_buffers() {
    let room = Room::new();
    // SAFETY: as `said` promises.
    unsafe {
        let name = said(|b, c, n| fgall_shelf_lot_name(room.shelf, GALLS, b, c, n, null_mut()));
        assert_eq!(name, "galls");
        let assumed =
            said(|b, c, n| fgall_shelf_lot_assumed(room.shelf, GALLS, b, c, n, null_mut()));
        assert!(assumed.lines().count() > 1 && assumed.contains("tannin"));
    }
}

/// One plan evaluated over aligned, unaligned, reversed and constant columns.
#[test]
fn columns_take_any_stride_and_a_bad_row_stops_nothing() {
    let room = Room::new();
    let lots = [VITRIOL, TANNIN];
    let mut columns = null_mut();
    // SAFETY: live handles and locals.
    let new = unsafe {
        fgall_columns_new(
            room.shelf,
            lots.as_ptr(),
            2,
            WATER,
            &mut columns,
            null_mut(),
        )
    };
    assert_eq!(new, FGALL_OK);

    let vitriol = [15.0, f64::NAN, -1.0, 5000.0, 0.0, f64::INFINITY];
    let tannin = 12.0;
    // The vitriol backwards, one byte off any alignment, 9 bytes apart.
    let mut packed = vec![0u8; 1 + 9 * vitriol.len()];
    for (i, g) in vitriol.iter().rev().enumerate() {
        packed[1 + 9 * i..][..8].copy_from_slice(&f64::to_ne_bytes(*g));
    }
    let last = packed[1 + 9 * (vitriol.len() - 1)..].as_ptr();
    let masses = [
        FgallColumn {
            data: last.cast(),
            stride_bytes: -9,
        },
        FgallColumn {
            data: &tannin,
            stride_bytes: 0,
        },
    ];
    let volume = 1000.0;
    let make_up = FgallColumn {
        data: &volume,
        stride_bytes: 0,
    };
    let stride = size_of::<FgallRow>() + 3;
    let mut rows = vec![0u8; 1 + stride * vitriol.len()];
    let mut status = [99u32; 6];
    let mut bad = 0;
    // SAFETY: every column has six numbers; the results have room for six.
    let done = unsafe {
        fgall_columns_evaluate(
            columns,
            masses.as_ptr(),
            2,
            &make_up,
            6,
            rows[1..].as_mut_ptr().cast(),
            stride as isize,
            status.as_mut_ptr(),
            4,
            &mut bad,
            null_mut(),
        )
    };
    assert_eq!((done, bad), (FGALL_OK, 4));
    assert_eq!(
        status,
        [
            FGALL_OK,
            FGALL_INPUT_NAN,
            FGALL_OUT_OF_RANGE,
            FGALL_TOO_MUCH_FOR_VOLUME,
            FGALL_OK,
            FGALL_OUT_OF_RANGE
        ]
    );
    let row = |i: usize| -> [f64; 15] {
        core::array::from_fn(|k| {
            let at = 1 + stride * i + 8 * k;
            f64::from_ne_bytes(rows[at..at + 8].try_into().unwrap())
        })
    };
    for i in [1, 2, 3, 5] {
        assert!(row(i).iter().all(|x| x.is_nan()), "row {i}");
    }
    // The last is the cost, and no lot of the plan has a price.
    let [figures @ .., cost] = row(0);
    assert!(figures.iter().all(|x| x.is_finite()) && cost.is_nan());
    // The first row is the recipe of the room; index 5 is its iron in g/L.
    let ink = room.evaluate();
    assert!((row(0)[5] / ink.iron_g_per_l - 1.0).abs() < 1e-12); // another order of sums
    // SAFETY: freed once.
    unsafe { fgall_columns_free(columns) };
}

/// Handles are raw pointers; the rules of the header are what is tested.
#[derive(Clone, Copy)]
struct Shared(*mut FgallShelf, *mut FgallRecipe);
// SAFETY: the header allows reading one handle from many threads.
unsafe impl Send for Shared {}
// SAFETY: as above.
unsafe impl Sync for Shared {}

#[test]
fn a_handle_is_read_by_many_threads_and_handles_are_changed_apart() {
    let room = Room::new();
    let expected = room.evaluate().iron_per_galloyl_high.to_bits();
    let shared = Shared(room.shelf, room.recipe);
    std::thread::scope(|scope| {
        for thread in 0..4 {
            let shared = &shared;
            scope.spawn(move || {
                for round in 0..50 {
                    let mut own = null_mut();
                    let mut ink: FgallComposition = init();
                    let mut error: FgallError = init();
                    // SAFETY: the shared handles are only read.
                    unsafe {
                        let e: *mut FgallError = &mut error;
                        assert_eq!(fgall_recipe_evaluate(shared.1, &mut ink, e), FGALL_OK);
                        assert_eq!(ink.iron_per_galloyl_high.to_bits(), expected);
                        assert_eq!(fgall_recipe_copy_new(shared.1, &mut own, e), FGALL_OK);
                        let factor = f64::from(thread * 100 + round + 1);
                        assert_eq!(fgall_recipe_scale(own, factor, e), FGALL_OK);
                        let added = fgall_recipe_add_mass(own, shared.0, TANNIN, 1.0, e);
                        assert_eq!(added, FGALL_OK);
                        assert_eq!(fgall_recipe_evaluate(own, &mut ink, e), FGALL_OK);
                        assert!((ink.volume_ml / (factor * 1000.0) - 1.0).abs() < 1e-12);
                        fgall_recipe_free(own);
                    }
                }
            });
        }
    });
}

#[test]
fn sheets_from_json_are_those_of_rust() {
    let json = std::fs::read_to_string(root().join("examples/recipes/strong_tea.json")).unwrap();
    let sheet = ferrogall::json::sheet_from_json(&json).unwrap();
    let json = CString::new(json).unwrap();
    let mut recipe = null_mut();
    let mut error: FgallError = init();
    // SAFETY: as `said` promises; live handles and locals.
    unsafe {
        let text = said(|b, c, n| fgall_sheet_text(json.as_ptr(), b, c, n, null_mut()));
        assert_eq!(text, sheet.to_string());
        let out = said(|b, c, n| fgall_sheet_json(json.as_ptr(), b, c, n, null_mut()));
        assert_eq!(out, sheet.to_json().unwrap());
        assert_eq!(
            fgall_recipe_json_new(json.as_ptr(), &mut recipe, null_mut()),
            FGALL_OK
        );
        assert_eq!(
            fgall_recipe_evaluate(recipe, &mut init(), null_mut()),
            FGALL_OK
        );
        fgall_recipe_free(recipe);
        for bad in [
            c"",
            c"{",
            c"[]",
            c"{\"schema\": 2}",
            c"{\"schema\": 1, \"inkwell\": 3}",
        ] {
            let status = fgall_sheet_text(bad.as_ptr(), null_mut(), 0, &mut 0, &mut error);
            assert_eq!(status, FGALL_BAD_JSON, "{bad:?}");
            assert!(!words(&error.message).is_empty());
        }
    }
}

#[test]
fn formulations_substitutions_and_home_made_iron_agree_with_rust() {
    use ferrogall::bench::{IronInAcid, Lot};
    use ferrogall::formulate::{Equal, Swap};
    use ferrogall::quantity::{ReadAmount, ReadMass, grams};
    let room = Room::new();
    let (mut lot, mut out) = (0, null_mut());
    // SAFETY: live handles and locals.
    unsafe {
        let acid = spec(c"hydrochloric_acid", c"acid");
        let added = fgall_shelf_add_lot(room.shelf, &acid, &mut lot, null_mut());
        assert_eq!((added, lot), (FGALL_OK, 4));
        let input = FgallIronInAcid {
            iron_g: 10.0,
            acid_lot: 4,
            acid_g: 41.5,
            ..init()
        };
        let mut made: FgallIronMade = init();
        let added =
            fgall_shelf_add_iron_in_acid(room.shelf, &input, &mut made, &mut lot, null_mut());
        assert_eq!((added, lot), (FGALL_OK, 5));
        let acid = Lot::of("hydrochloric_acid").unwrap().build().unwrap();
        let expected = IronInAcid::new(grams(10.0), &acid, grams(41.5))
            .react()
            .unwrap();
        assert_eq!(made.iron_ii_mol, expected.iron_ii.in_moles());

        let mut swap: FgallSubstitution = init();
        let equal = FGALL_EQUAL_IRON_II;
        let swapped = fgall_substitute(room.shelf, VITRIOL, 5, equal, 15.0, &mut swap, null_mut());
        assert_eq!(swapped, FGALL_OK);
        let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")
            .unwrap()
            .build()
            .unwrap();
        let expected = Swap::new(&vitriol, &expected.lot, Equal::IronII);
        let expected = expected.of(grams(15.0)).unwrap();
        assert_eq!(swap.mass_g, expected.mass.in_grams());

        let choice = FgallChoice {
            iron_lot: VITRIOL,
            tannin_lot: GALLS,
            water_lot: WATER,
            ..init()
        };
        let targets = FgallTargets {
            volume_ml: 500.0,
            iron_ii_mol_per_l: 0.054,
            iron_per_galloyl: 0.9,
            ..init()
        };
        let (shelf, soak) = (room.shelf, null());
        let made = fgall_recipe_formulate_new(shelf, &choice, &targets, soak, &mut out, null_mut());
        assert_eq!(made, FGALL_OK);
        let mut ink: FgallComposition = init();
        assert_eq!(fgall_recipe_evaluate(out, &mut ink, null_mut()), FGALL_OK);
        assert!((ink.iron_ii_mol_per_l / 0.054 - 1.0).abs() < 1e-9); // solved, then added up
        assert!((ink.iron_per_galloyl / 0.9 - 1.0).abs() < 1e-9);
        fgall_recipe_free(out);

        let wanting = FgallTargets {
            set: FGALL_TARGET_GUM,
            gum_g_per_l: 10.0,
            ..targets
        };
        let none = fgall_recipe_formulate_new(shelf, &choice, &wanting, soak, &mut out, null_mut());
        assert_eq!(none, FGALL_NO_LOT_FOR_TARGET);

        let id = said(|b, c, n| fgall_reference_ink_id(0, b, c, n, null_mut()));
        let id = CString::new(id).unwrap();
        let new = fgall_recipe_reference_new(id.as_ptr(), 250.0, 1.0, &mut out, null_mut());
        assert_eq!(new, FGALL_OK);
        assert_eq!(fgall_recipe_evaluate(out, &mut ink, null_mut()), FGALL_OK);
        assert!((ink.volume_ml - 250.0).abs() < 1e-9);
        fgall_recipe_free(out);
    }
}
