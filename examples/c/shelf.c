/*
 * A lettering studio has a few bags and bottles, some nearly empty. What is the
 * cheapest blue-black ink they give, the one with the least weighing, the one
 * that most surely binds its iron; how much ink is in the cupboard; what would
 * 30 mL be on a kitchen balance; and what do stronger inks cost. Names, stocks
 * and prices are made up.
 *
 *   cc -std=c99 -I include examples/c/shelf.c -L target/release -lferrogall -lm -o shelf
 */
#include <ferrogall.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char *one_to_one = "one_iron_per_galloyl";
static FgallError error = FGALL_INIT(FgallError);

/* Stops with the library's own words when a call has failed. */
static void must(FgallStatus status)
{
    if (status == FGALL_OK)
        return;
    fprintf(stderr, "%s\n%s\n", fgall_status_text(status), error.message);
    exit(1);
}

/* A lot on the shelf, and so much of it left. */
static FgallStore bag(FgallShelf *shelf, const char *material, const char *name,
                      double price_per_kg, double on_hand_g)
{
    FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
    FgallStore store = { 0, FGALL_STORE_ON_HAND, on_hand_g, 0.0 };
    spec.material = material;
    spec.name = name;
    spec.set = FGALL_LOT_PRICE;
    spec.price_per_kg = price_per_kg;
    must(fgall_shelf_add_lot(shelf, &spec, &store.lot, &error));
    return store;
}

/* The page, and what the rest of the library says of the recipe. */
static void show(const char *title, const FgallBlend *blend)
{
    size_t needed = 0;
    FgallStatus status = fgall_blend_text(blend, NULL, 0, &needed, &error);
    if (status != FGALL_BUFFER_TOO_SMALL)
        must(status);
    char *page = malloc(needed);
    if (page == NULL)
        exit(1);
    must(fgall_blend_text(blend, page, needed, &needed, &error));
    printf("%s\n%s", title, page);
    free(page);

    FgallRecipe *recipe;
    FgallComposition ink = FGALL_INIT(FgallComposition);
    must(fgall_blend_recipe_new(blend, &recipe, &error));
    must(fgall_recipe_evaluate(recipe, &ink, &error));
    printf("  weighs %.1f g, %.2f g/L of iron\n", ink.mass_g, ink.iron_g_per_l);
    fgall_recipe_free(recipe);
}

static void make(const char *title, const FgallShelf *shelf, const FgallCupboard *cupboard,
                 const FgallWanted *wanted, uint32_t objective)
{
    FgallBlend *blend;
    must(fgall_shelf_make_new(shelf, cupboard, wanted, objective, one_to_one, &blend, &error));
    show(title, blend);

    FgallBlendSummary all = FGALL_INIT(FgallBlendSummary);
    must(fgall_blend_summary(blend, &all, &error));
    printf("  %zu weighings, cost %.2f, %.1f g thrown away\n", all.weighings, all.cost,
           all.waste_g);
    FgallFigure figures[16]; /* there are 14 kinds */
    size_t count;
    must(fgall_blend_figures(blend, figures, 16, &count, &error));
    for (size_t i = 0; i < count; i++)
        if (!figures[i].is_met)
            printf("  not had: %s, off by %+.3g\n", figures[i].name, figures[i].miss);
    fgall_blend_free(blend);
}

