/*
 * Saturation line of water by IAPWS-IF97, region 4: the independent check of saturation.c.
 *
 *   b = (p / 1 MPa)^(1/4),  v = T + n9/(T - n10)  (T in K)
 *   b^2 v^2 + n1 b^2 v + n2 b^2 + n3 b v^2 + n4 b v + n5 b + n6 v^2 + n7 v + n8 = 0
 *
 * a quadratic in b (equation 30, pressure) and in v (equation 31, temperature), so each direction
 * has a closed form and the two are exact inverses. 273.15..647.096 K, 611.213 Pa..22.064 MPa.
 * Source: iapws-r7-97, Table 34 (n10 from memory, confirmed by the check values of Tables 35, 36).
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

static const double n1 = 0.11670521452767e4, n2 = -0.72421316703206e6, n3 = -0.17073846940092e2,
                    n4 = 0.12020824702470e5, n5 = -0.32325550322333e7, n6 = 0.14915108613530e2,
                    n7 = -0.48232657361591e4, n8 = 0.40511340542057e6, n9 = -0.23855557567849,
                    n10 = 0.65017534844798e3;

hf_status hf_region4_pressure_e(double temperature, unsigned flags, double *out)
{
    static const hfi_range range = {HFI_REGION4_TEMPERATURE};
    const hf_status status = hfi_check(temperature, &range, flags);
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double v = temperature + n9 / (temperature - n10);
    const double a = v * v + n1 * v + n2;
    const double b = n3 * v * v + n4 * v + n5;
    const double c = n6 * v * v + n7 * v + n8;
    const double root = 2 * c / (-b + sqrt(b * b - 4 * a * c));
    *out = 1e6 * (root * root) * (root * root);
    return status;
}

HFI_STRICT(hf_region4_pressure, (double temperature), temperature)

double hfi_region4_temperature(double pressure)
{
    const double square = sqrt(pressure * 1e-6);
    const double b = sqrt(square);
    const double e = square + n3 * b + n6;
    const double f = n1 * square + n4 * b + n7;
    const double g = n2 * square + n5 * b + n8;
    const double v = 2 * g / (-f - sqrt(f * f - 4 * e * g));
    const double sum = n10 + v;
    return 0.5 * (sum - sqrt(sum * sum - 4 * (n9 + n10 * v)));
}

hf_status hf_region4_temperature_e(double pressure, unsigned flags, double *out)
{
    static const hfi_range range = {HFI_REGION4_PRESSURE};
    const hf_status status = hfi_check(pressure, &range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_region4_temperature(pressure);
    return status;
}

HFI_STRICT(hf_region4_temperature, (double pressure), pressure)
