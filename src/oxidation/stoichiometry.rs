//! Counting: iron per oxygen, and what else takes oxygen.

use super::OxidationError;
use super::constants::{NU_MAX, NU_MIN, OXYGEN_MOLAR_MASS};
use crate::chem::constants::IRON;
use crate::quantity::{AmountOfSubstance, Mass, OutOfRange, within};
use crate::source::{Source, Status};
use uom::si::amount_of_substance::mole;
use uom::si::mass::gram;

/// Largest amount taken by the counting functions, mol.
const MAX_AMOUNT: f64 = 1e9;

pub(super) fn checked_nu(nu: f64) -> Result<f64, OutOfRange> {
    within(
        "iron(II) per oxygen (nu)",
        nu,
        NU_MIN.value,
        NU_MAX.value,
        "mol/mol",
    )
}

fn checked_amount(what: &'static str, amount: AmountOfSubstance) -> Result<f64, OutOfRange> {
    within(what, amount.value, 0.0, MAX_AMOUNT, "mol")
}

/// Iron(II) that an amount of oxygen can oxidise.
///
/// `nu` is the iron per O₂: 4 when iron takes all electrons (the bound), down
/// to 2 when organics or sulfite take the hydrogen peroxide on the way.
///
/// # Errors
/// [`OxidationError::OutOfRange`] for `nu` outside 2 to 4, or an amount below
/// 0 or above 1e9 mol.
///
/// ```
/// use ferrogall::oxidation::{iron_mass, iron_oxidised_by};
/// use ferrogall::quantity::{moles, ReadMass};
/// let iron = iron_oxidised_by(moles(1.0), 4.0)?;
/// assert!((iron_mass(iron)?.in_grams() - 4.0 * 55.845).abs() < 1e-12);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn iron_oxidised_by(
    oxygen: AmountOfSubstance,
    nu: f64,
) -> Result<AmountOfSubstance, OxidationError> {
    let oxygen = checked_amount("oxygen", oxygen)?;
    Ok(AmountOfSubstance::new::<mole>(oxygen * checked_nu(nu)?))
}

/// Oxygen needed to oxidise an amount of iron(II); `nu` as in
/// [`iron_oxidised_by`].
///
/// # Errors
/// As [`iron_oxidised_by`].
pub fn oxygen_for_iron(
    iron: AmountOfSubstance,
    nu: f64,
) -> Result<AmountOfSubstance, OxidationError> {
    let iron = checked_amount("iron(II)", iron)?;
    Ok(AmountOfSubstance::new::<mole>(iron / checked_nu(nu)?))
}

/// Mass of an amount of iron.
///
/// # Errors
/// [`OxidationError::OutOfRange`] below 0 or above 1e9 mol.
pub fn iron_mass(iron: AmountOfSubstance) -> Result<Mass, OxidationError> {
    let iron = checked_amount("iron", iron)?;
    Ok(Mass::new::<gram>(iron * IRON * 1e3))
}

/// Mass of an amount of O₂.
///
/// # Errors
/// [`OxidationError::OutOfRange`] below 0 or above 1e9 mol.
pub fn oxygen_mass(oxygen: AmountOfSubstance) -> Result<Mass, OxidationError> {
    let oxygen = checked_amount("oxygen", oxygen)?;
    Ok(Mass::new::<gram>(oxygen * OXYGEN_MOLAR_MASS.value))
}

/// A substance that takes up oxygen.
///
/// ```
/// use ferrogall::oxidation::scavengers;
/// use ferrogall::quantity::{moles, ReadMass};
/// let sulfite = scavengers().iter().find(|s| s.id == "sodium_sulfite").unwrap();
/// assert!((sulfite.mass_for(moles(1.0))?.in_grams() - 252.08).abs() < 1e-9);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Scavenger {
    /// Identifier.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Molar mass, g/mol.
    pub molar_mass_g_per_mol: f64,
    /// O₂ taken up by one mole, mol/mol.
    pub oxygen_per_mole: f64,
    /// What it does besides, and the usual caution.
    pub note: &'static str,
    /// Where the stoichiometry comes from.
    pub source: Source,
}

