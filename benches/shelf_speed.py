#!/usr/bin/env python3
"""Solves the same programmes and shelves with SciPy (HiGHS) and with ferrogall.

    python3 benches/shelf_speed.py

It needs cargo, and a Python that has SciPy and NumPy:

    python3 -m venv target/scipy && target/scipy/bin/pip install scipy
    target/scipy/bin/python benches/shelf_speed.py

It builds our half (benches/shelf_speed.rs) and prints two tables. Both solve,
on the same core, one after the other, the problems of
tests/data/inverse_problems.json that are programmes, and the shelves of
benches/shelf_cases: twelve lots at least cost, four lots rounded to tenths of a
gram, twelve lots at least cost to a pH. The best of five rounds is quoted. Exit
status 1 when the objectives differ, whatever the times.

Theirs: `milp`, which hands all of them to HiGHS; the matrices are made
beforehand, by this script, from what our half says a gram of each lot brings.
The pH is found as usual, by Brent's method (`brentq`) around programmes with the
strong acid fixed; the pH of each is reckoned by this library's own solver, called
through its Python package. Theirs includes what Python takes to hand a problem
over.

Ours, of programmes: `Program::minimise`, the programme made beforehand; of
shelves: `Shelf::make`, from lots to a recipe that is worked out. Both settle ties
and hold the answer against every limit; HiGHS does not settle ties.
"""

import json
import os
import subprocess
import sys
import time
from pathlib import Path

try:
    import numpy as np
    import scipy
    from scipy.optimize import Bounds, LinearConstraint, brentq, milp
except ImportError:
    raise SystemExit(__doc__)

ROOT = Path(__file__).resolve().parent.parent
TARGET = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")).resolve()
ROUNDS = 5
REPEATS = 200
PH_REPEATS = 10
AGREES = 1e-8
# A pH counts as met within a millionth.
PH_AGREES = 1e-6
INF = float("inf")
# Figures that are reckoned on the galloyl, with what stands above the line.
PER_GALLOYL = {"iron_ii_per_galloyl": "iron_ii", "gallic_share": "gallic_acid"}
LEAST_WATER_G_PER_L = 500.0  # as `Shelf::make` has it
STEP_G = 0.1


def built():
    """Our half, as an executable; the shared library is made known to our Python package."""

    def made(command, target):
        command = [*command.split(), "--message-format=json"]
        out = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout
        messages = [json.loads(line) for line in out.decode().splitlines()]
        for m in messages:
            if m["reason"] == "compiler-artifact" and m["target"]["name"] == target:
                return m["executable"] or m["filenames"][0]
        raise SystemExit(f"cargo named no {target}")

    library = made("cargo rustc --release --lib --features capi --crate-type cdylib", "ferrogall")
    os.environ.setdefault("FERROGALL_LIBRARY", library)
    sys.path.insert(0, str(ROOT / "examples" / "python"))
    return made("cargo bench --bench shelf_speed --no-run", "shelf_speed")


def ends(pair, default):
    low, high = pair
    return (-default if low is None else low), (INF if high is None else high)


def programmes():
    """Problems that have a cost, as SciPy takes them."""
    file = json.loads((ROOT / "tests/data/inverse_problems.json").read_text("utf-8"))
    for p in file["problems"]:
        if "c" not in p:
            continue
        limits = []
        if "A_ub" in p:
            limits.append(LinearConstraint(np.array(p["A_ub"]), -np.inf, np.array(p["b_ub"])))
        if "A_eq" in p:
            limits.append(LinearConstraint(np.array(p["A_eq"]), p["b_eq"], p["b_eq"]))
        pairs = [ends(b, 0) for b in p.get("bounds", [[0, None]] * len(p["c"]))]
        yield p["id"], {
            "c": np.array(p["c"]),
            "constraints": limits,
            "bounds": Bounds(*np.transpose(pairs)),
            "integrality": p.get("integrality", np.zeros(len(p["c"]))),
        }


