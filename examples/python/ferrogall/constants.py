"""The constants of the C header, as enumerations, and the bits of its `set` fields."""

from __future__ import annotations

from enum import IntEnum, IntFlag
from typing import Dict

ABI_VERSION = 1
NAME_BYTES = 96
TEXT_BYTES = 512


class Status(IntEnum):
    """What a call answers; FGALL_… in the header."""

    OK = 0
    NULL_POINTER = 1
    MISALIGNED = 2
    NOT_UTF8 = 3
    STRUCT_SIZE = 4
    FOREIGN_VALUE = 5
    BUFFER_TOO_SMALL = 6
    NO_SUCH_INDEX = 7
    UNKNOWN_NAME = 8
    OUT_OF_RANGE = 9
    INPUT_NAN = 10
    EMPTY = 11
    TOO_MUCH_FOR_VOLUME = 12
    DOES_NOT_APPLY = 13
    MORE_THAN_WHOLE = 14
    NO_DENSITY = 15
    NO_PART_MASS = 16
    NEEDS_EXTRACTION = 17
    NOT_A_PLANT = 18
    NOT_ENOUGH_STOCK = 19
    TOO_MANY_COLUMNS = 20
    BAD_FORMULA = 21
    NOT_COVERED = 22
    NOT_INVERTIBLE = 23
    NO_LOT_FOR_TARGET = 24
    NO_TARGET_FOR_LOT = 25
    UNDETERMINED = 26
    LESS_THAN_NOTHING = 27
    NOTHING_TO_MATCH = 28
    NO_SOLUTION = 29
    BAD_JSON = 30
    EITHER_OR = 31
    NOT_A_LIQUID = 32
    TOO_MANY_INGREDIENTS = 33
    NOT_SOLVED = 34
    UNREACHABLE = 35
    NO_WATER = 36
    BAD_EQUATION = 37
    TOO_MANY_SPECIES = 38
    OUT_OF_ORDER = 39
    NOT_FOLLOWED = 40
    NO_VALUE = 41
    ALL_DRAWS_FAILED = 42
    NOT_ASSURED = 43
    NAME_TAKEN = 44
    NEVER_REACHED = 45
    MORE_THAN_A_SOAK = 46
    CANNOT_FIT = 47
    NOT_FOR_SAMPLE = 48
    CONTRADICTION = 49
    NOT_LINEAR = 50
    NOTHING_LIMITS = 51
    INFEASIBLE = 52
    NO_OPTIMUM = 53
    BAD_AMOUNT = 57
    PANIC = 99


class Kind(IntEnum):
    """A kind of material; FGALL_KIND_…"""

    IRON_SALT = 1
    TANNIN_SOURCE = 2
    ACID = 3
    GUM = 4
    DYE = 5
    PRESERVATIVE = 6
    HUMECTANT = 7
    WATER = 8


class Baume(IntEnum):
    """A Baumé scale; FGALL_BAUME_…"""

    AMERICAN = 1
    DUTCH = 2
    GERLACH = 3
    RATIONAL = 4
    AMERICAN_LIGHT = 5


class LineKind(IntEnum):
    """What a line of a recipe is for; FGALL_LINE_…"""

    INGREDIENT = 1
    PLANT = 2
    SOAK = 3
    MAKE_UP = 4


class ToolKind(IntEnum):
    """What a lot is measured with; FGALL_TOOL_…"""

    BALANCE = 1
    CYLINDER = 2
    SPOON = 3
    DROPPER = 4


class Severity(IntEnum):
    """How much a finding matters; FGALL_SEVERITY_…"""

    NOTICE = 1
    WARNING = 2
    ERROR = 3


class Balance(IntEnum):
    """A verdict on iron and tannin; FGALL_…"""

    IRON_IN_EXCESS = 1
    BALANCED = 2
    TANNIN_IN_EXCESS = 3


class Equal(IntEnum):
    """What a substitution keeps equal; FGALL_EQUAL_…"""

    IRON_II = 1
    GALLOYL = 2


class Constants(IntEnum):
    """A set of equilibrium constants; FGALL_CONSTANTS_…"""

    REVIEWED = 1
    CORE = 2


