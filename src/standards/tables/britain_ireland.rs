//! BS 3484 and IS 38.

use super::{NO_TEXT, at_most, clause, not_seen, test, text};
use crate::source::Status;
use crate::standards::Quantity;
use crate::standards::clause::{Clause, Limit, Requirement};
use crate::standards::standard::{Cited, Kind, OwnInk, Standard, Standing};
use crate::standards::to_carry_out::{Role, TestFigure};
use std::borrow::Cow;

const NOTHING_VISIBLE: &[TestFigure] = &[at_most(Role::Visible, 0.0, "", STATUTE)];

const NO_WORSE: &[TestFigure] = &[at_most(Role::TimesReference, 1.0, "x reference", STATUTE)];

const CIRCULATED: Cited = Cited::row(
    "BS 3484:1962, recipe as circulated, not read in the standard itself",
    Status::Secondary,
);

const BS_1962_CLAUSES: &[Clause] = &[clause(
    "composition",
    "metallic iron",
    Requirement::Limit(Limit::row(
        Quantity::Iron,
        Some(5.0),
        Some(6.0),
        0,
        "",
        None,
    )),
    "the circulated recipe computes to 5.02 g/L",
    CIRCULATED,
)];

pub(super) const BS_1962: Standard = Standard {
    id: text("bs_3484_1962"),
    name: text("BS 3484:1962, record ink"),
    place: text("United Kingdom"),
    edition: text("first, April 1962"),
    kind: Kind::Specification,
    standing: Standing::Unknown,
    published: text("1962"),
    ended: NO_TEXT,
    scope: text("record ink"),
    own_ink: OwnInk::Published("british_record_1962"),
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(BS_1962_CLAUSES),
    note: text(
        "at third hand; the second edition of January 1992 is BS 3484-1:1991, by whose front matter the first is of April 1962",
    ),
    cited: CIRCULATED,
};

const FRONT_MATTER: Cited = Cited::row(
    "BS 3484-1:1991 front matter and catalogue data",
    Status::Secondary,
);

const BS_1991_CLAUSES: &[Clause] = &[
    clause(
        "App. B",
        "iron content (by atomic absorption or volumetrically)",
        not_seen(Some(Quantity::Iron), "limits and method not seen"),
        "",
        FRONT_MATTER,
    ),
    clause(
        "App. C",
        "sediment",
        not_seen(None, "a test, numbers not seen"),
        "",
        FRONT_MATTER,
    ),
    clause(
        "App. D",
        "stability",
        not_seen(None, "a test, numbers not seen"),
        "",
        FRONT_MATTER,
    ),
    clause(
        "App. E",
        "performance",
        not_seen(None, "a test, numbers not seen"),
        "",
        FRONT_MATTER,
    ),
];

pub(super) const BS_1991: Standard = Standard {
    id: text("bs_3484_1_1991"),
    name: text("BS 3484-1:1991, blue-black record ink"),
    place: text("United Kingdom"),
    edition: text("second, January 1992; amendment 1 (8071) of February 1994 in the copy seen"),
    kind: Kind::Specification,
    standing: Standing::Withdrawn,
    published: text("1992-01-31"),
    ended: text("2019-01-18"),
    scope: text("blue-black record ink"),
    // Its Appendix A.
    own_ink: OwnInk::NumbersNotSeen,
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(BS_1991_CLAUSES),
    note: text("appendices A (standard reference ink) to E are known by their titles"),
    cited: FRONT_MATTER,
};

pub(super) const BS_1994: Standard = Standard {
    id: text("bs_3484_2_1994"),
    name: text("BS 3484-2:1994, permanent inks"),
    place: text("United Kingdom"),
    edition: text("1994"),
    kind: Kind::Specification,
    standing: Standing::Withdrawn,
    published: text("1994"),
    ended: NO_TEXT,
    scope: text("permanent record inks, for documents that are to be used and kept very long"),
    own_ink: OwnInk::NoneKnown,
    own_ink_rules: Cow::Borrowed(&[]),
    clauses: Cow::Borrowed(&[]),
    note: text("the part exists and is withdrawn; nothing of it has been seen"),
    cited: FRONT_MATTER,
};

const STATUTE: Cited = Cited::row(
    "Irish Statute Book, S.I. No. 81/1952, first part",
    Status::Published,
);

const IS_38_CLAUSES: &[Clause] = &[
    clause(
        "3",
        "sediment",
        test(
            "look at it by Appendix B, which has not been read",
            "clear and free from sediment",
            NOTHING_VISIBLE,
            false,
        ),
        "",
        STATUTE,
    ),
    clause(
        "4",
        "stability",
        test(
            "keep it side by side with the reference ink by Appendix C, which has not been read",
            "no more mould or deposit than in the reference ink",
            NO_WORSE,
            true,
        ),
        "by comparison: no number of its own in the part seen",
        STATUTE,
    ),
    clause(
        "5",
        "corrosive action",
        test(
            "weigh steel nibs before and after by Appendix D, which has not been read",
            "the nibs lose no more than in the reference ink",
            NO_WORSE,
            true,
        ),
        "by comparison",
        STATUTE,
    ),
    clause(
        "6",
        "writing properties",
        test(
            "write with it on good writing paper, let it dry; blot other lines",
            "no smudge, stickiness or penetration after drying; enough colour when blotted",
            &[],
            false,
        ),
        "",
        STATUTE,
    ),
    clause(
        "7",
        "iron content, at least",
        Requirement::Limit(Limit::row(Quantity::Iron, Some(1.5), None, 1, "", None)),
        "the print has a scan error in place of the decimal sign; the method of its appendix has not been seen",
        STATUTE,
    ),
    clause(
        "7",
        "iron content, at most",
        not_seen(Some(Quantity::Iron), "between 3.0 and 3.9 g/L, not seen"),
        "the clause reads \"not more than 3\" and is cut off there",
        STATUTE,
    ),
];

pub(super) const IS_38: Standard = Standard {
    id: text("is_38_1952"),
    name: text("Irish Standard 38:1952"),
    place: text("Ireland"),
    edition: text("1952"),
    kind: Kind::Specification,
    standing: Standing::Unknown,
    published: text("1952"),
    ended: NO_TEXT,
    scope: text("blue-black writing ink, fountain and dip pens"),
    // Its Appendix A.
    own_ink: OwnInk::NumbersNotSeen,
    own_ink_rules: Cow::Borrowed(&[at_most(Role::AgeOfReference, 3.0, "month", STATUTE)]),
    clauses: Cow::Borrowed(IS_38_CLAUSES),
    note: text(
        "clause 2: the reference ink is made by Appendix A and at most 3 months old; the appendices and any clause on acid have not been seen",
    ),
    cited: STATUTE,
};
