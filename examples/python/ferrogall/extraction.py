"""Tannin out of the plant: how much, how soon, in how much water.

Of galls neither diffusivity nor partition is published: every figure is an interval.
"""

from __future__ import annotations

import ctypes as c
from dataclasses import dataclass
from typing import Any, List, NamedTuple, Optional, Sequence, Tuple

from . import _structs as s
from ._library import call, count, listed, number, utf8, written_text
from .assayed import ExtractionRow, Liquor, PelegFigures, Strained
from .columns import Held, Rows
from .constants import EXTRACTION_BITS, EXTRACTION_SLAB, Grain, Straining
from .recipe import Recipe
from .results import Range
from .shelf import Lot


@dataclass(frozen=True)
class Wash:
    """One wash with fresh water; with Straining.NOT_YET the next one goes on in the same
    liquid, and its liquid_g does not count."""

    liquid_g: float
    temperature_c: float
    hours: float
    straining: Straining = Straining.DRAINED
    hold_up_g_per_g: float = 0.0
    """What the marc keeps, with Straining.WEIGHED."""


@dataclass(frozen=True)
class Extraction:
    """Tannin out of a plant lot: rain, fermentation, washes and boiling down, in that order.
    What is not given does not happen, or is as usual."""

    plant: Lot
    plant_g: float
    grain: Grain
    washes: Sequence[Wash] = ()
    size_mm: Optional[float] = None
    slab: bool = False
    broken_share: Optional[float] = None
    rain_hours: Optional[float] = None
    rain_temperature_c: Optional[float] = None
    rained_gall_mm: Optional[float] = None
    fermentation_days: Optional[float] = None
    fermentation_temperature_c: Optional[float] = None
    boil_down_ml: Optional[float] = None
    boil_down_share: Optional[float] = None

    def struct(self) -> Any:
        for one, other in (
            ("rain_hours", "rain_temperature_c"),
            ("fermentation_days", "fermentation_temperature_c"),
        ):
            if (getattr(self, one) is None) != (getattr(self, other) is None):
                raise TypeError(f"{one} and {other} go together")
        out = s.new(s.FgallExtraction)
        out.plant_g, out.grain = self.plant_g, self.grain
        s.fill(out, EXTRACTION_BITS, {name: getattr(self, name) for name in EXTRACTION_BITS})
        if self.slab:
            out.set |= EXTRACTION_SLAB
        washes = [
            s.FgallWash(w.liquid_g, w.temperature_c, w.hours, w.straining, w.hold_up_g_per_g)
            for w in self.washes
        ]
        # The struct keeps the array alive.
        out.washes, out.wash_count = (s.FgallWash * len(washes))(*washes), len(washes)
        return out

    def _given(self) -> Tuple[Any, int, Any]:
        return self.plant.shelf._handle, self.plant.index, c.byref(self.struct())

    def run(self) -> Liquor:
        """The liquor that is used, and where the rest went."""
        out = s.new(s.FgallLiquor)
        call("fgall_extraction_run", *self._given(), c.byref(out))
        return s.read(Liquor, out)

    def strained(self) -> List[Strained]:
        """The same wash by wash."""
        return listed(Strained, s.FgallStrained, "fgall_extraction_washes", *self._given())

    def cautions(self) -> List[str]:
        """What a careful colleague would say, each with its source."""
        return written_text("fgall_extraction_cautions", *self._given()).splitlines()

    def assumed(self) -> List[str]:
        """The spans that were drawn from, each with its source."""
        return written_text("fgall_extraction_assumed", *self._given()).splitlines()

    def to_lot(self, name: str) -> Lot:
        """Puts the liquor on the plant's shelf, with what is not known of it."""
        given = (*self._given(), utf8(name))
        return Lot(self.plant.shelf, count("fgall_shelf_add_liquor", *given))

    def add_to(self, recipe: Recipe, *, liquid: Lot) -> None:
        """Puts the liquor of this one soak into the solution begun last: its yield and what
        the marc keeps follow from grain, water, warmth and time."""
        shelf, plant, given = self._given()
        lots = (plant, self.plant.shelf.index(liquid))
        call("fgall_recipe_add_extraction_by", recipe._handle, shelf, *lots, given)

    def time_to(self, share: float, *, temperature_c: float) -> Range:
        """Hours in which a grain gives this share of what it will give in much water."""
        return _range("fgall_extraction_time_to", *self._given(), share, temperature_c)

    def paste_below(
        self, straining: Straining = Straining.DRAINED, *, hold_up_g_per_g: float = 0.0
    ) -> Range:
        """Grams of liquid in the first wash below which nothing drains."""
        given = (*self._given(), straining, hold_up_g_per_g)
        return _range("fgall_extraction_paste_below", *given)

    def water_for(self, share: float) -> Range:
        """Grams of liquid in each wash, all alike, for this share; max is NaN where no amount
        is enough."""
        return _range("fgall_extraction_water_for", *self._given(), share)

    def rows(
        self, liquid_g_per_g: Any, temperature_c: Any, hours: Any
    ) -> Rows[ExtractionRow]:
        """Many ways: columns as for Columns.evaluate of what every wash has. The straining of
        the washes stays."""
        columns = {
            "liquid_g_per_g": liquid_g_per_g,
            "temperature_c": temperature_c,
            "hours": hours,
        }
        with Held() as held:
            structs = [c.byref(held.one(name, column)) for name, column in columns.items()]
            given = (*self._given(), *structs)
            return held.rows_of(ExtractionRow, "fgall_extraction_rows", *given)


