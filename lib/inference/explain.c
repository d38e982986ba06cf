/*
 * Sentences of a fit: why it stopped, and what is wrong with a parameter that has no standard error.
 */
#include "fit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Names of the other entangled parameters, separated by commas. */
static void partners(const hf_fit *fit, size_t j, char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < fit->problem.p; i++) {
        if (i == j || !(fit->flags[i] & HF_FIT_ENTANGLED))
            continue;
        const int wrote =
            snprintf(out + used, size - used, "%s%s", used > 0 ? ", " : "", fit->names[i]);
        if (wrote < 0 || (size_t)wrote >= size - used)
            break;
        used += (size_t)wrote;
    }
}

static void note(hf_fit *fit, size_t j)
{
    char *text = fit->notes[j], others[120];
    const size_t size = sizeof fit->notes[j];
    const unsigned flags = fit->flags[j];
    if (flags & HF_FIT_FIXED)
        snprintf(text, size, "fixed");
    else if (flags & HF_FIT_AT_LOW)
        snprintf(text, size, "at its lower bound %g: the data ask for less", fit->low[j]);
    else if (flags & HF_FIT_AT_HIGH)
        snprintf(text, size, "at its upper bound %g: the data ask for more", fit->high[j]);
    else if (flags & HF_FIT_NO_EFFECT)
        snprintf(text, size, "not identifiable: the curve does not change with it here");
    else if (flags & HF_FIT_ENTANGLED) {
        partners(fit, j, others, sizeof others);
        snprintf(text, size, "not identifiable: only a combination with %s is determined",
                 others[0] ? others : "others");
    } else if (flags & HF_FIT_NO_FREEDOM)
        snprintf(text, size, "as many parameters as points: no standard error");
    else if (flags & HF_FIT_PERFECT)
        snprintf(text, size,
                 "perfect fit: the residuals are rounding, the standard error means nothing");
    else if (flags & HF_FIT_LOOSE)
        snprintf(text, size, "standard error larger than the value: look at the profile interval");
}

void hfi_explain(hf_fit *fit, const hfi_outcome *outcome)
{
    const hf_fit_summary *s = &fit->summary;
    const size_t p = fit->problem.p;
    for (size_t j = 0; j < p; j++)
        note(fit, j);
    char where[160] = "";
    if (s->starts > 1 && s->winner == 0)
        snprintf(where, sizeof where, "; %zu starts met %zu %s, the given start reached this one",
                 s->starts, s->minima, s->minima == 1 ? "minimum" : "different minima");
    else if (s->starts > 1)
        snprintf(where, sizeof where,
                 "; the given start did not; %zu starts met %zu %s, number %zu reached this one",
                 s->starts, s->minima, s->minima == 1 ? "minimum" : "different minima", s->winner);
    if (fit->free.count == 0)
        snprintf(fit->reason, sizeof fit->reason, "nothing to fit: all parameters are fixed");
    else if (outcome->exact)
        snprintf(fit->reason, sizeof fit->reason,
                 "perfect fit: the residuals are at the level of rounding%s", where);
    else if (s->converged)
        snprintf(fit->reason, sizeof fit->reason, "converged: relative offset %.1e%s", s->offset,
                 where);
    else
        snprintf(fit->reason, sizeof fit->reason,
                 "not converged after %zu iterations: relative offset %.1e, lowest RSS met %g%s",
                 s->iterations, s->offset, s->rss, where);
}
