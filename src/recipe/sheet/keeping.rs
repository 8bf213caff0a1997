//! The part of the sheet that tells how long the ink keeps.

use super::text::{paragraph, row};
use crate::composition::Composition;
use crate::equilibrium::Solver;
use crate::oxidation::{
    Bottle, Bought, Forecast, Forecaster, Measure, OxidationError, StoredInk, rank_measures,
};
use crate::quantity::{ReadMolarConcentration, ReadTime};
use core::fmt::{Formatter, Result as Written};

/// Worlds drawn for a sheet: enough for ends that are printed in whole percent.
const DRAWS: u32 = 41;
/// Measures worth a line.
const LINES: usize = 3;
/// A measure that saves less than this share of the iron(II) is not worth one.
const WORTH: f64 = 0.005;

/// What the bottle model makes of the ink: an order of magnitude, between the
/// bound and the floor.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::*;
/// # let water = Lot::of("distilled_water")?.build()?;
/// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// # let tannin = Lot::of("tannic_acid")?.build()?;
/// # let recipe = Recipe::new("ink")
/// #     .with(Solution::new("ink").add(&tannin, grams(5.0)).add(&vitriol, grams(7.5)))
/// #     .make_up(&water, milliliters(500.0));
/// let options = SheetOptions {
///     bottles: Some(BottlePlan::new(10, milliliters(50.0))?),
///     storage: Some(Storage::default()),
///     ..SheetOptions::default()
/// };
/// let oxygen = BatchSheet::new(&recipe, &options)?.oxygen.unwrap();
/// let keeping = oxygen.keeping.unwrap();
/// assert!(keeping.floor_percent < keeping.lost_percent);
/// assert!(keeping.lost_percent <= oxygen.share_after_duration_percent);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetKeeping {
    /// Iron(II) lost, %, every unknown at its typical value.
    pub lost_percent: f64,
    /// Low end of 95 % of what is possible.
    pub lost_low_percent: f64,
    /// High end.
    pub lost_high_percent: f64,
    /// Iron(II) lost to the inorganic reaction alone, %.
    pub floor_percent: f64,
    /// Days until the stated share is lost, typically; `None`: not while it is
    /// kept and there is ink.
    pub time_to_share_days: Option<f64>,
    /// The same, soonest.
    pub soonest_to_share_days: Option<f64>,
    /// The same, latest.
    pub latest_to_share_days: Option<f64>,
    /// Iron left in solution, %, typically.
    pub iron_left_percent: f64,
    /// Iron settled, typically.
    pub sediment_mmol_per_l: f64,
    /// Worlds drawn for the interval.
    pub draws: u32,
    /// Days after which measures are compared: when half of the iron(II) is
    /// typically lost, or in the end.
    pub compared_after_days: Option<f64>,
    /// What would help most.
    pub measures: Vec<SheetMeasure>,
}

/// A measure against oxygen, and what it buys.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::*;
/// # let water = Lot::of("distilled_water")?.build()?;
/// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// # let tannin = Lot::of("tannic_acid")?.build()?;
/// # let recipe = Recipe::new("ink")
/// #     .with(Solution::new("ink").add(&tannin, grams(5.0)).add(&vitriol, grams(7.5)))
/// #     .make_up(&water, milliliters(500.0));
/// # let options = SheetOptions {
/// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?.filled(Share::percent(60.0)?)?),
/// #     storage: Some(Storage::default()),
/// #     ..SheetOptions::default()
/// # };
/// let oxygen = BatchSheet::new(&recipe, &options)?.oxygen.unwrap();
/// let best = &oxygen.keeping.unwrap().measures[0];
/// assert!(best.saved_percent > 10.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetMeasure {
    /// Identifier.
    pub id: &'static str,
    /// In words.
    pub what: String,
    /// Iron(II) lost with it by then, %, typically.
    pub lost_percent: f64,
    /// Iron(II) it saves, % of what was there, typically.
    pub saved_percent: f64,
    /// What to mind.
    pub caution: Option<&'static str>,
}

