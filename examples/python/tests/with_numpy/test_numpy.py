"""NumPy arrays as columns, without copies."""

import math
import unittest

import numpy

from ferrogall import (
    Columns,
    Keeping,
    Measurand,
    Recipe,
    Shelf,
    Status,
    StoredInk,
    Study,
    Varied,
    forecast_curve,
    forecast_rows,
)


class Arrays(unittest.TestCase):
    def setUp(self):
        shelf = Shelf()
        lots = [shelf.add("iron_ii_sulfate_heptahydrate"), shelf.add("tannic_acid")]
        self.plan = Columns(lots, water=shelf.add("distilled_water"))
        self.vitriol = numpy.linspace(1.0, 40.0, 500)
        self.expected = self.iron(self.vitriol)

    def iron(self, vitriol):
        rows = self.plan.evaluate([vitriol, 25.0], 1000.0)
        self.assertEqual(rows.bad_rows, 0)
        return numpy.asarray(rows.column("iron_g_per_l"))

    def same(self, vitriol):
        numpy.testing.assert_array_equal(self.iron(vitriol), self.expected)

    def test_strides_of_every_kind(self):
        table = numpy.full((500, 3), -1.0)
        table[:, 1] = self.vitriol
        self.same(table[:, 1])
        self.same(numpy.asfortranarray(table)[:, 1])
        self.same(self.vitriol[::-1].copy()[::-1])
        record = numpy.zeros(500, dtype=[("flag", "u1"), ("vitriol_g", "f8")])
        record["vitriol_g"] = self.vitriol
        self.assertFalse(record["vitriol_g"].flags.aligned)
        self.same(record["vitriol_g"])
        frozen = self.vitriol.copy()
        frozen.flags.writeable = False
        self.same(frozen)
        self.same(memoryview(self.vitriol))

    def test_a_broadcast_number_has_stride_nought(self):
        ones = numpy.broadcast_to(numpy.float64(20.0), 7)
        self.assertEqual(ones.strides, (0,))
        self.assertEqual(len(set(self.iron(ones).tolist())), 1)
        self.assertEqual(len(self.plan.evaluate([numpy.float64(20.0), 25.0])), 1)

    def test_a_table_of_rows_is_given_transposed(self):
        table = numpy.column_stack([self.vitriol, numpy.full(500, 25.0)])
        rows = self.plan.evaluate(table.T, 1000.0)
        numpy.testing.assert_array_equal(rows.column("iron_g_per_l"), self.expected)

    def test_results_are_views(self):
        self.vitriol[3] = math.nan
        rows = self.plan.evaluate([self.vitriol, 25.0], 1000.0)
        view = rows.to_numpy()
        self.assertEqual(view.dtype.names[0], "volume_ml")
        self.assertEqual(view["mass_g"][5], rows[5].mass_g)
        self.assertTrue(numpy.isnan(view["mass_g"][3]))
        status = numpy.asarray(rows.status)
        self.assertEqual(numpy.flatnonzero(status != Status.OK).tolist(), [3])
        column = numpy.asarray(rows.column("mass_g"))
        self.assertTrue(numpy.shares_memory(view, column))

    def test_other_numbers_are_refused(self):
        swapped = self.vitriol.astype(self.vitriol.dtype.newbyteorder())
        for wrong in (self.vitriol.astype("f4"), numpy.arange(5), swapped, numpy.ones((2, 2))):
            with self.assertRaisesRegex(TypeError, "float64"):
                self.plan.evaluate([wrong, 25.0])

    def test_forecasts_over_columns(self):
        ink = StoredInk(iron_ii_mol_per_l=0.054, galloyl_mol_per_l=0.05, ph=2.2)
        bottle = Keeping(capacity_ml=60.0, fill_ml=50.0, kept_days=30.0)
        table = numpy.zeros(20, dtype=[("flag", "u1"), ("fill_ml", "f8")])
        table["fill_ml"] = numpy.linspace(50.0, 60.0, 20)
        rows = forecast_rows(ink, bottle, {Varied.FILL: table["fill_ml"]}).to_numpy()
        self.assertTrue(numpy.all(numpy.diff(rows["bound_share"]) < 0.0))  # less air above it
        days = numpy.arange(0.0, 31.0, 10.0)
        lost = [point.typical.lost_share for point in forecast_curve(ink, bottle, days, draws=1)]
        self.assertTrue(numpy.all(numpy.diff(lost) > 0.0))

    def test_draws_are_views(self):
        shelf = Shelf()
        recipe = Recipe("ink")
        recipe.begin_solution("jug")
        recipe.add(shelf.add("tannic_acid"), mass_g=5.0)
        recipe.add(shelf.add("iron_ii_sulfate_heptahydrate"), mass_g=6.0)
        recipe.make_up(shelf.add("distilled_water"), volume_ml=300.0)
        ratio, iron = Measurand.IRON_PER_GALLOYL, Measurand.IRON_G_PER_L
        drawn = Study(recipe).draws([ratio, iron], draws=1000)
        table = drawn.to_numpy()
        self.assertEqual(table.dtype.names, ("iron_per_galloyl", "iron_g_per_l"))
        self.assertEqual(len(table), 1000)
        column = numpy.asarray(drawn.column(iron))
        numpy.testing.assert_array_equal(table["iron_g_per_l"], column)
        self.assertTrue(numpy.shares_memory(table, column))
        # One salt in both: they rise and fall together.
        self.assertGreater(numpy.corrcoef(table["iron_per_galloyl"], column)[0, 1], 0.0)


if __name__ == "__main__":
    unittest.main()
