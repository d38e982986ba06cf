/*
 * Morris screening (morris1991, mean of absolute effects after campolongo2007).
 *
 * A tour starts at a random point of the grid of probabilities (k + 1/2)/p, k = 0 .. p - 1, and moves every
 * input once, in random order, by one half (p/2 levels) up or down, whichever stays on the grid. An effect is
 * the change of the answer over that half. Over the tours: mean, mean of the absolute values, standard
 * deviation. An answer linear in the probabilities has deviation 0.
 */
#include "analysis.h"
#include "sampling.h"
#include "stream.h"

#include <math.h>
#include <stdlib.h>

/* Sums of the effects of one input. */
typedef struct sums {
    double effect, size, square;
} sums;

typedef struct tour {
    size_t inputs, levels;
    uint64_t seed;
    const hfi_variate *variate;
    size_t *order, *level; /* inputs each */
    double *x, *effect;    /* inputs each */
} tour;

static void start(tour *t, uint64_t number)
{
    const uint64_t stream = HFI_STREAM_TOURS + number;
    for (size_t i = 0; i < t->inputs; i++) {
        t->level[i] = (size_t)(hfi_stream_uniform(t->seed, stream, i) * (double)t->levels);
        t->order[i] = i;
    }
    /* Fisher and Yates */
    for (size_t i = t->inputs; i-- > 1;) {
        const double u = hfi_stream_uniform(t->seed, stream, t->inputs + i);
        const size_t k = (size_t)(u * (double)(i + 1)), kept = t->order[i];
        t->order[i] = t->order[k];
        t->order[k] = kept;
    }
}

static double at_level(const tour *t, size_t input)
{
    return hfi_variate_at(&t->variate[input], ((double)t->level[input] + 0.5) / (double)t->levels);
}

static hf_status go(tour *t, hf_function f, void *user, double *first, int *bad)
{
    double before, after;
    for (size_t i = 0; i < t->inputs; i++)
        t->x[i] = at_level(t, i);
    hf_status status = hfi_call(f, user, t->x, &before, bad);
    *first = before;
    for (size_t k = 0; k < t->inputs && status == HF_OK && !*bad; k++) {
        const size_t i = t->order[k], half = t->levels / 2;
        const int up = t->level[i] < half;
        t->level[i] = up ? t->level[i] + half : t->level[i] - half;
        t->x[i] = at_level(t, i);
        status = hfi_call(f, user, t->x, &after, bad);
        t->effect[i] = (after - before) / (up ? 0.5 : -0.5);
        before = after;
    }
    return status;
}

static void finish(size_t inputs, double n, const sums *s, hf_effect *out)
{
    for (size_t i = 0; i < inputs; i++) {
        const double mean = s[i].effect / n, size = s[i].size / n;
        const double spread = fmax(s[i].square - n * mean * mean, 0) / (n - 1);
        const double spread_of_size = fmax(s[i].square - n * size * size, 0) / (n - 1);
        out[i] = (hf_effect){mean, size, sqrt(spread), sqrt(spread_of_size / n)};
    }
}

static hf_status run(tour *t, size_t tours, hf_function f, void *user, sums *s, hf_effect *out,
                     hf_sensitivity *summary, hf_message *message)
{
    double mean = 0, square = 0, n = 0;
    for (size_t k = 0; k < tours; k++) {
        double y = 0;
        int bad = 0;
        start(t, k);
        const hf_status status = go(t, f, user, &y, &bad);
        if (status != HF_OK)
            return status;
        if (bad) {
            summary->failures++;
            continue;
        }
        n++;
        square += (y - mean) * (y - mean) * (n - 1) / n;
        mean += (y - mean) / n;
        for (size_t i = 0; i < t->inputs; i++) {
            s[i].effect += t->effect[i];
            s[i].size += fabs(t->effect[i]);
            s[i].square += t->effect[i] * t->effect[i];
        }
    }
    if (n < 2)
        return hfi_refuse(message, HF_EDATA, "fewer than two tours have answers all the way");
    summary->mean = mean;
    summary->deviation = sqrt(square / (n - 1));
    finish(t->inputs, n, s, out);
    return HF_OK;
}

static hf_status check(size_t inputs, const hf_screening_options *o, hf_message *message)
{
    if (inputs == 0 || inputs > HF_INPUTS_MAX)
        return hfi_refuse(message, HF_ERANGE, "an analysis needs 1 to 160 inputs");
    if (o->tours < 2 || o->tours > 100000)
        return hfi_refuse(message, HF_ERANGE, "tours must lie between 2 and 100000");
    if (o->levels < 2 || o->levels > 64 || o->levels % 2)
        return hfi_refuse(message, HF_ERANGE, "levels must be an even number from 2 to 64");
    return HF_OK;
}

hf_status hf_morris_effects(size_t inputs, const hf_variate *variates, hf_function function,
                            void *user, const hf_screening_options *options, hf_effect *out,
                            hf_sensitivity *summary, hf_message *message)
{
    static const hf_screening_options usual = HF_SCREENING_OPTIONS_INIT;
    const hf_screening_options *o = options ? options : &usual;
    if (message)
        message->text[0] = '\0';
    if (!variates || !function || !out)
        return HF_EINVAL;
    hf_status status = check(inputs, o, message);
    if (status != HF_OK)
        return status;
    hf_sensitivity result = {
        .factors = inputs, .evaluations = o->tours * (inputs + 1), .method = HF_DRAW_RANDOM};
    hfi_variate *ready = malloc(inputs * sizeof *ready);
    double *numbers = malloc(2 * inputs * sizeof *numbers);
    size_t *places = malloc(2 * inputs * sizeof *places);
    sums *s = calloc(inputs + 1, sizeof *s);
    status = ready && numbers && places && s ? HF_OK : HF_ENOMEM;
    for (size_t i = 0; i < inputs && status == HF_OK; i++)
        status = hfi_variate_prepare(&ready[i], &variates[i], message);
    if (status == HF_OK) {
        tour t = {inputs, o->levels,       o->seed, ready,
                  places, places + inputs, numbers, numbers + inputs};
        status = run(&t, o->tours, function, user, s, out, &result, message);
    }
    free(ready);
    free(numbers);
    free(places);
    free(s);
    if (status == HF_OK && summary)
        *summary = result;
    return status;
}
