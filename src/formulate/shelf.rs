//! What stands on the shelf.

use super::Soak;
use crate::bench::Lot;
use crate::quantity::{MAX_MASS_KG, Mass, OutOfRange, kilograms, within};
use crate::recipe::Kit;

/// A lot with how much of it there is, or how it is sold.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::Stock;
/// use ferrogall::quantity::{grams, Price};
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?
///     .price(Price::of_pack(9.0, grams(500.0))?)
///     .build()?;
/// // 20 g are left in the tin; more comes in packs of 500 g.
/// let stock = Stock::of(&vitriol).on_hand(grams(20.0))?.sold_by(grams(500.0))?;
/// assert_eq!(stock.pack(), Some(grams(500.0)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    pub(super) lot: Lot,
    /// kg; infinite where nobody said.
    pub(super) on_hand: Option<f64>,
    pub(super) pack: Option<f64>,
}

impl Stock {
    /// As much of a lot as is wanted, at its price.
    pub fn of(lot: &Lot) -> Stock {
        Stock {
            lot: lot.clone(),
            on_hand: None,
            pack: None,
        }
    }

    /// Only so much of it is there. What is used of it counts at its price.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn on_hand(mut self, mass: Mass) -> Result<Stock, OutOfRange> {
        self.on_hand = Some(within("mass on hand", mass.value, 0.0, MAX_MASS_KG, "kg")?);
        Ok(self)
    }

    /// It is sold in whole packs of this mass (1 µg to 1000 t): what is not on hand is
    /// bought, and the whole pack paid for. Without [`Stock::on_hand`],
    /// nothing is on hand.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn sold_by(mut self, pack: Mass) -> Result<Stock, OutOfRange> {
        self.pack = Some(within("pack", pack.value, 1e-9, MAX_MASS_KG, "kg")?);
        Ok(self)
    }

    /// The lot.
    pub fn lot(&self) -> &Lot {
        &self.lot
    }

    /// Mass of a pack it is sold in.
    pub fn pack(&self) -> Option<Mass> {
        self.pack.map(kilograms)
    }

    /// The most there is without buying; nothing where there is no end to it.
    pub fn limit(&self) -> Option<Mass> {
        match (self.on_hand, self.pack) {
            (Some(kg), _) => Some(kilograms(kg)),
            (None, Some(_)) => Some(kilograms(0.0)),
            (None, None) => None,
        }
    }
}

impl From<&Lot> for Stock {
    fn from(lot: &Lot) -> Stock {
        Stock::of(lot)
    }
}

/// The lots there are, the water to fill up with, and the tools.
///
/// A shelf is plain data; it is checked where it is asked for something.
/// Lots go by their names, so each needs one of its own. In what order they
/// stand changes nothing: of two answers that are equally good, the one with
/// less of the later names is given.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::formulate::{Goal, Objective, Shelf, Stock, Wanted};
/// use ferrogall::quantity::*;
///
/// let price = |money, g| Price::of_pack(money, grams(g));
/// let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
///     .with(&Lot::of("iron_ii_sulfate_heptahydrate")?.price(price(9.0, 1000.0)?).build()?)
///     .with(&Lot::of("tannic_acid")?.price(price(24.0, 250.0)?).build()?)
///     .with(Stock::of(&Lot::of("gallic_acid_monohydrate")?.price(price(12.0, 100.0)?).build()?)
///         .on_hand(grams(3.0))?);
/// let wanted = Wanted::new(liters(1.0))?
///     .iron_ii(moles_per_liter(0.054))?
///     .iron_ii_per_galloyl(0.55..=0.65)?
///     .gallic_share(0.2..)?;
/// let made = shelf.make(&wanted, Objective::LeastCost)?;
/// assert!(made.meets_all());
/// assert!(made.cost.unwrap() < 2.0);
/// let ink = made.recipe.evaluate()?.composition;
/// assert!((ink.concentration(ink.iron_ii()).in_moles_per_liter() - 0.054).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf {
    pub(super) water: Lot,
    pub(super) stocks: Vec<Stock>,
    pub(super) kit: Option<Kit>,
    pub(super) soak: Soak,
}

impl Shelf {
    /// An empty shelf beside a tap of this water.
    pub fn new(water: &Lot) -> Shelf {
        Shelf {
            water: water.clone(),
            stocks: Vec::new(),
            kit: None,
            soak: Soak::default(),
        }
    }

    /// Puts a lot on it: the lot itself for as much as is wanted, or a
    /// [`Stock`] of it.
    #[must_use]
    pub fn with(mut self, stock: impl Into<Stock>) -> Shelf {
        self.stocks.push(stock.into());
        self
    }

    /// Amounts shall be whole steps of these tools. Without tools any amount
    /// can be weighed.
    #[must_use]
    pub fn measured_with(mut self, kit: &Kit) -> Shelf {
        self.kit = Some(kit.clone());
        self
    }

    /// How plant matter is soaked.
    #[must_use]
    pub fn soaked(mut self, soak: Soak) -> Shelf {
        self.soak = soak;
        self
    }

    /// What stands on it.
    pub fn stocks(&self) -> &[Stock] {
        &self.stocks
    }

    /// The water.
    pub fn water(&self) -> &Lot {
        &self.water
    }
}
