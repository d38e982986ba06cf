/*
 * Exposure to an Arrhenius rate while the temperature runs linearly from T0 to T1 in a time d:
 *
 *   int A exp(-theta/T) dt = d (F(T1) - F(T0)) / (T1 - T0),   F(T) = A T E2(theta/T)
 *
 * A 1/s, theta K, T K; E2(x) = int_1^inf exp(-x u)/u^2 du (exponential integral of order 2). This
 * is the usual T exp(-theta/T) - theta E1(theta/T) without its cancellation. exp(x) E2(x) comes
 * from a continued fraction (x >= 1) or from the series of E1 (x < 1). Where the rate hardly
 * changes over the segment the difference of F would cancel, so a ten-point Gauss rule takes over:
 * its error is below rounding for a change of the logarithm of the rate by less than 1.
 *
 * Source: standard integral; check values of henriques1947's constants in
 * tests/unit/test_history.c.
 */
#include <hairfibre/bonds.h>

#include "arrhenius.h"

static const double euler_gamma = 0.57721566490153286;

double hfi_scaled_expint2(double x)
{
    if (x < 1) {
        if (!(x > 0))
            return 1;
        /* E1(x) = -gamma - ln x + sum (-1)^(n+1) x^n / (n n!) */
        double sum = -euler_gamma - log(x), term = -1;
        for (int n = 1; n < 25; n++) {
            term *= -x / n;
            sum += term / n;
        }
        return 1 - x * exp(x) * sum;
    }
    /* 1/(x+2 - 1*2/(x+4 - 2*3/(x+6 - ...))), evaluated from the top (Lentz). */
    double b = x + 2, c = 1e300, d = 1 / b, h = d;
    for (int i = 1; i < 400; i++) {
        const double a = -(double)i * (i + 1);
        b += 2;
        d = 1 / (a * d + b);
        c = b + a / c;
        const double factor = c * d;
        h *= factor;
        if (fabs(factor - 1) < 1e-16)
            break;
    }
    return h;
}

/* Ten-point Gauss-Legendre rule on (-1, 1), positive half. */
static const double gauss_x[5] = {0.14887433898163121, 0.43339539412924719, 0.67940956829902441,
                                  0.86506336668898451, 0.97390652851717172};
static const double gauss_w[5] = {0.29552422471475287, 0.26926671930999636, 0.21908636251598204,
                                  0.14945134915058059, 0.06667134430868814};

double hfi_arrhenius_segment(const hfi_arrhenius *law, double duration, double T0, double T1)
{
    const double change = T1 - T0;
    if (fabs(law->theta * change) < T0 * T1 && fabs(change) < 0.5 * T0 && fabs(change) < 0.5 * T1) {
        const double centre = 0.5 * (T0 + T1), half = 0.5 * change;
        double sum = 0;
        for (int i = 0; i < 5; i++)
            sum += gauss_w[i] * (hfi_arrhenius_rate(law, centre - half * gauss_x[i]) +
                                 hfi_arrhenius_rate(law, centre + half * gauss_x[i]));
        return 0.5 * duration * sum;
    }
    const double F0 = T0 * hfi_arrhenius_rate(law, T0) * hfi_scaled_expint2(law->theta / T0);
    const double F1 = T1 * hfi_arrhenius_rate(law, T1) * hfi_scaled_expint2(law->theta / T1);
    return duration * ((F1 - F0) / change);
}

static hf_status check(size_t n, const double *time, const double *temperature, size_t *bad)
{
    for (size_t i = 0; i < n; i++) {
        *bad = i;
        if (!isfinite(time[i]) || !isfinite(temperature[i]))
            return HF_EINVAL;
        if (i && !(time[i] > time[i - 1]))
            return HF_EDATA;
        if (!(temperature[i] > 0))
            return HF_ERANGE;
    }
    return HF_OK;
}

hf_status hf_arrhenius_exposure_e(size_t n, const double *time, const double *temperature,
                                  double log_frequency, double activation_temperature,
                                  double *exposure, size_t *bad)
{
    size_t fault = 0;
    hf_status status = HF_OK;
    if (n < 2 || !time || !temperature || !exposure || !isfinite(log_frequency) ||
        !isfinite(activation_temperature))
        status = HF_EINVAL;
    else if (activation_temperature < 0)
        status = HF_ERANGE;
    else
        status = check(n, time, temperature, &fault);
    if (status != HF_OK) {
        if (bad)
            *bad = fault;
        return status;
    }
    const hfi_arrhenius law = {log_frequency, activation_temperature};
    double sum = 0;
    for (size_t i = 1; i < n; i++)
        sum +=
            hfi_arrhenius_segment(&law, time[i] - time[i - 1], temperature[i - 1], temperature[i]);
    if (!isfinite(sum))
        return HF_ERANGE;
    *exposure = sum;
    return HF_OK;
}
