"""How sure an ink is: every bag, soak and weighing as a named source, the interval that
follows from them, which measurement would help most, and what a test tells.

The same seed gives the same draws everywhere.
"""

from __future__ import annotations

import ctypes as c
import threading
from array import array
from dataclasses import dataclass, replace
from typing import Any, List, Optional, Sequence, Tuple

from . import _structs as s
from ._library import Handle, Owner, call, listed, utf8, whole, written_text
from .constants import KNOWN_BITS, Measurand, Remedy, Shape
from .inputs import Kit
from .recipe import Recipe
from .shelf import Lot
from .studied import Answer, Assurance, Belief, Chance, Help, StudySource

_MOST_NUMBERS = 20_000_000
_SENTENCE = 2048  # room for most: asking how much would draw everything once more


@dataclass(frozen=True)
class Known:
    """What is known of a source, in its own unit; `a` and `b` are what the shape says."""

    shape: Shape
    a: float
    b: float = 0.0
    at_least: Optional[float] = None
    at_most: Optional[float] = None

    @classmethod
    def exact(cls, value: float) -> Known:
        """Taken as known."""
        return cls(Shape.EXACT, value)

    @classmethod
    def normal(cls, mean: float, u: float) -> Known:
        """A value and its standard uncertainty (k = 1)."""
        return cls(Shape.NORMAL, mean, u)

    @classmethod
    def log_normal(cls, median: float, u_ln: float) -> Known:
        """Known to a factor: u_ln, 0 to 20, is about the relative uncertainty."""
        return cls(Shape.LOG_NORMAL, median, u_ln)

    @classmethod
    def rectangular(cls, low: float, high: float) -> Known:
        """Anywhere between."""
        return cls(Shape.RECTANGULAR, low, high)

    @classmethod
    def triangular(cls, low: float, high: float) -> Known:
        """Between, the middle likelier than the ends."""
        return cls(Shape.TRIANGULAR, low, high)

    @classmethod
    def belief(cls, belief: Belief) -> Known:
        """What is believed."""
        return cls.log_normal(belief.median, belief.u_ln)

    def between(self, at_least: float, at_most: float) -> Known:
        """The same with its ends cut off: what lies outside cannot be."""
        return replace(self, at_least=at_least, at_most=at_most)

    def struct(self) -> Any:
        if (self.at_least is None) != (self.at_most is None):
            raise TypeError("at_least and at_most go together")
        out = s.new(s.FgallKnown)
        out.shape, out.a, out.b = self.shape, self.a, self.b
        s.fill(out, KNOWN_BITS, {name: getattr(self, name) for name in KNOWN_BITS})
        return out


class Draws:
    """Draws of several figures of the same inks, in their order; NaN where an ink has no
    such figure. Plain memory: may be pickled."""

    def __init__(self, measurands: Sequence[Measurand], values: array[float]) -> None:
        self.measurands = tuple(measurands)
        self._values = values

    def __len__(self) -> int:
        return len(self._values) // max(len(self.measurands), 1)

    def column(self, measurand: Measurand) -> memoryview:
        """One figure, as a view; numpy.asarray() takes it without a copy."""
        if measurand not in self.measurands:
            raise KeyError(f"{measurand!r} was not drawn")
        first = self.measurands.index(measurand)
        return memoryview(self._values)[first :: len(self.measurands)]

    def to_numpy(self) -> Any:
        """All of them as a structured array over the same memory, a field for each
        figure, such as "iron_g_per_l"; needs NumPy."""
        import numpy

        names = [Measurand(m).name.lower() for m in self.measurands]
        return numpy.frombuffer(self._values, dtype=[(name, "f8") for name in names])


