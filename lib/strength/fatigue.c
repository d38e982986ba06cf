/*
 * Fatigue of a strand that is pulled to a stress again and again.
 *
 *   life       ln a = c0 - c1 ln(s/MPa) + c2 h + c3 h^2
 *   rival      ln a = b0 - b1 ln(s/MPa), one pair for each of 20, 60 and 90 % humidity
 *   shape      k(h) straight between the three humidities, and on beyond them
 *   survival   S = exp(-(n/a)^k)
 *
 *   a characteristic life, cycles (63 % broken)   s peak stress, Pa   h relative humidity   n
 * cycles
 *
 * Both fits of this project to the 18 cells of evans-fatigue, Table 9 (virgin Caucasian hair, 75
 * fibres each, run-out at 300000 cycles), unweighted, cells at the middle of their stress. Joint
 * fit: R2 0.960, scatter 0.36 in ln a; four of the 18 cells lie more than a factor 1.5 away. k: the
 * mean of the cells at each humidity. The law is Basquin's (basquin), the distribution Weibull's
 * (weibull-life), both from memory.
 *
 * Evidence reaches from the lower to the upper edge of the cells at each humidity, which is between
 * three and six tenths of the break stress: grooming pulls far less, so its lives are long
 * extrapolations. No table of bleached hair was read: those sets have no model.
 */
#include <hairfibre/strength.h>

#include "choice.h"
#include "fatigue.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

#define MEGA 1e6 /* Pa per MPa */

static const hfi_range stress_range = {HFI_FATIGUE_STRESS};
static const hfi_range humidity_range = {HFI_FATIGUE_HUMIDITY};
static const hfi_range cycles_range = {HFI_FATIGUE_CYCLES};
static const hfi_range used_range = {HFI_FATIGUE_USED};

#define LEVELS 3
static const double level_humidity[LEVELS] = {0.20, 0.60, 0.90};
/* 0.012, 0.009, 0.006 and 0.017, 0.015, 0.013 gf/um2; 1 gf/um2 is 9806.65 MPa. */
static const double lowest[LEVELS] = {0.012 * 9806.65e6, 0.009 * 9806.65e6, 0.006 * 9806.65e6};
static const double highest[LEVELS] = {0.017 * 9806.65e6, 0.015 * 9806.65e6, 0.013 * 9806.65e6};

/* Straight between the three points; the outer lines go on. */
static double along(const double *y, double h)
{
    const int i = h < level_humidity[1] ? 0 : 1;
    const double u = (h - level_humidity[i]) / (level_humidity[i + 1] - level_humidity[i]);
    return y[i] + (y[i + 1] - y[i]) * u;
}

double hfi_fatigue_lowest(double humidity)
{
    return along(lowest, humidity);
}

double hfi_fatigue_highest(double humidity)
{
    return along(highest, humidity);
}

static hf_status beyond(unsigned flags)
{
    return flags & HF_EXTRAPOLATE ? HF_EXTRAPOLATED : HF_ERANGE;
}

static hf_status in_band(double stress, double low, double high, unsigned flags)
{
    /* The edges are sums of products; a stress given as the same number must not miss them. */
    const double slack = 1e-12 * high;
    return stress < low - slack || stress > high + slack ? beyond(flags) : HF_OK;
}

int hfi_fatigue_measured(double stress, double humidity)
{
    const double slack = 1e-5; /* a humidity that is computed must not miss the edge */
    const double h = fmin(fmax(humidity, level_humidity[0]), level_humidity[LEVELS - 1]);
    return fabs(humidity - h) < slack && hfi_check(stress, &stress_range, 0) == HF_OK &&
           in_band(stress, hfi_fatigue_lowest(h), hfi_fatigue_highest(h), 0) == HF_OK;
}

double hfi_fatigue_life(const double *values, double stress, double humidity)
{
    return exp(values[HFI_STRENGTH_FATIGUE_INTERCEPT] -
               values[HFI_STRENGTH_FATIGUE_EXPONENT] * log(stress / MEGA) +
               humidity * (values[HFI_STRENGTH_FATIGUE_HUMIDITY] +
                           humidity * values[HFI_STRENGTH_FATIGUE_HUMIDITY_SQUARED]));
}

