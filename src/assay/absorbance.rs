//! Iron by the colour of its complex with 1,10-phenanthroline.

use super::constants::{
    PHENANTHROLINE, PHENANTHROLINE_LEAST, PHENANTHROLINE_MOST, PHENANTHROLINE_SEEN,
};
use super::method::refuse;
use super::propagate::{Input, of_two, propagate};
use super::{
    Aliquot, AssayError, Assayed, Bound, CalibrationLine, Figure, MethodId, NoteKind, Reading,
    Sample,
};
use crate::chem::constants::IRON;
use crate::quantity::{Length, MolarConcentration, OutOfRange, within};

/// m²/mol of a L/(mol cm).
const SI_ABSORPTION: f64 = 0.1;
/// mol/m³ per mg/L of iron.
const PER_MG: f64 = 1e-3 / IRON;
/// Least path of a cell, m.
const SHORTEST: f64 = 1e-4;
/// How far iron(II) may lie above the total before they contradict.
const TIMES: f64 = 3.0;

/// An absorbance at 510 nm, read against water or with a blank.
///
/// Without a reducing agent it counts iron(II); after hydroxylamine all iron.
/// A finished ink wants a blank of its own (the same ink, no
/// phenanthroline): its colour would count as iron.
///
/// ```
/// use ferrogall::assay::{Aliquot, Phenanthroline, Reading, Sample};
/// use ferrogall::quantity::*;
/// let cell = Reading::rectangular(millimeters(10.0), millimeters(0.05))?;
/// // 1 mL of stock in a litre reads 0.394.
/// let stock = Phenanthroline::new(Sample::Stock, Reading::standard(0.394, 0.003)?, cell)
///     .dilution(Aliquot::new(
///         Reading::triangular(milliliters(1.0), milliliters(0.007))?,
///         Reading::triangular(milliliters(1000.0), milliliters(0.4))?,
///     ));
/// let iron = stock.iron()?;
/// assert!((iron.value().in_millimoles_per_liter() - 35.8).abs() < 0.1);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Phenanthroline {
    sample: Sample,
    absorbance: Reading<f64>,
    path: Reading<Length>,
    blank: Option<Reading<f64>>,
    dilution: Option<Aliquot>,
}

impl Phenanthroline {
    /// An absorbance (0 to 3) in a cell of this path (0.1 mm to 1 m).
    pub fn new(sample: Sample, absorbance: Reading<f64>, path: Reading<Length>) -> Self {
        Phenanthroline {
            sample,
            absorbance,
            path,
            blank: None,
            dilution: None,
        }
    }

    /// Absorbance of the blank.
    #[must_use]
    pub fn blank(mut self, absorbance: Reading<f64>) -> Self {
        self.blank = Some(absorbance);
        self
    }

    /// So much of the sample was made up to so much before reading.
    #[must_use]
    pub fn dilution(mut self, dilution: Aliquot) -> Self {
        self.dilution = Some(dilution);
        self
    }

    /// Iron in the sample before it was diluted, by the published molar
    /// absorption.
    ///
    /// # Errors
    /// [`AssayError::Refused`] for an ink or liquor without a blank;
    /// [`AssayError::OutOfRange`] when the diluted solution holds more than
    /// 5 mg/L, where the method ends: dilute further.
    pub fn iron(&self) -> Result<Assayed<MolarConcentration>, AssayError> {
        let per = Input::constant(&PHENANTHROLINE, SI_ABSORPTION);
        let path = Input::reading("path of the cell", &self.path);
        self.path.within("path of the cell", SHORTEST, 1.0, "m")?;
        self.found(&[per, path], |net, rest| {
            let &[absorption, path] = rest else {
                return Ok(f64::NAN);
            };
            Ok(net / (absorption * path))
        })
    }

    /// The same by a line through standards in mg/L of iron, read in the same
    /// cell. What the line leaves open counts anew in each sample: between two
    /// samples it does not cancel.
    ///
    /// # Errors
    /// As [`Phenanthroline::iron`], and as [`CalibrationLine::read`].
    pub fn iron_by(
        &self,
        line: &CalibrationLine,
    ) -> Result<Assayed<MolarConcentration>, AssayError> {
        let net = self.net()?;
        let (read, blank) = (net.0.value(), net.1.value());
        let u = libm::hypot(net.0.u(), net.1.u());
        let content = line.read_reading(&Reading::standard(read - blank, u)?)?;
        let kept = Input::alone("reading on the line", content.value(), content.u());
        let result = self.found(&[kept], |_, rest| {
            Ok(rest.first().copied().unwrap_or(f64::NAN) * PER_MG)
        })?;
        Ok(result.with_notes_of(&content))
    }

    /// Absorbance that a solution of so much iron(II) shows.
    ///
    /// # Errors
    /// [`OutOfRange`] for a path or a content outside the method.
    pub fn expected(iron: MolarConcentration, path: Length) -> Result<f64, OutOfRange> {
        let most = PHENANTHROLINE_MOST.value * PER_MG;
        let c = within("iron", iron.value, 0.0, most, "mol/m3")?;
        let b = within("path of the cell", path.value, SHORTEST, 1.0, "m")?;
        Ok(PHENANTHROLINE.value * SI_ABSORPTION * c * b)
    }

