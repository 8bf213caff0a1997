//! Places and years: where and when a measure was used.

use crate::quantity::{OutOfRange, within};

/// A place whose measures the tables know, from the widest to the narrowest.
///
/// ```
/// use ferrogall::history::Place;
/// assert_eq!(Place::Florence.within(), Some(Place::Italy));
/// assert_eq!(Place::of("florence"), Some(Place::Florence));
/// assert_eq!(Place::of("Atlantis"), None);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
#[allow(missing_docs)] // their names say it; `name` says it in words
pub enum Place {
    Anywhere,
    England,
    UnitedStates,
    France,
    Paris,
    Languedoc,
    Aix,
    Arles,
    Avignon,
    Montpellier,
    Italy,
    Florence,
    Rome,
    Venice,
    Milan,
    Ticino,
    Turin,
    Bologna,
    Genoa,
    Naples,
    Palermo,
    Germany,
    Bavaria,
    Nuremberg,
    Prussia,
    Saxony,
    Hanover,
    Rhineland,
    Hesse,
    Baden,
    Wuerttemberg,
    Austria,
    Switzerland,
    Spain,
    Castile,
    Galicia,
    Portugal,
    Netherlands,
    Amsterdam,
    Maastricht,
    Sweden,
    Denmark,
    Russia,
    RomanWorld,
    IslamicWorld,
    Egypt,
    Syria,
    Iraq,
    Maghrib,
}

use Place::*;

/// Identifier, words, and what it lies in.
const ROWS: &[(Place, &str, &str, Option<Place>)] = &[
    (Anywhere, "anywhere", "no place known", None),
    (
        England,
        "england",
        "England and the United Kingdom",
        Some(Anywhere),
    ),
    (
        UnitedStates,
        "united_states",
        "the American colonies and the United States",
        Some(Anywhere),
    ),
    (France, "france", "France", Some(Anywhere)),
    (Paris, "paris", "Paris", Some(France)),
    (Languedoc, "languedoc", "Languedoc", Some(France)),
    (Aix, "aix", "Aix-en-Provence", Some(France)),
    (Arles, "arles", "Arles", Some(France)),
    (Avignon, "avignon", "Avignon", Some(France)),
    (Montpellier, "montpellier", "Montpellier", Some(Languedoc)),
    (Italy, "italy", "Italy", Some(Anywhere)),
    (Florence, "florence", "Florence and Tuscany", Some(Italy)),
    (Rome, "rome", "Rome", Some(Italy)),
    (Venice, "venice", "Venice", Some(Italy)),
    (Milan, "milan", "Milan and Lombardy", Some(Italy)),
    (Ticino, "ticino", "Ticino", Some(Milan)),
    (Turin, "turin", "Turin", Some(Italy)),
    (Bologna, "bologna", "Bologna", Some(Italy)),
    (Genoa, "genoa", "Genoa", Some(Italy)),
    (Naples, "naples", "Naples", Some(Italy)),
    (Palermo, "palermo", "Palermo", Some(Italy)),
    (Germany, "germany", "German lands", Some(Anywhere)),
    (Bavaria, "bavaria", "Bavaria", Some(Germany)),
    (Nuremberg, "nuremberg", "Nürnberg", Some(Germany)),
    (Prussia, "prussia", "Prussia", Some(Germany)),
    (Saxony, "saxony", "Saxony", Some(Germany)),
    (Hanover, "hanover", "Hanover", Some(Germany)),
    (
        Rhineland,
        "rhineland",
        "the Rhineland and Cologne",
        Some(Germany),
    ),
    (Hesse, "hesse", "Hesse", Some(Germany)),
    (Baden, "baden", "Baden", Some(Germany)),
    (Wuerttemberg, "wuerttemberg", "Württemberg", Some(Germany)),
    (Austria, "austria", "Austria and Bohemia", Some(Anywhere)),
    (Switzerland, "switzerland", "Switzerland", Some(Anywhere)),
    (Spain, "spain", "Spain", Some(Anywhere)),
    (Castile, "castile", "Castile", Some(Spain)),
    (Galicia, "galicia", "Galicia", Some(Spain)),
    (Portugal, "portugal", "Portugal", Some(Anywhere)),
    (
        Netherlands,
        "netherlands",
        "the Netherlands",
        Some(Anywhere),
    ),
    (Amsterdam, "amsterdam", "Amsterdam", Some(Netherlands)),
    (
        Maastricht,
        "maastricht",
        "the Maastricht region",
        Some(Netherlands),
    ),
    (Sweden, "sweden", "Sweden and Finland", Some(Anywhere)),
    (Denmark, "denmark", "Denmark", Some(Anywhere)),
    (Russia, "russia", "Russia", Some(Anywhere)),
    (RomanWorld, "roman_world", "the Roman world", Some(Anywhere)),
    (
        IslamicWorld,
        "islamic_world",
        "the Islamic world",
        Some(Anywhere),
    ),
    (Egypt, "egypt", "Egypt", Some(IslamicWorld)),
    (Syria, "syria", "Syria", Some(IslamicWorld)),
    (Iraq, "iraq", "Iraq", Some(IslamicWorld)),
    (Maghrib, "maghrib", "the Maghrib", Some(IslamicWorld)),
];

