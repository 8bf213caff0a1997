//! The disagreement of the laws, carried as a span.

use super::constant::SecondOrder;
use super::law::IronLaw;
use super::milieu::Milieu;
use crate::oxidation::OxidationError;

/// The laws that hold in a milieu, with what each gives there.
///
/// ```
/// use ferrogall::oxidation::{IronLaw, Milieu, laws_at};
/// use ferrogall::quantity::celsius;
/// let acid = Milieu::new(celsius(25.0), 2.5)?;
/// let laws: Vec<_> = laws_at(&acid).map(|(law, _)| law).collect();
/// assert!(laws.contains(&IronLaw::AcidPlateau) && !laws.contains(&IronLaw::StummLee));
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
pub fn laws_at(milieu: &Milieu) -> impl Iterator<Item = (IronLaw, SecondOrder)> + use<> {
    let milieu = *milieu;
    let laws = IronLaw::ALL.into_iter();
    laws.filter_map(move |law| law.constant(&milieu).ok().map(|k| (law, k)))
}

/// What all laws that hold in a milieu say together of iron(II) and oxygen
/// without a ligand: the floor of an ink's oxidation.
///
/// `low` and `high` are the ends that the laws reach with their factors of
/// uncertainty, and may step where a law begins or ceases to hold; `typical` is [`IronLaw::ParallelPathways`], whose acid end is
/// the recommended 1.07e-5 L/(mol s), ten times more or less.
///
/// ```
/// use ferrogall::oxidation::{InorganicRate, Milieu};
/// use ferrogall::quantity::celsius;
/// let rate = InorganicRate::at(&Milieu::new(celsius(25.0), 2.5)?)?;
/// assert!((rate.typical.in_l_per_mol_s() / 1.07e-5 - 1.0).abs() < 0.3);
/// assert!(rate.high.in_l_per_mol_s() / rate.low.in_l_per_mol_s() > 100.0);
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InorganicRate {
    /// Slowest end.
    pub low: SecondOrder,
    /// The recommended law.
    pub typical: SecondOrder,
    /// Fastest end.
    pub high: SecondOrder,
    /// The law that sets `low`.
    pub low_law: IronLaw,
    /// The law that sets `high`.
    pub high_law: IronLaw,
}

impl InorganicRate {
    /// At this milieu.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] where the recommended law does not
    /// hold: outside pH −1 to 9.
    pub fn at(milieu: &Milieu) -> Result<Self, OxidationError> {
        let recommended = IronLaw::ParallelPathways;
        let typical = recommended.constant(milieu)?;
        let mut rate = InorganicRate {
            low: typical,
            typical,
            high: typical,
            low_law: recommended,
            high_law: recommended,
        };
        for (law, constant) in laws_at(milieu) {
            let factor = law.uncertainty_factor(milieu)?;
            let low = SecondOrder::l_per_mol_s(constant.in_l_per_mol_s() / factor)?;
            let high = SecondOrder::l_per_mol_s(constant.in_l_per_mol_s() * factor)?;
            if low < rate.low {
                (rate.low, rate.low_law) = (low, law);
            }
            if high > rate.high {
                (rate.high, rate.high_law) = (high, law);
            }
        }
        Ok(rate)
    }
}
