//! The German document inks, the type ink they rest on, and Sweden.

use super::{NO_TEXT, at_least, clause, disputed, just, test, text};
use crate::source::Status;
use crate::standards::Quantity;
use crate::standards::clause::{Clause, Limit, Requirement, Rival};
use crate::standards::standard::{Cited, Kind, OwnInk, Standard, Standing};
use crate::standards::to_carry_out::{Role, TestFigure};
use std::borrow::Cow;

const NO_WORSE: &[TestFigure] = &[at_least(
    Role::TimesReference,
    1.0,
    "x reference",
    PROCLAMATION,
)];

const PRINCIPLES: Cited = Cited::row(
    "principles of the Imperial Chancellery 1888 with the supplement of 1912, in a German encyclopaedia article quoted by others",
    Status::Secondary,
);
const SPANISH: Cited = Cited::row(
    "German decree of 1 August 1888, in a Spanish account of 2008",
    Status::Secondary,
);
const MEMORY: Cited = Cited::row("no source at hand", Status::FromMemory);

const CLASS_I_CLAUSES: &[Clause] = &[
    Clause {
        number: text("composition"),
        title: text("tannic and gallic acid together"),
        requirement: Requirement::Limit(Limit::row(
            Quantity::TannicAndGallicAcid,
            Some(27.0),
            None,
            0,
            "",
            Some(Quantity::TannicAcidAndGallicCrystals),
        )),
        rivals: Cow::Borrowed(&[Rival {
            limit: Limit::row(
                Quantity::TannicAndGallicAcid,
                Some(30.0),
                None,
                0,
                "",
                Some(Quantity::TannicAcidAndGallicCrystals),
            ),
            cited: Cited::row("a figure for 1888, no source at hand", Status::FromMemory),
        }]),
        note: text("the sources do not say whether gallic acid is meant with its crystal water"),
        cited: PRINCIPLES,
    },
    clause(
        "composition",
        "metallic iron",
        Requirement::Limit(Limit::row(
            Quantity::Iron,
            Some(4.0),
            Some(6.0),
            0,
            "",
            None,
        )),
        "the type ink of 1888 itself computes to 6.03 g/L: to be read as rounded to grams",
        PRINCIPLES,
    ),
    clause(
        "keeping",
        "standing in glass",
        test(
            "let it stand in ordinary inkwell glasses",
            "no layers, no deposit on the wall, no sediment",
            KEEPING,
            false,
        ),
        "",
        PRINCIPLES,
    ),
    clause(
        "permanence",
        "washing of the writing",
        test(
            "wash writing of this age with water and with alcohol",
            "stays deep dark (by the Spanish account: stays legible)",
            WASHING,
            false,
        ),
        "8 or 7 days: the sources disagree, both are kept",
        PRINCIPLES,
    ),
    clause(
        "writing",
        "flow and stickiness",
        test(
            "write with it",
            "flows easily, is not sticky right after drying",
            &[],
            false,
        ),
        "",
        PRINCIPLES,
    ),
];

const KEEPING: &[TestFigure] = &[
    just(Role::Duration, 14.0, "day", PRINCIPLES),
    just(Role::PerDish, 25.0, "mL", SPANISH),
];

const WASHING: &[TestFigure] = &[
    disputed(Role::AgeOfWriting, 8.0, "day", PRINCIPLES),
    disputed(Role::AgeOfWriting, 7.0, "day", SPANISH),
];

pub(super) const CLASS_I: Standard = Standard {
    id: text("de_document_class_i"),
    name: text("German document ink, class I (Urkundentinte)"),
    place: text("Germany"),
    edition: text("1888, supplement of 1912"),
    kind: Kind::Specification,
    standing: Standing::Unknown,
    published: text("1888"),
    ended: NO_TEXT,
    scope: text("ink for documents and records"),
    own_ink: OwnInk::Published("german_document_1888"),
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(CLASS_I_CLAUSES),
    note: text("neither the text of 1888 nor that of 1912 has been read"),
    cited: PRINCIPLES,
};

const CLASS_II_CLAUSES: &[Clause] = &[
    clause(
        "composition",
        "tannic and gallic acid",
        Requirement::Limit(Limit::row(
            Quantity::TannicAndGallicAcid,
            Some(18.0),
            None,
            0,
            "",
            Some(Quantity::TannicAcidAndGallicCrystals),
        )),
        "",
        MEMORY,
    ),
    clause(
        "composition",
        "metallic iron",
        Requirement::Limit(Limit::row(
            Quantity::Iron,
            Some(2.6),
            Some(4.0),
            1,
            "2.6 to 4 g/L",
            None,
        )),
        "both ends read as stated to one decimal",
        MEMORY,
    ),
];

pub(super) const CLASS_II: Standard = Standard {
    id: text("de_writing_class_ii"),
    name: text("German writing ink, class II (Eisengallusschreibtinte)"),
    place: text("Germany"),
    edition: text("1912"),
    kind: Kind::Specification,
    standing: Standing::Unknown,
    published: text("1912"),
    ended: NO_TEXT,
    scope: text("iron-gall ink for ordinary writing"),
    own_ink: OwnInk::NoneKnown,
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(CLASS_II_CLAUSES),
    note: text("all of it from memory: no fact until somebody opens the source"),
    cited: MEMORY,
};

const TYPE_INK: Cited = Cited::row(
    "Zimmerman 1935, J. Res. NBS 15, RP807, at second hand; a Spanish account of 2008 gives 6 g",
    Status::Secondary,
);

const TYPE_INK_CLAUSES: &[Clause] = &[clause(
    "composition",
    "metallic iron, computed from 30 g of green vitriol",
    Requirement::Limit(Limit::row(
        Quantity::Iron,
        Some(6.03),
        Some(6.03),
        2,
        "",
        None,
    )),
    "what the type ink holds, not a limit that anybody set",
    TYPE_INK,
)];

pub(super) const TYPE_INK_1890: Standard = Standard {
    id: text("schluttig_neumann_1890"),
    name: text("type ink of Schluttig and Neumann"),
    place: text("Germany"),
    edition: text("1890"),
    kind: Kind::TypeInk,
    standing: Standing::Unknown,
    published: text("1890"),
    ended: NO_TEXT,
    scope: text("the ink that official inks were modelled on"),
    own_ink: OwnInk::Published("swedish_archival_1964"),
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(TYPE_INK_CLAUSES),
    note: NO_TEXT,
    cited: TYPE_INK,
};

const PROCLAMATION: Cited = Cited::row(
    "Sweden, proclamation SFS 1964:504 sec. 10, in translation",
    Status::Secondary,
);

const SWEDISH_CLAUSES: &[Clause] = &[clause(
    "10",
    "resistance of the writing",
    test(
        "expose writing to daylight, air, water and alcohol beside writing in the reference ink",
        "resists at least as well as the reference ink",
        NO_WORSE,
        true,
    ),
    "",
    PROCLAMATION,
)];

pub(super) const SWEDEN: Standard = Standard {
    id: text("se_sfs_1964_504"),
    name: text("Swedish archival ink, SFS 1964:504"),
    place: text("Sweden"),
    edition: text("1964"),
    kind: Kind::Specification,
    standing: Standing::Cancelled,
    published: text("1964"),
    ended: text("1991"),
    scope: text("ink for archives"),
    own_ink: OwnInk::Published("swedish_archival_1964"),
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(SWEDISH_CLAUSES),
    note: text("names its ink by its reference ink, without limits of its own"),
    cited: PROCLAMATION,
};
