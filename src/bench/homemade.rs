//! Iron dissolved in acid by the maker.
//!
//! Fe + 2 H⁺ → Fe²⁺ + H₂. **Hydrogen burns and explodes**: work outdoors or
//! under a hood, in an open vessel, away from flames, with the acid added to
//! the water and goggles on; never close the jar. Concentrated sulfuric acid
//! does something else with iron (it passivates it cold and gives off sulfur
//! dioxide hot): dilute it to 30 % or less first. Local rules and licensed
//! practice come first.

use super::volumes;
use super::{Acid, Lot, LotError, Material, StrengthU, solubility};
use crate::chem::constants::{GAS_CONSTANT, HYDROGEN, IRON};
use crate::chem::{self, Solute};
use crate::composition::{Bulk, Component};
use crate::quantity::{
    AmountOfSubstance, Energy, Estimate, Mass, MassFraction, MolarConcentration, Pressure, Share,
    Temperature, Volume, celsius, checked_mass, kilograms, moles, within,
};
use crate::source::{Constant, Source, Status};

/// Iron (steel wool, nails, filings) put into an acid.
///
/// ```
/// use ferrogall::bench::{IronInAcid, LimitingReagent, Lot};
/// use ferrogall::quantity::{grams, milliliters, ReadAmount};
///
/// // 125 g of steel wool in 640 mL of 33 % hydrochloric acid.
/// let acid = Lot::of("hydrochloric_acid")?.purity(0.33, 0.0)?.build()?;
/// let made = IronInAcid::new(grams(125.0), &acid, acid.mass_of(milliliters(640.0))?).react()?;
/// assert_eq!(made.limiting, LimitingReagent::Iron);
/// assert!((made.iron_ii.in_moles() - 2.19).abs() < 0.01);
/// assert!(made.saturation.unwrap() > 0.9); // crystals are near
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct IronInAcid {
    iron: Mass,
    iron_share: Estimate,
    acid: Lot,
    acid_mass: Mass,
    water: Option<(Lot, Mass)>,
    dissolved: Share,
    temperature: Temperature,
    pressure: Pressure,
}

/// What ran out first.
///
/// ```
/// use ferrogall::bench::{IronInAcid, LimitingReagent, Lot};
/// use ferrogall::quantity::grams;
/// // A gram of iron wants 43 g of vinegar; 20 g leave metal over.
/// let vinegar = Lot::of("acetic_acid")?.purity(0.05, 0.0)?.build()?;
/// let made = IronInAcid::new(grams(1.0), &vinegar, grams(20.0)).react()?;
/// assert_eq!(made.limiting, LimitingReagent::Acid);
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
pub enum LimitingReagent {
    /// All the iron can dissolve; acid is left over.
    Iron,
    /// The acid is used up; metal is left over, which keeps iron(III) at nil.
    Acid,
}

/// The solution that forms, and what comes off it.
///
/// ```
/// use ferrogall::bench::{IronInAcid, Lot};
/// use ferrogall::quantity::{grams, liters};
/// let acid = Lot::of("hydrochloric_acid")?.build()?;
/// let made = IronInAcid::new(grams(10.0), &acid, grams(41.5)).react()?;
/// assert!(made.hydrogen_volume > liters(4.0));
/// assert!(made.fresh_air > liters(400.0)); // to stay under 1 % hydrogen
/// # Ok::<(), ferrogall::bench::LotError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct HomemadeIron {
    /// What ran out, if the reaction runs to its end.
    pub limiting: LimitingReagent,
    /// Iron(II) in solution.
    pub iron_ii: AmountOfSubstance,
    /// Iron(II) per volume.
    pub iron_ii_concentration: MolarConcentration,
    /// Acid not used up, all titratable protons.
    pub free_acid: AmountOfSubstance,
    /// Metal (and its impurities) left over.
    pub metal_left: Mass,
    /// Hydrogen given off.
    pub hydrogen: AmountOfSubstance,
    /// Its volume at the temperature and pressure given, dry ideal gas.
    pub hydrogen_volume: Volume,
    /// Air it must mix into to stay at 1 % by volume, a quarter of the lower
    /// explosive limit of 4 % (NFPA 497).
    pub fresh_air: Volume,
    /// Heat given off, low and high: sulfuric acid gives more when it reacts
    /// as hydrogensulfate.
    pub heat: (Energy, Energy),
    /// Dissolved salt as a share of what pure water holds at the temperature
    /// given; above 1 it crystallises. Free acid of the same anion holds salt
    /// back and is not counted: with much of it crystals come well below 1.
    /// `None` where no solubility is known (acetate), out of its range, or
    /// when no water is left to speak of.
    pub saturation: Option<f64>,
    /// The solution as a lot, free acid included.
    pub lot: Lot,
}

