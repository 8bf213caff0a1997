//! pH and species through the C surface: what Rust says, and what hostile
//! callers are told.

use super::hostile::{answers, broken, odd};
use super::room::*;
use super::twin::*;
use core::ffi::CStr;
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::equilibrium::*;
use ferrogall::quantity::*;
use ferrogall::recipe::ColumnPlan;

fn vitriol_in_acid() -> FgallTotals {
    FgallTotals {
        iron_ii_mol_per_kg: 0.05,
        iron_iii_mol_per_kg: 0.004,
        sulfate_mol_per_kg: 0.056,
        chloride_mol_per_kg: 0.036,
        gallate_mol_per_kg: 0.01,
        galloyl_mol_per_kg: 0.05,
        ..init()
    }
}

fn in_rust(totals: &FgallTotals) -> Totals {
    [
        (Master::IronII, totals.iron_ii_mol_per_kg),
        (Master::IronIII, totals.iron_iii_mol_per_kg),
        (Master::Sulfate, totals.sulfate_mol_per_kg),
        (Master::Chloride, totals.chloride_mol_per_kg),
        (Master::Gallate, totals.gallate_mol_per_kg),
        (Master::Galloyl, totals.galloyl_mol_per_kg),
    ]
    .into_iter()
    .fold(Totals::new(), |all, (master, total)| {
        all.with(master, moles_per_kilogram(total)).unwrap()
    })
}

fn twin_solver() -> Solver {
    Solver::new(ConstantSet::reviewed(), celsius(20.0)).unwrap()
}

fn bits(x: f64, y: f64) {
    assert_eq!(x.to_bits(), y.to_bits(), "{x} {y}");
}

#[test]
fn a_solution_is_that_of_rust() {
    let (still, mut solver) = (Still::new(), twin_solver());
    let totals = vitriol_in_acid();
    let mut c: FgallEquilibrium = init();
    // SAFETY: a live handle and locals.
    let solved = unsafe { fgall_solver_solve(still.0, &totals, &mut c, null_mut()) };
    assert_eq!(solved, FGALL_OK);
    let totals_here = in_rust(&totals);
    let interval = solver.interval(&totals_here, |s| s.ph()).unwrap();
    let rust = solver.solve(&totals_here).unwrap();
    bits(c.ph, rust.ph());
    bits(c.ionic_strength_mol_per_kg, rust.ionic_strength().value);
    bits(c.water_activity, rust.water_activity());
    bits(c.charge_error, rust.charge_error());
    let capacity = rust.buffer_capacity().in_moles_per_kilogram();
    bits(c.buffer_capacity_mol_per_kg_per_ph, capacity);
    assert_eq!(c.within_validity, 1);
    assert!(c.residual <= 1e-12); // what the solver accepts at most

    // SAFETY: as `listed` promises.
    let (species, solids) = unsafe {
        (
            listed(|a, n, k| fgall_solver_species(still.0, &totals, a, n, k, null_mut())),
            listed(|a, n, k| fgall_solver_solids(still.0, &totals, a, n, k, null_mut())),
        )
    };
    let expected: Vec<_> = rust.species().collect();
    assert_eq!(species.len(), expected.len());
    for (c, rust) in species.iter().zip(&expected) {
        let c: &FgallSpecies = c;
        assert_eq!(
            (words(&c.name).as_str(), c.charge),
            (rust.name, rust.charge)
        );
        bits(c.molality_mol_per_kg, rust.molality.value);
        bits(c.log10_gamma, rust.log10_gamma);
        bits(c.log10_activity, rust.log10_activity);
    }
    let expected: Vec<_> = rust.solids().collect();
    assert_eq!(solids.len(), expected.len());
    assert!(!solids.is_empty());
    for (c, rust) in solids.iter().zip(&expected) {
        let c: &FgallSolid = c;
        assert_eq!(words(&c.name), rust.name);
        bits(c.saturation_index, rust.index);
        bits(c.log_k_u, rust.u);
        assert_eq!(c.forms_promptly, u32::from(rust.forms_promptly));
    }

    let (mut low, mut high, mut base) = (0.0, 0.0, 0.0);
    // SAFETY: a live handle and locals.
    unsafe {
        let e = null_mut;
        let spans = fgall_solver_ph_interval(still.0, &totals, &mut low, &mut high, e());
        assert_eq!(spans, FGALL_OK);
        let sodium = FGALL_MASTER_SODIUM;
        let (out, more) = (&raw mut base, &raw mut c);
        let found = fgall_solver_total_for_ph(still.0, &totals, sodium, 4.0, out, more, e());
        assert_eq!(found, FGALL_OK);
        assert!((c.ph - 4.0).abs() < 1e-9); // found by a root, to nine places
        let again = fgall_solver_total_for_ph(still.0, &totals, sodium, 4.0, out, null_mut(), e());
        assert_eq!(again, FGALL_OK);
        let acid = fgall_solver_total_for_ph(still.0, &totals, sodium, 0.5, out, more, e());
        assert_eq!(acid, FGALL_UNREACHABLE);
    }
    bits(low, interval.low);
    bits(high, interval.high);
    let (sodium, _) = solver.solve_for(Master::Sodium, 4.0, &totals_here).unwrap();
    assert!((base / sodium.value - 1.0).abs() < 1e-9); // may start elsewhere
}

