//! Names of the conserved totals.

/// A dissolved component, counted in mol.
///
/// Iron(II) and iron(III) are separate: redox is never assumed to be at
/// equilibrium. Protons are not listed, the charge balance gives them.
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
    /// Iron(II).
    IronII,
    /// Iron(III).
    IronIII,
    /// Galloyl (vicinal trihydroxyphenyl) units bound in tannin.
    Galloyl,
    /// Free gallic acid.
    GallicAcid,
    /// Sulfate.
    Sulfate,
    /// Chloride.
    Chloride,
    /// Nitrate.
    Nitrate,
    /// Acetate and acetic acid.
    Acetate,
    /// Oxalate and oxalic acid.
    Oxalate,
    /// Citrate and citric acid.
    Citrate,
    /// Tartrate and tartaric acid.
    Tartrate,
    /// Phosphate and phosphoric acid.
    Phosphate,
    /// Gluconate.
    Gluconate,
    /// Lactate.
    Lactate,
    /// Carbonate and hydrogencarbonate, the alkalinity of the water.
    Carbonate,
    /// Sodium.
    Sodium,
    /// Potassium.
    Potassium,
    /// Ammonium and ammonia.
    Ammonium,
    /// Calcium.
    Calcium,
    /// Magnesium.
    Magnesium,
    /// Salicylate and salicylic acid.
    Salicylate,
    /// Benzoate and benzoic acid.
    Benzoate,
    /// Sorbate and sorbic acid.
    Sorbate,
    /// Phenol.
    Phenol,
    /// Thymol.
    Thymol,
    /// Eugenol.
    Eugenol,
    /// 2-Phenoxyethanol.
    Phenoxyethanol,
    /// Ethanol.
    Ethanol,
    /// Glycerol.
    Glycerol,
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

impl Component {
    /// Every component, in order.
    pub const ALL: &'static [Component] = {
        use Component::*;
        &[
            IronII,
            IronIII,
            Galloyl,
            GallicAcid,
            Sulfate,
            Chloride,
            Nitrate,
            Acetate,
            Oxalate,
            Citrate,
            Tartrate,
            Phosphate,
            Gluconate,
            Lactate,
            Carbonate,
            Sodium,
            Potassium,
            Ammonium,
            Calcium,
            Magnesium,
            Salicylate,
            Benzoate,
            Sorbate,
            Phenol,
            Thymol,
            Eugenol,
            Phenoxyethanol,
            Ethanol,
            Glycerol,
        ]
    };

    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        use Component::*;
        match self {
            IronII => "iron_ii",
            IronIII => "iron_iii",
            Galloyl => "galloyl",
            GallicAcid => "gallic_acid",
            Sulfate => "sulfate",
            Chloride => "chloride",
            Nitrate => "nitrate",
            Acetate => "acetate",
            Oxalate => "oxalate",
            Citrate => "citrate",
            Tartrate => "tartrate",
            Phosphate => "phosphate",
            Gluconate => "gluconate",
            Lactate => "lactate",
            Carbonate => "carbonate",
            Sodium => "sodium",
            Potassium => "potassium",
            Ammonium => "ammonium",
            Calcium => "calcium",
            Magnesium => "magnesium",
            Salicylate => "salicylate",
            Benzoate => "benzoate",
            Sorbate => "sorbate",
            Phenol => "phenol",
            Thymol => "thymol",
            Eugenol => "eugenol",
            Phenoxyethanol => "phenoxyethanol",
            Ethanol => "ethanol",
            Glycerol => "glycerol",
        }
    }

    /// Formula in which it is weighed: of the ion, the molecule or, for
    /// [`Component::Galloyl`], the group C7H5O4.
    pub const fn formula(self) -> &'static str {
        use Component::*;
        match self {
            IronII | IronIII => "Fe",
            Galloyl => "C7H5O4",
            GallicAcid => "C7H6O5",
            Sulfate => "SO4",
            Chloride => "Cl",
            Nitrate => "NO3",
            Acetate => "C2H3O2",
            Oxalate => "C2O4",
            Citrate => "C6H5O7",
            Tartrate => "C4H4O6",
            Phosphate => "PO4",
            Gluconate => "C6H11O7",
            Lactate => "C3H5O3",
            Carbonate => "CO3",
            Sodium => "Na",
            Potassium => "K",
            Ammonium => "NH4",
            Calcium => "Ca",
            Magnesium => "Mg",
            Salicylate => "C7H5O3",
            Benzoate => "C7H5O2",
            Sorbate => "C6H7O2",
            Phenol => "C6H6O",
            Thymol => "C10H14O",
            Eugenol => "C10H12O2",
            Phenoxyethanol => "C8H10O2",
            Ethanol => "C2H6O",
            Glycerol => "C3H8O3",
        }
    }

    /// The component with this identifier.
    pub fn from_id(id: &str) -> Option<Component> {
        Component::ALL.iter().copied().find(|c| c.id() == id)
    }

    /// Charge with which it enters the balance of strong ions; 0 for weak
    /// acids and neutral molecules.
    pub const fn strong_charge(self) -> f64 {
        use Component::*;
        match self {
            IronII | Calcium | Magnesium => 2.0,
            IronIII => 3.0,
            Sodium | Potassium | Ammonium => 1.0,
            Sulfate => -2.0,
            Chloride | Nitrate => -1.0,
            _ => 0.0,
        }
    }
}

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
