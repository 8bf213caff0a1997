"""The structs of the C header, for ctypes.

Those that carry results are made from their dataclasses; those that the caller
fills in are written out. A test compares all of them with the header.
"""

from __future__ import annotations

import ctypes as c
from dataclasses import fields
from typing import Any, Dict, List, Mapping, Tuple, Type, TypeVar

from . import assayed, kept, results, studied
from .constants import (
    NAME_BYTES,
    TEXT_BYTES,
    Advice,
    Balance,
    Found,
    Kind,
    Law,
    LineKind,
    MeasureKind,
    Method,
    Remedy,
    Severity,
    ToolKind,
)

Result = TypeVar("Result")
Fields = List[Tuple[str, Any]]


class FgallRange(c.Structure):
    _fields_ = [("min", c.c_double), ("typical", c.c_double), ("max", c.c_double)]


class FgallIronShares(c.Structure):
    _fields_ = [(name, c.c_double) for name in results.IronShares._fields]


# What an annotation of `results` is in C.
C_TYPES: Dict[str, Any] = {
    "float": c.c_double,
    "Optional[float]": c.c_double,
    "int": c.c_size_t,
    "bool": c.c_uint32,
    "str": c.c_char * NAME_BYTES,
    "LongText": c.c_char * TEXT_BYTES,
    "Bits": c.c_uint32,
    "Count64": c.c_uint64,
    "Optional[Count64]": c.c_uint64,
    "Signed": c.c_int32,
    "Count32": c.c_uint32,
    "Range": FgallRange,
    "IronShares": FgallIronShares,
    "FourShares": c.c_double * 4,
}
# And how it is read; other types are as ctypes gives them.
READERS: Dict[str, Any] = {
    "bool": bool,
    "str": lambda raw: raw.decode("utf-8"),
    "LongText": lambda raw: raw.decode("utf-8"),
    "Range": lambda raw: results.Range(raw.min, raw.typical, raw.max),
    "FourShares": tuple,
    "IronShares": lambda raw: results.IronShares(*(getattr(raw, n) for n, _ in raw._fields_)),
}
for _family in (
    Advice,
    Balance,
    Found,
    Kind,
    Law,
    LineKind,
    MeasureKind,
    Method,
    Remedy,
    Severity,
    ToolKind,
):
    C_TYPES[_family.__name__] = c.c_uint32
    READERS[_family.__name__] = _family


def _sized(*rest: Tuple[str, Any]) -> Fields:
    return [("struct_size", c.c_size_t), *rest]


def _mirror(name: str, result: Any, sized: bool = True) -> Type[c.Structure]:
    own: Fields = [(field.name, C_TYPES[str(field.type)]) for field in fields(result)]
    return type(name, (c.Structure,), {"_fields_": _sized(*own) if sized else own})


def new(struct: Type[c.Structure]) -> Any:
    """A struct with its struct_size filled in and everything else zero."""
    made = struct()
    made.struct_size = c.sizeof(struct)
    return made


def read(result: Type[Result], struct: Any) -> Result:
    """The dataclass of a struct."""
    given = {}
    for field in fields(result):  # type: ignore[arg-type]
        raw = getattr(struct, field.name)
        reader = READERS.get(str(field.type))
        given[field.name] = reader(raw) if reader else raw
    return result(**given)


def write(struct: Any, value: Any) -> Any:
    """Puts a dataclass into its struct, texts and all; gives the struct back."""
    for field in fields(value):
        given = getattr(value, field.name)
        if isinstance(given, str):
            given = given.encode("utf-8")
        elif isinstance(given, tuple):
            given = type(getattr(struct, field.name))(*given)
        setattr(struct, field.name, given)
    return struct


def fill(struct: Any, bits: Mapping[str, int], given: Mapping[str, Any]) -> None:
    """Sets the fields that are not None, and their bits."""
    for name, value in given.items():
        if value is not None:
            setattr(struct, name, value)
            struct.set |= bits[name]


