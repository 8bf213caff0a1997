"""A small shelf for the tests."""

from ferrogall import Recipe, Shelf


class Workshop:
    def __init__(self, price_per_kg=None):
        self.shelf = Shelf()
        self.vitriol = self.shelf.add(
            "iron_ii_sulfate_heptahydrate", name="vitriol", price_per_kg=price_per_kg
        )
        self.tannin = self.shelf.add("tannic_acid", name="tannin", tannin=(0.9, 0.02))
        self.galls = self.shelf.add("aleppo_galls", name="galls")
        self.water = self.shelf.add("distilled_water", name="water")

    def recipe(self, vitriol_g=20.0):
        recipe = Recipe("ink")
        recipe.begin_solution("all")
        recipe.add(self.vitriol, mass_g=vitriol_g)
        recipe.add(self.tannin, mass_g=25.0)
        recipe.make_up(self.water, volume_ml=1000.0)
        return recipe


def iron_g_per_l(vitriol_g):
    """What a process pool runs: everything is made in the worker."""
    return Workshop().recipe(vitriol_g).evaluate().iron_g_per_l
