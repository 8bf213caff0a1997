//! Amounts per area, neutralisation, drying: figures worked by hand.

use crate::*;
use approx::assert_relative_eq;
use ferrogall::composition::Component;
use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};

#[test]
fn iron_per_area_is_concentration_times_film() {
    // 15.0 g/L of FeSO4·7H2O (278.006 g/mol) under 10 µm, by hand
    let load = Load::of(&standard(1.0), micrometers(10.0)).unwrap();
    let by_hand = 15.0 / 278.006 * 10.0e-6 * 1e3;
    assert_relative_eq!(
        load.iron.in_moles_per_square_meter(),
        by_hand,
        max_relative = 1e-4 // the litre is made up of apparent volumes
    );
    // 3.013 g/L of iron: 30.13 mg/m²
    assert_relative_eq!(load.iron_mass.value * 1e6, 30.13, max_relative = 1e-3);
    let thick = Load::of(&standard(1.0), micrometers(30.0)).unwrap();
    assert_relative_eq!(
        thick.iron.in_moles_per_square_meter(),
        3.0 * load.iron.in_moles_per_square_meter(),
        max_relative = 1e-12
    );
    assert!(Load::of(&Composition::EMPTY, micrometers(10.0)) == Err(PaperError::NoInk));
}

#[test]
fn acid_is_conserved_from_the_bottle_to_the_dark_line() {
    // Per litre: 0.054 iron, 0.054 sulfate, 0.0343 chloride and tannin to
    // spare. Once all iron is pigment nothing holds the anions but protons:
    // 2 × 0.054 + 0.0343, of which chloride can leave.
    let ink = standard(1.0);
    let load = Load::of(&ink, micrometers(10.0)).unwrap();
    let dark = load.volatile_acid_dark.in_moles_per_square_meter()
        + load.fixed_acid_dark.in_moles_per_square_meter();
    let sulfate = ink.amount(Component::Sulfate).in_moles();
    let chloride = ink.amount(Component::Chloride).in_moles();
    let area = ink.volume().value / 10e-6;
    assert_relative_eq!(dark, (2.0 * sulfate + chloride) / area, max_relative = 1e-9);
    assert_relative_eq!(
        load.fixed_acid_dark.in_moles_per_square_meter(),
        2.0 * sulfate / area,
        max_relative = 1e-9
    );
    assert_eq!(load.short, Short::Iron);
}

#[test]
fn acetate_leaves_no_fixed_acid_and_sulfate_does() {
    // the same iron as acetate and as sulfate, tannin to spare
    let acetate = litre(&[
        part("iron_ii_acetate_tetrahydrate", 13.28),
        tannic_acid(15.0),
    ]);
    let sulfate = litre(&[
        part("iron_ii_sulfate_heptahydrate", 15.0),
        tannic_acid(15.0),
    ]);
    let load = |ink| Load::of(ink, micrometers(10.0)).unwrap();
    let (a, s) = (load(&acetate), load(&sulfate));
    assert_relative_eq!(
        a.iron.in_moles_per_square_meter(),
        s.iron.in_moles_per_square_meter(),
        max_relative = 2e-3
    );
    assert!(a.fixed_acid_dark.in_moles_per_square_meter().abs() < 1e-9);
    // two acetic acids for each iron, and two charges of sulfuric acid
    assert_relative_eq!(
        a.volatile_acid_dark.in_moles_per_square_meter(),
        2.0 * a.iron.in_moles_per_square_meter(),
        max_relative = 1e-6
    );
    assert_relative_eq!(
        s.fixed_acid_dark.in_moles_per_square_meter(),
        2.0 * s.iron.in_moles_per_square_meter(),
        max_relative = 1e-6
    );
}

#[test]
fn reserve_takes_up_two_acids_for_each_calcium_carbonate() {
    // 80 g/m² with 2 % CaCO3 (100.086 g/mol): 1.6 g/m², 15.986 mmol/m²
    let sheet = paper(2.0, 8.0);
    assert_relative_eq!(
        sheet.reserve().in_millimoles_per_square_meter(),
        2.0 * 1.6 / 100.086 * 1000.0,
        max_relative = 1e-12
    );
    let fifth = write(&standard(1.0), sheet).with_reach(Share::percent(20.0).unwrap());
    assert_relative_eq!(
        fifth.reserve_met().in_millimoles_per_square_meter(),
        6.3945,
        max_relative = 1e-4
    );
}

#[test]
fn half_neutralised_hydrochloric_acid_has_the_ph_worked_by_hand() {
    // 0.05 mol/L HCl under 20 µm: 1 mmol/m². A reserve of 0.25 mmol/m² of
    // acid takes a quarter, half of it leaves with the water (typical): a
    // quarter, 0.0125 mol/L, is left. The model counts what leaves as calcium
    // does, so I = (0.0125 + 0.05 + 4 × 0.01875)/2 = 0.0688, and Davies at
    // 25 °C (A = 0.51) gives −log γ = 0.095: pH 1.903 + 0.095.
    let acid = Lot::of("hydrochloric_acid").unwrap().build().unwrap();
    let one = acid.composition(grams(1.0)).unwrap();
    let mol = one.amount(Component::Chloride).in_moles();
    let ink = litre(&[acid.composition(grams(0.05 / mol)).unwrap()]);
    // 0.25 mmol/m² of acid: 0.125 mmol/m² or 12.51 mg/m² CaCO3 on 80 g/m²
    let sheet = paper(100.0 * 0.012_510_75 / 80.0, 8.0);
    let line = Writing::new(&ink, sheet, at(25.0, 50.0)).unwrap();
    let line = line.with_film(micrometers(20.0)).unwrap();
    let got = line.with_reach(Share::ONE).darkening().unwrap().ph_line;
    // CaCl+ and the curve between its points
    assert!((got.typical - 1.998).abs() < 0.02, "{got:?}");
}

