"""Chemistry and arithmetic of iron-tannin writing ink.

Inks are made with acids, dusts and iron that gives off hydrogen. Figures here are no
safety advice; local rules and licensed practice come first.
"""

from ._errors import FerrogallError
from ._library import static_text as _static_text
from .chem import (
    density_from_baume_g_per_cm3,
    density_from_twaddell_g_per_cm3,
    hydrometer,
    material,
    material_source,
    materials,
    molar_mass,
    solution,
    water_density_g_per_cm3,
)
from .columns import Columns, Rows
from .constants import Balance, Baume, Equal, Kind, LineKind, Severity, Status, ToolKind
from .inputs import (
    Bottles,
    Choice,
    Instead,
    Kit,
    SheetOptions,
    Soak,
    Storage,
    Targets,
    Tool,
    Wall,
)
from .oxidation import closures, oxygen_bound, polymers
from .recipe import Recipe, reference_ink_source, reference_inks, sheet_json, sheet_text
from .results import (
    Bottling,
    Composition,
    Finding,
    Hydrometer,
    IronMade,
    Limited,
    Line,
    LotContents,
    Material,
    MolarMass,
    OxygenBound,
    Range,
    RoundedLine,
    Rounding,
    Row,
    SmallestBatch,
    Solution,
    Stock,
    Substitution,
    Verdict,
)
from .shelf import Lot, Shelf

__version__: str = _static_text("fgall_version")
DATA_VERSION: str = _static_text("fgall_data_version")

__all__ = [
    "Balance",
    "Baume",
    "Bottles",
    "Bottling",
    "Choice",
    "Columns",
    "Composition",
    "DATA_VERSION",
    "Equal",
    "FerrogallError",
    "Finding",
    "Hydrometer",
    "Instead",
    "IronMade",
    "Kind",
    "Kit",
    "Limited",
    "Line",
    "LineKind",
    "Lot",
    "LotContents",
    "Material",
    "MolarMass",
    "OxygenBound",
    "Range",
    "Recipe",
    "RoundedLine",
    "Rounding",
    "Row",
    "Rows",
    "Severity",
    "SheetOptions",
    "Shelf",
    "SmallestBatch",
    "Soak",
    "Solution",
    "Status",
    "Stock",
    "Storage",
    "Substitution",
    "Targets",
    "Tool",
    "ToolKind",
    "Verdict",
    "Wall",
    "__version__",
    "closures",
    "density_from_baume_g_per_cm3",
    "density_from_twaddell_g_per_cm3",
    "hydrometer",
    "material",
    "material_source",
    "materials",
    "molar_mass",
    "oxygen_bound",
    "polymers",
    "reference_ink_source",
    "reference_inks",
    "sheet_json",
    "sheet_text",
    "solution",
    "water_density_g_per_cm3",
]
