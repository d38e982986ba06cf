/*
 * Sobol indices: shares of the variance V of an answer that a factor decides.
 *
 * Two independent sets of points A and B, N rows each, and for every factor j the set A with the columns of
 * j from B (saltelli2010):
 *
 *   first_j = mean[f(B) (f(A_j) - f(A))] / V        total_j = mean[(f(A) - f(A_j))^2] / (2 V)   (jansen1999)
 *
 * V from A and B together; f is taken about its mean, which makes the first sum steadier. A and B are the two
 * halves of one sequence of twice the dimension. Intervals: percentile bootstrap over the rows, which takes
 * the rows for independent and so errs on the wide side for a Sobol sequence. Checked against the exact
 * indices of Ishigami's function and of the G function (sobol-functions).
 */
#include "inputs.h"
#include "analysis.h"
#include "stream.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

hf_status hfi_refuse(hf_message *message, hf_status status, const char *text)
{
    if (message)
        snprintf(message->text, sizeof message->text, "%s", text);
    return status;
}

hf_status hfi_call(hf_function f, void *user, const double *x, double *y, int *bad)
{
    const hf_status status = f(x, user, y);
    if (status == HF_ESTOPPED || status == HF_ENOMEM)
        return status;
    *bad = *bad || hf_failed(status) || !isfinite(*y);
    return HF_OK;
}

/* Everything of one analysis. `row` holds f(A), f(B), f(A_0), f(A_1), ... of every row kept. */
typedef struct analysis {
    size_t inputs, factors, kept;
    const hfi_variate *variate;
    const size_t *factor;
    double *u, *x; /* 2 inputs, inputs */
    double *row;   /* samples x (factors + 2) */
} analysis;

static size_t factor_of(const analysis *a, size_t input)
{
    return a->factor ? a->factor[input] : input;
}

/* Number of factors; 0 when their numbers have gaps. */
static size_t count_factors(size_t inputs, const size_t *factor)
{
    size_t most = 0;
    unsigned char seen[HF_INPUTS_MAX] = {0};
    if (!factor)
        return inputs;
    for (size_t i = 0; i < inputs; i++) {
        if (factor[i] >= inputs)
            return 0;
        seen[factor[i]] = 1;
        most = factor[i] > most ? factor[i] : most;
    }
    for (size_t j = 0; j <= most; j++)
        if (!seen[j])
            return 0;
    return most + 1;
}

/* One row of points: fills y[0 .. factors + 1]. */
static hf_status fill_row(analysis *a, hf_function f, void *user, double *y, int *bad)
{
    const double *from_a = a->u, *from_b = a->u + a->inputs;
    hf_status status = HF_OK;
    for (size_t set = 0; set < a->factors + 2 && status == HF_OK && !*bad; set++) {
        for (size_t i = 0; i < a->inputs; i++) {
            const int b = set == 1 || (set > 1 && factor_of(a, i) == set - 2);
            a->x[i] = hfi_variate_at(&a->variate[i], b ? from_b[i] : from_a[i]);
        }
        status = hfi_call(f, user, a->x, &y[set], bad);
    }
    return status;
}

/* Indices from rows taken by `pick` (NULL: each once). first[j], total[j] */
static double indices(const analysis *a, const size_t *pick, double *first, double *total)
{
    const size_t width = a->factors + 2;
    double mean = 0, square = 0;
    memset(first, 0, a->factors * sizeof *first);
    memset(total, 0, a->factors * sizeof *total);
    for (size_t r = 0; r < a->kept; r++) {
        const double *y = a->row + (pick ? pick[r] : r) * width;
        mean += 0.5 * (y[0] + y[1]);
        square += 0.5 * (y[0] * y[0] + y[1] * y[1]);
        for (size_t j = 0; j < a->factors; j++) {
            const double change = y[j + 2] - y[0];
            first[j] += y[1] * change;
            total[j] += change * change;
        }
    }
    const double n = (double)a->kept;
    const double variance = square / n - (mean / n) * (mean / n);
    for (size_t j = 0; j < a->factors; j++) {
        first[j] /= n * variance;
        total[j] /= 2 * n * variance;
    }
    return variance;
}

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void interval(double *values, size_t n, double level, double *low, double *high)
{
    qsort(values, n, sizeof *values, ascending);
    const double tail = 0.5 * (1 - level) * (double)(n - 1);
    const size_t i = (size_t)tail;
    const double x = tail - (double)i;
    *low = values[i] + x * (values[i + 1] - values[i]);
    *high = values[n - 1 - i] - x * (values[n - 1 - i] - values[n - 2 - i]);
}

/* `work`: (2 bootstrap + 2) x factors numbers; `pick`: kept places. */
static void bootstrap(const analysis *a, const hf_sensitivity_options *o, double *work,
                      size_t *pick, hf_index *out)
{
    const size_t times = o->bootstrap;
    double *first = work, *total = work + a->factors, *drawn = work + 2 * a->factors;
    for (size_t b = 0; b < times; b++) {
        for (size_t r = 0; r < a->kept; r++)
            pick[r] = (size_t)(hfi_stream_uniform(o->seed, HFI_STREAM_BOOTSTRAP + b, r) *
                               (double)a->kept);
        (void)indices(a, pick, first, total);
        for (size_t j = 0; j < a->factors; j++) {
            drawn[(2 * j) * times + b] = first[j];
            drawn[(2 * j + 1) * times + b] = total[j];
        }
    }
    for (size_t j = 0; j < a->factors; j++) {
        interval(drawn + (2 * j) * times, times, o->level, &out[j].first_low, &out[j].first_high);
        interval(drawn + (2 * j + 1) * times, times, o->level, &out[j].total_low,
                 &out[j].total_high);
    }
}

