//! Findings: what a careful colleague would say of the recipe.

use super::bench::{FGALL_NAME_BYTES, FGALL_TEXT_BYTES};
use super::error::{FgallError, Outcome, no_such_index};
use super::guard::{deliver_all, guard, handle, out};
use super::recipe::FgallRecipe;
use super::rounding::{FgallKit, kit_if_given};
use super::status::FgallStatus;
use super::strings::fixed;
use crate::check::{Finding, Severity, Slip, check, read};
use crate::recipe::Kit;
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

fn severity(severity: Severity) -> u32 {
    match severity {
        Severity::Notice => FGALL_SEVERITY_NOTICE,
        Severity::Warning => FGALL_SEVERITY_WARNING,
        Severity::Error => FGALL_SEVERITY_ERROR,
    }
}

impl FgallFinding {
    fn of(finding: &Finding) -> FgallFinding {
        FgallFinding {
            code: fixed(finding.code.id()),
            severity: severity(finding.severity),
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

/// A likely slip behind a finding: how the recipe may have been miswritten, and
/// what the finding's figure would be.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSlip {
    /// How it was miswritten, such as "shifted_line"; keeps its meaning.
    pub kind: [c_char; FGALL_NAME_BYTES],
    /// The finding's figure in the corrected recipe, in the finding's unit.
    pub value: f64,
    /// How plausible, 0 to 1, to rank by; no probability.
    pub plausibility: f64,
    /// What is left of the finding, FGALL_SEVERITY_…; 0 when it is gone.
    pub left: u32,
    /// How many lines change.
    pub changes: usize,
    /// Identifier of the published ink that the corrected one is; empty for none.
    pub published: [c_char; FGALL_NAME_BYTES],
    /// In words, "if you meant …", in English.
    pub message: [c_char; FGALL_TEXT_BYTES],
}

impl FgallSlip {
    fn of(slip: &Slip) -> FgallSlip {
        FgallSlip {
            kind: fixed(slip.kind.id()),
            value: slip.value,
            plausibility: slip.plausibility,
            left: slip.left.map_or(0, severity),
            changes: slip.changes.len(),
            published: fixed(slip.published.unwrap_or("")),
            message: fixed(&slip.message),
        }
    }
}

/// The finding at an index of fgall_recipe_findings(), with its slips.
fn finding_at(recipe: &FgallRecipe, kit: Option<&Kit>, finding: usize) -> Outcome<Finding> {
    let mut found = read(&recipe.recipe, kit)?;
    let count = found.len();
    if finding < count {
        return Ok(found.swap_remove(finding));
    }
    Err(no_such_index("finding", finding, count))
}

/// The likely slips behind a finding, best first, three at most and often none:
/// written to `slips` if there is room for all (capacity is a number of slips), and in
/// any case *needed says how many there are. `finding` is the index of a finding
/// of fgall_recipe_findings() with the same `kit`, which may be NULL. Each slip
/// was worked out: it does away with the finding, or makes it less severe, and
/// raises no other as bad.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_slips(
    recipe: *const FgallRecipe,
    kit: *const FgallKit,
    finding: usize,
    slips: *mut FgallSlip,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let kit = kit_if_given(kit)?;
            let finding = finding_at(recipe, kit.as_ref(), finding)?;
            let all = finding.slips.iter().map(FgallSlip::of);
            deliver_all(all, slips, capacity, needed, "slips")
        })
    }
}

/// The recipe as it may have been meant: `slip` is the index of a slip of
/// fgall_recipe_slips() for the same finding and kit, 0 for the best.
/// fgall_recipe_free() it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_recipe_corrected_new(
    recipe: *const FgallRecipe,
    kit: *const FgallKit,
    finding: usize,
    slip: usize,
    corrected: *mut *mut FgallRecipe,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let recipe = handle(recipe, "recipe")?;
            let kit = kit_if_given(kit)?;
            let slot = out(corrected, "corrected")?;
            let mut slips = finding_at(recipe, kit.as_ref(), finding)?.slips;
            let count = slips.len();
            if slip >= count {
                return Err(no_such_index("slip", slip, count));
            }
            slot.put(FgallRecipe::boxed(slips.swap_remove(slip).recipe));
            Ok(())
        })
    }
}