int main(void)
{
    FgallShelf *shelf;
    must(fgall_shelf_new(&shelf, &error));
    FgallStore stores[8];
    size_t count = 0;
    stores[count++] = bag(shelf, "iron_ii_sulfate_heptahydrate", "green vitriol", 22.0, 5.0);
    stores[0].set |= FGALL_STORE_PACK; /* hardly any left, but there is a shop */
    stores[0].pack_g = 500.0;
    stores[count++] = bag(shelf, "iron_ii_chloride_tetrahydrate", "iron chloride", 180.0, 25.0);
    stores[count++] = bag(shelf, "tannic_acid", "tannic acid", 104.0, 30.0);
    stores[count++] = bag(shelf, "aleppo_galls", "Aleppo galls, crushed", 56.0, 120.0);
    stores[count++] = bag(shelf, "gallic_acid_monohydrate", "gallic acid", 190.0, 6.0);
    stores[count++] = bag(shelf, "gum_arabic", "gum arabic", 48.0, 80.0);
    stores[count++] = bag(shelf, "tartaric_acid", "tartaric acid", 32.0, 60.0);
    stores[count++] = bag(shelf, "soluble_blue", "soluble blue", 640.0, 9.0);

    FgallCupboard cupboard = FGALL_INIT(FgallCupboard);
    cupboard.water_lot = bag(shelf, "distilled_water", "water", 0.0, 0.0).lot;
    cupboard.stores = stores;
    cupboard.store_count = count;

    FgallWanted wanted = FGALL_INIT(FgallWanted);
    wanted.volume_ml = 500.0;
    wanted.set = FGALL_WANTED_IRON | FGALL_WANTED_IRON_II_PER_GALLOYL |
                 FGALL_WANTED_GALLIC_SHARE | FGALL_WANTED_GUM | FGALL_WANTED_DYE |
                 FGALL_WANTED_PH;
    wanted.iron_g_per_l = (FgallWindow){ 3.0, 4.0 };
    wanted.iron_ii_per_galloyl = (FgallWindow){ 0.55, 0.62 };
    wanted.gallic_share = (FgallWindow){ 0.15, 0.4 };
    wanted.gum_g_per_l = (FgallWindow){ 10.0, 10.0 }; /* exactly so much */
    wanted.dye_g_per_l = (FgallWindow){ 3.0, NAN };   /* at least so much */
    wanted.ph = (FgallWindow){ NAN, 2.4 };

    make("CHEAPEST", shelf, &cupboard, &wanted, FGALL_OBJECTIVE_LEAST_COST);
    make("LEAST WEIGHING", shelf, &cupboard, &wanted, FGALL_OBJECTIVE_FEWEST_WEIGHINGS);
    FgallWanted any_ph = wanted;
    any_ph.set &= ~(uint32_t)FGALL_WANTED_PH;
    make("SUREST", shelf, &cupboard, &any_ph, FGALL_OBJECTIVE_SUREST);

    FgallBlend *most;
    must(fgall_shelf_most_new(shelf, &cupboard, &wanted, &most, &error));
    show("MOST", most);
    FgallMore more[8];
    size_t found;
    must(fgall_blend_more(most, more, 8, &found, &error));
    for (size_t i = 0; i < found; i++)
        printf("  %.0f g of %s: %.0f mL more\n", more[i].mass_g, more[i].name,
               more[i].volume_ml);
    fgall_blend_free(most);

    FgallKit kit = FGALL_INIT(FgallKit);
    kit.balance_step_g = 0.1;
    kit.cylinder_step_ml = 0.5;
    FgallCupboard kitchen = cupboard;
    kitchen.kit = &kit;
    FgallWanted bottle = wanted;
    bottle.volume_ml = 30.0;
    make("30 mL ON A KITCHEN BALANCE", shelf, &kitchen, &bottle, FGALL_OBJECTIVE_CLOSEST);

    /* A ladder of strengths in one call: so much iron at least and at most. */
    double iron[] = { 1.0, 2.0, 3.0, 4.0, NAN, 8.0 };
    enum { ROWS = sizeof iron / sizeof *iron };
    uint32_t varied = FGALL_WANTED_IRON;
    FgallColumn values = { iron, sizeof *iron };
    double grams[ROWS][8];
    FgallOutColumn taken[8];
    for (size_t i = 0; i < count; i++)
        taken[i] = (FgallOutColumn){ &grams[0][i], sizeof grams[0] };
    FgallMadeRow rows[ROWS];
    uint32_t status[ROWS];
    must(fgall_shelf_make_rows(shelf, &cupboard, &wanted, FGALL_OBJECTIVE_LEAST_COST, NULL,
                               &varied, &values, 1, taken, ROWS, rows, sizeof rows[0], status,
                               sizeof status[0], NULL, &error));
    printf("STRENGTHS\n");
    for (size_t i = 0; i < ROWS; i++) {
        if (status[i] == FGALL_OK)
            printf("  %.0f g/L: cost %.2f, %.2f g of vitriol%s\n", iron[i], rows[i].cost,
                   grams[i][0], rows[i].missed > 0.0 ? ", not all that was wanted" : "");
        else
            printf("  row %zu: %s\n", i, fgall_status_text(status[i]));
    }

    /* A mistake is answered, not obeyed. */
    FgallBlend *none = NULL;
    stores[1] = stores[0];
    if (fgall_shelf_make_new(shelf, &cupboard, &wanted, FGALL_OBJECTIVE_LEAST_COST, NULL, &none,
                             &error) != FGALL_NAME_TAKEN)
        return 1;
    printf("%s: %s\n", error.argument, error.message);

    fgall_shelf_free(shelf);
    return 0;
}
