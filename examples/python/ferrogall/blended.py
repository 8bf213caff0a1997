"""What the library answers of inks from a cupboard: as in `results`, one frozen dataclass
for each struct.
"""

from __future__ import annotations

from dataclasses import dataclass

from . import constants


@dataclass(frozen=True)
class BlendSummary:
    """An ink as a whole: the cost is NaN when nothing in it has a price, the residual where
    it is not of stocks poured together."""

    volume_ml: float
    weighings: int
    meets_all: bool
    cost: float
    waste_g: float
    residual: float


@dataclass(frozen=True)
class Taken:
    """So much of one lot, `lot` being its index on the shelf. NaN: the volume of a solid,
    steps without tools, what is left where there is no end to it, cost without a price."""

    lot: int
    name: str
    mass_g: float
    volume_ml: float
    steps: float
    left_g: float
    packs: float
    cost: float


@dataclass(frozen=True)
class BlendFigure:
    """One thing that was wanted and what became of it. An open end is NaN; `miss` is a share
    of the end that is missed (of pH: in pH), negative below."""

    wanted: constants.Figure
    is_met: bool
    name: str
    unit: str
    low: float
    high: float
    reached: float
    miss: float


@dataclass(frozen=True)
class More:
    """What more of one lot would give; NaN where there would be no end to it."""

    lot: int
    name: str
    mass_g: float
    cost: float
    volume_ml: float


@dataclass(frozen=True)
class MadeRow:
    """One ink of many; `missed` figures are not what was wanted."""

    cost: float
    waste_g: float
    weighings: float
    missed: float
    worst_miss: float
    volume_ml: float
