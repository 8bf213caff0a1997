//! A small workshop for the tests that call the C functions from Rust.

use core::ffi::{CStr, c_char};
use core::mem::{size_of, zeroed};
use core::ptr::null_mut;
use ferrogall::capi::*;

/// A struct all zero but for its size, as FGALL_INIT makes it.
pub fn init<T>() -> T {
    assert!(size_of::<T>() >= size_of::<usize>());
    // SAFETY: the structs are numbers and raw pointers, and begin with a usize.
    unsafe {
        let mut new: T = zeroed();
        (&raw mut new).cast::<usize>().write(size_of::<T>());
        new
    }
}

pub fn words(text: &[c_char]) -> String {
    assert!(text.contains(&0), "no NUL at the end");
    // SAFETY: a NUL was just seen.
    let text = unsafe { CStr::from_ptr(text.as_ptr()) };
    text.to_str().unwrap().to_string()
}

/// What a function with buffer, capacity and needed says.
pub fn said(call: impl Fn(*mut c_char, usize, *mut usize) -> u32) -> String {
    let mut needed = usize::MAX;
    assert_eq!(call(null_mut(), 0, &mut needed), FGALL_BUFFER_TOO_SMALL);
    let mut buffer = vec![0x55 as c_char; needed + 1];
    assert_eq!(
        call(buffer.as_mut_ptr(), needed - 1, &mut needed),
        FGALL_BUFFER_TOO_SMALL
    );
    assert!(
        buffer.iter().all(|&c| c == 0x55),
        "written though too small"
    );
    assert_eq!(call(buffer.as_mut_ptr(), needed, &mut needed), FGALL_OK);
    assert_eq!(buffer[needed], 0x55, "written beyond the end");
    words(&buffer)
}

/// What a function with an array, capacity and needed lists.
pub fn listed<T>(call: impl Fn(*mut T, usize, *mut usize) -> u32) -> Vec<T> {
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

/// A shelf with vitriol, tannic acid, galls and water, and a recipe of them.
pub struct Room {
    pub shelf: *mut FgallShelf,
    pub recipe: *mut FgallRecipe,
}

pub const VITRIOL: usize = 0;
pub const TANNIN: usize = 1;
pub const GALLS: usize = 2;
pub const WATER: usize = 3;

pub fn spec(material: &CStr, name: &CStr) -> FgallLotSpec {
    FgallLotSpec {
        material: material.as_ptr(),
        name: name.as_ptr(),
        ..init()
    }
}

impl Room {
    pub fn new() -> Room {
        let (mut shelf, mut recipe, mut lot) = (null_mut(), null_mut(), 0);
        let mut tannin = spec(c"tannic_acid", c"tannic acid");
        tannin.set = FGALL_LOT_TANNIN;
        tannin.tannin = 0.88;
        // SAFETY: live handles and locals.
        unsafe {
            assert_eq!(fgall_shelf_new(&mut shelf, null_mut()), FGALL_OK);
            for spec in [
                spec(c"iron_ii_sulfate_heptahydrate", c"vitriol"),
                tannin,
                spec(c"aleppo_galls", c"galls"),
                spec(c"distilled_water", c"water"),
            ] {
                assert_eq!(
                    fgall_shelf_add_lot(shelf, &spec, &mut lot, null_mut()),
                    FGALL_OK
                );
            }
            assert_eq!(lot, WATER);
            let e = null_mut;
            assert_eq!(
                fgall_recipe_new(c"ink".as_ptr(), &mut recipe, e()),
                FGALL_OK
            );
            let begun = fgall_recipe_begin_solution(recipe, c"ink".as_ptr(), e());
            assert_eq!(begun, FGALL_OK);
            for (lot, mass_g) in [(VITRIOL, 15.0), (TANNIN, 12.0)] {
                let added = fgall_recipe_add_mass(recipe, shelf, lot, mass_g, e());
                assert_eq!(added, FGALL_OK);
            }
            let made_up = fgall_recipe_make_up(recipe, shelf, WATER, 1000.0, e());
            assert_eq!(made_up, FGALL_OK);
        }
        Room { shelf, recipe }
    }

    pub fn evaluate(&self) -> FgallComposition {
        let mut ink = init();
        // SAFETY: a live handle and a local.
        let status = unsafe { fgall_recipe_evaluate(self.recipe, &mut ink, null_mut()) };
        assert_eq!(status, FGALL_OK);
        ink
    }
}

/// The reviewed constants at 20 °C, closed to the air.
pub struct Still(pub *mut FgallSolver);

impl Still {
    pub fn new() -> Still {
        let mut solver = null_mut();
        let constants = FGALL_CONSTANTS_REVIEWED;
        // SAFETY: a local.
        let new = unsafe { fgall_solver_new(constants, 20.0, f64::NAN, &mut solver, null_mut()) };
        assert_eq!(new, FGALL_OK);
        Still(solver)
    }
}

impl Drop for Still {
    fn drop(&mut self) {
        // SAFETY: made in `new`, freed here only.
        unsafe { fgall_solver_free(self.0) };
    }
}

impl Drop for Room {
    fn drop(&mut self) {
        // SAFETY: made in `new`, freed here only.
        unsafe {
            fgall_recipe_free(self.recipe);
            fgall_shelf_free(self.shelf);
        }
    }
}
