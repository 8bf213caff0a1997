/*
 * A calligrapher has galls from the hedge, a kitchen balance and a jug. How sure
 * is the ink that follows from them: the interval of iron per galloyl, the chance
 * of iron in excess, how many galls make that unlikely, which measurement would
 * help most, and what a spot test of the galls changes.
 *
 *   cc -std=c99 -I include examples/c/how_sure.c -L target/release -lferrogall -lm -o how_sure
 */
#include <ferrogall.h>

#include <stdio.h>
#include <stdlib.h>

static const uint64_t seed = 20;
static const char *one_to_one = "one_iron_per_galloyl"; /* up to 1.05 */
static FgallError error = FGALL_INIT(FgallError);

/* Stops with the library's own words when a call has failed. */
static void must(FgallStatus status)
{
    if (status == FGALL_OK)
        return;
    fprintf(stderr, "%s\n%s\n", fgall_status_text(status), error.message);
    exit(1);
}

static size_t lot(FgallShelf *shelf, const char *material, const char *name)
{
    FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
    size_t index;
    spec.material = material;
    spec.name = name;
    must(fgall_shelf_add_lot(shelf, &spec, &index, &error));
    return index;
}

/* The ratio with its interval, and the three sources that matter most. */
static void answer(const char *when, const FgallStudy *study, uint32_t draws)
{
    FgallAnswer ratio = FGALL_INIT(FgallAnswer);
    size_t count;
    must(fgall_study_source_count(study, &count, &error));
    FgallHelp *helps = malloc((count + 1) * sizeof *helps);
    if (helps == NULL)
        exit(1);
    must(fgall_study_helps(study, FGALL_MEASURAND_IRON_PER_GALLOYL, seed, draws, &ratio, helps,
                           count, &count, &error));
    printf("iron per galloyl %s: %.2f (%.2f to %.2f)%s\n", when, ratio.value, ratio.low,
           ratio.high, ratio.method == FGALL_METHOD_FIRST_ORDER ? "" : ", by draws");
    for (size_t i = 0; i < count && i < 3; i++) {
        char remedy[FGALL_TEXT_BYTES];
        size_t needed;
        must(fgall_remedy_text(helps[i].remedy, remedy, sizeof remedy, &needed, &error));
        printf("  %3.0f %% of the variance: %s (%s)\n", 100.0 * helps[i].share, helps[i].name,
               remedy);
    }
    free(helps);
}

/* What the draws themselves say: ratio and iron of the same inks, in rows. */
static double share_above(const FgallStudy *study, uint32_t draws, double limit)
{
    uint32_t figures[2] = { FGALL_MEASURAND_IRON_PER_GALLOYL, FGALL_MEASURAND_IRON_G_PER_L };
    double(*rows)[2] = malloc(draws * sizeof *rows);
    if (rows == NULL)
        exit(1);
    FgallOutColumn columns[2] = {
        { &rows[0][0], sizeof *rows },
        { &rows[0][1], sizeof *rows },
    };
    must(fgall_study_draws(study, figures, 2, seed, draws, columns, &error));
    size_t above = 0;
    for (uint32_t i = 0; i < draws; i++)
        above += rows[i][0] > limit;
    free(rows);
    return (double)above / draws;
}

int main(int argc, char **argv)
{
    (void)argv;
    uint32_t draws = argc > 1 ? 300 : 5000; /* brief where every step is watched */

    FgallShelf *shelf;
    must(fgall_shelf_new(&shelf, &error));
    size_t galls = lot(shelf, "oak_apples", "hedge galls");
    size_t vitriol = lot(shelf, "iron_ii_sulfate_heptahydrate", "vitriol");
    size_t gum = lot(shelf, "gum_arabic", "gum");
    size_t water = lot(shelf, "distilled_water", "water");

    FgallRecipe *recipe;
    must(fgall_recipe_new("hedge ink", &recipe, &error));
    must(fgall_recipe_begin_solution(recipe, "ink", &error));
    must(fgall_recipe_add_extraction(recipe, shelf, galls, 60.0, water, 500.0, NULL, &error));
    must(fgall_recipe_add_mass(recipe, shelf, vitriol, 7.0, &error));
    must(fgall_recipe_add_mass(recipe, shelf, gum, 8.0, &error));

    FgallKit kit = FGALL_INIT(FgallKit);
    kit.balance_step_g = 0.5;
    kit.cylinder_step_ml = 10.0;
    FgallStudy *study;
    must(fgall_study_new(recipe, &kit, &study, &error));
    fgall_recipe_free(recipe); /* the study has its own */
    answer("before", study, draws);

    /* Mostly enough room: asking how much would draw everything once more. */
    char sentence[2 * FGALL_TEXT_BYTES];
    size_t needed;
    must(fgall_study_advice_text(study, FGALL_MEASURAND_IRON_PER_GALLOYL, seed, draws, sentence,
                                 sizeof sentence, &needed, &error));
    printf("%s\n", sentence);

    double chance, sampling;
    must(fgall_study_excess_iron(study, one_to_one, seed, draws, &chance, &sampling, &error));
    printf("excess iron: %.3f %% of the inks, give or take %.3f; of the draws %.3f %%\n",
           100.0 * chance, 100.0 * sampling, 100.0 * share_above(study, draws, 1.05));
    FgallAssurance sure = FGALL_INIT(FgallAssurance);
    must(fgall_study_assured(study, shelf, galls, one_to_one, 0.95, seed, draws, &sure, &error));
    printf("sure at 95 %%: now %.1f, with %.0f g of galls, times %.2f\n", 100.0 * sure.now,
           sure.mass_g, sure.factor);

    /* A weighed gall, boiled out to the end: the drop with the iron for 12 % of
     * tannin still darkened, that for 18 % no more, each judged to a tenth. */
    FgallMaterial row = FGALL_INIT(FgallMaterial);
    must(fgall_material_find("oak_apples", &row, &error));
    FgallBelief belief = FGALL_INIT(FgallBelief);
    must(fgall_belief_of_range(row.tannin_percent.min / 100.0, row.tannin_percent.typical / 100.0,
                               row.tannin_percent.max / 100.0, &belief, &error));
    printf("tannin of the galls before: %.1f to %.1f %%\n", 100.0 * belief.low,
           100.0 * belief.high);
    must(fgall_belief_update_between(belief.median, belief.u_ln, 0.12, 0.18, 0.1, &belief,
                                     &error));
    printf("tannin of the galls after: %.1f to %.1f %%, %.1f deviations from what was believed\n",
           100.0 * belief.low, 100.0 * belief.high, belief.surprise);

    FgallKnown tested = FGALL_INIT(FgallKnown);
    tested.shape = FGALL_SHAPE_LOG_NORMAL;
    tested.a = belief.median;
    tested.b = belief.u_ln;
    tested.set = FGALL_KNOWN_LIMITS;
    tested.at_least = 0.0;
    tested.at_most = 1.0;
    must(fgall_study_know(study, "hedge galls: tannin", &tested, &error));
    answer("after", study, draws);

    /* A mistake is answered, not obeyed. */
    FgallAnswer none = FGALL_INIT(FgallAnswer);
    FgallStatus status = fgall_study_answer(study, FGALL_MEASURAND_IRON_G_PER_L, seed, 1000000000,
                                            &none, &error);
    if (status != FGALL_OUT_OF_RANGE)
        return 1;
    printf("%s\n%s\n", fgall_status_text(status), error.message);

    fgall_study_free(study);
    fgall_shelf_free(shelf);
    return 0;
}
