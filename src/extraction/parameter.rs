//! What is known of tannin leaving a plant, as spans.

use crate::chem::constants::GAS_CONSTANT;
use crate::source::{Constant, Range, Source, Status};
use crate::uncertainty::Distribution;

const KELVIN_25C: f64 = 298.15;

/// A figure of extraction that is known as a span only.
///
/// `range` encloses about 95 % of what is thought possible. Of galls, sumac,
/// tara and bark in water neither diffusivity nor partition is published: most
/// of it is carried over from tea, and says so.
///
/// ```
/// use ferrogall::extraction::Parameter;
/// use ferrogall::source::Status;
/// let d = Parameter::GALLOTANNIN_DIFFUSIVITY;
/// assert_eq!((d.range.min, d.range.max, d.unit), (5e-12, 1.5e-10, "m2/s"));
/// assert_eq!(d.source.status, Status::ExpertGuess);
/// assert!(Parameter::ALL.iter().all(|p| p.range.contains(p.range.typical)));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Parameter {
    /// Name under which it can be looked up.
    pub id: &'static str,
    /// The span, in `unit`.
    pub range: Range,
    /// Unit.
    pub unit: &'static str,
    /// Whether it is known by factors: drawn evenly in the logarithm.
    pub by_factors: bool,
    /// Where it comes from.
    pub source: Source,
}

