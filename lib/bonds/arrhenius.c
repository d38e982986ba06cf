/*
 * Arrhenius laws, in two forms
 *
 *   k = exp(ln A - theta/T)                        A in 1/s (or any unit of rate)
 *   k = k_ref exp(-theta (1/T - 1/T_ref))
 *
 * theta = E/R, K; E activation energy, J/mol; R = 8.31446261815324 J/(mol K) (codata2018);
 * T temperature, K, above 0. theta is not negative.
 *
 * Published laws mix E/R in kelvin with E in J/mol and round either: 75000 K and 6.28e5 J/mol of
 * the same burn law (henriques1947) differ by a factor 5 in rate. Hence the functions take theta.
 */
#include <hairfibre/bonds.h>

#include "arrhenius.h"

#include "../keratin/constants.h"

double hf_activation_temperature(double energy)
{
    return energy / HFI_GAS_CONSTANT;
}

hf_status hf_arrhenius_e(double temperature, double log_frequency, double activation_temperature,
                         double *rate)
{
    if (!rate || !isfinite(temperature) || !isfinite(log_frequency) ||
        !isfinite(activation_temperature))
        return HF_EINVAL;
    if (!(temperature > 0) || activation_temperature < 0)
        return HF_ERANGE;
    const hfi_arrhenius law = {log_frequency, activation_temperature};
    const double k = hfi_arrhenius_rate(&law, temperature);
    if (!isfinite(k))
        return HF_ERANGE;
    *rate = k;
    return HF_OK;
}

double hf_arrhenius(double temperature, double log_frequency, double activation_temperature)
{
    double k = (double)NAN;
    const hf_status status = hf_arrhenius_e(temperature, log_frequency, activation_temperature, &k);
    return status == HF_OK ? k : (double)NAN;
}

hf_status hf_arrhenius_from_reference_e(double temperature, double reference_rate,
                                        double reference_temperature, double activation_temperature,
                                        double *rate)
{
    if (!rate || !isfinite(temperature) || !isfinite(reference_rate) ||
        !isfinite(reference_temperature) || !isfinite(activation_temperature))
        return HF_EINVAL;
    if (!(temperature > 0) || !(reference_temperature > 0) || reference_rate < 0 ||
        activation_temperature < 0)
        return HF_ERANGE;
    const double k =
        reference_rate * exp(activation_temperature * (temperature - reference_temperature) /
                             (temperature * reference_temperature));
    if (!isfinite(k))
        return HF_ERANGE;
    *rate = k;
    return HF_OK;
}

double hf_arrhenius_from_reference(double temperature, double reference_rate,
                                   double reference_temperature, double activation_temperature)
{
    double k = (double)NAN;
    const hf_status status = hf_arrhenius_from_reference_e(
        temperature, reference_rate, reference_temperature, activation_temperature, &k);
    return status == HF_OK ? k : (double)NAN;
}
