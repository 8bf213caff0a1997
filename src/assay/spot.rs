//! A drop of extract, additions of iron, and the eye.

use super::constants::{END_POINT, IRON_PER_GALLOYL, JUDGING};
use super::result::FAR;
use super::{AssayError, Figure, MethodId, Reading};
use crate::quantity::{Mass, Molality, MolarConcentration, OutOfRange, Volume, within};
use crate::source::Range;
use crate::uncertainty::Evidence;

/// A quantity known to lie between two values, each end misjudged perhaps.
///
/// ```
/// use ferrogall::assay::{Reading, SpotTest};
/// use ferrogall::quantity::*;
/// # let test = SpotTest::iron_into_extract(
/// #     Reading::standard(milliliters(1.0), milliliters(0.05))?,
/// #     Reading::standard(moles_per_liter(0.1), moles_per_liter(0.002))?,
/// #     milliliters(0.35), milliliters(0.40),
/// # )?;
/// let galloyl = test.galloyl()?;
/// assert!(galloyl.low < galloyl.high);
/// let middle = galloyl.median().unwrap().in_millimoles_per_liter();
/// assert!(middle > 60.0 && middle < 80.0);
/// assert!(galloyl.u_ln() > 0.2); // how much iron a galloyl takes is the weak part
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket<Q> {
    /// Low end; 0 where not even the first addition did anything.
    pub low: Q,
    /// High end.
    pub high: Q,
    /// Standard uncertainty, in logarithms, of what moves both ends alike:
    /// volumes, the iron solution, iron per galloyl.
    pub scale_u_ln: f64,
    /// Standard uncertainty, in logarithms, of judging either end by eye.
    pub judging_u_ln: f64,
}

impl<Q: Figure> Bracket<Q> {
    /// The geometric middle; `None` when the low end is 0.
    pub fn median(&self) -> Option<Q> {
        let product = self.low.si() * self.high.si();
        (product > 0.0).then(|| Q::from_si(libm::sqrt(product)))
    }

    /// Standard uncertainty of the middle in logarithms: even between the
    /// ends, joined with judging and scale. Infinite when the low end is 0.
    pub fn u_ln(&self) -> f64 {
        if self.low.si() <= 0.0 {
            return f64::INFINITY;
        }
        let half = 0.5 * libm::log(self.high.si() / self.low.si());
        libm::sqrt(half * half / 3.0 + self.both_u_ln() * self.both_u_ln())
    }

    /// Judging and scale together, in logarithms.
    pub fn both_u_ln(&self) -> f64 {
        libm::hypot(self.scale_u_ln, self.judging_u_ln)
    }

    /// What it says of the property, for
    /// [`Belief::updated`](crate::uncertainty::Belief::updated), in the SI unit.
    ///
    /// # Errors
    /// [`OutOfRange`] for ends that are not in order.
    pub fn evidence(&self) -> Result<Evidence, OutOfRange> {
        let high = self.high.si();
        Evidence::between(self.low.si().max(high / FAR), high, self.judging_u_ln)?
            .times(1.0, self.scale_u_ln)
    }

    /// The method behind it.
    pub fn method(&self) -> &'static super::Method {
        MethodId::SpotTest.method()
    }

    /// So much of it, the factor being uncertain in its logarithm.
    fn times<R: Figure>(&self, factor: f64, u_ln: f64) -> Bracket<R> {
        Bracket {
            low: R::from_si(self.low.si() * factor),
            high: R::from_si(self.high.si() * factor),
            scale_u_ln: libm::hypot(self.scale_u_ln, u_ln),
            judging_u_ln: self.judging_u_ln,
        }
    }
}