#[test]
fn the_report_of_a_recipe_is_that_of_rust() {
    let (room, still, mut solver) = (Room::new(), Still::new(), twin_solver());
    let recipe = twin();
    let made = recipe.evaluate().unwrap();
    let rust = solver.report(&made.composition).unwrap();
    let (mut c, mut totals): (FgallInkReport, FgallTotals) = (init(), init());
    // SAFETY: live handles and locals.
    unsafe {
        let reported = fgall_solver_recipe_report(still.0, room.recipe, &mut c, null_mut());
        assert_eq!(reported, FGALL_OK);
        let told = fgall_recipe_totals(room.recipe, &mut totals, null_mut());
        assert_eq!(told, FGALL_OK);
    }
    assert_eq!(
        in_rust(&totals),
        Totals::of_composition(&made.composition).unwrap()
    );
    bits(c.ph, rust.ph);
    bits(c.ph_low, rust.ph_interval.low);
    bits(c.ph_high, rust.ph_interval.high);
    bits(c.ionic_strength_mol_per_kg, rust.ionic_strength.value);
    for (c, rust) in [(c.iron_ii, rust.iron_ii), (c.iron_iii, rust.iron_iii)] {
        bits(c.free_share, rust.free);
        bits(c.hydroxide_share, rust.hydroxide);
        bits(c.sulfate_share, rust.sulfate);
        bits(c.chloride_share, rust.chloride);
        bits(c.gallate_share, rust.gallate);
        bits(c.tannin_share, rust.tannin);
        bits(c.other_share, rust.other);
    }
    bits(c.coloured_share_low, rust.coloured_share.low);
    bits(c.coloured_share_high, rust.coloured_share.high);
    let then = rust.oxidation;
    bits(c.ph_oxidised, then.ph_dissolved);
    bits(c.ph_settled, then.ph_settled);
    bits(
        c.acid_set_free_mol_per_l,
        then.acid_set_free.in_moles_per_liter(),
    );
    bits(
        c.volatile_acid_mol_per_l,
        then.volatile_acid.in_moles_per_liter(),
    );
    bits(c.fixed_acid_mol_per_l, then.fixed_acid.in_moles_per_liter());
    bits(
        c.titratable_acid_mol_per_l,
        rust.titratable_acid.in_moles_per_liter(),
    );
    let capacity = rust.buffer_capacity.in_moles_per_liter();
    bits(c.buffer_capacity_mol_per_l_per_ph, capacity);
    // Acid from the galloyl units and the vitriol keeps all of it dissolved.
    assert!(rust.settling.is_none() && c.settles_at_share.is_nan());
    assert_eq!(words(&c.settles_first), "");
}

