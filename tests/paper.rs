//! Ink on paper against hand-worked figures, closed forms, published figures
//! and the laws it has to obey.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use approx::assert_relative_eq;
use ferrogall::bench::Lot;
use ferrogall::composition::Composition;
use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
use ferrogall::oxidation::{Air, Assisted, InorganicRate, Milieu, SecondOrder};
use ferrogall::paper::*;
use ferrogall::quantity::*;
use ferrogall::standards::reference_ink;

mod table;
use table::{number, table};

const MINUTE: f64 = 60.0;
const DAY: f64 = 86_400.0;

fn part(id: &str, g: f64) -> Composition {
    let lot = Lot::of(id).unwrap().purity(1.0, 0.0).unwrap();
    lot.build().unwrap().composition(grams(g)).unwrap()
}

fn tannic_acid(g: f64) -> Composition {
    let lot = Lot::of("tannic_acid").unwrap().build().unwrap();
    lot.composition(grams(g)).unwrap()
}

/// Poured together and made up with water to a litre.
fn litre(parts: &[Composition]) -> Composition {
    let dry = parts
        .iter()
        .fold(Composition::EMPTY, |sum, p| sum.mixed_with(p));
    let left = 1000.0 - dry.volume().in_milliliters();
    let water = Lot::of("distilled_water").unwrap().build().unwrap();
    let ml = water.mass_of(milliliters(left)).unwrap();
    dry.mixed_with(&water.composition(ml).unwrap())
}

fn standard(strength: f64) -> Composition {
    let ink = reference_ink("us_federal_writing_1935").unwrap();
    let recipe = ink.recipe(liters(1.0), strength).unwrap();
    recipe.evaluate().unwrap().composition
}

fn micrometers(um: f64) -> Length {
    millimeters(um / 1000.0)
}

fn room() -> Climate {
    Climate::indoors().unwrap()
}

fn at(t: f64, humidity: f64) -> Climate {
    Climate::new(celsius(t), Share::percent(humidity).unwrap()).unwrap()
}

/// Copy paper of a known reserve and pH, so that these are not drawn.
fn paper(reserve_percent: f64, ph: f64) -> Paper {
    let reserve = MassFraction::percent(reserve_percent).unwrap();
    let paper = Paper::of("copy_paper").unwrap();
    paper.with_reserve(reserve).unwrap().with_ph(ph).unwrap()
}

fn write(ink: &Composition, paper: Paper) -> Writing {
    Writing::new(ink, paper, room()).unwrap()
}

fn seconds(s: f64) -> Time {
    days(s / DAY)
}

fn oxidised(w: &Writing, s: f64) -> Span<f64> {
    let none = Span {
        low: Share::ZERO,
        typical: Share::ZERO,
        high: Share::ZERO,
    };
    let mut out = [none];
    w.oxidised_at(&[seconds(s)], &mut out).unwrap();
    Span {
        low: out[0].low.value(),
        typical: out[0].typical.value(),
        high: out[0].high.value(),
    }
}

fn typical_of(id: &str) -> f64 {
    assumptions().find(|a| a.id == id).unwrap().range.typical
}

/// What no tannin helps: the inorganic rate alone is left.
fn unassisted(w: Writing) -> Writing {
    let least = SecondOrder::l_per_mol_s(1e-12).unwrap();
    w.with_assisted(Assisted::known(least, 1.0).unwrap())
        .unwrap()
}

// ---- amounts per area -------------------------------------------------

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
    let sulfate = ink
        .amount(ferrogall::composition::Component::Sulfate)
        .in_moles();
    let chloride = ink
        .amount(ferrogall::composition::Component::Chloride)
        .in_moles();
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

// ---- neutralisation ---------------------------------------------------

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
    let mol = one
        .amount(ferrogall::composition::Component::Chloride)
        .in_moles();
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

// ---- drying -----------------------------------------------------------

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

// ---- oxygen -----------------------------------------------------------

