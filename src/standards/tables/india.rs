//! The Indian standards for ferro-gallo tannate inks.

use super::{NO_TEXT, at_most, clause, text};
use crate::source::Status;
use crate::standards::Quantity;
use crate::standards::clause::{Clause, Limit, Requirement};
use crate::standards::standard::{Cited, Kind, OwnInk, Standard, Standing};
use crate::standards::to_carry_out::Role;
use std::borrow::Cow;

const TITLE: Cited = Cited::row(
    "IS 220:1988, reaffirmed 2010, its title and scope in an encyclopaedia article",
    Status::Secondary,
);
const MEMORY: Cited = Cited::row("no source at hand", Status::FromMemory);

const IS_220_CLAUSES: &[Clause] = &[clause(
    "title and scope",
    "iron",
    Requirement::Limit(Limit::row(
        Quantity::Iron,
        Some(1.0),
        None,
        0,
        "0.1 %",
        None,
    )),
    "0.1 %, the basis not seen; taken as mass by volume, 1 g/L, its last digit as 1 g/L",
    TITLE,
)];

pub(super) const IS_220: Standard = Standard {
    id: text("is_220_1988"),
    name: text("IS 220:1988, ferro-gallo tannate fountain pen ink"),
    place: text("India"),
    edition: text("1988, reaffirmed 2010"),
    kind: Kind::Specification,
    standing: Standing::Unknown,
    published: text("1988"),
    ended: NO_TEXT,
    scope: text("ferro-gallo tannate fountain pen ink with 0.1 % of iron"),
    // Its Annex M.
    own_ink: OwnInk::NumbersNotSeen,
    own_ink_rules: Cow::Borrowed(&[at_most(Role::AgeOfReference, 1.0, "month", MEMORY)]),
    clauses: Cow::Borrowed(IS_220_CLAUSES),
    note: text("Annex M: the comparison ink, at most a month old, in amber bottles (from memory)"),
    cited: TITLE,
};

const IS_221_CLAUSES: &[Clause] = &[clause(
    "title",
    "iron, higher class",
    Requirement::Limit(Limit::row(
        Quantity::Iron,
        Some(2.0),
        None,
        0,
        "0.2 %",
        None,
    )),
    "0.2 %, taken as mass by volume, 2 g/L, its last digit as 1 g/L",
    MEMORY,
)];

pub(super) const IS_221: Standard = Standard {
    id: text("is_221"),
    name: text("IS 221"),
    place: text("India"),
    edition: text("not known"),
    kind: Kind::Specification,
    standing: Standing::Unknown,
    published: NO_TEXT,
    ended: NO_TEXT,
    scope: text("ferro-gallo tannate ink with 0.2 % of iron"),
    own_ink: OwnInk::NoneKnown,
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(IS_221_CLAUSES),
    note: text("all of it from memory: no fact until somebody opens the source"),
    cited: MEMORY,
};
