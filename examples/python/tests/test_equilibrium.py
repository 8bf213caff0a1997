"""pH and species."""

import copy
import math
import pickle
import unittest
from array import array
from concurrent.futures import ThreadPoolExecutor

import ferrogall
from ferrogall import (
    Columns,
    Constants,
    EquilibriumRow,
    FerrogallError,
    Master,
    Solver,
    Status,
    Totals,
)
from workshop import Workshop


class Solutions(unittest.TestCase):
    def setUp(self):
        self.solver = Solver(temperature_c=25.0)

    def test_hydrochloric_acid(self):
        # 0.01 mol/kg: -log10(0.01 × 0.90), the activity coefficient of any handbook.
        solution = self.solver.solve(Totals(chloride_mol_per_kg=0.01))
        self.assertAlmostEqual(solution.ph, 2.04, delta=0.01)
        self.assertAlmostEqual(solution.ionic_strength_mol_per_kg, 0.01, places=6)
        self.assertTrue(solution.within_validity)
        self.assertLessEqual(solution.residual, 1e-12)
        core = Solver(temperature_c=25.0, constants=Constants.CORE)
        self.assertAlmostEqual(core.solve(Totals(chloride_mol_per_kg=0.01)).ph, 2.04, delta=0.01)

    def test_species_and_solids(self):
        totals = Totals(calcium_mol_per_kg=0.1, sulfate_mol_per_kg=0.1)
        species = {one.name: one for one in self.solver.species(totals)}
        self.assertEqual((species["SO4-2"].charge, species["Ca+2"].charge), (-2, 2))
        held = sum(one.molality_mol_per_kg for name, one in species.items() if "Ca" in name)
        self.assertAlmostEqual(held, 0.1, places=12)
        gypsum = next(one for one in self.solver.solids(totals) if one.name == "gypsum")
        self.assertTrue(gypsum.saturation_index > 0.0 and gypsum.forms_promptly)

    def test_a_pH_is_reached_and_has_a_span(self):
        vinegar = Totals(acetate_mol_per_kg=0.1)
        sodium = self.solver.total_for_ph(vinegar, Master.SODIUM, ph=4.5)
        half = Totals(acetate_mol_per_kg=0.1, sodium_mol_per_kg=sodium)
        self.assertAlmostEqual(self.solver.solve(half).ph, 4.5, places=9)
        low, high = self.solver.ph_interval(half)
        self.assertTrue(low < 4.5 < high)
        self.refused(
            Status.UNREACHABLE,
            "ph",
            lambda: self.solver.total_for_ph(vinegar, Master.CHLORIDE, ph=9.0),
        )

    def refused(self, status, argument, call):
        with self.assertRaises(FerrogallError) as caught:
            call()
        self.assertEqual((caught.exception.status, caught.exception.argument), (status, argument))

    def test_constants_are_changed_in_one_solver_alone(self):
        half = Totals(acetate_mol_per_kg=0.1, sodium_mol_per_kg=0.05)
        before = self.solver.solve(half).ph
        other = self.solver.copy()
        other.set_log_k("HAcetate", 5.757)
        self.assertAlmostEqual(other.solve(half).ph, before + 1.0, delta=0.02)
        other.remove_species("NaAcetate")
        other.add_species("Na+ + Acetate- = NaAcetate", 2.0, enthalpy_kj_per_mol=12.0)
        self.assertLess(other.solve(half).ph, before + 0.9)
        self.assertEqual(copy.copy(self.solver).solve(half).ph, before)
        self.assertEqual(self.solver.solve(half).ph, before)

    def test_open_to_the_air(self):
        rain = Solver(temperature_c=20.0, carbon_dioxide_atm=4.25e-4)
        self.assertAlmostEqual(rain.solve(Totals()).ph, 5.6, delta=0.1)  # unpolluted rain

    def test_refusals(self):
        solver, nan = self.solver, math.nan
        chloride = Totals(chloride_mol_per_kg=nan)
        self.refused(Status.INPUT_NAN, "chloride_mol_per_kg", lambda: solver.solve(chloride))
        self.refused(Status.OUT_OF_RANGE, "temperature_c", lambda: Solver(temperature_c=99.0))
        air = {"carbon_dioxide_atm": nan}
        self.refused(Status.INPUT_NAN, "carbon_dioxide_atm", lambda: Solver(**air))
        self.refused(Status.FOREIGN_VALUE, "constants", lambda: Solver(constants=9))
        self.refused(Status.UNKNOWN_NAME, "species", lambda: solver.remove_species("FeX"))
        self.refused(Status.BAD_EQUATION, "equation", lambda: solver.add_species("Fe+3", 1.0))
        solver.close()
        self.refused(Status.NULL_POINTER, "solver", lambda: solver.solve(Totals()))

    def test_formulas(self):
        self.assertEqual(ferrogall.master_formula(Master.IRON_III), "Fe+3")

    def test_one_solver_for_many_threads(self):
        acid = [0.001 * n for n in range(1, 101)]
        expected = [self.solver.solve(Totals(chloride_mol_per_kg=x)).ph for x in acid]
        column = array("d", acid)

        def work(_):
            rows = self.solver.rows({Master.CHLORIDE: column})
            one = [self.solver.solve(Totals(chloride_mol_per_kg=x)).ph for x in acid]
            return rows.column("ph").tolist(), one

        with ThreadPoolExecutor(4) as pool:
            for both in pool.map(work, range(12)):
                self.assertEqual(both, (expected, expected))


