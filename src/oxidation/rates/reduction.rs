//! Iron(III) back to iron(II) by phenol, and oxygen taken by ascorbic acid.

use super::coefficients::ASCORBIC_ACID;
use super::constant::SecondOrder;
use crate::oxidation::OxidationError;
use crate::quantity::{MolarConcentration, Share, within};

fn checked(what: &'static str, c: MolarConcentration) -> Result<f64, OxidationError> {
    Ok(within(what, c.value / 1000.0, 0.0, 100.0, "mol/L")?)
}

/// The share of iron(III) at which oxygen makes as much of it as phenol takes
/// away: k c(O₂) / (k c(O₂) + k_red c(phenol)).
///
/// # Errors
/// [`OxidationError::OutOfRange`] for concentrations outside 0 to 100 mol/L,
/// and when neither reaction goes on.
///
/// ```
/// use ferrogall::oxidation::{SecondOrder, steady_iron_iii_share};
/// use ferrogall::quantity::moles_per_liter;
/// let k = SecondOrder::l_per_mol_s(0.02)?;
/// let (oxygen, phenol) = (moles_per_liter(2.5e-4), moles_per_liter(0.05));
/// let share = steady_iron_iii_share(k, oxygen, SecondOrder::l_per_mol_s(1e-4)?, phenol)?;
/// assert!((share.value() - 0.5).abs() < 1e-12);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn steady_iron_iii_share(
    oxidation: SecondOrder,
    oxygen: MolarConcentration,
    reduction: SecondOrder,
    phenol: MolarConcentration,
) -> Result<Share, OxidationError> {
    let made = oxidation.in_l_per_mol_s() * checked("oxygen", oxygen)?;
    let taken = reduction.in_l_per_mol_s() * checked("phenol", phenol)?;
    let pace = within("rate of both reactions", made + taken, 1e-300, 1e15, "1/s")?;
    Ok(Share::new(made / pace)?)
}

/// The constant of iron(III) with phenol that leads to a steady share of
/// iron(III): k c(O₂) (1 − s) / (s c(phenol)).
///
/// No constant of reduction is published for ink. What is known is where it
/// ends: [`Parameter::STEADY_IRON_III_SHARE`](super::Parameter), 0.32 to 1.
/// `phenol` is counted in the same unit as the state that is used up
/// (electrons, or galloyl units).
///
/// # Errors
/// [`OxidationError::OutOfRange`] for a share below 1e-6, oxygen outside 0 to
/// 100 mol/L, phenol outside 1e-12 to 100 mol/L.
///
/// ```
/// use ferrogall::oxidation::{Parameter, SecondOrder, reduction_for_steady_share};
/// use ferrogall::quantity::{moles_per_liter, Share};
/// let k = SecondOrder::l_per_mol_s(0.02)?;
/// let (oxygen, phenol) = (moles_per_liter(2.58e-4), moles_per_liter(0.05));
/// let wine = Share::new(Parameter::STEADY_IRON_III_SHARE.range.min)?;
/// let k_red = reduction_for_steady_share(k, oxygen, phenol, wine)?;
/// assert!((k_red.in_l_per_mol_s() - 0.02 * 2.58e-4 * 0.68 / 0.32 / 0.05).abs() < 1e-12);
/// assert_eq!(reduction_for_steady_share(k, oxygen, phenol, Share::ONE)?, SecondOrder::ZERO);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn reduction_for_steady_share(
    oxidation: SecondOrder,
    oxygen: MolarConcentration,
    phenol: MolarConcentration,
    share: Share,
) -> Result<SecondOrder, OxidationError> {
    let made = oxidation.in_l_per_mol_s() * checked("oxygen", oxygen)?;
    let phenol = within("phenol", phenol.value / 1000.0, 1e-12, 100.0, "mol/L")?;
    let s = within("steady share of iron(III)", share.value(), 1e-6, 1.0, "")?;
    SecondOrder::l_per_mol_s(made * (1.0 - s) / (s * phenol))
}

/// The constant of ascorbic acid with oxygen in acid water, by how much free
/// iron(III) catalyses it (Shen et al. 2021): 5.7e4 L²/(mol² s) times it.
///
/// Measured with micromoles of iron in salt water; 0 to 1e-4 mol/L are taken.
/// Iron(III) in ink is bound to gallate, and how much of it counts is not
/// known: [`Parameter::SCAVENGER_CONSTANT`](super::Parameter) is the span to
/// work with. It is not known for sulfite at all: in acid, iron(III) oxidises
/// it by a chain that does not follow oxygen.
///
/// # Errors
/// [`OxidationError::OutOfRange`] otherwise.
///
/// ```
/// use ferrogall::oxidation::ascorbic_acid_rate;
/// use ferrogall::quantity::moles_per_liter;
/// let k = ascorbic_acid_rate(moles_per_liter(2e-5))?;
/// assert!((k.in_l_per_mol_s() - 1.14).abs() < 1e-9);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn ascorbic_acid_rate(
    free_iron_iii: MolarConcentration,
) -> Result<SecondOrder, OxidationError> {
    let c = within(
        "free iron(III)",
        free_iron_iii.value / 1000.0,
        0.0,
        1e-4,
        "mol/L",
    )?;
    SecondOrder::l_per_mol_s(ASCORBIC_ACID.value * c)
}
