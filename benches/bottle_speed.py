#!/usr/bin/env python3
"""Solves the same bottles with SciPy's stiff solvers and with ferrogall.

    python3 benches/bottle_speed.py

It needs cargo, and a Python that has SciPy and NumPy:

    python3 -m venv target/scipy && target/scipy/bin/pip install scipy
    target/scipy/bin/python benches/bottle_speed.py

It builds our half (benches/bottle_speed.rs) and prints a table. Both solve the
bottles of benches/bottle_cases.json, on the same core, one after the other,
three rounds interleaved; ours repeats each bottle for as long as the quickest
of theirs took. The best of each is quoted. Exit status 1 when the amounts
differ, whatever the times.

Theirs: solve_ivp with Radau, BDF and LSODA, relative tolerance 1e-8, absolute
a ten-thousandth of that of the most an amount can come to (as ours counts
errors), the analytic Jacobian, the same output times, begun anew at each
opening. Ours: Course::walk at its default tolerance, 1e-8, to which the ratios
are, and at 1e-7, nearer to what BDF and LSODA err by at 1e-8. Theirs are plain
Python over floats, which is quicker than arrays for nine amounts; a compiled
function would speed up LSODA, whose own core is compiled. The differences are
of the most of each amount, from the Radau of SciPy at 1e-12.
"""

import json
import os
import platform
import subprocess
import sys
import time
from pathlib import Path

try:
    import numpy as np
    import scipy
    from scipy.integrate import solve_ivp
except ImportError:
    raise SystemExit(__doc__)

ROOT = Path(__file__).resolve().parent.parent
TARGET = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")).resolve()
METHODS = ("Radau", "BDF", "LSODA")
RTOL = 1e-8
NARROW = 1e-12
ROUNDS = 3
AGREES = 1e-6
DAY = 86400.0
RT = 8.31446261815324 / 101.325 * 298.15  # L atm/mol


def built():
    """Our half, as an executable."""
    command = ["cargo", "bench", "--bench", "bottle_speed", "--no-run", "--message-format=json"]
    out = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout
    for line in out.decode().splitlines():
        message = json.loads(line)
        if message.get("executable") and message["target"]["name"] == "bottle_speed":
            return message["executable"]
    raise SystemExit("cargo named no executable")


def pinned():
    """One core for this process and the ones it starts; says whether it worked."""
    try:
        os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
        return True
    except (AttributeError, OSError):
        return False


def equations(b):
    """Rates and Jacobian of a bottle with gas in it."""
    v, k1, k2, nu, k_red, k_sed, k_a, s_a = (
        b[n] for n in ("liquid", "k1", "k2", "nu", "k_red", "k_sed", "k_a", "s_a"))
    transfer, g, henry, p_amb, soluble, phi = (
        b[n] for n in ("transfer", "g", "henry", "p_amb", "soluble", "phi"))
    per_mol = RT / b["gas"]
    missing = (4.0 - nu) / nu

    def rates(_, y):
        f2, f3, _, ol, og, r, a, _, _ = y.tolist()
        c2, c3, co = f2 / v, f3 / v, ol / v
        ox = v * (k1 + k2 * c2) * c2 * co
        red = k_red * c3 * r
        sed = v * k_sed * (c3 - soluble) if c3 > soluble else 0.0
        scav = k_a * a * co
        p = og * per_mol
        j = transfer * (henry * p - co)
        leak = g * (p_amb - p)
        phenol = phi * missing if r > 0.0 else 0.0
        return (red - ox, ox - red - sed, sed, j - ox / nu - s_a * scav, leak - j,
                -red - phenol * ox, -scav, (missing - phenol) * ox, leak)

    def jacobian(_, y):
        f2, f3, _, ol, _, r, a, _, _ = y.tolist()
        c2 = f2 / v
        iron, oxygen = (k1 + 2.0 * k2 * c2) * ol / v, (k1 + k2 * c2) * c2
        phenol = phi * missing if r > 0.0 else 0.0
        other = missing - phenol
        red_iron, red_phenol = k_red * r / v, k_red * f3 / v
        sed = k_sed if f3 / v > soluble else 0.0
        scav_self, scav_oxygen = k_a * ol / v, k_a * a / v
        back, leak = transfer * henry * per_mol, g * per_mol
        out = transfer / v
        return np.array((
            (-iron, red_iron, 0, -oxygen, 0, red_phenol, 0, 0, 0),
            (iron, -red_iron - sed, 0, oxygen, 0, -red_phenol, 0, 0, 0),
            (0, sed, 0, 0, 0, 0, 0, 0, 0),
            (-iron / nu, 0, 0, -oxygen / nu - s_a * scav_oxygen - out, back, 0, -s_a * scav_self, 0, 0),
            (0, 0, 0, out, -back - leak, 0, 0, 0, 0),
            (-phenol * iron, -red_iron, 0, -phenol * oxygen, 0, -red_phenol, 0, 0, 0),
            (0, 0, 0, -scav_oxygen, 0, 0, -scav_self, 0, 0),
            (other * iron, 0, 0, other * oxygen, 0, 0, 0, 0, 0),
            (0, 0, 0, 0, -leak, 0, 0, 0, 0),
        ))

    return rates, jacobian


