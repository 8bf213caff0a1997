//! JSON.
