//! The caller's error struct, and the way of the rooms' errors into it.

use super::guard::versioned;
use super::status::*;
use super::strings::fixed;
use crate::bench::LotError;
use crate::chem::{ChemError, FormulaError};
use crate::equilibrium::EquilibriumError;
use crate::formulate::{FormulateError, ProgramError};
use crate::json::JsonError;
use crate::oxidation::OxidationError;
use crate::quantity::{MAX_MASS_KG, MAX_VOLUME_M3, Mass, OutOfRange, Volume, within};
use crate::recipe::{RecipeError, SheetError};
use core::ffi::c_char;
use core::mem::size_of;

/// What went wrong, in memory of the caller's.
///
/// Every function that can fail takes one as its last argument; NULL if you do
/// not want to know. It is written on success too (status FGALL_OK, empty
/// texts), so one may serve many calls, of one thread at a time.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallError {
    /// sizeof(FgallError), filled in by the caller.
    pub struct_size: usize,
    /// The status that the function returned.
    pub status: FgallStatus,
    /// The offending number as it was given; NaN if it was NaN or if no number
    /// is to blame.
    pub value: f64,
    /// Name of the offending argument, field, lot or quantity; may be empty.
    /// UTF-8, cut at a character if too long, NUL at the end.
    pub argument: [c_char; 64],
    /// What is wrong, in English. UTF-8, cut at a character if too long, NUL
    /// at the end.
    pub message: [c_char; 256],
}
versioned!(FgallError);

impl FgallError {
    pub(super) fn of(failure: Option<Failure>) -> FgallError {
        let failure = failure.unwrap_or_else(|| Failure {
            status: FGALL_OK,
            argument: String::new(),
            value: f64::NAN,
            message: String::new(),
        });
        FgallError {
            struct_size: size_of::<FgallError>(),
            status: failure.status,
            value: failure.value,
            argument: fixed(&failure.argument),
            message: fixed(&failure.message),
        }
    }
}

/// Why an entry has no result.
#[derive(Debug)]
pub(super) struct Failure {
    pub(super) status: FgallStatus,
    pub(super) argument: String,
    pub(super) value: f64,
    pub(super) message: String,
}

pub(super) type Outcome<T> = Result<T, Failure>;

impl Failure {
    /// `argument` is put before the message when there is one.
    pub(super) fn new(status: FgallStatus, argument: &str, message: &str) -> Failure {
        let message = match argument {
            "" => message.to_string(),
            name => format!("{name} {message}"),
        };
        Failure {
            status,
            argument: argument.to_string(),
            value: f64::NAN,
            message,
        }
    }

    pub(super) fn with_value(mut self, value: f64) -> Failure {
        self.value = value;
        self
    }

    pub(super) fn of(
        status: FgallStatus,
        argument: &str,
        value: f64,
        error: &dyn core::fmt::Display,
    ) -> Failure {
        Failure {
            status,
            argument: argument.to_string(),
            value,
            message: error.to_string(),
        }
    }
}

/// An index that is not below the count.
pub(super) fn no_such_index(name: &str, index: usize, count: usize) -> Failure {
    let text = format!("= {index} is not below the count, {count}");
    Failure::new(FGALL_NO_SUCH_INDEX, name, &text).with_value(index as f64)
}

/// A name that nothing has.
pub(super) fn unknown_name(argument: &str, name: &str) -> Failure {
    Failure::new(
        FGALL_UNKNOWN_NAME,
        argument,
        &format!("= {name:?} is not known"),
    )
}

/// Says which argument of the C function is to blame for a range error.
pub(super) trait Blame<T> {
    /// The error, if it is one of range, is about this argument.
    fn arg(self, name: &str, value: f64) -> Outcome<T>;
    /// The same of a value and its standard uncertainty: whichever it is about.
    fn arg_with_u(self, value: (&str, f64), u: (&str, f64)) -> Outcome<T>;
    /// The same with several: (name in the Rust error, argument, value).
    fn arg_of(self, arguments: &[(&str, &str, f64)]) -> Outcome<T>;
}

