//! The federal inks of the United States and the methods to test them.

use super::{NO_TEXT, at_most, clause, just, test, text};
use crate::source::Status;
use crate::standards::Quantity;
use crate::standards::clause::{Clause, Limit, Requirement};
use crate::standards::standard::{Cited, Kind, OwnInk, Standard, Standing};
use crate::standards::to_carry_out::{Role, TestFigure};
use std::borrow::Cow;

const NO_WORSE: &[TestFigure] = &[at_most(
    Role::TimesReference,
    1.0,
    "x reference",
    C413_EXCERPTS,
)];

const PENS_TIME: &[TestFigure] = &[just(Role::Duration, 48.0, "h", C413_MEMORY)];

const STREAKS_AGE: &[TestFigure] = &[just(Role::AgeOfWriting, 7.0, "day", C413_MEMORY)];

const RP807_AND_C413: Cited = Cited::row(
    "Zimmerman 1935, J. Res. NBS 15, RP807; NBS Circular C413 (1936); both as quoted by others",
    Status::Secondary,
);

const TT_I_563_CLAUSES: &[Clause] = &[clause(
    "composition",
    "metallic iron, computed from 15.0 g of green vitriol",
    Requirement::Limit(Limit::row(
        Quantity::Iron,
        Some(3.0),
        Some(3.0),
        0,
        "3 g",
        None,
    )),
    "15.0 g of green vitriol computes to 3.013 g/L; the sources say 3 g, so it is read as rounded to grams",
    RP807_AND_C413,
)];

pub(super) const TT_I_563: Standard = Standard {
    id: text("us_tt_i_563"),
    name: text("US federal specification TT-I-563, Ink; Writing"),
    place: text("United States"),
    edition: text("about 1935; TT-I-563F has been seen on a list of federal items"),
    kind: Kind::Specification,
    standing: Standing::Unknown,
    published: NO_TEXT,
    ended: NO_TEXT,
    scope: text("Ink, Writing, for Fountain and Dip Pens"),
    own_ink: OwnInk::Published("us_federal_writing_1935"),
    own_ink_rules: Cow::Borrowed(&[just(Role::Temperature, 20.0, "degC", C413_COPY)]),
    clauses: Cow::Borrowed(TT_I_563_CLAUSES),
    note: text(
        "the reference ink is made up to volume at 20 °C; the list is a pointer only (forum post, at second hand)",
    ),
    cited: RP807_AND_C413,
};

const C413_COPY: Cited = Cited::row(
    "NBS Circular C413 (1936), as copied on the web",
    Status::Secondary,
);

const GUM: Cited = Cited::row(
    "NBS Circular C413 or C426, quoted in a forum; the subject of the sentence is cut off and read as the type ink of 1890",
    Status::Secondary,
);

const WITH_GUM_CLAUSES: &[Clause] = &[clause(
    "gum arabic",
    "gum acacia",
    Requirement::Limit(Limit::row(
        Quantity::GumArabic,
        Some(10.0),
        Some(10.0),
        0,
        "",
        None,
    )),
    "a protective colloid; later dropped by clerical omission and found unnecessary",
    GUM,
)];

pub(super) const WITH_GUM: Standard = Standard {
    id: text("us_official_with_gum"),
    name: text("US official ink with gum"),
    place: text("United States"),
    edition: text("before 1936"),
    kind: Kind::TypeInk,
    standing: Standing::Unknown,
    published: NO_TEXT,
    ended: NO_TEXT,
    scope: text("the official ink before its gum was left out"),
    own_ink: OwnInk::Published("swedish_archival_1964"),
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(WITH_GUM_CLAUSES),
    note: text(
        "its ink is read as the type ink of 1890; a Massachusetts and Treasury formula of about 1900, the same, is from memory",
    ),
    cited: GUM,
};

const C413_EXCERPTS: Cited = Cited::row(
    "Waters 1936, NBS Circular C413 pp. 41-44, excerpts on the web",
    Status::Secondary,
);
const C413_MEMORY: Cited = Cited::row("NBS Circular C413, no source at hand", Status::FromMemory);

