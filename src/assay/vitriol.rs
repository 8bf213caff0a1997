//! Green vitriol, weathered or not, by what it loses on drying.

use super::constants::{NO_HOTTER, TO_MONOHYDRATE, TO_TETRAHYDRATE};
use super::delivered::MOST_MASS;
use super::propagate::{Input, propagate};
use super::{AssayError, Assayed, MethodId, NoteKind, Reading};
use crate::bench::HydrateMix;
use crate::chem::constants::{IRON, IRON_II_SULFATE, WATER};
use crate::quantity::{Mass, OutOfRange, ReadTemperature, Temperature, within};

/// Kg/mol of FeSO4 with so many waters.
fn mass_of(waters: f64) -> f64 {
    IRON_II_SULFATE + waters * WATER
}

/// What the salt is dried to.
///
/// ```
/// use ferrogall::assay::DriedTo;
/// use ferrogall::quantity::celsius;
/// assert_eq!(DriedTo::at(celsius(60.0))?, DriedTo::Tetrahydrate);
/// assert_eq!(DriedTo::at(celsius(105.0))?, DriedTo::Monohydrate);
/// assert!(DriedTo::at(celsius(40.0)).is_err()); // nowhere in particular
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum DriedTo {
    /// FeSO4·4H2O.
    Tetrahydrate,
    /// FeSO4·H2O.
    Monohydrate,
    /// FeSO4: strong heat, which can also decompose it into sulfuric fumes: for
    /// a furnace with a hood and those trained to it, never for a kitchen oven.
    Anhydrous,
}

impl DriedTo {
    /// What constant mass in air of this temperature leaves: the 4-hydrate
    /// above 56.6 °C, the 1-hydrate from 65 to 200 °C. The 7-hydrate may linger
    /// near the first of them.
    ///
    /// # Errors
    /// [`OutOfRange`] for a temperature below (no hydrate in particular) or
    /// above (the salt may decompose).
    pub fn at(oven: Temperature) -> Result<DriedTo, OutOfRange> {
        let t = within(
            "temperature of the oven",
            oven.in_celsius(),
            TO_TETRAHYDRATE.value,
            NO_HOTTER.value,
            "°C",
        )?;
        Ok(if t < TO_MONOHYDRATE.value {
            DriedTo::Tetrahydrate
        } else {
            DriedTo::Monohydrate
        })
    }

    /// Crystal waters left.
    pub const fn waters(self) -> f64 {
        match self {
            DriedTo::Tetrahydrate => 4.0,
            DriedTo::Monohydrate => 1.0,
            DriedTo::Anhydrous => 0.0,
        }
    }
}

/// Green vitriol weighed before and after drying to a known hydrate.
///
/// ```
/// use ferrogall::assay::{DriedTo, Reading, VitriolDrying};
/// use ferrogall::quantity::*;
/// let at = |g: f64| Reading::balance(grams(g), grams(0.01));
/// // 5.00 g with a white bloom leave 3.40 g at 105 °C.
/// let dried = VitriolDrying::new(at(30.00)?, at(35.00)?, at(33.40)?, DriedTo::Monohydrate);
/// let waters = dried.waters()?;
/// assert!((waters.value() - 5.44).abs() < 0.01);
/// let lot = dried.weathered()?;
/// assert!((lot.mix.heptahydrate() - 0.533).abs() < 0.001);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct VitriolDrying {
    pan: Reading<Mass>,
    with_salt: Reading<Mass>,
    with_dried: Reading<Mass>,
    to: DriedTo,
}

/// What a salt must have been.
///
/// ```
/// # use ferrogall::assay::{DriedTo, Reading, VitriolDrying};
/// # use ferrogall::quantity::*;
/// let at = |g: f64| Reading::balance(grams(g), grams(0.01));
/// // Damp crystals: 10.00 g leave 5.80 g of 1-hydrate.
/// let damp = VitriolDrying::new(at(0.0)?, at(10.0)?, at(5.8)?, DriedTo::Monohydrate).weathered()?;
/// assert_eq!(damp.mix.heptahydrate(), 1.0);
/// assert!((damp.moisture - 0.051).abs() < 0.001);
/// # Ok::<(), ferrogall::assay::AssayError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weathered {
    /// Its hydrates: the two on either side of the mean. Another mix of three
    /// would weigh and hold the same.
    pub mix: HydrateMix,
    /// Water beyond the 7-hydrate, kg per kg of the salt as it is.
    pub moisture: f64,
    /// Standard uncertainty of that moisture; 0 where there is none.
    pub moisture_u: f64,
}

impl VitriolDrying {
    /// The pan empty, with the salt, and with what is left at constant mass.
    pub fn new(
        pan: Reading<Mass>,
        with_salt: Reading<Mass>,
        with_dried: Reading<Mass>,
        to: DriedTo,
    ) -> VitriolDrying {
        VitriolDrying {
            pan,
            with_salt,
            with_dried,
            to,
        }
    }

