//! Tannin by other methods, each with the factor that brings it here.

use super::constants::PERMANGANATE;
use super::delivered::{LEAST, MOST_VOLUME};
use super::propagate::{Input, propagate};
use super::{AssayError, Assayed, MethodId, NoteKind, Reading};
use crate::quantity::{Mass, MolarConcentration, OutOfRange, ReadMass, Volume, within};
use crate::source::{Constant, Range, Source, Status};

/// A factor between what a tannin method prints and gallotannin by weight.
///
/// Data, never truth: methods measure different things, and where two authors
/// disagree both rows stand. The span is about 95 %.
///
/// ```
/// use ferrogall::assay::{Reading, TanninFactor};
/// // 36 % by hide powder, as pyrogallol.
/// let galls = TanninFactor::HIDE_POWDER.tannin(&Reading::standard(0.36, 0.01)?)?;
/// assert!((galls.value() - 0.52).abs() < 0.01);
/// assert!(galls.relative_u() > 0.1); // the factor is the weak part
/// let back = TanninFactor::HIDE_POWDER.expected(galls.value())?;
/// assert!((back - 0.36).abs() < 1e-12);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TanninFactor {
    /// Name under which it can be looked up.
    pub id: &'static str,
    /// What the method's figure is, with its unit.
    pub figure: &'static str,
    /// Tannin per figure, in `unit`.
    pub range: Range,
    /// Unit of the factor.
    pub unit: &'static str,
    /// What else acts on the figure.
    pub interferences: &'static str,
    /// Where it comes from.
    pub source: Source,
}

macro_rules! factors {
    ($($(#[$doc:meta])* $name:ident, $id:literal: $figure:literal,
       $min:expr, $typical:expr, $max:expr, $unit:literal, $interferences:literal,
       $citation:literal, $status:ident;)*) => {
        impl TanninFactor {
            $($(#[$doc])* pub const $name: TanninFactor = TanninFactor {
                id: $id,
                figure: $figure,
                range: Range::new($min, $typical, $max),
                unit: $unit,
                interferences: $interferences,
                source: Source::new($citation, Status::$status),
            };)*

            /// All of them.
            pub const ALL: &'static [TanninFactor] = &[$(TanninFactor::$name),*];
        }

        pub(crate) const FACTOR_CONSTANTS: &[Constant] = &[$(TanninFactor::$name.as_constant()),*];
    };
}

factors! {
    /// Pharmacopoeia hide powder, tannins as pyrogallol.
    HIDE_POWDER, "tannin_factor_hide_powder": "tannins as pyrogallol, kg/kg",
        1.2, 1.45, 1.8, "kg/kg", "binds by astringency, not by kind; standard is pyrogallol",
        "judgement from Bilek 2022 (35 to 40 %) against Paaver 2019 (81 %), Q. infectoria", ExpertGuess;
    /// Everything that a precipitant brings down.
    TOTAL_PRECIPITATION, "tannin_factor_precipitation": "total tannin by precipitation, kg/kg",
        0.6, 0.75, 0.9, "kg/kg", "protein, pectin and other phenols come down too",
        "judgement from Paaver 2019 against older gravimetric figures", ExpertGuess;
    /// Folin–Ciocalteu on a gallotannin.
    FOLIN_GALLOTANNIN, "tannin_factor_folin_gallotannin": "gallic acid equivalents, kg/kg",
        0.8, 1.0, 1.2, "kg/kg", "reducing sugars, sulfite, ascorbate and iron(II) count as phenol",
        "judgement; ISO 14502-1 for the method", ExpertGuess;
    /// Folin–Ciocalteu on an ellagitannin extract, to ellagitannin by HPLC as
    /// gallic acid.
    FOLIN_ELLAGITANNIN, "tannin_factor_folin_ellagitannin": "gallic acid equivalents, kg/kg",
        0.2, 1.0 / 3.25, 0.45, "kg/kg", "reducing sugars, sulfite, ascorbate and iron(II) count as phenol",
        "Khatib et al. 2023, chestnut wood, ratio 3.25; the span is judgement", ExpertGuess;
    /// Löwenthal's titration with permanganate and indigo carmine, by Neubauer's
    /// factor: 4.157 mg a millilitre of 0.1 N. The other factor is 18 % below.
    LOEWENTHAL_NEUBAUER, "tannin_factor_loewenthal_neubauer": "permanganate used by tannin, equivalents",
        0.0342, 0.041_57, 0.043, "kg/eq", "all else that permanganate oxidises: subtract a titration after hide powder or gelatin",
        "Neubauer's factor, Dingler's Polytechnisches Journal 246; span down to Councler & Schroder's", Published;
    /// The same by Councler and Schroder: 3.42 mg a millilitre of 0.1 N.
    LOEWENTHAL_COUNCLER, "tannin_factor_loewenthal_councler": "permanganate used by tannin, equivalents",
        0.033, 0.0342, 0.041_57, "kg/eq", "all else that permanganate oxidises: subtract a titration after hide powder or gelatin",
        "Councler & Schroder 1882, Dingler's Polytechnisches Journal 246; span up to Neubauer's", Published;
    /// Gelatin: 32.5 to 33 mL of 10 g/L glue bring down 0.2 g of tannin.
    GELATIN, "tannin_factor_gelatin": "dry glue used, kg",
        0.2 / 0.330, 0.2 / 0.3275, 0.2 / 0.325, "kg/kg", "glues differ; gallic acid is not brought down",
        "Fehling 1853, Dingler's Polytechnisches Journal 130, about 1.5 %", Published;
    /// Copper acetate, the precipitate ignited to CuO, by Eder.
    COPPER_EDER, "tannin_factor_copper_eder": "copper(II) oxide, kg",
        1.28, 1.306, 1.33, "kg/kg", "gallic acid and other phenols come down in part",
        "Eder 1878, Dingler's Polytechnisches Journal 229; the span of 2 % is judgement", Published;
    /// The same by Wolff.
    COPPER_WOLFF, "tannin_factor_copper_wolff": "copper(II) oxide, kg",
        1.28, 1.304, 1.33, "kg/kg", "gallic acid and other phenols come down in part",
        "Wolff, as quoted by Eder 1878, Dingler's Polytechnisches Journal 229; the span of 2 % is judgement", Secondary;
}

impl TanninFactor {
    const fn as_constant(&self) -> Constant {
        Constant::of_span(self.id, self.range, self.unit, self.source)
    }

    /// Tannin from the method's figure (0 to 1e6): kg/kg where the figure is a
    /// share, kg where it is a mass or equivalents.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn tannin(&self, figure: &Reading<f64>) -> Result<Assayed<f64>, AssayError> {
        figure.within("figure of the tannin method", 0.0, 1e6, "")?;
        let factor = self.as_constant();
        let inputs = [
            Input::reading("figure of the tannin method", figure),
            Input::constant(&factor, 1.0),
        ];
        let result = propagate(MethodId::TanninFactor, &inputs, |x| Ok(x.iter().product()))?;
        Ok(result
            .note(
                NoteKind::Assumed,
                self.id,
                format!(
                    "{} times {:.4} ({:.4} to {:.4}) {}: {}.",
                    self.figure,
                    self.range.typical,
                    self.range.min,
                    self.range.max,
                    self.unit,
                    self.source
                ),
            )
            .note(NoteKind::Interference, "other_phenols", self.interferences))
    }

    /// What the method would print for so much tannin (0 to 1e6).
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn expected(&self, tannin: f64) -> Result<f64, OutOfRange> {
        Ok(within("tannin", tannin, 0.0, 1e6, "")? / self.range.typical)
    }
}