class Master(IntEnum):
    """A component of a solution; FGALL_MASTER_…"""

    IRON_II = 1
    IRON_III = 2
    SULFATE = 3
    CHLORIDE = 4
    NITRATE = 5
    ACETATE = 6
    OXALATE = 7
    CITRATE = 8
    TARTRATE = 9
    PHOSPHATE = 10
    CARBONATE = 11
    GALLATE = 12
    GALLOYL = 13
    SALICYLATE = 14
    BENZOATE = 15
    SORBATE = 16
    PHENOLATE = 17
    GLUCONATE = 18
    LACTATE = 19
    SODIUM = 20
    POTASSIUM = 21
    AMMONIUM = 22
    CALCIUM = 23
    MAGNESIUM = 24
    COPPER = 25
    ZINC = 26
    MANGANESE = 27
    ALUMINIUM = 28


class MeasureKind(IntEnum):
    """Something done about oxygen; FGALL_MEASURE_…"""

    SMALLER_BOTTLE = 1
    BEADS = 2
    INERT_GAS = 3
    FLOATING_LID = 4
    CLOSURE = 5
    OPEN_EVERY = 6
    KEEP_AT = 7
    ACIDIFY = 8
    SCAVENGE = 9
    NAIL = 10


class Advice(IntEnum):
    """What to do with an ink that has stood; FGALL_ADVICE_…"""

    KEEP = 1
    FILTER_AND_REFRESH = 2
    MAKE_NEW = 3


class Seen(IntEnum):
    """What was seen of an ink; FGALL_SEEN_…"""

    IRON_II = 1
    STRENGTH = 2
    FIRST_SEDIMENT = 3


class Varied(IntEnum):
    """What differs from row to row of forecasts; FGALL_VARIED_…"""

    IRON_II = 0
    IRON_III = 1
    GALLOYL = 2
    PH = 3
    CAPACITY = 4
    FILL = 5
    TEMPERATURE = 6
    OPENED_EVERY = 7
    DRAWN = 8
    KEPT = 9


class Act(IntEnum):
    """What happens to a bottle; FGALL_ACT_…"""

    POUR = 1
    EXCHANGE = 2
    SHAKE = 3
    TOP_UP = 4
    CHANGE = 5
    FILTER = 6
    FLUSH = 7
    DISPLACE = 8


class Law(IntEnum):
    """A published rate law of iron(II) and oxygen; FGALL_LAW_…"""

    PARALLEL_PATHWAYS = 1
    STUMM_LEE = 2
    ACID_PLATEAU = 3
    PLATEAU_AND_HYDROXIDE = 4
    MILLERO = 5
    MORGAN_LAHAV = 6


class Measurand(IntEnum):
    """A figure of an ink that a study asks about, and its unit; FGALL_MEASURAND_…"""

    IRON_PER_GALLOYL = 1
    IRON_II_PER_GALLOYL = 2
    IRON_II_MOL_PER_L = 3
    IRON_G_PER_L = 4
    GALLOYL_MOL_PER_L = 5
    GALLIC_ACID_MOL_PER_L = 6
    STRONG_ACID_MOL_PER_L = 7
    GUM_G_PER_L = 8
    PRESERVATIVE_G_PER_L = 9
    DRY_RESIDUE_G_PER_L = 10
    VOLUME_ML = 11


class Method(IntEnum):
    """How an answer was come by; FGALL_METHOD_…"""

    FIRST_ORDER = 1
    DRAWS_CURVED = 2
    DRAWS_NOT_NORMAL = 3


class Remedy(IntEnum):
    """What narrows a source; FGALL_REMEDY_…"""

    TEST_EXTRACT = 1
    TITRATE_SALT = 2
    DRY_SAMPLE = 3
    MEASURE_ACID = 4
    WEIGH_MARC = 5
    FINER_BALANCE = 6
    ASSAY_STOCK = 7
    TEST_WATER = 8


class Shape(IntEnum):
    """What is known of a source, as a distribution; FGALL_SHAPE_…"""

    EXACT = 1
    NORMAL = 2
    LOG_NORMAL = 3
    RECTANGULAR = 4
    TRIANGULAR = 5


class Grain(IntEnum):
    """How fine a plant is; FGALL_GRAIN_…"""

    POWDER = 1
    CRUSHED = 2
    WHOLE = 3


class Straining(IntEnum):
    """How a liquor is parted from the marc; FGALL_STRAINING_…"""

    DRAINED = 1
    PRESSED = 2
    WEIGHED = 3
    NOTHING = 4
    NOT_YET = 5


class Titrant(IntEnum):
    """What oxidises the iron(II); FGALL_TITRANT_…"""

    PERMANGANATE = 1
    DICHROMATE = 2
    CERIUM_IV = 3


