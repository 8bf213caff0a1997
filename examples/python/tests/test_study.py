"""How sure an ink is: sources, answers, chances, draws, beliefs."""

import copy
import math
import pickle
import unittest
from concurrent.futures import ThreadPoolExecutor

import ferrogall
from ferrogall import (
    Belief,
    FerrogallError,
    Kit,
    Known,
    Measurand,
    Method,
    Remedy,
    Status,
    Study,
)
from workshop import Workshop

RATIO = Measurand.IRON_PER_GALLOYL
TANNIN = "tannin: tannin"


class Studies(unittest.TestCase):
    def setUp(self):
        self.room = Workshop()
        self.recipe = self.room.recipe(28.0)
        self.recipe.begin_solution("liquor")
        water = self.room.water
        self.recipe.add_extraction(self.room.galls, plant_g=20.0, liquid=water, liquid_ml=150.0)
        self.study = Study(self.recipe)

    def refused(self, status, argument, call, *given, **named):
        with self.assertRaises(FerrogallError) as caught:
            call(*given, **named)
        error = caught.exception
        self.assertEqual((error.status, error.argument), (status, argument))

    def test_sources_have_names_units_and_remedies(self):
        sources = {source.name: source for source in self.study.sources()}
        galls = sources["galls: tannin"]
        self.assertTrue(galls.low < galls.estimate < galls.high)
        self.assertEqual((galls.unit, galls.remedy), ("", Remedy.TEST_EXTRACT))
        self.assertEqual(sources["galls: galloyl per tannin"].unit, "mol/kg")
        self.assertAlmostEqual(sources[TANNIN].estimate, 0.9)
        kit = Kit(balance_step_g=0.5, cylinder_step_ml=10.0)
        weighed = Study(self.recipe, kit=kit).sources()
        self.assertEqual({source.name for source in weighed} & set(sources), set(sources))
        tools = [one for one in weighed if one.remedy == Remedy.FINER_BALANCE]
        self.assertEqual({one.unit for one in tools}, {"kg", "m3"})
        # A balance in steps of 0.5 g, read twice: 0.5 g over the root of 6.
        balance = next(one for one in tools if one.name.endswith("vitriol"))
        self.assertAlmostEqual(balance.u, 0.5e-3 / math.sqrt(6.0))

    def test_names_come_uncut(self):
        name = "ü" * 200
        lot = self.room.shelf.add("iron_ii_sulfate_heptahydrate", name=name)
        self.recipe.add(lot, mass_g=1.0)
        study = Study(self.recipe)
        self.assertIn(f"{name}: purity", [source.name for source in study.sources()])
        names = [help.name for help in study.helps(Measurand.IRON_G_PER_L, draws=100)]
        self.assertIn(f"{name}: purity", names)
        study.know(f"{name}: purity", Known.exact(0.9))

    def test_an_answer_is_the_ink_with_its_interval(self):
        answer = self.study.answer(RATIO, draws=2000)
        ink = self.recipe.evaluate()
        self.assertAlmostEqual(answer.value, ink.iron_per_galloyl, places=12)
        self.assertTrue(answer.low < answer.value < answer.high)
        self.assertEqual(answer.failed_draws, 0)
        self.assertEqual(answer, self.study.answer(RATIO, draws=2000))
        iron = self.study.answer(Measurand.GUM_G_PER_L)
        self.assertEqual((iron.method, iron.value), (Method.FIRST_ORDER, 0.0))

    def test_helps_come_best_first_and_the_sentence_names_the_best(self):
        helps = self.study.helps(RATIO, draws=1000)
        self.assertEqual(len(helps), len(self.study.sources()))
        widths = [help.width_left for help in helps]
        self.assertEqual(widths, sorted(widths))
        names = [source.name for source in self.study.sources()]
        self.assertTrue(all(names[help.source] == help.name for help in helps))
        sentence = self.study.advice(RATIO, draws=1000)
        self.assertIn(f'"{helps[0].name}"', sentence)
        self.assertIn(ferrogall.remedy_text(helps[0].remedy), sentence)
        self.assertTrue(sentence.startswith(ferrogall.measurand_text(RATIO)))

    def test_knowing_a_source_narrows_and_a_copy_goes_its_own_way(self):
        before = self.study.answer(RATIO)
        other = copy.copy(self.study)
        other.know("galls: tannin", Known.normal(0.5, 0.01).between(0.0, 1.0))
        other.know("galls: yield of the soak", Known.exact(0.8))
        after = other.answer(RATIO)
        self.assertLess(after.high - after.low, before.high - before.low)
        self.assertEqual(self.study.answer(RATIO), before)
        shapes = (
            Known.log_normal(0.5, 0.1),
            Known.rectangular(0.4, 0.6),
            Known.triangular(0.4, 0.6),
            Known.belief(Belief(0.5, 0.1)).between(0.0, 1.0),
        )
        for known in shapes:
            other.know("galls: tannin", known)
            tannin = next(one for one in other.sources() if one.name == "galls: tannin")
            self.assertAlmostEqual(tannin.estimate, 0.5)

    def test_chances_and_what_assures(self):
        chance = self.study.excess_iron("standard_inks", draws=2000)
        self.assertTrue(0.0 < chance.probability < 1.0 and chance.sampling_error < 0.02)
        sure = self.study.assured(self.room.galls, "standard_inks", 0.95, draws=2000)
        # 20 g of them are in the recipe; the last digits are those of a quotient.
        self.assertAlmostEqual(sure.mass_g / sure.factor, 20.0, places=9)
        self.assertAlmostEqual(sure.now, 1.0 - chance.probability, places=12)
        # With that much it is so, by the same draws.
        enough = self.room.recipe(28.0)
        enough.begin_solution("liquor")
        soak = {"liquid": self.room.water, "liquid_ml": 150.0 * sure.factor}
        enough.add_extraction(self.room.galls, plant_g=sure.mass_g, **soak)
        left = Study(enough).excess_iron("standard_inks", draws=2000).probability
        # Of 2000 draws the one at the limit may fall on either side.
        self.assertAlmostEqual(left, 0.05, delta=2 / 2000)

    def test_draws_are_columns(self):
        ratio, volume = Measurand.IRON_PER_GALLOYL, Measurand.VOLUME_ML
        drawn = self.study.draws([ratio, volume], seed=2**64 - 1, draws=500)
        self.assertEqual(len(drawn), 500)
        alone = self.study.draws([volume], seed=2**64 - 1, draws=300)
        self.assertEqual(list(alone.column(volume)), list(drawn.column(volume))[:300])
        again = pickle.loads(pickle.dumps(drawn))
        self.assertEqual(list(again.column(ratio)), list(drawn.column(ratio)))
        self.assertGreater(len(set(drawn.column(ratio))), 490)
        # The chance is the share of the draws above the limit, 0.636.
        above = sum(x > 0.636 for x in drawn.column(ratio)) / 500
        chance = self.study.excess_iron("standard_inks", seed=2**64 - 1, draws=500)
        self.assertAlmostEqual(chance.probability, above, places=12)
        self.assertEqual(len(self.study.draws([], draws=100)), 0)
        with self.assertRaises(KeyError):
            drawn.column(Measurand.GUM_G_PER_L)

    def test_refusals(self):
        study, many = self.study, 1_000_000_000
        for draws in (0, 99, many, 2**32 - 1, 2**40, -1):
            self.refused(Status.OUT_OF_RANGE, "draws", study.answer, RATIO, draws=draws)
            self.refused(Status.OUT_OF_RANGE, "draws", study.draws, [RATIO], draws=draws)
        every = list(Measurand)
        argument = "measurand_count times draws"
        self.refused(Status.OUT_OF_RANGE, argument, study.draws, every, draws=2_000_000)
        self.refused(Status.OUT_OF_RANGE, "seed", study.answer, RATIO, seed=2**64)
        self.refused(Status.FOREIGN_VALUE, "measurand", study.answer, 99)
        self.refused(Status.FOREIGN_VALUE, "remedy", ferrogall.remedy_text, 99)
        self.refused(Status.UNKNOWN_NAME, "criterion", study.excess_iron, "the moon")
        self.refused(Status.UNKNOWN_NAME, "source", study.know, "moon: tannin", Known.exact(1.0))
        stranger = self.room.shelf.add("gum_arabic")
        self.refused(Status.UNKNOWN_NAME, "lot", study.assured, stranger, "standard_inks")
        water = (self.room.water, "standard_inks")
        self.refused(Status.NOT_ASSURED, "water", study.assured, *water, draws=100)
        self.refused(Status.INPUT_NAN, "assurance", study.assured, *water, math.nan)
        for known, status, argument in (
            (Known.normal(0.5, math.nan), Status.INPUT_NAN, "b"),
            (Known.log_normal(0.0, 0.1), Status.OUT_OF_RANGE, "a"),
            (Known.normal(0.5, 0.1).between(0.6, 0.4), Status.OUT_OF_RANGE, "at_most"),
            (Known(9, 0.5), Status.FOREIGN_VALUE, "shape"),
        ):
            self.refused(status, argument, study.know, TANNIN, known)
        with self.assertRaises(TypeError):
            study.know(TANNIN, Known(1, 0.5, at_least=0.0))
        study.close()
        self.refused(Status.NULL_POINTER, "study", study.answer, RATIO)

    def test_threads_share_a_study(self):
        expected = self.study.answer(RATIO, draws=500)
        with ThreadPoolExecutor(4) as pool:
            for got in pool.map(lambda _: self.study.answer(RATIO, draws=500), range(16)):
                self.assertEqual(got, expected)


