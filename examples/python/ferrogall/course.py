"""A bottle followed through what happens to it, by rates of the caller's."""

from __future__ import annotations

import ctypes as c
from dataclasses import dataclass
from typing import Any, Dict, List, Optional, Sequence, Tuple

from . import _structs as s
from .constants import (
    COURSE_BITS,
    KINETICS_BITS,
    VESSEL_BITS,
    VESSEL_CLOSED,
    VESSEL_OPEN,
    VESSEL_SATURATED,
    Act,
)
from .inputs import air
from .keeping import moments_of
from .kept import Contents, CourseSummary, Moment


@dataclass(frozen=True)
class Vessel:
    """A vessel with ink and air in it; in a change, what its conditions become.

    In a change, liquid and gas are not read, None stays as it was, and `open` may be False
    for a vessel that is closed again. Saturated: liquid and gas hold the oxygen that air
    gives them, whatever the contents say.
    """

    liquid_ml: float = 0.0
    gas_ml: float = 0.0
    temperature_c: Optional[float] = None
    pressure_kpa: Optional[float] = None
    dissolving_share: Optional[float] = None
    transfer_l_per_s: Optional[float] = None
    conductance_mol_per_s_atm: Optional[float] = None
    breathing_per_s: Optional[float] = None
    open: Optional[bool] = None
    saturated: bool = False

    def struct(self, beginning: bool) -> Any:
        out = s.new(s.FgallVessel)
        out.liquid_ml, out.gas_ml = self.liquid_ml, self.gas_ml
        if self.open:
            out.set |= VESSEL_OPEN
        elif self.open is False and not beginning:
            out.set |= VESSEL_CLOSED
        out.set |= VESSEL_SATURATED if self.saturated else 0
        given = {name: getattr(self, name) for name in VESSEL_BITS}
        given.update(air(self.temperature_c, self.pressure_kpa, usual_c=25.0))
        s.fill(out, VESSEL_BITS, given)
        return out


@dataclass(frozen=True)
class Kinetics:
    """Rate constants and stoichiometry; what is left at 0 does not happen. If not given,
    0.5 O2 to a scavenger, 4 iron to an O2, constants that hold at 25 °C."""

    oxidation_l_per_mol_s: float = 0.0
    oxidation_by_two_l2_per_mol2_s: float = 0.0
    reduction_l_per_mol_s: float = 0.0
    settling_per_s: float = 0.0
    soluble_mol_per_l: float = 0.0
    metal_per_s: float = 0.0
    scavenging_l_per_mol_s: float = 0.0
    rest_from_phenol_share: float = 0.0
    activation_kj_per_mol: float = 0.0
    oxygen_per_scavenger: Optional[float] = None
    iron_per_oxygen: Optional[float] = None
    valid_at_c: Optional[float] = None

    def struct(self) -> Any:
        out = s.new(s.FgallKinetics)
        optional = {name: getattr(self, name) for name in KINETICS_BITS}
        for name, _ in s.FgallKinetics._fields_:
            if name not in ("struct_size", "set", *optional):
                setattr(out, name, getattr(self, name))
        s.fill(out, KINETICS_BITS, optional)
        return out


@dataclass(frozen=True)
class Event:
    """Something that happens to a bottle; what its act does not name is not read."""

    at_days: float
    act: Act
    volume_ml: float = 0.0
    share: float = 0.0
    contents: Contents = Contents()
    vessel: Optional[Vessel] = None
    kinetics: Optional[Kinetics] = None

    def struct(self) -> Any:
        out = s.FgallEvent()
        out.at_days, out.kind = self.at_days, self.act
        out.volume_ml, out.share = self.volume_ml, self.share
        out.contents = s.write(s.FgallContents(), self.contents)
        if self.vessel is not None:
            out.vessel = c.pointer(self.vessel.struct(beginning=False))
        if self.kinetics is not None:
            out.kinetics = c.pointer(self.kinetics.struct())
        return out


def course(
    vessel: Vessel,
    kinetics: Kinetics,
    contents: Contents,
    at_days: Any,
    *,
    events: Sequence[Event] = (),
    tolerance: Optional[float] = None,
    watched_share: Optional[float] = None,
) -> Tuple[List[Moment], CourseSummary]:
    """The bottle at some times: a list of days, or a column as for Columns.evaluate, that
    does not fall; and how well its balances hold. Other threads run meanwhile."""
    given = s.new(s.FgallCourse)
    given.vessel = c.pointer(vessel.struct(beginning=True))
    given.kinetics = c.pointer(kinetics.struct())
    given.contents = s.write(s.FgallContents(), contents)
    happens = (s.FgallEvent * len(events))(*(event.struct() for event in events))
    given.events, given.event_count = happens, len(happens)
    settings: Dict[str, Optional[float]] = {"tolerance": tolerance, "watched_share": watched_share}
    s.fill(given, COURSE_BITS, settings)
    summary = s.new(s.FgallCourseSummary)
    name, more = "fgall_course", c.byref(summary)
    moments = moments_of(Moment, s.FgallMoment, name, at_days, (c.byref(given),), more)
    return moments, s.read(CourseSummary, summary)
