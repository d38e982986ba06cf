/*
 * Points of the unit cube and numbers that follow a distribution.
 *
 * Sobol     the sequence of GSL (Antonov and Saleev's order) from its point 0 on, moved by a random vector
 *           modulo 1. Each block of draws has a vector of its own, so that the scatter between the blocks
 *           measures the error.
 * random    hfi_stream_uniform(seed, draw, dimension).
 *
 * Truncation: with F the distribution function, x = F^-1(F(low) + u (F(high) - F(low))).
 */
#include "sampling.h"

#include "guard.h"
#include "stream.h"

#include <gsl/gsl_cdf.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

const char *hf_draw_method_word(hf_draw_method method)
{
    static const char *const word[] = {
#define WORD(id, text, meaning) text,
        HF_DRAW_METHOD_LIST(WORD)
#undef WORD
    };
    return (unsigned)method < HF_DRAW_METHODS ? word[method] : NULL;
}

/* ---- distributions --------------------------------------------------------------------------- */

static double probability(const hfi_variate *v, double x)
{
    const double z = (x - v->value) / v->spread;
    switch (v->distribution) {
    case HF_NORMAL:
        return gsl_cdf_ugaussian_P(z);
    case HF_LOGNORMAL:
        return x > 0 ? gsl_cdf_ugaussian_P(log(x / v->value) / v->spread) : 0;
    case HF_UNIFORM:
        return fmin(fmax(0.5 * (z + 1), 0), 1);
    case HF_TRIANGULAR:
        if (z <= -1 || z >= 1)
            return z > 0;
        return z < 0 ? 0.5 * (1 + z) * (1 + z) : 1 - 0.5 * (1 - z) * (1 - z);
    case HF_FIXED:
        break;
    }
    return 0.5;
}

static double quantile(const hfi_variate *v, double p)
{
    switch (v->distribution) {
    case HF_NORMAL:
        return v->value + v->spread * gsl_cdf_ugaussian_Pinv(p);
    case HF_LOGNORMAL:
        return v->value * exp(v->spread * gsl_cdf_ugaussian_Pinv(p));
    case HF_UNIFORM:
        return v->value + v->spread * (2 * p - 1);
    case HF_TRIANGULAR:
        return v->value + v->spread * (p < 0.5 ? sqrt(2 * p) - 1 : 1 - sqrt(2 * (1 - p)));
    case HF_FIXED:
        break;
    }
    return v->value;
}

static hf_status refuse(hf_message *message, hf_status status, const char *name, const char *why)
{
    if (message)
        snprintf(message->text, sizeof message->text, "the spread of %s %s",
                 name ? name : "an input", why);
    return status;
}

hf_status hfi_variate_prepare(hfi_variate *out, const hf_variate *given, hf_message *message)
{
    if (!isfinite(given->value) || !isfinite(given->spread) || isnan(given->low) ||
        isnan(given->high) || (unsigned)given->distribution > HF_TRIANGULAR)
        return refuse(message, HF_EINVAL, given->name, "needs finite numbers");
    if (given->spread < 0)
        return refuse(message, HF_ERANGE, given->name, "must not be negative");
    if (!(given->low <= given->value && given->value <= given->high))
        return refuse(message, HF_ERANGE, given->name, "lies about a value outside its limits");
    if (given->distribution == HF_LOGNORMAL && !(given->value > 0))
        return refuse(message, HF_ERANGE, given->name, "is lognormal and needs a value above 0");
    *out = (hfi_variate){given->spread > 0 ? given->distribution : HF_FIXED,
                         given->value,
                         given->spread,
                         given->low,
                         given->high,
                         0,
                         1};
    if (out->distribution == HF_FIXED)
        return HF_OK;
    out->below = probability(out, out->low);
    out->within = probability(out, out->high) - out->below;
    if (!(out->within > 1e-12))
        return refuse(message, HF_ERANGE, given->name, "leaves nothing between its limits");
    return HF_OK;
}

double hfi_variate_at(const hfi_variate *v, double u)
{
    if (v->distribution == HF_FIXED)
        return v->value;
    /* Rounding alone can step over a limit. */
    return fmin(fmax(quantile(v, v->below + u * v->within), v->low), v->high);
}

hf_status hf_variate_quantile_e(const hf_variate *variate, double u, double *out)
{
    hfi_variate ready;
    if (!variate || !out || !(u > 0 && u < 1))
        return HF_EINVAL;
    const hf_status status = hfi_variate_prepare(&ready, variate, NULL);
    if (status == HF_OK)
        *out = hfi_variate_at(&ready, u);
    return status;
}

/* ---- points of the cube ------------------------------------------------------------------------ */

void hfi_design_close(hfi_design *d)
{
    if (d->sequence)
        gsl_qrng_free(d->sequence);
    free(d->point);
    *d = (hfi_design){0};
}

hf_status hfi_design_open(hfi_design *d, size_t dimensions, hf_draw_method method, uint64_t seed,
                          size_t blocks)
{
    *d = (hfi_design){method, dimensions, blocks, 0, seed, NULL, NULL, NULL};
    if (dimensions > HFI_SOBOL_DIMENSIONS)
        d->method = HF_DRAW_RANDOM;
    if (d->method == HF_DRAW_RANDOM || dimensions == 0)
        return HF_OK;
    hfi_guard_gsl();
    d->sequence = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)dimensions);
    d->point = calloc((blocks + 1) * dimensions, sizeof *d->point);
    if (!d->sequence || !d->point) {
        hfi_design_close(d);
        return HF_ENOMEM;
    }
    d->shift = d->point + dimensions;
    for (size_t i = 0; i < blocks * dimensions; i++)
        d->shift[i] = hfi_stream_uniform(seed, HFI_STREAM_SHIFT, i);
    return HF_OK;
}

void hfi_design_next(hfi_design *d, double *u)
{
    const size_t draw = d->next++;
    if (d->method == HF_DRAW_RANDOM) {
        for (size_t j = 0; j < d->dimensions; j++)
            u[j] = hfi_stream_uniform(d->seed, draw, j);
        return;
    }
    const size_t block = draw % d->blocks;
    /* GSL leaves point 0 out: it is the origin, and there from calloc. */
    if (block == 0 && draw > 0 && d->dimensions)
        (void)gsl_qrng_get(d->sequence, d->point);
    for (size_t j = 0; j < d->dimensions; j++) {
        const double x = d->point[j] + d->shift[block * d->dimensions + j];
        u[j] = fmin(fmax(x - floor(x), 0x1p-54), 1 - 0x1p-53);
    }
}
