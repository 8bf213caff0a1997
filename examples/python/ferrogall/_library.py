"""Finds and loads the shared library, and calls it."""

from __future__ import annotations

import ctypes as c
import os
import sys
import weakref
from pathlib import Path
from typing import Any, Dict, List, NoReturn, Tuple, Type, TypeVar

from . import _structs as s
from . import _structs_cupboard as k
from ._errors import FerrogallError
from .constants import ABI_VERSION, Status

Owned = TypeVar("Owned", bound="Owner")
Result = TypeVar("Result")
_NAME = {"darwin": "libferrogall.dylib", "win32": "ferrogall.dll"}.get(
    sys.platform, "libferrogall.so"
)

_text = c.c_char_p
_size = c.c_size_t
_double = c.c_double
_u32 = c.c_uint32
_handle = c.c_void_p
_size_out = c.POINTER(c.c_size_t)
_double_out = c.POINTER(c.c_double)
_handle_out = c.POINTER(c.c_void_p)
_written = (c.c_char_p, _size, _size_out)  # buffer, capacity, needed
_soak = c.POINTER(s.FgallSoak)
_kit = c.POINTER(s.FgallKit)
_choice = c.POINTER(s.FgallChoice)
_options = c.POINTER(s.FgallSheetOptions)
_column = c.POINTER(s.FgallColumn)
_solution_out = c.POINTER(s.FgallSolution)
_totals = c.POINTER(s.FgallTotals)
_equilibrium = c.POINTER(s.FgallEquilibrium)
_dose = c.POINTER(s.FgallPhDose)
_ink = c.POINTER(s.FgallStoredInk)
_keeping = c.POINTER(s.FgallKeeping)
_measure = c.POINTER(s.FgallMeasure)
_outcome = c.POINTER(s.FgallOutcome)
_rescue = c.POINTER(s.FgallRescue)
_belief = c.POINTER(s.FgallBelief)
_range_out = c.POINTER(s.FgallRange)
_peleg = c.POINTER(s.FgallPeleg)
_titration = c.POINTER(s.FgallTitration)
_absorbance = c.POINTER(s.FgallPhenanthroline)
_drying = c.POINTER(s.FgallDrying)
_extracted = (_handle, _size, c.POINTER(s.FgallExtraction))
_assayed = (c.POINTER(s.FgallAssayed), *_written)
_asked = (_handle, c.POINTER(k.FgallCupboard), c.POINTER(k.FgallWanted))
_drawn = (c.c_uint64, _u32)  # seed, draws
_held = (c.POINTER(s.FgallStandardHeld), c.POINTER(s.FgallClauseHeld), _size, _size_out)
_setting = c.POINTER(s.FgallSetting)
_old_recipe = (_handle, c.POINTER(s.FgallOldRecipe))
_moments = (_column, _size, c.POINTER(s.FgallMoment), c.c_ssize_t)
# A place in a buffer and the way to the next: of rows, and of their statuses.
_places = (c.c_void_p, c.c_ssize_t, c.c_void_p, c.c_ssize_t)

