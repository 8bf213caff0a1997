//! The components that every dissolved species is made of.

use crate::composition::Component;

macro_rules! masters {
    ($($name:ident, $formula:literal, $charge:literal, $doc:literal;)*) => {
        /// A master species: what the species of a solution are written in.
        ///
        /// Protons are not listed, electroneutrality gives them. Iron(II) and
        /// iron(III) are separate: redox is never assumed to be at
        /// equilibrium.
        ///
        /// ```
        /// use ferrogall::equilibrium::Master;
        /// assert_eq!(Master::from_formula("Fe+3"), Some(Master::IronIII));
        /// assert_eq!(Master::Sulfate.charge(), -2);
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        #[repr(usize)]
        pub enum Master {
            $(#[doc = $doc] $name,)*
        }

        impl Master {
            /// Every master species, in order.
            pub const ALL: &'static [Master] = &[$(Master::$name),*];

            /// How equations write it.
            pub const fn formula(self) -> &'static str {
                match self {
                    $(Master::$name => $formula,)*
                }
            }

            /// Its charge.
            pub const fn charge(self) -> i32 {
                match self {
                    $(Master::$name => $charge,)*
                }
            }
        }
    };
}

masters! {
    IronII, "Fe+2", 2, "Iron(II).";
    IronIII, "Fe+3", 3, "Iron(III).";
    Sulfate, "SO4-2", -2, "Sulfate.";
    Chloride, "Cl-", -1, "Chloride.";
    Nitrate, "NO3-", -1, "Nitrate.";
    Acetate, "Acetate-", -1, "Acetate.";
    Oxalate, "Oxalate-2", -2, "Oxalate.";
    Citrate, "Citrate-3", -3, "Citrate, its hydroxyl proton on.";
    Tartrate, "Tartrate-2", -2, "Tartrate.";
    Phosphate, "PO4-3", -3, "Phosphate.";
    Carbonate, "CO3-2", -2, "Carbonate.";
    Gallate, "H3Gal-", -1, "Gallate, its three phenol protons on: the fourth constant of gallic acid cannot be measured in water.";
    Galloyl, "Galloyl", 0, "A galloyl ester site of tannin, all its protons on; each counts by itself.";
    Salicylate, "Salicylate-2", -2, "Salicylate, the phenol proton off.";
    Benzoate, "Benzoate-", -1, "Benzoate.";
    Sorbate, "Sorbate-", -1, "Sorbate.";
    Phenolate, "Phenolate-", -1, "Phenolate.";
    Gluconate, "Gluconate-", -1, "Gluconate.";
    Lactate, "Lactate-", -1, "Lactate.";
    Sodium, "Na+", 1, "Sodium.";
    Potassium, "K+", 1, "Potassium.";
    Ammonium, "NH4+", 1, "Ammonium.";
    Calcium, "Ca+2", 2, "Calcium.";
    Magnesium, "Mg+2", 2, "Magnesium.";
    Copper, "Cu+2", 2, "Copper(II).";
    Zinc, "Zn+2", 2, "Zinc.";
    Manganese, "Mn+2", 2, "Manganese(II).";
    Aluminium, "Al+3", 3, "Aluminium.";
}

/// How many there are.
pub(crate) const MASTERS: usize = Master::ALL.len();

impl Master {
    /// The master species written so.
    pub fn from_formula(formula: &str) -> Option<Master> {
        Master::ALL.iter().copied().find(|m| m.formula() == formula)
    }

    /// What a component of an ink is, dissolved; `None` for what takes no
    /// part in any acid–base or complex equilibrium here (glycerol, thymol …).
    pub const fn of(component: Component) -> Option<Master> {
        Some(match component {
            Component::IronII => Master::IronII,
            Component::IronIII => Master::IronIII,
            Component::Galloyl => Master::Galloyl,
            Component::GallicAcid => Master::Gallate,
            Component::Sulfate => Master::Sulfate,
            Component::Chloride => Master::Chloride,
            Component::Nitrate => Master::Nitrate,
            Component::Acetate => Master::Acetate,
            Component::Oxalate => Master::Oxalate,
            Component::Citrate => Master::Citrate,
            Component::Tartrate => Master::Tartrate,
            Component::Phosphate => Master::Phosphate,
            Component::Gluconate => Master::Gluconate,
            Component::Lactate => Master::Lactate,
            Component::Carbonate => Master::Carbonate,
            Component::Sodium => Master::Sodium,
            Component::Potassium => Master::Potassium,
            Component::Ammonium => Master::Ammonium,
            Component::Calcium => Master::Calcium,
            Component::Magnesium => Master::Magnesium,
            Component::Salicylate => Master::Salicylate,
            Component::Benzoate => Master::Benzoate,
            Component::Sorbate => Master::Sorbate,
            Component::Phenol => Master::Phenolate,
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_and_formulas_are_those_of_the_enum() {
        for (i, m) in Master::ALL.iter().enumerate() {
            assert_eq!(*m as usize, i);
            assert_eq!(Master::from_formula(m.formula()), Some(*m));
        }
    }
}
