//! Assays against worked examples and tables of others.
//!
//! Each row names where it was read. The worked examples are of analytical
//! chemistry courses: they print values without uncertainties, and each is
//! checked to the digits it prints.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use approx::assert_relative_eq;
use ferrogall::assay::*;
use ferrogall::bench::{HydrateMix, Lot};
use ferrogall::chem::{SpecificGravity, molar_mass, water_density};
use ferrogall::quantity::*;
use table::{number, table};

fn molar(c: f64) -> Reading<MolarConcentration> {
    Reading::exact(moles_per_liter(c)).unwrap()
}

fn ml(v: f64) -> Reading<Volume> {
    Reading::exact(milliliters(v)).unwrap()
}

fn g(m: f64) -> Reading<Mass> {
    Reading::exact(grams(m)).unwrap()
}

struct Worked {
    source: &'static str,
    titrant: Titrant,
    molarity: f64,
    volume_ml: f64,
    /// mL taken of mL.
    aliquot: Option<(f64, f64)>,
    /// The iron the source prints, g, and its last digit.
    iron_g: (f64, f64),
    /// The atomic weight the source uses.
    atomic_weight: f64,
}

const WORKED: &[Worked] = &[
    Worked {
        // 47.2 mL of 0.112 N: 0.2934 g, 36.49 % of 0.804 g.
        source: "BYJU'S, question '0.804 g sample of iron ore', worked with Fe = 55.5",
        titrant: Titrant::Permanganate,
        molarity: 0.112 / 5.0,
        volume_ml: 47.2,
        aliquot: None,
        iron_g: (0.2934, 0.0001),
        atomic_weight: 55.5,
    },
    Worked {
        source: "vizzadanie 19402530, worked with Fe = 55.8",
        titrant: Titrant::Permanganate,
        molarity: 0.01998,
        volume_ml: 19.1,
        aliquot: Some((25.0, 200.0)),
        iron_g: (0.8518, 0.0001),
        atomic_weight: 55.8,
    },
    Worked {
        // 44.11 % (0.44108) of 0.1483 g.
        source: "Palacký University Olomouc, problems in analytical chemistry, 3.74, Fe = 55.85",
        titrant: Titrant::Dichromate,
        molarity: 0.02,
        volume_ml: 9.76,
        aliquot: None,
        iron_g: (0.44108 * 0.1483, 0.00001 * 0.1483),
        atomic_weight: 55.85,
    },
    Worked {
        source: "chemistry.coach, General Chemistry 3, oxidation-reduction, exercise 10, Fe = 55.845",
        titrant: Titrant::CeriumIV,
        molarity: 0.100,
        volume_ml: 42.5,
        aliquot: None,
        iron_g: (0.237, 0.001),
        atomic_weight: 55.845,
    },
    Worked {
        // Equivalents as laboratory manuals print them: a millilitre of 0.1 N.
        source: "redox titration of Mohr's salt, manual: 1 mL of 0.1 N permanganate = 0.0055847 g Fe",
        titrant: Titrant::Permanganate,
        molarity: 0.02,
        volume_ml: 1.0,
        aliquot: None,
        iron_g: (0.005_584_7, 1e-7),
        atomic_weight: 55.847,
    },
    Worked {
        source: "1 mL of 1/60 mol/L dichromate = 5.585 mg Fe (textbook)",
        titrant: Titrant::Dichromate,
        molarity: 1.0 / 60.0,
        volume_ml: 1.0,
        aliquot: None,
        iron_g: (0.005_585, 1e-6),
        atomic_weight: 55.85,
    },
];

#[test]
fn titrations_worked_by_others() {
    for w in WORKED {
        let mut t =
            RedoxTitration::new(w.titrant, Sample::Salt, molar(w.molarity), ml(w.volume_ml));
        if let Some((taken, of)) = w.aliquot {
            t = t.aliquot(Aliquot::new(ml(taken), ml(of)));
        }
        let iron = t.iron().unwrap();
        let (printed, digit) = w.iron_g;
        let found = iron.value().in_moles() * w.atomic_weight;
        assert!(
            (found - printed).abs() <= 0.5 * digit * 1.001,
            "{}: {found}",
            w.source
        );
        assert_eq!(iron.u().value, 0.0, "{}: exact in, exact out", w.source);
        // And back: the volume that this iron takes.
        let (taken, of) = w.aliquot.unwrap_or((1.0, 1.0));
        let share = Share::new(taken / of).unwrap();
        let back =
            RedoxTitration::expected(w.titrant, moles_per_liter(w.molarity), iron.value(), share);
        assert_relative_eq!(
            back.unwrap().in_milliliters(),
            w.volume_ml,
            max_relative = 1e-12
        );
    }
}

