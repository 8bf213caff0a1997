//! The constants against what others measured: pH standards, acids, salts,
//! activity coefficients, the properties of water, solubilities.
//!
//! `tests/data/published_ph.csv` keeps each figure with its source, how sure
//! its source (or we) are, and whether it was seen or comes from memory. No
//! constant of the crate was fitted to these figures, but one: the solubility
//! product of potassium hydrogen tartrate comes from the pH standard saturated
//! with it at 25 °C. The rows of its solubility at other temperatures stand.
//!
//! # What the model may miss by
//!
//! A row is met when the difference is no more than the row's own uncertainty
//! and the root of the squares of
//!
//! - activity: a rule that knows only charge and ionic strength I misses log γ
//!   of a singly charged ion by 0.2 I up to I = 0.1, then 0.02 rising to 0.05
//!   at 0.5 mol/kg. The mean activity coefficients of hydrochloric acid in the
//!   table (measured in cells) are held to that alone, and bear it out. For ions of
//!   charge z it is z² times as much: all go together with the slope A, and
//!   what the pH then does is the term (no less than the error of the proton
//!   itself).
//! - scale: pH rests on a convention about one ion. The pH standards' own
//!   (Bates–Guggenheim) is trusted to 0.01 (IUPAC recommendations of 2002;
//!   from memory).
//! - constants: acid constants of one step at zero ionic strength differ
//!   between compilations by 0.02.
//! - heat: the crate keeps enthalpies constant over temperature. A change of
//!   heat capacity ΔCp moves log K by ΔCp (T₀/T − 1 + ln(T/T₀)) / (R ln 10).
//!   One ionisation of an acid has about −250 J/(mol K): oxalic acid −168 and
//!   −261 (Kettler, Palmer & Wesolowski 1991, J. Solution Chem. 20, abstract),
//!   dihydrogen phosphate about −230 (from memory). That is 0.05 at 0 °C, 0.002
//!   at 20 and 30 °C, 0.02 at 40 °C, 0.04 at 50 °C and 0.08 at 60 °C.
//!
//! What is missed by more stands in [`KNOWN_MISSES`] with its reason, and must
//! go on missing by as much.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use ferrogall::chem::water_permittivity;
use ferrogall::equilibrium::{
    ConstantSet, Davies, DebyeHuckel, Master, Solver, Speciation, Totals,
};
use ferrogall::quantity::*;
use std::f64::consts::LN_10;
use table::{Row, number, table};

// Why a figure is missed.
const PAIRS: &str = "pairs of sodium and potassium with hydrogen phosphate and carbonate \
    (1.07, 0.88, 1.27) count again what the Davies equation holds already; checked below";
const OXALIC: &str =
    "first step of oxalic acid 1.40, where cell measurements have 1.277; checked below";
const ALUM: &str = "no polynuclear hydroxides of aluminium and no hydroxide sulfate in the set \
    (the former alone are worth 0.2); other public sets give 3.5 to 4.3";
const NO_HEAT: &str = "no heat of solution in the set: the value of 25 °C at every temperature";
const ROUGH_BENZOIC: &str = "the published figure: it needs pKa 4.03, all compilations have 4.20";
const ROUGH_CITRIC: &str =
    "the published figure, from memory, rounded: it needs pKa1 2.85, not 3.13";
const ROUGH_GALLIC: &str = "the published figure: it needs pKa1 4.2, found at 0.1 to 1 mol/L of \
    salt; at zero ionic strength all have 4.40 to 4.44";
const TWO_WATERS: &str = "the measurements of 1956 and the formulation of 1997, which the crate \
    follows, differ by 0.2 % near 0 °C: 0.0003 in log γ";

