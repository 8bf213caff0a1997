"""What the library answers: one frozen dataclass for each struct of results.

Fields stand in the order of the C struct without its struct_size, and their
annotations say what they are in C; `_structs` makes the structs from them.
Meanings are written at the structs in ferrogall.h; units are in the names.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, Optional

from .constants import Balance, Kind, LineKind, Severity, ToolKind

Bits = int
Count64 = int
LongText = str


class Range(NamedTuple):
    """A span met with in trade, about 95 % of it; NaN where it does not apply."""

    min: float
    typical: float
    max: float


class MolarMass(NamedTuple):
    """A molar mass and its standard uncertainty (k = 1)."""

    molar_mass_g_per_mol: float
    u_g_per_mol: float


class Hydrometer(NamedTuple):
    """What hydrometers show."""

    degrees_baume: float
    degrees_twaddell: float


class Limited(NamedTuple):
    """The volume that a scarce lot allows, and the factor it takes."""

    volume_ml: float
    factor: float


@dataclass(frozen=True)
class Material:
    """A row of the catalogue. Figures that do not apply, or are not known, are NaN."""

    index: int
    kind: Kind
    id: str
    name: str
    formula: str
    molar_mass_g_per_mol: float
    iron_mass_percent: float
    density_g_per_cm3: float
    tannin_percent: Range
    tannin_of_dry_matter: bool
    is_plant: bool
    gallic_acid_percent: Range
    galloyl_mmol_per_g: Range
    moisture_percent: Range
    alkalinity_mg_per_l: Range
    hardness_mg_per_l: Range


@dataclass(frozen=True)
class Solution:
    """A solution of one solute in water, in every way of saying its strength."""

    mass_percent: float
    mol_per_l: float
    g_per_l: float
    density_g_per_cm3: float
    temperature_c: float
    is_extrapolated: bool


@dataclass(frozen=True)
class LotContents:
    """What a lot holds. Density and price are NaN when they are not known."""

    name: str
    iron_ii_mol_per_kg: float
    iron_iii_mol_per_kg: float
    galloyl_mol_per_kg: float
    gallic_acid_mol_per_kg: float
    strong_acid_mol_per_kg: float
    iron_u: float
    galloyl_u: float
    density_g_per_cm3: float
    price_per_kg: float
    is_plant: bool
    is_liquid: bool


@dataclass(frozen=True)
class IronMade:
    """What forms when iron dissolves in acid, and what comes off."""

    acid_runs_out: bool
    iron_ii_mol: float
    iron_ii_mol_per_l: float
    free_acid_mol: float
    metal_left_g: float
    hydrogen_mol: float
    hydrogen_l: float
    fresh_air_l: float
    heat_low_kj: float
    heat_high_kj: float
    saturation: float


@dataclass(frozen=True)
class Composition:
    """The finished ink, at 20 °C. Ratios that do not exist are NaN, and so is the cost
    when nothing has a price."""

    volume_ml: float
    mass_g: float
    density_g_per_cm3: float
    dry_residue_g_per_l: float
    iron_g_per_l: float
    galloyl_mol_per_l: float
    strong_acid_mol_per_l: float
    volatile_acid_mol_per_l: float
    fixed_acid_mol_per_l: float
    preservative_g_per_l: float
    iron_per_galloyl: float
    iron_per_galloyl_low: float
    iron_per_galloyl_high: float
    vitriol_per_tannin_by_mass: float
    iron_u: float
    galloyl_u: float
    cost: float
    unpriced_lines: int
    line_count: int
    iron_ii_mol_per_l: float
    iron_iii_mol_per_l: float
    tannin_galloyl_mol_per_l: float
    gallic_acid_mol_per_l: float
    sulfate_mol_per_l: float
    chloride_mol_per_l: float
    nitrate_mol_per_l: float
    acetate_mol_per_l: float
    oxalate_mol_per_l: float
    citrate_mol_per_l: float
    tartrate_mol_per_l: float
    phosphate_mol_per_l: float
    gluconate_mol_per_l: float
    lactate_mol_per_l: float
    carbonate_mol_per_l: float
    sodium_mol_per_l: float
    potassium_mol_per_l: float
    ammonium_mol_per_l: float
    calcium_mol_per_l: float
    magnesium_mol_per_l: float
    salicylate_mol_per_l: float
    benzoate_mol_per_l: float
    sorbate_mol_per_l: float
    phenol_mol_per_l: float
    thymol_mol_per_l: float
    eugenol_mol_per_l: float
    phenoxyethanol_mol_per_l: float
    ethanol_mol_per_l: float
    glycerol_mol_per_l: float
    tannin_g_per_l: float
    gum_g_per_l: float
    dye_g_per_l: float
    other_solubles_g_per_l: float
    water_g_per_l: float


@dataclass(frozen=True)
class Line:
    """One thing to weigh or measure; the volume is NaN where no density is known."""

    lot: str
    solution: int
    kind: LineKind
    mass_g: float
    volume_ml: float


@dataclass(frozen=True)
class Bottling:
    """What a batch for so many bottles comes to. Money is NaN when nothing has a price."""

    batch_ml: float
    fill_ml: float
    cost_per_batch: float
    cost_per_l: float
    cost_per_bottle: float
    unpriced_lines: int


@dataclass(frozen=True)
class Rounding:
    """What rounding does to the ink; errors are relative where no unit is named."""

    iron_error: float
    ratio_error: float
    acid_error_mol_per_l: float
    worst_lot: str
    worst_iron_error: float


@dataclass(frozen=True)
class SmallestBatch:
    """The smallest batch that can honestly be weighed."""

    volume_ml: float
    factor: float
    limited_by: str
    stocks_wanted: int


@dataclass(frozen=True)
class RoundedLine:
    """One amount and what rounding it alone does to the ink, all else left exact."""

    lot: str
    tool: ToolKind
    exact_g: float
    rounded_g: float
    steps: float
    iron_error: float
    ratio_error: float
    acid_error_mol_per_l: float


@dataclass(frozen=True)
class Stock:
    """A stock solution in place of a weighing that is too small.

    With `into_water` the lot is an acid or a base, which goes slowly into most of the
    water, goggles on. Local rules on acids and phenols come first.
    """

    lot: str
    weigh_g: float
    dissolve_to_ml: float
    take_ml: float
    into_water: bool


@dataclass(frozen=True)
class Finding:
    """Something to say of a recipe, with the figure and the limit it was held against."""

    code: str
    severity: Severity
    value: float
    limit: float
    unit: str
    message: LongText
    source: LongText


@dataclass(frozen=True)
class Verdict:
    """What one published criterion says of an ink; the criteria lie a factor of five apart."""

    criterion: str
    name: str
    verdict: Balance
    factor: float
    excess_mol_per_l: float
    source: LongText


@dataclass(frozen=True)
class Substitution:
    """The mass to take instead, and what the ink gets more (or, negative, less) of."""

    mass_g: float
    factor: float
    factor_u: float
    strong_acid_mol: float
    volatile_acid_mol: float
    fixed_acid_mol: float
    iron_ii_mol: float
    iron_iii_mol: float
    gallic_acid_mol: float
    galloyl_mol: float
    sulfate_mol: float
    chloride_mol: float
    acetate_mol: float
    dry_residue_g: float
    cost: float


@dataclass(frozen=True)
class OxygenBound:
    """The most iron(II) that oxygen can have taken from a bottle: an upper bound, not a
    shelf life."""

    oxygen_headspace_mmol: float
    oxygen_dissolved_mmol: float
    oxygen_first_opening_mmol: float
    oxygen_openings_mmol: float
    oxygen_closure_mmol: float
    oxygen_closure_mmol_per_year: float
    iron_ii_mmol: float
    iron_headspace_mmol: float
    iron_dissolved_mmol: float
    iron_per_headspace_g_per_l: float
    share_after_filling: float
    share_after_duration: float
    openings: Count64
    emptied: bool
    known: Bits
    openings_to_share: Optional[Count64]
    days_to_share: Optional[float]


@dataclass(frozen=True)
class Row:
    """The figures of one row of a column sweep; all NaN when its status is not OK."""

    volume_ml: float
    mass_g: float
    make_up_g: float
    iron_ii_mol_per_l: float
    iron_iii_mol_per_l: float
    iron_g_per_l: float
    galloyl_mol_per_l: float
    gallic_acid_mol_per_l: float
    iron_per_galloyl: float
    strong_acid_mol_per_l: float
    gum_g_per_l: float
    dye_g_per_l: float
    preservative_g_per_l: float
    dry_residue_g_per_l: float
    cost: float