class Sample(IntEnum):
    """What is assayed; FGALL_SAMPLE_…"""

    SALT = 1
    STOCK = 2
    CHLORIDE_SALT = 3
    CHLORIDE_STOCK = 4
    ORGANIC_STOCK = 5
    TABLETS = 6
    ASHED_INK = 7
    FINISHED_INK = 8
    LIQUOR = 9


class Found(IntEnum):
    """Which way a result leans; FGALL_FOUND_…"""

    ESTIMATE = 1
    AT_MOST = 2
    AT_LEAST = 3


class Read(IntEnum):
    """How a figure was read off; FGALL_READ_…"""

    RECTANGULAR = 1
    TRIANGULAR = 2
    ARCSINE = 3
    WEIGHED = 4
    BALANCE = 5
    BURETTE = 6


class DriedTo(IntEnum):
    """What green vitriol is dried to; FGALL_DRIED_TO_…"""

    TETRAHYDRATE = 1
    MONOHYDRATE = 2
    ANHYDROUS = 3


class StockSalt(IntEnum):
    """Which salt a stock is of; FGALL_STOCK_…"""

    SULFATE = 1
    CHLORIDE = 2


class Adding(IntEnum):
    """What is added in a spot test; FGALL_ADDING_…"""

    IRON = 1
    EXTRACT = 2


class Objective(IntEnum):
    """What is to be best of the inks a cupboard gives."""

    LEAST_COST = 1
    CLOSEST = 2
    FEWEST_WEIGHINGS = 3
    LEAST_WASTE = 4
    SUREST = 5


class Figure(IntFlag):
    """A figure that can be wanted of an ink. For Cupboard.rows a window takes LOW or HIGH,
    as in Figure.IRON | Figure.LOW; by itself it is exactly so much."""

    IRON_II = 1
    IRON = 2
    GALLOYL = 4
    GALLIC_ACID = 8
    TANNIC_AND_GALLIC = 16
    IRON_II_PER_GALLOYL = 32
    GALLIC_SHARE = 64
    STRONG_ACID = 128
    PH = 256
    GUM = 512
    DYE = 1024
    PRESERVATIVE = 2048
    COST = 4096
    ASSURANCE = 8192
    VOLUME = 16384
    MOST_VOLUME = 32768
    LOW = 1048576
    HIGH = 2097152


