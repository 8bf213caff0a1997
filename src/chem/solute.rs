//! The solutes whose solutions this room knows, and what it knows of each.

use super::crc_tables::{self as crc, Table};
use super::laliberte::{self, Laliberte};
use crate::quantity::{
    MassDensity, MassFraction, MolarMass, Temperature, celsius, grams_per_cubic_centimeter,
    grams_per_mole,
};
use crate::source::Source;

/// Temperature of the handbook tables, °C.
pub(super) const TABLE_T: f64 = 20.0;
/// How far a 20 °C table may serve another temperature, K: strong ethanol, the
/// worst of them, changes by 0.001 g/cm³ over it.
const TABLE_SLACK: f64 = 1.0;
/// How far the formula may leave the temperatures it was fitted to, K.
const FORMULA_SLACK: f64 = 5.0;

/// A substance whose aqueous density is known.
///
/// Acids burn and fume: gloves, goggles, moving air; pour acid into water,
/// never water into acid; local rules come first.
///
/// ```
/// use ferrogall::chem::Solute;
/// use ferrogall::quantity::ReadMolarMass;
/// assert_eq!(Solute::from_id("acetic_acid"), Some(Solute::AceticAcid));
/// assert_eq!(Solute::HydrochloricAcid.molar_mass().in_grams_per_mole(), 36.458);
/// assert_eq!(Solute::IronIISulfate.valid().mass_fraction_max.as_percent().round(), 23.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Solute {
    /// HCl.
    HydrochloricAcid,
    /// H₂SO₄.
    SulfuricAcid,
    /// CH₃COOH.
    AceticAcid,
    /// H₃PO₄; 20 °C only.
    PhosphoricAcid,
    /// Oxalic acid, counted without its crystal water; 20 °C only.
    OxalicAcid,
    /// Citric acid, counted without crystal water; 20 °C only.
    CitricAcid,
    /// FeSO₄, counted without crystal water.
    IronIISulfate,
    /// FeCl₂, counted without crystal water.
    IronIIChloride,
    /// Fe₂(SO₄)₃, counted without crystal water.
    IronIIISulfate,
    /// FeCl₃, counted without crystal water.
    IronIIIChloride,
    /// C₂H₅OH; 20 °C only.
    Ethanol,
    /// Glycerol; 20 °C only.
    Glycerol,
}

/// Strengths and temperatures for which a density is known.
///
/// ```
/// use ferrogall::chem::Solute;
/// use ferrogall::quantity::ReadTemperature;
/// let v = Solute::IronIISulfate.valid();
/// assert_eq!(v.temperature_min.in_celsius().round(), 15.0); // measured from here …
/// assert_eq!(v.accepted_min.in_celsius().round(), 10.0); // … and stretched to here
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Validity {
    /// Largest mass fraction.
    pub mass_fraction_max: MassFraction,
    /// Lowest temperature of the data.
    pub temperature_min: Temperature,
    /// Highest temperature of the data.
    pub temperature_max: Temperature,
    /// Lowest temperature accepted: 5 K below the data of the formula, 1 K
    /// beside a 20 °C table, never below 0 °C.
    pub accepted_min: Temperature,
    /// Highest temperature accepted, likewise; never above 100 °C.
    pub accepted_max: Temperature,
}

/// How density runs with strength.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Shape {
    /// One way, up or down.
    Monotone,
    /// Up, but above this mass fraction too flat to read a strength from.
    FlatAbove(f64),
    /// Up to a maximum and down again.
    Peaked,
}

pub(super) struct Model {
    id: &'static str,
    name: &'static str,
    formula: &'static str,
    /// g/mol, IUPAC 2021 abridged; a test holds it against the formula.
    pub(super) molar_mass: f64,
    pub(super) fit: Option<&'static Laliberte>,
    pub(super) table: &'static Table,
    /// The formula serves up to this mass fraction, the table above.
    pub(super) formula_up_to: f64,
    pub(super) w_max: f64,
    pub(super) shape: Shape,
    /// Standard uncertainty of a density, g/cm³.
    u: f64,
}

