#include "voids.h"

#include <hairfibre/water.h>

#include <hairfibre/vapour.h>

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "ranges.h"

#include <math.h>

#define GAS 8.31446261815324

double hfi_void_viscosity(const double *values, double T, double w)
{
    const double inverse = 1 / T - 1 / values[HFI_VOID_VISCOSITY_TEMPERATURE];
    return values[HFI_VOID_VISCOSITY_REFERENCE] *
           exp(values[HFI_VOID_VISCOSITY_ENERGY] / GAS * inverse -
               values[HFI_VOID_VISCOSITY_REGAIN] *
                   (w - values[HFI_VOID_VISCOSITY_REFERENCE_REGAIN]));
}

double hfi_void_growth_rate(const double *values, double T, double w, double drive,
                            double first_radius, double growth)
{
    const double threshold = values[HFI_VOID_THRESHOLD];
    if (drive <= threshold)
        return 0;
    const double push = drive - threshold - 2 * hf_surface_tension(T) / first_radius * exp(-growth);
    return push > 0 ? push / (4 * hfi_void_viscosity(values, T, w)) : 0;
}

static const hfi_range pressure_range = {HFI_VOID_PRESSURE};
static const hfi_range radius_range = {HFI_VOID_RADIUS};
static const hfi_range hot_range = {HFI_VOID_HOT};
static const hfi_range regain_range = {HFI_VOID_REGAIN};

hf_status hf_void_viscosity_e(double temperature, double regain, const hf_parameters *set,
                              unsigned flags, double *viscosity)
{
    if (!viscosity)
        return HF_EINVAL;
    const hf_status status = hfi_worse(hfi_check(temperature, &hot_range, flags),
                                       hfi_check(regain, &regain_range, flags));
    if (!hf_failed(status))
        *viscosity = hfi_void_viscosity(hfi_values(set), temperature, regain);
    return status;
}

HFI_STRICT(hf_void_viscosity, (double temperature, double regain, const hf_parameters *set),
           temperature, regain, set)

hf_status hf_void_growth_rate_e(double gauge_pressure, double void_radius, double temperature,
                                double regain, const hf_parameters *set, unsigned flags,
                                double *rate)
{
    if (!rate)
        return HF_EINVAL;
    hf_status status = hfi_check(gauge_pressure, &pressure_range, flags);
    status = hfi_worse(status, hfi_check(void_radius, &radius_range, flags));
    status = hfi_worse(status, hfi_check(temperature, &hot_range, flags));
    status = hfi_worse(status, hfi_check(regain, &regain_range, flags));
    if (!hf_failed(status))
        *rate = hfi_void_growth_rate(hfi_values(set), temperature, regain, gauge_pressure,
                                     void_radius, 0);
    return status;
}

HFI_STRICT(hf_void_growth_rate,
           (double gauge_pressure, double void_radius, double temperature, double regain,
            const hf_parameters *set),
           gauge_pressure, void_radius, temperature, regain, set)

const char *hf_void_grade(double growth, const hf_parameters *set)
{
    const double onset = hfi_values(set)[HFI_VOID_ONSET];
    if (!(growth >= 0.1 * onset))
        return "no void growth expected";
    if (growth < onset)
        return "void growth below what a microscope shows";
    if (growth < 3 * onset)
        return "voids set in";
    if (growth < 6 * onset)
        return "voids expected";
    return "many and large voids expected";
}
