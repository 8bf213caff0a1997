//! Pointers, sizes, constants, texts and numbers that no honest caller gives.

use super::programs::declared;
use super::room::*;
use core::ffi::c_char;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use std::collections::BTreeSet;

/// Calls each function and keeps its name beside its answer.
macro_rules! answers {
    ($($name:ident($($argument:expr),* $(,)?);)*) => {
        // SAFETY: what is not NULL is wrong in a way that is looked at first.
        vec![$((stringify!($name), unsafe { $name($($argument),*) })),*]
    };
}

#[test]
fn null_is_answered_everywhere() {
    const ONE: f64 = 1.0;
    let answers = answers! {
        fgall_material_count(null_mut(), null_mut());
        fgall_material_at(0, null_mut(), null_mut());
        fgall_material_find(null(), null_mut(), null_mut());
        fgall_material_source(0, null_mut(), 0, null_mut(), null_mut());
        fgall_molar_mass(null(), null_mut(), null_mut(), null_mut());
        fgall_water_density(ONE, null_mut(), null_mut());
        fgall_solution_from_mass_percent(null(), ONE, ONE, null_mut(), null_mut());
        fgall_solution_from_molarity(null(), ONE, ONE, null_mut(), null_mut());
        fgall_solution_from_density(null(), ONE, ONE, null_mut(), null_mut());
        fgall_solution_from_baume(null(), 1, ONE, ONE, null_mut(), null_mut());
        fgall_solution_from_twaddell(null(), ONE, ONE, null_mut(), null_mut());
        fgall_density_from_baume(1, ONE, ONE, null_mut(), null_mut());
        fgall_density_from_twaddell(ONE, ONE, null_mut(), null_mut());
        fgall_shelf_new(null_mut(), null_mut());
        fgall_shelf_add_lot(null_mut(), null(), null_mut(), null_mut());
        fgall_shelf_count(null(), null_mut(), null_mut());
        fgall_shelf_lot(null(), 0, null_mut(), null_mut());
        fgall_shelf_lot_name(null(), 0, null_mut(), 0, null_mut(), null_mut());
        fgall_shelf_lot_assumed(null(), 0, null_mut(), 0, null_mut(), null_mut());
        fgall_shelf_mass_of_volume(null(), 0, ONE, null_mut(), null_mut());
        fgall_shelf_add_iron_in_acid(null_mut(), null(), null_mut(), null_mut(), null_mut());
        fgall_recipe_new(null(), null_mut(), null_mut());
        fgall_recipe_copy_new(null(), null_mut(), null_mut());
        fgall_recipe_begin_solution(null_mut(), null(), null_mut());
        fgall_recipe_add_mass(null_mut(), null(), 0, ONE, null_mut());
        fgall_recipe_add_volume(null_mut(), null(), 0, ONE, null_mut());
        fgall_recipe_add_parts(null_mut(), null(), 0, ONE, null_mut());
        fgall_recipe_set_part(null_mut(), ONE, null_mut());
        fgall_recipe_add_extraction(null_mut(), null(), 0, ONE, 0, ONE, null(), null_mut());
        fgall_recipe_make_up_solution(null_mut(), null(), 0, ONE, null_mut());
        fgall_recipe_use_share(null_mut(), ONE, null_mut());
        fgall_recipe_use_volume(null_mut(), ONE, null_mut());
        fgall_recipe_use_mass(null_mut(), ONE, null_mut());
        fgall_recipe_make_up(null_mut(), null(), 0, ONE, null_mut());
        fgall_recipe_evaluate(null(), null_mut(), null_mut());
        fgall_recipe_lines(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_scale(null_mut(), ONE, null_mut());
        fgall_recipe_to_volume(null_mut(), ONE, null_mut());
        fgall_recipe_for_bottles(null_mut(), 1, ONE, ONE, 0.0, null_mut(), null_mut());
        fgall_recipe_limited_by(null_mut(), null(), ONE, null_mut(), null_mut(), null_mut());
        fgall_recipe_round(null_mut(), null(), null_mut(), null_mut());
        fgall_recipe_smallest_batch(null(), null(), ONE, null_mut(), null_mut());
        fgall_substitute(null(), 0, 0, 1, ONE, null_mut(), null_mut());
        fgall_recipe_substitute(null_mut(), null(), null(), 0, 1, null_mut());
        fgall_recipe_formulate_new(null(), null(), null(), null(), null_mut(), null_mut());
        fgall_recipe_formulate_like_new(
            null(), null(), null(), ONE, ONE, null(), null_mut(), null_mut(),
        );
        fgall_reference_ink_count(null_mut(), null_mut());
        fgall_reference_ink_id(0, null_mut(), 0, null_mut(), null_mut());
        fgall_reference_ink_source(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_reference_new(null(), ONE, ONE, null_mut(), null_mut());
        fgall_oxygen_bound(null(), null_mut(), null_mut());
        fgall_closure_count(null_mut(), null_mut());
        fgall_closure_id(0, null_mut(), 0, null_mut(), null_mut());
        fgall_columns_new(null(), null(), 0, 0, null_mut(), null_mut());
        fgall_columns_evaluate(
            null(), null(), 0, null(), 0, null_mut(), 0, null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_sheet_text(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_sheet_json(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_json_new(null(), null_mut(), null_mut());
    };
    for (name, status) in &answers {
        assert_eq!(*status, FGALL_NULL_POINTER, "{name}");
    }
    // SAFETY: NULL may be freed; both results may be left out.
    unsafe {
        fgall_shelf_free(null_mut());
        fgall_recipe_free(null_mut());
        fgall_columns_free(null_mut());
        let neither = (null_mut(), null_mut());
        let shown = fgall_hydrometer_from_density(1, 1.1, 20.0, neither.0, neither.1, null_mut());
        assert_eq!(shown, FGALL_OK);
    }
    // No function of the header was forgotten.
    let called: BTreeSet<String> = answers.iter().map(|(name, _)| name.to_string()).collect();
    let others = [
        "fgall_abi_version",
        "fgall_columns_free",
        "fgall_data_version",
        "fgall_hydrometer_from_density",
        "fgall_recipe_free",
        "fgall_shelf_free",
        "fgall_status_text",
        "fgall_version",
    ];
    let left: Vec<_> = declared().difference(&called).cloned().collect();
    assert_eq!(left, others);
}

/// A pointer that is aligned for nothing.
fn odd<T>() -> *mut T {
    core::ptr::without_provenance_mut(0x1001)
}

#[test]
fn misaligned_pointers_are_answered() {
    let room = Room::new();
    let mut ink: FgallComposition = init();
    let mut x = 0.0;
    let (shelf, recipe) = (room.shelf, room.recipe);
    let answers = answers! {
        fgall_recipe_evaluate(odd(), &mut ink, null_mut());
        fgall_recipe_evaluate(recipe, odd(), null_mut());
        fgall_recipe_evaluate(recipe, &mut ink, odd());
        fgall_shelf_count(odd(), null_mut(), null_mut());
        fgall_shelf_count(shelf, odd(), null_mut());
        fgall_shelf_new(odd(), null_mut());
        fgall_shelf_add_lot(shelf, odd(), null_mut(), null_mut());
        fgall_water_density(20.0, odd(), null_mut());
        fgall_molar_mass(c"H2O".as_ptr(), &mut x, odd(), null_mut());
        fgall_recipe_lines(recipe, odd(), 9, &mut 0, null_mut());
        fgall_recipe_lines(recipe, null_mut(), 9, odd(), null_mut());
        fgall_columns_new(shelf, odd(), 1, WATER, &mut null_mut(), null_mut());
        fgall_columns_evaluate(
            odd(), null(), 0, null(), 0, null_mut(), 0, null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_material_source(0, null_mut(), 0, odd(), null_mut());
        fgall_oxygen_bound(odd(), null_mut(), null_mut());
    };
    for (name, status) in answers {
        assert_eq!(status, FGALL_MISALIGNED, "{name}");
    }
}

#[test]
fn wrong_struct_size_is_answered_and_nothing_is_written() {
    let room = Room::new();
    let sizes = [0, 1, size_of::<FgallComposition>() - 8, 1 << 40, usize::MAX];
    for size in sizes {
        let mut ink: FgallComposition = init();
        ink.struct_size = size;
        ink.iron_g_per_l = -7.0;
        let mut error: FgallError = init();
        // SAFETY: live handles and locals.
        let status = unsafe { fgall_recipe_evaluate(room.recipe, &mut ink, &mut error) };
        assert_eq!(
            (status, error.status),
            (FGALL_STRUCT_SIZE, FGALL_STRUCT_SIZE)
        );
        assert_eq!(words(&error.argument), "composition");
        assert_eq!(error.value, size as f64);
        assert_eq!((ink.struct_size, ink.iron_g_per_l), (size, -7.0));

        let mut no_error: FgallError = init();
        no_error.struct_size = size;
        no_error.value = -7.0;
        let mut ink: FgallComposition = init();
        // SAFETY: live handles and locals.
        let status = unsafe { fgall_recipe_evaluate(room.recipe, &mut ink, &mut no_error) };
        assert_eq!((status, no_error.value), (FGALL_STRUCT_SIZE, -7.0));
    }
    fn broken<T>() -> T {
        let mut new: T = init();
        // SAFETY: every struct here begins with its size.
        unsafe { (&raw mut new).cast::<usize>().write(3) };
        new
    }
    let (shelf, recipe) = (room.shelf, room.recipe);
    let (mut lot, mut out) = (0, null_mut());
    let kit = FgallKit {
        balance_step_g: 0.1,
        cylinder_step_ml: 1.0,
        ..init()
    };
    let water = c"water".as_ptr();
    let answers = answers! {
        fgall_material_at(0, &mut broken(), null_mut());
        fgall_solution_from_mass_percent(c"ethanol".as_ptr(), 1.0, 20.0, &mut broken(), null_mut());
        fgall_shelf_add_lot(shelf, &broken(), &mut lot, null_mut());
        fgall_shelf_lot(shelf, 0, &mut broken(), null_mut());
        fgall_shelf_add_iron_in_acid(shelf, &broken(), null_mut(), &mut lot, null_mut());
        fgall_shelf_add_iron_in_acid(shelf, &init(), &mut broken(), &mut lot, null_mut());
        fgall_recipe_add_extraction(recipe, shelf, GALLS, 1.0, WATER, 1.0, &broken(), null_mut());
        fgall_recipe_for_bottles(recipe, 1, 30.0, 1.0, 0.0, &mut broken(), null_mut());
        fgall_recipe_round(recipe, &broken(), null_mut(), null_mut());
        fgall_recipe_round(recipe, &kit, &mut broken(), null_mut());
        fgall_recipe_smallest_batch(recipe, &kit, 20.0, &mut broken(), null_mut());
        fgall_substitute(shelf, 0, 0, 1, 1.0, &mut broken(), null_mut());
        fgall_recipe_formulate_new(shelf, &broken(), &init(), null(), &mut out, null_mut());
        fgall_recipe_formulate_new(shelf, &init(), &broken(), null(), &mut out, null_mut());
        fgall_recipe_formulate_new(shelf, &init(), &init(), &broken(), &mut out, null_mut());
        fgall_recipe_formulate_like_new(
            shelf, &broken(), water, 1.0, 1.0, null(), &mut out, null_mut(),
        );
        fgall_oxygen_bound(&broken(), &mut init(), null_mut());
        fgall_oxygen_bound(&init(), &mut broken(), null_mut());
    };
    for (name, status) in answers {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{name}");
    }
}

#[test]
fn foreign_constants_and_bits_are_answered() {
    let room = Room::new();
    let (shelf, recipe) = (room.shelf, room.recipe);
    let (mut x, mut lot, mut out) = (0.0, 0, null_mut());
    let tool = FgallTool {
        lot_name: c"water".as_ptr(),
        kind: 9,
        step_g: 1.0,
        step_ml: 1.0,
    };
    let kit = FgallKit {
        balance_step_g: 0.1,
        cylinder_step_ml: 1.0,
        tools: &tool,
        tool_count: 1,
        ..init()
    };
    const BIT: u32 = 1 << 31;
    let mut material = spec(c"gum_arabic", c"gum");
    material.set = BIT;
    let iron = FgallIronInAcid { set: BIT, ..init() };
    let soak = FgallSoak { set: BIT, ..init() };
    let choice = FgallChoice { set: BIT, ..init() };
    let targets = FgallTargets { set: BIT, ..init() };
    let bottle = FgallBottle { set: BIT, ..init() };
    let swap = &mut init();
    let answers = answers! {
        fgall_density_from_baume(0, 20.0, 20.0, &mut x, null_mut());
        fgall_density_from_baume(u32::MAX, 20.0, 20.0, &mut x, null_mut());
        fgall_hydrometer_from_density(6, 1.1, 20.0, &mut x, null_mut(), null_mut());
        fgall_solution_from_baume(c"ethanol".as_ptr(), 77, 1.0, 20.0, &mut init(), null_mut());
        fgall_substitute(shelf, 0, 0, 0, 1.0, swap, null_mut());
        fgall_substitute(shelf, 0, 0, 3, 1.0, swap, null_mut());
        fgall_recipe_substitute(recipe, c"vitriol".as_ptr(), shelf, 0, 9, null_mut());
        fgall_recipe_round(recipe, &kit, null_mut(), null_mut());
        fgall_shelf_add_lot(shelf, &material, &mut lot, null_mut());
        fgall_shelf_add_iron_in_acid(shelf, &iron, null_mut(), &mut lot, null_mut());
        fgall_recipe_add_extraction(recipe, shelf, GALLS, 1.0, WATER, 1.0, &soak, null_mut());
        fgall_recipe_formulate_new(shelf, &choice, &init(), null(), &mut out, null_mut());
        fgall_recipe_formulate_new(shelf, &init(), &targets, null(), &mut out, null_mut());
        fgall_recipe_formulate_new(shelf, &init(), &init(), &soak, &mut out, null_mut());
        fgall_oxygen_bound(&bottle, &mut init(), null_mut());
    };
    for (name, status) in answers {
        assert_eq!(status, FGALL_FOREIGN_VALUE, "{name}");
    }
    assert!(out.is_null());
}

#[test]
fn indices_and_names_that_do_not_exist_are_answered() {
    let room = Room::new();
    let (shelf, recipe) = (room.shelf, room.recipe);
    let mut out = null_mut();
    for index in [4, usize::MAX] {
        let answers = answers! {
            fgall_material_at(index.max(100_000), &mut init(), null_mut());
            fgall_shelf_lot(shelf, index, &mut init(), null_mut());
            fgall_recipe_add_mass(recipe, shelf, index, 1.0, null_mut());
            fgall_recipe_make_up(recipe, shelf, index, 1.0, null_mut());
            fgall_columns_new(shelf, &index, 1, WATER, &mut null_mut(), null_mut());
            fgall_reference_ink_id(index.max(99), null_mut(), 0, &mut 0, null_mut());
            fgall_closure_id(index.max(99), null_mut(), 0, &mut 0, null_mut());
        };
        for (name, status) in answers {
            assert_eq!(status, FGALL_NO_SUCH_INDEX, "{name}");
        }
    }
    for text in [c"", c"nothing of the kind", c"\u{fffd}\u{1f58b}"] {
        let name = text.as_ptr();
        let bottle = FgallBottle {
            capacity_ml: 30.0,
            fill_ml: 20.0,
            iron_ii_mol_per_l: 0.05,
            closure: name,
            ..init()
        };
        let mut lot = 0;
        let answers = answers! {
            fgall_material_find(name, &mut init(), null_mut());
            fgall_shelf_add_lot(shelf, &spec(text, c"x"), &mut lot, null_mut());
            fgall_solution_from_mass_percent(name, 1.0, 20.0, &mut init(), null_mut());
            fgall_recipe_limited_by(recipe, name, 1.0, null_mut(), null_mut(), null_mut());
            fgall_recipe_substitute(recipe, name, shelf, TANNIN, 2, null_mut());
            fgall_recipe_reference_new(name, 1.0, 1.0, &mut out, null_mut());
            fgall_oxygen_bound(&bottle, &mut init(), null_mut());
        };
        for (function, status) in answers {
            assert_eq!(status, FGALL_UNKNOWN_NAME, "{function} {text:?}");
        }
    }
}

#[test]
fn texts_that_are_not_utf8_are_answered() {
    let room = Room::new();
    let (shelf, recipe) = (room.shelf, room.recipe);
    let bad: *const c_char = c"\xff\xfe ink".as_ptr();
    let mut lot = 0;
    let named = FgallLotSpec {
        name: bad,
        ..spec(c"gum_arabic", c"")
    };
    let answers = answers! {
        fgall_material_find(bad, &mut init(), null_mut());
        fgall_molar_mass(bad, &mut 0.0, null_mut(), null_mut());
        fgall_shelf_add_lot(shelf, &named, &mut lot, null_mut());
        fgall_recipe_new(bad, &mut null_mut(), null_mut());
        fgall_recipe_begin_solution(recipe, bad, null_mut());
        fgall_recipe_limited_by(recipe, bad, 1.0, null_mut(), null_mut(), null_mut());
        fgall_recipe_substitute(recipe, bad, shelf, TANNIN, 2, null_mut());
        fgall_sheet_text(bad, null_mut(), 0, &mut 0, null_mut());
    };
    for (name, status) in answers {
        assert_eq!(status, FGALL_NOT_UTF8, "{name}");
    }
}

#[test]
fn numbers_that_are_none_are_answered_with_the_argument_and_leave_the_recipe() {
    let room = Room::new();
    let (shelf, recipe) = (room.shelf, room.recipe);
    let before = room.evaluate();
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e300] {
        let expected = if bad.is_nan() {
            FGALL_INPUT_NAN
        } else {
            FGALL_OUT_OF_RANGE
        };
        let mut error: FgallError = init();
        let e: *mut FgallError = &mut error;
        let mut density = -7.0;
        let d: *mut f64 = &mut density;
        // SAFETY: live handles and locals.
        let calls: &[(&str, &dyn Fn() -> u32)] = unsafe {
            &[
                ("mass_g", &|| {
                    fgall_recipe_add_mass(recipe, shelf, 0, bad, e)
                }),
                ("volume_ml", &|| {
                    fgall_recipe_add_volume(recipe, shelf, WATER, bad, e)
                }),
                ("parts", &|| {
                    fgall_recipe_add_parts(recipe, shelf, 0, bad, e)
                }),
                ("part_g", &|| fgall_recipe_set_part(recipe, bad, e)),
                ("plant_g", &|| {
                    fgall_recipe_add_extraction(recipe, shelf, GALLS, bad, WATER, 1.0, null(), e)
                }),
                ("volume_ml", &|| {
                    fgall_recipe_make_up(recipe, shelf, WATER, bad, e)
                }),
                ("volume_ml", &|| fgall_recipe_use_volume(recipe, bad, e)),
                ("mass_g", &|| fgall_recipe_use_mass(recipe, bad, e)),
                ("share", &|| fgall_recipe_use_share(recipe, bad, e)),
                ("factor", &|| fgall_recipe_scale(recipe, bad, e)),
                ("volume_ml", &|| fgall_recipe_to_volume(recipe, bad, e)),
                ("capacity_ml", &|| {
                    fgall_recipe_for_bottles(recipe, 9, bad, 1.0, 0.0, null_mut(), e)
                }),
                ("fill_share", &|| {
                    fgall_recipe_for_bottles(recipe, 9, 30.0, bad, 0.0, null_mut(), e)
                }),
                ("loss_share", &|| {
                    fgall_recipe_for_bottles(recipe, 9, 30.0, 1.0, bad, null_mut(), e)
                }),
                ("available_g", &|| {
                    let name = c"vitriol".as_ptr();
                    fgall_recipe_limited_by(recipe, name, bad, null_mut(), null_mut(), e)
                }),
                ("temperature_c", &|| fgall_water_density(bad, d, e)),
                ("degrees_baume", &|| {
                    fgall_density_from_baume(1, bad, 20.0, d, e)
                }),
                ("degrees_twaddell", &|| {
                    fgall_density_from_twaddell(bad, 20.0, d, e)
                }),
                ("temperature_c", &|| {
                    fgall_density_from_twaddell(9.0, bad, d, e)
                }),
                ("mass_g", &|| {
                    fgall_substitute(shelf, 0, 0, 1, bad, &mut init(), e)
                }),
                ("purity", &|| {
                    let mut lot = spec(c"iron_ii_sulfate_heptahydrate", c"v");
                    (lot.set, lot.purity) = (FGALL_LOT_PURITY, bad);
                    fgall_shelf_add_lot(shelf, &lot, &mut 0, e)
                }),
                ("hardness_mg_per_l", &|| {
                    let mut lot = spec(c"hard_tap_water", c"w");
                    (lot.set, lot.hardness_mg_per_l) = (FGALL_LOT_HARDNESS, bad);
                    fgall_shelf_add_lot(shelf, &lot, &mut 0, e)
                }),
                ("iron_per_oxygen", &|| {
                    let bottle = FgallBottle {
                        capacity_ml: 30.0,
                        fill_ml: 20.0,
                        iron_ii_mol_per_l: 0.05,
                        set: FGALL_BOTTLE_IRON_PER_OXYGEN,
                        iron_per_oxygen: bad,
                        ..init()
                    };
                    fgall_oxygen_bound(&bottle, &mut init(), e)
                }),
                ("iron_per_galloyl", &|| {
                    let choice = FgallChoice {
                        tannin_lot: TANNIN,
                        water_lot: WATER,
                        ..init()
                    };
                    let targets = FgallTargets {
                        volume_ml: 100.0,
                        iron_ii_mol_per_l: 0.05,
                        iron_per_galloyl: bad,
                        ..init()
                    };
                    let out = &mut null_mut();
                    fgall_recipe_formulate_new(shelf, &choice, &targets, null(), out, e)
                }),
            ]
        };
        for (argument, call) in calls {
            // Minus one degree Celsius of water and 1e300 parts are numbers.
            assert_eq!(call(), expected, "{argument} = {bad}");
            // SAFETY: `e` points to a local that outlives this loop.
            let error = unsafe { e.read() };
            assert_eq!(words(&error.argument), *argument);
            assert_eq!(error.value.to_bits(), bad.to_bits(), "{argument}");
            assert!(!words(&error.message).is_empty());
        }
        assert_eq!(density, -7.0, "no result is written when there is none");
    }
    let after = room.evaluate();
    assert_eq!(before.iron_g_per_l.to_bits(), after.iron_g_per_l.to_bits());
    assert_eq!(before.line_count, after.line_count);
}

#[test]
fn huge_counts_are_answered() {
    let room = Room::new();
    let mut columns = null_mut();
    let lots = [VITRIOL, TANNIN];
    let (one, many) = (1.0_f64, usize::MAX);
    let column = FgallColumn {
        data: &one,
        stride_bytes: 0,
    };
    let mut room_for_status = 0;
    let mut row = core::mem::MaybeUninit::<FgallRow>::uninit();
    let (row, status) = (row.as_mut_ptr(), &raw mut room_for_status);
    // SAFETY: live handles and locals; what is too much is refused unread.
    unsafe {
        let e = null_mut;
        let new = fgall_columns_new(room.shelf, lots.as_ptr(), 33, WATER, &mut columns, e());
        assert_eq!(new, FGALL_TOO_MANY_COLUMNS);
        let new = fgall_columns_new(room.shelf, lots.as_ptr(), many, WATER, &mut columns, e());
        assert_eq!(new, FGALL_TOO_MANY_COLUMNS);
        let new = fgall_columns_new(room.shelf, lots.as_ptr(), 2, WATER, &mut columns, e());
        assert_eq!(new, FGALL_OK);
        let columns_of = [column; 2];
        let evaluate = |count, rows, stride| {
            let first = columns_of.as_ptr();
            let none = null_mut();
            fgall_columns_evaluate(
                columns,
                first,
                count,
                null(),
                rows,
                row,
                stride,
                status,
                stride,
                none,
                e(),
            )
        };
        assert_eq!(evaluate(2, many, 120), FGALL_OUT_OF_RANGE);
        assert_eq!(evaluate(2, many, isize::MIN), FGALL_OUT_OF_RANGE);
        assert_eq!(evaluate(2, 2, 0), FGALL_OUT_OF_RANGE); // rows on top of each other
        assert_eq!(evaluate(many, 1, 0), FGALL_OUT_OF_RANGE);
        assert_eq!(evaluate(1, 1, 0), FGALL_OUT_OF_RANGE);
        assert_eq!(evaluate(2, 0, 0), FGALL_OK);
        let tools = FgallKit {
            balance_step_g: 0.1,
            cylinder_step_ml: 1.0,
            tools: odd::<FgallTool>().wrapping_byte_add(7),
            tool_count: many,
            ..init()
        };
        let rounded = fgall_recipe_round(room.recipe, &tools, null_mut(), e());
        assert_eq!(rounded, FGALL_OUT_OF_RANGE);
        fgall_columns_free(columns);
    }
}
