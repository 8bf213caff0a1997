"""Recipes in old units, read."""

from __future__ import annotations

import ctypes as c
import json
import math
from dataclasses import dataclass
from typing import Any, Dict, List, NamedTuple, Optional, Sequence, Tuple, Union

from . import _structs as s
from ._library import Handle, call, count, listed, number, utf8, whole, written_text
from .olden import (
    Book,
    Candidate,
    Echo,
    Ending,
    Figure,
    Goods,
    Quantiles,
    QuantityKind,
    ReadingFigures,
    Role,
    Unit,
)
from .recipe import Recipe
from .results import Range
from .shelf import Lot


def _text(text: Optional[str]) -> Optional[bytes]:
    return None if text is None else utf8(text)


@dataclass(frozen=True)
class Setting:
    """What is known of a text: a place such as "england", a year or the first and the
    last, the kind of book."""

    place: Optional[str] = None
    years: Union[int, Tuple[int, int], None] = None
    book: Book = Book.UNKNOWN

    def struct(self) -> Any:
        out = s.new(s.FgallSetting)
        out.place, out.book = _text(self.place), self.book
        if self.years is not None:
            years = self.years if isinstance(self.years, tuple) else (self.years, self.years)
            out.from_year, out.to_year = (whole(y, "years", 2**31 - 1, -(2**31)) for y in years)
        return out


class OldAmount(NamedTuple):
    """An amount in grams or millilitres, from the least to the most it may mean."""

    kind: QuantityKind
    metric: Range


def units() -> List[Unit]:
    """Every old unit."""
    out, found = s.new(s.FgallUnit), []
    for index in range(count("fgall_unit_count")):
        call("fgall_unit_at", index, c.byref(out))
        found.append(s.read(Unit, out))
    return found


def unit(id: str) -> Unit:
    """The old unit of this identifier."""
    out = s.new(s.FgallUnit)
    call("fgall_unit_find", utf8(id), c.byref(out))
    return s.read(Unit, out)


def unit_source(id: str) -> str:
    """Where its value comes from, how far that may be trusted, and what to know."""
    return written_text("fgall_unit_source", utf8(id))


def word_candidates(
    word: str, setting: Optional[Setting] = None, *, goods: Goods = Goods.UNKNOWN
) -> List[Candidate]:
    """What a word such as "pound", "Loth" or "pinte" may mean, the likeliest first."""
    known = c.byref((setting or Setting()).struct())
    given = (known, utf8(word), goods)
    return listed(Candidate, s.FgallCandidate, "fgall_word_candidates", *given)


def old_amount(
    amount: str, setting: Optional[Setting] = None, *, goods: Goods = Goods.UNKNOWN
) -> OldAmount:
    """An amount such as "1 pound 4 ounces" or "3 or 4 en_av_oz"."""
    kind, metric = c.c_uint32(), s.FgallRange()
    known = c.byref((setting or Setting()).struct())
    call("fgall_old_amount", known, utf8(amount), goods, c.byref(kind), c.byref(metric))
    span = Range(metric.min, metric.typical, metric.max)
    return OldAmount(QuantityKind(kind.value), span)


def echo(unit_id: str, metric: float, *, fraction: int = 1) -> Echo:
    """Grams, millilitres or seconds in an old unit, to the nearest fraction, and back."""
    out = s.new(s.FgallEcho)
    call("fgall_unit_echo", utf8(unit_id), metric, fraction, c.byref(out))
    return s.read(Echo, out)


def historic_quantiles(
    figure: Figure, *, place: Optional[str] = None, century: int = 0
) -> Quantiles:
    """Where a figure of the historic recipes lies. A small sample picked by hand."""
    out = s.new(s.FgallQuantiles)
    call("fgall_historic_quantiles", figure, _text(place), century, c.byref(out))
    return s.read(Quantiles, out)


def historic_percentile(
    figure: Figure, value: float, *, place: Optional[str] = None, century: int = 0
) -> float:
    """The share of the historic recipes below a value, of 100; those equal to it count half."""
    return number("fgall_historic_percentile", figure, value, _text(place), century)


class OldLine(NamedTuple):
    """A line: the lot that stands for it, what it is in the ink, the amount as written."""

    lot: Lot
    role: Role
    amount: str
    goods: Goods = Goods.UNKNOWN


@dataclass(frozen=True)
class OldRecipe:
    """An old recipe as it is written; all lots are of one shelf."""

    title: str
    setting: Setting
    lines: Sequence[OldLine]
    ending: Ending = Ending.CHARGE
    ending_share: float = math.nan
    yields: Optional[str] = None
    liquids_said: Optional[str] = None
    part_g: float = math.nan
    strained_first: bool = False

    def _given(self) -> Tuple[Any, Any]:
        if not self.lines:
            raise TypeError("an old recipe has lines")
        out = s.new(s.FgallOldRecipe)
        out.title, out.setting = utf8(self.title), c.pointer(self.setting.struct())
        lines = [
            s.FgallOldLine(line.lot.index, line.role, line.goods, utf8(line.amount))
            for line in self.lines
        ]
        out.lines, out.line_count = (s.FgallOldLine * len(lines))(*lines), len(lines)
        out.ending, out.ending_share = self.ending, self.ending_share
        out.yields, out.liquids_said = _text(self.yields), _text(self.liquids_said)
        out.part_g, out.strained_first = self.part_g, self.strained_first
        return self.lines[0].lot.shelf._handle, c.byref(out)

    def read(self) -> Tuple[ReadingFigures, Optional[Recipe]]:
        """Its figures and the recipe for its likeliest reading; no recipe where no liquid
        is given, or more goes in than the volume holds."""
        out = s.new(s.FgallReading)
        recipe = self._recipe("fgall_recipe_read_new", *self._given(), c.byref(out))
        return s.read(ReadingFigures, out), recipe

    def meant(self, doubt: int) -> Optional[Recipe]:
        """The recipe as if what a doubt says were meant, where it says so."""
        return self._recipe("fgall_recipe_read_meant_new", *self._given(), doubt)

    def reading(self) -> Dict[str, Any]:
        """The whole reading: lines with what their units may mean, other readings, doubts."""
        text = written_text("fgall_old_recipe_json", *self._given(), capacity=16384)
        read: Dict[str, Any] = json.loads(text)
        return read

    @staticmethod
    def _recipe(new: str, *arguments: Any) -> Optional[Recipe]:
        handle = Handle("recipe", new, *arguments)
        if not handle._as_parameter_:
            return None
        recipe = Recipe.__new__(Recipe)
        recipe._handle = handle
        return recipe
