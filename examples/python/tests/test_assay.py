"""What was measured, and what is in the bottle."""

import math
import unittest
from array import array

import ferrogall
from ferrogall import (
    Adding,
    Belief,
    DriedTo,
    Dropper,
    Drying,
    FerrogallError,
    Found,
    Phenanthroline,
    Read,
    Sample,
    SpotTest,
    Status,
    StockSalt,
    Titrant,
    Titration,
)

NEUBAUER = "tannin_factor_loewenthal_neubauer"


def titration(**more):
    given = {
        "titrant": Titrant.PERMANGANATE,
        "sample": Sample.SALT,
        "molarity_mol_per_l": (0.005, 0.00002),
        "volume_ml": (21.6, 0.04),
        "aliquot_ml": (25.0, 0.02),
        "flask_ml": (250.0, 0.1),
        "pipette_name": "pipette",
        **more,
    }
    return Titration(**given)


class Iron(unittest.TestCase):
    def test_a_titration(self):
        # 21.6 mL of 5 mmol/L, five iron each, ten times the aliquot.
        iron = titration().iron_mmol()
        self.assertAlmostEqual(iron.value, 5.4, places=12)
        self.assertTrue(iron.low < iron.value < iron.high)
        self.assertEqual(iron.bound, Found.ESTIMATE)
        self.assertTrue(math.isnan(iron.dof))
        self.assertIn("no_blank", iron.notes)
        self.assertIn("caution: ", iron.notes)
        # 55.845 g/mol in 1.53 g; 278.01 g/mol of the 7-hydrate.
        share = titration().iron_share(sample_g=(1.53, 0.004))
        self.assertAlmostEqual(share.value, 5.4e-3 * 55.845 / 1.53, places=6)
        purity = titration().purity(sample_g=(1.53, 0.004), formula="FeSO4.7H2O")
        self.assertAlmostEqual(purity.value, 5.4e-3 * 278.01 / 1.53, places=4)
        strength = titration().iron_mol_per_l(sample_ml=100.0)
        self.assertAlmostEqual(strength.value, 0.054, places=12)

    def test_drops_titres_and_blanks(self):
        drops = titration(volume_ml=None, drops=18)
        weighed = titration(
            volume_ml=None, drops=18, dropper=Dropper(100, (4.31, 0.01), 0.998), dropper_name="mine"
        )
        self.assertLess(weighed.iron_mmol().u, drops.iron_mmol().u)
        titres = titration(volume_ml=None, titres_ml=[21.6, 21.7, 21.5]).iron_mmol()
        self.assertAlmostEqual(titres.value, 5.4, places=12)
        self.assertGreaterEqual(titres.dof, 2.0)
        blank = titration(blank_ml=(0.1, 0.02)).iron_mmol()
        self.assertAlmostEqual(blank.value, 5.375, places=12)

    def test_many_samples(self):
        volumes = array("d", [21.6, -1.0, 20.0])
        rows = titration(volume_ml=None).rows(volumes, 1.53, volume_u_ml=0.04, sample_u_g=0.004)
        self.assertEqual(list(rows.status), [Status.OK, Status.OUT_OF_RANGE, Status.OK])
        alone = titration().iron_share(sample_g=(1.53, 0.004))
        self.assertEqual((rows[0].iron_share, rows[0].iron_share_u), (alone.value, alone.u))
        self.assertTrue(math.isnan(rows[1].iron_mmol))
        without = titration(volume_ml=None).rows(volumes)
        self.assertTrue(math.isnan(without[0].iron_share))

    def test_rust(self):
        # What both rest on cancels: the share is surer than either.
        two, all_iron = titration(volume_ml=(21.6, 0.04)), titration(volume_ml=(22.5, 0.04))
        share = two.oxidised_share(all_iron)
        self.assertAlmostEqual(share.value, 0.04, places=12)

        def seen(absorbance):
            given = {"path_mm": (10.0, 0.05), "cell_name": "cell"}
            return Phenanthroline(Sample.STOCK, (absorbance, 0.003), **given)

        share = seen(0.552).oxidised_share(seen(0.6))
        self.assertAlmostEqual(share.value, 0.08, places=12)
        with self.assertRaises(FerrogallError) as caught:
            seen(0.9).oxidised_share(seen(0.5))
        self.assertEqual(caught.exception.status, Status.CONTRADICTION)
        line = [(0.0, 0.0), (1.0, 0.2), (2.0, 0.4), (3.0, 0.6)]
        by_line = Phenanthroline(
            Sample.STOCK, 0.3, 10.0, aliquot_ml=10.0, flask_ml=100.0, standards=line
        )
        iron = by_line.iron_mol_per_l()
        self.assertAlmostEqual(iron.value, 15e-3 / 55.845, places=9)

    def test_an_ink_is_refused(self):
        for sample in (Sample.FINISHED_INK, Sample.LIQUOR):
            with self.assertRaises(FerrogallError) as caught:
                titration(sample=sample).iron_mmol()
            self.assertEqual(caught.exception.status, Status.NOT_FOR_SAMPLE)
            self.assertIn("tannin", caught.exception.message)
        ink = Phenanthroline(Sample.FINISHED_INK, 0.4, 10.0)
        with self.assertRaises(FerrogallError) as caught:
            ink.iron_mol_per_l()
        self.assertEqual(caught.exception.status, Status.NOT_FOR_SAMPLE)

    def test_a_nail_and_a_stock(self):
        iron = ferrogall.nail_iron_mmol(before_g=(12.4, 0.004), after_g=(9.61, 0.004))
        self.assertAlmostEqual(iron.value, 1e3 * 2.79 * 0.98 / 55.845, places=3)
        pure = ferrogall.nail_iron_mmol(before_g=12.4, after_g=9.61, iron_share=1.0)
        self.assertAlmostEqual(pure.value, 1e3 * 2.79 / 55.845, places=3)
        given = {"density_g_per_cm3": (1.08, 0.0005), "temperature_c": (20.0, 0.5)}
        stock = ferrogall.stock_iron_mol_per_l(StockSalt.SULFATE, **given)
        clean = ferrogall.stock_iron_mol_per_l(StockSalt.SULFATE, clean=True, **given)
        self.assertEqual((stock.bound, clean.bound), (Found.AT_MOST, Found.ESTIMATE))
        self.assertEqual(stock.value, clean.value)

    def test_refusals(self):
        for given, status, argument in (
            ({"volume_ml": (21.6, -1.0)}, Status.OUT_OF_RANGE, "volume_u_ml"),
            ({"molarity_mol_per_l": math.nan}, Status.INPUT_NAN, "molarity_mol_per_l"),
            ({"blank_ml": 30.0}, Status.OUT_OF_RANGE, "blank_ml"),
            ({"titrant": 9}, Status.FOREIGN_VALUE, "titrant"),
        ):
            with self.assertRaises(FerrogallError) as caught:
                titration(**given).iron_mmol()
            error = caught.exception
            self.assertEqual((error.status, error.argument), (status, argument))
        for given in ({"drops": 3}, {"volume_ml": None}, {"flask_ml": None}):
            with self.assertRaises(TypeError):
                titration(**given).iron_mmol()


