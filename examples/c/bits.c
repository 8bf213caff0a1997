/*
 * Prints the bits of twelve figures of each of 1000 recipes, so that they can be
 * compared with those of other languages.
 *
 * The random numbers: state = state * 6364136223846793005 + 1442695040888963407
 * modulo 2^64, from state 1; a number from 0 to 1 is its upper 53 bits times
 * 2^-53. Five of them make a recipe: vitriol, tannic acid and gum in grams, the
 * final volume in millilitres, and the fill of a 50 mL bottle.
 */
#include <ferrogall.h>

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static uint64_t state = 1;

static double random_between(double low, double high)
{
    state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return low + (high - low) * ((double)(state >> 11) / 9007199254740992.0);
}

static void print_bits(double x)
{
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    printf(" %016" PRIx64, bits);
}

static void must(FgallStatus status)
{
    if (status != FGALL_OK) {
        fprintf(stderr, "%s\n", fgall_status_text(status));
        exit(1);
    }
}

/* A lot as the catalogue has it; with tannin, if any, of this mass fraction. */
static size_t lot(FgallShelf *shelf, const char *material, double tannin)
{
    FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
    size_t index;
    spec.material = material;
    spec.set = tannin > 0.0 ? FGALL_LOT_TANNIN : 0;
    spec.tannin = tannin;
    spec.tannin_u = 0.02;
    must(fgall_shelf_add_lot(shelf, &spec, &index, NULL));
    return index;
}

int main(void)
{
    FgallShelf *shelf;
    must(fgall_shelf_new(&shelf, NULL));
    size_t lots[3] = {
        lot(shelf, "iron_ii_sulfate_heptahydrate", 0.0),
        lot(shelf, "tannic_acid", 0.88),
        lot(shelf, "gum_arabic", 0.0),
    };
    size_t water = lot(shelf, "hard_tap_water", 0.0);
    FgallColumns *columns;
    must(fgall_columns_new(shelf, lots, 3, water, &columns, NULL));

    FgallSolver *solver;
    must(fgall_solver_new(FGALL_CONSTANTS_REVIEWED, 20.0, NAN, &solver, NULL));

    for (int i = 0; i < 1000; i++) {
        double mass_g[3];
        mass_g[0] = random_between(1.0, 40.0);
        mass_g[1] = random_between(1.0, 40.0);
        mass_g[2] = random_between(0.0, 20.0);
        double volume_ml = random_between(300.0, 1500.0);
        double fill_ml = random_between(10.0, 50.0);

        FgallRecipe *recipe;
        must(fgall_recipe_new("random", &recipe, NULL));
        must(fgall_recipe_begin_solution(recipe, "ink", NULL));
        for (int k = 0; k < 3; k++)
            must(fgall_recipe_add_mass(recipe, shelf, lots[k], mass_g[k], NULL));
        must(fgall_recipe_make_up(recipe, shelf, water, volume_ml, NULL));
        FgallComposition ink = FGALL_INIT(FgallComposition);
        must(fgall_recipe_evaluate(recipe, &ink, NULL));
        FgallTotals totals = FGALL_INIT(FgallTotals);
        must(fgall_recipe_totals(recipe, &totals, NULL));
        FgallEquilibrium equilibrium = FGALL_INIT(FgallEquilibrium);
        must(fgall_solver_solve(solver, &totals, &equilibrium, NULL));
        fgall_recipe_free(recipe);

        FgallBottle bottle = FGALL_INIT(FgallBottle);
        bottle.capacity_ml = 50.0;
        bottle.fill_ml = fill_ml;
        bottle.iron_ii_mol_per_l = ink.iron_ii_mol_per_l;
        FgallOxygenBound bound = FGALL_INIT(FgallOxygenBound);
        must(fgall_oxygen_bound(&bottle, &bound, NULL));

        FgallColumn mass_columns[3];
        for (int k = 0; k < 3; k++)
            mass_columns[k] = (FgallColumn){ &mass_g[k], 0 };
        FgallColumn make_up = { &volume_ml, 0 };
        FgallRow row;
        uint32_t status;
        must(fgall_columns_evaluate(columns, mass_columns, 3, &make_up, 1, &row, 0, &status, 0,
                                    NULL, NULL));
        must(status);
        FgallEquilibriumRow acid;
        must(fgall_columns_equilibrium(columns, solver, mass_columns, 3, &make_up, 1, &acid, 0,
                                       &status, 0, NULL, NULL));
        must(status);

        printf("%d", i);
        print_bits(ink.volume_ml);
        print_bits(ink.mass_g);
        print_bits(ink.iron_ii_mol_per_l);
        print_bits(ink.galloyl_mol_per_l);
        print_bits(ink.iron_per_galloyl_low);
        print_bits(ink.iron_per_galloyl_high);
        print_bits(ink.strong_acid_mol_per_l);
        print_bits(bound.share_after_filling);
        print_bits(equilibrium.ph);
        print_bits(row.make_up_g);
        print_bits(row.dry_residue_g_per_l);
        print_bits(acid.ph);
        printf("\n");
    }

    fgall_solver_free(solver);
    fgall_columns_free(columns);
    fgall_shelf_free(shelf);
    return 0;
}