static hf_status check(size_t inputs, const hf_sensitivity_options *o, hf_message *message)
{
    if (inputs == 0 || inputs > HF_INPUTS_MAX)
        return hfi_refuse(message, HF_ERANGE, "an analysis needs 1 to 160 inputs");
    if ((unsigned)o->method >= HF_DRAW_METHODS)
        return hfi_refuse(message, HF_EINVAL, "method must be sobol or random");
    if (o->samples < 32 || o->samples > (size_t)1 << 20)
        return hfi_refuse(message, HF_ERANGE, "samples must lie between 32 and 1048576");
    if (o->bootstrap < 50 || o->bootstrap > 10000)
        return hfi_refuse(message, HF_ERANGE, "bootstrap must lie between 50 and 10000");
    if (!(o->level >= 0.5 && o->level <= 0.999))
        return hfi_refuse(message, HF_ERANGE, "level must lie between 0.5 and 0.999");
    return HF_OK;
}

static hf_status sample(analysis *a, hf_function f, void *user, const hf_sensitivity_options *o,
                        hf_sensitivity *summary)
{
    hfi_design design;
    hf_status status = hfi_design_open(&design, 2 * a->inputs, o->method, o->seed, 1);
    if (status != HF_OK)
        return status;
    summary->method = design.method;
    for (size_t r = 0; r < o->samples && status == HF_OK; r++) {
        int bad = 0;
        hfi_design_next(&design, a->u);
        status = fill_row(a, f, user, a->row + a->kept * (a->factors + 2), &bad);
        if (bad)
            summary->failures++;
        else
            a->kept++;
    }
    hfi_design_close(&design);
    summary->evaluations = o->samples * (a->factors + 2);
    return status;
}

/* Takes the mean off every number kept; without it a large mean would drown the differences. */
static void centre(analysis *a, hf_sensitivity *summary)
{
    const size_t width = a->factors + 2;
    double mean = 0;
    for (size_t r = 0; r < a->kept; r++)
        mean += 0.5 * (a->row[r * width] + a->row[r * width + 1]) / (double)a->kept;
    for (size_t i = 0; i < a->kept * width; i++)
        a->row[i] -= mean;
    summary->mean = mean;
}

static hf_status evaluate(analysis *a, const hf_sensitivity_options *o, double *work, size_t *pick,
                          hf_index *out, hf_sensitivity *summary, hf_message *message)
{
    if (2 * a->kept < o->samples)
        return hfi_refuse(message, HF_EDATA, "more than half of the rows of points have no answer");
    centre(a, summary);
    const double variance = indices(a, NULL, work, work + a->factors);
    summary->deviation = sqrt(fmax(variance, 0));
    if (!(summary->deviation > 1e-13 * fabs(summary->mean)))
        return hfi_refuse(message, HF_EDATA, "the answer does not vary, so no input decides it");
    for (size_t j = 0; j < a->factors; j++)
        out[j] = (hf_index){.first = work[j], .total = work[a->factors + j]};
    bootstrap(a, o, work, pick, out);
    return HF_OK;
}

hf_status hf_sobol_indices(size_t inputs, const hf_variate *variates, hf_function function,
                           void *user, const hf_sensitivity_options *options, hf_index *out,
                           hf_sensitivity *summary, hf_message *message)
{
    static const hf_sensitivity_options usual = HF_SENSITIVITY_OPTIONS_INIT;
    const hf_sensitivity_options *o = options ? options : &usual;
    if (message)
        message->text[0] = '\0';
    if (!variates || !function || !out)
        return HF_EINVAL;
    hf_status status = check(inputs, o, message);
    if (status != HF_OK)
        return status;
    analysis a = {
        .inputs = inputs, .factors = count_factors(inputs, o->factor), .factor = o->factor};
    if (a.factors == 0)
        return hfi_refuse(message, HF_EINVAL, "factors count from 0 without gaps");
    hf_sensitivity result = {.factors = a.factors};
    const size_t work_size = (2 * o->bootstrap + 2) * a.factors;
    hfi_variate *ready = malloc(inputs * sizeof *ready);
    double *block = malloc((3 * inputs + o->samples * (a.factors + 2) + work_size) * sizeof *block);
    size_t *pick = malloc(o->samples * sizeof *pick);
    status = ready && block && pick ? HF_OK : HF_ENOMEM;
    for (size_t i = 0; i < inputs && status == HF_OK; i++)
        status = hfi_variate_prepare(&ready[i], &variates[i], message);
    if (status == HF_OK) {
        a.variate = ready;
        a.u = block;
        a.x = block + 2 * inputs;
        a.row = block + 3 * inputs;
        status = sample(&a, function, user, o, &result);
    }
    if (status == HF_OK)
        status = evaluate(&a, o, a.row + o->samples * (a.factors + 2), pick, out, &result, message);
    free(ready);
    free(block);
    free(pick);
    if (status == HF_OK && summary)
        *summary = result;
    return status;
}