class Weighings(unittest.TestCase):
    def setUp(self):
        u = ferrogall.reading_u(Read.BALANCE, 0.01)
        self.assertAlmostEqual(u, 0.01 / math.sqrt(12.0), places=15)
        self.pans = Drying((30.0, u), (35.0, u), (33.4, u))

    def test_weathered_vitriol(self):
        oven = ferrogall.vitriol_dried_to(oven_c=105.0)
        self.assertIs(oven, DriedTo.MONOHYDRATE)
        waters = self.pans.vitriol_waters(oven)
        self.assertAlmostEqual(waters.value, (169.92 * 5.0 / 3.4 - 151.9) / 18.015, places=2)
        was = self.pans.weathered(oven)
        self.assertAlmostEqual(sum(was.hydrate_shares), 1.0, places=12)
        self.assertEqual(was.moisture, 0.0)
        # The same iron, whichever way.
        shelf = ferrogall.Shelf()
        lot = shelf.add("iron_ii_sulfate_heptahydrate", hydrate_shares=was.hydrate_shares)
        iron = self.pans.vitriol_iron_share(oven)
        self.assertAlmostEqual(iron.value, 55.845e-3 * lot.contents().iron_ii_mol_per_kg, places=4)

    def test_residue_and_moisture_are_the_two_parts(self):
        residue, moisture = self.pans.residue_share(), self.pans.moisture_share()
        self.assertAlmostEqual(residue.value + moisture.value, 1.0, places=12)
        self.assertEqual(residue.bound, Found.AT_MOST)


