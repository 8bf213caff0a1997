"""What can be made from the lots there are: the best ink within windows, the most of it,
stock solutions poured together, and many inks in one call.
"""

from __future__ import annotations

import ctypes as c
import math
from array import array
from dataclasses import dataclass
from typing import Any, List, Mapping, Optional, Sequence, Tuple, Type, Union

from . import _structs as s
from . import _structs_cupboard as k
from ._library import Handle, Owner, call, listed, utf8, written_text
from .blended import BlendFigure, BlendSummary, MadeRow, More, Taken
from .columns import Held, Rows, rows_in
from .constants import STORE_BITS, WANTED_BITS, Figure, Objective
from .inputs import Kit, Soak
from .recipe import Recipe
from .shelf import Lot

# Exactly so much, or from so much to so much; None leaves an end open.
Window = Union[float, Tuple[Optional[float], Optional[float]]]


def _window(window: Window) -> Any:
    ends = window if isinstance(window, (tuple, list)) else (window, window)
    low, high = (math.nan if end is None else end for end in ends)
    return k.FgallWindow(low, high)


@dataclass(frozen=True)
class Wanted:
    """What an ink shall be. A number is exactly so much, a pair a window; what is not given
    may be anything. `criterion` (as in Verdict) and `assurance` go together: how surely the
    iron stays within it. With `most_volume_ml` the volume may be anything from `volume_ml` to
    it, which gives whole steps of a balance room."""

    volume_ml: float
    iron_ii_mol_per_l: Optional[Window] = None
    iron_g_per_l: Optional[Window] = None
    galloyl_mol_per_l: Optional[Window] = None
    gallic_acid_mol_per_l: Optional[Window] = None
    tannic_and_gallic_g_per_l: Optional[Window] = None
    iron_ii_per_galloyl: Optional[Window] = None
    gallic_share: Optional[Window] = None
    strong_acid_mol_per_l: Optional[Window] = None
    ph: Optional[Window] = None
    gum_g_per_l: Optional[Window] = None
    dye_g_per_l: Optional[Window] = None
    preservative_g_per_l: Optional[Window] = None
    most_cost: Optional[float] = None
    criterion: Optional[str] = None
    assurance: Optional[float] = None
    most_volume_ml: Optional[float] = None

    def struct(self) -> Any:
        out = s.new(k.FgallWanted)
        out.volume_ml = self.volume_ml
        if self.criterion is not None:
            # By itself it waits for a column of assurances.
            out.criterion = utf8(self.criterion)
        given = {
            "most_cost": self.most_cost,
            "assurance": self.assurance,
            "most_volume_ml": self.most_volume_ml,
        }
        for name, kind in k.FgallWanted._fields_:
            if kind is k.FgallWindow:
                window: Optional[Window] = getattr(self, name)
                given[name] = None if window is None else _window(window)
        s.fill(out, WANTED_BITS, given)
        return out


@dataclass(frozen=True)
class Store:
    """A lot and how much of it there is, or by which packs it is sold; with neither there is
    no end to it."""

    lot: Lot
    on_hand_g: Optional[float] = None
    pack_g: Optional[float] = None

    def struct(self) -> Any:
        out = k.FgallStore(self.lot.index)
        s.fill(out, STORE_BITS, {"on_hand_g": self.on_hand_g, "pack_g": self.pack_g})
        return out


class Blend(Owner):
    """An ink that can be made: the best, or where not everything can be had, the nearest.
    It outlives its shelf and never changes."""

    _handle: Any

    @classmethod
    def _made_by(cls: Type[Blend], new: str, *arguments: Any) -> Blend:
        blend = cls.__new__(cls)
        blend._handle = Handle("blend", new, *arguments)
        return blend

    def summary(self) -> BlendSummary:
        """The ink as a whole."""
        out = s.new(k.FgallBlendSummary)
        call("fgall_blend_summary", self._handle, c.byref(out))
        return s.read(BlendSummary, out)

    def taken(self) -> List[Taken]:
        """What is taken of each lot, without the water that fills up."""
        return listed(Taken, k.FgallTaken, "fgall_blend_taken", self._handle)

    def figures(self) -> List[BlendFigure]:
        """What was wanted and what became of it."""
        return listed(BlendFigure, k.FgallFigure, "fgall_blend_figures", self._handle)

    def used_up(self) -> List[int]:
        """Indices on the shelf of the lots that are used up."""
        needed, room = c.c_size_t(), 1000
        lots = (c.c_size_t * room)()
        call("fgall_blend_used_up", self._handle, lots, room, c.byref(needed))
        return list(lots[: needed.value])

    def more(self) -> List[More]:
        """Of Cupboard.most: what more of each lot would give, the most first."""
        return listed(More, k.FgallMore, "fgall_blend_more", self._handle)

    def recipe(self) -> Recipe:
        """Its recipe, ready to evaluate, scale and print."""
        return Recipe._made_by("fgall_blend_recipe_new", self._handle)

    def __str__(self) -> str:
        return written_text("fgall_blend_text", self._handle, capacity=2048)


