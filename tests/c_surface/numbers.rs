//! Numbers and counts that no honest caller gives.

use super::hostile::odd;
use super::room::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;

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