/// H.P. Talbot, An Introductory Course of Quantitative Chemical Analysis
/// (Project Gutenberg 12787), problem 46: limonite, 0.5000 g; 50 mL of
/// permanganate of which 1 mL is 0.005317 g of iron; the excess taken back by
/// 6 mL of iron(II) sulfate, 0.009200 g of FeO a millilitre. Answer: 44.60 %.
#[test]
fn limonite_titrated_back() {
    let iron = 55.845;
    // What a millilitre of permanganate is in iron says its molarity.
    let molarity = 0.005_317 / iron / 5.0 * 1e3;
    let iron_per_feo = iron / molar_mass("FeO").unwrap().in_grams_per_mole();
    let taken_back_ml = 6.0 * 0.009_200 * iron_per_feo / 0.005_317;
    let found = RedoxTitration::new(
        Titrant::Permanganate,
        Sample::Salt,
        molar(molarity),
        ml(50.0),
    )
    .blank(ml(taken_back_ml))
    .mass_fraction(&g(0.5))
    .unwrap();
    // The book's atomic weights are older: a unit and a half of its last digit.
    assert!(
        (100.0 * found.value() - 44.60).abs() < 0.015,
        "{}",
        found.value()
    );
}

/// chemistry.coach, as above: 30.0 mL of the sample, 0.142 mol/L.
#[test]
fn concentration_of_a_pipetted_sample() {
    let t = RedoxTitration::new(Titrant::CeriumIV, Sample::Stock, molar(0.1), ml(42.5));
    let c = t.concentration(&ml(30.0)).unwrap().value();
    assert!((c.in_moles_per_liter() - 0.142).abs() < 0.0005);
}

/// The manual's 0.039214 g of Mohr's salt for a millilitre of 0.1 N: a pure
/// salt comes out pure. Its molar masses are some decades older, 0.01 %.
#[test]
fn mohr_salt_comes_out_pure() {
    let t = RedoxTitration::new(Titrant::Permanganate, Sample::Salt, molar(0.02), ml(1.0));
    let purity = t.purity(&g(0.039_214), "Fe(NH4)2(SO4)2·6H2O").unwrap();
    assert!((purity.value() - 1.0).abs() < 1e-4);
    let iron = t.mass_fraction(&g(0.039_214)).unwrap();
    let share = 55.845
        / molar_mass("Fe(NH4)2(SO4)2·6H2O")
            .unwrap()
            .in_grams_per_mole();
    assert_relative_eq!(iron.value(), purity.value() * share, max_relative = 1e-9);
}

/// u of a product is the root of the sum of squares of the relative parts
/// (JCGM 100:2008, 5.1.6).
#[test]
fn uncertainty_of_a_titration_in_closed_form() {
    let t = RedoxTitration::new(
        Titrant::Permanganate,
        Sample::Salt,
        Reading::standard(moles_per_liter(0.02), moles_per_liter(1e-4)).unwrap(),
        Reading::buret(milliliters(20.0), milliliters(0.05)).unwrap(),
    )
    .blank(Reading::buret(milliliters(0.1), milliliters(0.05)).unwrap())
    .aliquot(Aliquot::new(
        Reading::triangular(milliliters(25.0), milliliters(0.03)).unwrap(),
        Reading::triangular(milliliters(250.0), milliliters(0.15)).unwrap(),
    ));
    let iron = t.iron().unwrap();
    let buret = 0.05 * (2.0_f64 / 3.0).sqrt();
    let parts = [
        1e-4 / 0.02,
        buret / 19.9,
        buret / 19.9,
        0.03 / 6f64.sqrt() / 25.0,
        0.15 / 6f64.sqrt() / 250.0,
    ];
    let closed = parts.iter().map(|p| p * p).sum::<f64>().sqrt();
    // Differences of sixth order against the closed form.
    assert_relative_eq!(iron.relative_u(), closed, max_relative = 1e-9);
    assert_relative_eq!(
        iron.value().in_moles(),
        5.0 * 0.02 * 0.0199 * 10.0,
        max_relative = 1e-12
    );
    // Normal inputs enough: k = 1.96 for 95 %.
    let (low, high) = iron.interval(0.95).unwrap();
    let half = 0.5 * (high - low).in_moles();
    assert_relative_eq!(half / iron.u().in_moles(), 1.959964, max_relative = 1e-6);
}

