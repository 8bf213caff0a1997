//! Proportions and strengths against those of old recipes.

use super::{Code, Finding, Severity, Subject};
use crate::bench::gums;
use crate::composition::Bulk;
use crate::quantity::{ReadMass, ReadMassConcentration};
use crate::recipe::{Evaluation, LineKind};
use crate::source::{Range, Source, Status};

/// A figure of old inks: extremes and middle of a hand-picked sample, with its
/// middle half (`tests/historic_recipes.rs` holds them against its table).
pub(super) struct Historic {
    /// What it is, for [`figure`].
    pub(super) what: &'static str,
    /// Least, median, most.
    pub(super) all: Range,
    /// Lower and upper quartile.
    pub(super) middle: (f64, f64),
    pub(super) source: Source,
}

pub(super) const GALLS_PER_VITRIOL: Historic = Historic {
    what: "galls to vitriol",
    all: Range::new(0.25, 2.0, 12.0),
    middle: (1.5, 2.7),
    source: Source::new(
        "a hand-picked sample of some sixty recipes, 15th to 19th century: median 2.0, extremes 0.25 and 12",
        Status::Secondary,
    ),
};

pub(super) const GUM_PER_GALLS: Historic = Historic {
    what: "gum to galls",
    all: Range::new(0.03, 0.375, 1.0),
    middle: (0.31, 0.5),
    source: Source::new(
        "a hand-picked sample of 56 recipes, 15th to 19th century: median 0.375, extremes 0.03 and 1",
        Status::Secondary,
    ),
};

pub(super) const IRON: Historic = Historic {
    what: "iron",
    all: Range::new(1.0, 8.4, 50.0),
    middle: (6.0, 12.9),
    source: Source::new(
        "a hand-picked sample of 50 recipes: median 8.4 g/L, 1.4 to 50; IS 220:1988 allows 1.0 g/L",
        Status::Secondary,
    ),
};

/// Rounded to the digits of the extremes: 2 % of slack.
const SLACK: f64 = 0.02;

impl Historic {
    /// The extreme that a figure lies beyond.
    fn beyond(&self, x: f64) -> Option<f64> {
        if x < self.all.min * (1.0 - SLACK) {
            Some(self.all.min)
        } else if x > self.all.max * (1.0 + SLACK) {
            Some(self.all.max)
        } else {
            None
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
    for (table, words) in [
        (&GALLS_PER_VITRIOL, "as galls to vitriol this is"),
        (&GUM_PER_GALLS, "gum to galls is"),
    ] {
        let Some(x) = figure(made, table.what) else {
            continue;
        };
        let Some(limit) = table.beyond(x) else {
            continue;
        };
        // Much gum is a matter of the pen; little is none at all.
        if table.what == GUM_PER_GALLS.what && x < limit {
            continue;
        }
        let message = format!(
            "{words} {x:.2} : 1, outside all old recipes compared ({} to {}): a slip of unit or decimal?",
            table.all.min, table.all.max
        );
        found.push(of(
            table,
            Code::RatioOutsideHistory,
            message,
            (x, limit),
            "g/g",
        ));
    }
    // A dry mix has no strength yet.
    let wet = c.mass_of(Bulk::Water).value > 0.5 * c.mass().value;
    if let Some(x) = figure(made, IRON.what).filter(|_| wet)
        && let Some(limit) = IRON.beyond(x)
    {
        let message = format!(
            "{x:.2} g/L of iron, outside all inks compared ({} to {} g/L): a slip of unit, decimal or volume?",
            IRON.all.min, IRON.all.max
        );
        found.push(of(
            &IRON,
            Code::StrengthOutsideHistory,
            message,
            (x, limit),
            "g/L",
        ));
    }
}

fn of(
    table: &Historic,
    code: Code,
    message: String,
    figures: (f64, f64),
    unit: &'static str,
) -> Finding {
    Finding {
        about: Subject::Figure(table.what),
        slips: Vec::new(),
        code,
        severity: Severity::Warning,
        message,
        value: figures.0,
        limit: figures.1,
        unit,
        source: table.source,
    }
}
