//! The usual cautions, for the materials at hand.

use crate::bench::{Material, TanninClass, TanninForm};
use crate::composition::{Bulk, Component};
use crate::recipe::Evaluation;

/// What to mind when making and using this ink, in fixed order.
///
/// These are the usual cautions of the trade, no risk assessment: local rules
/// and licensed practice come first.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::check::cautions;
/// use ferrogall::quantity::grams;
/// use ferrogall::recipe::{Recipe, Solution};
/// let acid = Lot::of("sulfuric_acid")?.build()?;
/// let recipe = Recipe::new("acid").with(Solution::new("acid").add(&acid, grams(3.0)));
/// assert!(cautions(&recipe.evaluate()?).iter().any(|c| c.contains("acid into water")));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn cautions(made: &Evaluation) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut say = |text: String| {
        if !text.is_empty() && !out.contains(&text) {
            out.push(text);
        }
    };
    let c = &made.composition;
    if c.iron().value > 0.0 {
        say("Iron salts are poisonous to small children by mouth and irritate skin and eyes: out of reach, no tasting, label the bottle.".into());
    }
    if c.iron_iii().value > c.iron_ii().value
        || c.amount(Component::Chloride).value > c.iron().value
    {
        say("Iron chlorides and iron(III) salts can damage the eyes for good: goggles.".into());
    }
    let mut acids = false;
    for line in &made.lines {
        for own in line.lot.cautions().iter().chain(line.cautions) {
            say(own.clone());
        }
        for material in line.lot.materials() {
            match material {
                Material::Acid(row) => {
                    acids |= row.strong_protons > 0.0;
                    say(named(row.name, row.caution));
                }
                Material::Preservative(row) => say(named(row.name, row.caution)),
                Material::Dye(row) => say(named(row.name, row.caution)),
                Material::Gum(row) => say(named(row.name, row.caution)),
                Material::TanninSource(row)
                    if row.form == TanninForm::Plant
                        && row.class != TanninClass::TeaPolyphenols =>
                {
                    say(
                    "Dust of galls, leaf and bark irritates the lungs: grind damp or with a mask."
                        .into(),
                );
                }
                _ => {}
            }
        }
    }
    if acids {
        say("Goggles and gloves; acid into water, never water into acid; baking soda at hand for spills.".into());
    }
    if c.mass_of(Bulk::Dye).value > 0.0 {
        say(
            "Dyes stain for good and some are harmful: read the supplier's sheet, no dust, gloves."
                .into(),
        );
    }
    say("The finished ink is acid and stains; it eats steel and weak papers. Not for children without supervision. Local rules and licensed practice come first.".into());
    out
}

fn named(name: &str, caution: &str) -> String {
    if caution.is_empty() {
        String::new()
    } else {
        format!("{name}: {caution}")
    }
}
