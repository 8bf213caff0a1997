"""Recipes in old units."""

import math
import unittest

from ferrogall import FerrogallError, Status, history
from ferrogall.history import OldLine, OldRecipe, Setting
from ferrogall.olden import Book, Ending, Figure, Goods, QuantityKind, Role, Use
from workshop import Workshop

PARISH = Setting("england", 1740)


class Units(unittest.TestCase):
    def test_definitions(self):
        self.assertGreaterEqual(len(history.units()), 159)
        pound = history.unit("en_av_lb")
        self.assertAlmostEqual(pound.metric_value, 453.59237, places=9)
        self.assertEqual(pound.kind, QuantityKind.MASS)
        self.assertIn("NIST", history.unit_source("en_av_lb"))
        with self.assertRaises(FerrogallError) as caught:
            history.unit("furlong")
        self.assertEqual(caught.exception.status, Status.UNKNOWN_NAME)

    def test_words_by_book_year_and_goods(self):
        def first(word, setting, **more):
            return history.word_candidates(word, setting, **more)[0].unit

        self.assertEqual(first("pint", Setting("england", 1825)), "en_wine_pt")
        self.assertEqual(first("pint", Setting("england", 1826)), "uk_pt")
        self.assertEqual(first("pint", PARISH, goods=Goods.BEER), "en_ale_pt")
        druggist = Setting("england", 1740, Book.APOTHECARY)
        self.assertEqual(first("pound", druggist), "en_ap_lb")
        lost = history.word_candidates("fluid ounce", Setting("paris", 1755))
        self.assertEqual({one.standing for one in lost}, {Use.OTHER_PLACE})

    def test_amounts(self):
        narrow = history.old_amount("3 or 4 ounces", Setting("england", 1740, Book.TRADE))
        wide = history.old_amount("3 or 4 ounces")
        self.assertLess(wide.metric.min, narrow.metric.min + 1e-9)
        self.assertGreater(wide.metric.max, narrow.metric.max)
        self.assertAlmostEqual(narrow.metric.typical, 3.5 * 28.349523125, places=9)
        with self.assertRaises(FerrogallError) as caught:
            history.old_amount("a handful")
        self.assertEqual(caught.exception.status, Status.UNKNOWN_NAME)
        with self.assertRaises(FerrogallError) as caught:
            history.old_amount("pounds")
        self.assertEqual(caught.exception.status, Status.BAD_AMOUNT)

    def test_eighty_grams_are_no_three_ounces(self):
        said = history.echo("en_av_oz", 80.0)
        self.assertAlmostEqual(said.units, 2.822, places=3)
        self.assertEqual(said.nearest, 3.0)
        self.assertAlmostEqual(said.off, 3 * 28.349523125 / 80.0 - 1.0, places=12)


class Recipes(unittest.TestCase):
    def setUp(self):
        self.room = Workshop()

    def receipt(self, **more):
        lines = [
            OldLine(self.room.galls, Role.GALLS, "1/2 pound"),
            OldLine(self.room.vitriol, Role.IRON_SALT, "3 or 4 ounces"),
            OldLine(self.room.water, Role.LIQUID, "6 pints"),
        ]
        return OldRecipe("a receipt", PARISH, lines, **more)

    def test_an_old_recipe_becomes_an_ordinary_one(self):
        figures, recipe = self.receipt(ending=Ending.BOILED_TO, ending_share=0.5).read()
        ink = recipe.evaluate()
        self.assertAlmostEqual(ink.volume_ml, figures.final_volume_ml.typical, places=6)
        # Half a pound to 3 1/2 ounces.
        self.assertAlmostEqual(figures.galls_per_vitriol, 8.0 / 3.5, places=12)
        self.assertTrue(math.isnan(figures.gum_g_per_l))
        share = history.historic_percentile(Figure.IRON_G_PER_L, figures.iron_g_per_l)
        self.assertTrue(50.0 < share < 100.0)

    def test_doubts_and_what_would_be_meant(self):
        old = self.receipt(ending=Ending.BOILED_UNCLEAR, ending_share=0.75)
        reading = old.reading()
        kinds = [doubt["kind"] for doubt in reading["doubts"]]
        self.assertIn("unclear_boil_down", kinds)
        self.assertIn("ambiguous_unit", kinds)
        by = old.meant(kinds.index("unclear_boil_down"))
        ml = by.evaluate().volume_ml
        self.assertAlmostEqual(ml / reading["final_volume_ml"]["typical"], 1 / 3, places=9)
        self.assertEqual(reading["lines"][2]["candidates"][0]["units"][0]["unit"], "en_wine_pt")

    def test_years_that_do_not_fit(self):
        for years in (10**12, (1740, 2**32 + 1740), -(2**31) - 1):
            with self.assertRaises(FerrogallError) as refused:
                history.word_candidates("pound", Setting("england", years))
            self.assertIs(refused.exception.status, Status.OUT_OF_RANGE)

    def test_without_liquid_there_is_no_recipe(self):
        old = self.receipt()
        dry = OldRecipe("dry", PARISH, old.lines[:2])
        figures, recipe = dry.read()
        self.assertIsNone(recipe)
        self.assertTrue(math.isnan(figures.final_volume_ml.typical))
        with self.assertRaises(TypeError):
            OldRecipe("none", PARISH, []).read()

    def test_historic_set(self):
        whole = history.historic_quantiles(Figure.GALLS_PER_VITRIOL)
        self.assertEqual(whole.median, 2.0)
        french = history.historic_quantiles(Figure.GALLS_PER_VITRIOL, place="france")
        self.assertLess(french.count, whole.count)
        nobody = history.historic_quantiles(Figure.GALLS_PER_VITRIOL, place="russia")
        self.assertEqual(nobody.count, 0)
        self.assertTrue(math.isnan(nobody.median))


if __name__ == "__main__":
    unittest.main()
