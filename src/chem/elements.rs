//! Standard atomic weights.

use crate::quantity::{MolarMass, grams_per_mole};
use crate::source::{Source, Status};

/// Where the atomic weights come from.
pub const ATOMIC_WEIGHTS_SOURCE: Source = Source::new(
    "Prohaska et al. 2022, Standard atomic weights of the elements 2021 (IUPAC Technical Report), \
     Pure Appl. Chem. 94, 573, abridged to five significant digits",
    Status::Published,
);

/// A chemical element that has a standard atomic weight.
///
/// Elements without one (technetium, radium, everything made by man) are not
/// here: their mass depends on the isotope.
///
/// ```
/// use ferrogall::chem::Element;
/// use ferrogall::quantity::ReadMolarMass;
/// let iron = Element::from_symbol("Fe").unwrap();
/// assert_eq!(iron.atomic_number(), 26);
/// assert_eq!(iron.atomic_weight().in_grams_per_mole(), 55.845);
/// ```
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Element(u8);

impl Element {
    /// The element of this symbol, spelt as in the periodic table.
    pub fn from_symbol(symbol: &str) -> Option<Element> {
        ELEMENTS
            .iter()
            .zip(0u8..)
            .find(|(row, _)| row.symbol == symbol)
            .map(|(_, i)| Element(i))
    }

    /// All elements with a standard atomic weight, by atomic number.
    pub fn all() -> impl Iterator<Item = Element> {
        ELEMENTS.iter().zip(0u8..).map(|(_, i)| Element(i))
    }

    /// Chemical symbol.
    pub const fn symbol(self) -> &'static str {
        self.row().symbol
    }

    /// English name, IUPAC spelling.
    pub const fn name(self) -> &'static str {
        self.row().name
    }

    /// Number of protons.
    pub const fn atomic_number(self) -> u8 {
        self.row().z
    }

    /// Abridged standard atomic weight as a molar mass
    /// ([`ATOMIC_WEIGHTS_SOURCE`]).
    pub fn atomic_weight(self) -> MolarMass {
        grams_per_mole(self.row().weight)
    }

    /// The uncertainty printed beside the abridged weight.
    ///
    /// IUPAC gives it as bounds for normal materials; used here as a standard
    /// uncertainty it errs on the safe side.
    pub fn atomic_weight_u(self) -> MolarMass {
        grams_per_mole(self.row().u)
    }

    pub(super) const fn index(self) -> usize {
        self.0 as usize
    }

    pub(super) const fn row(self) -> &'static Row {
        // The field is private and only ever filled from the table.
        &ELEMENTS[self.0 as usize]
    }
}

impl core::fmt::Debug for Element {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.symbol())
    }
}

impl core::fmt::Display for Element {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.symbol())
    }
}

/// One line of the table of atomic weights, g/mol.
pub(super) struct Row {
    symbol: &'static str,
    z: u8,
    name: &'static str,
    pub(super) weight: f64,
    pub(super) u: f64,
}

const fn row(symbol: &'static str, z: u8, name: &'static str, weight: f64, u: f64) -> Row {
    Row {
        symbol,
        z,
        name,
        weight,
        u,
    }
}

pub(super) const ELEMENT_COUNT: usize = 84;

