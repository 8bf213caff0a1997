"""How an ink keeps: bound, estimate and floor, what would help, how to bring it back.

The bound needs no rate and is the one to trust; the estimate is an order of magnitude until
`fit` has made the rate your own. None of it promises that an ink keeps, nor that it is safe
for a pen or for paper.
"""

from __future__ import annotations

import ctypes as c
from array import array
from dataclasses import dataclass, replace
from typing import Any, Dict, List, Mapping, Optional, Sequence, Tuple, Type, TypeVar

from . import _structs as s
from ._library import call, count, listed, utf8, whole, written_text
from .columns import Held, Rows, rows_in
from .constants import (
    BOTTLE_WITHOUT_DISSOLVED_OXYGEN,
    INK_BITS,
    KEEPING_BEADS,
    KEEPING_BITS,
    KEEPING_SHAKEN,
    Law,
    Seen,
    Varied,
)
from .inputs import Wall, air
from .kept import (
    Assisted,
    BottleChoice,
    Bought,
    CurvePoint,
    Fit,
    Forecast,
    ForecastRow,
    InorganicRate,
    Measure,
    Moment,
    Outcome,
    Rescue,
)
from .oxidation import read_bound
from .results import OxygenBound

Result = TypeVar("Result")
_MOST_DRAWS = 2**32 - 1


@dataclass(frozen=True)
class StoredInk:
    """An ink as a forecast sees it; of a recipe, `Solver.stored_ink` makes it.

    Galloyl units are those of tannin and free gallic acid together. If not given: no
    iron(III), no salt, the guess of 0.02 L/(mol s) give or take a factor of 50 for the rate,
    no scavenger, no nail. (A nail in acid ink gives off hydrogen, which burns and bursts
    closed bottles: leave such a bottle vented, away from flames.)
    """

    iron_ii_mol_per_l: float
    galloyl_mol_per_l: float
    ph: float
    iron_iii_mol_per_l: Optional[float] = None
    ionic_strength_mol_per_kg: Optional[float] = None
    dissolving_share: Optional[float] = None
    assisted: Optional[Assisted] = None
    scavenger: Optional[str] = None
    scavenger_g_per_l: float = 0.0
    nail_per_s: Optional[float] = None
    fit: Optional[Fit] = None

    def struct(self) -> Any:
        out = s.new(s.FgallStoredInk)
        out.iron_ii_mol_per_l = self.iron_ii_mol_per_l
        out.galloyl_mol_per_l, out.ph = self.galloyl_mol_per_l, self.ph
        out.scavenger = None if self.scavenger is None else utf8(self.scavenger)
        out.scavenger_g_per_l = self.scavenger_g_per_l
        given: Dict[str, Optional[float]] = {
            "iron_iii_mol_per_l": self.iron_iii_mol_per_l,
            "nail_per_s": self.nail_per_s,
        }
        salt, dissolving = self.ionic_strength_mol_per_kg, self.dissolving_share
        if salt is not None or dissolving is not None:
            given["ionic_strength_mol_per_kg"] = 0.0 if salt is None else salt
            given["dissolving_share"] = 1.0 if dissolving is None else dissolving
        if self.assisted is not None:
            given["assisted_l_per_mol_s"] = self.assisted.l_per_mol_s
            given["assisted_factor_95"] = self.assisted.factor_95
            given["assisted_ph"] = self.assisted.ph
            given["assisted_c"] = self.assisted.temperature_c
        s.fill(out, INK_BITS, given)
        if self.fit is not None:
            out.fit = c.pointer(s.write(s.new(s.FgallFit), self.fit))
        return out


def read_ink(struct: Any) -> StoredInk:
    """What the library has filled in for a recipe."""
    return StoredInk(
        iron_ii_mol_per_l=struct.iron_ii_mol_per_l,
        galloyl_mol_per_l=struct.galloyl_mol_per_l,
        ph=struct.ph,
        iron_iii_mol_per_l=struct.iron_iii_mol_per_l,
        ionic_strength_mol_per_kg=struct.ionic_strength_mol_per_kg,
        dissolving_share=struct.dissolving_share,
    )


@dataclass(frozen=True)
class Swing:
    """A cap that is not gas-tight breathes as its headspace warms and cools."""

    low_c: float
    high_c: float
    every_days: float