#[test]
fn doses_waters_and_preservatives_are_those_of_rust() {
    let (room, still, mut solver) = (Room::new(), Still::new(), twin_solver());
    let shelf = room.shelf;
    let put = |material: &CStr| {
        let mut lot = 0;
        // SAFETY: a live handle and locals.
        let added =
            unsafe { fgall_shelf_add_lot(shelf, &spec(material, material), &mut lot, null_mut()) };
        assert_eq!(added, FGALL_OK);
        (
            lot,
            Lot::of(material.to_str().unwrap())
                .unwrap()
                .build()
                .unwrap(),
        )
    };
    let (acid, acid_here) = put(c"hydrochloric_acid");
    let (other, other_here) = put(c"sulfuric_acid");
    let (benzoate, benzoate_here) = put(c"sodium_benzoate");
    let (hard, _) = put(c"hard_tap_water");
    let made = twin();
    let ink = made.evaluate().unwrap().composition;
    let mut dose: FgallPhDose = init();
    let same = |c: &FgallPhDose, rust: &PhDose| {
        assert!((c.mass_g / rust.mass.in_grams() - 1.0).abs() < 1e-9); // a root
        assert!((c.volume_ml / rust.volume.unwrap().in_milliliters() - 1.0).abs() < 1e-9);
        assert!((c.ph - rust.ph).abs() < 1e-9);
    };
    let (s, r, e) = (still.0, room.recipe, null_mut);
    // SAFETY: live handles and locals.
    unsafe {
        assert_eq!(
            fgall_solver_dose(s, r, shelf, acid, 4.0, &mut dose, e()),
            FGALL_OK
        );
        let rust = solver.dose(&ink, &acid_here, grams(4.0)).unwrap();
        bits(dose.ph, rust.ph);
        same(&dose, &rust);
        let found = fgall_solver_dose_for_ph(s, r, shelf, acid, 1.9, &mut dose, e());
        assert_eq!(found, FGALL_OK);
        same(&dose, &solver.dose_for_ph(&ink, &acid_here, 1.9).unwrap());
        let found = fgall_solver_equal_dose(s, r, shelf, acid, 4.0, other, &mut dose, e());
        assert_eq!(found, FGALL_OK);
        let rust = solver.equal_dose(&ink, &acid_here, grams(4.0), &other_here);
        same(&dose, &rust.unwrap());

        // Acid does not make an ink less acid; galls are not dosed.
        let far = fgall_solver_dose_for_ph(s, r, shelf, acid, 9.0, &mut dose, e());
        assert_eq!(far, FGALL_UNREACHABLE);
        for plant in [
            fgall_solver_dose(s, r, shelf, GALLS, 4.0, &mut dose, e()),
            fgall_solver_dose_for_ph(s, r, shelf, GALLS, 2.0, &mut dose, e()),
            fgall_solver_equal_dose(s, r, shelf, acid, 4.0, GALLS, &mut dose, e()),
        ] {
            assert_eq!(plant, FGALL_NEEDS_EXTRACTION);
        }

        let none: Vec<FgallPreservative> =
            listed(|a, n, k| fgall_solver_preservatives(s, r, a, n, k, e()));
        assert!(none.is_empty());
        assert_eq!(
            fgall_recipe_add_mass(r, shelf, benzoate, 1.0, e()),
            FGALL_OK
        );
        let states = listed(|a, n, k| fgall_solver_preservatives(s, r, a, n, k, e()));
        let with = twin_with(Some((&benzoate_here, 1.0)));
        let ink = with.evaluate().unwrap().composition;
        let rust = solver.preservatives(&ink).unwrap();
        assert_eq!((states.len(), rust.len()), (1, 1));
        let (state, rust): (&FgallPreservative, _) = (&states[0], &rust[0]);
        assert_eq!(words(&state.component), "benzoate");
        bits(state.total_g_per_l, rust.total.in_grams_per_liter());
        bits(state.undissociated_share, rust.undissociated.value());
        bits(state.effective_g_per_l, rust.effective.in_grams_per_liter());
        assert_eq!(state.is_enough, u32::from(rust.is_enough()));
        assert!(state.usual_dose_g_per_l.min > 0.0);

        let mut effect: FgallWaterEffect = init();
        assert_eq!(fgall_recipe_make_up(r, shelf, hard, 1000.0, e()), FGALL_OK);
        assert_eq!(fgall_solver_water_effect(s, r, &mut effect, e()), FGALL_OK);
        assert!(effect.ph > effect.ph_with_pure_water && effect.alkalinity_mol_per_l > 0.0);
    }
}

