/* Room water: every property that can be asked for by name. */
#include "explain.h"
#include "ranges.h"

#include <hairfibre/water.h>

#include "../base/quantity_table.h"

#include <math.h>

/* ---- adapters from an argument array --------------------------------------------------------- */

#define ADAPTER(name, ...)                                                                         \
    static hf_status name(const double *x, const hf_parameters *set, unsigned flags, double *out)  \
    {                                                                                              \
        (void)set;                                                                                 \
        return hf_##name##_e(__VA_ARGS__, flags, out);                                             \
    }

ADAPTER(saturation_pressure, x[0])
ADAPTER(saturation_pressure_slope, x[0])
ADAPTER(saturation_temperature, x[0])
ADAPTER(boiling_temperature, x[0])
ADAPTER(boiling_temperature_at_activity, x[0], x[1])
ADAPTER(region4_pressure, x[0])
ADAPTER(region4_temperature, x[0])
ADAPTER(liquid_density, x[0])
ADAPTER(vapour_density, x[0])
ADAPTER(latent_heat, x[0])
ADAPTER(surface_tension, x[0])
ADAPTER(steam_expansion_ratio, x[0])
ADAPTER(standard_pressure, x[0])
ADAPTER(air_conductivity, x[0])
ADAPTER(air_viscosity, x[0])
ADAPTER(air_density, x[0], x[1])
ADAPTER(air_heat_capacity, x[0])
ADAPTER(air_prandtl, x[0])
ADAPTER(vapour_diffusivity, x[0], x[1])
ADAPTER(humidity_ratio, x[0], x[1], x[2])
ADAPTER(dew_point, x[0], x[1])
ADAPTER(wet_bulb, x[0], x[1], x[2])
ADAPTER(nusselt_cross_flow, x[0], x[1])
ADAPTER(nusselt_fine_wire, x[0], x[1])
ADAPTER(nusselt_free_convection, x[0], x[1])
ADAPTER(heat_transfer_moving_air, x[0], x[1], x[2], x[3], x[4])
ADAPTER(heat_transfer_still_air, x[0], x[1], x[2], x[3])
ADAPTER(mass_transfer_coefficient, x[0], x[1], x[2])

/* ---- arguments ------------------------------------------------------------------------------- */

#define TEMPERATURE(name, text, usual, ...)                                                        \
    {                                                                                              \
        name, "K", text, HF_KIND_TEMPERATURE, usual, __VA_ARGS__, NULL                             \
    }
#define NUMBER(name, unit, text, usual, ...)                                                       \
    {                                                                                              \
        name, unit, text, HF_KIND_NUMBER, usual, __VA_ARGS__, NULL                                 \
    }

#define MUST       ((double)NAN)
#define ROOM       293.15 /* K */
#define ATMOSPHERE 101325 /* Pa */

#define WATER_TEMPERATURE                                                                          \
    TEMPERATURE("temperature", "temperature of the water", MUST, HFI_SATURATION_TEMPERATURE)
#define AIR_TEMPERATURE                                                                            \
    TEMPERATURE("temperature", "temperature of the air", MUST, HFI_AIR_TEMPERATURE)
#define ROOM_TEMPERATURE                                                                           \
    TEMPERATURE("temperature", "temperature of the air", ROOM, HFI_MOIST_TEMPERATURE)
#define HUMIDITY                                                                                   \
    {                                                                                              \
        "humidity", "1", "relative humidity over liquid water", HF_KIND_FRACTION, MUST,            \
            HFI_HUMIDITY, NULL                                                                     \
    }
#define AMBIENT  NUMBER("pressure", "Pa", "ambient pressure", ATMOSPHERE, HFI_AMBIENT_PRESSURE)
#define PRANDTL  NUMBER("prandtl", "1", "Prandtl number at film temperature", MUST, HFI_PRANDTL)
#define DIAMETER NUMBER("diameter", "m", "diameter of the fibre", MUST, HFI_DIAMETER)
#define SURFACE                                                                                    \
    TEMPERATURE("surface_temperature", "temperature of the fibre surface", MUST,                   \
                HFI_AIR_TEMPERATURE)
#define AROUND                                                                                     \
    TEMPERATURE("air_temperature", "temperature of the air around it", ROOM, HFI_AIR_TEMPERATURE)

/* Name, unit, kind, what it is; then the named fields; then the arguments. */
#define QUANTITY(id, u, k, t, ...)                                                                 \
    .name = #id, .unit = u, .kind = k, .text = t, .room = "water", .parameters = "",               \
    .evaluate = id, __VA_ARGS__

HFI_QUANTITY_TABLE(water)

const hf_quantity hfi_water_quantities[] = {
#include "quantities_line.def"
#include "quantities_air.def"
#include "quantities_transfer.def"
};

const size_t hfi_water_quantity_count =
    sizeof hfi_water_quantities / sizeof hfi_water_quantities[0];
