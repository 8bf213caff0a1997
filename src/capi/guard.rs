//! The border: panics stop here, and pointers are looked at before use.

use super::error::{Failure, FgallError, Outcome};
use super::status::{
    FGALL_BUFFER_TOO_SMALL, FGALL_FOREIGN_VALUE, FGALL_MISALIGNED, FGALL_NULL_POINTER, FGALL_OK,
    FGALL_PANIC, FGALL_STRUCT_SIZE, FgallStatus,
};
use core::mem::{align_of, size_of};
use core::ptr::NonNull;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Runs an entry: its outcome becomes the status returned and, where the
/// caller gave room for it, the text of the error.
///
/// # Safety
/// `error` keeps the pointer rules of this room.
pub(super) unsafe fn guard(
    error: *mut FgallError,
    work: impl FnOnce() -> Outcome<()>,
) -> FgallStatus {
    let slot = if error.is_null() {
        None
    } else {
        // SAFETY: not NULL, the rest as promised by the caller.
        match unsafe { out_struct(error, "error") } {
            Ok(slot) => Some(slot),
            Err(failure) => return failure.status,
        }
    };
    // Whatever a panic leaves half done is an amount in a recipe, not a pointer.
    let outcome = catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| {
        Err(Failure::new(
            FGALL_PANIC,
            "",
            "a fault in the library itself",
        ))
    });
    let status = outcome.as_ref().map_or_else(|f| f.status, |()| FGALL_OK);
    if let Some(slot) = slot {
        slot.put(FgallError::of(outcome.err()));
    }
    status
}

fn checked<T>(pointer: *const T, name: &str) -> Outcome<NonNull<T>> {
    let pointer = NonNull::new(pointer.cast_mut())
        .ok_or_else(|| Failure::new(FGALL_NULL_POINTER, name, "is NULL"))?;
    if !(pointer.as_ptr() as usize).is_multiple_of(align_of::<T>()) {
        return Err(Failure::new(FGALL_MISALIGNED, name, "is misaligned"));
    }
    Ok(pointer)
}

/// Borrows a handle.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn handle<'a, T>(pointer: *const T, name: &str) -> Outcome<&'a T> {
    let pointer = checked(pointer, name)?;
    // SAFETY: not NULL, aligned, and a live handle by the caller's promise.
    Ok(unsafe { pointer.as_ref() })
}

/// Borrows a handle to change it.
///
/// # Safety
/// As for the whole room; nobody else uses the handle during the call.
pub(super) unsafe fn handle_mut<'a, T>(pointer: *mut T, name: &str) -> Outcome<&'a mut T> {
    let mut pointer = checked(pointer, name)?;
    // SAFETY: not NULL, aligned, and a live handle by the caller's promise.
    Ok(unsafe { pointer.as_mut() })
}

/// Room for a result; what was there before is never read.
pub(super) struct Slot<T>(NonNull<T>);

impl<T> Slot<T> {
    pub(super) fn put(self, value: T) {
        // SAFETY: only `out` and `out_struct` make slots, of memory that the
        // caller promised to be writable during the call.
        unsafe { self.0.as_ptr().write(value) }
    }
}

/// Room for a plain result.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn out<T>(pointer: *mut T, name: &str) -> Outcome<Slot<T>> {
    checked(pointer, name).map(Slot)
}

/// Room for a plain result that is not always wanted.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn out_if_wanted<T>(pointer: *mut T, name: &str) -> Outcome<Option<Slot<T>>> {
    if pointer.is_null() {
        return Ok(None);
    }
    checked(pointer, name).map(|p| Some(Slot(p)))
}

/// A struct that begins with its size.
///
/// # Safety
/// `repr(C)`, the first field is `struct_size: usize`, and every bit pattern
/// of the other fields is a value.
pub(super) unsafe trait Versioned: Copy {}

/// Declares structs [`Versioned`].
macro_rules! versioned {
    ($($name:ty),*) => {
        // SAFETY: each is repr(C), begins with struct_size, and holds only
        // numbers, arrays of them, and raw pointers.
        $(unsafe impl $crate::capi::guard::Versioned for $name {})*
    };
}
pub(super) use versioned;

/// # Safety
/// As for the whole room.
unsafe fn sized<T: Versioned>(pointer: *const T, name: &str) -> Outcome<NonNull<T>> {
    let pointer = checked(pointer, name)?;
    // SAFETY: not NULL, aligned; a Versioned struct begins with a usize.
    let size = unsafe { pointer.cast::<usize>().read() };
    if size != size_of::<T>() {
        let text = format!("has struct_size {size}, not {}", size_of::<T>());
        return Err(Failure::new(FGALL_STRUCT_SIZE, name, &text).with_value(size as f64));
    }
    Ok(pointer)
}

