"""The structs of old units and recipes; `_structs` takes them in at its end."""

from __future__ import annotations

import ctypes as c

from . import olden
from ._structs import C_TYPES, READERS, _mirror, _sized

for _family in (olden.QuantityKind, olden.Use):
    C_TYPES[_family.__name__] = c.c_uint32
    READERS[_family.__name__] = _family

FgallUnit = _mirror("FgallUnit", olden.Unit)
FgallCandidate = _mirror("FgallCandidate", olden.Candidate, sized=False)
FgallEcho = _mirror("FgallEcho", olden.Echo)
FgallQuantiles = _mirror("FgallQuantiles", olden.Quantiles)
FgallReading = _mirror("FgallReading", olden.ReadingFigures)


class FgallSetting(c.Structure):
    _fields_ = _sized(
        ("place", c.c_char_p),
        ("from_year", c.c_int32),
        ("to_year", c.c_int32),
        ("book", c.c_uint32),
    )


class FgallOldLine(c.Structure):
    _fields_ = [
        ("lot", c.c_size_t),
        ("role", c.c_uint32),
        ("goods", c.c_uint32),
        ("amount", c.c_char_p),
    ]


class FgallOldRecipe(c.Structure):
    _fields_ = _sized(
        ("title", c.c_char_p),
        ("setting", c.POINTER(FgallSetting)),
        ("lines", c.POINTER(FgallOldLine)),
        ("line_count", c.c_size_t),
        ("ending", c.c_uint32),
        ("strained_first", c.c_uint32),
        ("ending_share", c.c_double),
        ("yields", c.c_char_p),
        ("liquids_said", c.c_char_p),
        ("part_g", c.c_double),
    )