/// What is missed, by how much (computed less published), and why.
#[rustfmt::skip]
const KNOWN_MISSES: &[(&str, f64, &str)] = &[
    ("phos11_0", -0.108, PAIRS),
    ("phos11_10", -0.085, PAIRS),
    ("phos11_20", -0.081, PAIRS),
    ("phos11_25", -0.084, PAIRS),
    ("phos11_40", -0.114, PAIRS),
    ("phos11_50", -0.148, PAIRS),
    ("phos11_60", -0.189, PAIRS),
    ("phos135_0", -0.112, PAIRS),
    ("phos135_10", -0.087, PAIRS),
    ("phos135_20", -0.082, PAIRS),
    ("phos135_25", -0.085, PAIRS),
    ("phos135_40", -0.108, PAIRS),
    ("phos135_50", -0.133, PAIRS),
    ("carb_0", -0.326, PAIRS),
    ("carb_10", -0.236, PAIRS),
    ("carb_20", -0.173, PAIRS),
    ("carb_25", -0.152, PAIRS),
    ("carb_40", -0.122, PAIRS),
    ("carb_50", -0.127, PAIRS),
    ("kh2po4naoh_6.80", -0.092, PAIRS),
    ("kh2po4naoh_7.00", -0.074, PAIRS),
    ("kh2po4naoh_7.40", -0.084, PAIRS),
    ("tetrox_20", 0.046, OXALIC),
    ("tetrox_25", 0.047, OXALIC),
    ("tetrox_40", 0.045, OXALIC),
    ("alum_0.2M", 0.982, ALUM),
    ("alum_50gL", 1.010, ALUM),
    ("benzoic_sat", 0.086, ROUGH_BENZOIC),
    ("citric_0.1N", 0.137, ROUGH_CITRIC),
    ("gallic_2.35mM", 0.112, ROUGH_GALLIC),
    ("kht_sat_0", -0.567, NO_HEAT),
    ("kht_sat_20", -0.136, NO_HEAT),
    ("kht_sat_40", 0.496, NO_HEAT),
    ("kht_sat_60", 1.054, NO_HEAT),
    ("eps_mm_0", 0.163, TWO_WATERS),
    ("eps_mm_10", 0.144, TWO_WATERS),
    ("eps_mm_20", 0.122, TWO_WATERS),
    ("eps_mm_25", 0.108, TWO_WATERS),
];

/// A published figure.
struct Fact {
    row: Row,
    id: String,
    celsius: f64,
    value: f64,
    uncertainty: f64,
}

impl Fact {
    fn new(row: Row) -> Fact {
        Fact {
            id: row["id"].clone(),
            celsius: number(&row, "temp_C").unwrap(),
            value: number(&row, "value").unwrap(),
            uncertainty: number(&row, "uncertainty").unwrap(),
            row,
        }
    }

    fn temperature(&self) -> Temperature {
        celsius(self.celsius)
    }

    fn totals(&self) -> Totals {
        totals(&self.row["totals"])
    }
}

fn facts() -> Vec<Fact> {
    table("published_ph.csv")
        .into_iter()
        .map(Fact::new)
        .collect()
}

/// The rows whose names begin so.
fn named(prefixes: &[&str]) -> Vec<Fact> {
    let mut found = facts();
    found.retain(|f| prefixes.iter().any(|p| f.id.starts_with(p)));
    found
}

/// What the table calls a total.
fn master(name: &str) -> Master {
    let bare = |m: &&Master| {
        let ion = m.formula();
        ion.trim_end_matches(|c: char| "+-0123456789".contains(c)) == name
    };
    match name {
        "Fe2" => Master::IronII,
        "Fe3" => Master::IronIII,
        "S" => Master::Sulfate,
        "C" => Master::Carbonate,
        "P" => Master::Phosphate,
        "Gal" => Master::Gallate,
        _ => *Master::ALL.iter().find(bare).expect(name),
    }
}

