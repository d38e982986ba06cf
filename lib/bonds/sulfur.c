/*
 * Balance of sulfur: cystine + thiol + cysteic acid + lanthionine = N, mol half-cystine per kg.
 *
 *   reduce       cystine c -> thiol: c (1 - exp(-k t)), or c f(front); a share r of what is opened
 *                stays reformable u, the rest never joins again (reduction.c; reed1947 for r)
 *   neutralise   thiol -> cystine: u (1 - exp(-t/tau))
 *   bleach root  first the thiol joins as above (the bath is an oxidant), then cystine -> cysteic
 *                acid: N (sqrt(e + x1^2 m t/t1) - sqrt(e)), e the squared share oxidised so far
 *   bleach steady  u' = -u/tau, c' = u/tau - k c: c(t) = c0 exp(-k t) + u0 (t/tau) exp(-t/tau)
 *                (1 - exp(-z))/z, z = (k - 1/tau) t; cysteic acid takes what is missing
 *   bath, rinse  nothing
 *   alkali       no model: only ratios of rates are known (hf_lanthionine_rate_ratio)
 *
 * Every update is the exact solution of its law over the step, so that two steps after one another
 * equal one of both durations; only a sharp front starts at the surface anew. k, tau, m, x1, t1:
 * chemistry.c, reduction.c, bleaching.c. Lanthionine keeps its place in the balance for a caller
 * who knows it. What never joins again is counted as thiol; hair permed once holds 0.024 mol/kg
 * more cysteic acid (robbinskelly1969, Table VI), which is left out. Heat: no rate of disulfide
 * loss is known (quantity disulfide_lost_by_heat).
 */
#include "sulfur.h"

#include "bleaching.h"
#include "ranges.h"
#include "reduction.h"

#include "../base/catalogue.h"
#include "../base/range.h"

#include <stdio.h>

const char *hf_sulfur_word(hf_sulfur_kind kind)
{
    static const char *const word[] = {
#define WORD(id, text, meaning) text,
        HF_SULFUR_LIST(WORD)
#undef WORD
    };
    return (unsigned)kind < HF_SULFUR_KINDS ? word[kind] : NULL;
}

int hfi_sulfur_start(const double *values, hf_sulfur *state)
{
    const double all = values[HFI_BOND_DISULFIDE_HALF_CYSTINE];
    const double cysteic = values[HFI_BOND_DISULFIDE_CYSTEIC];
    const double gained = cysteic - values[HFI_BOND_DISULFIDE_CYSTEIC_UNTREATED];
    if (cysteic > all)
        return 1;
    /* Hair bleached before goes on where a root law would have brought it. */
    const double share = gained > 0 ? gained / all : 0;
    *state = (hf_sulfur){.cystine = all - cysteic, .cysteic = cysteic, .oxidised = share * share};
    return 0;
}

hf_status hf_sulfur_start_e(const hf_parameters *set, hf_sulfur *state)
{
    if (!state)
        return HF_EINVAL;
    return hfi_sulfur_start(hfi_values(set), state) ? HF_ERANGE : HF_OK;
}

double hf_sulfur_total(const hf_sulfur *s)
{
    return s ? s->cystine + s->thiol + s->cysteic + s->lanthionine : (double)NAN;
}

void hfi_sulfur_open(hf_sulfur *s, double share, double recovered)
{
    const double moved = s->cystine * share;
    s->cystine -= moved;
    s->thiol += moved;
    s->reformable += recovered * moved;
}

void hfi_sulfur_join(hf_sulfur *s, double ratio)
{
    const double moved = -s->reformable * expm1(-ratio);
    s->cystine += moved;
    s->thiol -= moved;
    s->reformable -= moved;
}

double hfi_sulfur_bleach_root(hf_sulfur *s, double exposure, double ratio)
{
    hfi_sulfur_join(s, ratio);
    const double before = sqrt(s->oxidised);
    s->oxidised += exposure;
    const double share = sqrt(s->oxidised);
    const double asked = hf_sulfur_total(s) * (share - before);
    const double moved = fmin(asked, s->cystine);
    s->cystine -= moved;
    s->cysteic += moved;
    return share;
}

