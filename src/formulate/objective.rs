//! What is to be best.

use crate::composition::Criterion;

/// What is to be best.
///
/// ```
/// use ferrogall::composition::criteria;
/// use ferrogall::formulate::Objective;
/// assert_eq!(Objective::LeastCost.id(), "least_cost");
/// assert_eq!(Objective::Surest(criteria()[0]).id(), "surest");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Objective {
    /// Least money; lots without a price count as free.
    LeastCost,
    /// Nearest to what is wanted: the least sum of relative misses. With
    /// tools this is the best rounding.
    Closest,
    /// Fewest lots to weigh, then least money.
    FewestWeighings,
    /// Least thrown away: marc with what it holds, and what is left in packs
    /// that were bought; then least money.
    LeastWaste,
    /// Most assurance that iron stays within a criterion.
    Surest(Criterion),
}

impl Objective {
    /// Identifier for JSON and C.
    pub const fn id(&self) -> &'static str {
        match self {
            Objective::LeastCost => "least_cost",
            Objective::Closest => "closest",
            Objective::FewestWeighings => "fewest_weighings",
            Objective::LeastWaste => "least_waste",
            Objective::Surest(_) => "surest",
        }
    }
}
