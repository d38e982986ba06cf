/*
 * Damage along a history of temperature and regain, repeated.
 *
 *   exposure  Omega = int k(T(t), w(t)) dt over one pass
 *   left      exp(-Omega) after one pass, exp(-n Omega) after n
 *
 * t s, strictly increasing; T K; w regain, kg/kg; k 1/s, a first-order rate that depends on the
 * present state only. So the passes simply add, whatever lies between them, and their order does
 * not matter. Each channel stands alone: the sum of channels has no meaning. Segments: channels.c.
 *
 * A channel is marked as extrapolated when more than 1 % of its exposure was gathered outside its
 * range: the cold ends of a history, where nothing happens, do not mark it.
 */
#include <hairfibre/bonds.h>

#include "channels.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../keratin/ranges.h"

#include <stdio.h>

static const double outside_allowed = 0.01;

static const hfi_range temperature_range = {HFI_HELIX_TEMPERATURE};
static const hfi_range sorption_range = {HFI_SORPTION_TEMPERATURE};
static const hfi_range regain_range = {HFI_BOND_REGAIN};
static const hfi_range humidity_range = {HFI_HUMIDITY};

/* Where a message goes and what it says about a sample. */
typedef struct fault {
    size_t *bad;
    hf_message *message;
} fault;

static hf_status refuse(const fault *to, hf_status status, size_t index, const char *text)
{
    if (to->bad)
        *to->bad = index;
    if (to->message)
        snprintf(to->message->text, sizeof to->message->text, "%s", text);
    return status;
}

static hf_status check_value(const fault *to, const char *name, const char *unit, size_t i,
                             double x, const hfi_range *range)
{
    char text[sizeof to->message->text];
    const hf_status status = hfi_check(x, range, HF_EXTRAPOLATE);
    if (!hf_failed(status))
        return status;
    if (status == HF_EINVAL)
        snprintf(text, sizeof text, "%s of sample %zu is not a finite number", name, i);
    else
        snprintf(text, sizeof text, "%s = %.6g%s of sample %zu lies outside %.6g%s to %.6g%s", name,
                 x, unit, i, range->domain_low, unit, range->domain_high, unit);
    return refuse(to, status, i, text);
}

static hf_status check_columns(const hf_history *history, const fault *to)
{
    if (!history || !history->time || !history->temperature)
        return refuse(to, HF_EINVAL, 0, "a history needs the columns time and temperature");
    if (!history->regain == !history->humidity)
        return refuse(to, HF_EINVAL, 0, "a history needs either regain or humidity");
    if (history->n < 2)
        return refuse(to, HF_EINVAL, 0, "a history needs at least two samples");
    if (history->passes < 1)
        return refuse(to, HF_ERANGE, 0, "passes must be 1 or more");
    return HF_OK;
}

static hf_status check_sample(const hf_history *history, size_t i, const fault *to)
{
    char text[sizeof to->message->text];
    const double *time = history->time;
    if (!isfinite(time[i])) {
        snprintf(text, sizeof text, "time of sample %zu is not a finite number", i);
        return refuse(to, HF_EINVAL, i, text);
    }
    if (i && !(time[i] > time[i - 1])) {
        snprintf(text, sizeof text, "time = %.9g s of sample %zu does not come after %.9g s",
                 time[i], i, time[i - 1]);
        return refuse(to, HF_EDATA, i, text);
    }
    const hf_status status = check_value(to, "temperature", " K", i, history->temperature[i],
                                         history->regain ? &temperature_range : &sorption_range);
    if (hf_failed(status))
        return status;
    return history->regain
               ? check_value(to, "regain", "", i, history->regain[i], &regain_range)
               : check_value(to, "humidity", "", i, history->humidity[i], &humidity_range);
}

/* Regain of a sample; HF_EXTRAPOLATED when the isotherm is. */
static hf_status regain_at(const hf_history *history, const hf_parameters *set, size_t i,
                           double *regain)
{
    if (!history->regain)
        return hf_regain_e(history->humidity[i], history->temperature[i], HF_ABSORPTION, set,
                           HF_EXTRAPOLATE, regain);
    *regain = history->regain[i];
    return HF_OK;
}

