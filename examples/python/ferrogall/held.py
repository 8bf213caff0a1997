"""What specifications of ink say, as plain values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import List, Optional

from .results import Count32, LongText

Figure = Optional[float]  # NaN in C


class Document(IntEnum):
    """What kind of document it is; FGALL_DOCUMENT_…"""

    SPECIFICATION = 1
    TYPE_INK = 2
    TEST_METHODS = 3
    ELSEWHERE_ONLY = 4


class Standing(IntEnum):
    """Whether it is in force, as far as is known; FGALL_STANDING_…"""

    IN_FORCE = 1
    WITHDRAWN = 2
    CANCELLED = 3
    UNKNOWN = 4


class Requires(IntEnum):
    """What a clause asks for; FGALL_CLAUSE_…"""

    LIMIT = 1
    TEST = 2
    NOT_SEEN = 3


class Held(IntEnum):
    """What a clause says of an ink; FGALL_HELD_…"""

    MEETS = 1
    MEETS_AS_ROUNDED = 2
    DOES_NOT_MEET = 3
    CANNOT_BE_COMPUTED = 4
    NUMBER_NOT_SEEN = 5
    NO_FIGURE = 6


class Together(IntEnum):
    """What all clauses on the composition say; FGALL_TOGETHER_…"""

    MET = 1
    MET_AS_ROUNDED = 2
    NOT_MET = 3
    NOTHING_TO_COMPUTE = 4


@dataclass(frozen=True)
class Standard:
    """A published specification. Nothing in it is law; its source says how it was read."""

    id: str
    title: LongText
    scope: LongText
    document: Document
    standing: Standing
    clause_count: int
    has_own_ink: bool
    own_ink: str
    note: LongText
    source: LongText


@dataclass(frozen=True)
class Clause:
    """One clause; `words` is its test, or what is known of a number not seen.

    `printed` is the limit in the words of the print where those differ,
    `other_figures` what other sources say, each with its source.
    """

    number: str
    title: str
    requires: Requires
    quantity: str
    unit: str
    min: Figure
    max: Figure
    decimals: Count32
    words: LongText
    source: LongText
    printed: str
    other_figures: LongText
    note: LongText


@dataclass(frozen=True)
class ClauseHeld:
    """What one clause says of an ink, in the unit of the clause."""

    verdict: Held
    figure: Figure
    margin: Figure
    relative_margin: Figure
    factor: Figure
    other_figure: Figure
    other_verdict: OtherHeld
    chance_as_stated: Figure
    chance_as_rounded: Figure
    low: Figure
    high: Figure


OtherHeld = Optional[Held]  # 0 in C


@dataclass(frozen=True)
class StandardHeld:
    """All clauses together; it never says that a standard is met, tests remain."""

    composition: Together
    met: int
    met_as_rounded: int
    not_met: int
    tests: int
    not_seen: int
    strength_factor: Figure
    water_percent: Figure
    chance_as_stated: Figure
    chance_as_rounded: Figure
    summary: LongText


@dataclass(frozen=True)
class HeldAgainst:
    """An ink held against a standard: the sum, and a row for each of its clauses."""

    together: StandardHeld
    clauses: List[ClauseHeld]