macro_rules! parameters {
    ($($(#[$doc:meta])* $name:ident, $id:literal: $min:literal, $typical:literal, $max:literal,
       $unit:literal, $by_factors:literal, $citation:literal, $status:ident;)*) => {
        impl Parameter {
            $($(#[$doc])* pub const $name: Parameter = Parameter {
                id: $id,
                range: Range::new($min, $typical, $max),
                unit: $unit,
                by_factors: $by_factors,
                source: Source::new($citation, Status::$status),
            };)*

            /// All of them.
            pub const ALL: &'static [Parameter] = &[$(Parameter::$name),*];
        }

        pub(crate) const PARAMETER_CONSTANTS: &[Constant] =
            &[$(Parameter::$name.as_constant()),*];
    };
}

impl Parameter {
    const fn as_constant(&self) -> Constant {
        Constant::of_span(self.id, self.range, self.unit, self.source)
    }

    /// The span as a distribution to draw from.
    pub(super) fn distribution(&self) -> Option<Distribution> {
        distribution(self.range, self.by_factors)
    }
}

/// None only for a span out of order, which no caller hands in.
pub(super) fn distribution(range: Range, by_factors: bool) -> Option<Distribution> {
    if by_factors {
        Distribution::span_log(range).ok()
    } else {
        Distribution::span(range).ok()
    }
}

parameters! {
    /// Diffusivity of gallotannin in a swollen grain of gall at 25 °C; taken
    /// for every plant but tea.
    GALLOTANNIN_DIFFUSIVITY, "gallotannin_diffusivity_25c": 5e-12, 3e-11, 1.5e-10, "m2/s", true,
        "tea, 5.6e-11 at 25 degC, times sqrt(458/M) (Price & Spitzer 1994) with M 1000 to 1700 gives 2.9 to 3.8e-11; no figure for galls is published",
        ExpertGuess;
    /// The same of tea polyphenols in a tea leaf.
    TEA_DIFFUSIVITY, "tea_diffusivity_25c": 3e-11, 5.6e-11, 1e-10, "m2/s", true,
        "extrapolated from 2.23e-10 at 60 and 4.34e-10 at 80 degC: Farakte et al. 2016, Int J Food Eng 12(1) 1",
        Computed;
    /// Activation energy of the diffusivity.
    DIFFUSION_ACTIVATION, "extraction_diffusion_activation": 16.0, 33.0, 45.0, "kJ/mol", false,
        "32.6 from Farakte et al. 2016; 30 to 50 Price & Spitzer 1994; 40.3 Jaganyi & Price 1999; 16.2 Tran Chi Hai 2017; all tea",
        Published;
    /// Share of the cells that grinding to powder has broken: it dissolves at once.
    WASHED_POWDER, "extraction_washed_share_powder": 0.3, 0.5, 0.7, "1", false,
        "judgement; no measurement was found", ExpertGuess;
    /// The same of crushed grain.
    WASHED_CRUSHED, "extraction_washed_share_crushed": 0.05, 0.25, 0.45, "1", false,
        "judgement; no measurement was found", ExpertGuess;
    /// The same of whole galls.
    WASHED_WHOLE, "extraction_washed_share_whole": 0.0, 0.05, 0.25, "1", false,
        "judgement; no measurement was found", ExpertGuess;
    /// Diameter of a grain of powder.
    POWDER_SIZE, "extraction_powder_size": 0.1, 0.4, 0.8, "mm", true,
        "0.4 mm: 40 mesh of a trade flow chart for Chinese galls; the ends by judgement", CommonPractice;
    /// Diameter of a crumb from mortar or hammer.
    CRUSHED_SIZE, "extraction_crushed_size": 1.0, 3.0, 6.0, "mm", true,
        "judgement; recipes say crushed or broken and no more", ExpertGuess;
    /// Diameter of a whole gall.
    WHOLE_SIZE, "extraction_whole_size": 8.0, 15.0, 25.0, "mm", true,
        "common sizes of oak galls, from memory", FromMemory;
    /// Share of the tannin that water gets at, given time.
    ACCESSIBLE, "extraction_accessible_share": 0.75, 0.92, 1.0, "1", false,
        "0.855 to 0.983 of twelve teas in boiling water (lawdata.com.tw 216258, abstract)", Secondary;
    /// Liquid that would hold what the solid keeps bound, per dry plant matter.
    PARTITION, "extraction_partition": 0.0, 0.5, 2.0, "g/g", false,
        "judgement; it changes with temperature in grape seed (Bucic-Kojic et al. 2013)", ExpertGuess;
    /// Liquid that the marc keeps per dry plant matter put in, drained by gravity.
    HOLD_UP_DRAINED, "extraction_hold_up_drained": 1.5, 2.5, 4.0, "g/g", false,
        "ground coffee, 2.0 to 2.5 (baristahustle.com) and 2.0 to 3.2 (blackoutcoffee.com); none for galls was found",
        ExpertGuess;
    /// The same, pressed in a cloth.
    HOLD_UP_PRESSED, "extraction_hold_up_pressed": 0.8, 1.2, 2.0, "g/g", false,
        "estimate, from memory", FromMemory;
    /// Share of the galloyl units that mould sets free in the end.
    FERMENTED_AT_MOST, "fermentation_most": 0.2, 0.6, 0.95, "1", false,
        "judgement: several weeks of natural mould (Encyclopaedia Britannica), 10 days warm (Eusman 1998, a claim), 0.46 to 0.93 with chosen moulds (ajol.info ajb 60034)",
        ExpertGuess;
    /// Time until mould has taken hold, at 20 to 25 °C.
    FERMENTATION_LAG, "fermentation_lag": 1.0, 3.0, 7.0, "d", true,
        "judgement, as for fermentation_most", ExpertGuess;
    /// Time constant of the mould's work after that.
    FERMENTATION_TIME, "fermentation_time": 5.0, 10.0, 30.0, "d", true,
        "judgement, as for fermentation_most", ExpertGuess;
    /// What one tea leaf gives over what the survey of brews found.
    TEA_BREW_SPREAD, "tea_brew_spread": 0.73, 1.0, 1.22, "1", false,
        "leaf totals of 80.5 to 134.9 mg/g (Khokhar & Magnusdottir 2002) over the survey's 110.8", Computed;
}

macro_rules! constants {
    ($($(#[$doc:meta])* $name:ident, $id:literal: $value:literal, $u:literal, $unit:literal,
       $citation:literal, $status:ident;)*) => {
        $($(#[$doc])* pub(crate) const $name: Constant = Constant {
            id: $id,
            value: $value,
            u: $u,
            unit: $unit,
            source: Source::new($citation, Status::$status),
        };)*

        pub(crate) const CONSTANTS: &[&Constant] = &[$(&$name),*];
    };
}

constants! {
    /// k R²/D of one grain, when nothing but diffusion counts.
    FILM_FACTOR, "extraction_film_factor": 29.6, 10.0, "1",
        "computed from two rates of tea at 60 degC (Farakte et al. 2016): two points, no error bar; 3 pi squared; its uncertainty is judgement",
        Computed;
    /// Time that wetting and the film of liquid about a grain add.
    FILM_TIME, "extraction_film_time": 1.391, 0.7, "min",
        "computed from the same two rates; its uncertainty is judgement", Computed;
    /// Gallic acid, counted anhydrous, that cold water dissolves.
    GALLIC_ACID_CEILING, "gallic_acid_ceiling": 11.4, 0.6, "g/L",
        "12.6 g/L of the hydrate at 25.6 degC (J. Chem. Eng. Data 2010, 55, 3101) times 0.904; 11 (ICSC 1174); less beside sulfate (2008, 53, 1675)",
        Published;
    /// Water hotter than this pulls out more sugar and less tannin.
    TOO_HOT, "extraction_too_hot": 90.0, 5.0, "degC",
        "galls gave more at 75 than at 100 degC (Arina et al. 2019), bark less tannin and more sugar above 100 degC (Kilpelainen et al. 2023)",
        Published;
}

/// Diffusivity at a temperature in K, m²/s, from that at 25 °C and the
/// activation energy in kJ/mol.
pub(super) fn arrhenius(d25: f64, kj_per_mol: f64, kelvin: f64) -> f64 {
    let slope = kj_per_mol * 1000.0 / GAS_CONSTANT.value;
    d25 * libm::exp(-slope * (1.0 / kelvin - 1.0 / KELVIN_25C))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Farakte et al. 2016: 2.23e-10 at 60 °C, 4.34e-10 m²/s at 80 °C. The
    /// activation energy between them was computed as 32.57 kJ/mol, the value
    /// at 25 °C as 5.6e-11.
    #[test]
    fn tea_of_two_temperatures() {
        let (cool, hot) = (60.0 + 273.15, 80.0 + 273.15);
        let kj = libm::log(4.34 / 2.23) * GAS_CONSTANT.value / (1.0 / cool - 1.0 / hot) / 1000.0;
        assert!((kj - 32.57).abs() < 0.005);
        let d25 = 2.23e-10 / arrhenius(1.0, kj, cool);
        assert!((d25 - Parameter::TEA_DIFFUSIVITY.range.typical).abs() < 0.05e-11);
        approx::assert_relative_eq!(arrhenius(d25, kj, hot), 4.34e-10, max_relative = 1e-12);
    }

    /// 2.9 to 3.8e-11 for gallotannin by the inverse root of the molar mass.
    #[test]
    fn from_catechin_to_gallotannin() {
        let scaled = |m: f64| Parameter::TEA_DIFFUSIVITY.range.typical * libm::sqrt(458.0 / m);
        assert!((scaled(1700.0) - 2.9e-11).abs() < 0.05e-11);
        assert!((scaled(1000.0) - 3.8e-11).abs() < 0.05e-11);
    }

    #[test]
    fn every_span_can_be_drawn_from() {
        for p in Parameter::ALL {
            let typical = p.distribution().map(|d| d.quantile(0.5));
            assert!(
                typical.is_some_and(|x| (x / p.range.typical - 1.0).abs() < 1e-12),
                "{}",
                p.id
            );
        }
    }
}
