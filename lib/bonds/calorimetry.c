/*
 * Calorimetry of bleached hair in water: peak temperature and enthalpy against time and number.
 *
 *   by time (gillece2021, Table IV, p. 538; persulfate and peroxide, 2 K/min)
 *     steady   T = T0 - a t/h        H = H0 - b t/h
 *     root     T = T0 - a sqrt(t/h)  H = H0 - b sqrt(t/h)
 *   by number of bleachings n (wortmann2002, Table I, p. 222; 10 K/min from memory)
 *     peak     T = T0 - a n
 *     points   H = H0 exp(-b n), through the four printed points
 *     printed  H = H(0) exp(4.55 - 0.069 n)/100, the line printed with them (p. 225)
 *   enthalpy from the peak: H = -33.6 + 0.33 T, J/g and degC (wortmann2002, p. 224)
 *
 * t s, h 3600 s, T K, H J per kg hair. All constants but the printed ones are least-squares fits
 * made here to the printed points. A misfit is the root mean square over those points. What the
 * fits say: the peaks favour the straight line slightly (0.38 against 0.47 K; each point is good to
 * 0.3 to 0.7 K); neither law follows the enthalpies, which hold for an hour and then fall faster
 * and faster; the printed line by number loses half as much per bleaching as the points printed
 * beside it. The two laboratories differ by 17 K and in heating rate: their numbers are not joined.
 */
#include <hairfibre/chemistry.h>

#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

#define HOUR 3600.0 /* s */

/* Minutes, degC, J/g; and the four points by number. */
static const double minutes[9] = {0, 15, 30, 45, 60, 90, 120, 180, 240};
static const double peaks[9] = {141.3, 139.7, 139.5, 139.2, 139.4, 138.3, 137.1, 136.3, 134.6};
static const double enthalpies[9] = {19.8, 19.8, 19.7, 19.8, 19.5, 18.9, 17.6, 15.8, 10.7};
static const double by_number[4] = {19.3, 18.0, 15.6, 13.7};

static const hfi_range duration_range = {HFI_CALORIMETRY_DURATION};
static const hfi_range number_range = {HFI_CALORIMETRY_NUMBER};

static int known_law(hf_bleach_law law)
{
    return law == HF_BLEACH_ROOT || law == HF_BLEACH_STEADY;
}

static double peak_at(const double *values, double duration, hf_bleach_law law)
{
    if (law == HF_BLEACH_ROOT)
        return values[HFI_CALORIMETRY_PEAK_ROOT_START] -
               values[HFI_CALORIMETRY_PEAK_ROOT_FALL] * sqrt(duration / HOUR);
    return values[HFI_CALORIMETRY_PEAK_STEADY_START] -
           values[HFI_CALORIMETRY_PEAK_STEADY_FALL] * (duration / HOUR);
}

static double enthalpy_at(const double *values, double duration, hf_bleach_law law)
{
    if (law == HF_BLEACH_ROOT)
        return values[HFI_CALORIMETRY_ENTHALPY_ROOT_START] -
               values[HFI_CALORIMETRY_ENTHALPY_ROOT_FALL] * sqrt(duration / HOUR);
    return values[HFI_CALORIMETRY_ENTHALPY_STEADY_START] -
           values[HFI_CALORIMETRY_ENTHALPY_STEADY_FALL] * (duration / HOUR);
}

static double enthalpy_after(const double *values, double treatments, hf_number_law law)
{
    if (law == HF_NUMBER_PRINTED)
        return 1e3 * by_number[0] / 100 * exp(4.55 - 0.069 * treatments);
    return values[HFI_CALORIMETRY_NUMBER_ENTHALPY] *
           exp(-values[HFI_RATE_BLEACH_HELIX] * treatments);
}

