//! Readings into assays, and what an assay found.

use super::error::{Failure, FgallError, Outcome};
use super::guard::{foreign, guard, out, out_struct, versioned};
use super::status::*;
use super::strings::{deliver, text};
use crate::assay::{AssayError, Assayed, Bound, Figure, NoteKind, Part, Reading, Sample};
use crate::quantity::{Temperature, celsius, within};
use core::ffi::c_char;
use core::mem::size_of;

/// A result leans neither way.
pub const FGALL_FOUND_ESTIMATE: u32 = 1;
/// A result is a bound: what else is in the sample counts too, the truth is this
/// or less.
pub const FGALL_FOUND_AT_MOST: u32 = 2;
/// A result is a bound: something escapes the method, the truth is this or more.
pub const FGALL_FOUND_AT_LEAST: u32 = 3;

/// Sample: a solid iron salt without chloride.
pub const FGALL_SAMPLE_SALT: u32 = 1;
/// Sample: a solution of such a salt in water and acid.
pub const FGALL_SAMPLE_STOCK: u32 = 2;
/// Sample: a chloride, solid.
pub const FGALL_SAMPLE_CHLORIDE_SALT: u32 = 3;
/// Sample: a chloride in solution; iron dissolved in hydrochloric acid.
pub const FGALL_SAMPLE_CHLORIDE_STOCK: u32 = 4;
/// Sample: iron with organic anions, such as vinegar and nails.
pub const FGALL_SAMPLE_ORGANIC_STOCK: u32 = 5;
/// Sample: pharmacy tablets.
pub const FGALL_SAMPLE_TABLETS: u32 = 6;
/// Sample: ink that was ashed or wet-digested, its iron brought back to iron(II).
pub const FGALL_SAMPLE_ASHED_INK: u32 = 7;
/// Sample: ink as it is.
pub const FGALL_SAMPLE_FINISHED_INK: u32 = 8;
/// Sample: a tannin liquor.
pub const FGALL_SAMPLE_LIQUOR: u32 = 9;

/// The number of the first is 1.
pub(super) fn sample_of(number: u32) -> Outcome<Sample> {
    let place = (number as usize).checked_sub(1);
    let found = place.and_then(|place| Sample::ALL.get(place));
    found.copied().ok_or_else(|| foreign(number, "sample"))
}

/// Read: anywhere within a half-width, all alike, such as a tolerance.
pub const FGALL_READ_RECTANGULAR: u32 = 1;
/// Read: within a half-width, the middle likeliest, such as volumetric glass.
pub const FGALL_READ_TRIANGULAR: u32 = 2;
/// Read: swinging within a half-width, such as a room with a thermostat.
pub const FGALL_READ_ARCSINE: u32 = 3;
/// Read: weighed on a tared balance of this step.
pub const FGALL_READ_WEIGHED: u32 = 4;
/// Read: once off a balance of this step, not tared.
pub const FGALL_READ_BALANCE: u32 = 5;
/// Read: the difference of two burette readings, each within this half-width.
pub const FGALL_READ_BURETTE: u32 = 6;

/// What an assay found, in the unit that the function names.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallAssayed {
    /// sizeof(FgallAssayed), filled in by the caller.
    pub struct_size: usize,
    /// The value.
    pub value: f64,
    /// Its standard uncertainty (k = 1), of first order.
    pub u: f64,
    /// Low end of the interval that covers 95 %.
    pub low: f64,
    /// High end of it.
    pub high: f64,
    /// Which way it leans: FGALL_FOUND_… A bound says nothing on its other side.
    pub bound: u32,
    /// Degrees of freedom by Welch and Satterthwaite; NaN where no reading was a
    /// mean of repeats.
    pub dof: f64,
}
versioned!(FgallAssayed);

pub(super) fn bound_number(bound: Bound) -> u32 {
    match bound {
        Bound::Estimate => FGALL_FOUND_ESTIMATE,
        Bound::AtMost => FGALL_FOUND_AT_MOST,
        Bound::AtLeast => FGALL_FOUND_AT_LEAST,
    }
}

