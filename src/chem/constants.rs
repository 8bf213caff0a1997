//! Physical constants and the few molar masses that every room uses.

use crate::source::{Constant, Source, Status};

/// Molar gas constant.
pub(crate) const GAS_CONSTANT: Constant = Constant {
    id: "gas_constant",
    value: 8.314_462_618_153_24,
    u: 0.0,
    unit: "J/(mol K)",
    source: Source::new("exact in the SI of 2019", Status::Computed),
};

/// Name, id, formula, kg/mol and standard uncertainty.
macro_rules! molar_masses {
    ($($name:ident, $id:literal, $formula:literal, $value:literal, $u:literal;)*) => {
        $(
            #[doc = concat!("kg/mol of ", $formula, ".")]
            pub(crate) const $name: f64 = $value;
        )*

        pub(crate) const MOLAR_MASSES: &[&Constant] = &[$(&Constant {
            id: $id,
            value: $value,
            u: $u,
            unit: "kg/mol",
            source: Source::new(
                concat!("computed for ", $formula, " from the IUPAC 2021 abridged atomic weights"),
                Status::Computed,
            ),
        }),*];

        #[cfg(test)]
        const FORMULAS: &[&str] = &[$($formula),*];
    };
}

molar_masses! {
    IRON, "molar_mass_iron", "Fe", 0.055_845, 0.000_002;
    WATER, "molar_mass_water", "H2O", 0.018_015, 0.000_001_1;
    HYDROGEN, "molar_mass_hydrogen", "H2", 0.002_016, 0.000_000_4;
    IRON_II_SULFATE, "molar_mass_iron_ii_sulfate", "FeSO4", 0.151_901, 0.000_020_5;
    IRON_II_CHLORIDE, "molar_mass_iron_ii_chloride", "FeCl2", 0.126_745, 0.000_020_1;
    GREEN_VITRIOL, "molar_mass_green_vitriol", "FeSO4·7H2O", 0.278_006, 0.000_023_1;
    GALLIC_ACID, "molar_mass_gallic_acid", "C7H6O5", 0.170_120, 0.000_014_9;
    TANNIC_ACID, "molar_mass_tannic_acid", "C76H52O46", 1.701_206, 0.000_159;
    HYDROGEN_CHLORIDE, "molar_mass_hydrogen_chloride", "HCl", 0.036_458, 0.000_010;
    SULFURIC_ACID, "molar_mass_sulfuric_acid", "H2SO4", 0.098_072, 0.000_020_4;
    PHENOL, "molar_mass_phenol", "C6H6O", 0.094_113, 0.000_012_1;
    TARTARIC_ACID, "molar_mass_tartaric_acid", "C4H6O6", 0.150_086, 0.000_010_1;
    CALCIUM_CARBONATE, "molar_mass_calcium_carbonate", "CaCO3", 0.100_086, 0.000_005_4;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chem::Formula;

    #[test]
    fn every_molar_mass_is_that_of_its_formula() -> Result<(), crate::chem::FormulaError> {
        for (constant, formula) in MOLAR_MASSES.iter().zip(FORMULAS) {
            let parsed = Formula::parse(formula)?;
            // Sums of decimal fractions: a few units in the last place.
            approx::assert_relative_eq!(
                parsed.molar_mass().value,
                constant.value,
                max_relative = 1e-14
            );
            // The uncertainties are given to two or three digits.
            approx::assert_relative_eq!(
                parsed.molar_mass_u().value,
                constant.u,
                max_relative = 0.03
            );
        }
        Ok(())
    }
}