impl<T, E: Into<Failure>> Blame<T> for Result<T, E> {
    fn arg(self, name: &str, value: f64) -> Outcome<T> {
        self.map_err(|e| Into::<Failure>::into(e).about(name, value))
    }

    fn arg_with_u(self, value: (&str, f64), u: (&str, f64)) -> Outcome<T> {
        self.map_err(|e| {
            let failure: Failure = e.into();
            let of_u = failure.argument == "standard uncertainty";
            let (name, number) = if of_u { u } else { value };
            failure.about(name, number)
        })
    }

    fn arg_of(self, arguments: &[(&str, &str, f64)]) -> Outcome<T> {
        self.map_err(|e| {
            let mut failure = e.into();
            if let Some((_, name, value)) = arguments
                .iter()
                .find(|(what, ..)| *what == failure.argument)
            {
                failure.argument = (*name).to_string();
                failure.value = *value;
            }
            failure
        })
    }
}

impl Failure {
    /// An error of range, said to be about this argument.
    fn about(mut self, name: &str, value: f64) -> Failure {
        if matches!(self.status, FGALL_OUT_OF_RANGE | FGALL_INPUT_NAN) {
            self.argument = name.to_string();
            self.value = value;
        }
        self
    }
}

/// A mass argument in grams.
pub(super) fn mass(name: &'static str, mass_g: f64) -> Outcome<Mass> {
    let g = within(name, mass_g, 0.0, MAX_MASS_KG * 1e3, "g")?;
    Ok(crate::quantity::grams(g))
}

/// A volume argument in millilitres.
pub(super) fn volume(name: &'static str, volume_ml: f64) -> Outcome<Volume> {
    let ml = within(name, volume_ml, 0.0, MAX_VOLUME_M3 * 1e6, "mL")?;
    Ok(crate::quantity::milliliters(ml))
}

impl From<OutOfRange> for Failure {
    fn from(e: OutOfRange) -> Failure {
        let status = if e.value.is_nan() {
            FGALL_INPUT_NAN
        } else {
            FGALL_OUT_OF_RANGE
        };
        Failure::of(status, e.what, e.value, &e)
    }
}

impl From<FormulaError> for Failure {
    fn from(e: FormulaError) -> Failure {
        Failure::of(FGALL_BAD_FORMULA, "formula", e.position as f64, &e)
    }
}

impl From<ChemError> for Failure {
    fn from(e: ChemError) -> Failure {
        let (status, argument, value) = match e {
            ChemError::OutOfRange(range) => return range.into(),
            ChemError::TooConcentrated { percent, .. } => {
                (FGALL_NOT_COVERED, "mass_percent", percent)
            }
            ChemError::TemperatureNotCovered { celsius, .. } => {
                (FGALL_NOT_COVERED, "temperature_c", celsius)
            }
            ChemError::NoSuchDensity { g_per_cm3, .. } => {
                (FGALL_NOT_COVERED, "density_g_per_cm3", g_per_cm3)
            }
            ChemError::NotInvertible { g_per_cm3, .. } => {
                (FGALL_NOT_INVERTIBLE, "density_g_per_cm3", g_per_cm3)
            }
        };
        Failure::of(status, argument, value, &e)
    }
}

impl From<LotError> for Failure {
    fn from(e: LotError) -> Failure {
        let (status, argument, value) = match &e {
            LotError::UnknownMaterial { .. } => (FGALL_UNKNOWN_NAME, "material", f64::NAN),
            LotError::DoesNotApply { setting, .. } => (FGALL_DOES_NOT_APPLY, *setting, f64::NAN),
            LotError::MoreThanWhole { sum, .. } => (FGALL_MORE_THAN_WHOLE, "sum of parts", *sum),
            LotError::NoDensity { name } => (FGALL_NO_DENSITY, name.as_str(), f64::NAN),
            LotError::OutOfRange(range) => return (*range).into(),
            LotError::Formula(formula) => return (*formula).into(),
            LotError::Chem(chem) => return (*chem).into(),
        };
        Failure::of(status, argument, value, &e)
    }
}

