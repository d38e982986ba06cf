/*
 * Break stress and strain against humidity and disulfide loss; break force.
 *
 *   X(h) = Xw + (Xa - Xw) (1 - h)/(1 - ha)            X break stress or break strain
 *   left after a loss f of disulfide    wet 1 - c f,   dry 1 up to f = fd, nothing known beyond
 *   force  F = s A                      stress  s = F/A
 *
 *   h relative humidity, 1 = wet   ha humidity of the dry test   Xw, Xa wet and at ha
 *   s Pa   A cross-section, m2   F N   f share of disulfide bonds lost
 *
 * 191 and 229 MPa, 57.5 and 46.9 % (wortmann2022, group N0; bleached: B0). The straight line is
 * this project's own; break stress moves by 10 to 20 % from 20 to 90 % humidity (evans-fatigue, p.
 * 263). Laboratories disagree: at 65 % humidity 194 (breakstress-rh2021), 196 (menkart1966), 202
 * (textbook-ch6), 201 (tunisian2016), ambient 161 MPa (kunchi2018); hair of African type is read at
 * 87 (wickett-ch7), 155 (breakstress-rh2021) and 189 MPa (textbook-ch6).
 *
 * Disulfide: both laws are from memory (robbins-book), checked by nothing in this project but the
 * sign. They are rules about tests, not a statement that disulfide bonds carry that share of load.
 * Which cross-section, dry or wet, the stresses of wet hair refer to was not read.
 */
#include <hairfibre/strength.h>

#include "curve.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

static const hfi_range stress_humidity_range = {HFI_BREAK_HUMIDITY};
static const hfi_range strain_humidity_range = {HFI_CURVE_HUMIDITY};
static const hfi_range area_range = {HFI_AREA};
static const hfi_range force_range = {HFI_FORCE};
static const hfi_range lost_range = {HFI_DISULFIDE_LOST};

static double between(const double *values, double wet, double ambient, double h)
{
    return wet + (ambient - wet) * (1 - h) / (1 - values[HFI_STRENGTH_MODULUS_AMBIENT_HUMIDITY]);
}

double hfi_break_stress(const double *values, double h)
{
    return between(values, values[HFI_STRENGTH_BREAK_STRESS_WET],
                   values[HFI_STRENGTH_BREAK_STRESS_AMBIENT], h);
}

double hfi_break_strain(const double *values, double h)
{
    return between(values, values[HFI_STRENGTH_BREAK_STRAIN_WET],
                   values[HFI_STRENGTH_BREAK_STRAIN_AMBIENT], h);
}

hf_status hf_break_stress_e(double humidity, const hf_parameters *set, unsigned flags,
                            double *stress)
{
    const hf_status status =
        stress ? hfi_check(humidity, &stress_humidity_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *stress = hfi_break_stress(hfi_values(set), humidity);
    return status;
}

hf_status hf_break_strain_e(double humidity, const hf_parameters *set, unsigned flags,
                            double *strain)
{
    const hf_status status =
        strain ? hfi_check(humidity, &strain_humidity_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *strain = hfi_break_strain(hfi_values(set), humidity);
    return status;
}

hf_status hf_break_force_e(double area, double humidity, const hf_parameters *set, unsigned flags,
                           double *force)
{
    double stress;
    hf_status status = force ? hfi_check(area, &area_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hf_break_stress_e(humidity, set, flags, &stress));
    if (!hf_failed(status))
        *force = stress * area;
    return status;
}

hf_status hf_axial_stress_e(double force, double area, unsigned flags, double *stress)
{
    hf_status status = stress ? hfi_check(force, &force_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hfi_check(area, &area_range, flags));
    if (!hf_failed(status))
        *stress = force / area;
    return status;
}

hf_status hf_break_stress_left_e(double disulfide_lost, hf_water_state state,
                                 const hf_parameters *set, unsigned flags, double *share)
{
    if (!share || (state != HF_WET && state != HF_DRY))
        return HF_EINVAL;
    const hf_status status = hfi_check(disulfide_lost, &lost_range, flags);
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    const double left = 1 - values[HFI_STRENGTH_DISULFIDE_WET_COST] * disulfide_lost;
    if (state == HF_WET ? left < 0 : disulfide_lost > values[HFI_STRENGTH_DISULFIDE_DRY_LIMIT])
        return HF_ERANGE;
    *share = state == HF_WET ? left : 1;
    return status;
}

HFI_STRICT(hf_break_stress, (double humidity, const hf_parameters *set), humidity, set)
HFI_STRICT(hf_break_strain, (double humidity, const hf_parameters *set), humidity, set)
HFI_STRICT(hf_break_force, (double area, double humidity, const hf_parameters *set), area, humidity,
           set)
HFI_STRICT(hf_axial_stress, (double force, double area), force, area)
HFI_STRICT(hf_break_stress_left,
           (double disulfide_lost, hf_water_state state, const hf_parameters *set), disulfide_lost,
           state, set)
