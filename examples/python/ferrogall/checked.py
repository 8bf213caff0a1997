"""What the library answers of slips: as in `results`, one frozen dataclass for each struct."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Optional

from .constants import Severity
from .results import LongText


@dataclass(frozen=True)
class Slip:
    """A likely slip behind a finding: `value` is the finding's figure in the corrected recipe,
    in the finding's unit; `left` is None when the finding is gone; `published` is the published
    ink that the corrected one is, or empty. `plausibility` is to rank by, no probability."""

    kind: str
    value: float
    plausibility: float
    left: Optional[Severity]
    changes: int
    published: str
    message: LongText
