//! How sure an ink is, through the C surface: what Rust says, to the last bit.

use super::forecasts::bits;
use super::room::*;
use super::twin::*;
use core::ffi::CStr;
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::composition::criteria;
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Kit, Recipe, Solution};
use ferrogall::uncertainty::*;
use std::ffi::CString;

pub const SEED: u64 = 0xfeed_5eed_0123_4567;
pub const DRAWS: u32 = 400;

/// A study in C of the workshop's recipe with the liquor of 30 g of galls.
pub struct Asked {
    pub room: Room,
    pub study: *mut FgallStudy,
}

impl Asked {
    pub fn new(kit: *const FgallKit) -> Asked {
        let (room, e) = (Room::new(), null_mut);
        let (recipe, shelf) = (room.recipe, room.shelf);
        // SAFETY: live handles and locals.
        unsafe {
            let begun = fgall_recipe_begin_solution(recipe, c"liquor".as_ptr(), e());
            assert_eq!(begun, FGALL_OK);
            let soaked =
                fgall_recipe_add_extraction(recipe, shelf, GALLS, 30.0, WATER, 200.0, null(), e());
            assert_eq!(soaked, FGALL_OK);
        }
        let study = study_of(recipe, kit);
        Asked { room, study }
    }

    pub fn know(&self, source: &CStr, known: FgallKnown) -> u32 {
        // SAFETY: a live handle and locals.
        unsafe { fgall_study_know(self.study, source.as_ptr(), &known, null_mut()) }
    }
}

impl Drop for Asked {
    fn drop(&mut self) {
        // SAFETY: made in `new`, freed here only.
        unsafe { fgall_study_free(self.study) };
    }
}

fn study_of(recipe: *const FgallRecipe, kit: *const FgallKit) -> *mut FgallStudy {
    let mut study = null_mut();
    // SAFETY: a live handle and locals.
    let made = unsafe { fgall_study_new(recipe, kit, &mut study, null_mut()) };
    assert_eq!(made, FGALL_OK);
    study
}

pub fn known(shape: u32, a: f64, b: f64) -> FgallKnown {
    FgallKnown {
        shape,
        a,
        b,
        at_least: f64::NAN,
        at_most: f64::NAN,
        ..init()
    }
}

fn galls() -> Lot {
    let galls = Lot::of("aleppo_galls").unwrap().named("galls");
    galls.build().unwrap()
}

/// The same in Rust.
pub fn here(kit: Option<&Kit>) -> Study {
    let water = Lot::of("distilled_water").unwrap().named("water");
    let water = water.build().unwrap();
    let soak = Extraction::new(&galls(), grams(30.0), &water, milliliters(200.0));
    let recipe = twin().with(Solution::new("liquor").extract(soak));
    let study = Study::of(&recipe).unwrap();
    match kit {
        Some(kit) => study.weighed_with(kit).unwrap(),
        None => study,
    }
}

pub fn plan() -> MonteCarlo {
    MonteCarlo::fixed(SEED, DRAWS).unwrap()
}

fn name_of(study: *const FgallStudy, index: usize) -> String {
    // SAFETY: as `said` promises; a live handle.
    said(|b, c, n| unsafe { fgall_study_source_name(study, index, b, c, n, null_mut()) })
}

