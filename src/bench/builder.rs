//! From a catalogue row and what the maker knows to a lot.

use super::lot::LotData;
use super::material::IronState;
use super::{HydrateMix, Lot, LotError, Material, Origin};
use crate::composition::Bulk;
use crate::quantity::{
    Estimate, MassConcentration, MassDensity, MassFraction, Molality, MoleFraction, Price, within,
};

/// Describes a lot; everything not said is the catalogue's typical value.
///
/// Every setting checks its numbers at once and tells when it makes no sense
/// for the material.
///
/// ```
/// use ferrogall::bench::{Lot, LotError};
/// let sumac = Lot::of("sumac_leaf")?.named("hedge sumac, dried").tannin(0.22, 0.03)?.build()?;
/// assert!(sumac.is_plant());
/// assert!(matches!(
///     Lot::of("distilled_water")?.tannin(0.2, 0.0).unwrap_err(),
///     LotError::DoesNotApply { setting: "tannin", .. }
/// ));
/// # Ok::<(), LotError>(())
/// ```
#[derive(Debug, Clone)]
pub struct LotBuilder {
    pub(super) material: Material,
    pub(super) name: Option<String>,
    pub(super) purity: Option<Estimate>,
    pub(super) tannin: Option<Estimate>,
    pub(super) gallic_acid: Option<Estimate>,
    pub(super) galloyl: Option<Estimate>,
    pub(super) moisture: Option<Estimate>,
    pub(super) oxidised: Option<Estimate>,
    pub(super) hydrates: Option<HydrateMix>,
    pub(super) alkalinity: Option<f64>,
    pub(super) hardness: Option<f64>,
    pub(super) density: Option<f64>,
    pub(super) price: Option<Price>,
}

impl LotBuilder {
    pub(super) fn new(material: Material) -> LotBuilder {
        LotBuilder {
            material,
            name: None,
            purity: None,
            tannin: None,
            gallic_acid: None,
            galloyl: None,
            moisture: None,
            oxidised: None,
            hydrates: None,
            alkalinity: None,
            hardness: None,
            density: None,
            price: None,
        }
    }

    /// What the maker calls it; the catalogue's name otherwise.
    #[must_use]
    pub fn named(mut self, name: impl Into<String>) -> Self {
        self.name = Some(name.into());
        self
    }