# Every function that can fail, without the FgallError at the end of each.
FALLIBLE: Dict[str, Tuple[Any, ...]] = {
    "fgall_material_count": (_size_out,),
    "fgall_material_at": (_size, c.POINTER(s.FgallMaterial)),
    "fgall_material_find": (_text, c.POINTER(s.FgallMaterial)),
    "fgall_material_source": (_size, *_written),
    "fgall_molar_mass": (_text, _double_out, _double_out),
    "fgall_water_density": (_double, _double_out),
    "fgall_solution_from_mass_percent": (_text, _double, _double, _solution_out),
    "fgall_solution_from_molarity": (_text, _double, _double, _solution_out),
    "fgall_solution_from_density": (_text, _double, _double, _solution_out),
    "fgall_solution_from_baume": (_text, _u32, _double, _double, _solution_out),
    "fgall_solution_from_twaddell": (_text, _double, _double, _solution_out),
    "fgall_hydrometer_from_density": (_u32, _double, _double, _double_out, _double_out),
    "fgall_density_from_baume": (_u32, _double, _double, _double_out),
    "fgall_density_from_twaddell": (_double, _double, _double_out),
    "fgall_shelf_new": (_handle_out,),
    "fgall_shelf_add_lot": (_handle, c.POINTER(s.FgallLotSpec), _size_out),
    "fgall_shelf_count": (_handle, _size_out),
    "fgall_shelf_lot": (_handle, _size, c.POINTER(s.FgallLot)),
    "fgall_shelf_lot_name": (_handle, _size, *_written),
    "fgall_shelf_lot_assumed": (_handle, _size, *_written),
    "fgall_shelf_mass_of_volume": (_handle, _size, _double, _double_out),
    "fgall_shelf_add_iron_in_acid": (
        _handle,
        c.POINTER(s.FgallIronInAcid),
        c.POINTER(s.FgallIronMade),
        _size_out,
    ),
    "fgall_recipe_new": (_text, _handle_out),
    "fgall_recipe_copy_new": (_handle, _handle_out),
    "fgall_recipe_begin_solution": (_handle, _text),
    "fgall_recipe_add_mass": (_handle, _handle, _size, _double),
    "fgall_recipe_add_volume": (_handle, _handle, _size, _double),
    "fgall_recipe_add_parts": (_handle, _handle, _size, _double),
    "fgall_recipe_set_part": (_handle, _double),
    "fgall_recipe_add_extraction": (_handle, _handle, _size, _double, _size, _double, _soak),
    "fgall_recipe_make_up_solution": (_handle, _handle, _size, _double),
    "fgall_recipe_use_share": (_handle, _double),
    "fgall_recipe_use_volume": (_handle, _double),
    "fgall_recipe_use_mass": (_handle, _double),
    "fgall_recipe_make_up": (_handle, _handle, _size, _double),
    "fgall_recipe_evaluate": (_handle, c.POINTER(s.FgallComposition)),
    "fgall_recipe_lines": (_handle, c.POINTER(s.FgallLine), _size, _size_out),
    "fgall_recipe_scale": (_handle, _double),
    "fgall_recipe_to_volume": (_handle, _double),
    "fgall_recipe_for_bottles": (
        _handle,
        _u32,
        _double,
        _double,
        _double,
        c.POINTER(s.FgallBottling),
    ),
    "fgall_recipe_limited_by": (_handle, _text, _double, _double_out, _double_out),
    "fgall_recipe_round": (_handle, _kit, c.POINTER(s.FgallRounding)),
    "fgall_recipe_rounding_lines": (
        _handle,
        _kit,
        c.POINTER(s.FgallRoundedLine),
        _size,
        _size_out,
    ),
    "fgall_recipe_stocks": (_handle, _kit, _double, c.POINTER(s.FgallStock), _size, _size_out),
    "fgall_recipe_findings": (_handle, _kit, c.POINTER(s.FgallFinding), _size, _size_out),
    "fgall_recipe_slips": (_handle, _kit, _size, c.POINTER(s.FgallSlip), _size, _size_out),
    "fgall_recipe_corrected_new": (_handle, _kit, _size, _size, _handle_out),
    "fgall_recipe_verdicts": (_handle, c.POINTER(s.FgallVerdict), _size, _size_out),
    "fgall_recipe_smallest_batch": (_handle, _kit, _double, c.POINTER(s.FgallSmallestBatch)),
    "fgall_substitute": (_handle, _size, _size, _u32, _double, c.POINTER(s.FgallSubstitution)),
    "fgall_recipe_substitute": (_handle, _text, _handle, _size, _u32),
    "fgall_recipe_formulate_new": (
        _handle,
        _choice,
        c.POINTER(s.FgallTargets),
        _soak,
        _handle_out,
    ),
    "fgall_reference_ink_count": (_size_out,),
    "fgall_reference_ink_id": (_size, *_written),
    "fgall_reference_ink_source": (_text, *_written),
    "fgall_recipe_reference_new": (_text, _double, _double, _handle_out),
    "fgall_recipe_formulate_like_new": (
        _handle,
        _choice,
        _text,
        _double,
        _double,
        _soak,
        _handle_out,
    ),
    "fgall_oxygen_bound": (c.POINTER(s.FgallBottle), c.POINTER(s.FgallOxygenBound)),
    "fgall_closure_count": (_size_out,),
    "fgall_closure_id": (_size, *_written),
    "fgall_polymer_count": (_size_out,),
    "fgall_polymer_id": (_size, *_written),
    "fgall_columns_new": (_handle, _size_out, _size, _size, _handle_out),
    "fgall_columns_evaluate": (
        _handle,
        _column,
        _size,
        _column,
        _size,
        *_places,
        _size_out,
    ),
    "fgall_sheet_text": (_text, *_written),
    "fgall_sheet_json": (_text, *_written),
    "fgall_recipe_json_new": (_text, _handle_out),
    "fgall_recipe_sheet_text": (_handle, _options, *_written),
    "fgall_recipe_sheet_json": (_handle, _options, *_written),
    "fgall_master_formula": (_u32, *_written),
    "fgall_recipe_totals": (_handle, _totals),
    "fgall_solver_new": (_u32, _double, _double, _handle_out),
    "fgall_solver_copy_new": (_handle, _handle_out),
    "fgall_solver_set_log_k": (_handle, _text, _double),
    "fgall_solver_remove_species": (_handle, _text),
    "fgall_solver_add_species": (_handle, _text, _double, _double),
    "fgall_solver_solve": (_handle, _totals, _equilibrium),
    "fgall_solver_total_for_ph": (_handle, _totals, _u32, _double, _double_out, _equilibrium),
    "fgall_solver_ph_interval": (_handle, _totals, _double_out, _double_out),
    "fgall_solver_species": (_handle, _totals, c.POINTER(s.FgallSpecies), _size, _size_out),
    "fgall_solver_solids": (_handle, _totals, c.POINTER(s.FgallSolid), _size, _size_out),
    "fgall_solver_recipe_report": (_handle, _handle, c.POINTER(s.FgallInkReport)),
    "fgall_solver_dose": (_handle, _handle, _handle, _size, _double, _dose),
    "fgall_solver_dose_for_ph": (_handle, _handle, _handle, _size, _double, _dose),
    "fgall_solver_equal_dose": (_handle, _handle, _handle, _size, _double, _size, _dose),
    "fgall_solver_water_effect": (_handle, _handle, c.POINTER(s.FgallWaterEffect)),
    "fgall_solver_preservatives": (
        _handle,
        _handle,
        c.POINTER(s.FgallPreservative),
        _size,
        _size_out,
    ),
    "fgall_solver_rows": (
        _handle,
        c.POINTER(c.c_uint32),
        _column,
        _size,
        _size,
        *_places,
        _size_out,
    ),
    "fgall_columns_equilibrium": (
        _handle,
        _handle,
        _column,
        _size,
        _column,
        _size,
        *_places,
        _size_out,
    ),
    "fgall_solver_stored_ink": (_handle, _handle, _ink),
    "fgall_scavenger_count": (_size_out,),
    "fgall_scavenger_id": (_size, *_written),
    "fgall_scavenger_note": (_text, *_written),
    "fgall_keeping_bound": (_ink, _keeping, c.POINTER(s.FgallOxygenBound)),
    "fgall_forecast": (_ink, _keeping, _u32, c.POINTER(s.FgallForecast)),
    "fgall_forecast_curve": (
        _ink,
        _keeping,
        _u32,
        _column,
        _size,
        c.POINTER(s.FgallCurvePoint),
        c.c_ssize_t,
    ),
    "fgall_forecast_moments": (_ink, _keeping, *_moments),
    "fgall_forecast_rows": (
        _ink,
        _keeping,
        _u32,
        c.POINTER(c.c_uint32),
        _column,
        _size,
        _size,
        *_places,
        _size_out,
    ),
    "fgall_measures_usual": (_ink, _keeping, _measure, _size, _size_out),
    "fgall_measure_text": (_measure, *_written),
    "fgall_measure_caution": (_measure, *_written),
    "fgall_measures_rank": (_ink, _keeping, _measure, _size, _u32, c.POINTER(s.FgallBought)),
    "fgall_bottles_rank": (
        _ink,
        _keeping,
        _double,
        _double,
        _double_out,
        _size,
        c.POINTER(s.FgallBottleChoice),
    ),
    "fgall_rescue": (_ink, _outcome, _rescue),
    "fgall_solver_rescue": (_handle, _handle, _outcome, _rescue),
    "fgall_solver_chemistry": (_handle, _handle, _outcome, c.POINTER(s.FgallInkChemistry)),
    "fgall_fit": (
        _ink,
        _keeping,
        c.POINTER(s.FgallSighting),
        _size,
        c.POINTER(s.FgallFit),
    ),
    "fgall_course": (c.POINTER(s.FgallCourse), *_moments, c.POINTER(s.FgallCourseSummary)),
    "fgall_darkening": (_handle, c.POINTER(s.FgallWriting), c.POINTER(s.FgallDarkening)),
    "fgall_darkening_curve": (
        _handle,
        c.POINTER(s.FgallWriting),
        _column,
        _size,
        c.POINTER(s.FgallRange),
        c.c_ssize_t,
    ),
    "fgall_paper_count": (_size_out,),
    "fgall_paper_id": (_size, *_written),
    "fgall_study_new": (_handle, _kit, _handle_out),
    "fgall_study_copy_new": (_handle, _handle_out),
    "fgall_study_source_count": (_handle, _size_out),
    "fgall_study_source": (_handle, _size, c.POINTER(s.FgallStudySource)),
    "fgall_study_source_name": (_handle, _size, *_written),
    "fgall_study_know": (_handle, _text, c.POINTER(s.FgallKnown)),
    "fgall_remedy_text": (_u32, *_written),
    "fgall_measurand_text": (_u32, *_written),
    "fgall_study_answer": (_handle, _u32, *_drawn, c.POINTER(s.FgallAnswer)),
    "fgall_study_helps": (
        _handle,
        _u32,
        *_drawn,
        c.POINTER(s.FgallAnswer),
        c.POINTER(s.FgallHelp),
        _size,
        _size_out,
    ),
    "fgall_study_advice_text": (_handle, _u32, *_drawn, *_written),
    "fgall_study_excess_iron": (_handle, _text, *_drawn, _double_out, _double_out),
    "fgall_study_assured": (
        _handle,
        _handle,
        _size,
        _text,
        _double,
        *_drawn,
        c.POINTER(s.FgallAssurance),
    ),
    "fgall_study_draws": (
        _handle,
        c.POINTER(c.c_uint32),
        _size,
        *_drawn,
        c.POINTER(s.FgallOutColumn),
    ),
    "fgall_shelf_add_recipe": (_handle, _handle, _text, _size_out),
    "fgall_shelf_make_new": (*_asked, _u32, _text, _handle_out),
    "fgall_shelf_most_new": (*_asked, _handle_out),
    "fgall_shelf_mix_new": (*_asked, _handle_out),
    "fgall_shelf_make_rows": (
        *_asked,
        _u32,
        _text,
        c.POINTER(c.c_uint32),
        _column,
        _size,
        c.POINTER(s.FgallOutColumn),
        _size,
        *_places,
        _size_out,
    ),
    "fgall_blend_summary": (_handle, c.POINTER(k.FgallBlendSummary)),
    "fgall_blend_taken": (_handle, c.POINTER(k.FgallTaken), _size, _size_out),
    "fgall_blend_figures": (_handle, c.POINTER(k.FgallFigure), _size, _size_out),
    "fgall_blend_used_up": (_handle, _size_out, _size, _size_out),
    "fgall_blend_more": (_handle, c.POINTER(k.FgallMore), _size, _size_out),
    "fgall_blend_text": (_handle, *_written),
    "fgall_blend_recipe_new": (_handle, _handle_out),
    "fgall_standard_count": (_size_out,),
    "fgall_standard_at": (_size, c.POINTER(s.FgallStandard)),
    "fgall_standard_clauses": (_text, c.POINTER(s.FgallClause), _size, _size_out),
    "fgall_standard_programme_text": (_text, *_written),
    "fgall_recipe_standard": (_handle, _text, *_held),
    "fgall_study_standard": (_handle, _text, *_drawn, *_held),
    "fgall_recipe_standard_text": (_handle, _text, *_written),
    "fgall_recipe_standards_text": (_handle, *_written),
    "fgall_unit_count": (_size_out,),
    "fgall_unit_at": (_size, c.POINTER(s.FgallUnit)),
    "fgall_unit_find": (_text, c.POINTER(s.FgallUnit)),
    "fgall_unit_source": (_text, *_written),
    "fgall_word_candidates": (
        _setting,
        _text,
        _u32,
        c.POINTER(s.FgallCandidate),
        _size,
        _size_out,
    ),
    "fgall_old_amount": (_setting, _text, _u32, c.POINTER(_u32), c.POINTER(s.FgallRange)),
    "fgall_unit_echo": (_text, _double, _u32, c.POINTER(s.FgallEcho)),
    "fgall_historic_quantiles": (_u32, _text, c.c_int32, c.POINTER(s.FgallQuantiles)),
    "fgall_historic_percentile": (_u32, _double, _text, c.c_int32, _double_out),
    "fgall_recipe_read_new": (*_old_recipe, c.POINTER(s.FgallReading), _handle_out),
    "fgall_recipe_read_meant_new": (*_old_recipe, _size, _handle_out),
    "fgall_old_recipe_json": (*_old_recipe, *_written),
    "fgall_belief_update_value": (_double, _double, _double, _double, _belief),
    "fgall_belief_update_between": (_double, _double, _double, _double, _double, _belief),
    "fgall_belief_of_range": (_double, _double, _double, _belief),
    "fgall_shelf_add_liquor": (*_extracted, _text, _size_out),
    "fgall_recipe_add_extraction_by": (
        _handle,
        _handle,
        _size,
        _size,
        c.POINTER(s.FgallExtraction),
    ),
    "fgall_extraction_run": (*_extracted, c.POINTER(s.FgallLiquor)),
    "fgall_extraction_washes": (*_extracted, c.POINTER(s.FgallStrained), _size, _size_out),
    "fgall_extraction_cautions": (*_extracted, *_written),
    "fgall_extraction_assumed": (*_extracted, *_written),
    "fgall_extraction_time_to": (*_extracted, _double, _double, _range_out),
    "fgall_extraction_paste_below": (*_extracted, _u32, _double, _range_out),
    "fgall_extraction_water_for": (*_extracted, _double, _range_out),
    "fgall_extraction_rows": (*_extracted, _column, _column, _column, _size, *_places, _size_out),
    "fgall_diffused_from_sphere": (_double, _double_out),
    "fgall_diffused_from_slab": (_double, _double_out),
    "fgall_diffused_into_bath": (_double, _double, _double_out),
    "fgall_tea_brew": (_double, _double, _range_out, _range_out),
    "fgall_peleg_fit": (_double_out, _double_out, _size, _peleg),
    "fgall_peleg_after": (_peleg, _double, _double_out, _double_out),
    "fgall_peleg_time_to": (_peleg, _double, _double_out),
    "fgall_reading_u": (_u32, _double, _double_out),
    "fgall_titration_iron_mmol": (_titration, *_assayed),
    "fgall_titration_iron_mol_per_l": (_titration, _double, _double, *_assayed),
    "fgall_titration_iron_share": (_titration, _double, _double, *_assayed),
    "fgall_titration_purity": (_titration, _double, _double, _text, *_assayed),
    "fgall_titration_oxidised_share": (_titration, _titration, *_assayed),
    "fgall_titration_rows": (_titration, _column, _column, _double, _size, *_places, _size_out),
    "fgall_phenanthroline_iron_mol_per_l": (_absorbance, *_assayed),
    "fgall_phenanthroline_oxidised_share": (_absorbance, _absorbance, *_assayed),
    "fgall_nail_iron_mmol": (c.POINTER(s.FgallNail), *_assayed),
    "fgall_dry_residue_share": (_drying, *_assayed),
    "fgall_moisture_share": (_drying, *_assayed),
    "fgall_vitriol_dried_to": (_double, c.POINTER(c.c_uint32)),
    "fgall_vitriol_waters": (_drying, _u32, *_assayed),
    "fgall_vitriol_iron_share": (_drying, _u32, *_assayed),
    "fgall_vitriol_weathered": (_drying, _u32, c.POINTER(s.FgallWeathered)),
    "fgall_stock_iron_mol_per_l": (c.POINTER(s.FgallStockDensity), *_assayed),
    "fgall_liquor_tannin_share": (c.POINTER(s.FgallLiquorDensity), *_assayed),
    "fgall_tannin_factor_count": (_size_out,),
    "fgall_tannin_factor_at": (_size, c.POINTER(s.FgallTanninFactor)),
    "fgall_tannin_factor_source": (_size, *_written),
    "fgall_tannin_by_factor": (_text, _double, _double, *_assayed),
    "fgall_loewenthal_tannin_g": (c.POINTER(s.FgallLoewenthal), *_assayed),
    "fgall_plant_tannin_share": (c.POINTER(s.FgallPlantTannin), *_assayed),
    "fgall_spot_galloyl_mol_per_l": (c.POINTER(s.FgallSpotTest), c.POINTER(s.FgallBracket)),
    "fgall_spot_plant": (
        c.POINTER(s.FgallSpotTest),
        c.POINTER(s.FgallSpotPlant),
        c.POINTER(s.FgallBracket),
        c.POINTER(s.FgallBracket),
    ),
    "fgall_belief_update_bracket": (_double, _double, c.POINTER(s.FgallBracket), _belief),
    "fgall_iron_law_source": (_u32, *_written),
    "fgall_iron_law_constant": (_u32, _double, _double, _double, _double_out, _double_out),
    "fgall_inorganic_rate": (_double, _double, _double, c.POINTER(s.FgallInorganicRate)),
}
# Their result, then their arguments.
OTHERS: Dict[str, Tuple[Any, ...]] = {
    "fgall_status_text": (_text, _u32),
    "fgall_version": (_text,),
    "fgall_abi_version": (_u32,),
    "fgall_data_version": (_text,),
    "fgall_shelf_free": (None, _handle),
    "fgall_recipe_free": (None, _handle),
    "fgall_columns_free": (None, _handle),
    "fgall_solver_free": (None, _handle),
    "fgall_study_free": (None, _handle),
    "fgall_blend_free": (None, _handle),
}
# Long calls on things that nobody can change, or (solvers, studies) that a lock keeps: other
# threads may run meanwhile.
# All others keep the interpreter lock, so that handles may be shared by threads. (A
# Python built without that lock wants a lock of the caller's around what changes.)
UNLOCKED = (
    "fgall_columns_evaluate",
    "fgall_columns_equilibrium",
    "fgall_solver_rows",
    "fgall_sheet_text",
    "fgall_sheet_json",
    "fgall_forecast",
    "fgall_forecast_curve",
    "fgall_forecast_moments",
    "fgall_forecast_rows",
    "fgall_measures_rank",
    "fgall_bottles_rank",
    "fgall_fit",
    "fgall_course",
    "fgall_study_answer",
    "fgall_study_helps",
    "fgall_study_advice_text",
    "fgall_study_excess_iron",
    "fgall_study_draws",
    "fgall_study_standard",
    "fgall_titration_rows",
)


