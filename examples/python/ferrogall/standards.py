"""Published specifications of iron-tannin ink, and a recipe held against them.

Nothing here is law: every clause shows its source, and no outcome says more than
that the clauses on the composition are met and so many tests remain.
"""

from __future__ import annotations

import ctypes as c
from typing import Any, List

from . import _structs as s
from ._library import call, count, listed, utf8, written_text
from .held import Clause, ClauseHeld, HeldAgainst, Standard, StandardHeld
from .recipe import Recipe
from .study import Study, drawn


def published_standards() -> List[Standard]:
    """Every published specification."""
    found = []
    for index in range(count("fgall_standard_count")):
        out = s.new(s.FgallStandard)
        call("fgall_standard_at", index, c.byref(out))
        found.append(s.read(Standard, out))
    return found


def standard_clauses(standard: str) -> List[Clause]:
    """The clauses of a specification, in order."""
    return listed(Clause, s.FgallClause, "fgall_standard_clauses", utf8(standard))


def standard_programme(standard: str) -> str:
    """The tests of a specification as a checklist: what to prepare, volumes, days."""
    return written_text("fgall_standard_programme_text", utf8(standard), capacity=4096)


def held_against(recipe: Recipe, standard: str) -> HeldAgainst:
    """A recipe held against a specification; chances by first order."""
    return _held(standard, lambda *rest: call("fgall_recipe_standard", recipe._handle, *rest))


def drawn_against(
    study: Study, standard: str, *, seed: int = 1, draws: int = 10_000
) -> HeldAgainst:
    """The same with chances by draws, of every limit and of all at once."""
    return _held(
        standard,
        lambda id, *rest: study._call("fgall_study_standard", id, *drawn(seed, draws), *rest),
    )


def standard_text(recipe: Recipe, standard: str) -> str:
    """A recipe held against a specification, as a page to read."""
    given = (recipe._handle, utf8(standard))
    return written_text("fgall_recipe_standard_text", *given, capacity=8192)


def standards_text(recipe: Recipe) -> str:
    """Which specifications it meets in its composition, which nearly, what would."""
    return written_text("fgall_recipe_standards_text", recipe._handle, capacity=8192)


def _held(standard: str, ask: Any) -> HeldAgainst:
    rows = len(standard_clauses(standard))
    together, needed = s.new(s.FgallStandardHeld), c.c_size_t()
    out = (s.FgallClauseHeld * max(rows, 1))()
    ask(utf8(standard), c.byref(together), out, rows, c.byref(needed))
    return HeldAgainst(
        s.read(StandardHeld, together), [s.read(ClauseHeld, one) for one in out[:rows]]
    )
