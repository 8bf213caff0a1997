//! Why a line is pale, slow or grey: findings with their figures.

use super::PaperError;
use super::darkening::Darkening;
use super::writing::Writing;
use crate::composition::Composition;
use crate::quantity::{ReadMolarConcentration, ReadTime, Time, liters};
use crate::source::{Source, Status};
use crate::standards::reference_inks;
use uom::si::time::hour;

/// What makes a line pale, slow or grey; stable across versions.
///
/// ```
/// use ferrogall::paper::Cause;
/// assert_eq!(Cause::TooDilute.id(), "too_dilute");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum Cause {
    /// No iron or no tannin: there is nothing to darken.
    NoPigment,
    /// Little of both iron and tannin.
    TooDilute,
    /// Little iron.
    TooLittleIron,
    /// Little tannin: weak galls.
    WeakTannin,
    /// Iron is left over that has no galloyl unit to bind.
    TanninShort,
    /// Much of the iron has darkened in the bottle already.
    IronAlreadyFerric,
    /// The line stays acid, and slow.
    StaysAcid,
    /// The paper makes the line neutral: fast, but grey or brown.
    AlkalinePaper,
    /// Most of the iron(II) is still there when the line is dry, and what
    /// moisture is left decides.
    DriesFirst,
    /// Too early to judge.
    NeedsTime,
}

impl Cause {
    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        match self {
            Cause::NoPigment => "no_pigment",
            Cause::TooDilute => "too_dilute",
            Cause::TooLittleIron => "too_little_iron",
            Cause::WeakTannin => "weak_tannin",
            Cause::TanninShort => "tannin_short",
            Cause::IronAlreadyFerric => "iron_already_ferric",
            Cause::StaysAcid => "stays_acid",
            Cause::AlkalinePaper => "alkaline_paper",
            Cause::DriesFirst => "dries_first",
            Cause::NeedsTime => "needs_time",
        }
    }
}

/// One reason why a line looks as it does.
///
/// ```
/// use ferrogall::paper::{Cause, Climate, Paper, Writing};
/// use ferrogall::quantity::*;
/// use ferrogall::standards::reference_ink;
/// let standard = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
/// let weak_tea = standard.recipe(liters(1.0), 0.2)?.evaluate()?.composition;
/// let line = Writing::new(&weak_tea, Paper::of("cotton_rag")?, Climate::indoors()?)?;
/// assert!(line.diagnoses()?.iter().any(|d| d.cause == Cause::TooDilute));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Diagnosis {
    /// What it is.
    pub cause: Cause,
    /// In words, with the figures.
    pub message: String,
    /// The figure found.
    pub value: f64,
    /// The limit it was held against.
    pub limit: f64,
    /// Unit of both; empty for ratios and pH.
    pub unit: &'static str,
    /// Where the limit comes from.
    pub source: Source,
}

impl core::fmt::Display for Diagnosis {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{} [{}]", self.message, self.source)
    }
}

/// Of the weakest published ink: less is called dilute.
const WEAK: f64 = 0.5;
const DILUTE: Source = Source::new(
    "half of what the weakest of the reference inks holds, by judgement",
    Status::ExpertGuess,
);
const ONE_TO_ONE: Source = Source::new(
    "one iron to one galloyl unit, as the pigment is counted in this crate",
    Status::ExpertGuess,
);
/// Iron(III) of all iron that is worth a word; the same as in `check`.
const FERRIC: f64 = 0.1;
const IN_THE_BOTTLE: Source = Source::new(
    "iron(III) darkens and settles before it is written with",
    Status::CommonPractice,
);
/// A line below this pH stays slow, one above the other turns quickly.
const ACID: f64 = 4.0;
const NEUTRAL: f64 = 6.0;
const LEVER: Source = Source::new(
    "by the species law iron(II) turns over 8 times faster at pH 4 than at 2, and 2500 times at pH 6 (inorganic part only)",
    Status::Computed,
);
const GREY: Source = Source::new(
    "at neutral pH the blue-black one-to-one complex gives way to others and to hydroxide",
    Status::CommonPractice,
);
/// Share oxidised when dry that leaves little for later.
const HALF: f64 = 0.5;
const MOISTURE: Source = Source::new(
    "iron(II) on paper is oxidised where oxygen and moisture are both present: Rouchon et al. 2011, Anal. Chem., doi 10.1021/ac1029242, abstract; the limit by judgement",
    Status::ExpertGuess,
);
/// Typical hours to nine tenths that need patience.
const PATIENCE: f64 = 24.0;
const OVERNIGHT: Source = Source::new("writing is judged the day after", Status::CommonPractice);

/// Figures of an ink that its blackness hangs on, mmol/L.
#[derive(Debug, Clone, Copy)]
struct Strength {
    iron: f64,
    galloyl: f64,
}

impl Strength {
    fn of(ink: &Composition) -> Strength {
        let per_liter = |mol| ink.concentration(mol).in_millimoles_per_liter();
        Strength {
            iron: per_liter(ink.iron()),
            galloyl: per_liter(ink.galloyl()),
        }
    }

    /// The least of the published inks, iron and galloyl units by themselves.
    fn least_published() -> Option<Strength> {
        let inks = reference_inks().iter().filter_map(|reference| {
            let recipe = reference.recipe(liters(1.0), 1.0).ok()?;
            Some(Strength::of(&recipe.evaluate().ok()?.composition))
        });
        inks.reduce(|a, b| Strength {
            iron: a.iron.min(b.iron),
            galloyl: a.galloyl.min(b.galloyl),
        })
    }
}

