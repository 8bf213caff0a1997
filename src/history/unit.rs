//! A measure of weight, capacity or time, as a row.

use super::place::{Place, Years};
use crate::quantity::{Mass, Time, Volume, grams, milliliters};
use crate::source::Source;
use crate::span::Span;

/// What a unit measures.
///
/// ```
/// use ferrogall::history::{UnitKind, unit};
/// assert_eq!(unit("fr_pinte").unwrap().kind, UnitKind::Volume);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum UnitKind {
    /// A weight.
    Mass,
    /// A measure of capacity.
    Volume,
    /// A time.
    Time,
}

/// The family a unit belongs to.
///
/// ```
/// use ferrogall::history::{System, unit};
/// assert_eq!(unit("se_skalpund").unwrap().system, System::Swedish);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
#[allow(missing_docs)] // their names say it
pub enum System {
    English,
    Imperial,
    French,
    /// Of one French town.
    FrenchLocal,
    Italian,
    German,
    Spanish,
    Portuguese,
    Dutch,
    Swedish,
    Danish,
    Russian,
    Roman,
    Arabic,
    /// Of no fixed size: a drop, a spoonful.
    Vague,
    Time,
}

/// Where and when a unit was used.
///
/// ```
/// use ferrogall::history::{Place, unit};
/// let pint = unit("en_wine_pt").unwrap();
/// assert!(pint.used.iter().any(|u| u.place == Place::England && u.years.to() == 1825));
/// assert!(pint.used.iter().any(|u| u.place == Place::UnitedStates && u.years.to() > 1825));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Used {
    /// Where.
    pub place: Place,
    /// When; open ends where no year is known or it is still in use.
    pub years: Years,
}

/// A year of a table.
pub(crate) struct End(Option<i32>);

/// Still in use, or not known.
pub(crate) const OPEN: End = End(None);

#[allow(non_snake_case)] // a mark in the tables
pub(crate) const fn Y(year: i32) -> End {
    End(Some(year))
}

pub(crate) const fn used(place: Place, from: End, to: End) -> Used {
    let any = Years::ANY;
    let from = match from.0 {
        Some(year) => year,
        None => any.from(),
    };
    let to = match to.0 {
        Some(year) => year,
        None => any.to(),
    };
    Used {
        place,
        years: Years::raw(from, to),
    }
}

/// So much of something: a mass, a volume or a time.
///
/// ```
/// use ferrogall::history::{Quantity, unit};
/// use ferrogall::quantity::ReadMass;
/// let Quantity::Mass(pound) = unit("en_av_lb").unwrap().size() else { panic!() };
/// assert!((pound.in_grams() - 453.59237).abs() < 1e-9);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// A mass.
    Mass(Mass),
    /// A volume.
    Volume(Volume),
    /// A time.
    Time(Time),
}

impl Quantity {
    /// Of a figure in grams, millilitres or seconds.
    pub(crate) fn of(kind: UnitKind, metric: f64) -> Quantity {
        match kind {
            UnitKind::Mass => Quantity::Mass(grams(metric)),
            UnitKind::Volume => Quantity::Volume(milliliters(metric)),
            UnitKind::Time => Quantity::Time(Time::new::<uom::si::time::second>(metric)),
        }
    }

    /// What it is.
    pub const fn kind(self) -> UnitKind {
        match self {
            Quantity::Mass(_) => UnitKind::Mass,
            Quantity::Volume(_) => UnitKind::Volume,
            Quantity::Time(_) => UnitKind::Time,
        }
    }

    /// In grams, millilitres or seconds.
    pub fn in_metric(self) -> f64 {
        use crate::quantity::{ReadMass, ReadVolume};
        match self {
            Quantity::Mass(m) => m.in_grams(),
            Quantity::Volume(v) => v.in_milliliters(),
            Quantity::Time(t) => t.value,
        }
    }
}

impl From<Mass> for Quantity {
    fn from(m: Mass) -> Self {
        Quantity::Mass(m)
    }
}

impl From<Volume> for Quantity {
    fn from(v: Volume) -> Self {
        Quantity::Volume(v)
    }
}

/// An old unit.
///
/// ```
/// use ferrogall::history::{Place, Years, unit};
/// let once = unit("fr_once").unwrap();
/// assert!((once.metric_value - 30.594).abs() < 0.001); // not the troy ounce, 31.103 g
/// assert!(once.fits(Place::France, Years::of(1755)?));
/// assert!(!once.fits(Place::France, Years::of(1850)?));
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Unit {
    /// Identifier for JSON and C.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Its family.
    pub system: System,
    /// What it measures.
    pub kind: UnitKind,
    /// One of it, in grams, millilitres or seconds.
    pub metric_value: f64,
    /// Where and when it was used.
    pub used: &'static [Used],
    /// The same years in the words of the table: "c.1300 to present".
    pub validity: &'static str,
    /// How far one of it may be off, as a share of it: a half-width, not a
    /// standard uncertainty. Mostly a judgement of ours.
    pub relative_u: f64,
    /// What to know; empty when nothing.
    pub note: &'static str,
    /// Where the value comes from.
    pub source: Source,
}

impl Unit {
    /// One of it.
    pub fn size(&self) -> Quantity {
        Quantity::of(self.kind, self.metric_value)
    }

    /// So many grams, millilitres or seconds, whichever it measures.
    pub fn of_metric(&self, metric: f64) -> Quantity {
        Quantity::of(self.kind, metric)
    }

    /// One of it with its interval, in grams, millilitres or seconds.
    pub(crate) fn metric_span(&self) -> Span<f64> {
        let v = self.metric_value;
        Span {
            low: v * (1.0 - self.relative_u),
            typical: v,
            high: v * (1.0 + self.relative_u),
        }
    }

    /// Whether it may be meant in a text of this place and these years: the
    /// places lie in one another, the years have one in common.
    pub fn fits(&self, place: Place, years: Years) -> bool {
        let fits = |u: &Used| u.place.touches(place) && u.years.overlaps(years);
        self.used.iter().any(fits)
    }

    /// Whether it was used in this place at any time.
    pub fn fits_place(&self, place: Place) -> bool {
        self.fits(place, Years::ANY)
    }

    /// Whether it was used in these years in any place.
    pub fn fits_years(&self, years: Years) -> bool {
        self.fits(Place::Anywhere, years)
    }
}
