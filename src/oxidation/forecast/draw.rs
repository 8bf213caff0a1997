//! One possible world: a value for everything that is not known.

use crate::oxidation::Parameter;
use crate::source::Range;
use crate::uncertainty::normal_quantile;

/// What a forecast does not know for sure; each has a sequence of its own.
#[derive(Clone, Copy)]
pub(super) enum Unknown {
    Assisted,
    AcidOrder,
    Activation,
    Inorganic,
    SteadyShare,
    IronPerOxygen,
    RestFromPhenol,
    Electrons,
    Closure,
    Transfer,
    Settling,
    Soluble,
    Scavenging,
    SettlingOrder,
}

/// Square roots of primes: their multiples fill the unit interval evenly, and
/// no two of them in step.
const PRIMES: [f64; 14] = [
    2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0, 31.0, 37.0, 41.0, 43.0,
];

/// A draw of every unknown, or the typical value of each.
#[derive(Clone, Copy)]
pub(super) enum Draw {
    Typical,
    Nth(u32),
}

impl Draw {
    /// Where in its distribution an unknown lies, between 0 and 1.
    fn part(self, unknown: Unknown) -> f64 {
        match self {
            Draw::Typical => 0.5,
            Draw::Nth(n) => {
                let multiple = (f64::from(n) + 1.0) * libm::sqrt(PRIMES[unknown as usize]);
                // Never 0 or 1: those are infinitely far out.
                (multiple - libm::floor(multiple)).clamp(1e-9, 1.0 - 1e-9)
            }
        }
    }

    /// The same in standard deviations of a normal distribution.
    pub(super) fn deviations(self, unknown: Unknown) -> f64 {
        match self {
            Draw::Typical => 0.0,
            Draw::Nth(_) => normal_quantile(self.part(unknown)),
        }
    }

    /// A value of a span: half of the draws on either side of the typical
    /// value, evenly spread. Where the typical value is an end, half of the
    /// draws have it and the others are spread over the span.
    pub(super) fn within(self, range: Range, unknown: Unknown) -> f64 {
        match self {
            Draw::Typical => range.typical,
            Draw::Nth(_) => range.at(self.part(unknown)),
        }
    }

    /// As [`within`](Self::within), evenly spread in the logarithm; where the
    /// typical value is nothing, in the value itself.
    pub(super) fn within_log(self, range: Range, unknown: Unknown) -> f64 {
        if range.typical <= 0.0 {
            return self.within(range, unknown);
        }
        let least = range.min.max(1e-9 * range.typical);
        let logarithm = Range {
            min: libm::log(least),
            typical: libm::log(range.typical),
            max: libm::log(range.max),
        };
        match self {
            Draw::Typical => range.typical,
            Draw::Nth(_) => libm::exp(self.within(logarithm, unknown)),
        }
    }

    pub(super) fn parameter(self, parameter: Parameter, unknown: Unknown) -> f64 {
        self.within(parameter.range, unknown)
    }

    pub(super) fn parameter_log(self, parameter: Parameter, unknown: Unknown) -> f64 {
        self.within_log(parameter.range, unknown)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn draws_are_even_and_typical_values_are_in_the_middle() {
        let span = Range::new(1.0, 2.0, 10.0);
        let draws: Vec<f64> = (0..1000)
            .map(|n| Draw::Nth(n).within_log(span, Unknown::Soluble))
            .collect();
        let below = draws.iter().filter(|&&x| x < 2.0).count();
        assert!((495..=505).contains(&below), "{below}");
        assert!(draws.iter().all(|&x| (1.0..=10.0).contains(&x)));
        assert_eq!(Draw::Typical.within_log(span, Unknown::Soluble), 2.0);
        let one_sided = Range::new(2.0, 4.0, 4.0);
        let mean = (0..1000)
            .map(|n| Draw::Nth(n).within(one_sided, Unknown::Electrons))
            .sum::<f64>()
            / 1000.0;
        assert_abs_diff_eq!(mean, 0.5 * 3.0 + 0.5 * 4.0, epsilon = 0.01);
    }
}
