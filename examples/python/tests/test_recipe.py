"""Recipes: published inks, and what is done with a recipe."""

import copy
import math
import unittest

import ferrogall
from ferrogall import (
    Balance,
    Choice,
    Equal,
    Kit,
    LineKind,
    Recipe,
    Soak,
    Targets,
    Tool,
    ToolKind,
    Wall,
)
from workshop import Workshop


class PublishedInks(unittest.TestCase):
    def test_us_federal_writing_ink(self):
        # US Federal Specification TT-I-563 (1935), as cited in the trade press: 15.0 g of green
        # vitriol, 12.5 g of dilute (10 %) hydrochloric acid, 1.0 g of phenol and 3.5 g of dye in
        # a litre; by its commentators 3.01 g of iron and 34.3 mmol of strong acid.
        recipe = Recipe.reference("us_federal_writing_1935", volume_ml=1000.0)
        ink = recipe.evaluate()
        self.assertLess(abs(ink.iron_g_per_l - 3.01), 0.005)
        self.assertLess(abs(1e3 * ink.strong_acid_mol_per_l - 34.3), 0.05)
        self.assertAlmostEqual(ink.dye_g_per_l, 3.5, places=9)
        self.assertAlmostEqual(ink.preservative_g_per_l, 1.0, places=9)
        vitriol = next(line for line in recipe.lines() if "sulfate" in line.lot)
        self.assertAlmostEqual(vitriol.mass_g, 15.0, places=9)

    def test_every_ink_has_a_name_and_a_source(self):
        inks = ferrogall.reference_inks()
        self.assertIn("swedish_archival_1964", inks)
        for ink in inks:
            self.assertIn(":", ferrogall.reference_ink_source(ink))