    fn net(&self) -> Result<(Reading<f64>, Reading<f64>), AssayError> {
        if self.sample.holds_tannin() && self.blank.is_none() {
            return refuse(
                MethodId::Phenanthroline,
                self.sample,
                "its own colour counts as iron: read a blank of the same ink without phenanthroline, or ash it",
            );
        }
        self.absorbance.within("absorbance", 0.0, 3.0, "")?;
        let blank = match &self.blank {
            Some(b) => b.clone(),
            None => Reading::exact(0.0)?,
        };
        blank.within("absorbance of the blank", 0.0, 3.0, "")?;
        within(
            "absorbance less blank",
            self.absorbance.value() - blank.value(),
            0.0,
            3.0,
            "",
        )?;
        Ok((self.absorbance.clone(), blank))
    }

    fn found(
        &self,
        rest: &[Input],
        content: impl Fn(f64, &[f64]) -> Result<f64, AssayError>,
    ) -> Result<Assayed<MolarConcentration>, AssayError> {
        let (read, blank) = self.net()?;
        let mut inputs = vec![
            Input::reading("absorbance", &read),
            Input::reading("absorbance of the blank", &blank),
        ];
        if let Some(d) = &self.dilution {
            d.share()?;
            inputs.extend(d.inputs());
        } else {
            inputs.extend([
                Input::alone("undiluted", 1.0, 0.0),
                Input::alone("as it was", 1.0, 0.0),
            ]);
        }
        inputs.extend_from_slice(rest);
        let result = propagate::<MolarConcentration>(MethodId::Phenanthroline, &inputs, |x| {
            let [read, blank, part, whole, rest @ ..] = x else {
                return Ok(f64::NAN);
            };
            Ok(content(read - blank, rest)? * whole / part)
        })?;
        let share = self.dilution.as_ref().map_or(Ok(1.0), Aliquot::share)?;
        let in_cell = result.value().value * share / PER_MG;
        within(
            "iron in the cell",
            in_cell,
            -PHENANTHROLINE_MOST.value,
            PHENANTHROLINE_MOST.value,
            "mg/L",
        )?;
        let mut result = result;
        if in_cell < PHENANTHROLINE_SEEN.value {
            result = result.note(
                NoteKind::Range,
                "not_seen",
                format!(
                    "{in_cell:.3} mg/L in the cell is below what the method can see ({} mg/L).",
                    PHENANTHROLINE_SEEN.value
                ),
            );
        } else if in_cell < PHENANTHROLINE_LEAST.value {
            result = result.note(
                NoteKind::Range,
                "below_lower_limit",
                format!(
                    "{in_cell:.3} mg/L in the cell is seen, but below what the method measures ({} mg/L).",
                    PHENANTHROLINE_LEAST.value
                ),
            );
        }
        if self.sample.holds_tannin() {
            result = result.note(
                NoteKind::Interference,
                "tannin_reduces",
                "Tannin and gallic acid bring iron(III) back to iron(II) while it stands with phenanthroline: read at once; the iron(II) found may be too high.",
            );
        }
        Ok(result)
    }
}

/// Share of the iron that is iron(III): 1 − iron(II)/total.
///
/// What both assays rest on (a named titrant or pipette, the molar absorption)
/// cancels. A share that scatter brings below 0 is given as 0, with a note.
///
/// ```
/// use ferrogall::assay::{oxidised_share, Phenanthroline, Reading, Sample};
/// use ferrogall::quantity::*;
/// let cell = Reading::rectangular(millimeters(10.0), millimeters(0.05))?.source("cell");
/// let read = |a: f64| -> Result<_, ferrogall::assay::AssayError> {
///     Phenanthroline::new(Sample::Stock, Reading::standard(a, 0.003)?, cell.clone()).iron()
/// };
/// let share = oxidised_share(&read(0.552)?, &read(0.600)?)?;
/// assert!((share.value() - 0.08).abs() < 1e-12);
/// assert!((share.u() - 0.0068).abs() < 0.0001); // the absorbances alone
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
///
/// # Errors
/// [`AssayError::OutOfRange`] when there is no iron;
/// [`AssayError::Contradiction`] when the iron(II) exceeds the total by more
/// than three times their uncertainty.
pub fn oxidised_share<Q: Figure>(
    iron_ii: &Assayed<Q>,
    total: &Assayed<Q>,
) -> Result<Assayed<f64>, AssayError> {
    let two = within("iron(II)", iron_ii.value().si(), 0.0, 1e12, "SI unit")?;
    let all = within("total iron", total.value().si(), 1e-15, 1e12, "SI unit")?;
    let share = 1.0 - two / all;
    let slopes = [-1.0 / all, two / (all * all)];
    let result: Assayed<f64> = of_two(MethodId::OxidisedShare, (iron_ii, total), share, slopes)?;
    // Too much iron(II) makes the share too small, too much in all too large.
    let result = match (iron_ii.bound(), total.bound()) {
        (Bound::AtMost, Bound::Estimate | Bound::AtLeast) => result.bounded(Bound::AtLeast),
        (Bound::Estimate, Bound::AtLeast) => result.bounded(Bound::AtLeast),
        (Bound::AtLeast, Bound::Estimate | Bound::AtMost) => result.bounded(Bound::AtMost),
        (Bound::Estimate, Bound::AtMost) => result.bounded(Bound::AtMost),
        _ => result,
    };
    if share >= 0.0 {
        return Ok(result);
    }
    if -share > TIMES * result.u() {
        return Err(AssayError::Contradiction {
            what: "iron(II) above the total iron",
            left: two,
            right: all,
            times: TIMES,
        });
    }
    Ok(result.set_value(0.0).note(
        NoteKind::Range,
        "below_zero",
        format!("Iron(II) came out {:.2} % above the total, within their scatter: taken as none oxidised.", -100.0 * share),
    ))
}
