//! What a careful colleague would say of a way of extracting.

use super::liquors::{Liquor, Strained};
use super::model::Course;
use super::parameter::{GALLIC_ACID_CEILING, TOO_HOT};
use super::{Parameter, Process, Straining, draws};
use crate::quantity::{MassConcentration, ReadTemperature, Share, Temperature, celsius};
use crate::source::{Source, Status};

/// Below this share of equilibrium a longer soak is worth the wait.
const HARDLY_BEGUN: f64 = 0.8;

/// A caution about an extraction.
///
/// ```
/// use ferrogall::extraction::Caution;
/// use ferrogall::quantity::{ReadTemperature, celsius};
/// let hot = Caution::Hot { wash: 0, temperature: celsius(100.0) };
/// assert!(hot.to_string().contains("100 °C"));
/// assert!(hot.source().citation.contains("Arina"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Caution {
    /// The marc drinks all the water: nothing drains.
    Paste {
        /// Number of the wash, the first is 0.
        wash: usize,
        /// Liquid in it, grams per gram of dry plant.
        liquid: f64,
    },
    /// The soak ends long before equilibrium.
    Short {
        /// Number of the wash, the first is 0.
        wash: usize,
        /// Share of equilibrium that is reached, typically.
        reached: Share,
    },
    /// So hot that more sugar and less tannin comes out; the model has no
    /// figure for it.
    Hot {
        /// Number of the wash, the first is 0.
        wash: usize,
        /// Its highest temperature.
        temperature: Temperature,
    },
    /// More gallic acid than cold water dissolves: crystals will settle.
    GallicAcidSettles {
        /// Free gallic acid.
        concentration: MassConcentration,
    },
    /// Moulds eat the gallic acid they set free.
    MouldEats,
    /// Moulds give off spores.
    MouldSpores,
    /// Liquid and steam that scald.
    Scalds {
        /// The highest temperature.
        temperature: Temperature,
    },
}

/// Hotter than this a splash scalds at once; from memory (tap water is kept
/// below it).
const SCALDS_C: f64 = 55.0;

impl Caution {
    /// Where the limit comes from.
    pub const fn source(&self) -> Source {
        match self {
            Caution::Paste { .. } => Parameter::HOLD_UP_DRAINED.source,
            Caution::Short { .. } => Source::new("judgement", Status::ExpertGuess),
            Caution::Hot { .. } => TOO_HOT.source,
            Caution::GallicAcidSettles { .. } => GALLIC_ACID_CEILING.source,
            Caution::MouldSpores | Caution::Scalds { .. } => {
                Source::new("usual caution", Status::CommonPractice)
            }
            Caution::MouldEats => Source::new(
                "an Aspergillus niger culture had most gallic acid on day 3, less after (AUMC 4301, abstract)",
                Status::Secondary,
            ),
        }
    }
}

impl core::fmt::Display for Caution {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Caution::Paste { wash, liquid } => write!(
                f,
                "wash {}: {liquid:.1} g of liquid per gram of dry plant make a paste, nothing drains: more water, or press",
                wash + 1
            ),
            Caution::Short { wash, reached } => write!(
                f,
                "wash {}: grains give {:.0} % of what they would in time: longer, warmer or finer",
                wash + 1,
                reached.as_percent()
            ),
            Caution::Hot { wash, temperature } => write!(
                f,
                "wash {}: {:.0} °C draws more sugar and less tannin than {:.0} °C; the yield given here may be too high",
                wash + 1,
                temperature.in_celsius(),
                TOO_HOT.value
            ),
            Caution::GallicAcidSettles { concentration } => write!(
                f,
                "{:.0} g/L of gallic acid; cold water dissolves about {:.0} g/L: crystals will settle",
                concentration.value,
                GALLIC_ACID_CEILING.value
            ),
            Caution::MouldSpores => f.write_str(
                "mould gives off spores that must not be breathed: lid on, outdoors or in moving air, a mask, and away from food and children; follow local rules",
            ),
            Caution::Scalds { temperature } => write!(
                f,
                "liquor of {:.0} °C and its steam scald: a firm pot, gloves, children at a distance",
                temperature.in_celsius()
            ),
            Caution::MouldEats => f.write_str(
                "moulds eat the gallic acid they set free: what they eat is not taken off; boil in time",
            ),
        }
    }
}

pub(super) fn of(
    process: &Process,
    typical: &Course,
    washes: &[Strained],
    last: &Liquor,
) -> Vec<Caution> {
    let mut found = Vec::new();
    for (wash, (stage, strained)) in typical.stages.iter().zip(washes).enumerate() {
        if stage.liquid <= 0.0 {
            found.push(Caution::Paste {
                wash,
                liquid: stage.held,
            });
        }
        let reached = strained.reached.typical;
        if reached.value() < HARDLY_BEGUN {
            found.push(Caution::Short { wash, reached });
        }
    }
    for (wash, w) in process.washes().iter().enumerate() {
        let hottest = w
            .soaks()
            .iter()
            .map(|s| s.temperature())
            .fold(Temperature::default(), |a, b| if b > a { b } else { a });
        if hottest.in_celsius() > TOO_HOT.value {
            found.push(Caution::Hot {
                wash,
                temperature: hottest,
            });
        }
    }
    let washes_c = process.washes().iter().flat_map(|w| w.soaks());
    let mut hottest = washes_c
        .map(|s| s.temperature().in_celsius())
        .fold(0.0, f64::max);
    if process.boil_down().is_some() {
        hottest = 100.0;
    }
    if hottest > SCALDS_C {
        found.push(Caution::Scalds {
            temperature: celsius(hottest),
        });
    }
    if process.fermentation().is_some() {
        found.extend([Caution::MouldEats, Caution::MouldSpores]);
    }
    // The strongest of them: a first liquor may be stronger than all together.
    let strongest = washes
        .iter()
        .map(|w| &w.liquor)
        .chain([last])
        .filter(|l| l.volume.typical.value > 0.0)
        .map(|l| l.gallic_acid.typical.value / l.volume.typical.value)
        .fold(0.0, f64::max);
    gallic_acid(strongest, &mut found);
    found
}

/// Of kg/m³.
pub(super) fn gallic_acid(kg_per_m3: f64, found: &mut Vec<Caution>) {
    if kg_per_m3 > GALLIC_ACID_CEILING.value {
        found.push(Caution::GallicAcidSettles {
            concentration: MassConcentration::new::<
                uom::si::mass_concentration::kilogram_per_cubic_meter,
            >(kg_per_m3),
        });
    }
}

pub(super) fn assumed(process: &Process) -> Vec<Parameter> {
    let mut used = vec![
        draws::diffusivity_of(process.plant()),
        Parameter::DIFFUSION_ACTIVATION,
        Parameter::ACCESSIBLE,
        Parameter::PARTITION,
    ];
    let strained = |how| process.washes().iter().any(|w| w.straining() == how);
    if strained(Straining::Drained) {
        used.push(Parameter::HOLD_UP_DRAINED);
    }
    if strained(Straining::Pressed) {
        used.push(Parameter::HOLD_UP_PRESSED);
    }
    if process.fermentation().is_some() {
        used.extend([
            Parameter::FERMENTED_AT_MOST,
            Parameter::FERMENTATION_LAG,
            Parameter::FERMENTATION_TIME,
        ]);
    }
    used
}
