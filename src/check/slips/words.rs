//! A slip in words.

use super::edit::Edit;
use crate::check::published::figures;
use crate::check::{Finding, SlipChange};
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
    let amount = |c: &SlipChange| format!("{} of {}", words_of(c.meant), c.lot);
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
    let gap = if finding.unit.is_empty() { "" } else { " " };
    let unit = finding.unit;
    let mut out = format!(
        "if you meant {meant} {}{gap}{unit} instead of {}",
        figures(value),
        figures(finding.value)
    );
    if let Some(ink) = published {
        out.push_str(&format!("; this is {}", ink.name));
    }
    out
}