class Work(unittest.TestCase):
    def setUp(self):
        self.room = Workshop()

    def test_plant_matter_and_solids_are_refused_where_they_do_not_belong(self):
        room, recipe = self.room, Recipe("galls")
        recipe.begin_solution("pot")
        with self.assertRaises(ferrogall.FerrogallError) as caught:
            recipe.add(room.galls, mass_g=50.0)
        self.assertEqual(caught.exception.status, ferrogall.Status.NEEDS_EXTRACTION)
        with self.assertRaises(ferrogall.FerrogallError) as caught:
            recipe.make_up(room.vitriol, volume_ml=500.0)
        self.assertEqual(caught.exception.status, ferrogall.Status.NOT_A_LIQUID)
        # The recipe is as it was: it can be filled and worked out.
        recipe.add(room.vitriol, mass_g=5.0)
        recipe.make_up(room.water, volume_ml=500.0)
        self.assertAlmostEqual(recipe.evaluate().volume_ml, 500.0, places=9)

    def test_lines(self):
        room, recipe = self.room, Recipe("galls")
        recipe.begin_solution("liquor")
        soak = Soak(yield_share=(0.8, 0.1), hold_up_g_per_g=1.5)
        recipe.add_extraction(
            room.galls, plant_g=50.0, liquid=room.water, liquid_ml=500.0, soak=soak
        )
        recipe.begin_solution("iron")
        recipe.add(room.vitriol, mass_g=10.0)
        recipe.make_up_solution(room.water, volume_ml=100.0)
        recipe.use(share=0.5)
        recipe.make_up(room.water, volume_ml=600.0)
        lines = recipe.lines()
        kinds = [(line.lot, line.kind) for line in lines]
        self.assertIn(("galls", LineKind.PLANT), kinds)
        self.assertIn(("water", LineKind.SOAK), kinds)
        self.assertEqual(kinds[-1], ("water", LineKind.MAKE_UP))
        self.assertEqual(recipe.evaluate().line_count, len(lines))
        # Half the iron water is used: 5 g of vitriol.
        alone = self.room.recipe(vitriol_g=5.0)
        alone.to_volume(volume_ml=1000.0)
        expected = alone.evaluate().iron_ii_mol_per_l * 1000.0 / 600.0
        self.assertAlmostEqual(recipe.evaluate().iron_ii_mol_per_l, expected, places=12)

    def test_many_lines_outgrow_the_first_buffer(self):
        recipe = Recipe("pinches")
        recipe.begin_solution("all")
        for pinch in range(40):
            recipe.add(self.room.vitriol, mass_g=1.0 + pinch)
        self.assertEqual([round(line.mass_g, 9) for line in recipe.lines()], list(range(1, 41)))

    def test_scaling_keeps_the_ink(self):
        recipe = self.room.recipe()
        before = recipe.evaluate()
        recipe.scale(0.05)
        after = recipe.evaluate()
        self.assertAlmostEqual(after.volume_ml, 50.0, places=9)
        self.assertAlmostEqual(after.iron_per_galloyl, before.iron_per_galloyl, places=12)
        limited = recipe.limited_by("tannin", available_g=5.0)
        self.assertAlmostEqual(limited.volume_ml, 200.0, places=9)
        self.assertAlmostEqual(limited.factor, 4.0, places=9)

    def test_parts(self):
        recipe = Recipe("old")
        recipe.begin_solution("all")
        recipe.add(self.room.vitriol, parts=2.0)
        recipe.add(self.room.tannin, parts=3.0)
        recipe.add(self.room.water, parts=30.0)
        recipe.set_part(part_g=7.0)
        self.assertEqual([line.mass_g for line in recipe.lines()], [14.0, 21.0, 210.0])

    def test_bottles(self):
        recipe = self.room.recipe()
        # 10 bottles of 50 mL, 9/10 full: 450 mL, which are 90 % of the batch.
        made = recipe.for_bottles(10, capacity_ml=50.0, fill_share=0.9, loss_share=0.1)
        self.assertAlmostEqual(made.fill_ml, 45.0, places=9)
        self.assertAlmostEqual(made.batch_ml, 500.0, places=9)
        self.assertTrue(math.isnan(made.cost_per_bottle))
        for bottles in (-1, 2**32 + 3):
            with self.assertRaises(ferrogall.FerrogallError) as caught:
                recipe.for_bottles(bottles, capacity_ml=50.0, fill_share=0.9)
            self.assertEqual(caught.exception.argument, "bottles")

    def test_rounding_to_the_tools(self):
        recipe = self.room.recipe(vitriol_g=20.3)
        kit = Kit(1.0, 10.0, [Tool("tannin", ToolKind.BALANCE, step_g=4.0)])
        smallest = recipe.smallest_batch(kit, steps=10.0)
        self.assertEqual(smallest.limited_by, "tannin")
        self.assertAlmostEqual(smallest.factor, 40.0 / 25.0, places=9)
        rounding = recipe.round(kit)
        self.assertEqual([line.mass_g for line in recipe.lines()][:2], [20.0, 24.0])
        self.assertEqual(rounding.worst_lot, "vitriol")
        self.assertAlmostEqual(rounding.iron_error, 20.0 / 20.3 - 1.0, places=12)

    def test_rounding_line_by_line(self):
        recipe = self.room.recipe(vitriol_g=20.3)
        vitriol, tannin = recipe.rounding_lines(Kit(1.0, 10.0))
        self.assertEqual((vitriol.lot, vitriol.tool, vitriol.steps), ("vitriol", 1, 20.0))
        self.assertAlmostEqual(vitriol.iron_error, 20.0 / 20.3 - 1.0, places=12)
        self.assertEqual(tannin.iron_error, 0.0)
        self.assertAlmostEqual(recipe.lines()[0].mass_g, 20.3, places=12)

    def test_stock_solutions(self):
        recipe = self.room.recipe(vitriol_g=2.0)
        (stock,) = recipe.stocks(Kit(0.5, 1.0), steps=20.0)
        self.assertEqual(stock.lot, "vitriol")
        self.assertGreaterEqual(stock.weigh_g, 20 * 0.5)
        # What is taken of it holds what the recipe asks for.
        taken_g = stock.weigh_g * stock.take_ml / stock.dissolve_to_ml
        self.assertAlmostEqual(taken_g, 2.0, places=9)
        self.assertFalse(stock.into_water)
        self.assertEqual(recipe.stocks(Kit(0.01, 1.0)), [])

    def test_findings_come_worst_first(self):
        recipe = self.room.recipe(vitriol_g=2.0)
        rough = recipe.findings(Kit(0.5, 1.0))
        self.assertIn("weighing_too_small", [finding.code for finding in rough])
        severities = [finding.severity for finding in rough]
        self.assertEqual(severities, sorted(severities, reverse=True))
        for finding in rough:
            self.assertTrue(finding.message and finding.source)
        self.assertNotIn("weighing_too_small", [finding.code for finding in recipe.findings()])

    def test_verdicts(self):
        # Ten times the iron and a hundredth of it; some criteria have but one side.
        much, little = Balance.IRON_IN_EXCESS, Balance.TANNIN_IN_EXCESS
        for vitriol_g, verdict, other in ((200.0, much, little), (0.2, little, much)):
            verdicts = [one.verdict for one in self.room.recipe(vitriol_g).verdicts()]
            self.assertIn(verdict, verdicts)
            self.assertNotIn(other, verdicts)
        water = Recipe("water")
        water.begin_solution("all")
        water.add(self.room.water, mass_g=1.0)
        self.assertEqual(water.verdicts(), [])

    def test_substitution(self):
        room = self.room
        swap = room.shelf.substitute(room.galls, room.tannin, mass_g=100.0, equal=Equal.GALLOYL)
        self.assertAlmostEqual(swap.factor * 100.0, swap.mass_g, places=9)
        gallic = room.shelf.add("gallic_acid_monohydrate", name="gallic")
        recipe = room.recipe()
        before = recipe.evaluate()
        recipe.substitute("tannin", gallic, equal=Equal.GALLOYL)
        after = recipe.evaluate()
        self.assertAlmostEqual(after.galloyl_mol_per_l, before.galloyl_mol_per_l, places=12)
        self.assertEqual(after.tannin_galloyl_mol_per_l, 0.0)

    def test_formulation_meets_its_targets(self):
        room = self.room
        acid = room.shelf.add("hydrochloric_acid", name="acid", purity=0.1)
        choice = Choice(iron=room.vitriol, tannin=room.tannin, water=room.water, acid=acid)
        targets = Targets(500.0, 0.08, 0.7, strong_acid_mol_per_l=0.03)
        ink = Recipe.formulate(choice, targets).evaluate()
        self.assertAlmostEqual(ink.volume_ml, 500.0, places=9)
        self.assertAlmostEqual(ink.iron_ii_mol_per_l, 0.08, places=12)
        self.assertAlmostEqual(ink.iron_per_galloyl, 0.7, places=9)
        self.assertAlmostEqual(ink.strong_acid_mol_per_l, 0.03, places=12)

    def test_formulation_like_a_published_ink(self):
        room = self.room
        add = room.shelf.add
        choice = Choice(
            room.vitriol,
            room.galls,
            room.water,
            acid=add("hydrochloric_acid"),
            dye=add("soluble_blue"),
            preservative=add("phenol"),
        )
        like = Recipe.formulate_like(
            choice, "us_federal_writing_1935", volume_ml=250.0, soak=Soak(water_g_per_g=8.0)
        )
        self.assertLess(abs(like.evaluate().iron_g_per_l - 3.01), 0.005)
        self.assertGreater(like.evaluate().dye_g_per_l, 3.0)

    def test_a_published_ink_takes_what_it_has_lots_for(self):
        room = self.room
        choice = Choice(room.vitriol, room.galls, room.water)
        like = Recipe.formulate_like(choice, "us_federal_writing_1935", volume_ml=250.0)
        made = like.evaluate()
        self.assertLess(abs(made.iron_g_per_l - 3.01), 0.005)
        self.assertEqual((made.dye_g_per_l, made.preservative_g_per_l), (0.0, 0.0))

    def test_copies_go_their_own_way(self):
        recipe = self.room.recipe()
        for other in (recipe.copy(), copy.copy(recipe), copy.deepcopy(recipe)):
            other.scale(2.0)
            self.assertAlmostEqual(other.evaluate().volume_ml, 2000.0, places=9)
        self.assertAlmostEqual(recipe.evaluate().volume_ml, 1000.0, places=9)

    def test_iron_in_acid(self):
        # Fe + 2 H+ -> Fe2+ + H2: one mol of hydrogen for each mol of iron.
        room = self.room
        acid = room.shelf.add("hydrochloric_acid", purity=0.1)
        lot, made = room.shelf.add_iron_in_acid(
            iron_g=10.0, acid=acid, acid_g=100.0, iron_share=(0.98, 0.01), temperature_c=25.0
        )
        self.assertTrue(made.acid_runs_out)
        self.assertAlmostEqual(made.hydrogen_mol, made.iron_ii_mol, places=12)
        self.assertGreater(lot.contents().iron_ii_mol_per_kg, 0.0)
        self.assertEqual(len(room.shelf), lot.index + 1)

    def test_what_a_lot_says_of_itself(self):
        room = self.room
        self.assertEqual(room.tannin.name, "tannin")
        self.assertIn("tannin", repr(room.tannin))
        self.assertTrue(room.galls.assumed)
        self.assertAlmostEqual(room.water.mass_g(volume_ml=100.0), 99.8, delta=0.1)
        self.assertTrue(room.galls.contents().is_plant)
        long = room.shelf.add("tannic_acid", name="très " * 100)
        self.assertEqual(long.name, "très " * 100)


