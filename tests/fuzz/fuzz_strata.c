/* Ranks within strata of any sizes, and strands by stratum. */
#include "reader.h"

#define STRATA 6

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    size_t first[STRATA], second[STRATA], n = 0;
    double values[STRATA * 2 * 16];
    const size_t strata = fz_byte(&r) % (STRATA + 1);
    hf_ranks out;
    hf_message message = {""};
    for (size_t k = 0; k < strata; k++) {
        first[k] = fz_byte(&r) % 16;
        second[k] = fz_byte(&r) % 16;
        n += first[k] + second[k];
    }
    for (size_t i = 0; i < n; i++)
        values[i] = fz_byte(&r) & 1 ? (double)fz_byte(&r) : fz_double(&r);
    fz_poison(&out, sizeof out);
    const hf_status s = hf_strata_rank_sum_e(strata, first, second, values, &out, &message);
    fz_check_status("strata", s);
    if (hf_failed(s)) {
        if (!fz_poisoned(&out, sizeof out))
            fz_fail("strata: failed, but wrote");
        return 0;
    }
    if (!(out.two_sided >= 0 && out.two_sided <= 1) || !(out.less >= 0 && out.less <= 1 + 1e-9) ||
        !(out.greater >= 0 && out.greater <= 1 + 1e-9) || out.used > n)
        fz_fail("strata: less %g, greater %g, two-sided %g, %zu used", out.less, out.greater,
                out.two_sided, out.used);
    return 0;
}