/// `K=0.025;Na=0.05`, mol per kg of water. What was measured per litre of a
/// dilute solution is taken as per kilogram: under 0.5 % or 0.002 in pH.
fn totals(text: &str) -> Totals {
    text.split(';').fold(Totals::new(), |sum, part| {
        let (name, amount) = part.split_once('=').unwrap();
        let amount: f64 = amount.parse().unwrap();
        // Tannin is C76H52O46, ten galloyl groups.
        let (master, amount) = match name {
            "Tannin" => (Master::Galloyl, 10.0 * amount),
            _ => (master(name), amount),
        };
        sum.with(master, moles_per_kilogram(amount)).unwrap()
    })
}

fn solver(set: &ConstantSet, t: Temperature) -> Solver {
    Solver::new(set.clone(), t).unwrap()
}

/// Error of log γ of a singly charged ion.
fn activity_error(i: f64) -> f64 {
    if i <= 0.1 {
        0.2 * i
    } else {
        (0.02 + 0.03 * (i - 0.1) / 0.4).min(0.05)
    }
}

/// Error of log K of one ionisation, from its change of heat capacity.
fn heat_error(t: Temperature) -> f64 {
    let ratio = t.value / 298.15;
    250.0 / (8.314_46 * LN_10) * (1.0 / ratio - 1.0 + ratio.ln())
}

/// Computed pH and what the model may miss by.
fn ph(set: &ConstantSet, t: Temperature, totals: &Totals) -> (f64, f64) {
    let mut plain = solver(set, t);
    let solution = plain.solve(totals).unwrap();
    let (ph, i) = (
        solution.ph(),
        solution.ionic_strength().in_moles_per_kilogram(),
    );
    let law = DebyeHuckel::of_water(t).unwrap();
    let log_gamma = Davies::TRUNCATED.log10_gamma(law, 1, i);
    let error = activity_error(i);
    let steeper = DebyeHuckel {
        a: law.a * (1.0 - error / log_gamma),
        ..law
    };
    let mut other = solver(set, t).with_debye_huckel(steeper);
    let activity = (other.solve(totals).unwrap().ph() - ph).abs().max(error);
    let of_scale = activity.hypot(0.01);
    let strong = [Master::Chloride, Master::Sodium, Master::Potassium];
    let mut present = Master::ALL.iter().filter(|m| totals.of(**m).value > 0.0);
    if present.all(|m| strong.contains(m)) {
        return (ph, of_scale);
    }
    let of_constants = heat_error(t).hypot(0.02);
    (ph, of_scale.hypot(of_constants))
}

/// Judges figures one by one and fails at the end, so that all are printed.
struct Ledger {
    failures: Vec<String>,
    met: usize,
    missed: usize,
    worst: f64,
}

impl Ledger {
    fn open(what: &str) -> Ledger {
        println!("\n{what}\n  id                 °C  published   computed  difference  allowed");
        Ledger {
            failures: Vec::new(),
            met: 0,
            missed: 0,
            worst: 0.0,
        }
    }

    fn enter(&mut self, fact: &Fact, computed: f64, model: f64) {
        let Fact { id, value, .. } = fact;
        let off = computed - value;
        let allowed = fact.uncertainty + model;
        let known = KNOWN_MISSES.iter().find(|(known, ..)| known == id);
        let note = known.map_or("", |(.., why)| why);
        println!(
            "  {id:<16} {:4} {value:10.4} {computed:10.4}    {off:+8.4}   {allowed:6.4}  {note}",
            fact.celsius
        );
        self.worst = self.worst.max(off.abs());
        match known {
            None if off.abs() <= allowed => self.met += 1,
            None => self.failures.push(format!("{id} is off by {off:+.4}")),
            Some((_, listed, _)) => {
                self.missed += 1;
                if off.abs() <= allowed {
                    let text = format!("{id} is met now ({off:+.4}): no known miss any more");
                    self.failures.push(text);
                } else if (off - listed).abs() > 0.01 {
                    let text = format!("{id} is off by {off:+.4}, the list says {listed:+.3}");
                    self.failures.push(text);
                }
            }
        }
    }