fn same_sources(study: *const FgallStudy, rust: &Study) {
    let mut count = 0;
    // SAFETY: a live handle and locals.
    let counted = unsafe { fgall_study_source_count(study, &mut count, null_mut()) };
    assert_eq!((counted, count), (FGALL_OK, rust.sources().count()));
    for (index, (name, known)) in rust.sources().enumerate() {
        let mut c: FgallStudySource = init();
        // SAFETY: a live handle and locals.
        let told = unsafe { fgall_study_source(study, index, &mut c, null_mut()) };
        assert_eq!(told, FGALL_OK);
        assert_eq!(
            (words(&c.name), name_of(study, index)),
            (name.into(), name.into())
        );
        let unit = rust.source_unit(name).unwrap();
        assert_eq!(words(&c.unit), if unit == "1" { "" } else { unit });
        bits(c.estimate, known.estimate());
        bits(c.u, known.standard_uncertainty());
        bits(c.low, known.quantile(0.025));
        bits(c.high, known.quantile(0.975));
        // A purity of 1 that is cut off there lies at the edge of its interval.
        assert!(c.low <= c.high, "{name}");
        // SAFETY: as `said` promises.
        let remedy = said(|b, n, k| unsafe { fgall_remedy_text(c.remedy, b, n, k, null_mut()) });
        assert_eq!(remedy, rust.remedy(name).unwrap().to_string());
    }
}

#[test]
fn sources_are_those_of_rust() {
    let tools = [SCOOP];
    let bare = Asked::new(null());
    same_sources(bare.study, &here(None));
    let weighed = Asked::new(&c_kit(&tools));
    let rust = here(Some(&kit()));
    same_sources(weighed.study, &rust);
    // A weighing is off in kg and a mark in m3; all else is a ratio or mol/kg.
    for (name, unit) in [
        ("galls: tannin", "1"),
        ("galls: galloyl per tannin", "mol/kg"),
        ("galls: liquid the marc keeps", "1"),
        ("weighing 1: vitriol", "kg"),
        ("filling up 5: water", "m3"),
    ] {
        assert_eq!(rust.source_unit(name), Some(unit), "{name}");
    }
    assert_eq!(rust.source_unit("weighing 9: vitriol"), None);
    assert_eq!(rust.remedy(""), None);
}

pub const MEASURANDS: [u32; 11] = [
    FGALL_MEASURAND_IRON_PER_GALLOYL,
    FGALL_MEASURAND_IRON_II_PER_GALLOYL,
    FGALL_MEASURAND_IRON_II_MOL_PER_L,
    FGALL_MEASURAND_IRON_G_PER_L,
    FGALL_MEASURAND_GALLOYL_MOL_PER_L,
    FGALL_MEASURAND_GALLIC_ACID_MOL_PER_L,
    FGALL_MEASURAND_STRONG_ACID_MOL_PER_L,
    FGALL_MEASURAND_GUM_G_PER_L,
    FGALL_MEASURAND_PRESERVATIVE_G_PER_L,
    FGALL_MEASURAND_DRY_RESIDUE_G_PER_L,
    FGALL_MEASURAND_VOLUME_ML,
];

/// Each constant is the measurand of its name, and names its unit.
#[test]
fn measurands_are_those_of_rust() {
    let header = super::header::committed();
    assert_eq!(Measurand::ALL.len(), MEASURANDS.len());
    for (code, rust) in MEASURANDS.into_iter().zip(Measurand::ALL) {
        // SAFETY: as `said` promises.
        let name = said(|b, c, n| unsafe { fgall_measurand_text(code, b, c, n, null_mut()) });
        assert_eq!(name, rust.name());
        let unit = match rust.unit() {
            "1" => "",
            "g/L" => "_G_PER_L",
            "mol/L" => "_MOL_PER_L",
            "mL" => "_ML",
            other => panic!("{other}"),
        };
        let id = rust.id().to_uppercase();
        assert!(header.contains(&format!("#define FGALL_MEASURAND_{id}{unit} {code}\n")));
    }
}

pub fn asked(study: *const FgallStudy, measurand: u32) -> (FgallAnswer, Vec<FgallHelp>) {
    let mut answer: FgallAnswer = init();
    // SAFETY: as `listed` promises; a live handle and locals.
    let helps = listed(|h, c, n| unsafe {
        fgall_study_helps(
            study,
            measurand,
            SEED,
            DRAWS,
            null_mut(),
            h,
            c,
            n,
            null_mut(),
        )
    });
    // SAFETY: a live handle and locals.
    let told =
        unsafe { fgall_study_answer(study, measurand, SEED, DRAWS, &mut answer, null_mut()) };
    assert_eq!(told, FGALL_OK);
    (answer, helps)
}