#[test]
fn oxygen_crosses_the_film_as_worked_out() {
    // tests/data/oxidation_checks.csv, rows D04 to D06: a 50 µm film at 25 °C
    // with 0.1 mol/L of iron(II)
    let rows = table("oxidation_checks.csv");
    let row = |id: &str| {
        let row = rows.iter().find(|r| r["case"] == id).unwrap();
        let figure = |column| number(row, column).unwrap();
        (figure("expected"), figure("tolerance_rel"))
    };
    let ink = litre(&[part("iron_ii_sulfate_heptahydrate", 27.8006)]);
    let line = Writing::new(&ink, paper(0.0, 6.0), at(25.0, 50.0)).unwrap();
    let line = line.with_film(micrometers(50.0)).unwrap();
    let (expected, tolerance) = row("D04");
    assert_relative_eq!(
        line.oxygen_crossing().value,
        expected,
        max_relative = tolerance
    );
    let (expected, tolerance) = row("D06");
    let supply = line.oxygen_supply_time().value;
    assert_relative_eq!(supply, expected, max_relative = tolerance);
    let (expected, tolerance) = row("D05");
    let iron = line.load().unwrap().iron_ii.in_moles_per_square_meter();
    assert_relative_eq!(iron / 4.0 / supply, expected, max_relative = tolerance);
}

#[test]
fn no_line_darkens_faster_than_oxygen_comes() {
    // A rate beyond all measure: the wet film of 50 µm takes iron(II) in a
    // straight line, t/121 s (row D06), until it is dry.
    let ink = litre(&[
        part("iron_ii_sulfate_heptahydrate", 27.8006),
        tannic_acid(40.0),
    ]);
    let fast = Assisted::known(SecondOrder::l_per_mol_s(1e6).unwrap(), 1.0).unwrap();
    let line = Writing::new(&ink, paper(15.0, 8.0), at(25.0, 50.0)).unwrap();
    let line = line.with_film(micrometers(50.0)).unwrap();
    let line = line.with_assisted(fast).unwrap();
    let supply = line.oxygen_supply_time().value;
    for s in [10.0, 30.0, 60.0] {
        // typical: the line dries only after more than two minutes
        assert_relative_eq!(oxidised(&line, s).typical, s / supply, max_relative = 1e-9);
    }
}

// ---- darkening --------------------------------------------------------

#[test]
fn at_a_steady_ph_the_dry_line_follows_first_order() {
    // Reserve without end holds the line at the paper's pH. Then ln of what
    // is left falls by k c(O2) × dampness, k from the rate laws themselves.
    for ph in [5.0, 6.0, 6.5, 7.0] {
        let line = write(&standard(1.0), paper(25.0, ph)).with_reach(Share::ONE);
        let milieu = Milieu::new(celsius(20.0), ph).unwrap();
        let alone = InorganicRate::at(&milieu).unwrap().typical;
        let helped = Assisted::published()
            .constant_at(ph, celsius(20.0), 0.0, 0.0, 0.0)
            .unwrap();
        let air = Air::at(celsius(20.0), kilopascals(101.325)).unwrap();
        let k = alone.in_l_per_mol_s() + helped.in_l_per_mol_s();
        let oxygen = air.dissolved().in_moles_per_liter();
        let expected = k * oxygen * typical_of("dampness");
        // long after drying and neutralising
        let (from, to) = (40.0 * MINUTE, 40.0 * MINUTE + 1.0 / expected);
        let left = |s| (1.0 - oxidised(&line, s).typical).ln();
        // The rate between the points of the titration is straight in its
        // logarithm: 0.13 pH apart, that is good to 0.5 %.
        assert_relative_eq!(
            (left(from) - left(to)) / (to - from),
            expected,
            max_relative = 5e-3
        );
    }
}

#[test]
fn the_curve_of_first_order_is_met_at_every_time() {
    // As above; the whole curve is 1 − e^(−t/τ) of one τ once it is dry.
    let line = write(&standard(1.0), paper(25.0, 6.0)).with_reach(Share::ONE);
    let start = 40.0 * MINUTE;
    let left = |s: f64| 1.0 - oxidised(&line, s).typical;
    let tau = -(2.0 * DAY) / (left(start + 2.0 * DAY) / left(start)).ln();
    for days in [0.1, 0.5, 1.0, 3.0, 5.0] {
        let expected = left(start) * (-days * DAY / tau).exp();
        // the midpoint rule is exact for it but for the last of the neutralising
        assert_relative_eq!(left(start + days * DAY), expected, max_relative = 1e-6);
    }
}

#[test]
fn ph_is_the_lever_published_rates_make_it() {
    // By the species law the half-life in air-saturated water at 25 °C is
    // 2612 d at pH 2, 1.03 d at pH 6 and 19.7 min at pH 7 (Wehrli, King; worked
    // out in the notes to the rate laws): 2536 and 191 000 times.
    let ink = litre(&[
        part("iron_ii_sulfate_heptahydrate", 15.0),
        part("sulfuric_acid", 1.0),
    ]);
    let on = |sheet| {
        let line = Writing::new(&ink, sheet, at(25.0, 50.0)).unwrap();
        unassisted(line.with_reach(Share::ONE))
    };
    let acid = on(paper(0.0, 5.0));
    assert!((acid.darkening().unwrap().ph_line.typical - 2.0).abs() < 0.3);
    for (ph, expected) in [(6.0, 2612.0 / 1.03), (7.0, 2612.0 * 1440.0 / 19.7)] {
        let ratio = acid
            .times_slower_than(&on(paper(25.0, ph)))
            .unwrap()
            .unwrap();
        // The acid line is not at pH 2 all the time (8 %), and at pH 7 the
        // first half minute passes wet.
        assert_relative_eq!(ratio.typical, expected, max_relative = 0.12);
    }
}

