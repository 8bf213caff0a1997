"""What the air in a bottle can do at most."""

from __future__ import annotations

import ctypes as c
from dataclasses import replace
from typing import Any, Dict, List, Optional

from . import _structs as s
from ._library import call, count, utf8, written_text
from .constants import (
    BOTTLE_BITS,
    BOTTLE_WITHOUT_DISSOLVED_OXYGEN,
    BOUND_DAYS_TO_SHARE,
    BOUND_OPENINGS_TO_SHARE,
)
from .inputs import Wall, air
from .results import OxygenBound


def oxygen_bound(
    *,
    capacity_ml: float,
    fill_ml: float,
    iron_ii_mol_per_l: float,
    closure: Optional[str] = None,
    wall: Optional[Wall] = None,
    temperature_c: Optional[float] = None,
    pressure_kpa: Optional[float] = None,
    opened_every_days: Optional[float] = None,
    air_exchanged_share: Optional[float] = None,
    drawn_ml: Optional[float] = None,
    kept_days: Optional[float] = None,
    iron_per_oxygen: Optional[float] = None,
    stated_share: Optional[float] = None,
    without_dissolved_oxygen: bool = False,
) -> OxygenBound:
    """The most iron(II) that oxygen can have taken from a bottle of this brimful capacity.

    An upper bound, not a shelf life. The defaults: sealed glass, 25 °C and 101.325 kPa,
    never opened, 0.3 of the headspace exchanged at an opening, nothing drawn, kept for a
    year, 4 iron per O2, and 0.1 for the lost share that is asked after.
    """
    bottle = s.new(s.FgallBottle)
    bottle.capacity_ml, bottle.fill_ml = capacity_ml, fill_ml
    bottle.iron_ii_mol_per_l = iron_ii_mol_per_l
    bottle.closure = None if closure is None else utf8(closure)
    if without_dissolved_oxygen:
        bottle.set |= BOTTLE_WITHOUT_DISSOLVED_OXYGEN
    given: Dict[str, Any] = {
        "opened_every_days": opened_every_days,
        "air_exchanged_share": air_exchanged_share,
        "drawn_ml": drawn_ml,
        "kept_days": kept_days,
        "iron_per_oxygen": iron_per_oxygen,
        "stated_share": stated_share,
    }
    given.update(air(temperature_c, pressure_kpa, usual_c=25.0))
    given.update(wall.fields() if wall else {})
    s.fill(bottle, BOTTLE_BITS, given)
    out = s.new(s.FgallOxygenBound)
    call("fgall_oxygen_bound", c.byref(bottle), c.byref(out))
    return read_bound(out)


def read_bound(struct: Any) -> OxygenBound:
    """The dataclass of a bound, None for what is not known."""
    bound = s.read(OxygenBound, struct)
    if not bound.known & BOUND_OPENINGS_TO_SHARE:
        bound = replace(bound, openings_to_share=None)
    if not bound.known & BOUND_DAYS_TO_SHARE:
        bound = replace(bound, days_to_share=None)
    return bound


def closures() -> List[str]:
    """Identifiers of the closures in the catalogue."""
    every = range(count("fgall_closure_count"))
    return [written_text("fgall_closure_id", index) for index in every]


def polymers() -> List[str]:
    """Identifiers of the polymers in the catalogue."""
    every = range(count("fgall_polymer_count"))
    return [written_text("fgall_polymer_id", index) for index in every]