pub fn same_answer(study: *const FgallStudy, rust: &Study, code: u32, measurand: Measurand) -> u32 {
    let advice = rust.advice(measurand, &plan()).unwrap();
    let (c, helps) = asked(study, code);
    let method = match advice.answer.method {
        Method::FirstOrder => FGALL_METHOD_FIRST_ORDER,
        Method::MonteCarlo(Misleading::Curved) => FGALL_METHOD_DRAWS_CURVED,
        Method::MonteCarlo(Misleading::NotNormal) => FGALL_METHOD_DRAWS_NOT_NORMAL,
        other => panic!("{other:?}"),
    };
    assert_eq!(c.method, method);
    bits(c.value, advice.answer.value);
    bits(c.u, advice.answer.u);
    bits(c.low, advice.answer.low);
    bits(c.high, advice.answer.high);
    assert_eq!(c.failed_draws, advice.answer.failed);
    bits(c.tools_share, advice.tools);
    assert_eq!(helps.len(), advice.answer.helps.len());
    for (c, rust_help) in helps.iter().zip(&advice.answer.helps) {
        assert_eq!(words(&c.name), rust_help.name);
        assert_eq!(name_of(study, c.source), rust_help.name);
        bits(c.share, rust_help.share);
        bits(c.width_left, rust_help.width_left);
        // SAFETY: as `said` promises.
        let remedy = said(|b, n, k| unsafe { fgall_remedy_text(c.remedy, b, n, k, null_mut()) });
        assert_eq!(remedy, rust.remedy(&rust_help.name).unwrap().to_string());
    }
    // SAFETY: as `said` promises; a live handle.
    let sentence = said(|b, n, k| unsafe {
        fgall_study_advice_text(study, code, SEED, DRAWS, b, n, k, null_mut())
    });
    assert_eq!(sentence, advice.to_string());
    c.method
}

#[test]
fn answers_are_those_of_rust() {
    let tools = [SCOOP];
    let (mut methods, own) = (Vec::new(), c_kit(&tools));
    for (given, kit) in [(null(), None), (&raw const own, Some(kit()))] {
        let (c, rust) = (Asked::new(given), here(kit.as_ref()));
        for (code, &measurand) in MEASURANDS.into_iter().zip(Measurand::ALL) {
            methods.push(same_answer(c.study, &rust, code, measurand));
        }
    }
    // Both ways were gone.
    assert!(methods.contains(&FGALL_METHOD_FIRST_ORDER));
    assert!(methods.contains(&FGALL_METHOD_DRAWS_CURVED));
    // With the helps the same answer, drawn once; other seeds give another.
    let (c, mut with) = (Asked::new(null()), init::<FgallAnswer>());
    let mut helps = [[0.0; 16]; 64]; // 128 bytes a help
    assert_eq!(size_of_val(&helps[0]), size_of::<FgallHelp>());
    let (mut needed, ratio) = (0, FGALL_MEASURAND_IRON_PER_GALLOYL);
    let mut ask = |seed, with: &mut FgallAnswer| {
        let room = helps.as_mut_ptr().cast();
        // SAFETY: a live handle, room for 64 helps.
        let done = unsafe {
            let e = null_mut();
            fgall_study_helps(c.study, ratio, seed, DRAWS, with, room, 64, &mut needed, e)
        };
        assert_eq!(done, FGALL_OK);
    };
    ask(SEED, &mut with);
    let (alone, _) = asked(c.study, ratio);
    assert_eq!(alone.method, FGALL_METHOD_DRAWS_CURVED);
    bits(with.high, alone.high);
    ask(SEED ^ (1 << 63), &mut with);
    assert_ne!(with.high, alone.high);
}