FgallMaterial = _mirror("FgallMaterial", results.Material)
FgallSolution = _mirror("FgallSolution", results.Solution)
FgallLot = _mirror("FgallLot", results.LotContents)
FgallIronMade = _mirror("FgallIronMade", results.IronMade)
FgallComposition = _mirror("FgallComposition", results.Composition)
FgallLine = _mirror("FgallLine", results.Line, sized=False)
FgallBottling = _mirror("FgallBottling", results.Bottling)
FgallRoundedLine = _mirror("FgallRoundedLine", results.RoundedLine, sized=False)
FgallRounding = _mirror("FgallRounding", results.Rounding)
FgallSmallestBatch = _mirror("FgallSmallestBatch", results.SmallestBatch)
FgallStock = _mirror("FgallStock", results.Stock, sized=False)
FgallFinding = _mirror("FgallFinding", results.Finding, sized=False)
FgallVerdict = _mirror("FgallVerdict", results.Verdict, sized=False)
FgallSubstitution = _mirror("FgallSubstitution", results.Substitution)
FgallOxygenBound = _mirror("FgallOxygenBound", results.OxygenBound)
FgallRow = _mirror("FgallRow", results.Row, sized=False)
FgallTotals = _mirror("FgallTotals", results.Totals)
FgallEquilibrium = _mirror("FgallEquilibrium", results.Equilibrium)
FgallSpecies = _mirror("FgallSpecies", results.Species, sized=False)
FgallSolid = _mirror("FgallSolid", results.Solid, sized=False)
FgallInkReport = _mirror("FgallInkReport", results.InkReport)
FgallPhDose = _mirror("FgallPhDose", results.PhDose)
FgallWaterEffect = _mirror("FgallWaterEffect", results.WaterEffect)
FgallPreservative = _mirror("FgallPreservative", results.Preservative, sized=False)
FgallEquilibriumRow = _mirror("FgallEquilibriumRow", results.EquilibriumRow, sized=False)


WORLDS = 64
C_TYPES["Rates"], C_TYPES["Draws"] = c.c_double * WORLDS, c.c_uint32 * WORLDS
READERS["Rates"] = READERS["Draws"] = tuple


def _part(name: str, result: Any) -> Type[c.Structure]:
    """A struct that others hold: from now on their annotations may name it."""
    made = _mirror(name, result, sized=False)
    C_TYPES[result.__name__] = made
    READERS[result.__name__] = lambda raw: read(result, raw)
    return made


FgallOutcome = _part("FgallOutcome", kept.Outcome)
FgallMeasure = _part("FgallMeasure", kept.Measure)
FgallContents = _part("FgallContents", kept.Contents)
FgallForecast = _mirror("FgallForecast", kept.Forecast)
FgallCurvePoint = _mirror("FgallCurvePoint", kept.CurvePoint, sized=False)
FgallForecastRow = _mirror("FgallForecastRow", kept.ForecastRow, sized=False)
FgallBought = _mirror("FgallBought", kept.Bought, sized=False)
FgallBottleChoice = _mirror("FgallBottleChoice", kept.BottleChoice, sized=False)
FgallRescue = _mirror("FgallRescue", kept.Rescue)
FgallInkChemistry = _mirror("FgallInkChemistry", kept.InkChemistry)
FgallFit = _mirror("FgallFit", kept.Fit)
FgallInorganicRate = _mirror("FgallInorganicRate", kept.InorganicRate)
FgallMoment = _mirror("FgallMoment", kept.Moment, sized=False)
FgallDarkening = _mirror("FgallDarkening", kept.Darkening)
FgallCourseSummary = _mirror("FgallCourseSummary", kept.CourseSummary)
FgallStudySource = _mirror("FgallStudySource", studied.StudySource)
FgallAnswer = _mirror("FgallAnswer", studied.Answer)
FgallHelp = _mirror("FgallHelp", studied.Help, sized=False)
FgallAssurance = _mirror("FgallAssurance", studied.Assurance)
FgallBelief = _mirror("FgallBelief", studied.Belief)
FgallLiquor = _mirror("FgallLiquor", assayed.Liquor)
FgallStrained = _mirror("FgallStrained", assayed.Strained, sized=False)
FgallExtractionRow = _mirror("FgallExtractionRow", assayed.ExtractionRow, sized=False)
FgallPeleg = _mirror("FgallPeleg", assayed.PelegFigures)
FgallAssayed = _mirror("FgallAssayed", assayed.AssayedFigures)
FgallTitrationRow = _mirror("FgallTitrationRow", assayed.TitrationRow, sized=False)
FgallWeathered = _mirror("FgallWeathered", assayed.Weathered)
FgallTanninFactor = _mirror("FgallTanninFactor", assayed.TanninFactor)
FgallBracket = _mirror("FgallBracket", assayed.Bracket)


