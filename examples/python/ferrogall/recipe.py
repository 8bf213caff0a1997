"""Recipes: solutions made separately, poured together, and made up to a volume."""

from __future__ import annotations

import ctypes as c
import json
from typing import Any, Dict, List, Mapping, Optional, Type, Union

from . import _structs as s
from ._library import Handle, Owner, call, count, listed, utf8, whole, written_text
from .checked import Slip
from .constants import Equal
from .inputs import Choice, Kit, SheetOptions, Soak, Targets
from .results import (
    Bottling,
    Composition,
    Finding,
    Limited,
    Line,
    RoundedLine,
    Rounding,
    SmallestBatch,
    Stock,
    Totals,
    Verdict,
)
from .shelf import Lot, Shelf


def _by_reference(option: Any) -> Any:
    return None if option is None else c.byref(option.struct())


class Recipe(Owner):
    """A recipe. It holds copies of its lots; a call that fails leaves it as it was."""

    def __init__(self, title: str) -> None:
        self._handle = Handle("recipe", "fgall_recipe_new", utf8(title))

    @classmethod
    def _made_by(cls: Type[Recipe], new: str, *arguments: Any) -> Recipe:
        recipe = cls.__new__(cls)
        recipe._handle = Handle("recipe", new, *arguments)
        return recipe

    @classmethod
    def formulate(cls, choice: Choice, targets: Targets, *, soak: Optional[Soak] = None) -> Recipe:
        """The recipe that meets the targets with the chosen lots."""
        given = (choice.iron.shelf._handle, c.byref(choice.struct()), c.byref(targets.struct()))
        return cls._made_by("fgall_recipe_formulate_new", *given, _by_reference(soak))

    @classmethod
    def formulate_like(
        cls,
        choice: Choice,
        ink: str,
        *,
        volume_ml: float,
        strength: float = 1.0,
        soak: Optional[Soak] = None,
    ) -> Recipe:
        """A published ink made from chosen lots: of its gallic share, gum,
        acid, dye and preservative, those a lot is chosen for."""
        given = (choice.iron.shelf._handle, c.byref(choice.struct()), utf8(ink))
        new = "fgall_recipe_formulate_like_new"
        return cls._made_by(new, *given, volume_ml, strength, _by_reference(soak))

    @classmethod
    def reference(cls, ink: str, *, volume_ml: float, strength: float = 1.0) -> Recipe:
        """A published ink from pure materials."""
        return cls._made_by("fgall_recipe_reference_new", utf8(ink), volume_ml, strength)

    @classmethod
    def from_json(cls, recipe: Union[str, Mapping[str, Any]]) -> Recipe:
        """The recipe given as JSON, scaled to its bottles where there are any."""
        return cls._made_by("fgall_recipe_json_new", _json(recipe))

    def copy(self) -> Recipe:
        """A copy with a life of its own."""
        return self._made_by("fgall_recipe_copy_new", self._handle)

    __copy__ = copy

    def __deepcopy__(self, _: Any) -> Recipe:
        return self.copy()

    def begin_solution(self, name: str) -> None:
        """Begins a solution. What is added from here on goes into it."""
        call("fgall_recipe_begin_solution", self._handle, utf8(name))

    def add(
        self,
        lot: Lot,
        *,
        mass_g: Optional[float] = None,
        volume_ml: Optional[float] = None,
        parts: Optional[float] = None,
    ) -> None:
        """Puts an amount of a lot into the solution begun last."""
        amount = {"mass_g": mass_g, "volume_ml": volume_ml, "parts": parts}
        given = (self._handle, lot.shelf._handle, lot.index)
        call(*_one_of("fgall_recipe_add_", amount, given))

    def set_part(self, *, part_g: float) -> None:
        """What one part weighs."""
        call("fgall_recipe_set_part", self._handle, part_g)

    def add_extraction(
        self,
        plant: Lot,
        *,
        plant_g: float,
        liquid: Lot,
        liquid_ml: float,
        soak: Optional[Soak] = None,
    ) -> None:
        """Puts the strained liquor of a plant lot into the solution begun last."""
        given = (plant.index, plant_g, plant.shelf.index(liquid), liquid_ml, _by_reference(soak))
        call("fgall_recipe_add_extraction", self._handle, plant.shelf._handle, *given)

    def make_up_solution(self, lot: Lot, *, volume_ml: float) -> None:
        """Fills the solution begun last up to a volume."""
        given = (self._handle, lot.shelf._handle, lot.index, volume_ml)
        call("fgall_recipe_make_up_solution", *given)

    def use(
        self,
        *,
        share: Optional[float] = None,
        volume_ml: Optional[float] = None,
        mass_g: Optional[float] = None,
    ) -> None:
        """Uses only a part of the solution begun last; the rest is stock."""
        amount = {"share": share, "volume_ml": volume_ml, "mass_g": mass_g}
        call(*_one_of("fgall_recipe_use_", amount, (self._handle,)))

    def make_up(self, lot: Lot, *, volume_ml: float) -> None:
        """Fills the whole ink up to its final volume."""
        call("fgall_recipe_make_up", self._handle, lot.shelf._handle, lot.index, volume_ml)

    def evaluate(self) -> Composition:
        """Works out what is in the ink."""
        out = s.new(s.FgallComposition)
        call("fgall_recipe_evaluate", self._handle, c.byref(out))
        return s.read(Composition, out)

    def totals(self) -> Totals:
        """What of the ink is dissolved, per kilogram of its water; for a Solver."""
        out = s.new(s.FgallTotals)
        call("fgall_recipe_totals", self._handle, c.byref(out))
        return s.read(Totals, out)

    def lines(self) -> List[Line]:
        """Everything to weigh and measure, in working order."""
        return listed(Line, s.FgallLine, "fgall_recipe_lines", self._handle)

    def scale(self, factor: float) -> None:
        """Multiplies every amount, final volumes and stock portions included."""
        call("fgall_recipe_scale", self._handle, factor)

    def to_volume(self, *, volume_ml: float) -> None:
        """The same ink at another volume."""
        call("fgall_recipe_to_volume", self._handle, volume_ml)

    def for_bottles(
        self, bottles: int, *, capacity_ml: float, fill_share: float, loss_share: float = 0.0
    ) -> Bottling:
        """Scales to so many bottles, each filled to a share of its brimful capacity."""
        out = s.new(s.FgallBottling)
        given = (whole(bottles, "bottles", 2**32 - 1), capacity_ml, fill_share, loss_share)
        call("fgall_recipe_for_bottles", self._handle, *given, c.byref(out))
        return s.read(Bottling, out)

    def limited_by(self, lot_name: str, *, available_g: float) -> Limited:
        """Scales to as much ink as so much of one lot allows."""
        volume, factor = c.c_double(), c.c_double()
        given = (utf8(lot_name), available_g, c.byref(volume), c.byref(factor))
        call("fgall_recipe_limited_by", self._handle, *given)
        return Limited(volume.value, factor.value)

    def round(self, kit: Kit) -> Rounding:
        """Rounds every weighed or measured amount to whole steps of its tool."""
        out = s.new(s.FgallRounding)
        call("fgall_recipe_round", self._handle, c.byref(kit.struct()), c.byref(out))
        return s.read(Rounding, out)

    def rounding_lines(self, kit: Kit) -> List[RoundedLine]:
        """What `round` would do to each amount; the recipe is left as it is."""
        given = (self._handle, c.byref(kit.struct()))
        return listed(RoundedLine, s.FgallRoundedLine, "fgall_recipe_rounding_lines", *given)

    def stocks(self, kit: Kit, *, steps: float = 20.0) -> List[Stock]:
        """A stock solution for every weighing that is under so many steps of its tool."""
        given = (self._handle, c.byref(kit.struct()), steps)
        return listed(Stock, s.FgallStock, "fgall_recipe_stocks", *given)

    def findings(self, kit: Optional[Kit] = None) -> List[Finding]:
        """Everything worth saying about the recipe as it is, worst first."""
        given = (self._handle, _by_reference(kit))
        return listed(Finding, s.FgallFinding, "fgall_recipe_findings", *given)

    def slips(self, finding: int, kit: Optional[Kit] = None) -> List[Slip]:
        """How the recipe may have been miswritten to bring the finding at this place of
        `findings` (with the same kit): best first, three at most, often none."""
        given = (self._handle, _by_reference(kit), finding)
        return listed(Slip, s.FgallSlip, "fgall_recipe_slips", *given)

    def corrected(self, finding: int, slip: int = 0, kit: Optional[Kit] = None) -> Recipe:
        """The recipe as it may have been meant, by a slip of `slips`."""
        given = (self._handle, _by_reference(kit), finding, slip)
        return Recipe._made_by("fgall_recipe_corrected_new", *given)

    def verdicts(self) -> List[Verdict]:
        """What every published criterion says of iron and tannin; none without either."""
        return listed(Verdict, s.FgallVerdict, "fgall_recipe_verdicts", self._handle)

    def sheet_text(self, options: Optional[SheetOptions] = None) -> str:
        """The batch sheet as a page to print; with a kit, of the rounded recipe."""
        given = (self._handle, _by_reference(options))
        return written_text("fgall_recipe_sheet_text", *given, capacity=16384)

    def sheet_json(self, options: Optional[SheetOptions] = None) -> Dict[str, Any]:
        """The same sheet for a program, in the shape of ferrogall.sheet_json()."""
        given = (self._handle, _by_reference(options))
        sheet: Dict[str, Any] = json.loads(
            written_text("fgall_recipe_sheet_json", *given, capacity=16384)
        )
        return sheet

    def smallest_batch(self, kit: Kit, *, steps: float = 20.0) -> SmallestBatch:
        """The smallest batch in which every amount is at least so many steps."""
        out = s.new(s.FgallSmallestBatch)
        given = (c.byref(kit.struct()), steps, c.byref(out))
        call("fgall_recipe_smallest_batch", self._handle, *given)
        return s.read(SmallestBatch, out)

    def to_lot(self, shelf: Shelf, name: str) -> Lot:
        """Makes it and puts it on a shelf as a lot of its own: a stock solution."""
        made = count("fgall_shelf_add_recipe", shelf._handle, self._handle, utf8(name))
        return Lot(shelf, made)

    def substitute(self, lot_name: str, new: Lot, *, equal: Equal) -> None:
        """Replaces a lot, found by its name, at equal iron(II) or galloyl."""
        given = (utf8(lot_name), new.shelf._handle, new.index, equal)
        call("fgall_recipe_substitute", self._handle, *given)


