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
Signed = int
Count32 = int


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


class Interval(NamedTuple):
    """A span in which a figure lies with 95 %."""

    low: float
    high: float


class IronShares(NamedTuple):
    """Where the iron of one kind is; the shares add up to 1, or are all 0 without it."""

    free_share: float
    hydroxide_share: float
    sulfate_share: float
    chloride_share: float
    gallate_share: float
    tannin_share: float
    other_share: float


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


@dataclass(frozen=True)
class Totals:
    """How much of each component is dissolved, in all its forms, per kilogram of water.

    Protons are not told: hydrochloric acid is chloride, acetic acid is acetate.
    """

    iron_ii_mol_per_kg: float = 0.0
    iron_iii_mol_per_kg: float = 0.0
    sulfate_mol_per_kg: float = 0.0
    chloride_mol_per_kg: float = 0.0
    nitrate_mol_per_kg: float = 0.0
    acetate_mol_per_kg: float = 0.0
    oxalate_mol_per_kg: float = 0.0
    citrate_mol_per_kg: float = 0.0
    tartrate_mol_per_kg: float = 0.0
    phosphate_mol_per_kg: float = 0.0
    carbonate_mol_per_kg: float = 0.0
    gallate_mol_per_kg: float = 0.0
    galloyl_mol_per_kg: float = 0.0
    salicylate_mol_per_kg: float = 0.0
    benzoate_mol_per_kg: float = 0.0
    sorbate_mol_per_kg: float = 0.0
    phenolate_mol_per_kg: float = 0.0
    gluconate_mol_per_kg: float = 0.0
    lactate_mol_per_kg: float = 0.0
    sodium_mol_per_kg: float = 0.0
    potassium_mol_per_kg: float = 0.0
    ammonium_mol_per_kg: float = 0.0
    calcium_mol_per_kg: float = 0.0
    magnesium_mol_per_kg: float = 0.0
    copper_mol_per_kg: float = 0.0
    zinc_mol_per_kg: float = 0.0
    manganese_mol_per_kg: float = 0.0
    aluminium_mol_per_kg: float = 0.0


@dataclass(frozen=True)
class Equilibrium:
    """A solution at equilibrium, iron(II) and iron(III) apart."""

    ph: float
    ionic_strength_mol_per_kg: float
    water_activity: float
    within_validity: bool
    residual: float
    charge_error: float
    buffer_capacity_mol_per_kg_per_ph: float


@dataclass(frozen=True)
class Species:
    """A dissolved species; its log10_activity is NaN where hardly any is there."""

    name: str
    charge: Signed
    molality_mol_per_kg: float
    log10_gamma: float
    log10_activity: float


@dataclass(frozen=True)
class Solid:
    """A solid or gas held against the solution; above an index of 0 it holds too much."""

    name: str
    saturation_index: float
    log_k_u: float
    forms_promptly: bool


@dataclass(frozen=True)
class InkReport:
    """Acid and iron of an ink, and what air will make of them.

    Shares bound to gallic acid and tannin are good to one order of magnitude.
    `settles_at_share` is NaN when all iron(II) can be oxidised and nothing settles.
    """

    ph: float
    ph_low: float
    ph_high: float
    ionic_strength_mol_per_kg: float
    within_validity: bool
    iron_ii: IronShares
    iron_iii: IronShares
    coloured_share_low: float
    coloured_share_high: float
    ph_oxidised: float
    ph_settled: float
    acid_set_free_mol_per_l: float
    volatile_acid_mol_per_l: float
    fixed_acid_mol_per_l: float
    titratable_acid_mol_per_l: float
    buffer_capacity_mol_per_l_per_ph: float
    settles_at_share: float
    settles_first: str


@dataclass(frozen=True)
class PhDose:
    """How much of a lot goes in, and the pH it leads to."""

    mass_g: float
    volume_ml: float
    ph: float


@dataclass(frozen=True)
class WaterEffect:
    """What the minerals of the water do to an ink."""

    ph: float
    ph_with_pure_water: float
    alkalinity_mol_per_l: float


@dataclass(frozen=True)
class Preservative:
    """A preservative in an ink, at the pH of that ink."""

    component: str
    total_g_per_l: float
    undissociated_share: float
    effective_g_per_l: float
    usual_dose_g_per_l: Range
    is_enough: bool


@dataclass(frozen=True)
class EquilibriumRow:
    """pH and iron of one row; all NaN when its status is not OK."""

    ph: float
    ionic_strength_mol_per_kg: float
    water_activity: float
    free_iron_ii_mol_per_kg: float
    free_iron_iii_mol_per_kg: float
    coloured_iron_mol_per_kg: float