class FgallError(c.Structure):
    _fields_ = _sized(
        ("status", c.c_uint32),
        ("value", c.c_double),
        ("argument", c.c_char * 64),
        ("message", c.c_char * 256),
    )


class FgallLotSpec(c.Structure):
    _fields_ = _sized(
        ("material", c.c_char_p),
        ("name", c.c_char_p),
        ("set", c.c_uint32),
        ("purity", c.c_double),
        ("purity_u", c.c_double),
        ("tannin", c.c_double),
        ("tannin_u", c.c_double),
        ("gallic_acid", c.c_double),
        ("gallic_acid_u", c.c_double),
        ("galloyl_mol_per_kg", c.c_double),
        ("galloyl_u_mol_per_kg", c.c_double),
        ("moisture", c.c_double),
        ("moisture_u", c.c_double),
        ("oxidised", c.c_double),
        ("oxidised_u", c.c_double),
        ("hydrate_shares", c.c_double * 4),
        ("alkalinity_mg_per_l", c.c_double),
        ("hardness_mg_per_l", c.c_double),
        ("density_g_per_cm3", c.c_double),
        ("price_per_kg", c.c_double),
    )


class FgallIronInAcid(c.Structure):
    _fields_ = _sized(
        ("iron_g", c.c_double),
        ("acid_lot", c.c_size_t),
        ("acid_g", c.c_double),
        ("set", c.c_uint32),
        ("water_lot", c.c_size_t),
        ("water_g", c.c_double),
        ("iron_share", c.c_double),
        ("iron_share_u", c.c_double),
        ("dissolved_share", c.c_double),
        ("temperature_c", c.c_double),
        ("pressure_kpa", c.c_double),
    )


class FgallSoak(c.Structure):
    _fields_ = _sized(
        ("set", c.c_uint32),
        ("yield_share", c.c_double),
        ("yield_u", c.c_double),
        ("hold_up_g_per_g", c.c_double),
        ("water_g_per_g", c.c_double),
    )


class FgallTool(c.Structure):
    _fields_ = [
        ("lot_name", c.c_char_p),
        ("kind", c.c_uint32),
        ("step_g", c.c_double),
        ("step_ml", c.c_double),
    ]


class FgallKit(c.Structure):
    _fields_ = _sized(
        ("balance_step_g", c.c_double),
        ("cylinder_step_ml", c.c_double),
        ("tools", c.POINTER(FgallTool)),
        ("tool_count", c.c_size_t),
    )


class FgallChoice(c.Structure):
    _fields_ = _sized(
        ("iron_lot", c.c_size_t),
        ("tannin_lot", c.c_size_t),
        ("water_lot", c.c_size_t),
        ("set", c.c_uint32),
        ("gallic_acid_lot", c.c_size_t),
        ("gum_lot", c.c_size_t),
        ("acid_lot", c.c_size_t),
        ("dye_lot", c.c_size_t),
        ("preservative_lot", c.c_size_t),
    )


class FgallTargets(c.Structure):
    _fields_ = _sized(
        ("volume_ml", c.c_double),
        ("iron_ii_mol_per_l", c.c_double),
        ("iron_per_galloyl", c.c_double),
        ("set", c.c_uint32),
        ("gallic_share", c.c_double),
        ("gum_g_per_l", c.c_double),
        ("strong_acid_mol_per_l", c.c_double),
        ("dye_g_per_l", c.c_double),
        ("preservative_g_per_l", c.c_double),
    )


class FgallBottle(c.Structure):
    _fields_ = _sized(
        ("capacity_ml", c.c_double),
        ("fill_ml", c.c_double),
        ("iron_ii_mol_per_l", c.c_double),
        ("closure", c.c_char_p),
        ("set", c.c_uint32),
        ("temperature_c", c.c_double),
        ("pressure_kpa", c.c_double),
        ("opened_every_days", c.c_double),
        ("air_exchanged_share", c.c_double),
        ("drawn_ml", c.c_double),
        ("kept_days", c.c_double),
        ("iron_per_oxygen", c.c_double),
        ("stated_share", c.c_double),
        ("wall_polymer", c.c_char_p),
        ("wall_area_cm2", c.c_double),
        ("wall_thickness_mm", c.c_double),
    )


