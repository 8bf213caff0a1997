"""Recipes and sheets as JSON, also where the decimal sign is a comma."""

import json
import locale
import os
import shutil
import subprocess
import tempfile
import unittest
from pathlib import Path

import ferrogall
from ferrogall import (
    Bottles,
    Equal,
    FerrogallError,
    Instead,
    Kit,
    Recipe,
    SheetOptions,
    Status,
    Storage,
    Tool,
    ToolKind,
    Wall,
)
from workshop import Workshop

TEA = Path(__file__).parents[2] / "recipes" / "strong_tea.json"


class Sheets(unittest.TestCase):
    def setUp(self):
        self.text = TEA.read_text("utf-8")

    def test_page_and_value_are_of_the_recipe(self):
        recipe = json.loads(self.text)
        page, sheet = ferrogall.sheet_text(self.text), ferrogall.sheet_json(self.text)
        self.assertIn(recipe["title"], page)
        self.assertIn("black tea", page)
        self.assertIn("schema", sheet)
        self.assertEqual(ferrogall.sheet_json(recipe), sheet)

    def test_a_recipe_of_it(self):
        lots = [line.lot for line in Recipe.from_json(self.text).lines()]
        self.assertEqual(lots.count("black tea"), 1)
        self.assertIn("vinegar", lots)


class SheetsOfHandles(unittest.TestCase):
    def setUp(self):
        self.room = Workshop()
        self.recipe = self.room.recipe()

    def test_the_options_are_heard(self):
        priced = self.room.shelf.add("tannic_acid", name="other", price_per_kg=50.0)
        options = SheetOptions(
            kit=Kit(0.5, 10.0, [Tool("tannin", ToolKind.BALANCE, step_g=2.0)]),
            bottles=Bottles(20, capacity_ml=50.0, fill_share=0.9, loss_share=0.05),
            storage=Storage(closure=ferrogall.closures()[-1], opened_every_days=30.0, drawn_ml=0.5),
            currency="guilders",
            substitute=Instead("tannin", priced, Equal.GALLOYL),
        )
        page = self.recipe.sheet_text(options)
        for part in (
            "26 g  tannin",
            "50 mL bottle with 45 mL",
            "opened every 30 days",
            "What other",
        ):
            self.assertIn(part, page)
        self.assertIn("guilders", self.priced(priced).sheet_text(options))
        sheet = self.recipe.sheet_json(options)
        self.assertEqual(sheet["comparison"]["take"], "other")
        self.assertEqual(sheet["oxygen"]["openings"], 12)
        self.assertIsNone(self.recipe.sheet_json()["comparison"])
        self.assertEqual(self.recipe.lines()[1].mass_g, 25.0)

    def priced(self, lot):
        recipe = self.recipe.copy()
        recipe.substitute("tannin", lot, equal=Equal.GALLOYL)
        recipe.add(self.room.tannin, mass_g=1.0)
        return recipe

    def test_either_a_closure_or_a_wall(self):
        wall = Wall(ferrogall.polymers()[0], 80.0, 1.0)
        both = SheetOptions(
            bottles=Bottles(2, 50.0, 0.9),
            storage=Storage(closure=ferrogall.closures()[-1], wall=wall),
        )
        with self.assertRaises(FerrogallError) as caught:
            self.recipe.sheet_text(both)
        self.assertEqual(caught.exception.status, Status.EITHER_OR)
        self.recipe.sheet_text(
            SheetOptions(bottles=Bottles(2, 50.0, 0.9), storage=Storage(wall=wall))
        )

    def test_a_lot_of_a_closed_shelf_is_refused(self):
        options = SheetOptions(substitute=Instead("tannin", self.room.galls, Equal.GALLOYL))
        self.room.shelf.close()
        with self.assertRaises(FerrogallError) as caught:
            self.recipe.sheet_text(options)
        self.assertEqual(caught.exception.argument, "shelf")


class Locale(unittest.TestCase):
    def setUp(self):
        before = locale.setlocale(locale.LC_ALL)
        self.addCleanup(locale.setlocale, locale.LC_ALL, before)

    def comma(self):
        """Sets a locale with a decimal comma; makes one where none is installed."""
        for name in ("de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8", "de_DE", "fr_FR"):
            try:
                locale.setlocale(locale.LC_ALL, name)
                return
            except locale.Error:
                continue
        if shutil.which("localedef"):
            folder = tempfile.mkdtemp()
            self.addCleanup(shutil.rmtree, folder)
            made = os.path.join(folder, "de_DE.UTF-8")
            command = ["localedef", "-i", "de_DE", "-f", "UTF-8", made]
            if subprocess.run(command, capture_output=True, check=False).returncode == 0:
                os.environ["LOCPATH"] = folder
                self.addCleanup(os.environ.pop, "LOCPATH")
                locale.setlocale(locale.LC_ALL, "de_DE.UTF-8")
                return
        self.skipTest("there is no locale with a decimal comma here")

    def test_numbers_do_not_pass_through_it(self):
        text = TEA.read_text("utf-8")

        def figures():
            return (
                ferrogall.molar_mass("FeSO4.7H2O"),
                ferrogall.sheet_text(text),
                ferrogall.sheet_json(text),
                Recipe.from_json(text).evaluate(),
            )

        before = repr(figures())
        self.comma()
        self.assertEqual(locale.localeconv()["decimal_point"], ",")
        self.assertEqual(repr(figures()), before)


if __name__ == "__main__":
    unittest.main()
