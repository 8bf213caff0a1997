//! The C surface: its header, its symbols, C programs that use it, and what it
//! answers to hostile input.
#![cfg(all(feature = "capi", target_os = "linux"))]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unsafe_code
)]

mod c_surface {
    mod bits;
    mod header;
    mod honest;
    mod hostile;
    mod programs;
    mod room;
}