def _find() -> Path:
    named = os.environ.get("FERROGALL_LIBRARY")
    place = Path(named) if named else Path(__file__).with_name(_NAME)
    if not place.is_file():
        raise ImportError(
            f"ferrogall: there is no shared library at {place}; install the package with pip, or "
            "build the library with\n"
            "  cargo rustc --release --lib --features capi --crate-type cdylib,staticlib\n"
            "and say where it is in the environment variable FERROGALL_LIBRARY"
        )
    return place.resolve()


def _load() -> Dict[str, Any]:
    place = str(_find())
    locked, unlocked = c.PyDLL(place), c.CDLL(place)
    found: Dict[str, Any] = {}

    def declare(name: str, result: Any, arguments: List[Any]) -> None:
        function = getattr(unlocked if name in UNLOCKED else locked, name)
        function.restype, function.argtypes = result, arguments
        found[name] = function

    try:
        declare("fgall_abi_version", c.c_uint32, [])
        abi = found["fgall_abi_version"]()
        if abi != ABI_VERSION:
            raise ImportError(f"ferrogall: {place} has ABI {abi}; this package wants {ABI_VERSION}")
        for name, (result, *arguments) in OTHERS.items():
            declare(name, result, arguments)
        for name, given in FALLIBLE.items():
            declare(name, c.c_uint32, [*given, c.POINTER(s.FgallError)])
    except AttributeError as missing:
        raise ImportError(f"ferrogall: {place} is too old: {missing}") from None
    return found


