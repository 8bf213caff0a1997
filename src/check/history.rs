//! Proportions and strengths against those of old recipes.

use super::{Code, Finding, Severity, Subject};
use crate::bench::gums;
use crate::composition::Bulk;
use crate::quantity::{ReadMass, ReadMassConcentration};
use crate::recipe::{Evaluation, LineKind};
use crate::source::{Range, Source, Status};

/// A figure of old inks: extremes, median and quartiles of a hand-picked
/// sample, as printed, and where nine in ten of [`crate::history::historic`] lie.
/// They stand here as constants because every check asks for them; a test holds
/// them to the tables.
pub(super) struct Historic {
    /// What it is, for [`figure`].
    pub(super) what: &'static str,
    /// Least, median, most.
    pub(super) all: Range,
    /// Lower and upper quartile.
    middle: (f64, f64),
    /// Nine in ten lie between: 5 and 95 %, nearest rank.
    usual: (f64, f64),
    pub(super) source: Source,
}

pub(super) const GALLS_PER_VITRIOL: Historic = Historic {
    what: "galls to vitriol",
    all: Range::new(0.25, 2.0, 12.0),
    middle: (1.5, 2.7),
    usual: (0.667, 5.33),
    source: Source::new(
        "a hand-picked sample of some sixty recipes, 15th to 19th century: median 2.0, extremes 0.25 and 12",
        Status::Secondary,
    ),
};

pub(super) const GUM_PER_GALLS: Historic = Historic {
    what: "gum to galls",
    all: Range::new(0.03, 0.375, 1.0),
    middle: (0.31, 0.5),
    usual: (0.0625, 0.667),
    source: Source::new(
        "a hand-picked sample of 56 recipes, 15th to 19th century: median 0.375, extremes 0.03 and 1",
        Status::Secondary,
    ),
};

pub(super) const IRON: Historic = Historic {
    what: "iron",
    all: Range::new(1.0, 8.4, 50.0),
    middle: (6.0, 12.9),
    usual: (3.23, 25.1),
    source: Source::new(
        "a hand-picked sample of 50 recipes: median 8.4 g/L, 1.4 to 50; IS 220:1988 allows 1.0 g/L",
        Status::Secondary,
    ),
};

/// Rounded to the digits of the extremes: 2 % of slack.
const SLACK: f64 = 0.02;

/// How far out a figure lies, and the limit it lies beyond.
type Beyond = (Severity, f64);

impl Historic {
    fn beyond(&self, x: f64) -> Option<Beyond> {
        let past = |(low, high): (f64, f64)| {
            if x < low * (1.0 - SLACK) {
                Some(low)
            } else if x > high * (1.0 + SLACK) {
                Some(high)
            } else {
                None
            }
        };
        let extreme = past((self.all.min, self.all.max)).map(|limit| (Severity::Warning, limit));
        extreme.or_else(|| past(self.usual).map(|limit| (Severity::Notice, limit)))
    }

    pub(super) fn is_unusually_little(&self, x: f64) -> bool {
        x < self.usual.0 * (1.0 - SLACK)
    }

    fn words(&self, far: Severity) -> String {
        match far {
            Severity::Notice => format!(
                "outside what nine in ten old recipes hold ({} to {})",
                self.usual.0, self.usual.1
            ),
            _ => format!(
                "outside all compared ({} to {}): a slip of unit or decimal?",
                self.all.min, self.all.max
            ),
        }
    }

    /// Distance from the median, in half-widths of the middle half.
    pub(super) fn distance(&self, x: f64) -> f64 {
        let half = libm::log(self.middle.1 / self.middle.0) / 2.0;
        (libm::log(x / self.all.typical) / half).abs()
    }
}

/// A figure of an ink, where it has one.
pub(super) fn figure(made: &Evaluation, what: &str) -> Option<f64> {
    let c = &made.composition;
    let found = if what == GALLS_PER_VITRIOL.what {
        // As weighed where the tannin is from galls, else by its tannin.
        let weighed = made.vitriol_per_galls().map(|v| 1.0 / v);
        weighed.or_else(|| c.ratios().galls_per_vitriol_by_mass)
    } else if what == GUM_PER_GALLS.what {
        gum_per_galls(made)
    } else if what == IRON.what {
        Some(c.iron_mass_concentration().in_grams_per_liter())
    } else {
        None
    };
    found.filter(|x| *x > 0.0 && x.is_finite())
}