def _range(name: str, *arguments: Any) -> Range:
    out = s.FgallRange()
    call(name, *arguments, c.byref(out))
    return Range(out.min, out.typical, out.max)


class TeaBrew(NamedTuple):
    """What boiling water took out of tea leaf."""

    polyphenols_g: Range
    gallic_acid_g: Range


def tea_brew(*, leaf_g: float, minutes: float) -> TeaBrew:
    """What boiling water takes out of tea leaf, all bags together."""
    phenols, gallic = s.FgallRange(), s.FgallRange()
    call("fgall_tea_brew", leaf_g, minutes, c.byref(phenols), c.byref(gallic))
    return TeaBrew(*(Range(out.min, out.typical, out.max) for out in (phenols, gallic)))


def diffused_from_sphere(fourier_number: float) -> float:
    """Share of what will leave a sphere in much liquid that has left it."""
    return number("fgall_diffused_from_sphere", fourier_number)


def diffused_from_slab(fourier_number: float) -> float:
    """The same out of a slab, through both faces."""
    return number("fgall_diffused_from_slab", fourier_number)


def diffused_into_bath(fourier_number: float, *, alpha: float) -> float:
    """The same out of spheres in little liquid, of what has left at equilibrium."""
    return number("fgall_diffused_into_bath", fourier_number, alpha)


@dataclass(frozen=True)
class Peleg(PelegFigures):
    """Peleg's curve of a yield against time. A curve, no mechanism."""

    @classmethod
    def fit(cls, at_hours: Sequence[float], yields: Sequence[float]) -> Peleg:
        """The curve through three or more measurements."""
        if len(at_hours) != len(yields):
            raise ValueError(f"{len(at_hours)} times, but {len(yields)} yields")
        out, length = s.new(s.FgallPeleg), len(yields)
        columns = ((c.c_double * length)(*at_hours), (c.c_double * length)(*yields))
        call("fgall_peleg_fit", *columns, length, c.byref(out))
        return cls(**vars(s.read(PelegFigures, out)))

    def _struct(self) -> Any:
        out = s.new(s.FgallPeleg)
        for name, value in vars(self).items():
            setattr(out, name, value)
        return out

    def after(self, hours: float) -> Tuple[float, float]:
        """The yield after so many hours, and its standard uncertainty."""
        value, u = c.c_double(), c.c_double()
        given = (c.byref(self._struct()), hours, c.byref(value), c.byref(u))
        call("fgall_peleg_after", *given)
        return value.value, u.value

    def hours_to(self, share: float) -> float:
        """Hours until this share of what the yield tends to."""
        return number("fgall_peleg_time_to", c.byref(self._struct()), share)
