/* Ensembles of a few strands from any plan: parts and whole agree, kept rows go back in, digests are stable. */
#include "treat_kit.h"

#include <string.h>

static int same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static void check_ensemble(hf_ensemble *e, const hf_ensemble_plan *plan, const hf_parameters *set)
{
    hf_ensemble *again = NULL;
    hf_percentiles p;
    hf_share_interval share;
    char digest[17], other[17];
    double row[HF_STRAND_COLUMNS];
    const size_t n = hf_ensemble_count(e);
    hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    control.threads = 1;
    const hf_status run = hf_ensemble_run(e, &control);
    fz_check_status("run", run);
    if (run == HF_OK && hf_ensemble_done(e) != n)
        fz_fail("%zu of %zu strands are done", hf_ensemble_done(e), n);
    if (hf_ensemble_bytes(e) < n * sizeof row || hf_ensemble_get_plan(e)->strands != plan->strands)
        fz_fail("the object does not know itself");
    for (size_t c = 0; c <= HF_STRAND_COLUMNS; c++) {
        fz_check_status("percentiles", hf_ensemble_percentiles(e, (hf_strand_column)c, &p));
        const hf_status s = hf_ensemble_share(e, (hf_strand_column)c, &share);
        fz_check_status("share", s);
        if (s == HF_OK && !(share.low >= 0 && share.low <= share.high && share.high <= 1))
            fz_fail("share %g from %g to %g", share.share, share.low, share.high);
    }
    hf_ensemble_digest(e, digest);
    if (hf_ensemble_new(&again, plan, set, NULL) != HF_OK)
        fz_fail("the same plan is refused the second time");
    hf_ensemble_digest(again, other);
    if (strcmp(digest, other) != 0)
        fz_fail("digests %s and %s", digest, other);
    for (size_t i = 0; i < n; i++) {
        const double status = hf_ensemble_column(e, HF_STRAND_STATUS)[i];
        for (int c = 0; c < HF_STRAND_COLUMNS; c++) {
            row[c] = hf_ensemble_column(e, (hf_strand_column)c)[i];
            if (status == 0 && isinf(row[c]))
                fz_fail("%s of strand %zu is %g", hf_strand_column_at((size_t)c)->name, i, row[c]);
        }
        if (status == HF_EINTERNAL || status == HF_ENOMEM)
            fz_fail("strand %zu: \"%s\": %s", i, hf_status_text((hf_status)status),
                    hf_ensemble_message(e));
        if (hf_ensemble_is_done(e, i) && hf_ensemble_put(again, row) != HF_OK)
            fz_fail("row %zu does not go back in", i);
    }
    const size_t first = hf_ensemble_first(e);
    if (n && row[0] != (double)(first + n))
        fz_fail("the last strand is %g, not %zu", row[0], first + n);
    if (hf_ensemble_merge(again, e) != HF_OK)
        fz_fail("the same ensemble cannot be joined: %s", hf_ensemble_message(again));
    for (size_t i = 0; i < n; i++)
        for (int c = 0; c < HF_STRAND_COLUMNS; c++)
            if (!same(hf_ensemble_column(again, (hf_strand_column)c)[i],
                      hf_ensemble_column(e, (hf_strand_column)c)[i]))
                fz_fail("%s of strand %zu differs", hf_strand_column_at((size_t)c)->name, i);
    hf_ensemble_free(again);
}

/* What decides a column; without rows of the catalogue, which would take too many runs. */
static void check_analysis(const hf_ensemble_plan *given, const hf_parameters *set,
                           hf_strand_column answer)
{
    hf_ensemble_plan plan = *given;
    hf_factor factor[HF_INPUTS_MAX];
    hf_index index[HF_INPUTS_MAX];
    hf_effect effect[HF_INPUTS_MAX];
    hf_sensitivity summary;
    const hf_screening_options screening = {2, 2, 1};
    const hf_sensitivity_options sobol = {32, 1, HF_DRAW_RANDOM, 50, 0.9, NULL};
    size_t n = 0;
    plan.draw_parameters = 0;
    const hf_status known = hf_strand_factors(&plan, set, answer, factor, &n, NULL);
    fz_check_status("factors", known);
    if (known == HF_OK && n > HF_INPUTS_MAX)
        fz_fail("%zu factors", n);
    fz_check_status("effects", hf_strand_morris_effects(&plan, set, answer, &screening, NULL,
                                                        effect, &summary, NULL));
    plan.step_count = 0;
    fz_check_status("indices", hf_strand_sobol_indices(&plan, set, answer, &sobol, NULL, index,
                                                       &summary, NULL));
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    hf_population population = {"", "", "", "", HF_ASSUMED, 4e-9, 1e-9, 1.3, 0.2, 0, 0.05};
    hf_step steps[3];
    hf_message message = {""};
    hf_ensemble *e = NULL;
    double wild[HF_STRAND_COLUMNS];
    const hf_parameters *set = fz_set(&r);
    const unsigned how = fz_byte(&r);
    plan.fibre = fz_fibre(&r);
    plan.room = fz_room(&r);
    plan.simulation = fz_options(&r);
    plan.simulation.keep_profiles = 0;
    plan.simulation.max_steps = 150;
    plan.strands = fz_byte(&r) % 5;
    plan.seed = fz_byte(&r);
    plan.draw_parameters = how & 1;
    plan.parts = how & 2 ? fz_byte(&r) % 4 : 1;
    plan.part = how & 2 ? fz_byte(&r) % 4 : 1;
    if (how & 4)
        plan.within_head = fz_within(&r, 0, 0.5);
    if (how & 8) {
        population.area = fz_within(&r, 1e-9, 2e-8);
        population.area_spread = fz_within(&r, 0, 5e-9);
        population.ellipticity = fz_within(&r, 1, 3);
        population.ellipticity_spread = fz_within(&r, 0, 1);
        population.medulla_low = fz_within(&r, 0, 0.5);
        population.medulla_high = fz_within(&r, 0, 0.5);
        plan.population = &population;
    } else if (how & 16) {
        plan.population = hf_population_at(fz_byte(&r) % 5);
    }
    if (how & 64)
        plan.pull = fz_within(&r, 0, 5);
    for (size_t c = 0; c < HF_STRAND_COLUMNS; c++)
        wild[c] = how & 32 ? fz_double(&r) : 0;
    while (plan.step_count < 3 && fz_more(&r))
        steps[plan.step_count++] = fz_step(&r);
    plan.steps = steps;
    const hf_status status = hf_ensemble_new(&e, &plan, set, &message);
    fz_check_status("ensemble", status);
    if (status == HF_OK) {
        if (how & 32)
            fz_check_status("put", hf_ensemble_put(e, wild));
        else
            check_ensemble(e, &plan, set);
        if (how & 128)
            check_analysis(&plan, set, (hf_strand_column)(how % (HF_STRAND_COLUMNS + 1)));
    } else if (!message.text[0]) {
        fz_fail("refused (%s) without a sentence", hf_status_text(status));
    }
    hf_ensemble_free(e);
    return 0;
}
