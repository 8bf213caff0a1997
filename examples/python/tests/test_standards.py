"""Published specifications, and recipes held against them."""

import unittest

import ferrogall
from ferrogall import Held, Recipe, Requires, Standing, Status, Study, Together

GERMAN = "de_document_class_i"


def published(ink, strength=1.0):
    return Recipe.reference(ink, volume_ml=1000.0, strength=strength)


class Catalogue(unittest.TestCase):
    def test_every_standard_shows_its_source(self):
        found = {one.id: one for one in ferrogall.published_standards()}
        self.assertEqual(len(found), 16)
        for one in found.values():
            self.assertTrue(one.source and one.title)
            self.assertEqual(len(ferrogall.standard_clauses(one.id)), one.clause_count)
        self.assertIs(found["bs_3484_1_1991"].standing, Standing.WITHDRAWN)
        self.assertEqual(found["us_tt_i_563"].own_ink, "us_federal_writing_1935")
        self.assertTrue(found["is_38_1952"].has_own_ink)
        self.assertEqual(found["is_38_1952"].own_ink, "")

    def test_what_has_not_been_seen_has_no_number(self):
        upper = ferrogall.standard_clauses("is_38_1952")[-1]
        self.assertIs(upper.requires, Requires.NOT_SEEN)
        self.assertEqual((upper.min, upper.max), (None, None))
        self.assertIn("not seen", upper.words)

    def test_how_a_figure_is_read_is_told(self):
        percent = ferrogall.standard_clauses("is_220_1988")[0]
        self.assertEqual((percent.min, percent.unit, percent.printed), (1.0, "g/L", "0.1 %"))
        self.assertIn("the basis not seen", percent.note)
        acids = ferrogall.standard_clauses(GERMAN)[0]
        self.assertIn("at least 30 g/L [a figure for 1888", acids.other_figures)
        self.assertIn("from memory", acids.other_figures)

    def test_tests_are_a_checklist(self):
        checklist = ferrogall.standard_programme("nbs_c413")
        self.assertIn("14 days", checklist)
        self.assertIn("Waters 1936", checklist)


class Against(unittest.TestCase):
    def test_the_type_ink_meets_its_rule_as_rounded(self):
        held = ferrogall.held_against(published("german_document_1888"), GERMAN)
        self.assertIs(held.together.composition, Together.MET_AS_ROUNDED)
        self.assertEqual(held.together.tests, 3)
        iron = held.clauses[1]
        self.assertIs(iron.verdict, Held.MEETS_AS_ROUNDED)
        # 30 g of green vitriol: 6.0263 g of iron against at most 6.
        self.assertAlmostEqual(iron.margin, -0.0263, places=4)
        self.assertAlmostEqual(held.clauses[0].other_figure, 31.1, places=9)
        self.assertIs(held.clauses[2].verdict, Held.CANNOT_BE_COMPUTED)
        self.assertIsNone(held.clauses[2].figure)

    def test_pages(self):
        ink = published("us_federal_writing_1935")
        page = ferrogall.standard_text(ink, "is_38_1952")
        self.assertIn("between 3.0 and 3.9 g/L, not seen", page)
        self.assertIn("Irish Standard", ferrogall.standards_text(ink))
        self.assertIn("Irish Statute Book", ferrogall.standards_text(ink))

    def test_chances_by_draws(self):
        ink = published("german_document_1888", 0.95)
        held = ferrogall.drawn_against(Study(ink), GERMAN, seed=1, draws=200)
        self.assertEqual(held.together.chance_as_stated, 1.0)  # pure substances
        again = ferrogall.drawn_against(Study(ink), GERMAN, seed=1, draws=200)
        self.assertEqual(held, again)

    def test_numbers_that_do_not_fit(self):
        study = Study(published("german_document_1888"))
        for seed, draws in ((-1, 200), (2**64, 200), (1, -5), (1, 2**33)):
            with self.assertRaises(ferrogall.FerrogallError) as refused:
                ferrogall.drawn_against(study, GERMAN, seed=seed, draws=draws)
            self.assertIs(refused.exception.status, Status.OUT_OF_RANGE)

    def test_no_such_standard(self):
        with self.assertRaises(ferrogall.FerrogallError) as refused:
            ferrogall.held_against(published("german_document_1888"), "no such")
        self.assertIs(refused.exception.status, Status.UNKNOWN_NAME)


if __name__ == "__main__":
    unittest.main()
