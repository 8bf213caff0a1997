"""What the library answers of old units and recipes: as in `results`, one frozen
dataclass for each struct, and the enumerations of the header."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from .results import Range


class QuantityKind(IntEnum):
    """What a unit measures: grams, millilitres, seconds."""

    MASS = 0
    VOLUME = 1
    TIME = 2


class Book(IntEnum):
    """The kind of book a recipe stands in."""

    UNKNOWN = 0
    APOTHECARY = 1
    TRADE = 2


class Goods(IntEnum):
    """What is measured, where it decides the measure."""

    UNKNOWN = 0
    WINE = 1
    BEER = 2


class Use(IntEnum):
    """How a unit stands to place and years."""

    FITS = 0
    OTHER_TIME = 1
    OTHER_PLACE = 2
    OTHER_PLACE_AND_TIME = 3


class Figure(IntEnum):
    """A figure by which old recipes are compared."""

    GALLS_PER_VITRIOL = 0
    GALLS_G_PER_L = 1
    VITRIOL_G_PER_L = 2
    GUM_G_PER_L = 3
    GUM_PER_GALLS = 4
    IRON_G_PER_L = 5


class Role(IntEnum):
    """What a line is in the ink."""

    GALLS = 0
    IRON_SALT = 1
    GUM = 2
    LIQUID = 3
    OTHER = 4


class Ending(IntEnum):
    """What volume an old recipe ends with."""

    CHARGE = 0
    BOILED_TO = 1
    BOILED_BY = 2
    BOILED_UNCLEAR = 3
    YIELDS = 4


@dataclass(frozen=True)
class Unit:
    """An old unit in grams, millilitres or seconds; `used` says where and when."""

    index: int
    kind: QuantityKind
    metric_value: float
    relative_u: float
    id: str
    name: str
    used: LongText  # noqa: F821


@dataclass(frozen=True)
class Candidate:
    """A unit that a word may mean, and how many of it."""

    unit: str
    kind: QuantityKind
    standing: Use
    times: float
    metric_value: float
    relative_u: float


@dataclass(frozen=True)
class Echo:
    """A metric amount said in an old unit, and back."""

    units: float
    nearest: float
    back_metric: float
    off: float


@dataclass(frozen=True)
class Quantiles:
    """Where a figure of the historic recipes lies, by nearest rank; NaN where none tells."""

    count: int
    min: float
    p05: float
    p25: float
    median: float
    p75: float
    p95: float
    max: float


@dataclass(frozen=True)
class ReadingFigures:
    """An old recipe, read; NaN where it does not tell."""

    liquid_ml: Range
    final_volume_ml: Range
    galls_per_vitriol: float
    galls_g_per_l: float
    vitriol_g_per_l: float
    gum_g_per_l: float
    gum_per_galls: float
    iron_g_per_l: float
    alternative_count: int
    doubt_count: int
