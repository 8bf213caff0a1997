#!/usr/bin/env python3
"""Solves the same solutions with a general-purpose geochemical library and with ferrogall.

    python3 benches/reference_speed.py

One command: it makes a virtual environment of its own under target/, installs
the library `phreeqc` there, builds our half (benches/reference_speed.rs) and
prints a table. It needs Python 3.8 or newer with venv, cargo, and the network
the first time.

Both get the same constants, those of set `core` in
tests/data/equilibrium_reference.json, and the same parameters of the
Debye-Hueckel law; 2000 solutions of each of three cases; the same core of the
machine, one after the other, three rounds interleaved, seven repeats each, ours
going over the solutions again until it has run as long as theirs; the best of
each is quoted. A busy machine shifts the ratios all the same: run it on a quiet
one. Exit status 1 when the answers differ, whatever the
times.

What is compared:

cold        2000 solutions whose totals each vary by up to 10 %, none told what
            the last one was. Theirs: whichever is faster of one SOLUTION_SPREAD
            block and 2000 SOLUTION blocks in one call, output off but for pH
            and ionic strength. Ours: Solver::solve. Their time includes reading
            the text, since there is no other way in; ours starts from numbers
            in memory.
warm, fine  a titration: salts and acids added in 2000 steps of 0.005 % of what
            is there. Theirs: one REACTION of 2000 increments, each starting
            from the answer before. Ours: Solver::follow. No text to speak of
            on either side.
warm, wide  the same with steps up and down of up to 10 %, 3.3 % on average.

Their batch reactions also carry a redox potential and the mass of water along,
one or two unknowns more than ours. They stop at their default tolerance, we at
ours, which is narrower.
"""

import json
import os
import platform
import random
import subprocess
import sys
import time
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TARGET = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")).resolve()
HOME = TARGET / "reference-speed"
LIBRARY = "phreeqc"
VERSION = "1.1.1"

SEED = 1894
ROWS = 2000
ROUNDS = 3
REPEATS = 7
PH_AGREES = 1e-6
IONIC_STRENGTH_AGREES = 1e-6  # relative

# Their names of the totals, and our master species.
MASTERS = {"Fe2": "Fe+2", "Fe3": "Fe+3", "S": "SO4-2", "Cl": "Cl-", "Gal": "H3Gal-"}
ELEMENTS = {"Fe2": "Fe_di", "Fe3": "Fe_tri", "S": "S", "Cl": "Cl", "Gal": "Gal"}
# What the warm sequences add: the salts and acids that the totals come from,
# in mol for one kilogram of water. A check holds them to the totals.
ADDED = {
    "I02": {"Fe_diSO4": 0.054, "HCl": 0.036},
    "I05": {"Fe_diSO4": 0.054, "Fe_tri2(SO4)3": 0.003},
    "G06": {"Fe_diSO4": 0.0513, "Fe_tri2(SO4)3": 0.00135, "HCl": 0.036, "H4Gal": 0.020},
}
HELD = {
    "Fe_diSO4": {"Fe2": 1, "S": 1},
    "Fe_tri2(SO4)3": {"Fe3": 2, "S": 3},
    "HCl": {"Cl": 1},
    "H4Gal": {"Gal": 1},
}


def in_environment():
    """Runs this script again in an environment that has the library."""
    folder = "Scripts" if os.name == "nt" else "bin"
    python = HOME / "python" / folder / ("python.exe" if os.name == "nt" else "python3")
    wanted = "from importlib.metadata import version as v; assert v('%s') == '%s'" % (LIBRARY, VERSION)

    def ready():
        return python.exists() and subprocess.run(
            [python, "-c", wanted], stderr=subprocess.DEVNULL).returncode == 0

    if not ready():
        print(f"installing {LIBRARY} {VERSION} …", file=sys.stderr)
        HOME.mkdir(parents=True, exist_ok=True)
        venv.create(HOME / "python", with_pip=True, clear=True)
        subprocess.run([python, "-m", "pip", "install", "--quiet", f"{LIBRARY}=={VERSION}"], check=True)
    inside = dict(os.environ, FERROGALL_REFERENCE_SPEED="1")
    sys.exit(subprocess.run([python, __file__], env=inside).returncode)


