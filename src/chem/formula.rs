//! Chemical formulas and their molar masses.

use core::fmt;
use core::str::FromStr;

use super::elements::{ELEMENT_COUNT, Element};
use super::parse;
use crate::quantity::{MolarMass, grams_per_mole};

/// Molar mass of the substance with this formula.
///
/// ```
/// use ferrogall::chem::molar_mass;
/// use ferrogall::quantity::ReadMolarMass;
/// let vitriol = molar_mass("FeSO4·7H2O")?;
/// assert!((vitriol.in_grams_per_mole() - 278.006).abs() < 1e-9);
/// # Ok::<(), ferrogall::chem::FormulaError>(())
/// ```
///
/// # Errors
/// [`FormulaError`] when the text is no formula; see [`Formula::parse`].
pub fn molar_mass(formula: &str) -> Result<MolarMass, FormulaError> {
    Formula::parse(formula).map(|f| f.molar_mass())
}

/// What a substance is made of: atoms of each element, and a charge.
///
/// Two formulas are equal when they count the same atoms, however written.
///
/// ```
/// use ferrogall::chem::Formula;
/// let mohr: Formula = "(NH4)2Fe(SO4)2 * 6 H2O".parse()?;
/// assert_eq!(mohr.count("H"), 20.0);
/// assert_eq!(mohr.to_string(), "FeH20N2O14S2");
/// assert_eq!(Formula::parse("[Fe(H2O)6]²⁺")?.charge(), 2);
/// # Ok::<(), ferrogall::chem::FormulaError>(())
/// ```
#[derive(Clone, Copy, PartialEq)]
pub struct Formula {
    atoms: Atoms,
    charge: i32,
}

impl Formula {
    /// Reads a formula.
    ///
    /// - Groups in `()`, `[]` or `{}`, up to 32 deep: `(NH4)2Fe(SO4)2`.
    /// - Parts joined by a dot of any kind (`·` `•` `⋅` `∙` `.` `*` `×` `x`),
    ///   spaces around it allowed, each with a leading multiplier:
    ///   `FeSO4·7H2O`, `CaSO4 . 0.5 H2O`, `CaSO4·1/2H2O`.
    /// - Counts from a millionth to a million, as digits or subscripts (`H₂O`). A point
    ///   inside a count is a hydrate dot, except after a plain zero
    ///   (`FeSO4.7H2O` against `Fe0.95O`).
    /// - A state at the end, `(s)` `(l)` `(g)` `(aq)` `(cr)`, is passed over.
    /// - A charge at the end: `SO4^2-`, `SO4^-2`, `SO₄²⁻`, `SO4 2-`, `Fe+++`,
    ///   `Fe+3`. With neither caret, space nor superscript, digits before the
    ///   sign could be atoms or charge; they are read as chemists write:
    ///     - after one lone element, or after square brackets around the whole,
    ///       they are the charge: `Fe2+`, `O2-`, `[Fe(CN)6]3-`. Hydrogen and
    ///       the halogens carry no such charges, so there they count atoms:
    ///       `H2+`, `I3-`;
    ///     - anywhere else one digit counts atoms, and of two or more the last
    ///       is the charge: `NO3-`, `NH4+`, `SO42-`, `C6H5O73-`. A last digit
    ///       of 0 still counts atoms.
    ///
    /// # Errors
    /// [`FormulaError`] with the place and the kind of the first fault. Texts
    /// above 1 KiB are refused.
    pub fn parse(text: &str) -> Result<Formula, FormulaError> {
        let (atoms, charge) = parse::formula(text)?;
        Ok(Formula { atoms, charge })
    }

    /// The elements present and how many atoms of each, by atomic number.
    pub fn iter(&self) -> impl Iterator<Item = (Element, f64)> + '_ {
        Element::all()
            .map(|e| (e, self.atoms.of(e)))
            .filter(|(_, n)| *n > 0.0)
    }

    /// Atoms of the element of this symbol; 0 when it is absent or no element.
    pub fn count(&self, symbol: &str) -> f64 {
        Element::from_symbol(symbol).map_or(0.0, |e| self.atoms.of(e))
    }

    /// Charge in elementary charges.
    pub const fn charge(&self) -> i32 {
        self.charge
    }

    /// Molar mass by the IUPAC 2021 abridged atomic weights.
    ///
    /// The mass of electrons that an ion lacks or has too many of (0.00055
    /// g/mol each) is left out: it is below the uncertainty of the weights.
    pub fn molar_mass(&self) -> MolarMass {
        grams_per_mole(self.iter().map(|(e, n)| n * e.row().weight).sum())
    }

    /// Standard uncertainty of [`Formula::molar_mass`] from that of the atomic
    /// weights: root of the sum of squares over the elements, each element's
    /// atoms moving together.
    pub fn molar_mass_u(&self) -> MolarMass {
        let square = |x: f64| x * x;
        let sum: f64 = self.iter().map(|(e, n)| square(n * e.row().u)).sum();
        grams_per_mole(libm::sqrt(sum))
    }

    /// Mass of one element per mass of the substance, 0 to 1; 0 when the
    /// element is absent.
    pub fn mass_share(&self, symbol: &str) -> f64 {
        // A parsed formula holds at least one atom, so the total is positive.
        Element::from_symbol(symbol).map_or(0.0, |e| {
            let total: f64 = self.iter().map(|(e, n)| n * e.row().weight).sum();
            self.atoms.of(e) * e.row().weight / total
        })
    }
}

