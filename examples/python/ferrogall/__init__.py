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
from .constants import Baume, Equal, Kind, LineKind, Status, ToolKind
from .oxidation import closures, oxygen_bound
from .recipe import (
    Choice,
    Kit,
    Recipe,
    Soak,
    Targets,
    Tool,
    reference_ink_source,
    reference_inks,
    sheet_json,
    sheet_text,
)
from .results import (
    Bottling,
    Composition,
    Hydrometer,
    IronMade,
    Limited,
    Line,
    LotContents,
    Material,
    MolarMass,
    OxygenBound,
    Range,
    Rounding,
    Row,
    SmallestBatch,
    Solution,
    Substitution,
)
from .shelf import Lot, Shelf

__version__: str = _static_text("fgall_version")
DATA_VERSION: str = _static_text("fgall_data_version")

__all__ = [
    "Baume",
    "Bottling",
    "Choice",
    "Columns",
    "Composition",
    "DATA_VERSION",
    "Equal",
    "FerrogallError",
    "Hydrometer",
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
    "Rounding",
    "Row",
    "Rows",
    "Shelf",
    "SmallestBatch",
    "Soak",
    "Solution",
    "Status",
    "Substitution",
    "Targets",
    "Tool",
    "ToolKind",
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
    "reference_ink_source",
    "reference_inks",
    "sheet_json",
    "sheet_text",
    "solution",
    "water_density_g_per_cm3",
]
