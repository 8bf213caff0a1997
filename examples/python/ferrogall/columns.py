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
from typing import TYPE_CHECKING, Any, Dict, Generic, List, Optional, Sequence, Tuple, Type, TypeVar

from . import _structs as s
from ._library import Handle, Owner, call
from .constants import Status
from .results import EquilibriumRow, Row
from .shelf import Lot

if TYPE_CHECKING:
    from .equilibrium import Solver

Figures = TypeVar("Figures")
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


def _places_of(kind: Type[Any]) -> Dict[str, int]:
    return {field.name: place for place, field in enumerate(fields(kind))}


class Rows(Generic[Figures]):
    """The figures of every row, and how each went. Plain memory: may be pickled."""

    def __init__(
        self, kind: Type[Figures], values: array[float], status: array[int], bad_rows: int
    ) -> None:
        self._kind = kind
        self._fields = _places_of(kind)
        self._values = values
        self.status = status
        """A Status for each row; a bad row does not stop the others."""
        self.bad_rows = bad_rows

    def __len__(self) -> int:
        return len(self.status)

    def __getitem__(self, row: int) -> Figures:
        place = range(len(self))[row] * len(self._fields)
        return self._kind(*self._values[place : place + len(self._fields)])

    def column(self, name: str) -> memoryview:
        """One figure of every row, as a view; numpy.asarray() takes it without a copy."""
        if name not in self._fields:
            raise KeyError(f"{name!r} is none of {', '.join(self._fields)}")
        return memoryview(self._values)[self._fields[name] :: len(self._fields)]

    def to_numpy(self) -> Any:
        """All rows as a structured array over the same memory; needs NumPy."""
        import numpy

        return numpy.frombuffer(self._values, dtype=[(name, "f8") for name in self._fields])


class Held:
    """Columns held in place for one call; given back at the end of a `with`."""

    def __init__(self) -> None:
        self._held: List[_Column] = []

    def __enter__(self) -> Held:
        return self

    def __exit__(self, *_: object) -> None:
        for column in self._held:
            column.release()

    def one(self, name: str, values: Any) -> Any:
        """The struct of a column."""
        self._held.append(_Column(name, values))
        return self._held[-1].struct

    def several(self, name: str, columns: Sequence[Any]) -> Tuple[Any, int]:
        """An array of structs, and how many there are."""
        structs = [self.one(f"{name}[{place}]", values) for place, values in enumerate(columns)]
        return (s.FgallColumn * len(structs))(*structs), len(structs)

    def rows_of(self, kind: Type[Figures], name: str, *arguments: Any) -> Rows[Figures]:
        """Calls a function that fills rows: one for each number of the columns."""
        rows = _rows(self._held)
        size = len(_places_of(kind))
        values = array("d", bytes(8 * size)) * rows
        status = array("I", [Status.OK]) * rows
        bad = c.c_size_t()
        places = (*_place(values, 8 * size), *_place(status, status.itemsize))
        call(name, *arguments, rows, *places, c.byref(bad))
        return Rows(kind, values, status, bad.value)


class Columns(Owner):
    """Lots of one shelf boiled down for rows of masses; no plant matter, 32 at most."""

    def __init__(self, lots: Sequence[Lot], *, water: Lot) -> None:
        shelf = water.shelf
        indices = [shelf.index(lot) for lot in lots]
        array_of = (c.c_size_t * len(indices))(*indices)
        given = (shelf._handle, array_of, len(indices), water.index)
        self._handle = Handle("columns", "fgall_columns_new", *given)

    def evaluate(self, mass_g: Sequence[Any], make_up_ml: Any = None) -> Rows[Row]:
        """Works out every row.

        `mass_g` has a column of grams for each lot; `make_up_ml` is a column of the
        volumes to make up to, 0 (or no column) for none. With a NumPy table of a row
        for each recipe, give its transpose. Other threads run meanwhile; the columns
        must not be changed by them.
        """
        with Held() as held:
            given = _masses(held, mass_g, make_up_ml)
            return held.rows_of(Row, "fgall_columns_evaluate", self._handle, *given)

    def equilibrium(
        self, solver: Solver, mass_g: Sequence[Any], make_up_ml: Any = None
    ) -> Rows[EquilibriumRow]:
        """pH and iron of every row; the columns are those of `evaluate`."""
        with Held() as held, solver._alone:
            given = (self._handle, solver._handle, *_masses(held, mass_g, make_up_ml))
            return held.rows_of(EquilibriumRow, "fgall_columns_equilibrium", *given)


def _masses(held: Held, mass_g: Sequence[Any], make_up_ml: Any) -> Tuple[Any, int, Any]:
    masses, count = held.several("mass_g", mass_g)
    if make_up_ml is None:
        return masses, count, None
    return masses, count, c.byref(held.one("make_up_ml", make_up_ml))


def rows_in(held: Held) -> int:
    """How many rows the columns have."""
    return _rows(held._held)


def _rows(columns: Sequence[_Column]) -> int:
    lengths = {column.rows for column in columns if column.rows is not None}
    if len(lengths) > 1:
        raise ValueError(f"columns of different lengths: {sorted(lengths)}")
    return lengths.pop() if lengths else 1


def _place(memory: array[Any], stride: int) -> Tuple[Any, int]:
    # Of an empty array the address is not read, but must not be NULL.
    return memory.buffer_info()[0] or c.addressof(c.c_double()), stride
