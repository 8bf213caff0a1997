//! The set `core`: kept as it stands, to reproduce the reference states that
//! were solved with it. The set for use is `reviewed`.
//!
//! u (k = 1): half the span a source states for hydrolysis and iron oxides;
//! else by how well the constant is known, 0.05, 0.2, 0.5 or 1.0.

#![allow(clippy::approx_constant)] // 2.718 is a constant of iron, not Euler's number

use super::{Onset, Row, SolidRow};
use crate::source::{Source, Status};

const NIST: Source = Source::new(
    "NIST SRD 46.3, as carried in a public geochemical database (minteq.v4)",
    Status::Handbook,
);
const THERMOCHIMIE: Source = Source::new(
    "ThermoChimie 12a, as carried in a public geochemical database (sit); iron from NEA, Lemire et al. 2013",
    Status::Handbook,
);
const WATEQ4F: Source = Source::new(
    "wateq4f: Ball & Nordstrom 1991; Nordstrom et al. 1990",
    Status::Handbook,
);
const BROWN_EKBERG: Source = Source::new(
    "Brown & Ekberg 2016, by the COST Action 1802 hydrolysis sheets; enthalpy from minteq.v4 or wateq4f",
    Status::Secondary,
);
const HEINRICH_SEWARD: Source = Source::new(
    "Heinrich & Seward 1990, Geochim. Cosmochim. Acta 54, 2207, by the IUPAC SC-Database; enthalpy from Thermoddem 1.10",
    Status::Secondary,
);
const GALLIC: Source = Source::new(
    "NIST SRD 46, ligand 9384 (gallic acid), at zero ionic strength",
    Status::Handbook,
);
const GALLIC_DAVIES: Source = Source::new(
    "NIST SRD 46, ligand 9384 (gallic acid), at 0.1 mol/L, taken to zero ionic strength with Davies",
    Status::Handbook,
);
const LOGINOVA: Source = Source::new(
    "Loginova, Medyntsev et al. 1972, Zh. Obshch. Khim. 42, 739, at 0.1 mol/L KCl, by the IUPAC SC-Database, with the acid constants of NIST SRD 46; to zero ionic strength with Davies; the only measurement",
    Status::Secondary,
);
const ANALOGY: Source = Source::new(
    "estimate from the steps of catechol (NIST SRD 46) and protocatechuic acid (IUPAC SC-Database); the 1972 measurement lies 5 units lower",
    Status::ExpertGuess,
);
const EMARA: Source = Source::new(
    "Emara et al. 1984, J. Phys. Chem. 88, 3345, at zero ionic strength, by the IUPAC SC-Database",
    Status::Secondary,
);
const IRON_OXIDE: Source = Source::new(
    "Brown & Ekberg 2016, by the COST Action 1802 hydrolysis sheets; enthalpy from ThermoChimie",
    Status::Secondary,
);
const BIGHAM: Source = Source::new(
    "Bigham et al. 1996, 18.0 ± 2.5, from memory; an abstract on an acid pit lake has 18.8 ± 1.7",
    Status::FromMemory,
);
const BARON_PALMER: Source = Source::new(
    "Baron & Palmer 1996, Geochim. Cosmochim. Acta 60, 185, abstract",
    Status::Published,
);

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

const fn solid(
    name: &'static str,
    equation: &'static str,
    log_k: f64,
    u: f64,
    delta_h: Option<f64>,
    onset: Onset,
    source: Source,
) -> SolidRow {
    SolidRow {
        name,
        equation,
        log_k,
        u,
        delta_h,
        onset,
        source,
    }
}

