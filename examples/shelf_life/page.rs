//! The page a maker reads.

use crate::story::{
    CAPACITY_ML, CELSIUS, DRAWN_ML, FILL_ML, FILLED_TO_PERCENT, OPENED_EVERY_DAYS, STORE_ML, Story,
};
use ferrogall::oxidation::{Advice, BottleChoice, Forecast, Measure, Outcome, Seen, Spread};
use ferrogall::quantity::{
    AmountOfSubstance, MolarConcentration, ReadAmount, ReadMass, ReadMassConcentration,
    ReadMolarConcentration, ReadTime, ReadVolume, Share, Time,
};
use std::fmt::Write as _;

const WIDTH: usize = 80;
const MONTH_DAYS: f64 = 365.25 / 12.0;
const IRON_G_PER_MOL: f64 = 55.845;

pub fn page(story: &Story) -> String {
    let parts = [
        head(story),
        lost(story),
        tenth(story),
        supply(story),
        year(story),
        rescue(story),
        measures(story),
        sizes(story),
        own(story),
        doubts(),
    ];
    parts.join("\n")
}

fn head(story: &Story) -> String {
    let ink = &story.ink;
    let mut text = String::from("HOW LONG THE BINDERY'S LEDGER INK KEEPS\n\n");
    text += &wrapped(
        &format!(
            "The ink, a demo: {:.1} g/L of iron(II), {:.1} g/L of iron(III), {:.0} mmol/L of \
             galloyl units (the ends of tannin that bind iron), pH {:.1} by calculation.",
            iron_g_per_l(ink.iron_ii()),
            iron_g_per_l(ink.iron_iii()),
            ink.galloyl().in_millimoles_per_liter(),
            ink.ph(),
        ),
        "",
    );
    text += &wrapped(
        &format!(
            "Its bottle: {FILL_ML} mL in a glass bottle that holds {CAPACITY_ML} mL, closed with the {}, \
             at {CELSIUS} °C; opened every {OPENED_EVERY_DAYS} days for a moment, {DRAWN_ML} mL drawn; \
             kept a year, which is {} openings.",
            story.cap.name, story.forecast.bound.openings,
        ),
        "",
    );
    text += &wrapped(
        "Iron(II) is what makes the ink flow pale and darken in the paper. Oxygen turns it into \
         iron(III), which darkens the ink in the bottle and settles with the tannin.",
        "",
    );
    text
}

fn lost(story: &Story) -> String {
    let forecast = &story.forecast;
    let mut text = String::from("IRON(II) GONE AFTER A YEAR\n\n");
    let figures = [
        (
            "bound",
            percent(forecast.bound.share_after_duration.value()),
            "All oxygen that can have come in, each O2 taking four iron: it cannot be more. \
             This is the reliable figure.",
        ),
        (
            "estimate",
            with_spread(&forecast.estimate.typical.lost, &forecast.estimate.lost),
            "A model of the bottle. Nobody has published how fast oxygen takes the iron of an \
             acid tannin ink: an order of magnitude, no more.",
        ),
        (
            "floor",
            percent(forecast.floor.lost.value()),
            "The slow reaction of iron and oxygen alone, if tannin did nothing at all.",
        ),
    ];
    text += &three(figures);
    let (single, drawn) = (&story.at_trial.typical.lost, &story.at_trial.lost);
    if single > &drawn.high || drawn.low < story.at_trial.floor {
        text += "\n";
        text += &wrapped(
            "The estimate's single figure stands at its gloomy end: it supposes that tannin turns no \
             iron(III) back and that every O2 takes four iron. Most of the draws behind the \
             interval suppose less. So on the way the figure can lie above its interval, and the \
             interval can reach below the floor.",
            "",
        );
    }
    text
}

fn tenth(story: &Story) -> String {
    let forecast = &story.forecast;
    let estimate = &forecast.estimate;
    let after = |time: Option<Time>| match time {
        Some(time) => spoken(time),
        None => "not within the year".to_owned(),
    };
    let opened = |openings: Option<u64>| match openings {
        Some(0) => "before it is opened".to_owned(),
        Some(1) => "after 1 opening".to_owned(),
        Some(n) => format!("after {n} openings"),
        None => format!(
            "the {} openings of the year do not do it",
            forecast.bound.openings
        ),
    };
    let figures = [
        (
            "bound",
            after(forecast.bound.time_to_share),
            format!("{}; not sooner.", opened(forecast.bound.openings_to_share)),
        ),
        (
            "estimate",
            format!(
                "{} ({} to {})",
                after(estimate.typical.time_to_share),
                after(estimate.time_to_share.low),
                after(estimate.time_to_share.high)
            ),
            format!("{}.", opened(estimate.typical.openings_to_share)),
        ),
        (
            "floor",
            after(forecast.floor.time_to_share),
            format!("{}.", opened(forecast.floor.openings_to_share)),
        ),
    ];
    let words = [&figures[0].2, &figures[1].2, &figures[2].2].map(|w| capital(w));
    let mut text = String::from("WHEN A TENTH OF THE IRON(II) IS GONE (interval of 95 %)\n\n");
    let figures = figures.iter().zip(&words);
    let figures: Vec<_> = figures
        .map(|(f, w)| (f.0, f.1.clone(), w.as_str()))
        .collect();
    text += &three(figures);
    text
}

