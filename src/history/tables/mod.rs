//! The units, one region a file, and the recipes.

pub(crate) mod ancient;
pub(crate) mod dutch;
pub(crate) mod english;
pub(crate) mod french;
pub(crate) mod german;
pub(crate) mod iberian;
pub(crate) mod italian;
pub(crate) mod more;
pub(crate) mod northern;
pub(crate) mod recipes_continent;
pub(crate) mod recipes_english;
pub(crate) mod recipes_today;
pub(crate) mod vague;
pub(crate) mod words;