/// Few repeats widen the interval: three titres, Student's factor for 2
/// degrees of freedom is 4.303 (tables; Welch and Satterthwaite leave 2 when
/// nothing else is uncertain).
#[test]
fn three_titres_and_student() {
    let titres = [20.50, 20.55, 20.55].map(milliliters);
    let repeats = Reading::repeats(&titres).unwrap();
    let t = RedoxTitration::new(Titrant::Permanganate, Sample::Stock, molar(0.02), repeats);
    let iron = t.iron().unwrap();
    assert_eq!(iron.dof(), 2.0);
    let (low, high) = iron.interval(0.95).unwrap();
    let k = 0.5 * (high - low).in_moles() / iron.u().in_moles();
    assert!((k - 4.303).abs() < 0.0005, "{k}");
    // s/√n of the three: 0.0289 mL/√3.
    assert_relative_eq!(
        iron.relative_u(),
        0.05 / 3.0 / 20.533_333,
        max_relative = 1e-6
    );
}

/// Drops: the end lies evenly between two of them, width/√12; common practice
/// for the drop of 0.05 mL.
#[test]
fn drops_bracket_the_end_point() {
    let dropper = Dropper::usual().unwrap();
    let t = RedoxTitration::new(
        Titrant::Permanganate,
        Sample::Stock,
        molar(0.02),
        Delivered::drops(18, &dropper).unwrap(),
    );
    let iron = t.iron().unwrap();
    assert_relative_eq!(
        iron.value().in_moles(),
        5.0 * 0.02 * 17.5 * 0.05e-3,
        max_relative = 1e-12
    );
    let (between, drop) = (1.0 / 12f64.sqrt() / 17.5, 0.2);
    assert_relative_eq!(iron.relative_u(), between.hypot(drop), max_relative = 1e-9);
    // Two counts with one dropper: its size cancels in their ratio.
    let total = RedoxTitration::new(
        Titrant::Permanganate,
        Sample::Stock,
        molar(0.02),
        Delivered::drops(22, &dropper).unwrap(),
    );
    let share = oxidised_share(&iron, &total.iron().unwrap()).unwrap();
    assert_relative_eq!(share.value(), 1.0 - 17.5 / 21.5, max_relative = 1e-12);
    let ratio_u = 17.5 / 21.5 * (1.0 / 12f64.sqrt() / 17.5).hypot(1.0 / 12f64.sqrt() / 21.5);
    assert_relative_eq!(share.u(), ratio_u, max_relative = 1e-6);
}

/// A hundred drops of 4.31 g of water at 20 °C (0.9982 g/mL), u of the balance
/// step/√6.
#[test]
fn a_dropper_that_was_weighed() {
    let mass = Reading::weighed(grams(4.31), grams(0.01)).unwrap();
    let water = water_density(celsius(20.0)).unwrap();
    let drop = Dropper::weighed(100, &mass, water).unwrap();
    let v = drop.drop().value().in_milliliters();
    assert!((v - 4.31 / 0.9982 / 100.0).abs() < 1e-6);
    assert!((drop.drop().u().in_milliliters() / v - 0.01 / 6f64.sqrt() / 4.31).abs() < 1e-9);
}

