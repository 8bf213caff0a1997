//! An ink held against a specification, clause by clause.

use super::Quantity;
use super::chances::ClauseChance;
use super::clause::{Bound, Clause, Limit, Requirement, Window};
use super::standard::{Cited, Kind, Standard, Standing};
use super::strength::StrengthHint;
use super::to_carry_out::Test;
use crate::composition::Composition;

/// What a clause says of an ink.
///
/// ```
/// use ferrogall::standards::ClauseVerdict;
/// assert_eq!(ClauseVerdict::MeetsAsRounded.words(), "meets only as rounded");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum ClauseVerdict {
    /// Inside the limit to the letter.
    Meets,
    /// Outside it to the letter, inside once the figure is rounded to the
    /// digits the limit is stated to.
    MeetsAsRounded,
    /// Outside on either reading.
    DoesNotMeet,
    /// Nothing that a composition tells: a test to carry out.
    CannotBeComputed,
    /// The clause exists, its number has not been seen.
    NumberNotSeen,
    /// The ink has no such figure (no volume, no iron).
    NoFigure,
}

impl ClauseVerdict {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            ClauseVerdict::Meets => "meets",
            ClauseVerdict::MeetsAsRounded => "meets only as rounded",
            ClauseVerdict::DoesNotMeet => "does not meet",
            ClauseVerdict::CannotBeComputed => "cannot be computed",
            ClauseVerdict::NumberNotSeen => "number not seen",
            ClauseVerdict::NoFigure => "no such figure",
        }
    }

    fn of(limit: &Limit, figure: Option<f64>) -> ClauseVerdict {
        match figure {
            None => ClauseVerdict::NoFigure,
            Some(x) if limit.window().contains(x) => ClauseVerdict::Meets,
            Some(x) if limit.rounded_window().contains(x) => ClauseVerdict::MeetsAsRounded,
            Some(_) => ClauseVerdict::DoesNotMeet,
        }
    }
}

/// What the clauses on the composition say together.
///
/// It is never the verdict of the standard: that has tests too.
///
/// ```
/// use ferrogall::composition::Composition;
/// use ferrogall::standards::{CompositionVerdict, standard};
/// let swedish = standard("se_sfs_1964_504").unwrap().compare(&Composition::EMPTY);
/// assert_eq!(swedish.composition, CompositionVerdict::NothingToCompute);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum CompositionVerdict {
    /// All of known number are met to the letter.
    Met,
    /// All of known number are met, some only as rounded.
    MetAsRounded,
    /// At least one is not.
    NotMet,
    /// There is none whose number is known.
    NothingToCompute,
}

/// The same clause on the other basis that it may mean.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::{reference_ink, standard};
/// let ink = reference_ink("british_record_1962").unwrap().recipe(liters(1.0), 1.0)?;
/// let page = standard("de_document_class_i").unwrap().compare(&ink.evaluate()?.composition);
/// let both = page.clauses[0].other_basis.as_ref().unwrap();
/// assert!((both.figure.unwrap() - 25.9).abs() < 1e-9); // 19.5 g and 6.4 g of crystals
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct OtherBasis {
    /// The quantity.
    pub quantity: Quantity,
    /// Its unit.
    pub unit: &'static str,
    /// Its value in the ink.
    pub figure: Option<f64>,
    /// What the clause says of that.
    pub verdict: ClauseVerdict,
}

/// What the figure of another source says of the ink.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::{ClauseVerdict, reference_ink, standard};
/// let ink = reference_ink("german_document_1888").unwrap().recipe(liters(1.0), 0.95)?;
/// let page = standard("de_document_class_i").unwrap().compare(&ink.evaluate()?.composition);
/// let rival = &page.clauses[0].rivals[0]; // 30 g/L, from memory
/// assert_eq!(page.clauses[0].verdict, ClauseVerdict::Meets);
/// assert_eq!(rival.verdict, ClauseVerdict::DoesNotMeet);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct RivalComparison {
    /// The limit by that source.
    pub limit: Limit,
    /// What it says.
    pub verdict: ClauseVerdict,
    /// The source.
    pub cited: Cited,
}

