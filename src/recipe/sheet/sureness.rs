//! The part of the sheet that tells how sure the proportion is, and what would
//! make it surer.

use super::text::{heading, paragraph, row};
use crate::bench::Lot;
use crate::composition::{Balance, Criterion, criteria};
use crate::recipe::{Evaluation, Kit, RatioInterval, Recipe};
use crate::uncertainty::{Chance, Measurand, MonteCarlo, Remedy, Study, UncertaintyError};
use core::fmt::{Formatter, Result as Written};

/// Draws for a sheet: chances are printed in whole percent.
const DRAWS: u32 = 2000;
/// Any seed will do, so long as it stays.
const SEED: u64 = 1;
/// Published opinions on the proportion.
const OPINIONS: usize = criteria().len();
/// Sources worth a line.
const LINES: usize = 3;
/// A chance of excess iron that is worth more tannin, and the assurance wanted.
const WORTH_MORE_PERCENT: f64 = 5.0;
const ASSURANCE: f64 = 0.95;
/// More of the tannin than this makes another ink of it.
const MOST_FACTOR: f64 = 3.0;

/// How sure the proportion of iron to tannin is.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::*;
/// let galls = Lot::of("oak_apples")?.build()?;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("hedge ink").with(Solution::new("ink")
///     .extract(Extraction::new(&galls, grams(60.0), &water, milliliters(600.0)))
///     .add(&vitriol, grams(4.0)));
/// let sheet = BatchSheet::new(&recipe, &SheetOptions::default())?;
/// let sure = sheet.sureness.unwrap();
/// assert_eq!(sure.sources[0].name, "oak apples and cherry galls: tannin");
/// assert!(sure.chances.iter().all(|c| (0.0..=100.0).contains(&c.excess_iron_percent)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetSureness {
    /// Inks drawn.
    pub draws: u32,
    /// Iron per galloyl unit, with the interval that covers 95 % of them.
    pub iron_per_galloyl: RatioInterval,
    /// How likely iron is in excess, by each published opinion.
    pub chances: Vec<SheetChance>,
    /// What the doubt comes from, most of it first.
    pub sources: Vec<SheetSource>,
    /// Share of the variance that all weighings make together.
    pub weighing_percent: f64,
    /// The measurement that would help most, in words.
    pub remedy: Option<String>,
    /// More tannin for the assurance that no iron is left over, where there is
    /// a chance of it.
    pub assured: Option<SheetAssurance>,
}

/// How likely iron is in excess by one opinion.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::*;
/// # let tannin = Lot::of("tannic_acid")?.build()?;
/// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// # let recipe = Recipe::new("mix").with(Solution::new("mix").add(&tannin, grams(15.0)).add(&vitriol, grams(7.5)));
/// let sheet = BatchSheet::new(&recipe, &SheetOptions::default())?;
/// assert_eq!(sheet.sureness.unwrap().chances[0].excess_iron_percent, 0.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetChance {
    /// Identifier of the criterion.
    pub criterion: &'static str,
    /// What it says.
    pub name: &'static str,
    /// Share of the draws with more iron than it calls balanced.
    pub excess_iron_percent: f64,
}

/// One source of the doubt.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::*;
/// # let tannin = Lot::of("tannic_acid")?.named("old tin").build()?;
/// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// # let recipe = Recipe::new("mix").with(Solution::new("mix").add(&tannin, grams(15.0)).add(&vitriol, grams(7.5)));
/// let sheet = BatchSheet::new(&recipe, &SheetOptions::default())?;
/// let first = &sheet.sureness.unwrap().sources[0];
/// assert!(first.name.starts_with("old tin") && first.share_percent > 50.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetSource {
    /// The lot and what is not known of it.
    pub name: String,
    /// Its share of the variance.
    pub share_percent: f64,
    /// Width the interval would keep if it were known exactly.
    pub width_left_percent: f64,
}

/// How much of the tannin makes sure that no iron is left over.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::*;
/// # let tannin = Lot::of("tannic_acid")?.tannin(0.85, 0.1)?.build()?;
/// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// # let recipe = Recipe::new("mix").with(Solution::new("mix").add(&tannin, grams(10.0)).add(&vitriol, grams(14.0)));
/// let sheet = BatchSheet::new(&recipe, &SheetOptions::default())?;
/// let assured = sheet.sureness.unwrap().assured.unwrap();
/// assert!(assured.mass_g > 10.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetAssurance {
    /// The lot to take more of.
    pub lot: String,
    /// How much of it, with soak water in proportion.
    pub mass_g: f64,
    /// How sure that makes it.
    pub assurance_percent: f64,
    /// Identifier of the criterion.
    pub criterion: &'static str,
}

/// `None` for an ink without iron or tannin.
pub(super) fn sureness(
    recipe: &Recipe,
    made: &Evaluation,
    kit: Option<&Kit>,
) -> Option<SheetSureness> {
    made.iron_per_galloyl()?;
    worked_out(recipe, made, kit).ok()
}

