//! What a kilogram of a lot holds, kind by kind.

use super::LotBuilder;
use super::material::{
    Acid, Basis, Dye, Gum, Humectant, IronSalt, Preservative, TanninForm, TanninSource, Water,
};
use super::volumes::{self, Dissolved};
use super::{HydrateMix, LotError, StrengthU};
use crate::chem::constants::{CALCIUM_CARBONATE, WATER};
use crate::chem::{self, Solute};
use crate::composition::{Bulk, Component, Composition};
use crate::quantity::{Estimate, MassFraction};
use crate::source::Range;

/// mol of charge that a kg of CaCO3 stands for.
const CHARGE_PER_KG_CACO3: f64 = 2.0 / CALCIUM_CARBONATE;

const NOTHING: Estimate = Estimate::ZERO;

impl LotBuilder {
    pub(super) fn salt(&self, row: &IronSalt) -> Result<Made, LotError> {
        let mut made = Made::default();
        let moisture = made.told(self.moisture, "moisture");
        let room = 1.0 - moisture.value();
        let purity = made.or_assume(self.purity, "purity", room, 0.01)?;
        made.fits(row.id, purity.value() + moisture.value())?;
        let formula_mass = chem::molar_mass(row.formula)?.value;
        let n = purity.value() / formula_mass;
        let oxidised = made.told(self.oxidised, "oxidised");
        made.ions(row.ions, n);
        let iron = made.per_kg.amounts[Component::IronII as usize];
        made.per_kg.amounts[Component::IronII as usize] = iron * (1.0 - oxidised.value());
        made.per_kg.amounts[Component::IronIII as usize] += iron * oxidised.value();
        let crystal_water = row.crystal_water * n * WATER;
        made.water(crystal_water + moisture.value());
        made.dissolved(
            volumes::of_salt(row),
            (purity.value() - crystal_water).max(0.0),
        );
        made.other_solubles(1.0 - purity.value() - moisture.value());
        made.u.iron = relative(&[
            purity.relative_u(),
            oxidised.u() / (1.0 - oxidised.value()).max(1e-3),
        ]);
        Ok(made)
    }

    /// A mix of hydrates: each solid by its own formula.
    pub(super) fn weathered(&self, mix: HydrateMix) -> Result<Made, LotError> {
        let mut made = Made::default();
        let moisture = made.told(self.moisture, "moisture");
        let room = 1.0 - moisture.value();
        let purity = made.or_assume(self.purity, "purity", room, 0.01)?;
        made.fits(
            "iron_ii_sulfate_heptahydrate",
            purity.value() + moisture.value(),
        )?;
        let anhydrous = chem::molar_mass("FeSO4")?.value;
        let basic = chem::molar_mass("Fe(OH)SO4")?.value;
        made.given.push(format!(
            "7-, 4-, 1-hydrate, basic sulfate: {:.0}, {:.0}, {:.0}, {:.0} %",
            100.0 * mix.heptahydrate(),
            100.0 * mix.tetrahydrate(),
            100.0 * mix.monohydrate(),
            100.0 * mix.basic_sulfate()
        ));
        let mut solids = 0.0;
        for (share, waters, ferric) in mix.solids() {
            let mass = share * purity.value();
            let (iron, formula_mass) = if ferric {
                (Component::IronIII, basic)
            } else {
                (Component::IronII, anhydrous + waters * WATER)
            };
            let n = mass / formula_mass;
            made.ions(&[(iron, 1.0), (Component::Sulfate, 1.0)], n);
            let crystal_water = waters * n * WATER;
            made.water(crystal_water);
            solids += mass - crystal_water;
        }
        let oxidised = made.told(self.oxidised, "of the iron(II), oxidised");
        let iron = made.per_kg.amounts[Component::IronII as usize];
        made.per_kg.amounts[Component::IronII as usize] = iron * (1.0 - oxidised.value());
        made.per_kg.amounts[Component::IronIII as usize] += iron * oxidised.value();
        made.water(moisture.value());
        made.dissolved(volumes::of_solute(Some(Solute::IronIISulfate)), solids);
        made.other_solubles(1.0 - purity.value() - moisture.value());
        // Eyeing how far a crystal has weathered is no assay.
        made.assumed
            .push("iron content by the eye, known to 5 % at best (k = 1)".into());
        made.u.iron = relative(&[
            purity.relative_u(),
            0.05,
            oxidised.u() / (1.0 - oxidised.value()).max(1e-3),
        ]);
        Ok(made)
    }

