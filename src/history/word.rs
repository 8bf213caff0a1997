//! What a word of an old recipe may mean.

use super::place::{Place, Years};
use super::unit::{Quantity, Unit, UnitKind};
use crate::span::Span;

/// The kind of book a recipe stands in.
///
/// ```
/// use ferrogall::history::Book;
/// assert_eq!(Book::default(), Book::Unknown);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Book {
    /// Nothing known of it.
    #[default]
    Unknown,
    /// An apothecary's, a physician's: twelve ounces to the pound.
    Apothecary,
    /// A merchant's, a household's: trade weight.
    Trade,
}

/// What is measured, as far as it decides the measure.
///
/// ```
/// use ferrogall::history::Goods;
/// assert_eq!(Goods::default(), Goods::Unknown);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Goods {
    /// Nothing known.
    #[default]
    Unknown,
    /// Wine, spirit or vinegar: never ale measure.
    Wine,
    /// Beer or ale: ale measure first.
    Beer,
}

/// What is known of a text: the more is known, the fewer units remain.
///
/// ```
/// use ferrogall::history::{Book, Place, Setting, Years, word};
/// let parish = Setting::new(Place::England, Years::of(1740)?);
/// let wide = word("pound").unwrap().candidates(&Setting::default());
/// let narrow = word("pound").unwrap().candidates(&parish.in_book(Book::Trade));
/// assert!(narrow.all().len() < wide.all().len());
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Setting {
    /// Where it was written, or used.
    pub place: Place,
    /// When.
    pub years: Years,
    /// In what kind of book.
    pub book: Book,
}

impl Default for Setting {
    fn default() -> Self {
        Setting::new(Place::Anywhere, Years::ANY)
    }
}

impl Setting {
    /// A place and a year, the book unknown.
    pub const fn new(place: Place, years: Years) -> Setting {
        Setting {
            place,
            years,
            book: Book::Unknown,
        }
    }

    /// The same in a book of this kind.
    #[must_use]
    pub const fn in_book(mut self, book: Book) -> Setting {
        self.book = book;
        self
    }
}

/// One meaning of a word: a unit, or so many of it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sense {
    pub(crate) unit: &'static str,
    pub(crate) times: f64,
    /// Its place in the order when nothing is known of the book, in an
    /// apothecary's, in trade; 0: not meant there.
    pub(crate) rank: [u8; 3],
    /// Ale measure.
    pub(crate) ale: bool,
}

/// A word of old recipes.
///
/// ```
/// use ferrogall::history::word;
/// assert_eq!(word("Pounds").unwrap().id, "pound");
/// assert_eq!(word("℥").unwrap().id, "ounce_sign");
/// assert!(word("furlong").is_none());
/// ```
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Word {
    /// Identifier.
    pub id: &'static str,
    /// How it is spelled, in small letters.
    pub spellings: &'static [&'static str],
    /// What to beware of; empty when nothing.
    pub trap: &'static str,
    pub(crate) senses: &'static [Sense],
}

impl PartialEq for Word {
    fn eq(&self, other: &Word) -> bool {
        self.id == other.id
    }
}

/// How a candidate stands to what is known of the text.
///
/// ```
/// use ferrogall::history::{Place, Setting, Standing, Years, word};
/// // Nobody in France measured by fluid ounces in 1740.
/// let found = word("fluid ounce").unwrap()
///     .candidates(&Setting::new(Place::France, Years::of(1740)?));
/// assert_eq!(found.standing(), Standing::OtherPlace);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Standing {
    /// In use there and then.
    Fits,
    /// Used in the place, but not in those years.
    OtherTime,
    /// Used in those years, but not in the place.
    OtherPlace,
    /// Neither.
    OtherPlaceAndTime,
}

impl Standing {
    /// In words.
    ///
    /// ```
    /// use ferrogall::history::Standing;
    /// assert_eq!(Standing::OtherTime.label(), "not in use in those years");
    /// ```
    pub const fn label(self) -> &'static str {
        match self {
            Standing::Fits => "in use there and then",
            Standing::OtherTime => "not in use in those years",
            Standing::OtherPlace => "not in use in that place",
            Standing::OtherPlaceAndTime => "neither of that place nor of those years",
        }
    }
}

/// A unit that a word may mean.
///
/// ```
/// use ferrogall::history::{Place, Setting, Years, word};
/// let setting = Setting::new(Place::Netherlands, Years::of(1850)?);
/// let pond = word("pond").unwrap().candidates(&setting);
/// assert_eq!(pond.likeliest().unit.id, "nl_pond_metric"); // a kilogram
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Candidate {
    /// The unit.
    pub unit: &'static Unit,
    /// How many of it the word means: 1, or 1/8 for a pint of a gallon that
    /// is the only one in the table.
    pub times: f64,
}

impl Candidate {
    pub(crate) const fn just(unit: &'static Unit) -> Candidate {
        Candidate { unit, times: 1.0 }
    }

