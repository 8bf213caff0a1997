//! How much water, or how much more of everything, would bring an ink in.

use super::compare::{ClauseComparison, ClauseVerdict};

/// The strength at which an ink would meet every clause on its composition to
/// the letter. Arithmetic on the limits, nothing more: it says nothing of
/// taste, tests or what the ink does then.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::{reference_ink, standard};
/// let ink = reference_ink("german_document_1888").unwrap().recipe(liters(1.0), 1.1)?;
/// let page = standard("de_document_class_i").unwrap().compare(&ink.evaluate()?.composition);
/// let hint = page.strength.unwrap();
/// assert!((hint.water_percent.unwrap() - 10.5).abs() < 0.05); // 6.63 to 6 g/L of iron
/// assert_eq!(hint.words(), "add 10.5 % water by volume");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct StrengthHint {
    /// The nearest strength that does, as a multiple of the present one.
    pub factor: f64,
    /// Least strength that does.
    pub least_factor: f64,
    /// Greatest strength that does; `None`: no upper limit.
    pub greatest_factor: Option<f64>,
    /// Water to add, % of the volume of the ink; `None` where it is too weak.
    pub water_percent: Option<f64>,
}

impl StrengthHint {
    pub(super) fn of(clauses: &[ClauseComparison]) -> Option<StrengthHint> {
        let (mut least, mut greatest) = (0.0_f64, f64::INFINITY);
        let mut wanting = false;
        for clause in clauses {
            let Some(window) = clause.window() else {
                continue;
            };
            let figure = clause.figure?;
            let meets = clause.verdict == ClauseVerdict::Meets;
            wanting |= !meets;
            if !window.quantity.is_concentration() {
                if !meets {
                    return None;
                }
                continue;
            }
            // Nothing becomes something at no strength; less than nothing turns round.
            if figure <= 0.0 {
                if !meets {
                    return None;
                }
                continue;
            }
            least = least.max(window.min.map_or(0.0, |m| m / figure));
            greatest = greatest.min(window.max.map_or(f64::INFINITY, |m| m / figure));
        }
        let possible = least <= greatest * (1.0 + 1e-12) && greatest > 0.0 && least.is_finite();
        if !wanting || !possible {
            return None;
        }
        let factor = if greatest < 1.0 { greatest } else { least };
        Some(StrengthHint {
            factor,
            least_factor: least,
            greatest_factor: greatest.is_finite().then_some(greatest),
            water_percent: (factor < 1.0)
                .then(|| 100.0 * (1.0 / factor - 1.0))
                .filter(|w| w.is_finite()),
        })
    }

    /// In words, for a page.
    pub fn words(&self) -> String {
        match self.water_percent {
            Some(water) => format!("add {water:.1} % water by volume"),
            None => format!("{:.3} times as much of everything but water", self.factor),
        }
    }
}
