"""How an ink keeps."""

import math
import pickle
import unittest
from array import array
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import ferrogall
from ferrogall import (
    Act,
    Advice,
    Assisted,
    Contents,
    Event,
    FerrogallError,
    Keeping,
    Kinetics,
    Law,
    Measure,
    MeasureKind,
    Seen,
    Sighting,
    Solver,
    Status,
    StoredInk,
    Swing,
    Varied,
    Vessel,
)
from workshop import Workshop

INK = StoredInk(iron_ii_mol_per_l=0.054, galloyl_mol_per_l=0.05, ph=2.2)
BOTTLE = Keeping(
    capacity_ml=60.0,
    fill_ml=50.0,
    opened_every_days=10.0,
    drawn_ml=0.8,
    kept_days=60.0,
)


class Forecasts(unittest.TestCase):
    def refused(self, status, argument, call):
        with self.assertRaises(FerrogallError) as caught:
            call()
        self.assertEqual((caught.exception.status, caught.exception.argument), (status, argument))

    def test_three_figures_in_their_order(self):
        found = ferrogall.forecast(INK, BOTTLE, draws=21)
        self.assertTrue(found.floor.lost_share < found.typical.lost_share <= found.bound_share)
        self.assertTrue(found.lost_low_share <= found.lost_high_share <= found.bound_share)
        self.assertEqual(found.draws, 21)
        bound = ferrogall.keeping_bound(INK, BOTTLE)
        self.assertEqual(bound.share_after_duration, found.bound_share)
        again = pickle.loads(pickle.dumps(found))
        self.assertEqual(repr(again), repr(found))  # NaN is not itself

    def test_the_bound_is_that_of_the_same_bottle(self):
        same = ferrogall.oxygen_bound(
            capacity_ml=60.0,
            fill_ml=50.0,
            iron_ii_mol_per_l=0.054,
            opened_every_days=10.0,
            drawn_ml=0.8,
            kept_days=60.0,
        )
        self.assertEqual(ferrogall.keeping_bound(INK, BOTTLE), same)

    def test_everything_that_is_done_about_oxygen_counts(self):
        bound = ferrogall.keeping_bound(INK, BOTTLE).share_after_duration
        for better in (
            {"flushed_share": 0.9},
            {"beads": True},
            {"without_dissolved_oxygen": True},
            {"temperature_c": 35.0},  # less oxygen in warm air and ink
        ):
            with self.subTest(**better):
                other = ferrogall.keeping_bound(INK, replace(BOTTLE, **better))
                self.assertLess(other.share_after_duration, bound)
        leaky = replace(BOTTLE, swing=Swing(15.0, 20.0, every_days=5.0))
        self.assertGreater(ferrogall.keeping_bound(INK, leaky).share_after_duration, bound)
        before = ferrogall.forecast(INK, BOTTLE, draws=1)
        for other in (
            {"shaken": True},
            {"surface_cm2": 1.0},
            {"lid_leaves_share": 0.01},
            {"season_k": 5.0},
        ):
            with self.subTest(**other):
                found = ferrogall.forecast(INK, replace(BOTTLE, **other), draws=1)
                self.assertNotEqual(found.typical.lost_share, before.typical.lost_share)

    def test_everything_of_the_ink_counts(self):
        before = ferrogall.forecast(INK, BOTTLE, draws=1).typical
        for change in (
            {"iron_iii_mol_per_l": 0.01},
            {"dissolving_share": 0.5},
            {"assisted": Assisted(0.001, 2.0)},
            {"scavenger": "ascorbic_acid", "scavenger_g_per_l": 1.0},
            {"nail_per_s": 1e-5},
        ):
            with self.subTest(**change):
                found = ferrogall.forecast(replace(INK, **change), BOTTLE, draws=1).typical
                self.assertNotEqual(found, before)

    def test_a_curve_goes_to_the_forecast(self):
        days = [0.0, 10.0, 30.0, 60.0]
        points = ferrogall.forecast_curve(INK, BOTTLE, days, draws=21)
        self.assertEqual([point.at_days for point in points], days)
        self.assertEqual(points[0].typical.lost_share, 0.0)
        end = ferrogall.forecast(INK, BOTTLE, draws=21)
        self.assertEqual(points[-1].typical.lost_share, end.typical.lost_share)
        self.assertEqual(points[-1].lost_high_share, end.lost_high_share)
        column = memoryview(array("d", [0.0, -1.0, 10.0, -1.0, 30.0, -1.0, 60.0, -1.0]))[::2]
        self.assertEqual(repr(ferrogall.forecast_curve(INK, BOTTLE, column, draws=21)), repr(points))
        moments = ferrogall.forecast_moments(INK, BOTTLE, days)
        lost = 1.0 - moments[-1].iron_ii_mol_per_l / 0.054
        self.assertAlmostEqual(lost, end.typical.lost_share, places=12)
        self.assertAlmostEqual(moments[-1].liquid_ml, 50.0 - 6 * 0.8, places=9)
        self.assertEqual(ferrogall.forecast_curve(INK, BOTTLE, [], draws=1), [])
        back = [1.0, 2.5, 2.0]
        self.refused(
            Status.OUT_OF_ORDER,
            "at_days",
            lambda: ferrogall.forecast_curve(INK, BOTTLE, back, draws=1),
        )

    def test_rows(self):
        fills = array("d", [20.0, 50.0, math.nan, 70.0])
        rows = ferrogall.forecast_rows(INK, BOTTLE, {Varied.FILL: fills, Varied.PH: 2.2})
        bad = [Status.INPUT_NAN, Status.OUT_OF_RANGE]
        self.assertEqual(list(rows.status), [Status.OK, Status.OK, *bad])
        self.assertEqual(rows.bad_rows, 2)
        one = ferrogall.forecast(INK, BOTTLE, draws=1)
        self.assertEqual(rows[1].lost_share, one.typical.lost_share)
        self.assertTrue(math.isnan(rows[1].lost_low_share) and math.isnan(rows[2].bound_share))
        drawn = ferrogall.forecast_rows(INK, BOTTLE, {Varied.FILL: 50.0}, draws=21)
        end = ferrogall.forecast(INK, BOTTLE, draws=21)
        self.assertEqual(drawn[0].lost_high_share, end.lost_high_share)

    def test_measures(self):
        bought = ferrogall.rank_measures(INK, BOTTLE, draws=5)
        saved = [one.saved_share for one in bought]
        self.assertEqual(saved, sorted(saved, reverse=True))
        self.assertGreater(saved[0], 0.0)
        kinds = [one.measure.kind for one in bought]
        self.assertIn(MeasureKind.INERT_GAS, kinds)
        self.assertEqual(sorted(kinds), sorted(set(kinds)))
        gas = Measure(MeasureKind.INERT_GAS, share=0.5)
        self.assertIn("50 %", ferrogall.measure_text(gas))
        self.assertIn("ventilate", ferrogall.measure_caution(gas))
        sulfite = Measure(MeasureKind.SCAVENGE, dose_g_per_l=1.0, id="sodium_sulfite")
        note = ferrogall.scavenger_note("sodium_sulfite")
        self.assertEqual(ferrogall.measure_caution(sulfite), note)
        self.assertIn("sodium_sulfite", ferrogall.scavengers())
        (one,) = ferrogall.rank_measures(INK, BOTTLE, [sulfite], draws=1)
        self.assertEqual(one.measure, sulfite)
        self.assertEqual(ferrogall.rank_measures(INK, BOTTLE, [], draws=1), [])

    def test_bottles(self):
        best, *_, worst = ferrogall.rank_bottles(INK, BOTTLE, [250.0, 30.0, 60.0], store_ml=500.0)
        self.assertEqual((best.capacity_ml, worst.capacity_ml), (30.0, 250.0))
        self.assertEqual(best.bottles, math.ceil(500.0 / (0.95 * 30.0)))
        self.assertLess(best.lost_in_use_share, worst.lost_in_use_share)

    def test_fit(self):
        witness = Keeping(capacity_ml=60.0, fill_ml=30.0)
        pairs = ((30.0, 0.70), (60.0, 0.55))
        seen = [Sighting(day, Seen.IRON_II, left, 0.02) for day, left in pairs]
        rate = ferrogall.fit(INK, witness, seen)
        self.assertLess(rate.assisted_factor_95, 50.0)
        self.assertEqual((rate.assisted_ph, rate.assisted.ph), (2.2, 2.2))
        own = ferrogall.with_fit(INK, rate)
        self.assertEqual((len(rate.world_draw), own.fit), (64, rate))
        # The best world accounts for what was seen, within a few hundredths.
        then = ferrogall.forecast(own, replace(witness, kept_days=60.0), draws=1)
        self.assertAlmostEqual(then.typical.lost_share, 0.45, delta=0.1)
        late = seen[::-1]
        self.refused(Status.OUT_OF_ORDER, "at_days", lambda: ferrogall.fit(INK, witness, late))

    def test_refusals(self):
        nan = math.nan
        for name in ("capacity_ml", "drawn_ml", "season_k", "flushed_share"):
            bottle = replace(BOTTLE, **{name: nan})
            self.refused(Status.INPUT_NAN, name, lambda b=bottle: ferrogall.forecast(INK, b))
        acid = replace(INK, ph=8.0)
        self.refused(Status.OUT_OF_RANGE, "ph", lambda: ferrogall.forecast(acid, BOTTLE))
        brandy = replace(INK, scavenger="brandy")
        self.refused(Status.UNKNOWN_NAME, "scavenger", lambda: ferrogall.forecast(brandy, BOTTLE))
        for draws in (-1, 2**32):
            self.refused(
                Status.OUT_OF_RANGE,
                "draws",
                lambda d=draws: ferrogall.forecast(INK, BOTTLE, draws=d),
            )
        foreign = Measure(99)
        self.refused(Status.FOREIGN_VALUE, "kind", lambda: ferrogall.measure_text(foreign))

    def test_many_threads(self):
        expected = repr(ferrogall.forecast(INK, BOTTLE, draws=9))
        with ThreadPoolExecutor(4) as pool:
            for found in pool.map(lambda _: ferrogall.forecast(INK, BOTTLE, draws=9), range(8)):
                self.assertEqual(repr(found), expected)