    /// One of it with its interval, in grams, millilitres or seconds.
    pub(crate) fn metric_span(&self) -> Span<f64> {
        self.unit.metric_span().map(|x| x * self.times)
    }

    /// One of it.
    pub fn size(&self) -> Quantity {
        Quantity::of(self.unit.kind, self.unit.metric_value * self.times)
    }
}

/// What a word may mean in a text, the likeliest first; never empty, all of
/// one kind.
///
/// ```
/// use ferrogall::history::{Book, Place, Setting, Years, word};
/// use ferrogall::quantity::OutOfRange;
/// let book = Setting::new(Place::England, Years::of(1700)?).in_book(Book::Apothecary);
/// let pound = word("pound").unwrap().candidates(&book);
/// assert_eq!(pound.likeliest().unit.id, "en_ap_lb");
/// // 373 g, but it may be one of 454 g: druggists bought by that.
/// let size = pound.size();
/// assert!(size.low.in_metric() < 373.3 && size.high.in_metric() > 453.5);
/// # Ok::<(), OutOfRange>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Candidates {
    list: Vec<Candidate>,
    first: Candidate,
    standing: Standing,
}

impl Candidates {
    pub(crate) fn only(unit: &'static Unit, standing: Standing) -> Candidates {
        let first = Candidate::just(unit);
        Candidates {
            list: vec![first],
            first,
            standing,
        }
    }

    /// The likeliest.
    pub const fn likeliest(&self) -> Candidate {
        self.first
    }

    /// All, the likeliest first.
    pub fn all(&self) -> &[Candidate] {
        &self.list
    }

    /// How they stand to what is known of the text: all alike. When nothing
    /// fits, what comes nearest is offered, and this says so.
    pub const fn standing(&self) -> Standing {
        self.standing
    }

    /// What they measure.
    pub const fn kind(&self) -> UnitKind {
        self.first.unit.kind
    }

    /// One of it: the likeliest, and from the least to the most that any may
    /// mean, their own uncertainty included.
    pub fn size(&self) -> Span<Quantity> {
        self.metric_span().map(|x| Quantity::of(self.kind(), x))
    }

    pub(crate) fn metric_span(&self) -> Span<f64> {
        let mut out = self.first.metric_span();
        for c in &self.list {
            let one = c.metric_span();
            out.low = out.low.min(one.low);
            out.high = out.high.max(one.high);
        }
        out
    }

    /// The same with one of them taken for certain.
    pub(crate) fn taking(&self, candidate: Candidate) -> Candidates {
        Candidates {
            list: vec![candidate],
            first: candidate,
            standing: self.standing,
        }
    }
}

impl Word {
    /// What it may mean in such a text.
    pub fn candidates(&'static self, setting: &Setting) -> Candidates {
        self.candidates_for(setting, Goods::Unknown)
    }

    /// What it may mean of such goods: a pint of beer is not a pint of wine.
    pub fn candidates_for(&'static self, setting: &Setting, goods: Goods) -> Candidates {
        let column = match setting.book {
            Book::Unknown => 0,
            Book::Apothecary => 1,
            Book::Trade => 2,
        };
        // Within a rank the measure of the place itself comes before one of a
        // wider region.
        let own = |unit: &Unit| unit.used.iter().any(|u| u.place.is_in(setting.place));
        let mut ranked: Vec<(u8, bool, Candidate)> = Vec::new();
        for sense in self.senses {
            let rank = sense.rank.get(column).copied().unwrap_or(0);
            let Some(unit) = super::unit(sense.unit) else {
                continue;
            };
            if rank == 0 || (sense.ale && goods == Goods::Wine) {
                continue;
            }
            let rank = if sense.ale && goods == Goods::Beer {
                0
            } else {
                rank
            };
            let times = sense.times;
            ranked.push((rank, !own(unit), Candidate { unit, times }));
        }
        ranked.sort_by_key(|(rank, wider, _)| (*rank, *wider)); // stable: then table order
        let (place, years) = (setting.place, setting.years);
        let nearest: [(Standing, Place, Years); 4] = [
            (Standing::Fits, place, years),
            (Standing::OtherTime, place, Years::ANY),
            (Standing::OtherPlace, Place::Anywhere, years),
            (Standing::OtherPlaceAndTime, Place::Anywhere, Years::ANY),
        ];
        for (standing, place, years) in nearest {
            let list: Vec<Candidate> = ranked
                .iter()
                .map(|(.., c)| *c)
                .filter(|c| c.unit.fits(place, years))
                .collect();
            if let Some(first) = list.first().copied() {
                return Candidates {
                    list,
                    first,
                    standing,
                };
            }
        }
        // Every word has a sense in every kind of book (held by a test), so
        // this is never reached: a grain for the compiler.
        Candidates::only(super::GRAIN, Standing::OtherPlaceAndTime)
    }
}