/// One clause and what it says of an ink.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::{Bound, reference_ink, standard};
/// let ink = reference_ink("british_record_1962").unwrap().recipe(liters(1.0), 1.0)?;
/// let page = standard("bs_3484_1962").unwrap().compare(&ink.evaluate()?.composition);
/// let iron = &page.clauses[0]; // 5 to 6 g/L; the ink has 5.02
/// assert_eq!(iron.nearest, Some(Bound::Min));
/// assert!((iron.margin.unwrap() - 0.022).abs() < 0.001);
/// assert!((iron.relative_margin.unwrap() - 0.0044).abs() < 0.0001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct ClauseComparison {
    /// Number of the clause; empty when not known.
    pub number: String,
    /// Its title.
    pub title: String,
    /// What it says of the ink.
    pub verdict: ClauseVerdict,
    /// What it limits.
    pub quantity: Option<Quantity>,
    /// Unit of figure, limits and margin; "1" for a ratio, empty without a quantity.
    pub unit: &'static str,
    /// The figure of the ink.
    pub figure: Option<f64>,
    /// The least allowed, to the letter.
    pub min: Option<f64>,
    /// The most allowed, to the letter.
    pub max: Option<f64>,
    /// Decimals the limit is stated to.
    pub decimals: Option<u8>,
    /// The limit as printed, where that is in another unit; else empty.
    pub printed: String,
    /// The nearer limit.
    pub nearest: Option<Bound>,
    /// How far inside that limit the figure lies; negative: outside.
    pub margin: Option<f64>,
    /// The same as a share of the limit.
    pub relative_margin: Option<f64>,
    /// How many times the quantity would meet the limit to the letter; `None`
    /// where it does, or no factor would.
    pub factor: Option<f64>,
    /// The figure on the other basis the clause may mean.
    pub other_basis: Option<OtherBasis>,
    /// What other sources' figures say.
    pub rivals: Vec<RivalComparison>,
    /// The test to carry out, where it is one.
    pub test: Option<Test>,
    /// What is known of a number not seen; else empty.
    pub reads: String,
    /// How likely the ink meets it, where that was asked.
    pub chance: Option<ClauseChance>,
    /// What to know; empty when nothing.
    pub note: String,
    /// Where the clause comes from.
    pub cited: Cited,
}

impl ClauseComparison {
    fn of(clause: &Clause, ink: &Composition) -> ClauseComparison {
        let mut out = ClauseComparison {
            number: clause.number.to_string(),
            title: clause.title.to_string(),
            verdict: ClauseVerdict::CannotBeComputed,
            quantity: None,
            unit: "",
            figure: None,
            min: None,
            max: None,
            decimals: None,
            printed: String::new(),
            nearest: None,
            margin: None,
            relative_margin: None,
            factor: None,
            other_basis: None,
            rivals: Vec::new(),
            test: None,
            reads: String::new(),
            chance: None,
            note: clause.note.to_string(),
            cited: clause.cited.clone(),
        };
        match &clause.requirement {
            Requirement::Limit(limit) => out.judge(limit, clause, ink),
            Requirement::Test(test) => out.test = Some(test.clone()),
            Requirement::NotSeen { quantity, reads } => {
                out.verdict = ClauseVerdict::NumberNotSeen;
                out.reads = reads.to_string();
                out.measure(*quantity, ink);
            }
        }
        out
    }

    fn measure(&mut self, quantity: Option<Quantity>, ink: &Composition) {
        self.quantity = quantity;
        self.unit = quantity.map_or("", Quantity::unit);
        self.figure = quantity.and_then(|q| q.of(ink));
    }

