/*
 * Numbers of strands for an interval, and power of means.
 *
 *   all show it   (alpha/2)^(1/n) >= share
 *   width         upper - lower limit (Clopper-Pearson) at the expected share
 *   means         T noncentral with shift |d|/s sqrt(n/2) (two groups, 2n - 2 degrees of freedom) or
 *                 |d|/s sqrt(n) (pairs, n - 1); power P(|T| > quantile of t at 1 - alpha/2)
 */
#include "guard.h"
#include "numeric.h"

#define IN_A_ROW  10
#define LARGEST_N 1e6

hf_status hf_limit_strands_e(double share, double level, long *out)
{
    hf_status status = out ? hfi_inside(share) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_inside(level);
    if (status != HF_OK)
        return status;
    const double tail = 0.5 * (1 - level), n = ceil(log(tail) / log(share) - 1e-9);
    if (!(n <= HF_COUNT_MAX))
        return HF_EDATA;
    *out = n < 1 ? 1 : (long)n;
    return HF_OK;
}

hf_status hf_width_strands_e(double share, double width, double level, long *out)
{
    hf_status status = out ? hfi_fraction(share) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_inside(width);
    if (status == HF_OK)
        status = hfi_inside(level);
    if (status != HF_OK)
        return status;
    long first = 1;
    for (long n = 1; n - first < IN_A_ROW; n++) {
        double low, high;
        if (n > HF_STRANDS_MAX + IN_A_ROW)
            return HF_EDATA;
        if (!hfi_clopper_pearson((long)floor(share * (double)n + 0.5), n, level, &low, &high))
            return HF_ECONVERGE;
        if (high - low > width)
            first = n + 1;
    }
    *out = first;
    return HF_OK;
}

hf_status hf_mean_power_e(double difference, double deviation, double n, int groups, double alpha,
                          double *out)
{
    if (!out || !isfinite(difference) || !isfinite(deviation) || !isfinite(n))
        return HF_EINVAL;
    hf_status status = hfi_inside(alpha);
    if (status != HF_OK)
        return status;
    if (deviation <= 0 || n < 2 || n > LARGEST_N || groups < 1 || groups > 2)
        return HF_ERANGE;
    const double freedom = groups * (n - 1);
    const double shift = fabs(difference) / deviation * sqrt(n / groups);
    double line, below, under;
    status = hf_t_quantile_e(1 - alpha / 2, freedom, &line);
    if (status == HF_OK)
        status = hf_noncentral_t_e(line, freedom, shift, &below);
    if (status == HF_OK)
        status = hf_noncentral_t_e(-line, freedom, shift, &under);
    if (status != HF_OK)
        return status;
    *out = fmin(1, 1 - below + under);
    return HF_OK;
}

typedef struct means {
    double difference, deviation, alpha;
    int groups;
    hf_status *failed; /* why power_at gave NaN */
} means;

static double power_at(double n, const void *context)
{
    const means *m = context;
    double power = (double)NAN;
    const hf_status status =
        hf_mean_power_e(m->difference, m->deviation, n, m->groups, m->alpha, &power);
    if (status == HF_OK)
        return power;
    *m->failed = status;
    return (double)NAN;
}

hf_status hf_mean_strands_e(double difference, double deviation, int groups, double alpha,
                            double power, hf_strands *out)
{
    double least;
    hf_status status = out ? hfi_inside(power) : HF_EINVAL;
    if (status == HF_OK)
        status = hf_mean_power_e(difference, deviation, 2, groups, alpha, &least);
    if (status != HF_OK)
        return status;
    if (!(fabs(difference) > 0))
        return HF_EDATA;
    hf_status failed = HF_ECONVERGE;
    const means m = {difference, deviation, alpha, groups, &failed};
    hf_strands s = {.formula = 2, .strands = 2, .power = least, .exact = 1};
    if (least < power) {
        double high = 4;
        while (high < LARGEST_N && power_at(high, &m) < power)
            high = fmin(LARGEST_N, 2 * high);
        if (power_at(high, &m) < power)
            return HF_EDATA;
        s.formula = hfi_rising_root(power_at, &m, power, 2, high, 1e-9);
        if (isnan(s.formula))
            return failed;
        s.strands = (long)ceil(s.formula - 1e-7);
        s.power = power_at((double)s.strands, &m);
        if (isnan(s.power))
            return failed;
    }
    *out = s;
    return HF_OK;
}