const SETTLING: &[TestFigure] = &[
    just(Role::Sample, 1.0, "US pint", C413_EXCERPTS),
    just(Role::Duration, 24.0, "h", C413_EXCERPTS),
];
const KEEPING: &[TestFigure] = &[
    just(Role::Duration, 14.0, "day", C413_EXCERPTS),
    just(Role::PerDish, 25.0, "mL", C413_EXCERPTS),
];

const C413_CLAUSES: &[Clause] = &[
    clause(
        "principle",
        "comparison with the standard ink",
        test(
            "sample and standard ink on the same sheet, through the same tests",
            "no worse than the standard ink",
            NO_WORSE,
            true,
        ),
        "",
        C413_EXCERPTS,
    ),
    clause(
        "sediment",
        "what settles",
        test(
            "leave one bottle (473 mL) undisturbed, then tilt it against the light",
            "at most a trace of sediment; very muddy ink is rejected without further tests",
            SETTLING,
            false,
        ),
        "",
        C413_EXCERPTS,
    ),
    clause(
        "keeping quality",
        "open dishes side by side",
        test(
            "sample and standard ink in crystallizing dishes, side by side",
            "keeps no worse than the standard ink",
            KEEPING,
            true,
        ),
        "",
        C413_EXCERPTS,
    ),
    clause(
        "action on pens",
        "loss of steel pens",
        test(
            "immerse weighed steel pens in sample and standard ink at room temperature",
            "the pens lose no more than in the standard ink",
            PENS_TIME,
            true,
        ),
        "",
        C413_MEMORY,
    ),
    clause(
        "permanence",
        "streaks against light, water, alcohol and bleach",
        test(
            "age streaks of both inks, then expose them to light, water, 50 % alcohol and bleach",
            "no weaker than the streaks of the standard ink",
            STREAKS_AGE,
            true,
        ),
        "",
        C413_MEMORY,
    ),
];

pub(super) const C413: Standard = Standard {
    id: text("nbs_c413"),
    name: text("NBS Circular C413, tests of iron gallotannate inks"),
    place: text("United States"),
    edition: text("1936"),
    kind: Kind::TestMethods,
    standing: Standing::Unknown,
    published: text("1936"),
    ended: NO_TEXT,
    scope: text("tests for inks bought under the federal specifications"),
    own_ink: OwnInk::Published("us_federal_writing_1935"),
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(C413_CLAUSES),
    note: text(
        "excerpts only; the standard ink is taken to be that of the specification the sample is bought under, here the writing ink",
    ),
    cited: C413_EXCERPTS,
};

const RP779_ABSTRACT: Cited = Cited::row(
    "Zimmerman, Weber and Kimberly 1935, J. Res. NBS 14, RP779, abstract",
    Status::Secondary,
);

const AGEING: &[TestFigure] = &[
    just(Role::Temperature, 100.0, "degC", RP779_ABSTRACT),
    just(Role::Duration, 72.0, "h", RP779_ABSTRACT),
];

const RP779_CLAUSES: &[Clause] = &[clause(
    "ageing",
    "accelerated ageing of inked paper",
    test(
        "heat inked and uninked writing paper together",
        "no limit: the paper tells what ink takes from its strength",
        AGEING,
        false,
    ),
    "",
    RP779_ABSTRACT,
)];

pub(super) const RP779: Standard = Standard {
    id: text("nbs_rp779"),
    name: text("accelerated ageing of inked paper, NBS RP779"),
    place: text("United States"),
    edition: text("1935"),
    kind: Kind::TestMethods,
    standing: Standing::Unknown,
    published: text("1935"),
    ended: NO_TEXT,
    scope: text("what ink does to the paper; a paper, not a standard"),
    own_ink: OwnInk::NoneKnown,
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(RP779_CLAUSES),
    note: NO_TEXT,
    cited: RP779_ABSTRACT,
};
