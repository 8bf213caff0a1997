//! A correction: which amounts change, and to what.

use crate::bench::Lot;
use crate::check::{SlipChange, SlipKind};
use crate::quantity::Volume;
use crate::recipe::{Amount, Ingredient, Recipe};

/// Amounts to change, and why.
#[derive(Debug, Clone)]
pub(super) struct Edit {
    pub(super) kind: SlipKind,
    /// What is said of it, instead of the words of its kind.
    pub(super) because: Option<&'static str>,
    /// What was meant, where it is not the changed amounts themselves.
    pub(super) meant: Option<String>,
    /// It takes an amount from a published ink, and stands only if that ink comes out.
    pub(super) must_be_published: bool,
    /// Lines by their place, in the order of the steps; a soak is two lines.
    pub(super) amounts: Vec<(usize, Amount)>,
    /// Another lot in the place of a line.
    pub(super) lot: Option<(usize, Lot)>,
    /// Volumes filled up to: of a solution, or of the whole.
    pub(super) volume: Option<(Option<usize>, Volume)>,
}

impl Edit {
    pub(super) fn of(kind: SlipKind, amounts: Vec<(usize, Amount)>) -> Edit {
        Edit {
            kind,
            because: None,
            meant: None,
            must_be_published: false,
            amounts,
            lot: None,
            volume: None,
        }
    }

    pub(super) fn to_volume(kind: SlipKind, solution: Option<usize>, volume: Volume) -> Edit {
        Edit {
            volume: Some((solution, volume)),
            ..Edit::of(kind, Vec::new())
        }
    }

    pub(super) fn to_lot(kind: SlipKind, place: usize, amount: Amount, lot: Lot) -> Edit {
        Edit {
            lot: Some((place, lot)),
            ..Edit::of(kind, vec![(place, amount)])
        }
    }

    pub(super) fn because(mut self, words: &'static str) -> Edit {
        self.because = Some(words);
        self
    }

    pub(super) fn meaning(mut self, words: String) -> Edit {
        self.meant = Some(words);
        self
    }

    /// The corrected recipe.
    pub(super) fn applied(&self, recipe: &Recipe) -> Option<Recipe> {
        let mut out = recipe.clone();
        for (place, amount) in &self.amounts {
            *out.amounts_mut().nth(*place)?.1 = *amount;
        }
        if let Some((place, lot)) = &self.lot {
            *lot_at(&mut out, *place)? = lot.clone();
        }
        if let Some((solution, volume)) = self.volume {
            let slot = match solution {
                Some(index) => &mut out.solutions.get_mut(index)?.make_up,
                None => &mut out.make_up,
            };
            slot.as_mut()?.1 = volume;
        }
        Some(out)
    }

    /// What changes, line by line.
    pub(super) fn changes(&self, recipe: &Recipe) -> Vec<SlipChange> {
        let lines = lines(recipe);
        let mut out: Vec<SlipChange> = self
            .amounts
            .iter()
            .filter_map(|(place, meant)| {
                let (lot, given) = lines.get(*place)?;
                let other = self.lot.as_ref().filter(|(at, _)| at == place);
                Some(SlipChange {
                    lot: lot.name().to_string(),
                    given: *given,
                    meant: *meant,
                    meant_lot: other.map(|(_, lot)| lot.name().to_string()),
                })
            })
            .filter(|c| c.given != c.meant || c.meant_lot.is_some())
            .collect();
        if let Some((solution, volume)) = self.volume {
            let filled = match solution {
                Some(index) => recipe.solutions().get(index).and_then(|s| s.filled_up()),
                None => recipe.filled_up(),
            };
            out.extend(filled.map(|(lot, given)| SlipChange {
                lot: lot.name().to_string(),
                given: Amount::Volume(given),
                meant: Amount::Volume(volume),
                meant_lot: None,
            }));
        }
        out
    }
}

/// Every lot with its amount, in the order of [`Recipe::amounts_mut`].
pub(super) fn lines(recipe: &Recipe) -> Vec<(&Lot, Amount)> {
    let all = recipe.solutions().iter().flat_map(|s| s.ingredients());
    all.flat_map(|i| match i {
        Ingredient::Lot { lot, amount } => vec![(lot, *amount)],
        Ingredient::Extract(e) => {
            vec![(e.plant(), e.amount()), (e.liquid(), e.liquid_amount())]
        }
    })
    .collect()
}

/// The lot of a line that is no soak, by the place of the line.
fn lot_at(recipe: &mut Recipe, place: usize) -> Option<&mut Lot> {
    let all = recipe.solutions.iter_mut();
    let mut slots = all.flat_map(|s| &mut s.ingredients).flat_map(|i| match i {
        Ingredient::Lot { lot, .. } => vec![Some(lot)],
        Ingredient::Extract(_) => vec![None, None],
    });
    slots.nth(place).flatten()
}

/// So many times as much.
pub(super) fn times(amount: Amount, factor: f64) -> Amount {
    match amount {
        Amount::Mass(m) => Amount::Mass(m * factor),
        Amount::Volume(v) => Amount::Volume(v * factor),
        Amount::Parts(p) => Amount::Parts(p * factor),
    }
}