#[test]
fn iron_without_tannin_does_not_count_as_pigment() {
    // half as many galloyl units as iron: all the pigment is there when half
    // of the iron is oxidised
    let iron = part("iron_ii_sulfate_heptahydrate", 15.0);
    let plenty = litre(&[iron, tannic_acid(20.0)]);
    let scale = plenty.galloyl().in_moles() / (0.5 * plenty.iron().in_moles());
    let ink = litre(&[iron, tannic_acid(20.0 / scale)]);
    let line = write(&ink, paper(15.0, 8.0));
    assert_eq!(line.load().unwrap().short, Short::Tannin);
    for point in line.darkening().unwrap().curve {
        let expected = (2.0 * point.oxidised.typical.value()).min(1.0);
        assert_relative_eq!(
            point.developed.typical.value(),
            expected,
            max_relative = 1e-6
        );
    }
    assert!(causes(&line).contains(&Cause::TanninShort));
}

#[test]
fn damp_air_is_needed() {
    // Rouchon et al. 2011 (abstract): iron(II) on paper is oxidised where
    // oxygen and moisture are both present. Bone-dry air stops a dry line.
    let (ink, sheet) = (standard(1.0), paper(15.0, 8.0));
    let on = |humidity| Writing::new(&ink, sheet, at(20.0, humidity)).unwrap();
    let bone_dry = on(0.0);
    let d = bone_dry.darkening().unwrap();
    assert_eq!(d.to_nine_tenths.typical, None);
    let last = d.curve[CURVE_POINTS - 1].oxidised.typical;
    assert_eq!(last, d.oxidised_when_dry.typical);
    assert_eq!(bone_dry.times_slower_than(&on(50.0)).unwrap(), None);
    let mut before = f64::INFINITY;
    for humidity in [20.0, 40.0, 60.0, 80.0, 95.0] {
        let half = on(humidity).darkening().unwrap().to_half.typical.unwrap();
        assert!(half.value < before, "{humidity} %");
        before = half.value;
    }
}

#[test]
fn an_ink_without_iron_ii_darkens_never() {
    let ink = litre(&[tannic_acid(10.0)]);
    let line = write(&ink, paper(15.0, 8.0));
    let d = line.darkening().unwrap();
    assert_eq!(d.to_tenth.low, None);
    assert!(d.curve.iter().all(|p| p.oxidised.high == Share::ZERO));
    assert_eq!(causes(&line), [Cause::NoPigment]);
}

// ---- laws -------------------------------------------------------------

#[test]
fn curves_never_fall_and_intervals_hold_the_typical_value() {
    for ink in [
        standard(1.0),
        standard(0.2),
        litre(&[
            part("iron_ii_sulfate_heptahydrate", 30.0),
            tannic_acid(10.0),
        ]),
    ] {
        for kind in papers() {
            let d = write(&ink, Paper::of(kind.id).unwrap())
                .darkening()
                .unwrap();
            for pair in d.curve.windows(2) {
                assert!(pair[0].time < pair[1].time);
                for end in [
                    |s: Span<Share>| s.low,
                    |s: Span<Share>| s.typical,
                    |s: Span<Share>| s.high,
                ] {
                    assert!(
                        end(pair[0].oxidised) <= end(pair[1].oxidised),
                        "{}",
                        kind.id
                    );
                    assert!(end(pair[0].developed) <= end(pair[1].developed));
                }
            }
            for p in d.curve {
                let s = p.oxidised;
                assert!(
                    s.low <= s.typical && s.typical <= s.high,
                    "{} {s:?}",
                    kind.id
                );
            }
            let or_never = |t: Option<Time>| t.map_or(f64::INFINITY, |t| t.value);
            for t in [d.to_tenth, d.to_half, d.to_nine_tenths] {
                assert!(or_never(t.low) <= or_never(t.typical));
                assert!(or_never(t.typical) <= or_never(t.high));
            }
            assert!(or_never(d.to_tenth.typical) <= or_never(d.to_half.typical));
            assert!(or_never(d.to_half.typical) <= or_never(d.to_nine_tenths.typical));
            assert!(d.ph_line.low <= d.ph_line.typical && d.ph_line.typical <= d.ph_line.high);
            assert!(d.ph_dark.typical <= d.ph_line.typical);
        }
    }
}