_functions = _load()


def call(name: str, *arguments: Any) -> None:
    """Calls a function that can fail; raises what it says."""
    error = s.new(s.FgallError)
    try:
        status = _functions[name](*arguments, c.byref(error))
    except c.ArgumentError as wrong:
        raise TypeError(f"{name}: {wrong}") from None
    if status != Status.OK:
        raise FerrogallError(
            status,
            error.argument.decode("utf-8"),
            error.value,
            error.message.decode("utf-8") or static_text("fgall_status_text", status),
        )


def static_text(name: str, *arguments: Any) -> str:
    """A text that the library keeps."""
    raw: bytes = _functions[name](*arguments)
    return raw.decode("utf-8")


def written_text(name: str, *arguments: Any, capacity: int = 512) -> str:
    """A text that the library writes into a buffer of ours."""
    needed = c.c_size_t()
    while True:
        buffer = c.create_string_buffer(capacity)
        try:
            call(name, *arguments, buffer, capacity, c.byref(needed))
        except FerrogallError as error:
            if error.status != Status.BUFFER_TOO_SMALL:
                raise
            capacity = needed.value
        else:
            return buffer.value.decode("utf-8")


def listed(result: Type[Result], struct: Any, name: str, *arguments: Any) -> List[Result]:
    """The structs that the library writes into an array of ours."""
    needed, room = c.c_size_t(), 16
    while True:
        out = (struct * room)()
        try:
            call(name, *arguments, out, room, c.byref(needed))
        except FerrogallError as error:
            if error.status != Status.BUFFER_TOO_SMALL:
                raise
            room = needed.value
        else:
            return [s.read(result, one) for one in out[: needed.value]]