impl FromStr for Formula {
    type Err = FormulaError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        Formula::parse(text)
    }
}

/// Hill order: carbon, hydrogen, then the alphabet; without carbon the alphabet
/// alone. The charge follows a caret: `O4S^2-`.
impl fmt::Display for Formula {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let organic = self.count("C") > 0.0;
        let rank = |e: Element| match e.symbol() {
            "C" if organic => (0, ""),
            "H" if organic => (1, ""),
            symbol => (2, symbol),
        };
        let mut last = None;
        while let Some((e, n)) = self
            .iter()
            .filter(|(e, _)| last < Some(rank(*e)))
            .min_by_key(|(e, _)| rank(*e))
        {
            f.write_str(e.symbol())?;
            if n != 1.0 {
                write!(f, "{n}")?;
            }
            last = Some(rank(e));
        }
        match (self.charge.unsigned_abs(), self.charge.signum()) {
            (0, _) => Ok(()),
            (1, sign) => f.write_str(if sign > 0 { "^+" } else { "^-" }),
            (n, sign) => write!(f, "^{n}{}", if sign > 0 { '+' } else { '-' }),
        }
    }
}

impl fmt::Debug for Formula {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Formula({self})")
    }
}

/// Atoms of every element, in the order of the table of weights.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Atoms([f64; ELEMENT_COUNT]);

impl Atoms {
    pub(super) const NONE: Atoms = Atoms([0.0; ELEMENT_COUNT]);

    pub(super) fn of(&self, e: Element) -> f64 {
        self.0[e.index()]
    }

    pub(super) fn add(&mut self, e: Element, n: f64) {
        self.0[e.index()] += n;
    }

    pub(super) fn add_all(&mut self, other: &Atoms, times: f64) {
        for (mine, theirs) in self.0.iter_mut().zip(&other.0) {
            *mine += theirs * times;
        }
    }

    pub(super) fn most(&self) -> f64 {
        self.0.iter().copied().fold(0.0, f64::max)
    }
}

/// What is wrong with a formula.
///
/// ```
/// use ferrogall::chem::{Formula, FormulaErrorKind};
/// let e = Formula::parse("FeS04").unwrap_err();
/// assert_eq!(e.kind, FormulaErrorKind::BadCount);
/// let e = Formula::parse("(NH4)2Fe(SO4").unwrap_err();
/// assert_eq!(e.to_string(), "bracket without a partner: '(' at byte 8");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum FormulaErrorKind {
    /// Nothing, or nothing between brackets or dots.
    #[error("an element or a group is missing")]
    Empty,
    /// No element of this symbol has a standard atomic weight.
    #[error("no element of this symbol with a standard atomic weight")]
    UnknownElement,
    /// An opening bracket never closed, or a closing one of the wrong kind.
    #[error("bracket without a partner")]
    UnbalancedBracket,
    /// Brackets more than 32 deep.
    #[error("brackets more than 32 deep")]
    TooDeep,
    /// A count below a millionth, with a leading zero, or a fraction by zero.
    #[error("not a count of atoms")]
    BadCount,
    /// More than a million atoms of one kind.
    #[error("more than a million atoms")]
    CountTooLarge,
    /// A charge that is not a number up to 99 with one kind of sign.
    #[error("not a charge")]
    BadCharge,
    /// A character that has no place here.
    #[error("character out of place")]
    Unexpected,
    /// More than 1 KiB of text.
    #[error("longer than 1024 bytes")]
    TooLong,
}

/// Why a text is no formula, and where.
///
/// ```
/// use ferrogall::chem::{Formula, FormulaErrorKind};
/// let e = Formula::parse("FeSO4·7Hx2O").unwrap_err();
/// assert_eq!((e.kind, e.position, e.found), (FormulaErrorKind::UnknownElement, 8, Some('H')));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FormulaError {
    /// What is wrong.
    pub kind: FormulaErrorKind,
    /// Byte offset into the text, always on a character boundary.
    pub position: usize,
    /// The character there; none at the end of the text.
    pub found: Option<char>,
}

impl fmt::Display for FormulaError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.found {
            Some(c) => write!(f, "{}: {c:?} at byte {}", self.kind, self.position),
            None => write!(f, "{}: at the end (byte {})", self.kind, self.position),
        }
    }
}

impl std::error::Error for FormulaError {}