@dataclass(frozen=True)
class Keeping:
    """A bottle of ink, how it is used, and what is done about oxygen.

    The defaults are those of `oxygen_bound`; nothing flushed, no beads, not shaken, a
    tight cap, the surface of a round bottle half as high again as wide, no lid, no seasons.
    (Nitrogen and argon suffocate: ventilate, and follow local rules for gas cylinders.)
    """

    capacity_ml: float
    fill_ml: float
    closure: Optional[str] = None
    wall: Optional[Wall] = None
    temperature_c: Optional[float] = None
    pressure_kpa: Optional[float] = None
    opened_every_days: Optional[float] = None
    air_exchanged_share: Optional[float] = None
    drawn_ml: Optional[float] = None
    kept_days: Optional[float] = None
    iron_per_oxygen: Optional[float] = None
    stated_share: Optional[float] = None
    without_dissolved_oxygen: bool = False
    flushed_share: Optional[float] = None
    beads: bool = False
    shaken: bool = False
    swing: Optional[Swing] = None
    surface_cm2: Optional[float] = None
    lid_leaves_share: Optional[float] = None
    season_k: Optional[float] = None

    def struct(self) -> Any:
        out = s.new(s.FgallKeeping)
        out.capacity_ml, out.fill_ml = self.capacity_ml, self.fill_ml
        out.closure = None if self.closure is None else utf8(self.closure)
        for flag, bit in (
            (self.without_dissolved_oxygen, BOTTLE_WITHOUT_DISSOLVED_OXYGEN),
            (self.beads, KEEPING_BEADS),
            (self.shaken, KEEPING_SHAKEN),
        ):
            out.set |= bit if flag else 0
        plain = {name: getattr(self, name) for name in KEEPING_BITS if hasattr(self, name)}
        plain.update(air(self.temperature_c, self.pressure_kpa, usual_c=25.0))
        plain.update(self.wall.fields() if self.wall else {})
        if self.swing is not None:
            plain["swing_low_c"], plain["swing_high_c"] = self.swing.low_c, self.swing.high_c
            plain["swing_days"] = self.swing.every_days
        s.fill(out, KEEPING_BITS, plain)
        return out


@dataclass(frozen=True)
class Sighting:
    """Something seen of an ink in its bottle: the share left of the iron(II), or of its
    strength, and its standard uncertainty; or the first sediment, without either.

    Titrate the salt or a stock solution: in the finished ink tannin takes up permanganate
    and dichromate too.
    """

    at_days: float
    seen: Seen
    left_share: float = 0.0
    u_share: float = 0.1


def _given(ink: StoredInk, keeping: Keeping) -> Tuple[Any, Any]:
    return c.byref(ink.struct()), c.byref(keeping.struct())


def _draws(draws: int) -> int:
    return whole(draws, "draws", _MOST_DRAWS)


def keeping_bound(ink: StoredInk, keeping: Keeping) -> OxygenBound:
    """The most iron(II) that oxygen can have taken; no rate goes into it."""
    out = s.new(s.FgallOxygenBound)
    call("fgall_keeping_bound", *_given(ink, keeping), c.byref(out))
    return read_bound(out)


def forecast(ink: StoredInk, keeping: Keeping, *, draws: int = 199) -> Forecast:
    """How an ink keeps in a bottle. Other threads run meanwhile."""
    out = s.new(s.FgallForecast)
    call("fgall_forecast", *_given(ink, keeping), _draws(draws), c.byref(out))
    return s.read(Forecast, out)


def times_of(struct: Any, name: str, at_days: Any, given: Sequence[Any], *more: Any) -> List[Any]:
    """Calls a function that fills a struct for each time."""
    with Held() as held:
        times = array("d", at_days) if isinstance(at_days, (list, tuple)) else at_days
        column = held.one("at_days", times)
        rows = rows_in(held)
        out = (struct * max(rows, 1))()
        call(name, *given, c.byref(column), rows, out, c.sizeof(struct), *more)
    return list(out[:rows])


def moments_of(
    result: Type[Result], struct: Any, name: str, at_days: Any, given: Sequence[Any], *more: Any
) -> List[Result]:
    """The same, read."""
    return [s.read(result, one) for one in times_of(struct, name, at_days, given, *more)]


def forecast_curve(
    ink: StoredInk, keeping: Keeping, at_days: Any, *, draws: int = 199
) -> List[CurvePoint]:
    """Loss against time: a list of days, or a column as for Columns.evaluate, that does
    not fall."""
    given = (*_given(ink, keeping), _draws(draws))
    return moments_of(CurvePoint, s.FgallCurvePoint, "fgall_forecast_curve", at_days, given)


def forecast_moments(ink: StoredInk, keeping: Keeping, at_days: Any) -> List[Moment]:
    """The bottle itself at some times, every unknown at its typical value."""
    given = _given(ink, keeping)
    return moments_of(Moment, s.FgallMoment, "fgall_forecast_moments", at_days, given)


def forecast_rows(
    ink: StoredInk, keeping: Keeping, varied: Mapping[Varied, Any], *, draws: int = 0
) -> Rows[ForecastRow]:
    """Many bottles: a column for each figure that differs, as for Columns.evaluate. Without
    draws there are no ends of intervals. Other threads run meanwhile."""
    codes = (c.c_uint32 * len(varied))(*varied)
    with Held() as held:
        columns, count_of = held.several("values", list(varied.values()))
        given = (*_given(ink, keeping), _draws(draws), codes, columns, count_of)
        return held.rows_of(ForecastRow, "fgall_forecast_rows", *given)


