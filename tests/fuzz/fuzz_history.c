/* Histories of temperature and water, and steps of the sulfur balance, with any numbers in them. */
#include "reader.h"

#include <math.h>
#include <string.h>

static void history(fz_reader *r)
{
    double time[FZ_LIST_MAX], temperature[FZ_LIST_MAX], water[FZ_LIST_MAX];
    double first[FZ_LIST_MAX], last[FZ_LIST_MAX];
    hf_damage damage;
    hf_damage_columns columns;
    hf_message message = {""};
    size_t bad = 0;
    const unsigned how = fz_byte(r);
    hf_history h = {fz_length(r),           time,          temperature, how & 1 ? water : NULL,
                    how & 1 ? NULL : water, 1 + fz_byte(r)};
    if (how & 2)
        h.passes = (size_t)fz_long(r);
    if ((how & 0x70) == 0)
        h.temperature = NULL;
    double t = 0;
    fz_list(r, h.n, water);
    for (size_t i = 0; i < h.n; i++) {
        t += how & 4 ? fz_double(r) : fabs(fz_within(r, 0, 100));
        time[i] = t;
        temperature[i] = fz_within(r, 260, 530);
        if (how & 8)
            water[i] = fz_within(r, 0, 0.4);
    }
    memset(&columns, 0, sizeof columns);
    columns.first[0] = first;
    columns.last[HF_CHANNELS - 1] = last;
    fz_poison(&damage, sizeof damage);
    const hf_status s = hf_damage_along_history_e(&h, fz_set(r), &damage, &columns, &bad, &message);
    fz_check_status("history", s);
    if (hf_failed(s)) {
        if (!fz_poisoned(&damage, sizeof damage))
            fz_fail("history: failed, but wrote");
        if (!message.text[0])
            fz_fail("history: \"%s\" without a sentence", hf_status_text(s));
        return;
    }
    for (int c = 0; c < HF_CHANNELS; c++) {
        const double left = damage.remaining[c], outside = damage.outside[c];
        if (!(left >= 0 && left <= 1) || !(outside >= 0 && outside <= 1 + 1e-9) ||
            isnan(damage.exposure[c]) || damage.exposure[c] < 0 || !(damage.exposure_error[c] >= 0))
            fz_fail("channel %d: %g left, exposure %g +- %g, %g outside", c, left,
                    damage.exposure[c], damage.exposure_error[c], outside);
    }
    for (size_t i = 0; i < h.n; i++)
        if (!(first[i] >= 0 && first[i] <= 1) || !(last[i] >= 0 && last[i] <= 1))
            fz_fail("sample %zu: %g, %g left", i, first[i], last[i]);
}

static void sulfur(fz_reader *r)
{
    hf_sulfur state, before;
    hf_message message = {""};
    const hf_parameters *set = fz_set(r);
    const hf_status start = hf_sulfur_start_e(set, &state);
    fz_check_status("sulfur", start);
    if (hf_failed(start))
        return;
    const double total = hf_sulfur_total(&state);
    for (int i = 0; i < 6 && fz_more(r); i++) {
        hf_sulfur_step step = HF_SULFUR_STEP_INIT(
            (hf_sulfur_kind)(fz_byte(r) % (HF_SULFUR_KINDS + 1)), fz_within(r, 0, 4000));
        step.temperature = fz_within(r, 273.15, 373.15);
        step.ph = fz_within(r, 2, 13);
        step.concentration = fz_within(r, 0, 3000);
        step.peroxide = fz_within(r, 0, 0.35);
        step.diameter = fz_within(r, 2e-5, 2.5e-4);
        step.law = (int)fz_byte(r) % 4 - 1;
        before = state;
        const hf_status s = hf_sulfur_step_e(&step, set, fz_byte(r) & 1u, &state, &message);
        fz_check_status("sulfur", s);
        if (hf_failed(s) && (memcmp(&before, &state, sizeof state) != 0 || !message.text[0]))
            fz_fail("a failed step moved the state, or has no sentence: \"%s\"", message.text);
        if (!(state.cystine >= -1e-12 && state.thiol >= -1e-12 && state.cysteic >= -1e-12) ||
            !(fabs(hf_sulfur_total(&state) - total) <= 1e-9 * total) ||
            !(state.reformable <= state.thiol + 1e-12))
            fz_fail("cystine %g, thiol %g (reformable %g), cysteic %g; the sum was %g and is %g",
                    state.cystine, state.thiol, state.reformable, state.cysteic, total,
                    hf_sulfur_total(&state));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    if (fz_byte(&r) & 1)
        history(&r);
    else
        sulfur(&r);
    return 0;
}
