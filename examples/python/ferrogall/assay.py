"""What was measured, and what is in the bottle: iron, rust and what was weighed.

A figure is a value, or a pair of value and standard uncertainty (k = 1); `reading_u` turns
tolerances and steps into one. Names say what errs together: one bottle of titrant, one pipette.
"""

from __future__ import annotations

import ctypes as c
from dataclasses import dataclass
from typing import Any, Optional, Sequence, Tuple

from . import _structs as s
from ._library import call, number, utf8, whole, written_text
from .assayed import Assayed, AssayedFigures, TitrationRow, Weathered
from .columns import Held, Rows
from .constants import (
    CLEAN_STOCK,
    NAIL_BITS,
    PHENANTHROLINE_BITS,
    TITRATION_BITS,
    DriedTo,
    Read,
    Sample,
    StockSalt,
    Titrant,
)
from .shelf import Measured, split

_NOTES = 4096  # room for most


def reading_u(kind: Read, within: float) -> float:
    """The standard uncertainty of a figure read off to a half-width or a step, in its unit."""
    return number("fgall_reading_u", kind, within)


def assayed(name: str, *arguments: Any) -> Assayed:
    """What a function with a result and notes says."""
    out = s.new(s.FgallAssayed)
    notes = written_text(name, *arguments, c.byref(out), capacity=_NOTES)
    return Assayed(**vars(s.read(AssayedFigures, out)), notes=notes)


def _put(out: Any, bits: Any, figures: Any) -> None:
    """Fills in figures with their uncertainties: volume_ml has volume_u_ml beside it."""
    for name, figure in figures.items():
        value, u = split(figure)
        if value is None:
            continue
        quantity, _, unit = name.partition("_")
        here = [field for field, _ in out._fields_]
        beside = f"{quantity}_u_{unit}"
        setattr(out, name, value)
        setattr(out, beside if beside in here else f"{name}_u", u)
        if name in bits:
            out.set |= bits[name]


def _names(out: Any, given: Any) -> None:
    for name, _ in out._fields_:
        if name.endswith("_name") and getattr(given, name) is not None:
            setattr(out, name, utf8(getattr(given, name)))


def _both(one: Optional[Measured], other: Optional[Measured], text: str) -> None:
    if (one is None) != (other is None):
        raise TypeError(f"{text} go together")


@dataclass(frozen=True)
class Dropper:
    """So many drops weigh so much."""

    drops: int
    mass_g: Measured
    density_g_per_cm3: float