    fn judge(&mut self, limit: &Limit, clause: &Clause, ink: &Composition) {
        let window = limit.window();
        self.measure(Some(limit.quantity()), ink);
        self.verdict = ClauseVerdict::of(limit, self.figure);
        (self.min, self.max) = (window.min, window.max);
        self.decimals = Some(limit.decimals());
        self.printed = limit.printed().to_string();
        if let Some((nearest, margin)) = self.figure.and_then(|x| window.margin(x)) {
            self.nearest = Some(nearest);
            self.margin = Some(margin);
            let relative = window.bound(nearest).map(|bound| margin / bound.abs());
            self.relative_margin = relative.filter(|r| r.is_finite());
        }
        if self.verdict != ClauseVerdict::Meets {
            self.factor = self.figure.and_then(|x| factor_to(&window, x));
        }
        self.other_basis = limit.other_basis().map(|quantity| {
            let figure = quantity.of(ink);
            OtherBasis {
                quantity,
                unit: quantity.unit(),
                figure,
                verdict: ClauseVerdict::of(&limit.on(quantity), figure),
            }
        });
        let rival = |rival: &super::Rival| RivalComparison {
            limit: rival.limit.clone(),
            verdict: ClauseVerdict::of(&rival.limit, rival.limit.quantity().of(ink)),
            cited: rival.cited.clone(),
        };
        self.rivals = clause.rivals.iter().map(rival).collect();
    }

    /// The limits to the letter, where it is a limit.
    pub fn window(&self) -> Option<Window> {
        let quantity = self.quantity?;
        (self.min.is_some() || self.max.is_some()).then_some(Window {
            quantity,
            min: self.min,
            max: self.max,
            open_above: false,
        })
    }
}

/// The least change by a factor that brings a figure into a window.
fn factor_to(window: &Window, figure: f64) -> Option<f64> {
    let (side, _) = window.margin(figure)?;
    let factor = window.bound(side)? / figure;
    (factor.is_finite() && factor > 0.0).then_some(factor)
}

/// An ink held against a specification.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::{reference_ink, standard};
/// let ink = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
/// let page = standard("is_38_1952").unwrap().compare(&ink.evaluate()?.composition);
/// assert_eq!((page.met, page.tests, page.not_seen), (1, 4, 1));
/// println!("{page}");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct StandardComparison {
    /// Version of this shape.
    pub schema: u32,
    /// Version of the data of the crate.
    pub data: &'static str,
    /// Identifier of the standard.
    pub standard: String,
    /// Its name, edition and standing in one line.
    pub title: String,
    /// What kind of document it is.
    pub kind: Kind,
    /// Whether it is in force, as far as is known.
    pub standing: Standing,
    /// What it covers.
    pub scope: String,
    /// Every clause, in order.
    pub clauses: Vec<ClauseComparison>,
    /// The clauses on the composition together.
    pub composition: CompositionVerdict,
    /// Clauses on the composition met to the letter.
    pub met: usize,
    /// Met only as rounded.
    pub met_as_rounded: usize,
    /// Not met, or the ink has no such figure.
    pub not_met: usize,
    /// Tests to carry out.
    pub tests: usize,
    /// Clauses whose number has not been seen.
    pub not_seen: usize,
    /// What dilution or strengthening would meet all of them to the letter;
    /// `None` where they are met, or none would.
    pub strength: Option<StrengthHint>,
    /// How likely the ink meets all clauses on the composition at once, by
    /// draws, where that was asked.
    pub chance: Option<ClauseChance>,
    /// What to know of the standard; empty when nothing.
    pub note: String,
    /// Where the standard comes from.
    pub cited: Cited,
}

impl Standard {
    /// The ink held against every clause. (With the doubt about its lots:
    /// [`compare_made`](Self::compare_made), [`compare_drawn`](Self::compare_drawn).)
    pub fn compare(&self, ink: &Composition) -> StandardComparison {
        let clauses = self.clauses.iter().map(|c| ClauseComparison::of(c, ink));
        let clauses: Vec<ClauseComparison> = clauses.collect();
        let count = |wanted: &[ClauseVerdict]| {
            let those = clauses.iter().filter(|c| wanted.contains(&c.verdict));
            those.count()
        };
        let met = count(&[ClauseVerdict::Meets]);
        let met_as_rounded = count(&[ClauseVerdict::MeetsAsRounded]);
        let not_met = count(&[ClauseVerdict::DoesNotMeet, ClauseVerdict::NoFigure]);
        StandardComparison {
            schema: SCHEMA,
            data: crate::source::DATA_VERSION,
            standard: self.id.to_string(),
            title: self.title(),
            kind: self.kind,
            standing: self.standing,
            scope: self.scope.to_string(),
            composition: match (met, met_as_rounded, not_met) {
                (0, 0, 0) => CompositionVerdict::NothingToCompute,
                (_, 0, 0) => CompositionVerdict::Met,
                (_, _, 0) => CompositionVerdict::MetAsRounded,
                _ => CompositionVerdict::NotMet,
            },
            met,
            met_as_rounded,
            not_met,
            tests: count(&[ClauseVerdict::CannotBeComputed]),
            not_seen: count(&[ClauseVerdict::NumberNotSeen]),
            strength: StrengthHint::of(&clauses),
            clauses,
            chance: None,
            note: self.note.to_string(),
            cited: self.cited.clone(),
        }
    }
}