class Bottles(unittest.TestCase):
    def test_air_of_the_headspace(self):
        # Ideal gas: 25 mL of air at 25 °C and 101.325 kPa, 20.95 % oxygen by volume less the
        # water vapour (3.17 kPa, CRC Handbook): 0.2095 * 98.16 kPa * 25 mL / (R * 298.15 K).
        expected_mmol = 0.2095 * 98.16 * 25.0 / (8.314 * 298.15)
        bound = ferrogall.oxygen_bound(
            capacity_ml=50.0, fill_ml=25.0, iron_ii_mol_per_l=0.1, temperature_c=25.0
        )
        self.assertAlmostEqual(bound.oxygen_headspace_mmol / expected_mmol, 1.0, delta=2e-3)
        self.assertAlmostEqual(bound.iron_ii_mmol, 2.5, places=12)
        self.assertAlmostEqual(
            bound.iron_headspace_mmol, 4.0 * bound.oxygen_headspace_mmol, places=12
        )

    def test_polymer_walls(self):
        # What passes a wall is proportional to its area and to 1 / its thickness.
        def bound(area_cm2, thickness_mm, polymer=None):
            wall = Wall(polymer or ferrogall.polymers()[0], area_cm2, thickness_mm)
            given = dict(capacity_ml=50.0, fill_ml=45.0, iron_ii_mol_per_l=0.1)
            return ferrogall.oxygen_bound(**given, wall=wall).oxygen_closure_mmol_per_year

        thin, thick, large = bound(80.0, 0.5), bound(80.0, 1.0), bound(160.0, 1.0)
        self.assertGreater(thick, 0.0)
        self.assertAlmostEqual(thin / thick, 2.0, places=9)
        self.assertAlmostEqual(large / thick, 2.0, places=9)
        with self.assertRaises(ferrogall.FerrogallError) as caught:
            bound(80.0, 1.0, polymer="lead")
        self.assertEqual(caught.exception.argument, "wall_polymer")

    def test_what_does_not_exist_is_none(self):
        given = dict(capacity_ml=50.0, fill_ml=50.0, iron_ii_mol_per_l=1.0)
        sealed = ferrogall.oxygen_bound(**given, without_dissolved_oxygen=True)
        self.assertIsNone(sealed.openings_to_share)
        self.assertIsNone(sealed.days_to_share)
        self.assertEqual(sealed.share_after_filling, 0.0)
        opened = ferrogall.oxygen_bound(
            capacity_ml=50.0,
            fill_ml=25.0,
            iron_ii_mol_per_l=0.1,
            closure=ferrogall.closures()[-1],
            opened_every_days=7.0,
            drawn_ml=0.2,
            stated_share=0.9,
            kept_days=1000.0,
        )
        # What passes the closure comes on top of the openings.
        self.assertLess(0.0, opened.days_to_share)
        self.assertLess(opened.days_to_share, 7.0 * opened.openings_to_share)


if __name__ == "__main__":
    unittest.main()
