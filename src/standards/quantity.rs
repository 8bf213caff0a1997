//! The figures of an ink that a specification can set a limit to.

use crate::bench::gums;
use crate::chem::constants::{GALLIC_ACID, GREEN_VITRIOL, IRON, WATER};
use crate::composition::{Bulk, Component, Composition};

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident, $id:literal, $words:literal, $unit:literal, $of:expr;)*) => {
        /// A figure of an ink that a specification can set a limit to.
        ///
        /// "Tannic and gallic acid together" is reckoned from the
        /// composition: all dry tannin, of whatever plant, as tannic acid, and
        /// the free gallic acid. Gallic acid "in crystals" is the monohydrate,
        /// of which 7.7 g hold 6.96 g of the acid itself, so there are two
        /// bases. Published limits are held against the anhydrous one: it is
        /// the smaller figure, and an ink that reaches a minimum so reaches it
        /// on crystals too. The other basis is told beside it.
        ///
        /// ```
        /// use ferrogall::quantity::liters;
        /// use ferrogall::standards::{Quantity, reference_ink};
        /// let recipe = reference_ink("swedish_archival_1964").unwrap().recipe(liters(1.0), 1.0)?;
        /// let ink = recipe.evaluate()?.composition;
        /// assert!((Quantity::Iron.of(&ink).unwrap() - 6.03).abs() < 0.005);
        /// let both = Quantity::TannicAndGallicAcid;
        /// assert_eq!(both.unit(), "g/L");
        /// assert!((both.of(&ink).unwrap() - 30.36).abs() < 0.005);
        /// assert_eq!(Quantity::from_id("iron"), Some(Quantity::Iron));
        /// # Ok::<(), Box<dyn std::error::Error>>(())
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[cfg_attr(feature = "serde", derive(serde::Serialize))]
        #[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
        #[non_exhaustive]
        pub enum Quantity {
            $($(#[$doc])* $name,)*
        }

        /// How many there are.
        pub(crate) const QUANTITIES: usize = [$(Quantity::$name),*].len();

        impl Quantity {
            /// All of them, in a fixed order.
            pub const ALL: &'static [Quantity; QUANTITIES] = &[$(Quantity::$name),*];

            /// Identifier for JSON, C and Python.
            pub const fn id(self) -> &'static str {
                match self { $(Quantity::$name => $id,)* }
            }

            /// In words.
            pub const fn name(self) -> &'static str {
                match self { $(Quantity::$name => $words,)* }
            }

            /// Its unit; "1" for a ratio.
            pub const fn unit(self) -> &'static str {
                match self { $(Quantity::$name => $unit,)* }
            }

            /// Its value in an ink, in [`unit`](Self::unit); `None` where
            /// there is none (no volume, no iron to refer to).
            pub fn of(self, ink: &Composition) -> Option<f64> {
                let value: f64 = match self { $(Quantity::$name => $of(ink),)* };
                value.is_finite().then_some(value)
            }
        }
    };
}

quantities! {
    /// Metallic iron of both states, g/L.
    Iron, "iron", "metallic iron", "g/L", |c| c_iron(c) * IRON / volume(c);
    /// The green vitriol (FeSO4·7H2O) with this iron, g/L.
    GreenVitriol, "green_vitriol", "green vitriol with this iron", "g/L",
        |c| c_iron(c) * GREEN_VITRIOL / volume(c);
    /// Dry tannin as tannic acid and free gallic acid without crystal water, g/L.
    TannicAndGallicAcid, "tannic_and_gallic_acid", "tannic and gallic acid, both anhydrous", "g/L",
        |c| (tannin(c) + gallic(c) * GALLIC_ACID) / volume(c);
    /// Dry tannin as tannic acid and free gallic acid as crystals, g/L.
    TannicAcidAndGallicCrystals, "tannic_acid_and_gallic_crystals",
        "tannic acid and gallic acid in crystals", "g/L",
        |c| (tannin(c) + gallic(c) * GALLIC_CRYSTALS) / volume(c);
    /// Dry tannin as tannic acid, g/L.
    TannicAcid, "tannic_acid", "tannic acid", "g/L", |c| tannin(c) / volume(c);
    /// Free gallic acid without crystal water, g/L.
    GallicAcid, "gallic_acid", "gallic acid, anhydrous", "g/L",
        |c| gallic(c) * GALLIC_ACID / volume(c);
    /// Free gallic acid as crystals (the monohydrate), g/L.
    GallicCrystals, "gallic_crystals", "gallic acid in crystals", "g/L",
        |c| gallic(c) * GALLIC_CRYSTALS / volume(c);
    /// Gum as gum arabic is sold, at the moisture of the catalogue, g/L.
    GumArabic, "gum_arabic", "gum arabic as sold", "g/L", |c| gum_as_sold(c) / volume(c);
    /// Dye as sold, g/L.
    Dye, "dye", "dye as sold", "g/L", |c: &Composition| c.masses[Bulk::Dye as usize] / volume(c);
    /// Preservative as the acid or phenol that acts, g/L.
    Preservative, "preservative", "preservative", "g/L",
        |c: &Composition| c.preservative().value / volume(c);
    /// Strong acid, mmol/L; negative: excess of base.
    StrongAcid, "strong_acid", "strong acid", "mmol/L",
        |c: &Composition| c.strong_acid().value / volume(c);
    /// mol of galloyl units, bound and free, per mol of iron.
    GalloylPerIron, "galloyl_per_iron", "galloyl units per iron", "1",
        |c: &Composition| c.galloyl().value / c_iron(c);
}

/// kg/mol of gallic acid with its one crystal water.
pub(super) const GALLIC_CRYSTALS: f64 = GALLIC_ACID + WATER;

impl Quantity {
    /// By its identifier.
    pub fn from_id(id: &str) -> Option<Quantity> {
        Quantity::ALL.iter().copied().find(|q| q.id() == id)
    }

    /// Whether it is an amount per volume, so that water makes it less.
    pub const fn is_concentration(self) -> bool {
        !matches!(self, Quantity::GalloylPerIron)
    }
}

fn c_iron(c: &Composition) -> f64 {
    c.iron().value
}

fn volume(c: &Composition) -> f64 {
    c.volume
}

fn tannin(c: &Composition) -> f64 {
    c.masses[Bulk::Tannin as usize]
}

fn gallic(c: &Composition) -> f64 {
    c.amounts[Component::GallicAcid as usize]
}

/// The published weights are of the gum as it is weighed, moist.
fn gum_as_sold(c: &Composition) -> f64 {
    let arabic = gums().iter().find(|g| g.id == "gum_arabic");
    let moisture = arabic.map_or(0.0, |g| g.moisture_percent.typical / 100.0);
    c.masses[Bulk::Gum as usize] / (1.0 - moisture)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_unlike_and_lead_back() {
        for (i, q) in Quantity::ALL.iter().enumerate() {
            assert_eq!(*q as usize, i);
            assert_eq!(Quantity::from_id(q.id()), Some(*q));
        }
        assert_eq!(Quantity::from_id("beauty"), None);
    }

    #[test]
    fn nothing_has_no_figure() {
        for q in Quantity::ALL {
            assert_eq!(q.of(&Composition::EMPTY), None, "{q:?}");
        }
    }

    /// 188.13 g/mol, C7H6O5·H2O (handbooks); two decimals printed.
    #[test]
    fn crystals_are_the_monohydrate() {
        approx::assert_abs_diff_eq!(GALLIC_CRYSTALS, 0.188_13, epsilon = 1e-5);
    }
}