#[test]
fn constants_are_changed_in_one_solver_alone() {
    let still = Still::new();
    let vinegar = FgallTotals {
        acetate_mol_per_kg: 0.1,
        sodium_mol_per_kg: 0.05,
        ..init()
    };
    let (mut copy, mut open) = (null_mut(), null_mut());
    let ph = |solver| {
        let mut c: FgallEquilibrium = init();
        // SAFETY: a live handle and locals.
        let solved = unsafe { fgall_solver_solve(solver, &vinegar, &mut c, null_mut()) };
        assert_eq!(solved, FGALL_OK);
        c.ph
    };
    let before = ph(still.0);
    let e = null_mut;
    // SAFETY: live handles and locals.
    unsafe {
        assert_eq!(fgall_solver_copy_new(still.0, &mut copy, e()), FGALL_OK);
        let set = fgall_solver_set_log_k(copy, c"HAcetate".as_ptr(), 5.757, e());
        assert_eq!(set, FGALL_OK);
        let shifted = ph(copy);
        assert!((shifted - before - 1.0).abs() < 0.02); // half neutralised: pH follows pKa
        let pair = c"Na+ + HAcetate = NaAcetate + H+".as_ptr();
        let name = c"NaAcetate".as_ptr();
        assert_eq!(fgall_solver_remove_species(copy, name, e()), FGALL_OK);
        let added = fgall_solver_add_species(copy, pair, -3.0, f64::NAN, e());
        assert_eq!(added, FGALL_OK);
        let paired = ph(copy);
        assert!(paired < shifted);
        // The same at 25 °C, but at 20 °C more heat goes into it.
        assert_eq!(fgall_solver_remove_species(copy, name, e()), FGALL_OK);
        assert_eq!(
            fgall_solver_add_species(copy, pair, -3.0, 50.0, e()),
            FGALL_OK
        );
        assert!(ph(copy) > paired);
        bits(ph(still.0), before);

        let air = fgall_solver_new(FGALL_CONSTANTS_REVIEWED, 20.0, 4.25e-4, &mut open, e());
        assert_eq!(air, FGALL_OK);
        let water: FgallTotals = init();
        let mut c: FgallEquilibrium = init();
        let open_ph = |c: &mut FgallEquilibrium| {
            assert_eq!(fgall_solver_solve(open, &water, c, e()), FGALL_OK);
            c.ph
        };
        let rain = open_ph(&mut c);
        assert!((rain - 5.6).abs() < 0.1); // common knowledge: unpolluted rain
        // The carbon dioxide stays when a constant goes.
        let set = fgall_solver_set_log_k(open, c"FeSO4+".as_ptr(), 4.0, e());
        assert_eq!(set, FGALL_OK);
        bits(open_ph(&mut c), rain);
        fgall_solver_free(copy);
        fgall_solver_free(open);
    }
}

#[test]
fn every_component_tells_how_it_is_written() {
    for (number, master) in (1..).zip(Master::ALL) {
        // SAFETY: as `said` promises.
        let formula = said(|b, c, n| unsafe { fgall_master_formula(number, b, c, n, null_mut()) });
        assert_eq!(formula, master.formula());
    }
}

fn acid_rows(solver: *const FgallSolver, acid: &[f64]) -> (Vec<[u64; 6]>, Vec<u32>, usize) {
    let stride = size_of::<FgallEquilibriumRow>() + 3;
    let mut packed = vec![0u8; stride * acid.len()];
    let (mut status, mut bad) = (vec![99; acid.len()], 0);
    let iron = 0.01;
    let columns = [
        FgallColumn {
            data: &iron,
            stride_bytes: 0,
        },
        FgallColumn {
            data: acid.as_ptr(),
            stride_bytes: 8,
        },
    ];
    let masters = [FGALL_MASTER_IRON_II, FGALL_MASTER_CHLORIDE];
    // SAFETY: a live handle; columns and results have as many rows.
    let done = unsafe {
        fgall_solver_rows(
            solver,
            masters.as_ptr(),
            columns.as_ptr(),
            2,
            acid.len(),
            packed.as_mut_ptr().cast(),
            stride as isize,
            status.as_mut_ptr(),
            4,
            &mut bad,
            null_mut(),
        )
    };
    assert_eq!(done, FGALL_OK);
    let figure = |at: usize| u64::from_ne_bytes(packed[at..][..8].try_into().unwrap());
    let row = |i| core::array::from_fn(|k| figure(stride * i + 8 * k));
    ((0..acid.len()).map(row).collect(), status, bad)
}

