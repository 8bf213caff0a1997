"""What the library answers of extractions and assays: as in `results`, one frozen dataclass
for each struct.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Tuple

from .constants import Found
from .results import Range

FourShares = Tuple[float, float, float, float]


@dataclass(frozen=True)
class Liquor:
    """What comes of an extraction: min and max hold 95 %. `drained_ml` is the volume before
    boiling down, `boiled_off_g` NaN where nothing is boiled down."""

    volume_ml: Range
    share: Range
    galloyl_mmol: Range
    gallic_acid_g: Range
    tannin_g: Range
    galloyl_mol_per_l: Range
    drained_ml: Range
    extracted_share: float
    extracted_u: float
    lost_to_rain_share: Range
    marc_share: Range
    marc_water_g: Range
    boiled_off_g: Range


@dataclass(frozen=True)
class Strained:
    """One wash, strained: what was had, what was dissolved before, what the marc keeps."""

    volume_ml: Range
    share: Range
    galloyl_mmol: Range
    gallic_acid_g: Range
    galloyl_mol_per_l: Range
    dissolved_share: float
    dissolved_u: float
    hold_up_g_per_g: float
    hold_up_u_g_per_g: float
    reached_share: Range


@dataclass(frozen=True)
class ExtractionRow:
    """One way of extracting of many."""

    share: float
    share_low: float
    share_high: float
    volume_ml: float
    galloyl_mmol: float
    galloyl_mol_per_l: float
    galloyl_low_mol_per_l: float
    galloyl_high_mol_per_l: float


@dataclass(frozen=True)
class PelegFigures:
    """Peleg's curve, t/(K1 + K2 t), with uncertainties and covariance."""

    k1_s: float
    k1_u_s: float
    k2: float
    k2_u: float
    covariance_s: float


@dataclass(frozen=True)
class AssayedFigures:
    """What an assay found: value, standard uncertainty, 95 % interval. `dof` is NaN where no
    reading was a mean of repeats."""

    value: float
    u: float
    low: float
    high: float
    bound: Found
    dof: float


@dataclass(frozen=True)
class Assayed(AssayedFigures):
    """The same with everything to know about it, a line for each: what was assumed, what may
    have gone wrong, what makes the uncertainty, the method and its dangers."""

    notes: str


@dataclass(frozen=True)
class TitrationRow:
    """One titration of many; the shares are NaN without masses."""

    iron_mmol: float
    iron_u_mmol: float
    iron_share: float
    iron_share_u: float


@dataclass(frozen=True)
class Weathered:
    """What green vitriol must have been: its hydrates as Shelf.add takes them, and the damp
    beyond the 7-hydrate."""

    hydrate_shares: FourShares
    moisture: float
    moisture_u: float


@dataclass(frozen=True)
class TanninFactor:
    """A factor between what a tannin method prints and gallotannin by weight."""

    id: str
    figure: str
    unit: str
    factor: Range


@dataclass(frozen=True)
class Bracket:
    """Known to lie between two values, see belief_update_bracket; median and u_ln are NaN
    where the low end is 0."""

    low: float
    high: float
    median: float
    u_ln: float
    scale_u_ln: float
    judging_u_ln: float
    both_u_ln: float
