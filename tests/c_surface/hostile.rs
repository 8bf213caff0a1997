//! Pointers, sizes, constants and texts that no honest caller gives.

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
pub(super) use answers;

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
        fgall_recipe_rounding_lines(null(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_stocks(null(), null(), ONE, null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_findings(null(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_slips(null(), null(), 0, null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_corrected_new(null(), null(), 0, 0, null_mut(), null_mut());
        fgall_recipe_verdicts(null(), null_mut(), 0, null_mut(), null_mut());
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
        fgall_polymer_count(null_mut(), null_mut());
        fgall_polymer_id(0, null_mut(), 0, null_mut(), null_mut());
        fgall_columns_new(null(), null(), 0, 0, null_mut(), null_mut());
        fgall_columns_evaluate(
            null(), null(), 0, null(), 0, null_mut(), 0, null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_sheet_text(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_sheet_json(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_json_new(null(), null_mut(), null_mut());
        fgall_recipe_sheet_text(null(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_sheet_json(null(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_master_formula(1, null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_totals(null(), null_mut(), null_mut());
        fgall_solver_new(1, ONE, ONE, null_mut(), null_mut());
        fgall_solver_copy_new(null(), null_mut(), null_mut());
        fgall_solver_set_log_k(null_mut(), null(), ONE, null_mut());
        fgall_solver_remove_species(null_mut(), null(), null_mut());
        fgall_solver_add_species(null_mut(), null(), ONE, ONE, null_mut());
        fgall_solver_solve(null_mut(), null(), null_mut(), null_mut());
        fgall_solver_total_for_ph(null_mut(), null(), 1, ONE, null_mut(), null_mut(), null_mut());
        fgall_solver_ph_interval(null_mut(), null(), null_mut(), null_mut(), null_mut());
        fgall_solver_species(null_mut(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_solver_solids(null_mut(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_solver_recipe_report(null_mut(), null(), null_mut(), null_mut());
        fgall_solver_dose(null_mut(), null(), null(), 0, ONE, null_mut(), null_mut());
        fgall_solver_dose_for_ph(null_mut(), null(), null(), 0, ONE, null_mut(), null_mut());
        fgall_solver_equal_dose(null_mut(), null(), null(), 0, ONE, 0, null_mut(), null_mut());
        fgall_solver_water_effect(null_mut(), null(), null_mut(), null_mut());
        fgall_solver_preservatives(null_mut(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_solver_rows(
            null(), null(), null(), 0, 0, null_mut(), 0, null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_columns_equilibrium(
            null(), null(), null(), 0, null(), 0, null_mut(), 0, null_mut(), 0, null_mut(),
            null_mut(),
        );
        fgall_solver_stored_ink(null_mut(), null(), null_mut(), null_mut());
        fgall_scavenger_count(null_mut(), null_mut());
        fgall_scavenger_id(0, null_mut(), 0, null_mut(), null_mut());
        fgall_scavenger_note(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_keeping_bound(null(), null(), null_mut(), null_mut());
        fgall_forecast(null(), null(), 9, null_mut(), null_mut());
        fgall_forecast_curve(null(), null(), 9, null(), 0, null_mut(), 0, null_mut());
        fgall_forecast_moments(null(), null(), null(), 0, null_mut(), 0, null_mut());
        fgall_forecast_rows(
            null(), null(), 9, null(), null(), 0, 0, null_mut(), 0, null_mut(), 0, null_mut(),
            null_mut(),
        );
        fgall_measures_usual(null(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_measure_text(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_measure_caution(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_measures_rank(null(), null(), null(), 0, 9, null_mut(), null_mut());
        fgall_bottles_rank(null(), null(), ONE, ONE, null(), 0, null_mut(), null_mut());
        fgall_rescue(null(), null(), null_mut(), null_mut());
        fgall_solver_rescue(null_mut(), null(), null(), null_mut(), null_mut());
        fgall_solver_chemistry(null_mut(), null(), null(), null_mut(), null_mut());
        fgall_fit(null(), null(), null(), 0, null_mut(), null_mut());
        fgall_course(null(), null(), 0, null_mut(), 0, null_mut(), null_mut());
        fgall_iron_law_source(1, null_mut(), 0, null_mut(), null_mut());
        fgall_iron_law_constant(1, ONE, ONE, ONE, null_mut(), null_mut(), null_mut());
        fgall_inorganic_rate(ONE, ONE, ONE, null_mut(), null_mut());
        fgall_darkening(null(), null(), null_mut(), null_mut());
        fgall_darkening_curve(null(), null(), null(), 0, null_mut(), 0, null_mut());
        fgall_paper_count(null_mut(), null_mut());
        fgall_paper_id(0, null_mut(), 0, null_mut(), null_mut());
        fgall_study_new(null(), null(), null_mut(), null_mut());
        fgall_study_copy_new(null(), null_mut(), null_mut());
        fgall_study_source_count(null(), null_mut(), null_mut());
        fgall_study_source(null(), 0, null_mut(), null_mut());
        fgall_study_source_name(null(), 0, null_mut(), 0, null_mut(), null_mut());
        fgall_study_know(null_mut(), null(), null(), null_mut());
        fgall_remedy_text(1, null_mut(), 0, null_mut(), null_mut());
        fgall_measurand_text(1, null_mut(), 0, null_mut(), null_mut());
        fgall_study_answer(null(), 1, 1, 100, null_mut(), null_mut());
        fgall_study_helps(
            null(), 1, 1, 100, null_mut(), null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_study_advice_text(null(), 1, 1, 100, null_mut(), 0, null_mut(), null_mut());
        fgall_study_excess_iron(null(), null(), 1, 100, null_mut(), null_mut(), null_mut());
        fgall_study_assured(null(), null(), 0, null(), ONE, 1, 100, null_mut(), null_mut());
        fgall_study_draws(null(), null(), 0, 1, 100, null(), null_mut());
        fgall_standard_count(null_mut(), null_mut());
        fgall_standard_at(0, null_mut(), null_mut());
        fgall_standard_clauses(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_standard_programme_text(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_standard(null(), null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_study_standard(
            null(), null(), 1, 100, null_mut(), null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_recipe_standard_text(null(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_standards_text(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_unit_count(null_mut(), null_mut());
        fgall_unit_at(0, null_mut(), null_mut());
        fgall_unit_find(null(), null_mut(), null_mut());
        fgall_unit_source(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_word_candidates(null(), null(), 0, null_mut(), 0, null_mut(), null_mut());
        fgall_old_amount(null(), null(), 0, null_mut(), null_mut(), null_mut());
        fgall_unit_echo(null(), ONE, 1, null_mut(), null_mut());
        fgall_historic_quantiles(0, null(), 0, null_mut(), null_mut());
        fgall_historic_percentile(0, ONE, null(), 0, null_mut(), null_mut());
        fgall_recipe_read_new(null(), null(), null_mut(), null_mut(), null_mut());
        fgall_recipe_read_meant_new(null(), null(), 0, null_mut(), null_mut());
        fgall_old_recipe_json(null(), null(), null_mut(), 0, null_mut(), null_mut());
        fgall_belief_update_value(ONE, ONE, ONE, ONE, null_mut(), null_mut());
        fgall_belief_update_between(ONE, ONE, ONE, ONE, ONE, null_mut(), null_mut());
        fgall_belief_of_range(ONE, ONE, ONE, null_mut(), null_mut());
        fgall_shelf_add_liquor(null_mut(), 0, null(), null(), null_mut(), null_mut());
        fgall_recipe_add_extraction_by(null_mut(), null(), 0, 0, null(), null_mut());
        fgall_extraction_run(null(), 0, null(), null_mut(), null_mut());
        fgall_extraction_washes(null(), 0, null(), null_mut(), 0, null_mut(), null_mut());
        fgall_extraction_cautions(null(), 0, null(), null_mut(), 0, null_mut(), null_mut());
        fgall_extraction_assumed(null(), 0, null(), null_mut(), 0, null_mut(), null_mut());
        fgall_extraction_time_to(null(), 0, null(), ONE, ONE, null_mut(), null_mut());
        fgall_extraction_paste_below(null(), 0, null(), 1, ONE, null_mut(), null_mut());
        fgall_extraction_water_for(null(), 0, null(), ONE, null_mut(), null_mut());
        fgall_extraction_rows(
            null(), 0, null(), null(), null(), null(), 0, null_mut(), 0, null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_diffused_from_sphere(ONE, null_mut(), null_mut());
        fgall_diffused_from_slab(ONE, null_mut(), null_mut());
        fgall_diffused_into_bath(ONE, ONE, null_mut(), null_mut());
        fgall_tea_brew(ONE, ONE, null_mut(), null_mut(), null_mut());
        fgall_peleg_fit(null(), null(), 3, null_mut(), null_mut());
        fgall_peleg_after(null(), ONE, null_mut(), null_mut(), null_mut());
        fgall_peleg_time_to(null(), ONE, null_mut(), null_mut());
        fgall_reading_u(1, ONE, null_mut(), null_mut());
        fgall_titration_iron_mmol(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_titration_iron_mol_per_l(null(), ONE, ONE, null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_titration_iron_share(null(), ONE, ONE, null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_titration_purity(null(), ONE, ONE, null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_titration_rows(
            null(), null(), null(), ONE, 0, null_mut(), 0, null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_titration_oxidised_share(null(), null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_phenanthroline_iron_mol_per_l(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_phenanthroline_oxidised_share(null(), null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_nail_iron_mmol(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_dry_residue_share(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_moisture_share(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_vitriol_dried_to(60.0, null_mut(), null_mut());
        fgall_vitriol_waters(null(), 1, null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_vitriol_iron_share(null(), 1, null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_vitriol_weathered(null(), 1, null_mut(), null_mut());
        fgall_stock_iron_mol_per_l(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_liquor_tannin_share(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_tannin_factor_count(null_mut(), null_mut());
        fgall_tannin_factor_at(0, null_mut(), null_mut());
        fgall_tannin_factor_source(0, null_mut(), 0, null_mut(), null_mut());
        fgall_tannin_by_factor(null(), ONE, ONE, null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_loewenthal_tannin_g(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_plant_tannin_share(null(), null_mut(), null_mut(), 0, null_mut(), null_mut());
        fgall_spot_galloyl_mol_per_l(null(), null_mut(), null_mut());
        fgall_spot_plant(null(), null(), null_mut(), null_mut(), null_mut());
        fgall_belief_update_bracket(ONE, ONE, null(), null_mut(), null_mut());
        fgall_shelf_add_recipe(null_mut(), null(), null(), null_mut(), null_mut());
        fgall_shelf_make_new(null(), null(), null(), 1, null(), null_mut(), null_mut());
        fgall_shelf_most_new(null(), null(), null(), null_mut(), null_mut());
        fgall_shelf_mix_new(null(), null(), null(), null_mut(), null_mut());
        fgall_shelf_make_rows(
            null(), null(), null(), 1, null(), null(), null(), 0, null(), 0, null_mut(), 0,
            null_mut(), 0, null_mut(), null_mut(),
        );
        fgall_blend_summary(null(), null_mut(), null_mut());
        fgall_blend_taken(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_blend_figures(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_blend_used_up(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_blend_more(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_blend_text(null(), null_mut(), 0, null_mut(), null_mut());
        fgall_blend_recipe_new(null(), null_mut(), null_mut());
    };
    for (name, status) in &answers {
        assert_eq!(*status, FGALL_NULL_POINTER, "{name}");
    }
    // A live recipe, and NULL where the rest must not be.
    let room = Room::new();
    let recipe = room.recipe;
    let kit = FgallKit {
        balance_step_g: 0.1,
        cylinder_step_ml: 1.0,
        ..init()
    };
    for (name, status) in answers! {
        fgall_recipe_rounding_lines(recipe, null(), null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_rounding_lines(recipe, &kit, null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_rounding_lines(recipe, &kit, null_mut(), 9, &mut 0, null_mut());
        fgall_recipe_stocks(recipe, null(), 20.0, null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_stocks(recipe, &kit, 20.0, null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_findings(recipe, null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_slips(recipe, null(), 0, null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_corrected_new(recipe, null(), 0, 0, null_mut(), null_mut());
        fgall_recipe_verdicts(recipe, null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_verdicts(recipe, null_mut(), 99, &mut 0, null_mut());
        fgall_recipe_sheet_text(recipe, null(), null_mut(), 0, null_mut(), null_mut());
        fgall_recipe_sheet_json(recipe, null(), null_mut(), 1 << 20, &mut 0, null_mut());
    } {
        assert_eq!(status, FGALL_NULL_POINTER, "{name}");
    }
    // SAFETY: NULL may be freed; both results may be left out.
    unsafe {
        fgall_shelf_free(null_mut());
        fgall_recipe_free(null_mut());
        fgall_blend_free(null_mut());
        fgall_columns_free(null_mut());
        fgall_solver_free(null_mut());
        fgall_study_free(null_mut());
        let neither = (null_mut(), null_mut());
        let shown = fgall_hydrometer_from_density(1, 1.1, 20.0, neither.0, neither.1, null_mut());
        assert_eq!(shown, FGALL_OK);
    }
    // No function of the header was forgotten.
    let called: BTreeSet<String> = answers.iter().map(|(name, _)| name.to_string()).collect();
    let others = [
        "fgall_abi_version",
        "fgall_blend_free",
        "fgall_columns_free",
        "fgall_data_version",
        "fgall_hydrometer_from_density",
        "fgall_recipe_free",
        "fgall_shelf_free",
        "fgall_solver_free",
        "fgall_status_text",
        "fgall_study_free",
        "fgall_version",
    ];
    let left: Vec<_> = declared().difference(&called).cloned().collect();
    assert_eq!(left, others);
}

/// A pointer that is aligned for nothing.
pub fn odd<T>() -> *mut T {
    core::ptr::without_provenance_mut(0x1001)
}

/// A struct that says it has another size.
pub fn broken<T>() -> T {
    let mut new: T = init();
    // SAFETY: every struct here begins with its size.
    unsafe { (&raw mut new).cast::<usize>().write(3) };
    new
}

#[test]
fn misaligned_pointers_are_answered() {
    let room = Room::new();
    let mut ink: FgallComposition = init();
    let mut x = 0.0;
    let (shelf, recipe) = (room.shelf, room.recipe);
    let storage = FgallSheetOptions {
        storage: odd(),
        ..init()
    };
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
        fgall_recipe_findings(recipe, odd(), null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_findings(recipe, null(), null_mut(), 0, odd(), null_mut());
        fgall_recipe_slips(recipe, odd(), 0, null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_slips(recipe, null(), 0, null_mut(), 0, odd(), null_mut());
        fgall_recipe_corrected_new(recipe, null(), 0, 0, odd(), null_mut());
        fgall_recipe_verdicts(recipe, odd(), 99, &mut 0, null_mut());
        fgall_recipe_rounding_lines(recipe, odd(), null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_stocks(odd(), null(), 20.0, null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_sheet_text(recipe, odd(), null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_sheet_text(recipe, &storage, null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_sheet_json(recipe, null(), null_mut(), 0, odd(), null_mut());
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
    let (shelf, recipe) = (room.shelf, room.recipe);
    let (mut lot, mut out) = (0, null_mut());
    let kit = FgallKit {
        balance_step_g: 0.1,
        cylinder_step_ml: 1.0,
        ..init()
    };
    let water = c"water".as_ptr();
    let (bad_kit, bad_storage) = (broken(), broken());
    let in_kit = FgallSheetOptions {
        kit: &bad_kit,
        ..init()
    };
    let in_storage = FgallSheetOptions {
        storage: &bad_storage,
        ..init()
    };
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
        fgall_recipe_findings(recipe, &broken(), null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_rounding_lines(recipe, &broken(), null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_stocks(recipe, &broken(), 20.0, null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_sheet_text(recipe, &broken(), null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_sheet_text(recipe, &in_kit, null_mut(), 0, &mut 0, null_mut());
        fgall_recipe_sheet_json(recipe, &in_storage, null_mut(), 0, &mut 0, null_mut());
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
            fgall_polymer_id(index.max(99), null_mut(), 0, &mut 0, null_mut());
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