#[test]
fn many_solutions_have_the_bits_of_one_alone() {
    let (still, mut solver) = (Still::new(), twin_solver());
    let acid: Vec<f64> = (0..2000)
        .map(|i| match i % 101 {
            7 => f64::NAN,
            11 => -1.0,
            12 => f64::INFINITY,
            _ => 0.021 + f64::from(i) * 1e-4,
        })
        .collect();
    let (rows, status, bad) = acid_rows(still.0, &acid);
    assert_eq!(bad, status.iter().filter(|s| **s != FGALL_OK).count());
    for (i, &chloride) in acid.iter().enumerate() {
        let masters = [Master::IronII, Master::Chloride];
        let (one, _) = solver.row(&masters, |column| [0.01, chloride][column]);
        let expected = [
            one.ph,
            one.ionic_strength_mol_per_kg,
            one.water_activity,
            one.free_iron_ii_mol_per_kg,
            one.free_iron_iii_mol_per_kg,
            one.coloured_iron_mol_per_kg,
        ];
        assert_eq!(rows[i], expected.map(f64::to_bits), "row {i}");
        let went = match i % 101 {
            7 => FGALL_INPUT_NAN,
            11 | 12 => FGALL_OUT_OF_RANGE,
            _ => FGALL_OK,
        };
        assert_eq!((status[i], one.ph.is_nan()), (went, went != FGALL_OK));
    }
}

#[test]
fn many_inks_have_the_bits_of_one_alone() {
    const ROWS: usize = 1500;
    let (room, still, mut solver) = (Room::new(), Still::new(), twin_solver());
    let plan = {
        let recipe = twin();
        let lines = &recipe.evaluate().unwrap().lines;
        let of = |name| lines.iter().find(|l| l.lot.name() == name).unwrap().lot;
        ColumnPlan::new(&[of("vitriol"), of("tannic acid")], of("water")).unwrap()
    };
    let vitriol: Vec<f64> = (0..ROWS).map(|i| 1.0 + (i % 977) as f64 * 0.037).collect();
    let (tannin, volume) = (12.0, 1000.0);
    let column = |data: *const f64, stride_bytes| FgallColumn { data, stride_bytes };
    let masses = [column(vitriol.as_ptr(), 8), column(&tannin, 0)];
    let make_up = column(&volume, 0);
    let (mut columns, lots) = (null_mut(), [VITRIOL, TANNIN]);
    let stride = size_of::<FgallEquilibriumRow>() as isize;
    let mut rows = vec![[0.0; 6]; ROWS];
    let (mut status, mut bad, e) = (vec![99; ROWS], 9, null_mut);
    // SAFETY: live handles; columns and results have as many rows.
    unsafe {
        let new = fgall_columns_new(room.shelf, lots.as_ptr(), 2, WATER, &mut columns, e());
        assert_eq!(new, FGALL_OK);
        let mut evaluate = |columns, solver, count| {
            fgall_columns_equilibrium(
                columns,
                solver,
                masses.as_ptr(),
                count,
                &make_up,
                ROWS,
                rows.as_mut_ptr().cast(),
                stride,
                status.as_mut_ptr(),
                4,
                &mut bad,
                e(),
            )
        };
        assert_eq!(evaluate(columns, null(), 2), FGALL_NULL_POINTER);
        assert_eq!(evaluate(columns, odd(), 2), FGALL_MISALIGNED);
        assert_eq!(evaluate(columns, still.0, 1), FGALL_OUT_OF_RANGE);
        assert_eq!(evaluate(columns, still.0, 2), FGALL_OK);
        fgall_columns_free(columns);
    }
    assert_eq!((bad, status), (0, vec![FGALL_OK; ROWS]));
    for (i, row) in rows.iter().enumerate() {
        let (one, _) = plan.equilibrium_row(&mut solver, |lot| [vitriol[i], tannin][lot], volume);
        bits(row[0], one.ph);
        bits(row[5], one.coloured_iron_mol_per_kg);
    }
}

