//! The part of the page that says what to do.

use crate::story::{DRAWN_ML, FILLED_TO_PERCENT, STORE_ML, Story};
use crate::words::{hundredths, percent, span, spoken, two_figures, with_spread, wrapped, years};
use ferrogall::oxidation::{BottleChoice, Forecast, Measure, Seen, Spread};
use ferrogall::quantity::{ReadMassConcentration, ReadTime, ReadVolume, Time};
use std::fmt::Write as _;

pub fn measures(story: &Story) -> String {
    let now = &story.at_trial;
    let mut text = format!("WHAT HELPS, IN THE FIRST {}\n\n", {
        spoken(story.trial).to_uppercase()
    });
    text += &wrapped(
        &format!(
            "Later nearly all is gone and nothing is left to be saved. Gone by then as it is: bound {}, \
             estimate {} ({}), floor {}. Each measure by itself, in hundredths of the \
             first iron(II):",
            percent(now.bound.value()),
            percent(now.typical.lost.value()),
            span(&now.lost),
            percent(now.floor.value()),
        ),
        "",
    );
    let _ = writeln!(
        text,
        "\n{:>48}{:>18}{:>14}\n{:>48}{:>18}{:>14}",
        "saved by the", "by 95 % of", "gone at most", "estimate", "the draws", "(bound)"
    );
    for bought in &story.bought {
        let Spread { low, high } = bought.saved_spread;
        let draws = format!("{} to {}", hundredths(low), hundredths(high));
        let _ = writeln!(
            text,
            "  {:<38}{:>8}{:>18}{:>14}",
            name_of(&bought.measure),
            hundredths(bought.saved),
            draws,
            percent(bought.bound.value()),
        );
    }
    text += "\n";
    let cautions = story.bought.iter().map(|b| &b.measure);
    for measure in cautions {
        if let Some(caution) = measure.caution() {
            text += &wrapped(&format!("Caution, {}: {caution}.", name_of(measure)), "  ");
        }
    }
    text += &wrapped(
        "The bound knows nothing of nail and ascorbic acid: it counts oxygen. The model does not know that \
         acid keeps iron(III) dissolved, which is why makers add it: it saves sediment, if not iron(II).",
        "  ",
    );
    text += &wrapped(
        "How fast the nail works is the demo's own guess: it brings half of the iron(III) back in a \
         week. It adds iron, and it uses up acid.",
        "  ",
    );
    text
}

/// Short, for page and figure.
pub fn name_of(measure: &Measure) -> String {
    match measure {
        Measure::Scavenge { dose, .. } => {
            format!("{:.0} g/L of ascorbic acid", dose.in_grams_per_liter())
        }
        Measure::Closure(_) => "a tight cap".to_owned(),
        Measure::InertGas { replacing } => {
            format!("inert gas for {:.0} % of the air", replacing.as_percent())
        }
        Measure::OpenEvery(every) => {
            format!("opened every {:.0} days only", every.in_days())
        }
        Measure::Beads => "glass beads for the ink drawn".to_owned(),
        Measure::FloatingLid { .. } => "a floating lid".to_owned(),
        other => other.in_words(),
    }
}

