//! A reading as JSON: units in the field names.

use super::doubt::{Doubt, Meant};
use super::figures::Figures;
use super::reading::{Alternative, ReadLine, Reading};
use super::unit::{Quantity, UnitKind};
use super::word::{Candidate, Candidates};
use crate::quantity::{ReadMass, ReadVolume, Volume};
use crate::recipe::{LineKind, Recipe};
use crate::span::Span;
use serde::ser::{Serialize, SerializeMap, SerializeStruct, Serializer};

/// The only schema of a reading.
const SCHEMA: u32 = 1;

impl Serialize for Reading {
    /// `schema`, `title`, `place`, `from_year` and `to_year` (null where not
    /// known), `book`, `lines`, `liquid_ml`, `final_volume_ml`, `final_basis`,
    /// `figures`, `recipe` (its lines, worked out), `no_recipe`, `alternatives`,
    /// `doubts`, `notes`.
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let years = self.setting.years;
        let known = |year: i32, end: i32| (year != end).then_some(year);
        let any = super::Years::ANY;
        let mut out = to.serialize_struct("Reading", 16)?;
        out.serialize_field("schema", &SCHEMA)?;
        out.serialize_field("title", &self.title)?;
        out.serialize_field("place", &self.setting.place)?;
        out.serialize_field("from_year", &known(years.from(), any.from()))?;
        out.serialize_field("to_year", &known(years.to(), any.to()))?;
        out.serialize_field("book", &self.setting.book)?;
        out.serialize_field("lines", &self.lines)?;
        out.serialize_field("liquid_ml", &self.liquid.map(ml))?;
        out.serialize_field("final_volume_ml", &self.final_volume.map(ml))?;
        out.serialize_field("final_basis", &self.final_basis)?;
        out.serialize_field("figures", &self.figures)?;
        out.serialize_field("recipe", &recipe(self.recipe.as_ref()))?;
        let why = self.no_recipe.as_ref().map(ToString::to_string);
        out.serialize_field("no_recipe", &why)?;
        out.serialize_field("alternatives", &self.alternatives)?;
        out.serialize_field("doubts", &self.doubts)?;
        out.serialize_field("notes", &self.notes)?;
        out.end()
    }
}

impl Reading {
    /// The reading as JSON (feature `serde`); an empty text is a fault of ours.
    ///
    /// ```
    /// use ferrogall::history::{Pantry, historic_recipe};
    /// let reading = historic_recipe("FR02").unwrap().old_recipe(&Pantry::usual()?)?.read()?;
    /// assert!(reading.to_json().contains("\"final_volume_ml\":{\"low\":"));
    /// # Ok::<(), ferrogall::history::HistoryError>(())
    /// ```
    pub fn to_json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }
}

/// A span of figures.
#[derive(serde::Serialize)]
struct Figure3 {
    low: f64,
    typical: f64,
    high: f64,
}

fn plain(s: Span<f64>) -> Figure3 {
    Figure3 {
        low: s.low,
        typical: s.typical,
        high: s.high,
    }
}

fn ml(s: Span<Volume>) -> Figure3 {
    plain(s.map(|v| v.in_milliliters()))
}

/// A line of a recipe worked out: what to weigh.
#[derive(serde::Serialize)]
struct Weighing {
    lot: String,
    kind: LineKind,
    mass_g: f64,
}

fn recipe(recipe: Option<&Recipe>) -> Option<Vec<Weighing>> {
    let recipe = recipe?;
    let made = recipe.evaluate().ok()?;
    let line = |l: &crate::recipe::Line<'_>| Weighing {
        lot: l.lot.name().to_string(),
        kind: l.kind,
        mass_g: l.mass.in_grams(),
    };
    Some(made.lines.iter().map(line).collect())
}

const fn name_of_kind(kind: UnitKind) -> &'static str {
    match kind {
        UnitKind::Mass => "mass_g",
        UnitKind::Volume => "volume_ml",
        UnitKind::Time => "time_s",
    }
}

impl Serialize for ReadLine {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut out = to.serialize_map(None)?;
        out.serialize_entry("name", &self.name)?;
        out.serialize_entry("role", &self.role)?;
        let kind = self.amount.typical.kind();
        let amount = plain(self.amount.map(Quantity::in_metric));
        out.serialize_entry(name_of_kind(kind), &amount)?;
        out.serialize_entry("candidates", &self.candidates)?;
        out.serialize_entry("reasons", &self.reasons)?;
        out.end()
    }
}

impl Serialize for Candidates {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut out = to.serialize_struct("Candidates", 2)?;
        out.serialize_field("standing", &self.standing())?;
        out.serialize_field("units", self.all())?;
        out.end()
    }
}

impl Serialize for Candidate {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut out = to.serialize_map(None)?;
        out.serialize_entry("unit", self.unit.id)?;
        let size = self.unit.metric_value * self.times;
        out.serialize_entry(name_of_kind(self.unit.kind), &size)?;
        out.serialize_entry("relative_u", &self.unit.relative_u)?;
        out.serialize_entry("source", &self.unit.source)?;
        out.end()
    }
}

impl Serialize for Alternative {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut out = to.serialize_struct("Alternative", 4)?;
        out.serialize_field("taking", &self.taking)?;
        out.serialize_field("figures", &self.figures)?;
        let volume = self.final_volume.map(|v| v.in_milliliters());
        out.serialize_field("final_volume_ml", &volume)?;
        out.serialize_field("recipe", &recipe(self.recipe.as_ref()))?;
        out.end()
    }
}

impl Serialize for Doubt {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut out = to.serialize_struct("Doubt", 7)?;
        out.serialize_field("kind", &self.kind)?;
        out.serialize_field("lines", &self.lines)?;
        out.serialize_field("message", &self.message)?;
        out.serialize_field("value", &self.value)?;
        out.serialize_field("limit", &self.limit)?;
        out.serialize_field("unit", self.unit)?;
        out.serialize_field("meant", &self.meant.as_ref().map(shape))?;
        out.end()
    }
}

#[derive(serde::Serialize)]
struct MeantShape<'a> {
    words: &'a str,
    figures: &'a Figures,
    final_volume_ml: Option<f64>,
    recipe: Option<Vec<Weighing>>,
}

fn shape(meant: &Meant) -> MeantShape<'_> {
    MeantShape {
        words: &meant.words,
        figures: &meant.figures,
        final_volume_ml: meant.final_volume.map(|v| v.in_milliliters()),
        recipe: recipe(meant.recipe.as_ref()),
    }
}