/// Iron in steel wool and nails.
pub(super) const STEEL: Constant = Constant {
    id: "iron_in_steel",
    value: 0.98,
    u: 0.01,
    unit: "kg/kg",
    source: Source::new("low-carbon steel, degreased", Status::FromMemory),
};
const HEAT: Constant = Constant {
    id: "heat_of_iron_in_acid",
    value: 89.1,
    u: 0.5,
    unit: "kJ/mol",
    source: Source::new(
        "standard enthalpy of formation of Fe2+(aq), CRC",
        Status::Handbook,
    ),
};
const HYDROGENSULFATE: Constant = Constant {
    id: "heat_of_hydrogensulfate",
    value: 22.0,
    u: 0.5,
    unit: "kJ/mol",
    source: Source::new(
        "formation of HSO4-(aq) -887.3 against SO4 2-(aq) -909.3 kJ/mol, CRC",
        Status::Handbook,
    ),
};
/// A quarter of the lower explosive limit of hydrogen.
const SAFE_HYDROGEN: Constant = Constant {
    id: "safe_hydrogen_in_air",
    value: 0.01,
    u: 0.0,
    unit: "m3/m3",
    source: Source::new("a quarter of the 4 % of NFPA 497", Status::Handbook),
};

pub(super) const CONSTANTS: &[&Constant] = &[&STEEL, &HEAT, &HYDROGENSULFATE, &SAFE_HYDROGEN];

impl IronInAcid {
    /// Iron in so much of an acid lot, at 20 °C and 101.325 kPa, until the
    /// reaction ends. The metal is taken as steel, 98 ± 1 % iron.
    pub fn new(iron: Mass, acid: &Lot, acid_mass: Mass) -> IronInAcid {
        IronInAcid {
            iron,
            iron_share: Estimate::new(STEEL.value, STEEL.u).unwrap_or(Estimate::ZERO),
            acid: acid.clone(),
            acid_mass,
            water: None,
            dissolved: Share::ONE,
            temperature: celsius(20.0),
            pressure: Pressure::new::<uom::si::pressure::kilopascal>(101.325),
        }
    }

    /// Water put in with the acid.
    #[must_use]
    pub fn water(mut self, water: &Lot, mass: Mass) -> Self {
        self.water = Some((water.clone(), mass));
        self
    }

    /// Iron in the metal as a mass fraction, with its standard uncertainty.
    #[must_use]
    pub fn iron_share(mut self, share: Estimate) -> Self {
        self.iron_share = share;
        self
    }

    /// How far the reaction has gone, as a share of what could dissolve.
    #[must_use]
    pub fn dissolved(mut self, share: Share) -> Self {
        self.dissolved = share;
        self
    }

    /// Temperature (0 to 100 °C) and pressure (50 to 120 kPa) of the room.
    #[must_use]
    pub fn at(mut self, temperature: Temperature, pressure: Pressure) -> Self {
        self.temperature = temperature;
        self.pressure = pressure;
        self
    }