@dataclass(frozen=True)
class Titration:
    """A redox titration of iron(II): titrant by burette, by repeated titres, or by drops (the
    last one counted). A finished ink and a liquor are refused."""

    titrant: Titrant
    sample: Sample
    molarity_mol_per_l: Measured
    volume_ml: Optional[Measured] = None
    titres_ml: Optional[Sequence[float]] = None
    drops: Optional[int] = None
    dropper: Optional[Dropper] = None
    blank_ml: Optional[Measured] = None
    aliquot_ml: Optional[Measured] = None
    flask_ml: Optional[Measured] = None
    titrant_name: Optional[str] = None
    dropper_name: Optional[str] = None
    pipette_name: Optional[str] = None
    flask_name: Optional[str] = None

    def struct(self, of_rows: bool = False) -> Any:
        ways = (self.volume_ml, self.titres_ml, self.drops)
        if not of_rows and sum(way is not None for way in ways) != 1:
            raise TypeError("give exactly one of volume_ml, titres_ml, drops")
        _both(self.aliquot_ml, self.flask_ml, "aliquot_ml and flask_ml")
        out = s.new(s.FgallTitration)
        out.titrant, out.sample = self.titrant, self.sample
        own = ("molarity_mol_per_l", "volume_ml", "blank_ml", "aliquot_ml", "flask_ml")
        _put(out, TITRATION_BITS, {name: getattr(self, name) for name in own})
        if self.titres_ml is not None:
            # The struct keeps the array alive.
            titres = (c.c_double * len(self.titres_ml))(*self.titres_ml)
            given = {"titres_ml": titres, "titre_count": len(self.titres_ml)}
            s.fill(out, TITRATION_BITS, given)
        if self.drops is not None:
            s.fill(out, TITRATION_BITS, {"drops": whole(self.drops, "drops", 2**32 - 1)})
        if self.dropper is not None:
            mass, u = split(self.dropper.mass_g)
            given = {
                "dropper_drops": whole(self.dropper.drops, "dropper_drops", 2**32 - 1),
                "dropper_g": mass,
                "dropper_u_g": u,
                "dropper_g_per_cm3": self.dropper.density_g_per_cm3,
            }
            s.fill(out, TITRATION_BITS, given)
        _names(out, self)
        return out

    def iron_mmol(self) -> Assayed:
        """Iron(II) in the whole sample."""
        return assayed("fgall_titration_iron_mmol", c.byref(self.struct()))

    def iron_mol_per_l(self, *, sample_ml: Measured) -> Assayed:
        """Iron(II) of a liquid sample."""
        given = (c.byref(self.struct()), *split(sample_ml))
        return assayed("fgall_titration_iron_mol_per_l", *given)

    def iron_share(self, *, sample_g: Measured) -> Assayed:
        """Iron(II) as a share of the sample's mass."""
        return assayed("fgall_titration_iron_share", c.byref(self.struct()), *split(sample_g))

    def purity(self, *, sample_g: Measured, formula: str) -> Assayed:
        """Share of the sample that is the salt of this formula."""
        given = (c.byref(self.struct()), *split(sample_g), utf8(formula))
        return assayed("fgall_titration_purity", *given)

    def oxidised_share(self, total: Titration) -> Assayed:
        """Share of the iron that is iron(III), this being the iron(II) and `total` all iron."""
        both = (c.byref(self.struct()), c.byref(total.struct()))
        return assayed("fgall_titration_oxidised_share", *both)

    def rows(
        self,
        volume_ml: Any,
        sample_g: Any = None,
        *,
        volume_u_ml: float = 0.0,
        sample_u_g: float = 0.0,
    ) -> Rows[TitrationRow]:
        """Many samples with one titrant: columns as for Columns.evaluate of the volumes, and
        of the masses where shares are wanted. A bad row does not stop the others."""
        out = self.struct(of_rows=True)
        out.volume_u_ml = volume_u_ml
        with Held() as held:
            volumes = c.byref(held.one("volume_ml", volume_ml))
            masses = None if sample_g is None else c.byref(held.one("sample_g", sample_g))
            given = (c.byref(out), volumes, masses, sample_u_g)
            return held.rows_of(TitrationRow, "fgall_titration_rows", *given)


@dataclass(frozen=True)
class Phenanthroline:
    """An absorbance with 1,10-phenanthroline at 510 nm: of iron(II), or of all iron after
    hydroxylamine. `standards` are pairs of mg/L and absorbance in the same cell."""

    sample: Sample
    absorbance: Measured
    path_mm: Measured
    blank_absorbance: Optional[Measured] = None
    aliquot_ml: Optional[Measured] = None
    flask_ml: Optional[Measured] = None
    standards: Optional[Sequence[Tuple[float, float]]] = None
    cell_name: Optional[str] = None
    pipette_name: Optional[str] = None
    flask_name: Optional[str] = None

    def struct(self) -> Any:
        _both(self.aliquot_ml, self.flask_ml, "aliquot_ml and flask_ml")
        out = s.new(s.FgallPhenanthroline)
        out.sample = self.sample
        own = ("absorbance", "path_mm", "blank_absorbance", "aliquot_ml", "flask_ml")
        _put(out, PHENANTHROLINE_BITS, {name: getattr(self, name) for name in own})
        if self.standards is not None:
            array_of = c.c_double * len(self.standards)
            given = {
                "standards_mg_per_l": array_of(*(mg for mg, _ in self.standards)),
                "standards_absorbance": array_of(*(read for _, read in self.standards)),
                "standard_count": len(self.standards),
            }
            s.fill(out, PHENANTHROLINE_BITS, given)
        _names(out, self)
        return out

    def iron_mol_per_l(self) -> Assayed:
        """Iron of the sample before it was diluted."""
        return assayed("fgall_phenanthroline_iron_mol_per_l", c.byref(self.struct()))

    def oxidised_share(self, total: Phenanthroline) -> Assayed:
        """Share of the iron that is iron(III), this being the iron(II) and `total` all iron."""
        both = (c.byref(self.struct()), c.byref(total.struct()))
        return assayed("fgall_phenanthroline_oxidised_share", *both)