impl Bracket<MolarConcentration> {
    /// Galloyl of the plant (per mass of dry plant; as it is where the moisture
    /// is 0): this liquor has so much volume, came from so much plant of this
    /// moisture, and holds this share of the plant's galloyl.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] when one is not above 0, the moisture 0 to
    /// 0.99 and the yield up to 1 excepted.
    pub fn plant(
        &self,
        liquor: &Reading<Volume>,
        plant: &Reading<Mass>,
        moisture: &Reading<f64>,
        extracted: &Reading<f64>,
    ) -> Result<Bracket<Molality>, AssayError> {
        liquor.within("volume of the liquor", 1e-9, 1e3, "m3")?;
        plant.within("mass of the plant", 1e-9, 1e6, "kg")?;
        moisture.within("moisture", 0.0, 0.99, "kg/kg")?;
        extracted.within("yield", 1e-6, 1.0, "")?;
        let dry = 1.0 - moisture.value();
        let factor = liquor.value().value / (plant.value().value * dry * extracted.value());
        let parts = [
            liquor.u().value / liquor.value().value,
            plant.u().value / plant.value().value,
            moisture.u() / dry,
            extracted.u() / extracted.value(),
        ];
        let u_ln = libm::sqrt(parts.iter().map(|u| u * u).sum());
        Ok(self.times(
            factor,
            within("uncertainty of the logarithm", u_ln, 0.0, 10.0, "")?,
        ))
    }
}

impl Bracket<Molality> {
    /// Tannin (kg/kg) that stands for these galloyl units, each kilogram of it
    /// holding so many (0.1 to 20 mol/kg). Free gallic acid counts as tannin.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn tannin(
        &self,
        galloyl_per_tannin: &Reading<Molality>,
    ) -> Result<Bracket<f64>, AssayError> {
        galloyl_per_tannin.within("galloyl per tannin", 0.1, 20.0, "mol/kg")?;
        let per = galloyl_per_tannin.value().value;
        Ok(self.times(1.0 / per, galloyl_per_tannin.u().value / per))
    }
}

/// Additions of iron to an extract, or of extract to iron, until one no longer
/// darkens.
///
/// Iron and galloyl are then even, between the last addition that darkened and
/// the first that did not. How much iron a galloyl takes at that point is
/// uncertain: 0.2 (the 2:1 complex of a tannic acid of ten galloyl at pH 3 to
/// 7) to 1 (1:1), 0.54 in the pigment Viedt isolated in 1875; in strong acid
/// it is less still, so put no acid in. Iron(II) darkens only as it oxidises:
/// use an iron(III) salt, or wait. A test on an extract of known content gives
/// a span of your own ([`SpotTest::iron_per_galloyl`]).
///
/// ```
/// use ferrogall::assay::{Reading, SpotTest};
/// use ferrogall::quantity::*;
/// // 1 mL of extract; 0.1 mol/L iron(III) by 0.05 mL: the 7th darkened, the 8th did not.
/// let test = SpotTest::iron_into_extract(
///     Reading::standard(milliliters(1.0), milliliters(0.05))?,
///     Reading::standard(moles_per_liter(0.1), moles_per_liter(0.002))?,
///     milliliters(0.35),
///     milliliters(0.40),
/// )?;
/// let span = test.galloyl()?;
/// assert!((span.low.in_millimoles_per_liter() - 35.0 / 0.54).abs() < 1e-9);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct SpotTest {
    extract: Ends,
    iron_volume: Ends,
    iron: Reading<MolarConcentration>,
    given: Reading<Volume>,
    judging: f64,
    iron_per_galloyl: Range,
}

/// At the last addition that darkened, and at the first that did not, m³.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Ends {
    last: f64,
    first: f64,
}

/// Largest volume on a test, m³.
const MOST: f64 = 1e-2;

impl SpotTest {
    /// Iron solution added to so much extract: the sum of additions at the
    /// last one that darkened (0 when none did) and at the first that did not.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] for volumes outside 0 to 10 mL, or in the
    /// wrong order.
    pub fn iron_into_extract(
        extract: Reading<Volume>,
        iron: Reading<MolarConcentration>,
        last_darkened: Volume,
        first_not: Volume,
    ) -> Result<SpotTest, AssayError> {
        let ends = additions(last_darkened, first_not, 0.0)?;
        let v = extract.value().value;
        Self::made(Ends { last: v, first: v }, ends, iron, extract)
    }

