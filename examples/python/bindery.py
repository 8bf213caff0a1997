"""A bookbinder's workshop makes ink: sumac leaf soaked in hard tap water, a green vitriol
that has half weathered, gum, and 50 mL bottles.

What is in the ink, how much tannic acid would do instead of the sumac, how much of it the
air in the bottles can spoil, and a sweep over the vitriol.
"""

from array import array

import ferrogall
from ferrogall import Columns, Equal, Kit, Recipe, Shelf, Soak, Status


def show(title: str, recipe: Recipe) -> None:
    ink = recipe.evaluate()
    print(title)
    print(f"  volume            {ink.volume_ml:8.1f} mL")
    print(
        f"  iron              {ink.iron_g_per_l:8.2f} g/L, of it iron(III) "
        f"{ink.iron_iii_mol_per_l:.4f} mol/L"
    )
    print(
        f"  iron per galloyl  {ink.iron_per_galloyl:8.2f} "
        f"({ink.iron_per_galloyl_low:.2f} to {ink.iron_per_galloyl_high:.2f})"
    )
    print(f"  strong acid       {ink.strong_acid_mol_per_l:8.4f} mol/L")
    print(f"  materials         {ink.cost:8.2f}, {ink.unpriced_lines} lines without a price")
    for line in recipe.lines():
        print(f"  {line.mass_g:10.2f} g  {line.lot}")


def main() -> None:
    print(f"ferrogall {ferrogall.__version__}, data {ferrogall.DATA_VERSION}")
    shelf = Shelf()
    vitriol = shelf.add(
        "iron_ii_sulfate_heptahydrate",
        name="vitriol from the press room",
        purity=(0.97, 0.01),
        hydrate_shares=(0.50, 0.30, 0.15, 0.05),  # green, faded, white crust, brown spots
        price_per_kg=4.0,
    )
    sumac = shelf.add("sumac_leaf", name="sumac leaf", tannin=(0.22, 0.03), price_per_kg=9.0)
    tap = shelf.add(
        "hard_tap_water", name="tap", alkalinity_mg_per_l=280.0, hardness_mg_per_l=330.0
    )
    gum = shelf.add("gum_arabic", price_per_kg=30.0)
    tannic_acid = shelf.add("tannic_acid", tannin=(0.88, 0.02), price_per_kg=60.0)

    recipe = Recipe("workshop batch")
    recipe.begin_solution("sumac liquor")
    wrung_out = Soak(hold_up_g_per_g=1.2)
    recipe.add_extraction(sumac, plant_g=120.0, liquid=tap, liquid_ml=700.0, soak=wrung_out)
    recipe.add(gum, mass_g=12.0)
    recipe.begin_solution("iron water")
    recipe.add(vitriol, mass_g=18.0)
    recipe.add(tap, volume_ml=150.0)
    recipe.make_up(tap, volume_ml=1000.0)
    show("With sumac:", recipe)

    instead = shelf.substitute(sumac, tannic_acid, mass_g=120.0, equal=Equal.GALLOYL)
    print(
        f"120 g of sumac hold the tannin of {instead.mass_g:.1f} g of tannic acid "
        f"(give or take {200.0 * instead.factor_u:.0f} %),\n"
        "soaked as usual. What this marc keeps back is not missed in the ink:"
    )
    other = recipe.copy()
    other.substitute("sumac leaf", tannic_acid, equal=Equal.GALLOYL)
    kit = Kit(balance_step_g=0.5, cylinder_step_ml=10.0)
    rounding = other.round(kit)
    show("With tannic acid, rounded to half a gram:", other)
    print(f"  rounding moves the iron by {100.0 * rounding.iron_error:+.1f} %")

    for finding in other.findings(kit):
        print(f"  {finding.severity.name.lower()}: {finding.message}")

    bottling = recipe.for_bottles(20, capacity_ml=50.0, fill_share=0.9, loss_share=0.05)
    bound = ferrogall.oxygen_bound(
        capacity_ml=50.0,
        fill_ml=bottling.fill_ml,
        iron_ii_mol_per_l=recipe.evaluate().iron_ii_mol_per_l,
        opened_every_days=30.0,
        drawn_ml=0.5,
    )
    print(
        f"Twenty bottles want {bottling.batch_ml:.0f} mL. At most "
        f"{100.0 * bound.share_after_filling:.1f} % of the iron(II) is lost to the air of the\n"
        f"filling, and {100.0 * bound.share_after_duration:.1f} % in a year of "
        f"{bound.openings} openings."
    )

    print("With 30 g of tannic acid in a litre:")
    vitriol_g = array("d", [10.0, 15.0, 20.0, float("nan"), 30.0])
    plan = Columns([vitriol, tannic_acid], water=tap)
    rows = plan.evaluate([vitriol_g, 30.0], make_up_ml=1000.0)
    ratios = rows.column("iron_per_galloyl")
    for grams, ratio, status in zip(vitriol_g, ratios, rows.status):
        result = f"{ratio:.2f}" if status == Status.OK else Status(status).name
        print(f"  {grams:6.1f} g of vitriol: iron per galloyl {result}")


if __name__ == "__main__":
    main()