def _one_of(prefix: str, amounts: Mapping[str, Optional[float]], given: Any) -> Any:
    """The call for the one amount that is given."""
    chosen = [(name, amount) for name, amount in amounts.items() if amount is not None]
    if len(chosen) != 1:
        raise TypeError(f"give exactly one of {', '.join(amounts)}")
    ((name, amount),) = chosen
    return (prefix + name.split("_")[0], *given, amount)


def _json(recipe: Union[str, Mapping[str, Any]]) -> bytes:
    return utf8(recipe if isinstance(recipe, str) else json.dumps(recipe))


def reference_inks() -> List[str]:
    """Identifiers of the published inks."""
    inks = range(count("fgall_reference_ink_count"))
    return [written_text("fgall_reference_ink_id", index) for index in inks]


def reference_ink_source(ink: str) -> str:
    """Name of a published ink, where it was published, and how far that may be trusted."""
    return written_text("fgall_reference_ink_source", utf8(ink))


def sheet_text(recipe: Union[str, Mapping[str, Any]]) -> str:
    """The batch sheet of a recipe given as JSON (a text, or what would become one)."""
    return written_text("fgall_sheet_text", _json(recipe), capacity=16384)


def sheet_json(recipe: Union[str, Mapping[str, Any]]) -> Dict[str, Any]:
    """The same sheet for a program: composition, weighings, findings, the oxygen bound."""
    sheet: Dict[str, Any] = json.loads(
        written_text("fgall_sheet_json", _json(recipe), capacity=16384)
    )
    return sheet
