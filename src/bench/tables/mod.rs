//! The tables behind the catalogue: one file per kind, every row with its source.

pub(super) mod acids;
pub(super) mod dyes;
pub(super) mod gums;
pub(super) mod humectants;
pub(super) mod iron_salts;
pub(super) mod preservatives;
pub(super) mod tannin_sources;
pub(super) mod waters;
