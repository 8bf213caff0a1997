//! How sure a recipe is: every bag, soak and weighing as a named source.

use super::bench::FGALL_NAME_BYTES;
use super::error::{Blame, Failure, FgallError, Outcome, no_such_index};
use super::guard::{
    foreign, guard, handle, handle_mut, known_bits, out, out_struct, read_struct, versioned,
};
use super::recipe::FgallRecipe;
use super::rounding::{FgallKit, kit_if_given};
use super::status::*;
use super::strings::{deliver, fixed, text};
use crate::uncertainty::{Distribution, Remedy, Study, UncertaintyError};
use core::ffi::c_char;
use core::mem::size_of;

/// A recipe with all that is not known of it. It holds copies of the recipe and
/// its lots and outlives them; what becomes of the recipe later is not in it. A
/// call that fails leaves it as it was.
pub struct FgallStudy {
    pub(super) study: Study,
}

/// What narrows a source: a spot test or a titration of the extract, or the
/// weight of its dry residue.
pub const FGALL_REMEDY_TEST_EXTRACT: u32 = 1;
/// What narrows a source: a titration of the iron(II) in the salt.
pub const FGALL_REMEDY_TITRATE_SALT: u32 = 2;
/// What narrows a source: drying a weighed sample.
pub const FGALL_REMEDY_DRY_SAMPLE: u32 = 3;
/// What narrows a source: the density of the acid, or its titration.
pub const FGALL_REMEDY_MEASURE_ACID: u32 = 4;
/// What narrows a source: weighing the wet marc.
pub const FGALL_REMEDY_WEIGH_MARC: u32 = 5;
/// What narrows a source: a finer balance, or a larger batch.
pub const FGALL_REMEDY_FINER_BALANCE: u32 = 6;
/// What narrows a source: an assay of the stock solution.
pub const FGALL_REMEDY_ASSAY_STOCK: u32 = 7;
/// A test of the water, or distilled water.
pub const FGALL_REMEDY_TEST_WATER: u32 = 8;

const REMEDIES: [(u32, Remedy); 8] = [
    (FGALL_REMEDY_TEST_EXTRACT, Remedy::TestExtract),
    (FGALL_REMEDY_TITRATE_SALT, Remedy::TitrateSalt),
    (FGALL_REMEDY_DRY_SAMPLE, Remedy::DrySample),
    (FGALL_REMEDY_MEASURE_ACID, Remedy::MeasureAcid),
    (FGALL_REMEDY_WEIGH_MARC, Remedy::WeighMarc),
    (FGALL_REMEDY_FINER_BALANCE, Remedy::FinerBalance),
    (FGALL_REMEDY_ASSAY_STOCK, Remedy::AssayStock),
    (FGALL_REMEDY_TEST_WATER, Remedy::TestWater),
];

impl FgallStudy {
    fn boxed(study: Study) -> *mut FgallStudy {
        Box::into_raw(Box::new(FgallStudy { study }))
    }

    pub(super) fn count(&self) -> usize {
        self.study.sources().count()
    }

    /// Place of a source among the others.
    pub(super) fn place(&self, name: &str) -> usize {
        let mut names = self.study.sources().map(|(name, _)| name);
        names.position(|n| n == name).unwrap_or(usize::MAX)
    }

    pub(super) fn remedy(&self, name: &str) -> u32 {
        let remedy = self.study.remedy(name);
        let known = REMEDIES.iter().find(|(_, r)| Some(*r) == remedy);
        known.map_or(0, |(code, _)| *code)
    }

    fn source(&self, index: usize) -> Outcome<(&str, Distribution)> {
        let source = self.study.sources().nth(index);
        source.ok_or_else(|| no_such_index("index", index, self.count()))
    }
}

/// The study of a recipe. With a `kit`, which may be NULL, every weighing and
/// filling up is a source of its own; without one they are exact.
/// fgall_study_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_new(
    recipe: *const FgallRecipe,
    kit: *const FgallKit,
    study: *mut *mut FgallStudy,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let kit = kit_if_given(kit)?;
            let slot = out(study, "study")?;
            let mut made = Study::of(&recipe.recipe)?;
            if let Some(kit) = kit {
                made = made.weighed_with(&kit)?;
            }
            slot.put(FgallStudy::boxed(made));
            Ok(())
        })
    }
}

