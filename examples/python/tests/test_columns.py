"""Columns of numbers, read where they lie; standard library only."""

import math
import pickle
import unittest
from array import array

from ferrogall import Columns, FerrogallError, Status
from workshop import Workshop

GOOD = [10.0, 15.0, 20.0, 25.0, 30.0]


class Rows(unittest.TestCase):
    def setUp(self):
        self.room = Workshop(price_per_kg=6.0)
        self.plan = Columns([self.room.vitriol, self.room.tannin], water=self.room.water)

    def iron(self, vitriol):
        rows = self.plan.evaluate([vitriol, 25.0], 1000.0)
        self.assertEqual(rows.bad_rows, 0)
        return list(rows.column("iron_g_per_l"))

    def test_a_row_is_the_recipe(self):
        rows = self.plan.evaluate([array("d", GOOD), 25.0], 1000.0)
        for row, vitriol_g in zip(range(len(rows)), GOOD):
            ink = self.room.recipe(vitriol_g).evaluate()
            # The sums have another order: the last digits may differ.
            self.assertAlmostEqual(rows[row].iron_g_per_l, ink.iron_g_per_l, places=12)
            self.assertAlmostEqual(rows[row].mass_g, ink.mass_g, places=9)
        self.assertEqual(rows[-1], rows[4])
        with self.assertRaises(IndexError):
            rows[5]

    def test_every_kind_of_buffer(self):
        expected = self.iron(array("d", GOOD))
        spread = array("d", [x for good in GOOD for x in (math.nan, good, -1.0)])
        self.assertEqual(self.iron(memoryview(spread)[1::3]), expected)
        self.assertEqual(self.iron(memoryview(array("d", GOOD[::-1]))[::-1]), expected)
        raw = bytes(memoryview(array("d", GOOD)))
        self.assertEqual(self.iron(memoryview(raw).cast("d")), expected)
        unaligned = memoryview(bytearray(b"x" + raw))[1:].cast("d")
        self.assertEqual(self.iron(unaligned), expected)

    def test_numbers_stand_for_every_row(self):
        self.assertEqual(len(self.plan.evaluate([20.0, 25])), 1)
        rows = self.plan.evaluate([20.0, 25.0], array("d", [500.0, 1000.0]))
        first, second = rows.column("iron_g_per_l")
        self.assertAlmostEqual(first, 2.0 * second, places=12)

    def test_bad_rows_do_not_stop_the_others(self):
        vitriol = array("d", [20.0, math.nan, -1.0, math.inf, 0.0, 5e4, 20.0])
        tannin = array("d", [25.0, 25.0, 25.0, 25.0, 0.0, 25.0, 25.0])
        make_up = array("d", [1000.0, 1000.0, 1000.0, 1000.0, 0.0, 1000.0, 1000.0])
        rows = self.plan.evaluate([vitriol, tannin], make_up)
        expected = [
            Status.OK,
            Status.INPUT_NAN,
            Status.OUT_OF_RANGE,
            Status.OUT_OF_RANGE,
            Status.EMPTY,
            Status.TOO_MUCH_FOR_VOLUME,
            Status.OK,
        ]
        self.assertEqual(list(rows.status), expected)
        self.assertEqual(rows.bad_rows, 5)
        iron = rows.column("iron_g_per_l")
        for got, status in zip(iron, expected):
            self.assertEqual(math.isnan(got), status != Status.OK)
        self.assertEqual(iron[0], iron[6])

    def test_no_rows(self):
        rows = self.plan.evaluate([array("d"), 25.0], array("d"))
        self.assertEqual((len(rows), rows.bad_rows, list(rows.column("cost"))), (0, 0, []))

    def test_wrong_columns(self):
        for wrong in (
            array("f", GOOD),
            array("q", [1, 2]),
            b"12345678",
            GOOD,
            "text",
            None,
            memoryview(bytes(32)).cast("d", (2, 2)),
        ):
            with self.subTest(repr(wrong)), self.assertRaisesRegex(TypeError, r"mass_g\[0\]"):
                self.plan.evaluate([wrong, 25.0])
        with self.assertRaisesRegex(ValueError, r"\[2, 5\]"):
            self.plan.evaluate([array("d", GOOD), array("d", [1.0, 2.0])])
        with self.assertRaises(FerrogallError) as caught:
            self.plan.evaluate([array("d", GOOD)])
        self.assertEqual(caught.exception.argument, "column_count")
        with self.assertRaises(KeyError):
            self.plan.evaluate([1.0, 1.0]).column("iron")

    def test_wrong_lots(self):
        for lots, status in (
            ([self.room.galls], Status.NEEDS_EXTRACTION),
            ([self.room.vitriol] * 33, Status.TOO_MANY_COLUMNS),
        ):
            with self.assertRaises(FerrogallError) as caught:
                Columns(lots, water=self.room.water)
            self.assertEqual(caught.exception.status, status)

    def test_buffers_are_let_go(self):
        column = array("d", GOOD)
        self.plan.evaluate([column, 25.0])
        with self.assertRaises(TypeError):
            self.plan.evaluate([column, "text"])
        column.append(1.0)  # refused while somebody looks at it
        self.assertEqual(len(column), 6)

    def test_a_plan_outlives_its_shelf(self):
        before = self.iron(array("d", GOOD))
        self.room.shelf.close()
        self.assertEqual(self.iron(array("d", GOOD)), before)

    def test_rows_can_be_sent_to_another_process(self):
        rows = self.plan.evaluate([array("d", GOOD), 25.0])
        again = pickle.loads(pickle.dumps(rows))
        self.assertEqual([again[row] for row in range(5)], [rows[row] for row in range(5)])


if __name__ == "__main__":
    unittest.main()