#[test]
fn what_is_known_otherwise_is_so_in_rust() {
    let (c, rust) = (Asked::new(null()), here(None));
    let limits = |known| FgallKnown {
        set: FGALL_KNOWN_LIMITS,
        at_least: 0.1,
        at_most: 0.6,
        ..known
    };
    let normal = || Distribution::normal(0.5, 0.2).unwrap();
    let cases = [
        (
            known(FGALL_SHAPE_EXACT, 0.5, f64::NAN),
            Distribution::exact(0.5),
        ),
        (known(FGALL_SHAPE_NORMAL, 0.5, 0.2), Ok(normal())),
        (
            known(FGALL_SHAPE_LOG_NORMAL, 0.5, 0.3),
            Distribution::log_normal(0.5, 0.3),
        ),
        (
            known(FGALL_SHAPE_RECTANGULAR, 0.2, 0.7),
            Distribution::rectangular(0.2, 0.7),
        ),
        (
            known(FGALL_SHAPE_TRIANGULAR, 0.2, 0.7),
            Distribution::triangular(0.2, 0.7),
        ),
        (
            limits(known(FGALL_SHAPE_NORMAL, 0.5, 0.2)),
            normal().between(0.1, 0.6),
        ),
        (
            limits(known(FGALL_SHAPE_EXACT, 0.5, 0.2)),
            Distribution::exact(0.5),
        ),
    ];
    for (told, distribution) in cases {
        assert_eq!(c.know(c"galls: tannin", told), FGALL_OK);
        let rust = rust
            .knowing("galls: tannin", distribution.unwrap())
            .unwrap();
        same_sources(c.study, &rust);
        let ratio = FGALL_MEASURAND_IRON_PER_GALLOYL;
        same_answer(c.study, &rust, ratio, Measurand::IronPerGalloyl);
    }
    // A copy goes its own way, and a refusal changes nothing.
    let before = asked(c.study, 1).0;
    let mut copy = null_mut();
    // SAFETY: live handles and locals.
    unsafe {
        assert_eq!(
            fgall_study_copy_new(c.study, &mut copy, null_mut()),
            FGALL_OK
        );
        let (wild, source) = (
            known(FGALL_SHAPE_NORMAL, 0.3, 0.1),
            c"galls: tannin".as_ptr(),
        );
        assert_eq!(fgall_study_know(copy, source, &wild, null_mut()), FGALL_OK);
    }
    assert_eq!(
        c.know(c"galls: tann", known(1, 0.1, 0.0)),
        FGALL_UNKNOWN_NAME
    );
    bits(asked(c.study, 1).0.value, before.value);
    assert_ne!(asked(copy, 1).0.value, before.value);
    // SAFETY: made above.
    unsafe { fgall_study_free(copy) };
}

#[test]
fn chances_are_those_of_rust() {
    let (c, rust) = (Asked::new(null()), here(None));
    let (mut likely, mut unlikely) = (0, 0);
    for criterion in criteria() {
        let id = CString::new(criterion.id).unwrap();
        let (mut probability, mut sampling) = (f64::NAN, f64::NAN);
        // SAFETY: a live handle and locals.
        let told = unsafe {
            let (p, s) = (&raw mut probability, &raw mut sampling);
            let first =
                fgall_study_excess_iron(c.study, id.as_ptr(), SEED, DRAWS, p, s, null_mut());
            let e = null_mut();
            let again =
                fgall_study_excess_iron(c.study, id.as_ptr(), SEED, DRAWS, p, null_mut(), e);
            [first, again]
        };
        let chance = rust.excess_iron(criterion, &plan()).unwrap();
        assert_eq!(told, [FGALL_OK; 2]);
        bits(probability, chance.probability);
        bits(sampling, chance.sampling_error);
        likely += usize::from(probability > 0.5);
        unlikely += usize::from(probability < 0.5);

        let mut assured: FgallAssurance = init();
        let mut error: FgallError = init();
        // SAFETY: live handles and locals.
        let status = unsafe {
            let (shelf, id) = (c.room.shelf, id.as_ptr());
            let out = &raw mut assured;
            fgall_study_assured(
                c.study, shelf, GALLS, id, 0.95, SEED, DRAWS, out, &mut error,
            )
        };
        match rust.assured(&galls(), criterion, 0.95, &plan()) {
            Ok(sure) => {
                assert_eq!(status, FGALL_OK);
                bits(assured.factor, sure.factor);
                bits(assured.mass_g, sure.mass.in_grams());
                bits(assured.now, sure.now);
            }
            Err(UncertaintyError::NotAssured { lot, assurance }) => {
                assert_eq!((status, error.value), (FGALL_NOT_ASSURED, assurance));
                assert_eq!((words(&error.argument), assured.factor), (lot, 0.0));
            }
            Err(other) => panic!("{other}"),
        }
    }
    assert!(
        likely > 0 && unlikely > 0,
        "the criteria do not agree on this ink"
    );
}