/// A copy of a study, with a life of its own; fgall_study_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_copy_new(
    study: *const FgallStudy,
    copy: *mut *mut FgallStudy,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            out(copy, "copy")?.put(FgallStudy::boxed(study.study.clone()));
            Ok(())
        })
    }
}

/// Frees a study; NULL does nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_free(study: *mut FgallStudy) {
    if !study.is_null() {
        // SAFETY: from a _new function and not freed, by the caller's promise.
        drop(unsafe { Box::from_raw(study) });
    }
}

/// Number of sources of a study, exact ones included.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_source_count(
    study: *const FgallStudy,
    count: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            out(count, "count")?.put(study.count());
            Ok(())
        })
    }
}

/// One thing that is not known exactly, and what is known of it.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallStudySource {
    /// sizeof(FgallStudySource), filled in by the caller.
    pub struct_size: usize,
    /// Its name, such as "galls: tannin"; all of it through
    /// fgall_study_source_name.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// Unit of the four figures: "kg" and "m3" for by how much a weighing and a
    /// filling up are off, "mol/kg" for galloyl per tannin, "kg/m3" for the
    /// alkalinity and hardness of a water (as CaCO3); empty for ratios.
    pub unit: [c_char; FGALL_NAME_BYTES],
    /// What stands for it where it is not drawn.
    pub estimate: f64,
    /// Standard uncertainty (k = 1); 0 for what is taken as exact.
    pub u: f64,
    /// Low end of the interval that holds 95 %.
    pub low: f64,
    /// High end of it.
    pub high: f64,
    /// What narrows it: FGALL_REMEDY_…
    pub remedy: u32,
}
versioned!(FgallStudySource);

/// The source at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_source(
    study: *const FgallStudy,
    index: usize,
    source: *mut FgallStudySource,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let slot = out_struct(source, "source")?;
            let (name, known) = study.source(index)?;
            let unit = match study.study.source_unit(name) {
                Some("1") | None => "",
                Some(unit) => unit,
            };
            slot.put(FgallStudySource {
                struct_size: size_of::<FgallStudySource>(),
                name: fixed(name),
                unit: fixed(unit),
                estimate: known.estimate(),
                u: known.standard_uncertainty(),
                low: known.quantile(0.025),
                high: known.quantile(0.975),
                remedy: study.remedy(name),
            });
            Ok(())
        })
    }
}

/// The name of the source at an index below the count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_source_name(
    study: *const FgallStudy,
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let (name, _) = handle(study, "study")?.source(index)?;
            deliver(name, buffer, capacity, needed)
        })
    }
}

/// A remedy in words, such as "drying a weighed sample".
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_remedy_text(
    remedy: u32,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let known = REMEDIES.iter().find(|(code, _)| *code == remedy);
            let (_, words) = known.ok_or_else(|| foreign(remedy, "remedy"))?;
            deliver(&words.to_string(), buffer, capacity, needed)
        })
    }
}

/// A shape: a is the value, taken as exact; b is not read.
pub const FGALL_SHAPE_EXACT: u32 = 1;
/// A shape: normal, a is the mean and b its standard uncertainty (k = 1).
pub const FGALL_SHAPE_NORMAL: u32 = 2;
/// A shape: known to a factor, a is the median and b, 0 to 20, the standard
/// uncertainty of its natural logarithm.
pub const FGALL_SHAPE_LOG_NORMAL: u32 = 3;
/// A shape: anywhere from a to b.
pub const FGALL_SHAPE_RECTANGULAR: u32 = 4;
/// A shape: from a to b, the middle likelier than the ends.
pub const FGALL_SHAPE_TRIANGULAR: u32 = 5;

/// Bit of FgallKnown.set: at_least and at_most are given.
pub const FGALL_KNOWN_LIMITS: u32 = 1;

