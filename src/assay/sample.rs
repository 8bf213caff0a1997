//! What is assayed.

/// What is in the flask, as far as a method must know.
///
/// ```
/// use ferrogall::assay::Sample;
/// assert!(Sample::FinishedInk.holds_tannin());
/// assert!(!Sample::AshedInk.holds_tannin());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Sample {
    /// A solid iron salt without chloride.
    Salt,
    /// A solution of such a salt in water and acid.
    Stock,
    /// A chloride, solid.
    ChlorideSalt,
    /// A chloride in solution; iron dissolved in hydrochloric acid.
    ChlorideStock,
    /// Iron with organic anions: vinegar and nails, gluconate, lactate.
    OrganicStock,
    /// Pharmacy tablets: sugar, starch and a coating beside the iron.
    Tablets,
    /// Ink that was ashed or wet-digested, the iron brought back to iron(II).
    AshedInk,
    /// Ink as it is.
    FinishedInk,
    /// A tannin liquor.
    Liquor,
}

impl Sample {
    /// All kinds.
    pub const ALL: [Sample; 9] = [
        Sample::Salt,
        Sample::Stock,
        Sample::ChlorideSalt,
        Sample::ChlorideStock,
        Sample::OrganicStock,
        Sample::Tablets,
        Sample::AshedInk,
        Sample::FinishedInk,
        Sample::Liquor,
    ];

    /// Whether tannin or gallic acid is in it.
    pub const fn holds_tannin(self) -> bool {
        matches!(self, Sample::FinishedInk | Sample::Liquor)
    }

    /// Whether it brings chloride.
    pub const fn holds_chloride(self) -> bool {
        matches!(self, Sample::ChlorideSalt | Sample::ChlorideStock)
    }

    /// Whether sugars or organic acids are in it.
    pub const fn holds_organics(self) -> bool {
        matches!(self, Sample::OrganicStock | Sample::Tablets)
    }
}

impl core::fmt::Display for Sample {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Sample::Salt => "an iron salt",
            Sample::Stock => "a stock solution",
            Sample::ChlorideSalt => "an iron chloride",
            Sample::ChlorideStock => "a chloride stock",
            Sample::OrganicStock => "a stock with organic anions",
            Sample::Tablets => "iron tablets",
            Sample::AshedInk => "ashed ink",
            Sample::FinishedInk => "a finished ink",
            Sample::Liquor => "a tannin liquor",
        })
    }
}
