/*
 * The fit object: copies its inputs, finds start values, runs the search, keeps the result.
 */
#include "fit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *copy_text(const char *text)
{
    const size_t size = strlen(text ? text : "") + 1;
    char *out = malloc(size);
    if (out)
        memcpy(out, text ? text : "", size);
    return out;
}

static hf_status copy_parameters(hf_fit *fit, const hf_fit_description *d)
{
    for (size_t j = 0; j < d->parameter_count; j++) {
        const hf_fit_parameter *p = &d->parameters[j];
        fit->names[j] = copy_text(p->name);
        fit->units[j] = copy_text(p->unit);
        if (!fit->names[j] || !fit->units[j])
            return HF_ENOMEM;
        fit->low[j] = isnan(p->low) ? -HUGE_VAL : p->low;
        fit->high[j] = isnan(p->high) ? HUGE_VAL : p->high;
        fit->start[j] = p->start;
        if (p->fixed)
            fit->flags[j] = HF_FIT_FIXED;
        else
            fit->free.index[fit->free.count++] = j;
    }
    return HF_OK;
}

static hf_status copy_data(hf_fit *fit, const hf_fit_description *d)
{
    const size_t n = d->points, cells = n * d->columns;
    const int weighted = d->weighting != HF_WEIGHT_EQUAL;
    fit->block = malloc((cells + (5 + HFI_MINIMA) * n) * sizeof *fit->block);
    if (!fit->block)
        return HF_ENOMEM;
    fit->x = fit->block;
    fit->y = fit->x + cells;
    fit->sw = fit->y + n;
    fit->fitted = fit->sw + n;
    fit->leverage = fit->fitted + n;
    fit->robust = fit->leverage + n;
    fit->search.curves = fit->robust + n;
    memcpy(fit->x, d->x, cells * sizeof *fit->x);
    memcpy(fit->y, d->y, n * sizeof *fit->y);
    for (size_t i = 0; i < n; i++)
        fit->sw[i] = !weighted ? 1 : d->sigma ? 1 / d->sigma[i] : sqrt(d->weights[i]);
    if (d->groups > 0) {
        const size_t entries = d->groups * d->model_parameters;
        fit->group = malloc((n + entries) * sizeof *fit->group);
        if (!fit->group)
            return HF_ENOMEM;
        fit->map = fit->group + n;
        memcpy(fit->group, d->group, n * sizeof *fit->group);
        memcpy(fit->map, d->map, entries * sizeof *fit->map);
    }
    fit->problem = (hfi_problem){
        .n = n,
        .columns = d->columns,
        .p = d->parameter_count,
        .m = d->groups > 0 ? d->model_parameters : d->parameter_count,
        .x = fit->x,
        .y = fit->y,
        .sw = weighted ? fit->sw : NULL,
        .group = fit->group,
        .map = fit->map,
        .value = d->value,
        .values = d->values,
        .gradient = d->gradient,
        .user = d->user,
        .low = fit->low,
        .high = fit->high,
        .typical = fit->typical,
        .noise = d->model_noise,
    };
    return HF_OK;
}

/* A guess does not know the caller's bounds. */
static double within(double guess, double low, double high)
{
    if (isnan(guess) || (guess > low && guess < high) || !(low < high))
        return guess;
    if (isinf(low) || isinf(high))
        return isinf(low) ? high - 0.05 * (fabs(high) + (high == 0))
                          : low + 0.05 * (fabs(low) + (low == 0));
    return guess <= low ? low + 0.05 * (high - low) : high - 0.05 * (high - low);
}

/* Asks the starter for what the caller left open: per group, on the points of that group. A parameter that
 * several groups share takes the mean of their guesses. */
static hf_status guess(hf_fit *fit, const hf_fit_description *d)
{
    const size_t n = d->points, c = d->columns, m = fit->problem.m;
    const size_t groups = d->groups > 0 ? d->groups : 1;
    double sum[HF_FIT_PARAMETERS_MAX] = {0}, own[HF_FIT_PARAMETERS_MAX];
    size_t votes[HF_FIT_PARAMETERS_MAX] = {0};
    double *x = malloc(n * (c + 1) * sizeof *x);
    if (!x)
        return HF_ENOMEM;
    double *y = x + n * c;
    hf_status status = HF_OK;
    for (size_t g = 0; g < groups && status == HF_OK; g++) {
        size_t rows = 0;
        for (size_t i = 0; i < n; i++)
            if (d->groups == 0 || d->group[i] == g) {
                memcpy(x + rows * c, d->x + i * c, c * sizeof *x);
                y[rows++] = d->y[i];
            }
        if (rows == 0)
            continue;
        for (size_t k = 0; k < m; k++)
            own[k] = fit->start[fit->map ? fit->map[g * m + k] : k];
        status = d->starter(rows, x, y, d->user, own);
        for (size_t k = 0; k < m && status == HF_OK; k++) {
            const size_t j = fit->map ? fit->map[g * m + k] : k;
            if (isfinite(own[k])) {
                sum[j] += own[k];
                votes[j]++;
            }
        }
    }
    free(x);
    for (size_t j = 0; j < d->parameter_count && !hf_failed(status); j++)
        if (isnan(fit->start[j])) {
            const double mean = votes[j] > 0 ? sum[j] / (double)votes[j] : (double)NAN;
            fit->start[j] = within(mean, fit->low[j], fit->high[j]);
        }
    return hf_failed(status) ? status : HF_OK;
}