def built():
    """Our half, as an executable."""
    command = ["cargo", "bench", "--bench", "reference_speed", "--no-run", "--message-format=json"]
    out = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout
    for line in out.decode().splitlines():
        message = json.loads(line)
        if message.get("executable") and message["target"]["name"] == "reference_speed":
            return message["executable"]
    raise SystemExit("cargo named no executable")


def pinned():
    """One core for this process and the ones it starts; says whether it worked."""
    try:
        os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
        return True
    except (AttributeError, OSError):
        return False


class Theirs:
    QUIET = (
        "PRINT\n-reset false\n-selected_output true\n-warnings 0\n-status false\n"
        "SELECTED_OUTPUT\n-reset false\n-high_precision true\n"
        "-pH true\n-ionic_strength true\n-water true\nEND\n"
    )

    def __init__(self, database):
        from phreeqc import Phreeqc

        self.engine = Phreeqc()
        if self.engine.LoadDatabaseString(database):
            raise SystemExit(self.engine.GetErrorString())

    def best(self, text):
        """Best seconds a row, and the last ROWS rows of pH, I and water."""
        lib, best = self.engine, float("inf")
        for _ in range(REPEATS):
            self.run(self.QUIET)
            start = time.perf_counter()
            self.run(text)
            best = min(best, time.perf_counter() - start)
        last = lib.GetSelectedOutputRowCount()
        columns = [lib.GetSelectedOutputValue(0, j) for j in range(lib.GetSelectedOutputColumnCount())]
        where = [columns.index(name) for name in ("pH", "mu", "mass_H2O")]
        rows = [[lib.GetSelectedOutputValue(i, j) for j in where] for i in range(last - ROWS, last)]
        return best / ROWS, rows

    def run(self, text):
        if self.engine.RunString(text):
            raise SystemExit(self.engine.GetErrorString())


class Case:
    def __init__(self, case, core):
        self.id = case["id"]
        self.totals = case["totals"]
        self.law = [core["DH_A"], core["DH_B"]]
        added = dict.fromkeys(self.totals, 0.0)
        for formula, amount in ADDED[self.id].items():
            for total, count in HELD[formula].items():
                added[total] += count * amount
        assert all(abs(added[t] - m) < 1e-12 for t, m in self.totals.items()), self.id
        draw = random.Random(f"{SEED} {self.id}").random
        self.cold = [[m * (1 + 0.1 * draw()) for m in self.totals.values()] for _ in range(ROWS)]
        self.fine = [0.1 * (i + 1) / ROWS for i in range(ROWS)]
        self.wide = [0.1 * draw() for _ in range(ROWS)]

    def spread(self):
        """All solutions as rows of one table, pH from the balance of charges."""
        names = [ELEMENTS[t] for t in self.totals]
        lines = ["SOLUTION_SPREAD", "-units mmol/kgw", "\t".join(["Number", "pH"] + names),
                 "\tcharge" + "\t" * len(names)]
        for i, row in enumerate(self.cold):
            lines.append(f"{i + 1}\t2\t" + "\t".join(repr(1000 * m) for m in row))
        return "\n".join(lines) + "\nEND\n"

    def blocks(self):
        """All solutions as blocks of their own in one call."""
        names = [ELEMENTS[t] for t in self.totals]
        lines = []
        for i, row in enumerate(self.cold):
            lines += [f"SOLUTION {i + 1}", "-units mmol/kgw", "pH 2 charge"]
            lines += [f"{name} {1000 * m!r}" for name, m in zip(names, row)]
        return "\n".join(lines) + "\nEND\n"

    def reaction(self, extra):
        """The solution of the case, to which shares of its salts are added."""
        lines = ["SOLUTION 1", "-units mmol/kgw", "pH 2 charge"]
        lines += [f"{ELEMENTS[t]} {1000 * m!r}" for t, m in self.totals.items()]
        lines += ["INCREMENTAL_REACTIONS true", "REACTION 1"]
        lines += [f"{formula} {m!r}" for formula, m in ADDED[self.id].items()]
        steps = [repr(b - a) for a, b in zip([0.0] + extra, extra)]
        lines += [" ".join(steps[i:i + 20]) for i in range(0, ROWS, 20)]
        return "\n".join(lines) + "\nEND\n"

    def reacted(self, extra, rows):
        """Totals of a warm sequence, in the water that their rows say is left."""
        return [[m * (1 + x) / water for m in self.totals.values()]
                for x, (_, _, water) in zip(extra, rows)]