impl Place {
    /// Every place, the wide ones before those in them.
    pub fn all() -> impl Iterator<Item = Place> {
        ROWS.iter().map(|row| row.0)
    }

    fn row(self) -> Option<&'static (Place, &'static str, &'static str, Option<Place>)> {
        ROWS.iter().find(|row| row.0 == self)
    }

    /// The place of this identifier.
    pub fn of(id: &str) -> Option<Place> {
        ROWS.iter().find(|row| row.1 == id).map(|row| row.0)
    }

    /// Identifier for JSON and C.
    pub fn id(self) -> &'static str {
        self.row().map_or("", |row| row.1)
    }

    /// In words.
    pub fn name(self) -> &'static str {
        self.row().map_or("", |row| row.2)
    }

    /// The next wider place; nothing for anywhere.
    pub fn within(self) -> Option<Place> {
        self.row().and_then(|row| row.3)
    }

    /// Whether it is this place or lies in it.
    pub fn is_in(self, wider: Place) -> bool {
        let mut here = Some(self);
        while let Some(place) = here {
            if place == wider {
                return true;
            }
            here = place.within();
        }
        false
    }

    /// Whether one of the two lies in the other.
    pub fn touches(self, other: Place) -> bool {
        self.is_in(other) || other.is_in(self)
    }
}

impl core::fmt::Display for Place {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.name())
    }
}

/// A year or a span of years, both ends included; years before our era are
/// negative.
///
/// ```
/// use ferrogall::history::Years;
/// assert_eq!(Years::century(18)?, Years::between(1701, 1800)?);
/// assert!(Years::ANY.overlaps(Years::of(1740)?));
/// assert!(Years::between(1800, 1700).is_err());
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Years {
    from: i32,
    to: i32,
}

/// The earliest and the latest year taken.
const FIRST: i32 = -3000;
const LAST: i32 = 3000;

impl Years {
    /// No year known.
    pub const ANY: Years = Years {
        from: FIRST,
        to: LAST,
    };

    /// One year; -3000 to 3000.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn of(year: i32) -> Result<Years, OutOfRange> {
        Years::between(year, year)
    }

    /// A span of years; each from -3000 to 3000, the first not after the second.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn between(from: i32, to: i32) -> Result<Years, OutOfRange> {
        within("year", from.into(), FIRST.into(), LAST.into(), "")?;
        within("last year", to.into(), from.into(), LAST.into(), "")?;
        Ok(Years { from, to })
    }

    /// A century of our era, 1 to 30: 18 is 1701 to 1800.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn century(number: i32) -> Result<Years, OutOfRange> {
        within("century", number.into(), 1.0, 30.0, "")?;
        Years::between(100 * (number - 1) + 1, 100 * number)
    }

    pub(crate) const fn raw(from: i32, to: i32) -> Years {
        Years { from, to }
    }

    /// The first year.
    pub const fn from(self) -> i32 {
        self.from
    }

    /// The last year.
    pub const fn to(self) -> i32 {
        self.to
    }

    /// Whether both have a year in common.
    pub const fn overlaps(self, other: Years) -> bool {
        self.from <= other.to && other.from <= self.to
    }
}

impl core::fmt::Display for Years {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match *self {
            Years::ANY => f.write_str("no year known"),
            Years { from, to } if from == to => write!(f, "{from}"),
            Years { from, to } => write!(f, "{from} to {to}"),
        }
    }
}