static hf_status measured(const double *values)
{
    return values[HFI_STRENGTH_FATIGUE_READ] > 0.5 ? HF_OK : HF_ENOMODEL;
}

hf_status hf_fatigue_life_e(double stress, double humidity, const hf_parameters *set,
                            unsigned flags, double *cycles)
{
    if (!cycles)
        return HF_EINVAL;
    const double *values = hfi_values(set);
    hf_status status = hfi_worse(hfi_check(stress, &stress_range, flags),
                                 hfi_check(humidity, &humidity_range, flags));
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, measured(values));
    if (status == HF_OK)
        status =
            in_band(stress, hfi_fatigue_lowest(humidity), hfi_fatigue_highest(humidity), flags);
    if (hf_failed(status))
        return status;
    *cycles = hfi_fatigue_life(values, stress, humidity);
    return status;
}

hf_status hf_fatigue_life_rival_e(double stress, hf_fatigue_level level, const hf_parameters *set,
                                  unsigned flags, double *cycles)
{
    if (!cycles || !hfi_is_member((int)level, LEVELS))
        return HF_EINVAL;
    const double *values = hfi_values(set);
    hf_status status = hfi_check(stress, &stress_range, flags);
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, measured(values));
    if (status == HF_OK)
        status = in_band(stress, lowest[level], highest[level], flags);
    if (hf_failed(status))
        return status;
    *cycles = exp(values[HFI_STRENGTH_FATIGUE_INTERCEPT_20 + 2 * (int)level] -
                  values[HFI_STRENGTH_FATIGUE_EXPONENT_20 + 2 * (int)level] * log(stress / MEGA));
    return status;
}

hf_status hf_fatigue_shape_e(double humidity, const hf_parameters *set, unsigned flags,
                             double *shape)
{
    hf_status status = shape ? hfi_check(humidity, &humidity_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    status = hfi_worse(status, measured(values));
    const double k = along(values + HFI_STRENGTH_FATIGUE_SHAPE_20, humidity);
    if (!hf_failed(status) && !(k > 0))
        status = HF_ERANGE;
    if (!hf_failed(status))
        *shape = k;
    return status;
}

hf_status hf_fatigue_used_e(double cycles, double stress, double humidity, const hf_parameters *set,
                            unsigned flags, double *used)
{
    double life;
    hf_status status = used ? hfi_check(cycles, &cycles_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hf_fatigue_life_e(stress, humidity, set, flags, &life));
    if (!hf_failed(status))
        *used = cycles / life;
    return status;
}

hf_status hf_survival_of_used_e(double used, double humidity, const hf_parameters *set,
                                unsigned flags, double *probability)
{
    double shape;
    hf_status status = probability ? hfi_check(used, &used_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hf_fatigue_shape_e(humidity, set, flags, &shape));
    if (!hf_failed(status))
        *probability = exp(-pow(used, shape));
    return status;
}

hf_status hf_fatigue_survival_e(double cycles, double stress, double humidity,
                                const hf_parameters *set, unsigned flags, double *probability)
{
    double used;
    const hf_status status =
        probability ? hf_fatigue_used_e(cycles, stress, humidity, set, flags, &used) : HF_EINVAL;
    return hf_failed(status)
               ? status
               : hfi_worse(status, hf_survival_of_used_e(used, humidity, set, flags, probability));
}

HFI_STRICT(hf_fatigue_life, (double stress, double humidity, const hf_parameters *set), stress,
           humidity, set)
HFI_STRICT(hf_fatigue_life_rival, (double stress, hf_fatigue_level level, const hf_parameters *set),
           stress, level, set)
HFI_STRICT(hf_fatigue_shape, (double humidity, const hf_parameters *set), humidity, set)
HFI_STRICT(hf_fatigue_used,
           (double cycles, double stress, double humidity, const hf_parameters *set), cycles,
           stress, humidity, set)
HFI_STRICT(hf_survival_of_used, (double used, double humidity, const hf_parameters *set), used,
           humidity, set)
HFI_STRICT(hf_fatigue_survival,
           (double cycles, double stress, double humidity, const hf_parameters *set), cycles,
           stress, humidity, set)
