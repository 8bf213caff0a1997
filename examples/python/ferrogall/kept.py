"""What the library answers of keeping: as in `results`, one frozen dataclass for each
struct; `Measure` and `Contents` are also what callers give.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Tuple

from .constants import Advice, Law, MeasureKind
from .results import Count32, Count64, Range

Rates = Tuple[float, ...]
Draws = Tuple[int, ...]


@dataclass(frozen=True)
class Assisted:
    """What is known of the rate at which tannin-held iron(II) takes oxygen: its median,
    the factor either way that holds 95 %, and where the median holds."""

    l_per_mol_s: float
    factor_95: float
    ph: float = 2.5
    temperature_c: float = 25.0


@dataclass(frozen=True)
class Outcome:
    """What has become of an ink; `days_to_share` and `openings_to_share` are NaN when the
    stated share is not lost while the bottle is kept and holds ink, or was not asked."""

    lost_share: float
    days_to_share: float
    openings_to_share: float
    iron_left_share: float
    sediment_mol_per_l: float
    iron_iii_mol_per_l: float
    tannin_left_share: float


@dataclass(frozen=True)
class Forecast:
    """Bound, estimate with its 95 %, and floor of a bottle. The bound is the reliable one,
    the estimate an order of magnitude; none promises that an ink keeps."""

    bound_share: float
    bound_after_filling_share: float
    bound_days_to_share: float
    typical: Outcome
    lost_low_share: float
    lost_high_share: float
    days_to_share_low: float
    days_to_share_high: float
    iron_left_low_share: float
    iron_left_high_share: float
    sediment_low_mol_per_l: float
    sediment_high_mol_per_l: float
    floor: Outcome
    draws: Count32


@dataclass(frozen=True)
class CurvePoint:
    """The loss of iron(II) at one time."""

    at_days: float
    bound_share: float
    lost_low_share: float
    lost_high_share: float
    floor_share: float
    typical: Outcome


@dataclass(frozen=True)
class ForecastRow:
    """The figures of one bottle of many; all NaN when its status is not OK."""

    bound_share: float
    lost_share: float
    lost_low_share: float
    lost_high_share: float
    floor_share: float
    days_to_share: float
    iron_left_share: float
    sediment_mol_per_l: float
    tannin_left_share: float


@dataclass(frozen=True)
class Measure:
    """Something to do about oxygen; what its kind does not name is not read."""

    kind: MeasureKind
    share: float = 0.0
    every_days: float = 0.0
    temperature_c: float = 0.0
    ph: float = 0.0
    dose_g_per_l: float = 0.0
    rate_per_s: float = 0.0
    id: str = ""


@dataclass(frozen=True)
class Bought:
    """What one measure buys by itself; below 0 it does harm. Bottles are compared once the
    one without any has typically lost half of its iron(II), or in the end."""

    measure: Measure
    compared_at_days: float
    typical: Outcome
    bound_share: float
    saved_share: float
    saved_low_share: float
    saved_high_share: float


@dataclass(frozen=True)
class BottleChoice:
    """A store of ink in bottles of one size, used one after the other."""

    capacity_ml: float
    fill_ml: float
    bottles: Count64
    waits_days: float
    lost_in_use_share: float
    bound_share: float


@dataclass(frozen=True)
class Rescue:
    """What brings an ink back, for each volume of it, after filtering. The acid is NaN
    when it needs none, or was not asked."""

    advice: Advice
    iron_mol_per_l: float
    green_vitriol_g_per_l: float
    galloyl_mol_per_l: float
    strong_acid_mol_per_l: float


@dataclass(frozen=True)
class InkChemistry:
    """Acid and iron(II) of an ink at one moment of its keeping, sediment taken out."""

    ph: float
    ionic_strength_mol_per_kg: float
    free_share: float
    hydroxo_share: float
    dihydroxo_share: float
    complexed_share: float


@dataclass(frozen=True)
class Fit:
    """What observations say of a rate; beyond a misfit of about 2 they contradict the
    model, or each other."""

    assisted_l_per_mol_s: float
    assisted_factor_95: float
    assisted_ph: float
    assisted_c: float
    steady_min_share: float
    steady_typical_share: float
    steady_max_share: float
    undone: float
    misfit: float
    shrunk_to: float
    world_l_per_mol_s: Rates
    world_steady_share: Rates
    world_draw: Draws

    @property
    def assisted(self) -> Assisted:
        """The rate, for the next StoredInk."""
        return Assisted(
            self.assisted_l_per_mol_s,
            self.assisted_factor_95,
            self.assisted_ph,
            self.assisted_c,
        )


@dataclass(frozen=True)
class InorganicRate:
    """What all laws that hold say together of iron(II) and oxygen without a ligand."""

    low_l_per_mol_s: float
    typical_l_per_mol_s: float
    high_l_per_mol_s: float
    low_law: Law
    high_law: Law


@dataclass(frozen=True)
class Contents:
    """Amounts in a bottle of ink."""

    iron_ii_mmol: float = 0.0
    iron_iii_mmol: float = 0.0
    sediment_mmol: float = 0.0
    oxygen_dissolved_mmol: float = 0.0
    oxygen_gas_mmol: float = 0.0
    phenol_electrons_mmol: float = 0.0
    scavenger_mmol: float = 0.0
    other_electrons_mmol: float = 0.0
    oxygen_in_mmol: float = 0.0
    metal_iron_mmol: float = 0.0


@dataclass(frozen=True)
class Moment:
    """A bottle at one time; at the time of an event, after it."""

    at_days: float
    liquid_ml: float
    gas_ml: float
    iron_ii_mol_per_l: float
    oxidised_share: float
    contents: Contents


@dataclass(frozen=True)
class CourseSummary:
    """How a course was computed, and how well its balances hold. `reached_days` is NaN
    when the watched share was not reached, or nothing was watched."""

    steps: Count64
    evaluations: Count64
    iron_error: float
    electron_error: float
    clipped: float
    reached_days: float


@dataclass(frozen=True)
class Darkening:
    """How fast a line darkens on paper: low end, typical value and high end, powers of
    ten apart. Times that are NaN are not within a year. No lifetime follows from it."""

    ph_ink: float
    ph_line: Range
    ph_dark: Range
    to_tenth_days: Range
    to_half_days: Range
    to_nine_tenths_days: Range
    reserve_used_share: Range
    drying_days: Range
    oxidised_when_dry_share: Range
    oxygen_supply_days: float