class MadeRows(Rows[MadeRow]):
    """Many inks, and what each takes of the lots."""

    def __init__(self, rows: Rows[MadeRow], lots: Sequence[int], masses: array[float]) -> None:
        super().__init__(MadeRow, rows._values, rows.status, rows.bad_rows)
        self._lots = tuple(lots)
        self._masses = masses

    def mass_g(self, lot: Lot) -> memoryview:
        """What every ink takes of a lot, 0 where it does without, NaN in a bad row;
        numpy.asarray() takes it without a copy."""
        if lot.index not in self._lots:
            raise KeyError(f"{lot!r} is not in the cupboard")
        return memoryview(self._masses)[self._lots.index(lot.index) :: len(self._lots)]


class Cupboard:
    """What there is to make ink from: lots of one shelf with names of their own, each by
    itself (no end to it) or as a Store, and the water to fill up with. With a kit, amounts
    are whole steps of its tools. It keeps the shelf alive."""

    def __init__(
        self,
        water: Lot,
        stores: Sequence[Union[Lot, Store]],
        *,
        soak: Optional[Soak] = None,
        kit: Optional[Kit] = None,
    ) -> None:
        self.water = water
        self.stores = tuple(one if isinstance(one, Store) else Store(one) for one in stores)
        self.soak = soak
        self.kit = kit
        for store in self.stores:
            water.shelf.index(store.lot)

    def struct(self) -> Any:
        # Pointer fields keep alive what is assigned to them.
        out = s.new(k.FgallCupboard)
        out.water_lot = self.water.index
        stores = [store.struct() for store in self.stores]
        out.stores, out.store_count = (k.FgallStore * len(stores))(*stores), len(stores)
        if self.soak is not None:
            out.soak = c.pointer(self.soak.struct())
        if self.kit is not None:
            out.kit = c.pointer(self.kit.struct())
        return out

    def _asked(self, wanted: Wanted) -> Tuple[Any, Any, Any]:
        return self.water.shelf._handle, c.byref(self.struct()), c.byref(wanted.struct())

    def make(
        self,
        wanted: Wanted,
        objective: Objective = Objective.LEAST_COST,
        *,
        criterion: Optional[str] = None,
    ) -> Blend:
        """The best ink of this kind, or the nearest; summary().meets_all tells which. The
        criterion is for Objective.SUREST."""
        given = (objective, _text(criterion))
        return Blend._made_by("fgall_shelf_make_new", *self._asked(wanted), *given)

    def most(self, wanted: Wanted) -> Blend:
        """The most of it that can be made from what is on hand, whatever its volume."""
        return Blend._made_by("fgall_shelf_most_new", *self._asked(wanted))

    def mix(self, wanted: Wanted) -> Blend:
        """Stock solutions poured together to come nearest to it; Recipe.to_lot makes one."""
        return Blend._made_by("fgall_shelf_mix_new", *self._asked(wanted))

    def rows(
        self,
        wanted: Wanted,
        varied: Mapping[Figure, Any],
        objective: Objective = Objective.LEAST_COST,
        *,
        criterion: Optional[str] = None,
    ) -> MadeRows:
        """Many inks, each from the whole cupboard: a column, as for Columns.evaluate, for each
        figure that differs. A bad row does not stop the others."""
        with Held() as held:
            codes = (c.c_uint32 * len(varied))(*varied)
            columns, count = held.several("values", list(varied.values()))
            lots = [store.lot.index for store in self.stores]
            masses = array("d", bytes(8 * len(lots))) * rows_in(held)
            first, step = masses.buffer_info()[0] or c.addressof(c.c_double()), 8 * len(lots)
            to = [s.FgallOutColumn(first + 8 * place, step) for place in range(len(lots))]
            given = (*self._asked(wanted), objective, _text(criterion), codes, columns, count)
            out = (s.FgallOutColumn * len(to))(*to)
            rows = held.rows_of(MadeRow, "fgall_shelf_make_rows", *given, out)
        return MadeRows(rows, lots, masses)


def _text(criterion: Optional[str]) -> Optional[bytes]:
    return None if criterion is None else utf8(criterion)