    pub(super) fn tannin_source(&self, row: &TanninSource) -> Result<Made, LotError> {
        let mut made = Made::default();
        let tannin = made.or_range(self.tannin, "tannin", row.tannin_percent, 1.0)?;
        // What is only assumed gives way to what was measured.
        let room = 1.0 - tannin.value();
        let gallic = made.or_range(
            self.gallic_acid,
            "free gallic acid",
            row.gallic_acid_percent,
            room,
        )?;
        let room = match row.basis {
            Basis::DryMatter => 1.0,
            Basis::AsIs => (room - gallic.value()).max(0.0),
        };
        let moisture = made.or_range(self.moisture, "moisture", row.moisture_percent, room)?;
        let per_tannin = match self.galloyl {
            Some(e) => {
                made.given
                    .push(format!("galloyl {:.2} ± {:.2} mmol/g", e.value(), e.u()));
                e
            }
            None => Estimate::new(row.galloyl_mmol_per_g.typical, row.galloyl_mmol_per_g.u())?,
        };
        let dry = match row.basis {
            Basis::DryMatter => 1.0 - moisture.value(),
            Basis::AsIs => 1.0,
        };
        let (t, g) = (tannin.value() * dry, gallic.value() * dry);
        made.fits(row.id, t + g + moisture.value())?;
        let per_gallic = 1.0 / chem::molar_mass("C7H6O5")?.value;
        let galloyl = t * per_tannin.value();
        made.per_kg.amounts[Component::Galloyl as usize] = galloyl;
        made.per_kg.amounts[Component::GallicAcid as usize] = g * per_gallic;
        made.per_kg.masses[Bulk::Tannin as usize] = t;
        made.water(moisture.value());
        made.dissolved(Dissolved::Tannin, t + g);
        if row.form == TanninForm::Soluble {
            made.other_solubles(1.0 - t - g - moisture.value());
        }
        let total = galloyl + g * per_gallic;
        if total > 0.0 {
            let drying = match row.basis {
                Basis::DryMatter => moisture.u() / (1.0 - moisture.value()).max(1e-3),
                Basis::AsIs => 0.0,
            };
            made.u.galloyl = relative(&[
                tannin.relative_u() * galloyl / total,
                per_tannin.relative_u() * galloyl / total,
                gallic.u() * dry * per_gallic / total,
                drying,
            ]);
        }
        Ok(made)
    }

    pub(super) fn acid(&self, row: &Acid) -> Result<Made, LotError> {
        let mut made = Made::default();
        let usual = row.grades.first().map_or(1.0, |g| g.mass_percent / 100.0);
        let strength = made.or_assume(self.purity, "strength", usual, 0.02 * usual)?;
        let n = strength.value() / chem::molar_mass(row.formula)?.value;
        made.ions(row.ions, n);
        let crystal_water = row.crystal_water * n * WATER;
        made.water(crystal_water + 1.0 - strength.value());
        let volatile = row.volatility == super::Volatility::Volatile;
        let solid = (strength.value() - crystal_water).max(0.0);
        made.dissolved(volumes::of_acid(row), solid);
        if volatile {
            made.per_kg.dry_residue -= solid;
        }
        made.u.acid = strength.relative_u();
        let strength = MassFraction::new(strength.value())?;
        made.density = row
            .density_solute
            .and_then(|solute| volumes::density_at_20(solute, strength));
        Ok(made)
    }

    pub(super) fn gum(&self, row: &Gum) -> Result<Made, LotError> {
        let mut made = Made::default();
        let moisture = made.or_range(self.moisture, "moisture", row.moisture_percent, 1.0)?;
        let dry = 1.0 - moisture.value();
        made.per_kg.masses[Bulk::Gum as usize] = dry;
        made.water(moisture.value());
        made.dissolved(Dissolved::Gum, dry);
        Ok(made)
    }

    pub(super) fn dye(&self, row: &Dye) -> Result<Made, LotError> {
        let mut made = Made::default();
        let purity = made.or_assume(self.purity, "purity", 1.0, 0.0)?;
        made.fits(row.id, purity.value())?;
        made.per_kg.masses[Bulk::Dye as usize] = purity.value();
        made.dissolved(Dissolved::Organic, purity.value());
        made.other_solubles(1.0 - purity.value());
        Ok(made)
    }

    pub(super) fn preservative(&self, row: &Preservative) -> Result<Made, LotError> {
        let density = row.liquid.then_some(row.density_g_per_cm3).flatten();
        self.organic(row.id, row.formula, row.ions, row.volatile, density)
    }

    pub(super) fn humectant(&self, row: &Humectant) -> Result<Made, LotError> {
        let density = Some(row.density_g_per_cm3);
        self.organic(row.id, row.formula, row.ions, row.volatile, density)
    }

    pub(super) fn organic(
        &self,
        id: &'static str,
        formula: &str,
        ions: &[(Component, f64)],
        volatile: bool,
        density_g_per_cm3: Option<f64>,
    ) -> Result<Made, LotError> {
        let mut made = Made::default();
        let purity = made.or_assume(self.purity, "purity", 1.0, 0.0)?;
        made.fits(id, purity.value())?;
        if ions.is_empty() {
            made.other_solubles(purity.value());
        } else {
            made.ions(ions, purity.value() / chem::molar_mass(formula)?.value);
            made.dissolved(volumes::of_organic(id), purity.value());
        }
        if volatile {
            made.per_kg.dry_residue = 0.0;
        }
        made.other_solubles(1.0 - purity.value());
        made.density = density_g_per_cm3.map(|d| d * 1000.0);
        Ok(made)
    }

