//! Names of the conserved totals.

macro_rules! components {
    ($($name:ident, $id:literal, $formula:literal, $charge:literal, $doc:literal;)*) => {
        /// A dissolved component, counted in mol.
        ///
        /// Iron(II) and iron(III) are separate: redox is never assumed to be
        /// at equilibrium. Protons are not listed, the charge balance gives
        /// them.
        ///
        /// ```
        /// use ferrogall::composition::Component;
        /// assert_eq!(Component::from_id("iron_ii"), Some(Component::IronII));
        /// assert_eq!(Component::Sulfate.strong_charge(), -2.0);
        /// assert_eq!(Component::Acetate.strong_charge(), 0.0); // a weak acid's anion
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        #[repr(usize)]
        pub enum Component {
            $(#[doc = $doc] $name,)*
        }

        impl Component {
            /// Every component, in order.
            pub const ALL: &'static [Component] = &[$(Component::$name),*];

            /// Identifier for JSON and C.
            pub const fn id(self) -> &'static str {
                match self {
                    $(Component::$name => $id,)*
                }
            }

            /// Formula in which it is weighed: of the ion, the molecule or,
            /// for [`Component::Galloyl`], the group C7H5O4.
            pub const fn formula(self) -> &'static str {
                match self {
                    $(Component::$name => $formula,)*
                }
            }

            /// Charge with which it enters the balance of strong ions; 0 for
            /// weak acids and neutral molecules.
            pub const fn strong_charge(self) -> f64 {
                match self {
                    $(Component::$name => $charge,)*
                }
            }
        }
    };
}

// Name, identifier, formula, strong charge, meaning.
components! {
    IronII, "iron_ii", "Fe", 2.0, "Iron(II).";
    IronIII, "iron_iii", "Fe", 3.0, "Iron(III).";
    Galloyl, "galloyl", "C7H5O4", 0.0, "Galloyl (vicinal trihydroxyphenyl) units bound in tannin.";
    GallicAcid, "gallic_acid", "C7H6O5", 0.0, "Free gallic acid.";
    Sulfate, "sulfate", "SO4", -2.0, "Sulfate.";
    Chloride, "chloride", "Cl", -1.0, "Chloride.";
    Nitrate, "nitrate", "NO3", -1.0, "Nitrate.";
    Acetate, "acetate", "C2H3O2", 0.0, "Acetate and acetic acid.";
    Oxalate, "oxalate", "C2O4", 0.0, "Oxalate and oxalic acid.";
    Citrate, "citrate", "C6H5O7", 0.0, "Citrate and citric acid.";
    Tartrate, "tartrate", "C4H4O6", 0.0, "Tartrate and tartaric acid.";
    Phosphate, "phosphate", "PO4", 0.0, "Phosphate and phosphoric acid.";
    Gluconate, "gluconate", "C6H11O7", 0.0, "Gluconate.";
    Lactate, "lactate", "C3H5O3", 0.0, "Lactate.";
    Carbonate, "carbonate", "CO3", 0.0, "Carbonate and hydrogencarbonate, the alkalinity of the water.";
    Sodium, "sodium", "Na", 1.0, "Sodium.";
    Potassium, "potassium", "K", 1.0, "Potassium.";
    Ammonium, "ammonium", "NH4", 1.0, "Ammonium and ammonia.";
    Calcium, "calcium", "Ca", 2.0, "Calcium.";
    Magnesium, "magnesium", "Mg", 2.0, "Magnesium.";
    Salicylate, "salicylate", "C7H5O3", 0.0, "Salicylate and salicylic acid.";
    Benzoate, "benzoate", "C7H5O2", 0.0, "Benzoate and benzoic acid.";
    Sorbate, "sorbate", "C6H7O2", 0.0, "Sorbate and sorbic acid.";
    Phenol, "phenol", "C6H6O", 0.0, "Phenol.";
    Thymol, "thymol", "C10H14O", 0.0, "Thymol.";
    Eugenol, "eugenol", "C10H12O2", 0.0, "Eugenol.";
    Phenoxyethanol, "phenoxyethanol", "C8H10O2", 0.0, "2-Phenoxyethanol.";
    Ethanol, "ethanol", "C2H6O", 0.0, "Ethanol.";
    Glycerol, "glycerol", "C3H8O3", 0.0, "Glycerol.";
}

impl Component {
    /// The component with this identifier.
    pub fn from_id(id: &str) -> Option<Component> {
        Component::ALL.iter().copied().find(|c| c.id() == id)
    }
}

/// A material without a single formula, counted in kg.
///
/// ```
/// use ferrogall::composition::Bulk;
/// assert_eq!(Bulk::Gum.id(), "gum");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
#[repr(usize)]
pub enum Bulk {
    /// Dry tannin of every class; its galloyl units are counted as
    /// [`Component::Galloyl`] too.
    Tannin,
    /// Dry gum.
    Gum,
    /// Dye as sold.
    Dye,
    /// Everything else that dissolves.
    OtherSolubles,
    /// Water, crystal water included.
    Water,
}

pub(crate) const COMPONENTS: usize = Component::ALL.len();
pub(crate) const BULKS: usize = Bulk::ALL.len();

impl Bulk {
    /// Every bulk material, in order.
    pub const ALL: &'static [Bulk] = &[
        Bulk::Tannin,
        Bulk::Gum,
        Bulk::Dye,
        Bulk::OtherSolubles,
        Bulk::Water,
    ];

    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        match self {
            Bulk::Tannin => "tannin",
            Bulk::Gum => "gum",
            Bulk::Dye => "dye",
            Bulk::OtherSolubles => "other_solubles",
            Bulk::Water => "water",
        }
    }
}

/// Preservatives with the molar mass (kg/mol) of the form that acts: computed
/// from the IUPAC 2021 weights of C7H6O3, C7H6O2, C6H8O2, C6H6O, C10H14O,
/// C10H12O2, C8H10O2.
pub(crate) const PRESERVATIVES: &[(Component, f64)] = &[
    (Component::Salicylate, 0.138_122),
    (Component::Benzoate, 0.122_123),
    (Component::Sorbate, 0.112_128),
    (Component::Phenol, 0.094_113),
    (Component::Thymol, 0.150_221),
    (Component::Eugenol, 0.164_204),
    (Component::Phenoxyethanol, 0.138_166),
];

/// Molar mass of the acting form of a preservative; 0 for anything else.
pub(crate) fn preservative_kg_per_mol(component: Component) -> f64 {
    let row = PRESERVATIVES.iter().find(|(c, _)| *c == component);
    row.map_or(0.0, |(_, kg_per_mol)| *kg_per_mol)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_of_all_is_the_order_of_the_enum() {
        for (i, c) in Component::ALL.iter().enumerate() {
            assert_eq!(*c as usize, i);
            assert_eq!(Component::from_id(c.id()), Some(*c));
        }
        for (i, b) in Bulk::ALL.iter().enumerate() {
            assert_eq!(*b as usize, i);
        }
    }
}