/* Puts the exposure up to each sample where the running values will be; either array may be NULL.
 */
static void note(const hf_damage_columns *columns, hf_channel channel, size_t i, double exposure)
{
    if (columns && columns->first[channel])
        columns->first[channel][i] = exposure;
    if (columns && columns->last[channel])
        columns->last[channel][i] = exposure;
}

static void turn_into_remaining(const hf_damage_columns *columns, hf_channel channel, size_t n,
                                double before_last)
{
    double *first = columns->first[channel], *last = columns->last[channel];
    for (size_t i = 0; i < n; i++) {
        if (first)
            first[i] = exp(-first[i]);
        if (last)
            last[i] = exp(-(before_last + last[i]));
    }
}

/* One channel over one pass; the columns are written only when `columns` is given. Only the blended
 * law asks for the regain. */
static hf_status follow(const hf_history *history, const hf_parameters *set,
                        const hfi_channel_laws *laws, hf_channel channel,
                        const hf_damage_columns *columns, hfi_exposure *sum)
{
    const int moist = channel == HF_CHANNEL_HELIX;
    double regain = 0;
    hf_status before = moist ? regain_at(history, set, 0, &regain) : HF_OK;
    if (hf_failed(before))
        return before;
    *sum = (hfi_exposure){0, 0, 0};
    note(columns, channel, 0, 0);
    for (size_t i = 1; i < history->n; i++) {
        const double *time = &history->time[i], *temperature = &history->temperature[i];
        hfi_segment segment = {
            time[0] - time[-1], temperature[-1], temperature[0], regain, regain, 0};
        const hf_status now = moist ? regain_at(history, set, i, &regain) : HF_OK;
        if (hf_failed(now))
            return now;
        segment.w1 = regain;
        segment.regain_doubtful = before == HF_EXTRAPOLATED || now == HF_EXTRAPOLATED;
        const hf_status status = hfi_channel_add(laws, channel, &segment, sum);
        if (hf_failed(status))
            return status;
        note(columns, channel, i, sum->total);
        before = now;
    }
    return HF_OK;
}

hf_status hf_damage_along_history_e(const hf_history *history, const hf_parameters *set,
                                    hf_damage *damage, const hf_damage_columns *columns,
                                    size_t *bad, hf_message *message)
{
    const fault to = {bad, message};
    hf_status status = check_columns(history, &to);
    for (size_t i = 0; status == HF_OK && i < history->n; i++) {
        status = check_sample(history, i, &to);
        status = status == HF_EXTRAPOLATED ? HF_OK : status;
    }
    if (status == HF_OK && !damage)
        status = refuse(&to, HF_EINVAL, 0, "there is no place for the answer");
    if (status != HF_OK)
        return status;
    const hfi_channel_laws laws = hfi_channel_laws_of(hfi_values(set));
    const double passes = (double)history->passes;
    hf_damage answer = {.extrapolated = 0};
    for (hf_channel c = 0; c < HF_CHANNELS; c++) {
        hfi_exposure sum;
        status = follow(history, set, &laws, c, NULL, &sum);
        if (status == HF_OK && !isfinite(sum.total))
            status = HF_ECONVERGE;
        if (status != HF_OK)
            return refuse(&to, status, 0, "a channel could not be integrated");
        answer.exposure[c] = sum.total;
        answer.exposure_error[c] = sum.error;
        answer.remaining[c] = exp(-passes * sum.total);
        answer.outside[c] = sum.total > 0 ? sum.outside / sum.total : 0;
        if (answer.outside[c] > outside_allowed)
            answer.extrapolated |= 1u << c;
    }
    /* Nothing can fail any more: the same sums again, now with the running values. */
    for (hf_channel c = 0; columns && c < HF_CHANNELS; c++) {
        hfi_exposure sum;
        if (!columns->first[c] && !columns->last[c])
            continue;
        status = follow(history, set, &laws, c, columns, &sum);
        if (status != HF_OK)
            return HF_EINTERNAL;
        turn_into_remaining(columns, c, history->n, (passes - 1) * sum.total);
    }
    *damage = answer;
    if (message)
        message->text[0] = '\0';
    return answer.extrapolated ? HF_EXTRAPOLATED : HF_OK;
}