/// JCGM 100:2008 (GUM), H.3: calibration of a thermometer, reference 20 °C.
/// Printed: y1 −0.1712(29), y2 0.00218(67), r −0.930, b(30 °C) −0.1494(41).
#[test]
fn calibration_line_of_the_gum() {
    let t = [
        21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511,
    ]
    .map(|t: f64| t - 20.0);
    let b = [
        -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160,
    ];
    let line = CalibrationLine::fit(&t, &b).unwrap();
    // Half a unit of the last digit printed.
    assert!((line.intercept() + 0.1712).abs() < 0.5e-4);
    assert!((line.intercept_u() - 0.0029).abs() < 0.5e-4);
    assert!((line.slope() - 0.00218).abs() < 0.5e-5);
    assert!((line.slope_u() - 0.00067).abs() < 0.5e-5);
    assert!((line.correlation() + 0.930).abs() < 0.5e-3);
    assert_eq!(line.dof(), 9.0);
    // The same unrounded, by SciPy outside this project.
    assert_relative_eq!(line.residual(), 0.003_497_56, max_relative = 1e-5);
    assert_relative_eq!(line.intercept(), -0.171_204, max_relative = 1e-5);
    let at_30 = line.predict(10.0).unwrap();
    assert!((at_30.value() + 0.1494).abs() < 0.5e-4);
    assert!((at_30.u() - 0.0041).abs() < 0.5e-4);
    assert_relative_eq!(at_30.u(), 0.004_138_6, max_relative = 1e-4);
    // Law of propagation with the covariance, GUM equation H.15.
    let by_law =
        (line.intercept_u().powi(2) + 100.0 * line.slope_u().powi(2) + 20.0 * line.covariance())
            .sqrt();
    assert_relative_eq!(at_30.u(), by_law, max_relative = 1e-9);
    // 10 lies beyond the standards, and says so.
    assert!(at_30.notes().iter().any(|n| n.code == "beyond_standards"));
}

/// A laboratory report on iron with phenanthroline (studymode.com 1168321):
/// six standards, line 10553.63(190.5558) x − 0.00363(0.007721); the sample of
/// absorbance 0.096 holds 9.44e-6 mol/L. To the digits printed.
#[test]
fn calibration_line_of_iron_standards() {
    let c = [
        6.2424e-5, 5.202e-5, 4.1616e-5, 3.1212e-5, 2.0808e-5, 1.0404e-5,
    ];
    let a = [0.662, 0.545, 0.432, 0.313, 0.2195, 0.1125];
    let line = CalibrationLine::fit(&c, &a).unwrap();
    assert!((line.slope() - 10553.63).abs() < 0.005);
    assert!((line.slope_u() - 190.5558).abs() < 0.000_05);
    assert!((line.intercept() + 0.00363).abs() < 0.000_005);
    assert!((line.intercept_u() - 0.007_721).abs() < 0.000_000_5);
    let sample = line.read(0.096, 1).unwrap();
    assert!((sample.value() - 9.44e-6).abs() < 0.005e-6);
    // Below the weakest standard.
    assert!(sample.notes().iter().any(|n| n.code == "beyond_standards"));
}

/// Reading backwards: u(x) = (s/b) √(1/p + 1/n + (y − ȳ)²/(b² Sxx)), as in
/// EURACHEM/CITAC CG4 E.3 (equation E3.5) and Harris, Quantitative Chemical
/// Analysis.
#[test]
fn reading_a_line_backwards_in_closed_form() {
    let x = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0];
    let y = [0.003, 0.200, 0.391, 0.596, 0.786, 0.981];
    let line = CalibrationLine::fit(&x, &y).unwrap();
    let (n, mean_y) = (6.0, y.iter().sum::<f64>() / 6.0);
    let sxx = 17.5; // Σ(x − 2.5)²
    for (read, p) in [(0.3, 1_u32), (0.7, 3), (1.2, 2)] {
        let b = line.slope();
        let d = (read - mean_y) / b;
        let closed = line.residual() / b * (1.0 / f64::from(p) + 1.0 / n + d * d / sxx).sqrt();
        let found = line.read(read, p).unwrap();
        assert_relative_eq!(found.u(), closed, max_relative = 1e-8);
        let back = line.predict(found.value()).unwrap();
        assert_relative_eq!(back.value(), read, max_relative = 1e-12);
    }
    // A flat line reads nothing.
    let flat = CalibrationLine::fit(&x, &[0.1, 0.12, 0.09, 0.1, 0.11, 0.1]).unwrap();
    assert!(matches!(flat.read(0.1, 1), Err(AssayError::NoLine { .. })));
}