def nail_iron_mmol(
    *, before_g: Measured, after_g: Measured, iron_share: Optional[Measured] = None
) -> Assayed:
    """Iron that went into solution; steel, 0.98 ± 0.01 iron, if nothing is said. IRON IN ACID
    GIVES OFF HYDROGEN: an open vessel, no flame, never a closed jar."""
    out = s.new(s.FgallNail)
    out.before_g, out.before_u_g = split(before_g)
    out.after_g, out.after_u_g = split(after_g)
    share, u = split(iron_share)
    if share is not None:
        s.fill(out, NAIL_BITS, {"iron_share": share, "iron_share_u": u})
    return assayed("fgall_nail_iron_mmol", c.byref(out))


@dataclass(frozen=True)
class Drying:
    """A pan empty, with the sample, and with what is left at constant mass."""

    pan_g: Measured
    with_sample_g: Measured
    with_dried_g: Measured

    def struct(self) -> Any:
        out = s.new(s.FgallDrying)
        out.pan_g, out.pan_u_g = split(self.pan_g)
        out.with_sample_g, out.with_sample_u_g = split(self.with_sample_g)
        out.with_dried_g, out.with_dried_u_g = split(self.with_dried_g)
        return out

    def residue_share(self) -> Assayed:
        """What a liquor leaves: at most so much tannin."""
        return assayed("fgall_dry_residue_share", c.byref(self.struct()))

    def moisture_share(self) -> Assayed:
        """What galls, gum or tannic acid lose."""
        return assayed("fgall_moisture_share", c.byref(self.struct()))

    def vitriol_waters(self, dried_to: DriedTo) -> Assayed:
        """Mean number of crystal waters for each iron of green vitriol."""
        return assayed("fgall_vitriol_waters", c.byref(self.struct()), dried_to)

    def vitriol_iron_share(self, dried_to: DriedTo) -> Assayed:
        """Iron of the salt as it is."""
        return assayed("fgall_vitriol_iron_share", c.byref(self.struct()), dried_to)

    def weathered(self, dried_to: DriedTo) -> Weathered:
        """The hydrates that come to the same mean."""
        out = s.new(s.FgallWeathered)
        call("fgall_vitriol_weathered", c.byref(self.struct()), dried_to, c.byref(out))
        return s.read(Weathered, out)


def vitriol_dried_to(*, oven_c: float) -> DriedTo:
    """What an oven of this temperature leaves of green vitriol."""
    out = c.c_uint32()
    call("fgall_vitriol_dried_to", oven_c, c.byref(out))
    return DriedTo(out.value)


def stock_iron_mol_per_l(
    stock: StockSalt,
    *,
    density_g_per_cm3: Measured,
    temperature_c: Measured,
    clean: bool = False,
) -> Assayed:
    """Iron(II) of a stock by its density: at most so much unless nothing else is in it."""
    out = s.new(s.FgallStockDensity)
    out.stock, out.set = stock, CLEAN_STOCK if clean else 0
    out.density_g_per_cm3, out.density_u_g_per_cm3 = split(density_g_per_cm3)
    out.temperature_c, out.temperature_u_k = split(temperature_c)
    return assayed("fgall_stock_iron_mol_per_l", c.byref(out))
