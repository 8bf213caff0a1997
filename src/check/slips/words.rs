//! A slip in words.

use super::edit::Edit;
use crate::check::published::figures;
use crate::check::{Code, Finding, SlipChange, Subject};
use crate::quantity::{ReadMass, ReadVolume};
use crate::recipe::Amount;
use crate::standards::ReferenceInk;

/// "1.5 g", "2 L", "3 parts".
pub(in crate::check) fn words_of(amount: Amount) -> String {
    match amount {
        Amount::Mass(m) if m.in_grams() >= 1000.0 => {
            format!("{} kg", figures(m.in_grams() / 1000.0))
        }
        Amount::Mass(m) => format!("{} g", figures(m.in_grams())),
        Amount::Volume(v) if v.in_milliliters() >= 1000.0 => {
            format!("{} L", figures(v.in_milliliters() / 1000.0))
        }
        Amount::Volume(v) => format!("{} mL", figures(v.in_milliliters())),
        Amount::Parts(1.0) => "1 part".into(),
        Amount::Parts(p) => format!("{} parts", figures(p)),
    }
}

/// "if you meant 1 g of phenol (a decimal point out of place), it is 1 g/L
/// instead of 10 g/L".
pub(super) fn of(
    finding: &Finding,
    edit: &Edit,
    changes: &[SlipChange],
    value: f64,
    published: Option<&ReferenceInk>,
) -> String {
    let amount = |c: &SlipChange| {
        let lot = c.meant_lot.as_ref().unwrap_or(&c.lot);
        format!("{} of {lot}", words_of(c.meant))
    };
    let said: Vec<String> = changes.iter().map(amount).collect();
    let said = match (edit.volume, said.split_last()) {
        (Some((_, volume)), _) => format!("to fill up to {}", words_of(Amount::Volume(volume))),
        (None, Some((last, []))) => last.clone(),
        (None, Some((last, rest))) => format!("{} and {last}", rest.join(", ")),
        (None, None) => String::new(),
    };
    let because = edit.because.unwrap_or(edit.kind.words());
    let meant = match &edit.meant {
        Some(meant) => format!("{meant} ({because}), take {said}:"),
        None => format!("{said} ({because}):"),
    };
    let mut out = format!("if you meant {meant} {}", outcome(finding, value));
    if let Some(ink) = published {
        out.push_str(&format!("; this is {}", ink.name));
    }
    out
}

/// What the finding's figure would be, in the words of its rule.
fn outcome(finding: &Finding, value: f64) -> String {
    let percent = |share: f64| format!("{} %", figures(libm::round(100.0 * share)));
    let was = finding.value;
    match (finding.code, finding.about) {
        (Code::MarcDrinksLiquor, _) => format!(
            "the marc keeps {} of the liquor instead of {}",
            percent(value),
            percent(was)
        ),
        (Code::NoWater, _) => format!(
            "{} of it is water instead of {}",
            percent(value),
            percent(was)
        ),
        (Code::NoInk, Subject::Figure(what)) => format!("there is {what} in it"),
        (Code::DyePrecipitates, _) if value <= 0.0 => "no dye falls out".into(),
        _ => {
            let unit = match finding.unit {
                "" => String::new(),
                // Grams to a gram are a bare ratio to a maker.
                "g/g" => " : 1".into(),
                unit => format!(" {unit}"),
            };
            format!("{}{unit} instead of {}", figures(value), figures(was))
        }
    }
}
