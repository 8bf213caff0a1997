/*
 * A restorer has a receipt of 1740 and a copy of an official formula. What do
 * the old measures mean, and how usual is the ink; is the copy a misprint, and
 * does what it meant keep a specification? Receipt and copy are made up.
 *
 *   cc -std=c99 -I include examples/c/judge.c -L target/release -lferrogall -lm -o judge
 */
#include <ferrogall.h>

#include <stdio.h>
#include <stdlib.h>

enum { GALLS, VITRIOL, GUM, WATER, TANNIC, GALLIC, ACID, PHENOL, DYE, LOTS };
static const char *const materials[LOTS] = {
    "aleppo_galls", "iron_ii_sulfate_heptahydrate", "gum_arabic",
    "distilled_water", "tannic_acid", "gallic_acid_monohydrate",
    "hydrochloric_acid", "phenol", "soluble_blue",
};
static FgallError error = FGALL_INIT(FgallError);

/* Stops with the library's own words when a call has failed. */
static void must(FgallStatus status)
{
    if (status == FGALL_OK)
        return;
    fprintf(stderr, "%s\n%s\n", fgall_status_text(status), error.message);
    exit(1);
}

/* The receipt: what may its measures mean? */
static void read_receipt(const FgallShelf *shelf)
{
    FgallSetting setting = FGALL_INIT(FgallSetting);
    setting.place = "england";
    setting.from_year = 1740;
    setting.to_year = 1740;
    const FgallOldLine lines[] = {
        { GALLS, FGALL_ROLE_GALLS, FGALL_GOODS_UNKNOWN, "4 oz" },
        { VITRIOL, FGALL_ROLE_IRON_SALT, FGALL_GOODS_UNKNOWN, "2 oz" },
        { GUM, FGALL_ROLE_GUM, FGALL_GOODS_UNKNOWN, "1 oz" },
        { WATER, FGALL_ROLE_LIQUID, FGALL_GOODS_UNKNOWN, "a quart" },
    };
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        uint32_t kind;
        FgallRange span;
        must(fgall_old_amount(&setting, lines[i].amount, lines[i].goods, &kind, &span, &error));
        printf("%s: %.0f (%.0f to %.0f) %s\n", lines[i].amount, span.typical, span.min, span.max,
               kind == FGALL_QUANTITY_MASS ? "g" : "mL");
    }

    FgallOldRecipe old = FGALL_INIT(FgallOldRecipe);
    old.title = "To make ink";
    old.setting = &setting;
    old.lines = lines;
    old.line_count = sizeof lines / sizeof *lines;
    old.ending = FGALL_ENDING_YIELDS;
    old.yields = "a pint"; /* boiled down to it */
    FgallReading reading = FGALL_INIT(FgallReading);
    FgallRecipe *recipe;
    must(fgall_recipe_read_new(shelf, &old, &reading, &recipe, &error));
    printf("ends with %.0f mL (%.0f to %.0f), galls %.0f g/L, %zu doubts\n",
           reading.final_volume_ml.typical, reading.final_volume_ml.min,
           reading.final_volume_ml.max, reading.galls_g_per_l, reading.doubt_count);
    double below;
    must(fgall_historic_percentile(FGALL_FIGURE_GALLS_G_PER_L, reading.galls_g_per_l, NULL, 0,
                                   &below, &error));
    printf("%.0f %% of old recipes have fewer galls\n", below);

    /* What each doubt would make of it. */
    for (size_t doubt = 0; doubt < reading.doubt_count; doubt++) {
        FgallRecipe *meant;
        FgallComposition ink = FGALL_INIT(FgallComposition);
        must(fgall_recipe_read_meant_new(shelf, &old, doubt, &meant, &error));
        if (meant == NULL)
            continue;
        must(fgall_recipe_evaluate(meant, &ink, &error));
        printf("  doubt %zu: %.0f mL with %.1f g/L of iron\n", doubt, ink.volume_ml,
               ink.iron_g_per_l);
        fgall_recipe_free(meant);
    }
    fgall_recipe_free(recipe); /* NULL where there is none */
}

