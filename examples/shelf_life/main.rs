//! How long the bindery's ledger ink keeps in a bottle: a page to read, and a
//! figure of the bottle's year.
//!
//! The ink is that of `batch_sheet`; the bottle and what was seen of it are of
//! our own invention too: 30 mL in a 40 mL bottle with the cap of a drink
//! bottle, opened every week for a pen to be filled.
//!
//! ```text
//! cargo run --release --example shelf_life               target/shelf_life.svg
//! cargo run --release --example shelf_life -- mine.svg   another file
//! ```

mod advice;
#[path = "../bindery/mod.rs"]
mod bindery;
mod figure;
mod page;
mod story;
mod words;

use std::error::Error;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;
use story::Story;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("{e}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), Box<dyn Error>> {
    let path = match std::env::args_os().nth(1) {
        Some(path) => PathBuf::from(path),
        None => {
            std::fs::create_dir_all("target")?;
            PathBuf::from("target/shelf_life.svg")
        }
    };
    let story = Story::of(199)?;
    std::fs::write(&path, figure::svg(&story)?)?;
    let text = format!("{}\n{}\n", page::page(&story), path.display());
    match std::io::stdout().write_all(text.as_bytes()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => Err(e.into()),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nobody is to read one of the three figures without the others.
    #[test]
    fn page_and_figure_hold_what_they_promise() -> Result<(), Box<dyn Error>> {
        let story = Story::of(9)?;
        let page = page::page(&story);
        for figure in ["bound", "estimate", "floor"] {
            let rows = page.lines().filter(|l| l.trim_start().starts_with(figure));
            assert!(rows.count() >= 2, "{figure}");
        }
        for bought in &story.bought {
            assert!(page.contains(&advice::name_of(&bought.measure)));
            let caution = bought.measure.caution().unwrap_or_default();
            let words: Vec<&str> = caution.split_whitespace().collect();
            let flat: Vec<&str> = page.split_whitespace().collect();
            assert!(flat.join(" ").contains(&words.join(" ")), "{caution}");
        }
        assert!(!page.contains("NaN"));
        let wide = page.lines().find(|l| l.chars().count() > 80);
        assert_eq!(wide, None);
        let svg = figure::svg(&story)?;
        assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"));
        assert!(!svg.contains("NaN"));
        Ok(())
    }

    #[test]
    fn times_as_one_says_them() {
        use ferrogall::quantity::days;
        for (day, words) in [
            (0.0, "at once"),
            (0.75, "18 hours"),
            (1.3, "1 day"),
            (12.0, "12 days"),
            (91.0, "3.0 months"),
            (730.5, "2.0 years"),
        ] {
            assert_eq!(words::spoken(days(day)), words);
        }
    }
}
