"""The structs of cupboards and what is made from them; see `_structs`."""

from __future__ import annotations

import ctypes as c

from . import blended
from ._structs import C_TYPES, READERS, FgallKit, FgallSoak, _mirror, _sized
from .constants import Figure

# Under its full name: `held` calls something else a figure.
C_TYPES["constants.Figure"] = c.c_uint32
READERS["constants.Figure"] = Figure


class FgallStore(c.Structure):
    _fields_ = [
        ("lot", c.c_size_t),
        ("set", c.c_uint32),
        ("on_hand_g", c.c_double),
        ("pack_g", c.c_double),
    ]


class FgallCupboard(c.Structure):
    _fields_ = _sized(
        ("water_lot", c.c_size_t),
        ("stores", c.POINTER(FgallStore)),
        ("store_count", c.c_size_t),
        ("soak", c.POINTER(FgallSoak)),
        ("kit", c.POINTER(FgallKit)),
    )


class FgallWindow(c.Structure):
    _fields_ = [("low", c.c_double), ("high", c.c_double)]


class FgallWanted(c.Structure):
    _fields_ = _sized(
        ("volume_ml", c.c_double),
        ("set", c.c_uint32),
        ("iron_ii_mol_per_l", FgallWindow),
        ("iron_g_per_l", FgallWindow),
        ("galloyl_mol_per_l", FgallWindow),
        ("gallic_acid_mol_per_l", FgallWindow),
        ("tannic_and_gallic_g_per_l", FgallWindow),
        ("iron_ii_per_galloyl", FgallWindow),
        ("gallic_share", FgallWindow),
        ("strong_acid_mol_per_l", FgallWindow),
        ("ph", FgallWindow),
        ("gum_g_per_l", FgallWindow),
        ("dye_g_per_l", FgallWindow),
        ("preservative_g_per_l", FgallWindow),
        ("most_cost", c.c_double),
        ("criterion", c.c_char_p),
        ("assurance", c.c_double),
        ("most_volume_ml", c.c_double),
    )


FgallBlendSummary = _mirror("FgallBlendSummary", blended.BlendSummary)
FgallTaken = _mirror("FgallTaken", blended.Taken, sized=False)
FgallFigure = _mirror("FgallFigure", blended.BlendFigure, sized=False)
FgallMore = _mirror("FgallMore", blended.More, sized=False)
FgallMadeRow = _mirror("FgallMadeRow", blended.MadeRow, sized=False)
