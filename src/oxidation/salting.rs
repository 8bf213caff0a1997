//! Salting-out: dissolved salts leave less room for oxygen.

use super::OxidationError;
use super::constants::SALTING_TEMPERATURE;
use super::oxygen::checked_temperature;
use crate::quantity::{MolarConcentration, Share, Temperature, within};
use crate::source::{Source, Status};

/// An ion with a published salting-out parameter.
///
/// ```
/// use ferrogall::oxidation::{Ion, ion_rows};
/// assert_eq!(ion_rows()[0].ion, Ion::Hydrogen);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
#[allow(missing_docs)] // the names say it
pub enum Ion {
    Hydrogen,
    Sodium,
    Potassium,
    Ammonium,
    Calcium,
    #[cfg_attr(feature = "serde", serde(rename = "iron_ii"))]
    IronII,
    #[cfg_attr(feature = "serde", serde(rename = "iron_iii"))]
    IronIII,
    #[cfg_attr(feature = "serde", serde(rename = "copper_ii"))]
    CopperII,
    Zinc,
    Chloride,
    Sulfate,
    Hydrogencarbonate,
}

/// Which published set of parameters to use.
///
/// ```
/// use ferrogall::oxidation::SaltingSet;
/// assert_eq!(SaltingSet::default(), SaltingSet::WeisenbergerSchumpe1996);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum SaltingSet {
    /// Weisenberger & Schumpe 1996, with a temperature term.
    #[default]
    WeisenbergerSchumpe1996,
    /// Schumpe 1993; the temperature term of 1996 is used with it too.
    Schumpe1993,
}

impl SaltingSet {
    /// Where the set comes from.
    pub const fn source(self) -> Source {
        match self {
            SaltingSet::WeisenbergerSchumpe1996 => Source::new(
                "Weisenberger & Schumpe 1996, AIChE J. 42:298, as coded in a public biochemistry code; K+ corrected for a digit swap there",
                Status::Secondary,
            ),
            SaltingSet::Schumpe1993 => Source::new(
                "Schumpe 1993, Chem. Eng. Sci. 48:153, as coded in a public chemistry library",
                Status::Secondary,
            ),
        }
    }
}

/// Salting-out parameters of one ion, L/mol at 25 °C.
///
/// ```
/// use ferrogall::oxidation::{Ion, SaltingSet, ion_rows};
/// let iron = ion_rows().iter().find(|r| r.ion == Ion::IronII).unwrap();
/// assert_eq!(iron.l_per_mol(SaltingSet::WeisenbergerSchumpe1996), 0.1523);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct IonRow {
    /// The ion.
    pub ion: Ion,
    /// Set of 1996, L/mol.
    pub l_per_mol_1996: f64,
    /// Set of 1993, L/mol.
    pub l_per_mol_1993: f64,
}

impl IonRow {
    /// The parameter in one of the sets, L/mol.
    pub const fn l_per_mol(&self, set: SaltingSet) -> f64 {
        match set {
            SaltingSet::WeisenbergerSchumpe1996 => self.l_per_mol_1996,
            SaltingSet::Schumpe1993 => self.l_per_mol_1993,
        }
    }
}

const fn row(ion: Ion, l_per_mol_1996: f64, l_per_mol_1993: f64) -> IonRow {
    IonRow {
        ion,
        l_per_mol_1996,
        l_per_mol_1993,
    }
}

/// Both sets; sources by [`SaltingSet::source`].
#[rustfmt::skip]
const IONS: &[IonRow] = &[
    row(Ion::Hydrogen,          0.0,    0.0),
    row(Ion::Sodium,            0.1143, 0.1171),
    row(Ion::Potassium,         0.0922, 0.0959),
    row(Ion::Ammonium,          0.0556, 0.0539),
    row(Ion::Calcium,           0.1762, 0.1771),
    row(Ion::IronII,            0.1523, 0.1712),
    row(Ion::IronIII,           0.1161, 0.0996),
    row(Ion::CopperII,          0.1675, 0.1810),
    row(Ion::Zinc,              0.1537, 0.1712),
    row(Ion::Chloride,          0.0318, 0.0334),
    row(Ion::Sulfate,           0.1117, 0.1185),
    row(Ion::Hydrogencarbonate, 0.0967, 0.1372),
];

/// The ions and their parameters.
pub const fn ion_rows() -> &'static [IonRow] {
    IONS
}

/// Oxygen dissolved in a salt solution as a share of that in pure water:
/// log10 of it is -Σ (hᵢ + hT·(T - 298.15 K))·cᵢ.
///
/// Good to about 1 % up to 2 mol/L of salt (that limit is from memory). Gum
/// and tannin are not covered; a few per cent should be allowed for them.
///
/// # Errors
/// [`OxidationError::OutOfRange`] outside 0 to 40 °C, or for an ion of less
/// than 0 or more than 4 mol/L.
///
/// ```
/// use ferrogall::oxidation::{Ion, SaltingSet, salting_out};
/// use ferrogall::quantity::{celsius, moles_per_liter};
/// let vitriol = [
///     (Ion::IronII, moles_per_liter(0.1)),
///     (Ion::Sulfate, moles_per_liter(0.1)),
/// ];
/// let share = salting_out(SaltingSet::default(), celsius(25.0), &vitriol)?;
/// assert!((share.value() - 0.941).abs() < 1e-3);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn salting_out(
    set: SaltingSet,
    temperature: Temperature,
    ions: &[(Ion, MolarConcentration)],
) -> Result<Share, OxidationError> {
    let kelvin = checked_temperature("temperature", temperature)?;
    let by_temperature = SALTING_TEMPERATURE.value * (kelvin - 298.15);
    let mut log10 = 0.0;
    for &(ion, concentration) in ions {
        // mol/m³ inside
        let c = within(
            "ion concentration",
            concentration.value / 1000.0,
            0.0,
            4.0,
            "mol/L",
        )?;
        let h = IONS
            .iter()
            .find(|r| r.ion == ion)
            .map_or(0.0, |r| r.l_per_mol(set));
        log10 -= (h + by_temperature) * c;
    }
    // Warm acid salts in by a hair; a share stops at 1, the safe side of which
    // is the figure for pure water.
    Ok(Share::new(libm::exp10(log10).min(1.0))?)
}
