/*
 * A bookbinder has hedge galls of unknown strength and a jar of old green vitriol
 * with a white bloom. What is in them: the vitriol is dried and titrated, a
 * decoction of the galls is tested by drops, and what comes of it goes into the
 * lots of an ink. Then the galls are drawn twice and boiled down on paper first.
 *
 *   cc -std=c99 -I include examples/c/assay.c -L target/release -lferrogall -lm -o assay
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

/* What a balance or a burette leaves open. */
static double u(uint32_t kind, double half_width_or_step)
{
    double u;
    must(fgall_reading_u(kind, half_width_or_step, &u, &error));
    return u;
}

/* The vitriol dried at 105 degC: its waters and hydrates. */
static FgallWeathered dried(double balance_u_g)
{
    FgallDrying pans = FGALL_INIT(FgallDrying);
    FgallAssayed waters = FGALL_INIT(FgallAssayed);
    FgallWeathered was = FGALL_INIT(FgallWeathered);
    uint32_t to;
    pans.pan_g = 30.00;
    pans.with_sample_g = 35.00;
    pans.with_dried_g = 33.40;
    pans.pan_u_g = pans.with_sample_u_g = pans.with_dried_u_g = balance_u_g;
    must(fgall_vitriol_dried_to(105.0, &to, &error));
    must(fgall_vitriol_waters(&pans, to, &waters, NULL, 0, NULL, &error));
    must(fgall_vitriol_weathered(&pans, to, &was, &error));
    printf("waters to an iron: %.2f, from %.2f to %.2f\n", waters.value, waters.low, waters.high);
    printf("hydrates: %.3f of 7, %.3f of 4, %.3f of 1\n", was.hydrate_shares[0],
           was.hydrate_shares[1], was.hydrate_shares[2]);
    return was;
}

/* 0.70 g of it, twice: as it is, and after the rust was brought back. */
static FgallAssayed rusted(FgallTitration *titration)
{
    FgallTitration total;
    FgallAssayed iron = FGALL_INIT(FgallAssayed), share = FGALL_INIT(FgallAssayed);
    char notes[4 * FGALL_TEXT_BYTES];
    size_t needed;
    titration->titrant = FGALL_TITRANT_PERMANGANATE;
    titration->sample = FGALL_SAMPLE_SALT;
    titration->molarity_mol_per_l = 0.0200;
    titration->molarity_u_mol_per_l = 0.0001;
    titration->titrant_name = "permanganate";
    titration->volume_ml = 26.50;
    titration->volume_u_ml = u(FGALL_READ_BURETTE, 0.05);
    total = *titration;
    total.volume_ml = 27.90;
    must(fgall_titration_iron_share(titration, 0.70, u(FGALL_READ_WEIGHED, 0.01), &iron, notes,
                                    sizeof notes, &needed, &error));
    printf("iron(II): %.2f %% of the salt, give or take %.2f\n", 100.0 * iron.value,
           100.0 * iron.u);
    printf("%s\n", notes);
    must(fgall_titration_oxidised_share(titration, &total, &share, NULL, 0, NULL, &error));
    printf("rusted: %.1f %%, give or take %.1f\n", 100.0 * share.value, 100.0 * share.u);
    return share;
}

/* Three samples of a row, the second one spoilt. */
static int row_of_samples(const FgallTitration *titration)
{
    double volume_ml[3] = { 26.50, -1.0, 26.25 }, sample_g[3] = { 0.70, 0.70, 0.69 };
    FgallColumn volumes = { volume_ml, sizeof *volume_ml };
    FgallColumn samples = { sample_g, sizeof *sample_g };
    FgallTitrationRow rows[3];
    uint32_t status[3];
    size_t bad;
    must(fgall_titration_rows(titration, &volumes, &samples, 0.004, 3, rows, sizeof *rows, status,
                              sizeof *status, &bad, &error));
    for (size_t i = 0; i < 3; i++)
        printf("sample %zu: %.2f %% iron(II); %s\n", i + 1, 100.0 * rows[i].iron_share,
               fgall_status_text(status[i]));
    return bad == 1 && status[1] == FGALL_OUT_OF_RANGE;
}

/* The galls boiled out with much water, and iron added by drops. */
static FgallBelief spotted(void)
{
    FgallSpotTest drops = FGALL_INIT(FgallSpotTest);
    FgallSpotPlant galls = FGALL_INIT(FgallSpotPlant);
    FgallBracket tannin = FGALL_INIT(FgallBracket);
    FgallMaterial row = FGALL_INIT(FgallMaterial);
    FgallBelief belief = FGALL_INIT(FgallBelief);
    drops.kind = FGALL_ADDING_IRON;
    drops.given_ml = 1.0;
    drops.given_u_ml = 0.05;
    drops.iron_mol_per_l = 0.10;
    drops.iron_u_mol_per_l = 0.005;
    drops.last_darkened_ml = 0.20;
    drops.first_not_ml = 0.25;
    galls.liquor_ml = 180.0;
    galls.liquor_u_ml = 3.0;
    galls.plant_g = 10.0;
    galls.plant_u_g = 0.05;
    galls.moisture_share = 0.10;
    galls.moisture_u = 0.02;
    galls.yield_share = 0.85;
    galls.yield_u = 0.07;
    must(fgall_material_find("oak_apples", &row, &error));
    galls.galloyl_mol_per_kg = row.galloyl_mmol_per_g.typical;
    galls.galloyl_u_mol_per_kg = (row.galloyl_mmol_per_g.max - row.galloyl_mmol_per_g.min) / 4.0;
    must(fgall_spot_plant(&drops, &galls, NULL, &tannin, &error));
    must(fgall_belief_of_range(row.tannin_percent.min / 100.0, row.tannin_percent.typical / 100.0,
                               row.tannin_percent.max / 100.0, &belief, &error));
    printf("tannin before: %.1f to %.1f %%\n", 100.0 * belief.low, 100.0 * belief.high);
    must(fgall_belief_update_bracket(belief.median, belief.u_ln, &tannin, &belief, &error));
    printf("tannin after: %.1f to %.1f %%, %.1f deviations off\n", 100.0 * belief.low,
           100.0 * belief.high, belief.surprise);
    return belief;
}

