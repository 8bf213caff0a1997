//! What a kilogram of a lot holds, kind by kind.

use super::LotBuilder;
use super::makeup::{Makeup, Unknown};
use super::material::{
    Acid, Basis, Dye, Gum, Humectant, IronSalt, Preservative, TanninForm, TanninSource, Water,
};
use super::volumes;
use super::{HydrateMix, LotError, StrengthU};
use crate::chem::constants::CALCIUM_CARBONATE;
use crate::chem::{self, Solute};
use crate::composition::{Component, Composition};
use crate::quantity::{Estimate, MassFraction};
use crate::source::Range;

/// mol of charge that a kg of CaCO3 stands for.
const CHARGE_PER_KG_CACO3: f64 = 2.0 / CALCIUM_CARBONATE;

const NOTHING: Estimate = Estimate::ZERO;

impl LotBuilder {
    pub(super) fn salt(&self, row: &'static IronSalt) -> Result<Made, LotError> {
        let mut made = Made::default();
        let (purity, moisture) = self.purity_beside_moisture(&mut made, row.id)?;
        let oxidised = made.told(self.oxidised, "oxidised");
        made.u.iron = relative(&[purity.relative_u(), relative_of_rest(oxidised)]);
        let makeup = Makeup::Salt {
            ions: row.ions,
            kg_per_mol: chem::molar_mass(row.formula)?.value,
            crystal_water: row.crystal_water,
            dissolved: volumes::of_salt(row),
        };
        Ok(made.of(
            makeup,
            [
                Unknown::purity(purity),
                Unknown::share("moisture", moisture),
                Unknown::share("oxidised share", oxidised),
            ],
        ))
    }

    /// A mix of hydrates: each solid by its own formula.
    pub(super) fn weathered(&self, mix: HydrateMix) -> Result<Made, LotError> {
        let mut made = Made::default();
        let (purity, moisture) =
            self.purity_beside_moisture(&mut made, "iron_ii_sulfate_heptahydrate")?;
        made.given.push(format!(
            "7-, 4-, 1-hydrate, basic sulfate: {:.0}, {:.0}, {:.0}, {:.0} %",
            100.0 * mix.heptahydrate(),
            100.0 * mix.tetrahydrate(),
            100.0 * mix.monohydrate(),
            100.0 * mix.basic_sulfate()
        ));
        let oxidised = made.told(self.oxidised, "of the iron(II), oxidised");
        // Eyeing how far a crystal has weathered is no assay.
        let by_eye = Estimate::new(1.0, 0.05)?;
        made.assumed
            .push("iron content by the eye, known to 5 % at best (k = 1)".into());
        made.u.iron = relative(&[
            purity.relative_u(),
            by_eye.relative_u(),
            relative_of_rest(oxidised),
        ]);
        let makeup = Makeup::Weathered {
            mix,
            anhydrous: chem::molar_mass("FeSO4")?.value,
            basic: chem::molar_mass("Fe(OH)SO4")?.value,
            dissolved: volumes::of_solute(Some(Solute::IronIISulfate)),
        };
        Ok(made.of(
            makeup,
            [
                Unknown::purity(purity),
                Unknown::share("moisture", moisture),
                Unknown::share("oxidised share", oxidised),
                Unknown::factor("iron by the eye", by_eye),
            ],
        ))
    }

