"""Inks from a cupboard over NumPy arrays."""

import unittest

import numpy

from ferrogall import Cupboard, Figure, Shelf, Wanted


class Arrays(unittest.TestCase):
    def test_columns_in_and_out(self):
        shelf = Shelf()
        vitriol = shelf.add("iron_ii_sulfate_heptahydrate", price_per_kg=20.0)
        tannin = shelf.add("tannic_acid", price_per_kg=100.0)
        cupboard = Cupboard(shelf.add("distilled_water"), [vitriol, tannin])
        table = numpy.zeros(30, dtype=[("flag", "u1"), ("iron", "f8")])
        table["iron"] = numpy.linspace(1.0, 5.0, 30)
        wanted = Wanted(250.0, iron_ii_per_galloyl=0.6)
        rows = cupboard.rows(wanted, {Figure.IRON: table["iron"]})
        mass = numpy.asarray(rows.mass_g(vitriol))
        # Proportional to the iron; the search is held to 1e-9.
        numpy.testing.assert_allclose(mass / table["iron"], mass[0], rtol=1e-8)
        view = rows.to_numpy()
        self.assertTrue(numpy.all(numpy.diff(view["cost"]) > 0.0))
        self.assertTrue(numpy.all(view["missed"] == 0.0))


if __name__ == "__main__":
    unittest.main()
