//! Versions of the code, of the binary interface and of the data.

use crate::source::DATA_VERSION;
use core::ffi::c_char;

/// The binary interface this header describes; compare it with
/// fgall_abi_version() when the library is loaded at run time. It grows when a
/// struct or a function changes; new functions alone leave it as it is.
pub const FGALL_ABI_VERSION: u32 = 2;

/// Version of the library, such as "0.1.0". Static: do not free it.
#[unsafe(no_mangle)]
pub extern "C" fn fgall_version() -> *const c_char {
    concat!(env!("CARGO_PKG_VERSION"), "\0").as_ptr().cast()
}

/// The FGALL_ABI_VERSION the library was built with.
#[unsafe(no_mangle)]
pub extern "C" fn fgall_abi_version() -> u32 {
    FGALL_ABI_VERSION
}

/// Version of the tables (materials, closures, inks), such as "2026-11".
/// Static: do not free it.
#[unsafe(no_mangle)]
pub extern "C" fn fgall_data_version() -> *const c_char {
    static TEXT: [u8; DATA_VERSION.len() + 1] = with_nul(DATA_VERSION);
    TEXT.as_ptr().cast()
}

const fn with_nul<const N: usize>(text: &str) -> [u8; N] {
    let mut out = [0; N];
    let mut i = 0;
    while i + 1 < N {
        out[i] = text.as_bytes()[i];
        i += 1;
    }
    out
}
