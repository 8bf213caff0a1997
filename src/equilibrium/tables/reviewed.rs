//! The set used by default: one constant a species, chosen among compilations.
//!
//! log K at 25 °C and zero ionic strength. u (k = 1) is half the span a source
//! states, else by how well the constant is known: 0.05, 0.2, 0.5 or 1.0. For
//! salicylate it counts from `HSalicylate-`, the form met with in ink.
//!
//! Left out on purpose: `NaCO3-` (see the source of `NaHCO3`);
//! `FeHSO4+` and `FeHSO4+2`, known from one compilation
//! only; a protonated iron site of tannin like `FeH2Gal+`; of the trace metals
//! what holds none of them in an acid ink.

use super::Row;
use crate::source::{Source, Status};

// compilations
const NIST: Source = Source::new("NIST SRD 46.3, as carried in minteq.v4", Status::Handbook);
const NIST_PROTON: Source = Source::new(
    "NIST SRD 46.3, as carried in minteq.v4; the heat is that of the protonation alone",
    Status::Handbook,
);
const NIST_01_PROTON: Source = Source::new(
    "NIST SRD 46, tables, at 0.1 mol/L; to zero ionic strength with Davies; the heat is that of the protonation alone",
    Status::Handbook,
);
const NIST_THERMODDEM: Source = Source::new(
    "NIST SRD 46.3, as carried in minteq.v4; heat of the step from hydrogen carbonate by Thermoddem 1.10",
    Status::Handbook,
);
const NIST_TABLE: Source = Source::new(
    "NIST SRD 46, tables, at zero ionic strength",
    Status::Handbook,
);
const NIST_01: Source = Source::new(
    "NIST SRD 46, tables, at 0.1 mol/L; to zero ionic strength with Davies",
    Status::Handbook,
);
const NIST_02: Source = Source::new(
    "NIST SRD 46, tables, at 0.2 mol/L; to zero ionic strength with Davies",
    Status::Handbook,
);
const NIST_1: Source = Source::new(
    "NIST SRD 46, tables, at 1 mol/L; to zero ionic strength with Davies",
    Status::Handbook,
);
const NIST_DOUBTED: Source = Source::new(
    "NIST SRD 46, tables, marked doubtful, 20 °C and 0.1 mol/L; to zero ionic strength with Davies",
    Status::Handbook,
);
const MINTEQ: Source = Source::new(
    "minteq.v4, from an older compilation in it",
    Status::Handbook,
);
const THERMOCHIMIE: Source = Source::new("ThermoChimie 12a, as carried in sit", Status::Handbook);
const NEA: Source = Source::new(
    "Lemire et al. 2013 (NEA), as carried in ThermoChimie 12a",
    Status::Handbook,
);
const WATEQ4F: Source = Source::new("wateq4f: Ball & Nordstrom 1991", Status::Handbook);
const PHREEQC: Source = Source::new(
    "phreeqc.dat, with the acid constants of NIST; the larger pair constants of NIST SRD 46 leave the NBS pH standards of phosphate and carbonate 0.08 and 0.15 low",
    Status::Handbook,
);
const BROWN_EKBERG: Source = Source::new(
    "Brown & Ekberg 2016, by the COST 1802 hydrolysis sheets; enthalpy from minteq.v4 or wateq4f",
    Status::Secondary,
);