# Which bit of `set` says that a field is given.
LOT_BITS: Dict[str, int] = {
    "purity": 1,
    "tannin": 2,
    "gallic_acid": 4,
    "galloyl_mol_per_kg": 8,
    "moisture": 16,
    "oxidised": 32,
    "hydrate_shares": 64,
    "alkalinity_mg_per_l": 128,
    "hardness_mg_per_l": 256,
    "density_g_per_cm3": 512,
    "price_per_kg": 1024,
}
IRON_BITS: Dict[str, int] = {
    "water_lot": 1,
    "water_g": 1,
    "iron_share": 2,
    "dissolved_share": 4,
    "temperature_c": 8,
    "pressure_kpa": 8,
}
SOAK_BITS: Dict[str, int] = {"yield_share": 1, "hold_up_g_per_g": 2, "water_g_per_g": 4}
TARGET_BITS: Dict[str, int] = {
    "gallic_share": 1,
    "gum_g_per_l": 2,
    "strong_acid_mol_per_l": 4,
    "dye_g_per_l": 8,
    "preservative_g_per_l": 16,
}
CHOICE_BITS: Dict[str, int] = {
    "gallic_acid_lot": 1,
    "gum_lot": 2,
    "acid_lot": 4,
    "dye_lot": 8,
    "preservative_lot": 16,
}
BOTTLE_BITS: Dict[str, int] = {
    "temperature_c": 1,
    "pressure_kpa": 1,
    "opened_every_days": 2,
    "air_exchanged_share": 4,
    "drawn_ml": 8,
    "kept_days": 16,
    "iron_per_oxygen": 32,
    "stated_share": 64,
    "wall_polymer": 256,
    "wall_area_cm2": 256,
    "wall_thickness_mm": 256,
}
BOTTLE_WITHOUT_DISSOLVED_OXYGEN = 128
BOUND_OPENINGS_TO_SHARE = 1
BOUND_DAYS_TO_SHARE = 2
SHEET_BITS: Dict[str, int] = {
    "bottles": 1,
    "capacity_ml": 1,
    "fill_share": 1,
    "loss_share": 1,
    "lot_name": 2,
    "shelf": 2,
    "to_lot": 2,
    "equal": 2,
}
INK_BITS: Dict[str, int] = {
    "iron_iii_mol_per_l": 1,
    "ionic_strength_mol_per_kg": 2,
    "dissolving_share": 2,
    "assisted_l_per_mol_s": 4,
    "assisted_factor_95": 4,
    "assisted_ph": 4,
    "assisted_c": 4,
    "nail_per_s": 8,
}
KEEPING_BITS: Dict[str, int] = {
    **BOTTLE_BITS,
    "flushed_share": 512,
    "swing_low_c": 4096,
    "swing_high_c": 4096,
    "swing_days": 4096,
    "surface_cm2": 8192,
    "lid_leaves_share": 16384,
    "season_k": 32768,
}
KEEPING_BEADS = 1024
KEEPING_SHAKEN = 2048
VESSEL_BITS: Dict[str, int] = {
    "temperature_c": 1,
    "pressure_kpa": 1,
    "dissolving_share": 2,
    "transfer_l_per_s": 4,
    "conductance_mol_per_s_atm": 8,
    "breathing_per_s": 16,
}
VESSEL_OPEN = 32
VESSEL_CLOSED = 64
VESSEL_SATURATED = 128
KINETICS_BITS: Dict[str, int] = {
    "oxygen_per_scavenger": 1,
    "iron_per_oxygen": 2,
    "valid_at_c": 4,
}
COURSE_BITS: Dict[str, int] = {"tolerance": 1, "watched_share": 2}
WRITING_BITS: Dict[str, int] = {
    "temperature_c": 1,
    "humidity_share": 1,
    "film_um": 2,
    "width_mm": 4,
    "reach_share": 8,
    "grammage_g_per_m2": 16,
    "reserve_percent": 32,
    "paper_ph": 64,
    "assisted_l_per_mol_s": 128,
    "assisted_factor_95": 128,
    "assisted_ph": 128,
    "assisted_c": 128,
}
KNOWN_BITS: Dict[str, int] = {"at_least": 1, "at_most": 1}
EXTRACTION_BITS: Dict[str, int] = {
    "size_mm": 1,
    "broken_share": 4,
    "rain_hours": 8,
    "rain_temperature_c": 8,
    "rained_gall_mm": 16,
    "fermentation_days": 32,
    "fermentation_temperature_c": 32,
    "boil_down_ml": 64,
    "boil_down_share": 128,
}
EXTRACTION_SLAB = 2
TITRATION_BITS: Dict[str, int] = {
    "titres_ml": 1,
    "titre_count": 1,
    "drops": 2,
    "dropper_drops": 4,
    "dropper_g": 4,
    "dropper_u_g": 4,
    "dropper_g_per_cm3": 4,
    "blank_ml": 8,
    "blank_u_ml": 8,
    "aliquot_ml": 16,
    "aliquot_u_ml": 16,
    "flask_ml": 16,
    "flask_u_ml": 16,
}
PHENANTHROLINE_BITS: Dict[str, int] = {
    "blank_absorbance": 1,
    "blank_absorbance_u": 1,
    "aliquot_ml": 2,
    "aliquot_u_ml": 2,
    "flask_ml": 2,
    "flask_u_ml": 2,
    "standards_mg_per_l": 4,
    "standards_absorbance": 4,
    "standard_count": 4,
}
NAIL_BITS: Dict[str, int] = {"iron_share": 1, "iron_share_u": 1}
SPOT_BITS: Dict[str, int] = {
    "judging_u_ln": 1,
    "iron_per_galloyl_min": 2,
    "iron_per_galloyl_typical": 2,
    "iron_per_galloyl_max": 2,
}
CLEAN_STOCK = 1
TANNIN_ONLY = 1
STORE_BITS: Dict[str, int] = {"on_hand_g": 1, "pack_g": 2}
WANTED_BITS: Dict[str, int] = {
    "iron_ii_mol_per_l": 1,
    "iron_g_per_l": 2,
    "galloyl_mol_per_l": 4,
    "gallic_acid_mol_per_l": 8,
    "tannic_and_gallic_g_per_l": 16,
    "iron_ii_per_galloyl": 32,
    "gallic_share": 64,
    "strong_acid_mol_per_l": 128,
    "ph": 256,
    "gum_g_per_l": 512,
    "dye_g_per_l": 1024,
    "preservative_g_per_l": 2048,
    "most_cost": 4096,
    "criterion": 8192,
    "assurance": 8192,
    "most_volume_ml": 32768,
}
