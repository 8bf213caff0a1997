//! pH of inks that laboratories made and measured.
//!
//! A published pH is of an ink that air has been at, for how long is not
//! told. What oxidation does to it is acid: iron(II) taken to iron(III) and
//! bound to a galloyl group sets two protons free,
//!
//! Fe²⁺ + ¼ O₂ + H₄Gal → FeHGal + ½ H₂O + 2 H⁺,
//!
//! so three figures are reckoned for each ink:
//!
//! - *fresh*: all iron is iron(II), as weighed in;
//! - *dissolved*: all iron is iron(III), nothing has fallen out;
//! - *acid limit*: all iron has fallen out as the 1:1 gallate, and the sulfate
//!   is left as acid.
//!
//! No ink without an acid of its own can be more acid than the limit, nor less
//! than the fresh one; how far it has come between them is read off the
//! measured pH. The share so found is an upper bound where something else
//! brings the ink down too: commercial tannic acid holds free gallic acid, wine
//! and vinegar hold their acids. *Dissolved* may lie to either side of the
//! measurement: it rests on binding constants good to an order of magnitude.
//!
//! `tests/data/measured_ink_ph.csv` names the sources. Nothing in the crate
//! was fitted to them.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use ferrogall::equilibrium::{ConstantSet, Master, Solver, Totals};
use ferrogall::quantity::*;
use table::{Row, table};

/// What the model may miss by at these ionic strengths (0.1 to 0.6 mol/kg):
/// the error of log γ of the proton, as `published_ph.rs` has it from the
/// activity coefficients of hydrochloric acid.
const MODEL: f64 = 0.05;

fn number(row: &Row, column: &str) -> f64 {
    table::number(row, column).unwrap()
}

fn of_kind(kind: &str) -> Vec<Row> {
    let mut rows = table("measured_ink_ph.csv");
    rows.retain(|r| r["kind"] == kind);
    rows
}

/// An ink, mol per kg of water.
#[derive(Clone, Copy)]
struct Ink {
    iron_ii: f64,
    iron_iii: f64,
    sulfate: f64,
    galloyl: f64,
    gallic: f64,
}

impl Ink {
    /// As weighed in; a tannin that is not told counts as none, for it hardly
    /// gives off protons by itself.
    fn fresh(row: &Row) -> Ink {
        let tannin = table::number(row, "tannin_mol_per_kg");
        let groups = table::number(row, "galloyl_per_molecule");
        let iron = number(row, "iron_mol_per_kg");
        Ink {
            iron_ii: iron,
            iron_iii: 0.0,
            sulfate: iron,
            galloyl: tannin.unwrap_or(0.0) * groups.unwrap_or(0.0),
            gallic: number(row, "free_gallic_mol_per_kg"),
        }
    }

    /// All iron oxidised, all dissolved. The proton that each iron takes with
    /// its oxygen is in the balance of charges.
    fn dissolved(self) -> Ink {
        Ink {
            iron_ii: 0.0,
            iron_iii: self.iron_ii,
            ..self
        }
    }

    /// A share of the iron fallen out with as much gallate: of the tannin
    /// first, of gallic acid where that does not suffice. Of a gall extract
    /// the tannin is not told, and enough.
    fn thrown(self, share: f64) -> Ink {
        let lost = share * self.iron_ii;
        let from_tannin = lost.min(self.galloyl);
        Ink {
            iron_ii: self.iron_ii - lost,
            galloyl: self.galloyl - from_tannin,
            gallic: (self.gallic - (lost - from_tannin)).max(0.0),
            ..self
        }
    }

    fn ph(self) -> f64 {
        let parts = [
            (Master::IronII, self.iron_ii),
            (Master::IronIII, self.iron_iii),
            (Master::Sulfate, self.sulfate),
            (Master::Galloyl, self.galloyl),
            (Master::Gallate, self.gallic),
        ];
        let add = |t: Totals, (m, n): (Master, f64)| t.with(m, moles_per_kilogram(n)).unwrap();
        let totals = parts.into_iter().fold(Totals::new(), add);
        let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0)).unwrap();
        solver.solve(&totals).unwrap().ph()
    }

    /// The share of the iron that must have fallen out for this pH.
    fn share_at(self, ph: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if self.thrown(middle).ph() > ph {
                low = middle;
            } else {
                high = middle;
            }
        }
        high
    }
}