class Inks(unittest.TestCase):
    def test_an_ink_of_a_recipe_is_brought_back(self):
        recipe, solver = Workshop().recipe(), Solver(temperature_c=20.0)
        ink = solver.stored_ink(recipe)
        made = recipe.evaluate()
        self.assertAlmostEqual(ink.iron_ii_mol_per_l, made.iron_ii_mol_per_l, places=12)
        self.assertAlmostEqual(ink.ph, solver.solve(recipe.totals()).ph, places=9)
        old = ferrogall.forecast(ink, replace(BOTTLE, fill_ml=20.0), draws=1).typical
        plain, rescue = ferrogall.rescue(ink, old), solver.rescue(recipe, old)
        self.assertIsInstance(rescue.advice, Advice)
        self.assertAlmostEqual(plain.iron_mol_per_l, rescue.iron_mol_per_l, places=12)
        # FeSO4 · 7 H2O of the handbooks.
        vitriol = rescue.green_vitriol_g_per_l
        # 278.01 as printed; the sum of the atomic weights is 278.006
        self.assertAlmostEqual(vitriol, 278.01 * rescue.iron_mol_per_l, delta=2e-5 * vitriol)
        now = solver.chemistry(recipe, old)
        self.assertLess(now.ph, ink.ph)  # iron that binds tannin sets acid free

    def test_rate_laws(self):
        # Stumm and Lee: 8.0e13 L2/(mol2 atm min) with the 25 °C ion product of water; the
        # half-life in air at pH 7 is 4.1 min, with 2.58e-4 mol/L of oxygen dissolved.
        constant, factor = ferrogall.iron_law_constant(Law.STUMM_LEE, ph=7.0)
        minutes = math.log(2.0) / (constant * 2.58e-4) / 60.0
        self.assertAlmostEqual(minutes, 4.1, delta=0.2)
        self.assertGreater(factor, 1.0)
        self.assertIn("Stumm", ferrogall.iron_law_source(Law.STUMM_LEE))
        span = ferrogall.inorganic_rate(ph=2.5)
        self.assertTrue(span.low_l_per_mol_s < span.typical_l_per_mol_s < span.high_l_per_mol_s)
        self.assertIs(type(span.low_law), Law)


