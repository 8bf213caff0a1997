//! The part of the sheet that tells of pH.

use super::shapes::{SheetAcidity, SheetPreservative};
use super::text::{heading, paragraph, row};
use crate::composition::Composition;
use crate::equilibrium::{
    ConstantSet, EquilibriumError, InkReport, Interval, PreservativeState, SolidState, Solver,
    WaterEffect,
};
use crate::quantity::{
    ReadMassConcentration, ReadMolality, ReadMolarConcentration, ReadTemperature, celsius,
};
use crate::recipe::Evaluation;
use core::fmt::{Formatter, Result as Written};

/// The temperature that the sheet's volumes hold for.
const CELSIUS: f64 = 20.0;

/// What works out every pH of one sheet; `None` could not be.
pub(super) fn solver() -> Option<Solver> {
    Solver::new(ConstantSet::reviewed(), celsius(CELSIUS)).ok()
}

/// What is no dilute solution has no pH to tell.
pub(super) fn ph(solver: &mut Solver, ink: &Composition) -> Option<f64> {
    solver.ph_of(ink).ok()
}

pub(super) fn acidity(solver: &mut Solver, made: &Evaluation) -> Option<SheetAcidity> {
    worked_out(solver, made).ok()
}

fn worked_out(solver: &mut Solver, made: &Evaluation) -> Result<SheetAcidity, EquilibriumError> {
    let report = solver.report(&made.composition)?;
    let water = solver.water_effect(made)?;
    let preservatives = solver.preservatives(&made.composition)?;
    Ok(filled(report, &water, &preservatives))
}

fn filled(r: InkReport, water: &WaterEffect, kept: &[PreservativeState]) -> SheetAcidity {
    let in_state = |state: SolidState| {
        let solids = r.solids.iter().filter(move |s| s.state == state);
        solids.map(|s| s.solid.clone()).collect()
    };
    let has_iron_iii = r.iron_iii.sum() > 0.0;
    let coloured = |end: fn(Interval) -> f64| has_iron_iii.then(|| 100.0 * end(r.coloured_share));
    SheetAcidity {
        temperature_c: r.temperature.in_celsius(),
        ph: r.ph,
        ph_low: r.ph_interval.low,
        ph_high: r.ph_interval.high,
        ionic_strength_mol_per_kg: r.ionic_strength.in_moles_per_kilogram(),
        within_validity: r.within_validity,
        ph_with_pure_water: water.ph_with_pure_water,
        titratable_acid_mmol_per_l: r.titratable_acid.in_millimoles_per_liter(),
        ph_oxidised: r.oxidation.ph_dissolved,
        ph_settled: r.oxidation.ph_settled,
        acid_set_free_mmol_per_l: r.oxidation.acid_set_free.in_millimoles_per_liter(),
        volatile_acid_then_mmol_per_l: r.oxidation.volatile_acid.in_millimoles_per_liter(),
        fixed_acid_then_mmol_per_l: r.oxidation.fixed_acid.in_millimoles_per_liter(),
        iron_ii_with_sulfate_percent: 100.0 * r.iron_ii.sulfate,
        iron_ii_free_percent: 100.0 * r.iron_ii.free,
        iron_iii_coloured_low_percent: coloured(|i| i.low),
        iron_iii_coloured_high_percent: coloured(|i| i.high),
        settles_at_percent: r.settling.as_ref().map(|s| s.oxidised.as_percent()),
        settling: in_state(SolidState::Settles),
        metastable: in_state(SolidState::Metastable),
        settles_first: r.settling.map(|s| s.solid),
        preservatives: kept.iter().map(SheetPreservative::of).collect(),
        constants: r.constants,
    }
}

impl SheetPreservative {
    fn of(state: &PreservativeState) -> SheetPreservative {
        SheetPreservative {
            id: state.component.id(),
            undissociated_percent: state.undissociated.as_percent(),
            effective_g_per_l: state.effective.in_grams_per_liter(),
            usual_g_per_l: state.usual_dose_g_per_l.min,
            enough: state.is_enough(),
        }
    }
}

impl SheetAcidity {
    pub(super) fn write(&self, f: &mut Formatter<'_>) -> Written {
        heading(f, &format!("How acid, at {:.0} °C", self.temperature_c))?;
        row(
            f,
            "pH",
            format!(
                "{:.2}, {:.2} to {:.2} by what is known of the constants",
                self.ph, self.ph_low, self.ph_high
            ),
        )?;
        let by_water = self.ph - self.ph_with_pure_water;
        if by_water.abs() >= 0.01 {
            let words = format!("{by_water:+.2} by the minerals of the water");
            row(f, "  of that", words)?;
        }
        let titratable = format!(
            "{:.0} mmol/L of base to pH 7",
            self.titratable_acid_mmol_per_l
        );
        row(f, "titratable acid", titratable)?;
        if self.iron_ii_free_percent > 0.0 {
            let dissolved = format!("pH {:.1}", self.ph_oxidised);
            let settles = self.acid_set_free_mmol_per_l >= 0.5;
            let words = if settles {
                format!(
                    "{dissolved}, and {:.1} when the pigment has settled",
                    self.ph_settled
                )
            } else {
                format!("{dissolved}, all iron still dissolved")
            };
            row(f, "as air has its way", words)?;
            if settles {
                row(
                    f,
                    "  acid set free by then",
                    format!(
                        "{:.0} mmol/L; of all acid {:.0} can evaporate, {:.0} stay in the paper",
                        self.acid_set_free_mmol_per_l,
                        self.volatile_acid_then_mmol_per_l,
                        self.fixed_acid_then_mmol_per_l
                    ),
                )?;
            }
        }
        self.write_iron(f)?;
        for p in &self.preservatives {
            let verdict = if p.enough { "" } else { ": too little" };
            let words = format!(
                "{:.0} % of it acts, {:.2} g/L, {:.2} is usual at least{verdict}",
                p.undissociated_percent, p.effective_g_per_l, p.usual_g_per_l
            );
            row(f, &p.id.replace('_', " "), words)?;
        }
        if !self.within_validity {
            let words = format!(
                "ionic strength {:.2} mol/kg, beyond the 0.5 to which this is trusted",
                self.ionic_strength_mol_per_kg
            );
            paragraph(f, "  - ", &words)?;
        }
        Ok(())
    }

    fn write_iron(&self, f: &mut Formatter<'_>) -> Written {
        if self.iron_ii_free_percent > 0.0 {
            let words = format!(
                "{:.0} % free, {:.0} % with sulfate",
                self.iron_ii_free_percent, self.iron_ii_with_sulfate_percent
            );
            row(f, "iron(II)", words)?;
        }
        if let (Some(low), Some(high)) = (
            self.iron_iii_coloured_low_percent,
            self.iron_iii_coloured_high_percent,
        ) {
            let words = format!("{low:.0} to {high:.0} % bound to gallic acid and tannin");
            row(f, "iron(III)", words)?;
        }
        for (solids, what) in [
            (&self.settling, "will settle"),
            (
                &self.metastable,
                "too much of it for good, but it may stay away for years",
            ),
        ] {
            if !solids.is_empty() {
                paragraph(f, "  - ", &format!("{}: {what}", solids.join(", ")))?;
            }
        }
        if let (Some(share), Some(solid)) = (self.settles_at_percent, &self.settles_first)
            && share > 0.0
        {
            let words = format!("{solid}, once air has oxidised {share:.0} % of the iron(II)");
            row(f, "settles, pigment apart", words)?;
        }
        Ok(())
    }
}