#[test]
fn hostile_pointers_sizes_and_constants_are_answered() {
    let (room, still) = (Room::new(), Still::new());
    let (s, r, shelf, totals) = (still.0, room.recipe, room.shelf, vitriol_in_acid());
    let mut eq: FgallEquilibrium = init();
    let (mut x, mut out, mut needed) = (0.0, null_mut(), 0);
    let e = null_mut;
    for (name, status) in answers! {
        fgall_solver_new(1, 20.0, f64::NAN, odd(), e());
        fgall_solver_copy_new(odd(), &mut out, e());
        fgall_solver_copy_new(s, odd(), e());
        fgall_recipe_totals(r, odd(), e());
        fgall_solver_solve(odd(), &totals, &mut eq, e());
        fgall_solver_solve(s, odd(), &mut eq, e());
        fgall_solver_solve(s, &totals, odd(), e());
        fgall_solver_solve(s, &totals, &mut eq, odd());
        fgall_solver_total_for_ph(s, &totals, 20, 4.0, odd(), null_mut(), e());
        fgall_solver_total_for_ph(s, &totals, 20, 4.0, &mut x, odd(), e());
        fgall_solver_ph_interval(s, &totals, odd(), &mut x, e());
        fgall_solver_species(s, &totals, odd(), 999, &mut needed, e());
        fgall_solver_species(s, &totals, null_mut(), 0, odd(), e());
        fgall_solver_solids(s, &totals, odd(), 999, &mut needed, e());
        fgall_solver_recipe_report(s, odd(), null_mut(), e());
        fgall_solver_recipe_report(s, r, odd(), e());
        fgall_solver_dose(s, r, odd(), 0, 1.0, null_mut(), e());
        fgall_solver_dose_for_ph(s, r, shelf, 0, 1.0, odd(), e());
        fgall_solver_equal_dose(s, r, shelf, 0, 1.0, 0, odd(), e());
        fgall_solver_water_effect(s, r, odd(), e());
        fgall_solver_preservatives(s, r, null_mut(), 0, odd(), e());
        fgall_solver_rows(s, odd(), null(), 1, 0, null_mut(), 0, null_mut(), 0, null_mut(), e());
    } {
        assert_eq!(status, FGALL_MISALIGNED, "{name}");
    }
    for (name, status) in answers! {
        fgall_recipe_totals(r, &mut broken(), e());
        fgall_solver_solve(s, &broken(), &mut eq, e());
        fgall_solver_solve(s, &totals, &mut broken(), e());
        fgall_solver_total_for_ph(s, &broken(), 20, 4.0, &mut x, null_mut(), e());
        fgall_solver_total_for_ph(s, &totals, 20, 4.0, &mut x, &mut broken(), e());
        fgall_solver_ph_interval(s, &broken(), &mut x, &mut 0.0, e());
        fgall_solver_species(s, &broken(), null_mut(), 0, &mut needed, e());
        fgall_solver_solids(s, &broken(), null_mut(), 0, &mut needed, e());
        fgall_solver_recipe_report(s, r, &mut broken(), e());
        fgall_solver_dose(s, r, shelf, 0, 1.0, &mut broken(), e());
        fgall_solver_dose_for_ph(s, r, shelf, 0, 1.0, &mut broken(), e());
        fgall_solver_equal_dose(s, r, shelf, 0, 1.0, 0, &mut broken(), e());
        fgall_solver_water_effect(s, r, &mut broken(), e());
    } {
        assert_eq!(status, FGALL_STRUCT_SIZE, "{name}");
    }
    for foreign in [0, 29, u32::MAX] {
        let column = FgallColumn {
            data: &x,
            stride_bytes: 0,
        };
        for (name, status) in answers! {
            fgall_solver_new(foreign, 20.0, f64::NAN, &mut out, e());
            fgall_master_formula(foreign, null_mut(), 0, &mut needed, e());
            fgall_solver_total_for_ph(s, &totals, foreign, 4.0, &mut x, null_mut(), e());
            fgall_solver_rows(
                s, &foreign, &column, 1, 0, null_mut(), 0, null_mut(), 0, null_mut(), e(),
            );
        } {
            assert_eq!(status, FGALL_FOREIGN_VALUE, "{name}");
        }
    }
    for index in [4, usize::MAX] {
        for (name, status) in answers! {
            fgall_solver_dose(s, r, shelf, index, 1.0, &mut init(), e());
            fgall_solver_dose_for_ph(s, r, shelf, index, 1.0, &mut init(), e());
            fgall_solver_equal_dose(s, r, shelf, index, 1.0, 0, &mut init(), e());
            fgall_solver_equal_dose(s, r, shelf, 0, 1.0, index, &mut init(), e());
        } {
            assert_eq!(status, FGALL_NO_SUCH_INDEX, "{name}");
        }
    }
    let bad = c"\xff\xfe".as_ptr();
    for (name, status) in answers! {
        fgall_solver_set_log_k(s, bad, 1.0, e());
        fgall_solver_remove_species(s, bad, e());
        fgall_solver_add_species(s, bad, 1.0, 1.0, e());
    } {
        assert_eq!(status, FGALL_NOT_UTF8, "{name}");
    }
    // Components, protons and water are no species that could be taken away.
    for nothing in [c"", c"Fe+2", c"H+", c"H2O", c"\u{1f58b}"] {
        for (name, status) in answers! {
            fgall_solver_set_log_k(s, nothing.as_ptr(), 1.0, e());
            fgall_solver_remove_species(s, nothing.as_ptr(), e());
        } {
            assert_eq!(status, FGALL_UNKNOWN_NAME, "{name} {nothing:?}");
        }
    }
    for text in [
        c"",
        c" = ",
        c"Fe+3 + SO4-2 = FeSO4+",
        c"Fe+3 + \u{1f58b} = X+3",
        c"Fe+3 = \u{1f58b}",
        c"1e999 Fe+3 = X+3",
        c"Fe+3 = X+99999999999999",
    ] {
        for enthalpy in [f64::NAN, 1.0] {
            // SAFETY: a live handle and a text.
            let added = unsafe { fgall_solver_add_species(s, text.as_ptr(), 1.0, enthalpy, e()) };
            assert_eq!(added, FGALL_BAD_EQUATION, "{text:?}");
        }
    }
    assert!(out.is_null());
}