    /// Weighs up the reaction.
    ///
    /// # Errors
    /// [`LotError::DoesNotApply`] when the lot is not hydrochloric, sulfuric
    /// or acetic acid; [`LotError::OutOfRange`] for masses, temperature or
    /// pressure outside their range, a mixture with no mass left, or sulfuric
    /// acid of more than 30 % with the water put in: stronger acid does not
    /// dissolve iron this way.
    pub fn react(&self) -> Result<HomemadeIron, LotError> {
        let metal = checked_mass("mass of iron", self.iron)?;
        let acid_mass = checked_mass("mass of acid", self.acid_mass)?;
        let share = within("iron in the metal", self.iron_share.value(), 0.0, 1.0, "")?;
        let kelvin = within("temperature", self.temperature.value, 273.15, 373.15, "K")?;
        let pascal = within("pressure", self.pressure.value, 5e4, 1.2e5, "Pa")?;
        let row = self.acid_row()?;
        let mut mix = self.acid.contents(kilograms(acid_mass));
        if let Some((water, mass)) = &self.water {
            checked_mass("mass of water", *mass)?;
            if !water.is_liquid() {
                return Err(LotError::DoesNotApply {
                    setting: "water to dissolve iron in",
                    material: water.material().map_or("a prepared solid", |m| m.id()),
                });
            }
            mix.add_scaled(&water.contents(*mass), 1.0);
        }

        if row.id == "sulfuric_acid" {
            let acid =
                mix.amounts[Component::Sulfate as usize] * chem::molar_mass(row.formula)?.value;
            let strength = if mix.mass > 0.0 { acid / mix.mass } else { 0.0 };
            within("strength of the sulfuric acid", strength, 0.0, 0.30, "")?;
        }

        let iron = metal * share / IRON;
        let protons = (mix.strong_acid().value + mix.amounts[Component::Acetate as usize]).max(0.0);
        let can_dissolve = iron.min(protons / 2.0);
        let n = can_dissolve * self.dissolved.value();
        let limiting = if iron <= protons / 2.0 {
            LimitingReagent::Iron
        } else {
            LimitingReagent::Acid
        };

        mix.amounts[Component::IronII as usize] += n;
        mix.mass += n * (IRON - HYDROGEN);
        let water = mix.masses[Bulk::Water as usize];
        let salt = Salt::of(row, n, protons, water)?;
        mix.volume = water / volumes::WATER_KG_PER_M3.value + salt.volume;
        mix.dry_residue = salt.salt
            + match row.volatility {
                super::Volatility::Volatile => 0.0,
                super::Volatility::Fixed => salt.acid,
            };
        let saturation = salt.saturation(water, self.temperature);

        let hydrogen_volume = n * GAS_CONSTANT.value * kelvin / pascal;
        let kilojoules = |kj: f64| Energy::new::<uom::si::energy::kilojoule>(kj);
        let top = if row.id == "sulfuric_acid" {
            HEAT.value + HYDROGENSULFATE.value
        } else {
            HEAT.value
        };
        let iron_u = match limiting {
            LimitingReagent::Iron => self.iron_share.relative_u(),
            LimitingReagent::Acid => self.acid.strength_u().acid,
        };
        let name = format!("iron dissolved in {}", self.acid.name());
        let mut lot = Lot::prepared(name, &mix)?.with_strength_u(StrengthU {
            iron: iron_u,
            ..StrengthU::default()
        })?;
        lot = lot.made_of([Material::Acid(row)]).with_given(format!(
            "from {:.1} g of metal and {:.1} g of {}: iron(II) {:.2} mol/L, free acid {:.2} mol, {:.1} g of metal left{}",
            metal * 1e3,
            acid_mass * 1e3,
            self.acid.name(),
            mix.molarity(Component::IronII).value * 1e-3,
            protons - 2.0 * n,
            (metal - n * IRON) * 1e3,
            match saturation {
                Some(s) => format!(", {:.0} % of saturation", 100.0 * s),
                None => String::new(),
            }
        ));
        lot = lot.with_saturation(saturation).with_caution(format!(
            "Iron in {} gives off hydrogen, here {:.1} L, and {:.0} kJ of heat: outdoors, in an open vessel with {:.0} L of moving air at least, the metal a little at a time, no flame, never a closed jar.",
            row.name,
            hydrogen_volume * 1e3,
            n * top,
            hydrogen_volume * 1e3 / SAFE_HYDROGEN.value
        ));
        Ok(HomemadeIron {
            limiting,
            iron_ii: moles(n),
            iron_ii_concentration: mix.molarity(Component::IronII),
            free_acid: moles(protons - 2.0 * n),
            metal_left: kilograms(metal - n * IRON),
            hydrogen: moles(n),
            hydrogen_volume: Volume::new::<uom::si::volume::cubic_meter>(hydrogen_volume),
            fresh_air: Volume::new::<uom::si::volume::cubic_meter>(
                hydrogen_volume / SAFE_HYDROGEN.value,
            ),
            heat: (kilojoules(n * HEAT.value), kilojoules(n * top)),
            saturation,
            lot,
        })
    }

    fn acid_row(&self) -> Result<&'static Acid, LotError> {
        match self.acid.material() {
            Some(Material::Acid(row))
                if matches!(
                    row.id,
                    "hydrochloric_acid" | "sulfuric_acid" | "acetic_acid"
                ) =>
            {
                Ok(row)
            }
            other => Err(LotError::DoesNotApply {
                setting: "dissolving iron",
                material: other.map_or("a prepared solution", |m| m.id()),
            }),
        }
    }
}

/// The iron salt that forms, as far as volume and solubility go.
struct Salt {
    curve: Option<&'static str>,
    /// kg of salt, and of acid left over.
    salt: f64,
    acid: f64,
    /// m³ that salt and acid take up beside the water.
    volume: f64,
}

impl Salt {
    /// `n` mol of iron(II) takes its anions from `protons` mol of acid.
    ///
    /// The volume is the sum of apparent volumes, each taken at the strength
    /// of the whole solution (the mixture rule of Laliberté & Cooper 2004).
    fn of(acid: &Acid, n: f64, protons: f64, water: f64) -> Result<Salt, LotError> {
        let (curve, solute, formula) = match acid.id {
            "hydrochloric_acid" => (Some("FeCl2"), Some(Solute::IronIIChloride), "FeCl2"),
            "sulfuric_acid" => (Some("FeSO4"), Some(Solute::IronIISulfate), "FeSO4"),
            _ => (None, None, "Fe(CH3COO)2"),
        };
        let left = (protons - 2.0 * n).max(0.0) / acid.titratable_protons;
        let salt = n * chem::molar_mass(formula)?.value;
        let acid_kg = left * chem::molar_mass(acid.formula)?.value;
        let strength = (salt + acid_kg) / (salt + acid_kg + water);
        let acid_solute = acid.density_solute.and_then(Solute::from_id);
        Ok(Salt {
            curve,
            salt,
            acid: acid_kg,
            volume: salt * volumes::at_strength(solute, strength)
                + acid_kg * volumes::at_strength(acid_solute, strength),
        })
    }

    fn saturation(&self, water: f64, t: Temperature) -> Option<f64> {
        let held: MassFraction = solubility(self.curve?)?.saturated(t).ok()?;
        let ratio = self.salt / water * (1.0 - held.value()) / held.value();
        ratio.is_finite().then_some(ratio)
    }
}
