/*
 * A bookbinder's workshop batch: sumac leaf soaked in hard tap water, a green
 * vitriol that has half weathered, and gum. What is in it, how much tannic acid
 * would do instead of the sumac, what is to be said of it, how much of the ink
 * the air in the bottles can spoil, and the sheet to work from.
 *
 *   cc -std=c99 -I include examples/c/batch.c -L target/release -lferrogall -lm -o batch
 */
#include <ferrogall.h>

#include <stdio.h>
#include <stdlib.h>

static FgallError error = FGALL_INIT(FgallError);

/* Stops with the library's own words when a call has failed. */
static void must(FgallStatus status)
{
    if (status == FGALL_OK)
        return;
    fprintf(stderr, "%s\n%s\n", fgall_status_text(status), error.message);
    exit(1);
}

static size_t lot(FgallShelf *shelf, FgallLotSpec spec)
{
    size_t index;
    must(fgall_shelf_add_lot(shelf, &spec, &index, &error));
    return index;
}

static void show(const char *title, const FgallRecipe *recipe)
{
    FgallComposition ink = FGALL_INIT(FgallComposition);
    must(fgall_recipe_evaluate(recipe, &ink, &error));
    printf("%s\n", title);
    printf("  volume            %8.1f mL\n", ink.volume_ml);
    printf("  iron              %8.2f g/L, of it iron(III) %.4f mol/L\n",
           ink.iron_g_per_l, ink.iron_iii_mol_per_l);
    printf("  iron per galloyl  %8.2f (%.2f to %.2f)\n", ink.iron_per_galloyl,
           ink.iron_per_galloyl_low, ink.iron_per_galloyl_high);
    printf("  strong acid       %8.4f mol/L\n", ink.strong_acid_mol_per_l);
    printf("  materials         %8.2f, %zu lines without a price\n", ink.cost,
           ink.unpriced_lines);

    size_t count = 0;
    FgallStatus status = fgall_recipe_lines(recipe, NULL, 0, &count, &error);
    if (status != FGALL_BUFFER_TOO_SMALL)
        must(status);
    FgallLine *lines = malloc(count * sizeof *lines);
    if (lines == NULL)
        exit(1);
    must(fgall_recipe_lines(recipe, lines, count, &count, &error));
    for (size_t i = 0; i < count; i++)
        printf("  %10.2f g  %s\n", lines[i].mass_g, lines[i].lot);
    free(lines);
}

/* What a careful colleague would say, and how the books judge the proportion. */
static void judge(const FgallRecipe *recipe, const FgallKit *kit)
{
    size_t count = 0;
    FgallStatus status = fgall_recipe_findings(recipe, kit, NULL, 0, &count, &error);
    if (status != FGALL_BUFFER_TOO_SMALL)
        must(status);
    FgallFinding *findings = malloc((count + 1) * sizeof *findings);
    if (findings == NULL)
        exit(1);
    must(fgall_recipe_findings(recipe, kit, findings, count, &count, &error));
    for (size_t i = 0; i < count; i++)
        printf("  %s %s: %s\n    (%s)\n",
               findings[i].severity >= FGALL_SEVERITY_WARNING ? "!" : "-",
               findings[i].code, findings[i].message, findings[i].source);
    free(findings);

    FgallVerdict verdicts[32];
    must(fgall_recipe_verdicts(recipe, verdicts, 32, &count, &error));
    for (size_t i = 0; i < count; i++)
        printf("  %.2f of the iron wanted by: %s\n", verdicts[i].factor, verdicts[i].name);
}

/* Rounding line by line, and stock solutions for what is under 15 steps. */
static void weigh(const FgallRecipe *recipe, const FgallKit *kit)
{
    FgallRoundedLine lines[32];
    size_t count;
    must(fgall_recipe_rounding_lines(recipe, kit, lines, 32, &count, &error));
    for (size_t i = 0; i < count; i++)
        printf("  %s: %.2f g, taken as %.2f g\n", lines[i].lot, lines[i].exact_g,
               lines[i].rounded_g);
    FgallStock stocks[32];
    must(fgall_recipe_stocks(recipe, kit, 15.0, stocks, 32, &count, &error));
    for (size_t i = 0; i < count; i++)
        printf("  or: %s %.1f g of %s, make up to %.0f mL, take %.0f mL\n",
               stocks[i].into_water ? "pour slowly into water" : "dissolve",
               stocks[i].weigh_g, stocks[i].lot, stocks[i].dissolve_to_ml, stocks[i].take_ml);
}

