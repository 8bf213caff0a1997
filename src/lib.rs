//! Chemistry and arithmetic of iron–tannin writing ink.
//!
//! A maker has a bag of galls or leaf, green vitriol that may have weathered,
//! tap water, some acid, gum, a preservative, and half a recipe. This crate
//! turns such **lots** into a **recipe**, the recipe into the exact
//! **composition** of the ink, and tells what follows from it: iron against
//! tannin by every published convention, how much acid is left, what the air
//! in the bottle can do at most, what to weigh on which balance, what it
//! costs, and what a careful colleague would warn of.
//!
//! It is pure computation: no files, no network, no clock, no globals. Values
//! go in, values come out; the same input gives the same bits everywhere.
//!
//! ```
//! use ferrogall::bench::Lot;
//! use ferrogall::formulate::Choice;
//! use ferrogall::quantity::*;
//! use ferrogall::recipe::{BatchSheet, SheetOptions};
//! use ferrogall::standards::reference_ink;
//!
//! // What is on the bench: an iron salt with a white bloom, bought tannic
//! // acid, distilled water.
//! let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?
//!     .named("garden vitriol")
//!     .hydrates(ferrogall::bench::HydrateMix::new(0.7, 0.2, 0.1, 0.0)?)?
//!     .build()?;
//! let tannic_acid = Lot::of("tannic_acid")?.build()?;
//! let water = Lot::of("distilled_water")?.build()?;
//!
//! // A quarter of a litre with the iron and the proportion of a published ink.
//! let published = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
//! let choice = Choice::new(&vitriol, &tannic_acid, &water);
//! let targets = choice.reachable(&published.targets(milliliters(250.0), 1.0)?);
//! let recipe = choice.formulate(&targets)?.recipe;
//!
//! let ink = recipe.evaluate()?.composition;
//! assert!((ink.iron_mass_concentration().in_grams_per_liter() - 3.013).abs() < 0.001);
//!
//! // A page to work from.
//! println!("{}", BatchSheet::new(&recipe, &SheetOptions::default())?);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # Rooms
//!
//! Data go one way: [`mod@bench`] → [`recipe`] → [`composition`] → [`oxidation`],
//! [`paper`], [`check`] and the sheet. [`extraction`] tells what a plant gives to a
//! recipe; [`formulate`] goes back, from targets to a recipe. [`assay`] turns what
//! was measured into what a lot holds, and [`uncertainty`] says how sure all that is.
//! [`chem`] knows chemistry but no ink; [`quantity`] and [`source`] are under
//! everything. [`history`] reads recipes in old units.
//!
//! # Features
//!
//! | feature | brings |
//! |---|---|
//! | `serde` | recipes and sheets as JSON (module `json`) |
//! | `rayon` | columns on all cores |
//! | `capi` | the C functions of `include/ferrogall.h` |
//!
//! # What it is not
//!
//! No promise of shelf life, no risk assessment, no legal verdict. Acids,
//! phenol and the hydrogen from iron in acid are dangerous: the usual cautions
//! are printed, local rules and licensed practice come first.

pub mod assay;
pub mod bench;
#[cfg(feature = "capi")]
pub mod capi;
pub mod check;
pub mod chem;
pub mod composition;
pub mod equilibrium;
pub mod extraction;
pub mod formulate;
pub mod history;
#[cfg(feature = "serde")]
pub mod json;
pub mod oxidation;
pub mod paper;
mod quantile;
pub mod quantity;
pub mod recipe;
mod root;
pub mod source;
mod span;
pub mod standards;
pub mod uncertainty;
