//! The coefficients of the rate laws, each with its parent.
//!
//! A standard uncertainty of 0 stands for one coefficient of a fitted law,
//! where the uncertainty belongs to the law as a whole, or for a factor that
//! is an uncertainty itself. Those of hydrolysis are how far tables differ.

use crate::oxidation::constants::constants;
use crate::source::{Constant, Source, Status};

const PHREEQC_DAT: &str = "phreeqc.dat of the U.S. Geological Survey";
const MINTEQ_DAT: &str = "minteq.v4.dat, distributed with PHREEQC by the U.S. Geological Survey";
const WATER: &str =
    "phreeqc.dat of the U.S. Geological Survey, as coded in a public chemistry code";
const EXAMPLE_9: &str = "PHREEQC manual, example 9 (U.S. Geological Survey)";
const SINGER_STUMM: &str = "Singer & Stumm 1970, Science 167:1121, as quoted in two public codes";
const MILLERO: &str = "Millero, Sotolongo & Izaguirre 1987, doi 10.1016/0016-7037(87)90093-7, as coded in two public codes";
const WEHRLI_KING: &str = "Wehrli 1990; King 1998, Environ. Sci. Technol. 32:2997";
const MORGAN_LAHAV: &str = "Morgan & Lahav 2007, Chemosphere 68:2080, constants as quoted on a vendor's page, paper not read";
const SPREAD: &str = "judgement from how far the sources lie apart";

