//! The figures of an ink that a study asks about.

use crate::composition::{Bulk, Component, Composition};

macro_rules! measurands {
    ($($(#[$doc:meta])* $name:ident, $id:literal, $words:literal, $unit:literal, $of:expr;)*) => {
        /// A figure of the finished ink.
        ///
        /// ```
        /// use ferrogall::uncertainty::Measurand;
        /// assert_eq!(Measurand::Iron.unit(), "g/L");
        /// assert_eq!(Measurand::from_id("iron"), Some(Measurand::Iron));
        /// assert!(Measurand::ALL.len() > 8);
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum Measurand {
            $($(#[$doc])* $name,)*
        }

        impl Measurand {
            /// All of them, in a fixed order.
            pub const ALL: &'static [Measurand] = &[$(Measurand::$name),*];

            /// Identifier for JSON, C and Python.
            pub const fn id(self) -> &'static str {
                match self { $(Measurand::$name => $id,)* }
            }

            /// The figure in words.
            pub const fn name(self) -> &'static str {
                match self { $(Measurand::$name => $words,)* }
            }

            /// Its unit; "1" for a ratio.
            pub const fn unit(self) -> &'static str {
                match self { $(Measurand::$name => $unit,)* }
            }

            /// Its value in an ink, in [`unit`](Self::unit); NaN where there
            /// is none (no tannin, no volume).
            pub fn of(self, ink: &Composition) -> f64 {
                match self { $(Measurand::$name => $of(ink),)* }
            }
        }
    };
}

measurands! {
    /// mol of iron, both states, per mol of galloyl units.
    IronPerGalloyl, "iron_per_galloyl", "iron per galloyl unit", "1",
        |c: &Composition| iron(c) / galloyl(c);
    /// mol of iron(II) per mol of galloyl units.
    IronIIPerGalloyl, "iron_ii_per_galloyl", "iron(II) per galloyl unit", "1",
        |c: &Composition| at(c, Component::IronII) / galloyl(c);
    /// Iron(II), mol/L.
    IronII, "iron_ii", "iron(II)", "mol/L", |c: &Composition| per_l(c, at(c, Component::IronII));
    /// Metallic iron, g/L: the figure of ink standards.
    Iron, "iron", "iron", "g/L",
        |c: &Composition| iron(c) * crate::chem::constants::IRON / c.volume;
    /// Galloyl units, bound and free, mol/L.
    Galloyl, "galloyl", "galloyl units", "mol/L", |c: &Composition| per_l(c, galloyl(c));
    /// Free gallic acid, mol/L.
    GallicAcid, "gallic_acid", "free gallic acid", "mol/L",
        |c: &Composition| per_l(c, at(c, Component::GallicAcid));
    /// Strong acid, mol/L; negative: excess of base.
    StrongAcid, "strong_acid", "strong acid", "mol/L",
        |c: &Composition| per_l(c, c.strong_acid().value);
    /// Dry gum, g/L.
    Gum, "gum", "dry gum", "g/L", |c: &Composition| c.masses[Bulk::Gum as usize] / c.volume;
    /// Preservative as the acid or phenol that acts, g/L.
    Preservative, "preservative", "preservative", "g/L",
        |c: &Composition| c.preservative().value / c.volume;
    /// Dry residue, g/L.
    DryResidue, "dry_residue", "dry residue", "g/L", |c: &Composition| c.dry_residue / c.volume;
    /// Volume at 20 °C, mL.
    Volume, "volume", "volume", "mL", |c: &Composition| c.volume * 1e6;
}

impl Measurand {
    /// By its identifier.
    pub fn from_id(id: &str) -> Option<Measurand> {
        Measurand::ALL.iter().copied().find(|m| m.id() == id)
    }
}

fn at(c: &Composition, component: Component) -> f64 {
    c.amounts[component as usize]
}

fn iron(c: &Composition) -> f64 {
    at(c, Component::IronII) + at(c, Component::IronIII)
}

fn galloyl(c: &Composition) -> f64 {
    at(c, Component::Galloyl) + at(c, Component::GallicAcid)
}

/// mol in m³ to mol/L.
fn per_l(c: &Composition, mol: f64) -> f64 {
    1e-3 * mol / c.volume
}