const fn formula_only(
    (id, name, formula): (&'static str, &'static str, &'static str),
    molar_mass: f64,
    fit: &'static Laliberte,
    w_max: f64,
    u: f64,
) -> Model {
    Model {
        id,
        name,
        formula,
        molar_mass,
        fit: Some(fit),
        table: &[],
        formula_up_to: 1.0,
        w_max,
        shape: Shape::Monotone,
        u,
    }
}

const fn table_only(
    (id, name, formula): (&'static str, &'static str, &'static str),
    molar_mass: f64,
    table: &'static Table,
    w_max: f64,
    u: f64,
) -> Model {
    Model {
        id,
        name,
        formula,
        molar_mass,
        fit: None,
        table,
        formula_up_to: -1.0,
        w_max,
        shape: Shape::Monotone,
        u,
    }
}

// Choice of model. The formula alone where no table is at hand (iron salts but
// FeCl3). Where the formula leaves the handbook by more than 0.0015 g/cm3
// somewhere (H2SO4 0.0021 at 70 % and wildly above 78 %, acetic 0.0023 at 70 %,
// FeCl3 0.00151 at 28 %) the handbook table gives the density at 20 °C and the
// formula its change with temperature. HCl keeps the formula up to 36 %: it
// stays within 0.0008 of the handbook there, was fitted to 287 points from 5 to
// 99 °C, and meets the trade's 20 °Bé = 31.45 % where the table would say 31.3 %.
static HCL: Model = Model {
    formula_up_to: 0.36,
    w_max: 0.40,
    table: crc::HCL,
    ..formula_only(
        ("hydrochloric_acid", "hydrochloric acid", "HCl"),
        36.458,
        &laliberte::HCL,
        0.0,
        0.0008,
    )
};
static H2SO4: Model = Model {
    formula_up_to: -1.0,
    table: crc::H2SO4,
    shape: Shape::FlatAbove(0.97),
    ..formula_only(
        ("sulfuric_acid", "sulfuric acid", "H2SO4"),
        98.072,
        &laliberte::H2SO4,
        0.98,
        0.0008,
    )
};
static ACETIC: Model = Model {
    formula_up_to: -1.0,
    table: crc::ACETIC,
    shape: Shape::Peaked,
    ..formula_only(
        ("acetic_acid", "acetic acid", "CH3COOH"),
        60.052,
        &laliberte::ACETIC,
        1.0,
        0.0008,
    )
};
static FECL3: Model = Model {
    formula_up_to: -1.0,
    table: crc::FECL3,
    ..formula_only(
        ("iron_iii_chloride", "iron(III) chloride", "FeCl3"),
        162.195,
        &laliberte::FECL3,
        0.40,
        0.0008,
    )
};
static FESO4: Model = formula_only(
    ("iron_ii_sulfate", "iron(II) sulfate", "FeSO4"),
    151.901,
    &laliberte::FESO4,
    laliberte::FESO4_W_MAX,
    0.002,
);
static FECL2: Model = formula_only(
    ("iron_ii_chloride", "iron(II) chloride", "FeCl2"),
    126.745,
    &laliberte::FECL2,
    laliberte::FECL2_W_MAX,
    0.002,
);
static FE2SO43: Model = formula_only(
    ("iron_iii_sulfate", "iron(III) sulfate", "Fe2(SO4)3"),
    399.858,
    &laliberte::FE2SO43,
    laliberte::FE2SO43_W_MAX,
    0.002,
);
static H3PO4: Model = table_only(
    ("phosphoric_acid", "phosphoric acid", "H3PO4"),
    97.994,
    crc::H3PO4,
    0.40,
    0.0005,
);
static OXALIC: Model = table_only(
    ("oxalic_acid", "oxalic acid", "H2C2O4"),
    90.034,
    crc::OXALIC,
    0.08,
    0.0005,
);
static CITRIC: Model = table_only(
    ("citric_acid", "citric acid", "C6H8O7"),
    192.123,
    crc::CITRIC,
    0.30,
    0.0005,
);
static ETHANOL: Model = table_only(
    ("ethanol", "ethanol", "C2H5OH"),
    46.069,
    crc::ETHANOL,
    0.96,
    0.001,
);
static GLYCEROL: Model = table_only(
    ("glycerol", "glycerol", "C3H8O3"),
    92.094,
    crc::GLYCEROL,
    1.0,
    0.0005,
);

impl Solute {
    /// All of them.
    pub const ALL: [Solute; 12] = [
        Solute::HydrochloricAcid,
        Solute::SulfuricAcid,
        Solute::AceticAcid,
        Solute::PhosphoricAcid,
        Solute::OxalicAcid,
        Solute::CitricAcid,
        Solute::IronIISulfate,
        Solute::IronIIChloride,
        Solute::IronIIISulfate,
        Solute::IronIIIChloride,
        Solute::Ethanol,
        Solute::Glycerol,
    ];

    pub(super) fn model(self) -> &'static Model {
        match self {
            Solute::HydrochloricAcid => &HCL,
            Solute::SulfuricAcid => &H2SO4,
            Solute::AceticAcid => &ACETIC,
            Solute::PhosphoricAcid => &H3PO4,
            Solute::OxalicAcid => &OXALIC,
            Solute::CitricAcid => &CITRIC,
            Solute::IronIISulfate => &FESO4,
            Solute::IronIIChloride => &FECL2,
            Solute::IronIIISulfate => &FE2SO43,
            Solute::IronIIIChloride => &FECL3,
            Solute::Ethanol => &ETHANOL,
            Solute::Glycerol => &GLYCEROL,
        }
    }

    /// Identifier for catalogue rows, JSON and C.
    pub fn id(self) -> &'static str {
        self.model().id
    }

    /// The solute with this [`Solute::id`].
    pub fn from_id(id: &str) -> Option<Solute> {
        Solute::ALL.into_iter().find(|s| s.id() == id)
    }

    /// English name.
    pub fn name(self) -> &'static str {
        self.model().name
    }

    /// Formula of what the mass fraction counts: always without crystal water.
    pub fn formula(self) -> &'static str {
        self.model().formula
    }

    /// Molar mass of [`Solute::formula`].
    pub fn molar_mass(self) -> MolarMass {
        grams_per_mole(self.model().molar_mass)
    }

    /// Strengths and temperatures for which a density is known.
    pub fn valid(self) -> Validity {
        let m = self.model();
        let (low, high) = m.data_range();
        let (accepted_low, accepted_high) = m.accepted_range();
        Validity {
            mass_fraction_max: MassFraction::new(m.w_max).unwrap_or(MassFraction::ZERO),
            temperature_min: celsius(low),
            temperature_max: celsius(high),
            accepted_min: celsius(accepted_low),
            accepted_max: celsius(accepted_high),
        }
    }

    /// Standard uncertainty (k = 1) of a density within the data: a considered
    /// guess from how far independent tables and the formula part.
    pub fn density_u(self) -> MassDensity {
        grams_per_cubic_centimeter(self.model().u)
    }

    /// Where the densities come from: the formula, the 20 °C table, or both.
    pub fn sources(self) -> impl Iterator<Item = Source> {
        let m = self.model();
        let formula = m.fit.map(|_| laliberte::SOURCE);
        formula
            .into_iter()
            .chain((!m.table.is_empty()).then_some(crc::SOURCE))
    }
}

impl Model {
    /// Temperatures of the data, °C.
    pub(super) fn data_range(&self) -> (f64, f64) {
        self.fit.map_or((TABLE_T, TABLE_T), |f| (f.t_min, f.t_max))
    }

    /// Temperatures taken, °C.
    pub(super) fn accepted_range(&self) -> (f64, f64) {
        let (low, high) = self.data_range();
        let slack = self.fit.map_or(TABLE_SLACK, |_| FORMULA_SLACK);
        ((low - slack).max(0.0), (high + slack).min(100.0))
    }
}