    /// Mass fraction of the lot that is the named substance (0 to 1) and its
    /// standard uncertainty. For an acid: its strength.
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] to tannin sources, gums and waters;
    /// [`LotError::OutOfRange`].
    pub fn purity(mut self, value: f64, u: f64) -> Result<Self, LotError> {
        self.must(
            !matches!(
                self.material,
                Material::TanninSource(_) | Material::Gum(_) | Material::Water(_)
            ),
            "purity",
        )?;
        self.purity = Some(fraction(value, u)?);
        Ok(self)
    }

    /// Iron as the label declares it: mass of iron per mass of the lot (0.12
    /// for a moss killer of 12 % Fe), and its standard uncertainty. Sets the
    /// purity that makes it so; the rest counts as filler that dissolves.
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] to anything but an iron salt;
    /// [`LotError::OutOfRange`] when the salt cannot hold so much iron.
    pub fn iron_content(mut self, value: f64, u: f64) -> Result<Self, LotError> {
        let Material::IronSalt(row) = self.material else {
            return self.must(false, "iron content").map(|()| self);
        };
        fraction(value, u)?;
        let pure = crate::chem::Formula::parse(row.formula)?.mass_share("Fe");
        self.purity = Some(Estimate::new(
            within(
                "iron of the label over iron of the pure salt",
                value / pure,
                0.0,
                1.0,
                "",
            )?,
            u / pure,
        )?);
        Ok(self)
    }

    /// Tannin as a mass fraction on the catalogue row's basis (most plants:
    /// of dry matter), and its standard uncertainty.
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] to anything but a tannin source; [`LotError::OutOfRange`].
    pub fn tannin(mut self, value: f64, u: f64) -> Result<Self, LotError> {
        self.must(self.is_tannin(), "tannin")?;
        self.tannin = Some(fraction(value, u)?);
        Ok(self)
    }

    /// Free gallic acid (anhydrous) as a mass fraction on the same basis.
    ///
    /// # Errors
    /// As [`LotBuilder::tannin`].
    pub fn gallic_acid(mut self, value: f64, u: f64) -> Result<Self, LotError> {
        self.must(self.is_tannin(), "gallic acid")?;
        self.gallic_acid = Some(fraction(value, u)?);
        Ok(self)
    }

    /// Galloyl units per mass of tannin (0 to 20 mol/kg), and its standard
    /// uncertainty.
    ///
    /// # Errors
    /// As [`LotBuilder::tannin`].
    pub fn galloyl(mut self, value: Molality, u: Molality) -> Result<Self, LotError> {
        self.must(self.is_tannin(), "galloyl")?;
        within("galloyl per tannin", value.value, 0.0, 20.0, "mol/kg")?;
        self.galloyl = Some(Estimate::new(value.value, u.value)?);
        Ok(self)
    }

    /// Moisture as a mass fraction of the lot as it is.
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] to acids, waters and liquids; [`LotError::OutOfRange`].
    pub fn moisture(mut self, value: f64, u: f64) -> Result<Self, LotError> {
        self.must(
            self.is_tannin() || matches!(self.material, Material::Gum(_) | Material::IronSalt(_)),
            "moisture",
        )?;
        self.moisture = Some(fraction(value, u)?);
        Ok(self)
    }

    /// Share of the iron that is already iron(III), mol/mol, and its standard
    /// uncertainty. The total iron per gram stays what the formula says; the
    /// iron(III) counts as basic salt. Beside a mix of hydrates: the share of
    /// the iron(II) that the mix leaves.
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] to anything but an iron(II) salt; [`LotError::OutOfRange`].
    pub fn oxidised(mut self, value: f64, u: f64) -> Result<Self, LotError> {
        self.must(
            matches!(self.material, Material::IronSalt(s) if s.state == IronState::Two),
            "oxidised share",
        )?;
        let value = MoleFraction::new(value)?.value();
        self.oxidised = Some(Estimate::new(value, u)?);
        Ok(self)
    }

    /// How far green vitriol has weathered.
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] to anything but `iron_ii_sulfate_heptahydrate`.
    pub fn hydrates(mut self, mix: HydrateMix) -> Result<Self, LotError> {
        self.must(
            self.material.id() == "iron_ii_sulfate_heptahydrate",
            "a mix of hydrates",
        )?;
        self.hydrates = Some(mix);
        Ok(self)
    }

    /// Alkalinity of a water, as CaCO3 (0 to 5 g/L).
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] to anything but water; [`LotError::OutOfRange`].
    pub fn alkalinity(mut self, as_caco3: MassConcentration) -> Result<Self, LotError> {
        self.must(matches!(self.material, Material::Water(_)), "alkalinity")?;
        self.alkalinity = Some(within(
            "alkalinity",
            as_caco3.value,
            0.0,
            5.0,
            "g/L as CaCO3",
        )?);
        Ok(self)
    }

    /// Hardness of a water, as CaCO3 (0 to 5 g/L).
    ///
    /// # Errors
    /// As [`LotBuilder::alkalinity`].
    pub fn hardness(mut self, as_caco3: MassConcentration) -> Result<Self, LotError> {
        self.must(matches!(self.material, Material::Water(_)), "hardness")?;
        self.hardness = Some(within(
            "hardness",
            as_caco3.value,
            0.0,
            5.0,
            "g/L as CaCO3",
        )?);
        Ok(self)
    }

    /// Density of the liquid, or bulk density of the powder as it lies in a
    /// spoon (0.01 to 25 g/cm³).
    ///
    /// # Errors
    /// [`LotError::OutOfRange`].
    pub fn density(mut self, density: MassDensity) -> Result<Self, LotError> {
        self.density = Some(within("density", density.value, 10.0, 25_000.0, "kg/m3")?);
        Ok(self)
    }

    /// What it costs.
    #[must_use]
    pub fn price(mut self, price: Price) -> Self {
        self.price = Some(price);
        self
    }

    /// The lot, with its contents per mass worked out.
    ///
    /// # Errors
    /// [`LotError::MoreThanWhole`] when the parts exceed the whole.
    pub fn build(self) -> Result<Lot, LotError> {
        let mut made = match self.material {
            Material::IronSalt(row) => match self.hydrates {
                Some(mix) => self.weathered(mix)?,
                None => self.salt(row)?,
            },
            Material::TanninSource(row) => self.tannin_source(row)?,
            Material::Acid(row) => self.acid(row)?,
            Material::Gum(row) => self.gum(row)?,
            Material::Dye(row) => self.dye(row)?,
            Material::Preservative(row) => self.preservative(row)?,
            Material::Humectant(row) => self.humectant(row)?,
            Material::Water(row) => self.water(row)?,
        };
        // Syrupy phosphoric acid is beyond its density table, and yet a liquid.
        let solution = matches!(self.material, Material::Acid(row)
            if row.density_solute.is_some() && self.density.is_some() && row.crystal_water == 0.0
                && made.per_kg.masses[Bulk::Water as usize] > 0.03);
        let liquid = made.density.is_some() || solution;
        if let Some(d) = self.density {
            made.given.push(format!("density {:.3} g/cm3", 1e-3 * d));
        }
        let origin = match self.hydrates {
            Some(mix) => Origin::Weathered(self.material, mix),
            None => Origin::Catalogue(self.material),
        };
        Ok(Lot::from(LotData {
            name: self
                .name
                .unwrap_or_else(|| self.material.name().to_string()),
            origin,
            per_kg: made.per_kg,
            makeup: made.makeup,
            unknowns: made.unknowns,
            density: self.density.or(made.density),
            liquid,
            price: self.price,
            strength_u: made.u,
            given: made.given,
            materials: Vec::new(),
            assumed: made.assumed,
            cautions: Vec::new(),
            saturation: None,
        }))
    }

    fn is_tannin(&self) -> bool {
        matches!(self.material, Material::TanninSource(_))
    }

    fn must(&self, applies: bool, setting: &'static str) -> Result<(), LotError> {
        if applies {
            Ok(())
        } else {
            Err(LotError::DoesNotApply {
                setting,
                material: self.material.id(),
            })
        }
    }
}

fn fraction(value: f64, u: f64) -> Result<Estimate, LotError> {
    within("standard uncertainty", u, 0.0, 1.0, "")?;
    Ok(Estimate::new(MassFraction::new(value)?.value(), u)?)
}
