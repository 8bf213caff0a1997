"""Figures of chemistry against handbooks."""

import math
import unittest

import ferrogall
from ferrogall import Baume, FerrogallError, Kind, Status


class MolarMasses(unittest.TestCase):
    def test_handbook_values(self):
        # CRC Handbook of Chemistry and Physics, 102nd ed. 2021, except where said.
        handbook = {
            "H2O": 18.015,
            "HCl": 36.461,
            "H2SO4": 98.079,
            "FeCl3": 162.204,
            "C76H52O46": 1701.2,  # supplier's data sheet of tannic acid
            "C7H6O5.H2O": 188.14,  # supplier's data sheet of gallic acid
        }
        for formula, printed in handbook.items():
            got = ferrogall.molar_mass(formula)
            digits = len(str(printed).split(".")[1])
            # Older atomic weights within the uncertainty, and half the last digit.
            allowed = got.u_g_per_mol + 0.5 * 10.0**-digits
            with self.subTest(formula):
                self.assertLess(abs(got.molar_mass_g_per_mol - printed), allowed)
                self.assertGreater(got.u_g_per_mol, 0.0)

    def test_green_vitriol_from_the_iupac_weights(self):
        # Abridged standard atomic weights (IUPAC 2021): Fe 55.845, S 32.06, O 15.999, H 1.008.
        expected = 55.845 + 32.06 + 11 * 15.999 + 14 * 1.008
        for formula in ("FeSO4.7H2O", "FeSO4·7H2O"):
            got = ferrogall.molar_mass(formula).molar_mass_g_per_mol
            self.assertAlmostEqual(got, expected, places=9)


class Solutions(unittest.TestCase):
    def test_density_of_water(self):
        # CRC Handbook, "Properties of water", g/cm3, to four places: the temperature scale
        # of the formula moves the fifth.
        for temperature_c, printed in ((20.0, 0.9982), (25.0, 0.9970)):
            got = ferrogall.water_density_g_per_cm3(temperature_c=temperature_c)
            self.assertLessEqual(abs(got - printed), 5e-5)

    def test_acetic_acid(self):
        # CRC Handbook 102nd ed., "Concentrative properties of aqueous solutions":
        # 3 % acetic acid at 20 °C is 0.501 mol/L and 1.0025 g/cm3.
        vinegar = ferrogall.solution("acetic_acid", mass_percent=3.0, temperature_c=20.0)
        self.assertLessEqual(abs(vinegar.mol_per_l - 0.501), 5.1e-4)
        self.assertLessEqual(abs(vinegar.density_g_per_cm3 - 1.0025), 5.1e-5)
        again = ferrogall.solution("acetic_acid", mol_per_l=vinegar.mol_per_l, temperature_c=20.0)
        self.assertAlmostEqual(again.mass_percent, 3.0, places=9)

    def test_american_baume(self):
        # By definition 145 - 145/s at 60/60 °F: s = 1.5 is 48.33 °Bé, and 100 °Tw.
        water = ferrogall.water_density_g_per_cm3(temperature_c=140.0 / 9.0)
        shown = ferrogall.hydrometer(density_g_per_cm3=1.5 * water, temperature_c=140.0 / 9.0)
        self.assertAlmostEqual(shown.degrees_baume, 145.0 - 145.0 / 1.5, places=3)
        self.assertAlmostEqual(shown.degrees_twaddell, 100.0, places=3)
        density = ferrogall.density_from_baume_g_per_cm3(
            shown.degrees_baume, temperature_c=140.0 / 9.0, scale=Baume.AMERICAN
        )
        self.assertAlmostEqual(density, 1.5 * water, places=9)

    def test_exactly_one_strength(self):
        for given in ({}, {"mass_percent": 1.0, "mol_per_l": 1.0}):
            with self.assertRaises(TypeError):
                ferrogall.solution("acetic_acid", temperature_c=20.0, **given)


class Catalogue(unittest.TestCase):
    def test_every_material_is_found_by_its_identifier_and_has_a_source(self):
        every = ferrogall.materials()
        self.assertGreater(len(every), 50)
        self.assertEqual({material.kind for material in every}, set(Kind))
        for material in every:
            self.assertEqual(ferrogall.material(material.id).index, material.index)
            self.assertTrue(ferrogall.material_source(material.id))

    def test_figures_that_do_not_apply_are_nan(self):
        vitriol = ferrogall.material("iron_ii_sulfate_heptahydrate")
        self.assertEqual(vitriol.formula.replace("·", "."), "FeSO4.7H2O")
        self.assertFalse(vitriol.is_plant)
        self.assertTrue(math.isnan(vitriol.tannin_percent.typical))
        self.assertTrue(ferrogall.material("aleppo_galls").is_plant)

    def test_unknown_material(self):
        with self.assertRaises(FerrogallError) as caught:
            ferrogall.material("moon_dust")
        self.assertEqual(caught.exception.status, Status.UNKNOWN_NAME)
        self.assertIn("moon_dust", str(caught.exception))


if __name__ == "__main__":
    unittest.main()