    fn close(self) {
        println!(
            "  {} met, {} known misses, largest difference {:.3}",
            self.met, self.missed, self.worst
        );
        assert!(self.failures.is_empty(), "{:#?}", self.failures);
    }
}

/// pH of solutions as they were weighed in.
fn matched(what: &str, facts: &[Fact]) {
    let set = ConstantSet::reviewed();
    let mut ledger = Ledger::open(what);
    for fact in facts {
        let (computed, model) = ph(&set, fact.temperature(), &fact.totals());
        ledger.enter(fact, computed, model);
    }
    ledger.close();
}

const STANDARDS: &[&str] = &[
    "phos", "carb_", "citr_", "tetrox_", "kht_2", "kht_3", "kht_4", "kht_5", "kht_6", "hcl01_",
];
const BUFFERS: &[&str] = &["acet", "kclhcl_", "kh2po4", "mcilvaine_"];
const STRONG: &[&str] = &["hcl_1N", "hcl_0", "h2so4_"];
const WEAK: &[&str] = &[
    "hac_",
    "oxalic_",
    "tartaric_",
    "sorbic_",
    "benzoic_",
    "salicylic_",
    "citric_",
    "lactic_",
    "gallic_",
    "alum_",
];
const IN_AIR: &[&str] = &["feso4_", "fecl3_", "cuso4_", "tannic_"];
const REST: &[&str] = &[
    "co2_",
    "pk_",
    "hcl_gamma_",
    "gypsum_",
    "kht_sat_",
    "eps_",
    "A_",
];

#[test]
fn standard_buffers_at_25_degrees() {
    let mut facts = named(STANDARDS);
    facts.retain(|f| f.celsius == 25.0);
    matched("pH standards at 25 °C", &facts);
}

#[test]
fn standard_buffers_over_temperature() {
    let mut facts = named(STANDARDS);
    facts.retain(|f| f.celsius != 25.0);
    matched("pH standards, 0 to 60 °C", &facts);
}

#[test]
fn working_buffers() {
    matched("buffers of the handbooks", &named(BUFFERS));
}

#[test]
fn strong_acids() {
    matched("strong acids", &named(STRONG));
}

#[test]
fn weak_acids() {
    matched("weak acids and alum", &named(WEAK));
}

/// Mean activity coefficients of hydrochloric acid, from cells: the error of
/// the rule by itself.
#[test]
fn activity_coefficients_of_hydrochloric_acid() {
    let mut ledger = Ledger::open("log γ± of hydrochloric acid");
    let mut solver = solver(&ConstantSet::reviewed(), celsius(25.0));
    for fact in named(&["hcl_gamma_"]) {
        let solution = solver.solve(&fact.totals()).unwrap();
        let ions = solution
            .species()
            .filter(|s| ["H+", "Cl-"].contains(&s.name));
        let computed = ions.map(|s| s.log10_gamma).sum::<f64>() / 2.0;
        let i = solution.ionic_strength().in_moles_per_kilogram();
        ledger.enter(&fact, computed, activity_error(i));
    }
    ledger.close();
}

/// Second ionisation of sulfuric acid, which sets the pH of acid inks.
#[test]
fn bisulfate() {
    let mut ledger = Ledger::open("pK of hydrogen sulfate at zero ionic strength");
    let set = ConstantSet::reviewed();
    let bisulfate = set.species().find(|s| s.name() == "HSO4-").unwrap();
    for fact in named(&["pk_hso4"]) {
        ledger.enter(&fact, bisulfate.log_k_25(), 0.02);
    }
    ledger.close();
}

#[test]
fn water() {
    let mut ledger = Ledger::open("permittivity, and slope A of the Debye–Hückel law");
    for fact in named(&["eps_", "A_"]) {
        let t = fact.temperature();
        let computed = match fact.row["quantity"].as_str() {
            "permittivity" => water_permittivity(t).unwrap(),
            _ => DebyeHuckel::of_water(t).unwrap().a,
        };
        ledger.enter(&fact, computed, 0.0);
    }
    ledger.close();
}