/// Gum as sold per galls as weighed, where the tannin comes from galls.
fn gum_per_galls(made: &Evaluation) -> Option<f64> {
    made.vitriol_per_galls()?;
    let galls = made.lines.iter().filter(|l| l.kind == LineKind::Plant);
    let galls: f64 = galls.map(|l| l.mass.in_grams() * l.reach).sum();
    let moist = gums().first().map_or(0.0, |g| g.moisture_percent.typical);
    let dry = made.composition.mass_of(Bulk::Gum).in_grams();
    Some(dry / (1.0 - moist / 100.0) / galls)
}

pub(super) fn outside(made: &Evaluation, found: &mut Vec<Finding>) {
    let c = &made.composition;
    if c.iron().value <= 0.0 || c.galloyl().value <= 0.0 {
        return;
    }
    // A dry mix has no strength yet.
    let wet = c.mass_of(Bulk::Water).value > 0.5 * c.mass().value;
    for (table, code, unit) in [
        (&GALLS_PER_VITRIOL, Code::RatioOutsideHistory, "g/g"),
        (&GUM_PER_GALLS, Code::RatioOutsideHistory, "g/g"),
        (&IRON, Code::StrengthOutsideHistory, "g/L"),
    ] {
        let Some(x) = figure(made, table.what).filter(|_| wet || unit == "g/g") else {
            continue;
        };
        let Some((severity, limit)) = table.beyond(x) else {
            continue;
        };
        // Little gum is a matter of the pen, and the official inks are thinner
        // than the old ones.
        let little = x < limit;
        if little
            && (table.what == GUM_PER_GALLS.what || (severity == Severity::Notice && unit == "g/L"))
        {
            continue;
        }
        let words = table.words(severity);
        let what = table.what;
        // Other tannin counts as the galls that would bring it.
        let weighed = what == GUM_PER_GALLS.what || made.vitriol_per_galls().is_some();
        let message = match unit {
            "g/g" if weighed => format!("{what} is {x:.2} : 1, {words}"),
            "g/g" => format!("{what}, by the tannin, is {x:.2} : 1, {words}"),
            _ => format!("{x:.2} g/L of {what}, {words}"),
        };
        found.push(Finding {
            about: Subject::Figure(what),
            slips: Vec::new(),
            code,
            severity,
            message,
            value: x,
            limit,
            unit,
            source: table.source,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Figure, historic, published_quartiles};

    /// The figures of the sample, to their printed digits.
    #[test]
    fn limits_are_those_of_the_tables() {
        for (ours, figure) in [
            (&GALLS_PER_VITRIOL, Figure::GallsPerVitriol),
            (&GUM_PER_GALLS, Figure::GumPerGalls),
            (&IRON, Figure::IronPerLiter),
        ] {
            let printed = published_quartiles().iter().find(|q| q.figure == figure);
            let all = printed.map(|q| (q.median, q.p25, q.p75, q.max));
            let (q1, q3) = ours.middle;
            assert_eq!(all, Some((ours.all.typical, q1, q3, ours.all.max)));
            // 1.0 g/L of iron is the limit of a standard, below the least old ink.
            let least = printed.map(|q| q.min);
            assert!(least == Some(ours.all.min) || figure == Figure::IronPerLiter);
            let nine_in_ten = historic().quantiles(figure).map(|q| (q.p05, q.p95));
            let (low, high) = nine_in_ten.unwrap_or((f64::NAN, f64::NAN));
            println!("{} {low} {high}", ours.what);
            // Three digits.
            approx::assert_relative_eq!(ours.usual.0, low, max_relative = 5e-3);
            approx::assert_relative_eq!(ours.usual.1, high, max_relative = 5e-3);
        }
    }
}