/// Prints one ink, and fails unless it lies between fresh and spent.
fn between(row: &Row, why: &str) -> f64 {
    let (id, measured) = (&row["id"], number(row, "ph"));
    let fresh = Ink::fresh(row);
    let (upper, middle, limit) = (fresh.ph(), fresh.dissolved().ph(), fresh.thrown(1.0).ph());
    let share = fresh.share_at(measured);
    // Air over water keeps 0.26 mmol/kg of oxygen in it (25 °C): how often
    // that must have been used up and taken again.
    let oxygen = share * fresh.iron_ii / 4.0 / 0.26e-3;
    println!(
        "{id}: fresh {upper:.2}, measured {measured:.2}, dissolved {middle:.2}, limit {limit:.2}; \
         {:.0} % of the iron thrown down, the oxygen of {oxygen:.0} times its volume of water\n    {why}",
        100.0 * share
    );
    let slack = number(row, "uncertainty") + MODEL;
    assert!(measured <= upper + slack, "{id}: {measured} above {upper}");
    assert!(measured >= limit - slack, "{id}: {measured} below {limit}");
    share
}

fn row(id: &str) -> Row {
    let rows = table("measured_ink_ph.csv");
    rows.into_iter().find(|r| r["id"] == id).unwrap()
}

#[test]
fn reference_inks_lie_between_fresh_and_spent() {
    for row in of_kind("reference") {
        let why = match row["id"].as_str() {
            "gallic" => "far below fresh: acid set free by oxidation and binding",
            "tannic_acid" => "the same, and free gallic acid in what is sold as tannic acid",
            _ => "acid set free by oxidation and binding; least for the fewest galloyl groups",
        };
        between(&row, why);
    }
}

#[test]
fn recipes_of_known_volume_lie_between_fresh_and_spent() {
    for row in of_kind("recipe") {
        let why = match row["id"].as_str() {
            "madrid" => "fresh without the acids of the wine, which is near pH 3.3 itself",
            _ => "the volume is inferred; fresh counts the gallic acid of the extract",
        };
        between(&row, why);
    }
}

/// Of an ink whose volume is not known only this can be said: how much green
/// vitriol it must have held, at the least, to become so acid.
#[test]
fn inks_of_unknown_volume_need_no_more_vitriol_than_dissolves() {
    for row in of_kind("unknown") {
        let measured = number(&row, "ph");
        let spent = |vitriol: f64| {
            let ink = Ink {
                iron_ii: vitriol,
                iron_iii: 0.0,
                sulfate: vitriol,
                galloyl: vitriol,
                gallic: 0.0,
            };
            ink.thrown(1.0).ph()
        };
        let (mut low, mut high) = (1e-5, 2.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if spent(middle) > measured {
                low = middle;
            } else {
                high = middle;
            }
        }
        println!(
            "{}: pH {measured} needs {high:.4} mol/kg of vitriol ({:.1} g of the heptahydrate) at least; {}",
            row["id"],
            high * 278.01,
            row["notes"]
        );
        // Inks of the table hold 0.06 to 0.25 mol/kg.
        assert!(high < 0.06, "{}", row["id"]);
    }
}

/// The drop of more than a pH unit that oxidation brings: it cannot be had
/// without iron falling out or being bound.
#[test]
fn a_one_to_one_gallate_ink_loses_more_than_a_ph_unit() {
    let gallic = row("gallic");
    let fresh = Ink::fresh(&gallic);
    // Solved by an independent code with a like set of constants: 3.00
    // (0.054 mol/kg).
    assert!((fresh.ph() - 3.0).abs() < 0.05, "{}", fresh.ph());
    assert!(number(&gallic, "ph") < fresh.ph() - 1.0);
    let share = between(&gallic, "the state the others are compared with");
    // Neither untouched nor spent.
    assert!((0.05..0.95).contains(&share), "{share}");
}

/// Gallic acid alone. The reported pH is 0.1 below what its acid constant
/// allows: a known miss, listed in `published_ph.rs` too.
#[test]
fn gallic_acid_alone_is_less_acid_than_reported() {
    let row = row("gallic_solution");
    let computed = Ink::fresh(&row).ph();
    let off = computed - number(&row, "ph");
    println!("gallic acid alone: computed {computed:.3}, {off:+.3} from the report");
    // pKa1 is known to 0.04 at most (4.40 and 4.44): half of that in pH.
    assert!((off - 0.112).abs() < 0.02, "{off}");
}