fn supply(story: &Story) -> String {
    let bound = &story.forecast.bound;
    let of_iron = |oxygen: AmountOfSubstance| {
        percent_freely(4.0 * oxygen.in_moles() / bound.iron_ii.in_moles())
    };
    let rows = [
        (
            "air over the ink at filling".to_owned(),
            bound.oxygen_headspace,
        ),
        (
            "air dissolved in the ink".to_owned(),
            bound.oxygen_dissolved,
        ),
        ("the first opening".to_owned(), bound.oxygen_first_opening),
        (
            format!("all {} openings", bound.openings),
            bound.oxygen_openings,
        ),
        (
            "through the cap, leakiest of its kind".to_owned(),
            bound.oxygen_closure,
        ),
    ];
    let mut text = String::from("WHERE THE OXYGEN COMES FROM\n\n");
    text += "  what it can take of the first iron(II), in a year\n";
    for (name, oxygen) in rows {
        let _ = writeln!(text, "  {name:<42}{:>7}", of_iron(oxygen));
    }
    text
}

fn year(story: &Story) -> String {
    let mut text = String::from("THE YEAR BY THE MODEL'S SINGLE FIGURE\n\n");
    text += "           ink  iron(II)  strength   iron(III)   sediment, as iron    tannin\n";
    text += "   day    left      gone      left   dissolved     mg/L     share       left    pH\n";
    for look in &story.looks {
        let now = &look.outcome;
        let settled = now.sediment.value / first_iron(story);
        let _ = writeln!(
            text,
            "{:>6}{:>5.0} mL{:>10}{:>10}{:>7} mg/L{:>9}{:>10}{:>11}{:>6.1}",
            format!("{:.0}", look.at.in_days()),
            look.liquid.in_milliliters(),
            percent(now.lost.value()),
            percent(now.iron_left.value()),
            two_figures(1000.0 * iron_g_per_l(now.iron_iii)),
            two_figures(1000.0 * iron_g_per_l(now.sediment)),
            percent(settled),
            percent(tannin_left(story, now)),
            look.chemistry.ph,
        );
    }
    let estimate = &story.forecast.estimate;
    let mg = |c: MolarConcentration| two_figures(1000.0 * iron_g_per_l(c));
    let ends = [estimate.sediment.low, estimate.sediment.high];
    let shares = ends.map(|c| percent(c.value / first_iron(story)));
    let lowest = shares[0].trim_end_matches(" %");
    text += "\n";
    text += &wrapped(
        &format!(
            "Of 95 % of the draws, after the year: sediment {} to {} mg of iron in a litre, {} to {} of \
             all iron; strength left (iron still dissolved) {}. With its tannin the sediment \
             weighs several times its iron.",
            mg(ends[0]),
            mg(ends[1]),
            lowest,
            shares[1],
            span(&estimate.iron_left),
        ),
        "",
    );
    text += &wrapped(
        "The pH falls: iron that settles leaves its acid in the ink. Below about pH 1.5 it is harder \
         on pen and paper than what was made; do not write with the clear liquid over a \
         heavy sediment.",
        "",
    );
    text
}

fn rescue(story: &Story) -> String {
    let rescue = &story.rescue;
    let ml = story.rescued.in_milliliters();
    let mut text = format!("RESCUE, AFTER {}\n\n", spoken(story.trial).to_uppercase());
    let mut words = format!(
        "With half of the iron(II) gone: {}.",
        rescue.advice.in_words()
    );
    if rescue.advice == Advice::FilterAndRefresh {
        let mol = rescue.galloyl.in_moles_per_liter();
        let _ = write!(
            words,
            " For the {ml:.0} mL left: {} mg of green vitriol and {} mg of bought tannic acid.",
            two_figures(ml * rescue.green_vitriol.in_grams_per_liter()),
            two_figures(ml * mol * story.tannic_acid_per_mole.in_grams()),
        );
        words += &match rescue.strong_acid {
            Some(acid) => format!(
                " And {} mmol of strong acid for each litre: goggles and gloves, acid into water.",
                two_figures(acid.in_millimoles_per_liter())
            ),
            None => " No acid: it has become more acid by itself.".to_owned(),
        };
        words += " The iron(III) that is dissolved stays: the ink writes darker than when fresh.";
    }
    text += &wrapped(&words, "");
    text
}