double hfi_sulfur_bleach_steady(hf_sulfur *s, double exposure, double ratio)
{
    const double z = exposure - ratio, joined = -s->reformable * expm1(-ratio);
    const double overlap = fabs(z) < 1e-8 ? 1 - z / 2 : -expm1(-z) / z;
    const double cystine =
        s->cystine * exp(-exposure) + s->reformable * ratio * exp(-ratio) * overlap;
    const double moved = s->cystine + joined - cystine;
    s->thiol -= joined;
    s->reformable -= joined;
    s->cystine += joined - moved;
    s->cysteic += moved;
    const double share = sqrt(s->oxidised) + moved / hf_sulfur_total(s);
    s->oxidised = share * share;
    return share;
}

/* ---- checks ------------------------------------------------------------------------------------
 */

typedef struct field {
    const char *name, *unit;
    double value;
    hfi_range range;
} field;

static hf_status check(const field *fields, size_t n, const char *step, unsigned flags,
                       hf_message *message)
{
    hf_status worst = HF_OK;
    for (size_t i = 0; i < n; i++) {
        const field *f = &fields[i];
        const hf_status status = hfi_check(f->value, &f->range, flags);
        worst = hfi_worse(worst, status);
        if (!hf_failed(status))
            continue;
        const int meaning = f->value < f->range.domain_low || f->value > f->range.domain_high;
        if (!isfinite(f->value))
            snprintf(message->text, sizeof message->text, "%s: %s must be a finite number", step,
                     f->name);
        else if (isinf(f->range.domain_high) && meaning)
            snprintf(message->text, sizeof message->text, "%s: %s = %.6g%s must be %.6g or more",
                     step, f->name, f->value, f->unit, f->range.domain_low);
        else
            snprintf(message->text, sizeof message->text,
                     "%s: %s = %.6g%s lies outside the %s %.6g to %.6g", step, f->name, f->value,
                     f->unit, meaning ? "possible range" : "range that evidence supports,",
                     meaning ? f->range.domain_low : f->range.valid_low,
                     meaning ? f->range.domain_high : f->range.valid_high);
        return status;
    }
    return worst;
}

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static hf_status reduce(const hf_sulfur_step *step, const double *values, unsigned flags,
                        hf_sulfur *s, hf_message *message)
{
    const field common[] = {
        {"temperature", " K", step->temperature, {HFI_THIOL_TEMPERATURE}},
        {"concentration", " mol/m3", step->concentration, {HFI_THIOL_CONCENTRATION}},
        {"ph", "", step->ph, {HFI_THIOL_PH}},
        {"duration", " s", step->duration, {HFI_THIOL_DURATION}},
    };
    const field front[] = {
        {"temperature", " K", step->temperature, {HFI_THIOL_TEMPERATURE}},
        {"concentration", " mol/m3", step->concentration, {HFI_FRONT_CONCENTRATION}},
        {"diameter", " m", step->diameter, {HFI_WET_DIAMETER}},
        {"duration", " s", step->duration, {HFI_FRONT_DURATION}},
    };
    const char *word = hf_sulfur_word(step->kind);
    const hf_status status = step->law ? check(front, COUNT(front), word, flags, message)
                                       : check(common, COUNT(common), word, flags, message);
    if (hf_failed(status))
        return status;
    if (!(s->cystine > 0)) {
        snprintf(message->text, sizeof message->text,
                 "reduce: nothing to open, no disulfide bonds are left");
        return status;
    }
    const double share =
        step->law ? hfi_front_share(step->duration * hfi_front_rate(values, step->temperature,
                                                                    step->concentration,
                                                                    step->diameter, s->cystine))
                  : -expm1(-step->duration * hfi_reduction_rate(values, step->temperature,
                                                                step->concentration, step->ph));
    hfi_sulfur_open(s, share, values[HFI_RATE_REOXIDATION_RECOVERED]);
    return status;
}

