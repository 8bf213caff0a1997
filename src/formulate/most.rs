//! The most that can be made, and what one more purchase would give.

use super::blend::short;
use super::make::Search;
use super::posed::{Batch, Point, Steps, used_up};
use super::program::ProgramError;
use super::settle::Way;
use super::{Blend, FormulateError, Goal, Objective, Shelf, Wanted};
use crate::quantity::{MAX_VOLUME_M3, Mass, ReadMass, ReadVolume, Volume, kilograms};

/// What more of one lot would give.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Shelf, Stock, Wanted};
/// use ferrogall::quantity::*;
/// let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
///     .with(Stock::of(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?).on_hand(grams(15.0))?)
///     .with(Stock::of(&Lot::of("tannic_acid")?.build()?).on_hand(grams(100.0))?);
/// let wanted = Wanted::new(liters(1.0))?.iron(grams_per_liter(3.0))?.iron_ii_per_galloyl(0.6)?;
/// let most = shelf.most(&wanted)?;
/// let more = &most.more[0];
/// assert_eq!(more.mass, grams(15.0)); // as much again
/// assert!((more.volume / most.blend.volume).value > 0.99); // doubles it
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct More {
    /// Name of the lot.
    pub lot: String,
    /// So much more of it: a pack where it is sold in packs, else as much
    /// again as there is.
    pub mass: Mass,
    /// What that costs, if it has a price.
    pub cost: Option<f64>,
    /// Ink that could be made beyond what can be made now.
    pub volume: Volume,
}

/// The most that can be made from what is on hand.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::formulate::{Shelf, Stock, Wanted};
/// # use ferrogall::quantity::*;
/// # let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
/// #     .with(Stock::of(&Lot::of("iron_ii_sulfate_heptahydrate")?.named("green vitriol").build()?).on_hand(grams(15.0))?)
/// #     .with(Stock::of(&Lot::of("tannic_acid")?.build()?).on_hand(grams(100.0))?);
/// let wanted = Wanted::new(liters(1.0))?.iron(grams_per_liter(3.0))?.iron_ii_per_galloyl(0.6)?;
/// let most = shelf.most(&wanted)?;
/// assert_eq!(most.blend.used_up, ["green vitriol"]);
/// assert!(most.to_string().contains("15 g more of green vitriol"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Most {
    /// The ink; its `used_up` names what limits it.
    pub blend: Blend,
    /// What more of each lot that limits would give by itself, the most first;
    /// of lots that are sold but not on hand, too.
    pub more: Vec<More>,
}

impl Shelf {
    /// The most of an ink that can be made from what is on hand; the volume
    /// that is wanted does not count. Nothing is bought, and amounts are of
    /// any size.
    ///
    /// # Errors
    /// [`FormulateError::NothingLimits`] where there is no end to it,
    /// [`ProgramError::Infeasible`] where the shelf cannot give a drop of it,
    /// and as [`Shelf::make`].
    pub fn most(&self, wanted: &Wanted) -> Result<Most, FormulateError> {
        let plain = Shelf {
            kit: None,
            ..self.clone()
        };
        let (volume, point) = plain.most_of(wanted)?;
        let mut search = Search::of(&plain, wanted, Objective::LeastCost, Batch::Most)?;
        let limits = used_up(&search.rows, &point, Batch::Most);
        let mut more = Vec::new();
        for (index, stock) in plain.stocks.iter().enumerate() {
            let on_hand = stock.limit().map_or(f64::INFINITY, |m| m.value);
            let limiting = limits.iter().any(|lot| lot.name() == stock.lot.name());
            if !limiting && stock.pack.is_none() {
                continue;
            }
            let extra = stock.pack.unwrap_or(on_hand);
            let mut richer = plain.clone();
            if let Some(slot) = richer.stocks.get_mut(index) {
                slot.on_hand = Some(on_hand + extra);
            }
            let gain = match richer.most_of(wanted) {
                Ok((then, _)) => then - volume,
                Err(FormulateError::NothingLimits) => f64::INFINITY,
                Err(e) => return Err(e),
            };
            if gain > 1e-9 * volume {
                more.push(More {
                    lot: stock.lot.name().to_string(),
                    mass: kilograms(extra),
                    cost: stock.lot.price().map(|p| p.of_checked(kilograms(extra))),
                    volume: Volume::new::<uom::si::volume::cubic_meter>(gain),
                });
            }
        }
        more.sort_by(|a, b| {
            let by_gain = b.volume.value.total_cmp(&a.volume.value);
            by_gain.then_with(|| a.lot.cmp(&b.lot))
        });
        Ok(Most {
            blend: search.blend(&point)?,
            more,
        })
    }

    fn most_of(&self, wanted: &Wanted) -> Result<(f64, Point), FormulateError> {
        let mut search = Search::of(self, wanted, Objective::LeastCost, Batch::Most)?;
        let point = match search.settle(Way::new(Steps::Any, false)) {
            Err(FormulateError::Program(ProgramError::NotSolved { .. }))
                if wanted.in_si(Goal::Ph).is_some() =>
            {
                return self.most_by_halving(wanted);
            }
            other => other?,
        };
        if point.volume >= MAX_VOLUME_M3 * (1.0 - 1e-9) {
            return Err(FormulateError::NothingLimits);
        }
        Ok((point.volume, point))
    }

    /// Where acidity and volume together do not come to rest: less of an ink
    /// that can be made can be made too, so its volume is found by halving.
    fn most_by_halving(&self, wanted: &Wanted) -> Result<(f64, Point), FormulateError> {
        // As much as there would be without the pH.
        let (top, _) = self.most_of(&wanted.without_ph())?;
        let mut on_hand = self.clone();
        for stock in &mut on_hand.stocks {
            stock.on_hand = stock.limit().map(|m| m.value);
            stock.pack = None;
        }
        let of = |volume: f64| {
            let batch = Batch::Exactly(volume);
            let mut search = Search::of(&on_hand, wanted, Objective::LeastCost, batch)?;
            search.settle(Way::new(Steps::Any, false))
        };
        let (mut low, mut high) = (0.0, top);
        let mut found = None;
        let mut volume = top;
        for _ in 0..HALVINGS {
            match of(volume) {
                Ok(point) => {
                    (low, found) = (volume, Some((volume, point)));
                    if volume >= top {
                        break;
                    }
                }
                Err(FormulateError::Program(_)) => high = volume,
                Err(e) => return Err(e),
            }
            volume = 0.5 * (low + high);
        }
        found.ok_or_else(|| ProgramError::Infeasible.into())
    }
}

/// Halvings of a volume: to rounding.
const HALVINGS: usize = 50;

impl core::fmt::Display for Most {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{}", self.blend)?;
        // What more of would give more, or what only together would.
        let limits: Vec<&str> = match self.more.is_empty() {
            true => self.blend.used_up.iter().map(String::as_str).collect(),
            false => self.more.iter().map(|more| more.lot.as_str()).collect(),
        };
        if !limits.is_empty() {
            writeln!(f, "  it ends with: {}", limits.join(", "))?;
        }
        for more in &self.more {
            write!(
                f,
                "  {} g more of {} would give {} mL more",
                short(more.mass.in_grams()),
                more.lot,
                short(more.volume.in_milliliters())
            )?;
            match more.cost {
                Some(cost) => writeln!(f, ", for {cost:.2}")?,
                None => writeln!(f)?,
            }
        }
        Ok(())
    }
}
