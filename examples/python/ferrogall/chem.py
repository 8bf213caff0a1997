"""Materials, molar masses, solutions and hydrometers."""

from __future__ import annotations

import ctypes as c
from typing import List, Optional

from . import _structs as s
from ._library import call, count, number, utf8, written_text
from .constants import Baume
from .results import Hydrometer, Material, MolarMass, Solution


def materials() -> List[Material]:
    """The whole catalogue."""
    out, found = s.new(s.FgallMaterial), []
    for index in range(count("fgall_material_count")):
        call("fgall_material_at", index, c.byref(out))
        found.append(s.read(Material, out))
    return found


def material(id: str) -> Material:
    """The material with exactly this identifier."""
    out = s.new(s.FgallMaterial)
    call("fgall_material_find", utf8(id), c.byref(out))
    return s.read(Material, out)


def material_source(id: str) -> str:
    """Where the material's row comes from, and how far that may be trusted."""
    return written_text("fgall_material_source", material(id).index)


def molar_mass(formula: str) -> MolarMass:
    """Molar mass of a formula such as "FeSO4.7H2O"."""
    mass, u = c.c_double(), c.c_double()
    call("fgall_molar_mass", utf8(formula), c.byref(mass), c.byref(u))
    return MolarMass(mass.value, u.value)


def water_density_g_per_cm3(*, temperature_c: float) -> float:
    """Density of water, 0 to 100 °C."""
    return number("fgall_water_density", temperature_c)


def solution(
    solute: str,
    *,
    temperature_c: float,
    mass_percent: Optional[float] = None,
    mol_per_l: Optional[float] = None,
    density_g_per_cm3: Optional[float] = None,
    degrees_baume: Optional[float] = None,
    scale: Baume = Baume.AMERICAN,
    degrees_twaddell: Optional[float] = None,
) -> Solution:
    """A solution of one solute, such as "sulfuric_acid", from one of its strengths.

    `scale` is that of `degrees_baume`. Acid goes into water, never water into acid;
    local rules come first.
    """
    strengths = {
        "mass_percent": mass_percent,
        "molarity": mol_per_l,
        "density": density_g_per_cm3,
        "baume": degrees_baume,
        "twaddell": degrees_twaddell,
    }
    given = [(way, strength) for way, strength in strengths.items() if strength is not None]
    if len(given) != 1:
        raise TypeError("give exactly one strength")
    ((way, strength),) = given
    scales = (scale,) if way == "baume" else ()
    out = s.new(s.FgallSolution)
    name = f"fgall_solution_from_{way}"
    call(name, utf8(solute), *scales, strength, temperature_c, c.byref(out))
    return s.read(Solution, out)


def hydrometer(
    *, density_g_per_cm3: float, temperature_c: float, scale: Baume = Baume.AMERICAN
) -> Hydrometer:
    """Degrees Baumé and Twaddell that a sample of this density shows."""
    baume, twaddell = c.c_double(), c.c_double()
    given = (scale, density_g_per_cm3, temperature_c)
    call("fgall_hydrometer_from_density", *given, c.byref(baume), c.byref(twaddell))
    return Hydrometer(baume.value, twaddell.value)


def density_from_baume_g_per_cm3(
    degrees_baume: float, *, temperature_c: float, scale: Baume = Baume.AMERICAN
) -> float:
    """Density that a Baumé hydrometer means, read in a sample of this temperature."""
    return number("fgall_density_from_baume", scale, degrees_baume, temperature_c)


def density_from_twaddell_g_per_cm3(degrees_twaddell: float, *, temperature_c: float) -> float:
    """Density that a Twaddell hydrometer means, read in a sample of this temperature."""
    return number("fgall_density_from_twaddell", degrees_twaddell, temperature_c)