static hf_status neutralise(const hf_sulfur_step *step, const double *values, unsigned flags,
                            hf_sulfur *s, hf_message *message)
{
    const field fields[] = {{"duration", " s", step->duration, {HFI_REOXIDATION_DURATION}}};
    const hf_status status =
        check(fields, COUNT(fields), hf_sulfur_word(step->kind), flags, message);
    if (hf_failed(status))
        return status;
    if (!(s->thiol > 0))
        snprintf(message->text, sizeof message->text,
                 "neutralise: nothing to join, no thiol is there; disulfide bonds are opened by a "
                 "reduce step before this one");
    hfi_sulfur_join(s, step->duration / values[HFI_RATE_REOXIDATION_TIME]);
    return status;
}

static hf_status bleach(const hf_sulfur_step *step, const double *values, unsigned flags,
                        hf_sulfur *s, hf_message *message)
{
    static const hfi_range share_range = {HFI_OXIDATION_SHARE};
    const field fields[] = {
        {"temperature", " K", step->temperature, {HFI_OXIDATION_TEMPERATURE}},
        {"peroxide", "", step->peroxide, {HFI_OXIDATION_PEROXIDE}},
        {"ph", "", step->ph, {HFI_OXIDATION_PH}},
        {"duration", " s", step->duration, {HFI_BOND_DURATION}},
    };
    hf_status status = check(fields, COUNT(fields), hf_sulfur_word(step->kind), flags, message);
    if (hf_failed(status))
        return status;
    const double strength = hfi_bleach_strength(values, step->temperature, step->peroxide);
    const double ratio = step->duration / values[HFI_RATE_REOXIDATION_TIME];
    const double exposure = step->duration * strength;
    const double share =
        step->law == HF_BLEACH_ROOT
            ? hfi_sulfur_bleach_root(s, exposure * hfi_bleach_root(values), ratio)
            : hfi_sulfur_bleach_steady(s, exposure * hfi_bleach_steady(values), ratio);
    status = hfi_worse(status, hfi_check(share, &share_range, flags));
    if (hf_failed(status))
        snprintf(
            message->text, sizeof message->text,
            "bleach: the law would oxidise a share of %.3g of half-cystine; the largest read is "
            "%.3g",
            share, share_range.valid_high);
    return status;
}

hf_status hf_sulfur_step_e(const hf_sulfur_step *step, const hf_parameters *set, unsigned flags,
                           hf_sulfur *state, hf_message *message)
{
    hf_message scratch = {""};
    hf_message *says = message ? message : &scratch;
    says->text[0] = '\0';
    if (!step || !state || !hf_sulfur_word(step->kind) || (step->law != 0 && step->law != 1)) {
        snprintf(says->text, sizeof says->text, "a step of a known kind with law 0 or 1 is needed");
        return HF_EINVAL;
    }
    const double *values = hfi_values(set);
    const field bath[] = {
        {"ph", "", step->ph, {0, 14, 0, 14}},
        {"duration", " s", step->duration, {HFI_BOND_DURATION}},
    };
    const char *word = hf_sulfur_word(step->kind);
    hf_sulfur next = *state;
    hf_status status = HF_OK;
    switch (step->kind) {
    case HF_SULFUR_REDUCE:
        status = reduce(step, values, flags, &next, says);
        break;
    case HF_SULFUR_NEUTRALISE:
        status = neutralise(step, values, flags, &next, says);
        break;
    case HF_SULFUR_BLEACH:
        status = bleach(step, values, flags, &next, says);
        break;
    case HF_SULFUR_RINSE:
        status = check(&bath[1], 1, word, flags, says);
        break;
    case HF_SULFUR_BATH:
    case HF_SULFUR_ALKALI:
    default:
        status = check(bath, COUNT(bath), word, flags, says);
        if (!hf_failed(status) && (step->kind == HF_SULFUR_ALKALI || step->ph > HFI_ALKALI_FROM)) {
            snprintf(
                says->text, sizeof says->text,
                "%s: no validated model: strong alkali turns cystine into lanthionine, and only "
                "ratios of its rate are known (lanthionine_rate_ratio)",
                word);
            status = HF_ENOMODEL;
        }
    }
    if (!hf_failed(status))
        *state = next;
    return status;
}
