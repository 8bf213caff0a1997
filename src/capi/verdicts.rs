//! Iron against tannin, as the literature judges it.

use super::bench::{FGALL_NAME_BYTES, FGALL_TEXT_BYTES};
use super::error::FgallError;
use super::guard::{deliver_all, guard, handle};
use super::recipe::FgallRecipe;
use super::status::FgallStatus;
use super::strings::fixed;
use crate::composition::{Criterion, Side, criteria};
use crate::quantity::ReadMolarConcentration;
use crate::recipe::Evaluation;
use core::ffi::c_char;

/// A verdict: more iron than the criterion wants.
pub const FGALL_IRON_IN_EXCESS: u32 = 1;
/// A verdict: within the span of the criterion.
pub const FGALL_BALANCED: u32 = 2;
/// A verdict: less iron than the criterion wants.
pub const FGALL_TANNIN_IN_EXCESS: u32 = 3;

/// What one published criterion says of an ink. The criteria lie a factor of
/// about five apart: a verdict means nothing without the name of its criterion.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallVerdict {
    /// Identifier of the criterion; keeps its meaning.
    pub criterion: [c_char; FGALL_NAME_BYTES],
    /// What the criterion says, in English.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// FGALL_IRON_IN_EXCESS, FGALL_BALANCED or FGALL_TANNIN_IN_EXCESS.
    pub verdict: u32,
    /// Iron present per balanced amount of it.
    pub factor: f64,
    /// Iron too much, or with FGALL_TANNIN_IN_EXCESS wanting; 0 when balanced.
    pub excess_mol_per_l: f64,
    /// Where the criterion comes from, and how far that may be trusted.
    pub source: [c_char; FGALL_TEXT_BYTES],
}

impl FgallVerdict {
    /// `None` when there is no iron or no tannin.
    fn of(criterion: &Criterion, made: &Evaluation) -> Option<FgallVerdict> {
        let verdict = made.verdict(criterion)?;
        Some(FgallVerdict {
            criterion: fixed(criterion.id),
            name: fixed(criterion.name),
            verdict: match verdict.side {
                Side::IronInExcess => FGALL_IRON_IN_EXCESS,
                Side::Balanced => FGALL_BALANCED,
                Side::TanninInExcess => FGALL_TANNIN_IN_EXCESS,
            },
            factor: verdict.factor,
            excess_mol_per_l: made
                .composition
                .concentration(verdict.iron)
                .in_moles_per_liter(),
            source: fixed(&criterion.source.to_string()),
        })
    }
}

/// What every published criterion says of the proportion of iron to tannin:
/// written to `verdicts` if there is room for all (capacity is a number of
/// verdicts), and in any case *needed says how many there are. There are none
/// when there is no iron or no tannin.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_verdicts(
    recipe: *const FgallRecipe,
    verdicts: *mut FgallVerdict,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let made = recipe.recipe.evaluate()?;
            let all = criteria().iter().filter_map(|c| FgallVerdict::of(c, &made));
            let all: Vec<FgallVerdict> = all.collect();
            deliver_all(all.into_iter(), verdicts, capacity, needed, "verdicts")
        })
    }
}