class Inks(unittest.TestCase):
    def setUp(self):
        self.room = Workshop()
        self.recipe = self.room.recipe()
        self.solver = Solver()

    def test_report(self):
        report = self.solver.report(self.recipe)
        self.assertEqual(report.ph, self.solver.solve(self.recipe.totals()).ph)
        self.assertTrue(report.ph_low <= report.ph <= report.ph_high)
        self.assertLess(report.ph_settled, report.ph)
        self.assertAlmostEqual(sum(report.iron_ii), 1.0, places=9)
        settles = math.isnan(report.settles_at_share)
        self.assertEqual(settles, report.settles_first == "")
        self.assertEqual(repr(pickle.loads(pickle.dumps(report))), repr(report))

    def test_doses(self):
        add = self.room.shelf.add
        acid, other = add("hydrochloric_acid"), add("sulfuric_acid")
        dose = self.solver.dose_for_ph(self.recipe, acid, ph=1.8)
        again = self.solver.dose(self.recipe, acid, mass_g=dose.mass_g)
        self.assertAlmostEqual(again.ph, 1.8, places=9)
        equal = self.solver.equal_dose(self.recipe, acid, mass_g=dose.mass_g, instead=other)
        self.assertAlmostEqual(equal.ph, 1.8, places=9)
        self.assertLess(equal.mass_g, dose.mass_g)
        with self.assertRaises(FerrogallError) as caught:
            self.solver.dose(self.recipe, self.room.galls, mass_g=1.0)
        self.assertEqual(caught.exception.status, Status.NEEDS_EXTRACTION)
        with self.assertRaisesRegex(ValueError, "another shelf"):
            elsewhere = Workshop().tannin
            self.solver.equal_dose(self.recipe, acid, mass_g=1.0, instead=elsewhere)

    def test_water_and_preservatives(self):
        self.assertEqual(self.solver.preservatives(self.recipe), [])
        self.recipe.add(self.room.shelf.add("sodium_benzoate"), mass_g=1.0)
        (benzoate,) = self.solver.preservatives(self.recipe)
        self.assertEqual(benzoate.component, "benzoate")
        ph = self.solver.solve(self.recipe.totals()).ph
        # pKa 4.20 of the handbooks; at 0.1 mol/kg a single charge has a coefficient of 0.77.
        share = 1.0 / (1.0 + 10.0 ** (ph - 4.20) / 0.77)
        self.assertAlmostEqual(benzoate.undissociated_share, share, delta=0.01)
        self.recipe.make_up(self.room.shelf.add("hard_tap_water"), volume_ml=1000.0)
        effect = self.solver.water_effect(self.recipe)
        self.assertGreater(effect.ph, effect.ph_with_pure_water)

    def test_rows(self):
        grams = array("d", [10.0, 20.0, math.nan, -1.0])
        plan = Columns([self.room.vitriol, self.room.tannin], water=self.room.water)
        rows = plan.equilibrium(self.solver, [grams, 25.0], 1000.0)
        bad = [Status.INPUT_NAN, Status.OUT_OF_RANGE]
        self.assertEqual(list(rows.status), [Status.OK, Status.OK, *bad])
        self.assertEqual(rows.bad_rows, 2)
        self.assertIsInstance(rows[0], EquilibriumRow)
        self.assertAlmostEqual(rows[1].ph, self.solver.report(self.recipe).ph, places=9)
        self.assertTrue(math.isnan(rows[2].ph))
        again = pickle.loads(pickle.dumps(rows))
        self.assertEqual(again[1], rows[1])
        acid = self.solver.rows({Master.CHLORIDE: array("d", [0.01, 0.1]), Master.IRON_II: 0.0})
        one = self.solver.solve(Totals(chloride_mol_per_kg=0.01)).ph
        self.assertEqual(acid.column("ph")[0], one)
        with self.assertRaisesRegex(TypeError, r"mol_per_kg\[0\]"):
            self.solver.rows({Master.CHLORIDE: [1.0]})


if __name__ == "__main__":
    unittest.main()
