/* Unchecked forms of room water, for callers that have already checked their arguments: plain
 * functions of numbers in range, SI. */
#ifndef HFI_WATER_H
#define HFI_WATER_H

double hfi_saturation_pressure(double temperature);
/* Slope dp/dT; writes the pressure too. */
double hfi_saturation_pressure_slope(double temperature, double *pressure);
double hfi_saturation_temperature(double pressure);
double hfi_region4_temperature(double pressure);
double hfi_liquid_density(double temperature);
double hfi_vapour_density(double temperature);
double hfi_latent_heat(double temperature);

/* Surface tension, for many temperatures close together: a power is worked out once in 5 K, the others follow
 * by the binomial series, to 1e-9 below 560 K. All zero to start with. */
typedef struct hfi_tension {
    double temperature, power;
} hfi_tension;
double hfi_surface_tension_near(hfi_tension *last, double temperature);

double hfi_air_conductivity(double temperature);
double hfi_air_viscosity(double temperature);
double hfi_air_density(double temperature, double pressure);
double hfi_air_heat_capacity(double temperature);
double hfi_air_prandtl(double temperature);
double hfi_vapour_diffusivity(double temperature, double pressure);

#endif