class Study(Owner):
    """A recipe with all that is not known of it; with a kit, every weighing and filling
    up too. It has copies of recipe and lots. What becomes of the recipe later is not in it.

    One study works for one thread at a time, others wait; `copy` makes one for each.
    """

    def __init__(self, recipe: Recipe, *, kit: Optional[Kit] = None) -> None:
        tools = None if kit is None else c.byref(kit.struct())
        self._handle = Handle("study", "fgall_study_new", recipe._handle, tools)
        self._alone = threading.Lock()

    def copy(self) -> Study:
        """A copy with a life and knowledge of its own."""
        other = Study.__new__(Study)
        other._alone = threading.Lock()
        with self._alone:
            other._handle = Handle("study", "fgall_study_copy_new", self._handle)
        return other

    __copy__ = copy

    def __deepcopy__(self, _: Any) -> Study:
        return self.copy()

    def sources(self) -> List[StudySource]:
        """Every source with what is known of it, exact ones included."""
        found, count = [], c.c_size_t()
        self._call("fgall_study_source_count", c.byref(count))
        for index in range(count.value):
            out = s.new(s.FgallStudySource)
            self._call("fgall_study_source", index, c.byref(out))
            found.append(replace(s.read(StudySource, out), name=self._name(index)))
        return found

    def know(self, source: str, known: Known) -> None:
        """What is known of one source from now on; the others keep their draws."""
        self._call("fgall_study_know", utf8(source), c.byref(known.struct()))

    def answer(self, measurand: Measurand, *, seed: int = 1, draws: int = 10_000) -> Answer:
        """A figure with its 95 % interval: by first order where that is honest, by draws
        (100 to 2e7) where it is not."""
        out = s.new(s.FgallAnswer)
        self._call("fgall_study_answer", measurand, *drawn(seed, draws), c.byref(out))
        return s.read(Answer, out)

    def helps(self, measurand: Measurand, *, seed: int = 1, draws: int = 10_000) -> List[Help]:
        """Every source by what knowing it exactly would do, the most helpful first."""
        given = (measurand, *drawn(seed, draws), None)
        with self._alone:
            helps = listed(Help, s.FgallHelp, "fgall_study_helps", self._handle, *given)
        return [replace(help, name=self._name(help.source)) for help in helps]

    def advice(self, measurand: Measurand, *, seed: int = 1, draws: int = 10_000) -> str:
        """The sentence: the figure, its interval, and which measurement would help most."""
        given = (measurand, *drawn(seed, draws))
        with self._alone:
            name = "fgall_study_advice_text"
            return written_text(name, self._handle, *given, capacity=_SENTENCE)

    def excess_iron(self, criterion: str, *, seed: int = 1, draws: int = 10_000) -> Chance:
        """How likely the ink has more iron than a criterion (see Recipe.verdicts) calls
        balanced."""
        probability, sampling = c.c_double(), c.c_double()
        given = (utf8(criterion), *drawn(seed, draws), c.byref(probability), c.byref(sampling))
        self._call("fgall_study_excess_iron", *given)
        return Chance(probability.value, sampling.value)

    def assured(
        self,
        lot: Lot,
        criterion: str,
        assurance: float = 0.95,
        *,
        seed: int = 1,
        draws: int = 10_000,
    ) -> Assurance:
        """How much of a lot of the recipe it takes that the iron stays within a criterion
        with this assurance, 0.5 to 0.999. Draws are made many times over."""
        out = s.new(s.FgallAssurance)
        given = (lot.shelf._handle, lot.index, utf8(criterion), assurance, *drawn(seed, draws))
        self._call("fgall_study_assured", *given, c.byref(out))
        return s.read(Assurance, out)

    def draws(
        self, measurands: Sequence[Measurand], *, seed: int = 1, draws: int = 10_000
    ) -> Draws:
        """The draws themselves: 100 to 2e7, together with the figures at most 2e7. Other
        threads run meanwhile."""
        chosen = list(dict.fromkeys(measurands))
        plan = drawn(seed, whole(draws, "draws", _MOST_NUMBERS))
        # Looked at here, for the room is made here.
        numbers = whole(len(chosen) * draws, "measurand_count times draws", _MOST_NUMBERS)
        values = array("d", bytes(8 * numbers))
        first, stride = values.buffer_info()[0], 8 * len(chosen)
        columns = [s.FgallOutColumn(first + 8 * place, stride) for place in range(len(chosen))]
        codes = (c.c_uint32 * len(chosen))(*chosen)
        to = (s.FgallOutColumn * len(chosen))(*columns)
        self._call("fgall_study_draws", codes, len(chosen), *plan, to)
        return Draws(chosen, values)

    def _call(self, name: str, *arguments: Any) -> None:
        with self._alone:
            call(name, self._handle, *arguments)

    def _name(self, index: int) -> str:
        with self._alone:
            return written_text("fgall_study_source_name", self._handle, index)


def drawn(seed: int, draws: int) -> Tuple[int, int]:
    return whole(seed, "seed", 2**64 - 1), whole(draws, "draws", 2**32 - 1)


def measurand_text(measurand: Measurand) -> str:
    """A figure in words."""
    return written_text("fgall_measurand_text", measurand)


def remedy_text(remedy: Remedy) -> str:
    """A remedy in words."""
    return written_text("fgall_remedy_text", remedy)


def belief_of_range(min: float, typical: float, max: float) -> Belief:
    """The belief that a span of the catalogue stands for."""
    return _belief("fgall_belief_of_range", min, typical, max)


def belief_update_value(prior: Belief, measured: float, u: float) -> Belief:
    """What is believed after a measurement with its standard uncertainty."""
    return _belief("fgall_belief_update_value", prior.median, prior.u_ln, measured, u)


def belief_update_between(
    prior: Belief, low: float, high: float, *, judging_u_ln: float
) -> Belief:
    """What is believed after a test that brackets the property, each limit judged with a
    standard uncertainty of its logarithm."""
    given = (prior.median, prior.u_ln, low, high, judging_u_ln)
    return _belief("fgall_belief_update_between", *given)


def _belief(name: str, *arguments: float) -> Belief:
    out = s.new(s.FgallBelief)
    call(name, *arguments, c.byref(out))
    return s.read(Belief, out)