// single papers and estimates
const KETTLER: Source = Source::new(
    "Kettler, Palmer & Wesolowski 1991, J. Solution Chem. 20, 905, abstract: pKa 1.277 and 4.275, enthalpies -4.1 and -6.8 kJ/mol",
    Status::Published,
);
const HEINRICH_SEWARD: Source = Source::new(
    "Heinrich & Seward 1990, by the IUPAC SC-Database; enthalpy from Thermoddem 1.10",
    Status::Secondary,
);
const CIAVATTA: Source = Source::new(
    "Ciavatta et al. 2001, Ann. Chim. 91, 245, by the IUPAC SC-Database; rewritten with pKa 4.757",
    Status::Secondary,
);
const LOGINOVA: Source = Source::new(
    "Loginova et al. 1972 at 0.1 mol/L, by the IUPAC SC-Database, with the acid constants of NIST SRD 46; to zero ionic strength with Davies; the only measurement",
    Status::Secondary,
);
const EMARA_1984: Source = Source::new(
    "Emara et al. 1984, J. Phys. Chem. 88, 3345, by the IUPAC SC-Database",
    Status::Secondary,
);
const EMARA_1986: Source = Source::new(
    "Emara et al. 1986, J. Indian Chem. Soc. 63, 700, by the IUPAC SC-Database",
    Status::Secondary,
);
const NURCHI: Source = Source::new(
    "half of the phenol groups of tannic acid ionised at pH 7.8: Nurchi et al. 2018, New J. Chem., abstract; one group a site is our reading",
    Status::ExpertGuess,
);
const GALLATE_STEPS: Source = Source::new(
    "estimate from the steps of catechol (NIST SRD 46) and protocatechuic acid (IUPAC SC-Database)",
    Status::ExpertGuess,
);
const SITE: Source = Source::new(
    "estimate by analogy with gallate, catechol and protocatechuic acid, ± 1.5 held equally likely",
    Status::ExpertGuess,
);
const GLYCOLATE: Source = Source::new(
    "estimate: the glycolate complex, NIST SRD 46, tables, at 1 mol/L; to zero ionic strength with Davies",
    Status::ExpertGuess,
);
const SORBIC: Source = Source::new("encyclopaedic value at 25 °C", Status::Secondary);

const fn row(equation: &'static str, log_k: f64, u: f64, delta_h: f64, source: Source) -> Row {
    Row {
        equation,
        log_k,
        u,
        delta_h: Some(delta_h),
        source,
    }
}

/// A row without an enthalpy.
const fn row_25(equation: &'static str, log_k: f64, u: f64, source: Source) -> Row {
    Row {
        equation,
        log_k,
        u,
        delta_h: None,
        source,
    }
}

