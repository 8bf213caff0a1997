//! Recipes in parts: one weight gives the rest.

use super::HistoryError;
use crate::quantity::{Mass, OutOfRange, checked_mass, within};

/// Parts by weight: 30 : 3 : 2 : 1. They need no unit.
///
/// ```
/// use ferrogall::history::Proportions;
/// use ferrogall::quantity::{kilograms, ReadMass};
/// let ink = Proportions::new([("water", 30.0), ("galls", 3.0), ("vitriol", 2.0), ("gum", 1.0)])?;
/// // "I have 1 kg of galls."
/// let masses = ink.solve("galls", kilograms(1.0))?;
/// assert!((masses[0].1.in_kilograms() - 10.0).abs() < 1e-9);
/// assert!((masses[3].1.in_grams() - 1000.0 / 3.0).abs() < 1e-9);
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Proportions {
    parts: Vec<(String, f64)>,
}

impl Proportions {
    /// Names with their parts, from a millionth to a million each.
    ///
    /// # Errors
    /// [`OutOfRange`] for a number outside its range; [`HistoryError::Empty`].
    pub fn new<N: Into<String>>(
        parts: impl IntoIterator<Item = (N, f64)>,
    ) -> Result<Proportions, HistoryError> {
        let mut out = Vec::new();
        for (name, number) in parts {
            within("parts", number, 1e-6, 1e6, "")?;
            out.push((name.into(), number));
        }
        if out.is_empty() {
            return Err(HistoryError::Empty);
        }
        Ok(Proportions { parts: out })
    }

    /// Names and parts.
    pub fn parts(&self) -> &[(String, f64)] {
        &self.parts
    }

    /// What everything weighs when this much of one is taken.
    ///
    /// # Errors
    /// [`HistoryError::NoSuchPart`], [`HistoryError::OutOfRange`].
    pub fn solve(&self, name: &str, mass: Mass) -> Result<Vec<(String, Mass)>, HistoryError> {
        let own = self.parts.iter().find(|p| p.0 == name);
        let own = own.ok_or_else(|| HistoryError::NoSuchPart {
            name: name.to_string(),
        })?;
        let kg = checked_mass("mass", mass)?;
        Ok(self.with_part(Mass::new::<uom::si::mass::kilogram>(kg / own.1))?)
    }

    /// What everything weighs when one part weighs this.
    ///
    /// # Errors
    /// [`OutOfRange`] where a mass leaves 0 to a thousand tonnes.
    pub fn with_part(&self, part: Mass) -> Result<Vec<(String, Mass)>, OutOfRange> {
        checked_mass("mass of one part", part)?;
        let one = |(name, n): &(String, f64)| {
            let mass = part * *n;
            checked_mass("mass", mass)?;
            Ok((name.clone(), mass))
        };
        self.parts.iter().map(one).collect()
    }
}