/// What is known of a source, in its own unit.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallKnown {
    /// sizeof(FgallKnown), filled in by the caller.
    pub struct_size: usize,
    /// FGALL_SHAPE_…: what a and b are.
    pub shape: u32,
    /// FGALL_KNOWN_LIMITS or 0.
    pub set: u32,
    /// The first figure of the shape, at most 1e30 either way.
    pub a: f64,
    /// The second.
    pub b: f64,
    /// What lies below cannot be, and the rest keeps its proportions: 0 for a
    /// share. At least a millionth must be left.
    pub at_least: f64,
    /// What lies above cannot be: 1 for a share.
    pub at_most: f64,
}
versioned!(FgallKnown);

impl FgallKnown {
    fn distribution(&self) -> Outcome<Distribution> {
        let FgallKnown { a, b, .. } = *self;
        known_bits(self.set, FGALL_KNOWN_LIMITS, "set")?;
        let whole = match self.shape {
            FGALL_SHAPE_EXACT => Distribution::exact(a),
            FGALL_SHAPE_NORMAL => Distribution::normal(a, b),
            FGALL_SHAPE_LOG_NORMAL => Distribution::log_normal(a, b),
            FGALL_SHAPE_RECTANGULAR => Distribution::rectangular(a, b),
            FGALL_SHAPE_TRIANGULAR => Distribution::triangular(a, b),
            other => return Err(foreign(other, "shape")),
        };
        let whole = whole.arg_of(&[
            ("value", "a", a),
            ("mean", "a", a),
            ("median", "a", a),
            ("lower limit", "a", a),
            ("standard uncertainty", "b", b),
            ("uncertainty of the logarithm", "b", b),
            ("upper limit", "b", b),
        ])?;
        if self.set & FGALL_KNOWN_LIMITS == 0 {
            return Ok(whole);
        }
        let (low, high) = (self.at_least, self.at_most);
        // The room blames the value for limits that are no numbers.
        crate::quantity::within("at_least", low, -1e30, 1e30, "")?;
        crate::quantity::within("at_most", high, low, 1e30, "")?;
        let inside = whole.between(low, high);
        inside.arg_of(&[("exact value", "a", self.a)])
    }
}

/// What is known of one source from now on: after a measurement, or as you
/// judge it. The other sources keep their draws. The name is all of it, as
/// fgall_study_source_name gives it; FGALL_UNKNOWN_NAME if there is none.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_know(
    study: *mut FgallStudy,
    source: *const c_char,
    known: *const FgallKnown,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle_mut(study, "study")?;
            let source = text(source, "source")?;
            let known = read_struct(known, "known")?.distribution()?;
            study.study = about(study.study.knowing(source, known), "source")?;
            Ok(())
        })
    }
}

/// Says which argument named what there is not.
pub(super) fn about<T>(result: Result<T, UncertaintyError>, argument: &str) -> Outcome<T> {
    result.map_err(|e| {
        let named = matches!(e, UncertaintyError::NoSuchSource { .. });
        let mut failure = Failure::from(e);
        if named {
            failure.argument = argument.to_string();
        }
        failure
    })
}

impl From<UncertaintyError> for Failure {
    fn from(e: UncertaintyError) -> Failure {
        let message = e.to_string();
        let (status, argument, value) = match e {
            UncertaintyError::NameTaken { name } => (FGALL_NAME_TAKEN, name, f64::NAN),
            UncertaintyError::NoValue { input } => (FGALL_NO_VALUE, input, f64::NAN),
            UncertaintyError::NoSuchSource { name } => (FGALL_UNKNOWN_NAME, name, f64::NAN),
            UncertaintyError::NotAssured { lot, assurance } => (FGALL_NOT_ASSURED, lot, assurance),
            UncertaintyError::Recipe(recipe) => return recipe.into(),
            UncertaintyError::AllDrawsFailed { draws } => {
                (FGALL_ALL_DRAWS_FAILED, "draws".to_string(), draws as f64)
            }
            UncertaintyError::OutOfRange(range) => return range.into(),
        };
        Failure {
            status,
            argument,
            value,
            message,
        }
    }
}
