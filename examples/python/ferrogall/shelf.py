"""Lots: the real bags and bottles on the shelf."""

from __future__ import annotations

import ctypes as c
from typing import List, Optional, Sequence, Tuple, Union

from . import _structs as s
from ._library import Handle, Owner, call, count, number, utf8, written_text
from .constants import IRON_BITS, LOT_BITS, Equal
from .results import IronMade, LotContents, Substitution

# A figure, or a figure and its standard uncertainty (k = 1).
Measured = Union[float, Tuple[float, float]]


def split(figure: Optional[Measured]) -> Tuple[Optional[float], float]:
    """A figure and its uncertainty, 0 where none was given."""
    return figure if isinstance(figure, tuple) else (figure, 0.0)


class Lot:
    """A lot on a shelf, which it keeps alive."""

    __slots__ = ("shelf", "index")

    def __init__(self, shelf: Shelf, index: int) -> None:
        self.shelf = shelf
        self.index = index

    @property
    def name(self) -> str:
        return written_text("fgall_shelf_lot_name", self.shelf._handle, self.index)

    @property
    def assumed(self) -> List[str]:
        """What was taken from the catalogue because nothing else was said."""
        return written_text("fgall_shelf_lot_assumed", self.shelf._handle, self.index).splitlines()

    def contents(self) -> LotContents:
        """What the lot holds."""
        out = s.new(s.FgallLot)
        call("fgall_shelf_lot", self.shelf._handle, self.index, c.byref(out))
        return s.read(LotContents, out)

    def mass_g(self, *, volume_ml: float) -> float:
        """Mass of a measured volume, where the density is known."""
        return number("fgall_shelf_mass_of_volume", self.shelf._handle, self.index, volume_ml)

    def __repr__(self) -> str:
        return f"<Lot {self.index}: {self.name}>"


class Shelf(Owner):
    """Lots, counted from 0. Recipes and columns copy the lots they use."""

    def __init__(self) -> None:
        self._handle = Handle("shelf", "fgall_shelf_new")

    def __len__(self) -> int:
        return count("fgall_shelf_count", self._handle)

    def add(
        self,
        material: str,
        *,
        name: Optional[str] = None,
        purity: Optional[Measured] = None,
        tannin: Optional[Measured] = None,
        gallic_acid: Optional[Measured] = None,
        galloyl_mol_per_kg: Optional[Measured] = None,
        moisture: Optional[Measured] = None,
        oxidised: Optional[Measured] = None,
        hydrate_shares: Optional[Sequence[float]] = None,
        alkalinity_mg_per_l: Optional[float] = None,
        hardness_mg_per_l: Optional[float] = None,
        density_g_per_cm3: Optional[float] = None,
        price_per_kg: Optional[float] = None,
    ) -> Lot:
        """Puts a lot on the shelf. What is not given is the catalogue's typical value.

        Fractions are by mass, 0 to 1, or pairs of value and standard uncertainty;
        `oxidised` is mol of iron(III) per mol of iron. `hydrate_shares` are those of
        the 7-, 4- and 1-hydrate and of Fe(OH)SO4 in weathered vitriol.
        """
        spec = s.new(s.FgallLotSpec)
        spec.material = utf8(material)
        spec.name = None if name is None else utf8(name)
        given = {
            "alkalinity_mg_per_l": alkalinity_mg_per_l,
            "hardness_mg_per_l": hardness_mg_per_l,
            "density_g_per_cm3": density_g_per_cm3,
            "price_per_kg": price_per_kg,
        }
        given["purity"], spec.purity_u = split(purity)
        given["tannin"], spec.tannin_u = split(tannin)
        given["gallic_acid"], spec.gallic_acid_u = split(gallic_acid)
        given["galloyl_mol_per_kg"], spec.galloyl_u_mol_per_kg = split(galloyl_mol_per_kg)
        given["moisture"], spec.moisture_u = split(moisture)
        given["oxidised"], spec.oxidised_u = split(oxidised)
        s.fill(spec, LOT_BITS, given)
        if hydrate_shares is not None:
            seven, four, one, basic = hydrate_shares
            s.fill(spec, LOT_BITS, {"hydrate_shares": (seven, four, one, basic)})
        return Lot(self, count("fgall_shelf_add_lot", self._handle, c.byref(spec)))

    def add_iron_in_acid(
        self,
        *,
        iron_g: float,
        acid: Lot,
        acid_g: float,
        water: Optional[Lot] = None,
        water_g: Optional[float] = None,
        iron_share: Optional[Measured] = None,
        dissolved_share: Optional[float] = None,
        temperature_c: Optional[float] = None,
        pressure_kpa: Optional[float] = None,
    ) -> Tuple[Lot, IronMade]:
        """Dissolves iron in an acid and puts the solution on the shelf.

        HYDROGEN BURNS AND EXPLODES: an open vessel, outdoors or under a hood, away
        from flames, goggles on, the jar never closed. Local rules come first.
        """
        if (water is None) != (water_g is None):
            raise TypeError("water and water_g go together")
        spec, made = s.new(s.FgallIronInAcid), s.new(s.FgallIronMade)
        spec.iron_g, spec.acid_lot, spec.acid_g = iron_g, self.index(acid), acid_g
        if temperature_c is not None or pressure_kpa is not None:
            # One bit for both: the library's own room is 20 °C and 101.325 kPa.
            temperature_c = 20.0 if temperature_c is None else temperature_c
            pressure_kpa = 101.325 if pressure_kpa is None else pressure_kpa
        share, spec.iron_share_u = split(iron_share)
        given = {
            "water_lot": None if water is None else self.index(water),
            "water_g": water_g,
            "iron_share": share,
            "dissolved_share": dissolved_share,
            "temperature_c": temperature_c,
            "pressure_kpa": pressure_kpa,
        }
        s.fill(spec, IRON_BITS, given)
        arguments = (self._handle, c.byref(spec), c.byref(made))
        index = count("fgall_shelf_add_iron_in_acid", *arguments)
        return Lot(self, index), s.read(IronMade, made)

    def substitute(self, old: Lot, new: Lot, *, mass_g: float, equal: Equal) -> Substitution:
        """What to take of one lot in place of a mass of another."""
        out = s.new(s.FgallSubstitution)
        lots = (self._handle, self.index(old), self.index(new))
        call("fgall_substitute", *lots, equal, mass_g, c.byref(out))
        return s.read(Substitution, out)

    def index(self, lot: Lot) -> int:
        """Index of a lot of this shelf; one of another shelf is refused."""
        if lot.shelf is not self:
            raise ValueError(f"{lot!r} is on another shelf")
        return lot.index