constants! {
    /// log10 of the first hydrolysis constant of iron(II), 25 °C.
    PHREEQC_BETA1, "iron_ii_hydrolysis_phreeqc_log_beta1": -9.5, 0.1, "1", PHREEQC_DAT, Handbook;
    /// log10 of the second overall hydrolysis constant of iron(II), 25 °C.
    PHREEQC_BETA2, "iron_ii_hydrolysis_phreeqc_log_beta2": -20.57, 0.2, "1", PHREEQC_DAT, Handbook;
    /// Enthalpy that goes with [`PHREEQC_BETA1`]: 13.2 kcal/mol.
    PHREEQC_ENTHALPY1, "iron_ii_hydrolysis_phreeqc_enthalpy1": 55.2288, 4.0, "kJ/mol", PHREEQC_DAT, Handbook;
    /// Enthalpy that goes with [`PHREEQC_BETA2`]: 28.565 kcal/mol.
    PHREEQC_ENTHALPY2, "iron_ii_hydrolysis_phreeqc_enthalpy2": 119.51596, 8.0, "kJ/mol", PHREEQC_DAT, Handbook;
    /// log10 of the first hydrolysis constant of iron(II), 25 °C.
    MINTEQ_BETA1, "iron_ii_hydrolysis_minteq_log_beta1": -9.397, 0.1, "1", MINTEQ_DAT, Handbook;
    /// log10 of the second overall hydrolysis constant of iron(II), 25 °C.
    MINTEQ_BETA2, "iron_ii_hydrolysis_minteq_log_beta2": -20.494, 0.2, "1", MINTEQ_DAT, Handbook;
    /// Enthalpy that goes with [`MINTEQ_BETA1`].
    MINTEQ_ENTHALPY1, "iron_ii_hydrolysis_minteq_enthalpy1": 55.81, 4.0, "kJ/mol", MINTEQ_DAT, Handbook;
    /// Enthalpy that goes with [`MINTEQ_BETA2`].
    MINTEQ_ENTHALPY2, "iron_ii_hydrolysis_minteq_enthalpy2": 119.62, 8.0, "kJ/mol", MINTEQ_DAT, Handbook;
    /// log10 of the ion product of water: constant term.
    WATER_0, "ion_product_of_water_0": 293.29227, 0.0, "1", WATER, Secondary;
    /// log10 of the ion product of water: coefficient of T.
    WATER_1, "ion_product_of_water_1": 0.1360833, 0.0, "1/K", WATER, Secondary;
    /// log10 of the ion product of water: coefficient of 1/T.
    WATER_2, "ion_product_of_water_2": -10576.913, 0.0, "K", WATER, Secondary;
    /// log10 of the ion product of water: coefficient of log10 T.
    WATER_3, "ion_product_of_water_3": -123.73158, 0.0, "1", WATER, Secondary;
    /// log10 of the ion product of water: coefficient of T².
    WATER_4, "ion_product_of_water_4": -6.996455e-5, 0.0, "1/K2", WATER, Secondary;
    /// Iron(II) with [OH−]² and the pressure of oxygen, near neutral.
    STUMM_LEE, "iron_oxidation_stumm_lee": 8.0e13, 2.5e13, "L2/(mol2 atm min)",
        "Stumm & Lee 1961; Singer & Stumm 1970, as quoted in public codes; uncertainty from memory", Secondary;
    /// Iron(II) with the pressure of oxygen, in acid.
    PLATEAU_SINGER_STUMM, "iron_oxidation_plateau_singer_stumm": 1.0e-7, 0.5e-7, "1/(atm min)",
        SINGER_STUMM, Secondary;
    /// The acid term of example 9, not multiplied by the pressure of oxygen there.
    EXAMPLE_9_ACID, "iron_oxidation_example_9_acid": 2.91e-9, 0.0, "1/s", EXAMPLE_9, Published;
    /// The term of example 9 in a(OH−)² and the pressure of oxygen.
    EXAMPLE_9_HYDROXIDE, "iron_oxidation_example_9_hydroxide": 1.33e12, 0.0, "L2/(mol2 atm s)",
        EXAMPLE_9, Published;
    /// log10 of the pressure of oxygen in example 9.
    EXAMPLE_9_OXYGEN, "iron_oxidation_example_9_log10_oxygen": -0.67, 0.0, "log10(atm)",
        EXAMPLE_9, Published;
    /// log10 k of Millero's law: constant term.
    MILLERO_0, "iron_oxidation_millero_0": 21.56, 0.0, "log10(L3/(mol3 min))", MILLERO, Secondary;
    /// log10 k of Millero's law: coefficient of 1/T.
    MILLERO_1, "iron_oxidation_millero_1": -1545.0, 0.0, "K", MILLERO, Secondary;
    /// log10 k of Millero's law: coefficient of √I.
    MILLERO_2, "iron_oxidation_millero_2": -3.29, 0.0, "(kg/mol)^0.5", MILLERO, Secondary;
    /// log10 k of Millero's law: coefficient of I.
    MILLERO_3, "iron_oxidation_millero_3": 1.52, 0.0, "kg/mol", MILLERO, Secondary;
    /// Fe2+ with O2: the acid term of example 9 in dissolved oxygen.
    PATHWAY_0, "iron_oxidation_pathway_0": 1.07e-5, 1.0e-5, "L/(mol s)",
        "PHREEQC manual, example 9, over its pressure of oxygen and the Henry constant", Computed;
    /// FeOH+ with O2.
    PATHWAY_1, "iron_oxidation_pathway_1": 25.0, 25.0, "L/(mol s)", WEHRLI_KING, FromMemory;
    /// Fe(OH)2 with O2.
    PATHWAY_2, "iron_oxidation_pathway_2": 7.9e6, 8.0e6, "L/(mol s)", WEHRLI_KING, FromMemory;
    /// Fe2+ in air-saturated water: suspect, see [`IronLaw::MorganLahav`](super::IronLaw).
    MORGAN_LAHAV_0, "iron_oxidation_morgan_lahav_0": 6.0e-5, 6.0e-5, "1/min", MORGAN_LAHAV, Secondary;
    /// FeOH+ in air-saturated water.
    MORGAN_LAHAV_1, "iron_oxidation_morgan_lahav_1": 1.7, 0.9, "1/min", MORGAN_LAHAV, Secondary;
    /// Fe(OH)2 in air-saturated water.
    MORGAN_LAHAV_2, "iron_oxidation_morgan_lahav_2": 4.3e5, 2.2e5, "1/min", MORGAN_LAHAV, Secondary;
    /// How wrong a law may be where the acid term carries it, either way.
    ACID_FACTOR, "iron_oxidation_acid_factor": 10.0, 0.0, "1", SPREAD, ExpertGuess;
    /// How wrong Singer and Stumm's own plateau may be, either way.
    SINGER_STUMM_FACTOR, "iron_oxidation_singer_stumm_factor": 2.0, 0.0, "1", SPREAD, ExpertGuess;
    /// How wrong the constants of the hydroxo species may be, either way.
    SPECIES_FACTOR, "iron_oxidation_species_factor": 5.0, 0.0, "1", SPREAD, ExpertGuess;
    /// How wrong a law in [OH−]² may be in its own range, either way.
    HYDROXIDE_FACTOR, "iron_oxidation_hydroxide_factor": 2.0, 0.0, "1", SPREAD, ExpertGuess;
    /// Activation energy of the hydroxo species: Millero's 29.6 kJ/mol at
    /// constant OH− less the heat of 2 OH− binding to iron(II), 7.9 kJ/mol.
    SPECIES_ACTIVATION, "iron_oxidation_species_activation": 21.7, 10.0, "kJ/mol",
        "Millero et al. 1987 and the heats of phreeqc.dat, carried over to single species", ExpertGuess;
    /// Ascorbic acid (not its ion) with oxygen and iron(III) as catalyst.
    ASCORBIC_ACID, "ascorbic_acid_oxygen_iron_iii": 5.7e4, 2.9e4, "L2/(mol2 s)",
        "Shen et al. 2021, Sci. Rep. 11, doi 10.1038/s41598-021-86477-8, abstract; uncertainty is judgement", Published;
}
