//! A scribe copies a receipt of 1740 out of a parish book and wants a bottle
//! of that ink: what the measures may mean, what is doubtful, how it compares,
//! and what to weigh for 100 mL.
//!
//! ```text
//! cargo run --example read_old_recipe
//! ```
//!
//! Scribe, parish and receipt are our own.

use ferrogall::bench::Lot;
use ferrogall::history::*;
use ferrogall::quantity::*;
use ferrogall::recipe::{DEFAULT_HOLD_UP, Kit, Measure};
use ferrogall::standards::reference_ink;
use std::error::Error;

fn main() -> Result<(), Box<dyn Error>> {
    let galls = Lot::of("aleppo_galls")?.named("Aleppo galls").build()?;
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?
        .named("green copperas")
        .build()?;
    let gum = Lot::of("gum_arabic")?.named("gum arabic").build()?;
    let water = Lot::of("rain_water")?.named("rain water").build()?;

    // The receipt, line by line as it stands.
    let written = [
        (Role::Liquid, &water, "6 pints"),
        (Role::Galls, &galls, "half a pound"),
        (Role::IronSalt, &vitriol, "3 or 4 ounces"),
        (Role::Gum, &gum, "2 ounces"),
    ];
    let mut receipt = OldRecipe::new(
        "To make ynke for the register",
        Setting::new(Place::England, Years::of(1740)?),
    )
    .ending(Ending::BoiledTo(Share::HALF))
    .note("the galls bruised; boiled down to a half");
    for (role, lot, text) in written {
        receipt = receipt.line(OldLine::new(role, lot, OldAmount::parse(text)?));
    }
    let reading = receipt.read()?;

    heading(&format!("{} (England, 1740)", reading.title));
    for (line, (.., text)) in reading.lines.iter().zip(written) {
        println!("  {:<16}{text:<15}{}", line.name, amount(&line.amount));
        for reason in &line.reasons {
            println!("      {reason}");
        }
    }
    if let Some(v) = reading.final_volume {
        let volume = volume(&v);
        println!("  {:<16}{:<15}{volume}", "boiled down to", "a half");
    }

    heading("What is doubtful");
    for doubt in &reading.doubts {
        println!("  - {}", doubt.message);
        if let Some(meant) = &doubt.meant {
            let f = &meant.figures;
            println!(
                "      then: galls {} g/L, vitriol {} g/L, gum {} g/L",
                figure(f.galls_g_per_l),
                figure(f.vitriol_g_per_l),
                figure(f.gum_g_per_l)
            );
        }
    }

    heading("Among old recipes");
    let old = historic();
    let english = old.in_place(Place::England);
    println!(
        "  {:<18}{:>18}{:>15}{:>9}{:>13}",
        "", "here", "middle of all", "of all", "of England"
    );
    for f in Figure::ALL {
        let (Some(here), Some(q)) = (reading.figure(f), old.quantiles(f)) else {
            continue;
        };
        let x = here.typical;
        let rank = |set: &HistoricSet| match set.percentile(f, x) {
            Some(p) => format!("{p:.0} %"),
            None => "-".into(),
        };
        println!(
            "  {:<18}{:>18}{:>15}{:>9}{:>13}",
            format!("{} {}", f.name(), f.unit()),
            span([here.low, x, here.high]),
            digits(q.median),
            rank(&old),
            rank(&english)
        );
    }
    println!(
        "  (the spans are those of one doubt at a time; of {} hand-picked recipes,",
        old.len()
    );
    println!("  as far as they tell, so many lie below the likeliest)");

    heading("Side by side, in a litre of ink");
    println!(
        "  {:<34}{:>7}{:>18}{:>18}{:>7}{:>11}",
        "", "Fe mol", "galloyl mol", "Fe : galloyl", "gum g", "acid mmol"
    );
    let recipe = reading.recipe.ok_or("the receipt names no liquid")?;
    row(&Normalised::of("this receipt", &recipe.evaluate()?));
    let pantry = Pantry::usual()?;
    for id in ["EN10", "EN17", "FR04"] {
        let old = historic_recipe(id).ok_or("no such recipe")?;
        let read = old.old_recipe(&pantry)?.read()?;
        let recipe = read.recipe.ok_or("no liquid")?;
        let title = format!("{}, {}", old.title, old.date);
        row(&Normalised::of(title, &recipe.evaluate()?));
    }
    let official = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
    let official = official.recipe(liters(1.0), 1.0)?;
    row(&Normalised::of(
        "US federal ink, 1935",
        &official.evaluate()?,
    ));
    println!("  (the spans are those of the strength of the galls, 95 %; the acid is what");
    println!("  goes in, less the bases of the water)");

    heading("A bottle of 100 mL, weighed to 0.1 g");
    let made = recipe.evaluate()?.composition.volume();
    let bottle = recipe
        .scaled((milliliters(100.0) / made).value)
        .titled("Register ink after a receipt of 1740");
    let rounded = bottle.rounded(&Kit::new(grams(0.1), milliliters(1.0)))?;
    for line in &rounded.lines {
        let weighed = match line.measure {
            Measure::Cylinder { .. } => format!("{:.0} mL", line.steps),
            _ => format!("{:.1} g", line.rounded.in_grams()),
        };
        println!("  {weighed:>8}  {}", line.lot);
    }
    let ink = rounded.recipe.evaluate()?.composition;
    println!(
        "  fill up with rain water to {:.0} mL: {:.2} g/L of iron",
        ink.volume().in_milliliters(),
        ink.iron_mass_concentration().in_grams_per_liter()
    );
    let galls_g = rounded.lines.iter().find(|l| l.lot == galls.name());
    let kept = DEFAULT_HOLD_UP.0.typical * galls_g.map_or(0.0, |l| l.rounded.in_grams());
    println!("  (all stands together for a day and is strained last: the galls keep some");
    println!("  {kept:.0} mL of it, less when pressed; a BatchSheet has the full page)");
    Ok(())
}

