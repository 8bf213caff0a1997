"""pH and species: what is dissolved in an ink, and how sure that is.

The pH of an acid ink is good to about 0.05; without mineral acid, and with much iron(III),
`Solver.ph_interval` tells what disputed constants leave open. Shares of iron bound to gallic
acid and tannin are good to one order of magnitude.
"""

from __future__ import annotations

import ctypes as c
import math
import threading
from dataclasses import fields
from typing import Any, List, Mapping, Optional, Type, TypeVar

from . import _structs as s
from ._errors import FerrogallError
from ._library import Handle, Owner, call, listed, utf8, written_text
from .columns import Held, Rows
from .constants import Constants, Master, Status
from .keeping import StoredInk, read_ink
from .kept import InkChemistry, Outcome, Rescue
from .recipe import Recipe
from .results import (
    Equilibrium,
    EquilibriumRow,
    InkReport,
    Interval,
    PhDose,
    Preservative,
    Solid,
    Species,
    Totals,
    WaterEffect,
)
from .shelf import Lot

Result = TypeVar("Result")


def master_formula(master: Master) -> str:
    """How the equations of species write a component, such as Fe+3."""
    return written_text("fgall_master_formula", master)


class Solver(Owner):
    """A set of equilibrium constants at a temperature (0 to 60 °C).

    Closed to the air unless a pressure of carbon dioxide is given (outdoors about
    4.25e-4 atm). One solver works for one thread at a time, others wait; `copy` makes one
    for each.
    """

    def __init__(
        self,
        *,
        temperature_c: float = 20.0,
        constants: Constants = Constants.REVIEWED,
        carbon_dioxide_atm: Optional[float] = None,
    ) -> None:
        pressure = _nan_for_none("carbon_dioxide_atm", carbon_dioxide_atm)
        self._handle = Handle("solver", "fgall_solver_new", constants, temperature_c, pressure)
        self._alone = threading.Lock()

    def copy(self) -> Solver:
        """A copy with a life and constants of its own."""
        other = Solver.__new__(Solver)
        other._alone = threading.Lock()
        with self._alone:
            other._handle = Handle("solver", "fgall_solver_copy_new", self._handle)
        return other

    __copy__ = copy

    def __deepcopy__(self, _: Any) -> Solver:
        return self.copy()

    def set_log_k(self, species: str, log_k25: float) -> None:
        """Another log10 of a species' formation constant, at 25 °C and ionic strength 0."""
        self._call("fgall_solver_set_log_k", utf8(species), log_k25)

    def remove_species(self, species: str) -> None:
        """Leaves a species out."""
        self._call("fgall_solver_remove_species", utf8(species))

    def add_species(
        self, equation: str, log_k25: float, *, enthalpy_kj_per_mol: Optional[float] = None
    ) -> None:
        """A species more, by the reaction that forms it: "Fe+3 + SO4-2 = FeSO4+"."""
        heat = _nan_for_none("enthalpy_kj_per_mol", enthalpy_kj_per_mol)
        self._call("fgall_solver_add_species", utf8(equation), log_k25, heat)

    def solve(self, totals: Totals) -> Equilibrium:
        """What is dissolved, in sum."""
        out = s.new(s.FgallEquilibrium)
        self._call("fgall_solver_solve", _struct(totals), c.byref(out))
        return s.read(Equilibrium, out)

    def total_for_ph(self, totals: Totals, master: Master, *, ph: float) -> float:
        """The total (mol/kg) of one component that brings the solution to a pH: of an
        anion as its acid, of a cation as its hydroxide."""
        with self._alone:
            given = (self._handle, _struct(totals), master, ph)
            out = c.c_double()
            call("fgall_solver_total_for_ph", *given, c.byref(out), None)
            return out.value

    def ph_interval(self, totals: Totals) -> Interval:
        """What the uncertainty of the constants leaves open of the pH (95 %)."""
        low, high = c.c_double(), c.c_double()
        given = (_struct(totals), c.byref(low), c.byref(high))
        self._call("fgall_solver_ph_interval", *given)
        return Interval(low.value, high.value)

    def species(self, totals: Totals) -> List[Species]:
        """Every dissolved species that the components can form."""
        return self._listed(Species, s.FgallSpecies, "fgall_solver_species", _struct(totals))

    def solids(self, totals: Totals) -> List[Solid]:
        """Every solid and gas that the components can form."""
        return self._listed(Solid, s.FgallSolid, "fgall_solver_solids", _struct(totals))

    def report(self, recipe: Recipe) -> InkReport:
        """All that makers ask of the acid and the iron in one ink."""
        out = s.new(s.FgallInkReport)
        self._call("fgall_solver_recipe_report", recipe._handle, c.byref(out))
        return s.read(InkReport, out)

    def dose(self, recipe: Recipe, lot: Lot, *, mass_g: float) -> PhDose:
        """pH of an ink with so much of a lot put into it; the recipe is left as it is."""
        return self._dose("fgall_solver_dose", recipe, lot, lot.index, mass_g)

    def dose_for_ph(self, recipe: Recipe, lot: Lot, *, ph: float) -> PhDose:
        """How much of a lot brings an ink to a pH; the recipe is left as it is."""
        return self._dose("fgall_solver_dose_for_ph", recipe, lot, lot.index, ph)

    def equal_dose(self, recipe: Recipe, given: Lot, *, mass_g: float, instead: Lot) -> PhDose:
        """How much of one lot does to the pH of an ink what a mass of another does."""
        other = given.shelf.index(instead)
        lots = (given, given.index, mass_g, other)
        return self._dose("fgall_solver_equal_dose", recipe, *lots)

    def water_effect(self, recipe: Recipe) -> WaterEffect:
        """What the minerals of the water do to the pH of an ink."""
        out = s.new(s.FgallWaterEffect)
        self._call("fgall_solver_water_effect", recipe._handle, c.byref(out))
        return s.read(WaterEffect, out)

    def preservatives(self, recipe: Recipe) -> List[Preservative]:
        """Every preservative in an ink, and how much of it acts at its pH."""
        struct, name = s.FgallPreservative, "fgall_solver_preservatives"
        return self._listed(Preservative, struct, name, recipe._handle)

    def stored_ink(self, recipe: Recipe) -> StoredInk:
        """The ink of a recipe as a forecast of its keeping sees it."""
        out = s.new(s.FgallStoredInk)
        self._call("fgall_solver_stored_ink", recipe._handle, c.byref(out))
        return read_ink(out)

    def rescue(self, recipe: Recipe, outcome: Outcome) -> Rescue:
        """What brings the ink of a recipe back after an outcome of its keeping."""
        out, kept = s.new(s.FgallRescue), s.write(s.FgallOutcome(), outcome)
        self._call("fgall_solver_rescue", recipe._handle, c.byref(kept), c.byref(out))
        return s.read(Rescue, out)

    def chemistry(self, recipe: Recipe, outcome: Outcome) -> InkChemistry:
        """Acid and iron(II) of the ink of a recipe after an outcome of its keeping."""
        out, kept = s.new(s.FgallInkChemistry), s.write(s.FgallOutcome(), outcome)
        self._call("fgall_solver_chemistry", recipe._handle, c.byref(kept), c.byref(out))
        return s.read(InkChemistry, out)

    def rows(self, mol_per_kg: Mapping[Master, Any]) -> Rows[EquilibriumRow]:
        """pH and iron of many solutions: a column of totals for each component that is
        there, as for Columns.evaluate. Other threads run meanwhile."""
        masters = (c.c_uint32 * len(mol_per_kg))(*mol_per_kg)
        with Held() as held, self._alone:
            totals, count = held.several("mol_per_kg", list(mol_per_kg.values()))
            given = (self._handle, masters, totals, count)
            return held.rows_of(EquilibriumRow, "fgall_solver_rows", *given)

    def _call(self, name: str, *arguments: Any) -> None:
        with self._alone:
            call(name, self._handle, *arguments)

    def _listed(
        self, result: Type[Result], struct: Any, name: str, *arguments: Any
    ) -> List[Result]:
        with self._alone:
            return listed(result, struct, name, self._handle, *arguments)

    def _dose(self, name: str, recipe: Recipe, lot: Lot, *arguments: Any) -> PhDose:
        out = s.new(s.FgallPhDose)
        self._call(name, recipe._handle, lot.shelf._handle, *arguments, c.byref(out))
        return s.read(PhDose, out)


def _struct(totals: Totals) -> Any:
    out = s.new(s.FgallTotals)
    for field in fields(Totals):
        setattr(out, field.name, getattr(totals, field.name))
    return c.byref(out)


def _nan_for_none(name: str, value: Optional[float]) -> float:
    """NaN says "none" to the library, so that ours must not get there."""
    if value is None:
        return math.nan
    if math.isnan(value):
        raise FerrogallError(Status.INPUT_NAN, name, value, f"{name} is NaN")
    return value