static void print_sheet(const FgallRecipe *recipe, const FgallSheetOptions *options)
{
    size_t needed = 0;
    FgallStatus status = fgall_recipe_sheet_text(recipe, options, NULL, 0, &needed, &error);
    if (status != FGALL_BUFFER_TOO_SMALL)
        must(status);
    char *page = malloc(needed);
    if (page == NULL)
        exit(1);
    must(fgall_recipe_sheet_text(recipe, options, page, needed, &needed, &error));
    printf("%s", page);
    free(page);
}

int main(void)
{
    printf("ferrogall %s, data %s\n", fgall_version(), fgall_data_version());
    if (fgall_abi_version() != FGALL_ABI_VERSION)
        return 1;

    FgallShelf *shelf;
    must(fgall_shelf_new(&shelf, &error));

    FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
    spec.material = "iron_ii_sulfate_heptahydrate";
    spec.name = "vitriol from the cellar";
    spec.set = FGALL_LOT_PURITY | FGALL_LOT_HYDRATES | FGALL_LOT_PRICE;
    spec.purity = 0.97;
    spec.purity_u = 0.01;
    spec.hydrate_shares[0] = 0.50; /* still green */
    spec.hydrate_shares[1] = 0.30;
    spec.hydrate_shares[2] = 0.15; /* white crust */
    spec.hydrate_shares[3] = 0.05; /* brown spots */
    spec.price_per_kg = 4.0;
    size_t vitriol = lot(shelf, spec);

    spec = (FgallLotSpec)FGALL_INIT(FgallLotSpec);
    spec.material = "sumac_leaf";
    spec.name = "hedge sumac";
    spec.set = FGALL_LOT_TANNIN;
    spec.tannin = 0.22;
    spec.tannin_u = 0.03;
    size_t sumac = lot(shelf, spec);

    spec = (FgallLotSpec)FGALL_INIT(FgallLotSpec);
    spec.material = "hard_tap_water";
    spec.name = "tap";
    spec.set = FGALL_LOT_ALKALINITY | FGALL_LOT_HARDNESS;
    spec.alkalinity_mg_per_l = 280.0;
    spec.hardness_mg_per_l = 330.0;
    size_t tap = lot(shelf, spec);

    spec = (FgallLotSpec)FGALL_INIT(FgallLotSpec);
    spec.material = "gum_arabic";
    size_t gum = lot(shelf, spec);

    spec.material = "tannic_acid";
    spec.set = FGALL_LOT_TANNIN;
    spec.tannin = 0.88;
    spec.tannin_u = 0.02;
    size_t tannic_acid = lot(shelf, spec);

    FgallRecipe *recipe;
    must(fgall_recipe_new("workshop batch", &recipe, &error));
    must(fgall_recipe_begin_solution(recipe, "sumac liquor", &error));
    FgallSoak pressed = FGALL_INIT(FgallSoak);
    pressed.set = FGALL_SOAK_HOLD_UP;
    pressed.hold_up_g_per_g = 1.2; /* wrung out in a cloth */
    must(fgall_recipe_add_extraction(recipe, shelf, sumac, 120.0, tap, 700.0, &pressed, &error));
    must(fgall_recipe_add_mass(recipe, shelf, gum, 12.0, &error));
    must(fgall_recipe_begin_solution(recipe, "iron water", &error));
    must(fgall_recipe_add_mass(recipe, shelf, vitriol, 18.0, &error));
    must(fgall_recipe_add_volume(recipe, shelf, tap, 150.0, &error));
    must(fgall_recipe_make_up(recipe, shelf, tap, 1000.0, &error));
    show("With sumac:", recipe);

    FgallRecipe *other;
    must(fgall_recipe_copy_new(recipe, &other, &error));
    must(fgall_recipe_substitute(other, "hedge sumac", shelf, tannic_acid,
                                 FGALL_EQUAL_GALLOYL, &error));
    FgallKit kit = FGALL_INIT(FgallKit);
    kit.balance_step_g = 0.5;
    kit.cylinder_step_ml = 10.0;
    FgallRounding rounding = FGALL_INIT(FgallRounding);
    must(fgall_recipe_round(other, &kit, &rounding, &error));
    show("With tannic acid, rounded to half a gram:", other);
    printf("  rounding moves the iron by %+.1f %%\n", 100.0 * rounding.iron_error);

    FgallBottling bottling = FGALL_INIT(FgallBottling);
    must(fgall_recipe_for_bottles(recipe, 20, 30.0, 0.9, 0.05, &bottling, &error));
    FgallComposition ink = FGALL_INIT(FgallComposition);
    must(fgall_recipe_evaluate(recipe, &ink, &error));
    FgallBottle bottle = FGALL_INIT(FgallBottle);
    bottle.capacity_ml = 30.0;
    bottle.fill_ml = bottling.fill_ml;
    bottle.iron_ii_mol_per_l = ink.iron_ii_mol_per_l;
    bottle.set = FGALL_BOTTLE_OPENED | FGALL_BOTTLE_DRAWN;
    bottle.opened_every_days = 30.0;
    bottle.drawn_ml = 0.5;
    FgallOxygenBound bound = FGALL_INIT(FgallOxygenBound);
    must(fgall_oxygen_bound(&bottle, &bound, &error));
    printf("Twenty bottles want %.0f mL. At most %.1f %% of the iron(II) is lost to the\n"
           "air of the filling, and %.1f %% in a year of %llu openings.\n",
           bottling.batch_ml, 100.0 * bound.share_after_filling,
           100.0 * bound.share_after_duration, (unsigned long long)bound.openings);

    printf("Of these bottles with sumac:\n");
    judge(recipe, &kit);
    weigh(recipe, &kit);

    FgallStorage storage = FGALL_INIT(FgallStorage);
    storage.set = FGALL_BOTTLE_OPENED | FGALL_BOTTLE_DRAWN | FGALL_BOTTLE_WALL;
    storage.opened_every_days = bottle.opened_every_days;
    storage.drawn_ml = bottle.drawn_ml;
    storage.wall_polymer = "pet";
    storage.wall_area_cm2 = 55.0;
    storage.wall_thickness_mm = 0.5;
    FgallSheetOptions options = FGALL_INIT(FgallSheetOptions);
    options.kit = &kit;
    options.storage = &storage;
    options.currency = "EUR";
    options.set = FGALL_SHEET_BOTTLES | FGALL_SHEET_SUBSTITUTE;
    options.bottles = 20;
    options.capacity_ml = 30.0;
    options.fill_share = 0.9;
    options.loss_share = 0.05;
    options.lot_name = "hedge sumac";
    options.shelf = shelf;
    options.to_lot = tannic_acid;
    options.equal = FGALL_EQUAL_GALLOYL;
    print_sheet(recipe, &options);

    /* The recipes hold copies of their lots: the shelf may go. */
    fgall_shelf_free(shelf);
    printf("Of the litre with tannic acid:\n");
    judge(other, NULL);

    /* A mistake is answered, not obeyed. */
    bottle.fill_ml = 45.0;
    if (fgall_oxygen_bound(&bottle, &bound, &error) != FGALL_OUT_OF_RANGE)
        return 1;
    printf("%s = %g: %s\n", error.argument, error.value, error.message);
    if (fgall_recipe_scale(NULL, 2.0, &error) != FGALL_NULL_POINTER)
        return 1;
    printf("%s: %s\n", error.argument, error.message);

    fgall_recipe_free(other);
    fgall_recipe_free(recipe);
    return 0;
}