class Shelf:
    """A shelf as rows: grams of each lot, water filling up to the volume."""

    def __init__(self, case):
        self.litres = case["volume_l"]
        self.lots = case["lots"]
        self.windows = case["windows"]
        water = case["water"]
        self.water_g_per_l = water["water"] / water["volume"]
        self.price = np.array([lot["price_per_g"] for lot in self.lots])
        self.stock = [INF if lot["on_hand_g"] is None else lot["on_hand_g"] for lot in self.lots]

    def row(self, figure):
        return np.array([lot[figure] for lot in self.lots])

    def targets(self):
        """Each figure but the pH: what the ends of its window ask of which sum."""
        for figure, window in self.windows.items():
            low, high = ends(window, INF)
            if figure in PER_GALLOYL:
                above, galloyl = self.row(PER_GALLOYL[figure]), self.row("galloyl")
                yield above - low * galloyl, 0.0, INF
                yield above - high * galloyl, -INF, 0.0
            elif figure != "ph":
                yield self.row(figure), low * self.litres, high * self.litres

    def room(self):
        """The lots fit into the volume, and leave water to dissolve in."""
        displaced = self.row("volume")
        kept = self.row("water") - self.water_g_per_l * displaced
        least = (LEAST_WATER_G_PER_L - self.water_g_per_l) * self.litres
        return [(displaced, -INF, self.litres), (kept, least, INF)]

    def cheapest(self, also=()):
        rows, low, high = zip(*self.targets(), *self.room(), *also)
        return {
            "c": self.price,
            "constraints": LinearConstraint(np.array(rows), low, high),
            "bounds": Bounds(0.0, self.stock),
        }

    def nearest(self):
        """Whole steps of each lot; each exact target with a slack below and above."""
        rows, low, high = [], [], []
        lots, targets = len(self.lots), list(self.targets())
        for k, (row, end, _) in enumerate(targets):
            slacks = np.zeros(2 * len(targets))
            slacks[2 * k:2 * k + 2] = end, -end
            rows.append(np.concatenate([row * STEP_G, slacks]))
            low.append(end)
            high.append(end)
        for row, least, most in self.room():
            rows.append(np.concatenate([row * STEP_G, np.zeros(2 * len(targets))]))
            low.append(least)
            high.append(most)
        return {
            "c": np.concatenate([np.zeros(lots), np.ones(2 * len(targets))]),
            "constraints": LinearConstraint(np.array(rows), low, high),
            "bounds": Bounds(0.0, INF),
            "integrality": np.concatenate([np.ones(lots), np.zeros(2 * len(targets))]),
        }

    def to_a_ph(self):
        """The programme for each strong acid, and the acid that brings the pH."""
        from ferrogall import Solver, Totals
        from ferrogall.constants import Master
        from ferrogall.equilibrium import master_formula

        solver = Solver()
        names = {master_formula(m): m.name.lower() + "_mol_per_kg" for m in Master}
        masters = {name: np.array([lot["masters"][formula] for lot in self.lots])
                   for formula, name in names.items()
                   if any(lot["masters"][formula] for lot in self.lots)}
        kept = self.row("water") - self.water_g_per_l * self.row("volume")
        (wanted, _) = self.windows["ph"]
        acid = self.row("strong_acid")

        def best(mol_per_l):
            return milp(**self.cheapest([(acid, mol_per_l * self.litres, mol_per_l * self.litres)]))

        def off(mol_per_l):
            grams = best(mol_per_l).x
            kg = (self.water_g_per_l * self.litres + kept @ grams) / 1e3
            totals = Totals(**{name: max(mol @ grams, 0.0) / kg for name, mol in masters.items()})
            return solver.solve(totals).ph - wanted

        return lambda: best(brentq(off, 0.0, 0.1, xtol=1e-12, rtol=1e-10))


def timed(ask, repeats=REPEATS):
    best = INF
    for _ in range(ROUNDS):
        start = time.perf_counter()
        for _ in range(repeats):
            answer = ask()
        best = min(best, (time.perf_counter() - start) / repeats)
    return best, answer.fun


def table(ours, theirs):
    """Prints a line each; whether all objectives agree."""
    print(f"{'':12} {'theirs':>9} {'ours':>9} {'ratio':>7}")
    agrees = True
    for name, (seconds, objective) in theirs:
        mine = ours[name]
        off = abs(mine["objective"] - objective) / (1 + abs(objective))
        agrees &= off <= (PH_AGREES if name == "to a pH" else AGREES)
        print(f"{name:12} {seconds * 1e6:9.1f} {mine['seconds'] * 1e6:9.1f} "
              f"{seconds / mine['seconds']:7.1f}   apart by {off:.0e}")
    return agrees


def main():
    try:
        os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
    except (AttributeError, OSError):
        print("not pinned to one core")
    executable = built()
    TARGET.mkdir(parents=True, exist_ok=True)
    answers = TARGET / "shelf_speed.json"
    subprocess.run([executable, str(answers)], check=True)
    ours = json.loads(answers.read_text("utf-8"))
    shelves = {name: Shelf(case) for name, case in ours["shelves"].items()}
    cheapest = shelves["least cost"].cheapest()
    rounding = shelves["rounding"].nearest()
    asked = {
        "least cost": (lambda: milp(**cheapest), REPEATS),
        "rounding": (lambda: milp(**rounding), REPEATS),
        "to a pH": (shelves["to a pH"].to_a_ph(), PH_REPEATS),
    }
    print(f"SciPy {scipy.__version__}; microseconds a problem")
    agrees = table(ours["programmes"],
                   ((name, timed(lambda: milp(**p))) for name, p in programmes()))
    agrees &= table(ours["shelves"], ((name, timed(*asked[name])) for name in asked))
    print("objectives agree" if agrees else "OBJECTIVES DIFFER")
    return 0 if agrees else 1


if __name__ == "__main__":
    sys.exit(main())
