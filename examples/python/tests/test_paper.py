"""Ink on paper."""

import math
import unittest

import ferrogall
from ferrogall import Assisted, FerrogallError, Status, Writing
from workshop import Workshop


class Lines(unittest.TestCase):
    def setUp(self):
        self.recipe = Workshop().recipe()

    def test_chalk_makes_a_line_darken_sooner(self):
        copy = ferrogall.darkening(self.recipe, Writing("copy_paper"))
        rag = ferrogall.darkening(self.recipe, Writing("cotton_rag"))
        self.assertEqual(copy.ph_ink, rag.ph_ink)
        self.assertGreater(copy.ph_line.typical, rag.ph_line.typical)
        self.assertLess(copy.to_half_days.typical, rag.to_half_days.typical)
        for span in (copy.ph_line, copy.to_tenth_days, copy.drying_days):
            self.assertTrue(span.min <= span.typical <= span.max)
        self.assertIn("cotton_rag", ferrogall.papers())

    def test_a_curve_rises_and_goes_through_the_half(self):
        line = Writing("copy_paper", film_um=10.0, assisted=Assisted(0.02, 5.0))
        half = ferrogall.darkening(self.recipe, line).to_half_days.typical
        start, middle, end = ferrogall.darkening_curve(self.recipe, line, [0.0, half, 300.0])
        self.assertEqual(start.typical, 0.0)
        self.assertAlmostEqual(middle.typical, 0.5, places=3)
        self.assertTrue(middle.min < middle.typical < end.typical)

    def test_refusals(self):
        for line, status, argument in (
            (Writing("papyrus"), Status.UNKNOWN_NAME, "paper"),
            (Writing("copy_paper", film_um=math.nan), Status.INPUT_NAN, "film_um"),
            (Writing("copy_paper", humidity_share=1.0), Status.OUT_OF_RANGE, "humidity_share"),
        ):
            with self.assertRaises(FerrogallError) as caught:
                ferrogall.darkening(self.recipe, line)
            self.assertEqual(
                (caught.exception.status, caught.exception.argument), (status, argument)
            )
        with self.assertRaises(FerrogallError) as caught:
            ferrogall.darkening_curve(self.recipe, Writing("copy_paper"), [2.0, 1.0])
        self.assertEqual(caught.exception.status, Status.OUT_OF_ORDER)


if __name__ == "__main__":
    unittest.main()
