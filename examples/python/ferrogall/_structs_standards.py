"""The structs of specifications; `_structs` takes them in at its end."""

from __future__ import annotations

import ctypes as c
import math
from typing import Any, Optional

from . import held
from ._structs import C_TYPES, READERS, _mirror


def _figure(raw: float) -> Optional[float]:
    return None if math.isnan(raw) else raw


def _other(raw: int) -> Any:
    return held.Held(raw) if raw else None


for _family in (held.Document, held.Standing, held.Requires, held.Held, held.Together):
    C_TYPES[_family.__name__] = c.c_uint32
    READERS[_family.__name__] = _family
C_TYPES["Figure"], READERS["Figure"] = c.c_double, _figure
C_TYPES["OtherHeld"], READERS["OtherHeld"] = c.c_uint32, _other

FgallStandard = _mirror("FgallStandard", held.Standard)
FgallClause = _mirror("FgallClause", held.Clause, sized=False)
FgallClauseHeld = _mirror("FgallClauseHeld", held.ClauseHeld, sized=False)
FgallStandardHeld = _mirror("FgallStandardHeld", held.StandardHeld)
