//! Cupboards and wishes as no honest caller has them.

use super::hostile::{answers, broken, odd};
use super::kept_hostile::{blames, every_field};
use super::made::*;
use super::room::*;
use core::ffi::c_char;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;

const LEAST: u32 = FGALL_OBJECTIVE_LEAST_COST;
const NONE: *const c_char = null();

/// What making, the most and the mixture answer, and whom they blame.
fn asks(bags: &Bags, there: &FgallCupboard, wanted: &FgallWanted) -> [(u32, String, f64); 3] {
    let shelf = bags.shelf;
    let mut out = null_mut();
    let mut errors: [FgallError; 3] = core::array::from_fn(|_| init());
    let [a, b, c] = &mut errors;
    // SAFETY: a live handle and locals.
    unsafe {
        fgall_shelf_make_new(shelf, there, wanted, LEAST, NONE, &mut out, a);
        fgall_blend_free(core::mem::replace(&mut out, null_mut()));
        fgall_shelf_most_new(shelf, there, wanted, &mut out, b);
        fgall_blend_free(core::mem::replace(&mut out, null_mut()));
        fgall_shelf_mix_new(shelf, there, wanted, &mut out, c);
        fgall_blend_free(out);
    }
    errors.map(|e| (e.status, words(&e.argument), e.value))
}

