//! What can be made, as a value.

use crate::check::FEWEST_STEPS;
use crate::quantity::{Mass, ReadMass, ReadVolume, Volume};
use crate::recipe::Recipe;

/// So much of one lot.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::formulate::{Objective, Shelf, Stock, Wanted};
/// # use ferrogall::quantity::*;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
///     .with(Stock::of(&vitriol).on_hand(grams(20.0))?);
/// let wanted = Wanted::new(liters(1.0))?.iron(grams_per_liter(3.0))?;
/// let made = shelf.make(&wanted, Objective::LeastCost)?;
/// let taken = &made.taken[0];
/// assert!((taken.left.unwrap() + taken.mass - grams(20.0)).value.abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Taken {
    /// Name of the lot.
    pub lot: String,
    /// How much of it.
    pub mass: Mass,
    /// The same by volume, for a liquid.
    pub volume: Option<Volume>,
    /// Steps of its tool that is, where the shelf has tools.
    pub steps: Option<f64>,
    /// What is left of it, packs that were bought included; nothing where
    /// there is no end to it.
    pub left: Option<Mass>,
    /// Packs of it to buy.
    pub packs: f64,
    /// What it costs, if it has a price: packs as packs, the rest by mass.
    pub cost: Option<f64>,
}

/// One thing that was asked for, and what became of it.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::formulate::{Objective, Shelf, Stock, Wanted};
/// # use ferrogall::quantity::*;
/// // Half of the iron that 3 g/L take.
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.purity(1.0, 0.0)?.build()?;
/// let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
///     .with(Stock::of(&vitriol).on_hand(grams(7.467))?);
/// let wanted = Wanted::new(liters(1.0))?.iron(grams_per_liter(3.0)..)?;
/// let made = shelf.make(&wanted, Objective::LeastCost)?;
/// let figure = &made.figures[0];
/// assert_eq!((figure.id, figure.unit), ("iron", "g/L"));
/// assert!((figure.miss + 0.5).abs() < 1e-4); // half of it is wanting
/// assert_eq!(made.used_up, ["iron(II) sulfate heptahydrate"]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Figure {
    /// Identifier: of the [`Goal`](super::Goal), or `cost`, or `assurance`.
    pub id: &'static str,
    /// In words.
    pub name: &'static str,
    /// Low end of what is wanted, -infinity where open.
    pub low: f64,
    /// High end, infinity where open.
    pub high: f64,
    /// What the ink has; nothing for a proportion with nothing below the line.
    pub reached: Option<f64>,
    /// Unit of the three; empty for ratios, pH and money.
    pub unit: &'static str,
    /// How far it lies outside, as a share of the end it misses (of pH: in
    /// pH): negative below, positive above, 0 when it is met; 1 for a
    /// proportion that does not exist.
    pub miss: f64,
}

impl Figure {
    /// Whether what was wanted is had.
    pub fn is_met(&self) -> bool {
        self.miss == 0.0
    }
}

/// An ink that can be made from the shelf: the best, or where not everything
/// that is wanted can be had, the nearest.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Objective, Shelf, Wanted};
/// use ferrogall::quantity::*;
/// let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
///     .with(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?)
///     .with(&Lot::of("tannic_acid")?.build()?);
/// let wanted = Wanted::new(milliliters(100.0))?
///     .iron(grams_per_liter(3.0)..=grams_per_liter(6.0))?
///     .iron_ii_per_galloyl(0.6)?;
/// let made = shelf.make(&wanted, Objective::FewestWeighings)?;
/// assert!(made.meets_all());
/// assert_eq!(made.weighings, 2);
/// assert!(made.to_string().contains("2 weighings"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Blend {
    /// The recipe, ready to evaluate, scale and print.
    pub recipe: Recipe,
    /// Its volume.
    pub volume: Volume,
    /// What is taken of each lot, in the order of their names; the water that
    /// fills up is not among them.
    pub taken: Vec<Taken>,
    /// Lots to weigh or measure, water not counted.
    pub weighings: usize,
    /// What it costs, if anything in it has a price.
    pub cost: Option<f64>,
    /// Marc with what it holds, and what is left in packs that were bought.
    pub waste: Mass,
    /// What was asked for and what became of it.
    pub figures: Vec<Figure>,
    /// Lots used up, which may be why more cannot be had.
    pub used_up: Vec<String>,
}

impl Blend {
    /// Whether everything that was wanted is had.
    pub fn meets_all(&self) -> bool {
        self.figures.iter().all(Figure::is_met)
    }

