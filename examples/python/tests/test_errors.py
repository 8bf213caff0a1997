"""What the package says when it refuses."""

import math
import unittest
from pathlib import Path
from unittest import mock

import ferrogall
from ferrogall import (
    Choice,
    Columns,
    Equal,
    FerrogallError,
    Recipe,
    Status,
    Targets,
    _library,
)
from workshop import Workshop


class Refusals(unittest.TestCase):
    def setUp(self):
        self.room = Workshop()

    def refused(self, status, argument, call, *given, **named):
        with self.assertRaises(FerrogallError) as caught:
            call(*given, **named)
        error = caught.exception
        self.assertEqual((error.status, error.argument), (status, argument), str(error))
        self.assertTrue(error.message)
        self.assertIsInstance(error, ValueError)
        return error

    def test_status_argument_value_message(self):
        recipe = self.room.recipe()
        error = self.refused(
            Status.OUT_OF_RANGE, "mass_g", recipe.add, self.room.vitriol, mass_g=-3.0
        )
        self.assertEqual(error.value, -3.0)
        self.assertIn("-3", str(error))
        error = self.refused(Status.INPUT_NAN, "factor", recipe.scale, math.nan)
        self.assertTrue(math.isnan(error.value))
        error = self.refused(Status.OUT_OF_RANGE, "factor", recipe.scale, math.inf)
        self.assertEqual(error.value, math.inf)

    def test_each_kind_of_refusal(self):
        room, add = self.room, self.room.shelf.add
        recipe = room.recipe()
        cases = [
            (Status.UNKNOWN_NAME, "material", add, ("moon_dust",), {}),
            (Status.DOES_NOT_APPLY, "purity", add, ("aleppo_galls",), {"purity": 0.5}),
            (Status.OUT_OF_RANGE, "tannin", add, ("tannic_acid",), {"tannin": (1.5, 0.1)}),
            (Status.BAD_FORMULA, "formula", ferrogall.molar_mass, ("FeSO4)",), {}),
            (Status.BAD_FORMULA, "formula", ferrogall.molar_mass, ("墨水",), {}),
            (Status.NO_SOLUTION, "recipe", Recipe("x").add, (room.vitriol,), {"mass_g": 1.0}),
            (Status.EMPTY, "", Recipe("x").evaluate, (), {}),
            (Status.UNKNOWN_NAME, "ink", Recipe.reference, ("no",), {"volume_ml": 1.0}),
            (Status.UNKNOWN_NAME, "lot_name", recipe.limited_by, ("no",), {"available_g": 1.0}),
            (
                Status.FOREIGN_VALUE,
                "equal",
                recipe.substitute,
                ("tannin", room.galls),
                {"equal": 9},
            ),
            (Status.BAD_JSON, "json", ferrogall.sheet_text, ("{",), {}),
            (Status.BAD_JSON, "json", ferrogall.sheet_json, ('{"no": 1}',), {}),
            (Status.NOT_UTF8, "title", Recipe, ("\ud800",), {}),
            (
                Status.FOREIGN_VALUE,
                "scale",
                ferrogall.hydrometer,
                (),
                {"density_g_per_cm3": 1.1, "temperature_c": 20.0, "scale": 77},
            ),
        ]
        for status, argument, call, given, named in cases:
            with self.subTest(call=call.__name__, given=given):
                self.refused(status, argument, call, *given, **named)

    def test_target_without_a_lot(self):
        room = self.room
        choice = Choice(room.vitriol, room.tannin, room.water)
        targets = Targets(500.0, 0.08, 0.7, gum_g_per_l=10.0)
        error = self.refused(Status.NO_LOT_FOR_TARGET, "gum", Recipe.formulate, choice, targets)
        self.assertTrue(math.isnan(error.value))

    def test_what_python_can_see_by_itself(self):
        room, other = self.room, Workshop()
        recipe = room.recipe()
        with self.assertRaises(TypeError):
            recipe.add(room.vitriol)
        with self.assertRaises(TypeError):
            recipe.add(room.vitriol, mass_g=1.0, volume_ml=1.0)
        for wrong in ("5", None, 1j, 10**400):
            with self.assertRaises((TypeError, OverflowError)):
                recipe.scale(wrong)
        with self.assertRaisesRegex(ValueError, "NUL"):
            Recipe("a\0b")
        with self.assertRaisesRegex(ValueError, "another shelf"):
            Columns([room.vitriol], water=other.water)
        with self.assertRaisesRegex(ValueError, "another shelf"):
            room.shelf.substitute(room.galls, other.tannin, mass_g=1.0, equal=Equal.GALLOYL)

    def test_a_refused_call_leaves_the_recipe_as_it_was(self):
        recipe = self.room.recipe()
        before = repr(recipe.evaluate())
        for call in (
            lambda: recipe.scale(-1.0),
            lambda: recipe.add(self.room.galls, mass_g=math.nan),
            lambda: recipe.to_volume(volume_ml=0.0),
        ):
            with self.assertRaises(FerrogallError):
                call()
        self.assertEqual(repr(recipe.evaluate()), before)

    def test_closed_things_are_refused(self):
        room = self.room
        recipe = room.recipe()
        recipe.close()
        self.refused(Status.NULL_POINTER, "recipe", recipe.evaluate)
        room.shelf.close()
        self.refused(Status.NULL_POINTER, "shelf", room.shelf.add, "tannic_acid")


class Loading(unittest.TestCase):
    def test_a_missing_library_is_answered_with_the_command_that_makes_it(self):
        with mock.patch.dict("os.environ", FERROGALL_LIBRARY="/nowhere/libferrogall.so"):
            with self.assertRaisesRegex(ImportError, "cargo rustc --release --lib") as caught:
                _library._load()
        self.assertIn(str(Path("/nowhere/libferrogall.so")), str(caught.exception))

    def test_another_abi_is_refused(self):
        with mock.patch.object(_library, "ABI_VERSION", 1000):
            with self.assertRaisesRegex(ImportError, "wants 1000"):
                _library._load()


if __name__ == "__main__":
    unittest.main()