impl Writing {
    /// Why this line is pale, slow or grey: what can be told from the ink and
    /// the paper. Empty where nothing is amiss.
    ///
    /// # Errors
    /// As [`Writing::darkening`].
    pub fn diagnoses(&self) -> Result<Vec<Diagnosis>, PaperError> {
        let mut found = Vec::new();
        self.judge_ink(&mut found);
        if self.ink.iron_ii().value > 0.0 {
            self.judge_line(&self.darkening()?, &mut found);
        }
        Ok(found)
    }

    fn judge_ink(&self, found: &mut Vec<Diagnosis>) {
        let ink = Strength::of(&self.ink);
        let pigment = ink.iron.min(ink.galloyl);
        if pigment <= 0.0 {
            found.push(Diagnosis {
                cause: Cause::NoPigment,
                message: format!(
                    "{:.1} mmol/L iron and {:.1} mmol/L galloyl units: one is missing, there is nothing to darken",
                    ink.iron, ink.galloyl
                ),
                value: pigment,
                limit: 0.0,
                unit: "mmol/L",
                source: ONE_TO_ONE,
            });
            return;
        }
        if let Some(least) = Strength::least_published() {
            judge_strength(ink, least, found);
        }
        let per_iron = ink.galloyl / ink.iron;
        if per_iron < 1.0 {
            found.push(Diagnosis {
                cause: Cause::TanninShort,
                message: format!(
                    "{per_iron:.2} galloyl units per iron: {:.0} % of the iron has no tannin to darken with",
                    100.0 * (1.0 - per_iron)
                ),
                value: per_iron,
                limit: 1.0,
                unit: "mol/mol",
                source: ONE_TO_ONE,
            });
        }
        let ferric = self.ink.iron_iii().value / self.ink.iron().value;
        if ferric >= FERRIC {
            found.push(Diagnosis {
                cause: Cause::IronAlreadyFerric,
                message: format!(
                    "{:.0} % of the iron is iron(III) already: black in the bottle, pale on paper",
                    100.0 * ferric
                ),
                value: ferric,
                limit: FERRIC,
                unit: "mol/mol",
                source: IN_THE_BOTTLE,
            });
        }
    }

    fn judge_line(&self, line: &Darkening, found: &mut Vec<Diagnosis>) {
        let ph = line.ph_line.typical;
        if ph < ACID {
            found.push(Diagnosis {
                cause: Cause::StaysAcid,
                message: format!(
                    "the line stays at pH {ph:.1}: the paper meets it with {:.2} mmol/m2 of base, the fresh line holds {:.2} mmol/m2 of strong acid",
                    self.reserve_met().in_millimoles_per_square_meter(),
                    self.ink.concentration(self.ink.strong_acid()).value * self.film().value * 1000.0
                ),
                value: ph,
                limit: ACID,
                unit: "",
                source: LEVER,
            });
        }
        // What counts is whether the paper still holds the acid that darkening sets free.
        let ph = line.ph_dark.typical;
        if ph > NEUTRAL {
            found.push(Diagnosis {
                cause: Cause::AlkalinePaper,
                message: format!(
                    "the paper holds the line at pH {ph:.1}: fast, but it may look grey or brown rather than black"
                ),
                value: ph,
                limit: NEUTRAL,
                unit: "",
                source: GREY,
            });
        }
        let hours = |t: Option<Time>| t.map_or(f64::INFINITY, |t| t.get::<hour>());
        let black = hours(line.to_nine_tenths.typical);
        let dry = line.oxidised_when_dry.typical.value();
        if dry < HALF && black > PATIENCE {
            found.push(Diagnosis {
                cause: Cause::DriesFirst,
                message: format!(
                    "{:.2} % of the iron(II) is oxidised when the line is dry: the rest needs damp air and time",
                    100.0 * dry
                ),
                value: dry,
                limit: HALF,
                unit: "mol/mol",
                source: MOISTURE,
            });
        }
        if black > PATIENCE {
            let days = |t: Option<Time>| match t {
                Some(t) => format!("{:.1} days", t.in_days()),
                None => "more than a year".into(),
            };
            let span = line.to_nine_tenths.map(days);
            let message = format!(
                "nine tenths of the iron(II) take {} ({} to {})",
                span.typical, span.low, span.high
            );
            found.push(Diagnosis {
                cause: Cause::NeedsTime,
                message,
                value: black.min(365.25 * 24.0),
                limit: PATIENCE,
                unit: "h",
                source: OVERNIGHT,
            });
        }
    }
}

fn judge_strength(ink: Strength, least: Strength, found: &mut Vec<Diagnosis>) {
    let (iron, galloyl) = (WEAK * least.iron, WEAK * least.galloyl);
    let (cause, what, value, limit) = match (ink.iron < iron, ink.galloyl < galloyl) {
        (true, true) => (
            Cause::TooDilute,
            "pigment at most",
            ink.iron.min(ink.galloyl),
            iron.min(galloyl),
        ),
        (true, false) => (Cause::TooLittleIron, "iron", ink.iron, iron),
        (false, true) => (Cause::WeakTannin, "galloyl units", ink.galloyl, galloyl),
        (false, false) => return,
    };
    found.push(Diagnosis {
        cause,
        message: format!(
            "{value:.1} mmol/L {what}, half of the weakest published ink is {limit:.1}"
        ),
        value,
        limit,
        unit: "mmol/L",
        source: DILUTE,
    });
}