hf_status hf_fit_new(hf_fit **out, const hf_fit_description *description, hf_message *message)
{
    if (message)
        message->text[0] = '\0';
    if (!out || !description)
        return HF_EINVAL;
    hf_status status = hfi_check_description(description, message);
    if (status != HF_OK)
        return status;
    hf_fit *fit = calloc(1, sizeof *fit);
    if (!fit)
        return HF_ENOMEM;
    status = copy_parameters(fit, description);
    if (status == HF_OK)
        status = copy_data(fit, description);
    fit->weighting = description->weighting;
    fit->loss = description->loss;
    fit->huber = description->huber > 0 ? description->huber : 1.345;
    fit->starts = description->starts;
    fit->seed = description->seed;
    fit->parallel = description->parallel;
    fit->groups = description->groups;
    fit->iterations = description->iterations > 0 ? description->iterations : 200;
    int open = 0;
    for (size_t j = 0; j < description->parameter_count; j++)
        open |= isnan(fit->start[j]);
    if (status == HF_OK && open)
        status = guess(fit, description);
    for (size_t j = 0; j < description->parameter_count && status == HF_OK; j++) {
        if (!isfinite(fit->start[j])) {
            if (message)
                snprintf(message->text, sizeof message->text,
                         "%s: no start value could be guessed from these data; give one",
                         fit->names[j]);
            status = HF_EDATA;
        } else if (!(fit->flags[j] & HF_FIT_FIXED)) {
            fit->start[j] = fmin(fmax(fit->start[j], fit->low[j]), fit->high[j]);
        }
        fit->typical[j] = fabs(fit->start[j]);
    }
    if (status != HF_OK) {
        hf_fit_free(fit);
        return status;
    }
    *out = fit;
    return HF_OK;
}

void hf_fit_free(hf_fit *fit)
{
    if (!fit)
        return;
    for (size_t j = 0; j < HF_FIT_PARAMETERS_MAX; j++) {
        free(fit->names[j]);
        free(fit->units[j]);
    }
    free(fit->group);
    free(fit->block);
    free(fit);
}

/* The best minimum of the search to its last digits, then the statistics. */
static hf_status finish(hf_fit *fit, hfi_work *work)
{
    const hfi_problem *problem = &fit->problem;
    const hfi_minimum *best = &fit->search.minima[0];
    hfi_outcome outcome = best->outcome, last;
    memcpy(fit->values, best->values, problem->p * sizeof *fit->values);
    memcpy(fit->from, best->from, problem->p * sizeof *fit->from);
    fit->summary.rss = outcome.rss;
    hf_status status = HF_OK;
    if (outcome.offset > 3e-8)
        status =
            hfi_polish(problem, work, &fit->free, NULL, HFI_CENTRAL, 1e-10, 20, fit->values, &last);
    if (status == HF_OK)
        status = hfi_polish(problem, work, &fit->free, NULL, HFI_FINE, 3e-9, 3, fit->values, &last);
    if (status == HF_OK && fit->loss == HF_LOSS_HUBER)
        status = hfi_robust(fit, problem, work, &fit->free, fit->values, fit->robust,
                            &fit->summary.s, &last);
    if (status != HF_OK)
        return status == HF_ERANGE ? HF_ECONVERGE : status;
    status = hfi_result(fit, work, &last);
    if (status == HF_OK)
        hfi_explain(fit, &last);
    return status;
}

hf_status hf_fit_run(hf_fit *fit)
{
    if (!fit)
        return HF_EINVAL;
    hfi_work work;
    const size_t p = fit->problem.p;
    fit->done = 0;
    fit->message.text[0] = '\0';
    memset(&fit->summary, 0, sizeof fit->summary);
    double *curves = fit->search.curves;
    memset(&fit->search, 0, sizeof fit->search);
    fit->search.curves = curves;
    for (size_t i = 0; i < fit->problem.n; i++)
        fit->robust[i] = 1;
    for (size_t j = 0; j < p; j++) {
        fit->flags[j] &= HF_FIT_FIXED;
        fit->notes[j][0] = '\0';
    }
    hf_status status = hfi_work_new(&work, &fit->problem, fit->problem.n);
    if (status != HF_OK)
        return status;
    status = hfi_search_run(&fit->search, &fit->problem, &work, &fit->free, fit->start, fit->starts,
                            fit->seed, fit->iterations);
    if (status == HF_OK) {
        if (fit->search.kept == 0) {
            snprintf(fit->message.text, sizeof fit->message.text,
                     "the model has no answer for all points at any of %zu start%s; give other "
                     "starts or bounds",
                     fit->search.starts, fit->search.starts == 1 ? "" : "s");
            memcpy(fit->reason, fit->message.text, sizeof fit->reason);
            status = HF_ECONVERGE;
        } else {
            status = finish(fit, &work);
            fit->summary.evaluations = work.evaluations;
            fit->done = status == HF_OK;
            if (status == HF_OK && !fit->summary.converged) {
                status = HF_ECONVERGE;
                snprintf(fit->message.text, sizeof fit->message.text, "%s", fit->reason);
            }
        }
    }
    hfi_work_free(&work);
    if (hf_failed(status) && !fit->message.text[0])
        snprintf(fit->message.text, sizeof fit->message.text, "no result: %s",
                 hf_status_text(status));
    return status;
}
