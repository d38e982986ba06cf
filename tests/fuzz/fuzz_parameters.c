/* Parameter sets: any name, any value, copies and digests; a refused change changes nothing. */
#include "reader.h"

#include <math.h>
#include <string.h>

static void check_set(const hf_parameters *set)
{
    char digest[17], other[17];
    hf_parameters *copy = NULL;
    hf_parameter row;
    if (hf_parameters_copy(&copy, set) != HF_OK)
        fz_fail("no copy");
    hf_parameters_digest(set, digest);
    hf_parameters_digest(copy, other);
    if (strcmp(digest, other) != 0 ||
        strcmp(hf_parameters_name(set), hf_parameters_name(copy)) != 0)
        fz_fail("a copy has digest %s instead of %s", other, digest);
    for (size_t i = 0; i < hf_parameter_count(); i++) {
        double value = (double)NAN;
        if (hf_parameters_row(set, i, &row) != HF_OK ||
            hf_parameters_get(set, row.name, &value) != HF_OK || value != row.value ||
            !(value >= row.low && value <= row.high))
            fz_fail("%s is %g, of %g to %g", row.name, value, row.low, row.high);
    }
    hf_parameters_free(copy);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    hf_parameters *set = NULL;
    char name[64];
    const unsigned how = fz_byte(&r);
    size_t n = fz_byte(&r) % (sizeof name - 1);
    for (size_t i = 0; i < n; i++)
        name[i] = (char)fz_byte(&r);
    name[n] = '\0';
    hf_status s = hf_parameters_new(&set, how & 1 ? name : NULL);
    fz_check_status("new", s);
    if (s != HF_OK) {
        if (s != HF_ENAME || set)
            fz_fail("the set \"%s\" gives \"%s\"", name, hf_status_text(s));
        return 0;
    }
    (void)hf_parameter_nearest(name);
    while (fz_more(&r)) {
        n = fz_byte(&r) % (sizeof name - 1);
        for (size_t i = 0; i < n; i++)
            name[i] = (char)fz_byte(&r);
        name[n] = '\0';
        const double x = fz_double(&r);
        double before = 0, after = 0;
        const hf_status known = hf_parameters_get(set, name, &before);
        s = hf_parameters_set(set, name, x);
        fz_check_status("set", s);
        if ((known != HF_OK && s != HF_ENAME && s != HF_EINVAL) || (!isfinite(x) && s == HF_OK))
            fz_fail("\"%s\" = %g gives \"%s\"", name, x, hf_status_text(s));
        if (hf_parameters_set_name(set, name) == HF_OK &&
            strcmp(hf_parameters_name(set), name) != 0)
            fz_fail("named \"%s\", called \"%s\"", name, hf_parameters_name(set));
        if (s != HF_OK && (hf_parameters_message(set)[0] == '\0'))
            fz_fail("\"%s\" = %g: \"%s\" without a sentence", name, x, hf_status_text(s));
        if (known == HF_OK &&
            (hf_parameters_get(set, name, &after) != HF_OK || after != (s == HF_OK ? x : before)))
            fz_fail("\"%s\": %g became %g by %g (%s)", name, before, after, x, hf_status_text(s));
    }
    check_set(set);
    hf_parameters_free(set);
    return 0;
}