impl FgallAssayed {
    pub(super) fn of<Q: Figure>(
        found: &Assayed<Q>,
        unit: impl Fn(Q) -> f64,
    ) -> Outcome<FgallAssayed> {
        let (low, high) = found.interval(0.95)?;
        let dof = Some(found.dof()).filter(|dof| dof.is_finite());
        Ok(FgallAssayed {
            struct_size: size_of::<FgallAssayed>(),
            value: unit(found.value()),
            u: unit(found.u()),
            low: unit(low),
            high: unit(high),
            bound: bound_number(found.bound()),
            dof: dof.unwrap_or(f64::NAN),
        })
    }
}

/// Where a result and the text about it go.
pub(super) struct Answer {
    assayed: *mut FgallAssayed,
    notes: *mut c_char,
    capacity: usize,
    needed: *mut usize,
}

impl Answer {
    pub(super) const fn to(
        assayed: *mut FgallAssayed,
        notes: *mut c_char,
        capacity: usize,
        needed: *mut usize,
    ) -> Answer {
        Answer {
            assayed,
            notes,
            capacity,
            needed,
        }
    }

    /// # Safety
    /// As for the whole room; `notes` has room for `capacity` bytes.
    pub(super) unsafe fn put<Q: Figure>(
        self,
        unit: impl Fn(Q) -> f64,
        assay: impl FnOnce() -> Outcome<Assayed<Q>>,
    ) -> Outcome<()> {
        // SAFETY: as promised by the caller.
        unsafe {
            let slot = out_struct(self.assayed, "assayed")?;
            let found = assay()?;
            let result = FgallAssayed::of(&found, unit)?;
            self.tell(&found)?;
            slot.put(result);
            Ok(())
        }
    }

    /// # Safety
    /// As for `put`.
    pub(super) unsafe fn tell<Q: Figure>(&self, found: &Assayed<Q>) -> Outcome<()> {
        if self.needed.is_null() && self.notes.is_null() && self.capacity == 0 {
            return Ok(());
        }
        // SAFETY: as promised by the caller.
        unsafe { deliver(&told(found), self.notes, self.capacity, self.needed) }
    }
}

/// All there is to say of a result, a line for each.
fn told<Q: Figure>(found: &Assayed<Q>) -> String {
    let method = found.method();
    let mut lines: Vec<String> = found
        .notes()
        .iter()
        .map(|note| format!("{} ({}): {}", word(note.kind), note.code, note.message))
        .collect();
    lines.extend(shares(found.budget()));
    lines.push(format!(
        "method: {}, finds {} [{}]",
        method.name, method.finds, method.source
    ));
    lines.push(format!("disturbed by: {}", method.interferences));
    lines.extend(method.cautions.iter().map(|c| format!("caution: {c}")));
    lines.join("\n")
}

const fn word(kind: NoteKind) -> &'static str {
    match kind {
        NoteKind::Assumed => "assumed",
        NoteKind::Interference => "interference",
        NoteKind::Range => "range",
        NoteKind::Caution => "caution",
    }
}

/// What makes the uncertainty, parts of one source together, the largest first.
fn shares(parts: &[Part]) -> Option<String> {
    let mut sums: Vec<(&str, Option<&String>, f64)> = Vec::new();
    for part in parts {
        let source = part.source.as_ref();
        let same = |sum: &&mut (&str, Option<&String>, f64)| source.is_some() && sum.1 == source;
        match sums.iter_mut().find(same) {
            Some(sum) => sum.2 += part.contribution,
            None => sums.push((part.input, source, part.contribution)),
        }
    }
    let variance: f64 = sums.iter().map(|s| s.2 * s.2).sum();
    sums.sort_by(|a, b| b.2.abs().total_cmp(&a.2.abs()));
    let named = |s: &(&str, Option<&String>, f64)| {
        let percent = 100.0 * s.2 * s.2 / variance;
        (percent >= 1.0).then(|| format!("{} {percent:.0} %", s.0))
    };
    let largest: Vec<String> = sums.iter().filter_map(named).collect();
    (!largest.is_empty()).then(|| format!("of the variance: {}", largest.join(", ")))
}