/// Saturation index of a solid or gas.
fn index(solution: &Speciation<'_>, name: &str) -> f64 {
    solution.solids().find(|s| s.name == name).unwrap().index
}

/// Solutions made up as rich as the solid leaves them: its saturation index
/// against none. A relative error of the solubility counts twice in log Q.
#[test]
fn solubilities() {
    let mut ledger = Ledger::open("saturation index at the published solubility");
    for mut fact in named(&["gypsum_", "kht_sat_"]) {
        let (solid, ions) = match fact.id.as_str() {
            "gypsum_25" => ("gypsum", [Master::Calcium, Master::Sulfate]),
            _ => (
                "potassium hydrogen tartrate",
                [Master::Potassium, Master::Tartrate],
            ),
        };
        let m = moles_per_kilogram(fact.value);
        let mixed = ions
            .iter()
            .fold(Totals::new(), |t, i| t.with(*i, m).unwrap());
        let set = ConstantSet::reviewed();
        let mut solver = solver(&set, fact.temperature());
        let solution = solver.solve(&mixed).unwrap();
        let i = solution.ionic_strength().in_moles_per_kilogram();
        let charges = f64::from(ions[0].charge().pow(2));
        let activity = 2.0 * charges * activity_error(i);
        let u = set.solids().find(|s| s.name() == solid).unwrap().u();
        fact.uncertainty = 2.0 * fact.uncertainty / fact.value / LN_10;
        fact.value = 0.0;
        ledger.enter(&fact, index(&solution, solid), activity.hypot(u));
    }
    ledger.close();
}

/// Water that carbon dioxide of a given pressure has gone into.
#[test]
fn carbonic_acid() {
    let mut ledger = Ledger::open("water under carbon dioxide");
    for fact in named(&["co2_"]) {
        let wanted: f64 = fact.row["totals"]
            .trim_start_matches("log_pCO2=")
            .parse()
            .unwrap();
        let mut solver = solver(&ConstantSet::reviewed(), fact.temperature());
        let mut with = |log_total: f64| {
            let total = moles_per_kilogram(10_f64.powf(log_total));
            let totals = Totals::new().with(Master::Carbonate, total).unwrap();
            let solution = solver.solve(&totals).unwrap();
            (index(&solution, "CO2(g)"), solution.ph())
        };
        let (mut low, mut high) = (-8.0, 0.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if with(middle).0 < wanted {
                low = middle;
            } else {
                high = middle;
            }
        }
        ledger.enter(&fact, with(high).1, 0.022);
    }
    ledger.close();
}

/// Salts and a tannin as they are bought, measured in air. The pure substance
/// gives the upper bound, the worst that the bench makes of it the lower:
/// nothing here is matched.
#[test]
fn salts_in_air_lie_between_fresh_and_spent() {
    // name; what it is at worst; in words
    #[rustfmt::skip]
    let at_worst = [
        ("feso4_50gL", "Fe2=0.1782;S=0.18", "1 % of the iron oxidised and fallen out as hydroxide"),
        ("fecl3_0.1M", "Cl=0.3", "all iron fallen out as hydroxide"),
        ("fecl3_10gL", "Cl=0.111", "all iron fallen out as hydroxide"),
        ("cuso4_0.2M", "Cu=0.2;S=0.2002", "0.1 mol % of free sulfuric acid"),
        ("tannic_100gL", "Tannin=0.0529;Gal=0.0588", "10 % by mass of it gallic acid"),
    ];
    println!("\nsalts in air\n  id               pure  published  at worst");
    let set = ConstantSet::reviewed();
    for fact in named(IN_AIR) {
        let (_, worst, words) = at_worst.iter().find(|(id, ..)| *id == fact.id).unwrap();
        let t = fact.temperature();
        let (pure, model) = ph(&set, t, &fact.totals());
        let (spent, model_of_spent) = ph(&set, t, &totals(worst));
        let Fact { id, value, .. } = &fact;
        println!(
            "  {id:<14} {pure:6.2} {value:7.2} ± {} {spent:6.2}: {words}",
            fact.uncertainty
        );
        // The spans of the first and the last are of products, not of one
        // measurement: their middle is what must lie between.
        let slack = fact.uncertainty.min(0.05);
        assert!(*value <= pure + slack + model, "{id}: {value} above {pure}");
        assert!(
            *value >= spent - slack - model_of_spent,
            "{id}: {value} below {spent}"
        );
    }
}

