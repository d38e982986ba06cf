/*
 * The table of built-in models. Equations, symbols and sources: isotherms.c, kinetics.c, peak.c, uptake.c,
 * uptake_simulated.c, mechanics.c.
 */
#include "models.h"

#include <math.h>
#include <string.h>

#define NONE     ((double)NAN)
#define COUNT(a) (sizeof(a) / sizeof(a)[0])

/* name, unit, text, low, high, usual (NaN: free), given */
static const hf_model_parameter gab[] = {
    {"monolayer", "kg/kg", "regain of one layer", 0, NONE, NONE, 0},
    {"c", "1", "strength of the first layer", 0, NONE, NONE, 0},
    {"k", "1", "strength of the further layers", 0, 1, NONE, 0},
};
static const hf_model_parameter hailwood[] = {
    {"site_mass", "kg/mol", "dry fibre per mol of sites", 0, NONE, NONE, 0},
    {"k1", "1", "constant of the hydrate", 0, NONE, NONE, 0},
    {"k2", "1", "constant of dissolved water", 0, 1, NONE, 0},
};
static const hf_model_parameter darcy[] = {
    {"strong", "kg/kg", "capacity of strong sites", 0, NONE, NONE, 0},
    {"b", "1", "constant of strong sites", 0, NONE, NONE, 0},
    {"multilayer", "kg/kg", "capacity of multilayer water", 0, NONE, NONE, 0},
    {"c", "1", "constant of multilayer water", 0, 1, NONE, 0},
};
static const hf_model_parameter flory[] = {
    {"chi", "1", "interaction of water and fibre", NONE, NONE, NONE, 0},
    {"density_ratio", "1", "dry fibre over water", 0, NONE, 1.31, 0},
};
static const hf_model_parameter swelling[] = {
    {"slope", "1", "swelling per regain", NONE, NONE, NONE, 0},
    {"offset", "1", "swelling of the dry fibre", NONE, NONE, 0, 0},
};
static const hf_model_parameter power[] = {
    {"factor", "1", "swelling at regain 1", 0, NONE, NONE, 0},
    {"exponent", "1", "of the regain", 0, NONE, NONE, 0},
};
static const hf_model_parameter first_order[] = {
    {"start", "1", "value at time 0", NONE, NONE, NONE, 0},
    {"rest", "1", "value after a long time", NONE, NONE, 0, 0},
    {"rate", "1/s", "rate constant", 0, NONE, NONE, 0},
};
static const hf_model_parameter order_n[] = {
    {"start", "1", "value at time 0", NONE, NONE, NONE, 0},
    {"rest", "1", "value after a long time", NONE, NONE, 0, 0},
    {"rate", "1/s", "rate at the start over the amount there", 0, NONE, NONE, 0},
    {"order", "1", "order of the loss", 0, 10, NONE, 0},
};
static const hf_model_parameter arrhenius[] = {
    {"activation_energy", "J/mol", "activation energy", NONE, NONE, NONE, 0},
    {"log_prefactor", "1", "ln of the prefactor in 1/s", NONE, NONE, NONE, 0},
};
static const hf_model_parameter kissinger[] = {
    {"activation_energy", "J/mol", "activation energy", 0, NONE, NONE, 0},
    {"log_prefactor", "1", "ln of the prefactor in 1/s", NONE, NONE, NONE, 0},
};
static const hf_model_parameter uptake[] = {
    {"diffusivity", "m2/s", "of water in the fibre, constant", 0, NONE, NONE, 0},
    {"start", "kg/kg", "regain at time 0", NONE, NONE, NONE, 0},
    {"final", "kg/kg", "regain after a long time", NONE, NONE, NONE, 0},
    {"radius", "m", "of the fibre", 0, NONE, NONE, 1},
};
static const hf_model_parameter film[] = {
    {"diffusivity", "m2/s", "of water in the fibre, constant", 0, NONE, NONE, 0},
    {"film", "1", "film coefficient times radius over diffusivity", 0, 1e4, NONE, 0},
    {"start", "kg/kg", "regain at time 0", NONE, NONE, NONE, 0},
    {"final", "kg/kg", "regain after a long time", NONE, NONE, NONE, 0},
    {"radius", "m", "of the fibre", 0, NONE, NONE, 1},
};
static const hf_model_parameter exponential[] = {
    {"diffusivity", "m2/s", "at a regain of 0.03, at the temperature of the measurement", 0, NONE,
     NONE, 0},
    {"slope", "1", "d ln diffusivity / d regain", NONE, NONE, NONE, 0},
    {"air_film", "W/(m2 K)", "heat transfer to the air; vapour follows it", 0, NONE, 150, 0},
    {"start", "kg/kg", "regain at time 0", 0, NONE, NONE, 0},
    {"final", "kg/kg", "regain after a long time", 0, NONE, NONE, 0},
    {"radius", "m", "of the fibre at the start", 0, NONE, NONE, 1},
    {"temperature", "K", "of air and fibre", 0, NONE, 298.15, 0},
};
static const hf_model_parameter trace[] = {
    {"enthalpy", "J/kg", "area of the peak", NONE, NONE, NONE, 0},
    {"peak", "K", "temperature of the peak", 0, NONE, NONE, 0},
    {"activation_energy", "J/mol", "activation energy", 0, NONE, NONE, 0},
    {"base", "W/kg", "base at the peak", NONE, NONE, NONE, 0},
    {"drift", "W/(K kg)", "slope of the base", NONE, NONE, NONE, 0},
    {"heating_rate", "K/s", "of the measurement", 0, NONE, NONE, 1},
};
static const hf_model_parameter stretch[] = {
    {"modulus", "Pa", "slope of the first region", 0, NONE, NONE, 0},
    {"yield_strain", "1", "where yielding begins", 0, NONE, NONE, 0},
    {"yield_slope", "Pa", "slope of the yield region", NONE, NONE, NONE, 0},
    {"post_yield_strain", "1", "where the post-yield region begins", 0, NONE, NONE, 0},
    {"post_yield_slope", "Pa", "slope of the post-yield region", NONE, NONE, NONE, 0},
    {"corner", "1", "strain over which the corners are rounded", 0, NONE, 0.005, 0},
};
static const hf_model_parameter fatigue[] = {
    {"log_life", "1", "ln of the cycles at 100 MPa", NONE, NONE, NONE, 0},
    {"exponent", "1", "fall of ln life with ln stress", NONE, NONE, NONE, 0},
};

