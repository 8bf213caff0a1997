//! The customary order of work: tannin in one pot, iron in another, poured
//! together and made up.

use super::{FormulateError, Soak};
use crate::bench::{Lot, Material};
use crate::quantity::{Mass, Volume, kilograms};
use crate::recipe::{Amount, Recipe, Solution};

/// Shares of the make-up water that the pots get to dissolve in; the rest
/// fills up. The tannin pot is the larger: preservatives and gallic acid
/// hardly dissolve.
const TANNIN_POT: f64 = 0.5;
const IRON_POT: f64 = 0.3;

/// Where a lot goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pot {
    Tannin,
    Iron,
}

impl Pot {
    /// The usual pot of a lot: iron salts and acids stand apart from tannin,
    /// other liquors by what there is more of in them.
    pub(super) fn of(lot: &Lot) -> Pot {
        let iron = match lot.material() {
            Some(material) => matches!(material, Material::IronSalt(_) | Material::Acid(_)),
            None => {
                let held = lot.contents(kilograms(1.0));
                let galloyl = held.galloyl().value;
                held.iron().value > galloyl || (galloyl <= 0.0 && held.strong_acid().value > 0.0)
            }
        };
        if iron { Pot::Iron } else { Pot::Tannin }
    }
}

/// So much of a lot, and where it goes.
pub(super) struct Portioned<'a> {
    pub lot: &'a Lot,
    pub amount: Amount,
    pub mass: Mass,
    pub pot: Pot,
}

/// The recipe for lots in these amounts, with `rest` of the water to come,
/// made up to a volume.
pub(super) fn recipe<'a>(
    title: String,
    lots: impl IntoIterator<Item = Portioned<'a>>,
    soak: &Soak,
    water: &Lot,
    rest: Mass,
    volume: Volume,
) -> Result<Recipe, FormulateError> {
    let (plants, whole): (Vec<_>, Vec<_>) = lots.into_iter().partition(|l| l.lot.is_plant());
    let mut tannin = Solution::new("tannin solution");
    let mut iron = Solution::new("iron solution");
    for plant in &plants {
        tannin = tannin.extract(soak.extraction(plant.lot, plant.mass, water)?);
    }
    if plants.is_empty() && whole.iter().any(|l| l.pot == Pot::Tannin) {
        tannin = tannin.add(water, rest * TANNIN_POT);
    }
    if whole.iter().any(|l| l.pot == Pot::Iron) {
        iron = iron.add(water, rest * IRON_POT);
    }
    for Portioned {
        lot, amount, pot, ..
    } in whole
    {
        match pot {
            Pot::Tannin => tannin = tannin.add(lot, amount),
            Pot::Iron => iron = iron.add(lot, amount),
        }
    }
    let pots = [tannin, iron].into_iter();
    let recipe = pots
        .filter(|pot| !pot.ingredients().is_empty())
        .fold(Recipe::new(title), Recipe::with);
    Ok(recipe.make_up(water, volume))
}