/// How little oxidation makes green vitriol as acid as its data sheet says:
/// why an unacidified solution of it cannot be predicted to better than a pH
/// unit. The iron that air takes falls out as hydroxide and leaves two protons.
#[test]
fn a_trace_of_oxidation_sets_the_ph_of_green_vitriol() {
    let fact = named(&["feso4_50gL"]).remove(0);
    let set = ConstantSet::reviewed();
    let with = |lost: f64| {
        let text = format!("Fe2={};S=0.18", 0.18 * (1.0 - lost));
        ph(&set, fact.temperature(), &totals(&text)).0
    };
    println!("\ngreen vitriol, 50 g/L, iron lost to hydroxide");
    let lost = [0.0, 0.0001, 0.0003, 0.001, 0.003, 0.01];
    for share in lost {
        println!("  {:5.2} %  pH {:.2}", 100.0 * share, with(share));
    }
    assert!(with(0.0) > 5.5);
    // The data sheet's span is 3.0 to 4.0.
    assert!(with(0.0003) > 3.0 && with(0.0003) < 4.2 && with(0.003) < 3.1);
}

/// The reasons given for two families of misses, put to the test: with other
/// published constants the same figures are met.
#[test]
fn misses_laid_to_a_constant_are_met_with_another() {
    let change = |set: ConstantSet, species: &str, log_k: f64| {
        let changed = set.clone().with_log_k(species, log_k);
        changed.unwrap_or(set)
    };
    // Pairs of phreeqc.dat, a public geochemical database: hydrogen phosphate
    // 0.29 with either, hydrogen carbonate -0.06, carbonate none.
    let set = ConstantSet::reviewed();
    let set = set.clone().without("NaCO3-").unwrap_or(set);
    let set = change(set, "NaHCO3", 10.329 - 0.06);
    let set = change(set, "NaHPO4-", 12.375 + 0.29);
    let set = change(set, "KHPO4-", 12.375 + 0.29);
    // Kettler, Palmer & Wesolowski 1991: 1.277 ± 0.010 and 4.275 ± 0.006.
    let set = change(set, "HOxalate-", 4.275);
    let set = change(set, "H2Oxalate", 4.275 + 1.277);
    println!("\nwith other constants\n  id                 °C  difference  allowed");
    for fact in named(&[
        "phos",
        "carb_",
        "tetrox_",
        "kh2po4",
        "mcilvaine_",
        "oxalic_",
    ]) {
        let (computed, model) = ph(&set, fact.temperature(), &fact.totals());
        let (off, allowed) = (computed - fact.value, fact.uncertainty + model);
        println!(
            "  {:<16} {:4}    {off:+8.4}   {allowed:6.4}",
            fact.id, fact.celsius
        );
        assert!(off.abs() <= allowed, "{}: {off:+.4}", fact.id);
    }
}

/// Each row is read by one test, and each known miss is a row.
#[test]
fn nothing_is_left_out() {
    let groups = [STANDARDS, BUFFERS, STRONG, WEAK, IN_AIR, REST].concat();
    for fact in facts() {
        let readers = groups.iter().filter(|p| fact.id.starts_with(**p)).count();
        assert_eq!(readers, 1, "{}", fact.id);
    }
    for (id, ..) in KNOWN_MISSES {
        assert_eq!(facts().iter().filter(|f| f.id == *id).count(), 1, "{id}");
    }
}
