/*
 * Fits of every built-in model to any points: refused, or ended with a status, flags and numbers that agree.
 * Models that simulate are left to fuzz_treatment: a fit of one takes seconds.
 */
#include "reader.h"

#include <math.h>

static const char *name_at(size_t i)
{
    return hf_model_at(i)->name;
}

static void check_fit(const hf_fit *fit, const hf_fit_description *d, hf_status run)
{
    double covariance[HF_FIT_PARAMETERS_MAX * HF_FIT_PARAMETERS_MAX];
    double fitted[FZ_LIST_MAX], residual[FZ_LIST_MAX], leverage[FZ_LIST_MAX];
    double value[FZ_LIST_MAX], half[FZ_LIST_MAX];
    double first[8], second[8], rss;
    size_t hits, open;
    hf_fit_summary summary;
    hf_fit_estimate estimate;
    hf_interval interval;
    hf_message message = {""};
    if (hf_failed(hf_fit_get_summary(fit, &summary)))
        return;
    if (run == HF_OK && (!summary.converged || !(summary.rss >= 0) || !isfinite(summary.rss)))
        fz_fail("converged %d, rss %g", summary.converged, summary.rss);
    (void)hf_fit_reason(fit);
    for (size_t j = 0; j < summary.parameters; j++) {
        if (hf_fit_get_estimate(fit, j, &estimate) != HF_OK)
            fz_fail("no estimate of parameter %zu", j);
        const hf_fit_parameter *p = &d->parameters[j];
        if (run == HF_OK && (!isfinite(estimate.value) ||
                             (!p->fixed && (estimate.value < p->low || estimate.value > p->high))))
            fz_fail("%s = %g, of %g to %g", estimate.name, estimate.value, p->low, p->high);
        (void)hf_fit_note(fit, j);
    }
    fz_check_status("covariance", hf_fit_get_covariance(fit, covariance, NULL));
    if (hf_fit_get_points(fit, fitted, residual, NULL, leverage, NULL) == HF_OK && run == HF_OK)
        for (size_t i = 0; i < d->points; i++)
            if (!isfinite(fitted[i]) || leverage[i] < -1e-6 || leverage[i] > 1 + 1e-6)
                fz_fail("point %zu: fitted %g, leverage %g", i, fitted[i], leverage[i]);
    fz_check_status("minimum", hf_fit_get_minimum(fit, 0, &rss, NULL, &hits));
    fz_check_status("minimum", hf_fit_get_minimum(fit, 8, &rss, NULL, &hits));
    if (run != HF_OK)
        return;
    const hf_status s = hf_fit_profile(fit, 0, 0.95, &interval);
    fz_check_status("profile", s);
    if (s == HF_OK && (isnan(interval.low) || isnan(interval.high) || interval.low > interval.high))
        fz_fail("interval %g to %g", interval.low, interval.high);
    hf_interval all[HF_FIT_PARAMETERS_MAX];
    hf_status each[HF_FIT_PARAMETERS_MAX];
    fz_check_status("profiles", hf_fit_profiles(fit, 0.95, all, each));
    if (each[0] != s ||
        (s == HF_OK && (all[0].low != interval.low || all[0].high != interval.high)))
        fz_fail("alone %g to %g (%s), together %g to %g (%s)", interval.low, interval.high,
                hf_status_code(s), all[0].low, all[0].high, hf_status_code(each[0]));
    if (summary.parameters > 1)
        fz_check_status("region", hf_fit_region(fit, 0, 1, 0.9, 8, first, second, &open));
    fz_check_status("bands",
                    hf_fit_bands(fit, d->points, d->x, d->sigma, NULL, 0.95, value, half, NULL));
    const hf_fit *both[] = {fit, fit};
    double delta[2], weight[2];
    fz_check_status("compare", hf_fit_compare(both, 2, delta, weight, &message));
}

static void check_bootstrap(const hf_fit *fit, hf_bootstrap_kind kind)
{
    hf_bootstrap *b = NULL;
    hf_interval interval;
    double error;
    const hf_status s = hf_bootstrap_new(&b, fit, kind, 8, 3);
    fz_check_status("bootstrap", s);
    if (s == HF_OK) {
        if (hf_bootstrap_count(b) + hf_bootstrap_failures(b) != 8 || !hf_bootstrap_values(b))
            fz_fail("%zu replicates", hf_bootstrap_count(b));
        fz_check_status("interval", hf_bootstrap_interval(b, 0, 0.9, &interval, &error));
    }
    hf_bootstrap_free(b);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    const hf_model *model = hf_model_at(fz_choose(&r, hf_model_count(), name_at));
    if (model->values)
        return 0;
    double x[FZ_LIST_MAX * 4], y[FZ_LIST_MAX], sigma[FZ_LIST_MAX];
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    hf_message message = {""};
    hf_fit *fit = NULL;
    if (model->columns > 4)
        fz_fail("%s has %zu columns", model->name, model->columns);
    fz_check_status("describe", hf_model_describe(model, &d, p));
    const unsigned how = fz_byte(&r);
    d.points = fz_length(&r);
    for (size_t c = 0; c < model->columns; c++) {
        double one[FZ_LIST_MAX];
        fz_list(&r, d.points, one);
        for (size_t i = 0; i < d.points; i++)
            x[i * model->columns + c] = one[i];
    }
    fz_list(&r, d.points, y);
    fz_list(&r, d.points, sigma);
    for (size_t j = 0; j < d.parameter_count; j++) {
        const unsigned change = fz_byte(&r);
        if (isnan(p[j].start) && p[j].fixed)
            p[j].start = fz_within(&r, 0, 1);
        if (change & 1)
            p[j].start = fz_double(&r);
        if (change & 2)
            p[j].low = fz_double(&r);
        if (change & 4)
            p[j].high = fz_double(&r);
        if (change & 8)
            p[j].fixed = (int)(change >> 4 & 1);
    }
    if (how & 1) { /* points near a curve of the model itself */
        double b[HF_FIT_PARAMETERS_MAX];
        for (size_t j = 0; j < d.parameter_count; j++)
            b[j] = fz_within(&r, isfinite(p[j].low) ? p[j].low : 0,
                             isfinite(p[j].high) ? p[j].high : 10);
        for (size_t i = 0; i < d.points; i++)
            if (hf_failed(model->value(x + i * model->columns, b, d.user, &y[i])))
                y[i] = 0;
            else
                y[i] *= 1 + 0.01 * fz_within(&r, -1, 1);
    }
    d.x = x;
    d.y = y;
    d.weighting = (hf_weighting)(fz_byte(&r) % 4);
    d.sigma = how & 2 ? sigma : NULL;
    d.weights = how & 4 ? sigma : NULL;
    d.loss = how & 8 ? HF_LOSS_HUBER : HF_LOSS_SQUARES;
    d.huber = how & 16 ? fz_double(&r) : 0;
    d.starts = 1 + (how >> 5 & 1);
    d.iterations = 30;
    const hf_status s = hf_fit_new(&fit, &d, &message);
    fz_check_status("fit", s);
    if (s == HF_OK) {
        const hf_status run = hf_fit_run(fit);
        fz_check_status("run", run);
        if (hf_failed(run) && !hf_fit_message(fit)[0])
            fz_fail("the run failed (%s) without a sentence", hf_status_text(run));
        check_fit(fit, &d, run);
        if (run == HF_OK && (how & 64))
            check_bootstrap(fit, (hf_bootstrap_kind)(how >> 7));
    } else if (!message.text[0]) {
        fz_fail("refused (%s) without a sentence", hf_status_text(s));
    }
    hf_fit_free(fit);
    return 0;
}
