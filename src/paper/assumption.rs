//! What is known only as a span, and how the spans are drawn from.

use crate::source::{Constant, Range, Source, Status};

/// Draws of an interval: a prime, so that every input's draws are evenly
/// spread whatever its stride.
pub(super) const DRAWS: usize = 127;

/// Standard normal quantile of 97.5 %.
const Z_95: f64 = 1.959_963_984_540_054;

/// A figure of writing on paper that nobody has measured well: its span, half
/// of the draws below the typical value and half above.
///
/// ```
/// use ferrogall::paper::assumptions;
/// let film = assumptions().find(|a| a.id == "film").unwrap();
/// assert!(film.range.contains(10.0) && film.unit == "um");
/// assert!(assumptions().all(|a| !a.source.citation.is_empty()));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Assumption {
    /// Name under which it can be looked up.
    pub id: &'static str,
    /// What it is.
    pub meaning: &'static str,
    /// Low end, typical value, high end.
    pub range: Range,
    /// Unit of the range; empty for pure ratios.
    pub unit: &'static str,
    /// Where the span comes from.
    pub source: Source,
}

/// What the darkening of a line rests on beside rate laws and paper, each
/// figure with its span.
pub fn assumptions() -> impl Iterator<Item = &'static Assumption> {
    ALL.iter().copied()
}

macro_rules! assumptions {
    ($($name:ident, $id:literal: $min:literal, $typical:literal, $max:literal, $unit:literal,
       $meaning:literal, $citation:literal, $status:ident;)*) => {
        $(pub(super) const $name: Assumption = Assumption {
            id: $id,
            meaning: $meaning,
            range: Range::new($min, $typical, $max),
            unit: $unit,
            source: Source::new($citation, Status::$status),
        };)*

        const ALL: &[&Assumption] = &[$(&$name),*];
    };
}

assumptions! {
    FILM, "film": 3.0, 10.0, 40.0, "um",
        "ink laid down, as the thickness of the wet film",
        "about 300 m of line from a school pen's cartridge (encyclopedia article on writing lengths) of 0.75 mL (from memory), 0.5 mm wide (a pen user's measurements), make 5 um; wet nibs, quills and brushes by judgement", ExpertGuess;
    WIDTH, "width": 0.3, 0.5, 1.0, "mm",
        "width of the line; its spread is within that of the drying time",
        "0.50 to 0.55 mm on three papers, a pen user's measurements; fine and broad nibs by judgement", ExpertGuess;
    REACH, "reach": 0.03, 0.2, 1.0, "",
        "share of the sheet's alkaline reserve that the line meets",
        "10 um of ink fill the pores of about a fifth of a sheet 100 um thick and half empty; sizing and strike-through by judgement", ExpertGuess;
    NEUTRALISING, "neutralising": 5.0, 60.0, 1800.0, "s",
        "time in which 63 % of the reserve that is met has dissolved",
        "from seconds for fine precipitated chalk in free acid to half an hour for coarse grains under size", ExpertGuess;
    DRYING, "drying": 0.3, 1.0, 3.0, "",
        "drying time over that of a still line",
        "draughts, breath and the hand shorten it, gum, salts and absorption lengthen it", ExpertGuess;
    DAMPNESS, "dampness": 0.003, 0.1, 1.0, "",
        "rate in a dry line at 50 % humidity over that in the wet one",
        "both oxygen and moisture are needed (Rouchon et al. 2011, Anal. Chem., doi 10.1021/ac1029242, abstract); no figure is published; the middle lets an ordinary line on chalk-filled paper be black the day after, as writers expect", ExpertGuess;
    LEAVING, "leaving": 0.0, 0.5, 1.0, "",
        "share of the hydrogen chloride that leaves with the water",
        "dilute acid holds hydrogen chloride back until most of the water is gone; the lot may stay or go", ExpertGuess;
    CHALK_PH, "chalk_ph": 6.0, 7.2, 8.2, "",
        "highest pH that chalk gives a line",
        "calcite in water under 1 atm of carbon dioxide, as in a line that still fizzes, to outdoor air (this crate's equilibrium room); the middle by judgement", ExpertGuess;
}