fn measures(story: &Story) -> String {
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
    text +=
        "\n                                               saved by      and by 95 %     bound\n";
    text +=
        "                                               the estimate  of the draws    with it\n";
    for bought in &story.bought {
        let Spread { low, high } = bought.saved_spread;
        let draws = format!("{} to {}", hundredths(low), hundredths(high));
        let _ = writeln!(
            text,
            "  {:<45}{:>8}{:>17}{:>11}",
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
            format!("opened every {:.0} days for twice the ink", every.in_days())
        }
        Measure::Beads => "glass beads for the ink drawn".to_owned(),
        Measure::FloatingLid { .. } => "a floating lid".to_owned(),
        other => other.in_words(),
    }
}

fn sizes(story: &Story) -> String {
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
            "Best by the model: {} with this cap, {} tightly closed. A cap leaks the same into a large \
             bottle as into a small one, so bottles that wait for years must be tight. Half a millilitre \
             a week is ten years' ink: a smaller batch is the better answer.",
            best(capped),
            best(tight),
        ),
        "",
    );
    text
}

fn own(story: &Story) -> String {
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

fn doubts() -> String {
    let mut text = String::from("HOW FAR TO TRUST THIS\n\n");
    text += &wrapped(
        "Trust the bound: it is counting. Take the estimate for what it is, a guess with its width \
         printed beside it, until you have watched a bottle of your own. How much air an opening \
         exchanges (three tenths) is a convention. Where acid, gas or iron metal come in, local rules \
         and trained people come before this page.",
        "",
    );
    text
}

// Figures as one says them.

/// The three figures, one below the other, each with its sentence.
fn three<'a>(figures: impl IntoIterator<Item = (&'a str, String, &'a str)>) -> String {
    let mut text = String::new();
    for (name, figure, words) in figures {
        let _ = writeln!(text, "  {name:<10}{figure}");
        text += &wrapped(words, "            ");
    }
    text
}

fn wrapped(words: &str, indent: &str) -> String {
    let mut text = String::new();
    let mut line = indent.to_owned();
    for word in words.split_whitespace() {
        let long = line.chars().count() + 1 + word.chars().count() > WIDTH;
        if long && line.len() > indent.len() {
            text += &line;
            text.push('\n');
            line = indent.to_owned();
        }
        if line.len() > indent.len() {
            line.push(' ');
        }
        line += word;
    }
    text + &line + "\n"
}

fn capital(words: &str) -> String {
    let mut chars = words.chars();
    let first = chars.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + chars.as_str()
}

/// A share between nothing and all of it.
pub fn percent(share: f64) -> String {
    match 100.0 * share {
        p if p <= 0.0 => "0 %".to_owned(),
        p if p < 1.0 => "<1 %".to_owned(),
        p if p > 99.0 && share < 1.0 - 1e-6 => ">99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// A share that may be more than all of it.
fn percent_freely(share: f64) -> String {
    match 100.0 * share {
        p if p < 100.0 => percent(share),
        p => format!("{} %", two_figures(p)),
    }
}

fn hundredths(share: f64) -> String {
    let rounded = (100.0 * share).round();
    // No minus before nothing.
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

fn span(spread: &Spread<Share>) -> String {
    let [low, high] = [spread.low, spread.high].map(|s| percent(s.value()));
    if low == high {
        low
    } else {
        format!("{} to {high}", low.trim_end_matches(" %"))
    }
}

fn with_spread(typical: &Share, spread: &Spread<Share>) -> String {
    format!("{} ({})", percent(typical.value()), span(spread))
}

/// Two figures that mean something.
fn two_figures(value: f64) -> String {
    if value <= 0.0 {
        return "0".to_owned();
    }
    let digits = 1 - value.log10().floor() as i32;
    let step = 10f64.powi(digits);
    let rounded = (value * step).round() / step;
    format!("{rounded:.*}", digits.max(0) as usize)
}

/// A time in the unit in which one would say it.
pub fn spoken(time: Time) -> String {
    let plural = |n: f64, unit: &str| {
        let n = n.round();
        format!("{n} {unit}{}", if n == 1.0 { "" } else { "s" })
    };
    match time.in_days() {
        d if d < 0.5 / 24.0 => "at once".to_owned(),
        d if d < 1.0 => plural(24.0 * d, "hour"),
        d if d < 61.0 => plural(d, "day"),
        d if d < 700.0 => format!("{:.1} months", d / MONTH_DAYS),
        _ => years(time),
    }
}

fn years(time: Time) -> String {
    format!("{:.1} years", time.in_days() / 365.25)
}

fn iron_g_per_l(iron: MolarConcentration) -> f64 {
    iron.in_moles_per_liter() * IRON_G_PER_MOL
}

/// All iron at filling, mol/m³.
fn first_iron(story: &Story) -> f64 {
    story.ink.iron_ii().value + story.ink.iron_iii().value
}

/// Share of the galloyl units still dissolved and able to bind iron.
pub fn tannin_left(story: &Story, now: &Outcome) -> f64 {
    let first = story.ink.galloyl().value;
    let unspent = first * now.tannin_left.value();
    (unspent - now.sediment.value).max(0.0) / first
}
