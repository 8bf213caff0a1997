//! The conserved totals of an ink.

/// One conserved total of an ink.
///
/// Amounts of dissolved species are in mol; materials that have no single
/// formula (tannin, gum, dye …) are in kg.
///
/// ```
/// use ferrogall::composition::Component;
/// assert_eq!(Component::IronII.id(), "iron_ii");
/// assert_eq!(Component::from_id("gum"), Some(Component::Gum));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
#[allow(missing_docs)] // the names say it; units are given by `unit()`
pub enum Component {
    IronII,
    IronIII,
    /// Galloyl (vicinal trihydroxyphenyl) units bound in tannin.
    Galloyl,
    /// Free gallic acid.
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
    /// Carbonate and hydrogencarbonate, the alkalinity of the water.
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
    /// Dry tannin of every class, in kg; its galloyl units are counted in `Galloyl` too.
    Tannin,
    /// Dry gum, in kg.
    Gum,
    /// Dye as sold, in kg.
    Dye,
    /// Everything else that dissolves, in kg.
    OtherSolubles,
    /// What stays undissolved and is not strained off, in kg.
    Insoluble,
    /// Water, in kg.
    Water,
}