#[test]
fn numbers_that_are_none_are_answered_with_the_argument() {
    let (room, still) = (Room::new(), Still::new());
    let (s, r, shelf) = (still.0, room.recipe, room.shelf);
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e300] {
        let mut error: FgallError = init();
        let e: *mut FgallError = &mut error;
        let totals = vitriol_in_acid();
        let pair = c"Na+ + Cl- = NaCl".as_ptr();
        let mut out = null_mut();
        let o = &raw mut out;
        // SAFETY: live handles and locals.
        let calls: &[(&str, &dyn Fn() -> u32)] = unsafe {
            &[
                ("temperature_c", &|| {
                    fgall_solver_new(1, bad, f64::NAN, o, e)
                }),
                ("log_k25", &|| {
                    fgall_solver_set_log_k(s, c"FeSO4+".as_ptr(), bad, e)
                }),
                ("log_k25", &|| {
                    fgall_solver_add_species(s, pair, bad, 0.0, e)
                }),
                ("tartrate_mol_per_kg", &|| {
                    let totals = FgallTotals {
                        tartrate_mol_per_kg: bad,
                        ..totals
                    };
                    fgall_solver_solve(s, &totals, &mut init(), e)
                }),
                ("ph", &|| {
                    fgall_solver_total_for_ph(s, &totals, 20, bad, &mut 0.0, null_mut(), e)
                }),
                ("mass_g", &|| {
                    fgall_solver_dose(s, r, shelf, WATER, bad, &mut init(), e)
                }),
                ("ph", &|| {
                    fgall_solver_dose_for_ph(s, r, shelf, WATER, bad, &mut init(), e)
                }),
                ("mass_g", &|| {
                    fgall_solver_equal_dose(s, r, shelf, WATER, bad, WATER, &mut init(), e)
                }),
            ]
        };
        let expected = if bad.is_nan() {
            FGALL_INPUT_NAN
        } else {
            FGALL_OUT_OF_RANGE
        };
        let answered = |argument: &str, status, expected| {
            // SAFETY: `e` points to a local that outlives this loop.
            let error = unsafe { e.read() };
            assert_eq!(
                (status, words(&error.argument).as_str()),
                (expected, argument)
            );
            assert_eq!(error.value.to_bits(), bad.to_bits(), "{argument}");
            assert!(!words(&error.message).is_empty());
        };
        for (argument, call) in calls {
            answered(argument, call(), expected);
        }
        // Where NaN says that there is none.
        if !bad.is_nan() {
            // SAFETY: live handles and locals.
            unsafe {
                let new = fgall_solver_new(1, 20.0, bad, o, e);
                answered("carbon_dioxide_atm", new, expected);
                let added = fgall_solver_add_species(s, pair, 0.0, bad, e);
                answered("enthalpy_kj_per_mol", added, expected);
            }
        }
        assert!(out.is_null());
    }
    // What was refused changed nothing.
    let mut c: FgallEquilibrium = init();
    let totals = vitriol_in_acid();
    // SAFETY: live handles and locals.
    unsafe { fgall_solver_solve(s, &totals, &mut c, null_mut()) };
    let mut solver = twin_solver();
    bits(c.ph, solver.solve(&in_rust(&totals)).unwrap().ph());
}