/// Symbol, atomic number, name, abridged standard atomic weight, uncertainty.
static ELEMENTS: [Row; ELEMENT_COUNT] = [
    row("H", 1, "hydrogen", 1.008, 0.0002),
    row("He", 2, "helium", 4.0026, 0.0001),
    row("Li", 3, "lithium", 6.94, 0.06),
    row("Be", 4, "beryllium", 9.0122, 0.0001),
    row("B", 5, "boron", 10.81, 0.02),
    row("C", 6, "carbon", 12.011, 0.002),
    row("N", 7, "nitrogen", 14.007, 0.001),
    row("O", 8, "oxygen", 15.999, 0.001),
    row("F", 9, "fluorine", 18.998, 0.001),
    row("Ne", 10, "neon", 20.18, 0.001),
    row("Na", 11, "sodium", 22.99, 0.001),
    row("Mg", 12, "magnesium", 24.305, 0.002),
    row("Al", 13, "aluminium", 26.982, 0.001),
    row("Si", 14, "silicon", 28.085, 0.001),
    row("P", 15, "phosphorus", 30.974, 0.001),
    row("S", 16, "sulfur", 32.06, 0.02),
    row("Cl", 17, "chlorine", 35.45, 0.01),
    row("Ar", 18, "argon", 39.95, 0.16),
    row("K", 19, "potassium", 39.098, 0.001),
    row("Ca", 20, "calcium", 40.078, 0.004),
    row("Sc", 21, "scandium", 44.956, 0.001),
    row("Ti", 22, "titanium", 47.867, 0.001),
    row("V", 23, "vanadium", 50.942, 0.001),
    row("Cr", 24, "chromium", 51.996, 0.001),
    row("Mn", 25, "manganese", 54.938, 0.001),
    row("Fe", 26, "iron", 55.845, 0.002),
    row("Co", 27, "cobalt", 58.933, 0.001),
    row("Ni", 28, "nickel", 58.693, 0.001),
    row("Cu", 29, "copper", 63.546, 0.003),
    row("Zn", 30, "zinc", 65.38, 0.02),
    row("Ga", 31, "gallium", 69.723, 0.001),
    row("Ge", 32, "germanium", 72.63, 0.008),
    row("As", 33, "arsenic", 74.922, 0.001),
    row("Se", 34, "selenium", 78.971, 0.008),
    row("Br", 35, "bromine", 79.904, 0.003),
    row("Kr", 36, "krypton", 83.798, 0.002),
    row("Rb", 37, "rubidium", 85.468, 0.001),
    row("Sr", 38, "strontium", 87.62, 0.01),
    row("Y", 39, "yttrium", 88.906, 0.001),
    row("Zr", 40, "zirconium", 91.224, 0.002),
    row("Nb", 41, "niobium", 92.906, 0.001),
    row("Mo", 42, "molybdenum", 95.95, 0.01),
    row("Ru", 44, "ruthenium", 101.07, 0.02),
    row("Rh", 45, "rhodium", 102.91, 0.01),
    row("Pd", 46, "palladium", 106.42, 0.01),
    row("Ag", 47, "silver", 107.87, 0.01),
    row("Cd", 48, "cadmium", 112.41, 0.01),
    row("In", 49, "indium", 114.82, 0.01),
    row("Sn", 50, "tin", 118.71, 0.01),
    row("Sb", 51, "antimony", 121.76, 0.01),
    row("Te", 52, "tellurium", 127.6, 0.03),
    row("I", 53, "iodine", 126.9, 0.01),
    row("Xe", 54, "xenon", 131.29, 0.01),
    row("Cs", 55, "caesium", 132.91, 0.01),
    row("Ba", 56, "barium", 137.33, 0.01),
    row("La", 57, "lanthanum", 138.91, 0.01),
    row("Ce", 58, "cerium", 140.12, 0.01),
    row("Pr", 59, "praseodymium", 140.91, 0.01),
    row("Nd", 60, "neodymium", 144.24, 0.01),
    row("Sm", 62, "samarium", 150.36, 0.02),
    row("Eu", 63, "europium", 151.96, 0.01),
    row("Gd", 64, "gadolinium", 157.25, 0.03),
    row("Tb", 65, "terbium", 158.93, 0.01),
    row("Dy", 66, "dysprosium", 162.5, 0.01),
    row("Ho", 67, "holmium", 164.93, 0.01),
    row("Er", 68, "erbium", 167.26, 0.01),
    row("Tm", 69, "thulium", 168.93, 0.01),
    row("Yb", 70, "ytterbium", 173.05, 0.02),
    row("Lu", 71, "lutetium", 174.97, 0.01),
    row("Hf", 72, "hafnium", 178.49, 0.01),
    row("Ta", 73, "tantalum", 180.95, 0.01),
    row("W", 74, "tungsten", 183.84, 0.01),
    row("Re", 75, "rhenium", 186.21, 0.01),
    row("Os", 76, "osmium", 190.23, 0.03),
    row("Ir", 77, "iridium", 192.22, 0.01),
    row("Pt", 78, "platinum", 195.08, 0.02),
    row("Au", 79, "gold", 196.97, 0.01),
    row("Hg", 80, "mercury", 200.59, 0.01),
    row("Tl", 81, "thallium", 204.38, 0.01),
    row("Pb", 82, "lead", 207.2, 1.1),
    row("Bi", 83, "bismuth", 208.98, 0.01),
    row("Th", 90, "thorium", 232.04, 0.01),
    row("Pa", 91, "protactinium", 231.04, 0.01),
    row("U", 92, "uranium", 238.03, 0.01),
];
