//! The methods, with what disturbs them and what they may do to the maker.

use super::{AssayError, Sample};
use crate::source::{Source, Status};

macro_rules! methods {
    ($($(#[$doc:meta])* $id:ident, $name:literal, $finds:literal,
       interferences: $interferences:literal, cautions: $cautions:expr,
       $citation:literal, $status:ident;)*) => {
        /// Which method.
        ///
        /// ```
        /// use ferrogall::assay::MethodId;
        /// let dichromate = MethodId::DichromateTitration.method();
        /// assert!(dichromate.cautions.iter().any(|c| c.contains("chromium(VI)")));
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum MethodId {
            $($(#[$doc])* $id,)*
        }

        /// All methods.
        pub const METHODS: &[Method] = &[$(Method {
            id: MethodId::$id,
            name: $name,
            finds: $finds,
            interferences: $interferences,
            cautions: $cautions,
            source: Source::new($citation, Status::$status),
        }),*];

        impl MethodId {
            /// The method's row.
            pub const fn method(self) -> &'static Method {
                // The table is written from the same list.
                match self {
                    $(MethodId::$id => {
                        const ROW: Method = Method {
                            id: MethodId::$id,
                            name: $name,
                            finds: $finds,
                            interferences: $interferences,
                            cautions: $cautions,
                            source: Source::new($citation, Status::$status),
                        };
                        &ROW
                    })*
                }
            }
        }
    };
}

/// A way of measuring.
///
/// ```
/// use ferrogall::assay::METHODS;
/// assert!(METHODS.iter().all(|m| !m.interferences.is_empty()));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Method {
    /// Which.
    pub id: MethodId,
    /// Its name.
    pub name: &'static str,
    /// What it finds.
    pub finds: &'static str,
    /// What else in a sample acts on the reading.
    pub interferences: &'static str,
    /// Dangers. Local rules and licensed practice come first.
    pub cautions: &'static [&'static str],
    /// Where it is described.
    pub source: Source,
}

impl core::fmt::Display for MethodId {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.method().name)
    }
}

const ACID: &str = "Titrated in about 1 mol/L sulfuric acid: goggles and gloves, acid into water, never the other way.";
const STAINS: &str =
    "Permanganate stains and oxidises: gloves, no glycerol or alcohol near the solid.";
const CHROMATE: &str = "Dichromate is chromium(VI): toxic, carcinogenic, sensitising. Gloves, no dust, and collect every rinse as hazardous waste; local rules and licensed practice come first.";

