//! Old inks for the tests: lots, amounts, rows of the table.
#![allow(dead_code)] // not every test needs all

use ferrogall::history::*;

pub fn pantry() -> Pantry {
    Pantry::usual().unwrap()
}

pub fn amount(text: &str) -> OldAmount {
    OldAmount::parse(text).unwrap_or_else(|e| panic!("{text}: {e}"))
}

pub fn england(year: i32) -> Setting {
    Setting::new(Place::England, Years::of(year).unwrap())
}

/// Galls, vitriol, gum, water; an empty text for none.
pub fn ink(setting: Setting, [galls, vitriol, gum, water]: [&str; 4]) -> OldRecipe {
    let p = pantry();
    let mut out = OldRecipe::new("an ink", setting);
    for (role, lot, text) in [
        (Role::Galls, &p.galls, galls),
        (Role::IronSalt, &p.vitriol, vitriol),
        (Role::Gum, &p.gum, gum),
        (Role::Liquid, &p.water, water),
    ] {
        if !text.is_empty() {
            out = out.line(OldLine::new(role, lot, amount(text)));
        }
    }
    out
}

pub fn read_row(id: &str) -> Reading {
    let text = historic_recipe(id).unwrap().old_recipe(&pantry()).unwrap();
    text.read().unwrap_or_else(|e| panic!("{id}: {e}"))
}

pub fn doubts(reading: &Reading, kind: DoubtKind) -> Vec<&Doubt> {
    reading.doubts.iter().filter(|d| d.kind == kind).collect()
}
