"""Tannin by what was measured: density, other methods, drops of iron.

Figures are values, or pairs of value and standard uncertainty, as in `assay`.
"""

from __future__ import annotations

import ctypes as c
from dataclasses import dataclass
from typing import Any, List, Optional, Tuple

from . import _structs as s
from ._library import call, count, utf8, whole, written_text
from .assay import assayed
from .assayed import Assayed, Bracket, TanninFactor
from .constants import SPOT_BITS, TANNIN_ONLY, Adding, Found
from .shelf import Measured, split
from .studied import Belief


def liquor_tannin_share(
    *,
    specific_gravity: Measured,
    temperature_c: Measured,
    reference_c: float,
    tannin_only: bool = False,
) -> Assayed:
    """Tannin of a liquor by a hydrometer: at most so much unless nothing else is in it."""
    out = s.new(s.FgallLiquorDensity)
    out.set, out.reference_c = TANNIN_ONLY if tannin_only else 0, reference_c
    out.specific_gravity, out.specific_gravity_u = split(specific_gravity)
    out.temperature_c, out.temperature_u_k = split(temperature_c)
    return assayed("fgall_liquor_tannin_share", c.byref(out))


def tannin_factors() -> List[TanninFactor]:
    """Factors between tannin methods. Data, never truth."""
    found = []
    for index in range(count("fgall_tannin_factor_count")):
        out = s.new(s.FgallTanninFactor)
        call("fgall_tannin_factor_at", index, c.byref(out))
        found.append(s.read(TanninFactor, out))
    return found


def tannin_factor_source(index: int) -> str:
    """Where a factor comes from, and what else acts on the method's figure."""
    return written_text("fgall_tannin_factor_source", whole(index, "index", 2**32))


def tannin_by_factor(factor: str, figure: Measured) -> Assayed:
    """Tannin from the figure of another method."""
    return assayed("fgall_tannin_by_factor", utf8(factor), *split(figure))


def loewenthal_tannin_g(
    factor: str, *, molarity_mol_per_l: Measured, volume_ml: Measured, after_hide_ml: Measured
) -> Assayed:
    """Tannin by Löwenthal's titration with permanganate."""
    out = s.new(s.FgallLoewenthal)
    out.factor = utf8(factor)
    out.molarity_mol_per_l, out.molarity_u_mol_per_l = split(molarity_mol_per_l)
    out.volume_ml, out.volume_u_ml = split(volume_ml)
    out.after_hide_ml, out.after_hide_u_ml = split(after_hide_ml)
    return assayed("fgall_loewenthal_tannin_g", c.byref(out))


def plant_tannin_share(
    *,
    liquor_tannin_share: Measured,
    liquor_g: Measured,
    plant_g: Measured,
    yield_share: Measured,
    moisture_share: Measured = 0.0,
    liquor_bound: Found = Found.ESTIMATE,
) -> Assayed:
    """Tannin of a plant found through its liquor: a median and a log-normal interval."""
    out = s.new(s.FgallPlantTannin)
    out.liquor_bound = liquor_bound
    out.liquor_tannin_share, out.liquor_tannin_u = split(liquor_tannin_share)
    out.liquor_g, out.liquor_u_g = split(liquor_g)
    out.plant_g, out.plant_u_g = split(plant_g)
    out.moisture_share, out.moisture_u = split(moisture_share)
    out.yield_share, out.yield_u = split(yield_share)
    return assayed("fgall_plant_tannin_share", c.byref(out))


@dataclass(frozen=True)
class SpotTest:
    """Additions of iron to so much extract, or of extract to so much iron, until one no longer
    darkens."""

    adding: Adding
    given_ml: Measured
    iron_mol_per_l: Measured
    last_darkened_ml: float
    first_not_ml: float
    judging_u_ln: Optional[float] = None
    iron_per_galloyl: Optional[Tuple[float, float, float]] = None
    """Low end, typical value and high end, found on an extract of known content."""

    def struct(self) -> Any:
        out = s.new(s.FgallSpotTest)
        out.kind = self.adding
        out.given_ml, out.given_u_ml = split(self.given_ml)
        out.iron_mol_per_l, out.iron_u_mol_per_l = split(self.iron_mol_per_l)
        out.last_darkened_ml, out.first_not_ml = self.last_darkened_ml, self.first_not_ml
        low, typical, high = self.iron_per_galloyl or (None, None, None)
        given = {
            "judging_u_ln": self.judging_u_ln,
            "iron_per_galloyl_min": low,
            "iron_per_galloyl_typical": typical,
            "iron_per_galloyl_max": high,
        }
        s.fill(out, SPOT_BITS, given)
        return out

    def galloyl_mol_per_l(self) -> Bracket:
        """Galloyl units of the extract."""
        out = s.new(s.FgallBracket)
        call("fgall_spot_galloyl_mol_per_l", c.byref(self.struct()), c.byref(out))
        return s.read(Bracket, out)

    def plant(
        self,
        *,
        liquor_ml: Measured,
        plant_g: Measured,
        yield_share: Measured,
        galloyl_mol_per_kg: Measured,
        moisture_share: Measured = 0.0,
    ) -> Tuple[Bracket, Bracket]:
        """Of the plant the extract came from: galloyl units, mol/kg, and tannin, as a share."""
        given = s.new(s.FgallSpotPlant)
        given.liquor_ml, given.liquor_u_ml = split(liquor_ml)
        given.plant_g, given.plant_u_g = split(plant_g)
        given.moisture_share, given.moisture_u = split(moisture_share)
        given.yield_share, given.yield_u = split(yield_share)
        given.galloyl_mol_per_kg, given.galloyl_u_mol_per_kg = split(galloyl_mol_per_kg)
        galloyl, tannin = s.new(s.FgallBracket), s.new(s.FgallBracket)
        both = (c.byref(given), c.byref(galloyl), c.byref(tannin))
        call("fgall_spot_plant", c.byref(self.struct()), *both)
        return s.read(Bracket, galloyl), s.read(Bracket, tannin)


def belief_update_bracket(prior: Belief, bracket: Bracket) -> Belief:
    """What is believed after a bracket of the property, in the unit of both."""
    given, out = s.write(s.new(s.FgallBracket), bracket), s.new(s.FgallBelief)
    call("fgall_belief_update_bracket", prior.median, prior.u_ln, c.byref(given), c.byref(out))
    return s.read(Belief, out)