def opened(b, y, opening):
    """Poured, exchanged, shaken."""
    pour, exchange = opening["pour"], opening["exchange"]
    y = y.copy()
    y[[0, 1, 2, 3, 5, 6]] *= (b["liquid"] - pour) / b["liquid"]
    b["liquid"] -= pour
    b["gas"] += pour
    drawn = b["p_amb"] * pour / RT
    gain = exchange * (b["p_amb"] * b["gas"] / RT - y[4] - drawn) + drawn
    y[4] += gain
    y[8] += gain
    both, per_gas = y[3] + y[4], b["henry"] * RT * b["liquid"] / b["gas"]
    y[4] = both / (1.0 + per_gas)
    y[3] = both - y[4]
    return y


def theirs(case, method, rtol):
    """Amounts at the outputs, and the number of evaluations."""
    b, y, now = dict(case["bottle"]), np.array(case["start"]), 0.0
    opening = case.get("openings", {"count": 0})
    at = [opening["every_days"] * DAY * (i + 1) for i in range(opening["count"])]
    count = case["outputs"]
    outputs = [case["days"] * DAY * (i + 1) / count for i in range(count)]
    iron, oxygen = y[0] + y[1], y[3] + y[4] + b["p_amb"] * b["liquid"] / RT
    most = np.array((iron, iron, iron, y[3], oxygen, max(y[5], iron), max(y[6], oxygen), iron, oxygen))
    rows, evaluations = [], 0
    for end in at + [outputs[-1]]:
        inside = [t for t in outputs if now < t < end]
        rates, jacobian = equations(b)
        solution = solve_ivp(rates, (now, end), y, method, t_eval=inside + [end], jac=jacobian,
                             rtol=rtol, atol=1e-4 * rtol * most)
        if not solution.success:
            raise SystemExit(f"{case['name']}, {method}: {solution.message}")
        evaluations += solution.nfev
        rows += list(solution.y.T[:-1])
        y, now = solution.y[:, -1], end
        if now < outputs[-1]:
            y = opened(b, y, opening)
    return np.array(rows + [y]), evaluations


def difference(a, b):
    """Largest, of the most of each amount."""
    most = np.maximum(np.abs(b).max(axis=0), 1e-8)
    off = (np.abs(a - b) / most).max()
    # A number that is none must not pass for small.
    return off if off == off else float("inf")


def processor():
    try:
        for line in Path("/proc/cpuinfo").read_text().splitlines():
            if line.startswith("model name"):
                return line.split(":", 1)[1].strip()
    except OSError:
        pass
    return platform.processor() or platform.machine()


def main():
    program = built()
    on_one_core = pinned()
    cases = json.loads((ROOT / "benches/bottle_cases.json").read_text())["cases"]
    got = TARGET / "bottle-speed.json"
    exact = {c["name"]: theirs(c, "Radau", NARROW)[0] for c in cases}
    best, other, ours = {}, {}, {}
    for number in range(ROUNDS):
        print(f"round {number + 1} of {ROUNDS} …", file=sys.stderr)
        quickest = float("inf")
        for case in cases:
            for method in METHODS:
                start = time.perf_counter()
                rows, evaluations = theirs(case, method, RTOL)
                seconds = time.perf_counter() - start
                quickest = min(quickest, seconds)
                key = case["name"], method
                best[key] = min(seconds, best.get(key, seconds))
                other[key] = evaluations, difference(rows, exact[case["name"]])
        subprocess.run([program, got, repr(quickest)], check=True)
        for name, answers in json.loads(got.read_text()).items():
            for answer, before in zip(answers, ours.get(name, answers)):
                answer["seconds"] = min(answer["seconds"], before["seconds"])
            ours[name] = answers

    print(f"ms a bottle, best of {ROUNDS}; differences of the most of each amount\n")
    print(f"{'case':<24}{'solver':<12}{'ms':>10}{'ratio':>8}{'evaluations':>13}{'differs':>9}")
    agree = True
    for case in cases:
        name = case["name"]
        for mine in ours[name]:
            off = difference(np.array(mine["amounts"]), exact[name])
            agree = agree and off <= AGREES
            solver = f"ours {mine['tolerance']:.0e}"
            ratio = mine["seconds"] / ours[name][0]["seconds"]
            print(f"{name if mine is ours[name][0] else '':<24}{solver:<12}{1e3 * mine['seconds']:>10.4f}"
                  f"{ratio:>8.2f}{mine['evaluations']:>13}{off:>9.0e}{'' if off <= AGREES else '   DIFFERENT'}")
        for method in METHODS:
            seconds, (evaluations, off) = best[name, method], other[name, method]
            ratio = seconds / ours[name][0]["seconds"]
            print(f"{'':<24}{method:<12}{1e3 * seconds:>10.1f}{ratio:>8.0f}{evaluations:>13}{off:>9.0e}")

    rustc = subprocess.run(["rustc", "--version"], stdout=subprocess.PIPE, check=False).stdout.decode().split()
    print(f"\n{processor()}, {os.cpu_count()} cores, {'one used' if on_one_core else 'not pinned to one'}")
    print(f"SciPy {scipy.__version__}, NumPy {np.__version__}, Python {platform.python_version()}, "
          f"rustc {' '.join(rustc[1:2])}, {platform.system()}")
    if not agree:
        print(f"the amounts differ by more than {AGREES:g} of the most of each", file=sys.stderr)
    return 0 if agree else 1


if __name__ == "__main__":
    sys.exit(main())