    pub(super) fn tannin_source(&self, row: &TanninSource) -> Result<Made, LotError> {
        let mut made = Made::default();
        let tannin = made.or_content(self.tannin, "tannin", row.tannin_percent, 1.0)?;
        // What is only assumed gives way to what was measured.
        let room = 1.0 - tannin.value();
        let gallic = made.or_content(
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
            None => by_factor(row.galloyl_mmol_per_g)?,
        };
        let gallic_kg_per_mol = chem::molar_mass("C7H6O5")?.value;
        let made = made.of(
            Makeup::Tannin {
                of_dry_matter: row.basis == Basis::DryMatter,
                soluble: row.form == TanninForm::Soluble,
                gallic_kg_per_mol,
            },
            [
                Unknown::content("tannin", tannin),
                Unknown::content("free gallic acid", gallic),
                Unknown::share("moisture", moisture),
                Unknown::factor("galloyl per tannin", per_tannin),
            ],
        );
        let dry = match row.basis {
            Basis::DryMatter => 1.0 - moisture.value(),
            Basis::AsIs => 1.0,
        };
        made.fits(
            row.id,
            (tannin.value() + gallic.value()) * dry + moisture.value(),
        )?;
        let galloyl = made.per_kg.amounts[Component::Galloyl as usize];
        let total = made.per_kg.galloyl().value;
        let mut made = made;
        if total > 0.0 {
            let drying = match row.basis {
                Basis::DryMatter => relative_of_rest(moisture),
                Basis::AsIs => 0.0,
            };
            made.u.galloyl = relative(&[
                tannin.relative_u() * galloyl / total,
                per_tannin.relative_u() * galloyl / total,
                gallic.u() * dry / gallic_kg_per_mol / total,
                drying,
            ]);
        }
        Ok(made)
    }

    pub(super) fn acid(&self, row: &'static Acid) -> Result<Made, LotError> {
        let mut made = Made::default();
        let usual = row.grades.first().map_or(1.0, |g| g.mass_percent / 100.0);
        let strength = made.or_assume(self.purity, "strength", usual, 0.02 * usual)?;
        made.u.acid = strength.relative_u();
        let share = MassFraction::new(strength.value())?;
        made.density = row
            .density_solute
            .and_then(|solute| volumes::density_at_20(solute, share));
        let makeup = Makeup::Acid {
            ions: row.ions,
            kg_per_mol: chem::molar_mass(row.formula)?.value,
            crystal_water: row.crystal_water,
            volatile: row.volatility == super::Volatility::Volatile,
            dissolved: volumes::of_acid(row),
        };
        Ok(made.of(makeup, [Unknown::share("strength", strength)]))
    }

    pub(super) fn gum(&self, row: &Gum) -> Result<Made, LotError> {
        let mut made = Made::default();
        let moisture = made.or_range(self.moisture, "moisture", row.moisture_percent, 1.0)?;
        Ok(made.of(Makeup::Gum, [Unknown::share("moisture", moisture)]))
    }

    pub(super) fn dye(&self, row: &Dye) -> Result<Made, LotError> {
        let mut made = Made::default();
        let purity = made.or_assume(self.purity, "purity", 1.0, 0.0)?;
        made.fits(row.id, purity.value())?;
        Ok(made.of(Makeup::Dye, [Unknown::purity(purity)]))
    }

    pub(super) fn preservative(&self, row: &'static Preservative) -> Result<Made, LotError> {
        let density = row.liquid.then_some(row.density_g_per_cm3).flatten();
        self.organic(row.id, row.formula, row.ions, row.volatile, density)
    }

    pub(super) fn humectant(&self, row: &'static Humectant) -> Result<Made, LotError> {
        let density = Some(row.density_g_per_cm3);
        self.organic(row.id, row.formula, row.ions, row.volatile, density)
    }

    fn organic(
        &self,
        id: &'static str,
        formula: &str,
        ions: &'static [(Component, f64)],
        volatile: bool,
        density_g_per_cm3: Option<f64>,
    ) -> Result<Made, LotError> {
        let mut made = Made::default();
        let purity = made.or_assume(self.purity, "purity", 1.0, 0.0)?;
        made.fits(id, purity.value())?;
        made.density = density_g_per_cm3.map(|d| d * 1000.0);
        let kg_per_mol = match ions {
            [] => 1.0,
            _ => chem::molar_mass(formula)?.value,
        };
        let makeup = Makeup::Organic {
            ions,
            kg_per_mol,
            volatile,
            dissolved: volumes::of_organic(id),
        };
        Ok(made.of(makeup, [Unknown::purity(purity)]))
    }

