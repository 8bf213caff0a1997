"""Handles: freed once, shared by threads, kept out of pickles."""

import copy
import gc
import multiprocessing
import pickle
import unittest
from array import array
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from unittest import mock

from ferrogall import Columns, Recipe, Shelf, Solver, Study, _library
from workshop import Workshop, iron_g_per_l


class Freeing(unittest.TestCase):
    def counting(self, kind):
        """Counts the calls of a ..._free function, which it still calls."""
        name = f"fgall_{kind}_free"
        free = mock.Mock(side_effect=_library._functions[name])
        patch = mock.patch.dict(_library._functions, {name: free})
        patch.start()
        self.addCleanup(patch.stop)
        return free

    def test_each_thing_is_freed_once(self):
        room = Workshop()
        makers = {
            "shelf": Shelf,
            "recipe": room.recipe,
            "columns": lambda: Columns([room.vitriol], water=room.water),
            "solver": Solver,
            "study": lambda: Study(room.recipe()),
        }
        for kind, make in makers.items():
            free = self.counting(kind)
            with self.subTest(kind), make() as thing:
                self.assertEqual(free.call_count, 0)
                thing.close()
                self.assertEqual(free.call_count, 1)
            thing.close()
            del thing
            gc.collect()
            self.assertEqual(free.call_count, 1)

    def test_forgotten_things_are_freed(self):
        free = self.counting("recipe")
        room = Workshop()
        for _ in range(100):
            room.recipe()
        gc.collect()
        self.assertEqual(free.call_count, 100)

    def test_what_was_never_made_is_not_freed(self):
        free = self.counting("recipe")
        for _ in range(3):
            with self.assertRaises(ValueError):
                Recipe.reference("no such ink", volume_ml=1.0)
        gc.collect()
        self.assertEqual(free.call_count, 0)

    def test_a_lot_keeps_its_shelf(self):
        lot = Shelf().add("tannic_acid", name="kept")
        gc.collect()
        self.assertEqual(lot.name, "kept")


class Sharing(unittest.TestCase):
    def test_threads_with_their_own_handles(self):
        grams = [1.0 + g for g in range(40)]
        with ThreadPoolExecutor(2) as pool:
            self.assertEqual(list(pool.map(iron_g_per_l, grams)), list(map(iron_g_per_l, grams)))

    def test_one_recipe_read_by_many_threads(self):
        recipe = Workshop().recipe()
        expected = repr(recipe.evaluate())  # NaN does not equal itself
        with ThreadPoolExecutor(8) as pool:
            for got in pool.map(lambda _: recipe.evaluate(), range(400)):
                self.assertEqual(repr(got), expected)

    def test_one_plan_read_by_many_threads_and_closed_meanwhile(self):
        room = Workshop()
        plan = Columns([room.vitriol], water=room.water)
        column = array("d", [float(g) for g in range(1, 2001)])
        expected = plan.evaluate([column], 1000.0).column("mass_g").tolist()
        with ThreadPoolExecutor(4) as pool:
            work = [pool.submit(plan.evaluate, [column], 1000.0) for _ in range(40)]
            work[0].result()
            plan.close()
        for done in work:
            # Begun before the closing: right; begun after it: refused.
            if done.exception() is None:
                self.assertEqual(done.result().column("mass_g").tolist(), expected)
            else:
                self.assertEqual(done.exception().argument, "columns")

    def test_processes(self):
        grams = [5.0, 10.0, 20.0]
        context = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(2, mp_context=context) as pool:
            self.assertEqual(list(pool.map(iron_g_per_l, grams)), list(map(iron_g_per_l, grams)))

    def test_handles_are_not_pickled(self):
        room = Workshop()
        plan = Columns([room.vitriol], water=room.water)
        things = (room.shelf, room.recipe(), plan, room.vitriol, Solver(), Study(room.recipe()))
        for thing in things:
            with self.subTest(type(thing).__name__):
                for protocol in range(pickle.HIGHEST_PROTOCOL + 1):
                    with self.assertRaisesRegex(TypeError, "pickle"):
                        pickle.dumps(thing, protocol)
        with self.assertRaises(TypeError):
            copy.copy(room.shelf)

    def test_results_and_errors_are(self):
        ink = Workshop().recipe().evaluate()
        self.assertEqual(pickle.loads(pickle.dumps(ink)).iron_g_per_l, ink.iron_g_per_l)
        try:
            Recipe.reference("no", volume_ml=1.0)
        except ValueError as error:
            again = pickle.loads(pickle.dumps(error))
            self.assertEqual((again.status, str(again)), (error.status, str(error)))
        else:
            self.fail("not refused")


if __name__ == "__main__":
    unittest.main()
