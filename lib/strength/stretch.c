/* Questions to the stress-strain curve, with their ranges; curve.c has the equation. */
#include <hairfibre/strength.h>

#include "curve.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

static const hfi_range curve_range = {HFI_CURVE_HUMIDITY};
static const hfi_range yield_range = {HFI_YIELD_HUMIDITY};
static const hfi_range strain_range = {HFI_STRAIN};
static const hfi_range stress_range = {HFI_STRESS};

/* The end of the curve itself must not be missed by a rounding: 57.5 % need not be 0.575. */
static int beyond(double x, double end)
{
    return x > end * (1 + 1e-12);
}

hf_status hf_yield_stress_e(double humidity, const hf_parameters *set, unsigned flags,
                            double *stress)
{
    const hf_status status = stress ? hfi_check(humidity, &yield_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *stress = hfi_yield_stress(hfi_values(set), humidity);
    return status;
}

static hf_status curve_of(hfi_curve *curve, double humidity, const hf_parameters *set,
                          unsigned flags, const double *out)
{
    const hf_status status = out ? hfi_check(humidity, &curve_range, flags) : HF_EINVAL;
    return hf_failed(status) ? status : hfi_worse(status, hfi_curve_at(curve, set, humidity));
}

hf_status hf_yield_strain_e(double humidity, const hf_parameters *set, unsigned flags,
                            double *strain)
{
    hfi_curve curve;
    const hf_status status = curve_of(&curve, humidity, set, flags, strain);
    if (!hf_failed(status))
        *strain = curve.yield_strain;
    return status;
}

hf_status hf_post_yield_modulus_e(double humidity, const hf_parameters *set, unsigned flags,
                                  double *modulus)
{
    hfi_curve curve;
    const hf_status status = curve_of(&curve, humidity, set, flags, modulus);
    if (!hf_failed(status))
        *modulus = curve.post_modulus;
    return status;
}

/* One number of the curve at a strain up to the break. */
static hf_status at_strain(double (*number)(const hfi_curve *, double), double strain,
                           double humidity, const hf_parameters *set, unsigned flags, double *out)
{
    hfi_curve curve;
    hf_status status = hfi_check(strain, &strain_range, flags);
    if (!hf_failed(status))
        status = hfi_worse(status, curve_of(&curve, humidity, set, flags, out));
    if (hf_failed(status))
        return status;
    if (beyond(strain, curve.break_strain))
        return HF_ERANGE;
    *out = number(&curve, strain);
    return status;
}

hf_status hf_stress_at_strain_e(double strain, double humidity, const hf_parameters *set,
                                unsigned flags, double *stress)
{
    return at_strain(hfi_curve_stress, strain, humidity, set, flags, stress);
}

hf_status hf_tangent_modulus_e(double strain, double humidity, const hf_parameters *set,
                               unsigned flags, double *modulus)
{
    return at_strain(hfi_curve_slope, strain, humidity, set, flags, modulus);
}

hf_status hf_work_to_strain_e(double strain, double humidity, const hf_parameters *set,
                              unsigned flags, double *work)
{
    return at_strain(hfi_curve_work, strain, humidity, set, flags, work);
}

hf_status hf_work_to_break_e(double humidity, const hf_parameters *set, unsigned flags,
                             double *work)
{
    hfi_curve curve;
    const hf_status status = curve_of(&curve, humidity, set, flags, work);
    if (!hf_failed(status))
        *work = hfi_curve_work(&curve, curve.break_strain);
    return status;
}

hf_status hf_strain_at_stress_e(double stress, double humidity, const hf_parameters *set,
                                unsigned flags, double *strain)
{
    hfi_curve curve;
    hf_status status = hfi_check(stress, &stress_range, flags);
    if (!hf_failed(status))
        status = hfi_worse(status, curve_of(&curve, humidity, set, flags, strain));
    if (hf_failed(status))
        return status;
    if (beyond(stress, curve.break_stress))
        return HF_ERANGE;
    *strain = hfi_curve_strain(&curve, stress);
    return status;
}

HFI_STRICT(hf_yield_stress, (double humidity, const hf_parameters *set), humidity, set)
HFI_STRICT(hf_yield_strain, (double humidity, const hf_parameters *set), humidity, set)
HFI_STRICT(hf_post_yield_modulus, (double humidity, const hf_parameters *set), humidity, set)
HFI_STRICT(hf_stress_at_strain, (double strain, double humidity, const hf_parameters *set), strain,
           humidity, set)
HFI_STRICT(hf_tangent_modulus, (double strain, double humidity, const hf_parameters *set), strain,
           humidity, set)
HFI_STRICT(hf_strain_at_stress, (double stress, double humidity, const hf_parameters *set), stress,
           humidity, set)
HFI_STRICT(hf_work_to_strain, (double strain, double humidity, const hf_parameters *set), strain,
           humidity, set)
HFI_STRICT(hf_work_to_break, (double humidity, const hf_parameters *set), humidity, set)