    /// What was asked for and is not had.
    pub fn missed(&self) -> impl Iterator<Item = &Figure> {
        self.figures.iter().filter(|f| !f.is_met())
    }

    /// Lots in it that have no price and count as free, if others have one.
    pub fn unpriced(&self) -> impl Iterator<Item = &Taken> {
        let counted = self.cost.is_some();
        self.taken
            .iter()
            .filter(move |t| counted && t.cost.is_none())
    }

    /// One of the figures by its identifier.
    pub fn figure(&self, id: &str) -> Option<&Figure> {
        self.figures.iter().find(|f| f.id == id)
    }
}

impl core::fmt::Display for Figure {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let unit = if self.unit.is_empty() { "" } else { " " };
        match self.reached {
            Some(reached) => write!(f, "{} {}{unit}{}", self.name, short(reached), self.unit)?,
            None => write!(f, "{}: none", self.name)?,
        }
        match (self.low.is_finite(), self.high.is_finite()) {
            (true, true) if self.low == self.high => write!(f, ", wanted {}", short(self.low))?,
            (true, true) => write!(f, ", wanted {} to {}", short(self.low), short(self.high))?,
            (true, false) => write!(f, ", wanted at least {}", short(self.low))?,
            (false, true) => write!(f, ", wanted at most {}", short(self.high))?,
            (false, false) => {}
        }
        let size = self.miss.abs();
        let side = if self.miss < 0.0 {
            "too little"
        } else {
            "too much"
        };
        match (self.is_met() || self.reached.is_none(), self.id) {
            (true, _) => Ok(()),
            (false, "ph") => write!(f, ": off by {size:.2}"),
            (false, _) => write!(f, ": {} % {side}", short(100.0 * size)),
        }
    }
}

/// Three figures that count.
pub(super) fn short(x: f64) -> String {
    let size = x.abs();
    if size == 0.0 || !size.is_finite() {
        return format!("{x}");
    }
    let decimals = 2 - libm::floor(libm::log10(size)) as i32;
    let decimals = usize::try_from(decimals.clamp(0, 12)).unwrap_or(0);
    let text = format!("{x:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    }
}

impl core::fmt::Display for Blend {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(
            f,
            "{} mL of ink, {} weighing{}",
            short(self.volume.in_milliliters()),
            self.weighings,
            if self.weighings == 1 { "" } else { "s" }
        )?;
        if let Some(cost) = self.cost {
            write!(f, ", costs {cost:.2}")?;
        }
        let free: Vec<&str> = self.unpriced().map(|t| t.lot.as_str()).collect();
        if !free.is_empty() {
            write!(f, " (without a price: {})", free.join(", "))?;
        }
        writeln!(f)?;
        for taken in &self.taken {
            let (amount, unit) = match taken.volume {
                Some(volume) => (volume.in_milliliters(), "mL"),
                None => (taken.mass.in_grams(), "g"),
            };
            write!(f, "  {:>9} {unit:<2}  {}", short(amount), taken.lot)?;
            if taken.packs > 0.0 {
                write!(f, " ({} to buy)", packs(taken.packs))?;
            }
            if let Some(steps) = taken.steps.filter(|steps| *steps < FEWEST_STEPS) {
                let off = short_percent(0.5 / steps);
                write!(f, " ({} of its tool, good to {off} %)", counted(steps))?;
            }
            writeln!(f)?;
        }
        if let Some((water, volume)) = self.recipe.filled_up() {
            let ml = short(volume.in_milliliters());
            writeln!(f, "  fill up with {} to {ml} mL", water.name())?;
        }
        if self.waste.in_grams() > 0.005 {
            let g = short(self.waste.in_grams());
            let what = match self.taken.iter().any(|t| t.packs > 0.0) {
                true => "in opened packs and marc",
                false => "of marc, with what it holds",
            };
            writeln!(f, "  left over: {g} g {what}")?;
        }
        for figure in &self.figures {
            let mark = if figure.is_met() { "ok" } else { "NO" };
            writeln!(f, "  {mark}: {figure}")?;
        }
        if !self.meets_all() && !self.used_up.is_empty() {
            writeln!(f, "  used up: {}", self.used_up.join(", "))?;
        }
        Ok(())
    }
}

fn short_percent(share: f64) -> String {
    format!("{:.0}", libm::ceil(100.0 * share))
}

fn counted(steps: f64) -> String {
    if steps == 1.0 {
        "1 step".into()
    } else {
        format!("{steps:.0} steps")
    }
}

fn packs(count: f64) -> String {
    if count == 1.0 {
        "1 pack".into()
    } else {
        format!("{count:.0} packs")
    }
}