FORMS = ("cold", "warm, fine", "warm, wide")


def compare(case, theirs, program):
    """One round: seconds a solution of both and the largest differences."""
    spread, rows = theirs.best(case.spread())
    blocks, _ = theirs.best(case.blocks())
    answers = {"cold": rows}
    times = {"cold": [min(spread, blocks)]}
    # Ours runs as long as theirs did, so that neither finds the quieter moments.
    sequences = {"cold": {"warm": False, "totals": case.cold, "seconds": ROWS * times["cold"][0]}}
    for form, extra in (("warm, fine", case.fine), ("warm, wide", case.wide)):
        seconds, answers[form] = theirs.best(case.reaction(extra))
        times[form] = [seconds]
        totals = case.reacted(extra, answers[form])
        sequences[form] = {"warm": True, "totals": totals, "seconds": ROWS * seconds}

    given, got = HOME / "solutions.json", HOME / "answers.json"
    masters = [MASTERS[t] for t in case.totals]
    given.write_text(json.dumps({"debye_huckel": case.law, "masters": masters, "sequences": sequences}))
    subprocess.run([program, given, got], check=True)
    ours = json.loads(got.read_text())

    worst = {}
    for form in FORMS:
        times[form].append(1e-9 * ours[form]["ns"])
        pairs = list(zip(answers[form], ours[form]["ph"], ours[form]["ionic_strength"]))
        assert len(pairs) == ROWS
        worst[form] = (max(abs(a[0] - ph) for a, ph, _ in pairs),
                       max(abs(i / a[1] - 1) for a, _, i in pairs))
    return times, worst, "table" if spread <= blocks else "blocks"


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
    file = json.loads((ROOT / "tests/data/equilibrium_reference.json").read_text())
    theirs = Theirs(file["sets"]["core"]["phreeqc_database"])
    cases = [Case(c, c["results"]["core"]) for c in file["cases"] if c["id"] in ADDED]

    best, worst, faster = {}, {}, {}
    for number in range(ROUNDS):
        print(f"round {number + 1} of {ROUNDS} …", file=sys.stderr)
        for case in cases:
            times, differences, form_of_text = compare(case, theirs, program)
            for form in FORMS:
                key = case.id, form
                pair = best.get(key, times[form])
                best[key] = [min(a, b) for a, b in zip(pair, times[form])]
                if form == "cold" and times[form][0] <= pair[0]:
                    faster[case.id] = form_of_text
                pair = worst.get(key, (0.0, 0.0))
                # A number that is none must not pass for small.
                worst[key] = [b if not b <= a else a for a, b in zip(pair, differences[form])]

    print(f"µs a solution, best of {ROUNDS} × {REPEATS} runs of {ROWS}; largest differences of the answers\n")
    print("case  form         theirs    ours   ratio    |ΔpH|    |ΔI|/I")
    agree = True
    for (case, form), (them, us) in best.items():
        ph, strength = worst[case, form]
        good = ph <= PH_AGREES and strength <= IONIC_STRENGTH_AGREES
        agree = agree and good
        print(f"{case:<6}{form:<11}{1e6 * them:>8.2f}{1e6 * us:>8.3f}{them / us:>8.1f}"
              f"{ph:>9.0e}{strength:>10.0e}{'' if good else '   DIFFERENT'}")

    from importlib.metadata import version

    rustc = subprocess.run(["rustc", "--version"], stdout=subprocess.PIPE, check=False).stdout.decode().split()
    forms = ", ".join(f"{case} as {form}" for case, form in sorted(faster.items()))
    print(f"\ntheir faster cold form: {forms}")
    print(f"{processor()}, {os.cpu_count()} cores, {'one used' if on_one_core else 'not pinned to one'}")
    print(f"{LIBRARY} {version(LIBRARY)} (engine {theirs.engine.GetVersionString()}), "
          f"Python {platform.python_version()}, rustc {' '.join(rustc[1:2])}, {platform.system()}")
    if not agree:
        print(f"the answers differ by more than {PH_AGREES:g} of pH or {IONIC_STRENGTH_AGREES:g} of I", file=sys.stderr)
    return 0 if agree else 1


if __name__ == "__main__":
    if os.environ.get("FERROGALL_REFERENCE_SPEED"):
        sys.exit(main())
    in_environment()