/// Room for a struct whose struct_size the caller has filled in.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn out_struct<T: Versioned>(pointer: *mut T, name: &str) -> Outcome<Slot<T>> {
    // SAFETY: as promised by the caller.
    unsafe { sized(pointer, name) }.map(Slot)
}

/// Room for a struct that is not always wanted.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn out_struct_if_wanted<T: Versioned>(
    pointer: *mut T,
    name: &str,
) -> Outcome<Option<Slot<T>>> {
    if pointer.is_null() {
        return Ok(None);
    }
    // SAFETY: as promised by the caller.
    unsafe { out_struct(pointer, name) }.map(Some)
}

/// A copy of a struct the caller has filled in.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn read_struct<T: Versioned>(pointer: *const T, name: &str) -> Outcome<T> {
    // SAFETY: as promised by the caller; of the right size, so all of it is there.
    unsafe { sized(pointer, name).map(|p| p.read()) }
}

/// A copy of a struct that may be left out.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn read_struct_if_given<T: Versioned>(
    pointer: *const T,
    name: &str,
) -> Outcome<Option<T>> {
    if pointer.is_null() {
        return Ok(None);
    }
    // SAFETY: as promised by the caller.
    unsafe { read_struct(pointer, name) }.map(Some)
}

/// Copies of `count` plain values; none when `count` is 0, whatever the pointer.
///
/// # Safety
/// As for the whole room; every bit pattern is a value of `T`.
pub(super) unsafe fn read_array<T: Copy>(
    pointer: *const T,
    count: usize,
    most: usize,
    name: &str,
) -> Outcome<Vec<T>> {
    if count == 0 {
        return Ok(Vec::new());
    }
    let pointer = checked(pointer, name)?;
    crate::quantity::within("count", count as f64, 0.0, most as f64, "")?;
    // SAFETY: not NULL, aligned, `count` of them by the caller's promise.
    Ok((0..count)
        .map(|i| unsafe { pointer.add(i).read() })
        .collect())
}

/// Tells how many items there are, and whether the caller's array holds them.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn room_for(
    count: usize,
    capacity: usize,
    needed: *mut usize,
    name: &str,
) -> Outcome<()> {
    // SAFETY: as promised by the caller.
    unsafe { out(needed, "needed") }?.put(count);
    if capacity < count {
        let short = format!("= {capacity}, but there are {count} {name}");
        let failure = Failure::new(FGALL_BUFFER_TOO_SMALL, "capacity", &short);
        return Err(failure.with_value(capacity as f64));
    }
    Ok(())
}

/// Writes every item into the caller's array if there is room for all of them,
/// and in any case how many there are.
///
/// # Safety
/// As for the whole room; `array` has room for `capacity` of them.
pub(super) unsafe fn deliver_all<T>(
    items: impl ExactSizeIterator<Item = T>,
    array: *mut T,
    capacity: usize,
    needed: *mut usize,
    name: &str,
) -> Outcome<()> {
    let count = items.len();
    // SAFETY: as promised by the caller.
    unsafe { room_for(count, capacity, needed, name) }?;
    for (i, item) in items.take(count).enumerate() {
        // SAFETY: i < count <= capacity, by the caller's promise.
        unsafe { out(array.wrapping_add(i), name) }?.put(item);
    }
    Ok(())
}

/// Refuses bits of a `set` field that mean nothing here.
pub(super) fn known_bits(set: u32, known: u32, name: &str) -> Outcome<()> {
    if set & !known == 0 {
        return Ok(());
    }
    Err(foreign(set, name))
}

/// The error of a number that is none of its constants.
pub(super) fn foreign(value: u32, name: &str) -> Failure {
    let text = format!("= {value} is no constant of this library");
    Failure::new(FGALL_FOREIGN_VALUE, name, &text).with_value(f64::from(value))
}

#[cfg(test)]
#[allow(clippy::panic)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_a_status_and_a_text() {
        let mut error = FgallError::of(None);
        // SAFETY: a local of the right size.
        let status = unsafe { guard(&mut error, || panic!("on purpose")) };
        assert_eq!((status, error.status), (FGALL_PANIC, FGALL_PANIC));
        assert_ne!(error.message[0], 0);
        // SAFETY: NULL is allowed.
        let status = unsafe { guard(core::ptr::null_mut(), || panic!("on purpose")) };
        assert_eq!(status, FGALL_PANIC);
    }
}
