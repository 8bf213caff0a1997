//! Solids and one gas that an ink can let go.
//!
//! No solubility of iron(III) gallate, the pigment itself, is known: it is not
//! here.

use super::{Onset, SolidRow};
use crate::source::{Source, Status};

const NIST: Source = Source::new("NIST SRD 46.3, as carried in minteq.v4", Status::Handbook);
const MINTEQ: Source = Source::new(
    "minteq.v4, from an older compilation in it",
    Status::Handbook,
);
const WATEQ4F: Source = Source::new("wateq4f: Ball & Nordstrom 1991", Status::Handbook);
const THERMOCHIMIE: Source = Source::new("ThermoChimie 12a, as carried in sit", Status::Handbook);
const THERMODDEM: Source = Source::new("Thermoddem 1.10", Status::Handbook);
const BROWN_EKBERG: Source = Source::new(
    "Brown & Ekberg 2016, by the COST 1802 hydrolysis sheets; enthalpy from ThermoChimie",
    Status::Secondary,
);
const FERRIHYDRITE: Source = Source::new(
    "Brown & Ekberg 2016 and Lemire et al. 2013 (NEA), by the COST 1802 hydrolysis sheets; enthalpy from NIST SRD 46.3",
    Status::Secondary,
);
const NEA_HEAT: Source = Source::new(
    "Lemire et al. 2013 (NEA), by the COST 1802 hydrolysis sheets; enthalpy from ThermoChimie",
    Status::Secondary,
);
const GYPSUM: Source = Source::new(
    "NIST SRD 46.3, as carried in minteq.v4; enthalpy from ThermoChimie 12a",
    Status::Handbook,
);
const HENRY: Source = Source::new(
    "the Henry constant of wateq4f, log K -1.468, and H2CO3 of the reviewed set",
    Status::Computed,
);
const BIGHAM: Source = Source::new(
    "Bigham et al. 1996, 18.0 ± 2.5, from memory; an abstract on an acid pit lake has 18.8 ± 1.7",
    Status::FromMemory,
);
const BARON_PALMER: Source = Source::new(
    "Baron & Palmer 1996, Geochim. Cosmochim. Acta 60, 185, abstract",
    Status::Published,
);
const FERROUS_OXALATE: Source = Source::new(
    "solubility product 3.2e-7 from memory; with FeOxalate of the reviewed set it agrees with an encyclopaedic 0.97 g/L at 25 °C",
    Status::FromMemory,
);
const CALCIUM_TARTRATE: Source = Source::new(
    "from 0.475 g/L at 20 °C in a registration dossier, with CaTartrate of the reviewed set",
    Status::Secondary,
);
const TARTAR: Source = Source::new(
    "from the pH standard, 0.0341 mol/kg and pH 3.557 when saturated at 25 °C, from memory, with the acid constants of the reviewed set",
    Status::FromMemory,
);
const BENZOIC: Source = Source::new(
    "from 3.4 g/L at 25 °C, from memory, less the ionised part, and pKa 4.202",
    Status::FromMemory,
);
const SALICYLIC: Source = Source::new(
    "from 2.2 g/L at 25 °C, from memory, less the ionised part, and the acid constants of the reviewed set",
    Status::FromMemory,
);
const SORBIC: Source = Source::new(
    "from 1.6 g/L at 25 °C, from memory, less the ionised part, and pKa 4.76",
    Status::FromMemory,
);

/// A solid that falls out promptly.
const fn prompt(
    name: &'static str,
    equation: &'static str,
    log_k: f64,
    u: f64,
    delta_h: Option<f64>,
    source: Source,
) -> SolidRow {
    SolidRow {
        name,
        equation,
        log_k,
        u,
        delta_h,
        onset: Onset::Prompt,
        source,
    }
}

/// A solid that needs time, heat or seeds.
const fn slow(
    name: &'static str,
    equation: &'static str,
    log_k: f64,
    u: f64,
    delta_h: Option<f64>,
    source: Source,
) -> SolidRow {
    SolidRow {
        name,
        equation,
        log_k,
        u,
        delta_h,
        onset: Onset::Slow,
        source,
    }
}