    /// Extract added to so much iron solution. At least one addition must have
    /// darkened.
    ///
    /// # Errors
    /// As [`SpotTest::iron_into_extract`].
    pub fn extract_into_iron(
        iron_volume: Reading<Volume>,
        iron: Reading<MolarConcentration>,
        last_darkened: Volume,
        first_not: Volume,
    ) -> Result<SpotTest, AssayError> {
        let ends = additions(last_darkened, first_not, 1e-12)?;
        let v = iron_volume.value().value;
        Self::made(ends, Ends { last: v, first: v }, iron, iron_volume)
    }

    fn made(
        extract: Ends,
        iron_volume: Ends,
        iron: Reading<MolarConcentration>,
        given: Reading<Volume>,
    ) -> Result<SpotTest, AssayError> {
        given.within("volume given", 1e-12, MOST, "m3")?;
        iron.within("iron solution", 1e-6, 1e4, "mol/m3")?;
        Ok(SpotTest {
            extract,
            iron_volume,
            iron,
            given,
            judging: JUDGING.value,
            iron_per_galloyl: IRON_PER_GALLOYL,
        })
    }

    /// How well the eye judges an end, in logarithms (0 to 2); 0.15 else.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn judging(mut self, u_ln: f64) -> Result<SpotTest, OutOfRange> {
        self.judging = within("judging uncertainty", u_ln, 0.0, 2.0, "ln")?;
        Ok(self)
    }

    /// Another span of iron per galloyl at the end point (0.01 to 10), found
    /// on an extract of known content for instance.
    ///
    /// # Errors
    /// [`OutOfRange`], also when the span is out of order.
    pub fn iron_per_galloyl(mut self, span: Range) -> Result<SpotTest, OutOfRange> {
        within(
            "iron per galloyl, low",
            span.min,
            0.01,
            span.typical.min(10.0),
            "mol/mol",
        )?;
        within(
            "iron per galloyl, high",
            span.max,
            span.typical.max(0.01),
            10.0,
            "mol/mol",
        )?;
        self.iron_per_galloyl = span;
        Ok(self)
    }

    /// Galloyl units (free gallic acid included) per volume of the extract.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`].
    pub fn galloyl(&self) -> Result<Bracket<MolarConcentration>, AssayError> {
        let per = self.iron_per_galloyl;
        let c = self.iron.value().value;
        let at = |iron: f64, extract: f64| c * iron / extract / per.typical;
        let a = at(self.iron_volume.last, self.extract.last);
        let b = at(self.iron_volume.first, self.extract.first);
        let span = libm::log(per.max / per.min) / 4.0;
        let relative = |u: f64, v: f64| if v > 0.0 { u / v } else { 0.0 };
        let iron = relative(self.iron.u().value, c);
        let given = relative(self.given.u().value, self.given.value().value);
        let end = |x: f64| -> Result<MolarConcentration, AssayError> {
            Ok(MolarConcentration::from_si(within(
                "galloyl", x, 0.0, 1e6, "mol/m3",
            )?))
        };
        Ok(Bracket {
            low: end(a.min(b))?,
            high: end(a.max(b))?,
            scale_u_ln: libm::sqrt(span * span + iron * iron + given * given),
            judging_u_ln: self.judging,
        })
    }

    /// Iron solution that just suffices for so much extract of this content,
    /// by the typical iron per galloyl.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn expected(
        galloyl: MolarConcentration,
        extract: Volume,
        iron: MolarConcentration,
    ) -> Result<Volume, OutOfRange> {
        let g = within("galloyl", galloyl.value, 0.0, 1e6, "mol/m3")?;
        let v = within("extract", extract.value, 0.0, MOST, "m3")?;
        let c = within("iron solution", iron.value, 1e-6, 1e4, "mol/m3")?;
        Ok(Volume::from_si(g * v * END_POINT.value / c))
    }
}

fn additions(last: Volume, first: Volume, least: f64) -> Result<Ends, OutOfRange> {
    let last = within("last addition that darkened", last.value, least, MOST, "m3")?;
    let first = within(
        "first addition that did not",
        first.value,
        last.max(1e-12),
        MOST,
        "m3",
    )?;
    Ok(Ends { last, first })
}
