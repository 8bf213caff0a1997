//! What a slip is: the way somebody miswrote a recipe.

use super::Severity;
use crate::recipe::{Amount, Recipe};

/// How a recipe was miswritten.
///
/// ```
/// use ferrogall::check::SlipKind;
/// assert_eq!(SlipKind::ShiftedLine.id(), "shifted_line");
/// assert!(SlipKind::ALL.iter().all(|k| (0.0..=1.0).contains(&k.weight())));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum SlipKind {
    /// A decimal point out of place: ten times too much or too little.
    Decimal,
    /// Amounts that belong one line up or down.
    ShiftedLine,
    /// The amounts of two lines exchanged.
    Exchanged,
    /// Another crystal water: dried salt for crystals, or the other way round.
    OtherHydrate,
    /// One unit for another: ounces for pounds, drachms for ounces, millilitres for litres.
    Unit,
    /// Too little liquid on the plant matter.
    LiquidMisprint,
    /// Concentrated acid for dilute.
    AcidStrength,
    /// One acid for another, volume for volume.
    OtherAcid,
    /// Amounts for one volume, made up to another.
    OtherVolume,
    /// A dye that tannin throws down for one that it leaves alone: methylene
    /// blue for methyl blue.
    OtherDye,
}

impl SlipKind {
    /// Every kind, in the order in which equally plausible slips are told.
    pub const ALL: &'static [SlipKind] = &[
        SlipKind::Decimal,
        SlipKind::OtherHydrate,
        SlipKind::LiquidMisprint,
        SlipKind::AcidStrength,
        SlipKind::OtherAcid,
        SlipKind::Unit,
        SlipKind::ShiftedLine,
        SlipKind::Exchanged,
        SlipKind::OtherVolume,
        SlipKind::OtherDye,
    ];

    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        match self {
            SlipKind::Decimal => "decimal",
            SlipKind::ShiftedLine => "shifted_line",
            SlipKind::Exchanged => "exchanged",
            SlipKind::OtherHydrate => "other_hydrate",
            SlipKind::Unit => "unit",
            SlipKind::LiquidMisprint => "liquid_misprint",
            SlipKind::AcidStrength => "acid_strength",
            SlipKind::OtherAcid => "other_acid",
            SlipKind::OtherVolume => "other_volume",
            SlipKind::OtherDye => "other_dye",
        }
    }

    /// How often such slips are met beside the others, 0 to 1: judgement, no
    /// count of slips is published. It decides only between corrections that
    /// make equally likely inks.
    pub const fn weight(self) -> f64 {
        match self {
            SlipKind::Decimal | SlipKind::OtherHydrate | SlipKind::LiquidMisprint => 1.0,
            SlipKind::AcidStrength | SlipKind::OtherAcid | SlipKind::OtherDye => 0.95,
            SlipKind::ShiftedLine => 0.9,
            SlipKind::Unit | SlipKind::Exchanged | SlipKind::OtherVolume => 0.8,
        }
    }

    /// In a few words.
    pub(super) const fn words(self) -> &'static str {
        match self {
            SlipKind::Decimal => "a decimal point out of place",
            SlipKind::ShiftedLine => "amounts one line out of place",
            SlipKind::Exchanged => "two amounts exchanged",
            SlipKind::OtherHydrate => "another crystal water",
            SlipKind::Unit => "one unit for another",
            SlipKind::LiquidMisprint => "too little liquid in print",
            SlipKind::AcidStrength => "concentrated acid for dilute",
            SlipKind::OtherAcid => "one acid for another",
            SlipKind::OtherVolume => "amounts for another volume",
            SlipKind::OtherDye => "a basic dye for an acid one",
        }
    }
}