#[test]
fn strong_acid_uses_up_its_share_of_the_reserve() {
    // 1 mmol/m² of hydrochloric acid, half of which leaves with the water
    // (typical), on 4 mmol/m² of reserve: an eighth.
    let acid = Lot::of("hydrochloric_acid").unwrap().build().unwrap();
    let one = acid.composition(grams(1.0)).unwrap();
    let mol = one.volatile_acid().in_moles();
    let ink = litre(&[acid.composition(grams(0.05 / mol)).unwrap()]);
    let sheet = |mmol: f64| paper(100.0 * mmol / 2.0 * 0.100_086 / 80.0, 7.0);
    let on = |mmol| {
        let line = write(&ink, sheet(mmol))
            .with_film(micrometers(20.0))
            .unwrap();
        let d = line.with_reach(Share::ONE).darkening().unwrap();
        d.reserve_used.typical.value()
    };
    assert_relative_eq!(on(4.0), 0.125, max_relative = 1e-3);
    assert_eq!((on(0.4), on(0.0)), (1.0, 1.0));
}

#[test]
fn chalk_brings_water_to_the_ends_of_its_assumed_span() {
    // Calcite in pure water under a gas of known CO2, by the equilibrium
    // room: saturation index 0. Textbooks have 8.2 to 8.3 outdoors, 6.0 at 1 atm.
    let span = assumptions().find(|a| a.id == "chalk_ph").unwrap().range;
    for (pascal, expected) in [(43.0, span.max), (101_325.0, span.min)] {
        let solver = Solver::new(ConstantSet::reviewed(), celsius(25.0)).unwrap();
        let mut solver = solver.open_to(kilopascals(pascal / 1000.0)).unwrap();
        let mut state = |log_calcium: f64| {
            let calcium = moles_per_kilogram(10f64.powf(log_calcium));
            let totals = Totals::new().with(Master::Calcium, calcium).unwrap();
            let solution = solver.solve(&totals).unwrap();
            let calcite = solution.solids().find(|s| s.name == "calcite").unwrap();
            (calcite.index, solution.ph())
        };
        let (mut low, mut high) = (-5.0, -1.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if state(middle).0 < 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        let ph = state(low).1;
        assert!((ph - expected).abs() < 0.05, "pH {ph:.2} at {pascal} Pa");
    }
}

#[test]
fn alkaline_paper_lifts_the_line_and_acid_paper_does_not() {
    let ink = standard(1.0);
    let ph_on = |id: &str| write(&ink, Paper::of(id).unwrap()).darkening().unwrap();
    let (copy, aged) = (ph_on("copy_paper"), ph_on("aged_acid_paper"));
    assert_eq!(copy.ph_ink, aged.ph_ink);
    assert!(copy.ph_line.low > 5.9); // even under its own carbon dioxide
    assert!(aged.ph_line.high < 3.5);
    // acid set free as the pigment forms
    assert!(aged.ph_dark.typical < aged.ph_line.typical - 0.3);
    assert!(copy.ph_dark.typical > 6.0); // 24 mmol/m² of base met, 1.4 of acid
}

#[test]
fn permanent_paper_is_that_of_the_standard() {
    // ISO 9706: 20 g/kg as calcium carbonate at least, pH 7.5 to 10 (appendix
    // 3 of the US report to Congress on permanent papers)
    let kind = papers().iter().find(|p| p.id == "permanent_paper").unwrap();
    assert_eq!(kind.reserve_percent.min, 2.0);
    assert_eq!((kind.ph.min, kind.ph.max), (7.5, 10.0));
}

#[test]
fn open_water_evaporates_as_in_the_table_for_aquaria() {
    // 30 to 50 g/(m² h) in a dwelling (table of a solar housing handbook),
    // taken at 20 °C and 60 %. The layer of still air was set by this figure.
    let (film, wide) = (micrometers(40.0), millimeters(1000.0));
    let hours = at(20.0, 60.0).drying_time(film, wide).unwrap().in_days() * 24.0;
    let per_hour = 40.0 / hours;
    assert!((30.0..50.0).contains(&per_hour), "{per_hour} g/(m² h)");
}

#[test]
fn narrow_strips_dry_by_the_formula_of_a_strip_under_a_half_cylinder() {
    // q = π D Δc / ln(4 δ/w) per length, with δ ≫ w; D of Monteith & Unsworth
    // at 23 °C is 2.4617e-5 m²/s (printed by another code that splines their table).
    let (w, delta) = (1e-4_f64, 0.012);
    let flux = std::f64::consts::PI * 2.4617e-5 / (w * (4.0 * delta / w).ln());
    // 2.810 kPa at 23 °C (CRC Handbook), 50 %
    let vapor = 0.5 * 2810.0 * 0.018015 / (8.314463 * 296.15);
    let by_hand = 10e-6 * 1000.0 / (flux * vapor);
    let got = at(23.0, 50.0)
        .drying_time(micrometers(10.0), millimeters(0.1))
        .unwrap();
    // ln(1 + x) for ln x is 0.03 %, D 1 %
    assert_relative_eq!(got.value, by_hand, max_relative = 0.015);
}
