//! The C surface: its header, its symbols, C programs that use it, and what it
//! answers to hostile input.
#![cfg(feature = "capi")]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]
#![allow(unsafe_code)]

mod c_surface {
    mod header;
}