def number(name: str, *arguments: Any) -> float:
    """The one number a function gives."""
    out = c.c_double()
    call(name, *arguments, c.byref(out))
    return out.value


def count(name: str, *arguments: Any) -> int:
    """The one count or index a function gives."""
    out = c.c_size_t()
    call(name, *arguments, c.byref(out))
    return out.value


def utf8(text: str) -> bytes:
    """A text for the library, which would stop reading at a NUL."""
    if "\0" in text:
        raise ValueError(f"a text with a NUL in it: {text!r}")
    # A lone surrogate is left for the library to refuse.
    return text.encode("utf-8", "surrogatepass")


def whole(value: int, name: str, most: int, least: int = 0) -> int:
    """A count that the C type can hold; ctypes would drop its upper bits."""
    if not least <= value <= most:
        text = f"{name} = {value} is outside {least} to {most}"
        raise FerrogallError(Status.OUT_OF_RANGE, name, float(value), text)
    return value


class Handle:
    """Something that lives in the library and is freed once, after its last use."""

    __slots__ = ("_as_parameter_", "__weakref__")

    def __init__(self, kind: str, new: str, *arguments: Any) -> None:
        pointer = c.c_void_p()
        call(new, *arguments, c.byref(pointer))
        self._as_parameter_ = pointer
        free = weakref.finalize(self, _functions[f"fgall_{kind}_free"], pointer)
        # At exit another thread may still be inside the library; the process frees all.
        free.atexit = False


class Owner:
    """What has a handle: may be closed, and used in a `with`."""

    _handle: Any  # a Handle, or None: the library refuses NULL

    def close(self) -> None:
        """Frees it now rather than when it is forgotten; closing again does nothing."""
        self._handle = None

    def __enter__(self: Owned) -> Owned:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def __reduce_ex__(self, _: Any) -> NoReturn:
        raise TypeError(
            f"a {type(self).__name__} lives in the memory of its process and cannot be pickled; "
            "make it in the function that the other process runs"
        )