/// A value and its standard uncertainty as a reading; both 0 to `most`.
pub(super) fn reading<Q: Figure>(
    of: impl Fn(f64) -> Q,
    (name, value): (&'static str, f64),
    (u_name, u): (&'static str, f64),
    most: f64,
) -> Outcome<Reading<Q>> {
    let value = within(name, value, 0.0, most, "")?;
    let u = within(u_name, u, 0.0, most, "")?;
    Ok(Reading::standard(of(value), of(u))?)
}

/// The same of two fields of a struct.
macro_rules! read {
    ($from:expr, $field:ident, $u:ident, $of:expr, $most:expr) => {
        $crate::capi::assay::reading(
            $of,
            (stringify!($field), $from.$field),
            (stringify!($u), $from.$u),
            $most,
        )
    };
}
pub(super) use read;

/// A temperature in °C with its uncertainty in kelvin.
pub(super) fn warmth(temperature_c: f64, u_k: f64) -> Outcome<Reading<Temperature>> {
    let t = within("temperature_c", temperature_c, -50.0, 200.0, "°C")?;
    let u = within("temperature_u_k", u_k, 0.0, 200.0, "K")?;
    let u = Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(u);
    Ok(Reading::standard(celsius(t), u)?)
}

/// Names the source of a reading, where a name is given.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn sourced<Q: Figure>(
    reading: Reading<Q>,
    name: *const c_char,
    argument: &str,
) -> Outcome<Reading<Q>> {
    if name.is_null() {
        return Ok(reading);
    }
    // SAFETY: as promised by the caller.
    Ok(reading.source(unsafe { text(name, argument) }?))
}

/// The standard uncertainty of a figure read off: `within_unit` is the half-width
/// or the step that `kind` (FGALL_READ_…) names, and `u` comes in its unit.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_reading_u(
    kind: u32,
    within_unit: f64,
    u: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(u, "u")?;
            let a = within("within_unit", within_unit, 0.0, 1e12, "")?;
            let read = match kind {
                FGALL_READ_RECTANGULAR => Reading::rectangular(0.0, a),
                FGALL_READ_TRIANGULAR | FGALL_READ_WEIGHED => Reading::triangular(0.0, a),
                FGALL_READ_ARCSINE => Reading::arcsine(0.0, a),
                FGALL_READ_BALANCE => Reading::rectangular(0.0, 0.5 * a),
                FGALL_READ_BURETTE => Reading::triangular(0.0, 2.0 * a),
                other => return Err(foreign(other, "kind")),
            };
            slot.put(read?.u());
            Ok(())
        })
    }
}

impl From<AssayError> for Failure {
    fn from(e: AssayError) -> Failure {
        let (status, argument, value) = match &e {
            AssayError::Refused { .. } => (FGALL_NOT_FOR_SAMPLE, "sample", f64::NAN),
            AssayError::TooFew { what, given, .. } => (FGALL_CANNOT_FIT, *what, *given as f64),
            AssayError::Unequal { what, left, .. } => (FGALL_OUT_OF_RANGE, *what, *left as f64),
            AssayError::NoLine { what, .. } => (FGALL_CANNOT_FIT, *what, f64::NAN),
            AssayError::Contradiction { what, .. } => (FGALL_CONTRADICTION, *what, f64::NAN),
            AssayError::OutOfRange(range) => return (*range).into(),
            AssayError::Chem(chem) => return (*chem).into(),
            AssayError::Formula(formula) => return (*formula).into(),
            AssayError::Lot(lot) => return lot.clone().into(),
            AssayError::Uncertainty(uncertainty) => return uncertainty.clone().into(),
            AssayError::Equilibrium(equilibrium) => return equilibrium.clone().into(),
        };
        Failure::of(status, argument, value, &e)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sample_has_its_number() {
        for (number, sample) in (1u32..).zip(Sample::ALL) {
            assert_eq!(sample_of(number).ok(), Some(sample));
        }
        assert!(sample_of(0).is_err() && sample_of(10).is_err());
        assert_eq!(sample_of(FGALL_SAMPLE_LIQUOR).ok(), Some(Sample::Liquor));
        let ink = sample_of(FGALL_SAMPLE_FINISHED_INK).ok();
        assert_eq!(ink, Some(Sample::FinishedInk));
    }
}
