//! Findings: what a careful colleague would say of the recipe.

use super::bench::{FGALL_NAME_BYTES, FGALL_TEXT_BYTES};
use super::error::FgallError;
use super::guard::{deliver_all, guard, handle};
use super::recipe::FgallRecipe;
use super::rounding::{FgallKit, kit_if_given};
use super::status::FgallStatus;
use super::strings::fixed;
use crate::check::{Finding, Severity, check};
use core::ffi::c_char;

/// How much a finding matters: good to know.
pub const FGALL_SEVERITY_NOTICE: u32 = 1;
/// How much a finding matters: the ink will be worse than it could be.
pub const FGALL_SEVERITY_WARNING: u32 = 2;
/// How much a finding matters: this makes no ink, or the recipe is a slip.
pub const FGALL_SEVERITY_ERROR: u32 = 3;

/// Something to say of a recipe, with the figure and the limit it was held
/// against.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallFinding {
    /// What it is about, such as "dye_precipitates"; keeps its meaning.
    pub code: [c_char; FGALL_NAME_BYTES],
    /// FGALL_SEVERITY_…; a worse one is a greater number.
    pub severity: u32,
    /// The figure found.
    pub value: f64,
    /// The limit it was held against.
    pub limit: f64,
    /// Unit of both, such as "mmol/L"; empty for ratios.
    pub unit: [c_char; FGALL_NAME_BYTES],
    /// In words, with the figures, in English.
    pub message: [c_char; FGALL_TEXT_BYTES],
    /// Where the limit comes from, and how far that may be trusted.
    pub source: [c_char; FGALL_TEXT_BYTES],
}

impl FgallFinding {
    fn of(finding: &Finding) -> FgallFinding {
        FgallFinding {
            code: fixed(finding.code.id()),
            severity: match finding.severity {
                Severity::Notice => FGALL_SEVERITY_NOTICE,
                Severity::Warning => FGALL_SEVERITY_WARNING,
                Severity::Error => FGALL_SEVERITY_ERROR,
            },
            value: finding.value,
            limit: finding.limit,
            unit: fixed(finding.unit),
            message: fixed(&finding.message),
            source: fixed(&finding.source.to_string()),
        }
    }
}

/// Everything worth saying about a recipe as it is, worst first: written to
/// `findings` if there is room for all (capacity is a number of findings), and
/// in any case *needed says how many there are, perhaps none. With a `kit`,
/// which may be NULL, weighings too small for their tool are found too; nothing
/// is rounded to it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_findings(
    recipe: *const FgallRecipe,
    kit: *const FgallKit,
    findings: *mut FgallFinding,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let kit = kit_if_given(kit)?;
            let found = check(&recipe.recipe.evaluate()?, kit.as_ref());
            let all = found.iter().map(FgallFinding::of);
            deliver_all(all, findings, capacity, needed, "findings")
        })
    }
}