/// Constants that nobody would choose: an answer or a refusal, nothing infinite.
#[test]
fn absurd_constants_are_survived() {
    let mut statuses = std::collections::BTreeSet::new();
    for remove in [None, Some(c"OH-"), Some(c"HSO4-")] {
        for log_k in [-200.0, -30.0, 30.0, 200.0] {
            let still = Still::new();
            let (s, e) = (still.0, null_mut);
            // SAFETY: live handles and locals.
            unsafe {
                if let Some(name) = remove {
                    assert_eq!(fgall_solver_remove_species(s, name.as_ptr(), e()), FGALL_OK);
                }
                assert_eq!(
                    fgall_solver_set_log_k(s, c"FeSO4+".as_ptr(), log_k, e()),
                    FGALL_OK
                );
                let big = c"4 Fe+3 + 4 SO4-2 = Odd+4".as_ptr();
                assert_eq!(
                    fgall_solver_add_species(s, big, log_k, 500.0, e()),
                    FGALL_OK
                );
                let base = FgallTotals {
                    sodium_mol_per_kg: 1.0,
                    ..init()
                };
                for totals in [init(), vitriol_in_acid(), base] {
                    let mut c: FgallEquilibrium = init();
                    let status = fgall_solver_solve(s, &totals, &mut c, e());
                    statuses.insert(status);
                    assert!(!c.ph.is_infinite() && !c.charge_error.is_infinite());
                    assert!(!c.buffer_capacity_mol_per_kg_per_ph.is_infinite());
                    if status != FGALL_OK {
                        continue;
                    }
                    let all = listed(|a, n, k| fgall_solver_species(s, &totals, a, n, k, e()));
                    for one in &all {
                        let one: &FgallSpecies = one;
                        assert!(one.molality_mol_per_kg.is_finite());
                        assert!(!one.log10_activity.is_infinite());
                    }
                    let (mut low, mut high) = (0.0, 0.0);
                    fgall_solver_ph_interval(s, &totals, &mut low, &mut high, e());
                    assert!(!low.is_infinite() && !high.is_infinite());
                }
            }
        }
    }
    let allowed = [FGALL_OK, FGALL_NOT_SOLVED, FGALL_TOO_MANY_SPECIES];
    assert!(statuses.iter().all(|s| allowed.contains(s)), "{statuses:?}");
}
