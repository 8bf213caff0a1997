"""What can be made from the lots there are."""

import math
import pickle
import unittest
from array import array

from ferrogall import (
    Cupboard,
    FerrogallError,
    Figure,
    Kit,
    Objective,
    Recipe,
    Shelf,
    Status,
    Store,
    Wanted,
)

ONE = "one_iron_per_galloyl"
INK = Wanted(
    500.0,
    iron_g_per_l=(3.0, 4.0),
    iron_ii_per_galloyl=(0.55, 0.62),
    gum_g_per_l=10.0,
    dye_g_per_l=(3.0, None),
)


class Cupboards(unittest.TestCase):
    def setUp(self):
        self.shelf = Shelf()
        add = self.shelf.add
        self.vitriol = add(
            "iron_ii_sulfate_heptahydrate",
            name="vitriol",
            purity=(1.0, 0.0),
            oxidised=(0.0, 0.0),
            price_per_kg=22.0,
        )
        self.tannin = add("tannic_acid", name="tannin", price_per_kg=104.0)
        self.galls = add("aleppo_galls", name="galls", price_per_kg=9.0)
        self.gum = add("gum_arabic", name="gum")
        self.blue = add("soluble_blue", name="blue", price_per_kg=640.0)
        self.water = add("distilled_water", name="water")
        self.stores = [
            Store(self.vitriol, on_hand_g=12.0),
            Store(self.tannin, on_hand_g=30.0, pack_g=250.0),
            Store(self.galls, on_hand_g=80.0),
            self.gum,
            Store(self.blue, on_hand_g=9.0),
        ]
        self.cupboard = Cupboard(self.water, self.stores)

    def refused(self, status, argument, call, *given, **named):
        with self.assertRaises(FerrogallError) as caught:
            call(*given, **named)
        error = caught.exception
        self.assertEqual((error.status, error.argument), (status, argument))

    def test_the_best_is_what_the_recipe_holds(self):
        with self.cupboard.make(INK) as blend:
            made, taken = blend.summary(), {one.name: one for one in blend.taken()}
            figures = {one.wanted: one for one in blend.figures()}
            ink = blend.recipe().evaluate()
        self.assertTrue(made.meets_all)
        self.assertEqual(made.weighings, len(taken))
        self.assertTrue(math.isnan(made.residual))
        self.assertEqual(taken["vitriol"].lot, self.vitriol.index)
        # 12 g less what is taken; a gram costs 2.2 cents.
        vitriol = taken["vitriol"]
        self.assertAlmostEqual(vitriol.left_g + vitriol.mass_g, 12.0, places=12)
        self.assertAlmostEqual(vitriol.cost, 0.022 * vitriol.mass_g, places=12)
        self.assertTrue(math.isnan(taken["gum"].left_g) and math.isnan(taken["gum"].cost))
        iron = figures[Figure.IRON]
        self.assertEqual((iron.low, iron.high, iron.unit), (3.0, 4.0, "g/L"))
        # Two ways of adding up one composition.
        self.assertAlmostEqual(iron.reached, ink.iron_g_per_l, places=12)
        self.assertTrue(math.isnan(figures[Figure.DYE].high))
        self.assertTrue(all(one.is_met and one.miss == 0.0 for one in figures.values()))

    def test_objectives_and_the_page(self):
        summaries = {}
        for objective in Objective:
            criterion = ONE if objective is Objective.SUREST else None
            blend = self.cupboard.make(INK, objective, criterion=criterion)
            summaries[objective] = blend.summary()
            self.assertIn(f"{summaries[objective].weighings} weighing", str(blend))
        cheapest = summaries[Objective.LEAST_COST]
        for made in summaries.values():
            self.assertGreaterEqual(made.cost, cheapest.cost * (1.0 - 1e-9))
        fewest, least = summaries[Objective.FEWEST_WEIGHINGS], summaries[Objective.LEAST_WASTE]
        self.assertLessEqual(fewest.weighings, cheapest.weighings)
        # Galls are cheap and leave a marc; tannic acid leaves none.
        self.assertGreater(cheapest.waste_g, 10.0)
        self.assertLess(least.waste_g, 1e-9)

    def test_what_cannot_be_had_is_told(self):
        strong = Wanted(1000.0, iron_g_per_l=(6.0, None))
        with self.cupboard.make(strong) as blend:
            self.assertFalse(blend.summary().meets_all)
            self.assertEqual(blend.used_up(), [self.vitriol.index])
            (figure,) = blend.figures()
        # 12 g of FeSO4.7H2O, of which the iron is 55.845 in 278.006: sums of IUPAC's abridged
        # atomic weights (2021), good to 0.001 in 55.845.
        held = 12.0 * 55.845 / 278.006
        self.assertAlmostEqual(figure.reached / held, 1.0, delta=4e-5)
        self.assertAlmostEqual(figure.miss, figure.reached / 6.0 - 1.0, places=12)

    def test_the_most(self):
        with self.cupboard.most(INK) as blend:
            volume = blend.summary().volume_ml
            more = blend.more()
            self.assertIn(self.vitriol.index, blend.used_up())
        self.assertGreater(volume, 500.0)
        self.assertTrue(all(one.volume_ml > 0.0 for one in more))
        self.assertEqual(more[0].lot, self.vitriol.index)
        self.assertEqual(more[0].mass_g, 12.0)
        endless = Cupboard(self.water, [self.vitriol, self.gum])
        self.refused(Status.NOTHING_LIMITS, "", endless.most, Wanted(1.0, iron_g_per_l=1.0))
        self.refused(Status.INFEASIBLE, "", endless.most, Wanted(1.0, dye_g_per_l=1.0))

    def test_a_volume_that_may_vary(self):
        kitchen = Cupboard(self.water, self.cupboard.stores, kit=Kit(0.1, 0.1))
        bottle = {"iron_g_per_l": (3.4, 3.6), "iron_ii_per_galloyl": (0.58, 0.6)}
        made = []
        for most in (None, 45.0):
            with kitchen.make(Wanted(25.0, most_volume_ml=most, **bottle)) as blend:
                made.append(blend.summary())
        fixed, free = made
        self.assertFalse(fixed.meets_all)
        self.assertTrue(free.meets_all)
        self.assertTrue(25.0 <= free.volume_ml <= 45.0)
        rows = self.cupboard.rows(
            Wanted(25.0, **bottle), {Figure.MOST_VOLUME: array("d", [24.0, 45.0])}
        )
        self.assertEqual(list(rows.status), [Status.OUT_OF_RANGE, Status.OK])
        self.assertAlmostEqual(rows[1].volume_ml, 25.0, places=9)  # less is cheaper

    def test_stocks_are_poured_together(self):
        stocks = []
        for lot, name in ((self.vitriol, "iron stock"), (self.tannin, "tannin stock")):
            recipe = Recipe(name)
            recipe.begin_solution(name)
            recipe.add(lot, mass_g=14.0)
            recipe.make_up(self.water, volume_ml=200.0)
            stocks.append(recipe.to_lot(self.shelf, name))
        wanted = Wanted(30.0, iron_g_per_l=3.0, iron_ii_per_galloyl=0.6)
        with Cupboard(self.water, stocks).mix(wanted) as blend:
            self.assertLess(blend.summary().residual, 1e-12)
            taken = blend.taken()
            ink = blend.recipe().evaluate()
        self.assertEqual([one.name for one in taken], ["iron stock", "tannin stock"])
        self.assertTrue(all(one.volume_ml > 1.0 for one in taken))
        self.assertAlmostEqual(ink.iron_g_per_l, 3.0, places=10)
        sour = Wanted(30.0, ph=(None, 2.0))
        self.refused(Status.NOT_LINEAR, "pH", Cupboard(self.water, stocks).mix, sour)
        self.refused(Status.NOT_A_LIQUID, "vitriol", self.cupboard.mix, wanted)

    def test_tools(self):
        kit = Kit(balance_step_g=0.1, cylinder_step_ml=0.5)
        with Cupboard(self.water, self.stores, kit=kit).make(INK, Objective.CLOSEST) as blend:
            for taken in blend.taken():
                self.assertEqual(taken.steps, round(taken.steps))
                self.assertAlmostEqual(taken.mass_g, 0.1 * taken.steps, places=9)

    def test_rows_are_the_inks_by_themselves(self):
        volumes = array("d", [100.0, 250.0, 500.0, math.nan, -1.0, 800.0])
        lows = array("d", [1.0, 2.0, 3.0, 3.0, 3.0, 3.5])
        varied = {Figure.VOLUME: volumes, Figure.IRON | Figure.LOW: lows, Figure.GUM: 12.0}
        rows = self.cupboard.rows(INK, varied)
        self.assertEqual(rows.bad_rows, 2)
        self.assertEqual(
            list(rows.status), [0, 0, 0, Status.INPUT_NAN, Status.OUT_OF_RANGE, 0]
        )
        for row, (volume, low) in enumerate(zip(volumes, lows)):
            vitriol = rows.mass_g(self.vitriol)[row]
            if rows.status[row] != Status.OK:
                self.assertTrue(math.isnan(rows[row].cost) and math.isnan(vitriol))
                continue
            alone = Wanted(
                volume,
                iron_g_per_l=(low, 4.0),
                iron_ii_per_galloyl=INK.iron_ii_per_galloyl,
                gum_g_per_l=12.0,
                dye_g_per_l=INK.dye_g_per_l,
            )
            with self.cupboard.make(alone) as blend:
                made, taken = blend.summary(), {one.lot: one.mass_g for one in blend.taken()}
            self.assertEqual(rows[row].cost, made.cost)
            self.assertEqual(rows[row].weighings, made.weighings)
            self.assertEqual(rows[row].missed == 0.0, made.meets_all)
            self.assertEqual(vitriol, taken[self.vitriol.index])
            self.assertEqual(rows.mass_g(self.tannin)[row], taken.get(self.tannin.index, 0.0))
        self.assertEqual(len(self.cupboard.rows(INK, {})), 1)
        self.assertEqual(len(self.cupboard.rows(INK, {Figure.VOLUME: array("d")})), 0)
        with self.assertRaises(KeyError):
            rows.mass_g(self.water)
        again = pickle.loads(pickle.dumps(rows))
        self.assertEqual(again[0], rows[0])
        self.assertEqual(again.mass_g(self.vitriol)[0], rows.mass_g(self.vitriol)[0])

    def test_assurance_in_a_column(self):
        wanted = Wanted(100.0, iron_g_per_l=3.0, criterion=ONE)
        sure = array("d", [0.5, 0.9, 0.99])
        rows = self.cupboard.rows(wanted, {Figure.ASSURANCE: sure})
        self.assertEqual(list(rows.column("missed")), [0.0, 0.0, 0.0])
        cost = list(rows.column("cost"))
        self.assertTrue(cost[0] < cost[1] < cost[2])  # more galls

    def test_mistakes(self):
        make = self.cupboard.make
        self.refused(Status.OUT_OF_RANGE, "ph.high", make, Wanted(1.0, ph=(1.0, math.inf)))
        self.refused(Status.OUT_OF_RANGE, "iron_g_per_l.high", make, Wanted(1.0, iron_g_per_l=-1.0))
        self.refused(Status.INPUT_NAN, "gum_g_per_l", make, Wanted(1.0, gum_g_per_l=(None, None)))
        self.refused(Status.INPUT_NAN, "volume_ml", make, Wanted(math.nan))
        self.refused(Status.FOREIGN_VALUE, "objective", make, INK, 9)
        self.refused(Status.NULL_POINTER, "criterion", make, INK, Objective.SUREST)
        twice = Cupboard(self.water, [self.gum, self.gum])
        self.refused(Status.NAME_TAKEN, "gum", twice.make, INK)
        self.refused(Status.FOREIGN_VALUE, "varied", self.cupboard.rows, INK, {Figure.LOW: 1.0})
        with self.assertRaises(ValueError):
            Cupboard(self.water, [Shelf().add("gum_arabic")])
        with self.assertRaises(TypeError):
            pickle.dumps(make(INK))
        self.shelf.close()
        self.refused(Status.NULL_POINTER, "shelf", make, INK)

    def test_a_blend_outlives_its_shelf(self):
        blend = self.cupboard.make(INK)
        page = str(blend)
        self.shelf.close()
        self.assertEqual(str(blend), page)
        self.assertGreater(blend.recipe().evaluate().iron_g_per_l, 2.9)


if __name__ == "__main__":
    unittest.main()
