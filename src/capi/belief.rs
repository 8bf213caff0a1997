//! What is believed of one property, and what a test makes of it.

use super::error::{Blame, FgallError, Outcome};
use super::guard::{guard, out_struct, versioned};
use super::status::FgallStatus;
use crate::quantity::{OutOfRange, within};
use crate::source::Range;
use crate::uncertainty::{Belief, Evidence};
use core::mem::size_of;

/// What is believed of a positive property (a strength, a content, a share), in
/// whatever unit: its logarithm is normal.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallBelief {
    /// sizeof(FgallBelief), filled in by the caller.
    pub struct_size: usize,
    /// The median.
    pub median: f64,
    /// Standard uncertainty of the natural logarithm; about the relative one.
    pub u_ln: f64,
    /// Low end of the interval that holds 95 %.
    pub low: f64,
    /// High end of it.
    pub high: f64,
    /// How many standard deviations lay between the belief and the evidence:
    /// beyond 3, the lot is not what it is taken for, or the test went wrong. NaN
    /// without evidence.
    pub surprise: f64,
}
versioned!(FgallBelief);

impl FgallBelief {
    fn of(belief: &Belief, surprise: f64) -> FgallBelief {
        let (low, high) = belief.interval();
        FgallBelief {
            struct_size: size_of::<FgallBelief>(),
            median: belief.median(),
            u_ln: belief.u_ln(),
            low,
            high,
            surprise,
        }
    }
}

/// # Safety
/// As for the whole room.
unsafe fn updated(
    (median, u_ln): (f64, f64),
    evidence: impl FnOnce() -> Outcome<Evidence>,
    belief: *mut FgallBelief,
) -> Outcome<()> {
    // SAFETY: as promised by the caller.
    let slot = unsafe { out_struct(belief, "belief") }?;
    let prior = Belief::log_normal(median, u_ln);
    let prior = prior.arg_of(&[("uncertainty of the logarithm", "u_ln", u_ln)])?;
    let evidence = evidence()?;
    let surprise = prior.surprise(&evidence);
    slot.put(FgallBelief::of(&prior.updated(&evidence), surprise));
    Ok(())
}

/// What is believed after a measurement of a positive property: `median` (1e-30
/// to 1e30) and `u_ln` (0 to 20) are the belief before, `measured` the value found
/// and `u` its standard uncertainty, at most 20 times as large.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_belief_update_value(
    median: f64,
    u_ln: f64,
    measured: f64,
    u: f64,
    belief: *mut FgallBelief,
    error: *mut FgallError,
) -> FgallStatus {
    let evidence = || {
        Evidence::value(measured, u).arg_of(&[
            ("measured value", "measured", measured),
            ("relative uncertainty", "u", u),
        ])
    };
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe { guard(error, || updated((median, u_ln), evidence, belief)) }
}

/// The same after a test that brackets it, such as drops on a strip: somewhere
/// from `low` to `high`, each limit judged with a standard uncertainty of its
/// natural logarithm, 0 to 20.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_belief_update_between(
    median: f64,
    u_ln: f64,
    low: f64,
    high: f64,
    judging_u_ln: f64,
    belief: *mut FgallBelief,
    error: *mut FgallError,
) -> FgallStatus {
    let evidence = || {
        Evidence::between(low, high, judging_u_ln).arg_of(&[
            ("lower limit", "low", low),
            ("upper limit", "high", high),
            ("uncertainty of judging", "judging_u_ln", judging_u_ln),
        ])
    };
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe { guard(error, || updated((median, u_ln), evidence, belief)) }
}

/// The belief that a span of the catalogue stands for (FgallRange): its typical
/// value is the median, min to max holds 95 %.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_belief_of_range(
    min: f64,
    typical: f64,
    max: f64,
    belief: *mut FgallBelief,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(belief, "belief")?;
            // The room blames `min` for a typical value that is no number.
            within("typical", typical, 1e-30, 1e30, "")?;
            let made: Result<Belief, OutOfRange> = Belief::of_range(Range::new(min, typical, max));
            slot.put(FgallBelief::of(&made?, f64::NAN));
            Ok(())
        })
    }
}
