//! The sentence that matters: which measurement would help most.

use super::sources::Kind;
use super::{Measurand, Study};
use crate::uncertainty::{Answer, Budget, BudgetLine, Method, MonteCarlo, UncertaintyError};

/// What narrows a source.
///
/// ```
/// use ferrogall::uncertainty::Remedy;
/// assert!(Remedy::FinerBalance.to_string().contains("balance"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Remedy {
    /// Spot test or titrate the extract, or weigh its dry residue.
    TestExtract,
    /// Titrate iron(II) in the salt.
    TitrateSalt,
    /// Dry a weighed sample.
    DrySample,
    /// Read the acid's density, or titrate it.
    MeasureAcid,
    /// Weigh the marc before and after, wet.
    WeighMarc,
    /// A finer balance, or a larger batch.
    FinerBalance,
    /// Whatever tells the strength of a solution that was made beforehand.
    AssayStock,
    /// Test the water's alkalinity and hardness, or take distilled water.
    TestWater,
}

impl core::fmt::Display for Remedy {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Remedy::TestExtract => {
                "a spot test or a titration of the extract, or the weight of its dry residue"
            }
            Remedy::TitrateSalt => "a titration of the iron(II) in the salt",
            Remedy::DrySample => "drying a weighed sample",
            Remedy::MeasureAcid => "the density of the acid, or its titration",
            Remedy::WeighMarc => "weighing the wet marc",
            Remedy::FinerBalance => "a finer balance, or a larger batch",
            Remedy::AssayStock => "an assay of the stock solution",
            Remedy::TestWater => {
                "a test of the water's alkalinity and hardness, or distilled water"
            }
        })
    }
}

/// Which measurement would help most.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Extraction, Kit, Recipe, Solution};
/// use ferrogall::uncertainty::{Measurand, MonteCarlo, Remedy, Study};
/// let galls = Lot::of("oak_apples")?.build()?;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("hedge ink").with(Solution::new("ink")
///     .extract(Extraction::new(&galls, grams(30.0), &water, milliliters(300.0)))
///     .add(&vitriol, grams(4.0)));
/// let study = Study::of(&recipe)?.weighed_with(&Kit::new(grams(0.1), milliliters(5.0)))?;
/// let advice = study.advice(Measurand::IronPerGalloyl, &MonteCarlo::fixed(1, 4_000)?)?;
/// assert_eq!(advice.remedy, Some(Remedy::TestExtract));
/// println!("{advice}");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Advice {
    /// The figure.
    pub measurand: Measurand,
    /// The figure with its interval and every source, the most helpful first.
    pub answer: Answer,
    /// What narrows the first of them; `None` when nothing is uncertain.
    pub remedy: Option<Remedy>,
    /// Share of the variance that all weighings and fillings make together.
    pub tools: f64,
}

impl Study {
    /// Which measurement would narrow a figure most.
    ///
    /// # Errors
    /// As [`answer`](Self::answer).
    pub fn advice(
        &self,
        measurand: Measurand,
        plan: &MonteCarlo,
    ) -> Result<Advice, UncertaintyError> {
        self.advice_on(measurand, self.answer(measurand, plan)?)
    }

    /// The same with the sources ranked by the first-order budget alone: one
    /// run of draws instead of one for each source.
    #[cfg(feature = "capi")]
    pub(crate) fn quick_advice(
        &self,
        measurand: Measurand,
        plan: &MonteCarlo,
    ) -> Result<Advice, UncertaintyError> {
        let figure = |x: crate::uncertainty::Values| self.figure(measurand, x);
        let answer = self.sources.inputs.quick_answer(plan, figure)?;
        self.advice_on(measurand, answer)
    }

    fn advice_on(&self, measurand: Measurand, answer: Answer) -> Result<Advice, UncertaintyError> {
        let first = answer.helps.first().filter(|h| h.share > 0.0);
        let remedy = first.and_then(|h| self.remedy(&h.name));
        let tools = self.weight_of_tools(&answer.budget);
        Ok(Advice {
            measurand,
            answer,
            remedy,
            tools,
        })
    }

    /// Share of the variance that all weighings and fillings make together.
    pub(crate) fn weight_of_tools(&self, budget: &Budget) -> f64 {
        let is_tool =
            |line: &&BudgetLine| matches!(self.sources.kind(&line.name), Some(Kind::Tool(_)));
        let lines = budget.lines().iter();
        lines.filter(is_tool).map(|l| l.share).sum()
    }

    /// What narrows the source of this name; `None` where there is none of it.
    pub fn remedy(&self, source: &str) -> Option<Remedy> {
        self.sources.kind(source).map(remedy_of)
    }
}

fn remedy_of(kind: Kind) -> Remedy {
    match kind {
        Kind::Lot("tannin" | "free gallic acid" | "galloyl per tannin") | Kind::Yield => {
            Remedy::TestExtract
        }
        Kind::Lot("moisture") => Remedy::DrySample,
        Kind::Lot("strength") => Remedy::MeasureAcid,
        Kind::Lot("alkalinity" | "hardness") => Remedy::TestWater,
        Kind::Lot("iron" | "galloyl" | "acid") => Remedy::AssayStock,
        Kind::Lot(_) => Remedy::TitrateSalt,
        Kind::HoldUp => Remedy::WeighMarc,
        Kind::Tool(_) => Remedy::FinerBalance,
    }
}

impl core::fmt::Display for Advice {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let a = &self.answer;
        let unit = match self.measurand.unit() {
            "1" => "",
            unit => unit,
        };
        let space = if unit.is_empty() { "" } else { " " };
        write!(
            f,
            "{}: {} ({} to {}){space}{unit}, 95 %",
            self.measurand.name(),
            Digits(a.value, a.u),
            Digits(a.low, a.u),
            Digits(a.high, a.u)
        )?;
        if let Method::MonteCarlo(why) = a.method {
            write!(f, ", by draws ({why})")?;
        }
        let (Some(help), Some(remedy)) = (a.helps.first(), self.remedy) else {
            return write!(f, ". Nothing in it is uncertain.");
        };
        write!(
            f,
            ". Most comes from \"{}\" ({:.0} % of the variance): {remedy} would help most; known exactly, it would leave {:.0} % of the width.",
            help.name,
            100.0 * help.share,
            100.0 * help.width_left
        )?;
        if remedy != Remedy::FinerBalance && self.tools > 0.0 && self.tools < 0.02 {
            write!(f, " A finer balance would buy nothing.")?;
        }
        Ok(())
    }
}

/// A figure with two digits of its uncertainty.
struct Digits(f64, f64);

impl core::fmt::Display for Digits {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let Digits(value, u) = *self;
        let decimals = if u > 0.0 && u.is_finite() {
            (1 - libm::floor(libm::log10(u)) as i32).clamp(0, 9)
        } else {
            3
        };
        write!(f, "{value:.*}", usize::try_from(decimals).unwrap_or(3))
    }
}