#[test]
fn pointers_and_sizes_are_answered() {
    let (bags, e) = (Bags::new(), null_mut);
    let (s, there, wanted) = (bags.shelf, bags.cupboard(), asked());
    let made = made(&bags, &there, &wanted, LEAST);
    let b = made.0;
    let (mut out, mut recipe, mut n) = (null_mut(), null_mut(), 0);
    let strange = |change: &dyn Fn(&mut FgallCupboard)| {
        let mut there = bags.cupboard();
        change(&mut there);
        there
    };
    let odd_stores = strange(&|c| c.stores = odd());
    let odd_soak = strange(&|c| c.soak = odd());
    let odd_kit = strange(&|c| c.kit = odd());
    for (name, status) in answers! {
        fgall_shelf_make_new(odd(), &there, &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, odd(), &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, odd(), LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, &wanted, LEAST, NONE, odd(), e());
        fgall_shelf_make_new(s, &there, &wanted, LEAST, NONE, &mut out, odd());
        fgall_shelf_make_new(s, &odd_stores, &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &odd_soak, &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &odd_kit, &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_most_new(s, odd(), &wanted, &mut out, e());
        fgall_shelf_most_new(s, &there, &wanted, odd(), e());
        fgall_shelf_mix_new(s, &there, odd(), &mut out, e());
        fgall_shelf_mix_new(s, &there, &wanted, odd(), e());
        fgall_blend_summary(odd(), &mut init(), e());
        fgall_blend_summary(b, odd(), e());
        fgall_blend_taken(odd(), null_mut(), 0, &mut n, e());
        fgall_blend_taken(b, odd(), 99, &mut n, e());
        fgall_blend_taken(b, null_mut(), 0, odd(), e());
        fgall_blend_figures(b, odd(), 99, &mut n, e());
        fgall_blend_used_up(b, null_mut(), 0, odd(), e());
        fgall_blend_more(b, null_mut(), 0, odd(), e());
        fgall_blend_text(odd(), null_mut(), 0, &mut n, e());
        fgall_blend_recipe_new(odd(), &mut recipe, e());
        fgall_blend_recipe_new(b, odd(), e());
        fgall_shelf_add_recipe(odd(), null(), c"x".as_ptr(), &mut n, e());
        fgall_shelf_add_recipe(s, odd(), c"x".as_ptr(), &mut n, e());
        fgall_shelf_make_rows(
            s, &there, odd(), LEAST, NONE, null(), null(), 0, null(), 0, null_mut(), 48, null_mut(), 4, null_mut(), e(),
        );
        fgall_shelf_make_rows(
            s, &there, &wanted, LEAST, NONE, odd(), null(), 1, null(), 0, null_mut(), 48, null_mut(), 4, null_mut(), e(),
        );
        fgall_shelf_make_rows(
            s, &there, &wanted, LEAST, NONE, &1, odd(), 1, null(), 0, null_mut(), 48, null_mut(), 4, null_mut(), e(),
        );
        fgall_shelf_make_rows(
            s, &there, &wanted, LEAST, NONE, null(), null(), 0, odd(), 0, null_mut(), 48, null_mut(), 4, null_mut(), e(),
        );
    } {
        assert_eq!(status, FGALL_MISALIGNED, "{name}");
    }
    let no_stores = strange(&|c| c.stores = null());
    let nowhere = [FgallOutColumn {
        data: null_mut(),
        stride_bytes: 8,
    }; 9];
    let sure = FgallWanted {
        set: FGALL_WANTED_ASSURANCE,
        assurance: 0.9,
        ..asked()
    };
    let mut row = core::mem::MaybeUninit::<FgallMadeRow>::uninit();
    for (name, status) in answers! {
        fgall_shelf_make_new(s, null(), &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, null(), LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, &wanted, LEAST, NONE, null_mut(), e());
        fgall_shelf_make_new(s, &there, &wanted, FGALL_OBJECTIVE_SUREST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, &sure, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &no_stores, &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_most_new(s, &there, &wanted, null_mut(), e());
        fgall_shelf_mix_new(s, &there, &wanted, null_mut(), e());
        fgall_blend_summary(b, null_mut(), e());
        fgall_blend_taken(b, null_mut(), 99, &mut n, e());
        fgall_blend_figures(b, null_mut(), 99, &mut n, e());
        fgall_blend_text(b, null_mut(), 1 << 20, &mut n, e());
        fgall_blend_recipe_new(b, null_mut(), e());
        fgall_shelf_add_recipe(s, null(), c"x".as_ptr(), &mut n, e());
        fgall_shelf_make_rows(
            s, &there, &wanted, LEAST, NONE, null(), null(), 0, nowhere.as_ptr(), 1, row.as_mut_ptr(), 48, &mut 0, 4, null_mut(), e(),
        );
        fgall_shelf_make_rows(
            s, &there, &wanted, LEAST, NONE, null(), null(), 0, null(), 1, null_mut(), 48, &mut 0, 4, null_mut(), e(),
        );
        fgall_shelf_make_rows(
            s, &there, &wanted, LEAST, NONE, null(), null(), 0, null(), 1, row.as_mut_ptr(), 48, null_mut(), 4, null_mut(), e(),
        );
    } {
        assert_eq!(status, FGALL_NULL_POINTER, "{name}");
    }
    let (soak, kit) = (broken(), broken());
    let broken_soak = strange(&|c| c.soak = &soak);
    let broken_kit = strange(&|c| c.kit = &kit);
    for (name, status) in answers! {
        fgall_shelf_make_new(s, &broken(), &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, &broken(), LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &broken_soak, &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_make_new(s, &broken_kit, &wanted, LEAST, NONE, &mut out, e());
        fgall_shelf_most_new(s, &there, &broken(), &mut out, e());
        fgall_shelf_mix_new(s, &broken(), &wanted, &mut out, e());
        fgall_blend_summary(b, &mut broken(), e());
        fgall_shelf_make_rows(
            s, &there, &broken(), LEAST, NONE, null(), null(), 0, null(), 0, null_mut(), 48, null_mut(), 4, null_mut(), e(),
        );
    } {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{name}");
    }
    assert!(out.is_null() && recipe.is_null());
}

#[test]
fn constants_names_and_indices_are_answered() {
    let bags = Bags::new();
    let (s, there, wanted, e) = (bags.shelf, bags.cupboard(), asked(), null_mut);
    let mut out = null_mut();
    let foreign_bits = FgallWanted {
        set: FGALL_WANTED_VOLUME,
        ..asked()
    };
    let strange_store = [FgallStore {
        set: 4,
        ..bags.stores[0]
    }];
    let strange = FgallCupboard {
        stores: strange_store.as_ptr(),
        store_count: 1,
        ..there
    };
    let backwards = FgallWanted {
        set: asked().set | FGALL_WANTED_MOST_VOLUME,
        most_volume_ml: 499.0,
        ..asked()
    };
    // SAFETY: a live handle and locals.
    let told = unsafe { fgall_shelf_make_new(s, &there, &backwards, LEAST, NONE, &mut out, e()) };
    assert_eq!(told, FGALL_OUT_OF_RANGE);
    for (name, status) in answers! {
        fgall_shelf_make_new(s, &there, &wanted, 0, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, &wanted, 6, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, &wanted, u32::MAX, NONE, &mut out, e());
        fgall_shelf_make_new(s, &there, &foreign_bits, LEAST, NONE, &mut out, e());
        fgall_shelf_most_new(s, &there, &foreign_bits, &mut out, e());
        fgall_shelf_mix_new(s, &strange, &wanted, &mut out, e());
    } {
        assert_eq!(status, FGALL_FOREIGN_VALUE, "{name}");
    }
    let surest = FGALL_OBJECTIVE_SUREST;
    for (text, expected) in [
        (c"", FGALL_UNKNOWN_NAME),
        (c"balanced", FGALL_UNKNOWN_NAME),
        (c"\xff", FGALL_NOT_UTF8),
    ] {
        let sure = FgallWanted {
            set: FGALL_WANTED_ASSURANCE,
            criterion: text.as_ptr(),
            assurance: 0.9,
            ..asked()
        };
        for (name, status) in answers! {
            fgall_shelf_make_new(s, &there, &wanted, surest, text.as_ptr(), &mut out, e());
            fgall_shelf_make_new(s, &there, &sure, LEAST, NONE, &mut out, e());
            fgall_shelf_most_new(s, &there, &sure, &mut out, e());
        } {
            assert_eq!(status, expected, "{name}");
        }
    }
    for index in [BAGS_AND_WATER, usize::MAX] {
        let dry = FgallCupboard {
            water_lot: index,
            ..there
        };
        let lost = [FgallStore {
            lot: index,
            ..bags.stores[0]
        }];
        let lost = FgallCupboard {
            stores: lost.as_ptr(),
            store_count: 1,
            ..there
        };
        for (cupboard, argument) in [(dry, "water_lot"), (lost, "lot")] {
            for (status, told, value) in asks(&bags, &cupboard, &wanted) {
                assert_eq!((status, told.as_str()), (FGALL_NO_SUCH_INDEX, argument));
                assert_eq!(value, index as f64);
            }
        }
    }
    for count in [1001, usize::MAX] {
        let crowded = FgallCupboard {
            store_count: count,
            ..there
        };
        for (status, told, value) in asks(&bags, &crowded, &wanted) {
            assert_eq!((status, told.as_str()), (FGALL_OUT_OF_RANGE, "store_count"));
            assert_eq!(value, count as f64);
        }
    }
    assert!(out.is_null());
}

/// The lots on the shelf of the tests: nine bags, and the water.
const BAGS_AND_WATER: usize = 10;

#[test]
fn numbers_that_are_none_are_answered_with_the_argument() {
    let bags = Bags::new();
    let (s, there) = (bags.shelf, bags.cupboard());
    // SAFETY: a live handle and locals; refused before anything is made.
    let of_wanted = |wanted: FgallWanted, e| unsafe {
        fgall_shelf_make_new(s, &there, &wanted, LEAST, NONE, &mut null_mut(), e)
    };
    let sure = || FgallWanted {
        set: FGALL_WANTED_COST | FGALL_WANTED_ASSURANCE,
        most_cost: 10.0,
        criterion: ONE.as_ptr(),
        assurance: 0.9,
        ..asked()
    };
    every_field!(sure(), of_wanted; volume_ml, most_cost, assurance);
    let of_store = |store: FgallStore, e| {
        let stores = [store];
        let there = FgallCupboard {
            stores: stores.as_ptr(),
            store_count: 1,
            ..bags.cupboard()
        };
        // SAFETY: as above.
        unsafe { fgall_shelf_make_new(s, &there, &asked(), LEAST, NONE, &mut null_mut(), e) }
    };
    let packed = || FgallStore {
        lot: 0,
        set: FGALL_STORE_ON_HAND | FGALL_STORE_PACK,
        on_hand_g: 10.0,
        pack_g: 10.0,
    };
    every_field!(packed(), of_store; on_hand_g, pack_g);
    blames(
        &|bad, e| {
            let soak = FgallSoak {
                set: FGALL_SOAK_HOLD_UP,
                hold_up_g_per_g: bad,
                ..init()
            };
            let there = FgallCupboard {
                soak: &soak,
                ..bags.cupboard()
            };
            // SAFETY: as above.
            unsafe { fgall_shelf_make_new(s, &there, &asked(), LEAST, NONE, &mut null_mut(), e) }
        },
        "hold_up_g_per_g",
    );
}

/// Each window by its bit and name, and how it is got at.
type Slot = fn(&mut FgallWanted) -> &mut FgallWindow;
const WINDOWS: [(u32, &str, Slot); 12] = [
    (FGALL_WANTED_IRON_II, "iron_ii_mol_per_l", |w| {
        &mut w.iron_ii_mol_per_l
    }),
    (FGALL_WANTED_IRON, "iron_g_per_l", |w| &mut w.iron_g_per_l),
    (FGALL_WANTED_GALLOYL, "galloyl_mol_per_l", |w| {
        &mut w.galloyl_mol_per_l
    }),
    (FGALL_WANTED_GALLIC_ACID, "gallic_acid_mol_per_l", |w| {
        &mut w.gallic_acid_mol_per_l
    }),
    (
        FGALL_WANTED_TANNIC_AND_GALLIC,
        "tannic_and_gallic_g_per_l",
        |w| &mut w.tannic_and_gallic_g_per_l,
    ),
    (
        FGALL_WANTED_IRON_II_PER_GALLOYL,
        "iron_ii_per_galloyl",
        |w| &mut w.iron_ii_per_galloyl,
    ),
    (FGALL_WANTED_GALLIC_SHARE, "gallic_share", |w| {
        &mut w.gallic_share
    }),
    (FGALL_WANTED_STRONG_ACID, "strong_acid_mol_per_l", |w| {
        &mut w.strong_acid_mol_per_l
    }),
    (FGALL_WANTED_PH, "ph", |w| &mut w.ph),
    (FGALL_WANTED_GUM, "gum_g_per_l", |w| &mut w.gum_g_per_l),
    (FGALL_WANTED_DYE, "dye_g_per_l", |w| &mut w.dye_g_per_l),
    (FGALL_WANTED_PRESERVATIVE, "preservative_g_per_l", |w| {
        &mut w.preservative_g_per_l
    }),
];

#[test]
fn ends_of_windows_are_answered_by_name() {
    let bags = Bags::new();
    let there = bags.cupboard();
    let told = |bit, slot: Slot, low, high| {
        let mut wanted = FgallWanted {
            set: bit,
            ..asked()
        };
        *slot(&mut wanted) = between(low, high);
        let [make, most, mix] = asks(&bags, &there, &wanted);
        assert_eq!((make.0, &make.1), (most.0, &most.1));
        assert_eq!((make.0, &make.1), (mix.0, &mix.1));
        make
    };
    for (bit, name, slot) in WINDOWS {
        let (low, high) = (format!("{name}.low"), format!("{name}.high"));
        for bad in [f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300] {
            let (status, argument, value) = told(bit, slot, bad, f64::NAN);
            assert_eq!(
                (status, argument, value),
                (FGALL_OUT_OF_RANGE, low.clone(), bad)
            );
            let (status, argument, value) = told(bit, slot, f64::NAN, bad);
            assert_eq!(
                (status, argument, value),
                (FGALL_OUT_OF_RANGE, high.clone(), bad)
            );
        }
        let (status, argument, value) = told(bit, slot, 0.5, 0.25);
        assert_eq!((status, argument, value), (FGALL_OUT_OF_RANGE, low, 0.5));
        let (status, argument, _) = told(bit, slot, f64::NAN, f64::NAN);
        assert_eq!((status, argument.as_str()), (FGALL_INPUT_NAN, name));
    }
}

#[test]
fn questions_without_an_answer_say_why() {
    let bags = Bags::new();
    let there = bags.cupboard();
    let of = |stores: &[FgallStore], wanted: &FgallWanted| {
        let there = FgallCupboard {
            stores: stores.as_ptr(),
            store_count: stores.len(),
            ..there
        };
        asks(&bags, &there, wanted).map(|(status, argument, _)| (status, argument))
    };
    let endless = |lot| FgallStore {
        lot,
        set: 0,
        on_hand_g: f64::NAN,
        pack_g: f64::NAN,
    };
    let (vitriol, tannin, acid) = (endless(0), endless(2), endless(6));
    let iron = FgallWanted {
        set: FGALL_WANTED_IRON,
        ..asked()
    };
    // Two of one name.
    for (status, argument) in &of(&[tannin, vitriol, vitriol], &iron)[..2] {
        assert_eq!((*status, argument.as_str()), (FGALL_NAME_TAKEN, "vitriol"));
    }
    // No end to it; not a drop of it; nothing to pour.
    let [make, most, mix] = of(&[vitriol, tannin], &iron);
    assert_eq!(
        (make.0, most.0, mix.0),
        (FGALL_OK, FGALL_NOTHING_LIMITS, FGALL_NOT_A_LIQUID)
    );
    let [make, most, _] = of(&[tannin], &iron);
    assert_eq!((make.0, most.0), (FGALL_OK, FGALL_INFEASIBLE));
    let sour = FgallWanted {
        set: FGALL_WANTED_PH,
        ..asked()
    };
    let [.., mix] = of(&[acid], &sour);
    assert_eq!((mix.0, mix.1.as_str()), (FGALL_NOT_LINEAR, "pH"));
    // What cannot be had is no failure: the nearest is given, and says so.
    let lacking = FgallCupboard {
        stores: &tannin,
        store_count: 1,
        ..there
    };
    let c = made(&bags, &lacking, &iron, LEAST);
    let mut all: FgallBlendSummary = init();
    // SAFETY: a live handle and a local.
    let told = unsafe { fgall_blend_summary(c.0, &mut all, null_mut()) };
    assert_eq!((told, all.meets_all), (FGALL_OK, 0));
    // SAFETY: as `listed` promises.
    let figures = listed(|a, c_, n| unsafe { fgall_blend_figures(c.0, a, c_, n, null_mut()) });
    let figures: Vec<FgallFigure> = figures;
    assert_eq!(
        (figures[0].wanted, figures[0].is_met),
        (FGALL_WANTED_IRON, 0)
    );
    assert_eq!(figures[0].miss, -1.0); // all of it is wanting
}

/// An empty cupboard, and everything a cupboard could hold but the water itself.
#[test]
fn nothing_at_all_is_answered() {
    let bags = Bags::new();
    let empty = FgallCupboard {
        stores: null(),
        store_count: 0,
        ..bags.cupboard()
    };
    for (status, ..) in asks(&bags, &empty, &asked()) {
        assert!(
            status != FGALL_PANIC && status != FGALL_NULL_POINTER,
            "{status}"
        );
    }
    let anything = FgallWanted { set: 0, ..asked() };
    for (status, ..) in asks(&bags, &bags.cupboard(), &anything) {
        assert_ne!(status, FGALL_PANIC);
    }
}