/// Less salt will do too; more of what changes nothing will not, and a stranger
/// is none of the recipe's lots.
#[test]
fn other_lots_assure_or_do_not() {
    let (c, mut stranger) = (Asked::new(null()), 0);
    let gum = spec(c"gum_arabic", c"gum");
    // SAFETY: live handles and locals.
    let added = unsafe { fgall_shelf_add_lot(c.room.shelf, &gum, &mut stranger, null_mut()) };
    assert_eq!(added, FGALL_OK);
    let asked = |lot| {
        let (mut assured, mut error): (FgallAssurance, FgallError) = (init(), init());
        let (study, shelf, id) = (c.study, c.room.shelf, c"one_iron_per_galloyl".as_ptr());
        // SAFETY: live handles and locals.
        let status = unsafe {
            let out = &raw mut assured;
            fgall_study_assured(study, shelf, lot, id, 0.95, SEED, DRAWS, out, &mut error)
        };
        (status, words(&error.argument), error.value, assured)
    };
    let (salt, .., sure) = asked(VITRIOL);
    assert_eq!(salt, FGALL_OK);
    // 15 g of it are in the recipe; the last digits are those of a quotient.
    assert!((sure.mass_g / sure.factor / 15.0 - 1.0).abs() < 1e-14);
    let (water, lot, assurance, _) = asked(WATER);
    assert_eq!(
        (water, lot.as_str(), assurance),
        (FGALL_NOT_ASSURED, "water", 0.95)
    );
    let (gum, argument, ..) = asked(stranger);
    assert_eq!((gum, argument.as_str()), (FGALL_UNKNOWN_NAME, "lot"));
}

#[test]
fn a_study_outlives_what_it_was_made_of_and_names_come_uncut() {
    let long = CString::new("ü".repeat(300)).unwrap();
    let (room, mut recipe, mut lot, e) = (Room::new(), null_mut(), 0, null_mut);
    let study = {
        // SAFETY: live handles and locals.
        unsafe {
            let vitriol = spec(c"iron_ii_sulfate_heptahydrate", &long);
            assert_eq!(
                fgall_shelf_add_lot(room.shelf, &vitriol, &mut lot, e()),
                FGALL_OK
            );
            assert_eq!(
                fgall_recipe_copy_new(room.recipe, &mut recipe, e()),
                FGALL_OK
            );
            let added = fgall_recipe_add_mass(recipe, room.shelf, lot, 1.0, e());
            assert_eq!(added, FGALL_OK);
        }
        study_of(recipe, null())
    };
    let before = asked(study, FGALL_MEASURAND_IRON_G_PER_L).0.value;
    // SAFETY: live handles and locals.
    unsafe {
        assert_eq!(fgall_recipe_scale(recipe, 3.0, e()), FGALL_OK);
        fgall_recipe_free(recipe);
    }
    drop(room);
    bits(asked(study, FGALL_MEASURAND_IRON_G_PER_L).0.value, before);
    let mut count = 0;
    // SAFETY: a live handle and locals.
    unsafe { fgall_study_source_count(study, &mut count, e()) };
    let names: Vec<String> = (0..count).map(|i| name_of(study, i)).collect();
    let whole = format!("{}: purity", long.to_str().unwrap());
    let place = names.iter().position(|n| *n == whole).unwrap();
    let mut cut: FgallStudySource = init();
    // SAFETY: live handles and locals.
    unsafe {
        assert_eq!(fgall_study_source(study, place, &mut cut, e()), FGALL_OK);
        assert!(words(&cut.name).len() < FGALL_NAME_BYTES);
        let name = CString::new(whole).unwrap();
        let known = known(FGALL_SHAPE_EXACT, 0.9, 0.0);
        assert_eq!(
            fgall_study_know(study, name.as_ptr(), &known, e()),
            FGALL_OK
        );
        fgall_study_free(study);
    }
}

