"""The structs of slips, for ctypes; a part of `_structs`, which imports it."""

import ctypes as c

from . import _structs, checked
from .constants import Severity

# 0 in C: no severity is left.
_structs.C_TYPES["Optional[Severity]"] = c.c_uint32
_structs.READERS["Optional[Severity]"] = lambda raw: Severity(raw) if raw else None

FgallSlip = _structs._mirror("FgallSlip", checked.Slip, sized=False)
