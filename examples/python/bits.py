"""Prints the bits of twelve figures of each of 1000 recipes; see ../c/bits.c.

The last three figures are of column rows, which are all worked out in one call.
"""

import struct
from array import array
from typing import Iterator, List

from ferrogall import Columns, Lot, Recipe, Shelf, Solver, oxygen_bound


def random_numbers() -> Iterator[float]:
    state = 1
    while True:
        state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
        yield (state >> 11) / 9007199254740992.0


def figures(lots: List[Lot], water: Lot, solver: Solver, drawn: List[float]) -> List[float]:
    """The figures of one recipe and its bottle."""
    *mass_g, volume_ml, fill_ml = drawn
    recipe = Recipe("random")
    recipe.begin_solution("ink")
    for lot, mass in zip(lots, mass_g):
        recipe.add(lot, mass_g=mass)
    recipe.make_up(water, volume_ml=volume_ml)
    ink = recipe.evaluate()
    bound = oxygen_bound(capacity_ml=50.0, fill_ml=fill_ml, iron_ii_mol_per_l=ink.iron_ii_mol_per_l)
    return [
        ink.volume_ml,
        ink.mass_g,
        ink.iron_ii_mol_per_l,
        ink.galloyl_mol_per_l,
        ink.iron_per_galloyl_low,
        ink.iron_per_galloyl_high,
        ink.strong_acid_mol_per_l,
        bound.share_after_filling,
        solver.solve(recipe.totals()).ph,
    ]


def main() -> None:
    shelf = Shelf()
    vitriol = shelf.add("iron_ii_sulfate_heptahydrate")
    tannin = shelf.add("tannic_acid", tannin=(0.88, 0.02))
    gum = shelf.add("gum_arabic")
    water = shelf.add("hard_tap_water")
    lots = [vitriol, tannin, gum]

    random = random_numbers()
    spans = [(1.0, 40.0), (1.0, 40.0), (0.0, 20.0), (300.0, 1500.0), (10.0, 50.0)]
    drawn = [[low + (high - low) * next(random) for low, high in spans] for _ in range(1000)]

    # One after the other in memory, as a table with a row for each recipe.
    table = memoryview(array("d", [number for row in drawn for number in row]))
    columns = [table[place::5] for place in range(4)]
    plan, solver = Columns(lots, water=water), Solver(temperature_c=20.0)
    rows = plan.evaluate(columns[:3], columns[3])
    acid = plan.equilibrium(solver, columns[:3], columns[3])
    assert (rows.bad_rows, acid.bad_rows) == (0, 0)

    for i, numbers in enumerate(drawn):
        row = rows[i]
        every = figures(lots, water, solver, numbers)
        every += [row.make_up_g, row.dry_residue_g_per_l, acid[i].ph]
        print(i, *(struct.pack(">d", figure).hex() for figure in every))


if __name__ == "__main__":
    main()