#[rustfmt::skip]
pub(crate) const CORE: &[Row] = &[
    // water and acids
    row("H2O = OH- + H+", -13.997, 0.05, 55.81, NIST),
    row("H+ + SO4-2 = HSO4-", 1.98, 0.05, 22.44, THERMOCHIMIE),
    row("H+ + CO3-2 = HCO3-", 10.329, 0.05, -14.6, NIST),
    row("2 H+ + CO3-2 = H2CO3", 16.681, 0.05, -23.76, NIST),
    row("H+ + Acetate- = HAcetate", 4.757, 0.05, 0.41, NIST),
    row("H+ + Oxalate-2 = HOxalate-", 4.25, 0.05, 7.3, THERMOCHIMIE),
    row("2 H+ + Oxalate-2 = H2Oxalate", 5.65, 0.05, 10.6, THERMOCHIMIE),
    row("H+ + Citrate-3 = HCitrate-2", 6.36, 0.05, 3.3, THERMOCHIMIE),
    row("2 H+ + Citrate-3 = H2Citrate-", 11.14, 0.05, 0.9, THERMOCHIMIE),
    row("3 H+ + Citrate-3 = H3Citrate", 14.27, 0.05, -3.6, THERMOCHIMIE),
    // iron(II)
    row("Fe+2 + H2O = FeOH+ + H+", -9.43, 0.05, 55.2, BROWN_EKBERG),
    row("Fe+2 + 2 H2O = Fe(OH)2 + 2 H+", -20.52, 0.04, 119.6, BROWN_EKBERG),
    row("Fe+2 + SO4-2 = FeSO4", 2.44, 0.05, 8.4, THERMOCHIMIE),
    row("Fe+2 + Cl- = FeCl+", -0.16, 0.2, 21.55, HEINRICH_SEWARD),
    row_25("Fe+2 + H+ + CO3-2 = FeHCO3+", 11.429, 0.2, NIST),
    row_25("Fe+2 + CO3-2 = FeCO3", 4.38, 0.2, WATEQ4F),
    row_25("Fe+2 + Acetate- = FeAcetate+", 1.4, 0.2, NIST),
    row_25("Fe+2 + Oxalate-2 = FeOxalate", 4.1, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + 2 Oxalate-2 = Fe(Oxalate)2-2", 6.2, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + Citrate-3 = FeCitrate-", 6.1, 0.2, THERMOCHIMIE),
    row_25("Fe+2 + H+ + Citrate-3 = FeHCitrate", 10.02, 0.2, THERMOCHIMIE),
    // iron(III)
    row("Fe+3 + H2O = FeOH+2 + H+", -2.2, 0.01, 41.81, BROWN_EKBERG),
    row("Fe+3 + 2 H2O = Fe(OH)2+ + 2 H+", -5.71, 0.05, 71.55, BROWN_EKBERG),
    row("Fe+3 + 3 H2O = Fe(OH)3 + 3 H+", -12.42, 0.1, 103.8, BROWN_EKBERG),
    row("Fe+3 + 4 H2O = Fe(OH)4- + 4 H+", -21.6, 0.115, 133.5, BROWN_EKBERG),
    row("2 Fe+3 + 2 H2O = Fe2(OH)2+4 + 2 H+", -2.91, 0.035, 57.62, BROWN_EKBERG),
    row("3 Fe+3 + 4 H2O = Fe3(OH)4+5 + 4 H+", -6.3, 0.05, 65.24, BROWN_EKBERG),
    row("Fe+3 + SO4-2 = FeSO4+", 4.25, 0.05, 26.0, THERMOCHIMIE),
    row_25("Fe+3 + 2 SO4-2 = Fe(SO4)2-", 6.22, 0.2, THERMOCHIMIE),
    row("Fe+3 + Cl- = FeCl+2", 1.52, 0.05, 22.5, THERMOCHIMIE),
    row_25("Fe+3 + 2 Cl- = FeCl2+", 2.22, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + 3 Cl- = FeCl3", 1.02, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + NO3- = FeNO3+2", 0.95, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + Acetate- = FeAcetate+2", 4.0234, 0.2, NIST),
    row_25("Fe+3 + 2 Acetate- = Fe(Acetate)2+", 7.5723, 0.2, NIST),
    row_25("Fe+3 + 3 Acetate- = Fe(Acetate)3", 9.5867, 0.5, NIST),
    row_25("Fe+3 + Oxalate-2 = FeOxalate+", 9.53, 0.05, THERMOCHIMIE),
    row_25("Fe+3 + 2 Oxalate-2 = Fe(Oxalate)2-", 15.75, 0.05, THERMOCHIMIE),
    row_25("Fe+3 + 3 Oxalate-2 = Fe(Oxalate)3-3", 20.2, 0.05, THERMOCHIMIE),
    row_25("Fe+3 + Citrate-3 = FeCitrate", 12.65, 0.2, THERMOCHIMIE),
    row_25("Fe+3 + H+ + Citrate-3 = FeHCitrate+", 13.56, 0.2, THERMOCHIMIE),
    // other metals
    row("Na+ + SO4-2 = NaSO4-", 0.73, 0.05, 1.0, NIST),
    row("K+ + SO4-2 = KSO4-", 0.85, 0.05, 4.1, NIST),
    row_25("NH4+ + SO4-2 = NH4SO4-", 1.03, 0.05, NIST),
    row("Ca+2 + SO4-2 = CaSO4", 2.36, 0.05, 7.1, NIST),
    row("Mg+2 + SO4-2 = MgSO4", 2.26, 0.05, 5.8, NIST),
    row("Cu+2 + SO4-2 = CuSO4", 2.36, 0.05, 8.7, NIST),
    row("Zn+2 + SO4-2 = ZnSO4", 2.34, 0.05, 6.2, NIST),
    row("Mn+2 + SO4-2 = MnSO4", 2.25, 0.05, 8.7, NIST),
    row("Al+3 + SO4-2 = AlSO4+", 3.89, 0.05, 28.0, NIST),
    row("Al+3 + 2 SO4-2 = Al(SO4)2-", 4.92, 0.05, 11.9, NIST),
    row("Al+3 + H2O = AlOH+2 + H+", -4.997, 0.05, 47.81, NIST),
    row("Cu+2 + H2O = CuOH+ + H+", -7.497, 0.05, 35.81, NIST),
    row("Zn+2 + H2O = ZnOH+ + H+", -8.997, 0.05, 55.81, NIST),
    row("Ca+2 + H+ + CO3-2 = CaHCO3+", 11.599, 0.05, 5.4, NIST),
    row("Ca+2 + CO3-2 = CaCO3", 3.2, 0.05, 16.0, NIST),
    row("Ca+2 + Acetate- = CaAcetate+", 1.18, 0.2, 4.0, NIST),
    row("Na+ + Acetate- = NaAcetate", -0.18, 0.2, 12.0, NIST),
    // gallic acid
    row("H+ + H3Gal- = H4Gal", 4.44, 0.01, 4.2, GALLIC),
    row_25("H3Gal- = H2Gal-2 + H+", -9.11, 0.09, GALLIC),
    row_25("H3Gal- = HGal-3 + 2 H+", -21.133, 0.2, GALLIC_DAVIES),
    row_25("Fe+3 + H3Gal- = FeH2Gal+ + H+", 2.718, 0.5, LOGINOVA),
    row_25("Fe+3 + H3Gal- = FeHGal + 2 H+", -1.112, 0.5, LOGINOVA),
    row_25("Fe+3 + 2 H3Gal- = Fe(HGal)2-3 + 4 H+", -9.084, 1.0, ANALOGY),
    row_25("Fe+3 + 3 H3Gal- = Fe(HGal)3-6 + 6 H+", -24.586, 1.0, ANALOGY),
    row_25("Fe+2 + H3Gal- = FeHGal- + 2 H+", -12.806, 0.2, GALLIC_DAVIES),
    row("Ca+2 + H3Gal- = CaH3Gal+", 1.649, 0.2, 2.17, EMARA),
    row("Mg+2 + H3Gal- = MgH3Gal+", 1.476, 0.2, 2.68, EMARA),
];

#[rustfmt::skip]
pub(crate) const CORE_SOLIDS: &[SolidRow] = &[
    solid("CO2(g)", "CO2(g) + H2O = 2 H+ + CO3-2", -18.147, 0.05, Some(4.06), Onset::Prompt, NIST),
    solid("calcite", "CaCO3 = Ca+2 + CO3-2", -8.48, 0.05, Some(-8.0), Onset::Prompt, NIST),
    solid("gypsum", "CaSO4:2H2O = Ca+2 + SO4-2 + 2 H2O", -4.61, 0.05, Some(1.0), Onset::Prompt, NIST),
    solid("melanterite", "FeSO4:7H2O = Fe+2 + SO4-2 + 7 H2O", -2.28, 0.05, Some(12.067), Onset::Prompt, THERMOCHIMIE),
    solid("siderite", "FeCO3 = Fe+2 + CO3-2", -10.68, 0.2, Some(-12.916), Onset::Slow, THERMOCHIMIE),
    solid("ferrihydrite (2-line)", "Fe(OH)3 + 3 H+ = Fe+3 + 3 H2O", 3.5, 0.1, None, Onset::Prompt, IRON_OXIDE),
    solid("goethite", "FeOOH + 3 H+ = Fe+3 + 2 H2O", 0.33, 0.05, Some(-61.256), Onset::Slow, IRON_OXIDE),
    solid("lepidocrocite", "FeOOH + 3 H+ = Fe+3 + 2 H2O", 1.85, 0.185, Some(-72.516), Onset::Slow, IRON_OXIDE),
    solid("schwertmannite", "Fe8O8(OH)4.8(SO4)1.6 + 20.8 H+ = 8 Fe+3 + 1.6 SO4-2 + 12.8 H2O", 18.0, 1.3, None, Onset::Prompt, BIGHAM),
    solid("jarosite-K", "KFe3(SO4)2(OH)6 + 6 H+ = K+ + 3 Fe+3 + 2 SO4-2 + 6 H2O", -11.0, 0.15, Some(-45.0), Onset::Slow, BARON_PALMER),
];
