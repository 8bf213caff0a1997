//! The C surface: its header, its symbols, C programs that use it, and what it
//! answers to hostile input.
//!
//! The C programs build the library themselves, whatever the features of this
//! run; the calls from Rust want `--features capi`.
#![cfg(target_os = "linux")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unsafe_code
)]

mod common;

mod c_surface {
    #[cfg(feature = "capi")]
    mod assays;
    #[cfg(feature = "capi")]
    mod assays_hostile;
    #[cfg(feature = "capi")]
    mod assays_more;
    mod bits;
    #[cfg(feature = "capi")]
    mod courses;
    #[cfg(feature = "capi")]
    mod darkening;
    #[cfg(feature = "capi")]
    mod equilibrium;
    #[cfg(feature = "capi")]
    mod forecasts;
    mod header;
    #[cfg(feature = "capi")]
    mod history;
    #[cfg(feature = "capi")]
    mod honest;
    #[cfg(feature = "capi")]
    mod hostile;
    #[cfg(feature = "capi")]
    mod judged;
    #[cfg(feature = "capi")]
    mod kept_hostile;
    #[cfg(feature = "capi")]
    mod made;
    #[cfg(feature = "capi")]
    mod made_hostile;
    #[cfg(feature = "capi")]
    mod made_rows;
    #[cfg(feature = "capi")]
    mod measures;
    #[cfg(feature = "capi")]
    mod numbers;
    #[cfg(feature = "capi")]
    mod plants;
    #[cfg(feature = "capi")]
    mod plants_hostile;
    #[cfg(feature = "capi")]
    mod plants_more;
    mod programs;
    #[cfg(feature = "capi")]
    mod room;
    #[cfg(feature = "capi")]
    mod rows;
    #[cfg(feature = "capi")]
    mod sheets;
    #[cfg(feature = "capi")]
    mod slips;
    #[cfg(feature = "capi")]
    mod standards;
    #[cfg(feature = "capi")]
    mod study;
    #[cfg(feature = "capi")]
    mod study_draws;
    #[cfg(feature = "capi")]
    mod study_hostile;
    #[cfg(feature = "capi")]
    mod twin;
}