/// One line as it stands and as it may have been meant.
///
/// ```
/// use ferrogall::check;
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Amount, Recipe};
/// use ferrogall::standards::reference_ink;
///
/// // Amounts for a litre, filled up to a quarter of one.
/// let litre = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
/// let (water, _) = litre.filled_up().unwrap();
/// let wrong = Recipe::new("small jug")
///     .with(litre.solutions()[0].clone())
///     .make_up(water, milliliters(250.0));
/// let found = check::read(&wrong, None)?;
/// let change = found.iter().find_map(|f| f.slips.first()).map(|s| &s.changes[0]).unwrap();
/// assert_eq!(change.given, Amount::Volume(milliliters(250.0)));
/// assert_eq!(change.meant, Amount::Volume(liters(1.0)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SlipChange {
    /// The lot, or the liquid filled up with.
    pub lot: String,
    /// The amount as it stands; of a make-up, the volume filled up to.
    pub given: Amount,
    /// The amount that may have been meant.
    pub meant: Amount,
    /// The lot that may have been meant, where it is another one.
    pub meant_lot: Option<String>,
}

/// A likely slip behind a finding: what may have been meant, worked out.
///
/// Offered only when the corrected recipe can be worked out, does away with
/// the finding (or makes it less severe) and raises no other as bad.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::check::{self, Code, SlipKind};
/// use ferrogall::quantity::*;
/// use ferrogall::recipe::{Extraction, Recipe, Solution};
///
/// // "30 g of powder in 25 mL, to make 250 mL": nothing would drain.
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// let water = Lot::of("distilled_water")?.build()?;
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.build()?;
/// let recipe = Recipe::new("a misprint")
///     .with(Solution::new("ink")
///         .extract(Extraction::new(&galls, grams(30.0), &water, milliliters(25.0)))
///         .add(&vitriol, grams(12.0)))
///     .make_up(&water, milliliters(250.0));
/// let found = check::read(&recipe, None)?;
/// let marc = found.iter().find(|f| f.code == Code::MarcDrinksLiquor).unwrap();
/// assert_eq!(marc.slips[0].kind, SlipKind::LiquidMisprint);
/// assert!(marc.slips[0].message.contains("250 mL"));
/// assert!(marc.slips[0].value < marc.value);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Slip {
    /// How it was miswritten.
    pub kind: SlipKind,
    /// In words: "if you meant 1 g of phenol …".
    pub message: String,
    /// What changes.
    pub changes: Vec<SlipChange>,
    /// The corrected recipe; in JSON its changes stand for it.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub recipe: Recipe,
    /// The finding's figure in the corrected recipe, in the finding's unit.
    pub value: f64,
    /// What is left of the finding; `None` when it is gone.
    pub left: Option<Severity>,
    /// How plausible, 0 to 1, to rank by and no probability: the weight of the
    /// kind ([`SlipKind::weight`]), times how much the corrected ink is like a
    /// published or an old one ([`likeness`](super::likeness)), times 0.9 for
    /// every line changed beyond the first, over 1 + n/2 when n findings of a
    /// warning or worse are left.
    #[cfg_attr(
        feature = "serde",
        serde(rename = "plausibility_percent", serialize_with = "json::percent")
    )]
    pub plausibility: f64,
    /// Identifier of the published ink that the corrected one is: within 5 %
    /// in every dose, 20 % in tannic and gallic acid: tannic acid as sold holds
    /// water and some gallic acid.
    pub published: Option<&'static str>,
}

impl core::fmt::Display for Slip {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)
    }
}

#[cfg(feature = "serde")]
mod json {
    use super::SlipChange;
    use crate::quantity::{ReadMass, ReadVolume};
    use crate::recipe::Amount;
    use serde::ser::{Serialize, SerializeMap, Serializer};

    pub(super) fn percent<S: Serializer>(share: &f64, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_f64(100.0 * share)
    }

    /// Amounts under a name that ends in their unit.
    impl Serialize for SlipChange {
        fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
            let mut map = to.serialize_map(None)?;
            map.serialize_entry("lot", &self.lot)?;
            for (name, amount) in [("given", self.given), ("meant", self.meant)] {
                let (unit, figure) = match amount {
                    Amount::Mass(m) => ("g", m.in_grams()),
                    Amount::Volume(v) => ("ml", v.in_milliliters()),
                    Amount::Parts(p) => ("parts", p),
                };
                map.serialize_entry(&format!("{name}_{unit}"), &figure)?;
            }
            if let Some(meant) = &self.meant_lot {
                map.serialize_entry("meant_lot", meant)?;
            }
            map.end()
        }
    }
}