class FgallStorage(c.Structure):
    _fields_ = _sized(
        ("closure", c.c_char_p),
        ("set", c.c_uint32),
        ("temperature_c", c.c_double),
        ("pressure_kpa", c.c_double),
        ("opened_every_days", c.c_double),
        ("air_exchanged_share", c.c_double),
        ("drawn_ml", c.c_double),
        ("kept_days", c.c_double),
        ("stated_share", c.c_double),
        ("wall_polymer", c.c_char_p),
        ("wall_area_cm2", c.c_double),
        ("wall_thickness_mm", c.c_double),
    )


class FgallSheetOptions(c.Structure):
    _fields_ = _sized(
        ("kit", c.POINTER(FgallKit)),
        ("storage", c.POINTER(FgallStorage)),
        ("currency", c.c_char_p),
        ("set", c.c_uint32),
        ("bottles", c.c_uint32),
        ("capacity_ml", c.c_double),
        ("fill_share", c.c_double),
        ("loss_share", c.c_double),
        ("lot_name", c.c_char_p),
        ("shelf", c.c_void_p),
        ("to_lot", c.c_size_t),
        ("equal", c.c_uint32),
    )


class FgallColumn(c.Structure):
    _fields_ = [("data", c.c_void_p), ("stride_bytes", c.c_ssize_t)]

class FgallStoredInk(c.Structure):
    _fields_ = _sized(
        ("iron_ii_mol_per_l", c.c_double),
        ("galloyl_mol_per_l", c.c_double),
        ("ph", c.c_double),
        ("set", c.c_uint32),
        ("iron_iii_mol_per_l", c.c_double),
        ("ionic_strength_mol_per_kg", c.c_double),
        ("dissolving_share", c.c_double),
        ("assisted_l_per_mol_s", c.c_double),
        ("assisted_factor_95", c.c_double),
        ("assisted_ph", c.c_double),
        ("assisted_c", c.c_double),
        ("scavenger", c.c_char_p),
        ("scavenger_g_per_l", c.c_double),
        ("nail_per_s", c.c_double),
        ("fit", c.POINTER(FgallFit)),
    )

class FgallKeeping(c.Structure):
    _fields_ = _sized(
        ("capacity_ml", c.c_double),
        ("fill_ml", c.c_double),
        ("closure", c.c_char_p),
        ("set", c.c_uint32),
        ("temperature_c", c.c_double),
        ("pressure_kpa", c.c_double),
        ("opened_every_days", c.c_double),
        ("air_exchanged_share", c.c_double),
        ("drawn_ml", c.c_double),
        ("kept_days", c.c_double),
        ("iron_per_oxygen", c.c_double),
        ("stated_share", c.c_double),
        ("wall_polymer", c.c_char_p),
        ("wall_area_cm2", c.c_double),
        ("wall_thickness_mm", c.c_double),
        ("flushed_share", c.c_double),
        ("swing_low_c", c.c_double),
        ("swing_high_c", c.c_double),
        ("swing_days", c.c_double),
        ("surface_cm2", c.c_double),
        ("lid_leaves_share", c.c_double),
        ("season_k", c.c_double),
    )

class FgallSighting(c.Structure):
    _fields_ = [
        ("at_days", c.c_double),
        ("kind", c.c_uint32),
        ("left_share", c.c_double),
        ("u_share", c.c_double),
    ]

class FgallVessel(c.Structure):
    _fields_ = _sized(
        ("liquid_ml", c.c_double),
        ("gas_ml", c.c_double),
        ("set", c.c_uint32),
        ("temperature_c", c.c_double),
        ("pressure_kpa", c.c_double),
        ("dissolving_share", c.c_double),
        ("transfer_l_per_s", c.c_double),
        ("conductance_mol_per_s_atm", c.c_double),
        ("breathing_per_s", c.c_double),
    )

class FgallKinetics(c.Structure):
    _fields_ = _sized(
        ("oxidation_l_per_mol_s", c.c_double),
        ("oxidation_by_two_l2_per_mol2_s", c.c_double),
        ("reduction_l_per_mol_s", c.c_double),
        ("settling_per_s", c.c_double),
        ("soluble_mol_per_l", c.c_double),
        ("metal_per_s", c.c_double),
        ("scavenging_l_per_mol_s", c.c_double),
        ("rest_from_phenol_share", c.c_double),
        ("activation_kj_per_mol", c.c_double),
        ("set", c.c_uint32),
        ("oxygen_per_scavenger", c.c_double),
        ("iron_per_oxygen", c.c_double),
        ("valid_at_c", c.c_double),
    )

