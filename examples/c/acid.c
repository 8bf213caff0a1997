/*
 * The acid of an ink: its pH and what disputed constants leave open of it, where
 * the iron is, what air will make of it, how much muriatic acid it wants, and a
 * row of doses.
 *
 *   cc -std=c99 -I include examples/c/acid.c -L target/release -lferrogall -lm -o acid
 */
#include <ferrogall.h>

#include <math.h>
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

static size_t lot(FgallShelf *shelf, const char *material)
{
    FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
    size_t index;
    spec.material = material;
    must(fgall_shelf_add_lot(shelf, &spec, &index, &error));
    return index;
}

static void report(FgallSolver *solver, const FgallRecipe *recipe)
{
    FgallInkReport ink = FGALL_INIT(FgallInkReport);
    must(fgall_solver_recipe_report(solver, recipe, &ink, &error));
    printf("pH %.2f (%.2f to %.2f), ionic strength %.3f mol/kg\n", ink.ph, ink.ph_low,
           ink.ph_high, ink.ionic_strength_mol_per_kg);
    printf("iron(II): %.0f %% bare, %.0f %% bound to sulfate\n", 100.0 * ink.iron_ii.free_share,
           100.0 * ink.iron_ii.sulfate_share);
    printf("oxidised by air: pH %.2f, down to %.2f with the pigment settled\n", ink.ph_oxidised,
           ink.ph_settled);
    printf("acid to neutral: %.3f mol/L\n", ink.titratable_acid_mol_per_l);
    if (isnan(ink.settles_at_share))
        printf("no solid of iron(III) settles\n");
    else
        printf("%s settles when %.0f %% of the iron is iron(III)\n", ink.settles_first,
               100.0 * ink.settles_at_share);
}

/* The species that hold most of what is dissolved. */
static void list(FgallSolver *solver, const FgallTotals *totals)
{
    size_t count = 0;
    FgallStatus status = fgall_solver_species(solver, totals, NULL, 0, &count, &error);
    if (status != FGALL_BUFFER_TOO_SMALL)
        must(status);
    FgallSpecies *species = malloc(count * sizeof *species);
    if (species == NULL)
        exit(1);
    must(fgall_solver_species(solver, totals, species, count, &count, &error));
    for (size_t i = 0; i < count; i++)
        if (species[i].molality_mol_per_kg > 1e-3)
            printf("  %-12s %8.5f mol/kg\n", species[i].name, species[i].molality_mol_per_kg);
    free(species);
}

int main(void)
{
    FgallShelf *shelf;
    must(fgall_shelf_new(&shelf, &error));
    size_t vitriol = lot(shelf, "iron_ii_sulfate_heptahydrate");
    size_t tannin = lot(shelf, "tannic_acid");
    size_t acid = lot(shelf, "hydrochloric_acid");
    size_t water = lot(shelf, "distilled_water");

    FgallRecipe *recipe;
    must(fgall_recipe_new("ink", &recipe, &error));
    must(fgall_recipe_begin_solution(recipe, "all", &error));
    must(fgall_recipe_add_mass(recipe, shelf, vitriol, 15.0, &error));
    must(fgall_recipe_add_mass(recipe, shelf, tannin, 12.0, &error));
    must(fgall_recipe_make_up(recipe, shelf, water, 1000.0, &error));

    FgallSolver *solver; /* NAN: closed to the carbon dioxide of the air */
    must(fgall_solver_new(FGALL_CONSTANTS_REVIEWED, 20.0, NAN, &solver, &error));
    report(solver, recipe);
    FgallTotals totals = FGALL_INIT(FgallTotals);
    must(fgall_recipe_totals(recipe, &totals, &error));
    list(solver, &totals);

    FgallPhDose dose = FGALL_INIT(FgallPhDose);
    must(fgall_solver_dose_for_ph(solver, recipe, shelf, acid, 1.6, &dose, &error));
    printf("%.1f mL of acid for pH %.2f\n", dose.volume_ml, dose.ph);
    if (fgall_solver_dose_for_ph(solver, recipe, shelf, acid, 7.0, &dose, &error) !=
        FGALL_UNREACHABLE)
        return 1;
    printf("%s\n", error.message);

    /* A row of chloride in the same ink; one of them is no number. */
    double chloride[4] = { 0.01, 0.02, NAN, 0.04 };
    uint32_t masters[3] = { FGALL_MASTER_IRON_II, FGALL_MASTER_SULFATE, FGALL_MASTER_CHLORIDE };
    FgallColumn columns[3] = {
        { &totals.iron_ii_mol_per_kg, 0 },
        { &totals.sulfate_mol_per_kg, 0 },
        { chloride, sizeof *chloride },
    };
    FgallEquilibriumRow rows[4];
    uint32_t status[4];
    must(fgall_solver_rows(solver, masters, columns, 3, 4, rows, sizeof *rows, status,
                           sizeof *status, NULL, &error));
    for (int i = 0; i < 4; i++)
        if (status[i] == FGALL_OK)
            printf("  %.2f mol/kg of chloride: pH %.2f\n", chloride[i], rows[i].ph);
        else
            printf("  row %d: %s\n", i, fgall_status_text(status[i]));

    fgall_solver_free(solver);
    fgall_recipe_free(recipe);
    fgall_shelf_free(shelf);
    return 0;
}