impl Scavenger {
    /// Mass that takes up this much oxygen, when all of it reacts with oxygen
    /// and with nothing else.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] below 0 or above 1e9 mol, or above
    /// 1e12 g of scavenger.
    pub fn mass_for(&self, oxygen: AmountOfSubstance) -> Result<Mass, OxidationError> {
        let oxygen = checked_amount("oxygen", oxygen)?;
        let grams = oxygen / self.oxygen_per_mole * self.molar_mass_g_per_mol;
        // The row may be the caller's own.
        let grams = within("mass of scavenger", grams, 0.0, 1e12, "g")?;
        Ok(Mass::new::<gram>(grams))
    }
}

const fn counted(reaction: &'static str) -> Source {
    Source::new(reaction, Status::Computed)
}

const SULFITE_NOTE: &str = "acid ink drives it off as sulfur dioxide gas: irritant, dangerous to asthmatics; ventilate and follow local rules";
const ASCORBIC_NOTE: &str = "also reduces iron(III), so it bleaches the mark";

const SCAVENGERS: &[Scavenger] = &[
    Scavenger {
        id: "sodium_sulfite",
        name: "sodium sulfite, anhydrous",
        molar_mass_g_per_mol: 126.04,
        oxygen_per_mole: 0.5,
        note: SULFITE_NOTE,
        source: counted("2 Na2SO3 + O2 -> 2 Na2SO4"),
    },
    Scavenger {
        id: "sulfur_dioxide",
        name: "sulfur dioxide",
        molar_mass_g_per_mol: 64.058,
        oxygen_per_mole: 0.5,
        note: SULFITE_NOTE,
        source: counted("2 SO2 + O2 + 2 H2O -> 2 H2SO4"),
    },
    Scavenger {
        id: "potassium_metabisulfite",
        name: "potassium metabisulfite",
        molar_mass_g_per_mol: 222.311,
        oxygen_per_mole: 1.0,
        note: SULFITE_NOTE,
        source: counted("K2S2O5 gives 2 SO2, which take 1 O2"),
    },
    Scavenger {
        id: "ascorbic_acid_peroxide_left",
        name: "ascorbic acid, hydrogen peroxide left over",
        molar_mass_g_per_mol: 176.12,
        oxygen_per_mole: 1.0,
        note: "also reduces iron(III), so it bleaches the mark; the peroxide it leaves oxidises iron(II)",
        source: counted("C6H8O6 + O2 -> C6H6O6 + H2O2"),
    },
    Scavenger {
        id: "ascorbic_acid",
        name: "ascorbic acid, hydrogen peroxide reduced too",
        molar_mass_g_per_mol: 176.12,
        oxygen_per_mole: 0.5,
        note: ASCORBIC_NOTE,
        source: counted("2 C6H8O6 + O2 -> 2 C6H6O6 + 2 H2O"),
    },
    Scavenger {
        id: "iron_powder",
        name: "iron powder absorber (outside the ink)",
        molar_mass_g_per_mol: 55.845,
        oxygen_per_mole: 0.75,
        note: "in a sachet in the air space; iron metal in acid ink gives off hydrogen, which burns and bursts closed bottles",
        source: counted("4 Fe + 3 O2 -> 2 Fe2O3; the trade counts 300 mL O2 per gram"),
    },
    Scavenger {
        id: "gallic_acid_2e",
        name: "gallic acid giving two electrons",
        molar_mass_g_per_mol: 170.12,
        oxygen_per_mole: 0.5,
        note: "part of the ink: what is oxidised no longer makes colour",
        source: Source::new(
            "Powell & Taylor 1982, Aust. J. Chem. 35:739, abstract: 2 Fe3+ per phenol",
            Status::Published,
        ),
    },
    Scavenger {
        id: "gallic_acid_4e",
        name: "gallic acid giving four electrons",
        molar_mass_g_per_mol: 170.12,
        oxygen_per_mole: 1.0,
        note: "part of the ink: what is oxidised no longer makes colour",
        source: Source::new(
            "J. Electroanal. Chem. 650 (2010) 16: up to four Fe(III) per gallic acid",
            Status::Published,
        ),
    },
];

/// What takes up oxygen, with its capacity.
///
/// Molar masses are those of the IUPAC atomic weights. These are counts, not
/// advice: each row says what the substance does besides.
pub const fn scavengers() -> &'static [Scavenger] {
    SCAVENGERS
}
