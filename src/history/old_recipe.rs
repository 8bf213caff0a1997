//! An old recipe as it is written.

use super::amount::OldAmount;
use super::word::{Goods, Setting};
use crate::bench::Lot;
use crate::quantity::{Mass, Share};

/// What a line is in the ink.
///
/// ```
/// use ferrogall::history::Role;
/// assert_ne!(Role::Galls, Role::Gum);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Role {
    /// Galls, or other plant matter that is soaked.
    Galls,
    /// Vitriol, or another iron salt.
    IronSalt,
    /// Gum.
    Gum,
    /// A liquid that goes in.
    Liquid,
    /// Anything else.
    Other,
}

/// A line of an old recipe.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::history::{Goods, OldAmount, OldLine, Role};
/// let water = Lot::of("distilled_water")?.build()?;
/// // No lot of beer is at hand: water stands for it, in ale measure.
/// let beer = OldLine::new(Role::Liquid, &water, OldAmount::parse("1 quart")?)
///     .called("stale beer")
///     .of(Goods::Beer);
/// assert_eq!(beer.name(), "stale beer");
/// # Ok::<(), ferrogall::history::HistoryError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct OldLine {
    pub(crate) name: String,
    pub(crate) role: Role,
    pub(crate) lot: Option<Lot>,
    pub(crate) amount: OldAmount,
    pub(crate) goods: Goods,
    pub(crate) rendered: Option<OldAmount>,
}

impl OldLine {
    /// So much of a lot that stands for what the recipe names.
    pub fn new(role: Role, lot: &Lot, amount: OldAmount) -> OldLine {
        OldLine {
            name: lot.name().to_string(),
            role,
            lot: Some(lot.clone()),
            amount,
            goods: Goods::Unknown,
            rendered: None,
        }
    }

    /// Something without a lot: it is read, but left out of the recipe.
    pub fn without_lot(name: impl Into<String>, amount: OldAmount) -> OldLine {
        OldLine {
            name: name.into(),
            role: Role::Other,
            lot: None,
            amount,
            goods: Goods::Unknown,
            rendered: None,
        }
    }

    /// What the recipe calls it.
    #[must_use]
    pub fn called(mut self, name: impl Into<String>) -> OldLine {
        self.name = name.into();
        self
    }

    /// What is measured, where it decides the measure.
    #[must_use]
    pub fn of(mut self, goods: Goods) -> OldLine {
        self.goods = goods;
        self
    }

    /// What a later edition makes of the amount, to be compared.
    #[must_use]
    pub fn rendered_as(mut self, amount: OldAmount) -> OldLine {
        self.rendered = Some(amount);
        self
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its amount.
    pub fn amount(&self) -> &OldAmount {
        &self.amount
    }
}

/// What volume the recipe ends with.
///
/// ```
/// use ferrogall::history::Ending;
/// use ferrogall::quantity::Share;
/// assert_ne!(Ending::BoiledTo(Share::HALF), Ending::BoiledUnclear(Share::HALF));
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Ending {
    /// Nothing said: the liquid that goes in.
    #[default]
    Charge,
    /// Boiled down to this share of the liquid: "to a half".
    BoiledTo(Share),
    /// Boiled down by this share: "till a fourth part is wasted".
    BoiledBy(Share),
    /// "Reduced two thirds", which may be either; read as "to".
    BoiledUnclear(Share),
    /// It yields so much, or is boiled down till so much is left.
    Yields(OldAmount),
}

impl Ending {
    /// The volume it yields, where the text says so.
    pub(crate) fn yields(&self) -> Option<&OldAmount> {
        match self {
            Ending::Yields(amount) => Some(amount),
            _ => None,
        }
    }
}

/// An old recipe: lines, and what is known of where they stand.
///
/// It is plain data; [`read`](OldRecipe::read) checks it.
///
/// ```
/// use ferrogall::history::{HistoryError, OldRecipe, Setting};
/// assert_eq!(OldRecipe::new("nothing", Setting::default()).read().unwrap_err(), HistoryError::Empty);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct OldRecipe {
    pub(crate) title: String,
    pub(crate) setting: Setting,
    pub(crate) lines: Vec<OldLine>,
    pub(crate) ending: Ending,
    pub(crate) stated_total: Option<OldAmount>,
    pub(crate) part: Option<Mass>,
    pub(crate) strained_first: bool,
    pub(crate) notes: Vec<String>,
}

impl OldRecipe {
    /// An empty recipe of a place and time.
    pub fn new(title: impl Into<String>, setting: Setting) -> OldRecipe {
        OldRecipe {
            title: title.into(),
            setting,
            lines: Vec::new(),
            ending: Ending::Charge,
            stated_total: None,
            part: None,
            strained_first: false,
            notes: Vec::new(),
        }
    }

    /// Adds a line.
    #[must_use]
    pub fn line(mut self, line: OldLine) -> OldRecipe {
        self.lines.push(line);
        self
    }

    /// Says what volume it ends with.
    #[must_use]
    pub fn ending(mut self, ending: Ending) -> OldRecipe {
        self.ending = ending;
        self
    }

    /// What the text says that its liquids come to, to be compared with their
    /// sum.
    #[must_use]
    pub fn saying_liquids_are(mut self, amount: OldAmount) -> OldRecipe {
        self.stated_total = Some(amount);
        self
    }

    /// What one part weighs, for amounts in parts; see [`Proportions`](super::Proportions).
    #[must_use]
    pub fn with_part(mut self, part: Mass) -> OldRecipe {
        self.part = Some(part);
        self
    }

    /// The galls are strained off before the salts go in, so that the marc
    /// keeps tannin back. Else everything stands in one pot and is strained at
    /// the end: the marc then takes ink, but no strength.
    #[must_use]
    pub fn strained_first(mut self) -> OldRecipe {
        self.strained_first = true;
        self
    }

    /// Adds a note.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> OldRecipe {
        self.notes.push(note.into());
        self
    }

    /// The same recipe, with other knowledge of place, year and book.
    #[must_use]
    pub fn set_in(mut self, setting: Setting) -> OldRecipe {
        self.setting = setting;
        self
    }

    /// Its title.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Its lines.
    pub fn lines(&self) -> &[OldLine] {
        &self.lines
    }

    /// What volume it ends with.
    pub const fn ends(&self) -> &Ending {
        &self.ending
    }

    /// Whether the galls are strained off before the salts go in.
    pub const fn is_strained_first(&self) -> bool {
        self.strained_first
    }

    /// What is known of it.
    pub const fn setting(&self) -> Setting {
        self.setting
    }
}
