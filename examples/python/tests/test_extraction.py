"""Tannin out of the plant."""

import math
import pickle
import unittest
from array import array

import ferrogall
from ferrogall import Extraction, FerrogallError, Grain, Peleg, Status, Straining, Wash
from workshop import Workshop


class Liquors(unittest.TestCase):
    def setUp(self):
        self.room = Workshop()
        pressed = {"straining": Straining.PRESSED}
        self.washes = [Wash(400.0, 18.0, 24.0, **pressed), Wash(400.0, 80.0, 2.0, **pressed)]

    def drawn(self, **more):
        given = {"washes": self.washes, **more}
        return Extraction(self.room.galls, 50.0, Grain.CRUSHED, **given)

    def test_the_second_wash_has_less_and_shares_add_up(self):
        liquor, (first, second) = self.drawn().run(), self.drawn().strained()
        self.assertLess(second.share.typical, first.share.typical)
        both = first.share.typical + second.share.typical
        self.assertAlmostEqual(both, liquor.share.typical, places=12)
        whole = liquor.share.typical + liquor.marc_share.typical
        self.assertAlmostEqual(whole, 1.0, places=12)
        self.assertTrue(math.isnan(liquor.boiled_off_g.typical))
        self.assertEqual(pickle.loads(pickle.dumps(first)), first)

    def test_rain_takes_boiling_down_concentrates(self):
        rained = self.drawn(rain_hours=72.0, rain_temperature_c=10.0).run()
        self.assertGreater(rained.lost_to_rain_share.typical, 0.0)
        plain, boiled = self.drawn().run(), self.drawn(boil_down_share=0.25).run()
        times = boiled.galloyl_mol_per_l.typical / plain.galloyl_mol_per_l.typical
        self.assertAlmostEqual(times, 4.0, places=9)
        self.assertEqual(boiled.drained_ml, plain.volume_ml)

    def test_grain_and_shape_matter(self):
        quick = {"washes": [Wash(500.0, 18.0, 1.0)]}
        shares = [
            Extraction(self.room.galls, 50.0, grain, **quick).run().share.typical
            for grain in (Grain.POWDER, Grain.CRUSHED, Grain.WHOLE)
        ]
        self.assertEqual(shares, sorted(shares, reverse=True))
        slab = self.drawn(size_mm=3.0, slab=True).time_to(0.9, temperature_c=20.0)
        sphere = self.drawn(size_mm=3.0).time_to(0.9, temperature_c=20.0)
        self.assertGreater(slab.typical, sphere.typical)

    def test_cautions_questions_and_paste(self):
        paste = self.drawn(washes=[Wash(60.0, 95.0, 1.0)])
        text = "\n".join(paste.cautions())
        self.assertIn("paste", text)
        self.assertIn("95 °C", text)
        below = paste.paste_below()
        self.assertTrue(60.0 < below.typical < below.max)
        self.assertGreater(below.typical, paste.paste_below(Straining.PRESSED).typical)
        weighed = paste.paste_below(Straining.WEIGHED, hold_up_g_per_g=3.0)
        self.assertEqual(weighed.min, weighed.max)
        water = self.drawn().water_for(0.7)
        self.assertTrue(water.min < water.typical < water.max)
        self.assertTrue(any("accessible" in line for line in self.drawn().assumed()))

    def test_a_liquor_becomes_a_lot_and_a_soak_an_ingredient(self):
        liquor = self.drawn(boil_down_ml=200.0).to_lot("twice drawn")
        self.assertEqual((liquor.name, liquor.shelf), ("twice drawn", self.room.shelf))
        recipe = self.room.recipe()
        before = recipe.evaluate().galloyl_mol_per_l
        recipe.begin_solution("liquor")
        recipe.add(liquor, mass_g=100.0)
        self.drawn(washes=self.washes[:1]).add_to(recipe, liquid=self.room.water)
        self.assertGreater(recipe.evaluate().galloyl_mol_per_l, before)
        with self.assertRaises(FerrogallError) as caught:
            self.drawn().add_to(recipe, liquid=self.room.water)
        self.assertEqual(caught.exception.status, Status.MORE_THAN_A_SOAK)

    def test_rows_are_single_extractions(self):
        liquid = array("d", [4.0, math.nan, 12.0])
        rows = self.drawn(washes=self.washes[:1]).rows(liquid, 60.0, 3.0)
        self.assertEqual(list(rows.status), [Status.OK, Status.INPUT_NAN, Status.OK])
        self.assertEqual(rows.bad_rows, 1)
        self.assertTrue(math.isnan(rows[1].share))
        self.assertLess(rows[0].share, rows[2].share)
        self.assertGreater(rows[0].galloyl_mol_per_l, rows[2].galloyl_mol_per_l)

    def test_refusals(self):
        for given, status, argument in (
            ({"washes": []}, Status.EMPTY, "washes"),
            ({"size_mm": math.nan}, Status.INPUT_NAN, "size_mm"),
            ({"boil_down_ml": 1.0}, Status.NO_WATER, "boil_down_ml"),
            (
                {"fermentation_days": 5.0, "fermentation_temperature_c": 8.0},
                Status.OUT_OF_RANGE,
                "fermentation_temperature_c",
            ),
        ):
            with self.assertRaises(FerrogallError) as caught:
                self.drawn(**given).run()
            error = caught.exception
            self.assertEqual((error.status, error.argument), (status, argument))
        with self.assertRaises(FerrogallError) as caught:
            self.drawn(washes=self.washes[:1]).water_for(0.999)
        self.assertEqual(caught.exception.status, Status.NEVER_REACHED)
        with self.assertRaises(FerrogallError) as caught:
            Extraction(self.room.tannin, 5.0, Grain.POWDER, self.washes).run()
        self.assertEqual(caught.exception.status, Status.NOT_A_PLANT)
        with self.assertRaises(TypeError):
            self.drawn(rain_hours=3.0).run()