/// HJ/T 345-2007: molar absorption 1.1e4 L/(mol cm), 0.12 to 5.00 mg/L;
/// 1 mg/L in 1 cm reads 0.197 (computed).
#[test]
fn phenanthroline_reads_as_the_standard_says() {
    let cell = Reading::exact(millimeters(10.0)).unwrap();
    let mg_per_l = |x: f64| moles_per_liter(1e-3 * x / 55.845);
    let one = Phenanthroline::expected(mg_per_l(1.0), millimeters(10.0)).unwrap();
    assert!((one - 0.197).abs() < 0.0005);
    for mg in [0.02, 0.1, 0.2, 1.0, 4.9] {
        let a = Phenanthroline::expected(mg_per_l(mg), millimeters(10.0)).unwrap();
        let read = Reading::standard(a, 0.002).unwrap();
        let found = Phenanthroline::new(Sample::Stock, read, cell.clone())
            .iron()
            .unwrap();
        assert_relative_eq!(
            found.value().value,
            mg_per_l(mg).value,
            max_relative = 1e-12
        );
        let code = |c: &str| found.notes().iter().any(|n| n.code == c);
        assert_eq!(code("not_seen"), mg < 0.03);
        assert_eq!(code("below_lower_limit"), (0.03..0.12).contains(&mg));
    }
    // Above 5 mg/L: dilute.
    let dark = Reading::standard(1.2, 0.002).unwrap();
    let dark = Phenanthroline::new(Sample::Stock, dark, cell.clone());
    assert!(matches!(dark.iron(), Err(AssayError::OutOfRange(_))));
    assert!(Phenanthroline::expected(mg_per_l(5.1), millimeters(10.0)).is_err());
    // Ink only with a blank of its own.
    let ink = Phenanthroline::new(Sample::FinishedInk, Reading::exact(0.4).unwrap(), cell);
    assert!(matches!(ink.iron(), Err(AssayError::Refused { .. })));
    let blanked = ink.blank(Reading::exact(0.1).unwrap()).iron().unwrap();
    assert!(blanked.notes().iter().any(|n| n.code == "tannin_reduces"));
}

/// University of the Philippines, ChE experiment 9: 3.71 ppm of iron is
/// 6.64e-5 mol/L; line y = 0.1946 x − 0.0501 per ppm.
#[test]
fn iron_by_a_line_in_mg_per_litre() {
    let x = [1.0, 2.0, 3.0, 4.0, 5.0];
    let y = x.map(|x| 0.1946 * x - 0.0501);
    let line = CalibrationLine::fit(&x, &y).unwrap();
    let read = Reading::exact(0.1946 * 3.71 - 0.0501).unwrap();
    let cell = Reading::exact(millimeters(10.0)).unwrap();
    let found = Phenanthroline::new(Sample::Stock, read, cell)
        .iron_by(&line)
        .unwrap();
    assert!((found.value().in_moles_per_liter() - 6.64e-5).abs() < 0.005e-5);
}

/// Hammer 1861: specific gravities of gall tannin at 15 °C. The apparent
/// volume that the crate uses meets his table to 0.0003, the uncertainty given
/// for it; the greatest difference is printed when it does not.
#[test]
fn hydrometer_on_tannin_against_hammer() {
    let rows = table("hammer_1861_tannin.csv");
    assert_eq!(rows.len(), 6);
    let at = celsius(15.0);
    for row in &rows {
        let percent = number(row, "tannin_mass_pct").unwrap();
        let printed = number(row, "sg_15_15").unwrap();
        let w = MassFraction::percent(percent).unwrap();
        let sg = LiquorDensity::expected(w, at, at).unwrap().ratio();
        println!("{percent} %: {sg:.4} against {printed}");
        assert!(
            (sg - printed).abs() <= LiquorDensity::table_u(),
            "{percent} %: {sg} {printed}"
        );
        let reading = SpecificGravity::new(printed, at, at).unwrap();
        let liquor = LiquorDensity::of(reading, LiquorDensity::table_u(), 0.0).unwrap();
        let found = liquor.tannin().unwrap();
        // His steps are 0.0041 a percent: 0.0003 is 0.07 %.
        assert!(
            (100.0 * found.value() - percent).abs() < 0.075,
            "{percent} %"
        );
        assert!((100.0 * found.value() - percent).abs() < 2.0 * 100.0 * found.u());
        assert_eq!(found.bound(), Bound::AtMost);
        assert_eq!(
            liquor.tannin_only().tannin().unwrap().bound(),
            Bound::Estimate
        );
    }
}

