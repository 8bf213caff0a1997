//! The published specifications, one file for each group.

mod britain_ireland;
mod elsewhere;
mod germany_sweden;
mod india;
mod united_states;

use super::clause::{Clause, Requirement, Text};
use super::standard::{Cited, Standard};
use super::to_carry_out::{Role, Test, TestFigure};
use std::borrow::Cow;

pub(super) const STANDARDS: &[Standard] = &[
    germany_sweden::CLASS_I,
    germany_sweden::CLASS_II,
    germany_sweden::TYPE_INK_1890,
    germany_sweden::SWEDEN,
    united_states::TT_I_563,
    united_states::WITH_GUM,
    united_states::C413,
    united_states::RP779,
    britain_ireland::BS_1962,
    britain_ireland::BS_1991,
    britain_ireland::BS_1994,
    britain_ireland::IS_38,
    india::IS_220,
    india::IS_221,
    elsewhere::ISO_11798,
    elsewhere::OTHER_PENS,
];

const fn text(words: &'static str) -> Text {
    Cow::Borrowed(words)
}

const NO_TEXT: Text = Cow::Borrowed("");

/// A clause with nothing else to say of it.
const fn clause(
    number: &'static str,
    title: &'static str,
    requirement: Requirement,
    note: &'static str,
    cited: Cited,
) -> Clause {
    Clause {
        number: Cow::Borrowed(number),
        title: Cow::Borrowed(title),
        requirement,
        rivals: Cow::Borrowed(&[]),
        note: Cow::Borrowed(note),
        cited,
    }
}

const fn test(
    method: &'static str,
    passes: &'static str,
    figures: &'static [TestFigure],
    beside_reference: bool,
) -> Requirement {
    Requirement::Test(Test {
        method: Cow::Borrowed(method),
        passes: Cow::Borrowed(passes),
        figures: Cow::Borrowed(figures),
        beside_reference,
    })
}

/// A figure that is neither a least nor a most: so much.
const fn just(role: Role, figure: f64, unit: &'static str, cited: Cited) -> TestFigure {
    figure_of(role, Some(figure), Some(figure), unit, cited)
}

const fn at_most(role: Role, figure: f64, unit: &'static str, cited: Cited) -> TestFigure {
    figure_of(role, None, Some(figure), unit, cited)
}

const fn at_least(role: Role, figure: f64, unit: &'static str, cited: Cited) -> TestFigure {
    figure_of(role, Some(figure), None, unit, cited)
}

/// One of two figures that sources give for the same thing.
const fn disputed(role: Role, figure: f64, unit: &'static str, cited: Cited) -> TestFigure {
    TestFigure {
        role,
        min: Some(figure),
        max: Some(figure),
        unit: Cow::Borrowed(unit),
        disputed: true,
        cited,
    }
}

const fn figure_of(
    role: Role,
    min: Option<f64>,
    max: Option<f64>,
    unit: &'static str,
    cited: Cited,
) -> TestFigure {
    TestFigure {
        role,
        min,
        max,
        unit: Cow::Borrowed(unit),
        disputed: false,
        cited,
    }
}

const fn not_seen(quantity: Option<super::Quantity>, reads: &'static str) -> Requirement {
    Requirement::NotSeen {
        quantity,
        reads: Cow::Borrowed(reads),
    }
}
