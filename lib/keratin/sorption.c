/* Regain and water activity on one branch; the equations are in isotherm.c. */
#include "sorption.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "ranges.h"

#include <math.h>

static const hfi_range temperature_range = {HFI_SORPTION_TEMPERATURE};
static const hfi_range humidity_range = {HFI_HUMIDITY};

hf_status hfi_sorption_start(hfi_isotherm *isotherm, double temperature, hf_branch branch,
                             const hf_parameters *set, unsigned flags)
{
    if (branch != HF_ABSORPTION && branch != HF_DESORPTION)
        return HF_EINVAL;
    const hf_status status = hfi_check(temperature, &temperature_range, flags);
    if (hf_failed(status))
        return status;
    hfi_isotherm_at(isotherm, hfi_values(set), branch, temperature);
    /* K = 1 would put infinitely much water in the fibre at humidity 1. Only changed constants get
     * there: k 0.9 with an enthalpy of 5 kJ/mol does at 0 degC. */
    return isotherm->k < 1 && isotherm->under.k < 1 ? status : HF_ERANGE;
}

hf_status hfi_sorption_check_regain(const hfi_isotherm *isotherm, double regain)
{
    if (!isfinite(regain))
        return HF_EINVAL;
    return regain < 0 || regain > hfi_isotherm_regain(isotherm, 1, NULL) ? HF_ERANGE : HF_OK;
}

hf_status hf_regain_e(double humidity, double temperature, hf_branch branch,
                      const hf_parameters *set, unsigned flags, double *regain)
{
    hfi_isotherm isotherm;
    if (!regain)
        return HF_EINVAL;
    hf_status status = hfi_check(humidity, &humidity_range, flags);
    if (!hf_failed(status))
        status = hfi_worse(status, hfi_sorption_start(&isotherm, temperature, branch, set, flags));
    if (!hf_failed(status))
        *regain = hfi_isotherm_regain(&isotherm, humidity, NULL);
    return status;
}

HFI_STRICT(hf_regain,
           (double humidity, double temperature, hf_branch branch, const hf_parameters *set),
           humidity, temperature, branch, set)

hf_status hf_regain_slope_e(double humidity, double temperature, hf_branch branch,
                            const hf_parameters *set, unsigned flags, double *slope)
{
    hfi_isotherm isotherm;
    if (!slope)
        return HF_EINVAL;
    hf_status status = hfi_check(humidity, &humidity_range, flags);
    if (!hf_failed(status))
        status = hfi_worse(status, hfi_sorption_start(&isotherm, temperature, branch, set, flags));
    if (!hf_failed(status))
        hfi_isotherm_regain(&isotherm, humidity, slope);
    return status;
}

HFI_STRICT(hf_regain_slope,
           (double humidity, double temperature, hf_branch branch, const hf_parameters *set),
           humidity, temperature, branch, set)

hf_status hf_saturation_regain_e(double temperature, hf_branch branch, const hf_parameters *set,
                                 unsigned flags, double *regain)
{
    return hf_regain_e(1, temperature, branch, set, flags, regain);
}

double hf_saturation_regain(double temperature, hf_branch branch, const hf_parameters *set)
{
    return hf_regain(1, temperature, branch, set);
}

/* The inverse may round to a hair above 1 at the saturation regain itself. */
static double activity_at(const hfi_isotherm *isotherm, double regain)
{
    const double a = hfi_isotherm_activity(isotherm, regain, NULL, NULL);
    return a > 1 ? 1 : a;
}

hf_status hf_water_activity_e(double regain, double temperature, hf_branch branch,
                              const hf_parameters *set, unsigned flags, double *activity)
{
    hfi_isotherm isotherm;
    if (!activity || !isfinite(regain))
        return HF_EINVAL;
    hf_status status = hfi_sorption_start(&isotherm, temperature, branch, set, flags);
    if (!hf_failed(status))
        status = hfi_worse(status, hfi_sorption_check_regain(&isotherm, regain));
    if (!hf_failed(status))
        *activity = activity_at(&isotherm, regain);
    return status;
}

HFI_STRICT(hf_water_activity,
           (double regain, double temperature, hf_branch branch, const hf_parameters *set), regain,
           temperature, branch, set)

/* One loop for both directions: the isotherm is kept while the temperature stays the same. */
static hf_status bulk(size_t n, const double *x, const double *temperature, hf_branch branch,
                      const hf_parameters *set, unsigned flags, int inverse, double *out,
                      size_t *bad)
{
    hfi_isotherm isotherm = {0};
    hf_status worst = HF_OK, at_temperature = HF_EINTERNAL;
    double kept = (double)NAN;
    if (n && (!x || !temperature || !out))
        return HF_EINVAL;
    for (size_t i = 0; i < n; i++) {
        const double T = temperature[i];
        if (!(T == kept)) {
            at_temperature = hfi_sorption_start(&isotherm, T, branch, set, flags);
            kept = T;
        }
        hf_status status = at_temperature;
        if (!hf_failed(status))
            status = hfi_worse(status, inverse ? hfi_sorption_check_regain(&isotherm, x[i])
                                               : hfi_check(x[i], &humidity_range, flags));
        if (hf_failed(status)) {
            if (bad)
                *bad = i;
            return status;
        }
        out[i] =
            inverse ? activity_at(&isotherm, x[i]) : hfi_isotherm_regain(&isotherm, x[i], NULL);
        worst = hfi_worse(worst, status);
    }
    return worst;
}

hf_status hf_regain_v(size_t n, const double *humidity, const double *temperature, hf_branch branch,
                      const hf_parameters *set, unsigned flags, double *regain, size_t *bad)
{
    return bulk(n, humidity, temperature, branch, set, flags, 0, regain, bad);
}

hf_status hf_water_activity_v(size_t n, const double *regain, const double *temperature,
                              hf_branch branch, const hf_parameters *set, unsigned flags,
                              double *activity, size_t *bad)
{
    return bulk(n, regain, temperature, branch, set, flags, 1, activity, bad);
}

hf_status hf_liquid_retention_e(const hf_parameters *set, unsigned flags, double *retention)
{
    (void)flags;
    if (!retention)
        return HF_EINVAL;
    *retention = hfi_values(set)[HFI_SORPTION_RETENTION];
    return HF_OK;
}

double hf_liquid_retention(const hf_parameters *set)
{
    return hfi_values(set)[HFI_SORPTION_RETENTION];
}

hf_status hf_moisture_content_e(double regain, double *content)
{
    static const hfi_range range = {HFI_SORBED_REGAIN};
    if (!content)
        return HF_EINVAL;
    const hf_status status = hfi_check(regain, &range, HF_STRICT);
    if (!hf_failed(status))
        *content = regain / (1 + regain);
    return status;
}

double hf_moisture_content(double regain)
{
    double content;
    return hf_moisture_content_e(regain, &content) == HF_OK ? content : (double)NAN;
}

hf_status hf_regain_from_content_e(double content, double *regain)
{
    static const hfi_range range = {HFI_CONTENT};
    if (!regain)
        return HF_EINVAL;
    const hf_status status = hfi_check(content, &range, HF_STRICT);
    if (!hf_failed(status))
        *regain = content / (1 - content);
    return status;
}

double hf_regain_from_content(double content)
{
    double w;
    return hf_regain_from_content_e(content, &w) == HF_OK ? w : (double)NAN;
}
