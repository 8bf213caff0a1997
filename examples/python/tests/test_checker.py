"""Slips behind findings, and the recipe as it may have been meant."""

import unittest

import ferrogall
from ferrogall import Recipe, Severity, Shelf


class Slips(unittest.TestCase):
    def setUp(self):
        shelf = Shelf()
        self.recipe = Recipe("a copy with ten times the phenol")
        self.recipe.begin_solution("ink")
        # NBS RP807: 11.7, 3.8, 15.0 and 1.25 g (as HCl), phenol 1 g, dye 3.5 g.
        for material, mass_g in (
            ("tannic_acid", 13.0),
            ("gallic_acid_monohydrate", 3.8),
            ("iron_ii_sulfate_heptahydrate", 15.0),
            ("hydrochloric_acid", 4.0),
            ("phenol", 10.0),
            ("soluble_blue", 3.5),
        ):
            self.recipe.add(shelf.add(material), mass_g=mass_g)
        self.recipe.make_up(shelf.add("distilled_water"), volume_ml=1000.0)

    def test_a_decimal_point_is_put_back(self):
        finding = self.recipe.findings()[0]
        self.assertEqual(finding.code, "dose_far_from_reference")
        slip = self.recipe.slips(0)[0]
        self.assertEqual((slip.kind, slip.left, slip.changes), ("decimal", None, 1))
        self.assertAlmostEqual(slip.value, finding.value / 10.0, places=12)
        self.assertTrue(slip.message.startswith("if you meant 1 g of phenol"))
        corrected = self.recipe.corrected(0)
        self.assertTrue(all(f.severity < Severity.ERROR for f in corrected.findings()))
        phenol = next(line for line in corrected.lines() if line.lot == "phenol")
        self.assertAlmostEqual(phenol.mass_g, 1.0, places=12)
        # The recipe itself is left as it was.
        self.assertEqual(self.recipe.findings()[0], finding)

    def test_a_published_ink_has_no_slips(self):
        recipe = Recipe.reference("us_federal_writing_1935", volume_ml=1000.0)
        for place, _ in enumerate(recipe.findings()):
            self.assertEqual(recipe.slips(place), [])
        with self.assertRaises(ferrogall.FerrogallError) as caught:
            recipe.corrected(999)
        self.assertEqual(caught.exception.status, ferrogall.Status.NO_SUCH_INDEX)


if __name__ == "__main__":
    unittest.main()
