//! Texts over the border.

use super::error::{Failure, Outcome};
use super::guard::out;
use super::status::{FGALL_BUFFER_TOO_SMALL, FGALL_NOT_UTF8, FGALL_NULL_POINTER};
use core::ffi::{CStr, c_char};

/// Borrows a text of the caller's.
///
/// # Safety
/// As for the whole room.
pub(super) unsafe fn text<'a>(pointer: *const c_char, name: &str) -> Outcome<&'a str> {
    if pointer.is_null() {
        return Err(Failure::new(FGALL_NULL_POINTER, name, "is NULL"));
    }
    // SAFETY: not NULL, and ends in NUL by the caller's promise.
    let bytes = unsafe { CStr::from_ptr(pointer) };
    bytes
        .to_str()
        .map_err(|_| Failure::new(FGALL_NOT_UTF8, name, "is not UTF-8"))
}

/// The longest beginning of a text that fits with its NUL, characters whole.
pub(super) fn fixed<const N: usize>(text: &str) -> [c_char; N] {
    let mut end = text.len().min(N.saturating_sub(1));
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let mut out = [0; N];
    for (to, from) in out.iter_mut().zip(text.bytes().take(end)) {
        *to = from as c_char;
    }
    out
}

/// Writes a text into the caller's buffer if it fits, and in any case how
/// many bytes it takes with its NUL.
///
/// # Safety
/// As for the whole room; `buffer` has room for `capacity` bytes.
pub(super) unsafe fn deliver(
    text: &str,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
) -> Outcome<()> {
    // A NUL inside would end the text early.
    let text = text.replace('\0', "\u{fffd}");
    // SAFETY: as promised by the caller.
    unsafe { out(needed, "needed") }?.put(text.len() + 1);
    if capacity <= text.len() {
        let short = format!("= {capacity}, but {} bytes are needed", text.len() + 1);
        return Err(
            Failure::new(FGALL_BUFFER_TOO_SMALL, "capacity", &short).with_value(capacity as f64)
        );
    }
    if buffer.is_null() {
        return Err(Failure::new(FGALL_NULL_POINTER, "buffer", "is NULL"));
    }
    // SAFETY: `capacity` bytes are writable, more than the text and its NUL;
    // the text is our own copy and cannot overlap.
    unsafe {
        core::ptr::copy_nonoverlapping(text.as_ptr().cast(), buffer, text.len());
        buffer.add(text.len()).write(0);
    }
    Ok(())
}