#define ISOTHERM(title, text, equation, sources, known, table, prefix)                             \
    {                                                                                              \
        title, text, equation, sources, known, 1, "water_activity", "1", "regain", "kg/kg",        \
            COUNT(table), table, hfi_##prefix##_value, NULL, hfi_##prefix##_gradient,              \
            hfi_##prefix##_starter, 0                                                              \
    }
#define MODEL(title, text, equation, sources, known, x, x_unit, y, y_unit, table, prefix)          \
    {                                                                                              \
        title, text, equation, sources, known, 1, x, x_unit, y, y_unit, COUNT(table), table,       \
            hfi_##prefix##_value, NULL, hfi_##prefix##_gradient, hfi_##prefix##_starter, 0         \
    }

static const hf_model models[] = {
    ISOTHERM("gab", "layers on sites, further layers weaker by one factor",
             "w = wm c k a / ((1 - k a)(1 + (c - 1) k a))", "nail-sorption2007", HF_PUBLISHED, gab,
             gab),
    {"bet", "layers on sites, further layers as in liquid water; up to about 0.4 only",
     "w = wm c a / ((1 - a)(1 + (c - 1) a))", "nail-sorption2007", HF_PUBLISHED, 1,
     "water_activity", "1", "regain", "kg/kg", 2, gab, hfi_bet_value, NULL, hfi_bet_gradient,
     hfi_bet_starter, 0},
    ISOTHERM("hailwood_horrobin", "one hydrate and dissolved water; the same curve as gab",
             "w = (M/m)(k2 a/(1 - k2 a) + k1 k2 a/(1 + k1 k2 a))", "hailwoodhorrobin1946",
             HF_FROM_MEMORY, hailwood, hailwood),
    ISOTHERM("darcy_watt", "strong sites and multilayer water",
             "w = w1 b a/(1 + b a) + w2 c a/(1 - c a)", "nail-sorption2007", HF_PUBLISHED, darcy,
             darcy),
    ISOTHERM("flory_huggins",
             "solution of water in a polymer; judged wrong for hair, for comparison",
             "ln a = ln v + (1 - v) + chi (1 - v)^2, w = v/(1 - v)/density_ratio", "breuer1980",
             HF_FROM_MEMORY, flory, flory),
    MODEL("swelling", "swelling proportional to regain", "y = offset + slope w", "common-practice",
          HF_COMMON_PRACTICE, "regain", "kg/kg", "swelling", "1", swelling, swelling),
    MODEL("swelling_power", "swelling as a power of regain", "y = factor w^exponent",
          "common-practice", HF_COMMON_PRACTICE, "regain", "kg/kg", "swelling", "1", power,
          swelling_power),
    MODEL("first_order", "loss of first order", "y = rest + (start - rest) exp(-rate t)",
          "common-practice", HF_COMMON_PRACTICE, "time", "s", "amount", "1", first_order,
          first_order),
    MODEL("order_n", "loss of order n",
          "y = rest + (start - rest)(1 + (n - 1) rate t)^(-1/(n - 1))", "common-practice",
          HF_COMMON_PRACTICE, "time", "s", "amount", "1", order_n, order),
    MODEL("arrhenius", "rate against temperature, squares of the rate itself",
          "k = exp(ln A - E/(R T))", "common-practice", HF_COMMON_PRACTICE, "temperature", "K",
          "rate", "1/s", arrhenius, arrhenius),
    MODEL("arrhenius_log", "rate against temperature, squares of its logarithm",
          "ln k = ln A - E/(R T)", "common-practice", HF_COMMON_PRACTICE, "temperature", "K",
          "log_rate", "1", arrhenius, arrhenius_log),
    MODEL("kissinger", "peak temperature of a first-order change against heating rate",
          "rate E/(R T^2) = A exp(-E/(R T))", "kissinger wortmann2012", HF_FROM_MEMORY,
          "heating_rate", "K/s", "peak_temperature", "K", kissinger, kissinger),
    MODEL("radial_uptake", "step of humidity, constant diffusivity, no film",
          "w = start + (final - start)(1 - sum 4/z^2 exp(-z^2 D t/a^2)), J0(z) = 0", "crank1975",
          HF_FROM_MEMORY, "time", "s", "regain", "kg/kg", uptake, uptake),
    {"radial_uptake_film", "step of humidity, constant diffusivity, film at the surface",
     "w = start + (final - start)(1 - sum 4 L^2/(z^2 (z^2 + L^2)) exp(-z^2 D t/a^2)), z J1(z) = L "
     "J0(z)",
     "crank1975", HF_FROM_MEMORY, 1, "time", "s", "regain", "kg/kg", COUNT(film), film, NULL,
     hfi_film_values, NULL, hfi_film_starter, 0},
    {"radial_uptake_exponential",
     "step of humidity by the simulation, diffusivity exponential in regain",
     "D = diffusivity exp(slope (w - 0.03)); balances of heat and water with swelling and an air "
     "film",
     "common-practice", HF_COMMON_PRACTICE, 1, "time", "s", "regain", "kg/kg", COUNT(exponential),
     exponential, NULL, hfi_exponential_values, NULL, hfi_exponential_starter, 1e-6},
    {"denaturation_trace", "heat flow through a melting peak, first order, at one heating rate",
     "q = base + drift (T - peak) + enthalpy rate da/dT, da/dT = A/rate exp(-E/(R T)) (1 - a)",
     "kissinger", HF_FROM_MEMORY, 1, "temperature", "K", "heat_flow", "W/kg", COUNT(trace), trace,
     hfi_peak_value, NULL, NULL, hfi_peak_starter, 0},
    MODEL("stress_strain", "three straight regions with rounded corners",
          "s = E e + (E2 - E) h(e, e1) + (E3 - E2) h(e, e2)", "beard1983", HF_ASSUMED, "strain",
          "1", "stress", "Pa", stretch, stretch),
    MODEL("fatigue_line", "ln of the cycles to break against stress",
          "ln N = log_life - exponent ln(stress/100 MPa)", "basquin evans-fatigue", HF_FROM_MEMORY,
          "stress", "Pa", "log_cycles", "1", fatigue, fatigue),
};

size_t hf_model_count(void)
{
    return COUNT(models);
}

const hf_model *hf_model_at(size_t index)
{
    return index < COUNT(models) ? &models[index] : NULL;
}

const hf_model *hf_model_find(const char *name)
{
    for (size_t i = 0; name && i < COUNT(models); i++)
        if (strcmp(models[i].name, name) == 0)
            return &models[i];
    return NULL;
}

hf_status hf_model_describe(const hf_model *model, hf_fit_description *description,
                            hf_fit_parameter *parameters)
{
    if (!model || !description || !parameters)
        return HF_EINVAL;
    for (size_t j = 0; j < model->parameter_count; j++) {
        const hf_model_parameter *p = &model->parameters[j];
        parameters[j] = (hf_fit_parameter){p->name, p->unit, p->usual,
                                           p->low,  p->high, p->given || !isnan(p->usual)};
    }
    description->columns = model->columns;
    description->parameter_count = model->parameter_count;
    description->parameters = parameters;
    description->value = model->value;
    description->values = model->values;
    description->gradient = model->gradient;
    description->starter = model->starter;
    description->model_noise = model->noise;
    description->parallel = 1;
    return HF_OK;
}
