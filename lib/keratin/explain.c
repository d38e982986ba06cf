#include "explain.h"

#include "sorption.h"

#include <stdio.h>

hf_branch hfi_branch_of(double x)
{
    return x == 0 ? HF_ABSORPTION : x == 1 ? HF_DESORPTION : (hf_branch)2;
}

/* The joint limit of temperature and constants; 1 when it is the one at fault. */
static int infinite(hfi_isotherm *isotherm, double temperature, hf_branch branch,
                    const hf_parameters *set, hf_message *message)
{
    if (hfi_sorption_start(isotherm, temperature, branch, set, HF_EXTRAPOLATE) != HF_ERANGE)
        return 0;
    const double k = isotherm->k > isotherm->under.k ? isotherm->k : isotherm->under.k;
    snprintf(
        message->text, sizeof message->text,
        "the constant k of the isotherm is %.4g at %.6g K (%.6g degC) and must be below 1: lower "
        "sorption.absorption.k, sorption.desorption.k or sorption.enthalpy.k",
        k, temperature, temperature - 273.15);
    return 1;
}

void hfi_explain_sorbed(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_isotherm isotherm;
    if (infinite(&isotherm, x[1], hfi_branch_of(x[2]), set, message))
        return;
    const double most = hfi_isotherm_regain(&isotherm, 1, NULL);
    if (x[0] > most)
        snprintf(message->text, sizeof message->text,
                 "regain = %.6g (%.6g %%) is more than the %.4g (%.4g %%) that the fibre holds as "
                 "sorbed water at %.6g K (%.6g degC); the rest is liquid water, of activity 1",
                 x[0], 100 * x[0], most, 100 * most, x[1], x[1] - 273.15);
}

void hfi_explain_isotherm(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_isotherm isotherm;
    infinite(&isotherm, x[1], HF_DESORPTION, set, message);
}

void hfi_explain_saturation(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_isotherm isotherm;
    infinite(&isotherm, x[0], HF_DESORPTION, set, message);
}

void hfi_explain_loop(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_isotherm isotherm;
    if (infinite(&isotherm, x[2], HF_DESORPTION, set, message))
        return;
    const double high = hfi_isotherm_regain(&isotherm, x[1], NULL);
    if (hf_failed(hfi_sorption_start(&isotherm, x[2], HF_ABSORPTION, set, HF_EXTRAPOLATE)))
        return;
    const double low = hfi_isotherm_regain(&isotherm, x[1], NULL);
    if (x[0] < low || x[0] > high)
        snprintf(
            message->text, sizeof message->text,
            "regain = %.6g (%.6g %%) lies outside the hysteresis loop, which spans %.4g to %.4g "
            "(%.4g %% to %.4g %%) at humidity %.4g %% and %.6g K (%.6g degC)",
            x[0], 100 * x[0], low, high, 100 * low, 100 * high, 100 * x[1], x[2], x[2] - 273.15);
}

/* Forms with a denominator 1 - constant * humidity. */
static void without_limit(const char *name, double constant, double humidity, hf_message *message)
{
    if (constant * humidity >= 1)
        snprintf(message->text, sizeof message->text,
                 "%s = %.6g times humidity = %.6g (%.6g %%) must stay below 1, where the isotherm "
                 "grows without limit",
                 name, constant, humidity, 100 * humidity);
}

void hfi_explain_gab(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    without_limit("k", x[3], x[0], message);
}

void hfi_explain_bet(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    if (x[0] >= 1)
        snprintf(message->text, sizeof message->text,
                 "humidity = 1 (100 %%): the isotherm grows without limit there");
}

void hfi_explain_hailwood(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    without_limit("k2", x[3], x[0], message);
}

void hfi_explain_darcy(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    without_limit("c", x[4], x[0], message);
}
