//! How much iron salt water will hold.

use crate::quantity::{MassFraction, OutOfRange, Temperature, within};
use crate::source::{Source, Status};

const CRC: Source = Source::new(
    "CRC Handbook of Chemistry and Physics 98th ed. 2017, aqueous solubility of inorganic compounds",
    Status::Handbook,
);

/// Solubility of an iron salt over temperature.
///
/// ```
/// use ferrogall::bench::solubility;
/// use ferrogall::quantity::celsius;
/// let vitriol = solubility("FeSO4").unwrap();
/// assert!((vitriol.saturated(celsius(20.0))?.as_percent() - 20.8).abs() < 1e-9);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Solubility {
    /// Formula of the anhydrous salt.
    pub formula: &'static str,
    /// Temperature in °C and mass % of anhydrous salt in the saturated
    /// solution, ascending in temperature.
    pub points: &'static [(f64, f64)],
    /// Where the points come from.
    pub source: Source,
}

const ROWS: &[Solubility] = &[
    Solubility {
        formula: "FeSO4",
        points: &[
            (0.0, 13.5),
            (10.0, 17.0),
            (20.0, 20.8),
            (25.0, 22.8),
            (30.0, 24.8),
            (40.0, 28.8),
            (50.0, 32.8),
            (60.0, 35.5),
            (70.0, 33.6),
            (80.0, 30.4),
            (90.0, 27.1),
            (100.0, 24.0),
        ],
        source: CRC,
    },
    Solubility {
        formula: "FeCl2",
        points: &[(0.0, 33.2), (25.0, 39.4), (100.0, 48.7)],
        source: CRC,
    },
    Solubility {
        formula: "FeCl3",
        points: &[
            (0.0, 42.7),
            (10.0, 44.9),
            (20.0, 47.9),
            (25.0, 47.7),
            (30.0, 51.6),
            (40.0, 74.8),
        ],
        source: CRC,
    },
];

/// Every solubility curve.
pub const fn solubilities() -> &'static [Solubility] {
    ROWS
}

/// The curve of one anhydrous salt.
pub fn solubility(formula: &str) -> Option<&'static Solubility> {
    ROWS.iter().find(|r| r.formula == formula)
}

impl Solubility {
    /// Mass fraction of anhydrous salt in the saturated solution, by straight
    /// lines between the points.
    ///
    /// # Errors
    /// [`OutOfRange`] outside the temperatures of the table.
    pub fn saturated(&self, temperature: Temperature) -> Result<MassFraction, OutOfRange> {
        let t = temperature.get::<uom::si::thermodynamic_temperature::degree_celsius>();
        let ends = (self.points.first(), self.points.last());
        let (low, high) = match ends {
            (Some(a), Some(b)) => (a.0, b.0),
            _ => (0.0, 0.0),
        };
        // A kelvin-to-Celsius round trip may miss an end by a few ulp.
        let t = within("temperature", t, low - 1e-9, high + 1e-9, "°C")?
            .max(low)
            .min(high);
        let mut percent = 0.0;
        for pair in self.points.windows(2) {
            let ((t0, y0), (t1, y1)) = (pair[0], pair[1]);
            if t >= t0 && t <= t1 {
                percent = y0 + (y1 - y0) * (t - t0) / (t1 - t0);
            }
        }
        MassFraction::percent(percent)
    }
}
