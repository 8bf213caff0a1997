"""Many recipes of the same lots at once, over columns of numbers in place.

A column is anything with the buffer protocol that holds float64: array('d'), a
memoryview, a NumPy array, contiguous or not, read-only or not. It is read where it
lies. A plain number stands for itself in every row.
"""

from __future__ import annotations

import ctypes as c
import sys
from array import array
from dataclasses import fields
from typing import Any, List, Optional, Sequence, Tuple

from . import _structs as s
from ._library import Handle, Owner, call
from .constants import Status
from .results import Row
from .shelf import Lot

_FIELDS = {field.name: place for place, field in enumerate(fields(Row))}
_ORDER = "<" if sys.byteorder == "little" else ">"
_FLOAT64 = (b"d", b"@d", b"=d", _ORDER.encode() + b"d")
_PYBUF_RECORDS_RO = 0x1C  # strides and format; may be read-only


class _PyBuffer(c.Structure):
    """Py_buffer of Python's C API."""

    _fields_ = [
        ("buf", c.c_void_p),
        ("obj", c.c_void_p),
        ("len", c.c_ssize_t),
        ("itemsize", c.c_ssize_t),
        ("readonly", c.c_int),
        ("ndim", c.c_int),
        ("format", c.c_char_p),
        ("shape", c.POINTER(c.c_ssize_t)),
        ("strides", c.POINTER(c.c_ssize_t)),
        ("suboffsets", c.POINTER(c.c_ssize_t)),
        ("internal", c.c_void_p),
    ]


# By item, not by attribute: attributes are shared with everybody in the process.
_get_buffer = c.pythonapi["PyObject_GetBuffer"]
_get_buffer.argtypes = [c.py_object, c.POINTER(_PyBuffer), c.c_int]
_get_buffer.restype = c.c_int
_release_buffer = c.pythonapi["PyBuffer_Release"]
_release_buffer.argtypes = [c.POINTER(_PyBuffer)]
_release_buffer.restype = None


class _Column:
    """A column held in place; `rows` is None for a number, which has no length."""

    def __init__(self, name: str, values: Any) -> None:
        self._number = c.c_double()
        self._view: Optional[_PyBuffer] = None
        self.rows: Optional[int] = None
        if isinstance(values, (int, float)):
            self._number.value = values
            self.struct = s.FgallColumn(c.addressof(self._number), 0)
            return
        view = _PyBuffer()
        try:
            _get_buffer(values, c.byref(view), _PYBUF_RECORDS_RO)
        except TypeError:
            kind = type(values).__name__
            raise TypeError(
                f"{name} is neither a number nor a buffer but a {kind}; array('d', …) makes one"
            ) from None
        self._view = view
        if view.ndim != 1 or view.format not in _FLOAT64:
            held = f"{view.ndim} dimensions of {(view.format or b'B').decode()!r}"
            self.release()
            raise TypeError(f"{name} is not one column of float64 but has {held}")
        self.rows = view.shape[0]
        # An empty buffer may have no address at all.
        self.struct = s.FgallColumn(view.buf or c.addressof(self._number), view.strides[0])

    def release(self) -> None:
        if self._view is not None:
            _release_buffer(c.byref(self._view))
            self._view = None


class Rows:
    """The figures of every row, and how each went. Plain memory: may be pickled."""

    def __init__(self, values: array[float], status: array[int], bad_rows: int) -> None:
        self._values = values
        self.status = status
        """A Status for each row; a bad row does not stop the others."""
        self.bad_rows = bad_rows

    def __len__(self) -> int:
        return len(self.status)

    def __getitem__(self, row: int) -> Row:
        place = range(len(self))[row] * len(_FIELDS)
        return Row(*self._values[place : place + len(_FIELDS)])

    def column(self, name: str) -> memoryview:
        """One figure of every row, as a view; numpy.asarray() takes it without a copy."""
        if name not in _FIELDS:
            raise KeyError(f"{name!r} is none of {', '.join(_FIELDS)}")
        return memoryview(self._values)[_FIELDS[name] :: len(_FIELDS)]

    def to_numpy(self) -> Any:
        """All rows as a structured array over the same memory; needs NumPy."""
        import numpy

        return numpy.frombuffer(self._values, dtype=[(name, "f8") for name in _FIELDS])


class Columns(Owner):
    """Lots of one shelf boiled down for rows of masses; no plant matter, 32 at most."""

    def __init__(self, lots: Sequence[Lot], *, water: Lot) -> None:
        shelf = water.shelf
        indices = [shelf.index(lot) for lot in lots]
        array_of = (c.c_size_t * len(indices))(*indices)
        given = (shelf._handle, array_of, len(indices), water.index)
        self._handle = Handle("columns", "fgall_columns_new", *given)

    def evaluate(self, mass_g: Sequence[Any], make_up_ml: Any = None) -> Rows:
        """Works out every row.

        `mass_g` has a column of grams for each lot; `make_up_ml` is a column of the
        volumes to make up to, 0 (or no column) for none. With a NumPy table of a row
        for each recipe, give its transpose. Other threads run meanwhile; the columns
        must not be changed by them.
        """
        held: List[_Column] = []
        try:
            for place, values in enumerate(mass_g):
                held.append(_Column(f"mass_g[{place}]", values))
            masses = (s.FgallColumn * len(held))(*(column.struct for column in held))
            count, make_up = len(held), None
            if make_up_ml is not None:
                held.append(_Column("make_up_ml", make_up_ml))
                make_up = c.byref(held[-1].struct)
            return self._evaluate(masses, count, make_up, _rows(held))
        finally:
            for column in held:
                column.release()

    def _evaluate(self, masses: Any, count: int, make_up: Any, rows: int) -> Rows:
        values = array("d", bytes(8 * len(_FIELDS))) * rows
        status = array("I", [Status.OK]) * rows
        bad = c.c_size_t()
        call(
            "fgall_columns_evaluate",
            *(self._handle, masses, count, make_up, rows),
            *_place(values, c.sizeof(s.FgallRow)),
            *_place(status, status.itemsize),
            c.byref(bad),
        )
        return Rows(values, status, bad.value)


def _rows(columns: Sequence[_Column]) -> int:
    lengths = {column.rows for column in columns if column.rows is not None}
    if len(lengths) > 1:
        raise ValueError(f"columns of different lengths: {sorted(lengths)}")
    return lengths.pop() if lengths else 1


def _place(memory: array[Any], stride: int) -> Tuple[Any, int]:
    # Of an empty array the address is not read, but must not be NULL.
    return memory.buffer_info()[0] or c.addressof(c.c_double()), stride