/* What is wrong with a recipe, and what may have been meant by it: the best
 * slip behind its worst finding, or NULL. */
static FgallRecipe *check(const FgallRecipe *recipe)
{
    FgallFinding findings[32];
    size_t count;
    FgallRecipe *meant = NULL;
    must(fgall_recipe_findings(recipe, NULL, findings, 32, &count, &error));
    for (size_t i = 0; i < count; i++) {
        FgallSlip slips[3]; /* there are never more */
        size_t found;
        printf("%s: %s\n", findings[i].code, findings[i].message);
        must(fgall_recipe_slips(recipe, NULL, i, slips, 3, &found, &error));
        for (size_t j = 0; j < found; j++)
            printf("  %s\n", slips[j].message);
        if (meant == NULL && found > 0)
            must(fgall_recipe_corrected_new(recipe, NULL, i, 0, &meant, &error));
    }
    return meant;
}

/* Clause by clause, and what remains to be carried out. */
static void hold(const FgallRecipe *recipe, const char *standard)
{
    FgallClause clauses[16];
    FgallClauseHeld held[16]; /* in the order of the clauses */
    FgallStandardHeld together = FGALL_INIT(FgallStandardHeld);
    size_t count;
    must(fgall_standard_clauses(standard, clauses, 16, &count, &error));
    must(fgall_recipe_standard(recipe, standard, &together, held, 16, &count, &error));
    printf("%s: %s\n", standard, together.summary);
    for (size_t i = 0; i < count; i++) {
        if (held[i].verdict == FGALL_HELD_CANNOT_BE_COMPUTED)
            printf("  to carry out: %s\n", clauses[i].words);
        else if (held[i].verdict == FGALL_HELD_NUMBER_NOT_SEEN)
            printf("  number not seen: %s\n", clauses[i].title);
        else
            printf("  %s: %s by %+.2f %s, chance %.0f %%\n", clauses[i].title,
                   held[i].verdict == FGALL_HELD_DOES_NOT_MEET ? "not met" : "met",
                   held[i].margin, clauses[i].unit, 100.0 * held[i].chance_as_stated);
    }
}

int main(void)
{
    FgallShelf *shelf;
    must(fgall_shelf_new(&shelf, &error));
    for (size_t i = 0; i < LOTS; i++) {
        FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
        size_t lot; /* counts as the names above do */
        spec.material = materials[i];
        if (i == ACID) {
            spec.set = FGALL_LOT_PURITY;
            spec.purity = 0.10;
            spec.purity_u = 0.002;
        }
        must(fgall_shelf_add_lot(shelf, &spec, &lot, &error));
    }
    read_receipt(shelf);

    /* A litre of a copied formula: the figures of phenol and dye have slid down
     * by a line. */
    const struct { size_t lot; double g; } copy[] = {
        { TANNIC, 11.7 }, { GALLIC, 3.8 }, { VITRIOL, 15.0 },
        { ACID, 12.5 },   { PHENOL, 12.5 }, { DYE, 1.0 },
    };
    FgallRecipe *recipe;
    must(fgall_recipe_new("a copy", &recipe, &error));
    must(fgall_recipe_begin_solution(recipe, "ink", &error));
    for (size_t i = 0; i < sizeof copy / sizeof *copy; i++)
        must(fgall_recipe_add_mass(recipe, shelf, copy[i].lot, copy[i].g, &error));
    must(fgall_recipe_make_up(recipe, shelf, WATER, 1000.0, &error));
    FgallRecipe *meant = check(recipe);
    if (meant == NULL)
        return 1;
    hold(meant, "is_38_1952");
    hold(meant, "de_document_class_i");

    fgall_recipe_free(meant);
    fgall_recipe_free(recipe);
    fgall_shelf_free(shelf);
    return 0;
}