/// Longer or as long, but for the step of the integration (0.1 %).
fn no_faster(slow: &Writing, fast: &Writing) {
    let ratio = slow.times_slower_than(fast).unwrap().unwrap();
    assert!(ratio.low >= 0.999, "{ratio:?}");
}

#[test]
fn more_reserve_never_slows_and_more_acid_never_speeds() {
    let inks: Vec<_> = [0.0, 1.0, 3.0, 10.0]
        .map(|acid| {
            let vitriol = part("iron_ii_sulfate_heptahydrate", 15.0);
            litre(&[vitriol, tannic_acid(12.0), part("hydrochloric_acid", acid)])
        })
        .into();
    let reserves = [0.0, 0.01, 0.03, 0.1, 0.3, 1.0, 5.0];
    for ink in &inks {
        let lines = reserves.map(|r| write(ink, paper(r, 8.0)));
        for pair in lines.windows(2) {
            no_faster(&pair[0], &pair[1]);
        }
    }
    for reserve in reserves {
        let lines: Vec<_> = inks.iter().map(|i| write(i, paper(reserve, 8.0))).collect();
        for pair in lines.windows(2) {
            no_faster(&pair[1], &pair[0]);
        }
    }
    // and once it matters it shows
    let (bare, full) = (
        write(&inks[1], paper(0.0, 8.0)),
        write(&inks[1], paper(5.0, 8.0)),
    );
    assert!(bare.times_slower_than(&full).unwrap().unwrap().low > 2.0);
}

#[test]
fn two_papers_compare_far_better_than_either_is_known() {
    // What "relative factors, never a lifetime" is worth: the ratio's span is
    // narrower than the quotient of the two spans would be.
    let ink = standard(1.0);
    let (rag, copy) = (write(&ink, paper(0.0, 6.0)), write(&ink, paper(15.0, 8.0)));
    let ratio = rag.times_slower_than(&copy).unwrap().unwrap();
    let half = |w: &Writing| w.darkening().unwrap().to_half;
    let (r, c) = (half(&rag), half(&copy));
    let year = days(365.25);
    let long = |t: Option<Time>| t.unwrap_or(year).value;
    let loose = long(r.high) / long(c.low) / (long(r.low) / long(c.high));
    assert!(ratio.high / ratio.low < 0.1 * loose, "{ratio:?} {loose}");
    // a line is as fast as itself
    let same = rag.times_slower_than(&rag).unwrap().unwrap();
    assert_eq!((same.low, same.typical, same.high), (1.0, 1.0, 1.0));
}

#[test]
fn the_same_question_gives_the_same_bits() {
    let line = write(&standard(1.0), Paper::of("cotton_rag").unwrap());
    let (a, b) = (line.darkening().unwrap(), line.clone().darkening().unwrap());
    assert_eq!(a, b);
    // times asked for one by one, all together and in the curve
    let times: Vec<Time> = a.curve.iter().map(|p| p.time).collect();
    let mut all = vec![a.curve[0].oxidised; times.len()];
    line.oxidised_at(&times, &mut all).unwrap();
    for (p, s) in a.curve.iter().zip(&all) {
        assert_eq!(p.oxidised, *s);
        // each time cuts a step of its own
        let alone = oxidised(&line, p.time.value).typical;
        assert!((alone - s.typical.value()).abs() < 1e-3);
    }
}

// ---- findings ---------------------------------------------------------

fn causes(line: &Writing) -> Vec<Cause> {
    line.diagnoses().unwrap().iter().map(|d| d.cause).collect()
}