int main(void)
{
    double balance_u_g = u(FGALL_READ_BALANCE, 0.01);
    FgallWeathered vitriol = dried(balance_u_g);
    FgallTitration titration = FGALL_INIT(FgallTitration);
    FgallAssayed rust = rusted(&titration);
    if (!row_of_samples(&titration))
        return 1;
    FgallBelief tannin = spotted();

    /* What was found goes into the lots. */
    FgallShelf *shelf;
    FgallLotSpec spec = FGALL_INIT(FgallLotSpec);
    size_t salt, galls, water, liquor;
    must(fgall_shelf_new(&shelf, &error));
    spec.material = "iron_ii_sulfate_heptahydrate";
    spec.name = "old vitriol";
    spec.set = FGALL_LOT_HYDRATES | FGALL_LOT_OXIDISED;
    for (int i = 0; i < 4; i++)
        spec.hydrate_shares[i] = vitriol.hydrate_shares[i];
    spec.oxidised = rust.value;
    spec.oxidised_u = rust.u;
    must(fgall_shelf_add_lot(shelf, &spec, &salt, &error));
    spec.material = "oak_apples";
    spec.name = "hedge galls";
    spec.set = FGALL_LOT_TANNIN;
    spec.tannin = tannin.median;
    spec.tannin_u = tannin.median * tannin.u_ln;
    must(fgall_shelf_add_lot(shelf, &spec, &galls, &error));
    spec.material = "distilled_water";
    spec.name = "water";
    spec.set = 0;
    must(fgall_shelf_add_lot(shelf, &spec, &water, &error));

    /* Cold over night, then at the simmer; drawn twice, pressed, boiled down. */
    FgallWash washes[3] = {
        { 600.0, 18.0, 12.0, FGALL_STRAINING_NOT_YET, 0.0 },
        { 0.0, 85.0, 2.0, FGALL_STRAINING_PRESSED, 0.0 },
        { 400.0, 85.0, 2.0, FGALL_STRAINING_PRESSED, 0.0 },
    };
    FgallExtraction draw = FGALL_INIT(FgallExtraction);
    FgallLiquor drawn = FGALL_INIT(FgallLiquor);
    draw.plant_g = 80.0;
    draw.grain = FGALL_GRAIN_CRUSHED;
    draw.set = FGALL_EXTRACTION_BOIL_TO_VOLUME;
    draw.boil_down_ml = 400.0;
    draw.washes = washes;
    draw.wash_count = 3;
    must(fgall_extraction_run(shelf, galls, &draw, &drawn, &error));
    printf("liquor: %.0f mL with %.1f mmol galloyl, from %.1f to %.1f; %.0f %% of what was there\n",
           drawn.volume_ml.typical, drawn.galloyl_mmol.typical, drawn.galloyl_mmol.min,
           drawn.galloyl_mmol.max, 100.0 * drawn.extracted_share);
    FgallStrained strained[2];
    size_t count;
    must(fgall_extraction_washes(shelf, galls, &draw, strained, 2, &count, &error));
    for (size_t i = 0; i < count; i++)
        printf("wash %zu: %.0f mL, %.0f %%\n", i + 1, strained[i].volume_ml.typical,
               100.0 * strained[i].share.typical);
    must(fgall_shelf_add_liquor(shelf, galls, &draw, "hedge liquor", &liquor, &error));

    FgallRecipe *recipe;
    FgallComposition ink = FGALL_INIT(FgallComposition);
    must(fgall_recipe_new("hedge ink", &recipe, &error));
    must(fgall_recipe_begin_solution(recipe, "ink", &error));
    must(fgall_recipe_add_volume(recipe, shelf, liquor, 350.0, &error));
    must(fgall_recipe_add_mass(recipe, shelf, salt, 5.0, &error));
    must(fgall_recipe_evaluate(recipe, &ink, &error));
    printf("iron per galloyl: %.2f to %.2f\n", ink.iron_per_galloyl_low,
           ink.iron_per_galloyl_high);

    /* A finished ink is no sample for permanganate. */
    FgallAssayed none = FGALL_INIT(FgallAssayed);
    titration.sample = FGALL_SAMPLE_FINISHED_INK;
    FgallStatus status = fgall_titration_iron_mmol(&titration, &none, NULL, 0, NULL, &error);
    if (status != FGALL_NOT_FOR_SAMPLE)
        return 1;
    printf("%s\n%s\n", fgall_status_text(status), error.message);

    fgall_recipe_free(recipe);
    fgall_shelf_free(shelf);
    return 0;
}
