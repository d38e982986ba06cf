#include "voids.h"

#include <hairfibre/water.h>

#include "../base/catalogue.h"

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
