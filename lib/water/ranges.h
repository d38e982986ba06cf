/* Ranges of the arguments in room water: domain low, domain high, valid low, valid high. */
#ifndef HFI_WATER_RANGES_H
#define HFI_WATER_RANGES_H

/* Triple point and critical point, K; the release gives 273.16 K <= T <= 647.096 K. The low end is
 * 1 nK lower, so that 0.01 degC is inside after its conversion to kelvin. */
#define HFI_TRIPLE_TEMPERATURE   273.159999999
#define HFI_CRITICAL_TEMPERATURE 647.096
#define HFI_CRITICAL_PRESSURE    22.064e6 /* Pa */

#define HFI_SATURATION_TEMPERATURE                                                                 \
    HFI_TRIPLE_TEMPERATURE, HFI_CRITICAL_TEMPERATURE, HFI_TRIPLE_TEMPERATURE,                      \
        HFI_CRITICAL_TEMPERATURE

/* The equation's own value at the low end of temperature (611.65706969607 Pa), a hair lower. */
#define HFI_SATURATION_PRESSURE_LOW 611.657069696
#define HFI_SATURATION_PRESSURE                                                                    \
    HFI_SATURATION_PRESSURE_LOW, HFI_CRITICAL_PRESSURE, HFI_SATURATION_PRESSURE_LOW,               \
        HFI_CRITICAL_PRESSURE

/* IF97 region 4 starts at 0 degC. Its own pressures at the two ends are 611.21267744434 Pa and
 * 22064000.00032 Pa; the range takes both in. */
#define HFI_REGION4_TEMPERATURE 273.15, HFI_CRITICAL_TEMPERATURE, 273.15, HFI_CRITICAL_TEMPERATURE
#define HFI_REGION4_PRESSURE    611.2126774, 22064000.001, 611.2126774, 22064000.001

#define HFI_ALTITUDE -5000, 11000, -5000, 11000

/* Air: the equations were compared with printed tables from 250 to 550 K. */
#define HFI_AIR_TEMPERATURE 150, 1000, 250, 550
/* From the standard atmosphere at 11 km to the lowest dry land, rounded outward. */
#define HFI_AMBIENT_PRESSURE 1e3, 1e6, 2e4, 1.1e5
/* The rival law of vapour diffusivity ends at 450 K. */
#define HFI_DIFFUSIVITY_TEMPERATURE 150, 1000, 250, 450

#define HFI_MOIST_TEMPERATURE                                                                      \
    HFI_TRIPLE_TEMPERATURE, HFI_CRITICAL_TEMPERATURE, HFI_TRIPLE_TEMPERATURE, 473.15
#define HFI_HUMIDITY 0, 1, 0, 1

#define HFI_PRANDTL             1e-3, 1e4, 1e-3, 1e4
#define HFI_CROSS_FLOW_REYNOLDS 0, 1e7, 0, 1e7
#define HFI_FINE_WIRE_REYNOLDS  0, 1000, 0.02, 140
#define HFI_TEMPERATURE_RATIO   0.3, 4, 0.7, 2
#define HFI_RAYLEIGH            0, 1e12, 1e-5, 1e12
#define HFI_DIAMETER            1e-6, 0.1, 1e-5, 0.1
#define HFI_SPEED               0, 100, 0, 100
#define HFI_HEAT_TRANSFER       1e-3, 1e5, 1e-3, 1e5

#endif
