//! Rules about what is weighed with the tools at hand.

use super::rules::COMMON_PRACTICE;
use super::{Code, Finding, Severity, Subject};
use crate::quantity::{ReadMass, ReadVolume};
use crate::recipe::{Evaluation, Kit, Measure};

/// Steps under which a weighing is too small: an error of 2.5 %.
pub(crate) const FEWEST_STEPS: f64 = 20.0;

/// Amounts too small for the tools they are taken with.
///
/// Part of [`check`](super::check) when it is given the tools; of a rounded recipe ask the
/// exact one, in which nothing was rounded away yet.
pub fn weighings(made: &Evaluation, kit: &Kit) -> Vec<Finding> {
    let mut found = Vec::new();
    for (place, line) in made.lines.iter().enumerate() {
        if !line.counts_for_smallness() || line.mass.value <= 0.0 {
            continue;
        }
        let Ok(steps) = kit.steps(line.lot, line.mass) else {
            continue;
        };
        let rough = kit.tool(line.lot).is_rough();
        let (grams, name) = (line.mass.in_grams(), line.lot.name());
        let (code, severity, message) = if steps < 0.5 {
            (
                Code::RoundedToNothing,
                Severity::Error,
                format!(
                    "{grams:.3} g of {name} is less than half a step of its tool: none of it gets into the ink"
                ),
            )
        } else if rough {
            (
                Code::WeighingTooSmall,
                Severity::Notice,
                format!("{name} by spoon or drop is good to some 15 %: weigh it if it matters"),
            )
        } else if steps < FEWEST_STEPS {
            (
                Code::WeighingTooSmall,
                Severity::Warning,
                format!(
                    "{} of {name} is only {steps:.1} steps of its tool, an error of up to {:.0} %: make more, or take a finer tool",
                    in_its_unit(kit.tool(line.lot), steps, grams),
                    (50.0 / steps).min(100.0)
                ),
            )
        } else {
            continue;
        };
        found.push(Finding {
            about: Subject::Line(place),
            slips: Vec::new(),
            code,
            severity,
            message,
            value: steps,
            limit: FEWEST_STEPS,
            unit: "steps",
            source: COMMON_PRACTICE,
        });
    }
    found
}

/// An amount in the unit of the tool it is taken with.
fn in_its_unit(tool: Measure, steps: f64, grams: f64) -> String {
    match tool {
        Measure::Cylinder { step } => format!("{:.2} mL", steps * step.in_milliliters()),
        _ => format!("{grams:.2} g"),
    }
}