impl From<RecipeError> for Failure {
    fn from(e: RecipeError) -> Failure {
        let (status, argument, value) = match &e {
            RecipeError::Empty => (FGALL_EMPTY, "", f64::NAN),
            RecipeError::NoPartMass { lot } => (FGALL_NO_PART_MASS, lot.as_str(), f64::NAN),
            RecipeError::NeedsExtraction { lot } => {
                (FGALL_NEEDS_EXTRACTION, lot.as_str(), f64::NAN)
            }
            RecipeError::NotAPlant { lot } => (FGALL_NOT_A_PLANT, lot.as_str(), f64::NAN),
            RecipeError::NotALiquid { lot } => (FGALL_NOT_A_LIQUID, lot.as_str(), f64::NAN),
            RecipeError::TooManyIngredients { count, .. } => {
                (FGALL_TOO_MANY_INGREDIENTS, "ingredients", *count as f64)
            }
            RecipeError::TooFewColumns { count, .. } => {
                (FGALL_OUT_OF_RANGE, "columns", *count as f64)
            }
            RecipeError::TooMuchForVolume {
                solution, have_ml, ..
            } => (FGALL_TOO_MUCH_FOR_VOLUME, solution.as_str(), *have_ml),
            RecipeError::NotEnoughStock {
                solution, want_ml, ..
            } => (FGALL_NOT_ENOUGH_STOCK, solution.as_str(), *want_ml),
            RecipeError::NoSuchLot { name } => (FGALL_UNKNOWN_NAME, name.as_str(), f64::NAN),
            RecipeError::TooManyColumns { count, .. } => {
                (FGALL_TOO_MANY_COLUMNS, "lot_count", *count as f64)
            }
            RecipeError::OutOfRange(range) => return (*range).into(),
            RecipeError::Amount { error, .. } => return (*error).into(),
            RecipeError::Lot(lot) => return lot.clone().into(),
        };
        Failure::of(status, argument, value, &e)
    }
}

impl From<FormulateError> for Failure {
    fn from(e: FormulateError) -> Failure {
        let (status, argument, value) = match &e {
            FormulateError::NoLotFor { target } => (FGALL_NO_LOT_FOR_TARGET, *target, f64::NAN),
            FormulateError::NoTargetFor { lot, .. } => {
                (FGALL_NO_TARGET_FOR_LOT, lot.as_str(), f64::NAN)
            }
            FormulateError::Undetermined { target } => (FGALL_UNDETERMINED, *target, f64::NAN),
            FormulateError::TooMuch { lot, mass_g, .. } => {
                (FGALL_OUT_OF_RANGE, lot.as_str(), *mass_g)
            }
            FormulateError::LessThanNothing { lot, mass_g, .. } => {
                (FGALL_LESS_THAN_NOTHING, lot.as_str(), *mass_g)
            }
            FormulateError::NothingToMatch { lot, .. } => {
                (FGALL_NOTHING_TO_MATCH, lot.as_str(), f64::NAN)
            }
            FormulateError::NameTaken { lot } => (FGALL_NAME_TAKEN, lot.as_str(), f64::NAN),
            FormulateError::NotLinear { goal } => (FGALL_NOT_LINEAR, *goal, f64::NAN),
            FormulateError::NothingLimits => (FGALL_NOTHING_LIMITS, "", f64::NAN),
            FormulateError::Program(program) => return program.clone().into(),
            FormulateError::Equilibrium(equilibrium) => return equilibrium.clone().into(),
            FormulateError::OutOfRange(range) => return (*range).into(),
            FormulateError::Lot(lot) => return lot.clone().into(),
            FormulateError::Recipe(recipe) => return recipe.clone().into(),
        };
        Failure::of(status, argument, value, &e)
    }
}

impl From<ProgramError> for Failure {
    fn from(e: ProgramError) -> Failure {
        let status = match e {
            ProgramError::OutOfRange(range) => return range.into(),
            ProgramError::Infeasible => FGALL_INFEASIBLE,
            ProgramError::Unbounded
            | ProgramError::NotSolved { .. }
            | ProgramError::Term { .. } => FGALL_NO_OPTIMUM,
        };
        Failure::of(status, "", f64::NAN, &e)
    }
}

