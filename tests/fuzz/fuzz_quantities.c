/*
 * Every quantity of the table with any numbers: no crash, no hang, and a number exactly when the status
 * says so. Bytes: quantity, flags, set, arguments; again until they are used up.
 */
#include "reader.h"

#include <math.h>
#include <string.h>

static const char *name_at(size_t i)
{
    return hf_quantity_at(i)->name;
}

static void one(fz_reader *r)
{
    const hf_quantity *q = hf_quantity_at(fz_choose(r, hf_quantity_count(), name_at));
    const unsigned flags = fz_byte(r) & 1 ? HF_EXTRAPOLATE : HF_STRICT;
    const hf_parameters *set = fz_set(r);
    double x[HF_ARGUMENTS_MAX] = {0}, out, direct, low, high;
    int strange = 0;
    hf_message message = {""};
    for (size_t i = 0; i < q->argument_count; i++) {
        const hf_argument *a = &q->arguments[i];
        x[i] = fz_within(r, a->domain_low, a->domain_high);
        strange |= !isfinite(x[i]);
    }
    fz_poison(&out, sizeof out);
    const hf_status s = hf_quantity_evaluate(q, x, set, flags, &out, &message);
    fz_check_status(q->name, s);
    if (hf_failed(s)) {
        if (!fz_poisoned(&out, sizeof out))
            fz_fail("%s: failed, but wrote %g", q->name, out);
        if (!memchr(message.text, '\0', sizeof message.text) || !message.text[0])
            fz_fail("%s: \"%s\" without a sentence", q->name, hf_status_text(s));
    } else {
        fz_check_number(q->name, out, 0);
        if (s == HF_EXTRAPOLATED && flags == HF_STRICT)
            fz_fail("%s: extrapolated though strict", q->name);
    }
    if (!q->evaluate)
        return;
    for (size_t i = 0; i < q->argument_count; i++)
        if (q->arguments[i].kind == HF_KIND_CHOICE &&
            !(x[i] == floor(x[i]) && x[i] >= 0 && x[i] <= q->arguments[i].domain_high))
            return; /* the row is asked for places of words only; hf_quantity_evaluate sees to that */
    /* The row itself, without the checks around it: NaN is no usual value here. */
    fz_poison(&direct, sizeof direct);
    const hf_status t = q->evaluate(x, set, flags, &direct);
    fz_check_status(q->name, t);
    if (strange && !hf_failed(t))
        fz_fail("%s: an answer from an argument that is not finite", q->name);
    if (!strange && (hf_failed(t) != hf_failed(s) || (!hf_failed(t) && (direct != out || t != s))))
        fz_fail("%s: %g (%s) by name, %g (%s) directly", q->name, out, hf_status_code(s), direct,
                hf_status_code(t));
    if (hf_failed(t) && !fz_poisoned(&direct, sizeof direct))
        fz_fail("%s: failed, but wrote %g", q->name, direct);
    if (!hf_failed(s) && fz_byte(r) % 8 == 0) {
        const hf_status w = hf_quantity_range(q, x, set, flags, &direct, &low, &high, &message);
        fz_check_status(q->name, w);
        if (!hf_failed(w) && !(direct == out && low <= out && out <= high))
            fz_fail("%s: %g within %g to %g", q->name, out, low, high);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    for (int i = 0; i < 8 && fz_more(&r); i++)
        one(&r);
    return 0;
}