#[test]
fn diagnoses_say_what_is_amiss() {
    let copy = || paper(15.0, 8.0);
    let vitriol = |g| part("iron_ii_sulfate_heptahydrate", g);
    let cases = [
        (standard(0.2), Cause::TooDilute),
        (
            litre(&[vitriol(2.0), tannic_acid(12.0)]),
            Cause::TooLittleIron,
        ),
        (litre(&[vitriol(15.0), tannic_acid(1.0)]), Cause::WeakTannin),
        (
            litre(&[vitriol(30.0), tannic_acid(8.0)]),
            Cause::TanninShort,
        ),
    ];
    for (ink, cause) in cases {
        let found = causes(&write(&ink, copy()));
        assert!(found.contains(&cause), "{cause:?} is not among {found:?}");
    }
    let good = causes(&write(&standard(1.0), copy()));
    for cause in [
        Cause::TooDilute,
        Cause::TooLittleIron,
        Cause::WeakTannin,
        Cause::TanninShort,
        Cause::StaysAcid,
    ] {
        assert!(!good.contains(&cause));
    }
    // "grey on copy paper": fast, but neutral
    assert!(good.contains(&Cause::AlkalinePaper));
    // slow on paper without reserve
    let slow = causes(&write(
        &standard(1.0),
        Paper::of("aged_acid_paper").unwrap(),
    ));
    assert!(slow.contains(&Cause::StaysAcid) && slow.contains(&Cause::NeedsTime));
    assert!(!slow.contains(&Cause::AlkalinePaper));
    // "black in the bottle but pale on paper"
    let old = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
    let old = old.oxidised(0.4, 0.01).unwrap().build().unwrap();
    let ink = litre(&[old.composition(grams(15.0)).unwrap(), tannic_acid(12.0)]);
    let ferric = write(&ink, copy()).diagnoses().unwrap();
    let found = ferric
        .iter()
        .find(|d| d.cause == Cause::IronAlreadyFerric)
        .unwrap();
    assert_relative_eq!(found.value, 0.4, max_relative = 1e-3);
    assert!(
        ferric
            .iter()
            .all(|d| d.value.is_finite() && d.limit.is_finite())
    );
}

// ---- the door ---------------------------------------------------------

#[test]
fn nonsense_is_refused_and_never_answered() {
    let ink = standard(1.0);
    let sheet = Paper::of("copy_paper").unwrap();
    let line = write(&ink, sheet);
    let wild = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        -1.0,
        0.0,
        1e-300,
        1e300,
        0.01,
        1.0,
        30.0,
    ];
    for x in wild {
        let _ = ArealAmount::moles_per_square_meter(x);
        let _ = sheet.with_ph(x);
        let _ = sheet.with_grammage(ArealMassDensity::new::<
            uom::si::areal_mass_density::kilogram_per_square_meter,
        >(x));
        let _ = line.clone().with_width(millimeters(x));
        let _ = room().drying_time(millimeters(x), millimeters(0.5));
        let _ = room().drying_time(millimeters(0.01), millimeters(x));
        if let Ok(load) = Load::of(&ink, millimeters(x)) {
            assert!(load.iron.in_moles_per_square_meter().is_finite());
        }
        for share in [0.0, 0.5, 0.98, 1.0] {
            let Ok(climate) = Climate::new(celsius(x), Share::new(share).unwrap()) else {
                continue;
            };
            if let Ok(line) = Writing::new(&ink, sheet, climate) {
                let d = line.darkening().unwrap();
                assert!(d.ph_line.low.is_finite() && d.drying.high.value.is_finite());
            }
        }
        if let Ok(line) = line.clone().with_film(millimeters(x)) {
            let d = line.darkening().unwrap();
            assert!(d.oxygen_supply.value.is_finite());
        }
        let none = Span {
            low: Share::ZERO,
            typical: Share::ZERO,
            high: Share::ZERO,
        };
        let _ = line.oxidised_at(&[days(x)], &mut [none]);
    }
    let none = Span {
        low: Share::ZERO,
        typical: Share::ZERO,
        high: Share::ZERO,
    };
    assert_eq!(
        line.oxidised_at(&[days(1.0)], &mut []),
        Err(PaperError::Lengths {
            times: 1,
            places: 0
        })
    );
    assert!(matches!(
        line.oxidised_at(&[days(2.0), days(1.0)], &mut [none; 2]),
        Err(PaperError::TimesDoNotRise { .. })
    ));
    assert!(matches!(
        line.oxidised_at(&[days(f64::NAN)], &mut [none]),
        Err(PaperError::OutOfRange(_))
    ));
    assert!(Writing::new(&Composition::EMPTY, sheet, room()).is_err());
    // water alone is a poor ink, but no error
    assert!(write(&litre(&[]), sheet).darkening().is_ok());
    // stocks far beyond any ink
    let stock = litre(&[
        part("iron_ii_chloride_tetrahydrate", 400.0),
        part("hydrochloric_acid", 300.0),
    ]);
    match Writing::new(&stock, sheet, room()) {
        Ok(line) => assert!(line.darkening().unwrap().ph_ink.is_finite()),
        Err(e) => assert!(matches!(e, PaperError::Equilibrium(_)), "{e}"),
    }
}
