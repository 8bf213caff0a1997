"""How fast a line of ink darkens on paper.

No rate is published for tannin ink, nor for a dry line: times span powers of ten. The order
of two papers is better known than either time, and no lifetime of a paper follows from them.
"""

from __future__ import annotations

import ctypes as c
from dataclasses import dataclass
from typing import Any, Dict, List, Optional

from . import _structs as s
from ._library import call, count, utf8, written_text
from .constants import WRITING_BITS
from .keeping import times_of
from .kept import Assisted, Darkening
from .recipe import Recipe
from .results import Range


@dataclass(frozen=True)
class Writing:
    """A line on a paper (see `papers`), in the air of a room: 20 °C and a humidity of 0.5 if
    not given. What else is not given is the catalogue's, or drawn from its span."""

    paper: str
    temperature_c: Optional[float] = None
    humidity_share: Optional[float] = None
    film_um: Optional[float] = None
    width_mm: Optional[float] = None
    reach_share: Optional[float] = None
    grammage_g_per_m2: Optional[float] = None
    reserve_percent: Optional[float] = None
    paper_ph: Optional[float] = None
    assisted: Optional[Assisted] = None

    def struct(self) -> Any:
        out = s.new(s.FgallWriting)
        out.paper = utf8(self.paper)
        given: Dict[str, Any] = {
            name: getattr(self, name) for name in WRITING_BITS if hasattr(self, name)
        }
        if given["temperature_c"] is None and given["humidity_share"] is not None:
            given["temperature_c"] = 20.0
        if given["humidity_share"] is None and given["temperature_c"] is not None:
            given["humidity_share"] = 0.5
        if self.assisted is not None:
            given["assisted_l_per_mol_s"] = self.assisted.l_per_mol_s
            given["assisted_factor_95"] = self.assisted.factor_95
            given["assisted_ph"] = self.assisted.ph
            given["assisted_c"] = self.assisted.temperature_c
        s.fill(out, WRITING_BITS, given)
        return out


def darkening(recipe: Recipe, writing: Writing) -> Darkening:
    """How fast a line of the ink of a recipe darkens."""
    out = s.new(s.FgallDarkening)
    call("fgall_darkening", recipe._handle, c.byref(writing.struct()), c.byref(out))
    return s.read(Darkening, out)


def darkening_curve(recipe: Recipe, writing: Writing, at_days: Any) -> List[Range]:
    """Share of the iron(II) oxidised: low end, typical value, high end at each time; a list
    of days, or a column as for Columns.evaluate, that does not fall."""
    given = (recipe._handle, c.byref(writing.struct()))
    rows = times_of(s.FgallRange, "fgall_darkening_curve", at_days, given)
    return [Range(row.min, row.typical, row.max) for row in rows]


def papers() -> List[str]:
    """Identifiers of the papers in the catalogue."""
    every = range(count("fgall_paper_count"))
    return [written_text("fgall_paper_id", index) for index in every]