fn heading(text: &str) {
    println!("\n{text}\n{}", "-".repeat(text.chars().count()));
}

fn amount(span: &Span<Quantity>) -> String {
    let unit = match span.typical {
        Quantity::Mass(_) => "g",
        Quantity::Volume(_) => "mL",
        Quantity::Time(_) => "s",
    };
    let [low, typical, high] = [span.low, span.typical, span.high].map(Quantity::in_metric);
    format!("{typical:.0} {unit}   ({low:.0} to {high:.0})")
}

fn volume(span: &Span<Volume>) -> String {
    format!(
        "{:.0} mL   ({:.0} to {:.0})",
        span.typical.in_milliliters(),
        span.low.in_milliliters(),
        span.high.in_milliliters()
    )
}

fn figure(x: Option<f64>) -> String {
    x.map_or_else(|| "?".into(), |x| format!("{x:.0}"))
}

/// As many digits as a recipe is worth.
fn digits(x: f64) -> String {
    if x < 10.0 {
        format!("{x:.2}")
    } else {
        format!("{x:.0}")
    }
}

/// The likeliest, with its span where there is one.
fn span(three: [f64; 3]) -> String {
    let [low, likeliest, high] = three.map(digits);
    if low == high {
        likeliest
    } else {
        format!("{likeliest} ({low}–{high})")
    }
}

fn row(n: &Normalised) {
    let g = &n.galloyl;
    let ratio = n.iron_per_galloyl.as_ref();
    println!(
        "  {:<34}{:>7.3}{:>18}{:>18}{:>7.1}{:>11.1}",
        n.title,
        n.iron.in_moles_per_liter(),
        span([g.low, g.typical, g.high].map(|c| c.in_moles_per_liter())),
        ratio.map_or_else(String::new, |r| span([r.low, r.value, r.high])),
        n.gum.in_grams_per_liter(),
        (n.strong_acid.in_millimoles_per_liter() * 10.0).round() / 10.0 + 0.0 // no "-0.0"
    );
}