methods! {
    /// Iron(II) with permanganate.
    PermanganateTitration, "permanganate titration", "iron(II)",
        interferences: "phenols and tannin, sugars, organic acids, chloride", cautions: &[ACID, STAINS],
        "MnO4- + 5 Fe2+ + 8 H+; textbook volumetric analysis", Handbook;
    /// Iron(II) with dichromate.
    DichromateTitration, "dichromate titration", "iron(II)",
        interferences: "phenols and tannin; not chloride", cautions: &[ACID, CHROMATE],
        "Cr2O7 2- + 6 Fe2+ + 14 H+; textbook volumetric analysis", Handbook;
    /// Iron(II) with cerium(IV).
    CeriumTitration, "cerium(IV) titration", "iron(II)",
        interferences: "phenols and tannin", cautions: &[ACID, "Cerium(IV) solutions are strongly acid and oxidising: goggles and gloves."],
        "Ce4+ + Fe2+; textbook volumetric analysis", Handbook;
    /// The orange complex at 510 nm.
    Phenanthroline, "1,10-phenanthroline colorimetry", "iron(II); total iron after hydroxylamine",
        interferences: "chromium and zinc above ten times the iron, cobalt and copper above 5 mg/L, nickel above 2 mg/L, phosphate; the sample's own colour; tannin, which reduces iron(III) while it stands",
        cautions: &["1,10-phenanthroline and hydroxylamine hydrochloride are toxic: gloves, no mouth pipetting."],
        "HJ/T 345-2007", Published;
    /// A straight line through standards.
    CalibrationLine, "calibration line", "whatever the standards hold",
        interferences: "whatever differs between the standards and the sample", cautions: &[],
        "ordinary least squares; JCGM 100:2008 H.3 and EURACHEM/CITAC CG4 (2012) E.3", Published;
    /// Total iron against iron(II).
    OxidisedShare, "total iron less iron(II)", "share of the iron that is iron(III)",
        interferences: "those of the two methods", cautions: &[],
        "difference of two assays", Computed;
    /// Density of a liquor.
    TanninDensity, "density of a liquor", "at most so much tannin",
        interferences: "every other solute: sugar, gum, salts; alcohol the other way", cautions: &[],
        "Hammer 1861, Dingler's Polytechnisches Journal 159", Published;
    /// What is left of a liquor after drying.
    DryResidue, "dry residue", "at most so much tannin",
        interferences: "gum, sugar and salts count as well",
        cautions: &["Dry below 105 °C and away from flames: gall residue chars."],
        "gravimetric extract, 100 x dry mass / mass of sample", Handbook;
    /// A figure of another tannin method times a factor.
    TanninFactor, "factor of a tannin method", "tannin",
        interferences: "see the factor", cautions: &[],
        "see the factor", ExpertGuess;
    /// Tannin with permanganate and indigo carmine.
    Loewenthal, "Löwenthal's permanganate titration", "tannin",
        interferences: "all else that permanganate oxidises: subtract a titration after hide powder or gelatin", cautions: &[ACID, STAINS],
        "Dingler's Polytechnisches Journal 246; two factors that disagree by 18 %", Published;
    /// Which addition of iron stops darkening.
    SpotTest, "spot test by additions", "galloyl against iron, between two additions",
        interferences: "the eye, paper, air: iron(II) has to oxidise before it darkens; acid hinders it",
        cautions: &["Iron(III) salts and tannin stain skin and cloth."],
        "bracketing of an end point; common practice", CommonPractice;
    /// A nail weighed before and after.
    MetalLoss, "metal lost", "iron dissolved",
        interferences: "rust that was on the metal, rust and carbon that fall off undissolved",
        cautions: &["Iron in acid gives off hydrogen: open vessel, moving air, no flame, never a closed jar."],
        "difference of two weighings", Computed;
    /// Green vitriol dried to a known hydrate.
    VitriolDrying, "drying of green vitriol", "mean number of crystal waters",
        interferences: "iron that oxidises in the oven (the salt turns brown and heavier), other volatile matter",
        cautions: &["Do not heat beyond 200 °C: iron sulfates give off sulfur oxides when they decompose."],
        "difference of two weighings; hydrates of FeSO4", Computed;
    /// Mass lost at 105 °C.
    LossOnDrying, "loss on drying", "moisture",
        interferences: "volatile oils and, in salts, crystal water", cautions: &[],
        "difference of two weighings", Handbook;
    /// Density of an iron stock.
    IronDensity, "density of an iron(II) stock", "iron(II)",
        interferences: "free acid, iron(III), any other salt", cautions: &[],
        "density tables of this crate", Computed;
    /// A strip in the ink.
    PhStrip, "pH strip", "pH",
        interferences: "the ink's own colour: read the back of the strip, or a blot of it", cautions: &[],
        "common practice", FromMemory;
    /// A liquor's tannin reckoned back to the plant.
    PlantFromLiquor, "tannin of a plant from its liquor", "tannin of the plant",
        interferences: "those of the liquor's assay; the yield", cautions: &[],
        "mass balance over the extraction", Computed;
}

/// Refuses a sample on which a method cannot be right.
pub(super) fn refuse<T>(
    method: MethodId,
    sample: Sample,
    why: &'static str,
) -> Result<T, AssayError> {
    Err(AssayError::Refused {
        method,
        sample,
        why,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_method_finds_its_own_row() {
        for row in METHODS {
            assert_eq!(row.id.method(), row);
        }
    }
}