#[rustfmt::skip]
pub(crate) const SOLIDS: &[SolidRow] = &[
    // iron(III)
    prompt("ferrihydrite (2-line)", "Fe(OH)3 + 3 H+ = Fe+3 + 3 H2O", 3.5, 0.1, Some(-73.374), FERRIHYDRITE),
    slow("goethite", "FeOOH + 3 H+ = Fe+3 + 2 H2O", 0.33, 0.05, Some(-61.256), BROWN_EKBERG),
    slow("lepidocrocite", "FeOOH + 3 H+ = Fe+3 + 2 H2O", 1.85, 0.185, Some(-72.516), BROWN_EKBERG),
    prompt("schwertmannite", "Fe8O8(OH)4.8(SO4)1.6 + 20.8 H+ = 8 Fe+3 + 1.6 SO4-2 + 12.8 H2O", 18.0, 1.3, None, BIGHAM),
    slow("jarosite-K", "KFe3(SO4)2(OH)6 + 6 H+ = K+ + 3 Fe+3 + 2 SO4-2 + 6 H2O", -11.0, 0.15, Some(-45.0), BARON_PALMER),
    slow("jarosite-Na", "NaFe3(SO4)2(OH)6 + 6 H+ = Na+ + 3 Fe+3 + 2 SO4-2 + 6 H2O", -5.28, 0.2, Some(-151.38), WATEQ4F),
    slow("jarosite-H3O", "(H3O)Fe3(SO4)2(OH)6 + 5 H+ = 3 Fe+3 + 2 SO4-2 + 7 H2O", -5.39, 0.2, Some(-230.75), WATEQ4F),
    slow("strengite", "FePO4:2H2O = Fe+3 + PO4-3 + 2 H2O", -26.4, 0.2, Some(-9.3601), MINTEQ),
    // iron(II)
    prompt("melanterite", "FeSO4:7H2O = Fe+2 + SO4-2 + 7 H2O", -2.28, 0.05, Some(12.067), THERMOCHIMIE),
    slow("rozenite", "FeSO4:4H2O = Fe+2 + SO4-2 + 4 H2O", -1.696, 0.2, Some(-14.96), THERMODDEM),
    prompt("iron(II) hydroxide", "Fe(OH)2 + 2 H+ = Fe+2 + 2 H2O", 12.5, 0.2, Some(-87.915), NEA_HEAT),
    slow("siderite", "FeCO3 = Fe+2 + CO3-2", -10.68, 0.2, Some(-12.916), THERMOCHIMIE),
    prompt("siderite, disordered", "FeCO3 = Fe+2 + CO3-2", -10.45, 0.2, None, WATEQ4F),
    prompt("vivianite", "Fe3(PO4)2:8H2O = 3 Fe+2 + 2 PO4-3 + 8 H2O", -36.0, 0.2, None, NIST),
    prompt("iron(II) oxalate dihydrate", "FeC2O4:2H2O = Fe+2 + Oxalate-2 + 2 H2O", -6.49, 0.3, None, FERROUS_OXALATE),
    // other metals
    prompt("gypsum", "CaSO4:2H2O = Ca+2 + SO4-2 + 2 H2O", -4.61, 0.05, Some(-1.05), GYPSUM),
    prompt("calcite", "CaCO3 = Ca+2 + CO3-2", -8.48, 0.05, Some(-9.61), WATEQ4F),
    prompt("calcium oxalate monohydrate", "CaC2O4:H2O = Ca+2 + Oxalate-2 + H2O", -8.73, 0.05, Some(21.5), THERMOCHIMIE),
    prompt("calcium tartrate tetrahydrate", "CaC4H4O6:4H2O = Ca+2 + Tartrate-2 + 4 H2O", -6.06, 0.15, None, CALCIUM_TARTRATE),
    prompt("potassium hydrogen tartrate", "KHC4H4O6 = K+ + H+ + Tartrate-2", -7.65, 0.1, None, TARTAR),
    slow("gibbsite", "Al(OH)3 + 3 H+ = Al+3 + 3 H2O", 7.75, 0.04, Some(-102.784), BROWN_EKBERG),
    // preservatives
    prompt("benzoic acid", "HBenzoate(s) = H+ + Benzoate-", -5.779, 0.05, None, BENZOIC),
    prompt("salicylic acid", "H2Salicylate(s) = 2 H+ + Salicylate-2", -18.590, 0.1, None, SALICYLIC),
    prompt("sorbic acid", "HSorbate(s) = H+ + Sorbate-", -6.621, 0.1, None, SORBIC),
    // gas
    prompt("CO2(g)", "CO2(g) + H2O = 2 H+ + CO3-2", -18.149, 0.05, Some(3.78), HENRY),
];
