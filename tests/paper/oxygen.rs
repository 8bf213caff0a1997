//! Oxygen into the wet film.

use crate::table::{number, table};
use crate::*;
use approx::assert_relative_eq;

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
