"""What the library answers of how sure an ink is: as in `results`, one frozen dataclass
for each struct.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from .constants import Method, Remedy


class Chance(NamedTuple):
    """How likely something is, and the standard error from the number of draws alone."""

    probability: float
    sampling_error: float


@dataclass(frozen=True)
class StudySource:
    """One thing that is not known exactly: its estimate, standard uncertainty and 95 %
    interval, in `unit`, which is empty for a ratio."""

    name: str
    unit: str
    estimate: float
    u: float
    low: float
    high: float
    remedy: Remedy


@dataclass(frozen=True)
class Answer:
    """A figure with its standard uncertainty and 95 % interval, in the unit that its
    Measurand names."""

    method: Method
    value: float
    u: float
    low: float
    high: float
    failed_draws: int
    tools_share: float


@dataclass(frozen=True)
class Help:
    """What knowing one source exactly would do to the interval of a figure."""

    source: int
    name: str
    share: float
    width_left: float
    remedy: Remedy


@dataclass(frozen=True)
class Assurance:
    """How much of a lot makes sure that no iron is left over, and how sure it is now."""

    factor: float
    mass_g: float
    now: float


@dataclass(frozen=True)
class Belief:
    """What is believed of a positive property: its logarithm is normal. A surprise beyond
    3 says that the lot is not what it is taken for, or that the test went wrong; NaN
    without evidence."""

    median: float
    u_ln: float
    low: float = math.nan
    high: float = math.nan
    surprise: float = math.nan