/// Tannin by Löwenthal's titration with permanganate and indigo carmine: what
/// the liquor took, less what it took after hide powder or gelatin.
///
/// The factor is that of [`TanninFactor::LOEWENTHAL_NEUBAUER`] or
/// [`TanninFactor::LOEWENTHAL_COUNCLER`]; a note says what the other makes of it.
///
/// ```
/// use ferrogall::assay::{loewenthal, Reading, TanninFactor};
/// use ferrogall::quantity::*;
/// let tannin = loewenthal(
///     &TanninFactor::LOEWENTHAL_NEUBAUER,
///     &Reading::standard(moles_per_liter(0.0200), moles_per_liter(0.0001))?,
///     &Reading::buret(milliliters(12.4), milliliters(0.05))?,
///     &Reading::buret(milliliters(2.4), milliliters(0.05))?,
/// )?;
/// assert!((tannin.value().in_grams() - 0.04157).abs() < 1e-9); // 10 mL of 0.1 N
/// assert!(tannin.notes().iter().any(|n| n.message.contains("0.0342 g")));
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
///
/// # Errors
/// [`AssayError::OutOfRange`] for another factor, or when the liquor took less
/// than it did after the hide.
pub fn loewenthal(
    factor: &TanninFactor,
    permanganate: &Reading<MolarConcentration>,
    volume: &Reading<Volume>,
    after_hide: &Reading<Volume>,
) -> Result<Assayed<Mass>, AssayError> {
    let (neubauer, councler) = (
        TanninFactor::LOEWENTHAL_NEUBAUER,
        TanninFactor::LOEWENTHAL_COUNCLER,
    );
    let (low, high) = (councler.range.typical, neubauer.range.typical);
    within(
        "Löwenthal factor",
        factor.range.typical,
        low,
        high,
        factor.unit,
    )?;
    permanganate.within("molarity of the permanganate", LEAST, 5e3, "mol/m3")?;
    after_hide.within("volume after hide", 0.0, MOST_VOLUME, "m3")?;
    let net = (volume.value() - after_hide.value()).value;
    within("volume less that after hide", net, 0.0, MOST_VOLUME, "m3")?;
    let constant = factor.as_constant();
    let inputs = [
        Input::reading("molarity of the permanganate", permanganate),
        Input::reading("volume of permanganate", volume),
        Input::reading("volume after hide", after_hide),
        Input::constant(&constant, 1.0),
    ];
    let found: Assayed<Mass> = propagate(MethodId::Loewenthal, &inputs, |x| {
        let &[c, v, v0, factor] = x else {
            return Ok(f64::NAN);
        };
        // A permanganate takes five electrons, as from five iron(II).
        Ok(PERMANGANATE.value * c * (v - v0) * factor)
    })?;
    let other = if factor.range.typical > 0.5 * (low + high) {
        councler
    } else {
        neubauer
    };
    let by_other = found.value().in_grams() * other.range.typical / factor.range.typical;
    Ok(found.note(
        NoteKind::Assumed,
        factor.id,
        format!(
            "{}. By the other factor ({}) it would be {by_other:.4} g.",
            factor.source, other.source.citation
        ),
    ))
}
