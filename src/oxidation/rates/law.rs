//! Published laws of iron(II) and oxygen, as choices.

use super::coefficients as k;
use super::constant::SecondOrder;
use super::milieu::Milieu;
use super::parameter::Parameter;
use crate::oxidation::OxidationError;
use crate::oxidation::oxygen::{Air, henry_constant};
use crate::quantity::{OutOfRange, ReadMolarConcentration, ReadTemperature, celsius, within};
use crate::source::{Constant, Source};

const MINUTE: f64 = 60.0;

/// Where a law holds, ends included.
///
/// ```
/// use ferrogall::oxidation::IronLaw;
/// let valid = IronLaw::AcidPlateau.validity();
/// assert_eq!(valid.ph.1, 3.5);
/// assert!(valid.celsius.0 <= 20.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Validity {
    /// pH.
    pub ph: (f64, f64),
    /// Temperature, °C.
    pub celsius: (f64, f64),
    /// Ionic strength, mol/kg.
    pub ionic_strength_mol_per_kg: (f64, f64),
}

impl Validity {
    const fn new(ph: (f64, f64), celsius: (f64, f64), most_salt: f64) -> Self {
        Validity {
            ph,
            celsius,
            ionic_strength_mol_per_kg: (0.0, most_salt),
        }
    }

    fn check(&self, milieu: &Milieu) -> Result<(), OutOfRange> {
        let (low, high) = self.ph;
        within("pH", milieu.ph, low, high, "")?;
        let (low, high) = self.celsius;
        // the last digit of a temperature depends on how it was computed
        let t = milieu.temperature().in_celsius();
        within("temperature", t, low - 1e-9, high + 1e-9, "degC")?;
        let (low, high) = self.ionic_strength_mol_per_kg;
        within("ionic strength", milieu.ionic_strength, low, high, "mol/kg")?;
        Ok(())
    }
}

/// A published rate law of iron(II) with oxygen, no ligand helping.
///
/// Each gives the apparent constant k of −d\[Fe(II)\]/dt = k \[Fe(II)\]\[O₂\],
/// \[Fe(II)\] being all iron(II) and \[O₂\] the dissolved oxygen. Laws written
/// with the pressure of oxygen are divided by the Henry constant of the
/// [`Milieu`]. The factor 4 of the overall reaction is within.
///
/// They disagree: eightfold in acid, fivefold at pH 7. Ask
/// [`InorganicRate`](super::InorganicRate) for the span rather than one of
/// them for the truth.
///
/// **Temperature.** Laws in \[OH⁻\]² follow the ion product of water, which is
/// the greater part (Stumm and Lee: tenfold in 15 K at the same pH). No
/// temperature dependence of the plateau is published; it is given
/// [`Parameter::PLATEAU_ACTIVATION`], and the factor of uncertainty grows
/// away from 25 °C by its span.
///
/// **Bound iron.** The laws for all iron(II) do not see what it is bound to.
/// The laws by species take sulfate pairs and complexes for Fe²⁺, for want of
/// constants of their own. What gallate does is another rate
/// ([`Assisted`](super::Assisted)); it comes on top.
///
/// **Strong solutions.** In concentrated acid sulfate the rate goes with the
/// square of iron(II) (Iwai, Majima and Awakura, 343 to 363 K). No constant at
/// room temperature is published, and an ink of 0.05 to 0.2 mol/L lies between
/// the two: one more reason for the factor of ten.
///
/// ```
/// use ferrogall::oxidation::{Air, IronLaw, Milieu};
/// use ferrogall::quantity::{celsius, ReadTime};
/// let neutral = Milieu::new(celsius(25.0), 7.0)?;
/// for law in IronLaw::ALL.into_iter().filter(|l| l.is_within(&neutral)) {
///     let half_life = law.constant(&neutral)?.half_life(Air::standard().dissolved());
///     let minutes = half_life.unwrap().in_days() * 1440.0;
///     assert!(minutes > 3.0 && minutes < 25.0, "{}", law.name());
/// }
/// assert!(IronLaw::StummLee.constant(&Milieu::new(celsius(25.0), 2.5)?).is_err());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum IronLaw {
    /// k0 Fe²⁺ + k1 FeOH⁺ + k2 Fe(OH)₂, each with O₂: from acid to pH 9, the
    /// law to take when one is to be taken. k0 as in
    /// [`IronLaw::PlateauAndHydroxide`]; k1, k2 of Wehrli and King, from memory.
    ParallelPathways,
    /// 8.0e13 L² mol⁻² atm⁻¹ min⁻¹ \[OH⁻\]² pO₂: Stumm and Lee 1961, near
    /// neutral, in bicarbonate water.
    StummLee,
    /// 1.0e-7 atm⁻¹ min⁻¹ pO₂, whatever the pH: Singer and Stumm 1970, in
    /// acid. The slowest of the acid constants.
    AcidPlateau,
    /// 2.91e-9 s⁻¹ + 1.33e12 a(OH⁻)² pO₂: a worked example of the U.S.
    /// Geological Survey. As printed its first term is not multiplied by the
    /// pressure of oxygen and would go on without any; here it is, over the
    /// 10^−0.67 atm of the example.
    PlateauAndHydroxide,
    /// log k = 21.56 − 1545/T − 3.29 √I + 1.52 I with \[OH⁻\]² \[O₂\]: Millero,
    /// Sotolongo and Izaguirre 1987, from lakes to the sea. (Per kg of water
    /// in the original; a litre is taken for a kilogram.)
    Millero,
    /// 6e-5 Fe²⁺ + 1.7 FeOH⁺ + 4.3e5 Fe(OH)₂ min⁻¹ in air-saturated water:
    /// Morgan and Lahav 2007, as quoted at second hand. The first term is
    /// **rejected**: it would halve iron(II) in a week at pH 2, hundreds of
    /// times faster than any other source, and looks like a slip between
    /// minutes and days. Valid only where the other terms carry it, above
    /// pH 5.5.
    MorganLahav,
}