    /// Alkalinity is hydrogencarbonate; hardness is counted as calcium. What
    /// hardness exceeds alkalinity is taken as sulfate, what alkalinity
    /// exceeds hardness as sodium.
    pub(super) fn water(&self, row: &Water) -> Result<Made, LotError> {
        let mut made = Made::default();
        let density = volumes::WATER_KG_PER_M3.value;
        made.density = Some(density);
        let mut unknown = |what, mg_per_l: Range, told: Option<f64>| -> Result<_, LotError> {
            let kg_per_m3 = |x: f64| 1e-3 * x;
            let range = Range::new(
                kg_per_m3(mg_per_l.min),
                kg_per_m3(mg_per_l.typical),
                kg_per_m3(mg_per_l.max),
            );
            let unknown = Unknown::span(what, range, told)?;
            let text = format!("{what} {:.0} mg/L as CaCO3", 1e3 * unknown.estimate.value());
            match told {
                Some(_) => made.given.push(text),
                None => made.assumed.push(text),
            }
            Ok(unknown)
        };
        let unknowns = [
            unknown("alkalinity", row.alkalinity_mg_per_l, self.alkalinity)?,
            unknown("hardness", row.hardness_mg_per_l, self.hardness)?,
        ];
        // kg of CaCO3 per m³ of water to mol of charge per kg of it
        let mol_of_charge_per_kg = CHARGE_PER_KG_CACO3 / density;
        Ok(made.of(
            Makeup::Water {
                mol_of_charge_per_kg,
            },
            unknowns,
        ))
    }

    fn purity_beside_moisture(
        &self,
        made: &mut Made,
        id: &'static str,
    ) -> Result<(Estimate, Estimate), LotError> {
        let moisture = made.told(self.moisture, "moisture");
        let room = 1.0 - moisture.value();
        let purity = made.or_assume(self.purity, "purity", room, 0.01)?;
        made.fits(id, purity.value() + moisture.value())?;
        Ok((purity, moisture))
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

/// The typical value of a span that is off by a factor.
fn by_factor(range: Range) -> Result<Estimate, LotError> {
    Ok(Estimate::new(range.typical, range.typical * range.u_ln())?)
}

/// Uncertainty of what a share leaves, relative to it.
fn relative_of_rest(share: Estimate) -> f64 {
    share.u() / (1.0 - share.value()).max(1e-3)
}

/// A lot in the making: what is in it, and what was said of it.
pub(super) struct Made {
    pub(super) per_kg: Composition,
    pub(super) makeup: Makeup,
    pub(super) unknowns: Vec<Unknown>,
    pub(super) density: Option<f64>,
    pub(super) u: StrengthU,
    pub(super) given: Vec<String>,
    pub(super) assumed: Vec<String>,
}

impl Default for Made {
    fn default() -> Self {
        Made {
            per_kg: Composition::EMPTY,
            makeup: Makeup::Prepared,
            unknowns: Vec::new(),
            density: None,
            u: StrengthU::default(),
            given: Vec::new(),
            assumed: Vec::new(),
        }
    }
}

impl Made {
    /// Filled, with the estimates of its unknowns.
    fn of<const N: usize>(mut self, makeup: Makeup, unknowns: [Unknown; N]) -> Made {
        self.per_kg = makeup.per_kg(&Composition::EMPTY, &unknowns.map(|u| u.estimate.value()));
        self.makeup = makeup;
        self.unknowns = unknowns.to_vec();
        self
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

    /// As [`or_range`](Self::or_range), for what is off by a factor.
    fn or_content(
        &mut self,
        given: Option<Estimate>,
        what: &str,
        percent: Range,
        room: f64,
    ) -> Result<Estimate, LotError> {
        let estimate = by_factor(percent)?;
        let typical = (estimate.value() / 100.0).min(room);
        if given.is_none() && typical == 0.0 {
            return Ok(NOTHING);
        }
        self.or_assume(given, what, typical, estimate.u() / 100.0)
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