#[rustfmt::skip]
pub(crate) const REVIEWED: &[Row] = &[
    // water and acids
    row("H2O = OH- + H+", -13.997, 0.05, 55.81, NIST),
    row("H+ + SO4-2 = HSO4-", 1.98, 0.05, 22.44, THERMOCHIMIE),
    row("H+ + CO3-2 = HCO3-", 10.329, 0.05, -14.6, NIST),
    row("2 H+ + CO3-2 = H2CO3", 16.681, 0.05, -23.76, NIST),
    row("H+ + PO4-3 = HPO4-2", 12.375, 0.05, -15.0, NIST),
    row("2 H+ + PO4-3 = H2PO4-", 19.573, 0.05, -18.0, NIST),
    row("3 H+ + PO4-3 = H3PO4", 21.721, 0.05, -10.1, NIST),
    row("NH4+ = NH3 + H+", -9.244, 0.05, 52.0, NIST),
    row("H+ + Acetate- = HAcetate", 4.757, 0.05, 0.41, NIST),
    row("H+ + Lactate- = HLactate", 3.860, 0.05, 0.3, NIST_TABLE),
    row_25("H+ + Gluconate- = HGluconate", 3.67, 0.15, NIST_01),
    row("H+ + Oxalate-2 = HOxalate-", 4.275, 0.006, 6.8, KETTLER),
    row("2 H+ + Oxalate-2 = H2Oxalate", 5.552, 0.012, 10.9, KETTLER),
    row("H+ + Tartrate-2 = HTartrate-", 4.366, 0.05, -0.7531, NIST),
    row("2 H+ + Tartrate-2 = H2Tartrate", 7.402, 0.05, -3.6819, NIST),
    row("H+ + Citrate-3 = HCitrate-2", 6.36, 0.05, 3.3, THERMOCHIMIE),
    row("2 H+ + Citrate-3 = H2Citrate-", 11.14, 0.05, 0.9, THERMOCHIMIE),
    row("3 H+ + Citrate-3 = H3Citrate", 14.27, 0.05, -3.6, THERMOCHIMIE),
    row("H+ + Benzoate- = HBenzoate", 4.202, 0.05, -0.46, NIST),
    row_25("H+ + Sorbate- = HSorbate", 4.76, 0.2, SORBIC),
    row("H+ + Phenolate- = Phenol", 9.997, 0.05, -23.3, NIST_TABLE),
    row("H+ + Salicylate-2 = HSalicylate-", 13.7, 0.05, -35.8, NIST_TABLE),
    row("2 H+ + Salicylate-2 = H2Salicylate", 16.672, 0.05, -38.8, NIST_TABLE),

    // gallic acid
    row("H+ + H3Gal- = H4Gal", 4.44, 0.01, 4.2, NIST_TABLE),
    row_25("H3Gal- = H2Gal-2 + H+", -9.11, 0.09, NIST_TABLE),
    row_25("H3Gal- = HGal-3 + 2 H+", -21.13, 0.2, NIST_01),
    row_25("Fe+2 + H3Gal- = FeHGal- + 2 H+", -12.81, 0.2, NIST_01),
    row_25("Fe+3 + H3Gal- = FeH2Gal+ + H+", 2.72, 0.5, LOGINOVA),
    row_25("Fe+3 + H3Gal- = FeHGal + 2 H+", -1.11, 0.5, LOGINOVA),
    row_25("Fe+3 + 2 H3Gal- = Fe(HGal)2-3 + 4 H+", -9.08, 1.0, GALLATE_STEPS),
    row_25("Fe+3 + 3 H3Gal- = Fe(HGal)3-6 + 6 H+", -24.58, 1.0, GALLATE_STEPS),
    row_25("Al+3 + H3Gal- = AlHGal + 2 H+", -4.10, 0.5, NIST_01),
    row("Ca+2 + H3Gal- = CaH3Gal+", 1.649, 0.2, 2.17, EMARA_1984),
    row("Mg+2 + H3Gal- = MgH3Gal+", 1.476, 0.2, 2.68, EMARA_1984),
    row_25("Na+ + H3Gal- = NaH3Gal", 0.76, 0.5, EMARA_1986),

    // galloyl sites of tannin
    row_25("Galloyl = GalloylO- + H+", -7.8, 0.4, NURCHI),
    row_25("Fe+2 + Galloyl = FeGalloyl + 2 H+", -13.5, 0.9, SITE),
    row_25("Fe+3 + Galloyl = FeGalloyl+ + 2 H+", -1.1, 0.9, SITE),
    row_25("Fe+3 + 2 Galloyl = Fe(Galloyl)2- + 4 H+", -9.1, 0.9, SITE),

    // iron(II)
    row("Fe+2 + H2O = FeOH+ + H+", -9.43, 0.05, 55.2, BROWN_EKBERG),
    row("Fe+2 + 2 H2O = Fe(OH)2 + 2 H+", -20.52, 0.04, 119.6, BROWN_EKBERG),
    row("Fe+2 + 3 H2O = Fe(OH)3- + 3 H+", -32.68, 0.075, 126.4, BROWN_EKBERG),
    row("Fe+2 + SO4-2 = FeSO4", 2.44, 0.05, 8.4, NEA),
    row("Fe+2 + Cl- = FeCl+", -0.16, 0.2, 21.55, HEINRICH_SEWARD),
    row("Fe+2 + H+ + CO3-2 = FeHCO3+", 11.429, 0.2, -10.97, NIST_THERMODDEM),
    row_25("Fe+2 + CO3-2 = FeCO3", 4.38, 0.2, WATEQ4F),
    row("Fe+2 + H+ + PO4-3 = FeHPO4", 15.975, 0.2, -15.0, NIST_PROTON),
    row("Fe+2 + 2 H+ + PO4-3 = FeH2PO4+", 22.273, 0.2, -18.0, NIST_PROTON),
    row_25("Fe+2 + Acetate- = FeAcetate+", 1.4, 0.2, NIST),
    row_25("Fe+2 + Lactate- = FeLactate+", 1.74, 0.5, GLYCOLATE),
    row_25("Fe+2 + Gluconate- = FeGluconate+", -0.59, 1.0, NIST_1),
    row_25("Fe+2 + Oxalate-2 = FeOxalate", 4.1, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + 2 Oxalate-2 = Fe(Oxalate)2-2", 6.2, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + Tartrate-2 = FeTartrate", 3.1, 0.2, NIST),
    row_25("Fe+2 + Citrate-3 = FeCitrate-", 6.1, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + H+ + Citrate-3 = FeHCitrate", 10.02, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + 2 H+ + Citrate-3 = FeH2Citrate+", 13.64, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + Salicylate-2 = FeSalicylate", 7.2, 0.2, NIST),
    row_25("Fe+2 + 2 Salicylate-2 = Fe(Salicylate)2-2", 11.6, 0.2, NIST),

    // iron(III)
    row("Fe+3 + H2O = FeOH+2 + H+", -2.2, 0.01, 41.81, BROWN_EKBERG),
    row("Fe+3 + 2 H2O = Fe(OH)2+ + 2 H+", -5.71, 0.05, 71.55, BROWN_EKBERG),
    row("Fe+3 + 3 H2O = Fe(OH)3 + 3 H+", -12.42, 0.1, 103.8, BROWN_EKBERG),
    row("Fe+3 + 4 H2O = Fe(OH)4- + 4 H+", -21.6, 0.115, 133.5, BROWN_EKBERG),
    row("2 Fe+3 + 2 H2O = Fe2(OH)2+4 + 2 H+", -2.91, 0.035, 57.62, BROWN_EKBERG),
    row("3 Fe+3 + 4 H2O = Fe3(OH)4+5 + 4 H+", -6.3, 0.05, 65.24, BROWN_EKBERG),
    row("Fe+3 + SO4-2 = FeSO4+", 4.25, 0.05, 26.0, NEA),
    row_25("Fe+3 + 2 SO4-2 = Fe(SO4)2-", 6.22, 0.2, THERMOCHIMIE),
    row("Fe+3 + Cl- = FeCl+2", 1.52, 0.05, 22.5, THERMOCHIMIE),
    row_25("Fe+3 + 2 Cl- = FeCl2+", 2.22, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + 3 Cl- = FeCl3", 1.02, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + NO3- = FeNO3+2", 0.95, 0.2, THERMOCHIMIE),
    row("Fe+3 + H+ + PO4-3 = FeHPO4+", 22.292, 0.2, -30.5432, NIST),
    row("Fe+3 + 2 H+ + PO4-3 = FeH2PO4+2", 23.8515, 0.5, -18.0, NIST_PROTON),
    row_25("Fe+3 + Acetate- = FeAcetate+2", 4.0234, 0.2, NIST),
    row_25("Fe+3 + 2 Acetate- = Fe(Acetate)2+", 7.5723, 0.2, NIST),
    row_25("Fe+3 + 3 Acetate- = Fe(Acetate)3", 9.5867, 0.5, NIST),
    row_25("3 Fe+3 + 3 H2O + 3 Acetate- = Fe3(OH)3(Acetate)3+3 + 3 H+", 11.421, 0.2, CIAVATTA),
    row_25("Fe+3 + Lactate- = FeLactate+2", 3.51, 0.5, GLYCOLATE),
    row_25("Fe+3 + H2O + Lactate- = FeOHLactate+ + H+", 2.41, 0.5, GLYCOLATE),
    row_25("Fe+3 + Gluconate- = FeGluconate+2", 3.71, 0.5, NIST_1),
    row_25("Fe+3 + 2 H2O + Gluconate- = Fe(OH)2Gluconate + 2 H+", -0.68, 0.5, NIST_1),
    row_25("Fe+3 + 3 H2O + Gluconate- = Fe(OH)3Gluconate- + 3 H+", -4.89, 0.5, NIST_1),
    row_25("Fe+3 + Oxalate-2 = FeOxalate+", 9.53, 0.05, THERMOCHIMIE),
    row_25("Fe+3 + 2 Oxalate-2 = Fe(Oxalate)2-", 15.75, 0.05, THERMOCHIMIE),
    row_25("Fe+3 + 3 Oxalate-2 = Fe(Oxalate)3-3", 20.2, 0.05, THERMOCHIMIE),
    row_25("Fe+3 + Tartrate-2 = FeTartrate+", 7.78, 0.2, NIST),
    row_25("2 Fe+3 + 2 H2O + 2 Tartrate-2 = Fe2(OH)2(Tartrate)2 + 2 H+", 14.44, 0.5, NIST_DOUBTED),
    row_25("2 Fe+3 + 3 H2O + 2 Tartrate-2 = Fe2(OH)3(Tartrate)2- + 3 H+", 11.43, 0.5, NIST_DOUBTED),
    row_25("Fe+3 + Citrate-3 = FeCitrate", 12.65, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + H+ + Citrate-3 = FeHCitrate+", 13.56, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + 2 H+ + Citrate-3 = FeH2Citrate+2", 14.13, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + H2O + Citrate-3 = FeOHCitrate- + H+", 10.33, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + 2 Citrate-3 = Fe(Citrate)2-3", 18.15, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + H+ + 2 Citrate-3 = FeH(Citrate)2-2", 19.3, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + 2 H+ + 2 Citrate-3 = FeH2(Citrate)2-", 24.92, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + Salicylate-2 = FeSalicylate+", 17.6, 0.1, NIST),
    row("Fe+3 + H+ + Salicylate-2 = FeHSalicylate+2", 18.74, 0.3, -35.8, NIST_01_PROTON),
    row_25("Fe+3 + 2 Salicylate-2 = Fe(Salicylate)2-", 29.3, 0.2, NIST),
    row_25("Fe+3 + Phenolate- = FePhenolate+2", 8.2, 0.2, NIST_TABLE),

    // sodium, potassium, ammonium
    row("Na+ + SO4-2 = NaSO4-", 0.73, 0.05, 1.0, NIST),
    row("Na+ + H+ + CO3-2 = NaHCO3", 10.269, 0.2, 6.4, PHREEQC),
    row("Na+ + H+ + PO4-3 = NaHPO4-", 12.665, 0.2, -15.0, PHREEQC),
    row("Na+ + Acetate- = NaAcetate", -0.18, 0.2, 12.0, NIST),
    row_25("Na+ + Oxalate-2 = NaOxalate-", 0.9, 0.2, NIST_TABLE),
    row("Na+ + Tartrate-2 = NaTartrate-", 0.9, 0.2, -0.8368, NIST),
    row("Na+ + H+ + Tartrate-2 = NaHTartrate", 4.58, 0.2, -2.8451, NIST),
    row("Na+ + Citrate-3 = NaCitrate-2", 1.03, 0.2, -2.8033, MINTEQ),
    row("K+ + SO4-2 = KSO4-", 0.85, 0.05, 4.1, NIST),
    row("K+ + H+ + PO4-3 = KHPO4-", 12.665, 0.2, -15.0, PHREEQC),
    row("K+ + Acetate- = KAcetate", -0.1955, 0.2, 4.184, NIST),
    row_25("K+ + Oxalate-2 = KOxalate-", 0.8, 0.2, NIST_TABLE),
    row_25("K+ + Tartrate-2 = KTartrate-", 0.8, 0.2, NIST),
    row("K+ + Citrate-3 = KCitrate-2", 1.1, 0.2, 5.4392, NIST),
    row_25("NH4+ + SO4-2 = NH4SO4-", 1.03, 0.05, NIST),

    // calcium
    row("Ca+2 + H2O = CaOH+ + H+", -12.697, 0.05, 64.11, NIST),
    row("Ca+2 + SO4-2 = CaSO4", 2.36, 0.05, 7.1, NIST),
    row("Ca+2 + CO3-2 = CaCO3", 3.2, 0.05, 16.0, NIST),
    row("Ca+2 + H+ + CO3-2 = CaHCO3+", 11.599, 0.1, 5.4, NIST),
    row("Ca+2 + H+ + PO4-3 = CaHPO4", 15.035, 0.05, -3.0, NIST),
    row("Ca+2 + 2 H+ + PO4-3 = CaH2PO4+", 20.923, 0.05, -6.0, NIST),
    row("Ca+2 + Acetate- = CaAcetate+", 1.18, 0.2, 4.0, NIST),
    row_25("Ca+2 + Lactate- = CaLactate+", 1.48, 0.05, NIST_TABLE),
    row_25("Ca+2 + Gluconate- = CaGluconate+", 1.64, 0.2, NIST_01),
    row("Ca+2 + Oxalate-2 = CaOxalate", 3.19, 0.05, 6.811, THERMOCHIMIE),
    row("Ca+2 + Tartrate-2 = CaTartrate", 2.8, 0.2, -8.368, NIST),
    row("Ca+2 + H+ + Tartrate-2 = CaHTartrate+", 5.86, 0.2, -9.1211, NIST),
    row("Ca+2 + Citrate-3 = CaCitrate-", 4.8, 0.05, 0.0, THERMOCHIMIE),
    row_25("Ca+2 + H+ + Citrate-3 = CaHCitrate", 9.28, 0.05, THERMOCHIMIE),
    row_25("Ca+2 + 2 H+ + Citrate-3 = CaH2Citrate+", 12.67, 0.2, THERMOCHIMIE),
    row_25("Ca+2 + Benzoate- = CaBenzoate+", 1.55, 0.2, MINTEQ),
    row("Ca+2 + H+ + Salicylate-2 = CaHSalicylate+", 14.2, 0.2, -29.5, NIST_TABLE),

    // magnesium
    row("Mg+2 + H2O = MgOH+ + H+", -11.397, 0.05, 67.81, NIST),
    row("Mg+2 + SO4-2 = MgSO4", 2.26, 0.05, 5.8, NIST),
    row("Mg+2 + CO3-2 = MgCO3", 2.92, 0.05, 12.0, NIST),
    row("Mg+2 + H+ + CO3-2 = MgHCO3+", 11.339, 0.05, -10.6, NIST),
    row("Mg+2 + H+ + PO4-3 = MgHPO4", 15.175, 0.05, -3.0, NIST),
    row("Mg+2 + 2 H+ + PO4-3 = MgH2PO4+", 21.2561, 0.05, -4.6861, NIST),
    row_25("Mg+2 + Acetate- = MgAcetate+", 1.27, 0.2, NIST),
    row_25("Mg+2 + Lactate- = MgLactate+", 1.37, 0.05, NIST_TABLE),
    row_25("Mg+2 + Gluconate- = MgGluconate+", 1.13, 0.2, NIST_01),
    row_25("Mg+2 + Oxalate-2 = MgOxalate", 3.56, 0.05, THERMOCHIMIE),
    row_25("Mg+2 + Tartrate-2 = MgTartrate", 2.3, 0.2, NIST),
    row_25("Mg+2 + H+ + Tartrate-2 = MgHTartrate+", 5.75, 0.2, NIST),
    row_25("Mg+2 + Citrate-3 = MgCitrate-", 4.81, 0.05, THERMOCHIMIE),
    row_25("Mg+2 + H+ + Citrate-3 = MgHCitrate", 8.96, 0.05, THERMOCHIMIE),
    row_25("Mg+2 + 2 H+ + Citrate-3 = MgH2Citrate+", 12.45, 0.2, THERMOCHIMIE),
    row_25("Mg+2 + Benzoate- = MgBenzoate+", 1.26, 0.2, MINTEQ),
    row("Mg+2 + H+ + Salicylate-2 = MgHSalicylate+", 14.1, 0.2, -26.6, NIST_TABLE),

    // copper
    row("Cu+2 + H2O = CuOH+ + H+", -7.497, 0.05, 35.81, NIST),
    row_25("Cu+2 + 2 H2O = Cu(OH)2 + 2 H+", -16.194, 0.2, NIST),
    row("2 Cu+2 + 2 H2O = Cu2(OH)2+2 + 2 H+", -10.594, 0.05, 76.62, NIST),
    row("Cu+2 + SO4-2 = CuSO4", 2.36, 0.05, 8.7, NIST),
    row("Cu+2 + Cl- = CuCl+", 0.2, 0.05, 8.3, NIST),
    row_25("Cu+2 + CO3-2 = CuCO3", 6.77, 0.05, NIST),
    row("Cu+2 + Acetate- = CuAcetate+", 2.21, 0.2, 7.1, NIST),
    row("Cu+2 + 2 Acetate- = Cu(Acetate)2", 3.4, 0.2, 12.0, NIST),
    row_25("Cu+2 + Lactate- = CuLactate+", 3.02, 0.05, NIST_TABLE),
    row("Cu+2 + Oxalate-2 = CuOxalate", 5.71, 0.2, -0.4, NIST_01),
    row("Cu+2 + 2 Oxalate-2 = Cu(Oxalate)2-2", 10.23, 0.5, -6.7, NIST_TABLE),
    row_25("Cu+2 + Tartrate-2 = CuTartrate", 3.97, 0.2, NIST),
    row_25("Cu+2 + H+ + Tartrate-2 = CuHTartrate+", 6.7, 0.2, NIST),
    row_25("Cu+2 + Citrate-3 = CuCitrate-", 7.57, 0.2, MINTEQ),
    row("Cu+2 + H+ + Citrate-3 = CuHCitrate", 10.87, 0.2, 11.7152, NIST),
    row_25("Cu+2 + 2 H+ + Citrate-3 = CuH2Citrate+", 13.23, 0.2, MINTEQ),
    row_25("Cu+2 + Benzoate- = CuBenzoate+", 2.19, 0.2, NIST),
    row("Cu+2 + Salicylate-2 = CuSalicylate", 11.3, 0.2, -17.9912, NIST),
    row("Cu+2 + H+ + Salicylate-2 = CuHSalicylate+", 14.8, 0.2, -35.8, NIST_PROTON),

    // zinc
    row("Zn+2 + H2O = ZnOH+ + H+", -8.997, 0.05, 55.81, NIST),
    row_25("Zn+2 + 2 H2O = Zn(OH)2 + 2 H+", -17.794, 0.2, NIST),
    row("Zn+2 + SO4-2 = ZnSO4", 2.34, 0.05, 6.2, NIST),
    row_25("Zn+2 + 2 SO4-2 = Zn(SO4)2-2", 3.28, 0.2, MINTEQ),
    row("Zn+2 + Cl- = ZnCl+", 0.4, 0.05, 5.4, NIST),
    row_25("Zn+2 + CO3-2 = ZnCO3", 4.76, 0.2, NIST),
    row("Zn+2 + Acetate- = ZnAcetate+", 1.58, 0.2, 8.3, NIST),
    row("Zn+2 + 2 Acetate- = Zn(Acetate)2", 2.6434, 0.2, 22.0, NIST),
    row_25("Zn+2 + Lactate- = ZnLactate+", 2.22, 0.05, NIST_TABLE),
    row_25("Zn+2 + Gluconate- = ZnGluconate+", 2.13, 0.2, NIST_01),
    row_25("Zn+2 + Oxalate-2 = ZnOxalate", 4.87, 0.05, NIST_TABLE),
    row("Zn+2 + 2 Oxalate-2 = Zn(Oxalate)2-2", 7.69, 0.05, -6.3, NIST_TABLE),
    row_25("Zn+2 + Tartrate-2 = ZnTartrate", 3.43, 0.2, NIST),
    row_25("Zn+2 + H+ + Tartrate-2 = ZnHTartrate+", 5.9, 0.2, NIST),
    row("Zn+2 + Citrate-3 = ZnCitrate-", 6.21, 0.2, 8.368, NIST),
    row("Zn+2 + H+ + Citrate-3 = ZnHCitrate", 10.2, 0.2, 3.3472, NIST),
    row_25("Zn+2 + 2 H+ + Citrate-3 = ZnH2Citrate+", 12.84, 0.2, MINTEQ),
    row_25("Zn+2 + Benzoate- = ZnBenzoate+", 1.7, 0.2, MINTEQ),
    row("Zn+2 + H+ + Salicylate-2 = ZnHSalicylate+", 15.5, 0.2, -35.8, NIST_PROTON),

    // manganese(II)
    row("Mn+2 + H2O = MnOH+ + H+", -10.597, 0.05, 55.81, NIST),
    row("Mn+2 + SO4-2 = MnSO4", 2.25, 0.05, 8.7, NIST),
    row_25("Mn+2 + Cl- = MnCl+", 0.1, 0.2, NIST),
    row("Mn+2 + H+ + CO3-2 = MnHCO3+", 11.629, 0.05, -10.6, NIST),
    row_25("Mn+2 + Acetate- = MnAcetate+", 1.4, 0.2, NIST),
    row_25("Mn+2 + Lactate- = MnLactate+", 1.43, 0.05, NIST_TABLE),
    row("Mn+2 + Oxalate-2 = MnOxalate", 3.95, 0.05, 5.9, NIST_TABLE),
    row_25("Mn+2 + Tartrate-2 = MnTartrate", 3.38, 0.2, NIST),
    row_25("Mn+2 + Citrate-3 = MnCitrate-", 4.28, 0.2, MINTEQ),
    row_25("Mn+2 + H+ + Citrate-3 = MnHCitrate", 9.6, 0.2, NIST),
    row_25("Mn+2 + Benzoate- = MnBenzoate+", 2.06, 0.2, NIST),

    // aluminium
    row("Al+3 + H2O = AlOH+2 + H+", -4.997, 0.05, 47.81, NIST),
    row_25("Al+3 + 2 H2O = Al(OH)2+ + 2 H+", -10.094, 0.2, NIST),
    row_25("Al+3 + 3 H2O = Al(OH)3 + 3 H+", -16.791, 0.2, NIST),
    row("Al+3 + 4 H2O = Al(OH)4- + 4 H+", -22.688, 0.05, 173.24, NIST),
    row("Al+3 + SO4-2 = AlSO4+", 3.89, 0.3, 28.0, NIST),
    row("Al+3 + 2 SO4-2 = Al(SO4)2-", 4.92, 0.05, 11.9, MINTEQ),
    row_25("Al+3 + Lactate- = AlLactate+2", 3.24, 0.2, NIST_02),
    row_25("Al+3 + Gluconate- = AlGluconate+2", 2.62, 0.5, NIST_01),
    row_25("Al+3 + Oxalate-2 = AlOxalate+", 7.7, 0.5, NIST_02),
    row_25("Al+3 + 2 Oxalate-2 = Al(Oxalate)2-", 13.4, 0.5, NIST_02),
    row_25("Al+3 + 3 Oxalate-2 = Al(Oxalate)3-3", 16.9, 0.5, NIST_02),
    row_25("Al+3 + H2O + Tartrate-2 = AlOHTartrate + H+", 2.47, 0.5, NIST_01),
    row_25("Al+3 + 2 Tartrate-2 = Al(Tartrate)2-", 9.37, 0.2, NIST),
    row_25("Al+3 + Citrate-3 = AlCitrate", 9.9, 0.2, THERMOCHIMIE),
    row_25("Al+3 + H+ + Citrate-3 = AlHCitrate+", 12.9, 0.2, THERMOCHIMIE),
    row_25("Al+3 + H2O + Citrate-3 = AlOHCitrate- + H+", 8.1, 0.2, THERMOCHIMIE),
    row_25("Al+3 + 2 Citrate-3 = Al(Citrate)2-3", 14.13, 0.2, THERMOCHIMIE),
    row_25("Al+3 + Benzoate- = AlBenzoate+2", 2.05, 0.2, NIST),
    row_25("Al+3 + Salicylate-2 = AlSalicylate+", 14.38, 0.2, NIST_01),
    row_25("Al+3 + 2 Salicylate-2 = Al(Salicylate)2-", 25.19, 0.2, NIST_01),
];