impl From<OxidationError> for Failure {
    fn from(e: OxidationError) -> Failure {
        match e {
            OxidationError::OutOfRange(range) => range.into(),
            OxidationError::TemperaturesSwapped { low_c, .. } => {
                Failure::of(FGALL_OUT_OF_RANGE, "low_c", low_c, &e)
            }
            OxidationError::EventsOutOfOrder { at_s, .. } => {
                Failure::of(FGALL_OUT_OF_ORDER, "events", at_s, &e)
            }
            OxidationError::TimesOutOfOrder { at_s, .. } => {
                Failure::of(FGALL_OUT_OF_ORDER, "times", at_s, &e)
            }
            OxidationError::NoComposition => Failure::of(FGALL_UNDETERMINED, "ink", f64::NAN, &e),
            OxidationError::Equilibrium(equilibrium) => equilibrium.into(),
            OxidationError::Unsolved { at_s, .. } => Failure::of(FGALL_NOT_FOLLOWED, "", at_s, &e),
        }
    }
}

impl From<SheetError> for Failure {
    fn from(e: SheetError) -> Failure {
        match e {
            SheetError::Recipe(recipe) => recipe.into(),
            SheetError::Formulate(formulate) => formulate.into(),
            SheetError::Oxidation(oxidation) => oxidation.into(),
        }
    }
}

impl From<EquilibriumError> for Failure {
    fn from(e: EquilibriumError) -> Failure {
        let (status, argument, value) = match &e {
            EquilibriumError::OutOfRange(range) => return (*range).into(),
            EquilibriumError::Equation { .. } => (FGALL_BAD_EQUATION, "equation", f64::NAN),
            EquilibriumError::UnknownSpecies { .. } => (FGALL_UNKNOWN_NAME, "species", f64::NAN),
            EquilibriumError::NoWater => (FGALL_NO_WATER, "", f64::NAN),
            EquilibriumError::Plant { lot } => (FGALL_NEEDS_EXTRACTION, lot.as_str(), f64::NAN),
            EquilibriumError::Unreachable { ph, .. } => (FGALL_UNREACHABLE, "ph", *ph),
            EquilibriumError::TooManySpecies { count } => {
                (FGALL_TOO_MANY_SPECIES, "", *count as f64)
            }
            // How far off it is, if that is a number.
            EquilibriumError::NotSolved { residual } if residual.is_finite() => {
                (FGALL_NOT_SOLVED, "", *residual)
            }
            EquilibriumError::NotSolved { .. } => (FGALL_NOT_SOLVED, "", f64::NAN),
        };
        Failure::of(status, argument, value, &e)
    }
}

impl From<JsonError> for Failure {
    fn from(e: JsonError) -> Failure {
        let (status, argument, value) = match &e {
            JsonError::Syntax { line, .. } => (FGALL_BAD_JSON, "json", *line as f64),
            JsonError::Schema { schema } => (FGALL_BAD_JSON, "schema", f64::from(*schema)),
            JsonError::NoSuchLot { name } => (FGALL_UNKNOWN_NAME, name.as_str(), f64::NAN),
            JsonError::TwoLots { name } => (FGALL_BAD_JSON, name.as_str(), f64::NAN),
            JsonError::ExactlyOne { place, .. } => (FGALL_BAD_JSON, place.as_str(), f64::NAN),
            JsonError::UnknownWord { field, .. } => (FGALL_FOREIGN_VALUE, *field, f64::NAN),
            JsonError::InLot { lot, error } => {
                let mut failure = Failure::from((**error).clone());
                failure.message = format!("lot {lot:?}: {}", failure.message);
                return failure;
            }
            JsonError::OutOfRange(range) => return (*range).into(),
            JsonError::Lot(lot) => return lot.clone().into(),
            JsonError::Formulate(formulate) => return formulate.clone().into(),
            JsonError::Recipe(recipe) => return recipe.clone().into(),
            JsonError::Extraction(extraction) => return extraction.clone().into(),
            JsonError::Oxidation(oxidation) => return oxidation.clone().into(),
            JsonError::Sheet(sheet) => return sheet.clone().into(),
        };
        Failure::of(status, argument, value, &e)
    }
}