class Courses(unittest.TestCase):
    def test_a_dish_is_covered(self):
        dish = Vessel(liquid_ml=25.0, open=True, transfer_l_per_s=1e-5, saturated=True)
        rates = Kinetics(oxidation_l_per_mol_s=0.02)
        cover = Event(7.0, Act.CHANGE, vessel=Vessel(open=False))
        iron = Contents(iron_ii_mmol=1.6)
        moments, summary = ferrogall.course(
            dish, rates, iron, [7.0, 14.0], events=[cover], watched_share=0.5
        )
        self.assertTrue(0.0 < summary.reached_days < 7.0)
        self.assertLess(summary.electron_error, 1e-9)
        covered, later = moments
        lost = later.oxidised_share - covered.oxidised_share
        self.assertTrue(0.0 <= lost < 0.05)  # to the brim: what is dissolved, no more
        iron_now = later.contents.iron_ii_mmol + later.contents.iron_iii_mmol
        self.assertAlmostEqual(iron_now, 1.6, places=12)

    def test_events_and_refusals(self):
        bottle = Vessel(liquid_ml=30.0, gas_ml=10.0, temperature_c=18.0, saturated=True)
        rates, iron = Kinetics(iron_per_oxygen=3.0, valid_at_c=20.0), Contents(iron_ii_mmol=1.6)
        events = [
            Event(1.0, Act.POUR, volume_ml=3.0),
            Event(1.0, Act.EXCHANGE, share=0.3),
            Event(2.0, Act.TOP_UP, volume_ml=1.0, contents=Contents(iron_ii_mmol=0.05)),
            Event(3.0, Act.CHANGE, kinetics=Kinetics(oxidation_l_per_mol_s=0.1)),
        ]
        (end,), _ = ferrogall.course(bottle, rates, iron, [3.0], events=events)
        self.assertAlmostEqual(end.liquid_ml, 28.0, places=9)
        self.assertAlmostEqual(end.contents.iron_ii_mmol, 1.6 * 0.9 + 0.05, places=12)
        with self.assertRaises(FerrogallError) as caught:
            ferrogall.course(bottle, rates, iron, [3.0], events=events[::-1])
        self.assertEqual(caught.exception.status, Status.OUT_OF_ORDER)
        with self.assertRaises(FerrogallError) as caught:
            ferrogall.course(bottle, Kinetics(metal_per_s=math.nan), iron, [3.0])
        self.assertEqual(caught.exception.argument, "metal_per_s")


if __name__ == "__main__":
    unittest.main()
