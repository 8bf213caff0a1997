//! How usual a figure is among old recipes.

use super::figures::Figure;
use super::place::{Place, Years};
use super::recipes::{HistoricRecipe, rows};
use crate::quantity::{OutOfRange, within};
use crate::source::{Source, Status};

/// Every recipe of the table, those of laboratories and workshops included.
///
/// ```
/// assert_eq!(ferrogall::history::historic_recipes().count(), 55);
/// ```
pub fn historic_recipes() -> impl Iterator<Item = &'static HistoricRecipe> {
    rows()
}

/// The recipe of this identifier.
///
/// ```
/// assert!(ferrogall::history::historic_recipe("NL01").is_some());
/// ```
pub fn historic_recipe(id: &str) -> Option<&'static HistoricRecipe> {
    rows().find(|r| r.id == id)
}

/// The historic set: gall inks only. Laboratory inks, modern craft, the US
/// standards, Moschini's ink without galls and two rows whose very amounts are
/// suspect are left out; each row says so in
/// [`left_out`](HistoricRecipe::left_out).
///
/// A small sample picked by hand: it describes itself, not history.
pub fn historic() -> HistoricSet {
    HistoricSet {
        rows: rows().filter(|r| r.left_out.is_empty()).collect(),
    }
}

/// Old recipes to compare with.
///
/// ```
/// use ferrogall::history::{Figure, Place, historic};
/// let all = historic();
/// let french = all.in_place(Place::France);
/// assert!(french.len() >= 4 && french.len() < all.len());
/// // A recipe with as much vitriol as galls is among the iron-rich.
/// assert!(all.percentile(Figure::GallsPerVitriol, 1.0).unwrap() < 15.0);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct HistoricSet {
    rows: Vec<&'static HistoricRecipe>,
}

/// Where the values of a figure lie, by nearest rank.
///
/// ```
/// use ferrogall::history::{Figure, historic};
/// let q = historic().quantiles(Figure::GallsPerVitriol).unwrap();
/// assert_eq!(q.median, 2.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Quantiles {
    /// How many recipes tell the figure.
    pub n: usize,
    /// The least.
    pub min: f64,
    /// 5 % lie at or below.
    pub p05: f64,
    /// A quarter lies at or below.
    pub p25: f64,
    /// The middle.
    pub median: f64,
    /// Three quarters lie at or below.
    pub p75: f64,
    /// 95 % lie at or below.
    pub p95: f64,
    /// The most.
    pub max: f64,
}