    /// Alkalinity is hydrogencarbonate; hardness is counted as calcium. What
    /// hardness exceeds alkalinity is taken as sulfate, what alkalinity
    /// exceeds hardness as sodium.
    pub(super) fn water(&self, row: &Water) -> Result<Made, LotError> {
        let mut made = Made::default();
        let mg_per_l = 1e-3; // kg/m³
        let alkalinity = self
            .alkalinity
            .unwrap_or(row.alkalinity_mg_per_l.typical * mg_per_l);
        let hardness = self
            .hardness
            .unwrap_or(row.hardness_mg_per_l.typical * mg_per_l);
        for (what, given, value) in [
            ("alkalinity", self.alkalinity, alkalinity),
            ("hardness", self.hardness, hardness),
        ] {
            let text = format!("{what} {:.0} mg/L as CaCO3", 1e3 * value);
            match given {
                Some(_) => made.given.push(text),
                None => made.assumed.push(text),
            }
        }
        let density = volumes::WATER_KG_PER_M3.value;
        // mol of charge per kg of water
        let alkaline = alkalinity * CHARGE_PER_KG_CACO3 / density;
        let hard = hardness * CHARGE_PER_KG_CACO3 / density;
        let amounts = &mut made.per_kg.amounts;
        amounts[Component::Carbonate as usize] = alkaline;
        amounts[Component::Calcium as usize] = hard / 2.0;
        amounts[Component::Sodium as usize] = (alkaline - hard).max(0.0);
        amounts[Component::Sulfate as usize] = (hard - alkaline).max(0.0) / 2.0;
        // Traces of salt: within the rounding of any volume here.
        made.water(1.0);
        made.density = Some(density);
        Ok(made)
    }
}

/// "purity 97.0 ± 1.0 %"
fn percent(what: &str, value: f64, u: f64) -> String {
    let (value, u) = (100.0 * value, 100.0 * u);
    if u > 0.0 {
        format!("{what} {value:.2} ± {u:.2} %")
    } else {
        format!("{what} {value:.2} %")
    }
}

/// Independent relative uncertainties combined.
fn relative(parts: &[f64]) -> f64 {
    libm::sqrt(parts.iter().map(|p| p * p).sum::<f64>()).min(1e9)
}

/// A lot in the making: the contents of 1 kg, added up part by part.
pub(super) struct Made {
    pub(super) per_kg: Composition,
    pub(super) density: Option<f64>,
    pub(super) u: StrengthU,
    pub(super) given: Vec<String>,
    pub(super) assumed: Vec<String>,
}

impl Default for Made {
    fn default() -> Self {
        Made {
            per_kg: Composition {
                mass: 1.0,
                ..Composition::EMPTY
            },
            density: None,
            u: StrengthU::default(),
            given: Vec::new(),
            assumed: Vec::new(),
        }
    }
}

impl Made {
    fn ions(&mut self, ions: &[(Component, f64)], n: f64) {
        for &(component, count) in ions {
            self.per_kg.amounts[component as usize] += count * n;
        }
    }

    fn water(&mut self, kg: f64) {
        self.per_kg.masses[Bulk::Water as usize] += kg;
        self.per_kg.volume += kg / volumes::WATER_KG_PER_M3.value;
    }

    fn dissolved(&mut self, what: Dissolved, kg: f64) {
        self.per_kg.volume += kg * what.apparent_volume();
        self.per_kg.dry_residue += kg;
    }

    fn other_solubles(&mut self, kg: f64) {
        let kg = kg.max(0.0);
        self.per_kg.masses[Bulk::OtherSolubles as usize] += kg;
        self.dissolved(Dissolved::Organic, kg);
    }

    fn fits(&self, material: &'static str, sum: f64) -> Result<(), LotError> {
        if sum <= 1.0 + 1e-9 {
            Ok(())
        } else {
            Err(LotError::MoreThanWhole { material, sum })
        }
    }

    /// A share that is nothing unless it was given.
    fn told(&mut self, given: Option<Estimate>, what: &str) -> Estimate {
        let Some(e) = given else { return NOTHING };
        self.given.push(percent(what, e.value(), e.u()));
        e
    }

    fn assume(&mut self, what: &str, value: f64, u: f64) {
        // An exact figure is no assumption worth a line.
        if u > 0.0 {
            self.assumed.push(percent(what, value, u));
        }
    }

    fn or_assume(
        &mut self,
        given: Option<Estimate>,
        what: &str,
        value: f64,
        u: f64,
    ) -> Result<Estimate, LotError> {
        if let Some(e) = given {
            self.given.push(percent(what, e.value(), e.u()));
            return Ok(e);
        }
        self.assume(what, value, u);
        Ok(Estimate::new(value, u)?)
    }

    /// The catalogue's typical value where none is given, but no more than
    /// there is room for.
    fn or_range(
        &mut self,
        given: Option<Estimate>,
        what: &str,
        percent: Range,
        room: f64,
    ) -> Result<Estimate, LotError> {
        let typical = (percent.typical / 100.0).min(room);
        if given.is_none() && typical == 0.0 {
            return Ok(NOTHING);
        }
        self.or_assume(given, what, typical, percent.u() / 100.0)
    }
}
