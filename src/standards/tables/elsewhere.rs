//! Standards that say nothing about the composition of such an ink.

use super::{NO_TEXT, text};
use crate::source::Status;
use crate::standards::standard::{Cited, Kind, OwnInk, Standard, Standing};
use std::borrow::Cow;

pub(super) const ISO_11798: Standard = Standard {
    id: text("iso_11798"),
    name: text("ISO 11798"),
    place: text("international"),
    edition: text("1999, revised in 2023"),
    kind: Kind::ElsewhereOnly,
    standing: Standing::Unknown,
    published: text("1999"),
    ended: NO_TEXT,
    scope: text("permanence of writing on paper; no composition limits"),
    own_ink: OwnInk::NoneKnown,
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(&[]),
    note: NO_TEXT,
    cited: Cited::row(
        "its scope and editions, quoted by others",
        Status::Secondary,
    ),
};

pub(super) const OTHER_PENS: Standard = Standard {
    id: text("iso_other_pens"),
    name: text("ISO 12757-2, 14145-2 and 27668-2"),
    place: text("international"),
    edition: text("ISO 12757-2 of 1998; the others not known"),
    kind: Kind::ElsewhereOnly,
    standing: Standing::Unknown,
    published: NO_TEXT,
    ended: NO_TEXT,
    scope: text(
        "documentary use of ballpoint, rollerball and gel pens; no fountain-pen ink standard",
    ),
    own_ink: OwnInk::NoneKnown,
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(&[]),
    note: NO_TEXT,
    cited: Cited::row(
        "a German encyclopaedia article, quoted by others",
        Status::Secondary,
    ),
};