fn worked_out(
    recipe: &Recipe,
    made: &Evaluation,
    kit: Option<&Kit>,
) -> Result<SheetSureness, UncertaintyError> {
    let mut study = Study::of(recipe)?;
    if let Some(kit) = kit {
        study = study.weighed_with(kit)?;
    }
    let plan = MonteCarlo::fixed(SEED, DRAWS)?;
    let budget = study.budget(Measurand::IronPerGalloyl)?;
    // One run of draws serves every opinion.
    let opinions: [&'static Criterion; OPINIONS] = core::array::from_fn(|i| &criteria()[i]);
    let proportions = study.proportions(opinions, &plan)?;
    let drawn = opinions.into_iter().zip(&proportions);
    let chances: Vec<SheetChance> = drawn
        .clone()
        .map(|(criterion, sample)| SheetChance {
            criterion: criterion.id,
            name: criterion.name,
            excess_iron_percent: 100.0 * Chance::of_excess(sample, criterion).probability,
        })
        .collect();
    let per_galloyl = |c: &Criterion| c.measure == Balance::IronPerGalloyl;
    let (low, high) = match drawn.clone().find(|(c, _)| per_galloyl(c)) {
        Some((_, ratio)) => ratio.interval(0.95)?,
        None => (f64::NAN, f64::NAN),
    };
    let strictest = criteria().first();
    let at_risk = chances
        .first()
        .is_some_and(|c| c.excess_iron_percent > WORTH_MORE_PERCENT);
    let assured = match (strictest, strongest(made)) {
        (Some(criterion), Some(lot)) if at_risk => more(&study, lot, criterion, &plan),
        _ => None,
    };
    let helps = budget.helps();
    let first = helps.first().filter(|h| h.share > 0.0);
    let remedy = first.and_then(|h| study.remedy(&h.name));
    let sources = helps.iter().filter(|h| h.share >= 0.005);
    Ok(SheetSureness {
        draws: DRAWS,
        iron_per_galloyl: RatioInterval {
            low,
            value: budget.value(),
            high,
        },
        chances,
        sources: sources
            .take(LINES)
            .map(|h| SheetSource {
                name: h.name.clone(),
                share_percent: 100.0 * h.share,
                width_left_percent: 100.0 * h.width_left,
            })
            .collect(),
        weighing_percent: 100.0 * study.weight_of_tools(&budget),
        remedy: remedy.map(|r| r.to_string()),
        assured,
    })
}

/// The lot that brings most galloyl.
fn strongest<'a>(made: &'a Evaluation) -> Option<&'a Lot> {
    let by_galloyl = |a: &&crate::recipe::Line<'a>, b: &&crate::recipe::Line<'a>| {
        a.galloyl.total_cmp(&b.galloyl)
    };
    made.lines.iter().max_by(by_galloyl).map(|l| l.lot)
}

fn more(
    study: &Study,
    lot: &Lot,
    criterion: &'static Criterion,
    plan: &MonteCarlo,
) -> Option<SheetAssurance> {
    let sure = study.assured(lot, criterion, ASSURANCE, plan).ok()?;
    (sure.factor > 1.0 && sure.factor <= MOST_FACTOR).then(|| SheetAssurance {
        lot: lot.name().to_string(),
        mass_g: sure.mass.value * 1e3,
        assurance_percent: 100.0 * ASSURANCE,
        criterion: criterion.id,
    })
}

impl SheetSureness {
    pub(super) fn write(&self, f: &mut Formatter<'_>) -> Written {
        heading(f, "How sure the proportion is")?;
        let interval = format!(
            "{:.2} to {:.2}, 95 % of {} inks drawn",
            self.iron_per_galloyl.low, self.iron_per_galloyl.high, self.draws
        );
        row(f, "iron per galloyl unit", interval)?;
        writeln!(f, "  chance that iron is in excess, by")?;
        for chance in &self.chances {
            let lead = format!("  {:5.0} %  ", chance.excess_iron_percent);
            paragraph(f, &lead, chance.name)?;
        }
        if let (Some(first), Some(remedy)) = (self.sources.first(), &self.remedy) {
            let named = self
                .sources
                .iter()
                .map(|s| format!("{} ({:.0} %)", s.name, s.share_percent));
            let mut words = format!(
                "The doubt comes from {}. What would help most: {remedy}; it leaves {:.0} % of the width if it is exact.",
                named.collect::<Vec<_>>().join(", "),
                first.width_left_percent
            );
            let finer = Remedy::FinerBalance.to_string();
            if *remedy != finer && self.weighing_percent > 0.0 && self.weighing_percent < 2.0 {
                words.push_str(" A finer balance would buy nothing.");
            }
            paragraph(f, "  ", &words)?;
        }
        if let Some(assured) = &self.assured {
            let words = format!(
                "To be {:.0} % sure that no iron is left over by the first of these: {:.1} g of {}, with its water in proportion.",
                assured.assurance_percent, assured.mass_g, assured.lot
            );
            paragraph(f, "  ", &words)?;
        }
        Ok(())
    }
}