/// Gerlach 1866: green vitriol at 15 °C, specific gravity to 0.001. What a
/// hydrometer of that accuracy finds holds his percentage within twice the
/// stated uncertainty.
#[test]
fn hydrometer_on_vitriol_against_gerlach() {
    let at = celsius(15.0);
    let salt = molar_mass("FeSO4·7H2O").unwrap().in_grams_per_mole();
    let mut rows = 0;
    for row in table("gerlach_1866_feso4.csv") {
        let w = 0.01 * number(&row, "heptahydrate_mass_pct").unwrap();
        let printed = number(&row, "sg_15_15").unwrap();
        let sg = SpecificGravity::new(printed, at, at).unwrap();
        let litre = 1000.0 * sg.density().in_grams_per_cubic_centimeter();
        let truth = w * litre / salt;
        let stock = StockDensity::of(IronStock::Sulfate, sg, 0.001 / 12f64.sqrt(), 0.2).unwrap();
        let found = stock.clone().clean().iron().unwrap();
        let off = found.value().in_moles_per_liter() - truth;
        assert!(
            off.abs() < 2.0 * found.u().in_moles_per_liter(),
            "{w}: {off}"
        );
        assert_eq!(stock.iron().unwrap().bound(), Bound::AtMost);
        let back = StockDensity::expected(IronStock::Sulfate, found.value(), at).unwrap();
        assert_relative_eq!(back.value, sg.density().value, max_relative = 1e-9);
        rows += 1;
    }
    assert_eq!(rows, 7);
}

/// Hydrates of iron(II) sulfate worked by others: waters for each iron, to the
/// whole number the problem asks for.
#[test]
fn waters_of_green_vitriol() {
    for (source, before, after, waters, digit) in [
        (
            "chemicalforums 30846: 1.983 g leave 1.084 g",
            1.983,
            1.084,
            7.0,
            0.05,
        ),
        // Worked there with round molar masses, 152 and 18.
        ("wyzant 877262: 2.78 g leave 1.52 g", 2.78, 1.52, 7.0, 0.02),
    ] {
        let dried = VitriolDrying::new(g(0.0), g(before), g(after), DriedTo::Anhydrous);
        let found = dried.waters().unwrap();
        assert!(
            (found.value() - waters).abs() < digit,
            "{source}: {}",
            found.value()
        );
    }
    // BYJU'S: 45.3 % water in the heptahydrate (round atomic weights).
    let pure = HydrateMix::new(1.0, 0.0, 0.0, 0.0).unwrap();
    let left = VitriolDrying::expected(&pure, DriedTo::Anhydrous);
    assert!((100.0 * (1.0 - left) - 45.3).abs() < 0.1);
    // Iron of the hydrates: 20.09, 24.94, 32.87 % (IUPAC 2021 weights).
    for (mix, iron) in [
        ((1.0, 0.0, 0.0), 20.09),
        ((0.0, 1.0, 0.0), 24.94),
        ((0.0, 0.0, 1.0), 32.87),
    ] {
        let mix = HydrateMix::new(mix.0, mix.1, mix.2, 0.0).unwrap();
        let kept = VitriolDrying::expected(&mix, DriedTo::Monohydrate);
        let dried = VitriolDrying::new(g(0.0), g(1.0), g(kept), DriedTo::Monohydrate);
        let content = dried.iron_content().unwrap();
        assert!((100.0 * content.value() - iron).abs() < 0.005);
        let again = mean_waters(&dried.weathered().unwrap().mix).unwrap();
        assert_relative_eq!(again, mean_waters(&mix).unwrap(), max_relative = 1e-12);
    }
}

/// A gram of iron is 17.91 mmol (IUPAC 2021), and steel of 98 % gives 2 % less.
#[test]
fn a_nail_that_lost_a_gram() {
    let pure = Estimate::new(1.0, 0.0).unwrap();
    let iron = iron_dissolved(&g(10.0), &g(9.0), Some(pure)).unwrap();
    assert!((iron.value().in_millimoles() - 17.907).abs() < 0.001);
    let steel = iron_dissolved(&g(10.0), &g(9.0), None).unwrap();
    assert_relative_eq!(
        steel.value().value / iron.value().value,
        0.98,
        max_relative = 1e-12
    );
    assert_relative_eq!(steel.relative_u(), 0.01 / 0.98, max_relative = 1e-3);
    let back = expected_metal_loss(steel.value()).unwrap();
    assert_relative_eq!(back.in_grams(), 1.0, max_relative = 1e-12);
    assert!(iron_dissolved(&g(9.0), &g(10.0), None).is_err());
    let coarse = |m: f64| Reading::weighed(grams(m), grams(0.1)).unwrap();
    let slight = iron_dissolved(&coarse(10.0), &coarse(9.9), None).unwrap();
    assert!(slight.notes().iter().any(|n| n.code == "within_balance"));
}

