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
from ferrogall import Recipe

TEA = Path(__file__).parents[2] / "recipes" / "tea_and_tablets.json"


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