    /// Mean number of waters for each iron; above 7 the crystals were damp.
    ///
    /// # Errors
    /// [`AssayError::OutOfRange`] when the salt gained mass or nothing is left.
    pub fn waters(&self) -> Result<Assayed<f64>, AssayError> {
        let to = mass_of(self.to.waters());
        let result = self.found(|salt, left| (salt / left * to - IRON_II_SULFATE) / WATER)?;
        if result.value() > 7.0 {
            Ok(result.note(
                NoteKind::Range,
                "damp",
                "More than 7 waters: the crystals were damp.",
            ))
        } else {
            Ok(result)
        }
    }

    /// Iron, kg per kg of the salt as it is, were it clean iron(II) sulfate.
    ///
    /// # Errors
    /// As [`VitriolDrying::waters`].
    pub fn iron_content(&self) -> Result<Assayed<f64>, AssayError> {
        let to = mass_of(self.to.waters());
        self.found(|salt, left| left / to * IRON / salt)
    }

    /// The hydrates that come to the same mean, for
    /// [`LotBuilder::hydrates`](crate::bench::LotBuilder::hydrates), and the
    /// damp beyond them.
    ///
    /// # Errors
    /// As [`VitriolDrying::waters`]; also for a mean below 1 water by more
    /// than 0.2: such a salt is no weathered vitriol.
    pub fn weathered(&self) -> Result<Weathered, AssayError> {
        let waters = self.waters()?;
        let x = within("waters for each iron", waters.value(), 0.8, 50.0, "")?.max(1.0);
        let (low, high) = if x >= 4.0 { (4.0, 7.0) } else { (1.0, 4.0) };
        let share = ((x - low) / (high - low)).min(1.0);
        let (a, b) = (share * mass_of(high), (1.0 - share) * mass_of(low));
        let (a, b) = (a / (a + b), b / (a + b));
        let mix = if x >= 4.0 {
            HydrateMix::new(a, b, 0.0, 0.0)?
        } else {
            HydrateMix::new(0.0, a, b, 0.0)?
        };
        let damp = x > 7.0;
        // The salt as it is weighs as if it had x waters.
        let moisture = if damp {
            1.0 - mass_of(7.0) / mass_of(x)
        } else {
            0.0
        };
        let slope = mass_of(7.0) * WATER / (mass_of(x) * mass_of(x));
        Ok(Weathered {
            mix,
            moisture,
            moisture_u: if damp { slope * waters.u() } else { 0.0 },
        })
    }

    /// Share of its mass that a mix of hydrates keeps when dried so far; the
    /// basic sulfate keeps all.
    pub fn expected(mix: &HydrateMix, to: DriedTo) -> f64 {
        [
            (mix.heptahydrate(), 7.0),
            (mix.tetrahydrate(), 4.0),
            (mix.monohydrate(), 1.0),
        ]
        .iter()
        .map(|(w, waters)| w * (mass_of(to.waters().min(*waters)) / mass_of(*waters)))
        .sum::<f64>()
            + mix.basic_sulfate()
    }

    fn found(&self, of: impl Fn(f64, f64) -> f64) -> Result<Assayed<f64>, AssayError> {
        self.pan.within("mass of the pan", 0.0, MOST_MASS, "kg")?;
        let empty = self.pan.value().value;
        let salt = self.with_salt.value().value - empty;
        let left = self.with_dried.value().value - empty;
        within("mass of the salt", salt, 1e-9, MOST_MASS, "kg")?;
        within("mass of what is left", left, 1e-9, salt, "kg")?;
        let inputs = [
            Input::reading("pan", &self.pan),
            Input::reading("pan with salt", &self.with_salt),
            Input::reading("pan with what is left", &self.with_dried),
        ];
        let result: Assayed<f64> = propagate(MethodId::VitriolDrying, &inputs, |x| {
            let &[empty, full, dried] = x else {
                return Ok(f64::NAN);
            };
            Ok(of(full - empty, dried - empty))
        })?;
        Ok(result.note(
            NoteKind::Assumed,
            "clean_vitriol",
            "Taken as clean iron(II) sulfate that lost only water and reached its hydrate; what turned brown in the oven took up oxygen.",
        ))
    }
}

/// Mean number of waters for each iron(II) of a mix of hydrates; `None` for a
/// mix of basic sulfate alone.
///
/// ```
/// use ferrogall::assay::mean_waters;
/// use ferrogall::bench::HydrateMix;
/// let white = HydrateMix::new(0.0, 0.0, 1.0, 0.0)?;
/// assert!((mean_waters(&white).unwrap() - 1.0).abs() < 1e-12);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
pub fn mean_waters(mix: &HydrateMix) -> Option<f64> {
    let parts = [
        (mix.heptahydrate() / mass_of(7.0), 7.0),
        (mix.tetrahydrate() / mass_of(4.0), 4.0),
        (mix.monohydrate() / mass_of(1.0), 1.0),
    ];
    let iron: f64 = parts.iter().map(|(n, _)| n).sum();
    let water: f64 = parts.iter().map(|(n, waters)| n * waters).sum();
    (iron > 0.0).then(|| water / iron)
}