/// Dried pans: the pan is one variable in both masses.
#[test]
fn pans() {
    let at = |m: f64| Reading::balance(grams(m), grams(0.01)).unwrap();
    let residue = dry_residue(&at(80.0), &at(130.0), &at(82.5)).unwrap();
    assert_relative_eq!(residue.value(), 0.05, max_relative = 1e-12);
    // w = (c − a)/(b − a): each reading 0.01/√12.
    let u = 0.01 / 12f64.sqrt();
    let (by_pan, by_full, by_dry): (f64, f64, f64) =
        ((0.05 - 1.0) / 50.0, -0.05 / 50.0, 1.0 / 50.0);
    let closed = u * (by_pan.powi(2) + by_full.powi(2) + by_dry.powi(2)).sqrt();
    assert_relative_eq!(residue.u(), closed, max_relative = 1e-9);
    let moisture = loss_on_drying(&at(20.0), &at(25.0), &at(24.5)).unwrap();
    assert_relative_eq!(moisture.value(), 0.1, max_relative = 1e-12);
    assert!(dry_residue(&at(80.0), &at(80.0), &at(80.0)).is_err());
    assert!(dry_residue(&at(80.0), &at(85.0), &at(86.0)).is_err());
    assert!(dry_residue(&at(80.0), &at(85.0), &at(79.0)).is_err());
}

/// A lot that was titrated, dried or weathered holds the iron that was found.
#[test]
fn a_lot_holds_what_its_assay_found() {
    let salt = Reading::weighed(grams(0.70), grams(0.01)).unwrap();
    let t = RedoxTitration::new(Titrant::Permanganate, Sample::Salt, molar(0.02), ml(23.9));
    let n = t.iron().unwrap().value();
    for (assay, setting) in [
        (t.purity(&salt, "FeSO4·7H2O").unwrap(), LotSetting::Purity),
        (t.mass_fraction(&salt).unwrap(), LotSetting::IronContent),
    ] {
        let lot = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
        let lot = assay.set(lot, setting).unwrap().build().unwrap();
        let iron = lot.composition(grams(0.70)).unwrap().iron_ii();
        assert_relative_eq!(iron.value, n.value, max_relative = 1e-9);
    }
    for left in [3.4, 4.2, 3.09] {
        let dried = VitriolDrying::new(g(0.0), g(5.0), g(left), DriedTo::Monohydrate);
        let found = dried.iron_content().unwrap().value();
        let lot = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
        let lot = lot.hydrates(dried.weathered().unwrap().mix).unwrap();
        let lot = lot.purity(1.0, 0.0).unwrap().build().unwrap();
        let held = lot.composition(grams(100.0)).unwrap().iron_ii().value * 55.845 / 100.0;
        assert_relative_eq!(held, found, max_relative = 1e-9);
    }
    // Damp crystals: the moisture carries the rest.
    let damp = VitriolDrying::new(g(0.0), g(10.0), g(5.8), DriedTo::Monohydrate);
    let w = damp.weathered().unwrap();
    let lot = Lot::of("iron_ii_sulfate_heptahydrate").unwrap();
    let lot = lot
        .hydrates(w.mix)
        .unwrap()
        .moisture(w.moisture, w.moisture_u)
        .unwrap();
    let lot = lot.purity(1.0 - w.moisture, 0.0).unwrap().build().unwrap();
    let held = lot.composition(grams(100.0)).unwrap().iron_ii().value * 55.845 / 100.0;
    assert_relative_eq!(
        held,
        damp.iron_content().unwrap().value(),
        max_relative = 1e-9
    );
    // A setting that does not apply is refused.
    let galls = Lot::of("aleppo_galls").unwrap();
    let purity = t.purity(&salt, "FeSO4·7H2O").unwrap();
    assert!(matches!(
        purity.set(galls, LotSetting::Purity),
        Err(AssayError::Lot(_))
    ));
}