/// Version of the shape of a comparison.
const SCHEMA: u32 = 1;

impl StandardComparison {
    /// Whether every clause on the composition that is not met is missed by
    /// at most this share of its limit.
    pub fn nearly(&self, share: f64) -> bool {
        let missed = |c: &&ClauseComparison| {
            matches!(
                c.verdict,
                ClauseVerdict::DoesNotMeet | ClauseVerdict::NoFigure
            )
        };
        self.composition == CompositionVerdict::NotMet
            && self
                .clauses
                .iter()
                .filter(missed)
                .all(|c| c.relative_margin.is_some_and(|m| m >= -share))
    }

    /// What would meet every limit to the letter, in words: a strength of the
    /// whole ink or, where none would, how many times of each quantity that is
    /// outside. Arithmetic on the limits; `None` where nothing is outside, or
    /// nothing is there to be made more of.
    ///
    /// ```
    /// use ferrogall::quantity::liters;
    /// use ferrogall::standards::{reference_ink, standard};
    /// // 10 g/L of gallic acid crystals and 3.01 g/L of iron: 27 and 4 to 6 are wanted.
    /// let powder = reference_ink("us_gallic_powder_1935").unwrap().recipe(liters(1.0), 1.0)?;
    /// let page = standard("de_document_class_i").unwrap().compare(&powder.evaluate()?.composition);
    /// let hint = page.hint().unwrap();
    /// assert!(hint.contains("1.328 times the metallic iron"), "{hint}");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn hint(&self) -> Option<String> {
        if let Some(strength) = &self.strength {
            return Some(strength.words());
        }
        let factor = |c: &ClauseComparison| {
            let (factor, quantity) = (c.factor?, c.quantity?);
            Some(format!("{factor:.3} times the {}", quantity.name()))
        };
        let factors: Vec<String> = self.clauses.iter().filter_map(factor).collect();
        (!factors.is_empty()).then(|| factors.join(" and "))
    }

    /// The outcome in a sentence. It never says that the standard is met.
    pub fn summary(&self) -> String {
        let mut parts = Vec::new();
        let computable = self.met + self.met_as_rounded + self.not_met;
        let clauses = match self.not_seen {
            0 => "composition clauses",
            _ => "composition clauses of known number",
        };
        parts.push(match self.composition {
            CompositionVerdict::NothingToCompute => {
                "no clause on the composition with a known number".to_string()
            }
            CompositionVerdict::Met => format!("{clauses} met"),
            CompositionVerdict::MetAsRounded => format!(
                "{clauses} met, {} of {computable} only as rounded",
                self.met_as_rounded
            ),
            CompositionVerdict::NotMet => {
                format!("{} of {computable} {clauses} not met", self.not_met)
            }
        });
        let without = |c: &&ClauseComparison| c.verdict == ClauseVerdict::NoFigure;
        match self.clauses.iter().filter(without).count() {
            0 => {}
            n => parts.push(format!("{n} of them for want of a figure in this ink")),
        }
        let published = self.kind == Kind::Specification;
        match self.tests {
            0 if published && self.not_seen == 0 => {
                parts.push("whatever tests it has are not known here".to_string());
            }
            0 => {}
            1 => parts.push("1 test remains to be carried out".to_string()),
            n => parts.push(format!("{n} tests remain to be carried out")),
        }
        match self.not_seen {
            0 => {}
            1 => parts.push("1 clause whose number has not been seen".to_string()),
            n => parts.push(format!("{n} clauses whose numbers have not been seen")),
        }
        parts.join("; ")
    }
}
