/* What the Nusselt numbers, the heat transfer coefficients and their explanations share. */
#ifndef HFI_HEAT_TRANSFER_H
#define HFI_HEAT_TRANSFER_H

#include <hairfibre/base.h>

/* Smallest Reynolds times Prandtl number of the cross-flow law, and smallest Reynolds number of the
 * fine-wire law. */
#define HFI_CROSS_FLOW_PECLET 0.2
#define HFI_STREAM_REYNOLDS   0.02
#define HFI_STILL_RAYLEIGH    1e-5

/* A fibre in air, properties at film temperature: Reynolds number of an air stream (0 at speed 0),
 * Grashof number of the temperature difference, Prandtl number, conductivity in W/(m K). */
typedef struct hfi_film {
    double reynolds, grashof, prandtl, conductivity;
} hfi_film;

hfi_film hfi_film_at(double diameter, double speed, double surface_temperature,
                     double air_temperature, double pressure);

double hfi_nusselt_cross_flow(double reynolds, double prandtl);
double hfi_nusselt_fine_wire(double reynolds, double temperature_ratio);
double hfi_nusselt_free_convection(double rayleigh, double prandtl);

/* Status of an answer that also needs a joint condition of its arguments. */
hf_status hfi_supported(hf_status status, int supported, unsigned flags);

#endif