class FgallEvent(c.Structure):
    _fields_ = [
        ("at_days", c.c_double),
        ("kind", c.c_uint32),
        ("volume_ml", c.c_double),
        ("share", c.c_double),
        ("contents", FgallContents),
        ("vessel", c.POINTER(FgallVessel)),
        ("kinetics", c.POINTER(FgallKinetics)),
    ]

class FgallCourse(c.Structure):
    _fields_ = _sized(
        ("vessel", c.POINTER(FgallVessel)),
        ("kinetics", c.POINTER(FgallKinetics)),
        ("contents", FgallContents),
        ("events", c.POINTER(FgallEvent)),
        ("event_count", c.c_size_t),
        ("set", c.c_uint32),
        ("tolerance", c.c_double),
        ("watched_share", c.c_double),
    )


class FgallWriting(c.Structure):
    _fields_ = _sized(
        ("paper", c.c_char_p),
        ("set", c.c_uint32),
        ("temperature_c", c.c_double),
        ("humidity_share", c.c_double),
        ("film_um", c.c_double),
        ("width_mm", c.c_double),
        ("reach_share", c.c_double),
        ("grammage_g_per_m2", c.c_double),
        ("reserve_percent", c.c_double),
        ("paper_ph", c.c_double),
        ("assisted_l_per_mol_s", c.c_double),
        ("assisted_factor_95", c.c_double),
        ("assisted_ph", c.c_double),
        ("assisted_c", c.c_double),
    )


class FgallKnown(c.Structure):
    _fields_ = _sized(
        ("shape", c.c_uint32),
        ("set", c.c_uint32),
        ("a", c.c_double),
        ("b", c.c_double),
        ("at_least", c.c_double),
        ("at_most", c.c_double),
    )


class FgallOutColumn(c.Structure):
    _fields_ = [("data", c.c_void_p), ("stride_bytes", c.c_ssize_t)]


class FgallWash(c.Structure):
    _fields_ = [
        ("liquid_g", c.c_double),
        ("temperature_c", c.c_double),
        ("hours", c.c_double),
        ("straining", c.c_uint32),
        ("hold_up_g_per_g", c.c_double),
    ]


class FgallExtraction(c.Structure):
    _fields_ = _sized(
        ("plant_g", c.c_double),
        ("grain", c.c_uint32),
        ("set", c.c_uint32),
        ("size_mm", c.c_double),
        ("broken_share", c.c_double),
        ("rain_hours", c.c_double),
        ("rain_temperature_c", c.c_double),
        ("rained_gall_mm", c.c_double),
        ("fermentation_days", c.c_double),
        ("fermentation_temperature_c", c.c_double),
        ("boil_down_ml", c.c_double),
        ("boil_down_share", c.c_double),
        ("washes", c.POINTER(FgallWash)),
        ("wash_count", c.c_size_t),
    )


class FgallTitration(c.Structure):
    _fields_ = _sized(
        ("titrant", c.c_uint32),
        ("sample", c.c_uint32),
        ("molarity_mol_per_l", c.c_double),
        ("molarity_u_mol_per_l", c.c_double),
        ("titrant_name", c.c_char_p),
        ("set", c.c_uint32),
        ("drops", c.c_uint32),
        ("volume_ml", c.c_double),
        ("volume_u_ml", c.c_double),
        ("titres_ml", c.POINTER(c.c_double)),
        ("titre_count", c.c_size_t),
        ("dropper_drops", c.c_uint32),
        ("dropper_g", c.c_double),
        ("dropper_u_g", c.c_double),
        ("dropper_g_per_cm3", c.c_double),
        ("dropper_name", c.c_char_p),
        ("blank_ml", c.c_double),
        ("blank_u_ml", c.c_double),
        ("aliquot_ml", c.c_double),
        ("aliquot_u_ml", c.c_double),
        ("pipette_name", c.c_char_p),
        ("flask_ml", c.c_double),
        ("flask_u_ml", c.c_double),
        ("flask_name", c.c_char_p),
    )


