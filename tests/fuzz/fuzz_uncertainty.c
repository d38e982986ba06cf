/* Propagation, rivals and sensitivity of any quantity at any state, with any spreads and options. */
#include "reader.h"

#include <math.h>

#define DRAWS 64

static const char *name_at(size_t i)
{
    return hf_quantity_at(i)->name;
}

static hf_status own_function(const double *x, void *user, double *y)
{
    const unsigned how = *(const unsigned *)user;
    *y = x[0] * x[1] + (how & 1 ? exp(x[0]) : 0) + (how & 2 ? sqrt(x[1]) : 0);
    if (how & 4 && x[0] > 0)
        return HF_ERANGE;
    return how & 8 && x[1] > 1e3 ? HF_ESTOPPED : HF_OK;
}

static void own(fz_reader *r)
{
    hf_variate v[3] = {
        {"a", HF_NORMAL, 0, 1, 0, 0}, {NULL, HF_UNIFORM, 1, 1, 0, 0}, {"c", HF_FIXED, 1, 0, 0, 0}};
    hf_sensitivity_options o = HF_SENSITIVITY_OPTIONS_INIT;
    hf_screening_options screening = HF_SCREENING_OPTIONS_INIT;
    hf_sensitivity summary;
    hf_index indices[3];
    hf_effect effects[3];
    hf_message message = {""};
    unsigned how = fz_byte(r);
    for (int i = 0; i < 3; i++) {
        v[i].low = -(double)INFINITY;
        v[i].high = (double)INFINITY;
        if (fz_byte(r) & 1) {
            double x;
            v[i] = (hf_variate){NULL,         (hf_distribution)(fz_byte(r) % 6),
                                fz_double(r), fz_double(r),
                                fz_double(r), fz_double(r)};
            const hf_status s = hf_variate_quantile_e(&v[i], fz_within(r, 0, 1), &x);
            fz_check_status("quantile", s);
            if (s == HF_OK && !(x >= v[i].low && x <= v[i].high))
                fz_fail("quantile %g outside %g to %g", x, v[i].low, v[i].high);
        }
    }
    o.samples = (size_t)32 << fz_byte(r) % 3;
    o.bootstrap = fz_byte(r);
    o.level = fz_within(r, 0.5, 0.999);
    o.method = (hf_draw_method)(fz_byte(r) % 3);
    hf_status s = hf_sobol_indices(3, v, own_function, &how, &o, indices, &summary, &message);
    fz_check_status("sobol", s);
    if (s == HF_OK && !isfinite(summary.deviation))
        fz_fail("deviation %g", summary.deviation);
    screening.tours = fz_byte(r) % 20;
    screening.levels = fz_byte(r) % 70;
    s = hf_morris_effects(3, v, own_function, &how, &screening, effects, &summary, &message);
    fz_check_status("morris", s);
}

static void of_quantity(fz_reader *r)
{
    const hf_quantity *q = hf_quantity_at(fz_choose(r, hf_quantity_count(), name_at));
    const hf_parameters *set = fz_set(r);
    hf_propagation_options o = HF_PROPAGATION_OPTIONS_INIT;
    hf_sensitivity_options sobol = HF_SENSITIVITY_OPTIONS_INIT;
    hf_screening_options morris = HF_SCREENING_OPTIONS_INIT;
    hf_spread spreads[2];
    double x[HF_ARGUMENTS_MAX], values[DRAWS], answer;
    hf_propagation out;
    hf_percentiles p;
    hf_sensitivity summary;
    hf_index indices[HF_INPUTS_MAX];
    hf_effect effects[HF_INPUTS_MAX];
    hf_factor factors[HF_INPUTS_MAX];
    hf_message message = {""};
    size_t count = 0;
    for (size_t i = 0; i < q->argument_count; i++)
        x[i] = fz_within(r, q->arguments[i].domain_low, q->arguments[i].domain_high);
    const size_t n = fz_byte(r) % 3;
    for (size_t i = 0; i < n; i++)
        spreads[i] =
            (hf_spread){fz_byte(r) % (HF_ARGUMENTS_MAX + 1), (hf_distribution)(fz_byte(r) % 6),
                        fz_within(r, 0, 1), fz_byte(r) & 1 ? fz_double(r) : (double)NAN,
                        fz_byte(r) & 1 ? fz_double(r) : (double)NAN};
    o.draws = 16 + fz_byte(r) % (DRAWS - 15);
    o.parameters = fz_byte(r) & 1;
    o.method = (hf_draw_method)(fz_byte(r) % 3);
    o.spreads = spreads;
    o.spread_count = n;
    hf_status s = hf_propagate(q, x, set, fz_byte(r) & 1u, &o, values, &out, &message);
    fz_check_status("propagate", s);
    if (!hf_failed(s)) {
        size_t missing = 0;
        for (size_t i = 0; i < o.draws; i++)
            missing += isnan(values[i]) != 0;
        if (missing != out.failures || !isfinite(out.value))
            fz_fail("%s: %g; %zu failures, %zu missing", q->name, out.value, out.failures, missing);
        fz_check_status("percentiles", hf_percentiles_of(o.draws, values, out.blocks, &p));
    } else if (!message.text[0]) {
        fz_fail("%s: \"%s\" without a sentence", q->name, hf_status_text(s));
    }
    for (size_t i = 0;; i++) {
        const hf_rival *rival = hf_rival_at(q, i);
        if (!rival)
            break;
        s = hf_rival_evaluate(rival, q, x, set, fz_byte(r) & 1u, &answer, &message);
        fz_check_status("rival", s);
        if (!hf_failed(s) && !isfinite(answer))
            fz_fail("rival of %s: %g", q->name, answer);
    }
    s = hf_quantity_factors(q, x, set, spreads, n, factors, &count, &message);
    fz_check_status("factors", s);
    sobol.samples = 32;
    sobol.bootstrap = 50;
    morris.tours = 2;
    s = hf_quantity_sobol_indices(q, x, set, spreads, n, &sobol, indices, &summary, &message);
    fz_check_status("sobol", s);
    s = hf_quantity_morris_effects(q, x, set, spreads, n, &morris, effects, &summary, &message);
    fz_check_status("morris", s);
    for (size_t i = 0; s == HF_OK && i < summary.factors; i++)
        if (isnan(effects[i].mean) || isnan(effects[i].size))
            fz_fail("%s: effect of %s is no number", q->name, factors[i].name);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    if (fz_byte(&r) & 1)
        own(&r);
    else
        of_quantity(&r);
    return 0;
}
