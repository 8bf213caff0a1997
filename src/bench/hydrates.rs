//! Weathered green vitriol.

use crate::quantity::{OutOfRange, within};

/// How far green vitriol has weathered: mass fractions of its hydrates and of
/// the brown basic sulfate Fe(OH)SO4.
///
/// Losing water raises the iron per gram (20.09 % Fe in the 7-hydrate, 24.94
/// in the 4-, 32.87 in the 1-hydrate); the basic sulfate is iron(III).
///
/// ```
/// use ferrogall::bench::HydrateMix;
/// let half = HydrateMix::new(0.5, 0.3, 0.15, 0.05)?;
/// assert_eq!(half.tetrahydrate(), 0.3);
/// assert!(HydrateMix::new(0.5, 0.3, 0.0, 0.0).is_err()); // must add up to 1
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HydrateMix {
    parts: [f64; 4],
}

impl HydrateMix {
    /// Mass fractions of FeSO4·7H2O, FeSO4·4H2O, FeSO4·H2O and Fe(OH)SO4.
    ///
    /// # Errors
    /// [`OutOfRange`] when one lies outside 0 to 1 or their sum is not 1
    /// within 1e-6.
    pub fn new(
        heptahydrate: f64,
        tetrahydrate: f64,
        monohydrate: f64,
        basic_sulfate: f64,
    ) -> Result<HydrateMix, OutOfRange> {
        let parts = [
            within("share of heptahydrate", heptahydrate, 0.0, 1.0, "")?,
            within("share of tetrahydrate", tetrahydrate, 0.0, 1.0, "")?,
            within("share of monohydrate", monohydrate, 0.0, 1.0, "")?,
            within("share of basic sulfate", basic_sulfate, 0.0, 1.0, "")?,
        ];
        let sum: f64 = parts.iter().sum();
        within("sum of the hydrate shares", sum, 1.0 - 1e-6, 1.0 + 1e-6, "")?;
        Ok(HydrateMix {
            parts: parts.map(|p| p / sum),
        })
    }

    /// Share of FeSO4·7H2O.
    pub fn heptahydrate(&self) -> f64 {
        self.parts[0]
    }

    /// Share of FeSO4·4H2O.
    pub fn tetrahydrate(&self) -> f64 {
        self.parts[1]
    }

    /// Share of FeSO4·H2O.
    pub fn monohydrate(&self) -> f64 {
        self.parts[2]
    }

    /// Share of Fe(OH)SO4.
    pub fn basic_sulfate(&self) -> f64 {
        self.parts[3]
    }

    /// Each solid with its share: crystal waters per iron, whether ferric.
    pub(super) fn solids(&self) -> [(f64, f64, bool); 4] {
        let [h, t, m, b] = self.parts;
        [
            (h, 7.0, false),
            (t, 4.0, false),
            (m, 1.0, false),
            (b, 0.0, true),
        ]
    }
}
