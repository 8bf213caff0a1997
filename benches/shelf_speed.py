#!/usr/bin/env python3
"""Solves the same programmes with SciPy (HiGHS) and with ferrogall.

    python3 benches/shelf_speed.py

It needs cargo, and a Python that has SciPy and NumPy:

    python3 -m venv target/scipy && target/scipy/bin/pip install scipy
    target/scipy/bin/python benches/shelf_speed.py

It builds our half (benches/shelf_speed.rs) and prints a table. Both solve the
problems of tests/data/inverse_problems.json that are programmes, on the same
core, one after the other; the best of five rounds is quoted. Exit status 1
when the objectives differ, whatever the times.

Theirs: `milp`, which hands all of them to HiGHS; the matrices are made
beforehand. Ours: `Program::minimise`, the programme made beforehand, which
also settles ties and holds the answer against every limit; HiGHS does not
settle ties. Theirs includes what Python takes to hand a problem over.
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
    from scipy.optimize import Bounds, LinearConstraint, milp
except ImportError:
    raise SystemExit(__doc__)

ROOT = Path(__file__).resolve().parent.parent
TARGET = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")).resolve()
ROUNDS = 5
REPEATS = 200


def built():
    """Our half, as an executable."""
    command = ["cargo", "bench", "--bench", "shelf_speed", "--no-run", "--message-format=json"]
    out = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout
    for line in out.decode().splitlines():
        message = json.loads(line)
        if message.get("executable") and message["target"]["name"] == "shelf_speed":
            return message["executable"]
    raise SystemExit("cargo named no executable")


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
        ends = p.get("bounds", [[0, None]] * len(p["c"]))
        low = [0 if b[0] is None else b[0] for b in ends]
        high = [np.inf if b[1] is None else b[1] for b in ends]
        yield p["id"], {
            "c": np.array(p["c"]),
            "constraints": limits,
            "bounds": Bounds(low, high),
            "integrality": p.get("integrality", np.zeros(len(p["c"]))),
        }


def timed(problem):
    best = float("inf")
    for _ in range(ROUNDS):
        start = time.perf_counter()
        for _ in range(REPEATS):
            answer = milp(**problem)
        best = min(best, (time.perf_counter() - start) / REPEATS)
    return best, answer.fun


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
    print(f"SciPy {scipy.__version__}; microseconds a problem")
    print(f"{'problem':8} {'theirs':>9} {'ours':>9} {'ratio':>7}")
    agrees = True
    for name, problem in programmes():
        seconds, objective = timed(problem)
        mine = ours[name]
        agrees &= abs(mine["objective"] - objective) <= 1e-8 * (1 + abs(objective))
        print(f"{name:8} {seconds * 1e6:9.1f} {mine['seconds'] * 1e6:9.1f} "
              f"{seconds / mine['seconds']:7.1f}")
    print("objectives agree to 1e-8" if agrees else "OBJECTIVES DIFFER")
    return 0 if agrees else 1


if __name__ == "__main__":
    sys.exit(main())
