//! Findings, roundings, verdicts and plastic bottles are those of Rust.

use super::room::*;
use super::twin::*;
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::check::{Severity, check};
use ferrogall::composition::{Side, criteria};
use ferrogall::oxidation::{Bottle, Closure, polymers};
use ferrogall::quantity::*;
use ferrogall::recipe::{Recipe, smallest_batch};
use std::collections::BTreeSet;
use std::ffi::CString;

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

    // A stock solution for the tannin and one for the acid, or none that fits.
    let acid = Lot::of("sulfuric_acid").unwrap();
    let acid = acid.named("acid").build().unwrap();
    let recipe = twin_with(Some((&acid, 1.0)));
    let mut lot = 0;
    // SAFETY: live handles and locals.
    unsafe {
        let (shelf, acid, e) = (room.shelf, spec(c"sulfuric_acid", c"acid"), null_mut);
        assert_eq!(fgall_shelf_add_lot(shelf, &acid, &mut lot, e()), FGALL_OK);
        let added = fgall_recipe_add_mass(room.recipe, shelf, lot, 1.0, e());
        assert_eq!(added, FGALL_OK);
    }
    for (steps, count) in [(20.0, 2), (500.0, 0)] {
        let expected = smallest_batch(&recipe, &kit, steps).unwrap().stocks;
        // SAFETY: as `listed` promises; a live handle.
        let stocks = listed(|s, c, n| unsafe {
            fgall_recipe_stocks(room.recipe, &c_kit, steps, s, c, n, null_mut())
        });
        assert_eq!((stocks.len(), expected.len()), (count, count));
        for (c, rust) in stocks.iter().zip(&expected) {
            assert_eq!(words(&c.lot), rust.lot);
            assert_eq!(c.weigh_g, rust.weigh.in_grams());
            assert_eq!(c.dissolve_to_ml, rust.dissolve_to.in_milliliters());
            assert_eq!(c.take_ml, rust.take.in_milliliters());
            assert_eq!(c.into_water, u32::from(words(&c.lot) == "acid"));
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
        let verdict = rust.verdict(&ink).unwrap();
        assert_eq!(
            (c.factor, c.excess_mol_per_l),
            (verdict.factor, per_l(verdict.iron))
        );
        match verdict.side {
            Side::IronInExcess => {
                assert_eq!(c.verdict, FGALL_IRON_IN_EXCESS);
                assert!(c.factor > 1.0 && c.excess_mol_per_l > 0.0);
            }
            Side::TanninInExcess => {
                assert_eq!(c.verdict, FGALL_TANNIN_IN_EXCESS);
                assert!(c.factor < 1.0 && c.excess_mol_per_l > 0.0);
            }
            Side::Balanced => {
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