class Tannin(unittest.TestCase):
    def test_factors(self):
        factors = ferrogall.tannin_factors()
        self.assertIn(NEUBAUER, [factor.id for factor in factors])
        for index, factor in enumerate(factors):
            self.assertTrue(factor.factor.min <= factor.factor.typical <= factor.factor.max)
            self.assertIn("disturbed by", ferrogall.tannin_factor_source(index))
            tannin = ferrogall.tannin_by_factor(factor.id, 0.3)
            self.assertAlmostEqual(tannin.value, 0.3 * factor.factor.typical, places=12)
        # 10 mL of 0.1 N: 41.57 mg by Neubauer.
        given = {"molarity_mol_per_l": 0.02, "volume_ml": 12.4, "after_hide_ml": 2.4}
        tannin = ferrogall.loewenthal_tannin_g(NEUBAUER, **given)
        self.assertAlmostEqual(tannin.value, 0.04157, places=9)

    def test_density_and_the_plant_behind_it(self):
        liquor = ferrogall.liquor_tannin_share(
            specific_gravity=(1.0201, 0.0003), temperature_c=(15.0, 0.3), reference_c=15.0
        )
        self.assertEqual(liquor.bound, Found.AT_MOST)
        galls = ferrogall.plant_tannin_share(
            liquor_tannin_share=(liquor.value, liquor.u),
            liquor_bound=liquor.bound,
            liquor_g=180.0,
            plant_g=20.0,
            moisture_share=0.12,
            yield_share=(0.8, 0.08),
        )
        expected = liquor.value * 180.0 / 20.0 / 0.88 / 0.8
        self.assertAlmostEqual(galls.value, expected, places=12)
        self.assertEqual(galls.bound, Found.AT_MOST)
        self.assertGreater(galls.high - galls.value, galls.value - galls.low)

    def test_drops_of_iron_narrow_a_belief(self):
        test = SpotTest(
            Adding.IRON, (1.0, 0.05), (0.1, 0.002), 0.35, 0.4, iron_per_galloyl=(0.3, 0.5, 0.8)
        )
        galloyl = test.galloyl_mol_per_l()
        self.assertAlmostEqual(galloyl.low, 0.07, places=12)
        self.assertAlmostEqual(galloyl.high, 0.08, places=12)
        held, tannin = test.plant(
            liquor_ml=180.0, plant_g=20.0, yield_share=(0.8, 0.08), galloyl_mol_per_kg=(5.9, 0.4)
        )
        self.assertAlmostEqual(held.low, 0.07 * 0.18 / 0.02 / 0.8, places=12)
        self.assertAlmostEqual(tannin.low, held.low / 5.9, places=12)
        before = Belief(0.14, 0.5)
        after = ferrogall.belief_update_bracket(before, tannin)
        self.assertLess(after.u_ln, before.u_ln)
        none = SpotTest(Adding.IRON, 1.0, 0.1, 0.0, 0.05).galloyl_mol_per_l()
        self.assertTrue(none.low == 0.0 and math.isnan(none.median))


if __name__ == "__main__":
    unittest.main()