/// Bags whose names would be one are told apart by a number.
#[test]
fn names_that_would_be_one_are_told_apart() {
    let (room, mut study, e) = (Room::new(), null_mut(), null_mut);
    // SAFETY: live handles and locals.
    let status = unsafe {
        for (name, purity) in [(c"bag", 0.9), (c"bag (2)", 0.8), (c"bag", 0.7)] {
            let mut lot = 0;
            let mut bag = spec(c"iron_ii_sulfate_heptahydrate", name);
            (bag.set, bag.purity, bag.purity_u) = (FGALL_LOT_PURITY, purity, 0.01);
            assert_eq!(
                fgall_shelf_add_lot(room.shelf, &bag, &mut lot, e()),
                FGALL_OK
            );
            let added = fgall_recipe_add_mass(room.recipe, room.shelf, lot, 1.0, e());
            assert_eq!(added, FGALL_OK);
        }
        fgall_study_new(room.recipe, null(), &mut study, e())
    };
    assert_eq!((status, study.is_null()), (FGALL_OK, false));
    for name in [c"bag: purity", c"bag (2): purity", c"bag (3): purity"] {
        let known = known(FGALL_SHAPE_EXACT, 0.9, 0.0);
        // SAFETY: a live handle and locals.
        let status = unsafe { fgall_study_know(study, name.as_ptr(), &known, e()) };
        assert_eq!(status, FGALL_OK, "{name:?}");
    }
    // SAFETY: a live handle.
    unsafe { fgall_study_free(study) };
}

/// The volume of water alone hangs on none of its sources.
#[test]
fn nothing_is_uncertain_of_a_volume_of_water() {
    let (room, mut recipe, e) = (Room::new(), null_mut(), null_mut);
    // SAFETY: live handles and locals.
    let study = unsafe {
        assert_eq!(
            fgall_recipe_new(c"water".as_ptr(), &mut recipe, e()),
            FGALL_OK
        );
        assert_eq!(
            fgall_recipe_begin_solution(recipe, c"jug".as_ptr(), e()),
            FGALL_OK
        );
        let poured = fgall_recipe_add_volume(recipe, room.shelf, WATER, 100.0, e());
        assert_eq!(poured, FGALL_OK);
        let study = study_of(recipe, null());
        fgall_recipe_free(recipe);
        study
    };
    let water = Lot::of("distilled_water").unwrap().named("water");
    let water = water.build().unwrap();
    let jug = Solution::new("jug").add(&water, milliliters(100.0));
    let rust = Study::of(&Recipe::new("water").with(jug)).unwrap();
    same_sources(study, &rust);
    let volume = FGALL_MEASURAND_VOLUME_ML;
    let method = same_answer(study, &rust, volume, Measurand::Volume);
    assert_eq!(method, FGALL_METHOD_FIRST_ORDER);
    let helps = asked(study, volume).1;
    assert_eq!(helps.len(), 2); // alkalinity and hardness
    assert!(helps.iter().all(|h| h.share == 0.0));
    // SAFETY: made above.
    unsafe { fgall_study_free(study) };
}
