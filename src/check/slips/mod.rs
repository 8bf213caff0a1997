//! The search for slips.

use super::{Finding, check};
use crate::recipe::{Evaluation, Kit, Recipe, RecipeError};

/// Works out a recipe and says everything worth saying about it, with the
/// likely slips.
///
/// Findings are those of [`check`]; a recipe in order costs no more than
/// [`Recipe::evaluate`] and [`check`].
///
/// # Errors
/// What [`Recipe::evaluate`] says.
pub fn read(recipe: &Recipe, kit: Option<&Kit>) -> Result<Vec<Finding>, RecipeError> {
    let made = recipe.evaluate()?;
    let mut found = check(&made, kit);
    look_for_slips(recipe, &made, &mut found);
    Ok(found)
}

/// Looks for the slips behind findings.
pub(crate) fn look_for_slips(_recipe: &Recipe, _made: &Evaluation, _found: &mut [Finding]) {}

/// How much an ink is like a published or an old one, 0 to 1.
pub fn likeness(_made: &Evaluation) -> f64 {
    0.0
}