class FgallPhenanthroline(c.Structure):
    _fields_ = _sized(
        ("sample", c.c_uint32),
        ("set", c.c_uint32),
        ("absorbance", c.c_double),
        ("absorbance_u", c.c_double),
        ("path_mm", c.c_double),
        ("path_u_mm", c.c_double),
        ("cell_name", c.c_char_p),
        ("blank_absorbance", c.c_double),
        ("blank_absorbance_u", c.c_double),
        ("aliquot_ml", c.c_double),
        ("aliquot_u_ml", c.c_double),
        ("pipette_name", c.c_char_p),
        ("flask_ml", c.c_double),
        ("flask_u_ml", c.c_double),
        ("flask_name", c.c_char_p),
        ("standards_mg_per_l", c.POINTER(c.c_double)),
        ("standards_absorbance", c.POINTER(c.c_double)),
        ("standard_count", c.c_size_t),
    )


class FgallNail(c.Structure):
    _fields_ = _sized(
        ("before_g", c.c_double),
        ("before_u_g", c.c_double),
        ("after_g", c.c_double),
        ("after_u_g", c.c_double),
        ("set", c.c_uint32),
        ("iron_share", c.c_double),
        ("iron_share_u", c.c_double),
    )


class FgallDrying(c.Structure):
    _fields_ = _sized(
        ("pan_g", c.c_double),
        ("pan_u_g", c.c_double),
        ("with_sample_g", c.c_double),
        ("with_sample_u_g", c.c_double),
        ("with_dried_g", c.c_double),
        ("with_dried_u_g", c.c_double),
    )


class FgallStockDensity(c.Structure):
    _fields_ = _sized(
        ("stock", c.c_uint32),
        ("set", c.c_uint32),
        ("density_g_per_cm3", c.c_double),
        ("density_u_g_per_cm3", c.c_double),
        ("temperature_c", c.c_double),
        ("temperature_u_k", c.c_double),
    )


class FgallLiquorDensity(c.Structure):
    _fields_ = _sized(
        ("set", c.c_uint32),
        ("specific_gravity", c.c_double),
        ("specific_gravity_u", c.c_double),
        ("temperature_c", c.c_double),
        ("temperature_u_k", c.c_double),
        ("reference_c", c.c_double),
    )


class FgallLoewenthal(c.Structure):
    _fields_ = _sized(
        ("factor", c.c_char_p),
        ("molarity_mol_per_l", c.c_double),
        ("molarity_u_mol_per_l", c.c_double),
        ("volume_ml", c.c_double),
        ("volume_u_ml", c.c_double),
        ("after_hide_ml", c.c_double),
        ("after_hide_u_ml", c.c_double),
    )


class FgallPlantTannin(c.Structure):
    _fields_ = _sized(
        ("liquor_tannin_share", c.c_double),
        ("liquor_tannin_u", c.c_double),
        ("liquor_bound", c.c_uint32),
        ("liquor_g", c.c_double),
        ("liquor_u_g", c.c_double),
        ("plant_g", c.c_double),
        ("plant_u_g", c.c_double),
        ("moisture_share", c.c_double),
        ("moisture_u", c.c_double),
        ("yield_share", c.c_double),
        ("yield_u", c.c_double),
    )


class FgallSpotTest(c.Structure):
    _fields_ = _sized(
        ("kind", c.c_uint32),
        ("set", c.c_uint32),
        ("given_ml", c.c_double),
        ("given_u_ml", c.c_double),
        ("iron_mol_per_l", c.c_double),
        ("iron_u_mol_per_l", c.c_double),
        ("last_darkened_ml", c.c_double),
        ("first_not_ml", c.c_double),
        ("judging_u_ln", c.c_double),
        ("iron_per_galloyl_min", c.c_double),
        ("iron_per_galloyl_typical", c.c_double),
        ("iron_per_galloyl_max", c.c_double),
    )


class FgallSpotPlant(c.Structure):
    _fields_ = _sized(
        ("liquor_ml", c.c_double),
        ("liquor_u_ml", c.c_double),
        ("plant_g", c.c_double),
        ("plant_u_g", c.c_double),
        ("moisture_share", c.c_double),
        ("moisture_u", c.c_double),
        ("yield_share", c.c_double),
        ("yield_u", c.c_double),
        ("galloyl_mol_per_kg", c.c_double),
        ("galloyl_u_mol_per_kg", c.c_double),
    )

from ._structs_standards import (  # noqa: E402, F401  (they are made with `_mirror`)
    FgallClause,
    FgallClauseHeld,
    FgallStandard,
    FgallStandardHeld,
)
