//! The page a maker reads.

use crate::advice::{measures, own, sizes};
use crate::story::{CAPACITY_ML, CELSIUS, DRAWN_ML, FILL_ML, OPENED_EVERY_DAYS, Story};
use crate::words::{
    capital, percent, percent_freely, span, spoken, three, two_figures, with_spread, wrapped,
};
use ferrogall::oxidation::{Advice, Outcome};
use ferrogall::quantity::{
    AmountOfSubstance, MolarConcentration, ReadAmount, ReadMass, ReadMassConcentration,
    ReadMolarConcentration, ReadTime, ReadVolume, Time,
};
use std::fmt::Write as _;

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
            "The estimate's single figure is a gloomy one: it supposes that tannin turns no \
             iron(III) back and that every O2 takes four iron. Many of the draws \
             behind the interval suppose less, and what tannin turns back can be more than the \
             floor takes: so the interval reaches below the floor.",
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
    text += "          ink  iron(II)  strength  iron(III)  sediment, as iron   tannin\n";
    text += "  day    left      gone      left  dissolved     mg/L    share      left    pH\n";
    for look in &story.looks {
        let now = &look.outcome;
        let settled = now.sediment.value / first_iron(story);
        let _ = writeln!(
            text,
            "{:>5}{:>5.0} mL{:>10}{:>10}{:>6} mg/L{:>9}{:>9}{:>10}{:>6.1}",
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
