/*
 * How the ledger ink of a bookbinder keeps: bound, estimate and floor of a bottle
 * on the bench, what would help, which bottles the batch belongs in, what two
 * observations tell, how to bring an old bottle back, a row of fills, and a dish
 * that was left open over a fortnight.
 *
 *   cc -std=c99 -I include examples/c/keeping.c -L target/release -lferrogall -lm -o keeping
 */
#include <ferrogall.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static FgallError error = FGALL_INIT(FgallError);

/* Stops with the library's own words when a call has failed. */
static void must(FgallStatus status)
{
    if (status == FGALL_OK)
        return;
    fprintf(stderr, "%s\n%s\n", fgall_status_text(status), error.message);
    exit(1);
}

static size_t lot(FgallShelf *shelf, const char *material)
{
    FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
    size_t index;
    spec.material = material;
    must(fgall_shelf_add_lot(shelf, &spec, &index, &error));
    return index;
}

static FgallRecipe *ledger_ink(void)
{
    FgallShelf *shelf;
    must(fgall_shelf_new(&shelf, &error));
    size_t vitriol = lot(shelf, "iron_ii_sulfate_heptahydrate");
    size_t tannin = lot(shelf, "tannic_acid");
    size_t acid = lot(shelf, "hydrochloric_acid");
    size_t water = lot(shelf, "distilled_water");
    FgallRecipe *recipe;
    must(fgall_recipe_new("ledger ink", &recipe, &error));
    must(fgall_recipe_begin_solution(recipe, "all", &error));
    must(fgall_recipe_add_mass(recipe, shelf, vitriol, 18.0, &error));
    must(fgall_recipe_add_mass(recipe, shelf, tannin, 14.0, &error));
    must(fgall_recipe_add_mass(recipe, shelf, acid, 6.0, &error));
    must(fgall_recipe_make_up(recipe, shelf, water, 1000.0, &error));
    fgall_shelf_free(shelf); /* the recipe keeps its lots */
    return recipe;
}

static FgallForecast say(const char *title, const FgallStoredInk *ink, const FgallKeeping *keeping)
{
    FgallForecast f = FGALL_INIT(FgallForecast);
    must(fgall_forecast(ink, keeping, 21, &f, &error));
    printf("%s: iron(II) lost %.1f %% (%.1f to %.1f %%), at most %.1f %%, at least about %.1f %%\n",
           title, 100.0 * f.typical.lost_share, 100.0 * f.lost_low_share,
           100.0 * f.lost_high_share, 100.0 * f.bound_share, 100.0 * f.floor.lost_share);
    if (isnan(f.typical.days_to_share))
        printf("  a fifth of it is not lost while the bottle lasts\n");
    else
        printf("  a fifth of it is lost after %.0f days\n", f.typical.days_to_share);
    return f;
}

static void what_helps(const FgallStoredInk *ink, const FgallKeeping *keeping)
{
    FgallMeasure measures[16];
    FgallBought bought[16];
    size_t count;
    must(fgall_measures_usual(ink, keeping, measures, 16, &count, &error));
    must(fgall_measures_rank(ink, keeping, measures, count, 5, bought, &error));
    for (size_t i = 0; i < count; i++) {
        char text[256], caution[512];
        size_t needed;
        must(fgall_measure_text(&bought[i].measure, text, sizeof text, &needed, &error));
        must(fgall_measure_caution(&bought[i].measure, caution, sizeof caution, &needed, &error));
        printf("  %+5.1f points: %s\n", 100.0 * bought[i].saved_share, text);
        if (caution[0])
            printf("                (%s)\n", caution);
    }
}

/* What was seen of a witness, half full and never opened, becomes a rate of the
 * maker's own. */
static FgallStoredInk observed(FgallStoredInk ink)
{
    FgallKeeping witness = FGALL_INIT(FgallKeeping);
    witness.capacity_ml = 50.0;
    witness.fill_ml = 25.0;
    FgallSighting seen[2] = {
        { 30.0, FGALL_SEEN_IRON_II, 0.75, 0.02 },
        { 60.0, FGALL_SEEN_IRON_II, 0.60, 0.02 },
    };
    static FgallFit fit = FGALL_INIT(FgallFit); /* the ink points at it */
    must(fgall_fit(&ink, &witness, seen, 2, &fit, &error));
    printf("observed: %.2g L/(mol s), within a factor of %.1f; misfit %.1f\n",
           fit.assisted_l_per_mol_s, fit.assisted_factor_95, fit.misfit);
    ink.fit = &fit;
    return ink;
}

static void bring_back(FgallSolver *solver, const FgallRecipe *recipe, const FgallOutcome *old)
{
    FgallRescue rescue = FGALL_INIT(FgallRescue);
    FgallInkChemistry now = FGALL_INIT(FgallInkChemistry);
    must(fgall_solver_rescue(solver, recipe, old, &rescue, &error));
    must(fgall_solver_chemistry(solver, recipe, old, &now, &error));
    printf("pH %.2f by then; ", now.ph);
    if (rescue.advice == FGALL_ADVICE_KEEP)
        printf("nothing to do\n");
    else if (rescue.advice == FGALL_ADVICE_MAKE_NEW)
        printf("make a new batch\n");
    else
        printf("filter it, and give each litre %.2f g of green vitriol\n",
               rescue.green_vitriol_g_per_l);
}