pub fn sizes(story: &Story) -> String {
    let mut text = format!("WHICH BOTTLES FOR {STORE_ML} ML, {DRAWN_ML} ML A WEEK\n\n");
    text += &wrapped(
        &format!(
            "One bottle after the other, filled to {FILLED_TO_PERCENT} %. Gone when it is written with, \
             in the mean over the last bottle's ink:"
        ),
        "",
    );
    let [capped, tight] = &story.sizes;
    text += "\n                            the last   with this cap        tightly closed\n";
    text += "  bottles                   waits      estimate   bound     estimate   bound\n";
    let mut rows: Vec<&BottleChoice> = capped.iter().collect();
    rows.sort_by(|a, b| a.capacity.value.total_cmp(&b.capacity.value));
    for row in rows {
        let same = tight.iter().find(|t| t.capacity == row.capacity);
        let cells = |c: &BottleChoice| {
            format!(
                "{:>8}{:>8}",
                percent(c.lost_in_use.value()),
                percent(c.bound.value())
            )
        };
        let _ = writeln!(
            text,
            "  {:>2} of {:>3.0} mL              {:>10}{}  {}",
            row.bottles,
            row.capacity.in_milliliters(),
            if row.bottles > 1 {
                years(row.waits)
            } else {
                "-".to_owned()
            },
            cells(row),
            same.map(|s| format!("{:>4}{}", "", cells(s).trim_end()))
                .unwrap_or_default(),
        );
    }
    text += "\n";
    let best = |choices: &[BottleChoice]| {
        choices.first().map_or(String::new(), |c| {
            format!("{} of {:.0} mL", c.bottles, c.capacity.in_milliliters())
        })
    };
    text += &wrapped(
        &format!(
            "Best by the estimate: {} with this cap, {} tightly closed. A cap leaks the same into a large \
             bottle as into a small one, so bottles that wait for years must be tight. Half a millilitre \
             a week is ten years' ink: a smaller batch is the better answer.",
            best(capped),
            best(tight),
        ),
        "",
    );
    text
}

pub fn own(story: &Story) -> String {
    let mut text = String::from("WHAT ONE'S OWN OBSERVATIONS CHANGE\n\n");
    let seen = story.seen.iter().map(|s| {
        let what = match s.seen {
            Seen::IronII { left, u } => format!(
                "{:.0} % ± {:.0} % of the iron(II) is left",
                left.as_percent(),
                100.0 * u
            ),
            _ => "something else is seen".to_owned(),
        };
        format!("on day {:.0} {what}", s.at.in_days())
    });
    let seen: Vec<String> = seen.collect();
    text += &wrapped(
        &format!(
            "Invented for this demo, nobody measured it: {}.",
            seen.join("; ")
        ),
        "",
    );
    text += &wrapped(
        "(Titrate iron(II) in the ink neither with permanganate nor with dichromate: tannin takes \
         them up too.)",
        "",
    );
    let fit = &story.fit;
    let before = story.ink.assisted();
    text += "\n";
    text += &wrapped(
        &format!(
            "The rate at which the ink takes oxygen was known within a factor of {} either way; now it \
             is within {}.",
            two_figures(before.factor_95()),
            two_figures(fit.assisted.factor_95()),
        ),
        "",
    );
    let line = |name: &str, f: &Forecast| {
        let e = &f.estimate;
        let time = |t: Option<Time>| t.map_or_else(|| "not within the year".to_owned(), spoken);
        format!(
            "  {name:<9}{:<24}{} ({} to {})\n",
            with_spread(&e.typical.lost, &e.lost),
            time(e.typical.time_to_share),
            time(e.time_to_share.low),
            time(e.time_to_share.high),
        )
    };
    text += "\n           gone after a year       a tenth is gone after\n";
    text += &line("before", &story.forecast);
    text += &line("after", &story.own);
    let (bound, floor) = (&story.forecast.bound, &story.forecast.floor);
    let _ = writeln!(
        text,
        "  bound {} and floor {} stay as they are",
        percent(bound.share_after_duration.value()),
        percent(floor.lost.value()),
    );
    let now = story.seen.iter().zip(&story.own_then).map(|(s, p)| {
        format!(
            "day {:.0} {} ({})",
            s.at.in_days(),
            percent(p.typical.lost.value()),
            span(&p.lost)
        )
    });
    let now: Vec<String> = now.collect();
    text += "\n";
    text += &wrapped(
        &format!(
            "What the model now says is gone on those days: {}. Where that is far from what was seen, \
             believe what was seen.",
            now.join(", ")
        ),
        "",
    );
    if fit.misfit > 2.0 {
        text += &wrapped(
            "No world of the model does what was seen: look at the observations again.",
            "  ",
        );
    }
    text
}