class Beliefs(unittest.TestCase):
    def test_a_measurement_is_weighed_against_the_belief(self):
        # Two normal logarithms of 0.3 and 0.4 leave one of 0.3 * 0.4 / 0.5.
        after = ferrogall.belief_update_value(Belief(1.0, 0.3), 1.0, 0.4)
        self.assertAlmostEqual(after.u_ln, 0.24, places=14)
        self.assertEqual((after.median, after.surprise), (1.0, 0.0))
        self.assertTrue(after.low < 1.0 < after.high)

    def test_a_spot_test_narrows_and_a_contradiction_is_told(self):
        before = ferrogall.belief_of_range(0.05, 0.14, 0.4)
        self.assertTrue(math.isnan(before.surprise))
        after = ferrogall.belief_update_between(before, 0.12, 0.18, judging_u_ln=0.1)
        self.assertLess(after.high / after.low, before.high / before.low)
        self.assertGreater(ferrogall.belief_update_value(after, 0.9, 0.01).surprise, 3.0)

    def test_refusals(self):
        for call, given, status, argument in (
            ("update_value", (Belief(-1.0, 0.3), 1.0, 0.1), Status.OUT_OF_RANGE, "median"),
            ("update_value", (Belief(1.0, 0.3), 1.0, math.nan), Status.INPUT_NAN, "u"),
            ("of_range", (0.1, math.nan, 0.3), Status.INPUT_NAN, "typical"),
            ("of_range", (0.1, 0.2, 0.15), Status.OUT_OF_RANGE, "max"),
        ):
            with self.assertRaises(FerrogallError) as caught:
                getattr(ferrogall, f"belief_{call}")(*given)
            error = caught.exception
            self.assertEqual((error.status, error.argument), (status, argument))


if __name__ == "__main__":
    unittest.main()