/// Diffusion of water vapour in air at 0 °C and one atmosphere.
pub(super) const VAPOR_DIFFUSION: Constant = Constant {
    id: "vapor_diffusion",
    value: 2.12e-5,
    u: 0.04e-5,
    unit: "m2/s",
    source: Source::new(
        "Monteith & Unsworth 2013, Principles of Environmental Physics, as coded in a public leaf-temperature package",
        Status::Secondary,
    ),
};
/// Power of the absolute temperature in the diffusion of vapour.
pub(super) const VAPOR_DIFFUSION_POWER: Constant = Constant {
    id: "vapor_diffusion_power",
    value: 1.75,
    u: 0.1,
    unit: "1",
    source: VAPOR_DIFFUSION.source,
};
/// Still air over a wet surface.
pub(super) const AIR_LAYER: Constant = Constant {
    id: "still_air_layer",
    value: 0.012,
    u: 0.004,
    unit: "m",
    source: Source::new(
        "gives wide open water 30 to 50 g/(m2 h) indoors, the figure for aquaria in a table on solar housing; the rest by judgement",
        Status::ExpertGuess,
    ),
};

pub(crate) const CONSTANTS: &[&Constant] = &[&VAPOR_DIFFUSION, &VAPOR_DIFFUSION_POWER, &AIR_LAYER];

/// Steps from one draw to the next, one for each uncertain input. Of any two
/// the draws are nearly independent (correlation below 0.12; the test holds
/// them to it), which strides by a hash of the name are not.
const STRIDES: [usize; 14] = [70, 36, 62, 76, 125, 106, 27, 49, 87, 116, 16, 5, 82, 99];

/// The uncertain inputs, in the order of their strides.
#[derive(Debug, Clone, Copy, PartialEq)]
#[repr(usize)]
pub(super) enum Input {
    Film,
    Reach,
    Neutralising,
    Drying,
    Dampness,
    Leaving,
    ChalkPh,
    Reserve,
    PaperPh,
    Inorganic,
    Assisted,
    AcidOrder,
    Activation,
}

/// One draw of everything, or the typical values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Pick {
    Typical,
    Draw(usize),
}

impl Pick {
    /// The typical values, then all draws.
    pub fn draws() -> impl Iterator<Item = Pick> {
        (0..DRAWS).map(Pick::Draw)
    }

    /// The part of the distribution of one input, 0 to 1.
    pub fn part(self, input: Input) -> f64 {
        match self {
            Pick::Typical => 0.5,
            Pick::Draw(n) => (((n * STRIDES[input as usize]) % DRAWS) as f64 + 0.5) / DRAWS as f64,
        }
    }

    /// The same place in standard deviations, ±1.96 at the ends.
    pub fn z(self, input: Input) -> f64 {
        Z_95 * (2.0 * self.part(input) - 1.0)
    }

    /// From an even spread over the span, half of it on each side of the typical value.
    pub fn even(self, input: Input, range: Range) -> f64 {
        range.at(self.part(input))
    }

    /// The same, even in the logarithm; the span must be positive.
    pub fn by_factors(self, input: Input, range: Range) -> f64 {
        let part = self.part(input);
        let (side, power) = if part < 0.5 {
            (range.min / range.typical, 1.0 - 2.0 * part)
        } else {
            (range.max / range.typical, 2.0 * part - 1.0)
        };
        if power == 0.0 {
            return range.typical;
        }
        range.typical * libm::exp(power * libm::log(side))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_are_in_order_and_positive_where_drawn_by_factors() {
        for a in [FILM, REACH, NEUTRALISING, DRYING, DAMPNESS] {
            assert!(a.range.min > 0.0, "{}", a.id);
        }
        for a in assumptions() {
            assert!(a.range.min <= a.range.typical && a.range.typical <= a.range.max);
        }
    }

    #[test]
    fn draws_of_any_two_inputs_are_nearly_independent() {
        let middle = (DRAWS as f64 - 1.0) / 2.0;
        let off = |n: usize, stride: usize| ((n * stride) % DRAWS) as f64 - middle;
        let sum = |a: usize, b: usize| (0..DRAWS).map(|n| off(n, a) * off(n, b)).sum::<f64>();
        for (i, a) in STRIDES.iter().enumerate() {
            for b in &STRIDES[..i] {
                assert!((sum(*a, *b) / sum(*a, *a)).abs() < 0.12, "{a} and {b}");
            }
        }
    }

    #[test]
    fn half_the_draws_lie_on_each_side_of_the_typical_value() {
        let below = Pick::draws()
            .filter(|p| p.by_factors(Input::Film, FILM.range) < FILM.range.typical)
            .count();
        assert_eq!(below, DRAWS / 2);
        assert_eq!(Pick::Typical.by_factors(Input::Film, FILM.range), 10.0);
        assert_eq!(Pick::Typical.even(Input::ChalkPh, CHALK_PH.range), 7.2);
    }
}
