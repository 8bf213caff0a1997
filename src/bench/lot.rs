//! A lot: a real bag or bottle.

use super::hydrates::HydrateMix;
use super::makeup::{self, Makeup, Unknown};
use super::{LotBuilder, Material};
use crate::chem::{ChemError, FormulaError};
use crate::composition::Composition;
use crate::quantity::{Mass, MassDensity, OutOfRange, Price, Volume, kilograms};
use std::sync::Arc;

/// Why a lot could not be described.
///
/// ```
/// use ferrogall::bench::{Lot, LotError};
/// assert!(matches!(Lot::of("ferrous stuff").unwrap_err(), LotError::UnknownMaterial { .. }));
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LotError {
    /// No catalogue row has this identifier.
    #[error("no material is called {id:?}{}", near(nearest))]
    UnknownMaterial {
        /// What was asked for.
        id: String,
        /// The identifiers that share most words with it, if any do.
        nearest: Vec<&'static str>,
    },
    /// The setting says nothing about this kind of material.
    #[error("{setting} does not apply to {material}")]
    DoesNotApply {
        /// The setting.
        setting: &'static str,
        /// Identifier of the material.
        material: &'static str,
    },
    /// Parts that must fit into the whole add up to more than it.
    #[error("the parts of {material} add up to {sum:.4} of the whole, more than 1")]
    MoreThanWhole {
        /// Identifier of the material.
        material: &'static str,
        /// Sum of the parts.
        sum: f64,
    },
    /// The lot has no known density, so a volume of it has no mass.
    #[error("{name:?} is measured by volume but its density is not known: give one, or weigh it")]
    NoDensity {
        /// Name of the lot.
        name: String,
    },
    /// An input outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A formula that cannot be read.
    #[error(transparent)]
    Formula(#[from] FormulaError),
    /// A solution outside the range of its density table.
    #[error(transparent)]
    Chem(#[from] ChemError),
}

/// What might have been meant, for a message.
fn near(ids: &[&str]) -> String {
    if ids.is_empty() {
        String::new()
    } else {
        format!("; near it are {}", ids.join(", "))
    }
}

/// Where a lot comes from.
///
/// ```
/// use ferrogall::bench::{HydrateMix, Lot, Origin};
/// let lot = Lot::of("iron_ii_sulfate_heptahydrate")?
///     .hydrates(HydrateMix::new(0.5, 0.5, 0.0, 0.0)?)?
///     .build()?;
/// assert!(matches!(lot.origin(), Origin::Weathered(..)));
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Origin {
    /// A catalogue material.
    Catalogue(Material),
    /// A green vitriol that has weathered into several hydrates.
    Weathered(Material, HydrateMix),
    /// Made by the maker: a stock solution, iron dissolved in acid.
    Prepared,
}

/// Relative standard uncertainties (k = 1) of a lot's strength.
///
/// ```
/// use ferrogall::bench::Lot;
/// let galls = Lot::of("aleppo_galls")?.build()?;
/// assert!(galls.strength_u().galloyl > 0.1); // galls are not a reagent
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StrengthU {
    /// Of the iron(II) content.
    pub iron: f64,
    /// Of the galloyl content.
    pub galloyl: f64,
    /// Of an acid's strength.
    pub acid: f64,
}

/// A real bag or bottle: a catalogue material with its purity, moisture,
/// oxidised share, price, and how sure we are of them.
///
/// ```
/// use ferrogall::bench::Lot;
/// use ferrogall::quantity::{grams, Price};
///
/// let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?
///     .named("garden-shop green vitriol")
///     .purity(0.97, 0.01)?
///     .oxidised(0.04, 0.01)?
///     .price(Price::of_pack(6.0, grams(1000.0))?)
///     .build()?;
/// let iron = vitriol.composition(grams(278.006))?.iron_ii();
/// assert!((iron.value - 0.97 * 0.96).abs() < 1e-12);
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    // Recipes are cloned at every rounding and scaling: share what they hold.
    data: Arc<LotData>,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct LotData {
    pub(super) name: String,
    pub(super) origin: Origin,
    pub(super) per_kg: Composition,
    pub(super) makeup: Makeup,
    pub(super) unknowns: Vec<Unknown>,
    /// kg/m³
    pub(super) density: Option<f64>,
    pub(super) liquid: bool,
    pub(super) price: Option<Price>,
    pub(super) strength_u: StrengthU,
    pub(super) given: Vec<String>,
    pub(super) assumed: Vec<String>,
    pub(super) materials: Vec<Material>,
    pub(super) cautions: Vec<String>,
    pub(super) saturation: Option<f64>,
}

impl Lot {
    /// Starts the description of a lot of a catalogue material, with the
    /// catalogue's typical values until told otherwise.
    ///
    /// # Errors
    /// [`LotError::UnknownMaterial`] when no row has this identifier.
    pub fn of(id: &str) -> Result<LotBuilder, LotError> {
        super::find(id)
            .map(LotBuilder::new)
            .ok_or_else(|| LotError::UnknownMaterial {
                id: id.chars().take(64).collect(),
                nearest: super::nearest(id),
            })
    }

    /// A solution made beforehand, used as a lot of its own.
    ///
    /// Its density is the solution's mass over its volume at 20 °C.
    ///
    /// # Errors
    /// [`LotError::OutOfRange`] when the composition has no mass.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::quantity::{grams, milliliters};
    /// let acid = Lot::of("hydrochloric_acid")?.build()?;
    /// let water = Lot::of("distilled_water")?.build()?;
    /// let stock = Lot::prepared("1:9 acid", &acid.composition(grams(10.0))?
    ///     .mixed_with(&water.composition(grams(90.0))?))?;
    /// assert!(stock.mass_of(milliliters(100.0))? > grams(100.0));
    /// # Ok::<(), ferrogall::bench::LotError>(())
    /// ```
    pub fn prepared(name: impl Into<String>, contents: &Composition) -> Result<Lot, LotError> {
        let kg = crate::quantity::within(
            "mass of the solution",
            contents.mass,
            1e-9,
            crate::quantity::MAX_MASS_KG,
            "kg",
        )?;
        let per_kg = contents.times(1.0 / kg);
        Ok(Lot::from(LotData {
            name: name.into(),
            origin: Origin::Prepared,
            per_kg,
            makeup: Makeup::Prepared,
            unknowns: makeup::of_prepared(StrengthU::default()).to_vec(),
            density: Some(kg / contents.volume).filter(|d| d.is_finite()),
            liquid: true,
            price: None,
            strength_u: StrengthU::default(),
            given: Vec::new(),
            assumed: Vec::new(),
            materials: Vec::new(),
            cautions: Vec::new(),
            saturation: None,
        }))
    }

    /// The same lot with other relative standard uncertainties, 0 to 1e9 each.
    ///
    /// # Errors
    /// [`OutOfRange`] otherwise.
    pub fn with_strength_u(mut self, u: StrengthU) -> Result<Lot, OutOfRange> {
        for (what, u) in [
            ("uncertainty of the iron", u.iron),
            ("uncertainty of the galloyl", u.galloyl),
            ("uncertainty of the acid", u.acid),
        ] {
            crate::quantity::within(what, u, 0.0, 1e9, "")?;
        }
        let data = Arc::make_mut(&mut self.data);
        data.strength_u = u;
        // What was known of its parts gives way to what is said of the whole.
        data.makeup = Makeup::Prepared;
        data.unknowns = makeup::of_prepared(u).to_vec();
        Ok(self)
    }

    /// The same lot under another name.
    #[must_use]
    pub fn renamed(mut self, name: impl Into<String>) -> Lot {
        Arc::make_mut(&mut self.data).name = name.into();
        self
    }

    /// The same prepared lot, with what it was made of: findings and cautions
    /// then know of it.
    #[must_use]
    pub fn made_of(mut self, materials: impl IntoIterator<Item = Material>) -> Lot {
        Arc::make_mut(&mut self.data).materials.extend(materials);
        self
    }

    /// Its salt as a share of what its water holds, where that is known: for
    /// iron dissolved in acid.
    pub fn saturation(&self) -> Option<f64> {
        self.data.saturation
    }

    /// The same prepared lot with so many times its galloyl units, known to
    /// this relative standard uncertainty.
    pub(crate) fn with_galloyl(mut self, factor: f64, u: f64) -> Result<Lot, OutOfRange> {
        let data = Arc::make_mut(&mut self.data);
        data.per_kg = Makeup::Prepared.per_kg(&data.per_kg, &[1.0, factor, 1.0]);
        let known = StrengthU {
            galloyl: u,
            ..data.strength_u
        };
        self.with_strength_u(known)
    }

    pub(super) fn with_saturation(mut self, saturation: Option<f64>) -> Lot {
        Arc::make_mut(&mut self.data).saturation = saturation;
        self
    }

    pub(crate) fn with_given(mut self, words: String) -> Lot {
        Arc::make_mut(&mut self.data).given.push(words);
        self
    }

    /// The same lot with a caution that the batch sheet shall print.
    #[must_use]
    pub fn with_caution(mut self, caution: impl Into<String>) -> Lot {
        Arc::make_mut(&mut self.data).cautions.push(caution.into());
        self
    }

    /// The same lot with a price.
    #[must_use]
    pub fn with_price(mut self, price: Price) -> Lot {
        Arc::make_mut(&mut self.data).price = Some(price);
        self
    }

    /// Whether both are one bag: the same in every particular.
    pub(crate) fn is_same_bag(&self, other: &Lot) -> bool {
        Arc::ptr_eq(&self.data, &other.data) || self == other
    }

    /// What the maker calls it.
    pub fn name(&self) -> &str {
        &self.data.name
    }

    /// Where it comes from.
    pub fn origin(&self) -> Origin {
        self.data.origin
    }

    /// The catalogue material, if it is one.
    pub fn material(&self) -> Option<Material> {
        match self.data.origin {
            Origin::Catalogue(m) | Origin::Weathered(m, _) => Some(m),
            Origin::Prepared => None,
        }
    }

    /// Whether it is plant matter that must be extracted.
    pub fn is_plant(&self) -> bool {
        matches!(self.material(), Some(Material::TanninSource(t)) if t.form == super::TanninForm::Plant)
    }

    /// Whether it is a liquid, to be measured by volume.
    pub fn is_liquid(&self) -> bool {
        self.data.liquid
    }

    /// What this much of it holds.
    ///
    /// # Errors
    /// [`OutOfRange`] for a mass outside 0 to a thousand tonnes.
    pub fn composition(&self, mass: Mass) -> Result<Composition, OutOfRange> {
        crate::quantity::checked_mass("mass", mass)?;
        Ok(self.contents(mass))
    }

    /// What is not known exactly of it.
    pub(crate) fn unknowns(&self) -> &[Unknown] {
        &self.data.unknowns
    }

    /// What a kilogram of it holds when its unknowns have these values.
    pub(crate) fn per_kg_with(&self, unknowns: &[f64]) -> Composition {
        self.data.makeup.per_kg(&self.data.per_kg, unknowns)
    }

    /// What a mass holds that was checked before.
    pub(crate) fn contents(&self, mass: Mass) -> Composition {
        self.data.per_kg.times(mass.value)
    }

    /// Mass per volume of the liquid, or of the powder as it lies in a spoon.
    pub fn density(&self) -> Option<MassDensity> {
        self.data
            .density
            .map(MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>)
    }

    /// Mass of a measured volume.
    ///
    /// # Errors
    /// [`LotError::NoDensity`] for a solid whose bulk density was not given.
    pub fn mass_of(&self, volume: Volume) -> Result<Mass, LotError> {
        let v = crate::quantity::checked_volume("volume", volume)?;
        let density = self.data.density.ok_or_else(|| LotError::NoDensity {
            name: self.data.name.clone(),
        })?;
        Ok(kilograms(v * density))
    }

    /// Price, if one was given.
    pub fn price(&self) -> Option<Price> {
        self.data.price
    }

    /// How sure we are of its strength.
    pub fn strength_u(&self) -> StrengthU {
        self.data.strength_u
    }

    /// What was said of it, in words, as it was understood.
    pub fn given(&self) -> &[String] {
        &self.data.given
    }

    /// Every catalogue material in it: its own, or those a prepared solution
    /// was made of.
    pub fn materials(&self) -> impl Iterator<Item = Material> + '_ {
        self.material()
            .into_iter()
            .chain(self.data.materials.iter().copied())
    }

    /// Cautions of its own, beside those of its material.
    pub fn cautions(&self) -> &[String] {
        &self.data.cautions
    }

    /// What was taken from the catalogue because nothing else was said.
    pub fn assumed(&self) -> &[String] {
        &self.data.assumed
    }
}

impl From<LotData> for Lot {
    fn from(data: LotData) -> Lot {
        Lot {
            data: Arc::new(data),
        }
    }
}
