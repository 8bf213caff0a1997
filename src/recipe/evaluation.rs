//! A recipe worked out.

use super::{Amount, ExtractionResult, RecipeError};
use crate::bench::{Lot, Material, StrengthU};
use crate::chem::constants::GREEN_VITRIOL;
use crate::composition::{Balance, Composition, Criterion, Verdict};
use crate::quantity::{Mass, Price, Share, Volume};

/// What a line of a recipe is for.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::milliliters;
/// use ferrogall::recipe::{LineKind, Recipe};
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("water").make_up(&water, milliliters(100.0));
/// assert_eq!(recipe.evaluate()?.lines[0].kind, LineKind::MakeUp);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum LineKind {
    /// Goes in whole.
    Ingredient,
    /// Plant matter that is soaked and strained off.
    Plant,
    /// The liquid it soaks in.
    Soak,
    /// Fills up to a volume.
    MakeUp,
}

/// One thing to weigh or measure.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{LineKind, Recipe, Solution};
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("water").with(Solution::new("w").add(&water, milliliters(50.0)));
/// let made = recipe.evaluate()?;
/// assert_eq!(made.lines[0].kind, LineKind::Ingredient);
/// assert!((made.lines[0].mass.in_grams() - 49.91).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Line<'r> {
    /// Index of the solution; the number of solutions for the final make-up.
    pub solution: usize,
    /// The lot.
    pub lot: &'r Lot,
    /// What it is for.
    pub kind: LineKind,
    /// The amount as the recipe states it; `None` for a make-up.
    pub stated: Option<Amount>,
    /// What it weighs.
    pub mass: Mass,
    /// What it fills, where its density is known.
    pub volume: Option<Volume>,
    /// Iron(II) it brings into the ink, mol.
    pub(crate) iron_ii: f64,
    /// Galloyl units it brings into the ink, mol.
    pub(crate) galloyl: f64,
    /// Strong acid it brings into the ink, mol; less than nothing: base.
    pub(crate) acid: f64,
    /// Share of what it brings that reaches the ink (of a soak liquid: that
    /// drains; of plant matter: nothing but its liquor, see `galloyl`).
    pub(crate) reach: f64,
    /// Relative standard uncertainty its step adds to its galloyl.
    pub(crate) step_u: f64,
    /// Cautions about its step.
    pub(crate) cautions: &'r [String],
}

/// One solution, made.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{Recipe, Solution};
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("water").with(Solution::new("jug").make_up(&water, milliliters(50.0)));
/// assert_eq!(recipe.evaluate()?.solutions[0].used.value(), 1.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SolutionMade {
    /// Its name.
    pub name: String,
    /// What was made, before a part of it is used.
    pub made: Composition,
    /// Share of it that goes into the ink.
    pub used: Share,
    /// Every soak in it, in order.
    pub extractions: Vec<ExtractionResult>,
}

/// The ratio of iron to galloyl units with the interval that the lots'
/// uncertain strengths leave.
///
/// First order in logarithms: a quotient with a 20 % denominator is nearly
/// log-normal, and a symmetric interval would hide the iron-rich side.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::grams;
/// # use ferrogall::recipe::{Recipe, Solution};
/// let recipe = Recipe::new("dry mix").with(Solution::new("mix")
///     .add(&Lot::of("tannic_acid")?.build()?, grams(13.0))
///     .add(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?, grams(15.0)));
/// let made = recipe.evaluate()?;
/// let r = made.iron_per_galloyl().unwrap();
/// assert!((r.high / r.value - r.value / r.low).abs() < 1e-12); // symmetric as a factor
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct RatioInterval {
    /// Low end of the 95 % interval.
    pub low: f64,
    /// Best estimate.
    pub value: f64,
    /// High end of the 95 % interval.
    pub high: f64,
}

