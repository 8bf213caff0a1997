//! What there is to make ink from: lots of the shelf, and how much of each.

use super::error::{Blame, Outcome};
use super::formulate::soak_of;
use super::guard::{known_bits, read_array, read_struct_if_given, versioned};
use super::lots::FgallShelf;
use super::recipe::FgallSoak;
use super::rounding::{FgallKit, kit_if_given};
use crate::formulate::{Shelf, Stock};
use crate::quantity::grams;

/// Bit of FgallStore.set: on_hand_g is given.
pub const FGALL_STORE_ON_HAND: u32 = 1;
/// Bit of FgallStore.set: pack_g is given.
pub const FGALL_STORE_PACK: u32 = 2;

/// Lots of a cupboard, at most.
const MOST_STORES: usize = 1000;

/// A lot of the shelf, and how much of it there is or how it is sold. With
/// neither bit there is no end to it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStore {
    /// Index of the lot on the shelf.
    pub lot: usize,
    /// Which fields below are given: FGALL_STORE_… bits.
    pub set: u32,
    /// Only so much of it is there.
    pub on_hand_g: f64,
    /// It is sold in whole packs of this mass, and the whole pack paid for: what
    /// is not on hand is bought. Without on_hand_g nothing is on hand.
    pub pack_g: f64,
}

/// What there is to make ink from. The lots must have names of their own; in
/// what order they stand changes nothing: of two inks that are equally good, the
/// one with less of the later names is made.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallCupboard {
    /// sizeof(FgallCupboard), filled in by the caller.
    pub struct_size: usize,
    /// Index of the water to fill up with, and for plant matter to soak in.
    pub water_lot: usize,
    /// The lots to choose from; NULL only where there are none.
    pub stores: *const FgallStore,
    /// How many; a thousand at most.
    pub store_count: usize,
    /// How plant matter is soaked; NULL for the library's default.
    pub soak: *const FgallSoak,
    /// Tools: amounts are then whole steps of them. NULL: any amount can be
    /// weighed.
    pub kit: *const FgallKit,
}
versioned!(FgallCupboard);

/// A cupboard with the indices of its lots on the caller's shelf.
pub(super) struct Laid {
    pub(super) shelf: Shelf,
    pub(super) lots: Vec<usize>,
}

impl Laid {
    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn out(cupboard: &FgallCupboard, from: &FgallShelf) -> Outcome<Laid> {
        let mut shelf = Shelf::new(from.lot(cupboard.water_lot, "water_lot")?);
        let count = cupboard.store_count;
        // SAFETY: as promised by the caller; a store is numbers.
        let stores = unsafe { read_array(cupboard.stores, count, MOST_STORES, "stores") };
        let stores = stores.arg("store_count", count as f64)?;
        for store in &stores {
            known_bits(store.set, FGALL_STORE_ON_HAND | FGALL_STORE_PACK, "set")?;
            let mut stock = Stock::of(from.lot(store.lot, "lot")?);
            if store.set & FGALL_STORE_ON_HAND != 0 {
                let g = store.on_hand_g;
                stock = stock.on_hand(grams(g)).arg("on_hand_g", g)?;
            }
            if store.set & FGALL_STORE_PACK != 0 {
                let g = store.pack_g;
                stock = stock.sold_by(grams(g)).arg("pack_g", g)?;
            }
            shelf = shelf.with(stock);
        }
        // SAFETY: as promised by the caller.
        unsafe {
            if let Some(soak) = read_struct_if_given(cupboard.soak, "soak")? {
                shelf = shelf.soaked(soak_of(&soak)?);
            }
            if let Some(kit) = kit_if_given(cupboard.kit)? {
                shelf = shelf.measured_with(&kit);
            }
        }
        Ok(Laid {
            shelf,
            lots: stores.iter().map(|store| store.lot).collect(),
        })
    }

    /// Index on the caller's shelf of the lot with this name.
    pub(super) fn index(&self, name: &str) -> usize {
        let mut stocks = self.shelf.stocks().iter().zip(&self.lots);
        let found = stocks.find(|(stock, _)| stock.lot().name() == name);
        found.map_or(usize::MAX, |(_, index)| *index)
    }
}
