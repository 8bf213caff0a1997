//! One ink against every standard.

use super::compare::{CompositionVerdict, StandardComparison};
use super::standard::Standard;
use super::{InkDraws, standards};
use crate::composition::Composition;
use crate::recipe::Evaluation;

/// One ink held against many standards.
///
/// ```
/// use ferrogall::quantity::liters;
/// use ferrogall::standards::{Overview, reference_ink};
/// let ink = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
/// let overview = Overview::of(&ink.evaluate()?.composition);
/// assert!(overview.met().any(|page| page.standard == "is_38_1952"));
/// assert!(overview.not_met().any(|page| page.standard == "de_document_class_i"));
/// println!("{overview}");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Overview {
    /// Version of this shape.
    pub schema: u32,
    /// A page for each standard, in their order.
    pub pages: Vec<StandardComparison>,
}

/// What counts as nearly on the printed overview: missed by at most a tenth of
/// the limit. Ours; [`Overview::nearly`] takes any share.
pub(super) const NEARLY: f64 = 0.1;

impl Overview {
    /// Every published standard.
    pub fn of(ink: &Composition) -> Overview {
        Overview::against(standards(), ink)
    }

    /// Every published standard, with chances by first order.
    pub fn of_made(made: &Evaluation) -> Overview {
        Overview::pages(standards(), |s| s.compare_made(made))
    }

    /// Every published standard, with chances by draws: one run for all.
    pub fn of_drawn(draws: &InkDraws) -> Overview {
        Overview::pages(standards(), |s| s.compare_drawn(draws))
    }

    /// These standards, the caller's own among them.
    pub fn against<'s>(
        standards: impl IntoIterator<Item = &'s Standard>,
        ink: &Composition,
    ) -> Overview {
        Overview::pages(standards, |s| s.compare(ink))
    }

    fn pages<'s>(
        standards: impl IntoIterator<Item = &'s Standard>,
        compare: impl Fn(&Standard) -> StandardComparison,
    ) -> Overview {
        Overview {
            schema: 1,
            pages: standards.into_iter().map(compare).collect(),
        }
    }

    /// Standards whose clauses on the composition are met as far as their
    /// numbers have been seen, as rounded included. Their tests remain, and a
    /// clause whose number has not been seen may still say no.
    pub fn met(&self) -> impl Iterator<Item = &StandardComparison> {
        self.having(&[CompositionVerdict::Met, CompositionVerdict::MetAsRounded])
    }

    /// Those missed by at most this share of each limit.
    pub fn nearly(&self, share: f64) -> impl Iterator<Item = &StandardComparison> {
        self.pages.iter().filter(move |page| page.nearly(share))
    }

    /// Those with a clause that is not met, nearly or by far.
    pub fn not_met(&self) -> impl Iterator<Item = &StandardComparison> {
        self.having(&[CompositionVerdict::NotMet])
    }

    /// Those without a clause that a composition answers.
    pub fn nothing_to_compute(&self) -> impl Iterator<Item = &StandardComparison> {
        self.having(&[CompositionVerdict::NothingToCompute])
    }

    fn having(
        &self,
        wanted: &'static [CompositionVerdict],
    ) -> impl Iterator<Item = &StandardComparison> {
        let those = |page: &&StandardComparison| wanted.contains(&page.composition);
        self.pages.iter().filter(those)
    }
}
