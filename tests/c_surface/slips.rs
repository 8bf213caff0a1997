//! Slips in C are those of Rust, and so is the recipe they lead to.

use super::room::*;
use super::twin::*;
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::check::{Severity, read};

/// The workshop's recipe with 40 g of phenol in the litre.
fn with_phenol(room: &Room) -> ferrogall::recipe::Recipe {
    let mut lot = 0;
    // SAFETY: live handles and locals.
    unsafe {
        let e = null_mut;
        let phenol = spec(c"phenol", c"phenol");
        assert_eq!(
            fgall_shelf_add_lot(room.shelf, &phenol, &mut lot, e()),
            FGALL_OK
        );
        let added = fgall_recipe_add_mass(room.recipe, room.shelf, lot, 40.0, e());
        assert_eq!(added, FGALL_OK);
    }
    let phenol = Lot::of("phenol").unwrap().named("phenol").build().unwrap();
    twin_with(Some((&phenol, 40.0)))
}

#[test]
fn slips_are_those_of_rust() {
    let room = Room::new();
    let recipe = with_phenol(&room);
    let tools = [SCOOP];
    let c_kit = c_kit(&tools);
    let mut seen = 0;
    for (c_kit, kit) in [(null(), None), (&raw const c_kit, Some(kit()))] {
        let expected = read(&recipe, kit.as_ref()).unwrap();
        for (place, finding) in expected.iter().enumerate() {
            // SAFETY: as `listed` promises; a live handle.
            let slips = listed(|s, c, n| unsafe {
                fgall_recipe_slips(room.recipe, c_kit, place, s, c, n, null_mut())
            });
            assert_eq!(slips.len(), finding.slips.len());
            for (index, (c, rust)) in slips.iter().zip(&finding.slips).enumerate() {
                assert_eq!(words(&c.kind), rust.kind.id());
                assert_eq!(words(&c.message), rust.message);
                assert_eq!(words(&c.published), rust.published.unwrap_or(""));
                assert_eq!(c.value.to_bits(), rust.value.to_bits());
                assert_eq!(c.plausibility.to_bits(), rust.plausibility.to_bits());
                assert_eq!(c.changes, rust.changes.len());
                let left = match rust.left {
                    None => 0,
                    Some(Severity::Notice) => FGALL_SEVERITY_NOTICE,
                    Some(Severity::Warning) => FGALL_SEVERITY_WARNING,
                    Some(Severity::Error) => FGALL_SEVERITY_ERROR,
                };
                assert_eq!(c.left, left);
                let (mut meant, mut ink) = (null_mut(), init::<FgallComposition>());
                // SAFETY: live handles and locals.
                unsafe {
                    let e = null_mut;
                    let made = fgall_recipe_corrected_new(
                        room.recipe,
                        c_kit,
                        place,
                        index,
                        &mut meant,
                        e(),
                    );
                    assert_eq!(made, FGALL_OK);
                    assert_eq!(fgall_recipe_evaluate(meant, &mut ink, e()), FGALL_OK);
                    fgall_recipe_free(meant);
                }
                let made = rust.recipe.evaluate().unwrap();
                assert_eq!(ink.mass_g, 1e3 * made.composition.mass().value);
                seen += 1;
            }
        }
    }
    assert!(seen >= 2, "{seen}");
}

#[test]
fn places_that_are_none_are_answered() {
    let room = Room::new();
    with_phenol(&room);
    let mut meant = null_mut();
    let mut error = init::<FgallError>();
    // SAFETY: live handles and locals.
    unsafe {
        let slips = fgall_recipe_slips(room.recipe, null(), 99, null_mut(), 0, &mut 0, &mut error);
        assert_eq!(slips, FGALL_NO_SUCH_INDEX);
        assert_eq!(words(&error.argument), "finding");
        let none = fgall_recipe_corrected_new(room.recipe, null(), 0, 3, &mut meant, &mut error);
        assert_eq!(none, FGALL_NO_SUCH_INDEX);
        assert_eq!(words(&error.argument), "slip");
    }
    assert!(meant.is_null());
}
