"""What the caller fills in: tools, soaks, targets, bottles, options."""

from __future__ import annotations

import ctypes as c
from dataclasses import dataclass
from typing import Any, Dict, Optional, Sequence

from . import _structs as s
from ._library import utf8, whole
from .constants import BOTTLE_BITS, CHOICE_BITS, SHEET_BITS, SOAK_BITS, TARGET_BITS, Equal, ToolKind
from .shelf import Lot, Measured, split


@dataclass(frozen=True)
class Soak:
    """How plant matter is soaked and strained; None is the library's default."""

    yield_share: Optional[Measured] = None
    hold_up_g_per_g: Optional[float] = None
    water_g_per_g: Optional[float] = None
    """For formulations only."""

    def struct(self) -> Any:
        out = s.new(s.FgallSoak)
        share, out.yield_u = split(self.yield_share)
        given = {"yield_share": share, "hold_up_g_per_g": self.hold_up_g_per_g}
        s.fill(out, SOAK_BITS, {**given, "water_g_per_g": self.water_g_per_g})
        return out


@dataclass(frozen=True)
class Tool:
    """The tool for one lot; a balance has step_g, the others have step_ml."""

    lot_name: str
    kind: ToolKind
    step_g: float = 0.0
    step_ml: float = 0.0


@dataclass(frozen=True)
class Kit:
    """The tools at hand: a balance for solids, a cylinder for liquids, others for some lots."""

    balance_step_g: float
    cylinder_step_ml: float
    tools: Sequence[Tool] = ()

    def struct(self) -> Any:
        out = s.new(s.FgallKit)
        out.balance_step_g, out.cylinder_step_ml = self.balance_step_g, self.cylinder_step_ml
        tools = [s.FgallTool(utf8(t.lot_name), t.kind, t.step_g, t.step_ml) for t in self.tools]
        # The struct keeps the array alive.
        out.tools, out.tool_count = (s.FgallTool * len(tools))(*tools), len(tools)
        return out


@dataclass(frozen=True)
class Targets:
    """What the ink shall be; each optional target wants its lot in the Choice."""

    volume_ml: float
    iron_ii_mol_per_l: float
    iron_per_galloyl: float
    gallic_share: Optional[float] = None
    gum_g_per_l: Optional[float] = None
    strong_acid_mol_per_l: Optional[float] = None
    dye_g_per_l: Optional[float] = None
    preservative_g_per_l: Optional[float] = None

    def struct(self) -> Any:
        out = s.new(s.FgallTargets)
        out.volume_ml, out.iron_ii_mol_per_l = self.volume_ml, self.iron_ii_mol_per_l
        out.iron_per_galloyl = self.iron_per_galloyl
        s.fill(out, TARGET_BITS, {name: getattr(self, name) for name in TARGET_BITS})
        return out


@dataclass(frozen=True)
class Choice:
    """The lots chosen for the targets, all from one shelf."""

    iron: Lot
    tannin: Lot
    water: Lot
    gallic_acid: Optional[Lot] = None
    gum: Optional[Lot] = None
    acid: Optional[Lot] = None
    dye: Optional[Lot] = None
    preservative: Optional[Lot] = None

    def struct(self) -> Any:
        out, index = s.new(s.FgallChoice), self.iron.shelf.index
        out.iron_lot, out.tannin_lot = index(self.iron), index(self.tannin)
        out.water_lot = index(self.water)
        given: Dict[str, Optional[int]] = {}
        for field in CHOICE_BITS:
            lot: Optional[Lot] = getattr(self, field[: -len("_lot")])
            given[field] = None if lot is None else index(lot)
        s.fill(out, CHOICE_BITS, given)
        return out


@dataclass(frozen=True)
class Wall:
    """The wall of a polymer bottle under a tight cap."""

    polymer: str
    area_cm2: float
    thickness_mm: float

    def fields(self) -> Dict[str, Any]:
        """The fields of FgallBottle and FgallStorage."""
        return {
            "wall_polymer": utf8(self.polymer),
            "wall_area_cm2": self.area_cm2,
            "wall_thickness_mm": self.thickness_mm,
        }


@dataclass(frozen=True)
class Storage:
    """How the bottles of a sheet are kept and used.

    The defaults: sealed glass, 20 °C and 101.325 kPa, never opened, 0.3 of the headspace
    exchanged at an opening, nothing drawn, a year, and 0.2 for the share that is too much.
    """

    closure: Optional[str] = None
    wall: Optional[Wall] = None
    temperature_c: Optional[float] = None
    pressure_kpa: Optional[float] = None
    opened_every_days: Optional[float] = None
    air_exchanged_share: Optional[float] = None
    drawn_ml: Optional[float] = None
    kept_days: Optional[float] = None
    stated_share: Optional[float] = None

    def struct(self) -> Any:
        out = s.new(s.FgallStorage)
        out.closure = None if self.closure is None else utf8(self.closure)
        plain = ("opened_every_days", "air_exchanged_share", "drawn_ml", "kept_days")
        given = {name: getattr(self, name) for name in (*plain, "stated_share")}
        given.update(air(self.temperature_c, self.pressure_kpa, usual_c=20.0))
        given.update(self.wall.fields() if self.wall else {})
        s.fill(out, BOTTLE_BITS, given)
        return out


def air(
    temperature_c: Optional[float], pressure_kpa: Optional[float], usual_c: float
) -> Dict[str, float]:
    """Temperature and pressure share a bit: the one not given is the library's default."""
    if temperature_c is None and pressure_kpa is None:
        return {}
    return {
        "temperature_c": usual_c if temperature_c is None else temperature_c,
        "pressure_kpa": 101.325 if pressure_kpa is None else pressure_kpa,
    }


@dataclass(frozen=True)
class Bottles:
    """So many bottles, each filled to a share of its brimful capacity."""

    bottles: int
    capacity_ml: float
    fill_share: float
    loss_share: float = 0.0
    """Share of the batch that stays in pots and funnels."""


@dataclass(frozen=True)
class Instead:
    """What if this lot took the place of the one of that name?"""

    lot_name: str
    lot: Lot
    equal: Equal


@dataclass(frozen=True)
class SheetOptions:
    """What a sheet shall speak of beside the ink itself."""

    kit: Optional[Kit] = None
    bottles: Optional[Bottles] = None
    storage: Optional[Storage] = None
    currency: Optional[str] = None
    substitute: Optional[Instead] = None

    def struct(self) -> Any:
        # Pointer fields keep alive what is assigned to them.
        out = s.new(s.FgallSheetOptions)
        if self.kit is not None:
            out.kit = c.pointer(self.kit.struct())
        if self.storage is not None:
            out.storage = c.pointer(self.storage.struct())
        if self.currency is not None:
            out.currency = utf8(self.currency)
        if self.bottles is not None:
            given = dict(vars(self.bottles))
            given["bottles"] = whole(self.bottles.bottles, "bottles", 2**32 - 1)
            s.fill(out, SHEET_BITS, given)
        if self.substitute is not None:
            other = self.substitute
            shelf = other.lot.shelf._handle
            # The library reads the shelf through a bare pointer: hold its owner.
            out.keep = shelf
            given = {
                "lot_name": utf8(other.lot_name),
                "shelf": shelf and shelf._as_parameter_,
                "to_lot": other.lot.index,
                "equal": other.equal,
            }
            s.fill(out, SHEET_BITS, given)
        return out