static void fills(const FgallStoredInk *ink, const FgallKeeping *keeping)
{
    double fill_ml[4] = { 20.0, 45.0, NAN, 60.0 };
    uint32_t varied = FGALL_VARIED_FILL, status[4];
    FgallColumn column = { fill_ml, sizeof *fill_ml };
    FgallForecastRow rows[4];
    size_t bad;
    must(fgall_forecast_rows(ink, keeping, 0, &varied, &column, 1, 4, rows, sizeof *rows, status,
                             sizeof *status, &bad, &error));
    for (int i = 0; i < 4; i++)
        if (status[i] == FGALL_OK)
            printf("  filled to %.0f mL: %.0f %%\n", fill_ml[i], 100.0 * rows[i].lost_share);
        else
            printf("  filled to %.0f mL: %s\n", fill_ml[i], fgall_status_text(status[i]));
}

/* A dish of 25 mL with 1.6 mmol of iron, covered after a week. */
static void dish(void)
{
    FgallVessel open = FGALL_INIT(FgallVessel), covered = FGALL_INIT(FgallVessel);
    open.liquid_ml = 25.0;
    open.set = FGALL_VESSEL_OPEN | FGALL_VESSEL_TRANSFER | FGALL_VESSEL_SATURATED;
    open.transfer_l_per_s = 1e-5;
    covered.set = FGALL_VESSEL_CLOSED;
    FgallKinetics rates = FGALL_INIT(FgallKinetics);
    rates.oxidation_l_per_mol_s = 0.02;
    FgallEvent cover = { 0 };
    cover.at_days = 7.0;
    cover.kind = FGALL_ACT_CHANGE;
    cover.vessel = &covered;
    FgallCourse course = FGALL_INIT(FgallCourse);
    course.vessel = &open;
    course.kinetics = &rates;
    course.contents.iron_ii_mmol = 1.6;
    course.events = &cover;
    course.event_count = 1;
    course.set = FGALL_COURSE_WATCHED;
    course.watched_share = 0.5;
    double at_days[3] = { 1.0, 7.0, 14.0 };
    FgallColumn times = { at_days, sizeof *at_days };
    FgallMoment moments[3];
    FgallCourseSummary summary = FGALL_INIT(FgallCourseSummary);
    must(fgall_course(&course, &times, 3, moments, sizeof *moments, &summary, &error));
    for (int i = 0; i < 3; i++)
        printf("  day %.0f: %.0f %% oxidised\n", moments[i].at_days,
               100.0 * moments[i].oxidised_share);
    printf("  half of it after %.1f days; the balances hold to %.0e\n", summary.reached_days,
           fmax(summary.iron_error, summary.electron_error));
    if (moments[2].oxidised_share > moments[1].oxidised_share + 0.05)
        exit(1); /* covered to the brim, it gets no more air */
}

int main(int argc, char **argv)
{
    int brief = argc > 1 && strcmp(argv[1], "brief") == 0; /* without the fit, a second's work */
    FgallRecipe *recipe = ledger_ink();
    FgallSolver *solver;
    must(fgall_solver_new(FGALL_CONSTANTS_REVIEWED, 20.0, NAN, &solver, &error));
    FgallStoredInk ink = FGALL_INIT(FgallStoredInk);
    must(fgall_solver_stored_ink(solver, recipe, &ink, &error));
    printf("pH %.2f, iron(II) %.4f mol/L\n", ink.ph, ink.iron_ii_mol_per_l);

    /* 45 mL in a bottle of 50 mL, a fill of the pen every ten days. */
    FgallKeeping keeping = FGALL_INIT(FgallKeeping);
    keeping.capacity_ml = 50.0;
    keeping.fill_ml = 45.0;
    keeping.set = FGALL_BOTTLE_AIR | FGALL_BOTTLE_OPENED | FGALL_BOTTLE_DRAWN |
                  FGALL_BOTTLE_KEPT | FGALL_BOTTLE_STATED_SHARE;
    keeping.temperature_c = 20.0;
    keeping.pressure_kpa = 101.325;
    keeping.opened_every_days = 10.0;
    keeping.drawn_ml = 0.8;
    keeping.kept_days = 90.0;
    keeping.stated_share = 0.2;
    FgallForecast quarter = say("a quarter on the bench", &ink, &keeping);
    what_helps(&ink, &keeping);

    double sizes_ml[3] = { 30.0, 50.0, 250.0 };
    FgallBottleChoice choices[3];
    must(fgall_bottles_rank(&ink, &keeping, 1000.0, 0.95, sizes_ml, 3, choices, &error));
    printf("a litre keeps best in %u bottles of %.0f mL\n", (unsigned)choices[0].bottles,
           choices[0].capacity_ml);

    if (!brief) {
        FgallStoredInk own = observed(ink);
        say("the same, as observed", &own, &keeping);
    }
    bring_back(solver, recipe, &quarter.typical);
    fills(&ink, &keeping);
    dish();

    FgallInorganicRate rate = FGALL_INIT(FgallInorganicRate);
    must(fgall_inorganic_rate(20.0, ink.ph, ink.ionic_strength_mol_per_kg, &rate, &error));
    printf("iron and oxygen alone: %.1e L/(mol s), %.0e to %.0e\n", rate.typical_l_per_mol_s,
           rate.low_l_per_mol_s, rate.high_l_per_mol_s);

    keeping.fill_ml = 55.0; /* more than it holds */
    FgallForecast no = FGALL_INIT(FgallForecast);
    if (fgall_forecast(&ink, &keeping, 1, &no, &error) != FGALL_OUT_OF_RANGE)
        return 1;
    printf("%s = %.0f: %s\n", error.argument, error.value, error.message);

    fgall_solver_free(solver);
    fgall_recipe_free(recipe);
    return 0;
}
