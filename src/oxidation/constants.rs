//! The physical coefficients of the room, each with its parent.
//!
//! A standard uncertainty of 0 stands for an exact count, or for one
//! coefficient of a fitted equation whose uncertainty belongs to the equation
//! as a whole (saturation about 0.1 %, diffusion about 1 %).

use crate::source::{Constant, Source, Status};

/// Molar gas constant, J/(mol K).
pub(super) const GAS_CONSTANT: f64 = crate::chem::constants::GAS_CONSTANT.value;
/// Standard atmosphere, Pa: exact by definition.
pub(super) const ATM: f64 = 101_325.0;
/// Seconds in a day.
pub(super) const DAY: f64 = 86_400.0;
/// Seconds in a Julian year.
pub(super) const YEAR: f64 = 365.25 * DAY;

macro_rules! constants {
    ($($(#[$doc:meta])* $name:ident, $id:literal: $value:literal, $u:literal, $unit:literal,
       $citation:expr, $status:ident;)*) => {
        $($(#[$doc])* pub(super) const $name: Constant = Constant {
            id: $id,
            value: $value,
            u: $u,
            unit: $unit,
            source: Source::new($citation, Status::$status),
        };)*

        pub(crate) const CONSTANTS: &[&Constant] = &[$(&$name),*];
    };
}

pub(super) use constants;

const BENSON_KRAUSE: &str = "Benson & Krause 1984, Limnology and Oceanography 29:620, as coded in two public water-quality codes";
const GREEN_CARRITT: &str =
    "Green & Carritt 1967, J. Marine Research 25:140, as coded in a public water-quality code";

constants! {
    /// Mole fraction of O₂ in dry air.
    OXYGEN_IN_DRY_AIR, "oxygen_in_dry_air": 0.20946, 0.00002, "mol/mol",
        "U.S. Standard Atmosphere 1976 composition of dry air, as used in public water-quality codes", Secondary;
    /// Molar mass of O₂ used in the stoichiometry.
    OXYGEN_MOLAR_MASS, "oxygen_molar_mass": 31.998, 0.0006, "g/mol",
        "IUPAC 2021 abridged standard atomic weights", Published;
    /// Molar mass that turns the mg/L of the 1984 equation into mol/L.
    OXYGEN_MOLAR_MASS_1984, "oxygen_molar_mass_1984": 31.9988, 0.0006, "g/mol",
        "Benson & Krause 1984: the molar mass their mg/L refer to", Secondary;
    /// Volume of a mole of gas in permeability units.
    STP_MOLAR_VOLUME, "stp_molar_volume": 22414.0, 1.0, "cm3/mol",
        "ideal gas at 0 degC and 1 atm, as permeability tables use it", Computed;
    /// Iron(II) per O₂ when iron takes all four electrons.
    NU_MAX, "oxygen_nu_max": 4.0, 0.0, "mol Fe/mol O2",
        "4 Fe2+ + O2 + 4 H+ -> 4 Fe3+ + 2 H2O", Computed;
    /// Iron(II) per O₂ when something else takes the peroxide.
    NU_MIN, "oxygen_nu_min": 2.0, 0.0, "mol Fe/mol O2",
        "organics or sulfite take the peroxide: Danilewicz 2021, abstract", Published;
    /// Acid used per iron(II) while the iron(III) stays free in solution.
    ACID_USED_IN_SOLUTION, "oxidation_acid_used_in_solution": 1.0, 0.0, "mol H+/mol Fe",
        "4 Fe2+ + O2 + 4 H+ -> 4 Fe3+ + 2 H2O", Computed;
    /// Acid released per iron(II) when the iron(III) falls as hydroxide. A
    /// gallate complex lies between the two: that is for the speciation.
    ACID_RELEASED_BY_HYDROXIDE, "oxidation_acid_released_by_hydroxide": 2.0, 0.0, "mol H+/mol Fe",
        "4 Fe2+ + O2 + 10 H2O -> 4 Fe(OH)3 + 8 H+", Computed;
    /// Saturation, ln(mg/L): coefficient of T^-0.
    SATURATION_0, "oxygen_saturation_0": -139.34411, 0.0, "1",
        BENSON_KRAUSE, Secondary;
    /// Saturation, ln(mg/L): coefficient of T^-1.
    SATURATION_1, "oxygen_saturation_1": 1.575701e5, 0.0, "K",
        BENSON_KRAUSE, Secondary;
    /// Saturation, ln(mg/L): coefficient of T^-2.
    SATURATION_2, "oxygen_saturation_2": -6.642308e7, 0.0, "K2",
        BENSON_KRAUSE, Secondary;
    /// Saturation, ln(mg/L): coefficient of T^-3.
    SATURATION_3, "oxygen_saturation_3": 1.2438e10, 0.0, "K3",
        BENSON_KRAUSE, Secondary;
    /// Saturation, ln(mg/L): coefficient of T^-4.
    SATURATION_4, "oxygen_saturation_4": -8.621949e11, 0.0, "K4",
        BENSON_KRAUSE, Secondary;
    /// Saturation, ln(mg/L) per g/kg of sea salt: coefficient of T^-0.
    SATURATION_SALINITY_0, "oxygen_saturation_salinity_0": -0.017674, 0.0, "kg/g",
        BENSON_KRAUSE, Secondary;
    /// Saturation, ln(mg/L) per g/kg of sea salt: coefficient of T^-1.
    SATURATION_SALINITY_1, "oxygen_saturation_salinity_1": 10.754, 0.0, "K kg/g",
        BENSON_KRAUSE, Secondary;
    /// Saturation, ln(mg/L) per g/kg of sea salt: coefficient of T^-2.
    SATURATION_SALINITY_2, "oxygen_saturation_salinity_2": -2140.7, 0.0, "K2 kg/g",
        BENSON_KRAUSE, Secondary;
    /// Second virial term of the pressure formula: coefficient of t^0, t in °C.
    NON_IDEALITY_0, "oxygen_non_ideality_0": 0.000975, 0.0, "1/atm",
        BENSON_KRAUSE, Secondary;
    /// Second virial term of the pressure formula: coefficient of t^1, t in °C.
    NON_IDEALITY_1, "oxygen_non_ideality_1": -1.426e-5, 0.0, "1/(atm K)",
        BENSON_KRAUSE, Secondary;
    /// Second virial term of the pressure formula: coefficient of t^2, t in °C.
    NON_IDEALITY_2, "oxygen_non_ideality_2": 6.436e-8, 0.0, "1/(atm K2)",
        BENSON_KRAUSE, Secondary;
    /// Water vapour pressure: the reference temperature.
    VAPOR_BOILING, "oxygen_vapor_boiling": 373.16, 0.0, "K",
        GREEN_CARRITT, Secondary;
    /// Water vapour pressure: a coefficient.
    VAPOR_A, "oxygen_vapor_a": 18.1973, 0.0, "1",
        GREEN_CARRITT, Secondary;
    /// Water vapour pressure: a coefficient.
    VAPOR_B, "oxygen_vapor_b": 3.1813e-7, 0.0, "1",
        GREEN_CARRITT, Secondary;
    /// Water vapour pressure: a coefficient.
    VAPOR_B_EXP, "oxygen_vapor_b_exp": 26.1205, 0.0, "1",
        GREEN_CARRITT, Secondary;
    /// Water vapour pressure: a coefficient.
    VAPOR_C, "oxygen_vapor_c": -1.8726e-2, 0.0, "1",
        GREEN_CARRITT, Secondary;
    /// Water vapour pressure: a coefficient.
    VAPOR_C_EXP, "oxygen_vapor_c_exp": 8.03945, 0.0, "1",
        GREEN_CARRITT, Secondary;
    /// Water vapour pressure: a coefficient.
    VAPOR_D, "oxygen_vapor_d": 5.02802, 0.0, "1",
        GREEN_CARRITT, Secondary;
    /// Water vapour pressure: lowering per g/kg of sea salt.
    VAPOR_SALINITY, "oxygen_vapor_salinity": 5.370e-4, 0.0, "kg/g",
        GREEN_CARRITT, Secondary;
    /// Diffusion of O₂ in water, log10(cm²/s): constant term.
    DIFFUSION_0, "oxygen_diffusion_0": -4.410, 0.0, "1",
        "Han & Bartels 1996, J. Phys. Chem. 100:5597, abstract", Published;
    /// Diffusion of O₂ in water, log10(cm²/s): coefficient of 1/T.
    DIFFUSION_1, "oxygen_diffusion_1": 773.8, 0.0, "K",
        "Han & Bartels 1996, J. Phys. Chem. 100:5597, abstract", Published;
    /// Diffusion of O₂ in water, log10(cm²/s): root of the coefficient of 1/T².
    DIFFUSION_2, "oxygen_diffusion_2": 506.4, 0.0, "K",
        "Han & Bartels 1996, J. Phys. Chem. 100:5597, abstract", Published;
    /// Pressure at altitude: relative lapse.
    ALTITUDE_LAPSE, "oxygen_altitude_lapse": 2.25577e-5, 0.0, "1/m",
        "standard atmosphere ISO 2533", FromMemory;
    /// Pressure at altitude: exponent.
    ALTITUDE_POWER, "oxygen_altitude_power": 5.25588, 0.0, "1",
        "standard atmosphere ISO 2533", FromMemory;
    /// Gas transfer, warmer by a kelvin; Downing & Truesdale 1955 (abstract)
    /// found 2.37 %.
    TRANSFER_PER_KELVIN, "oxygen_transfer_per_kelvin": 1.024, 0.002, "1",
        "the common rule 1.024^(t - 20)", CommonPractice;
    /// Change of the O₂ salting-out parameter with temperature.
    SALTING_TEMPERATURE, "oxygen_salting_temperature": -3.34e-4, 0.0, "L/(mol K)",
        "Weisenberger & Schumpe 1996, AIChE J. 42:298, as coded in a public biochemistry code", Secondary;
}
