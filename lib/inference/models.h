/* Callbacks of the built-in models, one file per topic; the table is in models.c. */
#ifndef HFI_MODELS_H
#define HFI_MODELS_H

#include <hairfibre/inference.h>

#define HFI_VALUE(name) hf_status name(const double *x, const double *b, void *user, double *y)
#define HFI_VALUES(name)                                                                           \
    hf_status name(size_t n, const double *x, const double *b, void *user, double *y)
#define HFI_GRADIENT(name) hf_status name(const double *x, const double *b, void *user, double *g)
#define HFI_STARTER(name)                                                                          \
    hf_status name(size_t n, const double *x, const double *y, void *user, double *b)

/* isotherms.c: x water activity, y regain */
HFI_VALUE(hfi_gab_value);
HFI_GRADIENT(hfi_gab_gradient);
HFI_STARTER(hfi_gab_starter);
HFI_VALUE(hfi_bet_value);
HFI_GRADIENT(hfi_bet_gradient);
HFI_STARTER(hfi_bet_starter);
HFI_VALUE(hfi_hailwood_value);
HFI_GRADIENT(hfi_hailwood_gradient);
HFI_STARTER(hfi_hailwood_starter);
HFI_VALUE(hfi_darcy_value);
HFI_GRADIENT(hfi_darcy_gradient);
HFI_STARTER(hfi_darcy_starter);
HFI_VALUE(hfi_flory_value);
HFI_GRADIENT(hfi_flory_gradient);
HFI_STARTER(hfi_flory_starter);

/* kinetics.c */
HFI_VALUE(hfi_first_order_value);
HFI_GRADIENT(hfi_first_order_gradient);
HFI_STARTER(hfi_first_order_starter);
HFI_VALUE(hfi_order_value);
HFI_GRADIENT(hfi_order_gradient);
HFI_STARTER(hfi_order_starter);
HFI_VALUE(hfi_arrhenius_value);
HFI_GRADIENT(hfi_arrhenius_gradient);
HFI_STARTER(hfi_arrhenius_starter);
HFI_VALUE(hfi_arrhenius_log_value);
HFI_GRADIENT(hfi_arrhenius_log_gradient);
HFI_STARTER(hfi_arrhenius_log_starter);
HFI_VALUE(hfi_kissinger_value);
HFI_GRADIENT(hfi_kissinger_gradient);
HFI_STARTER(hfi_kissinger_starter);

/* uptake.c: x time, y regain */
HFI_VALUE(hfi_uptake_value);
HFI_GRADIENT(hfi_uptake_gradient);
HFI_STARTER(hfi_uptake_starter);
HFI_VALUES(hfi_film_values);
HFI_STARTER(hfi_film_starter);

/* uptake_simulated.c: x time, y regain */
HFI_VALUES(hfi_exponential_values);
HFI_STARTER(hfi_exponential_starter);

/* peak.c: x temperature, y heat flow */
HFI_VALUE(hfi_peak_value);
HFI_STARTER(hfi_peak_starter);

/* mechanics.c */
HFI_VALUE(hfi_swelling_value);
HFI_GRADIENT(hfi_swelling_gradient);
HFI_STARTER(hfi_swelling_starter);
HFI_VALUE(hfi_swelling_power_value);
HFI_GRADIENT(hfi_swelling_power_gradient);
HFI_STARTER(hfi_swelling_power_starter);
HFI_VALUE(hfi_stretch_value);
HFI_GRADIENT(hfi_stretch_gradient);
HFI_STARTER(hfi_stretch_starter);
HFI_VALUE(hfi_fatigue_value);
HFI_GRADIENT(hfi_fatigue_gradient);
HFI_STARTER(hfi_fatigue_starter);

/* Share of the final uptake of a cylinder at tau = D t/radius^2, surface held at its final value; its slope
 * d/dtau may be NULL. */
double hfi_uptake_share(double tau, double *slope);

/* Linear least squares with k <= 3 columns (n rows of k) for start values; 0 when it has no answer. */
int hfi_guess_linear(size_t n, size_t k, const double *columns, const double *y, double *out,
                     double *rss);

#endif