impl RatioInterval {
    /// 95 % interval of a ratio whose logarithm has this standard uncertainty.
    pub(crate) fn new(value: f64, u_ln: f64) -> RatioInterval {
        // Beyond a factor of e^10 either way an interval says nothing more.
        let u_ln = if u_ln >= 0.0 { u_ln } else { 0.0 };
        let spread = libm::exp((1.96 * u_ln).min(10.0));
        let value = if value > 0.0 { value.min(1e12) } else { 0.0 };
        RatioInterval {
            low: value / spread,
            value,
            high: value * spread,
        }
    }
}

/// A recipe worked out.
///
/// ```
/// # use ferrogall::bench::Lot;
/// # use ferrogall::quantity::*;
/// # use ferrogall::recipe::{Recipe, Solution};
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let recipe = Recipe::new("small batch")
///     .with(Solution::new("ink")
///         .extract(ferrogall::recipe::Extraction::new(&galls, grams(10.0), &water, milliliters(170.0)))
///         .add(&vitriol, grams(2.5)));
/// let made = recipe.evaluate()?;
/// let ratio = made.iron_per_galloyl().unwrap();
/// assert!(ratio.low < ratio.value && ratio.value < ratio.high);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Evaluation<'r> {
    /// The finished ink.
    pub composition: Composition,
    /// Everything to weigh and measure, in working order.
    pub lines: Vec<Line<'r>>,
    /// The solutions poured together.
    pub solutions: Vec<SolutionMade>,
    /// Marcs and unused stock: what went in and is not in the ink.
    pub left_behind: Composition,
    /// Relative standard uncertainty of the iron(II).
    pub iron_u: f64,
    /// Relative standard uncertainty of the galloyl units.
    pub galloyl_u: f64,
    /// Relative standard uncertainty of the strong acid, as far as it comes
    /// from acids whose strength is in doubt; it is large where little is left.
    pub acid_u: f64,
}