use IronLaw::{AcidPlateau, Millero, MorganLahav, ParallelPathways, PlateauAndHydroxide, StummLee};

/// The two parts of a rate, each with the factor it may be wrong by.
struct Parts {
    acid: (f64, f64),
    hydroxide: (f64, f64),
}

impl IronLaw {
    /// All of them.
    pub const ALL: [IronLaw; 6] = [
        ParallelPathways,
        StummLee,
        AcidPlateau,
        PlateauAndHydroxide,
        Millero,
        MorganLahav,
    ];

    /// Identifier.
    pub const fn id(self) -> &'static str {
        match self {
            ParallelPathways => "parallel_pathways",
            StummLee => "stumm_lee_1961",
            AcidPlateau => "singer_stumm_1970_acid",
            PlateauAndHydroxide => "plateau_and_hydroxide",
            Millero => "millero_1987",
            MorganLahav => "morgan_lahav_2007",
        }
    }

    /// Name.
    pub const fn name(self) -> &'static str {
        match self {
            ParallelPathways => "parallel pathways by species",
            StummLee => "Stumm and Lee, [OH-]2",
            AcidPlateau => "Singer and Stumm, acid plateau",
            PlateauAndHydroxide => "plateau and a(OH-)2, worked example",
            Millero => "Millero, Sotolongo and Izaguirre, T and I",
            MorganLahav => "Morgan and Lahav as quoted, by species",
        }
    }

    const fn leading(self) -> &'static Constant {
        match self {
            ParallelPathways => &k::PATHWAY_2,
            StummLee => &k::STUMM_LEE,
            AcidPlateau => &k::PLATEAU_SINGER_STUMM,
            PlateauAndHydroxide => &k::EXAMPLE_9_HYDROXIDE,
            Millero => &k::MILLERO_0,
            MorganLahav => &k::MORGAN_LAHAV_2,
        }
    }

    /// Where its least certain coefficient comes from; each coefficient by
    /// itself is among [`source::constants`](crate::source::constants).
    pub const fn source(self) -> Source {
        self.leading().source
    }

    /// Where it holds. The range of pH is that of the source where one is
    /// known; 40 °C is as far as the Henry constant goes; to how much salt a
    /// law without a term for it may be used is judgement.
    pub const fn validity(self) -> Validity {
        match self {
            ParallelPathways => Validity::new((-1.0, 9.0), (0.0, 40.0), 2.0),
            StummLee => Validity::new((5.0, 8.0), (5.0, 35.0), 0.2),
            AcidPlateau => Validity::new((-1.0, 3.5), (0.0, 40.0), 2.0),
            PlateauAndHydroxide => Validity::new((-1.0, 8.0), (5.0, 35.0), 0.5),
            Millero => Validity::new((5.0, 9.0), (5.0, 40.0), 0.7),
            MorganLahav => Validity::new((5.5, 8.0), (15.0, 35.0), 0.2),
        }
    }

    /// Whether the law holds there.
    pub fn is_within(self, milieu: &Milieu) -> bool {
        self.validity().check(milieu).is_ok()
    }

    /// The apparent constant with dissolved oxygen.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] where the law does not hold.
    pub fn constant(self, milieu: &Milieu) -> Result<SecondOrder, OxidationError> {
        self.validity().check(milieu)?;
        self.formula(milieu)
    }

    /// The same with the range of the law set aside: for comparing formulas,
    /// not for predicting.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] when it comes out faster than 1e12
    /// L/(mol s).
    ///
    /// ```
    /// use ferrogall::oxidation::{IronLaw, Milieu};
    /// use ferrogall::quantity::celsius;
    /// // the rejected acid term against the other acid data
    /// let acid = Milieu::new(celsius(25.0), 2.0)?;
    /// assert!(IronLaw::MorganLahav.constant(&acid).is_err());
    /// let quoted = IronLaw::MorganLahav.formula(&acid)?.in_l_per_mol_s();
    /// let usual = IronLaw::ParallelPathways.constant(&acid)?.in_l_per_mol_s();
    /// assert!(quoted > 100.0 * usual);
    /// # Ok::<(), ferrogall::oxidation::OxidationError>(())
    /// ```
    pub fn formula(self, milieu: &Milieu) -> Result<SecondOrder, OxidationError> {
        let parts = self.parts(milieu);
        SecondOrder::l_per_mol_s(parts.acid.0 + parts.hydroxide.0)
    }

    /// How wrong the constant may be, either way: 10 for the plateau (Singer
    /// and Stumm's own, 2), 5 for constants of species, 2 for laws in
    /// \[OH⁻\]² within their range; more away from 25 °C where a temperature
    /// dependence was lent. Between the parts of a law the greater carries it.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] where the law does not hold.
    pub fn uncertainty_factor(self, milieu: &Milieu) -> Result<f64, OxidationError> {
        self.validity().check(milieu)?;
        let Parts { acid, hydroxide } = self.parts(milieu);
        Ok((acid.0 * acid.1 + hydroxide.0 * hydroxide.1) / (acid.0 + hydroxide.0))
    }

    fn parts(self, m: &Milieu) -> Parts {
        let hydroxide = m.hydroxide();
        let per_atm = m.henry.in_moles_per_liter_atm();
        let squared = |k: f64| k * hydroxide * hydroxide;
        let sum = |k: [&Constant; 3]| {
            let s = m.shares;
            let bound = s.free + s.complexed;
            let (plateau, plateau_factor) = warmed_plateau(m);
            let (species, species_factor) = warmed_species(m);
            Parts {
                acid: (
                    k[0].value * bound * plateau,
                    k::ACID_FACTOR.value * plateau_factor,
                ),
                hydroxide: (
                    (k[1].value * s.hydroxo + k[2].value * s.dihydroxo) * species,
                    k::SPECIES_FACTOR.value * species_factor,
                ),
            }
        };
        let plateau_per_atm = |per_second: f64, factor: f64| {
            let (warmed, widened) = warmed_plateau(m);
            (
                per_second / (per_atm * henry_over_25(m)) * warmed,
                factor * widened,
            )
        };
        let none = (0.0, 1.0);
        let sure = k::HYDROXIDE_FACTOR.value;
        match self {
            ParallelPathways => sum([&k::PATHWAY_0, &k::PATHWAY_1, &k::PATHWAY_2]),
            StummLee => Parts {
                acid: none,
                hydroxide: (squared(k::STUMM_LEE.value) / MINUTE / per_atm, sure),
            },
            AcidPlateau => Parts {
                acid: plateau_per_atm(
                    k::PLATEAU_SINGER_STUMM.value / MINUTE,
                    k::SINGER_STUMM_FACTOR.value,
                ),
                hydroxide: none,
            },
            PlateauAndHydroxide => {
                let oxygen = libm::exp10(k::EXAMPLE_9_OXYGEN.value);
                Parts {
                    acid: plateau_per_atm(k::EXAMPLE_9_ACID.value / oxygen, k::ACID_FACTOR.value),
                    hydroxide: (squared(k::EXAMPLE_9_HYDROXIDE.value) / per_atm, sure),
                }
            }
            Millero => {
                let log = k::MILLERO_0.value
                    + k::MILLERO_1.value / m.kelvin
                    + k::MILLERO_2.value * libm::sqrt(m.ionic_strength)
                    + k::MILLERO_3.value * m.ionic_strength;
                Parts {
                    acid: none,
                    hydroxide: (squared(libm::exp10(log)) / MINUTE, sure),
                }
            }
            MorganLahav => {
                let in_air = Air::standard().dissolved().in_moles_per_liter() * MINUTE;
                let Parts { acid, hydroxide } =
                    sum([&k::MORGAN_LAHAV_0, &k::MORGAN_LAHAV_1, &k::MORGAN_LAHAV_2]);
                Parts {
                    acid: (acid.0 / in_air, acid.1),
                    hydroxide: (hydroxide.0 / in_air, hydroxide.1),
                }
            }
        }
    }
}

/// How much faster the plateau is than at 25 °C, and the factor by which that
/// may be wrong.
fn warmed_plateau(m: &Milieu) -> (f64, f64) {
    let energy = Parameter::PLATEAU_ACTIVATION.range;
    let half_span = (energy.max - energy.min) / 2.0;
    warmed(m, energy.typical, half_span)
}

/// The same for the hydroxo species.
fn warmed_species(m: &Milieu) -> (f64, f64) {
    let energy = k::SPECIES_ACTIVATION;
    warmed(m, energy.value, 2.0 * energy.u)
}

fn warmed(m: &Milieu, kj_per_mol: f64, half_span: f64) -> (f64, f64) {
    let x = m.per_kj();
    (
        libm::exp(kj_per_mol * x),
        libm::exp(half_span * libm::fabs(x)),
    )
}

/// Fresh water at 25 °C over fresh water at this temperature: the plateau was
/// measured at 25 °C, and its lent temperature dependence is one with
/// dissolved oxygen.
fn henry_over_25(m: &Milieu) -> f64 {
    let fresh = |t| henry_constant(t).map_or(1.0, |h| h.in_moles_per_liter_atm());
    fresh(celsius(25.0)) / fresh(m.temperature())
}