class Curves(unittest.TestCase):
    def test_tea_by_the_bag(self):
        # 997 mg/L of polyphenols in a brew of 9.6 g/L: a survey of brews.
        cup = ferrogall.tea_brew(leaf_g=2.0, minutes=3.0)
        self.assertAlmostEqual(cup.polyphenols_g.typical, 2.0 * 0.997 / 9.6, places=12)
        self.assertTrue(cup.gallic_acid_g.min < cup.gallic_acid_g.typical)

    def test_diffusion(self):
        # Crank's solutions at a Fourier number of 0.1.
        self.assertAlmostEqual(ferrogall.diffused_from_sphere(0.1), 0.770_478_738, places=9)
        self.assertAlmostEqual(ferrogall.diffused_from_slab(0.1), 0.356_823_400_5, places=10)
        bath = ferrogall.diffused_into_bath(0.05, alpha=1.0)
        self.assertAlmostEqual(bath, 0.790_518_7, places=7)

    def test_a_curve_comes_back_from_its_points(self):
        hours = [0.5, 1.0, 4.0, 24.0]
        fit = Peleg.fit(hours, [t / (3.0 + 2.2 * t) for t in hours])
        self.assertAlmostEqual(fit.k1_s / 3600.0, 3.0, places=9)
        value, u = fit.after(8.0)
        self.assertAlmostEqual(value, 8.0 / (3.0 + 2.2 * 8.0), places=9)
        self.assertLess(u, 1e-9)
        self.assertAlmostEqual(fit.hours_to(0.5), 3.0 / 2.2, places=9)
        with self.assertRaises(FerrogallError) as caught:
            Peleg.fit([1.0, 2.0, 3.0], [0.1, 0.3, 0.9])
        self.assertEqual(caught.exception.status, Status.CANNOT_FIT)
        with self.assertRaises(ValueError):
            Peleg.fit([1.0, 2.0], [0.1])


if __name__ == "__main__":
    unittest.main()