impl HistoricSet {
    /// Its recipes.
    pub fn recipes(&self) -> &[&'static HistoricRecipe] {
        &self.rows
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    fn only(&self, keep: impl Fn(&HistoricRecipe) -> bool) -> HistoricSet {
        HistoricSet {
            rows: self.rows.iter().copied().filter(|r| keep(r)).collect(),
        }
    }

    /// Those of a place, and of the places in it.
    #[must_use]
    pub fn in_place(&self, place: Place) -> HistoricSet {
        self.only(|r| r.place.is_in(place))
    }

    /// Those whose span of years has one in common with this.
    #[must_use]
    pub fn in_years(&self, years: Years) -> HistoricSet {
        self.only(|r| r.years.overlaps(years))
    }

    /// Those of a century; a recipe with a span counts where it begins.
    #[must_use]
    pub fn of_century(&self, number: i32) -> HistoricSet {
        self.only(|r| r.century() == number)
    }

    /// The values of a figure, in rising order.
    pub fn values(&self, figure: Figure) -> Vec<f64> {
        let one = |r: &&'static HistoricRecipe| r.figures().get(figure);
        let mut values: Vec<f64> = self.rows.iter().filter_map(one).collect();
        values.sort_unstable_by(f64::total_cmp);
        values
    }

    /// The value below or at which this share of the recipes lies, by nearest
    /// rank: 0 the least, 1 the most. `None` where no recipe tells.
    ///
    /// # Errors
    /// [`OutOfRange`] for a share outside 0 to 1.
    pub fn quantile(&self, figure: Figure, share: f64) -> Result<Option<f64>, OutOfRange> {
        within("share", share, 0.0, 1.0, "")?;
        Ok(nearest_rank(&self.values(figure), share))
    }

    /// Where the values of a figure lie; `None` where no recipe tells.
    pub fn quantiles(&self, figure: Figure) -> Option<Quantiles> {
        let values = self.values(figure);
        let at = |share: f64| nearest_rank(&values, share);
        Some(Quantiles {
            n: values.len(),
            min: at(0.0)?,
            p05: at(0.05)?,
            p25: at(0.25)?,
            median: at(0.5)?,
            p75: at(0.75)?,
            p95: at(0.95)?,
            max: at(1.0)?,
        })
    }

    /// The share of recipes below a value, of 100; those equal to it (to one
    /// part in 10^9) count half. `None` where no recipe tells, or for NaN.
    pub fn percentile(&self, figure: Figure, value: f64) -> Option<f64> {
        let values = self.values(figure);
        if values.is_empty() || value.is_nan() {
            return None;
        }
        let slack = 1e-9 * value.abs();
        let below = values.iter().filter(|v| **v < value - slack).count();
        let upto = values.iter().filter(|v| **v <= value + slack).count();
        Some(50.0 * (below + upto) as f64 / values.len() as f64)
    }
}

/// The value of this rank in a rising list.
fn nearest_rank(values: &[f64], share: f64) -> Option<f64> {
    // A share such as 0.05 of 20 is the first, whatever the last bit says.
    let rank = libm::ceil(share * values.len() as f64 - 1e-9) as usize;
    values.get(rank.max(1) - 1).copied()
}

/// Quartiles of a fuller collection, as published with it.
///
/// ```
/// use ferrogall::history::{Figure, published_quartiles};
/// let galls = published_quartiles().iter().find(|q| q.figure == Figure::GallsPerLiter).unwrap();
/// assert_eq!((galls.n, galls.median), (51, 93.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct PublishedQuartiles {
    /// Of what.
    pub figure: Figure,
    /// Of how many recipes.
    pub n: usize,
    /// First quartile.
    pub p25: f64,
    /// Middle.
    pub median: f64,
    /// Third quartile.
    pub p75: f64,
    /// The least.
    pub min: f64,
    /// The most.
    pub max: f64,
    /// Where they come from.
    pub source: Source,
}

const PUBLISHED: Source = Source::new(
    "reference notes to a collection of 80 recipes, of which 55 are in the table here; printed to two or three digits",
    Status::Secondary,
);

const fn published(
    figure: Figure,
    n: usize,
    [p25, median, p75]: [f64; 3],
    [min, max]: [f64; 2],
) -> PublishedQuartiles {
    PublishedQuartiles {
        figure,
        n,
        p25,
        median,
        p75,
        min,
        max,
        source: PUBLISHED,
    }
}

const QUARTILES: &[PublishedQuartiles] = &[
    published(Figure::GallsPerVitriol, 60, [1.5, 2.0, 2.7], [0.25, 12.0]),
    published(
        Figure::GallsPerLiter,
        51,
        [64.0, 93.0, 120.0],
        [32.0, 667.0],
    ),
    published(
        Figure::VitriolPerLiter,
        50,
        [30.0, 42.0, 64.0],
        [7.0, 250.0],
    ),
    published(Figure::GumPerLiter, 47, [28.0, 33.0, 48.0], [7.0, 120.0]),
    published(Figure::GumPerGalls, 56, [0.31, 0.375, 0.50], [0.03, 1.0]),
    published(Figure::IronPerLiter, 50, [6.0, 8.4, 12.9], [1.4, 50.0]),
];

/// Quartiles of the fuller collection of 80 recipes from which the table here
/// is a part. The figures of the crate are computed from its own table.
pub const fn published_quartiles() -> &'static [PublishedQuartiles] {
    QUARTILES
}