def _measure(measure: Measure) -> Any:
    if "\0" in measure.id:
        raise ValueError(f"a text with a NUL in it: {measure.id!r}")
    return s.write(s.FgallMeasure(), measure)


def usual_measures(ink: StoredInk, keeping: Keeping) -> List[Measure]:
    """The measures that could help this bottle: whatever it does not have yet."""
    return listed(Measure, s.FgallMeasure, "fgall_measures_usual", *_given(ink, keeping))


def measure_text(measure: Measure) -> str:
    """A measure in words."""
    return written_text("fgall_measure_text", c.byref(_measure(measure)))


def measure_caution(measure: Measure) -> str:
    """What to mind with a measure; empty when there is nothing. No safety advice: local
    rules and licensed practice come first."""
    return written_text("fgall_measure_caution", c.byref(_measure(measure)))


def rank_measures(
    ink: StoredInk,
    keeping: Keeping,
    measures: Optional[Sequence[Measure]] = None,
    *,
    draws: int = 51,
) -> List[Bought]:
    """What each measure (the usual ones if none are given) buys by itself, the best first."""
    asked = usual_measures(ink, keeping) if measures is None else measures
    given = (s.FgallMeasure * len(asked))(*(_measure(one) for one in asked))
    out = (s.FgallBought * max(len(asked), 1))()
    call("fgall_measures_rank", *_given(ink, keeping), given, len(asked), _draws(draws), out)
    return [s.read(Bought, one) for one in out[: len(asked)]]


def rank_bottles(
    ink: StoredInk,
    keeping: Keeping,
    capacities_ml: Sequence[float],
    *,
    store_ml: float,
    filled_to_share: float = 0.95,
) -> List[BottleChoice]:
    """In which of some sizes of bottle a store keeps best, the best first. `keeping` says
    how a bottle is used; its own capacity and fill are not read."""
    sizes = (c.c_double * len(capacities_ml))(*capacities_ml)
    out = (s.FgallBottleChoice * max(len(sizes), 1))()
    given = (*_given(ink, keeping), store_ml, filled_to_share)
    call("fgall_bottles_rank", *given, sizes, len(sizes), out)
    return [s.read(BottleChoice, one) for one in out[: len(sizes)]]


def rescue(ink: StoredInk, outcome: Outcome) -> Rescue:
    """What brings an ink back; the acid is told by `Solver.rescue`."""
    out = s.new(s.FgallRescue)
    kept_so = s.write(s.FgallOutcome(), outcome)
    call("fgall_rescue", c.byref(ink.struct()), c.byref(kept_so), c.byref(out))
    return s.read(Rescue, out)


def fit(ink: StoredInk, keeping: Keeping, sightings: Sequence[Sighting]) -> Fit:
    """The rate of an ink from what was seen of it in a bottle, in the order of the times."""
    seen = (s.FgallSighting * len(sightings))()
    for place, one in zip(seen, sightings):
        place.at_days, place.kind = one.at_days, one.seen
        place.left_share, place.u_share = one.left_share, one.u_share
    out = s.new(s.FgallFit)
    call("fgall_fit", *_given(ink, keeping), seen, len(seen), c.byref(out))
    return s.read(Fit, out)


def with_fit(ink: StoredInk, found: Fit) -> StoredInk:
    """The ink with what observations said of it; the next forecast is its own."""
    return replace(ink, assisted=None, fit=found)


def scavengers() -> List[str]:
    """Identifiers of the scavengers of oxygen in the catalogue."""
    every = range(count("fgall_scavenger_count"))
    return [written_text("fgall_scavenger_id", index) for index in every]


def scavenger_note(scavenger: str) -> str:
    """What a scavenger does besides, and the usual caution."""
    return written_text("fgall_scavenger_note", utf8(scavenger))


def iron_law_source(law: Law) -> str:
    """Where a rate law comes from, and how far that may be trusted."""
    return written_text("fgall_iron_law_source", law)


def iron_law_constant(
    law: Law, *, ph: float, temperature_c: float = 25.0, ionic_strength_mol_per_kg: float = 0.0
) -> Tuple[float, float]:
    """The constant of a law in L/(mol s), and the factor by which it may be wrong."""
    out, factor = c.c_double(), c.c_double()
    water = (temperature_c, ph, ionic_strength_mol_per_kg)
    call("fgall_iron_law_constant", law, *water, c.byref(out), c.byref(factor))
    return out.value, factor.value


def inorganic_rate(
    *, ph: float, temperature_c: float = 25.0, ionic_strength_mol_per_kg: float = 0.0
) -> InorganicRate:
    """The span of the rate of iron(II) and oxygen without a ligand."""
    out = s.new(s.FgallInorganicRate)
    call("fgall_inorganic_rate", temperature_c, ph, ionic_strength_mol_per_kg, c.byref(out))
    return s.read(InorganicRate, out)