/// `None` for an ink whose pH cannot be worked out: it is no dilute solution.
pub(super) fn keeping(
    solver: Option<&mut Solver>,
    ink: &Composition,
    bottle: &Bottle,
) -> Option<SheetKeeping> {
    worked_out(solver?, ink, bottle).ok()
}

fn worked_out(
    solver: &mut Solver,
    ink: &Composition,
    bottle: &Bottle,
) -> Result<SheetKeeping, OxidationError> {
    let ink = StoredInk::of(ink, solver)?;
    let forecast = Forecaster::new(&ink, bottle)?.forecast(DRAWS)?;
    let bought = rank_measures(&ink, bottle, &Measure::usual(&ink, bottle), 1)?;
    Ok(filled(&forecast, &bought))
}

fn filled(forecast: &Forecast, bought: &[Bought]) -> SheetKeeping {
    let e = &forecast.estimate;
    let days = |t: Option<crate::quantity::Time>| t.map(|t| t.in_days());
    let worth_it = bought.iter().filter(|b| b.saved >= WORTH).take(LINES);
    SheetKeeping {
        lost_percent: e.typical.lost.as_percent(),
        lost_low_percent: e.lost.low.as_percent(),
        lost_high_percent: e.lost.high.as_percent(),
        floor_percent: forecast.floor.lost.as_percent(),
        time_to_share_days: days(e.typical.time_to_share),
        soonest_to_share_days: days(e.time_to_share.low),
        latest_to_share_days: days(e.time_to_share.high),
        iron_left_percent: e.typical.iron_left.as_percent(),
        sediment_mmol_per_l: e.typical.sediment.in_millimoles_per_liter(),
        draws: e.draws,
        compared_after_days: bought.first().map(|b| b.compared_at.in_days()),
        measures: worth_it
            .map(|b| SheetMeasure {
                id: b.measure.id(),
                what: b.measure.in_words(),
                lost_percent: b.typical.lost.as_percent(),
                saved_percent: 100.0 * b.saved,
                caution: b.measure.caution(),
            })
            .collect(),
    }
}

impl SheetKeeping {
    pub(super) fn write(&self, f: &mut Formatter<'_>, stated_percent: f64) -> Written {
        let lost = format!(
            "{} % lost, {} to {} % as far as the rates are known",
            whole(self.lost_percent),
            whole(self.lost_low_percent),
            whole(self.lost_high_percent)
        );
        row(f, "estimate", lost)?;
        let at = |days: Option<f64>| days.map_or("never".to_owned(), |d| format!("{d:.0}"));
        let when = format!(
            "{} days, {} to {}",
            at(self.time_to_share_days),
            at(self.soonest_to_share_days),
            at(self.latest_to_share_days)
        );
        row(f, &format!("  {stated_percent:.0} % lost after"), when)?;
        let left = format!(
            "{} % of the iron in solution, {:.1} mmol/L settled",
            whole(self.iron_left_percent),
            self.sediment_mmol_per_l
        );
        row(f, "  left in the end", left)?;
        let floor = format!(
            "{} % lost, the slow inorganic reaction alone",
            whole(self.floor_percent)
        );
        row(f, "floor", floor)?;
        if let (Some(best), Some(days)) = (self.measures.first(), self.compared_after_days) {
            let helps = self
                .measures
                .iter()
                .map(|m| format!("{} ({} %)", m.what, whole(m.lost_percent)));
            let words = format!(
                "What would help most, by day {days:.0}, when {} % is lost as it is: {}.",
                whole(best.lost_percent + best.saved_percent),
                helps.collect::<Vec<_>>().join("; ")
            );
            paragraph(f, "  ", &words)?;
            if let Some(caution) = best.caution {
                paragraph(f, "  ", &format!("Mind: {caution}."))?;
            }
        }
        paragraph(
            f,
            "  ",
            "The bound needs no rate and is the figure to trust; the estimate is an order of magnitude.",
        )
    }
}

/// A percentage as it is worth printing.
fn whole(percent: f64) -> String {
    match percent {
        p if p > 0.0 && p < 0.95 => format!("{p:.1}"),
        p => format!("{p:.0}"),
    }
}
