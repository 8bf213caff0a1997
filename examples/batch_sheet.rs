//! Prints a batch sheet.
//!
//! Without arguments: the sheet of our own demo, a bookbinder's workshop that
//! wants half a litre of ledger ink in 50 mL bottles from sumac leaf,
//! half-weathered green vitriol and hard tap water, and asks what bought
//! tannic acid in place of the leaf would change.
//!
//! ```text
//! cargo run --features serde --example batch_sheet                        the demo
//! cargo run --features serde --example batch_sheet -- recipe.json         a recipe of yours
//! cargo run --features serde --example batch_sheet -- recipe.json --json  the result as JSON
//! ```

mod bindery;

use ferrogall::bench::Lot;
use ferrogall::formulate::Equal;
use ferrogall::quantity::*;
use ferrogall::recipe::{BatchSheet, BottlePlan, Kit, SheetOptions, Storage};
use std::error::Error;
use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("{e}");
            ExitCode::FAILURE
        }
    }
}

const USAGE: &str = "\
batch_sheet                       the demo: ledger ink for a bindery
batch_sheet RECIPE.json [--json]  the sheet of a recipe, as text or as JSON
batch_sheet --materials           identifiers for \"material\" in a recipe
batch_sheet --inks                identifiers for \"reference_ink\"
batch_sheet --closures            identifiers for \"closure\" and \"wall_polymer\"
";

fn run() -> Result<(), Box<dyn Error>> {
    let mut path = None;
    let mut json = false;
    for argument in std::env::args().skip(1) {
        match argument.as_str() {
            "--json" => json = true,
            "--help" | "-h" => return print(USAGE),
            "--materials" => return print(&materials_table()),
            "--inks" => return print(&inks_table()),
            "--closures" => return print(&closures_table()),
            _ => path = Some(argument),
        }
    }
    let sheet = match path {
        None => workshop()?,
        Some(path) => from_file(&path)?,
    };
    print(&if json {
        as_json(&sheet)?
    } else {
        sheet.to_string()
    })
}

/// To standard output; somebody who has read enough is no error.
fn print(text: &str) -> Result<(), Box<dyn Error>> {
    match std::io::stdout().write_all(text.as_bytes()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => Err(e.into()),
        _ => Ok(()),
    }
}

fn materials_table() -> String {
    let row =
        |m: ferrogall::bench::Material| format!("{:<14}{:<40}{}\n", m.kind(), m.id(), m.name());
    ferrogall::bench::materials().map(row).collect()
}

fn inks_table() -> String {
    let row = |ink: &ferrogall::standards::ReferenceInk| format!("{:<28}{}\n", ink.id, ink.name);
    ferrogall::standards::reference_inks()
        .iter()
        .map(row)
        .collect()
}

fn closures_table() -> String {
    let closures = ferrogall::oxidation::closures().iter();
    let polymers = ferrogall::oxidation::polymers().iter();
    closures
        .map(|c| format!("closure       {:<28}{}\n", c.id, c.name))
        .chain(polymers.map(|p| format!("wall_polymer  {:<28}{}\n", p.id, p.name)))
        .collect()
}

/// Ten bottles of ledger ink from what is on the workshop's shelf.
fn workshop() -> Result<BatchSheet, Box<dyn Error>> {
    let tannic_acid = Lot::of("tannic_acid")?
        .named("tannic acid")
        .price(Price::per_kilogram(70.0)?)
        .build()?;
    let bottles = BottlePlan::new(10, milliliters(50.0))?
        .filled(Share::percent(94.0)?)?
        .losing(Share::percent(6.0)?)?;
    let recipe = bindery::ledger_ink()?
        .titled("Ledger ink for the bindery: ten bottles of 50 mL")
        .for_bottles(&bottles)?;

    let options = SheetOptions {
        kit: Some(Kit::new(grams(0.1), milliliters(1.0)).with(
            "muriatic acid 20 °Bé",
            ferrogall::recipe::Measure::Cylinder {
                step: milliliters(0.1),
            },
        )),
        bottles: Some(bottles),
        storage: Some(Storage {
            opened_every: Some(days(3.5)),
            drawn_per_opening: milliliters(0.4),
            ..Storage::default()
        }),
        substitute: Some(("sumac leaf".into(), tannic_acid, Equal::Galloyl)),
        currency: "EUR".into(),
    };
    Ok(BatchSheet::new(&recipe, &options)?)
}

#[cfg(feature = "serde")]
fn from_file(path: &str) -> Result<BatchSheet, Box<dyn Error>> {
    let text = std::fs::read_to_string(path).map_err(|e| format!("{path}: {e}"))?;
    Ok(ferrogall::json::sheet_from_json(&text)?)
}

#[cfg(feature = "serde")]
fn as_json(sheet: &BatchSheet) -> Result<String, Box<dyn Error>> {
    Ok(sheet.to_json()? + "\n")
}

#[cfg(not(feature = "serde"))]
fn from_file(_: &str) -> Result<BatchSheet, Box<dyn Error>> {
    Err("recipes in JSON need the feature `serde`".into())
}

#[cfg(not(feature = "serde"))]
fn as_json(_: &BatchSheet) -> Result<String, Box<dyn Error>> {
    Err("results in JSON need the feature `serde`".into())
}