hf_status hf_bleached_peak_e(double duration, hf_bleach_law law, const hf_parameters *set,
                             unsigned flags, double *temperature)
{
    const hf_status status =
        temperature && known_law(law) ? hfi_check(duration, &duration_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *temperature = peak_at(hfi_values(set), duration, law);
    return status;
}

hf_status hf_bleached_enthalpy_e(double duration, hf_bleach_law law, const hf_parameters *set,
                                 unsigned flags, double *enthalpy)
{
    const hf_status status =
        enthalpy && known_law(law) ? hfi_check(duration, &duration_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *enthalpy = enthalpy_at(hfi_values(set), duration, law);
    return status;
}

hf_status hf_bleached_peak_by_number_e(double treatments, const hf_parameters *set, unsigned flags,
                                       double *temperature)
{
    const hf_status status = temperature ? hfi_check(treatments, &number_range, flags) : HF_EINVAL;
    const double *values = hfi_values(set);
    if (!hf_failed(status))
        *temperature = values[HFI_CALORIMETRY_NUMBER_PEAK] -
                       values[HFI_CALORIMETRY_NUMBER_PEAK_FALL] * treatments;
    return status;
}

hf_status hf_bleached_enthalpy_by_number_e(double treatments, hf_number_law law,
                                           const hf_parameters *set, unsigned flags,
                                           double *enthalpy)
{
    if (!enthalpy || (law != HF_NUMBER_POINTS && law != HF_NUMBER_PRINTED))
        return HF_EINVAL;
    const hf_status status = hfi_check(treatments, &number_range, flags);
    if (!hf_failed(status))
        *enthalpy = enthalpy_after(hfi_values(set), treatments, law);
    return status;
}

hf_status hf_enthalpy_from_peak_e(double temperature, const hf_parameters *set, unsigned flags,
                                  double *enthalpy)
{
    static const hfi_range range = {HFI_CALORIMETRY_PEAK};
    (void)set;
    const hf_status status = enthalpy ? hfi_check(temperature, &range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *enthalpy = 1e3 * (-33.6 + 0.33 * (temperature - 273.15));
    return status;
}

static double root_mean_square(const double *misses, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += misses[i] * misses[i];
    return sqrt(sum / (double)n);
}

hf_status hf_bleached_peak_misfit_e(hf_bleach_law law, const hf_parameters *set, unsigned flags,
                                    double *misfit)
{
    double misses[9];
    (void)flags;
    if (!misfit || !known_law(law))
        return HF_EINVAL;
    for (size_t i = 0; i < 9; i++)
        misses[i] = peak_at(hfi_values(set), 60 * minutes[i], law) - (peaks[i] + 273.15);
    *misfit = root_mean_square(misses, 9);
    return HF_OK;
}

hf_status hf_bleached_enthalpy_misfit_e(hf_bleach_law law, const hf_parameters *set, unsigned flags,
                                        double *misfit)
{
    double misses[9];
    (void)flags;
    if (!misfit || !known_law(law))
        return HF_EINVAL;
    for (size_t i = 0; i < 9; i++)
        misses[i] = enthalpy_at(hfi_values(set), 60 * minutes[i], law) - 1e3 * enthalpies[i];
    *misfit = root_mean_square(misses, 9);
    return HF_OK;
}

hf_status hf_bleached_enthalpy_by_number_misfit_e(hf_number_law law, const hf_parameters *set,
                                                  unsigned flags, double *misfit)
{
    double misses[4];
    (void)flags;
    if (!misfit || (law != HF_NUMBER_POINTS && law != HF_NUMBER_PRINTED))
        return HF_EINVAL;
    for (size_t i = 0; i < 4; i++)
        misses[i] = enthalpy_after(hfi_values(set), (double)i, law) - 1e3 * by_number[i];
    *misfit = root_mean_square(misses, 4);
    return HF_OK;
}

HFI_STRICT(hf_bleached_peak, (double duration, hf_bleach_law law, const hf_parameters *set),
           duration, law, set)
HFI_STRICT(hf_bleached_enthalpy, (double duration, hf_bleach_law law, const hf_parameters *set),
           duration, law, set)
HFI_STRICT(hf_bleached_peak_by_number, (double treatments, const hf_parameters *set), treatments,
           set)
HFI_STRICT(hf_bleached_enthalpy_by_number,
           (double treatments, hf_number_law law, const hf_parameters *set), treatments, law, set)
HFI_STRICT(hf_enthalpy_from_peak, (double temperature, const hf_parameters *set), temperature, set)
HFI_STRICT(hf_bleached_peak_misfit, (hf_bleach_law law, const hf_parameters *set), law, set)
HFI_STRICT(hf_bleached_enthalpy_misfit, (hf_bleach_law law, const hf_parameters *set), law, set)
HFI_STRICT(hf_bleached_enthalpy_by_number_misfit, (hf_number_law law, const hf_parameters *set),
           law, set)