impl Evaluation<'_> {
    /// Iron per galloyl unit with its interval; `None` without tannin.
    pub fn iron_per_galloyl(&self) -> Option<RatioInterval> {
        let value = self.composition.ratios().iron_per_galloyl?;
        let u = libm::sqrt(self.iron_u * self.iron_u + self.galloyl_u * self.galloyl_u);
        Some(RatioInterval::new(value, u))
    }

    /// Green vitriol per galls by mass as they are weighed, the iron counted as
    /// FeSO4·7H2O; `None` unless all the tannin comes from galls.
    ///
    /// The old rules of thumb mean weighed galls, with whatever the soak leaves
    /// in them.
    pub fn vitriol_per_galls(&self) -> Option<f64> {
        let mut galls = 0.0;
        for line in self.lines.iter().filter(|l| l.galloyl > 0.0) {
            match line.lot.material() {
                Some(Material::TanninSource(t)) if GALLS.contains(&t.id) => {
                    galls += line.mass.value * line.reach;
                }
                _ => return None,
            }
        }
        let ratio = self.composition.iron().value * GREEN_VITRIOL / galls;
        (ratio > 0.0 && ratio.is_finite()).then_some(ratio)
    }

    /// What a criterion says of this ink: one that speaks of galls goes by the
    /// galls weighed, where the tannin comes from them.
    pub fn verdict(&self, criterion: &Criterion) -> Option<Verdict> {
        match (criterion.measure, self.vitriol_per_galls()) {
            (Balance::VitriolPerGalls, Some(weighed)) => {
                criterion.verdict_at(weighed, &self.composition)
            }
            _ => criterion.verdict(&self.composition),
        }
    }

    /// The ink (or the stock solution) as a lot for another recipe: with its
    /// uncertainties (from here on one source each for iron, galloyl and acid,
    /// and unrelated to those of the lots it was made of), what it is made of, its cautions, and its price where
    /// everything had one.
    ///
    /// # Errors
    /// [`RecipeError::Lot`] when it has no mass.
    pub fn to_lot(&self, name: impl Into<String>) -> Result<Lot, RecipeError> {
        let mut lot = Lot::prepared(name, &self.composition)?.with_strength_u(StrengthU {
            iron: self.iron_u,
            galloyl: self.galloyl_u,
            acid: self.acid_u,
        })?;
        let mut materials: Vec<Material> = Vec::new();
        for m in self.lines.iter().flat_map(|l| l.lot.materials()) {
            if !materials.contains(&m) {
                materials.push(m);
            }
        }
        let of_line = |l: &Line| {
            l.lot
                .cautions()
                .iter()
                .chain(l.cautions)
                .cloned()
                .collect::<Vec<_>>()
        };
        for caution in self.lines.iter().flat_map(of_line) {
            lot = lot.with_caution(caution);
        }
        if let Some((cost, 0)) = self.cost() {
            lot = lot.with_price(Price::of_pack(cost, self.composition.mass())?);
        }
        Ok(lot.made_of(materials))
    }

    /// Plant matter per iron salt by mass, as they are weighed ("three parts of
    /// galls to one of vitriol"); `None` unless both are weighed.
    pub fn plant_per_iron_salt(&self) -> Option<f64> {
        let sum = |wanted: fn(&Line) -> bool| -> f64 {
            let lines = self.lines.iter().filter(|l| wanted(l));
            lines.map(|l| l.mass.value).sum()
        };
        let salt = sum(|l| matches!(l.lot.material(), Some(Material::IronSalt(_))));
        let ratio = sum(|l| l.kind == LineKind::Plant) / salt;
        (ratio > 0.0 && ratio.is_finite()).then_some(ratio)
    }

    /// Lines without a price; water without one is free and does not count.
    pub fn unpriced(&self) -> usize {
        let free = |l: &&Line| matches!(l.lot.material(), Some(Material::Water(_)));
        let unpriced = self.lines.iter().filter(|l| l.lot.price().is_none());
        unpriced.filter(|l| !free(l)).count()
    }

    /// Cost of everything weighed, unused stock included, and how many lines
    /// have no price; water without one is free. `None` when nothing has one.
    pub fn cost(&self) -> Option<(f64, usize)> {
        let priced = self.lines.iter().any(|l| l.lot.price().is_some());
        let unpriced = self.unpriced();
        let sum = self
            .lines
            .iter()
            .filter_map(|l| l.lot.price().map(|p| p.of_checked(l.mass)))
            .sum();
        priced.then_some((sum, unpriced))
    }
}

impl<'r> Line<'r> {
    pub(super) fn whole(
        solution: usize,
        lot: &'r Lot,
        kind: LineKind,
        stated: Option<Amount>,
        mass: Mass,
    ) -> Line<'r> {
        let brings = lot.contents(mass);
        Line {
            solution,
            lot,
            kind,
            stated,
            mass,
            volume: lot.density().map(|d| mass / d),
            iron_ii: brings.iron_ii().value,
            galloyl: brings.galloyl().value,
            acid: brings.strong_acid().value,
            reach: 1.0,
            step_u: 0.0,
            cautions: &[],
        }
    }

    /// Whether a small amount of it spoils the ink: all but water and make-ups.
    pub(crate) fn counts_for_smallness(&self) -> bool {
        self.stated.is_some() && !matches!(self.lot.material(), Some(Material::Water(_)))
    }

    /// Only this share of what it brings reaches the ink.
    pub(super) fn reaching(mut self, share: f64) -> Self {
        self.iron_ii *= share;
        self.galloyl *= share;
        self.acid *= share;
        self.reach *= share;
        self
    }

    pub(super) fn of_solution(mut self, index: usize) -> Self {
        self.solution = index;
        self
    }
}

/// The galls of the catalogue.
const GALLS: &[&str] = &[
    "aleppo_galls",
    "chinese_galls",
    "marble_galls",
    "oak_apples",
    "knopper_galls",
];
